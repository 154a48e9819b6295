/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* calendar.h: what other rooms use of the calendar beyond dregs/calendar.h; not installed.
 *
 * Whoever goes through shifts, nights and weekends does so with the gaps of one calendar and, where
 * it is not load by load, by its march.
 */
#ifndef DREGS_CALENDAR_CALENDAR_H
#define DREGS_CALENDAR_CALENDAR_H

#include "balance/balance.h"
#include "dregs/calendar.h"

/* The time in which no load passes. */
enum calendar_gap {
    CALENDAR_REST,    /* of a shift, behind its loads: flows on */
    CALENDAR_NIGHT,   /* behind a working day */
    CALENDAR_WEEKEND, /* behind the last one of a week */
    CALENDAR_GAPS
};
enum { CALENDAR_KINDS_MOST = 16, CALENDAR_GAPS_MOST = CALENDAR_GAPS + 2 * CALENDAR_KINDS_MOST };

/* What lies behind working day number `day`, from 1: night or weekend. */
enum calendar_gap dregs_calendar_behind(const dregs_calendar *calendar, uint64_t day);

/* ---- by dates ---- */

enum { CALENDAR_DAYS_MOST = 732 };

/* A kind of day, by its shifts and their loads; closed without shifts. */
struct calendar_day {
    uint64_t loads; /* per shift */
    unsigned shifts;
    double rest, idle; /* s: of each shift without loads; behind the last one of 24 h */
};

/* 24 months: the year before, month by month, and the year that is looked at. */
struct calendar_dates {
    int year;                             /* of the first month that is looked at, */
    unsigned month;                       /* which is this one, 1 to 12 */
    unsigned weekdays;                    /* worked, bit 0: Monday */
    const dregs_calendar_table *table;    /* NULL: none */
    long begin;                           /* the first day of the year before */
    unsigned first[2 * DREGS_MONTHS + 1]; /* days before a month begins */
    unsigned char kind[CALENDAR_DAYS_MOST];
    struct calendar_day of[CALENDAR_KINDS_MOST];
    unsigned kinds;
};

/* A working day of the schedule, whatever its date. \return as dregs_calendar_of. */
dregs_status dregs_calendar_of_days(const dregs_line *line, dregs_calendar *calendar,
                                    char *message);
/* \param year, month  of the first month; month 1 to 12, a year of the Gregorian calendar.
 * \param table        outlives the dates; NULL: no day is closed.
 * \param message      DREGS_CALENDAR_MESSAGE bytes, or NULL.
 * \return DREGS_OK; DREGS_BAD_DATA: a row does not fit the schedule. The schedule states loads per
 * shift and shifts per day. */
dregs_status dregs_calendar_dates_of(const dregs_line *line, int year, unsigned month,
                                     const dregs_calendar_table *table,
                                     struct calendar_dates *dates, char *message);
/* Working days, loads, s in all and idle s of so many months from number `month` of the 24 on. */
void dregs_calendar_dates_count(const struct calendar_dates *dates, unsigned month, unsigned months,
                                uint64_t *days, uint64_t *loads, double *seconds, double *idle);
/* The year of its first row. */
int dregs_calendar_table_year(const dregs_calendar_table *table);

/* How long each is and what flows in it; not to be copied, for a gap points to its tanks. The
 * integrals are kept from one substance to the next. */
struct calendar_gaps {
    dregs_tank resting[DREGS_LINE_STAGES], idling[DREGS_LINE_STAGES];
    struct gap gap[CALENDAR_GAPS_MOST];
    struct integrals between_loads, integrals[CALENDAR_GAPS_MOST];
    unsigned count;
};
/* \param calendar  NULL: loads without a pause. Cleared by the caller also after a failure.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_gaps_new(const dregs_line *line, const dregs_calendar *calendar,
                                     struct calendar_gaps *gaps);
/* Those of the kinds of days: of kind k the rest of its shifts at CALENDAR_GAPS + 2 k, its idle
 * time behind it. */
dregs_status dregs_calendar_gaps_of_dates(const dregs_line *line, const dregs_calendar *calendar,
                                          const struct calendar_dates *dates,
                                          struct calendar_gaps *gaps);
void dregs_calendar_gaps_clear(struct calendar_gaps *gaps);

/* Says what the calendar takes for want of a row; `days` 0: of a shift alone; `dates` NULL where
 * days have none. */
typedef void dregs_calendar_say(void *user, const char *text);
void dregs_calendar_assumed(const dregs_line *line, const dregs_calendar *calendar,
                            const struct calendar_dates *dates, int days, dregs_calendar_say *say,
                            void *user);

/* One substance on its way through the calendar, from the first load on. */
struct march;
/* \param with    the ledger of its maps, buffers included; \param ledger the same without them, of
 * z; both, the calendar and the line outlive it.
 * \return DREGS_OK, DREGS_NUMERIC, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_march_new(const dregs_line *line, unsigned substance,
                                      const struct ledger *with, const struct ledger *ledger,
                                      const dregs_calendar *calendar, struct calendar_gaps *gaps,
                                      struct march **march);
void dregs_calendar_march_free(struct march *march);
/* Takes z (dim x columns, at most n + 1) on by loads without a pause; by a shift and its rest; by
 * working days with what lies behind each. The sums of z go on.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_march_loads(struct march *march, uint64_t loads, double *z,
                                        size_t columns);
dregs_status dregs_calendar_march_shift(struct march *march, double *z, size_t columns);
dregs_status dregs_calendar_march_days(struct march *march, uint64_t days, double *z,
                                       size_t columns);
/* By so many months from number `month` of the dates on, with the gaps of these. */
dregs_status dregs_calendar_march_months(struct march *march, const struct calendar_dates *dates,
                                         unsigned month, unsigned months, double *z,
                                         size_t columns);

#endif
