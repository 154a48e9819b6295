/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: the page of a sizing: what was sought and found, or the layouts in order. */
#include "page/size.h"
#include "base/grow.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "page/bounds.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A value in the unit it was varied in. */
static double in_unit(const dregs_varied *varied, unsigned index, double si)
{
    dregs_unit unit;

    return dregs_unit_read(dregs_varied_unit(varied, index), &unit, NULL)
               ? si
               : dregs_unit_from_si(unit, si);
}

double dregs_page_size_found(const dregs_sized *sized, unsigned index)
{
    return in_unit(dregs_sized_varied(sized), index, dregs_sized_value(sized, index));
}

/* A value to seven figures: what it is sought to. */
static const char *seven(char into[DREGS_NUMBER_TEXT], double value)
{
    return dregs_number_plain(into, value, 7);
}

static const char *assumed_shift(const struct sizing *s)
{
    return s->result->shift_assumed ? " (8 h, assumed: the file states no schedule)" : "";
}

/* ---- what is asked for ---- */

static void say_criterion(const struct sizing *s)
{
    dregs_criterion criterion = s->request->criterion;

    dregs_report_words(s->report, "criterion: ");
    switch (criterion.by) {
    case DREGS_CRITERION_FIRST:
        dregs_report_words(s->report, "the worst of the first %llu loads",
                           (unsigned long long)criterion.loads);
        break;
    case DREGS_CRITERION_STEADY:
        dregs_report_words(s->report, "the worst load at periodic steady state");
        break;
    case DREGS_CRITERION_LOAD:
        dregs_report_words(s->report, "load %llu", (unsigned long long)criterion.loads);
        break;
    default:
        dregs_report_words(s->report, "the worst load, however long the line runs");
    }
    dregs_report_end(s->report, 2, -1);
}

static void say_limits(const struct sizing *s)
{
    const dregs_target *target = dregs_line_target(s->line);
    struct numbers n = {0};
    int i;

    dregs_report_line(s->report, 0, "%s", dregs_line_name(s->line));
    for (i = DREGS_EVERY_SOLUTE; i < (int)dregs_line_solutes(s->line); i++) {
        const dregs_value *limit = i < 0 ? &target->residue : &target->of_solute[i];
        if (!limit->row)
            continue;
        dregs_report_words(s->report, "target: at most %s ug/cm2 of %s",
                           dregs_page_number(&n, limit->si * UG_PER_CM2),
                           i < 0 ? "all solutes" : dregs_page_solute(s->line, i));
        if (i < 0 && target->level)
            dregs_report_words(s->report, " (level %s)", target->level);
        dregs_report_end(s->report, 2, -1);
    }
    say_criterion(s);
    dregs_report_gap(s->report);
}

/* ---- one answer ---- */

const char *dregs_page_size_unit(const dregs_varied *varied, unsigned index)
{
    const char *unit = dregs_varied_unit(varied, index);

    return strcmp(unit, "1") == 0 ? "" : unit;
}

static void say_values(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    const dregs_varied *varied = s->request->varied;
    struct numbers n = {0};
    unsigned i;

    for (i = 0; i < dregs_varied_count(varied); i++) {
        const char *unit = dregs_page_size_unit(varied, i), *space = *unit ? " " : "";
        dregs_report_words(s->report, "%s of %s = %s%s%s", dregs_varied_property(varied, i),
                           dregs_varied_stage(varied, i, 0),
                           dregs_page_number(&n, dregs_page_size_found(sized, i)), space, unit);
        if (isnan(s->result->before[i]))
            dregs_report_words(s->report, "   (the file states none)");
        else
            dregs_report_words(s->report, "   (the file: %s%s%s)",
                               dregs_page_number(&n, in_unit(varied, i, s->result->before[i])),
                               space, unit);
        if (dregs_sized_at_low(sized, i) || dregs_sized_at_high(sized, i))
            dregs_report_words(s->report, "   at the %s end of its range",
                               dregs_sized_at_low(sized, i) ? "lower" : "upper");
        dregs_report_end(s->report, 2, -1);
    }
}

