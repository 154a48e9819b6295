/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* widths.c: streams as bands as wide as their amount (Sankey, 1898), in three columns. */
#include "report/plot.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { HIGH = 300, TOP = 60, NODE = 14, GAP = 26, TEXT = 900 };

/* where the columns stand: the words of the outer ones are outside */
static const double column_at[3] = {176, 333, 490};

struct placed {
    double in, out, amount; /* what comes, goes, the larger of both */
    double top, high;
    double in_used, out_used; /* pixels that bands have taken */
};

struct widths {
    const dregs_flow *flow;
    struct out *out;
    struct placed *box;
    double scale; /* pixels for an amount */
    double bottom;
};

/* How high a column is, and how many boxes it has. */
static double column_sum(const struct widths *w, int column, size_t *count)
{
    const struct node *node = w->flow->nodes.item;
    double sum = 0;
    size_t i;

    *count = 0;
    for (i = 0; i < w->flow->nodes.count; i++)
        if (node[i].column == column && w->box[i].amount > 0) {
            sum += w->box[i].amount;
            ++*count;
        }
    return sum;
}

static void take_links(struct widths *w)
{
    const struct link *link = w->flow->links.item;
    size_t i;

    for (i = 0; i < w->flow->links.count; i++)
        if (link[i].from >= 0 && link[i].to >= 0) {
            w->box[link[i].from].out += link[i].amount;
            w->box[link[i].to].in += link[i].amount;
        }
    for (i = 0; i < w->flow->nodes.count; i++)
        w->box[i].amount = w->box[i].in > w->box[i].out ? w->box[i].in : w->box[i].out;
}

/* Boxes stand one below the other; a thin one still gets the height of its words. */
static void place(struct widths *w)
{
    const struct node *node = w->flow->nodes.item;
    double most = 0;
    size_t i, count;
    int column;

    for (column = 0; column < 3; column++)
        most = fmax(most, column_sum(w, column, &count));
    w->scale = most > 0 ? HIGH / most : 0;
    w->bottom = TOP;
    for (column = 0; column < 3; column++) {
        double y = TOP;
        for (i = 0; i < w->flow->nodes.count; i++) {
            if (node[i].column != column || !(w->box[i].amount > 0))
                continue;
            w->box[i].top = y;
            w->box[i].high = fmax(1, w->box[i].amount * w->scale);
            y += fmax(w->box[i].high, 14) + GAP;
            w->bottom = fmax(w->bottom, y - GAP);
        }
    }
}

static void put_xy(struct out *out, const char *before, double x, double y)
{
    dregs_report_out_text(out, before);
    dregs_report_svg_number(out, x);
    dregs_report_out_text(out, " ");
    dregs_report_svg_number(out, y);
}

static void put_band(struct widths *w, const struct link *link, unsigned index)
{
    const struct node *node = w->flow->nodes.item;
    struct placed *from = &w->box[link->from], *to = &w->box[link->to];
    double x0 = column_at[node[link->from].column] + NODE, x1 = column_at[node[link->to].column];
    double high = fmax(0.6, link->amount * w->scale), middle = (x0 + x1) / 2;
    double y0 = from->top + from->out_used, y1 = to->top + to->in_used;
    char class[] = "\" class=\"v f0\"><title>", number[DREGS_NUMBER_TEXT];

    class[12] = (char)('0' + index % SVG_COLOURS);
    from->out_used += link->amount * w->scale;
    to->in_used += link->amount * w->scale;
    put_xy(w->out, "<path d=\"M", x0, y0);
    put_xy(w->out, "C", middle, y0);
    put_xy(w->out, " ", middle, y1);
    put_xy(w->out, " ", x1, y1);
    put_xy(w->out, "L", x1, y1 + high);
    put_xy(w->out, "C", middle, y1 + high);
    put_xy(w->out, " ", middle, y0 + high);
    put_xy(w->out, " ", x0, y0 + high);
    dregs_report_out_text(w->out, "Z");
    dregs_report_out_text(w->out, class);
    dregs_report_svg_escape(w->out, node[link->from].name);
    dregs_report_out_text(w->out, " to ");
    dregs_report_svg_escape(w->out, node[link->to].name);
    dregs_report_out_text(w->out, ": ");
    dregs_report_out_text(w->out, dregs_number_plain(number, link->amount, 4));
    dregs_report_out_text(w->out, " ");
    dregs_report_svg_escape(w->out, w->flow->unit);
    dregs_report_out_text(w->out, "</title></path>\n");
}

static void put_node(const struct widths *w, size_t i)
{
    const struct node *node = w->flow->nodes.item;
    const struct placed *box = &w->box[i];
    int column = node[i].column;
    double x = column_at[column], y = box->top + fmax(box->high, 14) / 2;
    char words[160], number[DREGS_NUMBER_TEXT];

    if (!(box->amount > 0))
        return;
    dregs_report_svg_rect(w->out, x, box->top, NODE, box->high, "ph");
    snprintf(words, sizeof words, "%s %s", dregs_number_plain(number, box->amount, 4),
             w->flow->unit);
    if (column == 1) { /* above, where nothing else is */
        dregs_report_svg_text(w->out, x + NODE / 2.0, box->top - 6, "b h", 'm', 240, node[i].name);
        return;
    }
    x = column == 0 ? x - 8 : x + NODE + 8;
    dregs_report_svg_text(w->out, x, y - 1, "b", column ? 's' : 'e', column_at[0] - 8 - SVG_EDGE,
                          node[i].name);
    dregs_report_svg_text(w->out, x, y + 15, "s", column ? 's' : 'e', 200, words);
}

static dregs_status draw(struct widths *w, int alone)
{
    const struct link *link = w->flow->links.item;
    const struct node *node = w->flow->nodes.item;
    char description[TEXT] = "";
    size_t i, used = 0;
    double end;

    take_links(w);
    place(w);
    end = w->bottom + 36;
    for (i = 0; i < w->flow->links.count && used + 200 < sizeof description; i++)
        if (link[i].from >= 0 && link[i].to >= 0) {
            char number[DREGS_NUMBER_TEXT];
            int length = snprintf(description + used, sizeof description - used,
                                  "%.60s to %.60s: %s %.20s. ", node[link[i].from].name,
                                  node[link[i].to].name,
                                  dregs_number_plain(number, link[i].amount, 4), w->flow->unit);
            used += length > 0 ? (size_t)length : 0;
        }
    dregs_report_svg_begin(w->out, alone, dregs_report_note(NULL, w->flow->note, end - 10),
                           w->flow->key, w->flow->title, description);
    for (i = 0; i < w->flow->links.count; i++)
        if (link[i].from >= 0 && link[i].to >= 0)
            put_band(w, &link[i],
                     (unsigned)(node[link[i].from].column ? link[i].to : link[i].from));
    for (i = 0; i < w->flow->nodes.count; i++)
        put_node(w, i);
    (void)dregs_report_note(w->out, w->flow->note, end);
    dregs_report_svg_end(w->out);
    return DREGS_OK;
}

dregs_status dregs_report_draw_widths(const dregs_flow *flow, int alone, struct out *out)
{
    struct widths w = {.flow = flow, .out = out};
    dregs_status status;

    w.box = calloc(flow->nodes.count + 1, sizeof *w.box);
    status = w.box ? draw(&w, alone) : DREGS_NO_MEMORY;
    free(w.box);
    return status;
}
