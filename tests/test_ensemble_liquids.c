/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_ensemble_liquids.c: draws of the properties of liquids by their accuracy: of a property of
 * our own the value in a draw is lognormal, whose quantiles have a closed form. */
#include "check_main.h"
#include "dregs/ensemble.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* Invented. */
#define LIQUIDS                                                                                    \
    "liquid,property,equation,unit,A,low,high,source,accuracy\n"                                   \
    "brew,vapour pressure,A,Pa,2385,280,320,invented,30 % estimated\n"                             \
    "brew,density,A,kg/m3,912.5,280,320,invented,8 % estimated\n"                                  \
    "brew,viscosity,A,mPa.s,1.31,280,320,invented,\n"                                              \
    "brew,molar mass,A,g/mol,71.3,,,invented,exact\n"                                              \
    "brew,boiling point,A,degC,97.1,,,invented,2 K estimated\n"                                    \
    "brew,class,A,,other,,,invented,\n"
#define LINE                                                                                       \
    "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"         \
    "tray,interval,500,s\noil,kind,solute\nw,kind,liquid\nw,solvent,brew\nr,kind,rinse\n"          \
    "r,volume,20,L\nr,liquid,w\nr,film,20,um,10%\n"

enum { DRAWS = 20000 };

static dregs_liquids *liquids;
static dregs_line *line;
static dregs_ensemble *ensemble;

/* The last stands there under another name, and twice: it is drawn once. */
static const dregs_liquid_property taken[] = {
    {"brew", DREGS_VAPOUR_PRESSURE}, {"brew", DREGS_DENSITY},   {"brew", DREGS_VISCOSITY},
    {"brew", DREGS_MOLAR_MASS},      {"brew", DREGS_CLASS},     {"brew", DREGS_BOILING_POINT},
    {"brew", DREGS_FLASH_POINT},     {"nobody", DREGS_DENSITY}, {"isopropanol", DREGS_DENSITY},
    {"IPA", DREGS_DENSITY},          {"IPA", DREGS_PROPERTIES},
};

static void setup(void)
{
    dregs_faults faults = {0};

    liquids = dregs_liquids_new();
    ck_assert_ptr_nonnull(liquids);
    ck_assert_int_eq(dregs_liquids_add(liquids, "own", LIQUIDS, strlen(LIQUIDS), NULL), DREGS_OK);
    ck_assert_int_eq(dregs_line_parse("line", LINE, strlen(LINE), liquids, &line, &faults),
                     DREGS_OK);
}

static void teardown(void)
{
    dregs_ensemble_free(ensemble);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    ensemble = NULL;
    line = NULL;
}

static void make(const dregs_line *of, uint64_t seed)
{
    dregs_ensemble_free(ensemble);
    ck_assert_int_eq(dregs_ensemble_new_with(of, DREGS_ASKED_ALL, liquids, taken,
                                             sizeof taken / sizeof taken[0], seed, &ensemble, NULL),
                     DREGS_OK);
}

START_TEST(what_states_an_accuracy_is_drawn)
{
    static const dregs_liquid_property expected[] = {
        {"brew", DREGS_VAPOUR_PRESSURE}, {"brew", DREGS_DENSITY}, {"isopropanol", DREGS_DENSITY}};
    unsigned i;

    make(NULL, 1);
    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 3);
    for (i = 0; i < 3; i++) {
        const dregs_drawn *row = dregs_ensemble_row(ensemble, i);
        ck_assert_str_eq(row->liquid, expected[i].liquid);
        ck_assert_int_eq((int)row->property, (int)expected[i].property);
        ck_assert_uint_eq(row->row, 0);
        ck_assert_near(row->mean, 1, 0, "mean");
    }
    ck_assert_near(dregs_ensemble_row(ensemble, 0)->sd, 0.15, 1e-15, "half of its accuracy");
    make(line, 1);
    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 4);
    ck_assert_ptr_null(dregs_ensemble_row(ensemble, 0)->liquid); /* the film comes first */
    ck_assert_ptr_nonnull(dregs_ensemble_row(ensemble, 1)->liquid);
}
END_TEST

static dregs_status ask(void *context, const dregs_line *drawn, const dregs_liquids *off,
                        double *figures)
{
    dregs_value film = {.si = NAN};

    ck_assert((drawn != NULL) == (context != NULL));
    if (drawn) {
        ck_assert_ptr_eq(dregs_line_liquids(drawn), off);
        ck_assert_int_eq(dregs_line_get(drawn, "r", "film", &film), DREGS_OK);
    }
    ck_assert_int_eq(
        dregs_liquids_value(off, "brew", DREGS_VAPOUR_PRESSURE, 293.15, &figures[0], NULL),
        DREGS_OK);
    ck_assert_int_eq(dregs_liquids_value(off, "brew", DREGS_DENSITY, 293.15, &figures[1], NULL),
                     DREGS_OK);
    figures[2] = figures[0] * figures[1];
    figures[3] = film.si;
    return DREGS_OK;
}

static dregs_ensemble_result *run_draws(uint64_t draws, unsigned threads)
{
    dregs_ensemble_request request;
    dregs_ensemble_result *result = NULL;

    dregs_ensemble_request_init(&request);
    request.draws = draws;
    request.threads = threads;
    request.figures = 4;
    request.ask_with = ask;
    request.context = (void *)dregs_ensemble_line(ensemble);
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    return result;
}

