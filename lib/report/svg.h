/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* svg.h: the strokes that pictures are drawn with, and where their labels find room.
 *
 * Coordinates are pixels of a page SVG_WIDE wide, x to the right, y downwards. Text is text, so
 * that it can be selected and searched; how wide it will be is only estimated, on the wide side,
 * because the reader's fonts are not known.
 */
#ifndef DREGS_REPORT_SVG_H
#define DREGS_REPORT_SVG_H

#include "report/inside.h"

enum {
    SVG_WIDE = 720,
    SVG_EDGE = 14,   /* left free all around */
    SVG_ROW = 18,    /* from one line of text to the next */
    SVG_COLOURS = 6, /* after which they come again with other dashes */
    SVG_LABELS = 256
};

/* Labels that have been placed, so that none comes to lie on another. */
struct svg_labels {
    struct svg_box {
        double x0, y0, x1, y1;
    } box[SVG_LABELS], within;
    size_t count;
};

/* Escaped for XML and HTML, in text and in quoted attributes alike. */
void dregs_report_svg_escape(struct out *out, const char *text);
/* A coordinate, to a tenth of a pixel, the same in every locale. */
void dregs_report_svg_number(struct out *out, double value);
/* " name='value'" */
void dregs_report_svg_attribute(struct out *out, const char *name, double value);

/* How wide a text may come out, at 13 pixels. */
double dregs_report_svg_width(const char *text);

/* The style of all pictures, as rules of CSS. */
void dregs_report_svg_style(struct out *out);

/* The head of a picture: its size, <title>, <desc>, background, the title on it. */
void dregs_report_svg_begin(struct out *out, int alone, double height, const char *key,
                            const char *title, const char *description);
void dregs_report_svg_end(struct out *out);

/* A text at x, y (its base line). \p anchor: 's'tart, 'm'iddle, 'e'nd. What is wider than \p most
 * pixels is cut, and whole in its <title>. \p class: "" or names of the style. */
void dregs_report_svg_text(struct out *out, double x, double y, const char *class, char anchor,
                           double most, const char *text);
void dregs_report_svg_line(struct out *out, double x0, double y0, double x1, double y1,
                           const char *class);
void dregs_report_svg_rect(struct out *out, double x, double y, double wide, double high,
                           const char *class);
/* A mark of series `index` around x, y: each of the first has a shape of its own. */
void dregs_report_svg_mark(struct out *out, double x, double y, unsigned index);
/* An arrow's head at x, y that points to 'l'eft, 'r'ight, 'd'own or 'u'p. */
void dregs_report_svg_head(struct out *out, double x, double y, char way, const char *class);

/* A label near x, y: beside, above or below it, wherever it fits into `within` and lies on no
 * other. Returns 0 when it fits nowhere and is left out. */
int dregs_report_svg_label(struct out *out, struct svg_labels *labels, double x, double y,
                           const char *class, const char *text);

#endif
