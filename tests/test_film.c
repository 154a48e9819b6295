/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_film.c: drag-out of a plate and by class of shape. Expected values are in print, each with
 * its source, or exact arithmetic of the equation in print at points where it comes out even.
 */
#include "check_main.h"
#include "dregs/film.h"

#include <stdint.h>

#define HELD         -7.25 /* what no function writes */
#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* Water at 20 degC: 998.21 kg/m3 and 1.0016 mPa s, IAPWS; 72.75 mN/m, IAPWS R1-76. */
static const dregs_wetting water = {998.21, 1.0016e-3, 72.75e-3};

/* Every way in which a liquid is none: each property 0, below 0, infinite, NaN. */
enum { SENSELESS = 12 };
static dregs_wetting senseless(int i)
{
    static const double values[] = {0, -1e-3, HUGE_VAL, NAN};
    dregs_wetting liquid = water;

    (i < 4   ? &liquid.density
     : i < 8 ? &liquid.viscosity
             : &liquid.surface_tension)[0] = values[i % 4];
    return liquid;
}

/* ---- the film number ---- */

/* Points at which 1 - N^2 is a cube, so that N / (1 - N^2)^(2/3) needs no more than a root:
 *   1/8     N^2 = 7/8        N * 4 = sqrt(14)
 *   27/64   N^2 = 37/64      N * 16/9 = 2 sqrt(37) / 9
 *   343/512 N^2 = 169/512    N * 64/49 = 52 / (49 sqrt(2))
 *   (999/1000)^3 N^2 = 0.002997001    N / 0.998001
 * of White and Tallmadge's equation (Chem. Eng. Sci. 20 (1965) 33). */
static const struct point {
    double square, ratio;
} points[] = {
    {7.0 / 8, 3.7416573867739413},
    {37.0 / 64, 1.351725006732937708},
    {169.0 / 512, 0.750399033095927985},
    {0.002997001, 0.054854526103641467},
};

START_TEST(numbers_at_even_points)
{
    static const double capillary[] = {2, 1, 0.0625, 1e-6, 1e-12};
    size_t i, k;
    double number;

    for (i = 0; i < COUNT(points); i++)
        for (k = 0; k < COUNT(capillary); k++) {
            double coefficient = points[i].ratio / pow(capillary[k], 1.0 / 6);
            ck_assert_int_eq(dregs_film_number(capillary[k], coefficient, &number), DREGS_OK);
            ck_assert_near(number, sqrt(points[i].square), 1e-12, "N^2 = %g at Ca = %g",
                           points[i].square, capillary[k]);
        }
    /* the ratios above themselves */
    for (i = 0; i < COUNT(points); i++)
        ck_assert_near(points[i].ratio, sqrt(points[i].square) / pow(cbrt(1 - points[i].square), 2),
                       1e-14, "point %zu", i);
}
END_TEST

/* The table of F02 in checks.csv: solutions of the equation with the 0.944 of older print. */
START_TEST(numbers_with_the_older_coefficient)
{
    static const double known[][2] = {{1e-5, 0.136825}, {1e-4, 0.198026}, {1e-3, 0.282426},
                                      {1e-2, 0.392035}, {0.1, 0.520822},  {1, 0.652341}};
    size_t i;
    double number;

    for (i = 0; i < COUNT(known); i++) {
        ck_assert_int_eq(dregs_film_number(known[i][0], 0.944, &number), DREGS_OK);
        ck_assert_double_eq_tol(number, known[i][1], 1e-5);
    }
}
END_TEST

