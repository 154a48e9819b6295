/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_records.c: how far the records of what was bought can be believed: rows that look like
 * slips, months without any, counts of stock.
 */
#include "page/tally.h"

#include <stdio.h>

static const dregs_purchase *row_at(const dregs_purchases *purchases, unsigned long line)
{
    const dregs_purchase *row;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++)
        if (row->line == line)
            return row;
    return NULL;
}

/* Adds to the sentence in hand which papers to look at. */
static void add_papers(dregs_report *report, const dregs_purchase *row)
{
    if (row && *row->supplier)
        dregs_report_words(report, ", supplier %s", row->supplier);
    if (row && *row->invoice)
        dregs_report_words(report, ", invoice %s", row->invoice);
}

static void say_same(dregs_report *report, const dregs_purchases *purchases)
{
    unsigned long lines[2];
    size_t k;

    for (k = 0; dregs_purchases_same(purchases, k, lines); k++) {
        dregs_report_words(report, "lines %lu and %lu say the same", lines[0], lines[1]);
        add_papers(report, row_at(purchases, lines[1]));
        dregs_report_words(report, "; both are counted");
        dregs_report_end(report, 2, 4);
    }
}

static void say_odd(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_purchases *purchases = dregs_tally_actual_purchases(actual);
    dregs_purchase_odd odd;
    struct numbers n = {0};
    size_t k;

    for (k = 0; dregs_purchases_odd(purchases, k, &odd); k++) {
        const dregs_purchase *row = row_at(purchases, odd.line);
        dregs_report_words(
            report, "line %lu: %s %s, %s times the %s of its neighbours, lines %lu and %lu",
            odd.line, dregs_tally_actual_liquid(actual, row->fluid)->name,
            dregs_purchase_kind_name(row->kind), dregs_page_number(&n, odd.times),
            odd.times > 1 ? "larger" : "smaller", odd.neighbour[0], odd.neighbour[1]);
        add_papers(report, row);
        dregs_report_words(report, ": is the point in its place? It is counted as it is written");
        dregs_report_end(report, 2, 4);
    }
}

static void say_silent(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_purchases *purchases = dregs_tally_actual_purchases(actual);
    int year = dregs_tally_actual_covered(actual)->year;
    const dregs_tally_bought_liquid *l;
    unsigned i, m, shown;

    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++) {
        unsigned silent = l->in_file ? dregs_purchases_silent(purchases, i, year) : 0;
        if (!silent)
            continue;
        dregs_report_words(report, "no row of %s in ", l->name);
        for (m = shown = 0; m < DREGS_MONTHS; m++)
            if (silent >> m & 1)
                dregs_report_words(report, "%s%s", shown++ ? ", " : "", dregs_page_month(m));
        dregs_report_end(report, 2, 4);
    }
}

/* "12 L on 2024-12-31", or nothing. */
static void add_count(dregs_report *report, const dregs_purchase_stock *stock, const char *joint)
{
    struct numbers n = {0};

    if (stock->sum.rows)
        dregs_report_words(report, "%s%s on %04d-%02u-%02u", joint,
                           dregs_page_amount(report, &n, stock->sum.volume * LITRES, "L"),
                           stock->year, stock->month, stock->day);
}

static void assume_turn(dregs_report *report, const dregs_tally_bought_liquid *l,
                        const dregs_purchase_stock *stock)
{
    char text[400];

    (void)snprintf(text, sizeof text,
                   "the stock of %.200s counted on %04d-%02u-%02u is that at the turn of the year: "
                   "nothing came or went between",
                   l->name, stock->year, stock->month, stock->day);
    dregs_report_assumed(report, text);
}

static void say_stock(dregs_report *report, const dregs_tally_bought_liquid *l)
{
    unsigned end;

    if (!l->stock[0].sum.rows && !l->stock[1].sum.rows)
        return;
    dregs_report_words(report, "%s in stock: ", l->name);
    add_count(report, &l->stock[0], "");
    add_count(report, &l->stock[1], l->counted ? ", " : "");
    dregs_report_words(report, "%s",
                       l->counted ? ""
                                  : "; the other end of the year is not counted, so that nothing "
                                    "follows from it");
    dregs_report_end(report, 2, 4);
    for (end = 0; l->counted && end < 2; end++)
        if (l->stock[end].days)
            assume_turn(report, l, &l->stock[end]);
}

