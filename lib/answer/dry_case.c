/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_case.c: from a film that is told to a drying case, and what is assumed of either. */
#include "answer/dry.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void dregs_answer_dry_assume(dregs_dry_row *row, const char *format, ...)
{
    va_list arguments;

    if (row->assumed_count >= DREGS_DRY_ASSUMED_MOST)
        return;
    va_start(arguments, format);
    vsnprintf(row->assumed[row->assumed_count++], sizeof row->assumed[0], format, arguments);
    va_end(arguments);
}

/* A value that was given, or the one that is assumed and said to be. */
static double given_or(dregs_dry_row *row, double given, double otherwise, const char *words)
{
    if (!isnan(given))
        return given;
    dregs_answer_dry_assume(row, "%s", words);
    return otherwise;
}

/* What neither the stage nor the options told. */
void dregs_answer_dry_complete(dregs_dry_row *row, const dregs_dry_request *request)
{
    const dregs_dry_case usual = dregs_dry_usual();
    dregs_dry_case *film = &row->film;

    film->pressure = usual.pressure;
    film->wall = film->air;
    film->emissivity = usual.emissivity;
    dregs_answer_dry_assume(row, "emissivity 0.9, walls as warm as the air, pressure 101.325 kPa");
    film->speed =
        given_or(row, film->speed, usual.speed, "air at 0.1 m/s, the draught of a quiet room");
    film->humid_at = fmin(film->air, DREGS_ROOM); /* an oven heats the air of its room */
    film->humidity =
        given_or(row, film->humidity, usual.humidity,
                 film->air < DREGS_ROOM + 10
                     ? "fresh air of 50 % relative humidity at 20 degC"
                     : "fresh air of 50 % relative humidity at 20 degC, heated in an oven");
    film->heat_capacity = given_or(row, film->heat_capacity, usual.heat_capacity,
                                   "part of 3.9 kJ/(m2 K): 1 mm of steel behind each wet face");
    film->length = given_or(row, film->length, usual.length, "length of 10 cm along the air");
    film->start = given_or(row, film->start, DREGS_ROOM, "part and film at 20 degC at first");
    film->until = isnan(request->until) ? usual.until : request->until;
    if (isnan(film->volume) || film->volume == 0) {
        film->volume = 0;
        dregs_answer_dry_assume(row, "vapour does not gather: no volume of room or oven is stated");
    }
    row->air_stated = film->fresh_air > 0; /* none is as good as not stated */
    if (isnan(film->fresh_air)) {
        film->fresh_air = 0;
        if (film->volume > 0)
            dregs_answer_dry_assume(row, "no fresh air");
    }
}

/* kg/m2 of solvent and water in a film of the given thickness. */
dregs_status dregs_answer_dry_masses(struct dry_answer *answer, dregs_dry_row *row,
                                     const char *liquid, double water, double thickness)
{
    dregs_dry_case *film = &row->film;
    double density;
    dregs_status status;

    film->liquids = answer->liquids;
    film->mixtures = answer->mixtures;
    film->liquid[0] = liquid;
    film->count = 1;
    if (water > 0 && strcmp(liquid, "water") != 0) {
        film->liquid[1] = "water";
        film->count = 2;
        /* known at 20 degC only; the film's mass hardly depends on it */
        status = dregs_mixture_value(answer->mixtures, liquid, "water", DREGS_DENSITY, 1 - water,
                                     DREGS_ROOM, &density, answer->message);
    } else {
        water = 0;
        status = dregs_liquids_value(answer->liquids, liquid, DREGS_DENSITY,
                                     film->start > 0 ? film->start : DREGS_ROOM, &density,
                                     answer->message);
    }
    if (status)
        return status;
    film->mass[0] = thickness * density * (1 - water);
    film->mass[1] = thickness * density * water;
    row->mass = thickness * density;
    row->share = 1 - water;
    return DREGS_OK;
}

dregs_status dregs_answer_dry_of_request(struct dry_answer *answer, double at)
{
    const dregs_dry_request *request = answer->request;
    dregs_dry_row *row = &answer->row[answer->result.rows];
    dregs_dry_case *film = &row->film;
    dregs_status status;

    memset(row, 0, sizeof *row);
    film->air = at;
    film->start = request->start;
    film->speed = request->speed;
    film->humidity = request->humidity;
    film->heat_capacity = request->heat_capacity;
    film->length = request->length;
    film->volume = request->volume;
    film->fresh_air = request->fresh_air;
    film->area = isnan(request->area) ? 1 : request->area;
    dregs_answer_dry_complete(row, request);
    if (isnan(request->area))
        dregs_answer_dry_assume(row, "1 m2 of wet face in the room or oven");
    if (isnan(request->interval) && (film->fresh_air > 0 || film->volume > 0))
        dregs_answer_dry_assume(row,
                                "one load alone: no interval is stated, at which loads follow");
    status = dregs_answer_dry_masses(answer, row, request->liquid, request->water, request->film);
    if (status)
        return status;
    answer->result.rows++;
    return dregs_answer_dry_work_out(answer, row, request->recess);
}
