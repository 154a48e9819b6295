/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_data.c: dryings for programs: the numbers of each, and the curves.
 *
 * The curves are made when they are written, so that memory does not grow with their moments.
 */
#include "page/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- the curve of one drying, value by value ---- */

static void put_value(dregs_table *table, double time, const char *quantity, const char *liquid,
                      double value, const char *unit)
{
    char name[160];

    snprintf(name, sizeof name, "%s%s%s", quantity, *liquid ? " of " : "", liquid);
    dregs_table_number(table, time);
    dregs_table_word(table, name);
    dregs_table_number(table, value);
    dregs_table_word(table, unit);
    dregs_table_end_row(table);
}

static dregs_status fill_values(void *user, dregs_table *table)
{
    const dregs_dry_row *row = user;
    const dregs_drying *d = &row->drying;
    size_t p;
    unsigned i;

    for (p = 0; p < d->points; p++) {
        const dregs_dry_point *point = &d->point[p];
        put_value(table, point->time, "temperature", "", CELSIUS(point->temperature), "degC");
        put_value(table, point->time, "liquid", "", point->total * G_PER_M2, "g/m2");
        for (i = 0; i < d->volatiles; i++)
            put_value(table, point->time, "liquid", d->liquid[i],
                      fmax(point->mass[i], 0) * G_PER_M2, "g/m2");
        if (!(row->film.volume > 0))
            continue;
        put_value(table, point->time, "vapour of the flammable limit", "",
                  point->flammable * PERCENT, "%");
        for (i = 0; i < d->volatiles; i++)
            put_value(table, point->time, "vapour", d->liquid[i], point->share[i] * PPM, "ppm");
    }
    return DREGS_OK;
}

/* For CSV, which takes one drying. */
static void put_values(const struct dryings *d)
{
    dregs_table *table;

    if (d->result->rows != 1)
        return;
    table = dregs_report_table(d->report, "values", DREGS_IN_CSV);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "s", 0);
    dregs_table_index(table);
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_filled_by(table, fill_values, (void *)dregs_dry_result_row(d->result, 0));
}

/* ---- the curves of all ---- */

static dregs_status fill_curve(void *user, dregs_table *table)
{
    const dregs_dry_result *result = user;
    unsigned i;
    size_t p;

    for (i = 0; i < result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(result, i);
        for (p = 0; p < row->drying.points; p++) {
            const dregs_dry_point *point = &row->drying.point[p];
            dregs_table_count(table, i + 1);
            dregs_table_number(table, point->time);
            dregs_table_number(table, CELSIUS(point->temperature));
            dregs_table_number(table, fmax(point->total, 0) * G_PER_M2);
            dregs_table_number(table, row->film.volume > 0 ? point->flammable * PERCENT : NAN);
            dregs_table_end_row(table);
        }
    }
    return DREGS_OK;
}

static void put_curve(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "curve", DREGS_IN_JSON);

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "temperature", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "liquid_left", NULL, "g/m2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "flammable", NULL, "%", 0);
    dregs_table_filled_by(table, fill_curve, (void *)d->result);
}

static void put_moment(dregs_table *table, const dregs_dry_row *row, unsigned drying,
                       const dregs_dry_point *point)
{
    unsigned i;

    for (i = 0; i < row->drying.volatiles; i++) {
        dregs_table_count(table, drying);
        dregs_table_number(table, point->time);
        dregs_table_word(table, row->drying.liquid[i]);
        dregs_table_number(table, fmax(point->mass[i], 0) * G_PER_M2);
        dregs_table_number(table, row->film.volume > 0 ? point->share[i] * PPM : NAN);
        dregs_table_end_row(table);
    }
}

static dregs_status fill_volatiles(void *user, dregs_table *table)
{
    const dregs_dry_result *result = user;
    unsigned i;
    size_t p;

    for (i = 0; i < result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(result, i);
        for (p = 0; p < row->drying.points; p++)
            put_moment(table, row, i + 1, &row->drying.point[p]);
    }
    return DREGS_OK;
}

static void put_volatiles(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "volatiles", DREGS_IN_JSON);

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "time", NULL, "s", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "liquid", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "liquid_left", NULL, "g/m2", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "vapour_share", NULL, "ppm", 0);
    dregs_table_filled_by(table, fill_volatiles, (void *)d->result);
}

/* ---- single numbers ---- */

enum { ITEMS = 21 };

/* A number of a drying: a figure where there is one drying, a column of their table. */
struct item {
    const char *key, *unit;
    double value;
};

