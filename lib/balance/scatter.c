/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* scatter.c: mean and variance of what a load leaves, on a line whose values differ from load to
 * load (section "load to load" of dregs-model(7)).
 *
 * A load takes the masses x, with a last component 1, to A x, and what is asked of it is g' x; A
 * and g are drawn anew for every load, so x does not know them. The second moments of two solutes,
 * S = E[x_a x_b'], then go to E[A_a S A_b'], a linear map of the entries of S: the matrix
 * E[A_a (x) A_b]. Nothing is cut off: with the moments of the map those of the masses are exact.
 * Because the last component is 1 the last column of S is the mean.
 */
#include "balance/map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

/* The moments of a pair of solutes; `size` is the square of n + 1. */
struct pair {
    unsigned a, b;
    double *asked;  /* E[g_a (x) g_b], size */
    double *load;   /* E[A_a (x) A_b], size x size, of each kind of loads */
    double **power; /* the loads of a cycle, ^(2^j) */
    double *period; /* a whole dump period */
};

struct dregs_scatter {
    const dregs_map *map; /* of the line as it is stated */
    unsigned first, solutes;
    size_t width, size;
    unsigned pairs, powers, kinds;
    struct pair *pair;
    double *mean; /* E[g], solutes x width */
};

enum { SIZE_MOST = 200 };
#define WORK_MOST 3e9 /* products, for a dump period of all pairs */

/* Dumps of a period, each of which takes a product of two matrices. */
static double dumps_of(const dregs_map *map)
{
    uint64_t done = 0;
    double count = 0;

    while ((done = dregs_balance_dump_next(map->line, done)) <= map->period && count < 1e6)
        count++;
    return count;
}

static int pair_room(struct dregs_scatter *s, struct pair *pair)
{
    size_t square = s->size * s->size, kinds = s->kinds > 1 ? s->kinds : 0; /* else power[0] */
    unsigned j;

    pair->asked = calloc(s->size + square * (kinds + s->powers + 1), sizeof *pair->asked);
    pair->power = calloc(s->powers, sizeof *pair->power);
    if (!pair->asked || !pair->power)
        return 0;
    pair->load = pair->asked + s->size;
    for (j = 0; j < s->powers; j++)
        pair->power[j] = pair->load + (kinds + j) * square;
    pair->period = pair->load + (kinds + s->powers) * square;
    return 1;
}

void dregs_balance_scatter_free(dregs_scatter *s)
{
    unsigned i;

    if (!s)
        return;
    for (i = 0; s->pair && i < s->pairs; i++) {
        free(s->pair[i].asked);
        free(s->pair[i].power);
    }
    free(s->pair);
    free(s->mean);
    free(s);
}

dregs_status dregs_balance_scatter_new(const dregs_map *map, int solute, dregs_scatter **scatter)
{
    dregs_scatter *s = calloc(1, sizeof *s);
    unsigned a, b, i = 0;
    double cube, once;
    int good;

    if (!s)
        return DREGS_NO_MEMORY;
    s->map = map;
    s->first = solute < 0 ? 0 : (unsigned)solute;
    s->solutes = solute < 0 ? map->solutes : 1;
    s->width = map->tanks + 1u;
    s->size = s->width * s->width;
    s->pairs = s->solutes * (s->solutes + 1) / 2;
    s->kinds = dregs_line_kinds(map->line);
    for (s->powers = 1; map->period / map->cycle >> s->powers;)
        s->powers++;
    cube = pow((double)s->size, 3) * s->pairs;
    once = s->kinds > 1 ? (double)(2 * map->cycle) : 0; /* loads beside whole cycles */
    if (s->size > SIZE_MOST ||
        cube * (s->powers + once + dumps_of(map) * (s->powers + once)) > WORK_MOST) {
        free(s);
        return DREGS_OUT_OF_RANGE;
    }
    s->pair = calloc(s->pairs, sizeof *s->pair);
    s->mean = calloc(s->solutes * s->width, sizeof *s->mean);
    good = s->pair && s->mean;
    for (a = 0; a < s->solutes && good; a++)
        for (b = a; b < s->solutes && good; b++) {
            s->pair[i].a = a;
            s->pair[i].b = b;
            good = pair_room(s, &s->pair[i++]);
        }
    if (!good) {
        dregs_balance_scatter_free(s);
        return DREGS_NO_MEMORY;
    }
    *scatter = s;
    return DREGS_OK;
}

