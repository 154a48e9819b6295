/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse_meters.c: how often the 95 % intervals hold the truth at benches without a
 * conductivity, over 300 simulated logs of each kind of reading: weighed dishes, bounds, steps of a
 * colour, parts that were wiped. The truth is simulated on the map; what is read of it is
 * scattered, rounded and cut here.
 */
#include "check_main.h"
#include "logs.h"

#include <gsl/gsl_randist.h>

#define BENCH                                                                                      \
    "item,property,value,unit,spread\n"                                                            \
    "tray,kind,load,,\ntray,parts,12,1,\ntray,area,9.5,cm2,\ntray,interval,10,min,\n"              \
    "grease,kind,solute,,\ngrease,on parts,2.2,mg,40%\nsolids,kind,solute,,\n"                     \
    "ipa,kind,liquid,,\nipa,solvent,isopropanol,,\nipa,solids,2,mg/L,\n"                           \
    "shade,kind,calibration,,\nshade,solute,grease,,\n"                                            \
    "shade,reading 1,0,of 8,\nshade,concentration 1,0,mg/L,\n"                                     \
    "shade,reading 2,8,of 8,\nshade,concentration 2,40,mg/L,\n"                                    \
    "beaker,kind,wash,,\nbeaker,volume,0.6,L,\nbeaker,liquid,ipa,,\nbeaker,removal,99.9,%,\n"      \
    "beaker,drag-out,60,mL/m2,25%\n"                                                               \
    "clear,kind,rinse,,\nclear,volume,0.6,L,\nclear,liquid,ipa,,\nclear,drag-out,60,mL/m2,25%\n"   \
    "limit,kind,target,,\nlimit,residue,0.6,ug/cm2,\n"

enum { BEAKER, CLEAR, RUNS = 300, LOADS_READ = 24 };

/* What is written of a load, whose tanks are those of the truth. */
typedef void write_row(const struct logs_truth *t, unsigned load);

struct coverage {
    unsigned runs, drag_out, loads, unsafe, judged, alarms, doubted;
};

static double grease_in(const struct logs_truth *t, unsigned stage, double *all)
{
    double c[DREGS_LINE_SOLUTES];

    logs_held(t, stage, c);
    *all = c[0] + c[1];
    return c[0];
}

static unsigned loads_of(struct logs_truth *t, double limit)
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

static double left_before; /* kg/m2 on the load that the last step let pass */

static void cover(struct coverage *c, write_row *write, double noise)
{
    static const unsigned char by_hand[DREGS_LINE_STAGES] = {1, 1};
    struct logs_truth t = {0};
    double drag_out = logs_draw(0.25), soil = logs_draw(0.4);
    struct alteration change = logs_by_hand(drag_out, soil);
    dregs_residue next;
    unsigned load, left;

    change.by_hand = by_hand;
    logs_become(&t, &change);
    logs.length = 0;
    logs_say("time,stage,loads,quantity,value,unit,tare,gross,sample,resolution,recovery\n");
    for (load = 1; load <= LOADS_READ; load++) {
        dregs_residue_next(t.state, &next);
        left_before = next.total;
        dregs_state_step(t.state);
        if (load % 2 == 0)
            write(&t, load);
    }
    logs_analyse_with(noise, NAN);
    left = loads_of(&t, 6e-6);
    c->runs++;
    c->doubted += logs_answer()->doubtful != 0;
    c->drag_out +=
        logs_regime(0)->drag_out.low <= drag_out && drag_out <= logs_regime(0)->drag_out.high;
    c->loads += logs_answer()->low <= left && left <= logs_answer()->high;
    c->unsafe += logs_answer()->low > left;
    c->alarms += dregs_reuse_regimes(logs.reuse) > 1;
    logs_let_go(&t);
}

/* 300 runs: the chance of fewer than 274 or of more than 296 at a true 95 % is 0.5 %. The loads may
 * be held more often: what no reading tells of is in their range as the file states it, and so is
 * a change too small to be found; how wide that makes it is told by reuse-coverage. */
