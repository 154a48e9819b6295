/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_unit.c: units against published factors, and everything that is refused.
 *
 * Factors: A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units,
 * NIST Special Publication 811, 2008 edition, Appendix B.8 ("SP 811" below; bold factors there are
 * exact, the others are printed with seven digits). Expected values are ratios of two whole
 * numbers made of the exact definitions, so that they carry one rounding only:
 *   inch 0.0254 m; US gallon 231 in3 = 3.785411784 L; pound 0.45359237 kg, ounce 1/16 of it;
 *   atmosphere 101 325 Pa; torr 1/760 atm; millimetre of mercury 13.5951 * 9.80665 Pa;
 *   psi 0.45359237 * 9.80665 / 0.0254^2 Pa; degree Fahrenheit 5/9 K, 0 degF at 459.67 * 5/9 K.
 */
#include "check_main.h"
#include "dregs/unit.h"

#include <stdlib.h>
#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

/* a named unit reads to the last bit or its neighbour; a compound one rounds at each step */
#define NAMED    2.3e-16
#define COMPOUND 1e-15

static const struct {
    const char *name;
    double over, under; /* SI value = over / under */
    double printed;     /* as SP 811 prints it, 0 when it is an SI unit or not there */
    signed char dimension[DREGS_DIMENSIONS];
} named[] = {
    {"1", 1, 1, 0, {0, 0, 0, 0, 0, 0}},
    {"", 1, 1, 0, {0, 0, 0, 0, 0, 0}},
    {"%", 1, 100, 0, {0, 0, 0, 0, 0, 0}},
    {"ppm", 1, 1e6, 0, {0, 0, 0, 0, 0, 0}},
    {"m", 1, 1, 0, {1, 0, 0, 0, 0, 0}},
    {"nm", 1, 1e9, 0, {1, 0, 0, 0, 0, 0}},
    {"um", 1, 1e6, 0, {1, 0, 0, 0, 0, 0}},
    {"mm", 1, 1000, 0, {1, 0, 0, 0, 0, 0}},
    {"cm", 1, 100, 0, {1, 0, 0, 0, 0, 0}},
    {"dm", 1, 10, 0, {1, 0, 0, 0, 0, 0}},
    {"km", 1000, 1, 0, {1, 0, 0, 0, 0, 0}},
    {"in", 254, 1e4, 2.54e-2, {1, 0, 0, 0, 0, 0}},
    {"ft", 3048, 1e4, 3.048e-1, {1, 0, 0, 0, 0, 0}},
    {"yd", 9144, 1e4, 9.144e-1, {1, 0, 0, 0, 0, 0}},
    {"mil", 254, 1e7, 2.54e-5, {1, 0, 0, 0, 0, 0}},
    {"L", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"l", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"uL", 1, 1e9, 0, {3, 0, 0, 0, 0, 0}},
    {"mL", 1, 1e6, 0, {3, 0, 0, 0, 0, 0}},
    {"ml", 1, 1e6, 0, {3, 0, 0, 0, 0, 0}},
    {"cL", 1, 1e5, 0, {3, 0, 0, 0, 0, 0}},
    {"dL", 1, 1e4, 0, {3, 0, 0, 0, 0, 0}},
    {"hL", 1, 10, 0, {3, 0, 0, 0, 0, 0}},
    {"gal", 3785411784, 1e12, 3.785412e-3, {3, 0, 0, 0, 0, 0}},
    {"qt", 946352946, 1e12, 9.463529e-4, {3, 0, 0, 0, 0, 0}},
    {"pt", 473176473, 1e12, 4.731765e-4, {3, 0, 0, 0, 0, 0}},
    {"fl oz", 295735295625, 1e16, 2.957353e-5, {3, 0, 0, 0, 0, 0}},
    {"g", 1, 1000, 0, {0, 1, 0, 0, 0, 0}},
    {"ng", 1, 1e12, 0, {0, 1, 0, 0, 0, 0}},
    {"ug", 1, 1e9, 0, {0, 1, 0, 0, 0, 0}},
    {"mg", 1, 1e6, 0, {0, 1, 0, 0, 0, 0}},
    {"kg", 1, 1, 0, {0, 1, 0, 0, 0, 0}},
    {"t", 1000, 1, 1e3, {0, 1, 0, 0, 0, 0}},
    {"lb", 45359237, 1e8, 4.535924e-1, {0, 1, 0, 0, 0, 0}},
    {"oz", 28349523125, 1e12, 2.834952e-2, {0, 1, 0, 0, 0, 0}},
    {"s", 1, 1, 0, {0, 0, 1, 0, 0, 0}},
    {"us", 1, 1e6, 0, {0, 0, 1, 0, 0, 0}},
    {"ms", 1, 1000, 0, {0, 0, 1, 0, 0, 0}},
    {"min", 60, 1, 6e1, {0, 0, 1, 0, 0, 0}},
    {"h", 3600, 1, 3.6e3, {0, 0, 1, 0, 0, 0}},
    {"d", 86400, 1, 8.64e4, {0, 0, 1, 0, 0, 0}},
    {"K", 1, 1, 0, {0, 0, 0, 1, 0, 0}},
    {"degC", 1, 1, 0, {0, 0, 0, 1, 0, 0}},
    {"\xC2\xB0"
     "C",
     1,
     1,
     0,
     {0, 0, 0, 1, 0, 0}},
    {"\xC2\xB0"
     "F",
     5,
     9,
     5.555556e-1,
     {0, 0, 0, 1, 0, 0}},
    {"degF", 5, 9, 5.555556e-1, {0, 0, 0, 1, 0, 0}},
    {"delta_degC", 1, 1, 0, {0, 0, 0, 1, 0, 0}},
    {"delta_degF", 5, 9, 5.555556e-1, {0, 0, 0, 1, 0, 0}},
    {"N", 1, 1, 0, {1, 1, -2, 0, 0, 0}},
    {"uN", 1, 1e6, 0, {1, 1, -2, 0, 0, 0}},
    {"mN", 1, 1000, 0, {1, 1, -2, 0, 0, 0}},
    {"kN", 1000, 1, 0, {1, 1, -2, 0, 0, 0}},
    {"dyn", 1, 1e5, 1e-5, {1, 1, -2, 0, 0, 0}},
    {"Pa", 1, 1, 0, {-1, 1, -2, 0, 0, 0}},
    {"mPa", 1, 1000, 0, {-1, 1, -2, 0, 0, 0}},
    {"hPa", 100, 1, 0, {-1, 1, -2, 0, 0, 0}},
    {"kPa", 1000, 1, 0, {-1, 1, -2, 0, 0, 0}},
    {"MPa", 1e6, 1, 0, {-1, 1, -2, 0, 0, 0}},
    {"bar", 1e5, 1, 1e5, {-1, 1, -2, 0, 0, 0}},
    {"mbar", 100, 1, 1e2, {-1, 1, -2, 0, 0, 0}},
    {"atm", 101325, 1, 1.01325e5, {-1, 1, -2, 0, 0, 0}},
    {"mmHg", 133322387415, 1e9, 1.333224e2, {-1, 1, -2, 0, 0, 0}},
    {"torr", 101325, 760, 1.333224e2, {-1, 1, -2, 0, 0, 0}},
    {"psi", 44482216152605, 6451600000, 6.894757e3, {-1, 1, -2, 0, 0, 0}},
    {"J", 1, 1, 0, {2, 1, -2, 0, 0, 0}},
    {"mJ", 1, 1000, 0, {2, 1, -2, 0, 0, 0}},
    {"kJ", 1000, 1, 0, {2, 1, -2, 0, 0, 0}},
    {"MJ", 1e6, 1, 0, {2, 1, -2, 0, 0, 0}},
    {"Wh", 3600, 1, 0, {2, 1, -2, 0, 0, 0}},
    {"kWh", 3600000, 1, 3.6e6, {2, 1, -2, 0, 0, 0}},
    {"MWh", 3.6e9, 1, 0, {2, 1, -2, 0, 0, 0}},
    {"W", 1, 1, 0, {2, 1, -3, 0, 0, 0}},
    {"mW", 1, 1000, 0, {2, 1, -3, 0, 0, 0}},
    {"kW", 1000, 1, 0, {2, 1, -3, 0, 0, 0}},
    {"MW", 1e6, 1, 0, {2, 1, -3, 0, 0, 0}},
    {"P", 1, 10, 1e-1, {-1, 1, -1, 0, 0, 0}},
    {"mP", 1, 1e4, 0, {-1, 1, -1, 0, 0, 0}},
    {"cP", 1, 1000, 1e-3, {-1, 1, -1, 0, 0, 0}},
    {"St", 1, 1e4, 1e-4, {2, 0, -1, 0, 0, 0}},
    {"cSt", 1, 1e6, 1e-6, {2, 0, -1, 0, 0, 0}},
    {"pcs", 1, 1, 0, {0, 0, 0, 0, 0, 0}},
    {"micron", 1, 1e6, 1e-6, {1, 0, 0, 0, 0, 0}},
    {"sqft", 9290304, 1e8, 9.290304e-2, {2, 0, 0, 0, 0, 0}},
    {"litre", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"litres", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"liter", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"liters", 1, 1000, 1e-3, {3, 0, 0, 0, 0, 0}},
    {"lbs", 45359237, 1e8, 4.535924e-1, {0, 1, 0, 0, 0, 0}},
    {"sec", 1, 1, 0, {0, 0, 1, 0, 0, 0}},
    {"hr", 3600, 1, 3.6e3, {0, 0, 1, 0, 0, 0}},
    {"gpm", 3785411784, 6e13, 6.309020e-5, {3, 0, -1, 0, 0, 0}},
    {"cfm", 28316846592, 6e13, 4.719474e-4, {3, 0, -1, 0, 0, 0}},
    {"S", 1, 1, 0, {-2, -1, 3, 0, 2, 0}},
    {"nS", 1, 1e9, 0, {-2, -1, 3, 0, 2, 0}},
    {"uS", 1, 1e6, 0, {-2, -1, 3, 0, 2, 0}},
    {"mS", 1, 1000, 0, {-2, -1, 3, 0, 2, 0}},
    {"ohm", 1, 1, 0, {2, 1, -3, 0, -2, 0}},
    {"kohm", 1000, 1, 0, {2, 1, -3, 0, -2, 0}},
    {"Mohm", 1e6, 1, 0, {2, 1, -3, 0, -2, 0}},
    {"mol", 1, 1, 0, {0, 0, 0, 0, 0, 1}},
    {"nmol", 1, 1e9, 0, {0, 0, 0, 0, 0, 1}},
    {"umol", 1, 1e6, 0, {0, 0, 0, 0, 0, 1}},
    {"mmol", 1, 1000, 0, {0, 0, 0, 0, 0, 1}},
    {"kmol", 1000, 1, 0, {0, 0, 0, 0, 0, 1}},
};

