/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_meter.c: the meter's functions against values of other origin, round trips, refusals.
 *
 * The published values that the equations are held to (W01 to W04) are in tests/checks.csv.
 */
#include "check_main.h"
#include "dregs/limits.h"
#include "dregs/liquid.h"
#include "dregs/meter.h"

#include <stdlib.h>
#include <string.h>

#define COUNT(table) (sizeof table / sizeof table[0])
#define US           1e-4 /* uS/cm in S/m */
#define KELVIN(t)    ((t) + 273.15)
#define HELD         -7.25 /* what an output holds that must not be touched */

static double pure(double t)
{
    double got = NAN;

    ck_assert_int_eq(dregs_water_conductivity(KELVIN(t), &got, NULL), DREGS_OK);
    return got / US;
}

/* ---- pure water ---- */

/* density * sqrt(ion product) * (limiting conductivities of H+ and OH-), a route that shares
 * nothing with the polynomial. pKw: IAPWS, Release on the Ionization Constant of H2O, 2007, by
 * python3-iapws 1.5.3, which meets the release's 13.906565 at 300 K and 1000 kg/m3. Conductivities:
 * Robinson and Stokes, Electrolyte Solutions, appendix 6.2, from memory; OH- at 5 and 10 degC
 * interpolated between 0 and 15 degC. Below 15 degC the polynomial is too high. */
START_TEST(water_against_its_ions)
{
    static const struct {
        double t, pkw, hydrogen, hydroxide, density, within;
    } known[] = {
        {5, 14.7340, 250.1, 125.3, 999.97, 0.067},  {10, 14.5336, 275.4, 145.6, 999.70, 0.02},
        {15, 14.3441, 300.6, 165.9, 999.10, 0.005}, {25, 13.9945, 349.8, 199.1, 997.05, 0.005},
        {35, 13.6799, 397.0, 233.0, 994.03, 0.005}, {45, 13.3960, 441.4, 267.2, 990.21, 0.005},
        {55, 13.1392, 483.1, 301.4, 985.69, 0.005}, {100, 12.2515, 630, 450, 958.4, 0.03}};
    size_t i;

    for (i = 0; i < COUNT(known); i++)
        ck_assert_near(pure(known[i].t),
                       known[i].density * pow(10, -known[i].pkw / 2) *
                           (known[i].hydrogen + known[i].hydroxide),
                       known[i].within, "%g degC", known[i].t);
}
END_TEST

START_TEST(water_against_what_is_sold_as_pure)
{
    ck_assert_near(1 / (pure(25) * 1e-6), 18.19e6, 6e-4, "18.18 to 18.2 Mohm cm");
    ck_assert_double_le(pure(25) * US, dregs_water_grade_at(0)->conductivity);
    ck_assert_near(DREGS_WATER_IN_AIR_LEAST, 1.0 * US, 1e-15, "1.0 uS/cm");
    ck_assert_near(DREGS_WATER_IN_AIR_MOST, 1.1 * US, 1e-15, "1.1 uS/cm");
}
END_TEST

/* By whole numbers: the coefficients times 1e8, at d = -13 and 37. */
START_TEST(water_polynomial)
{
    ck_assert_near(pure(12), (549800000. - 13 * 29326000. + 169 * 606290. - 2197 * 4269.) / 1e10,
                   1e-13, "12 degC");
    ck_assert_near(pure(62), (549800000. + 37 * 29326000. + 1369 * 606290. + 50653 * 4269.) / 1e10,
                   1e-13, "62 degC");
}
END_TEST

START_TEST(water_rises)
{
    double t;

    for (t = 5.37; t < 100; t += 0.37)
        ck_assert_double_gt(pure(t), pure(t - 0.37));
}
END_TEST

static void refused(dregs_status got, dregs_status expected, double output, char *message,
                    const char *words)
{
    ck_assert_msg(got == expected, "%s: status %d", words, (int)got);
    ck_assert_msg(output == HELD, "%s: the output was touched", words);
    ck_assert_msg(strstr(message, words) != NULL, "'%s' does not say '%s'", message, words);
    *message = '\0';
}

