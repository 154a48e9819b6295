/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* compare.c: the page of two lines side by side. */
#include "dregs/answer_compare.h"
#include "page/bounds.h"
#include "page/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { WHAT = 200, CELL = 60, CHARTED = 16 };

static const char not_alone[] = "not alone";

static double change_of(const dregs_compare_result *result, double residue)
{
    return residue - result->of_a->most;
}

static double percent_of(const dregs_compare_result *result, double residue)
{
    return result->of_a->most > 0 ? change_of(result, residue) / result->of_a->most * 100 : NAN;
}

/* "+3.2 %", "none"; "" where it is not known. */
static const char *percent_words(double percent, char into[CELL])
{
    struct numbers n = {0};

    if (isnan(percent))
        return "";
    if (fabs(percent) < 1e-9) /* the rounding of a residue that is worked out in another order */
        return "none";
    snprintf(into, CELL, "%s%s %%", percent > 0 ? "+" : "", dregs_page_number(&n, percent));
    return into;
}

/* ---- what differs, in words ---- */

static const char *what_of(const dregs_compare_difference *difference, char into[WHAT])
{
    if (!difference->item)
        snprintf(into, WHAT, "order of the stages");
    else if (!difference->property)
        snprintf(into, WHAT, "%s (%s, %u row%s)", difference->item,
                 !difference->row_b   ? "left out"
                 : !difference->row_a ? "added"
                                      : "of another kind",
                 difference->rows, difference->rows == 1 ? "" : "s");
    else
        snprintf(into, WHAT, "%s %s", difference->item, difference->property);
    return into;
}

static const char *cell_of(const dregs_line *line, unsigned row, char into[CELL])
{
    const dregs_row *cells = dregs_line_row(line, row);

    if (!cells)
        return "-";
    snprintf(into, CELL, "%.30s%s%.20s", cells->value, *cells->unit ? " " : "", cells->unit);
    return into;
}

/* Do the rows of a difference state the same value, so that only its doubt differs? */
static int is_of_doubt(const dregs_compare_result *result, const dregs_compare_difference *d)
{
    dregs_value a, b;

    return d->property && !dregs_line_value(result->a, d->row_a, &a) &&
           !dregs_line_value(result->b, d->row_b, &b) &&
           fabs(a.si - b.si) <= 1e-12 * fmax(fabs(a.si), fabs(b.si));
}

/* ---- the verdict ---- */

/* An end of a range, to no more digits than it has. */
static const char *end_of(struct numbers *n, double value)
{
    return dregs_number_plain(n->text[n->next++ % 8], value, 3);
}

/* "; met in 97 % of draws (5 to 95 %: 0.08 to 0.13)", and whether that is as sure as is asked. */
static void say_line_doubt(dregs_report *report, const dregs_compare_doubt *doubt, int which)
{
    dregs_ensemble_range range;
    struct numbers n = {0};
    char share[DRAWS_SHARE];

    if (!doubt)
        return;
    if (!dregs_compare_doubt_worst(doubt, which, &range))
        dregs_report_words(report, "; 5 to 95 %%: %s to %s",
                           end_of(&n, range.low.value * UG_PER_CM2),
                           end_of(&n, range.high.value * UG_PER_CM2));
    if (!isnan(doubt->met[which].value))
        dregs_report_words(report, "; met in %s",
                           dregs_page_of_draws(doubt->met[which].value, share));
    if (isnan(doubt->met[which].value) || isnan(doubt->confidence[which]))
        return;
    dregs_report_words(report, ", %s for the %s %% that the target asks for",
                       doubt->sure[which]      ? "sure enough"
                       : doubt->decided[which] ? "NOT SURE ENOUGH"
                                               : "which CANNOT BE TOLD with so few draws",
                       dregs_page_number(&n, doubt->confidence[which] * 100));
}

static dregs_verdict verdict_of(const dregs_predict_result *result,
                                const dregs_compare_doubt *doubt, int which)
{
    if (doubt && doubt->confidence[which] >= 0)
        return doubt->sure[which]      ? DREGS_VERDICT_MET
               : doubt->decided[which] ? DREGS_VERDICT_MISSED
                                       : DREGS_VERDICT_UNKNOWN;
    return result->met ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED;
}

