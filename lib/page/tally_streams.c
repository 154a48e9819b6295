/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_streams.c: the tables of a tally that people read. Programs read tally_data.c's. */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    NAME = 28,   /* a stream's name, indented by two */
    FIGURE = 38, /* a figure's */
    WIDE = 12,   /* a number */
    RANGE = 20,  /* a range, at least */
    ROOM = 81,   /* for a table of streams; what is wider goes on in another one */
    COLUMNS_MOST = 8,
    TITLE = 100,
    KEY = 32
};

#define CLOSES 1e-9 /* a share */

/* Which part of a tally a table shows. */
struct part {
    const dregs_tally *tally;
    unsigned stage, period;
    const dregs_tally_doubt *doubt; /* NULL: no draws */
};

/* A column of a table: a fluid, a solute, or all liquids together. */
struct column {
    const char *name;
    dregs_tally_kind kind;
    unsigned index;
};

static double unit_of(const struct column *c)
{
    return c->kind == DREGS_TALLY_SOLUTES ? GRAMS : LITRES;
}

static const char *unit_name(dregs_tally_kind kind)
{
    return kind == DREGS_TALLY_SOLUTES ? "g" : "L";
}

/* "liquids, L" */
static const char *titled(const dregs_report *report, const char *name, const char *unit,
                          char into[TITLE])
{
    snprintf(into, TITLE, "%.76s, %.20s", name, dregs_report_unit(report, unit));
    return into;
}

/* In L or g; what may be rounding is nothing. */
static double value_at(const struct part *p, const struct column *c, dregs_stream stream)
{
    double value = dregs_tally_cell(p->tally, c->kind, c->index, stream, p->stage, p->period);

    return dregs_tally_is_rounding(p->tally, c->kind, c->index, value) ? 0.0 : value * unit_of(c);
}

static int width_of(const struct column *c)
{
    int width = dregs_page_columns(c->name) + 2;

    return width > WIDE ? width : WIDE;
}

/* Nothing at all is a dash. */
static void put_value(dregs_table *table, double value)
{
    if (value == 0.0)
        dregs_table_shown(table, value, "-");
    else
        dregs_table_number(table, value);
}

/* ---- a table of streams ---- */

/* The name of a row. */
static void put_name(dregs_table *table, const char *name)
{
    char text[100];

    snprintf(text, sizeof text, "  %.90s", name);
    dregs_table_word(table, text);
}

static void put_row(dregs_table *table, const char *name, unsigned count, const double *values)
{
    unsigned i;

    put_name(table, name);
    for (i = 0; i < count; i++)
        put_value(table, values[i]);
    dregs_table_end_row(table);
}

/* Nothing where no column has the stream. */
static void put_stream(dregs_table *table, const struct part *p, const struct column *column,
                       unsigned count, dregs_stream stream)
{
    double values[COLUMNS_MOST];
    unsigned i;
    int any = 0;

    for (i = 0; i < count; i++) {
        values[i] = value_at(p, &column[i], stream);
        any = any || values[i] != 0.0;
    }
    if (any)
        put_row(table, dregs_stream_name(stream), count, values);
}

/* A share of the larger side that is only rounding. */
static void put_error(dregs_table *table, double error)
{
    char share[DREGS_NUMBER_TEXT]; /* in a column of amounts: its words are what is shown */

    dregs_table_shown(table, error,
                      fabs(error) < CLOSES ? "none" : dregs_number_plain(share, error, 4));
}

/* What rounding leaves between both sides; all liquids together, the last column, have no
 * such number. */
static void put_open(dregs_table *table, const struct part *p, const struct column *column,
                     unsigned count)
{
    unsigned i;

    put_name(table, "balance error");
    for (i = 0; i < count; i++) {
        unsigned index = column[i].index;
        if (column[i].kind != DREGS_TALLY_ALL)
            put_error(table, column[i].kind == DREGS_TALLY_SOLUTES
                                 ? dregs_tally_residual_solute(p->tally, index, p->period)
                                 : dregs_tally_residual_fluid(p->tally, index, p->period));
    }
    dregs_table_end_row(table);
}

