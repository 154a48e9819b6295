/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_page_text.c: the page for people: the answer in words, the balance, what dominates, what a
 * change would do; or one of the views; or several lines side by side.
 */
#include "page.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LITRES 1e3
#define GRAMS  1e3

enum { NAME = 26, FIGURE = 38, WIDE = 12, ROOM = 88 };

/* Which part of a tally a table shows. */
struct part {
    const dregs_tally *tally;
    unsigned stage, period;
};

/* A column of a table: a fluid, a solute, or (fluids + solutes) all liquids together. */
struct column {
    const char *name;
    unsigned index;
    int solute, all;
};

static dregs_tally_kind kind_of(const struct column *c)
{
    return c->all ? DREGS_TALLY_ALL : c->solute ? DREGS_TALLY_SOLUTES : DREGS_TALLY_VOLUMES;
}

/* In L or g. */
static double value_at(const struct part *p, const struct column *c, dregs_stream stream)
{
    return dregs_tally_cell(p->tally, kind_of(c), c->index, stream, p->stage, p->period) *
           (c->solute ? GRAMS : LITRES);
}

static int width_of(const struct column *c)
{
    int width = columns(c->name) + 2;

    return width > WIDE ? width : WIDE;
}

/* ---- a table of streams ---- */

static void print_value(double value)
{
    struct numbers n = {0};

    if (value == 0.0)
        cell("-", -WIDE);
    else
        cell(number(&n, value), -WIDE);
}

static void row_of(const char *name, const struct column *column, unsigned count,
                   const double *values)
{
    unsigned i;

    printf("  ");
    cell(name, NAME);
    for (i = 0; i < count; i++) {
        printf("%*s", width_of(&column[i]) - WIDE, "");
        print_value(values[i]);
    }
    printf("\n");
}

static void stream_row(const struct part *p, const struct column *column, unsigned count,
                       dregs_stream stream)
{
    double values[8];
    unsigned i;
    int any = 0;

    for (i = 0; i < count; i++) {
        values[i] = value_at(p, &column[i], stream);
        any = any || values[i] != 0.0;
    }
    if (any)
        row_of(dregs_stream_name(stream), column, count, values);
}

static void head_of(const char *title, const struct column *column, unsigned count)
{
    unsigned i;

    printf("\n");
    cell(title, NAME + 2);
    for (i = 0; i < count; i++)
        cell(column[i].name, -width_of(&column[i]));
    printf("\n");
}

/* What rounding leaves between both sides. */
static void print_open(const struct part *p, const struct column *column, unsigned count)
{
    unsigned i;

    printf("  ");
    cell("does not close by (share)", NAME);
    for (i = 0; i < count; i++) {
        double open = column[i].all ? NAN
                      : column[i].solute
                          ? dregs_tally_residual_solute(p->tally, column[i].index, p->period)
                          : dregs_tally_residual_fluid(p->tally, column[i].index, p->period);
        struct numbers n = {0};
        printf("%*s", width_of(&column[i]) - WIDE, "");
        cell(isnan(open) ? "" : open == 0.0 ? "0" : number(&n, open), -WIDE);
    }
    printf("\n");
}

/* In and out with their sums. */
static void print_balance(const struct part *p, const char *title, const struct column *column,
                          unsigned count)
{
    double in[8], out[8];
    unsigned i;
    int stream;

    for (i = 0; i < count; i++) {
        double unit = column[i].solute ? GRAMS : LITRES;
        dregs_tally_sides(p->tally, kind_of(&column[i]), column[i].index, p->stage, p->period,
                          &in[i], &out[i]);
        in[i] *= unit;
        out[i] *= unit;
    }
    head_of(title, column, count);
    stream_row(p, column, count, DREGS_STREAM_HELD_FIRST);
    for (stream = DREGS_STREAM_FILLED; stream <= DREGS_STREAM_SOIL; stream++)
        stream_row(p, column, count, (dregs_stream)stream);
    row_of("= in and held before", column, count, in);
    for (stream = DREGS_STREAM_DRAINED; stream <= DREGS_STREAM_LEFT; stream++)
        stream_row(p, column, count, (dregs_stream)stream);
    stream_row(p, column, count, DREGS_STREAM_HELD_LAST);
    row_of("= out and held after", column, count, out);
    print_open(p, column, count);
}