/* Quantiles of a lognormal of that mean and of the sum of these two relative standard deviations'
 * logarithms, within four errors of a quantile of so many draws and the width of a bin. */
static void is_lognormal(const dregs_ensemble_result *result, unsigned figure, double mean,
                         double one, double other)
{
    static const double shares[] = {0.05, 0.5, 0.95};
    double sigma = sqrt(log1p(one * one) + log1p(other * other));
    int i;

    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double expected = mean * exp(sigma * z - sigma * sigma / 2);
        double error =
            sigma * sqrt(shares[i] * (1 - shares[i]) / DRAWS) * exp(z * z / 2) * sqrt(2 * acos(-1));
        dregs_ensemble_estimate got;
        ck_assert_int_eq(dregs_ensemble_quantile(result, figure, shares[i], &got), DREGS_OK);
        ck_assert_near(got.value, expected, 4 * error + 1e-3, "figure %u, share %g", figure,
                       shares[i]);
    }
}

START_TEST(a_property_is_lognormal_and_two_are_independent)
{
    dregs_ensemble_result *result;

    make(NULL, 1);
    result = run_draws(DRAWS, 0);
    ck_assert_uint_eq(dregs_ensemble_failed(result), 0);
    is_lognormal(result, 0, 2385, 0.15, 0);
    is_lognormal(result, 1, 912.5, 0.04, 0);
    is_lognormal(result, 2, 2385 * 912.5, 0.15, 0.04);
    dregs_ensemble_result_free(result);
    make(line, 1);
    result = run_draws(DRAWS, 0);
    is_lognormal(result, 0, 2385, 0.15, 0);
    is_lognormal(result, 3, 20e-6, 0.1, 0);
    dregs_ensemble_result_free(result);
}
END_TEST

START_TEST(threads_and_lines_change_no_bit)
{
    static const unsigned threads[] = {1, 2, 7};
    double means[3] = {0};
    int i;

    for (i = 0; i < 3; i++) {
        dregs_ensemble_figure figure;
        dregs_ensemble_result *result;
        make(i == 2 ? line : NULL, 9);
        result = run_draws(500, threads[i]);
        ck_assert_int_eq(dregs_ensemble_figure_of(result, 2, &figure), DREGS_OK);
        means[i] = figure.mean;
        dregs_ensemble_result_free(result);
    }
    ck_assert(means[0] == means[1] && means[0] == means[2]);
    make(NULL, 10);
    ck_assert(dregs_ensemble_z(ensemble, 3, 0) != dregs_ensemble_z(ensemble, 3, 1));
}
END_TEST

static dregs_status ask_of_line(void *context, const dregs_line *drawn, double *figures)
{
    (void)context;
    figures[0] = dregs_line_rows(drawn);
    return DREGS_OK;
}

START_TEST(what_needs_a_line_is_refused_without_one)
{
    dregs_ensemble_request request;
    dregs_ensemble_result *result = NULL;
    dregs_line *drawn = NULL;

    make(NULL, 1);
    dregs_ensemble_request_init(&request);
    request.draws = 10;
    request.figures = 1;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    request.ask = ask_of_line;
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_DOMAIN);
    ck_assert_ptr_null(result);
    ck_assert_int_eq(dregs_ensemble_drawn(ensemble, 1, &drawn, NULL), DREGS_DOMAIN);
    ck_assert_ptr_null(drawn);
    make(line, 1);
    ck_assert_int_eq(dregs_ensemble_run(ensemble, &request, &result), DREGS_OK);
    dregs_ensemble_result_free(result);
    ck_assert_int_eq(dregs_ensemble_drawn(ensemble, 1, &drawn, NULL), DREGS_OK);
    ck_assert_ptr_ne(dregs_line_liquids(drawn), liquids);
    dregs_line_free(drawn);
}
END_TEST

/* Parts that were drawn with another accuracy do not belong together. */
START_TEST(the_digest_tells_accuracies_apart)
{
    static const char other[] = "liquid,property,equation,unit,A,low,high,source,accuracy\n"
                                "brew,density,A,kg/m3,912.5,280,320,invented,9 % estimated\n";
    dregs_ensemble_result *result;
    uint64_t before;

    make(NULL, 1);
    result = run_draws(10, 1);
    before = dregs_ensemble_digest(ensemble, result, 10);
    make(NULL, 1);
    ck_assert(dregs_ensemble_digest(ensemble, result, 10) == before);
    ck_assert_int_eq(dregs_liquids_add(liquids, "own", other, strlen(other), NULL), DREGS_OK);
    make(NULL, 1);
    ck_assert(dregs_ensemble_digest(ensemble, result, 10) != before);
    dregs_ensemble_result_free(result);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("ensemble of liquids");
    TCase *all = tcase_create("liquids");

    tcase_add_checked_fixture(all, setup, teardown);
    tcase_add_test(all, what_states_an_accuracy_is_drawn);
    tcase_add_test(all, a_property_is_lognormal_and_two_are_independent);
    tcase_add_test(all, threads_and_lines_change_no_bit);
    tcase_add_test(all, what_needs_a_line_is_refused_without_one);
    tcase_add_test(all, the_digest_tells_accuracies_apart);
    suite_add_tcase(suite, all);
    return run(suite);
}
