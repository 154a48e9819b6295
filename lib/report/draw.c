/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* draw.c: the numbers of a chart, taken from the tables of its report, and what all charts have:
 * legend, note, a description in words. */
#include "report/plot.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the numbers ---- */

/* A series while the rows of its table pass. */
struct taking {
    const struct series *series;
    struct points *points;
    struct dregs_pool *pool;
    size_t x, y, where[DREGS_CHART_WHERE];
    dregs_status status;
};

static int column_of(const dregs_table *table, const char *key, size_t *index)
{
    for (*index = 0; *index < table->columns; ++*index)
        if (strcmp(table->column[*index].key, key) == 0)
            return 1;
    return 0;
}

/* Of several of one key the one that programs read. */
static dregs_table *table_of(const dregs_report *report, const char *key)
{
    dregs_table *const *table = report->tables.item, *found = NULL;
    size_t i;

    for (i = 0; i < report->tables.count; i++)
        if (strcmp(table[i]->key, key) == 0 &&
            (!found || (table[i]->where & (DREGS_IN_PICTURE | DREGS_IN_JSON))))
            found = table[i];
    return found;
}

static double number_of(const struct datum *cell)
{
    return cell->kind == DATUM_NUMBER                              ? cell->number.value
           : cell->kind == DATUM_COUNT || cell->kind == DATUM_FLAG ? (double)cell->count
                                                                   : NAN;
}

static struct point *more_points(struct taking *t)
{
    struct points *points = t->points;

    if (points->count == points->room) {
        size_t room = points->room ? 2 * points->room : 64;
        struct point *larger = realloc(points->point, room * sizeof *larger);
        if (!larger) {
            t->status = DREGS_NO_MEMORY;
            return NULL;
        }
        points->point = larger;
        points->room = room;
    }
    return &points->point[points->count++];
}

static void take_row(void *user, dregs_table *table)
{
    struct taking *t = user;
    const struct datum *cell = dregs_report_table_last_row(table);
    struct point *point;
    unsigned i;

    for (i = 0; i < t->series->wheres; i++) {
        const struct datum *of = &cell[t->where[i]];
        if (of->kind != DATUM_WORD || strcmp(of->word, t->series->where[i].word) != 0)
            return;
    }
    point = t->status ? NULL : more_points(t);
    if (!point)
        return;
    memset(point, 0, sizeof *point);
    if (cell[t->x].kind == DATUM_WORD) {
        t->points->words = 1;
        point->word = dregs_pool_text(t->pool, cell[t->x].word);
        if (!point->word)
            t->status = DREGS_NO_MEMORY;
    }
    point->x = number_of(&cell[t->x]);
    point->y = number_of(&cell[t->y]);
    point->low = cell[t->y].kind == DATUM_NUMBER ? cell[t->y].number.low : NAN;
    point->high = cell[t->y].kind == DATUM_NUMBER ? cell[t->y].number.high : NAN;
}

static dregs_status take_series(const dregs_report *report, const struct series *series,
                                struct dregs_pool *pool, struct points *points)
{
    struct taking t = {series, points, pool, 0, 0, {0}, DREGS_OK};
    dregs_table *table = table_of(report, series->table);
    dregs_status status;
    unsigned i;

    if (!table || !column_of(table, series->x, &t.x) || !column_of(table, series->y, &t.y))
        return DREGS_DOMAIN;
    for (i = 0; i < series->wheres; i++)
        if (!column_of(table, series->where[i].column, &t.where[i]))
            return DREGS_DOMAIN;
    status = dregs_report_table_rows(table, take_row, &t);
    return status ? status : t.status;
}

static dregs_status draw_chart(const dregs_chart *chart, int alone, struct out *out)
{
    const struct series *series = chart->series.item;
    size_t count = chart->series.count, i;
    struct points *points = calloc(count + 1, sizeof *points);
    struct dregs_pool pool = {NULL};
    dregs_status status = points ? DREGS_OK : DREGS_NO_MEMORY;
    int words = 0;

    for (i = 0; i < count && !status; i++) {
        status = take_series(chart->report, &series[i], &pool, &points[i]);
        words = words || points[i].words;
    }
    if (!status)
        status = words ? dregs_report_draw_bars(chart, points, alone, out)
                       : dregs_report_draw_xy(chart, points, alone, out);
    for (i = 0; points && i < count; i++)
        free(points[i].point);
    free(points);
    dregs_pool_clear(&pool);
    return status;
}

dregs_status dregs_report_draw(const struct picture *picture, int alone, struct out *out)
{
    if (!picture->flow)
        return draw_chart(picture->chart, alone, out);
    return picture->flow->kind == DREGS_FLOW_STAGES
               ? dregs_report_draw_stages(picture->flow, alone, out)
               : dregs_report_draw_widths(picture->flow, alone, out);
}