/* All streams of one stage, those within the line too. */
static void print_streams(const struct part *p, const char *title, const struct column *column,
                          unsigned count)
{
    int stream;

    head_of(title, column, count);
    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++)
        stream_row(p, column, count, (dregs_stream)stream);
}

typedef void print_table(const struct part *, const char *, const struct column *, unsigned);

/* The columns of a kind, as many tables as the page's width asks for. */
static void in_tables(const struct part *p, const char *title, int solutes, print_table *print)
{
    const dregs_line *line = dregs_tally_line(p->tally);
    unsigned all = solutes ? dregs_line_solutes(line) : dregs_line_fluids(line), i, count = 0;
    int used = NAME + 2;
    struct column column[8];

    for (i = 0; i < all + (!solutes && all > 1); i++) {
        struct column c = {i == all  ? "all"
                           : solutes ? dregs_line_solute(line, i)->name
                                     : dregs_line_fluid(line, i)->name,
                           i, solutes, i == all};
        if (count && (count == 8 || used + width_of(&c) > ROOM - 7)) {
            print(p, title, column, count);
            count = 0;
            used = NAME + 2;
        }
        column[count++] = c;
        used += width_of(&c);
    }
    print(p, title, column, count);
}

/* ---- the answer in words ---- */

const char *tally_month_name(unsigned month)
{
    static const char *const names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};

    return month < DREGS_MONTHS ? names[month] : "whole";
}

void tally_span_name(const dregs_tally *tally, const struct tally_request *request, char into[48])
{
    static const char *const names[] = {NULL, "a shift", "a day", "January", "a year"};
    uint64_t loads = dregs_tally_loads(tally, DREGS_WHOLE);

    if (request->span.span == DREGS_SPAN_LOADS)
        snprintf(into, 48, "%llu load%s", (unsigned long long)loads, loads == 1 ? "" : "s");
    else
        snprintf(into, 48, "%s", names[request->span.span]);
}

static void add_text(char *text, size_t room, const char *joint, double litres, const char *what)
{
    struct numbers n = {0};
    size_t used = strlen(text);

    if (!(litres > 0) || used + 1 >= room)
        return;
    if (litres >= 1000)
        snprintf(text + used, room - used, "%s%s m3%s", *text ? joint : "",
                 number(&n, litres / 1000), what);
    else
        snprintf(text + used, room - used, "%s%s L%s", *text ? joint : "", number(&n, litres),
                 what);
}

static void print_answer(const struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE);
    char span[48], takes[400] = "", goes[400] = "", text[1000], what[80];
    unsigned i;

    tally_span_name(tally, page->request, span);
    for (i = 0; i < dregs_line_fluids(line); i++) {
        snprintf(what, sizeof what, " of %.60s", dregs_line_fluid(line, i)->name);
        add_text(takes, sizeof takes, " and ",
                 dregs_tally_bought(tally, i, DREGS_WHOLE, DREGS_WHOLE) * LITRES, what);
    }
    add_text(goes, sizeof goes, ", ", o->to_drain * LITRES, " go down the drain");
    add_text(goes, sizeof goes, ", ", o->to_waste * LITRES, " to the waste tank");
    add_text(goes, sizeof goes, ", ", o->evaporated * LITRES, " into the air over the tanks");
    add_text(goes, sizeof goes, ", ", o->dried * LITRES, " dry off the parts");
    add_text(goes, sizeof goes, ", ", o->held_last * LITRES, " are in the tanks at the end");
    snprintf(text, sizeof text, "%s: %s%s take%s %s; %s", dregs_line_name(line), span,
             page->request->span.running ? " of a line that has run for one" : "",
             page->request->span.span == DREGS_SPAN_LOADS &&
                     dregs_tally_loads(tally, DREGS_WHOLE) > 1
                 ? ""
                 : "s",
             *takes ? takes : "nothing", goes);
    wrapped(text, 0, 2);
}

