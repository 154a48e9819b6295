/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_data.c: a prediction for programs: single numbers, tables, and every load value by value.
 *
 * The loads are asked for when they are written, so that memory does not grow with their number.
 */
#include "page/predict.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>

/* ---- every load ---- */

/* What a load is put into while the rows are made. */
struct filling {
    dregs_table *table;
    const dregs_line *line;
    uint64_t load;
};

static void put_value(const struct filling *f, const char *stage, const char *solute,
                      const char *quantity, double value, const char *unit)
{
    dregs_table_count(f->table, f->load);
    dregs_table_word(f->table, stage);
    dregs_table_word(f->table, solute);
    dregs_table_word(f->table, quantity);
    dregs_table_number(f->table, value);
    dregs_table_word(f->table, unit);
    dregs_table_end_row(f->table);
}

static void put_films(const struct filling *f, const dregs_state *state, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(f->line, index);
    unsigned s;

    for (s = 0; s < dregs_line_solutes(f->line); s++) {
        const char *solute = dregs_page_solute(f->line, (int)s);
        if (dregs_stage_is(stage, DREGS_STAGE_WET))
            put_value(f, stage->name, solute, "concentration",
                      dregs_state_concentration(state, s, index) * MG_PER_L, "mg/L");
        put_value(f, stage->name, solute, "film", dregs_state_film(state, s, index) * MG, "mg");
        if (dregs_line_traps(f->line))
            put_value(f, stage->name, solute, "trapped", dregs_state_trapped(state, s, index) * MG,
                      "mg");
    }
}

static void put_left(const struct filling *f, int solute, double total, double film,
                     double adhering)
{
    const char *name = dregs_page_solute(f->line, solute);

    put_value(f, NULL, name, "residue", total * UG_PER_CM2, "ug/cm2");
    put_value(f, NULL, name, "film residue", film * UG_PER_CM2, "ug/cm2");
    put_value(f, NULL, name, "adhering residue", adhering * UG_PER_CM2, "ug/cm2");
}

static void take_load(void *user, uint64_t load, const dregs_state *state,
                      const dregs_residue *residue)
{
    struct filling *f = user;
    unsigned i;

    f->load = load;
    if (dregs_line_kinds(f->line) > 1)
        put_value(f, NULL, NULL, "kind of load", dregs_line_kind_at(f->line, load) + 1.0, "1");
    for (i = 0; i < dregs_line_stages(f->line); i++)
        put_films(f, state, i);
    for (i = 0; i < residue->solutes; i++)
        put_left(f, (int)i, dregs_residue_of(residue, (int)i), residue->film[i],
                 residue->adhering[i]);
    put_left(f, DREGS_EVERY_SOLUTE, residue->total, residue->film_total, residue->adhering_total);
}

static dregs_status fill_loads(void *user, dregs_table *table)
{
    const dregs_predict_result *result = user;
    struct filling f = {table, dregs_map_line(result->map), 0};
    dregs_status status = dregs_predict_each(result, take_load, &f);

    if (!status)
        dregs_page_predict_week_rows(result, table);
    if (!status)
        dregs_page_predict_hangs_rows(result, table);
    return status;
}

static void put_loads(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "loads", DREGS_IN_CSV | DREGS_IN_JSON);

    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_index(table);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_filled_by(table, fill_loads, (void *)p->result);
}

/* ---- charts: what the loads show ---- */

static void chart_residue(const struct prediction *p)
{
    static const char *const quantities[] = {"residue", "film residue", "adhering residue"};
    dregs_chart *chart = dregs_report_chart(p->report, "residue_by_load", "Residue, load by load");
    size_t i;

    dregs_chart_shown(chart, DREGS_IN_JSON);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load", "", 1);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", 0);
    for (i = 0; i < sizeof quantities / sizeof quantities[0]; i++) {
        dregs_chart_series(chart, quantities[i], DREGS_MARK_LINE, "loads", "load", "value");
        dregs_chart_where(chart, "solute", dregs_page_solute(p->line, DREGS_EVERY_SOLUTE));
        dregs_chart_where(chart, "quantity", quantities[i]);
    }
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, (unsigned)i);
        if (verdict->solute == DREGS_EVERY_SOLUTE)
            dregs_chart_limit(chart, "limit", verdict->limit.si * UG_PER_CM2);
    }
}

