/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
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
        ck_assert(!*rule->looked_up || strlen(rule->looked_up) == 10);
        ck_assert(strspn(rule->looked_up, "0123456789-") == strlen(rule->looked_up));
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

/* E = F + O1 by hand: 4671 + 412 = 5083 = 310 + 4 + 4325 + 32 + 412. */
START_TEST(total_emission)
{
    dregs_law_plan plan = {8231, 1190, 412, 310, 4, 4325, 77, 2390, 51, 630, 32};
    double got = 7;

    ck_assert_int_eq(dregs_law_plan_total(&plan, &got), DREGS_OK);
    ck_assert_double_eq(got, 5083);
    plan.o1 = NAN;
    ck_assert_int_eq(dregs_law_plan_total(&plan, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, 5083);
}
END_TEST

/* Annex VII part 2, activity 5: at most 30 %. */
START_TEST(little_solvent_is_waived)
{
    ck_assert_int_eq(dregs_law_waived(0.3), 1);
    ck_assert_int_eq(dregs_law_waived(0.3001), 0);
    ck_assert_int_eq(dregs_law_waived(0), 1);
    ck_assert_int_eq(dregs_law_waived(1), 0);
    ck_assert_int_eq(dregs_law_waived(1.01), -1);
    ck_assert_int_eq(dregs_law_waived(-0.01), -1);
    ck_assert_int_eq(dregs_law_waived(NAN), -1);
}
END_TEST

/* Annex VII part 4: 10 g/h and 2 mg/m3, 100 g/h and 20 mg/m3; 0.01 kg / 3600 s. */
START_TEST(mass_flows_of_hazardous_compounds)
{
    dregs_law_mass_flow flow = {7, 7};

    ck_assert_int_eq(dregs_law_mass_flow_of((dregs_law_hazard)2, &flow), DREGS_DOMAIN);
    ck_assert(flow.from == 7 && flow.waste_gas == 7);
    ck_assert_int_eq(dregs_law_mass_flow_of(DREGS_LAW_CMR, &flow), DREGS_OK);
    ck_assert_near(flow.from, 2.777777777777778e-6, 1e-15, "kg/s");
    ck_assert_near(flow.waste_gas, 2e-6, 1e-15, "kg/m3");
    ck_assert_int_eq(dregs_law_mass_flow_of(DREGS_LAW_HALOGENATED_CMR2, &flow), DREGS_OK);
    ck_assert_near(flow.from, 2.777777777777778e-5, 1e-15, "kg/s");
    ck_assert_near(flow.waste_gas, 20e-6, 1e-15, "kg/m3");
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

/* 40 CFR 63.464, table 6, as read on 2026-11-30: a row, between two rows, the last row, and where
 * the table lies below, on and above equation 1. */
START_TEST(rows_of_the_table_of_machines)
{
    static const struct {
        double volume, limit;
    } rows[] = {{0.05, 55},  {0.1, 83},   {0.149, 83}, {0.15, 106}, {0.35, 176},
                {0.99, 320}, {1.0, 330},  {1.7, 454},  {2.0, 500},  {2.9, 625},
                {2.94, 625}, {2.95, 632}, {0.02, 0}};
    double got = 7, equation;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ck_assert_int_eq(dregs_law_no_interface_row(rows[i].volume, &got), DREGS_OK);
        ck_assert_msg(got == rows[i].limit, "%g m3: %g", rows[i].volume, got);
    }
    /* every row is the equation to half a kilogram: 330 * 0.05 k ^ 0.6 */
    for (i = 1; i <= 59; i++) {
        ck_assert_int_eq(dregs_law_no_interface_row(0.05 * (double)i, &got), DREGS_OK);
        ck_assert_int_eq(dregs_law_no_interface_limit(0.05 * (double)i, &equation), DREGS_OK);
        ck_assert_msg(fabs(got - equation) < 1.01, "row %u: %g and %g", (unsigned)i, got, equation);
    }
    got = 7;
    ck_assert_int_eq(dregs_law_no_interface_row(2.96, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_no_interface_row(0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_no_interface_row(NAN, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, 7);
}
END_TEST

/* 40 CFR 63.465(e), by hand. 12 ft2 are 12 * 0.3048 * 0.3048 = 1.11483648 m2, and
 * 8760 * 1.95 * 1.11483648 = 19043.6 kg. */
START_TEST(what_a_machine_could_emit)
{
    const double year = 8760.0 * 3600.0, twelve = 1.11483648;
    double got = 7;

    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_BATCH_VAPOUR, year, twelve, &got),
                     DREGS_OK);
    ck_assert_near(got, 19043.63675136, 1e-12, "kg of 12 ft2");
    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_BATCH_COLD, year, twelve, &got),
                     DREGS_OK);
    ck_assert_near(got, 19043.63675136, 1e-12, "kg, cold");
    /* 2000 h * 1.12 * 3 = 6720; 2000 h * 0.63 * 3 = 3780 */
    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_IN_LINE_EXISTING, 7.2e6, 3, &got),
                     DREGS_OK);
    ck_assert_near(got, 6720, 1e-13, "kg, existing in-line");
    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_IN_LINE_NEW, 7.2e6, 3, &got), DREGS_OK);
    ck_assert_near(got, 3780, 1e-13, "kg, new in-line");
    /* without a surface: 1 m3 counts as 2.20 m2, and 2.20 * 150 kg/m2 is the limit of 330 kg */
    ck_assert_int_eq(dregs_law_no_interface_area(1, &got), DREGS_OK);
    ck_assert_near(got * dregs_law_machine_limit(DREGS_LAW_BATCH_VAPOUR), 330, 1e-13, "kg");
    /* 0.03125 = 2^-5, so V^0.6 is 1/8: 0.275 m2 */
    ck_assert_int_eq(dregs_law_no_interface_area(0.03125, &got), DREGS_OK);
    ck_assert_near(got, 0.275, 1e-13, "m2");
    got = 7;
    ck_assert_int_eq(dregs_law_machine_potential((dregs_law_machine)4, year, 1, &got),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_BATCH_VAPOUR, -1, 1, &got),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_machine_potential(DREGS_LAW_BATCH_VAPOUR, year, 0, &got),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_law_no_interface_area(NAN, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, 7);
    ck_assert_double_nan(dregs_law_machine_limit(DREGS_LAW_BATCH_COLD));
}
END_TEST

