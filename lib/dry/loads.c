/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* loads.c: the vapour of loads that follow each other, from the curve of one of them.
 *
 * Each load brings the content c(t) that it would bring alone; what all bring is their sum (the
 * balance of the air is linear in what is released). Behind its curve a load's content is washed
 * out, c e^(-Q t / V). In loads that come for good, every interval T, the highest sum is that of
 * c(t + k T) over all k >= 0. That the vapour of the one slows the drying of the other is left
 * out: the sum is an upper bound. Without a volume the air holds what is released at the moment,
 * G / Q.
 */
#include "dregs/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { OVERLAPS_MOST = 10000 }; /* loads that dry at the same time */

/* A load's part of the content, over time. */
struct loads {
    const dregs_dry_case *film;
    const dregs_drying *drying;
    double interval;
    double scale[DREGS_VOLATILES]; /* m3/s of vapour at its lower limit per kg/(m2 s) */
};

dregs_dry_case dregs_dry_usual(void)
{
    dregs_dry_case usual;

    memset(&usual, 0, sizeof usual);
    usual.count = 1;
    usual.start = usual.air = usual.wall = usual.humid_at = 293.15;
    usual.speed = 0.1;    /* the draught of a quiet room */
    usual.humidity = 0.5; /* ours */
    usual.pressure = DREGS_ATMOSPHERE;
    usual.heat_capacity = 3.9e3; /* 1 mm of steel: 7850 kg/m3, 0.5 kJ/(kg K) */
    usual.length = 0.1;
    usual.emissivity = 0.9; /* of a wet or dull surface */
    usual.until = 1e-3;
    return usual;
}

static dregs_status scale(struct loads *l)
{
    const dregs_dry_case *film = l->film;
    dregs_status status = DREGS_OK;
    double limit, molar;
    unsigned i;

    for (i = 0; i < l->drying->volatiles && !status; i++) {
        const char *liquid = l->drying->liquid[i];
        l->scale[i] = 0;
        if (!dregs_liquids_row(film->liquids, liquid, DREGS_LOWER_LIMIT))
            continue;
        status =
            dregs_liquids_value(film->liquids, liquid, DREGS_LOWER_LIMIT, film->air, &limit, NULL);
        if (!status)
            status = dregs_liquids_value(film->liquids, liquid, DREGS_MOLAR_MASS, film->air, &molar,
                                         NULL);
        if (!status)
            l->scale[i] =
                film->area * DREGS_GAS_CONSTANT * film->air / (molar * film->pressure * limit);
    }
    return status;
}

/* m3/s of air that the release between two points fills to the lower limit. */
static double released(const struct loads *l, size_t after)
{
    const dregs_dry_point *a = &l->drying->point[after - 1], *b = a + 1;
    double sum = 0;
    unsigned i;

    for (i = 0; i < l->drying->volatiles; i++)
        sum += l->scale[i] * (a->mass[i] - b->mass[i]) / (b->time - a->time);
    return sum;
}

/* The point at or behind which a moment of the curve lies: 1 to points - 1. */
static size_t place(const dregs_drying *drying, double time)
{
    size_t low = 0, high = drying->points - 1;

    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        *(drying->point[middle].time >= time ? &high : &low) = middle;
    }
    return high;
}

/* What one load gives at a moment: content over the lower limit, or without a volume the release.
 */
static double given(const struct loads *l, double time)
{
    const dregs_drying *d = l->drying;
    const dregs_dry_point *end = &d->point[d->points - 1], *b;
    size_t at;

    if (time > end->time)
        return l->film->volume > 0 ? end->flammable * exp(-l->film->fresh_air * (time - end->time) /
                                                          l->film->volume)
                                   : 0.0;
    at = place(d, time);
    if (!(l->film->volume > 0))
        return released(l, at);
    b = &d->point[at];
    return b[-1].flammable +
           (b->flammable - b[-1].flammable) * (time - b[-1].time) / (b->time - b[-1].time);
}

/* What all loads give together at a moment of the interval. */
static double together(const struct loads *l, double time)
{
    double end = l->drying->point[l->drying->points - 1].time, sum = 0, washed;

    for (; time <= end; time += l->interval)
        sum += given(l, time);
    if (!(l->film->volume > 0) || !isfinite(l->interval))
        return sum;
    washed = -expm1(-l->film->fresh_air * l->interval / l->film->volume);
    return sum + (given(l, time) > 0 ? given(l, time) / washed : 0.0);
}

static double highest(const struct loads *l)
{
    const dregs_drying *d = l->drying;
    double most = 0;
    size_t i;

    for (i = 0; i < d->points; i++) {
        double time = d->point[i].time;
        most = fmax(most, together(l, isfinite(l->interval) ? fmod(time, l->interval) : time));
    }
    return most;
}

static dregs_status set_up(struct loads *l, const dregs_dry_case *film, const dregs_drying *drying,
                           double interval)
{
    *l = (struct loads){.film = film, .drying = drying, .interval = interval};
    if (!(interval > 0) || !(film->area >= 0) || drying->points < 2)
        return DREGS_DOMAIN;
    if (drying->point[drying->points - 1].time / interval > OVERLAPS_MOST)
        return DREGS_OUT_OF_RANGE;
    return scale(l);
}

dregs_status dregs_drying_peak_of_loads(const dregs_dry_case *film, const dregs_drying *drying,
                                        double interval, double *peak)
{
    struct loads loads;
    dregs_status status = set_up(&loads, film, drying, interval);
    double most;

    if (status)
        return status;
    most = highest(&loads);
    *peak = film->volume > 0 || !(most > 0) ? most : most / film->fresh_air;
    return DREGS_OK;
}

/* The highest content with a flow of fresh air. */
static dregs_status peak_with(const dregs_dry_case *film, double fresh_air, double interval,
                              double *peak, char *message)
{
    dregs_dry_case tried = *film;
    dregs_drying drying = {0};
    dregs_status status;

    tried.fresh_air = fresh_air;
    status = dregs_dry(&tried, 1e-9, &drying, message);
    if (!status)
        status = dregs_drying_peak_of_loads(&tried, &drying, interval, peak);
    dregs_drying_clear(&drying);
    return status;
}

dregs_status dregs_dry_fresh_air_of_loads(const dregs_dry_case *film, double interval, double share,
                                          double *fresh_air, char *message)
{
    dregs_dry_case open = *film;
    double low = 0, high, peak = 0;
    dregs_status status;
    int i;

    message[0] = '\0';
    if (!(share > 0) || !(share < 1) || !(interval > 0) || !(film->area > 0)) {
        snprintf(message, DREGS_DRY_MESSAGE,
                 "fresh air needs a wetted area, an interval, and a share of the limit below 1");
        return DREGS_DOMAIN;
    }
    /* without a volume the most; none can ask for more */
    open.volume = 0;
    status = peak_with(&open, 1.0, interval, &high, message);
    if (status)
        return status;
    high /= share;
    if (film->volume > 0 && high > 0 && !isfinite(interval)) {
        status = peak_with(film, 0, interval, &peak, message);
        if (!status && peak <= share)
            high = 0;
    }
    for (i = 0; film->volume > 0 && i < 40 && !status && high - low > 1e-4 * high; i++) {
        double middle = (low + high) / 2;
        status = peak_with(film, middle, interval, &peak, message);
        if (!status)
            *(peak <= share ? &high : &low) = middle;
    }
    if (!status)
        *fresh_air = high;
    return status;
}
