/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_extended.c: which properties a drying took from beyond their data. */
#include "answer/inside.h"
#include "dregs/answer_dry.h"

#include <math.h>
#include <stdio.h>

/* The first of the temperatures of a drying at which a property is carried on beyond its row. */
static int first_beyond(const dregs_dry_row *row, const char *liquid, dregs_property property,
                        char *sentence)
{
    const dregs_dry_case *film = &row->film;
    double cold = row->drying.coldest;
    double at[3] = {cold, film->start, film->air};
    int i;

    if (property == DREGS_DIFFUSIVITY) /* taken half way between surface and air */
        at[0] = (cold + film->air) / 2;
    for (i = 0; i < 3; i++)
        if (at[i] > 0 && at[i] <= fmax(film->start, film->air) &&
            dregs_liquids_extended(film->liquids, liquid, property, at[i], sentence))
            return 1;
    return 0;
}

void dregs_answer_dry_extended(dregs_dry_row *row)
{
    static const dregs_property used[] = {DREGS_VAPOUR_PRESSURE, DREGS_DENSITY,
                                          DREGS_HEAT_OF_VAPORISATION, DREGS_HEAT_CAPACITY,
                                          DREGS_DIFFUSIVITY};
    char sentence[DREGS_LIQUID_MESSAGE];
    unsigned i;
    size_t k;

    for (i = 0; i < row->film.count; i++)
        for (k = 0; k < sizeof used / sizeof used[0]; k++)
            if (row->assumed_count < DREGS_DRY_ASSUMED_MOST &&
                first_beyond(row, row->film.liquid[i], used[k], sentence))
                snprintf(row->assumed[row->assumed_count++], sizeof row->assumed[0], "%.119s",
                         sentence);
}
