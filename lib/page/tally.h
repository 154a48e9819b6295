/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.h: what the files of the page of a tally share; not for others.
 *
 * The page is the tally's own; what regulations ask and what was bought are parts of it, each with
 * its sentences and tables, its rows of the CSV table, and its working.
 */
#ifndef DREGS_PAGE_TALLY_H
#define DREGS_PAGE_TALLY_H

#include "dregs/answer_tally.h"
#include "page/inside.h"

/* A page in the making. It is about the first line; the others are set beside it. */
struct tally_page {
    dregs_report *report;
    const dregs_tally_result *answer;
    const dregs_tally_one *one;
    const dregs_tally_request *span;
    unsigned streams;               /* tables of streams so far, which number their keys */
    const dregs_tally_doubt *doubt; /* NULL: no draws */
    dregs_tally_view view;
};

/* "January" ...; "whole" past December. Of a period of a tally. */
const char *dregs_page_month(unsigned month);
const char *dregs_page_tally_month(const dregs_tally *tally, unsigned period);

/* A row of the CSV table, whole and ended: stream, liquid, solute, period, value, unit. `liquid`
 * and `solute` may be "". */
void dregs_page_stream_row(dregs_table *table, const char *stream, const char *liquid,
                           const char *solute, const char *period, double value, const char *unit);

/* So many of the unit in which a report shows litres are in a m3. */
double dregs_page_litres(const dregs_report *report);

/* tally_streams.c: tables for people. The balance of the whole; all streams of each stage; where
 * each liquid goes; month by month; several lines side by side. */
void dregs_page_tally_balance(struct tally_page *page);
void dregs_page_tally_stages(struct tally_page *page);
void dregs_page_tally_liquids(struct tally_page *page);
void dregs_page_tally_months(struct tally_page *page);
void dregs_page_tally_quarters(struct tally_page *page);
void dregs_page_tally_compared(struct tally_page *page);
/* A unit of the answer's figures: the line's currency for "currency". */
const char *dregs_page_tally_unit(const dregs_tally_one *one, const char *unit);

/* tally_csv.c: the CSV table of a view; its rows are made when they are written. "loads", "shift",
 * "day", "month", "year". */
void dregs_page_tally_csv(struct tally_page *page, dregs_tally_view view);
const char *dregs_page_tally_span(dregs_span span);

/* tally_data.c: what only programs read. */
void dregs_page_tally_data(struct tally_page *page);

/* tally_drain.c: what goes down the drain; the same for programs. */
void dregs_page_tally_drain(struct tally_page *page);
void dregs_page_tally_put_drain(struct tally_page *page);

/* tally_energy.c: what heating takes; the same for programs. */
void dregs_page_tally_energy(struct tally_page *page);
void dregs_page_tally_put_energy(struct tally_page *page);

/* tally_instead.c: one solvent in place of another; the same for programs. Nothing without. */
void dregs_page_tally_instead(struct tally_page *page);
void dregs_page_tally_put_instead(struct tally_page *page);

/* tally_form.c: what makes the page a document to hand in. */
void dregs_page_tally_form(struct tally_page *page);

/* tally_pictures.c: the same as pictures. */
void dregs_page_tally_pictures(const struct tally_page *page);

/* tally_working.c: how every stream comes about. */
void dregs_page_tally_working(struct tally_page *page);

/* tally_doubt.c: between what the figures of draws lie. The range of a figure: 1 where there is one
 * wide enough to be said; " (2.1 to 2.7)", or nothing; a quantity or cell, in a unit of which there
 * are so many in SI. */
enum { TALLY_BETWEEN = 80, TALLY_ENDS_MOST = 8 };
int dregs_page_tally_range(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                           unsigned index, dregs_ensemble_range *range);
const char *dregs_page_tally_between(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                                     unsigned index, double unit, char into[TALLY_BETWEEN]);
/* "2.1 to 2.7", or nothing: a liquid in a stream of a stage, in a unit of which there are so many
 * in a m3. */
const char *dregs_page_tally_stream_between(const dregs_tally_doubt *doubt, unsigned fluid,
                                            dregs_stream stream, unsigned stage, double unit,
                                            char into[TALLY_BETWEEN]);
/* "2.1 to 2.7", or nothing: of a figure of one of several lines; `unit` of what it is shown in are
 * in one of its own. */
const char *dregs_page_tally_figure_between(const dregs_tally_doubt *doubt, unsigned line,
                                            unsigned figure, double unit, char into[TALLY_BETWEEN]);
/* How several lines are drawn. */
void dregs_page_tally_lines_drawn(const struct tally_page *page, unsigned lines);
dregs_quantity dregs_page_tally_quantity(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                                         unsigned index, double value, double unit,
                                         const char *name);