START_TEST(named_unit)
{
    dregs_unit unit;
    char message[DREGS_UNIT_MESSAGE] = "untouched";
    int i;

    ck_assert_int_eq(dregs_unit_read(named[_i].name, &unit, message), DREGS_OK);
    ck_assert_str_eq(message, "untouched");
    ck_assert_near(unit.scale, named[_i].over / named[_i].under, NAMED, "'%s'", named[_i].name);
    if (named[_i].printed != 0.0)
        ck_assert_near(unit.scale, named[_i].printed, 5.1e-7, "'%s' in SP 811", named[_i].name);
    for (i = 0; i < DREGS_DIMENSIONS; i++)
        ck_assert_msg(unit.dimension.exponent[i] == named[_i].dimension[i],
                      "'%s': dimension %d is %d", named[_i].name, i, unit.dimension.exponent[i]);
    if (strncmp(named[_i].name, "deg", 3) != 0 && strncmp(named[_i].name, "\xC2\xB0", 2) != 0)
        ck_assert_msg(unit.offset == 0.0, "'%s' has an offset", named[_i].name);
}
END_TEST

/* Each unit that the library lists is in the table above. */
START_TEST(every_listed_unit_is_in_the_table)
{
    const char *name;
    size_t i, k;

    for (i = 0; (name = dregs_unit_name(i)) != NULL; i++) {
        int found = 0;
        for (k = 0; k < sizeof named / sizeof named[0]; k++)
            found += strcmp(named[k].name, name) == 0;
        ck_assert_msg(found == 1, "'%s' is %d times in the table of this test", name, found);
    }
    ck_assert_uint_ge(i, 40);
    ck_assert_ptr_null(dregs_unit_name(i + 1));
    ck_assert_ptr_null(dregs_unit_name((size_t)-1));
}
END_TEST

