/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sums.c: what a tally's streams come to: residuals, costs. */
#include "line/line.h"
#include "tally/inside.h"

#include <float.h>
#include <math.h>

#define NOTHING (DBL_MIN / DBL_EPSILON) /* m3 or kg */

typedef double of_stream(const dregs_tally *, dregs_stream, unsigned, unsigned, unsigned);

/* For a fluid or a solute alike. */
static double residual(const dregs_tally *tally, of_stream *of, unsigned substance, unsigned period)
{
    double in = of(tally, DREGS_STREAM_HELD_FIRST, substance, DREGS_WHOLE, period);
    double out = of(tally, DREGS_STREAM_HELD_LAST, substance, DREGS_WHOLE, period), most;
    int i;

    for (i = 0; i < DREGS_STREAM_HELD_FIRST; i++) {
        double value = of(tally, (dregs_stream)i, substance, DREGS_WHOLE, period);
        dregs_stream_group group = dregs_stream_group_of((dregs_stream)i);
        in += group == DREGS_GROUP_IN ? value : 0.0;
        out += group == DREGS_GROUP_OUT ? value : 0.0;
    }
    most = fmax(in, out);
    /* what has been flushed to less than this no longer holds its digits */
    return most > NOTHING ? (in - out) / most : 0.0;
}

double dregs_tally_residual_fluid(const dregs_tally *tally, unsigned fluid, unsigned period)
{
    return residual(tally, dregs_tally_fluid, fluid, period);
}

double dregs_tally_residual_solute(const dregs_tally *tally, unsigned solute, unsigned period)
{
    return residual(tally, dregs_tally_solute, solute, period);
}

double dregs_tally_residual(const dregs_tally *tally)
{
    unsigned fluids = dregs_line_fluids(tally->line), solutes = dregs_line_solutes(tally->line);
    double most = 0.0;
    unsigned p, i;

    for (p = 0; p <= tally->periods; p++) {
        unsigned period = p < tally->periods ? p : DREGS_WHOLE;
        for (i = 0; i < fluids; i++)
            most = fmax(most, fabs(dregs_tally_residual_fluid(tally, i, period)));
        for (i = 0; i < solutes; i++)
            most = fmax(most, fabs(dregs_tally_residual_solute(tally, i, period)));
    }
    return most;
}

/* ---- what comes back, costs ---- */

static double reclaimed_of(const dregs_tally *tally, unsigned fluid, unsigned stage,
                           unsigned period)
{
    const dregs_stage *s = dregs_line_stage(tally->line, stage);

    if (!(s->reclaim.si > 0) || s->liquid.index != fluid)
        return 0.0;
    return s->reclaim.si * (dregs_tally_fluid(tally, DREGS_STREAM_DUMPED, fluid, stage, period) +
                            dregs_tally_fluid(tally, DREGS_STREAM_DRAINED, fluid, stage, period));
}

double dregs_tally_reclaimed(const dregs_tally *tally, unsigned fluid, unsigned stage,
                             unsigned period)
{
    unsigned stages = dregs_line_stages(tally->line), i;
    double sum = 0.0;

    if (isnan(dregs_tally_fluid(tally, DREGS_STREAM_DUMPED, fluid, stage, period)))
        return NAN;
    if (stage != DREGS_WHOLE)
        return reclaimed_of(tally, fluid, stage, period);
    for (i = 0; i < stages; i++)
        sum += reclaimed_of(tally, fluid, i, period);
    return sum;
}

double dregs_tally_bought(const dregs_tally *tally, unsigned fluid, unsigned stage, unsigned period)
{
    double volume = 0;
    unsigned i;
    int stream;

    if (fluid == DREGS_WHOLE) {
        for (i = 0; i < dregs_line_fluids(tally->line); i++)
            volume += dregs_tally_bought(tally, i, stage, period);
        return volume;
    }
    volume = -dregs_tally_reclaimed(tally, fluid, stage, period);

    for (stream = DREGS_STREAM_FILLED; stream <= DREGS_STREAM_SPRAYED; stream++)
        volume += dregs_tally_fluid(tally, (dregs_stream)stream, fluid, stage, period);
    return volume;
}

static double spent(double volume, const dregs_value *price, int *priced)
{
    if (!price->row)
        return 0.0;
    *priced = *priced || volume > 0;
    return volume * price->si;
}

