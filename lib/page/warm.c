/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* warm.c: the working of a tank that ultrasonic power warms. */
#include "page/inside.h"

#include <math.h>

#define CELSIUS(kelvin) ((kelvin)-273.15)

/* One of the facts that the caution rests on. */
static void say_fact(dregs_report *report, const char *name, double value, const char *unit)
{
    struct numbers n = {0};

    if (isinf(value))
        dregs_report_line(report, 4, "%s: never", name);
    else if (!isnan(value))
        dregs_report_line(report, 4, "%s = %s %s", name, dregs_page_six(&n, value), unit);
}

void dregs_page_warming(dregs_report *report, const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    dregs_facts facts;

    if (!stage->ultrasonic_power.row)
        return;
    dregs_facts_of_stage(&facts, line, index);
    dregs_report_line(report, 4,
                      "warming: C dT/dt = P - U A (T - T_room) - evaporation L%s, C = V rho c",
                      stage->water_bath.row ? ", in a water bath that takes P" : "");
    dregs_page_given(report, line, "ultrasonic power P", stage->ultrasonic_power.si, "W",
                     stage->ultrasonic_power.row, "");
    dregs_page_given(report, line, "wall loss U A", dregs_line_wall_loss(stage), "W/K",
                     stage->wall_loss.row, "assumed: 8 W/(m2 K) over a cube of the volume");
    if (stage->water_bath.row) {
        dregs_page_given(report, line, "water bath", stage->water_bath.si * LITRES, "L",
                         stage->water_bath.row, "");
        dregs_page_given(report, line, "bath coupling", dregs_line_bath_coupling(stage), "W/K",
                         stage->bath_coupling.row,
                         "assumed: 150 W/(m2 K) into a cylinder as high as wide");
    }
    say_fact(report, "flash point", CELSIUS(facts.value[DREGS_FACT_FLASH_POINT]), "degC");
    say_fact(report, "from its temperature to 16.67 K below it", facts.value[DREGS_FACT_WARMS_IN],
             "s");
    say_fact(report, "settles at", CELSIUS(facts.value[DREGS_FACT_SETTLES]), "degC");
    say_fact(report, "switched off, it cools from", CELSIUS(facts.value[DREGS_FACT_COOLS_FROM]),
             "degC");
    say_fact(report, "to", CELSIUS(facts.value[DREGS_FACT_COOLS_TO]), "degC");
    say_fact(report, "in", facts.value[DREGS_FACT_COOLS_IN], "s");
}

static void put_warming(dregs_table *table, const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    dregs_facts facts;
    double in;

    dregs_facts_of_stage(&facts, line, index);
    in = facts.value[DREGS_FACT_WARMS_IN];
    dregs_table_word(table, stage->name);
    dregs_table_number(table, stage->ultrasonic_power.si);
    dregs_table_number(table, dregs_line_wall_loss(stage));
    dregs_table_number(table, stage->water_bath.row ? stage->water_bath.si * LITRES : (double)NAN);
    dregs_table_number(table,
                       stage->water_bath.row ? dregs_line_bath_coupling(stage) : (double)NAN);
    dregs_table_number(table, CELSIUS(facts.value[DREGS_FACT_FLASH_POINT]));
    dregs_table_number(table, isfinite(in) ? in / 60 : (double)NAN);
    dregs_table_flag(table, isinf(in));
    dregs_table_number(table, CELSIUS(facts.value[DREGS_FACT_SETTLES]));
    dregs_table_number(table, CELSIUS(facts.value[DREGS_FACT_COOLS_FROM]));
    dregs_table_number(table, CELSIUS(facts.value[DREGS_FACT_COOLS_TO]));
    dregs_table_number(table, facts.value[DREGS_FACT_COOLS_IN] / 60);
    dregs_table_end_row(table);
}

void dregs_page_warming_data(dregs_report *report, const dregs_line *line)
{
    static const struct {
        const char *key, *unit;
    } columns[] = {{"power", "W"},           {"wall_loss", "W/K"},    {"water_bath", "L"},
                   {"bath_coupling", "W/K"}, {"flash_point", "degC"}, {"warms_in", "min"},
                   {"stays_below", NULL},    {"settles", "degC"},     {"cools_from", "degC"},
                   {"cools_to", "degC"},     {"cools_in", "min"}};
    dregs_table *table = NULL;
    unsigned i;
    size_t k;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (!stage->ultrasonic_power.row || stage->shares.row)
            continue;
        if (!table) {
            table = dregs_report_table(report, "warming", DREGS_IN_JSON);
            dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
            for (k = 0; k < sizeof columns / sizeof columns[0]; k++)
                dregs_table_column(table, columns[k].unit ? DREGS_COLUMN_NUMBER : DREGS_COLUMN_FLAG,
                                   columns[k].key, NULL, columns[k].unit ? columns[k].unit : "", 0);
        }
        put_warming(table, line, i);
    }
}
