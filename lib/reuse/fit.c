/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fit.c: the unknowns of one regime by nonlinear least squares (GSL, Levenberg-Marquardt).
 *
 * The belief before the readings is a normal distribution of the unknowns; it enters as as many
 * further readings. Near the solution the readings are nearly linear in the unknowns, so that what
 * is believed after them is normal too, with the inverse of J'J as its covariance.
 */
#include "reuse/inside.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

double dregs_reuse_rows_count(const dregs_reading *reading)
{
    static const double most = 16;

    return fmin((double)reading->rows, most);
}

double dregs_reuse_meter_sd(const dregs_reuse *reuse, size_t reading, double expected)
{
    const struct channel *channel = &reuse->channel[reuse->channel_of[reading]];
    const dregs_reading *read = dregs_readings_at(reuse->readings, reading);
    double one = channel->noise;

    if (read->sd > 0)
        one = read->sd;
    else if (!channel->absolute)
        one = channel->noise *
              fmax(fabs(expected - channel->clean), DREGS_LEAST_SHARE * channel->mean);
    /* a scatter that the log tells, or a row, has the rounding in it */
    one = read->sd > 0 || channel->freedom > 0 ? fmax(one, read->least) : hypot(one, read->least);
    return one / sqrt(dregs_reuse_rows_count(read));
}

double dregs_reuse_quantile(const dregs_reuse *reuse, double share, double after, double before)
{
    double normal = gsl_cdf_ugaussian_Pinv(share), learned = before > 0 ? 1 - after / before : 1;

    if (!reuse->basis.freedom)
        return normal;
    return normal + fmax(learned, 0.0) * (gsl_cdf_tdist_Pinv(share, reuse->basis.freedom) - normal);
}

struct unknowns dregs_reuse_unknowns(const struct belief *belief)
{
    struct unknowns made = {0, {0}};
    unsigned k;

    for (k = 0; k < Q_MOST; k++)
        if (belief->cov[k][k] > 0)
            made.of[made.count++] = (unsigned char)k;
    return made;
}

struct fit {
    const dregs_reuse *reuse;
    const struct regime *regime;
    size_t to;
    struct unknowns unknowns;
    double *expected, *trial, *moved; /* per reading; indexed like readings */
    double at[Q_MOST];                /* the unknowns that `trial` holds for */
    unsigned char deaf[Q_MOST];       /* no reading changes with it */
    int heard_all;                    /* `deaf` is set */
    double *weight; /* of the belief before: L' with L L' = the inverse of its cov */
    size_t used;
    dregs_status status;
    int out_of_memory; /* at some trial: a search that goes on without it ends elsewhere */
};

static int takes(const struct fit *fit, size_t i)
{
    return fit->reuse->heard[i].heard == DREGS_HEARD_USED;
}

/* expected at q; DREGS_OK or why not */
static dregs_status expect(const dregs_reuse *reuse, const struct regime *regime, const double *q,
                           size_t to, double *expected)
{
    struct engine engine = {0};
    dregs_status status = dregs_reuse_engine_at(reuse, regime, q, &engine);

    if (!status)
        status = dregs_reuse_march(reuse, &engine, regime->about.begin, to, expected);
    dregs_reuse_engine_clear(&engine);
    return status;
}

/* The same within a search. */
static dregs_status expect_within(struct fit *fit, const double *q, double *expected)
{
    fit->status = expect(fit->reuse, fit->regime, q, fit->to, expected);
    if (fit->status == DREGS_NO_MEMORY)
        fit->out_of_memory = 1;
    return fit->status;
}

/* The inverse of the covariance as L L', kept as L'. */
static dregs_status weigh(struct fit *fit)
{
    const struct belief *before = &fit->regime->before;
    unsigned n = fit->unknowns.count, i, k;
    gsl_matrix_view view = gsl_matrix_view_array(fit->weight, n, n);

    for (i = 0; i < n; i++)
        for (k = 0; k < n; k++)
            fit->weight[i * n + k] = before->cov[fit->unknowns.of[i]][fit->unknowns.of[k]];
    if (gsl_linalg_cholesky_decomp1(&view.matrix) || gsl_linalg_cholesky_invert(&view.matrix) ||
        gsl_linalg_cholesky_decomp1(&view.matrix))
        return DREGS_NUMERIC;
    for (i = 0; i < n; i++)
        for (k = i + 1; k < n; k++) {
            fit->weight[i * n + k] = fit->weight[k * n + i];
            fit->weight[k * n + i] = 0;
        }
    return DREGS_OK;
}

