/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.c: the page of a prediction: the verdict and what it rests on. */
#include "page/predict.h"
#include "base/grow.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>

enum {
    NUMBER = 12,     /* columns of a number */
    NAME_LEAST = 16, /* of the names in the first column */
    KIND = 7,        /* of a stage's kind, with the blank before it */
    LOAD_WORDS = 168
};

const char *dregs_page_predict_kind_words(const dregs_line *line, uint64_t load,
                                          char into[KIND_WORDS])
{
    *into = '\0';
    if (dregs_line_kinds(line) > 1)
        snprintf(into, KIND_WORDS, " (%s)",
                 dregs_line_load_name(dregs_line_of_kind(line, dregs_line_kind_at(line, load))));
    return into;
}

/* "load 12", "load 40 after a dump, at periodic steady state" */
static void name_load(const struct prediction *p, const dregs_worst *load, char into[LOAD_WORDS])
{
    unsigned long long number = load->load;
    char kind[KIND_WORDS];

    dregs_page_predict_kind_words(p->line, load->load, kind);
    if (!load->in_the_long_run)
        snprintf(into, LOAD_WORDS, "load %llu%s", number, kind);
    else if (dregs_line_period(p->line) > 1)
        snprintf(into, LOAD_WORDS, "load %llu%s after %s, at periodic steady state", number, kind,
                 dregs_balance_dump_next(p->line, 0) == UINT64_MAX ? "the begin of the sequence"
                                                                   : "a dump");
    else
        snprintf(into, LOAD_WORDS, "the steady state that the line approaches");
}

/* ---- the verdict ---- */

/* Of several kinds of loads: which, and in which order. */
static void say_kinds_head(const struct prediction *p)
{
    const dregs_line *line = p->line;
    struct numbers n = {0};
    unsigned k;

    dregs_report_words(p->report, "%s: a load every %s min, of %u kinds: ", dregs_line_name(line),
                       dregs_page_number(&n, dregs_line_load(line)->interval.si / 60),
                       dregs_line_kinds(line));
    for (k = 0; k < dregs_line_kinds(line); k++) {
        const dregs_line *of = dregs_line_of_kind(line, k);
        const dregs_load *load = dregs_line_load(of);
        dregs_report_words(p->report, "%s%s (%s part%s of %s cm2)", k ? ", " : "",
                           dregs_line_load_name(of), dregs_page_number(&n, load->parts.si),
                           load->parts.si > 1 ? "s" : "",
                           dregs_page_number(&n, load->area.si * CM2));
    }
    dregs_report_words(p->report, "; in the order %s",
                       dregs_line_word(line, dregs_line_schedule_name(line), "sequence"));
    dregs_report_end(p->report, 0, 2);
    dregs_report_gap(p->report);
}

static void say_head(const struct prediction *p)
{
    const dregs_load *load = dregs_line_load(p->line);
    struct numbers n = {0};

    if (dregs_line_kinds(p->line) > 1) {
        say_kinds_head(p);
        return;
    }
    dregs_report_line(p->report, 0, "%s: %s part%s of %s cm2, a load every %s min",
                      dregs_line_name(p->line), dregs_page_number(&n, load->parts.si),
                      load->parts.si > 1 ? "s" : "", dregs_page_number(&n, load->area.si * CM2),
                      dregs_page_number(&n, load->interval.si / 60));
    dregs_report_gap(p->report);
}

/* Of a line that crosses a limit: the loads before. */
static const char *up_to(const struct prediction *p, char into[LOAD_WORDS])
{
    const dregs_bound *life = p->result->life;

    *into = '\0';
    if (life && life->crossed > 1)
        snprintf(into, LOAD_WORDS, " up to load %llu", (unsigned long long)life->crossed - 1);
    return into;
}

static double judged_of(const dregs_predict_verdict *verdict)
{
    return verdict->by_week ? verdict->in_week.worst.residue : verdict->worst.residue;
}

