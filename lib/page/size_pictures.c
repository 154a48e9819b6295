/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_pictures.c: a sizing as pictures: the residue against what was sized, or the layouts by
 * their fresh liquid and their tanks; the line of the file. */
#include "dregs/unit.h"
#include "page/size.h"

#include <math.h>
#include <stdio.h>

enum { CURVE = 65, WORDS = 160 };

#define AROUND 50.0 /* times: what lies further from the answer and the file is not drawn */

static double in_unit(const dregs_varied *varied, double si)
{
    dregs_unit unit;

    return dregs_unit_read(dregs_varied_unit(varied, 0), &unit, NULL)
               ? si
               : dregs_unit_from_si(unit, si);
}

/* ---- one property ---- */

struct curve {
    const dregs_varied *varied;
    dregs_criterion criterion;
    double limit;     /* kg/m2 */
    double low, high; /* SI: the values that are drawn */
};

struct filling {
    dregs_table *table;
    const struct curve *curve;
};

static void take_value(void *user, double value, double excess)
{
    const struct filling *f = user;

    if (value < f->curve->low || value > f->curve->high)
        return;
    dregs_table_number(f->table, in_unit(f->curve->varied, value));
    dregs_table_number(f->table, excess * f->curve->limit * UG_PER_CM2);
    dregs_table_end_row(f->table);
}

static dregs_status fill_curve(void *user, dregs_table *table)
{
    struct filling f = {table, user};

    return dregs_size_curve(f.curve->varied, f.curve->criterion, CURVE, take_value, &f);
}

/* A limit that the compliance names: residue over it is the excess. */
static double limit_of(const dregs_compliance *compliance)
{
    return compliance->residue / compliance->of_limit;
}

/* A range by its logarithm may span many powers of ten of which few tell anything. */
static struct curve curve_of(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    struct curve curve = {s->request->varied, s->request->criterion,
                          limit_of(dregs_sized_compliance(sized)), -INFINITY, INFINITY};
    double found = dregs_sized_value(sized, 0), before = s->result->before[0];

    if (dregs_varied_low(curve.varied, 0) > 0 && found > 0) {
        curve.low = (before > 0 ? fmin(found, before) : found) / AROUND;
        curve.high = (before > 0 ? fmax(found, before) : found) * AROUND;
    }
    return curve;
}

static void chart_value(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    const dregs_varied *varied = s->request->varied;
    const dregs_compliance *compliance = dregs_sized_compliance(sized);
    const struct curve curve = curve_of(s);
    const char *property = dregs_varied_property(varied, 0), *unit = dregs_varied_unit(varied, 0);
    char words[WORDS], number[DREGS_NUMBER_TEXT];
    dregs_table *table;
    dregs_chart *chart;

    if (!isfinite(curve.limit) || !(curve.limit > 0))
        return;
    table = dregs_report_table(s->report, "curve", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_filled_by(table, fill_curve, dregs_report_lasting(s->report, &curve, sizeof curve));
    snprintf(words, sizeof words, "Residue against '%s' of %.100s", property,
             dregs_varied_stage(varied, 0, 0));
    chart = dregs_report_chart(s->report, "answer", words);
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, property, unit, dregs_varied_low(varied, 0) > 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue of the load that is judged", "ug/cm2", 1);
    dregs_chart_series(chart, "residue", DREGS_MARK_LINE, "curve", "value", "residue");
    dregs_chart_limit(chart, "limit", curve.limit * UG_PER_CM2);
    snprintf(words, sizeof words, "%s %s %s",
             dregs_sized_feasible(sized) ? "just met at" : "nearest at",
             dregs_number_plain(number, in_unit(varied, dregs_sized_value(sized, 0)), 4), unit);
    dregs_chart_marker(chart, words, in_unit(varied, dregs_sized_value(sized, 0)),
                       compliance->residue * UG_PER_CM2);
    if (isfinite(s->result->before[0])) {
        snprintf(words, sizeof words, "the file: %s %s",
                 dregs_number_plain(number, in_unit(varied, s->result->before[0]), 4), unit);
        dregs_chart_event(chart, words, in_unit(varied, s->result->before[0]));
    }
    if (compliance->floor > 0)
        dregs_chart_reference(chart, "lowest attainable", compliance->floor * UG_PER_CM2);
}

/* ---- layouts ---- */

/* What it takes: cost where prices are stated, else fresh liquid. */
static double taken(const struct sizing *s, const dregs_size_row *row)
{
    return s->result->by_cost ? row->figures.cost_per_shift
                              : dregs_sized_use(row->sized)->bought * LITRES;
}

static void put_layouts(const struct sizing *s)
{
    dregs_table *table = dregs_report_table(s->report, "drawn_layouts", DREGS_IN_PICTURE);
    size_t i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "layout", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "taken", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "tanks", NULL, "L", 0);
    for (i = 0; i < s->result->rows_met; i++) {
        const dregs_size_row *row = dregs_size_result_row(s->result, i);
        dregs_table_word(table, dregs_layout_name(row->layout));
        dregs_table_number(table, taken(s, row));
        dregs_table_number(table, dregs_sized_compliance(row->sized)->residue * UG_PER_CM2);
        dregs_table_number(table, row->volume * LITRES);
        dregs_table_end_row(table);
    }
}

/* Those that no other beats in everything. */
static void mark_front(const struct sizing *s, dregs_chart *chart)
{
    char label[WORDS];
    size_t i;

    for (i = 0; i < s->result->rows_met; i++) {
        const dregs_size_row *row = dregs_size_result_row(s->result, i);
        if (row->dominated >= 0)
            continue;
        snprintf(label, sizeof label, "%s, %u", dregs_layout_name(row->layout), row->stages);
        dregs_chart_marker(chart, label, taken(s, row), row->volume * LITRES);
    }
}

static int has_layout(const struct sizing *s, int layout)
{
    size_t i;

    for (i = 0; i < s->result->rows_met; i++)
        if ((int)dregs_size_result_row(s->result, i)->layout == layout)
            return 1;
    return 0;
}

static void chart_layouts(const struct sizing *s)
{
    dregs_chart *chart;
    int layout;

    if (!s->result->rows_met)
        return;
    put_layouts(s);
    chart = dregs_report_chart(s->report, "layouts", "What each layout needs to meet the target");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, s->result->by_cost ? "cost" : "fresh liquid",
                        s->result->by_cost ? "per shift" : "L/load", 1);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "tanks", "L", 0);
    for (layout = 0; layout < DREGS_LAYOUTS; layout++)
        if (has_layout(s, layout)) {
            const char *name = dregs_layout_name((dregs_layout)layout);
            dregs_chart_series(chart, name, DREGS_MARK_POINTS, "drawn_layouts", "taken", "tanks");
            dregs_chart_where(chart, "layout", name);
        }
    mark_front(s, chart);
    dregs_chart_note(chart, "Ringed, with the number of rinses: no other layout is as good in "
                            "liquid, tanks and number of rinses, and better in one. All meet the "
                            "target.");
}

void dregs_page_size_pictures(const struct sizing *s)
{
    if (s->request->first)
        chart_layouts(s);
    else if (s->request->varied && dregs_varied_count(s->request->varied) == 1)
        chart_value(s);
    dregs_page_size_trade_off_picture(s);
    dregs_page_line_picture(s->report, s->line);
}
