/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_loads.c: the vapour of loads that follow each other, against closed forms of an even
 * release, and the fresh air it needs, against what must hold of any.
 */
#include "check_main.h"
#include "dregs/dry.h"

#include <gsl/gsl_errno.h>
#include <string.h>

enum { POINTS = 401 };

static dregs_liquids *table;
static char message[DREGS_DRY_MESSAGE];
static dregs_dry_point point[POINTS];
static dregs_drying drying;
static dregs_dry_case film;

static void setup(void)
{
    gsl_set_error_handler_off();
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    film = dregs_dry_usual();
    film.liquids = table;
    film.liquid[0] = "isopropanol";
    film.mass[0] = 0.0157;
    film.area = 2.3;
    film.air = 313.15;
    film.wall = film.air;
}

static void teardown(void)
{
    dregs_liquids_free(table);
}

/* m3/s that an even release of film.mass over `lasts` fills to the lower limit, 2.0 %: by
 * definition m A / (M t) R T / (P 0.02), with M = 60.095 g/mol. */
static double release(double lasts)
{
    return 0.0157 * 2.3 / 60.095e-3 / lasts * 8.31446261815324 * 313.15 / 101325.0 / 0.02;
}

/* The curve of an even release: in a volume G / Q (1 - e^(-Q t / V)). */
static void release_evenly(double lasts)
{
    double washing = film.volume > 0 ? film.fresh_air / film.volume : 0;
    int i;

    memset(&drying, 0, sizeof drying);
    for (i = 0; i < POINTS; i++) {
        double t = lasts * i / (POINTS - 1);
        point[i].time = t;
        point[i].mass[0] = 0.0157 * (1 - t / lasts);
        point[i].flammable = !(film.volume > 0) ? 0
                             : washing > 0 ? release(lasts) / film.fresh_air * -expm1(-washing * t)
                                           : release(lasts) * t / film.volume;
    }
    drying.dry = 1;
    drying.time = lasts;
    drying.volatiles = 1;
    drying.liquid[0] = "isopropanol";
    drying.point = point;
    drying.points = POINTS;
}

static double peak(double interval)
{
    double most = NAN;

    ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &drying, interval, &most), DREGS_OK);
    return most;
}

/* Periodic steady state of V dc/dt = G - Q c with G on for D of each T, T > D: its highest content
 * is G / Q (1 - e^(-D/tau)) / (1 - e^(-T/tau)), tau = V / Q. */
START_TEST(loads_that_do_not_overlap)
{
    static const double intervals[] = {61, 100, 400, 5000};
    double tau, one;
    unsigned i;

    film.volume = 0.83;
    film.fresh_air = 0.0071;
    tau = film.volume / film.fresh_air;
    release_evenly(60);
    one = release(60) / film.fresh_air * (1 - exp(-60 / tau));
    ck_assert_near(peak(INFINITY), one, 1e-9, "one load alone");
    for (i = 0; i < 4; i++)
        ck_assert_near(peak(intervals[i]), one / (1 - exp(-intervals[i] / tau)), 1e-6,
                       "loads after loads");
}
END_TEST

/* To 1e-4, for the molar mass above. Three loads dry at a time for half of the interval, two for
 * the other: without a volume the air holds 3 G / Q. */
START_TEST(loads_that_overlap_without_a_volume)
{
    film.volume = 0;
    film.fresh_air = 0.0071;
    release_evenly(60);
    ck_assert_near(peak(24), 3 * release(60) / film.fresh_air, 1e-4, "three at a time");
    ck_assert_near(peak(60.5), release(60) / film.fresh_air, 1e-4, "one at a time");
    ck_assert_near(peak(INFINITY), release(60) / film.fresh_air, 1e-4, "one");
}
END_TEST

START_TEST(without_fresh_air_vapour_gathers_for_good)
{
    film.volume = 0.83;
    film.fresh_air = 0;
    release_evenly(60);
    ck_assert_near(peak(INFINITY), release(60) * 60 / film.volume, 1e-9, "one load stays");
    ck_assert(isinf(peak(3600)));
    film.volume = 0;
    ck_assert(isinf(peak(3600)));
}
END_TEST

