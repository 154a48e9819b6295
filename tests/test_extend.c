/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_extend.c: properties beyond the temperatures of their rows, how well they are known, and the
 * names that a liquid is found by.
 *
 * The laws are held against the rows themselves: a row is cut short and carried on over what was
 * cut off, where the whole row tells the value that was measured there.
 */
#include "check_main.h"
#include "dregs/liquid.h"
#include "dregs/number.h"

#include <stdio.h>
#include <string.h>

static dregs_liquids *table;

static void setup(void)
{
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
}

static void teardown(void)
{
    dregs_liquids_free(table);
}

static void add_to(dregs_liquids *to, const char *text)
{
    static dregs_faults faults;

    memset(&faults, 0, sizeof faults);
    ck_assert_msg(!dregs_liquids_add(to, "own.csv", text, strlen(text), &faults), "%s",
                  faults.count ? faults.fault[0].text : "");
}

static double value_in(const dregs_liquids *in, const char *liquid, dregs_property property,
                       double temperature)
{
    double got = NAN;
    char message[DREGS_LIQUID_MESSAGE] = "";

    ck_assert_msg(!dregs_liquids_value(in, liquid, property, temperature, &got, message), "%s",
                  message);
    return got;
}

static double accuracy_in(const dregs_liquids *in, const char *liquid, dregs_property property,
                          double temperature)
{
    double got = NAN;
    char message[DREGS_LIQUID_MESSAGE] = "";

    ck_assert_msg(!dregs_liquids_accuracy(in, liquid, property, temperature, &got, message), "%s",
                  message);
    return got;
}

/* The row of a liquid once more, over another range, known to a millionth. */
static void add_cut(dregs_liquids *to, const dregs_liquid_row *row, double low, double high)
{
    char text[2000], number[DREGS_NUMBER_TEXT];
    size_t used;
    int i;

    used =
        (size_t)snprintf(text, sizeof text,
                         "liquid,property,equation,unit,A,B,C,D,E,F,G,low,high,source,accuracy\n"
                         "\"%s\",%s,%s,%s",
                         row->liquid, dregs_property_name(row->property), row->equation, row->unit);
    for (i = 0; i < DREGS_COEFFICIENTS; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ",%s",
                                 row->coefficient[i] != 0
                                     ? dregs_number_exact(number, row->coefficient[i])
                                 : strchr(dregs_equation_letters(row->equation), 'A' + i) ? "0"
                                                                                          : "");
    used +=
        (size_t)snprintf(text + used, sizeof text - used, ",%s", dregs_number_exact(number, low));
    snprintf(text + used, sizeof text - used, ",%s,cut,0.0001 %% estimated\n",
             dregs_number_exact(number, high));
    add_to(to, text);
}

/* How far the cut row is off over what was cut away, in units of the error that it states. */
static double worst(const dregs_liquids *cut, const dregs_liquid_row *row, double from, double to)
{
    double most = 0;
    int i;

    for (i = 1; i <= 12; i++) {
        double t = from + (to - from) * i / 12;
        double true_value = value_in(table, row->liquid, row->property, t);
        double off = value_in(cut, row->liquid, row->property, t) / true_value - 1;
        most = fmax(most, fabs(off) / accuracy_in(cut, row->liquid, row->property, t));
        ck_assert(dregs_liquids_extended(cut, row->liquid, row->property, t, NULL));
    }
    return most;
}

static const dregs_property carried[] = {
    DREGS_VAPOUR_PRESSURE,      DREGS_DENSITY,       DREGS_VISCOSITY,   DREGS_SURFACE_TENSION,
    DREGS_HEAT_OF_VAPORISATION, DREGS_HEAT_CAPACITY, DREGS_DIFFUSIVITY, DREGS_THERMAL_CONDUCTIVITY};

/* Cut at 303.15 K; down to 50 K below and up to 50 K above, as far as the whole row reaches. Water
 * is left out below: its heat capacity, viscosity and vapour pressure bend near freezing as those
 * of no other liquid, which is what its own rows are for. */
