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

#endif