static void say_verdict(const struct prediction *p, unsigned index)
{
    const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, index);
    const char *level = dregs_line_target(p->line)->level;
    int of_all = verdict->solute == DREGS_EVERY_SOLUTE;
    struct numbers n = {0};
    char load[LOAD_WORDS], until[LOAD_WORDS], kind[KIND_WORDS] = "";

    if (!verdict->by_week)
        dregs_page_predict_kind_words(p->line, verdict->worst.load, kind);
    dregs_report_words(p->report, "target %s%s: ", verdict->met ? "met" : "MISSED",
                       up_to(p, until));
    /* the mean does not say it */
    if (verdict->met != (verdict->share <= 1) && verdict->loads_meet >= 0)
        dregs_report_words(p->report, "%s %% of such loads meet it, %s %% must; ",
                           dregs_page_number(&n, verdict->loads_meet * 100),
                           dregs_page_number(&n, verdict->must_meet * 100));
    dregs_report_words(p->report, "%s ug/cm2%s%s at the worst load%s, limit %s ug/cm2",
                       dregs_page_number(&n, judged_of(verdict) * UG_PER_CM2), of_all ? "" : " of ",
                       of_all ? "" : dregs_page_solute(p->line, verdict->solute), kind,
                       dregs_page_number(&n, verdict->limit.si * UG_PER_CM2));
    if (of_all && level)
        dregs_report_words(p->report, " (level %s)", level);
    if (verdict->share <= 1)
        dregs_report_words(p->report, ": %s %% of it", dregs_page_number(&n, verdict->share * 100));
    else
        dregs_report_words(p->report, ": %s times as much", dregs_page_number(&n, verdict->share));
    dregs_page_predict_doubt_words(p, index);
    dregs_report_end(p->report, 0, p->doubt ? 2 : -1);
    dregs_report_verdict(p->report, verdict->met ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED);
    name_load(p, &verdict->worst, load);
    if (!verdict->by_week)
        dregs_report_line(p->report, 2, "worst: %s", load);
    dregs_page_predict_week_verdict(p, verdict);
    dregs_page_predict_scatter(p, verdict);
}

static void say_verdicts(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;
    struct numbers n = {0};
    char load[LOAD_WORDS];
    unsigned i;

    for (i = 0; i < result->verdicts; i++)
        say_verdict(p, i);
    if (result->verdicts)
        dregs_page_predict_cause(p);
    dregs_page_predict_say_bounds(p);
    if (!result->verdicts) {
        name_load(p, &result->worst, load);
        dregs_report_line(p->report, 0, "no %s is stated: %s ug/cm2 at the worst load",
                          dregs_line_target_name(p->line) ? "limit of residue" : "target",
                          dregs_page_number(&n, result->worst.residue * UG_PER_CM2));
        dregs_report_line(p->report, 2, "worst: %s", load);
        dregs_page_predict_week_verdict(p, NULL);
    }
    dregs_page_predict_week_missing(p);
    if (p->request->loads)
        dregs_report_line(p->report, 2, "among the first %llu loads from the fresh start",
                          (unsigned long long)p->request->loads);
    if (result->level)
        dregs_report_line(p->report, 2, "level reached: %s (%s), at most %s ug/cm2",
                          result->level->name, result->level->later,
                          dregs_page_number(&n, result->level->as_printed));
    else
        dregs_report_line(p->report, 2, "level reached: none; the last one, J, allows 25 ug/cm2");
}