#define FT2 929030400.0 /* ft2 in 1e-10 m2 */

/* What the parts of the ratios are is told by the definitions above; "B.8" marks a factor that SP
 * 811 lists itself and that is then also compared as printed. */
static const struct {
    const char *text;
    double over, under, printed;
    const char *same; /* another way to write the same dimension */
} compound[] = {
    {"mL/min", 1, 6e7, 0, "m3/s"},
    {"L/h", 1, 3.6e6, 0, "m3/s"},
    {"m3/h", 1, 3600, 0, "m3.s^-1"},
    {"gal/min", 3785411784, 6e13, 6.309020e-5, "m3/s"},  /* B.8 gallon (US) per minute */
    {"gal/d", 3785411784, 8.64e16, 4.381264e-8, "m3/s"}, /* B.8 gallon (US) per day */
    {"gal/h", 3785411784, 3.6e15, 0, "m3/s"},
    {"ft3/min", 28316846592, 6e13, 4.719474e-4, "m3/s"}, /* B.8 cubic foot per minute */
    {"ft3/s", 28316846592, 1e12, 2.831685e-2, "m3/s"},   /* B.8 */
    {"ft3", 28316846592, 1e12, 2.831685e-2, "L"},        /* B.8 cubic foot */
    {"in3", 16387064, 1e12, 1.638706e-5, "L"},           /* B.8 cubic inch */
    {"yd3", 764554857984, 1e12, 7.645549e-1, "L"},       /* B.8 cubic yard */
    {"in2", 64516, 1e8, 6.4516e-4, "m2"},                /* B.8 square inch */
    {"ft2", FT2, 1e10, 9.290304e-2, "m2"},               /* B.8 square foot */
    {"yd2", 83612736, 1e8, 8.361274e-1, "m2"},           /* B.8 square yard */
    {"cm2", 1, 1e4, 0, "in2"},
    {"cm^2", 1, 1e4, 0, "m.m"},
    {"cm3", 1, 1e6, 0, "mL"},
    {"ft/min", 3048, 6e5, 5.08e-3, "m/s"},     /* B.8 foot per minute */
    {"ft/h", 3048, 3.6e7, 8.466667e-5, "m/s"}, /* B.8 foot per hour */
    {"in/s", 254, 1e4, 2.54e-2, "m/s"},        /* B.8 inch per second */
    {"cm/min", 1, 6000, 0, "m/s"},
    {"m.s^-2", 1, 1, 0, "N/kg"},
    {"mg/100 mL", 1, 100, 0, "mg/L"}, /* 1e-6 kg in 1e-4 m3 */
    {"mg/100mL", 1, 100, 0, "g/L"},
    {"mg per 100 mL", 1, 100, 0, "mg/L"},
    {"g/10 m2", 1, 1e4, 0, "ug/cm2"},
    {"mg/1000 cm2", 1, 1e5, 0, "ug/cm2"},
    {"ft/s2", 3048, 1e4, 3.048e-1, "m/s2"}, /* B.8 foot per second squared */
    {"mg/L", 1, 1000, 0, "kg/m3"},
    {"g/L", 1, 1, 1, "kg/m3"},                                /* B.8 gram per liter */
    {"g/cm3", 1000, 1, 1e3, "kg.m^-3"},                       /* B.8 */
    {"oz/gal", 28349523125, 3785411784, 7.489152, "g/L"},     /* B.8 ounce per gallon (US) */
    {"lb/gal", 453592370000, 3785411784, 1.198264e2, "g/L"},  /* B.8 pound per gallon (US) */
    {"lb/ft3", 453592370000, 28316846592, 1.601846e1, "g/L"}, /* B.8 pound per cubic foot */
    {"lb/in3", 453592370000, 16387064, 2.767990e4, "g/L"},    /* B.8 pound per cubic inch */
    {"oz/in3", 28349523125, 16387064, 1.729994e3, "g/L"},     /* B.8 ounce per cubic inch */
    {"fl oz/gal", 1, 128, 0, "1"},
    {"mL/m2", 1, 1e6, 0, "um"},
    {"gal/ft2", 37854117.84, FT2, 0, "m"},
    {"ug/cm2", 1, 1e5, 0, "kg/m2"},
    {"mg/m2", 1, 1e6, 0, "kg/m2"},
    {"mg/ft2", 1e4, FT2, 0, "kg/m2"},
    {"ng/mm2", 1, 1e6, 0, "kg/m2"},
    {"ug/in2", 1, 645160, 0, "kg/m2"},
    {"oz/ft2", 283495231.25, FT2, 3.051517e-1, "kg/m2"},       /* B.8 ounce per square foot */
    {"oz/yd2", 283495.23125, 8361273.6, 3.390575e-2, "kg/m2"}, /* B.8 ounce per square yard */
    {"lb/ft2", 4535923700, FT2, 4.882428, "kg/m2"},            /* B.8 pound per square foot */
    {"g/cm2", 10, 1, 10, "kg/m2"},                             /* B.8 */
    {"gal/(d.m2)", 3785411784, 8.64e16, 0, "m/s"},
    {"gal/(d*m2)", 3785411784, 8.64e16, 0, "m/s"},
    {"gal/(d.ft2)", 37854117.84, 8.64e4 * FT2, 0, "m/s"},
    {"g/(m2.s)", 1, 1000, 0, "kg/(m2.s)"},
    {"dyn/cm", 1, 1000, 0, "N/m"},
    {"mN/m", 1, 1000, 0, "J/m2"},
    {"dyn/cm2", 1, 10, 1e-1, "Pa"}, /* B.8 dyne per square centimeter */
    {"dyn.cm", 1, 1e7, 1e-7, "J"},  /* B.8 dyne centimeter */
    {"Pa.s", 1, 1, 0, "P"},
    {"mPa.s", 1, 1000, 0, "kg/(m.s)"},
    {"lb/(ft.s)", 45359237, 30480000, 1.488164, "Pa.s"},             /* B.8 pound per foot second */
    {"lb/(ft.h)", 45359237, 30480000 * 3600.0, 4.133789e-4, "Pa.s"}, /* B.8 */
    {"ft2/s", FT2, 1e10, 9.290304e-2, "St"},  /* B.8 square foot per second */
    {"ft2/h", FT2, 3.6e13, 2.58064e-5, "St"}, /* B.8 square foot per hour */
    {"kW.h", 3.6e6, 1, 3.6e6, "J"},           /* B.8 kilowatt hour */
    {"W/(m2.K)", 1, 1, 0, "kg.s^-3.K^-1"},
    {"W/(cm2.delta_degC)", 1e4, 1, 0, "W/(m2.K)"},
    {"J/(g.K)", 1000, 1, 0, "m2/(s2.K)"},
    {"kJ/(kg.delta_degF)", 1800, 1, 0, "J/(kg.K)"},
    {"uS/cm", 1, 1e4, 0, "S/m"},
    {"mS/cm", 1, 10, 0, "S/m"},
    {"Mohm.cm", 1e4, 1, 0, "m/S"},
    {"ohm.m", 1, 1, 0, "m/S"},
    {"ohm.S", 1, 1, 0, "1"},
    {"uS/cm per mg/L", 1, 10, 0, "S.m2/kg"},
    {"uS/cm per ppm", 100, 1, 0, "S/m"},
    {"S.cm2/mol", 1, 1e4, 0, "S.m2.mol^-1"},
    {"mL per min", 1, 6e7, 0, "m3/s"},
    {"mg/(cm2.h) per g/L", 1, 3.6e5, 0, "m/s"},
    {"mol/L", 1000, 1, 0, "mol/m3"},
    {"mmol/L", 1, 1, 0, "mol/m3"},
    {"g/mol", 1, 1000, 0, "kg/mol"},
    {"%/min", 1, 6000, 0, "s^-1"},
    {"ppm/h", 1, 3.6e9, 0, "1/s"},
    {"1/h", 1, 3600, 0, "s-1"},
    {"s^-1", 1, 1, 0, "1/s"},
    {"h-2", 1, 12960000, 0, "1/s2"},
    {"1/(1/s)", 1, 1, 0, "s"},
    {"kg*m*s^-2", 1, 1, 0, "N"},
    {"(kg.m)/s2", 1, 1, 0, "N"},
    {"(m/s)2", 1, 1, 0, "m2.s^-2"},
    {"(cm/s)^-2", 1e4, 1, 0, "s2/m2"},
    {"((((m))))", 1, 1, 0, "m"},
    {"m/((((s))))", 1, 1, 0, "m/s"},
    {"1.m", 1, 1, 0, "m"},
    {"m9.m9.m9.m3", 1, 1, 0, "(m6)5"}, /* the 30th power is the last */
    {"cm9", 1, 1e18, 0, "m^9"},
    {"cm^-9", 1e18, 1, 0, "m^-9"},
    {"psi.in2", 44482216152605, 1e13, 4.448222, "N"}, /* B.8 pound-force */
    {"%.%", 1, 1e4, 0, ""},
    {"%2", 1, 1e4, 0, "ppm"},
    {"\xC2\xB5m", 1, 1e6, 0, "m"}, /* U+00B5 micro sign */
    {"\xCE\xBCm", 1, 1e6, 0, "m"}, /* U+03BC Greek small letter mu */
    {"\xC2\xB5g/cm2", 1, 1e5, 0, "kg/m2"},
    {"\xCE\xBCS/cm per mg/L", 1, 10, 0, "S.m2/kg"},
    {"mg/\xC2\xB5L", 1000, 1, 0, "kg/m3"},
};

