/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.c: the page of a tally: the answer in words, the balance, the largest streams, what
 * changes would do; or one of the views, or the working; or several lines side by side.
 */
#include "page/tally.h"
#include "page/bounds.h"

#include <math.h>
#include <stdio.h>

#define TITLE_ASSUMED  "assumed, because the file does not state it"
#define TITLE_NOT_USED "in the file, not used here"
#define TITLE_CAUTIONS "cautions"

const char *dregs_page_month(unsigned month)
{
    static const char *const names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};

    return month < DREGS_MONTHS ? names[month] : "whole";
}

const char *dregs_page_tally_month(const dregs_tally *tally, unsigned period)
{
    return dregs_page_month(dregs_tally_month(tally, period));
}

void dregs_page_stream_row(dregs_table *table, const char *stream, const char *liquid,
                           const char *solute, const char *period, double value, const char *unit)
{
    dregs_table_word(table, stream);
    dregs_table_word(table, liquid);
    dregs_table_word(table, solute);
    dregs_table_word(table, period);
    dregs_table_in(table, value, unit);
    dregs_table_unit(table, unit);
    dregs_table_end_row(table);
}

double dregs_page_litres(const dregs_report *report)
{
    return LITRES * dregs_page_per(report, 1, "L");
}

/* ---- the answer in words ---- */

static void name_span(const struct tally_page *page, const dregs_tally *tally)
{
    static const char *const names[] = {NULL, "a shift", "a day", NULL, "a year"};
    const dregs_tally_dates *dates = dregs_tally_dated(tally);
    unsigned long long loads = dregs_tally_loads(tally, DREGS_WHOLE);

    if (page->span->span == DREGS_SPAN_LOADS)
        dregs_report_words(page->report, "%llu load%s", loads, loads == 1 ? "" : "s");
    else if (page->span->span == DREGS_SPAN_MONTH)
        dregs_report_words(page->report, "%s", dregs_page_tally_month(tally, DREGS_WHOLE));
    else if (page->span->span == DREGS_SPAN_QUARTER)
        dregs_report_words(page->report, "the quarter from %s",
                           dregs_page_tally_month(tally, DREGS_WHOLE));
    else
        dregs_report_words(page->report, "%s", names[page->span->span]);
    if (!dates)
        return;
    if (page->span->span == DREGS_SPAN_MONTH || page->span->span == DREGS_SPAN_QUARTER)
        dregs_report_words(page->report, " %d", dates->year);
    if (page->span->span == DREGS_SPAN_YEAR)
        dregs_report_words(page->report, " from %s %d", dregs_page_month(dates->month - 1),
                           dates->year);
}

/* A volume as a part of an enumeration; nothing where there is none. */
static void add_volume(struct tally_page *page, unsigned *shown, const char *joint, double volume,
                       const char *between, const char *what)
{
    double litres = volume * LITRES;
    struct numbers n = {0};

    if (!(litres > 0))
        return;
    dregs_report_words(page->report, "%s%s%s%s", (*shown)++ ? joint : "",
                       litres >= 1000 ? dregs_page_amount(page->report, &n, litres / 1000, "m3")
                                      : dregs_page_amount(page->report, &n, litres, "L"),
                       between, what);
}

/* The range of a volume, in the unit that the volume is shown in. */
static const char *between(const struct tally_page *page, dregs_tally_doubtful what, unsigned index,
                           double volume, char into[TALLY_BETWEEN])
{
    double unit = volume * LITRES >= 1000
                      ? dregs_page_per(page->report, volume, "m3")
                      : LITRES * dregs_page_per(page->report, volume * LITRES, "L");

    return dregs_page_tally_between(page->doubt, what, index, unit, into);
}

static void say_bought(struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    char range[TALLY_BETWEEN], liquid[160];
    unsigned i, takes = 0;

    for (i = 0; i < dregs_line_fluids(line); i++) {
        double volume = dregs_tally_bought(page->one->tally, i, DREGS_WHOLE, DREGS_WHOLE);
        snprintf(liquid, sizeof liquid, " of %.150s", dregs_line_fluid(line, i)->name);
        add_volume(page, &takes, " and ", volume,
                   between(page, DREGS_TALLY_RANGE_BOUGHT, i, volume, range), liquid);
    }
    dregs_report_words(page->report, "%s", takes ? "" : "nothing");
}

