/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* drying.c: a film as it dries, mass and energy together.
 *
 *   dw_i/dt = -N_i
 *   (C + sum w_i c_i) dT/dt = h (T_air - T) + eps sigma (T_wall^4 - T^4) - sum N_i L_i(T)
 *   dy_i/dt = N_i A R T_air / (M_i P V) - Q (y_i - y_i,fresh) / V
 *
 * The state also carries the heats as sums, so that the balance can be closed. Stiff when the
 * film is thin: GSL's msbdf with a Jacobian by differences. The end is found as a root in time.
 */
#include "base/ode.h"
#include "base/root.h"
#include "base/text.h"
#include "dregs/dry.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS_MOST = 20000, STATE_MOST = 2 * DREGS_VOLATILES + 5 };

/* Where the parts of the state stand, n volatiles: masses, T, vapour shares, the heats that
 * came by convection and radiation, went by evaporation, and are stored. */
struct drying {
    const dregs_dry_case *film;
    unsigned n;
    const char *liquid[DREGS_VOLATILES];
    double molar_mass[DREGS_VOLATILES];
    double limit[DREGS_VOLATILES]; /* lower flammable limit, 0 for none */
    double fresh[DREGS_VOLATILES]; /* share of each vapour in fresh air */
    double start;                  /* kg/m2 */
    size_t dim;
    double density;               /* kg/m3 of the air that arrives */
    int mixes;                    /* the volatiles are one liquid */
    dregs_status status, refused; /* of the last trial; of the last one that failed */
    char *message;
    /* of the last evaluation, for the wet bulb and the curve */
    double temperature;
};

static double table_value(struct drying *d, unsigned i, dregs_property property, double temperature)
{
    double value = NAN;
    dregs_status status = dregs_liquids_value(d->film->liquids, d->liquid[i], property, temperature,
                                              &value, d->message);

    if (status && !d->status)
        d->status = status;
    return value;
}

/* Water below its triple point, where the table ends: in a cold film it is dissolved or
 * supercooled. Clausius-Clapeyron from 611.657 Pa at 273.16 K with 2.5009 MJ/kg, heat capacity 4.22
 * kJ/(kg K): values from memory; within 1 % of supercooled water down to -20 degC. NaN for others.
 */
static double supercooled(dregs_property property, double t)
{
    const double heat = 2.5009e6, gas = DREGS_GAS_CONSTANT / 18.015e-3;

    switch (property) {
    case DREGS_VAPOUR_PRESSURE:
        return 611.657 * exp(heat / gas * (1 / 273.16 - 1 / t));
    case DREGS_HEAT_OF_VAPORISATION:
        return heat;
    case DREGS_HEAT_CAPACITY:
        return 4.22e3;
    default:
        return NAN;
    }
}

static double value_of(struct drying *d, unsigned i, dregs_property property, double temperature)
{
    double value = NAN;

    if (temperature < 273.16 && temperature > 173.16 && strcmp(d->liquid[i], "water") == 0)
        value = supercooled(property, temperature);
    if (!isnan(value))
        return value;
    return table_value(d, i, property, temperature);
}

/* Whether all that is in the film is one liquid: water and what mixes with it in all proportions.
 * Where there is but one volatile, it has nothing to mix with. */
static dregs_status find_mixing(struct drying *d)
{
    dregs_miscibility miscibility;
    unsigned i;

    d->mixes = 1;
    for (i = 0; i < d->n; i++) {
        dregs_status status;
        if (strcmp(d->liquid[i], "water") == 0)
            continue;
        status = dregs_liquids_miscibility(d->film->liquids, d->liquid[i], &miscibility,
                                           d->n > 1 ? d->message : NULL);
        if (status && d->n > 1)
            return status;
        if (status || miscibility != DREGS_MISCIBLE)
            d->mixes = 0;
    }
    return DREGS_OK;
}

/* Activity coefficients: of a liquid with water where there is a model, else 1, as beyond the
 * model's range. */
static void activities(const struct drying *d, const double *share, double temperature,
                       double *gamma)
{
    unsigned i, k;

    for (i = 0; i < d->n; i++)
        gamma[i] = 1.0;
    for (i = 0; i < d->n && d->mixes && d->film->mixtures; i++)
        for (k = 0; k < d->n; k++) {
            double sum = share[i] + share[k], pair[2];
            if (i == k || strcmp(d->liquid[k], "water") != 0 || !(sum > 0) ||
                dregs_mixture_activity(d->film->mixtures, d->liquid[i], "water", share[i] / sum,
                                       temperature, pair, NULL))
                continue;
            gamma[i] = pair[0];
            gamma[k] = pair[1];
        }
}

