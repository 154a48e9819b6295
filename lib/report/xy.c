/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* xy.c: a chart of numbers against numbers. */
#include "report/plot.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    PLOT_HIGH = 270,
    BAND_WORDS = 54, /* right of the plot */
    BELOW = 46,      /* from the plot to the end of the axis' words */
    TEXT = 900
};

struct plot {
    const dregs_chart *chart;
    const struct points *points;
    struct out *out;
    struct scale x, y, right;
    struct ticks x_ticks, y_ticks, right_ticks;
    struct svg_labels labels;
    double left, top, end, bottom; /* of the plot */
    int has_right;
};

/* ---- what the axes must hold ---- */

static void take_points(struct plot *p)
{
    const struct series *series = p->chart->series.item;
    size_t s, i;

    for (s = 0; s < p->chart->series.count; s++) {
        struct scale *y = series[s].right ? &p->right : &p->y;
        p->has_right = p->has_right || series[s].right;
        for (i = 0; i < p->points[s].count; i++) {
            const struct point *point = &p->points[s].point[i];
            dregs_report_scale_take(&p->x, point->x);
            dregs_report_scale_take(y, point->y);
            dregs_report_scale_take(y, point->low);
            dregs_report_scale_take(y, point->high);
        }
    }
}

/* Nothing but a hair of a plot goes to what lies below a millionth of its top. */
static void cut_depth(struct scale *scale)
{
    if (scale->logarithmic && scale->low < scale->high * 1e-6)
        scale->low = scale->high * 1e-6;
    if (!scale->logarithmic && scale->low > 0 && scale->low < 0.7 * scale->high)
        scale->low = 0;
    if (!scale->logarithmic && scale->high < 0 && scale->high > 0.7 * scale->low)
        scale->high = 0;
}

static void take_around(struct scale *scale, double value)
{
    dregs_report_scale_take(scale, value);
    dregs_report_scale_take(scale, value * (value > 0 ? 1.08 : 0.92));
    if (scale->logarithmic)
        dregs_report_scale_take(scale, value * 0.92);
}

static void take_values(struct plot *p)
{
    const struct limit *limit = p->chart->limits.item;
    const struct marker *marker = p->chart->markers.item;
    size_t i;

    p->x = p->y = p->right = (struct scale){NAN, NAN, 0, 0, 0};
    p->x.logarithmic = p->chart->axis[DREGS_AXIS_X].logarithmic;
    p->y.logarithmic = p->chart->axis[DREGS_AXIS_Y].logarithmic;
    p->right.logarithmic = p->chart->axis[DREGS_AXIS_RIGHT].logarithmic;
    take_points(p);
    for (i = 0; i < p->chart->limits.count; i++) /* with a little room around its line */
        take_around(limit[i].right ? &p->right : &p->y, limit[i].value);
    for (i = 0; i < p->chart->markers.count; i++) {
        dregs_report_scale_take(&p->x, marker[i].x);
        dregs_report_scale_take(&p->y, marker[i].y);
    }
    cut_depth(&p->y);
    cut_depth(&p->right);
    for (i = 0; i < p->chart->markers.count; i++)
        if (isnan(marker[i].y) && *marker[i].label &&
            p->y.low <= p->y.high) { /* room for the words of an event */
            p->y.high = p->y.logarithmic ? p->y.high * pow(p->y.high / p->y.low, 0.1)
                                         : p->y.high + 0.1 * (p->y.high - p->y.low);
            break;
        }
}

static double widest(const struct ticks *ticks)
{
    char number[DREGS_NUMBER_TEXT];
    double most = 0, wide;
    size_t i;

    for (i = 0; i < ticks->count; i++) {
        wide = dregs_report_svg_width(dregs_number_plain(number, ticks->at[i], 4));
        most = wide > most ? wide : most;
    }
    return most;
}

static int has_marks(const struct plot *p)
{
    const struct series *series = p->chart->series.item;
    size_t s;

    for (s = 0; s < p->chart->series.count; s++)
        if (series[s].mark == DREGS_MARK_POINTS)
            return 1;
    return 0;
}

