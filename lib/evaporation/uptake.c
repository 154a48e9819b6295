/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* uptake.c: the water that an open tank of a solvent takes up from the room's air, and what the
 * solvent loses meanwhile. Each of both passes the same layer of air by the law that counts for the
 * solvent, driven by its own vapour over the mixture, which is x gamma p.
 */
#include "base/ode.h"
#include "dregs/dry.h"
#include "dregs/evaporation.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>

#define LEAST 0.01 /* of the solvent: what is left of it must be more */

/* The law that counts, and what it makes of water. */
struct uptake {
    const dregs_mixtures *mixtures;
    const char *liquid;
    double temperature;  /* K */
    double solvent_flux; /* kg/(m2 s) of the pure solvent */
    double conductance;  /* kg/(m2 s Pa) of water */
    double full, far;    /* Pa, of water at the liquid's temperature; in the room's air */
    double solvent_mass, water_mass; /* kg/mol */
    double least;                    /* kg/m2 */
};

/* The coefficient of a law of convection or diffusion for water, from that of the solvent: with the
 * 2/3 power of the diffusivities over a boundary layer (Chilton and Colburn 1934), with the first
 * through air at rest. */
static dregs_status by_diffusivity(const dregs_liquids *liquids, const dregs_open_surface *tank,
                                   const dregs_evaporation *e, struct uptake *u, char *message)
{
    double film = (e->surface + tank->room) / 2, unit, own, ratio;
    dregs_status status =
        dregs_stefan_flux(1.0, film, tank->pressure, e->surface_pressure, e->far, &unit);

    if (!status)
        status = dregs_liquids_value(liquids, "water", DREGS_DIFFUSIVITY, film, &own, message);
    if (status)
        return status;
    ratio = own * DREGS_ATMOSPHERE / tank->pressure / e->diffusivity;
    if (e->counts == DREGS_EVAPORATION_CONVECTION)
        ratio = pow(ratio, 2.0 / 3.0);
    u->conductance =
        e->flux / (unit * e->molar_mass) * ratio * u->water_mass / (DREGS_GAS_CONSTANT * film);
    return DREGS_OK;
}

static dregs_status prepare(const dregs_liquids *liquids, const dregs_open_surface *tank,
                            struct uptake *u, char *message)
{
    dregs_open_surface dry = *tank;
    dregs_evaporation e, water;
    dregs_status status = dregs_open_evaporation(liquids, u->liquid, tank, &e, message);

    dry.humidity = 0; /* the laws themselves, whatever the room holds */
    if (!status)
        status = dregs_open_evaporation(liquids, "water", &dry, &water, message);
    if (!status)
        status = dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, tank->room, &u->far,
                                     message);
    if (status)
        return status;
    u->far *= tank->humidity;
    u->temperature = tank->temperature;
    u->solvent_flux = e.flux;
    u->solvent_mass = e.molar_mass;
    u->water_mass = water.molar_mass;
    u->full = water.vapour_pressure;
    if (e.counts != DREGS_EVAPORATION_POOL && e.counts != DREGS_EVAPORATION_WIND)
        return by_diffusivity(liquids, tank, &e, u, message);
    u->conductance = water.law[e.counts].flux / water.vapour_pressure;
    return DREGS_OK;
}

static dregs_status fluxes(const struct uptake *u, double solvent, double water, double flux[2],
                           char *message)
{
    double moles = solvent / u->solvent_mass, other = water / u->water_mass, gamma[2];
    double share = moles / (moles + other);
    dregs_status status = dregs_mixture_activity(u->mixtures, u->liquid, "water", share,
                                                 u->temperature, gamma, message);

    if (status)
        return status;
    flux[0] = u->solvent_flux * share * gamma[0];
    flux[1] = u->conductance * ((1 - share) * gamma[1] * u->full - u->far);
    return DREGS_OK;
}

static int derivatives(double time, const double y[], double dydt[], void *user)
{
    const struct uptake *u = user;
    double flux[2];

    (void)time;
    if (!(y[0] > u->least) || !(y[1] >= -1e-9) || fluxes(u, y[0], fmax(y[1], 0), flux, NULL))
        return GSL_EBADFUNC;
    dydt[0] = -flux[0];
    dydt[1] = -flux[1];
    return GSL_SUCCESS;
}

static dregs_status refuse(char *message, dregs_status status, const char *why)
{
    if (message)
        snprintf(message, DREGS_LIQUID_MESSAGE, "%s", why);
    return status;
}

static int sensible(const dregs_open_content *content)
{
    return content->solvent > 0 && content->water >= 0 && isfinite(content->solvent) &&
           isfinite(content->water);
}

dregs_status dregs_open_rates(const dregs_liquids *liquids, const dregs_mixtures *mixtures,
                              const char *liquid, const dregs_open_surface *tank,
                              const dregs_open_content *content, dregs_open_content *rates,
                              char *message)
{
    struct uptake u = {.mixtures = mixtures, .liquid = liquid};
    double flux[2];
    dregs_status status = sensible(content) ? DREGS_OK : DREGS_DOMAIN;

    if (!status)
        status = prepare(liquids, tank, &u, message);
    if (!status)
        status = fluxes(&u, content->solvent, content->water, flux, message);
    if (!status)
        *rates = (dregs_open_content){-flux[0], -flux[1]};
    return status;
}

dregs_status dregs_open_uptake(const dregs_liquids *liquids, const dregs_mixtures *mixtures,
                               const char *liquid, const dregs_open_surface *tank, double time,
                               dregs_open_content *content, char *message)
{
    struct uptake u = {.mixtures = mixtures, .liquid = liquid};
    gsl_odeiv2_system system = {derivatives, NULL, 2, &u};
    double y[2] = {content->solvent, content->water}, t = 0;
    gsl_odeiv2_driver *driver;
    dregs_status status;
    int failed;

    if (!sensible(content) || !(time >= 0) || !isfinite(time))
        return DREGS_DOMAIN;
    status = prepare(liquids, tank, &u, message);
    u.least = LEAST * content->solvent;
    if (!status)
        status = fluxes(&u, y[0], y[1], (double[2]){0, 0}, message);
    if (status || time == 0)
        return status;
    driver =
        dregs_ode_new(&system, gsl_odeiv2_step_rk8pd, time / 100, 1e-10 * content->solvent, 1e-9);
    if (!driver)
        return DREGS_NO_MEMORY;
    failed = gsl_odeiv2_driver_apply(driver, &t, time, y) != GSL_SUCCESS;
    dregs_ode_free(driver);
    if (failed || !isfinite(y[0]) || !isfinite(y[1]))
        return refuse(message, DREGS_OUT_OF_RANGE, "nearly all of the solvent is gone before");
    content->solvent = y[0];
    content->water = fmax(y[1], 0);
    return DREGS_OK;
}
