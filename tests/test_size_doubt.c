/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_size_doubt.c: sizing for a probability, of a line whose answer has a closed form: one tank
 * that takes all soil off the parts, fed by a flow, with a film that is lognormal.
 *
 * A load brings m and takes D = h A along, so that the mass before it is x' = (x + m) g with
 * g = (1 - D/V) exp(-(q T - D)/V); at steady state the film holds m / V / (1 - g), and the residue
 * is h times that. It is at the limit L where g = 1 - h m / (V L), which gives the flow q of each
 * film.
 */
#include "check_main.h"
#include "dregs/answer_predict.h"
#include "dregs/answer_size.h"
#include "lines.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                       \
    "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"         \
    "tray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg\nw,kind,liquid\n"                   \
    "w,solvent,water\nr,kind,wash\nr,removal,100,%\nr,volume,20,L\nr,liquid,w\n"                   \
    "limit,kind,target\nlimit,residue,0.1,ug/cm2\n"
#define LINE HEAD "r,flow,9,L/h\nr,film,20,um,30%\n"

enum { DRAWS = 2000 };

static dregs_line *line;
static dregs_varied *varied;
static dregs_size_result *result;
static char message[DREGS_SIZE_MESSAGE];

static void clear(void)
{
    dregs_size_result_free(result);
    dregs_varied_free(varied);
    result = NULL;
    varied = NULL;
}

static void teardown(void)
{
    clear();
    lines_free(line);
    line = NULL;
}

static dregs_status ask(const char *what, double confidence, uint64_t draws, unsigned threads)
{
    dregs_size_request request;

    clear();
    dregs_size_request_init(&request);
    varied = dregs_varied_new(line);
    ck_assert_int_eq(dregs_varied_read(varied, what, message), DREGS_OK);
    request.varied = varied;
    request.confidence = confidence;
    request.draws = draws;
    request.threads = threads;
    return dregs_size_answer(line, &request, &result, message);
}

/* How many of so many draws are to meet it: the least k of n = `draws`, p = k/n, with which the
 * lower end of Wilson's interval, (p + z2/2n - sqrt(z2 (p (1 - p)/n + z2/4n2))) / (1 + z2/n), is
 * not below the probability. */
static unsigned rank_of(double probability, unsigned draws)
{
    const double z2 = 1.959963984540054 * 1.959963984540054, n = draws;
    unsigned k;

    for (k = 1; k < draws; k++) {
        double p = k / n, half = sqrt(z2 * (p * (1 - p) / n + z2 / (4 * n * n)));
        if ((p + z2 / (2 * n) - half) / (1 + z2 / n) >= probability)
            break;
    }
    return k;
}

static double share_of(double probability, unsigned draws)
{
    return rank_of(probability, draws) / (double)draws;
}

/* The flow at which a film of h leaves the limit, m3/s. */
static double flow_of(double h)
{
    double volume = 20e-3, interval = 500, soil = 2.4e-6, limit = 1e-6, out = h * 0.01;
    double g = 1 - h * soil / (volume * limit);

    return (out - volume * log(g / (1 - out / volume))) / interval;
}

static int by_size(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;

    return left < right ? -1 : left > right;
}

/* The flows that the films of all draws ask for, in order. */
static void flows(double *flow)
{
    dregs_ensemble *ensemble;
    unsigned i;

    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, NULL), DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 1);
    for (i = 0; i < DRAWS; i++)
        flow[i] = flow_of(dregs_ensemble_draw(ensemble, i, 0));
    dregs_ensemble_free(ensemble);
    qsort(flow, DRAWS, sizeof *flow, by_size);
}

START_TEST(the_flow_is_that_of_the_draw_of_its_rank)
{
    static const double shares[] = {0.2, 0.8, 0.9, 0.95, 0.99};
    double flow[DRAWS], found, last = 0;
    size_t i;

    line = lines_read(LINE);
    flows(flow);
    for (i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        const dregs_size_sureness *sure;
        ck_assert_int_eq(ask("r.flow=0.1..90 L/h", shares[i], DRAWS, 0), DREGS_OK);
        sure = result->sureness;
        found = dregs_sized_value(result->sized, 0);
        ck_assert(result->met && sure->reached && sure->met.value >= shares[i]);
        ck_assert(found >= last);
        last = found;
        if (shares[i] < 0.5) { /* what just meets the target is sure enough, and the least */
            ck_assert_ptr_null(sure->just);
            ck_assert_near(found, flow_of(20e-6), 1e-6, "as stated");
            continue;
        }
        ck_assert_near(found, flow[rank_of(shares[i], DRAWS) - 1], 3e-5, "%g", shares[i]);
        ck_assert(sure->met.low >= shares[i]);
        ck_assert(sure->met.value < share_of(shares[i], DRAWS) + 1.5 / DRAWS);
        ck_assert_near(dregs_sized_value(sure->just, 0), flow_of(20e-6), 1e-6, "just");
    }
}
END_TEST

