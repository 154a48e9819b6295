/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* report.h: what a page is made of, as data, and the writers that make text, CSV and JSON of it.
 *
 * A report is built once, in the order in which a person reads it: sentences, headings, tables,
 * and beside them what only programs read: figures under a key. What a writer does with it (where
 * lines break, how many digits are shown) is the writer's own. Nothing is printed: a writer hands
 * its bytes to a sink of the caller.
 *
 * A call that builds never fails by itself: when memory is short, or a call is out of place, the
 * report remembers it, later calls do nothing, and dregs_report_status and the writers say so.
 * All texts are copied. Texts are UTF-8; keys are snake_case. Control characters in a text, ends of
 * lines among them, become blanks, except in the name of the file.
 *
 * A report belongs to one thread at a time, for writing too: a writer makes rows in it.
 */
#ifndef DREGS_REPORT_H
#define DREGS_REPORT_H

#include "dregs/csv.h"
#include "dregs/status.h"

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A number as it is given to a reader. */
typedef struct dregs_quantity {
    double value;     /**< in `unit`; NaN: not known */
    double low, high; /**< the ends of its interval; NaN: none is known */
    const char *unit; /**< "" where it has none */
    const char *from; /**< where it comes from: a file and line, "assumed", a source; NULL: the
                           model */
} dregs_quantity;

/** A quantity without an interval, from the model. */
DREGS_API dregs_quantity dregs_quantity_of(double value, const char *unit);
/** A quantity with the interval from \p low to \p high. */
DREGS_API dregs_quantity dregs_quantity_within(double value, double low, double high,
                                               const char *unit);

typedef struct dregs_report dregs_report;
typedef struct dregs_table dregs_table;

/** A new report; NULL when memory is short.
 *  \param tool  the verb: "predict", "size", ...
 *  \param file  the file that it is about; NULL for none. */
DREGS_API dregs_report *dregs_report_new(const char *tool, const char *file);
DREGS_API void dregs_report_free(dregs_report *report);

/** DREGS_OK while everything that was given to the report is in it; DREGS_NO_MEMORY, or
 *  DREGS_DOMAIN for a call out of place: a cell more than the table has columns, or of another
 *  kind than its column, a key that is no snake_case, a key that is there twice: of a figure, of a
 *  column in its table, of a table among those of CSV or of JSON. */
DREGS_API dregs_status dregs_report_status(const dregs_report *report);

/* ---- units ---- */

/** The units that a report is shown in. */
typedef enum dregs_units {
    DREGS_UNITS_SI, /**< as they are given: L, kg, g, m2, degC, ... */
    DREGS_UNITS_US  /**< gal, lb, ft2, degF, ... by the exact factors of dregs_unit_read */
} dregs_units;

/** From now on numbers are shown in these units: figures, columns of tables, axes and flows that
 *  are given in L, mL, m3, kg, g, kg/m3, kg/m2, m2, cm2, L/h, mL/h, g/h or degC. Others stay: mg/L,
 *  ug/cm2, kPa, kWh, money. Words and the steps of a working are not touched: dregs_report_value
 *  and dregs_report_unit are for the former. DREGS_UNITS_SI where it is not called. Out of place
 *  once anything is in the report. */
DREGS_API void dregs_report_units(dregs_report *report, dregs_units units);
/** The same, as it was set. */
DREGS_API dregs_units dregs_report_units_shown(const dregs_report *report);
/** The unit in which numbers of \p unit are shown: "gal" of "L", or \p unit itself. */
DREGS_API const char *dregs_report_unit(const dregs_report *report, const char *unit);
/** A number in \p unit as it is shown. */
DREGS_API double dregs_report_value(const dregs_report *report, double value, const char *unit);

/* ---- sentences ---- */

/** Adds words to the sentence in hand. */
DREGS_API void dregs_report_words(dregs_report *report, const char *format, ...) DREGS_FORMAT(2, 3);
/** Ends the sentence in hand. In text it begins at column \p indent and is broken to the page's
 *  width, with later lines at column \p hang; a \p hang below 0 leaves it in one line. */
DREGS_API void dregs_report_end(dregs_report *report, int indent, int hang);
/** Words and the end of a sentence that is not broken. */
DREGS_API void dregs_report_line(dregs_report *report, int indent, const char *format, ...)
    DREGS_FORMAT(3, 4);
/** Words and the end of a sentence that is broken. */
DREGS_API void dregs_report_text(dregs_report *report, int indent, int hang, const char *format,
                                 ...) DREGS_FORMAT(4, 5);