/* What the rinsing cannot reach. */
static void say_floor(const struct prediction *p)
{
    const dregs_fluid *fluid = dregs_line_wet_with(p->line, (unsigned)dregs_line_last_wet(p->line));
    const dregs_residue *floor = &p->result->floor;
    struct numbers n = {0};

    dregs_report_text(p->report, 2, 4,
                      "lowest attainable residue: %s ug/cm2 with nothing but fresh %s in the last "
                      "film, %s of it residue of that film, %s soil that adheres",
                      dregs_page_number(&n, floor->total * UG_PER_CM2), fluid->name,
                      dregs_page_number(&n, floor->film_total * UG_PER_CM2),
                      dregs_page_number(&n, floor->adhering_total * UG_PER_CM2));
    dregs_page_predict_say_mixing(p);
}

/* ---- tables for people ---- */

static int wider(int width, int other)
{
    return other > width ? other : width;
}

/* The first column holds the longest name of a stage and a blank; a solute's has the column of the
 * kinds too. */
static int name_width(const dregs_line *line)
{
    int width = NAME_LEAST;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        width = wider(width, dregs_page_columns(dregs_line_stage(line, i)->name) + 1);
    for (i = 0; i < dregs_line_solutes(line); i++)
        width = wider(width, dregs_page_columns(dregs_line_solute(line, i)->name) + 1 - KIND);
    return width;
}

static dregs_table *leaving_table(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "leaving", DREGS_IN_TEXT);
    char key[32];
    unsigned s;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "stage", "", name_width(p->line));
    dregs_table_column(table, DREGS_COLUMN_WORD, "kind", "", "", KIND - 1);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "drag_out", "drag-out", "mL/load", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film", "film", "um", -NUMBER);
    for (s = 0; s < dregs_line_solutes(p->line); s++) {
        const char *solute = dregs_page_solute(p->line, (int)s);
        snprintf(key, sizeof key, "solute_%u", s + 1);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, key, solute, "mg/L",
                           -wider(NUMBER + 1, dregs_page_columns(solute) + 2));
    }
    return table;
}

static void say_stages(const struct prediction *p)
{
    dregs_table *table;
    char load[LOAD_WORDS];
    unsigned i, s;

    name_load(p, &p->result->shown, load);
    dregs_report_heading(p->report, "what leaves each stage with the parts (%s)", load);
    table = leaving_table(p);
    for (i = 0; i < dregs_line_stages(p->line); i++) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        const dregs_carried *carried = dregs_line_carried(p->of, i);
        dregs_table_word(table, stage->name);
        dregs_table_word(table, dregs_stage_kind_name(stage->kind));
        if (!dregs_stage_is(stage, DREGS_STAGE_WET)) {
            dregs_table_shown(table, NAN, "dried");
            dregs_table_end_row(table);
            continue;
        }
        dregs_table_number(table, carried->out * ML);
        dregs_table_number(table, carried->thickness * UM);
        for (s = 0; s < dregs_line_solutes(p->line); s++)
            dregs_table_number(table,
                               dregs_state_concentration(p->result->at_shown, s, i) * MG_PER_L);
        dregs_table_end_row(table);
    }
}

static void residue_columns(dregs_table *table, const char *key, const char *head, int width)
{
    dregs_table_column(table, DREGS_COLUMN_WORD, key, head, "", width);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "dried_film", "dried film", "ug/cm2", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "adhering", "adhering", "ug/cm2", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "total", "total", "ug/cm2", -NUMBER - 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "per_part", "per part", "mg", -NUMBER - 1);
}

static double film_of(const dregs_residue *residue, int solute)
{
    return solute == DREGS_EVERY_SOLUTE ? residue->film_total : residue->film[solute];
}

static double adhering_of(const dregs_residue *residue, int solute)
{
    return solute == DREGS_EVERY_SOLUTE ? residue->adhering_total : residue->adhering[solute];
}

static void put_residue(dregs_table *table, const dregs_line *line, const char *name,
                        const dregs_residue *residue, int solute)
{
    double total = dregs_residue_of(residue, solute);

    dregs_table_word(table, name);
    dregs_table_number(table, film_of(residue, solute) * UG_PER_CM2);
    dregs_table_number(table, adhering_of(residue, solute) * UG_PER_CM2);
    dregs_table_number(table, total * UG_PER_CM2);
    dregs_table_number(table, total * dregs_line_load(line)->area.si * MG);
}

