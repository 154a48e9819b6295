/* SPDX-License-Identifier: GPL-3.0-or-later */
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

/* Nu = 0.664 Re^0.5 Pr^(1/3), turbulent behind Re = 5e5 */
static double forced(double reynolds, double prandtl)
{
    if (reynolds < 5e5)
        return 0.664 * sqrt(reynolds) * cbrt(prandtl);
    return (0.037 * pow(reynolds, 0.8) - 871.0) * cbrt(prandtl);
}

/* Churchill and Chu 1975, their eq. for all Ra */
static double free_convection(double rayleigh, double prandtl)
{
    double root = 0.825 + 0.387 * pow(rayleigh, 1.0 / 6.0) /
                              pow(1.0 + pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);

    return root * root;
}

dregs_status dregs_heat_transfer(const dregs_air *air, double speed, double length, double buoyancy,
                                 double *coefficient)
{
    double kinematic = air->viscosity / air->density;
    double thermal = air->conductivity / (air->density * air->heat_capacity);
    double prandtl = kinematic / thermal, nusselt;

    if (!(speed >= 0) || !(speed <= 100) || !(length > 0) || !isfinite(length) ||
        !(buoyancy >= 0) || !isfinite(buoyancy))
        return DREGS_DOMAIN;
    nusselt =
        fmax(forced(speed * length / kinematic, prandtl),
             free_convection(9.80665 * buoyancy * length * length * length / (kinematic * thermal),
                             prandtl));
    *coefficient = nusselt * air->conductivity / length;
    return DREGS_OK;
}

dregs_status dregs_mass_transfer(const dregs_air *air, double heat_transfer, double diffusivity,
                                 double *coefficient)
{
    double volumetric = air->density * air->heat_capacity;

    if (!(heat_transfer > 0) || !isfinite(heat_transfer) || !(diffusivity > 0) ||
        !isfinite(diffusivity))
        return DREGS_DOMAIN;
    *coefficient =
        heat_transfer / volumetric * pow(diffusivity * volumetric / air->conductivity, 2.0 / 3.0);
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
