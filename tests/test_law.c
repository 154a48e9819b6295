/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_law.c: the arithmetic of regulations beyond the examples of checks.csv: edges, refusals,
 * what is asked for.
 *
 * The figures are those of the acts cited with each rule; arithmetic is exact or by hand.
 */
#include "check_main.h"
#include "dregs/law.h"

#include <string.h>

START_TEST(rules_say_where_they_are_from)
{
    const dregs_law *rule, *other;
    int i, k;

    for (i = 0; i < DREGS_LAW_RULES; i++) {
        rule = dregs_law_at((dregs_law_rule)i);
        ck_assert_ptr_nonnull(rule);
        ck_assert(strcmp(rule->jurisdiction, "US") == 0 || strcmp(rule->jurisdiction, "EU") == 0);
        ck_assert(strlen(rule->rule) > 20 && strlen(rule->citation) > 8);
        ck_assert(strspn(rule->status_date, "0123456789-") == strlen(rule->status_date));
        ck_assert(strlen(rule->status_date) == 4 || strlen(rule->status_date) == 10);
        ck_assert(strcmp(rule->evidence, "read") == 0 || strcmp(rule->evidence, "memory") == 0);
        if (strstr(rule->rule, "from memory") || strstr(rule->citation, "from memory"))
            ck_assert_str_eq(rule->evidence, "memory");
        for (k = 0; k < i; k++) {
            other = dregs_law_at((dregs_law_rule)k);
            ck_assert_str_ne(rule->id, other->id);
        }
    }
    ck_assert_ptr_null(dregs_law_at(DREGS_LAW_RULES));
    ck_assert_ptr_null(dregs_law_at((dregs_law_rule)-1));
}
END_TEST

/* A plan in which all streams are there and the two ways to the fugitive emissions agree: by hand,
 * 8231 - 412 - 77 - 2390 - 51 - 630 = 4671 = 310 + 4 + 4325 + 32. */
START_TEST(both_ways_to_the_fugitive_emissions)
{
    dregs_law_plan plan = {8231, 1190, 412, 310, 4, 4325, 77, 2390, 51, 630, 32};
    dregs_law_plan_result result;

    ck_assert_int_eq(dregs_law_plan_work(&plan, &result), DREGS_OK);
    ck_assert_double_eq(result.fugitive, 4671);
    ck_assert_double_eq(result.fugitive_direct, 4671);
    ck_assert_double_eq(result.consumption, 7601);
    ck_assert_double_eq(result.input, 9421);
    ck_assert_near(result.share, 4671.0 / 9421.0, 1e-15, "share");
    plan.o4 = NAN; /* not known: only the indirect way is left */
    ck_assert_int_eq(dregs_law_plan_work(&plan, &result), DREGS_OK);
    ck_assert_double_nan(result.fugitive_direct);
    ck_assert_double_eq(result.fugitive, 4671);
}
END_TEST

START_TEST(plans_that_are_none)
{
    static const double bad[] = {-0.001, INFINITY, NAN};
    const dregs_law_plan good = {8231, 1190, 412, 310, 4, 4325, 77, 2390, 51, 630, 32};
    dregs_law_plan plan;
    dregs_law_plan_result result = {1, 2, 3, 4, 5};
    unsigned i, k;

    for (i = 0; i < 11; i++)
        for (k = 0; k < 3; k++) {
            int direct = i == 3 || i == 4 || i == 5 || i == 10;
            plan = good;
            ((double *)&plan)[i] = bad[k];
            if (direct && k == 2)
                continue; /* may be unknown */
            ck_assert_msg(dregs_law_plan_work(&plan, &result) == DREGS_DOMAIN, "stream %u, %g", i,
                          bad[k]);
        }
    plan = (dregs_law_plan){0};
    ck_assert_int_eq(dregs_law_plan_work(&plan, &result), DREGS_DOMAIN);
    ck_assert_double_eq(result.consumption, 1);
    ck_assert_double_eq(result.share, 5);
}
END_TEST