static void say_line(dregs_report *report, const dregs_compare_result *compared,
                     const dregs_compare_doubt *doubt, int which)
{
    const dregs_line *line = which ? compared->b : compared->a;
    const dregs_predict_result *result = which ? compared->of_b : compared->of_a;
    struct numbers n = {0};

    dregs_report_words(report, "%s: ", dregs_line_name(line));
    if (dregs_line_target_name(line))
        dregs_report_words(report, "target %s, ", result->met ? "met" : "MISSED");
    else
        dregs_report_words(report, "no target is stated, ");
    dregs_report_words(report, "%s ug/cm2 at the worst load (load %llu%s)",
                       dregs_page_number(&n, result->worst.residue * UG_PER_CM2),
                       (unsigned long long)result->worst.load,
                       result->worst.in_the_long_run ? ", at periodic steady state" : "");
    if (result->week)
        dregs_report_words(report, ", with nights and weekends at most %s",
                           dregs_page_number(&n, result->most * UG_PER_CM2));
    if (result->life) {
        dregs_report_words(report, "; bath life: ");
        dregs_page_bound_crossed(report, line, result->life);
    }
    say_line_doubt(report, doubt, which);
    dregs_report_end(report, 0, 2);
    if (dregs_line_target_name(line) || result->life)
        dregs_report_verdict(report, verdict_of(result, doubt, which));
}

static double percent_less(double ratio)
{
    return 100 * (1 - ratio);
}

/* " (5 to 95 %: 22 to 38 %), in 99 % of draws less"; where the range takes in both, the words of
 * each end. The change as stated is `percent`. */
static void say_range(dregs_report *report, const dregs_compare_doubt *doubt, double percent)
{
    dregs_ensemble_range ratio;
    struct numbers n = {0};
    char share[DRAWS_SHARE];
    double low, high;

    if (!doubt || dregs_compare_doubt_ratio(doubt, &ratio))
        return;
    low = percent_less(ratio.high.value);
    high = percent_less(ratio.low.value);
    if (low >= 0 && percent < 0)
        dregs_report_words(report, " (5 to 95 %%: %s to %s %%)", end_of(&n, low), end_of(&n, high));
    else if (high <= 0 && percent > 0)
        dregs_report_words(report, " (5 to 95 %%: %s to %s %%)", end_of(&n, -high),
                           end_of(&n, -low));
    else
        dregs_report_words(report, " (5 to 95 %%: %s %% %s to %s %% %s)", end_of(&n, fabs(high)),
                           high < 0 ? "more" : "less", end_of(&n, fabs(low)),
                           low < 0 ? "more" : "less");
    dregs_report_words(
        report, ", in %s %s",
        dregs_page_of_draws(percent > 0 ? doubt->more.value : doubt->less.value, share),
        percent > 0 ? "more" : "less");
}

static void say_verdict(dregs_report *report, const dregs_compare_result *result,
                        const dregs_compare_doubt *doubt)
{
    double percent = percent_of(result, result->of_b->most);
    struct numbers n = {0};

    if (!result->differences)
        dregs_report_words(report, "the files state the same: no row differs");
    else if (isnan(percent) || fabs(percent) < 1e-9)
        dregs_report_words(report, "both leave the same residue");
    else
        dregs_report_words(report, "%s leaves %s %% %s residue than %s", dregs_line_name(result->b),
                           dregs_page_number(&n, fabs(percent)), percent < 0 ? "less" : "more",
                           dregs_line_name(result->a));
    if (result->differences)
        say_range(report, doubt, percent);
    dregs_report_end(report, 0, 2);
    say_line(report, result, doubt, 0);
    say_line(report, result, doubt, 1);
    if (!doubt)
        return;
    dregs_page_draws_of(report, &doubt->run);
    dregs_report_words(report, "; a row of both files is the same draw in both");
    dregs_report_end(report, 0, 2);
    dregs_page_draws_failed(report, &doubt->run);
}

