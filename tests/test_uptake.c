/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_uptake.c: the water that an open solvent takes from the air, against laws and van Laar's
 * equation written out by hand, and a march in small steps. */
#include "check_main.h"
#include "dregs/dry.h"
#include "dregs/evaporation.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static dregs_liquids *liquids;
static dregs_mixtures *mixtures;
static char message[DREGS_LIQUID_MESSAGE];
static dregs_open_surface tank;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    mixtures = dregs_mixtures_new();
    /* a beaker of 7 cm at 25 degC, in a room of 22 degC at 48 % */
    tank = (dregs_open_surface){.temperature = 298.15,
                                .room = 295.15,
                                .humidity = 0.48,
                                .pressure = DREGS_ATMOSPHERE,
                                .length = 0.0175};
}

static void teardown(void)
{
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
}

static double pressure(const char *liquid, double temperature)
{
    double value = NAN;

    ck_assert_int_eq(
        dregs_liquids_value(liquids, liquid, DREGS_VAPOUR_PRESSURE, temperature, &value, NULL),
        DREGS_OK);
    return value;
}

static dregs_open_content after(double time, double solvent, double water)
{
    dregs_open_content content = {solvent, water};

    ck_assert_msg(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, time, &content,
                                    message) == DREGS_OK,
                  "%s", message);
    return content;
}

/* At first pure isopropanol evaporates, and water comes at the full pressure of the room's air. */
START_TEST(at_first_both_pass_by_the_law_of_pools)
{
    const double pool = 1464e-9 / 3600; /* kg/(m2 s) per Pa and g/mol */
    dregs_open_content c = after(1, 40, 0);

    ck_assert_near(40 - c.solvent, pool * 60.096 * pressure("isopropanol", 298.15), 2e-6, "loss");
    ck_assert_near(c.water, pool * 18.015 * 0.48 * pressure("water", 295.15), 2e-5, "uptake");
}
END_TEST

/* The rates are what a second brings. */
START_TEST(rates_are_those_of_the_masses)
{
    dregs_open_content c = after(1, 40, 2), rates;
    const dregs_open_content there = {40, 2};

    ck_assert_int_eq(
        dregs_open_rates(liquids, mixtures, "isopropanol", &tank, &there, &rates, message),
        DREGS_OK);
    ck_assert(rates.solvent < 0 && rates.water > 0);
    ck_assert_near(c.solvent - 40, rates.solvent, 1e-5, "solvent");
    ck_assert_near(c.water - 2, rates.water, 1e-4, "water"); /* of 2 kg, to 1e-9 */
    ck_assert_int_eq(dregs_open_rates(liquids, mixtures, "toluene", &tank, &there, &rates, message),
                     DREGS_UNKNOWN);
    ck_assert(rates.solvent < 0);
}
END_TEST

/* Euler's steps with van Laar's equation, its coefficients those at 25 degC of mixtures.csv */
START_TEST(a_night_in_small_steps)
{
    const double pool = 1464e-9 / 3600, a = 1.9879, b = 1.0938;
    const double pi = pressure("isopropanol", 298.15), pw = pressure("water", 298.15);
    const double far = 0.48 * pressure("water", 295.15), step = 0.25;
    double s = 38.5, w = 0.4;
    dregs_open_content c = after(14 * 3600, s, w);
    int i;

    for (i = 0; i < 14 * 3600 * 4; i++) {
        double x = s / 60.096 / (s / 60.096 + w / 18.015), y = 1 - x, sum = a * x + b * y;
        double gi = exp(a * pow(b * y / sum, 2)), gw = exp(b * pow(a * x / sum, 2));
        double ds = pool * 60.096 * x * gi * pi, dw = pool * 18.015 * (y * gw * pw - far);
        s -= ds * step;
        w -= dw * step;
    }
    ck_assert_near(c.solvent, s, 1e-5, "isopropanol");
    ck_assert_near(c.water, w, 1e-4, "water");
    ck_assert(c.water > 0.4 && c.solvent < 38.5);
}
END_TEST

