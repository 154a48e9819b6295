/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_doubt_pictures.c: how sure a prediction is and what it hangs on, as pictures: the spread
 * of the listed loads, the probability of meeting the limits, a tornado of the doubt, the effect of
 * small changes.
 */
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

enum { BARS_MOST = 10, NAME = 200, PERCENTILES = 99 };

/* ---- the loads that are listed ---- */

void dregs_page_predict_draw_loads(const struct prediction *p, dregs_chart *chart, uint64_t last,
                                   int dumped)
{
    dregs_table *table;
    dregs_ensemble_range range;
    uint64_t load;
    unsigned i;

    if (!p->doubt || !p->doubt->loads)
        return;
    table = dregs_report_table(p->report, "drawn_loads", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    for (i = 0; i < p->doubt->loads; i++) {
        if (dregs_predict_doubt_load(p->doubt, i, DREGS_EVERY_SOLUTE, &load, &range) || load > last)
            continue;
        dregs_table_count(table, load);
        dregs_table_within(table, range.middle.value * UG_PER_CM2, range.low.value * UG_PER_CM2,
                           range.high.value * UG_PER_CM2);
        dregs_table_end_row(table);
    }
    /* between two listed loads a dump may lie: no band is drawn across it */
    dregs_chart_series(chart, "draws: the middle one, and 5 to 95 %",
                       dumped ? DREGS_MARK_POINTS : DREGS_MARK_LINE, "drawn_loads", "load",
                       "residue");
}

/* ---- the probability ---- */

static void put_share(dregs_table *table, double share, double draws)
{
    dregs_table_number(table, share * 100);
    dregs_table_number(table, draws * 100);
    dregs_table_end_row(table);
}

/* Percentiles of the share of a limit; among them the limit itself, where the curve is known too.
 */
static void put_shares(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "drawn_shares", DREGS_IN_PICTURE);
    dregs_ensemble_estimate at;
    double met = p->doubt->met.value;
    int i, passed = 0;

    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "draws", NULL, "%", 0);
    for (i = 1; i <= PERCENTILES; i++) {
        if (dregs_ensemble_quantile(p->doubt->run.counts, 0, i / 100.0, &at))
            continue;
        if (!passed && at.value > 1)
            put_share(table, 1, met);
        passed = passed || at.value > 1;
        put_share(table, at.value, i / 100.0);
    }
    if (!passed)
        put_share(table, 1, met);
}

/* "97.2 % of draws keep every limit", never rounded to all or to none. */
static void name_met(double met, char into[NAME])
{
    struct numbers n = {0};

    if (met == 1 || met == 0)
        snprintf(into, NAME, "%s keeps every limit", met == 1 ? "every draw" : "no draw");
    else
        snprintf(into, NAME, "%s %% of draws keep every limit",
                 dregs_page_number(&n, fmin(99.9, fmax(0.1, round(met * 1000) / 10))));
}

/* Do the draws and the limit lie powers of ten apart? */
static int is_wide(const dregs_predict_doubt *doubt)
{
    dregs_ensemble_estimate low, high;

    return !dregs_ensemble_quantile(doubt->run.counts, 0, 0.01, &low) &&
           !dregs_ensemble_quantile(doubt->run.counts, 0, 0.99, &high) &&
           10 * fmin(low.value, 1) < fmax(high.value, 1);
}

static void chart_probability(const struct prediction *p)
{
    const dregs_predict_doubt *doubt = p->doubt;
    dregs_chart *chart;
    char words[NAME], drawn[DRAWN_WORDS];

    if (!doubt || isnan(doubt->met.value))
        return;
    put_shares(p);
    chart = dregs_report_chart(p->report, "probability", "How likely all limits are kept");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "reached of the nearest limit, residue or bath", "%",
                        is_wide(doubt));
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "draws at or below it", "%", 0);
    dregs_chart_series(chart, "draws", DREGS_MARK_LINE, "drawn_shares", "share", "draws");
    dregs_chart_event(chart, "", 100);
    name_met(doubt->met.value, words);
    dregs_chart_marker(chart, words, 100, doubt->met.value * 100);
    if (!isnan(doubt->confidence))
        dregs_chart_limit(chart, "asked for:", doubt->confidence * 100);
    dregs_chart_note(chart, "%llu draws of %s. Each draw is the line worked out anew.",
                     (unsigned long long)doubt->run.draws,
                     dregs_page_drawn(doubt->run.rows, doubt->run.properties, drawn));
}

