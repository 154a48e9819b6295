/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_warm.c: bodies that warm and cool, against closed forms and a second integrator. */
#include "check_main.h"
#include "dregs/dry.h"
#include "dregs/warm.h"

#include <gsl/gsl_errno.h>

static dregs_warm_case warm;

static void setup(void)
{
    gsl_set_error_handler_off();
    /* 0.6 L of isopropanol, 60 W, 1.3 W/K, in a room of 22 degC */
    warm =
        (dregs_warm_case){.bodies = 1, .body = {{1210.0, 60.0, 1.3, NULL, NULL}}, .room = 295.15};
}

/* as a vapour pressure rises */
static double evaporation(double temperature, void *user)
{
    return *(const double *)user * exp(0.055 * (temperature - 293.15));
}

static double linear(double temperature, void *user)
{
    return *(const double *)user * (temperature - 295.15);
}

static double seconds(const double *start, unsigned index, double to)
{
    double time = NAN;

    ck_assert_int_eq(dregs_warm_time(&warm, start, index, to, &time), DREGS_OK);
    return time;
}

/* T = T_s + (T_0 - T_s) e^(-U A t / C), T_s = T_room + P / (U A) */
START_TEST(one_body_is_an_exponential)
{
    double start = 296.15, settles[2], loss = 0.7;

    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert_near(settles[0], 295.15 + 60 / 1.3, 1e-12, "settles");
    ck_assert_near(seconds(&start, 0, 311.4),
                   1210 / 1.3 * log((settles[0] - start) / (settles[0] - 311.4)), 1e-9, "warms");
    warm.body[0].loss = linear;
    warm.body[0].user = &loss;
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert_near(settles[0], 295.15 + 60 / 2.0, 1e-12, "settles with a loss");
    ck_assert_near(seconds(&start, 0, 311.4),
                   1210 / 2.0 * log((settles[0] - start) / (settles[0] - 311.4)), 1e-9,
                   "warms with a loss");
    warm.body[0].power = 0;
    start = 333.15;
    ck_assert_near(seconds(&start, 0, 300.15), 1210 / 2.0 * log(38.0 / 5.0), 1e-9, "cools");
    ck_assert(isinf(seconds(&start, 0, 295.15)));
    ck_assert(isinf(seconds(&start, 0, 340)));
    ck_assert_double_eq(seconds(&start, 0, 333.15), 0);
}
END_TEST

/* One step of Runge and Kutta's fourth order for both bodies. */
static void step(double y[2], double h)
{
    double k[4][2], at[2];
    int s, i;

    for (s = 0; s < 4; s++) {
        for (i = 0; i < 2; i++)
            at[i] = y[i] + (s ? (s == 3 ? h : h / 2) * k[s - 1][i] : 0);
        for (i = 0; i < 2; i++) {
            const dregs_warm_body *b = &warm.body[i];
            double passed = warm.bodies == 2 ? warm.coupling * (at[0] - at[1]) : 0;
            k[s][i] = i < (int)warm.bodies
                          ? (b->power - b->wall_loss * (at[i] - warm.room) -
                             (b->loss ? b->loss(at[i], b->user) : 0) + (i ? passed : -passed)) /
                                b->heat_capacity
                          : 0;
        }
    }
    for (i = 0; i < 2; i++)
        y[i] += h / 6 * (k[0][i] + 2 * k[1][i] + 2 * k[2][i] + k[3][i]);
}

/* The state after a time, by 20000 of these steps; `heat` in: power less walls and loss, J. */
static void march(double y[2], double time, double *heat)
{
    int i, b;

    for (i = 0, *heat = 0; i < 20000; i++) {
        double before[2] = {y[0], y[1]};
        step(y, time / 20000);
        for (b = 0; b < (int)warm.bodies; b++) { /* trapezoids */
            const dregs_warm_body *body = &warm.body[b];
            double middle = (before[b] + y[b]) / 2;
            *heat += time / 20000 *
                     (body->power - body->wall_loss * (middle - warm.room) -
                      (body->loss ? body->loss(middle, body->user) : 0));
        }
    }
}

