/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_tally_doubt.c: how sure a tally is, of a line whose answers have a closed form: a vat whose
 * evaporation has a spread, so that what it loses to the air in a year is lognormal, and what is
 * dumped is not in doubt at all.
 */
#include "check_main.h"
#include "dregs/answer_tally.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

/* A load every 2.4 h takes 1 L out, 12 L a day evaporate, 100 L are dumped every day. */
#define SPREAD 0.3
#define ROWS                                                                                       \
    "item,property,value,unit,spread\nrack,kind,load\nrack,parts,1,1\nrack,area,1,m2\n"            \
    "rack,interval,2.4,h\noil,kind,solute\nown,kind,liquid\nown,solvent,tetrachloroethylene\n"     \
    "own,price,3,EUR/L\nvat,kind,rinse\nvat,volume,100,L\nvat,liquid,own\nvat,film,1,mm\n"         \
    "vat,dump every,10,1\ndays,kind,schedule\ndays,loads per shift,10\ndays,shifts per day,1\n"    \
    "days,days per year,365\n"
#define LINE   ROWS "vat,evaporation,0.5,L/h,30%\n"
#define DAY    (0.012 * 365) /* m3 a year that evaporate as stated */
#define DRIED  (0.010 * 365) /* that dry off the parts */
#define DRAWS  4000
#define BINNED 1e-3 /* values are counted to 0.1 % */

static dregs_line *line;
static dregs_tally_result *answer;
static dregs_tally_doubt *doubt;
static unsigned parts; /* of the question */

static void teardown(void)
{
    parts = 0;
    dregs_tally_doubt_free(doubt);
    dregs_tally_result_free(answer);
    lines_free(line);
    doubt = NULL;
    answer = NULL;
    line = NULL;
}

static dregs_status ask(const char *text, const dregs_site *site, uint64_t draws, unsigned threads)
{
    const dregs_line *asked_of[1];
    dregs_tally_question question;
    dregs_doubt_request asked;

    asked_of[0] = line = lines_read(text);
    dregs_tally_question_init(&question);
    question.line = asked_of;
    question.lines = 1;
    question.law = site != NULL;
    question.site = site;
    question.parts = parts;
    ck_assert_int_eq(dregs_tally_answer(&question, &answer, NULL), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = draws;
    asked.threads = threads;
    return dregs_tally_doubt_ask(answer, &asked, &doubt, NULL);
}

/* The value below which a share of a lognormal distribution of mean 1 lies. */
static double point(double share)
{
    double s = sqrt(log1p(SPREAD * SPREAD));

    return exp(s * gsl_cdf_ugaussian_Pinv(share) - s * s / 2);
}

/* The share of it below a value. */
static double below(double value)
{
    double s = sqrt(log1p(SPREAD * SPREAD));

    return gsl_cdf_ugaussian_P((log(value) + s * s / 2) / s);
}

/* The range of fixed + doubtful * (lognormal of mean 1), by the error of a quantile of so many
 * draws. */
static void range_is(const dregs_ensemble_range *range, double fixed, double doubtful,
                     const char *what)
{
    const dregs_ensemble_estimate *at[] = {&range->low, &range->middle, &range->high};
    static const double shares[] = {0.05, 0.5, 0.95};
    double s = sqrt(log1p(SPREAD * SPREAD));
    int i;

    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double error = s * sqrt(shares[i] * (1 - shares[i]) / DRAWS) * exp(z * z / 2) *
                       sqrt(2 * acos(-1)); /* of ln(quantile) */
        double expected = fixed + doubtful * point(shares[i]);
        ck_assert_msg(fabs(at[i]->value - expected) <=
                          4 * error * doubtful * point(shares[i]) + BINNED * expected,
                      "%s, %g: %g, expected %g", what, shares[i], at[i]->value, expected);
        ck_assert(at[i]->low <= at[i]->value && at[i]->value <= at[i]->high);
    }
}

static dregs_ensemble_range range_of(dregs_tally_doubtful what, unsigned index)
{
    dregs_ensemble_range range;

    ck_assert_int_eq(dregs_tally_doubt_range(doubt, what, index, &range), DREGS_OK);
    return range;
}