START_TEST(compound_unit)
{
    dregs_unit unit, like;
    char message[DREGS_UNIT_MESSAGE] = "untouched";

    ck_assert_msg(dregs_unit_read(compound[_i].text, &unit, message) == DREGS_OK, "'%s': %s",
                  compound[_i].text, message);
    ck_assert_str_eq(message, "untouched");
    ck_assert_near(unit.scale, compound[_i].over / compound[_i].under, COMPOUND, "'%s'",
                   compound[_i].text);
    ck_assert(unit.offset == 0.0);
    if (compound[_i].printed != 0.0)
        ck_assert_near(unit.scale, compound[_i].printed, 5.1e-7, "'%s' in SP 811",
                       compound[_i].text);
    ck_assert_msg(dregs_unit_read_like(compound[_i].text, compound[_i].same, &like, message) ==
                      DREGS_OK,
                  "'%s': %s", compound[_i].text, message);
    ck_assert(like.scale == unit.scale && like.offset == unit.offset);
}
END_TEST

/* The column counts characters from 1; a whole message where its words matter. */
static const struct {
    const char *text;
    int column;
    const char *says;
} refused[] = {
    {"q", 1, "unknown unit 'q'"},
    {"gal/q", 5, "unknown unit 'q'"},
    {"gal/d/m2", 6, "a second '/', write 'a/(b.c)'"},
    {"mg/100", 4, "a unit is missing behind the number"},
    {"mg/100  mL", 4, "a unit is missing behind the number"},
    {"mg/10000 mL", 4, "a unit is missing behind the number"},
    {"mg/200 mL", 4, "a unit is missing"},
    {"100 mL", 1, "a unit is missing"},
    {"mg/100 mL.s", 10, "unclear what is divided"},
    {"mg per 100", 8, "a unit is missing behind the number"},
    {"W/(m2.K)/s", 9, "a second '/'"},
    {"m/(kg/s/K)", 8, "a second '/'"},
    {"(m/s/s)", 5, "a second '/'"},
    {"uS/cm per mg/L/s", 15, "a second '/'"},
    {"mL/m2.s", 6, "unclear what is divided"},
    {"mL/m2*s", 6, "unclear what is divided"},
    {"m^2.5", 2, "a power must be one digit"},
    {"m2.5", 2, "a power must be one digit"},
    {"m10", 2, "a power must be one digit"},
    {"kg.m^-12", 5, "a power must be one digit"},
    {"m^", 2, "a power must be a digit from 1 to 9"},
    {"m^0", 2, "a power must be a digit from 1 to 9"},
    {"m^x", 2, "a power must be a digit from 1 to 9"},
    {"m^+2", 2, "a power must be a digit from 1 to 9"},
    {"m-", 2, "a power must be a digit from 1 to 9"},
    {"kg-m", 3, "a power must be a digit from 1 to 9"},
    {"m0", 2, "cannot be read from here on"},
    {"m**2", 3, "a unit is missing"},
    {"m2^2", 3, "cannot be read from here on"},
    {"(m)2)", 5, "cannot be read from here on"},
    {"m)", 2, "cannot be read from here on"},
    {"m m", 2, "cannot be read from here on"},
    {"m ", 2, "cannot be read from here on"},
    {"m,s", 2, "cannot be read from here on"},
    {"m\n", 2, "cannot be read from here on"},
    {"gal US", 4, "cannot be read from here on"},
    {"1e3", 2, "cannot be read from here on"},
    {"uS/cm per mg/L per s", 15, "cannot be read from here on"},
    {"mL per ", 8, "a unit is missing"},
    {"mL  per L", 3, "cannot be read from here on"},
    {" m", 1, "a unit is missing"},
    {"/s", 1, "a unit is missing"},
    {"m/", 3, "a unit is missing"},
    {"m.", 3, "a unit is missing"},
    {"m..s", 3, "a unit is missing"},
    {"m//s", 3, "a unit is missing"},
    {"()", 2, "a unit is missing"},
    {"(", 2, "a unit is missing"},
    {"2", 1, "a unit is missing"},
    {"12", 1, "a unit is missing"},
    {"100 m", 1, "a unit is missing"},
    {"(m", 3, "')' missing"},
    {"m/(s.kg", 8, "')' missing"},
    {"(m s)", 3, "')' missing"},
    {"(((((m)))))", 5, "parentheses too deep"},
    /* temperature points stand alone */
    {"W/(m2.degC)", 7, "a temperature stands alone, a difference is 'delta_degC'"},
    {"degC.m", 1, "a temperature stands alone"},
    {"degF/min", 1, "a temperature stands alone"},
    {"m.degC", 3, "a temperature stands alone"},
    {"1/degC", 3, "a temperature stands alone"},
    {"degC2", 1, "a temperature stands alone"},
    {"degF^-1", 1, "a temperature stands alone"},
    {"(degC)", 2, "a temperature stands alone"},
    {"degC per min", 1, "a temperature stands alone"},
    {"J per degC", 7, "a temperature stands alone"},
    {"1.degC", 3, "a temperature stands alone"},
    /* no fixed length */
    {"month", 1, "'month' has no fixed length, use d or h"},
    {"gal/month", 5, "'month' has no fixed length"},
    {"t/year", 3, "'year' has no fixed length"},
    {"yr", 1, "'yr' has no fixed length"},
    /* case matters, and only usual prefixes are taken */
    {"ML", 1, "unknown unit 'ML'"},
    {"mGAL", 1, "unknown unit 'mGAL'"},
    {"mgal", 1, "unknown unit 'mgal' (nearest: 'gal')"},
    {"GAL", 1, "unknown unit 'GAL' (nearest: 'gal')"},
    {"pa", 1, "unknown unit 'pa'"},
    {"PA", 1, "unknown unit 'PA'"},
    {"KG", 1, "unknown unit 'KG'"},
    {"Mg", 1, "unknown unit 'Mg'"},
    {"Min", 1, "unknown unit 'Min' (nearest: 'min')"},
    {"H", 1, "unknown unit 'H'"},
    {"k", 1, "unknown unit 'k'"},
    {"a", 1, "unknown unit 'a'"}, /* so `Pa` is no peta-year */
    {"Pg", 1, "unknown unit 'Pg'"},
    {"mmin", 1, "unknown unit 'mmin' (nearest: 'min')"},
    {"kft", 1, "unknown unit 'kft'"},
    {"ukg", 1, "unknown unit 'ukg'"},
    {"mmm", 1, "unknown unit 'mmm'"},
    {"m%", 1, "unknown unit 'm%'"},
    {"k1", 1, "unknown unit 'k'"},
    {"um\xC2\xB5", 1, "unknown unit 'um\xC2\xB5'"},
    {"\xC2\xB5", 1, "unknown unit '\xC2\xB5'"},
    {"\xC2\xB5gal", 1, "unknown unit '\xC2\xB5gal'"},
    {"\xC2\xB5m/q", 4, "unknown unit 'q'"}, /* two bytes, one character */
    {"\xC2\xB0"
     "Reaumur",
     1,
     "unknown unit '\xC2\xB0"
     "Reaumur'"},
    {"\xFF", 1, "unknown unit ''"},
    {"fl", 1, "unknown unit 'fl'"},
    {"fl  oz", 1, "unknown unit 'fl'"},
    {"fl ozz", 1, "unknown unit 'fl'"},
    {"floz", 1, "unknown unit 'floz' (nearest: 'fl oz')"},
    {"Fl oz", 1, "unknown unit 'Fl'"},
    /* the nearest name */
    {"deg_C", 1, "unknown unit 'deg_C' (nearest: 'degC')"},
    {"delta_deg", 1, "unknown unit 'delta_deg' (nearest: 'delta_degC')"},
    {"tor", 1, "unknown unit 'tor' (nearest: 'torr')"},
    {"mmgH", 1, "unknown unit 'mmgH' (nearest: 'mmHg')"},
    {"Ohm", 1, "unknown unit 'Ohm' (nearest: 'ohm')"},
    {"bars", 1, "unknown unit 'bars' (nearest: 'bar')"},
    {"lps", 1, "unknown unit 'lps' at"}, /* one letter off lbs, and nothing like it */
    {"rpm", 1, "unknown unit 'rpm' at"},
    {"furlong", 1, "unknown unit 'furlong' at column 1"},
    /* powers beyond any real unit */
    {"m9.m9.m9.m4", 10, "a power beyond any real unit"},
    {"(m9)9", 1, "a power beyond any real unit"},
    {"((m9)9)9", 2, "a power beyond any real unit"},
    {"1/(s9.s9.s9.s9)", 13, "a power beyond any real unit"},
    {"(ppm9)9", 1, "a power beyond any real unit"},
    {"1 per (ppm9)9", 7, "a power beyond any real unit"},
};

