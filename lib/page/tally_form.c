/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_form.c: the account as a document to hand in: its head, what a form asks of each liquid,
 * the open questions, the lines that are signed.
 */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>

/* What the span is, in words; no calendar year: the schedule's own. */
static void put_counted(struct tally_page *page)
{
    const char *span = dregs_page_tally_span(page->span->span);
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    char words[200];

    if (actual)
        snprintf(words, sizeof words, "%s of the line's schedule, worked out, beside records of %d",
                 span, dregs_tally_actual_covered(actual)->year);
    else
        snprintf(words, sizeof words, "%s of the line's schedule, worked out and not measured",
                 span);
    dregs_report_field(page->report, "counted", words);
}

static void put_head(struct tally_page *page)
{
    const dregs_tally_head *head = dregs_tally_result_head(page->answer);
    unsigned i;

    dregs_report_title(page->report, "Account of liquids, solvents and soil");
    for (i = 0; i < DREGS_TALLY_HEAD_FIELDS; i++)
        dregs_report_field(page->report, dregs_tally_head_name((dregs_tally_head_field)i),
                           head->field[i]);
    dregs_report_field(page->report, "line", dregs_line_name(page->one->line));
    put_counted(page);
}

/* ---- each liquid of the whole, in L and kg ---- */

static double sum(const dregs_tally *tally, const dregs_stream *streams, unsigned count,
                  unsigned fluid)
{
    double volume = 0;
    unsigned i;

    for (i = 0; i < count; i++)
        volume += dregs_tally_fluid(tally, streams[i], fluid, DREGS_WHOLE, DREGS_WHOLE);
    return volume;
}

static void put_liquids(struct tally_page *page)
{
    static const dregs_stream drain[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                         DREGS_STREAM_BLOWN_OFF},
                              waste[] = {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED},
                              air[] = {DREGS_STREAM_EVAPORATED}, parts[] = {DREGS_STREAM_DRIED};
    const struct {
        const char *name;
        const dregs_stream *streams;
        unsigned count;
    } rows[] = {{"to drain", drain, 3},
                {"to waste", waste, 2},
                {"evaporated", air, 1},
                {"dried off the parts", parts, 1}};
    dregs_table *table = dregs_report_table(page->report, "account", DREGS_IN_FORM | DREGS_IN_JSON);
    const dregs_tally *tally = page->one->tally;
    unsigned f, i;

    dregs_page_word_column(table, "liquid");
    dregs_page_word_column(table, "stream");
    dregs_page_number_column(table, "volume", "L");
    dregs_page_number_column(table, "mass", "kg");
    for (f = 0; f < dregs_line_fluids(page->one->line); f++) {
        double density = dregs_tally_density(tally, f);
        double bought = dregs_tally_bought(tally, f, DREGS_WHOLE, DREGS_WHOLE);
        dregs_table_word(table, dregs_line_fluid(page->one->line, f)->name);
        dregs_table_word(table, "bought");
        dregs_page_tally_put(table, page->doubt, DREGS_TALLY_RANGE_BOUGHT, f, bought, LITRES);
        dregs_table_number(table, bought * density);
        dregs_table_end_row(table);
        for (i = 0; i < sizeof rows / sizeof rows[0]; i++) {
            double volume = sum(tally, rows[i].streams, rows[i].count, f);
            dregs_table_word(table, dregs_line_fluid(page->one->line, f)->name);
            dregs_table_word(table, rows[i].name);
            dregs_table_number(table, volume * LITRES);
            dregs_table_number(table, volume * density);
            dregs_table_end_row(table);
        }
    }
}

/* ---- what nobody has told ---- */

static void put_questions(struct tally_page *page)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    const dregs_tally_asked *of_law;
    const char *asked;
    unsigned i;

    if (!law)
        dregs_report_question(page->report,
                              "regulations are not looked at: ask again with --law, and what the "
                              "site states");
    for (i = 0; law && (of_law = dregs_tally_law_asked(law, i)) != NULL; i++)
        dregs_report_question(page->report, of_law->text);
    for (i = 0; (asked = dregs_tally_result_drain_asked(page->answer, i)) != NULL; i++)
        dregs_report_question(page->report, asked);
    for (i = 0; (asked = dregs_tally_result_energy_asked(page->answer, i)) != NULL; i++)
        dregs_report_question(page->report, asked);
}

void dregs_page_tally_form(struct tally_page *page)
{
    dregs_report_as_form(page->report);
    put_head(page);
    put_liquids(page);
    put_questions(page);
    dregs_report_signature(page->report, "prepared: place, date, name");
    dregs_report_signature(page->report, "checked: place, date, name");
    dregs_report_signature(page->report, "responsible for the site: place, date, name");
}
