/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* readings.c: rows of the log to readings, as a stream. */
#include "readings/readings.h"
#include "base/text.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const dregs_column columns[COLUMNS] = {
    [TIME] = {"time", DREGS_IN_HEADER, NULL},
    [STAGE] = {"stage", DREGS_IN_HEADER, NULL},
    [LOADS] = {"loads", DREGS_IN_HEADER, "load"},
    [QUANTITY] = {"quantity", DREGS_IN_HEADER, NULL},
    [VALUE] = {"value", DREGS_IN_HEADER, NULL},
    [UNIT] = {"unit", DREGS_IN_HEADER, NULL},
    [SPREAD] = {"spread", DREGS_OPTIONAL, NULL},
    [TEMPERATURE] = {"temperature", DREGS_OPTIONAL, NULL},
    [NOTE] = {"note", DREGS_OPTIONAL, NULL},
    [LOAD] = {"load", DREGS_OPTIONAL, NULL},
    [TARE] = {"tare", DREGS_OPTIONAL, NULL},
    [GROSS] = {"gross", DREGS_OPTIONAL, NULL},
    [BLANK] = {"blank", DREGS_OPTIONAL, NULL},
    [SAMPLE] = {"sample", DREGS_OPTIONAL, NULL},
    [RESOLUTION] = {"resolution", DREGS_OPTIONAL, NULL},
    [RECOVERY] = {"recovery", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = "; the columns are time, stage, loads (or load), quantity, value, unit, spread, "
               "temperature, note, tare, gross, blank, sample, resolution, recovery",
    .nearest = {"; nearest: '", "'"},
    .twice = {"column ", " is there twice"},
    .missing = {"there is no column ",
                "; the header of a log is: time,stage,loads,quantity,value,unit"},
    .both = "'loads' (since the last dump) and 'load' (a running number) exclude each other",
    .cells = {" under a header of ", ""},
    .empty = "the log is empty: not even a header",
};

/* A log may be long: beyond the faults that are kept nothing more is read. */
static const dregs_sheet_form form = {
    .column = columns,
    .count = COLUMNS,
    .words = &words,
    .stops_when_full = 1,
    .numbers = 1u << LOADS | 1u << LOAD | 1u << VALUE | 1u << SPREAD,
    .quantities = 1u << TEMPERATURE | 1u << TARE | 1u << GROSS | 1u << BLANK | 1u << SAMPLE |
                  1u << RESOLUTION | 1u << RECOVERY};

void dregs_readings_say_once(dregs_readings *r, enum again what, unsigned long line,
                             const char *format, ...)
{
    va_list arguments;

    r->bad = 1;
    if (r->again[what].count++)
        return;
    r->again[what].line = line;
    va_start(arguments, format);
    vsnprintf(r->again[what].text, sizeof r->again[what].text, format, arguments);
    va_end(arguments);
}

static void say_again(dregs_readings *r)
{
    int i;

    for (i = 0; i < AGAIN; i++) {
        size_t more = r->again[i].count - 1;
        if (r->again[i].count == 1)
            SAY(r, r->again[i].line, "%s", r->again[i].text);
        else if (r->again[i].count)
            SAY(r, r->again[i].line, "%s (and %zu more row%s like it)", r->again[i].text, more,
                more == 1 ? "" : "s");
    }
}

static void happened(unsigned long long *count, unsigned long *first, unsigned long line)
{
    if (++*count == 1)
        *first = line;
}

static int alike(const dregs_reading *a, const dregs_reading *b)
{
    return a->stage == b->stage && a->what == b->what && a->which == b->which;
}

static int is_duplicate(const dregs_readings *r, const dregs_reading *reading)
{
    size_t i, back = r->count < 16 ? r->count : 16;

    for (i = 1; i <= back; i++) {
        const dregs_reading *other = &r->kept[r->count - i];
        if (other->time < reading->time && !r->unsorted)
            return 0; /* and all before it were earlier still */
        if (alike(other, reading) && other->time == reading->time && other->rows == 1 &&
            other->loads == reading->loads && other->fresh == reading->fresh &&
            other->beyond == reading->beyond &&
            (other->value == reading->value || reading->what == DREGS_MEASURED_DUMP))
            return 1;
    }
    return 0;
}

/* Makes room among what is kept. */
static void thin(dregs_readings *r)
{
    if (r->unsorted) /* what lay apart may lie together now */
        r->thinned = 0;
    dregs_readings_sort(r->kept, r->count, &r->unsorted);
    r->count = r->thinned = dregs_readings_thin(r->kept, r->count, r->thinned, &r->counted.gone);
}

static void keep(dregs_readings *r, const dregs_reading *reading)
{
    if (is_duplicate(r, reading)) {
        happened(&r->counted.duplicate, &r->counted.first_duplicate, reading->line);
        return;
    }
    if (reading->time < r->newest) {
        happened(&r->counted.late, &r->counted.first_late, reading->line);
        r->unsorted = 1;
    } else {
        r->newest = reading->time;
    }
    if (r->count == DREGS_READINGS_KEPT) {
        thin(r);
    }
    r->kept[r->count++] = *reading;
}

