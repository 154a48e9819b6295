/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_working.c: how every stream of a tally comes about. */
#include "page/tally.h"

#include <math.h>

/* The months' ends. */
static void work_months(struct tally_page *page, const dregs_calendar *c)
{
    unsigned m;

    dregs_report_words(page->report,
                       "a month ends at day days x (calendar days so far) / 365, to the nearest:");
    for (m = 1; m <= DREGS_MONTHS; m++)
        dregs_report_words(page->report, " %llu",
                           (unsigned long long)dregs_calendar_days_before(c, m));
    dregs_report_end(page->report, 4, -1);
}

static void say_idle_flow(dregs_report *report, const dregs_calendar *c)
{
    dregs_report_line(report, 4, "flows in idle time %s  [%s]",
                      c->idle_flow ? "on" : "off, and filters with them",
                      c->idle_flow_stated ? "idle flow of the schedule" : "assumed");
}

static void work_idle_time(struct tally_page *page, const dregs_calendar *c)
{
    dregs_report *report = page->report;
    uint64_t weeks = c->days_per_week ? c->days_per_year / c->days_per_week : 0;
    struct numbers n = {0};

    if (weeks) {
        dregs_report_line(report, 4,
                          "night behind a day = 24 h - shifts x length = %s h; behind day %llu of "
                          "a week %llu days more",
                          dregs_page_six(&n, c->idle / 3600), (unsigned long long)c->days_per_week,
                          (unsigned long long)(7 - c->days_per_week));
        dregs_report_line(
            report, 4,
            "holidays behind each of %llu weeks = (365 - days per year - weeks x (7 - "
            "days per week)) x 24 h / weeks = %s h",
            (unsigned long long)weeks, dregs_page_six(&n, c->holidays / 3600));
    } else {
        dregs_report_line(report, 4,
                          "idle time behind a day = 365 x 24 h / days - shifts x length = %s h",
                          dregs_page_six(&n, c->idle / 3600));
    }
    say_idle_flow(report, c);
}

/* Days with a date of their own. */
static void work_dates(struct tally_page *page, const dregs_calendar *c)
{
    const dregs_tally *tally = page->one->tally;
    struct numbers n = {0};
    unsigned m;

    dregs_report_words(page->report, "working days by their dates: %llu",
                       (unsigned long long)dregs_tally_days(tally, DREGS_WHOLE));
    for (m = 0; dregs_tally_periods(tally) > 1 && m < dregs_tally_periods(tally); m++)
        dregs_report_words(page->report, "%s%llu", m ? " + " : " = ",
                           (unsigned long long)dregs_tally_days(tally, m));
    dregs_report_end(page->report, 4, 6);
    dregs_report_line(page->report, 4,
                      "idle time = 24 h of each day less its shifts, in all %s h of %s h",
                      dregs_page_six(&n, dregs_tally_idle(tally, DREGS_WHOLE) / 3600),
                      dregs_page_six(&n, dregs_tally_seconds(tally, DREGS_WHOLE) / 3600));
    say_idle_flow(page->report, c);
}

static void work_calendar(struct tally_page *page, const dregs_calendar *c)
{
    const dregs_line *line = page->one->line;
    const dregs_schedule *s = dregs_line_schedule(line);
    dregs_report *report = page->report;
    struct numbers n = {0};

    dregs_page_given(report, line, "loads per shift", (double)c->loads_per_shift, "",
                     s->loads_per_shift.row, "");
    dregs_page_given(report, line, "shifts per day", (double)c->shifts_per_day, "",
                     s->shifts_per_day.row, "");
    if (c->days_per_year)
        dregs_page_given(report, line, "days per year", (double)c->days_per_year, "",
                         s->days_per_year.row, "");
    if (c->days_per_week)
        dregs_page_given(report, line, "days per week", (double)c->days_per_week, "",
                         s->days_per_week.row, "");
    dregs_page_given(report, line, "shift length", c->shift / 3600, "h", s->shift_length.row,
                     "assumed: loads per shift x T");
    dregs_report_line(report, 4, "rest of a shift, flows on, no loads = %s h",
                      dregs_page_six(&n, c->shift_rest / 3600));
    if (dregs_tally_dated(page->one->tally) && page->span->span >= DREGS_SPAN_MONTH)
        work_dates(page, c);
    else
        work_idle_time(page, c);
    if (dregs_tally_periods(page->one->tally) > 1 && !dregs_tally_dated(page->one->tally))
        work_months(page, c);
}