START_TEST(refused_unit)
{
    const char *text = refused[_i].text, *at;
    char message[DREGS_UNIT_MESSAGE + 1] = "";
    dregs_unit unit = {2.385, 1.5, {{1, 2, 3, 4, 5, 6}}};
    const dregs_unit before = unit;

    message[DREGS_UNIT_MESSAGE] = '!';
    ck_assert_msg(dregs_unit_read(text, &unit, message) == DREGS_BAD_UNIT, "'%s' was read", text);
    ck_assert(message[DREGS_UNIT_MESSAGE] == '!');
    ck_assert_msg(strncmp(message, refused[_i].says, strlen(refused[_i].says)) == 0,
                  "'%s': says \"%s\"", text, message);
    at = strstr(message, " at column ");
    ck_assert_msg(at && strtol(at + 11, NULL, 10) == refused[_i].column,
                  "'%s': says \"%s\", expected column %d", text, message, refused[_i].column);
    ck_assert(unit.scale == before.scale && unit.offset == before.offset &&
              memcmp(&unit.dimension, &before.dimension, sizeof unit.dimension) == 0);
    ck_assert_int_eq(dregs_unit_read(text, &unit, NULL), DREGS_BAD_UNIT);
}
END_TEST

START_TEST(long_and_hostile_texts)
{
    static char text[100001];
    char message[DREGS_UNIT_MESSAGE + 1];
    dregs_unit unit;
    size_t i;

    message[DREGS_UNIT_MESSAGE] = '!';
    memset(text, 'x', sizeof text - 1);
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_BAD_UNIT);
    ck_assert_ptr_nonnull(strstr(message, "xxx...' at column 1"));
    memset(text, '(', sizeof text - 1);
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_BAD_UNIT);
    ck_assert_str_eq(message, "parentheses too deep at column 5");
    memset(text, '9', sizeof text - 1);
    text[0] = 'm';
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_BAD_UNIT);
    for (i = 0; i < sizeof text - 1; i++)
        text[i] = i % 2 ? '.' : '1';
    text[sizeof text - 2] = '\0';
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_OK); /* 1.1.1 and so on is 1 */
    ck_assert(unit.scale == 1.0);
    for (i = 0; i < sizeof text - 1; i++)
        text[i] = "m/m."[i % 4];
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_BAD_UNIT);
    for (i = 0; i < 100; i++) /* a word cut in the middle of its characters */
        memcpy(text + 2 * i, "\xC2\xB5", 3);
    ck_assert_int_eq(dregs_unit_read(text + 1, &unit, message), DREGS_BAD_UNIT);
    ck_assert_int_eq(dregs_unit_read(text, &unit, message), DREGS_BAD_UNIT);
    ck_assert_ptr_nonnull(strstr(message, "\xC2\xB5...'"));
    ck_assert(message[DREGS_UNIT_MESSAGE] == '!');
}
END_TEST

