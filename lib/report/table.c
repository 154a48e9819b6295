/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* table.c: tables as they are built, row by row, and as their rows pass a writer. */
#include "report/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Programs find a table by its key: in each of their formats it is there once. */
static int key_is_taken(const dregs_report *report, const char *key, int where)
{
    dregs_table *const *table = report->tables.item;
    size_t i;

    for (i = 0; i < report->tables.count; i++)
        if ((table[i]->where & where & (DREGS_IN_CSV | DREGS_IN_JSON)) &&
            strcmp(table[i]->key, key) == 0)
            return 1;
    return 0;
}

static dregs_table *new_table(dregs_report *report, const char *key, int where)
{
    dregs_table **at = dregs_report_more(report, &report->tables, sizeof *at);
    struct block *block;
    dregs_table *table;

    if (!at)
        return NULL;
    table = *at = dregs_pool_take(&report->pool, 1, sizeof *table);
    if (!table) {
        report->tables.count--;
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return NULL;
    }
    table->report = report;
    table->key = dregs_report_keep(report, key);
    table->where = where;
    block =
        where & DREGS_IN_TEXT ? dregs_report_more(report, &report->blocks, sizeof *block) : NULL;
    if (block) {
        block->kind = BLOCK_TABLE;
        block->table = table;
    }
    return report->status ? NULL : table;
}

dregs_table *dregs_report_table(dregs_report *report, const char *key, int where)
{
    if (!report->status && (!dregs_report_is_key(key) || key_is_taken(report, key, where)))
        dregs_report_fail(report, DREGS_DOMAIN);
    return new_table(report, key, where);
}

void dregs_table_indent(dregs_table *table, int indent)
{
    if (table)
        table->indent = indent;
}

void dregs_table_headless(dregs_table *table)
{
    if (table)
        table->headless = 1;
}

/* Doubles an array when it is full. */
static int grow(dregs_table *table, void **array, size_t count, size_t *room, size_t size)
{
    size_t more = *room ? 2 * *room : 32;
    void *larger;

    if (count < *room)
        return 1;
    larger = realloc(*array, more * size);
    if (!larger) {
        dregs_report_fail(table->report, DREGS_NO_MEMORY);
        return 0;
    }
    *array = larger;
    *room = more;
    return 1;
}

static int has_column(const dregs_table *table, const char *key)
{
    size_t i;

    for (i = 0; i < table->columns; i++)
        if (strcmp(table->column[i].key, key) == 0)
            return 1;
    return 0;
}

void dregs_table_column(dregs_table *table, dregs_column_kind kind, const char *key,
                        const char *head, const char *unit, int width)
{
    struct column *column;
    void *array;

    if (!table || table->report->status)
        return;
    if (!dregs_report_is_key(key) || has_column(table, key) || table->cells) {
        dregs_report_fail(table->report, DREGS_DOMAIN);
        return;
    }
    array = table->column;
    if (!grow(table, &array, table->columns, &table->column_room, sizeof *column))
        return;
    table->column = array;
    column = &table->column[table->columns++];
    column->kind = kind;
    column->key = dregs_report_keep(table->report, key);
    column->head = head ? dregs_report_keep(table->report, head) : NULL;
    column->unit = dregs_report_keep(table->report, dregs_report_unit(table->report, unit));
    column->conversion = dregs_report_conversion(table->report, unit);
    column->width = width;
    column->gap = 0;
    column->is_index = 0;
}

void dregs_table_measured(dregs_table *table, const char *unit)
{
    if (table && table->columns)
        table->column[table->columns - 1].conversion = dregs_report_conversion(table->report, unit);
}

void dregs_table_index(dregs_table *table)
{
    if (table && table->columns)
        table->column[table->columns - 1].is_index = 1;
}

void dregs_table_gap(dregs_table *table, int blanks)
{
    if (table && table->columns)
        table->column[table->columns - 1].gap = blanks;
}

/* Does the column take a cell of this kind? */
static int takes(dregs_column_kind column, dregs_column_kind kind)
{
    return column == kind || (column == DREGS_COLUMN_VALUE &&
                              (kind == DREGS_COLUMN_WORD || kind == DREGS_COLUMN_NUMBER));
}

/* The next cell of the row in hand; NULL when there is none of this kind. An empty cell fits
 * everywhere. */
static struct datum *next_cell(dregs_table *table, dregs_column_kind kind)
{
    struct datum *cell;
    void *array;

    if (!table || table->report->status)
        return NULL;
    if (table->given == table->columns || !takes(table->column[table->given].kind, kind)) {
        dregs_report_fail(table->report, DREGS_DOMAIN);
        return NULL;
    }
    array = table->cell;
    if (!grow(table, &array, table->cells, &table->cell_room, sizeof *cell))
        return NULL;
    table->cell = array;
    cell = &table->cell[table->cells++];
    memset(cell, 0, sizeof *cell);
    table->given++;
    return cell;
}

/* More room for the words of a row that is not kept; its cells point into it. */
static int grow_scratch(dregs_table *table, size_t length)
{
    size_t room = 2 * (table->scratch_used + length), i;
    char *larger = malloc(room);

    if (!larger)
        return 0;
    if (table->scratch_used)
        memcpy(larger, table->scratch, table->scratch_used);
    for (i = 0; i < table->cells; i++)
        if (table->cell[i].word)
            table->cell[i].word = larger + (table->cell[i].word - table->scratch);
    free(table->scratch);
    table->scratch = larger;
    table->scratch_room = room;
    return 1;
}