static void say_gone(struct tally_page *page, const dregs_tally_outline *o)
{
    const struct {
        dregs_tally_sum sum;
        double volume;
        const char *what;
    } ways[] = {{DREGS_TALLY_SUM_TO_DRAIN, o->to_drain, " go down the drain"},
                {DREGS_TALLY_SUM_TO_WASTE, o->to_waste, " to the waste tank"},
                {DREGS_TALLY_SUM_EVAPORATED, o->evaporated, " into the air over the tanks"},
                {DREGS_TALLY_SUM_DRIED, o->dried, " dry off the parts"},
                {DREGS_TALLY_SUM_HELD_LAST, o->held_last, " are in the tanks at the end"}};
    char range[TALLY_BETWEEN];
    unsigned i, goes = 0;

    for (i = 0; i < sizeof ways / sizeof ways[0]; i++)
        add_volume(page, &goes, ", ", ways[i].volume,
                   between(page, DREGS_TALLY_RANGE_OUTLINE, ways[i].sum, ways[i].volume, range),
                   ways[i].what);
}

static void say_answer(struct tally_page *page)
{
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE);
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    int several = page->span->span == DREGS_SPAN_LOADS && dregs_tally_loads(tally, DREGS_WHOLE) > 1;
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(page->report, "%s: ", dregs_line_name(line));
    name_span(page, tally);
    dregs_report_words(page->report, "%s take%s ",
                       page->span->running ? " of a line that has run for one" : "",
                       several ? "" : "s");
    say_bought(page);
    if (!isnan(o->cost))
        dregs_report_words(page->report, " and cost%s %s %s%s", several ? "" : "s",
                           dregs_page_number(&n, o->cost), page->one->currency,
                           dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_OUTLINE,
                                                    DREGS_TALLY_SUM_COST, 1, range));
    dregs_report_words(page->report, "; ");
    say_gone(page, o);
    dregs_report_end(page->report, 0, 2);
    dregs_page_tally_doubt_words(page);
}

/* Dumps that come too late: the tally goes on as if the bath still worked. */
void dregs_page_tally_life(dregs_report *report, const dregs_tally_one *one, int indent)
{
    const dregs_bound *life = one->bounds ? dregs_bounds_life(one->bounds) : NULL;

    if (!life)
        return;
    dregs_report_words(report, "bath life: ");
    dregs_page_bound_crossed(report, one->line, life);
    if (life->kind == DREGS_BOUND_CAPACITY) {
        dregs_report_words(report, ": these figures are of a line whose clearing goes on");
        dregs_report_end(report, indent, indent + 2);
        return;
    }
    dregs_report_words(report,
                       ": the line has to be run in another way, with %s sooner dumped or less "
                       "brought in, and these figures are of the line as it is stated",
                       dregs_line_stage(one->line, life->stage)->name);
    dregs_report_end(report, indent, indent + 2);
}

static void say_days(dregs_report *report, const dregs_calendar *c, unsigned long long loads,
                     unsigned long long days)
{
    struct numbers n = {0};

    dregs_report_words(report,
                       "%llu loads on %llu working day%s of %llu shift%s of %s h, each followed by "
                       "%s h",
                       loads, days, days == 1 ? "" : "s", (unsigned long long)c->shifts_per_day,
                       c->shifts_per_day == 1 ? "" : "s", dregs_page_number(&n, c->shift / 3600),
                       dregs_page_number(&n, c->idle / 3600));
    if (c->days_per_week && days >= c->days_per_week)
        dregs_report_words(report, ", day %llu of each week by %s h,",
                           (unsigned long long)c->days_per_week,
                           dregs_page_number(&n, c->weekend / 3600));
    dregs_report_words(report, " of idle time with the flows %s", c->idle_flow ? "on" : "off");
    dregs_report_end(report, 2, 4);
}

/* The same by dates: days differ. */
static void say_dates(dregs_report *report, const dregs_tally *tally)
{
    double seconds = dregs_tally_seconds(tally, DREGS_WHOLE);
    double idle = dregs_tally_idle(tally, DREGS_WHOLE);
    struct numbers n = {0};

    dregs_report_text(
        report, 2, 4,
        "%llu loads on %llu working days of %s by their dates: %s h of shifts, and %s h of "
        "idle time with the flows %s",
        (unsigned long long)dregs_tally_loads(tally, DREGS_WHOLE),
        (unsigned long long)dregs_tally_days(tally, DREGS_WHOLE),
        dregs_page_number(&n, seconds / 86400), dregs_page_number(&n, (seconds - idle) / 3600),
        dregs_page_number(&n, idle / 3600), dregs_tally_calendar(tally)->idle_flow ? "on" : "off");
}