static void print_calendar(const struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_calendar *c = dregs_tally_calendar(tally);
    unsigned long long loads = dregs_tally_loads(tally, DREGS_WHOLE);
    unsigned long long days = dregs_tally_days(tally, DREGS_WHOLE);
    struct numbers n = {0};
    char text[300];

    if (page->request->span.span == DREGS_SPAN_LOADS)
        snprintf(text, sizeof text, "%llu loads in %s h, without a pause", loads,
                 number(&n, dregs_tally_seconds(tally, DREGS_WHOLE) / 3600));
    else if (!days)
        snprintf(text, sizeof text, "%llu loads in a shift of %s h", loads,
                 number(&n, c->shift / 3600));
    else
        snprintf(text, sizeof text,
                 "%llu loads on %llu working day%s of %llu shift%s of %s h, each followed by %s h "
                 "of idle time with the flows %s",
                 loads, days, days == 1 ? "" : "s", (unsigned long long)c->shifts_per_day,
                 c->shifts_per_day == 1 ? "" : "s", number(&n, c->shift / 3600),
                 number(&n, c->idle / 3600), c->idle_flow ? "on" : "off");
    printf("  ");
    wrapped(text, 2, 4);
    printf("  %s\n", page->request->span.running
                         ? "at the start the tanks hold what a year before has left in them"
                         : "at the start all tanks are filled fresh");
}

/* ---- costs, solvents, what dominates ---- */

static void print_costs(const struct tally_page *page)
{
    dregs_tally_cost cost = dregs_tally_costs(page->one->tally, DREGS_WHOLE);
    struct numbers n = {0};

    if (isnan(cost.total))
        return;
    printf("\ncost: %s %s, of it %s for liquid bought and %s for waste\n", number(&n, cost.total),
           page->one->currency, number(&n, cost.bought), number(&n, cost.disposal));
}

static void print_largest(const struct tally_page *page, int by_cost)
{
    const dregs_line *line = page->one->line;
    const dregs_tally_part *part;
    unsigned i;

    for (i = 0; (part = dregs_tally_result_part(page->answer, 0, by_cost, i)) != NULL; i++) {
        struct numbers n = {0};
        if (!i)
            printf("\nwhat dominates, by %s\n", by_cost ? "cost" : "volume of what leaves");
        printf("  %u. %s: %s, %s L", i + 1, dregs_line_stage(line, part->stage)->name,
               dregs_stream_name(part->stream), number(&n, part->volume * LITRES));
        if (part->fluid != DREGS_WHOLE)
            printf(" of %s", dregs_line_fluid(line, part->fluid)->name);
        if (by_cost)
            printf(", %s %s", number(&n, part->cost), page->one->currency);
        printf(": %s %%\n", number(&n, part->share * 100));
    }
}

static const char *unit_of(const dregs_tally_one *one, const char *unit)
{
    return strcmp(unit, "currency") == 0 ? one->currency : unit;
}

static void print_change(const struct tally_page *page, unsigned index)
{
    const dregs_tally_change *change = dregs_tally_result_change(page->answer, index);
    const dregs_tally_figure *f;
    unsigned i, shown = 0;

    printf("  ");
    wrapped(change->what, 2, 4);
    if (*change->reason) {
        printf("    not computed: ");
        wrapped(change->reason, 18, 6);
        return;
    }
    for (i = 0; (f = dregs_tally_result_changed(page->answer, index, i)) != NULL; i++) {
        struct numbers n = {0};
        if (!f->moves)
            continue;
        printf("    ");
        cell(f->name, NAME + 10);
        cell(number(&n, f->before), -10);
        printf(" -> ");
        cell(number(&n, f->value), 10);
        printf(" %s (%s%s)\n", unit_of(page->one, f->unit), f->difference > 0 ? "+" : "",
               number(&n, f->difference));
        shown++;
    }
    if (!shown)
        printf("    nothing changes\n");
}

static void print_changes(const struct tally_page *page)
{
    unsigned i;

    for (i = 0; dregs_tally_result_change(page->answer, i); i++) {
        if (!i)
            printf("\nwhat a change would do, the line computed anew with it\n");
        print_change(page, i);
    }
}

/* ---- views ---- */

static void print_stages(const struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    char title[100];
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        struct part part = {page->one->tally, i, DREGS_WHOLE};
        snprintf(title, sizeof title, "%.60s, L", dregs_line_stage(line, i)->name);
        in_tables(&part, title, 0, print_streams);
        snprintf(title, sizeof title, "%.60s, g", dregs_line_stage(line, i)->name);
        in_tables(&part, title, 1, print_streams);
    }
}

