/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_figures.c: the figures of a line that are set beside another's, and what dominates. */
#include "page.h"
#include "tally.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define LITRES 1e3
#define GRAMS  1e3

const char *tally_month_name(unsigned month)
{
    static const char *const names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};

    return month < DREGS_MONTHS ? names[month] : "whole";
}

void tally_span_name(const dregs_tally *tally, const struct tally_request *request, char into[48])
{
    static const char *const names[] = {NULL, "a shift", "a day", "January", "a year"};
    uint64_t loads = dregs_tally_loads(tally, DREGS_WHOLE);

    if (request->span.span == DREGS_SPAN_LOADS)
        snprintf(into, 48, "%llu load%s", (unsigned long long)loads, loads == 1 ? "" : "s");
    else
        snprintf(into, 48, "%s", names[request->span.span]);
}

void tally_currency(const dregs_line *line, char into[16])
{
    unsigned i;

    snprintf(into, 16, "currency");
    for (i = 0; i < dregs_line_fluids(line); i++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, i);
        const dregs_row *row =
            dregs_line_row(line, fluid->price.row ? fluid->price.row : fluid->disposal.row);
        if (!row)
            continue;
        snprintf(into, 16, "%.*s", (int)strcspn(row->unit, "/"), row->unit);
        return;
    }
}

static void figure(struct tally_figures *figures, const char *unit, double value,
                   const char *format, ...) DREGS_FORMAT(4, 5);

static void figure(struct tally_figures *figures, const char *unit, double value,
                   const char *format, ...)
{
    struct tally_figure *f = &figures->figure[figures->count];
    va_list arguments;

    if (figures->count == TALLY_FIGURES_MOST)
        return;
    figures->count++;
    va_start(arguments, format);
    vsnprintf(f->name, sizeof f->name, format, arguments);
    va_end(arguments);
    f->unit = unit;
    f->value = value;
}

static double litres(const dregs_tally *tally, dregs_stream stream)
{
    return dregs_tally_volume(tally, stream, DREGS_WHOLE, DREGS_WHOLE) * LITRES;
}

static double grams(const dregs_tally *tally, dregs_stream stream, unsigned solute)
{
    return dregs_tally_solute(tally, stream, solute, DREGS_WHOLE, DREGS_WHOLE) * GRAMS;
}

void tally_figures_of(const dregs_tally *tally, double residue, struct tally_figures *figures)
{
    const dregs_line *line = dregs_tally_line(tally);
    dregs_tally_cost cost = dregs_tally_costs(tally, DREGS_WHOLE);
    unsigned i;

    figures->count = 0;
    for (i = 0; i < dregs_line_fluids(line); i++)
        figure(figures, "L", dregs_tally_bought(tally, i, DREGS_WHOLE, DREGS_WHOLE) * LITRES,
               "bought: %.60s", dregs_line_fluid(line, i)->name);
    for (i = 0; i < dregs_line_fluids(line); i++)
        if (dregs_tally_reclaimed(tally, i, DREGS_WHOLE, DREGS_WHOLE) > 0)
            figure(figures, "L", dregs_tally_reclaimed(tally, i, DREGS_WHOLE, DREGS_WHOLE) * LITRES,
                   "reclaimed: %.60s", dregs_line_fluid(line, i)->name);
    figure(figures, "L", litres(tally, DREGS_STREAM_DRAINED) + litres(tally, DREGS_STREAM_RUNOFF),
           "to drain");
    figure(figures, "L", litres(tally, DREGS_STREAM_DUMPED), "dumped");
    figure(figures, "L", litres(tally, DREGS_STREAM_EVAPORATED), "evaporated");
    figure(figures, "L", litres(tally, DREGS_STREAM_DRIED), "dried off the parts");
    figure(figures, "L", litres(tally, DREGS_STREAM_BLOWN_OFF), "blown off");
    for (i = 0; i < dregs_line_solutes(line); i++) {
        const char *name = dregs_line_solute(line, i)->name;
        figure(figures, "g",
               grams(tally, DREGS_STREAM_DRAINED, i) + grams(tally, DREGS_STREAM_RUNOFF, i),
               "%.60s to drain", name);
        figure(figures, "g", grams(tally, DREGS_STREAM_DUMPED, i), "%.60s dumped", name);
        figure(figures, "g", grams(tally, DREGS_STREAM_LEFT, i), "%.50s left in the last film",
               name);
    }
    figure(figures, "ug/cm2", residue * UG_PER_CM2, "residue of the worst load");
    if (!isnan(cost.total))
        figure(figures, "currency", cost.total, "cost");
}

const struct tally_figure *tally_figure_named(const struct tally_figures *figures, const char *name)
{
    unsigned i;

    for (i = 0; i < figures->count; i++)
        if (strcmp(figures->figure[i].name, name) == 0)
            return &figures->figure[i];
    return NULL;
}

/* ---- what dominates ---- */

struct ranking {
    struct tally_part *parts;
    unsigned count;
    double all;
    int by_cost;
};

static double size_of(const struct ranking *r, const struct tally_part *part)
{
    return r->by_cost ? part->cost : part->volume;
}

/* Puts a part into its place among the largest. */
static void rank(struct ranking *r, const struct tally_part *part)
{
    unsigned i = r->count;

    if (!(size_of(r, part) > 0))
        return;
    r->all += size_of(r, part);
    for (; i > 0 && size_of(r, &r->parts[i - 1]) < size_of(r, part); i--)
        if (i < TALLY_PARTS_MOST)
            r->parts[i] = r->parts[i - 1];
    if (i == TALLY_PARTS_MOST)
        return;
    r->parts[i] = *part;
    r->count += r->count < TALLY_PARTS_MOST;
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
    struct tally_part part = {.stage = stage};
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
    struct tally_part part = {.stage = stage, .fluid = DREGS_WHOLE};
    unsigned i;
    int stream;

    for (stream = DREGS_STREAM_DRAINED; stream <= DREGS_STREAM_LEFT; stream++) {
        int waste = stream == DREGS_STREAM_DRAINED || stream == DREGS_STREAM_RUNOFF ||
                    stream == DREGS_STREAM_DUMPED;
        part.stream = (dregs_stream)stream;
        part.volume = dregs_tally_volume(tally, part.stream, stage, DREGS_WHOLE);
        part.cost = NAN;
        for (i = 0; r->by_cost && i < dregs_line_fluids(line); i++)
            part.volume -= waste_back(tally, part.stream, i, stage);
        if (r->by_cost && part.volume > 0 && waste)
            part.cost = part.volume * dregs_line_wet_with(line, stage)->disposal.si;
        rank(r, &part);
    }
}

unsigned tally_largest(const dregs_tally *tally, int by_cost, struct tally_part *parts)
{
    struct ranking r = {parts, 0, 0.0, by_cost};
    unsigned i;

    for (i = 0; i < dregs_line_stages(dregs_tally_line(tally)); i++) {
        if (by_cost)
            rank_bought(&r, tally, i);
        rank_out(&r, tally, i);
    }
    for (i = 0; i < r.count; i++)
        parts[i].share = size_of(&r, &parts[i]) / r.all;
    return r.count;
}
