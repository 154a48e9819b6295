/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_parts.c: what the streams of a tally come to: outlines, stills, what dominates; cells of a
 * table of them.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>

/* ---- outlines ---- */

void dregs_answer_tally_outline_of(const dregs_tally *tally, unsigned period,
                                   dregs_tally_outline *o)
{
    unsigned i;

#define ALL(which) dregs_tally_volume(tally, DREGS_STREAM_##which, DREGS_WHOLE, period)
    o->bought = dregs_tally_bought(tally, DREGS_WHOLE, DREGS_WHOLE, period);
    o->to_drain = ALL(DRAINED) + ALL(RUNOFF) + ALL(BLOWN_OFF);
    o->to_waste = ALL(DUMPED) + ALL(COLLECTED);
    o->evaporated = ALL(EVAPORATED);
    o->evaporated_idle = dregs_tally_evaporated_idle(tally, DREGS_WHOLE, period);
    for (i = 0, o->idle_most = 0; i < dregs_line_stages(dregs_tally_line(tally)); i++) {
        double idle = dregs_tally_evaporated_idle(tally, i, period);
        if (idle > o->idle_most) {
            o->idle_most = idle;
            o->idle_stage = i;
        }
    }
    o->dried = ALL(DRIED);
    o->blown_off = ALL(BLOWN_OFF) + ALL(COLLECTED);
    o->held_last = ALL(HELD_LAST);
    o->cost = dregs_tally_costs(tally, period).total;
#undef ALL
}

void dregs_answer_tally_outlines_of(struct tally_line *line)
{
    unsigned periods = dregs_tally_periods(line->tally), p;

    for (p = 0; p < periods; p++)
        dregs_answer_tally_outline_of(line->tally, p, &line->outline[p]);
    dregs_answer_tally_outline_of(line->tally, DREGS_WHOLE, &line->outline[periods]);
}

/* ---- months in a row ---- */

static void add_outline(dregs_tally_outline *sum, const dregs_tally_outline *o)
{
    sum->bought += o->bought;
    sum->to_drain += o->to_drain;
    sum->to_waste += o->to_waste;
    sum->evaporated += o->evaporated;
    sum->evaporated_idle += o->evaporated_idle;
    sum->dried += o->dried;
    sum->blown_off += o->blown_off;
    sum->cost += o->cost;
    sum->held_last = o->held_last;
    if (o->idle_most > sum->idle_most) {
        sum->idle_most = o->idle_most;
        sum->idle_stage = o->idle_stage;
    }
}

/* The year before is asked for where the line has run. */
static void add_over(struct tally_line *line, unsigned which, unsigned months, unsigned last)
{
    dregs_tally_outline *sum = &line->over[which][last];
    int running = !isnan(dregs_tally_seconds(line->tally, DREGS_BEFORE));
    unsigned earlier = last + 1 < months ? months - last - 1 : 0, m;

    if (earlier && !running)
        return;
    for (m = 0; m < earlier; m++) {
        dregs_tally_outline o = {0};
        dregs_answer_tally_outline_of(line->tally, DREGS_BEFORE + DREGS_MONTHS - earlier + m, &o);
        add_outline(sum, &o);
    }
    for (m = last + 1 - (months - earlier); m <= last; m++)
        add_outline(sum, &line->outline[m]);
    line->has_over[which][last] = 1;
}

void dregs_answer_tally_over_of(struct tally_line *line)
{
    unsigned m;

    for (m = 0; dregs_tally_periods(line->tally) == DREGS_MONTHS && m < DREGS_MONTHS; m++) {
        add_over(line, 0, 3, m);
        add_over(line, 1, DREGS_MONTHS, m);
    }
}

/* ---- what comes back ---- */

static void still_of(struct tally_line *line, unsigned stage, unsigned fluid)
{
    double back = dregs_tally_reclaimed(line->tally, fluid, stage, DREGS_WHOLE);
    dregs_tally_still *still = &line->still[line->stills];

    if (!(back > 0))
        return;
    line->stills++;
    still->stage = stage;
    still->fluid = fluid;
    still->treated = dregs_tally_volume(line->tally, DREGS_STREAM_DUMPED, stage, DREGS_WHOLE) +
                     dregs_tally_volume(line->tally, DREGS_STREAM_DRAINED, stage, DREGS_WHOLE);
    still->back = back;
    still->kept = still->treated - back;
}