/* Against the distribution itself: the film that is not passed with 95 % and what the draws leave
 * open, to 4 standard errors of an order statistic of so many. */
START_TEST(the_flow_is_that_of_the_quantile)
{
    double s = sqrt(log1p(0.09)), share = share_of(0.95, DRAWS);
    double z = gsl_cdf_ugaussian_Pinv(share), film, error;

    line = lines_read(LINE "limit,confidence,95,%\n"); /* the target's own */
    ck_assert_int_eq(ask("r.flow=0.1..90 L/h", NAN, DRAWS, 0), DREGS_OK);
    film = 20e-6 * exp(s * z - s * s / 2);
    error = s * sqrt(share * (1 - share) / DRAWS) / (exp(-z * z / 2) / sqrt(2 * acos(-1)));
    ck_assert(fabs(result->sureness->confidence - 0.95) < 1e-12);
    ck_assert(dregs_sized_value(result->sized, 0) > flow_of(film * exp(-4 * error)));
    ck_assert(dregs_sized_value(result->sized, 0) < flow_of(film * exp(4 * error)));
}
END_TEST

/* Without a confidence the answer is that of the stated values, met where the film is below its
 * mean: with a lognormal film in Phi(s/2) of all draws. */
START_TEST(the_probability_of_what_just_meets_it)
{
    double s = sqrt(log1p(0.09)), share = gsl_cdf_ugaussian_P(s / 2);

    line = lines_read(LINE);
    ck_assert_int_eq(ask("r.flow=0.1..90 L/h", NAN, DRAWS, 0), DREGS_OK);
    ck_assert(isnan(result->sureness->confidence) && result->met && !result->sureness->just);
    ck_assert(fabs(result->sureness->met.value - share) < 4 * sqrt(0.25 / DRAWS));
    ck_assert_int_eq(ask("r.flow=0.1..90 L/h", NAN, 0, 0), DREGS_OK);
    ck_assert_uint_eq(result->sureness->draws, 0);
}
END_TEST

/* The range ends before it is sure enough: the largest share is that of the draws whose flow lies
 * in it, and the answer is what just meets the target. */
START_TEST(a_range_that_is_too_short)
{
    double flow[DRAWS];
    unsigned below = 0;

    line = lines_read(LINE);
    flows(flow);
    while (below < DRAWS && flow[below] <= 0.4e-3 / 3600)
        below++;
    ck_assert(below > DRAWS / 2 && below < DRAWS);
    ck_assert_int_eq(ask("r.flow=0.1..0.4 L/h", 0.99, DRAWS, 0), DREGS_OK);
    ck_assert(!result->met && !result->sureness->reached && !result->sureness->just);
    ck_assert(!result->sureness->open);
    ck_assert(fabs(result->sureness->best - (double)below / DRAWS) < 1e-12);
    ck_assert_near(dregs_sized_value(result->sized, 0), flow_of(20e-6), 1e-6, "as stated");
}
END_TEST

/* The wash takes 20 loads of soil into 20 L, its film next to nothing out: at its limit of 3 mg/L
 * the draws with more than 3 mg a load are lost, whatever flows through the rinse. */
