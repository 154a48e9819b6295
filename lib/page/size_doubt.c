/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_doubt.c: how sure a sizing is, on its page: the probability, what just meets the target
 * beside it, and what the safety costs.
 */
#include "page/bounds.h"
#include "page/size.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *dregs_page_size_sure_share(double share, char into[32])
{
    double tenths = round(share * 1000);
    char number[DREGS_NUMBER_TEXT];

    if (tenths >= 1000 && share < 1)
        return "> 99.9 %";
    if (tenths <= 0 && share > 0)
        return "< 0.1 %";
    snprintf(into, 32, "%s %%", dregs_number_plain(number, tenths / 10, 3));
    return into;
}

static const char *percent(double share, char into[32])
{
    return dregs_page_size_sure_share(share, into);
}

int dregs_page_size_sure_verdict(const struct sizing *s)
{
    const dregs_size_sureness *sure = s->result->sureness;
    char asked[32], best[32], kept[32], of[BOUND_WORDS], limit[BOUND_WORDS];

    if (!sure->draws || isnan(sure->confidence) || !dregs_sized_feasible(s->result->sized))
        return 0;
    if (sure->reached)
        dregs_report_line(s->report, 0, "the target is met with a probability of %s with",
                          percent(sure->confidence, asked));
    else if (sure->open)
        dregs_report_text(
            s->report, 0, 2,
            "NOT FOUND in the range with a probability of %s: at best in %s of draws; "
            "search ended: whether other values are met so often is not known",
            percent(sure->confidence, asked), percent(sure->best, best));
    else
        dregs_report_text(s->report, 0, 2,
                          "NOT POSSIBLE in the range with a probability of %s: at best in %s of "
                          "draws",
                          percent(sure->confidence, asked), percent(sure->best, best));
    if (sure->keeps)
        dregs_report_text(
            s->report, 2, 4, "what keeps it from that: %s passes its limit of %s in %s of draws",
            dregs_page_bound_of(s->line, sure->keeps, of),
            dregs_page_bound_value(s->line, sure->keeps, sure->keeps->limit.si, limit),
            percent(sure->kept, kept));
    if (!sure->reached)
        dregs_report_line(s->report, 2, "as stated it is just met with");
    dregs_report_verdict(s->report, sure->reached ? DREGS_VERDICT_MET
                                    : sure->open  ? DREGS_VERDICT_UNKNOWN
                                                  : DREGS_VERDICT_MISSED);
    return 1;
}

static double in_unit(const dregs_sized *sized, unsigned index)
{
    return dregs_page_size_found(sized, index);
}

/* "just met, with nothing to spare, by flow of last = 1.218 L/h: in 49 % of draws" */
static void say_just(const struct sizing *s)
{
    const dregs_sized *just = s->result->sureness->just;
    const dregs_varied *varied = dregs_sized_varied(just);
    struct numbers n = {0};
    char share[32];
    unsigned i;

    dregs_report_words(s->report, "just met as stated, with nothing to spare:");
    for (i = 0; i < dregs_varied_count(varied); i++) {
        const char *unit = dregs_page_size_unit(varied, i);
        dregs_report_words(s->report, "%s %s of %s = %s%s%s", i ? "," : "",
                           dregs_varied_property(varied, i), dregs_varied_stage(varied, i, 0),
                           dregs_page_number(&n, in_unit(just, i)), *unit ? " " : "", unit);
    }
    dregs_report_words(s->report, "; that is met in %s of draws",
                       percent(s->result->sureness->just_met, share));
    dregs_report_end(s->report, 2, 4);
}

static void say_more(const struct sizing *s, double sure, double just, const char *unit)
{
    struct numbers n = {0};

    dregs_report_words(s->report, "%s%s %s per load", sure > just ? "+" : "",
                       dregs_page_number(&n, sure - just), unit);
    if (just > 0)
        dregs_report_words(s->report, " (%s%s %%)", sure > just ? "+" : "",
                           dregs_page_number(&n, round(1000 * (sure / just - 1)) / 10));
}

static void say_cost(const struct sizing *s)
{
    const dregs_use *sure = dregs_sized_use(s->result->sized);
    const dregs_use *just = dregs_sized_use(s->result->sureness->just);

    dregs_report_words(s->report, "the safety takes ");
    say_more(s, sure->bought * LITRES, just->bought * LITRES, "L of fresh liquid");
    if (!isnan(sure->cost) && !isnan(just->cost)) {
        dregs_report_words(s->report, " and ");
        say_more(s, sure->cost, just->cost, "of cost, in the file's currency,");
    }
    dregs_report_end(s->report, 2, 4);
}

void dregs_page_size_sure(const struct sizing *s)
{
    const dregs_size_sureness *sure = s->result->sureness;
    char share[32], low[32], high[32], drawn[DRAWN_WORDS];

    if (!sure->draws)
        return;
    dregs_report_words(s->report, "met in %s of %llu draws of %s (95 %%: %s to %s)",
                       percent(sure->met.value, share), (unsigned long long)sure->draws,
                       dregs_page_drawn(sure->rows, sure->properties, drawn),
                       percent(sure->met.low, low), percent(sure->met.high, high));
    if (isnan(sure->confidence) && dregs_sized_feasible(s->result->sized) && sure->met.value < 0.95)
        dregs_report_words(s->report, "; --confidence 95%% sizes for 95 %%");
    dregs_report_end(s->report, 2, 4);
    if (!sure->just)
        return;
    say_just(s);
    say_cost(s);
    if (dregs_varied_count(s->request->varied) > 1)
        dregs_report_text(
            s->report, 2, 4,
            "of several properties: the least found, of what stays as far below the limits "
            "as the draws ask for and of one property by itself; another split of the same "
            "safety may take less");
}

