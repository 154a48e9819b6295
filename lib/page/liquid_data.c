/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid_data.c: what is known of a liquid, for programs. CSV has one value in a row, regulations
 * behind them; JSON has of each figure also its range, its equation and why a value is missing.
 */
#include "page/liquid.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DEGC_AT 273.15 /* K */

/* ---- figures ---- */

/* A table of figures: the columns of CSV, and what only JSON has behind them. */
static dregs_table *figure_table(dregs_report *report, const char *key, int where)
{
    dregs_table *table = dregs_report_table(report, key, where);

    dregs_table_column(table, DREGS_COLUMN_WORD, "liquid", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_VALUE, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "source", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "evidence", NULL, "", 0);
    if (!(where & DREGS_IN_JSON))
        return table;
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "valid_from", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "valid_to", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share_low", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "share_high", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "equation", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "note", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "reason", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "accuracy", NULL, "%", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "accuracy_kelvin", NULL, "K", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "accuracy_from", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "collection", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "extended", NULL, "", 0);
    return table;
}

/* The cells that CSV and JSON share. */
static void put_figure(dregs_table *table, const char *liquid, const dregs_liquid_figure *figure)
{
    dregs_table_word(table, liquid);
    dregs_table_word(table, figure->name);
    if (figure->word)
        dregs_table_word(table, figure->word);
    else
        dregs_table_number(table, figure->value);
    dregs_table_word(table, figure->unit);
    dregs_table_word(table, figure->source);
    dregs_table_word(table, figure->evidence);
}

static void put_range(dregs_table *table, const dregs_liquid_figure *figure)
{
    const dregs_mixture_row *mixture = figure->mixture;
    double low = figure->row ? figure->row->low : mixture ? mixture->low : NAN;
    double high = figure->row ? figure->row->high : mixture ? mixture->high : NAN;

    dregs_table_number(table, low - DEGC_AT);
    dregs_table_number(table, high - DEGC_AT);
    dregs_table_number(table, mixture && mixture->points ? mixture->share_low * 100 : NAN);
    dregs_table_number(table, mixture && mixture->points ? mixture->share_high * 100 : NAN);
}

/* How well it is known: a share in %, or K; where it was read; how it was come by. */
static void put_accuracy(dregs_table *table, const dregs_liquid_figure *figure)
{
    const dregs_liquid_row *row = figure->row;
    int kelvin = row && strcmp(dregs_property_unit(row->property), "K") == 0;
    double accuracy = isnan(figure->accuracy) && row ? row->accuracy : figure->accuracy;

    dregs_table_number(table, kelvin ? NAN : accuracy * 100);
    dregs_table_number(table, kelvin ? accuracy : NAN);
    dregs_table_word(table, row ? row->accuracy_from : NULL);
    dregs_table_word(table, row && *row->collection ? row->collection : NULL);
    dregs_table_word(table, *figure->extended ? figure->extended : NULL);
}

static void put_figures(dregs_table *table, const char *liquid, const dregs_liquid_result *result,
                        int where)
{
    const dregs_liquid_figure *figure;
    size_t i;

    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++) {
        put_figure(table, liquid, figure);
        if (where & DREGS_IN_JSON) {
            put_range(table, figure);
            dregs_table_word(table, dregs_page_equation(figure));
            dregs_table_word(table, *figure->note ? figure->note : NULL);
            dregs_table_word(table, *figure->reason ? figure->reason : NULL);
            put_accuracy(table, figure);
        }
        dregs_table_end_row(table);
    }
}

/* ---- coefficients ---- */

static void put_coefficient(dregs_table *table, const char *property, const char *equation,
                            const char *unit, const char *name, double value)
{
    dregs_table_word(table, property);
    dregs_table_word(table, equation);
    dregs_table_word(table, unit);
    dregs_table_word(table, name);
    dregs_table_number(table, value);
    dregs_table_end_row(table);
}

static void put_row(dregs_table *table, const char *property, const dregs_liquid_row *row)
{
    const char *letter = dregs_equation_letters(row->equation);

    for (; !row->word && letter && *letter; letter++) {
        char name[2] = {*letter, '\0'};
        put_coefficient(table, property, row->equation, row->unit, name,
                        row->coefficient[*letter - 'A']);
    }
}

static void put_model(dregs_table *table, const dregs_mixture_row *model)
{
    static const char *const nrtl[] = {"g12 - g22, J/mol", "g21 - g11, J/mol", "alpha"};
    static const char *const van_laar[] = {"A12", "A21"};
    int i, count = dregs_page_model_coefficients(model);

    for (i = 0; i < count; i++)
        put_coefficient(table, model->name, model->model, "1", count == 3 ? nrtl[i] : van_laar[i],
                        model->coefficient[i]);
}