/* What leaves while nobody works, and the tank that loses most of it. */
static void say_idle(struct tally_page *page)
{
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE);
    struct numbers n = {0};

    if (!(o->evaporated_idle > 0))
        return;
    dregs_report_text(page->report, 2, 4,
                      "in idle time %s evaporate, of %s in all; most over %s, %s",
                      dregs_page_amount(page->report, &n, o->evaporated_idle * LITRES, "L"),
                      dregs_page_amount(page->report, &n, o->evaporated * LITRES, "L"),
                      dregs_line_stage(page->one->line, o->idle_stage)->name,
                      dregs_page_amount(page->report, &n, o->idle_most * LITRES, "L"));
}

static void say_calendar(struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_calendar *c = dregs_tally_calendar(tally);
    unsigned long long loads = dregs_tally_loads(tally, DREGS_WHOLE);
    unsigned long long days = dregs_tally_days(tally, DREGS_WHOLE);
    dregs_report *report = page->report;
    struct numbers n = {0};

    if (dregs_line_part(page->one->line, 0))
        dregs_page_tally_site(page);
    else if (page->span->span == DREGS_SPAN_LOADS)
        dregs_report_text(report, 2, 4, "%llu loads in %s h, without a pause", loads,
                          dregs_page_number(&n, dregs_tally_seconds(tally, DREGS_WHOLE) / 3600));
    else if (!days)
        dregs_report_text(report, 2, 4, "%llu loads in a shift of %s h", loads,
                          dregs_page_number(&n, c->shift / 3600));
    else if (dregs_tally_dated(tally) && page->span->span != DREGS_SPAN_DAY)
        say_dates(report, tally);
    else
        say_days(report, c, loads, days);
    say_idle(page);
    dregs_report_line(report, 2, "%s",
                      page->span->running
                          ? "at the start the tanks hold what a year before has left in them"
                          : "at the start all tanks are filled fresh");
}

/* ---- below the balance ---- */

static void say_soil(struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        double arrived =
            dregs_tally_solute(tally, DREGS_STREAM_ARRIVED, s, DREGS_WHOLE, DREGS_WHOLE);
        double off = dregs_tally_solute(tally, DREGS_STREAM_SOIL, s, DREGS_WHOLE, DREGS_WHOLE);
        double on = dregs_tally_solute(tally, DREGS_STREAM_ADHERING, s, DREGS_WHOLE, DREGS_WHOLE);
        struct numbers n = {0};
        if (arrived > 0)
            dregs_report_text(page->report, 2, 4,
                              "of %s of %s on the parts %s are taken off and %s never come off",
                              dregs_page_amount(page->report, &n, arrived * GRAMS, "g"),
                              dregs_line_solute(line, s)->name,
                              dregs_page_amount(page->report, &n, off * GRAMS, "g"),
                              dregs_page_amount(page->report, &n, on * GRAMS, "g"));
    }
}

/* The other end of a stream within the line: where it goes, or for what is taken, where from. */
static dregs_link other_end(const dregs_stage *stage, dregs_stream stream)
{
    return stream == DREGS_STREAM_HANDED   ? stage->overflow_to
           : stream == DREGS_STREAM_CAUGHT ? stage->runoff_to
           : stream == DREGS_STREAM_DRAWN  ? stage->top_up_from
                                           : stage->refill_from;
}

/* Liquid that one stage gives to another and that is used again there. */
static void say_returned(struct tally_page *page)
{
    static const dregs_stream shown[] = {DREGS_STREAM_HANDED, DREGS_STREAM_CAUGHT,
                                         DREGS_STREAM_DRAWN, DREGS_STREAM_MOVED};
    const dregs_line *line = page->one->line;
    unsigned i, k;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (k = 0; k < 4; k++) {
            const dregs_stage *stage = dregs_line_stage(line, i);
            double volume = dregs_tally_volume(page->one->tally, shown[k], i, DREGS_WHOLE);
            int taken = k >= 2; /* the stage is the one that takes */
            struct numbers n = {0};
            const char *other;
            if (!(volume > 0))
                continue;
            other = dregs_page_link(line, other_end(stage, shown[k]));
            dregs_report_line(page->report, 2, "used again: %s from %s to %s (%s)",
                              dregs_page_amount(page->report, &n, volume * LITRES, "L"),
                              taken ? other : stage->name, taken ? stage->name : other,
                              dregs_stream_name(shown[k]));
        }
}