/* Where one liquid goes: every stream of every stage. */
static void print_liquid(const struct tally_page *page, unsigned fluid)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    double density = dregs_tally_density(tally, fluid);
    struct numbers n = {0};
    int stream;
    unsigned i;

    printf("\n%s", dregs_line_fluid(line, fluid)->name);
    if (isnan(density))
        printf(" (its density is not known)\n");
    else
        printf(" (%s kg/m3 at 20 degC)\n", number(&n, density));
    printf("  ");
    cell("", NAME + 16);
    cell("L", -WIDE);
    cell(isnan(density) ? "" : "kg", -WIDE);
    printf("\n");
    for (stream = 0; stream < DREGS_STREAM_ARRIVED; stream++)
        for (i = 0; i < dregs_line_stages(line); i++) {
            double volume = dregs_tally_fluid(tally, (dregs_stream)stream, fluid, i, DREGS_WHOLE);
            double mass = dregs_tally_cell(tally, DREGS_TALLY_MASSES, fluid, (dregs_stream)stream,
                                           i, DREGS_WHOLE);
            if (!(volume > 1e-15)) /* rounding of litres and more */
                continue;
            printf("  ");
            cell(dregs_stream_name((dregs_stream)stream), NAME);
            cell(dregs_line_stage(line, i)->name, 16);
            print_value(volume * LITRES);
            if (!isnan(density))
                print_value(mass);
            printf("\n");
        }
}

static void print_month(const struct tally_page *page, const char *name, unsigned period)
{
    const dregs_tally_outline *o = dregs_tally_result_outline(page->answer, 0, period);
    struct numbers n = {0};

    cell(name, 11);
    cell(number(&n, (double)dregs_tally_loads(page->one->tally, period)), -WIDE);
    print_value(o->bought * LITRES);
    print_value(o->to_drain * LITRES);
    print_value(o->to_waste * LITRES);
    print_value(o->evaporated * LITRES);
    print_value(o->dried * LITRES);
    if (!isnan(o->cost))
        print_value(o->cost);
    printf("\n");
}

static void print_months(const struct tally_page *page)
{
    double cost = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE)->cost;
    unsigned m;

    printf(
        "\nL                 loads   bought in    to drain    to waste  evaporated       dried%s\n",
        isnan(cost) ? "" : "        cost");
    for (m = 0; m < dregs_tally_periods(page->one->tally); m++)
        print_month(page, tally_month_name(m), m);
    print_month(page, "the year", DREGS_WHOLE);
    printf("to drain: overflows, spray runoff, blown off to drain; to waste: dumped, blown off to "
           "waste\n");
}

/* ---- several lines ---- */

static void head_of_comparison(unsigned lines)
{
    char title[24];
    unsigned i;

    cell("", FIGURE);
    for (i = 0; i < lines; i++) {
        snprintf(title, sizeof title, "%u.", i + 1);
        cell(title, -WIDE);
    }
    for (i = 1; i < lines; i++) {
        snprintf(title, sizeof title, "%u. - 1.", i + 1);
        cell(title, -WIDE);
    }
    printf("\n");
}

static void print_comparison(const struct tally_page *page)
{
    unsigned lines = page->request->files, f, i;
    const dregs_tally_compared *row;

    for (i = 0; i < lines; i++) {
        const dregs_tally_one *one = dregs_tally_result_line(page->answer, i);
        char span[48];
        tally_span_name(one->tally, page->request, span);
        printf("%u. %s, %s: %llu loads\n", i + 1, dregs_line_name(one->line), span,
               (unsigned long long)dregs_tally_loads(one->tally, DREGS_WHOLE));
    }
    printf("\n");
    head_of_comparison(lines);
    for (f = 0; (row = dregs_tally_result_compared(page->answer, f)) != NULL; f++) {
        struct numbers n = {0};
        char title[100];
        snprintf(title, sizeof title, "%s, %s", row->name,
                 unit_of(dregs_tally_result_line(page->answer, row->line), row->unit));
        cell(title, FIGURE);
        for (i = 0; i < lines; i++)
            cell(row->has[i] ? number(&n, row->value[i]) : "-", -WIDE);
        for (i = 1; i < lines; i++)
            print_value(row->difference[i]);
        printf("\n");
    }
}

/* ---- lists ---- */

static void print_note(const char *note, unsigned *count)
{
    if (!(*count)++)
        printf("\nassumed, because the file does not state it\n");
    printf("  ");
    wrapped(note, 2, 4);
}

static void print_assumed(const dregs_tally_one *one, unsigned questions)
{
    unsigned count = 0, i;

    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        print_note(dregs_tally_assumed(one->tally, i), &count);
    for (i = 0; dregs_line_assumed(one->line, i); i++)
        print_note(dregs_line_assumed(one->line, i), &count);
    for (i = 0; dregs_line_unused(one->line, questions, i); i++) {
        if (!i)
            printf("\nin the file, not used here\n");
        printf("  ");
        wrapped(dregs_line_unused(one->line, questions, i), 2, 4);
    }
}

