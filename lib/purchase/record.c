/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* record.c: how far a file of purchases can be believed: quantities far from their neighbours,
 * months without a row, months entered twice; the counts of stock at the turns of its years and
 * months, and whether they fit what came.
 */
#include "base/time.h"
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

/* ---- counts of stock ---- */

/* The month before one. */
static unsigned month_before(int *year, unsigned month)
{
    *year -= month == 1;
    return month == 1 ? 12 : month - 1;
}

/* Days from the turn before a month to the day of a row: the last day before it and the first one
 * of the month are both at it. \return 0 where the row is of neither month. */
static int days_from_turn(const dregs_purchase *row, int year, unsigned month, int *days)
{
    int year_before = year;
    unsigned before = month_before(&year_before, month);

    if (row->year == year_before && row->month == before)
        *days = (int)row->day - dregs_month_days(year_before, (int)before);
    else if (row->year == year && row->month == month)
        *days = (int)row->day - 1;
    else
        return 0;
    return 1;
}

/* The first row that is not before a month. */
static size_t rows_before(const dregs_purchases *purchases, int year, unsigned month)
{
    const dregs_purchase *row;
    size_t low = 0, high = DREGS_PURCHASE_ROWS, middle;

    while (low < high) {
        middle = low + (high - low) / 2;
        row = dregs_purchases_at(purchases, middle);
        if (row && (row->year < year || (row->year == year && row->month < month)))
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void add_count(dregs_purchase_sum *sum, const dregs_purchase *row)
{
    sum->volume += row->volume;
    sum->rows++;
    sum->largest = fmax(sum->largest, row->volume);
    if (isnan(row->sd))
        sum->silent++;
    else
        sum->sd = hypot(sum->sd, row->sd);
}

/* The rows stand in the order of their days, so that of two counts equally near the earlier one
 * is found first. */
static int count_near(const dregs_purchases *purchases, unsigned fluid, int year, unsigned month,
                      int most_days, dregs_purchase_stock *stock)
{
    dregs_purchase_stock s = {.sum = {0, 0, 0, 0, 0}};
    const dregs_purchase *row, *at = NULL;
    int begin_year = year, days;
    unsigned begin = month_before(&begin_year, month);
    size_t i = rows_before(purchases, begin_year, begin);

    for (; (row = dregs_purchases_at(purchases, i)) != NULL &&
           days_from_turn(row, year, month, &days);
         i++) {
        if (row->kind != DREGS_PURCHASE_STOCK || row->fluid != fluid || abs(days) > most_days)
            continue;
        if (!at || abs(days) < abs(s.days)) {
            at = row;
            s.days = days;
            s.sum = (dregs_purchase_sum){0, 0, 0, 0, 0};
        } else if (row->year != at->year || row->month != at->month || row->day != at->day)
            continue;
        add_count(&s.sum, row);
    }
    if (!at)
        return 0;
    s.year = at->year;
    s.month = at->month;
    s.day = at->day;
    s.line = at->line;
    *stock = s;
    return 1;
}

int dregs_purchases_stock(const dregs_purchases *purchases, unsigned fluid, int year,
                          dregs_purchase_stock *stock)
{
    return count_near(purchases, fluid, year, 1, DREGS_PURCHASE_STOCK_DAYS, stock);
}

int dregs_purchases_stock_before(const dregs_purchases *purchases, unsigned fluid, int year,
                                 unsigned month, dregs_purchase_stock *stock)
{
    return month >= 1 && month <= 12 &&
           count_near(purchases, fluid, year, month, DREGS_PURCHASE_TURN_DAYS, stock);
}

/* ---- what cannot be ---- */

#define ROUNDING 1e-9 /* of a sum of quantities in other units */

/* Of a day what came stands before what was counted, which is that of its end. */
int dregs_purchases_unfit(const dregs_purchases *purchases, unsigned fluid,
                          dregs_purchase_unfit *unfit)
{
    const dregs_purchase *row, *first;
    dregs_purchase_sum now, most = {0, 0, 0, 0, 0};
    unsigned long before = 0; /* the line of the count before; 0: none */
    size_t i = 0;

    while ((row = dregs_purchases_at(purchases, i)) != NULL) {
        int came = row->kind == DREGS_PURCHASE_BOUGHT || row->kind == DREGS_PURCHASE_RECOVERED;
        i++;
        if (row->fluid != fluid || (!came && row->kind != DREGS_PURCHASE_STOCK))
            continue;
        if (came) {
            add_count(&most, row);
            continue;
        }
        now = (dregs_purchase_sum){0, 0, 0, 0, 0};
        add_count(&now, row);
        for (first = row; (row = dregs_purchases_at(purchases, i)) != NULL &&
                          row->kind == first->kind && dregs_purchase_same_day(row, first);
             i++)
            add_count(&now, row);
        if (before && now.volume > most.volume * (1 + ROUNDING) + 2 * hypot(now.sd, most.sd)) {
            *unfit = (dregs_purchase_unfit){first->line, before, now.volume, most.volume};
            return 1;
        }
        most = now;
        before = first->line;
    }
    return 0;
}

int dregs_purchases_doubled(const dregs_purchases *purchases, unsigned long lines[2])
{
    const dregs_purchase *begin, *row, *next;
    size_t i = 0;

    while ((begin = dregs_purchases_at(purchases, i)) != NULL) {
        unsigned different = 0, single = 0;
        unsigned long found[2] = {0, 0};
        while ((row = dregs_purchases_at(purchases, i)) != NULL && row->year == begin->year &&
               row->month == begin->month) {
            unsigned alike = 1;
            while ((next = dregs_purchases_at(purchases, ++i)) != NULL &&
                   dregs_purchase_is_same(row, next)) {
                if (!different && alike == 1)
                    found[0] = row->line, found[1] = next->line;
                alike++;
            }
            single |= alike & 1;
            different++;
        }
        if (!single && different >= 2) {
            lines[0] = found[0];
            lines[1] = found[1];
            return 1;
        }
    }
    return 0;
}
