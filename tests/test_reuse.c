/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_reuse.c: readings against the line. Logs are simulated with a known truth: with the map of
 * the line under changed drag-out and soil, and once with equations of their own. Held are how
 * often the 95 % intervals hold the truth, how soon a change is found and what it is called, how
 * often one is found that is none, what is set aside, the reading at which to dump, and drag-out
 * measured with the water shut against its closed form.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/reuse.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define PARTS                                                                                      \
    "item,property,value,unit,spread\n"                                                            \
    "tray,kind,load,,\ntray,parts,40,1,\ntray,area,12,cm2,\ntray,extra area,250,cm2,\n"            \
    "tray,interval,12,min,\n"                                                                      \
    "oil,kind,solute,,\noil,on parts,0.9,mg,40%\n"                                                 \
    "cleaner,kind,solute,,\ncleaner,conductivity,1.35,uS/cm per mg/L,\n"                           \
    "minerals,kind,solute,,\nminerals,conductivity,1.6,uS/cm per mg/L,\n"                          \
    "alkaline,kind,liquid,,\nalkaline,solvent,water,,\nalkaline,cleaner,12,g/L,8%\n"               \
    "di,kind,liquid,,\ndi,solvent,water,,\ndi,minerals,0.6,mg/L,\n"                                \
    "bath,kind,wash,,\nbath,volume,9,L,\nbath,liquid,alkaline,,\nbath,removal,99.9,%,\n"           \
    "bath,drag-out,70,mL/m2,25%\n"
#define RINSES                                                                                     \
    "first,kind,rinse,,\nfirst,volume,3,L,\nfirst,liquid,di,,\nfirst,drag-out,50,mL/m2,25%\n"      \
    "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\nlast,drag-out,50,mL/m2,25%\n"
#define LIMIT "limit,kind,target,,\nlimit,residue,0.5,ug/cm2,\n"

enum { BATH, FIRST, LAST, LOG_ROOM = 1 << 16 };

static dregs_liquids *liquids;
static dregs_line *line;
static gsl_rng *rng;
static char text[LOG_ROOM];
static size_t length;
static dregs_readings *readings;
static dregs_reuse *reuse;
static dregs_faults faults;

static void parse(const char *file)
{
    dregs_line_free(line);
    line = NULL;
    memset(&faults, 0, sizeof faults);
    ck_assert_msg(!dregs_line_parse("line.csv", file, strlen(file), liquids, &line, &faults),
                  "line %lu: %s", faults.fault[0].line, faults.fault[0].text);
}

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    rng = gsl_rng_alloc(gsl_rng_mt19937);
    ck_assert_ptr_nonnull(liquids);
    ck_assert_ptr_nonnull(rng);
    parse(PARTS RINSES LIMIT);
}

static void forget(void)
{
    dregs_reuse_free(reuse);
    dregs_readings_free(readings);
    reuse = NULL;
    readings = NULL;
}

static void teardown(void)
{
    forget();
    dregs_line_free(line);
    line = NULL;
    dregs_liquids_free(liquids);
    gsl_rng_free(rng);
}

/* ---- the log ---- */

static void say(const char *format, ...) DREGS_FORMAT(1, 2);
static void say(const char *format, ...)
{
    va_list arguments;
    int wrote;

    va_start(arguments, format);
    wrote = vsnprintf(text + length, sizeof text - length, format, arguments);
    va_end(arguments);
    ck_assert_int_gt(wrote, 0);
    length += (size_t)wrote;
    ck_assert_uint_lt(length, sizeof text);
}

static void begin_log(void)
{
    length = 0;
    say("time,stage,loads,quantity,value,unit\n");
}

/* A load of 12 min after the first of March. */
static void say_row(unsigned load, const char *stage, unsigned since, const char *quantity,
                    double value, const char *unit)
{
    char number[DREGS_NUMBER_TEXT];
    unsigned minutes = load * 12;

    say("2026-03-%02uT%02u:%02u,%s,%u,%s,%s,%s\n", 1 + minutes / 1440, minutes / 60 % 24,
        minutes % 60, stage, since, quantity, isnan(value) ? "" : dregs_number_exact(number, value),
        unit);
}

static void analyse_with(double noise, double limit)
{
    dregs_reuse_request request = {noise, NAN, NAN, limit};

    forget();
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("log.csv", line, &faults);
    ck_assert_ptr_nonnull(readings);
    ck_assert_msg(!dregs_readings_feed(readings, text, length) && !dregs_readings_end(readings),
                  "line %lu: %s", faults.fault[0].line, faults.fault[0].text);
    ck_assert_msg(!dregs_reuse_new(line, readings, &request, &reuse, &faults), "%s",
                  faults.fault[0].text);
}

