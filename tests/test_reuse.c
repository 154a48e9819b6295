/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse.c: readings against the line. Logs are simulated with a known truth: with the map of
 * the line under changed drag-out and soil, and once with equations of their own. Held are what a
 * change is called, what is set aside, the reading at which to dump, and drag-out measured with the
 * water shut against its closed form. How often all that is so over many logs is held by
 * test_reuse_intervals.c and test_reuse_changes.c.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "logs.h"

#include <gsl/gsl_randist.h>
#include <string.h>

/* ---- changes ---- */

/* A running rinse whose water fails after load 30. */
START_TEST(a_failed_valve)
{
    struct logs_truth t = {0};
    struct alteration change = logs_by_hand(1.1, 1);
    unsigned load;

    logs_parse(LOGS_PARTS
               "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\nlast,flow,9,L/h,\n"
               "last,drag-out,50,mL/m2,25%\n"
               "limit,kind,target,,\nlimit,residue,60,ug/cm2,\n");
    gsl_rng_set(logs.rng, 20265);
    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= 45; load++) {
        if (load == 31) {
            change.flow_of = LOGS_FIRST; /* the second stage, here `last` */
            change.flow = 0;
            logs_become(&t, &change);
        }
        dregs_state_step(t.state);
        logs_row(load, "last", load, "conductivity",
                 logs_scattered(logs_conducts(&t, LOGS_FIRST), 0.02), "uS/cm");
    }
    logs_let_go(&t);
    logs_analyse(0.02);
    ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 2);
    ck_assert_int_eq(logs_regime(1)->kind, DREGS_REGIME_FLOW);
    ck_assert_int_eq(logs_regime(1)->which, LOGS_FIRST);
    ck_assert_double_lt(logs_regime(1)->of.best, 0.15);
    ck_assert_int_le(dregs_readings_at(logs.readings, logs_regime(1)->found)->at, 35);
    ck_assert_int_ge(dregs_readings_at(logs.readings, logs_regime(1)->first)->at, 29);
}
END_TEST

/* From the second fill on the fresh water holds 4 mg/L more minerals. */
START_TEST(dirty_fresh_water)
{
    struct logs_truth t = {0};
    struct alteration change = logs_by_hand(1.2, 1);
    unsigned load;

    gsl_rng_set(logs.rng, 20266);
    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= 60; load++) {
        dregs_state_step(t.state);
        if (load % 2 == 0)
            logs_row(load, "last", load > 40 ? load - 40 : load, "conductivity",
                     logs_scattered(logs_conducts(&t, LOGS_LAST), 0.03), "uS/cm");
        if (load != 40)
            continue;
        change.dirty = 1;
        change.dirty_solute = 2;
        change.dirt = 4e-3;
        logs_become(&t, &change);
        ck_assert_int_eq(dregs_state_dump(t.state, LOGS_FIRST), DREGS_OK);
        ck_assert_int_eq(dregs_state_dump(t.state, LOGS_LAST), DREGS_OK);
        logs_row(load, "first", 40, "dump", NAN, "");
        logs_row(load, "last", 40, "dump", NAN, "");
    }
    logs_let_go(&t);
    logs_analyse(0.03);
    ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 2);
    ck_assert_int_eq(logs_regime(1)->kind, DREGS_REGIME_DIRTY);
    ck_assert_int_eq(logs_regime(1)->which, 1);
    ck_assert_uint_eq(logs_regime(1)->solute, 2);
    ck_assert_double_le(logs_regime(1)->of.low, 4e-3);
    ck_assert_double_ge(logs_regime(1)->of.high, 4e-3);
    ck_assert_double_le(logs_regime(1)->drag_out.low, 1.2);
    ck_assert_double_ge(logs_regime(1)->drag_out.high, 1.2);
}
END_TEST

/* ---- what is set aside ---- */

static void log_noisy(struct logs_truth *t, unsigned loads, unsigned odd, double factor,
                      double noise)
{
    struct alteration change = logs_by_hand(1.15, 0.9);
    unsigned load;

    change.of_stage[LOGS_LAST] = 1 / 1.15; /* as its file says: no meter tells of it */
    gsl_rng_set(logs.rng, 20267);
    logs_become(t, &change);
    logs_begin();
    for (load = 1; load <= loads; load++) {
        double value;
        dregs_state_step(t->state);
        value = logs_scattered(logs_conducts(t, LOGS_LAST), noise);
        logs_row(load, "last", load, "conductivity", load == odd ? value * factor : value, "uS/cm");
    }
}

