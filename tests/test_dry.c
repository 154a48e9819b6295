/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_dry.c: heat and vapour transfer, humid air and drying films, against published values and
 * against what must hold of any drying.
 */
#include "check_main.h"
#include "dregs/dry.h"
#include "dregs/unit.h"
#include "liquid/builtin.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#define ZERO_CELSIUS 273.15
#define MMHG         133.322        /* Pa */
#define CUBIC_FOOT   0.028316846592 /* m3 */

static dregs_liquids *table;
static dregs_mixtures *mixtures;
static char message[DREGS_DRY_MESSAGE];

static void setup(void)
{
    gsl_set_error_handler_off();
    table = dregs_liquids_new();
    mixtures = dregs_mixtures_new();
    ck_assert_ptr_nonnull(table);
    ck_assert_ptr_nonnull(mixtures);
}

static void teardown(void)
{
    dregs_liquids_free(table);
    dregs_mixtures_free(mixtures);
}

static void add(const char *text)
{
    static dregs_faults faults;
    dregs_status status;

    memset(&faults, 0, sizeof faults);
    status = dregs_liquids_add(table, "own.csv", text, strlen(text), &faults);
    ck_assert_msg(status == DREGS_OK, "%s", faults.count ? faults.fault[0].text : "?");
}

static double value(const char *liquid, dregs_property property, double temperature)
{
    double got = NAN;
    dregs_status status = dregs_liquids_value(table, liquid, property, temperature, &got, message);

    ck_assert_msg(status == DREGS_OK, "%s", message);
    return got;
}

/* A liquid whose properties do not change with temperature. */
static void add_constant(double vapour_pressure, double heat_capacity)
{
    char text[1024];

    snprintf(text, sizeof text,
             "liquid,property,equation,unit,A,source\n"
             "constant,vapour pressure,A,Pa,%.17g,made up\n"
             "constant,heat of vaporisation,A,kJ/kg,100,made up\n"
             "constant,heat capacity,A,J/(kg.K),%.17g,made up\n"
             "constant,diffusivity in air,A,m2/s,2e-5,made up\n"
             "constant,density,A,kg/m3,1000,made up\n"
             "constant,lower flammable limit,A,%%,2,made up\n"
             "constant,molar mass,A,g/mol,200,made up\n",
             vapour_pressure, heat_capacity);
    add(text);
}

/* The rows of a built-in liquid under a name of the user's own, but for one property. */
static void add_renamed(const char *liquid, const char *as, const char *but)
{
    const char *at = (const char *)dregs_liquids_builtin, *next;
    const char *end = at + dregs_liquids_builtin_length;
    static char text[16384];
    size_t length = strlen(liquid), used;

    used = (size_t)snprintf(text, sizeof text, "%.*s\n", (int)strcspn(at, "\n"), at);
    for (; at < end; at = next) {
        next = memchr(at, '\n', (size_t)(end - at));
        next = next ? next + 1 : end;
        if (strncmp(at, liquid, length) == 0 && at[length] == ',' &&
            strncmp(at + length + 1, but, strlen(but)) != 0)
            used += (size_t)snprintf(text + used, sizeof text - used, "%s%.*s", as,
                                     (int)(next - at - (ptrdiff_t)length), at + length);
    }
    add(text);
}

/* A film of 20 um or so of one liquid on steel in a still, dry room of 22 degC. */
static dregs_dry_case film_of(const char *liquid, double mass)
{
    dregs_dry_case film;

    memset(&film, 0, sizeof film);
    film.liquids = table;
    film.mixtures = mixtures;
    film.count = 1;
    film.liquid[0] = liquid;
    film.mass[0] = mass;
    film.start = film.air = film.wall = film.humid_at = ZERO_CELSIUS + 22;
    film.speed = 0.1;
    film.pressure = DREGS_ATMOSPHERE;
    film.heat_capacity = 3900;
    film.length = 0.1;
    film.emissivity = 0.9;
    film.until = 1e-3;
    return film;
}

static dregs_drying dried_to(const dregs_dry_case *film, double tolerance)
{
    dregs_drying drying;
    dregs_status status;

    memset(&drying, 0, sizeof drying);
    status = dregs_dry(film, tolerance, &drying, message);
    ck_assert_msg(status == DREGS_OK, "%s: %s", dregs_status_text(status), message);
    return drying;
}

static double time_of(const dregs_dry_case *film)
{
    dregs_drying drying = dried_to(film, 1e-9);
    double time = drying.time;

    ck_assert_int_eq(drying.dry, 1);
    dregs_drying_clear(&drying);
    return time;
}

static void refused(const dregs_dry_case *film, double tolerance, dregs_status expected,
                    const char *words)
{
    dregs_drying drying;
    dregs_status status;

    memset(&drying, 0, sizeof drying);
    strcpy(message, "untouched");
    status = dregs_dry(film, tolerance, &drying, message);
    ck_assert_msg(status == expected, "%s (%s) instead of %s", dregs_status_text(status), message,
                  dregs_status_text(expected));
    ck_assert_msg(strstr(message, words) != NULL, "'%s' does not say '%s'", message, words);
    ck_assert_ptr_null(drying.point);
    ck_assert_uint_eq(drying.points, 0);
}

/* ---- published values ---- */

/* D01: Geankoplis, Transport Processes, example 6.2-2: water at 293 K, 0.1524 m below the mouth of
 * a tube, 17.54 mmHg, 1.595e-7 kmol/(m2 s). The coefficient of a tube is D / z. */
START_TEST(stefan_tube)
{
    double flux;

    ck_assert_int_eq(
        dregs_stefan_flux(0.250e-4 / 0.1524, 293, DREGS_ATMOSPHERE, 17.54 * MMHG, 0, &flux),
        DREGS_OK);
    ck_assert_near(flux, 1.595e-4, 3e-3, "flux of the tube");
}
END_TEST

/* D02: Geankoplis, example 6.2-5: n-butanol in air by Fuller, Schettler and Giddings 1966: 4 C,
 * 10 H, 1 O with 16.5, 1.98 and 5.48, air 20.1 and 29 g/mol. */
START_TEST(diffusivity_of_butanol)
{
    add("liquid,property,equation,unit,A,B,C,D,E,low,high,source\n"
        "n-butanol,diffusivity in air,y=A*T^1.75*(1/B+1/D)^0.5/(C^(1/3)+E^(1/3))^2,m2/s,1e-7,74.1,"
        "91.28,29,20.1,250,450,\"Geankoplis, example 6.2-5\"\n");
    ck_assert_near(value("n-butanol", DREGS_DIFFUSIVITY, 273), 7.701e-6, 1e-3, "at 273 K");
    ck_assert_near(value("n-butanol", DREGS_DIFFUSIVITY, 298.9), 9.025e-6, 1e-3, "at 298.9 K");
}
END_TEST

