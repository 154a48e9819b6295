/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* wash.c: an immersion in the cleaner. What it takes off of each soil cannot be assumed. */
#include "line/check.h"
#include "line/stage/shared.h"

#include <string.h>

/* Does a row speak of the removal of a solute, be it with a faulty value? One message is enough. */
static int states_removal(const struct checker *c, const struct item *item, unsigned solute)
{
    unsigned row;

    for (row = 1; row <= c->line->row_count; row++) {
        const dregs_row *cells = &c->line->rows[row];
        if (strcmp(cells->item, item->name) == 0 && strncmp(cells->property, "removal", 7) == 0 &&
            (!cells->property[7] ||
             (cells->property[7] == ' ' &&
              strcmp(cells->property + 8, c->line->solutes[solute].name) == 0)))
            return 1;
    }
    return 0;
}

static void check_removal(struct checker *c, const struct item *item, const dregs_stage *stage)
{
    char name[DREGS_QUOTED], solute[DREGS_QUOTED];
    unsigned s;

    for (s = 0; s < c->line->solute_count; s++)
        if (dregs_line_arrives(c->line, s) && !stage->removal[s].row && !states_removal(c, item, s))
            SAY(c, item->row, "wash %s does not state its removal of %s, which is required",
                dregs_quote(name, item->name), dregs_quote(solute, c->line->solutes[s].name));
}

static void check(struct checker *c, const struct item *item, dregs_stage *stage)
{
    dregs_line_check_film(c, item, stage);
    check_removal(c, item, stage);
    dregs_stage_immersion_check(c, item, stage);
}

const struct stage_kind dregs_stage_wash = {
    .traits = DREGS_STAGE_TANK | DREGS_STAGE_WET | DREGS_STAGE_CLEANS,
    .check = check,
    .film = dregs_stage_immersion_film,
    .fits = dregs_stage_immersion_fits,
    .visit = dregs_stage_immersion_visit,
    .working = dregs_stage_immersion_working,
};
