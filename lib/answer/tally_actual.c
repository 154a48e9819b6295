/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_actual.c: purchases beside the line's own year. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>

static const dregs_stream put_in[] = {DREGS_STREAM_FILLED, DREGS_STREAM_FED, DREGS_STREAM_TOPPED,
                                      DREGS_STREAM_REFILLED, DREGS_STREAM_SPRAYED};
static const dregs_stream drained[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                       DREGS_STREAM_BLOWN_OFF};

const char *dregs_tally_measure_name(dregs_tally_measure measure)
{
    static const char *const names[] = {"supplied", "removed", "other losses"};

    return (unsigned)measure < DREGS_TALLY_MEASURES ? names[measure] : NULL;
}

double dregs_answer_tally_modelled(const dregs_tally_actual *actual, const dregs_tally *tally,
                                   unsigned fluid, dregs_tally_measure measure, unsigned month)
{
    const dregs_line *line = dregs_tally_line(tally);
    double in = 0, out = 0;
    unsigned i, k;

    for (k = 0; k < sizeof put_in / sizeof put_in[0]; k++)
        in += dregs_tally_fluid(tally, put_in[k], fluid, DREGS_WHOLE, month);
    for (i = 0; i < dregs_line_stages(line); i++) {
        if (dregs_line_waste_as(line, i) != dregs_line_fluid(line, fluid))
            continue;
        out += dregs_tally_volume(tally, DREGS_STREAM_DUMPED, i, month) +
               dregs_tally_volume(tally, DREGS_STREAM_COLLECTED, i, month);
        for (k = 0; actual->covered.drain_is_waste && k < sizeof drained / sizeof drained[0]; k++)
            out += dregs_tally_volume(tally, drained[k], i, month);
    }
    return measure == DREGS_TALLY_PUT_IN ? in : measure == DREGS_TALLY_TAKEN_OUT ? out : in - out;
}

/* ---- measured ---- */

/* Adds, or with a sign of -1 takes off, what the rows of a kind come to. */
static void add_sum(dregs_purchase_sum *sum, double sign, const dregs_purchase_sum *of)
{
    sum->volume += sign * of->volume;
    sum->sd = hypot(sum->sd, of->sd);
    sum->rows += of->rows;
    sum->silent += of->silent;
}

/* Which kinds make up a measure, with their signs: of the difference of both what was recovered is
 * in both and drops out. */
static const signed char counts_as[DREGS_TALLY_MEASURES][DREGS_PURCHASE_KINDS] = {
    [DREGS_TALLY_PUT_IN] = {[DREGS_PURCHASE_BOUGHT] = 1, [DREGS_PURCHASE_RECOVERED] = 1},
    [DREGS_TALLY_TAKEN_OUT] = {[DREGS_PURCHASE_DISPOSED] = 1,
                               [DREGS_PURCHASE_RECOVERED] = 1,
                               [DREGS_PURCHASE_SOLD] = 1,
                               [DREGS_PURCHASE_ELSEWHERE] = 1},
    [DREGS_TALLY_GONE] = {[DREGS_PURCHASE_BOUGHT] = 1,
                          [DREGS_PURCHASE_DISPOSED] = -1,
                          [DREGS_PURCHASE_SOLD] = -1,
                          [DREGS_PURCHASE_ELSEWHERE] = -1},
};

/* Was the stock of fresh liquid counted at both ends of these months? What was bought is used then
 * but for the difference. */
static int is_counted(const dregs_tally_bought_liquid *l, dregs_tally_measure measure,
                      unsigned first, unsigned last)
{
    return l->counted && measure != DREGS_TALLY_TAKEN_OUT && first == 1 && last == DREGS_MONTHS;
}

static dregs_purchase_sum measured(const dregs_tally_actual *actual,
                                   const dregs_tally_bought_liquid *l, dregs_tally_measure measure,
                                   unsigned first, unsigned last)
{
    dregs_purchase_sum all = {0}, one;
    unsigned k;

    for (k = 0; k < DREGS_PURCHASE_KINDS; k++)
        if (counts_as[measure][k] &&
            !dregs_purchases_sum(actual->purchases, l->fluid, (dregs_purchase_kind)k,
                                 actual->covered.year, first, last, &one))
            add_sum(&all, counts_as[measure][k], &one);
    if (is_counted(l, measure, first, last)) {
        add_sum(&all, 1, &l->stock[0].sum);
        add_sum(&all, -1, &l->stock[1].sum);
    }
    return all;
}

