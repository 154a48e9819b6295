/* SPDX-License-Identifier: GPL-3.0-or-later */
/* interval.c: the time between two loads, integrated exactly (section "between loads" of
 * dregs-model(7)).
 *
 * The rates form a matrix whose entries off the diagonal are all >= 0. Shifted by its largest
 * outflow it has no negative entry at all, so the exponential is a sum without cancellation and
 * every entry keeps its relative accuracy, however small it is.
 */
#include "balance/map.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_matrix.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct rates {
    const dregs_line *line;
    unsigned solute, tanks;
    size_t dim;
    double *g; /* dim x dim, 1/s; kg/s in the last column */
};

/* Liquid that leaves tank `from` at a volume rate, with its solute, for row `to`. */
static void flows(struct rates *r, unsigned from, size_t to, double rate)
{
    double share = rate / dregs_line_tank(r->line, from)->volume;

    r->g[from * r->dim + from] -= share;
    r->g[to * r->dim + from] += share;
}

static void feeds(struct rates *r, unsigned tank, double mass_rate)
{
    r->g[tank * r->dim + r->dim - 1] += mass_rate;
    r->g[(r->tanks + (size_t)STREAM_FED) * r->dim + r->dim - 1] += mass_rate;
}

static double fresh(const struct rates *r, dregs_link liquid)
{
    return dregs_line_fluid(r->line, liquid.index)->content[r->solute].si;
}

static void tank_rates(struct rates *r, unsigned tank)
{
    const dregs_tank *t = dregs_line_tank(r->line, tank);
    const dregs_stage *stage = dregs_line_stage(r->line, t->stage);

    feeds(r, tank, t->flow * fresh(r, stage->feed));
    if (stage->top_up_from.kind == DREGS_LINK_STAGE)
        flows(r, (unsigned)dregs_line_stage(r->line, stage->top_up_from.index)->tank, tank,
              t->top_up);
    else
        feeds(r, tank, t->top_up * fresh(r, stage->top_up_from));
    flows(r, tank,
          stage->overflow_to.kind == DREGS_LINK_STAGE
              ? (size_t)dregs_line_stage(r->line, stage->overflow_to.index)->tank
              : r->tanks + (size_t)STREAM_OVERFLOW,
          t->overflow);
    flows(r, tank, r->tanks + (size_t)STREAM_CLEARED, stage->clearing[r->solute].si);
}

/* Squaring doubles the relative error every time; put right after each, mass is kept to rounding
 * however often it is done, and nothing can grow by itself. */
static void put_right(double *e, unsigned tanks, size_t dim)
{
    size_t i;

    for (i = tanks; i < dim; i++)
        e[i * dim + i] = 1.0;
    dregs_conserve(e, tanks, dim);
}

/* The power of two by which the last column of g is divided here. It holds kg/s, whatever their
 * size: the exponential shall not be scaled for them. The result is linear in that column, and a
 * power of two costs no digit. */
static int scale_feeds(double *g, size_t dim, double time)
{
    double most = 0.0;
    int unit = 0;
    size_t i;

    for (i = 0; i + 1 < dim; i++)
        most = fmax(most, g[i * dim + dim - 1] * time);
    if (most > 0)
        (void)frexp(most, &unit);
    for (i = 0; i + 1 < dim; i++)
        g[i * dim + dim - 1] = ldexp(g[i * dim + dim - 1], -unit);
    return unit;
}

/* Makes g the shifted matrix g * time / 2^halvings + shift, which has no negative entry and a
 * small exponential; returns the halvings. */
static int shift_rates(double *g, size_t dim, double time, double *shift)
{
    int halvings = 0;
    double scale;
    size_t i;

    *shift = 0.0;
    for (i = 0; i < dim; i++)
        *shift = fmax(*shift, -g[i * dim + i] * time);
    for (; *shift > 8.0; halvings++)
        *shift /= 2;
    scale = ldexp(time, -halvings);
    for (i = 0; i < dim * dim; i++)
        g[i] *= scale;
    for (i = 0; i < dim; i++)
        g[i * dim + i] += *shift;
    return halvings;
}

/* exp(g * time) into g; g has no negative entry off its diagonal. */
static dregs_status exponential(double *g, unsigned tanks, size_t dim, double time)
{
    enum { HALVINGS_MOST = 30 }; /* a billion exchanges of a tank in one interval */
    double *sum = calloc(2 * dim * dim, sizeof *sum), *square, shift;
    gsl_matrix_view from = gsl_matrix_view_array(g, dim, dim), to, spare;
    int unit, halvings;
    size_t i;

    if (!sum)
        return DREGS_NO_MEMORY;
    square = sum + dim * dim;
    to = gsl_matrix_view_array(sum, dim, dim);
    spare = gsl_matrix_view_array(square, dim, dim);
    unit = scale_feeds(g, dim, time);
    halvings = shift_rates(g, dim, time, &shift);
    if (halvings > HALVINGS_MOST ||
        gsl_linalg_exponential_ss(&from.matrix, &to.matrix, GSL_PREC_DOUBLE)) {
        free(sum);
        return DREGS_NUMERIC;
    }
    for (i = 0; i < dim * dim; i++)
        sum[i] *= exp(-shift);
    put_right(sum, tanks, dim);
    for (; halvings > 0; halvings--) {
        (void)gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1.0, &to.matrix, &to.matrix, 0.0,
                             &spare.matrix); /* fails on a mismatch of sizes only */
        memcpy(sum, square, dim * dim * sizeof *sum);
        put_right(sum, tanks, dim);
    }
    for (i = 0; i + 1 < dim; i++)
        sum[i * dim + dim - 1] = ldexp(sum[i * dim + dim - 1], unit);
    memcpy(g, sum, dim * dim * sizeof *g);
    free(sum);
    for (i = 0; i < dim * dim; i++)
        if (!isfinite(g[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

dregs_status dregs_interval(const dregs_line *line, unsigned solute, double *interval)
{
    unsigned tanks = dregs_line_tanks(line), t;
    struct rates r = {line, solute, tanks, tanks + STREAMS + 1, interval};

    memset(interval, 0, r.dim * r.dim * sizeof *interval);
    for (t = 0; t < tanks; t++)
        tank_rates(&r, t);
    return exponential(interval, tanks, r.dim, dregs_line_load(line)->interval.si);
}
