/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_energy.c: the energy that heats baths and dry stages, for people and for programs. */
#include "page/tally.h"

#include <math.h>

#define KWH (1 / 3.6e6) /* J */

static const char *name_of(const dregs_line *line, const dregs_tally_energy *energy)
{
    return energy->stage == DREGS_WHOLE ? "all together"
                                        : dregs_line_stage(line, energy->stage)->name;
}

/* ---- for people ---- */

static void put_row(dregs_table *table, const dregs_line *line, const dregs_tally_energy *e,
                    int sound)
{
    dregs_table_word(table, name_of(line, e));
    dregs_table_number(table, e->liquid * KWH);
    dregs_table_number(table, e->evaporation * KWH);
    dregs_table_number(table, e->walls * KWH);
    dregs_table_number(table, e->parts * KWH);
    dregs_table_number(table, e->air * KWH);
    if (sound)
        dregs_table_number(table, e->ultrasound * KWH);
    dregs_table_number(table, e->taken * KWH);
    dregs_table_number(table, e->carbon);
    dregs_table_end_row(table);
}

static void say_sum(struct tally_page *page, const dregs_tally_energy *sum)
{
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_gap(page->report);
    dregs_report_words(
        page->report, "heating takes %s%s kWh%s", sum->least ? "at least " : "",
        dregs_page_number(&n, sum->taken * KWH),
        dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_ENERGY, 0, KWH, range));
    if (isnan(sum->carbon))
        dregs_report_words(page->report, "; its CO2 is not known, see what is asked for");
    else
        dregs_report_words(
            page->report, " and gives off %s%s of CO2%s, by the factors that are stated",
            sum->least ? "at least " : "", dregs_page_amount(page->report, &n, sum->carbon, "kg"),
            dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_ENERGY, 1,
                                     dregs_page_per(page->report, sum->carbon, "kg"), range));
    dregs_report_end(page->report, 0, 2);
    if (!(sum->ultrasound > 0))
        return;
    dregs_report_words(
        page->report, "ultrasound takes %s kWh%s of electricity",
        dregs_page_number(&n, sum->ultrasound * KWH),
        dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_ENERGY, 2, KWH, range));
    if (isnan(sum->ultrasound_carbon))
        dregs_report_words(page->report, "; its CO2 is not known, see what is asked for");
    else
        dregs_report_words(
            page->report, " and gives off %s of CO2%s, by the factors that are stated",
            dregs_page_amount(page->report, &n, sum->ultrasound_carbon, "kg"),
            dregs_page_tally_between(page->doubt, DREGS_TALLY_RANGE_ENERGY, 3,
                                     dregs_page_per(page->report, sum->ultrasound_carbon, "kg"),
                                     range));
    dregs_report_words(page->report, "; it warms the baths, and their heaters give so much less");
    dregs_report_end(page->report, 0, 2);
}

static void say_list(dregs_report *report, const dregs_tally_result *answer, const char *title,
                     const char *text(const dregs_tally_result *, unsigned))
{
    unsigned i;

    for (i = 0; text(answer, i); i++) {
        if (!i)
            dregs_report_heading(report, "%s", title);
        dregs_report_text(report, 2, 4, "%s", text(answer, i));
    }
}

void dregs_page_tally_energy(struct tally_page *page)
{
    static const char *const keys[] = {"liquid", "evaporation", "walls", "parts", "air", "taken"};
    static const char *const heads[] = {"liquid", "vapour", "walls", "parts", "air", "taken"};
    const dregs_tally_energy *e, *sum = dregs_tally_result_energy(page->answer, 0);
    int sound = sum && sum->ultrasound > 0;
    dregs_table *table;
    unsigned i;

    if (!sum) {
        dregs_report_text(page->report, 0, 2,
                          "no stage is warmer than the room: nothing is heated");
        return;
    }
    say_sum(page, sum);
    dregs_report_gap(page->report);
    table = dregs_report_table(page->report, "energy_by_stage", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "", "", 14);
    for (i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (sound && i + 1 == sizeof keys / sizeof keys[0])
            dregs_table_column(table, DREGS_COLUMN_NUMBER, "ultrasound", "ultrasound", "kWh", -11);
        dregs_table_column(table, DREGS_COLUMN_NUMBER, keys[i], heads[i], "kWh", -10);
    }
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "carbon", "CO2", "kg", -10);
    for (i = 1; (e = dregs_tally_result_energy(page->answer, i)) != NULL; i++)
        put_row(table, page->one->line, e, sound);
    if (i > 2)
        put_row(table, page->one->line, sum, sound);
    say_list(page->report, page->answer, "asked for, for the energy",
             dregs_tally_result_energy_asked);
    say_list(page->report, page->answer, "assumed, for the energy",
             dregs_tally_result_energy_assumed);
}

/* ---- for programs ---- */

static void put_list(dregs_report *report, const dregs_tally_result *answer, const char *key,
                     const char *text(const dregs_tally_result *, unsigned))
{
    dregs_table *table = dregs_report_table(report, key, DREGS_IN_JSON);
    unsigned i;

    dregs_page_word_column(table, "text");
    for (i = 0; text(answer, i); i++) {
        dregs_table_word(table, text(answer, i));
        dregs_table_end_row(table);
    }
}

void dregs_page_tally_put_energy(struct tally_page *page)
{
    static const char *const keys[] = {"liquid", "evaporation", "walls", "parts", "air", "heat"};
    const dregs_tally_energy *e;
    dregs_table *table;
    unsigned i;

    if (dregs_tally_result_line(page->answer, 1))
        return;
    table = dregs_report_table(page->report, "energy", DREGS_IN_JSON | DREGS_IN_FORM);
    dregs_page_word_column(table, "stage");
    for (i = 0; i < sizeof keys / sizeof keys[0]; i++)
        dregs_page_number_column(table, keys[i], "kWh");
    dregs_page_number_column(table, "taken", "kWh");
    dregs_page_number_column(table, "co2", "kg");
    dregs_page_flag_column(table, "at_least");
    dregs_page_number_column(table, "ultrasound", "kWh");
    dregs_page_number_column(table, "ultrasound_co2", "kg");
    for (i = 0; (e = dregs_tally_result_energy(page->answer, i)) != NULL; i++) {
        const dregs_tally_doubt *doubt = i ? NULL : page->doubt;
        dregs_table_word(table, i ? name_of(page->one->line, e) : NULL);
        dregs_table_number(table, e->liquid * KWH);
        dregs_table_number(table, e->evaporation * KWH);
        dregs_table_number(table, e->walls * KWH);
        dregs_table_number(table, e->parts * KWH);
        dregs_table_number(table, e->air * KWH);
        dregs_table_number(table, e->heat * KWH);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_ENERGY, 0, e->taken, KWH);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_ENERGY, 1, e->carbon, 1);
        dregs_table_flag(table, e->least);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_ENERGY, 2, e->ultrasound, KWH);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_ENERGY, 3, e->ultrasound_carbon, 1);
        dregs_table_end_row(table);
    }
    put_list(page->report, page->answer, "energy_information_needed",
             dregs_tally_result_energy_asked);
    put_list(page->report, page->answer, "energy_assumed", dregs_tally_result_energy_assumed);
}