/* Is there a marker at this end of the x axis? */
static int marked_at(const struct plot *p, double x)
{
    const struct marker *marker = p->chart->markers.item;
    size_t i;

    for (i = 0; i < p->chart->markers.count; i++)
        if (isfinite(marker[i].y) && marker[i].x == x)
            return 1;
    return 0;
}

static void set_scales(struct plot *p, double top)
{
    double low = p->x.low, high = p->x.high;

    if (low < high && has_marks(p)) { /* a mark is wider than its point */
        double by = p->x.logarithmic ? pow(high / low, 0.03) : 0.03 * (high - low);
        low = p->x.low = p->x.logarithmic ? low / by : low - by;
        high = p->x.high = p->x.logarithmic ? high * by : high + by;
    }
    if (low < high && marked_at(p, high)) /* a ring needs room, too */
        high = p->x.high =
            p->x.logarithmic ? high * pow(high / low, 0.02) : high + 0.02 * (high - low);
    dregs_report_scale_round(&p->x, 10, &p->x_ticks);
    if (low < high) { /* the x axis ends with the numbers, not at a tick */
        p->x.low = low;
        p->x.high = high;
    }
    dregs_report_scale_round(&p->y, 7, &p->y_ticks);
    dregs_report_scale_round(&p->right, 7, &p->right_ticks);
    p->left = SVG_EDGE + widest(&p->y_ticks) + 10;
    p->end = SVG_WIDE - SVG_EDGE - (p->has_right ? widest(&p->right_ticks) + 10 : 12) -
             (p->chart->bands.count ? BAND_WORDS : 0);
    p->top = top;
    p->bottom = top + PLOT_HIGH;
    p->x.from = p->left;
    p->x.to = p->end;
    p->y.from = p->right.from = p->bottom;
    p->y.to = p->right.to = p->top;
    p->labels.within = (struct svg_box){p->left, p->top, p->end, p->bottom};
}

/* ---- axes ---- */

static void put_y_ticks(const struct plot *p, const struct scale *scale, const struct ticks *ticks,
                        int right)
{
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; i < ticks->count; i++) {
        double y = dregs_report_scale_at(scale, ticks->at[i]);
        if (!right)
            dregs_report_svg_line(p->out, p->left, y, p->end, y, "g");
        dregs_report_svg_text(p->out, right ? p->end + 7 : p->left - 7, y + 4.5, "s",
                              right ? 's' : 'e', SVG_WIDE,
                              dregs_number_plain(number, ticks->at[i], 4));
    }
}

static void put_x_ticks(const struct plot *p)
{
    char number[DREGS_NUMBER_TEXT];
    double free_from = 0;
    size_t i;

    for (i = 0; i < p->x_ticks.count; i++) {
        double value = p->x_ticks.at[i], x, half;
        if (value < p->x.low - 1e-9 * fabs(p->x.low) || value > p->x.high + 1e-9 * fabs(p->x.high))
            continue;
        x = dregs_report_scale_at(&p->x, value);
        half = dregs_report_svg_width(dregs_number_plain(number, value, 4)) / 2;
        dregs_report_svg_line(p->out, x, p->bottom, x, p->bottom + 5, "a");
        if (x - half < free_from || x + half > SVG_WIDE - 2)
            continue;
        dregs_report_svg_text(p->out, x, p->bottom + 19, "s", 'm', SVG_WIDE, number);
        free_from = x + half + 6;
    }
}

static void put_axes(const struct plot *p)
{
    char words[160];

    put_y_ticks(p, &p->y, &p->y_ticks, 0);
    if (p->has_right)
        put_y_ticks(p, &p->right, &p->right_ticks, 1);
    put_x_ticks(p);
    dregs_report_svg_line(p->out, p->left, p->top, p->left, p->bottom, "a");
    dregs_report_svg_line(p->out, p->left, p->bottom, p->end, p->bottom, "a");
    if (p->has_right)
        dregs_report_svg_line(p->out, p->end, p->top, p->end, p->bottom, "a");
    dregs_report_axis_words(&p->chart->axis[DREGS_AXIS_Y], words, sizeof words);
    dregs_report_svg_text(p->out, SVG_EDGE, p->top - 12, "b", 's', SVG_WIDE / 2.0, words);
    dregs_report_axis_words(&p->chart->axis[DREGS_AXIS_RIGHT], words, sizeof words);
    if (p->has_right)
        dregs_report_svg_text(p->out, SVG_WIDE - SVG_EDGE, p->top - 12, "b", 'e', SVG_WIDE / 2.4,
                              words);
    dregs_report_axis_words(&p->chart->axis[DREGS_AXIS_X], words, sizeof words);
    dregs_report_svg_text(p->out, (p->left + p->end) / 2, p->bottom + 38, "b", 'm',
                          p->end - p->left, words);
}