/** A name and what is to be said of it: "  name      words", the words beginning at column
 *  \p column and staying right of it where they are broken. */
DREGS_API void dregs_report_fact(dregs_report *report, const char *name, int column,
                                 const char *format, ...) DREGS_FORMAT(4, 5);
/** A title, after an empty line. */
DREGS_API void dregs_report_heading(dregs_report *report, const char *format, ...)
    DREGS_FORMAT(2, 3);
/** An empty line. */
DREGS_API void dregs_report_gap(dregs_report *report);

/** What is judged. */
typedef enum dregs_verdict {
    DREGS_VERDICT_NONE,    /**< nothing is judged */
    DREGS_VERDICT_MET,     /**< all that is asked for is met */
    DREGS_VERDICT_UNKNOWN, /**< it cannot be judged yet */
    DREGS_VERDICT_MISSED
} dregs_verdict;

/** The sentence that ended last is a verdict. Of several the worst counts: missed, then not known.
 */
DREGS_API void dregs_report_verdict(dregs_report *report, dregs_verdict verdict);

/** A step of a working, shown as "    name = value unit  [from]" with six digits. */
DREGS_API void dregs_report_step(dregs_report *report, const char *name, dregs_quantity value);

/* ---- figures: for programs, under a key that is there once ---- */

DREGS_API void dregs_report_figure(dregs_report *report, const char *key, dregs_quantity value);
DREGS_API void dregs_report_count(dregs_report *report, const char *key, uint64_t count);
DREGS_API void dregs_report_flag(dregs_report *report, const char *key, int flag);
/** \param word  NULL: there is none. */
DREGS_API void dregs_report_word(dregs_report *report, const char *key, const char *word);

/* ---- tables ---- */

/** Where a table is shown. */
enum {
    DREGS_IN_TEXT = 1,
    DREGS_IN_CSV = 2, /**< of one table only */
    DREGS_IN_JSON = 4,
    DREGS_IN_FORM = 16,  /**< of dregs_report_as_form */
    DREGS_IN_PICTURE = 8 /**< for charts alone; of a chart: it is drawn */
};

typedef enum dregs_column_kind {
    DREGS_COLUMN_WORD,
    DREGS_COLUMN_NUMBER, /**< in the column's unit; NaN is shown as "-", empty or null */
    DREGS_COLUMN_COUNT,
    DREGS_COLUMN_FLAG,
    DREGS_COLUMN_VALUE /**< of either kind, a word or a number, as each row has it */
} dregs_column_kind;

/** A new table at this place of the report; NULL when the report has failed, which the calls below
 *  take without harm.
 *  \param key    of the table, for programs.
 *  \param where  DREGS_IN_TEXT and the like, together. */
DREGS_API dregs_table *dregs_report_table(dregs_report *report, const char *key, int where);
/** In text the rows begin at this column; 0 at first. */
DREGS_API void dregs_table_indent(dregs_table *table, int indent);
/** In text the table has no heads. */
DREGS_API void dregs_table_headless(dregs_table *table);

/** A column more.
 *  \param head   its head in text, NULL when text does not show the column.
 *  \param unit   its unit, "" for none; text shows it in a second head.
 *  \param width  in text: characters, filled up with blanks on the right, or with a negative
 *                width on the left; 0 as wide as the cell. */
DREGS_API void dregs_table_column(dregs_table *table, dregs_column_kind kind, const char *key,
                                  const char *head, const char *unit, int width);
/** The numbers of the column that was added last are given in this unit, though its head does not
 *  show it: a title does, which dregs_report_unit makes. */
DREGS_API void dregs_table_measured(dregs_table *table, const char *unit);
/** The column that was added last tells the rows of wide CSV apart, in a table with columns of the
 *  keys "value" and "unit". A row there is what follows each other with the same in all such
 *  columns; the words of the other columns before the value, and the unit, are the head of a column
 *  of its own: "bath oil concentration [mg/L]". */
DREGS_API void dregs_table_index(dregs_table *table);
/** In text so many blanks stand before the column that was added last. */
DREGS_API void dregs_table_gap(dregs_table *table, int blanks);

/** The next cell of the row in hand. \p word NULL leaves it empty, in a column of any kind. */
DREGS_API void dregs_table_word(dregs_table *table, const char *word);
DREGS_API void dregs_table_number(dregs_table *table, double value);
DREGS_API void dregs_table_count(dregs_table *table, uint64_t count);
DREGS_API void dregs_table_flag(dregs_table *table, int flag);
/** A number that text shows in other words, such as "46 s". */
DREGS_API void dregs_table_shown(dregs_table *table, double value, const char *shown);
/** A number with an interval; its unit is the column's. */
DREGS_API void dregs_table_within(dregs_table *table, double value, double low, double high);
/** A number that text shows with so many significant digits. */
DREGS_API void dregs_table_digits(dregs_table *table, double value, int digits);
/** A number that is given in \p unit, in a column without one, with its interval; and the cell that
 *  says in which unit it is shown. */
