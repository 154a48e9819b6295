/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_lines.c: the lines of a site, each with what it takes and gives off, and their sum. */
#include "page/tally.h"

#include <math.h>

/* m3 of all liquids in a stream. */
static double volume_of(const dregs_tally *tally, dregs_stream stream)
{
    return dregs_tally_volume(tally, stream, DREGS_WHOLE, DREGS_WHOLE);
}

static double bought_of(const dregs_tally *tally)
{
    return dregs_tally_bought(tally, DREGS_WHOLE, DREGS_WHOLE, DREGS_WHOLE);
}

static double to_air(const dregs_tally *tally)
{
    return volume_of(tally, DREGS_STREAM_EVAPORATED) + volume_of(tally, DREGS_STREAM_DRIED);
}

static void say_line(struct tally_page *page, unsigned index, const dregs_tally_one *one)
{
    const dregs_tally *part = one->tally;
    double cost = dregs_tally_costs(part, DREGS_WHOLE).total;
    struct numbers n = {0};

    dregs_report_words(page->report, "line %u: %s, %llu loads", index + 1,
                       dregs_line_name(dregs_tally_line(part)),
                       (unsigned long long)dregs_tally_loads(part, DREGS_WHOLE));
    if (dregs_tally_days(part, DREGS_WHOLE))
        dregs_report_words(page->report, " on %llu working days",
                           (unsigned long long)dregs_tally_days(part, DREGS_WHOLE));
    dregs_report_words(page->report, ", %s bought, %s into the air",
                       dregs_page_amount(page->report, &n, bought_of(part) * LITRES, "L"),
                       dregs_page_amount(page->report, &n, to_air(part) * LITRES, "L"));
    if (!isnan(cost))
        dregs_report_words(page->report, ", %s %s", dregs_page_number(&n, cost), one->currency);
    if (!isnan(one->residue))
        dregs_report_words(page->report, "; its worst load leaves %s ug/cm2",
                           dregs_page_number(&n, one->residue * UG_PER_CM2));
    dregs_report_end(page->report, 2, 4);
    dregs_page_tally_life(page->report, one, 4);
}

void dregs_page_tally_site(struct tally_page *page)
{
    const dregs_tally_one *one;
    unsigned i;

    for (i = 0; (one = dregs_tally_result_member(page->answer, 0, i)) != NULL; i++)
        say_line(page, i, one);
    dregs_report_text(
        page->report, 2, 4,
        "not told of a site: the picture of the line and the effect of changes, which "
        "are of one line each and stand on its own page");
}

void dregs_page_tally_site_data(const struct tally_page *page)
{
    const dregs_tally_one *one, *member;
    const dregs_tally *part;
    dregs_table *table = NULL;
    unsigned l, i;

    for (l = 0; (one = dregs_tally_result_line(page->answer, l)) != NULL; l++)
        for (i = 0; (member = dregs_tally_result_member(page->answer, l, i)) != NULL; i++) {
            part = member->tally;
            if (!table) {
                table = dregs_report_table(page->report, "site_lines", DREGS_IN_JSON);
                dregs_page_word_column(table, "site");
                dregs_page_word_column(table, "file");
                dregs_page_count_column(table, "loads");
                dregs_page_count_column(table, "days");
                dregs_page_number_column(table, "bought", "L");
                dregs_page_number_column(table, "to_air", "L");
                dregs_page_number_column(table, "cost", one->currency);
                dregs_page_number_column(table, "worst_residue", "ug/cm2");
                dregs_page_count_column(table, "limit_passed_at_load");
            }
            dregs_table_word(table, dregs_line_name(one->line));
            dregs_table_word(table, dregs_line_name(dregs_tally_line(part)));
            dregs_table_count(table, dregs_tally_loads(part, DREGS_WHOLE));
            dregs_table_count(table, dregs_tally_days(part, DREGS_WHOLE));
            dregs_table_number(table, bought_of(part) * LITRES);
            dregs_table_number(table, to_air(part) * LITRES);
            dregs_table_number(table, dregs_tally_costs(part, DREGS_WHOLE).total);
            dregs_table_number(table, member->residue * UG_PER_CM2);
            if (member->bounds && dregs_bounds_life(member->bounds))
                dregs_table_count(table, dregs_bounds_life(member->bounds)->crossed);
            dregs_table_end_row(table);
        }
}
