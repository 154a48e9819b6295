/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid_curve.c: the vapour pressure of a liquid over temperature, for a picture. */
#include "dregs/answer_liquid.h"

#include <math.h>

#define COLDEST 253.15 /* K: a cleaning line is not run below */
#define HOTTEST 423.15 /* K: or above, where no boiling point is known */

dregs_status dregs_liquid_curve(const dregs_liquids *liquids, const char *liquid, unsigned points,
                                dregs_liquid_take *take, void *user)
{
    const dregs_liquid_row *row = dregs_liquids_row(liquids, liquid, DREGS_VAPOUR_PRESSURE);
    double from = COLDEST, to = HOTTEST, boils;
    unsigned i;

    if (!row || points < 2)
        return DREGS_UNKNOWN;
    if (!dregs_liquids_value(liquids, liquid, DREGS_BOILING_POINT, 293.15, &boils, NULL))
        to = boils;
    if (row->low > from)
        from = row->low;
    if (row->high < to)
        to = row->high;
    if (!(from < to))
        return DREGS_UNKNOWN;
    for (i = 0; i < points; i++) {
        double kelvin = i + 1 < points ? from + (to - from) * i / (points - 1) : to, pascal;
        if (!dregs_liquids_value(liquids, liquid, DREGS_VAPOUR_PRESSURE, kelvin, &pascal, NULL))
            take(user, kelvin, pascal);
    }
    return DREGS_OK;
}
