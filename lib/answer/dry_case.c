/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_case.c: from a film that is told to a drying case, and what is assumed of either. */
#include "answer/dry.h"
#include "line/line.h"

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

/* How the air meets the face: of the request, else of the stage (NULL for none). A jet and a tray
 * are not assumed, and go without no speed. */
static dregs_status complete_stream(struct dry_answer *answer, dregs_dry_row *row,
                                    const dregs_stage *stage)
{
    const dregs_dry_request *request = answer->request;
    dregs_dry_case *film = &row->film;
    const dregs_stage none = {
        .nozzle = {.si = NAN}, .nozzle_distance = {.si = NAN}, .nozzle_pitch = {.si = NAN}};
    const dregs_stage *told = stage ? stage : &none;

    film->flow = request->air >= 0 ? (dregs_air_flow)request->air : told->air;
    if (request->air < 0 && !told->air_row)
        dregs_answer_dry_assume(row, "a calm stream along the face (air laminar): the slowest");
    if (film->flow == DREGS_AIR_JET) {
        film->nozzle = isnan(request->nozzle) ? told->nozzle.si : request->nozzle;
        film->distance =
            isnan(request->nozzle_distance) ? told->nozzle_distance.si : request->nozzle_distance;
        film->pitch = isnan(request->nozzle_pitch) ? told->nozzle_pitch.si : request->nozzle_pitch;
        if (isnan(film->pitch)) {
            film->pitch = 0;
            dregs_answer_dry_assume(row, "one nozzle, amid the face: no pitch is stated");
        }
    }
    if ((film->flow != DREGS_AIR_JET && film->flow != DREGS_AIR_TRAY) || !isnan(film->speed)) {
        if (film->flow != DREGS_AIR_JET || (!isnan(film->nozzle) && !isnan(film->distance)))
            return DREGS_OK;
    }
    snprintf(answer->message, DREGS_DRY_MESSAGE, "air %s needs %s", dregs_air_flow_word(film->flow),
             film->flow == DREGS_AIR_TRAY
                 ? "its speed"
                 : "its speed at the nozzle, the nozzle's diameter and its distance");
    return DREGS_DOMAIN;
}

/* The room that the air comes from, and where its hygrometer hangs. */
static dregs_status complete_room(struct dry_answer *answer, dregs_dry_row *row, double dew_point)
{
    dregs_dry_case *film = &row->film;
    double there, full;

    if (isnan(film->humid_at)) {
        int same = film->air <= DREGS_ROOM_WARMEST;
        film->humid_at = same ? film->air : DREGS_ROOM;
        dregs_answer_dry_assume(row, same ? "the room's air is the air it dries in"
                                          : "the air comes from a room of 20 degC and is heated");
    }
    if (isnan(film->humidity) && !isnan(dew_point) &&
        dregs_dew_point_humidity(film->liquids, film->humid_at, dew_point, &film->humidity)) {
        snprintf(answer->message, DREGS_DRY_MESSAGE,
                 "the room's dew point is %.4g degC; it lies from 0.01 degC up to the room's %.4g "
                 "degC",
                 dew_point - 273.15, film->humid_at - 273.15);
        return DREGS_DOMAIN;
    }
    film->humidity = given_or(row, film->humidity, dregs_dry_usual().humidity,
                              "50 % relative humidity in the room");
    if (film->air >= film->humid_at || film->humidity == 0 ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->humid_at, &there,
                            NULL) ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->air, &full,
                            NULL) ||
        film->humidity * there <= full)
        return DREGS_OK;
    snprintf(
        answer->message, DREGS_DRY_MESSAGE,
        "air of %.4g degC and %.4g %% cannot be cooled to %.4g degC to dry in: it would be fog",
        film->humid_at - 273.15, film->humidity * 100, film->air - 273.15);
    return DREGS_DOMAIN;
}

dregs_status dregs_answer_dry_complete(struct dry_answer *answer, dregs_dry_row *row,
                                       const dregs_stage *stage, double dew_point)
{
    const dregs_dry_request *request = answer->request;
    const dregs_dry_case usual = dregs_dry_usual();
    dregs_dry_case *film = &row->film;
    dregs_status status;

    film->liquids = answer->liquids;
    film->mixtures = answer->mixtures;
    status = complete_room(answer, row, dew_point);
    if (!status)
        status = complete_stream(answer, row, stage);
    if (status)
        return status;

    film->pressure = usual.pressure;
    film->wall = film->air;
    film->emissivity = usual.emissivity;
    dregs_answer_dry_assume(row, "emissivity 0.9, walls as warm as the air, pressure 101.325 kPa");
    film->speed =
        given_or(row, film->speed, usual.speed, "air at 0.1 m/s, the draught of a quiet room");
    row->capacity_assumed = isnan(film->heat_capacity);
    film->heat_capacity = given_or(row, film->heat_capacity, usual.heat_capacity,
                                   "part of 3.9 kJ/(m2 K): 1 mm of steel behind each wet face");
    film->length = given_or(row, film->length, usual.length, "length of 10 cm along the air");
    film->start =
        given_or(row, film->start, film->humid_at, "part and film as warm as the room at first");
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
    return DREGS_OK;
}

/* kg/m2 of solvent and water in a film of the given thickness. */
dregs_status dregs_answer_dry_masses(struct dry_answer *answer, dregs_dry_row *row,
                                     const char *liquid, double water, double thickness)
{
    dregs_dry_case *film = &row->film;
    double density;
    dregs_status status;

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
    const char *known = dregs_liquids_find(answer->liquids, request->liquid);
    dregs_dry_row *row = &answer->row[answer->result.rows];
    dregs_dry_case *film = &row->film;
    dregs_status status;

    memset(row, 0, sizeof *row);
    film->air = at;
    film->start = request->start;
    film->speed = request->speed;
    film->humid_at = request->room;
    film->humidity = request->humidity;
    film->heat_capacity = request->heat_capacity;
    film->length = request->length;
    film->volume = request->volume;
    film->fresh_air = request->fresh_air;
    film->area = isnan(request->area) ? 1 : request->area;
    status = dregs_answer_dry_complete(answer, row, NULL, request->dew_point);
    if (status)
        return status;
    if (isnan(request->area))
        dregs_answer_dry_assume(row, "1 m2 of wet face in the room or oven");
    if (isnan(request->interval) && (film->fresh_air > 0 || film->volume > 0))
        dregs_answer_dry_assume(row,
                                "one load alone: no interval is stated, at which loads follow");
    status = dregs_answer_dry_masses(answer, row, known ? known : request->liquid, request->water,
                                     request->film);
    if (status)
        return status;
    answer->result.rows++;
    return dregs_answer_dry_work_out(
        answer, row, &(struct dry_trapped){request->film, request->bead, request->recess});
}
