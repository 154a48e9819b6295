/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_cells.c: which parts of a tally draws are asked of beyond its whole: the streams and costs
 * of each stage, or of each month, and what months and months in a row come to. A stream that the
 * line as stated does not have is not asked of a draw either.
 */
#include "answer/tally.h"

#include <math.h>
#include <stdlib.h>

/* ---- streams ---- */

static double value_of(const dregs_tally *tally, const struct tally_cell *c)
{
    if (c->stream == DREGS_STREAM_COUNT)
        return dregs_tally_reclaimed(tally, c->index, c->stage, c->period);
    switch (c->kind) {
    case DREGS_TALLY_SOLUTES:
        return dregs_tally_solute(tally, c->stream, c->index, c->stage, c->period);
    case DREGS_TALLY_ALL:
        return dregs_tally_volume(tally, c->stream, c->stage, c->period);
    default:
        return dregs_tally_fluid(tally, c->stream, c->index, c->stage, c->period);
    }
}

static dregs_status add(struct tally_cells *cells, const struct tally_cell *c)
{
    if (cells->count == TALLY_CELLS_MOST) {
        cells->left_out++;
        return DREGS_OK;
    }
    if (cells->count == cells->room) {
        unsigned room = cells->room ? 2 * cells->room : 128;
        struct tally_cell *larger = realloc(cells->cell, room * sizeof *larger);
        if (!larger)
            return DREGS_NO_MEMORY;
        cells->cell = larger;
        cells->room = room;
    }
    cells->cell[cells->count++] = *c;
    return DREGS_OK;
}

/* What is rounding of the whole is no stream. */
static dregs_status add_streams(struct tally_cells *cells, const dregs_tally *tally,
                                struct tally_cell c)
{
    int last = c.kind == DREGS_TALLY_VOLUMES ? DREGS_STREAM_COUNT : DREGS_STREAM_COUNT - 1, i;
    dregs_status status = DREGS_OK;

    for (i = 0; i <= last && !status; i++) {
        double value;
        c.stream = (dregs_stream)i;
        value = value_of(tally, &c);
        if (value != 0 && !dregs_tally_is_rounding(tally, c.kind, c.index, value))
            status = add(cells, &c);
    }
    return status;
}

static dregs_status add_part(struct tally_cells *cells, const dregs_tally *tally, unsigned stage,
                             unsigned period)
{
    const dregs_line *line = dregs_tally_line(tally);
    const struct {
        dregs_tally_kind kind;
        unsigned count;
    } kinds[] = {{DREGS_TALLY_VOLUMES, dregs_line_fluids(line)},
                 {DREGS_TALLY_SOLUTES, dregs_line_solutes(line)},
                 {DREGS_TALLY_ALL, dregs_line_fluids(line) > 1}};
    struct tally_cell c = {.stage = stage, .period = period};
    dregs_status status = DREGS_OK;
    unsigned k;

    for (k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        c.kind = kinds[k].kind;
        for (c.index = 0; c.index < kinds[k].count && !status; c.index++)
            status = add_streams(cells, tally, c);
    }
    return status;
}

static int compare(const void *a, const void *b)
{
    const struct tally_cell *one = a, *other = b;
    const unsigned left[] = {one->stage, one->period, one->kind, one->index, (unsigned)one->stream},
                   right[] = {other->stage, other->period, other->kind, other->index,
                              (unsigned)other->stream};
    unsigned i;

    for (i = 0; i < sizeof left / sizeof left[0]; i++)
        if (left[i] != right[i])
            return left[i] < right[i] ? -1 : 1;
    return 0;
}

dregs_status dregs_answer_tally_cells_of(const dregs_tally *tally, unsigned parts,
                                         struct tally_cells *cells)
{
    unsigned stages = dregs_line_stages(dregs_tally_line(tally)), i;
    int year = dregs_tally_periods(tally) == DREGS_MONTHS;
    dregs_status status = DREGS_OK;

