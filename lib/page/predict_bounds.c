/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_bounds.c: how concentrations stand to limits and targets, on the page of a prediction. */
#include "page/bounds.h"
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

static int is_high(const dregs_bound *bound)
{
    return bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_RATIO ||
           bound->kind == DREGS_BOUND_CLEANER;
}

/* ---- for people ---- */

/* Nights and weekends: the load of the week that is the worst, or that it is not known. */
static void say_week(const struct prediction *p, const dregs_bound *bound)
{
    char load[WEEK_WORDS];

    if (bound->by_week)
        dregs_report_text(p->report, 2, 4, "worst: %s",
                          dregs_page_predict_week_load(p, &bound->in_week, load));
    if (bound->unknown)
        dregs_report_text(
            p->report, 2, 4,
            "nights and weekends: how far it comes with them is NOT KNOWN, and counts "
            "as not kept");
}

/* "target met: oil in the film behind last 0.52 mg/L at the worst load, at most 1 mg/L" */
static void say_target(const struct prediction *p, unsigned index)
{
    const dregs_bound *bound = dregs_bounds_at(p->result->bounds, index);
    char of[BOUND_WORDS], value[BOUND_WORDS], limit[BOUND_WORDS], time[BOUND_WORDS];
    struct numbers n = {0};

    dregs_report_words(p->report, "target %s: %s %s at the worst load, at %s %s",
                       bound->crossed   ? "MISSED"
                       : bound->unknown ? "NOT KNOWN to be met"
                                        : "met",
                       dregs_page_bound_of(p->line, bound, of),
                       dregs_page_bound_value(p->line, bound, bound->reached, value),
                       is_high(bound) ? "least" : "most",
                       dregs_page_bound_value(p->line, bound, bound->limit.si, limit));
    if (bound->crossed)
        dregs_report_words(p->report, "; met until load %llu (%s)",
                           (unsigned long long)bound->crossed - 1,
                           dregs_page_bound_time(p->line, bound->crossed - 1, time));
    else
        dregs_report_words(p->report, ": %s %% of it", dregs_page_number(&n, bound->share * 100));
    dregs_page_predict_doubt_bound(p, index);
    dregs_report_end(p->report, 0, p->doubt ? 2 : -1);
    dregs_report_verdict(p->report, bound->crossed   ? DREGS_VERDICT_MISSED
                                    : bound->unknown ? DREGS_VERDICT_UNKNOWN
                                                     : DREGS_VERDICT_MET);
    say_week(p, bound);
}

/* The limit that no load passes and that comes nearest. */
static void say_nearest(const struct prediction *p)
{
    const dregs_bound *nearest = NULL;
    char of[BOUND_WORDS], value[BOUND_WORDS], limit[BOUND_WORDS];
    struct numbers n = {0};
    unsigned i, which = 0;

    for (i = 0; i < dregs_bounds_count(p->result->bounds); i++) {
        const dregs_bound *bound = dregs_bounds_at(p->result->bounds, i);
        if (dregs_bound_is_limit(bound) &&
            (!nearest || bound->unknown > nearest->unknown ||
             (bound->unknown == nearest->unknown && bound->share > nearest->share))) {
            nearest = bound;
            which = i;
        }
    }
    if (!nearest)
        return;
    dregs_report_words(p->report, "bath life: %s: %s comes to %s, limit %s (%s %%)",
                       nearest->unknown ? "NOT KNOWN" : "no limit is passed; the nearest",
                       dregs_page_bound_of(p->line, nearest, of),
                       dregs_page_bound_value(p->line, nearest, nearest->reached, value),
                       dregs_page_bound_value(p->line, nearest, nearest->limit.si, limit),
                       dregs_page_number(&n, nearest->share * 100));
    dregs_page_predict_doubt_bound(p, which);
    dregs_report_end(p->report, 0, 2);
    if (nearest->unknown)
        dregs_report_verdict(p->report, DREGS_VERDICT_UNKNOWN);
    say_week(p, nearest);
}

