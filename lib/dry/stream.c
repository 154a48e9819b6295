/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stream.c: heat and vapour between a wet face and the air that streams along it or at it. */
#include "dregs/dry.h"

#include <math.h>
#include <stdio.h>

#define PI 3.14159265358979323846

/* Ranges of the laws; of the tray and the jets as printed with them. */
#define TRAY_LEAST     (2450.0 / 3600.0) /* kg/(m2 s) */
#define TRAY_MOST      (29300.0 / 3600.0)
#define JET_LEAST      2000.0 /* Re, with the nozzle's diameter */
#define JETS_MOST      1e5
#define JET_MOST       4e5
#define DISTANCE_LEAST 2.0 /* nozzle diameters */
#define DISTANCE_MOST  12.0
#define OPENINGS_LEAST 0.004 /* of the face */
#define OPENINGS_MOST  0.04

struct flow {
    const char *word, *law;
};

static const struct flow flows[DREGS_AIR_FLOWS] = {
    {"laminar", "flat plate, 0.664 Re^0.5 Pr^(1/3): Pohlhausen; behind Re = 5e5 (0.037 Re^0.8 - "
                "871) Pr^(1/3)"},
    {"turbulent",
     "flat plate, turbulent from its edge on, 0.037 Re^0.8 Pr^(1/3): Incropera, ch. 7"},
    {"tray", "tray in a dryer's channel, h = 0.0204 G^0.8: Geankoplis, eq. 9.6-9"},
    {"jet", "round nozzles: Martin 1977"},
};

const char *dregs_air_flow_word(dregs_air_flow flow)
{
    return (unsigned)flow < DREGS_AIR_FLOWS ? flows[flow].word : NULL;
}

const char *dregs_air_flow_law(dregs_air_flow flow)
{
    return (unsigned)flow < DREGS_AIR_FLOWS ? flows[flow].law : NULL;
}

/* Nu = 0.664 Re^0.5 Pr^(1/3), turbulent behind Re = 5e5 */
static double calm(double reynolds, double prandtl)
{
    if (reynolds < 5e5)
        return 0.664 * sqrt(reynolds) * cbrt(prandtl);
    return (0.037 * pow(reynolds, 0.8) - 871.0) * cbrt(prandtl);
}

/* Nu = 0.037 Re^0.8 Pr^(1/3); below Re = 1.5e4 that is less than a calm stream has */
static double tripped(double reynolds, double prandtl)
{
    return fmax(0.037 * pow(reynolds, 0.8) * cbrt(prandtl), calm(reynolds, prandtl));
}

/* Churchill and Chu 1975, their eq. for all Ra */
static double free_convection(double rayleigh, double prandtl)
{
    double root = 0.825 + 0.387 * pow(rayleigh, 1.0 / 6.0) /
                              pow(1.0 + pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);

    return root * root;
}

static dregs_status outside(char *message, const char *what, double got, double least, double most)
{
    if (message)
        snprintf(message, DREGS_DRY_MESSAGE, "%s is %.4g; its law holds from %g to %g", what, got,
                 least, most);
    return DREGS_OUT_OF_RANGE;
}

/* Martin 1977: Nu of the nozzle's diameter, with f = (area of nozzles) / (area of the face) and
 * H = distance / diameter:
 *   G = 2 f^0.5 (1 - 2.2 f^0.5) / (1 + 0.2 (H - 6) f^0.5)
 *   array   Nu = (1 + (H f^0.5 / 0.6)^6)^-0.05 G Re^(2/3) / 2 Pr^0.42
 *   single  Nu = 2 G Re^0.5 (1 + Re^0.55 / 200)^0.5 Pr^0.42 */
static dregs_status jet(const dregs_air_stream *s, double kinematic, double prandtl,
                        double *nusselt, char *message)
{
    double reynolds = s->speed * s->nozzle / kinematic, away = s->distance / s->nozzle;
    double of = s->pitch > 0 ? PI / 4 * s->nozzle * s->nozzle / (s->pitch * s->pitch)
                             : s->nozzle * s->nozzle / (s->length * s->length);
    double root = sqrt(of), g = 2 * root * (1 - 2.2 * root) / (1 + 0.2 * (away - 6) * root);
    double most = s->pitch > 0 ? JETS_MOST : JET_MOST;

    if (!(away >= DISTANCE_LEAST) || !(away <= DISTANCE_MOST))
        return outside(message, "the distance of a jet in nozzle diameters", away, DISTANCE_LEAST,
                       DISTANCE_MOST);
    if (!(of >= OPENINGS_LEAST) || !(of <= OPENINGS_MOST))
        return outside(message, "the share of the wet face that nozzles have", of, OPENINGS_LEAST,
                       OPENINGS_MOST);
    if (!(reynolds >= JET_LEAST) || !(reynolds <= most))
        return outside(message, "the Reynolds number of a jet", reynolds, JET_LEAST, most);
    if (s->pitch > 0)
        *nusselt = pow(1 + pow(away * root / 0.6, 6), -0.05) * g * pow(reynolds, 2.0 / 3.0) / 2 *
                   pow(prandtl, 0.42);
    else
        *nusselt = 2 * g * sqrt(reynolds * (1 + pow(reynolds, 0.55) / 200)) * pow(prandtl, 0.42);
    return DREGS_OK;
}

