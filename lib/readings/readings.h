/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* readings.h: what the files of the readings module share; not installed. */
#ifndef DREGS_READINGS_READINGS_H
#define DREGS_READINGS_READINGS_H

#include "base/sheet.h"
#include "dregs/readings.h"

enum { WORD = 128, UNITS_MOST = 64, DREGS_READINGS_DIGITS = 4 };

/* One standard deviation of what is rounded to a step of 1, 1/sqrt(12): a rectangular distribution,
 * JCGM 100:2008 (GUM), F.2.2.1. */
#define DREGS_READINGS_ROUNDING 0.28867513459481287

/* Faults that a log has in every row, if at all: they are said once, with how often they are there.
 */
enum again { DATES_WITH_STROKES, NO_UNIT, PEN, AGAIN };

/* Of the log; those of `columns` in readings.c. */
enum column {
    TIME,
    STAGE,
    LOADS,
    QUANTITY,
    VALUE,
    UNIT,
    SPREAD,
    TEMPERATURE,
    NOTE,
    LOAD,
    TARE,
    GROSS,
    BLANK,
    SAMPLE,
    RESOLUTION,
    RECOVERY,
    COLUMNS
};

/* What a word of the log was found to mean. */
struct known {
    char word[WORD];
    unsigned index;
    dregs_measured what;
};

struct unit {
    char text[WORD];
    dregs_measured what;
    unsigned which;
    dregs_unit unit;
    double density; /* kg/m3 of the liquid, in the unit already; 0: not by mass */
    int digits;     /* significant ones that show a reading, at most */
    int written;    /* the most that a row has; 0: not known */
    int stage;      /* then the only one it is good for; -1: all */
};

struct dregs_readings {
    const dregs_line *line;
    dregs_sheet *table;
    char name[DREGS_FILE_NAME];
    dregs_faults own;
    dregs_faults *faults;
    int bad;
    int running;    /* loads carry a running number */
    int zoned;      /* the times have a zone: 1, 0; -1 before the first */
    unsigned stage; /* of the last row */
    struct known quantity;
    struct unit unit[UNITS_MOST];
    unsigned units, last_unit;
    unsigned char of_stage[DREGS_LINE_STAGES];
    dregs_reading *kept;
    size_t count;
    size_t thinned; /* the first so many have become one where they are alike; 0: never */
    int unsorted;
    double newest;
    dregs_readings_count counted;
    struct {
        unsigned long line; /* of the first */
        size_t count;
        char text[DREGS_FAULT_TEXT];
    } again[AGAIN];
};

#define SAY(r, line_, ...)                                                                         \
    ((r)->bad = 1, (void)dregs_fault_add((r)->faults, DREGS_BAD_DATA, line_, __VA_ARGS__))

/* Notes a fault that other rows may have too; readings.c says it at the end. */
void dregs_readings_say_once(dregs_readings *r, enum again what, unsigned long line,
                             const char *format, ...) DREGS_FORMAT(4, 5);

/* What the cells of a row say, into the reading; 0 with a fault when they cannot be read. */
int dregs_readings_find_stage(dregs_readings *r, const dregs_sheet_row *row, const char *word);
int dregs_readings_find_quantity(dregs_readings *r, const dregs_sheet_row *row, const char *word);
int dregs_readings_find_unit(dregs_readings *r, const dregs_sheet_row *row, const char *word);
/* kg/m3 of what the row's stage is wet with, at its temperature. DREGS_UNKNOWN, DREGS_OUT_OF_RANGE:
 * not known, with the reason (DREGS_LIQUID_MESSAGE bytes). */
dregs_status dregs_readings_density(const dregs_readings *r, double *density, char *message);
int dregs_readings_take_time(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading);
int dregs_readings_take_loads(dregs_readings *r, const dregs_sheet_row *row,
                              dregs_reading *reading);
int dregs_readings_take_temperature(dregs_readings *r, const dregs_sheet_row *row,
                                    dregs_reading *reading);
/* A row was written in the last unit with so many significant digits. */
void dregs_readings_note_digits(dregs_readings *r, int digits);
/* What only a reading of parts has. */
int dregs_readings_take_recovery(dregs_readings *r, const dregs_sheet_row *row,
                                 dregs_reading *reading);
/* The value; 1 with NaN where the cell is empty. */
int dregs_readings_take_value(dregs_readings *r, const dregs_sheet_row *row,
                              dregs_reading *reading);

/* weighing.c: 1 where the row tells the weighings of a dish in place of a value. */
int dregs_readings_is_weighing(const dregs_sheet_row *row);
/* The value that they come to, its unit, and the least that it scatters. */
int dregs_readings_weigh(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading);

/* By time; rows of one time stay in the order of the file. */
void dregs_readings_sort(dregs_reading *kept, size_t count, int *unsorted);

/* Makes room among readings in the order of time: one for all of one meter and stage after the same
 * load, as the first `thinned` are already, then at most half of what can be kept. Returns how many
 * are left; `gone` counts rows. */
size_t dregs_readings_thin(dregs_reading *kept, size_t count, size_t thinned,
                           unsigned long long *gone);

/* Of readings in the order of time: 1 with the first whose running number is below that of an
 * earlier one, `below`. */
int dregs_readings_falls(const dregs_reading *kept, size_t count, size_t *fallen, size_t *below);

/* Sets the gap of `counted`: the longest that is far beyond the schedule and that no count joins.
 */
void dregs_readings_gap(const dregs_reading *kept, size_t count, dregs_readings_count *counted);

/* Sets the rush of `counted`: the most loads in less time than they take, `interval` (s) each. */
void dregs_readings_rush(const dregs_reading *kept, size_t count, int running, double interval,
                         dregs_readings_count *counted);

/* Sets `at` of every reading from the counts of loads, and puts the readings in that order;
 * `interval` is the time (s) between loads. */
void dregs_readings_place(dregs_reading *kept, size_t count, int running, double interval,
                          dregs_readings_count *counted);

#endif