/* A listed name reads back as itself, and as its powers and quotients. */
START_TEST(listed_units_read_back)
{
    const char *name;
    size_t i, k;

    for (i = 0; (name = dregs_unit_name(i)) != NULL; i++) {
        dregs_unit unit, other;
        char text[96], message[DREGS_UNIT_MESSAGE];
        for (k = 0; k < i; k++)
            ck_assert_str_ne(name, dregs_unit_name(k));
        ck_assert_msg(dregs_unit_read(name, &unit, message) == DREGS_OK, "%s", message);
        ck_assert(isfinite(unit.scale) && unit.scale > 0.0);
        ck_assert_msg(dregs_unit_read_like(name, name, &other, message) == DREGS_OK, "%s", message);
        ck_assert_near(dregs_unit_from_si(unit, dregs_unit_to_si(unit, 2.385)), 2.385,
                       unit.offset != 0.0 ? 1e-12 : 4e-16, "'%s' there and back", name);
        if (unit.offset != 0.0)
            continue;
        snprintf(text, sizeof text, "%s.%s^-1", name, name);
        ck_assert_msg(dregs_unit_read_like(text, "1", &other, message) == DREGS_OK, "%s", message);
        ck_assert_near(other.scale, 1.0, 3e-16, "'%s'", text);
        snprintf(text, sizeof text, "%s/(%s.%s2)", name, name, name);
        if (name[0] == '1')
            continue; /* 12 is a number */
        ck_assert_msg(dregs_unit_read(text, &other, message) == DREGS_OK, "%s", message);
        ck_assert_near(other.scale * unit.scale, 1.0 / unit.scale, 1e-15, "'%s'", text);
        for (k = 0; k < DREGS_DIMENSIONS; k++)
            ck_assert_int_eq(other.dimension.exponent[k], -2 * unit.dimension.exponent[k]);
    }
}
END_TEST

