/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* svg.c: lines, texts and marks of a picture as SVG 1.1, and its style. */
#include "report/svg.h"
#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Colours: Okabe and Ito, "Color Universal Design" (2008), told apart by the colour-blind (as a
 * line the orange is a little darker, as blue is lighter on dark paper); in an order that puts
 * light beside dark, for grey. Their dashes and marks differ too. */
static const char *const style =
    ".dregs text{font:13px Helvetica,Arial,'Liberation Sans',sans-serif;fill:#1a1a1a}"
    ".dregs .t{font-weight:bold;font-size:15px}.dregs .b{font-weight:bold}"
    ".dregs .s{fill:#454545}.dregs .h{paint-order:stroke;stroke:#fff;stroke-width:4px;"
    "stroke-linejoin:round}.dregs .r{fill:#a3121f}"
    ".dregs .bg{fill:#fff}.dregs .g{stroke:#dcdcdc;fill:none}.dregs .a{stroke:#555;fill:none}"
    ".dregs .i{stroke:#1a1a1a;stroke-width:1.6px;fill:none}"
    ".dregs .m{stroke:#a3121f;stroke-width:2px;stroke-dasharray:9 3;fill:none}"
    ".dregs .e{stroke:#666;stroke-dasharray:2 3;fill:none}.dregs .z{fill:#eef0f2}"
    ".dregs .zz{fill:#f8f9fa}.dregs .box{fill:#f2f5f7;stroke:#555}"
    ".dregs .p{stroke:#1a1a1a;stroke-width:3px;fill:none}.dregs .ph{fill:#1a1a1a}"
    ".dregs .w{stroke:#0072b2;stroke-width:2px;fill:none}.dregs .wh{fill:#0072b2}"
    ".dregs .l{fill:none;stroke-width:2.2px;stroke-linejoin:round}"
    ".dregs .c{fill-opacity:.22;stroke:none}.dregs .f{stroke:#fff;stroke-width:1px}"
    ".dregs .v{fill-opacity:.5;stroke:none}"
    ".dregs .k0{stroke:#0072b2}.dregs .k1{stroke:#d98e00}.dregs .k2{stroke:#009e73}"
    ".dregs .k3{stroke:#56b4e9}.dregs .k4{stroke:#d55e00}.dregs .k5{stroke:#cc79a7}"
    ".dregs .f0{fill:#0072b2}.dregs .f1{fill:#e69f00}.dregs .f2{fill:#009e73}"
    ".dregs .f3{fill:#56b4e9}.dregs .f4{fill:#d55e00}.dregs .f5{fill:#cc79a7}"
    ".dregs .d1{stroke-dasharray:8 4}.dregs .d2{stroke-dasharray:3 3}"
    ".dregs .d3{stroke-dasharray:10 3 3 3}.dregs .d4{stroke-dasharray:1 4;stroke-linecap:round}"
    ".dregs .d5{stroke-dasharray:14 5}"
    "@media screen and (prefers-color-scheme:dark){.dregs text{fill:#f0f0f0}.dregs .s{fill:#c6cacd}"
    ".dregs .h{stroke:#15181b}.dregs .r{fill:#ff9b9b}.dregs .bg{fill:#15181b}"
    ".dregs .g{stroke:#353b40}.dregs .a{stroke:#a0a6ab}.dregs .i{stroke:#f0f0f0}"
    ".dregs .m{stroke:#ff9b9b}"
    ".dregs .e{stroke:#a0a6ab}.dregs .z{fill:#22272b}.dregs .zz{fill:#1b1f23}"
    ".dregs .box{fill:#22272b;stroke:#a0a6ab}.dregs .p{stroke:#f0f0f0}.dregs .ph{fill:#f0f0f0}"
    ".dregs .w{stroke:#56b4e9}.dregs .wh{fill:#56b4e9}.dregs .f{stroke:#15181b}"
    ".dregs .k0{stroke:#4ba3dd}.dregs .f0{fill:#4ba3dd}}";

void dregs_report_svg_style(struct out *out)
{
    dregs_report_out_text(out, style);
}

static void put_character(struct out *out, const char *at)
{
    switch (*at) {
    case '&':
        dregs_report_out_text(out, "&amp;");
        break;
    case '<':
        dregs_report_out_text(out, "&lt;");
        break;
    case '>':
        dregs_report_out_text(out, "&gt;");
        break;
    case '"':
        dregs_report_out_text(out, "&quot;");
        break;
    case '\'':
        dregs_report_out_text(out, "&#39;");
        break;
    default: /* XML knows no control codes */
        dregs_report_out_bytes(out, (unsigned char)*at < 0x20 && *at != '\n' ? " " : at, 1);
    }
}

void dregs_report_svg_escape(struct out *out, const char *text)
{
    size_t length = strlen(text), good;

    while (length) {
        good = dregs_utf8_span(text, length);
        length -= good;
        for (; good; good--)
            put_character(out, text++);
        if (!length)
            return;
        dregs_report_out_text(out, "\xEF\xBF\xBD"); /* a byte that is no character */
        text++;
        length--;
    }
}

