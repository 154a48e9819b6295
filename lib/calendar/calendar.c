/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* calendar.c: the schedule of a line in seconds, and the time in which no load passes.
 *
 * A week has seven days, of which the first `days per week` are worked: a night lies behind each,
 * and behind the last one the weekend. A year has 365 days, of which `days per year` are worked,
 * week after week from its first day on; what it then has left, the holidays, makes each weekend
 * longer by the same time. Where the days of a week are not stated, the working days lie evenly
 * over the year, each followed by the same idle time. A month has its share of the working days.
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

/* Says which row a schedule lacks; `last` is the one called `name`, NULL for none beyond the first
 * two. */
static dregs_status need(const dregs_schedule *s, const dregs_value *last, const char *name,
                         char *message)
{
    const char *lacks = !s->loads_per_shift.row  ? "loads per shift"
                        : !s->shifts_per_day.row ? "shifts per day"
                        : last && !last->row     ? name
                                                 : NULL;

    if (lacks && message && s->name)
        snprintf(message, DREGS_CALENDAR_MESSAGE, "the schedule does not state its %s", lacks);
    else if (lacks && message)
        snprintf(message, DREGS_CALENDAR_MESSAGE,
                 "the line has no schedule, which states its loads per shift%s shifts per day%s%s",
                 last ? "," : " and", last ? " and " : "", last ? name : "");
    return lacks ? DREGS_BAD_DATA : DREGS_OK;
}

/* What a day has, and the night behind it. */
static dregs_calendar day_of(const dregs_line *line)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    dregs_calendar c = {0};

    c.loads_per_shift = (uint64_t)s->loads_per_shift.si;
    c.shifts_per_day = (uint64_t)s->shifts_per_day.si;
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
    c.idle_flow = s->idle_flow == 1;
    c.idle_flow_stated = s->idle_flow >= 0;
    return c;
}

/* What is left of a time that the shifts of its days are taken from: the reader has refused days of
 * more than 24 hours. */
static double left_of(double time, double shifts)
{
    return time - shifts < 1e-9 * DAY ? 0.0 : time - shifts;
}

/* Nights, and a weekend as long as the rest of seven days. */
static void set_week(const dregs_schedule *s, dregs_calendar *c)
{
    c->days_per_week = (uint64_t)s->days_per_week.si;
    c->idle = left_of(DAY, (double)c->shifts_per_day * c->shift);
    c->weekend = (double)(7 - c->days_per_week) * DAY + c->idle;
}

dregs_status dregs_calendar_of_week(const dregs_line *line, dregs_calendar *calendar, char *message)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    dregs_status status = need(s, &s->days_per_week, "days per week", message);
    dregs_calendar c;

    if (!status && dregs_line_kinds(line) > 1) {
        if (message)
            snprintf(message, DREGS_CALENDAR_MESSAGE,
                     "for loads of several kinds they are not worked out");
        return DREGS_BAD_DATA;
    }
    if (status)
        return status;
    c = day_of(line);
    set_week(s, &c);
    *calendar = c;
    return DREGS_OK;
}

/* What the weeks leave of a year lies evenly behind them. */
static dregs_status set_holidays(dregs_calendar *c, char *message)
{
    uint64_t weeks = c->days_per_year / c->days_per_week;
    uint64_t days = c->days_per_year + weeks * (7 - c->days_per_week);

    if (weeks && days <= DREGS_YEAR_DAYS) {
        c->holidays = (double)(DREGS_YEAR_DAYS - days) * DAY / (double)weeks;
        c->weekend += c->holidays;
        return DREGS_OK;
    }
    if (message && weeks)
        snprintf(message, DREGS_CALENDAR_MESSAGE,
                 "%llu working days in weeks of %llu take %llu days; a year has %d",
                 (unsigned long long)c->days_per_year, (unsigned long long)c->days_per_week,
                 (unsigned long long)days, DREGS_YEAR_DAYS);
    else if (message)
        snprintf(message, DREGS_CALENDAR_MESSAGE,
                 "%llu working days in a year are less than a week of %llu",
                 (unsigned long long)c->days_per_year, (unsigned long long)c->days_per_week);
    return DREGS_BAD_DATA;
}

dregs_status dregs_calendar_of(const dregs_line *line, dregs_calendar *calendar, char *message)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    dregs_status status = need(s, &s->days_per_year, "days per year", message);
    dregs_calendar c;

    if (status)
        return status;
    c = day_of(line);
    c.days_per_year = (uint64_t)s->days_per_year.si;
    if (s->days_per_week.row) {
        set_week(s, &c);
        status = set_holidays(&c, message);
    } else {
        c.idle = left_of(DREGS_YEAR_DAYS * DAY / (double)c.days_per_year,
                         (double)c.shifts_per_day * c.shift);
    }
    if (!status)
        *calendar = c;
    return status;
}

dregs_status dregs_calendar_of_days(const dregs_line *line, dregs_calendar *calendar, char *message)
{
    dregs_status status = need(dregs_line_schedule(line), NULL, NULL, message);
    dregs_calendar c;

    if (status)
        return status;
    c = day_of(line);
    c.idle = left_of(DAY, (double)c.shifts_per_day * c.shift);
    *calendar = c;
    return DREGS_OK;
}

double dregs_calendar_seconds(const dregs_calendar *calendar, uint64_t before, uint64_t days)
{
    uint64_t week = calendar->days_per_week;
    uint64_t weekends = week ? (before + days) / week - before / week : 0;

    return (double)days * (double)calendar->shifts_per_day * calendar->shift +
           (double)(days - weekends) * calendar->idle + (double)weekends * calendar->weekend;
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
    gaps->count = CALENDAR_GAPS;
    status = dregs_balance_integrals_new(tanks, &gaps->between_loads);
    for (i = 0; i < CALENDAR_GAPS && !status; i++)
        status = dregs_balance_integrals_new(tanks, &gaps->integrals[i]);
    return status;
}

void dregs_calendar_gaps_clear(struct calendar_gaps *gaps)
{
    unsigned i;

    dregs_balance_integrals_free(&gaps->between_loads);
    for (i = 0; i < CALENDAR_GAPS_MOST; i++)
        dregs_balance_integrals_free(&gaps->integrals[i]);
}