/* h = 0.0204 G^0.8 W/(m2 K), G in kg/(m2 h) */
static dregs_status tray(const dregs_air_stream *s, double *coefficient, char *message)
{
    double flow = s->speed * s->density;

    if (!(flow >= TRAY_LEAST) || !(flow <= TRAY_MOST))
        return outside(message, "the mass flow of air over a tray, kg/(m2 s),", flow, TRAY_LEAST,
                       TRAY_MOST);
    *coefficient = 0.0204 * pow(flow * 3600.0, 0.8);
    return DREGS_OK;
}

/* W/(m2 K) that the stream brings by itself */
static dregs_status forced(const dregs_air *air, const dregs_air_stream *s, double *coefficient,
                           char *message)
{
    double kinematic = air->viscosity / air->density, nusselt;
    double prandtl = air->viscosity * air->heat_capacity / air->conductivity;
    double reynolds = s->speed * s->length / kinematic;
    dregs_status status;

    switch (s->flow) {
    case DREGS_AIR_LAMINAR:
        *coefficient = calm(reynolds, prandtl) * air->conductivity / s->length;
        return DREGS_OK;
    case DREGS_AIR_TURBULENT:
        *coefficient = tripped(reynolds, prandtl) * air->conductivity / s->length;
        return DREGS_OK;
    case DREGS_AIR_TRAY:
        return tray(s, coefficient, message);
    case DREGS_AIR_JET:
        if (!(s->nozzle > 0) || !(s->distance > 0) || !(s->pitch >= 0))
            return DREGS_DOMAIN;
        status = jet(s, kinematic, prandtl, &nusselt, message);
        if (!status)
            *coefficient = nusselt * air->conductivity / s->nozzle;
        return status;
    default:
        return DREGS_DOMAIN;
    }
}

dregs_status dregs_air_transfer(const dregs_air *air, const dregs_air_stream *stream,
                                double buoyancy, double *coefficient, char *message)
{
    double kinematic = air->viscosity / air->density, length = stream->length;
    double thermal = air->conductivity / (air->density * air->heat_capacity), blown, rises;
    dregs_status status;

    if (!(stream->speed >= 0) || !(stream->speed <= 100) || !(length > 0) || !isfinite(length) ||
        !(buoyancy >= 0) || !isfinite(buoyancy))
        return DREGS_DOMAIN;
    status = forced(air, stream, &blown, message);
    if (status)
        return status;
    rises = free_convection(9.80665 * buoyancy * length * length * length / (kinematic * thermal),
                            kinematic / thermal) *
            air->conductivity / length;
    /* Churchill 1977, the exponent 3 of streams that help each other */
    *coefficient = cbrt(blown * blown * blown + rises * rises * rises);
    return isfinite(*coefficient) ? DREGS_OK : DREGS_NUMERIC;
}

dregs_status dregs_heat_transfer(const dregs_air *air, double speed, double length, double buoyancy,
                                 double *coefficient)
{
    const dregs_air_stream stream = {.speed = speed, .length = length};

    return dregs_air_transfer(air, &stream, buoyancy, coefficient, NULL);
}

dregs_status dregs_air_mass_transfer(const dregs_air *air, dregs_air_flow flow,
                                     double heat_transfer, double diffusivity, double *coefficient)
{
    double volumetric = air->density * air->heat_capacity;
    double power = flow == DREGS_AIR_JET ? 0.58 : 2.0 / 3.0;

    if (!(heat_transfer > 0) || !isfinite(heat_transfer) || !(diffusivity > 0) ||
        !isfinite(diffusivity) || (unsigned)flow >= DREGS_AIR_FLOWS)
        return DREGS_DOMAIN;
    *coefficient =
        heat_transfer / volumetric * pow(diffusivity * volumetric / air->conductivity, power);
    return DREGS_OK;
}

dregs_status dregs_mass_transfer(const dregs_air *air, double heat_transfer, double diffusivity,
                                 double *coefficient)
{
    return dregs_air_mass_transfer(air, DREGS_AIR_LAMINAR, heat_transfer, diffusivity, coefficient);
}
