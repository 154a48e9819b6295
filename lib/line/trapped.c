/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* trapped.c: liquid trapped in bores and blind holes, beside the film: whether a line follows it by
 * itself, what share of it takes part in a stage, and what of either is left on the parts.
 */
#include "line/check.h"

/* Where any row says how it exchanges it is followed by itself; else it counts with the film. */
static int says(const dregs_line *line)
{
    unsigned i;

    if (line->load->hold_up_exchange.row)
        return 1;
    for (i = 0; i < line->stage_count; i++)
        if (line->stages[i].hold_up_exchange.row)
            return 1;
    return 0;
}

int dregs_line_traps(const dregs_line *line)
{
    return line->traps;
}

const dregs_value *dregs_line_hold_up_exchange(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = &line->stages[index];

    if (stage->hold_up_exchange.row)
        return &stage->hold_up_exchange;
    if (line->load->hold_up_exchange.row)
        return &line->load->hold_up_exchange;
    return stage->tank >= 0 ? &stage->exchange : NULL;
}

double dregs_line_left_of_film(const dregs_line *line)
{
    const dregs_carried *last = dregs_line_carried(line, (unsigned)dregs_line_last_wet(line));
    const dregs_load *load = dregs_line_load(line);

    return (last->on_parts - last->trapped) / (last->out - last->trapped) /
           (load->parts.si * load->area.si);
}

double dregs_line_left_of_trapped(const dregs_line *line)
{
    const dregs_load *load = dregs_line_load(line);

    return 1.0 / (load->parts.si * load->area.si);
}

void dregs_line_trap(dregs_line *line)
{
    const dregs_load *load = line->load;
    double in = 0.0;
    unsigned i;

    line->traps = says(line);
    for (i = 0; i < line->stage_count; i++) {
        const dregs_value *opened = dregs_line_hold_up_exchange(line, i);
        dregs_carried *carried = &line->carried[i];
        carried->opened = opened ? opened->si : 1.0;
        carried->trapped_in = in;
        if (line->traps && line->stages[i].film_way != DREGS_FILM_NONE)
            carried->trapped = load->parts.si * load->hold_up.si;
        in = carried->trapped;
    }
}

void dregs_line_check_trapped(struct checker *c, const struct item *item)
{
    unsigned row = c->changed ? 0 : dregs_line_check_given(item, "hold-up exchange"), i;
    char name[DREGS_QUOTED];
    int holds = 0;

    for (i = 0; i < c->line->load_count; i++)
        if (item->kind != KIND_LOAD || item->index == i)
            holds |= c->line->loads[i].hold_up.row != 0;
    if (row && !holds)
        SAY(c, row, "hold-up exchange of %s needs the load's hold-up, which is not given",
            dregs_quote(name, item->name));
}