void dregs_page_predict_residues(const struct prediction *p, const char *key, int where,
                                 uint64_t load, const dregs_residue *residue)
{
    const dregs_line *of = dregs_line_of_kind(p->line, dregs_line_kind_at(p->line, load));
    dregs_table *table = dregs_report_table(p->report, key, where);
    unsigned s;

    residue_columns(table, "solute", "solute", name_width(p->line) + KIND);
    for (s = 0; s < residue->solutes; s++) {
        put_residue(table, of, dregs_page_solute(p->line, (int)s), residue, (int)s);
        dregs_table_end_row(table);
    }
    put_residue(table, of, "total", residue, DREGS_EVERY_SOLUTE);
    dregs_table_end_row(table);
}

/* ---- load by load ---- */

/* What a load is put into while the rows are made. */
struct filling {
    dregs_table *table;
    const dregs_line *line;
    const dregs_predict_doubt *doubt; /* NULL: its columns are not there */
    unsigned row;
};

/* The 5 and the 95 % point of the next listed load; the steady state has none. */
static void put_points(struct filling *f)
{
    dregs_ensemble_range range;
    uint64_t load;
    int known = f->row < f->doubt->loads &&
                !dregs_predict_doubt_load(f->doubt, f->row++, DREGS_EVERY_SOLUTE, &load, &range);

    dregs_table_number(f->table, known ? range.low.value * UG_PER_CM2 : NAN);
    dregs_table_number(f->table, known ? range.high.value * UG_PER_CM2 : NAN);
}

static void put_growth(struct filling *f, const char *name, uint64_t load,
                       const dregs_residue *residue)
{
    const dregs_level *level = dregs_level_reached(residue->total);
    const dregs_line *of = dregs_line_of_kind(f->line, dregs_line_kind_at(f->line, load));

    put_residue(f->table, of, name, residue, DREGS_EVERY_SOLUTE);
    if (f->doubt)
        put_points(f);
    dregs_table_word(f->table, level ? level->name : "none");
    dregs_table_end_row(f->table);
}

static void take_growth(void *user, uint64_t load, const dregs_state *state,
                        const dregs_residue *residue)
{
    struct filling *f = user;
    char name[32 + KIND_WORDS], kind[KIND_WORDS];

    (void)state;
    snprintf(name, sizeof name, "%llu%s", (unsigned long long)load,
             dregs_page_predict_kind_words(f->line, load, kind));
    put_growth(f, name, load, residue);
}

/* What the rows are made of. */
struct growth {
    const dregs_predict_result *result;
    const dregs_predict_doubt *doubt;
};

static dregs_status fill_growth(void *user, dregs_table *table)
{
    const struct growth *growth = user;
    const dregs_predict_result *result = growth->result;
    struct filling f = {table, dregs_map_line(result->map), growth->doubt, 0};
    dregs_status status = dregs_predict_each(result, take_growth, &f);

    if (!status && result->settles)
        put_growth(&f, dregs_line_period(f.line) > 1 ? "steady state, worst" : "steady state",
                   result->steady.load, &result->steady_residue);
    return status;
}

