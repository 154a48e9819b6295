/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stages.c: a line as boxes one below the other: the parts go down, liquid comes in from the left,
 * leaves to the right, and goes from box to box on lanes right of them. */
#include "report/plot.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LEFT_LEAST = 150, /* of the boxes, and what they may give way to words on their left */
    LEFT_MOST = 300,
    BOX_WIDE = 190,
    BOX_LEAST = 50,
    LANE = 12,    /* between two lanes */
    BETWEEN = 44, /* boxes */
    TEXT = 900
};

struct placed {
    double top, high;
    unsigned in, out, arriving; /* how many */
    unsigned in_done, out_done; /* how many are drawn */
};

struct lane {
    double from, to;
    unsigned lane;
};

struct stages {
    const dregs_flow *flow;
    struct out *out;
    struct placed *box;
    struct lane *lane;
    size_t count, lanes_used;
    unsigned lanes;     /* side by side */
    double left, right; /* of the boxes */
    double bottom;
};

static int from_stage(const struct link *link)
{
    return !link->parts && link->from >= 0;
}

/* Is it a way from box to box? */
static int is_inside(const struct link *link)
{
    return !link->parts && link->from >= 0 && link->to >= 0;
}

static void place(struct stages *s, double top)
{
    const struct link *link = s->flow->links.item;
    size_t i;

    for (i = 0; i < s->flow->links.count; i++) {
        if (link[i].parts)
            continue;
        if (from_stage(&link[i]))
            s->box[link[i].from].out++;
        if (is_inside(&link[i]))
            s->box[link[i].to].arriving++;
        else if (link[i].to >= 0)
            s->box[link[i].to].in++;
    }
    for (i = 0; i < s->count; i++) {
        struct placed *box = &s->box[i];
        unsigned right = box->out + box->arriving, rows = box->in > right ? box->in : right;
        double high = rows * SVG_ROW + 14.0;
        box->high = high > BOX_LEAST ? high : BOX_LEAST;
        box->top = top;
        top += box->high + BETWEEN;
    }
    s->bottom = top;
}

/* The boxes stand as far left as the words on their left let them. */
static void place_across(struct stages *s)
{
    const struct link *link = s->flow->links.item;
    size_t i;

    s->left = LEFT_LEAST;
    for (i = 0; i < s->flow->links.count; i++) {
        double wide = dregs_report_svg_width(link[i].label) + SVG_EDGE;
        if (link[i].parts) /* beside the arrow, which is in the middle */
            wide += 13 - BOX_WIDE / 2.0;
        else if (link[i].from < 0)
            wide += 41;
        else
            continue;
        s->left = wide > s->left ? wide : s->left;
    }
    s->left = s->left < LEFT_MOST ? s->left : LEFT_MOST;
    s->right = s->left + BOX_WIDE;
}

/* The height of the next row of a box on one of its sides. */
static double next_row(struct placed *box, int right)
{
    unsigned rows = right ? box->out + box->arriving : box->in;
    unsigned done = right ? box->out_done++ : box->in_done++;

    return box->top + box->high / 2 + (done - (rows - 1) / 2.0) * SVG_ROW;
}

/* A lane that is free from one height to the other. */
static unsigned take_lane(struct stages *s, double from, double to)
{
    double low = from < to ? from : to, high = from < to ? to : from;
    unsigned lane = 0;
    size_t i;

    for (i = 0; i < s->lanes_used; i++)
        if (s->lane[i].lane == lane && s->lane[i].from < high + 6 && low - 6 < s->lane[i].to) {
            lane++;
            i = (size_t)-1; /* look again */
        }
    s->lane[s->lanes_used++] = (struct lane){low, high, lane};
    s->lanes = lane + 1 > s->lanes ? lane + 1 : s->lanes;
    return lane;
}

static double lane_at(const struct stages *s, unsigned lane)
{
    return s->right + 22 + lane * LANE;
}

static void put_inside(struct stages *s, double from, double to, double lane)
{
    dregs_report_out_text(s->out, "<path d=\"M");
    dregs_report_svg_number(s->out, s->right);
    dregs_report_out_text(s->out, " ");
    dregs_report_svg_number(s->out, from);
    dregs_report_out_text(s->out, "H");
    dregs_report_svg_number(s->out, lane);
    dregs_report_out_text(s->out, "V");
    dregs_report_svg_number(s->out, to);
    dregs_report_out_text(s->out, "H");
    dregs_report_svg_number(s->out, s->right + 8);
    dregs_report_out_text(s->out, "\" class=\"w\"/>\n");
    dregs_report_svg_head(s->out, s->right + 1, to, 'l', "wh");
}

/* What goes from box to box: its way on a lane, its words at the row where it leaves. */
static void put_lanes(struct stages *s, double *said_at)
{
    const struct link *link = s->flow->links.item;
    size_t i;

    for (i = 0; i < s->flow->links.count; i++) {
        double from, to;
        if (!is_inside(&link[i]))
            continue;
        /* what goes up leaves above what arrives from below */
        from = next_row(&s->box[link[i].from], 1);
        to = next_row(&s->box[link[i].to], 1);
        said_at[i] = from;
        put_inside(s, from, to, lane_at(s, take_lane(s, from, to)));
    }
}

