/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* steady.c: the state that a dump period leaves as it is. */
#include "balance/map.h"

#include <math.h>
#include <stdlib.h>

/* Which tanks ever hold the solute: fresh, fed, or from one that does. */
static void find_supplied(const struct load_map *load, const double *fresh, unsigned char *supplied)
{
    size_t n = load->tanks, dim = load->dim, i, k;
    int more = 1;

    for (i = 0; i < n; i++)
        supplied[i] = fresh[i] > 0 || load->period[i * dim + dim - 1] > 0;
    while (more)
        for (more = 0, i = 0; i < n; i++)
            for (k = 0; k < n && !supplied[i]; k++)
                if (supplied[k] && load->period[i * dim + k] > 0)
                    supplied[i] = 1, more = 1;
}

/* Does a tank that lets nothing out take something in? */
static int fills_up(const struct load_map *load, const unsigned char *supplied, size_t tank)
{
    const double *row = load->period + tank * load->dim;
    size_t k;

    for (k = 0; k < load->tanks; k++)
        if (k != tank && supplied[k] && row[k] > 0)
            return 1;
    return row[load->dim - 1] > 0;
}

/* Takes tank k, the last of those left, out of x = p x + b: what it gets goes on at once to the
 * others and, the share `loss`, out of the line. \return what leaves it, per kg in it. */
static double eliminate(double *p, double *loss, size_t n, size_t k)
{
    size_t width = n + 1, i, j;
    double leaves = loss[k];

    for (i = 0; i < k; i++)
        leaves += p[i * width + k];
    if (!(leaves > 0))
        return 0.0;
    for (i = 0; i < k; i++) {
        double share = p[i * width + k] / leaves;
        for (j = 0; j < k; j++)
            p[i * width + j] += i == j ? 0.0 : share * p[k * width + j];
        p[i * width + n] += share * p[k * width + n];
        loss[i] += p[k * width + i] * (loss[k] / leaves);
    }
    return leaves;
}

/* Elimination without a single difference (Grassmann, Taksar, Heyman, Oper. Res. 33 (1985) 1107):
 * a tank that hardly lets anything out, 1 - its share kept, is not lost in rounding, for what it
 * lets out is known by itself, as the sums. */
dregs_status dregs_balance_fixed_point(const struct load_map *load, const double *fresh, double *z)
{
    size_t n = load->tanks, width = n + 1, dim = load->dim, i, k;
    double *p = calloc(n * width + 2 * n + 1, sizeof *p), *loss, *leaves;
    unsigned char supplied[DREGS_LINE_STAGES];
    dregs_status status = DREGS_OK;

    if (!p)
        return DREGS_NO_MEMORY;
    loss = p + n * width;
    leaves = loss + n;
    find_supplied(load, fresh, supplied);
    for (k = 0; k < n; k++) {
        for (i = 0; i < n; i++)
            p[i * width + k] = load->period[i * dim + k];
        loss[k] = load->period[n * dim + k];
        p[k * width + n] = load->period[k * dim + dim - 1];
    }
    for (k = n; k-- > 0;)
        leaves[k] = eliminate(p, loss, n, k);
    for (k = 0; k < n && !status; k++) {
        double in = p[k * width + n];
        for (i = 0; i < k; i++)
            in += p[k * width + i] * z[i];
        z[k] = leaves[k] > 0 ? in / leaves[k] : fresh[k];
        if (!isfinite(z[k]) || (!(leaves[k] > 0) && fills_up(load, supplied, k)))
            status = DREGS_NO_STEADY;
    }
    free(p);
    return status;
}

dregs_status dregs_balance_repeats(size_t tanks, const double *map, const double *fresh, double *z)
{
    size_t dim = tanks + 2, i, k;
    double *whole = calloc(dim * dim, sizeof *whole);
    struct load_map load = {.dim = dim, .tanks = (unsigned)tanks, .period = whole};
    dregs_status status;

    if (!whole)
        return DREGS_NO_MEMORY;
    for (i = 0; i < dim; i++)
        for (k = 0; k <= tanks; k++)
            whole[i * dim + (k < tanks ? k : dim - 1)] = map[i * (tanks + 1) + k];
    status = dregs_balance_fixed_point(&load, fresh, z);
    z[tanks] = 1.0;
    free(whole);
    return status;
}
