/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_streams.c: streams of a tally summed under the names that regulations give them, by mass.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <string.h>

enum { WAY_MOST = 5 };

static const struct {
    unsigned count;
    dregs_stream stream[WAY_MOST];
} ways[] = {
    [TALLY_ADDED] = {5,
                     {DREGS_STREAM_FILLED, DREGS_STREAM_FED, DREGS_STREAM_TOPPED,
                      DREGS_STREAM_REFILLED, DREGS_STREAM_SPRAYED}},
    [TALLY_TO_AIR] = {2, {DREGS_STREAM_EVAPORATED, DREGS_STREAM_DRIED}},
    [TALLY_TO_DRAIN] = {3, {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF, DREGS_STREAM_BLOWN_OFF}},
    [TALLY_TO_WASTE] = {2, {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED}},
};

double dregs_answer_tally_stream_mass(const dregs_tally *tally, dregs_stream stream,
                                      unsigned solvent, unsigned stage, unsigned period)
{
    double sum = 0;
    unsigned k;

    if (solvent != DREGS_WHOLE)
        return dregs_tally_solvent(tally, stream, solvent, stage, period);
    for (k = 0; dregs_tally_solvent_name(tally, k); k++)
        sum += dregs_tally_solvent(tally, stream, k, stage, period);
    return sum;
}

double dregs_answer_tally_way_mass(const dregs_tally *tally, enum tally_way way, unsigned solvent,
                                   unsigned period)
{
    double sum = 0;
    unsigned i;

    for (i = 0; i < ways[way].count; i++)
        sum += dregs_answer_tally_stream_mass(tally, ways[way].stream[i], solvent, DREGS_WHOLE,
                                              period);
    return sum;
}

/* A fill that is still there has not been used. */
double dregs_answer_tally_used_up(const dregs_tally *tally, unsigned solvent, unsigned period)
{
    return dregs_answer_tally_way_mass(tally, TALLY_ADDED, solvent, period) +
           dregs_answer_tally_stream_mass(tally, DREGS_STREAM_HELD_FIRST, solvent, DREGS_WHOLE,
                                          period) -
           dregs_answer_tally_stream_mass(tally, DREGS_STREAM_HELD_LAST, solvent, DREGS_WHOLE,
                                          period);
}

/* The share of a solvent in a liquid that comes back, by mass. */
static double share_of(const dregs_fluid *fluid, const char *solvent)
{
    if (strcmp(solvent, fluid->solvent) == 0)
        return fluid->solvent_share.si;
    return strcmp(solvent, "water") == 0 ? 1 - fluid->solvent_share.si : 0;
}

/* The tally says how much of the tank's own liquid comes back of both, dumps and drain. */
static double back_of(const dregs_tally *tally, unsigned solvent, unsigned stage,
                      dregs_stream stream, unsigned period)
{
    const dregs_line *line = dregs_tally_line(tally);
    double sum = 0;
    unsigned f;

    if (stream != DREGS_STREAM_DUMPED && stream != DREGS_STREAM_DRAINED)
        return 0;
    for (f = 0; f < dregs_line_fluids(line); f++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, f);
        double back = dregs_tally_reclaimed(tally, f, stage, period), share = 1;
        double here = dregs_tally_fluid(tally, stream, f, stage, period);
        double both = dregs_tally_fluid(tally, DREGS_STREAM_DUMPED, f, stage, period) +
                      dregs_tally_fluid(tally, DREGS_STREAM_DRAINED, f, stage, period);
        if (!(back > 0))
            continue;
        if (solvent != DREGS_WHOLE)
            share = share_of(fluid, dregs_tally_solvent_name(tally, solvent));
        sum += back * here / both * dregs_tally_density(tally, f) * share;
    }
    return sum;
}

double dregs_answer_tally_back_mass(const dregs_tally *tally, unsigned solvent, unsigned stage,
                                    dregs_stream stream, unsigned period)
{
    double sum = 0;
    unsigned i;

    if (stage != DREGS_WHOLE)
        return back_of(tally, solvent, stage, stream, period);
    for (i = 0; i < dregs_line_stages(dregs_tally_line(tally)); i++)
        sum += back_of(tally, solvent, i, stream, period);
    return sum;
}

double dregs_answer_tally_beyond_rounding(double value, double scale)
{
    return value < 1e-11 * scale && value > -1e-9 * scale ? 0 : value;
}
