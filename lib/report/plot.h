/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* plot.h: what the files that draw a chart share. */
#ifndef DREGS_REPORT_PLOT_H
#define DREGS_REPORT_PLOT_H

#include "report/svg.h"

struct point {
    double x, y, low, high;
    const char *word; /* where x is one */
};

/* The numbers of a series. */
struct points {
    struct point *point;
    size_t count, room;
    int words;
};

/* From values to pixels. */
struct scale {
    double low, high;
    int logarithmic;
    double from, to; /* pixels of low and high */
};

enum { TICKS = 24 };
struct ticks {
    double at[TICKS];
    size_t count;
};

/* Widens low and high so that they take `value` in, where it can be drawn. */
void dregs_report_scale_take(struct scale *scale, double value);
/* Rounds the ends to ticks; a scale that has seen no value is 0 to 1. `most`: ticks at most. */
void dregs_report_scale_round(struct scale *scale, int most, struct ticks *ticks);
double dregs_report_scale_at(const struct scale *scale, double value);
/* Can it be drawn: finite, above 0 where the scale is logarithmic? */
int dregs_report_scale_has(const struct scale *scale, double value);
/* "residue, ug/cm2" */
void dregs_report_axis_words(const struct axis *axis, char *into, size_t room);

/* The names of a chart's series and limits with their strokes, from `y` on; returns the y below. */
double dregs_report_legend(struct out *out, const dregs_chart *chart, int filled, double y);
/* A note below the picture, broken into rows; returns the y below. With no `out` it only counts. */
double dregs_report_note(struct out *out, const char *note, double y);

dregs_status dregs_report_draw_bars(const dregs_chart *chart, const struct points *points,
                                    int alone, struct out *out);
dregs_status dregs_report_draw_xy(const dregs_chart *chart, const struct points *points, int alone,
                                  struct out *out);
dregs_status dregs_report_draw_stages(const dregs_flow *flow, int alone, struct out *out);
dregs_status dregs_report_draw_widths(const dregs_flow *flow, int alone, struct out *out);
/* What a chart shows, in words, for those who do not see it. */
void dregs_report_describe(const dregs_chart *chart, const struct points *points, char *into,
                           size_t room);

#endif
