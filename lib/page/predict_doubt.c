/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_doubt.c: the page of a prediction: how sure it is. */
#include "page/predict.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>

enum { NAME = 23, NUMBER = 12 };

static const char *residue(struct numbers *n, double value)
{
    return dregs_number_plain(n->text[n->next++ % 8], value * UG_PER_CM2, 3);
}

void dregs_page_predict_doubt_words(const struct prediction *p, unsigned limit)
{
    const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, limit);
    dregs_ensemble_estimate met;
    dregs_ensemble_range range;
    struct numbers n = {0};
    char share[DRAWS_SHARE];

    if (!p->doubt || dregs_predict_doubt_limit(p->doubt, limit, &met))
        return;
    dregs_report_words(p->report, "; met in %s%s", met.value > 0 && met.value < 0.95 ? "only " : "",
                       dregs_page_of_draws(met.value, share));
    if (verdict->solute == DREGS_EVERY_SOLUTE &&
        !dregs_predict_doubt_worst(p->doubt, DREGS_EVERY_SOLUTE, &range))
        dregs_report_words(p->report, " (5 to 95 %%: %s to %s)", residue(&n, range.low.value),
                           residue(&n, range.high.value));
}

void dregs_page_predict_doubt_bound(const struct prediction *p, unsigned bound)
{
    dregs_ensemble_estimate met;
    char share[DRAWS_SHARE];

    if (p->doubt && !dregs_predict_doubt_bound(p->doubt, bound, &met))
        dregs_report_words(p->report, "; kept in %s%s",
                           met.value > 0 && met.value < 0.95 ? "only " : "",
                           dregs_page_of_draws(met.value, share));
}

/* Whether the target is met with the probability that it asks for. */
void dregs_page_predict_doubt_confidence(const struct prediction *p)
{
    const dregs_predict_doubt *doubt = p->doubt;
    int several = p->result->verdicts + dregs_bounds_count(p->result->bounds) > 1;
    struct numbers n = {0};
    char share[DRAWS_SHARE];

    if (!doubt || isnan(doubt->confidence) || isnan(doubt->met.value))
        return;
    if (doubt->sure)
        dregs_report_words(p->report, "sure enough");
    else if (doubt->decided)
        dregs_report_words(p->report, "NOT SURE ENOUGH");
    else
        dregs_report_words(p->report, "CANNOT BE TOLD with %llu draws",
                           (unsigned long long)doubt->run.draws);
    dregs_report_text(p->report, 0, 2,
                      ": the target is to be met with a probability of %s %%, and %s %s%s %s "
                      "(95 %%: %s to %s)%s",
                      dregs_page_number(&n, doubt->confidence * 100),
                      dregs_page_of_draws(doubt->met.value, share), several ? "keep" : "meet",
                      doubt->met.value == 0 ? "s" : "", several ? "all limits" : "it",
                      dregs_page_draws_percent(&n, doubt->met.low),
                      dregs_page_draws_percent(&n, doubt->met.high),
                      doubt->decided ? "" : "; ask for more with --draws");
    dregs_report_verdict(p->report, doubt->sure      ? DREGS_VERDICT_MET
                                    : doubt->decided ? DREGS_VERDICT_MISSED
                                                     : DREGS_VERDICT_UNKNOWN);
}

/* "met in 15.3 % of 1000 draws of the 6 values with a spread (95 %: 13.2 to 17.7 %)"; of several
 * limits that of all together. */
static void say_all(const struct prediction *p)
{
    const dregs_predict_doubt *doubt = p->doubt;
    int several = p->result->verdicts + dregs_bounds_count(p->result->bounds) > 1;
    double share = doubt->met.value;
    struct numbers n = {0};

    if (isnan(share))
        return;
    dregs_report_words(p->report, "%s", several ? "all limits kept in " : "met in ");
    if (share == 0 || share == 1)
        dregs_report_words(p->report, "%s of ", share > 0 ? "all" : "none");
    else
        dregs_report_words(p->report, "%s %% of ", dregs_page_draws_percent(&n, share));
}

void dregs_page_predict_doubt_verdict(const struct prediction *p)
{
    const dregs_predict_doubt *doubt = p->doubt;
    dregs_ensemble_range range;
    struct numbers n = {0};

    if (!doubt)
        return;
    say_all(p);
    dregs_page_draws_of(p->report, &doubt->run);
    if (!isnan(doubt->met.value))
        dregs_report_words(p->report, " (95 %%: %s to %s %%)",
                           dregs_page_draws_percent(&n, doubt->met.low),
                           dregs_page_draws_percent(&n, doubt->met.high));
    if (!p->result->verdicts && !dregs_predict_doubt_worst(doubt, DREGS_EVERY_SOLUTE, &range))
        dregs_report_words(p->report, "; 5 to 95 %%: %s to %s ug/cm2", residue(&n, range.low.value),
                           residue(&n, range.high.value));
    dregs_report_end(p->report, 2, 4);
    dregs_page_draws_failed(p->report, &doubt->run);
}

