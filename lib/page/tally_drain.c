/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_drain.c: what goes down the drain, for people and for programs. */
#include "page/tally.h"

#include <math.h>
#include <stdio.h>

/* Sources: 40 CFR 403.5(b)(2), below 5 not into a sewer that is not made for it; 40 CFR 261.22, 2
 * and below or 12.5 and above corrosive. */
#define PH_CORROSIVE_ACID 2.0
#define PH_SEWER          5.0
#define PH_CORROSIVE_BASE 12.5

static const char *point_of(const dregs_line *line, const dregs_tally_drain *drain)
{
    return drain->stage == DREGS_WHOLE ? "all together"
                                       : dregs_line_stage(line, drain->stage)->name;
}

/* The class that both ends lie in; NULL where they do not, or nothing is known. */
static const char *class_of(const dregs_tally_drain *drain)
{
    if (isnan(drain->ph_low))
        return NULL;
    if (drain->ph_high <= PH_CORROSIVE_ACID)
        return "2 or below, corrosive";
    if (drain->ph_low >= PH_CORROSIVE_BASE)
        return "12.5 or above, corrosive";
    if (drain->ph_high < PH_SEWER)
        return drain->ph_low > PH_CORROSIVE_ACID ? "above 2 and below 5" : "below 5";
    if (drain->ph_low >= PH_SEWER && drain->ph_high < PH_CORROSIVE_BASE)
        return "from 5 to below 12.5";
    return NULL;
}

/* ---- for people ---- */

static void say_ph(dregs_report *report, const dregs_tally_drain *drain)
{
    const char *class = class_of(drain);
    struct numbers n = {0};

    if (isnan(drain->ph_low)) {
        dregs_report_text(report, 4, 6, "pH: not known, see what is asked for");
        return;
    }
    dregs_report_words(report, "pH: ");
    if (drain->ph_high - drain->ph_low < 0.05)
        dregs_report_words(report, "%s", dregs_page_number(&n, drain->ph_low));
    else
        dregs_report_words(report, "between %s and %s", dregs_page_number(&n, drain->ph_low),
                           dregs_page_number(&n, drain->ph_high));
    dregs_report_words(report, "%s%s; of water without alkalinity of its own, mixed evenly",
                       class ? ", class " : ", which spans more than one class",
                       class ? class : "");
    dregs_report_end(report, 4, 6);
}

static void put_row(struct tally_page *page, dregs_table *table, const dregs_tally_drain *drain,
                    unsigned index, int ranged)
{
    const dregs_tally_drained *d = &drain->drained[index];
    char range[TALLY_BETWEEN] = "";

    dregs_table_word(table, d->name);
    dregs_table_number(table, d->mass);
    dregs_table_number(table, d->concentration * MG_PER_L);
    dregs_table_number(table, d->oxygen);
    if (ranged)
        dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_DRAINED, index, MG_PER_L, range);
    if (*range)
        dregs_table_word(table, range + 1);
    dregs_table_end_row(table);
}

/* `ranged`: the draws are of this one, all of them together or the only one. */
static void say_drain(struct tally_page *page, const dregs_tally_drain *drain, unsigned index,
                      int ranged)
{
    char range[TALLY_BETWEEN] = "", key[32];
    struct numbers n = {0};
    dregs_table *table;
    unsigned i;

    dregs_report_heading(page->report, "%s: %s to the drain", point_of(page->one->line, drain),
                         dregs_page_amount(page->report, &n, drain->volume * LITRES, "L"));
    snprintf(key, sizeof key, "drain_%u", index + 1);
    if (drain->count) {
        table = dregs_report_table(page->report, key, DREGS_IN_TEXT);
        dregs_table_indent(table, 4);
        dregs_table_column(table, DREGS_COLUMN_WORD, "substance", "", "", 24);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "mass", "mass", "kg", -12);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "mean", "mean", "mg/L", -12);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "oxygen", "COD", "kg", -12);
        dregs_table_gap(table, 2);
        dregs_table_column(table, DREGS_COLUMN_WORD, "range", "", "", 0);
        dregs_table_gap(table, 2);
        for (i = 0; i < drain->count; i++)
            put_row(page, table, drain, i, ranged);
    }
    if (ranged)
        dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_DRAINED, drain->count, MG_PER_L,
                                 range);
    if (drain->least && !(drain->oxygen > 0))
        dregs_report_text(page->report, 4, 6,
                          "chemical oxygen demand: not known, see what is asked for");
    else
        dregs_report_text(page->report, 4, 6, "chemical oxygen demand: %s%s, on the mean %s mg/L%s",
                          drain->least ? "at least " : "",
                          dregs_page_amount(page->report, &n, drain->oxygen, "kg"),
                          dregs_page_number(&n, drain->oxygen_concentration * MG_PER_L), range);
    say_ph(page->report, drain);
}

