/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* doubt.c: the columns beside the spread: how much a value `varies` from load to load, and `with`
 * which other value its doubt goes up and down.
 */
#include "base/sheet.h"
#include "line/read.h"

#include <string.h>

static int is_quantity(const dregs_line *line, unsigned row)
{
    return line->places[row].property && line->places[row].property->type != VALUE_WORD;
}

dregs_status dregs_line_varies(const dregs_line *line, unsigned row, double *sd)
{
    char message[DREGS_UNIT_MESSAGE];
    dregs_value value;
    double read = 0;
    dregs_unit unit;

    if (dregs_line_value(line, row, &value))
        return DREGS_UNKNOWN;
    if (!dregs_line_read_value_unit(line->places[row].property, line->rows[row].unit, &unit,
                                    message) ||
        dregs_spread_read(line->rows[row].varies, value.si, unit, &read))
        return DREGS_UNKNOWN;
    *sd = read;
    return DREGS_OK;
}

/* The row of `item.property`. A name may hold dots, so each is tried as the one between. */
static unsigned named(const dregs_line *line, const char *text)
{
    char item[DREGS_QUOTED];
    const char *dot;
    unsigned row = 0;

    for (dot = strchr(text, '.'); dot && !row; dot = strchr(dot + 1, '.')) {
        size_t length = (size_t)(dot - text);
        if (length >= sizeof item)
            break;
        memcpy(item, text, length);
        item[length] = '\0';
        row = dregs_line_find(line, item, dot + 1);
    }
    return row;
}

unsigned dregs_line_shares_draw(const dregs_line *line, unsigned row)
{
    if (row < 1 || row > line->row_count || !*line->rows[row].with)
        return 0;
    return named(line, line->rows[row].with);
}

static double spread_of(const dregs_line *line, unsigned row)
{
    dregs_value value = {.sd = 0};

    return dregs_line_value(line, row, &value) ? 0 : value.sd;
}

/* Does the way from row to row, each `with` the next, come back? */
static int circles(const dregs_line *line, unsigned row)
{
    unsigned next = row, steps = 0;

    while (next && steps++ <= line->row_count)
        next = dregs_line_shares_draw(line, next);
    return next != 0;
}

static void check_with(struct reader *r, unsigned row)
{
    const dregs_row *cells = &r->line->rows[row];
    unsigned other = dregs_line_shares_draw(r->line, row);
    char quoted[DREGS_QUOTED];

    dregs_quote(quoted, cells->with);
    if (!(spread_of(r->line, row) > 0))
        SAY(r, row, "with %s: this row has no spread of its own that could be drawn", quoted);
    else if (!other)
        SAY(r, row,
            "with %s: no row states such a value; it is written item.property, as in "
            "'bath.drag-out'",
            quoted);
    else if (circles(r->line, row))
        SAY(r, row, "with %s goes round in a circle: one row of it must be drawn by itself",
            quoted);
    else if (!(spread_of(r->line, other) > 0))
        SAY(r, row, "with %s: that row (line %lu) has no spread", quoted,
            dregs_line_at(r->line, other));
}

static void check_varies(struct reader *r, unsigned row)
{
    char quoted[DREGS_QUOTED];
    double sd;

    if (dregs_line_varies(r->line, row, &sd))
        SAY(r, row,
            "varies %s is not a standard deviation: a number >= 0 in the row's unit, or a share "
            "of the value such as 10%%",
            dregs_quote(quoted, r->line->rows[row].varies));
}

dregs_status dregs_line_check_doubt(const dregs_line *line, dregs_faults *faults)
{
    struct reader r = {(dregs_line *)line, faults, 0};
    unsigned row;

    for (row = 1; row <= line->row_count && !dregs_line_reader_full(&r); row++) {
        const dregs_row *cells = &line->rows[row];
        char quoted[DREGS_QUOTED];
        if (!*cells->varies && !*cells->with)
            continue;
        if (!is_quantity(line, row)) {
            SAY(&r, row, "%.60s is a word and takes no %s, %s was read", cells->property,
                *cells->varies ? "'varies'" : "'with'",
                dregs_quote(quoted, *cells->varies ? cells->varies : cells->with));
            continue;
        }
        if (*cells->varies)
            check_varies(&r, row);
        if (*cells->with)
            check_with(&r, row);
    }
    return r.bad ? DREGS_BAD_DATA : DREGS_OK;
}

dregs_nature dregs_line_nature(const dregs_line *line, unsigned row)
{
    switch (line->places[row].property->type) {
    case VALUE_SHARE:
        return DREGS_NATURE_SHARE;
    case VALUE_TEMPERATURE:
    case VALUE_READING:
        return DREGS_NATURE_ANY;
    case VALUE_COUNT:
        return DREGS_NATURE_COUNT;
    default:
        return DREGS_NATURE_NOT_NEGATIVE;
    }
}