/* One solute of one stage. */
static void chart_concentration(const struct prediction *p, dregs_chart *chart, unsigned stage,
                                unsigned solute)
{
    const char *of_stage = dregs_line_stage(p->line, stage)->name;
    const char *of_solute = dregs_page_solute(p->line, (int)solute);
    char name[160];

    snprintf(name, sizeof name, "%s in %s", of_solute, of_stage);
    dregs_chart_series(chart, name, DREGS_MARK_LINE, "loads", "load", "value");
    dregs_chart_where(chart, "stage", of_stage);
    dregs_chart_where(chart, "solute", of_solute);
    dregs_chart_where(chart, "quantity", "concentration");
}

static void chart_concentrations(const struct prediction *p)
{
    dregs_chart *chart = dregs_report_chart(p->report, "concentration_by_load",
                                            "What leaves each stage, load by load");
    unsigned i, s;

    dregs_chart_shown(chart, DREGS_IN_JSON);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load", "", 1);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "concentration", "mg/L", 1);
    for (i = 0; i < dregs_line_stages(p->line); i++)
        for (s = 0; s < dregs_line_solutes(p->line); s++)
            if (dregs_stage_is(dregs_line_stage(p->line, i), DREGS_STAGE_WET))
                chart_concentration(p, chart, i, s);
}

/* ---- single numbers ---- */

static void put_residue(const struct prediction *p, const char *key, double residue)
{
    dregs_report_figure(p->report, key, dregs_quantity_of(residue * UG_PER_CM2, "ug/cm2"));
}

static void put_load(const struct prediction *p)
{
    const dregs_load *load = dregs_line_load(p->of);

    if (dregs_line_kinds(p->line) > 1)
        dregs_report_word(p->report, "shown_kind", dregs_line_load_name(p->of));
    dregs_report_figure(p->report, "parts", dregs_quantity_of(load->parts.si, "1"));
    dregs_report_figure(p->report, "area_per_part", dregs_quantity_of(load->area.si * CM2, "cm2"));
    dregs_report_figure(p->report, "interval", dregs_quantity_of(load->interval.si, "s"));
    dregs_report_count(p->report, "dump_period", dregs_line_period(p->line));
    if (p->request->loads)
        dregs_report_count(p->report, "loads_judged", p->request->loads);
    else
        dregs_report_word(p->report, "loads_judged", NULL);
}

static void put_residue_figures(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;
    const dregs_level *level = result->level;

    put_residue(p, "worst_residue", result->most);
    if (result->by_week) { /* a load of the week, which has no such number */
        dregs_report_word(p->report, "worst_load", NULL);
        dregs_report_flag(p->report, "worst_at_steady_state",
                          result->in_week.worst.in_the_long_run);
    } else {
        dregs_report_count(p->report, "worst_load", result->worst.load);
        dregs_report_flag(p->report, "worst_at_steady_state", result->worst.in_the_long_run);
    }
    dregs_report_flag(p->report, "has_steady_state", result->settles);
    put_residue(p, "steady_residue", result->settles ? result->steady.residue : NAN);
    if (result->settles)
        dregs_report_count(p->report, "steady_load", result->steady.load);
    else
        dregs_report_word(p->report, "steady_load", NULL);
    put_residue(p, "lowest_attainable_residue", result->floor.total);
    dregs_page_predict_put_mixing(p);
    dregs_report_word(p->report, "level", level ? level->name : NULL);
    dregs_report_word(p->report, "level_of_revision_e", level ? level->later : NULL);
    dregs_report_figure(p->report, "level_limit",
                        dregs_quantity_of(level ? level->as_printed : NAN, "ug/cm2"));
    dregs_report_count(p->report, "shown_load", result->shown.load);
    dregs_report_flag(p->report, "shown_at_steady_state", result->shown.in_the_long_run);
}