START_TEST(water_is_refused)
{
    static const struct {
        double temperature;
        dregs_status status;
        const char *words;
    } bad[] = {{278.14, DREGS_OUT_OF_RANGE, "at 4.99 degC: taken from 5 to 100 degC only"},
               {373.16, DREGS_OUT_OF_RANGE, "at 100.01 degC"},
               {25, DREGS_OUT_OF_RANGE, "at -248.15 degC"},
               {0, DREGS_DOMAIN, "not a positive number of kelvin"},
               {-3.1, DREGS_DOMAIN, "not a positive number"},
               {NAN, DREGS_DOMAIN, "not a positive number"},
               {INFINITY, DREGS_DOMAIN, "not a positive number"}};
    char message[DREGS_METER_MESSAGE];
    double got = HELD;
    size_t i;

    for (i = 0; i < COUNT(bad); i++)
        refused(dregs_water_conductivity(bad[i].temperature, &got, message), bad[i].status, got,
                message, bad[i].words);
    ck_assert_int_eq(dregs_water_conductivity(NAN, &got, NULL), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_water_conductivity(278.15, &got, message), DREGS_OK);
    ck_assert_int_eq(dregs_water_conductivity(373.15, &got, message), DREGS_OK);
}
END_TEST

/* ---- compensation ---- */

static double at_25(dregs_compensation way, double coefficient, double t, double reading)
{
    char message[DREGS_METER_MESSAGE] = "";
    double got = NAN;

    ck_assert_msg(
        !dregs_conductivity_at_25(way, coefficient, KELVIN(t), reading * US, &got, message), "%s",
        message);
    return got / US;
}

static double shown(dregs_compensation way, double coefficient, double t, double value)
{
    char message[DREGS_METER_MESSAGE] = "";
    double got = NAN;

    ck_assert_msg(!dregs_conductivity_shown(way, coefficient, KELVIN(t), value * US, &got, message),
                  "%s", message);
    return got / US;
}

START_TEST(linear_compensation)
{
    /* 1 + 0.019 * 16 = 1.304, 1 - 0.022 * 12 = 0.736 */
    ck_assert_near(at_25(DREGS_COMPENSATION_LINEAR, 0.019, 41, 2.385 * 1.304), 2.385, 1e-14, "41");
    ck_assert_near(shown(DREGS_COMPENSATION_LINEAR, 0.022, 13, 87.3), 87.3 * 0.736, 1e-14, "13");
    ck_assert_near(shown(DREGS_COMPENSATION_LINEAR, DREGS_COMPENSATION_COEFFICIENT, 60, 100), 170,
                   1e-13, "2 %% per degC");
    ck_assert_near(shown(DREGS_COMPENSATION_LINEAR, 0.03, 0, 4), 1, 1e-13, "0 degC");
    ck_assert_double_eq(at_25(DREGS_COMPENSATION_LINEAR, 0.02, 25, 0), 0);
    ck_assert_near(at_25(DREGS_COMPENSATION_NONE, NAN, NAN, 13.7), 13.7, 1e-15, "none");
}
END_TEST

/* The factors of the same table, 1 degC apart, from memory; rounded to 0.0005, which is 0.06 % of
 * the lowest. With that the interpolation is off by up to 0.08 %. */
START_TEST(natural_water_between_the_anchors)
{
    static const double table[] = {1.918, 1.857, 1.800, 1.745, 1.693, 1.643, 1.596, 1.551, 1.508,
                                   1.467, 1.428, 1.390, 1.354, 1.320, 1.287, 1.256, 1.225, 1.196,
                                   1.168, 1.141, 1.116, 1.091, 1.067, 1.044, 1.021, 1.000, 0.979,
                                   0.959, 0.940, 0.921, 0.903, 0.886, 0.869, 0.853, 0.837, 0.822};
    size_t t;

    for (t = 0; t < COUNT(table); t++)
        ck_assert_near(at_25(DREGS_COMPENSATION_NATURAL, 0, (double)t, 1), table[t], 0.0008,
                       "%d degC", (int)t);
    ck_assert_near(at_25(DREGS_COMPENSATION_NATURAL, 0, 25, 412.7), 412.7, 1e-15, "25 degC");
    for (t = 1; t <= 350; t++) /* falls all the way */
        ck_assert_double_lt(at_25(DREGS_COMPENSATION_NATURAL, 0, (double)t / 10, 1),
                            at_25(DREGS_COMPENSATION_NATURAL, 0, (double)(t - 1) / 10, 1));
}
END_TEST

/* By hand: Kw(50) = 0.05498 + 0.073315 + 0.037893125 + 0.00667031... = 0.1728584375; what is
 * dissolved reads 1 + 0.02 * 25 = 1.5 times as much there. */