/* to += weight a (x) b, of rows x width each */
static void add_product(double *to, double weight, const double *a, const double *b, size_t rows,
                        size_t width)
{
    size_t i, j, k, l;

    for (i = 0; i < rows; i++)
        for (j = 0; j < rows; j++)
            for (k = 0; k < width; k++)
                for (l = 0; l < width; l++)
                    to[((i * rows + j) * width + k) * width + l] +=
                        weight * a[i * width + k] * b[j * width + l];
}

void dregs_balance_scatter_add(dregs_scatter *s, double weight, const dregs_map *map,
                               const double *rows)
{
    size_t one = s->width * s->width, k;
    unsigned i;

    for (i = 0; i < s->pairs; i++) {
        unsigned a = s->pair[i].a, b = s->pair[i].b;
        for (k = 0; k < s->kinds; k++)
            add_product(s->pair[i].load + k * s->size * s->size, weight,
                        map->solute[s->first + a].plain.load + k * one,
                        map->solute[s->first + b].plain.load + k * one, s->width, s->width);
        add_product(s->pair[i].asked, weight, rows + a * s->width, rows + b * s->width, 1,
                    s->width);
    }
    for (k = 0; k < s->solutes * s->width; k++)
        s->mean[k] += weight * rows[k];
}

/* ---- dumps: the same for every load, (D_a (x) D_b) ---- */

static dregs_status dump(const dregs_scatter *s, const struct pair *pair, uint64_t done, double *z,
                         size_t columns)
{
    size_t square = s->size * s->size, w = s->width, i;
    double *both = calloc(square + s->size * columns + 2 * w * w, sizeof *both);
    double *spare, *a, *b;

    if (!both)
        return DREGS_NO_MEMORY;
    spare = both + square;
    a = spare + s->size * columns;
    b = a + w * w;
    for (i = 0; i < w; i++)
        a[i * w + i] = b[i * w + i] = 1.0;
    dregs_balance_dump(s->map->line, s->first + pair->a, done, &s->map->plain, a, w);
    dregs_balance_dump(s->map->line, s->first + pair->b, done, &s->map->plain, b, w);
    add_product(both, 1.0, a, b, w, w);
    dregs_balance_multiply_in_place(both, z, s->size, columns, spare);
    free(both);
    return DREGS_OK;
}

/* One load, `done` before it. */
static void one_load(const dregs_scatter *s, const struct pair *pair, double *z, double *spare,
                     size_t columns, uint64_t done)
{
    size_t kind = dregs_line_kind_at(s->map->line, done + 1);

    dregs_balance_multiply_in_place(pair->load + kind * s->size * s->size, z, s->size, columns,
                                    spare);
}

/* Loads with no dump among them, as in advance.c. */
static void pass(const dregs_scatter *s, const struct pair *pair, double *z, double *spare,
                 size_t columns, uint64_t done, uint64_t stop)
{
    uint64_t cycle = s->map->cycle, cycles;
    unsigned j;

    for (; done % cycle && done < stop; done++)
        one_load(s, pair, z, spare, columns, done);
    cycles = (stop - done) / cycle;
    for (j = 0; cycles >> j; j++)
        if (cycles >> j & 1)
            dregs_balance_multiply_in_place(pair->power[j], z, s->size, columns, spare);
    for (done += cycles * cycle; done < stop; done++)
        one_load(s, pair, z, spare, columns, done);
}

/* z (size x columns) from `done` loads to `until`, no further apart than a period. */
static dregs_status walk(const dregs_scatter *s, const struct pair *pair, double *z, double *spare,
                         size_t columns, uint64_t done, uint64_t until)
{
    dregs_status status = DREGS_OK;

    while (done < until && !status) {
        uint64_t due = dregs_balance_dump_next(s->map->line, done);
        uint64_t stop = due < until ? due : until;
        pass(s, pair, z, spare, columns, done, stop);
        done = stop;
        if (done == due)
            status = dump(s, pair, done, z, columns);
    }
    return status;
}

/* The powers and the period, once all of the map's draws are in. */
static dregs_status fill_pair(const dregs_scatter *s, struct pair *pair, double *spare)
{
    size_t i, size = s->size;
    uint64_t done;
    unsigned j;

    for (i = 0; s->kinds > 1 && i < size; i++)
        pair->power[0][i * size + i] = 1.0;
    for (done = 0; s->kinds > 1 && done < s->map->cycle; done++)
        one_load(s, pair, pair->power[0], spare, size, done);
    for (j = 1; j < s->powers; j++)
        dregs_balance_multiply(pair->power[j - 1], pair->power[j - 1], size, size, pair->power[j]);
    memset(pair->period, 0, size * size * sizeof *pair->period);
    for (i = 0; i < size; i++)
        pair->period[i * size + i] = 1.0;
    return walk(s, pair, pair->period, spare, size, 0, s->map->period);
}

