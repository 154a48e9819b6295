/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid_pictures.c: the vapour pressure of a liquid against temperature, with the vapour pressures
 * at which its vapour can burn. */
#include "page/liquid.h"

#include <math.h>
#include <stdio.h>

enum { POINTS = 61, WORDS = 160 };

#define KPA           1e-3    /* Pa */
#define DEGC_AT       273.15  /* K */
#define ATMOSPHERE_PA 101325. /* at which the flammable limits are shares of the air */

struct curves {
    const dregs_liquids *liquids;
    const char *name[2]; /* the second NULL for a pure liquid */
};

struct filling {
    dregs_table *table;
    const char *name;
};

static void take_point(void *user, double kelvin, double pascal)
{
    const struct filling *f = user;

    dregs_table_word(f->table, f->name);
    dregs_table_number(f->table, kelvin - DEGC_AT);
    dregs_table_number(f->table, pascal * KPA);
    dregs_table_end_row(f->table);
}

static dregs_status fill_curves(void *user, dregs_table *table)
{
    const struct curves *curves = user;
    int i;

    for (i = 0; i < 2 && curves->name[i]; i++) {
        struct filling f = {table, curves->name[i]};
        (void)dregs_liquid_curve(curves->liquids, curves->name[i], POINTS, take_point, &f);
    }
    return DREGS_OK;
}

static int constant(const struct curves *c, int i, dregs_property property, double *value)
{
    return dregs_liquids_value(c->liquids, c->name[i], property, 293.15, value, NULL) == DREGS_OK;
}

/* What is known of the fire, of the one liquid that a page is about. */
static void mark_fire(const struct curves *c, dregs_chart *chart)
{
    char words[WORDS], number[DREGS_NUMBER_TEXT];
    double value, at;

    if (constant(c, 0, DREGS_LOWER_LIMIT, &value)) {
        snprintf(words, sizeof words, "lower flammable limit, %s %% by volume:",
                 dregs_number_plain(number, value * 100, 3));
        dregs_chart_limit(chart, words, value * ATMOSPHERE_PA * KPA);
    }
    if (constant(c, 0, DREGS_UPPER_LIMIT, &value)) {
        snprintf(words, sizeof words, "upper flammable limit, %s %% by volume:",
                 dregs_number_plain(number, value * 100, 3));
        dregs_chart_limit(chart, words, value * ATMOSPHERE_PA * KPA);
    }
    if (constant(c, 0, DREGS_FLASH_POINT, &at)) {
        snprintf(words, sizeof words, "flash point %s degC",
                 dregs_number_plain(number, at - DEGC_AT, 4));
        dregs_chart_event(chart, words, at - DEGC_AT);
    }
}

static void mark_asked(const struct curves *c, const dregs_liquid_request *request,
                       dregs_chart *chart)
{
    char words[WORDS], number[DREGS_NUMBER_TEXT];
    double value;

    if (isnan(request->temperature) ||
        dregs_liquids_value(c->liquids, c->name[0], DREGS_VAPOUR_PRESSURE, request->temperature,
                            &value, NULL))
        return;
    snprintf(words, sizeof words, "%s kPa", dregs_number_plain(number, value * KPA, 4));
    dregs_chart_marker(chart, words, request->temperature - DEGC_AT, value * KPA);
}

void dregs_page_liquid_pictures(dregs_report *report, const dregs_liquid_request *request,
                                const dregs_liquid_result *result)
{
    const struct curves curves = {dregs_liquid_result_liquids(result),
                                  {result->first, result->second}};
    dregs_chart *chart;
    dregs_table *table;
    int i, known = 0;

    for (i = 0; i < 2 && curves.name[i]; i++)
        known += dregs_liquids_row(curves.liquids, curves.name[i], DREGS_VAPOUR_PRESSURE) != NULL;
    if (!known)
        return;
    table = dregs_report_table(report, "vapour_pressure_curve", DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_WORD, "liquid", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "temperature", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "vapour_pressure", NULL, "kPa", 0);
    dregs_table_filled_by(table, fill_curves, dregs_report_lasting(report, &curves, sizeof curves));
    chart = dregs_report_chart(report, "vapour_pressure", "Vapour pressure against temperature");
    dregs_chart_shown(chart, DREGS_IN_PICTURE);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "temperature", "degC", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "vapour pressure", "kPa", 1);
    for (i = 0; i < 2 && curves.name[i]; i++) {
        dregs_chart_series(chart, curves.name[i], DREGS_MARK_LINE, "vapour_pressure_curve",
                           "temperature", "vapour_pressure");
        dregs_chart_where(chart, "liquid", curves.name[i]);
    }
    if (result->second) {
        dregs_chart_note(chart, "Each liquid by itself; the mixture's own is in the numbers.");
        return;
    }
    mark_fire(&curves, chart);
    mark_asked(&curves, request, chart);
    if (constant(&curves, 0, DREGS_LOWER_LIMIT, &(double){0}))
        dregs_chart_note(chart, "Air that is saturated with the vapour can burn where the curve is "
                                "between the flammable limits, at 101.325 kPa; mist and draught "
                                "can bring it there at any temperature.");
}
