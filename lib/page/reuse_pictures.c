/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_pictures.c: the readings of a log as pictures: each meter with what the line, as it was
 * fitted, lets expect, the reading at which to dump, dumps, outliers and changes. */
#include "page/reuse.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { METERS_MOST = 4, DUMPS_MOST = 30, READINGS_MOST = 400, KEY = 32, WORDS = 240 };

#define BAND 1.96 /* standard deviations: 95 % of a normal distribution lie within */

/* A meter in a tank: readings of one quantity of one stage. */
struct meter {
    const dregs_reuse_result *result;
    unsigned stage, which;
    dregs_measured what;
    int unit; /* of its first reading */
};

static int is_of(const struct meter *meter, const dregs_reading *reading)
{
    return reading->what == meter->what && reading->stage == meter->stage &&
           reading->which == meter->which;
}

/* The meters of the log, in the order of their first readings. */
static unsigned find_meters(const struct reusing *r, struct meter *meter)
{
    unsigned count = 0, k;
    size_t i;

    for (i = 0; i < dregs_readings_kept(r->readings) && count < METERS_MOST; i++) {
        const dregs_reading *reading = dregs_readings_at(r->readings, i);
        if (reading->what == DREGS_MEASURED_DUMP)
            continue;
        for (k = 0; k < count && !is_of(&meter[k], reading);)
            k++;
        if (k == count)
            meter[count++] = (struct meter){r->result, reading->stage, reading->which,
                                            reading->what, (int)reading->unit};
    }
    return count;
}

static double shown(const struct meter *meter, double value)
{
    const char *unit;

    return dregs_answer_reading_shown(meter->result->readings, meter->what, meter->unit, value,
                                      &unit);
}

/* Every reading of a meter, or every so many. */
static dregs_status fill_meter(void *user, dregs_table *table)
{
    const struct meter *meter = user;
    const dregs_readings *readings = meter->result->readings;
    size_t i, kept = dregs_readings_kept(readings), stride = 1 + kept / READINGS_MOST;

    for (i = 0; i < kept; i++) {
        const dregs_reading *reading = dregs_readings_at(readings, i);
        const dregs_heard_reading *heard = dregs_reuse_heard(meter->result->reuse, i);
        int apart = heard->heard == DREGS_HEARD_OUTLIER || heard->heard == DREGS_HEARD_ALONE;
        double width = BAND * heard->sd;
        if (!is_of(meter, reading) || (i % stride && !apart))
            continue;
        dregs_table_count(table, (uint64_t)reading->at);
        dregs_table_word(table, apart ? "apart" : "used");
        dregs_table_number(table, shown(meter, reading->value));
        dregs_table_within(table, shown(meter, heard->expected),
                           shown(meter, heard->expected - width),
                           shown(meter, heard->expected + width));
        dregs_table_end_row(table);
    }
    return DREGS_OK;
}

static void mark_dumps(const struct meter *meter, dregs_chart *chart)
{
    const dregs_readings *readings = meter->result->readings;
    unsigned marked = 0;
    size_t i;

    for (i = 0; i < dregs_readings_kept(readings) && marked < DUMPS_MOST; i++) {
        const dregs_reading *reading = dregs_readings_at(readings, i);
        if (reading->what != DREGS_MEASURED_DUMP || reading->stage != meter->stage)
            continue;
        dregs_chart_event(chart, "dumped", (double)reading->at);
        marked++;
    }
}

/* Where a period began that is another than the one before it. */
static void mark_changes(const struct reusing *r, dregs_chart *chart)
{
    char name[LOG_NAME], words[WORDS];
    unsigned i;

    for (i = 0; i < dregs_reuse_regimes(r->result->reuse); i++) {
        const dregs_regime *period = dregs_reuse_regime(r->result->reuse, i);
        if (period->kind == DREGS_REGIME_FIRST)
            continue;
        snprintf(words, sizeof words, "changed: %s",
                 dregs_page_change(r->line, (int)period->kind, period->which, name));
        dregs_chart_event(chart, words, (double)dregs_readings_at(r->readings, period->first)->at);
    }
}

static void mark_dump_reading(const struct reusing *r, const struct meter *meter,
                              dregs_chart *chart)
{
    const dregs_dump_reading *at = &r->result->outlook->at[meter->stage];

    if (dregs_page_reuse_dumps(r, meter->stage) && at->what == meter->what &&
        at->which == meter->which && isfinite(at->planned))
        dregs_chart_limit(chart, "dump at", shown(meter, at->planned));
}

static void chart_meter(const struct reusing *r, const struct meter *meter, unsigned index)
{
    char key[KEY], title[WORDS], name[LOG_NAME];
    const char *unit, *quantity = dregs_page_measured(r->line, meter->what, meter->which, name);
    dregs_table *table;
    dregs_chart *chart;

    (void)dregs_answer_reading_shown(r->readings, meter->what, meter->unit, 0, &unit);
    snprintf(key, sizeof key, "drawn_readings_%u", index + 1);
    table = dregs_report_table(r->report, key, DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "state", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "expected", NULL, "", 0);
    dregs_table_filled_by(table, fill_meter, dregs_report_lasting(r->report, meter, sizeof *meter));
    snprintf(title, sizeof title, "%s of %.100s against the line as fitted", quantity,
             dregs_line_stage(r->line, meter->stage)->name);
    if (*title >= 'a' && *title <= 'z')
        *title = (char)(*title - 'a' + 'A');
    chart = dregs_report_chart(r->report, key + strlen("drawn_"), title);
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "loads since the first fill in the log", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, quantity, unit, 0);
    dregs_chart_series(chart, "expected, with 95 % of the meter's scatter", DREGS_MARK_LINE, key,
                       "load", "expected");
    dregs_chart_series(chart, "outlier or alone", DREGS_MARK_POINTS, key, "load", "value");
    dregs_chart_where(chart, "state", "apart");
    dregs_chart_series(chart, "reading", DREGS_MARK_POINTS, key, "load", "value");
    dregs_chart_where(chart, "state", "used");
    mark_dumps(meter, chart);
    mark_changes(r, chart);
    mark_dump_reading(r, meter, chart);
}

void dregs_page_reuse_pictures(const struct reusing *r)
{
    struct meter meter[METERS_MOST];
    unsigned count = find_meters(r, meter), i;

    for (i = 0; i < count; i++)
        chart_meter(r, &meter[i], i);
    dregs_page_line_picture(r->report, r->line);
}
