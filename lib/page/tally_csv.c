/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_csv.c: the CSV table of a tally, one value a row:
 * stream,liquid,solute,period,value,unit; then the stage, the file.
 */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *dregs_page_tally_span(dregs_span span)
{
    static const char *const names[] = {"loads", "shift", "day", "month", "year", "quarter"};

    return names[span];
}

struct csv {
    dregs_table *table;
    const dregs_tally_result *answer;
    const dregs_tally_one *one;
    const dregs_tally_doubt *doubt; /* of that line; NULL: no draws */
    int stages, files;              /* a column more: the stage, the file */
};

static const char *period_name(const struct csv *csv, unsigned period)
{
    dregs_span span = dregs_tally_result_span(csv->answer)->span;

    if (period != DREGS_WHOLE)
        return dregs_page_tally_month(csv->one->tally, period);
    return span == DREGS_SPAN_MONTH ? dregs_page_tally_month(csv->one->tally, DREGS_WHOLE)
                                    : dregs_page_tally_span(span);
}

static void csv_row(const struct csv *csv, const char *stream, const char *liquid,
                    const char *solute, unsigned stage, unsigned period, double value,
                    const char *unit)
{
    dregs_table_word(csv->table, stream);
    dregs_table_word(csv->table, liquid);
    dregs_table_word(csv->table, solute);
    dregs_table_word(csv->table, period_name(csv, period));
    dregs_table_in(csv->table, value, unit);
    dregs_table_unit(csv->table, unit);
    if (csv->stages)
        dregs_table_word(csv->table,
                         stage == DREGS_WHOLE ? "" : dregs_line_stage(csv->one->line, stage)->name);
    if (csv->files)
        dregs_table_word(csv->table, dregs_line_name(csv->one->line));
    dregs_table_end_row(csv->table);
}

/* Rows of both ends of what stands above them. */
static void csv_ends(const struct csv *csv, dregs_status known, const dregs_ensemble_range *range,
                     const char *stream, const char *liquid, const char *solute, unsigned stage,
                     unsigned period, double scale, const char *unit)
{
    char name[80];

    if (known)
        return;
    snprintf(name, sizeof name, "%s, 5 %% of draws", stream);
    csv_row(csv, name, liquid, solute, stage, period, scale * range->low.value, unit);
    snprintf(name, sizeof name, "%s, 95 %% of draws", stream);
    csv_row(csv, name, liquid, solute, stage, period, scale * range->high.value, unit);
}

/* A stream of one substance, with its range where draws tell one; `value` in SI. */
static void csv_stream(const struct csv *csv, dregs_tally_kind kind, unsigned index,
                       dregs_stream stream, unsigned stage, unsigned period, double value)
{
    int solute = kind == DREGS_TALLY_SOLUTES;
    const char *name = stream == DREGS_STREAM_COUNT ? "reclaimed" : dregs_stream_name(stream);
    const char *of = solute ? dregs_line_solute(csv->one->line, index)->name
                            : dregs_line_fluid(csv->one->line, index)->name;
    dregs_ensemble_range range;

    csv_row(csv, name, solute ? "" : of, solute ? of : "", stage, period,
            value * (solute ? GRAMS : LITRES), solute ? "g" : "L");
    if (csv->doubt)
        csv_ends(csv,
                 dregs_tally_doubt_stream(csv->doubt, kind, index, stream, stage, period, &range),
                 &range, name, solute ? "" : of, solute ? of : "", stage, period,
                 solute ? GRAMS : LITRES, solute ? "g" : "L");
}

/* Of one stage, or of all. */
static void csv_streams(const struct csv *csv, unsigned stage, unsigned period)
{
    const dregs_line *line = csv->one->line;
    unsigned i;
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
        for (i = 0; i < dregs_line_fluids(line) && stream < DREGS_STREAM_ARRIVED; i++)
            csv_stream(csv, DREGS_TALLY_VOLUMES, i, (dregs_stream)stream, stage, period,
                       dregs_tally_fluid(csv->one->tally, (dregs_stream)stream, i, stage, period));
        for (i = 0; i < dregs_line_solutes(line); i++)
            csv_stream(csv, DREGS_TALLY_SOLUTES, i, (dregs_stream)stream, stage, period,
                       dregs_tally_solute(csv->one->tally, (dregs_stream)stream, i, stage, period));
    }
    for (i = 0; i < dregs_line_fluids(line); i++)
        csv_stream(csv, DREGS_TALLY_VOLUMES, i, DREGS_STREAM_COUNT, stage, period,
                   dregs_tally_reclaimed(csv->one->tally, i, stage, period));
}