START_TEST(pure_water_compensation)
{
    ck_assert_near(at_25(DREGS_COMPENSATION_PURE, NAN, 50, 0.1728584375 + 1.5 * 0.0373),
                   0.05498 + 0.0373, 1e-12, "50 degC");
    ck_assert_near(shown(DREGS_COMPENSATION_PURE, NAN, 50, 0.05498 + 0.0373),
                   0.1728584375 + 1.5 * 0.0373, 1e-12, "50 degC");
    ck_assert_near(at_25(DREGS_COMPENSATION_PURE, NAN, 73.4, pure(73.4)), 0.05498, 1e-12,
                   "pure water is pure water at any temperature");
    /* far above pure water it is the linear one */
    ck_assert_near(at_25(DREGS_COMPENSATION_PURE, NAN, 31.7, 5e4),
                   at_25(DREGS_COMPENSATION_LINEAR, 0.02, 31.7, 5e4), 1e-5, "far above");
}
END_TEST

START_TEST(compensation_there_and_back)
{
    static const double values[] = {0.05498, 0.0613, 2.385, 412.7, 53187.0};
    dregs_compensation way;
    size_t i;
    double t, low, high;

    for (way = DREGS_COMPENSATION_NONE; way < DREGS_COMPENSATIONS; way++)
        for (i = 0; i < COUNT(values); i++) {
            ck_assert_int_eq(dregs_compensation_range(way, &low, &high), DREGS_OK);
            low = fmax(low, KELVIN(0)) - 273.15;
            high = fmin(high, KELVIN(100)) - 273.15;
            for (t = low; t <= high; t += 3.217)
                ck_assert_near(at_25(way, 0.0193, t, shown(way, 0.0193, t, values[i])), values[i],
                               1e-11, "%s, %g degC", dregs_compensation_name(way), t);
        }
}
END_TEST

START_TEST(ways_have_names)
{
    dregs_compensation way, found;
    double low = HELD, high = HELD;

    for (way = DREGS_COMPENSATION_NONE; way < DREGS_COMPENSATIONS; way++) {
        ck_assert_int_eq(dregs_compensation_find(dregs_compensation_name(way), &found), DREGS_OK);
        ck_assert_int_eq(found, way);
    }
    found = DREGS_COMPENSATION_PURE;
    ck_assert_int_eq(dregs_compensation_find("lineal", &found), DREGS_UNKNOWN);
    ck_assert_int_eq(found, DREGS_COMPENSATION_PURE);
    ck_assert_str_eq(dregs_compensation_nearest("lineal"), "linear");
    ck_assert_str_eq(dregs_compensation_nearest("natural  water"), "natural water");
    ck_assert_ptr_null(dregs_compensation_nearest("ISO 7888"));
    ck_assert_ptr_null(dregs_compensation_name(DREGS_COMPENSATIONS));
    ck_assert_int_eq(dregs_compensation_range(DREGS_COMPENSATIONS, &low, &high), DREGS_DOMAIN);
    ck_assert_double_eq(low, HELD);
    ck_assert_double_eq(high, HELD);
}
END_TEST