START_TEST(cut_rows_come_back_within_their_error)
{
    const char *name;
    unsigned compared = 0;
    size_t i, p;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++)
        for (p = 0; p < sizeof carried / sizeof carried[0]; p++) {
            const dregs_liquid_row *row = dregs_liquids_row(table, name, carried[p]);
            dregs_liquids *cut = dregs_liquids_new();
            double low = 0, high = 0, most;
            const double at = 303.15;
            if (!row || strcmp(row->equation, "A") == 0 || !(row->low < at - 15) ||
                !(row->high > at + 15) || strcmp(name, "water") == 0) {
                dregs_liquids_free(cut);
                continue;
            }
            add_cut(cut, row, at, row->high);
            ck_assert_int_eq(dregs_liquids_reach(cut, name, carried[p], &low, &high), DREGS_OK);
            most = worst(cut, row, at, fmax(fmax(at - 50, row->low), low));
            ck_assert_msg(most <= 1, "%s of %s below: %.3g times", dregs_property_name(carried[p]),
                          name, most);
            if (carried[p] != DREGS_VAPOUR_PRESSURE) {
                add_cut(cut, row, row->low, at);
                dregs_liquids_reach(cut, name, carried[p], &low, &high);
                most = worst(cut, row, at, fmin(fmin(at + 50, row->high), high));
                ck_assert_msg(most <= 1, "%s of %s above: %.3g times",
                              dregs_property_name(carried[p]), name, most);
            }
            dregs_liquids_free(cut);
            compared++;
        }
    ck_assert_uint_ge(compared, 100);
}
END_TEST

/* By hand: 1000 W/(m.K) and the like are no physics, but the laws are. */
START_TEST(laws_by_hand)
{
    const double gas = 8.31446261815324;

    add_to(table, "liquid,property,equation,unit,A,B,low,high,source\n"
                  "own,heat capacity,A,J/(kg.K),2000,,300,310,x\n"
                  "own,density,y=A-B*T,kg/m3,1100,1,300,310,x\n"
                  "own,surface tension,A,mN/m,20,,300,310,x\n"
                  "own,boiling point,A,K,400,,,,x\n"
                  "own,freezing point,A,K,280,,,,x\n"
                  "own,molar mass,A,g/mol,100,,,,x\n"
                  "own,heat of vaporisation,A,kJ/kg,400,,300,310,x\n"
                  "own,vapour pressure,A,Pa,1000,,300,310,x\n"
                  "own,viscosity,log10(y)=A-B/(T+C),Pa.s,-4,-300,300,310,x\n");
    /* 0.15 % per K of one value */
    ck_assert_near(value_in(table, "own", DREGS_HEAT_CAPACITY, 290), 2000 * (1 - 0.015), 1e-12,
                   "by hand");
    ck_assert_near(value_in(table, "own", DREGS_DENSITY, 284.3), 1100 - 284.3, 1e-12, "by hand");
    /* nothing at 1.5 times the boiling point, 600 K */
    ck_assert_near(value_in(table, "own", DREGS_SURFACE_TENSION, 340), 0.020 * (1 - 30. / 290),
                   1e-12, "by hand");
    ck_assert_near(value_in(table, "own", DREGS_VAPOUR_PRESSURE, 285),
                   1000 * exp(40000 * (1 + 0.0015 * 7.5) / gas * (1. / 300 - 1. / 285)), 1e-12,
                   "the heat of vaporisation half way, 0.15 %% per K above that of 300 K");
    /* log10 of it is a straight line over 1/T anyhow */
    ck_assert_near(value_in(table, "own", DREGS_VISCOSITY, 350), pow(10, -4 + 300. / 350), 1e-9,
                   "by hand");
    ck_assert_near(value_in(table, "own", DREGS_HEAT_OF_VAPORISATION, 290), 400e3 * 1.015, 1e-12,
                   "by hand");
}
END_TEST