START_TEST(a_bath_that_keeps_it_from_being_sure)
{
    dregs_ensemble *ensemble;
    const dregs_bound *keeps;
    unsigned i, beyond = 0;

    line = lines_read("item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\n"
                      "tray,area,100,cm2\ntray,interval,500,s\noil,kind,solute\n"
                      "oil,on parts,2.4,mg,30%\nw,kind,liquid\nw,solvent,water\nb,kind,wash\n"
                      "b,volume,20,L\nb,liquid,w\nb,removal,100,%\nb,dump every,20\n"
                      "b,film,0.001,um\nb,most oil,3,mg/L\nr,kind,rinse\nr,volume,20,L\n"
                      "r,liquid,w\nr,flow,9,L/h\nr,film,20,um\nlimit,kind,target\n"
                      "limit,residue,0.01,ug/cm2\n");
    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, NULL), DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 1);
    for (i = 0; i < 400; i++)
        beyond += dregs_ensemble_draw(ensemble, i, 0) > 3e-6;
    dregs_ensemble_free(ensemble);
    ck_assert(beyond > 40 && beyond < 160);
    ck_assert_int_eq(ask("r.flow", 0.95, 400, 0), DREGS_OK);
    ck_assert(!result->met && !result->sureness->reached && !result->sureness->open);
    ck_assert(fabs(result->sureness->best - (1 - beyond / 400.0)) < 1e-12);
    keeps = result->sureness->keeps;
    ck_assert_ptr_nonnull(keeps);
    ck_assert(keeps->kind == DREGS_BOUND_MOST && keeps->stage == 0 && keeps->solute == 0);
    ck_assert(fabs(result->sureness->kept - beyond / 400.0) < 1e-12);
}
END_TEST

/* The bath stands at 9/10 of its limit as stated, whatever flows through the rinse, so that no
 * answer keeps less of every limit than that; the rinse is to be sure all the same with the least
 * flow that is. The wash's film has no spread and its bath none: each draw scales both residue and
 * bath by its soil, so that the least flow for a share is that whose residue, at its stated soil,
 * is the limit over the soil of that rank. */
START_TEST(a_bath_that_keeps_no_margin_does_not_ask_for_more_flow)
{
    static const char text[] =
        "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"
        "tray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg,%s\nw,kind,liquid\n"
        "w,solvent,water\nb,kind,wash\nb,volume,20,L\nb,liquid,w\nb,removal,100,%%\n"
        "b,dump every,20\nb,film,20,um\nb,most oil,2.6565,mg/L\nr,kind,rinse\nr,volume,20,L\n"
        "r,liquid,w\nr,film,20,um\nr,flow,9,L/h\nlimit,kind,target\nlimit,residue,%.17g,ug/cm2\n";
    dregs_ensemble *ensemble;
    double soil[400], least, limit = 2e-5;
    unsigned rank = rank_of(0.7, 400);
    char with[1024];
    unsigned i;

    snprintf(with, sizeof with, text, "10%", limit);
    line = lines_read(with);
    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, NULL), DREGS_OK);
    for (i = 0; i < 400; i++)
        soil[i] = dregs_ensemble_draw(ensemble, i, 0) / 2.4e-6;
    dregs_ensemble_free(ensemble);
    qsort(soil, 400, sizeof *soil, by_size);
    ck_assert(soil[rank - 1] > 1 && soil[rank - 1] < 1 / 0.9); /* within the bath's limit */
    ck_assert_int_eq(ask("r.flow", 0.7, 400, 0), DREGS_OK);
    ck_assert(result->met && result->sureness->reached);
    ck_assert(result->sureness->met.low >= 0.7 && result->sureness->met.value < (rank + 1.5) / 400);
    least = dregs_sized_value(result->sized, 0);
    teardown();
    snprintf(with, sizeof with, text, "", limit / soil[rank - 1]);
    line = lines_read(with);
    ck_assert_int_eq(ask("r.flow", NAN, 0, 0), DREGS_OK);
    ck_assert_near(least, dregs_sized_value(result->sized, 0), 3e-5, "70 %%");
}
END_TEST

START_TEST(threads_change_no_bit)
{
    double one, share;
    unsigned threads;

    line = lines_read(LINE);
    ck_assert_int_eq(ask("r.flow=0.1..90 L/h", 0.9, 500, 1), DREGS_OK);
    one = dregs_sized_value(result->sized, 0);
    share = result->sureness->met.value;
    for (threads = 2; threads <= 7; threads += 5) {
        ck_assert_int_eq(ask("r.flow=0.1..90 L/h", 0.9, 500, threads), DREGS_OK);
        ck_assert(dregs_sized_value(result->sized, 0) == one);
        ck_assert(result->sureness->met.value == share);
    }
}
END_TEST

