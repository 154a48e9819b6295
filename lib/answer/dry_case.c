/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_case.c: from a film that is told to a drying case, and what is assumed of either. */
#include "answer/dry.h"
#include "dry/dry.h"

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

/* What was taken as usual, a sentence each. */
static void say_assumed(dregs_dry_row *row, unsigned assumed, int flow_told)
{
    static const struct {
        unsigned bit;
        const char *words;
    } usual[] = {
        {DREGS_DRY_ASSUMED_SPEED, "air at 0.1 m/s, the draught of a quiet room"},
        {DREGS_DRY_ASSUMED_CAPACITY, "part of 3.9 kJ/(m2 K): 1 mm of steel behind each wet face"},
        {DREGS_DRY_ASSUMED_LENGTH, "length of 10 cm along the air"},
        {DREGS_DRY_ASSUMED_START, "part and film as warm as the room at first"},
        {DREGS_DRY_ASSUMED_VOLUME, "vapour does not gather: no volume of room or oven is stated"},
        {DREGS_DRY_ASSUMED_FRESH_AIR, "no fresh air"},
    };
    size_t i;

    if (assumed & DREGS_DRY_ASSUMED_ROOM_SAME)
        dregs_answer_dry_assume(row, "the room's air is the air it dries in");
    if (assumed & DREGS_DRY_ASSUMED_ROOM_HEATED)
        dregs_answer_dry_assume(row, "the air comes from a room of 20 degC and is heated");
    if (assumed & DREGS_DRY_ASSUMED_HUMIDITY)
        dregs_answer_dry_assume(row, "50 %% relative humidity in the room");
    if (!flow_told)
        dregs_answer_dry_assume(row, "a calm stream along the face (air laminar): the slowest");
    if (assumed & DREGS_DRY_ASSUMED_PITCH)
        dregs_answer_dry_assume(row, "one nozzle, amid the face: no pitch is stated");
    dregs_answer_dry_assume(row, "emissivity 0.9, walls as warm as the air, pressure 101.325 kPa");
    for (i = 0; i < sizeof usual / sizeof usual[0]; i++)
        if (assumed & usual[i].bit)
            dregs_answer_dry_assume(row, "%s", usual[i].words);
}

static double first_of(double asked, double told)
{
    return isnan(asked) ? told : asked;
}

/* What the request asks for goes before what the line tells. */
static void ask(const dregs_dry_request *request, struct dregs_line_drying *told)
{
    dregs_dry_case *film = &told->film;

    film->start = first_of(request->start, film->start);
    film->speed = first_of(request->speed, film->speed);
    film->humid_at = first_of(request->room, film->humid_at);
    if (!isnan(request->humidity) || !isnan(request->dew_point)) {
        film->humidity = request->humidity;
        told->dew_point = request->dew_point;
    }
    film->heat_capacity = first_of(request->heat_capacity, film->heat_capacity);
    film->length = first_of(request->length, film->length);
    film->volume = first_of(request->volume, film->volume);
    film->fresh_air = first_of(request->fresh_air, film->fresh_air);
    film->until = first_of(request->until, film->until);
    if (request->air >= 0) {
        film->flow = (dregs_air_flow)request->air;
        told->flow_told = 1;
    }
    film->nozzle = first_of(request->nozzle, film->nozzle);
    film->distance = first_of(request->nozzle_distance, film->distance);
    film->pitch = first_of(request->nozzle_pitch, film->pitch);
    told->bead = first_of(request->bead, told->bead);
    told->depth = first_of(request->recess, told->depth);
}

dregs_status dregs_answer_dry_complete(struct dry_answer *answer, dregs_dry_row *row,
                                       struct dregs_line_drying *told)
{
    dregs_dry_case *film = &row->film;
    unsigned assumed;
    dregs_status status;

    ask(&answer->request, told);
    *film = told->film;
    film->liquids = answer->liquids;
    film->mixtures = answer->mixtures;
    status = dregs_dry_complete(film, told->dew_point, &assumed, answer->message);
    if (status)
        return status;
    say_assumed(row, assumed, told->flow_told);
    row->capacity_assumed = (assumed & DREGS_DRY_ASSUMED_CAPACITY) != 0;
    row->air_stated = film->fresh_air > 0; /* none is as good as not stated */
    return DREGS_OK;
}

dregs_status dregs_answer_dry_masses(struct dry_answer *answer, dregs_dry_row *row,
                                     const struct dregs_line_drying *told)
{
    double density;
    dregs_status status = dregs_dry_wet_with(&row->film, told->solvent, told->water,
                                             told->thickness, &density, answer->message);

    if (status)
        return status;
    row->mass = told->thickness * density;
    row->share = row->film.count > 1 ? 1 - told->water : 1;
    return DREGS_OK;
}

dregs_status dregs_answer_dry_of_request(struct dry_answer *answer, double at)
{
    const dregs_dry_request *request = &answer->request;
    const char *known = dregs_liquids_find(answer->liquids, request->liquid);
    dregs_dry_row *row = &answer->row[answer->result.rows];
    const dregs_dry_case *film = &row->film;
    struct dregs_line_drying told = {.film = {.air = at,
                                              .start = NAN,
                                              .speed = NAN,
                                              .humidity = NAN,
                                              .humid_at = NAN,
                                              .heat_capacity = NAN,
                                              .length = NAN,
                                              .volume = NAN,
                                              .fresh_air = NAN,
                                              .until = NAN,
                                              .nozzle = NAN,
                                              .distance = NAN,
                                              .pitch = NAN},
                                     .dew_point = NAN,
                                     .solvent = known ? known : request->liquid,
                                     .water = request->water,
                                     .thickness = request->film,
                                     .bead = NAN,
                                     .depth = NAN};
    dregs_status status;

    memset(row, 0, sizeof *row);
    told.film.area = isnan(request->area) ? 1 : request->area;
    status = dregs_answer_dry_complete(answer, row, &told);
    if (status)
        return status;
    if (isnan(request->area))
        dregs_answer_dry_assume(row, "1 m2 of wet face in the room or oven");
    if (isnan(request->interval) && (film->fresh_air > 0 || film->volume > 0))
        dregs_answer_dry_assume(row,
                                "one load alone: no interval is stated, at which loads follow");
    status = dregs_answer_dry_masses(answer, row, &told);
    if (status)
        return status;
    answer->result.rows++;
    return dregs_answer_dry_work_out(answer, row, &told);
}
