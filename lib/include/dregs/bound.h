/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bound.h: how far concentrations in a line may go: the limits that its stages and liquids state,
 * and targets of concentration.
 *
 * The concentration of a tank is that of the mixture while a load is in it: the load's soil taken
 * off, its film mixed in. Beyond a limit of a stage its rows no longer say what it does; beyond a
 * solubility the balance itself does not hold. Nothing is known of the loads from there on.
 */
#ifndef DREGS_BOUND_H
#define DREGS_BOUND_H

#include "dregs/week.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum dregs_bound_kind {
    DREGS_BOUND_MOST,          /**< `most <solute>` of a stage, kg/m3 */
    DREGS_BOUND_LEAST,         /**< `least <solute>` of a stage, kg/m3 */
    DREGS_BOUND_DISSOLVED,     /**< `most dissolved` of a stage, kg/m3 */
    DREGS_BOUND_SOLUBILITY,    /**< `solubility <solute>` of the liquid in a stage's tank, kg/m3 */
    DREGS_BOUND_CONCENTRATION, /**< target `concentration <solute>`, kg/m3 */
    DREGS_BOUND_NON_VOLATILE,  /**< target `non-volatile residue`, kg/m3 */
    DREGS_BOUND_RATIO,         /**< target `rinse ratio`: what is reached is the ratio */
    DREGS_BOUND_CONDUCTIVITY,  /**< target `conductivity`, S/m at 25 degC */
    DREGS_BOUND_CLEANER,       /**< DREGS_BOUND_CLEANER_SHARE of a wash's fresh fill, assumed */
    DREGS_BOUND_SOIL,     /**< DREGS_BOUND_SOIL_TIMES what the file's own line reaches, assumed */
    DREGS_BOUND_CAPACITY, /**< `capacity` of what clears a stage's tank, kg of all that it takes */
    DREGS_BOUND_KINDS
} dregs_bound_kind;

/** What counts as the range that a file describes where it states no limit. Both: common sense, no
 *  source. */
#define DREGS_BOUND_CLEANER_SHARE 0.8
#define DREGS_BOUND_SOIL_TIMES    10.0

/** A bound and how the loads stand to it. */
typedef struct dregs_bound {
    dregs_bound_kind kind;
    unsigned stage;      /**< whose concentration it is */
    int solute;          /**< DREGS_EVERY_SOLUTE for the sum */
    int in_film;         /**< 1: of the film that leaves the stage, 0: of its tank */
    dregs_value limit;   /**< row 0: assumed */
    double reached;      /**< the concentration, ratio or conductivity that is worst */
    double share;        /**< above 1: crossed. reached / limit, the inverse for what must be at
                              least so high; infinity where that is divided by 0 */
    uint64_t load;       /**< that reaches it, as dregs_worst says */
    int in_the_long_run; /**< as in dregs_worst */
    uint64_t crossed;    /**< the first load that meets a concentration beyond the limit, or whose
                              clearing is exhausted; 0: none, or not asked for */
    /* where the schedule states a week: */
    int by_week; /**< a load of the week is worse than any without a pause: `reached` and `share`
                      are of it, `load` is its number in the week */
    dregs_week_load in_week; /**< that load; its residue is not set */
    int unknown;             /**< 1: nights and weekends may do worse, and it is not known; what
                                  is bounded then counts as not kept */
} dregs_bound;

/** Is the bound one of how a line may be run, and not a target? */
DREGS_API int dregs_bound_is_limit(const dregs_bound *bound);

/** All bounds of a line, in the order of its stages, the targets behind them. */
typedef struct dregs_bounds dregs_bounds;

/** Those that the line states.
 *  \param loads  among the first \p loads loads from the fresh start, or DREGS_NO_END.
 *  \param when   1: find the load at which each is crossed; 0: not asked for, which is quicker.
 *  \return DREGS_OK, DREGS_DOMAIN (loads beyond DREGS_LOADS_MOST), DREGS_OUT_OF_RANGE (a
 *  conductivity beyond what is known of its salts), DREGS_NUMERIC, DREGS_NO_MEMORY.
 *
 *  While all contents that count rise, or all fall, from one load to the next between two dumps,
 *  they go on to do so, and powers of the map find the load; likewise from one dump period to the
 *  next. Where some rise and some fall the loads are looked at one by one. That ends after 2^17
 *  loads, or 64 dump periods if those are more; from there on the long run alone is looked at.
 *
 *  Where the schedule states a week, its loads count too, as in dregs_week_worst: the worse of both
 *  is what a bound comes to. What is taken from a tank by night is not counted against a capacity:
 *  of one that is not used up it is then not known. */
DREGS_API dregs_status dregs_bounds_new(const dregs_map *map, uint64_t loads, int when,
                                        dregs_bounds **bounds);

/** Those that the line states, none of them held against loads: `reached` and what follows are 0.
 *  \return DREGS_OK, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_bounds_stated(const dregs_line *line, dregs_bounds **bounds);

/** How the load that comes next stands to a bound: the share, as in dregs_bound; 0 of a capacity,
 *  for a state does not tell what has been taken. */
DREGS_API double dregs_bound_next(const dregs_bound *bound, const dregs_state *state);

/** The range that a file describes, for what it states no limit of: of every wash the solutes of
 *  its fresh fill, DREGS_BOUND_CLEANER_SHARE of it; with \p file, of every tank the soils,
 *  DREGS_BOUND_SOIL_TIMES what they reach at most in that line.
 *  \param file  the map of the line as its file states it, with the stages and solutes of \p map;
 *               NULL to leave the soils out. */
DREGS_API dregs_status dregs_bounds_described(const dregs_map *map, const dregs_map *file,
                                              uint64_t loads, dregs_bounds **bounds);
DREGS_API void dregs_bounds_free(dregs_bounds *bounds);

DREGS_API unsigned dregs_bounds_count(const dregs_bounds *bounds);
/** Bound \p index, or NULL. */
DREGS_API const dregs_bound *dregs_bounds_at(const dregs_bounds *bounds, unsigned index);
/** The one with the greatest share; NULL when there is none. */
DREGS_API const dregs_bound *dregs_bounds_binding(const dregs_bounds *bounds);
/** The limit (no target) that is crossed first; NULL: none is. Nothing is known of the loads from
 *  its `crossed` on. */
DREGS_API const dregs_bound *dregs_bounds_life(const dregs_bounds *bounds);

#ifdef __cplusplus
}
#endif
#endif
