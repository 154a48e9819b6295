/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_csv.c: the CSV table of a tally, one value a row:
 * stream,liquid,solute,period,value,unit; then the stage, the file.
 */
#include "page/tally.h"

#include <math.h>
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
    int stages, files; /* a column more: the stage, the file */
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
    dregs_table_number(csv->table, value);
    dregs_table_word(csv->table, unit);
    if (csv->stages)
        dregs_table_word(csv->table,
                         stage == DREGS_WHOLE ? "" : dregs_line_stage(csv->one->line, stage)->name);
    if (csv->files)
        dregs_table_word(csv->table, dregs_line_name(csv->one->line));
    dregs_table_end_row(csv->table);
}

/* Of one stage, or of all. */
static void csv_streams(const struct csv *csv, unsigned stage, unsigned period)
{
    const dregs_line *line = csv->one->line;
    unsigned i;
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
        const char *name = dregs_stream_name((dregs_stream)stream);
        for (i = 0; i < dregs_line_fluids(line) && stream < DREGS_STREAM_ARRIVED; i++)
            csv_row(csv, name, dregs_line_fluid(line, i)->name, "", stage, period,
                    LITRES *
                        dregs_tally_fluid(csv->one->tally, (dregs_stream)stream, i, stage, period),
                    "L");
        for (i = 0; i < dregs_line_solutes(line); i++)
            csv_row(csv, name, "", dregs_line_solute(line, i)->name, stage, period,
                    GRAMS *
                        dregs_tally_solute(csv->one->tally, (dregs_stream)stream, i, stage, period),
                    "g");
    }
    for (i = 0; i < dregs_line_fluids(line); i++)
        csv_row(csv, "reclaimed", dregs_line_fluid(line, i)->name, "", stage, period,
                LITRES * dregs_tally_reclaimed(csv->one->tally, i, stage, period), "L");
}

static void csv_costs(const struct csv *csv, unsigned stage, unsigned period)
{
    dregs_tally_cost cost = dregs_tally_costs_of(csv->one->tally, stage, period);
    const char *currency = csv->one->currency;

    if (isnan(cost.total))
        return;
    csv_row(csv, "cost of liquid bought", "", "", stage, period, cost.bought, currency);
    csv_row(csv, "cost of waste", "", "", stage, period, cost.disposal, currency);
    if (dregs_tally_changes(csv->one->tally, stage, period) > 0)
        csv_row(csv, "cost of changes", "", "", stage, period,
                dregs_tally_change_cost(csv->one->tally, stage, period), currency);
}

static dregs_status csv_lines(const dregs_tally_result *answer, const dregs_tally_doubt *doubt,
                              dregs_table *table, dregs_tally_view view)
{
    struct csv csv = {table, answer, NULL, view == DREGS_TALLY_BY_STAGE,
                      dregs_tally_result_line(answer, 1) != NULL};
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
        dregs_page_law_rows(table, dregs_tally_result_law(answer));
    if (dregs_tally_result_law(answer) && dregs_tally_result_actual(answer))
        dregs_page_law_recorded_rows(table, dregs_tally_result_law(answer),
                                     dregs_tally_result_actual(answer));
    if (dregs_tally_result_actual(answer))
        dregs_page_actual_rows(table, dregs_tally_result_actual(answer), doubt);
    return DREGS_OK;
}

static dregs_status fill_csv(void *user, dregs_table *table)
{
    return csv_lines(user, NULL, table, DREGS_TALLY_BALANCE);
}

static dregs_status fill_csv_by_stage(void *user, dregs_table *table)
{
    return csv_lines(user, NULL, table, DREGS_TALLY_BY_STAGE);
}

static dregs_status fill_csv_by_month(void *user, dregs_table *table)
{
    return csv_lines(user, NULL, table, DREGS_TALLY_BY_MONTH);
}

/* The balance with what the draws say of it. */
static dregs_status fill_csv_with(void *user, dregs_table *table)
{
    const dregs_tally_doubt *doubt = user;

    return csv_lines(doubt->answer, doubt, table, DREGS_TALLY_BALANCE);
}

void dregs_page_tally_csv(struct tally_page *page, dregs_tally_view view)
{
    static const char *const keys[] = {"stream", "liquid", "solute", "period", "value", "unit"};
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
    if (page->doubt && view != DREGS_TALLY_BY_STAGE && view != DREGS_TALLY_BY_MONTH) {
        dregs_table_filled_by(table, fill_csv_with, (void *)page->doubt);
        return;
    }
    dregs_table_filled_by(table,
                          view == DREGS_TALLY_BY_STAGE   ? fill_csv_by_stage
                          : view == DREGS_TALLY_BY_MONTH ? fill_csv_by_month
                                                         : fill_csv,
                          (void *)page->answer);
}
