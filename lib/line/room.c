/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* room.c: the air of the room, for open tanks and for drying, and how warm stages are said to be.
 */
#include "dregs/dry.h"
#include "line/check.h"

#include <math.h>

int dregs_room_states_humidity(const dregs_line *line)
{
    return line->room.humidity.row || line->room.dew_point.row;
}

double dregs_room_temperature(const dregs_line *line)
{
    return line->room.temperature.row ? line->room.temperature.si : DREGS_ROOM;
}

double dregs_room_humidity(const dregs_line *line)
{
    double humidity = NAN;

    if (line->room.humidity.row)
        return line->room.humidity.si;
    if (line->room.dew_point.row)
        (void)dregs_dew_point_humidity(line->liquids, dregs_room_temperature(line),
                                       line->room.dew_point.si, &humidity);
    return humidity;
}

/* Its humidity is stated in one way; its dew point is one that its air can have. */
void dregs_line_check_room(struct checker *c, const struct item *item)
{
    const dregs_room *room = &c->line->room;

    if (item->kind != KIND_ROOM)
        return;
    dregs_line_check_excludes(c, item, "humidity", "dew point");
    if (room->dew_point.row && !isfinite(dregs_room_humidity(c->line)) && !room->humidity.row)
        SAY(c, room->dew_point.row,
            "the dew point of %.60s is %g degC; it lies from 0.01 degC up to the air's %g degC",
            room->name, room->dew_point.si - 273.15, dregs_room_temperature(c->line) - 273.15);
}

int dregs_line_temperature_stated(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);

    while (stage->shares.row)
        stage = dregs_line_stage(line, stage->shares.index);
    return stage->temperature.row != 0;
}