/* Partial pressures at the surface of a film of these masses. */
static void surface_pressures(struct drying *d, const double *mass, double temperature,
                              double *pressure)
{
    double moles[DREGS_VOLATILES], all = 0, gamma[DREGS_VOLATILES];
    unsigned i;

    for (i = 0; i < d->n; i++) {
        moles[i] = fmax(mass[i], 0.0) / d->molar_mass[i];
        all += moles[i];
    }
    /* in a film that does not mix each has a surface of its own */
    for (i = 0; i < d->n; i++)
        moles[i] = !d->mixes ? 1.0 : all > 0 ? moles[i] / all : 0.0;
    activities(d, moles, temperature, gamma);
    for (i = 0; i < d->n; i++)
        pressure[i] = moles[i] > 0
                          ? moles[i] * gamma[i] * value_of(d, i, DREGS_VAPOUR_PRESSURE, temperature)
                          : 0.0;
}

/* |density at the surface / that of the air - 1|, of heat and vapour together; where one lifts and
 * the other sinks it is that of the stronger: their sum may vanish, the transfer does not, for a
 * layer of two drives follows the stronger one (Bejan, Convection Heat Transfer, ch. 11). */
static double buoyancy(const struct drying *d, const double *surface, const double *share,
                       double temperature)
{
    double heavy = 1, heavy_far = 1, heat = d->film->air / temperature - 1, vapour;
    unsigned i;

    for (i = 0; i < d->n; i++) {
        heavy += surface[i] / d->film->pressure * (d->molar_mass[i] / 28.96e-3 - 1);
        heavy_far += share[i] * (d->molar_mass[i] / 28.96e-3 - 1);
    }
    vapour = heavy / heavy_far - 1;
    return heat * vapour >= 0 ? fabs((1 + heat) * (1 + vapour) - 1)
                              : fmax(fabs(heat), fabs(vapour));
}

/* The heat transfer coefficient, with the air that it is for. 0 when it could not be had. */
static int transfer(struct drying *d, const double *surface, const double *share,
                    double temperature, dregs_air *air, double *coefficient)
{
    const dregs_dry_case *film = d->film;
    const dregs_air_stream stream = {film->flow,   film->speed,    film->length, d->density,
                                     film->nozzle, film->distance, film->pitch};
    double boundary = (temperature + film->air) / 2;
    dregs_status status;

    if (dregs_air_at(boundary, film->pressure, air)) {
        d->status = isfinite(boundary) ? DREGS_OUT_OF_RANGE : DREGS_NUMERIC;
        snprintf(
            d->message, DREGS_DRY_MESSAGE,
            "the air at the film is at %.4g degC: its data reach from -43.15 to 276.85 degC only",
            boundary - 273.15);
        return 0;
    }
    status = dregs_air_transfer(air, &stream, buoyancy(d, surface, share, temperature), coefficient,
                                d->message);
    if (status) {
        d->status = status;
        return 0;
    }
    *coefficient *= 1 - film->hindered;
    return 1;
}

/* What leaves the film at a temperature: kg/(m2 s) of each, W/m2 of latent heat, the heat transfer
 * coefficient. 0 when something could not be had. */
static int leave(struct drying *d, const double *mass, const double *share, double temperature,
                 double *flux, double *latent, double *heat_transfer)
{
    const dregs_dry_case *film = d->film;
    double surface[DREGS_VOLATILES], boundary = (temperature + film->air) / 2, molar, k;
    dregs_air air;
    unsigned i;

    surface_pressures(d, mass, temperature, surface);
    if (d->status || !transfer(d, surface, share, temperature, &air, heat_transfer))
        return 0;
    *latent = 0;
    for (i = 0; i < d->n; i++) {
        double far = fmax(share[i], 0.0) * film->pressure; /* rounding may leave it below 0 */
        double diffusivity =
            value_of(d, i, DREGS_DIFFUSIVITY, boundary) * DREGS_ATMOSPHERE / film->pressure;
        if (dregs_air_mass_transfer(&air, film->flow, *heat_transfer, diffusivity, &k) ||
            dregs_stefan_flux(k, boundary, film->pressure, surface[i], far, &molar)) {
            if (!d->status) {
                d->status = DREGS_OUT_OF_RANGE;
                snprintf(d->message, DREGS_DRY_MESSAGE, "%s boils at %.4g degC in this film",
                         d->liquid[i], temperature - 273.15);
            }
            return 0;
        }
        flux[i] = molar * d->molar_mass[i];
        /* what is not there cannot leave; vapour may still condense. The last trace of a liquid
         * with a surface of its own goes smoothly, for the integrator's sake */
        if (molar > 0)
            flux[i] *=
                d->mixes ? mass[i] > 0 : fmax(mass[i], 0) / (fmax(mass[i], 0) + 1e-6 * d->start);
        *latent += flux[i] * value_of(d, i, DREGS_HEAT_OF_VAPORISATION, temperature);
    }
    return !d->status;
}

