/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_page_text.c: the page for people: the answer in words, the balance, what dominates, what a
 * change would do; or one of the views; or several lines side by side.
 */
#include "page.h"
#include "tally.h"
#include "tally_actual.h"
#include "tally_law.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LITRES 1e3
#define GRAMS  1e3
#define SEEN   5e-4 /* smaller relative changes are not shown */

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

static double value_at(const struct part *p, const struct column *c, dregs_stream stream)
{
    if (c->all)
        return dregs_tally_volume(p->tally, stream, p->stage, p->period) * LITRES;
    if (c->solute)
        return dregs_tally_solute(p->tally, stream, c->index, p->stage, p->period) * GRAMS;
    return dregs_tally_fluid(p->tally, stream, c->index, p->stage, p->period) * LITRES;
}

static int width_of(const struct column *c)
{
    int width = columns(c->name) + 2;

    return width > WIDE ? width : WIDE;
}

/* ---- a table of streams ---- */

/* A difference of rounding would only confuse: what is under 1e-12 of the column's largest. */
static double plain(double value, double largest)
{
    return fabs(value) <= 1e-12 * largest ? 0.0 : value;
}

static double largest_of(const struct part *p, const struct column *c)
{
    double most = 0.0;
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++)
        most = fmax(most, fabs(value_at(p, c, (dregs_stream)stream)));
    return most;
}

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
                       dregs_stream stream, double *sum)
{
    double values[8];
    unsigned i;
    int any = 0;

    for (i = 0; i < count; i++) {
        values[i] = plain(value_at(p, &column[i], stream), largest_of(p, &column[i]));
        any = any || values[i] != 0.0;
        if (sum)
            sum[i] += values[i];
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

/* In and out with their sums, and what rounding leaves between them. */
static void print_balance(const struct part *p, const char *title, const struct column *column,
                          unsigned count)
{
    double in[8] = {0}, out[8] = {0}, open[8];
    struct numbers n = {0};
    unsigned i;
    int stream;

    head_of(title, column, count);
    stream_row(p, column, count, DREGS_STREAM_HELD_FIRST, in);
    for (stream = DREGS_STREAM_FILLED; stream <= DREGS_STREAM_SOIL; stream++)
        stream_row(p, column, count, (dregs_stream)stream, in);
    row_of("= in and held before", column, count, in);
    for (stream = DREGS_STREAM_DRAINED; stream <= DREGS_STREAM_LEFT; stream++)
        stream_row(p, column, count, (dregs_stream)stream, out);
    stream_row(p, column, count, DREGS_STREAM_HELD_LAST, out);
    row_of("= out and held after", column, count, out);
    printf("  ");
    cell("does not close by (share)", NAME);
    for (i = 0; i < count; i++) {
        open[i] = column[i].all ? NAN
                  : column[i].solute
                      ? dregs_tally_residual_solute(p->tally, column[i].index, p->period)
                      : dregs_tally_residual_fluid(p->tally, column[i].index, p->period);
        printf("%*s", width_of(&column[i]) - WIDE, "");
        cell(isnan(open[i]) ? "" : open[i] == 0.0 ? "0" : number(&n, open[i]), -WIDE);
    }
    printf("\n");
}

/* All streams of one stage, those within the line too. */
static void print_streams(const struct part *p, const char *title, const struct column *column,
                          unsigned count)
{
    int stream;

    head_of(title, column, count);
    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++)
        stream_row(p, column, count, (dregs_stream)stream, NULL);
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

static void print_answer(const struct tally_answer *answer)
{
    const dregs_tally *tally = answer->one[0].tally;
    const dregs_line *line = answer->one[0].line;
    char span[48], takes[400] = "", goes[400] = "", text[1000], what[80];
    unsigned i;

#define ALL(which) dregs_tally_volume(tally, DREGS_STREAM_##which, DREGS_WHOLE, DREGS_WHOLE)
    tally_span_name(tally, answer->request, span);
    for (i = 0; i < dregs_line_fluids(line); i++) {
        snprintf(what, sizeof what, " of %.60s", dregs_line_fluid(line, i)->name);
        add_text(takes, sizeof takes, " and ",
                 dregs_tally_bought(tally, i, DREGS_WHOLE, DREGS_WHOLE) * LITRES, what);
    }
    add_text(goes, sizeof goes, ", ", (ALL(DRAINED) + ALL(RUNOFF)) * LITRES, " go down the drain");
    add_text(goes, sizeof goes, ", ", ALL(DUMPED) * LITRES, " to the waste tank");
    add_text(goes, sizeof goes, ", ", ALL(EVAPORATED) * LITRES, " into the air over the tanks");
    add_text(goes, sizeof goes, ", ", ALL(DRIED) * LITRES, " dry off the parts");
    add_text(goes, sizeof goes, ", ", ALL(BLOWN_OFF) * LITRES, " are blown off");
    add_text(goes, sizeof goes, ", ", ALL(HELD_LAST) * LITRES, " are in the tanks at the end");
#undef ALL
    snprintf(text, sizeof text, "%s: %s%s take%s %s; %s", dregs_line_name(line), span,
             answer->request->span.running ? " of a line that has run for one" : "",
             answer->request->span.span == DREGS_SPAN_LOADS &&
                     dregs_tally_loads(tally, DREGS_WHOLE) > 1
                 ? ""
                 : "s",
             *takes ? takes : "nothing", goes);
    wrapped(text, 0, 2);
}

static void print_calendar(const struct tally_answer *answer)
{
    const dregs_tally *tally = answer->one[0].tally;
    const dregs_calendar *c = dregs_tally_calendar(tally);
    unsigned long long loads = dregs_tally_loads(tally, DREGS_WHOLE);
    unsigned long long days = dregs_tally_days(tally, DREGS_WHOLE);
    struct numbers n = {0};
    char text[300];

    if (answer->request->span.span == DREGS_SPAN_LOADS)
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
    printf("  %s\n", answer->request->span.running
                         ? "at the start the tanks hold what a year before has left in them"
                         : "at the start all tanks are filled fresh");
}

/* ---- costs, solvents, what dominates ---- */

static void print_costs(const struct tally_answer *answer)
{
    dregs_tally_cost cost = dregs_tally_costs(answer->one[0].tally, DREGS_WHOLE);
    char currency[16];
    struct numbers n = {0};

    if (isnan(cost.total))
        return;
    tally_currency(answer->one[0].line, currency);
    printf("\ncost: %s %s, of it %s for liquid bought and %s for waste\n", number(&n, cost.total),
           currency, number(&n, cost.bought), number(&n, cost.disposal));
}

static void print_largest(const struct tally_answer *answer, int by_cost)
{
    const dregs_line *line = answer->one[0].line;
    struct tally_part part[TALLY_PARTS_MOST];
    unsigned count = tally_largest(answer->one[0].tally, by_cost, part), i;
    char currency[16];

    if (!count)
        return;
    tally_currency(line, currency);
    printf("\nwhat dominates, by %s\n", by_cost ? "cost" : "volume of what leaves");
    for (i = 0; i < count; i++) {
        struct numbers n = {0};
        printf("  %u. %s: %s, %s L", i + 1, dregs_line_stage(line, part[i].stage)->name,
               dregs_stream_name(part[i].stream), number(&n, part[i].volume * LITRES));
        if (part[i].fluid != DREGS_WHOLE)
            printf(" of %s", dregs_line_fluid(line, part[i].fluid)->name);
        if (by_cost)
            printf(", %s %s", number(&n, part[i].cost), currency);
        printf(": %s %%\n", number(&n, part[i].share * 100));
    }
}

static const char *unit_of(const dregs_line *line, const struct tally_figure *f, char into[16])
{
    if (strcmp(f->unit, "currency") != 0)
        return f->unit;
    tally_currency(line, into);
    return into;
}

static void print_change(const struct tally_answer *answer, const struct tally_change *change,
                         const struct tally_figures *now)
{
    struct tally_figures then;
    unsigned i, shown = 0;

    printf("  ");
    wrapped(change->what, 2, 4);
    if (*change->reason) {
        printf("    not computed: ");
        wrapped(change->reason, 18, 6);
        return;
    }
    tally_figures_of(change->tally, change->residue, &then);
    for (i = 0; i < then.count; i++) {
        const struct tally_figure *f = &then.figure[i];
        const struct tally_figure *before = tally_figure_named(now, f->name);
        struct numbers n = {0};
        char currency[16];
        if (!before ||
            !(fabs(f->value - before->value) > SEEN * fmax(fabs(f->value), fabs(before->value))))
            continue;
        printf("    ");
        cell(f->name, NAME + 10);
        cell(number(&n, before->value), -10);
        printf(" -> ");
        cell(number(&n, f->value), 10);
        printf(" %s (%s%s)\n", unit_of(answer->one[0].line, f, currency),
               f->value > before->value ? "+" : "", number(&n, f->value - before->value));
        shown++;
    }
    if (!shown)
        printf("    nothing changes\n");
}

static void print_changes(const struct tally_answer *answer)
{
    struct tally_figures now;
    unsigned i;

    if (!answer->changes)
        return;
    tally_figures_of(answer->one[0].tally, answer->one[0].residue, &now);
    printf("\nwhat a change would do, the line computed anew with it\n");
    for (i = 0; i < answer->changes; i++)
        print_change(answer, &answer->change[i], &now);
}

/* ---- views ---- */

static void print_stages(const struct tally_answer *answer)
{
    const dregs_line *line = answer->one[0].line;
    char title[100];
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        struct part part = {answer->one[0].tally, i, DREGS_WHOLE};
        snprintf(title, sizeof title, "%.60s, L", dregs_line_stage(line, i)->name);
        in_tables(&part, title, 0, print_streams);
        snprintf(title, sizeof title, "%.60s, g", dregs_line_stage(line, i)->name);
        in_tables(&part, title, 1, print_streams);
    }
}

/* Where one liquid goes: every stream of every stage. */
static void print_liquid(const struct tally_answer *answer, unsigned fluid)
{
    const dregs_tally *tally = answer->one[0].tally;
    const dregs_line *line = answer->one[0].line;
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
            if (!(volume > 1e-15)) /* rounding of litres and more */
                continue;
            printf("  ");
            cell(dregs_stream_name((dregs_stream)stream), NAME);
            cell(dregs_line_stage(line, i)->name, 16);
            print_value(volume * LITRES);
            if (!isnan(density))
                print_value(volume * density);
            printf("\n");
        }
}

