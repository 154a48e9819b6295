/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_hangs.c: what a prediction hangs on: the ten largest for people, all for programs, and
 * how the first of them is worked out.
 */
#include "page/predict.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SHOWN = 10, NAME = 200 };
#define SHOWN_LEAST 0.02 /* of the doubt: less of it tells nothing */
/* What counts as exact is named from so much of the residue for 1 % on, and so many; our choice. */
#define EXACT_LEAST 1e-3
enum { EXACT_MOST = 3 };

static const char *change_words(dregs_hangs_change change)
{
    static const char *const words[] = {"1 %", "1 % of the rest", "1 K", "one more", "one fewer"};

    return words[change];
}

static const char *change_key(dregs_hangs_change change)
{
    static const char *const keys[] = {"percent", "percent_of_remainder", "kelvin", "one_more",
                                       "one_fewer"};

    return keys[change];
}

/* Of a row, or of a liquid. */
static const char *item_of(const dregs_line *line, const dregs_hangs_value *v)
{
    return v->liquid ? v->liquid : dregs_line_row(line, v->row)->item;
}

static const char *property_of(const dregs_line *line, const dregs_hangs_value *v)
{
    return v->liquid ? dregs_property_name(v->property) : dregs_line_row(line, v->row)->property;
}

static const dregs_liquid_row *data_of(const dregs_line *line, const dregs_hangs_value *v)
{
    return dregs_liquids_row(dregs_line_liquids(line), v->liquid, v->property);
}

/* "9 L/h"; of a property how well it is known. */
static void say_stated(const struct prediction *p, const dregs_hangs_value *v, char into[NAME])
{
    const dregs_row *cells = dregs_line_row(p->line, v->row);
    struct numbers n = {0};

    if (v->liquid)
        snprintf(into, NAME, "accuracy %s %%",
                 isnan(data_of(p->line, v)->accuracy)
                     ? "?"
                     : dregs_page_number(&n, 100 * data_of(p->line, v)->accuracy));
    else
        snprintf(into, NAME, "%.60s%s%.60s", cells->value,
                 *cells->unit && strcmp(cells->unit, "1") != 0 ? " " : "",
                 strcmp(cells->unit, "1") != 0 ? cells->unit : "");
}

static void name_value(const struct prediction *p, const dregs_hangs_value *v, char into[NAME])
{
    snprintf(into, NAME, "%.90s.%.90s", item_of(p->line, v), property_of(p->line, v));
}

const char *dregs_page_predict_doubt_name(const struct prediction *p, const dregs_hangs_doubt *d,
                                          char into[PREDICT_DOUBT_NAME])
{
    const dregs_row *cells = d->liquid ? NULL : dregs_line_row(p->line, d->row);
    const dregs_liquid_row *of = NULL;
    struct numbers n = {0};

    if (d->liquid)
        of = dregs_liquids_row(dregs_line_liquids(p->line), d->liquid, d->property);
    if (of)
        snprintf(into, PREDICT_DOUBT_NAME, "%.90s.%.90s (accuracy %s %%)", d->liquid,
                 dregs_property_name(d->property), dregs_page_number(&n, 100 * of->accuracy));
    else if (cells)
        snprintf(into, PREDICT_DOUBT_NAME, "%.90s.%.90s", cells->item, cells->property);
    return into;
}

/* ---- for people ---- */

/* The first that is not a whole number: one part more in a basket is no small change. */
static void say_largest(const struct prediction *p, const dregs_hangs_result *hangs)
{
    const dregs_hangs_value *v;
    struct numbers n = {0};
    char name[NAME];
    unsigned i = 0;

    while ((v = dregs_hangs_result_value(hangs, i++)) != NULL && v->change >= DREGS_HANGS_MORE)
        ;
    if (!v)
        return;
    name_value(p, v, name);
    dregs_report_words(p->report, "%s more %s%s%s leaves %s %% %s",
                       v->change == DREGS_HANGS_KELVIN ? "1 K" : "1 %",
                       v->change == DREGS_HANGS_REMAINDER ? "of what " : "", name,
                       v->change == DREGS_HANGS_REMAINDER ? " lacks to 100 %" : "",
                       dregs_page_number(&n, 100 * fabs(v->effect)),
                       v->effect > 0 ? "more" : "less");
    if (v->kink)
        dregs_report_words(p->report, "; less of it does not do the opposite");
    dregs_report_end(p->report, 0, 2);
}

