/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* transfer.c: heat and vapour between a wet surface and air. */
#include "dregs/dry.h"

#include <math.h>

#define AIR_MOLAR_MASS 28.96e-3 /* kg/mol */

dregs_status dregs_air_at(double temperature, double pressure, dregs_air *air)
{
    double ratio = temperature / 273.15;

    if (!(temperature >= 230) || !(temperature <= 550) || !(pressure > 0) || !isfinite(pressure))
        return DREGS_DOMAIN;
    air->density = pressure * AIR_MOLAR_MASS / (DREGS_GAS_CONSTANT * temperature);
    air->viscosity = 1.716e-5 * pow(ratio, 1.5) * (273.15 + 110.6) / (temperature + 110.6);
    air->conductivity = 0.0241 * pow(ratio, 1.5) * (273.15 + 194.0) / (temperature + 194.0);
    air->heat_capacity = 1006.0;
    return DREGS_OK;
}

dregs_status dregs_stefan_flux(double coefficient, double temperature, double pressure,
                               double surface, double far, double *flux)
{
    if (!(coefficient > 0) || !(temperature > 0) || !(pressure > 0) || !(surface >= 0) ||
        !(far >= 0) || !(surface < pressure) || !(far < pressure))
        return DREGS_DOMAIN;
    *flux = coefficient * pressure / (DREGS_GAS_CONSTANT * temperature) *
            log1p((surface - far) / (pressure - surface));
    return DREGS_OK;
}

dregs_status dregs_recess_time(double flux_length, double molar_density, double depth, double *time)
{
    if (!(flux_length > 0) || !(molar_density > 0) || !(depth > 0) || !isfinite(depth))
        return DREGS_DOMAIN;
    /* c dz/dt = flux_length / z, from the mouth down to the depth */
    *time = molar_density * depth * depth / (2.0 * flux_length);
    return DREGS_OK;
}

dregs_status dregs_dry_bead_radius(double bead, double *radius)
{
    if (!(bead > 0) || !isfinite(bead))
        return DREGS_DOMAIN;
    *radius = sqrt(2.0 * bead / 3.14159265358979323846);
    return DREGS_OK;
}
