/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_reuse_factors.c: a factor of its own for the film of every stage and for the soil that
 * adheres: what a line does under them, and what is found of them in simulated logs.
 */
#include "check_main.h"
#include "logs.h"

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

int main(void)
{
    const TTest *const tests[] = {every_film_by_its_own_factor, adhering_soil_by_its_own_factor};

    return logs_run("reuse_factors", tests, sizeof tests / sizeof tests[0]);
}