static void covers(const char *what, unsigned long seed, write_row *write, double noise)
{
    struct coverage c = {0};

    logs_parse(BENCH);
    gsl_rng_set(logs.rng, seed);
    while (c.runs < RUNS)
        cover(&c, write, noise);
    printf("# %s: of %d logs the range holds the drag-out in %u, the loads in %u; %u promise too "
           "many, %u are doubted, %u false alarms\n",
           what, RUNS, c.drag_out, c.loads, c.unsafe, c.doubted, c.alarms);
    ck_assert_msg(c.drag_out >= 274 && c.drag_out <= 296, "%s: drag-out in %u", what, c.drag_out);
    ck_assert_msg(c.loads >= 274, "%s: loads in %u", what, c.loads);
    ck_assert_msg(c.unsafe <= 15, "%s: %u promise too many", what, c.unsafe);
    ck_assert_msg(c.doubted <= 6 && c.alarms <= 6, "%s: %u doubted, %u alarms", what, c.doubted,
                  c.alarms);
}

static void at(unsigned load)
{
    logs_say("2026-03-%02uT%02u:%02u,clear,%u,", 1 + load * 10 / 1440, load * 10 / 60 % 24,
             load * 10 % 60, load);
}

/* A dish of 50 mL on a balance of 0.1 mg, whose own scatter is 4 %. */
static void write_dish(const struct logs_truth *t, unsigned load)
{
    double all, net, tare = 24.3 + gsl_rng_uniform(logs.rng), gross;

    (void)grease_in(t, CLEAR, &all);
    net = logs_scattered(all, 0.04) * 50e-3; /* g */
    gross = tare + net;
    at(load);
    logs_say("non-volatile residue,,mg/L,%.4f g,%.4f g,50 mL,0.1 mg\n", tare, gross);
}

START_TEST(weighed_dishes)
{
    covers("weighed dishes", 20263, write_dish, 0.04);
}
END_TEST

/* A laboratory that detects 6 mg/L and up, and scatters by 6 %: half of the readings are bounds.
 * (Of 400 logs with 15 mg/L, where nine readings of ten are, the range held the loads in 91 %,
 * and 1.5 % promised too many.) */
static void write_bound(const struct logs_truth *t, unsigned load)
{
    double all, read;

    (void)grease_in(t, CLEAR, &all);
    read = logs_scattered(all, 0.06) * 1e3;
    at(load);
    if (read < 6)
        logs_say("non-volatile residue,<6,mg/L\n");
    else
        logs_say("non-volatile residue,%.6f,mg/L\n", read);
}

START_TEST(below_detection)
{
    covers("below detection", 20264, write_bound, 0.06);
}
END_TEST

/* A meter that shows no more than 12 mg/L. */
static void write_beyond(const struct logs_truth *t, unsigned load)
{
    double all, read;

    (void)grease_in(t, CLEAR, &all);
    read = logs_scattered(all, 0.06) * 1e3;
    at(load);
    if (read > 12)
        logs_say("non-volatile residue,>12,mg/L\n");
    else
        logs_say("non-volatile residue,%.6f,mg/L\n", read);
}

START_TEST(beyond_range)
{
    covers("beyond the range", 20265, write_beyond, 0.06);
}
END_TEST

/* Steps of a colour: 8 of them for 40 mg/L, the last also for all that is darker; the eye scatters
 * by 5 %. */
static void write_shade(const struct logs_truth *t, unsigned load)
{
    double all, steps = round(200 * logs_scattered(grease_in(t, CLEAR, &all), 0.05));

    at(load);
    if (steps < 8)
        logs_say("shade,%.0f,of 8\n", steps);
    else
        logs_say("shade,>7.5,of 8\n");
}

START_TEST(steps_of_a_colour)
{
    covers("steps of a colour", 20266, write_shade, 0.05);
}
END_TEST