static void put_rows(const struct prediction *p, const dregs_hangs_result *hangs)
{
    dregs_table *table = dregs_report_table(p->report, "hangs", DREGS_IN_TEXT);
    char name[NAME], stated[NAME];
    int width = 28;
    unsigned i;

    for (i = 0; i < hangs->values && i < SHOWN; i++) {
        name_value(p, dregs_hangs_result_value(hangs, i), name);
        width = dregs_page_columns(name) + 1 > width ? dregs_page_columns(name) + 1 : width;
    }
    dregs_table_column(table, DREGS_COLUMN_WORD, "value", "value", "", width);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stated", "stated", "", 16);
    dregs_table_column(table, DREGS_COLUMN_WORD, "change", "more by", "", 16);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "effect", "residue", "%", -12);
    for (i = 0; i < hangs->values && i < SHOWN; i++) {
        const dregs_hangs_value *v = dregs_hangs_result_value(hangs, i);
        char number[DREGS_NUMBER_TEXT], sign[DREGS_NUMBER_TEXT + 2];
        name_value(p, v, name);
        say_stated(p, v, stated);
        snprintf(sign, sizeof sign, "%s%s", v->effect > 0 ? "+" : "",
                 dregs_number_plain(number, 100 * v->effect, 3));
        dregs_table_word(table, name);
        dregs_table_word(table, stated);
        dregs_table_word(table, change_words(v->change));
        dregs_table_shown(table, 100 * v->effect, sign);
        dregs_table_end_row(table);
    }
}

/* With spreads: the tornado and the shares, the largest first. */
static void put_doubts(const struct prediction *p, const dregs_hangs_result *hangs)
{
    dregs_table *table;
    unsigned i;

    dregs_report_heading(p->report,
                         "what makes the doubt about it (one value at a time at its 5 and "
                         "its 95 %% point)");
    table = dregs_report_table(p->report, "doubt", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "value", "value", "", 36);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", "at 5 %", "ug/cm2", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", "at 95 %", "ug/cm2", -12);
    dregs_table_column(table, DREGS_COLUMN_WORD, "share", "of the doubt", "", 16);
    dregs_table_gap(table, 4);
    dregs_table_column(table, DREGS_COLUMN_WORD, "alone", "by itself", "", 0);
    for (i = 0; i < hangs->doubts && i < SHOWN; i++) {
        const dregs_hangs_doubt *d = dregs_hangs_result_doubt(hangs, i);
        if (i && !(d->total >= SHOWN_LEAST))
            break;
        char name[PREDICT_DOUBT_NAME + 32], share[64], alone[64];
        dregs_page_predict_doubt_name(p, d, name);
        if (d->rows > 1)
            snprintf(name + strlen(name), 32, " and %u with it", d->rows - 1);
        snprintf(share, sizeof share, "%.0f %% (+- %.0f)", 100 * fmax(0, d->total),
                 ceil(200 * d->total_error));
        dregs_table_word(table, name);
        dregs_table_number(table, d->low * UG_PER_CM2);
        dregs_table_number(table, d->high * UG_PER_CM2);
        snprintf(alone, sizeof alone, "%.0f %% (+- %.0f)", 100 * fmax(0, d->first),
                 ceil(200 * d->first_error));
        dregs_table_word(table, share);
        dregs_table_word(table, alone);
        dregs_table_end_row(table);
    }
    if (i < hangs->doubts)
        dregs_report_line(p->report, 0, "the other %u: less than %.0f %% each", hangs->doubts - i,
                          100 * SHOWN_LEAST);
}

/* What counts as exact because no spread is stated, the largest effects of it: it may make more of
 * the doubt than all that has one. */
static void say_exact(const struct prediction *p, const dregs_hangs_result *hangs)
{
    const dregs_hangs_value *v;
    char name[NAME];
    unsigned i, exact = 0;

    for (i = 0; (v = dregs_hangs_result_value(hangs, i)) != NULL; i++) {
        if (v->liquid || v->value.sd > 0 || v->change >= DREGS_HANGS_MORE ||
            !(fabs(v->effect) > EXACT_LEAST) || ++exact > EXACT_MOST)
            continue;
        name_value(p, v, name);
        dregs_report_words(p->report, "%s%s", exact > 1 ? ", " : "no spread is stated for ", name);
    }
    if (!exact)
        return;
    if (exact > EXACT_MOST)
        dregs_report_words(p->report, " and %u more", exact - EXACT_MOST);
    dregs_report_words(p->report,
                       ": taken as exact; if %s not, %s may make more of the doubt than "
                       "what is listed",
                       exact > 1 ? "they are" : "it is", exact > 1 ? "they" : "it");
    dregs_report_end(p->report, 0, 2);
}