/* ---- tables ---- */

static void range_columns(dregs_table *table, const char *key, const char *head)
{
    dregs_table_column(table, DREGS_COLUMN_WORD, key, head, "", NAME);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", "5 %", "ug/cm2", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "middle", "50 %", "ug/cm2", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", "95 %", "ug/cm2", -NUMBER);
}

static void put_estimate(dregs_table *table, dregs_ensemble_estimate at)
{
    dregs_table_within(table, at.value * UG_PER_CM2, at.low * UG_PER_CM2, at.high * UG_PER_CM2);
}

static void put_range(dregs_table *table, const dregs_ensemble_range *range)
{
    put_estimate(table, range->low);
    put_estimate(table, range->middle);
    put_estimate(table, range->high);
    dregs_table_end_row(table);
}

static void say_worst(const struct prediction *p)
{
    dregs_table *table;
    dregs_ensemble_range range;
    int s, solutes = (int)dregs_line_solutes(p->line);

    dregs_report_heading(p->report,
                         "what the worst load of a draw keeps (so many draws are below)");
    table = dregs_report_table(p->report, "worst_of_draws", DREGS_IN_TEXT | DREGS_IN_JSON);
    range_columns(table, "solute", "solute");
    for (s = 0; s <= solutes; s++) {
        int solute = s < solutes ? s : DREGS_EVERY_SOLUTE;
        if (dregs_predict_doubt_worst(p->doubt, solute, &range))
            continue;
        dregs_table_word(table, dregs_page_solute(p->line, solute));
        put_range(table, &range);
    }
}

void dregs_page_predict_doubt_tables(const struct prediction *p)
{
    if (!p->doubt)
        return;
    say_worst(p);
}

/* ---- for programs ---- */

static void put_loads(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "loads_of_draws", DREGS_IN_JSON);
    dregs_ensemble_range range;
    uint64_t load;
    unsigned i;
    int s;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    range_columns(table, "solute", NULL);
    for (i = 0; i < p->doubt->loads; i++)
        for (s = DREGS_EVERY_SOLUTE; s < (int)dregs_line_solutes(p->line); s++) {
            if (dregs_predict_doubt_load(p->doubt, i, s, &load, &range))
                continue;
            dregs_table_count(table, load);
            dregs_table_word(table, dregs_page_solute(p->line, s));
            put_range(table, &range);
        }
}

static void put_limits(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "targets_of_draws", DREGS_IN_JSON);
    dregs_ensemble_estimate met;
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share_met", NULL, "1", 0);
    for (i = 0; i < p->result->verdicts; i++) {
        if (dregs_predict_doubt_limit(p->doubt, i, &met))
            continue;
        dregs_table_word(
            table, dregs_page_solute(p->line, dregs_predict_result_verdict(p->result, i)->solute));
        dregs_table_within(table, met.value, met.low, met.high);
        dregs_table_end_row(table);
    }
}

void dregs_page_predict_doubt_data(const struct prediction *p, int of_page)
{
    const dregs_predict_doubt *doubt = p->doubt;

    dregs_page_draws_data(p->report, doubt ? &doubt->run : NULL);
    if (!doubt)
        return;
    dregs_report_figure(
        p->report, "share_met",
        dregs_quantity_within(doubt->met.value, doubt->met.low, doubt->met.high, "1"));
    dregs_report_figure(p->report, "confidence", dregs_quantity_of(doubt->confidence, "1"));
    if (!isnan(doubt->confidence))
        dregs_report_flag(p->report, "sure_enough", doubt->sure);
    put_limits(p);
    put_loads(p);
    if (!of_page)
        say_worst(p);
}

/* ---- the working ---- */

void dregs_page_predict_doubt_working(const struct prediction *p)
{
    const dregs_predict_doubt *doubt = p->doubt;
    struct numbers n = {0};

    if (!doubt)
        return;
    dregs_report_heading(p->report, "10. How sure: %llu draws, seed %llu",
                         (unsigned long long)doubt->run.draws, (unsigned long long)doubt->run.seed);
    dregs_page_draws_working(p->report, p->line, doubt->run.ensemble);
    if (isnan(doubt->met.value))
        return;
    dregs_report_line(p->report, 2, "all limits met in %s of %llu draws = %s",
                      dregs_page_six(&n, round(doubt->met.value * (double)doubt->run.draws)),
                      (unsigned long long)doubt->run.draws, dregs_page_six(&n, doubt->met.value));
    dregs_report_line(p->report, 4, "95 %% interval %s to %s  [Wilson 1927]",
                      dregs_page_six(&n, doubt->met.low), dregs_page_six(&n, doubt->met.high));
}
