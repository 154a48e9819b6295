/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* rows.c: the text of a line file to its rows, columns sorted out. */
#include "base/sheet.h"
#include "line/inside.h"

#include <string.h>

enum { ROWS_MOST = 20000 };

static const dregs_column columns[COLUMNS] = {
    {"item", DREGS_IN_ROWS, NULL},    {"property", DREGS_IN_ROWS, NULL},
    {"value", DREGS_IN_ROWS, NULL},   {"unit", DREGS_IN_HEADER, NULL},
    {"spread", DREGS_OPTIONAL, NULL}, {"note", DREGS_OPTIONAL, NULL},
    {"varies", DREGS_OPTIONAL, NULL}, {"with", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = "; the columns are item,property,value,unit,spread,note,varies,with",
    .nearest = {", nearest '", "'"},
    .twice = {"a second column ",
              "; the columns are item,property,value,unit,spread,note,varies,with"},
    .missing = {"column ", " is missing from the header; it must name item,property,value,unit"},
    .cells = {", the header has ", " (a cell with a comma stands in quotes)"},
    .empty = "the file is empty; a line file begins with the row item,property,value,unit",
    .rowless = "no row follows the header",
};

/* A row may leave out empty cells at its end, as a hand-written one does; item, property and value
 * must be there. */
static const dregs_sheet_form form = {.column = columns,
                                      .count = COLUMNS,
                                      .words = &words,
                                      .rows_most = ROWS_MOST,
                                      .numbers =
                                          1u << 2 | 1u << 4 | 1u << 6}; /* value, spread, varies */

struct rows_reader {
    dregs_line *line;
    unsigned room;
};

static int keep_cell(dregs_line *line, const dregs_sheet_row *row, int column, const char **into)
{
    const char *text = dregs_sheet_cell(row, column);

    *into = *text ? dregs_line_keep_text(line, text) : "";
    return *into != NULL;
}

static dregs_status take_row(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    struct rows_reader *r = user;
    dregs_line *line = r->line;
    dregs_row *kept;

    (void)faults;
    if (line->row_count == 0) { /* where the text is edited, the columns are wanted again */
        memcpy(line->place, row->place, sizeof line->place);
        line->width = row->width;
    }
    if (line->row_count + 1 >= r->room) {
        dregs_row *bigger;
        r->room = r->room ? 2 * r->room : 64;
        bigger = dregs_line_keep(line, r->room, sizeof *bigger);
        if (!bigger)
            return DREGS_NO_MEMORY;
        if (line->row_count)
            memcpy(bigger, line->rows, (line->row_count + 1) * sizeof *bigger);
        line->rows = bigger;
    }
    kept = &line->rows[line->row_count + 1];
    kept->line = row->line;
    kept->last = row->last;
    if (!keep_cell(line, row, 0, &kept->item) || !keep_cell(line, row, 1, &kept->property) ||
        !keep_cell(line, row, 2, &kept->value) || !keep_cell(line, row, 3, &kept->unit) ||
        !keep_cell(line, row, 4, &kept->spread) || !keep_cell(line, row, 5, &kept->note) ||
        !keep_cell(line, row, 6, &kept->varies) || !keep_cell(line, row, 7, &kept->with))
        return DREGS_NO_MEMORY;
    line->row_count++;
    return DREGS_OK;
}

dregs_status dregs_line_read_rows(dregs_line *line, const char *bytes, size_t length,
                                  dregs_faults *faults)
{
    struct rows_reader reader = {line, 0};

    return dregs_sheet_read(&form, bytes, length, take_row, &reader, &line->dialect, faults);
}