/* Which part of the residue the rinsing cannot take away. */
static void say_floor(const struct sizing *s, const dregs_compliance *compliance)
{
    static const char *const bars[] = {
        [DREGS_SIZE_NO_BAR] = "",
        [DREGS_SIZE_FRESH_FILM] = ("; with that the limit is passed: it takes cleaner rinse "
                                   "liquid or a thinner last film"),
        [DREGS_SIZE_ADHERING] =
            "; the adhering soil alone is above the limit: it takes better washing"};
    struct numbers n = {0};

    dregs_report_text(
        s->report, 2, 4,
        "lowest attainable residue, with nothing but fresh liquid in the last film: %s of these %s "
        "ug/cm2; %s is soil that adheres, %s residue of the film%s",
        dregs_page_number(&n, compliance->floor * UG_PER_CM2),
        dregs_page_number(&n, compliance->residue * UG_PER_CM2),
        dregs_page_number(&n, compliance->floor_adhering * UG_PER_CM2),
        dregs_page_number(&n, s->result->figures.floor_film * UG_PER_CM2),
        bars[s->result->figures.bar]);
}

static void say_use(const struct sizing *s, const dregs_use *use)
{
    struct numbers n = {0};

    dregs_report_text(s->report, 2, 4, "fresh liquid: %s L per load, %s L per shift of %s loads%s",
                      dregs_page_number(&n, use->bought * LITRES),
                      dregs_page_number(&n, s->result->figures.fresh_per_shift * LITRES),
                      dregs_page_number(&n, s->result->loads_per_shift), assumed_shift(s));
    dregs_report_line(s->report, 2, "waste: %s L per load to drain, %s L dumped",
                      dregs_page_number(&n, use->to_drain * LITRES),
                      dregs_page_number(&n, use->dumped * LITRES));
    if (!isnan(use->cost))
        dregs_report_line(s->report, 2, "cost: %s per load, in the file's currency",
                          dregs_page_number(&n, use->cost));
}

static void say_rule(const struct sizing *s)
{
    const dregs_size_rule *rule = &s->result->rule;
    struct numbers n = {0};

    if (isnan(rule->ratio) || dregs_sized_throughout(s->result->sized))
        return;
    dregs_report_heading(s->report,
                         "rules of thumb, beside the answer (%u rinse%s taken as counterflow, the "
                         "fresh liquid's own taken off)",
                         rule->stages, rule->stages == 1 ? "" : "s");
    dregs_report_line(s->report, 2,
                      "rinse ratio C0/Cn %s; fresh liquid over drag-out: %s in this answer",
                      dregs_page_number(&n, rule->ratio), dregs_page_number(&n, rule->exact));
    dregs_report_line(s->report, 2, "root form (C0/Cn)^(1/n): %s, off by %s %%",
                      dregs_page_number(&n, rule->root),
                      dregs_page_number(&n, rule->root_off * 100));
    dregs_report_line(s->report, 2, "series 1 + R + ... + R^n = C0/Cn: %s, off by %s %%",
                      dregs_page_number(&n, rule->series),
                      dregs_page_number(&n, rule->series_off * 100));
}

static void say_verdict(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    const char *least = s->result->by_cost ? "cost" : "fresh liquid";
    struct numbers n = {0};
    char missed[BOUND_WORDS];
    double times;

    if (dregs_page_size_sure_verdict(s))
        return;
    dregs_page_size_missed(s->line, sized, &times, missed, sizeof missed);
    if (!dregs_sized_feasible(sized))
        dregs_report_line(s->report, 0,
                          "NOT POSSIBLE in the range: at best %s is %s times the limit", missed,
                          dregs_page_number(&n, times));
    else if (dregs_sized_throughout(sized))
        dregs_report_line(s->report, 0,
                          "the target is never limiting in the range; least %s:", least);
    else if (dregs_varied_count(s->request->varied) > 1)
        dregs_report_line(s->report, 0, "the target is met at the least %s found with", least);
    else if (dregs_sized_at_low(sized, 0) || dregs_sized_at_high(sized, 0))
        dregs_report_line(s->report, 0,
                          "the target is met at an end of the range, with the least %s:", least);
    else
        dregs_report_line(s->report, 0, "the target is just met with");
    dregs_report_verdict(s->report,
                         dregs_sized_feasible(sized) ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED);
    if (!dregs_sized_feasible(sized))
        dregs_report_line(s->report, 2, "nearest:");
}