START_TEST(numbers_that_are_refused)
{
    static const struct {
        double capillary, coefficient;
        dregs_status status;
    } known[] = {
        {2 * (1 + 1e-10), DREGS_FILM_COEFFICIENT, DREGS_OK}, /* rounding is forgiven */
        {2 * (1 + 1e-8), DREGS_FILM_COEFFICIENT, DREGS_DOMAIN},
        {HUGE_VAL, DREGS_FILM_COEFFICIENT, DREGS_DOMAIN},
        {0, DREGS_FILM_COEFFICIENT, DREGS_DOMAIN},
        {-1, DREGS_FILM_COEFFICIENT, DREGS_DOMAIN},
        {NAN, DREGS_FILM_COEFFICIENT, DREGS_DOMAIN},
        {1, 0, DREGS_DOMAIN},
        {1, -0.944, DREGS_DOMAIN},
        {1, HUGE_VAL, DREGS_DOMAIN},
        {1, NAN, DREGS_DOMAIN},
        {1, 1e30, DREGS_NUMERIC}, /* 1 - N^2 = 1e-45: no double is near N but 1 */
    };
    size_t i;

    ck_assert_double_eq(DREGS_CAPILLARY_MOST, 2);
    for (i = 0; i < COUNT(known); i++) {
        double number = HELD;
        ck_assert_msg(dregs_film_number(known[i].capillary, known[i].coefficient, &number) ==
                          known[i].status,
                      "Ca %g, coefficient %g", known[i].capillary, known[i].coefficient);
        ck_assert((number == HELD) == (known[i].status != DREGS_OK));
    }
}
END_TEST

/* ---- the plate law ---- */

/* Deen, Analysis of Transport Phenomena, a problem on White and Tallmadge's film: 0.0173 and
 * 0.1797 cm to three digits, with 0.944; 0.9458 is 0.2 % more. The second is at Ca = 2 itself. */
START_TEST(films_in_print)
{
    static const struct {
        double viscosity, speed, printed;
    } known[] = {{0.3, 0.004, 0.0173e-2}, {2, 0.03, 0.1797e-2}};
    size_t i;
    double film;

    for (i = 0; i < COUNT(known); i++) {
        const dregs_wetting liquid = {900, known[i].viscosity, 0.030};
        ck_assert_int_eq(dregs_film_entrained(&liquid, known[i].speed, &film), DREGS_OK);
        ck_assert_near(film, known[i].printed, 0.01, "film at %g m/s", known[i].speed);
    }
}
END_TEST

/* mu = 1 Pa s and sigma = 1 N/m, so that U is Ca; rho = 2 kg/m3, so that h0 = N sqrt(Ca / (2 g)).
 * At the third of the points N = 13 / sqrt(512), where Ca = 0.2494. */
START_TEST(a_film_at_an_even_point)
{
    const dregs_wetting liquid = {2, 1, 1};
    double capillary = pow(points[2].ratio / 0.9458, 6), film;

    ck_assert_int_eq(dregs_film_entrained(&liquid, capillary, &film), DREGS_OK);
    ck_assert_near(film, 13 / sqrt(512) * sqrt(capillary / (2 * 9.80665)), 1e-12, "film");
}
END_TEST

/* Without gravity's term it is Landau and Levich's 0.9458 sqrt(sigma / (rho g)) Ca^(2/3) (Acta
 * Physicochim. URSS 17 (1942) 42). With it N = q (1 - N^2)^(2/3), q = 0.9458 Ca^(1/6), which is
 * less by the share 2/3 q^2 to first order. */
START_TEST(thin_films_are_landau_and_levichs)
{
    static const double capillary[] = {1e-12, 1e-9, 1e-6};
    size_t i;

    for (i = 0; i < COUNT(capillary); i++) {
        double speed = capillary[i] * water.surface_tension / water.viscosity, film;
        double length = sqrt(water.surface_tension / (water.density * 9.80665));
        double plain = 0.9458 * length * pow(capillary[i], 2.0 / 3);
        double q2 = 0.9458 * 0.9458 * cbrt(capillary[i]);
        ck_assert_int_eq(dregs_film_entrained(&water, speed, &film), DREGS_OK);
        ck_assert_double_lt(film, plain * (1 - 0.6 * q2));
        ck_assert_double_gt(film, plain * (1 - 0.67 * q2));
    }
}
END_TEST