/* The share of the same draws that a prediction of the written line meets. */
static double predicted(const char *text, size_t length, uint64_t draws)
{
    dregs_doubt_request asked;
    dregs_predict_request request;
    dregs_predict_result *predicted;
    dregs_predict_doubt *doubt;
    dregs_line *written;
    double met;

    ck_assert_int_eq(
        dregs_line_parse("w.csv", text, length, dregs_line_liquids(line), &written, NULL),
        DREGS_OK);
    dregs_predict_request_init(&request);
    ck_assert_int_eq(dregs_predict_answer(written, &request, &predicted), DREGS_OK);
    dregs_doubt_request_init(&asked);
    asked.draws = draws;
    ck_assert_int_eq(dregs_predict_doubt_ask(predicted, &asked, &doubt, NULL), DREGS_OK);
    met = doubt->met.value;
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(predicted);
    dregs_line_free(written);
    return met;
}

/* A whole number: as many loads between dumps as are met so often, and one more is not. */
START_TEST(a_dump_period_is_the_longest_that_is_met_so_often)
{
    char text[1024];
    size_t length;
    const char *written;
    int loads, k;

    line = lines_read(HEAD "r,film,20,um,30%\nr,dump every,3\n");
    ck_assert_int_eq(ask("r.dump every", 0.9, 300, 0), DREGS_OK);
    ck_assert(result->sureness->reached && result->sureness->just);
    loads = (int)dregs_sized_value(result->sized, 0);
    ck_assert(loads < (int)dregs_sized_value(result->sureness->just, 0));
    written = dregs_sized_text(result->sized, &length);
    ck_assert(predicted(written, length, 300) == result->sureness->met.value);
    for (k = 0; k <= 1; k++) {
        snprintf(text, sizeof text, "%sr,film,20,um,30%%\nr,dump every,%d\n", HEAD, loads + k);
        ck_assert((predicted(text, strlen(text), 300) >= share_of(0.9, 300)) == (k == 0));
    }
}
END_TEST

/* ---- several properties ---- */

enum { GRID = 7, FEW = 100 };

/* A bath that no rinse moves, near a limit of its own, and two rinses with a feed each. */
struct two_rinses {
    const char *bath, *target;
    double share;
};

static void write_two(const struct two_rinses *two, double first, double last, char text[1536])
{
    snprintf(text, 1536,
             "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\n"
             "tray,area,100,cm2\ntray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg,10%%\n"
             "soap,kind,solute\nw,kind,liquid\nw,solvent,water\nc,kind,liquid\n"
             "c,solvent,water\nc,soap,10,g/L\nb,kind,wash\nb,volume,20,L\nb,liquid,c\n"
             "b,dump every,20\nb,film,20,um,30%%\n%sfirst,kind,rinse\nfirst,volume,20,L\n"
             "first,liquid,w\nfirst,film,20,um,30%%\nfirst,flow,%.17g,L/h\nlast,kind,rinse\n"
             "last,volume,20,L\nlast,liquid,w\nlast,film,20,um,30%%\nlast,flow,%.17g,L/h\n"
             "limit,kind,target\n%s",
             two->bath, first, last, two->target);
}

/* What the flows of a grid take at least, L/h, in so many of the same draws. */
static double least_of_grid(const struct two_rinses *two)
{
    double least = HUGE_VAL;
    char text[1536];
    int i, k;

    for (i = 0; i < GRID; i++)
        for (k = 0; k < GRID; k++) {
            double first = pow(10, -1 + 3.0 * i / (GRID - 1));
            double last = pow(10, -1 + 3.0 * k / (GRID - 1));
            write_two(two, first, last, text);
            if (first + last < least &&
                predicted(text, strlen(text), FEW) >= share_of(two->share, FEW))
                least = first + last;
        }
    return least;
}

/* Sizes both flows, and says what they take, L/h. */
static double both_flows(const struct two_rinses *two)
{
    const char *names[] = {"first.flow=0.1..100 L/h", "last.flow=0.1..100 L/h"};
    dregs_size_request request;
    const char *written;
    char text[1536];
    size_t length;
    unsigned i;

    write_two(two, 9, 9, text);
    line = lines_read(text);
    dregs_size_request_init(&request);
    varied = dregs_varied_new(line);
    for (i = 0; i < 2; i++)
        ck_assert_int_eq(dregs_varied_read(varied, names[i], message), DREGS_OK);
    request.varied = varied;
    request.confidence = two->share;
    request.draws = FEW;
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_OK);
    if (!result->sureness->reached)
        return HUGE_VAL;
    ck_assert(result->met && result->sureness->met.low >= two->share);
    written = dregs_sized_text(result->sized, &length);
    ck_assert(predicted(written, length, FEW) == result->sureness->met.value);
    return (dregs_sized_value(result->sized, 0) + dregs_sized_value(result->sized, 1)) * 3.6e6;
}

