/* SPDX-License-Identifier: GPL-3.0-or-later */
/* follow.c: one linear function of what is in the tanks, load after load. Where a line is asked
 * again and again with other values, most of the time goes here.
 */
#include "balance/map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* z of one solute through one load, four rows at a time. */
static void step(const double *columns, size_t n, size_t stride, double *z, double *spare)
{
    size_t i, k;

    for (i = 0; i < stride; i += 4) {
        const double *part = columns + i, *fixed = columns + n * stride + i;
        double a = fixed[0], b = fixed[1], c = fixed[2], d = fixed[3];
        for (k = 0; k < n; k++, part += stride) {
            a += part[0] * z[k];
            b += part[1] * z[k];
            c += part[2] * z[k];
            d += part[3] * z[k];
        }
        spare[i] = a;
        spare[i + 1] = b;
        spare[i + 2] = c;
        spare[i + 3] = d;
    }
    for (i = 0; i < n; i++)
        z[i] = spare[i];
}

static double value_of(const double *row, const double *z, size_t dim)
{
    double sum = 0.0;
    size_t i;

    for (i = 0; i < dim; i++)
        sum += row[i] * z[i];
    return sum;
}

dregs_status dregs_balance_follow(const dregs_map *map, const double *begin, const double *rows,
                                  int solute, uint64_t loads, double *values)
{
    size_t dim = map->tanks + 1u, width = map->solutes * dim;
    unsigned first = solute < 0 ? 0 : (unsigned)solute, s;
    unsigned end = solute < 0 ? map->solutes : first + 1;
    uint64_t due = dregs_balance_dump_next(map->line, 0), load;
    double *z = malloc((width + map->stride + 1) * sizeof *z), *spare;

    if (!z)
        return DREGS_NO_MEMORY;
    spare = z + width;
    memcpy(z, begin, width * sizeof *z);
    for (load = 1; load <= loads; load++) {
        double sum = 0.0;
        for (s = first; s < end; s++) {
            sum += value_of(rows + s * dim, z + s * dim, dim);
            step(map->solute[s].columns, map->tanks, map->stride, z + s * dim, spare);
            if (load == due)
                dregs_balance_dump(map->line, s, load, &map->plain, z + s * dim, 1);
        }
        values[load - 1] = sum;
        if (load == due)
            due = dregs_balance_dump_next(map->line, load);
    }
    free(z);
    return DREGS_OK;
}