/* What a still gives back, and what it keeps. */
static void say_reclaimed(struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    const dregs_tally_still *still;
    unsigned i;

    for (i = 0; (still = dregs_tally_result_still(page->answer, 0, i)) != NULL; i++) {
        struct numbers n = {0};
        dregs_report_text(page->report, 2, 4,
                          "%s: of %s dumped or drained %s come back as fresh %s and need not be "
                          "bought; %s stay as still bottoms, with all solutes",
                          dregs_line_stage(line, still->stage)->name,
                          dregs_page_amount(page->report, &n, still->treated * LITRES, "L"),
                          dregs_page_amount(page->report, &n, still->back * LITRES, "L"),
                          dregs_line_fluid(line, still->fluid)->name,
                          dregs_page_amount(page->report, &n, still->kept * LITRES, "L"));
    }
}

static void say_costs(struct tally_page *page)
{
    dregs_tally_cost cost = dregs_tally_costs(page->one->tally, DREGS_WHOLE);
    double changes = dregs_tally_change_cost(page->one->tally, DREGS_WHOLE, DREGS_WHOLE);
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    if (isnan(cost.total))
        return;
    dregs_report_gap(page->report);
    dregs_report_words(page->report, "cost: %s %s%s, of it %s for liquid bought and %s for waste",
                       dregs_page_number(&n, cost.total), page->one->currency,
                       dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_OUTLINE,
                                                DREGS_TALLY_SUM_COST, 1, range),
                       dregs_page_number(&n, cost.bought), dregs_page_number(&n, cost.disposal));
    if (changes > 0)
        dregs_report_words(page->report, ", %s for changes of what clears the tanks",
                           dregs_page_number(&n, changes));
    dregs_report_end(page->report, 0, 2);
}

static void say_largest(struct tally_page *page, int by_cost)
{
    const dregs_line *line = page->one->line;
    const dregs_tally_part *part;
    char range[TALLY_BETWEEN];
    unsigned i;

    for (i = 0; (part = dregs_tally_result_part(page->answer, 0, by_cost, i)) != NULL; i++) {
        struct numbers n = {0};
        if (!i)
            dregs_report_heading(page->report, "largest streams, by %s",
                                 by_cost ? "cost" : "volume of what leaves");
        dregs_report_words(
            page->report, "%u. %s: %s, %s%s", i + 1, dregs_line_stage(line, part->stage)->name,
            dregs_stream_name(part->stream),
            dregs_page_amount(page->report, &n, part->volume * LITRES, "L"),
            by_cost ? ""
                    : dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_LARGEST, i,
                                               dregs_page_litres(page->report), range));
        if (part->fluid != DREGS_WHOLE)
            dregs_report_words(page->report, " of %s", dregs_line_fluid(line, part->fluid)->name);
        if (by_cost)
            dregs_report_words(
                page->report, ", %s %s%s", dregs_page_number(&n, part->cost), page->one->currency,
                dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_DEAREST, i, 1, range));
        dregs_report_words(page->report, ": %s %%", dregs_page_number(&n, part->share * 100));
        dregs_report_end(page->report, 2, -1);
    }
}

/* ---- the effect of changes ---- */

/* Returns how many figures move. */
static unsigned put_moved(struct tally_page *page, dregs_table *table, unsigned index)
{
    const dregs_tally_figure *f;
    unsigned i, moved = 0;

    for (i = 0; (f = dregs_tally_result_changed(page->answer, index, i)) != NULL; i++) {
        const char *unit = dregs_page_tally_unit(page->one, f->unit);
        char text[NUMBER_WORDS + 40];
        struct numbers n = {0};
        if (!f->moves)
            continue;
        dregs_table_word(table, f->name);
        dregs_table_in(table, f->before, unit);
        snprintf(text, sizeof text, "-> %s",
                 dregs_page_number(&n, dregs_report_value(page->report, f->value, unit)));
        dregs_table_shown(table, dregs_report_value(page->report, f->value, unit), text);
        snprintf(text, sizeof text, "%s (%s%s)", dregs_report_unit(page->report, unit),
                 f->difference > 0 ? "+" : "",
                 dregs_page_number(&n, dregs_report_value(page->report, f->difference, unit)));
        dregs_table_word(table, text);
        dregs_table_end_row(table);
        moved++;
    }
    return moved;
}