void dregs_report_svg_number(struct out *out, double value)
{
    char text[DREGS_NUMBER_TEXT];
    long tenths = lround(value * 10), whole = labs(tenths);

    snprintf(text, sizeof text, "%s%ld", tenths < 0 ? "-" : "", whole / 10);
    dregs_report_out_text(out, text);
    if (whole % 10) {
        snprintf(text, sizeof text, ".%ld", whole % 10);
        dregs_report_out_text(out, text);
    }
}

void dregs_report_svg_attribute(struct out *out, const char *name, double value)
{
    dregs_report_out_text(out, " ");
    dregs_report_out_text(out, name);
    dregs_report_out_text(out, "=\"");
    dregs_report_svg_number(out, value);
    dregs_report_out_text(out, "\"");
}

static void put_class(struct out *out, const char *class)
{
    dregs_report_out_text(out, " class=\"");
    dregs_report_out_text(out, class);
    dregs_report_out_text(out, "\"");
}

/* What a character takes at 13 pixels, by its first byte. Widths of Liberation Sans and DejaVu Sans
 * (measured), the wider of the two. */
static double wide(unsigned char c)
{
    if (c >= 0xE3) /* CJK and what is beyond */
        return 13.5;
    if (c >= 0x80)
        return 10;
    if (strchr("iIjlt.,:;'|!()[]/ f-r", c))
        return 5.4;
    if (strchr("mwMW@%", c))
        return 13;
    return c >= 'A' && c <= 'Z' ? 9.4 : 8.2;
}

double dregs_report_svg_width(const char *text)
{
    double sum = 0;

    for (; *text; text++)
        if (((unsigned char)*text & 0xC0) != 0x80)
            sum += wide((unsigned char)*text);
    return sum;
}

void dregs_report_svg_begin(struct out *out, int alone, double height, const char *key,
                            const char *title, const char *description)
{
    if (alone)
        dregs_report_out_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    dregs_report_out_text(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"dregs\" "
                               "viewBox=\"0 0 ");
    dregs_report_svg_number(out, SVG_WIDE);
    dregs_report_out_text(out, " ");
    dregs_report_svg_number(out, height);
    dregs_report_out_text(out, "\"");
    if (alone) {
        dregs_report_svg_attribute(out, "width", SVG_WIDE);
        dregs_report_svg_attribute(out, "height", height);
    }
    dregs_report_out_text(out, " role=\"img\" aria-labelledby=\"");
    dregs_report_out_text(out, key);
    dregs_report_out_text(out, "-t ");
    dregs_report_out_text(out, key);
    dregs_report_out_text(out, "-d\">\n<title id=\"");
    dregs_report_out_text(out, key);
    dregs_report_out_text(out, "-t\">");
    dregs_report_svg_escape(out, title);
    dregs_report_out_text(out, "</title>\n<desc id=\"");
    dregs_report_out_text(out, key);
    dregs_report_out_text(out, "-d\">");
    dregs_report_svg_escape(out, description);
    dregs_report_out_text(out, "</desc>\n");
    if (alone) {
        dregs_report_out_text(out, "<style>");
        dregs_report_svg_style(out);
        dregs_report_out_text(out, "</style>\n");
    }
    dregs_report_svg_rect(out, 0, 0, SVG_WIDE, height, "bg");
    dregs_report_svg_text(out, SVG_EDGE, 25, "t", 's', 0.8 * (SVG_WIDE - 2 * SVG_EDGE), title);
}

void dregs_report_svg_end(struct out *out)
{
    dregs_report_out_text(out, "</svg>\n");
}

