/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_recorded.c: a solvent plan from records, with that of the model beside it. */
#include "page/tally_law.h"

#include <math.h>
#include <stdio.h>

static const struct {
    const char *name, *words;
} figures[DREGS_TALLY_RECORDEDS] = {
    [DREGS_TALLY_RECORDED_I1] = {"I1", "bought and used"},
    [DREGS_TALLY_RECORDED_I2] = {"I2", "recovered and used again"},
    [DREGS_TALLY_RECORDED_O6] = {"O6", "in collected waste"},
    [DREGS_TALLY_RECORDED_O7] = {"O7", "sold"},
    [DREGS_TALLY_RECORDED_O8] = {"O8", "recovered for use elsewhere"},
    [DREGS_TALLY_RECORDED_REST] = {"rest", "all else: air, drain, parts"},
    [DREGS_TALLY_RECORDED_CONSUMPTION] = {"consumption", "I1 - O8"},
    [DREGS_TALLY_RECORDED_FUGITIVE] = {"fugitive", "less what is captured"},
};

/* A figure, with the doubt of the model in its deviation where there are draws. */
static dregs_tally_both figure_of(const dregs_tally_record *record, const dregs_tally_doubt *doubt,
                                  unsigned figure)
{
    dregs_tally_both both = record->figure[figure];

    if (doubt)
        (void)dregs_tally_doubt_recorded(doubt, record->plan->number, (dregs_tally_recorded)figure,
                                         &both);
    return both;
}

/* Both have nothing of it. */
static int is_nothing(const dregs_tally_both *both)
{
    return both->measured == 0 && both->modelled == 0;
}

static void say_figures(dregs_report *report, const dregs_tally_record *record,
                        const dregs_tally_doubt *doubt)
{
    static const char *const heads[] = {"records", "model", "unexplained", "deviation"};
    dregs_table *table = dregs_report_table(report, "law_recorded_shown", DREGS_IN_TEXT);
    char head[32];
    unsigned i;

    dregs_table_indent(table, 6);
    snprintf(head, sizeof head, "%.20s a year", dregs_report_unit(report, "kg"));
    dregs_table_column(table, DREGS_COLUMN_WORD, "figure", head, "", 12);
    dregs_table_column(table, DREGS_COLUMN_WORD, "meaning", "", "", 28);
    for (i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        dregs_table_column(table, DREGS_COLUMN_NUMBER, heads[i], heads[i], "", -12);
        dregs_table_measured(table, "kg");
    }
    for (i = 0; i < DREGS_TALLY_RECORDEDS; i++) {
        dregs_tally_both both = figure_of(record, doubt, i);
        if (is_nothing(&both))
            continue;
        dregs_table_word(table, figures[i].name);
        dregs_table_word(table, figures[i].words);
        dregs_table_number(table, both.measured);
        dregs_table_number(table, both.modelled);
        dregs_table_number(table, both.unexplained.value);
        dregs_table_number(table, both.unexplained.sd);
        dregs_table_end_row(table);
    }
}

/* Figures that are further apart than their deviations tell. */
static void say_apart(dregs_report *report, const dregs_tally_record *record,
                      const dregs_tally_doubt *doubt)
{
    struct numbers n = {0};
    unsigned i, shown = 0;

    for (i = 0; i < DREGS_TALLY_RECORDED_REST; i++) {
        dregs_tally_both both = figure_of(record, doubt, i);
        if (!both.scatter)
            dregs_report_words(report, "%s %s by %s of its standard deviation",
                               shown++ ? "," : "records and model differ by more than scatter:",
                               figures[i].name, dregs_page_number(&n, both.unexplained.ratio));
    }
    if (shown)
        dregs_report_end(report, 6, 8);
}

/* What the records leave open. */
static void say_open(dregs_report *report, const dregs_tally_record *record)
{
    struct numbers n = {0};

    if (record->unassayed > 0)
        dregs_report_text(report, 6, 8, "%s are in waste without an assay, at most",
                          dregs_page_amount(report, &n, record->unassayed, "kg"));
    if (record->lot > 0)
        dregs_report_text(
            report, 6, 8,
            "stock was not counted at both ends of the year: I1 may be %s more or less",
            dregs_page_amount(report, &n, record->lot, "kg"));
}

/* Adds between what a mass lies, in the unit that it is shown in. */
static void say_span(dregs_report *report, double mass, double least, double most)
{
    double per = dregs_page_per(report, mass, "kg");
    struct numbers n = {0};

    dregs_report_words(report, " (%s to %s)", dregs_page_number(&n, least * per),
                       dregs_page_number(&n, most * per));
}

static void say_result(dregs_report *report, const dregs_tally_record *record)
{
    const dregs_law_plan_result *r = &record->plan->result;
    int open = record->unassayed > 0 || record->lot > 0;
    struct numbers n = {0};

    dregs_report_words(report, "from records: consumption %s",
                       dregs_page_amount(report, &n, r->consumption, "kg"));
    if (open)
        say_span(report, r->consumption, record->least.consumption, record->most.consumption);
    dregs_report_words(
        report, ", input %s; fugitive %s%s", dregs_page_amount(report, &n, r->input, "kg"),
        record->plan->bound ? "at most " : "", dregs_page_amount(report, &n, r->fugitive, "kg"));
    if (open)
        say_span(report, r->fugitive, record->least.fugitive, record->most.fugitive);
    dregs_report_words(report, ", %s %% of the input; total emission %s",
                       dregs_page_number(&n, r->share * 100),
                       dregs_page_amount(report, &n, record->plan->total, "kg"));
    dregs_report_end(report, 6, 8);
}