/* How far the search came, where that is not all the way. */
static void say_how_far(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    const dregs_use *use = dregs_sized_use(sized);
    double expense = s->result->by_cost ? use->cost : use->bought;
    double to = s->result->by_cost ? 1 : LITRES;
    const char *unit = s->result->by_cost ? "per load" : "L per load";
    struct numbers n = {0};

    if (dregs_sized_ended(sized) && isfinite(dregs_sized_possible(sized)))
        dregs_report_text(
            s->report, 2, 4,
            "search ended after %u trials: no values take less than %s %s, %s %% less "
            "than these",
            dregs_sized_trials(sized), dregs_page_number(&n, dregs_sized_possible(sized) * to),
            unit, dregs_page_number(&n, (1 - dregs_sized_possible(sized) / expense) * 100));
    else if (dregs_sized_ended(sized))
        dregs_report_text(s->report, 2, 4,
                          "search ended after %u trials: how much less others take is not known",
                          dregs_sized_trials(sized));
    else if (dregs_sized_possible(sized) < expense * (1 - 1e-9))
        dregs_report_text(s->report, 2, 4,
                          "searched to the end: no values of the ranges take more than %s %% less",
                          dregs_page_number(&n, (1 - dregs_sized_possible(sized) / expense) * 100));
    if (!isnan(dregs_sized_unrounded(sized)))
        dregs_report_text(s->report, 2, 4,
                          "numbers of few digits, in place of odd ones that would take %s %s",
                          dregs_page_number(&n, dregs_sized_unrounded(sized) * to), unit);
    if (dregs_sized_beyond(sized) < expense * 0.999)
        dregs_report_text(s->report, 2, 4,
                          "numbers whose dumps fall together only after more than %d loads, which "
                          "no file may state, would take %s %s",
                          DREGS_LINE_PERIOD, dregs_page_number(&n, dregs_sized_beyond(sized) * to),
                          unit);
}

static void say_answer(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    const dregs_compliance *compliance = dregs_sized_compliance(sized);
    struct numbers n = {0};

    say_verdict(s);
    say_values(s);
    dregs_page_size_other_tanks(s);
    dregs_page_size_sure(s);
    say_how_far(s);
    dregs_page_size_described(s);
    dregs_report_line(s->report, 2, "it leaves %s ug/cm2 of %s, %s %% of the limit",
                      dregs_page_number(&n, compliance->residue * UG_PER_CM2),
                      compliance->limit < 0 ? "all solutes"
                                            : dregs_page_solute(s->line, compliance->limit),
                      dregs_page_number(&n, compliance->of_limit * 100));
    dregs_page_size_bound(s);
    dregs_page_size_regime(s);
    say_floor(s, compliance);
    say_use(s, dregs_sized_use(sized));
    say_rule(s);
}

/* ---- layouts ---- */

static void layout_columns(const struct sizing *s, dregs_table *table)
{
    dregs_table_column(table, DREGS_COLUMN_WORD, "layout", "layout", "", 33);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "stages", "n", "", -2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "sought", "sought", "", 20);
    dregs_table_gap(table, 2);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "fresh_per_load", "fresh", "L/load", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "fresh_per_shift", "fresh", "L/shift", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "waste_per_shift", "waste", "L/shift", -10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "margin", "margin", "%", -9);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "tanks", "tanks", "L", -8);
    if (dregs_page_size_sure_asked(s))
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "sure", "sure", "%", -8);
    if (s->result->by_cost)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "cost_per_shift", "cost", "per shift", -11);
    dregs_table_column(table, DREGS_COLUMN_WORD, "binds", "binds", "", 10);
    dregs_table_gap(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "remark", "", "", 0);
    dregs_table_gap(table, 2);
}