START_TEST(a_year_is_lognormal_where_its_evaporation_is)
{
    double dumped = 365 * 0.1, first = 0.1;
    dregs_ensemble_range range;
    unsigned i;

    ck_assert_int_eq(ask(LINE, NULL, DRAWS, 0), DREGS_OK);
    ck_assert_uint_eq(doubt->run.draws, DRAWS);
    ck_assert_uint_eq(doubt->run.failed, 0);
    ck_assert_uint_eq(doubt->run.rows, 1);
    range = range_of(DREGS_TALLY_RANGE_OUTLINE, DREGS_TALLY_SUM_EVAPORATED);
    range_is(&range, 0, DAY, "evaporated");
    range = range_of(DREGS_TALLY_RANGE_BOUGHT, 0);
    range_is(&range, first + dumped + DRIED, DAY, "bought");
    range = range_of(DREGS_TALLY_RANGE_OUTLINE, DREGS_TALLY_SUM_COST);
    range_is(&range, 3000 * (first + dumped + DRIED), 3000 * DAY, "cost");
    range = range_of(DREGS_TALLY_RANGE_OUTLINE, DREGS_TALLY_SUM_TO_WASTE);
    ck_assert_near(range.low.value, dumped, BINNED * dumped, "dumped");
    ck_assert_near(range.high.value, dumped, BINNED * dumped, "dumped");
    /* what is ranked is what is said beside it */
    for (i = 0; dregs_tally_result_part(answer, 0, 0, i); i++)
        if (dregs_tally_result_part(answer, 0, 0, i)->stream == DREGS_STREAM_EVAPORATED) {
            range = range_of(DREGS_TALLY_RANGE_LARGEST, i);
            range_is(&range, 0, DAY, "the largest streams");
        }
    for (i = 0; dregs_tally_result_figure(answer, 0, i); i++)
        if (strcmp(dregs_tally_result_figure(answer, 0, i)->name, "evaporated") == 0) {
            range = range_of(DREGS_TALLY_RANGE_FIGURE, i);
            range_is(&range, 0, 1000 * DAY, "the figures");
        }
    ck_assert_int_eq(dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGE_FIGURE, i, &range),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGES, 0, &range), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGE_MACHINE, 0, &range),
                     DREGS_DOMAIN); /* no regulations were asked about */
}
END_TEST

static dregs_ensemble_range stream_of(dregs_stream stream, unsigned stage, unsigned period)
{
    dregs_ensemble_range range;

    ck_assert_int_eq(
        dregs_tally_doubt_stream(doubt, DREGS_TALLY_VOLUMES, 0, stream, stage, period, &range),
        DREGS_OK);
    return range;
}

