/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_data.c: dregs-size's answers for programs, as JSON. */
#include "json.h"
#include "page.h"
#include "size.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A value in the unit it was varied in. */
static double size_shown(const dregs_varied *varied, double si)
{
    dregs_unit unit;

    return dregs_unit_read(varied->unit, &unit, NULL) ? si : dregs_unit_from_si(unit, si);
}

/* Takes one value of an answer. */
typedef void put_value(void *user, const char *quantity, double value, const char *unit);

static void list_sized(const struct size_page *answer, const dregs_sized *sized, put_value *put,
                       void *user)
{
    const dregs_use *use = &sized->use;

    put(user, "feasible", sized->feasible, "");
    put(user, "worst residue", sized->standing.residue * MG_PER_M2, "mg/m2");
    put(user, "residue per limit", sized->standing.excess, "1");
    put(user, "margin", 1 - sized->standing.excess, "1");
    put(user, "total residue", sized->standing.total * MG_PER_M2, "mg/m2");
    put(user, "floor", sized->standing.floor * MG_PER_M2, "mg/m2");
    put(user, "adhering floor", sized->standing.floor_adhering * MG_PER_M2, "mg/m2");
    put(user, "fresh liquid", use->bought * 1e3, "L per load");
    put(user, "fresh liquid per shift", use->bought * 1e3 * answer->result->loads_per_shift, "L");
    put(user, "to drain", use->to_drain * 1e3, "L per load");
    put(user, "dumped", use->dumped * 1e3, "L per load");
    put(user, "evaporated", use->evaporated * 1e3, "L per load");
    if (!isnan(use->cost))
        put(user, "cost", use->cost, "currency per load");
}

static void list_rule(const dregs_size_rule *rule, put_value *put, void *user)
{
    if (isnan(rule->ratio))
        return;
    put(user, "rinse ratio", rule->ratio, "1");
    put(user, "fresh liquid over drag-out", rule->exact, "1");
    put(user, "root form", rule->root, "1");
    put(user, "series", rule->series, "1");
}

static void list_answer(const struct size_page *answer, put_value *put, void *user)
{
    list_sized(answer, answer->result->sized, put, user);
    list_rule(&answer->result->rule, put, user);
}

static void list_row(const struct size_page *answer, const dregs_size_row *row, put_value *put,
                     void *user)
{
    put(user, row->varied.property, size_shown(&row->varied, row->sized->value[0]),
        row->varied.unit);
    list_sized(answer, row->sized, put, user);
    put(user, "rinse tanks", row->volume * 1e3, "L");
    put(user, "dominated", row->dominated >= 0, "");
    list_rule(&row->rule, put, user);
}

/* --- json --- */

struct json_place {
    json_t *object;
    int failed;
};

static void put_json(void *user, const char *quantity, double value, const char *unit)
{
    struct json_place *place = user;
    json_t *pair;

    if (strcmp(quantity, "feasible") == 0 || strcmp(quantity, "dominated") == 0) {
        json_put(&place->failed, place->object, quantity, json_boolean(value != 0));
        return;
    }
    pair = json_object();
    json_put(&place->failed, pair, "value", json_number_or_null(value));
    json_put(&place->failed, pair, "unit", json_string(unit));
    json_put(&place->failed, place->object, quantity, pair);
}

static json_t *answer_object(const struct size_page *answer, int *failed)
{
    struct json_place place = {json_object(), 0};
    const dregs_size_request *request = &answer->request->asked;
    json_t *values = json_array();
    unsigned i;

    for (i = 0; i < request->count; i++) {
        const dregs_varied *varied = &request->varied[i];
        json_t *object = json_object();
        json_put(&place.failed, object, "stage", json_string(varied->stage[0]));
        json_put(&place.failed, object, "property", json_string(varied->property));
        json_put(&place.failed, object, "value",
                 json_real(size_shown(varied, answer->result->sized->value[i])));
        json_put(&place.failed, object, "unit", json_string(varied->unit));
        json_put(&place.failed, object, "at the lower end",
                 json_boolean(answer->result->sized->at_low[i]));
        json_put(&place.failed, object, "at the upper end",
                 json_boolean(answer->result->sized->at_high[i]));
        if (json_array_append_new(values, object))
            place.failed = 1;
    }
    json_put(&place.failed, place.object, "varied", values);
    json_put(&place.failed, place.object, "met throughout",
             json_boolean(answer->result->sized->throughout));
    list_answer(answer, put_json, &place);
    *failed |= place.failed;
    return place.object;
}

static json_t *row_object(const struct size_page *answer, const dregs_size_row *row, int *failed)
{
    struct json_place place = {json_object(), 0};

    json_put(&place.failed, place.object, "layout", json_string(dregs_layout_name(row->layout)));
    json_put(&place.failed, place.object, "stages", json_integer(row->stages));
    json_put(&place.failed, place.object, "possible", json_boolean(row->possible));
    if (row->possible)
        list_row(answer, row, put_json, &place);
    else
        json_put(&place.failed, place.object, "reason", json_string(row->message));
    *failed |= place.failed;
    return place.object;
}

static json_t *caution_list(const dregs_line *line, int *failed)
{
    dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned count = dregs_cautions(line, cautions), i;
    json_t *list = json_array();
    struct json_place place = {NULL, 0};

    for (i = 0; i < count; i++) {
        json_t *object = json_object();
        json_put(&place.failed, object, "id", json_string(cautions[i].rule->id));
        json_put(&place.failed, object, "text", json_string(cautions[i].text));
        json_put(&place.failed, object, "source", json_string(cautions[i].rule->source));
        if (json_array_append_new(list, object))
            place.failed = 1;
    }
    *failed |= place.failed;
    return list;
}

int size_page_json(const struct size_page *answer)
{
    struct json_place place = {json_object(), 0};
    json_t *rows = json_array();
    char *text = NULL;
    size_t i;

    json_put(&place.failed, place.object, "line", json_string(dregs_line_name(answer->line)));
    json_put(&place.failed, place.object, "loads per shift",
             json_real(answer->result->loads_per_shift));
    json_put(&place.failed, place.object, "loads per shift assumed",
             json_boolean(answer->result->shift_assumed));
    if (!answer->request->asked.first)
        json_put(&place.failed, place.object, "answer", answer_object(answer, &place.failed));
    for (i = 0; i < answer->result->rows; i++)
        if (json_array_append_new(
                rows, row_object(answer, dregs_size_result_row(answer->result, i), &place.failed)))
            place.failed = 1;
    if (answer->request->asked.first)
        json_put(&place.failed, place.object, "layouts", rows);
    else
        json_decref(rows);
    json_put(&place.failed, place.object, "cautions", caution_list(answer->line, &place.failed));
    if (!place.failed)
        text = json_dumps(place.object, JSON_INDENT(1));
    json_decref(place.object);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("%s\n", text);
    free(text);
    return FRONT_DONE;
}
