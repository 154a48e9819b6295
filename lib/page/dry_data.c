/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_data.c: dryings for programs: the numbers of each, and the curves.
 *
 * The curves are made when they are written, so that memory does not grow with their moments.
 */
#include "page/dry.h"

#include <math.h>
#include <stdio.h>

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
        put_value(table, point->time, "vapour of the flammable limit", "", point->flammable, "1");
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
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_filled_by(table, fill_values, (void *)dregs_dry_result_row(d->result, 0));
}

void dregs_page_dry_data(const struct dryings *d)
{
    put_values(d);
}
