/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* regulation.c: the table of what regulations say of the liquids.
 *
 * Facts in words with a code for programs, and the figure of an exposure limit. The table is built
 * in and read as a whole; a test holds that it has no fault. Not covered: states, counties, other
 * countries.
 */
#include "base/sheet.h"
#include "dregs/liquid.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "liquid/builtin.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS = 10, VALUE = 7, UNIT = 8 };

static const dregs_column columns[COLUMNS] = {
    {"liquid", DREGS_IN_ROWS, NULL},      {"jurisdiction", DREGS_IN_ROWS, NULL},
    {"fact", DREGS_IN_ROWS, NULL},        {"citation", DREGS_IN_ROWS, NULL},
    {"status date", DREGS_IN_ROWS, NULL}, {"evidence", DREGS_IN_ROWS, NULL},
    {"code", DREGS_IN_ROWS, NULL},        {"value", DREGS_IN_ROWS, NULL},
    {"unit", DREGS_IN_ROWS, NULL},        {"noted", DREGS_IN_ROWS, NULL},
};

static const dregs_sheet_form form = {.column = columns, .count = COLUMNS, .even = 1};

struct entry {
    dregs_regulation regulation;
    char *text; /* all texts of the row */
};

struct dregs_regulations {
    struct entry *entry;
    size_t count, room;
};

/* The figure of a row in SI units, NaN for none. */
static dregs_status figure(const dregs_sheet_row *row, double *value)
{
    const char *number = dregs_sheet_cell(row, VALUE);
    dregs_unit unit;
    double read;

    *value = NAN;
    if (!*number)
        return DREGS_OK;
    if (dregs_number_read(number, &read) ||
        dregs_unit_read(dregs_sheet_cell(row, UNIT), &unit, NULL))
        return DREGS_BAD_DATA;
    *value = dregs_unit_to_si(unit, read);
    return DREGS_OK;
}

static dregs_status take(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    dregs_regulations *regulations = user;
    struct entry *entry;
    const char *kept[COLUMNS];
    size_t size = 0;
    double value;
    int i;
    char *at;

    (void)faults;
    if (figure(row, &value))
        return DREGS_BAD_DATA;
    if (regulations->count == regulations->room) {
        size_t room = regulations->room ? 2 * regulations->room : 64;
        entry = realloc(regulations->entry, room * sizeof *entry);
        if (!entry)
            return DREGS_NO_MEMORY;
        regulations->entry = entry;
        regulations->room = room;
    }
    for (i = 0; i < COLUMNS; i++)
        size += strlen(dregs_sheet_cell(row, i)) + 1;
    at = malloc(size);
    if (!at)
        return DREGS_NO_MEMORY;
    entry = &regulations->entry[regulations->count++];
    entry->text = at;
    for (i = 0; i < COLUMNS; i++) {
        size = strlen(dregs_sheet_cell(row, i)) + 1;
        kept[i] = memcpy(at, dregs_sheet_cell(row, i), size);
        at += size;
    }
    entry->regulation = (dregs_regulation){kept[0], kept[1],   kept[2], kept[3], kept[4],
                                           kept[5], row->line, kept[6], value,   kept[9]};
    return DREGS_OK;
}

dregs_regulations *dregs_regulations_new(void)
{
    dregs_regulations *regulations = calloc(1, sizeof *regulations);
    dregs_status status = DREGS_NO_MEMORY;

    if (regulations)
        status = dregs_sheet_read(&form, (const char *)dregs_regulations_builtin,
                                  dregs_regulations_builtin_length, take, regulations, NULL, NULL);
    if (status) {
        dregs_regulations_free(regulations);
        regulations = NULL;
    }
    return regulations;
}

void dregs_regulations_free(dregs_regulations *regulations)
{
    size_t i;

    if (!regulations)
        return;
    for (i = 0; i < regulations->count; i++)
        free(regulations->entry[i].text);
    free(regulations->entry);
    free(regulations);
}

const dregs_regulation *dregs_regulations_at(const dregs_regulations *regulations, size_t index)
{
    return index < regulations->count ? &regulations->entry[index].regulation : NULL;
}

const dregs_regulation *dregs_regulations_find(const dregs_regulations *regulations,
                                               const char *liquid, const char *citation)
{
    size_t i;

    for (i = 0; i < regulations->count; i++) {
        const dregs_regulation *r = &regulations->entry[i].regulation;
        if (*r->code && strcmp(r->liquid, liquid) == 0 && strstr(r->citation, citation))
            return r;
    }
    return NULL;
}

const char *dregs_regulations_deference(void)
{
    return "This list is neither complete nor current. The local code and the authority decide.";
}
