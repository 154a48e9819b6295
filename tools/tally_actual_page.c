/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_actual_page.c: purchases beside the model, on the pages. Volumes in L for people, in m3
 * for programs.
 */
#include "json.h"
#include "page.h"
#include "tally_actual.h"

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

static const char *name_of(const struct tally_actual *actual, unsigned liquid)
{
    return dregs_line_fluid(actual->line, actual->liquid[liquid].fluid)->name;
}

/* A figure in L, or "-" for one that is not stated. */
static void figure(struct numbers *n, double value)
{
    cell(isnan(value) ? "-" : number(n, value * LITRES), -COLUMN);
}

/* ---- text ---- */

static void text_table(const struct tally_actual *actual, const struct actual_liquid *l, unsigned m)
{
    struct numbers n;
    unsigned p;

    printf("\n  ");
    cell(name_of(actual, (unsigned)(l - actual->liquid)), 10);
    printf(" %s, L%*sso far\n", actual_names[m], 53 - (int)strlen(actual_names[m]), "");
    cell("  month", 12);
    cell("measured", -COLUMN);
    cell("modelled", -COLUMN);
    cell("unexplained", -COLUMN);
    cell("deviation", -COLUMN);
    cell("unexplained", -COLUMN - 2);
    cell("deviation", -COLUMN);
    printf("\n");
    for (p = actual->first - 1; p < actual->last; p++) {
        const struct actual_figure *f = &l->month[m][p], *all = &l->so_far[m][p];
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
static void text_verdict(const struct tally_actual *actual, const struct actual_liquid *l,
                         unsigned m)
{
    const struct actual_figure *all = &l->so_far[m][actual->last - 1];
    const dregs_unexplained *u = &all->unexplained;
    struct numbers n = {0};
    char text[512];
    size_t used;

    used =
        (size_t)snprintf(text, sizeof text, "%s %s: %s L measured, %s L modelled, %s L unexplained",
                         name_of(actual, (unsigned)(l - actual->liquid)), actual_names[m],
                         number(&n, all->measured * LITRES), number(&n, all->modelled * LITRES),
                         number(&n, u->value * LITRES));
    if (isnan(u->ratio))
        snprintf(text + used, sizeof text - used,
                 "; no standard deviation is stated to hold it to");
    else
        snprintf(text + used, sizeof text - used, ": %s of its standard deviation, %s L%s",
                 number(&n, u->ratio), number(&n, u->sd * LITRES),
                 u->ratio > 2 ? ", more than scatter" : "");
    say(2, text);
}

/* What a deviation rests on, part by part. */
static void text_rests(const struct tally_actual *actual, const struct actual_liquid *l, unsigned m)
{
    const dregs_unexplained *u = &l->so_far[m][actual->last - 1].unexplained;
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

static void text_liquid(const struct tally_actual *actual, const struct actual_liquid *l)
{
    unsigned m;

    for (m = 0; m < ACTUAL_MEASURES; m++)
        if (l->shown[m])
            text_table(actual, l, m);
}

static void text_spreads(const struct tally_actual *actual)
{
    char text[1200] = "";
    struct numbers n;
    size_t used = 0;
    unsigned i, shown = 0;

    for (i = 0; i < actual->spreads && used + 120 < sizeof text; i++) {
        double weight = actual_spread_weight(actual, i);
        const dregs_row *row = actual->spread[i].row;
        n.next = 0;
        if (weight > 0)
            used += (size_t)snprintf(text + used, sizeof text - used, "%s%.40s.%.40s %s %%",
                                     shown++ ? ", " : "", row->item, row->property,
                                     number(&n, weight * 100));
    }
    if (shown) {
        printf("  spreads of the line file that move a figure, by at most\n");
        say(4, text);
    }
    for (i = 0; i < actual->spreads; i++)
        if (!actual->spread[i].counted)
            printf("  not counted: the spread of %s.%s, for the line cannot be computed with it\n",
                   actual->spread[i].row->item, actual->spread[i].row->property);
}

/* A still in the model and none in the file. */
static void text_still(const struct tally_actual *actual, unsigned liquid)
{
    const dregs_purchase *row;
    struct numbers n = {0};
    double back = 0;
    unsigned p;
    size_t k;

    for (p = actual->first - 1; p < actual->last; p++)
        back += dregs_tally_reclaimed(actual->tally, liquid, DREGS_WHOLE, p);
    for (k = 0; (row = dregs_purchases_at(actual->purchases, k)) != NULL; k++)
        if (row->fluid == liquid && row->kind == DREGS_PURCHASE_RECOVERED)
            return;
    if (actual->liquid[liquid].in_file && back > 0)
        printf("  the line reclaims %s L of %s, the file has no row of kind recovered for it\n",
               number(&n, back * LITRES), name_of(actual, liquid));
}

static void text_notes(const struct tally_actual *actual)
{
    unsigned long lines[2];
    char text[700] = "";
    unsigned i, absent = 0;
    size_t k;

    for (k = 0; dregs_purchases_same(actual->purchases, k, lines); k++)
        printf("  lines %lu and %lu say the same; both are counted\n", lines[0], lines[1]);
    for (i = 0; i < actual->liquids && strlen(text) + 70 < sizeof text; i++)
        if (!actual->liquid[i].in_file)
            snprintf(text + strlen(text), sizeof text - strlen(text), "%s%s",
                     absent++ ? ", " : "not in the file, not compared: ", name_of(actual, i));
    if (absent)
        say(2, text);
    for (i = 0; i < actual->liquids; i++)
        text_still(actual, i);
    say(2, actual->running
               ? "the model is the year after a year of the file's schedule, its tanks full"
               : "the model is a year of the file's schedule, its tanks filled on the first day "
                 "(--from running: full already)");
    say(2, actual->drain_is_waste
               ? "what drains counts as taken out, under the liquid of its tank"
               : "what drains counts as gone otherwise; what is dumped counts under the liquid of "
                 "its tank");
}

static void text_head(const struct tally_actual *actual)
{
    size_t rows = 0;

    while (dregs_purchases_at(actual->purchases, rows))
        rows++;
    printf("\nmeasured and modelled in %d: %s, %lu row%s", actual->year, actual->file,
           (unsigned long)rows, rows == 1 ? "" : "s");
    if (!actual->full)
        printf("; it covers months %u to %u only", actual->first, actual->last);
    printf("\n");
}

void tally_actual_text(const struct tally_actual *actual)
{
    unsigned i, m, any = 0;

    text_head(actual);
    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < ACTUAL_MEASURES; m++)
            if (actual->liquid[i].shown[m]) {
                any = 1;
                text_verdict(actual, &actual->liquid[i], m);
                text_rests(actual, &actual->liquid[i], m);
            }
    if (!any)
        printf("  no row of the year names a liquid of the line\n");
    for (i = 0; i < actual->liquids; i++)
        text_liquid(actual, &actual->liquid[i]);
    printf("\n");
    text_spreads(actual);
    text_notes(actual);
}

/* ---- rows: stream,liquid,solute,period,value,unit ---- */

static void row(const struct tally_actual *actual, const struct actual_liquid *l, unsigned m,
                const char *what, const char *period, double value)
{
    char text[DREGS_NUMBER_TEXT];

    printf("%s %s,", actual_names[m], what);
    csv_name(name_of(actual, (unsigned)(l - actual->liquid)));
    printf(",,%s,%s,m3\n", period, dregs_number_exact(text, value));
}

static void rows(const struct tally_actual *actual, const struct actual_liquid *l, unsigned m,
                 const char *period, const struct actual_figure *f)
{
    row(actual, l, m, "measured", period, f->measured);
    row(actual, l, m, "modelled", period, f->modelled);
    row(actual, l, m, "unexplained", period, f->unexplained.value);
    row(actual, l, m, "deviation", period, f->unexplained.sd);
}

void tally_actual_csv(const struct tally_actual *actual)
{
    unsigned i, m, p;

    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < ACTUAL_MEASURES; m++) {
            const struct actual_liquid *l = &actual->liquid[i];
            if (!l->shown[m])
                continue;
            for (p = actual->first - 1; p < actual->last; p++)
                rows(actual, l, m, tally_month_name(p), &l->month[m][p]);
            rows(actual, l, m, "year", &l->so_far[m][actual->last - 1]);
        }
}

/* ---- JSON ---- */

static json_t *json_figure(const struct actual_figure *f, int *failed)
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

static json_t *json_measure(const struct tally_actual *actual, const struct actual_liquid *l,
                            unsigned m, int *failed)
{
    json_t *o = json_object(), *months = json_array();
    unsigned p;

    json_put(failed, o, "liquid", json_string(name_of(actual, (unsigned)(l - actual->liquid))));
    json_put(failed, o, "what", json_string(actual_names[m]));
    for (p = actual->first - 1; p < actual->last; p++) {
        json_t *month = json_figure(&l->month[m][p], failed);
        json_put(failed, month, "month", json_integer(p + 1));
        json_put(failed, month, "so far", json_figure(&l->so_far[m][p], failed));
        append(failed, months, month);
    }
    json_put(failed, o, "months", months);
    json_put(failed, o, "whole", json_figure(&l->so_far[m][actual->last - 1], failed));
    return o;
}

json_t *tally_actual_json(const struct tally_actual *actual, int *failed)
{
    json_t *o = json_object(), *list = json_array(), *same = json_array();
    unsigned long lines[2];
    unsigned i, m;
    size_t k;

    json_put(failed, o, "file", json_string(actual->file));
    json_put(failed, o, "year", json_integer(actual->year));
    json_put(failed, o, "first month", json_integer(actual->first));
    json_put(failed, o, "last month", json_integer(actual->last));
    json_put(failed, o, "unit", json_string("m3"));
    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < ACTUAL_MEASURES; m++)
            if (actual->liquid[i].shown[m])
                append(failed, list, json_measure(actual, &actual->liquid[i], m, failed));
    json_put(failed, o, "compared", list);
    list = json_array();
    for (i = 0; i < actual->liquids; i++)
        if (!actual->liquid[i].in_file)
            append(failed, list, json_string(name_of(actual, i)));
    json_put(failed, o, "not compared", list);
    for (k = 0; dregs_purchases_same(actual->purchases, k, lines); k++)
        append(failed, same, json_pack("[I,I]", (json_int_t)lines[0], (json_int_t)lines[1]));
    json_put(failed, o, "same rows", same);
    return o;
}