/* ---- what lies behind ---- */

static double clamped(const struct plot *p, double y)
{
    return y < p->top ? p->top : y > p->bottom ? p->bottom : y;
}

static void put_bands(struct plot *p)
{
    const struct band *band = p->chart->bands.item;
    size_t i;

    for (i = 0; i < p->chart->bands.count; i++) {
        double from = p->bottom, to = p->top;
        if (dregs_report_scale_has(&p->y, band[i].low))
            from = clamped(p, dregs_report_scale_at(&p->y, band[i].low));
        if (dregs_report_scale_has(&p->y, band[i].high))
            to = clamped(p, dregs_report_scale_at(&p->y, band[i].high));
        if (from - to > 0.5)
            dregs_report_svg_rect(p->out, p->left, to, p->end - p->left, from - to,
                                  i % 2 ? "zz" : "z");
    }
}

/* Beside the middle of what shows of each band. */
static void put_band_words(struct plot *p)
{
    const struct band *band = p->chart->bands.item;
    double free_to = p->bottom + 4;
    size_t i;

    for (i = 0; i < p->chart->bands.count; i++) {
        double from = p->bottom, to = p->top, y;
        if (dregs_report_scale_has(&p->y, band[i].low))
            from = clamped(p, dregs_report_scale_at(&p->y, band[i].low));
        if (dregs_report_scale_has(&p->y, band[i].high))
            to = clamped(p, dregs_report_scale_at(&p->y, band[i].high));
        y = (from + to) / 2 + 4.5;
        if (from - to < 9 || y > free_to)
            continue;
        dregs_report_svg_text(p->out, p->end + 6, y, "s", 's', BAND_WORDS + 4, band[i].label);
        free_to = y - 15;
    }
}

/* The area between low and high, where they are known. */
static void put_interval(const struct plot *p, size_t s)
{
    const struct series *series = p->chart->series.item;
    const struct scale *y = series[s].right ? &p->right : &p->y;
    const struct points *points = &p->points[s];
    char class[] = "c f0";
    size_t i, used = 0;

    class[3] = (char)('0' + s % SVG_COLOURS);
    for (i = 0; i < 2 * points->count; i++) {
        size_t at = i < points->count ? i : 2 * points->count - 1 - i;
        const struct point *point = &points->point[at];
        double value = i < points->count ? point->high : point->low;
        if (!dregs_report_scale_has(&p->x, point->x) || !dregs_report_scale_has(y, point->high) ||
            !dregs_report_scale_has(y, point->low))
            continue;
        dregs_report_out_text(p->out, used++ ? "L" : "<path d=\"M");
        dregs_report_svg_number(p->out, dregs_report_scale_at(&p->x, point->x));
        dregs_report_out_text(p->out, " ");
        dregs_report_svg_number(p->out, clamped(p, dregs_report_scale_at(y, value)));
    }
    if (!used)
        return;
    dregs_report_out_text(p->out, "Z\" class=\"");
    dregs_report_out_text(p->out, class);
    dregs_report_out_text(p->out, "\"/>\n");
}

/* ---- series ---- */