/* In a month of n days 12 n L x evaporate, 10 n L dry and 100 n L are dumped, at 3 EUR/L. */
START_TEST(months_and_stages_are_in_doubt_as_the_year_is)
{
    const unsigned february = 1, march = 2, december = 11;
    dregs_ensemble_range range;
    double days, three;
    unsigned m;

    parts = DREGS_TALLY_OF_STAGES | DREGS_TALLY_OF_MONTHS;
    ck_assert_int_eq(ask(LINE, NULL, DRAWS, 0), DREGS_OK);
    ck_assert_uint_eq(doubt->streams_left_out, 0);
    range = stream_of(DREGS_STREAM_EVAPORATED, 0, DREGS_WHOLE);
    range_is(&range, 0, DAY, "evaporated over the vat");
    range = stream_of(DREGS_STREAM_EVAPORATED, DREGS_WHOLE, DREGS_WHOLE);
    range_is(&range, 0, DAY, "evaporated");
    range = range_of(DREGS_TALLY_RANGE_STAGE_COST, DREGS_TALLY_SPENT_BOUGHT);
    range_is(&range, 3000 * (0.1 + 36.5 + DRIED), 3000 * DAY, "bought for the vat");
    range = range_of(DREGS_TALLY_RANGE_STAGE_COST, DREGS_TALLY_SPENTS + DREGS_TALLY_SPENT_ALL);
    range_is(&range, 3000 * (0.1 + 36.5 + DRIED), 3000 * DAY, "cost of the line");

    days = (double)dregs_tally_days(dregs_tally_result_line(answer, 0)->tally, february);
    ck_assert(days == 28);
    range = stream_of(DREGS_STREAM_EVAPORATED, DREGS_WHOLE, february);
    range_is(&range, 0, 0.012 * days, "evaporated in February");
    range =
        range_of(DREGS_TALLY_RANGE_MONTH, february * DREGS_TALLY_SUMS + DREGS_TALLY_SUM_EVAPORATED);
    range_is(&range, 0, 0.012 * days, "sum of February");
    range = range_of(DREGS_TALLY_RANGE_MONTH_COST,
                     february * DREGS_TALLY_SPENTS + DREGS_TALLY_SPENT_ALL);
    range_is(&range, 3000 * days * 0.11, 3000 * days * 0.012, "cost of February");
    range = range_of(DREGS_TALLY_RANGE_MONTH_COST,
                     DREGS_MONTHS * DREGS_TALLY_SPENTS + DREGS_TALLY_SPENT_BOUGHT);
    range_is(&range, 3000 * (0.1 + 36.5 + DRIED), 3000 * DAY, "bought in the year");
    for (m = 0, three = 0; m <= march; m++)
        three += (double)dregs_tally_days(dregs_tally_result_line(answer, 0)->tally, m);
    range =
        range_of(DREGS_TALLY_RANGE_OVER_3, march * DREGS_TALLY_SUMS + DREGS_TALLY_SUM_EVAPORATED);
    range_is(&range, 0, 0.012 * three, "the first quarter");
    range = range_of(DREGS_TALLY_RANGE_OVER_12,
                     december * DREGS_TALLY_SUMS + DREGS_TALLY_SUM_EVAPORATED);
    range_is(&range, 0, DAY, "twelve months");
    /* no twelve months end before December of a line that begins in January */
    ck_assert_int_eq(dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGE_OVER_12,
                                             (december - 1) * DREGS_TALLY_SUMS, &range),
                     DREGS_UNKNOWN);
    /* a stream that the line does not have, and an index of none */
    ck_assert_int_eq(dregs_tally_doubt_stream(doubt, DREGS_TALLY_VOLUMES, 0, DREGS_STREAM_BLOWN_OFF,
                                              0, DREGS_WHOLE, &range),
                     DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_tally_doubt_stream(doubt, DREGS_TALLY_VOLUMES, 1,
                                              DREGS_STREAM_EVAPORATED, 0, DREGS_WHOLE, &range),
                     DREGS_UNKNOWN);
}
END_TEST

START_TEST(parts_that_are_not_asked_of_have_no_range)
{
    dregs_ensemble_range range;

    parts = DREGS_TALLY_OF_STAGES;
    ck_assert_int_eq(ask(LINE, NULL, 10, 0), DREGS_OK);
    (void)stream_of(DREGS_STREAM_EVAPORATED, 0, DREGS_WHOLE);
    ck_assert_int_eq(dregs_tally_doubt_stream(doubt, DREGS_TALLY_VOLUMES, 0,
                                              DREGS_STREAM_EVAPORATED, DREGS_WHOLE, 1, &range),
                     DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGE_MONTH, 0, &range),
                     DREGS_DOMAIN);
}
END_TEST

/* The plan's I1 and O4 move by the evaporation, kg; what is collected as waste does not. */
START_TEST(streams_of_a_solvent_plan_are_in_doubt)
{
    enum { I1, I2, O1, O2, O3, O4, O5, O6 };
    const dregs_tally_plan *plan;
    dregs_ensemble_range range;
    dregs_site site;
    double rho;
    unsigned first;

    dregs_site_init(&site);
    site.captured = 0;
    ck_assert_int_eq(ask(LINE, &site, DRAWS, 0), DREGS_OK);
    plan = dregs_tally_law_plan(dregs_tally_result_law(answer), 0);
    rho = dregs_tally_density(dregs_tally_result_line(answer, 0)->tally, 0);
    first = plan->number * DREGS_TALLY_PLAN_STREAMS;
    range = range_of(DREGS_TALLY_RANGE_PLAN, first + I1);
    range_is(&range, plan->plan.i1 - rho * DAY, rho * DAY, "I1");
    range = range_of(DREGS_TALLY_RANGE_PLAN, first + O4);
    range_is(&range, plan->plan.o4 - rho * DAY, rho * DAY, "O4");
    ck_assert_near(plan->plan.o6, rho * 36.5, 1e-9 * plan->plan.o6, "O6"); /* 365 dumps */
    range = range_of(DREGS_TALLY_RANGE_PLAN, first + O6);
    ck_assert_near(range.low.value, rho * 36.5, BINNED * rho * 36.5, "O6");
    ck_assert_near(range.high.value, rho * 36.5, BINNED * rho * 36.5, "O6");
}
END_TEST