/* Liquid that leaves as waste costs what the fresh liquid of its stage costs to dispose of,
 * whatever has been dragged into it. */
static double disposal_of(const dregs_tally *tally, unsigned stage, unsigned period, int *priced)
{
    static const dregs_stream wastes[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                          DREGS_STREAM_DUMPED, DREGS_STREAM_BLOWN_OFF,
                                          DREGS_STREAM_COLLECTED};
    const dregs_fluid *fluid = dregs_line_waste_as(tally->line, stage);
    double volume = 0.0;
    unsigned i;

    if (!fluid)
        return 0.0;
    for (i = 0; i < sizeof wastes / sizeof wastes[0]; i++)
        volume += dregs_tally_volume(tally, wastes[i], stage, period);
    for (i = 0; i < dregs_line_fluids(tally->line); i++)
        volume -= dregs_tally_reclaimed(tally, i, stage, period);
    return spent(volume, &fluid->disposal, priced);
}

/* Of one stage. A period begins where the one before it ends. */
static double changes_of(const dregs_tally *tally, unsigned stage, unsigned period)
{
    const dregs_stage *s = dregs_line_stage(tally->line, stage);
    double taken = 0.0, before = 0.0, loads = (double)dregs_tally_loads(tally, period);
    unsigned i;

    if (!s->capacity.row)
        return 0.0;
    if (tally->parts)
        return dregs_tally_changes_of_part(tally, stage, period);
    if (s->change_every.row) {
        for (i = period & DREGS_BEFORE; period != DREGS_WHOLE && i < period; i++)
            before += (double)dregs_tally_loads(tally, i);
        return floor((before + loads) / s->change_every.si) - floor(before / s->change_every.si);
    }
    for (i = 0; i < dregs_line_solutes(tally->line); i++)
        taken += dregs_tally_solute(tally, DREGS_STREAM_CLEARED, i, stage, period);
    return taken / s->capacity.si;
}

double dregs_tally_changes(const dregs_tally *tally, unsigned stage, unsigned period)
{
    unsigned stages = dregs_line_stages(tally->line), i;
    double sum = 0.0;

    if (isnan(dregs_tally_seconds(tally, period)) || (stage != DREGS_WHOLE && stage >= stages))
        return NAN;
    for (i = 0; i < stages; i++)
        if (stage == DREGS_WHOLE || stage == i)
            sum += changes_of(tally, i, period);
    return sum;
}

double dregs_tally_change_cost(const dregs_tally *tally, unsigned stage, unsigned period)
{
    unsigned stages = dregs_line_stages(tally->line), i;
    double sum = 0.0;

    if (isnan(dregs_tally_seconds(tally, period)) || (stage != DREGS_WHOLE && stage >= stages))
        return NAN;
    for (i = 0; i < stages; i++) {
        const dregs_stage *s = dregs_line_stage(tally->line, i);
        if (s->change_price.row && (stage == DREGS_WHOLE || stage == i))
            sum += changes_of(tally, i, period) * s->change_price.si;
    }
    return sum;
}

static dregs_tally_cost costs_of(const dregs_tally *tally, unsigned stage, unsigned period,
                                 int *priced)
{
    dregs_tally_cost cost = {0, 0, 0};
    unsigned i;

    for (i = 0; i < dregs_line_fluids(tally->line); i++)
        cost.bought += spent(dregs_tally_bought(tally, i, stage, period),
                             &dregs_line_fluid(tally->line, i)->price, priced);
    for (i = 0; i < dregs_line_stages(tally->line); i++)
        if (stage == DREGS_WHOLE || stage == i)
            cost.disposal += disposal_of(tally, i, period, priced);
    cost.total = dregs_tally_change_cost(tally, stage, period);
    *priced = *priced || cost.total > 0;
    cost.total += cost.bought + cost.disposal;
    return cost;
}

dregs_tally_cost dregs_tally_costs_of(const dregs_tally *tally, unsigned stage, unsigned period)
{
    dregs_tally_cost unknown = {NAN, NAN, NAN}, cost;
    int priced = 0, own = 0;

    (void)costs_of(tally, DREGS_WHOLE, period, &priced);
    cost = costs_of(tally, stage, period, &own);
    return priced ? cost : unknown;
}

dregs_tally_cost dregs_tally_costs(const dregs_tally *tally, unsigned period)
{
    return dregs_tally_costs_of(tally, DREGS_WHOLE, period);
}
