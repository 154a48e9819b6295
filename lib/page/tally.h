/* SPDX-License-Identifier: GPL-3.0-or-later */
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
    unsigned streams; /* tables of streams so far, which number their keys */
};

/* "January" ...; "whole" past December. */
const char *dregs_page_month(unsigned month);

/* A row of the CSV table, whole and ended: stream, liquid, solute, period, value, unit. `liquid`
 * and `solute` may be "". */
void dregs_page_stream_row(dregs_table *table, const char *stream, const char *liquid,
                           const char *solute, const char *period, double value, const char *unit);

/* tally_streams.c: tables for people. The balance of the whole; all streams of each stage; where
 * each liquid goes; month by month; several lines side by side. */
void dregs_page_tally_balance(struct tally_page *page);
void dregs_page_tally_stages(struct tally_page *page);
void dregs_page_tally_liquids(struct tally_page *page);
void dregs_page_tally_months(struct tally_page *page);
void dregs_page_tally_compared(struct tally_page *page);
/* A unit of the answer's figures: the line's currency for "currency". */
const char *dregs_page_tally_unit(const dregs_tally_one *one, const char *unit);

/* tally_csv.c: the CSV table of a view; its rows are made when they are written. "loads", "shift",
 * "day", "month", "year". */
void dregs_page_tally_csv(struct tally_page *page, dregs_tally_view view);
const char *dregs_page_tally_span(dregs_span span);

/* tally_data.c: what only programs read. */
void dregs_page_tally_data(struct tally_page *page);

/* tally_pictures.c: the same as pictures. */
void dregs_page_tally_pictures(const struct tally_page *page);

/* tally_working.c: how every stream comes about. */
void dregs_page_tally_working(struct tally_page *page);

/* What regulations ask: what people and programs read, but for CSV, from the heading "regulations"
 * on; its rows of the CSV table; the working, which follows dregs_page_law. */
void dregs_page_law(dregs_report *report, const dregs_tally_law *law);
void dregs_page_law_rows(dregs_table *table, const dregs_tally_law *law);
void dregs_page_law_working(dregs_report *report, const dregs_tally_law *law);

/* Purchases beside the model, likewise. `file`: where they were read. */
void dregs_page_actual(dregs_report *report, const dregs_tally_actual *actual, const char *file);
void dregs_page_actual_rows(dregs_table *table, const dregs_tally_actual *actual);
void dregs_page_actual_working(dregs_report *report, const dregs_tally_actual *actual);

#endif
