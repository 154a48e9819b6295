/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_predict_doubt.c: how sure a prediction is, of a line whose answer has a closed form: one
 * rinse that is fed and never dumped, soil with a spread, nothing else in the water. Each residue
 * of each draw is that of the line as stated times soil / stated soil, which is lognormal.
 */
#include "check_main.h"
#include "dregs/answer_predict.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <string.h>

#define SPREAD 0.4
#define LINE                                                                                       \
    "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"         \
    "tray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg,40%\nw,kind,liquid\n"               \
    "w,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,w\nr,flow,9,L/h\nr,film,20,um\n"

static dregs_line *line;
static dregs_predict_result *result;
static dregs_predict_doubt *doubt;

static void teardown(void)
{
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
    lines_free(line);
    doubt = NULL;
    result = NULL;
    line = NULL;
}

static dregs_status ask(const char *text, uint64_t draws, const uint64_t *at, size_t count)
{
    dregs_predict_request request;
    dregs_doubt_request asked;

    line = lines_read(text);
    dregs_predict_request_init(&request);
    request.at = at;
    request.at_count = count;
    ck_assert_int_eq(dregs_predict_answer(line, &request, &result), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = draws;
    return dregs_predict_doubt_ask(result, &asked, &doubt, NULL);
}

/* The value below which a share of a lognormal distribution of mean 1 lies. */
static double point(double share)
{
    double s = sqrt(log1p(SPREAD * SPREAD));

    return exp(s * gsl_cdf_ugaussian_Pinv(share) - s * s / 2);
}

static void range_is(const dregs_ensemble_range *range, double stated, double n, const char *what)
{
    const dregs_ensemble_estimate *at[] = {&range->low, &range->middle, &range->high};
    static const double shares[] = {0.05, 0.5, 0.95};
    double s = sqrt(log1p(SPREAD * SPREAD));
    int i;

    for (i = 0; i < 3; i++) {
        double z = gsl_cdf_ugaussian_Pinv(shares[i]);
        double error = s * sqrt(shares[i] * (1 - shares[i]) / n) * exp(z * z / 2) *
                       sqrt(2 * acos(-1)); /* of ln(quantile) */
        ck_assert_near(at[i]->value, stated * point(shares[i]), 4 * error + 1e-3, "%s, %g", what,
                       shares[i]);
        ck_assert(at[i]->low <= at[i]->value && at[i]->value <= at[i]->high);
    }
}

#define SOLUTES "a,kind,solute\nb,kind,solute\nc,kind,solute\n"

/* The rule worked out by hand: one tank of 20 L that 1.25 L of fresh water and a film of 0.2 mL go
 * through in a load, so that it is renewed in 16 loads: 2 x 1 x (20 + 1/30 + 16) = 72 a draw. */
START_TEST(usual_draws_hang_on_the_line_alone)
{
    static const struct {
        const char *text;
        unsigned draws;
    } cases[] = {
        {LINE, 1000},
        {LINE "r,dump every,20000\n", 1000},        /* 2 (20 + 1 + 667) = 1375 */
        {LINE SOLUTES "r,dump every,20000\n", 500}, /* four times that, 5501 */
        {LINE SOLUTES "r,dump every,20000\nq,kind,rinse\nq,volume,20,L\nq,liquid,w\n"
                      "q,film,20,um\nq,dump every,20000\n",
         200}, /* 3 x 4 (20 + 2 + 667) = 8264 */
        {LINE SOLUTES "r,dump every,20000\nq,kind,rinse\nq,volume,20,L\nq,liquid,w\n"
                      "q,film,20,um\nq,dump every,1\n",
         40}, /* 3 x 4 (20 + 20001 + 667) = 248256 */
        {LINE SOLUTES "q,kind,rinse\nq,volume,20,L\nq,liquid,w\nq,film,20,um\n",
         200}, /* nothing but 0.2 mL of film leaves q: 3 x 4 (20 + 1/30 + 1000) = 12240 */
    };
    size_t i;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        line = lines_read(cases[i].text);
        ck_assert_uint_eq(dregs_ensemble_usual(line), cases[i].draws);
        teardown();
    }
}
END_TEST

