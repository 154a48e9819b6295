/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* currency.c: a file has one currency. Amounts in two of them cannot be added, and none is
 * converted: a rate is of a day, and a price of a year.
 */
#include "line/inside.h"

#include <string.h>

/* The word of a row's currency and its length; 0 for a row of something else. */
static size_t currency_of(const dregs_line *line, unsigned row, const char **word)
{
    const struct property *property = line->places[row].property;

    *word = line->rows[row].unit;
    if (!property || (property->type != VALUE_MONEY && property->type != VALUE_PRICE))
        return 0;
    return strcspn(*word, "/");
}

unsigned dregs_line_currency(const dregs_line *line, const char **word, size_t *length)
{
    unsigned row;

    for (row = 1; row <= line->row_count; row++) {
        *length = currency_of(line, row, word);
        if (*length)
            return row;
    }
    return 0;
}

dregs_status dregs_line_check_currency(const dregs_line *line, dregs_faults *faults)
{
    dregs_status status = DREGS_OK;
    const char *first = "", *word;
    unsigned row, stated = 0;
    char name[DREGS_QUOTED];
    size_t length;

    for (row = 1; row <= line->row_count; row++) {
        length = currency_of(line, row, &word);
        if (!length)
            continue;
        if (!stated) {
            first = word;
            stated = row;
        } else if (strcspn(first, "/") != length || strncmp(first, word, length) != 0)
            status = dregs_fault_add(
                faults, DREGS_BAD_DATA, dregs_line_at(line, row),
                "%.60s of %s: in %.*s, but line %lu states %.*s: a file has one currency, and none "
                "is converted",
                line->rows[row].property, dregs_quote(name, line->rows[row].item), (int)length,
                word, dregs_line_at(line, stated), (int)strcspn(first, "/"), first);
    }
    return status;
}
