/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* scale.c: from values to pixels, and the round numbers that an axis names. */
#include "report/plot.h"

#include <math.h>
#include <stdio.h>

int dregs_report_scale_has(const struct scale *scale, double value)
{
    return isfinite(value) && (!scale->logarithmic || value > 0);
}

void dregs_report_scale_take(struct scale *scale, double value)
{
    if (!dregs_report_scale_has(scale, value))
        return;
    if (!(scale->low <= value))
        scale->low = value;
    if (!(scale->high >= value))
        scale->high = value;
}

double dregs_report_scale_at(const struct scale *scale, double value)
{
    double low = scale->low, high = scale->high;

    if (scale->logarithmic) {
        low = log10(low);
        high = log10(high);
        value = log10(value);
    }
    return scale->from + (value - low) / (high - low) * (scale->to - scale->from);
}

static void add_tick(struct ticks *ticks, double value)
{
    if (ticks->count < TICKS)
        ticks->at[ticks->count++] = value;
}

/* The lowest step of 1, 2, 5 times a power of ten that is not below `least`. */
static double step_of(double least)
{
    double power = pow(10, floor(log10(least)));

    /* a hair of room, for 0.2 is no binary number */
    return power * (least <= power * 1.000001   ? 1
                    : least <= power * 2.000001 ? 2
                    : least <= power * 5.000001 ? 5
                                                : 10);
}

static void round_linear(struct scale *scale, int most, struct ticks *ticks)
{
    double step = step_of((scale->high - scale->low) / most), first, last, i;

    first = floor(scale->low / step + 1e-6);
    last = ceil(scale->high / step - 1e-6);
    scale->low = first * step;
    scale->high = last * step;
    for (i = first; i <= last; i++)
        add_tick(ticks, i * step);
}

/* Whole decades, or 1, 2, 5 of each where they are few. */
static void round_logarithmic(struct scale *scale, int most, struct ticks *ticks)
{
    static const double part[] = {1, 2, 5};
    double first = floor(log10(scale->low)), last = ceil(log10(scale->high)), decade;
    int few = 3 * log10(scale->high / scale->low) <= most, every = (int)ceil((last - first) / most),
        i;
    double low = scale->low, high = scale->high;

    if (every <= 1) { /* the ends at 1, 2 or 5 */
        for (i = 0; i < 3 && part[i] * pow(10, first) <= low * 1.000001; i++)
            scale->low = part[i] * pow(10, first);
        for (i = 2; i >= 0 && part[i] * pow(10, last - 1) >= high * 0.999999; i--)
            scale->high = part[i] * pow(10, last - 1);
        if (scale->high < high * 0.999999 || scale->high <= scale->low)
            scale->high = pow(10, last);
    } else {
        scale->low = pow(10, first);
        scale->high = pow(10, last);
    }
    for (decade = first; decade <= last; decade += few || every < 1 ? 1 : every)
        for (i = 0; i < (few ? 3 : 1); i++) {
            double value = part[i] * pow(10, decade);
            if (value >= scale->low * 0.999999 && value <= scale->high * 1.000001)
                add_tick(ticks, value);
        }
}

void dregs_report_scale_round(struct scale *scale, int most, struct ticks *ticks)
{
    ticks->count = 0;
    if (!(scale->low <= scale->high)) {
        scale->low = scale->logarithmic ? 0.1 : 0;
        scale->high = 1;
    }
    if (scale->logarithmic) {
        if (scale->high < scale->low * 1.5) {
            scale->low /= 1.5;
            scale->high *= 1.5;
        }
        round_logarithmic(scale, most, ticks);
        return;
    }
    if (scale->high - scale->low <= 1e-9 * fabs(scale->high)) {
        double half = scale->high != 0 ? fabs(scale->high) / 2 : 0.5;
        scale->low -= half;
        scale->high += half;
    }
    round_linear(scale, most, ticks);
}

void dregs_report_axis_words(const struct axis *axis, char *into, size_t room)
{
    const char *label = axis->label ? axis->label : "", *unit = axis->unit ? axis->unit : "";

    snprintf(into, room, "%s%s%s", label, *unit ? ", " : "", unit);
}
