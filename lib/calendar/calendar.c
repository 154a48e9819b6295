/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calendar.c: the schedule of a line in seconds, and the time in which no load passes.
 *
 * A year has 365 days, of which `days per year` are worked; they lie evenly over it, each followed
 * by the same idle time, and a month has its share of them. Holidays and weekends that bunch the
 * idle time are left out: what flows is the same, only concentrations would differ a little.
 */
#include "calendar/calendar.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DAY 86400.0

static const unsigned month_days[DREGS_MONTHS] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

uint64_t dregs_calendar_days_before(const dregs_calendar *calendar, unsigned month)
{
    unsigned days = 0, i;

    for (i = 0; i < month && i < DREGS_MONTHS; i++)
        days += month_days[i];
    /* to the nearest whole number, halves up */
    return (2 * calendar->days_per_year * days + DREGS_YEAR_DAYS) / (2 * DREGS_YEAR_DAYS);
}

/* The first row that a calendar needs and the schedule does not have; NULL for none. */
static const char *missing(const dregs_schedule *s)
{
    return !s->loads_per_shift.row  ? "loads per shift"
           : !s->shifts_per_day.row ? "shifts per day"
           : !s->days_per_year.row  ? "days per year"
                                    : NULL;
}

dregs_status dregs_calendar_of(const dregs_line *line, dregs_calendar *calendar, char *message)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    const char *lacks = missing(s);
    dregs_calendar c = {0};

    if (lacks && message)
        snprintf(message, DREGS_CALENDAR_MESSAGE,
                 s->name ? "the schedule does not state its %s"
                         : "the line has no schedule, which states its %s, shifts per day and "
                           "days per year",
                 lacks);
    if (lacks)
        return DREGS_BAD_DATA;
    c.loads_per_shift = (uint64_t)s->loads_per_shift.si;
    c.shifts_per_day = (uint64_t)s->shifts_per_day.si;
    c.days_per_year = (uint64_t)s->days_per_year.si;
    c.interval = dregs_line_load(line)->interval.si;
    c.shift_stated = s->shift_length.row != 0;
    c.shift = (double)c.loads_per_shift * c.interval;
    if (c.shift_stated) {
        c.shift_rest = s->shift_length.si - c.shift;
        /* a shift as long as its loads take, but for rounding, has no rest */
        if (c.shift_rest < 1e-9 * c.shift)
            c.shift_rest = 0.0;
        c.shift += c.shift_rest;
    }
    c.idle = DREGS_YEAR_DAYS * DAY / (double)c.days_per_year - (double)c.shifts_per_day * c.shift;
    if (c.idle < 1e-9 * DAY) /* the reader has refused days of more than 24 hours */
        c.idle = 0.0;
    c.idle_flow = s->idle_flow == 1;
    c.idle_flow_stated = s->idle_flow >= 0;
    *calendar = c;
    return DREGS_OK;
}

enum calendar_gap dregs_calendar_behind(const dregs_calendar *calendar, uint64_t day)
{
    return calendar->days_per_week && day % calendar->days_per_week == 0 ? CALENDAR_WEEKEND
                                                                         : CALENDAR_NIGHT;
}

dregs_status dregs_calendar_gaps_new(const dregs_line *line, const dregs_calendar *calendar,
                                     struct calendar_gaps *gaps)
{
    static const dregs_calendar without = {.idle_flow = 0};
    const dregs_calendar *c = calendar ? calendar : &without;
    size_t tanks = dregs_line_tanks(line);
    dregs_status status;
    unsigned i;

    memset(gaps, 0, sizeof *gaps);
    dregs_line_idle(line, 1, 0, gaps->resting);
    dregs_line_idle(line, c->idle_flow, 1, gaps->idling);
    gaps->gap[CALENDAR_REST] = (struct gap){c->shift_rest, gaps->resting, 1};
    gaps->gap[CALENDAR_NIGHT] = (struct gap){c->idle, gaps->idling, c->idle_flow};
    gaps->gap[CALENDAR_WEEKEND] = (struct gap){c->weekend, gaps->idling, c->idle_flow};
    status = dregs_balance_integrals_new(tanks, &gaps->between_loads);
    for (i = 0; i < CALENDAR_GAPS && !status; i++)
        status = dregs_balance_integrals_new(tanks, &gaps->integrals[i]);
    return status;
}

void dregs_calendar_gaps_clear(struct calendar_gaps *gaps)
{
    unsigned i;

    dregs_balance_integrals_free(&gaps->between_loads);
    for (i = 0; i < CALENDAR_GAPS; i++)
        dregs_balance_integrals_free(&gaps->integrals[i]);
}
