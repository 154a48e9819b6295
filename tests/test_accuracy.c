/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_accuracy.c: what the accuracy of a liquid's properties does to the answers about a line. One
 * tank of nothing but fresh liquid: the residue is what the liquid brings along, c, times the film
 * h. Kushner's film goes as (viscosity / density)^(1/2), that of a plate in the limit of slow
 * withdrawal as viscosity^(2/3) / (surface tension^(1/6) density^(1/2)) (Landau and Levich 1942): a
 * product of lognormals is one, with a mean and a variance of its logarithm in closed form.
 */
#include "check_main.h"
#include "dregs/answer_hangs.h"
#include "dregs/answer_predict.h"
#include "dregs/answer_size.h"
#include "dregs/answer_tally.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <string.h>

/* Invented; the accuracies are two standard deviations. */
#define VISCOSITY "brew,viscosity,A,mPa.s,1.31,280,320,invented,60 % estimated\n"
#define LIQUIDS_BUT(viscosity)                                                                     \
    "liquid,property,equation,unit,A,low,high,source,accuracy\n" viscosity                         \
    "brew,density,A,kg/m3,912.5,280,320,invented,16 % estimated\n"                                 \
    "brew,surface tension,A,mN/m,23.7,280,320,invented,90 % estimated\n"                           \
    "brew,molar mass,A,g/mol,71.3,,,invented,exact\n"                                              \
    "brew,class,A,,other,,,invented,\n"
#define LIQUIDS LIQUIDS_BUT(VISCOSITY)
#define LINE(solids_spread)                                                                        \
    "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"         \
    "tray,height,5,cm\ntray,interval,500,s\nsolids,kind,solute\nw,kind,liquid\nw,solvent,brew\n"   \
    "w,solids,5,mg/L," solids_spread "\nr,kind,rinse\nr,volume,20,L\nr,liquid,w\n"
#define KUSHNER "r,withdrawal speed,2,cm/s\nr,film law,kushner\n"
#define SLOW    "r,withdrawal speed,1e-3,mm/s\n" /* capillary number 6e-8 */

static const double spread = 0.2, of_viscosity = 0.3, of_density = 0.08, of_tension = 0.45;

static dregs_line *line;
static dregs_predict_result *result;
static dregs_predict_doubt *doubt;

static void teardown(void)
{
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
    if (line)
        lines_free(line);
    doubt = NULL;
    result = NULL;
    line = NULL;
}

static void ask(const char *text, const char *liquids, unsigned threads)
{
    dregs_predict_request request;
    dregs_doubt_request asked;

    teardown();
    line = lines_read_with(text, liquids);
    dregs_predict_request_init(&request);
    ck_assert_int_eq(dregs_predict_answer(line, &request, &result), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = 4000;
    asked.threads = threads;
    ck_assert_int_eq(dregs_predict_doubt_ask(result, &asked, &doubt, NULL), DREGS_OK);
}

static double variance(double relative)
{
    return log1p(relative * relative);
}

/* The logarithm of c h, over that of the values as stated, with h = viscosity^a tension^b
 * density^d. */
static void moments(double a, double b, double d, double *mean, double *sd)
{
    double c = variance(spread), v = variance(of_viscosity), t = variance(of_tension),
           r = variance(of_density);

    *mean = -(c + a * v + b * t + d * r) / 2;
    *sd = sqrt(c + a * a * v + b * b * t + d * d * r);
}

static void is_lognormal(double stated, double mean, double sd)
{
    static const double shares[] = {0.05, 0.5, 0.95};
    const dregs_ensemble_estimate *at[3];
    dregs_ensemble_range range;
    int i;

    ck_assert_int_eq(dregs_predict_doubt_worst(doubt, DREGS_EVERY_SOLUTE, &range), DREGS_OK);
    at[0] = &range.low;
    at[1] = &range.middle;
    at[2] = &range.high;
    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double error = sd * sqrt(shares[i] * (1 - shares[i]) / (double)doubt->run.draws) *
                       exp(z * z / 2) * sqrt(2 * acos(-1)); /* of ln(quantile) */
        ck_assert_near(at[i]->value, stated * exp(mean + sd * z), 4 * error + 2e-3, "share %g",
                       shares[i]);
    }
}