START_TEST(bands_of_surface_cleaning)
{
    static const struct {
        dregs_law_activity activity;
        double consumption, fugitive, waste_gas;
    } known[] = {{DREGS_LAW_CLEANING_59_5, 999.9, NAN, NAN},
                 {DREGS_LAW_CLEANING_59_5, 1000, NAN, NAN},
                 {DREGS_LAW_CLEANING_59_5, 1000.1, 0.15, 20e-6},
                 {DREGS_LAW_CLEANING_59_5, 5000, 0.15, 20e-6},
                 {DREGS_LAW_CLEANING_59_5, 5000.1, 0.10, 20e-6},
                 {DREGS_LAW_CLEANING_OTHER, 0, NAN, NAN},
                 {DREGS_LAW_CLEANING_OTHER, 2000, NAN, NAN},
                 {DREGS_LAW_CLEANING_OTHER, 2000.1, 0.20, 75e-6},
                 {DREGS_LAW_CLEANING_OTHER, 10000, 0.20, 75e-6},
                 {DREGS_LAW_CLEANING_OTHER, 10000.1, 0.15, 75e-6},
                 {DREGS_LAW_CLEANING_OTHER, 1e12, 0.15, 75e-6}};
    dregs_law_band band;
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        ck_assert_int_eq(dregs_law_band_of(known[i].activity, known[i].consumption, &band),
                         DREGS_OK);
        if (isnan(known[i].fugitive)) {
            ck_assert_double_nan(band.fugitive);
            ck_assert_double_nan(band.waste_gas);
        } else {
            ck_assert_double_eq(band.fugitive, known[i].fugitive);
            ck_assert_double_eq(band.waste_gas, known[i].waste_gas);
        }
        ck_assert(known[i].consumption <= band.up_to);
        ck_assert(known[i].consumption > band.above || known[i].consumption == 0);
        ck_assert_int_eq(band.waste_gas_carbon, known[i].activity == DREGS_LAW_CLEANING_OTHER);
    }
    ck_assert_int_eq(dregs_law_band_of(DREGS_LAW_CLEANING_OTHER, -1, &band), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_band_of(DREGS_LAW_CLEANING_OTHER, NAN, &band), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_band_of(DREGS_LAW_CLEANING_OTHER, INFINITY, &band), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_band_of((dregs_law_activity)2, 1, &band), DREGS_DOMAIN);
}
END_TEST

START_TEST(what_is_volatile_in_the_union)
{
    ck_assert_int_eq(dregs_law_eu_volatile(10), 1);
    ck_assert_int_eq(dregs_law_eu_volatile(9.999), 0);
    ck_assert_int_eq(dregs_law_eu_volatile(4420), 1);
    ck_assert_int_eq(dregs_law_eu_volatile(NAN), -1);
    ck_assert_int_eq(dregs_law_eu_volatile(0), -1);
    ck_assert_int_eq(dregs_law_eu_volatile(-3), -1);
}
END_TEST

START_TEST(the_six_halogenated_solvents)
{
    static const char *const six[] = {"dichloromethane",      "tetrachloroethylene",
                                      "trichloroethylene",    "1,1,1-trichloroethane",
                                      "carbon tetrachloride", "chloroform"};
    static const char *const others[] = {
        "1-bromopropane", "trans-1,2-dichloroethylene", "isopropanol", "water", "", "Chloroform"};
    size_t i;

    for (i = 0; i < 6; i++) {
        ck_assert_int_eq(dregs_law_halogenated(six[i]), 1);
        ck_assert_int_eq(dregs_law_halogenated(others[i]), 0);
    }
    ck_assert_double_eq(dregs_law_machine_limit(DREGS_LAW_IN_LINE_EXISTING), 153);
    ck_assert_double_eq(dregs_law_machine_limit(DREGS_LAW_IN_LINE_NEW), 99);
    ck_assert_double_nan(dregs_law_machine_limit((dregs_law_machine)3));
}
END_TEST