static void put_remark(const struct sizing *s, dregs_table *table, const dregs_size_row *row)
{
    const dregs_size_row *by =
        row->dominated < 0 ? NULL : dregs_size_result_row(s->result, (size_t)row->dominated);
    int throughout = dregs_sized_throughout(row->sized);
    char remark[120], better[60] = "";

    if (!by && !throughout)
        return;
    if (by)
        snprintf(better, sizeof better, "< %s %u", dregs_layout_name(by->layout), by->stages);
    snprintf(remark, sizeof remark, "%s%s%s", throughout ? "never limiting" : "",
             throughout && by ? "  " : "", better);
    dregs_table_word(table, remark);
}

/* A margin in %: what a search leaves is too little to be told by its digits. */
static void put_margin(dregs_table *table, double margin)
{
    if (margin >= 0 && margin < 0.01)
        dregs_table_shown(table, margin, "< 0.01");
    else
        dregs_table_number(table, margin);
}

static void put_layout(const struct sizing *s, dregs_table *table, const dregs_size_row *row)
{
    const dregs_sized *sized = row->sized;
    const dregs_varied *varied;
    const dregs_use *use;
    struct numbers n = {0};
    const char *unit;
    char sought[96 + BOUND_WORDS], binds[BOUND_WORDS], share[32];
    double times;

    dregs_table_word(table, dregs_layout_name(row->layout));
    dregs_table_count(table, row->stages);
    if (!row->possible) {
        dregs_table_word(table, row->message);
        return;
    }
    if (!dregs_sized_feasible(sized)) {
        dregs_page_size_missed(row->line, sized, &times, binds, sizeof binds);
        snprintf(sought, sizeof sought, "not possible: at best %s is %s times the limit", binds,
                 dregs_page_number(&n, times));
        dregs_table_word(table, sought);
        return;
    }
    if (!dregs_page_size_sure_met(row->sureness) && !row->sureness->passed_over) {
        const dregs_bound *keeps = row->sureness->keeps;
        snprintf(sought, sizeof sought, "not possible: at best in %s of draws%s%s",
                 dregs_page_size_sure_share(row->sureness->best, share), keeps ? "; " : "",
                 keeps ? dregs_page_bound_of(row->line, keeps, binds) : "");
        dregs_table_word(table, sought);
        return;
    }
    varied = dregs_sized_varied(sized);
    use = dregs_sized_use(sized);
    unit = dregs_page_size_unit(varied, 0);
    snprintf(sought, sizeof sought, "%s %s%s%s%s", dregs_varied_property(varied, 0),
             dregs_page_number(&n, dregs_page_size_found(sized, 0)), *unit ? " " : "", unit,
             row->sureness->passed_over ? ", just met" : "");
    dregs_table_word(table, sought);
    dregs_table_number(table, use->bought * LITRES);
    dregs_table_number(table, row->figures.fresh_per_shift * LITRES);
    dregs_table_number(table, row->figures.waste_per_shift * LITRES);
    put_margin(table, row->figures.margin * 100);
    dregs_table_number(table, row->volume * LITRES);
    if (dregs_page_size_sure_asked(s))
        dregs_table_number(table, row->sureness->met.value * 100);
    if (s->result->by_cost)
        dregs_table_number(table, row->figures.cost_per_shift);
    dregs_page_size_binds(row, binds, sizeof binds);
    dregs_table_word(table, binds);
    put_remark(s, table, row);
}