/* The limit that ends the life of a bath, or the one that comes nearest. */
static void say_life(const struct prediction *p)
{
    const dregs_bound *life = p->result->life;
    unsigned i;

    if (!life) {
        say_nearest(p);
        return;
    }
    dregs_report_words(p->report, "bath life: ");
    dregs_page_bound_crossed(p->report, p->line, life);
    dregs_report_words(p->report, life->kind == DREGS_BOUND_SOLUBILITY
                                      ? ": the balance knows dissolved solutes only, nothing "
                                        "from there on is covered"
                                      : ": nothing from there on is covered");
    for (i = 0; i < dregs_bounds_count(p->result->bounds); i++)
        if (dregs_bounds_at(p->result->bounds, i) == life)
            dregs_page_predict_doubt_bound(p, i);
    dregs_report_end(p->report, 0, 2);
    dregs_report_verdict(p->report, DREGS_VERDICT_MISSED);
}

/* What leaves the range that the file describes, where it states no limit. */
static void say_described(const struct prediction *p)
{
    char of[BOUND_WORDS], value[BOUND_WORDS], time[BOUND_WORDS];
    struct numbers n = {0};
    unsigned i;

    for (i = 0; i < dregs_bounds_count(p->result->described); i++) {
        const dregs_bound *bound = dregs_bounds_at(p->result->described, i);
        if (!bound->crossed)
            continue;
        dregs_report_text(
            p->report, 0, 2,
            "caution: %s falls to %s, from load %llu (%s) on below %s %% of its fresh "
            "fill; the stage's rows may not hold there, and no 'least %s' is stated",
            dregs_page_bound_of(p->line, bound, of),
            dregs_page_bound_value(p->line, bound, bound->reached, value),
            (unsigned long long)bound->crossed,
            dregs_page_bound_time(p->line, bound->crossed, time),
            dregs_page_number(&n, DREGS_BOUND_CLEANER_SHARE * 100),
            dregs_page_solute(p->line, bound->solute));
    }
}

void dregs_page_predict_say_bounds(const struct prediction *p)
{
    unsigned i;

    for (i = 0; i < dregs_bounds_count(p->result->bounds); i++) {
        const dregs_bound *bound = dregs_bounds_at(p->result->bounds, i);
        if (!dregs_bound_is_limit(bound))
            say_target(p, i);
    }
    say_life(p);
    say_described(p);
}

/* ---- for programs ---- */

/* Concentrations in mg/L, conductivities in uS/cm, what is taken in g; none for a ratio without
 * end. */
static double shown(const dregs_bound *bound, double si)
{
    return isinf(si)                                 ? NAN
           : bound->kind == DREGS_BOUND_RATIO        ? si
           : bound->kind == DREGS_BOUND_CONDUCTIVITY ? si * 1e4
           : bound->kind == DREGS_BOUND_CAPACITY     ? si * GRAMS
                                                     : si * MG_PER_L;
}

static void put_bound(const struct prediction *p, dregs_table *table, const dregs_bound *bound)
{
    dregs_table_word(table, dregs_page_bound_kind(bound));
    dregs_table_word(table, dregs_line_stage(p->line, bound->stage)->name);
    dregs_table_word(table, bound->kind == DREGS_BOUND_CAPACITY ? "clearing"
                            : bound->in_film                    ? "film"
                                                                : "tank");
    dregs_table_word(table, dregs_page_solute(p->line, bound->solute));
    dregs_table_number(table, shown(bound, bound->limit.si));
    dregs_table_number(table, shown(bound, bound->reached));
    dregs_table_word(table, bound->kind == DREGS_BOUND_RATIO          ? "1"
                            : bound->kind == DREGS_BOUND_CONDUCTIVITY ? "uS/cm"
                            : bound->kind == DREGS_BOUND_CAPACITY     ? "g"
                                                                      : "mg/L");
    dregs_table_number(table, isinf(bound->share) ? NAN : bound->share);
    dregs_table_count(table, bound->load);
    dregs_table_flag(table, bound->in_the_long_run);
    dregs_table_flag(table, bound->limit.row != 0);
    if (bound->crossed)
        dregs_table_count(table, bound->crossed);
    else if (p->result->week)
        dregs_table_word(table, NULL);
    if (p->result->week) {
        dregs_table_flag(table, bound->by_week);
        dregs_table_flag(table, !bound->unknown);
    }
    dregs_table_end_row(table);
}

