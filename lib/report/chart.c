/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* chart.c: what a picture shows of the tables. */
#include "report/inside.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

dregs_chart *dregs_report_chart(dregs_report *report, const char *key, const char *title)
{
    dregs_chart **at = dregs_report_more(report, &report->charts, sizeof *at), *chart;
    struct picture *picture;

    if (!at)
        return NULL;
    chart = *at = dregs_pool_take(&report->pool, 1, sizeof *chart);
    if (!chart) {
        report->charts.count--;
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return NULL;
    }
    if (!dregs_report_is_key(key))
        dregs_report_fail(report, DREGS_DOMAIN);
    chart->report = report;
    chart->key = dregs_report_keep(report, key);
    chart->title = dregs_report_keep(report, title);
    chart->shown = DREGS_IN_JSON | DREGS_IN_PICTURE;
    picture = dregs_report_more(report, &report->pictures, sizeof *picture);
    if (picture)
        picture->chart = chart;
    return report->status ? NULL : chart;
}

void dregs_chart_axis_is(dregs_chart *chart, dregs_chart_axis axis, const char *label,
                         const char *unit, int logarithmic)
{
    if (!chart || chart->report->status)
        return;
    chart->axis[axis].label = dregs_report_keep(chart->report, label);
    chart->axis[axis].unit =
        dregs_report_keep(chart->report, dregs_report_unit(chart->report, unit));
    chart->axis[axis].conversion = dregs_report_conversion(chart->report, unit);
    chart->axis[axis].logarithmic = logarithmic != 0;
}

void dregs_chart_series(dregs_chart *chart, const char *name, dregs_chart_mark mark,
                        const char *table, const char *x, const char *y)
{
    struct series *series =
        chart ? dregs_report_more(chart->report, &chart->series, sizeof *series) : NULL;

    if (!series)
        return;
    series->name = dregs_report_keep(chart->report, name);
    series->mark = mark;
    series->table = dregs_report_keep(chart->report, table);
    series->x = dregs_report_keep(chart->report, x);
    series->y = dregs_report_keep(chart->report, y);
}

void dregs_chart_where(dregs_chart *chart, const char *column, const char *word)
{
    struct series *series = chart ? chart->series.item : NULL;

    if (!chart || chart->report->status)
        return;
    series += chart->series.count - (chart->series.count > 0);
    if (!chart->series.count || series->wheres == DREGS_CHART_WHERE) {
        dregs_report_fail(chart->report, DREGS_DOMAIN);
        return;
    }
    series->where[series->wheres].column = dregs_report_keep(chart->report, column);
    series->where[series->wheres].word = dregs_report_keep(chart->report, word);
    series->wheres++;
}

/* A value of an axis, as it is shown. */
static double on_axis(const dregs_chart *chart, dregs_chart_axis axis, double value)
{
    return dregs_report_converted(&chart->axis[axis].conversion, value);
}

void dregs_chart_limit(dregs_chart *chart, const char *label, double value)
{
    struct limit *limit =
        chart ? dregs_report_more(chart->report, &chart->limits, sizeof *limit) : NULL;

    if (!limit)
        return;
    limit->label = dregs_report_keep(chart->report, label);
    limit->value = on_axis(chart, chart->right ? DREGS_AXIS_RIGHT : DREGS_AXIS_Y, value);
    limit->right = chart->right;
}

void dregs_chart_reference(dregs_chart *chart, const char *label, double value)
{
    struct limit *limit;
    size_t before = chart ? chart->limits.count : 0;

    dregs_chart_limit(chart, label, value);
    if (!chart || chart->limits.count == before)
        return;
    limit = chart->limits.item;
    limit[before].reference = 1;
}

void dregs_chart_right(dregs_chart *chart)
{
    struct series *series = chart ? chart->series.item : NULL;

    if (!chart || chart->report->status)
        return;
    chart->right = 1;
    if (chart->series.count)
        series[chart->series.count - 1].right = 1;
}

void dregs_chart_band(dregs_chart *chart, const char *label, double low, double high)
{
    struct band *band =
        chart ? dregs_report_more(chart->report, &chart->bands, sizeof *band) : NULL;

    if (!band)
        return;
    band->label = dregs_report_keep(chart->report, label);
    band->low = on_axis(chart, DREGS_AXIS_Y, low);
    band->high = on_axis(chart, DREGS_AXIS_Y, high);
}

