/* SPDX-License-Identifier: GPL-3.0-or-later */
/* off.c: a table of liquids whose values are off by as much as their accuracy lets them be.
 *
 * The accuracy is about two standard deviations; that a value is off by one factor along its whole
 * curve, and that the factor is lognormal, is common practice, no source.
 */
#include "liquid/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double dregs_liquid_known_to(const struct liquid *liquid, const struct item *item,
                             double temperature)
{
    return isnan(item->row.low)
               ? item->row.accuracy
               : hypot(item->row.accuracy, dregs_liquid_doubt(liquid, item, temperature));
}

static double factor_of(double accuracy, double z)
{
    double s = accuracy / 2, variance = log1p(s * s);

    return exp(sqrt(variance) * z - variance / 2);
}

double dregs_liquid_off(const struct liquid *liquid, const struct item *item, double temperature)
{
    return factor_of(dregs_liquid_known_to(liquid, item, temperature), item->z);
}

/* A row of the same texts, which stay the other table's. */
static dregs_status put(dregs_liquids *off, const dregs_liquid_offset *offset)
{
    struct liquid *liquid = dregs_liquid_find(off, offset->liquid);
    const struct item *item = liquid && (unsigned)offset->property < DREGS_PROPERTIES
                                  ? liquid->item[offset->property]
                                  : NULL;
    struct item *own;

    if (item && (item->row.word || strcmp(dregs_property_unit(offset->property), "K") == 0))
        return DREGS_DOMAIN;
    if (!item || isnan(item->row.accuracy))
        return DREGS_UNKNOWN;
    if (!isfinite(offset->z))
        return DREGS_DOMAIN;
    own = malloc(sizeof *own);
    if (!own)
        return DREGS_NO_MEMORY;
    *own = *item;
    own->off = 1;
    own->z = offset->z;
    own->factor = factor_of(item->row.accuracy, offset->z);
    own->next = off->owned;
    off->owned = own;
    liquid->item[offset->property] = own;
    return DREGS_OK;
}

dregs_status dregs_liquids_off(const dregs_liquids *liquids, const dregs_liquid_offset *offsets,
                               size_t count, dregs_liquids **off)
{
    dregs_liquids *made = calloc(1, sizeof *made);
    dregs_status status = DREGS_OK;
    size_t i;

    if (made)
        made->liquid = malloc((liquids->count + 1) * sizeof *made->liquid);
    if (!made || !made->liquid) {
        free(made);
        return DREGS_NO_MEMORY;
    }
    memcpy(made->liquid, liquids->liquid, liquids->count * sizeof *made->liquid);
    made->count = liquids->count;
    made->room = liquids->count + 1;
    made->regulations = liquids->regulations;
    made->borrows = 1;
    for (i = 0; i < count && !status; i++)
        status = put(made, &offsets[i]);
    if (status)
        dregs_liquids_free(made);
    else
        *off = made;
    return status;
}