static void analyse(double noise)
{
    analyse_with(noise, NAN);
}

static const dregs_regime *regime(unsigned index)
{
    ck_assert_uint_lt(index, dregs_reuse_regimes(reuse));
    return dregs_reuse_regime(reuse, index);
}

static const dregs_reuse_answer *answer(void)
{
    return dregs_reuse_answered(reuse);
}

/* ---- the truth ---- */

struct truth {
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
};

static dregs_change by_hand(double drag_out, double soil)
{
    static const unsigned char stages[DREGS_LINE_STAGES] = {0, 1, 1};
    dregs_change change = dregs_change_none();

    change.drag_out = drag_out;
    change.soil = soil;
    change.by_hand = stages;
    return change;
}

static void become(struct truth *t, const dregs_change *change)
{
    dregs_line *changed = NULL;
    dregs_map *map = NULL;
    dregs_state *state;

    ck_assert_int_eq(dregs_line_changed(line, change, &changed), DREGS_OK);
    ck_assert_int_eq(dregs_map_new(changed, &map), DREGS_OK);
    state = t->state ? dregs_state_under(map, t->state) : dregs_state_new(map);
    ck_assert_ptr_nonnull(state);
    dregs_state_free(t->state);
    dregs_map_free(t->map);
    dregs_line_free(t->line);
    *t = (struct truth){changed, map, state};
}

static void let_go(struct truth *t)
{
    dregs_state_free(t->state);
    dregs_map_free(t->map);
    dregs_line_free(t->line);
    memset(t, 0, sizeof *t);
}

static void held(const struct truth *t, unsigned stage, double *concentration)
{
    unsigned tank = (unsigned)dregs_line_stage(t->line, stage)->tank, s;

    for (s = 0; s < dregs_line_solutes(t->line); s++)
        concentration[s] =
            dregs_state_mass(t->state, s, tank) / dregs_line_tank(t->line, tank)->volume;
}

/* uS/cm by the sum itself: 0.05498 of the water, k c of what conducts */
static double conducts(const struct truth *t, unsigned stage)
{
    double c[DREGS_LINE_SOLUTES];

    held(t, stage, c);
    return 0.05498 + 1.35 * c[1] * 1e3 + 1.6 * c[2] * 1e3;
}

static double scattered(double value, double noise)
{
    return value * (1 + gsl_ran_gaussian(rng, noise));
}

static double draw(double sd)
{
    double s2 = log1p(sd * sd);

    return exp(-s2 / 2 + sqrt(s2) * gsl_ran_gaussian(rng, 1));
}

static unsigned loads_of(struct truth *t, double limit)
{
    dregs_residue residue;
    unsigned loads = 0;

    for (;; loads++) {
        dregs_residue_next(t->state, &residue);
        if (residue.total > limit)
            return loads;
        dregs_state_step(t->state);
    }
}

/* ---- how often the intervals hold the truth ---- */

struct coverage {
    unsigned runs, drag_out, loads, alarms;
};

static void cover(struct coverage *c, double noise, int given, unsigned readings_each)
{
    struct truth t = {0};
    double drag_out = draw(0.25), soil = draw(0.4);
    dregs_change change = by_hand(drag_out, soil);
    unsigned load, left;

    become(&t, &change);
    begin_log();
    for (load = 1; load <= readings_each; load++) {
        dregs_state_step(t.state);
        say_row(load, "last", load, "conductivity", scattered(conducts(&t, LAST), noise), "uS/cm");
    }
    analyse(given ? noise : NAN);
    left = loads_of(&t, 5e-6);
    c->runs++;
    c->drag_out += regime(0)->drag_out.low <= drag_out && drag_out <= regime(0)->drag_out.high;
    c->loads += answer()->low <= left && left <= answer()->high;
    c->alarms += dregs_reuse_regimes(reuse) > 1;
    let_go(&t);
}

static void covers(unsigned long seed, double noise, int given, unsigned readings_each)
{
    enum { LOGS = 1000 };
    struct coverage c = {0};

    gsl_rng_set(rng, seed);
    while (c.runs < LOGS)
        cover(&c, noise, given, readings_each);
    /* counts of 1000: the chance of leaving 930 to 970 at a true 95 % is 0.4 % */
    ck_assert_msg(c.drag_out >= 930 && c.drag_out <= 970, "drag-out held %u of 1000", c.drag_out);
    ck_assert_msg(c.loads >= 930 && c.loads <= 970, "loads held %u of 1000", c.loads);
    ck_assert_msg(c.alarms < 10, "%u false alarms of 1000", c.alarms);
}

