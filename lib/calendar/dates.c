/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dates.c: the days of a year by their dates, and of the year before it.
 *
 * Every day has 24 hours: its shifts come first, one behind the other, and the rest of it is idle;
 * of a closed day all of it is. Which weekdays are worked the schedule says, and the rows of a
 * table change that for their dates, the last row that speaks of a day being the one that counts.
 */
#include "base/time.h"
#include "calendar/calendar.h"
#include "calendar/table.h"
#include "line/line.h"

#include <stdio.h>
#include <string.h>

#define DAY 86400.0

/* What one day is: `row` NULL where the schedule alone says it. */
struct worked {
    unsigned shifts;
    uint64_t loads;
    const dregs_calendar_row *row;
};

struct maker {
    const dregs_line *line;
    const dregs_calendar_table *table;
    struct calendar_dates *made;
    char *message;
    unsigned weekdays;
};

static unsigned weekdays_of(const dregs_schedule *s)
{
    if (s->weekdays)
        return s->weekdays;
    /* Monday and so many days from it on; five where the file states no number */
    return (1u << (s->days_per_week.row ? (unsigned)s->days_per_week.si : 5)) - 1;
}

static void set_months(struct calendar_dates *made, int year, unsigned month)
{
    unsigned m, day = 0;

    made->begin = dregs_day_number(year - 1, (int)month, 1);
    made->year = year;
    made->month = month;
    for (m = 0; m < 2 * DREGS_MONTHS; m++) {
        unsigned of_year = month - 1 + m;
        made->first[m] = day;
        day += (unsigned)dregs_month_days(year - 1 + (int)(of_year / 12), (int)(of_year % 12) + 1);
    }
    made->first[m] = day;
}

/* May a row change this day? */
static int speaks_of(const dregs_calendar_row *row, long day, int worked)
{
    if (day < row->from || day > row->to)
        return 0;
    return row->weekdays ? (int)(row->weekdays >> dregs_weekday(day) & 1) : worked;
}

static struct worked day_of(const struct maker *m, long day)
{
    const dregs_schedule *s = dregs_line_schedule(m->line);
    struct worked is = {0, (uint64_t)s->loads_per_shift.si, NULL};
    size_t i;

    if (m->weekdays >> dregs_weekday(day) & 1)
        is.shifts = (unsigned)s->shifts_per_day.si;
    for (i = 0; m->table && i < m->table->count; i++) {
        const dregs_calendar_row *row = &m->table->row[i];
        if (!speaks_of(row, day, is.shifts > 0))
            continue;
        is.shifts = row->shifts;
        is.loads = row->loads ? row->loads : (uint64_t)s->loads_per_shift.si;
        is.row = row;
    }
    return is;
}

/* A row that opens days where none is worked, and does not say which, opens none: it is a slip. */
static dregs_status check_rows(const struct maker *m)
{
    const struct calendar_dates *made = m->made;
    long last = made->begin + (long)made->first[2 * DREGS_MONTHS] - 1, day;
    size_t i;

    for (i = 0; m->table && i < m->table->count; i++) {
        const dregs_calendar_row *row = &m->table->row[i];
        struct maker before = *m;
        int speaks = 0;
        if (!row->shifts || row->from < made->begin || row->to > last)
            continue;
        before.table = NULL;
        for (day = row->from; day <= row->to && !speaks; day++)
            speaks = speaks_of(row, day, day_of(&before, day).shifts > 0);
        if (speaks)
            continue;
        if (m->message)
            snprintf(m->message, DREGS_CALENDAR_MESSAGE,
                     "%.200s:%lu: %s; name the weekdays that are worked then", m->table->name,
                     row->line,
                     row->weekdays ? "none of its days is one of its weekdays"
                                   : "none of its days is worked by the schedule");
        return DREGS_BAD_DATA;
    }
    return DREGS_OK;
}

/* Says what is wrong, with the row of the table where there is one. */
static dregs_status refuse(const struct maker *m, const struct worked *is, const char *what)
{
    char row[DREGS_FILE_NAME + 32] = "";

    if (is->row)
        snprintf(row, sizeof row, "%.200s:%lu: ", m->table->name, is->row->line);
    if (m->message)
        snprintf(m->message, DREGS_CALENDAR_MESSAGE, "%s%s", row, what);
    return DREGS_BAD_DATA;
}

