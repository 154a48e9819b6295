/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bound.h: what the files that hold concentrations against their bounds share; stays in the room.
 */
#ifndef DREGS_RESIDUE_BOUND_H
#define DREGS_RESIDUE_BOUND_H

#include "balance/balance.h"
#include "dregs/bound.h"
#include "dregs/week.h"

/* Conductivity (S/m at 25 degC) of water that holds so much (kg/m3) of each solute; infinity beyond
 * what is known of a salt. */
double dregs_residue_conductivity(const dregs_line *line, const double *concentration);

/* Finds `reached`, `share`, `load`, `in_the_long_run` and, if `when`, `crossed` of a bound whose
 * first members are set. */
dregs_status dregs_residue_scan(const dregs_map *map, uint64_t loads, int when, dregs_bound *bound);

/* Must what is bounded be at least so high? */
int dregs_residue_wants_high(const dregs_bound *bound);

/* What the loads of the weeks make of a bound that has been held against loads without a pause: the
 * worse of both counts. \param loads, when  as there. */
dregs_status dregs_residue_bound_in_week(const dregs_week *week, uint64_t loads, int when,
                                         dregs_bound *bound);

/* Loads of weeks that are followed one by one at most. */
enum { RESIDUE_WEEK_MOST = 1 << 18 };

/* Takes the moment before a load, behind `passed` others. \return 1: no more. */
typedef int residue_week_take(void *user, const dregs_state *state, uint64_t passed);
/* Goes through so many loads from the fresh start, or from the begin of the weeks that repeat
 * themselves (which must settle). \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_residue_week_walk(const dregs_week *week, int in_the_long_run, uint64_t loads,
                                     residue_week_take *take, void *user);
/* Where the load behind so many others stands: all members of it that say so. */
void dregs_residue_week_place(const dregs_week *week, uint64_t passed, dregs_week_load *load);
const dregs_map *dregs_residue_week_map(const dregs_week *week);
/* What the tanks hold at the begin of the weeks that repeat themselves, as the masses of a state;
 * NULL: they do not. */
const double *dregs_residue_week_steady(const dregs_week *week);

/* The same of DREGS_BOUND_CAPACITY; `crossed` is always found. */
dregs_status dregs_residue_capacity(const dregs_map *map, uint64_t loads, dregs_bound *bound);

#endif