/* D03: Geankoplis, example 7.2-1: ky' = 6.78e-5 kmol/(m2 s) at 2 atm, 0.2 atm at the surface, none
 * far from it: 7.143e-6 kmol/(m2 s). k = ky' R T / P. */
START_TEST(bulk_flow)
{
    double flux, t = 311, p = 2 * DREGS_ATMOSPHERE;

    ck_assert_int_eq(
        dregs_stefan_flux(6.78e-2 * DREGS_GAS_CONSTANT * t / p, t, p, p / 10, 0, &flux), DREGS_OK);
    ck_assert_near(flux, 7.143e-3, 5e-4, "flux");
}
END_TEST

/* Vapour pressure of air with so many kg of vapour per kg of dry air. */
static double pressure_of(double ratio, double molar_mass)
{
    double moles = ratio / molar_mass;

    return DREGS_ATMOSPHERE * moles / (moles + 1 / 28.96e-3);
}

/* D04: Geankoplis, example 9.6-3: a pan of 0.457 m square dries in air of 65.6 degC and 0.010
 * kg/kg, 6.1 m/s: h = 0.0204 G^0.8 = 62.45 W/(m2 K), 28.9 degC, 3.39 kg/(m2 h), 0.708 kg/h in
 * all. He reads the wet bulb from the psychrometric chart, which takes h / (k cp) for 1. By
 * Chilton and Colburn it is (a/D)^(2/3), below 1 for water: the surface is colder and the rate a
 * few percent higher. */
START_TEST(pan_in_warm_air)
{
    double g = 6.1 * 3600 * 1.037, h = 0.0204 * pow(g, 0.8), surface, flux;

    ck_assert_near(h, 62.45, 1e-3, "h");
    ck_assert_near(h * (65.6 - 28.9) / value("water", DREGS_HEAT_OF_VAPORISATION, 302.05) * 3600,
                   3.39, 2e-3, "rate at the chart's wet bulb");
    ck_assert_int_eq(dregs_wet_surface(table, "water", ZERO_CELSIUS + 65.6, DREGS_ATMOSPHERE,
                                       pressure_of(0.010, 18.015e-3), h, &surface, &flux),
                     DREGS_OK);
    ck_assert_msg(surface < 302.05 && surface > 302.05 - 2, "surface at %.9g degC, chart 28.9",
                  surface - ZERO_CELSIUS);
    ck_assert_near(flux * 3600, 3.39, 0.05, "rate");
    ck_assert_near(flux * 3600 * 0.457 * 0.457, 0.708, 0.05, "rate of the pan");
    /* heat that comes is heat that evaporates */
    ck_assert_near(flux * value("water", DREGS_HEAT_OF_VAPORISATION, surface),
                   h * (ZERO_CELSIUS + 65.6 - surface), 1e-6, "balance");
}
END_TEST

/* D05: ASHRAE Fundamentals 2017, ch. 1, as tested in an open psychrometric library: 7 degC, 61 %,
 * 100 kPa: 3.927 degC. From memory of the psychrometric chart: 25 degC and 50 %: 17.9 degC. */
START_TEST(wet_bulb_of_humid_air)
{
    double wet;

    ck_assert_int_eq(dregs_wet_bulb(table, ZERO_CELSIUS + 7, 0.61, 1e5, &wet), DREGS_OK);
    ck_assert_double_eq_tol(wet - ZERO_CELSIUS, 3.927, 0.01);
    ck_assert_int_eq(dregs_wet_bulb(table, ZERO_CELSIUS + 25, 0.5, DREGS_ATMOSPHERE, &wet),
                     DREGS_OK);
    ck_assert_double_eq_tol(wet - ZERO_CELSIUS, 17.9, 0.1);
    ck_assert_int_eq(dregs_wet_bulb(table, ZERO_CELSIUS + 25, 1, DREGS_ATMOSPHERE, &wet), DREGS_OK);
    ck_assert_double_eq_tol(wet - ZERO_CELSIUS, 25, 1e-9);
}
END_TEST

/* ASHRAE psychrometrics, from memory: 20 degC and 50 % has a dew point of 9.3 degC. */
START_TEST(dew_point_of_humid_air)
{
    double dew;

    ck_assert_int_eq(dregs_dew_point(table, ZERO_CELSIUS + 20, 0.5, &dew), DREGS_OK);
    ck_assert_double_eq_tol(dew - ZERO_CELSIUS, 9.3, 0.1);
    ck_assert_int_eq(dregs_dew_point(table, ZERO_CELSIUS + 30, 1, &dew), DREGS_OK);
    ck_assert_double_eq_tol(dew - ZERO_CELSIUS, 30, 1e-9);
    ck_assert_int_eq(dregs_dew_point(table, ZERO_CELSIUS + 20, 0.1, &dew), DREGS_OUT_OF_RANGE);
    ck_assert_int_eq(dregs_dew_point(table, ZERO_CELSIUS + 20, 1.1, &dew), DREGS_DOMAIN);
}
END_TEST

/* D06: ASHRAE Fundamentals 2017, ch. 1, table 3. */
static const struct {
    double celsius, pressure;
} steam[] = {{5, 872.6}, {25, 3169.7}, {50, 12351.3}, {100, 101418}};

START_TEST(vapour_pressure_of_water)
{
    ck_assert_near(value("water", DREGS_VAPOUR_PRESSURE, ZERO_CELSIUS + steam[_i].celsius),
                   steam[_i].pressure, 3e-4, "%g degC", steam[_i].celsius);
}
END_TEST

/* D07: Treybal, Mass Transfer Operations, illustration 7.10: toluene into air of 60 degC that has
 * 0.050 kg of it per kg of dry air: wet bulb 31.8 degC. He takes the psychrometric ratio from
 * measurements on wet cylinders, h / k = cs Le^0.567 (Bedingfield and Drew 1950), with Sc = 2.00,
 * Pr = 0.70 and cs = 1030 J/(kg K) (these from memory). With that our vapour pressure and heat give
 * his answer. Chilton and Colburn's exponent of 2/3 is for plates; at this Le of 2.9 it makes k a
 * tenth smaller and the surface a kelvin warmer. */