/* In and out with their sums. */
static void put_balance(dregs_table *table, const struct part *p, const struct column *column,
                        unsigned count)
{
    double in[COLUMNS_MOST], out[COLUMNS_MOST];
    unsigned i;
    int stream;

    for (i = 0; i < count; i++) {
        dregs_tally_sides(p->tally, column[i].kind, column[i].index, p->stage, p->period, &in[i],
                          &out[i]);
        in[i] *= unit_of(&column[i]);
        out[i] *= unit_of(&column[i]);
    }
    put_stream(table, p, column, count, DREGS_STREAM_HELD_FIRST);
    for (stream = DREGS_STREAM_FILLED; stream <= DREGS_STREAM_SOIL; stream++)
        put_stream(table, p, column, count, (dregs_stream)stream);
    put_row(table, "= in and held before", count, in);
    for (stream = DREGS_STREAM_DRAINED; stream <= DREGS_STREAM_LEFT; stream++)
        put_stream(table, p, column, count, (dregs_stream)stream);
    put_stream(table, p, column, count, DREGS_STREAM_HELD_LAST);
    put_row(table, "= out and held after", count, out);
    put_open(table, p, column, count);
}

/* Between what a stream lies in the draws. */
static void put_stream_ends(dregs_table *table, const struct part *p, const struct column *column,
                            unsigned count, dregs_stream stream)
{
    struct tally_ends ends = {0};
    dregs_ensemble_range range;
    unsigned i;

    for (i = 0; p->doubt && i < count; i++)
        dregs_page_tally_take_end(&ends,
                                  dregs_tally_doubt_stream(p->doubt, column[i].kind,
                                                           column[i].index, stream, p->stage,
                                                           p->period, &range),
                                  &range, unit_of(&column[i]));
    dregs_page_tally_put_ends(table, &ends, "    ", 0);
}

/* All streams, those within the line too. */
static void put_streams(dregs_table *table, const struct part *p, const struct column *column,
                        unsigned count)
{
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
        put_stream(table, p, column, count, (dregs_stream)stream);
        put_stream_ends(table, p, column, count, (dregs_stream)stream);
    }
}

typedef void put_rows(dregs_table *, const struct part *, const struct column *, unsigned);

static void put_table(struct tally_page *page, const struct part *p, const char *title,
                      const struct column *column, unsigned count, put_rows *rows)
{
    dregs_table *table;
    char key[KEY];
    unsigned i;

    snprintf(key, sizeof key, "streams_%u", ++page->streams);
    dregs_report_gap(page->report);
    table = dregs_report_table(page->report, key, DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stream", title, "", NAME);
    for (i = 0; i < count; i++) {
        snprintf(key, sizeof key, "substance_%u", i + 1);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, key, column[i].name, "",
                           -width_of(&column[i]));
        dregs_table_measured(table, unit_name(column[i].kind));
    }
    rows(table, p, column, count);
}

static struct column column_of(const dregs_line *line, dregs_tally_kind kind, unsigned index)
{
    struct column column = {NULL, kind, index};

    if (kind == DREGS_TALLY_SOLUTES) {
        column.name = dregs_line_solute(line, index)->name;
    } else if (index == dregs_line_fluids(line)) {
        column.name = "all";
        column.kind = DREGS_TALLY_ALL;
        column.index = 0;
    } else {
        column.name = dregs_line_fluid(line, index)->name;
    }
    return column;
}

/* The columns of a kind, as many tables as the page's width asks for. */
static void in_tables(struct tally_page *page, const struct part *p, const char *title,
                      dregs_tally_kind kind, put_rows *rows)
{
    const dregs_line *line = dregs_tally_line(p->tally);
    unsigned fluids = dregs_line_fluids(line), i, count = 0;
    unsigned all = kind == DREGS_TALLY_SOLUTES ? dregs_line_solutes(line) : fluids + (fluids > 1);
    struct column column[COLUMNS_MOST];
    int used = NAME;

    for (i = 0; i < all; i++) {
        struct column c = column_of(line, kind, i);
        if (count && (count == COLUMNS_MOST || used + width_of(&c) > ROOM)) {
            put_table(page, p, title, column, count, rows);
            count = 0;
            used = NAME;
        }
        column[count++] = c;
        used += width_of(&c);
    }
    put_table(page, p, title, column, count, rows);
}

