/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* csv.h: rows of a CSV file (RFC 4180), streamed, with the line each one begins on.
 *
 * Any line ending; a UTF-8 byte order mark is dropped; empty rows, rows of empty cells and rows
 * that begin with `#` are skipped; a quoted cell may hold line breaks. The whole must be UTF-8
 * without NUL bytes. Memory does not grow with the file: one row is held at a time.
 */
#ifndef DREGS_CSV_H
#define DREGS_CSV_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct dregs_csv dregs_csv;

/** One row: \p count cells, each ended by NUL and without blanks around it unless it was quoted.
 *  The cells live until the callback returns. */
typedef struct dregs_csv_row {
    unsigned long line; /**< the line of the file the row begins on, from 1 */
    unsigned long last; /**< the line it ends on: larger where a cell holds line breaks */
    size_t count;
    const char *const *cell;
} dregs_csv_row;

/** How the cells of a file are written. */
typedef struct dregs_dialect {
    char separator;     /**< `,`, `;` or a tab */
    char decimal;       /**< `.` or `,`: the decimal mark; 0: no number of the file has one */
    unsigned long line; /**< of the number that tells it; 0: none, or none was needed */
} dregs_dialect;

enum { DREGS_DIALECT_TEXT = 120 };

/** The one sentence of a dialect that is not that of RFC 4180 with a decimal point: "cells
 * separated by ';', decimal comma (line 4 tells)"; "" for that one. Returns \p into. */
DREGS_API const char *dregs_dialect_words(dregs_dialect dialect, char into[DREGS_DIALECT_TEXT]);

/** Takes a row; returning anything but DREGS_OK stops the reading with that status. */
typedef dregs_status dregs_csv_take(void *user, const dregs_csv_row *row, dregs_faults *faults);

enum { DREGS_CSV_CELL_MOST = 65536 }; /**< bytes in one cell; a longer one is refused */

/** A reader that hands rows to \p take. NULL when memory is short. \p faults may be NULL. */
DREGS_API dregs_csv *dregs_csv_new(dregs_csv_take *take, void *user, dregs_faults *faults);
DREGS_API void dregs_csv_free(dregs_csv *csv);

/** Takes what spreadsheets write besides. The first row tells what separates the cells of all rows:
 *  the one of `,`, `;` and tab that it holds outside of quotes, a comma when it holds none; a row
 *  `sep=;` above it must agree with it, and a row with two of them is refused. A no-break space
 *  counts as a blank. A file of another kind (a spreadsheet, UTF-16, gzip, PDF) is named as what it
 *  is. To be called before the first byte is fed; without it the separator is a comma. */
DREGS_API void dregs_csv_tolerate(dregs_csv *csv);
/** What separates the cells: a comma until the first row has told another. */
DREGS_API char dregs_csv_separator(const dregs_csv *csv);

/** Feeds the next \p length bytes; pieces of any size.
 *  \return DREGS_OK; DREGS_BAD_DATA (a quote out of place, not UTF-8, a NUL byte, a cell too long),
 *  DREGS_NO_MEMORY, or what \p take returned. After a failure the reader takes no more. */
DREGS_API dregs_status dregs_csv_feed(dregs_csv *csv, const char *bytes, size_t length);

/** Ends the file: the last row need not end in a line break.
 *  \return as dregs_csv_feed; DREGS_BAD_DATA when a quoted cell was never closed. */
DREGS_API dregs_status dregs_csv_end(dregs_csv *csv);

#ifdef __cplusplus
}
#endif
#endif