/* NULL where loads follow one another without a pause. */
static const dregs_calendar *calendar_of(const struct tally_page *page)
{
    return page->span->span == DREGS_SPAN_LOADS ? NULL : dregs_tally_calendar(page->one->tally);
}

static void work_time(struct tally_page *page)
{
    const dregs_value *interval = &dregs_line_load(page->one->line)->interval;
    const dregs_calendar *c = calendar_of(page);

    dregs_report_line(page->report, 0, "1. Time");
    dregs_page_given(page->report, page->one->line, "interval T", interval->si / 60, "min",
                     interval->row, "");
    if (c)
        work_calendar(page, c);
    else
        dregs_report_line(page->report, 4, "%llu loads, one after another",
                          (unsigned long long)dregs_tally_loads(page->one->tally, DREGS_WHOLE));
}

/* In the rest of a shift, or outside the shifts. */
static void work_idle(struct tally_page *page, int idles, int flow)
{
    const dregs_line *line = page->one->line;
    dregs_tank idle[DREGS_LINE_STAGES];
    unsigned t;

    dregs_line_idle(line, flow, idles, idle);
    dregs_report_line(page->report, 2, "%s, flows %s",
                      idles ? "in idle time" : "in the rest of a shift", flow ? "on" : "off");
    for (t = 0; t < dregs_line_tanks(line); t++) {
        struct numbers n = {0};
        dregs_report_line(
            page->report, 4, "%s: flow %s, evaporation %s, overflow %s, top-up %s L/h",
            dregs_line_stage(line, idle[t].stage)->name, dregs_page_six(&n, idle[t].flow * L_PER_H),
            dregs_page_six(&n, idle[t].evaporation * L_PER_H),
            dregs_page_six(&n, idle[t].overflow * L_PER_H),
            dregs_page_six(&n, idle[t].top_up * L_PER_H));
    }
}

static void work_rates(struct tally_page *page)
{
    const dregs_calendar *c = calendar_of(page);
    unsigned t;

    dregs_report_heading(page->report, "2. Volume rates of each tank while loads pass");
    for (t = 0; t < dregs_line_tanks(page->one->line); t++)
        dregs_page_tank(page->report, page->one->line, t);
    if (!c)
        return;
    dregs_report_heading(page->report, "3. Volume rates while none passes: no films and no sprays, "
                                       "evaporation goes on");
    if (c->shift_rest > 0)
        work_idle(page, 0, 1);
    if (c->idle + c->weekend > 0)
        work_idle(page, 1, c->idle_flow);
}

/* How each stream is integrated. */
static const char *const ways[DREGS_STREAM_HELD_FIRST] = {
    [DREGS_STREAM_FILLED] = "volume x fresh content",
    [DREGS_STREAM_FED] = "flow x feed's content x time",
    [DREGS_STREAM_TOPPED] = "top-up rate x content x time",
    [DREGS_STREAM_REFILLED] = "volume x fresh content, at each dump",
    [DREGS_STREAM_SPRAYED] = "use x content, per load",
    [DREGS_STREAM_SOIL] = "removal x what adheres, per load",
    [DREGS_STREAM_DRAINED] = "overflow / V x integral of the tank's content",
    [DREGS_STREAM_RUNOFF] = "f + l S - f_out, per load",
    [DREGS_STREAM_DUMPED] = "the tank's content at each dump",
    [DREGS_STREAM_CLEARED] = "clearing / V x integral of the tank's content",
    [DREGS_STREAM_EVAPORATED] = "evaporation / V x integral of the tank's content",
    [DREGS_STREAM_DRIED] = "(1 - blow-off) x film, per load",
    [DREGS_STREAM_BLOWN_OFF] = "blow-off x film, per load",
    [DREGS_STREAM_COLLECTED] = "blow-off x film, per load",
    [DREGS_STREAM_LEFT] = "last film, per load",
    [DREGS_STREAM_PASSED] = "film, per load",
    [DREGS_STREAM_HANDED] = "overflow / V x integral of the tank's content",
    [DREGS_STREAM_DRAWN] = "top-up rate / V x integral of the giving tank's content",
    [DREGS_STREAM_MOVED] = "volume taken / V x the giving tank's content, at each dump",
    [DREGS_STREAM_CAUGHT] = "f + l S - f_out, per load"};

