/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sheet.c: the header of a CSV file, the shape of its rows, and cells that all files know. */
#include "base/sheet.h"
#include "base/decimal.h"
#include "base/text.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct dregs_sheet {
    const dregs_sheet_form *form;
    const dregs_sheet_words *words;
    dregs_sheet_take *take;
    void *user;
    dregs_faults *faults;
    dregs_csv *csv;
    int place[DREGS_SHEET_COLUMNS];
    size_t width;   /* cells in the header; 0 before it */
    size_t least;   /* cells that a row must have */
    size_t rows;    /* handed on */
    size_t unnamed; /* cells of the header that are empty */
    size_t first_unnamed;
    struct {
        size_t cell;
        int unit;                  /* one may stand behind the number */
    } number[DREGS_SHEET_COLUMNS]; /* the cells of a row that hold numbers, of another dialect only
                                    */
    size_t numbers;
    struct dregs_decimal decimal;
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

/* As `find`, or a column that differs in capitals alone. */
static size_t find_any_case(const dregs_sheet_form *form, const char *name)
{
    size_t c = find(form, name);

    if (c == form->count)
        for (c = 0; c < form->count && strcasecmp(name, form->column[c].name) != 0;)
            c++;
    return c;
}

/* Says so; sets the bit of the column that was meant, as far as can be seen. */
static void unknown_column(dregs_sheet *sheet, unsigned long line, const char *name,
                           unsigned *meant)
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
    for (c = 0; near && c < sheet->form->count; c++)
        *meant |= strcmp(near, names[c]) == 0 ? 1u << c : 0;
}

/* Columns that are missing, but for those that the header means, and how many cells a row must
 * have. */
static void check_needs(dregs_sheet *sheet, unsigned long line, unsigned meant)
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
        else if (sheet->place[c] < 0 && other < 0 && column->need != DREGS_OPTIONAL &&
                 !(meant & 1u << c))
            SAY(sheet, DREGS_BAD_DATA, line, "%s'%s'%s", words->missing[0], column->name,
                words->missing[1]);
        if (column->need == DREGS_IN_ROWS && sheet->place[c] >= (int)sheet->least)
            sheet->least = (size_t)sheet->place[c] + 1;
    }
}

/* Nothing in the header is a column: one thing is wrong with it, not ten. */
static int knows_none(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    const char *names[DREGS_SHEET_COLUMNS];
    char words[DREGS_FAULT_TEXT / 2] = "", quoted[DREGS_QUOTED];
    size_t i, c, used = 0;

    for (c = 0; c < form->count; c++)
        names[c] = form->column[c].name;
    for (i = 0; i < row->count; i++)
        if (find_any_case(form, row->cell[i]) < form->count ||
            dregs_nearest(row->cell[i], names, form->count))
            return 0;
    for (c = 0; c < form->count; c++)
        if (form->column[c].need != DREGS_OPTIONAL && used < sizeof words)
            used += (size_t)snprintf(words + used, sizeof words - used, "%s%s", used ? "," : "",
                                     names[c]);
    SAY(sheet, form->unknown ? form->unknown : DREGS_BAD_DATA, row->line,
        "no column of this header is known, the first is %s; a header must name %s",
        dregs_quote(quoted, row->cell[0]), words);
    return 1;
}

/* Where numbers stand in a row, in a file whose decimal mark is not settled by its separator. */
static void find_numbers(dregs_sheet *sheet)
{
    const dregs_sheet_form *form = sheet->form;
    size_t c;

    for (c = 0; c < form->count && dregs_csv_separator(sheet->csv) != ','; c++)
        if (sheet->place[c] >= 0 && (form->numbers | form->quantities) & 1u << c) {
            sheet->number[sheet->numbers].cell = (size_t)sheet->place[c];
            sheet->number[sheet->numbers++].unit = (form->quantities & 1u << c) != 0;
        }
}

static dregs_status take_header(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    char quoted[DREGS_QUOTED];
    unsigned meant = 0;
    size_t i, c;

    sheet->width = row->count;
    for (c = 0; c < form->count; c++)
        sheet->place[c] = -1;
    if (knows_none(sheet, row))
        return DREGS_BAD_DATA;
    for (i = 0; i < row->count; i++) {
        c = find_any_case(form, row->cell[i]);
        if (!*row->cell[i]) {
            if (!sheet->unnamed++)
                sheet->first_unnamed = i;
        } else if (c == form->count)
            unknown_column(sheet, row->line, row->cell[i], &meant);
        else if (sheet->place[c] >= 0)
            SAY(sheet, DREGS_BAD_DATA, row->line, "%s%s%s", sheet->words->twice[0],
                dregs_quote(quoted, row->cell[i]), sheet->words->twice[1]);
        else
            sheet->place[c] = (int)i;
    }
    check_needs(sheet, row->line, meant);
    find_numbers(sheet);
    return sheet->bad ? DREGS_BAD_DATA : DREGS_OK;
}