static void say_layouts_verdict(const struct sizing *s)
{
    const dregs_size_row *row =
        dregs_size_result_row(s->result, s->result->met ? 0 : s->result->nearest);
    struct numbers n = {0};
    char missed[BOUND_WORDS], share[DRAWS_SHARE];
    double times;

    dregs_page_size_missed(row->line, row->sized, &times, missed, sizeof missed);
    if (s->result->met) {
        dregs_report_words(s->report, "the target is met by %zu of %zu layouts of n equal rinses",
                           s->result->rows_met, s->result->rows);
        if (s->result->rows_passed)
            dregs_report_words(s->report, ", and just met by %zu more that these beat",
                               s->result->rows_passed);
        dregs_report_words(s->report, "; least %s: %s, %u",
                           s->result->by_cost ? "cost" : "fresh liquid",
                           dregs_layout_name(row->layout), row->stages);
        if (isnan(row->sureness->confidence) && row->sureness->draws)
            dregs_report_words(s->report, ", which meets it in %s",
                               dregs_page_of_draws(row->sureness->met.value, share));
        dregs_report_end(s->report, 0, 2);
    } else {
        dregs_report_text(
            s->report, 0, 2,
            "NOT POSSIBLE: no layout of n equal rinses meets the target; nearest: %s, "
            "%u, where %s is %s times the limit",
            dregs_layout_name(row->layout), row->stages, missed, dregs_page_number(&n, times));
    }
    dregs_report_verdict(s->report, s->result->met ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED);
}

static void say_layouts(const struct sizing *s)
{
    dregs_table *table;
    struct numbers n = {0};
    size_t i;

    say_layouts_verdict(s);
    table = dregs_report_table(s->report, "layouts", DREGS_IN_TEXT | DREGS_IN_JSON);
    layout_columns(s, table);
    for (i = 0; i < s->result->rows; i++) {
        put_layout(s, table, dregs_size_result_row(s->result, i));
        dregs_table_end_row(table);
    }
    dregs_report_gap(s->report);
    dregs_report_text(s->report, 2, 4,
                      "'< x' marks a row that x beats in liquid, tanks or number of stages, and "
                      "loses to in none");
    dregs_page_size_week(s, NULL);
    dregs_report_text(s->report, 2, 4, "a shift has %s loads%s; tanks are those of the rinses",
                      dregs_page_number(&n, s->result->loads_per_shift), assumed_shift(s));
    dregs_page_size_sure_layouts(s);
}

static void rule_columns(dregs_table *table)
{
    dregs_table_column(table, DREGS_COLUMN_COUNT, "stages", "n", "", -4);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "rinse_ratio", "C0/Cn", "", -12);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "fresh_over_drag_out", "answer", "", -12);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "root_form", "root form", "", -12);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "root_form_off", "off", "%", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "series", "series", "", -12);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "series_off", "off", "%", -12);
}

static void say_rules(const struct sizing *s)
{
    dregs_table *table = NULL;
    size_t i;

    for (i = 0; i < s->result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(s->result, i);
        const dregs_size_rule *rule = &row->rule;
        if (isnan(rule->ratio) || dregs_sized_throughout(row->sized))
            continue;
        if (!table) {
            dregs_report_heading(s->report, "rules of thumb beside the counterflow answers: fresh "
                                            "liquid over drag-out");
            table = dregs_report_table(s->report, "rules_of_thumb", DREGS_IN_TEXT | DREGS_IN_JSON);
            rule_columns(table);
        }
        dregs_table_count(table, row->stages);
        dregs_table_number(table, rule->ratio);
        dregs_table_number(table, rule->exact);
        dregs_table_number(table, rule->root);
        dregs_table_number(table, rule->root_off * 100);
        dregs_table_number(table, rule->series);
        dregs_table_number(table, rule->series_off * 100);
        dregs_table_end_row(table);
    }
}

/* ---- the working ---- */

static void say_trials(const struct sizing *s, const dregs_sized *sized)
{
    const dregs_varied *varied = dregs_sized_varied(sized);
    unsigned i, k, kept = dregs_sized_trials_kept(sized);
    char text[DREGS_NUMBER_TEXT];

    for (i = 0; i < kept; i++) {
        dregs_report_words(s->report, "%3u:", i + 1);
        for (k = 0; k < dregs_varied_count(varied); k++)
            dregs_report_words(
                s->report, " %s = %s %s,", dregs_varied_property(varied, k),
                seven(text, in_unit(varied, k, dregs_sized_trial_value(sized, i, k))),
                dregs_varied_unit(varied, k));
        if (isfinite(dregs_sized_trial_of_limit(sized, i)))
            dregs_report_words(s->report, " residue / limit = %s",
                               seven(text, dregs_sized_trial_of_limit(sized, i)));
        else
            dregs_report_words(s->report, " no line: refused");
        dregs_report_end(s->report, 4, -1);
    }
    if (kept < dregs_sized_trials(sized))
        dregs_report_line(s->report, 4, "and %u more", dregs_sized_trials(sized) - kept);
}