static void print_months(const struct tally_answer *answer)
{
    static const dregs_stream shown[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_DUMPED,
                                         DREGS_STREAM_EVAPORATED, DREGS_STREAM_DRIED};
    const dregs_tally *tally = answer->one[0].tally;
    double cost = dregs_tally_costs(tally, DREGS_WHOLE).total;
    unsigned m, i;

    printf(
        "\nL                 loads   bought in    to drain      dumped  evaporated       dried%s\n",
        isnan(cost) ? "" : "        cost");
    for (m = 0; m <= dregs_tally_periods(tally); m++) {
        unsigned period = m < dregs_tally_periods(tally) ? m : DREGS_WHOLE;
        struct numbers n = {0};
        double in = 0.0;
        for (i = 0; i < dregs_line_fluids(answer->one[0].line); i++)
            in += dregs_tally_bought(tally, i, DREGS_WHOLE, period);
        cell(m < dregs_tally_periods(tally) ? tally_month_name(m) : "the year", 11);
        cell(number(&n, (double)dregs_tally_loads(tally, period)), -WIDE);
        print_value(in * LITRES);
        for (i = 0; i < 4; i++) {
            double volume = dregs_tally_volume(tally, shown[i], DREGS_WHOLE, period);
            if (shown[i] == DREGS_STREAM_DRAINED)
                volume += dregs_tally_volume(tally, DREGS_STREAM_RUNOFF, DREGS_WHOLE, period);
            if (shown[i] == DREGS_STREAM_DRIED)
                volume += dregs_tally_volume(tally, DREGS_STREAM_BLOWN_OFF, DREGS_WHOLE, period);
            print_value(volume * LITRES);
        }
        if (!isnan(cost))
            print_value(dregs_tally_costs(tally, period).total);
        printf("\n");
    }
    printf("dried: films that dry or are blown off; to drain: overflows and spray runoff\n");
}