/* Every refusal holds in both directions. */
START_TEST(compensation_is_refused)
{
    static const struct {
        dregs_compensation way;
        double coefficient, t, value; /* uS/cm */
        dregs_status status;
        const char *words;
    } bad[] = {
        {DREGS_COMPENSATIONS, 0.02, 25, 1, DREGS_DOMAIN, "no such way"},
        {DREGS_COMPENSATION_NONE, 0.02, 25, -1e-9, DREGS_DOMAIN, "not a number of 0 or more"},
        {DREGS_COMPENSATION_NONE, 0.02, 25, NAN, DREGS_DOMAIN, "not a number of 0 or more"},
        {DREGS_COMPENSATION_LINEAR, 0.02, 25, INFINITY, DREGS_DOMAIN, "not a number"},
        {DREGS_COMPENSATION_LINEAR, 0, 25, 1, DREGS_DOMAIN, "above 0 up to 3 % only"},
        {DREGS_COMPENSATION_LINEAR, -0.01, 25, 1, DREGS_DOMAIN, "-1 % per degC"},
        {DREGS_COMPENSATION_LINEAR, 0.0301, 25, 1, DREGS_DOMAIN, "3.01 % per degC"},
        {DREGS_COMPENSATION_LINEAR, 2, 25, 1, DREGS_DOMAIN, "200 % per degC"},
        {DREGS_COMPENSATION_LINEAR, NAN, 25, 1, DREGS_DOMAIN, "per degC"},
        {DREGS_COMPENSATION_LINEAR, 0.02, -0.01, 1, DREGS_OUT_OF_RANGE, "from 0 to 100 degC"},
        {DREGS_COMPENSATION_LINEAR, 0.02, 100.01, 1, DREGS_OUT_OF_RANGE, "linear compensation at"},
        {DREGS_COMPENSATION_LINEAR, 0.02, NAN, 1, DREGS_DOMAIN, "kelvin"},
        {DREGS_COMPENSATION_NATURAL, 0.02, -0.01, 1, DREGS_OUT_OF_RANGE, "from 0 to 35 degC"},
        {DREGS_COMPENSATION_NATURAL, 0.02, 35.01, 1, DREGS_OUT_OF_RANGE, "natural water at 35.01"},
        {DREGS_COMPENSATION_NATURAL, 0.02, NAN, 1, DREGS_DOMAIN, "kelvin"},
        {DREGS_COMPENSATION_PURE, 0.02, 4.99, 1, DREGS_OUT_OF_RANGE, "pure water at 4.99 degC"},
        {DREGS_COMPENSATION_PURE, 0.02, 100.01, 1, DREGS_OUT_OF_RANGE, "from 5 to 100 degC"},
        {DREGS_COMPENSATION_PURE, 0.02, 40, 0.0549, DREGS_OUT_OF_RANGE, "is below pure water, 0."},
        {DREGS_COMPENSATION_PURE, 0.02, 40, 0, DREGS_OUT_OF_RANGE, "0 uS/cm at "},
    };
    char message[DREGS_METER_MESSAGE];
    double got = HELD;
    size_t i;

    for (i = 0; i < COUNT(bad); i++) {
        refused(dregs_conductivity_at_25(bad[i].way, bad[i].coefficient, KELVIN(bad[i].t),
                                         bad[i].value * US, &got, message),
                bad[i].status, got, message, bad[i].words);
        refused(dregs_conductivity_shown(bad[i].way, bad[i].coefficient, KELVIN(bad[i].t),
                                         bad[i].value * US, &got, message),
                bad[i].status, got, message, bad[i].words);
    }
    refused(
        dregs_conductivity_at_25(DREGS_COMPENSATION_NATURAL, 0, KELVIN(1), 1.7e308, &got, message),
        DREGS_NUMERIC, got, message, "too large");
    /* 40 degC: between pure water at 25 and at 40 degC only the second is a reading too low */
    refused(
        dregs_conductivity_at_25(DREGS_COMPENSATION_PURE, 0, KELVIN(40), 0.1 * US, &got, message),
        DREGS_OUT_OF_RANGE, got, message, "0.1 uS/cm at 40 degC is below pure water");
    ck_assert_double_gt(shown(DREGS_COMPENSATION_PURE, 0, 40, 0.1), 0.1);
}
END_TEST

/* ---- electrolytes ---- */

static const dregs_electrolyte *salt(const char *name)
{
    const dregs_electrolyte *found = dregs_electrolyte_find(name);

    ck_assert_msg(found != NULL, "no salt %s", name);
    return found;
}

static double conductivity(const dregs_electrolyte *of, double concentration, double t)
{
    char message[DREGS_METER_MESSAGE] = "";
    double got = NAN;

    ck_assert_msg(!dregs_electrolyte_conductivity(of, concentration, KELVIN(t), &got, message),
                  "%s", message);
    return got;
}

static double concentration_of(const dregs_electrolyte *of, double value, double t)
{
    char message[DREGS_METER_MESSAGE] = "";
    double got = NAN;

    ck_assert_msg(!dregs_electrolyte_concentration(of, value, KELVIN(t), &got, message), "%s",
                  message);
    return got;
}

static double most(const dregs_electrolyte *of, double t)
{
    double got = NAN;

    ck_assert_int_eq(dregs_electrolyte_most(of, KELVIN(t), &got, NULL), DREGS_OK);
    return got;
}

/* Sums of the ions' limiting conductivities at 25 degC, S cm2/mol: H. S. Harned and B. B. Owen; CRC
 * Handbook; from memory. Carbonates are left out: they take up or give off hydroxide when thin. */
START_TEST(limiting_conductivities)
{
    static const struct {
        const char *name;
        double expected, within;
    } known[] = {{"NaCl", 50.1 + 76.35, 0.01},
                 {"KCl", 73.5 + 76.35, 0.01},
                 {"NaOH", 50.1 + 198.6, 0.01},
                 {"NaHCO3", 50.1 + 44.5, 0.05}};
    size_t i;

    for (i = 0; i < COUNT(known); i++) {
        const dregs_electrolyte *s = salt(known[i].name);
        double amount = 1e-6; /* mol/m3 */
        ck_assert_near(conductivity(s, amount * s->molar_mass, 25) / amount * 1e4,
                       known[i].expected, known[i].within, "%s", known[i].name);
    }
}
END_TEST

