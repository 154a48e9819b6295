/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_more.c: on the page of a sizing, what stands beside the answer: limits of concentration, the
 * loads that decide, the curve of liquid against residue.
 */
#include "calendar/calendar.h"
#include "dregs/stage.h"
#include "page/bounds.h"
#include "page/size.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void dregs_page_size_bound(const struct sizing *s)
{
    const dregs_bound *bound = dregs_sized_bound(s->result->sized);
    int surer = s->result->sureness && s->result->sureness->just; /* then the draws decide */
    char of[BOUND_WORDS], value[BOUND_WORDS], limit[BOUND_WORDS];
    struct numbers n = {0};

    if (!bound)
        return;
    dregs_report_text(s->report, 2, 4, "%s: %s comes to %s, limit %s (%s %%)",
                      bound->share > dregs_sized_compliance(s->result->sized)->of_limit
                          ? (bound->share > 1 ? "limit passed"
                             : surer          ? "nearest limit, as stated"
                                              : "this limit binds")
                          : "nearest limit",
                      dregs_page_bound_of(s->line, bound, of),
                      dregs_page_bound_value(s->line, bound, bound->reached, value),
                      dregs_page_bound_value(s->line, bound, bound->limit.si, limit),
                      dregs_page_number(&n, bound->share * 100));
}

void dregs_page_size_other_tanks(const struct sizing *s)
{
    const dregs_varied *varied = s->request->varied;
    unsigned i;

    if (dregs_varied_count(varied) != 1 ||
        strcmp(dregs_varied_property(varied, 0), "dump every") != 0)
        return;
    for (i = 0; i < dregs_line_stages(s->line); i++) {
        const dregs_stage *stage = dregs_line_stage(s->line, i);
        if (strcmp(stage->name, dregs_varied_stage(varied, 0, 0)) == 0)
            return;
        if (!dregs_stage_is(stage, DREGS_STAGE_RINSES) || stage->tank < 0 || stage->shares.row ||
            stage->flow.si > 0 || stage->dump_every.row)
            continue;
        dregs_report_text(s->report, 2, 4,
                          "'%s' before it is never dumped in the file, and what it comes to hold "
                          "decides that number; --vary '%s.dump every' too sizes both",
                          stage->name, stage->name);
    }
}

/* The bound, where it is nearer to its limit than the residue is. */
static const dregs_bound *nearer_bound(const dregs_sized *sized)
{
    const dregs_bound *bound = dregs_sized_bound(sized);

    return bound && bound->share > dregs_sized_compliance(sized)->of_limit ? bound : NULL;
}

void dregs_page_size_binds(const dregs_size_row *row, char *words, size_t room)
{
    const dregs_bound *bound = nearer_bound(row->sized);
    char of[BOUND_WORDS];

    if (dregs_sized_throughout(row->sized))
        snprintf(words, room, "nothing");
    else
        snprintf(words, room, "%s", bound ? dregs_page_bound_of(row->line, bound, of) : "residue");
}

void dregs_page_size_missed(const dregs_line *line, const dregs_sized *sized, double *times,
                            char *words, size_t room)
{
    const dregs_bound *bound = nearer_bound(sized);
    char of[BOUND_WORDS];

    *times = bound ? bound->share : dregs_sized_compliance(sized)->of_limit;
    snprintf(words, room, "%s", bound ? dregs_page_bound_of(line, bound, of) : "the residue");
}

/* A tank that is not dumped is rinsed through: it is as dirty as the target lets it be. */
static int is_beyond(const struct sizing *s, const dregs_bound *bound)
{
    return bound->share > 1 &&
           (bound->kind == DREGS_BOUND_CLEANER ||
            dregs_line_find(s->line, dregs_line_stage_name(s->line, bound->stage), "dump every") >
                0);
}

void dregs_page_size_described(const struct sizing *s)
{
    char of[BOUND_WORDS], value[BOUND_WORDS], limit[BOUND_WORDS];
    const dregs_bound *worst = NULL;
    unsigned i, count = 0;

    for (i = 0; s->result->described && i < dregs_bounds_count(s->result->described); i++) {
        const dregs_bound *bound = dregs_bounds_at(s->result->described, i);
        if (!is_beyond(s, bound))
            continue;
        count++;
        if (!worst || bound->share > worst->share)
            worst = bound;
    }
    if (!worst)
        return;
    dregs_report_text(s->report, 2, 4,
                      "CAUTION: %s comes to %s, beyond %s%s: the file describes no line like that; "
                      "state 'most' or 'least' of it for the stage",
                      dregs_page_bound_of(s->line, worst, of),
                      dregs_page_bound_value(s->line, worst, worst->reached, value),
                      dregs_page_bound_value(s->line, worst, worst->limit.si, limit),
                      count > 1 ? ", and others" : "");
}

/* Nights and weekends decide, or nobody knows. */
static void say_by_week(const struct sizing *s, const dregs_compliance *found)
{
    if (!isfinite(found->of_limit))
        dregs_report_words(s->report,
                           "nights and weekends: the worst load is NOT KNOWN, for weeks and dumps "
                           "do not fall together within reach; such numbers of loads count as not "
                           "met");
    else
        dregs_report_words(s->report, "nights and weekends decide: load %llu of %s",
                           (unsigned long long)found->load,
                           found->in_the_long_run ? "a week, once the weeks repeat themselves"
                                                  : "one of the first weeks");
}

