/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_evaporation.c: what an open surface loses. Published tables of whole tanks are held in
 * test_checks.c, through a line file; here are the laws by themselves.
 */
#include "check_main.h"
#include "dregs/dry.h"
#include "dregs/evaporation.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static dregs_liquids *table;
static char message[DREGS_LIQUID_MESSAGE];

/* Without a diffusivity, as a user's own liquid may be. */
#define PLAIN                                                                                      \
    "liquid,property,equation,A,unit,source\n"                                                     \
    "plain,vapour pressure,A,2000,Pa,made up\nplain,molar mass,A,64,g/mol,made up\n"               \
    "plain,density,A,800,kg/m3,made up\n"

static void setup(void)
{
    gsl_set_error_handler_off();
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    ck_assert_int_eq(dregs_liquids_add(table, "plain.csv", PLAIN, strlen(PLAIN), NULL), DREGS_OK);
}

static void teardown(void)
{
    dregs_liquids_free(table);
}

/* A tank of 0.4 m x 0.4 m in a room of 20 degC at 50 %, still air. */
static dregs_open_surface tank_at(double celsius)
{
    return (dregs_open_surface){.temperature = celsius + 273.15,
                                .room = 293.15,
                                .humidity = 0.5,
                                .pressure = DREGS_ATMOSPHERE,
                                .length = 0.1};
}

static dregs_evaporation of(const char *liquid, dregs_open_surface tank)
{
    dregs_evaporation e;

    ck_assert_msg(!dregs_open_evaporation(table, liquid, &tank, &e, message), "%s: %s", liquid,
                  message);
    return e;
}

/* Powers that come out even: 1e4^(1/4) = 10, 1e9^(1/3) = 1000, 1e8^(1/4) = 100. */
START_TEST(sherwood_numbers)
{
    static const struct {
        double rayleigh;
        int rising;
        double sherwood;
    } in[] = {{1e4, 1, 5.4}, {1e9, 1, 150}, {1e8, 0, 27}};
    static const struct {
        double rayleigh;
        int rising;
        dregs_status status;
    } out[] = {{9.9e3, 1, DREGS_OUT_OF_RANGE}, {1.1e11, 1, DREGS_OUT_OF_RANGE},
               {9.9e4, 0, DREGS_OUT_OF_RANGE}, {1.1e10, 0, DREGS_OUT_OF_RANGE},
               {-1, 1, DREGS_DOMAIN},          {NAN, 0, DREGS_DOMAIN}};
    double sherwood = -7.25;
    size_t i;

    for (i = 0; i < sizeof out / sizeof out[0]; i++)
        ck_assert_int_eq(dregs_horizontal_convection(out[i].rayleigh, out[i].rising, &sherwood),
                         out[i].status);
    ck_assert(sherwood == -7.25);
    for (i = 0; i < sizeof in / sizeof in[0]; i++) {
        ck_assert_int_eq(dregs_horizontal_convection(in[i].rayleigh, in[i].rising, &sherwood),
                         DREGS_OK);
        ck_assert_near(sherwood, in[i].sherwood, 1e-12, "Ra = %g", in[i].rayleigh);
    }
}
END_TEST

/* Cengel, Heat and Mass Transfer, ch. 14: 3.5 m x 1 m at 50 degC, room 25 degC, 52 %, 92 kPa:
 * h_m = 5.689e-3 m/s with the surface at the bath's temperature. Its diffusivity of water vapour,
 * 1.87e-10 T^2.072 / p, is 3 % below the table's, which gives h_m 2 % more. */
START_TEST(hot_bath_of_a_textbook)
{
    dregs_open_surface tank = {323.15, 298.15, 0.52, 92e3, 3.5 / 9, 0, 0, 0};
    dregs_evaporation e = of("water", tank);

    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_CONVECTION);
    ck_assert(!e.cooled && e.surface == 323.15 && e.lighter > 0);
    ck_assert_near(e.transfer, 5.689e-3, 0.03, "h_m");
    ck_assert_near(e.transfer, e.sherwood * e.diffusivity * 9 / 3.5, 1e-12, "L = A / P");
    /* 1.411e-3 kg/s of 3.5 m2 without Stefan flow, which adds the logarithmic mean: about
     * (12.35 + 1.65) / 2 / 92 = 7.6 %; and with densities of vapour at two temperatures, where
     * Stefan's law has one: 5 % */
    ck_assert_near(e.flux, 1.411e-3 / 3.5 * 1.076 * 1.05, 0.05, "flux");
}
END_TEST

