/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_doubt.c: the page of a drying: between what its times lie, and how sure it is in time. */
#include "page/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PERCENTILES = 99 };

/* A range narrower than this share of its value is none, to the digits shown. */
#define MOVES 5e-4

int dregs_page_dry_range(const struct dryings *d, dregs_dry_doubtful what, unsigned row,
                         dregs_ensemble_range *range)
{
    return d->doubt && !dregs_dry_doubt_range(d->doubt, what, row, range) &&
           range->high.value - range->low.value > MOVES * fabs(range->middle.value);
}

int dregs_page_dry_drawn_never(double seconds)
{
    return !(seconds < DREGS_DRY_MOST * (1 - 1e-3)); /* to a bin */
}

dregs_quantity dregs_page_dry_quantity(const struct dryings *d, const char *key, double value,
                                       const char *unit)
{
    static const struct {
        const char *key;
        dregs_dry_doubtful what;
        double scale; /* from SI to the unit of the figure */
    } drawn[] = {{"drying_time", DREGS_DRY_RANGE_TIME, 1},
                 {"film_time", DREGS_DRY_RANGE_FILM, 1},
                 {"bead_time", DREGS_DRY_RANGE_BEAD, 1},
                 {"recess_time", DREGS_DRY_RANGE_RECESS, 1},
                 {"flammable_peak", DREGS_DRY_RANGE_PEAK, PERCENT}};
    dregs_ensemble_range range;
    size_t i;

    for (i = 0; d->doubt && !isnan(value) && i < sizeof drawn / sizeof drawn[0]; i++)
        if (strcmp(key, drawn[i].key) == 0 &&
            !dregs_dry_doubt_range(d->doubt, drawn[i].what, 0, &range))
            return dregs_quantity_within(value, range.low.value * drawn[i].scale,
                                         range.high.value * drawn[i].scale, unit);
    return dregs_quantity_of(value, unit);
}

/* ---- in words ---- */

int dregs_page_dry_in_time(const struct dryings *d, unsigned index)
{
    const dregs_dry_row *row = dregs_dry_result_row(d->result, index);
    dregs_ensemble_estimate share;
    char draws[DRAWS_SHARE];

    if (!d->doubt || !isfinite(row->interval) || row->dries_on ||
        dregs_dry_doubt_in_time(d->doubt, index, &share) || share.value == 1)
        return 0;
    dregs_report_words(d->report, "; %sin time in %s%s", dregs_page_dry_unknown(row) ? "film " : "",
                       share.value > 0 && share.value < 0.95 ? "only " : "",
                       dregs_page_of_draws(share.value, draws));
    return 1;
}

/* What is not judged is not known in any draw. */
static int is_judged(const struct dryings *d)
{
    unsigned i;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        if (row->trapped_open || dregs_page_dry_unjudged(row))
            return 0;
    }
    return 1;
}

static void say_confidence(const struct dryings *d)
{
    const dregs_dry_doubt *doubt = d->doubt;
    struct numbers n = {0};
    char share[DRAWS_SHARE];

    if (isnan(doubt->confidence) || !is_judged(d))
        return;
    if (doubt->sure)
        dregs_report_words(d->report, "sure enough");
    else if (doubt->decided)
        dregs_report_words(d->report, "NOT SURE ENOUGH");
    else
        dregs_report_words(d->report, "CANNOT BE TOLD with %llu draws",
                           (unsigned long long)doubt->run.draws);
    dregs_report_text(d->report, 0, 2,
                      ": the target asks for a probability of %s %%, and in %s all are dry in time "
                      "and no vapour passes 25 %% of its limit (95 %%: %s to %s)%s",
                      dregs_page_number(&n, doubt->confidence * 100),
                      dregs_page_of_draws(doubt->passes.value, share),
                      dregs_page_draws_percent(&n, doubt->passes.low),
                      dregs_page_draws_percent(&n, doubt->passes.high),
                      doubt->decided ? "" : "; ask for more with --draws");
    dregs_report_verdict(d->report, doubt->sure      ? DREGS_VERDICT_MET
                                    : doubt->decided ? DREGS_VERDICT_MISSED
                                                     : DREGS_VERDICT_UNKNOWN);
}

void dregs_page_dry_doubt_words(const struct dryings *d)
{
    const dregs_dry_doubt *doubt = d->doubt;

    if (!doubt)
        return;
    say_confidence(d);
    dregs_report_words(d->report, "in brackets: 5 to 95 %% of draws; ");
    dregs_page_draws_of(d->report, &doubt->run);
    dregs_report_end(d->report, 2, 4);
    dregs_page_draws_failed(d->report, &doubt->run);
}

/* ---- for programs ---- */

static void put_range(dregs_table *table, const dregs_ensemble_range *range)
{
    dregs_table_within(table, range->low.value, range->low.low, range->low.high);
    dregs_table_within(table, range->middle.value, range->middle.low, range->middle.high);
    dregs_table_within(table, range->high.value, range->high.low, range->high.high);
}

