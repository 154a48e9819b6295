/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_data.c: what only programs read of a tally: figures and tables. Tables of streams are long,
 * so their rows are made when they are written.
 */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>

/* ---- JSON: streams of every line, of the whole, of each stage and of each month ---- */

/* What the rows are made of when they are written: draws of a single line alone tell of streams. */
struct filled {
    const dregs_tally_result *answer;
    const dregs_tally_doubt *doubt;
};

/* A part of a tally; stage or month are DREGS_WHOLE. */
typedef void put_part(dregs_table *, const dregs_tally_one *, const dregs_tally_doubt *,
                      unsigned stage, unsigned period);

static void put_parts(const struct filled *filled, dregs_table *table, put_part *put)
{
    const dregs_tally_one *one;
    unsigned i, k;

    for (i = 0; (one = dregs_tally_result_line(filled->answer, i)) != NULL; i++) {
        put(table, one, filled->doubt, DREGS_WHOLE, DREGS_WHOLE);
        for (k = 0; k < dregs_line_stages(one->line); k++)
            put(table, one, filled->doubt, k, DREGS_WHOLE);
        for (k = 0; dregs_tally_periods(one->tally) > 1 && k < DREGS_MONTHS; k++)
            put(table, one, filled->doubt, DREGS_WHOLE, k);
    }
}

static void put_stream(dregs_table *table, const dregs_tally_doubt *doubt, dregs_tally_kind kind,
                       unsigned index, dregs_stream stream, unsigned stage, unsigned period,
                       double value, double unit)
{
    dregs_ensemble_range range;

    dregs_page_tally_put_known(
        table,
        doubt ? dregs_tally_doubt_stream(doubt, kind, index, stream, stage, period, &range)
              : DREGS_UNKNOWN,
        &range, value, unit);
}

/* The columns that say which part a row is of, and of what. */
static dregs_table *part_table(struct tally_page *page, const char *key, const char *substance)
{
    dregs_table *table = dregs_report_table(page->report, key, DREGS_IN_JSON);

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "month");
    dregs_page_word_column(table, "stream");
    dregs_page_word_column(table, substance);
    return table;
}

static void put_place(dregs_table *table, const dregs_tally_one *one, unsigned stage,
                      unsigned period, const char *stream, const char *substance)
{
    dregs_table_word(table, dregs_line_name(one->line));
    dregs_table_word(table, stage == DREGS_WHOLE ? NULL : dregs_line_stage(one->line, stage)->name);
    dregs_table_word(table,
                     period == DREGS_WHOLE ? NULL : dregs_page_tally_month(one->tally, period));
    dregs_table_word(table, stream);
    dregs_table_word(table, substance);
}

static void put_liquids(dregs_table *table, const dregs_tally_one *one,
                        const dregs_tally_doubt *doubt, unsigned stage, unsigned period)
{
    unsigned i;
    int stream;

    for (i = 0; i < dregs_line_fluids(one->line); i++) {
        const char *name = dregs_line_fluid(one->line, i)->name;
        double back = dregs_tally_reclaimed(one->tally, i, stage, period);
        for (stream = 0; stream < DREGS_STREAM_ARRIVED; stream++) {
            double volume = dregs_tally_fluid(one->tally, (dregs_stream)stream, i, stage, period);
            if (volume == 0)
                continue;
            put_place(table, one, stage, period, dregs_stream_name((dregs_stream)stream), name);
            put_stream(table, doubt, DREGS_TALLY_VOLUMES, i, (dregs_stream)stream, stage, period,
                       volume, LITRES);
            dregs_table_number(table, dregs_tally_cell(one->tally, DREGS_TALLY_MASSES, i,
                                                       (dregs_stream)stream, stage, period));
            dregs_table_end_row(table);
        }
        if (back > 0) {
            put_place(table, one, stage, period, "reclaimed", name);
            put_stream(table, doubt, DREGS_TALLY_VOLUMES, i, DREGS_STREAM_COUNT, stage, period,
                       back, LITRES);
            dregs_table_end_row(table);
        }
    }
}

static dregs_status fill_liquids(void *user, dregs_table *table)
{
    put_parts(user, table, put_liquids);
    return DREGS_OK;
}