static void say_limits(const struct prediction *p, const dregs_hangs_result *hangs)
{
    if (hangs->left_out)
        dregs_report_text(p->report, 0, 2,
                          "%u whole number%s left out: with one more, all dumps would fall "
                          "together only after more than 20000 loads",
                          hangs->left_out, hangs->left_out > 1 ? "s are" : " is");
}

void dregs_page_predict_hangs(const struct prediction *p)
{
    const dregs_hangs_result *hangs = p->result->hangs;
    int of_all = !hangs || hangs->solute == DREGS_EVERY_SOLUTE;

    if (!hangs || (!hangs->values && !hangs->left_out))
        return;
    dregs_report_heading(p->report, "what the worst load's residue%s%s hangs on%s",
                         of_all ? "" : " of ",
                         of_all ? "" : dregs_page_solute(p->line, hangs->solute),
                         p->result->week ? ", of loads without a pause" : "");
    if (hangs->values) {
        put_rows(p, hangs);
        say_largest(p, hangs);
    }
    say_limits(p, hangs);
    if (hangs->doubts) {
        put_doubts(p, hangs);
        say_exact(p, hangs);
    }
}

/* ---- from load to load ---- */

/* What the file says of loads that is not taken: once, beside the other notes. */
static void note_not_taken(const struct prediction *p)
{
    char name[NAME], note[NAME + 100];
    dregs_hangs_value v = {0};

    for (v.row = 1; v.row <= dregs_line_rows(p->line); v.row++) {
        if (dregs_residue_varies(p->line, v.row) >= 0)
            continue;
        name_value(p, &v, name);
        snprintf(note, sizeof note,
                 "varies of %s: it is no matter of a load, or no distribution has it", name);
        dregs_report_not_used(p->report, note);
    }
}

void dregs_page_predict_scatter(const struct prediction *p, const dregs_predict_verdict *verdict)
{
    struct numbers n = {0};

    if (isnan(verdict->loads_meet))
        dregs_report_text(p->report, 2, 4,
                          "the share of loads that meet it is NOT KNOWN: with these values from "
                          "load to load it cannot be worked out");
    if (isnan(verdict->loads_meet) || (!verdict->varying && isnan(verdict->must_meet)))
        return;
    if (verdict->varying)
        dregs_report_words(p->report, "%s %% of such loads meet it",
                           dregs_page_number(&n, verdict->loads_meet * 100));
    else
        dregs_report_words(p->report, "nothing varies from load to load: %s such loads meet it",
                           verdict->loads_meet > 0 ? "all" : "no");
    if (!isnan(verdict->must_meet))
        dregs_report_words(p->report, ", %s %% must",
                           dregs_page_number(&n, verdict->must_meet * 100));
    if (verdict->varying)
        dregs_report_words(
            p->report,
            ": %s +- %s ug/cm2 (1 sd) from load to load, taken as lognormal, by %u value%s",
            dregs_page_number(&n, verdict->mean * UG_PER_CM2),
            dregs_page_number(&n, verdict->sd * UG_PER_CM2), verdict->varying,
            verdict->varying > 1 ? "s that vary" : " that varies");
    dregs_report_end(p->report, 2, 4);
}

static void put_scatter(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "load_to_load", DREGS_IN_JSON);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "values_that_vary", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "mean", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "standard_deviation", NULL, "ug/cm2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "loads_meet", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "must_meet", NULL, "1", 0);
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        dregs_table_word(table, dregs_page_solute(p->line, verdict->solute));
        dregs_table_count(table, verdict->varying);
        dregs_table_number(table, verdict->mean * UG_PER_CM2);
        dregs_table_number(table, verdict->sd * UG_PER_CM2);
        dregs_table_number(table, verdict->loads_meet);
        dregs_table_number(table, verdict->must_meet);
        dregs_table_end_row(table);
    }
}

/* ---- for programs ---- */