static double radiation(const dregs_dry_case *film, double temperature)
{
    return film->emissivity * DREGS_STEFAN_BOLTZMANN * (pow(film->wall, 4) - pow(temperature, 4));
}

struct balance {
    struct drying *d;
    const double *mass, *share;
};

/* heat that comes less heat that goes, W/m2, for the wet bulb */
static double surplus(double temperature, void *user)
{
    struct balance *b = user;
    double flux[DREGS_VOLATILES], latent, h;

    if (!leave(b->d, b->mass, b->share, temperature, flux, &latent, &h))
        return NAN;
    return h * (b->d->film->air - temperature) + radiation(b->d->film, temperature) - latent;
}

/* The temperature at which the heat balance closes by itself. */
static double wet_bulb(struct drying *d, const double *mass, const double *share)
{
    struct balance b = {d, mass, share};
    double high = fmax(d->film->air, d->film->wall), low = high, at = surplus(high, &b), root;
    int step, begun = 0;

    /* down from the warm side, or from where the film no longer boils, until it would gain heat */
    for (step = 0; step < 400 && !(at > 0) && !(begun && !isfinite(at)); step++) {
        begun = begun || isfinite(at);
        d->status = DREGS_OK;
        high = low;
        low -= 1.0;
        at = surplus(low, &b);
    }
    if (!isfinite(at) || high == low)
        return high;
    root = dregs_root(surplus, &b, low, high, 1e-12);
    return isfinite(root) ? root : low;
}

static int derivatives(double time, const double y[], double dydt[], void *user)
{
    struct drying *d = user;
    const dregs_dry_case *film = d->film;
    unsigned n = d->n, i;
    const double *share = y + n + 1;
    double flux[DREGS_VOLATILES], latent, h, heat, heavy = film->heat_capacity, t = y[n];

    (void)time;
    if (d->status)
        d->refused = d->status;
    d->status = DREGS_OK; /* of this trial: the integrator takes a shorter step after a failure */
    if (film->mode == DREGS_DRY_ISOTHERMAL)
        t = film->air;
    else if (film->mode == DREGS_DRY_WET_BULB)
        t = wet_bulb(d, y, share);
    d->temperature = t;
    if (!leave(d, y, share, t, flux, &latent, &h))
        return GSL_FAILURE;
    heat = h * (film->air - t);
    for (i = 0; i < n; i++) {
        heavy += fmax(y[i], 0) * value_of(d, i, DREGS_HEAT_CAPACITY, t);
        dydt[i] = -flux[i];
        dydt[n + 1 + i] = film->volume > 0
                              ? flux[i] * film->area * DREGS_GAS_CONSTANT * film->air /
                                        (d->molar_mass[i] * film->pressure * film->volume) -
                                    film->fresh_air * (share[i] - d->fresh[i]) / film->volume
                              : 0.0;
    }
    if (d->status)
        return GSL_FAILURE;
    dydt[n] = film->mode == DREGS_DRY_FULL ? (heat + radiation(film, t) - latent) / heavy : 0.0;
    dydt[2 * n + 1] = heat;
    dydt[2 * n + 2] = radiation(film, t);
    dydt[2 * n + 3] = latent;
    dydt[2 * n + 4] = heavy * dydt[n];
    return GSL_SUCCESS;
}

/* Differences with steps that suit each part of the state. */
static int jacobian(double time, const double y[], double *dfdy, double dfdt[], void *user)
{
    struct drying *d = user;
    double beside[STATE_MOST], at[STATE_MOST], moved[STATE_MOST], step;
    size_t i, k;
    int status = derivatives(time, y, at, user);

    memcpy(beside, y, d->dim * sizeof *y);
    for (k = 0; k < d->dim && !status; k++) {
        step = 1e-7 * fmax(fabs(y[k]), k < d->n ? d->start : k == d->n ? 1.0 : 1e-3);
        beside[k] = y[k] + step;
        status = derivatives(time, beside, moved, user);
        beside[k] = y[k];
        for (i = 0; i < d->dim; i++)
            dfdy[i * d->dim + k] = (moved[i] - at[i]) / step;
    }
    memset(dfdt, 0, d->dim * sizeof *dfdt);
    return status;
}

