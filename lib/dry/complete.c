/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* complete.c: from what is told of a film that dries to a case that can be worked out. */
#include "dry/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A value that was told, or the usual one, noted. */
static double or_usual(double told, double usual, unsigned bit, unsigned *assumed)
{
    if (!isnan(told))
        return told;
    *assumed |= bit;
    return usual;
}

/* A jet and a tray are not assumed, and go without no speed. */
static dregs_status complete_stream(dregs_dry_case *film, unsigned *assumed, char *message)
{
    int jet = film->flow == DREGS_AIR_JET, tray = film->flow == DREGS_AIR_TRAY;

    if (jet)
        film->pitch = or_usual(film->pitch, 0, DREGS_DRY_ASSUMED_PITCH, assumed);
    if (!((jet || tray) && isnan(film->speed)) &&
        !(jet && (isnan(film->nozzle) || isnan(film->distance))))
        return DREGS_OK;
    snprintf(message, DREGS_DRY_MESSAGE, "air %s needs %s", dregs_air_flow_word(film->flow),
             tray ? "its speed"
                  : "its speed at the nozzle, the nozzle's diameter and its distance");
    return DREGS_DOMAIN;
}

/* Air that is cooled is not wetter than saturated. */
static dregs_status check_fog(const dregs_dry_case *film, char *message)
{
    double there, full;

    if (film->air >= film->humid_at || film->humidity == 0 ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->humid_at, &there,
                            NULL) ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->air, &full,
                            NULL) ||
        film->humidity * there <= full)
        return DREGS_OK;
    snprintf(
        message, DREGS_DRY_MESSAGE,
        "air of %.4g degC and %.4g %% cannot be cooled to %.4g degC to dry in: it would be fog",
        film->humid_at - 273.15, film->humidity * 100, film->air - 273.15);
    return DREGS_DOMAIN;
}

/* The room that the air comes from, and where its hygrometer hangs. */
static dregs_status complete_room(dregs_dry_case *film, double dew_point, unsigned *assumed,
                                  char *message)
{
    int same = film->air <= DREGS_ROOM_WARMEST;

    film->humid_at =
        or_usual(film->humid_at, same ? film->air : dregs_dry_usual().humid_at,
                 same ? DREGS_DRY_ASSUMED_ROOM_SAME : DREGS_DRY_ASSUMED_ROOM_HEATED, assumed);
    if (isnan(film->humidity) && !isnan(dew_point) &&
        dregs_dew_point_humidity(film->liquids, film->humid_at, dew_point, &film->humidity)) {
        snprintf(message, DREGS_DRY_MESSAGE,
                 "the room's dew point is %.4g degC; it lies from 0.01 degC up to the room's %.4g "
                 "degC",
                 dew_point - 273.15, film->humid_at - 273.15);
        return DREGS_DOMAIN;
    }
    film->humidity =
        or_usual(film->humidity, dregs_dry_usual().humidity, DREGS_DRY_ASSUMED_HUMIDITY, assumed);
    return check_fog(film, message);
}

dregs_status dregs_dry_complete(dregs_dry_case *film, double dew_point, unsigned *assumed,
                                char *message)
{
    const dregs_dry_case usual = dregs_dry_usual();
    dregs_status status;

    *assumed = 0;
    status = complete_room(film, dew_point, assumed, message);
    if (!status)
        status = complete_stream(film, assumed, message);
    if (status)
        return status;

    film->pressure = usual.pressure;
    film->wall = film->air;
    film->emissivity = usual.emissivity;
    film->speed = or_usual(film->speed, usual.speed, DREGS_DRY_ASSUMED_SPEED, assumed);
    film->heat_capacity =
        or_usual(film->heat_capacity, usual.heat_capacity, DREGS_DRY_ASSUMED_CAPACITY, assumed);
    film->length = or_usual(film->length, usual.length, DREGS_DRY_ASSUMED_LENGTH, assumed);
    film->start = or_usual(film->start, film->humid_at, DREGS_DRY_ASSUMED_START, assumed);
    if (isnan(film->until))
        film->until = usual.until;
    if (isnan(film->volume) || film->volume == 0) {
        film->volume = 0;
        *assumed |= DREGS_DRY_ASSUMED_VOLUME;
    }
    film->fresh_air =
        or_usual(film->fresh_air, 0, film->volume > 0 ? DREGS_DRY_ASSUMED_FRESH_AIR : 0, assumed);
    return DREGS_OK;
}

dregs_status dregs_dry_wet_with(dregs_dry_case *film, const char *liquid, double water,
                                double thickness, double *density, char *message)
{
    int mixed = water > 0 && strcmp(liquid, "water") != 0;
    double value, room = dregs_dry_usual().humid_at;
    dregs_status status;

    /* a mixture's is known at 20 degC only; the film's mass hardly depends on it */
    status = mixed ? dregs_mixture_value(film->mixtures, liquid, "water", DREGS_DENSITY, 1 - water,
                                         room, &value, message)
                   : dregs_liquids_value(film->liquids, liquid, DREGS_DENSITY,
                                         film->start > 0 ? film->start : room, &value, message);
    if (status)
        return status;
    if (!mixed)
        water = 0;
    film->liquid[0] = liquid;
    film->liquid[1] = mixed ? "water" : NULL;
    film->count = mixed ? 2 : 1;
    film->mass[0] = thickness * value * (1 - water);
    film->mass[1] = thickness * value * water;
    *density = value;
    return DREGS_OK;
}