/* ---- the tornado ---- */

static void name_value(const struct prediction *p, const dregs_hangs_value *v, char into[NAME])
{
    const dregs_row *cells = dregs_line_row(p->line, v->row);

    snprintf(into, NAME, "%.90s.%.90s", v->liquid ? v->liquid : cells->item,
             v->liquid ? dregs_property_name(v->property) : cells->property);
}

static void put_end(dregs_table *table, double end, double stated)
{
    dregs_table_within(table, end * UG_PER_CM2, fmin(end, stated) * UG_PER_CM2,
                       fmax(end, stated) * UG_PER_CM2);
}

/* The residue of a doubt's rows, with everything as stated. */
static void put_doubts(const struct prediction *p, const dregs_hangs_result *hangs)
{
    dregs_table *table = dregs_report_table(p->report, "drawn_doubt", DREGS_IN_PICTURE);
    double stated = hangs->load.residue;
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", NULL, "ug/cm2", 0);
    for (i = 0; i < hangs->doubts && i < BARS_MOST; i++) {
        const dregs_hangs_doubt *d = dregs_hangs_result_doubt(hangs, i);
        char name[PREDICT_DOUBT_NAME], words[PREDICT_DOUBT_NAME + 40];
        dregs_page_predict_doubt_name(p, d, name);
        snprintf(words, sizeof words, "%s: %.0f %%", name, 100 * fmax(0, d->total));
        dregs_table_word(table, words);
        put_end(table, d->low, stated);
        put_end(table, d->high, stated);
        dregs_table_end_row(table);
    }
}

static void chart_doubt(const struct prediction *p, const dregs_hangs_result *hangs)
{
    dregs_chart *chart;

    if (!hangs->doubts)
        return;
    put_doubts(p, hangs);
    chart = dregs_report_chart(p->report, "tornado", "What makes the doubt about the worst load");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "value", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", 0);
    dregs_chart_series(chart, "the value at its 5 % point", DREGS_MARK_SPANS, "drawn_doubt",
                       "value", "low");
    dregs_chart_series(chart, "at its 95 % point", DREGS_MARK_SPANS, "drawn_doubt", "value",
                       "high");
    dregs_chart_reference(chart, "all as stated:", hangs->load.residue * UG_PER_CM2);
    dregs_chart_note(
        chart, "One value at a time. Beside each name: its share of the doubt (of the variance), "
               "with what it makes together with others.");
}

/* ---- small changes ---- */

static const char *more_by(dregs_hangs_change change)
{
    static const char *const words[] = {"+1 %", "+1 % of the rest", "+1 K", "one more",
                                        "one fewer"};

    return words[change];
}

static void chart_effects(const struct prediction *p, const dregs_hangs_result *hangs)
{
    dregs_table *table;
    dregs_chart *chart;
    unsigned i;

    if (!hangs->values)
        return;
    table = dregs_report_table(p->report, "drawn_effects", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_WORD, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "effect", NULL, "%", 0);
    for (i = 0; i < hangs->values && i < BARS_MOST; i++) {
        const dregs_hangs_value *v = dregs_hangs_result_value(hangs, i);
        char name[NAME], words[NAME + 40];
        name_value(p, v, name);
        snprintf(words, sizeof words, "%s, %s", name, more_by(v->change));
        dregs_table_word(table, words);
        dregs_table_number(table, 100 * v->effect);
        dregs_table_end_row(table);
    }
    chart = dregs_report_chart(p->report, "effects", "What the worst load's residue hangs on");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "value", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue more or less", "%", 0);
    dregs_chart_series(chart, "effect", DREGS_MARK_BARS, "drawn_effects", "value", "effect");
    if (hangs->values > BARS_MOST)
        dregs_chart_note(chart, "The %d largest of %u.", BARS_MOST, hangs->values);
}

void dregs_page_predict_doubt_pictures(const struct prediction *p)
{
    chart_probability(p);
    if (!p->result->hangs)
        return;
    chart_doubt(p, p->result->hangs);
    chart_effects(p, p->result->hangs);
}