static double total(const struct drying *d, const double *y)
{
    double sum = 0;
    unsigned i;

    for (i = 0; i < d->n; i++)
        sum += y[i];
    return sum;
}

static void write_point(const struct drying *d, double time, const double *y,
                        dregs_dry_point *point)
{
    unsigned i;

    memset(point, 0, sizeof *point);
    point->time = time;
    point->total = total(d, y);
    point->temperature = d->film->mode == DREGS_DRY_FULL ? y[d->n] : d->temperature;
    for (i = 0; i < d->n; i++) {
        point->mass[i] = y[i];
        if (!(d->film->volume > 0))
            continue; /* nothing gathers, whatever rounding says */
        point->share[i] = fmax(y[d->n + 1 + i], 0.0);
        if (d->limit[i] > 0)
            point->flammable += point->share[i] / d->limit[i];
    }
}

static dregs_status keep(const struct drying *d, double time, const double *y, dregs_drying *out)
{
    dregs_dry_point *point;
    unsigned i;

    if (out->points % 64 == 0) {
        dregs_dry_point *bigger = realloc(out->point, (out->points + 64) * sizeof *bigger);
        if (!bigger)
            return DREGS_NO_MEMORY;
        out->point = bigger;
    }
    point = &out->point[out->points++];
    write_point(d, time, y, point);
    if (out->points == 1 || point->temperature < out->coldest) {
        out->coldest = point->temperature;
        out->coldest_at = time;
    }
    if (point->flammable > out->peak) {
        out->peak = point->flammable;
        out->peak_at = time;
    }
    for (i = 0; i < d->n; i++)
        out->peak_share[i] = fmax(out->peak_share[i], point->share[i]);
    return DREGS_OK;
}

/* The moment within a step at which what is left falls to the end: from the state before it, by
 * Brent's method on the length of the step. */
struct finish {
    gsl_odeiv2_driver *driver;
    struct drying *d;
    const double *before;
    double from, end;
    double y[STATE_MOST];
};

static double over(double time, void *user)
{
    struct finish *f = user;
    double t = f->from;

    memcpy(f->y, f->before, f->d->dim * sizeof *f->y);
    if (time > f->from) {
        if (gsl_odeiv2_driver_reset_hstart(f->driver, (time - f->from) / 4) != GSL_SUCCESS ||
            gsl_odeiv2_driver_apply(f->driver, &t, time, f->y) != GSL_SUCCESS)
            return NAN;
    }
    return total(f->d, f->y) - f->end;
}

static double find_end(struct finish *f, double to)
{
    double time = dregs_root(over, f, f->from, to, 1e-11);

    if (isfinite(time))
        (void)over(time, f); /* leaves the state of that moment in f */
    return time;
}

static dregs_status march(struct drying *d, double *y, double tolerance, dregs_drying *out)
{
    gsl_odeiv2_system system = {derivatives, jacobian, d->dim, d};
    double absolute = tolerance * fmax(d->start, 1e-9);
    gsl_odeiv2_driver *driver =
        dregs_ode_new(&system, gsl_odeiv2_step_msbdf, 1e-4, absolute, tolerance);
    struct finish finish = {
        dregs_ode_new(&system, gsl_odeiv2_step_rk8pd, 1e-4, absolute, tolerance),
        d,
        NULL,
        0,
        d->film->until * d->start,
        {0}};
    double time = 0, h = 1e-4, before[STATE_MOST];
    dregs_status status = driver && finish.driver ? DREGS_OK : DREGS_NO_MEMORY;
    int steps;

    if (!status)
        status = keep(d, 0, y, out);
    for (steps = 0; !status && steps < STEPS_MOST && time < DREGS_DRY_MOST; steps++) {
        memcpy(before, y, sizeof before);
        finish.from = time;
        if (gsl_odeiv2_evolve_apply(driver->e, driver->c, driver->s, &system, &time, DREGS_DRY_MOST,
                                    &h, y) != GSL_SUCCESS) {
            status = d->status ? d->status : DREGS_NUMERIC;
            break;
        }
        if (total(d, y) <= finish.end) {
            finish.before = before;
            time = find_end(&finish, time);
            memcpy(y, finish.y, sizeof finish.y);
            out->dry = isfinite(time);
            status = out->dry ? keep(d, time, y, out) : DREGS_NUMERIC;
            break;
        }
        status = keep(d, time, y, out);
    }
    if (!status && !out->dry && time < DREGS_DRY_MOST)
        status = DREGS_NUMERIC;
    if (status == DREGS_NUMERIC && d->refused) /* it crept up to where its data end */
        status = d->refused;
    else if (status == DREGS_NUMERIC && !*d->message)
        snprintf(d->message, DREGS_DRY_MESSAGE, "the integration stuck after %.4g s and %d steps",
                 time, steps);
    out->time = time;
    dregs_ode_free(driver);
    dregs_ode_free(finish.driver);
    return status;
}

