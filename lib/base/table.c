/* SPDX-License-Identifier: GPL-3.0-or-later */
/* table.c: the header of a CSV file, the shape of its rows, and cells that all files know. */
#include "base/table.h"
#include "base/text.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct dregs_table {
    const dregs_table_form *form;
    const dregs_table_words *words;
    dregs_table_take *take;
    void *user;
    dregs_faults *faults;
    dregs_csv *csv;
    int place[DREGS_TABLE_COLUMNS];
    size_t width; /* cells in the header; 0 before it */
    size_t least; /* cells that a row must have */
    size_t rows;  /* handed on */
    int bad;
};

static const dregs_table_words plain = {
    .allowed = "",
    .nearest = {"; nearest: '", "'"},
    .twice = {"a second column ", ""},
    .missing = {"column ", " is missing from the header"},
    .both = "two columns exclude each other",
    .cells = {", the header has ", " (a cell with a comma stands in quotes)"},
    .empty = "the file is empty",
    .rowless = "no row follows the header",
};

#define SAY(table, status, ...)                                                                    \
    ((table)->bad = 1, (void)dregs_fault_add((table)->faults, status, __VA_ARGS__))

static size_t find(const dregs_table_form *form, const char *name)
{
    size_t c = 0;

    while (c < form->count && strcmp(name, form->column[c].name) != 0)
        c++;
    return c;
}

static void unknown_column(dregs_table *table, unsigned long line, const char *name)
{
    const char *names[DREGS_TABLE_COLUMNS], *near;
    char quoted[DREGS_QUOTED];
    size_t c;

    for (c = 0; c < table->form->count; c++)
        names[c] = table->form->column[c].name;
    near = dregs_nearest(name, names, table->form->count);
    SAY(table, table->form->unknown ? table->form->unknown : DREGS_BAD_DATA, line,
        "unknown column %s%s%s%s%s", dregs_quote(quoted, name),
        near ? table->words->nearest[0] : "", near ? near : "",
        near ? table->words->nearest[1] : "", table->words->allowed);
}

/* Columns that are missing, and how many cells a row must have. */
static void check_needs(dregs_table *table, unsigned long line)
{
    const dregs_table_form *form = table->form;
    const dregs_table_words *words = table->words;
    size_t c;

    table->least = form->even ? table->width : 1;
    for (c = 0; c < form->count; c++) {
        const dregs_column *column = &form->column[c];
        int other = column->instead ? table->place[find(form, column->instead)] : -1;

        if (table->place[c] >= 0 && other >= 0)
            SAY(table, DREGS_BAD_DATA, line, "%s", words->both);
        else if (table->place[c] < 0 && other < 0 && column->need != DREGS_OPTIONAL)
            SAY(table, DREGS_BAD_DATA, line, "%s'%s'%s", words->missing[0], column->name,
                words->missing[1]);
        if (column->need == DREGS_IN_ROWS && table->place[c] >= (int)table->least)
            table->least = (size_t)table->place[c] + 1;
    }
}

static dregs_status take_header(dregs_table *table, const dregs_csv_row *row)
{
    const dregs_table_form *form = table->form;
    char quoted[DREGS_QUOTED];
    size_t i, c;

    table->width = row->count;
    for (c = 0; c < form->count; c++)
        table->place[c] = -1;
    for (i = 0; i < row->count; i++) {
        c = find(form, row->cell[i]);
        if (c == form->count)
            unknown_column(table, row->line, row->cell[i]);
        else if (table->place[c] >= 0)
            SAY(table, DREGS_BAD_DATA, row->line, "%s%s%s", table->words->twice[0],
                dregs_quote(quoted, row->cell[i]), table->words->twice[1]);
        else
            table->place[c] = (int)i;
    }
    check_needs(table, row->line);
    return table->bad ? DREGS_BAD_DATA : DREGS_OK;
}

static dregs_status take_row(dregs_table *table, const dregs_csv_row *row)
{
    const dregs_table_form *form = table->form;
    dregs_table_row taken = {row->line, row->last,    row->count,
                             row->cell, table->place, table->width};

    if (row->count > table->width || row->count < table->least) {
        /* not fatal: the faults of the other rows are worth seeing too */
        SAY(table, DREGS_BAD_DATA, row->line, "%zu cells%s%zu%s", row->count,
            table->words->cells[0], table->width, table->words->cells[1]);
        return DREGS_OK;
    }
    if (form->rows_most && table->rows >= form->rows_most) {
        SAY(table, DREGS_BAD_DATA, row->line, "more than %zu rows", form->rows_most);
        return DREGS_BAD_DATA;
    }
    table->rows++;
    return table->take(table->user, &taken, table->faults);
}

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    dregs_table *table = user;
    dregs_status status;

    if (table->width == 0)
        return take_header(table, row);
    status = take_row(table, row);
    if (!status && table->form->stops_when_full && faults && faults->more)
        status = DREGS_BAD_DATA;
    return status;
}

dregs_table *dregs_table_new(const dregs_table_form *form, dregs_table_take *take_row_of,
                             void *user, dregs_faults *faults)
{
    dregs_table *table = calloc(1, sizeof *table);

    if (!table)
        return NULL;
    table->form = form;
    table->words = form->words ? form->words : &plain;
    table->take = take_row_of;
    table->user = user;
    table->faults = faults;
    table->csv = dregs_csv_new(take, table, faults);
    if (!table->csv) {
        free(table);
        return NULL;
    }
    return table;
}

void dregs_table_free(dregs_table *table)
{
    if (!table)
        return;
    dregs_csv_free(table->csv);
    free(table);
}

dregs_status dregs_table_feed(dregs_table *table, const char *bytes, size_t length)
{
    return dregs_csv_feed(table->csv, bytes, length);
}

dregs_status dregs_table_end(dregs_table *table)
{
    dregs_status status = dregs_csv_end(table->csv);

    if (status)
        return status;
    if (table->width == 0)
        SAY(table, DREGS_BAD_DATA, table->form->whole, "%s", table->words->empty);
    else if (table->rows == 0 && !table->bad && table->words->rowless)
        SAY(table, DREGS_BAD_DATA, table->form->whole, "%s", table->words->rowless);
    return table->bad ? DREGS_BAD_DATA : DREGS_OK;
}

dregs_status dregs_table_read(const dregs_table_form *form, const char *bytes, size_t length,
                              dregs_table_take *take_row_of, void *user, dregs_faults *faults)
{
    dregs_table *table = dregs_table_new(form, take_row_of, user, faults);
    dregs_status status = DREGS_NO_MEMORY;

    if (table) {
        status = length ? dregs_table_feed(table, bytes, length) : DREGS_OK;
        if (!status)
            status = dregs_table_end(table);
    }
    dregs_table_free(table);
    return status;
}

#define LARGEST  1e20
#define SMALLEST 1e-20

dregs_status dregs_spread_read(const char *text, double si, dregs_unit unit, double *sd)
{
    char number[48];
    size_t length = strlen(text);
    double spread;
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
    if (dregs_number_read(number, &spread) || !(spread >= 0) || !(spread <= LARGEST))
        return DREGS_BAD_NUMBER;
    *sd = share ? fabs(si - unit.offset) * spread / 100.0 : spread * unit.scale;
    return DREGS_OK;
}

int dregs_is_beyond(double si)
{
    return fabs(si) > LARGEST || (si != 0.0 && fabs(si) < SMALLEST);
}