START_TEST(films_that_are_refused)
{
    static const double speeds[] = {0, -0.1, HUGE_VAL, NAN};
    const double fastest = 2 * water.surface_tension / water.viscosity; /* Ca = 2 */
    double film = HELD;
    size_t i;

    for (i = 0; i < COUNT(speeds); i++) {
        ck_assert_int_eq(dregs_film_entrained(&water, speeds[i], &film), DREGS_DOMAIN);
        ck_assert_int_eq(dregs_film_kushner(&water, speeds[i], &film), DREGS_DOMAIN);
    }
    for (i = 0; i < SENSELESS; i++) {
        const dregs_wetting liquid = senseless((int)i);
        ck_assert_int_eq(dregs_film_entrained(&liquid, 0.1, &film), DREGS_DOMAIN);
        ck_assert_int_eq(dregs_film_kushner(&liquid, 0.1, &film), DREGS_DOMAIN);
    }
    ck_assert_int_eq(dregs_film_entrained(&water, fastest * 1.0001, &film), DREGS_DOMAIN);
    ck_assert_double_eq(film, HELD);
    ck_assert_int_eq(dregs_film_entrained(&water, fastest, &film), DREGS_OK);
    ck_assert_int_eq(dregs_film_kushner(&water, fastest * 100, &film), DREGS_OK);
}
END_TEST

/* ---- Kushner's law and the edge bead ---- */

/* Konishi and others, J. Metal Finishing Soc. Japan 25(1) (1974) 2-7: 200 cm2, 5 cm/s, 0.015 P and
 * 1.2 g/cm3 drag out 0.02 sqrt(5 * 0.015 / 1.2) * 200 = 1 cm3; the film is 50 um. */
START_TEST(kushners_film)
{
    dregs_wetting liquid = {1200, 1.5e-3, 70e-3};
    double film, other;

    ck_assert_int_eq(dregs_film_kushner(&liquid, 0.05, &film), DREGS_OK);
    ck_assert_near(film, 50e-6, 1e-15, "film");
    ck_assert_int_eq(dregs_film_kushner(&liquid, 0.2, &other), DREGS_OK);
    ck_assert_near(other, 100e-6, 1e-15, "four times as fast");
    liquid.surface_tension = 7e-3; /* is not in it */
    ck_assert_int_eq(dregs_film_kushner(&liquid, 0.05, &other), DREGS_OK);
    ck_assert_double_eq(other, film);
}
END_TEST

/* The same print: 0.65 * 70 * 10 / (1.2 g) cm3, which is 0.3869 with its g of 980 cm/s2 and
 * 455 / 1176.798 = 0.38664 with the standard 980.665. */
/* What leaves is the less of W and bead + 10 um of face, on both sides of where they are equal:
 * with 0.07 N/m, 1200 kg/m3 and 10 cm the bead is 0.38664 cm3, and 200 cm2 keep 0.2 cm3 besides, as
 * W does at h = 29.332 um. */
START_TEST(kushner_is_held_to_what_stays)
{
    const dregs_wetting liquid = {1200, 1.5e-3, 0.07};
    const double bead = 0.65 * 0.07 * 0.1 / (1200 * DREGS_GRAVITY), area = 0.02;
    const double equal = bead / area + 1e-5, speed = pow(equal / 0.2, 2) * 1200 / 1.5e-3;
    double film = 7, drop = 7;

    ck_assert_int_eq(dregs_film_kushner_held(&liquid, speed * 0.99, area, 0.1, &film, &drop),
                     DREGS_OK);
    ck_assert_near(film, equal * sqrt(0.99), 1e-12, "the film whole");
    ck_assert_double_eq(drop, 0);
    ck_assert_int_eq(dregs_film_kushner_held(&liquid, speed * 1.01, area, 0.1, &film, &drop),
                     DREGS_OK);
    ck_assert_double_eq(film, 1e-5);
    ck_assert_near(drop, bead, 1e-12, "the bead");
    film = drop = 7;
    ck_assert_int_eq(dregs_film_kushner_held(&liquid, speed, 0, 0.1, &film, &drop), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_film_kushner_held(&liquid, speed, area, 0, &film, &drop), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_film_kushner_held(&liquid, 0, area, 0.1, &film, &drop), DREGS_DOMAIN);
    ck_assert(film == 7 && drop == 7);
}
END_TEST

