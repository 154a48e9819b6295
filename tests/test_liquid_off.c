/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_liquid_off.c: a table whose values are off: by the closed form of a lognormal factor, of a
 * liquid of our own whose numbers can be checked by hand. */
#include "check_main.h"
#include "dregs/liquid.h"

#include <math.h>
#include <string.h>

/* Invented. Vapour pressure in the data from 280 to 320 K, exact density, a range of 10 K. */
#define ROWS                                                                                       \
    "liquid,property,equation,unit,A,B,low,high,source,accuracy\n"                                 \
    "brew,vapour pressure,A,Pa,2385,,280,320,invented,6 % estimated\n"                             \
    "brew,molar mass,A,g/mol,71.3,,,,invented,exact\n"                                             \
    "brew,heat of vaporisation,A,J/kg,431000,,280,320,invented,exact\n"                            \
    "brew,density,y=A-B*t,kg/m3,912.5,0.83,290,300,invented,\n"                                    \
    "brew,boiling point,A,degC,97.1,,,,invented,2 K estimated\n"                                   \
    "brew,lower flammable limit,A,%,90,,,,invented,40 % estimated\n"

static dregs_liquids *table, *off;

static void setup(void)
{
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    ck_assert_int_eq(dregs_liquids_add(table, "own", ROWS, strlen(ROWS), NULL), DREGS_OK);
}

static void teardown(void)
{
    dregs_liquids_free(off);
    dregs_liquids_free(table);
    table = off = NULL;
}

static dregs_status move(dregs_property property, double z)
{
    dregs_liquid_offset offset = {"brew", property, z};

    dregs_liquids_free(off);
    off = NULL;
    return dregs_liquids_off(table, &offset, 1, &off);
}

static double value(const dregs_liquids *of, dregs_property property, double temperature)
{
    double got = NAN;

    ck_assert_int_eq(dregs_liquids_value(of, "brew", property, temperature, &got, NULL), DREGS_OK);
    return got;
}

static double factor(double s, double z)
{
    return exp(sqrt(log1p(s * s)) * z - log1p(s * s) / 2);
}

START_TEST(a_value_is_off_by_a_lognormal_factor)
{
    static const double zs[] = {-1.6448536, -0.31, 0, 2.385};
    size_t i;

    for (i = 0; i < sizeof zs / sizeof zs[0]; i++) {
        ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, zs[i]), DREGS_OK);
        ck_assert_near(value(off, DREGS_VAPOUR_PRESSURE, 293.15), 2385 * factor(0.03, zs[i]), 1e-14,
                       "z %g", zs[i]);
        ck_assert_near(value(off, DREGS_DENSITY, 295), value(table, DREGS_DENSITY, 295), 0,
                       "what is not off stays, z %g", zs[i]);
        ck_assert_near(value(table, DREGS_VAPOUR_PRESSURE, 293.15), 2385, 1e-15,
                       "and the table itself, z %g", zs[i]);
    }
}
END_TEST

/* The mean over z is the value as stated: 10-point Gauss-Hermite is exact to more digits than
 * asked for (weights: Abramowitz and Stegun, table 25.10). */
START_TEST(the_mean_is_the_stated_value)
{
    static const double x[] = {0.342901327223705, 1.036610829789514, 1.756683649299882,
                               2.532731674232790, 3.436159118837738};
    static const double w[] = {6.108626337353e-1, 2.401386110823e-1, 3.387439445548e-2,
                               1.343645746781e-3, 7.640432855233e-6};
    double mean = 0, second = 0;
    int i, side;

    for (i = 0; i < 5; i++)
        for (side = -1; side <= 1; side += 2) {
            double weight = w[i] / sqrt(acos(-1)), got;
            ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, side * sqrt(2) * x[i]), DREGS_OK);
            got = value(off, DREGS_VAPOUR_PRESSURE, 300) / 2385;
            mean += weight * got;
            second += weight * got * got;
        }
    ck_assert_near(mean, 1, 1e-10, "mean");
    ck_assert_near(sqrt(second - mean * mean), 0.03, 1e-6, "standard deviation");
}
END_TEST