START_TEST(a_film_by_a_law_is_lognormal)
{
    double mean, sd;

    ask(LINE("20%") KUSHNER, LIQUIDS, 0);
    ck_assert_uint_eq(doubt->run.rows, 4); /* solids, density, viscosity, surface tension */
    ck_assert_uint_eq(doubt->run.properties, 3);
    ck_assert_uint_eq(doubt->run.failed, 0);
    moments(0.5, 0, -0.5, &mean, &sd);
    is_lognormal(5e-3 * 0.2 * sqrt(0.02 * 1.31e-3 / 912.5), mean, sd);
    ask(LINE("20%") SLOW, LIQUIDS, 0);
    moments(2 / 3.0, -1 / 6.0, -0.5, &mean, &sd);
    /* 0.944 Ca^(1/6), less by the factor 1 - (2/3) of its square, 0.0023 */
    is_lognormal(5e-3 * 0.944 * pow(1.31e-3 * 1e-6 / 23.7e-3, 1 / 6.0) *
                     sqrt(1.31e-3 * 1e-6 / (912.5 * 9.80665)) * (1 - 0.0023),
                 mean, sd);
}
END_TEST

START_TEST(threads_change_no_bit)
{
    static const unsigned threads[] = {1, 2, 7};
    dregs_ensemble_range first, range;
    int i;

    for (i = 0; i < 3; i++) {
        ask(LINE("20%") SLOW, LIQUIDS, threads[i]);
        ck_assert_int_eq(dregs_predict_doubt_worst(doubt, DREGS_EVERY_SOLUTE, &range), DREGS_OK);
        if (i)
            ck_assert(memcmp(&first, &range, sizeof range) == 0);
        first = range;
    }
}
END_TEST

/* With a film that is measured, with values of the file in place of the table's, or with nothing
 * in doubt on the line, no property is drawn; and other rows are drawn as if there were none. */
START_TEST(what_takes_none_draws_none)
{
    dregs_ensemble *with, *without;
    unsigned i;

    ask(LINE("20%") "r,film,20,um\n", LIQUIDS, 0);
    ck_assert_uint_eq(doubt->run.rows, 1);
    ck_assert_uint_eq(doubt->run.properties, 0);
    ask(LINE("20%") "w,viscosity,1.31,mPa.s\nw,surface tension,23.7,mN/m\n" SLOW, LIQUIDS, 0);
    ck_assert_uint_eq(doubt->run.properties, 1); /* its density */
    ask(LINE("") SLOW, LIQUIDS, 0);
    ck_assert_ptr_null(doubt);
    ask(LINE("20%") SLOW, LIQUIDS, 0);
    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 3, &with, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_ensemble_new_with(line, DREGS_ASKED_RESIDUE, dregs_line_liquids(line),
                                             NULL, 0, 3, &without, NULL),
                     DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_rows(without), 1);
    ck_assert_uint_eq(dregs_ensemble_rows(with), 4);
    for (i = 0; i < 50; i++)
        ck_assert(dregs_ensemble_draw(with, i, 0) == dregs_ensemble_draw(without, i, 0));
    dregs_ensemble_free(with);
    dregs_ensemble_free(without);
}
END_TEST

static int assumes(const char *words)
{
    const char *text;
    unsigned i;

    for (i = 0; (text = dregs_line_assumed(line, i)) != NULL; i++)
        if (strstr(text, words))
            return 1;
    return 0;
}

START_TEST(no_accuracy_is_exact_and_said)
{
    ask(LINE("20%") SLOW, LIQUIDS, 0);
    ck_assert(!assumes("no accuracy"));
    ask(LINE("20%") SLOW, LIQUIDS_BUT("brew,viscosity,A,mPa.s,1.31,280,320,invented,\n"), 0);
    ck_assert_uint_eq(doubt->run.properties, 2);
    ck_assert(assumes("viscosity of brew: exact, its row states no accuracy"));
    ck_assert(!assumes("density of brew"));
}
END_TEST

