/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.c: the page of what a line file leaves to be done. */
#include "dregs/answer_check.h"
#include "page/inside.h"

#include <stdio.h>

enum { NAME = 140, NAMES_COLUMN = 24 };

static const char *const kinds[DREGS_FINDINGS] = {[DREGS_FINDING_IMPLAUSIBLE] = "implausible",
                                                  [DREGS_FINDING_MISSING] = "missing",
                                                  [DREGS_FINDING_MARKED] = "marked as assumed",
                                                  [DREGS_FINDING_EXACT] = "without a spread"};

static const char *row_name(const dregs_line *line, unsigned row, char into[NAME])
{
    const dregs_row *cells = dregs_line_row(line, row);

    snprintf(into, NAME, "%.60s.%.70s", cells->item, cells->property);
    return into;
}

/* ---- the first lines ---- */

static void say_first(dregs_report *report, const dregs_check_result *result)
{
    const dregs_line *line = result->line;
    unsigned stages = dregs_line_stages(line), solutes = dregs_line_solutes(line),
             liquids = dregs_line_fluids(line);
    unsigned slips = result->count[DREGS_FINDING_IMPLAUSIBLE],
             gaps = result->count[DREGS_FINDING_MISSING];

    dregs_report_text(report, 0, 2,
                      "%s can be read: %u stage%s, %u solute%s, %u liquid%s; %u numbers, %u with a "
                      "spread",
                      dregs_line_name(line), stages, stages == 1 ? "" : "s", solutes,
                      solutes == 1 ? "" : "s", liquids, liquids == 1 ? "" : "s", result->numbers,
                      result->spreads);
    if (slips) {
        dregs_report_text(report, 0, 2,
                          "IMPLAUSIBLE: %u %s to be looked at before any answer is believed", slips,
                          slips == 1 ? "thing" : "things");
        dregs_report_verdict(report, DREGS_VERDICT_MISSED);
    } else
        dregs_report_text(report, 0, 2,
                          "implausible: none of the rules for slips holds (dregs-cautions(7)); a "
                          "wrong number that is a usual one is not seen");
    dregs_report_text(report, 0, 2,
                      "missing: %u; marked as assumed in the file: %u of %u numbers; assumed "
                      "besides, because the file does not state it: %u",
                      gaps, result->count[DREGS_FINDING_MARKED], result->numbers, result->assumed);
}

/* ---- one list after the other ---- */

static void say_sentences(dregs_report *report, const dregs_check_result *result,
                          dregs_finding_kind kind, const char *title)
{
    const dregs_check_finding *finding;
    unsigned i;

    if (!result->count[kind])
        return;
    dregs_report_heading(report, "%s", title);
    for (i = 0; (finding = dregs_check_result_finding(result, i)) != NULL; i++)
        if (finding->kind == kind)
            dregs_report_fact(report, finding->what, NAMES_COLUMN, "%s", finding->text);
}

static void say_rows(dregs_report *report, const dregs_check_result *result,
                     dregs_finding_kind kind, const char *title)
{
    const dregs_check_finding *finding;
    dregs_table *table;
    char name[NAME];
    unsigned i;

    if (!result->count[kind])
        return;
    dregs_report_heading(report, "%s", title);
    table = dregs_report_table(report, kind == DREGS_FINDING_MARKED ? "marked" : "exact",
                               DREGS_IN_TEXT);
    dregs_table_indent(table, 2);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "line", "line", "", -4);
    dregs_table_column(table, DREGS_COLUMN_WORD, "row", "row", "", 28);
    dregs_table_gap(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "value", "value", "", 18);
    if (kind == DREGS_FINDING_MARKED)
        dregs_table_column(table, DREGS_COLUMN_WORD, "spread", "spread", "", 8);
    dregs_table_column(table, DREGS_COLUMN_WORD, "note", "note", "", 0);
    for (i = 0; (finding = dregs_check_result_finding(result, i)) != NULL; i++) {
        const dregs_row *cells = dregs_line_row(result->line, finding->row);
        char value[NAME];
        if (finding->kind != kind)
            continue;
        snprintf(value, sizeof value, "%.40s %.30s", cells->value, cells->unit);
        dregs_table_count(table, cells->line);
        dregs_table_word(table, row_name(result->line, finding->row, name));
        dregs_table_word(table, value);
        if (kind == DREGS_FINDING_MARKED)
            dregs_table_word(table, cells->spread);
        dregs_table_word(table, cells->note);
        dregs_table_end_row(table);
    }
}

/* ---- for programs ---- */

static void put_findings(dregs_report *report, const dregs_check_result *result)
{
    dregs_table *table = dregs_report_table(report, "findings", DREGS_IN_CSV | DREGS_IN_JSON);
    const dregs_check_finding *finding;
    unsigned i;

    dregs_page_word_column(table, "kind");
    dregs_page_word_column(table, "what");
    dregs_page_word_column(table, "item");
    dregs_page_word_column(table, "property");
    dregs_page_count_column(table, "line");
    dregs_page_word_column(table, "text");
    for (i = 0; (finding = dregs_check_result_finding(result, i)) != NULL; i++) {
        const dregs_row *cells = dregs_line_row(result->line, finding->row);
        dregs_table_word(table, kinds[finding->kind]);
        dregs_table_word(table, finding->what);
        dregs_table_word(table, cells ? cells->item : NULL);
        dregs_table_word(table, cells ? cells->property : NULL);
        if (cells)
            dregs_table_count(table, cells->line);
        else
            dregs_table_word(table, NULL);
        dregs_table_word(table, finding->text);
        dregs_table_end_row(table);
    }
    dregs_report_count(report, "numbers", result->numbers);
    dregs_report_count(report, "numbers_with_spread", result->spreads);
    dregs_report_count(report, "implausible", result->count[DREGS_FINDING_IMPLAUSIBLE]);
    dregs_report_count(report, "missing", result->count[DREGS_FINDING_MISSING]);
    dregs_report_count(report, "marked_as_assumed", result->count[DREGS_FINDING_MARKED]);
    dregs_report_count(report, "without_spread", result->count[DREGS_FINDING_EXACT]);
}

dregs_status dregs_page_check(const dregs_check_result *result, dregs_report **report)
{
    dregs_report *made = dregs_report_new("check", dregs_line_name(result->line));

    if (!made)
        return DREGS_NO_MEMORY;
    say_first(made, result);
    say_sentences(made, result, DREGS_FINDING_IMPLAUSIBLE, "implausible: look at these first");
    say_sentences(made, result, DREGS_FINDING_MISSING, "missing, by the verb that asks for it");
    say_rows(made, result, DREGS_FINDING_MARKED, "marked as assumed in the file: to be measured");
    say_rows(made, result, DREGS_FINDING_EXACT,
             "measured, but without a spread: taken as known exactly");
    dregs_report_show(made, DREGS_LIST_ASSUMED, "assumed, because the file does not state it");
    dregs_report_show(made, DREGS_LIST_NOT_USED, "in the file, used by no verb");
    dregs_report_show(made, DREGS_LIST_CAUTIONS, "cautions");
    put_findings(made, result);
    dregs_page_line_picture(made, result->line);
    dregs_page_notes(made, result->line, DREGS_ASKED_ALL | DREGS_ASKED_DOUBT);
    dregs_page_cautions(made, result->caution, result->cautions);
    return dregs_page_end(made, report);
}
