/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_log.c: what all machines of a facility emitted by records, month by month and over each
 * twelve months, with the year of the model beside it.
 */
#include "page/tally_law.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LOG_MONTH = 24 };

/* "2025-02" */
static const char *month_text(int year, unsigned month, char into[LOG_MONTH])
{
    (void)snprintf(into, LOG_MONTH, "%04d-%02u", year, month);
    return into;
}

/* Both sides, with the doubt of the model in their deviation where there are draws. */
static dregs_tally_both month_of(const dregs_tally_actual *actual, const dregs_tally_doubt *doubt,
                                 unsigned solvent, unsigned month)
{
    dregs_tally_both both = dregs_tally_actual_log_month(actual, solvent, month)->emission;

    if (doubt)
        (void)dregs_tally_doubt_log_month(doubt, solvent, month, &both);
    return both;
}

static dregs_tally_both sum_of(const dregs_tally_actual *actual, const dregs_tally_doubt *doubt,
                               unsigned sum)
{
    dregs_tally_both both = dregs_tally_actual_log_sum(actual, sum)->counted;

    if (doubt)
        (void)dregs_tally_doubt_log_sum(doubt, sum, &both);
    return both;
}

static const char *met_words(dregs_law_verdict met)
{
    return met == DREGS_LAW_YES        ? "met"
           : met == DREGS_LAW_NO       ? "MISSED"
           : met == DREGS_LAW_EXCLUDED ? "does not apply"
                                       : "not judged";
}

/* ---- for people ---- */

/* What is not known stands as words, not as a gap. */
static void put_known(dregs_table *table, double value)
{
    if (isnan(value))
        dregs_table_shown(table, value, "NOT KNOWN");
    else
        dregs_table_number(table, value);
}

/* Of masses: as wide as its numbers, and a blank before its name. */
static void head(dregs_table *table, const char *name)
{
    int width = (int)strlen(name) + 1;

    dregs_table_column(table, DREGS_COLUMN_NUMBER, name, name, "", width > 10 ? -width : -10);
    dregs_table_measured(table, "kg");
}

static void say_months(dregs_report *report, const dregs_tally_actual *actual, unsigned solvent,
                       const dregs_tally_doubt *doubt)
{
    static const char *const heads[] = {"added", "removed",     "emission",
                                        "model", "unexplained", "deviation"};
    dregs_table *table = dregs_report_table(report, "law_facility_log_shown", DREGS_IN_TEXT);
    const dregs_tally_log_month *m;
    char text[LOG_MONTH];
    unsigned p, i;

    dregs_table_indent(table, 6);
    dregs_table_column(table, DREGS_COLUMN_WORD, "month", dregs_report_unit(report, "kg"), "", 8);
    for (i = 0; i < sizeof heads / sizeof heads[0]; i++)
        head(table, heads[i]);
    for (p = 0; (m = dregs_tally_actual_log_month(actual, solvent, p)) != NULL; p++) {
        dregs_tally_both both = month_of(actual, doubt, solvent, p);
        dregs_table_word(table, month_text(m->year, m->month, text));
        put_known(table, m->added);
        put_known(table, m->removed);
        put_known(table, both.measured);
        dregs_table_number(table, both.modelled);
        dregs_table_number(table, both.unexplained.value);
        dregs_table_number(table, both.unexplained.sd);
        dregs_table_end_row(table);
    }
}