static double air_for(double volume, double interval)
{
    double flow = NAN;
    dregs_status status;

    film.volume = volume;
    status = dregs_dry_fresh_air_of_loads(&film, interval, 0.25, &flow, message);
    ck_assert_msg(status == DREGS_OK, "%s", message);
    return flow;
}

/* With the flow that is found the loads reach the share, with less they pass it. */
START_TEST(the_air_is_just_enough)
{
    static const double intervals[] = {45, 300, 1e9};
    double flow, at[2];
    unsigned i;
    int k;

    for (i = 0; i < 3; i++) {
        flow = air_for(0.5, intervals[i]);
        for (k = 0; k < 2; k++) {
            dregs_drying real = {0};
            film.fresh_air = flow * (k ? 0.999 : 1);
            ck_assert_int_eq(dregs_dry(&film, 1e-9, &real, message), DREGS_OK);
            ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &real, intervals[i], &at[k]),
                             DREGS_OK);
            dregs_drying_clear(&real);
        }
        ck_assert_near(at[0], 0.25, 2e-4, "with it");
        ck_assert_msg(at[1] > 0.25, "with less: %g", at[1]);
    }
}
END_TEST

/* Without a volume no more can be asked for; never less than the mean, which dilutes what a load
 * gives off over its interval; more often is more. */
START_TEST(the_air_is_between_its_bounds)
{
    double open = air_for(0, 120), dilution, before = INFINITY;
    static const double volumes[] = {1e-4, 0.1, 1, 10, 100};
    unsigned i;

    ck_assert_int_eq(
        dregs_dilution_air(table, "isopropanol", 0.0157 * 2.3, 313.15, 0.25, &dilution), DREGS_OK);
    for (i = 0; i < 5; i++) {
        double flow = air_for(volumes[i], 120);
        ck_assert_msg(flow <= open && flow <= before, "%g m3: %g", volumes[i], flow);
        /* the film is taken as dry with 0.1 % left, and the vapour's own volume, half a per cent,
         * is no fresh air */
        ck_assert_msg(flow > 0.99 * dilution / 120, "%g m3: %g", volumes[i], flow);
        before = flow;
    }
    /* of a tiny volume the air itself slows the film: it holds 0.5 % of vapour, over a film that
     * has 3 to 4 % */
    ck_assert_near(air_for(1e-4, 120), open, 0.2, "a tiny volume");
    ck_assert(air_for(1, 1e9) < air_for(1, 120));
    ck_assert_near(air_for(0, 1e9), open, 1e-9, "one at a time");
}
END_TEST

START_TEST(what_is_not_asked_well_is_refused)
{
    double got = -7;

    film.fresh_air = 0.1;
    release_evenly(60);
    ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &drying, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &drying, NAN, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &drying, 60.0 / 20000, &got),
                     DREGS_OUT_OF_RANGE);
    drying.points = 1;
    ck_assert_int_eq(dregs_drying_peak_of_loads(&film, &drying, 60, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_fresh_air_of_loads(&film, 60, 1, &got, message), DREGS_DOMAIN);
    film.area = 0;
    ck_assert_int_eq(dregs_dry_fresh_air_of_loads(&film, 60, 0.25, &got, message), DREGS_DOMAIN);
    ck_assert_double_eq(got, -7);
    /* water has no limit that it could reach */
    film.area = 1;
    film.liquid[0] = "water";
    ck_assert_int_eq(dregs_dry_fresh_air_of_loads(&film, 60, 0.25, &got, message), DREGS_OK);
    ck_assert_double_eq(got, 0);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("loads");
    TCase *c = tcase_create("vapour");

    suite_add_tcase(s, c);
    tcase_set_timeout(c, 60);
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, loads_that_do_not_overlap);
    tcase_add_test(c, loads_that_overlap_without_a_volume);
    tcase_add_test(c, without_fresh_air_vapour_gathers_for_good);
    tcase_add_test(c, the_air_is_just_enough);
    tcase_add_test(c, the_air_is_between_its_bounds);
    tcase_add_test(c, what_is_not_asked_well_is_refused);
    return s;
}

int main(void)
{
    return run(suite());
}
