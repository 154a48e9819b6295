/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_pictures.c: a prediction as pictures: the line, the residue and the tanks load by load,
 * where the residue comes from. */
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

enum {
    LOADS_MOST = 240, /* of a curve: a page is no wider */
    STAGES_MOST = 8,  /* lines that one picture can hold apart */
    DUMPS_MOST = 24,  /* lines of dumps */
    LEVELS_MOST = 24,
    HISTORY_LEAST = 10,
    KEY = 32
};

/* ---- the loads ---- */

static unsigned first_stage(const dregs_line *line)
{
    unsigned stages = dregs_line_stages(line);

    return stages > STAGES_MOST ? stages - STAGES_MOST : 0;
}

static double all_solutes(const dregs_line *line, const dregs_state *state, unsigned stage)
{
    double sum = 0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++)
        sum += dregs_state_concentration(state, s, stage);
    return sum;
}

struct filling {
    dregs_table *table;
    const dregs_line *line;
};

static void take_load(void *user, uint64_t load, const dregs_state *state,
                      const dregs_residue *residue)
{
    const struct filling *f = user;
    unsigned i;

    dregs_table_count(f->table, load);
    dregs_table_number(f->table, residue->total * UG_PER_CM2);
    dregs_table_number(f->table, residue->film_total * UG_PER_CM2);
    dregs_table_number(f->table, residue->adhering_total * UG_PER_CM2);
    for (i = first_stage(f->line); i < dregs_line_stages(f->line); i++)
        dregs_table_number(f->table, all_solutes(f->line, state, i) * MG_PER_L);
    dregs_table_end_row(f->table);
}

/* What the rows are made of, when they are asked for. */
struct history {
    const dregs_predict_result *result;
    uint64_t loads;
};

static dregs_status fill_history(void *user, dregs_table *table)
{
    const struct history *history = user;
    struct filling f = {table, dregs_map_line(history->result->map)};

    return dregs_predict_history(history->result, history->loads, LOADS_MOST, take_load, &f);
}

static const char *stage_key(unsigned stage, char into[KEY])
{
    snprintf(into, KEY, "stage_%u", stage + 1);
    return into;
}

static void put_history(const struct prediction *p)
{
    const struct history history = {p->result, p->request->loads};
    dregs_table *table = dregs_report_table(p->report, "history", DREGS_IN_PICTURE);
    char key[KEY];
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "adhering", NULL, "ug/cm2", 0);
    for (i = first_stage(p->line); i < dregs_line_stages(p->line); i++)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, stage_key(i, key), NULL, "mg/L", 0);
    dregs_table_filled_by(table, fill_history,
                          dregs_report_lasting(p->report, &history, sizeof history));
}

/* The last load that is drawn: in two dump periods, or on the way to the steady state, the whole
 * shows. */
static uint64_t last_drawn(const struct prediction *p)
{
    uint64_t period = dregs_line_period(p->line);

    return p->request->loads                 ? p->request->loads
           : period > 1                      ? 2 * period
           : p->result->last > HISTORY_LEAST ? p->result->last
                                             : HISTORY_LEAST;
}

/* ---- the residue ---- */

static void band_levels(dregs_chart *chart)
{
    const dregs_level *level;
    double below = 0;
    size_t i;

    for (i = 0; i < LEVELS_MOST && (level = dregs_level_at(i)) != NULL; i++) {
        dregs_chart_band(chart, level->name, below, level->most * UG_PER_CM2);
        below = level->most * UG_PER_CM2;
    }
}

/* The worst load, where the picture reaches it: in the second dump period the line is close to its
 * periodic state. */
static void mark_worst(const struct prediction *p, dregs_chart *chart)
{
    const dregs_worst *worst = &p->result->worst;
    uint64_t period = dregs_line_period(p->line);
    char label[64];
    struct numbers n = {0};

    snprintf(label, sizeof label, "worst %s ug/cm2",
             dregs_page_number(&n, worst->residue * UG_PER_CM2));
    if (!worst->in_the_long_run &&
        worst->load <= (p->request->loads ? p->request->loads : 2 * period))
        dregs_chart_marker(chart, label, (double)worst->load, worst->residue * UG_PER_CM2);
    else if (worst->in_the_long_run && period > 1 && !p->request->loads)
        dregs_chart_marker(chart, label, (double)(worst->load + period),
                           worst->residue * UG_PER_CM2);
}