START_TEST(wet_bulb_of_toluene)
{
    double slow, fast, far = pressure_of(0.050, 92.14e-3), low = 290, high = 320;
    double ratio = 1030 * pow(2.00 / 0.70, 0.567);

    while (high - low > 1e-6) {
        double t = (low + high) / 2, p = value("toluene", DREGS_VAPOUR_PRESSURE, t);
        double there = p / (DREGS_ATMOSPHERE - p) * 92.14 / 28.96;
        double gone = (there - 0.050) * value("toluene", DREGS_HEAT_OF_VAPORISATION, t);
        *(gone > ratio * (333.15 - t) ? &high : &low) = t;
    }
    ck_assert_double_eq_tol(low - ZERO_CELSIUS, 31.8, 0.3);
    ck_assert_int_eq(dregs_wet_surface(table, "toluene", ZERO_CELSIUS + 60, DREGS_ATMOSPHERE, far,
                                       5, &slow, NULL),
                     DREGS_OK);
    ck_assert_int_eq(dregs_wet_surface(table, "toluene", ZERO_CELSIUS + 60, DREGS_ATMOSPHERE, far,
                                       500, &fast, NULL),
                     DREGS_OK);
    ck_assert_msg(slow > low && slow < low + 1.3, "plate %.9g, cylinder %.9g degC",
                  slow - ZERO_CELSIUS, low - ZERO_CELSIUS);
    ck_assert_double_eq_tol(slow, fast, 1e-6); /* it does not depend on h */
}
END_TEST

/* D08: Incropera, ch. 6: a wetted can in air of 313 K: 278.9 K (5.9 degC, he takes 273 K off). His
 * air has the values of 300 K, the vapour's density is that at the surface, and its bulk flow is
 * left out. With his air and his density our coefficient gives his answer. The whole of ours takes
 * air and vapour at the mean temperature, which cools less, and the bulk flow, which cools a little
 * more. */
START_TEST(wetted_can)
{
    dregs_air his = {1.161, 1.846e-5, 22.5e-6 * 1.161 * 1007, 1007};
    double h = 20, k, surface = 313, ours;
    int i;

    add_constant(5000, 2000);
    ck_assert_int_eq(dregs_mass_transfer(&his, h, 2e-5, &k), DREGS_OK);
    for (i = 0; i < 200; i++)
        surface = 313 - k / h * 1e5 * 5000 * 0.2 / (DREGS_GAS_CONSTANT * surface);
    ck_assert_double_eq_tol(surface, 278.9, 0.05);
    ck_assert_int_eq(dregs_wet_surface(table, "constant", 313, DREGS_ATMOSPHERE, 0, h, &ours, NULL),
                     DREGS_OK);
    ck_assert_msg(ours > surface && ours < surface + 1.5, "%.9g degC, his %.9g degC",
                  ours - ZERO_CELSIUS, surface - ZERO_CELSIUS);
}
END_TEST

/* D12: 1, 2 and 3 mL of 60 % v/v isopropanol rubbed into two hands are dry after 24, 50 and 67 s:
 * Antimicrobial Resistance and Infection Control 2018, doi 10.1186/s13756-018-0357-6. By mass that
 * is 0.6 x 785 / 902 = 0.52. Ours to assume: two hands have 0.085 m2, the blood keeps them at
 * 32 degC, a palm is 10 cm long, and rubbing stirs the air of 22 degC and 50 % to 0.3 m/s. */
static const struct {
    double millilitres, seconds;
} hand[] = {{1, 24}, {2, 50}, {3, 67}};

START_TEST(wet_hands)
{
    dregs_dry_case film = film_of("isopropanol", 1);
    double density, share = 0.52, time;

    ck_assert_int_eq(dregs_mixture_value(mixtures, "isopropanol", "water", DREGS_DENSITY, share,
                                         293.15, &density, message),
                     DREGS_OK);
    ck_assert_near(share * density, 0.6 * 785, 0.01, "60 %% by volume");
    film.count = 2;
    film.liquid[1] = "water";
    film.mass[0] = hand[_i].millilitres * 1e-6 * density * share / 0.085;
    film.mass[1] = hand[_i].millilitres * 1e-6 * density * (1 - share) / 0.085;
    film.start = ZERO_CELSIUS + 32;
    film.heat_capacity = 1e9;
    film.humidity = 0.5;
    film.speed = 0.3;
    time = time_of(&film);
    ck_assert_msg(time > hand[_i].seconds / 2 && time < hand[_i].seconds * 2,
                  "%g mL: %.4g s, measured %g s", hand[_i].millilitres, time, hand[_i].seconds);
}
END_TEST

/* E06: by definition: 1 L of isopropanol, 785 kg/m3, to 25 % of 2.0 %: 62.5 m3 of air at 20
 * degC. */
START_TEST(air_for_a_litre_of_isopropanol)
{
    double volume;

    ck_assert_int_eq(dregs_dilution_air(table, "isopropanol", 0.785, 293.15, 0.25, &volume),
                     DREGS_OK);
    ck_assert_near(volume, 62.5, 5e-3, "air");
}
END_TEST

/* E07: 29 CFR 1910.94(c)(6): a gallon of toluene is 30.4 ft3 of vapour; at a limit of 1.4 % it
 * takes 4 (100 - 1.4) 30.4 / 1.4 = 8564 ft3. That is four times the air for the limit itself;
 * what is exact for a quarter of it, V (4 / y - 1), is 1.1 % more. */
START_TEST(air_for_a_gallon_of_toluene)
{
    double volume, t = 294.26, mass;

    add("liquid,property,equation,unit,A,source\n"
        "toluene,lower flammable limit,A,%,1.4,29 CFR 1910.94(c)(6)\n");
    mass = 30.4 * CUBIC_FOOT * DREGS_ATMOSPHERE / (DREGS_GAS_CONSTANT * t) *
           value("toluene", DREGS_MOLAR_MASS, t);
    ck_assert_int_eq(dregs_dilution_air(table, "toluene", mass, t, 1, &volume), DREGS_OK);
    ck_assert_near(4 * volume / CUBIC_FOOT, 8564, 1e-3, "as the regulation has it");
    ck_assert_int_eq(dregs_dilution_air(table, "toluene", mass, t, 0.25, &volume), DREGS_OK);
    ck_assert_near(volume / CUBIC_FOOT, 8564, 1.2e-2, "for a quarter");
}
END_TEST

/* E08: NIOSH Pocket Guide: mg/m3 of 1 ppm at 25 degC. */
static const struct {
    const char *liquid;
    double milligrams;
} ppm[] = {{"isopropanol", 2.46}, {"ethanol", 1.89}, {"n-hexane", 3.53}, {"toluene", 3.77}};

START_TEST(milligrams_of_a_ppm)
{
    ck_assert_near(value(ppm[_i].liquid, DREGS_MOLAR_MASS, 298.15) * 1e6 /* mg/kg */ * 1e-6 *
                       DREGS_ATMOSPHERE / (DREGS_GAS_CONSTANT * 298.15),
                   ppm[_i].milligrams, 4e-3, "%s", ppm[_i].liquid);
}
END_TEST

/* Dry air at 300 K, Incropera, table A.4: 1.1614 kg/m3, 184.6e-7 Pa.s, 26.3e-3 W/(m K); at 400 K
 * 0.8711, 230.1e-7, 33.8e-3. */