START_TEST(intervals_with_noise_given)
{
    covers(20261, 0.08, 1, 16);
}
END_TEST

START_TEST(intervals_with_noise_estimated)
{
    covers(20262, 0.06, 0, 30);
}
END_TEST

/* ---- changes ---- */

/* Readings every load for 20 loads, then drag-out is another for 8 more. */
static void log_change(double noise, double factor, double *departs)
{
    struct truth t = {0}, same = {0};
    double drag_out = draw(0.25);
    dregs_change change = by_hand(drag_out, 1);
    unsigned load;

    become(&t, &change);
    begin_log();
    for (load = 1; load <= 28; load++) {
        if (load == 21) {
            become(&same, &change);
            ck_assert_int_eq(dregs_state_before(same.state, 21), DREGS_OK);
            change.drag_out = drag_out * factor;
            become(&t, &change);
        }
        dregs_state_step(t.state);
        if (load > 20)
            dregs_state_step(same.state);
        if (load == 21) /* in standard deviations */
            *departs = (conducts(&t, LAST) / conducts(&same, LAST) - 1) / noise;
        say_row(load, "last", load, "conductivity", scattered(conducts(&t, LAST), noise), "uS/cm");
    }
    let_go(&t);
    let_go(&same);
}

static void finds(unsigned long seed, double noise, int given, double factor)
{
    enum { LOGS = 200 };
    unsigned run, soon = 0, named = 0, sized = 0;
    double departs = 0;

    gsl_rng_set(rng, seed);
    for (run = 0; run < LOGS; run++) {
        log_change(noise, factor, &departs);
        /* the case that is asked for: at least twice the noise with every load */
        ck_assert_msg(departs >= 2, "departs by %g standard deviations a load", departs);
        analyse(given ? noise : NAN);
        if (dregs_reuse_regimes(reuse) < 2)
            continue;
        soon += dregs_readings_at(readings, regime(1)->found)->at <= 25;
        named += regime(1)->kind == DREGS_REGIME_DRAG_OUT;
        sized += regime(1)->kind == DREGS_REGIME_DRAG_OUT &&
                 fabs(regime(1)->of.best / factor - 1) < 0.25;
    }
    ck_assert_msg(soon >= 198, "%u of 200 found within 5 loads", soon);
    ck_assert_msg(named >= 194, "%u of 200 called drag-out", named);
    /* eight readings after the change: nine in ten within a quarter */
    ck_assert_msg(sized >= 180, "%u of 200 within a quarter of it", sized);
}

START_TEST(changes_with_noise_given)
{
    finds(20263, 0.027, 1, 2);
}
END_TEST

START_TEST(changes_with_noise_estimated)
{
    finds(20264, 0.02, 0, 2.2);
}
END_TEST

/* A running rinse whose water fails after load 30. */
START_TEST(a_failed_valve)
{
    struct truth t = {0};
    dregs_change change = by_hand(1.1, 1);
    unsigned load;

    parse(PARTS "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\nlast,flow,9,L/h,\n"
                "last,drag-out,50,mL/m2,25%\n"
                "limit,kind,target,,\nlimit,residue,60,ug/cm2,\n");
    gsl_rng_set(rng, 20265);
    become(&t, &change);
    begin_log();
    for (load = 1; load <= 45; load++) {
        if (load == 31) {
            change.flow_of = FIRST; /* the second stage, here `last` */
            change.flow = 0;
            become(&t, &change);
        }
        dregs_state_step(t.state);
        say_row(load, "last", load, "conductivity", scattered(conducts(&t, FIRST), 0.02), "uS/cm");
    }
    let_go(&t);
    analyse(0.02);
    ck_assert_uint_eq(dregs_reuse_regimes(reuse), 2);
    ck_assert_int_eq(regime(1)->kind, DREGS_REGIME_FLOW);
    ck_assert_int_eq(regime(1)->which, FIRST);
    ck_assert_double_lt(regime(1)->of.best, 0.15);
    ck_assert_int_le(dregs_readings_at(readings, regime(1)->found)->at, 35);
    ck_assert_int_ge(dregs_readings_at(readings, regime(1)->first)->at, 29);
}
END_TEST

