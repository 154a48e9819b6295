/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_kinds.c: loads of several kinds, how many of each come and what they bring. */
#include "page/tally.h"

#include <math.h>

/* What a kind brings along: parts, their area (m2), soil of all solutes (kg). */
struct brought {
    uint64_t loads;
    double parts, area, soil;
};

static struct brought brought_by(const struct tally_page *page, unsigned kind)
{
    const dregs_line *of = dregs_line_of_kind(page->one->line, kind);
    const dregs_load *load = dregs_line_load(of);
    struct brought b = {dregs_tally_loads_of_kind(page->one->tally, kind, DREGS_WHOLE), 0, 0, 0};
    unsigned s;

    b.parts = (double)b.loads * load->parts.si;
    b.area = b.parts * load->area.si;
    for (s = 0; s < dregs_line_solutes(of); s++)
        b.soil += b.parts * dregs_line_solute(of, s)->on_parts.si;
    return b;
}

void dregs_page_tally_say_kinds(const struct tally_page *page)
{
    unsigned kinds = dregs_line_kinds(page->one->line), k;
    struct numbers n = {0};

    for (k = 0; kinds > 1 && k < kinds; k++) {
        struct brought b = brought_by(page, k);
        dregs_report_text(page->report, 2, 4, "%s: %llu loads, %s parts of %s in all, %s soil",
                          dregs_line_load_name(dregs_line_of_kind(page->one->line, k)),
                          (unsigned long long)b.loads, dregs_page_number(&n, b.parts),
                          dregs_page_amount(page->report, &n, b.area, "m2"),
                          dregs_page_amount(page->report, &n, b.soil * GRAMS, "g"));
    }
}

void dregs_page_tally_put_kinds(const struct tally_page *page)
{
    unsigned kinds = dregs_line_kinds(page->one->line), k;
    dregs_table *table;

    if (kinds == 1 || dregs_tally_result_line(page->answer, 1))
        return;
    table = dregs_report_table(page->report, "kinds", DREGS_IN_JSON);
    dregs_page_word_column(table, "kind");
    dregs_table_column(table, DREGS_COLUMN_COUNT, "loads", NULL, "", 0);
    dregs_page_number_column(table, "parts", "1");
    dregs_page_number_column(table, "area", "m2");
    dregs_page_number_column(table, "soil", "kg");
    for (k = 0; k < kinds; k++) {
        struct brought b = brought_by(page, k);
        dregs_table_word(table, dregs_line_load_name(dregs_line_of_kind(page->one->line, k)));
        dregs_table_count(table, b.loads);
        dregs_table_number(table, b.parts);
        dregs_table_number(table, b.area);
        dregs_table_number(table, b.soil);
        dregs_table_end_row(table);
    }
}
