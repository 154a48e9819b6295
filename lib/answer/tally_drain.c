/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_drain.c: what goes down the drain: contents, oxygen demand, between what the pH lies. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PH_GIVEN_AT 10.0 /* kg/m3 at which a solute states its pH */
#define NEUTRAL     7.0

static const dregs_stream ways[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                    DREGS_STREAM_BLOWN_OFF};
enum { WAYS = sizeof ways / sizeof ways[0] };

/* m3 of a liquid, less what a still takes out of the drain again. */
static double volume_of(const dregs_tally *tally, unsigned fluid, unsigned stage, unsigned period)
{
    const dregs_line *line = dregs_tally_line(tally);
    double volume = 0;
    unsigned i, k;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (k = 0; k < WAYS && (stage == DREGS_WHOLE || stage == i); k++) {
            const dregs_stage *of = dregs_line_stage(line, i);
            double back =
                ways[k] == DREGS_STREAM_DRAINED && of->liquid.index == fluid && of->reclaim.si > 0
                    ? of->reclaim.si
                    : 0;
            volume += (1 - back) * dregs_tally_fluid(tally, ways[k], fluid, i, period);
        }
    return volume;
}

static double mass_of(const dregs_tally *tally, unsigned solute, unsigned stage, unsigned period)
{
    double mass = 0;
    unsigned k;

    for (k = 0; k < WAYS; k++)
        mass += dregs_tally_solute(tally, ways[k], solute, stage, period);
    return mass;
}

/* kg of oxygen per kg; NaN where neither is stated. */
static double demand_of(const dregs_demand *demand)
{
    return demand->stated.row ? demand->stated.si : demand->formula_row ? demand->of_formula : NAN;
}

/* ---- one point ---- */

static void add(dregs_tally_drain *drain, const char *name, int solute, unsigned index, double mass,
                const dregs_demand *demand)
{
    dregs_tally_drained *d = &drain->drained[drain->count];
    double takes = demand_of(demand);

    if (!(mass > 0) && !isnan(mass))
        return;
    drain->count++;
    d->name = name;
    d->is_solute = solute;
    d->index = index;
    d->mass = mass;
    d->concentration = mass / drain->volume;
    d->oxygen = mass * takes;
    if (isnan(d->oxygen))
        drain->least = 1;
    else
        drain->oxygen += d->oxygen;
}

/* Between what the pH of a solute lies at its concentration: from its pH at 10 kg/m3 a strong acid
 * or base changes it by the decades of dilution, a buffer not at all; nothing crosses neutral. */
static void ph_of(double stated, double concentration, double *low, double *high)
{
    double decades = log10(concentration / PH_GIVEN_AT);

    *low = *high = stated;
    if (stated > NEUTRAL) {
        *low = fmax(NEUTRAL, stated + fmin(decades, 0));
        *high = fmin(14, stated + fmax(decades, 0));
    } else if (stated < NEUTRAL) {
        *low = fmax(0, stated - fmax(decades, 0));
        *high = fmin(NEUTRAL, stated - fmin(decades, 0));
    }
}

/* Bases together are as strong as the strongest and at most as their sum, acids likewise; both
 * together lie anywhere between. Not known where a solute tells nothing. */
static void find_ph(const dregs_line *line, dregs_tally_drain *drain)
{
    double base = 0, acid = 0, least_base = NEUTRAL, most_acid = NEUTRAL, low, high;
    unsigned i;

    for (i = 0; i < drain->count; i++) {
        const dregs_tally_drained *d = &drain->drained[i];
        const dregs_solute *solute = d->is_solute ? dregs_line_solute(line, d->index) : NULL;
        if (!solute || (!solute->ph.row && solute->hazard == DREGS_HAZARD_NONE))
            continue; /* an organic liquid; one that is said to be neither acid nor caustic */
        if (!solute->ph.row)
            return;
        ph_of(solute->ph.si, d->concentration, &low, &high);
        if (solute->ph.si > NEUTRAL) {
            base += pow(10, high - 14);
            least_base = fmax(least_base, low);
        } else if (solute->ph.si < NEUTRAL) {
            acid += pow(10, -low);
            most_acid = fmin(most_acid, high);
        }
    }
    drain->ph_low = acid > 0 ? fmax(0, -log10(acid)) : least_base;
    drain->ph_high = base > 0 ? fmin(14, 14 + log10(base)) : most_acid;
}