/* Loads that go by a measured drag-out do not hide those behind them that do not. */
START_TEST(a_film_of_one_kind_of_load_is_drawn)
{
#define KINDS                                                                                      \
    LINE("20%")                                                                                    \
    "rack,kind,load\nrack,parts,1,1\nrack,area,80,cm2\nrack,height,5,cm\nr,drag-out tray,20,"      \
    "mL/m2\nplan,kind,schedule\nplan,sequence,tray rack\n"
    dregs_ensemble *made;
    unsigned i, drawn = 0;

    teardown();
    line = lines_read_with(KINDS SLOW, LIQUIDS);
    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &made, NULL), DREGS_OK);
    for (i = 0; i < dregs_ensemble_rows(made); i++)
        drawn += dregs_ensemble_row(made, i)->liquid != NULL;
    ck_assert_uint_eq(drawn, 3);
    dregs_ensemble_free(made);
}
END_TEST

/* Of a product of lognormals with u_i = exp(variance of ln) - 1 each explains u_i by itself of
 * product(1 + u) - 1, and u_i times the product of the others' (1 + u) with all it does. */
START_TEST(the_doubt_is_shared_out_to_properties)
{
    const double u[] = {expm1(variance(spread)), expm1(variance(of_viscosity) / 4),
                        expm1(variance(of_density) / 4)};
    const double whole = (1 + u[0]) * (1 + u[1]) * (1 + u[2]);
    const double sd = sqrt(variance(of_viscosity));
    const dregs_hangs_doubt *d;
    dregs_hangs_result *hangs = NULL;
    dregs_worst worst = {0, 1, 0};

    teardown();
    line = lines_read_with(LINE("20%") KUSHNER, LIQUIDS);
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, DREGS_NO_END, 5, 0, 0, &hangs), DREGS_OK);
    ck_assert_uint_eq(hangs->doubts, 4);
    d = dregs_hangs_result_doubt(hangs, 0);
    ck_assert_ptr_null(d->liquid);
    ck_assert_uint_eq(d->row, dregs_line_find(line, "w", "solids"));
    ck_assert(fabs(d->first - u[0] / (whole - 1)) < 0.04);
    d = dregs_hangs_result_doubt(hangs, 1);
    ck_assert_str_eq(d->liquid, "brew");
    ck_assert_int_eq((int)d->property, DREGS_VISCOSITY);
    ck_assert_uint_eq(d->row, 0);
    ck_assert_uint_eq(d->rows, 1);
    ck_assert(fabs(d->first - u[1] / (whole - 1)) < 0.04);
    ck_assert(fabs(d->total - u[1] * whole / (1 + u[1]) / (whole - 1)) < 0.04);
    /* 1.6448536: the 95 % point of the normal distribution; the film goes as its root */
    ck_assert_near(d->high / d->low, exp(1.6448536 * sd), 1e-6, "the ends");
    ck_assert_near(d->high_value, exp(1.6448536 * sd - sd * sd / 2), 1e-6, "the factor there");
    d = dregs_hangs_result_doubt(hangs, 3); /* no part of Kushner's law */
    ck_assert_int_eq((int)d->property, DREGS_SURFACE_TENSION);
    ck_assert_near(d->high, d->low, 1e-12, "surface tension");
    dregs_hangs_result_free(hangs);
}
END_TEST