static void put_solutes(dregs_table *table, const dregs_tally_one *one,
                        const dregs_tally_doubt *doubt, unsigned stage, unsigned period)
{
    unsigned i;
    int stream;

    for (i = 0; i < dregs_line_solutes(one->line); i++)
        for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
            double mass = dregs_tally_solute(one->tally, (dregs_stream)stream, i, stage, period);
            if (mass == 0)
                continue;
            put_place(table, one, stage, period, dregs_stream_name((dregs_stream)stream),
                      dregs_line_solute(one->line, i)->name);
            put_stream(table, doubt, DREGS_TALLY_SOLUTES, i, (dregs_stream)stream, stage, period,
                       mass, GRAMS);
            dregs_table_end_row(table);
        }
}

static dregs_status fill_solutes(void *user, dregs_table *table)
{
    put_parts(user, table, put_solutes);
    return DREGS_OK;
}

static void put_streams(struct tally_page *page)
{
    const struct filled filled = {page->answer,
                                  dregs_tally_result_line(page->answer, 1) ? NULL : page->doubt};
    void *lasting = dregs_report_lasting(page->report, &filled, sizeof filled);
    dregs_table *table = part_table(page, "liquids", "liquid");

    dregs_page_number_column(table, "volume", "L");
    dregs_page_number_column(table, "mass", "kg");
    dregs_table_filled_by(table, fill_liquids, lasting);
    table = part_table(page, "solutes", "solute");
    dregs_page_number_column(table, "mass", "g");
    dregs_table_filled_by(table, fill_solutes, lasting);
}

/* ---- what a period comes to ---- */

static void put_month(dregs_table *table, const struct tally_page *page, unsigned line,
                      unsigned period)
{
    const dregs_tally_one *one = dregs_tally_result_line(page->answer, line);
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, line, period);
    dregs_tally_cost cost = dregs_tally_costs(one->tally, period);
    int asked = page->view == DREGS_TALLY_BY_MONTH || page->view == DREGS_TALLY_BY_QUARTER;
    const dregs_tally_doubt *doubt = asked ? page->doubt : NULL; /* those are of one line */
    const struct {
        dregs_tally_sum sum;
        double value;
    } sums[] = {
        {DREGS_TALLY_SUM_BOUGHT, o->bought},      {DREGS_TALLY_SUM_TO_DRAIN, o->to_drain},
        {DREGS_TALLY_SUM_TO_WASTE, o->to_waste},  {DREGS_TALLY_SUM_EVAPORATED, o->evaporated},
        {DREGS_TALLY_SUM_DRIED, o->dried},        {DREGS_TALLY_SUM_BLOWN_OFF, o->blown_off},
        {DREGS_TALLY_SUM_HELD_LAST, o->held_last}};
    int whole = period == DREGS_WHOLE;
    unsigned month = whole ? DREGS_MONTHS : period, first = whole ? 0 : period * DREGS_TALLY_SUMS;
    unsigned i;

    dregs_table_word(table, dregs_line_name(one->line));
    dregs_table_word(table,
                     period == DREGS_WHOLE ? NULL : dregs_page_tally_month(one->tally, period));
    dregs_table_count(table, dregs_tally_loads(one->tally, period));
    dregs_table_count(table, dregs_tally_days(one->tally, period));
    dregs_table_number(table, dregs_tally_seconds(one->tally, period));
    for (i = 0; i < sizeof sums / sizeof sums[0]; i++)
        dregs_page_tally_put(table, doubt,
                             whole ? DREGS_TALLY_RANGE_OUTLINE : DREGS_TALLY_RANGE_MONTH,
                             first + sums[i].sum, sums[i].value, LITRES);
    dregs_table_word(table, isnan(cost.total) ? NULL : one->currency);
    dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_MONTH_COST,
                         DREGS_TALLY_SPENTS * month + DREGS_TALLY_SPENT_BOUGHT, cost.bought, 1);
    dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_MONTH_COST,
                         DREGS_TALLY_SPENTS * month + DREGS_TALLY_SPENT_WASTE, cost.disposal, 1);
    dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_MONTH_COST,
                         DREGS_TALLY_SPENTS * month + DREGS_TALLY_SPENT_ALL, cost.total, 1);
    dregs_table_end_row(table);
}