void dregs_page_tally_balance(struct tally_page *page)
{
    struct part whole = {page->one->tally, DREGS_WHOLE, DREGS_WHOLE, NULL};
    char title[TITLE];

    in_tables(page, &whole, titled(page->report, "liquids", "L", title), DREGS_TALLY_VOLUMES,
              put_balance);
    in_tables(page, &whole, titled(page->report, "solutes", "g", title), DREGS_TALLY_SOLUTES,
              put_balance);
}

static void put_stage_cost_ends(dregs_table *table, const dregs_tally_doubt *doubt, unsigned stage)
{
    struct tally_ends ends = {0};
    dregs_ensemble_range range;
    unsigned i;

    for (i = 0; doubt && i < DREGS_TALLY_SPENTS; i++)
        dregs_page_tally_take_end(&ends,
                                  dregs_tally_doubt_range(doubt, DREGS_TALLY_RANGE_STAGE_COST,
                                                          stage * DREGS_TALLY_SPENTS + i, &range),
                                  &range, 1);
    dregs_page_tally_put_ends(table, &ends, "    ", 0);
}

/* What each stage costs. */
static void say_stage_costs(struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    dregs_tally_cost cost = dregs_tally_costs(tally, DREGS_WHOLE);
    dregs_table *table;
    unsigned i;

    if (isnan(cost.total))
        return;
    dregs_report_gap(page->report);
    table = dregs_report_table(page->report, "stage_costs", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "cost by stage", page->one->currency,
                       NAME);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "bought", "bought", "", -WIDE);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "waste", "waste", "", -WIDE);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "changes", "changes", "", -WIDE);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "cost", "in all", "", -WIDE);
    for (i = 0; i <= dregs_line_stages(page->one->line); i++) {
        unsigned stage = i < dregs_line_stages(page->one->line) ? i : DREGS_WHOLE;
        cost = dregs_tally_costs_of(tally, stage, DREGS_WHOLE);
        put_name(table,
                 stage == DREGS_WHOLE ? "the line" : dregs_line_stage(page->one->line, i)->name);
        put_value(table, cost.bought);
        put_value(table, cost.disposal);
        put_value(table, dregs_tally_change_cost(tally, stage, DREGS_WHOLE));
        put_value(table, cost.total);
        dregs_table_end_row(table);
        put_stage_cost_ends(table, page->doubt, i);
    }
}

void dregs_page_tally_stages(struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    char title[TITLE];
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        struct part part = {page->one->tally, i, DREGS_WHOLE, page->doubt};
        (void)titled(page->report, dregs_line_stage(line, i)->name, "L", title);
        in_tables(page, &part, title, DREGS_TALLY_VOLUMES, put_streams);
        (void)titled(page->report, dregs_line_stage(line, i)->name, "g", title);
        in_tables(page, &part, title, DREGS_TALLY_SOLUTES, put_streams);
    }
    say_stage_costs(page);
}

/* A column of amounts under a head that is not their key. */
static void amounts(dregs_table *table, const char *key, const char *head, const char *unit)
{
    dregs_table_column(table, DREGS_COLUMN_NUMBER, key, head, "", -WIDE);
    dregs_table_measured(table, unit);
}

/* ---- where one liquid goes: every stream of every stage ---- */

static void put_liquid(dregs_table *table, const struct tally_page *page, unsigned fluid,
                       int weighed)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    char between[TALLY_BETWEEN];
    int stream;
    unsigned i;

    for (stream = 0; stream < DREGS_STREAM_ARRIVED; stream++)
        for (i = 0; i < dregs_line_stages(line); i++) {
            double volume = dregs_tally_fluid(tally, (dregs_stream)stream, fluid, i, DREGS_WHOLE);
            if (!(volume > 0) || dregs_tally_is_rounding(tally, DREGS_TALLY_VOLUMES, fluid, volume))
                continue;
            dregs_table_word(table, dregs_stream_name((dregs_stream)stream));
            dregs_table_word(table, dregs_line_stage(line, i)->name);
            put_value(table, volume * LITRES);
            if (weighed)
                put_value(table, dregs_tally_cell(tally, DREGS_TALLY_MASSES, fluid,
                                                  (dregs_stream)stream, i, DREGS_WHOLE));
            if (page->doubt &&
                *dregs_page_tally_stream_between(page->doubt, fluid, (dregs_stream)stream, i,
                                                 dregs_page_litres(page->report), between))
                dregs_table_word(table, between);
            dregs_table_end_row(table);
        }
}

