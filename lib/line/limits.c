/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* limits.c: how far concentrations may go, where a file says so: what must hold together. */
#include "line/check.h"
#include "line/stage/stage.h"

/* A stage's limits leave something between them. */
static void check_stage(struct checker *c, const struct item *item)
{
    const dregs_stage *stage = &c->line->stages[item->index];
    char name[DREGS_QUOTED], solute[DREGS_QUOTED];
    unsigned s;

    for (s = 0; s < c->line->solute_count; s++) {
        const dregs_value *most = &stage->most[s], *least = &stage->least[s];
        if (most->row && least->row && !(least->si < most->si))
            SAY(c, most->row > least->row ? most->row : least->row,
                "%s of %s: at least %g g/L and at most %g g/L leave nothing between them",
                dregs_quote(solute, c->line->solutes[s].name), dregs_quote(name, item->name),
                least->si, most->si);
    }
}

/* A fresh liquid holds no more than dissolves in it. */
static void check_liquid(struct checker *c, const struct item *item)
{
    const dregs_fluid *fluid = &c->line->fluids[item->index];
    char name[DREGS_QUOTED], solute[DREGS_QUOTED];
    unsigned s;

    for (s = 0; s < c->line->solute_count; s++) {
        const dregs_value *content = &fluid->content[s], *most = &fluid->solubility[s];
        if (most->row && content->si > most->si)
            SAY(c, content->row > most->row ? content->row : most->row,
                "%s holds %g g/L of %s when fresh, more than the %g g/L that dissolve in it",
                dregs_quote(name, item->name), content->si,
                dregs_quote(solute, c->line->solutes[s].name), most->si);
    }
}

void dregs_line_check_limits(struct checker *c, const struct item *item)
{
    if (dregs_line_kind_is(item->kind, DREGS_STAGE_TANK))
        check_stage(c, item);
    else if (item->kind == KIND_LIQUID)
        check_liquid(c, item);
}

/* Is there a wash before the stage that the targets are measured in? */
static int has_wash(const dregs_line *line, unsigned before)
{
    unsigned i;

    for (i = 0; i < before; i++)
        if (dregs_stage_is(&line->stages[i], DREGS_STAGE_CLEANS))
            return 1;
    return 0;
}

unsigned dregs_line_check_concentrations(struct checker *c)
{
    const dregs_line *line = c->line;
    const dregs_target *target = &line->target;
    const unsigned stated[3] = {target->dissolved.row, target->ratio.row, target->conductivity.row};
    unsigned count = 0, conducting = 0, s;

    for (s = 0; s < 3; s++)
        count += stated[s] != 0;
    for (s = 0; s < line->solute_count; s++) {
        count += target->concentration[s].row != 0;
        conducting += line->solutes[s].conductivity.row || line->solutes[s].electrolyte_row;
    }
    if (target->measured_in.row && !count)
        SAY(c, target->measured_in.row,
            "measured in of '%.60s' goes with concentration <solute>, non-volatile residue, rinse "
            "ratio or conductivity, and none is given",
            target->name);
    if (target->conductivity.row && !conducting)
        SAY(c, target->conductivity.row,
            "conductivity of '%.60s' needs a solute with conductivity or electrolyte, and none "
            "states one",
            target->name);
    if (target->ratio.row &&
        !has_wash(line, target->measured_in.row ? target->measured_in.index : line->stage_count))
        SAY(c, target->ratio.row,
            "rinse ratio of '%.60s' needs a wash before the rinse, and there "
            "is none",
            target->name);
    return count;
}