static const char *given(int given)
{
    return given ? "asked for" : "usual for this line";
}

static void say_search(const struct sizing *s)
{
    const dregs_varied *v = s->request->varied;
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    unsigned i;

    dregs_report_heading(s->report, "how it was found");
    for (i = 0; i < dregs_varied_count(v); i++)
        dregs_report_line(s->report, 2, "%s of %s between %s (%s) and %s %s (%s)",
                          dregs_varied_property(v, i), dregs_varied_stage(v, i, 0),
                          seven(low, in_unit(v, i, dregs_varied_low(v, i))),
                          given(dregs_varied_low_given(v, i)),
                          seven(high, in_unit(v, i, dregs_varied_high(v, i))),
                          dregs_varied_unit(v, i), given(dregs_varied_high_given(v, i)));
    dregs_report_line(
        s->report, 2, "%s",
        dregs_varied_count(s->request->varied) > 1
            ? "least fresh liquid (or cost, where prices are stated) with ln(residue/limit) <= 0: "
              "whole numbers by branch and bound (Land and Doig 1960), the rest on the boundary "
              "or, of "
              "two and more, by SLSQP (Kraft 1988) from the file's values and three starts"
        : dregs_varied_whole(s->request->varied, 0)
            ? "the largest whole number that meets the target: doubled until it misses, then "
              "closed in on"
            : "ln(residue/limit) = 0 by Brent's method (Brent 1973) on a bracket");
    dregs_report_line(s->report, 2,
                      "every trial is the line with the values put in, worked out anew and judged; "
                      "they were");
    say_trials(s, s->result->sized);
}

static void say_layout_searches(const struct sizing *s)
{
    size_t i;

    dregs_report_heading(s->report, "how they were found: the rinses are replaced, in the file's "
                                    "text, by n like the last one; the value");
    dregs_report_line(s->report, 2, "sought is then varied until the target is just met");
    for (i = 0; i < s->result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(s->result, i);
        if (!row->possible)
            continue;
        dregs_report_line(s->report, 2, "%s %u", dregs_layout_name(row->layout), row->stages);
        say_trials(s, row->sized);
    }
}

static void say_formulas(const struct sizing *s)
{
    static const char *const lines[] = {
        ("C0: all solutes in the film that enters the rinses; Cn: in the last film; the fresh "
         "liquid's own Cw is"),
        "taken off both; fresh liquid over drag-out: R = flow T / D",
        "root form R = (C0/Cn)^(1/n)  [GOST 9.047-75 p. 67]",
        "series 1 + R + ... + R^n = C0/Cn  [counterflow with equal drag-in and drag-out]",
        "both hold for endless small loads and a steady state; the answer does not need that"};
    size_t i;

    dregs_report_heading(s->report, "formulas shown beside the answer");
    for (i = 0; i < sizeof lines / sizeof lines[0]; i++)
        dregs_report_line(s->report, 2, "%s", lines[i]);
}

/* ---- for programs ---- */

/* A value of an answer: its name, and the key of the figure that it is. */
struct named {
    const char *name, *key;
    double value;
    const char *unit;
};

enum { NAMED_MOST = 20 };

static struct named name_value(const dregs_sized *sized, unsigned index)
{
    const dregs_varied *varied = dregs_sized_varied(sized);

    return (struct named){dregs_varied_property(varied, index), NULL,
                          dregs_page_size_found(sized, index), dregs_varied_unit(varied, index)};
}

