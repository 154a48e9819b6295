/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_limit_pictures.c: how near each limit and target of a concentration comes, load by load,
 * as a picture: the life of the baths.
 */
#include "page/bounds.h"
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

enum { LOADS_MOST = 240, BOUNDS_MOST = 6, KEY = 32 };

/* Those that are drawn: the stated ones, as many as one picture can hold apart. */
static unsigned drawn(const dregs_predict_result *result)
{
    unsigned count = dregs_bounds_count(result->bounds);

    return count < BOUNDS_MOST ? count : BOUNDS_MOST;
}

static const char *bound_key(unsigned index, char into[KEY])
{
    snprintf(into, KEY, "bound_%u", index + 1);
    return into;
}

/* What the rows are made of, when they are asked for. */
struct history {
    const dregs_predict_result *result;
    uint64_t loads;
};

struct filling {
    dregs_table *table;
    const dregs_predict_result *result;
};

static void take_load(void *user, uint64_t load, const dregs_state *state,
                      const dregs_residue *residue)
{
    const struct filling *f = user;
    unsigned i;

    (void)residue;
    dregs_table_count(f->table, load);
    for (i = 0; i < drawn(f->result); i++) {
        double share = dregs_bound_next(dregs_bounds_at(f->result->bounds, i), state);
        dregs_table_number(f->table, isfinite(share) ? share * 100 : NAN);
    }
    dregs_table_end_row(f->table);
}

static dregs_status fill_bounds(void *user, dregs_table *table)
{
    const struct history *history = user;
    struct filling f = {table, history->result};

    return dregs_predict_history(history->result, history->loads, LOADS_MOST, take_load, &f);
}

/* As far as the other pictures of loads, or twice as far as the life of the bath. */
static uint64_t loads_of(const struct prediction *p, uint64_t last)
{
    const dregs_bound *life = p->result->life;

    return life && life->crossed < DREGS_LOADS_MOST / 2 && 2 * life->crossed > last
               ? 2 * life->crossed
               : last;
}

static void add_bounds(const struct prediction *p, dregs_chart *chart)
{
    char of[BOUND_WORDS], limit[BOUND_WORDS], words[2 * BOUND_WORDS + 16], key[KEY];
    unsigned i;

    for (i = 0; i < drawn(p->result); i++) {
        const dregs_bound *bound = dregs_bounds_at(p->result->bounds, i);
        int least = bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_RATIO;
        snprintf(words, sizeof words, "%s, %s %s", dregs_page_bound_of(p->line, bound, of),
                 least ? "at least" : "at most",
                 dregs_page_bound_value(p->line, bound, bound->limit.si, limit));
        dregs_chart_series(chart, words, DREGS_MARK_LINE, "drawn_bounds", "load",
                           bound_key(i, key));
    }
}

void dregs_page_predict_limit_pictures(const struct prediction *p, uint64_t last)
{
    const struct history history = {p->result, loads_of(p, last)};
    const dregs_bound *life = p->result->life;
    char key[KEY], words[96];
    dregs_table *table;
    dregs_chart *chart;
    unsigned i;

    if (!drawn(p->result))
        return;
    table = dregs_report_table(p->report, "drawn_bounds", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    for (i = 0; i < drawn(p->result); i++)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, bound_key(i, key), NULL, "%", 0);
    dregs_table_filled_by(table, fill_bounds,
                          dregs_report_lasting(p->report, &history, sizeof history));
    chart = dregs_report_chart(p->report, "limits", "How near the limits of the baths come");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load from the fresh start", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "of the limit used", "%", 0);
    add_bounds(p, chart);
    dregs_chart_limit(chart, "limit", 100);
    if (life) {
        snprintf(words, sizeof words, "beyond from load %llu on",
                 (unsigned long long)life->crossed);
        dregs_chart_event(chart, words, (double)life->crossed);
    }
    dregs_chart_note(chart, "Of what must be at least so high the limit over what there is.%s",
                     dregs_bounds_count(p->result->bounds) > BOUNDS_MOST
                         ? " Only the first six limits are drawn."
                         : "");
}
