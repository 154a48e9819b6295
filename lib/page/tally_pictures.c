/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_pictures.c: a tally as pictures: the line, its liquids from where they are bought to where
 * they go, month by month, several lines side by side. */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Where liquid goes, as the outline sums it up. */
static const struct sink {
    const char *key, *name;
} sinks[] = {{"to_drain", "to drain"},
             {"to_waste", "to waste"},
             {"evaporated", "evaporated"},
             {"dried", "dried off the parts"}};
enum { SINKS = sizeof sinks / sizeof sinks[0] };

static double sink_of(const dregs_tally_outline *o, unsigned sink)
{
    const double value[SINKS] = {o->to_drain, o->to_waste, o->evaporated, o->dried};

    return value[sink] * LITRES;
}

/* Stages that are one box: those of a line, or of one of the lines of a site. */
struct box {
    const char *name;
    unsigned first, stages;
};

enum { BOUGHT, RECLAIMED };

/* L of one liquid that the stages take, bought or given back. */
static double taken(const dregs_tally *tally, const struct box *box, unsigned fluid, int way)
{
    double sum = 0;
    unsigned i;

    for (i = box->first; i < box->first + box->stages; i++)
        sum += way == BOUGHT ? dregs_tally_bought(tally, fluid, i, DREGS_WHOLE)
                             : dregs_tally_reclaimed(tally, fluid, i, DREGS_WHOLE);
    return sum * LITRES;
}

/* L of all liquids in some streams of the stages. */
static double leaves(const dregs_tally *tally, const struct box *box, const dregs_stream *streams,
                     unsigned count)
{
    double sum = 0;
    unsigned i, k;

    for (i = box->first; i < box->first + box->stages; i++)
        for (k = 0; k < count; k++)
            sum += dregs_tally_volume(tally, streams[k], i, DREGS_WHOLE);
    return sum * LITRES;
}

/* L that one of the sinks takes. */
static double sink_from(const dregs_tally *tally, const struct box *box, unsigned sink)
{
    static const struct {
        unsigned count;
        dregs_stream streams[3];
    } of[SINKS] = {{3, {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF, DREGS_STREAM_BLOWN_OFF}},
                   {2, {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED}},
                   {1, {DREGS_STREAM_EVAPORATED}},
                   {1, {DREGS_STREAM_DRIED}}};

    return leaves(tally, box, of[sink].streams, of[sink].count);
}

/* L more in the tanks at the end. */
static double more_held(const dregs_tally *tally, const struct box *box)
{
    static const dregs_stream first[] = {DREGS_STREAM_HELD_FIRST},
                              last[] = {DREGS_STREAM_HELD_LAST};

    return leaves(tally, box, last, 1) - leaves(tally, box, first, 1);
}

/* The line as one box, or each of the lines of a site; returns how many. */
static unsigned boxes_of(const dregs_line *line, struct box box[DREGS_LINE_STAGES])
{
    const dregs_line *part;
    unsigned i, first = 0;

    for (i = 0; (part = dregs_line_part(line, i)) != NULL; i++) {
        box[i] = (struct box){dregs_line_name(part), first, dregs_line_stages(part)};
        first += box[i].stages;
    }
    if (i)
        return i;
    box[0] = (struct box){"the line", 0, dregs_line_stages(line)};
    return 1;
}

static void draw_streams(const struct tally_page *page)
{
    const dregs_tally_one *one = page->one;
    dregs_flow *flow =
        dregs_report_flow(page->report, "streams", "Where the liquid goes", DREGS_FLOW_WIDTHS, "L");
    struct box box[DREGS_LINE_STAGES];
    int middle[DREGS_LINE_STAGES], node, back;
    unsigned boxes, i, b;

    if (!flow)
        return;
    boxes = boxes_of(one->line, box);
    for (b = 0; b < boxes; b++)
        middle[b] = dregs_flow_node(flow, 1, box[b].name, "");
    for (i = 0; i < dregs_line_fluids(one->line); i++) {
        node = dregs_flow_node(flow, 0, dregs_line_fluid(one->line, i)->name, "");
        for (b = 0; b < boxes; b++)
            dregs_flow_liquid(flow, node, middle[b], "", taken(one->tally, &box[b], i, BOUGHT));
    }
    for (i = 0; i < SINKS; i++) {
        node = dregs_flow_node(flow, 2, sinks[i].name, "");
        for (b = 0; b < boxes; b++)
            dregs_flow_liquid(flow, middle[b], node, "", sink_from(one->tally, &box[b], i));
    }
    node = dregs_flow_node(flow, 2, "more in the tanks", "");
    for (b = 0; b < boxes; b++)
        dregs_flow_liquid(flow, middle[b], node, "", more_held(one->tally, &box[b]));
    node = dregs_flow_node(flow, 0, "out of the tanks", "");
    back = dregs_flow_node(flow, 0, "given back by stills", "");
    for (b = 0; b < boxes; b++) {
        dregs_flow_liquid(flow, node, middle[b], "", -more_held(one->tally, &box[b]));
        for (i = 0; i < dregs_line_fluids(one->line); i++)
            dregs_flow_liquid(flow, back, middle[b], "", taken(one->tally, &box[b], i, RECLAIMED));
    }
}