    cells->stages = parts & DREGS_TALLY_OF_STAGES ? stages : 0;
    cells->months = year && parts & DREGS_TALLY_OF_MONTHS ? DREGS_MONTHS : 0;
    for (i = 0; i < cells->stages && !status; i++)
        status = add_part(cells, tally, i, DREGS_WHOLE);
    for (i = 0; i < cells->months && !status; i++)
        status = add_part(cells, tally, DREGS_WHOLE, i);
    if ((cells->stages || cells->months) && !status) /* of the whole, beside the others */
        status = add_part(cells, tally, DREGS_WHOLE, DREGS_WHOLE);
    if (cells->count)
        qsort(cells->cell, cells->count, sizeof *cells->cell, compare);
    return status;
}

void dregs_answer_tally_cells_free(struct tally_cells *cells)
{
    free(cells->cell);
    cells->cell = NULL;
}

unsigned dregs_answer_tally_cell_at(const struct tally_cells *cells, const struct tally_cell *which)
{
    const struct tally_cell *found =
        cells->count ? bsearch(which, cells->cell, cells->count, sizeof *which, compare) : NULL;

    return found ? (unsigned)(found - cells->cell) : cells->count;
}

void dregs_answer_tally_put_cells(const struct tally_cells *cells, const dregs_tally *tally,
                                  double *into)
{
    unsigned i;

    for (i = 0; i < cells->count; i++)
        into[i] = value_of(tally, &cells->cell[i]);
}

/* ---- costs ---- */

void dregs_answer_tally_put_costs(const dregs_tally *tally, unsigned stage, unsigned period,
                                  double into[DREGS_TALLY_SPENTS])
{
    dregs_tally_cost cost = dregs_tally_costs_of(tally, stage, period);

    into[DREGS_TALLY_SPENT_BOUGHT] = cost.bought;
    into[DREGS_TALLY_SPENT_WASTE] = cost.disposal;
    into[DREGS_TALLY_SPENT_CHANGES] = dregs_tally_change_cost(tally, stage, period);
    into[DREGS_TALLY_SPENT_ALL] = cost.total;
}

/* ---- months ---- */

void dregs_answer_tally_put_sums(const dregs_tally_outline *o, double into[DREGS_TALLY_SUMS])
{
    into[DREGS_TALLY_SUM_BOUGHT] = o->bought;
    into[DREGS_TALLY_SUM_TO_DRAIN] = o->to_drain;
    into[DREGS_TALLY_SUM_TO_WASTE] = o->to_waste;
    into[DREGS_TALLY_SUM_EVAPORATED] = o->evaporated;
    into[DREGS_TALLY_SUM_DRIED] = o->dried;
    into[DREGS_TALLY_SUM_BLOWN_OFF] = o->blown_off;
    into[DREGS_TALLY_SUM_HELD_LAST] = o->held_last;
    into[DREGS_TALLY_SUM_COST] = o->cost;
}

dregs_status dregs_answer_tally_put_months(dregs_tally *tally, double *month, double *over_3,
                                           double *over_12)
{
    struct tally_line *line = calloc(1, sizeof *line);
    unsigned m;

    if (!line)
        return DREGS_NO_MEMORY;
    line->tally = tally;
    dregs_answer_tally_outlines_of(line);
    dregs_answer_tally_over_of(line);
    for (m = 0; m < DREGS_MONTHS; m++) {
        dregs_answer_tally_put_sums(&line->outline[m], month + (size_t)m * DREGS_TALLY_SUMS);
        if (line->has_over[0][m])
            dregs_answer_tally_put_sums(&line->over[0][m], over_3 + (size_t)m * DREGS_TALLY_SUMS);
        if (line->has_over[1][m])
            dregs_answer_tally_put_sums(&line->over[1][m], over_12 + (size_t)m * DREGS_TALLY_SUMS);
    }
    free(line);
    return DREGS_OK;
}