/* ---- the working ---- */

void tally_actual_explain(const struct tally_actual *actual)
{
    struct numbers n = {0};
    unsigned i, by_mass = 0;
    size_t k;
    const dregs_purchase *row_;

    tally_actual_text(actual);
    for (k = 0; (row_ = dregs_purchases_at(actual->purchases, k)) != NULL; k++)
        by_mass |= row_->by_mass ? 1u : 0u;
    printf("\n  the working: put in = bought + recovered, taken out = disposed + recovered, gone "
           "otherwise = bought - disposed\n"
           "    modelled: put in = first fill + fed + top-up + refills + sprayed; taken out = "
           "dumped%s\n"
           "    deviation^2 = rows^2 + stock^2 + model^2; stock = lot / sqrt(6): at both ends "
           "anything from none\n"
           "    to one lot, the largest row of its kind; model: the line computed anew with "
           "each value of a\n"
           "    spread moved by it, changes taken as independent [first order, JCGM 100:2008, "
           "5.1.2]\n",
           actual->drain_is_waste ? " + drained + runoff + blown off" : "");
    for (i = 0; i < actual->liquids; i++) {
        if (!actual->liquid[i].in_file)
            continue;
        n.next = 0;
        printf("    %s: largest delivery %s L, largest collection %s L\n", name_of(actual, i),
               number(&n, actual->liquid[i].lot[ACTUAL_IN] * LITRES),
               number(&n, actual->liquid[i].lot[ACTUAL_OUT] * LITRES));
        if (by_mass)
            printf("    %s: rows that state a mass are divided by %s kg/m3, the liquid at 20 degC "
                   "without what is dissolved\n",
                   name_of(actual, i), number(&n, actual->density[i]));
    }
}