void dregs_page_tally_liquids(struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++) {
        double density = dregs_tally_density(page->one->tally, i);
        struct numbers n = {0};
        dregs_table *table;
        char key[KEY], head[KEY];
        if (isnan(density))
            dregs_report_heading(page->report, "%s (its density is not known)",
                                 dregs_line_fluid(line, i)->name);
        else
            dregs_report_heading(page->report, "%s (%s at %s)", dregs_line_fluid(line, i)->name,
                                 dregs_page_amount(page->report, &n, density, "kg/m3"),
                                 dregs_page_amount(page->report, &n, 20, "degC"));
        snprintf(key, sizeof key, "liquid_%u", i + 1);
        table = dregs_report_table(page->report, key, DREGS_IN_TEXT);
        dregs_table_indent(table, 2);
        dregs_table_column(table, DREGS_COLUMN_WORD, "stream", "", "", NAME - 2);
        dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "", "", 16);
        amounts(table, "volume", dregs_report_unit(page->report, "L"), "L");
        if (!isnan(density))
            amounts(table, "mass", dregs_report_unit(page->report, "kg"), "kg");
        if (page->doubt) {
            snprintf(head, sizeof head, "%.16s, 5 to 95 %%", dregs_report_unit(page->report, "L"));
            dregs_table_column(table, DREGS_COLUMN_WORD, "range", head, "", 0);
            dregs_table_gap(table, 2);
        }
        put_liquid(table, page, i, !isnan(density));
    }
}

/* ---- month by month ---- */

static void put_outline(dregs_table *table, const dregs_tally_outline *o)
{
    put_value(table, o->bought * LITRES);
    put_value(table, o->to_drain * LITRES);
    put_value(table, o->to_waste * LITRES);
    put_value(table, o->evaporated * LITRES);
    put_value(table, o->dried * LITRES);
    if (!isnan(o->cost))
        put_value(table, o->cost);
    dregs_table_end_row(table);
}

/* Between what it lies in the draws; `first` is the number of the figure of its first sum. */
static void put_outline_ends(dregs_table *table, const struct tally_page *page,
                             dregs_tally_doubtful what, unsigned first, int loads)
{
    static const dregs_tally_sum sums[] = {DREGS_TALLY_SUM_BOUGHT,   DREGS_TALLY_SUM_TO_DRAIN,
                                           DREGS_TALLY_SUM_TO_WASTE, DREGS_TALLY_SUM_EVAPORATED,
                                           DREGS_TALLY_SUM_DRIED,    DREGS_TALLY_SUM_COST};
    double cost = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE)->cost;
    struct tally_ends ends = {0};
    dregs_ensemble_range range;
    unsigned i;

    for (i = 0; page->doubt && i < sizeof sums / sizeof sums[0]; i++)
        if (sums[i] != DREGS_TALLY_SUM_COST || !isnan(cost))
            dregs_page_tally_take_end(
                &ends, dregs_tally_doubt_range(page->doubt, what, first + sums[i], &range), &range,
                sums[i] == DREGS_TALLY_SUM_COST ? 1 : LITRES);
    dregs_page_tally_put_ends(table, &ends, "  ", loads != 0);
}

/* A table of what months, with their loads, or months in a row come to. */
static dregs_table *outlines(struct tally_page *page, const char *key, const char *title, int loads)
{
    static const char *const keys[] = {"bought", "to_drain", "to_waste", "evaporated", "dried"};
    static const char *const heads[] = {"bought in", "to drain", "to waste", "evaporated", "dried"};
    double cost = dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE)->cost;
    dregs_table *table;
    unsigned m;

    dregs_report_gap(page->report);
    table = dregs_report_table(page->report, key, DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "month", title, "", loads ? 11 : 23);
    if (loads)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "loads", "loads", "", -WIDE);
    for (m = 0; m < sizeof keys / sizeof keys[0]; m++)
        amounts(table, keys[m], heads[m], "L");
    if (!isnan(cost))
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "cost", "cost", "", -WIDE);
    return table;
}

