/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* noise.c: how much a meter scatters, when nobody says so.
 *
 * Either a share of the reading or the same at every reading: whichever makes what was read the
 * likelier (both have one unknown, so that their likelihoods may be compared).
 */
#include "reuse/inside.h"

#include <gsl/gsl_statistics.h>
#include <math.h>
#include <stdlib.h>

#define NOTHING_SHARE 1e-4 /* what no bench meter betters; readings made by a formula do */
#define ASSUMED_SHARE 0.05
#define SD_OF_MEDIAN  1.4826 /* of a normal distribution: 1 / (its upper quartile) */
#define ROBUST_LEAST  6

/* Readings of a channel that are used: what is left over, and what a share would be taken of. */
static size_t gather(const dregs_reuse *reuse, unsigned channel, double *left, double *share_of)
{
    size_t i, count = 0;

    for (i = 0; i < reuse->count; i++) {
        const dregs_heard_reading *heard = &reuse->heard[i];
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->what == DREGS_MEASURED_DUMP || reuse->channel_of[i] != channel ||
            heard->heard != DREGS_HEARD_USED || !isfinite(heard->expected) || reading->sd > 0 ||
            reading->beyond)
            continue;
        left[count] = (reading->value - heard->expected) * sqrt(dregs_reuse_rows_count(reading));
        share_of[count] = fmax(fabs(heard->expected - reuse->channel[channel].clean),
                               DREGS_LEAST_SHARE * reuse->channel[channel].mean);
        count++;
    }
    return count;
}

/* Is a bound of it judged by the scatter that is taken to be the meter's? */
static int has_bound(const dregs_reuse *reuse, unsigned channel)
{
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->what != DREGS_MEASURED_DUMP && reuse->channel_of[i] == channel &&
            reuse->heard[i].heard == DREGS_HEARD_USED && reading->beyond && !(reading->sd > 0))
            return 1;
    }
    return 0;
}

/* From differences between neighbours, which slow departures of the model do not move: their mean
 * square, those beyond three times the middle one cut back to it, so that neither does a change or
 * an outlier. `weight` NULL: absolute. */
static double from_neighbours(const double *left, const double *weight, size_t count, double *room)
{
    double most, sum = 0;
    size_t i;

    for (i = 0; i + 1 < count; i++)
        room[i] = fabs(left[i + 1] / (weight ? weight[i + 1] : 1.0) -
                       left[i] / (weight ? weight[i] : 1.0)) /
                  sqrt(2.0);
    most = 3.0 * SD_OF_MEDIAN * gsl_stats_median(room, 1, count - 1);
    for (i = 0; i + 1 < count; i++)
        sum += pow(fmin(room[i], most), 2);
    return sqrt(sum / (double)(count - 1));
}

static double from_all(const double *left, const double *weight, size_t count, double freedom)
{
    double sum = 0;
    size_t i;

    for (i = 0; i < count; i++)
        sum += pow(left[i] / (weight ? weight[i] : 1.0), 2);
    return sqrt(sum / freedom);
}

static void set_noise(const dregs_reuse *reuse, struct channel *channel, const double *left,
                      const double *weight, size_t count, double *room, int robust)
{
    /* two unknowns of each regime, and the choice between the two kinds */
    double freedom = fmax((double)count - 2.0 * reuse->regimes - 1.0, 1.0);
    double share, absolute, logs = 0;
    size_t i;

    if (count < ROBUST_LEAST) {
        channel->noise = ASSUMED_SHARE;
        channel->absolute = 0;
        channel->assumed = count > 0;
        channel->freedom = 0;
        return;
    }
    channel->assumed = 0;
    share = robust ? from_neighbours(left, weight, count, room)
                   : from_all(left, weight, count, freedom);
    absolute =
        robust ? from_neighbours(left, NULL, count, room) : from_all(left, NULL, count, freedom);
    share = fmax(share, NOTHING_SHARE);
    absolute = fmax(absolute, NOTHING_SHARE * channel->mean);
    for (i = 0; i < count; i++)
        logs += log(weight[i]);
    channel->absolute = (double)count * log(absolute) < (double)count * log(share) + logs;
    channel->noise = channel->absolute ? absolute : share;
    /* a mean square of differences knows two thirds of what as many free readings would */
    channel->freedom = robust ? 2.0 * ((double)count - 1.0) / 3.0 : freedom;
}

dregs_status dregs_reuse_noise(dregs_reuse *reuse, int robust)
{
    double *left, *share_of, *room;
    unsigned c;
    size_t count;

    if (reuse->basis.noise_given)
        return DREGS_OK;
    left = malloc(3 * (reuse->count + 1) * sizeof *left);
    if (!left)
        return DREGS_NO_MEMORY;
    share_of = left + reuse->count;
    room = share_of + reuse->count;
    for (c = 0; c < reuse->channels; c++) {
        count = gather(reuse, c, left, share_of);
        set_noise(reuse, &reuse->channel[c], left, share_of, count, room, robust);
        reuse->channel[c].assumed |= count == 0 && has_bound(reuse, c);
    }
    free(left);
    return DREGS_OK;
}