/* The same with the flow of one rinse, the other's as stated. */
static double one_flow(const char *what, double share)
{
    ck_assert_int_eq(ask(what, share, FEW, 0), DREGS_OK);
    return result->sureness->reached ? dregs_sized_value(result->sized, 0) * 3.6e6 + 9 : HUGE_VAL;
}

/* Whatever limit it is that the rinses do not move: that of the bath, where it is
 * 20 x 2.4 mg / 20 L = 2.4 mg/L of 2.6, or that of the soil that adheres, 2.4 mg x 0.05 / 100 cm2 =
 * 1.2 ug/cm2 of 1.33; or none. Of a grid of flows no pair is to take less than the answer by more
 * than 3 %, for the split of the safety. */
START_TEST(several_are_never_dearer_than_one_or_than_a_grid)
{
    static const char bath[] = "b,removal,100,%\nb,most oil,2.6,mg/L\n";
    static const char adheres[] =
        "limit,residue oil,1.33,ug/cm2\nlimit,residue soap,0.0001,ug/cm2\n";
    static const char residue[] = "limit,residue,0.0001,ug/cm2\n";
    static const struct two_rinses cases[] = {
        {bath, residue, 0.6},
        {"b,removal,95,%\n", adheres, 0.7},
        {"b,removal,100,%\n", residue, 0.95},
    };
    double several, first, last, grid;
    size_t i;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        several = both_flows(&cases[i]);
        first = one_flow("first.flow=0.1..100 L/h", cases[i].share);
        last = one_flow("last.flow=0.1..100 L/h", cases[i].share);
        grid = least_of_grid(&cases[i]);
        ck_assert_msg(isfinite(grid), "case %zu: the grid meets nothing", i);
        ck_assert_msg(several <= grid * 1.03, "case %zu: %g, a grid %g", i, several, grid);
        ck_assert_msg(several <= fmin(first, last) * (1 + 1e-4), "case %zu: %g, alone %g and %g", i,
                      several, first, last);
        teardown();
    }
}
END_TEST

/* The rinse overflows into the bath: more flow makes its soap thinner, less leaves more residue,
 * and each end of the range misses one of both limits. With soap enough there are flows between
 * that are sure enough, with hardly any there are none: the grid says so, a search cannot. */
START_TEST(limits_against_each_other_are_not_called_impossible)
{
    static const char form[] =
        "item,property,value,unit,spread\ntray,kind,load\ntray,parts,1,1\ntray,area,100,cm2\n"
        "tray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg\nsoap,kind,solute\n"
        "w,kind,liquid\nw,solvent,water\nc,kind,liquid\nc,solvent,water\nc,soap,10,g/L\n"
        "b,kind,wash\nb,volume,20,L\nb,liquid,c\nb,dump every,20\nb,removal,100,%%\n"
        "b,film,20,um,30%%\nb,least soap,%g,g/L\nlast,kind,rinse\nlast,volume,20,L\n"
        "last,liquid,w\nlast,film,20,um,30%%\nlast,flow,%.17g,L/h\nlast,overflow to,b\n"
        "limit,kind,target\nlimit,residue,0.3,ug/cm2\n";
    static const double soap[] = {9.2, 9.86};
    char text[1536];
    int i, k, some;

    for (i = 0; i < 2; i++) {
        snprintf(text, sizeof text, form, soap[i], 1.0);
        line = lines_read(text);
        ck_assert_int_eq(ask("last.flow=0.1..50 L/h", 0.95, FEW, 0), DREGS_OK);
        for (some = k = 0; k <= 40; k++) {
            snprintf(text, sizeof text, form, soap[i], 0.1 * pow(500, k / 40.0));
            some |= predicted(text, strlen(text), FEW) >= share_of(0.95, FEW);
        }
        ck_assert_int_eq(some, i == 0);
        ck_assert_int_eq(result->met, some);
        ck_assert_int_eq(result->sureness->reached, some);
        ck_assert_int_eq(result->sureness->open, !some);
        teardown();
    }
}
END_TEST