/* The hours of a day of that kind. */
static dregs_status measure(const struct maker *m, const struct worked *is,
                            struct calendar_day *day)
{
    const dregs_schedule *s = dregs_line_schedule(m->line);
    double loads = (double)is->loads * dregs_line_load(m->line)->interval.si;
    double shift = s->shift_length.row ? s->shift_length.si : loads, idle;
    char what[160];

    *day = (struct calendar_day){is->loads, is->shifts, 0.0, DAY};
    if (!is->shifts)
        return DREGS_OK;
    if (loads > shift * (1 + 1e-12)) {
        snprintf(what, sizeof what, "%llu loads take %.4g h, longer than the shift of %.4g h",
                 (unsigned long long)is->loads, loads / 3600, shift / 3600);
        return refuse(m, is, what);
    }
    idle = DAY - (double)is->shifts * shift;
    if (idle < -1e-9 * DAY) {
        snprintf(what, sizeof what, "the %u shifts of a day take %.4g h", is->shifts,
                 (double)is->shifts * shift / 3600);
        return refuse(m, is, what);
    }
    /* rounding is no time */
    day->rest = shift - loads < 1e-9 * loads ? 0.0 : shift - loads;
    day->idle = idle < 1e-9 * DAY ? 0.0 : idle;
    return DREGS_OK;
}

static dregs_status set_kind(const struct maker *m, unsigned day)
{
    struct calendar_dates *made = m->made;
    struct worked is = day_of(m, made->begin + (long)day);
    dregs_status status;
    unsigned k;

    if (!is.shifts)
        is.loads = 0;
    for (k = 0; k < made->kinds; k++)
        if (made->of[k].shifts == is.shifts && made->of[k].loads == is.loads)
            break;
    if (k == CALENDAR_KINDS_MOST)
        return refuse(m, &is, "more kinds of days, by shifts and loads, than can be told apart");
    if (k == made->kinds) {
        status = measure(m, &is, &made->of[k]);
        if (status)
            return status;
        made->kinds++;
    }
    made->kind[day] = (unsigned char)k;
    return DREGS_OK;
}

dregs_status dregs_calendar_dates_of(const dregs_line *line, int year, unsigned month,
                                     const dregs_calendar_table *table,
                                     struct calendar_dates *dates, char *message)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    struct maker m = {line, table, dates, message, weekdays_of(s)};
    dregs_status status;
    unsigned day;

    memset(dates, 0, sizeof *dates);
    dates->weekdays = m.weekdays;
    dates->table = table;
    set_months(dates, year, month);
    status = check_rows(&m);
    for (day = 0; day < dates->first[2 * DREGS_MONTHS] && !status; day++)
        status = set_kind(&m, day);
    return status;
}

void dregs_calendar_dates_count(const struct calendar_dates *dates, unsigned month, unsigned months,
                                uint64_t *days, uint64_t *loads, double *seconds, double *idle)
{
    unsigned first = dates->first[month], last = dates->first[month + months], d;

    *days = *loads = 0;
    *idle = 0.0;
    for (d = first; d < last; d++) {
        const struct calendar_day *is = &dates->of[dates->kind[d]];
        *days += is->shifts > 0;
        *loads += is->shifts * is->loads;
        *idle += is->idle;
    }
    *seconds = (double)(last - first) * DAY;
}

dregs_status dregs_calendar_gaps_of_dates(const dregs_line *line, const dregs_calendar *calendar,
                                          const struct calendar_dates *dates,
                                          struct calendar_gaps *gaps)
{
    dregs_status status = dregs_calendar_gaps_new(line, calendar, gaps);
    unsigned k, i;

    for (k = 0; k < dates->kinds && !status; k++)
        for (i = 0; i < 2 && !status; i++) {
            unsigned at = CALENDAR_GAPS + 2 * k + i;
            gaps->gap[at] = i ? (struct gap){dates->of[k].idle, gaps->idling, calendar->idle_flow}
                              : (struct gap){dates->of[k].rest, gaps->resting, 1};
            status = dregs_balance_integrals_new(dregs_line_tanks(line), &gaps->integrals[at]);
            gaps->count = at + 1;
        }
    return status;
}
