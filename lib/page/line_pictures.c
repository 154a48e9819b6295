/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* line_pictures.c: the line itself as a picture, from its file alone: stages in order, what the
 * parts take along, where liquid comes from and goes. */
#include "dregs/stage.h"
#include "line/stage/stage.h"
#include "page/inside.h"

#include <math.h>
#include <stdio.h>

enum { WORDS = 160 };

struct drawing {
    const dregs_report *report;
    dregs_flow *flow;
    const dregs_line *line;
    struct numbers n;
};

static const char *number(struct drawing *d, double value)
{
    return dregs_number_plain(d->n.text[d->n.next++ % 8], value, 3);
}

static const char *quantity(struct drawing *d, double value, const char *unit)
{
    return dregs_page_amount_to(d->report, &d->n, value, unit, 3);
}

static const char *volume(struct drawing *d, double m3, char into[WORDS])
{
    if (m3 < 1e-3)
        snprintf(into, WORDS, "%s", quantity(d, m3 * ML, "mL"));
    else
        snprintf(into, WORDS, "%s", quantity(d, m3 * LITRES, "L"));
    return into;
}

static const char *rate(struct drawing *d, double flow, char into[WORDS])
{
    if (flow * L_PER_H < 0.1)
        snprintf(into, WORDS, "%s", quantity(d, flow * L_PER_H * 1e3, "mL/h"));
    else
        snprintf(into, WORDS, "%s", quantity(d, flow * L_PER_H, "L/h"));
    return into;
}

/* The stage that a link leads to, or the outside. */
static int end_of(dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? (int)link.index : DREGS_FLOW_OUTSIDE;
}

static const char *name_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_WASTE  ? "waste"
           : link.kind == DREGS_LINK_NONE ? "drain"
                                          : dregs_page_link(line, link);
}

/* What comes into a stage: "words NAME 9 L/h". */
static void come(struct drawing *d, unsigned stage, dregs_link from, const char *words,
                 const char *amount)
{
    char label[2 * WORDS];

    if (end_of(from) >= 0) /* it is said where it leaves */
        snprintf(label, sizeof label, "%s of %s %s", *words ? words : "feed",
                 dregs_line_stage(d->line, stage)->name, amount);
    else
        snprintf(label, sizeof label, "%s%s%s %s", words, *words ? " " : "",
                 from.kind == DREGS_LINK_NONE ? "fresh liquid" : dregs_page_link(d->line, from),
                 amount);
    if (end_of(from) == (int)stage)
        return;
    dregs_flow_liquid(d->flow, end_of(from), (int)stage, label, 0);
}

/* What goes out of a stage: "words 9 L/h to NAME". */
static void go(struct drawing *d, unsigned stage, dregs_link to, const char *words,
               const char *amount)
{
    char label[2 * WORDS];

    snprintf(label, sizeof label, "%s %s to %s", words, amount, name_of(d->line, to));
    if (end_of(to) == (int)stage)
        return;
    dregs_flow_liquid(d->flow, (int)stage, end_of(to), label, 0);
}

static void go_refill(struct drawing *d, unsigned from, unsigned to)
{
    char label[2 * WORDS];

    snprintf(label, sizeof label, "refill of %s, when dumped", dregs_line_stage(d->line, to)->name);
    dregs_flow_liquid(d->flow, (int)from, (int)to, label, 0);
}

static void draw_tank(struct drawing *d, unsigned index, const dregs_stage *stage,
                      const dregs_tank *tank)
{
    char amount[WORDS], label[3 * WORDS], held[WORDS];

    if (tank->flow > 0) {
        (void)rate(d, tank->flow, amount);
        come(d, index, stage->feed.kind ? stage->feed : stage->liquid, "", amount);
    }
    if (tank->top_up > 0) {
        (void)rate(d, tank->top_up, amount);
        come(d, index, stage->top_up_from, "top-up", amount);
    }
    if (tank->overflow > 0) {
        (void)rate(d, tank->overflow, amount);
        go(d, index, stage->overflow_to, "overflow", amount);
    }
    if (tank->evaporation > 0) {
        snprintf(label, sizeof label, "evaporates %s", rate(d, tank->evaporation, amount));
        dregs_flow_liquid(d->flow, (int)index, DREGS_FLOW_OUTSIDE, label, 0);
    }
    if (stage->dump_every.si >= 1) {
        int from = end_of(stage->refill_from);
        snprintf(label, sizeof label, "dump %s every %s load%s", volume(d, tank->volume, held),
                 number(d, stage->dump_every.si), stage->dump_every.si > 1 ? "s" : "");
        dregs_flow_liquid(d->flow, (int)index, DREGS_FLOW_OUTSIDE, label, 0);
        if (from >= 0 && from != (int)index)
            go_refill(d, (unsigned)from, index);
    }
}

