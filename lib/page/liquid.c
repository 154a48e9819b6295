/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.c: the page of a liquid or mixture, and the list of what is known. */
#include "page/liquid.h"
#include "base/grow.h"

#include "dregs/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NAME_WIDTH = 38, VALUE_WIDTH = 12, UNIT_WIDTH = 10 };

/* ---- what a figure rests on ---- */

const char *dregs_page_equation(const dregs_liquid_figure *figure)
{
    if (figure->row)
        return figure->row->word ? NULL : figure->row->equation;
    if (!figure->mixture)
        return NULL;
    return figure->mixture->points ? "Steffen's method" : figure->mixture->model;
}

int dregs_page_model_coefficients(const dregs_mixture_row *model)
{
    return strcmp(model->model, "NRTL") == 0 ? 3 : 2;
}

static void add_place(dregs_report *report, const dregs_liquid_row *row)
{
    if (row->file)
        dregs_report_words(report, "(%s:%lu)", row->file, row->line);
    else
        dregs_report_words(report, "(line %lu of the built-in table)", row->line);
    dregs_report_end(report, 6, -1);
}

static void explain_row(dregs_report *report, const dregs_liquid_row *row)
{
    const char *letter = dregs_equation_letters(row->equation);
    char number[DREGS_NUMBER_TEXT];

    if (!row->word) {
        dregs_report_line(report, 6, "%s [%s]", row->equation, row->unit);
        for (; letter && *letter; letter++)
            dregs_report_words(report, " %c = %s", *letter,
                               dregs_number_exact(number, row->coefficient[*letter - 'A']));
        dregs_report_words(report, "   ");
    }
    add_place(report, row);
}

/* A model's coefficients, and where they were fitted. */
static void explain_model(dregs_report *report, const dregs_mixture_row *model)
{
    int i, count = dregs_page_model_coefficients(model);
    char number[DREGS_NUMBER_TEXT];

    dregs_report_words(report, "%s, fitted at %s degC:", model->model,
                       dregs_number_plain(number, model->fitted_at - 273.15, 4));
    for (i = 0; i < count; i++)
        dregs_report_words(report, " %s", dregs_number_exact(number, model->coefficient[i]));
    dregs_report_line(report, 6,
                      count == 3 ? " (g12 - g22 and g21 - g11 in J/mol, alpha)"
                                 : " (A12, A21, natural logarithms)");
}

/* The models of a pair, all of them: between their temperatures the logarithms of the activity
 * coefficients go straight over 1/T. */
static void explain_mixture(dregs_report *report, const dregs_mixture_row *mixture)
{
    const dregs_mixture_row *row;
    dregs_mixtures *mixtures;
    size_t i, models = 0;

    if (mixture->points) {
        dregs_report_line(report, 6,
                          "%zu points, interpolated by Steffen's method in the mass share of %s",
                          mixture->points, mixture->first);
        return;
    }
    mixtures = dregs_mixtures_new();
    for (i = 0; mixtures && (row = dregs_mixtures_row(mixtures, i)) != NULL; i++)
        if (!row->points && strcmp(row->pair, mixture->pair) == 0) {
            explain_model(report, row);
            models++;
        }
    dregs_mixtures_free(mixtures);
    if (!models)
        explain_model(report, mixture);
    if (models > 1)
        dregs_report_text(report, 6, 6,
                          "ln gamma goes straight over 1/T from one to the other and on below; "
                          "above the warmer one that one counts");
}

/* ---- a figure ---- */

/* Blanks that fill a text up to a width. */
static int pad(const char *text, int width)
{
    int blanks = width - dregs_page_columns(text);

    return blanks > 0 ? blanks : 0;
}

/* "  -8.15 to 99.85 degC", nothing where there is no range. */
static void add_temperatures(dregs_report *report, double low, double high)
{
    char number[DREGS_NUMBER_TEXT];

    if (isnan(low))
        return;
    dregs_report_words(report, "  %s", dregs_number_plain(number, low - 273.15, 5));
    if (low < high)
        dregs_report_words(report, " to %s", dregs_number_plain(number, high - 273.15, 5));
    dregs_report_words(report, " degC");
}

static void add_range(dregs_report *report, const dregs_liquid_figure *figure)
{
    const dregs_mixture_row *mixture = figure->mixture;
    const char *unit = strcmp(figure->unit, "1") == 0 ? "" : figure->unit;
    int ranged = mixture || (figure->row && !isnan(figure->row->low));
    struct numbers n = {0};

    dregs_report_words(report, " %s%*s", unit, ranged ? pad(unit, UNIT_WIDTH) : 0, "");
    if (figure->row)
        add_temperatures(report, figure->row->low, figure->row->high);
    if (mixture && mixture->points)
        dregs_report_words(report, "  %s to %s %% by mass",
                           dregs_page_number(&n, mixture->share_low * 100),
                           dregs_page_number(&n, mixture->share_high * 100));
    else if (mixture)
        add_temperatures(report, mixture->low, mixture->high);
}