/* The air that comes: its density, and whether its law holds for it; 45 to 150 degC for a tray
 * (Geankoplis, with eq. 9.6-9). */
static dregs_status arriving(struct drying *d)
{
    const dregs_dry_case *film = d->film;
    dregs_air air;

    if (dregs_air_at(film->air, film->pressure, &air)) {
        snprintf(d->message, DREGS_DRY_MESSAGE,
                 "air of %.4g degC: its data reach from -43.15 to 276.85 degC", film->air - 273.15);
        return DREGS_OUT_OF_RANGE;
    }
    d->density = air.density;
    if (film->flow != DREGS_AIR_TRAY || (film->air >= 318.15 && film->air <= 423.15))
        return DREGS_OK;
    snprintf(d->message, DREGS_DRY_MESSAGE,
             "air of %.4g degC over a tray; its law holds from 45 to 150 degC", film->air - 273.15);
    return DREGS_OUT_OF_RANGE;
}

/* The volatiles with the room's water, their constants, and the state at the start. */
static dregs_status prepare(struct drying *d, double *y)
{
    const dregs_dry_case *film = d->film;
    unsigned i, water = film->count;
    double saturated = 0;

    for (i = 0; i < film->count; i++) {
        d->liquid[i] = film->liquid[i];
        if (strcmp(film->liquid[i], "water") == 0)
            water = i;
        y[i] = film->mass[i];
        d->start += film->mass[i];
    }
    d->n = film->count;
    if (water == film->count && film->humidity > 0) {
        if (d->n == DREGS_VOLATILES) {
            snprintf(d->message, DREGS_DRY_MESSAGE,
                     "%d liquids at most, and the water of the room is one of them",
                     (int)DREGS_VOLATILES);
            return DREGS_DOMAIN;
        }
        d->liquid[d->n++] = "water";
    }
    for (i = 0; i < d->n; i++) {
        d->molar_mass[i] = value_of(d, i, DREGS_MOLAR_MASS, film->air);
        if (dregs_liquids_row(film->liquids, d->liquid[i], DREGS_LOWER_LIMIT))
            d->limit[i] = value_of(d, i, DREGS_LOWER_LIMIT, film->air);
        if (strcmp(d->liquid[i], "water") == 0) {
            saturated = value_of(d, i, DREGS_VAPOUR_PRESSURE, film->humid_at);
            d->fresh[i] = film->humidity * saturated / film->pressure;
        }
    }
    d->dim = 2 * (size_t)d->n + 5;
    y[d->n] = film->mode == DREGS_DRY_FULL ? film->start : film->air;
    for (i = 0; i < d->n; i++)
        y[d->n + 1 + i] = d->fresh[i];
    d->temperature = y[d->n];
    if (!d->status)
        d->status = arriving(d);
    return d->status ? d->status : find_mixing(d);
}

/* a number from low on, not infinite */
static int from(double value, double low)
{
    return value >= low && isfinite(value);
}