START_TEST(the_bead_on_an_edge)
{
    const dregs_wetting liquid = {1200, 1.5e-3, 70e-3};
    static const double edges[] = {-1e-9, HUGE_VAL, NAN};
    double bead = HELD;
    size_t i;

    for (i = 0; i < COUNT(edges); i++)
        ck_assert_int_eq(dregs_film_edge_bead(&liquid, edges[i], &bead), DREGS_DOMAIN);
    for (i = 0; i < SENSELESS; i++) {
        const dregs_wetting none = senseless((int)i);
        ck_assert_int_eq(dregs_film_edge_bead(&none, 0.1, &bead), DREGS_DOMAIN);
    }
    ck_assert_double_eq(bead, HELD);
    ck_assert_int_eq(dregs_film_edge_bead(&liquid, 0.1, &bead), DREGS_OK);
    ck_assert_near(bead, 455 / 1176.798 * 1e-6, 1e-14, "bead");
    ck_assert_double_eq_tol(bead * 1e6 * 980.665 / 980, 0.3869, 1e-4);
    ck_assert_int_eq(dregs_film_edge_bead(&liquid, 0, &bead), DREGS_OK);
    ck_assert_double_eq(bead, 0);
}
END_TEST

/* ---- drainage ---- */

/* Jeffreys 1930 with rho g / mu = 1e6 1/(m s), h0 = 100 um over 0.1 m: z* = 0.01 t, and the end is
 * reached after 10 s. Until then h = h0 (1 - z* / (3 L)), from then on 2/3 sqrt(L / (1e6 t)). */
START_TEST(drained_by_hand)
{
    static const struct {
        double time, reach, mean;
    } known[] = {
        {0, 0, 100e-6},          {3, 0.03, 90e-6},          {5, 0.05, 100e-6 * 5 / 6},
        {9, 0.09, 70e-6},        {10, 0.1, 100e-6 * 2 / 3}, {40, 0.4, 100e-6 / 3},
        {1000, 10, 100e-6 / 15},
    };
    const dregs_wetting liquid = {1000, 9.80665e-3, 0.05};
    size_t i;

    for (i = 0; i < COUNT(known); i++) {
        double mean, reach, alone;
        ck_assert_int_eq(dregs_film_drained(&liquid, 100e-6, 0.1, known[i].time, &mean, &reach),
                         DREGS_OK);
        ck_assert_near(mean, known[i].mean, 1e-13, "mean after %g s", known[i].time);
        ck_assert_near(reach, known[i].reach, 1e-13, "reach after %g s", known[i].time);
        ck_assert_int_eq(dregs_film_drained(&liquid, 100e-6, 0.1, known[i].time, &alone, NULL),
                         DREGS_OK);
        ck_assert_double_eq(alone, mean);
    }
}
END_TEST

/* The mean is that of the local film, the less of h0 and sqrt(mu z / (rho g t)) at the depth z. */
START_TEST(drained_is_the_mean_of_the_local_film)
{
    enum { SLICES = 20000 };
    static const double times[] = {0.5, 2, 8, 30, 200};
    const double film = 60e-6, height = 0.25;
    size_t i;
    int k;

    for (i = 0; i < COUNT(times); i++) {
        double sum = 0, mean;
        for (k = 0; k < SLICES; k++) {
            double z = (k + 0.5) / SLICES * height;
            sum += fmin(film, sqrt(water.viscosity * z / (water.density * 9.80665 * times[i])));
        }
        ck_assert_int_eq(dregs_film_drained(&water, film, height, times[i], &mean, NULL), DREGS_OK);
        ck_assert_near(mean, sum / SLICES, 1e-5, "mean after %g s", times[i]);
    }
}
END_TEST

/* F04 of checks.csv: water at 20 degC from Jeffreys's formula, to 0.1 %. */
START_TEST(drained_water)
{
    double mean;

    ck_assert_int_eq(dregs_film_drained(&water, 1e-3, 0.1, 10, &mean, NULL), DREGS_OK);
    ck_assert_near(mean, 21.33e-6, 1e-3, "0.1 m, 10 s");
    ck_assert_int_eq(dregs_film_drained(&water, 1e-3, 0.3, 60, &mean, NULL), DREGS_OK);
    ck_assert_near(mean, 15.08e-6, 1e-3, "0.3 m, 60 s");
}
END_TEST