START_TEST(dry_air)
{
    dregs_air air;

    ck_assert_int_eq(dregs_air_at(300, DREGS_ATMOSPHERE, &air), DREGS_OK);
    ck_assert_near(air.density, 1.1614, 2e-2, "density at 300 K");
    ck_assert_near(air.viscosity, 184.6e-7, 2e-2, "viscosity at 300 K");
    ck_assert_near(air.conductivity, 26.3e-3, 2e-2, "conductivity at 300 K");
    ck_assert_int_eq(dregs_air_at(400, DREGS_ATMOSPHERE, &air), DREGS_OK);
    ck_assert_near(air.density, 0.8711, 2e-2, "density at 400 K");
    ck_assert_near(air.viscosity, 230.1e-7, 2e-2, "viscosity at 400 K");
    ck_assert_near(air.conductivity, 33.8e-3, 2e-2, "conductivity at 400 K");
}
END_TEST

/* Nu of the correlations, by hand. Forced: Re = 1e4, Pr = 0.7: 0.664 x 100 x 0.8879 = 58.957.
 * Behind Re = 5e5: Re = 1e6: (0.037 x 63095.73 - 871) x 0.8879 = 1299.5. Free: Ra = 1e9 and Pr =
 * 0.7: 1 + (0.492 / 0.7)^0.5625 = 1.82011, its power 8/27 1.19416; 0.825 + 0.387 x 31.6228 /
 * 1.19416 = 11.0732, squared 122.62. */
START_TEST(plates)
{
    /* k = 1, rho cp = 1 / a; Pr = mu cp / k */
    dregs_air air = {1, 0.7e-5, 1e-5 * 1000, 1000};
    double h;

    ck_assert_int_eq(dregs_heat_transfer(&air, 1e4 * 0.7e-5, 1, 0, &h), DREGS_OK);
    ck_assert_near(h / 0.01, 58.957, 1e-4, "laminar");
    ck_assert_int_eq(dregs_heat_transfer(&air, 1e6 * 0.7e-5, 1, 0, &h), DREGS_OK);
    ck_assert_near(h / 0.01, 1299.5, 1e-3, "turbulent");
    ck_assert_int_eq(dregs_heat_transfer(&air, 0, 1, 1e9 * 0.7e-5 * 1e-5 / 9.80665, &h), DREGS_OK);
    ck_assert_near(h / 0.01, 122.62, 1e-3, "free");
}
END_TEST

/* ---- what must hold ---- */

static const struct {
    const char *liquid;
    double share, humidity, volume;
} closing[] = {{"isopropanol", 1, 0, 0},   {"isopropanol", 1, 0.5, 0}, {"isopropanol", 0.7, 0.5, 0},
               {"water", 1, 0.5, 0},       {"toluene", 1, 0.5, 0},     {"isopropanol", 1, 0.5, 10},
               {"ethanol", 0.9, 0.3, 100}, {"acetone", 1, 0.6, 0}};

START_TEST(mass_and_heat_close)
{
    dregs_dry_case film = film_of(closing[_i].liquid, 0.0157 * closing[_i].share);
    dregs_drying drying;
    const dregs_dry_point *last;
    double scale, evaporated;

    if (closing[_i].share < 1) {
        film.count = 2;
        film.liquid[1] = "water";
        film.mass[1] = 0.0157 * (1 - closing[_i].share);
    }
    film.humidity = closing[_i].humidity;
    film.volume = closing[_i].volume;
    film.area = 1;
    film.heat_capacity = 1000;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 1);
    scale = fabs(drying.convected) + fabs(drying.radiated) + fabs(drying.latent);
    ck_assert_msg(fabs(drying.stored - drying.convected - drying.radiated + drying.latent) <=
                      1e-9 * scale,
                  "heat: off by %g of %g",
                  drying.stored - drying.convected - drying.radiated + drying.latent, scale);
    last = &drying.point[drying.points - 1];
    ck_assert_near(last->total, 1e-3 * 0.0157, 1e-7, "left at the end");
    ck_assert_double_eq(last->time, drying.time);
    /* without fresh air the vapour that is gained is the liquid that was lost */
    if (film.volume > 0) {
        unsigned i;
        for (i = 0; i < drying.volatiles; i++) {
            evaporated = (drying.point[0].mass[i] - last->mass[i]) /
                         value(drying.liquid[i], DREGS_MOLAR_MASS, film.air);
            ck_assert_msg(fabs((last->share[i] - drying.point[0].share[i]) * film.pressure *
                                   film.volume / (DREGS_GAS_CONSTANT * film.air) -
                               evaporated) <= 1e-9 * 0.0157 / 0.018,
                          "vapour of %s: %g mol in the air, %g gone", drying.liquid[i],
                          (last->share[i] - drying.point[0].share[i]) * film.pressure *
                              film.volume / (DREGS_GAS_CONSTANT * film.air),
                          evaporated);
        }
    }
    dregs_drying_clear(&drying);
}
END_TEST

/* With constant properties: latent = L x what is gone; stored = C (T_end - T_start) + c int w
 * dT. */
START_TEST(heat_content_by_hand)
{
    dregs_dry_case film;
    dregs_drying drying;
    double stored, start;
    size_t p;

    add_constant(3000, 2000);
    film = film_of("constant", 0.02);
    film.heat_capacity = 500;
    drying = dried_to(&film, 1e-11);
    ck_assert_int_eq(drying.dry, 1);
    ck_assert_near(drying.latent, 1e5 * 0.02 * (1 - 1e-3), 1e-8, "latent");
    stored = film.heat_capacity * (drying.point[drying.points - 1].temperature - film.start);
    start = stored;
    for (p = 1; p < drying.points; p++)
        stored += 2000 * (drying.point[p].total + drying.point[p - 1].total) / 2 *
                  (drying.point[p].temperature - drying.point[p - 1].temperature);
    ck_assert_near(drying.stored, stored, 1e-5, "stored");
    /* the liquid's own heat is enough of it to be seen */
    ck_assert_msg(fabs(stored / start - 1) > 1e-2, "the liquid's share %g", stored / start - 1);
    dregs_drying_clear(&drying);
}
END_TEST

