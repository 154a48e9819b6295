/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bars.c: a chart of numbers against words: a bar for each word, its series one behind the other,
 * what is negative to the left. A series of points stands on the bars as marks; spans are bars that
 * do not begin at 0, slimmer where one would hide another.
 */
#include "report/plot.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { BAR = 20, PITCH = 30, NAMES_MOST = 280, BARS_MOST = 60, TEXT = 900 };

struct bars {
    const dregs_chart *chart;
    const struct points *points;
    struct out *out;
    const char *word[BARS_MOST];
    size_t words;
    struct scale scale;
    struct ticks ticks;
    double left, end, top, bottom;
};

static void take_words(struct bars *b)
{
    size_t s, i, k;

    for (s = 0; s < b->chart->series.count; s++)
        for (i = 0; i < b->points[s].count; i++) {
            const char *word = b->points[s].point[i].word;
            for (k = 0; word && k < b->words && strcmp(b->word[k], word) != 0;)
                k++;
            if (word && k == b->words && b->words < BARS_MOST)
                b->word[b->words++] = word;
        }
}

/* The value of a series at a word; NULL when it has none. */
static const struct point *point_at(const struct bars *b, size_t s, size_t word)
{
    size_t i;

    for (i = 0; i < b->points[s].count; i++)
        if (b->points[s].point[i].word && strcmp(b->points[s].point[i].word, b->word[word]) == 0)
            return &b->points[s].point[i];
    return NULL;
}

static int is_bar(const struct bars *b, size_t s)
{
    const struct series *series = b->chart->series.item;

    return series[s].mark != DREGS_MARK_POINTS && series[s].mark != DREGS_MARK_SPANS;
}

static int is_span(const struct bars *b, size_t s)
{
    const struct series *series = b->chart->series.item;

    return series[s].mark == DREGS_MARK_SPANS;
}

/* Is nothing measured from 0? */
static int all_spans(const struct bars *b)
{
    size_t s = 0;

    while (s < b->chart->series.count && is_span(b, s))
        s++;
    return s > 0 && s == b->chart->series.count;
}

static void take_values(struct bars *b)
{
    const struct limit *limit = b->chart->limits.item;
    size_t w, s, i;

    b->scale = (struct scale){0, 0, 0, 0, 0};
    if (all_spans(b))
        b->scale.low = b->scale.high = NAN;
    for (w = 0; w < b->words; w++) {
        double above = 0, below = 0;
        for (s = 0; s < b->chart->series.count; s++) {
            const struct point *point = point_at(b, s, w);
            if (!point)
                continue;
            dregs_report_scale_take(&b->scale, point->low);
            dregs_report_scale_take(&b->scale, point->high);
            if (!is_bar(b, s))
                dregs_report_scale_take(&b->scale, point->y);
            else if (point->y > 0)
                above += point->y;
            else if (point->y < 0)
                below += point->y;
        }
        if (all_spans(b))
            continue;
        dregs_report_scale_take(&b->scale, above);
        dregs_report_scale_take(&b->scale, below);
    }
    for (i = 0; i < b->chart->limits.count; i++)
        dregs_report_scale_take(&b->scale, limit[i].value);
}

static void set_scale(struct bars *b, double top)
{
    double names = 40, wide;
    size_t w;

    for (w = 0; w < b->words; w++) {
        wide = dregs_report_svg_width(b->word[w]);
        names = wide > names ? wide : names;
    }
    if (names > NAMES_MOST)
        names = NAMES_MOST;
    b->left = SVG_EDGE + names + 10 + (b->scale.low < 0 ? 50 : 0);
    b->end = SVG_WIDE - SVG_EDGE - (all_spans(b) ? 132 : 64); /* the numbers beside the bars */
    dregs_report_scale_round(&b->scale, (int)((b->end - b->left) / 68), &b->ticks);
    b->top = top;
    b->bottom = top + (double)b->words * PITCH + 6;
    b->scale.from = b->left;
    b->scale.to = b->end;
}