static void items_of(const dregs_dry_row *row, struct item item[ITEMS])
{
    const dregs_drying *drying = &row->drying;
    double gathers = row->film.volume > 0 ? 1 : NAN, wetted = row->film.area > 0 ? 1 : NAN,
           dries = drying->dry ? 1 : NAN;
    const struct item items[ITEMS] = {
        {"wet_film", "g/m2", row->mass * G_PER_M2},
        {"share", "1", row->share},
        {"air_temperature", "degC", CELSIUS(row->film.air)},
        {"drying_time", "s", row->time * dries},
        {"film_time", "s", drying->time * dries},
        {"recess_time", "s", row->recess},
        {"isothermal_time", "s", row->isothermal},
        {"wet_bulb_time", "s", row->wet_bulb},
        {"coldest", "degC", CELSIUS(drying->coldest)},
        {"dew_point", "degC", CELSIUS(drying->dew_point)},
        {"vapour_peak", "ppm", drying->peak_share[0] * PPM * gathers},
        {"flammable_peak", "%", dregs_page_dry_peak(row) * PERCENT},
        {"fresh_air", "m3/h", dregs_page_dry_fresh_air(row)},
        {"vapour_per_load", "g", row->vapour * GRAMS * wetted},
        {"dilution_air", "m3", row->dilution},
        {"times_as_fast", "1", row->quicker},
        {"bead_time", "s", row->bead},
        {"bead_time_least", "s", row->bead_least},
        {"interval", "s", isfinite(row->interval) ? row->interval : NAN},
        {"room_temperature", "degC", CELSIUS(row->film.humid_at)},
        {"room_humidity", "%", row->film.humidity * PERCENT},
    };

    memcpy(item, items, sizeof items);
}

/* What is dry last; NULL where the film never is. */
static const char *last_of(const dregs_dry_row *row)
{
    static const char *const words[] = {"film", "bead", "recess"};

    return row->drying.dry ? words[row->last] : NULL;
}

static void put_figures(const struct dryings *d)
{
    const dregs_dry_row *row = dregs_dry_result_row(d->result, 0);
    struct item item[ITEMS];
    unsigned i;

    dregs_report_count(d->report, "dryings", d->result->rows);
    dregs_report_flag(d->report, "passes", d->result->passes);
    dregs_report_figure(d->report, "dried_film",
                        dregs_quantity_of(d->result->residue * UG_PER_CM2, "ug/cm2"));
    if (d->result->rows != 1)
        return;
    dregs_report_word(d->report, "stage", row->stage);
    dregs_report_word(d->report, "liquid", row->film.liquid[0]);
    dregs_report_flag(d->report, "dries", row->drying.dry);
    dregs_report_flag(d->report, "recess_decides", row->drying.dry && row->by_recess);
    dregs_report_flag(d->report, "wet_spots", row->drying.wet_spots);
    dregs_report_word(d->report, "last", last_of(row));
    dregs_report_word(d->report, "not_computed", dregs_page_dry_unknown(row));
    dregs_report_flag(d->report, "late", row->drying.dry && row->late);
    items_of(row, item);
    for (i = 0; i < ITEMS; i++)
        dregs_report_figure(d->report, item[i].key,
                            dregs_page_dry_quantity(d, item[i].key, item[i].value, item[i].unit));
}

static dregs_table *dryings_table(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "dryings", DREGS_IN_JSON);
    struct item item[ITEMS];
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "liquid", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "dries", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "recess_decides", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "wet_spots", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "passes", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "last", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "not_computed", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "late", NULL, "", 0);
    items_of(dregs_dry_result_row(d->result, 0), item);
    for (i = 0; i < ITEMS; i++)
        dregs_table_column(table, DREGS_COLUMN_NUMBER, item[i].key, NULL, item[i].unit, 0);
    return table;
}

static void put_dryings(const struct dryings *d)
{
    dregs_table *table = dryings_table(d);
    struct item item[ITEMS];
    unsigned i, k;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        dregs_table_count(table, i + 1);
        dregs_table_word(table, row->stage);
        dregs_table_word(table, row->film.liquid[0]);
        dregs_table_flag(table, row->drying.dry);
        dregs_table_flag(table, row->drying.dry && row->by_recess);
        dregs_table_flag(table, row->drying.wet_spots);
        dregs_table_flag(table, row->passes);
        dregs_table_word(table, last_of(row));
        dregs_table_word(table, dregs_page_dry_unknown(row));
        dregs_table_flag(table, row->drying.dry && row->late);
        items_of(row, item);
        for (k = 0; k < ITEMS; k++)
            dregs_table_number(table, item[k].value);
        dregs_table_end_row(table);
    }
}

/* ---- what is said of each ---- */

static void put_assumed(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "assumed_of_dryings", DREGS_IN_JSON);
    unsigned i, k;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "text", NULL, "", 0);
    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        for (k = 0; k < row->assumed_count; k++) {
            dregs_table_count(table, i + 1);
            dregs_table_word(table, row->assumed[k]);
            dregs_table_end_row(table);
        }
    }
}

static void put_cautions(const struct dryings *d)
{
    dregs_table *table = dregs_report_table(d->report, "cautions_of_dryings", DREGS_IN_JSON);
    unsigned i, k;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "drying", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "id", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "text", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "source", NULL, "", 0);
    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        for (k = 0; k < row->caution_count; k++) {
            dregs_table_count(table, i + 1);
            dregs_table_word(table, row->caution[k].rule->id);
            dregs_table_word(table, row->caution[k].text);
            dregs_table_word(table, row->caution[k].source);
            dregs_table_end_row(table);
        }
    }
}

void dregs_page_dry_data(const struct dryings *d)
{
    put_figures(d);
    put_dryings(d);
    put_assumed(d);
    put_cautions(d);
    put_curve(d);
    put_volatiles(d);
    put_values(d);
    dregs_page_dry_doubt_data(d);
}
