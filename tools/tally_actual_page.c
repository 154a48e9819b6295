/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_actual_page.c: purchases beside the model, on the pages. Volumes in L for people, in m3
 * for programs.
 */
#include "json.h"
#include "page.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LITRES 1e3 /* m3 */
enum { COLUMN = 12 };

/* A text broken over lines, indented by `indent`, its further lines by two more. */
static void say(int indent, const char *text)
{
    printf("%*s", indent, "");
    wrapped(text, indent, indent + 2);
}

/* A figure in L, or "-" for one that is not stated. */
static void figure(struct numbers *n, double value)
{
    cell(isnan(value) ? "-" : number(n, value * LITRES), -COLUMN);
}

/* ---- text ---- */

static void text_table(const dregs_tally_covered *c, const dregs_tally_bought_liquid *l, unsigned m)
{
    const char *measure = dregs_tally_measure_name((dregs_tally_measure)m);
    struct numbers n;
    unsigned p;

    printf("\n  ");
    cell(l->name, 10);
    printf(" %s, L%*sso far\n", measure, 53 - (int)strlen(measure), "");
    cell("  month", 12);
    cell("measured", -COLUMN);
    cell("modelled", -COLUMN);
    cell("unexplained", -COLUMN);
    cell("deviation", -COLUMN);
    cell("unexplained", -COLUMN - 2);
    cell("deviation", -COLUMN);
    printf("\n");
    for (p = c->first - 1; p < c->last; p++) {
        const dregs_tally_both *f = &l->month[m][p], *all = &l->so_far[m][p];
        n.next = 0;
        printf("  ");
        cell(tally_month_name(p), 10);
        figure(&n, f->measured);
        figure(&n, f->modelled);
        figure(&n, f->unexplained.value);
        figure(&n, f->unexplained.sd);
        printf("  ");
        figure(&n, all->unexplained.value);
        figure(&n, all->unexplained.sd);
        printf("\n");
    }
}

/* "ipa put in: 512 L measured, 480.2 L modelled, 31.8 L unexplained: ..." */
static void text_verdict(const dregs_tally_bought_liquid *l, unsigned m)
{
    const dregs_tally_both *all = &l->whole[m];
    const dregs_unexplained *u = &all->unexplained;
    struct numbers n = {0};
    char text[512];
    size_t used;

    used = (size_t)snprintf(
        text, sizeof text, "%s %s: %s L measured, %s L modelled, %s L unexplained", l->name,
        dregs_tally_measure_name((dregs_tally_measure)m), number(&n, all->measured * LITRES),
        number(&n, all->modelled * LITRES), number(&n, u->value * LITRES));
    if (isnan(u->ratio))
        snprintf(text + used, sizeof text - used,
                 "; no standard deviation is stated to hold it to");
    else
        snprintf(text + used, sizeof text - used, ": %s of its standard deviation, %s L%s",
                 number(&n, u->ratio), number(&n, u->sd * LITRES),
                 all->scatter ? "" : ", more than scatter");
    say(2, text);
}

/* What a deviation rests on, part by part. */
static void text_rests(const dregs_tally_bought_liquid *l, unsigned m)
{
    const dregs_unexplained *u = &l->whole[m].unexplained;
    unsigned rows = l->rows[m], silent = l->silent[m];
    char parts[3][DREGS_NUMBER_TEXT + 4], text[600];
    const double sds[3] = {u->sd_measured, u->sd_stock, u->sd_model};
    unsigned i;

    for (i = 0; i < 3; i++) {
        char plain[DREGS_NUMBER_TEXT];
        if (isnan(sds[i]))
            snprintf(parts[i], sizeof parts[i], "not stated");
        else
            snprintf(parts[i], sizeof parts[i], "%s L",
                     dregs_number_plain(plain, sds[i] * LITRES, 4));
    }
    snprintf(text, sizeof text,
             "it rests on: rows %s (%u of %u state a spread); stock at both ends %s; spreads of "
             "the line file %s",
             parts[0], rows - silent, rows, parts[1], parts[2]);
    say(4, text);
}

