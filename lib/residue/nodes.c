/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* nodes.c: Gauss's rule for the values that one quantity takes from load to load.
 *
 * The rule belongs to the distribution itself: with three nodes it has the mean of every polynomial
 * of the value up to the fifth degree. Its nodes are the eigenvalues of the matrix of the
 * orthogonal polynomials' recurrence, its weights squares of the eigenvectors' first components
 * (Golub and Welsch, Math. Comp. 23 (1969) 221).
 */
#include "residue/residue.h"

#include <math.h>

#include <gsl/gsl_eigen.h>

/* x p_n = p_n+1 + a[n] p_n + b[n] p_n-1 */
struct recurrence {
    double a[RESIDUE_NODES], b[RESIDUE_NODES];
};

/* Lognormal: Stieltjes' and Wigert's polynomials (Koekoek, Lesky, Swarttouw 2010, section 14.27,
 * cited from memory; held by the tests against the moments), with q = 1/(1 + cv^2). */
static void lognormal(double mean, double sd, struct recurrence *r)
{
    double q = 1 / (1 + sd * sd / (mean * mean));
    int n;

    for (n = 0; n < RESIDUE_NODES; n++) {
        r->a[n] = mean * pow(q, -2 * n) * (1 + q - pow(q, n + 1));
        r->b[n] = mean * mean * pow(q, 3 - 4 * n) * -expm1(n * log(q));
    }
}

/* Normal: Hermite's. */
static void normal(double mean, double sd, struct recurrence *r)
{
    int n;

    for (n = 0; n < RESIDUE_NODES; n++) {
        r->a[n] = mean;
        r->b[n] = n * sd * sd;
    }
}

/* Beta: Jacobi's, moved from (-1, 1) to (0, 1); a and b are the exponents at 1 and at 0. */
static void beta(double mean, double sd, struct recurrence *r)
{
    double sum = mean * (1 - mean) / (sd * sd) - 1; /* of the two parameters */
    double a = (1 - mean) * sum - 1, b = mean * sum - 1, s;
    int n;

    for (n = 0; n < RESIDUE_NODES; n++) {
        s = 2 * n + a + b;
        r->a[n] = n ? (1 + (b - a) * (b + a) / (s * (s + 2))) / 2 : mean;
        r->b[n] = n == 1 ? (1 + a) * (1 + b) / ((2 + a + b) * (2 + a + b) * (3 + a + b))
                         : n * (n + a) * (n + b) * (n + a + b) / (s * s * (s + 1) * (s - 1));
    }
}

dregs_status dregs_residue_nodes(dregs_number_form form, double mean, double sd, double *node,
                                 double *weight)
{
    struct recurrence r = {{0}, {0}};
    gsl_matrix *m, *vectors;
    gsl_vector *values;
    gsl_eigen_symmv_workspace *room;
    dregs_status status = DREGS_NO_MEMORY;
    int i;

    if (!(sd > 0) || (form != DREGS_FORM_TEMPERATURE && !(mean > 0)) ||
        (form == DREGS_FORM_SHARE && !(sd * sd < mean * (1 - mean))))
        return DREGS_DOMAIN;
    if (form == DREGS_FORM_SHARE)
        beta(mean, sd, &r);
    else if (form == DREGS_FORM_TEMPERATURE)
        normal(mean, sd, &r);
    else
        lognormal(mean, sd, &r);
    m = gsl_matrix_calloc(RESIDUE_NODES, RESIDUE_NODES);
    vectors = gsl_matrix_alloc(RESIDUE_NODES, RESIDUE_NODES);
    values = gsl_vector_alloc(RESIDUE_NODES);
    room = gsl_eigen_symmv_alloc(RESIDUE_NODES);
    if (m && vectors && values && room) {
        for (i = 0; i < RESIDUE_NODES; i++) {
            /* about the mean and in standard deviations, so that a small one is not lost */
            gsl_matrix_set(m, (size_t)i, (size_t)i, (r.a[i] - mean) / sd);
            if (i > 0) {
                gsl_matrix_set(m, (size_t)i, (size_t)i - 1, sqrt(r.b[i]) / sd);
                gsl_matrix_set(m, (size_t)i - 1, (size_t)i, sqrt(r.b[i]) / sd);
            }
        }
        status = gsl_eigen_symmv(m, values, vectors, room) ? DREGS_NUMERIC : DREGS_OK;
        for (i = 0; i < RESIDUE_NODES && !status; i++) {
            double first = gsl_matrix_get(vectors, 0, (size_t)i);
            node[i] = mean + sd * gsl_vector_get(values, (size_t)i);
            weight[i] = first * first;
            if (!isfinite(node[i]) || !isfinite(weight[i]))
                status = DREGS_NUMERIC;
        }
    }
    gsl_eigen_symmv_free(room);
    gsl_vector_free(values);
    gsl_matrix_free(vectors);
    gsl_matrix_free(m);
    return status;
}
