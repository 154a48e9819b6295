/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* grid.h: the search for the worst load on a grid of states; stays in the room. */
#ifndef DREGS_RESIDUE_GRID_H
#define DREGS_RESIDUE_GRID_H

#include "residue/residue.h"

struct grid {
    const dregs_map *map;
    const dregs_line *line;
    unsigned solutes;
    uint64_t period;
    int kind; /* of the loads that count; -1: all do */
    unsigned kinds;
    int solute;   /* which, or DREGS_EVERY_SOLUTE */
    size_t dim;   /* n + 1 */
    size_t width; /* of one state: solutes x dim */
    size_t count, room;
    uint64_t *at;         /* periods before each state */
    double *state;        /* count x width */
    const double *steady; /* width, NULL when the line does not settle */
    double adhering;      /* of loads of one kind; of several it is in the rows */
    double *film; /* kinds x width: the residue as a function of the masses before the load */
};

/* Is a solute asked for? */
int dregs_residue_grid_asks(const struct grid *g, unsigned solute);
/* Does the load at a phase of the period count? */
int dregs_residue_grid_counts(const struct grid *g, uint64_t phase);

/* The residues as functions of the masses before a load: `film`, which the caller frees, and
 * `adhering`. \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_residue_grid_films(struct grid *g);
/* That of the load at a phase of the period. */
const double *dregs_residue_grid_film(const struct grid *g, uint64_t phase);
/* What such rows make of masses, kg/m2. */
double dregs_residue_grid_value(const struct grid *g, const double *rows, const double *z);

/* Lays out the states from the fresh start to the begin of period `last`, or to where they no
 * longer change: `at` and `state`, which the caller frees.
 * \return DREGS_OK, DREGS_NO_MEMORY; as dregs_balance_map_whole_period. */
dregs_status dregs_residue_grid_lay_out(struct grid *g, uint64_t last);

/* The load that leaves most, of the first `loads` (0: of all). \param worst  set where a load
 * leaves more than it says. \return as dregs_residue_grid_lay_out. */
dregs_status dregs_residue_grid_search(const struct grid *g, uint64_t loads, dregs_worst *worst);

#endif