static void text_spreads(const dregs_tally_actual *actual)
{
    const dregs_tally_spread *spread;
    char text[1200] = "";
    struct numbers n;
    size_t used = 0;
    unsigned i, shown = 0;

    for (i = 0; (spread = dregs_tally_actual_spread(actual, i)) != NULL && used + 120 < sizeof text;
         i++) {
        n.next = 0;
        if (spread->weight > 0)
            used += (size_t)snprintf(text + used, sizeof text - used, "%s%.40s.%.40s %s %%",
                                     shown++ ? ", " : "", spread->row->item, spread->row->property,
                                     number(&n, spread->weight * 100));
    }
    if (shown) {
        printf("  spreads of the line file that move a figure, by at most\n");
        say(4, text);
    }
    for (i = 0; (spread = dregs_tally_actual_spread(actual, i)) != NULL; i++)
        if (!spread->counted)
            printf("  not counted: the spread of %s.%s, for the line cannot be computed with it\n",
                   spread->row->item, spread->row->property);
}

/* A still in the model and none in the file. */
static void text_still(const dregs_tally_bought_liquid *l)
{
    struct numbers n = {0};

    if (l->in_file && l->reclaimed > 0 && !l->recovered)
        printf("  the line reclaims %s L of %s, the file has no row of kind recovered for it\n",
               number(&n, l->reclaimed * LITRES), l->name);
}

static void text_notes(const dregs_tally_actual *actual)
{
    const dregs_tally_covered *c = dregs_tally_actual_covered(actual);
    const dregs_tally_bought_liquid *l;
    unsigned long lines[2];
    char text[700] = "";
    unsigned i, absent = 0;
    size_t k;

    for (k = 0; dregs_purchases_same(dregs_tally_actual_purchases(actual), k, lines); k++)
        printf("  lines %lu and %lu say the same; both are counted\n", lines[0], lines[1]);
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) && strlen(text) + 70 < sizeof text; i++)
        if (!l->in_file)
            snprintf(text + strlen(text), sizeof text - strlen(text), "%s%s",
                     absent++ ? ", " : "not in the file, not compared: ", l->name);
    if (absent)
        say(2, text);
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        text_still(l);
    say(2, c->running
               ? "the model is the year after a year of the file's schedule, its tanks full"
               : "the model is a year of the file's schedule, its tanks filled on the first day "
                 "(--from running: full already)");
    say(2, c->drain_is_waste
               ? "what drains counts as taken out, under the liquid of its tank"
               : "what drains counts as gone otherwise; what is dumped counts under the liquid of "
                 "its tank");
}

static void text_head(const dregs_tally_covered *c, const char *file)
{
    printf("\nmeasured and modelled in %d: %s, %lu row%s", c->year, file, c->rows,
           c->rows == 1 ? "" : "s");
    if (!c->full)
        printf("; it covers months %u to %u only", c->first, c->last);
    printf("\n");
}

void tally_actual_text(const struct tally_page *page)
{
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    const dregs_tally_covered *c = actual ? dregs_tally_actual_covered(actual) : NULL;
    const dregs_tally_bought_liquid *l;
    unsigned i, m;

    if (!actual)
        return;
    text_head(c, page->request->actual_file);
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            if (l->shown[m]) {
                text_verdict(l, m);
                text_rests(l, m);
            }
    if (!c->compared)
        printf("  no row of the year names a liquid of the line\n");
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            if (l->shown[m])
                text_table(c, l, m);
    printf("\n");
    text_spreads(actual);
    text_notes(actual);
}

/* ---- rows: stream,liquid,solute,period,value,unit ---- */

static void row(const dregs_tally_bought_liquid *l, unsigned m, const char *what,
                const char *period, double value)
{
    char text[DREGS_NUMBER_TEXT];

    printf("%s %s,", dregs_tally_measure_name((dregs_tally_measure)m), what);
    csv_name(l->name);
    printf(",,%s,%s,m3\n", period, dregs_number_exact(text, value));
}

static void rows(const dregs_tally_bought_liquid *l, unsigned m, const char *period,
                 const dregs_tally_both *f)
{
    row(l, m, "measured", period, f->measured);
    row(l, m, "modelled", period, f->modelled);
    row(l, m, "unexplained", period, f->unexplained.value);
    row(l, m, "deviation", period, f->unexplained.sd);
}

void tally_actual_csv(const struct tally_page *page)
{
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    const dregs_tally_covered *c = actual ? dregs_tally_actual_covered(actual) : NULL;
    const dregs_tally_bought_liquid *l;
    unsigned i, m, p;

    for (i = 0; actual && (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
            if (!l->shown[m])
                continue;
            for (p = c->first - 1; p < c->last; p++)
                rows(l, m, tally_month_name(p), &l->month[m][p]);
            rows(l, m, "year", &l->whole[m]);
        }
}

/* ---- JSON ---- */

static json_t *json_figure(const dregs_tally_both *f, int *failed)
{
    json_t *o = json_object();

    json_put(failed, o, "measured", json_number_or_null(f->measured));
    json_put(failed, o, "modelled", json_number_or_null(f->modelled));
    json_put(failed, o, "unexplained", json_number_or_null(f->unexplained.value));
    json_put(failed, o, "deviation", json_number_or_null(f->unexplained.sd));
    json_put(failed, o, "deviation of rows", json_number_or_null(f->unexplained.sd_measured));
    json_put(failed, o, "deviation of stock", json_number_or_null(f->unexplained.sd_stock));
    json_put(failed, o, "deviation of model", json_number_or_null(f->unexplained.sd_model));
    return o;
}

static void append(int *failed, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value))
        *failed = 1;
}