START_TEST(drainage_that_is_refused)
{
    static const double known[][3] = {
        /* film, height, time */
        {0, 0.1, 1},           {-1e-6, 0.1, 1},    {NAN, 0.1, 1},       {1e-4, 0, 1},
        {1e-4, -0.1, 1},       {1e-4, NAN, 1},     {1e-4, 0.1, -1},     {1e-4, 0.1, NAN},
        {1e-4, 0.1, HUGE_VAL}, {HUGE_VAL, 0.1, 0}, {1e-4, HUGE_VAL, 1},
    };
    double mean = HELD, reach = HELD;
    size_t i;

    for (i = 0; i < COUNT(known); i++)
        ck_assert_msg(dregs_film_drained(&water, known[i][0], known[i][1], known[i][2], &mean,
                                         &reach) == DREGS_DOMAIN,
                      "film %g, height %g, time %g", known[i][0], known[i][1], known[i][2]);
    for (i = 0; i < SENSELESS; i++) {
        const dregs_wetting liquid = senseless((int)i);
        ck_assert_int_eq(dregs_film_drained(&liquid, 1e-4, 0.1, 1, &mean, &reach), DREGS_DOMAIN);
    }
    ck_assert_double_eq(mean, HELD);
    ck_assert_double_eq(reach, HELD);
}
END_TEST

/* ---- classes ---- */

/* Metal Finishing Guidebook 2012-13, Table II, Typical Cleaner Dragout, gal per 1000 ft2. */
static const struct {
    const char *name;
    double least, most;
} printed[] = {
    {"vertical well drained", 0.4, 0.4},
    {"vertical poorly drained", 2.0, 2.0},
    {"vertical very poorly drained", 4.0, 4.0},
    {"horizontal well drained", 0.8, 0.8},
    {"horizontal very poorly drained", 10.0, 10.0},
    {"cup shaped very poorly drained", 8.0, 24.0},
};

/* A gallon is 231 cubic inches and 1000 square feet are 144,000 square inches, both exact; an inch
 * is 0.0254 m. */
START_TEST(classes_in_print)
{
    const double inches = 231.0 / 144000 * 0.0254;
    const dregs_drag_out_class *row;
    size_t i;

    for (i = 0; i < COUNT(printed); i++) {
        ck_assert_ptr_nonnull(row = dregs_film_class(i));
        ck_assert_str_eq(row->name, printed[i].name);
        ck_assert_double_eq(row->gallons[0], printed[i].least);
        ck_assert_double_eq(row->gallons[1], printed[i].most);
        ck_assert_near(row->least, printed[i].least * inches, 1e-14, "%s, least", row->name);
        ck_assert_near(row->most, printed[i].most * inches, 1e-14, "%s, most", row->name);
        ck_assert_ptr_eq(dregs_film_class_named(printed[i].name), row);
    }
}
END_TEST

START_TEST(no_other_classes)
{
    static const char *const names[] = {"", "vertical", "Vertical well drained",
                                        "vertical well drained ", "cup shaped"};
    size_t i;

    ck_assert_ptr_null(dregs_film_class(COUNT(printed)));
    ck_assert_ptr_null(dregs_film_class(SIZE_MAX));
    for (i = 0; i < COUNT(names); i++)
        ck_assert_msg(!dregs_film_class_named(names[i]), "'%s'", names[i]);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"number",
         {numbers_at_even_points, numbers_with_the_older_coefficient, numbers_that_are_refused}},
        {"plate law",
         {films_in_print, a_film_at_an_even_point, thin_films_are_landau_and_levichs,
          films_that_are_refused}},
        {"kushner and the bead",
         {kushners_film, kushner_is_held_to_what_stays, the_bead_on_an_edge}},
        {"drainage",
         {drained_by_hand, drained_is_the_mean_of_the_local_film, drained_water,
          drainage_that_is_refused}},
        {"classes", {classes_in_print, no_other_classes}},
    };

    return run_cases("film", cases, sizeof cases / sizeof cases[0]);
}