/* ---- tables ---- */

static void put_targets(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "targets", DREGS_IN_JSON);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "limit", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "of_limit", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "met", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "at_steady_state", NULL, "", 0);
    if (p->result->week)
        dregs_table_column(table, DREGS_COLUMN_FLAG, "of_the_week", NULL, "", 0);
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        const dregs_week_load *in_week = &verdict->in_week.worst;
        dregs_table_word(table, dregs_page_solute(p->line, verdict->solute));
        dregs_table_number(table, verdict->limit.si * UG_PER_CM2);
        dregs_table_number(table, (verdict->by_week ? in_week->residue : verdict->worst.residue) *
                                      UG_PER_CM2);
        dregs_table_number(table, verdict->share);
        dregs_table_flag(table, verdict->met);
        dregs_table_count(table, verdict->by_week ? in_week->load : verdict->worst.load);
        dregs_table_flag(table, verdict->by_week ? in_week->in_the_long_run
                                                 : verdict->worst.in_the_long_run);
        if (p->result->week)
            dregs_table_flag(table, verdict->by_week);
        dregs_table_end_row(table);
    }
}

/* What a load drags out of each stage. */
static void put_stages(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "stages", DREGS_IN_JSON);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "kind", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "drag_out", NULL, "mL", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film_thickness", NULL, "um", 0);
    for (i = 0; i < dregs_line_stages(p->line); i++) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        const dregs_carried *carried = dregs_line_carried(p->of, i);
        dregs_table_word(table, stage->name);
        dregs_table_word(table, dregs_stage_kind_name(stage->kind));
        if (dregs_stage_is(stage, DREGS_STAGE_WET)) {
            dregs_table_number(table, carried->out * ML);
            dregs_table_number(table, carried->thickness * UM);
        }
        dregs_table_end_row(table);
    }
}

/* What the film of the load shown holds behind each stage. */
static void put_solutes(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "films", DREGS_IN_JSON);
    const dregs_state *state = p->result->at_shown;
    unsigned i, s;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "concentration", NULL, "mg/L", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film_mass", NULL, "mg", 0);
    if (dregs_line_traps(p->line))
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "trapped_mass", NULL, "mg", 0);
    for (i = 0; i < dregs_line_stages(p->line); i++) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        int wet = dregs_stage_is(stage, DREGS_STAGE_WET);
        for (s = 0; s < dregs_line_solutes(p->line); s++) {
            dregs_table_word(table, stage->name);
            dregs_table_word(table, dregs_page_solute(p->line, (int)s));
            dregs_table_number(table,
                               wet ? dregs_state_concentration(state, s, i) * MG_PER_L : NAN);
            dregs_table_number(table, dregs_state_film(state, s, i) * MG);
            if (dregs_line_traps(p->line))
                dregs_table_number(table, dregs_state_trapped(state, s, i) * MG);
            dregs_table_end_row(table);
        }
    }
}

void dregs_page_predict_data(const struct prediction *p)
{
    put_load(p);
    put_residue_figures(p);
    dregs_page_predict_put_week(p);
    put_targets(p);
    dregs_page_predict_kinds(p, DREGS_IN_JSON);
    dregs_page_predict_put_bounds(p);
    dregs_page_predict_residues(p, "worst_by_solute", DREGS_IN_JSON, p->result->worst.load,
                                &p->result->worst_residue);
    if (p->result->settles)
        dregs_page_predict_residues(p, "steady_by_solute", DREGS_IN_JSON, p->result->steady.load,
                                    &p->result->steady_residue);
    dregs_page_predict_residues(p, "lowest_attainable_by_solute", DREGS_IN_JSON,
                                p->result->worst.load, &p->result->floor);
    put_stages(p);
    put_solutes(p);
    dregs_page_predict_hangs_data(p);
    dregs_page_predict_hangs_doubt_data(p);
    put_loads(p);
    chart_residue(p);
    chart_concentrations(p);
}
