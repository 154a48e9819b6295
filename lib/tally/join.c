/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* join.c: the tally of a joined line, the sum of those of its lines: each passes its own loads in
 * its own hours.
 */
#include "base/text.h"
#include "line/line.h"
#include "tally/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { NAME = 300 }; /* bytes of a line's name that a message has room for */

/* The tally of the line that a stage is of, and its number there. */
static const dregs_tally *find_part(const dregs_tally *tally, unsigned *stage,
                                    const struct dregs_line_part **part)
{
    const struct dregs_line_part *parts;

    *part = dregs_line_part_of(tally->line, *stage);
    *stage -= (*part)->stage;
    (void)dregs_line_parts(tally->line, &parts);
    return tally->part[*part - parts];
}

/* kg or m3 of a substance of the joined line in a stream of one of its lines; 0 where that has no
 * such substance. */
static double of_line(const dregs_tally *of, const struct dregs_line_part *part,
                      const dregs_tally *tally, dregs_stream stream, unsigned substance,
                      unsigned stage, unsigned period)
{
    unsigned solutes = dregs_line_solutes(tally->line), i;

    if (substance < solutes) {
        for (i = 0; i < dregs_line_solutes(part->line); i++)
            if (part->solute[i] == substance)
                return dregs_tally_solute(of, stream, i, stage, period);
        return 0.0;
    }
    for (i = 0; i < dregs_line_fluids(part->line); i++)
        if (part->fluid[i] == substance - solutes)
            return dregs_tally_fluid(of, stream, i, stage, period);
    return 0.0;
}

/* As the caller's period is counted: the whole stands behind the others, and behind that the months
 * of the year before. */
static unsigned period_of(const dregs_tally *tally, unsigned period)
{
    return period < tally->periods    ? period
           : period == tally->periods ? DREGS_WHOLE
                                      : DREGS_BEFORE + (period - tally->periods - 1);
}

const dregs_tally *dregs_tally_member(const dregs_tally *tally, unsigned index)
{
    return index < tally->parts ? tally->part[index] : NULL;
}

double dregs_tally_of_part(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                           unsigned stage, unsigned period)
{
    const struct dregs_line_part *part;
    const dregs_tally *of = find_part(tally, &stage, &part);

    return of_line(of, part, tally, stream, substance, stage, period_of(tally, period));
}

double dregs_tally_on_parts(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                            unsigned stage, unsigned period)
{
    const struct dregs_line_part *part;
    double sum = 0.0;
    unsigned i;

    if (stage != DREGS_WHOLE)
        return dregs_tally_of_part(tally, stream, substance, stage, period);
    for (i = 0; i < dregs_line_parts(tally->line, &part); i++)
        sum += of_line(tally->part[i], &part[i], tally, stream, substance, DREGS_WHOLE,
                       period_of(tally, period));
    return sum;
}

double dregs_tally_idle_of_parts(const dregs_tally *tally, unsigned stage, unsigned period)
{
    const struct dregs_line_part *part;
    double sum = 0.0;
    unsigned i;

    if (stage != DREGS_WHOLE) {
        const dregs_tally *of = find_part(tally, &stage, &part);
        return dregs_tally_evaporated_idle(of, stage, period_of(tally, period));
    }
    for (i = 0; i < tally->parts; i++)
        sum += dregs_tally_evaporated_idle(tally->part[i], DREGS_WHOLE, period_of(tally, period));
    return sum;
}

double dregs_tally_changes_of_part(const dregs_tally *tally, unsigned stage, unsigned period)
{
    const struct dregs_line_part *part;
    const dregs_tally *of = find_part(tally, &stage, &part);

    return dregs_tally_changes(of, stage, period);
}

/* Loads add up; the hours pass for all lines alike, but for spans that each takes its own time
 * for. */
static void add_periods(dregs_tally *tally, const dregs_tally *of)
{
    unsigned p;

    for (p = 0; p <= tally->periods + tally->before; p++) {
        tally->period[p].loads += of->period[p].loads;
        tally->period[p].days =
            of->period[p].days > tally->period[p].days ? of->period[p].days : tally->period[p].days;
        tally->period[p].first = of->period[p].first;
        tally->period[p].months = of->period[p].months;
        tally->period[p].idle = fmax(tally->period[p].idle, of->period[p].idle);
        tally->period[p].seconds = fmax(tally->period[p].seconds, of->period[p].seconds);
    }
}

static void add_notes(dregs_tally *tally, const dregs_tally *of)
{
    unsigned i;

    for (i = 0; i < of->notes && tally->notes < TALLY_NOTES_MOST; i++)
        snprintf(tally->note[tally->notes++], sizeof tally->note[0], "%s: %.190s",
                 dregs_utf8_end(dregs_line_name(of->line), NAME), of->note[i]);
}

dregs_status dregs_tally_join(dregs_tally *tally, char *message)
{
    const struct dregs_line_part *part;
    dregs_status status = DREGS_OK;
    unsigned i, parts = dregs_line_parts(tally->line, &part);

    tally->part = calloc(parts, sizeof *tally->part);
    if (!tally->part)
        return DREGS_NO_MEMORY;
    for (i = 0; i < parts && !status; i++) {
        char why[DREGS_TALLY_MESSAGE] = "";
        status = dregs_tally_new_by_dates(part[i].line, &tally->request,
                                          tally->dated ? &tally->by : NULL, &tally->part[i], why);
        if (status && message)
            snprintf(message, DREGS_TALLY_MESSAGE, "%s: %.300s",
                     dregs_utf8_end(dregs_line_name(part[i].line), NAME),
                     *why ? why : dregs_status_text(status));
        if (status)
            continue;
        tally->parts++;
        tally->by = tally->part[i]->by;
        add_periods(tally, tally->part[i]);
        add_notes(tally, tally->part[i]);
    }
    return status;
}