static void say_change(struct tally_page *page, unsigned index)
{
    const dregs_tally_change *change = dregs_tally_result_change(page->answer, index);
    dregs_table *table;
    char key[32];

    dregs_report_text(page->report, 2, 4, "%s", change->what);
    if (*change->reason) {
        dregs_report_text(page->report, 4, 6, "not computed: %s", change->reason);
        return;
    }
    snprintf(key, sizeof key, "change_%u", index + 1);
    table = dregs_report_table(page->report, key, DREGS_IN_TEXT);
    dregs_table_headless(table);
    dregs_table_indent(table, 4);
    dregs_table_column(table, DREGS_COLUMN_WORD, "name", "", "", 36);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "before", "", "", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", "", "", 13);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_WORD, "difference", "", "", 0);
    dregs_table_gap(table, 1);
    if (!put_moved(page, table, index))
        dregs_report_line(page->report, 4, "nothing changes");
}

static void say_changes(struct tally_page *page)
{
    unsigned i;

    for (i = 0; dregs_tally_result_change(page->answer, i); i++) {
        if (!i)
            dregs_report_heading(page->report, "effect of changes (recalculated)");
        say_change(page, i);
    }
}

/* ---- one line ---- */

static void say_view(struct tally_page *page, dregs_tally_view view)
{
    switch (view) {
    case DREGS_TALLY_BY_STAGE:
        dregs_page_tally_stages(page);
        return;
    case DREGS_TALLY_BY_LIQUID:
        dregs_page_tally_liquids(page);
        return;
    case DREGS_TALLY_BY_MONTH:
        dregs_page_tally_months(page);
        return;
    case DREGS_TALLY_BY_DRAIN:
        dregs_page_tally_drain(page);
        return;
    case DREGS_TALLY_BY_ENERGY:
        dregs_page_tally_energy(page);
        return;
    case DREGS_TALLY_BY_QUARTER:
        dregs_page_tally_quarters(page);
        return;
    case DREGS_TALLY_FORM:
        say_view(page, DREGS_TALLY_BALANCE);
        dregs_report_heading(page->report, "the drain");
        dregs_page_tally_drain(page);
        dregs_report_heading(page->report, "energy");
        dregs_page_tally_energy(page);
        dregs_page_tally_form(page);
        return;
    default:
        dregs_page_tally_balance(page);
        say_soil(page);
        say_returned(page);
        say_reclaimed(page);
        say_costs(page);
        dregs_page_tally_clearing(page);
        say_largest(page, 0);
        say_largest(page, 1);
        say_changes(page);
    }
}

/* What regulations ask, and what was bought; nothing where it was not asked. */
static void say_beside(struct tally_page *page, dregs_tally_view view, const char *purchases_file,
                       int explain)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);

    if (law)
        dregs_page_law(page, law);
    if (law && (explain || view == DREGS_TALLY_FORM)) /* each rule with its numbers put in */
        dregs_page_law_working(page->report, law, actual);
    if (actual)
        dregs_page_actual(page, actual, purchases_file ? purchases_file : "");
    if (actual && explain)
        dregs_page_actual_working(page->report, actual);
}

static void say_one(struct tally_page *page, dregs_tally_view view, const char *purchases_file,
                    int explain)
{
    const dregs_tally_one *one = page->one;
    unsigned i;

    dregs_report_show(page->report, DREGS_LIST_PRESSING, "");
    if (explain) {
        dregs_page_tally_working(page);
        dregs_page_tally_doubt_working(page);
        dregs_page_tally_clearing_working(page);
    } else {
        say_answer(page);
        dregs_page_tally_life(page->report, page->one, 0);
        say_calendar(page);
        dregs_page_tally_say_kinds(page);
        say_view(page, view);
    }
    say_beside(page, view, purchases_file, explain);
    if (!explain) {
        dregs_report_show(page->report, DREGS_LIST_ASSUMED, TITLE_ASSUMED);
        dregs_report_show(page->report, DREGS_LIST_NOT_USED, TITLE_NOT_USED);
    }
    dregs_report_show(page->report, DREGS_LIST_CAUTIONS, TITLE_CAUTIONS);
    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        dregs_report_assumed(page->report, dregs_tally_assumed(one->tally, i));
    dregs_page_marked(page->report, one->line);
    dregs_page_notes(page->report, one->line,
                     DREGS_ASKED_YEAR | (page->doubt ? DREGS_ASKED_DOUBT : 0u) |
                         (dregs_tally_result_actual(page->answer) ? DREGS_ASKED_ACTUAL : 0u));
    dregs_page_cautions(page->report, one->caution, one->cautions);
}