DREGS_API void dregs_table_in(dregs_table *table, double value, const char *unit);
DREGS_API void dregs_table_within_in(dregs_table *table, double value, double low, double high,
                                     const char *unit);
DREGS_API void dregs_table_unit(dregs_table *table, const char *unit);
/** Ends the row; cells that were not given are empty, and text ends with the last one given. A word
 *  that ends a row is broken where it would pass the page's width. */
DREGS_API void dregs_table_end_row(dregs_table *table);

/** Makes the rows when they are written, so that memory does not grow with them: \p fill gives the
 *  cells of one row after the other and ends each, at every writing anew. \p user must outlive the
 *  report. A status other than DREGS_OK ends the writing with it. */
typedef dregs_status dregs_table_fill(void *user, dregs_table *table);
DREGS_API void dregs_table_filled_by(dregs_table *table, dregs_table_fill *fill, void *user);
/** A copy of \p size bytes that lasts as long as the report, for a fill; NULL, and the report has
 *  failed, when memory is short. */
DREGS_API void *dregs_report_lasting(dregs_report *report, const void *bytes, size_t size);

/* ---- charts: what a picture shows of the tables ---- */

typedef struct dregs_chart dregs_chart;

typedef enum dregs_chart_axis {
    DREGS_AXIS_X,
    DREGS_AXIS_Y,
    DREGS_AXIS_RIGHT /**< a second y axis, for another unit */
} dregs_chart_axis;

typedef enum dregs_chart_mark {
    DREGS_MARK_LINE,
    DREGS_MARK_STEPS,
    DREGS_MARK_BARS,
    DREGS_MARK_POINTS,
    DREGS_MARK_SPANS /**< against words: bars from the low to the high end of an interval, which
                          need not begin at 0 */
} dregs_chart_mark;

/** A new chart; NULL when the report has failed, which the calls below take without harm. It holds
 *  no numbers but limits: its series are columns of the report's tables, so that a picture cannot
 *  differ from them. Text and CSV leave charts out. */
DREGS_API dregs_chart *dregs_report_chart(dregs_report *report, const char *key, const char *title);
/** An axis with its label and unit, before what stands at a value of it. \param logarithmic  1: it
 * is better drawn so. */
DREGS_API void dregs_chart_axis_is(dregs_chart *chart, dregs_chart_axis axis, const char *label,
                                   const char *unit, int logarithmic);
/** A series more: columns \p x and \p y of the rows of a table, by their keys. An interval of a
 * cell is a band. The table must be in the report when it is written. */
DREGS_API void dregs_chart_series(dregs_chart *chart, const char *name, dregs_chart_mark mark,
                                  const char *table, const char *x, const char *y);
/** Of the table only rows whose cell in \p column is \p word belong to the series added last; at
 *  most DREGS_CHART_WHERE times for a series. */
DREGS_API void dregs_chart_where(dregs_chart *chart, const char *column, const char *word);
enum { DREGS_CHART_WHERE = 3 };
/** A line across the chart at a value of the y axis. */
DREGS_API void dregs_chart_limit(dregs_chart *chart, const char *label, double value);
/** The same of what is no limit: what all else is held against. */
DREGS_API void dregs_chart_reference(dregs_chart *chart, const char *label, double value);
/** The series added last, or with it the limits added from now on, stand on DREGS_AXIS_RIGHT. */
DREGS_API void dregs_chart_right(dregs_chart *chart);
/** A band across the chart between two values of the y axis, behind everything. */
DREGS_API void dregs_chart_band(dregs_chart *chart, const char *label, double low, double high);
/** Something that happens at a value of the x axis: a line from top to bottom. */
DREGS_API void dregs_chart_event(dregs_chart *chart, const char *label, double x);
/** A point with a label: an answer, the worst case. */
DREGS_API void dregs_chart_marker(dregs_chart *chart, const char *label, double x, double y);
/** What is to be said below the picture. */
DREGS_API void dregs_chart_note(dregs_chart *chart, const char *format, ...) DREGS_FORMAT(2, 3);
/** Where a chart is: DREGS_IN_JSON, DREGS_IN_PICTURE; at first in both. A chart in JSON must name
 *  tables that are there too. */
