/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
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
    return item->scaled ? item->factor
                        : factor_of(dregs_liquid_known_to(liquid, item, temperature), item->z);
}

/* Gives the table a row of the same texts, which stay the other table's, for itself. */
static dregs_status make_own(dregs_liquids *off, const char *name, dregs_property property,
                             struct item **made)
{
    struct liquid *liquid = dregs_liquid_find(off, name);
    const struct item *item =
        liquid && (unsigned)property < DREGS_PROPERTIES ? liquid->item[property] : NULL;
    struct item *own;

    if (item && (item->row.word || strcmp(dregs_property_unit(property), "K") == 0))
        return DREGS_DOMAIN;
    if (!item)
        return DREGS_UNKNOWN;
    own = malloc(sizeof *own);
    if (!own)
        return DREGS_NO_MEMORY;
    *own = *item;
    own->off = 1;
    own->next = off->owned;
    off->owned = own;
    liquid->item[property] = own;
    *made = own;
    return DREGS_OK;
}

static dregs_status put(dregs_liquids *off, const dregs_liquid_offset *offset)
{
    struct item *own;
    dregs_status status = make_own(off, offset->liquid, offset->property, &own);

    if (status)
        return status;
    if (isnan(own->row.accuracy))
        return DREGS_UNKNOWN;
    if (!isfinite(offset->z))
        return DREGS_DOMAIN;
    own->z = offset->z;
    own->factor = factor_of(own->row.accuracy, offset->z);
    return DREGS_OK;
}

/* A table that borrows the rows of another one. */
static dregs_liquids *borrow(const dregs_liquids *liquids)
{
    dregs_liquids *made = calloc(1, sizeof *made);

    if (made)
        made->liquid = malloc((liquids->count + 1) * sizeof *made->liquid);
    if (!made || !made->liquid) {
        free(made);
        return NULL;
    }
    memcpy(made->liquid, liquids->liquid, liquids->count * sizeof *made->liquid);
    made->count = liquids->count;
    made->room = liquids->count + 1;
    made->regulations = liquids->regulations;
    made->borrows = 1;
    return made;
}

dregs_status dregs_liquids_off(const dregs_liquids *liquids, const dregs_liquid_offset *offsets,
                               size_t count, dregs_liquids **off)
{
    dregs_liquids *made = borrow(liquids);
    dregs_status status = made ? DREGS_OK : DREGS_NO_MEMORY;
    size_t i;

    for (i = 0; i < count && !status; i++)
        status = put(made, &offsets[i]);
    if (!status)
        *off = made;
    else if (made)
        dregs_liquids_free(made);
    return status;
}

dregs_status dregs_liquids_scaled(const dregs_liquids *liquids, const char *liquid,
                                  dregs_property property, double factor, dregs_liquids **scaled)
{
    dregs_liquids *made;
    struct item *own;
    dregs_status status;

    if (!(factor > 0) || !isfinite(factor))
        return DREGS_DOMAIN;
    made = borrow(liquids);
    if (!made)
        return DREGS_NO_MEMORY;
    status = make_own(made, liquid, property, &own);
    if (status) {
        dregs_liquids_free(made);
        return status;
    }
    own->scaled = 1;
    own->factor = factor;
    *scaled = made;
    return DREGS_OK;
}