static void say_sums(dregs_report *report, const dregs_tally_actual *actual,
                     const dregs_tally_doubt *doubt)
{
    static const char *const heads[] = {"records", "model", "unexplained", "deviation", "limit"};
    dregs_table *table = dregs_report_table(report, "law_facility_sums_shown", DREGS_IN_TEXT);
    const dregs_tally_log_sum *s;
    char text[LOG_MONTH];
    unsigned k, i;

    dregs_table_indent(table, 6);
    dregs_table_column(table, DREGS_COLUMN_WORD, "until", "12 months until", "", 16);
    for (i = 0; i < sizeof heads / sizeof heads[0]; i++)
        head(table, heads[i]);
    dregs_table_column(table, DREGS_COLUMN_WORD, "verdict", "verdict", "", 0);
    dregs_table_gap(table, 2);
    for (k = 0; (s = dregs_tally_actual_log_sum(actual, k)) != NULL; k++) {
        dregs_tally_both both = sum_of(actual, doubt, k);
        dregs_table_word(table, month_text(s->year, s->month, text));
        put_known(table, both.measured);
        dregs_table_number(table, both.modelled);
        dregs_table_number(table, both.unexplained.value);
        dregs_table_number(table, both.unexplained.sd);
        dregs_table_number(table, s->limit);
        dregs_table_word(table, met_words(s->met));
        dregs_table_end_row(table);
    }
}

/* What a month lacks, in words. */
static void add_lack(dregs_report *report, const dregs_tally_log_month *m)
{
    static const struct {
        unsigned what;
        const char *words;
    } lacks[] = {{DREGS_TALLY_LOG_NO_ROW, "no row"},
                 {DREGS_TALLY_LOG_NO_OPENING, "no stock at its begin"},
                 {DREGS_TALLY_LOG_NO_CLOSING, "no stock at its end"},
                 {DREGS_TALLY_LOG_NO_DENSITY, "no density on record"}};
    unsigned i, shown = 0;

    for (i = 0; i < sizeof lacks / sizeof lacks[0]; i++)
        if (m->lacks & lacks[i].what)
            dregs_report_words(report, "%s%s", shown++ ? ", " : "", lacks[i].words);
}

/* The months that no sum can take, and where the model alone stands. */
static void say_lacking(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log *log = dregs_tally_actual_log(actual);
    const dregs_tally_log_month *m;
    unsigned i, p, silent = 0;
    char text[LOG_MONTH];

    for (i = 0; i < log->solvents; i++)
        for (p = 0; (m = dregs_tally_actual_log_month(actual, i, p)) != NULL; p++) {
            if (!m->lacks)
                continue;
            dregs_report_words(report, "%s of %s is NOT KNOWN: %s has ",
                               month_text(m->year, m->month, text), m->solvent, m->lacking);
            add_lack(report, m);
            dregs_report_end(report, 6, 8);
            silent += m->lacks & DREGS_TALLY_LOG_NO_ROW;
        }
    if (silent)
        dregs_report_text(report, 6, 8,
                          "in months without a row the model stands alone; no sum is filled from "
                          "it");
}

static void say_unassayed(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log_month *m;
    struct numbers n = {0};
    unsigned i, p;
    double kg;

    for (i = 0; dregs_tally_actual_log_month(actual, i, 0); i++) {
        kg = 0;
        for (p = 0; (m = dregs_tally_actual_log_month(actual, i, p)) != NULL; p++)
            kg += m->unassayed;
        if (kg > 0)
            dregs_report_text(report, 6, 8,
                              "up to %s of %s are in waste without an assay; nothing is taken "
                              "off for them",
                              dregs_page_amount(report, &n, kg, "kg"),
                              dregs_tally_actual_log_month(actual, i, 0)->solvent);
    }
}

