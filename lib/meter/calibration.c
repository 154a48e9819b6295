/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* calibration.c: a curve through measured points, straight between two of them.
 *
 * For any reading that rises or falls all the way with one concentration: conductivity, refractive
 * index, drops of a titration. Left out: the spread of the points, and any smoothing: a point that
 * is wrong bends the curve there.
 */
#include "dregs/meter.h"
#include "meter/range.h"

#include <math.h>

/* so that differences of two of them can be held, with room to spare */
#define LARGEST 1e100

static int usable(dregs_calibration_point point)
{
    return fabs(point.reading) <= LARGEST && point.concentration >= 0 &&
           point.concentration <= LARGEST;
}

static dregs_status at_odds(size_t wrong[2], size_t one, size_t other, char *message,
                            const char *reason)
{
    if (wrong) {
        wrong[0] = one;
        wrong[1] = other;
    }
    return dregs_meter_say(message, DREGS_BAD_DATA, "%s", reason);
}

/* The numbers of the points by rising concentration; few of them, so by insertion. */
static void sort(const dregs_calibration_point *points, size_t count, size_t order[])
{
    size_t i, j;

    for (i = 0; i < count; i++) {
        for (j = i; j > 0 && points[order[j - 1]].concentration > points[i].concentration; j--)
            order[j] = order[j - 1];
        order[j] = i;
    }
}

dregs_status dregs_calibration_make(const dregs_calibration_point *points, size_t count,
                                    dregs_calibration *curve, size_t wrong[2], char *message)
{
    dregs_calibration made = {0};
    size_t order[DREGS_CALIBRATION_MOST], i;

    if (count < DREGS_CALIBRATION_LEAST || count > DREGS_CALIBRATION_MOST)
        return at_odds(wrong, count, count, message, "a calibration has 2 to 20 points");
    for (i = 0; i < count; i++)
        if (!usable(points[i]))
            return at_odds(wrong, i, i, message,
                           "a point needs a reading, and a concentration of 0 or more");
    sort(points, count, order);
    for (i = 0; i < count; i++)
        made.point[i] = points[order[i]];
    made.count = count;
    for (i = 1; i < count; i++) {
        const dregs_calibration_point *p = &made.point[i];
        if (!(p[0].concentration > p[-1].concentration))
            return at_odds(wrong, order[i - 1], order[i], message,
                           "two points have the same concentration");
        if (p[0].reading == p[-1].reading)
            return at_odds(wrong, order[i - 1], order[i], message,
                           "two points have the same reading");
        if ((p[0].reading > p[-1].reading) != (made.point[1].reading > made.point[0].reading))
            return at_odds(wrong, order[i - 1], order[i], message,
                           "the readings do not rise or fall all the way with the concentration");
    }
    *curve = made;
    return DREGS_OK;
}

/* The share of the way from \p from to \p to at which \p x lies. The ends of the curve are forgiven
 * what a conversion of units may have lost: then it is the end itself. */
static double way(double x, double from, double to)
{
    double share = (x - from) / (to - from);

    if (share < 0 && share > -1e-9)
        return 0;
    if (share > 1 && share < 1 + 1e-9)
        return 1;
    return share;
}

static double between(double from, double to, double share)
{
    return from * (1 - share) + to * share; /* exact at both ends */
}

static dregs_status outside(const char *what, char *message)
{
    return dregs_meter_say(message, DREGS_OUT_OF_RANGE,
                           "the %s lies outside the points of the calibration", what);
}

dregs_status dregs_calibration_concentration(const dregs_calibration *curve, double reading,
                                             double *concentration, char *message)
{
    size_t i;

    if (!isfinite(reading))
        return dregs_meter_say(message, DREGS_DOMAIN, "the reading is not a number");
    for (i = 1; i < curve->count; i++) {
        const dregs_calibration_point *p = &curve->point[i];
        double share = way(reading, p[-1].reading, p[0].reading);
        if (share >= 0 && share <= 1) {
            *concentration = between(p[-1].concentration, p[0].concentration, share);
            return DREGS_OK;
        }
    }
    return outside("reading", message);
}

dregs_status dregs_calibration_reading(const dregs_calibration *curve, double concentration,
                                       double *reading, char *message)
{
    size_t i;

    if (!isfinite(concentration))
        return dregs_meter_say(message, DREGS_DOMAIN, "the concentration is not a number");
    for (i = 1; i < curve->count; i++) {
        const dregs_calibration_point *p = &curve->point[i];
        double share = way(concentration, p[-1].concentration, p[0].concentration);
        if (share >= 0 && share <= 1) {
            *reading = between(p[-1].reading, p[0].reading, share);
            return DREGS_OK;
        }
    }
    return outside("concentration", message);
}
