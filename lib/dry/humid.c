/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* humid.c: wet surfaces, humid air, dilution of vapours. */
#include "base/root.h"
#include "dregs/dry.h"

#include <math.h>

struct wet {
    const dregs_liquids *liquids;
    const char *liquid;
    double air, pressure, far, heat_transfer;
    dregs_status status;
    double flux; /* kg/(m2 s) of the last temperature tried */
};

static double property(struct wet *w, dregs_property which, double temperature)
{
    double value = NAN;
    dregs_status status =
        dregs_liquids_value(w->liquids, w->liquid, which, temperature, &value, NULL);

    if (status)
        w->status = status;
    return value;
}

/* heat that comes less heat that evaporates, W/m2 */
static double surplus(double surface, void *user)
{
    struct wet *w = user;
    double film = (surface + w->air) / 2, k, molar;
    double p = property(w, DREGS_VAPOUR_PRESSURE, surface);
    double heat = property(w, DREGS_HEAT_OF_VAPORISATION, surface);
    double mass = property(w, DREGS_MOLAR_MASS, surface);
    double diffusivity = property(w, DREGS_DIFFUSIVITY, film) * DREGS_ATMOSPHERE / w->pressure;
    dregs_air air;

    if (!isfinite(p) || !isfinite(heat) || dregs_air_at(film, w->pressure, &air) ||
        dregs_mass_transfer(&air, w->heat_transfer, diffusivity, &k) ||
        dregs_stefan_flux(k, film, w->pressure, p, w->far, &molar))
        return NAN;
    w->flux = molar * mass;
    return w->heat_transfer * (w->air - surface) - w->flux * heat;
}

dregs_status dregs_wet_surface(const dregs_liquids *liquids, const char *liquid, double temperature,
                               double pressure, double far, double heat_transfer, double *surface,
                               double *flux)
{
    struct wet w = {liquids, liquid, temperature, pressure, far, heat_transfer, DREGS_OK, 0};
    double low = 200, high = temperature, root, from = 0, to;

    if (!(temperature > 0) || !(pressure > 0) || !(far >= 0) || !(heat_transfer > 0))
        return DREGS_DOMAIN;
    if (!dregs_liquids_row(liquids, liquid, DREGS_VAPOUR_PRESSURE))
        return DREGS_UNKNOWN;
    if (!dregs_liquids_reach(liquids, liquid, DREGS_VAPOUR_PRESSURE, &from, &to))
        low = fmax(low, from);
    /* a liquid that boils below the air's temperature: from just below its boiling on down */
    while (high > low && !isfinite(surplus(high, &w)))
        high -= 0.5;
    w.status = DREGS_OK;
    root = dregs_root(surplus, &w, low, high, 1e-13);
    if (!isfinite(root))
        return w.status ? w.status : DREGS_NUMERIC;
    (void)surplus(root, &w);
    *surface = root;
    if (flux)
        *flux = w.flux;
    return DREGS_OK;
}

struct humid {
    const dregs_liquids *liquids;
    double temperature, humidity, pressure;
};

static double water_pressure(const dregs_liquids *liquids, double temperature)
{
    double value = NAN;

    (void)dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, temperature, &value, NULL);
    return value;
}

/* kg of water per kg of dry air */
static double humidity_ratio(double vapour, double pressure)
{
    return 0.621945 * vapour / (pressure - vapour);
}

/* ASHRAE Fundamentals 2017, ch. 1, eq. 33: humidity ratio from the wet bulb, less the real one */
static double wet_bulb_excess(double wet, void *user)
{
    const struct humid *h = user;
    double t = h->temperature - 273.15, w = wet - 273.15;
    double saturated = humidity_ratio(water_pressure(h->liquids, wet), h->pressure);
    double there =
        humidity_ratio(h->humidity * water_pressure(h->liquids, h->temperature), h->pressure);

    return ((2501.0 - 2.326 * w) * saturated - 1.006 * (t - w)) / (2501.0 + 1.86 * t - 4.186 * w) -
           there;
}

dregs_status dregs_wet_bulb(const dregs_liquids *liquids, double temperature, double humidity,
                            double pressure, double *wet_bulb)
{
    struct humid h = {liquids, temperature, humidity, pressure};
    double root;

    if (!(temperature >= 273.16) || !(temperature <= 368.15) || !(humidity >= 0) ||
        !(humidity <= 1) || !(pressure > 2e4))
        return DREGS_DOMAIN;
    root =
        humidity == 1 ? temperature : dregs_root(wet_bulb_excess, &h, 273.16, temperature, 1e-13);
    if (!isfinite(root))
        return DREGS_OUT_OF_RANGE;
    *wet_bulb = root;
    return DREGS_OK;
}

static double dew_excess(double dew, void *user)
{
    const struct humid *h = user;

    return water_pressure(h->liquids, dew) -
           h->humidity * water_pressure(h->liquids, h->temperature);
}

dregs_status dregs_dew_point(const dregs_liquids *liquids, double temperature, double humidity,
                             double *dew_point)
{
    struct humid h = {liquids, temperature, humidity, 0};
    double root;

    if (!(humidity >= 0) || !(humidity <= 1) || !(temperature > 273.16))
        return DREGS_DOMAIN;
    root = humidity == 1 ? temperature : dregs_root(dew_excess, &h, 273.16, temperature, 1e-13);
    if (!isfinite(root))
        return DREGS_OUT_OF_RANGE;
    *dew_point = root;
    return DREGS_OK;
}

dregs_status dregs_dew_point_humidity(const dregs_liquids *liquids, double temperature,
                                      double dew_point, double *humidity)
{
    double there = water_pressure(liquids, dew_point), full = water_pressure(liquids, temperature);

    if (!(dew_point <= temperature))
        return DREGS_DOMAIN;
    if (!(dew_point >= 273.16) || !isfinite(there) || !isfinite(full))
        return DREGS_OUT_OF_RANGE;
    *humidity = there / full;
    return DREGS_OK;
}

dregs_status dregs_dilution_air(const dregs_liquids *liquids, const char *liquid, double mass,
                                double temperature, double share, double *volume)
{
    double limit, molar;
    dregs_status status;

    if (!(mass >= 0) || !(temperature > 0) || !(share > 0) || !(share <= 1))
        return DREGS_DOMAIN;
    status = dregs_liquids_value(liquids, liquid, DREGS_LOWER_LIMIT, temperature, &limit, NULL);
    if (!status)
        status = dregs_liquids_value(liquids, liquid, DREGS_MOLAR_MASS, temperature, &molar, NULL);
    if (status)
        return status;
    *volume = mass / molar * DREGS_GAS_CONSTANT * temperature / DREGS_ATMOSPHERE *
              (1.0 / (share * limit) - 1.0);
    return DREGS_OK;
}
