/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* loads.c: loads of several kinds, and the sequence in which they come.
 *
 * Each kind has its own parts, soil, films and so its own volume balance; tanks, liquids and what
 * evaporates are those of all. For each kind there is therefore a line as if all loads were of that
 * one. The line itself answers for the first kind, and says whose turn it is.
 */
#include "base/sheet.h"
#include "line/check.h"

#include <math.h>
#include <string.h>

unsigned dregs_line_kinds(const dregs_line *line)
{
    return line->of_kind ? line->load_count : 1;
}

const dregs_line *dregs_line_of_kind(const dregs_line *line, unsigned kind)
{
    if (kind >= dregs_line_kinds(line))
        return NULL;
    return line->of_kind ? line->of_kind[kind] : line;
}

unsigned dregs_line_cycle(const dregs_line *line)
{
    return line->of_kind ? line->cycle : 1;
}

unsigned dregs_line_kind_at(const dregs_line *line, uint64_t load)
{
    return line->of_kind && load ? line->sequence[(load - 1) % line->cycle] : 0;
}

/* ---- what the file must hold together ---- */

/* All loads are the same time apart: one of them says it for all. */
static void check_interval(struct checker *c)
{
    const struct item *stated = NULL;
    char name[DREGS_QUOTED];
    unsigned i;

    for (i = 0; i < c->count; i++) {
        const struct item *item = &c->items[i];
        unsigned row;
        if (item->kind != KIND_LOAD || !(row = dregs_line_check_given(item, "interval")))
            continue;
        if (stated)
            SAY(c, row,
                "interval of %s: all loads come the same time apart, and line %lu states it",
                dregs_quote(name, item->name),
                dregs_line_at(c->line, dregs_line_check_given(stated, "interval")));
        else
            stated = item;
    }
    for (i = 0; i < c->count && !stated; i++)
        if (c->items[i].kind == KIND_LOAD) {
            dregs_line_check_missing(c, &c->items[i], "interval");
            return;
        }
    for (i = 0; stated && i < c->line->load_count; i++)
        c->line->loads[i].interval = c->line->loads[stated->index].interval;
}

/* A sequence names every load, and several loads need one. */
static void check_sequence(struct checker *c)
{
    const dregs_line *line = c->line;
    char name[DREGS_QUOTED];
    unsigned i, k, stated = 0;

    for (i = 0; i < c->count; i++)
        stated |=
            c->items[i].kind == KIND_SCHEDULE && dregs_line_check_given(&c->items[i], "sequence");
    if (!stated) {
        if (line->load_count > 1)
            SAY(c, line->loads[1].row,
                "a second load (the first: line %lu) and no order: a schedule says how they follow "
                "each other, as in 'sequence,%.40s %.40s'",
                dregs_line_at(line, line->loads[0].row), line->loads[0].name, line->loads[1].name);
        return;
    }
    for (i = 0; line->sequence && i < line->load_count; i++) {
        for (k = 0; k < line->cycle && line->sequence[k] != i; k++)
            ;
        if (k == line->cycle)
            SAY(c, line->loads[i].row, "load %s never comes: the sequence (line %lu) leaves it out",
                dregs_quote(name, line->loads[i].name),
                dregs_line_at(line, line->schedule.sequence_row));
    }
}

/* A value for the loads without one of their own, where there is no such load. */
static void check_acts(struct checker *c)
{
    const dregs_line *line = c->line;
    char name[DREGS_QUOTED];
    unsigned i, s;

    for (s = 0; s < line->solute_count; s++) {
        for (i = 0; i < line->load_count && line->loads[i].on_parts[s].row; i++)
            ;
        if (i && i == line->load_count && line->solutes[s].on_parts.row &&
            line->solutes[s].on_parts.row != line->loads[0].on_parts[s].row)
            SAY(c, line->solutes[s].on_parts.row,
                "on parts of %s never acts: every load states its own",
                dregs_quote(name, line->solutes[s].name));
    }
}

void dregs_line_check_loads(struct checker *c)
{
    check_interval(c);
    check_sequence(c);
    check_acts(c);
}

int dregs_line_arrives(const dregs_line *line, unsigned solute)
{
    unsigned i;

    for (i = 0; i < line->load_count; i++) {
        const dregs_value *own = &line->loads[i].on_parts[solute];
        if ((own->row ? own : &line->solutes[solute].on_parts)->si > 0)
            return 1;
    }
    return 0;
}

int dregs_line_check_own_films(const struct checker *c, const dregs_stage *stage)
{
    unsigned i;

    for (i = 0; i < c->line->load_count && stage->drag_out_of[i].row; i++)
        ;
    return i && i == c->line->load_count;
}