/* Works out `trial` for the unknowns of a search. */
static dregs_status go_to(struct fit *fit, const gsl_vector *x)
{
    unsigned k;

    memcpy(fit->at, fit->regime->before.mean, sizeof fit->at);
    for (k = 0; k < fit->unknowns.count; k++)
        fit->at[fit->unknowns.of[k]] = gsl_vector_get(x, k);
    return expect_within(fit, fit->at, fit->trial);
}

static int left_over(const gsl_vector *x, void *user, gsl_vector *out)
{
    struct fit *fit = user;
    const struct belief *before = &fit->regime->before;
    unsigned n = fit->unknowns.count, a, b;
    size_t i, at = 0;

    if (go_to(fit, x))
        return GSL_EDOM;
    for (i = fit->regime->about.begin; i < fit->to; i++) {
        const dregs_reading *reading = dregs_readings_at(fit->reuse->readings, i);
        if (!takes(fit, i))
            continue;
        /* weighed by what was expected before: the scatter must not be an unknown of its own */
        gsl_vector_set(out, at++,
                       isfinite(fit->trial[i])
                           ? dregs_reuse_left(reading, fit->trial[i],
                                              dregs_reuse_meter_sd(fit->reuse, i, fit->expected[i]))
                           : 1e3); /* a calibration's end was passed: away from here */
    }
    for (a = 0; a < n; a++) {
        double sum = 0;
        for (b = 0; b < n; b++)
            sum +=
                fit->weight[a * n + b] * (gsl_vector_get(x, b) - before->mean[fit->unknowns.of[b]]);
        gsl_vector_set(out, at++, sum);
    }
    return GSL_SUCCESS;
}

/* How what is left over changes with the unknown in column `k`; 1 when any reading does. */
static int slope(struct fit *fit, unsigned k, gsl_matrix *out)
{
    static const double step = 1e-4;
    double q[Q_MOST];
    int any = 0;
    size_t i, at = 0;

    memcpy(q, fit->at, sizeof q);
    q[fit->unknowns.of[k]] += step;
    (void)expect_within(fit, q, fit->moved);
    for (i = fit->regime->about.begin; i < fit->to && !fit->status; i++) {
        double change, sd;
        if (!takes(fit, i))
            continue;
        change = (fit->moved[i] - fit->trial[i]) / step;
        any |= isfinite(change) && fabs(change) > 0;
        sd = dregs_reuse_meter_sd(fit->reuse, i, fit->expected[i]);
        gsl_matrix_set(out, at++, k,
                       isfinite(change)
                           ? change / sd *
                                 dregs_reuse_left_slope(dregs_readings_at(fit->reuse->readings, i),
                                                        fit->trial[i], sd)
                           : 0.0);
    }
    return any;
}

static int slopes(const gsl_vector *x, void *user, gsl_matrix *out)
{
    struct fit *fit = user;
    unsigned n = fit->unknowns.count, k, a;
    int same = 1;

    for (k = 0; k < n; k++) /* the search asks for it where it just was */
        same = same && !(fabs(fit->at[fit->unknowns.of[k]] - gsl_vector_get(x, k)) > 0);
    if (!same && go_to(fit, x))
        return GSL_EDOM;
    gsl_matrix_set_zero(out);
    for (k = 0; k < n; k++) {
        /* when a change began is nothing as long as it is none */
        if (!fit->deaf[k] && !slope(fit, k, out) && !fit->heard_all)
            fit->deaf[k] = fit->unknowns.of[k] != Q_BEGIN;
        if (fit->status)
            return GSL_EDOM;
        for (a = 0; a < n; a++)
            gsl_matrix_set(out, fit->used + a, k, fit->weight[a * n + k]);
    }
    fit->heard_all = 1;
    return GSL_SUCCESS;
}

