/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_dry_doubt.c: how sure a drying is, of a liquid whose times have a closed form: its vapour
 * pressure is so low that it neither chills itself nor lifts the air, so that film and blind hole
 * take a time in proportion to 1/p, and to what there is of liquid. 1/p of a lognormal p, and a
 * product of such, are lognormal.
 */
#include "check_main.h"
#include "dregs/answer_dry.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

#define ACCURACY 0.4 /* two standard deviations of the vapour pressure */
#define SPREAD   0.3 /* of the film of the line */
#define DRAWS    2000
#define BINNED   1e-3 /* values are counted to 0.1 % */
#define CLOSE    2e-3 /* to proportion: what little it chills, the tolerance of a draw */

/* Invented. */
#define LIQUID(accuracy)                                                                           \
    "liquid,property,equation,unit,A,low,high,source,accuracy\n"                                   \
    "brew,vapour pressure,A,Pa,2,250,350,invented," accuracy "\n"                                  \
    "brew,density,A,kg/m3,912.5,250,350,invented,exact\n"                                          \
    "brew,heat of vaporisation,A,kJ/kg,300,250,350,invented,exact\n"                               \
    "brew,heat capacity,A,kJ/(kg.K),2.1,250,350,invented,exact\n"                                  \
    "brew,diffusivity in air,A,m2/s,7e-6,250,350,invented,exact\n"                                 \
    "brew,molar mass,A,g/mol,71.3,,,invented,exact\n"                                              \
    "brew,class,A,,other,,,invented,\nbrew,miscibility with water,A,,immiscible,,,invented,\n"
#define ROWS                                                                                       \
    "item,property,value,unit,spread\nrack,kind,load\nrack,parts,1,1\nrack,area,1,m2\n"            \
    "rack,edge,0,m\nrack,hold-up,0,mL\noil,kind,solute\nown,kind,liquid\nown,solvent,brew\n"       \
    "vat,kind,rinse\nvat,volume,100,L\nvat,liquid,own\nvat,film,1,um,30%\nair,kind,dry\n"          \
    "air,temperature,20,degC\nair,humidity,0,%\nair,air speed,1,m/s\n"

static dregs_liquids *liquids;
static dregs_line *line;
static dregs_dry_result *result;
static dregs_dry_doubt *doubt;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    ck_assert_ptr_nonnull(liquids);
}

static void teardown(void)
{
    dregs_dry_doubt_free(doubt);
    dregs_dry_result_free(result);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    doubt = NULL;
    result = NULL;
    line = NULL;
}

static dregs_dry_request film_of_brew(void)
{
    dregs_dry_request request;

    dregs_dry_request_init(&request);
    request.liquid = "brew";
    request.film = 1e-6;
    request.at[0] = 293.15;
    request.at_count = 1;
    request.humidity = 0;
    request.speed = 1;
    return request;
}

static void answer(const dregs_dry_request *request, const char *rows)
{
    dregs_faults faults = {0};
    char message[DREGS_DRY_MESSAGE] = "";

    ck_assert_int_eq(dregs_liquids_add(liquids, "own", rows, strlen(rows), &faults), DREGS_OK);
    ck_assert_msg(dregs_dry_answer(request, liquids, line, &result, message) == DREGS_OK, "%s",
                  message);
}

static dregs_status sure(uint64_t draws, unsigned threads, uint64_t seed)
{
    dregs_doubt_request asked;

    dregs_dry_doubt_free(doubt);
    doubt = NULL;
    dregs_doubt_request_init(&asked);
    asked.draws = draws;
    asked.threads = threads;
    asked.seed = seed;
    return dregs_dry_doubt_ask(result, &asked, &doubt, NULL);
}

/* ln of a lognormal of mean 1 has this standard deviation, */
static double sigma(double relative)
{
    return sqrt(log1p(relative * relative));
}

/* and of 1/p the mean is + sigma^2 / 2, of a film - sigma^2 / 2. */
static void range_is(dregs_dry_doubtful what, double stated, double film, double pressure)
{
    static const double shares[] = {0.05, 0.5, 0.95};
    dregs_ensemble_range range;
    const dregs_ensemble_estimate *at[] = {&range.low, &range.middle, &range.high};
    double s = hypot(sigma(film), sigma(pressure));
    double mu = (sigma(pressure) * sigma(pressure) - sigma(film) * sigma(film)) / 2;
    int i;

    ck_assert_int_eq(dregs_dry_doubt_range(doubt, what, 0, &range), DREGS_OK);
    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double error = s * sqrt(shares[i] * (1 - shares[i]) / DRAWS) * exp(z * z / 2) *
                       sqrt(2 * acos(-1)); /* of ln(quantile) */
        ck_assert_near(at[i]->value, stated * exp(mu + s * z), 4 * error + BINNED + CLOSE,
                       "%d, share %g", (int)what, shares[i]);
        ck_assert(at[i]->low <= at[i]->value && at[i]->value <= at[i]->high);
    }
}

