/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the pages share, for the files of this room; not for others.
 *
 * A page makes a report of an answer: it chooses words, order and units. It computes nothing.
 */
#ifndef DREGS_PAGE_INSIDE_H
#define DREGS_PAGE_INSIDE_H

#include "dregs/caution.h"
#include "dregs/ensemble.h"
#include "dregs/line.h"
#include "dregs/number.h"
#include "dregs/page.h"
#include "dregs/report.h"
#include "line/line.h"

/* From SI to the units that the pages show. */
#define MG_PER_L   1e3   /* kg/m3 */
#define MG         1e6   /* kg */
#define GRAMS      1e3   /* kg */
#define MG_PER_M2  1e6   /* kg/m2 */
#define UG_PER_CM2 1e5   /* kg/m2 */
#define LITRES     1e3   /* m3 */
#define ML         1e6   /* m3 */
#define UM         1e6   /* m */
#define CM2        1e4   /* m2 */
#define L_PER_H    3.6e6 /* m3/s */

/* Numbers in words; a ring of buffers lets one call name several. Zero-initialise before use. */
enum { NUMBER_WORDS = 2 * DREGS_NUMBER_TEXT + 64 }; /* two, with their units */
struct numbers {
    char text[8][NUMBER_WORDS];
    unsigned next;
};

/* A number for people, four significant digits. */
const char *dregs_page_number(struct numbers *numbers, double value);
/* Six, for a working, so that a check by hand does not end in rounding. */
const char *dregs_page_six(struct numbers *numbers, double value);

/* "12.3 L": a number with its unit for people, in the units that the report is shown in; a mass
 * from 2000 lb on in short tons. What is not known is "unknown kg". `value` is in `unit`, one of
 * dregs_report_units or another, which stays. The same with so many digits. */
const char *dregs_page_amount(const dregs_report *report, struct numbers *numbers, double value,
                              const char *unit);
const char *dregs_page_amount_to(const dregs_report *report, struct numbers *numbers, double value,
                                 const char *unit, int digits);
/* "1000 kg", or "1000 kg (1.102 short tons)": a limit keeps the unit that it is set in. */
const char *dregs_page_limit(const dregs_report *report, struct numbers *numbers, double value,
                             const char *unit);
/* What stands behind such a number: "", or " (1.102 short tons)". */
const char *dregs_page_beside(const dregs_report *report, struct numbers *numbers, double value,
                              const char *unit);
/* The unit in which dregs_page_amount shows a value, and how many of it are in one of `unit`: for
 * what is said beside it. */
const char *dregs_page_unit(const dregs_report *report, double value, const char *unit);
double dregs_page_per(const dregs_report *report, double value, const char *unit);

/* Columns that a text takes: characters, not bytes. */
int dregs_page_columns(const char *text);

/* "total" for DREGS_EVERY_SOLUTE, else the solute's name. */
const char *dregs_page_solute(const dregs_line *line, int solute);

/* Adds to the sentence in hand where a row comes from: "  [file:12 drag-out 85 mL/m2; its note]",
 * or "  [otherwise]" for row 0. */
void dregs_page_source(dregs_report *report, const dregs_line *line, unsigned row,
                       const char *otherwise);

/* "    name = value unit", with where it came from. */
void dregs_page_given(dregs_report *report, const dregs_line *line, const char *name, double value,
                      const char *unit, unsigned row, const char *otherwise);

/* A property of a liquid's solvent with its equation, coefficients and source. */
void dregs_page_property(dregs_report *report, const dregs_line *line, const dregs_fluid *fluid,
                         dregs_property property, double value);

/* A tank's volume balance between loads, its evaporation with the correlation. */
void dregs_page_tank(dregs_report *report, const dregs_line *line, unsigned index);

/* How ultrasonic power warms the tank that a stage states; nothing without. */
void dregs_page_warming(dregs_report *report, const dregs_line *line, unsigned stage);
/* The same of all tanks, for programs; nothing where no tank states a power. */
void dregs_page_warming_data(dregs_report *report, const dregs_line *line);

/* What a link leads to: a stage, a liquid, "drain". */
const char *dregs_page_link(const dregs_line *line, dregs_link link);

/* The line as a picture: stages, parts, liquids. */
void dregs_page_line_picture(dregs_report *report, const dregs_line *line);

/* The line's assumptions, what it states and the questions (dregs_question) do not use, to the
 * report's lists. */
void dregs_page_notes(dregs_report *report, const dregs_line *line, unsigned questions);
/* How many of its numbers the file itself marks as assumed, among what is assumed. */
void dregs_page_marked(dregs_report *report, const dregs_line *line);

/* A caution of an answer, with the place it is of, or NULL; all of them, and who decides. */
void dregs_page_caution(dregs_report *report, const dregs_caution *caution, const char *place);
void dregs_page_cautions(dregs_report *report, const dregs_caution *cautions, unsigned count);

/* draws.c: the words of draws that every page shares. A share in per cent with as many digits as
 * tell something, never rounded to all or to none; "97.2 % of draws", "all draws". */
enum { DRAWS_SHARE = 48 };
const char *dregs_page_draws_percent(struct numbers *numbers, double share);
const char *dregs_page_of_draws(double share, char into[DRAWS_SHARE]);
/* "the 3 values with a spread and 12 properties of liquids". \param rows  all that are drawn. */
enum { DRAWN_WORDS = 80 };
const char *dregs_page_drawn(unsigned rows, unsigned properties, char into[DRAWN_WORDS]);
/* Adds "200 draws of" these. */
void dregs_page_draws_of(dregs_report *report, const dregs_doubt_run *run);
/* What is drawn in each, and from what. \param line  NULL: liquids alone. */
void dregs_page_draws_working(dregs_report *report, const dregs_line *line,
                              const dregs_ensemble *ensemble);
/* That draws failed, or that the run was ended before all were done; nothing where all is well. */
void dregs_page_draws_failed(dregs_report *report, const dregs_doubt_run *run);
/* How many draws of what, for programs; NULL: none. */
void dregs_page_draws_data(dregs_report *report, const dregs_doubt_run *run);

/* Columns that only programs read. */
void dregs_page_word_column(dregs_table *table, const char *key);
void dregs_page_number_column(dregs_table *table, const char *key, const char *unit);
void dregs_page_count_column(dregs_table *table, const char *key);
void dregs_page_flag_column(dregs_table *table, const char *key);

/* The end of a page: hands the report over, or gives it up when it has failed. */
dregs_status dregs_page_end(dregs_report *made, dregs_report **report);

#endif
