/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_instead.c: one solvent in place of another, side by side, for people and for programs. */
#include "page/tally.h"

#include <math.h>
#include <string.h>

static int is_words(const dregs_tally_beside *b)
{
    return *b->words[0] || *b->words[1];
}

static void put_value(dregs_report *report, dregs_table *table, const dregs_tally_beside *b,
                      unsigned k)
{
    double value = dregs_report_value(report, b->value[k], b->unit);
    char number[DREGS_NUMBER_TEXT];

    if (is_words(b))
        dregs_table_word(table, b->words[k]);
    else
        dregs_table_word(table,
                         isnan(value) ? "not on record" : dregs_number_plain(number, value, 4));
}

static void say_rows(struct tally_page *page, const char *from, const char *to)
{
    dregs_table *table = dregs_report_table(page->report, "instead_shown", DREGS_IN_TEXT);
    const dregs_tally_beside *b;
    unsigned i, k;

    dregs_table_column(table, DREGS_COLUMN_WORD, "what", "", "", 38);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", "", "", 13);
    dregs_table_column(table, DREGS_COLUMN_WORD, "old", from, "", 22);
    dregs_table_column(table, DREGS_COLUMN_WORD, "new", to, "", 0);
    for (i = 0; (b = dregs_tally_result_beside(page->answer, i)) != NULL; i++) {
        dregs_table_word(table, b->name);
        dregs_table_unit(table, b->unit);
        for (k = 0; k < 2; k++)
            put_value(page->report, table, b, k);
        dregs_table_end_row(table);
    }
}

void dregs_page_tally_instead(struct tally_page *page)
{
    const char *from, *to;
    int unpriced;

    if (!dregs_tally_result_instead(page->answer, &from, &to, &unpriced))
        return;
    dregs_report_heading(page->report, "%s in place of %s", to, from);
    say_rows(page, from, to);
    dregs_report_gap(page->report);
    if (unpriced)
        dregs_report_text(
            page->report, 2, 4,
            "no cost of 2.: what %s costs is not stated; behind the words of --instead "
            "write ', price 2.1 EUR/L' and ', disposal 0.8 EUR/L'",
            to);
    dregs_report_text(
        page->report, 2, 4,
        "films and evaporation that the file states, flows, dumps, removal and what a "
        "still gives back stay as they are: measure them with %s. Whether it cleans, "
        "and what it does to parts and seals, is not in these numbers.",
        to);
}

void dregs_page_tally_put_instead(struct tally_page *page)
{
    const dregs_tally_beside *b;
    dregs_table *table;
    const char *from, *to;
    unsigned i, k;
    int unpriced;

    if (!dregs_tally_result_instead(page->answer, &from, &to, &unpriced))
        return;
    dregs_report_word(page->report, "instead_of", from);
    dregs_report_word(page->report, "instead", to);
    table = dregs_report_table(page->report, "instead", DREGS_IN_JSON);
    dregs_page_word_column(table, "figure");
    dregs_page_word_column(table, "unit");
    dregs_table_column(table, DREGS_COLUMN_VALUE, "old", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_VALUE, "new", NULL, "", 0);
    for (i = 0; (b = dregs_tally_result_beside(page->answer, i)) != NULL; i++) {
        dregs_table_word(table, b->name);
        dregs_table_unit(table, b->unit);
        for (k = 0; k < 2; k++)
            if (is_words(b))
                dregs_table_word(table, b->words[k]);
            else
                dregs_table_in(table, b->value[k], b->unit);
        dregs_table_end_row(table);
    }
}
