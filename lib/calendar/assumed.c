/* SPDX-License-Identifier: GPL-3.0-or-later */
/* assumed.c: what a calendar takes for want of a row that says it. */
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
        if (stage->evaporation.si > 0 && schedule->idle_heating == 0)
            tell(to, "%s: its stated evaporation goes on in idle time", stage->name);
        if (!(stage->open_area.si > 0))
            continue;
        if (schedule->idle_heating == 0)
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

void dregs_calendar_assumed(const dregs_line *line, const dregs_calendar *calendar, int days,
                            dregs_calendar_say *say, void *user)
{
    const struct saying to = {say, user};
    unsigned t, flows = 0;

    if (!calendar->shift_stated)
        tell(&to, "a shift lasts as long as its loads take, %g h", calendar->shift / 3600);
    if (!days)
        return;
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
