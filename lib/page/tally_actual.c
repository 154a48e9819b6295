/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_actual.c: purchases beside the model. */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>

/* Calls `each` for every figure that is shown: a measure of a liquid. */
typedef void each_shown(void *user, const dregs_tally_covered *c,
                        const dregs_tally_bought_liquid *l, dregs_tally_measure measure);

/* A liquid, with the doubt of the model in its deviations where there are draws. */
static const dregs_tally_bought_liquid *liquid_of(const dregs_tally_actual *actual,
                                                  const dregs_tally_doubt *doubt, unsigned index)
{
    return doubt ? dregs_tally_doubt_liquid(doubt, index)
                 : dregs_tally_actual_liquid(actual, index);
}

static void for_shown(const dregs_tally_actual *actual, const dregs_tally_doubt *doubt,
                      each_shown *each, void *user)
{
    const dregs_tally_covered *c = dregs_tally_actual_covered(actual);
    const dregs_tally_bought_liquid *l;
    unsigned i, m;

    for (i = 0; (l = liquid_of(actual, doubt, i)) != NULL; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            if (l->shown[m])
                each(user, c, l, (dregs_tally_measure)m);
}

/* ---- sentences ---- */

static void say_head(dregs_report *report, const dregs_tally_covered *c, const char *file)
{
    const char *rows = c->rows == 1 ? "row" : "rows";

    if (c->full)
        dregs_report_heading(report, "measured and modelled in %d: %s, %lu %s", c->year, file,
                             c->rows, rows);
    else
        dregs_report_heading(report,
                             "measured and modelled in %d: %s, %lu %s; it covers months %u to %u "
                             "only",
                             c->year, file, c->rows, rows, c->first, c->last);
}

/* A part of a deviation. */
static const char *part(const dregs_report *report, struct numbers *n, double sd)
{
    return isnan(sd) ? "not stated" : dregs_page_amount(report, n, sd * LITRES, "L");
}

/* What a deviation rests on, part by part. */
static void say_rests(dregs_report *report, const dregs_tally_bought_liquid *l,
                      dregs_tally_measure m)
{
    const dregs_unexplained *u = &l->whole[m].unexplained;
    struct numbers n = {0};

    dregs_report_text(report, 4, 6,
                      "it rests on: rows %s (%u of %u state a spread); stock at both ends %s; "
                      "spreads of the line file %s",
                      part(report, &n, u->sd_measured), l->rows[m] - l->silent[m], l->rows[m],
                      part(report, &n, u->sd_stock), part(report, &n, u->sd_model));
}

/* "ipa supplied: 512 L measured, 480.2 L modelled, 31.8 L unexplained: ..." */
static void say_whole(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                      dregs_tally_measure m)
{
    const dregs_tally_both *all = &l->whole[m];
    const dregs_unexplained *u = &all->unexplained;
    dregs_report *report = user;
    struct numbers n = {0};

    (void)c;
    dregs_report_words(report, "%s %s: %s measured, %s modelled, %s unexplained", l->name,
                       dregs_tally_measure_name(m),
                       dregs_page_amount(report, &n, all->measured * LITRES, "L"),
                       dregs_page_amount(report, &n, all->modelled * LITRES, "L"),
                       dregs_page_amount(report, &n, u->value * LITRES, "L"));
    if (isnan(u->ratio))
        dregs_report_words(report, "; no standard deviation is stated to hold it to");
    else
        dregs_report_words(report, ": %s of its standard deviation, %s%s",
                           dregs_page_number(&n, u->ratio),
                           dregs_page_amount(report, &n, u->sd * LITRES, "L"),
                           all->scatter ? "" : ", more than scatter");
    dregs_report_end(report, 2, 4);
    say_rests(report, l, m);
}

static void say_spreads(dregs_report *report, const dregs_tally_doubt *doubt)
{
    const dregs_tally_spread *spread;
    struct numbers n = {0};
    unsigned i, shown = 0;

    for (i = 0; doubt && (spread = dregs_tally_doubt_spread(doubt, i)) != NULL; i++) {
        if (!(spread->weight > 0))
            continue;
        if (!shown)
            dregs_report_line(report, 2, "spreads of the line file that move a figure, by at most");
        dregs_report_words(report, "%s%s.%s %s %%", shown++ ? ", " : "", spread->item,
                           spread->property, dregs_page_number(&n, spread->weight * 100));
    }
    if (shown)
        dregs_report_end(report, 4, 6);
    for (i = 0; doubt && (spread = dregs_tally_doubt_spread(doubt, i)) != NULL; i++)
        if (!spread->counted)
            dregs_report_line(
                report, 2,
                "not counted: the spread of %s.%s, for the line cannot be computed with it",
                spread->item, spread->property);
}

/* Liquids of which the file says nothing, or too little: a still of the line, but no row of it. */
static void say_silence(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_bought_liquid *l;
    struct numbers n = {0};
    unsigned i, absent = 0;

    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        if (!l->in_file)
            dregs_report_words(report, "%s%s",
                               absent++ ? ", " : "not in the file, not compared: ", l->name);
    if (absent)
        dregs_report_end(report, 2, 4);
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        if (l->in_file && l->reclaimed > 0 && !l->recovered)
            dregs_report_line(
                report, 2,
                "the line reclaims %s of %s, the file has no row of kind recovered for it",
                dregs_page_amount(report, &n, l->reclaimed * LITRES, "L"), l->name);
}

static void say_model(dregs_report *report, const dregs_tally_covered *c)
{
    dregs_report_text(report, 2, 4, "%s",
                      c->running
                          ? "the model is the year after a year of the file's schedule, its tanks "
                            "full"
                          : "the model is a year of the file's schedule, its tanks filled on the "
                            "first day (--from running: full already)");
    dregs_report_text(report, 2, 4, "%s",
                      c->drain_is_waste
                          ? "what drains counts as removed, under the liquid of its tank"
                          : "what drains counts as other losses; what is dumped counts under the "
                            "liquid of its tank");
}

/* ---- months ---- */

static void month_columns(dregs_table *table)
{
    static const char *const heads[] = {"measured",  "modelled",    "unexplained",
                                        "deviation", "unexplained", "deviation"};
    static const char *const keys[] = {"measured",  "modelled",           "unexplained",
                                       "deviation", "unexplained_so_far", "deviation_so_far"};
    unsigned i;

    dregs_table_indent(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "month", "month", "", 10);
    for (i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        dregs_table_column(table, DREGS_COLUMN_NUMBER, keys[i], heads[i], "", -12);
        dregs_table_measured(table, "L");
        dregs_table_gap(table, i == 4 ? 2 : 0);
    }
}

/* A table of the months of one figure. Its title stands over the columns, with "so far" over the
 * last two. */
static void say_months(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                       dregs_tally_measure m)
{
    const char *measure = dregs_tally_measure_name(m);
    dregs_report *report = user;
    const char *unit = dregs_report_unit(report, "L");
    int pad = 10 - dregs_page_columns(l->name);
    int wide = 54 - dregs_page_columns(measure) - dregs_page_columns(unit);
    dregs_table *table;
    unsigned p;

    dregs_report_gap(report);
    dregs_report_line(report, 2, "%s%*s %s, %s%*sso far", l->name, pad > 0 ? pad : 0, "", measure,
                      unit, wide, "");
    table = dregs_report_table(report, "purchases_shown", DREGS_IN_TEXT);
    month_columns(table);
    for (p = c->first - 1; p < c->last; p++) {
        const dregs_tally_both *f = &l->month[m][p], *all = &l->so_far[m][p];
        dregs_table_word(table, dregs_page_month(p));
        dregs_table_number(table, f->measured * LITRES);
        dregs_table_number(table, f->modelled * LITRES);
        dregs_table_number(table, f->unexplained.value * LITRES);
        dregs_table_number(table, f->unexplained.sd * LITRES);
        dregs_table_number(table, all->unexplained.value * LITRES);
        dregs_table_number(table, all->unexplained.sd * LITRES);
        dregs_table_end_row(table);
    }
}

/* ---- for programs ---- */

/* Columns of both sides of a figure, of a month or of all. */
static void both_columns(dregs_table *table, int of_month)
{
    static const char *const keys[] = {
        "measured",          "modelled",           "unexplained",       "deviation",
        "deviation_of_rows", "deviation_of_stock", "deviation_of_model"};
    unsigned i;

    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "figure");
    if (of_month)
        dregs_page_word_column(table, "month");
    for (i = 0; i < sizeof keys / sizeof keys[0]; i++)
        dregs_page_number_column(table, keys[i], "L");
    dregs_page_number_column(table, "deviations", "1");
}

