/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* warm.c: heat balances of bodies with one temperature each:
 *
 *   C_i dT_i/dt = P_i - U_i A_i (T_i - T_room) - loss_i(T_i) + K (T_k - T_i)
 *
 * The steady state is a root; of one body the time is an integral over the temperature, of two it
 * is stepped.
 */
#include "dregs/warm.h"
#include "base/ode.h"
#include "base/root.h"
#include "dregs/dry.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>

#define REACH        150.0 /* K from the room that are looked at */
#define TIME_LONGEST 1e8   /* s */

static int sensible(const dregs_warm_case *warm)
{
    unsigned i;

    if (warm->bodies < 1 || warm->bodies > DREGS_WARM_BODIES || !(warm->room > REACH) ||
        !isfinite(warm->room) || (warm->bodies == 2 && !(warm->coupling > 0)))
        return 0;
    for (i = 0; i < warm->bodies; i++) {
        const dregs_warm_body *b = &warm->body[i];
        if (!(b->heat_capacity > 0) || !(b->power >= 0) || !(b->wall_loss >= 0) ||
            !isfinite(b->heat_capacity) || !isfinite(b->power) || !isfinite(b->wall_loss))
            return 0;
    }
    return 1;
}

/* W that a body takes up by itself. */
static double net(const dregs_warm_case *warm, unsigned i, double temperature)
{
    const dregs_warm_body *b = &warm->body[i];

    return b->power - b->wall_loss * (temperature - warm->room) -
           (b->loss ? b->loss(temperature, b->user) : 0.0);
}

/* The first body's temperature with which the second one stays at this. */
static double outer(const dregs_warm_case *warm, double temperature)
{
    return warm->bodies == 1 ? temperature
                             : temperature - net(warm, 1, temperature) / warm->coupling;
}

/* W that all take up together when the innermost is at this temperature and stays there. */
static double surplus(double temperature, void *user)
{
    const dregs_warm_case *warm = user;
    double first = outer(warm, temperature);

    return net(warm, 0, first) + (warm->bodies == 2 ? net(warm, 1, temperature) : 0.0);
}

dregs_status dregs_warm_settles(const dregs_warm_case *warm, double temperature[DREGS_WARM_BODIES])
{
    dregs_warm_case copy = *warm;
    double at = warm->room, before, here, next = NAN, step, found;

    if (!sensible(warm))
        return DREGS_DOMAIN;
    here = surplus(at, &copy);
    if (isnan(here))
        return DREGS_OUT_OF_RANGE;
    step = here >= 0 ? 1.0 : -1.0;
    for (before = at; fabs(at - warm->room) < REACH; before = at, here = next) {
        at = before + step;
        next = surplus(at, &copy);
        if (isnan(next))
            return DREGS_OUT_OF_RANGE;
        if (here == 0 || next == 0 || (here > 0) != (next > 0))
            break;
    }
    if (!(fabs(at - warm->room) < REACH))
        return DREGS_OUT_OF_RANGE;
    found = here == 0   ? before
            : next == 0 ? at
                        : dregs_root(surplus, &copy, fmin(before, at), fmax(before, at), 1e-13);
    if (!isfinite(found))
        return DREGS_NUMERIC;
    temperature[0] = outer(warm, found);
    temperature[warm->bodies - 1] = found;
    return DREGS_OK;
}

/* ---- one body ---- */

static double seconds_per_kelvin(double temperature, void *user)
{
    const dregs_warm_case *warm = user;

    return warm->body[0].heat_capacity / net(warm, 0, temperature);
}

static dregs_status integrate(double (*f)(double, void *), void *user, double from, double to,
                              double *sum)
{
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(400);
    gsl_function function = {f, user};
    double error, made = NAN;
    int failed;

    if (!space)
        return DREGS_NO_MEMORY;
    failed = gsl_integration_qag(&function, from, to, 0, 1e-9, 400, GSL_INTEG_GAUSS21, space, &made,
                                 &error);
    gsl_integration_workspace_free(space);
    /* roundoff where it nearly settles is no failure: the error is looked at */
    if (!isfinite(made) || (failed && !(error <= 1e-6 * fabs(made))))
        return DREGS_NUMERIC;
    *sum = made;
    return DREGS_OK;
}

static dregs_status time_of_one(const dregs_warm_case *warm, double from, double to, double *time)
{
    dregs_warm_case copy = *warm;
    double first = net(warm, 0, from), last = net(warm, 0, to), way = to - from;

    if (isnan(first) || isnan(last))
        return DREGS_OUT_OF_RANGE;
    if (!(first * way > 0) || !(last * way > 0)) {
        *time = INFINITY;
        return DREGS_OK;
    }
    return integrate(seconds_per_kelvin, &copy, from, to, time);
}

/* ---- two bodies ---- */