/* 40 CFR 63.471, table 1, limits read on 2026-11-30: 4800 kg of the one, 14100 of the other, 60000
 * of the third; of several 12.5 and 4.25 of the third's. */
START_TEST(a_facility_of_machines)
{
    static const struct {
        dregs_law_emitted emitted;
        dregs_law_facility facility;
        double counted, limit;
    } known[] = {
        {{4800, 0, 0, 0}, DREGS_LAW_FACILITY_GENERAL, 4800, 4800},
        {{0, 14110, 0, 0}, DREGS_LAW_FACILITY_GENERAL, 14110, 14100},
        {{0, 0, 250, 0}, DREGS_LAW_FACILITY_GENERAL, 250, 60000},
        {{0, 0, 0, 0}, DREGS_LAW_FACILITY_GENERAL, 0, 60000},
        /* 12500 + 8500 + 300 = 21300 */
        {{1000, 2000, 300, 0}, DREGS_LAW_FACILITY_GENERAL, 21300, 60000},
        {{1000, 0, 0, 47500.5}, DREGS_LAW_FACILITY_GENERAL, 60000.5, 60000},
        {{0, 23000, 0, 0}, DREGS_LAW_FACILITY_DEPOT, 23000, 23500},
        {{8, 4, 1, 0}, DREGS_LAW_FACILITY_DEPOT, 118, 100000},
    };
    static const dregs_law_emitted bad[] = {
        {-1, 0, 0, 0}, {0, NAN, 0, 0}, {0, 0, INFINITY, 0}, {0, 0, 0, NAN}, {0, 0, 0, -1}};
    double counted = 7, limit = 7;
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        ck_assert_int_eq(
            dregs_law_facility_year(known[i].facility, &known[i].emitted, &counted, &limit),
            DREGS_OK);
        ck_assert_msg(counted == known[i].counted && limit == known[i].limit,
                      "facility %u: %.17g of %g", (unsigned)i, counted, limit);
    }
    counted = limit = 7;
    for (i = 0; i < sizeof bad / sizeof bad[0]; i++)
        ck_assert_int_eq(
            dregs_law_facility_year(DREGS_LAW_FACILITY_GENERAL, &bad[i], &counted, &limit),
            DREGS_DOMAIN);
    ck_assert_int_eq(
        dregs_law_facility_year((dregs_law_facility)2, &known[0].emitted, &counted, &limit),
        DREGS_DOMAIN);
    ck_assert(counted == 7 && limit == 7);
    ck_assert(dregs_law_facility_weight("tetrachloroethylene") == 12.5);
    ck_assert(dregs_law_facility_weight("trichloroethylene") == 4.25);
    ck_assert(dregs_law_facility_weight("methylene chloride") == 1);
    ck_assert(dregs_law_facility_weight("chloroform") == 0);
}
END_TEST

