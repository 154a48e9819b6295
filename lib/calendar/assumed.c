/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* assumed.c: what a calendar takes for want of a row that says it. */
#include "base/time.h"
#include "calendar/calendar.h"
#include "line/line.h"

#include <stdarg.h>
#include <stdio.h>

struct saying {
    dregs_calendar_say *say;
    void *user;
};

static void tell(const struct saying *to, const char *format, ...) DREGS_FORMAT(2, 3);

static void tell(const struct saying *to, const char *format, ...)
{
    char text[200];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    to->say(to->user, text);
}

/* Baths, heaters and lids outside the shifts. */
static void tell_baths(const struct saying *to, const dregs_line *line)
{
    const dregs_schedule *schedule = dregs_line_schedule(line);
    unsigned t;

    for (t = 0; t < dregs_line_tanks(line); t++) {
        const dregs_tank *tank = dregs_line_tank(line, t);
        const dregs_stage *stage = dregs_line_stage(line, tank->stage);
        if (stage->evaporation.si > 0 && stage->idle_temperature.row)
            tell(to,
                 "%s: its stated evaporation goes on in idle time as in the shifts, at its idle "
                 "temperature too",
                 stage->name);
        else if (stage->evaporation.si > 0 && schedule->idle_heating == 0)
            tell(to, "%s: its stated evaporation goes on in idle time", stage->name);
        if (!(stage->open_area.si > 0))
            continue;
        if (!stage->covered_idle.row && !schedule->covered_idle.row)
            tell(to,
                 stage->covered.si > 0 ? "%s: its lid is on in idle time as in the shifts, %.4g %% "
                                         "of it"
                                       : "%s: no lid in idle time",
                 stage->name, stage->covered.si * 100);
        if (stage->idle_temperature.row)
            tell(to, "%s: at its idle temperature through all of the idle time", stage->name);
        else if (schedule->idle_heating == 0)
            tell(to, "%s: as warm as the room through all of the idle time", stage->name);
        else if (schedule->idle_heating < 0 && stage->temperature.row)
            tell(to, "%s: its bath keeps its temperature in idle time", stage->name);
    }
}

static void tell_days(const struct saying *to, const dregs_calendar *c)
{
    if (c->days_per_week && !c->days_per_year)
        tell(to, "weeks follow one another without holidays");
    else if (c->days_per_week && c->holidays > 0)
        tell(to,
             "holidays lie evenly behind the weeks of a year of %d days: %.4g h make each weekend "
             "longer",
             DREGS_YEAR_DAYS, c->holidays / 3600);
    else if (!c->days_per_week)
        tell(to,
             "working days lie evenly over a year of %d days, each with %.4g h of idle time behind "
             "it",
             DREGS_YEAR_DAYS, c->idle / 3600);
}

/* "Mon-Fri", "Tue Thu Sat" */
static const char *name_weekdays(unsigned days, char into[40])
{
    static const char names[DREGS_WEEKDAYS][4] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    unsigned first, last;
    size_t used = 0;

    into[0] = '\0';
    for (first = 0; first < DREGS_WEEKDAYS; first = last + 1) {
        last = first;
        if (!(days >> first & 1))
            continue;
        while (last + 1 < DREGS_WEEKDAYS && days >> (last + 1) & 1)
            last++;
        used += (size_t)snprintf(into + used, 40 - used, "%s%s%s%s", used ? " " : "", names[first],
                                 last > first ? "-" : "", last > first ? names[last] : "");
    }
    return into;
}

static void tell_dates(const struct saying *to, const dregs_line *line,
                       const struct calendar_dates *dates)
{
    const dregs_schedule *s = dregs_line_schedule(line);
    uint64_t days, loads;
    double seconds, idle;
    char text[40];
    unsigned t;

    if (!s->weekdays)
        tell(to, "%s are worked: the schedule does not name its weekdays",
             name_weekdays(dates->weekdays, text));
    if (!dates->table)
        tell(to, "no day of the year is closed but by its weekday: there is no calendar");
    tell(to, "the shifts of a day begin with it, at 0:00, and its idle time lies behind them");
    dregs_calendar_dates_count(dates, DREGS_MONTHS, DREGS_MONTHS, &days, &loads, &seconds, &idle);
    if (s->days_per_year.row && s->days_per_year.si != (double)days)
        tell(to, "%llu working days by date; the %.0f days per year of the file do not count",
             (unsigned long long)days, s->days_per_year.si);
    for (t = 0; t < dregs_line_stages(line); t++)
        if (dregs_line_stage(line, t)->dump_at != DREGS_DUMP_AT_LOADS)
            tell(to, "%s: dumped behind each %.0f loads, whatever days are closed",
                 dregs_line_stage(line, t)->name, dregs_line_stage(line, t)->dump_every.si);
}

void dregs_calendar_assumed(const dregs_line *line, const dregs_calendar *calendar,
                            const struct calendar_dates *dates, int days, dregs_calendar_say *say,
                            void *user)
{
    const struct saying to = {say, user};
    unsigned t, flows = 0;

    if (!calendar->shift_stated)
        tell(&to, "a shift lasts as long as its loads take, %g h", calendar->shift / 3600);
    if (!days)
        return;
    if (dates)
        tell_dates(&to, line, dates);
    else
        tell_days(&to, calendar);
    if (!(calendar->idle + calendar->weekend > 0))
        return;
    tell_baths(&to, line);
    for (t = 0; t < dregs_line_tanks(line); t++)
        flows += dregs_line_tank(line, t)->flow > 0;
    if (!calendar->idle_flow_stated && flows)
        tell(&to, "flows, filters and skimmers are off in idle time");
    else if (!calendar->idle_flow)
        tell(&to, "filters and skimmers are off with the flows in idle time");
}
