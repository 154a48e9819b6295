/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows.c: the text of a line file to its rows, columns sorted out. */
#include "dregs/csv.h"
#include "line/line.h"

#include <string.h>

enum { ROWS_MOST = 20000 };

static const char *const column_names[COLUMNS] = {"item", "property", "value",
                                                  "unit", "spread",   "note"};
/* may the header leave the column out? */
static const int column_optional[COLUMNS] = {0, 0, 0, 0, 1, 1};

struct rows_reader {
    dregs_line *line;
    unsigned room;
};

static dregs_status read_header(struct rows_reader *r, const dregs_csv_row *row,
                                dregs_faults *faults)
{
    char quoted[DREGS_QUOTED];
    const char *near;
    dregs_status status = DREGS_OK;
    size_t i;
    int c;

    for (c = 0; c < COLUMNS; c++)
        r->line->place[c] = -1;
    for (i = 0; i < row->count; i++) {
        for (c = 0; c < COLUMNS && strcmp(row->cell[i], column_names[c]) != 0; c++)
            ;
        if (c < COLUMNS && r->line->place[c] < 0) {
            r->line->place[c] = (int)i;
            continue;
        }
        near = c < COLUMNS ? NULL : dregs_nearest(row->cell[i], column_names, COLUMNS);
        status = dregs_fault_add(
            faults, DREGS_BAD_DATA, row->line,
            "%s column %s%s%s%s; the columns are item,property,value,unit,spread,note",
            c < COLUMNS ? "a second" : "unknown", dregs_quote(quoted, row->cell[i]),
            near ? ", nearest '" : "", near ? near : "", near ? "'" : "");
    }
    for (c = 0; c < COLUMNS; c++)
        if (r->line->place[c] < 0 && !column_optional[c])
            status = dregs_fault_add(faults, DREGS_BAD_DATA, row->line,
                                     "column '%s' is missing from the header; it must name "
                                     "item,property,value,unit",
                                     column_names[c]);
    r->line->width = row->count;
    return status;
}

static int keep_cell(dregs_line *line, const dregs_csv_row *row, int column, const char **into)
{
    *into = "";
    if (line->place[column] < 0 || (size_t)line->place[column] >= row->count ||
        !row->cell[line->place[column]][0])
        return 1;
    *into = dregs_line_keep_text(line, row->cell[line->place[column]]);
    return *into != NULL;
}

/* A row may leave out empty cells at its end, as a hand-written one does; item, property and value
 * must be there. */
static size_t least_cells(const dregs_line *line)
{
    int c, last = 0;

    for (c = 0; c < 3; c++)
        if (line->place[c] > last)
            last = line->place[c];
    return (size_t)last + 1;
}

static dregs_status take_row(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    struct rows_reader *r = user;
    dregs_line *line = r->line;
    dregs_row *kept;

    if (r->line->width == 0)
        return read_header(r, row, faults);
    if (row->count > line->width || row->count < least_cells(line)) {
        /* not fatal: the faults of the other rows are worth seeing too */
        dregs_fault_add(faults, DREGS_BAD_DATA, row->line,
                        "%lu cells, the header has %lu (a cell with a comma stands in quotes)",
                        (unsigned long)row->count, (unsigned long)line->width);
        return DREGS_OK;
    }
    if (line->row_count >= ROWS_MOST)
        return dregs_fault_add(faults, DREGS_BAD_DATA, row->line, "more than %d rows", ROWS_MOST);
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
        !keep_cell(line, row, 4, &kept->spread) || !keep_cell(line, row, 5, &kept->note))
        return DREGS_NO_MEMORY;
    line->row_count++;
    return DREGS_OK;
}

dregs_status dregs_line_read_rows(dregs_line *line, const char *bytes, size_t length,
                                  dregs_faults *faults)
{
    struct rows_reader reader = {line, 0};
    unsigned before = faults->count;
    dregs_csv *csv = dregs_csv_new(take_row, &reader, faults);
    dregs_status status;

    if (!csv)
        return DREGS_NO_MEMORY;
    status = dregs_csv_feed(csv, bytes, length);
    if (!status)
        status = dregs_csv_end(csv);
    dregs_csv_free(csv);
    if (status)
        return status;
    if (line->width == 0)
        return dregs_fault_add(faults, DREGS_BAD_DATA, 0,
                               "the file is empty; a line file begins with the row "
                               "item,property,value,unit");
    if (line->row_count == 0 && faults->count == before)
        return dregs_fault_add(faults, DREGS_BAD_DATA, 0, "no row follows the header");
    return faults->count > before ? DREGS_BAD_DATA : DREGS_OK;
}