/* A huge heat capacity holds the part's temperature; none at all lets it go to the wet bulb. */
START_TEST(between_the_bounds)
{
    dregs_dry_case film = film_of("isopropanol", 0.0157), bound;
    double isothermal, wet_bulb, before = 0, time;
    static const double capacity[] = {1e8, 1e5, 1e4, 1e3, 1e2, 0};
    size_t i;

    bound = film;
    bound.mode = DREGS_DRY_ISOTHERMAL;
    isothermal = time_of(&bound);
    bound.mode = DREGS_DRY_WET_BULB;
    wet_bulb = time_of(&bound);
    for (i = 0; i < sizeof capacity / sizeof capacity[0]; i++) {
        film.heat_capacity = capacity[i];
        time = time_of(&film);
        ck_assert_msg(time > before, "%g J/(m2 K): %g s, more of it %g s", capacity[i], time,
                      before);
        before = time;
        if (i == 0)
            ck_assert_near(time, isothermal, 1e-2, "isothermal");
    }
    /* what is left is the film's own heat: a thin film has little of it next to its latent heat */
    ck_assert_msg(wet_bulb > before && before > 0.9 * wet_bulb, "%g s, wet bulb %g s", before,
                  wet_bulb);
    /* so start there */
    bound = film;
    bound.mode = DREGS_DRY_WET_BULB;
    {
        dregs_drying drying = dried_to(&bound, 1e-9);
        film.start = drying.coldest;
        dregs_drying_clear(&drying);
    }
    ck_assert_near(time_of(&film), wet_bulb, 1e-2, "wet bulb");
}
END_TEST

START_TEST(steps_do_not_matter)
{
    static const char *const liquids[] = {"isopropanol", "water", "acetone"};
    dregs_dry_case film = film_of(liquids[_i], 0.0157);
    dregs_drying coarse, fine;

    film.humidity = 0.5;
    coarse = dried_to(&film, 1e-6);
    fine = dried_to(&film, 1e-11);
    /* the air that a cold, heavy film moves changes with the state, and water condenses in it */
    ck_assert_near(coarse.time, fine.time, 4e-4, "%s, 1e-6", liquids[_i]);
    dregs_drying_clear(&coarse);
    coarse = dried_to(&film, 1e-9);
    ck_assert_near(coarse.time, fine.time, 1e-6, "%s, 1e-9", liquids[_i]);
    dregs_drying_clear(&coarse);
    dregs_drying_clear(&fine);
}
END_TEST

/* A solvent and water that do not mix dry side by side; where the first of them is gone there is a
 * kink, which costs accuracy. */
START_TEST(liquids_that_do_not_mix)
{
    dregs_dry_case film = film_of("toluene", 0.01);
    dregs_drying coarse, fine;
    double water;

    film.count = 2;
    film.liquid[1] = "water";
    film.mass[1] = 0.005;
    film.mode = DREGS_DRY_ISOTHERMAL;
    film.speed = 30; /* forced flow, so that neither's weight moves the other's air */
    coarse = dried_to(&film, 1e-9);
    film.count = 1;
    film.liquid[0] = "water";
    film.mass[0] = 0.005;
    film.until = 0.001 * 0.015 / 0.005; /* as much water left */
    water = time_of(&film);
    ck_assert_near(coarse.time, water, 1e-3, "water alone");
    dregs_drying_clear(&coarse);
    film = film_of("n-heptane", 0.01);
    film.count = 2;
    film.liquid[1] = "water";
    film.mass[1] = 0.002;
    film.humidity = 0.4;
    coarse = dried_to(&film, 1e-9);
    fine = dried_to(&film, 1e-11);
    ck_assert_near(coarse.time, fine.time, 1e-3, "time");
    dregs_drying_clear(&coarse);
    dregs_drying_clear(&fine);
}
END_TEST

START_TEST(twice_the_film_takes_twice_the_time)
{
    dregs_dry_case film = film_of("isopropanol", 0.01);
    double once;

    film.mode = DREGS_DRY_ISOTHERMAL;
    once = time_of(&film);
    film.mass[0] *= 2;
    ck_assert_near(time_of(&film), 2 * once, 1e-7, "time");
}
END_TEST

/* The isothermal film by the functions it is made of: time = (1 - until) w / N. */
START_TEST(isothermal_by_hand)
{
    dregs_dry_case film = film_of("isopropanol", 0.01);
    double t = film.air, p = value("isopropanol", DREGS_VAPOUR_PRESSURE, t), h, k, n;
    double m = value("isopropanol", DREGS_MOLAR_MASS, t);
    /* the mixture of air and vapour at the surface is denser by p/P (M/M_air - 1) */
    double buoyancy = p / film.pressure * (m / 28.96e-3 - 1);
    dregs_air air;

    film.mode = DREGS_DRY_ISOTHERMAL;
    film.speed = 0;
    ck_assert_int_eq(dregs_air_at(t, film.pressure, &air), DREGS_OK);
    ck_assert_int_eq(dregs_heat_transfer(&air, 0, film.length, buoyancy, &h), DREGS_OK);
    ck_assert_int_eq(dregs_mass_transfer(&air, h, value("isopropanol", DREGS_DIFFUSIVITY, t), &k),
                     DREGS_OK);
    ck_assert_int_eq(dregs_stefan_flux(k, t, film.pressure, p, 0, &n), DREGS_OK);
    ck_assert_near(time_of(&film), (1 - 1e-3) * 0.01 / (n * m), 1e-6, "time");
}
END_TEST

START_TEST(hotter_is_faster)
{
    dregs_dry_case film = film_of("isopropanol", 0.0157);
    double before = INFINITY, time, celsius;

    for (celsius = 22; celsius <= 72; celsius += 10) {
        film.air = film.wall = film.start = ZERO_CELSIUS + celsius;
        time = time_of(&film);
        ck_assert_msg(time < before, "%g degC: %g s, 10 K less %g s", celsius, time, before);
        before = time;
    }
}
END_TEST

START_TEST(a_closed_room_saturates)
{
    dregs_dry_case film = film_of("isopropanol", 0.02);
    dregs_drying drying;

    film.volume = 0.05;
    film.area = 1;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 0);
    ck_assert_near(drying.peak_share[0],
                   value("isopropanol", DREGS_VAPOUR_PRESSURE, film.air) / film.pressure, 1e-4,
                   "share");
    ck_assert_near(drying.peak, drying.peak_share[0] / 0.02, 1e-9, "of the limit");
    dregs_drying_clear(&drying);
}
END_TEST

static const struct {
    const char *liquid;
    double mass, volume;
} oven[] = {{"isopropanol", 0.0157, 1}, {"acetone", 0.02, 2}, {"n-heptane", 0.01, 0.5}};

START_TEST(fresh_air_is_just_enough)
{
    dregs_dry_case film = film_of(oven[_i].liquid, oven[_i].mass);
    dregs_drying drying;
    double needed;
    dregs_status status;

    film.volume = oven[_i].volume;
    film.area = 2;
    film.humidity = 0.3;
    status = dregs_dry_fresh_air(&film, 0.25, &needed, message);
    ck_assert_msg(status == DREGS_OK, "%s", message);
    ck_assert_msg(needed > 0, "none needed");
    film.fresh_air = needed;
    drying = dried_to(&film, 1e-9);
    ck_assert_near(drying.peak, 0.25, 2e-4, "peak");
    dregs_drying_clear(&drying);
    film.fresh_air = needed * 0.999;
    drying = dried_to(&film, 1e-9);
    ck_assert_msg(drying.peak > 0.25, "with 0.1 %% less: %.9g", drying.peak);
    dregs_drying_clear(&drying);
    film.volume = 1e5;
    ck_assert_int_eq(dregs_dry_fresh_air(&film, 0.25, &needed, message), DREGS_OK);
    ck_assert_double_eq(needed, 0);
}
END_TEST

