/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fresh.c: what fresh liquid holds of its own, where it was measured: by a reading of a tank that
 * no load has been through yet, or of the liquid itself. It is then an unknown of the fit, and what
 * the file states of it is no more than where the search begins.
 */
#include "line/line.h"
#include "reuse/inside.h"

#include <math.h>

/* One standard deviation before the readings, in units of the larger of what is stated and what was
 * read: the reading decides. Our own choice. */
#define FRESH_WIDE 3.0

static int is_blank(const dregs_reading *reading)
{
    return reading->what != DREGS_MEASURED_DUMP && (reading->fresh || reading->loads == 0);
}

/* About how much of the solute (kg/m3) makes a meter show that. */
static double amounts_to(const dregs_reuse *reuse, const dregs_reading *reading, unsigned solute)
{
    static const double step = 1e-3;
    double held[DREGS_LINE_SOLUTES] = {0}, pure, more;

    if (dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                          reading->temperature, held, &pure, NULL))
        return 0;
    held[solute] = step;
    if (dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                          reading->temperature, held, &more, NULL) ||
        !(fabs(more - pure) > 0))
        return 0;
    return fabs((reading->value - pure) / (more - pure)) * step;
}

void dregs_reuse_set_up_fresh(dregs_reuse *reuse)
{
    size_t i;

    reuse->fresh = -1;
    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        const dregs_stage *stage = dregs_line_stage(reuse->line, reading->stage);
        int fluid = (int)stage->liquid.index;
        unsigned solute;
        double amount;
        if (!is_blank(reading) || reuse->heard[i].heard == DREGS_HEARD_UNUSABLE ||
            stage->shares.row || !dregs_stage_is(stage, DREGS_STAGE_RINSES) ||
            (reuse->fresh >= 0 && reuse->fresh != fluid))
            continue;
        solute = (unsigned)reuse->dirt_solute[fluid];
        if (reuse->fresh < 0)
            reuse->fresh_unit = dregs_line_fluid(reuse->line, (unsigned)fluid)->content[solute].si;
        reuse->fresh = fluid;
        amount = amounts_to(reuse, reading, solute);
        if (isfinite(amount))
            reuse->fresh_unit = fmax(reuse->fresh_unit, amount);
    }
    if (reuse->fresh >= 0 && !(reuse->fresh_unit > 1e-9)) /* kg/m3: nothing stated, nothing read */
        reuse->fresh_unit = 1e-6;
}

void dregs_reuse_believe_fresh(const dregs_reuse *reuse, struct belief *belief)
{
    if (reuse->fresh < 0)
        return;
    belief->mean[Q_FRESH] = 0;
    belief->cov[Q_FRESH][Q_FRESH] = FRESH_WIDE * FRESH_WIDE;
}

dregs_factor dregs_reuse_fresh_of(const dregs_reuse *reuse, const struct belief *after,
                                  double quantile)
{
    dregs_factor fresh = {NAN, NAN, NAN};
    double stated, sd;

    if (reuse->fresh < 0)
        return fresh;
    stated = dregs_line_fluid(reuse->line, (unsigned)reuse->fresh)
                 ->content[reuse->dirt_solute[reuse->fresh]]
                 .si;
    sd = sqrt(after->cov[Q_FRESH][Q_FRESH]);
    fresh.best = fmax(stated + after->mean[Q_FRESH] * reuse->fresh_unit, 0.0);
    fresh.low = fmax(stated + (after->mean[Q_FRESH] - quantile * sd) * reuse->fresh_unit, 0.0);
    fresh.high = fmax(stated + (after->mean[Q_FRESH] + quantile * sd) * reuse->fresh_unit, 0.0);
    return fresh;
}