static int derivatives(double time, const double y[], double dydt[], void *user)
{
    const dregs_warm_case *warm = user;
    double passed = warm->coupling * (y[0] - y[1]);

    (void)time;
    dydt[0] = (net(warm, 0, y[0]) - passed) / warm->body[0].heat_capacity;
    dydt[1] = (net(warm, 1, y[1]) + passed) / warm->body[1].heat_capacity;
    return isfinite(dydt[0]) && isfinite(dydt[1]) ? GSL_SUCCESS : GSL_EBADFUNC;
}

/* The time within a step at which the body is there, from the state before it. */
struct crossing {
    gsl_odeiv2_driver *driver;
    double from, y[2], to;
    unsigned index;
};

static double past(double time, void *user)
{
    struct crossing *c = user;
    double t = c->from, y[2] = {c->y[0], c->y[1]};

    if (time > c->from &&
        (gsl_odeiv2_driver_reset_hstart(c->driver, (time - c->from) / 4) != GSL_SUCCESS ||
         gsl_odeiv2_driver_apply(c->driver, &t, time, y) != GSL_SUCCESS))
        return NAN;
    return y[c->index] - c->to;
}

static dregs_status time_of_two(const dregs_warm_case *warm, const double *start, unsigned index,
                                double to, double *time)
{
    dregs_warm_case body = *warm;
    gsl_odeiv2_system system = {derivatives, NULL, 2, &body};
    gsl_odeiv2_driver *driver = dregs_ode_new(&system, gsl_odeiv2_step_rk8pd, 1.0, 1e-10, 1e-11);
    struct crossing c = {dregs_ode_new(&system, gsl_odeiv2_step_rk8pd, 1.0, 1e-10, 1e-11),
                         0,
                         {start[0], start[1]},
                         to,
                         index};
    double t = 0, y[2] = {start[0], start[1]}, length = 1, above = start[index] - to, found = NAN;
    dregs_status status = driver && c.driver ? DREGS_OK : DREGS_NO_MEMORY;

    while (!status && isnan(found) && t < TIME_LONGEST) {
        c.from = t;
        c.y[0] = y[0];
        c.y[1] = y[1];
        if (gsl_odeiv2_driver_apply(driver, &t, t + length, y) != GSL_SUCCESS)
            status = DREGS_OUT_OF_RANGE;
        else if ((y[index] - to) * above <= 0)
            found = dregs_root(past, &c, c.from, t, 1e-12);
        length *= 1.1; /* it slows down as it nears the end */
    }
    dregs_ode_free(driver);
    dregs_ode_free(c.driver);
    if (status)
        return status;
    *time = isnan(found) ? INFINITY : found;
    return DREGS_OK;
}

dregs_status dregs_warm_time(const dregs_warm_case *warm, const double *start, unsigned index,
                             double to, double *time)
{
    if (!sensible(warm) || index >= warm->bodies || !(fabs(to - warm->room) <= REACH) ||
        !(fabs(start[0] - warm->room) <= REACH) ||
        !(fabs(start[warm->bodies - 1] - warm->room) <= REACH))
        return DREGS_DOMAIN;
    if (start[index] == to) {
        *time = 0;
        return DREGS_OK;
    }
    return warm->bodies == 1 ? time_of_one(warm, start[0], to, time)
                             : time_of_two(warm, start, index, to, time);
}

/* ---- parts ---- */

struct part {
    double heat_capacity, room, speed, length, emissivity;
};

static double part_seconds_per_kelvin(double temperature, void *user)
{
    const struct part *p = user;
    double coefficient, radiated;
    dregs_air air;

    if (dregs_air_at((temperature + p->room) / 2, DREGS_ATMOSPHERE, &air) ||
        dregs_heat_transfer(&air, p->speed, p->length, fabs(temperature / p->room - 1),
                            &coefficient))
        return NAN;
    radiated = p->emissivity * DREGS_STEFAN_BOLTZMANN * (pow(temperature, 4) - pow(p->room, 4));
    return -p->heat_capacity / (coefficient * (temperature - p->room) + radiated);
}

dregs_status dregs_warm_part(double heat_capacity, double from, double to, double room,
                             double speed, double length, double emissivity, double *time)
{
    struct part part = {heat_capacity, room, speed, length, emissivity};

    if (!(heat_capacity > 0) || !(room > 0) || !(to > 0) || !(from >= to) || !(speed >= 0) ||
        !(length > 0) || !(emissivity >= 0) || !(emissivity <= 1) || !isfinite(heat_capacity) ||
        !(from <= 800))
        return DREGS_DOMAIN;
    if (to <= room) {
        *time = from > to ? INFINITY : 0;
        return DREGS_OK;
    }
    return integrate(part_seconds_per_kelvin, &part, from, to, time);
}