void dregs_page_predict_put_bounds(const struct prediction *p)
{
    dregs_table *table = dregs_report_table(p->report, "concentration_limits", DREGS_IN_JSON);
    const dregs_bounds *lists[2] = {p->result->bounds, p->result->described};
    const dregs_bound *life = p->result->life;
    unsigned i, k;

    if (life)
        dregs_report_count(p->report, "bath_life", life->crossed - 1);
    else
        dregs_report_word(p->report, "bath_life", NULL);
    dregs_table_column(table, DREGS_COLUMN_WORD, "kind", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "in", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "solute", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "limit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "reached", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "at_steady_state", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "stated", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "crossed", NULL, "", 0);
    if (p->result->week) {
        dregs_table_column(table, DREGS_COLUMN_FLAG, "of_the_week", NULL, "", 0);
        dregs_table_column(table, DREGS_COLUMN_FLAG, "known", NULL, "", 0);
    }
    for (k = 0; k < 2; k++)
        for (i = 0; i < dregs_bounds_count(lists[k]); i++)
            put_bound(p, table, dregs_bounds_at(lists[k], i));
}

/* ---- the working ---- */

static const char *equation(const dregs_bound *bound)
{
    switch (bound->kind) {
    case DREGS_BOUND_RATIO:
        return "sum of c in the film behind the last wash, over that sum here";
    case DREGS_BOUND_CAPACITY:
        return "sum over the loads since a change of clearing / V x integral of the contents";
    case DREGS_BOUND_CONDUCTIVITY:
        return "of the water itself + sum of what each solute adds at its c";
    default:
        return bound->in_film ? "c = film mass / film volume D"
                              : "c = (m + film that mixes) / (V + its volume), soil taken off";
    }
}

void dregs_page_predict_explain_bounds(const struct prediction *p)
{
    const dregs_bounds *lists[2] = {p->result->bounds, p->result->described};
    char of[BOUND_WORDS], value[BOUND_WORDS], limit[BOUND_WORDS], time[BOUND_WORDS];
    unsigned i, k;

    for (k = 0; k < 2; k++)
        for (i = 0; i < dregs_bounds_count(lists[k]); i++) {
            const dregs_bound *bound = dregs_bounds_at(lists[k], i);
            dregs_report_words(p->report, "%s: at %s %s", dregs_page_bound_of(p->line, bound, of),
                               is_high(bound) ? "least" : "most",
                               dregs_page_bound_value(p->line, bound, bound->limit.si, limit));
            dregs_page_source(p->report, p->line, bound->limit.row,
                              "assumed: 80 % of the fresh fill");
            dregs_report_end(p->report, 4, -1);
            dregs_report_words(p->report, "%s: %s at load %llu%s%s", equation(bound),
                               dregs_page_bound_value(p->line, bound, bound->reached, value),
                               (unsigned long long)bound->load, bound->by_week ? " of a week" : "",
                               bound->in_the_long_run ? " at steady state" : "");
            if (bound->crossed)
                dregs_report_words(p->report, "; beyond it from load %llu (%s) on",
                                   (unsigned long long)bound->crossed,
                                   dregs_page_bound_time(p->line, bound->crossed, time));
            dregs_report_end(p->report, 6, -1);
        }
}