/* ---- several lines ---- */

/* Other - first; rounding is no difference. */
static void print_difference(const struct tally_figure *first, const struct tally_figure *other)
{
    double a = first ? first->value : 0.0, b = other ? other->value : 0.0;

    print_value(plain(b - a, fmax(fabs(a), fabs(b))));
}

/* One figure of all lines. */
static void print_figure(const struct tally_answer *answer, const struct tally_figures *figures,
                         const char *name)
{
    const struct tally_figure *first = tally_figure_named(&figures[0], name), *other;
    struct numbers n = {0};
    unsigned k;

    for (k = 0; k < answer->ones; k++) {
        other = tally_figure_named(&figures[k], name);
        cell(other ? number(&n, other->value) : "-", -WIDE);
    }
    for (k = 1; k < answer->ones; k++)
        print_difference(first, tally_figure_named(&figures[k], name));
    printf("\n");
}

static void head_of_comparison(const struct tally_answer *answer)
{
    char title[24];
    unsigned i;

    cell("", FIGURE);
    for (i = 0; i < answer->ones; i++) {
        snprintf(title, sizeof title, "%u.", i + 1);
        cell(title, -WIDE);
    }
    for (i = 1; i < answer->ones; i++) {
        snprintf(title, sizeof title, "%u. - 1.", i + 1);
        cell(title, -WIDE);
    }
    printf("\n");
}