/* ---- a line of one kind ---- */

void dregs_line_take_own(dregs_line *line)
{
    unsigned i;

    for (i = 0; i < line->solute_count; i++)
        if (line->load->on_parts[i].row)
            line->solutes[i].on_parts = line->load->on_parts[i];
    for (i = 0; i < line->stage_count; i++) {
        dregs_stage *stage = &line->stages[i];
        if (!stage->drag_out_of || !stage->drag_out_of[line->kind].row)
            continue;
        stage->film_way = DREGS_FILM_DRAG_OUT;
        stage->drag_out = stage->drag_out_of[line->kind];
        stage->film.row = stage->withdrawal_speed.row = stage->class_row = 0;
    }
}

/* With its own tanks, for overflows and top-ups hang on the films. */
static dregs_status make_view(dregs_line *line, unsigned kind, dregs_line **made)
{
    dregs_line *view = dregs_line_keep(line, 1, sizeof *view);
    dregs_solute *solutes = dregs_line_keep(line, line->solute_count, sizeof *solutes);
    dregs_stage *stages = dregs_line_keep(line, line->stage_count, sizeof *stages);
    dregs_status status;

    if (!view || !solutes || !stages)
        return DREGS_NO_MEMORY;
    memcpy(solutes, line->solutes, line->solute_count * sizeof *solutes);
    memcpy(stages, line->stages, line->stage_count * sizeof *stages);
    *view = *line;
    view->memory = (struct dregs_pool){0};
    view->solutes = solutes;
    view->stages = stages;
    view->kind = kind;
    view->load = &line->loads[kind];
    view->cycle = 1;
    view->assumed = NULL;
    view->assumed_count = 0;
    dregs_line_take_own(view);
    status = dregs_line_make_tanks(view);
    dregs_line_take_memory(line, view);
    *made = view;
    return status;
}

static int notes(const dregs_line *line, const char *text)
{
    unsigned i;

    for (i = 0; i < line->assumed_count; i++)
        if (strcmp(line->assumed[i].text, text) == 0)
            return 1;
    return 0;
}

/* What is assumed of all kinds is said once, what is of some with their names. */
static dregs_status take_notes(dregs_line *line, dregs_line *const *of_kind)
{
    dregs_status status = DREGS_OK;
    unsigned k, i, other;

    for (k = 0; k < line->load_count; k++)
        for (i = 0; i < of_kind[k]->assumed_count && !status; i++) {
            const char *text = of_kind[k]->assumed[i].text;
            for (other = 0; other < line->load_count && notes(of_kind[other], text); other++)
                ;
            status = other == line->load_count
                         ? dregs_line_note(line, 0, "%s", text)
                         : dregs_line_note(line, 0, "%s: %s", line->loads[k].name, text);
        }
    return status;
}

/* Films and volumes of each kind; what evaporates is known of the line. */
static dregs_status fill_views(dregs_line *line, dregs_line **of_kind, dregs_faults *faults)
{
    dregs_status status = DREGS_OK;
    unsigned k, t;

    for (k = 0; k < line->load_count && !status; k++) {
        status = dregs_line_carry(of_kind[k], faults);
        dregs_line_take_memory(line, of_kind[k]);
    }
    if (!status)
        status = take_notes(line, of_kind);
    if (!status)
        status = dregs_line_evaporate_all(line, faults);
    for (k = 0; k < line->load_count && !status; k++) {
        for (t = 0; t < line->tank_count; t++)
            of_kind[k]->tanks[t].evaporation = line->tanks[t].evaporation;
        of_kind[k]->idle_evaporation = line->idle_evaporation;
        dregs_line_balance_volumes(of_kind[k]);
        status = dregs_line_find_period(of_kind[k], faults);
    }
    return status;
}

dregs_status dregs_line_derive_kinds(dregs_line *line, dregs_faults *faults)
{
    dregs_line **of_kind = dregs_line_keep(line, line->load_count, sizeof(dregs_line *));
    dregs_status status = of_kind ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned k;

    for (k = 0; k < line->load_count && !status; k++)
        status = make_view(line, k, &of_kind[k]);
    if (!status)
        status = fill_views(line, of_kind, faults);
    if (status)
        return status;
    line->traps = 0;
    for (k = 0; k < line->load_count; k++)
        line->traps |= of_kind[k]->traps;
    line->carried = of_kind[0]->carried;
    line->tanks = of_kind[0]->tanks;
    line->of_kind = of_kind;
    return dregs_line_find_period(line, faults);
}