static void put_path(const struct plot *p, size_t s)
{
    const struct series *series = p->chart->series.item;
    const struct scale *y = series[s].right ? &p->right : &p->y;
    double last = NAN;
    char class[40];
    size_t i, used = 0;

    for (i = 0; i < p->points[s].count; i++) {
        const struct point *point = &p->points[s].point[i];
        double at;
        if (!dregs_report_scale_has(&p->x, point->x) || !dregs_report_scale_has(y, point->y)) {
            last = NAN; /* a gap */
            continue;
        }
        at = clamped(p, dregs_report_scale_at(y, point->y));
        if (!used++)
            dregs_report_out_text(p->out, "<path d=\"");
        if (series[s].mark == DREGS_MARK_STEPS && isfinite(last)) {
            dregs_report_out_text(p->out, "H");
            dregs_report_svg_number(p->out, dregs_report_scale_at(&p->x, point->x));
            dregs_report_out_text(p->out, "V");
        } else {
            dregs_report_out_text(p->out, isfinite(last) ? "L" : "M");
            dregs_report_svg_number(p->out, dregs_report_scale_at(&p->x, point->x));
            dregs_report_out_text(p->out, " ");
        }
        dregs_report_svg_number(p->out, at);
        last = at;
    }
    if (!used)
        return;
    snprintf(class, sizeof class, "\" class=\"l k%u d%u\"/>\n", (unsigned)(s % SVG_COLOURS),
             (unsigned)((s + s / SVG_COLOURS) % SVG_COLOURS));
    dregs_report_out_text(p->out, class);
}

static void put_marks(const struct plot *p, size_t s)
{
    const struct series *series = p->chart->series.item;
    const struct scale *y = series[s].right ? &p->right : &p->y;
    size_t i;

    for (i = 0; i < p->points[s].count; i++) {
        const struct point *point = &p->points[s].point[i];
        double x, from;
        if (!dregs_report_scale_has(&p->x, point->x) || !dregs_report_scale_has(y, point->y))
            continue;
        x = dregs_report_scale_at(&p->x, point->x);
        from = dregs_report_scale_at(y, point->y);
        if (dregs_report_scale_has(y, point->low) && dregs_report_scale_has(y, point->high))
            dregs_report_svg_line(p->out, x, dregs_report_scale_at(y, point->low), x,
                                  dregs_report_scale_at(y, point->high), "i");
        if (series[s].mark == DREGS_MARK_BARS)
            dregs_report_svg_line(p->out, x, p->bottom, x, clamped(p, from), "a");
        dregs_report_svg_mark(p->out, x, clamped(p, from), (unsigned)s);
    }
}

static void put_series(const struct plot *p)
{
    const struct series *series = p->chart->series.item;
    size_t s;

    for (s = 0; s < p->chart->series.count; s++) {
        int path = series[s].mark == DREGS_MARK_LINE || series[s].mark == DREGS_MARK_STEPS;
        if (path)
            put_interval(p, s);
    }
    for (s = 0; s < p->chart->series.count; s++)
        if (series[s].mark == DREGS_MARK_LINE || series[s].mark == DREGS_MARK_STEPS)
            put_path(p, s);
        else
            put_marks(p, s);
}

/* ---- limits, events, markers ---- */

/* The curves as boxes that no label should lie on. */
static void avoid_curves(const struct plot *p, struct svg_labels *labels)
{
    enum { EACH = 40 };
    const struct series *series = p->chart->series.item;
    size_t s, i, stride;

    for (s = 0; s < p->chart->series.count; s++) {
        const struct scale *scale = series[s].right ? &p->right : &p->y;
        stride = 1 + p->points[s].count / EACH;
        for (i = 0; i < p->points[s].count && labels->count < SVG_LABELS - 1; i += stride) {
            const struct point *point = &p->points[s].point[i];
            double x, y;
            if (!dregs_report_scale_has(&p->x, point->x) ||
                !dregs_report_scale_has(scale, point->y))
                continue;
            x = dregs_report_scale_at(&p->x, point->x);
            y = dregs_report_scale_at(scale, point->y);
            labels->box[labels->count++] = (struct svg_box){x - 4, y - 2, x + 4, y + 2};
        }
    }
}

/* A label that lies on no other, and on no curve if there is room. */
static void put_label(struct plot *p, double x, double y, const char *class, const char *text)
{
    struct svg_labels crowded = p->labels;

    avoid_curves(p, &crowded);
    if (dregs_report_svg_label(p->out, &crowded, x, y, class, text)) {
        if (p->labels.count < SVG_LABELS)
            p->labels.box[p->labels.count++] = crowded.box[crowded.count - 1];
        return;
    }
    (void)dregs_report_svg_label(p->out, &p->labels, x, y, class, text);
}