static void put_outside(struct stages *s, double *said_at)
{
    const struct link *link = s->flow->links.item;
    double end = lane_at(s, s->lanes) + 8;
    size_t i;

    for (i = 0; i < s->flow->links.count; i++) {
        if (link[i].parts || is_inside(&link[i]))
            continue;
        if (link[i].from >= 0) {
            double y = said_at[i] = next_row(&s->box[link[i].from], 1);
            dregs_report_svg_line(s->out, s->right, y, end - 8, y, "w");
            dregs_report_svg_head(s->out, end, y, 'r', "wh");
        } else {
            double y = next_row(&s->box[link[i].to], 0);
            dregs_report_svg_line(s->out, s->left - 34, y, s->left - 8, y, "w");
            dregs_report_svg_head(s->out, s->left, y, 'r', "wh");
            dregs_report_svg_text(s->out, s->left - 40, y + 4.5, "", 'e', s->left - 40 - SVG_EDGE,
                                  link[i].label);
        }
    }
    for (i = 0; i < s->flow->links.count; i++)
        if (from_stage(&link[i]))
            dregs_report_svg_text(s->out, end + 6, said_at[i] + 4.5, "h", 's',
                                  SVG_WIDE - SVG_EDGE - end - 6, link[i].label);
}

static void put_boxes(const struct stages *s)
{
    const struct node *node = s->flow->nodes.item;
    size_t i;

    for (i = 0; i < s->count; i++) {
        const struct placed *box = &s->box[i];
        double middle = box->top + box->high / 2, x = s->left + BOX_WIDE / 2.0;
        dregs_report_svg_rect(s->out, s->left, box->top, BOX_WIDE, box->high, "box");
        dregs_report_svg_text(s->out, x, *node[i].detail ? middle - 4 : middle + 5, "b", 'm',
                              0.9 * BOX_WIDE, node[i].name);
        dregs_report_svg_text(s->out, x, middle + 14, "s", 'm', BOX_WIDE - 12, node[i].detail);
    }
}

/* The way of the parts: from above into the first box, from box to box, out of the last. */
static void put_parts(const struct stages *s)
{
    const struct link *link = s->flow->links.item;
    double x = s->left + BOX_WIDE / 2.0;
    size_t i;

    for (i = 0; i < s->flow->links.count; i++) {
        const struct placed *from = link[i].from >= 0 ? &s->box[link[i].from] : NULL;
        const struct placed *to = link[i].to >= 0 ? &s->box[link[i].to] : NULL;
        double y0 = from ? from->top + from->high : to ? to->top - BETWEEN + 8 : 0;
        double y1 = to ? to->top : y0 + BETWEEN - 8;
        if (!link[i].parts || y1 < y0)
            continue;
        dregs_report_svg_line(s->out, x, y0, x, y1 - 8, "p");
        dregs_report_svg_head(s->out, x, y1, 'd', "ph");
        dregs_report_svg_text(s->out, x - 12, (y0 + y1) / 2 + 4.5, "", 'e', x - 12 - SVG_EDGE,
                              link[i].label); /* the lanes are on the other side */
    }
}

static void describe(const dregs_flow *flow, char *into, size_t room)
{
    const struct node *node = flow->nodes.item;
    const struct link *link = flow->links.item;
    size_t i, used = 0;

    into[0] = '\0';
    for (i = 0; i < flow->links.count && used + 200 < room; i++) {
        const char *from = link[i].from >= 0 ? node[link[i].from].name : "outside";
        const char *to = link[i].to >= 0 ? node[link[i].to].name : "outside";
        int length =
            snprintf(into + used, room - used, "%.60s to %.60s: %.70s. ", from, to, link[i].label);
        used += length > 0 ? (size_t)length : 0;
    }
}

static dregs_status draw(struct stages *s, int alone, double *said_at)
{
    char description[TEXT];
    double end;

    place(s, 82);
    place_across(s);
    end = s->bottom + 4;
    describe(s->flow, description, sizeof description);
    dregs_report_svg_begin(s->out, alone, dregs_report_note(NULL, s->flow->note, end), s->flow->key,
                           s->flow->title, description);
    put_lanes(s, said_at);
    put_outside(s, said_at);
    put_boxes(s);
    put_parts(s);
    (void)dregs_report_note(s->out, s->flow->note, end + 2);
    dregs_report_svg_end(s->out);
    return DREGS_OK;
}

dregs_status dregs_report_draw_stages(const dregs_flow *flow, int alone, struct out *out)
{
    struct stages s = {.flow = flow, .out = out, .count = flow->nodes.count};
    double *said_at = calloc(flow->links.count + 1, sizeof *said_at);
    dregs_status status = DREGS_NO_MEMORY;

    s.box = calloc(flow->nodes.count + 1, sizeof *s.box);
    s.lane = calloc(flow->links.count + 1, sizeof *s.lane);
    if (said_at && s.box && s.lane)
        status = draw(&s, alone, said_at);
    free(said_at);
    free(s.box);
    free(s.lane);
    return status;
}