static dregs_status fill(const dregs_tally *tally, unsigned stage, unsigned period,
                         dregs_tally_drain *drain)
{
    const dregs_line *line = dregs_tally_line(tally);
    unsigned fluids = dregs_line_fluids(line), solutes = dregs_line_solutes(line), i;

    memset(drain, 0, sizeof *drain);
    drain->stage = stage;
    drain->ph_low = drain->ph_high = NAN;
    for (i = 0; i < fluids; i++)
        drain->volume += volume_of(tally, i, stage, period);
    drain->drained = calloc(fluids + solutes + 1, sizeof *drain->drained);
    if (!drain->drained)
        return DREGS_NO_MEMORY;
    if (!(drain->volume > 0))
        return DREGS_OK;
    for (i = 0; i < solutes; i++)
        add(drain, dregs_line_solute(line, i)->name, 1, i, mass_of(tally, i, stage, period),
            &dregs_line_solute(line, i)->demand);
    for (i = 0; i < fluids; i++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, i);
        double volume = volume_of(tally, i, stage, period);
        if (!dregs_line_is_water(line, fluid) && volume > 0)
            add(drain, fluid->name, 0, i,
                volume * dregs_tally_density(tally, i) * fluid->solvent_share.si, &fluid->demand);
    }
    drain->oxygen_concentration = drain->oxygen / drain->volume;
    find_ph(line, drain);
    return DREGS_OK;
}

/* ---- what is asked for ---- */

static void ask(struct tally_drains *drains, const char *format, ...) DREGS_FORMAT(2, 3);

static void ask(struct tally_drains *drains, const char *format, ...)
{
    va_list arguments;

    if (drains->asked == TALLY_DRAIN_ASKED)
        return;
    va_start(arguments, format);
    vsnprintf(drains->ask[drains->asked++], TALLY_ASKED_ROOM, format, arguments);
    va_end(arguments);
}

/* Of all points together: each thing once. */
static void find_asked(const dregs_line *line, struct tally_drains *drains)
{
    const dregs_tally_drain *whole = &drains->drain[0];
    unsigned i;

    for (i = 0; i < whole->count; i++) {
        const dregs_tally_drained *d = &whole->drained[i];
        if (isnan(d->mass))
            ask(drains, "the density of %.60s, which is not known: its mass in the drain", d->name);
        else if (isnan(d->oxygen))
            ask(drains, "the oxygen demand of %.60s: a row 'COD' or 'formula'", d->name);
    }
    for (i = 0; i < whole->count; i++) {
        const dregs_tally_drained *d = &whole->drained[i];
        const dregs_solute *solute = d->is_solute ? dregs_line_solute(line, d->index) : NULL;
        if (solute && !solute->ph.row && solute->hazard != DREGS_HAZARD_NONE)
            ask(drains, "the pH of %.60s at 10 g/L in water: a row 'pH', or 'hazard' none",
                d->name);
    }
}

/* ---- all points ---- */

void dregs_answer_tally_drains_free(struct tally_drains *drains)
{
    unsigned i;

    for (i = 0; i < drains->count; i++)
        free(drains->drain[i].drained);
    free(drains->drain);
    memset(drains, 0, sizeof *drains);
}

dregs_status dregs_answer_tally_drains_of(const dregs_tally *tally, struct tally_drains *drains)
{
    const dregs_line *line = dregs_tally_line(tally);
    unsigned stages = dregs_line_stages(line), i;
    dregs_status status = DREGS_OK;

    memset(drains, 0, sizeof *drains);
    drains->drain = calloc(stages + 1, sizeof *drains->drain);
    if (!drains->drain)
        return DREGS_NO_MEMORY;
    for (i = 0; i <= stages && !status; i++) {
        status = fill(tally, i ? i - 1 : DREGS_WHOLE, DREGS_WHOLE, &drains->drain[drains->count]);
        if (status || drains->drain[drains->count].volume > 0)
            drains->count++;
        else
            free(drains->drain[drains->count].drained);
    }
    if (!status && drains->count)
        find_asked(line, drains);
    if (status)
        dregs_answer_tally_drains_free(drains);
    return status;
}

dregs_status dregs_answer_tally_drained_like(const dregs_tally *tally,
                                             const dregs_tally_drain *stated, double *into)
{
    dregs_tally_drain drawn;
    dregs_status status = fill(tally, DREGS_WHOLE, DREGS_WHOLE, &drawn);
    unsigned i, k;

    if (status)
        return status;
    for (i = 0; i < stated->count; i++) {
        const dregs_tally_drained *of = &stated->drained[i];
        into[i] = 0;
        for (k = 0; k < drawn.count; k++)
            if (drawn.drained[k].is_solute == of->is_solute && drawn.drained[k].index == of->index)
                into[i] = drawn.drained[k].concentration;
    }
    into[stated->count] = drawn.oxygen_concentration;
    free(drawn.drained);
    return DREGS_OK;
}

const dregs_tally_drain *dregs_tally_result_drain(const dregs_tally_result *answer, unsigned index)
{
    return index < answer->drains.count ? &answer->drains.drain[index] : NULL;
}

const char *dregs_tally_result_drain_asked(const dregs_tally_result *answer, unsigned index)
{
    return index < answer->drains.asked ? answer->drains.ask[index] : NULL;
}