void dregs_answer_tally_stills_of(
    struct tally_line *line) /* a stage's own liquid alone comes back */
{
    unsigned i, f;

    for (i = 0; i < dregs_line_stages(line->one.line); i++)
        for (f = 0; f < dregs_line_fluids(line->one.line); f++)
            still_of(line, i, f);
}

/* ---- a table of streams ---- */

static double stream_of(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                        dregs_stream stream, unsigned stage, unsigned period)
{
    switch (kind) {
    case DREGS_TALLY_VOLUMES:
        return dregs_tally_fluid(tally, stream, index, stage, period);
    case DREGS_TALLY_MASSES:
        return dregs_tally_fluid(tally, stream, index, stage, period) *
               dregs_tally_density(tally, index);
    case DREGS_TALLY_SOLUTES:
        return dregs_tally_solute(tally, stream, index, stage, period);
    default:
        return dregs_tally_volume(tally, stream, stage, period);
    }
}

double dregs_tally_cell(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                        dregs_stream stream, unsigned stage, unsigned period)
{
    double value = stream_of(tally, kind, index, stream, stage, period), most = 0.0;
    int i;

    for (i = 0; i < DREGS_STREAM_COUNT; i++)
        most = fmax(most, fabs(stream_of(tally, kind, index, (dregs_stream)i, stage, period)));
    return fabs(value) <= 1e-12 * most ? 0.0 : value;
}

void dregs_tally_sides(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                       unsigned stage, unsigned period, double *in, double *out)
{
    int i;

#define CELL(stream) dregs_tally_cell(tally, kind, index, (dregs_stream)(stream), stage, period)
    *in = CELL(DREGS_STREAM_HELD_FIRST);
    *out = 0.0;
    for (i = DREGS_STREAM_FILLED; i <= DREGS_STREAM_SOIL; i++)
        *in += CELL(i);
    for (i = DREGS_STREAM_DRAINED; i <= DREGS_STREAM_LEFT; i++)
        *out += CELL(i);
    *out += CELL(DREGS_STREAM_HELD_LAST);
#undef CELL
}

int dregs_tally_is_rounding(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                            double value)
{
    double most = 0.0;
    int i;

    for (i = 0; i < DREGS_STREAM_COUNT; i++)
        most = fmax(most, stream_of(tally, kind, index, (dregs_stream)i, DREGS_WHOLE, DREGS_WHOLE));
    return value != 0.0 && fabs(value) < TALLY_CLOSES * most;
}

/* ---- what dominates ---- */

struct ranking {
    dregs_tally_part *parts;
    unsigned count;
    double all;
    int by_cost;
    dregs_tally_part *wanted; /* NULL: rank; else nothing is ranked, and this one is filled in */
};

static double size_of(const struct ranking *r, const dregs_tally_part *part)
{
    return r->by_cost ? part->cost : part->volume;
}

/* Puts a part into its place among the largest. */
static void rank(struct ranking *r, const dregs_tally_part *part)
{
    unsigned i = r->count;

    if (r->wanted) {
        if (part->stream == r->wanted->stream && part->fluid == r->wanted->fluid &&
            part->stage == r->wanted->stage)
            *r->wanted = *part;
        return;
    }
    if (!(size_of(r, part) > 0))
        return;
    r->all += size_of(r, part);
    for (; i > 0 && size_of(r, &r->parts[i - 1]) < size_of(r, part); i--)
        if (i < DREGS_TALLY_PARTS_MOST)
            r->parts[i] = r->parts[i - 1];
    if (i == DREGS_TALLY_PARTS_MOST)
        return;
    r->parts[i] = *part;
    r->count += r->count < DREGS_TALLY_PARTS_MOST;
}

