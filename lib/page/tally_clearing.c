/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_clearing.c: the filters, beds and exchangers that are used up, and what changing them
 * costs.
 */
#include "page/tally.h"

static double taken_of(const dregs_tally *tally, unsigned stage)
{
    double sum = 0.0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(dregs_tally_line(tally)); s++)
        sum += dregs_tally_solute(tally, DREGS_STREAM_CLEARED, s, stage, DREGS_WHOLE);
    return sum;
}

/* "clearing of last: takes 8.1 g, 4 g a unit: 2 changes, 180 EUR; ..." */
static void say_stage(const struct tally_page *page, unsigned index)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_stage *stage = dregs_line_stage(page->one->line, index);
    double changes = dregs_tally_changes(tally, index, DREGS_WHOLE);
    struct numbers n = {0};

    dregs_report_words(page->report, "clearing of %s: takes %s, %s a unit: ", stage->name,
                       dregs_page_amount(page->report, &n, taken_of(tally, index) * GRAMS, "g"),
                       dregs_page_amount(page->report, &n, stage->capacity.si * GRAMS, "g"));
    if (stage->change_every.row)
        dregs_report_words(page->report,
                           "changed %s time%s, every %s loads; so many spent units "
                           "are waste",
                           dregs_page_number(&n, changes), changes == 1 ? "" : "s",
                           dregs_page_number(&n, stage->change_every.si));
    else
        dregs_report_words(page->report,
                           "%s units are used up and are waste; no change is "
                           "scheduled",
                           dregs_page_number(&n, changes));
    if (stage->change_price.row)
        dregs_report_words(
            page->report, "; %s %s",
            dregs_page_number(&n, dregs_tally_change_cost(tally, index, DREGS_WHOLE)),
            page->one->currency);
    dregs_report_end(page->report, 0, 2);
}

void dregs_page_tally_clearing(const struct tally_page *page)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(page->one->line); i++)
        if (dregs_line_stage(page->one->line, i)->capacity.row)
            say_stage(page, i);
}

/* How the number of changes and their cost come about. */
void dregs_page_tally_clearing_working(const struct tally_page *page)
{
    const dregs_tally *tally = page->one->tally;
    const dregs_line *line = page->one->line;
    struct numbers n = {0};
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (!stage->capacity.row)
            continue;
        dregs_report_heading(page->report, "clearing of %s", stage->name);
        dregs_page_given(page->report, line, "capacity", stage->capacity.si * GRAMS, "g",
                         stage->capacity.row, "");
        if (stage->change_every.row) {
            dregs_page_given(page->report, line, "change every", stage->change_every.si, "loads",
                             stage->change_every.row, "");
            dregs_report_line(page->report, 4, "changes = floor(%llu loads / change every) = %s",
                              (unsigned long long)dregs_tally_loads(tally, DREGS_WHOLE),
                              dregs_page_six(&n, dregs_tally_changes(tally, i, DREGS_WHOLE)));
        } else
            dregs_report_line(page->report, 4, "changes = %s g taken / capacity = %s",
                              dregs_page_six(&n, taken_of(tally, i) * GRAMS),
                              dregs_page_six(&n, dregs_tally_changes(tally, i, DREGS_WHOLE)));
        if (!stage->change_price.row)
            continue;
        dregs_page_given(page->report, line, "change price", stage->change_price.si,
                         page->one->currency, stage->change_price.row, "");
        dregs_report_line(page->report, 4, "cost = changes x change price = %s %s",
                          dregs_page_six(&n, dregs_tally_change_cost(tally, i, DREGS_WHOLE)),
                          page->one->currency);
    }
}
