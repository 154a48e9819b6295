/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_doubt.c: the page of a tally: between what its figures lie, and how sure its verdicts are.
 */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define MOVES                                                                                      \
    5e-4 /* a range narrower than this share of its value is none, to the digits shown             \
          */

static int moves(const dregs_ensemble_range *range)
{
    return range->high.value - range->low.value > MOVES * fabs(range->middle.value);
}

int dregs_page_tally_range(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                           unsigned index, dregs_ensemble_range *range)
{
    return doubt && !dregs_tally_doubt_range(doubt, what, index, range) && moves(range);
}

/* Both ends to three digits, between words; nothing where they are the same. */
static const char *put_between(const dregs_ensemble_range *range, double unit, const char *open,
                               const char *close, char into[TALLY_BETWEEN])
{
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];

    (void)dregs_number_plain(low, range->low.value * unit, 3);
    (void)dregs_number_plain(high, range->high.value * unit, 3);
    if (strcmp(low, high) != 0)
        snprintf(into, TALLY_BETWEEN, "%s%s to %s%s", open, low, high, close);
    return into;
}

const char *dregs_page_tally_between(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                                     unsigned index, double unit, char into[TALLY_BETWEEN])
{
    dregs_ensemble_range range;

    into[0] = '\0';
    return dregs_page_tally_range(doubt, what, index, &range)
               ? put_between(&range, unit, " (", ")", into)
               : into;
}

const char *dregs_page_tally_stream_between(const dregs_tally_doubt *doubt, unsigned fluid,
                                            dregs_stream stream, unsigned stage, double unit,
                                            char into[TALLY_BETWEEN])
{
    dregs_ensemble_range range;

    into[0] = '\0';
    return !dregs_tally_doubt_stream(doubt, DREGS_TALLY_VOLUMES, fluid, stream, stage, DREGS_WHOLE,
                                     &range) &&
                   moves(&range)
               ? put_between(&range, unit, "", "", into)
               : into;
}

const char *dregs_page_tally_figure_between(const dregs_tally_doubt *doubt, unsigned line,
                                            unsigned figure, double unit, char into[TALLY_BETWEEN])
{
    dregs_ensemble_range range;

    into[0] = '\0';
    return !dregs_tally_doubt_figure(doubt, line, figure, &range) && moves(&range)
               ? put_between(&range, unit, "", "", into)
               : into;
}

void dregs_page_tally_lines_drawn(const struct tally_page *page, unsigned lines)
{
    char drawn[DRAWN_WORDS];
    unsigned i;

    for (i = 0; i < lines; i++) {
        const dregs_doubt_run *run = dregs_tally_doubt_run_of(page->doubt, i);
        if (run->rows)
            dregs_report_line(page->report, 2, "%u. %llu draws of %s", i + 1,
                              (unsigned long long)run->draws,
                              dregs_page_drawn(run->rows, run->properties, drawn));
        else
            dregs_report_line(page->report, 2, "%u. no value with a spread", i + 1);
        if (run->rows)
            dregs_page_draws_failed(page->report, run);
    }
    dregs_report_text(page->report, 2, 4,
                      "each line is drawn by itself: the doubt of a difference is not told");
}

dregs_quantity dregs_page_tally_quantity(const dregs_tally_doubt *doubt, dregs_tally_doubtful what,
                                         unsigned index, double value, double unit,
                                         const char *name)
{
    dregs_ensemble_range range;

    if (isnan(value) || !doubt || dregs_tally_doubt_range(doubt, what, index, &range))
        return dregs_quantity_of(value * unit, name);
    return dregs_quantity_within(value * unit, range.low.value * unit, range.high.value * unit,
                                 name);
}

void dregs_page_tally_put(dregs_table *table, const dregs_tally_doubt *doubt,
                          dregs_tally_doubtful what, unsigned index, double value, double unit)
{
    dregs_quantity q = dregs_page_tally_quantity(doubt, what, index, value, unit, "");

    if (isnan(q.low))
        dregs_table_number(table, q.value);
    else
        dregs_table_within(table, q.value, q.low, q.high);
}

void dregs_page_tally_put_known(dregs_table *table, dregs_status known,
                                const dregs_ensemble_range *range, double value, double unit)
{
    if (known)
        dregs_table_number(table, value * unit);
    else
        dregs_table_within(table, value * unit, range->low.value * unit, range->high.value * unit);
}

/* ---- below the rows of a table ---- */

