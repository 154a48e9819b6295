/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse_changes.c: how soon a change of drag-out is found, what it is called and how well
 * it is known, over 200 simulated logs each.
 */
#include "check_main.h"
#include "logs.h"

/* Readings every load for 20 loads, then drag-out is another for 8 more. */
static void log_change(double noise, double factor, double *departs)
{
    struct logs_truth t = {0}, same = {0};
    double drag_out = logs_draw(0.25);
    struct alteration change = logs_by_hand(drag_out, 1);
    unsigned load;

    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= 28; load++) {
        if (load == 21) {
            logs_become(&same, &change);
            ck_assert_int_eq(dregs_state_before(same.state, 21), DREGS_OK);
            change.drag_out = drag_out * factor;
            logs_become(&t, &change);
        }
        dregs_state_step(t.state);
        if (load > 20)
            dregs_state_step(same.state);
        if (load == 21) /* in standard deviations */
            *departs = (logs_conducts(&t, LOGS_LAST) / logs_conducts(&same, LOGS_LAST) - 1) / noise;
        logs_row(load, "last", load, "conductivity",
                 logs_scattered(logs_conducts(&t, LOGS_LAST), noise), "uS/cm");
    }
    logs_let_go(&t);
    logs_let_go(&same);
}

static void finds(unsigned long seed, double noise, int given, double factor)
{
    enum { LOGS = 200 };
    unsigned run, soon = 0, named = 0, sized = 0;
    double departs = 0;

    gsl_rng_set(logs.rng, seed);
    for (run = 0; run < LOGS; run++) {
        log_change(noise, factor, &departs);
        /* the case that is asked for: at least twice the noise with every load */
        ck_assert_msg(departs >= 2, "departs by %g standard deviations a load", departs);
        logs_analyse(given ? noise : NAN);
        if (dregs_reuse_regimes(logs.reuse) < 2)
            continue;
        soon += dregs_readings_at(logs.readings, logs_regime(1)->found)->at <= 25;
        named += logs_regime(1)->kind == DREGS_REGIME_DRAG_OUT;
        sized += logs_regime(1)->kind == DREGS_REGIME_DRAG_OUT &&
                 fabs(logs_regime(1)->of.best / factor - 1) < 0.25;
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

int main(void)
{
    const TTest *const tests[] = {changes_with_noise_given, changes_with_noise_estimated};

    return logs_run("reuse_changes", tests, sizeof tests / sizeof tests[0]);
}