START_TEST(saturated_air_dries_no_water)
{
    dregs_dry_case film = film_of("water", 0.02);
    dregs_drying drying;

    film.humidity = 1;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 0);
    ck_assert_near(drying.point[drying.points - 1].total, 0.02, 1e-9, "left");
    dregs_drying_clear(&drying);
    film.humidity = 0.99;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 1);
    dregs_drying_clear(&drying);
}
END_TEST

START_TEST(acetone_makes_wet_spots)
{
    dregs_dry_case film = film_of("acetone", 0.016);
    dregs_drying drying;

    film.heat_capacity = 500;
    film.humidity = 0.6;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.wet_spots, 1);
    ck_assert(drying.coldest < drying.dew_point);
    ck_assert_uint_eq(drying.volatiles, 2);
    ck_assert_str_eq(drying.liquid[1], "water");
    dregs_drying_clear(&drying);
    film.humidity = 0;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.wet_spots, 0);
    ck_assert(isnan(drying.dew_point));
    dregs_drying_clear(&drying);
    film.heat_capacity = 1e6;
    film.humidity = 0.6;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.wet_spots, 0);
    dregs_drying_clear(&drying);
}
END_TEST

/* How a liquid dries is not its name's doing: in humid air water condenses into acetone and stays,
 * and so it does when the rows are called something else. */
START_TEST(a_name_changes_nothing)
{
    dregs_dry_case film = film_of("acetone", 0.016), other;
    double time;

    film.air = film.wall = film.start = film.humid_at = ZERO_CELSIUS + 25;
    film.humidity = 0.8;
    add_renamed("acetone", "nail remover", "none");
    other = film;
    other.liquid[0] = "nail remover";
    time = time_of(&film);
    ck_assert_near(time_of(&other), time, 1e-12, "under another name");
    /* side by side with water it would be gone before the water */
    add("liquid,property,equation,unit,A,source\n"
        "nail remover,miscibility with water,A,,partly miscible,made up\n");
    ck_assert(time_of(&other) < time / 2);
}
END_TEST

/* A thin part, a fast solvent: below 0 degC the room's water goes on condensing, as supercooled;
 * the part's heat alone cools it by less than the latent heat of all the solvent could. */
START_TEST(a_film_may_cool_below_freezing)
{
    dregs_dry_case film = film_of("dichloromethane", 0.0265);
    dregs_drying drying;

    film.heat_capacity = 100;
    film.humidity = 0.5;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 1);
    ck_assert_int_eq(drying.wet_spots, 1);
    ck_assert(drying.coldest < ZERO_CELSIUS);
    /* 0.0265 kg/m2 of 330 kJ/kg over 100 J/(m2 K) */
    ck_assert(drying.coldest > ZERO_CELSIUS + 22 - 0.0265 * 330e3 / 100);
    ck_assert_near(drying.stored, drying.convected + drying.radiated - drying.latent, 1e-9,
                   "heat below freezing");
    dregs_drying_clear(&drying);
}
END_TEST

static double share_of(const dregs_dry_point *point)
{
    return point->mass[0] / (point->mass[0] + point->mass[1]);
}

START_TEST(alcohol_goes_before_water)
{
    dregs_dry_case film = film_of("isopropanol", 0.7 * 0.0157);
    dregs_drying drying;
    size_t p;

    film.count = 2;
    film.liquid[1] = "water";
    film.mass[1] = 0.3 * 0.0157;
    film.humidity = 0.5;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 1);
    for (p = 1; p < drying.points; p++)
        ck_assert_msg(drying.point[p].mass[0] < 1e-7 * 0.0157 ||
                          share_of(&drying.point[p]) < share_of(&drying.point[p - 1]),
                      "at %g s", drying.point[p].time);
    /* the last of it is water alone */
    ck_assert_double_eq_tol(drying.point[drying.points - 1].mass[0], 0, 1e-7 * 0.0157);
    dregs_drying_clear(&drying);
}
END_TEST

/* The mixture that boils without changing at 22 degC evaporates so too, when both vapours
 * diffuse alike and are thin in the air: hence the high pressure. */
START_TEST(an_azeotrope_stays_one)
{
    dregs_dry_case film = film_of("isopropanol", 0);
    dregs_drying drying;
    double low = 3000, high = 6000, mole = NAN, temperature = NAN, mass;
    int i;

    add("liquid,property,equation,unit,A,source\n"
        "isopropanol,diffusivity in air,A,m2/s,1.5e-5,made up\n"
        "water,diffusivity in air,A,m2/s,1.5e-5,made up\n");
    for (i = 0; i < 60; i++) {
        dregs_status status =
            dregs_mixture_azeotrope(mixtures, table, "isopropanol", "water", (low + high) / 2,
                                    &mole, &temperature, message);
        ck_assert_msg(status == DREGS_OK, "%s", message);
        *(temperature < film.air ? &low : &high) = (low + high) / 2;
    }
    ck_assert_double_eq_tol(temperature, film.air, 1e-6);
    mass = dregs_mixture_mass_share(mole, value("isopropanol", DREGS_MOLAR_MASS, film.air),
                                    value("water", DREGS_MOLAR_MASS, film.air));
    film.count = 2;
    film.liquid[1] = "water";
    film.mass[0] = 0.0157 * mass;
    film.mass[1] = 0.0157 * (1 - mass);
    film.pressure = 1e7;
    film.mode = DREGS_DRY_ISOTHERMAL;
    film.until = 0.1;
    drying = dried_to(&film, 1e-9);
    ck_assert_int_eq(drying.dry, 1);
    ck_assert_near(share_of(&drying.point[drying.points - 1]), mass, 1e-3, "share at the end");
    dregs_drying_clear(&drying);
}
END_TEST

START_TEST(every_liquid_dries)
{
    static const dregs_property needed[] = {DREGS_VAPOUR_PRESSURE, DREGS_HEAT_OF_VAPORISATION,
                                            DREGS_HEAT_CAPACITY, DREGS_DIFFUSIVITY,
                                            DREGS_MOLAR_MASS};
    const char *liquid;
    size_t i, k;
    int dried = 0;

    for (i = 0; (liquid = dregs_liquids_name(table, i)) != NULL; i++) {
        dregs_dry_case film = film_of(liquid, 0.015);
        dregs_drying drying;
        int whole = 1;
        for (k = 0; k < sizeof needed / sizeof needed[0]; k++)
            whole = whole && dregs_liquids_row(table, liquid, needed[k]);
        if (!whole)
            continue;
        film.humidity = 0.5;
        drying = dried_to(&film, 1e-9);
        ck_assert_msg(drying.dry && drying.time > 1 && drying.time < 1e5, "%s: %g s", liquid,
                      drying.time);
        ck_assert_msg(drying.coldest < film.air, "%s does not cool", liquid);
        dregs_drying_clear(&drying);
        dried++;
    }
    ck_assert_int_eq(dried, 18);
}
END_TEST

