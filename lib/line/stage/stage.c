/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stage.c: what can be asked of a stage of any kind, and what the kinds share. */
#include "line/inside.h"
#include "line/stage/shared.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

int dregs_stage_is(const dregs_stage *stage, unsigned traits)
{
    return (dregs_stage_kinds[stage->kind]->traits & traits) == traits;
}

const char *dregs_stage_kind_name(dregs_stage_kind kind)
{
    return (unsigned)kind < DREGS_STAGE_KINDS ? dregs_kind_names[KIND_STAGE + kind] : NULL;
}

int dregs_stage_is_liquid(const dregs_line *line, unsigned substance)
{
    return substance >= dregs_line_solutes(line);
}

double dregs_stage_fresh_content(const dregs_line *line, unsigned substance, unsigned fluid)
{
    unsigned solutes = dregs_line_solutes(line);

    if (substance >= solutes)
        return fluid == substance - solutes;
    return dregs_line_fluid(line, fluid)->content[substance].si;
}

static const struct stage_kind *kind_of(const dregs_line *line, unsigned index)
{
    return dregs_stage_kinds[dregs_line_stage(line, index)->kind];
}

void dregs_stage_visit(const dregs_line *line, unsigned index, unsigned substance,
                       struct stage_visit *visit)
{
    *visit = (struct stage_visit){.tank = -1};
    kind_of(line, index)->visit(line, index, substance, visit);
}

void dregs_stage_volumes(const dregs_line *line, unsigned index, struct stage_volumes *volumes)
{
    *volumes = (struct stage_volumes){0};
    if (kind_of(line, index)->volumes)
        kind_of(line, index)->volumes(line, index, volumes);
}

unsigned dregs_stage_working(const dregs_line *line, unsigned stage, unsigned solute,
                             const dregs_stage_masses *masses,
                             dregs_stage_step steps[DREGS_STAGE_STEPS])
{
    unsigned i;

    if (stage >= dregs_line_stages(line) || solute >= dregs_line_solutes(line))
        return 0;
    for (i = 0; i < DREGS_STAGE_STEPS; i++)
        steps[i] = (dregs_stage_step){.after = ""};
    return kind_of(line, stage)->working(line, stage, solute, masses, steps);
}

/* ---- for the kinds ---- */

double dregs_stage_film_in(const dregs_carried *carried)
{
    return carried->in - carried->trapped_in;
}

double dregs_stage_film_out(const dregs_carried *carried)
{
    return carried->out - carried->trapped;
}

double dregs_stage_trapped_new(const dregs_carried *carried)
{
    return carried->trapped - (1.0 - carried->opened) * carried->trapped_in;
}

void dregs_stage_visit_part(struct stage_visit *visit, dregs_stream stream, double of_film,
                            double of_trapped, double fresh, int into)
{
    visit->part[visit->parts++] = (struct stage_part){stream, of_film, of_trapped, fresh, into};
}

const char *dregs_stage_figure(struct figures *figures, double value)
{
    return dregs_number_plain(figures->text[figures->next++ % FIGURES], value, 6);
}

void dregs_stage_step_text(dregs_stage_step *step, const char *format, ...)
{
    va_list list;

    va_start(list, format);
    (void)vsnprintf(step->text, sizeof step->text, format, list);
    va_end(list);
}

void dregs_stage_step_source(dregs_stage_step *step, unsigned row, const char *otherwise,
                             const char *after)
{
    step->row = row;
    step->otherwise = otherwise;
    step->after = after;
}
