/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_time.c: when a film and a recess are dry, and between which limiting cases. */
#include "answer/dry.h"

#include <math.h>
#include <string.h>

/* The recess: a Stefan tube of the film's first liquid. NaN for no recess; 0 when it could not be
 * worked out. */
static double recess_time(const dregs_dry_row *row, double depth)
{
    const dregs_dry_case *film = &row->film;
    const char *liquid = film->liquid[0];
    double diffusivity, pressure, density, molar, flux, time, far = 0;

    if (!(depth > 0))
        return NAN;
    if (dregs_liquids_value(film->liquids, liquid, DREGS_DIFFUSIVITY, film->air, &diffusivity,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_VAPOUR_PRESSURE, film->air, &pressure,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_DENSITY, film->air, &density, NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_MOLAR_MASS, film->air, &molar, NULL) ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->humid_at, &far,
                            NULL) ||
        dregs_stefan_flux(diffusivity, film->air, film->pressure, pressure,
                          strcmp(liquid, "water") == 0 ? film->humidity * far : 0, &flux) ||
        dregs_recess_time(flux, density / molar, depth, &time))
        return 0;
    return time;
}

/* s until it is dry by a simpler model; NaN where that could not be had. */
static dregs_status bound(const dregs_dry_row *row, dregs_dry_mode mode, double *time)
{
    dregs_dry_case film = row->film;
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE];
    dregs_status status;

    film.mode = mode;
    status = dregs_dry(&film, 1e-9, &drying, message);
    *time = status || !drying.dry ? NAN : drying.time;
    dregs_drying_clear(&drying);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* W/(m2 K) at first, driven by temperature alone; NaN where it could not be had. */
static double first_heat_transfer(const dregs_dry_case *film)
{
    double coefficient;
    dregs_air air, arriving;
    dregs_air_stream stream = {.flow = film->flow,
                               .speed = film->speed,
                               .length = film->length,
                               .nozzle = film->nozzle,
                               .distance = film->distance,
                               .pitch = film->pitch};

    if (dregs_air_at((film->start + film->air) / 2, film->pressure, &air) ||
        dregs_air_at(film->air, film->pressure, &arriving))
        return NAN;
    stream.density = arriving.density;
    if (dregs_air_transfer(&air, &stream, fabs(film->air / film->start - 1), &coefficient, NULL))
        return NAN;
    return coefficient;
}

/* Works a completed row out. */
dregs_status dregs_answer_dry_work_out(struct dry_answer *answer, dregs_dry_row *row, double depth)
{
    dregs_dry_case *film = &row->film;
    dregs_status status = dregs_dry(film, 1e-9, &row->drying, answer->message);

    if (status)
        return status;
    status = bound(row, DREGS_DRY_ISOTHERMAL, &row->isothermal);
    if (!status)
        status = bound(row, DREGS_DRY_WET_BULB, &row->wet_bulb);
    if (status)
        return status;
    row->recess = recess_time(row, depth);
    if (row->recess == 0) { /* the film's answer, and its cautions, are worth having without it */
        dregs_answer_dry_assume(
            row, "no time for the blind hole: %s boils at %.4g degC, or lacks a property there",
            film->liquid[0], film->air - 273.15);
        row->recess = NAN;
    }
    row->by_recess = row->recess > row->drying.time;
    row->time = row->by_recess ? row->recess : row->drying.time;
    row->heat_transfer = first_heat_transfer(film);
    dregs_answer_dry_extended(row);
    row->vapour = film->mass[0] * film->area;
    dregs_answer_dry_dilute(answer, row);
    return DREGS_OK;
}
