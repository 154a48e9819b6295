/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stopped.c: drag-out measured with the water shut.
 *
 * The same engine and the same least squares as for a rinse in use, with all flows shut, nothing
 * believed of the drag-out, and the bath's strength known as far as the line file says.
 */
#include "line/line.h"
#include "reuse/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define UNKNOWN 1e6 /* variance of a logarithm: nothing is known */

double dregs_drag_out_stopped(double volume, double f, double loads)
{
    if (!(volume > 0) || !(f > 0) || !(f < 1) || !(loads > 0))
        return NAN;
    return volume * expm1(-log1p(-f) / loads);
}

/* The stage whose film the rinse gets: the wet one before it. */
static int before(const dregs_line *line, unsigned stage)
{
    return stage > 0 && dregs_stage_is(dregs_line_stage(line, stage - 1), DREGS_STAGE_WET)
               ? (int)stage - 1
               : -1;
}

static dregs_status find_rinse(dregs_reuse *reuse, dregs_stopped_flow *measured)
{
    unsigned c, stage = reuse->channel[0].stage;

    for (c = 0; c < reuse->channels; c++)
        if (reuse->channel[c].what == DREGS_MEASURED_ON_PARTS)
            return dregs_fault_add(reuse->faults, DREGS_BAD_DATA, 0,
                                   "a residue on parts tells no drag-out of a rinse with its water "
                                   "shut; leave its rows out");
    for (c = 0; c < reuse->channels; c++)
        if (reuse->channel[c].stage > stage)
            stage = reuse->channel[c].stage;
    for (c = 0; c < reuse->channels; c++)
        if (reuse->channel[c].stage != stage &&
            !dregs_stage_is(dregs_line_stage(reuse->line, reuse->channel[c].stage),
                            DREGS_STAGE_CLEANS))
            return dregs_fault_add(
                reuse->faults, DREGS_BAD_DATA, 0,
                "readings of '%.60s' and of '%.60s': drag-out is measured in one "
                "rinse (readings of the wash may be there as well)",
                dregs_line_stage(reuse->line, reuse->channel[c].stage)->name,
                dregs_line_stage(reuse->line, stage)->name);
    if (before(reuse->line, stage) < 0)
        return dregs_fault_add(reuse->faults, DREGS_BAD_DATA, 0,
                               "no wet stage stands before '%.60s': nothing is dragged into it",
                               dregs_line_stage(reuse->line, stage)->name);
    measured->stage = stage;
    measured->from = (unsigned)before(reuse->line, stage);
    return DREGS_OK;
}

/* What is known of the bath, the last wash the load has passed: the spread of its largest content.
 */
static double bath_spread(const dregs_line *line, unsigned from)
{
    const dregs_fluid *fluid;
    double most = 0, spread = 0;
    unsigned s;

    while (from > 0 && !dregs_stage_is(dregs_line_stage(line, from), DREGS_STAGE_CLEANS))
        from--;
    fluid = dregs_line_wet_with(line, from);
    for (s = 0; s < dregs_line_solutes(line); s++)
        if (fluid->content[s].si > most) {
            most = fluid->content[s].si;
            spread = fluid->content[s].sd / most;
        }
    return spread;
}

/* The last reading of the rinse that is used. */
static size_t last_used(const dregs_reuse *reuse, unsigned stage)
{
    size_t i, last = reuse->count;

    for (i = 0; i < reuse->count; i++)
        if (reuse->heard[i].heard == DREGS_HEARD_USED &&
            !dregs_readings_at(reuse->readings, i)->beyond &&
            dregs_readings_at(reuse->readings, i)->stage == stage)
            last = i;
    return last;
}

/* The fraction of the bath that the last reading stands for: where on the way from fresh liquid to
 * bath the meter would show that. */
static void shortcut(const dregs_reuse *reuse, dregs_stopped_flow *measured, size_t last)
{
    const dregs_line *line = reuse->line;
    const dregs_reading *reading = dregs_readings_at(reuse->readings, last);
    const dregs_fluid *fresh = dregs_line_wet_with(line, measured->stage);
    const dregs_fluid *bath = dregs_line_wet_with(line, measured->from);
    double strength = exp(reuse->regime[0].after.mean[Q_STRENGTH]);
    double low = 0, high = 1, held[DREGS_LINE_SOLUTES], shown = 0, at_bath = 0, at_fresh = 0;
    unsigned s, i;

    measured->fraction = measured->shortcut = NAN;
    measured->loads = (uint64_t)(reading->at - (reading->fill > 0 ? reading->fill : 0));
    for (i = 0; i < 62; i++) {
        double f = i == 0 ? 0.0 : i == 1 ? 1.0 : (low + high) / 2;
        for (s = 0; s < dregs_line_solutes(line); s++)
            held[s] =
                fresh->content[s].si + f * (bath->content[s].si * strength - fresh->content[s].si);
        if (dregs_reuse_shown(line, measured->stage, reading->what, reading->which,
                              reading->temperature, held, &shown, NULL))
            return;
        if (i == 0)
            at_fresh = shown;
        else if (i == 1)
            at_bath = shown;
        else if ((shown < reading->value) == (at_bath > at_fresh))
            low = f;
        else
            high = f;
    }
    if (!((reading->value - at_fresh) * (at_bath - reading->value) > 0))
        return;
    measured->fraction = (low + high) / 2;
    measured->shortcut = dregs_drag_out_stopped(
        dregs_line_tank(line, (unsigned)dregs_line_stage(line, measured->stage)->tank)->volume,
        measured->fraction, (double)measured->loads);
}