/* ---- layouts ---- */

static const dregs_size_sureness *sure_of_any(const struct sizing *s)
{
    size_t i;

    if (s->result->sureness)
        return s->result->sureness->draws ? s->result->sureness : NULL;
    for (i = 0; i < s->result->rows; i++)
        if (dregs_size_result_row(s->result, i)->sureness->draws)
            return dregs_size_result_row(s->result, i)->sureness;
    return NULL;
}

unsigned dregs_page_size_sure_asked(const struct sizing *s)
{
    return sure_of_any(s) ? DREGS_ASKED_DOUBT : 0;
}

static int any_passed_over(const struct sizing *s)
{
    size_t i;

    for (i = 0; i < s->result->rows; i++)
        if (dregs_size_result_row(s->result, i)->sureness->passed_over)
            return 1;
    return 0;
}

void dregs_page_size_sure_layouts(const struct sizing *s)
{
    const dregs_size_sureness *sure = sure_of_any(s);
    char share[32], drawn[DRAWN_WORDS];

    if (!sure)
        return;
    if (any_passed_over(s))
        dregs_report_text(s->report, 2, 4,
                          "'just met': as stated, and not made surer, for a row that is as sure as "
                          "asked beats it even so");
    dregs_page_drawn(sure->rows, sure->properties, drawn);
    if (isnan(sure->confidence))
        dregs_report_text(s->report, 2, 4,
                          "sure: the share of %llu draws of %s in which the row meets the target; "
                          "--confidence 95%% sizes all rows for such a share",
                          (unsigned long long)sure->draws, drawn);
    else
        dregs_report_text(
            s->report, 2, 4,
            "sized to be met with a probability of %s, as %llu draws of %s tell; sure: the share "
            "of them that is",
            percent(sure->confidence, share), (unsigned long long)sure->draws, drawn);
}

/* ---- for programs ---- */

int dregs_page_size_sure_met(const dregs_size_sureness *sure)
{
    return isnan(sure->confidence) || sure->reached;
}

void dregs_page_size_sure_values(const dregs_size_sureness *sure, dregs_table *table,
                                 const char *first, unsigned stages)
{
    const struct {
        const char *name;
        double value;
        const char *unit;
    } rows[] = {
        {"share met", sure->met.value, "1"},
        {"just met: share met", sure->just_met, "1"},
        {"just met: fresh liquid", sure->just ? dregs_sized_use(sure->just)->bought * LITRES : NAN,
         "L/load"},
    };
    unsigned i, count = !sure->draws ? 0 : sure->just ? 3 : 1;

    for (i = 0; i < count; i++) {
        dregs_table_word(table, first);
        if (stages)
            dregs_table_count(table, stages);
        dregs_table_word(table, rows[i].name);
        dregs_table_number(table, rows[i].value);
        dregs_table_word(table, rows[i].unit);
        dregs_table_end_row(table);
    }
}

void dregs_page_size_sure_data(const struct sizing *s)
{
    const dregs_size_sureness *sure = s->result->sureness;

    if (!sure)
        return;
    dregs_report_count(s->report, "draws", sure->draws);
    if (!sure->draws)
        return;
    dregs_report_count(s->report, "rows_drawn", sure->rows - sure->properties);
    if (sure->properties)
        dregs_report_count(s->report, "properties_drawn", sure->properties);
    dregs_report_count(s->report, "seed", s->request->seed);
    dregs_report_figure(s->report, "share_met",
                        dregs_quantity_within(sure->met.value, sure->met.low, sure->met.high, "1"));
    dregs_report_figure(s->report, "confidence", dregs_quantity_of(sure->confidence, "1"));
    if (!isnan(sure->confidence))
        dregs_report_flag(s->report, "sure_enough", sure->reached);
    if (!sure->just)
        return;
    dregs_report_figure(s->report, "just_share_met", dregs_quantity_of(sure->just_met, "1"));
    dregs_report_figure(s->report, "just_fresh_liquid",
                        dregs_quantity_of(dregs_sized_use(sure->just)->bought * LITRES, "L/load"));
    if (!isnan(dregs_sized_use(sure->just)->cost))
        dregs_report_figure(s->report, "just_cost",
                            dregs_quantity_of(dregs_sized_use(sure->just)->cost, "currency/load"));
}

void dregs_page_size_sure_explain(const struct sizing *s)
{
    const dregs_size_sureness *sure = sure_of_any(s);

    if (!sure)
        return;
    dregs_report_heading(s->report, "how sure");
    dregs_report_text(
        s->report, 2, 4,
        "each of %llu draws (seed %llu) is the line that was found, with every value "
        "that has a spread drawn from its distribution (dregs-model(7)), and with "
        "them by their accuracy the properties of liquids that films by a law and open "
        "surfaces take, judged as the line as stated; what meets the target in the asked share of "
        "them is found by sizing for a part of every limit, until the order statistic of "
        "residue / limit of that rank is 1, or, where one limit stays as near whatever "
        "one property is, by halving what lies between two values of that; the draws "
        "are the same in all trials",
        (unsigned long long)sure->draws, (unsigned long long)s->request->seed);
}
