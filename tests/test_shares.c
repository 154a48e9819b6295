/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_shares.c: shares of a variance, against functions whose shares are known. */
#include "check_main.h"
#include "ensemble/ensemble.h"

#include <stdlib.h>

#include <gsl/gsl_errno.h>

#define PI 3.14159265358979323846

/* On one thread: the functions here that count do so without a lock. */
static dregs_status shares_of(unsigned inputs, unsigned points, uint64_t seed, ensemble_point *ask,
                              void *context, struct ensemble_share *shares)
{
    const struct ensemble_question question = {inputs, 1, ask, NULL, NULL, context};

    return dregs_ensemble_shares(&question, points, seed, shares);
}

/* Ishigami and Homma 1990: sin x1 + 7 sin2 x2 + 0.1 x3^4 sin x1, all from -pi to pi. */
static dregs_status ishigami(void *context, const double *u, double *y)
{
    double a = PI * (2 * u[0] - 1), b = PI * (2 * u[1] - 1), c = PI * (2 * u[2] - 1);

    ++*(unsigned *)context;
    *y = sin(a) + 7 * sin(b) * sin(b) + 0.1 * pow(c, 4) * sin(a);
    return DREGS_OK;
}

/* First 0.3139, 0.4424, 0 and total 0.5576, 0.4424, 0.2437, as printed (cited from memory: Saltelli
 * et al., Global Sensitivity Analysis, 2008), and here from the closed form. */
START_TEST(ishigamis_function)
{
    const double a = 7, b = 0.1, p4 = pow(PI, 4), p8 = p4 * p4;
    const double one = 0.5 * pow(1 + b * p4 / 5, 2), two = a * a / 8, three = b * b * p8 * 8 / 225;
    const double all = one + two + three;
    const double first[] = {one / all, two / all, 0};
    const double total[] = {(one + three) / all, two / all, three / all};
    static const double printed[] = {0.3139, 0.4424, 0, 0.5576, 0.4424, 0.2437};
    struct ensemble_share got[3];
    unsigned calls = 0, i, far = 0;

    (void)gsl_set_error_handler_off();
    ck_assert_int_eq(shares_of(3, 2048, 7, ishigami, &calls, got), DREGS_OK);
    ck_assert_uint_eq(calls, ENSEMBLE_PARTS * 2048 * 5);
    for (i = 0; i < 3; i++) {
        ck_assert(fabs(first[i] - printed[i]) < 6e-5 && fabs(total[i] - printed[3 + i]) < 6e-5);
        ck_assert_msg(fabs(got[i].first - first[i]) < 0.01, "first %u: %g", i, got[i].first);
        ck_assert_msg(fabs(got[i].total - total[i]) < 0.01, "total %u: %g", i, got[i].total);
        ck_assert(got[i].first_error < 0.01 && got[i].total_error < 0.01);
        far += fabs(got[i].first - first[i]) > 4 * got[i].first_error;
        far += fabs(got[i].total - total[i]) > 4 * got[i].total_error;
    }
    ck_assert_uint_le(far, 1);
}
END_TEST

enum { G = 8 };
static const double g_a[G] = {0, 1, 4.5, 9, 99, 99, 99, 99};

/* Sobol' g: the product of (|4 u - 2| + a) / (1 + a). */
static dregs_status sobol_g(void *context, const double *u, double *y)
{
    int i;

    (void)context;
    *y = 1;
    for (i = 0; i < G; i++)
        *y *= (fabs(4 * u[i] - 2) + g_a[i]) / (1 + g_a[i]);
    return DREGS_OK;
}

/* With these a: 0.7162, 0.1790, 0.0237, 0.0072, 0.0001 ... and total 0.7871, 0.2422, 0.0343,
 * 0.0105, 0.0001, as printed (Saltelli et al. 2010, cited from
 * memory), and from V_i = 1/(3 (1 + a_i)^2). */