/* A short ton is 2000 lb of 0.45359237 kg (NIST SP 811, B.8). */
START_TEST(what_makes_a_major_source)
{
    ck_assert_double_eq(DREGS_LAW_SHORT_TON, 2000 * 0.45359237);
    ck_assert_int_eq(dregs_law_major(9071.8474, DREGS_LAW_MAJOR_ONE_POLLUTANT), DREGS_LAW_YES);
    ck_assert_int_eq(dregs_law_major(9071.84, DREGS_LAW_MAJOR_ONE_POLLUTANT), DREGS_LAW_NO);
    ck_assert_int_eq(dregs_law_major(19043.6, DREGS_LAW_MAJOR_ALL_POLLUTANTS), DREGS_LAW_NO);
    ck_assert_int_eq(dregs_law_major(22679.7, DREGS_LAW_MAJOR_ALL_POLLUTANTS), DREGS_LAW_YES);
    ck_assert_int_eq(dregs_law_major(90718.5, DREGS_LAW_MAJOR_CRITERIA_POLLUTANT), DREGS_LAW_YES);
    ck_assert_int_eq(dregs_law_major(NAN, DREGS_LAW_MAJOR_ONE_POLLUTANT), DREGS_LAW_ASK);
    ck_assert_int_eq(dregs_law_major(1, 0), DREGS_LAW_ASK);
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
                 {INFINITY, NAN, NAN, DREGS_LAW_NO}, /* it does not burn */
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

/* 40 CFR 261.24, table 1: mg/L. */
START_TEST(toxic_from_a_concentration_on)
{
    static const struct {
        const char *liquid, *code;
        double mg_per_litre;
    } known[] = {{"trichloroethylene", "D040", 0.5},
                 {"tetrachloroethylene", "D039", 0.7},
                 {"butanone", "D035", 200},
                 {"chloroform", "D022", 6},
                 {"carbon tetrachloride", "D019", 0.5}};
    const char *code = "as it was";
    size_t i;

    ck_assert_double_nan(dregs_law_toxic_from("isopropanol", &code));
    ck_assert_double_nan(dregs_law_toxic_from("water", NULL));
    ck_assert_str_eq(code, "as it was");
    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        ck_assert_near(dregs_law_toxic_from(known[i].liquid, &code), known[i].mg_per_litre * 1e-3,
                       1e-15, "%s", known[i].liquid);
        ck_assert_str_eq(code, known[i].code);
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
    const TTest *const tests[] = {rules_say_where_they_are_from,
                                  both_ways_to_the_fugitive_emissions,
                                  plans_that_are_none,
                                  bands_of_surface_cleaning,
                                  what_is_volatile_in_the_union,
                                  the_six_halogenated_solvents,
                                  months_that_are_none,
                                  rows_of_the_table_of_machines,
                                  what_a_machine_could_emit,
                                  a_facility_of_machines,
                                  what_makes_a_major_source,
                                  ignitable_or_asked_for,
                                  total_emission,
                                  little_solvent_is_waived,
                                  mass_flows_of_hazardous_compounds,
                                  toxic_from_a_concentration_on,
                                  listed_or_asked_for,
                                  generators_that_are_none};
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