/* Electrical conductivity of aqueous solutions at 20 degC, mS/cm at % by mass: CRC Handbook, from
 * memory. Densities at 20 degC, g/mL, likewise. A loose check: it tells an error of unit or form,
 * and how far the carbonates are off. */
START_TEST(strong_solutions)
{
    static const struct {
        const char *name;
        double percent, density, expected, within;
    } known[] = {{"NaCl", 1, 1.0053, 16.0, 0.02},   {"NaCl", 5, 1.0340, 70.1, 0.02},
                 {"KCl", 1, 1.0046, 15.7, 0.02},    {"KCl", 5, 1.0304, 71.9, 0.02},
                 {"NaOH", 1, 1.0095, 48.6, 0.02},   {"NaOH", 2, 1.0207, 93.1, 0.02},
                 {"NaHCO3", 1, 1.0054, 8.2, 0.03},  {"NaHCO3", 2, 1.0125, 15.0, 0.05},
                 {"NaHCO3", 5, 1.0340, 31.4, 0.13}, {"Na2CO3", 1, 1.0086, 13.1, 0.07},
                 {"Na2CO3", 2, 1.0190, 23.3, 0.08}, {"Na2CO3", 5, 1.0502, 47.0, 0.19}};
    size_t i;

    for (i = 0; i < COUNT(known); i++)
        ck_assert_near(
            conductivity(salt(known[i].name), 10 * known[i].percent * known[i].density, 20) * 10,
            known[i].expected, known[i].within, "%s %g %%", known[i].name, known[i].percent);
}
END_TEST

/* The equation by hand at t = 40, and at 0.04 mol/kg, where the root is 0.2, with Kell's density of
 * 992.215 kg/m3 (KCl follows its standards instead): for NaCl 0.008967 * 1600 = 14.3472, 2.196 * 40
 * = 87.84, and so on. */
START_TEST(the_equation_by_hand)
{
    static const struct {
        const char *name;
        double mass, limit, slope, below;
    } known[] = {
        {"NaCl", 58.440, 14.3472 + 87.84 + 67.03, 11.616 + 70.48 + 44.55, 1.26},
        {"NaOH", 39.997, 11.0976 + 154.88 + 148.3, 16.288 + 26.9684 + 56.76, 1.04},
        {"Na2CO3", 105.988, 36.736 + 208.44 + 147, 91.312 + 888.8 + 455.8, 1.96},
        {"NaHCO3", 84.006, 20.16 + 61.72 + 52.09, 44.688 + 18.224 + 52.94, 1.22},
    };
    double amount = 0.04 * 992.215;
    size_t i;

    for (i = 0; i < COUNT(known); i++)
        ck_assert_near(conductivity(salt(known[i].name), amount * known[i].mass * 1e-3, 40),
                       amount * 1e-4 * (known[i].limit - known[i].slope * 0.2 / known[i].below),
                       2e-7, "%s", known[i].name);
}
END_TEST

/* Atomic weights of IUPAC 2021, abridged to five figures. */
START_TEST(molar_masses)
{
    const double na = 22.990, k = 39.098, cl = 35.45, o = 15.999, h = 1.0080, c = 12.011;

    ck_assert_near(salt("NaCl")->molar_mass, (na + cl) * 1e-3, 1e-9, "NaCl");
    ck_assert_near(salt("KCl")->molar_mass, (k + cl) * 1e-3, 1e-9, "KCl");
    ck_assert_near(salt("NaOH")->molar_mass, (na + o + h) * 1e-3, 1e-9, "NaOH");
    ck_assert_near(salt("Na2CO3")->molar_mass, (2 * na + c + 3 * o) * 1e-3, 1e-5, "Na2CO3");
    ck_assert_near(salt("NaHCO3")->molar_mass, (na + h + c + 3 * o) * 1e-3, 1e-5, "NaHCO3");
}
END_TEST