static unsigned name_sized(const dregs_sized *sized, const dregs_size_figures *figures,
                           struct named *into)
{
    const dregs_compliance *compliance = dregs_sized_compliance(sized);
    const dregs_use *use = dregs_sized_use(sized);
    const struct named all[] = {
        {"feasible", NULL, dregs_sized_feasible(sized), ""},
        {"worst residue", "worst_residue", compliance->residue * UG_PER_CM2, "ug/cm2"},
        {"residue per limit", "residue_per_limit", compliance->of_limit, "1"},
        {"margin", "margin", figures->margin * 100, "%"},
        {"total residue", "total_residue", compliance->total * UG_PER_CM2, "ug/cm2"},
        {"floor", "lowest_attainable_residue", compliance->floor * UG_PER_CM2, "ug/cm2"},
        {"adhering floor", "lowest_attainable_adhering", compliance->floor_adhering * UG_PER_CM2,
         "ug/cm2"},
        {"fresh liquid", "fresh_liquid", use->bought * LITRES, "L/load"},
        {"fresh liquid per shift", "fresh_liquid_per_shift", figures->fresh_per_shift * LITRES,
         "L/shift"},
        {"to drain", "to_drain", use->to_drain * LITRES, "L/load"},
        {"dumped", "dumped", use->dumped * LITRES, "L/load"},
        {"evaporated", "evaporated", use->evaporated * LITRES, "L/load"},
        {"cost", "cost", use->cost, "currency/load"},
    };
    unsigned count = sizeof all / sizeof all[0];

    memcpy(into, all, sizeof all);
    return isnan(use->cost) ? count - 1 : count;
}

static unsigned name_rule(const dregs_size_rule *rule, struct named *into)
{
    const struct named all[] = {
        {"rinse ratio", "rinse_ratio", rule->ratio, "1"},
        {"fresh liquid over drag-out", "fresh_over_drag_out", rule->exact, "1"},
        {"root form", "root_form", rule->root, "1"},
        {"series", "series", rule->series, "1"},
    };

    if (isnan(rule->ratio))
        return 0;
    memcpy(into, all, sizeof all);
    return sizeof all / sizeof all[0];
}

/* Rows of "quantity, value, unit" behind the stage, or behind the layout and its stages. */
static void put_named(dregs_table *table, const char *first, unsigned stages,
                      const struct named *named, unsigned count)
{
    unsigned i;

    for (i = 0; i < count; i++) {
        dregs_table_word(table, first);
        if (stages)
            dregs_table_count(table, stages);
        dregs_table_word(table, named[i].name);
        dregs_table_number(table, named[i].value);
        dregs_table_word(table, named[i].unit);
        dregs_table_end_row(table);
    }
}

static void put_varied_values(const struct sizing *s, dregs_table *table)
{
    const dregs_varied *varied = s->request->varied;
    struct named named[NAMED_MOST];
    unsigned i, count;

    for (i = 0; i < dregs_varied_count(varied); i++) {
        named[0] = name_value(s->result->sized, i);
        put_named(table, dregs_varied_stage(varied, i, 0), 0, named, 1);
    }
    count = name_sized(s->result->sized, &s->result->figures, named);
    named[0].value = s->result->met; /* as surely as asked for */
    count += name_rule(&s->result->rule, named + count);
    put_named(table, "", 0, named, count);
    dregs_page_size_sure_values(s->result->sureness, table, "", 0);
}

static void put_layout_values(const struct sizing *s, dregs_table *table)
{
    struct named named[NAMED_MOST + 3];
    unsigned count;
    size_t i;

    for (i = 0; i < s->result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(s->result, i);
        if (!row->possible)
            continue;
        named[0] = name_value(row->sized, 0);
        count = 1 + name_sized(row->sized, &row->figures, named + 1);
        named[count++] = (struct named){"rinse tanks", NULL, row->volume * LITRES, "L"};
        named[count++] = (struct named){"dominated", NULL, row->dominated >= 0, ""};
        count += name_rule(&row->rule, named + count);
        named[1].value =
            dregs_sized_feasible(row->sized) && dregs_page_size_sure_met(row->sureness);
        put_named(table, dregs_layout_name(row->layout), row->stages, named, count);
        dregs_page_size_sure_values(row->sureness, table, dregs_layout_name(row->layout),
                                    row->stages);
    }
}

