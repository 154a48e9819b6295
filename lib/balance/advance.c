/* advance.c: from one load number to another, by single loads, by powers of a load's map up to the
 * next dump, and by powers of the dump period's map.
 */
#include "balance/map.h"

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

size_t dregs_sum_row(size_t tanks, size_t dim, enum stream which)
{
    if (dim == tanks + STREAMS + 1)
        return tanks + (size_t)which;
    return dim == tanks + 2 && which >= STREAM_OVERFLOW ? tanks : 0;
}

/* Rounding leaves the columns a little off, and powers of the matrix would let that grow. */
void dregs_conserve(double *a, size_t tanks, size_t dim)
{
    size_t outs = dregs_sum_row(tanks, dim, STREAM_OVERFLOW), i, k;

    for (k = 0; outs && k < dim; k++) {
        double in = k < tanks, out = 0.0;
        if (k >= tanks && (k < dim - 1 || outs == tanks))
            continue; /* sums stay what they are; what came in is not known to every form */
        for (i = 0; i < tanks; i++)
            out += a[i * dim + k];
        for (i = outs; i < dim - 1; i++)
            out += a[i * dim + k];
        for (i = tanks; k == dim - 1 && i < outs; i++)
            in += a[i * dim + k];
        if (!(out > 0) || !(in > 0))
            continue;
        for (i = 0; i < dim - 1; i++)
            if (i < tanks || i >= outs)
                a[i * dim + k] *= in / out;
    }
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

    dregs_status status;

    if (until <= done)
        return DREGS_OK;
    if (aligned < until && until - aligned >= map->period &&
        load == &map->solute[solute].plain) {
        status = dregs_need_period(map);
        if (status)
            return status;
    }
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
            if (periods > 1) {
                dregs_multiply_in_place(square, square, load->dim, load->dim, spare);
                dregs_conserve(square, load->tanks, load->dim);
            }
        }
        done = until - (until - aligned) % map->period;
    }
    walk(map, solute, load, z, spare, 1, done, until);
    free(square);
    return DREGS_OK;
}

static dregs_status load_map_room(const dregs_map *map, struct load_map *into, size_t dim)
{
    unsigned j;

    memset(into, 0, sizeof *into);
    into->dim = dim;
    into->tanks = map->tanks;
    into->powers = 1;
    while (map->period >> into->powers)
        into->powers++;
    into->power = calloc(into->powers, sizeof *into->power);
    into->load = malloc(dim * dim * (into->powers + 2) * sizeof *into->load); /* 2: period, spare */
    if (!into->power || !into->load)
        return DREGS_NO_MEMORY;
    for (j = 0; j < into->powers; j++)
        into->power[j] = into->load + j * dim * dim;
    into->period = into->load + into->powers * dim * dim;
    return DREGS_OK;
}

/* The powers of the load's map that one dump period needs. */
static dregs_status fill_powers(struct load_map *into)
{
    size_t dim = into->dim, i;
    unsigned j;

    for (j = 1; j < into->powers; j++) {
        multiply(into->power[j - 1], into->power[j - 1], dim, dim, into->power[j]);
        dregs_conserve(into->power[j], into->tanks, dim);
    }
    for (i = 0; i < dim * dim; i++)
        if (!isfinite(into->load[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

dregs_status dregs_period_fill(const dregs_map *map, unsigned solute, struct load_map *load)
{
    size_t dim = load->dim, size = dim * dim, i;

    memset(load->period, 0, size * sizeof *load->period);
    for (i = 0; i < dim; i++)
        load->period[i * dim + i] = 1.0;
    walk(map, solute, load, load->period, load->period + size, dim, 0, map->period);
    dregs_conserve(load->period, load->tanks, dim);
    for (i = 0; i < size; i++)
        if (!isfinite(load->period[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

/* The matrix of one load with all sums: the interval after the pass. */
static dregs_status load_matrix(const dregs_map *map, unsigned solute, double *load,
                                struct pass_rows *rows)
{
    size_t dim = map->tanks + STREAMS + 1u;
    double *pass = malloc(2 * dim * dim * sizeof *pass), *interval;
    dregs_status status;

    if (!pass)
        return DREGS_NO_MEMORY;
    interval = pass + dim * dim;
    status = dregs_pass(map->line, solute, pass, rows);
    if (!status)
        status = dregs_interval(map->line, solute, interval);
    if (!status) {
        multiply(interval, pass, dim, dim, load);
        dregs_conserve(load, map->tanks, dim);
    }
    free(pass);
    return status;
}

dregs_status dregs_load_map_full(const dregs_map *map, unsigned solute, struct load_map *into,
                                 struct pass_rows *rows)
{
    dregs_status status = load_map_room(map, into, map->tanks + STREAMS + 1u);

    if (!status)
        status = load_matrix(map, solute, into->load, rows);
    if (!status)
        status = fill_powers(into);
    return status ? status : dregs_period_fill(map, solute, into);
}

/* One entry of the matrix with one sum from that with all of them. */
static double folded(const double *full, size_t tanks, size_t row, size_t column)
{
    size_t dim = tanks + STREAMS + 1, i;
    double sum = 0.0;

    column = column < tanks ? column : column == tanks ? tanks + STREAM_OVERFLOW : dim - 1;
    if (row != tanks)
        return full[(row < tanks ? row : dim - 1) * dim + column];
    for (i = tanks + STREAM_OVERFLOW; i < dim - 1; i++)
        sum += full[i * dim + column];
    return sum;
}

dregs_status dregs_load_map_closed(const dregs_map *map, unsigned solute, struct load_map *into,
                                   struct pass_rows *rows)
{
    size_t dim = map->tanks + STREAMS + 1u, i, k;
    dregs_status status = load_map_room(map, into, map->tanks + 2u);
    double *full = malloc(dim * dim * sizeof *full);

    if (!status)
        status = full ? load_matrix(map, solute, full, rows) : DREGS_NO_MEMORY;
    if (!status) {
        for (i = 0; i < into->dim; i++)
            for (k = 0; k < into->dim; k++)
                into->load[i * into->dim + k] = folded(full, map->tanks, i, k);
        status = fill_powers(into);
    }
    free(full);
    return status;
}

void dregs_leave_out_sum(size_t n, const double *from, double *to)
{
    size_t i, k;

    for (i = 0; i <= n; i++)
        for (k = 0; k <= n; k++)
            to[i * (n + 1) + k] = from[(i < n ? i : n + 1) * (n + 2) + (k < n ? k : n + 1)];
}

dregs_status dregs_load_map_plain(const dregs_map *map, const struct load_map *closed,
                                  struct load_map *into)
{
    dregs_status status = load_map_room(map, into, map->tanks + 1u);
    unsigned j;

    for (j = 0; j < into->powers && !status; j++)
        dregs_leave_out_sum(map->tanks, closed->power[j], into->power[j]);
    return status;
}

void dregs_load_map_clear(struct load_map *load)
{
    free(load->power);
    free(load->load);
    load->power = NULL;
    load->load = NULL;
}

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
dregs_status dregs_fixed_point(const struct load_map *load, const double *fresh, double *z)
{
    size_t n = load->tanks, width = n + 1, dim = load->dim, i, k;
    double *p = calloc(n * width + 2 * n + 1, sizeof *p), *loss = p + n * width, *leaves = loss + n;
    unsigned char supplied[DREGS_LINE_STAGES];
    dregs_status status = DREGS_OK;

    if (!p)
        return DREGS_NO_MEMORY;
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
