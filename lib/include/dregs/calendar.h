/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* calendar.h: the schedule of a line in seconds: shifts, nights, weekends and the working days of a
 * year. There is one calendar; what a line leaves and what it takes are both asked of it.
 */
#ifndef DREGS_CALENDAR_H
#define DREGS_CALENDAR_H

#include "dregs/line.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** The schedule in seconds. */
typedef struct dregs_calendar {
    uint64_t loads_per_shift, shifts_per_day;
    uint64_t days_per_week; /**< 0: working days lie evenly over the year */
    uint64_t days_per_year;
    double interval;      /**< s between loads */
    double shift;         /**< s of a shift: its length, or loads times interval */
    int shift_stated;     /**< 1: the file states the shift length */
    double shift_rest;    /**< s of each shift without loads, flows on */
    double idle;          /**< s behind each working day, but the last one of a week */
    double weekend;       /**< s behind that, its holidays included; 0 without weeks */
    double holidays;      /**< s of it that are the weeks' even share of what a year has left */
    int idle_flow;        /**< 1: flows on in idle time */
    int idle_flow_stated; /**< 0: off is assumed */
} dregs_calendar;

enum { DREGS_CALENDAR_MESSAGE = 640, DREGS_MONTHS = 12 };

/** Months begin behind these days of the year. */
DREGS_API uint64_t dregs_calendar_days_before(const dregs_calendar *calendar, unsigned month);

/** The calendar of a year of a line's schedule.
 *  \param message  DREGS_CALENDAR_MESSAGE bytes for the reason, or NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA when the line has no schedule, the schedule lacks its loads per
 *  shift, shifts per day or days per year, or its weeks do not fit into a year. */
DREGS_API dregs_status dregs_calendar_of(const dregs_line *line, dregs_calendar *calendar,
                                         char *message);

/** The calendar of weeks that follow one another without holidays: of a schedule that states its
 *  loads per shift, shifts per day and days per week, for loads of one kind. Its days per year are
 * 0. Else as dregs_calendar_of. */
DREGS_API dregs_status dregs_calendar_of_week(const dregs_line *line, dregs_calendar *calendar,
                                              char *message);

/** s of so many working days, with what lies behind each, \p before working days into the year. */
DREGS_API double dregs_calendar_seconds(const dregs_calendar *calendar, uint64_t before,
                                        uint64_t days);

/* ---- by dates ---- */

/** Which days of which dates are worked in another way than the schedule says, as
 *  dregs-calendar(5) describes it. */
typedef struct dregs_calendar_table dregs_calendar_table;

enum { DREGS_CALENDAR_ROWS = 2000 };

/** Reads the text of such a file.
 *  \param name    what the file is called in messages.
 *  \param faults  every fault, with its line; may be NULL.
 *  \return DREGS_OK, DREGS_BAD_DATA, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_calendar_table_parse(const char *name, const char *bytes,
                                                  size_t length, dregs_calendar_table **table,
                                                  dregs_faults *faults);

/** Reads it from an open stream until its end: a FILE *, passed as void * so that this header needs
 *  no stdio.h. \return as dregs_calendar_table_parse, and DREGS_IO. */
DREGS_API dregs_status dregs_calendar_table_read(const char *name, void *stream,
                                                 dregs_calendar_table **table,
                                                 dregs_faults *faults);
DREGS_API void dregs_calendar_table_free(dregs_calendar_table *table);
/** How the cells of the file are written. */
DREGS_API dregs_dialect dregs_calendar_table_dialect(const dregs_calendar_table *table);

/** A row of it, in the order of the file. */
typedef struct dregs_calendar_row {
    unsigned long line; /**< of the file */
    long from, to;      /**< first and last day, from 1970-01-01 on */
    unsigned weekdays;  /**< bit 0: Monday; 0: the days that are worked without the row */
    unsigned shifts;    /**< per day; 0: closed */
    uint64_t loads;     /**< per shift; 0: as the schedule says */
} dregs_calendar_row;
/** NULL past the end. */
DREGS_API const dregs_calendar_row *dregs_calendar_table_at(const dregs_calendar_table *table,
                                                            size_t index);

#ifdef __cplusplus
}
#endif
#endif
