/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid_export.c: dregs-liquid's pages for programs: the same figures as CSV and as JSON. */
#include "json.h"
#include "liquid.h"
#include "page.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- CSV ---- */

/* A text that may be longer than csv_name takes; quoted, with quotes doubled. */
static void csv_text(const char *text)
{
    putchar('"');
    for (; *text; text++) {
        if (*text == '"')
            putchar('"');
        putchar(*text);
    }
    putchar('"');
}

static void csv_figures(const dregs_liquid_result *result, const char *liquid)
{
    const dregs_liquid_figure *figure;
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++) {
        csv_name(liquid);
        putchar(',');
        csv_name(figure->name);
        printf(",%s,%s,", figure->word ? figure->word : dregs_number_exact(number, figure->value),
               figure->unit);
        csv_text(figure->source);
        printf(",%s\n", figure->evidence);
    }
}

static void csv_regulations(const dregs_liquid_result *result)
{
    const dregs_regulation *regulation;
    size_t i;

    for (i = 0; (regulation = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        char source[400];
        csv_name(regulation->liquid);
        printf(",regulation,");
        csv_text(regulation->fact);
        printf(",,");
        snprintf(source, sizeof source, "%s: %s (%s)", regulation->jurisdiction,
                 regulation->citation, regulation->status_date);
        csv_text(source);
        printf(",%s\n", regulation->evidence);
    }
}

static void csv_header(void)
{
    printf("liquid,property,value,unit,source,evidence\n");
}

int liquid_page_csv(const struct asked *asked, const dregs_liquid_result *result)
{
    csv_header();
    csv_figures(result, asked->request.name);
    csv_regulations(result);
    return FRONT_DONE;
}

int liquid_list_csv(const dregs_liquids *liquids)
{
    dregs_liquid_request request;
    dregs_liquid_result *result;
    size_t i;
    int status = FRONT_DONE;

    dregs_liquid_request_init(&request);
    csv_header();
    for (i = 0; !status && (request.name = dregs_liquids_name(liquids, i)) != NULL; i++) {
        result = NULL;
        status = liquid_ask(&request, liquids, &result);
        if (!status)
            csv_figures(result, request.name);
        dregs_liquid_result_free(result);
    }
    return status;
}

/* ---- JSON ---- */

struct place {
    int failed;
};

static void append(struct place *place, json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value))
        place->failed = 1;
}

static json_t *figure_object(struct place *place, const dregs_liquid_figure *figure)
{
    json_t *object = json_object();
    double low = figure->row ? figure->row->low : figure->mixture ? figure->mixture->low : NAN;
    double high = figure->row ? figure->row->high : figure->mixture ? figure->mixture->high : NAN;

    json_put(&place->failed, object, "property", json_string(figure->name));
    json_put(&place->failed, object, "value",
             figure->word ? json_string(figure->word) : json_number_or_null(figure->value));
    json_put(&place->failed, object, "unit", json_string(figure->unit));
    json_put(&place->failed, object, "source", json_string(figure->source));
    json_put(&place->failed, object, "evidence", json_string(figure->evidence));
    json_put(&place->failed, object, "low", json_number_or_null(low - 273.15));
    json_put(&place->failed, object, "high", json_number_or_null(high - 273.15));
    json_put(&place->failed, object, "note", json_string(figure->note));
    if (*figure->reason)
        json_put(&place->failed, object, "reason", json_string(figure->reason));
    return object;
}

static json_t *figure_list(struct place *place, const dregs_liquid_result *result)
{
    const dregs_liquid_figure *figure;
    json_t *list = json_array();
    size_t i;

    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++)
        append(place, list, figure_object(place, figure));
    return list;
}