/* From the second fill on the fresh water holds 4 mg/L more minerals. */
START_TEST(dirty_fresh_water)
{
    struct truth t = {0};
    dregs_change change = by_hand(1.2, 1);
    unsigned load;

    gsl_rng_set(rng, 20266);
    become(&t, &change);
    begin_log();
    for (load = 1; load <= 60; load++) {
        dregs_state_step(t.state);
        if (load % 2 == 0)
            say_row(load, "last", load > 40 ? load - 40 : load, "conductivity",
                    scattered(conducts(&t, LAST), 0.03), "uS/cm");
        if (load != 40)
            continue;
        change.dirty = 1;
        change.dirty_solute = 2;
        change.dirt = 4e-3;
        become(&t, &change);
        ck_assert_int_eq(dregs_state_dump(t.state, FIRST), DREGS_OK);
        ck_assert_int_eq(dregs_state_dump(t.state, LAST), DREGS_OK);
        say_row(load, "first", 40, "dump", NAN, "");
        say_row(load, "last", 40, "dump", NAN, "");
    }
    let_go(&t);
    analyse(0.03);
    ck_assert_uint_eq(dregs_reuse_regimes(reuse), 2);
    ck_assert_int_eq(regime(1)->kind, DREGS_REGIME_DIRTY);
    ck_assert_int_eq(regime(1)->which, 1);
    ck_assert_uint_eq(regime(1)->solute, 2);
    ck_assert_double_le(regime(1)->of.low, 4e-3);
    ck_assert_double_ge(regime(1)->of.high, 4e-3);
    ck_assert_double_le(regime(1)->drag_out.low, 1.2);
    ck_assert_double_ge(regime(1)->drag_out.high, 1.2);
}
END_TEST

/* ---- what is set aside ---- */

static void log_noisy(struct truth *t, unsigned loads, unsigned odd, double factor, double noise)
{
    dregs_change change = by_hand(1.15, 0.9);
    unsigned load;

    gsl_rng_set(rng, 20267);
    become(t, &change);
    begin_log();
    for (load = 1; load <= loads; load++) {
        double value;
        dregs_state_step(t->state);
        value = scattered(conducts(t, LAST), noise);
        say_row(load, "last", load, "conductivity", load == odd ? value * factor : value, "uS/cm");
    }
}

static void log_plain(struct truth *t, unsigned loads, unsigned odd, double factor)
{
    log_noisy(t, loads, odd, factor, 0.03);
}

START_TEST(an_outlier_is_set_aside)
{
    struct truth t = {0};
    size_t i, aside = 0;

    log_plain(&t, 30, 17, 1.7);
    let_go(&t);
    analyse(0.03);
    for (i = 0; i < dregs_readings_kept(readings); i++)
        if (dregs_reuse_heard(reuse, i)->heard != DREGS_HEARD_USED) {
            ck_assert_uint_eq(dregs_readings_at(readings, i)->line, 18);
            ck_assert_int_eq(dregs_reuse_heard(reuse, i)->heard, DREGS_HEARD_OUTLIER);
            ck_assert_double_gt(dregs_reuse_heard(reuse, i)->off, 10);
            aside++;
        }
    ck_assert_uint_eq(aside, 1);
    ck_assert_uint_eq(dregs_reuse_regimes(reuse), 1);
    ck_assert_double_le(regime(0)->drag_out.low, 1.15);
    ck_assert_double_ge(regime(0)->drag_out.high, 1.15);
}
END_TEST

START_TEST(a_last_reading_alone_asks_for_another)
{
    struct truth t = {0};

    log_plain(&t, 30, 30, 9);
    let_go(&t);
    analyse(0.03);
    ck_assert_int_eq(dregs_reuse_heard(reuse, 29)->heard, DREGS_HEARD_ALONE);
    ck_assert_int_eq(answer()->again, 1);
    ck_assert_int_eq(answer()->dump_now, 0);
}
END_TEST

/* ---- the reading at which to dump, and the loads ---- */