/* ---- the differences, for people ---- */

static int width_of(const dregs_compare_result *result)
{
    const dregs_compare_difference *difference;
    char text[WHAT];
    int width = 14, columns;
    unsigned i;

    for (i = 0; (difference = dregs_compare_result_difference(result, i)) != NULL; i++) {
        columns = dregs_page_columns(what_of(difference, text)) + 2;
        if (columns > width)
            width = columns;
    }
    return width < 44 ? width : 44;
}

static void put_effect(dregs_table *table, const dregs_compare_result *result, double residue)
{
    char text[CELL];

    dregs_table_number(table, residue * UG_PER_CM2);
    dregs_table_word(table, percent_words(percent_of(result, residue), text));
}

static void put_row(dregs_table *table, const dregs_compare_result *result,
                    const dregs_compare_difference *difference)
{
    char text[WHAT], cell[CELL];

    dregs_table_word(table, what_of(difference, text));
    dregs_table_word(table, cell_of(result->a, difference->row_a, cell));
    dregs_table_word(table, cell_of(result->b, difference->row_b, cell));
    if (difference->why) {
        dregs_table_shown(table, NAN, "-");
        dregs_table_word(table, not_alone);
    } else
        put_effect(table, result, difference->residue);
    dregs_table_end_row(table);
}

/* The sum of what each does alone is not what all do together. */
static void put_sums(dregs_table *table, const dregs_compare_result *result)
{
    dregs_table_word(table, "all together");
    dregs_table_word(table, "");
    dregs_table_word(table, "");
    put_effect(table, result, result->together);
    dregs_table_end_row(table);
}

static void say_why(dregs_report *report, const dregs_compare_result *result)
{
    const dregs_compare_difference *d;
    char text[WHAT], words[CELL];
    struct numbers n = {0};
    unsigned i;

    for (i = 0; (d = dregs_compare_result_difference(result, i)) != NULL; i++) {
        if (is_of_doubt(result, d))
            dregs_report_text(report, 2, 4, "%s: only its spread, varies or with differs",
                              what_of(d, text));
        if (!d->why)
            continue;
        dregs_report_words(report, "%s cannot be applied alone: %s", what_of(d, text), d->why);
        if (d->joined)
            dregs_report_words(report, "; together with the others of '%s': %s ug/cm2, %s", d->item,
                               dregs_page_number(&n, d->residue * UG_PER_CM2),
                               percent_words(percent_of(result, d->residue), words));
        dregs_report_end(report, 2, 4);
    }
}

static void say_differences(dregs_report *report, const dregs_compare_result *result)
{
    const dregs_compare_difference *difference;
    dregs_table *table;
    unsigned i;

    if (!result->differences)
        return;
    dregs_report_heading(report,
                         "what differs, and the worst residue of %s with that difference alone",
                         dregs_line_name(result->a));
    table = dregs_report_table(report, "alone", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "what", "row", "", width_of(result));
    dregs_table_column(table, DREGS_COLUMN_WORD, "first", "first file", "", 16);
    dregs_table_column(table, DREGS_COLUMN_WORD, "second", "second file", "", 16);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", "residue", "ug/cm2", -10);
    dregs_table_column(table, DREGS_COLUMN_WORD, "change", "change", "", 0);
    dregs_table_gap(table, 2);
    for (i = 0; (difference = dregs_compare_result_difference(result, i)) != NULL; i++)
        put_row(table, result, difference);
    put_sums(table, result);
    say_why(report, result);
    if (result->differences > 1)
        dregs_report_text(report, 2, 4,
                          "differences act on each other: what all do together is not the sum of "
                          "what each does alone");
}

/* ---- the working ---- */