/* Fixed points: ice and boiling at 32 and 212 degF by definition, -40 degrees on both scales;
 * 98.6 degF = 37 degC; absolute zero -459.67 degF (SP 811, B.8: t/degF = 1.8 t/degC + 32). */
START_TEST(temperatures)
{
    static const struct {
        const char *unit;
        double value, kelvin;
    } point[] = {
        {"degC", 0, 273.15},      {"degC", 60.35, 333.5},  {"degC", -273.15, 0},
        {"degF", 32, 273.15},     {"degF", 212, 373.15},   {"degF", -40, 233.15},
        {"degF", 98.6, 310.15},   {"degF", -459.67, 0},    {"K", 293.65, 293.65},
        {"delta_degC", 7.5, 7.5}, {"delta_degF", 16.2, 9},
    };
    int i;

    for (i = 0; i < COUNT(point); i++) {
        dregs_unit unit;
        ck_assert_int_eq(dregs_unit_read_like(point[i].unit, "degC", &unit, NULL), DREGS_OK);
        ck_assert_double_eq_tol(dregs_unit_to_si(unit, point[i].value), point[i].kelvin, 2e-13);
        ck_assert_double_eq_tol(dregs_unit_from_si(unit, point[i].kelvin), point[i].value, 4e-13);
    }
}
END_TEST

static const struct {
    const char *text, *like, *message;
} unlike[] = {
    {"mL", "mL/min", "'mL' is of another kind than 'mL/min'"},
    {"mL/m2", "mL/min", "'mL/m2' is of another kind than 'mL/min'"},
    {"mL/min", "um", "'mL/min' is of another kind than 'um'"},
    {"", "um", "a unit of the kind of 'um' is missing"},
    {"%", "um", "'%' is of another kind than 'um'"},
    {"um", "", "'um' is of another kind than '1'"},
    {"um", "1", "'um' is of another kind than '1'"},
    {"oz", "mL", "'oz' is of another kind than 'mL'"}, /* a mass */
    {"fl oz", "g", "'fl oz' is of another kind than 'g'"},
    {"S", "ohm", "'S' is of another kind than 'ohm'"},
    {"mol/L", "g/L", "'mol/L' is of another kind than 'g/L'"},
    {"St", "P", "'St' is of another kind than 'P'"},
    {"K", "m", "'K' is of another kind than 'm'"},
    {"gal/q", "mL/min", "unknown unit 'q' at column 5"},
};

START_TEST(unit_of_another_kind)
{
    char message[DREGS_UNIT_MESSAGE] = "";
    dregs_unit unit = {2.385, 0, {{0}}};

    ck_assert_int_eq(dregs_unit_read_like(unlike[_i].text, unlike[_i].like, &unit, message),
                     DREGS_BAD_UNIT);
    ck_assert_str_eq(message, unlike[_i].message);
    ck_assert(unit.scale == 2.385);
    ck_assert_int_eq(dregs_unit_read_like(unlike[_i].text, unlike[_i].like, &unit, NULL),
                     DREGS_BAD_UNIT);
}
END_TEST