/* What no tank accounts for: sprays and their runoff, what is blown off. */
static void draw_rest(struct drawing *d, unsigned index, const dregs_stage *stage)
{
    struct stage_volumes volumes = {0};
    char amount[WORDS], held[WORDS];

    dregs_stage_volumes(d->line, index, &volumes);
    if (volumes.sprayed > 0) {
        snprintf(amount, sizeof amount, "%s/load", volume(d, volumes.sprayed, held));
        come(d, index, stage->feed.kind ? stage->feed : stage->liquid, "spray", amount);
    }
    if (volumes.runoff > 0 && volumes.runoff_to.kind != DREGS_LINK_NONE) {
        snprintf(amount, sizeof amount, "%s/load", volume(d, volumes.runoff, held));
        go(d, index, volumes.runoff_to,
           dregs_stage_is(stage, DREGS_STAGE_DRIES) ? "blow-off" : "runoff", amount);
    }
}

static void add_stage(struct drawing *d, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(d->line, index);
    double kelvin = dregs_line_temperature(d->line, index);
    char detail[2 * WORDS], held[WORDS];

    if (stage->tank >= 0 && dregs_line_tank(d->line, (unsigned)stage->tank)->stage != index)
        snprintf(detail, sizeof detail, "%s, again in %s", dregs_stage_kind_name(stage->kind),
                 dregs_line_stage(d->line, dregs_line_tank(d->line, (unsigned)stage->tank)->stage)
                     ->name);
    else if (stage->tank >= 0)
        snprintf(detail, sizeof detail, "%s, %s, %s", dregs_stage_kind_name(stage->kind),
                 volume(d, dregs_line_tank(d->line, (unsigned)stage->tank)->volume, held),
                 quantity(d, kelvin - 273.15, "degC"));
    else
        snprintf(detail, sizeof detail, "%s, %s", dregs_stage_kind_name(stage->kind),
                 quantity(d, kelvin - 273.15, "degC"));
    (void)dregs_flow_node(d->flow, 0, stage->name, detail);
}

/* Loads of several kinds: which, and how much the one with the most drags out of a stage. */
static void draw_kinds(struct drawing *d)
{
    int last = (int)dregs_line_stages(d->line) - 1, i;
    char label[2 * WORDS], held[WORDS];
    unsigned k;

    snprintf(label, sizeof label, "loads of %u kinds, one every %s min", dregs_line_kinds(d->line),
             number(d, dregs_line_load(d->line)->interval.si / 60));
    dregs_flow_parts(d->flow, DREGS_FLOW_OUTSIDE, 0, label);
    for (i = 0; i <= last; i++) {
        double most = 0;
        for (k = 0; k < dregs_line_kinds(d->line); k++)
            most = fmax(most, dregs_line_carried(dregs_line_of_kind(d->line, k), (unsigned)i)->out);
        if (dregs_stage_is(dregs_line_stage(d->line, (unsigned)i), DREGS_STAGE_WET))
            snprintf(label, sizeof label, "drag-out up to %s/load", volume(d, most, held));
        else
            snprintf(label, sizeof label, "dry");
        dregs_flow_parts(d->flow, i, i < last ? i + 1 : DREGS_FLOW_OUTSIDE, label);
    }
}

static void draw_parts(struct drawing *d)
{
    const dregs_load *load = dregs_line_load(d->line);
    int last = (int)dregs_line_stages(d->line) - 1, i;
    char label[2 * WORDS], held[WORDS];

    if (dregs_line_kinds(d->line) > 1) {
        draw_kinds(d);
        return;
    }
    snprintf(label, sizeof label, "%s part%s of %s every %s min", number(d, load->parts.si),
             load->parts.si > 1 ? "s" : "", quantity(d, load->area.si * CM2, "cm2"),
             number(d, load->interval.si / 60));
    dregs_flow_parts(d->flow, DREGS_FLOW_OUTSIDE, 0, label);
    for (i = 0; i <= last; i++) {
        const dregs_carried *carried = dregs_line_carried(d->line, (unsigned)i);
        if (dregs_stage_is(dregs_line_stage(d->line, (unsigned)i), DREGS_STAGE_WET))
            snprintf(label, sizeof label, "drag-out %s/load", volume(d, carried->out, held));
        else
            snprintf(label, sizeof label, "dry");
        dregs_flow_parts(d->flow, i, i < last ? i + 1 : DREGS_FLOW_OUTSIDE, label);
    }
}

void dregs_page_line_picture(dregs_report *report, const dregs_line *line)
{
    struct drawing d = {0};
    unsigned i;

    d.flow = dregs_report_flow(report, "line", "The line: parts go down, liquid goes sideways",
                               DREGS_FLOW_STAGES, "");
    d.report = report;
    d.line = line;
    if (!d.flow)
        return;
    for (i = 0; i < dregs_line_stages(line); i++)
        add_stage(&d, i);
    draw_parts(&d);
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        const dregs_tank *tank = dregs_line_tank(line, (unsigned)stage->tank);
        if (stage->tank >= 0 && tank->stage == i)
            draw_tank(&d, i, stage, tank);
        draw_rest(&d, i, stage);
    }
}
