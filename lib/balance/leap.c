/* SPDX-License-Identifier: GPL-3.0-or-later */
/* leap.c: many loads between two dumps at once, and how far the contents can rise on the way. */
#include "balance/map.h"

#include <string.h>

/* into = the first n rows and columns of a power of the load's map times x, and what comes in
 * whatever is in the tanks, NULL for nothing; n being a number that the compiler knows. */
static inline void apply_of(const double *power, const size_t n, size_t dim, const double *fixed,
                            const double *x, double *into)
{
    size_t i, k;

    for (i = 0; i < n; i++) {
        const double *row = power + i * dim;
        double sum = fixed ? fixed[i] : 0.0;
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

void dregs_balance_map_leap(const dregs_map *map, unsigned solute, const double *brought, double *z,
                            double *spare, uint64_t loads)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks;
    unsigned j;

    for (j = 0; loads >> j; j++)
        if (loads >> j & 1) {
            apply(dregs_balance_power(load, j), n, load->dim, brought + j * n, z, spare);
            memcpy(z, spare, n * sizeof *z);
        }
}

void dregs_balance_map_gather(const dregs_map *map, unsigned solute, const double *change,
                              double *sum, double *spare, uint64_t loads)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks, i;
    double *part = spare, *moved = spare + n; /* part: of the first 2^j loads */
    unsigned j;

    memset(sum, 0, n * sizeof *sum);
    memcpy(part, change, n * sizeof *part);
    for (j = 0; loads >> j; j++) {
        if (loads >> j & 1) {
            apply(dregs_balance_power(load, j), n, load->dim, NULL, sum, moved);
            for (i = 0; i < n; i++)
                sum[i] = part[i] + moved[i];
        }
        if (loads >> (j + 1)) {
            apply(dregs_balance_power(load, j), n, load->dim, NULL, part, moved);
            for (i = 0; i < n; i++)
                part[i] += moved[i];
        }
    }
}