START_TEST(it_ends_where_no_liquid_is)
{
    char message[DREGS_LIQUID_MESSAGE];
    double got = 7, low = 0, high = 0;

    /* cyclohexane freezes at 6.59 degC, its viscosity begins at 6.54 */
    ck_assert_int_eq(
        dregs_liquids_value(table, "cyclohexane", DREGS_VAPOUR_PRESSURE, 278.15, &got, message),
        DREGS_OUT_OF_RANGE);
    ck_assert_str_eq(message,
                     "vapour pressure of 'cyclohexane' at 5 degC: its data reach from 8.96 "
                     "to 105.31 degC, carried on to 6.59 and 105.31 degC");
    ck_assert_double_eq(got, 7);
    /* isopropanol boils at 82.21 degC, below the end of its density */
    ck_assert_int_eq(
        dregs_liquids_value(table, "isopropanol", DREGS_DENSITY, 573.15, &got, message),
        DREGS_OUT_OF_RANGE);
    ck_assert_ptr_nonnull(strstr(message, "its data reach from -87.89 to 235.15 degC only"));
    /* 60 K and no more */
    ck_assert_int_eq(
        dregs_liquids_reach(table, "n-butyl acetate", DREGS_HEAT_CAPACITY, &low, &high), DREGS_OK);
    ck_assert_near(low, 298.15 - 60, 1e-12, "by hand");
    ck_assert_int_eq(
        dregs_liquids_value(table, "n-butyl acetate", DREGS_HEAT_CAPACITY, low - 0.01, &got, NULL),
        DREGS_OUT_OF_RANGE);
    ck_assert_int_eq(dregs_liquids_reach(table, "water", DREGS_MOLAR_MASS, &low, &high),
                     DREGS_UNKNOWN);
    /* vapour pressure goes on downward only */
    ck_assert_int_eq(
        dregs_liquids_value(table, "isopropanol", DREGS_VAPOUR_PRESSURE, 374, &got, NULL),
        DREGS_OUT_OF_RANGE);
    /* one value has no slope */
    add_to(table,
           "liquid,property,equation,unit,A,low,high,source\nown,viscosity,A,mPa.s,1,290,300,x\n");
    ck_assert_int_eq(dregs_liquids_value(table, "own", DREGS_VISCOSITY, 301, &got, message),
                     DREGS_OUT_OF_RANGE);
    ck_assert_double_eq(got, 7);
}
END_TEST

START_TEST(it_is_said)
{
    char sentence[DREGS_LIQUID_MESSAGE] = "nothing";

    ck_assert(
        !dregs_liquids_extended(table, "n-butyl acetate", DREGS_HEAT_CAPACITY, 300, sentence));
    ck_assert(
        !dregs_liquids_extended(table, "n-butyl acetate", DREGS_HEAT_CAPACITY, 200, sentence));
    ck_assert(!dregs_liquids_extended(table, "nothing", DREGS_HEAT_CAPACITY, 290, sentence));
    ck_assert(!dregs_liquids_extended(table, "water", DREGS_CLASS, 290, sentence));
    ck_assert_str_eq(sentence, "nothing");
    ck_assert(
        dregs_liquids_extended(table, "butyl acetate", DREGS_HEAT_CAPACITY, 288.15, sentence));
    ck_assert_str_eq(sentence, "heat capacity of butyl acetate at 15 degC, 10 K below its data: "
                               "straight on, within 1 %");
    /* 2 % of the row and 1 % of the way */
    ck_assert_near(accuracy_in(table, "n-butyl acetate", DREGS_HEAT_CAPACITY, 288.15),
                   hypot(0.02, 0.01), 1e-12, "by hand");
}
END_TEST

/* At 15 degC and where its film cools to, every liquid has what drag-out and drying need. */
START_TEST(a_cold_room_refuses_nothing)
{
    static const dregs_property wanted[] = {
        DREGS_VAPOUR_PRESSURE,      DREGS_DENSITY,       DREGS_VISCOSITY,   DREGS_SURFACE_TENSION,
        DREGS_HEAT_OF_VAPORISATION, DREGS_HEAT_CAPACITY, DREGS_DIFFUSIVITY, DREGS_FREEZING_POINT};
    static const double at[] = {278.15, 283.15, 288.15, 303.15, 313.15};
    const char *name;
    size_t i, k, p;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++)
        for (k = 0; k < sizeof at / sizeof at[0]; k++)
            for (p = 0; p < sizeof wanted / sizeof wanted[0]; p++)
                if (at[k] >= value_in(table, name, DREGS_FREEZING_POINT, NAN))
                    (void)accuracy_in(table, name, wanted[p], at[k]);
    ck_assert_uint_eq(i, 18);
}
END_TEST