/* Lines of the table hold to the accuracy of their printing: IAPWS R15-11, 0.1 MPa. */
START_TEST(conductivity_of_water)
{
    ck_assert_near(dregs_open_conductivity(table, "water", 298.15), 0.6065, 1e-3, "25 degC");
    ck_assert_near(dregs_open_conductivity(table, "water", 353.15), 0.670, 5e-3, "80 degC");
    /* beyond the table's: 0.679 W/(m K) at 100 degC, CRC Handbook (value from memory) */
    ck_assert_near(dregs_open_conductivity(table, "water", 373.15), 0.679, 5e-3, "100 degC");
    /* acetone 0.161, toluene 0.131 W/(m K) at 25 degC, CRC Handbook (values from memory) */
    ck_assert_near(dregs_open_conductivity(table, "acetone", 298.15), 0.161, 0.05, "acetone");
    ck_assert_near(dregs_open_conductivity(table, "toluene", 298.15), 0.131, 0.05, "toluene");
    ck_assert(dregs_open_conductivity(table, "d-limonene", 298.15) == 0.0);
    ck_assert(dregs_open_conductivity(table, "no such liquid", 298.15) == 0.0);
}
END_TEST

/* The heat that the liquid brings up is that of evaporation, convection and radiation: each is
 * worked out anew here from the temperature that was found. */
START_TEST(the_surface_keeps_its_balance)
{
    dregs_open_surface tank = tank_at(60);
    dregs_evaporation warm = of("water", tank), cool;
    double latent, density, warmer, viscosity, capacity, up, away, thermal, rayleigh;
    dregs_air air;

    tank.conductivity = 0.651;
    cool = of("water", tank);
    ck_assert(!warm.cooled && cool.cooled);
    ck_assert(cool.surface < tank.temperature && cool.surface > tank.room);
    ck_assert(cool.flux < warm.flux);
    ck_assert_int_eq(
        dregs_liquids_value(table, "water", DREGS_HEAT_OF_VAPORISATION, cool.surface, &latent,
                            NULL) |
            dregs_liquids_value(table, "water", DREGS_DENSITY, 333.15, &density, NULL) |
            dregs_liquids_value(table, "water", DREGS_DENSITY, 334.15, &warmer, NULL) |
            dregs_liquids_value(table, "water", DREGS_VISCOSITY, 333.15, &viscosity, NULL) |
            dregs_liquids_value(table, "water", DREGS_HEAT_CAPACITY, 333.15, &capacity, NULL),
        0);
    ck_assert_int_eq(dregs_air_at((cool.surface + tank.room) / 2, tank.pressure, &air), DREGS_OK);
    thermal = 0.651 / (density * capacity);
    rayleigh = 9.80665 * (1 - warmer / density) * (333.15 - cool.surface) * 1e-3 /
               (viscosity / density * thermal);
    up = (rayleigh > 1e7 ? 0.15 * cbrt(rayleigh) : 0.54 * pow(rayleigh, 0.25)) * 0.651 / 0.1 *
         (333.15 - cool.surface);
    away = cool.law[DREGS_EVAPORATION_CONVECTION].flux * latent +
           cool.transfer * air.density * 1006 *
               pow(air.conductivity / (air.density * 1006) / cool.diffusivity, 2.0 / 3) *
               (cool.surface - tank.room) +
           0.95 * 5.670374419e-8 * (pow(cool.surface, 4) - pow(tank.room, 4));
    ck_assert_near(up, away, 1e-6, "W/m2");
}
END_TEST

static const char *const liquids[] = {"water",   "isopropanol", "ethanol",          "acetone",
                                      "toluene", "d-limonene",  "trichloroethylene"};
enum { LIQUIDS = sizeof liquids / sizeof liquids[0] };