static const struct {
    const char *text, *like;
    double si; /* exact decimals */
} quantity[] = {
    {"20 um", "m", 20e-6},
    {"20um", "m", 20e-6},
    {"20   um", "m", 20e-6},
    {"20 \xC2\xB5m", "m", 20e-6},
    {"60degC", "degC", 333.15},
    {"-40 degF", "K", 233.15},
    {"1e3 mL", "L", 1e-3},
    {"1e3mL", "L", 1e-3},
    {"1E-3L", "L", 1e-6},
    {"1.5e+1 %", "1", 0.15},
    {"2.385", "1", 2.385},
    {"99.4%", "%", 0.994},
    {".5 gal", "L", 1.892705892e-3},
    {"+5. min", "h", 300},
    {"0 um", "m", 0},
    {"7 1/h", "s^-1", 7.0 / 3600},
    {"12 fl oz", "mL", 3.5488235475e-4},
    {"0.1 uS/cm per mg/L", "S.m2/kg", 0.01},
    {"3 d", "s", 259200},
    {"0000000000000000000000000000000000000000000000000000000000012.5 um", "m", 12.5e-6},
};

START_TEST(quantities)
{
    char message[DREGS_UNIT_MESSAGE] = "untouched";
    double si = -1.0;

    ck_assert_msg(dregs_unit_quantity(quantity[_i].text, quantity[_i].like, &si, message) ==
                      DREGS_OK,
                  "'%s': %s", quantity[_i].text, message);
    ck_assert_str_eq(message, "untouched");
    ck_assert_near(si, quantity[_i].si, 5e-16, "'%s'", quantity[_i].text);
}
END_TEST

static const struct {
    const char *text, *like;
    dregs_status status;
    const char *message;
} bad_quantity[] = {
    {"", "1", DREGS_BAD_NUMBER, "no number at column 1"},
    {"um", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {" 20 um", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"e3 m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"inf m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"nan", "1", DREGS_BAD_NUMBER, "no number at column 1"},
    {"- 5 m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"1.2.3 m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"5-3 m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"2e+ m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"1e400 m", "m", DREGS_BAD_NUMBER, "no number at column 1"},
    {"1e308 kPa", "Pa", DREGS_BAD_NUMBER, "a number too large at column 1"},
    {"-1e308 kPa", "Pa", DREGS_BAD_NUMBER, "a number too large at column 1"},
    /* 65 characters: cut to fewer it would be a thousandth, or lose its exponent */
    {"10000000000000000000000000000000000000000000000000000000000000000 m", "m", DREGS_BAD_NUMBER,
     "a number of more than 63 characters at column 1"},
    {"0.000000000000000000000000000000000000000000000000000000000001e60 m", "m", DREGS_BAD_NUMBER,
     "a number of more than 63 characters at column 1"},
    {"2e", "1", DREGS_BAD_UNIT, "unknown unit 'e' at column 2"},
    {"2e m", "m", DREGS_BAD_UNIT, "unknown unit 'e' at column 2"},
    {"5eV", "J", DREGS_BAD_UNIT, "unknown unit 'eV' at column 2"},
    {"0x10 m", "m", DREGS_BAD_UNIT, "unknown unit 'x' at column 2"},
    {"1,5 m", "m", DREGS_BAD_NUMBER, "a comma at column 2, the decimal mark is a point"},
    {"20 q", "m", DREGS_BAD_UNIT, "unknown unit 'q' at column 4"},
    {"20 gal/q", "m", DREGS_BAD_UNIT, "unknown unit 'q' at column 8"},
    {"20 um ", "m", DREGS_BAD_UNIT, "cannot be read from here on at column 6"},
    {"20\tum", "m", DREGS_BAD_UNIT, "a unit is missing at column 3"},
    {"20 30 um", "m", DREGS_BAD_UNIT, "a unit is missing at column 4"},
    {"20 W/(m2.degC)", "W/(m2.K)", DREGS_BAD_UNIT,
     "a temperature stands alone, a difference is 'delta_degC' at column 10"},
    {"20", "um", DREGS_BAD_UNIT, "20 has no unit, write for example '20 um'"},
    {"20 mL", "um", DREGS_BAD_UNIT, "'mL' is of another kind than 'um'"},
};

START_TEST(bad_quantities)
{
    char message[DREGS_UNIT_MESSAGE] = "";
    double si = 2.385;

    ck_assert_int_eq(
        dregs_unit_quantity(bad_quantity[_i].text, bad_quantity[_i].like, &si, message),
        bad_quantity[_i].status);
    ck_assert_str_eq(message, bad_quantity[_i].message);
    ck_assert(si == 2.385);
    ck_assert_int_eq(dregs_unit_quantity(bad_quantity[_i].text, bad_quantity[_i].like, &si, NULL),
                     bad_quantity[_i].status);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("unit");
    TCase *tcase = tcase_create("unit");

    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, named_unit, 0, COUNT(named));
    tcase_add_test(tcase, every_listed_unit_is_in_the_table);
    tcase_add_loop_test(tcase, compound_unit, 0, COUNT(compound));
    tcase_add_loop_test(tcase, refused_unit, 0, COUNT(refused));
    tcase_add_test(tcase, long_and_hostile_texts);
    tcase_add_test(tcase, listed_units_read_back);
    tcase_add_test(tcase, temperatures);
    tcase_add_loop_test(tcase, unit_of_another_kind, 0, COUNT(unlike));
    tcase_add_loop_test(tcase, quantities, 0, COUNT(quantity));
    tcase_add_loop_test(tcase, bad_quantities, 0, COUNT(bad_quantity));
    suite_add_tcase(suite, tcase);
    return run(suite);
}
