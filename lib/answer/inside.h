/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the answers share; inside the room only. */
#ifndef DREGS_ANSWER_INSIDE_H
#define DREGS_ANSWER_INSIDE_H

#include "dregs/answer_dry.h"
#include "dregs/balance.h"
#include "dregs/caution.h"

#include <stdint.h>

/* The cautions that facts call for: `made` of them in `cautions`, to be given to free(). DREGS_OK
 * or DREGS_NO_MEMORY. */
dregs_status dregs_answer_cautions(const dregs_facts *facts, size_t count, dregs_caution **cautions,
                                   unsigned *made);

/* The same of a line. */
dregs_status dregs_answer_line_cautions(const dregs_line *line, const dregs_caution **cautions,
                                        unsigned *made);

/* Lists what a drying took from beyond the data of its liquids. */
void dregs_answer_dry_extended(dregs_dry_row *row);

/* The worst residue (kg/m2) of the line with DREGS_PREDICT_LESS_MIXED wherever its file leaves
 * perfect exchange or mixing to be assumed; NaN where it does not, or where the line cannot be so.
 */
dregs_status dregs_answer_less_mixed(const dregs_line *line, uint64_t loads, double *residue);

/* How many spreads a line states. */
unsigned dregs_answer_spreads(const dregs_line *line);

/* The first load that leaves 95 % of the residue `long_run` of a solute, or of all; 0 when none of
 * the first 2^20 does. */
dregs_status dregs_answer_size_settled(const dregs_map *map, int solute, double long_run,
                                       uint64_t *settled);

#endif