START_TEST(a_draught_takes_no_less_than_still_air)
{
    dregs_open_surface tank = tank_at(20);
    double last;
    int i, k;

    for (i = 0; i < LIQUIDS; i++) {
        tank.air_speed = 0;
        last = of(liquids[i], tank).flux;
        for (k = 1; k <= 60; k++) {
            double now;
            tank.air_speed = 0.05 * k;
            now = of(liquids[i], tank).flux;
            ck_assert_msg(now >= last, "%s at %g m/s: %g after %g", liquids[i], tank.air_speed, now,
                          last);
            last = now;
        }
        ck_assert(last > of(liquids[i], tank_at(20)).flux); /* 3 m/s are more */
    }
}
END_TEST

START_TEST(a_warmer_bath_loses_more)
{
    double last, t;
    int cooled;

    for (cooled = 0; cooled < 2; cooled++)
        for (last = 0, t = 21; t <= 95; t++) {
            dregs_open_surface tank = tank_at(t);
            double now;
            tank.conductivity = cooled ? dregs_open_conductivity(table, "water", t + 273.15) : 0;
            now = of("water", tank).flux;
            ck_assert_msg(now > last, "%g degC: %g after %g", t, now, last);
            last = now;
        }
}
END_TEST

/* Heat makes the air over the surface lighter, the vapour makes it heavier: somewhere both cancel,
 * and the loss does not vanish there. */
START_TEST(drives_against_each_other_do_not_cancel)
{
    double t;
    int i, rose = 0, sank = 0;

    for (i = 0; i < LIQUIDS; i++)
        for (t = 17; t <= 49; t += 0.25) {
            dregs_evaporation e;
            dregs_open_surface tank = tank_at(t);
            tank.humidity = 0.2;
            e = of(liquids[i], tank);
            ck_assert(e.flux >= e.law[DREGS_EVAPORATION_POOL].flux);
            ck_assert_msg(e.flux > 5 * e.law[DREGS_EVAPORATION_DIFFUSION].flux, "%s, %g degC",
                          liquids[i], t);
            rose += e.lighter > 0;
            sank += e.lighter < 0;
        }
    ck_assert(rose > 100 && sank > 100);
}
END_TEST

START_TEST(the_largest_counts_and_all_are_told)
{
    dregs_open_surface tank = tank_at(20);
    dregs_evaporation e;
    int law;

    tank.air_speed = 2;
    e = of("isopropanol", tank);
    for (law = 0; law < DREGS_EVAPORATION_FREEBOARD; law++) {
        ck_assert_msg(e.law[law].applies, "%d: %s", law, e.law[law].why);
        ck_assert(e.flux >= e.law[law].flux);
    }
    ck_assert(e.law[e.counts].flux == e.flux);
    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_WIND);
    /* the laws in print: P in Pa, M in g/mol */
    ck_assert_near(e.law[DREGS_EVAPORATION_POOL].flux, 1464e-9 / 3600 * e.vapour_pressure * 60.096,
                   1e-6, "Mackay");
    ck_assert_near(e.flux,
                   2.1126e-6 * pow(2, 0.78) * pow(60.096, 2.0 / 3) * e.vapour_pressure / 293.15,
                   1e-6, "EPA");
    tank.air_speed = 0;
    e = of("isopropanol", tank);
    ck_assert(!e.law[DREGS_EVAPORATION_WIND].applies);
    ck_assert_str_eq(e.law[DREGS_EVAPORATION_WIND].why, "never for still air");
    e = of("water", tank_at(90));
    ck_assert(!e.law[DREGS_EVAPORATION_POOL].applies);
    for (law = 0; law < DREGS_EVAPORATION_LAWS; law++)
        ck_assert_ptr_nonnull(dregs_evaporation_words((dregs_evaporation_law)law));
    ck_assert_ptr_null(dregs_evaporation_words(DREGS_EVAPORATION_LAWS));
}
END_TEST