static void put_months(struct tally_page *page)
{
    static const char *const volumes[] = {"bought", "to_drain",  "to_waste",    "evaporated",
                                          "dried",  "blown_off", "in_the_tanks"};
    dregs_table *table = dregs_report_table(page->report, "months", DREGS_IN_JSON);
    const dregs_tally_one *one;
    unsigned i, k;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "month");
    dregs_table_column(table, DREGS_COLUMN_COUNT, "loads", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "days", NULL, "", 0);
    dregs_page_number_column(table, "time", "s");
    for (i = 0; i < sizeof volumes / sizeof volumes[0]; i++)
        dregs_page_number_column(table, volumes[i], "L");
    dregs_page_word_column(table, "currency");
    dregs_page_number_column(table, "cost_of_liquid_bought", "currency");
    dregs_page_number_column(table, "cost_of_waste", "currency");
    dregs_page_number_column(table, "cost", "currency");
    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        put_month(table, page, i, DREGS_WHOLE);
        for (k = 0; dregs_tally_periods(one->tally) > 1 && k < DREGS_MONTHS; k++)
            put_month(table, page, i, k);
    }
}

/* ---- what each stage costs ---- */

/* Of one line; nothing without a price. */
static void put_stage_costs(struct tally_page *page)
{
    static const char *const keys[] = {"bought", "waste", "changes", "cost"};
    dregs_table *table = dregs_report_table(page->report, "stage_costs", DREGS_IN_JSON);
    unsigned stages = dregs_line_stages(page->one->line), i, k;

    dregs_page_word_column(table, "stage");
    for (k = 0; k < sizeof keys / sizeof keys[0]; k++)
        dregs_page_number_column(table, keys[k], "currency");
    if (isnan(dregs_tally_costs(page->one->tally, DREGS_WHOLE).total))
        return;
    for (i = 0; i <= stages; i++) {
        unsigned stage = i < stages ? i : DREGS_WHOLE;
        dregs_tally_cost cost = dregs_tally_costs_of(page->one->tally, stage, DREGS_WHOLE);
        const double spent[DREGS_TALLY_SPENTS] = {
            cost.bought, cost.disposal,
            dregs_tally_change_cost(page->one->tally, stage, DREGS_WHOLE), cost.total};
        dregs_table_word(table, i < stages ? dregs_line_stage(page->one->line, i)->name : NULL);
        for (k = 0; k < DREGS_TALLY_SPENTS; k++)
            dregs_page_tally_put(table, page->doubt, DREGS_TALLY_RANGE_STAGE_COST,
                                 i * DREGS_TALLY_SPENTS + k, spent[k], 1);
        dregs_table_end_row(table);
    }
}

/* ---- what rounding leaves of the balances ---- */

static void put_balance(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "balance", DREGS_IN_JSON);
    const dregs_tally_one *one;
    unsigned i, k;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "solute");
    dregs_page_number_column(table, "density", "kg/m3");
    dregs_page_number_column(table, "balance_error", "1");
    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        for (k = 0; k < dregs_line_fluids(one->line); k++) {
            dregs_table_word(table, dregs_line_name(one->line));
            dregs_table_word(table, dregs_line_fluid(one->line, k)->name);
            dregs_table_word(table, NULL);
            dregs_table_number(table, dregs_tally_density(one->tally, k));
            dregs_table_number(table, dregs_tally_residual_fluid(one->tally, k, DREGS_WHOLE));
            dregs_table_end_row(table);
        }
        for (k = 0; k < dregs_line_solutes(one->line); k++) {
            dregs_table_word(table, dregs_line_name(one->line));
            dregs_table_word(table, NULL);
            dregs_table_word(table, dregs_line_solute(one->line, k)->name);
            dregs_table_number(table, NAN);
            dregs_table_number(table, dregs_tally_residual_solute(one->tally, k, DREGS_WHOLE));
            dregs_table_end_row(table);
        }
    }
}

/* ---- the largest streams, and what stills give back ---- */