/* Quasi-steady Stefan tube: by hand, and by stepping the level down. */
START_TEST(recess)
{
    double flux_length = 1e-6, molar_density = 13000, depth = 0.01, time, stepped = 0, z;
    int i, steps = 1000;

    ck_assert_int_eq(dregs_recess_time(flux_length, molar_density, depth, &time), DREGS_OK);
    ck_assert_near(time, 650000, 1e-12, "13000 x 1e-4 / 2e-6");
    for (i = 0; i < steps; i++) {
        z = depth * (i + 0.5) / steps;
        stepped += molar_density * depth / steps / (flux_length / z);
    }
    ck_assert_near(time, stepped, 1e-9, "stepped");
    ck_assert_int_eq(dregs_recess_time(0, 1, 1, &time), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_recess_time(1, 0, 1, &time), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_recess_time(1, 1, -1, &time), DREGS_DOMAIN);
}
END_TEST

/* ---- refusals ---- */

/* The reason names the member that was set, as `set`, "film.mass[0] = -1", does. */
static void begins_with_member(const char *set)
{
    const char *name = strchr(set, '.') + 1;
    size_t length = strcspn(name, " ");

    ck_assert_msg(strncmp(message, name, length) == 0 && message[length] == ':',
                  "%s: '%s' begins with another name", set, message);
}

