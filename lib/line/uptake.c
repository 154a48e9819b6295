/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* uptake.c: what an open tank of a line holds after a time in which it only stands there. */
#include "line/inside.h"

#include <math.h>
#include <stdio.h>

dregs_status dregs_line_open_uptake(const dregs_line *line, unsigned tank, double time,
                                    dregs_open_content *content, char *message)
{
    dregs_open_content per_area = {0, 0};
    const dregs_stage *stage;
    const dregs_fluid *fluid;
    dregs_open_surface surface;
    dregs_evaporation e;
    dregs_mixtures *mixtures;
    dregs_status status;
    double area;

    if (tank >= line->tank_count)
        return DREGS_UNKNOWN;
    stage = &line->stages[line->tanks[tank].stage];
    fluid = dregs_line_wet_with(line, line->tanks[tank].stage);
    area = stage->open_area.si * (1.0 - stage->covered.si);
    if (!stage->open_area.row || !(area > 0) || fluid->solvent_share.si < 1)
        return DREGS_UNKNOWN;
    status = dregs_line_open_surface(line, tank, 0, &surface, &e, message);
    if (!status)
        status = dregs_liquids_value(line->liquids, fluid->solvent, DREGS_DENSITY,
                                     surface.temperature, &per_area.solvent, message);
    if (status)
        return status;
    per_area.solvent *= stage->volume.si / area;
    mixtures = dregs_mixtures_new();
    status = mixtures ? dregs_open_uptake(line->liquids, mixtures, fluid->solvent, &surface, time,
                                          &per_area, message)
                      : DREGS_NO_MEMORY;
    dregs_mixtures_free(mixtures);
    if (status)
        return status;
    content->solvent = per_area.solvent * area;
    content->water = per_area.water * area;
    return DREGS_OK;
}
