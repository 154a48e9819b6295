/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.h: how a film that is told in part becomes a drying case, for the rooms above; not installed.
 */
#ifndef DREGS_DRY_DRY_H
#define DREGS_DRY_DRY_H

#include "dregs/dry.h"

/* What was not told of a drying and was taken as usual, a bit each. */
enum {
    DREGS_DRY_ASSUMED_ROOM_SAME = 1,        /* the room's air is the air it dries in */
    DREGS_DRY_ASSUMED_ROOM_HEATED = 1 << 1, /* the air comes from a room of 20 degC */
    DREGS_DRY_ASSUMED_HUMIDITY = 1 << 2,
    DREGS_DRY_ASSUMED_PITCH = 1 << 3,
    DREGS_DRY_ASSUMED_SPEED = 1 << 4,
    DREGS_DRY_ASSUMED_CAPACITY = 1 << 5,
    DREGS_DRY_ASSUMED_LENGTH = 1 << 6,
    DREGS_DRY_ASSUMED_START = 1 << 7,
    DREGS_DRY_ASSUMED_VOLUME = 1 << 8,   /* none, or none that is stated */
    DREGS_DRY_ASSUMED_FRESH_AIR = 1 << 9 /* none, of a volume */
};

/* Sets what a case does not tell (NaN) as dregs_dry_usual has it. Told are liquids, air and flow.
 * \param dew_point  K, of the room, in place of its humidity; NaN for none.
 * \return DREGS_OK; DREGS_DOMAIN with the reason: a jet or a tray without what it goes by, a dew
 * point that the room's air cannot have, air that cannot be cooled so far. */
dregs_status dregs_dry_complete(dregs_dry_case *film, double dew_point, unsigned *assumed,
                                char *message);

/* Sets the liquids and masses of a film of that thickness, m: the liquid and `water` (0..1 by mass)
 * of water. \param density  kg/m3.
 * \return as dregs_liquids_value and dregs_mixture_value. */
dregs_status dregs_dry_wet_with(dregs_dry_case *film, const char *liquid, double water,
                                double thickness, double *density, char *message);

/* Tolerance of the integration: of an answer, and of one of many draws, whose time is within 1e-5.
 */
#define DREGS_DRY_TOLERANCE       1e-9
#define DREGS_DRY_DRAWN_TOLERANCE 1e-6

/* s until a film is dry that is held to a mode; NaN where that could not be had.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_dry_time_by(const dregs_dry_case *film, dregs_dry_mode mode, double tolerance,
                               double *time);

/* The bead beside a film of that thickness, m: an even layer as thick as its radius, in air that
 * the film's vapour has left. The part beside it is dry and warms it: at least the time at the
 * air's temperature, at most that of what the air alone feeds. \param volume  m2, per length of
 * edge. \param least  s; NULL: not asked for. \param most  s. NaN where they could not be had, all
 * NaN without a bead. \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_dry_bead_times(const dregs_dry_case *film, double thickness, double volume,
                                  double tolerance, double *radius, double *least, double *most);

/* s until a blind hole of that depth (m, > 0), full of the film's first liquid, is dry: a Stefan
 * tube. NaN where it could not be had. */
double dregs_dry_hole_time(const dregs_dry_case *film, double depth);

#endif