/* The sum that is closest to its limit, and the verdict on all of them. */
static void say_verdict(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log *log = dregs_tally_actual_log(actual);
    const dregs_tally_log_sum *s = dregs_tally_actual_log_sum(actual, log->closest);
    struct numbers n = {0};
    char text[LOG_MONTH];

    if (s)
        dregs_report_words(report,
                           "by the records the sum closest to its limit ends with %s: %s%s, the "
                           "limit is %s: ",
                           month_text(s->year, s->month, text),
                           s->bound && log->least ? "as far as is known "
                           : s->bound             ? "at most "
                           : log->least           ? "at least "
                                                  : "",
                           dregs_page_amount(report, &n, s->counted.measured, "kg"),
                           dregs_page_limit(report, &n, s->limit, "kg"));
    else
        dregs_report_words(report, "by the records no sum is known: ");
    dregs_report_words(report, "%s",
                       log->met == DREGS_LAW_EXCLUDED ? "does not apply to such machines"
                                                      : dregs_page_law_met(log->met));
    if (s && log->unknown)
        dregs_report_words(report, "; %u of %u sums are NOT KNOWN", log->unknown, log->sums);
    dregs_report_end(report, 4, 6);
    if (log->met != DREGS_LAW_EXCLUDED)
        dregs_page_law_judge(report, log->met);
}

/* What the equation rests on. */
static void assume(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log_turn *turn;
    char text[400];
    unsigned i;

    dregs_report_assumed(report, "the machines of the facility's log stand at the same fill line "
                                 "at every turn of a month, and what no row says was removed was "
                                 "not");
    for (i = 0; (turn = dregs_tally_actual_log_turn(actual, i)) != NULL; i++) {
        (void)snprintf(text, sizeof text,
                       "the stock of %.200s counted on %04d-%02u-%02u is that at the turn before "
                       "%04d-%02u: nothing came or went between",
                       turn->liquid, turn->stock.year, turn->stock.month, turn->stock.day,
                       turn->year, turn->month);
        dregs_report_assumed(report, text);
    }
}

/* From when to when, and which the records are. */
static void say_span(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log *log = dregs_tally_actual_log(actual);
    const dregs_tally_log_month *first = dregs_tally_actual_log_month(actual, 0, 0);
    const dregs_tally_log_month *last = dregs_tally_actual_log_month(actual, 0, log->months - 1);
    char begin[LOG_MONTH], end[LOG_MONTH];

    dregs_report_text(report, 4, 6, "records from %s to %s: %s",
                      month_text(first->year, first->month, begin),
                      month_text(last->year, last->month, end),
                      log->sums ? "they decide, the model stands beside them"
                                : "not twelve months in a row; the sums are those of the model, "
                                  "and all of their months are modelled");
}

int dregs_page_law_log(dregs_report *report, const dregs_tally_actual *actual,
                       const dregs_tally_doubt *doubt)
{
    const dregs_tally_log *log = actual ? dregs_tally_actual_log(actual) : NULL;
    unsigned i;

    if (!log)
        return 0;
    say_span(report, actual);
    for (i = 0; i < log->solvents; i++) {
        dregs_report_line(report, 4, "%s: emission = added - removed",
                          dregs_tally_actual_log_month(actual, i, 0)->solvent);
        say_months(report, actual, i, doubt);
    }
    if (log->sums) {
        dregs_report_line(
            report, 4, "twelve months, in %s%s", dregs_report_unit(report, "kg"),
            dregs_report_units_shown(report) == DREGS_UNITS_SI ? " as the rule counts them" : "");
        say_sums(report, actual, doubt);
    }
    say_lacking(report, actual);
    say_unassayed(report, actual);
    assume(report, actual);
    if (log->sums)
        say_verdict(report, actual);
    return log->sums > 0;
}

/* ---- the working ---- */

static void work_month(dregs_report *report, const dregs_tally_log_month *m)
{
    struct numbers n = {0};
    char text[LOG_MONTH];

    dregs_report_words(report, "%s %s: E = (%s + %s", month_text(m->year, m->month, text),
                       m->solvent, dregs_page_six(&n, m->bought), dregs_page_six(&n, m->recovered));
    dregs_report_words(report, " + %s - %s) - (%s", dregs_page_six(&n, m->opening),
                       dregs_page_six(&n, m->closing), dregs_page_six(&n, m->recovered));
    dregs_report_words(report, " + %s + %s + %s) = %s kg", dregs_page_six(&n, m->disposed),
                       dregs_page_six(&n, m->sold), dregs_page_six(&n, m->elsewhere),
                       dregs_page_six(&n, m->emission.measured));
    dregs_report_end(report, 6, 8);
}