DREGS_API void dregs_chart_shown(dregs_chart *chart, int where);

/* ---- flows: pictures of what goes where ---- */

typedef struct dregs_flow dregs_flow;

typedef enum dregs_flow_kind {
    DREGS_FLOW_STAGES, /**< boxes one below the other, in the order of the parts, with what comes in
                            from the left and goes out to the right */
    DREGS_FLOW_WIDTHS  /**< bands as wide as their amount, from column to column */
} dregs_flow_kind;

/** A new picture; NULL when the report has failed, which the calls below take without harm. Only
 *  pictures show it. \param unit  of the amounts of DREGS_FLOW_WIDTHS. */
DREGS_API dregs_flow *dregs_report_flow(dregs_report *report, const char *key, const char *title,
                                        dregs_flow_kind kind, const char *unit);
enum { DREGS_FLOW_OUTSIDE = -1 };
/** A box more. \param column  of DREGS_FLOW_WIDTHS: 0, 1 or 2, from the left.
 *  \param detail  a second line of words; "" for none.
 *  \return its number, from 0. */
DREGS_API int dregs_flow_node(dregs_flow *flow, int column, const char *name, const char *detail);
/** What goes from one box to another or, DREGS_FLOW_OUTSIDE, from or to the outside, in words.
 *  \param amount  of DREGS_FLOW_WIDTHS: > 0; others are left out. */
DREGS_API void dregs_flow_liquid(dregs_flow *flow, int from, int to, const char *label,
                                 double amount);
/** What the parts take along from a box to the one below. */
DREGS_API void dregs_flow_parts(dregs_flow *flow, int from, int to, const char *label);
DREGS_API void dregs_flow_note(dregs_flow *flow, const char *format, ...) DREGS_FORMAT(2, 3);

/* ---- what stands beside every answer ---- */

/** What was assumed, and what the file states and the answer does not use. */
DREGS_API void dregs_report_assumed(dregs_report *report, const char *text);
DREGS_API void dregs_report_not_used(dregs_report *report, const char *text);
/** How something that the answer rests on was read, where that is not as usual: "line.csv: cells
 *  separated by ';', decimal comma (line 4 tells)". It stands at the foot. */
DREGS_API void dregs_report_read(dregs_report *report, const char *text);
/** A file that belongs to the answer, by the name of the option that asks for it: JSON alone has
 * it, under "files". \param text  NULL: it is not to be had. */
DREGS_API void dregs_report_file(dregs_report *report, const char *option, const char *text);
/** A setting of a file that took part in the answer and is in no argument of the question:
 *  ".dregs:2: threads = 1". It stands among what dregs_report_read says, and CSV has it, too: in a
 *  last column "settings" of every row, or in a row of its own where the report is a form. */
DREGS_API void dregs_report_setting(dregs_report *report, const char *text);
/** A caution. \p condition, \p threshold (NaN for none), \p unit: the rule; NULL and NaN where it
 *  is not told. */
DREGS_API void dregs_report_caution(dregs_report *report, const char *id, const char *text,
                                    const char *source, const char *condition, double threshold,
                                    const char *unit);
/** The caution that was given last is of one place among several, such as "60 degC": text names it
 *  behind the id. */
DREGS_API void dregs_report_caution_place(dregs_report *report, const char *place);
/** The caution that was given last must be read before anything else. */
DREGS_API void dregs_report_caution_pressing(dregs_report *report);
/** How much the caution that was given last matters: "danger", "warning" or "note". */
DREGS_API void dregs_report_caution_severity(dregs_report *report, const char *severity);
/** Who decides, below all cautions. */
DREGS_API void dregs_report_decided_by(dregs_report *report, const char *text);

typedef enum dregs_report_list {
    DREGS_LIST_ASSUMED,
    DREGS_LIST_NOT_USED,
    DREGS_LIST_CAUTIONS, /**< without the pressing ones, where these have been shown above */
    DREGS_LIST_PRESSING  /**< the pressing cautions, without a title, and an empty line */
} dregs_report_list;

/** The cautions of one place alone, where those of several stand on one page. */
DREGS_API void dregs_report_show_cautions_of(dregs_report *report, const char *place,
                                             const char *title);

/** What text shows of the cautions. Dangers, and what no severity was given of, always stand in
 *  full; csv and json always hold all. */
typedef enum dregs_cautions_shown {
    DREGS_CAUTIONS_DANGER, /**< of the others their names: where nothing else is said */
    DREGS_CAUTIONS_ALL,    /**< all in full */
    DREGS_CAUTIONS_NONE    /**< nothing of the others */
} dregs_cautions_shown;