static void put_axes(const struct bars *b)
{
    char number[DREGS_NUMBER_TEXT], words[160];
    double zero = b->scale.low > 0 ? b->left : dregs_report_scale_at(&b->scale, 0);
    size_t i;

    for (i = 0; i < b->ticks.count; i++) {
        double x = dregs_report_scale_at(&b->scale, b->ticks.at[i]);
        dregs_report_svg_line(b->out, x, b->top, x, b->bottom, "g");
        dregs_report_svg_text(b->out, x, b->bottom + 17, "s", 'm', SVG_WIDE,
                              dregs_number_plain(number, b->ticks.at[i], 4));
    }
    dregs_report_svg_line(b->out, zero, b->top, zero, b->bottom, "a");
    dregs_report_axis_words(&b->chart->axis[DREGS_AXIS_Y], words, sizeof words);
    dregs_report_svg_text(b->out, (b->left + b->end) / 2, b->bottom + 37, "b", 'm',
                          b->end - b->left, words);
}

/* The whiskers of an interval, over the bar. */
static void put_whiskers(const struct bars *b, const struct point *point, double y)
{
    double from = dregs_report_scale_at(&b->scale, point->low),
           to = dregs_report_scale_at(&b->scale, point->high);

    dregs_report_svg_line(b->out, from, y, to, y, "i");
    dregs_report_svg_line(b->out, from, y - 5, from, y + 5, "i");
    dregs_report_svg_line(b->out, to, y - 5, to, y + 5, "i");
}

static void to_right(double *last, double x)
{
    if (x > *last)
        *last = x;
}

/* The spans of a word. Returns where they end on the right; \p words: from where to where. */
static double put_spans(const struct bars *b, size_t w, double y, char words[TEXT])
{
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT], class[] = "f f0";
    struct scale all = {NAN, NAN, 0, 0, 0};
    size_t s, inset = 0;

    *words = '\0';
    for (s = 0; s < b->chart->series.count; s++) {
        const struct point *point = point_at(b, s, w);
        double from, to;
        if (!point || !isfinite(point->low) || !isfinite(point->high))
            continue;
        if (point->low < all.high && all.low < point->high)
            inset += inset < BAR / 2 - 4 ? 3 : 0;
        dregs_report_scale_take(&all, point->low);
        dregs_report_scale_take(&all, point->high);
        from = dregs_report_scale_at(&b->scale, point->low);
        to = dregs_report_scale_at(&b->scale, point->high);
        class[3] = (char)('0' + s % SVG_COLOURS);
        if (to - from > 0.05)
            dregs_report_svg_rect(b->out, from, y + (double)inset, to - from,
                                  BAR - 2 * (double)inset, class);
    }
    if (!(all.low <= all.high))
        return b->left;
    snprintf(words, TEXT, "%s to %s", dregs_number_plain(low, all.low, 3),
             dregs_number_plain(high, all.high, 3));
    return dregs_report_scale_at(&b->scale, all.high);
}

/* The bars of a word. Returns where they end on the right. */
static double put_word(const struct bars *b, size_t w, double y, double *sum)
{
    double above = 0, below = 0, last = dregs_report_scale_at(&b->scale, 0);
    size_t s;

    *sum = 0;
    for (s = 0; s < b->chart->series.count; s++) {
        const struct point *point = point_at(b, s, w);
        char class[] = "f f0";
        double from, to;
        if (!point || !isfinite(point->y) || !is_bar(b, s))
            continue;
        from = point->y > 0 ? above : below;
        to = from + point->y;
        *(point->y > 0 ? &above : &below) = to;
        *sum += point->y;
        class[3] = (char)('0' + s % SVG_COLOURS);
        from = dregs_report_scale_at(&b->scale, from);
        to = dregs_report_scale_at(&b->scale, to);
        if (fabs(to - from) > 0.05)
            dregs_report_svg_rect(b->out, from < to ? from : to, y, fabs(to - from), BAR, class);
        last = to > last ? to : last;
    }
    for (s = 0; s < b->chart->series.count; s++) {
        const struct point *point = point_at(b, s, w);
        if (!point)
            continue;
        if (isfinite(point->low) && isfinite(point->high)) {
            put_whiskers(b, point, y + BAR / 2.0);
            to_right(&last, dregs_report_scale_at(&b->scale, point->high));
        }
        if (!is_bar(b, s) && isfinite(point->y)) {
            double x = dregs_report_scale_at(&b->scale, point->y);
            dregs_report_svg_mark(b->out, x, y + BAR / 2.0, (unsigned)s);
            to_right(&last, x + 5);
        }
    }
    return last;
}

