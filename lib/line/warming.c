/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* warming.c: what is assumed of a tank that ultrasonic power warms.
 *
 * Values without a source, to be measured by a cooling curve (dregs-model(7)): 8 W/(m2 K) from a
 * bare wall to a quiet room by convection and radiation; 150 W/(m2 K) from a water bath through the
 * wall of a beaker.
 */
#include "line/inside.h"

#include <math.h>

#define TO_THE_ROOM  8.0   /* W/(m2 K), common practice, no source */
#define INTO_A_GLASS 150.0 /* W/(m2 K), common practice, no source */

double dregs_line_wall_loss(const dregs_stage *stage)
{
    double volume = stage->volume.si + (stage->water_bath.row ? stage->water_bath.si : 0.0);

    /* four sides and the bottom of a cube */
    return stage->wall_loss.row ? stage->wall_loss.si : TO_THE_ROOM * 5.0 * pow(volume, 2.0 / 3.0);
}

double dregs_line_bath_coupling(const dregs_stage *stage)
{
    const double pi = 3.14159265358979323846;
    double width = cbrt(4.0 * stage->volume.si / pi);

    /* side and bottom of a cylinder as high as wide */
    return stage->bath_coupling.row ? stage->bath_coupling.si
                                    : INTO_A_GLASS * 1.25 * pi * width * width;
}

dregs_status dregs_line_note_warming(dregs_line *line, unsigned index)
{
    const dregs_stage *stage = &line->stages[index];
    dregs_status status = DREGS_OK;

    if (!stage->ultrasonic_power.row)
        return DREGS_OK;
    if (!stage->wall_loss.row)
        status =
            dregs_line_note(line, 0,
                            "%s: its walls lose %.3g W/K to the room (8 W/(m2 K) over a cube); "
                            "measure it by a cooling curve",
                            stage->name, dregs_line_wall_loss(stage));
    if (!status && stage->water_bath.row && !stage->bath_coupling.row)
        status =
            dregs_line_note(line, 0,
                            "%s: %.3g W/K pass from the water bath into it (150 W/(m2 K) into a "
                            "cylinder as high as wide)",
                            stage->name, dregs_line_bath_coupling(stage));
    if (!status && !(stage->open_area.si > 0))
        status =
            dregs_line_note(line, 0,
                            "%s: no evaporation cools it against its ultrasonic power: no open "
                            "area is stated",
                            stage->name);
    if (!status)
        status =
            dregs_line_note(line, 0,
                            "%s: all of its ultrasonic power becomes heat; the tank's own heat "
                            "and that of the parts is left out",
                            stage->name);
    return status;
}