/* From the factor to the film that the line file would state. */
static dregs_status to_film(const dregs_reuse *reuse, dregs_stopped_flow *measured)
{
    const dregs_load *load = dregs_line_load(reuse->line);
    const dregs_carried *carried = dregs_line_carried(reuse->line, measured->from);
    const struct belief *after = &reuse->regime[0].after;
    double area = load->parts.si * load->area.si + load->extra_area.si;
    double held = load->parts.si * (load->hold_up.si + carried->bead);

    measured->factor = exp(after->mean[Q_CHANGE]);
    measured->carried = carried->out * measured->factor;
    measured->thickness = (measured->carried - held) / area;
    measured->sd = measured->carried * sqrt(after->cov[Q_CHANGE][Q_CHANGE]) / area;
    if (!(measured->thickness > 0))
        return dregs_fault_add(reuse->faults, DREGS_BAD_DATA, 0,
                               "a load drags %g mL out of '%.60s', less than hold-up and edge "
                               "beads alone (%g mL): no film is left",
                               measured->carried * 1e6,
                               dregs_line_stage(reuse->line, measured->from)->name, held * 1e6);
    return DREGS_OK;
}

static void tell_noise(const dregs_reuse *reuse, dregs_stopped_flow *measured)
{
    const struct channel *meter = reuse->channel;

    while (meter->stage != measured->stage)
        meter++;
    measured->noise = meter->absolute ? meter->noise / meter->mean : meter->noise;
    measured->noise_assumed = meter->assumed;
}

static dregs_status measure(dregs_reuse *reuse, dregs_stopped_flow *measured)
{
    struct belief *belief = &reuse->regime[0].before;
    dregs_status status = find_rinse(reuse, measured);
    size_t i, last;

    if (status)
        return status;
    measured->bath_spread = bath_spread(reuse->line, measured->from);
    reuse->stopped = 1;
    for (i = 0; i < DREGS_LINE_STAGES; i++) /* one factor for all: the film before the rinse */
        belief->mean[Q_STAGE + i] = belief->cov[Q_STAGE + i][Q_STAGE + i] = 0;
    belief->mean[Q_CHANGE] = belief->mean[Q_STRENGTH] = 0;
    belief->cov[Q_CHANGE][Q_CHANGE] = UNKNOWN;
    belief->cov[Q_STRENGTH][Q_STRENGTH] = log1p(pow(fmax(measured->bath_spread, 1e-6), 2));
    status = dregs_reuse_listen(reuse);
    if (status)
        return status;
    for (i = 0; i < reuse->count; i++) {
        if (dregs_readings_at(reuse->readings, i)->stage != measured->stage)
            continue;
        measured->used += reuse->heard[i].heard == DREGS_HEARD_USED;
        measured->outliers += reuse->heard[i].heard == DREGS_HEARD_OUTLIER ||
                              reuse->heard[i].heard == DREGS_HEARD_ALONE;
    }
    last = last_used(reuse, measured->stage);
    if (measured->used < 2 || last == reuse->count)
        return dregs_fault_add(reuse->faults, DREGS_BAD_DATA, 0,
                               "%zu reading%s of '%.60s' can be used; drag-out takes two, the more "
                               "the better",
                               measured->used, measured->used == 1 ? "" : "s",
                               dregs_line_stage(reuse->line, measured->stage)->name);
    tell_noise(reuse, measured);
    measured->noise_given = reuse->basis.noise_given;
    shortcut(reuse, measured, last);
    return to_film(reuse, measured);
}

dregs_status dregs_drag_out_measure(const dregs_line *line, const dregs_readings *readings,
                                    double noise, dregs_stopped_flow *measured,
                                    dregs_faults *faults)
{
    dregs_reuse_request request;
    dregs_stopped_flow made;
    dregs_reuse *reuse = NULL;
    dregs_faults own = {0};
    dregs_status status;

    memset(&made, 0, sizeof made);
    dregs_reuse_request_init(&request);
    request.noise = noise;
    if (!faults)
        faults = &own;
    snprintf(faults->file, sizeof faults->file, "%s",
             dregs_line_kinds(line) > 1 ? dregs_line_name(line) : dregs_readings_name(readings));
    if (dregs_line_kinds(line) > 1) /* whose film is it? */
        return dregs_fault_add(
            faults, DREGS_BAD_DATA, 0,
            "loads of several kinds are not taken here: drag-out is measured with "
            "loads of one kind");
    status = dregs_reuse_prepare(line, readings, &request, &reuse, faults);
    if (!status)
        status = measure(reuse, &made);
    if (status == DREGS_NUMERIC && faults->count == 0)
        (void)dregs_fault_add(faults, status, 0, "no drag-out explains these readings");
    dregs_reuse_free(reuse);
    if (!status)
        *measured = made;
    return status;
}
