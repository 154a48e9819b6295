/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* residue.h: what is left on the parts once the last film has dried. */
#ifndef DREGS_RESIDUE_H
#define DREGS_RESIDUE_H

#include "dregs/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The residue of one load, kg per m2 of part. `film`: left by the last film when it dries;
 *  `adhering`: soil that no stage took off. */
typedef struct dregs_residue {
    unsigned solutes;
    double film[DREGS_LINE_SOLUTES];
    double adhering[DREGS_LINE_SOLUTES];
    double film_total, adhering_total, total;
} dregs_residue;

/** The residue of the load that comes next. */
DREGS_API void dregs_residue_next(const dregs_state *state, dregs_residue *residue);

/** What would be left if the last stage gave nothing but its own fresh liquid: the film of fresh
 *  liquid and the adhering soil. No rinsing with that liquid gets below it. */
DREGS_API void dregs_residue_floor(const dregs_map *map, dregs_residue *residue);

/** What the next load would keep if every rinse held nothing but its fresh feed when the load
 * comes, as with an endless flow: below this no flow of this line gets, for what `exchange` leaves
 * unmixed and what the film itself brings into the tank stays. Washes hold what they hold in \p
 * state. \return DREGS_OK, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_residue_rinsed(const dregs_state *state, dregs_residue *residue);

/** The load that leaves most. */
typedef struct dregs_worst {
    double residue;      /**< kg/m2 */
    uint64_t load;       /**< its number; in the periodic state, its place within the dump period;
                              dregs_line_kind_at tells its kind of both */
    int in_the_long_run; /**< 1: not a load of the first ones but the limit that the line tends to
                          */
} dregs_worst;

#define DREGS_EVERY_SOLUTE (-1)
#define DREGS_NO_END       0

/** The worst load of all.
 *  \param solute  the solute whose residue is asked for, or DREGS_EVERY_SOLUTE for the sum.
 *  \param loads   among the first \p loads loads from the fresh start, or DREGS_NO_END for the
 *                 line as it runs on for ever.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_NO_MEMORY.
 *
 *  Of up to 2^17 loads none is missed. Beyond, every phase of the dump period is looked at in
 *  every one of the first 32 periods and in 16 periods of each doubling after them, and the 24 best
 *  are refined between their neighbours: a peak narrower than a sixteenth of the time since the
 *  start could be missed. */
DREGS_API dregs_status dregs_residue_worst(const dregs_map *map, int solute, uint64_t loads,
                                           dregs_worst *worst);

/** The same among the loads of one kind.
 *  \param worst  its `load` is 0 where none of that kind is among the first \p loads.
 *  \return as dregs_residue_worst; DREGS_DOMAIN for no such kind too. */
DREGS_API dregs_status dregs_residue_worst_of_kind(const dregs_map *map, unsigned kind, int solute,
                                                   uint64_t loads, dregs_worst *worst);

#ifdef __cplusplus
}
#endif
#endif
