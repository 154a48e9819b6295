/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_week.c: the line by its schedule: what nights and weekends do to the residue. */
#include "calendar/calendar.h"
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

enum { WORDS = WEEK_WORDS };

/* "load 1 of day 1 (shift 2) of week 3 from the fresh start", "... once the weeks repeat" */
const char *dregs_page_predict_week_load(const struct prediction *p, const dregs_week_load *load,
                                         char into[WEEK_WORDS])
{
    const dregs_calendar *c = dregs_week_calendar(p->result->week);
    char shift[48] = "", week[64] = "";

    if (c->shifts_per_day > 1)
        snprintf(shift, sizeof shift, ", shift %llu", (unsigned long long)load->shift);
    if (!load->in_the_long_run || dregs_week_repeats(p->result->week) > 1)
        snprintf(week, sizeof week, " of week %llu", (unsigned long long)load->week);
    snprintf(into, WORDS, "load %llu of day %llu%s%s%s", (unsigned long long)load->of_shift,
             (unsigned long long)load->day, shift, week,
             load->in_the_long_run ? ", once the weeks repeat themselves"
                                   : " from the fresh start");
    return into;
}

/* ---- below the verdict ---- */

/* That not all is known: why. */
static void say_unknown(const struct prediction *p, const dregs_week_answer *answer)
{
    dregs_report_text(p->report, 2, 4,
                      "nights and weekends: the worst load is NOT KNOWN; %llu weeks were followed "
                      "from the fresh start, %s",
                      (unsigned long long)answer->followed,
                      answer->settles ? "and later ones may leave more"
                                      : "and the line does not come to repeat its weeks within "
                                        "reach");
}

void dregs_page_predict_week_verdict(const struct prediction *p,
                                     const dregs_predict_verdict *verdict)
{
    const dregs_predict_result *result = p->result;
    const dregs_week_answer *answer = verdict ? &verdict->in_week : &result->in_week;
    struct numbers n = {0};
    char load[WORDS];

    if (!result->week)
        return;
    if (!answer->known)
        say_unknown(p, answer);
    if (verdict && verdict->by_week)
        dregs_report_text(p->report, 2, 4,
                          "worst: %s; loads without a pause would leave at most %s ug/cm2",
                          dregs_page_predict_week_load(p, &answer->worst, load),
                          dregs_page_number(&n, verdict->worst.residue * UG_PER_CM2));
    else
        dregs_report_text(p->report, 2, 4, "with nights and weekends: at most %s ug/cm2, %s",
                          dregs_page_number(&n, answer->worst.residue * UG_PER_CM2),
                          dregs_page_predict_week_load(p, &answer->worst, load));
}

void dregs_page_predict_week_missing(const struct prediction *p)
{
    if (p->result->no_week)
        dregs_report_text(p->report, 2, 4, "nights and weekends are not counted: %s",
                          p->result->no_week);
}

/* ---- the table ---- */

static void put_row(dregs_table *table, const char *what, const dregs_week_load *load)
{
    struct numbers n = {0};

    dregs_table_word(table, what);
    dregs_table_number(table, load->residue * UG_PER_CM2);
    if (load->in_the_long_run)
        dregs_table_word(table, "repeating");
    else
        dregs_table_word(table, dregs_page_number(&n, (double)load->week));
    dregs_table_count(table, load->day);
    dregs_table_count(table, load->shift);
    dregs_table_count(table, load->of_shift);
    dregs_table_end_row(table);
}

static void put_table(const struct prediction *p, int where)
{
    const dregs_week_answer *answer = &p->result->in_week;
    dregs_table *table = dregs_report_table(p->report, "week", where);

    dregs_table_column(table, DREGS_COLUMN_WORD, "what", "", "", 30);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", "residue", "ug/cm2", -12);
    dregs_table_column(table, DREGS_COLUMN_WORD, "week", "week", "", -11);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "day", "day", "", -6);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "shift", "shift", "", -7);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", "load", "", -9);
    put_row(table, "worst of all", &answer->worst);
    if (answer->settles) {
        put_row(table, "worst, weeks that repeat", &answer->long_run);
        put_row(table, "first of a week, then", &answer->opening);
    }
    put_row(table, "worst of the first weeks", &answer->start_up);
}

static void say_weeks(const struct prediction *p)
{
    const dregs_week_answer *answer = &p->result->in_week;
    uint64_t repeats = dregs_week_repeats(p->result->week);

    if (answer->settles && repeats > 1)
        dregs_report_text(p->report, 0, 2,
                          "weeks and dumps fall together again every %llu weeks; the first %llu "
                          "weeks were followed load by load",
                          (unsigned long long)repeats, (unsigned long long)answer->followed);
    else if (answer->settles)
        dregs_report_text(p->report, 0, 2,
                          "behind %llu week%s from the fresh start the weeks repeat themselves, "
                          "within 0.1 %%",
                          (unsigned long long)answer->followed, answer->followed > 1 ? "s" : "");
    else
        dregs_report_text(p->report, 0, 2, "the first %llu weeks were followed load by load",
                          (unsigned long long)answer->followed);
}

