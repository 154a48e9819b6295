/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* trapped.c: what dries beside the film, and mostly later: the bead on a lower edge, the liquid in
 * a blind hole.
 */
#include "dry/dry.h"

#include <math.h>
#include <string.h>

double dregs_dry_hole_time(const dregs_dry_case *film, double depth)
{
    const char *liquid = film->liquid[0];
    double diffusivity, pressure, density, molar, flux, time, far = 0;

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
        return NAN;
    return time;
}

dregs_status dregs_dry_time_by(const dregs_dry_case *film, dregs_dry_mode mode, double tolerance,
                               double *time)
{
    dregs_dry_case held = *film;
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE];
    dregs_status status;

    held.mode = mode;
    status = dregs_dry(&held, tolerance, &drying, message);
    *time = status || !drying.dry ? NAN : drying.time;
    dregs_drying_clear(&drying);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Of the transfer by air, what is kept from a bead on a lower edge: half of that on its lower half,
 * where the air leaves that came down along the part. Ours, no source. */
#define BEAD_HINDERED 0.25

dregs_status dregs_dry_bead_times(const dregs_dry_case *film, double thickness, double volume,
                                  double tolerance, double *radius, double *least, double *most)
{
    dregs_dry_case bead = *film;
    dregs_status status;
    unsigned i;

    *radius = *most = NAN;
    if (least)
        *least = NAN;
    if (!(volume > 0) || dregs_dry_bead_radius(volume, radius))
        return DREGS_OK;
    for (i = 0; i < bead.count; i++)
        bead.mass[i] *= *radius / thickness;
    bead.hindered = BEAD_HINDERED;
    bead.volume = 0;
    status = dregs_dry_time_by(&bead, DREGS_DRY_FULL, tolerance, most);
    if (status || !least)
        return status;
    status = dregs_dry_time_by(&bead, DREGS_DRY_ISOTHERMAL, tolerance, least);
    if (!(*least <= *most))
        *least = NAN;
    return status;
}