static void put_limits(struct plot *p)
{
    const struct limit *limit = p->chart->limits.item;
    size_t i;

    for (i = 0; i < p->chart->limits.count; i++) {
        const struct scale *scale = limit[i].right ? &p->right : &p->y;
        const struct axis *axis = &p->chart->axis[limit[i].right ? DREGS_AXIS_RIGHT : DREGS_AXIS_Y];
        char number[DREGS_NUMBER_TEXT], words[160];
        double y;
        if (!dregs_report_scale_has(scale, limit[i].value))
            continue;
        y = dregs_report_scale_at(scale, limit[i].value);
        dregs_report_svg_line(p->out, p->left, y, p->end, y, limit[i].reference ? "e" : "m");
        snprintf(words, sizeof words, "%s %s %s", limit[i].label,
                 dregs_number_plain(number, limit[i].value, 4), axis->unit ? axis->unit : "");
        put_label(p, p->end - 4, y + 2, limit[i].reference ? "b h" : "r b h", words);
    }
}

static void put_events(struct plot *p)
{
    const struct marker *marker = p->chart->markers.item;
    size_t i;

    for (i = 0; i < p->chart->markers.count; i++)
        if (isnan(marker[i].y) && dregs_report_scale_has(&p->x, marker[i].x)) {
            double x = dregs_report_scale_at(&p->x, marker[i].x);
            dregs_report_svg_line(p->out, x, p->top, x, p->bottom, "e");
        }
}

static void put_event_words(struct plot *p)
{
    const struct marker *marker = p->chart->markers.item;
    size_t i;

    for (i = 0; i < p->chart->markers.count; i++)
        if (isnan(marker[i].y) && *marker[i].label && dregs_report_scale_has(&p->x, marker[i].x))
            (void)dregs_report_svg_label(p->out, &p->labels,
                                         dregs_report_scale_at(&p->x, marker[i].x) + 4, p->top - 4,
                                         "s h", marker[i].label);
}

static void put_markers(struct plot *p)
{
    const struct marker *marker = p->chart->markers.item;
    size_t i;

    for (i = 0; i < p->chart->markers.count; i++) {
        double x, y;
        if (!dregs_report_scale_has(&p->x, marker[i].x) ||
            !dregs_report_scale_has(&p->y, marker[i].y))
            continue;
        x = dregs_report_scale_at(&p->x, marker[i].x);
        y = dregs_report_scale_at(&p->y, marker[i].y);
        dregs_report_out_text(p->out, "<circle");
        dregs_report_svg_attribute(p->out, "cx", x);
        dregs_report_svg_attribute(p->out, "cy", y);
        dregs_report_out_text(p->out, " r=\"7\" class=\"p\"/>\n");
        put_label(p, x, y - 4, "b h", marker[i].label);
    }
}

dregs_status dregs_report_draw_xy(const dregs_chart *chart, const struct points *points, int alone,
                                  struct out *out)
{
    struct plot p = {.chart = chart, .points = points, .out = out};
    struct out nowhere = {.failed = DREGS_IO};
    char description[TEXT];
    double top = dregs_report_legend(&nowhere, chart, 0, 47) + 22, below;

    take_values(&p);
    set_scales(&p, top);
    below = p.bottom + BELOW;
    dregs_report_describe(chart, points, description, sizeof description);
    dregs_report_svg_begin(out, alone, dregs_report_note(NULL, chart->note, below + 12), chart->key,
                           chart->title, description);
    (void)dregs_report_legend(out, chart, 0, 47);
    put_bands(&p);
    put_axes(&p);
    put_events(&p);
    put_series(&p);
    put_limits(&p);
    put_markers(&p);
    put_event_words(&p);
    put_band_words(&p);
    (void)dregs_report_note(out, chart->note, below + 14);
    dregs_report_svg_end(out);
    return DREGS_OK;
}
