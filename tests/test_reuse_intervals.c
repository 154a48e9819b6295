/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse_intervals.c: how often the 95 % intervals of drag-out and loads hold the truth,
 * and how often a change is found that is none, over a thousand simulated logs each.
 */
#include "check_main.h"
#include "logs.h"

#include <gsl/gsl_randist.h>

/* How many loads are still left within the limit. */
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

struct coverage {
    unsigned runs, drag_out, loads, alarms;
};

/* Every unknown drawn from what is believed of it: the films, the soil, what of it adheres, and,
 * with `wander`, the change that an answer allows for from the middle of the fill on. */
static void cover(struct coverage *c, double noise, int given, unsigned readings_each,
                  double wander)
{
    struct logs_truth t = {0};
    struct alteration change = logs_by_hand(1, logs_draw(0.4));
    double drag_out;
    unsigned load, left, i;

    for (i = LOGS_BATH; i <= LOGS_LAST; i++)
        change.of_stage[i] = logs_draw(0.25);
    change.adhering = logs_draw(0.4) / change.soil;
    drag_out = sqrt(change.of_stage[LOGS_BATH] * change.of_stage[LOGS_FIRST]);
    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= readings_each; load++) {
        if (load == readings_each / 2 + 1) {
            change.drag_out = exp(gsl_ran_gaussian(logs.rng, 1) * wander);
            logs_become(&t, &change);
        }
        dregs_state_step(t.state);
        logs_row(load, "last", load, "conductivity",
                 logs_scattered(logs_conducts(&t, LOGS_LAST), noise), "uS/cm");
    }
    logs_analyse(given ? noise : NAN);
    left = loads_of(&t, 5e-6);
    c->runs++;
    c->drag_out +=
        logs_regime(0)->drag_out.low <= drag_out && drag_out <= logs_regime(0)->drag_out.high;
    c->loads += logs_answer()->low <= left && left <= logs_answer()->high;
    c->alarms += dregs_reuse_regimes(logs.reuse) > 1;
    logs_let_go(&t);
}

static void covers(unsigned long seed, double noise, int given, unsigned readings_each)
{
    enum { LOGS = 1000 };
    struct coverage c = {0}, wandering = {0};

    gsl_rng_set(logs.rng, seed);
    while (c.runs < LOGS)
        cover(&c, noise, given, readings_each, 0);
    /* counts of 1000: the chance of leaving 930 to 970 at a true 95 % is 0.4 % */
    ck_assert_msg(c.drag_out >= 930 && c.drag_out <= 970, "drag-out held %u of 1000", c.drag_out);
    ck_assert_msg(c.alarms < 10, "%u false alarms of 1000", c.alarms);
    /* what is allowed for and is not there makes the interval hold more often */
    ck_assert_msg(c.loads >= 930 && c.loads <= 985, "loads held %u of 1000", c.loads);
    while (wandering.runs < LOGS)
        cover(&wandering, noise, given, readings_each, 0.15);
    ck_assert_msg(wandering.loads >= 930 && wandering.loads <= 970, "loads held %u of 1000",
                  wandering.loads);
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

int main(void)
{
    const TTest *const tests[] = {intervals_with_noise_given, intervals_with_noise_estimated};

    return logs_run("reuse_intervals", tests, sizeof tests / sizeof tests[0]);
}