START_TEST(values_out_of_range)
{
    static const char words[] = "out of its range";
    dregs_dry_case good = film_of("isopropanol", 0.01), film;

#define WRONG(set)                                                                                 \
    do {                                                                                           \
        film = good;                                                                               \
        set;                                                                                       \
        refused(&film, 1e-9, DREGS_DOMAIN, words);                                                 \
        begins_with_member(#set);                                                                  \
    } while (0)
    WRONG(film.count = 0);
    WRONG(film.count = DREGS_VOLATILES + 1);
    WRONG(film.mass[0] = 0);
    WRONG(film.mass[0] = -1);
    WRONG(film.mass[0] = NAN);
    WRONG(film.mass[0] = INFINITY);
    WRONG(film.air = 0);
    WRONG(film.air = NAN);
    WRONG(film.wall = -1);
    WRONG(film.start = NAN);
    WRONG(film.speed = -1);
    WRONG(film.speed = 101);
    WRONG(film.humidity = 1.01);
    WRONG(film.humidity = -0.1);
    WRONG(film.humid_at = 0);
    WRONG(film.pressure = 0);
    WRONG(film.pressure = INFINITY);
    WRONG(film.heat_capacity = -1);
    WRONG(film.heat_capacity = INFINITY);
    WRONG(film.length = 0);
    WRONG(film.emissivity = 1.1);
    WRONG(film.volume = -1);
    WRONG(film.volume = NAN);
    WRONG(film.fresh_air = -1);
    WRONG(film.area = -1);
    WRONG(film.until = 0);
    WRONG(film.until = 1);
    WRONG(film.flow = DREGS_AIR_FLOWS);
    WRONG(film.hindered = 1);
    good.flow = DREGS_AIR_JET;
    good.nozzle = good.distance = 0.01;
    good.pitch = 0;
    WRONG(film.nozzle = 0);
    WRONG(film.distance = 0);
    WRONG(film.pitch = -1);
#undef WRONG
    refused(&good, 1e-13, DREGS_DOMAIN, words);
    refused(&good, 1e-3, DREGS_DOMAIN, words);
    refused(&good, NAN, DREGS_DOMAIN, words);
    begins_with_member(".tolerance ");
}
END_TEST

START_TEST(properties_that_are_not_there)
{
    dregs_dry_case film = film_of("isopropanol", 0.01);

    film.liquid[0] = "unobtainium";
    refused(&film, 1e-9, DREGS_UNKNOWN, "unobtainium");
    add("liquid,property,equation,unit,A,source\n"
        "half,molar mass,A,g/mol,100,made up\n"
        "half,vapour pressure,A,Pa,1000,made up\n");
    film.liquid[0] = "half";
    refused(&film, 1e-9, DREGS_UNKNOWN, "half");
    film = film_of("isopropanol", 0.01);
    film.air = film.wall = 250; /* Antoine's equation begins at 281.28 K, and reaches 60 K beyond */
    film.start = 220;
    refused(&film, 1e-9, DREGS_OUT_OF_RANGE, "vapour pressure");
    film = film_of("isopropanol", 0.01);
    film.air = film.wall = film.start = 360; /* boils at 355.4 K */
    film.mode = DREGS_DRY_ISOTHERMAL;
    refused(&film, 1e-9, DREGS_OUT_OF_RANGE, "isopropanol boils at");
    film.mode = DREGS_DRY_WET_BULB; /* it cools itself below that */
    (void)time_of(&film);
    ck_assert_str_eq(message, "");
    film = film_of("n-butyl acetate", 0.1); /* cools to where its heat capacity is carried on */
    film.start = 305;
    film.air = film.wall = 291;
    (void)time_of(&film);
    film.start = 230; /* and is not, 60 K below its data */
    film.air = film.wall = 236;
    film.humid_at = 293.15;
    refused(&film, 1e-9, DREGS_OUT_OF_RANGE, "n-butyl acetate");
    film = film_of("constant", 0.01); /* colder than the properties of air reach */
    add_constant(1000, 2000);
    film.start = 150;
    film.heat_capacity = 1e6;
    film.air = film.wall = 240;
    film.humid_at = 293.15;
    refused(&film, 1e-9, DREGS_OUT_OF_RANGE, "air");
    film = film_of("isopropanol", 0.01); /* water of the room would be the fourth */
    film.count = 3;
    film.liquid[1] = "ethanol";
    film.liquid[2] = "methanol";
    film.mass[1] = film.mass[2] = 0.01;
    film.humidity = 0.5;
    refused(&film, 1e-9, DREGS_DOMAIN, "water");
    film.humidity = 0;
    (void)time_of(&film);
}
END_TEST

/* Nothing is taken for a liquid that does not say how it mixes with water, where there is any. */
START_TEST(miscibility_is_asked_for)
{
    dregs_dry_case film = film_of("nail remover", 0.016);

    add_renamed("acetone", "nail remover", "miscibility");
    film.humidity = 0.5;
    refused(&film, 1e-9, DREGS_UNKNOWN,
            "own.csv: no miscibility with water of 'nail remover': add a row");
    film.humidity = 0;
    film.count = 2;
    film.liquid[1] = "water";
    film.mass[1] = 0.001;
    refused(&film, 1e-9, DREGS_UNKNOWN, "miscible, partly miscible, immiscible");
    film.count = 1;
    (void)time_of(&film);
    ck_assert_str_eq(message, "");
}
END_TEST

START_TEST(fresh_air_is_refused)
{
    dregs_dry_case film = film_of("isopropanol", 0.01);
    double needed = -7;

    strcpy(message, "untouched");
    ck_assert_int_eq(dregs_dry_fresh_air(&film, 0.25, &needed, message),
                     DREGS_DOMAIN); /* no volume */
    ck_assert_str_ne(message, "untouched");
    ck_assert_str_ne(message, "");
    film.volume = 1;
    ck_assert_int_eq(dregs_dry_fresh_air(&film, 0, &needed, message), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_fresh_air(&film, 1, &needed, message), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dry_fresh_air(&film, NAN, &needed, message), DREGS_DOMAIN);
    film.liquid[0] = "unobtainium";
    ck_assert_int_eq(dregs_dry_fresh_air(&film, 0.25, &needed, message), DREGS_UNKNOWN);
    ck_assert_double_eq(needed, -7);
}
END_TEST

START_TEST(small_functions_refuse)
{
    dregs_air air;
    double got = -7;
    char over[] = "liquid,property,equation,unit,A,source\nbare,molar mass,A,g/mol,50,made up\n";

    ck_assert_int_eq(dregs_air_at(229, 1e5, &air), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_air_at(551, 1e5, &air), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_air_at(300, 0, &air), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_air_at(NAN, 1e5, &air), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_air_at(300, 1e5, &air), DREGS_OK);
    ck_assert_int_eq(dregs_heat_transfer(&air, -1, 1, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_heat_transfer(&air, 1, 0, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_heat_transfer(&air, 1, 1, -1, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_heat_transfer(&air, NAN, 1, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_mass_transfer(&air, 0, 1e-5, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_mass_transfer(&air, 1, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_stefan_flux(1, 300, 1e5, 1e5, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_stefan_flux(1, 300, 1e5, 0, 1e5, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_stefan_flux(0, 300, 1e5, 1, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_wet_surface(table, "water", 300, 1e5, 0, 0, &got, NULL), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_wet_surface(table, "unobtainium", 300, 1e5, 0, 1, &got, NULL),
                     DREGS_UNKNOWN);
    add(over);
    ck_assert_int_eq(dregs_wet_surface(table, "bare", 300, 1e5, 0, 1, &got, NULL), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_wet_bulb(table, 400, 0.5, 1e5, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_wet_bulb(table, 300, 1.5, 1e5, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_wet_bulb(table, 300, 0.5, 1e3, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dilution_air(table, "water", 1, 300, 0.25, &got), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_dilution_air(table, "toluene", -1, 300, 0.25, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dilution_air(table, "toluene", 1, 300, 0, &got), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_dilution_air(table, "toluene", 1, 300, 1.1, &got), DREGS_DOMAIN);
    ck_assert_double_eq(got, -7);
}
END_TEST

/* Condensation is the same flux with its sign turned. */
START_TEST(vapour_condenses)
{
    double there, back;

    ck_assert_int_eq(dregs_stefan_flux(0.01, 300, 1e5, 4000, 1000, &there), DREGS_OK);
    ck_assert_int_eq(dregs_stefan_flux(0.01, 300, 1e5, 1000, 4000, &back), DREGS_OK);
    ck_assert_near(there, -back, 1e-12, "flux");
    ck_assert(there > 0);
}
END_TEST

#define LOOP(tcase, test, rows)                                                                    \
    tcase_add_loop_test(tcase, test, 0, (int)(sizeof(rows) / sizeof(rows)[0]))

int main(void)
{
    Suite *suite = suite_create("dry");
    TCase *published = tcase_create("published"), *holds = tcase_create("what must hold");
    TCase *refusals = tcase_create("refusals");

    tcase_add_checked_fixture(published, setup, teardown);
    tcase_add_test(published, stefan_tube);
    tcase_add_test(published, diffusivity_of_butanol);
    tcase_add_test(published, bulk_flow);
    tcase_add_test(published, pan_in_warm_air);
    tcase_add_test(published, wet_bulb_of_humid_air);
    tcase_add_test(published, dew_point_of_humid_air);
    LOOP(published, vapour_pressure_of_water, steam);
    tcase_add_test(published, wet_bulb_of_toluene);
    tcase_add_test(published, wetted_can);
    LOOP(published, wet_hands, hand);
    tcase_add_test(published, air_for_a_litre_of_isopropanol);
    tcase_add_test(published, air_for_a_gallon_of_toluene);
    LOOP(published, milligrams_of_a_ppm, ppm);
    tcase_add_test(published, dry_air);
    tcase_add_test(published, plates);
    suite_add_tcase(suite, published);

    tcase_add_checked_fixture(holds, setup, teardown);
    tcase_set_timeout(holds, 60); /* slow under a sanitizer */
    LOOP(holds, mass_and_heat_close, closing);
    tcase_add_test(holds, heat_content_by_hand);
    tcase_add_test(holds, between_the_bounds);
    tcase_add_loop_test(holds, steps_do_not_matter, 0, 3);
    tcase_add_test(holds, liquids_that_do_not_mix);
    tcase_add_test(holds, twice_the_film_takes_twice_the_time);
    tcase_add_test(holds, isothermal_by_hand);
    tcase_add_test(holds, hotter_is_faster);
    tcase_add_test(holds, a_closed_room_saturates);
    LOOP(holds, fresh_air_is_just_enough, oven);
    tcase_add_test(holds, saturated_air_dries_no_water);
    tcase_add_test(holds, acetone_makes_wet_spots);
    tcase_add_test(holds, a_name_changes_nothing);
    tcase_add_test(holds, a_film_may_cool_below_freezing);
    tcase_add_test(holds, alcohol_goes_before_water);
    tcase_add_test(holds, an_azeotrope_stays_one);
    tcase_add_test(holds, every_liquid_dries);
    tcase_add_test(holds, recess);
    tcase_add_test(holds, vapour_condenses);
    suite_add_tcase(suite, holds);

    tcase_add_checked_fixture(refusals, setup, teardown);
    tcase_add_test(refusals, values_out_of_range);
    tcase_add_test(refusals, properties_that_are_not_there);
    tcase_add_test(refusals, miscibility_is_asked_for);
    tcase_add_test(refusals, fresh_air_is_refused);
    tcase_add_test(refusals, small_functions_refuse);
    suite_add_tcase(suite, refusals);
    return run(suite);
}