START_TEST(density_is_that_of_the_table)
{
    dregs_liquids *liquids = dregs_liquids_new();
    double t, density;

    for (t = 5; t <= 90; t += 4.07) {
        ck_assert_int_eq(
            dregs_liquids_value(liquids, "water", DREGS_DENSITY, KELVIN(t), &density, NULL),
            DREGS_OK);
        ck_assert_near(most(salt("KCl"), t) / 74.548e-3, density, 1e-13, "%g degC", t);
    }
    dregs_liquids_free(liquids);
}
END_TEST

START_TEST(conductivity_rises_and_comes_back)
{
    static const double shares[] = {1e-9, 2.385e-5, 0.00713, 0.0931, 0.417, 0.8837, 1};
    const dregs_electrolyte *s;
    size_t i, k;
    double t;

    for (i = 0; (s = dregs_electrolyte_at(i)); i++)
        for (t = 5; t <= 90; t += 8.5) {
            double before = 0;
            for (k = 0; k < COUNT(shares); k++) {
                double c = shares[k] * most(s, t), value = conductivity(s, c, t);
                ck_assert_double_gt(value, before);
                ck_assert_near(concentration_of(s, value, t), c, 1e-11, "%s, %g g/L at %g degC",
                               s->name, c, t);
                before = value;
            }
            for (k = 1; k <= 200; k++) /* and between them */
                ck_assert_double_gt(conductivity(s, (double)k / 200 * most(s, t), t),
                                    conductivity(s, (double)(k - 1) / 200 * most(s, t), t));
        }
    ck_assert_uint_eq(i, 5);
    ck_assert_double_eq(conductivity(salt("KCl"), 0, 33.3), 0);
    ck_assert_double_eq(concentration_of(salt("KCl"), 0, 33.3), 0);
}
END_TEST

START_TEST(salts_have_names)
{
    const dregs_electrolyte *s;
    size_t i;

    for (i = 0; (s = dregs_electrolyte_at(i)); i++)
        ck_assert_ptr_eq(dregs_electrolyte_find(s->name), s);
    ck_assert_ptr_null(dregs_electrolyte_find("nacl"));
    ck_assert_ptr_null(dregs_electrolyte_find(""));
    ck_assert_str_eq(dregs_electrolyte_nearest("nacl"), "NaCl");
    ck_assert_str_eq(dregs_electrolyte_nearest("NaCO3"), "Na2CO3");
    ck_assert_ptr_null(dregs_electrolyte_nearest("borax"));
}
END_TEST

/* W02 has 0.01 mol/kg at 0 degC as well: outside the range of the equation. */
START_TEST(salts_are_refused)
{
    static const struct {
        double value, t;
        dregs_status status;
        const char *words;
    } bad[] = {{0.74, 0, DREGS_OUT_OF_RANGE, "at 0 degC: taken from 5 to 90 degC only"},
               {0.74, 90.01, DREGS_OUT_OF_RANGE, "at 90.01 degC"},
               {0.74, NAN, DREGS_DOMAIN, "kelvin"},
               {0.74, -300, DREGS_DOMAIN, "kelvin"},
               {-1e-12, 25, DREGS_DOMAIN, "not a number of 0 or more"},
               {NAN, 25, DREGS_DOMAIN, "not a number of 0 or more"},
               {INFINITY, 25, DREGS_DOMAIN, "not a number of 0 or more"}};
    char message[DREGS_METER_MESSAGE];
    const dregs_electrolyte *kcl = salt("KCl");
    double got = HELD, top = conductivity(kcl, most(kcl, 25), 25);
    size_t i;

    for (i = 0; i < COUNT(bad); i++) {
        refused(dregs_electrolyte_conductivity(kcl, bad[i].value, KELVIN(bad[i].t), &got, message),
                bad[i].status, got, message, bad[i].words);
        refused(dregs_electrolyte_concentration(kcl, bad[i].value, KELVIN(bad[i].t), &got, message),
                bad[i].status, got, message, bad[i].words);
    }
    refused(dregs_electrolyte_conductivity(kcl, 74.4, KELVIN(25), &got, message),
            DREGS_OUT_OF_RANGE, got, message,
            "74.4 g/L of KCl: its equation is taken up to 1 mol/kg");
    refused(dregs_electrolyte_concentration(kcl, top * 1.0001, KELVIN(25), &got, message),
            DREGS_OUT_OF_RANGE, got, message, "KCl is taken up to 1 mol/kg");
    refused(dregs_electrolyte_most(kcl, KELVIN(4.99), &got, message), DREGS_OUT_OF_RANGE, got,
            message, "4.99 degC");
    refused(dregs_electrolyte_most(kcl, NAN, &got, message), DREGS_DOMAIN, got, message, "kelvin");
}
END_TEST