/* Does a line before this one have the figure? */
static int was_shown(const struct tally_figures *figures, unsigned before, const char *name)
{
    unsigned k;

    for (k = 0; k < before; k++)
        if (tally_figure_named(&figures[k], name))
            return 1;
    return 0;
}

static void print_comparison(const struct tally_answer *answer)
{
    static struct tally_figures figures[TALLY_FILES_MOST];
    unsigned f, i;

    for (i = 0; i < answer->ones; i++) {
        char span[48];
        tally_figures_of(answer->one[i].tally, answer->one[i].residue, &figures[i]);
        tally_span_name(answer->one[i].tally, answer->request, span);
        printf("%u. %s, %s: %llu loads\n", i + 1, dregs_line_name(answer->one[i].line), span,
               (unsigned long long)dregs_tally_loads(answer->one[i].tally, DREGS_WHOLE));
    }
    printf("\n");
    head_of_comparison(answer);
    for (f = 0; f < answer->ones; f++)
        for (i = 0; i < figures[f].count; i++) {
            const struct tally_figure *figure = &figures[f].figure[i];
            char title[100], currency[16];
            if (was_shown(figures, f, figure->name))
                continue;
            snprintf(title, sizeof title, "%s, %s", figure->name,
                     unit_of(answer->one[f].line, figure, currency));
            cell(title, FIGURE);
            print_figure(answer, figures, figure->name);
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

static void print_assumed(const struct tally_one *one)
{
    unsigned count = 0, i;

    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        print_note(dregs_tally_assumed(one->tally, i), &count);
    for (i = 0; dregs_line_assumed(one->line, i); i++)
        print_note(dregs_line_assumed(one->line, i), &count);
    for (i = 0; dregs_line_unused(one->line, i); i++) {
        if (!i)
            printf("\nin the file, not used here\n");
        printf("  ");
        wrapped(dregs_line_unused(one->line, i), 2, 4);
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
static void print_reclaimed(const struct part *p)
{
    const dregs_line *line = dregs_tally_line(p->tally);
    unsigned i, f;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (f = 0; f < dregs_line_fluids(line); f++) {
            double back = dregs_tally_reclaimed(p->tally, f, i, p->period);
            double treated = dregs_tally_volume(p->tally, DREGS_STREAM_DUMPED, i, p->period) +
                             dregs_tally_volume(p->tally, DREGS_STREAM_DRAINED, i, p->period);
            struct numbers n = {0};
            char text[400];
            if (!(back > 0))
                continue;
            snprintf(text, sizeof text,
                     "%.60s: of %s L dumped or drained %s L come back as fresh %.60s and need not "
                     "be bought; %s L stay as still bottoms, with all solutes",
                     dregs_line_stage(line, i)->name, number(&n, treated * LITRES),
                     number(&n, back * LITRES), dregs_line_fluid(line, f)->name,
                     number(&n, (treated - back) * LITRES));
            printf("  ");
            wrapped(text, 2, 4);
        }
}

static void print_one(const struct tally_answer *answer)
{
    struct part whole = {answer->one[0].tally, DREGS_WHOLE, DREGS_WHOLE};
    unsigned i;

    switch (answer->request->view) {
    case TALLY_BY_STAGE:
        print_stages(answer);
        return;
    case TALLY_BY_LIQUID:
        for (i = 0; i < dregs_line_fluids(answer->one[0].line); i++)
            print_liquid(answer, i);
        return;
    case TALLY_BY_MONTH:
        print_months(answer);
        return;
    default:
        in_tables(&whole, "liquids, L", 0, print_balance);
        in_tables(&whole, "solutes, g", 1, print_balance);
        print_soil(&whole);
        print_returned(&whole);
        print_reclaimed(&whole);
        print_costs(answer);
        print_largest(answer, 0);
        print_largest(answer, 1);
        print_changes(answer);
    }
}

int tally_page_text(const struct tally_answer *answer)
{
    unsigned i;

    if (answer->ones > 1) {
        print_comparison(answer);
        for (i = 0; i < answer->ones; i++) {
            printf("\n%u. %s\n", i + 1, dregs_line_name(answer->one[i].line));
            print_assumed(&answer->one[i]);
            page_cautions(answer->one[i].line);
        }
        return FRONT_DONE;
    }
    print_answer(answer);
    print_calendar(answer);
    print_one(answer);
    if (answer->law)
        tally_law_text(answer->law);
    if (answer->actual)
        tally_actual_text(answer->actual);
    print_assumed(&answer->one[0]);
    page_cautions(answer->one[0].line);
    return FRONT_DONE;
}
