/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.h: what dregs-tally was asked, and its answer; the pages print it. */
#ifndef DREGS_TOOL_TALLY_H
#define DREGS_TOOL_TALLY_H

#include "dregs/dregs.h"
#include "front.h"

#include <jansson.h>

struct tally_request {
    const char *file[DREGS_TALLY_LINES_MOST];
    unsigned files;
    const char *liquids_file;
    dregs_tally_request span;
    int span_given;
    dregs_tally_view view;
    enum front_format format;
    int explain;
    int law;                 /* --law */
    const char *actual_file; /* --actual FILE, NULL for none */
    int actual_year;         /* --year, 0 for none */
    dregs_site site;         /* --given */
    int given_any;
};

/* A page is about the first line; the others are set beside it. */
struct tally_page {
    const struct tally_request *request;
    const dregs_tally_result *answer;
    const dregs_tally_one *one; /* the first line */
};

int tally_page_text(const struct tally_page *page);
int tally_page_csv(const struct tally_page *page);
int tally_page_json(const struct tally_page *page);
int tally_page_explain(const struct tally_page *page);

/* The parts of a page, of what regulations ask and of purchases: for people; rows of the CSV page;
 * a member of the JSON page (NULL when memory is short); the same as text with the working below
 * it. Nothing where the answer has none. */
void tally_law_text(const struct tally_page *page);
void tally_law_csv(const struct tally_page *page);
json_t *tally_law_json(const struct tally_page *page, int *failed);
void tally_law_explain(const struct tally_page *page);
void tally_actual_text(const struct tally_page *page);
void tally_actual_csv(const struct tally_page *page);
json_t *tally_actual_json(const struct tally_page *page, int *failed);
void tally_actual_explain(const struct tally_page *page);

/* tally_page_text.c: "a year", "a shift", "2500 loads" */
void tally_span_name(const dregs_tally *tally, const struct tally_request *request, char into[48]);
/* "January" ...; "whole" past December. */
const char *tally_month_name(unsigned month);

#endif