/* Standard deviation of the rows, NaN where none states one. */
static double sd_of(const dregs_purchase_sum *sum)
{
    return sum->rows > sum->silent ? sum->sd : NAN;
}

/* Is a row of the whole file of a kind? */
static int has_kind(const dregs_tally_actual *actual, unsigned fluid, dregs_purchase_kind kind)
{
    const dregs_purchase *row;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(actual->purchases, i)) != NULL; i++)
        if (row->fluid == fluid && row->kind == kind)
            return 1;
    return 0;
}

/* The lot of a kind: the largest row of it in the whole file. */
static double largest(const dregs_tally_actual *actual, unsigned fluid, dregs_purchase_kind kind)
{
    const dregs_purchase *row;
    double most = NAN;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(actual->purchases, i)) != NULL; i++)
        if (row->fluid == fluid && row->kind == kind)
            most = fmax(most, row->volume);
    return most;
}

/* A stock of fresh liquid at one side and of waste at the other; what is not there adds nothing. */
static double both_lots(double in, double out)
{
    if (isnan(in) && isnan(out))
        return NAN;
    return hypot(isnan(in) ? 0 : in, isnan(out) ? 0 : out);
}

/* The counts at both ends of the year; of one alone nothing follows. */
static void take_stock(const dregs_tally_actual *actual, dregs_tally_bought_liquid *l)
{
    unsigned end, counts = 0;

    for (end = 0; end < 2; end++)
        counts += (unsigned)dregs_purchases_stock(actual->purchases, l->fluid,
                                                  actual->covered.year + (int)end, &l->stock[end]);
    l->counted = counts == 2;
}

static void describe(dregs_tally_actual *actual, dregs_tally_bought_liquid *l)
{
    unsigned m;

    take_stock(actual, l);
    for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
        dregs_purchase_sum sum = measured(actual, l, (dregs_tally_measure)m, 1, DREGS_MONTHS);
        l->rows[m] = sum.rows;
        l->silent[m] = sum.silent;
        l->shown[m] = sum.rows > 0;
        l->in_file |= sum.rows > 0;
    }
    l->recovered = has_kind(actual, l->fluid, DREGS_PURCHASE_RECOVERED);
    l->shown[DREGS_TALLY_GONE] = l->shown[DREGS_TALLY_PUT_IN] && l->shown[DREGS_TALLY_TAKEN_OUT];
    l->lot[DREGS_TALLY_PUT_IN] = largest(actual, l->fluid, DREGS_PURCHASE_BOUGHT);
    l->lot[DREGS_TALLY_TAKEN_OUT] = fmax(fmax(largest(actual, l->fluid, DREGS_PURCHASE_DISPOSED),
                                              largest(actual, l->fluid, DREGS_PURCHASE_SOLD)),
                                         largest(actual, l->fluid, DREGS_PURCHASE_ELSEWHERE));
    l->lot[DREGS_TALLY_GONE] = both_lots(l->lot[DREGS_TALLY_PUT_IN], l->lot[DREGS_TALLY_TAKEN_OUT]);
}

/* ---- both ---- */

/* What is counted is not in doubt by a lot of it. */
static double lot_of(const dregs_tally_bought_liquid *l, dregs_tally_measure m, unsigned first,
                     unsigned last)
{
    if (!is_counted(l, m, first, last))
        return l->lot[m];
    return m == DREGS_TALLY_GONE ? l->lot[DREGS_TALLY_TAKEN_OUT] : 0;
}

static void compare(const dregs_tally_actual *actual, dregs_tally_bought_liquid *l,
                    dregs_tally_measure m, unsigned first, unsigned last, dregs_tally_both *f)
{
    dregs_purchase_sum sum = measured(actual, l, m, first, last);
    double model = 0;
    unsigned p;

    for (p = first; p <= last; p++)
        model += dregs_answer_tally_modelled(actual, actual->tally, l->fluid, m, p - 1);
    f->measured = sum.volume;
    f->modelled = model;
    (void)dregs_unexplained_work(f->measured, sd_of(&sum), lot_of(l, m, first, last), model, NAN,
                                 &f->unexplained);
    f->scatter = !(f->unexplained.ratio > 2);
}