static void log_plain(struct logs_truth *t, unsigned loads, unsigned odd, double factor)
{
    log_noisy(t, loads, odd, factor, 0.03);
}

START_TEST(an_outlier_is_set_aside)
{
    struct logs_truth t = {0};
    size_t i, aside = 0;

    log_plain(&t, 30, 17, 1.7);
    logs_let_go(&t);
    logs_analyse(0.03);
    for (i = 0; i < dregs_readings_kept(logs.readings); i++)
        if (dregs_reuse_heard(logs.reuse, i)->heard != DREGS_HEARD_USED) {
            ck_assert_uint_eq(dregs_readings_at(logs.readings, i)->line, 18);
            ck_assert_int_eq(dregs_reuse_heard(logs.reuse, i)->heard, DREGS_HEARD_OUTLIER);
            ck_assert_double_gt(dregs_reuse_heard(logs.reuse, i)->off, 10);
            aside++;
        }
    ck_assert_uint_eq(aside, 1);
    ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 1);
    ck_assert_double_le(logs_regime(0)->drag_out.low, 1.15);
    ck_assert_double_ge(logs_regime(0)->drag_out.high, 1.15);
}
END_TEST

START_TEST(a_last_reading_alone_asks_for_another)
{
    struct logs_truth t = {0};

    log_plain(&t, 30, 30, 9);
    logs_let_go(&t);
    logs_analyse(0.03);
    ck_assert_int_eq(dregs_reuse_heard(logs.reuse, 29)->heard, DREGS_HEARD_ALONE);
    ck_assert_int_eq(logs_answer()->again, 1);
    ck_assert_int_eq(logs_answer()->dump_now, 0);
}
END_TEST

/* ---- the reading at which to dump, and the loads ---- */

/* But that the film of the last rinse is known. */
#define KNOWN_LAST                                                                                 \
    "first,kind,rinse,,\nfirst,volume,3,L,\nfirst,liquid,di,,\nfirst,drag-out,50,mL/m2,25%\n"      \
    "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\nlast,drag-out,50,mL/m2,1%\n"

START_TEST(the_dump_reading_is_where_the_limit_is)
{
    struct logs_truth t = {0};
    dregs_residue residue;
    double before = 0, behind;
    unsigned left;

    logs_parse(LOGS_PARTS KNOWN_LAST LOGS_LIMIT);
    log_noisy(&t, 24, 0, 1, 0); /* no scatter: what is fitted is the truth, but for the beliefs */
    logs_analyse(0.002);
    for (left = 0;; left++) {
        dregs_residue_next(t.state, &residue);
        if (residue.total > 5e-6)
            break;
        before = logs_conducts(&t, LOGS_LAST);
        dregs_state_step(t.state);
    }
    behind = logs_conducts(&t, LOGS_LAST);
    logs_let_go(&t);
    ck_assert_int_eq(logs_answer()->stage, LOGS_LAST);
    ck_assert_int_eq(logs_answer()->reached, 1);
    ck_assert_uint_ge(logs_answer()->loads + 1, left);
    ck_assert_uint_le(logs_answer()->loads, left + 1);
    ck_assert_uint_eq(logs_answer()->since, 24);
    /* no meter tells of the soil, so that the residue is not exact */
    ck_assert_double_gt(logs_answer()->at[LOGS_LAST].value * 1e4, before * 0.97);
    ck_assert_double_lt(logs_answer()->at[LOGS_LAST].value * 1e4, behind * 1.03);
}
END_TEST

START_TEST(past_the_limit_it_says_dump_now)
{
    struct logs_truth t = {0};
    dregs_residue residue;

    logs_parse(LOGS_PARTS KNOWN_LAST LOGS_LIMIT);
    log_plain(&t, 100, 0, 1);
    dregs_residue_next(t.state, &residue);
    ck_assert_double_gt(residue.total, 5e-6);
    logs_analyse(0.03);
    ck_assert_int_eq(logs_answer()->dump_now, 1);
    ck_assert_uint_eq(logs_answer()->loads, 0);
    ck_assert_near(logs_answer()->next, residue.total, 0.05, "the next load");
    ck_assert_double_eq(logs_answer()->limit, 5e-6);
    /* what is left after a dump is below what is left before it, and a fill lasts */
    ck_assert_double_lt(logs_answer()->after_dump, 5e-6);
    ck_assert_uint_gt(logs_answer()->fill, 1);
    logs_let_go(&t);
}
END_TEST