/* ---- legend and note ---- */

enum { SWATCH = 30 };

/* The next entry's place, on a new row where this one is full. */
static void place_entry(double *x, double *y, double wide)
{
    if (*x > SVG_EDGE && *x + SWATCH + wide > SVG_WIDE - SVG_EDGE) {
        *x = SVG_EDGE;
        *y += SVG_ROW;
    }
}

static void put_swatch(struct out *out, const struct series *series, size_t index, int filled,
                       double x, double y)
{
    char class[16];

    if (filled || series->mark == DREGS_MARK_BARS) {
        snprintf(class, sizeof class, "f f%u", (unsigned)(index % SVG_COLOURS));
        dregs_report_svg_rect(out, x, y - 11, 20, 12, class);
        return;
    }
    if (series->mark == DREGS_MARK_POINTS) {
        dregs_report_svg_mark(out, x + 10, y - 4, (unsigned)index);
        return;
    }
    snprintf(class, sizeof class, "l k%u d%u", (unsigned)(index % SVG_COLOURS),
             (unsigned)((index + index / SVG_COLOURS) % SVG_COLOURS));
    dregs_report_svg_line(out, x, y - 4, x + 24, y - 4, class);
}

double dregs_report_legend(struct out *out, const dregs_chart *chart, int filled, double y)
{
    const struct series *series = chart->series.item;
    double x = SVG_EDGE;
    size_t i;

    if (chart->series.count < 2 && !(chart->series.count && series[0].right))
        return y;
    for (i = 0; i < chart->series.count; i++) {
        char words[200];
        double wide;
        snprintf(words, sizeof words, "%s%s", series[i].name, series[i].right ? " (right)" : "");
        wide = dregs_report_svg_width(words);
        place_entry(&x, &y, wide);
        put_swatch(out, &series[i], i, filled, x, y);
        dregs_report_svg_text(out, x + SWATCH, y, "", 's', SVG_WIDE - SVG_EDGE - x - SWATCH, words);
        x += SWATCH + wide + 16;
    }
    return y + SVG_ROW;
}

double dregs_report_note(struct out *out, const char *note, double y)
{
    char row[400];
    size_t used = 0;

    while (note && *note) {
        size_t length = strcspn(note, " ");
        size_t start = used;
        if (used + length + 2 > sizeof row)
            break;
        if (used)
            row[used++] = ' ';
        memcpy(row + used, note, length);
        used += length;
        row[used] = '\0';
        if (start && dregs_report_svg_width(row) > SVG_WIDE - 2 * SVG_EDGE) {
            row[start] = '\0';
            if (out)
                dregs_report_svg_text(out, SVG_EDGE, y, "s", 's', SVG_WIDE, row);
            y += SVG_ROW;
            used = 0;
            continue;
        }
        note += length;
        note += strspn(note, " ");
    }
    if (used) {
        if (out)
            dregs_report_svg_text(out, SVG_EDGE, y, "s", 's', SVG_WIDE - 2 * SVG_EDGE, row);
        y += SVG_ROW;
    }
    return y;
}

/* ---- in words ---- */

static void say_series(const struct series *series, const struct points *points, char *into,
                       size_t room)
{
    struct scale all = {NAN, NAN, 0, 0, 0};
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; i < points->count; i++)
        dregs_report_scale_take(&all, points->point[i].y);
    if (all.low <= all.high)
        snprintf(into, room, " %s: %s to %s.", series->name, dregs_number_plain(low, all.low, 3),
                 dregs_number_plain(high, all.high, 3));
    else
        snprintf(into, room, " %s: no values.", series->name);
}

void dregs_report_describe(const dregs_chart *chart, const struct points *points, char *into,
                           size_t room)
{
    const struct series *series = chart->series.item;
    const struct limit *limit = chart->limits.item;
    char x[160], y[160], number[DREGS_NUMBER_TEXT];
    size_t i;

    dregs_report_axis_words(&chart->axis[DREGS_AXIS_X], x, sizeof x);
    dregs_report_axis_words(&chart->axis[DREGS_AXIS_Y], y, sizeof y);
    snprintf(into, room, "%s against %s.", y, x);
    for (i = 0; i < chart->series.count; i++)
        say_series(&series[i], &points[i], into + strlen(into), room - strlen(into));
    for (i = 0; i < chart->limits.count; i++)
        snprintf(into + strlen(into), room - strlen(into), " %s at %s.", limit[i].label,
                 dregs_number_plain(number, limit[i].value, 4));
}
