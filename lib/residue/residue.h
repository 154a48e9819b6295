/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* residue.h: what the files of the residue module share; not installed. */
#ifndef DREGS_RESIDUE_RESIDUE_H
#define DREGS_RESIDUE_RESIDUE_H

#include "balance/balance.h"
#include "dregs/residue.h"
#include "line/line.h"

/* The residue (kg/m2) of film and trapped liquid behind the last stage, as a row of n + 1. */
void dregs_residue_row(const dregs_map *map, unsigned solute, double *row);

/* The residue (kg/m2) of one solute, or with DREGS_EVERY_SOLUTE of all. */
double dregs_residue_of(const dregs_residue *residue, int solute);

/* The moment before a load that is named as a worst one, and what that load leaves.
 * \return DREGS_OK; as dregs_state_periodic, dregs_state_before. */
dregs_status dregs_residue_before(const dregs_map *map, const dregs_worst *load,
                                  dregs_state **state);
dregs_status dregs_residue_at(const dregs_map *map, const dregs_worst *load,
                              dregs_residue *residue);

/* The same per solute, or with DREGS_EVERY_SOLUTE of all: soil that no stage takes off a load of
 * the map's one kind. */
double dregs_residue_adhering(const dregs_map *map, int solute);

/* dregs_residue_worst by the search of every line, also of one whose answer follows from its steady
 * state, and of few loads by all of them: the answers agree but for rounding. */
dregs_status dregs_residue_worst_of_all(const dregs_map *map, int solute, uint64_t loads,
                                        dregs_worst *worst);

/* The load that leaves most of the `loads` from the begin of a dump period on (peak.c). */
struct residue_peak {
    double value;   /* kg/m2; in: what a load must exceed to count */
    uint64_t phase; /* loads before it; as it was where none exceeds that */
};
/* Of a linear function of z, `rows`, of loads of one kind, of one solute or with DREGS_EVERY_SOLUTE
 * of all. \param begin z of the begin. No further from the largest value than rounding.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_residue_peak(const dregs_map *map, const double *begin, const double *rows,
                                int solute, uint64_t loads, struct residue_peak *peak);

/* The load that leaves most of the dump period that repeats itself, as the others are named; not
 * each is looked at. \return DREGS_OK; as dregs_state_periodic, dregs_residue_peak. */
dregs_status dregs_residue_worst_steady(const dregs_map *map, int solute, dregs_worst *worst);

/* How much less, kg/m2, every load of the period from `fresh` on leaves than the same load from
 * `steady` on, at least, of which `fresh` holds no more than that; but for 1e-10 of what a load
 * leaves. 0 where that takes a search, as where there is a dump within the period. */
double dregs_residue_apart(const dregs_map *map, const double *fresh, const double *steady,
                           const double *rows, int solute);

/* ---- values that differ from load to load (nodes.c, scatter.c) ---- */

enum { RESIDUE_NODES = 3 };

/* Gauss's rule for a value with this mean and standard deviation: a beta distribution of a share, a
 * normal one of a temperature, a lognormal one of all others.
 * \return DREGS_OK, DREGS_DOMAIN (none has these), DREGS_NUMERIC, DREGS_NO_MEMORY. */
dregs_status dregs_residue_nodes(dregs_number_form form, double mean, double sd, double *node,
                                 double *weight);

/* Does a row's value vary from load to load? 1: and it is taken so; -1: and it is not, for it is
 * not a matter of a load or no distribution has such a mean and standard deviation; 0: no. */
int dregs_residue_varies(const dregs_line *line, unsigned row);

struct residue_scatter {
    double mean, sd; /* kg/m2 */
    unsigned values; /* that vary */
};

/* Mean and standard deviation of a load's residue. \param load  as a worst load is named.
 * \return DREGS_OK; DREGS_UNKNOWN (nothing varies); DREGS_OUT_OF_RANGE (too many tanks, dumps or
 * values to be followed); of a line that cannot be so with a value it takes the status of
 * dregs_line_with; DREGS_NUMERIC; DREGS_NO_MEMORY. */
dregs_status dregs_residue_scatter(const dregs_map *map, int solute, const dregs_worst *load,
                                   struct residue_scatter *scatter);
/* The share of such loads that leave no more than `limit`, were they distributed lognormally. */
double dregs_residue_share_within(const struct residue_scatter *scatter, double limit);
/* The same asked the other way: the residue, kg/m2, that so large a share of the loads stays
 * within; infinite for all of them, where they scatter. */
double dregs_residue_within(const struct residue_scatter *scatter, double share);

#endif