void dregs_page_size_week(const struct sizing *s, const dregs_compliance *found)
{
    char lacks[DREGS_CALENDAR_MESSAGE];
    dregs_calendar calendar;

    if (!dregs_line_schedule(s->line)->name)
        return;
    if (dregs_calendar_of_week(s->line, &calendar, lacks))
        dregs_report_text(s->report, 2, 4, "nights and weekends are not counted: %s", lacks);
    else if (found)
        dregs_report_flag(s->report, "decided_by_week", found->by_week);
}

static void take_assumed(void *report, const char *text)
{
    dregs_report_assumed(report, text);
}

void dregs_page_size_week_assumed(const struct sizing *s)
{
    dregs_calendar calendar;

    if (s->request->criterion.by != DREGS_CRITERION_LOAD &&
        !dregs_calendar_of_week(s->line, &calendar, NULL))
        dregs_calendar_assumed(s->line, &calendar, NULL, 1, take_assumed, s->report);
}

void dregs_page_size_regime(const struct sizing *s)
{
    const dregs_compliance *found = dregs_sized_compliance(s->result->sized);
    unsigned long long load = found->load, period = s->result->period;
    char time[BOUND_WORDS];

    if (s->request->criterion.by == DREGS_CRITERION_LOAD)
        return;
    dregs_page_size_week(s, found);
    if (found->by_week)
        say_by_week(s, found);
    else if (found->in_the_long_run && period > 1)
        dregs_report_words(s->report,
                           "load %llu of each dump period of %llu decides, in the long "
                           "run",
                           load, period);
    else if (found->in_the_long_run)
        dregs_report_words(s->report, "the long run decides: all loads tend to it");
    else if (period > 1)
        dregs_report_words(s->report, "load %llu decides, the worst of all (dump period: %llu)",
                           load, period);
    else
        dregs_report_words(s->report, "load %llu decides, on the way from the first fills", load);
    if (s->result->settled)
        dregs_report_words(s->report, "; 95 %% of the long run is reached by load %llu (%s)",
                           (unsigned long long)s->result->settled,
                           dregs_page_bound_time(s->line, s->result->settled, time));
    dregs_report_end(s->report, 2, 4);
    dregs_report_figure(s->report, "deciding_load", dregs_quantity_of((double)found->load, "1"));
    dregs_report_flag(s->report, "in_the_long_run", found->in_the_long_run);
    if (s->result->settled)
        dregs_report_figure(s->report, "near_the_long_run",
                            dregs_quantity_of((double)s->result->settled, "1"));
}

static void curve_columns(const struct sizing *s, dregs_table *table)
{
    if (s->request->first) {
        dregs_table_column(table, DREGS_COLUMN_WORD, "layout", "layout", "", 33);
        dregs_table_column(table, DREGS_COLUMN_COUNT, "stages", "n", "", -2);
        dregs_table_gap(table, 2);
    }
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "limit", "limit x", "", -8);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", "residue", "ug/cm2", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "fresh_per_load", "fresh", "L/load", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "waste_per_load", "waste", "L/load", -10);
    if (s->result->by_cost)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "cost_per_load", "cost", "per load", -11);
    dregs_table_column(table, DREGS_COLUMN_WORD, "values", "with", "", 0);
    dregs_table_gap(table, 2);
}

static void put_point(const struct sizing *s, dregs_table *table, const dregs_size_point *point)
{
    const dregs_compliance *compliance = dregs_sized_compliance(point->sized);
    const dregs_use *use = dregs_sized_use(point->sized);
    const dregs_varied *varied = dregs_sized_varied(point->sized);
    int met = dregs_sized_feasible(point->sized);
    struct numbers n = {0};
    char values[320] = "";
    size_t used = 0;
    unsigned i;

    if (s->request->first) {
        dregs_table_word(table, dregs_layout_name(point->layout));
        dregs_table_count(table, point->stages);
    }
    dregs_table_number(table, point->share);
    dregs_table_number(table, met ? compliance->residue * UG_PER_CM2 : NAN);
    dregs_table_number(table, met ? use->bought * LITRES : NAN);
    dregs_table_number(table, met ? (use->to_drain + use->dumped) * LITRES : NAN);
    if (s->result->by_cost)
        dregs_table_number(table, met ? use->cost : NAN);
    for (i = 0; met && i < dregs_varied_count(varied) && used < sizeof values; i++) {
        const char *unit = dregs_page_size_unit(varied, i);
        used += (size_t)snprintf(values + used, sizeof values - used, "%s%s %s%s%s", i ? ", " : "",
                                 dregs_varied_property(varied, i),
                                 dregs_page_number(&n, dregs_page_size_found(point->sized, i)),
                                 *unit ? " " : "", unit);
    }
    dregs_table_word(table, met ? values : "not possible");
    dregs_table_end_row(table);
}

void dregs_page_size_curve(const struct sizing *s)
{
    dregs_table *table;
    size_t i;
    int surer;

    if (s->result->points == 0)
        return;
    surer = s->result->sureness && !isnan(s->result->sureness->confidence);
    dregs_report_heading(s->report, "what other limits would take (trade-off%s)",
                         surer ? "; as stated, not made surer" : "");
    table = dregs_report_table(s->report, "trade_off", DREGS_IN_TEXT | DREGS_IN_JSON);
    curve_columns(s, table);
    for (i = 0; i < s->result->points; i++)
        put_point(s, table, dregs_size_result_point(s->result, i));
}