START_TEST(a_limit_that_is_never_reached)
{
    struct logs_truth t = {0};

    log_plain(&t, 24, 0, 1);
    logs_let_go(&t);
    logs_analyse_with(0.03, 1e-2);
    ck_assert_uint_eq(logs_answer()->loads, DREGS_REUSE_LOADS_MOST);
    ck_assert_uint_eq(logs_answer()->high, DREGS_REUSE_LOADS_MOST);
    ck_assert_int_eq(logs_answer()->reached, 0);
    ck_assert_int_eq(logs_answer()->dump_now, 0);
}
END_TEST

/* A confidence moves the answer to the safe side. */
START_TEST(confidence)
{
    struct logs_truth t = {0};
    uint64_t best;

    log_plain(&t, 12, 0, 1);
    logs_let_go(&t);
    logs_analyse(0.1);
    best = logs_answer()->loads;
    ck_assert_double_nan(logs_answer()->confidence);
    logs_parse(LOGS_PARTS LOGS_RINSES LOGS_LIMIT "limit,confidence,99,%,\n");
    logs_analyse(0.1);
    ck_assert_double_eq(logs_answer()->confidence, 0.99);
    ck_assert_uint_lt(logs_answer()->loads, best);
    ck_assert_uint_le(logs_answer()->loads, logs_answer()->low);
    ck_assert_double_gt(logs_answer()->next_sure, logs_answer()->next);
}
END_TEST

/* ---- an independent simulation ---- */

/* Two still rinses by their own equations: film D in, well mixed, film D out, the missing or extra
 * volume made up. Drag-out 1.3 times what the file says. */
START_TEST(a_log_of_own_equations)
{
    double area = 40 * 12e-4 + 250e-4, wash = area * 70e-6 * 1.3, rinse = area * 50e-6 * 1.3;
    double bath = 12.0 * 9e-3, first = 0, last = 0, water = 0.6e-3 * 3e-3;
    unsigned load;

    logs_begin();
    for (load = 1; load <= 48; load++) {
        double into_first = wash * bath / 9e-3, into_last, out;
        bath -= into_first; /* topped up with fresh cleaner */
        bath += wash * 12.0;
        first += into_first;
        into_last = rinse * first / (3e-3 + wash);
        first -= into_last;
        first *= exp(-(wash - rinse) / 3e-3); /* the surplus overflows, little by little */
        last += into_last;
        out = rinse * last / (3e-3 + rinse);
        last -= out;
        if (load % 3 == 0)
            logs_row(load, "last", load, "conductivity",
                     0.05498 + 1.35 * last / 3e-3 * 1e3 + 1.6 * water / 3e-3 * 1e3, "uS/cm");
    }
    logs_analyse(0.01);
    ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 1);
    /* its minerals are taken as constant, which the film changes by 0.1 % a load */
    ck_assert_near(logs_regime(0)->drag_out.best, 1.3, 5e-3, "drag-out");
}
END_TEST

/* ---- other meters ---- */

#define CALIBRATIONS                                                                               \
    "refractive index,kind,calibration,,\nrefractive index,solute,cleaner,,\n"                     \
    "refractive index,reading 1,1.3330,1,\nrefractive index,concentration 1,0,g/L,\n"              \
    "refractive index,reading 2,1.3350,1,\nrefractive index,concentration 2,1,g/L,\n"              \
    "light,kind,calibration,,\nlight,solute,cleaner,,\nlight,reading 1,100,%,\n"                   \
    "light,concentration 1,0,g/L,\nlight,reading 2,40,%,\nlight,concentration 2,1,g/L,\n"

static void log_of(const char *quantity, const char *unit, double (*shows)(const double *c))
{
    struct logs_truth t = {0};
    struct alteration change = logs_by_hand(1.4, 1);
    double c[DREGS_LINE_SOLUTES];
    unsigned load;

    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= 30; load++) {
        dregs_state_step(t.state);
        logs_held(&t, LOGS_LAST, c);
        if (load % 2 == 0)
            logs_row(load, "last", load, quantity, shows(c), unit);
    }
    logs_let_go(&t);
    logs_analyse(0.02);
    ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 1);
    ck_assert_near(logs_regime(0)->drag_out.best, 1.4, 0.02, "drag-out by %s", quantity);
}

static double cleaner_mg(const double *c)
{
    return c[1] * 1e3;
}