void dregs_page_predict_say_week(const struct prediction *p)
{
    const dregs_calendar *c;
    struct numbers n = {0};

    if (!p->result->week)
        return;
    c = dregs_week_calendar(p->result->week);
    dregs_report_heading(p->report, "by the schedule, with nights and weekends");
    dregs_report_text(p->report, 0, 2,
                      "%llu days of %llu shift%s of %s h with %llu loads; nights of %s h, weekends "
                      "of %s h, flows %s",
                      (unsigned long long)c->days_per_week, (unsigned long long)c->shifts_per_day,
                      c->shifts_per_day > 1 ? "s" : "", dregs_page_number(&n, c->shift / 3600),
                      (unsigned long long)c->loads_per_shift, dregs_page_number(&n, c->idle / 3600),
                      dregs_page_number(&n, c->weekend / 3600), c->idle_flow ? "on" : "off");
    put_table(p, DREGS_IN_TEXT);
    say_weeks(p);
}

/* ---- for programs ---- */

static void put_week_load(const struct prediction *p, const char *key, const dregs_week_load *load)
{
    char name[64];

    snprintf(name, sizeof name, "%s_residue", key);
    dregs_report_figure(p->report, name, dregs_quantity_of(load->residue * UG_PER_CM2, "ug/cm2"));
    snprintf(name, sizeof name, "%s_load", key);
    dregs_report_count(p->report, name, load->load);
}

void dregs_page_predict_put_week(const struct prediction *p)
{
    const dregs_week_answer *answer = &p->result->in_week;

    if (!p->result->week)
        return;
    dregs_report_figure(p->report, "residue_without_pauses",
                        dregs_quantity_of(p->result->worst.residue * UG_PER_CM2, "ug/cm2"));
    dregs_report_count(p->report, "loads_per_week", dregs_week_loads(p->result->week));
    dregs_report_count(p->report, "weeks_repeat_after", dregs_week_repeats(p->result->week));
    dregs_report_flag(p->report, "worst_of_week_known", answer->known);
    dregs_report_flag(p->report, "weeks_repeat", answer->settles);
    put_week_load(p, "worst_of_week", &answer->worst);
    dregs_report_flag(p->report, "worst_of_week_repeats", answer->worst.in_the_long_run);
    dregs_report_count(p->report, "worst_of_week_week", answer->worst.week);
    dregs_report_count(p->report, "first_weeks", answer->followed);
    put_table(p, DREGS_IN_JSON);
}

void dregs_page_predict_week_rows(const dregs_predict_result *result, dregs_table *table)
{
    const dregs_week_answer *answer = &result->in_week;
    const struct {
        const char *quantity;
        const dregs_week_load *load;
    } rows[] = {{"residue of the week, worst", &answer->worst},
                {"residue of the week, worst that repeats", &answer->long_run},
                {"residue of the week, first load", &answer->opening},
                {"residue of the week, worst of the first weeks", &answer->start_up}};
    size_t i;

    for (i = 0; result->week && i < sizeof rows / sizeof rows[0]; i++) {
        if (rows[i].load->residue < 0)
            continue; /* the weeks do not come to repeat themselves */
        dregs_table_count(table, rows[i].load->load);
        dregs_table_word(table, NULL);
        dregs_table_word(table, dregs_page_solute(dregs_map_line(result->map), DREGS_EVERY_SOLUTE));
        dregs_table_word(table, rows[i].quantity);
        dregs_table_number(table, rows[i].load->residue * UG_PER_CM2);
        dregs_table_word(table, "ug/cm2");
        dregs_table_end_row(table);
    }
}

static void take_assumed(void *report, const char *text)
{
    dregs_report_assumed(report, text);
}

void dregs_page_predict_week_assumed(const struct prediction *p)
{
    if (p->result->week)
        dregs_calendar_assumed(p->line, dregs_week_calendar(p->result->week), NULL, 1, take_assumed,
                               p->report);
}

/* ---- the working ---- */

static void explain_load(const struct prediction *p, const char *what, const dregs_week_load *load)
{
    struct numbers n = {0};
    char name[WORDS];

    dregs_report_line(p->report, 4, "%s: %s ug/cm2, %s", what,
                      dregs_page_six(&n, load->residue * UG_PER_CM2),
                      dregs_page_predict_week_load(p, load, name));
}