static void put_both(dregs_table *table, const dregs_tally_bought_liquid *l, dregs_tally_measure m,
                     const char *month, const dregs_tally_both *f)
{
    const dregs_unexplained *u = &f->unexplained;

    dregs_table_word(table, l->name);
    dregs_table_word(table, dregs_tally_measure_name(m));
    if (month)
        dregs_table_word(table, month);
    dregs_table_number(table, f->measured * LITRES);
    dregs_table_number(table, f->modelled * LITRES);
    dregs_table_number(table, u->value * LITRES);
    dregs_table_number(table, u->sd * LITRES);
    dregs_table_number(table, u->sd_measured * LITRES);
    dregs_table_number(table, u->sd_stock * LITRES);
    dregs_table_number(table, u->sd_model * LITRES);
    dregs_table_number(table, u->ratio);
}

static void put_months(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                       dregs_tally_measure m)
{
    unsigned p;

    for (p = c->first - 1; p < c->last; p++) {
        put_both(user, l, m, dregs_page_month(p), &l->month[m][p]);
        dregs_table_end_row(user);
    }
}

static void put_so_far(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                       dregs_tally_measure m)
{
    unsigned p;

    for (p = c->first - 1; p < c->last; p++) {
        put_both(user, l, m, dregs_page_month(p), &l->so_far[m][p]);
        dregs_table_end_row(user);
    }
}