/* What a stream of a stage comes to, of every liquid and every solute. */
static void work_stream(struct tally_page *page, unsigned stage, dregs_stream stream)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    unsigned fluids = dregs_line_fluids(line), i;
    int any = 0;

    for (i = 0; i < fluids + dregs_line_solutes(line); i++) {
        double value =
            i < fluids ? dregs_tally_fluid(tally, stream, i, stage, DREGS_WHOLE) * LITRES
                       : dregs_tally_solute(tally, stream, i - fluids, stage, DREGS_WHOLE) * GRAMS;
        struct numbers n = {0};
        if (fabs(value) < 1e-15)
            continue;
        if (!any++)
            dregs_report_line(page->report, 4, "%s = %s:", dregs_stream_name(stream), ways[stream]);
        dregs_report_words(page->report, " %s %s %s;", dregs_page_six(&n, value),
                           i < fluids ? "L" : "g",
                           i < fluids ? dregs_line_fluid(line, i)->name
                                      : dregs_line_solute(line, i - fluids)->name);
    }
    if (any)
        dregs_report_end(page->report, 5, -1);
}

static void work_streams(struct tally_page *page)
{
    static const char *const words[] = {
        "solution dm/dt = G m + feed between loads and in idle time, and the dumps; their",
        "integrals come from the same solution. Liquids are carried like solutes that fill the",
        "tank: what a load brings or takes of it flows off or in until the next one."};
    const dregs_line *line = page->one->line;
    unsigned i;
    int stream;

    dregs_report_heading(page->report, "4. Streams: what each stage's come to. Contents follow the "
                                       "map of a load, the exact");
    for (i = 0; i < sizeof words / sizeof words[0]; i++)
        dregs_report_line(page->report, 3, "%s", words[i]);
    for (i = 0; i < dregs_line_stages(line); i++) {
        dregs_report_line(page->report, 2, "%s", dregs_line_stage(line, i)->name);
        for (stream = 0; stream < DREGS_STREAM_HELD_FIRST; stream++)
            work_stream(page, i, (dregs_stream)stream);
    }
}

static void work_closure(struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(page->report, "5. Closure: held before + in - held after - out, relative "
                                       "to the larger side");
    for (i = 0; i < dregs_line_fluids(line); i++)
        dregs_report_line(page->report, 4, "%s: %s", dregs_line_fluid(line, i)->name,
                          dregs_page_six(&n, dregs_tally_residual_fluid(tally, i, DREGS_WHOLE)));
    for (i = 0; i < dregs_line_solutes(line); i++)
        dregs_report_line(page->report, 4, "%s: %s", dregs_line_solute(line, i)->name,
                          dregs_page_six(&n, dregs_tally_residual_solute(tally, i, DREGS_WHOLE)));
}

static void work_costs(struct tally_page *page)
{
    dregs_tally_cost cost = dregs_tally_costs(page->one->tally, DREGS_WHOLE);
    const dregs_line *line = page->one->line;
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(page->report, "6. Cost: liquid bought at its price; drained, run off, "
                                       "blown off and dumped volumes at");
    dregs_report_line(page->report, 3, "the disposal of the fresh liquid of the stage they leave");
    for (i = 0; i < dregs_line_fluids(line); i++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, i);
        dregs_report_line(page->report, 2, "%s", fluid->name);
        if (fluid->price.row)
            dregs_page_given(page->report, line, "price", fluid->price.si, "per m3",
                             fluid->price.row, "");
        if (fluid->disposal.row)
            dregs_page_given(page->report, line, "disposal", fluid->disposal.si, "per m3",
                             fluid->disposal.row, "");
    }
    if (isnan(cost.total))
        dregs_report_line(page->report, 4, "no liquid in use states a price");
    else
        dregs_report_line(page->report, 4, "bought %s + waste %s = %s %s",
                          dregs_page_six(&n, cost.bought), dregs_page_six(&n, cost.disposal),
                          dregs_page_six(&n, cost.total), page->one->currency);
}

static void work_assumed(struct tally_page *page)
{
    const dregs_tally_one *one = page->one;
    unsigned i, k;

    dregs_report_heading(page->report, "7. Assumed, because the file does not state it");
    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        dregs_report_line(page->report, 4, "%s", dregs_tally_assumed(one->tally, i));
    for (k = 0; dregs_line_assumed(one->line, k); k++)
        dregs_report_line(page->report, 4, "%s", dregs_line_assumed(one->line, k));
    if (i + k == 0)
        dregs_report_line(page->report, 4, "nothing beyond the defaults marked above");
}

void dregs_page_tally_working(struct tally_page *page)
{
    work_time(page);
    work_rates(page);
    work_streams(page);
    work_closure(page);
    work_costs(page);
    work_assumed(page);
}