/* Another integrator gets there too, and the heat that came in is the heat that is stored. */
START_TEST(one_body_that_evaporates)
{
    double start = 296.15, y[2] = {296.15, 0}, heat, rate = 9, settles[2];

    warm.body[0].loss = evaporation;
    warm.body[0].user = &rate;
    march(y, seconds(&start, 0, 310.7), &heat);
    ck_assert_near(y[0], 310.7, 1e-9, "Runge and Kutta");
    ck_assert_near(heat, 1210 * (310.7 - 296.15), 1e-6, "heat");
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert_near(1.3 * (settles[0] - 295.15) + evaporation(settles[0], &rate), 60, 1e-9,
                   "settled");
    ck_assert(isinf(seconds(&start, 0, settles[0] + 0.1)));
    warm.body[0].power = 0; /* an open surface is colder than the room */
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert(settles[0] < 295.15);
    ck_assert_near(1.3 * (295.15 - settles[0]), evaporation(settles[0], &rate), 1e-9, "cold");
}
END_TEST

static void put_beaker(void)
{
    warm.bodies = 2;
    warm.body[0] = (dregs_warm_body){12400.0, 100.0, 2.7, NULL, NULL}; /* 3 L of water */
    warm.body[1] = (dregs_warm_body){1210.0, 0.0, 0.0, NULL, NULL};
    warm.coupling = 6.1;
}

/* Without losses but the walls: two exponentials, from the eigenvalues of the balance. */
START_TEST(a_beaker_in_a_bath_is_two_exponentials)
{
    double start[2] = {296.15, 294.15}, settles[2], time, a, b, c, d, root, lambda[2], share[2], at;
    int i;

    put_beaker();
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert_near(settles[0], 295.15 + 100 / 2.7, 1e-10, "bath");
    ck_assert_near(settles[1], settles[0], 1e-10, "beaker");
    time = seconds(start, 1, 311.4);
    a = -(2.7 + 6.1) / 12400;
    b = 6.1 / 12400;
    c = 6.1 / 1210;
    d = -6.1 / 1210;
    root = sqrt((a - d) * (a - d) / 4 + b * c);
    for (i = 0; i < 2; i++)
        lambda[i] = (a + d) / 2 + (i ? -root : root);
    /* x_2 = s_0 e^(l_0 t) + s_1 e^(l_1 t), of which x_2(0) and x_2'(0) = c x_1 + d x_2 are known */
    share[1] = (c * (start[0] - settles[0]) + d * (start[1] - settles[1]) -
                lambda[0] * (start[1] - settles[1])) /
               (lambda[1] - lambda[0]);
    share[0] = start[1] - settles[1] - share[1];
    at = settles[1] + share[0] * exp(lambda[0] * time) + share[1] * exp(lambda[1] * time);
    ck_assert_near(at, 311.4, 1e-9, "then");
}
END_TEST

START_TEST(a_beaker_that_evaporates)
{
    double start[2] = {296.15, 294.15}, y[2] = {296.15, 294.15}, heat, rate = 3, settles[2];

    put_beaker();
    warm.body[1].loss = evaporation;
    warm.body[1].user = &rate;
    march(y, seconds(start, 1, 309.3), &heat);
    ck_assert_near(y[1], 309.3, 1e-9, "Runge and Kutta");
    ck_assert_near(heat, 12400 * (y[0] - 296.15) + 1210 * (y[1] - 294.15), 1e-6, "heat");
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OK);
    ck_assert(settles[1] < settles[0]);
    ck_assert_near(6.1 * (settles[0] - settles[1]), evaporation(settles[1], &rate), 1e-8, "beaker");
    ck_assert_near(100 - 2.7 * (settles[0] - 295.15), evaporation(settles[1], &rate), 1e-8, "bath");
    ck_assert(isinf(seconds(start, 1, settles[1] + 0.5)));
    warm.body[0].power = 0;
    start[0] = start[1] = 315;
    y[0] = y[1] = 315;
    march(y, seconds(start, 1, 303), &heat);
    ck_assert_near(y[1], 303, 1e-9, "it cools");
}
END_TEST