static double all_mg(const double *c)
{
    return (c[0] + c[1] + c[2]) * 1e3;
}

/* nD 1.3330 in water, 1.3350 at 1 g/L: straight between */
static double index_of(const double *c)
{
    return 1.3330 + 0.0020 * c[1];
}

/* 100 % in water, 40 % at 1 g/L */
static double light(const double *c)
{
    return 100 - 60 * c[1];
}

START_TEST(other_meters)
{
    logs_parse(LOGS_PARTS LOGS_RINSES LOGS_LIMIT CALIBRATIONS);
    log_of("concentration cleaner", "mg/L", cleaner_mg);
    log_of("non-volatile residue", "mg/L", all_mg);
    log_of("concentration cleaner", "mg/L", cleaner_mg);
}
END_TEST

/* A share of a refractive index is no noise: its scatter is stated by the rows. */
START_TEST(calibrated_meters)
{
    double (*const shows[])(const double *) = {index_of, light};
    static const char *const names[] = {"refractive index", "light"};
    static const char *const units[] = {"1", "%"}, *const sd[] = {"0.000002", "0.05"};
    unsigned m, load;

    logs_parse(LOGS_PARTS LOGS_RINSES LOGS_LIMIT CALIBRATIONS);
    for (m = 0; m < 2; m++) {
        struct logs_truth t = {0};
        struct alteration change = logs_by_hand(1.4, 1);
        double c[DREGS_LINE_SOLUTES];
        logs_become(&t, &change);
        logs.length = 0;
        logs_say("time,stage,loads,quantity,value,unit,spread\n");
        for (load = 2; load <= 40; load += 2) {
            char number[DREGS_NUMBER_TEXT];
            dregs_state_step(t.state);
            dregs_state_step(t.state);
            logs_held(&t, LOGS_LAST, c);
            logs_say("2026-03-01T%02u:%02u,last,%u,%s,%s,%s,%s\n", load / 4, load % 4 * 15, load,
                     names[m], dregs_number_exact(number, shows[m](c)), units[m], sd[m]);
        }
        logs_let_go(&t);
        logs_analyse(NAN);
        ck_assert_near(logs_regime(0)->drag_out.best, 1.4, 0.02, "drag-out by %s", names[m]);
        /* light falls as the rinse gets dirty: to dump below what it reads now */
        ck_assert_int_eq(logs_answer()->at[LOGS_LAST].known, 1);
        ck_assert_int_eq(logs_answer()->at[LOGS_LAST].value > logs_answer()->at[LOGS_LAST].now,
                         m == 0);
    }
}
END_TEST

/* ---- drag-out measured with the water shut ---- */

/* One still rinse behind a bath that stays as it is: C(j) = C0 (1 - (V / (V + D))^j), still rinses
 * in series, J. Metal Finishing Soc. Japan 28 (1977), for one tank. The bath is large, so that what
 * leaves it is made up without a trace. */
static void stopped_log(double film, double noise)
{
    double drag_out = (40 * 12e-4 + 250e-4) * film;
    unsigned load;

    logs_parse(LOGS_PARTS "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\n"
                          "last,drag-out,70,mL/m2,25%\n" LOGS_LIMIT);
    logs_begin();
    for (load = 1; load <= 12; load++) {
        double f = 1 - pow(3e-3 / (3e-3 + drag_out), load);
        logs_row(load, "last", load, "concentration cleaner", logs_scattered(12e3 * f, noise),
                 "mg/L");
    }
}

static void measure(double noise, dregs_stopped_flow *measured)
{
    logs_forget();
    memset(&logs.faults, 0, sizeof logs.faults);
    logs.readings = dregs_readings_new("log.csv", logs.line, &logs.faults);
    ck_assert_int_eq(dregs_readings_feed(logs.readings, logs.text, logs.length), DREGS_OK);
    ck_assert_int_eq(dregs_readings_end(logs.readings), DREGS_OK);
    ck_assert_msg(!dregs_drag_out_measure(logs.line, logs.readings, noise, measured, &logs.faults),
                  "%s", logs.faults.fault[0].text);
}