/* The inverse of J' J as G G' with G the inverse of R of J = Q R, in the room of J, which the
 * search needs no more: gsl_multifit_nlinear_covar does not look whether it got the memory it asks
 * for. */
static dregs_status keep(const struct fit *fit, gsl_multifit_nlinear_workspace *work,
                         struct belief *after)
{
    unsigned n = fit->unknowns.count, i, k, j;
    gsl_matrix *j_of = gsl_multifit_nlinear_jac(work);
    double tau[Q_MOST], cov;
    gsl_vector_view scales = gsl_vector_view_array(tau, n);
    gsl_matrix_view g = gsl_matrix_submatrix(j_of, 0, 0, n, n);
    dregs_status status = DREGS_OK;

    if (gsl_linalg_QR_decomp(j_of, &scales.vector) ||
        gsl_linalg_tri_invert(CblasUpper, CblasNonUnit, &g.matrix))
        return DREGS_NUMERIC;
    for (i = 0; i < n && !status; i++) {
        unsigned to = fit->unknowns.of[i];
        after->mean[to] = gsl_vector_get(gsl_multifit_nlinear_position(work), i);
        for (k = 0; k < n; k++) {
            cov = 0;
            for (j = i > k ? i : k; j < n; j++)
                cov += gsl_matrix_get(&g.matrix, i, j) * gsl_matrix_get(&g.matrix, k, j);
            after->cov[to][fit->unknowns.of[k]] = cov;
            if (!isfinite(cov) || !isfinite(after->mean[to]))
                status = DREGS_NUMERIC;
        }
    }
    return status;
}

static double chi_of(const gsl_multifit_nlinear_workspace *work)
{
    double chi = NAN;

    (void)gsl_blas_ddot(gsl_multifit_nlinear_residual(work), gsl_multifit_nlinear_residual(work),
                        &chi);
    return chi;
}

/* Until chi squared stays: by so little it changes a thousandth of a standard deviation off the
 * least. No progress is a good end too. */
static double go_down(gsl_multifit_nlinear_workspace *work)
{
    enum { ROUNDS = 40 };
    static const double enough = 1e-6;
    double chi = chi_of(work), was = HUGE_VAL;
    int round;

    for (round = 0; round < ROUNDS && !(was - chi < enough); round++) {
        was = chi;
        if (gsl_multifit_nlinear_iterate(work))
            break;
        chi = chi_of(work);
    }
    return chi;
}

static dregs_status search(struct fit *fit, struct belief *after, double *chi)
{
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    unsigned n = fit->unknowns.count, k;
    gsl_multifit_nlinear_fdf system = {left_over, slopes, NULL, fit->used + n, n, fit, 0, 0, 0};
    double first[Q_MOST];
    gsl_vector_const_view start = gsl_vector_const_view_array(first, n);
    gsl_multifit_nlinear_workspace *work;
    dregs_status status = DREGS_OK;

    for (k = 0; k < n; k++)
        first[k] = after->mean[fit->unknowns.of[k]];
    work = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, fit->used + n, n);
    if (!work)
        return DREGS_NO_MEMORY;
    if (gsl_multifit_nlinear_init(&start.vector, &system, work))
        status = fit->status ? fit->status : DREGS_NUMERIC;
    else
        *chi = go_down(work);
    if (fit->out_of_memory)
        status = DREGS_NO_MEMORY;
    if (!status)
        status = keep(fit, work, after);
    gsl_multifit_nlinear_free(work);
    return status;
}

/* Where nothing is believed of drag-out the search begins with the best of a row of factors: from
 * afar it may find no way. */
