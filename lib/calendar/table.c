/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* table.c: the rows of a file of closed days, shutdown weeks and seasons, as dregs-calendar(5)
 * describes it. It knows dates alone; what they do to a line's year is in dates.c.
 */
#include "calendar/table.h"
#include "base/sheet.h"
#include "base/text.h"
#include "base/time.h"
#include "calendar/calendar.h"
#include "dregs/number.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum column { FROM, TO, WEEKDAYS, SHIFTS, LOADS, NOTE, COLUMNS };
enum { SHIFTS_MOST = 24, YEAR_MOST = 2200 };
#define LOADS_MOST 1e9

static const dregs_column columns[COLUMNS] = {
    [FROM] = {"from", DREGS_IN_ROWS, NULL},          [TO] = {"to", DREGS_OPTIONAL, NULL},
    [WEEKDAYS] = {"weekdays", DREGS_OPTIONAL, NULL}, [SHIFTS] = {"shifts", DREGS_IN_ROWS, NULL},
    [LOADS] = {"loads", DREGS_OPTIONAL, NULL},       [NOTE] = {"note", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = "; the columns are from,to,weekdays,shifts,loads,note",
    .nearest = {"; nearest: '", "'"},
    .twice = {"a second column ", "; the columns are from,to,weekdays,shifts,loads,note"},
    .missing = {"column ", " is missing from the header; it must name from,shifts"},
    .cells = {", the header has ", " (a cell with a comma stands in quotes)"},
    .empty = "the file is empty; a calendar begins with the row from,to,weekdays,shifts,loads,note",
    .rowless = "no row follows the header",
};

static const dregs_sheet_form form = {.column = columns,
                                      .count = COLUMNS,
                                      .words = &words,
                                      .rows_most = DREGS_CALENDAR_ROWS,
                                      .numbers = 1u << SHIFTS | 1u << LOADS};

struct reader {
    dregs_calendar_table *made;
    int bad;
};

/* A row with everything that is wrong with it said at once. */
struct entry {
    struct reader *r;
    const dregs_sheet_row *row;
    dregs_faults *faults;
    int bad;
};

#define SAY(e, ...)                                                                                \
    ((e)->bad = 1, (void)dregs_fault_add((e)->faults, DREGS_BAD_DATA, (e)->row->line, __VA_ARGS__))

static const char *cell(const struct entry *e, enum column column)
{
    return dregs_sheet_cell(e->row, (int)column);
}

static long read_day(struct entry *e, enum column column)
{
    char quoted[DREGS_QUOTED];
    int year, month, day;

    if (dregs_date_read(cell(e, column), &year, &month, &day) && year <= YEAR_MOST)
        return dregs_day_number(year, month, day);
    SAY(e, "%s %s is no day from 1900 to %d written as YYYY-MM-DD", columns[column].name,
        dregs_quote(quoted, cell(e, column)), YEAR_MOST);
    return 0;
}

/* A whole number from `least` to `most`. */
static uint64_t read_count(struct entry *e, enum column column, double least, double most)
{
    char quoted[DREGS_QUOTED];
    double value;

    if (!dregs_number_read(cell(e, column), &value) && value >= least && value <= most &&
        value == (double)(uint64_t)value)
        return (uint64_t)value;
    SAY(e, "%s %s is not a whole number from %.0f to %.0f", columns[column].name,
        dregs_quote(quoted, cell(e, column)), least, most);
    return 0;
}

static void read_row(struct entry *e, dregs_calendar_row *into)
{
    char quoted[DREGS_QUOTED];

    into->line = e->row->line;
    into->from = into->to = read_day(e, FROM);
    if (*cell(e, TO))
        into->to = read_day(e, TO);
    if (!e->bad && into->to < into->from)
        SAY(e, "to %s is before from %s", dregs_quote(quoted, cell(e, TO)), cell(e, FROM));
    if (*cell(e, WEEKDAYS) && !dregs_weekdays_read(cell(e, WEEKDAYS), &into->weekdays))
        SAY(e, "weekdays %s are not written like Mon-Fri or Mon Wed Fri",
            dregs_quote(quoted, cell(e, WEEKDAYS)));
    into->shifts = (unsigned)read_count(e, SHIFTS, 0, SHIFTS_MOST);
    if (*cell(e, LOADS))
        into->loads = read_count(e, LOADS, 1, LOADS_MOST);
    if (!e->bad && into->loads && !into->shifts)
        SAY(e, "loads per shift, but the row has no shift");
}

static dregs_status take_row(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    struct reader *r = user;
    struct entry e = {r, row, faults, 0};
    dregs_calendar_row read = {0};

    read_row(&e, &read);
    r->bad = r->bad || e.bad;
    if (!e.bad)
        r->made->row[r->made->count++] = read;
    return DREGS_OK;
}

/* ---- the whole file ---- */

static dregs_status make(const char *name, const char *bytes, size_t length, FILE *stream,
                         dregs_calendar_table **table, dregs_faults *faults)
{
    dregs_faults own = {0}, *into = faults ? faults : &own;
    struct reader r = {calloc(1, sizeof *r.made), 0};
    dregs_sheet *sheet = r.made ? dregs_sheet_new(&form, take_row, &r, into) : NULL;
    dregs_status status = sheet ? DREGS_OK : DREGS_NO_MEMORY;
    char piece[4096];

    snprintf(into->file, sizeof into->file, "%s", name);
    if (r.made)
        snprintf(r.made->name, sizeof r.made->name, "%s", name);
    if (!status && !stream)
        status = dregs_sheet_feed(sheet, bytes, length);
    for (length = 1; stream && length && !status;) {
        errno = 0;
        length = fread(piece, 1, sizeof piece, stream);
        status = ferror(stream) ? dregs_fault_add(into, DREGS_IO, 0, "%s", strerror(errno))
                                : dregs_sheet_feed(sheet, piece, length);
    }
    if (!status)
        status = dregs_sheet_end(sheet);
    if (!status)
        r.made->dialect = dregs_sheet_dialect(sheet);
    dregs_sheet_free(sheet);
    if (!status && r.bad)
        status = DREGS_BAD_DATA;
    if (status == DREGS_NO_MEMORY && !into->count)
        (void)dregs_fault_add(into, status, 0, "out of memory");
    if (status) {
        dregs_faults_sort(into);
        dregs_calendar_table_free(r.made);
        return status;
    }
    *table = r.made;
    return DREGS_OK;
}

dregs_status dregs_calendar_table_parse(const char *name, const char *bytes, size_t length,
                                        dregs_calendar_table **table, dregs_faults *faults)
{
    return make(name, bytes, length, NULL, table, faults);
}

dregs_status dregs_calendar_table_read(const char *name, void *stream, dregs_calendar_table **table,
                                       dregs_faults *faults)
{
    return make(name, NULL, 0, stream, table, faults);
}

void dregs_calendar_table_free(dregs_calendar_table *table)
{
    free(table);
}

dregs_dialect dregs_calendar_table_dialect(const dregs_calendar_table *table)
{
    return table->dialect;
}

int dregs_calendar_table_year(const dregs_calendar_table *table)
{
    int year = 1900;

    while (dregs_day_number(year + 1, 1, 1) <= table->row[0].from)
        year++;
    return year;
}

const dregs_calendar_row *dregs_calendar_table_at(const dregs_calendar_table *table, size_t index)
{
    return index < table->count ? &table->row[index] : NULL;
}
