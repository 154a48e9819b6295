/* SPDX-License-Identifier: GPL-3.0-or-later */
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

/** Takes a row; returning anything but DREGS_OK stops the reading with that status. */
typedef dregs_status dregs_csv_take(void *user, const dregs_csv_row *row, dregs_faults *faults);

enum { DREGS_CSV_CELL_MOST = 65536 }; /**< bytes in one cell; a longer one is refused */

/** A reader that hands rows to \p take. NULL when memory is short. \p faults may be NULL. */
DREGS_API dregs_csv *dregs_csv_new(dregs_csv_take *take, void *user, dregs_faults *faults);
DREGS_API void dregs_csv_free(dregs_csv *csv);

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