int dregs_page_predict_far_off(const struct prediction *p)
{
    double residue = p->result->worst.residue;
    unsigned i;

    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        if (verdict->solute == DREGS_EVERY_SOLUTE &&
            (verdict->limit.si > 3 * residue || verdict->limit.si < residue / 3))
            return residue > 0;
    }
    return 0;
}

static void chart_residue(const struct prediction *p)
{
    dregs_chart *chart =
        dregs_report_chart(p->report, "residue", "Residue on the parts, load by load");
    unsigned i;

    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load from the fresh start", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", dregs_page_predict_far_off(p));
    dregs_chart_series(chart, "all of it", DREGS_MARK_LINE, "history", "load", "residue");
    dregs_chart_series(chart, "dried film", DREGS_MARK_LINE, "history", "load", "film");
    dregs_chart_series(chart, "adhering soil", DREGS_MARK_LINE, "history", "load", "adhering");
    dregs_page_predict_draw_loads(p, chart, last_drawn(p), dregs_line_period(p->line) > 1);
    band_levels(chart);
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        char label[96] = "limit";
        if (verdict->solute != DREGS_EVERY_SOLUTE)
            snprintf(label, sizeof label, "limit of %.80s",
                     dregs_page_solute(p->line, verdict->solute));
        dregs_chart_limit(chart, label, verdict->limit.si * UG_PER_CM2);
    }
    mark_worst(p, chart);
    dregs_chart_note(chart, "Right: the cleanliness levels of IEST-STD-CC1246D, a band for each.");
}

/* ---- the tanks ---- */

/* How often a stage is dumped in the loads that are shown. */
static uint64_t dumps_of(const dregs_stage *stage, uint64_t last)
{
    return stage->dump_every.si >= 1 ? (uint64_t)((double)last / stage->dump_every.si) : 0;
}

static void mark_dumps(const struct prediction *p, dregs_chart *chart)
{
    uint64_t last = last_drawn(p), of = 0, k;
    unsigned i;

    for (i = 0; i < dregs_line_stages(p->line); i++)
        of += dumps_of(dregs_line_stage(p->line, i), last);
    if (of > DUMPS_MOST)
        return;
    for (i = 0; i < dregs_line_stages(p->line); i++) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        char label[160];
        snprintf(label, sizeof label, "%s dumped", stage->name);
        for (k = 1; k <= dumps_of(stage, last); k++)
            if (stage->dump_every.si * (double)k < (double)last)
                dregs_chart_event(chart, label, stage->dump_every.si * (double)k);
    }
}

static void chart_tanks(const struct prediction *p)
{
    dregs_chart *chart =
        dregs_report_chart(p->report, "tanks", "What the liquid that leaves each stage holds");
    char key[KEY];
    unsigned i;

    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load from the fresh start", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "all solutes", "mg/L", 1);
    for (i = first_stage(p->line); i < dregs_line_stages(p->line); i++)
        if (dregs_stage_is(dregs_line_stage(p->line, i), DREGS_STAGE_WET))
            dregs_chart_series(chart, dregs_line_stage(p->line, i)->name, DREGS_MARK_LINE,
                               "history", "load", stage_key(i, key));
    mark_dumps(p, chart);
    if (first_stage(p->line))
        dregs_chart_note(chart, "Only the last %d stages are shown.", STAGES_MOST);
}

/* ---- where it comes from ---- */

static void chart_origin(const struct prediction *p)
{
    dregs_chart *chart =
        dregs_report_chart(p->report, "origin", "Where the residue of the worst load comes from");

    dregs_chart_axis_is(chart, DREGS_AXIS_X, "solute", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", 0);
    dregs_chart_series(chart, "dried film: rinsing can lower it", DREGS_MARK_BARS,
                       "worst_by_solute", "solute", "dried_film");
    dregs_chart_series(chart, "adhering soil: only washing can", DREGS_MARK_BARS, "worst_by_solute",
                       "solute", "adhering");
}

void dregs_page_predict_pictures(const struct prediction *p)
{
    dregs_page_line_picture(p->report, p->line);
    put_history(p);
    chart_residue(p);
    dregs_page_predict_week_picture(p);
    dregs_page_predict_doubt_pictures(p);
    chart_origin(p);
    chart_tanks(p);
    dregs_page_predict_limit_pictures(p, last_drawn(p));
}
