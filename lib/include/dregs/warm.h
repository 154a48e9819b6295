/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* warm.h: bodies of liquid that a power warms and that lose heat, and parts that cool.
 *
 * A body has one temperature throughout. What is left out: the heat of an empty tank and of the
 * parts in it, stirring, and that a room warms with them.
 */
#ifndef DREGS_WARM_H
#define DREGS_WARM_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** W that a body loses at a temperature (K) beside its walls, as by evaporation, not falling with
 *  it; NaN where it is not known. */
typedef double dregs_warm_loss(double temperature, void *user);

typedef struct dregs_warm_body {
    double heat_capacity;  /**< J/K, > 0 */
    double power;          /**< W that it takes up, >= 0 */
    double wall_loss;      /**< W/K to the room, U A, >= 0 */
    dregs_warm_loss *loss; /**< NULL: none */
    void *user;
} dregs_warm_body;

enum { DREGS_WARM_BODIES = 2 };

/** One body, or two of which the second stands in the first, as a beaker in a water bath. */
typedef struct dregs_warm_case {
    unsigned bodies;
    dregs_warm_body body[DREGS_WARM_BODIES];
    double coupling; /**< W/K from the first to the second, > 0 with two */
    double room;     /**< K */
} dregs_warm_case;

/** Where the bodies settle, K: C dT/dt = P - U A (T - T_room) - loss(T) + coupling = 0.
 *  \param temperature  of each body.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_OUT_OF_RANGE (it warms or cools beyond what is known of
 * the loss, or beyond 150 K from the room); DREGS_NUMERIC. */
DREGS_API dregs_status dregs_warm_settles(const dregs_warm_case *warm,
                                          double temperature[DREGS_WARM_BODIES]);

/** Seconds until body \p index is at \p to, K; INFINITY when it never gets there.
 *  One body: the integral of C dT / net heat; two: stepped in time (Runge-Kutta-Prince-Dormand).
 *  \param start  K, of each body.
 *  \return as dregs_warm_settles. */
DREGS_API dregs_status dregs_warm_time(const dregs_warm_case *warm, const double *start,
                                       unsigned index, double to, double *time);

/** Seconds in which a dry part cools from \p from to \p to, K, in a room, by the convection of
 *  dregs_heat_transfer at \p speed (m/s) and \p length (m) and by radiation; INFINITY when \p to is
 *  not above the room. The part has one temperature throughout: thin or of metal.
 *  \param heat_capacity  J/(m2 K), per surface.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_NUMERIC. */
DREGS_API dregs_status dregs_warm_part(double heat_capacity, double from, double to, double room,
                                       double speed, double length, double emissivity,
                                       double *time);

#ifdef __cplusplus
}
#endif
#endif