static void say_growth(const struct prediction *p)
{
    unsigned long long period = dregs_line_period(p->line);
    struct growth growth = {p->result, p->doubt && p->doubt->loads ? p->doubt : NULL};
    dregs_table *table;

    dregs_report_heading(p->report,
                         "how the residue grows, load by load (right: the level reached)");
    table = dregs_report_table(p->report, "growth", DREGS_IN_TEXT);
    residue_columns(table, "load", "load", name_width(p->line) + KIND);
    if (growth.doubt) {
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", "5 %", "ug/cm2", -NUMBER + 1);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", "95 %", "ug/cm2", -NUMBER + 1);
    }
    dregs_table_column(table, DREGS_COLUMN_WORD, "level", "", "", 0);
    dregs_table_gap(table, 2);
    dregs_table_filled_by(table, fill_growth,
                          dregs_report_lasting(p->report, &growth, sizeof growth));
    if (p->result->life)
        dregs_report_line(p->report, 0, "from load %llu on not covered: a limit is passed",
                          (unsigned long long)p->result->life->crossed);
    if (!p->result->settles)
        dregs_report_line(p->report, 0,
                          "the line has no steady state: some solute has no way out of a tank");
    else if (period > 1)
        dregs_report_text(p->report, 0, 2,
                          "all dumps fall together every %llu loads; at periodic steady state load "
                          "%llu after that is the worst",
                          period, (unsigned long long)p->result->steady.load);
}

/* ---- the page ---- */

static void say_page(const struct prediction *p)
{
    unsigned stages = dregs_line_stages(p->line);

    say_head(p);
    dregs_page_predict_doubt_confidence(p);
    say_verdicts(p);
    dregs_page_predict_doubt_verdict(p);
    dregs_page_predict_marked(p);
    dregs_page_predict_measure(p);
    say_floor(p);
    dregs_page_predict_kinds(p, DREGS_IN_TEXT);
    say_stages(p);
    dregs_report_heading(p->report, "what that load keeps when it has dried");
    dregs_page_predict_residues(p, "kept", DREGS_IN_TEXT, p->result->shown.load,
                                &p->result->shown_residue);
    say_growth(p);
    dregs_page_predict_say_week(p);
    dregs_page_predict_hangs(p);
    dregs_page_predict_doubt_tables(p);
    if (!dregs_stage_is(dregs_line_stage(p->line, stages - 1), DREGS_STAGE_DRIES))
        dregs_report_line(p->report, 0,
                          "the line has no drying at its end: the last film is taken to dry on "
                          "the parts");
    dregs_report_show(p->report, DREGS_LIST_ASSUMED, "assumed, because the file does not state it");
    dregs_report_show(p->report, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(p->report, DREGS_LIST_CAUTIONS, "cautions");
}

dregs_status dregs_page_predict(const dregs_line *line, const dregs_predict_request *request,
                                const dregs_predict_result *result, int explain,
                                dregs_report **report)
{
    return dregs_page_predict_with(line, request, result, NULL, explain, report);
}

dregs_status dregs_page_predict_with(const dregs_line *line, const dregs_predict_request *request,
                                     const dregs_predict_result *result,
                                     const dregs_predict_doubt *doubt, int explain,
                                     dregs_report **report)
{
    dregs_predict_request asked;
    unsigned kind = dregs_line_kind_at(line, result->shown.load);
    struct prediction p = {NULL,
                           line,
                           &asked,
                           result,
                           doubt,
                           dregs_line_of_kind(line, kind),
                           dregs_map_of_kind(result->map, kind)};

    dregs_predict_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    p.report = dregs_report_new("predict", dregs_line_name(line));
    if (!p.report)
        return DREGS_NO_MEMORY;
    dregs_report_show(p.report, DREGS_LIST_PRESSING, "");
    if (explain)
        dregs_page_predict_working(&p);
    else
        say_page(&p);
    if (explain)
        dregs_page_predict_doubt_working(&p);
    dregs_page_predict_data(&p);
    dregs_page_warming_data(p.report, line);
    dregs_page_predict_doubt_data(&p, !explain);
    dregs_page_predict_pictures(&p);
    dregs_page_marked(p.report, line);
    dregs_page_notes(p.report, line, DREGS_ASKED_RESIDUE | (doubt ? DREGS_ASKED_DOUBT : 0));
    dregs_page_predict_week_assumed(&p);
    dregs_page_cautions(p.report, result->caution, result->cautions);
    return dregs_page_end(p.report, report);
}