START_TEST(the_dump_reading_is_where_the_limit_is)
{
    struct truth t = {0};
    dregs_residue residue;
    double before = 0, behind;
    unsigned left;

    log_noisy(&t, 24, 0, 1, 0); /* no scatter: what is fitted is the truth, but for the beliefs */
    analyse(0.002);
    for (left = 0;; left++) {
        dregs_residue_next(t.state, &residue);
        if (residue.total > 5e-6)
            break;
        before = conducts(&t, LAST);
        dregs_state_step(t.state);
    }
    behind = conducts(&t, LAST);
    let_go(&t);
    ck_assert_int_eq(answer()->stage, LAST);
    ck_assert_int_eq(answer()->reached, 1);
    ck_assert_uint_ge(answer()->loads + 1, left);
    ck_assert_uint_le(answer()->loads, left + 1);
    ck_assert_uint_eq(answer()->since, 24);
    /* drag-out and soil cannot both be known from one meter, so that the residue is not exact */
    ck_assert_double_gt(answer()->at[LAST].value * 1e4, before * 0.97);
    ck_assert_double_lt(answer()->at[LAST].value * 1e4, behind * 1.03);
}
END_TEST

START_TEST(past_the_limit_it_says_dump_now)
{
    struct truth t = {0};
    dregs_residue residue;

    log_plain(&t, 100, 0, 1);
    dregs_residue_next(t.state, &residue);
    ck_assert_double_gt(residue.total, 5e-6);
    analyse(0.03);
    ck_assert_int_eq(answer()->dump_now, 1);
    ck_assert_uint_eq(answer()->loads, 0);
    ck_assert_near(answer()->next, residue.total, 0.05, "the next load");
    ck_assert_double_eq(answer()->limit, 5e-6);
    /* what is left after a dump is below what is left before it, and a fill lasts */
    ck_assert_double_lt(answer()->after_dump, 5e-6);
    ck_assert_uint_gt(answer()->fill, 1);
    let_go(&t);
}
END_TEST

START_TEST(a_limit_that_is_never_reached)
{
    struct truth t = {0};

    log_plain(&t, 24, 0, 1);
    let_go(&t);
    analyse_with(0.03, 1e-2);
    ck_assert_uint_eq(answer()->loads, DREGS_REUSE_LOADS_MOST);
    ck_assert_uint_eq(answer()->high, DREGS_REUSE_LOADS_MOST);
    ck_assert_int_eq(answer()->reached, 0);
    ck_assert_int_eq(answer()->dump_now, 0);
}
END_TEST

/* A confidence moves the answer to the safe side. */
START_TEST(confidence)
{
    struct truth t = {0};
    uint64_t best;

    log_plain(&t, 12, 0, 1);
    let_go(&t);
    analyse(0.1);
    best = answer()->loads;
    ck_assert_double_nan(answer()->confidence);
    parse(PARTS RINSES LIMIT "limit,confidence,99,%,\n");
    analyse(0.1);
    ck_assert_double_eq(answer()->confidence, 0.99);
    ck_assert_uint_lt(answer()->loads, best);
    ck_assert_uint_le(answer()->loads, answer()->low);
    ck_assert_double_gt(answer()->next_sure, answer()->next);
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

    begin_log();
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
            say_row(load, "last", load, "conductivity",
                    0.05498 + 1.35 * last / 3e-3 * 1e3 + 1.6 * water / 3e-3 * 1e3, "uS/cm");
    }
    analyse(0.01);
    ck_assert_uint_eq(dregs_reuse_regimes(reuse), 1);
    /* its minerals are taken as constant, which the film changes by 0.1 % a load */
    ck_assert_near(regime(0)->drag_out.best, 1.3, 5e-3, "drag-out");
}
END_TEST

/* ---- other meters ---- */

static void log_of(const char *quantity, const char *unit, double (*shows)(const double *c))
{
    struct truth t = {0};
    dregs_change change = by_hand(1.4, 1);
    double c[DREGS_LINE_SOLUTES];
    unsigned load;

    become(&t, &change);
    begin_log();
    for (load = 1; load <= 30; load++) {
        dregs_state_step(t.state);
        held(&t, LAST, c);
        if (load % 2 == 0)
            say_row(load, "last", load, quantity, shows(c), unit);
    }
    let_go(&t);
    analyse(0.02);
    ck_assert_uint_eq(dregs_reuse_regimes(reuse), 1);
    ck_assert_near(regime(0)->drag_out.best, 1.4, 0.02, "drag-out by %s", quantity);
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
    parse(PARTS RINSES LIMIT
          "refractive index,kind,calibration,,\nrefractive index,solute,cleaner,,\n"
          "refractive index,reading 1,1.3330,1,\nrefractive index,concentration 1,0,g/L,\n"
          "refractive index,reading 2,1.3350,1,\nrefractive index,concentration 2,1,g/L,\n"
          "light,kind,calibration,,\nlight,solute,cleaner,,\nlight,reading 1,100,%,\n"
          "light,concentration 1,0,g/L,\nlight,reading 2,40,%,\nlight,concentration 2,1,g/L,\n");
    log_of("concentration cleaner", "mg/L", cleaner_mg);
    log_of("non-volatile residue", "mg/L", all_mg);
    log_of("concentration cleaner", "mg/L", cleaner_mg);
    (void)index_of;
    (void)light;
}
END_TEST

