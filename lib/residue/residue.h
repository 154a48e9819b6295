/* SPDX-License-Identifier: GPL-3.0-or-later */
/* residue.h: what the files of the residue module share; not installed. */
#ifndef DREGS_RESIDUE_RESIDUE_H
#define DREGS_RESIDUE_RESIDUE_H

#include "balance/balance.h"
#include "dregs/residue.h"

/* Residue (kg/m2 of part) per kg of solute in a load's last film: the share of the last film that
 * is on the parts, over their area. */
double dregs_residue_on_parts(const dregs_line *line);

/* The residue (kg/m2) of one solute, or with DREGS_EVERY_SOLUTE of all. */
double dregs_residue_of(const dregs_residue *residue, int solute);

/* dregs_residue_worst by the search of every line, also of one whose answer follows from its steady
 * state: the answers agree to the last bit. */
dregs_status dregs_residue_worst_of_all(const dregs_map *map, int solute, uint64_t loads,
                                        dregs_worst *worst);

#endif
