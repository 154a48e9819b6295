/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* drying.c: what a line tells of the film that dries in one of its dry stages. */
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>

static double or_nan(const dregs_value *value)
{
    return value->row ? value->si : NAN;
}

/* The room's air: by the stage, else by the item `room`. */
static void take_room(const dregs_line *line, const dregs_stage *stage,
                      struct dregs_line_drying *told)
{
    const dregs_room *room = dregs_line_room(line);

    told->film.humid_at = or_nan(&room->temperature);
    told->film.humidity = or_nan(stage->humidity.row ? &stage->humidity : &room->humidity);
    told->dew_point = stage->humidity.row ? NAN : or_nan(&room->dew_point);
}

/* Bead and hole: what the file does not state is not known. */
static void take_trapped(const dregs_load *load, double bead, struct dregs_line_drying *told)
{
    told->bead = told->depth = NAN;
    if (load->edge.row)
        told->bead = load->edge.si > 0 ? bead / load->edge.si : 0;
    if (load->recess_depth.row)
        told->depth = load->recess_depth.si;
    else if (load->hold_up.row && load->hold_up.si == 0)
        told->depth = 0;
}

void dregs_line_drying_of(const dregs_line *line, unsigned index, unsigned wet, double left,
                          struct dregs_line_drying *told)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    const dregs_carried *carried = dregs_line_carried(line, wet);
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);
    dregs_dry_case *film = &told->film;
    double trapped = carried->trapped;
    unsigned i;

    *film = (dregs_dry_case){.liquids = dregs_line_liquids(line)};
    take_room(line, stage, told);
    film->air = dregs_line_temperature(line, index);
    film->start = dregs_line_temperature(line, wet);
    film->speed = or_nan(&stage->air_speed);
    film->flow = stage->air;
    told->flow_told = stage->air_row != 0;
    film->nozzle = or_nan(&stage->nozzle);
    film->distance = or_nan(&stage->nozzle_distance);
    film->pitch = or_nan(&stage->nozzle_pitch);
    film->heat_capacity = or_nan(&load->mass) * or_nan(&load->heat_capacity) / load->area.si;
    film->length = or_nan(&load->height);
    film->volume = or_nan(&stage->volume);
    film->fresh_air = or_nan(&stage->fresh_air);
    film->until = NAN;
    /* bead and hold-up count with the film: their vapour comes too, and sooner is safer */
    for (i = wet + 1; i <= index; i++)
        trapped *= 1 - dregs_line_stage(line, i)->blow_off.si * dregs_line_carried(line, i)->opened;
    film->area = (carried->out - carried->trapped) / carried->thickness;
    if (trapped > 0)
        film->area += trapped / (carried->thickness * left);
    told->solvent = fluid->solvent;
    told->water = 1 - fluid->solvent_share.si;
    told->thickness = carried->thickness * left;
    take_trapped(load, carried->bead * left, told);
}

unsigned dregs_line_drying_from(const dregs_line *line, unsigned index, double *left)
{
    unsigned wet = index;

    *left = 1;
    while (wet > 0 && dregs_stage_is(dregs_line_stage(line, wet), DREGS_STAGE_DRIES)) {
        *left *= 1 - dregs_line_stage(line, wet)->blow_off.si;
        wet--;
    }
    return dregs_stage_is(dregs_line_stage(line, wet), DREGS_STAGE_WET) ? wet : index;
}

int dregs_line_drying_ends(const dregs_line *line, unsigned index)
{
    return index + 1 >= dregs_line_stages(line) ||
           !dregs_stage_is(dregs_line_stage(line, index + 1), DREGS_STAGE_DRIES);
}
