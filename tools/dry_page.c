/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_page.c: dregs-dry's pages. */
#include "dry.h"
#include "json.h"
#include "page.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CELSIUS(kelvin) ((kelvin)-273.15)

static const dregs_dry_row *row_at(const struct dry *dry, unsigned index)
{
    return dregs_dry_result_row(dry->result, index);
}

static json_t *row_object(const dregs_dry_row *row, int *failed)
{
    json_t *object = json_object(), *list = json_array(), *curve = json_array();
    unsigned i;
    size_t p;

    json_put(failed, object, "stage", row->stage ? json_string(row->stage) : json_null());
    json_put(failed, object, "liquid", json_string(row->film.liquid[0]));
    json_put(failed, object, "air temperature", json_number_or_null(CELSIUS(row->film.air)));
    json_put(failed, object, "dry", json_boolean(row->drying.dry));
    json_put(failed, object, "time", json_number_or_null(row->drying.dry ? row->drying.time : NAN));
    json_put(failed, object, "isothermal time", json_number_or_null(row->isothermal));
    json_put(failed, object, "wet bulb time", json_number_or_null(row->wet_bulb));
    json_put(failed, object, "recess time", json_number_or_null(row->recess));
    json_put(failed, object, "coldest", json_number_or_null(CELSIUS(row->drying.coldest)));
    json_put(failed, object, "dew point", json_number_or_null(CELSIUS(row->drying.dew_point)));
    json_put(failed, object, "wet spots", json_boolean(row->drying.wet_spots));
    json_put(failed, object, "peak of flammable limit", json_number_or_null(row->drying.peak));
    json_put(failed, object, "peak", json_number_or_null(row->drying.peak_share[0] * 1e6));
    json_put(failed, object, "fresh air", json_number_or_null(row->needed));
    json_put(failed, object, "dilution air", json_number_or_null(row->dilution));
    for (i = 0; i < row->assumed_count; i++)
        if (json_array_append_new(list, json_string(row->assumed[i])))
            *failed = 1;
    json_put(failed, object, "assumed", list);
    list = json_array();
    for (i = 0; i < row->caution_count; i++) {
        json_t *one = json_object();
        json_put(failed, one, "id", json_string(row->caution[i].rule->id));
        json_put(failed, one, "text", json_string(row->caution[i].text));
        json_put(failed, one, "source", json_string(row->caution[i].source));
        if (json_array_append_new(list, one))
            *failed = 1;
    }
    json_put(failed, object, "cautions", list);
    for (p = 0; p < row->drying.points; p++) {
        const dregs_dry_point *point = &row->drying.point[p];
        json_t *one = json_object();
        json_put(failed, one, "time", json_number_or_null(point->time));
        json_put(failed, one, "temperature", json_number_or_null(CELSIUS(point->temperature)));
        json_put(failed, one, "liquid", json_number_or_null(fmax(point->total, 0) * 1e3));
        json_put(failed, one, "flammable", json_number_or_null(point->flammable));
        for (i = 0; i < row->drying.volatiles; i++) {
            json_t *volatile_ = json_object();
            json_put(failed, volatile_, "liquid",
                     json_number_or_null(fmax(point->mass[i], 0) * 1e3));
            json_put(failed, volatile_, "vapour", json_number_or_null(point->share[i] * 1e6));
            json_put(failed, one, row->drying.liquid[i], volatile_);
        }
        if (json_array_append_new(curve, one))
            *failed = 1;
    }
    json_put(failed, object, "curve", curve);
    return object;
}

int dry_page_json(const struct dry *dry)
{
    json_t *object = json_object(), *rows = json_array(), *units = json_object();
    char *text = NULL;
    int failure = 0, *failed = &failure;
    unsigned i;

    for (i = 0; i < dry->result->rows; i++)
        if (json_array_append_new(rows, row_object(row_at(dry, i), failed)))
            failure = 1;
    json_put(failed, units, "time", json_string("s"));
    json_put(failed, units, "temperature", json_string("degC"));
    json_put(failed, units, "liquid", json_string("g/m2"));
    json_put(failed, units, "peak", json_string("ppm"));
    json_put(failed, units, "fresh air", json_string("m3/s"));
    json_put(failed, units, "dilution air", json_string("m3"));
    json_put(failed, object, "dryings", rows);
    json_put(failed, object, "units", units);
    json_put(failed, object, "film residue", json_number_or_null(dry->result->residue * MG_PER_M2));
    json_put(failed, object, "deference", json_string(dregs_caution_deference()));
    if (!failure)
        text = json_dumps(object, JSON_INDENT(1));
    json_decref(object);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("%s\n", text);
    free(text);
    return FRONT_DONE;
}