START_TEST(residues_are_lognormal)
{
    static const uint64_t at[] = {1, 7, 900};
    dregs_ensemble_range range;
    dregs_residue residue;
    dregs_map *map;
    dregs_state *state;
    uint64_t load;
    unsigned i;
    int s;

    ck_assert_int_eq(ask(LINE, 3000, at, 3), DREGS_OK);
    ck_assert_uint_eq(doubt->run.draws, 3000);
    ck_assert_uint_eq(doubt->run.failed, 0);
    ck_assert_uint_eq(doubt->run.rows, 1);
    ck_assert_uint_eq(doubt->loads, 3);
    ck_assert(isnan(doubt->met.value)); /* no target */
    map = lines_map(line);
    state = lines_state(map);
    for (s = DREGS_EVERY_SOLUTE; s < 1; s++) {
        ck_assert_int_eq(dregs_predict_doubt_worst(doubt, s, &range), DREGS_OK);
        range_is(&range, result->worst.residue, 3000, "worst");
    }
    for (i = 0; i < 3; i++) {
        ck_assert_int_eq(dregs_predict_doubt_load(doubt, i, 0, &load, &range), DREGS_OK);
        ck_assert_uint_eq(load, at[i]);
        ck_assert_int_eq(dregs_state_before(state, load), DREGS_OK);
        dregs_residue_next(state, &residue);
        range_is(&range, residue.total, 3000, "a load");
    }
    ck_assert_int_eq(dregs_predict_doubt_load(doubt, 3, 0, &load, &range), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_predict_doubt_worst(doubt, 1, &range), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_predict_doubt_limit(doubt, 0, &range.low), DREGS_DOMAIN);
    dregs_state_free(state);
    dregs_map_free(map);
}
END_TEST

/* The limit stands where `share` of all lines meet it. */
static void with_limit(double share, const char *confidence, uint64_t draws)
{
    char text[1024];
    double worst;

    ck_assert_int_eq(ask(LINE, 1, NULL, 0), DREGS_OK);
    worst = result->worst.residue;
    teardown();
    snprintf(text, sizeof text, "%slimit,kind,target\nlimit,residue,%.9f,mg/m2\n%s", LINE,
             worst * point(share) * 1e6, confidence);
    ck_assert_int_eq(ask(text, draws, NULL, 0), DREGS_OK);
}

START_TEST(the_share_that_meets_the_limit)
{
    dregs_ensemble_estimate met;

    with_limit(0.9, "", 4000);
    ck_assert(fabs(doubt->met.value - 0.9) < 4 * sqrt(0.09 / 4000));
    ck_assert_int_eq(dregs_predict_doubt_limit(doubt, 0, &met), DREGS_OK);
    ck_assert(met.value == doubt->met.value && met.low == doubt->met.low);
    ck_assert(isnan(doubt->confidence) && !doubt->sure && !doubt->decided);
}
END_TEST

/* The rinse as a wash that takes all soil off. */
#define WASH                                                                                       \
    "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"         \
    "tray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg,40%\nw,kind,liquid\n"               \
    "w,solvent,water\nr,kind,wash\nr,removal,100,%\nr,volume,20,L\nr,liquid,w\nr,flow,9,L/h\n"     \
    "r,film,20,um\n"

/* What a wash comes to is as lognormal as the residue: a bound at the point below which `share`
 * of that distribution lies is kept in so many draws, by whichever row it is stated. */
static void with_bound(const char *row, double share, unsigned draws)
{
    char text[1024];
    double most;

    ck_assert_int_eq(ask(WASH "r,most oil,1,g/L\n", 1, NULL, 0), DREGS_OK);
    most = dregs_bounds_at(result->bounds, 0)->reached;
    teardown();
    snprintf(text, sizeof text, "%slimit,kind,target\nlimit,residue,1,g/m2\n%s,%.12g,g/L\n", WASH,
             row, most * point(share));
    ck_assert_int_eq(ask(text, draws, NULL, 0), DREGS_OK);
}

START_TEST(a_draw_beyond_a_bound_misses)
{
    static const char *const rows[] = {"r,most oil", "r,most dissolved", "w,solubility oil"};
    dregs_ensemble_estimate met;
    unsigned i;

    for (i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        with_bound(rows[i], 0.8, 2000);
        ck_assert_int_eq(dregs_predict_doubt_bound(doubt, 0, &met), DREGS_OK);
        ck_assert(fabs(met.value - 0.8) < 4 * sqrt(0.16 / 2000));
        ck_assert(doubt->met.value == met.value);
        ck_assert_int_eq(dregs_predict_doubt_limit(doubt, 0, &met), DREGS_OK);
        ck_assert(met.value == 1); /* the residue of the loads before is far below */
        ck_assert_int_eq(dregs_predict_doubt_bound(doubt, 1, &met), DREGS_DOMAIN);
        teardown();
    }
}
END_TEST

/* A target of concentration is one of the film, which is that of the tank after mixing. */
START_TEST(a_target_of_concentration_is_one_of_the_limits)
{
    char text[1024];
    double reached;

    ck_assert_int_eq(ask(WASH "limit,kind,target\nlimit,concentration oil,1,g/L\n", 1, NULL, 0),
                     DREGS_OK);
    reached = dregs_bounds_at(result->bounds, 0)->reached;
    teardown();
    snprintf(text, sizeof text,
             "%slimit,kind,target\nlimit,concentration oil,%.12g,g/L\nlimit,confidence,50,%%\n",
             WASH, reached * point(0.7));
    ck_assert_int_eq(ask(text, 2000, NULL, 0), DREGS_OK);
    ck_assert(fabs(doubt->met.value - 0.7) < 4 * sqrt(0.21 / 2000));
    ck_assert(doubt->decided && doubt->sure);
}
END_TEST