/* "January to March" */
static const char *name_months(const struct tally_page *page, unsigned last, unsigned months,
                               char into[64])
{
    unsigned first = (last + DREGS_MONTHS + 1 - months) % DREGS_MONTHS;

    snprintf(into, 64, "%s to %s", dregs_page_tally_month(page->one->tally, first),
             dregs_page_tally_month(page->one->tally, last));
    return into;
}

/* Of so many months in a row, every `step` of them. Nothing where no month has so many before. */
static void say_over(struct tally_page *page, unsigned months, unsigned step, const char *title,
                     int whole)
{
    dregs_table *table = NULL;
    char key[KEY], name[64];
    unsigned m;

    for (m = step - 1; m < DREGS_MONTHS; m += step) {
        const dregs_tally_outline *o = dregs_tally_result_over(page->answer, 0, months, m);
        if (!o)
            continue;
        snprintf(key, sizeof key, "over_%u_by_%u", months, step);
        if (!table)
            table = outlines(page, key, title, 0);
        dregs_table_word(table, name_months(page, m, months, name));
        put_outline(table, o);
        put_outline_ends(table, page,
                         months == 3 ? DREGS_TALLY_RANGE_OVER_3 : DREGS_TALLY_RANGE_OVER_12,
                         m * DREGS_TALLY_SUMS, 0);
    }
    if (!whole)
        return;
    dregs_table_word(table, "the year");
    put_outline(table, dregs_tally_result_outline(page->answer, 0, DREGS_WHOLE));
    put_outline_ends(table, page, DREGS_TALLY_RANGE_OUTLINE, 0, 0);
}

static void say_sinks(struct tally_page *page)
{
    dregs_report_line(page->report, 0,
                      "to drain: overflows, spray runoff, blown off to drain; to waste: dumped, "
                      "blown off to waste");
}

static void put_month(dregs_table *table, const struct tally_page *page, const char *name,
                      unsigned period)
{
    dregs_table_word(table, name);
    dregs_table_number(table, (double)dregs_tally_loads(page->one->tally, period));
    put_outline(table, dregs_tally_result_outline(page->answer, 0, period));
    if (period == DREGS_WHOLE)
        put_outline_ends(table, page, DREGS_TALLY_RANGE_OUTLINE, 0, 1);
    else
        put_outline_ends(table, page, DREGS_TALLY_RANGE_MONTH, period * DREGS_TALLY_SUMS, 1);
}

void dregs_page_tally_months(struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    dregs_table *table = outlines(page, "months", dregs_report_unit(page->report, "L"), 1);
    char title[TITLE];
    unsigned m;

    for (m = 0; m < dregs_tally_periods(tally); m++)
        put_month(table, page, dregs_page_tally_month(tally, m), m);
    put_month(table, page, "the year", DREGS_WHOLE);
    say_over(page, 3, 1, titled(page->report, "three months", "L", title), 0);
    if (page->span->running)
        say_over(page, DREGS_MONTHS, 1, titled(page->report, "twelve months", "L", title), 0);
    say_sinks(page);
}

void dregs_page_tally_quarters(struct tally_page *page)
{
    char title[TITLE];

    say_over(page, 3, 3, titled(page->report, "quarter", "L", title), 1);
    say_sinks(page);
}

/* ---- several lines ---- */

const char *dregs_page_tally_unit(const dregs_tally_one *one, const char *unit)
{
    return strcmp(unit, "currency") == 0 ? one->currency : unit;
}

static void put_compared(dregs_table *table, const struct tally_page *page,
                         const dregs_tally_compared *row, unsigned lines)
{
    const dregs_tally_one *one = dregs_tally_result_line(page->answer, row->line);
    char title[TITLE];
    unsigned i;

    dregs_table_word(table,
                     titled(page->report, row->name, dregs_page_tally_unit(one, row->unit), title));
    for (i = 0; i < lines; i++)
        dregs_table_in(table, row->has[i] ? row->value[i] : NAN, row->unit);
    for (i = 1; i < lines; i++)
        put_value(table, dregs_report_value(page->report, row->difference[i], row->unit));
    dregs_table_end_row(table);
}