static void put_value(dregs_report *report, const dregs_liquid_figure *figure)
{
    char number[DREGS_NUMBER_TEXT];
    const char *value = figure->word           ? figure->word
                        : isnan(figure->value) ? "-"
                                               : dregs_number_plain(number, figure->value, 5);

    dregs_report_words(report, "%s%*s%*s%s", figure->name, pad(figure->name, NAME_WIDTH), "",
                       pad(value, VALUE_WIDTH), "", value);
    if (!figure->word)
        add_range(report, figure);
    dregs_report_end(report, 2, -1);
}

/* Where it is from, how well it is known, and where it was read. */
static void put_source(dregs_report *report, const dregs_liquid_figure *figure)
{
    const dregs_liquid_row *row = figure->row;
    int kelvin = row && strcmp(dregs_property_unit(row->property), "K") == 0;
    double accuracy = isnan(figure->accuracy) && row ? row->accuracy : figure->accuracy;
    char number[DREGS_NUMBER_TEXT], within[DREGS_NUMBER_TEXT + 32] = "";

    if (row && row->accuracy_from && accuracy > 0)
        snprintf(within, sizeof within, "; within %s %s (%s)",
                 dregs_number_plain(number, kelvin ? accuracy : 100 * accuracy, 2),
                 kelvin ? "K" : "%", row->accuracy_from);
    dregs_report_text(report, 6, 6, "%s (%s)%s", figure->source, figure->evidence, within);
    if (row && *row->collection)
        dregs_report_text(report, 6, 6, "read in %s", row->collection);
}

static void put_figure(dregs_report *report, const dregs_liquid_request *request,
                       const dregs_liquid_figure *figure, int explain)
{
    /* no temperature is no refusal: the equation stands in the place of the value */
    int without = figure->row && isnan(request->temperature) && !isnan(figure->row->low);

    put_value(report, figure);
    if (without && !explain)
        dregs_report_line(report, 6, "%s [%s]", figure->row->equation, figure->row->unit);
    else if (!without && *figure->reason)
        dregs_report_text(report, 6, 6, "refused: %s", figure->reason);
    if (explain && figure->row)
        explain_row(report, figure->row);
    else if (explain && figure->mixture)
        explain_mixture(report, figure->mixture);
    if (*figure->extended)
        dregs_report_text(report, 6, 6, "assumed: %s", figure->extended);
    put_source(report, figure);
    if (*figure->note)
        dregs_report_text(report, 6, 6, "note: %s", figure->note);
}

/* ---- what else is said of a liquid ---- */

static void put_missing(dregs_report *report, const dregs_liquid_result *result)
{
    const char *name;
    size_t i;

    for (i = 0; (name = dregs_liquid_result_missing(result, i)) != NULL; i++)
        dregs_report_words(report, "%s %s", i ? "," : "not in the table:", name);
    if (i)
        dregs_report_end(report, 2, 4);
}

static void put_regulations(dregs_report *report, const char *name,
                            const dregs_liquid_result *result)
{
    const dregs_regulation *one;
    size_t i;

    dregs_report_heading(report, "regulations");
    for (i = 0; (one = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        if (result->second)
            dregs_report_words(report, "%s, ", one->liquid);
        dregs_report_text(report, 2, 4, "%s: %s", one->jurisdiction, one->fact);
        dregs_report_text(report, 6, 6, "%s, %s (%s)", one->citation, one->status_date,
                          one->evidence);
    }
    if (i == 0)
        dregs_report_line(
            report, 2, "none is recorded here for %s; that does not mean that there is none", name);
    dregs_report_text(report, 2, 4, "%s", dregs_regulations_deference());
}

static void put_cautions(dregs_report *report, const dregs_liquid_result *result)
{
    const dregs_caution *caution;
    size_t i;

    for (i = 0; (caution = dregs_liquid_result_caution(result, i)) != NULL; i++) {
        const dregs_caution_rule *rule = caution->rule;
        dregs_report_caution(report, rule->id, caution->text, caution->source, rule->condition,
                             rule->threshold, rule->unit);
        dregs_report_caution_severity(report, dregs_severity_name(rule->severity));
    }
    dregs_report_decided_by(report, dregs_caution_deference());
    dregs_report_show(report, DREGS_LIST_CAUTIONS, "cautions");
}

static void put_title(dregs_report *report, const dregs_liquid_request *request,
                      const dregs_liquid_result *result)
{
    struct numbers n = {0};

    dregs_report_words(report, "%s", result->name);
    if (strcmp(request->name, result->name) != 0)
        dregs_report_words(report, " (%s)", request->name);
    if (!isnan(request->share))
        dregs_report_words(report, ", %s %% %s by mass", dregs_page_six(&n, request->share * 100),
                           result->first);
    if (!isnan(request->temperature))
        dregs_report_words(report, ", %s degC", dregs_page_six(&n, request->temperature - 273.15));
    dregs_report_end(report, 0, -1);
}

dregs_status dregs_page_liquid(const dregs_liquid_request *request,
                               const dregs_liquid_result *result, int explain,
                               dregs_report **report)
{
    dregs_liquid_request asked;
    dregs_report *made;
    const dregs_liquid_figure *figure;
    size_t i;

    dregs_liquid_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    request = &asked;
    made = dregs_report_new("liquid", NULL);
    if (!made)
        return DREGS_NO_MEMORY;
    put_title(made, request, result);
    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++)
        put_figure(made, request, figure, explain);
    put_missing(made, result);
    put_regulations(made, result->name, result);
    put_cautions(made, result);
    dregs_page_liquid_data(made, request, result);
    dregs_page_liquid_pictures(made, request, result);
    return dregs_page_end(made, report);
}