void dregs_page_predict_explain_week(const struct prediction *p)
{
    const dregs_week_answer *answer = &p->result->in_week;
    const dregs_schedule *s = dregs_line_schedule(p->line);
    const dregs_calendar *c;
    struct numbers n = {0};

    if (!p->result->week)
        return;
    c = dregs_week_calendar(p->result->week);
    dregs_report_line(p->report, 2, "by the schedule, with nights and weekends");
    dregs_page_given(p->report, p->line, "loads per shift", (double)c->loads_per_shift, "",
                     s->loads_per_shift.row, "");
    dregs_page_given(p->report, p->line, "shifts per day", (double)c->shifts_per_day, "",
                     s->shifts_per_day.row, "");
    dregs_page_given(p->report, p->line, "days per week", (double)c->days_per_week, "",
                     s->days_per_week.row, "");
    dregs_page_given(p->report, p->line, "shift length", c->shift / 3600, "h", s->shift_length.row,
                     "assumed: loads per shift x T");
    dregs_report_line(p->report, 4,
                      "behind each load one interval; behind a shift %s h more, flows on; behind a "
                      "day 24 h - shifts x length = %s h, behind day %llu %s h, flows %s  [%s]",
                      dregs_page_six(&n, c->shift_rest / 3600), dregs_page_six(&n, c->idle / 3600),
                      (unsigned long long)c->days_per_week, dregs_page_six(&n, c->weekend / 3600),
                      c->idle_flow ? "on" : "off, and filters with them",
                      c->idle_flow_stated ? "idle flow of the schedule" : "assumed");
    dregs_report_text(p->report, 4, 6,
                      "each as dm/dt of the tanks above with its own rates, integrated exactly; "
                      "weeks that repeat: m = M m + b over %llu week%s of %llu loads",
                      (unsigned long long)dregs_week_repeats(p->result->week),
                      dregs_week_repeats(p->result->week) > 1 ? "s" : "",
                      (unsigned long long)dregs_week_loads(p->result->week));
    if (answer->settles) {
        explain_load(p, "worst of them", &answer->long_run);
        explain_load(p, "worst first load of a week", &answer->opening);
    }
    explain_load(p, "worst of the first weeks", &answer->start_up);
    if (!isnan(answer->beyond) && answer->beyond > 0)
        dregs_report_text(p->report, 4, 6,
                          "behind week %llu no load leaves more than %s ug/cm2: the worst that "
                          "repeats, and what the tanks then hold more than it, times the most that "
                          "any load leaves of it",
                          (unsigned long long)answer->followed,
                          dregs_page_six(&n, answer->beyond * UG_PER_CM2));
}

/* ---- the picture ---- */

struct hours {
    const dregs_predict_result *result;
    uint64_t week;
    int repeats;
};

struct filling {
    dregs_table *table;
    uint64_t day; /* loads of one */
};

/* An empty row between the days breaks the line. */
static void take_hour(void *user, double time, uint64_t load, const dregs_residue *residue)
{
    const struct filling *f = user;

    if (load > 1 && load % f->day == 1 % f->day) {
        dregs_table_number(f->table, time / 3600);
        dregs_table_count(f->table, load);
        dregs_table_number(f->table, NAN);
        dregs_table_end_row(f->table);
    }
    dregs_table_number(f->table, time / 3600);
    dregs_table_count(f->table, load);
    dregs_table_number(f->table, residue->total * UG_PER_CM2);
    dregs_table_end_row(f->table);
}

static dregs_status fill_hours(void *user, dregs_table *table)
{
    const struct hours *hours = user;
    const dregs_calendar *c = dregs_week_calendar(hours->result->week);
    struct filling f = {table, c->loads_per_shift * c->shifts_per_day};

    return dregs_week_each(hours->result->week, hours->week, hours->repeats, take_hour, &f);
}

static void put_hours(const struct prediction *p, const char *key, struct hours hours)
{
    dregs_table *table = dregs_report_table(p->report, key, DREGS_IN_PICTURE);

    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "h", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", NULL, "ug/cm2", 0);
    dregs_table_filled_by(table, fill_hours, dregs_report_lasting(p->report, &hours, sizeof hours));
}

void dregs_page_predict_week_picture(const struct prediction *p)
{
    enum { LOADS_MOST = 4000 }; /* more are too many to tell apart */
    const dregs_week_answer *answer = &p->result->in_week;
    dregs_chart *chart;
    unsigned i;

    if (!p->result->week || dregs_week_loads(p->result->week) > LOADS_MOST)
        return;
    chart = dregs_report_chart(p->report, "week", "Residue on the parts over the week");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "time in the week", "h", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", dregs_page_predict_far_off(p));
    if (answer->settles) {
        put_hours(p, "week_repeating", (struct hours){p->result, answer->long_run.week, 1});
        dregs_chart_series(chart, "weeks that repeat themselves", DREGS_MARK_LINE, "week_repeating",
                           "time", "residue");
    }
    put_hours(p, "week_first", (struct hours){p->result, 1, 0});
    dregs_chart_series(chart, "first week", DREGS_MARK_LINE, "week_first", "time", "residue");
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        char label[96] = "limit";
        if (verdict->solute != DREGS_EVERY_SOLUTE)
            snprintf(label, sizeof label, "limit of %.80s",
                     dregs_page_solute(p->line, verdict->solute));
        dregs_chart_limit(chart, label, verdict->limit.si * UG_PER_CM2);
    }
    dregs_chart_note(
        chart, "A value for each load. Between the days the line stands idle, with the flows %s.",
        dregs_week_calendar(p->result->week)->idle_flow ? "on" : "off");
}