void dregs_page_tally_take_end(struct tally_ends *ends, dregs_status known,
                               const dregs_ensemble_range *range, double unit)
{
    char between[TALLY_BETWEEN] = "";
    int moved = !known && moves(range) && *put_between(range, unit, "", "", between);

    if (ends->count == TALLY_ENDS_MOST)
        return;
    ends->low[ends->count] = moved ? range->low.value * unit : NAN;
    ends->high[ends->count] = moved ? range->high.value * unit : NAN;
    ends->count++;
    ends->any = ends->any || moved;
}

static void put_end_row(dregs_table *table, const char *name, const double *value, unsigned count,
                        unsigned skip)
{
    unsigned i;

    dregs_table_word(table, name);
    for (i = 0; i < skip; i++)
        dregs_table_word(table, NULL);
    for (i = 0; i < count; i++) {
        if (isnan(value[i])) {
            dregs_table_word(table, NULL);
            continue;
        }
        dregs_table_digits(table, value[i], 3);
    }
    dregs_table_end_row(table);
}

void dregs_page_tally_put_ends(dregs_table *table, const struct tally_ends *ends,
                               const char *indent, unsigned skip)
{
    char name[32];

    if (!ends->any)
        return;
    snprintf(name, sizeof name, "%.16s5 %%", indent);
    put_end_row(table, name, ends->low, ends->count, skip);
    snprintf(name, sizeof name, "%.16s95 %%", indent);
    put_end_row(table, name, ends->high, ends->count, skip);
}

/* What a view shows of the draws beside the sentence above it. */
static const char *words_of(dregs_tally_view view)
{
    switch (view) {
    case DREGS_TALLY_BY_STAGE:
    case DREGS_TALLY_BY_MONTH:
    case DREGS_TALLY_BY_QUARTER:
        return "; in the tables the same stands below each row, and is left out where nothing is "
               "in doubt";
    case DREGS_TALLY_BY_LIQUID:
        return "; in the tables the same stands beside each volume that is in doubt";
    default:
        return "; tables of streams and the effect of changes are of the values as stated";
    }
}

void dregs_page_tally_doubt_words(const struct tally_page *page)
{
    const dregs_tally_doubt *doubt = page->doubt;

    if (!doubt)
        return;
    dregs_report_words(page->report, "in brackets: 5 to 95 %% of draws; ");
    dregs_page_draws_of(page->report, &doubt->run);
    dregs_report_words(page->report, "%s", words_of(page->view));
    if (dregs_line_part(page->one->line, 0))
        dregs_report_words(page->report, "; lines are drawn each by itself, but for the liquids "
                                         "that they have in common");
    dregs_report_end(page->report, 2, 4);
    if (doubt->streams_left_out)
        dregs_report_line(page->report, 2, "%u more streams are too many to draw them too",
                          doubt->streams_left_out);
    dregs_page_draws_failed(page->report, &doubt->run);
}

