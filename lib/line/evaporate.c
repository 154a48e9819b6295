/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* evaporate.c: the open surfaces of a line (section "between loads" of dregs-model(7)): the tank,
 * the room's air, and what is assumed of them.
 */
#include "dregs/dry.h"
#include "line/inside.h"

#include <math.h>
#include <stdio.h>

#define HUMIDITY 0.5 /* of a room of which nothing is stated: ours */

/* Outside the shifts a bath is as warm as its own row says; or, with the heating off, as the room
 * all the time. */
double dregs_line_bath_temperature(const dregs_line *line, unsigned stage, int idle)
{
    if (idle && line->stages[stage].idle_temperature.row)
        return line->stages[stage].idle_temperature.si;
    return idle && line->schedule.idle_heating == 0 ? dregs_room_temperature(line)
                                                    : dregs_line_temperature(line, stage);
}

dregs_status dregs_line_open_surface(const dregs_line *line, unsigned tank, int idle,
                                     dregs_open_surface *surface, dregs_evaporation *evaporation,
                                     char *message)
{
    const dregs_fluid *fluid;
    const dregs_stage *stage;
    dregs_open_surface made;
    dregs_status status;
    double area;

    if (tank >= line->tank_count)
        return DREGS_UNKNOWN;
    stage = &line->stages[line->tanks[tank].stage];
    area = stage->open_area.si;
    if (!stage->open_area.row || !(area > 0))
        return DREGS_UNKNOWN;
    fluid = dregs_line_wet_with(line, line->tanks[tank].stage);
    made = (dregs_open_surface){
        .temperature = dregs_line_bath_temperature(line, line->tanks[tank].stage, idle),
        .room = dregs_room_temperature(line),
        .humidity = dregs_room_states_humidity(line) ? dregs_room_humidity(line) : HUMIDITY,
        .pressure = DREGS_ATMOSPHERE,
        .length = area / (stage->perimeter.row ? stage->perimeter.si : 4.0 * sqrt(area)),
        .air_speed = stage->air_speed.row ? stage->air_speed.si : 0.0,
        /* air that stands below the rim is not assumed: it takes most of the loss away */
        .freeboard = stage->freeboard.row && stage->air_speed.row ? stage->freeboard.si : 0.0};
    made.conductivity = dregs_open_conductivity(line->liquids, fluid->solvent, made.temperature);
    status = dregs_open_evaporation(line->liquids, fluid->solvent, &made, evaporation, message);
    if (!status && surface)
        *surface = made;
    return status;
}

/* What the file does not state of the air and the surface. */
static dregs_status note_surface(dregs_line *line, const dregs_stage *stage)
{
    dregs_status status = DREGS_OK;

    if (!line->room.temperature.row)
        status = dregs_line_note(line, 0, "the room's air: 20 degC, for evaporation");
    if (!status && !dregs_room_states_humidity(line))
        status = dregs_line_note(line, 0,
                                 "the room's air: 50 %% relative humidity, for "
                                 "evaporation");
    if (!status && !stage->air_speed.row)
        status = dregs_line_note(line, 0, "%s: still air over its open surface", stage->name);
    if (!status && !stage->temperature.row)
        status = dregs_line_note(line, 0, "%s: 20 degC, for its evaporation", stage->name);
    if (!status && stage->freeboard.si > 0 && !stage->air_speed.row)
        status =
            dregs_line_note(line, 0,
                            "%s: its freeboard holds nothing back; it does where the air speed "
                            "is stated as 0",
                            stage->name);
    return status;
}

/* What was taken from beyond the data of the liquid. */
static dregs_status note_beyond(dregs_line *line, const dregs_stage *stage, const char *solvent)
{
    static const dregs_property used[] = {DREGS_VAPOUR_PRESSURE, DREGS_DENSITY,
                                          DREGS_HEAT_OF_VAPORISATION, DREGS_DIFFUSIVITY};
    char sentence[DREGS_LIQUID_MESSAGE];
    dregs_status status = DREGS_OK;
    double at = dregs_line_temperature(line, (unsigned)(stage - line->stages));
    size_t k;

    for (k = 0; k < sizeof used / sizeof used[0] && !status; k++)
        if (dregs_liquids_extended(line->liquids, solvent, used[k], at, sentence))
            status = dregs_line_note(line, 0, "%s: %s, for its evaporation", stage->name, sentence);
    return status;
}

/* What follows from laws that do not apply. */
static dregs_status note_laws(dregs_line *line, const dregs_stage *stage, const char *solvent,
                              const dregs_evaporation *e)
{
    dregs_status status = DREGS_OK;

    if (e->condenses)
        return dregs_line_note(
            line, 0,
            "%s: nothing evaporates, the room's air is too humid; what condenses "
            "is left out",
            stage->name);
    if (!(e->far > 0))
        status = dregs_line_note(line, 0, "%s: no %s vapour in the room's air, for its evaporation",
                                 stage->name, solvent);
    if (!status && (!stage->perimeter.row || !e->cooled))
        status = dregs_line_note(line, 0, "%s: its open surface is %s%s%s", stage->name,
                                 stage->perimeter.row ? "" : "a square",
                                 stage->perimeter.row || e->cooled ? "" : ", ",
                                 e->cooled ? "" : "as warm as the liquid below");
    if (!status && !e->law[DREGS_EVAPORATION_CONVECTION].applies)
        status = dregs_line_note(line, 0, "%s: no free convection over its surface: %s",
                                 stage->name, e->law[DREGS_EVAPORATION_CONVECTION].why);
    if (!status && stage->freeboard.si > 0 && stage->air_speed.row &&
        !e->law[DREGS_EVAPORATION_FREEBOARD].applies)
        status = dregs_line_note(line, 0, "%s: its freeboard holds nothing back: %s", stage->name,
                                 e->law[DREGS_EVAPORATION_FREEBOARD].why);
    return status;
}

