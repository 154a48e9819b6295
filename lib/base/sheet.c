/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheet.c: the header of a CSV file, the shape of its rows, and cells that all files know. */
#include "base/sheet.h"
#include "base/text.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct dregs_sheet {
    const dregs_sheet_form *form;
    const dregs_sheet_words *words;
    dregs_sheet_take *take;
    void *user;
    dregs_faults *faults;
    dregs_csv *csv;
    int place[DREGS_SHEET_COLUMNS];
    size_t width; /* cells in the header; 0 before it */
    size_t least; /* cells that a row must have */
    size_t rows;  /* handed on */
    int bad;
};

static const dregs_sheet_words plain = {
    .allowed = "",
    .nearest = {"; nearest: '", "'"},
    .twice = {"a second column ", ""},
    .missing = {"column ", " is missing from the header"},
    .both = "two columns exclude each other",
    .cells = {", the header has ", " (a cell with a comma stands in quotes)"},
    .empty = "the file is empty",
    .rowless = "no row follows the header",
};

#define SAY(sheet, status, ...)                                                                    \
    ((sheet)->bad = 1, (void)dregs_fault_add((sheet)->faults, status, __VA_ARGS__))

static size_t find(const dregs_sheet_form *form, const char *name)
{
    size_t c = 0;

    while (c < form->count && strcmp(name, form->column[c].name) != 0)
        c++;
    return c;
}

static void unknown_column(dregs_sheet *sheet, unsigned long line, const char *name)
{
    const char *names[DREGS_SHEET_COLUMNS], *near;
    char quoted[DREGS_QUOTED];
    size_t c;

    for (c = 0; c < sheet->form->count; c++)
        names[c] = sheet->form->column[c].name;
    near = dregs_nearest(name, names, sheet->form->count);
    SAY(sheet, sheet->form->unknown ? sheet->form->unknown : DREGS_BAD_DATA, line,
        "unknown column %s%s%s%s%s", dregs_quote(quoted, name),
        near ? sheet->words->nearest[0] : "", near ? near : "",
        near ? sheet->words->nearest[1] : "", sheet->words->allowed);
}

/* Columns that are missing, and how many cells a row must have. */
static void check_needs(dregs_sheet *sheet, unsigned long line)
{
    const dregs_sheet_form *form = sheet->form;
    const dregs_sheet_words *words = sheet->words;
    size_t c;

    sheet->least = form->even ? sheet->width : 1;
    for (c = 0; c < form->count; c++) {
        const dregs_column *column = &form->column[c];
        int other = column->instead ? sheet->place[find(form, column->instead)] : -1;

        if (sheet->place[c] >= 0 && other >= 0)
            SAY(sheet, DREGS_BAD_DATA, line, "%s", words->both);
        else if (sheet->place[c] < 0 && other < 0 && column->need != DREGS_OPTIONAL)
            SAY(sheet, DREGS_BAD_DATA, line, "%s'%s'%s", words->missing[0], column->name,
                words->missing[1]);
        if (column->need == DREGS_IN_ROWS && sheet->place[c] >= (int)sheet->least)
            sheet->least = (size_t)sheet->place[c] + 1;
    }
}

static dregs_status take_header(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    char quoted[DREGS_QUOTED];
    size_t i, c;

    sheet->width = row->count;
    for (c = 0; c < form->count; c++)
        sheet->place[c] = -1;
    for (i = 0; i < row->count; i++) {
        c = find(form, row->cell[i]);
        if (c == form->count)
            unknown_column(sheet, row->line, row->cell[i]);
        else if (sheet->place[c] >= 0)
            SAY(sheet, DREGS_BAD_DATA, row->line, "%s%s%s", sheet->words->twice[0],
                dregs_quote(quoted, row->cell[i]), sheet->words->twice[1]);
        else
            sheet->place[c] = (int)i;
    }
    check_needs(sheet, row->line);
    return sheet->bad ? DREGS_BAD_DATA : DREGS_OK;
}