static json_t *json_measure(const dregs_tally_covered *c, const dregs_tally_bought_liquid *l,
                            unsigned m, int *failed)
{
    json_t *o = json_object(), *months = json_array();
    unsigned p;

    json_put(failed, o, "liquid", json_string(l->name));
    json_put(failed, o, "what", json_string(dregs_tally_measure_name((dregs_tally_measure)m)));
    for (p = c->first - 1; p < c->last; p++) {
        json_t *month = json_figure(&l->month[m][p], failed);
        json_put(failed, month, "month", json_integer(p + 1));
        json_put(failed, month, "so far", json_figure(&l->so_far[m][p], failed));
        append(failed, months, month);
    }
    json_put(failed, o, "months", months);
    json_put(failed, o, "whole", json_figure(&l->whole[m], failed));
    return o;
}

json_t *tally_actual_json(const struct tally_page *page, int *failed)
{
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    const dregs_tally_covered *c = dregs_tally_actual_covered(actual);
    json_t *o = json_object(), *list = json_array(), *absent = json_array(), *same = json_array();
    const dregs_tally_bought_liquid *l;
    unsigned long lines[2];
    unsigned i, m;
    size_t k;

    json_put(failed, o, "file", json_string(page->request->actual_file));
    json_put(failed, o, "year", json_integer(c->year));
    json_put(failed, o, "first month", json_integer(c->first));
    json_put(failed, o, "last month", json_integer(c->last));
    json_put(failed, o, "unit", json_string("m3"));
    for (i = 0; (l = dregs_tally_actual_liquid(actual, i)) != NULL; i++) {
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            if (l->shown[m])
                append(failed, list, json_measure(c, l, m, failed));
        if (!l->in_file)
            append(failed, absent, json_string(l->name));
    }
    json_put(failed, o, "compared", list);
    json_put(failed, o, "not compared", absent);
    for (k = 0; dregs_purchases_same(dregs_tally_actual_purchases(actual), k, lines); k++)
        append(failed, same, json_pack("[I,I]", (json_int_t)lines[0], (json_int_t)lines[1]));
    json_put(failed, o, "same rows", same);
    return o;
}

/* ---- the working ---- */

static void explain_liquid(const dregs_tally_covered *c, const dregs_tally_bought_liquid *l)
{
    struct numbers n = {0};

    if (!l->in_file)
        return;
    printf("    %s: largest delivery %s L, largest collection %s L\n", l->name,
           number(&n, l->lot[DREGS_TALLY_PUT_IN] * LITRES),
           number(&n, l->lot[DREGS_TALLY_TAKEN_OUT] * LITRES));
    if (c->by_mass)
        printf("    %s: rows that state a mass are divided by %s kg/m3, the liquid at 20 degC "
               "without what is dissolved\n",
               l->name, number(&n, l->density));
}

void tally_actual_explain(const struct tally_page *page)
{
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    const dregs_tally_covered *c = actual ? dregs_tally_actual_covered(actual) : NULL;
    unsigned i;

    if (!actual)
        return;
    tally_actual_text(page);
    printf("\n  the working: put in = bought + recovered, taken out = disposed + recovered, gone "
           "otherwise = bought - disposed\n"
           "    modelled: put in = first fill + fed + top-up + refills + sprayed; taken out = "
           "dumped + blown off to waste%s\n"
           "    deviation^2 = rows^2 + stock^2 + model^2; stock = lot / sqrt(6): at both ends "
           "anything from none\n"
           "    to one lot, the largest row of its kind; model: the line computed anew with "
           "each value of a\n"
           "    spread moved by it, changes taken as independent [first order, JCGM 100:2008, "
           "5.1.2]\n",
           c->drain_is_waste ? " + drained + runoff + blown off to drain" : "");
    for (i = 0; dregs_tally_actual_liquid(actual, i); i++)
        explain_liquid(c, dregs_tally_actual_liquid(actual, i));
}