static void put_whole(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                      dregs_tally_measure m)
{
    (void)c;
    put_both(user, l, m, NULL, &l->whole[m]);
    dregs_table_flag(user, !l->whole[m].scatter);
    dregs_table_end_row(user);
}

static void put_compared(dregs_report *report, const dregs_tally_actual *actual,
                         const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "purchases_compared", DREGS_IN_JSON);

    both_columns(table, 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "more_than_scatter", NULL, "", 0);
    for_shown(actual, doubt, put_whole, table);
    table = dregs_report_table(report, "purchases_months", DREGS_IN_JSON);
    both_columns(table, 1);
    for_shown(actual, doubt, put_months, table);
    table = dregs_report_table(report, "purchases_so_far", DREGS_IN_JSON);
    both_columns(table, 1);
    for_shown(actual, doubt, put_so_far, table);
}

static void put_silence(dregs_report *report, const dregs_tally_actual *actual)
{
    dregs_table *table = dregs_report_table(report, "purchases_not_compared", DREGS_IN_JSON);
    const dregs_tally_bought_liquid *l;
    unsigned i;

    dregs_page_word_column(table, "liquid");
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        if (!l->in_file) {
            dregs_table_word(table, l->name);
            dregs_table_end_row(table);
        }
}

static void put_spreads(dregs_report *report, const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "purchases_spreads", DREGS_IN_JSON);
    const dregs_tally_spread *spread;
    unsigned i;

    dregs_page_word_column(table, "item");
    dregs_page_word_column(table, "property");
    dregs_table_column(table, DREGS_COLUMN_FLAG, "counted_in_deviation", NULL, "", 0);
    dregs_page_number_column(table, "moves_by_at_most", "1");
    for (i = 0; doubt && (spread = dregs_tally_doubt_spread(doubt, i)) != NULL; i++) {
        dregs_table_word(table, spread->item);
        dregs_table_word(table, spread->property);
        dregs_table_flag(table, spread->counted);
        dregs_table_number(table, spread->weight);
        dregs_table_end_row(table);
    }
}

static void put_data(dregs_report *report, const dregs_tally_actual *actual,
                     const dregs_tally_doubt *doubt, const char *file)
{
    const dregs_tally_covered *c = dregs_tally_actual_covered(actual);

    dregs_report_word(report, "purchases_file", file);
    dregs_report_count(report, "purchases_year", (uint64_t)c->year);
    dregs_report_count(report, "purchases_first_month", c->first);
    dregs_report_count(report, "purchases_last_month", c->last);
    put_compared(report, actual, doubt);
    put_silence(report, actual);
    dregs_page_records_data(report, actual);
    put_spreads(report, doubt);
}