/* The first member of a case that is out of its range; NULL: none is. */
static const char *out_of_range(const dregs_dry_case *film, char name[32])
{
    const struct {
        const char *name;
        int fits;
    } member[] = {
        {"air", from(film->air, 1)},
        {"wall", from(film->wall, 0)},
        {"start", from(film->start, 1)},
        {"speed", from(film->speed, 0) && film->speed <= 100},
        {"humidity", film->humidity >= 0 && film->humidity <= 1},
        {"humid_at", from(film->humid_at, 1)},
        {"pressure", from(film->pressure, 1)},
        {"heat_capacity", from(film->heat_capacity, 0)},
        {"length", film->length > 0 && isfinite(film->length)},
        {"emissivity", film->emissivity >= 0 && film->emissivity <= 1},
        {"volume", from(film->volume, 0)},
        {"fresh_air", from(film->fresh_air, 0)},
        {"area", from(film->area, 0)},
        {"until", film->until > 0 && film->until < 1},
        {"flow", (unsigned)film->flow < DREGS_AIR_FLOWS},
        {"hindered", film->hindered >= 0 && film->hindered < 1},
        {"nozzle", film->flow != DREGS_AIR_JET || film->nozzle > 0},
        {"distance", film->flow != DREGS_AIR_JET || film->distance > 0},
        {"pitch", film->flow != DREGS_AIR_JET || film->pitch >= 0},
    };
    size_t i;

    if (film->count < 1 || film->count > DREGS_VOLATILES)
        return "count";
    for (i = 0; i < film->count; i++)
        if (!(film->mass[i] > 0) || !(film->mass[i] < 100)) {
            snprintf(name, 32, "mass[%zu]", i);
            return name;
        }
    for (i = 0; i < sizeof member / sizeof member[0]; i++)
        if (!member[i].fits)
            return member[i].name;
    return NULL;
}

dregs_status dregs_dry(const dregs_dry_case *film, double tolerance, dregs_drying *drying,
                       char *message)
{
    struct drying d;
    double y[STATE_MOST] = {0}, dew;
    const char *wrong;
    char name[32];
    dregs_drying out;
    dregs_status status;
    unsigned i;

    memset(&d, 0, sizeof d);
    memset(&out, 0, sizeof out);
    d.film = film;
    d.message = message;
    message[0] = '\0';
    wrong = out_of_range(film, name);
    if (!wrong && (!(tolerance >= 1e-12) || !(tolerance <= 1e-4)))
        wrong = "tolerance";
    if (wrong)
        return dregs_refuse(message, DREGS_DRY_MESSAGE,
                            "%s: this value of the drying is out of its range", wrong);
    status = prepare(&d, y);
    if (!status)
        status = march(&d, y, tolerance, &out);
    if (status) {
        free(out.point);
        return status;
    }
    message[0] = '\0'; /* of trials that failed on the way */
    out.volatiles = d.n;
    for (i = 0; i < d.n; i++)
        out.liquid[i] = d.liquid[i];
    out.dew_point =
        dregs_dew_point(film->liquids, film->humid_at, film->humidity, &dew) ? NAN : dew;
    out.wet_spots = out.coldest < out.dew_point;
    out.convected = y[2 * d.n + 1];
    out.radiated = y[2 * d.n + 2];
    out.latent = y[2 * d.n + 3];
    out.stored = y[2 * d.n + 4];
    *drying = out;
    return DREGS_OK;
}

void dregs_drying_clear(dregs_drying *drying)
{
    free(drying->point);
    drying->point = NULL;
    drying->points = 0;
}

/* The peak with a flow of fresh air; NaN when it could not be worked out. */
static double peak_with(const dregs_dry_case *film, double fresh_air, char *message,
                        dregs_status *status)
{
    dregs_dry_case tried = *film;
    dregs_drying drying = {0};
    double peak = NAN;

    tried.fresh_air = fresh_air;
    *status = dregs_dry(&tried, 1e-9, &drying, message);
    if (!*status)
        peak = drying.peak;
    dregs_drying_clear(&drying);
    return peak;
}

dregs_status dregs_dry_fresh_air(const dregs_dry_case *film, double share, double *fresh_air,
                                 char *message)
{
    dregs_status status;
    double low = 0, high = fmax(film->volume, 1e-6) / 3600, peak;
    int i;

    if (!(film->volume > 0) || !(share > 0) || !(share < 1)) {
        snprintf(message, DREGS_DRY_MESSAGE,
                 "fresh air needs a volume, and a share of the limit between 0 and 1");
        return DREGS_DOMAIN;
    }
    peak = peak_with(film, 0, message, &status);
    if (status)
        return status;
    if (peak <= share) {
        *fresh_air = 0;
        return DREGS_OK;
    }
    for (i = 0; i < 60; i++, low = high, high *= 4) {
        peak = peak_with(film, high, message, &status);
        if (status)
            return status;
        if (peak <= share)
            break;
    }
    for (i = 0; i < 40 && high - low > 1e-4 * high; i++) {
        double middle = (low + high) / 2;
        peak = peak_with(film, middle, message, &status);
        if (status)
            return status;
        *(peak <= share ? &high : &low) = middle;
    }
    *fresh_air = high;
    return DREGS_OK;
}