void dregs_page_tally_put(dregs_table *table, const dregs_tally_doubt *doubt,
                          dregs_tally_doubtful what, unsigned index, double value, double unit);
/* A cell that a range may be known of, likewise; `range` counts where `known` is DREGS_OK. */
void dregs_page_tally_put_known(dregs_table *table, dregs_status known,
                                const dregs_ensemble_range *range, double value, double unit);
/* In a table for people, below a row: a row of the lower ends and one of the upper ones, of as many
 * cells as `ends` has; what is not in doubt is left empty. Nothing where nothing is. */
struct tally_ends {
    int any; /* set by dregs_page_tally_take_end */
    unsigned count;
    double low[TALLY_ENDS_MOST], high[TALLY_ENDS_MOST];
};
void dregs_page_tally_take_end(struct tally_ends *ends, dregs_status known,
                               const dregs_ensemble_range *range, double unit);
/* \param skip  cells between the name and the first of them */
void dregs_page_tally_put_ends(dregs_table *table, const struct tally_ends *ends,
                               const char *indent, unsigned skip);
/* What the brackets are; what programs read; what is drawn; rows of the CSV table. */
void dregs_page_tally_doubt_words(const struct tally_page *page);
void dregs_page_tally_doubt_data(const struct tally_page *page);
void dregs_page_tally_doubt_working(const struct tally_page *page);
void dregs_page_tally_doubt_rows(dregs_table *table, const dregs_tally_doubt *doubt,
                                 const dregs_tally_one *one, const char *period);
/* Both ends of a figure whose row stands above; nothing where there is no range. */
void dregs_page_tally_end_rows(dregs_table *table, const dregs_tally_doubt *doubt,
                               dregs_tally_doubtful what, unsigned index, const char *stream,
                               const char *liquid, const char *period, double scale,
                               const char *unit);
/* Adds to the sentence in hand in how many draws a limit is met. */
void dregs_page_law_plan_sure(dregs_report *report, const dregs_tally_doubt *doubt,
                              const dregs_tally_plan *plan, dregs_law_activity activity);
void dregs_page_law_machine_sure(dregs_report *report, const dregs_tally_doubt *doubt,
                                 unsigned machine);
void dregs_page_law_waste_sure(dregs_report *report, const dregs_tally_doubt *doubt,
                               unsigned waste);
/* A cell: in how many draws a month is of the category that is shown; nothing without draws. */
void dregs_page_law_month_sure(dregs_table *table, const dregs_tally_doubt *doubt, unsigned month);

/* What regulations ask: what people and programs read, but for CSV, from the heading "regulations"
 * on; its rows of the CSV table; the working, which follows dregs_page_law. */
void dregs_page_law(const struct tally_page *page, const dregs_tally_law *law);
void dregs_page_law_rows(dregs_table *table, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt);
void dregs_page_law_working(dregs_report *report, const dregs_tally_law *law,
                            const dregs_tally_actual *actual);
/* Rows of the CSV table of plans from records. */
void dregs_page_law_recorded_rows(dregs_table *table, const dregs_tally_law *law,
                                  const dregs_tally_actual *actual);
/* Of the facility by records. */
void dregs_page_law_log_rows(dregs_table *table, const dregs_tally_actual *actual,
                             const dregs_tally_doubt *doubt);

/* Purchases beside the model, likewise. `file`: where they were read. */
void dregs_page_actual(const struct tally_page *page, const dregs_tally_actual *actual,
                       const char *file);
void dregs_page_actual_rows(dregs_table *table, const dregs_tally_actual *actual,
                            const dregs_tally_doubt *doubt);
void dregs_page_actual_working(dregs_report *report, const dregs_tally_actual *actual);

/* tally_records.c: how far the purchases can be believed, and what was counted in stock. */
void dregs_page_records(const struct tally_page *page, const dregs_tally_actual *actual);
void dregs_page_records_data(dregs_report *report, const dregs_tally_actual *actual);

/* tally.c: the limit of a bath that a line passes, as a sentence; nothing where it passes none. */
void dregs_page_tally_life(dregs_report *report, const dregs_tally_one *one, int indent);

/* tally_lines.c: the lines of a site, for people and for programs. */
void dregs_page_tally_site(struct tally_page *page);
void dregs_page_tally_site_data(const struct tally_page *page);

/* tally_clearing.c: units that are used up; the same as a working. */
void dregs_page_tally_clearing(const struct tally_page *page);
void dregs_page_tally_clearing_working(const struct tally_page *page);

/* tally_kinds.c: loads of several kinds, for people and for programs. */
void dregs_page_tally_say_kinds(const struct tally_page *page);
void dregs_page_tally_put_kinds(const struct tally_page *page);

#endif
