/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse_factors.c: a factor of its own for the film of every stage and for the soil that
 * adheres: what a line does under them, and what is found of them in simulated logs.
 */
#include "check_main.h"
#include "coverage.h"

/* Each film by its own factor, and the common one times that. */
START_TEST(every_film_by_its_own_factor)
{
    struct alteration change = dregs_reuse_unaltered();
    dregs_line *changed = NULL;
    unsigned i;

    change.drag_out = 1.3;
    change.of_stage[LOGS_BATH] = 1.17;
    change.of_stage[LOGS_FIRST] = 0.61;
    ck_assert_int_eq(dregs_reuse_altered(logs.line, &change, &changed), DREGS_OK);
    for (i = LOGS_BATH; i <= LOGS_LAST; i++)
        ck_assert_near(dregs_line_carried(changed, i)->out,
                       1.3 * change.of_stage[i] * dregs_line_carried(logs.line, i)->out, 1e-14,
                       "the film of stage %u", i);
    dregs_line_free(changed);
    changed = NULL;
    change.of_stage[LOGS_LAST] = NAN;
    ck_assert_int_eq(dregs_reuse_altered(logs.line, &change, &changed), DREGS_DOMAIN);
    change = dregs_reuse_unaltered();
    change.adhering = 0;
    ck_assert_int_eq(dregs_reuse_altered(logs.line, &change, &changed), DREGS_DOMAIN);
    ck_assert_ptr_null(changed);
}
END_TEST

/* 0.9 mg on 12 cm2, 0.1 % of it left: the odds of that times the factor; the soil in the bath is
 * what is left of it. */
START_TEST(adhering_soil_by_its_own_factor)
{
    static const double factors[] = {0.37, 2.6, 40};
    size_t i;

    for (i = 0; i < sizeof factors / sizeof factors[0]; i++) {
        struct alteration change = logs_by_hand(1, 1.7);
        struct logs_truth t = {0};
        const double left = 0.001 * factors[i] / (0.999 + 0.001 * factors[i]);
        const double carried = (40 * 12e-4 + 250e-4) * 70e-6; /* m3 of the bath per load */
        dregs_residue residue;
        change.adhering = factors[i];
        logs_become(&t, &change);
        dregs_residue_next(t.state, &residue);
        ck_assert_near(residue.adhering[0], 1.7 * 0.9e-6 * left / 12e-4, 1e-12, "what adheres");
        dregs_state_step(t.state);
        ck_assert_near(dregs_state_mass(t.state, 0, 0),
                       40 * 1.7 * 0.9e-6 * (1 - left) * (1 - carried / 9e-3), 1e-12,
                       "what the bath holds");
        logs_let_go(&t);
    }
}
END_TEST

/* The standard deviation of a lognormal factor's logarithm. */
static double log_sd(double sd)
{
    return sqrt(log1p(sd * sd));
}

static void between(const dregs_factor *factor, double median, double sd, double tolerance,
                    const char *what)
{
    ck_assert_near(factor->best, median, tolerance, "%s: best", what);
    ck_assert_near(log(factor->high / factor->low), 2 * 1.959964 * sd, tolerance, "%s: width",
                   what);
}

/* Both rinses read without scatter: what each is given by the stage before it is known, what leaves
 * the last one and what the meter does not see keep the lognormal that the file states. */
START_TEST(what_is_read_is_told_apart)
{
    struct alteration change = logs_by_hand(1, 1);
    struct logs_truth t = {0};
    const dregs_regime *found;
    unsigned load;

    change.of_stage[LOGS_BATH] = 1.37;
    change.of_stage[LOGS_FIRST] = 0.74;
    logs_become(&t, &change);
    logs_begin();
    for (load = 1; load <= 12; load++) {
        dregs_state_step(t.state);
        logs_row(load, "first", load, "conductivity", logs_conducts(&t, LOGS_FIRST), "uS/cm");
        logs_row(load, "last", load, "conductivity", logs_conducts(&t, LOGS_LAST), "uS/cm");
    }
    logs_let_go(&t);
    logs_analyse(0.01);
    found = logs_regime(0);
    /* the first rinse: 12 readings of 1 %, and its own film takes 0.1 % of it along with a load */
    ck_assert_near(found->of_stage[LOGS_BATH].best, 1.37, 0.01, "the bath");
    ck_assert_near(found->of_stage[LOGS_FIRST].best, 0.74, 0.02, "the first rinse");
    ck_assert_double_lt(found->of_stage[LOGS_FIRST].high / found->of_stage[LOGS_FIRST].low, 1.05);
    ck_assert_near(found->drag_out.best, sqrt(1.37 * 0.74), 0.01, "both");
    between(&found->of_stage[LOGS_LAST], 1 / sqrt(1.0625), log_sd(0.25), 0.05, "the last rinse");
    between(&found->soil, 1 / sqrt(1.16), log_sd(0.4), 1e-6, "soil");
    between(&found->adhering, 1 / sqrt(1.16), log_sd(0.4), 1e-6, "what adheres");
}
END_TEST

