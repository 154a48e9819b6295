/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_pictures.c: dryings as pictures: the liquid left and its temperature in time, the vapour
 * against a quarter of its lower flammable limit. */
#include "page/dry.h"

#include <math.h>
#include <stdio.h>

enum {
    POINTS_MOST = 200, /* of a curve: a page is no wider */
    ROWS_MOST = 6,     /* dryings that one picture can hold apart */
    NAME = DRY_NAME
};

#define QUARTER 25.0 /* % of the lower flammable limit, by which the answer judges */

const char *dregs_page_dry_name(const dregs_dry_row *row, char into[DRY_NAME])
{
    char number[DREGS_NUMBER_TEXT];

    snprintf(into, NAME, "%s%s%s degC", row->stage ? row->stage : "", row->stage ? ", " : "",
             dregs_number_plain(number, CELSIUS(row->film.air), 4));
    return into;
}

static void put_point(dregs_table *table, const char *name, const dregs_dry_row *row,
                      const dregs_dry_point *point)
{
    dregs_table_word(table, name);
    dregs_table_number(table, point->time);
    dregs_table_number(table, CELSIUS(point->temperature));
    dregs_table_number(table, fmax(point->total, 0) * G_PER_M2);
    dregs_table_number(table, row->film.volume > 0 ? point->flammable * PERCENT : NAN);
    dregs_table_end_row(table);
}

static dregs_status fill_curves(void *user, dregs_table *table)
{
    const dregs_dry_result *result = *(const dregs_dry_result *const *)user;
    unsigned i;
    size_t p;

    for (i = 0; i < result->rows && i < ROWS_MOST; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(result, i);
        size_t count = row->drying.points, stride = 1 + count / POINTS_MOST;
        char name[NAME];
        (void)dregs_page_dry_name(row, name);
        for (p = 0; p < count; p += stride)
            put_point(table, name, row, &row->drying.point[p]);
        if (count && (count - 1) % stride)
            put_point(table, name, row, &row->drying.point[count - 1]);
    }
    return DREGS_OK;
}

static void put_curves(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "drawn_curves", DREGS_IN_PICTURE);

    dregs_table_column(table, DREGS_COLUMN_WORD, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "temperature", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "liquid_left", NULL, "g/m2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "flammable", NULL, "%", 0);
    dregs_table_filled_by(table, fill_curves,
                          dregs_report_lasting(d->report, &d->result, sizeof d->result));
}

/* A series for each drying. */
static void add_series(const struct dryings *d, dregs_chart *chart, const char *what,
                       const char *column, int right)
{
    char name[NAME], words[2 * NAME];
    unsigned i;

    for (i = 0; i < d->result->rows && i < ROWS_MOST; i++) {
        (void)dregs_page_dry_name(dregs_dry_result_row(d->result, i), name);
        snprintf(words, sizeof words, "%s%s%s", what, *what ? ", " : "", name);
        dregs_chart_series(chart, words, DREGS_MARK_LINE, "drawn_curves", "time", column);
        dregs_chart_where(chart, "drying", name);
        if (right)
            dregs_chart_right(chart);
    }
}

static dregs_chart *new_chart(const struct dryings *d, const char *key, const char *title,
                              const char *label, const char *unit)
{
    dregs_chart *chart = dregs_report_chart(d->report, key, title);

    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "time", "s", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, label, unit, 0);
    if (d->result->rows > ROWS_MOST)
        dregs_chart_note(chart, "Only the first %d dryings are shown.", ROWS_MOST);
    return chart;
}

static void mark_dry(const struct dryings *d, dregs_chart *chart)
{
    unsigned i;

    for (i = 0; i < d->result->rows && i < ROWS_MOST; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        char label[64], number[DREGS_NUMBER_TEXT];
        double time = row->drying.time;
        if (!row->drying.dry)
            continue;
        snprintf(label, sizeof label, "dry in %s s", dregs_number_plain(number, time, 3));
        dregs_chart_marker(chart, label, time, 0);
    }
}

/* ---- film, bead and hole ---- */

static void put_last(dregs_table *table, const char *name, const char *what, double least,
                     double most)
{
    char words[NAME + 16];

    if (!isfinite(most))
        return;
    snprintf(words, sizeof words, "%s: %s", name, what);
    dregs_table_word(table, words);
    dregs_table_within(table, most, isfinite(least) ? least : NAN, isfinite(least) ? most : NAN);
    dregs_table_end_row(table);
}

static void put_times(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "drawn_times", DREGS_IN_PICTURE);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "what", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "min", 0);
    for (i = 0; i < d->result->rows && i < ROWS_MOST; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        char name[NAME];
        (void)dregs_page_dry_name(row, name);
        put_last(table, name, "film", NAN, row->drying.dry ? row->drying.time / 60 : NAN);
        put_last(table, name, "bead", row->bead_least / 60, row->bead / 60);
        put_last(table, name, "blind hole", NAN, row->recess / 60);
    }
}

/* Where there is more than a film: what is dry last. */
static void chart_times(const struct dryings *d)
{
    const dregs_dry_row *row;
    dregs_chart *chart;
    unsigned i, more = 0;

    for (i = 0; i < d->result->rows && i < ROWS_MOST; i++) {
        row = dregs_dry_result_row(d->result, i);
        more += isfinite(row->bead) || isfinite(row->recess);
    }
    if (!more)
        return;
    put_times(d);
    chart = new_chart(d, "last", "What is dry last", "", "");
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "what", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "dry after", "min", 0);
    dregs_chart_series(chart, "dry after", DREGS_MARK_BARS, "drawn_times", "what", "time");
    dregs_chart_note(chart, "Of a bead the most; the stroke begins at the least, when the part "
                            "keeps it as warm as the air.");
}

/* Is the vapour known, of any drying? */
static int has_vapour(const struct dryings *d)
{
    unsigned i;

    for (i = 0; i < d->result->rows && i < ROWS_MOST; i++)
        if (isfinite(dregs_page_dry_peak(dregs_dry_result_row(d->result, i))))
            return 1;
    return 0;
}

static void chart_vapour(const struct dryings *d, int one)
{
    dregs_chart *chart = new_chart(d, "vapour", "Vapour in the air of the room or oven",
                                   "of the lower flammable limit", "%");
    add_series(d, chart, one ? "vapour" : "", "flammable", 0);
    dregs_chart_limit(chart, "a quarter of the limit,", QUARTER);
}

void dregs_page_dry_pictures(const struct dryings *d)
{
    int one = d->result->rows == 1;
    dregs_chart *chart;

    chart_times(d);
    put_curves(d);
    chart = new_chart(d, "drying", "The film as it dries", "liquid left", "g/m2");
    add_series(d, chart, one ? "liquid left" : "", "liquid_left", 0);
    mark_dry(d, chart);
    if (one) {
        dregs_chart_axis_is(chart, DREGS_AXIS_RIGHT, "temperature of the film", "degC", 0);
        add_series(d, chart, "temperature", "temperature", 1);
    } else {
        chart = new_chart(d, "temperature", "How cold the film gets", "temperature", "degC");
        add_series(d, chart, "", "temperature", 0);
    }
    if (has_vapour(d))
        chart_vapour(d, one);
    dregs_page_dry_doubt_picture(d, d->result->rows < ROWS_MOST ? d->result->rows : ROWS_MOST);
    if (d->line)
        dregs_page_line_picture(d->report, d->line);
}