void dregs_page_records(const struct tally_page *page, const dregs_tally_actual *actual)
{
    const dregs_tally_bought_liquid *l;
    unsigned i;

    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        say_stock(page->report, l);
    say_same(page->report, dregs_tally_actual_purchases(actual));
    say_odd(page->report, actual);
    say_silent(page->report, actual);
}

/* ---- for programs ---- */

static void put_papers(dregs_table *table, const dregs_purchase *row)
{
    dregs_table_word(table, row && *row->supplier ? row->supplier : NULL);
    dregs_table_word(table, row && *row->invoice ? row->invoice : NULL);
    dregs_table_word(table, row && *row->note ? row->note : NULL);
}

static void paper_columns(dregs_table *table)
{
    dregs_page_word_column(table, "supplier");
    dregs_page_word_column(table, "invoice");
    dregs_page_word_column(table, "note");
}

static void put_same(dregs_report *report, const dregs_purchases *purchases)
{
    dregs_table *table = dregs_report_table(report, "purchases_same_rows", DREGS_IN_JSON);
    unsigned long lines[2];
    size_t k;

    dregs_page_count_column(table, "line");
    dregs_page_count_column(table, "same_as_line");
    paper_columns(table);
    for (k = 0; dregs_purchases_same(purchases, k, lines); k++) {
        dregs_table_count(table, lines[0]);
        dregs_table_count(table, lines[1]);
        put_papers(table, row_at(purchases, lines[1]));
        dregs_table_end_row(table);
    }
}

static void put_odd(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_purchases *purchases = dregs_tally_actual_purchases(actual);
    dregs_table *table = dregs_report_table(report, "purchases_far_rows", DREGS_IN_JSON);
    dregs_purchase_odd odd;
    size_t k;

    dregs_page_count_column(table, "line");
    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "kind");
    dregs_page_number_column(table, "times_neighbour", "1");
    dregs_page_count_column(table, "neighbour_line");
    dregs_page_count_column(table, "other_neighbour_line");
    paper_columns(table);
    for (k = 0; dregs_purchases_odd(purchases, k, &odd); k++) {
        const dregs_purchase *row = row_at(purchases, odd.line);
        dregs_table_count(table, odd.line);
        dregs_table_word(table, dregs_tally_actual_liquid(actual, row->fluid)->name);
        dregs_table_word(table, dregs_purchase_kind_name(row->kind));
        dregs_table_number(table, odd.times);
        dregs_table_count(table, odd.neighbour[0]);
        dregs_table_count(table, odd.neighbour[1]);
        put_papers(table, row);
        dregs_table_end_row(table);
    }
}

static void put_silent(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_purchases *purchases = dregs_tally_actual_purchases(actual);
    dregs_table *table = dregs_report_table(report, "purchases_silent_months", DREGS_IN_JSON);
    int year = dregs_tally_actual_covered(actual)->year;
    const dregs_tally_bought_liquid *l;
    unsigned i, m;

    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "month");
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        for (m = 0; l->in_file && m < DREGS_MONTHS; m++)
            if (dregs_purchases_silent(purchases, i, year) >> m & 1) {
                dregs_table_word(table, l->name);
                dregs_table_word(table, dregs_page_month(m));
                dregs_table_end_row(table);
            }
}

static void put_stock(dregs_report *report, const dregs_tally_actual *actual)
{
    dregs_table *table = dregs_report_table(report, "purchases_stock", DREGS_IN_JSON);
    const dregs_tally_bought_liquid *l;
    unsigned i, end;

    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "end");
    dregs_page_word_column(table, "counted_on");
    dregs_page_number_column(table, "volume", "L");
    dregs_page_flag_column(table, "used");
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        for (end = 0; end < 2; end++) {
            const dregs_purchase_stock *stock = &l->stock[end];
            char date[32];
            if (!stock->sum.rows)
                continue;
            (void)snprintf(date, sizeof date, "%04d-%02u-%02u", stock->year, stock->month,
                           stock->day);
            dregs_table_word(table, l->name);
            dregs_table_word(table, end ? "closing" : "opening");
            dregs_table_word(table, date);
            dregs_table_number(table, stock->sum.volume * LITRES);
            dregs_table_flag(table, l->counted);
            dregs_table_end_row(table);
        }
}

void dregs_page_records_data(dregs_report *report, const dregs_tally_actual *actual)
{
    put_same(report, dregs_tally_actual_purchases(actual));
    put_odd(report, actual);
    put_silent(report, actual);
    put_stock(report, actual);
}