void dregs_page_actual(const struct tally_page *page, const dregs_tally_actual *actual,
                       const char *file)
{
    const dregs_tally_doubt *doubt = page->doubt;
    dregs_report *report = page->report;

    say_head(report, dregs_tally_actual_covered(actual), file);
    for_shown(actual, doubt, say_whole, report);
    if (!dregs_tally_actual_covered(actual)->compared)
        dregs_report_line(report, 2, "no row of the year names a liquid of the line");
    for_shown(actual, doubt, say_months, report);
    dregs_report_gap(report);
    say_spreads(report, doubt);
    dregs_page_records(page, actual);
    say_silence(report, actual);
    say_model(report, dregs_tally_actual_covered(actual));
    put_data(report, actual, doubt, file);
}

/* ---- rows of the CSV table ---- */

static void row(dregs_table *table, const dregs_tally_bought_liquid *l, dregs_tally_measure m,
                const char *what, const char *period, double value)
{
    char stream[64];

    (void)snprintf(stream, sizeof stream, "%s %s", dregs_tally_measure_name(m), what);
    dregs_page_stream_row(table, stream, l->name, "", period, value * LITRES, "L");
}

static void rows_of(dregs_table *table, const dregs_tally_bought_liquid *l, dregs_tally_measure m,
                    const char *period, const dregs_tally_both *f)
{
    row(table, l, m, "measured", period, f->measured);
    row(table, l, m, "modelled", period, f->modelled);
    row(table, l, m, "unexplained", period, f->unexplained.value);
    row(table, l, m, "deviation", period, f->unexplained.sd);
}

static void put_rows(void *user, const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                     dregs_tally_measure m)
{
    unsigned p;

    for (p = c->first - 1; p < c->last; p++)
        rows_of(user, l, m, dregs_page_month(p), &l->month[m][p]);
    rows_of(user, l, m, "year", &l->whole[m]);
}

void dregs_page_actual_rows(dregs_table *table, const dregs_tally_actual *actual,
                            const dregs_tally_doubt *doubt)
{
    for_shown(actual, doubt, put_rows, table);
}

/* ---- the working ---- */

static void work_liquid(dregs_report *report, const dregs_tally_covered *c,
                        const dregs_tally_bought_liquid *l)
{
    struct numbers n = {0};

    if (!l->in_file)
        return;
    dregs_report_line(report, 4, "%s: largest delivery %s L, largest collection %s L", l->name,
                      dregs_page_number(&n, l->lot[DREGS_TALLY_PUT_IN] * LITRES),
                      dregs_page_number(&n, l->lot[DREGS_TALLY_TAKEN_OUT] * LITRES));
    if (c->by_mass)
        dregs_report_line(report, 4,
                          "%s: rows that state a mass are divided by %s kg/m3, the liquid at 20 "
                          "degC without what is dissolved",
                          l->name, dregs_page_number(&n, l->density));
}

void dregs_page_actual_working(dregs_report *report, const dregs_tally_actual *actual)
{
    static const char *const lines[] = {
        ("deviation^2 = rows^2 + stock^2 + model^2; stock = lot / sqrt(6): at both ends anything "
         "from none"),
        "to one lot, the largest row of its kind; model: the standard deviation of the same figure",
        "over the draws"};
    const dregs_tally_covered *c = dregs_tally_actual_covered(actual);
    unsigned i;

    dregs_report_gap(report);
    dregs_report_line(report, 2,
                      "the working: supplied = bought + recovered, removed = disposed + recovered, "
                      "other losses = bought - disposed");
    dregs_report_line(report, 4,
                      "modelled: supplied = first fill + fed + top-up + refills + sprayed; removed "
                      "= dumped + blown off to waste%s",
                      c->drain_is_waste ? " + drained + runoff + blown off to drain" : "");
    for (i = 0; i < sizeof lines / sizeof lines[0]; i++)
        dregs_report_line(report, 4, "%s", lines[i]);
    for (i = 0; dregs_tally_actual_liquid(actual, i); i++)
        work_liquid(report, c, dregs_tally_actual_liquid(actual, i));
}