START_TEST(a_film_and_a_hole_are_lognormal)
{
    dregs_dry_request request = film_of_brew();
    const dregs_dry_row *row;
    dregs_ensemble_estimate in_time;

    request.recess = 1e-4;
    answer(&request, LIQUID("40 % estimated"));
    row = dregs_dry_result_row(result, 0);
    ck_assert_int_eq(sure(DRAWS, 0, 1), DREGS_OK);
    ck_assert_uint_eq(doubt->run.draws, DRAWS);
    ck_assert_uint_eq(doubt->run.failed, 0);
    ck_assert_uint_eq(doubt->run.rows, doubt->run.properties);
    range_is(DREGS_DRY_RANGE_FILM, row->drying.time, 0, ACCURACY / 2);
    range_is(DREGS_DRY_RANGE_RECESS, row->recess, 0, ACCURACY / 2);
    range_is(DREGS_DRY_RANGE_TIME, row->time, 0, ACCURACY / 2);
    /* one load alone: it has for ever */
    ck_assert_int_eq(dregs_dry_doubt_in_time(doubt, 0, &in_time), DREGS_OK);
    ck_assert_near(in_time.value, 1, 0, "in time");
    ck_assert(isnan(doubt->confidence));
}
END_TEST

static void read_line(const char *rows, const char *liquid)
{
    dregs_dry_request request;
    dregs_faults faults = {0};

    ck_assert_int_eq(dregs_liquids_add(liquids, "own", liquid, strlen(liquid), &faults), DREGS_OK);
    ck_assert_msg(dregs_line_parse("line", rows, strlen(rows), liquids, &line, &faults) == DREGS_OK,
                  "%s", faults.fault[0].text);
    dregs_dry_request_init(&request);
    answer(&request, liquid);
}

/* The film with its spread and the vapour pressure with its accuracy; an interval that the stated
 * time is 1.1 of, so that the share of the draws in time has a closed form too. */
START_TEST(a_line_is_lognormal_and_in_time_as_often)
{
    double s = hypot(sigma(SPREAD), sigma(ACCURACY / 2)), expected, z;
    double mu = (sigma(ACCURACY / 2) * sigma(ACCURACY / 2) - sigma(SPREAD) * sigma(SPREAD)) / 2;
    dregs_ensemble_estimate in_time;
    char rows[2048];
    double stated;

    read_line(ROWS "rack,interval,10,h\n", LIQUID("40 % estimated"));
    stated = dregs_dry_result_row(result, 0)->time;
    ck_assert_int_eq(sure(DRAWS, 0, 1), DREGS_OK);
    ck_assert_uint_eq(doubt->run.rows - doubt->run.properties, 1);
    range_is(DREGS_DRY_RANGE_TIME, stated, SPREAD, ACCURACY / 2);
    teardown();
    setup();
    snprintf(rows, sizeof rows,
             "%srack,interval,%.17g,s\nclean,kind,target\nclean,residue,1,g/m2\n"
             "clean,confidence,90,%%\n",
             ROWS, stated / 1.1);
    read_line(rows, LIQUID("40 % estimated"));
    ck_assert_int_eq(sure(DRAWS, 0, 1), DREGS_OK);
    ck_assert_int_eq(dregs_dry_doubt_in_time(doubt, 0, &in_time), DREGS_OK);
    z = (-log(1.1) - mu) / s;
    expected = gsl_cdf_ugaussian_P(z);
    ck_assert_near(in_time.value, expected, 4 * sqrt((1 - expected) / expected / DRAWS) + CLOSE,
                   "in time");
    /* nothing else is judged of a liquid without fire data, so that all passes as often */
    ck_assert_near(doubt->passes.value, in_time.value, 0, "passes");
    ck_assert_near(doubt->confidence, 0.9, 1e-15, "confidence");
    ck_assert_int_eq(doubt->sure, 0);
    ck_assert_int_eq(doubt->decided, 1);
}
END_TEST

START_TEST(threads_change_no_bit)
{
    static const unsigned threads[] = {1, 2, 7};
    dregs_dry_request request = film_of_brew();
    double mean[3], other;
    dregs_ensemble_figure figure;
    int i;

    request.at[1] = 303.15;
    request.at_count = 2;
    answer(&request, LIQUID("40 % estimated"));
    for (i = 0; i < 3; i++) {
        ck_assert_int_eq(sure(150, threads[i], 5), DREGS_OK);
        ck_assert_int_eq(dregs_ensemble_figure_of(doubt->run.counts, 1, &figure), DREGS_OK);
        mean[i] = figure.mean;
    }
    ck_assert(mean[0] == mean[1] && mean[0] == mean[2]);
    ck_assert_int_eq(sure(150, 1, 6), DREGS_OK);
    ck_assert_int_eq(dregs_ensemble_figure_of(doubt->run.counts, 1, &figure), DREGS_OK);
    other = figure.mean;
    ck_assert(other != mean[0]);
}
END_TEST