void dregs_page_tally_doubt_data(const struct tally_page *page)
{
    const dregs_tally_one *one;
    dregs_table *table;
    unsigned i;

    dregs_page_draws_data(page->report, page->doubt ? &page->doubt->run : NULL);
    if (!page->doubt || !dregs_tally_result_line(page->answer, 1))
        return;
    table = dregs_report_table(page->report, "line_draws", DREGS_IN_JSON);
    dregs_page_word_column(table, "file");
    dregs_page_count_column(table, "draws");
    dregs_page_count_column(table, "draws_failed");
    dregs_page_count_column(table, "rows_drawn");
    for (i = 0; (one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        const dregs_doubt_run *run = dregs_tally_doubt_run_of(page->doubt, i);
        dregs_table_word(table, dregs_line_name(one->line));
        dregs_table_count(table, run->draws);
        dregs_table_count(table, run->failed);
        dregs_table_count(table, run->rows - run->properties);
        dregs_table_end_row(table);
    }
}

void dregs_page_tally_doubt_working(const struct tally_page *page)
{
    if (!page->doubt)
        return;
    dregs_report_heading(page->report, "how sure: %llu draws, seed %llu",
                         (unsigned long long)page->doubt->run.draws,
                         (unsigned long long)page->doubt->run.seed);
    dregs_page_draws_working(page->report, page->one->line, page->doubt->run.ensemble);
}

/* ---- rows of the CSV table ---- */

void dregs_page_tally_end_rows(dregs_table *table, const dregs_tally_doubt *doubt,
                               dregs_tally_doubtful what, unsigned index, const char *stream,
                               const char *liquid, const char *period, double scale,
                               const char *unit)
{
    dregs_ensemble_range range;
    char name[80];

    if (!doubt || dregs_tally_doubt_range(doubt, what, index, &range))
        return;
    snprintf(name, sizeof name, "%s, 5 %% of draws", stream);
    dregs_page_stream_row(table, name, liquid, "", period, scale * range.low.value, unit);
    snprintf(name, sizeof name, "%s, 95 %% of draws", stream);
    dregs_page_stream_row(table, name, liquid, "", period, scale * range.high.value, unit);
}

void dregs_page_tally_doubt_rows(dregs_table *table, const dregs_tally_doubt *doubt,
                                 const dregs_tally_one *one, const char *period)
{
    static const char *const sums[DREGS_TALLY_SUMS] = {
        [DREGS_TALLY_SUM_BOUGHT] = "bought",         [DREGS_TALLY_SUM_TO_DRAIN] = "to drain",
        [DREGS_TALLY_SUM_TO_WASTE] = "to waste",     [DREGS_TALLY_SUM_EVAPORATED] = "evaporated",
        [DREGS_TALLY_SUM_DRIED] = "dried",           [DREGS_TALLY_SUM_BLOWN_OFF] = "blown off",
        [DREGS_TALLY_SUM_HELD_LAST] = "held at end", [DREGS_TALLY_SUM_COST] = "cost"};
    unsigned i;

    for (i = 0; i < dregs_line_fluids(one->line); i++)
        dregs_page_tally_end_rows(table, doubt, DREGS_TALLY_RANGE_BOUGHT, i, "bought",
                                  dregs_line_fluid(one->line, i)->name, period, LITRES, "L");
    for (i = 0; i < DREGS_TALLY_SUMS; i++)
        dregs_page_tally_end_rows(table, doubt, DREGS_TALLY_RANGE_OUTLINE, i, sums[i], "", period,
                                  i == DREGS_TALLY_SUM_COST ? 1 : LITRES,
                                  i == DREGS_TALLY_SUM_COST ? one->currency : "L");
}

/* ---- regulations ---- */

/* bound: what is held against the limit is the most it can be, so that more draws may meet it. */
static void say_met(dregs_report *report, const dregs_ensemble_estimate *met, const char *how,
                    int bound)
{
    char share[DRAWS_SHARE];

    dregs_report_words(report, "; %s%s in %s", bound ? "at its upper bound " : "", how,
                       dregs_page_of_draws(met->value, share));
}

void dregs_page_law_plan_sure(dregs_report *report, const dregs_tally_doubt *doubt,
                              const dregs_tally_plan *plan, dregs_law_activity activity)
{
    dregs_ensemble_estimate met;

    if ((plan->least || plan->fugitive_more > 0 || plan->fugitive_less > 0) &&
        plan->met[activity] == DREGS_LAW_ASK)
        return; /* no draw tells what is not stated */
    if (doubt && !dregs_tally_doubt_plan_met(doubt, plan->number, activity, &met))
        say_met(report, &met,
                plan->met[activity] == DREGS_LAW_EXCLUDED ? "no limit is passed"
                                                          : "below the limit",
                plan->bound && plan->met[activity] != DREGS_LAW_EXCLUDED);
}

void dregs_page_law_machine_sure(dregs_report *report, const dregs_tally_doubt *doubt,
                                 unsigned machine)
{
    dregs_ensemble_estimate met;

    if (doubt && !dregs_tally_doubt_machine_met(doubt, machine, &met))
        say_met(report, &met, "below the limit", 0);
}

void dregs_page_law_waste_sure(dregs_report *report, const dregs_tally_doubt *doubt, unsigned waste)
{
    dregs_ensemble_estimate same;
    char share[DRAWS_SHARE];

    if (doubt && !dregs_tally_doubt_waste_same(doubt, waste, &same))
        dregs_report_words(report, "; so in %s", dregs_page_of_draws(same.value, share));
}

void dregs_page_law_month_sure(dregs_table *table, const dregs_tally_doubt *doubt, unsigned month)
{
    dregs_ensemble_estimate same;
    char share[DRAWS_SHARE];

    if (!doubt)
        return;
    if (dregs_tally_doubt_month_same(doubt, month, &same))
        dregs_table_number(table, NAN);
    else
        dregs_table_shown(table, same.value, dregs_page_of_draws(same.value, share));
}