/* ---- calibration ---- */

static dregs_calibration curve_of(const dregs_calibration_point *points, size_t count)
{
    char message[DREGS_METER_MESSAGE] = "";
    dregs_calibration curve;

    ck_assert_msg(!dregs_calibration_make(points, count, &curve, NULL, message), "%s", message);
    return curve;
}

static const dregs_calibration_point rising[] = {
    {7310, 21.4}, {1.13, 0}, {412.7, 0.85}, {2385, 6.3}};
/* the bath takes up what the titration still needs */
static const dregs_calibration_point falling[] = {{40.5, 1.2}, {3.25, 9.7}, {-2, 11}};

START_TEST(calibration_goes_straight)
{
    dregs_calibration up = curve_of(rising, COUNT(rising)), down = curve_of(falling, 3);
    double got = NAN;
    size_t i;

    ck_assert_double_eq(up.point[0].reading, 1.13);
    ck_assert_double_eq(up.point[3].concentration, 21.4);
    for (i = 0; i < COUNT(rising); i++) { /* its own points to the last bit */
        ck_assert_int_eq(dregs_calibration_concentration(&up, rising[i].reading, &got, NULL),
                         DREGS_OK);
        ck_assert_double_eq(got, rising[i].concentration);
        ck_assert_int_eq(dregs_calibration_reading(&up, rising[i].concentration, &got, NULL),
                         DREGS_OK);
        ck_assert_double_eq(got, rising[i].reading);
    }
    /* 1000 lies 587.3 of 1972.3 behind 412.7: 0.85 + 5.45 * 587.3 / 1972.3 */
    ck_assert_int_eq(dregs_calibration_concentration(&up, 1000, &got, NULL), DREGS_OK);
    ck_assert_near(got, 0.85 + 5.45 * 587.3 / 1972.3, 1e-14, "rising");
    /* 30 lies 10.5 of 37.25 behind 40.5: 1.2 + 8.5 * 10.5 / 37.25 */
    ck_assert_int_eq(dregs_calibration_concentration(&down, 30, &got, NULL), DREGS_OK);
    ck_assert_near(got, 1.2 + 8.5 * 10.5 / 37.25, 1e-14, "falling");
    ck_assert_int_eq(dregs_calibration_reading(&down, 10.35, &got, NULL), DREGS_OK);
    ck_assert_near(got, 0.625, 1e-13, "half way between 9.7 and 11");
}
END_TEST

START_TEST(calibration_there_and_back)
{
    dregs_calibration curves[2] = {curve_of(rising, COUNT(rising)), curve_of(falling, 3)};
    size_t i;
    double share;

    for (i = 0; i < 2; i++) {
        const dregs_calibration *c = &curves[i];
        double low = c->point[0].concentration, high = c->point[c->count - 1].concentration;
        for (share = 0.00317; share < 1; share += 0.0171) {
            double x = low + share * (high - low), reading = NAN, got = NAN;
            ck_assert_int_eq(dregs_calibration_reading(c, x, &reading, NULL), DREGS_OK);
            ck_assert_int_eq(dregs_calibration_concentration(c, reading, &got, NULL), DREGS_OK);
            ck_assert_near(got, x, 1e-13, "curve %d at %g", (int)i, x);
        }
    }
}
END_TEST

START_TEST(calibration_ends_at_its_points)
{
    dregs_calibration up = curve_of(rising, COUNT(rising)), down = curve_of(falling, 3);
    char message[DREGS_METER_MESSAGE];
    double got = HELD;

    refused(dregs_calibration_concentration(&up, 1.12, &got, message), DREGS_OUT_OF_RANGE, got,
            message, "the reading lies outside");
    refused(dregs_calibration_concentration(&up, 7310.1, &got, message), DREGS_OUT_OF_RANGE, got,
            message, "the reading lies outside");
    refused(dregs_calibration_concentration(&down, 40.51, &got, message), DREGS_OUT_OF_RANGE, got,
            message, "the reading lies outside");
    refused(dregs_calibration_reading(&up, -0.01, &got, message), DREGS_OUT_OF_RANGE, got, message,
            "the concentration lies outside");
    refused(dregs_calibration_reading(&up, 21.41, &got, message), DREGS_OUT_OF_RANGE, got, message,
            "the concentration lies outside");
    refused(dregs_calibration_concentration(&up, NAN, &got, message), DREGS_DOMAIN, got, message,
            "not a number");
    refused(dregs_calibration_reading(&up, INFINITY, &got, message), DREGS_DOMAIN, got, message,
            "not a number");
    /* what a conversion of units loses is not outside */
    ck_assert_int_eq(dregs_calibration_concentration(&up, nextafter(7310, INFINITY), &got, NULL),
                     DREGS_OK);
    ck_assert_double_eq(got, 21.4);
    ck_assert_int_eq(dregs_calibration_concentration(&up, nextafter(1.13, 0), &got, NULL),
                     DREGS_OK);
    ck_assert_double_eq(got, 0);
}
END_TEST

