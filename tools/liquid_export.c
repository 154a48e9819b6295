/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid_export.c: dregs-liquid's pages for programs: the same facts as CSV and as JSON. */
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

static void csv_facts(const struct liquid_answer *answer, const char *liquid)
{
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; i < answer->facts; i++) {
        const struct fact *fact = &answer->fact[i];
        csv_name(liquid);
        putchar(',');
        csv_name(fact->name);
        printf(",%s,%s,", fact->word ? fact->word : dregs_number_exact(number, fact->value),
               fact->unit);
        csv_text(fact->source);
        printf(",%s\n", fact->evidence);
    }
}

static void csv_regulations(const struct liquid_answer *answer)
{
    const dregs_regulation *regulation;
    size_t i;

    for (i = 0; (regulation = dregs_regulations_at(answer->regulations, i)) != NULL; i++) {
        char source[400];
        if (!liquid_concerns(answer, regulation))
            continue;
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

int liquid_page_csv(struct liquid_answer *answer)
{
    const char *name;
    size_t i;

    printf("liquid,property,value,unit,source,evidence\n");
    if (answer->request->name) {
        csv_facts(answer, answer->request->name);
        csv_regulations(answer);
        return FRONT_DONE;
    }
    for (i = 0; (name = dregs_liquids_name(answer->liquids, i)) != NULL; i++) {
        liquid_facts(answer, name);
        csv_facts(answer, name);
    }
    return FRONT_DONE;
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

static json_t *fact_object(struct place *place, const struct fact *fact)
{
    json_t *object = json_object();
    double low = fact->row ? fact->row->low : fact->mixture ? fact->mixture->low : NAN;
    double high = fact->row ? fact->row->high : fact->mixture ? fact->mixture->high : NAN;

    json_put(&place->failed, object, "property", json_string(fact->name));
    json_put(&place->failed, object, "value",
             fact->word ? json_string(fact->word) : json_number_or_null(fact->value));
    json_put(&place->failed, object, "unit", json_string(fact->unit));
    json_put(&place->failed, object, "source", json_string(fact->source));
    json_put(&place->failed, object, "evidence", json_string(fact->evidence));
    json_put(&place->failed, object, "low", json_number_or_null(low - 273.15));
    json_put(&place->failed, object, "high", json_number_or_null(high - 273.15));
    json_put(&place->failed, object, "note", json_string(fact->note));
    if (*fact->reason)
        json_put(&place->failed, object, "reason", json_string(fact->reason));
    return object;
}

static json_t *fact_list(struct place *place, const struct liquid_answer *answer)
{
    json_t *list = json_array();
    size_t i;

    for (i = 0; i < answer->facts; i++)
        append(place, list, fact_object(place, &answer->fact[i]));
    return list;
}

static json_t *regulation_list(struct place *place, const struct liquid_answer *answer)
{
    const dregs_regulation *regulation;
    json_t *list = json_array();
    size_t i;

    for (i = 0; (regulation = dregs_regulations_at(answer->regulations, i)) != NULL; i++) {
        json_t *object;
        if (!liquid_concerns(answer, regulation))
            continue;
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

static json_t *caution_list(struct place *place, const struct liquid_answer *answer)
{
    json_t *list = json_array();
    size_t i;

    for (i = 0; i < answer->cautions; i++) {
        json_t *object = json_object();
        json_put(&place->failed, object, "id", json_string(answer->caution[i].id));
        json_put(&place->failed, object, "text", json_string(answer->caution[i].text));
        json_put(&place->failed, object, "source", json_string(answer->caution[i].source));
        append(place, list, object);
    }
    return list;
}

static json_t *one_liquid(struct place *place, const struct liquid_answer *answer)
{
    const struct liquid_request *request = answer->request;
    json_t *object = json_object();

    json_put(&place->failed, object, "liquid", json_string(request->name));
    json_put(&place->failed, object, "temperature",
             json_number_or_null(request->temperature - 273.15));
    if (answer->pair)
        json_put(&place->failed, object, "share", json_number_or_null(request->share * 100));
    json_put(&place->failed, object, "properties", fact_list(place, answer));
    json_put(&place->failed, object, "regulations", regulation_list(place, answer));
    json_put(&place->failed, object, "cautions", caution_list(place, answer));
    json_put(&place->failed, object, "who decides", json_string(dregs_regulations_deference()));
    return object;
}

static json_t *all_liquids(struct place *place, struct liquid_answer *answer)
{
    json_t *object = json_object(), *liquids = json_array(), *mixtures = json_array();
    const dregs_mixture_row *row, *last = NULL;
    const char *name;
    size_t i;

    for (i = 0; (name = dregs_liquids_name(answer->liquids, i)) != NULL; i++) {
        json_t *liquid = json_object();
        liquid_facts(answer, name);
        json_put(&place->failed, liquid, "liquid", json_string(name));
        json_put(&place->failed, liquid, "properties", fact_list(place, answer));
        append(place, liquids, liquid);
    }
    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++) {
        if (!last || strcmp(last->pair, row->pair) != 0)
            append(place, mixtures, json_string(row->pair));
        last = row;
    }
    json_put(&place->failed, object, "liquids", liquids);
    json_put(&place->failed, object, "mixtures", mixtures);
    return object;
}

int liquid_page_json(struct liquid_answer *answer)
{
    struct place place = {0};
    json_t *page = answer->request->name ? one_liquid(&place, answer) : all_liquids(&place, answer);
    char *text = place.failed ? NULL : json_dumps(page, JSON_INDENT(1));

    json_decref(page);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("%s\n", text);
    free(text);
    return FRONT_DONE;
}
