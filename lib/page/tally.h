/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.h: what the files of the page of a tally share; not for others.
 *
 * The page is the tally's own; what regulations ask and what was bought are parts of it, each with
 * its sentences and tables, its rows of the CSV table, and its working.
 */
#ifndef DREGS_PAGE_TALLY_H
#define DREGS_PAGE_TALLY_H

#include "dregs/answer_tally.h"
#include "page/page.h"

/* "January" ...; "whole" past December. */
const char *dregs_page_month(unsigned month);

/* A row of the CSV table, whole and ended: stream, liquid, solute, period, value, unit. `liquid`
 * and `solute` may be "". */
void dregs_page_stream_row(dregs_table *table, const char *stream, const char *liquid,
                           const char *solute, const char *period, double value, const char *unit);

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