static void take_reading(dregs_readings *r, const dregs_sheet_row *row)
{
    dregs_reading reading = {0};

    reading.line = row->line;
    reading.rows = 1;
    if (!dregs_readings_find_stage(r, row, dregs_sheet_cell(row, STAGE)) ||
        !dregs_readings_find_quantity(r, row, dregs_sheet_cell(row, QUANTITY)))
        return;
    reading.stage = r->stage;
    reading.what = r->quantity.what;
    reading.which = r->quantity.index;
    if (!dregs_readings_take_time(r, row, &reading) ||
        !dregs_readings_take_loads(r, row, &reading) ||
        !dregs_readings_take_temperature(r, row, &reading))
        return;
    r->counted.rows++;
    if (!reading.fresh) /* a sample of the liquid says nothing of the tank */
        r->of_stage[reading.stage] = 1;
    if (reading.what == DREGS_MEASURED_DUMP) {
        if (*dregs_sheet_cell(row, VALUE))
            SAY(r, row->line, "a dump has no value");
        r->counted.dumps++;
        reading.value = NAN;
        keep(r, &reading);
        return;
    }
    if (!dregs_readings_take_value(r, row, &reading) ||
        !dregs_readings_take_recovery(r, row, &reading))
        return;
    if (isnan(reading.value) || reading.loads < 0)
        happened(&r->counted.missing, &r->counted.first_missing, row->line);
    else
        keep(r, &reading);
}

static dregs_status take(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    dregs_readings *r = user;

    (void)faults;
    r->running = row->place[LOAD] >= 0;
    take_reading(r, row);
    return DREGS_OK;
}

dregs_readings *dregs_readings_new(const char *name, const dregs_line *line, dregs_faults *faults)
{
    dregs_readings *r = calloc(1, sizeof *r);

    if (!r)
        return NULL;
    r->line = line;
    r->faults = faults ? faults : &r->own;
    r->zoned = -1;
    r->newest = -HUGE_VAL;
    snprintf(r->name, sizeof r->name, "%s", name);
    snprintf(r->faults->file, sizeof r->faults->file, "%s", name);
    r->kept = malloc(DREGS_READINGS_KEPT * sizeof *r->kept);
    r->table = dregs_sheet_new(&form, take, r, r->faults);
    if (!r->kept || !r->table) {
        dregs_readings_free(r);
        return NULL;
    }
    return r;
}

void dregs_readings_free(dregs_readings *readings)
{
    if (!readings)
        return;
    dregs_sheet_free(readings->table);
    free(readings->kept);
    free(readings);
}

dregs_status dregs_readings_feed(dregs_readings *readings, const char *bytes, size_t length)
{
    return dregs_sheet_feed(readings->table, bytes, length);
}

static void place_all(dregs_readings *r)
{
    double interval = dregs_line_load(r->line)->interval.si;

    dregs_readings_gap(r->kept, r->count, &r->counted);
    dregs_readings_rush(r->kept, r->count, r->running, interval, &r->counted);
    dregs_readings_place(r->kept, r->count, r->running, interval, &r->counted);
}

dregs_status dregs_readings_end(dregs_readings *readings)
{
    dregs_readings *r = readings;
    dregs_status status = dregs_sheet_end(r->table);
    size_t i, read = 0, before = 0;

    if (!status && !r->bad) {
        if (r->thinned) /* all alike, not only those before the last time room was made */
            thin(r);
        else
            dregs_readings_sort(r->kept, r->count, &r->unsorted);
        for (i = 0; i < r->count; i++)
            read += r->kept[i].what != DREGS_MEASURED_DUMP;
        if (read == 0 && (r->counted.missing > 0 || r->counted.dumps == 0))
            SAY(r, 0, "no reading in %llu rows", r->counted.rows);
        else if (r->running && dregs_readings_falls(r->kept, r->count, &i, &before))
            SAY(r, r->kept[i].line,
                "load: %lld, but an earlier row (line %lu) has %lld: a running number never falls; "
                "loads since the last dump belong in a column 'loads'",
                (long long)r->kept[i].loads, r->kept[before].line,
                (long long)r->kept[before].loads);
        else
            place_all(r);
    }
    say_again(r);
    dregs_faults_sort(r->faults);
    return status ? status : r->bad ? DREGS_BAD_DATA : DREGS_OK;
}

dregs_dialect dregs_readings_dialect(const dregs_readings *readings)
{
    return dregs_sheet_dialect(readings->table);
}

size_t dregs_readings_kept(const dregs_readings *readings)
{
    return readings->count;
}

const dregs_reading *dregs_readings_at(const dregs_readings *readings, size_t index)
{
    return index < readings->count ? &readings->kept[index] : NULL;
}

const dregs_readings_count *dregs_readings_counted(const dregs_readings *readings)
{
    return &readings->counted;
}

const char *dregs_readings_name(const dregs_readings *readings)
{
    return readings->name;
}

const char *dregs_readings_unit(const dregs_readings *readings, unsigned index, dregs_unit *unit)
{
    if (index >= readings->units)
        return NULL;
    if (unit)
        *unit = readings->unit[index].unit;
    return readings->unit[index].text;
}

int dregs_readings_unit_digits(const dregs_readings *readings, unsigned index)
{
    enum { LEAST = 2 };
    const struct unit *unit;

    if (index >= readings->units)
        return DREGS_READINGS_DIGITS;
    unit = &readings->unit[index];
    if (!unit->written || unit->written > unit->digits)
        return unit->digits;
    return unit->written < LEAST ? LEAST : unit->written;
}

double dregs_readings_unit_density(const dregs_readings *readings, unsigned index)
{
    return index < readings->units ? readings->unit[index].density : 0.0;
}

int dregs_readings_zoned(const dregs_readings *readings)
{
    return readings->zoned == 1;
}

int dregs_readings_of(const dregs_readings *readings, unsigned stage)
{
    return stage < DREGS_LINE_STAGES && readings->of_stage[stage];
}