/* ---- several lines: a list of each, and for programs one of all with the line's name ---- */

typedef const char *text_of(const dregs_tally_one *, unsigned);
typedef void take_text(dregs_report *, const char *);

static const char *assumed_of(const dregs_tally_one *one, unsigned index)
{
    unsigned own = 0;

    while (own < index && dregs_tally_assumed(one->tally, own))
        own++;
    return dregs_tally_assumed(one->tally, own) ? dregs_tally_assumed(one->tally, index)
                                                : dregs_line_assumed(one->line, index - own);
}

static const char *unused_of(const dregs_tally_one *one, unsigned index)
{
    return dregs_line_unused(one->line, DREGS_ASKED_YEAR, index);
}

static const char *unused_with_draws(const dregs_tally_one *one, unsigned index)
{
    return dregs_line_unused(one->line, DREGS_ASKED_YEAR | DREGS_ASKED_DOUBT, index);
}

static void say_list(struct tally_page *page, const dregs_tally_one *one, const char *title,
                     text_of *text, take_text *take)
{
    char named[1200];
    unsigned i;

    for (i = 0; text(one, i); i++) {
        if (!i)
            dregs_report_heading(page->report, "%s", title);
        dregs_report_text(page->report, 2, 4, "%s", text(one, i));
        snprintf(named, sizeof named, "%s: %s", dregs_line_name(one->line), text(one, i));
        take(page->report, named);
    }
}

static void say_cautions(struct tally_page *page, const dregs_tally_one *one)
{
    const char *name = dregs_line_name(one->line);
    unsigned i;

    for (i = 0; i < one->cautions; i++)
        dregs_page_caution(page->report, &one->caution[i], name);
    dregs_report_show_cautions_of(page->report, name, TITLE_CAUTIONS);
}

static void say_several(struct tally_page *page)
{
    const dregs_tally_one *one;
    unsigned i;

    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        dregs_report_words(page->report, "%u. %s, ", i + 1, dregs_line_name(one->line));
        name_span(page, one->tally);
        dregs_report_words(page->report, ": %llu loads",
                           (unsigned long long)dregs_tally_loads(one->tally, DREGS_WHOLE));
        dregs_report_end(page->report, 0, -1);
    }
    dregs_page_tally_compared(page);
    dregs_page_tally_instead(page);
    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        dregs_report_heading(page->report, "%u. %s", i + 1, dregs_line_name(one->line));
        say_list(page, one, TITLE_ASSUMED, assumed_of, dregs_report_assumed);
        say_list(page, one, TITLE_NOT_USED, page->doubt ? unused_with_draws : unused_of,
                 dregs_report_not_used);
        say_cautions(page, one);
    }
    dregs_report_decided_by(page->report, dregs_caution_deference());
}

dregs_status dregs_page_tally(const dregs_tally_result *answer, dregs_tally_view view,
                              const char *purchases_file, int explain, dregs_report **report)
{
    return dregs_page_tally_with(answer, NULL, view, purchases_file, explain, report);
}

dregs_status dregs_page_tally_with(const dregs_tally_result *answer, const dregs_tally_doubt *doubt,
                                   dregs_tally_view view, const char *purchases_file, int explain,
                                   dregs_report **report)
{
    return dregs_page_tally_in(answer, doubt, view, purchases_file, explain, DREGS_UNITS_SI,
                               report);
}

dregs_status dregs_page_tally_in(const dregs_tally_result *answer, const dregs_tally_doubt *doubt,
                                 dregs_tally_view view, const char *purchases_file, int explain,
                                 dregs_units units, dregs_report **report)
{
    struct tally_page page = {
        NULL,  answer, dregs_tally_result_line(answer, 0), dregs_tally_result_span(answer), 0,
        doubt, view};
    int several = dregs_tally_result_line(answer, 1) != NULL;

    page.report = dregs_report_new("tally", several ? NULL : dregs_line_name(page.one->line));
    if (!page.report)
        return DREGS_NO_MEMORY;
    dregs_report_units(page.report, units);
    if (several)
        say_several(&page);
    else
        say_one(&page, view, purchases_file, explain);
    dregs_page_tally_csv(&page, view);
    dregs_page_tally_data(&page);
    dregs_page_tally_pictures(&page);
    return dregs_page_end(page.report, report);
}