/* The least conductivity of organic liquids below their boiling point, 0.10 to 0.17 W/(m K):
 * Poling, Prausnitz, O'Connell, The Properties of Gases and Liquids, 5th ed., ch. 10 (value from
 * memory). */
#define CONDUCTIVITY_LEAST 0.1

/* A surface that is taken as warm as the liquid, for want of its conductivity: how much colder it
 * can be, and how much less it then loses. */
static dregs_status note_cooling(dregs_line *line, unsigned tank, const dregs_stage *stage,
                                 const char *solvent, const dregs_evaporation *e)
{
    dregs_liquid_class class = DREGS_CLASS_OTHER;
    dregs_open_surface surface;
    dregs_evaporation again, colder;

    (void)dregs_liquids_class(line->liquids, solvent, &class, NULL);
    if (e->cooled || e->condenses || class == DREGS_CLASS_WATER ||
        dregs_line_open_surface(line, tank, 0, &surface, &again, NULL))
        return DREGS_OK;
    surface.conductivity = CONDUCTIVITY_LEAST;
    if (dregs_open_evaporation(line->liquids, solvent, &surface, &colder, NULL) || !colder.cooled)
        return dregs_line_note(line, 0, "%s: what evaporation cools its surface by is left out",
                               stage->name);
    return dregs_line_note(line, 0,
                           "%s: its surface can be %.2g K colder and lose %.2g %% less: what %s "
                           "conducts is not in the table, 0.1 W/(m K) is the least",
                           stage->name, surface.temperature - colder.surface,
                           (1 - colder.flux / e->flux) * 100, solvent);
}

static dregs_status cannot(const dregs_line *line, const dregs_stage *stage, const char *when,
                           const char *why, dregs_faults *faults)
{
    char name[DREGS_QUOTED];

    return dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_at(line, stage->open_area.row),
                           "the evaporation of %s cannot be computed%s: %s",
                           dregs_quote(name, stage->name), when, why);
}

/* m3/s of liquid */
static dregs_status rate_of(dregs_line *line, unsigned tank, int idle, dregs_evaporation *e,
                            double *rate, dregs_faults *faults)
{
    const dregs_stage *stage = &line->stages[line->tanks[tank].stage];
    const dregs_fluid *fluid = dregs_line_wet_with(line, line->tanks[tank].stage);
    char message[DREGS_LIQUID_MESSAGE] = "";
    double covered = stage->covered.si, density;
    dregs_open_surface surface;
    dregs_status status = dregs_line_open_surface(line, tank, idle, &surface, e, message);

    if (!status)
        status = dregs_liquids_value(line->liquids, fluid->solvent, DREGS_DENSITY,
                                     surface.temperature, &density, message);
    if (status)
        return cannot(line, stage, idle ? " for the idle time" : "", message, faults);
    if (idle && (stage->covered_idle.row || line->schedule.covered_idle.row))
        covered = stage->covered_idle.row ? stage->covered_idle.si : line->schedule.covered_idle.si;
    *rate = e->flux * stage->open_area.si * (1.0 - covered) / density;
    return DREGS_OK;
}

dregs_status dregs_line_evaporate(dregs_line *line, unsigned index, double *rate, double *idle,
                                  dregs_faults *faults)
{
    const dregs_stage *stage = &line->stages[index];
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    unsigned tank = (unsigned)stage->tank;
    char words[DREGS_QUOTED + 60];
    dregs_evaporation e, at_idle;
    dregs_status status;

    *rate = *idle = stage->evaporation.si;
    if (!stage->open_area.row || stage->open_area.si == 0)
        return DREGS_OK;
    if (fluid->solvent_share.si < 1) {
        snprintf(words, sizeof words, "%.60s is a mixture; state a measured evaporation",
                 fluid->name);
        return cannot(line, stage, "", words, faults);
    }
    status = rate_of(line, tank, 0, &e, rate, faults);
    *idle = *rate;
    if (!status && (line->schedule.idle_heating == 0 || line->schedule.covered_idle.row ||
                    stage->covered_idle.row || stage->idle_temperature.row))
        status = rate_of(line, tank, 1, &at_idle, idle, faults);
    if (!status)
        status = note_surface(line, stage);
    if (!status)
        status = note_beyond(line, stage, fluid->solvent);
    if (!status)
        status = note_laws(line, stage, fluid->solvent, &e);
    return status ? status : note_cooling(line, tank, stage, fluid->solvent, &e);
}