void dregs_page_law_recorded(dregs_report *report, const dregs_tally_record *record,
                             const dregs_tally_plan *model, const dregs_tally_doubt *doubt)
{
    struct numbers n = {0};

    say_figures(report, record, doubt);
    say_apart(report, record, doubt);
    say_result(report, record);
    say_open(report, record);
    dregs_report_text(
        report, 6, 8,
        "beside it the model: consumption %s, fugitive %s %% of the input; the records decide",
        dregs_page_amount(report, &n, model->result.consumption, "kg"),
        dregs_page_number(&n, model->result.share * 100));
    if (record->plan->plan.o2 > 0)
        dregs_report_text(report, 6, 8, "O2, lost in water, is that of the model: %s",
                          dregs_page_amount(report, &n, record->plan->plan.o2, "kg"));
}

/* ---- for programs ---- */

static void put_results(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_actual *actual)
{
    static const char *const keys[] = {
        "consumption",       "consumption_least",  "consumption_most", "input",
        "fugitive",          "fugitive_least",     "fugitive_most",    "unassayed_waste",
        "stock_not_counted", "lost_in_water_model"};
    dregs_table *table = dregs_report_table(report, "law_recorded_plans", DREGS_IN_JSON);
    const dregs_tally_plan *plan;
    unsigned i, k;

    dregs_page_count_column(table, "plan");
    for (k = 0; k < sizeof keys / sizeof keys[0]; k++)
        dregs_page_number_column(table, keys[k], "kg");
    dregs_page_number_column(table, "fugitive_share", "1");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        const dregs_tally_record *r = dregs_tally_actual_record(actual, plan->number);
        if (!r)
            continue;
        {
            const double values[] = {r->plan->result.consumption,
                                     r->least.consumption,
                                     r->most.consumption,
                                     r->plan->result.input,
                                     r->plan->result.fugitive,
                                     r->least.fugitive,
                                     r->most.fugitive,
                                     r->unassayed,
                                     r->lot,
                                     r->plan->plan.o2,
                                     r->plan->result.share};
            dregs_table_count(table, i + 1);
            for (k = 0; k < sizeof values / sizeof values[0]; k++)
                dregs_table_number(table, values[k]);
        }
        dregs_table_end_row(table);
    }
}

static void put_figures(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    static const char *const keys[] = {"records",           "model",
                                       "unexplained",       "deviation",
                                       "deviation_of_rows", "deviation_of_stock",
                                       "deviation_of_model"};
    dregs_table *table = dregs_report_table(report, "law_recorded_figures", DREGS_IN_JSON);
    const dregs_tally_plan *plan;
    unsigned i, f, k;

    dregs_page_count_column(table, "plan");
    dregs_page_word_column(table, "figure");
    for (k = 0; k < sizeof keys / sizeof keys[0]; k++)
        dregs_page_number_column(table, keys[k], "kg");
    dregs_page_flag_column(table, "more_than_scatter");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        const dregs_tally_record *r = dregs_tally_actual_record(actual, plan->number);
        for (f = 0; r && f < DREGS_TALLY_RECORDEDS; f++) {
            dregs_tally_both both = figure_of(r, doubt, f);
            const double values[] = {both.measured,
                                     both.modelled,
                                     both.unexplained.value,
                                     both.unexplained.sd,
                                     both.unexplained.sd_measured,
                                     both.unexplained.sd_stock,
                                     both.unexplained.sd_model};
            dregs_table_count(table, i + 1);
            dregs_table_word(table, figures[f].name);
            for (k = 0; k < sizeof values / sizeof values[0]; k++)
                dregs_table_number(table, values[k]);
            dregs_table_flag(table, !both.scatter);
            dregs_table_end_row(table);
        }
    }
}

void dregs_page_law_recorded_data(dregs_report *report, const dregs_tally_law *law,
                                  const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    if (!actual)
        return;
    put_results(report, law, actual);
    put_figures(report, law, actual, doubt);
}

/* ---- rows of the CSV table ---- */

void dregs_page_law_recorded_rows(dregs_table *table, const dregs_tally_law *law,
                                  const dregs_tally_actual *actual)
{
    const dregs_tally_plan *plan;
    unsigned i, f;
    char name[80];

    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        const dregs_tally_record *r = dregs_tally_actual_record(actual, plan->number);
        const char *activity =
            plan->activity_known ? dregs_page_law_activity(plan->activity) : "surface cleaning";
        for (f = 0; r && f < DREGS_TALLY_RECORDEDS; f++) {
            (void)snprintf(name, sizeof name, "solvent plan from records %s", figures[f].name);
            dregs_page_stream_row(table, name, activity, "", "year", r->figure[f].measured, "kg");
        }
        if (r)
            dregs_page_stream_row(table, "solvent plan from records fugitive share", activity, "",
                                  "year", r->plan->result.share, "1");
    }
}
