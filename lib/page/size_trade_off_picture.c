/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_trade_off_picture.c: what other limits would take, as a picture: liquid or cost against
 * residue, with the answer marked.
 */
#include "page/size.h"

#include <math.h>
#include <stdio.h>

enum { CURVES_MOST = 6, WORDS = 160 };

static const char *name_of(const struct sizing *s, const dregs_size_point *point, char into[WORDS])
{
    if (s->request->first)
        snprintf(into, WORDS, "%s, %u", dregs_layout_name(point->layout), point->stages);
    else
        snprintf(into, WORDS, "of the limit");
    return into;
}

static double taken(const struct sizing *s, const dregs_size_point *point)
{
    const dregs_use *use = dregs_sized_use(point->sized);

    return s->result->by_cost ? use->cost : use->bought * LITRES;
}

static const char *unit_of(const struct sizing *s)
{
    return s->result->by_cost ? "per load" : "L/load";
}

static double residue_of(const dregs_size_point *point)
{
    return dregs_sized_compliance(point->sized)->residue * UG_PER_CM2;
}

static int is_same_curve(const dregs_size_point *a, const dregs_size_point *b)
{
    return a->layout == b->layout && a->stages == b->stages;
}

static void put_points(const struct sizing *s)
{
    dregs_table *table = dregs_report_table(s->report, "drawn_trade_off", DREGS_IN_PICTURE);
    const dregs_size_point *point;
    char name[WORDS];
    size_t i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "layout", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "taken", NULL, "", 0);
    for (i = 0; (point = dregs_size_result_point(s->result, i)) != NULL; i++) {
        if (!dregs_sized_feasible(point->sized))
            continue;
        dregs_table_word(table, name_of(s, point, name));
        dregs_table_number(table, residue_of(point));
        dregs_table_number(table, taken(s, point));
        dregs_table_end_row(table);
    }
}

/* A curve for each layout, the answer marked on it: the point of the line's own limit. */
static unsigned add_curves(const struct sizing *s, dregs_chart *chart)
{
    const dregs_size_point *point, *last = NULL;
    unsigned curves = 0;
    char name[WORDS], words[WORDS + 16];
    size_t i;

    for (i = 0; (point = dregs_size_result_point(s->result, i)) != NULL; i++) {
        if (!last || !is_same_curve(last, point))
            curves++;
        if (curves <= CURVES_MOST && (!last || !is_same_curve(last, point))) {
            dregs_chart_series(chart, name_of(s, point, name), DREGS_MARK_LINE, "drawn_trade_off",
                               "residue", "taken");
            dregs_chart_where(chart, "layout", name);
        }
        if (curves == 1 && point->share == 1 && dregs_sized_feasible(point->sized)) {
            struct numbers n = {0};
            snprintf(
                words, sizeof words, "%s%s%s %s", s->request->first ? name_of(s, point, name) : "",
                s->request->first ? ": " : "", dregs_page_number(&n, taken(s, point)), unit_of(s));
            dregs_chart_marker(chart, words, residue_of(point), taken(s, point));
        }
        last = point;
    }
    return curves;
}

/* The limit of all solutes, where it is stated. */
static void add_limit(const struct sizing *s, dregs_chart *chart)
{
    const dregs_value *limit = &dregs_line_target(s->line)->residue;
    struct numbers n = {0};
    char words[WORDS];

    if (!limit->row)
        return;
    snprintf(words, sizeof words, "limit %s ug/cm2", dregs_page_number(&n, limit->si * UG_PER_CM2));
    dregs_chart_event(chart, words, limit->si * UG_PER_CM2);
}

void dregs_page_size_trade_off_picture(const struct sizing *s)
{
    dregs_chart *chart;
    unsigned curves;

    if (!s->result->points)
        return;
    put_points(s);
    chart = dregs_report_chart(s->report, "trade_off", "What stricter and laxer limits would take");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "residue of the load that is judged", "ug/cm2", 1);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, s->result->by_cost ? "cost" : "fresh liquid",
                        unit_of(s), 0);
    curves = add_curves(s, chart);
    add_limit(s, chart);
    if (s->request->first)
        dregs_chart_note(chart, "A curve for each layout, with its number of rinses.%s",
                         curves > CURVES_MOST ? " Only the first six are drawn." : "");
}