void dregs_page_predict_hangs_data(const struct prediction *p)
{
    const dregs_hangs_result *hangs = p->result->hangs;
    dregs_table *table;
    unsigned i;

    note_not_taken(p);
    put_scatter(p);
    if (!hangs)
        return;
    table = dregs_report_table(p->report, "hangs_on", DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_WORD, "item", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "line", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "change", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "effect", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "uncertainty", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "one_sided", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "kink", NULL, "", 0);
    for (i = 0; i < hangs->values; i++) {
        const dregs_hangs_value *v = dregs_hangs_result_value(hangs, i);
        dregs_table_word(table, item_of(p->line, v));
        dregs_table_word(table, property_of(p->line, v));
        dregs_table_count(table, v->liquid ? 0 : dregs_line_row(p->line, v->row)->line);
        dregs_table_word(table, dregs_page_solute(p->line, hangs->solute));
        dregs_table_word(table, change_key(v->change));
        dregs_table_number(table, 100 * v->effect);
        dregs_table_number(table, 100 * v->uncertainty);
        dregs_table_flag(table, v->one_sided);
        dregs_table_flag(table, v->kink);
        dregs_table_end_row(table);
    }
}

void dregs_page_predict_hangs_doubt_data(const struct prediction *p)
{
    static const char *const numbers[][2] = {{"residue_at_5", "ug/cm2"},
                                             {"residue_at_95", "ug/cm2"},
                                             {"first_order", "1"},
                                             {"first_order_error", "1"},
                                             {"total", "1"},
                                             {"total_error", "1"}};
    const dregs_hangs_result *hangs = p->result->hangs;
    dregs_table *table;
    unsigned i;

    if (!hangs || !hangs->doubts)
        return;
    table = dregs_report_table(p->report, "doubt_from", DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_WORD, "item", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "line", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "values", NULL, "", 0);
    for (i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, numbers[i][0], NULL, numbers[i][1], 0);
    for (i = 0; i < hangs->doubts; i++) {
        const dregs_hangs_doubt *d = dregs_hangs_result_doubt(hangs, i);
        const dregs_row *cells = d->liquid ? NULL : dregs_line_row(p->line, d->row);
        dregs_table_word(table, cells ? cells->item : d->liquid);
        dregs_table_word(table, cells ? cells->property : dregs_property_name(d->property));
        dregs_table_count(table, cells ? cells->line : 0);
        dregs_table_count(table, d->rows);
        dregs_table_number(table, d->low * UG_PER_CM2);
        dregs_table_number(table, d->high * UG_PER_CM2);
        dregs_table_number(table, d->first);
        dregs_table_number(table, d->first_error);
        dregs_table_number(table, d->total);
        dregs_table_number(table, d->total_error);
        dregs_table_end_row(table);
    }
}

void dregs_page_predict_hangs_rows(const dregs_predict_result *result, dregs_table *table)
{
    const dregs_hangs_result *hangs = result->hangs;
    const dregs_line *line = dregs_map_line(result->map);
    unsigned i;

    for (i = 0; hangs && i < hangs->values; i++) {
        const dregs_hangs_value *v = dregs_hangs_result_value(hangs, i);
        char quantity[NAME], unit[40];
        snprintf(quantity, sizeof quantity, "effect of %.150s", property_of(line, v));
        snprintf(unit, sizeof unit, "%% per %s", change_words(v->change));
        dregs_table_word(table, NULL);
        dregs_table_word(table, item_of(line, v));
        dregs_table_word(table, dregs_page_solute(line, hangs->solute));
        dregs_table_word(table, quantity);
        dregs_table_number(table, 100 * v->effect);
        dregs_table_word(table, unit);
        dregs_table_end_row(table);
    }
}

/* ---- the working ---- */

static const char *abscissa(const dregs_hangs_value *v)
{
    return v->change == DREGS_HANGS_REMAINDER ? "ln(1 - value)"
           : v->change == DREGS_HANGS_KELVIN  ? "value in K"
                                              : "ln(value)";
}