START_TEST(what_is_exact_is_not_in_doubt)
{
    dregs_dry_request request = film_of_brew();
    dregs_ensemble_range range;

    /* one value by which a constant would be carried on beyond its data is in doubt there alone */
    answer(&request, LIQUID("exact"));
    ck_assert_int_eq(sure(100, 0, 1), DREGS_OK);
    ck_assert_ptr_nonnull(doubt);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGE_TIME, 0, &range), DREGS_OK);
    ck_assert_near(range.high.value, range.low.value, BINNED, "no range");
    teardown();
    setup();
    answer(&request, LIQUID(""));
    ck_assert_int_eq(sure(100, 0, 1), DREGS_OK);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGE_TIME, 0, &range), DREGS_OK);
    ck_assert_near(range.high.value, range.low.value, BINNED, "no accuracy is stated");
}
END_TEST

/* A litre of air beside a square metre of isopropanol is full of its vapour, in every draw. */
START_TEST(a_film_that_never_dries)
{
    dregs_dry_request request = film_of_brew();
    dregs_ensemble_range range;
    dregs_ensemble_estimate in_time;

    request.liquid = "isopropanol";
    request.film = 20e-6;
    request.at[0] = 293.15;
    request.humidity = NAN;
    request.speed = NAN;
    request.volume = 1e-3;
    answer(&request, LIQUID("40 % estimated"));
    ck_assert_int_eq(dregs_dry_result_row(result, 0)->drying.dry, 0);
    ck_assert_int_eq(sure(20, 0, 1), DREGS_OK);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGE_TIME, 0, &range), DREGS_OK);
    ck_assert_near(range.low.value, DREGS_DRY_MOST, BINNED, "never");
    ck_assert_int_eq(dregs_dry_doubt_in_time(doubt, 0, &in_time), DREGS_OK);
    ck_assert_near(in_time.value, 0, 0, "in time");
    ck_assert_near(doubt->passes.value, 0, 0, "passes");
}
END_TEST

START_TEST(refusals)
{
    dregs_dry_request request = film_of_brew();
    dregs_doubt_request asked;
    dregs_ensemble_range range;
    dregs_ensemble_estimate at = {2.385, 0, 0};

    memset(&asked, 0, sizeof asked);
    answer(&request, LIQUID("40 % estimated"));
    ck_assert_int_eq(dregs_dry_doubt_ask(result, &asked, &doubt, NULL), DREGS_DOMAIN);
    ck_assert_int_eq(sure(0, 0, 1), DREGS_DOMAIN);
    ck_assert_ptr_null(doubt);
    ck_assert_int_eq(sure(20, 0, 1), DREGS_OK);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGES, 0, &range), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGE_TIME, 1, &range), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_doubt_range(doubt, DREGS_DRY_RANGE_BEAD, 0, &range), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_dry_doubt_quantile(doubt, DREGS_DRY_RANGE_TIME, 0, 1, &at),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_doubt_in_time(doubt, 1, &at), DREGS_DOMAIN);
    ck_assert_near(at.value, 2.385, 0, "untouched");
    dregs_dry_doubt_free(NULL);
}
END_TEST

/* A row whose spread no distribution can have is refused by name. */
START_TEST(rows_that_cannot_be_drawn)
{
    dregs_doubt_request asked;
    dregs_faults faults = {0};

    read_line(ROWS "rack,interval,10,h\nair,blow-off,50,%,60%\n", LIQUID("exact"));
    dregs_doubt_request_init(&asked);
    ck_assert_int_eq(dregs_dry_doubt_ask(result, &asked, &doubt, &faults), DREGS_OK);
    teardown();
    setup();
    read_line(ROWS "rack,interval,10,h\nair,blow-off,50,%,110%\n", LIQUID("exact"));
    ck_assert_int_eq(dregs_dry_doubt_ask(result, &asked, &doubt, &faults), DREGS_BAD_DATA);
    ck_assert_ptr_null(doubt);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_msg(strstr(faults.fault[0].text, "blow-off of 'air': a share of 50 %") != NULL, "%s",
                  faults.fault[0].text);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("dry doubt");
    TCase *all = tcase_create("doubt");

    tcase_add_checked_fixture(all, setup, teardown);
    tcase_set_timeout(all, 60);
    tcase_add_test(all, a_film_and_a_hole_are_lognormal);
    tcase_add_test(all, a_line_is_lognormal_and_in_time_as_often);
    tcase_add_test(all, threads_change_no_bit);
    tcase_add_test(all, what_is_exact_is_not_in_doubt);
    tcase_add_test(all, a_film_that_never_dries);
    tcase_add_test(all, refusals);
    tcase_add_test(all, rows_that_cannot_be_drawn);
    suite_add_tcase(suite, all);
    return run(suite);
}