/* 20 K below its data a vapour pressure is off by 5 % more, as dregs-liquids(5) has it. */
START_TEST(a_value_is_off_by_more_where_it_is_carried_on)
{
    double s = hypot(0.06, 0.05) / 2, accuracy;

    ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, 1.7), DREGS_OK);
    ck_assert_near(value(off, DREGS_VAPOUR_PRESSURE, 260),
                   value(table, DREGS_VAPOUR_PRESSURE, 260) * factor(s, 1.7), 1e-13, "20 K below");
    ck_assert_int_eq(
        dregs_liquids_accuracy(off, "brew", DREGS_VAPOUR_PRESSURE, 260, &accuracy, NULL), DREGS_OK);
    ck_assert_near(accuracy, 2 * s, 1e-13, "the accuracy is the same");
    /* one that is exact is in doubt only beyond its data: 2 % in 50 K */
    ck_assert_int_eq(move(DREGS_HEAT_OF_VAPORISATION, 1.7), DREGS_OK);
    ck_assert_near(value(off, DREGS_HEAT_OF_VAPORISATION, 300), 431000, 1e-15, "exact");
    ck_assert_near(value(off, DREGS_HEAT_OF_VAPORISATION, 270),
                   value(table, DREGS_HEAT_OF_VAPORISATION, 270) * factor(0.002, 1.7), 1e-13,
                   "10 K below");
}
END_TEST

START_TEST(what_has_no_accuracy_is_not_off)
{
    dregs_liquid_offset nobody = {"brow", DREGS_DENSITY, 1};
    double got = 2.385;

    ck_assert_int_eq(move(DREGS_DENSITY, 1), DREGS_UNKNOWN);
    ck_assert_int_eq(move(DREGS_VISCOSITY, 1), DREGS_UNKNOWN);
    ck_assert_int_eq(move(DREGS_BOILING_POINT, 1), DREGS_DOMAIN);
    ck_assert_int_eq(move(DREGS_PROPERTIES, 1), DREGS_UNKNOWN);
    ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, NAN), DREGS_DOMAIN);
    ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, INFINITY), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_liquids_off(table, &nobody, 1, &off), DREGS_UNKNOWN);
    ck_assert_ptr_null(off);
    /* a limit of more than all the air is none */
    ck_assert_int_eq(move(DREGS_LOWER_LIMIT, 3), DREGS_OK);
    ck_assert_int_eq(dregs_liquids_value(off, "brew", DREGS_LOWER_LIMIT, 293, &got, NULL),
                     DREGS_NUMERIC);
    ck_assert_near(got, 2.385, 0, "untouched");
}
END_TEST

/* Words, regulations and names are those of the table. */
START_TEST(the_rest_is_shared)
{
    const char *name;

    ck_assert_int_eq(move(DREGS_VAPOUR_PRESSURE, 1), DREGS_OK);
    name = dregs_liquids_find(off, "IPA");
    ck_assert_ptr_eq(name, dregs_liquids_find(table, "isopropanol"));
    ck_assert_ptr_eq(dregs_liquids_regulations(off), dregs_liquids_regulations(table));
    ck_assert_str_eq(dregs_liquids_row(off, "brew", DREGS_VAPOUR_PRESSURE)->source, "invented");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("liquid off");
    TCase *all = tcase_create("off");

    tcase_add_checked_fixture(all, setup, teardown);
    tcase_add_test(all, a_value_is_off_by_a_lognormal_factor);
    tcase_add_test(all, the_mean_is_the_stated_value);
    tcase_add_test(all, a_value_is_off_by_more_where_it_is_carried_on);
    tcase_add_test(all, what_has_no_accuracy_is_not_off);
    tcase_add_test(all, the_rest_is_shared);
    suite_add_tcase(suite, all);
    return run(suite);
}