START_TEST(each_law_passes_water_too)
{
    double far = 0.48 * pressure("water", 295.15), own = NAN, other = NAN, film, flux;
    dregs_evaporation e;

    /* US EPA: u^0.78 M^(2/3) */
    tank.air_speed = 3;
    ck_assert_near(after(1, 40, 0).water,
                   2.1126e-6 * pow(3, 0.78) * pow(18.015, 2.0 / 3.0) * far / 298.15, 1e-4, "wind");
    /* through air at rest below a rim: the ratio of the diffusivities, k of both by Fick */
    tank.air_speed = 0;
    tank.freeboard = 0.5;
    ck_assert_int_eq(dregs_open_evaporation(liquids, "isopropanol", &tank, &e, message), DREGS_OK);
    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_FREEBOARD);
    film = (e.surface + 295.15) / 2;
    ck_assert_int_eq(dregs_liquids_value(liquids, "water", DREGS_DIFFUSIVITY, film, &own, NULL), 0);
    ck_assert_int_eq(
        dregs_liquids_value(liquids, "isopropanol", DREGS_DIFFUSIVITY, film, &other, NULL), 0);
    /* Stefan's flow of the solvent: N = k M P/(R T) ln(P/(P - p)) */
    flux = e.flux / (60.096e-3 * DREGS_ATMOSPHERE / (DREGS_GAS_CONSTANT * film) *
                     -log1p(-e.surface_pressure / DREGS_ATMOSPHERE));
    ck_assert_near(after(1, 40, 0).water,
                   flux * own / other * 18.015e-3 / (DREGS_GAS_CONSTANT * film) * far, 1e-4, "rim");
}
END_TEST

/* Dry air takes water out; damp air fills up. In between it stays where the activity is that of
 * the air: x gamma p = far. */
START_TEST(water_goes_both_ways)
{
    double far, x, low = 0, high = 0.9, solvent, water;
    int i;

    tank.humidity = 0;
    ck_assert(after(3600, 40, 2).water < 2);
    tank.humidity = 1;
    ck_assert(after(3600, 40, 2).water > 2);
    tank.humidity = 0.3;
    far = 0.3 * pressure("water", 295.15);
    for (i = 0; i < 60; i++) { /* by halves, with van Laar's equation */
        double sum;
        x = (low + high) / 2;
        sum = 1.9879 * (1 - x) + 1.0938 * x;
        if (x * exp(1.0938 * pow(1.9879 * (1 - x) / sum, 2)) * pressure("water", 298.15) < far)
            low = x;
        else
            high = x;
    }
    solvent = 40;
    water = solvent / 60.096 * low / (1 - low) * 18.015;
    ck_assert_near(after(1, solvent, water).water, water, 2e-6, "it stays");
}
END_TEST

START_TEST(refusals)
{
    dregs_open_content content = {40, 1};

    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "toluene", &tank, 1, &content, message),
                     DREGS_UNKNOWN);
    ck_assert_int_eq(
        dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, 1e7, &content, message),
        DREGS_OUT_OF_RANGE);
    ck_assert_msg(strstr(message, "nearly all"), "%s", message);
    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, -1, &content, NULL),
                     DREGS_DOMAIN);
    content.water = NAN;
    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, 1, &content, NULL),
                     DREGS_DOMAIN);
    content = (dregs_open_content){0, 1};
    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, 1, &content, NULL),
                     DREGS_DOMAIN);
    ck_assert(content.solvent == 0 && content.water == 1);
    content.solvent = 40;
    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, 0, &content, NULL),
                     DREGS_OK);
    ck_assert(content.solvent == 40 && content.water == 1);
    tank.temperature = 400;
    ck_assert_int_eq(dregs_open_uptake(liquids, mixtures, "isopropanol", &tank, 1, &content, NULL),
                     DREGS_OUT_OF_RANGE);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {at_first_both_pass_by_the_law_of_pools,
                                  rates_are_those_of_the_masses,
                                  a_night_in_small_steps,
                                  each_law_passes_water_too,
                                  water_goes_both_ways,
                                  refusals};
    Suite *suite = suite_create("uptake");
    TCase *tcase = tcase_create("water");
    size_t i;

    tcase_add_checked_fixture(tcase, setup, teardown);
    suite_add_tcase(suite, tcase);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(tcase, tests[i]);
    return run(suite);
}
