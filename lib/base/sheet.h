/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sheet.h: a CSV file with a header, as every input of the library is; not installed.
 *
 * The columns may stand in any order, in capitals too; columns without a name must be empty. Cells
 * are separated by `,`, `;` or tabs, as the header is. With `,` the decimal mark is a point. With
 * the others it is the point or the comma, one of the two for the whole file, which its numbers
 * tell; a cell that has it reaches the reader with a point. What is wrong with the header, with the
 * number of cells of a row, or with a file without any row is found and said here, once; csv.h
 * below it knows rows only. What a cell means is its reader's business, but for what all readers
 * share: a spread, and the size beyond which no number is believed.
 */
#ifndef DREGS_BASE_SHEET_H
#define DREGS_BASE_SHEET_H

#include "dregs/csv.h"
#include "dregs/unit.h"

enum { DREGS_SHEET_COLUMNS = 24 };

/** How much a column is needed. */
typedef enum dregs_need {
    DREGS_OPTIONAL,  /**< the header may leave it out */
    DREGS_IN_HEADER, /**< the header must name it; a row may end before it */
    DREGS_IN_ROWS    /**< every row must reach it, too */
} dregs_need;

typedef struct dregs_column {
    const char *name;
    dregs_need need;
    const char *instead; /**< the column that may stand in its place, NULL for none */
} dregs_column;

/** The words of the faults around the names and numbers in them, where a file has its own. */
typedef struct dregs_sheet_words {
    const char *allowed;    /**< behind an unknown column: which ones there are */
    const char *nearest[2]; /**< before and behind the column that is nearest to it */
    const char *twice[2];   /**< before and behind a column that stands twice */
    const char *missing[2]; /**< before and behind one that the header leaves out */
    const char *both;       /**< a column and the one that may stand instead of it */
    const char *cells[2];   /**< "5 cells", the first, cells of the header, the second */
    const char *empty;      /**< the file has not even a header */
    const char *rowless;    /**< no row follows the header; NULL: the reader says so itself */
} dregs_sheet_words;

/** What a file must look like. */
typedef struct dregs_sheet_form {
    const dregs_column *column;
    size_t count;                   /**< of columns, up to DREGS_SHEET_COLUMNS */
    const dregs_sheet_words *words; /**< NULL: plain ones */
    size_t rows_most;               /**< 0: as many as there are */
    unsigned long whole;            /**< the line that faults of the whole file are laid to */
    dregs_status unknown;           /**< of an unknown column; 0: DREGS_BAD_DATA */
    int even;                       /**< every row has as many cells as the header */
    int stops_when_full;            /**< a fault that is not kept any more ends the reading */
    unsigned
        numbers; /**< bit c: cells of column c are a number, `%` or a bound such as `<` with it */
    unsigned quantities; /**< bit c: ... or a number with a unit */
} dregs_sheet_form;

/** A row under its header. The cells live until the callback returns. */
typedef struct dregs_sheet_row {
    unsigned long line, last; /**< as in dregs_csv_row */
    size_t count;
    const char *const *cell;
    const int *place; /**< for each column of the form the cell it stands in, -1 for none */
    size_t width;     /**< cells in the header */
} dregs_sheet_row;

/** The cell of a column; "" where the header or the row ends before it. */
static inline const char *dregs_sheet_cell(const dregs_sheet_row *row, int column)
{
    int place = row->place[column];

    return place >= 0 && (size_t)place < row->count ? row->cell[place] : "";
}

/** Takes a row; anything but DREGS_OK stops the reading with that status. Faults of its cells go
 *  into \p faults; that there were any is its reader's to remember. */
typedef dregs_status dregs_sheet_take(void *user, const dregs_sheet_row *row, dregs_faults *faults);

typedef struct dregs_sheet dregs_sheet;

/** A reader that hands the rows below the header to \p take. NULL when memory is short. \p faults
 *  may be NULL. */
dregs_sheet *dregs_sheet_new(const dregs_sheet_form *form, dregs_sheet_take *take, void *user,
                             dregs_faults *faults);
void dregs_sheet_free(dregs_sheet *sheet);

/** Feeds the next bytes. \return as dregs_csv_feed; DREGS_BAD_DATA also for a header that cannot be
 *  used: without it every row would be a fault for no reason of its own. */
dregs_status dregs_sheet_feed(dregs_sheet *sheet, const char *bytes, size_t length);

/** Ends the file. \return as dregs_sheet_feed; DREGS_BAD_DATA when any row had too few or too many
 *  cells, or when there was none. */
dregs_status dregs_sheet_end(dregs_sheet *sheet);

/** How the cells of the file are written, as far as it was read. */
dregs_dialect dregs_sheet_dialect(const dregs_sheet *sheet);

/** All of it, for a text that is at hand as a whole.
 *  \param dialect  how it is written; NULL: not asked for.
 *  \return as dregs_sheet_end; DREGS_NO_MEMORY. */
dregs_status dregs_sheet_read(const dregs_sheet_form *form, const char *bytes, size_t length,
                              dregs_sheet_take *take, void *user, dregs_dialect *dialect,
                              dregs_faults *faults);

/** A spread as it is written: a standard deviation in the unit of the value, or a share of it. */
typedef struct dregs_spread {
    double number; /**< in that unit, or % */
    int is_share;
} dregs_spread;

/** Reads one; untouched when the cell is empty. \return as dregs_spread_read. */
dregs_status dregs_spread_parse(const char *text, dregs_spread *spread);
/** The standard deviation of a value with it, SI. */
double dregs_spread_of(dregs_spread spread, double si, dregs_unit unit);

/** Reads a spread, a standard deviation: `0.2` in the unit of the value, or `10%` of it.
 *  \param si    the value, SI.
 *  \param unit  its unit. A share is one of the value as written: 10 % of 60 degC are 6 K.
 *  \param sd    SI; untouched when the cell is empty.
 *  \return DREGS_OK; DREGS_BAD_NUMBER (no number, negative, beyond 1e20). */
dregs_status dregs_spread_read(const char *text, double si, dregs_unit unit, double *sd);

/** 1 when a number is larger or smaller than anything real, 1e20 and 1e-20, in any SI unit; such
 *  numbers are slips, and their products would be no numbers any more. */
int dregs_is_beyond(double si);

#endif
