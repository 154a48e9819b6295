/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* balance.h: the mass balance of a line, as one affine map per load.
 *
 * One load through the stages, the interval that follows and the dumps after it take the solute
 * masses in the tanks from x to M x + b. Whatever is asked of the line is asked of that map: the
 * next load, load one billion, the state that repeats itself, the totals since the start.
 *
 * A dregs_map does not change to the eye once it is made (what only some questions need is worked
 * out when first asked for, behind a lock); several threads may use one map, each with its own
 * dregs_state.
 */
#ifndef DREGS_BALANCE_H
#define DREGS_BALANCE_H

#include "dregs/line.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct dregs_map dregs_map;

/** The map of a line, which must outlive it.
 *  \return DREGS_OK, DREGS_NUMERIC (rates too far apart to be held), DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_map_new(const dregs_line *line, dregs_map **map);
DREGS_API void dregs_map_free(dregs_map *map);
DREGS_API const dregs_line *dregs_map_line(const dregs_map *map);

/** The map as if all loads were of one kind (dregs_line_of_kind): what such a load does to the
 * tanks as it finds them. It is \p map itself where there is one kind, and lives as long as it.
 * NULL for no such kind. */
DREGS_API const dregs_map *dregs_map_of_kind(const dregs_map *map, unsigned kind);

/** The film's solute mass (kg per load) that leaves \p stage as a function of the tanks' masses
 *  m (kg) before the load: sum over tanks of row[t] * m_t, plus row[number of tanks].
 *  NULL when an index is out of range, and of a line with loads of several kinds: these and the
 * next three are asked of dregs_map_of_kind. */
DREGS_API const double *dregs_map_film(const dregs_map *map, unsigned solute, unsigned stage);

/** The mass in the liquid that leaves \p stage trapped in the parts, where a row says how it
 *  exchanges; laid out like dregs_map_film. Else it counts with the film, and this is all 0. */
DREGS_API const double *dregs_map_trapped(const dregs_map *map, unsigned solute, unsigned stage);

/** The mass in the tank of immersion stage \p stage when the load is in it and its soil is off,
 *  before the film mixes; laid out like dregs_map_film. NULL for other stages. */
DREGS_API const double *dregs_map_met(const dregs_map *map, unsigned solute, unsigned stage);

/** The masses after the load and its interval, dumps aside: row \p tank of [M b], laid out like
 *  dregs_map_film. */
DREGS_API const double *dregs_map_row(const dregs_map *map, unsigned solute, unsigned tank);

/** Soil that still adheres to the parts of a load after \p stage, kg per load. NaN when an index
 *  is out of range. */
DREGS_API double dregs_map_adhering(const dregs_map *map, unsigned solute, unsigned stage);

/** A moment between two loads: how many have passed, and what is in the tanks. */
typedef struct dregs_state dregs_state;

/** The fresh start: every tank filled with its fresh liquid. NULL when memory is short. */
DREGS_API dregs_state *dregs_state_new(const dregs_map *map);
DREGS_API void dregs_state_free(dregs_state *state);

/** The number of the load that comes next; 1 at the fresh start. In the periodic state it counts
 *  from 1 within the dump period. */
DREGS_API uint64_t dregs_state_next(const dregs_state *state);

/** Lets one load pass, with its interval and the dumps due after it. */
DREGS_API void dregs_state_step(dregs_state *state);

enum { DREGS_LOADS_BITS = 50 };
/** The highest load number that may be asked for: about 1.1e15. */
#define DREGS_LOADS_MOST ((uint64_t)1 << DREGS_LOADS_BITS)

/** Dumps the tank of immersion stage \p stage now, whatever its `dump every`, and refills it as the
 *  file says: with fresh liquid, or from the stage it is refilled from, which is then filled up in
 *  its turn. \return DREGS_OK; DREGS_DOMAIN when the stage has no tank. */
DREGS_API dregs_status dregs_state_dump(dregs_state *state, unsigned stage);

/** The same moment, with the same masses in the tanks, under the map of a line with the same tanks
 *  and solutes: what follows once something about the line has changed.
 *  \return NULL when the lines differ in their tanks or solutes, or memory is short. */
DREGS_API dregs_state *dregs_state_under(const dregs_map *map, const dregs_state *state);

/** Moves on to the moment before \p load, at the cost of some 100 matrix products however far off
 *  it is. \return DREGS_OK; DREGS_DOMAIN when that load has passed or is beyond DREGS_LOADS_MOST;
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_state_before(dregs_state *state, uint64_t load);

/** The state that repeats itself after every dump period, dregs_line_period loads (after every load
 *  where nothing is dumped and all are alike), at the beginning of a period.
 *  \return DREGS_OK; DREGS_NO_STEADY when some solute has no way out of the line; DREGS_NUMERIC;
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_state_periodic(dregs_state *state);

/** Solute mass in a tank, kg. NaN when an index is out of range. */
DREGS_API double dregs_state_mass(const dregs_state *state, unsigned solute, unsigned tank);

/** Solute mass in the film that the next load carries out of \p stage, kg per load. */
DREGS_API double dregs_state_film(const dregs_state *state, unsigned solute, unsigned stage);

/** The mass that dregs_map_trapped describes, for the next load, kg per load. */
DREGS_API double dregs_state_trapped(const dregs_state *state, unsigned solute, unsigned stage);

/** The mass, kg, that dregs_map_met describes, for the next load. NaN for other stages. */
DREGS_API double dregs_state_met(const dregs_state *state, unsigned solute, unsigned stage);

/** Concentration of that film, kg/m3; NaN behind a dry stage, where no liquid leaves. */
DREGS_API double dregs_state_concentration(const dregs_state *state, unsigned solute,
                                           unsigned stage);

/** Where a solute came from and went to, kg since the fresh start. */
typedef struct dregs_totals {
    double held_first; /**< in the tanks, fresh */
    double held_last;  /**< in the tanks, after the last load's interval and dumps */
    double soil;       /**< in: off the parts into the tanks */
    double fed;        /**< in: with flows and top-ups of fresh liquid */
    double sprayed;    /**< in: with sprayed liquid */
    double refilled;   /**< in: with fresh fills after dumps */
    double overflow;   /**< out: over the weirs to drain */
    double runoff;     /**< out: of sprays to drain */
    double dumped;     /**< out */
    double cleared;    /**< out: in filters, skimmers, beds */
    double blown_off;  /**< out: by air knives */
    double carried;    /**< out: in the last film, on parts and basket */
} dregs_totals;

/** Totals of a solute over \p loads loads (0 to DREGS_LOADS_MOST) from the fresh start, by the
 *  map's own integrals.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_NUMERIC, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_map_totals(const dregs_map *map, unsigned solute, uint64_t loads,
                                        dregs_totals *totals);

#ifdef __cplusplus
}
#endif
#endif
