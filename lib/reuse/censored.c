/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* censored.c: readings that say no more than that they lie below or above a bound, "<5" or ">2000".
 *
 * With a normal scatter, `<L` where m is expected has the likelihood P((L - m) / sd) of the normal
 * distribution P (Tobin 1958, Econometrica 26, 24). A sum of squares holds it exactly: r^2 = -2 ln
 * P. What J'J of these r tells of the curvature is too little, by half where the bound is far on
 * the safe side: the interval is rather too wide. The filter of regime.c goes by mean and variance
 * of the cut distribution.
 */
#include "reuse/inside.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>

/* ln P(u) of the normal distribution */
static double log_below(double u)
{
    return u > 0 ? log1p(-0.5 * gsl_sf_erfc(u / M_SQRT2)) : gsl_sf_log_erfc(-u / M_SQRT2) - M_LN2;
}

double dregs_reuse_left(const dregs_reading *reading, double expected, double sd)
{
    double off = (expected - reading->value) / sd;

    return reading->beyond ? sqrt(fmax(-2 * log_below(reading->beyond * off), 0.0)) : off;
}

double dregs_reuse_left_slope(const dregs_reading *reading, double expected, double sd)
{
    double share, left = dregs_reuse_left(reading, expected, sd);

    if (!reading->beyond)
        return 1;
    /* (r^2)' = 2 r r' = -2 (ln P)'; where nothing is left over nothing is to be had */
    return left > 0 ? -dregs_reuse_taught(reading, (reading->value - expected) / sd, &share) / left
                    : 0.0;
}

double dregs_reuse_beyond(const dregs_reading *reading, double off)
{
    if (!reading->beyond)
        return off;
    return reading->beyond < 0 ? fmin(off, 0.0) : fmax(off, 0.0);
}

double dregs_reuse_taught(const dregs_reading *reading, double off, double *share)
{
    /* phi(a) / P(a), of the side that it lies on */
    double a = -reading->beyond * off, hazard;

    *share = 1;
    if (!reading->beyond)
        return off;
    hazard = exp(log(gsl_ran_ugaussian_pdf(0)) - a * a / 2 - log_below(a));
    *share = fmin(hazard * (hazard + a), 1.0);
    return reading->beyond * hazard;
}

/* A bound below which the tank is not yet to be dumped. What is left on a part tells of its load,
 * not of the next one. */
static int tells(const dregs_reuse *reuse, const dregs_reading *reading)
{
    const dregs_dump_reading *at = &reuse->answer.at[reading->stage];

    return reading->what != DREGS_MEASURED_ON_PARTS && at->known && at->what == reading->what &&
           at->which == reading->which &&
           reading->at >= dregs_reuse_last_fill(reuse, reading->stage) &&
           (at->value - reading->value) * reading->beyond < 0 &&
           (at->value - at->now) * reading->beyond < 0;
}

void dregs_reuse_tell_bounds(dregs_reuse *reuse)
{
    size_t i, used = 0, bounds = 0;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reuse->heard[i].heard != DREGS_HEARD_USED || reading->fresh)
            continue;
        used++;
        bounds += reading->beyond != 0;
        reuse->answer.bounds_tell |= reading->beyond && tells(reuse, reading);
    }
    reuse->answer.bounds_alone = used > 0 && bounds == used;
}
