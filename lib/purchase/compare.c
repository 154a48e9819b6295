/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* compare.c: sums of purchases over months, and what a model leaves unexplained. */
#include "dregs/purchase.h"

#include <math.h>

int dregs_purchases_covered(const dregs_purchases *purchases, int year, unsigned *first,
                            unsigned *last)
{
    const dregs_purchase *begin = dregs_purchases_at(purchases, 0), *end = begin, *row;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++)
        end = row;
    if (!begin || year < begin->year || year > end->year)
        return 0;
    *first = year == begin->year ? begin->month : 1;
    *last = year == end->year ? end->month : 12;
    return 1;
}

int dregs_purchases_year(const dregs_purchases *purchases, int *full)
{
    const dregs_purchase *row, *end = NULL;
    unsigned first = 0, last = 0;
    size_t i;
    int year;

    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++)
        end = row;
    if (full)
        *full = 0;
    if (!end)
        return 0;
    for (year = end->year; dregs_purchases_covered(purchases, year, &first, &last); year--) {
        if (first == 1 && last == 12) {
            if (full)
                *full = 1;
            return year;
        }
    }
    return end->year;
}

dregs_status dregs_purchases_sum(const dregs_purchases *purchases, unsigned fluid,
                                 dregs_purchase_kind kind, int year, unsigned first, unsigned last,
                                 dregs_purchase_sum *sum)
{
    dregs_purchase_sum s = {0, 0, 0, 0, 0};
    const dregs_purchase *row;
    double variance = 0;
    size_t i;

    if (first < 1 || last > 12 || first > last || (unsigned)kind >= DREGS_PURCHASE_KINDS)
        return DREGS_DOMAIN;
    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++) {
        if (row->fluid != fluid || row->kind != kind || row->year != year || row->month < first ||
            row->month > last)
            continue;
        s.volume += row->volume;
        s.rows++;
        if (isnan(row->sd))
            s.silent++;
        else
            variance += row->sd * row->sd;
        s.largest = fmax(s.largest, row->volume);
    }
    s.sd = sqrt(variance);
    *sum = s;
    return DREGS_OK;
}

/* One that is stated, or nothing */
static int is_sd(double sd)
{
    return isnan(sd) || (sd >= 0 && isfinite(sd));
}

static double squared(double sd)
{
    return isnan(sd) ? 0 : sd * sd;
}

dregs_status dregs_unexplained_work(double measured, double sd_measured, double lot,
                                    double modelled, double sd_model, dregs_unexplained *result)
{
    dregs_unexplained r;

    if (!isfinite(measured) || !isfinite(modelled) || !is_sd(sd_measured) || !is_sd(lot) ||
        !is_sd(sd_model))
        return DREGS_DOMAIN;
    r.value = measured - modelled;
    r.sd_measured = sd_measured;
    r.sd_stock = lot / sqrt(6.0);
    r.sd_model = sd_model;
    r.sd = sqrt(squared(r.sd_measured) + squared(r.sd_stock) + squared(r.sd_model));
    if (isnan(sd_measured) && isnan(lot) && isnan(sd_model))
        r.sd = NAN;
    r.ratio = r.sd > 0 ? fabs(r.value) / r.sd : NAN;
    *result = r;
    return DREGS_OK;
}