static void put_part_of(dregs_table *table, const struct tally_page *page,
                        const dregs_tally_one *one, int by_cost, unsigned index,
                        const dregs_tally_part *part)
{
    dregs_table_word(table, dregs_line_name(one->line));
    dregs_table_word(table, by_cost ? "cost" : "volume");
    dregs_table_word(table, dregs_line_stage(one->line, part->stage)->name);
    dregs_table_word(table, dregs_stream_name(part->stream));
    dregs_table_word(
        table, part->fluid == DREGS_WHOLE ? NULL : dregs_line_fluid(one->line, part->fluid)->name);
    dregs_page_tally_put(table, by_cost ? NULL : page->doubt, DREGS_TALLY_RANGE_LARGEST, index,
                         part->volume, LITRES);
    dregs_page_tally_put(table, by_cost ? page->doubt : NULL, DREGS_TALLY_RANGE_DEAREST, index,
                         part->cost, 1);
    dregs_table_number(table, part->share);
    dregs_table_end_row(table);
}

static void put_largest(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "largest_streams", DREGS_IN_JSON);
    const dregs_tally_part *part;
    const dregs_tally_one *one;
    unsigned line, i;
    int by_cost;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "ranked_by");
    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "stream");
    dregs_page_word_column(table, "liquid");
    dregs_page_number_column(table, "volume", "L");
    dregs_page_number_column(table, "cost", "currency");
    dregs_page_number_column(table, "share", "1");
    for (line = 0; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++)
        for (by_cost = 0; by_cost < 2; by_cost++)
            for (i = 0; (part = dregs_tally_result_part(page->answer, line, by_cost, i)); i++)
                put_part_of(table, page, one, by_cost, i, part);
}

static void put_stills(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "stills", DREGS_IN_JSON);
    const dregs_tally_still *still;
    const dregs_tally_one *one;
    unsigned line, i;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "liquid");
    dregs_page_number_column(table, "treated", "L");
    dregs_page_number_column(table, "reclaimed", "L");
    dregs_page_number_column(table, "kept_in_still", "L");
    for (line = 0; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++)
        for (i = 0; (still = dregs_tally_result_still(page->answer, line, i)) != NULL; i++) {
            dregs_table_word(table, dregs_line_name(one->line));
            dregs_table_word(table, dregs_line_stage(one->line, still->stage)->name);
            dregs_table_word(table, dregs_line_fluid(one->line, still->fluid)->name);
            dregs_table_number(table, still->treated * LITRES);
            dregs_table_number(table, still->back * LITRES);
            dregs_table_number(table, still->kept * LITRES);
            dregs_table_end_row(table);
        }
}

/* ---- figures, what changes do to them, lines compared by them ---- */

static void put_named(dregs_table *table, const dregs_tally_one *one, const char *name,
                      const char *unit)
{
    dregs_table_word(table, name);
    dregs_table_unit(table, dregs_page_tally_unit(one, unit));
}

static void put_line_figures(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "line_figures", DREGS_IN_JSON);
    const dregs_tally_figure *figure;
    const dregs_tally_one *one;
    dregs_ensemble_range range;
    unsigned line, i;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "figure");
    dregs_page_word_column(table, "unit");
    dregs_page_number_column(table, "value", "");
    for (line = 0; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++)
        for (i = 0; (figure = dregs_tally_result_figure(page->answer, line, i)) != NULL; i++) {
            dregs_table_word(table, dregs_line_name(one->line));
            put_named(table, one, figure->name, figure->unit);
            if (page->doubt && !dregs_tally_doubt_figure(page->doubt, line, i, &range))
                dregs_table_within_in(table, figure->value, range.low.value, range.high.value,
                                      figure->unit);
            else
                dregs_table_in(table, figure->value, figure->unit);
            dregs_table_end_row(table);
        }
}

/* Nothing of a single line. */
static void put_compared(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "compared", DREGS_IN_JSON);
    const dregs_tally_compared *row;
    const dregs_tally_one *one;
    unsigned line, i;

    dregs_page_word_column(table, "file");
    dregs_page_word_column(table, "figure");
    dregs_page_word_column(table, "unit");
    dregs_page_number_column(table, "value", "");
    dregs_page_number_column(table, "difference", "");
    for (i = 0; (row = dregs_tally_result_compared(page->answer, i)) != NULL; i++)
        for (line = 1; (one = dregs_tally_result_line(page->answer, line)) != NULL; line++) {
            dregs_table_word(table, dregs_line_name(one->line));
            put_named(table, dregs_tally_result_line(page->answer, row->line), row->name,
                      row->unit);
            dregs_table_in(table, row->value[line], row->unit);
            dregs_table_in(table, row->difference[line], row->unit);
            dregs_table_end_row(table);
        }
}