/* Two resistances, one behind the other; a deep one is a Stefan tube. */
START_TEST(vapour_stands_below_the_rim)
{
    dregs_open_surface tank = tank_at(20);
    dregs_evaporation open = of("acetone", tank), e;
    double molar;

    tank.freeboard = 0.1;
    e = of("acetone", tank);
    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_FREEBOARD);
    ck_assert_near(open.flux / e.flux, 1 + open.transfer * 0.1 / open.diffusivity, 1e-9, "0.1 m");
    tank.freeboard = 1e-9;
    ck_assert_near(of("acetone", tank).flux, open.flux, 1e-5, "filled to the rim");
    tank.freeboard = 10;
    ck_assert_int_eq(dregs_stefan_flux(open.diffusivity / 10, 293.15, DREGS_ATMOSPHERE,
                                       open.vapour_pressure, 0, &molar),
                     DREGS_OK);
    ck_assert_near(of("acetone", tank).flux, molar * open.molar_mass, 1e-3, "a tube");
    tank.air_speed = 0.05;
    ck_assert(of("acetone", tank).flux >= open.flux);
    tank = tank_at(60);
    tank.freeboard = 0.1;
    e = of("water", tank);
    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_CONVECTION);
    ck_assert_str_eq(e.law[DREGS_EVAPORATION_FREEBOARD].why,
                     "what is lighter than air rises out of it");
}
END_TEST

/* 10 degC below a room of 25 degC and 80 %, whose dew point is 21 degC. */
START_TEST(a_cold_bath_takes_water_from_the_air)
{
    dregs_open_surface tank = tank_at(10);
    dregs_evaporation e;

    tank.room = 298.15;
    tank.humidity = 0.8;
    e = of("water", tank);
    ck_assert(e.condenses && e.flux == 0);
    ck_assert(!of("acetone", tank).condenses);
}
END_TEST

START_TEST(a_liquid_without_diffusivity)
{
    dregs_evaporation e = of("plain", tank_at(20));

    ck_assert_int_eq(e.counts, DREGS_EVAPORATION_POOL);
    /* 1464 x 2000 x 64 = 1.87392e8 ug/(m2 h) */
    ck_assert_near(e.flux, 0.187392 / 3600, 1e-12, "Mackay and van Wesenbeeck 2014");
    ck_assert_msg(strstr(e.law[DREGS_EVAPORATION_CONVECTION].why, "diffusivity"), "%s",
                  e.law[DREGS_EVAPORATION_CONVECTION].why);
}
END_TEST

START_TEST(refusals)
{
    static const double bad[] = {-1, NAN, HUGE_VAL};
    dregs_evaporation e = {.flux = -7.25};
    dregs_open_surface tank = tank_at(20), wrong;
    size_t i, k;

    for (i = 0; i < sizeof tank / sizeof(double); i++)
        for (k = 0; k < sizeof bad / sizeof bad[0]; k++) {
            wrong = tank;
            ((double *)(void *)&wrong)[i] = bad[k];
            ck_assert_int_eq(dregs_open_evaporation(table, "water", &wrong, &e, message),
                             DREGS_DOMAIN);
        }
    wrong = tank_at(99.99); /* boils at 99.97 degC */
    ck_assert_int_eq(dregs_open_evaporation(table, "water", &wrong, &e, message),
                     DREGS_OUT_OF_RANGE);
    ck_assert_msg(strstr(message, "boils"), "%s", message);
    ck_assert_int_eq(dregs_open_evaporation(table, "aether", &tank, &e, message), DREGS_UNKNOWN);
    wrong.temperature = 2000;
    ck_assert_int_eq(dregs_open_evaporation(table, "water", &wrong, &e, NULL), DREGS_OUT_OF_RANGE);
    ck_assert(e.flux == -7.25);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {sherwood_numbers,
                                  hot_bath_of_a_textbook,
                                  conductivity_of_water,
                                  the_surface_keeps_its_balance,
                                  a_draught_takes_no_less_than_still_air,
                                  a_warmer_bath_loses_more,
                                  drives_against_each_other_do_not_cancel,
                                  the_largest_counts_and_all_are_told,
                                  vapour_stands_below_the_rim,
                                  a_cold_bath_takes_water_from_the_air,
                                  a_liquid_without_diffusivity,
                                  refusals};
    Suite *s = suite_create("evaporation");
    TCase *c = tcase_create("open surfaces");
    size_t i;

    tcase_add_checked_fixture(c, setup, teardown);
    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    return run(suite());
}