/** Says what text shows of the cautions; DREGS_CAUTIONS_DANGER when it is not called. */
DREGS_API void dregs_report_cautions_shown(dregs_report *report, dregs_cautions_shown shown);

/** Text shows a list here, under a title, when it is not empty. The list may be filled later.
 *  \param title  not used for DREGS_LIST_PRESSING. */
DREGS_API void dregs_report_show(dregs_report *report, dregs_report_list list, const char *title);

/* ---- a document to hand in ---- */

/** Its title, in place of the tool's name; HTML shows it. */
DREGS_API void dregs_report_title(dregs_report *report, const char *title);
/** A field of its head. \param value  NULL or "": a line to be filled in by hand. */
DREGS_API void dregs_report_field(dregs_report *report, const char *label, const char *value);
/** What is to be answered before it can be relied on; HTML leaves room for the answer. */
DREGS_API void dregs_report_question(dregs_report *report, const char *text);
/** A line to be signed at its end. */
DREGS_API void dregs_report_signature(dregs_report *report, const char *label);
/** CSV is a row for each thing that a form may ask for, in place of the report's table for it: the
 *  head, the figures, the numbers of tables that are DREGS_IN_FORM, each verdict, the questions. */
DREGS_API void dregs_report_as_form(dregs_report *report);

/* ---- writers ---- */

typedef enum dregs_report_format {
    DREGS_REPORT_TEXT,
    DREGS_REPORT_CSV,
    DREGS_REPORT_JSON,
    DREGS_REPORT_HTML,    /**< one file that needs no other: pictures, tables, cautions, working */
    DREGS_REPORT_CSV_WIDE /**< CSV with a row for each load, moment or period, see
                               dregs_table_index */
} dregs_report_format;

/** What HTML shows below the answer, folded away, and JSON as "working", a text for each line: the
 *  blocks of \p working that the report does not have. It must outlive the writing, and stays the
 *  caller's. */
DREGS_API void dregs_report_working(dregs_report *report, dregs_report *working);
/** How CSV is written: cells separated by `,`, `;` or a tab, numbers with `.` or `,`, the line of
 * the dialect aside. Commas and points without it. \return DREGS_OK; DREGS_DOMAIN for any other, or
 * for a comma as both. */
DREGS_API dregs_status dregs_report_csv_dialect(dregs_report *report, dregs_dialect dialect);

/** What was read, for HTML: its name and SHA-256 digest, and the text itself up to
 *  DREGS_REPORT_INPUT_SHOWN bytes. */
DREGS_API void dregs_report_input(dregs_report *report, const char *name, const char *bytes,
                                  size_t length);
enum { DREGS_REPORT_INPUT_SHOWN = 32768 };
/** When it was made, for HTML, in words. */
DREGS_API void dregs_report_date(dregs_report *report, const char *date);

enum { DREGS_REPORT_WHOLE = 4194304 };

/** Makes blanks of what a terminal would obey and of what nobody sees: words from a file, and the
 *  name of one, may hold anything. The report does so with all that it is given. */
DREGS_API void dregs_report_tame(char *words);

/** Takes bytes; returns 0, or anything else to end the writing. */
typedef int dregs_sink(void *user, const char *bytes, size_t length);

/** Writes a report. Up to DREGS_REPORT_WHOLE bytes of it reach the sink once it is whole, or not at
 *  all; a longer one flows on from there, and one that is cut short ends in a line that says so.
 *  \param width   columns of a text page, 40 or more; 0: 88. Tables keep their own.
 *  \param colour  1: text marks verdicts and headings with the terminal's colours.
 *  \return DREGS_OK; the report's status; the status of a fill; DREGS_DOMAIN (a width from 1 to
 *  39; CSV of a report without a table for it); DREGS_UNKNOWN (wide CSV of one without an index);
 * DREGS_IO when the sink ended it; DREGS_NO_MEMORY.
 */
DREGS_API dregs_status dregs_report_write(dregs_report *report, dregs_report_format format,
                                          int width, int colour, dregs_sink *sink, void *user);

/** The key of picture \p index, from 0, and its title; NULL past the end. */
DREGS_API const char *dregs_report_picture(const dregs_report *report, unsigned index,
                                           const char **title);
/** Writes one picture as an SVG file of its own.
 *  \return as dregs_report_write; DREGS_UNKNOWN: there is no picture of that key. */
DREGS_API dregs_status dregs_report_write_picture(dregs_report *report, const char *key,
                                                  dregs_sink *sink, void *user);

#ifdef __cplusplus
}
#endif
#endif