static void put_bars(const struct bars *b)
{
    char number[DREGS_NUMBER_TEXT], words[TEXT];
    size_t w;

    for (w = 0; w < b->words; w++) {
        double y = b->top + 8 + (double)w * PITCH, sum, last;
        if (all_spans(b)) {
            last = put_spans(b, w, y, words);
            dregs_report_svg_text(b->out, b->left - 8, y + 15, "", 'e', NAMES_MOST, b->word[w]);
            dregs_report_svg_text(b->out, last + 6, y + 15, "h", 's', SVG_WIDE, words);
            continue;
        }
        last = put_word(b, w, y, &sum);
        dregs_report_svg_text(b->out, b->left - (b->scale.low < 0 ? 58 : 8), y + 15, "", 'e',
                              NAMES_MOST, b->word[w]);
        if (b->scale.low < 0 && b->chart->series.count > 1)
            continue; /* bars to both sides have no one number */
        dregs_report_svg_text(
            b->out, sum < 0 ? dregs_report_scale_at(&b->scale, sum) - 6 : last + 6, y + 15, "h",
            sum < 0 ? 'e' : 's', SVG_WIDE, dregs_number_plain(number, sum, 3));
    }
}

static void put_limits(const struct bars *b, double y)
{
    const struct limit *limit = b->chart->limits.item;
    struct svg_labels labels = {.count = 0};
    char number[DREGS_NUMBER_TEXT], words[160];
    const char *unit = b->chart->axis[DREGS_AXIS_Y].unit;
    size_t i;

    labels.within = (struct svg_box){SVG_EDGE, y - 15, SVG_WIDE - SVG_EDGE, y + 60};
    for (i = 0; i < b->chart->limits.count; i++) {
        double x = dregs_report_scale_at(&b->scale, limit[i].value);
        dregs_report_svg_line(b->out, x, b->top - 4, x, b->bottom, limit[i].reference ? "e" : "m");
        snprintf(words, sizeof words, "%s %s %s", limit[i].label,
                 dregs_number_plain(number, limit[i].value, 4), unit ? unit : "");
        (void)dregs_report_svg_label(b->out, &labels, x, y + 9,
                                     limit[i].reference ? "b h" : "r b h", words);
    }
}

dregs_status dregs_report_draw_bars(const dregs_chart *chart, const struct points *points,
                                    int alone, struct out *out)
{
    struct bars b = {.chart = chart, .points = points, .out = out};
    struct out nowhere = {.failed = DREGS_IO};
    char description[TEXT];
    double top = dregs_report_legend(&nowhere, chart, 1, 47), limits = top;

    top += chart->limits.count ? 18 : 0;
    take_words(&b);
    take_values(&b);
    set_scale(&b, top - 8);
    dregs_report_describe(chart, points, description, sizeof description);
    dregs_report_svg_begin(out, alone, dregs_report_note(NULL, chart->note, b.bottom + 58),
                           chart->key, chart->title, description);
    (void)dregs_report_legend(out, chart, 1, 47);
    put_axes(&b);
    put_bars(&b);
    put_limits(&b, limits);
    (void)dregs_report_note(out, chart->note, b.bottom + 60);
    dregs_report_svg_end(out);
    return DREGS_OK;
}