/* A year of a still tank: what dries off the parts is loads times area times film. */
START_TEST(a_tally_draws_them)
{
    static const double shares[] = {0.05, 0.5, 0.95};
    const dregs_line *asked_of[1];
    dregs_tally_question question;
    dregs_tally_result *answer = NULL;
    dregs_tally_doubt *drawn = NULL;
    dregs_doubt_request asked;
    dregs_ensemble_range range;
    const dregs_ensemble_estimate *at[] = {&range.low, &range.middle, &range.high};
    double v = variance(of_viscosity), r = variance(of_density);
    double sd = sqrt(v + r) / 2, mean = (r - v) / 4;
    double stated = 365 * 10 * 0.01 * 0.2 * sqrt(0.02 * 1.31e-3 / 912.5);
    int i;

    teardown();
    asked_of[0] = line = lines_read_with(
        LINE("20%") KUSHNER "days,kind,schedule\ndays,loads per shift,10\ndays,shifts per day,1\n"
                            "days,days per year,365\n",
        LIQUIDS);
    dregs_tally_question_init(&question);
    question.line = asked_of;
    question.lines = 1;
    ck_assert_int_eq(dregs_tally_answer(&question, &answer, NULL), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = 2000;
    ck_assert_int_eq(dregs_tally_doubt_ask(answer, &asked, &drawn, NULL), DREGS_OK);
    ck_assert_uint_eq(drawn->run.properties, 3);
    ck_assert_int_eq(
        dregs_tally_doubt_range(drawn, DREGS_TALLY_RANGE_OUTLINE, DREGS_TALLY_SUM_DRIED, &range),
        DREGS_OK);
    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double error =
            sd * sqrt(shares[i] * (1 - shares[i]) / 2000) * exp(z * z / 2) * sqrt(2 * acos(-1));
        ck_assert_near(at[i]->value, stated * exp(mean + sd * z), 4 * error + 2e-3, "share %g",
                       shares[i]);
    }
    dregs_tally_doubt_free(drawn);
    dregs_tally_result_free(answer);
}
END_TEST

/* The residue stands on the film of the last stage alone, so that the share of draws that meet a
 * limit does not hang on what is sized, and is that of a lognormal below it. */
START_TEST(a_sizing_draws_them)
{
    const double film = 0.2 * sqrt(0.02 * 1.31e-3 / 912.5), limit = 1.2 * 5e-3 * film;
    char text[2000], message[DREGS_SIZE_MESSAGE];
    dregs_size_request request;
    dregs_size_result *sized = NULL;
    dregs_varied *varied;
    double mean, sd, expected;

    teardown();
    moments(0.5, 0, -0.5, &mean, &sd);
    expected = gsl_cdf_ugaussian_P((log(1.2) - mean) / sd);
    snprintf(text, sizeof text, "%sr,flow,1,L/h\nlimit,kind,target\nlimit,residue,%.17g,kg/m2\n",
             LINE("20%") KUSHNER, limit);
    line = lines_read_with(text, LIQUIDS);
    varied = dregs_varied_new(line);
    ck_assert_int_eq(dregs_varied_read(varied, "r.flow=0.1..90 L/h", message), DREGS_OK);
    dregs_size_request_init(&request);
    request.varied = varied;
    request.draws = 2000;
    ck_assert_int_eq(dregs_size_answer(line, &request, &sized, message), DREGS_OK);
    ck_assert_uint_eq(sized->sureness->rows, 4);
    ck_assert_uint_eq(sized->sureness->properties, 3);
    ck_assert(fabs(sized->sureness->met.value - expected) <
              4 * sqrt(expected * (1 - expected) / 2000));
    dregs_size_result_free(sized);
    dregs_varied_free(varied);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("accuracy");
    TCase *all = tcase_create("accuracy");

    (void)gsl_set_error_handler_off();
    tcase_add_checked_fixture(all, NULL, teardown);
    tcase_add_test(all, a_film_by_a_law_is_lognormal);
    tcase_add_test(all, threads_change_no_bit);
    tcase_add_test(all, what_takes_none_draws_none);
    tcase_add_test(all, no_accuracy_is_exact_and_said);
    tcase_add_test(all, a_film_of_one_kind_of_load_is_drawn);
    tcase_add_test(all, the_doubt_is_shared_out_to_properties);
    tcase_add_test(all, a_tally_draws_them);
    tcase_add_test(all, a_sizing_draws_them);
    suite_add_tcase(suite, all);
    return run(suite);
}