START_TEST(layouts_are_as_sure)
{
    dregs_size_request request;
    size_t i, length, met = 0, over = 0;

    line =
        lines_read("item,property,value,unit,spread\ntray,kind,load\ntray,parts,4,1\n"
                   "tray,area,100,cm2\ntray,interval,500,s\noil,kind,solute\noil,on parts,2.4,mg\n"
                   "w,kind,liquid\nw,solvent,water\nb,kind,wash\nb,volume,20,L\nb,liquid,w\n"
                   "b,removal,100,%\nb,dump every,20\nb,film,20,um,30%\nr,kind,rinse\n"
                   "r,volume,20,L\nr,liquid,w\nr,flow,9,L/h\nr,film,20,um,30%\n"
                   "limit,kind,target\nlimit,residue,0.01,ug/cm2\n");
    dregs_size_request_init(&request);
    request.first = 1;
    request.last = 2;
    request.draws = 100;
    request.confidence = 0.9;
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_OK);
    for (i = 0; i < result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(result, i);
        const char *text;
        if (row->possible && row->sureness->passed_over) { /* beaten even as it just meets it */
            const dregs_size_row *by = dregs_size_result_row(result, (size_t)row->dominated);
            over++;
            ck_assert(row->dominated >= 0 && by->sureness->reached);
            ck_assert(dregs_sized_use(by->sized)->bought <=
                      dregs_sized_use(row->sized)->bought * (1 + 1e-9));
        }
        if (!row->possible || !row->sureness->reached)
            continue;
        met++;
        text = dregs_sized_text(row->sized, &length);
        ck_assert(row->sureness->met.low >= 0.9);
        ck_assert(predicted(text, length, 100) == row->sureness->met.value);
        if (row->sureness->just)
            ck_assert(dregs_sized_use(row->sized)->bought >=
                      dregs_sized_use(row->sureness->just)->bought);
    }
    ck_assert_uint_ge(met, 2);
    ck_assert_uint_ge(met + over, 8);
    ck_assert_uint_eq(met, result->rows_met);
}
END_TEST

START_TEST(what_cannot_be_asked)
{
    static const double none[] = {0, 1, -0.5, 95, INFINITY};
    size_t i;

    line = lines_read(LINE);
    for (i = 0; i < sizeof none / sizeof none[0]; i++)
        ck_assert_int_eq(ask("r.flow", none[i], 10, 0), DREGS_DOMAIN);
    ck_assert_int_eq(ask("r.flow", 0.9, 0, 0), DREGS_DOMAIN);
    ck_assert_int_eq(ask("r.flow", 0.9, DREGS_SIZE_DRAWS_MOST + 1, 0), DREGS_DOMAIN);
    ck_assert_int_eq(ask("r.flow", 0.9, 10, DREGS_THREADS_MOST + 1), DREGS_DOMAIN);
    ck_assert_ptr_null(result);
    teardown();
    line = lines_read(HEAD "r,flow,9,L/h\nr,film,20,um\n");
    ck_assert_int_eq(ask("r.flow", 0.9, 100, 0), DREGS_BAD_DATA);
    ck_assert(strstr(message, "no value that matters here has a spread"));
    teardown();
    line = lines_read(LINE "r,exchange,99.8,%,5%\n");
    ck_assert_int_eq(ask("r.flow", 0.9, 100, 0), DREGS_BAD_DATA);
    ck_assert(strstr(message, "a share of 99.8 % cannot have a spread"));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("size doubt");
    TCase *of_lines = tcase_create("lines");

    gsl_set_error_handler_off();
    tcase_add_checked_fixture(of_lines, NULL, teardown);
    tcase_set_timeout(of_lines, 120);
    tcase_add_test(of_lines, the_flow_is_that_of_the_draw_of_its_rank);
    tcase_add_test(of_lines, the_flow_is_that_of_the_quantile);
    tcase_add_test(of_lines, the_probability_of_what_just_meets_it);
    tcase_add_test(of_lines, a_range_that_is_too_short);
    tcase_add_test(of_lines, a_bath_that_keeps_it_from_being_sure);
    tcase_add_test(of_lines, a_bath_that_keeps_no_margin_does_not_ask_for_more_flow);
    tcase_add_test(of_lines, threads_change_no_bit);
    tcase_add_test(of_lines, a_dump_period_is_the_longest_that_is_met_so_often);
    tcase_add_test(of_lines, several_are_never_dearer_than_one_or_than_a_grid);
    tcase_add_test(of_lines, limits_against_each_other_are_not_called_impossible);
    tcase_add_test(of_lines, layouts_are_as_sure);
    tcase_add_test(of_lines, what_cannot_be_asked);
    suite_add_tcase(suite, of_lines);
    return run(suite);
}