START_TEST(months_that_are_none)
{
    dregs_law_month month = {17.5, 20, 1.25};
    double got = 7, three[3] = {1, 2, NAN};

    /* more removed than added: (17.5 - 20 - 1.25) / 0.5 */
    ck_assert_int_eq(dregs_law_machine_month(&month, 0.5, &got), DREGS_OK);
    ck_assert_double_eq(got, -7.5);
    got = 7;
    ck_assert_int_eq(dregs_law_machine_month(&month, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_machine_month(&month, NAN, &got), DREGS_DOMAIN);
    month.solid_waste = NAN;
    ck_assert_int_eq(dregs_law_machine_month(&month, 0.5, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_rolling(three, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_no_interface_limit(0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_no_interface_limit(NAN, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_cold_loss(-1, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_potential(NAN, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_potential(-1, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, 7);
    /* 0.5 ft2 of cold cleaner the year round: 0.5 * 0.08 lb * 8760 = 350.4 lb */
    ck_assert_int_eq(dregs_law_cold_loss(0.5 * 0.3048 * 0.3048, &got), DREGS_OK);
    ck_assert_int_eq(dregs_law_potential(got, &got), DREGS_OK);
    ck_assert_near(got, 350.4 * 0.45359237, 1e-14, "potential");
}
END_TEST

START_TEST(ignitable_or_asked_for)
{
    static const struct {
        double flash, alcohol, water;
        dregs_law_verdict verdict;
    } known[] = {{285.15, NAN, NAN, DREGS_LAW_YES},
                 {333.15, NAN, NAN, DREGS_LAW_NO},
                 {333.1, NAN, NAN, DREGS_LAW_YES},
                 {NAN, NAN, NAN, DREGS_LAW_ASK},
                 {NAN, 0, 1, DREGS_LAW_NO},              /* water alone */
                 {NAN, 0.02, 0.985, DREGS_LAW_EXCLUDED}, /* rinse water after an alcohol */
                 {NAN, 0.24, 0.8, DREGS_LAW_ASK},
                 {NAN, 0.2, 0.49, DREGS_LAW_ASK}, /* aqueous, but not by half */
                 {NAN, 0.2, 0.5, DREGS_LAW_EXCLUDED},
                 {NAN, NAN, 0.99, DREGS_LAW_ASK}, /* water with another organic liquid in it */
                 {300, NAN, 0.99, DREGS_LAW_YES},
                 {NAN, 0, 0.9, DREGS_LAW_ASK}, /* no alcohol: what is the rest? */
                 {NAN, 1.5, 0.9, DREGS_LAW_ASK},
                 {NAN, 0.1, 1.5, DREGS_LAW_ASK}};
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_law_waste waste = {known[i].flash, known[i].alcohol, known[i].water};
        ck_assert_msg(dregs_law_ignitable(&waste) == known[i].verdict, "waste %u: %d", (unsigned)i,
                      (int)dregs_law_ignitable(&waste));
    }
}
END_TEST

START_TEST(listed_or_asked_for)
{
    static const struct {
        const char *code;
        double share;
        dregs_law_verdict verdict;
    } known[] = {
        {"F001", 0.1, DREGS_LAW_YES}, {"F001", 0.0999, DREGS_LAW_NO},
        {"F005", 1, DREGS_LAW_YES},   {"F003", 1, DREGS_LAW_YES},
        {"F003", 0.7, DREGS_LAW_ASK}, {"no F-code", 0.7, DREGS_LAW_NO},
        {"VOC", 0.7, DREGS_LAW_ASK},  {NULL, 1, DREGS_LAW_ASK},
        {"F001", NAN, DREGS_LAW_ASK}, {"F001", 1.01, DREGS_LAW_ASK},
    };
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_law_verdict got = dregs_law_listed(known[i].code, known[i].share);
        ck_assert_msg(got == known[i].verdict, "%s, a share of %g: %d",
                      known[i].code ? known[i].code : "no code", known[i].share, (int)got);
    }
}
END_TEST

START_TEST(generators_that_are_none)
{
    dregs_law_generator got = DREGS_LAW_SQG;

    ck_assert_int_eq(dregs_law_generator_of(-1, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_generator_of(NAN, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_generator_of(INFINITY, &got), DREGS_DOMAIN);
    ck_assert_int_eq(got, DREGS_LAW_SQG);
    ck_assert_ptr_null(dregs_law_generator_name((dregs_law_generator)3));
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {
        rules_say_where_they_are_from, both_ways_to_the_fugitive_emissions,
        plans_that_are_none,           bands_of_surface_cleaning,
        what_is_volatile_in_the_union, the_six_halogenated_solvents,
        months_that_are_none,          ignitable_or_asked_for,
        listed_or_asked_for,           generators_that_are_none};
    Suite *s = suite_create("law");
    TCase *c = tcase_create("arithmetic");
    size_t i;

    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    return run(suite());
}