/* The share of a liquid's fresh volume that has to be bought; the rest is reclaimed. */
static double share_bought(const dregs_tally *tally, unsigned fluid)
{
    double back = dregs_tally_reclaimed(tally, fluid, DREGS_WHOLE, DREGS_WHOLE);

    return back > 0 ? dregs_tally_bought(tally, fluid, DREGS_WHOLE, DREGS_WHOLE) /
                          (dregs_tally_bought(tally, fluid, DREGS_WHOLE, DREGS_WHOLE) + back)
                    : 1.0;
}

/* What is bought costs its price. */
static void rank_bought(struct ranking *r, const dregs_tally *tally, unsigned stage)
{
    const dregs_line *line = dregs_tally_line(tally);
    dregs_tally_part part = {.stage = stage};
    int stream;

    for (stream = DREGS_STREAM_FILLED; stream <= DREGS_STREAM_SPRAYED; stream++)
        for (part.fluid = 0; part.fluid < dregs_line_fluids(line); part.fluid++) {
            const dregs_value *price = &dregs_line_fluid(line, part.fluid)->price;
            part.stream = (dregs_stream)stream;
            part.volume = dregs_tally_fluid(tally, part.stream, part.fluid, stage, DREGS_WHOLE);
            part.volume *= share_bought(tally, part.fluid);
            part.cost = price->row ? price->si * part.volume : 0.0;
            rank(r, &part);
        }
}

/* What of a stage's waste stream is reclaimed. */
static double waste_back(const dregs_tally *tally, dregs_stream stream, unsigned fluid,
                         unsigned stage)
{
    const dregs_stage *s = dregs_line_stage(dregs_tally_line(tally), stage);

    if (s->liquid.index != fluid ||
        (stream != DREGS_STREAM_DUMPED && stream != DREGS_STREAM_DRAINED))
        return 0.0;
    return s->reclaim.si * dregs_tally_fluid(tally, stream, fluid, stage, DREGS_WHOLE);
}

/* What leaves; as waste it costs the disposal of the stage's fresh liquid. */
static void rank_out(struct ranking *r, const dregs_tally *tally, unsigned stage)
{
    const dregs_line *line = dregs_tally_line(tally);
    dregs_tally_part part = {.stage = stage, .fluid = DREGS_WHOLE};
    unsigned i;
    int stream;

    for (stream = DREGS_STREAM_DRAINED; stream <= DREGS_STREAM_LEFT; stream++) {
        int waste = stream == DREGS_STREAM_DRAINED || stream == DREGS_STREAM_RUNOFF ||
                    stream == DREGS_STREAM_DUMPED || stream == DREGS_STREAM_BLOWN_OFF ||
                    stream == DREGS_STREAM_COLLECTED;
        part.stream = (dregs_stream)stream;
        part.volume = dregs_tally_volume(tally, part.stream, stage, DREGS_WHOLE);
        part.cost = NAN;
        for (i = 0; r->by_cost && i < dregs_line_fluids(line); i++)
            part.volume -= waste_back(tally, part.stream, i, stage);
        if (r->by_cost && part.volume > 0 && waste)
            part.cost = part.volume * dregs_line_waste_as(line, stage)->disposal.si;
        rank(r, &part);
    }
}

static void rank_all(struct ranking *r, const dregs_tally *tally)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(dregs_tally_line(tally)); i++) {
        if (r->by_cost)
            rank_bought(r, tally, i);
        rank_out(r, tally, i);
    }
}

void dregs_answer_tally_largest(const dregs_tally *tally, int by_cost, struct tally_parts *parts)
{
    struct ranking r = {parts->part, 0, 0.0, by_cost, NULL};
    unsigned i;

    rank_all(&r, tally);
    for (i = 0; i < r.count; i++)
        parts->part[i].share = size_of(&r, &parts->part[i]) / r.all;
    while (r.count && parts->part[r.count - 1].share < TALLY_CLOSES)
        r.count--;
    parts->count = r.count;
}

void dregs_answer_tally_part_of(const dregs_tally *tally, int by_cost, dregs_tally_part *part)
{
    struct ranking r = {NULL, 0, 0.0, by_cost, part};

    part->volume = part->cost = 0;
    rank_all(&r, tally);
}