/* The number of a figure of a line by its name; past the end when it has none. */
static unsigned figure_named(const struct tally_page *page, unsigned line, const char *name)
{
    const dregs_tally_figure *figure;
    unsigned i;

    for (i = 0; (figure = dregs_tally_result_figure(page->answer, line, i)) != NULL; i++)
        if (strcmp(figure->name, name) == 0)
            break;
    return i;
}

/* Of a figure of one of the lines, as it is shown; nothing where it is not in doubt. */
static const char *range_of(const struct tally_page *page, const dregs_tally_compared *row,
                            unsigned line, char into[TALLY_BETWEEN])
{
    into[0] = '\0';
    return row->has[line] ? dregs_page_tally_figure_between(
                                page->doubt, line, figure_named(page, line, row->name),
                                dregs_report_value(page->report, 1, row->unit), into)
                          : into;
}

/* Of each line between what a figure lies; nothing where it lies between nothing for all. */
static void put_ranges(dregs_table *table, const struct tally_page *page,
                       const dregs_tally_compared *row, unsigned lines)
{
    char cell[DREGS_TALLY_LINES_MOST][TALLY_BETWEEN], title[TITLE];
    unsigned i, moved = 0;

    for (i = 0; i < lines; i++)
        moved += *range_of(page, row, i, cell[i]) != '\0';
    if (!moved)
        return;
    dregs_table_word(table, titled(page->report, row->name,
                                   dregs_page_tally_unit(
                                       dregs_tally_result_line(page->answer, row->line), row->unit),
                                   title));
    for (i = 0; i < lines; i++)
        dregs_table_word(table, cell[i]);
    dregs_table_end_row(table);
}

/* Of a column of ranges: a blank behind the longest. */
static int range_width(const struct tally_page *page, unsigned line)
{
    const dregs_tally_compared *row;
    char cell[TALLY_BETWEEN];
    int width = RANGE;
    unsigned i;

    for (i = 0; (row = dregs_tally_result_compared(page->answer, i)) != NULL; i++) {
        int wide = dregs_page_columns(range_of(page, row, line, cell)) + 1;
        if (wide > width)
            width = wide;
    }
    return width;
}

static void say_ranges(struct tally_page *page, unsigned lines)
{
    const dregs_tally_compared *row;
    dregs_table *table;
    char key[KEY], head[KEY];
    unsigned i;

    dregs_report_gap(page->report);
    dregs_report_line(page->report, 0, "5 to 95 %% of draws");
    table = dregs_report_table(page->report, "side_by_side_ranges", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "name", "", "", FIGURE);
    for (i = 0; i < lines; i++) {
        snprintf(key, sizeof key, "range_%u", i + 1);
        snprintf(head, sizeof head, "%u.", i + 1);
        dregs_table_column(table, DREGS_COLUMN_WORD, key, head, "",
                           i + 1 < lines ? range_width(page, i) : RANGE);
    }
    for (i = 0; (row = dregs_tally_result_compared(page->answer, i)) != NULL; i++)
        put_ranges(table, page, row, lines);
    dregs_page_tally_lines_drawn(page, lines);
}

void dregs_page_tally_compared(struct tally_page *page)
{
    const dregs_tally_compared *row;
    dregs_table *table;
    char key[KEY], head[KEY];
    unsigned lines = 0, i;

    while (dregs_tally_result_line(page->answer, lines))
        lines++;
    dregs_report_gap(page->report);
    table = dregs_report_table(page->report, "side_by_side", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "name", "", "", FIGURE);
    for (i = 0; i < lines; i++) {
        snprintf(key, sizeof key, "value_%u", i + 1);
        snprintf(head, sizeof head, "%u.", i + 1);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, key, head, "", -WIDE);
    }
    for (i = 1; i < lines; i++) {
        snprintf(key, sizeof key, "difference_%u", i + 1);
        snprintf(head, sizeof head, "%u. - 1.", i + 1);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, key, head, "", -WIDE);
    }
    for (i = 0; (row = dregs_tally_result_compared(page->answer, i)) != NULL; i++)
        put_compared(table, page, row, lines);
    if (page->doubt)
        say_ranges(page, lines);
}