/* Of each row once, and of the model that several figures rest on. */
static void put_coefficients(dregs_report *report, const dregs_liquid_result *result)
{
    dregs_table *table = dregs_report_table(report, "coefficients", DREGS_IN_JSON);
    const dregs_mixture_row *last = NULL;
    const dregs_liquid_figure *figure;
    size_t i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "equation", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "coefficient", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++) {
        if (figure->row)
            put_row(table, figure->name, figure->row);
        else if (figure->mixture && figure->mixture != last && !figure->mixture->points)
            put_model(table, figure->mixture);
        last = figure->mixture;
    }
}

/* ---- regulations ---- */

/* In CSV a regulation is a row like a figure: the fact is the value. */
static void put_regulation_rows(dregs_table *table, const dregs_liquid_result *result)
{
    const dregs_regulation *one;
    size_t i;

    for (i = 0; (one = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        char source[400];
        snprintf(source, sizeof source, "%s: %s (%s)", one->jurisdiction, one->citation,
                 one->status_date);
        dregs_table_word(table, one->liquid);
        dregs_table_word(table, "regulation");
        dregs_table_word(table, one->fact);
        dregs_table_word(table, NULL);
        dregs_table_word(table, source);
        dregs_table_word(table, one->evidence);
        dregs_table_end_row(table);
    }
}

static void put_regulations(dregs_report *report, const dregs_liquid_result *result)
{
    static const char *const columns[] = {"liquid",      "jurisdiction", "fact", "citation",
                                          "status_date", "evidence",     "code"};
    dregs_table *table = dregs_report_table(report, "regulations", DREGS_IN_JSON);
    const dregs_regulation *one;
    size_t i;

    for (i = 0; i < sizeof columns / sizeof columns[0]; i++)
        dregs_table_column(table, DREGS_COLUMN_WORD, columns[i], NULL, "", 0);
    for (i = 0; (one = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        dregs_table_word(table, one->liquid);
        dregs_table_word(table, one->jurisdiction);
        dregs_table_word(table, one->fact);
        dregs_table_word(table, one->citation);
        dregs_table_word(table, one->status_date);
        dregs_table_word(table, one->evidence);
        dregs_table_word(table, *one->code ? one->code : NULL);
        dregs_table_end_row(table);
    }
}

static void put_missing(dregs_report *report, const dregs_liquid_result *result)
{
    dregs_table *table = dregs_report_table(report, "missing", DREGS_IN_JSON);
    const char *name;
    size_t i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "property", NULL, "", 0);
    for (i = 0; (name = dregs_liquid_result_missing(result, i)) != NULL; i++) {
        dregs_table_word(table, name);
        dregs_table_end_row(table);
    }
}

/* ---- one liquid ---- */

static void put_request(dregs_report *report, const dregs_liquid_request *request,
                        const dregs_liquid_result *result)
{
    dregs_report_word(report, "liquid", result->name);
    dregs_report_word(report, "first_liquid", result->first);
    dregs_report_word(report, "second_liquid", result->second);
    dregs_report_figure(report, "temperature",
                        dregs_quantity_of(request->temperature - DEGC_AT, "degC"));
    dregs_report_figure(report, "share", dregs_quantity_of(request->share * 100, "%"));
    dregs_report_word(report, "regulations_decided_by", dregs_regulations_deference());
}

void dregs_page_liquid_data(dregs_report *report, const dregs_liquid_request *request,
                            const dregs_liquid_result *result)
{
    dregs_table *rows = figure_table(report, "rows", DREGS_IN_CSV);

    put_figures(rows, result->name, result, DREGS_IN_CSV);
    put_regulation_rows(rows, result);
    put_request(report, request, result);
    put_figures(figure_table(report, "properties", DREGS_IN_JSON), result->name, result,
                DREGS_IN_JSON);
    put_coefficients(report, result);
    put_missing(report, result);
    put_regulations(report, result);
}

/* ---- all liquids ---- */

static dregs_status fill_all(const dregs_liquids *liquids, dregs_table *table, int where)
{
    char message[DREGS_LIQUID_MESSAGE];
    dregs_status status = DREGS_OK;
    dregs_liquid_request request;
    size_t i;

    dregs_liquid_request_init(&request);
    for (i = 0; !status && (request.name = dregs_liquids_name(liquids, i)) != NULL; i++) {
        dregs_liquid_result *result = NULL;
        status = dregs_liquid_answer(&request, liquids, &result, message);
        if (!status)
            put_figures(table, request.name, result, where);
        dregs_liquid_result_free(result);
    }
    return status;
}

static dregs_status fill_csv(void *user, dregs_table *table)
{
    return fill_all(user, table, DREGS_IN_CSV);
}

static dregs_status fill_json(void *user, dregs_table *table)
{
    return fill_all(user, table, DREGS_IN_JSON);
}

void dregs_page_liquids_data(dregs_report *report, const dregs_liquids *liquids)
{
    dregs_table_filled_by(figure_table(report, "rows", DREGS_IN_CSV), fill_csv, (void *)liquids);
    dregs_table_filled_by(figure_table(report, "properties", DREGS_IN_JSON), fill_json,
                          (void *)liquids);
}
