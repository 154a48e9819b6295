/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart.c: what a picture shows of the tables. */
#include "report/inside.h"

dregs_chart *dregs_report_chart(dregs_report *report, const char *key, const char *title)
{
    dregs_chart **at = dregs_report_more(report, &report->charts, sizeof *at), *chart;

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
    return report->status ? NULL : chart;
}

void dregs_chart_axis_is(dregs_chart *chart, dregs_chart_axis axis, const char *label,
                         const char *unit, int logarithmic)
{
    if (!chart || chart->report->status)
        return;
    chart->axis[axis].label = dregs_report_keep(chart->report, label);
    chart->axis[axis].unit = dregs_report_keep(chart->report, unit);
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

void dregs_chart_limit(dregs_chart *chart, const char *label, double value)
{
    struct limit *limit =
        chart ? dregs_report_more(chart->report, &chart->limits, sizeof *limit) : NULL;

    if (!limit)
        return;
    limit->label = dregs_report_keep(chart->report, label);
    limit->value = value;
}