START_TEST(every_number_states_its_accuracy)
{
    const char *name;
    size_t i;
    int p;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++)
        for (p = 0; p < DREGS_PROPERTIES; p++) {
            const dregs_liquid_row *row = dregs_liquids_row(table, name, (dregs_property)p);
            if (!row || row->word)
                continue;
            ck_assert_msg(row->accuracy >= 0 && row->accuracy_from, "%s of %s",
                          dregs_property_name((dregs_property)p), name);
            /* only what a law or an authority sets is exact */
            ck_assert_int_eq(row->accuracy == 0, p == DREGS_EXPOSURE_LIMIT);
            ck_assert_double_le(
                row->accuracy, strcmp(dregs_property_unit((dregs_property)p), "K") == 0 ? 80 : 0.4);
        }
}
END_TEST

/* ---- names ---- */

START_TEST(names_that_people_use)
{
    static const char *const called[][2] = {{"IPA", "isopropanol"},
                                            {"ipa", "isopropanol"},
                                            {"2-propanol", "isopropanol"},
                                            {"Propan-2-ol", "isopropanol"},
                                            {"isopropyl alcohol", "isopropanol"},
                                            {"67-63-0", "isopropanol"},
                                            {"MEK", "butanone"},
                                            {"DCM", "dichloromethane"},
                                            {"TCE", "trichloroethylene"},
                                            {"PCE", "tetrachloroethylene"},
                                            {"Water", "water"},
                                            {"127-18-4", "tetrachloroethylene"},
                                            {"N-BUTYL ACETATE", "n-butyl acetate"}};
    static const char *const unknown[] = {"",         "IP", "IPAA", "67-63-1",
                                          "propanol", "; ", "IPA;", "2-propanol; propan-2-ol"};
    size_t i;

    for (i = 0; i < sizeof called / sizeof called[0]; i++) {
        ck_assert_msg(dregs_liquids_has(table, called[i][0]), "%s", called[i][0]);
        ck_assert_str_eq(dregs_liquids_find(table, called[i][0]), called[i][1]);
        ck_assert_ptr_eq(dregs_liquids_row(table, called[i][0], DREGS_DENSITY),
                         dregs_liquids_row(table, called[i][1], DREGS_DENSITY));
    }
    for (i = 0; i < sizeof unknown / sizeof unknown[0]; i++)
        ck_assert_msg(!dregs_liquids_find(table, unknown[i]), "%s", unknown[i]);
}
END_TEST

/* What is not a slip of a name offers nothing: three letters are one slip from three others. */
START_TEST(no_unrelated_liquid_is_offered)
{
    static const char *const far[] = {"IPX", "IBA", "TCA", "PCB", "67-63-1", "soap", "wat", "x"};
    size_t i;

    for (i = 0; i < sizeof far / sizeof far[0]; i++)
        ck_assert_msg(!dregs_liquids_nearest(table, far[i]), "%s: %s", far[i],
                      dregs_liquids_nearest(table, far[i]));
    ck_assert_str_eq(dregs_liquids_nearest(table, "isopropyl alcohl"), "isopropanol");
    ck_assert_str_eq(dregs_liquids_nearest(table, "methylene chlorid"), "dichloromethane");
    ck_assert_str_eq(dregs_liquids_nearest(table, "Watr"), "water");
}
END_TEST

/* The last digit of a CAS number is the sum of the others, each times its place from the right,
 * modulo 10: so none is mistyped. No name means two liquids. */