void dregs_page_law_log_working(dregs_report *report, const dregs_tally_actual *actual)
{
    const dregs_tally_log_month *m;
    unsigned i, p;

    if (!actual || !dregs_tally_actual_log(actual))
        return;
    dregs_report_text(
        report, 4, 6,
        "machines of the facility by records: E = SA - LSR - SSR = (bought + recovered "
        "+ stock at the begin - stock at the end) - (recovered + disposed x assay + "
        "sold + elsewhere), a month with all of them; a sum is that of twelve");
    for (i = 0; dregs_tally_actual_log_month(actual, i, 0); i++)
        for (p = 0; (m = dregs_tally_actual_log_month(actual, i, p)) != NULL; p++)
            if (!m->lacks)
                work_month(report, m);
}

/* ---- for programs ---- */

static void both_columns(dregs_table *table)
{
    static const char *const keys[] = {
        "records", "model", "unexplained", "deviation", "deviation_of_rows", "deviation_of_model"};
    unsigned k;

    for (k = 0; k < sizeof keys / sizeof keys[0]; k++)
        dregs_page_number_column(table, keys[k], "kg");
    dregs_page_flag_column(table, "more_than_scatter");
}

static void put_both(dregs_table *table, const dregs_tally_both *both)
{
    const dregs_unexplained *u = &both->unexplained;

    dregs_table_number(table, both->measured);
    dregs_table_number(table, both->modelled);
    dregs_table_number(table, u->value);
    dregs_table_number(table, u->sd);
    dregs_table_number(table, u->sd_measured);
    dregs_table_number(table, u->sd_model);
    dregs_table_flag(table, !both->scatter);
}

static void put_months(dregs_report *report, const dregs_tally_actual *actual,
                       const dregs_tally_doubt *doubt)
{
    static const char *const keys[] = {"bought",   "recovered", "opening_stock", "closing_stock",
                                       "disposed", "sold",      "elsewhere",     "unassayed_waste",
                                       "added",    "removed"};
    dregs_table *table = dregs_report_table(report, "law_facility_log", DREGS_IN_JSON);
    const dregs_tally_log_month *m;
    char text[LOG_MONTH];
    unsigned i, p, k;

    dregs_page_word_column(table, "solvent");
    dregs_page_word_column(table, "month");
    for (k = 0; k < sizeof keys / sizeof keys[0]; k++)
        dregs_page_number_column(table, keys[k], "kg");
    both_columns(table);
    dregs_page_word_column(table, "lacking_liquid");
    dregs_page_flag_column(table, "no_row");
    dregs_page_flag_column(table, "no_opening_stock");
    dregs_page_flag_column(table, "no_closing_stock");
    dregs_page_flag_column(table, "no_density");
    for (i = 0; dregs_tally_actual_log_month(actual, i, 0); i++)
        for (p = 0; (m = dregs_tally_actual_log_month(actual, i, p)) != NULL; p++) {
            const double values[] = {m->bought, m->recovered, m->opening,   m->closing, m->disposed,
                                     m->sold,   m->elsewhere, m->unassayed, m->added,   m->removed};
            dregs_tally_both both = month_of(actual, doubt, i, p);
            dregs_table_word(table, m->solvent);
            dregs_table_word(table, month_text(m->year, m->month, text));
            for (k = 0; k < sizeof values / sizeof values[0]; k++)
                dregs_table_number(table, values[k]);
            put_both(table, &both);
            dregs_table_word(table, m->lacking);
            dregs_table_flag(table, (m->lacks & DREGS_TALLY_LOG_NO_ROW) != 0);
            dregs_table_flag(table, (m->lacks & DREGS_TALLY_LOG_NO_OPENING) != 0);
            dregs_table_flag(table, (m->lacks & DREGS_TALLY_LOG_NO_CLOSING) != 0);
            dregs_table_flag(table, (m->lacks & DREGS_TALLY_LOG_NO_DENSITY) != 0);
            dregs_table_end_row(table);
        }
}