START_TEST(stopped_flow_gives_drag_out_back)
{
    dregs_stopped_flow m;

    stopped_log(88.9e-6, 0);
    measure(0.01, &m);
    ck_assert_uint_eq(m.stage, 1);
    ck_assert_uint_eq(m.from, 0);
    ck_assert_near(m.thickness, 88.9e-6, 1e-6, "film");
    ck_assert_near(m.carried, (40 * 12e-4 + 250e-4) * 88.9e-6, 1e-6, "drag-out");
    ck_assert_near(m.shortcut, m.carried, 1e-6, "shortcut");
    ck_assert_uint_eq(m.loads, 12);
    ck_assert_near(m.factor, 88.9 / 70, 1e-6, "factor");
}
END_TEST

START_TEST(stopped_flow_knows_how_well)
{
    enum { LOGS = 500 };
    dregs_stopped_flow m;
    unsigned run, within = 0;

    gsl_rng_set(logs.rng, 20268);
    for (run = 0; run < LOGS; run++) {
        /* the bath is 8 % off too, as the file says it may be */
        double strength = 1 + gsl_ran_gaussian(logs.rng, 0.08), film = 70e-6 * logs_draw(0.3);
        stopped_log(film * strength, 0.05);
        measure(0.05, &m);
        within += fabs(m.thickness - film) <= 1.959964 * m.sd;
    }
    ck_assert_msg(within >= 465 && within <= 485, "%u of 500 within 1.96 sd", within);
}
END_TEST

START_TEST(the_shortcut)
{
    /* 1 - (3 / 3.006)^10 = 0.0197816... by hand: D = 6 mL again */
    ck_assert_near(dregs_drag_out_stopped(3e-3, 1 - pow(3.0 / 3.006, 10), 10), 6e-6, 1e-10, "D");
    ck_assert_double_nan(dregs_drag_out_stopped(3e-3, 0, 10));
    ck_assert_double_nan(dregs_drag_out_stopped(3e-3, 1, 10));
    ck_assert_double_nan(dregs_drag_out_stopped(0, 0.1, 10));
    ck_assert_double_nan(dregs_drag_out_stopped(3e-3, 0.1, 0));
    ck_assert_double_nan(dregs_drag_out_stopped(NAN, 0.1, 10));
}
END_TEST

/* ---- what a meter shows of a salt ---- */

#define SALTY LOGS_PARTS "salt,kind,solute,,\nsalt,electrolyte,KCl,,\n" LOGS_RINSES

static double salt_shown(double celsius)
{
    double held[DREGS_LINE_SOLUTES] = {0, 0, 0, 0.7456}, shown = 0; /* kg/m3: 0.01 mol/L of KCl */

    ck_assert(!dregs_reuse_shown(logs.line, LOGS_LAST, DREGS_MEASURED_CONDUCTIVITY, 0,
                                 celsius + 273.15, held, &shown, NULL));
    return shown;
}

/* KCl, 0.01 mol/L: 1413 uS/cm at 25 degC, 1278 at 20 degC (ISO 7888, Table 2; from memory). */
START_TEST(a_salt_by_its_own_law)
{
    double coefficient;

    logs_parse(SALTY LOGS_LIMIT);
    ck_assert_near(salt_shown(NAN), 0.1413, 2e-3, "a meter that compensates");
    ck_assert_near(salt_shown(20), 0.1278, 2e-3, "at 20 degC");
    ck_assert_int_eq(dregs_reuse_compensation(logs.line, LOGS_LAST, &coefficient),
                     DREGS_COMPENSATION_PURE);
    logs_parse(SALTY "di,compensation,none,,\n" LOGS_LIMIT);
    ck_assert_near(salt_shown(20), 0.1413, 2e-3, "what is not compensated is taken as at 25 degC");
    /* a tenth of that salt is more than the 60 uS/cm of natural water, and is in no other row */
    logs_parse(SALTY "di,salt,0.07456,g/L,\n" LOGS_LIMIT);
    ck_assert_int_eq(dregs_reuse_compensation(logs.line, LOGS_LAST, &coefficient),
                     DREGS_COMPENSATION_NATURAL);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_failed_valve,
                                  dirty_fresh_water,
                                  an_outlier_is_set_aside,
                                  a_last_reading_alone_asks_for_another,
                                  the_dump_reading_is_where_the_limit_is,
                                  past_the_limit_it_says_dump_now,
                                  a_limit_that_is_never_reached,
                                  confidence,
                                  a_log_of_own_equations,
                                  other_meters,
                                  calibrated_meters,
                                  stopped_flow_gives_drag_out_back,
                                  the_shortcut,
                                  stopped_flow_knows_how_well,
                                  a_salt_by_its_own_law};

    return logs_run("reuse", tests, sizeof tests / sizeof tests[0]);
}
