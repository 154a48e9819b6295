/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: how a report is kept, for the files of this room; not for others. */
#ifndef DREGS_REPORT_INSIDE_H
#define DREGS_REPORT_INSIDE_H

#include "base/pool.h"
#include "dregs/number.h"
#include "dregs/report.h"
#include "dregs/unit.h"

/* A cell of a table, or a figure. */
enum datum_kind { DATUM_EMPTY, DATUM_WORD, DATUM_NUMBER, DATUM_COUNT, DATUM_FLAG };

struct datum {
    enum datum_kind kind;
    const char *word; /* or what text shows in place of the number */
    dregs_quantity number;
    uint64_t count; /* or a flag */
};

/* From the unit that a number is given in to that it is shown in. */
struct conversion {
    int any; /* 0: they are the same */
    dregs_unit from, to;
};

struct column {
    dregs_column_kind kind;
    const char *key, *head, *unit; /* the unit that is shown */
    struct conversion conversion;
    int gap, width;
    int is_index; /* of the wide form */
};

/* Takes a row as soon as it ends. */
typedef void row_taker(void *user, dregs_table *table);

struct dregs_table {
    dregs_report *report;
    const char *key;
    int where, indent, headless;
    struct column *column;
    size_t columns, column_room;
    struct datum *cell; /* rows x columns, the row in hand at the end */
    size_t cells, cell_room;
    size_t given; /* cells of the row in hand */
    dregs_table_fill *fill;
    void *fill_user;
    row_taker *taker; /* while a fill runs: rows are handed over and not kept */
    void *taker_user;
    char *scratch; /* the words of a row that is not kept, one behind the other */
    size_t scratch_used, scratch_room;
};

enum block_kind { BLOCK_SENTENCE, BLOCK_HEADING, BLOCK_GAP, BLOCK_TABLE, BLOCK_LIST };

struct block {
    enum block_kind kind;
    const char *head; /* of a fact: its name, which reaches up to `hang` */
    const char *text;
    int indent, hang; /* hang below 0: not broken */
    int is_verdict;
    dregs_verdict verdict;
    dregs_table *table;
    dregs_report_list list;
};

struct figure {
    const char *key;
    struct datum datum;
};

struct report_caution {
    const char *id, *text, *source, *condition, *unit;
    const char *place; /* NULL: of no place in particular */
    double threshold;
    int pressing;
    const char *severity; /* NULL: nobody says */
};

/* A list that grows. */
struct list {
    void *item;
    size_t count, room;
};

struct axis {
    const char *label, *unit;
    struct conversion conversion;
    int logarithmic;
};

struct series {
    const char *name, *table, *x, *y;
    dregs_chart_mark mark;
    struct {
        const char *column, *word;
    } where[DREGS_CHART_WHERE];
    unsigned wheres;
    int right;
};

struct limit {
    const char *label;
    double value;
    int right, reference;
};

struct band {
    const char *label;
    double low, high;
};

struct marker {
    const char *label;
    double x, y; /* y NaN: an event */
};

struct dregs_chart {
    dregs_report *report;
    const char *key, *title;
    struct axis axis[3];
    struct list series;  /* struct series */
    struct list limits;  /* struct limit */
    struct list bands;   /* struct band */
    struct list markers; /* struct marker */
    const char *note;    /* NULL: none */
    int shown, right;
};

struct node {
    const char *name, *detail;
    int column;
};

struct link {
    int from, to, parts;
    const char *label;
    double amount;
};

struct dregs_flow {
    dregs_report *report;
    const char *key, *title, *unit, *note;
    struct conversion conversion;
    dregs_flow_kind kind;
    struct list nodes; /* struct node */
    struct list links; /* struct link */
};

/* What is drawn, in the order of the pages: one of the two. */
struct picture {
    dregs_chart *chart;
    dregs_flow *flow;
};

struct input {
    const char *name, *digest;
    const char *text; /* NULL: too long to be shown */
    size_t length;
};

/* Of the head of a document, or a line that is signed. */
struct field {
    const char *label, *value; /* value NULL: to be filled in by hand */
};

struct dregs_report {
    struct dregs_pool pool;
    dregs_status status;
    dregs_units units;
    const char *tool, *file, *decided_by;
    char *words; /* the sentence in hand */
    size_t words_used, words_room;
    struct list blocks;             /* struct block */
    struct list figures;            /* struct figure */
    struct list tables;             /* dregs_table * */
    struct list charts;             /* dregs_chart * */
    struct list pictures;           /* struct picture */
    struct list inputs;             /* struct input */
    const char *title;              /* NULL: the tool's name */
    struct list fields, signatures; /* struct field */
    struct list questions;          /* const char * */
    int is_form;                    /* CSV is the form's */
    struct list assumed;            /* const char * */
    struct list not_used;           /* const char * */
    struct list read;               /* const char * */
    const char *settings;           /* NULL: none; for CSV */
    struct list files;              /* struct field */
    char separator, decimal;        /* of CSV; 0: ',' and '.' */
    struct list cautions;           /* struct report_caution */
    dregs_cautions_shown cautions_shown;
    dregs_verdict verdict;
    dregs_report *working; /* the caller's; NULL: none */
    const char *date;      /* NULL: not told */
};