static json_t *regulation_list(struct place *place, const dregs_liquid_result *result)
{
    const dregs_regulation *regulation;
    json_t *list = json_array();
    size_t i;

    for (i = 0; (regulation = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        json_t *object;
        object = json_object();
        json_put(&place->failed, object, "liquid", json_string(regulation->liquid));
        json_put(&place->failed, object, "jurisdiction", json_string(regulation->jurisdiction));
        json_put(&place->failed, object, "fact", json_string(regulation->fact));
        json_put(&place->failed, object, "citation", json_string(regulation->citation));
        json_put(&place->failed, object, "status date", json_string(regulation->status_date));
        json_put(&place->failed, object, "evidence", json_string(regulation->evidence));
        json_put(&place->failed, object, "code", json_string(regulation->code));
        append(place, list, object);
    }
    return list;
}

static json_t *caution_list(struct place *place, const dregs_liquid_result *result)
{
    const dregs_caution *caution;
    json_t *list = json_array();
    size_t i;

    for (i = 0; (caution = dregs_liquid_result_caution(result, i)) != NULL; i++) {
        json_t *object = json_object();
        json_put(&place->failed, object, "id", json_string(caution->rule->id));
        json_put(&place->failed, object, "text", json_string(caution->text));
        json_put(&place->failed, object, "source", json_string(caution->source));
        append(place, list, object);
    }
    return list;
}

static json_t *one_liquid(struct place *place, const struct asked *asked,
                          const dregs_liquid_result *result)
{
    const dregs_liquid_request *request = &asked->request;
    json_t *object = json_object();

    json_put(&place->failed, object, "liquid", json_string(request->name));
    json_put(&place->failed, object, "temperature",
             json_number_or_null(request->temperature - 273.15));
    if (result->second)
        json_put(&place->failed, object, "share", json_number_or_null(request->share * 100));
    json_put(&place->failed, object, "properties", figure_list(place, result));
    json_put(&place->failed, object, "regulations", regulation_list(place, result));
    json_put(&place->failed, object, "cautions", caution_list(place, result));
    json_put(&place->failed, object, "who decides", json_string(dregs_regulations_deference()));
    return object;
}

static json_t *all_liquids(struct place *place, const dregs_liquids *liquids, int *status)
{
    json_t *list = json_array();
    dregs_liquid_request request;
    dregs_liquid_result *result;
    size_t i;

    dregs_liquid_request_init(&request);
    for (i = 0; !*status && (request.name = dregs_liquids_name(liquids, i)) != NULL; i++) {
        json_t *liquid = json_object();
        result = NULL;
        *status = liquid_ask(&request, liquids, &result);
        if (!*status) {
            json_put(&place->failed, liquid, "liquid", json_string(request.name));
            json_put(&place->failed, liquid, "properties", figure_list(place, result));
        }
        append(place, list, liquid);
        dregs_liquid_result_free(result);
    }
    return list;
}

static json_t *all_mixtures(struct place *place, const dregs_mixtures *mixtures)
{
    const dregs_mixture_row *row, *last = NULL;
    json_t *list = json_array();
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(mixtures, i)) != NULL; i++) {
        if (!last || strcmp(last->pair, row->pair) != 0)
            append(place, list, json_string(row->pair));
        last = row;
    }
    return list;
}

/* Prints a page and gives it back. */
static int print(const struct place *place, json_t *page)
{
    char *text = place->failed ? NULL : json_dumps(page, JSON_INDENT(1));

    json_decref(page);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("%s\n", text);
    free(text);
    return FRONT_DONE;
}

int liquid_page_json(const struct asked *asked, const dregs_liquid_result *result)
{
    struct place place = {0};
    json_t *page = one_liquid(&place, asked, result);

    return print(&place, page);
}

int liquid_list_json(const dregs_liquids *liquids, const dregs_mixtures *mixtures)
{
    struct place place = {0};
    json_t *page = json_object();
    int status = FRONT_DONE;

    json_put(&place.failed, page, "liquids", all_liquids(&place, liquids, &status));
    json_put(&place.failed, page, "mixtures", all_mixtures(&place, mixtures));
    if (!status)
        return print(&place, page);
    json_decref(page);
    return status;
}
