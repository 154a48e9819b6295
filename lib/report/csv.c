/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* csv.c: the one table of a report that is for CSV (RFC 4180, lines ending in a line feed), or what
 * a spreadsheet takes for it where commas are decimal marks. */
#include "base/text.h"
#include "dregs/number.h"
#include "report/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void put_bytes(void *user, const char *bytes, size_t length)
{
    dregs_report_out_bytes(user, bytes, length);
}

/* A text as a cell, guarded so that no spreadsheet takes it for a formula. */
void dregs_report_write_csv_word(struct out *out, const char *word)
{
    dregs_csv_cell(out->separator, *word && strchr("=+-@", *word) ? "'" : "", word, put_bytes, out);
}

void dregs_report_write_csv_number(struct out *out, const char *number)
{
    size_t head = strcspn(number, ".");

    dregs_report_out_bytes(out, number, head);
    if (!number[head])
        return;
    dregs_report_out_bytes(out, &out->decimal, 1);
    dregs_report_out_text(out, number + head + 1);
}

void dregs_report_write_csv_next(struct out *out)
{
    dregs_report_out_bytes(out, &out->separator, 1);
}

void dregs_report_write_csv_cell(struct out *out, const struct datum *cell)
{
    char number[DREGS_NUMBER_TEXT];

    switch (cell->kind) {
    case DATUM_WORD:
        dregs_report_write_csv_word(out, cell->word);
        break;
    case DATUM_NUMBER:
        if (isfinite(cell->number.value))
            dregs_report_write_csv_number(out, dregs_number_exact(number, cell->number.value));
        break;
    case DATUM_COUNT:
        snprintf(number, sizeof number, "%llu", (unsigned long long)cell->count);
        dregs_report_out_text(out, number);
        break;
    case DATUM_FLAG:
        dregs_report_out_text(out, cell->count ? "1" : "0");
        break;
    default:
        break;
    }
}

void dregs_report_write_csv_end(struct out *out, int is_head)
{
    if (out->settings) {
        dregs_report_write_csv_next(out);
        dregs_report_write_csv_word(out, is_head ? "settings" : out->settings);
    }
    dregs_report_out_text(out, "\n");
}

static void write_row(void *user, dregs_table *table)
{
    const struct datum *cell = dregs_report_table_last_row(table);
    struct out *out = user;
    size_t i;

    for (i = 0; i < table->columns; i++) {
        if (i)
            dregs_report_write_csv_next(out);
        dregs_report_write_csv_cell(out, &cell[i]);
    }
    dregs_report_write_csv_end(out, 0);
}

dregs_table *dregs_report_csv_table(const dregs_report *report)
{
    dregs_table **tables = report->tables.item;
    size_t i;

    for (i = 0; i < report->tables.count; i++)
        if (tables[i]->where & DREGS_IN_CSV)
            return tables[i];
    return NULL;
}

dregs_status dregs_report_write_csv(dregs_report *report, struct out *out)
{
    dregs_table *table = dregs_report_csv_table(report);
    size_t i;

    if (report->is_form)
        return dregs_report_write_form(report, out);
    if (!table)
        return DREGS_DOMAIN;
    for (i = 0; i < table->columns; i++) {
        if (i)
            dregs_report_write_csv_next(out);
        dregs_report_out_text(out, table->column[i].key);
    }
    dregs_report_write_csv_end(out, 1);
    return dregs_report_table_rows(table, write_row, out);
}