static void print_soil(const struct part *p)
{
    const dregs_line *line = dregs_tally_line(p->tally);
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        struct numbers n = {0};
        double arrived =
            dregs_tally_solute(p->tally, DREGS_STREAM_ARRIVED, s, DREGS_WHOLE, DREGS_WHOLE);
        if (!(arrived > 0))
            continue;
        printf("  of %s g of %s on the parts %s g are taken off and %s g never come off\n",
               number(&n, arrived * GRAMS), dregs_line_solute(line, s)->name,
               number(&n,
                      dregs_tally_solute(p->tally, DREGS_STREAM_SOIL, s, DREGS_WHOLE, DREGS_WHOLE) *
                          GRAMS),
               number(&n, dregs_tally_solute(p->tally, DREGS_STREAM_ADHERING, s, DREGS_WHOLE,
                                             DREGS_WHOLE) *
                              GRAMS));
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
static void print_returned(const struct part *p)
{
    static const dregs_stream shown[] = {DREGS_STREAM_HANDED, DREGS_STREAM_CAUGHT,
                                         DREGS_STREAM_DRAWN, DREGS_STREAM_MOVED};
    const dregs_line *line = dregs_tally_line(p->tally);
    unsigned i, k;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (k = 0; k < 4; k++) {
            const dregs_stage *stage = dregs_line_stage(line, i);
            double volume = dregs_tally_volume(p->tally, shown[k], i, p->period);
            int taken = k >= 2; /* the stage is the one that takes */
            struct numbers n = {0};
            const char *other;
            if (!(volume > 0))
                continue;
            other = dregs_line_stage(line, other_end(stage, shown[k]).index)->name;
            printf("  used again: %s L from %s to %s (%s)\n", number(&n, volume * LITRES),
                   taken ? other : stage->name, taken ? stage->name : other,
                   dregs_stream_name(shown[k]));
        }
}

/* What a still gives back, and what it keeps. */
static void print_reclaimed(const struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    const dregs_tally_still *still;
    unsigned i;

    for (i = 0; (still = dregs_tally_result_still(page->answer, 0, i)) != NULL; i++) {
        struct numbers n = {0};
        char text[400];
        snprintf(text, sizeof text,
                 "%.60s: of %s L dumped or drained %s L come back as fresh %.60s and need not be "
                 "bought; %s L stay as still bottoms, with all solutes",
                 dregs_line_stage(line, still->stage)->name, number(&n, still->treated * LITRES),
                 number(&n, still->back * LITRES), dregs_line_fluid(line, still->fluid)->name,
                 number(&n, still->kept * LITRES));
        printf("  ");
        wrapped(text, 2, 4);
    }
}

static void print_one(const struct tally_page *page)
{
    struct part whole = {page->one->tally, DREGS_WHOLE, DREGS_WHOLE};
    unsigned i;

    switch (page->request->view) {
    case DREGS_TALLY_BY_STAGE:
        print_stages(page);
        return;
    case DREGS_TALLY_BY_LIQUID:
        for (i = 0; i < dregs_line_fluids(page->one->line); i++)
            print_liquid(page, i);
        return;
    case DREGS_TALLY_BY_MONTH:
        print_months(page);
        return;
    default:
        in_tables(&whole, "liquids, L", 0, print_balance);
        in_tables(&whole, "solutes, g", 1, print_balance);
        print_soil(&whole);
        print_returned(&whole);
        print_reclaimed(page);
        print_costs(page);
        print_largest(page, 0);
        print_largest(page, 1);
        print_changes(page);
    }
}

int tally_page_text(const struct tally_page *page)
{
    const dregs_tally_one *one;
    unsigned i;

    if (page->request->files > 1) {
        print_comparison(page);
        for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
            printf("\n%u. %s\n", i + 1, dregs_line_name(one->line));
            print_assumed(one, DREGS_ASKED_YEAR);
            page_cautions(one->line);
        }
        return FRONT_DONE;
    }
    print_answer(page);
    print_calendar(page);
    print_one(page);
    tally_law_text(page);
    tally_actual_text(page);
    print_assumed(page->one,
                  DREGS_ASKED_YEAR | (page->request->actual_file ? DREGS_ASKED_ACTUAL : 0u));
    page_cautions(page->one->line);
    return FRONT_DONE;
}