/* A part of 3.9 kJ/(m2 K) in moving air, against small steps of the same law; without radiation and
 * with a law that hardly changes between 50 and 40 degC it is near an exponential. */
START_TEST(parts_cool)
{
    double time, t = 393.15, h, least = NAN, most = NAN;
    dregs_air air;
    int i;

    ck_assert_int_eq(dregs_warm_part(3900, 393.15, 313.15, 293.15, 0.1, 0.1, 0.9, &time), DREGS_OK);
    for (i = 0; i < 200000; i++) { /* midpoints */
        double middle = t, k;
        int half;
        for (half = 0; half < 2; half++) {
            ck_assert_int_eq(dregs_air_at((middle + 293.15) / 2, DREGS_ATMOSPHERE, &air), DREGS_OK);
            ck_assert_int_eq(dregs_heat_transfer(&air, 0.1, 0.1, fabs(middle / 293.15 - 1), &h),
                             DREGS_OK);
            k = -(h * (middle - 293.15) +
                  0.9 * DREGS_STEFAN_BOLTZMANN * (pow(middle, 4) - pow(293.15, 4))) /
                3900 * time / 200000;
            middle = t + k / 2;
        }
        t += k;
    }
    ck_assert_near(t, 313.15, 1e-7, "midpoints");
    ck_assert_int_eq(dregs_warm_part(3900, 323.15, 313.15, 293.15, 9, 0.1, 0, &time), DREGS_OK);
    for (i = 0; i < 2; i++) {
        ck_assert_int_eq(dregs_air_at(((i ? 313.15 : 323.15) + 293.15) / 2, DREGS_ATMOSPHERE, &air),
                         DREGS_OK);
        ck_assert_int_eq(dregs_heat_transfer(&air, 9, 0.1, 0.1, &h), DREGS_OK);
        *(i ? &most : &least) = 3900 / h * log(30.0 / 20.0);
    }
    ck_assert(time >= fmin(least, most) * (1 - 1e-9) && time <= fmax(least, most) * (1 + 1e-9));
    ck_assert_int_eq(dregs_warm_part(3900, 323.15, 290, 293.15, 9, 0.1, 0, &time), DREGS_OK);
    ck_assert(isinf(time));
}
END_TEST

static double unknown(double temperature, void *user)
{
    (void)user;
    return temperature > 300 ? (double)NAN : 1.0;
}

START_TEST(what_is_not_sensible_is_refused)
{
    double start = 296.15, got = -7, settles[2] = {-7, -7};

    ck_assert_int_eq(dregs_warm_time(&warm, &start, 1, 310, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_warm_time(&warm, &start, 0, 900, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_warm_time(&warm, &start, 0, NAN, &got), DREGS_DOMAIN);
    warm.body[0].loss = unknown;
    ck_assert_int_eq(dregs_warm_time(&warm, &start, 0, 310, &got), DREGS_OUT_OF_RANGE);
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OUT_OF_RANGE);
    warm.body[0].loss = NULL;
    warm.body[0].wall_loss = 0; /* it warms for good */
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_OUT_OF_RANGE);
    warm.body[0].heat_capacity = 0;
    ck_assert_int_eq(dregs_warm_settles(&warm, settles), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_warm_part(0, 323, 313, 293, 1, 0.1, 0.9, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_warm_part(3900, 303, 313, 293, 1, 0.1, 0.9, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, -7);
    ck_assert_double_eq(settles[0], -7);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("warm");
    TCase *c = tcase_create("bodies");

    suite_add_tcase(s, c);
    tcase_add_checked_fixture(c, setup, NULL);
    tcase_add_test(c, one_body_is_an_exponential);
    tcase_add_test(c, one_body_that_evaporates);
    tcase_add_test(c, a_beaker_in_a_bath_is_two_exponentials);
    tcase_add_test(c, a_beaker_that_evaporates);
    tcase_add_test(c, parts_cool);
    tcase_add_test(c, what_is_not_sensible_is_refused);
    return s;
}

int main(void)
{
    return run(suite());
}