static void explain(dregs_report *report, const dregs_compare_result *result,
                    const dregs_compare_doubt *doubt)
{
    const dregs_compare_difference *d;
    struct numbers n = {0};
    char text[WHAT];
    unsigned i;

    dregs_report_heading(report, "the working");
    dregs_report_text(report, 2, 4,
                      "each residue is that of the worst load of a file with the rows of %s, those "
                      "of the difference put in their place; change = residue / r - 1, with r = %s "
                      "ug/cm2 of %s. Each file's own balance: dregs-predict --explain with it",
                      dregs_line_name(result->a),
                      dregs_page_six(&n, result->of_a->most * UG_PER_CM2),
                      dregs_line_name(result->a));
    for (i = 0; (d = dregs_compare_result_difference(result, i)) != NULL; i++) {
        dregs_report_words(report, "%s: ", what_of(d, text));
        if (d->row_a)
            dregs_page_source(report, result->a, d->row_a, "");
        if (d->row_b) {
            dregs_report_words(report, "%s", d->row_a ? " to" : "");
            dregs_page_source(report, result->b, d->row_b, "");
        }
        if (!d->why)
            dregs_report_words(report, ": %s / %s - 1 = %s %%",
                               dregs_page_six(&n, d->residue * UG_PER_CM2),
                               dregs_page_six(&n, result->of_a->most * UG_PER_CM2),
                               dregs_page_six(&n, percent_of(result, d->residue)));
        dregs_report_end(report, 4, 6);
    }
    if (!doubt)
        return;
    dregs_page_draws_working(report, result->a, doubt->run.ensemble);
    dregs_report_text(report, 2, 4,
                      "rows of %s likewise, by what it states itself; one with the item and "
                      "property of a row of %s stands at that row's z",
                      dregs_line_name(result->b), dregs_line_name(result->a));
}

/* ---- for programs ---- */

/* Of a line: the ends of its range, and in how many draws it meets its target. */
static void put_line_doubt(dregs_table *table, const dregs_compare_doubt *doubt, int which)
{
    dregs_ensemble_range range;

    if (dregs_compare_doubt_worst(doubt, which, &range))
        return;
    dregs_table_number(table, range.low.value * UG_PER_CM2);
    dregs_table_number(table, range.middle.value * UG_PER_CM2);
    dregs_table_number(table, range.high.value * UG_PER_CM2);
    dregs_table_number(table, doubt->met[which].value);
}

static void put_doubt(dregs_report *report, const dregs_compare_doubt *doubt)
{
    dregs_ensemble_range ratio;

    dregs_page_draws_data(report, doubt ? &doubt->run : NULL);
    if (!doubt || dregs_compare_doubt_ratio(doubt, &ratio))
        return;
    dregs_report_figure(report, "change_low",
                        dregs_quantity_of(-percent_less(ratio.low.value), "%"));
    dregs_report_figure(report, "change_middle",
                        dregs_quantity_of(-percent_less(ratio.middle.value), "%"));
    dregs_report_figure(report, "change_high",
                        dregs_quantity_of(-percent_less(ratio.high.value), "%"));
    dregs_report_figure(report, "share_less", dregs_quantity_of(doubt->less.value, "1"));
    dregs_report_figure(report, "share_more", dregs_quantity_of(doubt->more.value, "1"));
}

static void put_lines(dregs_report *report, const dregs_compare_result *result,
                      const dregs_compare_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "lines", DREGS_IN_JSON | DREGS_IN_PICTURE);
    int i;

    dregs_page_word_column(table, "line");
    dregs_page_number_column(table, "worst_residue", "ug/cm2");
    dregs_table_column(table, DREGS_COLUMN_COUNT, "worst_load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "at_steady_state", NULL, "", 0);
    dregs_page_number_column(table, "floor", "ug/cm2");
    dregs_table_column(table, DREGS_COLUMN_FLAG, "met", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "bath_life", NULL, "", 0);
    if (doubt) {
        dregs_page_number_column(table, "residue_low", "ug/cm2");
        dregs_page_number_column(table, "residue_middle", "ug/cm2");
        dregs_page_number_column(table, "residue_high", "ug/cm2");
        dregs_page_number_column(table, "share_met", "1");
    }
    for (i = 0; i < 2; i++) {
        const dregs_line *line = i ? result->b : result->a;
        const dregs_predict_result *of = i ? result->of_b : result->of_a;
        char name[300];
        snprintf(name, sizeof name, "%d. %s", i + 1, dregs_line_name(line));
        dregs_table_word(table, name);
        dregs_table_number(table, of->most * UG_PER_CM2);
        dregs_table_count(table, of->worst.load);
        dregs_table_flag(table, of->worst.in_the_long_run);
        dregs_table_number(table, of->floor.total * UG_PER_CM2);
        if (dregs_line_target_name(line))
            dregs_table_flag(table, of->met);
        else
            dregs_table_word(table, NULL);
        if (of->life)
            dregs_table_count(table, of->life->crossed - 1);
        else if (doubt)
            dregs_table_word(table, NULL);
        if (doubt)
            put_line_doubt(table, doubt, i);
        dregs_table_end_row(table);
    }
}