void dregs_chart_marker(dregs_chart *chart, const char *label, double x, double y)
{
    struct marker *marker =
        chart ? dregs_report_more(chart->report, &chart->markers, sizeof *marker) : NULL;

    if (!marker)
        return;
    marker->label = dregs_report_keep(chart->report, label);
    marker->x = on_axis(chart, DREGS_AXIS_X, x);
    marker->y = on_axis(chart, DREGS_AXIS_Y, y);
}

void dregs_chart_event(dregs_chart *chart, const char *label, double x)
{
    dregs_chart_marker(chart, label, x, NAN);
}

void dregs_chart_shown(dregs_chart *chart, int where)
{
    if (chart)
        chart->shown = where;
}

/* ---- flows ---- */

dregs_flow *dregs_report_flow(dregs_report *report, const char *key, const char *title,
                              dregs_flow_kind kind, const char *unit)
{
    struct picture *picture = dregs_report_more(report, &report->pictures, sizeof *picture);
    dregs_flow *flow;

    if (!picture)
        return NULL;
    flow = picture->flow = dregs_pool_take(&report->pool, 1, sizeof *flow);
    if (!flow) {
        report->pictures.count--;
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return NULL;
    }
    if (!dregs_report_is_key(key))
        dregs_report_fail(report, DREGS_DOMAIN);
    flow->report = report;
    flow->kind = kind;
    flow->key = dregs_report_keep(report, key);
    flow->title = dregs_report_keep(report, title);
    flow->unit = dregs_report_keep(report, dregs_report_unit(report, unit));
    flow->conversion = dregs_report_conversion(report, unit);
    return report->status ? NULL : flow;
}

int dregs_flow_node(dregs_flow *flow, int column, const char *name, const char *detail)
{
    struct node *node = flow ? dregs_report_more(flow->report, &flow->nodes, sizeof *node) : NULL;

    if (!node)
        return 0;
    node->name = dregs_report_keep(flow->report, name);
    node->detail = dregs_report_keep(flow->report, detail);
    node->column = column;
    if (column < 0 || column > 2)
        dregs_report_fail(flow->report, DREGS_DOMAIN);
    return (int)flow->nodes.count - 1;
}

static void add_link(dregs_flow *flow, const struct link *given)
{
    struct link *link = flow ? dregs_report_more(flow->report, &flow->links, sizeof *link) : NULL;
    int count = flow ? (int)flow->nodes.count : 0;

    if (!link)
        return;
    *link = *given;
    link->label = dregs_report_keep(flow->report, given->label);
    if (given->from < DREGS_FLOW_OUTSIDE || given->from >= count ||
        given->to < DREGS_FLOW_OUTSIDE || given->to >= count ||
        (given->from == DREGS_FLOW_OUTSIDE && given->to == DREGS_FLOW_OUTSIDE))
        dregs_report_fail(flow->report, DREGS_DOMAIN);
}

void dregs_flow_liquid(dregs_flow *flow, int from, int to, const char *label, double amount)
{
    struct link link = {from, to, 0, label, amount};

    if (!flow || (flow->kind == DREGS_FLOW_WIDTHS && !(amount > 0 && isfinite(amount))))
        return;
    link.amount = dregs_report_converted(&flow->conversion, amount);
    add_link(flow, &link);
}

void dregs_flow_parts(dregs_flow *flow, int from, int to, const char *label)
{
    struct link link = {from, to, 1, label, 0};

    add_link(flow, &link);
}

/* ---- notes ---- */

DREGS_FORMAT(2, 0)
static const char *words_of(dregs_report *report, const char *format, va_list arguments)
{
    char text[400];

    (void)vsnprintf(text, sizeof text, format, arguments);
    return dregs_report_keep(report, text);
}

void dregs_chart_note(dregs_chart *chart, const char *format, ...)
{
    va_list arguments;

    if (!chart || chart->report->status)
        return;
    va_start(arguments, format);
    chart->note = words_of(chart->report, format, arguments);
    va_end(arguments);
}

void dregs_flow_note(dregs_flow *flow, const char *format, ...)
{
    va_list arguments;

    if (!flow || flow->report->status)
        return;
    va_start(arguments, format);
    flow->note = words_of(flow->report, format, arguments);
    va_end(arguments);
}