static void explain_one(const struct prediction *p, const dregs_hangs_value *v)
{
    const double *r = v->residue;
    double h = v->step, per = v->change == DREGS_HANGS_KELVIN ? 1 : 0.01;
    struct numbers n = {0};
    char name[NAME];

    name_value(p, v, name);
    dregs_report_words(p->report, "%s", name);
    if (v->liquid)
        dregs_report_words(p->report, " times a factor  [%s]", data_of(p->line, v)->source);
    else
        dregs_page_source(p->report, p->line, v->row, "");
    dregs_report_end(p->report, 4, -1);
    if (v->change == DREGS_HANGS_MORE || v->change == DREGS_HANGS_FEWER) {
        dregs_report_line(p->report, 6, "%s: the worst load, searched anew, leaves %s ug/cm2",
                          change_words(v->change),
                          dregs_page_six(&n, (isnan(r[0]) ? r[3] : r[0]) * UG_PER_CM2));
    } else if (!v->one_sided && !v->kink) {
        dregs_report_line(
            p->report, 6, "%s %s %s: %s and %s ug/cm2; %s %s: %s and %s ug/cm2", abscissa(v), "+-",
            dregs_page_six(&n, h), dregs_page_six(&n, r[3] * UG_PER_CM2),
            dregs_page_six(&n, r[0] * UG_PER_CM2), "half of it", "+-",
            dregs_page_six(&n, r[2] * UG_PER_CM2), dregs_page_six(&n, r[1] * UG_PER_CM2));
        dregs_report_line(p->report, 6,
                          "slopes of ln(residue): %s and %s; (4 half - whole)/3 = %s  [Richardson "
                          "1911]",
                          dregs_page_six(&n, log(r[0] / r[3]) / (2 * h)),
                          dregs_page_six(&n, log(r[1] / r[2]) / h),
                          dregs_page_six(&n, v->effect / per));
    } else
        dregs_report_line(p->report, 6, "on one side, %s by %s and less: slope of ln(residue) = %s",
                          abscissa(v), dregs_page_six(&n, h), dregs_page_six(&n, v->effect / per));
    dregs_report_line(p->report, 6, "%s: %s %% of residue, +- %s by the step",
                      change_words(v->change), dregs_page_six(&n, 100 * v->effect),
                      dregs_page_six(&n, 100 * v->uncertainty));
}

/* The values that vary, and from the moments to the share. */
static void explain_scatter(const struct prediction *p)
{
    struct numbers n = {0};
    unsigned row, i;
    double sd;

    dregs_report_heading(p->report, "11. From load to load");
    for (row = 1; row <= dregs_line_rows(p->line); row++) {
        dregs_value value;
        if (dregs_residue_varies(p->line, row) <= 0 || dregs_line_varies(p->line, row, &sd) ||
            dregs_line_value(p->line, row, &value))
            continue;
        dregs_report_words(p->report, "%s distribution, 1 sd = %s %% of the mean",
                           dregs_line_number_form(p->line, row) == DREGS_FORM_SHARE ? "beta"
                                                                                    : "lognormal",
                           dregs_page_six(&n, 100 * sd / value.si));
        dregs_page_source(p->report, p->line, row, "");
        dregs_report_end(p->report, 4, -1);
    }
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *v = dregs_predict_result_verdict(p->result, i);
        double variance = log1p(v->sd * v->sd / (v->mean * v->mean));
        if (!v->varying)
            continue;
        dregs_report_line(p->report, 4, "%s: m = %s, s = %s ug/cm2, by E[A S A'] over all loads",
                          dregs_page_solute(p->line, v->solute),
                          dregs_page_six(&n, v->mean * UG_PER_CM2),
                          dregs_page_six(&n, v->sd * UG_PER_CM2));
        dregs_report_line(
            p->report, 6, "v = ln(1 + (s/m)^2) = %s; Phi((ln(%s/m) + v/2)/sqrt(v)) = %s %%",
            dregs_page_six(&n, variance), dregs_page_six(&n, v->limit.si * UG_PER_CM2),
            dregs_page_six(&n, 100 * v->loads_meet));
    }
}

static int any_varies(const struct prediction *p)
{
    unsigned i;

    for (i = 0; i < p->result->verdicts; i++)
        if (dregs_predict_result_verdict(p->result, i)->varying)
            return 1;
    return 0;
}

void dregs_page_predict_hangs_working(const struct prediction *p)
{
    const dregs_hangs_result *hangs = p->result->hangs;
    unsigned i;

    if (!hangs)
        return;
    dregs_report_heading(p->report, "10. What the worst load's residue hangs on");
    for (i = 0; i < hangs->values && i < SHOWN; i++)
        explain_one(p, dregs_hangs_result_value(hangs, i));
    if (!hangs->values)
        dregs_report_line(p->report, 4, "%s",
                          hangs->too_long ? "not worked out: all dumps fall together only after "
                                            "too many loads"
                                          : "on no value of the file");
    say_limits(p, hangs);
    if (any_varies(p))
        explain_scatter(p);
}
