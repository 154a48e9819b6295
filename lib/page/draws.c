/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* draws.c: the words in which every page tells of draws. */
#include "page/inside.h"

#include <math.h>
#include <stdio.h>

const char *dregs_page_draws_percent(struct numbers *n, double share)
{
    double tenths = round(share * 1000);

    if (tenths >= 1000 && share < 1)
        return "more than 99.9";
    if (tenths <= 0 && share > 0)
        return "less than 0.1";
    return dregs_page_number(n, tenths / 10);
}

const char *dregs_page_of_draws(double share, char into[DRAWS_SHARE])
{
    struct numbers n = {0};

    if (share == 1)
        snprintf(into, DRAWS_SHARE, "all draws");
    else if (share == 0)
        snprintf(into, DRAWS_SHARE, "no draw");
    else
        snprintf(into, DRAWS_SHARE, "%s %% of draws", dregs_page_draws_percent(&n, share));
    return into;
}

const char *dregs_page_drawn(unsigned rows, unsigned properties, char into[DRAWN_WORDS])
{
    unsigned values = rows - properties;
    char of_liquids[DRAWN_WORDS / 2] = "";

    if (properties)
        snprintf(of_liquids, sizeof of_liquids, "%s%u propert%s of liquids", values ? " and " : "",
                 properties, properties == 1 ? "y" : "ies");
    if (values)
        snprintf(into, DRAWN_WORDS, "the %u value%s with a spread%s", values,
                 values == 1 ? "" : "s", of_liquids);
    else
        snprintf(into, DRAWN_WORDS, "%s", of_liquids);
    return into;
}

void dregs_page_draws_of(dregs_report *report, const dregs_doubt_run *run)
{
    char drawn[DRAWN_WORDS];

    dregs_report_words(report, "%llu draws of %s", (unsigned long long)run->draws,
                       dregs_page_drawn(run->rows, run->properties, drawn));
}

void dregs_page_draws_failed(dregs_report *report, const dregs_doubt_run *run)
{
    if (run->draws < run->asked)
        dregs_report_text(report, 2, 4,
                          "PARTIAL: ended after %llu of %llu draws; what is said of draws rests on "
                          "these",
                          (unsigned long long)run->draws, (unsigned long long)run->asked);
    if (run->failed)
        dregs_report_text(report, 2, 4,
                          "%llu of the draws cannot be worked out and count as not met, and in no "
                          "range; the first, draw %llu: %s",
                          (unsigned long long)run->failed, (unsigned long long)run->first_failed,
                          run->why ? run->why : "unknown");
}

void dregs_page_draws_data(dregs_report *report, const dregs_doubt_run *run)
{
    dregs_report_count(report, "draws", run ? run->draws : 0);
    if (!run)
        return;
    dregs_report_count(report, "draws_asked", run->asked);
    dregs_report_count(report, "draws_failed", run->failed);
    dregs_report_count(report, "seed", run->seed);
    dregs_report_count(report, "rows_drawn", run->rows - run->properties);
    if (run->properties)
        dregs_report_count(report, "properties_drawn", run->properties);
}

/* ---- the working ---- */

static void explain_property(dregs_report *report, const dregs_drawn *row,
                             const dregs_liquid_row *source)
{
    struct numbers n = {0};

    dregs_report_words(report, "%.50s: %.50s times exp(%s + %s z), lognormal", row->liquid,
                       dregs_property_name(row->property), dregs_page_six(&n, row->a),
                       dregs_page_six(&n, row->b));
    if (!isnan(source->low))
        dregs_report_words(report, ", b larger beyond its data");
    dregs_report_words(report, "  [accuracy %s %%, two standard deviations, %s; %s]",
                       dregs_page_number(&n, source->accuracy * 100), source->accuracy_from,
                       source->source);
    dregs_report_end(report, 4, -1);
}

static void explain_row(dregs_report *report, const dregs_line *line, const dregs_drawn *row)
{
    const dregs_row *cells = dregs_line_row(line, row->row);
    struct numbers n = {0};
    char spread[80];

    dregs_report_words(report, "%.50s: %.50s", cells->item, cells->property);
    if (row->distribution == DREGS_LOGNORMAL)
        dregs_report_words(report, " = exp(%s + %s z)%s, lognormal, SI", dregs_page_six(&n, row->a),
                           dregs_page_six(&n, row->b), row->whole ? " rounded" : "");
    else if (row->distribution == DREGS_BETA)
        dregs_report_words(report, " beta, exponents %s and %s", dregs_page_six(&n, row->a),
                           dregs_page_six(&n, row->b));
    else
        dregs_report_words(report, " = %s + %s z, normal, SI", dregs_page_six(&n, row->a),
                           dregs_page_six(&n, row->b));
    if (row->shares != row->row)
        dregs_report_words(report, ", z of line %lu", dregs_line_row(line, row->shares)->line);
    snprintf(spread, sizeof spread, "spread %.60s", cells->spread);
    dregs_page_source(report, line, row->row, spread);
    dregs_report_words(report, " %s", spread);
    dregs_report_end(report, 4, -1);
}

void dregs_page_draws_working(dregs_report *report, const dregs_line *line,
                              const dregs_ensemble *ensemble)
{
    const dregs_liquids *liquids = dregs_ensemble_liquids(ensemble);
    unsigned i;

    dregs_report_line(report, 2, "drawn in each, independently unless said, z standard normal:");
    for (i = 0; i < dregs_ensemble_rows(ensemble); i++) {
        const dregs_drawn *row = dregs_ensemble_row(ensemble, i);
        if (row->liquid)
            explain_property(report, row, dregs_liquids_row(liquids, row->liquid, row->property));
        else
            explain_row(report, line, row);
    }
}
