/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* leap.c: many loads between two dumps at once, and how far the contents can rise on the way. */
#include "balance/map.h"

#include <string.h>

/* into = the first n rows and columns of a power of the load's map times x, and what comes in
 * whatever is in the tanks, NULL for nothing; n being a number that the compiler knows. */
static inline void apply_of(const double *power, const size_t n, size_t dim, const double *fixed,
                            const double *x, double *into)
{
    size_t i, k;

#pragma GCC unroll 5
    for (i = 0; i < n; i++) {
        const double *row = power + i * dim;
        double sum = fixed ? fixed[i] : 0.0;
#pragma GCC unroll 5
        for (k = 0; k < n; k++)
            sum += row[k] * x[k];
        into[i] = sum;
    }
}

static void apply(const double *power, size_t n, size_t dim, const double *fixed, const double *x,
                  double *into)
{
    switch (n) {
    case 2:
        apply_of(power, 2, dim, fixed, x, into);
        break;
    case 3:
        apply_of(power, 3, dim, fixed, x, into);
        break;
    case 4:
        apply_of(power, 4, dim, fixed, x, into);
        break;
    case 5:
        apply_of(power, 5, dim, fixed, x, into);
        break;
    default:
        apply_of(power, n, dim, fixed, x, into);
    }
}

unsigned dregs_balance_map_powers(const dregs_map *map)
{
    return map->solute[0].plain.powers;
}

void dregs_balance_map_brings(const dregs_map *map, unsigned solute, double *brought)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks, i;
    unsigned j;

    for (j = 0; j < load->powers; j++)
        for (i = 0; i < n; i++)
            brought[j * n + i] += dregs_balance_power(load, j)[i * load->dim + n];
}

void dregs_balance_map_leap(const dregs_map *map, unsigned solute, const double *brought,
                            unsigned power, const double *z, double *into)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks;

    apply(dregs_balance_power(load, power), n, load->dim, brought ? brought + power * n : NULL, z,
          into);
}

void dregs_balance_map_gather(const dregs_map *map, unsigned solute, const double *row,
                              double *gathered)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks, i, k;
    unsigned j;

    memcpy(gathered, row, n * sizeof *row);
    for (j = 1; j < load->powers; j++, gathered += n) {
        const double *power = dregs_balance_power(load, j - 1);
        double *twice = gathered + n;
        memcpy(twice, gathered, n * sizeof *twice);
        for (i = 0; i < n; i++)
            for (k = 0; k < n; k++)
                twice[k] += gathered[i] * power[i * load->dim + k];
    }
}