/* The machine loses (10 L + 12 L x) a day with a lognormal x: it meets its limit w of a month where
 * x <= (22 w / w0 - 10) / 12, w0 being what the line as stated loses. */
START_TEST(a_limit_is_met_by_the_share_that_the_distribution_tells)
{
    const dregs_tally_machine *machine;
    dregs_ensemble_estimate met;
    dregs_ensemble_range range;
    dregs_site site;
    double share;

    dregs_site_init(&site);
    site.machine = DREGS_SITE_NO_INTERFACE;
    site.chamber = 8.6;
    site.solid_waste = 0;
    ck_assert_int_eq(ask(LINE, &site, DRAWS / 4, 0), DREGS_OK);
    machine = dregs_tally_law_machine(dregs_tally_result_law(answer), 0);
    ck_assert_ptr_nonnull(machine);
    share = below((22 * machine->limit / machine->worst - 10) / 12);
    ck_assert(share > 0.2 && share < 0.9); /* the test would tell little otherwise */
    ck_assert_int_eq(dregs_tally_doubt_machine_met(doubt, 0, &met), DREGS_OK);
    ck_assert_near(met.value, share, 4 * sqrt(share * (1 - share) / (DRAWS / 4)), "share met");
    ck_assert(met.low < met.value && met.value < met.high);
    range = range_of(DREGS_TALLY_RANGE_MACHINE, 0);
    ck_assert(range.low.value < machine->worst && machine->worst < range.high.value);
    ck_assert_int_eq(dregs_tally_doubt_machine_met(doubt, 1, &met), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_tally_doubt_plan_met(doubt, 2, DREGS_LAW_CLEANING_OTHER, &met),
                     DREGS_DOMAIN);
}
END_TEST

/* 18 L x of tetrachloroethylene are dumped a day with a lognormal x: a month of the mass m as
 * stated is of the same category where x <= 1000 kg / m. */
#define DUMPED                                                                                     \
    "item,property,value,unit,spread\nrack,kind,load\nrack,parts,1,1\nrack,area,1,m2\n"            \
    "rack,interval,2.4,h\noil,kind,solute\nown,kind,liquid\nown,solvent,tetrachloroethylene\n"     \
    "vat,kind,rinse\nvat,volume,18,L,30%\nvat,liquid,own\nvat,film,1,mL/m2\n"                      \
    "vat,dump every,10,1\ndays,kind,schedule\ndays,loads per shift,10\ndays,shifts per day,1\n"    \
    "days,days per year,365\n"

START_TEST(a_category_is_the_same_in_the_share_that_the_distribution_tells)
{
    const dregs_tally_waste_month *january;
    dregs_ensemble_estimate same;
    dregs_site site;
    double share;

    dregs_site_init(&site);
    site.other_waste = 0;
    ck_assert_int_eq(ask(DUMPED, &site, DRAWS / 4, 0), DREGS_OK);
    january = dregs_tally_law_month(dregs_tally_result_law(answer), 0);
    ck_assert_int_eq(january->least, DREGS_LAW_SQG);
    ck_assert_int_eq(january->most, DREGS_LAW_SQG);
    share = below(1000 / january->sure) - below(100 / january->sure);
    ck_assert(share > 0.2 && share < 0.9); /* the test would tell little otherwise */
    ck_assert_int_eq(dregs_tally_doubt_month_same(doubt, 0, &same), DREGS_OK);
    ck_assert_near(same.value, share, 4 * sqrt(share * (1 - share) / (DRAWS / 4)), "same");
    ck_assert_int_eq(dregs_tally_doubt_waste_same(doubt, 0, &same), DREGS_OK);
    ck_assert(same.value == 1); /* listed, however much it is */
    ck_assert_int_eq(dregs_tally_doubt_waste_same(doubt, 1, &same), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_tally_doubt_month_same(doubt, 12, &same), DREGS_DOMAIN);
}
END_TEST

