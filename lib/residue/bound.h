/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bound.h: what the files that hold concentrations against their bounds share; stays in the room.
 */
#ifndef DREGS_RESIDUE_BOUND_H
#define DREGS_RESIDUE_BOUND_H

#include "balance/balance.h"
#include "dregs/bound.h"

/* Conductivity (S/m at 25 degC) of water that holds so much (kg/m3) of each solute; infinity beyond
 * what is known of a salt. */
double dregs_residue_conductivity(const dregs_line *line, const double *concentration);

/* Finds `reached`, `share`, `load`, `in_the_long_run` and, if `when`, `crossed` of a bound whose
 * first members are set. */
dregs_status dregs_residue_scan(const dregs_map *map, uint64_t loads, int when, dregs_bound *bound);

/* The same of DREGS_BOUND_CAPACITY; `crossed` is always found. */
dregs_status dregs_residue_capacity(const dregs_map *map, uint64_t loads, dregs_bound *bound);

#endif