/* One of two rinses that are read is given more: it is the bath's film, or the first rinse's. */
START_TEST(the_stage_that_changed_is_named)
{
    unsigned stage, load;

    gsl_rng_set(logs.rng, 20281);
    for (stage = LOGS_BATH; stage <= LOGS_FIRST; stage++) {
        struct alteration change = logs_by_hand(1, 1);
        struct logs_truth t = {0};
        logs_become(&t, &change);
        logs_begin();
        for (load = 1; load <= 26; load++) {
            if (load == 13) {
                change.of_stage[stage] = 2;
                logs_become(&t, &change);
            }
            dregs_state_step(t.state);
            logs_row(load, "first", load, "conductivity",
                     logs_scattered(logs_conducts(&t, LOGS_FIRST), 0.02), "uS/cm");
            logs_row(load, "last", load, "conductivity",
                     logs_scattered(logs_conducts(&t, LOGS_LAST), 0.02), "uS/cm");
        }
        logs_let_go(&t);
        logs_analyse(0.02);
        ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 2);
        ck_assert_int_eq(logs_regime(1)->kind, DREGS_REGIME_DRAG_OUT);
        ck_assert_int_eq(logs_regime(1)->which, (int)stage);
        ck_assert_near(logs_regime(1)->of.best, 2, 0.15, "the change of stage %u", stage);
        ck_assert_double_le(logs_regime(1)->of.low, 2);
        ck_assert_double_ge(logs_regime(1)->of.high, 2);
    }
}
END_TEST

/* A dirty reading of a rinse that sees the soil: more may come with the parts, but what stays on
 * them is as the file says. */
START_TEST(a_dirty_rinse_scales_no_adhering_soil)
{
    struct alteration change = logs_by_hand(1, 1);
    struct logs_truth t = {0};
    double held[DREGS_LINE_SOLUTES];

    logs_become(&t, &change);
    logs_begin();
    ck_assert_int_eq(dregs_state_before(t.state, 41), DREGS_OK);
    logs_held(&t, LOGS_FIRST, held);
    logs_row(40, "first", 40, "concentration oil", held[0] * 2.5e3, "mg/L");
    logs_let_go(&t);
    logs_analyse(0.05);
    ck_assert_double_gt(logs_regime(0)->soil.best, 1.2);
    between(&logs_regime(0)->adhering, 1 / sqrt(1.16), log_sd(0.4), 1e-3, "what adheres");
    ck_assert_near(logs_answer()->residue.adhering[0], 0.9e-6 * 0.001 / 12e-4 / sqrt(1.16), 0.002,
                   "the next load");
}
END_TEST

/* A few logs of each case that make reuse-coverage counts. */
START_TEST(intervals_hold_the_truth)
{
    enum { LOGS = 25 };
    unsigned i;

    for (i = 0; i < COVERAGE_CASES; i++) {
        struct coverage c = coverage_of(&coverage_cases[i], 20301, LOGS);
        /* of 25 logs at 95 % fewer than 20 come once in 10,000, more than 4 unsafe at 2.5 % too */
        ck_assert_msg(c.answered == LOGS, "%s: %u of 25 answered", coverage_cases[i].name,
                      c.answered);
        ck_assert_msg(c.covered >= 20, "%s: %u of 25 held", coverage_cases[i].name, c.covered);
        ck_assert_msg(c.unsafe <= 4, "%s: %u of 25 unsafe", coverage_cases[i].name, c.unsafe);
        ck_assert_msg(c.again <= 2, "%s: %u of 25 to be measured again", coverage_cases[i].name,
                      c.again);
        /* what no meter tells of, the last film and what adheres, makes three quarters of this */
        ck_assert_msg(c.width < (coverage_cases[i].bench == COVERAGE_WATER ? 1.6 : 4),
                      "%s: an interval of %g times the truth", coverage_cases[i].name, c.width);
        if (coverage_cases[i].fill == 0)
            ck_assert_msg(c.changes <= 1, "%s: %u changes of 25", coverage_cases[i].name,
                          c.changes);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {every_film_by_its_own_factor,
                                  adhering_soil_by_its_own_factor,
                                  what_is_read_is_told_apart,
                                  the_stage_that_changed_is_named,
                                  a_dirty_rinse_scales_no_adhering_soil,
                                  intervals_hold_the_truth};

    return logs_run("reuse_factors", tests, sizeof tests / sizeof tests[0]);
}