/* A copy of a word that lasts as long as its row: with the report where rows are kept. */
static const char *keep_word(dregs_table *table, const char *word)
{
    size_t length = strlen(word) + 1;
    char *copy;

    if (!table->taker)
        return dregs_report_keep(table->report, word);
    if (table->scratch_used + length > table->scratch_room && !grow_scratch(table, length)) {
        dregs_report_fail(table->report, DREGS_NO_MEMORY);
        return NULL;
    }
    copy = memcpy(table->scratch + table->scratch_used, word, length);
    table->scratch_used += length;
    dregs_report_tame(copy);
    return copy;
}

void dregs_table_word(dregs_table *table, const char *word)
{
    int known = table && table->given < table->columns;
    dregs_column_kind own = known ? table->column[table->given].kind : DREGS_COLUMN_WORD;
    struct datum *cell = next_cell(table, word ? DREGS_COLUMN_WORD : own); /* no word fits all */

    if (!cell || !word)
        return;
    cell->kind = DATUM_WORD;
    cell->word = keep_word(table, word);
}

/* A number for the column of the cell that was taken last, as it is shown there. */
static double in_column(const dregs_table *table, double value)
{
    return dregs_report_converted(&table->column[table->given - 1].conversion, value);
}

void dregs_table_number(dregs_table *table, double value)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);

    if (!cell)
        return;
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_of(in_column(table, value), "");
}

void dregs_table_in(dregs_table *table, double value, const char *unit)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);

    if (!cell)
        return;
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_of(dregs_report_value(table->report, value, unit), "");
}

void dregs_table_within_in(dregs_table *table, double value, double low, double high,
                           const char *unit)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);

    if (!cell)
        return;
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_within(dregs_report_value(table->report, value, unit),
                                         dregs_report_value(table->report, low, unit),
                                         dregs_report_value(table->report, high, unit), "");
}

void dregs_table_unit(dregs_table *table, const char *unit)
{
    dregs_table_word(table, table ? dregs_report_unit(table->report, unit) : unit);
}

void dregs_table_digits(dregs_table *table, double value, int digits)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);
    char shown[DREGS_NUMBER_TEXT];

    if (!cell)
        return;
    value = in_column(table, value);
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_of(value, "");
    cell->word = keep_word(table, dregs_number_plain(shown, value, digits));
}

void dregs_table_count(dregs_table *table, uint64_t count)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_COUNT);

    if (!cell)
        return;
    cell->kind = DATUM_COUNT;
    cell->count = count;
}

void dregs_table_flag(dregs_table *table, int flag)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_FLAG);

    if (!cell)
        return;
    cell->kind = DATUM_FLAG;
    cell->count = flag != 0;
}

void dregs_table_shown(dregs_table *table, double value, const char *shown)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);

    if (!cell)
        return;
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_of(in_column(table, value), "");
    cell->word = keep_word(table, shown);
}

void dregs_table_within(dregs_table *table, double value, double low, double high)
{
    struct datum *cell = next_cell(table, DREGS_COLUMN_NUMBER);

    if (!cell)
        return;
    cell->kind = DATUM_NUMBER;
    cell->number = dregs_quantity_within(in_column(table, value), in_column(table, low),
                                         in_column(table, high), "");
}

/* Cells that were not given, up to the end of the row. */
static void fill_up(dregs_table *table)
{
    while (table->given < table->columns && !table->report->status)
        (void)next_cell(table, table->column[table->given].kind);
}

void dregs_table_end_row(dregs_table *table)
{
    if (!table || table->report->status)
        return;
    fill_up(table);
    table->given = 0;
    if (!table->taker || table->report->status)
        return;
    table->taker(table->taker_user, table);
    table->cells = 0;
    table->scratch_used = 0;
}

void dregs_table_filled_by(dregs_table *table, dregs_table_fill *fill, void *user)
{
    if (!table)
        return;
    table->fill = fill;
    table->fill_user = user;
}

void *dregs_report_lasting(dregs_report *report, const void *bytes, size_t size)
{
    void *copy = report->status ? NULL : dregs_pool_take(&report->pool, 1, size);

    if (!copy) {
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return NULL;
    }
    return memcpy(copy, bytes, size);
}

dregs_status dregs_report_table_rows(dregs_table *table, row_taker *taker, void *user)
{
    dregs_status status;
    size_t all = table->cells;

    if (!table->fill) {
        if (table->given) /* a row that was begun and not ended */
            return DREGS_DOMAIN;
        for (table->cells = 0; table->cells < all;) {
            table->cells += table->columns;
            taker(user, table);
        }
        return DREGS_OK;
    }
    table->cells = table->given = table->scratch_used = 0; /* a fill may have failed in a row */
    table->taker = taker;
    table->taker_user = user;
    status = table->fill(table->fill_user, table);
    table->taker = NULL;
    return status ? status : table->report->status;
}

const struct datum *dregs_report_table_last_row(const dregs_table *table)
{
    return table->cell + table->cells - table->columns;
}

const char *dregs_report_cell_words(const struct datum *cell, char into[DREGS_NUMBER_TEXT])
{
    switch (cell->kind) {
    case DATUM_WORD:
        return cell->word;
    case DATUM_NUMBER:
        if (cell->word)
            return cell->word;
        return isnan(cell->number.value) ? "-" : dregs_number_plain(into, cell->number.value, 4);
    case DATUM_COUNT:
        snprintf(into, DREGS_NUMBER_TEXT, "%llu", (unsigned long long)cell->count);
        return into;
    case DATUM_FLAG:
        return cell->count ? "yes" : "no";
    default:
        return "";
    }
}