/* What was left on parts of every second load, wiped with a recovery of 80 %, to 15 %. */
static void write_part(const struct logs_truth *t, unsigned load)
{
    (void)t;
    logs_say("2026-03-%02uT%02u:%02u,clear,%u,residue,%.9f,ug/cm2,,,,,80%%\n", 1 + load * 10 / 1440,
             load * 10 / 60 % 24, load * 10 % 60, load,
             logs_scattered(0.8 * left_before, 0.15) * 1e5);
}

START_TEST(wiped_parts)
{
    covers("wiped parts", 20267, write_part, 0.15);
}
END_TEST

/* ---- what a bound is worth ---- */

START_TEST(a_bound_by_hand)
{
    dregs_reading below = {.value = 5, .beyond = -1}, above = {.value = 5, .beyond = 1},
                  is = {.value = 5};
    double share, inside = exp(-18) / sqrt(2 * M_PI);

    /* P(0) = 1/2, P(1.644854) = 0.95, P(-3) = 0.001349898, P(-40): -ln P = a^2/2 + ln(a sqrt(2 pi))
     * + ln(1 + 1/a^2) - ... (Abramowitz and Stegun, table 26.1 and 26.2.12) */
    ck_assert_near(pow(dregs_reuse_left(&below, 5, 2), 2), 2 * M_LN2, 1e-14, "at the bound");
    ck_assert_near(pow(dregs_reuse_left(&below, 5 - 2 * 1.6448536, 2), 2), -2 * log(0.95), 1e-6,
                   "below");
    ck_assert_near(pow(dregs_reuse_left(&below, 11, 2), 2), -2 * log(1.349898e-3), 1e-6,
                   "above it");
    ck_assert_near(pow(dregs_reuse_left(&above, -75, 2), 2), 1600 + 2 * log(40 * sqrt(2 * M_PI)),
                   1e-5, "far below a bound that it is beyond");
    ck_assert_double_eq(dregs_reuse_left(&above, 500, 2), 0);
    ck_assert_near(dregs_reuse_left(&is, 11, 2), 3, 1e-15, "no bound");
    /* r = sqrt(-2 ln P): its slope is the density p over P over r. At the bound that is
     * 2 / sqrt(2 pi) / sqrt(2 ln 2). 6 standard deviations inside P is 1 less a tail of p/6 (1 -
     * 1/36) to p/6, r the root of twice the tail */
    ck_assert_near(dregs_reuse_left_slope(&below, 5, 2), 1 / sqrt(M_PI * M_LN2), 1e-14,
                   "slope at the bound");
    ck_assert_near(dregs_reuse_left_slope(&above, 5, 2), -1 / sqrt(M_PI * M_LN2), 1e-14,
                   "slope at a bound from above");
    ck_assert(dregs_reuse_left_slope(&below, -7, 2) > sqrt(3 * inside));
    ck_assert(dregs_reuse_left_slope(&below, -7, 2) < sqrt(3 * inside * 36 / 35));
    ck_assert_double_eq(dregs_reuse_left_slope(&above, 500, 2), 0);
    ck_assert_double_eq(dregs_reuse_left_slope(&is, 11, 2), 1);
    /* the mean of a normal distribution below its own mean is -sqrt(2/pi), its variance 1 - 2/pi */
    ck_assert_near(dregs_reuse_taught(&below, 0, &share), -sqrt(2 / M_PI), 1e-14, "mean");
    ck_assert_near(share, 2 / M_PI, 1e-14, "share");
    ck_assert_near(dregs_reuse_taught(&above, 0, &share), sqrt(2 / M_PI), 1e-14, "mean above");
    ck_assert_double_eq(dregs_reuse_beyond(&below, 3), 0);
    ck_assert_double_eq(dregs_reuse_beyond(&below, -3), -3);
    ck_assert_double_eq(dregs_reuse_beyond(&above, -3), 0);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_bound_by_hand, weighed_dishes,    below_detection,
                                  beyond_range,    steps_of_a_colour, wiped_parts};

    return logs_run("reuse_meters", tests, sizeof tests / sizeof tests[0]);
}
