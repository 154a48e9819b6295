/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* matrix.c: products of the small matrices, and how they are held to the conservation of mass. */
#include "balance/map.h"

#include <string.h>

/* One row of the product, `columns` being a number that the compiler knows: it keeps the sums in
 * registers. More than half of a row is 0: liquid has one way, and sums act on nothing. */
static inline void row_of(const double *a, const double *z, size_t dim, const size_t columns,
                          double *into)
{
    double_pair sum[4] = {{0}};
    double last = 0.0;
    size_t j, k;

    for (j = 0; j < dim; j++, z += columns) {
        if (a[j] == 0.0)
            continue;
#pragma GCC unroll 4
        for (k = 0; k < columns / 2; k++)
            sum[k] += a[j] * pair_at(z + 2 * k);
        if (columns % 2)
            last += a[j] * z[columns - 1];
    }
#pragma GCC unroll 4
    for (k = 0; k < columns / 2; k++)
        put_pair(into + 2 * k, sum[k]);
    if (columns % 2)
        into[columns - 1] = last;
}

/* The same of one column: a zero costs no more than asking for it. */
static void column_of(const double *a, const double *z, size_t dim, double *into)
{
    size_t i, j;

    for (i = 0; i < dim; i++, a += dim) {
        double sum = 0.0;
#pragma GCC unroll 4
        for (j = 0; j < dim; j++)
            sum += a[j] * z[j];
        into[i] = sum;
    }
}

static void row_of_many(const double *a, const double *z, size_t dim, size_t columns, double *into)
{
    size_t j, k;

    memset(into, 0, columns * sizeof *into);
    for (j = 0; j < dim; j++, z += columns) {
        if (a[j] == 0.0)
            continue;
        for (k = 0; k + 2 <= columns; k += 2)
            put_pair(into + k, pair_at(into + k) + a[j] * pair_at(z + k));
        if (k < columns)
            into[k] += a[j] * z[k];
    }
}

/* into = a * z, z having `columns` columns. Written out: for the few tanks of a line the call of a
 * library's product takes ten times as long as the product. */
void dregs_balance_multiply(const double *a, const double *z, size_t dim, size_t columns,
                            double *into)
{
    const double *end = a + dim * dim;

    if (columns == 1) {
        column_of(a, z, dim, into);
        return;
    }
    for (; a < end; a += dim, into += columns)
        switch (columns) {
        case 3:
            row_of(a, z, dim, 3, into);
            break;
        case 4:
            row_of(a, z, dim, 4, into);
            break;
        case 5:
            row_of(a, z, dim, 5, into);
            break;
        case 6:
            row_of(a, z, dim, 6, into);
            break;
        case 7:
            row_of(a, z, dim, 7, into);
            break;
        default:
            row_of_many(a, z, dim, columns, into);
        }
}

void dregs_balance_multiply_in_place(const double *a, double *z, size_t dim, size_t columns,
                                     double *spare)
{
    dregs_balance_multiply(a, z, dim, columns, spare);
    memcpy(z, spare, dim * columns * sizeof *z);
}

/* Rounding leaves the columns a little off, and powers of the matrix would let that grow. */
void dregs_balance_conserve(double *a, const struct ledger *ledger, size_t columns)
{
    size_t tanks = ledger->tanks, outs = ledger->outs, end = ledger->within, i, k;

    for (k = 0; outs < end && k < columns; k++) {
        double in = k < tanks, out = 0.0, right;
        if (k >= tanks && (k < columns - 1 || outs == tanks))
            continue; /* sums stay what they are; what came in is not known to every form */
        for (i = 0; i < tanks; i++)
            out += a[i * columns + k];
        for (i = outs; i < end; i++)
            out += a[i * columns + k];
        for (i = tanks; k == columns - 1 && i < outs; i++)
            in += a[i * columns + k];
        if (!(out > 0) || !(in > 0))
            continue;
        right = in / out;
        for (i = 0; i < tanks; i++)
            a[i * columns + k] *= right;
        for (i = outs; i < end; i++)
            a[i * columns + k] *= right;
    }
}

void dregs_balance_leave_out_sum(size_t n, const double *from, double *to)
{
    size_t i;

    for (i = 0; i <= n; i++, to += n + 1) {
        const double *row = from + (i < n ? i : n + 1) * (n + 2);
        memcpy(to, row, n * sizeof *to);
        to[n] = row[n + 1];
    }
}