static void put_sums(dregs_report *report, const dregs_tally_actual *actual,
                     const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_facility_log_sums", DREGS_IN_JSON);
    const dregs_tally_log *log = dregs_tally_actual_log(actual);
    const dregs_tally_log_sum *s;
    char text[LOG_MONTH];
    unsigned k;

    dregs_page_word_column(table, "last_month");
    both_columns(table);
    dregs_page_number_column(table, "limit", "kg");
    dregs_page_word_column(table, "verdict");
    dregs_page_flag_column(table, "upper_bound");
    dregs_page_flag_column(table, "lower_bound");
    dregs_page_count_column(table, "unknown_months");
    dregs_page_flag_column(table, "more_removed_than_added");
    for (k = 0; (s = dregs_tally_actual_log_sum(actual, k)) != NULL; k++) {
        dregs_tally_both both = sum_of(actual, doubt, k);
        dregs_table_word(table, month_text(s->year, s->month, text));
        put_both(table, &both);
        dregs_table_number(table, s->limit);
        dregs_table_word(table,
                         s->met == DREGS_LAW_EXCLUDED ? NULL : dregs_page_law_met_word(s->met));
        dregs_table_flag(table, s->bound);
        dregs_table_flag(table, log->least);
        dregs_table_count(table, s->unknown);
        dregs_table_flag(table, s->below);
        dregs_table_end_row(table);
    }
}

void dregs_page_law_log_data(dregs_report *report, const dregs_tally_actual *actual,
                             const dregs_tally_doubt *doubt)
{
    if (!actual || !dregs_tally_actual_log(actual))
        return;
    put_months(report, actual, doubt);
    put_sums(report, actual, doubt);
}

/* ---- rows of the CSV table ---- */

static void rows_of_both(dregs_table *table, const char *stream, const char *solvent,
                         const char *period, const dregs_tally_both *both)
{
    const struct {
        const char *name;
        double value;
    } rows[] = {{"measured", both->measured},
                {"modelled", both->modelled},
                {"unexplained", both->unexplained.value},
                {"deviation", both->unexplained.sd}};
    char name[80];
    unsigned i;

    for (i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        (void)snprintf(name, sizeof name, "%s %s", stream, rows[i].name);
        dregs_page_stream_row(table, name, solvent, "", period, rows[i].value, "kg");
    }
}

void dregs_page_law_log_rows(dregs_table *table, const dregs_tally_actual *actual,
                             const dregs_tally_doubt *doubt)
{
    const dregs_tally_log_month *m;
    const dregs_tally_log_sum *s;
    char text[LOG_MONTH];
    unsigned i, p;

    for (i = 0; dregs_tally_actual_log_month(actual, i, 0); i++)
        for (p = 0; (m = dregs_tally_actual_log_month(actual, i, p)) != NULL; p++) {
            dregs_tally_both both = month_of(actual, doubt, i, p);
            (void)month_text(m->year, m->month, text);
            dregs_page_stream_row(table, "facility log added", m->solvent, "", text, m->added,
                                  "kg");
            dregs_page_stream_row(table, "facility log removed", m->solvent, "", text, m->removed,
                                  "kg");
            rows_of_both(table, "facility log emission", m->solvent, text, &both);
        }
    for (p = 0; (s = dregs_tally_actual_log_sum(actual, p)) != NULL; p++) {
        dregs_tally_both both = sum_of(actual, doubt, p);
        (void)month_text(s->year, s->month, text);
        rows_of_both(table, "facility log over twelve months", "", text, &both);
        dregs_page_stream_row(table, "facility log limit", "", "", text, s->limit, "kg");
    }
}