START_TEST(calibration_is_refused)
{
    static const struct {
        dregs_calibration_point point[4];
        size_t count, wrong[2];
        const char *words;
    } bad[] = {
        {{{1, 1}}, 1, {1, 1}, "2 to 20 points"},
        {{{1, 1}}, 0, {0, 0}, "2 to 20 points"},
        {{{1, 1}, {NAN, 2}, {3, 3}}, 3, {1, 1}, "needs a reading"},
        {{{1, 1}, {2, 2}, {INFINITY, 3}}, 3, {2, 2}, "needs a reading"},
        {{{1, NAN}, {2, 2}}, 2, {0, 0}, "needs a reading"},
        {{{1, 1}, {2, -0.1}}, 2, {1, 1}, "a concentration of 0 or more"},
        {{{1, 1}, {2, INFINITY}}, 2, {1, 1}, "a concentration of 0 or more"},
        {{{5, 2.385}, {1, 1}, {6, 2.385}}, 3, {0, 2}, "the same concentration"},
        {{{5, 3}, {1, 1}, {5, 2}}, 3, {2, 0}, "the same reading"},
        {{{9, 4}, {1, 1}, {7, 3}, {8, 2}}, 4, {3, 2}, "do not rise or fall all the way"},
        {{{1, 4}, {9, 1}, {3, 3}, {2, 2}}, 4, {3, 2}, "do not rise or fall all the way"},
    };
    char message[DREGS_METER_MESSAGE];
    dregs_calibration curve = {.count = 17};
    size_t i, wrong[2];

    for (i = 0; i < COUNT(bad); i++) {
        wrong[0] = wrong[1] = 99;
        refused(dregs_calibration_make(bad[i].point, bad[i].count, &curve, wrong, message),
                DREGS_BAD_DATA, HELD, message, bad[i].words);
        ck_assert_uint_eq(wrong[0], bad[i].wrong[0]);
        ck_assert_uint_eq(wrong[1], bad[i].wrong[1]);
        ck_assert_uint_eq(curve.count, 17);
    }
}
END_TEST

START_TEST(calibration_has_up_to_20_points)
{
    dregs_calibration_point points[DREGS_CALIBRATION_MOST + 1];
    dregs_calibration curve;
    size_t i;
    double got = NAN;

    for (i = 0; i <= DREGS_CALIBRATION_MOST; i++) /* backwards, along a parabola */
        points[i] = (dregs_calibration_point){(double)((20 - i) * (20 - i)), (double)(20 - i)};
    ck_assert_int_eq(dregs_calibration_make(points, 21, &curve, NULL, NULL), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_calibration_make(points, 20, &curve, NULL, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_calibration_concentration(&curve, 350.5, &got, NULL), DREGS_OK);
    ck_assert_near(got, 18 + 26.5 / 37, 1e-14, "between 18^2 and 19^2");
    ck_assert_int_eq(dregs_calibration_make(points, 2, &curve, NULL, NULL), DREGS_OK);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {water_against_its_ions,
                                  water_against_what_is_sold_as_pure,
                                  water_polynomial,
                                  water_rises,
                                  water_is_refused,
                                  linear_compensation,
                                  natural_water_between_the_anchors,
                                  pure_water_compensation,
                                  compensation_there_and_back,
                                  ways_have_names,
                                  compensation_is_refused,
                                  limiting_conductivities,
                                  strong_solutions,
                                  the_equation_by_hand,
                                  molar_masses,
                                  density_is_that_of_the_table,
                                  conductivity_rises_and_comes_back,
                                  salts_have_names,
                                  salts_are_refused,
                                  calibration_goes_straight,
                                  calibration_there_and_back,
                                  calibration_ends_at_its_points,
                                  calibration_is_refused,
                                  calibration_has_up_to_20_points};
    Suite *s = suite_create("meter");
    TCase *c = tcase_create("meter");
    size_t i;

    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    return run(suite());
}