static void fill_liquid(dregs_tally_actual *actual, dregs_tally_bought_liquid *l)
{
    unsigned m, p;

    for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
        dregs_tally_both *all = &l->so_far[m][actual->covered.last - 1];
        for (p = actual->covered.first; p <= actual->covered.last; p++) {
            compare(actual, l, (dregs_tally_measure)m, p, p, &l->month[m][p - 1]);
            compare(actual, l, (dregs_tally_measure)m, actual->covered.first, p,
                    &l->so_far[m][p - 1]);
        }
        l->whole[m] = *all;
    }
    for (p = actual->covered.first - 1; p < actual->covered.last; p++)
        l->reclaimed += dregs_tally_reclaimed(actual->tally, l->fluid, DREGS_WHOLE, p);
}

/* The year that is looked at, and which of its months. */
static dregs_status choose_year(dregs_tally_actual *actual, int year, dregs_faults *faults)
{
    dregs_tally_covered *c = &actual->covered;
    const dregs_purchase *row;

    c->year = year ? year : dregs_purchases_year(actual->purchases, NULL);
    if (!dregs_purchases_covered(actual->purchases, c->year, &c->first, &c->last))
        return dregs_fault_add(faults, DREGS_OUT_OF_RANGE, 0, "no row reaches the year %d",
                               c->year);
    /* what is set beside a month is the same month */
    if (actual->dates && (dregs_tally_dated(actual->tally)->year != c->year ||
                          dregs_tally_dated(actual->tally)->month != 1))
        return dregs_fault_add(faults, DREGS_OUT_OF_RANGE, 0,
                               "its year is %d, and the line's begins with %d-%02u", c->year,
                               dregs_tally_dated(actual->tally)->year,
                               dregs_tally_dated(actual->tally)->month);
    c->full = c->first == 1 && c->last == 12;
    for (; (row = dregs_purchases_at(actual->purchases, c->rows)) != NULL; c->rows++)
        c->by_mass |= row->by_mass;
    return DREGS_OK;
}

static dregs_status fill_liquids(dregs_tally_actual *actual)
{
    unsigned i, m;

    actual->liquid = calloc(actual->liquids + 1, sizeof *actual->liquid);
    if (!actual->liquid)
        return DREGS_NO_MEMORY;
    for (i = 0; i < actual->liquids; i++) {
        actual->liquid[i].fluid = i;
        actual->liquid[i].name = dregs_line_fluid(actual->line, i)->name;
        actual->liquid[i].density = dregs_tally_density(actual->tally, i);
        describe(actual, &actual->liquid[i]);
        fill_liquid(actual, &actual->liquid[i]);
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            actual->covered.compared += actual->liquid[i].shown[m] != 0;
    }
    return DREGS_OK;
}

static dregs_status fill(dregs_tally_actual *actual, const dregs_tally_result *answer,
                         dregs_faults *faults)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_status status =
        dregs_answer_tally_year_of(answer, &actual->tally, &actual->own_year, message);

    if (status)
        return dregs_fault_add(faults, status, 0, "%.200s: purchases need a year of the line: %s",
                               dregs_line_name(actual->line),
                               *message ? message : dregs_status_text(status));
    status = choose_year(actual, answer->question.year, faults);
    return status ? status : fill_liquids(actual);
}

dregs_status dregs_answer_tally_actual_new(const dregs_tally_result *answer,
                                           dregs_tally_actual **actual, dregs_faults *faults)
{
    dregs_tally_actual *made = calloc(1, sizeof *made);
    dregs_status status;

    if (!made)
        return DREGS_NO_MEMORY;
    made->line = answer->line[0].one.line;
    made->liquids = dregs_line_fluids(made->line);
    made->purchases = answer->question.purchases;
    made->covered.drain_is_waste = answer->question.site->drain == DREGS_SITE_COLLECTED;
    made->covered.running = answer->question.span.running;
    made->dates = answer->question.dates;
    status = fill(made, answer, faults);
    if (status)
        dregs_answer_tally_actual_free(made);
    else
        *actual = made;
    return status;
}

void dregs_answer_tally_actual_free(dregs_tally_actual *actual)
{
    if (!actual)
        return;
    free(actual->liquid);
    dregs_answer_tally_log_free(&actual->logged);
    dregs_tally_free(actual->own_year);
    free(actual);
}

/* ---- reading ---- */

const dregs_tally_covered *dregs_tally_actual_covered(const dregs_tally_actual *actual)
{
    return &actual->covered;
}

const dregs_purchases *dregs_tally_actual_purchases(const dregs_tally_actual *actual)
{
    return actual->purchases;
}

const dregs_tally_bought_liquid *dregs_tally_actual_liquid(const dregs_tally_actual *actual,
                                                           unsigned fluid)
{
    return fluid < actual->liquids ? &actual->liquid[fluid] : NULL;
}