static void put_change(struct tally_page *page, dregs_table *table, unsigned index)
{
    const dregs_tally_figure *figure;
    unsigned i;

    for (i = 0; (figure = dregs_tally_result_changed(page->answer, index, i)) != NULL; i++) {
        dregs_table_count(table, index + 1);
        put_named(table, page->one, figure->name, figure->unit);
        dregs_table_in(table, figure->before, figure->unit);
        dregs_table_in(table, figure->value, figure->unit);
        dregs_table_in(table, figure->difference, figure->unit);
        dregs_table_flag(table, figure->moves);
        dregs_table_end_row(table);
    }
}

static void put_changes(struct tally_page *page)
{
    dregs_table *table = dregs_report_table(page->report, "changes", DREGS_IN_JSON);
    const dregs_tally_change *change;
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "number", NULL, "", 0);
    dregs_page_word_column(table, "change");
    dregs_page_word_column(table, "not_computed");
    for (i = 0; (change = dregs_tally_result_change(page->answer, i)) != NULL; i++) {
        dregs_table_count(table, i + 1);
        dregs_table_word(table, change->what);
        dregs_table_word(table, *change->reason ? change->reason : NULL);
        dregs_table_end_row(table);
    }
    table = dregs_report_table(page->report, "changed", DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "number", NULL, "", 0);
    dregs_page_word_column(table, "figure");
    dregs_page_word_column(table, "unit");
    dregs_page_number_column(table, "before", "");
    dregs_page_number_column(table, "value", "");
    dregs_page_number_column(table, "difference", "");
    dregs_table_column(table, DREGS_COLUMN_FLAG, "moves", NULL, "", 0);
    for (i = 0; (change = dregs_tally_result_change(page->answer, i)) != NULL; i++)
        if (!*change->reason)
            put_change(page, table, i);
}

/* ---- single numbers, of one line ---- */

static void put_figures(struct tally_page *page)
{
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE);
    dregs_tally_cost cost = dregs_tally_costs(page->one->tally, DREGS_WHOLE);
    const char *currency = page->one->currency;
    const struct {
        const char *key;
        double value; /* SI */
        double scale;
        const char *unit;
        dregs_tally_sum sum; /* DREGS_TALLY_SUMS: none, without a range */
    } figures[] = {
        {"time", dregs_tally_seconds(page->one->tally, DREGS_WHOLE), 1, "s", DREGS_TALLY_SUMS},
        {"bought", o->bought, LITRES, "L", DREGS_TALLY_SUM_BOUGHT},
        {"to_drain", o->to_drain, LITRES, "L", DREGS_TALLY_SUM_TO_DRAIN},
        {"to_waste", o->to_waste, LITRES, "L", DREGS_TALLY_SUM_TO_WASTE},
        {"evaporated", o->evaporated, LITRES, "L", DREGS_TALLY_SUM_EVAPORATED},
        {"evaporated_idle", o->evaporated_idle, LITRES, "L", DREGS_TALLY_SUMS},
        {"dried", o->dried, LITRES, "L", DREGS_TALLY_SUM_DRIED},
        {"blown_off", o->blown_off, LITRES, "L", DREGS_TALLY_SUM_BLOWN_OFF},
        {"in_the_tanks", o->held_last, LITRES, "L", DREGS_TALLY_SUM_HELD_LAST},
        {"worst_residue", page->one->residue, UG_PER_CM2, "ug/cm2", DREGS_TALLY_SUMS},
        {"cost_of_liquid_bought", cost.bought, 1, currency, DREGS_TALLY_SUMS},
        {"cost_of_waste", cost.disposal, 1, currency, DREGS_TALLY_SUMS},
        {"cost", cost.total, 1, currency, DREGS_TALLY_SUM_COST},
        {"clearing_changes", dregs_tally_changes(page->one->tally, DREGS_WHOLE, DREGS_WHOLE), 1,
         "1", DREGS_TALLY_SUMS},
        {"cost_of_changes", dregs_tally_change_cost(page->one->tally, DREGS_WHOLE, DREGS_WHOLE), 1,
         currency, DREGS_TALLY_SUMS},
        {"balance_error", dregs_tally_residual(page->one->tally), 1, "1", DREGS_TALLY_SUMS}};
    unsigned i;

    dregs_report_count(page->report, "loads", dregs_tally_loads(page->one->tally, DREGS_WHOLE));
    dregs_report_count(page->report, "days", dregs_tally_days(page->one->tally, DREGS_WHOLE));
    for (i = 0; i < sizeof figures / sizeof figures[0]; i++)
        dregs_report_figure(page->report, figures[i].key,
                            dregs_page_tally_quantity(page->doubt, DREGS_TALLY_RANGE_OUTLINE,
                                                      figures[i].sum, figures[i].value,
                                                      figures[i].scale, figures[i].unit));
    dregs_page_tally_doubt_data(page);
}