static dregs_status best_start(struct fit *fit, double *q)
{
    enum { EITHER_WAY = 6 };
    double least = HUGE_VAL, at[Q_MOST];
    dregs_status status = DREGS_OK;
    size_t i;
    int k;

    memcpy(at, q, sizeof at);
    for (k = -EITHER_WAY; k <= EITHER_WAY && status != DREGS_NO_MEMORY; k++) {
        double sum = 0;
        at[Q_CHANGE] = k * 0.5;
        status = expect(fit->reuse, fit->regime, at, fit->to, fit->trial);
        for (i = fit->regime->about.begin; i < fit->to && !status; i++)
            if (takes(fit, i))
                sum +=
                    pow(dregs_reuse_left(dregs_readings_at(fit->reuse->readings, i), fit->trial[i],
                                         dregs_reuse_meter_sd(fit->reuse, i, fit->expected[i])),
                        2);
        if (!status && sum < least) {
            least = sum;
            q[Q_CHANGE] = at[Q_CHANGE];
        }
    }
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Did a search move the unknowns by so much that the scatter would be another? */
static int has_moved(const double *was, const struct belief *is)
{
    static const double little = 0.02; /* standard deviations */
    unsigned k;

    for (k = 0; k < Q_MOST; k++)
        if (is->cov[k][k] > 0 && fabs(is->mean[k] - was[k]) > little * sqrt(is->cov[k][k]))
            return 1;
    return 0;
}

static dregs_status fit_times(struct fit *fit, struct belief *after, double *chi)
{
    enum { TIMES = 3 }; /* the scatter of a meter follows what is expected of it */
    const dregs_reuse *reuse = fit->reuse;
    int anew = !(fit->regime->chi > 0), moves = 1;
    size_t begin = fit->regime->about.begin, i;
    dregs_status status = weigh(fit);
    int k;

    for (i = begin; i < fit->to; i++)
        fit->used += takes(fit, i) != 0;
    for (k = 0; k < TIMES && moves && !status; k++) {
        double was[Q_MOST];
        memcpy(was, after->mean, sizeof was);
        status = expect(reuse, fit->regime, after->mean, fit->to, fit->expected);
        if (k == 0 &&
            anew) /* the first time by what was read: that is nearer than what is believed */
            for (i = begin; i < fit->to; i++)
                fit->expected[i] = dregs_readings_at(reuse->readings, i)->value;
        if (!status && k == 0 && reuse->stopped)
            status = best_start(fit, after->mean);
        if (!status)
            status = search(fit, after, chi);
        moves = (k == 0 && anew) || has_moved(was, after);
    }
    return status;
}

dregs_status dregs_reuse_fit(const dregs_reuse *reuse, struct regime *regime, size_t to)
{
    struct fit fit = {0};
    struct belief *after = malloc(sizeof *after);
    size_t rows = reuse->count + 1;
    dregs_status status;
    double *room, chi = NAN;

    fit.reuse = reuse;
    fit.regime = regime;
    fit.to = to;
    fit.unknowns = dregs_reuse_unknowns(&regime->before);
    room = malloc((3 * rows + (size_t)fit.unknowns.count * fit.unknowns.count) * sizeof *room);
    if (!room || !after) {
        free(room);
        free(after);
        return DREGS_NO_MEMORY;
    }
    *after = regime->before;
    if (regime->chi > 0) /* a fit before is where to begin */
        memcpy(after->mean, regime->after.mean, sizeof after->mean);
    fit.expected = room;
    fit.trial = room + rows;
    fit.moved = room + 2 * rows;
    fit.weight = room + 3 * rows;
    status = fit_times(&fit, after, &chi);
    free(room);
    if (!status) {
        regime->after = *after;
        regime->chi = chi;
    }
    free(after);
    return status;
}

dregs_status dregs_reuse_slopes(const dregs_reuse *reuse, const struct regime *regime,
                                const struct unknowns *unknowns, const double *q, size_t to,
                                double *expected, double *slopes)
{
    static const double step = 1e-3;
    double *room = malloc(2 * (reuse->count + 1) * sizeof *room), *above = room, *below;
    dregs_status status;
    unsigned k, n = unknowns->count;
    size_t i;

    if (!room)
        return DREGS_NO_MEMORY;
    below = room + reuse->count;
    status = expect(reuse, regime, q, to, expected);
    for (k = 0; k < n && !status; k++) {
        double at[Q_MOST];
        memcpy(at, q, sizeof at);
        at[unknowns->of[k]] += step;
        status = expect(reuse, regime, at, to, above);
        at[unknowns->of[k]] -= 2 * step;
        if (!status)
            status = expect(reuse, regime, at, to, below);
        for (i = regime->about.begin; i < to && !status; i++)
            slopes[i * n + k] = (above[i] - below[i]) / (2 * step);
    }
    free(room);
    return status;
}
