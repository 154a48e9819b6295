/* advance.c: from one load number to another, by single loads, by powers of a load's map up to the
 * next dump, and by powers of the dump period's map.
 */
#include "balance/map.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* into = a * z, z having `columns` columns. Written out: for the few tanks of a line the call of a
 * library's product takes ten times as long as the product. */
static void multiply(const double *a, const double *z, size_t dim, size_t columns, double *into)
{
    size_t i, j, k;

    for (i = 0; i < dim; i++) {
        double *row = into + i * columns;
        memset(row, 0, columns * sizeof *row);
        for (j = 0; j < dim; j++)
            for (k = 0; k < columns; k++)
                row[k] += a[i * dim + j] * z[j * columns + k];
    }
}

void dregs_multiply_in_place(const double *a, double *z, size_t dim, size_t columns, double *spare)
{
    multiply(a, z, dim, columns, spare);
    memcpy(z, spare, dim * columns * sizeof *z);
}

/* From `done` to `until` loads, no further apart than one dump period. */
static void walk(const dregs_map *map, unsigned solute, const struct load_map *load, double *z,
                 double *spare, size_t columns, uint64_t done, uint64_t until)
{
    while (done < until) {
        uint64_t due = dregs_dump_next(map->line, done);
        uint64_t stop = due < until ? due : until, gap = stop - done;
        unsigned j;
        for (j = 0; gap >> j; j++)
            if (gap >> j & 1)
                dregs_multiply_in_place(load->power[j], z, load->dim, columns, spare);
        done = stop;
        if (done == due)
            dregs_dump(map->line, solute, done, load->dim, z, columns);
    }
}

void dregs_one_load(const dregs_map *map, unsigned solute, const struct load_map *load, double *z,
                    double *spare, size_t columns, uint64_t done)
{
    walk(map, solute, load, z, spare, columns, done, done + 1);
}

dregs_status dregs_advance(const dregs_map *map, unsigned solute, const struct load_map *load,
                           double *z, uint64_t done, uint64_t until)
{
    size_t size = load->dim * load->dim;
    double *square, *spare;
    uint64_t aligned = (done + map->period - 1) / map->period * map->period, periods;

    if (until <= done)
        return DREGS_OK;
    square = malloc(2 * size * sizeof *square);
    if (!square)
        return DREGS_NO_MEMORY;
    spare = square + size;
    if (aligned < until) {
        walk(map, solute, load, z, spare, 1, done, aligned);
        periods = (until - aligned) / map->period;
        memcpy(square, load->period, size * sizeof *square);
        for (; periods; periods >>= 1) {
            if (periods & 1)
                dregs_multiply_in_place(square, z, load->dim, 1, spare);
            if (periods > 1)
                dregs_multiply_in_place(square, square, load->dim, load->dim, spare);
        }
        done = until - (until - aligned) % map->period;
    }
    walk(map, solute, load, z, spare, 1, done, until);
    free(square);
    return DREGS_OK;
}

/* The columns of [tanks, sums, one] that the form without sums keeps. */
static size_t kept(const struct load_map *load, size_t column)
{
    return column < load->tanks ? column : column + (load->dim > load->tanks + 1u ? 0 : STREAMS);
}

/* The powers of the load's map that one dump period needs, and the period's own map. */
static dregs_status fill_powers(const dregs_map *map, unsigned solute, struct load_map *into)
{
    size_t dim = into->dim, size = dim * dim, i;
    unsigned j;

    into->power[0] = into->load;
    for (j = 1; j < into->powers; j++) {
        into->power[j] = into->load + j * size;
        multiply(into->power[j - 1], into->power[j - 1], dim, dim, into->power[j]);
    }
    into->period = into->load + into->powers * size;
    memset(into->period, 0, size * sizeof *into->period);
    for (i = 0; i < dim; i++)
        into->period[i * dim + i] = 1.0;
    walk(map, solute, into, into->period, into->period + size, dim, 0, map->period);
    for (i = 0; i < size; i++)
        if (!isfinite(into->period[i]) || !isfinite(into->load[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

dregs_status dregs_load_map_fill(const dregs_map *map, unsigned solute, struct load_map *into,
                                 struct pass_rows *rows)
{
    size_t full = map->tanks + STREAMS + 1u, dim = into->dim, i, k;
    double *pass = malloc(3 * full * full * sizeof *pass), *interval, *whole;
    dregs_status status = DREGS_NO_MEMORY;

    into->powers = 1;
    while (map->period >> into->powers)
        into->powers++;
    into->power = calloc(into->powers, sizeof *into->power);
    into->load = malloc(dim * dim * (into->powers + 2) * sizeof *into->load); /* 2: period, spare */
    if (pass && into->power && into->load) {
        interval = pass + full * full;
        whole = interval + full * full;
        status = dregs_pass(map->line, solute, pass, rows);
        if (!status)
            status = dregs_interval(map->line, solute, interval);
        if (!status) {
            multiply(interval, pass, full, full, whole);
            for (i = 0; i < dim; i++)
                for (k = 0; k < dim; k++)
                    into->load[i * dim + k] = whole[kept(into, i) * full + kept(into, k)];
            status = fill_powers(map, solute, into);
        }
    }
    free(pass);
    return status;
}

void dregs_load_map_clear(struct load_map *load)
{
    free(load->power);
    free(load->load);
    load->power = NULL;
    load->load = NULL;
}

dregs_status dregs_fixed_point(const struct load_map *load, const double *fresh, double *z)
{
    size_t n = load->tanks, i, k;
    gsl_matrix *a;
    gsl_vector *b;
    gsl_permutation *order;
    double largest = 0.0, smallest = HUGE_VAL;
    dregs_status status = DREGS_OK;
    int sign;

    if (n == 0)
        return DREGS_OK;
    a = gsl_matrix_calloc(n, n);
    b = gsl_vector_calloc(n);
    order = gsl_permutation_alloc(n);
    if (!a || !b || !order)
        status = DREGS_NO_MEMORY;
    for (i = 0; i < n && !status; i++) {
        const double *row = load->period + i * load->dim;
        int still = row[n] == 0.0 && row[i] >= 1.0 - 1e-15;
        for (k = 0; k < n; k++) {
            gsl_matrix_set(a, i, k, (i == k) - row[k]);
            still = still && (i == k || row[k] == 0.0);
        }
        gsl_vector_set(b, i, row[n]);
        if (still) { /* nothing moves in this tank: it keeps what it began with */
            gsl_matrix_set(a, i, i, 1.0);
            gsl_vector_set(b, i, fresh[i]);
        }
    }
    if (!status && gsl_linalg_LU_decomp(a, order, &sign))
        status = DREGS_NO_STEADY;
    for (i = 0; i < n && !status; i++) {
        largest = fmax(largest, fabs(gsl_matrix_get(a, i, i)));
        smallest = fmin(smallest, fabs(gsl_matrix_get(a, i, i)));
    }
    if (!status && (!(smallest > 1e-14 * largest) || gsl_linalg_LU_svx(a, order, b)))
        status = DREGS_NO_STEADY;
    for (i = 0; i < n && !status; i++)
        if (!isfinite(gsl_vector_get(b, i)))
            status = DREGS_NO_STEADY;
    for (i = 0; i < n && !status; i++)
        z[i] = fmax(gsl_vector_get(b, i), 0.0);
    gsl_matrix_free(a);
    gsl_vector_free(b);
    gsl_permutation_free(order);
    return status;
}