static void put_cells(dregs_table *table, const dregs_row *row)
{
    dregs_table_word(table, row ? row->value : NULL);
    dregs_table_word(table, row ? row->unit : NULL);
}

static void put_differences(dregs_report *report, const dregs_compare_result *result)
{
    dregs_table *table = dregs_report_table(report, "differences", DREGS_IN_CSV | DREGS_IN_JSON);
    static const char *const words[] = {"item",       "property",     "first_value",
                                        "first_unit", "second_value", "second_unit"};
    const dregs_compare_difference *d;
    unsigned i;

    for (i = 0; i < sizeof words / sizeof words[0]; i++)
        dregs_page_word_column(table, words[i]);
    dregs_page_number_column(table, "residue", "ug/cm2");
    dregs_page_number_column(table, "change", "%");
    dregs_page_word_column(table, "not_alone");
    dregs_table_column(table, DREGS_COLUMN_FLAG, "joined", NULL, "", 0);
    for (i = 0; (d = dregs_compare_result_difference(result, i)) != NULL; i++) {
        dregs_table_word(table, d->item);
        dregs_table_word(table, !d->item      ? "order of the stages"
                                : d->property ? d->property
                                              : "kind");
        put_cells(table, dregs_line_row(result->a, d->row_a));
        put_cells(table, dregs_line_row(result->b, d->row_b));
        dregs_table_number(table, d->residue * UG_PER_CM2);
        dregs_table_number(table, percent_of(result, d->residue));
        dregs_table_word(table, d->why);
        dregs_table_flag(table, d->joined);
        dregs_table_end_row(table);
    }
    dregs_report_figure(report, "residue_first",
                        dregs_quantity_of(result->of_a->most * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(report, "residue_second",
                        dregs_quantity_of(result->of_b->most * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(report, "residue_together",
                        dregs_quantity_of(result->together * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(report, "change_together",
                        dregs_quantity_of(percent_of(result, result->together), "%"));
    dregs_report_count(report, "differences", result->differences);
}

/* ---- pictures ---- */

static void draw_differences(dregs_report *report, const dregs_compare_result *result)
{
    dregs_table *table = dregs_report_table(report, "drawn_differences", DREGS_IN_PICTURE);
    const dregs_compare_difference *d;
    unsigned i, drawn = 0;
    dregs_chart *chart;
    char text[WHAT], name[WHAT + 16];

    dregs_page_word_column(table, "what");
    dregs_page_number_column(table, "change", "%");
    for (i = 0; (d = dregs_compare_result_difference(result, i)) != NULL && drawn < CHARTED; i++) {
        if (d->why || isnan(percent_of(result, d->residue)))
            continue;
        snprintf(name, sizeof name, "%u. %s", i + 1, what_of(d, text));
        dregs_table_word(table, name);
        dregs_table_number(table, percent_of(result, d->residue));
        dregs_table_end_row(table);
        drawn++;
    }
    if (!drawn)
        return;
    chart = dregs_report_chart(report, "differences",
                               "What each difference alone does to the "
                               "residue of the first line");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "difference", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "change of the residue", "%", 0);
    dregs_chart_series(chart, "change", DREGS_MARK_BARS, "drawn_differences", "what", "change");
    if (drawn == CHARTED && i < result->differences)
        dregs_chart_note(chart, "the first %u are drawn", drawn);
}

static void draw(dregs_report *report, const dregs_compare_result *result)
{
    dregs_chart *chart =
        dregs_report_chart(report, "residues", "What the worst load keeps, line by line");

    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "line", "", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "residue", "ug/cm2", 0);
    dregs_chart_series(chart, "residue", DREGS_MARK_BARS, "lines", "line", "worst_residue");
    draw_differences(report, result);
}

/* ---- what stands beside ---- */

typedef const char *text_of(const dregs_line *line, unsigned index);
typedef void take_text(dregs_report *report, const char *text);

static const char *unused_with_draws(const dregs_line *line, unsigned index)
{
    return dregs_line_unused(line, DREGS_ASKED_RESIDUE | DREGS_ASKED_DOUBT, index);
}

static const char *unused_of(const dregs_line *line, unsigned index)
{
    return dregs_line_unused(line, DREGS_ASKED_RESIDUE, index);
}

/* What holds of both lines is said once. */
static void note(dregs_report *report, const dregs_compare_result *result, text_of *text,
                 take_text *take)
{
    const dregs_line *lines[2] = {result->a, result->b};
    char named[1400];
    unsigned i, k;
    int of;

    for (of = 0; of < 2; of++)
        for (i = 0; text(lines[of], i); i++) {
            const char *same = NULL;
            for (k = 0; (same = text(lines[!of], k)) != NULL; k++)
                if (strcmp(same, text(lines[of], i)) == 0)
                    break;
            if (of && same)
                continue;
            snprintf(named, sizeof named, "%s%s%s", same ? "" : dregs_line_name(lines[of]),
                     same ? "" : ": ", text(lines[of], i));
            take(report, named);
        }
}

/* Has an answer the same caution, in the same words? */
static int is_among(const dregs_predict_result *answer, const dregs_caution *wanted)
{
    unsigned i;

    for (i = 0; i < answer->cautions; i++)
        if (answer->caution[i].rule == wanted->rule &&
            strcmp(answer->caution[i].text, wanted->text) == 0)
            return 1;
    return 0;
}

static void caution(dregs_report *report, const dregs_compare_result *result)
{
    const dregs_predict_result *answers[2] = {result->of_a, result->of_b};
    const dregs_line *lines[2] = {result->a, result->b};
    unsigned i;
    int of;

    for (of = 0; of < 2; of++)
        for (i = 0; i < answers[of]->cautions; i++) {
            const dregs_caution *c = &answers[of]->caution[i];
            int both = is_among(answers[!of], c);
            if (!both || !of)
                dregs_page_caution(report, c, both ? NULL : dregs_line_name(lines[of]));
        }
    dregs_report_decided_by(report, dregs_caution_deference());
}

dregs_status dregs_page_compare(const dregs_compare_result *result, int with_working,
                                dregs_report **report)
{
    return dregs_page_compare_with(result, NULL, with_working, report);
}

dregs_status dregs_page_compare_with(const dregs_compare_result *result,
                                     const dregs_compare_doubt *doubt, int with_working,
                                     dregs_report **report)
{
    dregs_report *made = dregs_report_new("predict", dregs_line_name(result->a));

    if (!made)
        return DREGS_NO_MEMORY;
    say_verdict(made, result, doubt);
    if (with_working)
        explain(made, result, doubt);
    else
        say_differences(made, result);
    dregs_report_show(made, DREGS_LIST_ASSUMED, "assumed, because the file does not state it");
    dregs_report_show(made, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(made, DREGS_LIST_CAUTIONS, "cautions");
    put_lines(made, result, doubt);
    put_doubt(made, doubt);
    put_differences(made, result);
    draw(made, result);
    note(made, result, dregs_line_assumed, dregs_report_assumed);
    note(made, result, doubt ? unused_with_draws : unused_of, dregs_report_not_used);
    caution(made, result);
    return dregs_page_end(made, report);
}