static void put_values(const struct sizing *s)
{
    dregs_table *table = dregs_report_table(s->report, "values", DREGS_IN_CSV | DREGS_IN_JSON);
    int layouts = s->request->first > 0;

    dregs_table_column(table, DREGS_COLUMN_WORD, layouts ? "layout" : "stage", NULL, "", 0);
    dregs_table_index(table);
    if (layouts) {
        dregs_table_column(table, DREGS_COLUMN_COUNT, "stages", NULL, "", 0);
        dregs_table_index(table);
    }
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    if (layouts)
        put_layout_values(s, table);
    else
        put_varied_values(s, table);
}

/* What was varied, from where to where. */
static void put_varied(const struct sizing *s)
{
    const dregs_sized *sized = s->result->sized;
    dregs_table *table = dregs_report_table(s->report, "varied", DREGS_IN_JSON);
    const dregs_varied *varied = s->request->varied;
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "before", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "just", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "at_the_lower_end", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "at_the_upper_end", NULL, "", 0);
    for (i = 0; i < dregs_varied_count(varied); i++) {
        dregs_table_word(table, dregs_varied_stage(varied, i, 0));
        dregs_table_word(table, dregs_varied_property(varied, i));
        dregs_table_word(table, dregs_varied_unit(varied, i));
        dregs_table_number(table, in_unit(varied, i, s->result->before[i]));
        dregs_table_number(table, dregs_page_size_found(sized, i));
        dregs_table_number(table,
                           dregs_page_size_found(
                               s->result->sureness->just ? s->result->sureness->just : sized, i));
        dregs_table_flag(table, dregs_sized_at_low(sized, i));
        dregs_table_flag(table, dregs_sized_at_high(sized, i));
        dregs_table_end_row(table);
    }
}

static void put_figures(const struct sizing *s)
{
    struct named named[NAMED_MOST];
    unsigned i, count;

    dregs_report_figure(s->report, "loads_per_shift",
                        dregs_quantity_of(s->result->loads_per_shift, "1"));
    dregs_report_flag(s->report, "loads_per_shift_assumed", s->result->shift_assumed);
    if (s->request->first)
        return;
    dregs_report_flag(s->report, "met_throughout", dregs_sized_throughout(s->result->sized));
    dregs_report_flag(s->report, "search_ended", dregs_sized_ended(s->result->sized));
    dregs_page_size_sure_data(s);
    count = name_sized(s->result->sized, &s->result->figures, named);
    count += name_rule(&s->result->rule, named + count);
    for (i = 0; i < count; i++)
        if (named[i].key)
            dregs_report_figure(s->report, named[i].key,
                                dregs_quantity_of(named[i].value, named[i].unit));
    put_varied(s);
}

dregs_status dregs_page_size(const dregs_line *line, const dregs_size_request *request,
                             const dregs_size_result *result, int explain, dregs_report **report)
{
    dregs_size_request asked;
    struct sizing s = {NULL, line, &asked, result};

    dregs_size_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    s.report = dregs_report_new("size", dregs_line_name(line));
    if (!s.report)
        return DREGS_NO_MEMORY;
    dregs_report_show(s.report, DREGS_LIST_PRESSING, "");
    say_limits(&s);
    if (asked.first) {
        say_layouts(&s);
        say_rules(&s);
    } else {
        say_answer(&s);
    }
    dregs_page_size_curve(&s);
    dregs_report_show(s.report, DREGS_LIST_ASSUMED, "assumed, because the file does not state it");
    dregs_report_show(s.report, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(s.report, DREGS_LIST_CAUTIONS, "cautions");
    dregs_page_marked(s.report, line);
    dregs_page_notes(s.report, line, DREGS_ASKED_SIZE | dregs_page_size_sure_asked(&s));
    dregs_page_size_week_assumed(&s);
    dregs_page_cautions(s.report, result->caution, result->cautions);
    if (explain && asked.first)
        say_layout_searches(&s);
    if (explain && !asked.first)
        say_search(&s);
    if (explain)
        dregs_page_size_sure_explain(&s);
    if (explain)
        say_formulas(&s);
    put_figures(&s);
    put_values(&s);
    dregs_page_size_pictures(&s);
    return dregs_page_end(s.report, report);
}