/* ---- the list ---- */

static void put_names(dregs_table *table, const dregs_liquids *liquids, const char *name)
{
    const dregs_liquid_row *cas = dregs_liquids_row(liquids, name, DREGS_CAS_NUMBER);
    const dregs_liquid_row *others = dregs_liquids_row(liquids, name, DREGS_OTHER_NAMES);

    dregs_table_word(table, cas ? cas->word : NULL);
    dregs_table_word(table, others ? others->word : NULL);
}

/* The constants that the list shows of a liquid. */
static dregs_status put_known(dregs_table *table, const dregs_liquids *liquids, const char *name)
{
    static const dregs_property shown[] = {DREGS_BOILING_POINT, DREGS_FLASH_POINT,
                                           DREGS_EXPOSURE_LIMIT};
    dregs_liquid_request request;
    char message[DREGS_LIQUID_MESSAGE];
    dregs_liquid_result *result = NULL;
    const dregs_liquid_figure *figure;
    dregs_status status;
    size_t i, f;

    dregs_liquid_request_init(&request);
    request.name = name;
    request.temperature = DREGS_ROOM;
    status = dregs_liquid_answer(&request, liquids, &result, message);
    if (status)
        return status;
    dregs_table_word(table, name);
    for (i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        for (f = 0; (figure = dregs_liquid_result_figure(result, f)) != NULL; f++)
            if (strcmp(figure->name, dregs_property_name(shown[i])) == 0)
                break;
        dregs_table_number(table, figure ? figure->value : NAN);
    }
    put_names(table, liquids, name);
    dregs_table_end_row(table);
    dregs_liquid_result_free(result);
    return DREGS_OK;
}

static dregs_status put_liquids(dregs_report *report, const dregs_liquids *liquids)
{
    dregs_status status = DREGS_OK;
    dregs_table *table;
    const char *name;
    size_t i;

    dregs_report_line(report, 0, "liquids%25s%12s%12s%12s%14s  %s", "", "boils", "flashes",
                      "limit, 8 h", "CAS number", "also called");
    dregs_report_line(report, 0, "%32s%12s%12s%12s", "", "degC", "degC", "ppm");
    table = dregs_report_table(report, "liquids", DREGS_IN_TEXT | DREGS_IN_JSON);
    dregs_table_headless(table); /* the heads stand over the indented names */
    dregs_table_indent(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "liquid", "liquids", "", 30);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "boiling_point", "boils", "degC", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "flash_point", "flashes", "degC", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "exposure_limit", "limit, 8 h", "ppm", -12);
    dregs_table_column(table, DREGS_COLUMN_WORD, "cas_number", "CAS number", "", -14);
    dregs_table_column(table, DREGS_COLUMN_WORD, "other_names", "also called", "", 0);
    dregs_table_gap(table, 2);
    for (i = 0; !status && (name = dregs_liquids_name(liquids, i)) != NULL; i++)
        status = put_known(table, liquids, name);
    return status;
}

static dregs_status put_mixtures(dregs_report *report)
{
    dregs_mixtures *mixtures = dregs_mixtures_new();
    const dregs_mixture_row *row;
    const char *last = "";
    dregs_table *table;
    size_t i;

    if (!mixtures)
        return DREGS_NO_MEMORY;
    dregs_report_line(report, 0, "mixtures");
    table = dregs_report_table(report, "mixtures", DREGS_IN_TEXT | DREGS_IN_JSON);
    dregs_table_headless(table);
    dregs_table_indent(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "mixture", "mixtures", "", 0);
    for (i = 0; (row = dregs_mixtures_row(mixtures, i)) != NULL; i++)
        if (strcmp(last, row->pair) != 0) { /* rows of a pair follow each other */
            last = row->pair;
            dregs_table_word(table, last);
            dregs_table_end_row(table);
        }
    dregs_mixtures_free(mixtures);
    return DREGS_OK;
}

dregs_status dregs_page_liquids(const dregs_liquids *liquids, dregs_report **report)
{
    dregs_report *made = dregs_report_new("liquid", NULL);
    dregs_status status = made ? put_liquids(made, liquids) : DREGS_NO_MEMORY;

    if (!status)
        status = put_mixtures(made);
    if (status) {
        dregs_report_free(made);
        return status;
    }
    dregs_report_line(made, 0, "A dash says that the table has no value, not that there is none.");
    dregs_page_liquids_data(made, liquids);
    return dregs_page_end(made, report);
}
