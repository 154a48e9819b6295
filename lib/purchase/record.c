/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* record.c: how far a file of purchases can be believed: quantities far from their neighbours,
 * months without a row; and the counts of stock at the turns of its years.
 */
#include "purchase/purchase.h"

#include <math.h>
#include <stdlib.h>

/* So many times both its neighbours, or so small a part of both, a quantity may have its point in
 * the wrong place. A slip of one place makes ten times; neighbours that differ by up to two still
 * let it be seen. Our own choice. */
#define FAR 5.0

/* The latest rows of a liquid and kind. */
struct trail {
    const dregs_purchase *row[3];
    unsigned count;
};

/* How many times both others a quantity is: above 1, or below it; 1 where it lies between. */
static double times_of(const dregs_purchase *row, const dregs_purchase *a, const dregs_purchase *b)
{
    double low = fmin(a->volume, b->volume), high = fmax(a->volume, b->volume);

    return row->volume > high ? row->volume / high : row->volume < low ? row->volume / low : 1;
}

static void judge(struct purchase_odd_rows *found, const dregs_purchase *row,
                  const dregs_purchase *a, const dregs_purchase *b)
{
    double times = times_of(row, a, b);
    dregs_purchase_odd *odd = &found->odd[found->count];

    if (times < FAR && times > 1 / FAR)
        return;
    odd->line = row->line;
    odd->neighbour[0] = a->line;
    odd->neighbour[1] = b->line;
    odd->times = times;
    found->count++;
}

/* The next row of a trail: the one before it has neighbours on both sides then. */
static void follow(struct purchase_odd_rows *found, struct trail *trail, const dregs_purchase *row)
{
    trail->row[0] = trail->row[1];
    trail->row[1] = trail->row[2];
    trail->row[2] = row;
    trail->count++;
    if (trail->count == 3) /* the first one has none before it */
        judge(found, trail->row[0], trail->row[1], row);
    if (trail->count >= 3)
        judge(found, trail->row[1], trail->row[0], row);
}

static int by_line(const void *left, const void *right)
{
    const dregs_purchase_odd *a = left, *b = right;

    return (a->line > b->line) - (a->line < b->line);
}

dregs_status dregs_purchase_find_odd(const dregs_purchase *row, size_t count, unsigned fluids,
                                     struct purchase_odd_rows *found)
{
    size_t trails = (size_t)fluids * DREGS_PURCHASE_KINDS, i;
    struct trail *trail = calloc(trails + 1, sizeof *trail);

    found->count = 0;
    found->odd = calloc(count + 1, sizeof *found->odd);
    if (!trail || !found->odd) {
        free(trail);
        return DREGS_NO_MEMORY;
    }
    for (i = 0; i < count; i++)
        if (row[i].kind != DREGS_PURCHASE_STOCK) /* a store may well be empty */
            follow(found, &trail[row[i].fluid * DREGS_PURCHASE_KINDS + row[i].kind], &row[i]);
    for (i = 0; i < trails; i++)
        if (trail[i].count >= 3) /* the last one has none behind it */
            judge(found, trail[i].row[2], trail[i].row[1], trail[i].row[0]);
    qsort(found->odd, found->count, sizeof *found->odd, by_line);
    free(trail);
    return DREGS_OK;
}

unsigned dregs_purchases_silent(const dregs_purchases *purchases, unsigned fluid, int year)
{
    const dregs_purchase *row;
    unsigned first = 0, last = 0, month, silent = 0;
    size_t i;

    if (!dregs_purchases_covered(purchases, year, &first, &last))
        return 0;
    for (month = first; month <= last; month++)
        silent |= 1u << (month - 1);
    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++)
        if (row->fluid == fluid && row->year == year)
            silent &= ~(1u << (row->month - 1));
    return silent;
}

/* Days from the turn before `year` to the day of a row: 31 December and 1 January are both at it.
 * \return 0 where the row is of neither month. */
static int days_from_turn(const dregs_purchase *row, int year, int *days)
{
    if (row->year == year - 1 && row->month == 12)
        *days = (int)row->day - 31;
    else if (row->year == year && row->month == 1)
        *days = (int)row->day - 1;
    else
        return 0;
    return abs(*days) <= DREGS_PURCHASE_STOCK_DAYS;
}

/* The rows stand in the order of their days, so that of two counts equally near the earlier one
 * is found first. */
int dregs_purchases_stock(const dregs_purchases *purchases, unsigned fluid, int year,
                          dregs_purchase_stock *stock)
{
    dregs_purchase_stock s = {.sum = {0, 0, 0, 0, 0}};
    const dregs_purchase *row, *at = NULL;
    double variance = 0;
    size_t i;
    int days;

    for (i = 0; (row = dregs_purchases_at(purchases, i)) != NULL; i++) {
        if (row->kind != DREGS_PURCHASE_STOCK || row->fluid != fluid ||
            !days_from_turn(row, year, &days))
            continue;
        if (!at || abs(days) < abs(s.days)) {
            at = row;
            s.days = days;
            s.sum = (dregs_purchase_sum){0, 0, 0, 0, 0};
            variance = 0;
        } else if (row->year != at->year || row->month != at->month || row->day != at->day)
            continue;
        s.sum.volume += row->volume;
        s.sum.rows++;
        s.sum.largest = fmax(s.sum.largest, row->volume);
        if (isnan(row->sd))
            s.sum.silent++;
        else
            variance += row->sd * row->sd;
    }
    if (!at)
        return 0;
    s.sum.sd = sqrt(variance);
    s.year = at->year;
    s.month = at->month;
    s.day = at->day;
    s.line = at->line;
    *stock = s;
    return 1;
}
