/* SPDX-License-Identifier: GPL-3.0-or-later */
/* inside.h: what the answers share; inside the room only. */
#ifndef DREGS_ANSWER_INSIDE_H
#define DREGS_ANSWER_INSIDE_H

#include "dregs/answer_dry.h"
#include "dregs/caution.h"

/* The cautions that facts call for: `made` of them in `cautions`, to be given to free(). DREGS_OK
 * or DREGS_NO_MEMORY. */
dregs_status dregs_answer_cautions(const dregs_facts *facts, size_t count, dregs_caution **cautions,
                                   unsigned *made);

/* Lists what a drying took from beyond the data of its liquids. */
void dregs_answer_dry_extended(dregs_dry_row *row);

/* How many spreads a line states. */
unsigned dregs_answer_spreads(const dregs_line *line);

#endif