static void put_over_sums(dregs_table *table, const dregs_tally_doubt *doubt, unsigned months,
                          unsigned last, const dregs_tally_outline *o)
{
    const struct {
        dregs_tally_sum sum;
        double value, unit;
    } sums[] = {{DREGS_TALLY_SUM_BOUGHT, o->bought, LITRES},
                {DREGS_TALLY_SUM_TO_DRAIN, o->to_drain, LITRES},
                {DREGS_TALLY_SUM_TO_WASTE, o->to_waste, LITRES},
                {DREGS_TALLY_SUM_EVAPORATED, o->evaporated, LITRES},
                {DREGS_TALLY_SUM_DRIED, o->dried, LITRES},
                {DREGS_TALLY_SUM_COST, o->cost, 1}};
    unsigned i;

    for (i = 0; i < sizeof sums / sizeof sums[0]; i++)
        dregs_page_tally_put(table, doubt,
                             months == 3 ? DREGS_TALLY_RANGE_OVER_3 : DREGS_TALLY_RANGE_OVER_12,
                             last * DREGS_TALLY_SUMS + sums[i].sum, sums[i].value, sums[i].unit);
}

/* Months in a row of every line: the rolling sums, and the quarters among them. */
static void put_over(struct tally_page *page)
{
    static const char *const volumes[] = {"bought", "to_drain", "to_waste", "evaporated", "dried"};
    dregs_table *table = dregs_report_table(page->report, "months_in_a_row", DREGS_IN_JSON);
    const dregs_tally_doubt *doubt = dregs_tally_result_line(page->answer, 1) ? NULL : page->doubt;
    const dregs_tally_one *one;
    unsigned i, k, m;

    dregs_page_word_column(table, "file");
    dregs_table_column(table, DREGS_COLUMN_COUNT, "months", NULL, "", 0);
    dregs_page_word_column(table, "last_month");
    for (i = 0; i < sizeof volumes / sizeof volumes[0]; i++)
        dregs_page_number_column(table, volumes[i], "L");
    dregs_page_number_column(table, "cost", "currency");
    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++)
        for (k = 3; k <= DREGS_MONTHS; k += 9)
            for (m = 0; m < DREGS_MONTHS; m++) {
                const dregs_tally_outline *o = dregs_tally_result_over(page->answer, i, k, m);
                if (!o)
                    continue;
                dregs_table_word(table, dregs_line_name(one->line));
                dregs_table_count(table, k);
                dregs_table_word(table, dregs_page_tally_month(one->tally, m));
                put_over_sums(table, doubt, k, m, o);
                dregs_table_end_row(table);
            }
}

static void put_begin(struct tally_page *page)
{
    const dregs_tally_dates *dates = dregs_tally_dated(page->one->tally);
    char text[32];

    if (!dates)
        return;
    snprintf(text, sizeof text, "%04d-%02u", dates->year, dates->month);
    dregs_report_word(page->report, "begins", text);
}

void dregs_page_tally_data(struct tally_page *page)
{
    dregs_report_word(page->report, "span", dregs_page_tally_span(page->span->span));
    dregs_report_flag(page->report, "running", page->span->running);
    put_begin(page);
    if (!dregs_tally_result_line(page->answer, 1))
        put_figures(page);
    put_months(page);
    put_over(page);
    if (!dregs_tally_result_line(page->answer, 1))
        put_stage_costs(page);
    dregs_page_tally_put_kinds(page);
    put_streams(page);
    put_balance(page);
    put_largest(page);
    put_stills(page);
    dregs_page_tally_put_drain(page);
    dregs_page_tally_put_energy(page);
    put_line_figures(page);
    put_compared(page);
    dregs_page_tally_put_instead(page);
    put_changes(page);
    dregs_page_tally_site_data(page);
}