/* Each line by itself: the first has no spread, the second is the vat. */
START_TEST(several_lines_are_drawn_each_by_itself)
{
    dregs_line *two[2] = {lines_read(ROWS "vat,evaporation,0.5,L/h\n"), lines_read(LINE)};
    dregs_tally_question question;
    dregs_doubt_request asked;
    dregs_ensemble_range range;
    unsigned i;

    dregs_tally_question_init(&question);
    question.line = (const dregs_line *const *)two;
    question.lines = 2;
    ck_assert_int_eq(dregs_tally_answer(&question, &answer, NULL), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = DRAWS;
    ck_assert_int_eq(dregs_tally_doubt_ask(answer, &asked, &doubt, NULL), DREGS_OK);
    ck_assert_uint_eq(dregs_tally_doubt_run_of(doubt, 0)->rows, 0);
    ck_assert_uint_eq(dregs_tally_doubt_run_of(doubt, 1)->rows, 1);
    ck_assert_ptr_null(dregs_tally_doubt_run_of(doubt, 2));
    for (i = 0; strcmp(dregs_tally_result_figure(answer, 1, i)->name, "evaporated"); i++)
        ;
    ck_assert_int_eq(dregs_tally_doubt_figure(doubt, 0, i, &range), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_tally_doubt_figure(doubt, 1, i, &range), DREGS_OK);
    range_is(&range, 0, DAY * 1e3, "evaporated, L");
    ck_assert_int_eq(dregs_tally_doubt_figure(doubt, 2, i, &range), DREGS_DOMAIN);
    dregs_tally_doubt_free(doubt);
    doubt = NULL;
    dregs_tally_result_free(answer);
    answer = NULL;
    lines_free(two[0]);
    lines_free(two[1]);
}
END_TEST

START_TEST(threads_change_no_bit)
{
    static const unsigned threads[] = {1, 2, 7};
    dregs_ensemble_range range[DREGS_TALLY_SUMS], again;
    unsigned i, k;

    memset(range, 0, sizeof range);
    for (i = 0; i < 3; i++) {
        ck_assert_int_eq(ask(LINE, NULL, 300, threads[i]), DREGS_OK);
        for (k = 0; k < DREGS_TALLY_SUMS; k++) {
            again = range_of(DREGS_TALLY_RANGE_OUTLINE, k);
            if (i == 0)
                range[k] = again;
            ck_assert(again.low.value == range[k].low.value);
            ck_assert(again.middle.value == range[k].middle.value);
            ck_assert(again.high.value == range[k].high.value);
        }
        teardown();
    }
}
END_TEST

START_TEST(nothing_is_in_doubt_without_a_spread)
{
    ck_assert_int_eq(ask(ROWS "vat,evaporation,0.5,L/h,\n", NULL, 10, 0), DREGS_OK);
    ck_assert_ptr_null(doubt);
    teardown();
    /* soil and its limits move no year */
    ck_assert_int_eq(ask(ROWS "vat,evaporation,0.5,L/h,\nclean,kind,target\nclean,residue,1,"
                              "mg/m2,0.1\n",
                         NULL, 10, 0),
                     DREGS_OK);
    ck_assert_ptr_null(doubt);
}
END_TEST

START_TEST(what_cannot_be_asked)
{
    dregs_doubt_request asked;

    ck_assert_int_eq(ask(LINE, NULL, 0, 0), DREGS_DOMAIN);
    ck_assert_ptr_null(doubt);
    dregs_doubt_request_init(&asked);
    asked.size = 4;
    ck_assert_int_eq(dregs_tally_doubt_ask(answer, &asked, &doubt, NULL), DREGS_DOMAIN);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("tally doubt");
    TCase *of_lines = tcase_create("lines");

    gsl_set_error_handler_off();
    tcase_add_checked_fixture(of_lines, NULL, teardown);
    tcase_set_timeout(of_lines, 60);
    tcase_add_test(of_lines, a_year_is_lognormal_where_its_evaporation_is);
    tcase_add_test(of_lines, months_and_stages_are_in_doubt_as_the_year_is);
    tcase_add_test(of_lines, parts_that_are_not_asked_of_have_no_range);
    tcase_add_test(of_lines, streams_of_a_solvent_plan_are_in_doubt);
    tcase_add_test(of_lines, a_limit_is_met_by_the_share_that_the_distribution_tells);
    tcase_add_test(of_lines, a_category_is_the_same_in_the_share_that_the_distribution_tells);
    tcase_add_test(of_lines, several_lines_are_drawn_each_by_itself);
    tcase_add_test(of_lines, threads_change_no_bit);
    tcase_add_test(of_lines, nothing_is_in_doubt_without_a_spread);
    tcase_add_test(of_lines, what_cannot_be_asked);
    suite_add_tcase(suite, of_lines);
    return run(suite);
}