/* The cells of numbers, each of which gets a point; 0 where one is refused. */
static int take_numbers(dregs_sheet *sheet, const dregs_csv_row *row)
{
    int good = 1;
    size_t i;

    for (i = 0; i < sheet->numbers; i++) {
        size_t cell = sheet->number[i].cell;
        if (cell < row->count &&
            dregs_decimal_take(&sheet->decimal, (char *)row->cell[cell], sheet->number[i].unit,
                               row->line, sheet->faults))
            good = 0;
    }
    sheet->bad |= !good;
    return good;
}

dregs_dialect dregs_sheet_dialect(const dregs_sheet *sheet)
{
    dregs_dialect dialect = {dregs_csv_separator(sheet->csv), '.', 0};

    if (dialect.separator != ',') {
        dialect.decimal = sheet->decimal.mark;
        dialect.line = sheet->decimal.line;
    }
    return dialect;
}

/* ---- rows ---- */

static int is_whole(const char *cell, int sign)
{
    cell += sign && (*cell == '-' || *cell == '+' || *cell == '<' || *cell == '>');
    return *cell && !cell[strspn(cell, "0123456789")];
}

/* A row with more cells than the header. Where one of its numbers fell in two at a decimal comma,
 * that is said. */
static void too_many(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    const char *words = sheet->words->cells[1];
    char shown[80] = "";
    size_t c;

    for (c = 0; c < form->count && row->count > sheet->width && !*shown; c++) {
        size_t i = (size_t)sheet->place[c];
        if (sheet->place[c] < 0 || i + 1 >= row->count ||
            !((form->numbers | form->quantities) & 1u << c) || !is_whole(row->cell[i], 1) ||
            !is_whole(row->cell[i + 1], 0))
            continue;
        snprintf(shown, sizeof shown, ": a decimal comma? write %.20s.%.20s", row->cell[i],
                 row->cell[i + 1]);
    }
    if (dregs_csv_separator(sheet->csv) != ',') {
        SAY(sheet, DREGS_BAD_DATA, row->line, "%zu cells%s%zu (the separator is %s)", row->count,
            sheet->words->cells[0], sheet->width,
            dregs_csv_separator(sheet->csv) == ';' ? "';'" : "a tab");
        return;
    }
    SAY(sheet, DREGS_BAD_DATA, row->line, "%zu cells%s%zu%s%s", row->count, sheet->words->cells[0],
        sheet->width, shown, words);
}

/* Below a column without a name nothing stands. */
static int check_unnamed(dregs_sheet *sheet, const dregs_csv_row *row)
{
    char quoted[DREGS_QUOTED];
    size_t i, c;

    for (i = sheet->first_unnamed; i < row->count; i++) {
        for (c = 0; c < sheet->form->count && sheet->place[c] != (int)i;)
            c++;
        if (c < sheet->form->count || !*row->cell[i])
            continue;
        SAY(sheet, DREGS_BAD_DATA, row->line,
            "%s stands in column %zu, which has no name in the header",
            dregs_quote(quoted, row->cell[i]), i + 1);
        return 0;
    }
    return 1;
}

static dregs_status take_row(dregs_sheet *sheet, const dregs_csv_row *row)
{
    const dregs_sheet_form *form = sheet->form;
    dregs_sheet_row taken = {row->line, row->last,    row->count,
                             row->cell, sheet->place, sheet->width};

    if (row->count > sheet->width || row->count < sheet->least) {
        /* not fatal: the faults of the other rows are worth seeing too */
        too_many(sheet, row);
        return DREGS_OK;
    }
    if ((sheet->unnamed && !check_unnamed(sheet, row)) ||
        (sheet->numbers && !take_numbers(sheet, row)))
        return DREGS_OK;
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
    dregs_csv_tolerate(sheet->csv);
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
    if (dregs_decimal_end(&sheet->decimal, sheet->faults))
        sheet->bad = 1;
    return sheet->bad ? DREGS_BAD_DATA : DREGS_OK;
}

dregs_status dregs_sheet_read(const dregs_sheet_form *form, const char *bytes, size_t length,
                              dregs_sheet_take *take_row_of, void *user, dregs_dialect *dialect,
                              dregs_faults *faults)
{
    dregs_sheet *sheet = dregs_sheet_new(form, take_row_of, user, faults);
    dregs_status status = DREGS_NO_MEMORY;

    if (sheet) {
        status = length ? dregs_sheet_feed(sheet, bytes, length) : DREGS_OK;
        if (!status)
            status = dregs_sheet_end(sheet);
        if (dialect)
            *dialect = dregs_sheet_dialect(sheet);
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