void dregs_report_svg_text(struct out *out, double x, double y, const char *class, char anchor,
                           double most, const char *text)
{
    const char *end = text;
    int cut = dregs_report_svg_width(text) > most;
    double used = 13;

    if (!*text)
        return;
    dregs_report_out_text(out, "<text");
    dregs_report_svg_attribute(out, "x", x);
    dregs_report_svg_attribute(out, "y", y);
    if (*class)
        put_class(out, class);
    if (anchor != 's')
        dregs_report_out_text(out,
                              anchor == 'm' ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
    dregs_report_out_text(out, ">");
    if (!cut) {
        dregs_report_svg_escape(out, text);
    } else {
        char part[8] = "";
        size_t length;
        dregs_report_out_text(out, "<title>");
        dregs_report_svg_escape(out, text);
        dregs_report_out_text(out, "</title>");
        for (; *end; end += length) {
            for (length = 1; length < 7 && ((unsigned char)end[length] & 0xC0) == 0x80;)
                length++;
            used += wide((unsigned char)*end);
            if (used > most)
                break;
            memcpy(part, end, length);
            part[length] = '\0';
            dregs_report_svg_escape(out, part);
        }
        dregs_report_out_text(out, "\xE2\x80\xA6");
    }
    dregs_report_out_text(out, "</text>\n");
}

void dregs_report_svg_line(struct out *out, double x0, double y0, double x1, double y1,
                           const char *class)
{
    dregs_report_out_text(out, "<line");
    dregs_report_svg_attribute(out, "x1", x0);
    dregs_report_svg_attribute(out, "y1", y0);
    dregs_report_svg_attribute(out, "x2", x1);
    dregs_report_svg_attribute(out, "y2", y1);
    put_class(out, class);
    dregs_report_out_text(out, "/>\n");
}

void dregs_report_svg_rect(struct out *out, double x, double y, double wide_, double high,
                           const char *class)
{
    dregs_report_out_text(out, "<rect");
    dregs_report_svg_attribute(out, "x", x);
    dregs_report_svg_attribute(out, "y", y);
    dregs_report_svg_attribute(out, "width", wide_);
    dregs_report_svg_attribute(out, "height", high);
    put_class(out, class);
    dregs_report_out_text(out, "/>\n");
}

/* A closed figure of points around x, y. */
static void put_polygon(struct out *out, double x, double y, const double (*points)[2],
                        size_t count, const char *class)
{
    size_t i;

    dregs_report_out_text(out, "<polygon points=\"");
    for (i = 0; i < count; i++) {
        if (i)
            dregs_report_out_text(out, " ");
        dregs_report_svg_number(out, x + points[i][0]);
        dregs_report_out_text(out, ",");
        dregs_report_svg_number(out, y + points[i][1]);
    }
    dregs_report_out_text(out, "\"");
    put_class(out, class);
    dregs_report_out_text(out, "/>\n");
}

void dregs_report_svg_mark(struct out *out, double x, double y, unsigned index)
{
    static const double square[4][2] = {{-4, -4}, {4, -4}, {4, 4}, {-4, 4}},
                        diamond[4][2] = {{0, -5.5}, {5.5, 0}, {0, 5.5}, {-5.5, 0}},
                        up[3][2] = {{0, -5.5}, {5, 4}, {-5, 4}},
                        down[3][2] = {{0, 5.5}, {5, -4}, {-5, -4}};
    char class[] = "f f0";

    class[3] = (char)('0' + index % SVG_COLOURS);
    switch (index % 5) {
    case 0:
        dregs_report_out_text(out, "<circle");
        dregs_report_svg_attribute(out, "cx", x);
        dregs_report_svg_attribute(out, "cy", y);
        dregs_report_out_text(out, " r=\"4.5\"");
        put_class(out, class);
        dregs_report_out_text(out, "/>\n");
        break;
    case 1:
        put_polygon(out, x, y, square, 4, class);
        break;
    case 2:
        put_polygon(out, x, y, up, 3, class);
        break;
    case 3:
        put_polygon(out, x, y, diamond, 4, class);
        break;
    default:
        put_polygon(out, x, y, down, 3, class);
    }
}

void dregs_report_svg_head(struct out *out, double x, double y, char way, const char *class)
{
    static const double right[3][2] = {{0, 0}, {-9, -4.5}, {-9, 4.5}},
                        left[3][2] = {{0, 0}, {9, -4.5}, {9, 4.5}},
                        down[3][2] = {{0, 0}, {-5, -9}, {5, -9}},
                        up[3][2] = {{0, 0}, {-5, 9}, {5, 9}};

    put_polygon(out, x, y,
                way == 'r'   ? right
                : way == 'l' ? left
                : way == 'd' ? down
                             : up,
                3, class);
}

/* ---- labels ---- */

static int is_free(const struct svg_labels *labels, const struct svg_box *box)
{
    size_t i;

    if (box->x0 < labels->within.x0 || box->x1 > labels->within.x1 || box->y0 < labels->within.y0 ||
        box->y1 > labels->within.y1)
        return 0;
    for (i = 0; i < labels->count; i++) {
        const struct svg_box *other = &labels->box[i];
        if (box->x0 < other->x1 && other->x0 < box->x1 && box->y0 < other->y1 &&
            other->y0 < box->y1)
            return 0;
    }
    return 1;
}

int dregs_report_svg_label(struct out *out, struct svg_labels *labels, double x, double y,
                           const char *class, const char *text)
{
    /* where it begins, of its width, and its base line: above first, then below, then beside */
    static const double place[][2] = {{-0.5, -9}, {0, -9},   {-1, -9},  {-0.5, 21}, {0, 21},
                                      {-1, 21},   {0, -25},  {-1, -25}, {0, 37},    {-1, 37},
                                      {0, -41},   {-1, -41}, {0, 53},   {-1, 53},   {0, 69},
                                      {-1, 69},   {0, -57},  {-1, -57}, {0, 85},    {-1, 85}};
    double width = dregs_report_svg_width(text);
    size_t i;

    for (i = 0; i < sizeof place / sizeof place[0] && labels->count < SVG_LABELS; i++) {
        double aside = place[i][0] > -0.1 ? 5 : place[i][0] < -0.9 ? -5 : 0;
        double x0 = x + place[i][0] * width + aside, base = y + place[i][1];
        struct svg_box box = {x0 - 3, base - 12, x0 + width + 3, base + 4};
        if (!is_free(labels, &box))
            continue;
        labels->box[labels->count++] = box;
        dregs_report_svg_text(out, x0, base, class, 's', width + 1, text);
        return 1;
    }
    return 0;
}
