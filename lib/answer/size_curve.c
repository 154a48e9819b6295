/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_curve.c: the residue over the range of the one property that was sized, for a picture: the
 * line with each value is asked like any other. */
#include "dregs/answer_size.h"
#include "dregs/line.h"

#include <math.h>

enum { STAGES_MOST = 64 };

/* Value number `index` of `count` over the range: evenly spaced on a logarithmic scale, where both
 * ends are above 0, else on a linear one; numbers of loads are whole. */
static double value_at(const dregs_varied *varied, unsigned index, unsigned count)
{
    double low = dregs_varied_low(varied, 0), high = dregs_varied_high(varied, 0);
    double share = (double)index / (count - 1);
    double value = low > 0 ? low * pow(high / low, share) : low + (high - low) * share;

    value = value < low ? low : value > high ? high : value;
    return dregs_varied_whole(varied, 0) ? floor(value + 0.5) : value;
}

/* The residue over its limit at a value; NaN where the line cannot be so. */
static dregs_status excess_at(const dregs_varied *varied, dregs_criterion criterion, double value,
                              double *excess)
{
    const dregs_line *line = dregs_varied_line(varied);
    dregs_setting setting[STAGES_MOST];
    dregs_compliance compliance;
    dregs_line *changed = NULL;
    dregs_status status;
    unsigned stages = 0;
    const char *name;

    while (stages < STAGES_MOST && (name = dregs_varied_stage(varied, 0, stages)) != NULL)
        setting[stages++] = (dregs_setting){0, name, dregs_varied_property(varied, 0), value};
    *excess = NAN;
    status = dregs_line_with(line, setting, stages, &changed, NULL);
    if (status)
        return status == DREGS_NO_MEMORY ? status : DREGS_OK;
    status = dregs_size_compliance(changed, criterion, &compliance);
    dregs_line_free(changed);
    if (!status)
        *excess = compliance.of_limit;
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

dregs_status dregs_size_curve(const dregs_varied *varied, dregs_criterion criterion,
                              unsigned points, dregs_size_take *take, void *user)
{
    double last = NAN;
    unsigned i;

    if (dregs_varied_count(varied) != 1 || points < 2 ||
        !(dregs_varied_low(varied, 0) < dregs_varied_high(varied, 0)) ||
        !isfinite(dregs_varied_high(varied, 0)))
        return DREGS_DOMAIN;
    for (i = 0; i < points; i++) {
        double value = value_at(varied, i, points), excess;
        dregs_status status;
        if (value == last)
            continue;
        last = value;
        status = excess_at(varied, criterion, value, &excess);
        if (status)
            return status;
        take(user, value, excess);
    }
    return DREGS_OK;
}