START_TEST(sobols_g)
{
    static const double printed[][2] = {
        {0.7162, 0.7871}, {0.1790, 0.2422}, {0.0237, 0.0343}, {0.0072, 0.0105}};
    struct ensemble_share got[G];
    double product = 1, v[G];
    unsigned i;

    (void)gsl_set_error_handler_off();
    for (i = 0; i < G; i++) {
        v[i] = 1 / (3 * (1 + g_a[i]) * (1 + g_a[i]));
        product *= 1 + v[i];
    }
    ck_assert_int_eq(shares_of(G, 1024, 3, sobol_g, NULL, got), DREGS_OK);
    for (i = 0; i < G; i++) {
        double first = v[i] / (product - 1), total = v[i] * product / (1 + v[i]) / (product - 1);
        if (i < 4)
            ck_assert(fabs(first - printed[i][0]) < 1e-4 && fabs(total - printed[i][1]) < 1e-4);
        ck_assert_msg(fabs(got[i].first - first) < 0.02, "first %u: %g", i, got[i].first);
        ck_assert_msg(fabs(got[i].total - total) < 0.02, "total %u: %g", i, got[i].total);
    }
}
END_TEST

/* More inputs than the sequence has: a sum of 25 alike, 1/25 each. */
static dregs_status add(void *context, const double *u, double *y)
{
    int i;

    (void)context;
    for (*y = 0, i = 0; i < 25; i++)
        *y += u[i];
    return DREGS_OK;
}

START_TEST(many_inputs)
{
    struct ensemble_share got[25];
    unsigned i, near = 0;

    (void)gsl_set_error_handler_off();
    ck_assert_int_eq(shares_of(25, 256, 11, add, NULL, got), DREGS_OK);
    for (i = 0; i < 25; i++) {
        ck_assert(fabs(got[i].total - 0.04) < 0.01);
        near += fabs(got[i].first - 0.04) < 2.4 * got[i].first_error; /* t of 7: 95 % */
    }
    ck_assert_uint_ge(near, 20);
}
END_TEST

/* Of each thread: how often it was asked. */
static void *begin(void *context)
{
    unsigned *calls = calloc(1, sizeof *calls);

    (void)context;
    ck_assert(calls != NULL);
    return calls;
}

/* Some points are refused, with one of two statuses: that of the earliest part is told. */
static dregs_status refusing_later(void *mine, const double *u, double *y)
{
    static const dregs_status ends[] = {DREGS_OK, DREGS_NUMERIC, DREGS_DOMAIN};
    unsigned *calls = mine;

    *y = u[0];
    ++*calls;
    return u[0] + u[1] > 1.9 ? ends[1 + (u[2] > 0.5)] : ends[0];
}

START_TEST(any_number_of_threads)
{
    static const unsigned threads[] = {1, 2, 3, 7, 8, 256, 0};
    struct ensemble_question question = {3, 1, ishigami, begin, free, NULL};
    struct ensemble_share one[3], got[3];
    dregs_status refused = DREGS_OK, again;
    unsigned i;

    (void)gsl_set_error_handler_off();
    ck_assert_int_eq(dregs_ensemble_shares(&question, 64, 7, one), DREGS_OK);
    for (i = 0; i < sizeof threads / sizeof *threads; i++) {
        question.threads = threads[i];
        question.ask = ishigami;
        ck_assert_int_eq(dregs_ensemble_shares(&question, 64, 7, got), DREGS_OK);
        ck_assert_mem_eq(got, one, sizeof got);
        question.ask = refusing_later;
        again = dregs_ensemble_shares(&question, 64, 7, got);
        ck_assert(i == 0 || again == refused);
        refused = again;
        ck_assert(refused == DREGS_NUMERIC || refused == DREGS_DOMAIN);
    }
}
END_TEST

static dregs_status constant(void *context, const double *u, double *y)
{
    (void)context;
    (void)u;
    *y = 3;
    return DREGS_OK;
}

static dregs_status refusing(void *context, const double *u, double *y)
{
    (void)context;
    (void)y;
    return u[0] > 0.5 ? DREGS_NUMERIC : constant(NULL, u, y);
}

START_TEST(what_has_no_shares)
{
    struct ensemble_share got = {-1, -1, -1, -1};

    (void)gsl_set_error_handler_off();
    ck_assert_int_eq(shares_of(0, 8, 1, constant, NULL, &got), DREGS_DOMAIN);
    ck_assert_int_eq(shares_of(1, 0, 1, constant, NULL, &got), DREGS_DOMAIN);
    ck_assert_int_eq(shares_of(1, 8, 1, constant, NULL, &got), DREGS_DOMAIN);
    ck_assert_int_eq(shares_of(1, 8, 1, refusing, NULL, &got), DREGS_NUMERIC);
    ck_assert_double_eq(got.first, -1);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"shares",
         {ishigamis_function, sobols_g, many_inputs, any_number_of_threads, what_has_no_shares}}};

    return run_cases("shares", cases, 1);
}