void dregs_page_tally_drain(struct tally_page *page)
{
    const dregs_tally_drain *drain;
    const char *asked;
    unsigned i, points = 0;

    while (dregs_tally_result_drain(page->answer, points))
        points++;
    if (!points)
        dregs_report_text(page->report, 0, 2, "nothing goes to the drain");
    for (i = 0; (drain = dregs_tally_result_drain(page->answer, i)) != NULL; i++)
        if (i || points != 2) /* of a single point its own says it all */
            say_drain(page, drain, i, !i || points == 2);
    for (i = 0; (asked = dregs_tally_result_drain_asked(page->answer, i)) != NULL; i++) {
        if (!i)
            dregs_report_heading(page->report, "asked for");
        dregs_report_text(page->report, 2, 4, "%s", asked);
    }
    if (!points)
        return;
    dregs_report_gap(page->report);
    dregs_report_text(page->report, 2, 4,
                      "means over the span: a grab sample, or an hour behind a dump, differs. "
                      "Classes of pH: 40 CFR 403.5(b)(2) and 261.22; the sewer's own limits may be "
                      "tighter.");
}

/* ---- for programs ---- */

static void put_contents(struct tally_page *page)
{
    dregs_table *table =
        dregs_report_table(page->report, "drain_contents", DREGS_IN_JSON | DREGS_IN_FORM);
    const dregs_tally_drain *drain;
    unsigned i, k;

    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "substance");
    dregs_page_word_column(table, "kind");
    dregs_page_number_column(table, "mass", "kg");
    dregs_page_number_column(table, "concentration", "mg/L");
    dregs_page_number_column(table, "oxygen_demand", "kg");
    for (i = 0; (drain = dregs_tally_result_drain(page->answer, i)) != NULL; i++)
        for (k = 0; k < drain->count; k++) {
            const dregs_tally_drained *d = &drain->drained[k];
            int whole = drain->stage == DREGS_WHOLE;
            dregs_table_word(table, whole ? NULL : point_of(page->one->line, drain));
            dregs_table_word(table, d->name);
            dregs_table_word(table, d->is_solute ? "solute" : "liquid");
            dregs_table_number(table, d->mass);
            dregs_page_tally_put(table, whole ? page->doubt : NULL, DREGS_TALLY_RANGE_DRAINED, k,
                                 d->concentration, MG_PER_L);
            dregs_table_number(table, d->oxygen);
            dregs_table_end_row(table);
        }
}

void dregs_page_tally_put_drain(struct tally_page *page)
{
    const dregs_tally_drain *drain;
    dregs_table *table;
    const char *asked;
    unsigned i;

    if (dregs_tally_result_line(page->answer, 1))
        return;
    table = dregs_report_table(page->report, "drains", DREGS_IN_JSON | DREGS_IN_FORM);
    dregs_page_word_column(table, "stage");
    dregs_page_number_column(table, "volume", "L");
    dregs_page_number_column(table, "oxygen_demand", "kg");
    dregs_page_number_column(table, "oxygen_concentration", "mg/L");
    dregs_page_flag_column(table, "at_least");
    dregs_page_number_column(table, "ph_low", "1");
    dregs_page_number_column(table, "ph_high", "1");
    dregs_page_word_column(table, "ph_class");
    for (i = 0; (drain = dregs_tally_result_drain(page->answer, i)) != NULL; i++) {
        int whole = drain->stage == DREGS_WHOLE;
        dregs_table_word(table, whole ? NULL : point_of(page->one->line, drain));
        dregs_table_number(table, drain->volume * LITRES);
        dregs_table_number(table, drain->oxygen);
        dregs_page_tally_put(table, whole ? page->doubt : NULL, DREGS_TALLY_RANGE_DRAINED,
                             drain->count, drain->oxygen_concentration, MG_PER_L);
        dregs_table_flag(table, drain->least);
        dregs_table_number(table, drain->ph_low);
        dregs_table_number(table, drain->ph_high);
        dregs_table_word(table, class_of(drain));
        dregs_table_end_row(table);
    }
    put_contents(page);
    table = dregs_report_table(page->report, "drain_information_needed", DREGS_IN_JSON);
    dregs_page_word_column(table, "asked");
    for (i = 0; (asked = dregs_tally_result_drain_asked(page->answer, i)) != NULL; i++) {
        dregs_table_word(table, asked);
        dregs_table_end_row(table);
    }
}
