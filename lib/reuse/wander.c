/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* wander.c: a change that is too small to be found, or too young, and yet moves the answer.
 *
 * What is told of the loads left allows for one: from the middle of the last fill on all films may
 * be thicker or thinner by a factor that is known beforehand to be near 1. The readings since then
 * say how much of it they see; what they leave open goes into the interval.
 */
#include "reuse/inside.h"

#include <string.h>

/* Standard deviation of the logarithm of that factor. Our own choice: half as much again is found
 * as a change. */
#define WANDERS 0.15

/* The load behind which the last fill is half over: of the tanks that are read the one that was
 * dumped last. */
static int64_t middle_of_fill(const dregs_reuse *reuse, int64_t *fill)
{
    const dregs_reading *last = dregs_readings_at(reuse->readings, reuse->count - 1);
    size_t i;

    *fill = 0;
    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->fill > *fill && reading->stage == dregs_reuse_last_read(reuse))
            *fill = reading->fill;
    }
    return (*fill + last->at) / 2;
}

static dregs_status let_wander(const dregs_reuse *reuse, struct regime *regime)
{
    int64_t fill, middle = middle_of_fill(reuse, &fill);

    /* a change within the fill is doubt enough, and one before its first load none of it */
    if (middle < 1 ||
        (regime->start.state && dregs_readings_at(reuse->readings, regime->about.first)->at > fill))
        return DREGS_OK;
    regime->wander_at = middle;
    regime->before.cov[Q_WANDER][Q_WANDER] = WANDERS * WANDERS;
    return dregs_reuse_fit(reuse, regime, reuse->count);
}

/* Is any reading of a tank in use, or of parts, used that is more than a bound? */
static int is_read(const dregs_reuse *reuse)
{
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reuse->heard[i].heard == DREGS_HEARD_USED && !reading->beyond && !reading->fresh)
            return 1;
    }
    return 0;
}

dregs_status dregs_reuse_wander(dregs_reuse *reuse)
{
    struct regime *last = &reuse->regime[reuse->regimes - 1];
    dregs_status status;
    unsigned k;

    reuse->ahead = *last;
    /* bounds alone leave the films as open as the file does: that much is in its spreads */
    if (reuse->blind || reuse->answer.doubtful || !is_read(reuse))
        return DREGS_OK;
    status = let_wander(reuse, &reuse->ahead);
    for (k = 0; k < last->rival_count && !status; k++)
        status = let_wander(reuse, &last->rivals[k]);
    return status;
}
