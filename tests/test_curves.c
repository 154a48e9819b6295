/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* What pictures are drawn of: curves of an answer. The line is one still rinse of V = 1 L: every
 * load brings 1 g of soil, all taken off, and drags 0.1 L of it out over 1 m2 of part, so that load
 * n keeps 100 (1 - 0.9^n) ug/cm2, and load 1 keeps 10 L / V ug/cm2.
 */
#include "check_main.h"
#include "dregs/page.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

static const char text[] = "item,property,value,unit\n"
                           "part,kind,load,\npart,parts,1,\npart,area,1,m2\npart,interval,1,h\n"
                           "soil,kind,solute,\nsoil,on parts,1,g\n"
                           "pure,kind,liquid,\npure,solvent,water,\n"
                           "r,kind,rinse,\nr,volume,1,L\nr,liquid,pure,\nr,film,100,um\n"
                           "r,removal,100,%\n"
                           "limit,kind,target,\nlimit,residue,25,ug/cm2\n";

struct seen {
    unsigned count;
    double x[64], y[64];
};

static void take_load(void *user, uint64_t load, const dregs_state *state,
                      const dregs_residue *residue)
{
    struct seen *seen = user;

    (void)state;
    ck_assert_uint_lt(seen->count, 64);
    seen->x[seen->count] = (double)load;
    seen->y[seen->count++] = residue->total * 1e5;
}

static void take_pair(void *user, double x, double y)
{
    struct seen *seen = user;

    ck_assert_uint_lt(seen->count, 64);
    seen->x[seen->count] = x;
    seen->y[seen->count++] = y;
}

/* Loads 1, 4, 7, ...: at most 40 of 100, so that every third is taken; all others are passed. */
START_TEST(a_history_is_evenly_spaced)
{
    dregs_line *line = lines_read(text);
    dregs_predict_request request;
    dregs_predict_result *result;
    struct seen seen = {0};
    unsigned i;

    dregs_predict_request_init(&request);
    ck_assert_int_eq(dregs_predict_answer(line, &request, &result), DREGS_OK);
    ck_assert_int_eq(dregs_predict_history(result, 100, 1, take_load, &seen), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_predict_history(result, 100, 40, take_load, &seen), DREGS_OK);
    ck_assert_uint_eq(seen.count, 34);
    for (i = 0; i < seen.count; i++) {
        ck_assert_double_eq(seen.x[i], 1 + 3 * i);
        ck_assert_double_eq_tol(seen.y[i], 100 * (1 - pow(0.9, 1 + 3 * i)), 1e-9);
    }
    dregs_predict_result_free(result);
    lines_free(line);
}
END_TEST

/* V from 0.5 to 2 L in five values by their logarithms: 0.5, 0.707, 1, 1.414, 2. */
START_TEST(a_size_curve_is_the_line_with_each_value)
{
    dregs_line *line = lines_read(text);
    dregs_varied *varied = dregs_varied_new(line);
    dregs_criterion criterion = {DREGS_CRITERION_FIRST, 1};
    struct seen seen = {0};
    char message[DREGS_SIZE_MESSAGE];
    const char *stage = "r";
    unsigned i;

    ck_assert_int_eq(dregs_size_curve(varied, criterion, 5, take_pair, &seen), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_varied_add(varied, "volume", &stage, 1, 0.5e-3, 2e-3, message),
                     DREGS_OK);
    ck_assert_int_eq(dregs_size_curve(varied, criterion, 1, take_pair, &seen), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_size_curve(varied, criterion, 5, take_pair, &seen), DREGS_OK);
    ck_assert_uint_eq(seen.count, 5);
    for (i = 0; i < 5; i++) {
        double litres = 0.5 * pow(2, i / 2.0);
        ck_assert_double_eq_tol(seen.x[i] * 1e3, litres, 1e-9);
        ck_assert_double_eq_tol(seen.y[i], 10 / litres / 25, 1e-9);
    }
    dregs_varied_free(varied);
    lines_free(line);
}
END_TEST

/* A liquid boils where its vapour pressure is that of the air, 101.325 kPa: that is where its curve
 * ends. The two come from different rows of the table: 2 %. */
START_TEST(a_vapour_pressure_ends_at_the_boiling_point)
{
    static const char *const liquids[] = {"isopropanol", "water", "acetone"};
    dregs_liquids *table = dregs_liquids_new();
    unsigned i, k;

    for (i = 0; i < 3; i++) {
        struct seen seen = {0};
        double boils;
        ck_assert_int_eq(dregs_liquid_curve(table, liquids[i], 30, take_pair, &seen), DREGS_OK);
        ck_assert_int_eq(
            dregs_liquids_value(table, liquids[i], DREGS_BOILING_POINT, 293.15, &boils, NULL),
            DREGS_OK);
        ck_assert_double_ge(seen.x[0], 253.15);
        for (k = 1; k < seen.count; k++)
            ck_assert_double_gt(seen.y[k], seen.y[k - 1]);
        ck_assert_double_le(seen.x[seen.count - 1], boils);
        if (seen.x[seen.count - 1] == boils)
            ck_assert_double_eq_tol(seen.y[seen.count - 1], 101325, 0.02 * 101325);
    }
    ck_assert_int_eq(dregs_liquid_curve(table, "no such", 30, take_pair, &(struct seen){0}),
                     DREGS_UNKNOWN);
    dregs_liquids_free(table);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {a_history_is_evenly_spaced,
                                  a_size_curve_is_the_line_with_each_value,
                                  a_vapour_pressure_ends_at_the_boiling_point};
    Suite *s = suite_create("curves");
    TCase *c = tcase_create("of answers");
    size_t i;

    (void)gsl_set_error_handler_off();
    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    return run(suite());
}