/* With soil that also varies from load to load by so much, all of a draw's residue is that as
 * stated times the same lognormal factor, its scatter too: met where the factor times the residue
 * that the asked share of loads stays within is below the limit. */
START_TEST(a_share_of_loads_is_asked_of_each_draw)
{
    static const char line_text[] =
        "item,property,value,unit,spread,varies\ntray,kind,load\ntray,parts,1,1\n"
        "tray,area,100,cm2\ntray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg,40%%,30%%\n"
        "w,kind,liquid\nw,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,w\n"
        "r,flow,9,L/h\nr,film,20,um\nlimit,kind,target\nlimit,residue,%.12g,g/m2\n"
        "limit,share of loads,90,%%\n";
    const dregs_predict_verdict *verdict;
    char text[1024];
    double s, within;

    snprintf(text, sizeof text, line_text, 1.0);
    ck_assert_int_eq(ask(text, 1, NULL, 0), DREGS_OK);
    verdict = dregs_predict_result_verdict(result, 0);
    s = sqrt(log1p(pow(verdict->sd / verdict->mean, 2)));
    within = verdict->mean * exp(s * gsl_cdf_ugaussian_Pinv(0.9) - s * s / 2);
    teardown();
    snprintf(text, sizeof text, line_text, within * point(0.6) * 1e3);
    ck_assert_int_eq(ask(text, 2000, NULL, 0), DREGS_OK);
    ck_assert(fabs(doubt->met.value - 0.6) < 4 * sqrt(0.24 / 2000));
}
END_TEST

START_TEST(the_confidence_is_held_against_the_interval)
{
    with_limit(0.9, "limit,confidence,80,%\n", 1000); /* 10 standard errors above */
    ck_assert(doubt->decided && doubt->sure);
    teardown();
    with_limit(0.9, "limit,confidence,98,%\n", 1000);
    ck_assert(doubt->decided && !doubt->sure);
    teardown();
    with_limit(0.9, "limit,confidence,90,%\n", 20); /* so few cannot tell */
    ck_assert(!doubt->decided && !doubt->sure);
}
END_TEST

START_TEST(a_line_without_spreads_is_not_in_doubt)
{
    char text[1024];
    char *spread;

    snprintf(text, sizeof text, "%s", LINE);
    spread = strstr(text, ",40%");
    memset(spread, ' ', 4);
    ck_assert_int_eq(ask(text, 10, NULL, 0), DREGS_OK);
    ck_assert_ptr_null(doubt);
}
END_TEST

START_TEST(what_cannot_be_asked)
{
    dregs_doubt_request asked;

    ck_assert_int_eq(ask(LINE, 0, NULL, 0), DREGS_DOMAIN);
    ck_assert_ptr_null(doubt);
    dregs_doubt_request_init(&asked);
    asked.size = 4;
    ck_assert_int_eq(dregs_predict_doubt_ask(result, &asked, &doubt, NULL), DREGS_DOMAIN);
}
END_TEST

START_TEST(too_many_loads_are_not_drawn)
{
    uint64_t at[DREGS_DOUBT_LOADS + 1];
    unsigned i;

    for (i = 0; i <= DREGS_DOUBT_LOADS; i++)
        at[i] = i + 1;
    ck_assert_int_eq(ask(LINE, 10, at, DREGS_DOUBT_LOADS), DREGS_OK);
    ck_assert_uint_eq(doubt->loads, DREGS_DOUBT_LOADS);
    teardown();
    ck_assert_int_eq(ask(LINE, 10, at, DREGS_DOUBT_LOADS + 1), DREGS_OK);
    ck_assert_uint_eq(doubt->loads, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("predict doubt");
    TCase *of_lines = tcase_create("lines");

    gsl_set_error_handler_off();
    tcase_add_checked_fixture(of_lines, NULL, teardown);
    tcase_add_test(of_lines, usual_draws_hang_on_the_line_alone);
    tcase_add_test(of_lines, residues_are_lognormal);
    tcase_add_test(of_lines, the_share_that_meets_the_limit);
    tcase_add_test(of_lines, a_draw_beyond_a_bound_misses);
    tcase_add_test(of_lines, a_target_of_concentration_is_one_of_the_limits);
    tcase_add_test(of_lines, a_share_of_loads_is_asked_of_each_draw);
    tcase_add_test(of_lines, the_confidence_is_held_against_the_interval);
    tcase_add_test(of_lines, a_line_without_spreads_is_not_in_doubt);
    tcase_add_test(of_lines, what_cannot_be_asked);
    tcase_add_test(of_lines, too_many_loads_are_not_drawn);
    suite_add_tcase(suite, of_lines);
    return run(suite);
}
