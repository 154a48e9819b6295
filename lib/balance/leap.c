/* SPDX-License-Identifier: GPL-3.0-or-later */
/* leap.c: many loads between two dumps at once, and how far the contents can rise on the way. */
#include "balance/map.h"

#include <string.h>

/* into = the first n rows and columns of a power of the load's map times x, and, `fixed` 1, what
 * comes in whatever is in the tanks. */
static void apply(const double *power, size_t n, size_t dim, double fixed, const double *x,
                  double *into)
{
    size_t i, k;

    for (i = 0; i < n; i++) {
        const double *row = power + i * dim;
        double sum = fixed * row[dim - 1];
        for (k = 0; k < n; k++)
            sum += row[k] * x[k];
        into[i] = sum;
    }
}

void dregs_balance_map_leap(const dregs_map *map, unsigned solute, double *z, double *spare,
                            uint64_t loads)
{
    const struct load_map *load = &map->solute[solute].plain;
    size_t n = map->tanks;
    unsigned j;

    for (j = 0; loads >> j; j++)
        if (loads >> j & 1) {
            apply(load->power[j], n, load->dim, 1.0, z, spare);
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
            apply(load->power[j], n, load->dim, 0.0, sum, moved);
            for (i = 0; i < n; i++)
                sum[i] = part[i] + moved[i];
        }
        if (loads >> (j + 1)) {
            apply(load->power[j], n, load->dim, 0.0, part, moved);
            for (i = 0; i < n; i++)
                part[i] += moved[i];
        }
    }
}