/* A share of a refractive index is no noise: its scatter is stated by the rows. */
START_TEST(calibrated_meters)
{
    double (*const shows[])(const double *) = {index_of, light};
    static const char *const names[] = {"refractive index", "light"};
    static const char *const units[] = {"1", "%"}, *const sd[] = {"0.000002", "0.05"};
    unsigned m, load;

    parse(PARTS RINSES LIMIT
          "refractive index,kind,calibration,,\nrefractive index,solute,cleaner,,\n"
          "refractive index,reading 1,1.3330,1,\nrefractive index,concentration 1,0,g/L,\n"
          "refractive index,reading 2,1.3350,1,\nrefractive index,concentration 2,1,g/L,\n"
          "light,kind,calibration,,\nlight,solute,cleaner,,\nlight,reading 1,100,%,\n"
          "light,concentration 1,0,g/L,\nlight,reading 2,40,%,\nlight,concentration 2,1,g/L,\n");
    for (m = 0; m < 2; m++) {
        struct truth t = {0};
        dregs_change change = by_hand(1.4, 1);
        double c[DREGS_LINE_SOLUTES];
        become(&t, &change);
        length = 0;
        say("time,stage,loads,quantity,value,unit,spread\n");
        for (load = 2; load <= 40; load += 2) {
            char number[DREGS_NUMBER_TEXT];
            dregs_state_step(t.state);
            dregs_state_step(t.state);
            held(&t, LAST, c);
            say("2026-03-01T%02u:%02u,last,%u,%s,%s,%s,%s\n", load / 4, load % 4 * 15, load,
                names[m], dregs_number_exact(number, shows[m](c)), units[m], sd[m]);
        }
        let_go(&t);
        analyse(NAN);
        ck_assert_near(regime(0)->drag_out.best, 1.4, 0.02, "drag-out by %s", names[m]);
        /* light falls as the rinse gets dirty: to dump below what it reads now */
        ck_assert_int_eq(answer()->at[LAST].known, 1);
        ck_assert_int_eq(answer()->at[LAST].value > answer()->at[LAST].now, m == 0);
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

    parse(PARTS "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\n"
                "last,drag-out,70,mL/m2,25%\n" LIMIT);
    begin_log();
    for (load = 1; load <= 12; load++) {
        double f = 1 - pow(3e-3 / (3e-3 + drag_out), load);
        say_row(load, "last", load, "concentration cleaner", scattered(12e3 * f, noise), "mg/L");
    }
}

static void measure(double noise, dregs_stopped_flow *measured)
{
    forget();
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("log.csv", line, &faults);
    ck_assert_int_eq(dregs_readings_feed(readings, text, length), DREGS_OK);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_msg(!dregs_drag_out_measure(line, readings, noise, measured, &faults), "%s",
                  faults.fault[0].text);
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

    gsl_rng_set(rng, 20268);
    for (run = 0; run < LOGS; run++) {
        /* the bath is 8 % off too, as the file says it may be */
        double strength = 1 + gsl_ran_gaussian(rng, 0.08), film = 70e-6 * draw(0.3);
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

static Suite *suite(void)
{
    const TTest *const quick[] = {a_failed_valve,
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
                                  the_shortcut};
    const TTest *const many[] = {intervals_with_noise_given, intervals_with_noise_estimated,
                                 changes_with_noise_given, changes_with_noise_estimated,
                                 stopped_flow_knows_how_well};
    Suite *all = suite_create("reuse");
    TCase *single = tcase_create("single"), *counts = tcase_create("counts");
    size_t i;

    tcase_add_checked_fixture(single, setup, teardown);
    tcase_set_timeout(single, 60);
    for (i = 0; i < sizeof quick / sizeof quick[0]; i++)
        tcase_add_test(single, quick[i]);
    tcase_add_checked_fixture(counts, setup, teardown);
    tcase_set_timeout(counts, 900);
    for (i = 0; i < sizeof many / sizeof many[0]; i++)
        tcase_add_test(counts, many[i]);
    suite_add_tcase(all, single);
    suite_add_tcase(all, counts);
    return all;
}

int main(void)
{
    return run(suite());
}