START_TEST(cas_numbers_and_names_are_sound)
{
    const char *name, *other;
    size_t i, k;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++) {
        const dregs_liquid_row *row = dregs_liquids_row(table, name, DREGS_CAS_NUMBER);
        const char *last = row->word + strlen(row->word) - 1, *at;
        int sum = 0, place = 0;
        for (at = last - 1; at >= row->word; at--)
            if (*at != '-')
                sum += ++place * (*at - '0');
        ck_assert_msg(sum % 10 == *last - '0', "%s: %s", name, row->word);
        for (k = 0; (other = dregs_liquids_name(table, k)) != NULL; k++) {
            char names[400], *word;
            snprintf(names, sizeof names, "%s",
                     dregs_liquids_row(table, other, DREGS_OTHER_NAMES)->word);
            for (word = strtok(names, ";"); word; word = strtok(NULL, ";"))
                ck_assert_str_eq(dregs_liquids_find(table, word + (*word == ' ')), other);
        }
    }
}
END_TEST

/* A user's row under another name is of the same liquid; a user's liquid has names of its own. */
START_TEST(a_users_names)
{
    add_to(table, "liquid,property,equation,unit,A,source\nIPA,flash point,A,degC,13,sheet\n"
                  "mine,CAS number,A,,0000-00-0,sheet\nmine,other names,A,,shop fluid; SF,sheet\n");
    ck_assert_near(value_in(table, "isopropanol", DREGS_FLASH_POINT, NAN), 286.15, 1e-12,
                   "by hand");
    ck_assert_str_eq(dregs_liquids_find(table, "sf"), "mine");
    ck_assert_str_eq(dregs_liquids_find(table, "Shop Fluid"), "mine");
    ck_assert_str_eq(dregs_liquids_find(table, "IPA"), "isopropanol");
}
END_TEST

/* Two names of one liquid, one property: which counts is not guessed. */
START_TEST(one_liquid_under_two_names)
{
    static dregs_faults faults;
    const char *text = "liquid,property,equation,unit,A,source\nIPA,flash point,A,degC,13,sheet\n"
                       "isopropanol,flash point,A,degC,14,sheet\n";

    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_liquids_add(table, "own.csv", text, strlen(text), &faults),
                     DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_uint_eq(faults.fault[0].line, 3);
    ck_assert_ptr_nonnull(strstr(faults.fault[0].text, "stands already in line 2, as of 'IPA'"));
    ck_assert_near(value_in(table, "isopropanol", DREGS_FLASH_POINT, NAN), (53 + 459.67) / 1.8,
                   1e-12, "unchanged");
}
END_TEST

START_TEST(bad_accuracies_and_names_are_refused)
{
    static const char *const bad[] = {"own,density,A,kg/m3,900,x,1 %",
                                      "own,density,A,kg/m3,900,x,1 K published",
                                      "own,density,A,kg/m3,900,x,-1 % published",
                                      "own,density,A,kg/m3,900,x,published",
                                      "own,density,A,kg/m3,900,x,1% published",
                                      "own,flash point,A,degC,9,x,1 % estimated",
                                      "own,density,A,kg/m3,900,x,nan % estimated",
                                      "own,other names,A,,,x,"};
    char text[200];
    size_t i;

    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        static dregs_faults faults;
        memset(&faults, 0, sizeof faults);
        snprintf(text, sizeof text, "liquid,property,equation,unit,A,source,accuracy\n%s\n",
                 bad[i]);
        ck_assert_msg(dregs_liquids_add(table, "own.csv", text, strlen(text), &faults) ==
                          DREGS_BAD_DATA,
                      "%s", bad[i]);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_uint_eq(faults.fault[0].line, 2);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {cut_rows_come_back_within_their_error,
                                  laws_by_hand,
                                  it_ends_where_no_liquid_is,
                                  it_is_said,
                                  a_cold_room_refuses_nothing,
                                  every_number_states_its_accuracy,
                                  names_that_people_use,
                                  no_unrelated_liquid_is_offered,
                                  cas_numbers_and_names_are_sound,
                                  a_users_names,
                                  one_liquid_under_two_names,
                                  bad_accuracies_and_names_are_refused};
    Suite *suite = suite_create("extend");
    TCase *cases = tcase_create("liquids");
    size_t i;

    tcase_add_checked_fixture(cases, setup, teardown);
    suite_add_tcase(suite, cases);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(cases, tests[i]);
    return run(suite);
}
