/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_figures.c: the figures of a line that are set beside another's. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LITRES     1e3
#define GRAMS      1e3
#define UG_PER_CM2 1e5  /* kg/m2 */
#define SEEN       5e-4 /* smaller relative changes are not shown */

static void figure(struct tally_figures *figures, const char *unit, double value,
                   const char *format, ...) DREGS_FORMAT(4, 5);

static void figure(struct tally_figures *figures, const char *unit, double value,
                   const char *format, ...)
{
    dregs_tally_figure *f = &figures->figure[figures->count];
    va_list arguments;

    if (figures->count == TALLY_FIGURES_MOST)
        return;
    figures->count++;
    va_start(arguments, format);
    vsnprintf(f->name, sizeof f->name, format, arguments);
    va_end(arguments);
    f->unit = unit;
    f->value = value;
    f->before = f->difference = NAN;
    f->moves = 0;
}

static double litres(const dregs_tally *tally, dregs_stream stream)
{
    return dregs_tally_volume(tally, stream, DREGS_WHOLE, DREGS_WHOLE) * LITRES;
}

static double grams(const dregs_tally *tally, dregs_stream stream, unsigned solute)
{
    return dregs_tally_solute(tally, stream, solute, DREGS_WHOLE, DREGS_WHOLE) * GRAMS;
}

void dregs_answer_tally_figures_of(const dregs_tally *tally, double residue,
                                   struct tally_figures *figures)
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
    figure(figures, "L",
           litres(tally, DREGS_STREAM_DRAINED) + litres(tally, DREGS_STREAM_RUNOFF) +
               litres(tally, DREGS_STREAM_BLOWN_OFF),
           "to drain");
    figure(figures, "L", litres(tally, DREGS_STREAM_DUMPED), "dumped");
    figure(figures, "L", litres(tally, DREGS_STREAM_EVAPORATED), "evaporated");
    figure(figures, "L", litres(tally, DREGS_STREAM_DRIED), "dried off the parts");
    if (litres(tally, DREGS_STREAM_COLLECTED) > 0)
        figure(figures, "L", litres(tally, DREGS_STREAM_COLLECTED), "blown off to waste");
    for (i = 0; i < dregs_line_solutes(line); i++) {
        const char *name = dregs_line_solute(line, i)->name;
        figure(figures, "g",
               grams(tally, DREGS_STREAM_DRAINED, i) + grams(tally, DREGS_STREAM_RUNOFF, i) +
                   grams(tally, DREGS_STREAM_BLOWN_OFF, i),
               "%.60s to drain", name);
        figure(figures, "g", grams(tally, DREGS_STREAM_DUMPED, i), "%.60s dumped", name);
        if (litres(tally, DREGS_STREAM_COLLECTED) > 0)
            figure(figures, "g", grams(tally, DREGS_STREAM_COLLECTED, i),
                   "%.50s blown off to waste", name);
        figure(figures, "g", grams(tally, DREGS_STREAM_LEFT, i), "%.50s left in the last film",
               name);
    }
    figure(figures, "ug/cm2", residue * UG_PER_CM2, "residue of the worst load");
    if (!isnan(cost.total))
        figure(figures, "currency", cost.total, "cost");
}

const dregs_tally_figure *dregs_answer_tally_figure_named(const struct tally_figures *figures,
                                                          const char *name)
{
    unsigned i;

    for (i = 0; i < figures->count; i++)
        if (strcmp(figures->figure[i].name, name) == 0)
            return &figures->figure[i];
    return NULL;
}

void dregs_answer_tally_figures_since(struct tally_figures *figures,
                                      const struct tally_figures *before)
{
    unsigned i;

    for (i = 0; i < figures->count; i++) {
        dregs_tally_figure *f = &figures->figure[i];
        const dregs_tally_figure *was = dregs_answer_tally_figure_named(before, f->name);
        if (!was)
            continue;
        f->before = was->value;
        f->difference = f->value - was->value;
        f->moves = fabs(f->difference) > SEEN * fmax(fabs(f->value), fabs(was->value));
    }
}

/* ---- several lines ---- */

/* The figure of a line that is the same as one of another: amounts in two currencies are not. */
static const dregs_tally_figure *figure_like(const dregs_tally_result *answer, unsigned line,
                                             const dregs_tally_figure *figure, unsigned of)
{
    if (strcmp(figure->unit, "currency") == 0 &&
        strcmp(answer->line[line].one.currency, answer->line[of].one.currency) != 0)
        return NULL;
    return dregs_answer_tally_figure_named(&answer->line[line].figures, figure->name);
}

/* Does a line before it have the figure of a line? */
static int was_seen(const dregs_tally_result *answer, const dregs_tally_figure *figure, unsigned of)
{
    unsigned k;

    for (k = 0; k < of; k++)
        if (figure_like(answer, k, figure, of))
            return 1;
    return 0;
}

/* Rounding is no difference. */
static double difference(double a, double b)
{
    return fabs(b - a) <= 1e-12 * fmax(fabs(a), fabs(b)) ? 0.0 : b - a;
}

/* What one line has is compared with nothing, but for money: that of another is in another
 * currency, or not stated. */
static void compare(const dregs_tally_result *answer, unsigned line,
                    const dregs_tally_figure *figure, dregs_tally_compared *row)
{
    int money = strcmp(figure->unit, "currency") == 0;
    unsigned k;

    memcpy(row->name, figure->name, sizeof row->name);
    row->unit = figure->unit;
    row->line = line;
    for (k = 0; k < answer->question.lines; k++) {
        const dregs_tally_figure *f = figure_like(answer, k, figure, line);
        row->has[k] = f != NULL;
        row->value[k] = f ? f->value : NAN;
        row->difference[k] =
            money && (!f || !row->has[0])
                ? NAN
                : difference(row->has[0] ? row->value[0] : 0.0, f ? f->value : 0.0);
    }
}

dregs_status dregs_answer_tally_compare(dregs_tally_result *answer)
{
    unsigned room = 0, k, i;

    for (k = 0; k < answer->question.lines; k++)
        room += answer->line[k].figures.count;
    answer->compared = calloc(room + 1, sizeof *answer->compared);
    if (!answer->compared)
        return DREGS_NO_MEMORY;
    for (k = 0; k < answer->question.lines; k++)
        for (i = 0; i < answer->line[k].figures.count; i++) {
            const dregs_tally_figure *figure = &answer->line[k].figures.figure[i];
            if (!was_seen(answer, figure, k))
                compare(answer, k, figure, &answer->compared[answer->compares++]);
        }
    return DREGS_OK;
}