static dregs_status take_row(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    dregs_sheet_row taken = {row->line, row->last,    row->count,
                             row->cell, sheet->place, sheet->width};

    if (row->count > sheet->width || row->count < sheet->least) {
        /* not fatal: the faults of the other rows are worth seeing too */
        SAY(sheet, DREGS_BAD_DATA, row->line, "%zu cells%s%zu%s", row->count,
            sheet->words->cells[0], sheet->width, sheet->words->cells[1]);
        return DREGS_OK;
    }
    if (form->rows_most && sheet->rows >= form->rows_most) {
        SAY(sheet, DREGS_BAD_DATA, row->line, "more than %zu rows", form->rows_most);
        return DREGS_BAD_DATA;
    }
    sheet->rows++;
    return sheet->take(sheet->user, &taken, sheet->faults);
}

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    dregs_sheet *sheet = user;
    dregs_status status;

    if (sheet->width == 0)
        return take_header(sheet, row);
    status = take_row(sheet, row);
    if (!status && sheet->form->stops_when_full && faults && faults->more)
        status = DREGS_BAD_DATA;
    return status;
}

dregs_sheet *dregs_sheet_new(const dregs_sheet_form *form, dregs_sheet_take *take_row_of,
                             void *user, dregs_faults *faults)
{
    dregs_sheet *sheet = calloc(1, sizeof *sheet);

    if (!sheet)
        return NULL;
    sheet->form = form;
    sheet->words = form->words ? form->words : &plain;
    sheet->take = take_row_of;
    sheet->user = user;
    sheet->faults = faults;
    sheet->csv = dregs_csv_new(take, sheet, faults);
    if (!sheet->csv) {
        free(sheet);
        return NULL;
    }
    return sheet;
}

void dregs_sheet_free(dregs_sheet *sheet)
{
    if (!sheet)
        return;
    dregs_csv_free(sheet->csv);
    free(sheet);
}

dregs_status dregs_sheet_feed(dregs_sheet *sheet, const char *bytes, size_t length)
{
    return dregs_csv_feed(sheet->csv, bytes, length);
}

dregs_status dregs_sheet_end(dregs_sheet *sheet)
{
    dregs_status status = dregs_csv_end(sheet->csv);

    if (status)
        return status;
    if (sheet->width == 0)
        SAY(sheet, DREGS_BAD_DATA, sheet->form->whole, "%s", sheet->words->empty);
    else if (sheet->rows == 0 && !sheet->bad && sheet->words->rowless)
        SAY(sheet, DREGS_BAD_DATA, sheet->form->whole, "%s", sheet->words->rowless);
    return sheet->bad ? DREGS_BAD_DATA : DREGS_OK;
}

dregs_status dregs_sheet_read(const dregs_sheet_form *form, const char *bytes, size_t length,
                              dregs_sheet_take *take_row_of, void *user, dregs_faults *faults)
{
    dregs_sheet *sheet = dregs_sheet_new(form, take_row_of, user, faults);
    dregs_status status = DREGS_NO_MEMORY;

    if (sheet) {
        status = length ? dregs_sheet_feed(sheet, bytes, length) : DREGS_OK;
        if (!status)
            status = dregs_sheet_end(sheet);
    }
    dregs_sheet_free(sheet);
    return status;
}

#define LARGEST  1e20
#define SMALLEST 1e-20

dregs_status dregs_spread_parse(const char *text, dregs_spread *spread)
{
    char number[48];
    size_t length = strlen(text);
    double read;
    int share = length > 0 && text[length - 1] == '%';

    if (length == 0)
        return DREGS_OK;
    if (share)
        length--;
    while (share && length > 0 && text[length - 1] == ' ')
        length--;
    if (length >= sizeof number)
        return DREGS_BAD_NUMBER;
    snprintf(number, sizeof number, "%.*s", (int)length, text);
    if (dregs_number_read(number, &read) || !(read >= 0) || !(read <= LARGEST))
        return DREGS_BAD_NUMBER;
    *spread = (dregs_spread){read, share};
    return DREGS_OK;
}

double dregs_spread_of(dregs_spread spread, double si, dregs_unit unit)
{
    return spread.is_share ? fabs(si - unit.offset) * spread.number / 100.0
                           : spread.number * unit.scale;
}

dregs_status dregs_spread_read(const char *text, double si, dregs_unit unit, double *sd)
{
    dregs_spread spread;
    dregs_status status = dregs_spread_parse(text, &spread);

    if (!status && *text)
        *sd = dregs_spread_of(spread, si, unit);
    return status;
}

int dregs_is_beyond(double si)
{
    return fabs(si) > LARGEST || (si != 0.0 && fabs(si) < SMALLEST);
}