/* ---- the moments before a load ---- */

/* Those that a period leaves as they are: z = (z', 1) with (1 - P') z' = p. */
static dregs_status repeat(const dregs_scatter *s, const struct pair *pair, double *z)
{
    size_t size = s->size, n = size - 1, i, k;
    gsl_matrix *m = n ? gsl_matrix_alloc(n, n) : NULL;
    gsl_vector *right = n ? gsl_vector_alloc(n) : NULL, *x = n ? gsl_vector_alloc(n) : NULL;
    gsl_permutation *order = n ? gsl_permutation_alloc(n) : NULL;
    dregs_status status = !n || (m && right && x && order) ? DREGS_OK : DREGS_NO_MEMORY;
    int sign;

    for (i = 0; i < n && !status; i++) {
        gsl_vector_set(right, i, pair->period[i * size + n]);
        for (k = 0; k < n; k++)
            gsl_matrix_set(m, i, k, (double)(i == k) - pair->period[i * size + k]);
    }
    if (n && !status &&
        (gsl_linalg_LU_decomp(m, order, &sign) || gsl_linalg_LU_solve(m, order, right, x)))
        status = DREGS_NUMERIC;
    z[n] = 1.0;
    for (i = 0; i < n && !status; i++) {
        z[i] = gsl_vector_get(x, i);
        if (!isfinite(z[i]))
            status = DREGS_NUMERIC;
    }
    gsl_matrix_free(m);
    gsl_vector_free(right);
    gsl_vector_free(x);
    gsl_permutation_free(order);
    return status;
}

/* Those of the fresh start, `periods` periods later; power and spare are matrices. */
static void leap(const dregs_scatter *s, const struct pair *pair, uint64_t periods, double *z,
                 double *power, double *spare)
{
    const double *a = s->map->solute[s->first + pair->a].fresh;
    const double *b = s->map->solute[s->first + pair->b].fresh;
    size_t i, k, w = s->width;

    for (i = 0; i < w; i++)
        for (k = 0; k < w; k++)
            z[i * w + k] = a[i] * b[k];
    memcpy(power, pair->period, s->size * s->size * sizeof *power);
    for (; periods; periods >>= 1) {
        if (periods & 1)
            dregs_balance_multiply_in_place(power, z, s->size, 1, spare);
        if (periods > 1)
            dregs_balance_multiply_in_place(power, power, s->size, s->size, spare);
    }
}

/* Adds what a pair has to say of the mean and the mean square of what is asked. */
static dregs_status add_pair(const dregs_scatter *s, struct pair *pair, uint64_t load, int repeats,
                             double *mean, double *square)
{
    size_t size = s->size, i;
    double *spare = malloc((2 * size * size + size) * sizeof *spare), *power, *z;
    uint64_t periods = (load - 1) / s->map->period, done = (load - 1) % s->map->period;
    dregs_status status = spare ? fill_pair(s, pair, spare) : DREGS_NO_MEMORY;

    if (status) {
        free(spare);
        return status;
    }
    power = spare + size * size;
    z = power + size * size;
    if (repeats)
        status = repeat(s, pair, z);
    else
        leap(s, pair, periods, z, power, spare);
    if (!status)
        status = walk(s, pair, z, spare, 1, 0, done);
    for (i = 0; i < size && !status; i++)
        *square += (pair->a == pair->b ? 1 : 2) * pair->asked[i] * z[i];
    for (i = 0; i < s->width && pair->a == pair->b && !status; i++)
        *mean += s->mean[pair->a * s->width + i] * z[i * s->width + s->width - 1];
    free(spare);
    return status;
}

dregs_status dregs_balance_scatter_at(dregs_scatter *s, uint64_t load, int repeats, double *mean,
                                      double *sd)
{
    double first = 0, square = 0, variance;
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < s->pairs && !status; i++)
        status = add_pair(s, &s->pair[i], load, repeats, &first, &square);
    variance = square - first * first;
    if (!status && (!isfinite(first) || !isfinite(square) || variance < -1e-9 * square))
        status = DREGS_NUMERIC;
    if (status)
        return status;
    *mean = first;
    *sd = variance > 1e-12 * square ? sqrt(variance) : 0.0; /* below that it is rounding */
    return DREGS_OK;
}