static void put_times(const struct dryings *d)
{
    static const struct {
        dregs_dry_doubtful what;
        const char *word;
    } times[] = {{DREGS_DRY_RANGE_TIME, "all"},
                 {DREGS_DRY_RANGE_FILM, "film"},
                 {DREGS_DRY_RANGE_BEAD, "bead"},
                 {DREGS_DRY_RANGE_RECESS, "recess"}};
    dregs_table *table = dregs_report_table(d->report, "times", DREGS_IN_JSON);
    dregs_ensemble_range range;
    unsigned i, k;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "what", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "middle", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", NULL, "s", 0);
    for (i = 0; i < d->result->rows; i++)
        for (k = 0; k < sizeof times / sizeof times[0]; k++) {
            if (dregs_dry_doubt_range(d->doubt, times[k].what, i, &range))
                continue;
            dregs_table_count(table, i + 1);
            dregs_table_word(table, times[k].word);
            put_range(table, &range);
            dregs_table_end_row(table);
        }
}

static void put_in_time(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "in_time", DREGS_IN_JSON);
    dregs_ensemble_estimate share;
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share", NULL, "1", 0);
    for (i = 0; i < d->result->rows; i++) {
        if (dregs_dry_doubt_in_time(d->doubt, i, &share))
            continue;
        dregs_table_count(table, i + 1);
        dregs_table_within(table, share.value, share.low, share.high);
        dregs_table_end_row(table);
    }
}

void dregs_page_dry_doubt_data(const struct dryings *d)
{
    const dregs_dry_doubt *doubt = d->doubt;

    dregs_page_draws_data(d->report, doubt ? &doubt->run : NULL);
    if (!doubt)
        return;
    dregs_report_figure(
        d->report, "share_passes",
        dregs_quantity_within(doubt->passes.value, doubt->passes.low, doubt->passes.high, "1"));
    dregs_report_figure(d->report, "confidence", dregs_quantity_of(doubt->confidence, "1"));
    if (!isnan(doubt->confidence))
        dregs_report_flag(d->report, "sure_enough", doubt->sure);
    put_times(d);
    put_in_time(d);
}

/* ---- the picture ---- */

static void put_percentiles(const struct dryings *d, unsigned rows)
{
    dregs_table *table = dregs_report_table(d->report, "drawn_sure", DREGS_IN_PICTURE);
    dregs_ensemble_estimate at;
    char name[DRY_NAME];
    unsigned i;
    int p;

    dregs_table_column(table, DREGS_COLUMN_WORD, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "draws", NULL, "%", 0);
    for (i = 0; i < rows; i++)
        for (p = 1; p <= PERCENTILES; p++) {
            if (dregs_dry_doubt_quantile(d->doubt, DREGS_DRY_RANGE_TIME, i, p / 100.0, &at) ||
                dregs_page_dry_drawn_never(at.value))
                continue;
            dregs_table_word(table, dregs_page_dry_name(dregs_dry_result_row(d->result, i), name));
            dregs_table_number(table, at.value);
            dregs_table_number(table, p);
            dregs_table_end_row(table);
        }
}

/* The end of the interval, where it lies near the times that are drawn. */
static void mark_interval(const struct dryings *d, dregs_chart *chart, unsigned rows)
{
    double interval = dregs_dry_result_row(d->result, 0)->interval, longest = 0;
    dregs_ensemble_range range;
    unsigned i;

    for (i = 0; i < rows; i++)
        if (dregs_page_dry_range(d, DREGS_DRY_RANGE_TIME, i, &range) &&
            !dregs_page_dry_drawn_never(range.high.value))
            longest = fmax(longest, range.high.value);
    if (interval < 2 * longest)
        dregs_chart_event(chart, "next load", interval);
}

void dregs_page_dry_doubt_picture(const struct dryings *d, unsigned rows)
{
    dregs_ensemble_range range;
    dregs_chart *chart;
    char name[DRY_NAME];
    unsigned i, moves = 0;

    for (i = 0; i < rows; i++)
        moves += dregs_page_dry_range(d, DREGS_DRY_RANGE_TIME, i, &range) ? 1 : 0;
    if (!moves)
        return;
    put_percentiles(d, rows);
    chart = dregs_report_chart(d->report, "sure", "How likely it is dry by then");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "time", "s", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "draws that are dry", "%", 0);
    for (i = 0; i < rows; i++) {
        (void)dregs_page_dry_name(dregs_dry_result_row(d->result, i), name);
        dregs_chart_series(chart, name, DREGS_MARK_LINE, "drawn_sure", "time", "draws");
        dregs_chart_where(chart, "drying", name);
    }
    mark_interval(d, chart, rows);
    if (!isnan(d->doubt->confidence))
        dregs_chart_limit(chart, "asked for:", d->doubt->confidence * 100);
    dregs_chart_note(chart,
                     "%llu draws. The laws of drying are not drawn: see the limits of the model.",
                     (unsigned long long)d->doubt->run.draws);
}

/* ---- the working ---- */

void dregs_page_dry_doubt_working(const struct dryings *d)
{
    if (!d->doubt)
        return;
    dregs_report_heading(d->report, "how sure: %llu draws, seed %llu",
                         (unsigned long long)d->doubt->run.draws,
                         (unsigned long long)d->doubt->run.seed);
    dregs_page_draws_working(d->report, d->line, d->doubt->run.ensemble);
    dregs_report_line(d->report, 4, "each draw worked out as above, at a tolerance of 1e-6");
}
