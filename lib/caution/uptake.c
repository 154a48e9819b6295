/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* uptake.c: the water that an open tank of a solvent takes up from the room's air. */
#include "caution/rules.h"
#include "line/line.h"

#include <math.h>

#define SHIFT 28800.0 /* s: 8 h */

void dregs_caution_of_uptake(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    dregs_liquid_class class = DREGS_CLASS_OTHER;
    dregs_miscibility miscibility;
    dregs_open_content held;

    (void)dregs_liquids_class(dregs_line_liquids(line), fluid->solvent, &class, NULL);
    if (stage->tank < 0 || stage->shares.row || !(stage->open_area.si > 0) ||
        !(stage->covered.si < 1) || fluid->solvent_share.si < 1 || class == DREGS_CLASS_WATER ||
        dregs_liquids_miscibility(dregs_line_liquids(line), fluid->solvent, &miscibility, NULL) ||
        miscibility != DREGS_MISCIBLE)
        return;
    facts->value[DREGS_FACT_MIXES] = 1;
    if (!dregs_caution_failed(
            facts, dregs_line_open_uptake(line, (unsigned)stage->tank, SHIFT, &held, NULL)))
        facts->value[DREGS_FACT_WATER_TAKEN] = held.water / (held.water + held.solvent);
}