static void add_sinks(dregs_chart *chart, const char *table, const char *x, const char *file)
{
    unsigned i;

    dregs_chart_axis_is(chart, DREGS_AXIS_X, x, "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "liquid that leaves", "L", 0);
    for (i = 0; i < SINKS; i++) {
        dregs_chart_series(chart, sinks[i].name, DREGS_MARK_BARS, table, x, sinks[i].key);
        if (file)
            dregs_chart_where(chart, "file", file);
    }
}

static void chart_months(const struct tally_page *page)
{
    dregs_chart *chart;

    if (dregs_tally_periods(page->one->tally) < 2)
        return;
    chart = dregs_report_chart(page->report, "months", "Where the liquid goes, month by month");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    add_sinks(chart, "months", "month", dregs_line_name(page->one->line));
}

/* What every line costs, where all say it in one currency; else nothing. */
static const char *common_currency(const struct tally_page *page)
{
    const dregs_tally_one *one, *first = dregs_tally_result_line(page->answer, 0);
    unsigned line;

    for (line = 0; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++)
        if (strcmp(one->currency, first->currency) != 0 ||
            !isfinite(dregs_tally_costs(one->tally, DREGS_WHOLE).total))
            return NULL;
    return first->currency;
}

static void chart_costs(const struct tally_page *page)
{
    const char *currency = common_currency(page);
    dregs_chart *chart;

    if (!currency)
        return;
    chart = dregs_report_chart(page->report, "costs", "What it costs, line by line");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "line", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "cost", currency, 0);
    dregs_chart_series(chart, "cost", DREGS_MARK_BARS, "drawn_lines", "line", "cost");
}

/* Several lines: a change is seen before and after. */
static void chart_lines(const struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "drawn_lines", DREGS_IN_PICTURE);
    const dregs_tally_one *one;
    dregs_chart *chart;
    unsigned line, i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "line", NULL, "", 0);
    for (i = 0; i < SINKS; i++)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, sinks[i].key, NULL, "L", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "cost", NULL, "", 0);
    for (line = 0; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++) {
        const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, line, DREGS_WHOLE);
        char name[300];
        snprintf(name, sizeof name, "%u. %s", line + 1, dregs_line_name(one->line));
        dregs_table_word(table, name);
        for (i = 0; i < SINKS; i++)
            dregs_table_number(table, sink_of(o, i));
        dregs_table_number(table, one->residue * UG_PER_CM2);
        dregs_table_number(table, dregs_tally_costs(one->tally, DREGS_WHOLE).total);
        dregs_table_end_row(table);
    }
    chart = dregs_report_chart(page->report, "lines", "Where the liquid goes, line by line");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    add_sinks(chart, "drawn_lines", "line", NULL);
    chart = dregs_report_chart(page->report, "residues", "What the worst load keeps, line by line");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "line", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", 0);
    dregs_chart_series(chart, "residue", DREGS_MARK_BARS, "drawn_lines", "line", "residue");
    chart_costs(page);
}

/* What a change does to the cost, or without prices to the liquid bought. */
static double effect_of(const struct tally_page *page, unsigned change, int by_cost)
{
    const dregs_tally_figure *figure;
    double sum = 0;
    unsigned i;

    for (i = 0; (figure = dregs_tally_result_changed(page->answer, change, i)) != NULL; i++)
        if (by_cost ? strcmp(figure->name, "cost") == 0
                    : strncmp(figure->name, "bought: ", strlen("bought: ")) == 0)
            sum += figure->difference;
    return sum;
}

static void chart_changes(const struct tally_page *page)
{
    int by_cost = isfinite(dregs_tally_costs(page->one->tally, DREGS_WHOLE).total);
    const dregs_tally_change *change;
    dregs_table *table;
    dregs_chart *chart;
    unsigned i;

    if (!dregs_tally_result_change(page->answer, 0))
        return;
    table = dregs_report_table(page->report, "drawn_changes", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_WORD, "change", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "effect", NULL,
                       by_cost ? page->one->currency : "L", 0);
    for (i = 0; (change = dregs_tally_result_change(page->answer, i)) != NULL; i++) {
        char name[160];
        if (*change->reason)
            continue;
        snprintf(name, sizeof name, "%u. %.*s", i + 1, (int)strcspn(change->what, ":("),
                 change->what);
        dregs_table_word(table, name);
        dregs_table_number(table, effect_of(page, i, by_cost));
        dregs_table_end_row(table);
    }
    chart = dregs_report_chart(page->report, "changes",
                               by_cost ? "What changes of the line would do to the cost"
                                       : "What changes of the line would do to the liquid bought");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "change", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "difference", by_cost ? page->one->currency : "L", 0);
    dregs_chart_series(chart, "difference", DREGS_MARK_BARS, "drawn_changes", "change", "effect");
}

void dregs_page_tally_pictures(const struct tally_page *page)
{
    if (dregs_tally_result_line(page->answer, 1)) {
        chart_lines(page);
        return;
    }
    draw_streams(page);
    chart_months(page);
    chart_changes(page);
    if (!dregs_line_part(page->one->line, 0)) /* a site is no line of tanks */
        dregs_page_line_picture(page->report, page->one->line);
}