/* With its range where draws tell one. */
static void csv_cost(const struct csv *csv, const char *name, dregs_tally_spent spent,
                     unsigned stage, unsigned period, double value)
{
    int by_month = !csv->stages;
    unsigned part = by_month ? (period == DREGS_WHOLE ? DREGS_MONTHS : period)
                             : (stage == DREGS_WHOLE ? dregs_line_stages(csv->one->line) : stage);
    dregs_ensemble_range range;

    csv_row(csv, name, "", "", stage, period, value, csv->one->currency);
    if (csv->doubt)
        csv_ends(csv,
                 dregs_tally_doubt_range(csv->doubt,
                                         by_month ? DREGS_TALLY_RANGE_MONTH_COST
                                                  : DREGS_TALLY_RANGE_STAGE_COST,
                                         part * DREGS_TALLY_SPENTS + spent, &range),
                 &range, name, "", "", stage, period, 1, csv->one->currency);
}

static void csv_costs(const struct csv *csv, unsigned stage, unsigned period)
{
    dregs_tally_cost cost = dregs_tally_costs_of(csv->one->tally, stage, period);

    if (isnan(cost.total))
        return;
    csv_cost(csv, "cost of liquid bought", DREGS_TALLY_SPENT_BOUGHT, stage, period, cost.bought);
    csv_cost(csv, "cost of waste", DREGS_TALLY_SPENT_WASTE, stage, period, cost.disposal);
    if (dregs_tally_changes(csv->one->tally, stage, period) > 0)
        csv_cost(csv, "cost of changes", DREGS_TALLY_SPENT_CHANGES, stage, period,
                 dregs_tally_change_cost(csv->one->tally, stage, period));
}

static dregs_status csv_lines(const dregs_tally_result *answer, const dregs_tally_doubt *doubt,
                              dregs_table *table, dregs_tally_view view)
{
    int several = dregs_tally_result_line(answer, 1) != NULL;
    struct csv csv = {table,  answer, NULL, several ? NULL : doubt, view == DREGS_TALLY_BY_STAGE,
                      several};
    unsigned i, k;

    for (i = 0; (csv.one = dregs_tally_result_line(answer, i)) != NULL; i++) {
        for (k = 0; csv.stages && k < dregs_line_stages(csv.one->line); k++) {
            csv_streams(&csv, k, DREGS_WHOLE);
            csv_costs(&csv, k, DREGS_WHOLE);
        }
        for (k = 0; view == DREGS_TALLY_BY_MONTH && k < DREGS_MONTHS; k++) {
            csv_streams(&csv, DREGS_WHOLE, k);
            csv_costs(&csv, DREGS_WHOLE, k);
        }
        csv_streams(&csv, DREGS_WHOLE, DREGS_WHOLE);
        csv_costs(&csv, DREGS_WHOLE, DREGS_WHOLE);
    }
    csv.one = dregs_tally_result_line(answer, 0);
    if (doubt)
        dregs_page_tally_doubt_rows(table, doubt, csv.one, period_name(&csv, DREGS_WHOLE));
    if (dregs_tally_result_law(answer))
        dregs_page_law_rows(table, dregs_tally_result_law(answer), doubt);
    if (dregs_tally_result_law(answer) && dregs_tally_result_actual(answer)) {
        dregs_page_law_recorded_rows(table, dregs_tally_result_law(answer),
                                     dregs_tally_result_actual(answer));
        dregs_page_law_log_rows(table, dregs_tally_result_actual(answer), doubt);
    }
    if (dregs_tally_result_actual(answer))
        dregs_page_actual_rows(table, dregs_tally_result_actual(answer), doubt);
    return DREGS_OK;
}

/* What the rows are made of when they are written. */
struct filled {
    const dregs_tally_result *answer;
    const dregs_tally_doubt *doubt;
    dregs_tally_view view;
};

static dregs_status fill_csv(void *user, dregs_table *table)
{
    const struct filled *filled = user;

    return csv_lines(filled->answer, filled->doubt, table, filled->view);
}

void dregs_page_tally_csv(struct tally_page *page, dregs_tally_view view)
{
    static const char *const keys[] = {"stream", "liquid", "solute", "period", "value", "unit"};
    const struct filled filled = {page->answer, page->doubt, view};
    dregs_table *table = dregs_report_table(page->report, "rows", DREGS_IN_CSV);
    unsigned i;

    for (i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        dregs_table_column(table,
                           strcmp(keys[i], "value") ? DREGS_COLUMN_WORD : DREGS_COLUMN_NUMBER,
                           keys[i], NULL, "", 0);
        if (strcmp(keys[i], "period") == 0)
            dregs_table_index(table);
    }
    if (view == DREGS_TALLY_BY_STAGE) {
        dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
        dregs_table_index(table);
    }
    if (dregs_tally_result_line(page->answer, 1)) {
        dregs_table_column(table, DREGS_COLUMN_WORD, "file", NULL, "", 0);
        dregs_table_index(table);
    }
    dregs_table_filled_by(table, fill_csv,
                          dregs_report_lasting(page->report, &filled, sizeof filled));
}