/* Room for one more item of `size` bytes; NULL, and the report has failed, when memory is short. */
void *dregs_report_more(dregs_report *report, struct list *list, size_t size);
/* Marks the report as failed, unless it has failed before. */
void dregs_report_fail(dregs_report *report, dregs_status status);
/* A tame copy of a text that lasts as long as the report; NULL, and the report has failed, when
 * memory is short or there is no text. */
const char *dregs_report_keep(dregs_report *report, const char *text);
/* How numbers in a unit are shown, and a number so. */
struct conversion dregs_report_conversion(const dregs_report *report, const char *unit);
double dregs_report_converted(const struct conversion *conversion, double value);
/* Is this a key: a letter, then letters, digits, underscores? */
int dregs_report_is_key(const char *key);

/* Lets the rows of a table pass, kept ones and made ones alike; `taker` finds each as the last. */
dregs_status dregs_report_table_rows(dregs_table *table, row_taker *taker, void *user);
/* Its cells, `columns` of them. */
const struct datum *dregs_report_table_last_row(const dregs_table *table);

/* ---- what the writers share ---- */

/* Bytes on their way to a sink: kept until the page is whole, or as long as a piece; a longer page
 * flows on from there. */
struct out {
    dregs_sink *sink;
    void *user;
    dregs_status failed; /* DREGS_IO: the sink ended it; DREGS_NO_MEMORY */
    int flows;           /* the sink has got a piece */
    char separator;      /* of CSV, and the decimal mark of its numbers */
    char decimal;
    const char *settings; /* what CSV says in its last column; NULL: it has none */
    size_t used, room;
    char *bytes;
};

void dregs_report_out_bytes(struct out *out, const char *bytes, size_t length);
void dregs_report_out_text(struct out *out, const char *text);
void dregs_report_out_blanks(struct out *out, int count);

/* How a text page is set. */
struct setting {
    int width, colour;
};

dregs_status dregs_report_write_text(dregs_report *report, const struct setting *setting,
                                     struct out *out);
/* The same of blocks `from` to before `to` alone. */
dregs_status dregs_report_write_blocks(dregs_report *report, const struct setting *setting,
                                       size_t from, size_t to, struct out *out);
/* Hands over what is whole; of what is not, nothing that has not gone yet. */
dregs_status dregs_report_out_end(struct out *out, dregs_status status);
/* Which blocks of its working the report has not, `from` to before `to`; 0: there are none. */
int dregs_report_steps(const dregs_report *report, size_t *from, size_t *to);
/* Those as text, a line for each sentence or row, to be freed; NULL for none. */
dregs_status dregs_report_steps_text(const dregs_report *report, char **steps);
/* The one table that is for CSV; NULL for none. */
dregs_table *dregs_report_csv_table(const dregs_report *report);
void dregs_report_write_csv_cell(struct out *out, const struct datum *cell);
/* Ends a row, or the head, with the column of settings where there are any. */
void dregs_report_write_csv_end(struct out *out, int is_head);
/* DREGS_UNKNOWN where the table has no wide form. */
dregs_status dregs_report_write_wide(dregs_report *report, struct out *out);
dregs_status dregs_report_write_csv(dregs_report *report, struct out *out);
dregs_status dregs_report_write_json(dregs_report *report, struct out *out);
dregs_status dregs_report_write_html(dregs_report *report, struct out *out);

/* form.c: parts of a document in HTML, each nothing where there is none; CSV for a form. */
void dregs_report_form_style(struct out *out);
void dregs_report_write_fields(const dregs_report *report, struct out *out);
void dregs_report_write_questions(const dregs_report *report, struct out *out);
void dregs_report_write_signatures(const dregs_report *report, struct out *out);
dregs_status dregs_report_write_form(dregs_report *report, struct out *out);
/* csv.c: a text as a cell; a number, which gets the decimal mark; what is between cells. */
void dregs_report_write_csv_word(struct out *out, const char *word);
void dregs_report_write_csv_number(struct out *out, const char *number);
void dregs_report_write_csv_next(struct out *out);

/* What text shows of a cell; `into` takes a number. */
const char *dregs_report_cell_words(const struct datum *cell, char into[DREGS_NUMBER_TEXT]);

/* Draws a picture. `alone`: as a file of its own, with its style. */
dregs_status dregs_report_draw(const struct picture *picture, int alone, struct out *out);
/* Is a picture one that is drawn? */
int dregs_report_is_drawn(const struct picture *picture);

enum { DIGEST_TEXT = 65 };
/* The SHA-256 digest (FIPS 180-4) in hexadecimal digits. */
void dregs_report_digest(const char *bytes, size_t length, char into[DIGEST_TEXT]);

#endif
