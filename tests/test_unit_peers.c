/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_unit_peers.c: our units against two programs of other people, UDUNITS-2 and GNU units.
 *
 * Skipped as a whole when either is missing. UDUNITS-2 is asked from one thread only: it ends the
 * process when several parse.
 */
#include "check_main.h"
#include "dregs/unit.h"

#include <stdlib.h>
#include <string.h>

#ifdef HAVE_UDUNITS2

#include <udunits2.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

/* UDUNITS-2 2.2.28 rounds these: US gallon 3.785412 L and what it derives from it; ounce
 * 2.834952e-2 kg. Its torr is the millimetre of mercury, which is 1.4e-7 more. */
#define ROUNDED 3e-7
#define SAME    2e-15

/* Ours; UDUNITS-2's and GNU units' spelling; the SI unit of all; how near UDUNITS-2 must be. */
static const struct {
    const char *ours, *udunits, *gnu, *si;
    double udunits_within;
} same[] = {
    {"1", "1", "1", "1", SAME},
    {"%", "percent", "percent", "1", SAME},
    {"ppm", "ppm", "ppm", "1", SAME},
    {"m", "m", "m", "m", SAME},
    {"nm", "nm", "nm", "m", SAME},
    {"um", "um", "um", "m", SAME},
    {"\xC2\xB5m", "\xC2\xB5m", "micrometer", "m", SAME},
    {"\xCE\xBCm", "\xCE\xBCm", "micrometer", "m", SAME},
    {"mm", "mm", "mm", "m", SAME},
    {"cm", "cm", "cm", "m", SAME},
    {"dm", "dm", "dm", "m", SAME},
    {"km", "km", "km", "m", SAME},
    {"in", "international_inch", "in", "m", SAME},
    {"ft", "international_foot", "ft", "m", SAME},
    {"yd", "international_yard", "yd", "m", SAME},
    {"mil", "mil", "mil", "m", SAME},
    {"L", "L", "liter", "m^3", SAME},
    {"l", "l", "liter", "m^3", SAME},
    {"uL", "uL", "microliter", "m^3", SAME},
    {"mL", "mL", "milliliter", "m^3", SAME},
    {"cL", "cL", "centiliter", "m^3", SAME},
    {"dL", "dL", "deciliter", "m^3", SAME},
    {"hL", "hL", "hectoliter", "m^3", SAME},
    {"gal", "US_liquid_gallon", "usgallon", "m^3", ROUNDED},
    {"qt", "US_liquid_quart", "usquart", "m^3", ROUNDED},
    {"pt", "US_liquid_pint", "uspint", "m^3", ROUNDED},
    {"fl oz", "US_fluid_ounce", "usfluidounce", "m^3", ROUNDED},
    {"g", "g", "g", "kg", SAME},
    {"ng", "ng", "ng", "kg", SAME},
    {"ug", "ug", "ug", "kg", SAME},
    {"mg", "mg", "mg", "kg", SAME},
    {"kg", "kg", "kg", "kg", SAME},
    {"t", "tonne", "tonne", "kg", SAME},
    {"lb", "avoirdupois_pound", "pound", "kg", SAME},
    {"oz", "avoirdupois_ounce", "ounce", "kg", ROUNDED},
    {"s", "s", "s", "s", SAME},
    {"us", "us", "us", "s", SAME},
    {"ms", "ms", "ms", "s", SAME},
    {"min", "minute", "minute", "s", SAME},
    {"h", "hour", "hour", "s", SAME},
    {"d", "day", "day", "s", SAME},
    {"K", "K", "K", "K", SAME},
    {"delta_degC", "K", "degC", "K", SAME},
    {"delta_degF", "degR", "degF", "K", SAME},
    {"N", "N", "N", "kg.m.s^-2", SAME},
    {"uN", "uN", "uN", "kg.m.s^-2", SAME},
    {"mN", "mN", "mN", "kg.m.s^-2", SAME},
    {"kN", "kN", "kN", "kg.m.s^-2", SAME},
    {"dyn", "dyne", "dyne", "kg.m.s^-2", SAME},
    {"Pa", "Pa", "Pa", "kg.m^-1.s^-2", SAME},
    {"mPa", "mPa", "mPa", "kg.m^-1.s^-2", SAME},
    {"hPa", "hPa", "hPa", "kg.m^-1.s^-2", SAME},
    {"kPa", "kPa", "kPa", "kg.m^-1.s^-2", SAME},
    {"MPa", "MPa", "MPa", "kg.m^-1.s^-2", SAME},
    {"bar", "bar", "bar", "kg.m^-1.s^-2", SAME},
    {"mbar", "mbar", "mbar", "kg.m^-1.s^-2", SAME},
    {"atm", "atm", "atm", "kg.m^-1.s^-2", SAME},
    {"mmHg", "mmHg", "mmHg", "kg.m^-1.s^-2", SAME},
    {"torr", "torr", "torr", "kg.m^-1.s^-2", ROUNDED},
    {"psi", "psi", "psi", "kg.m^-1.s^-2", SAME},
    {"J", "J", "J", "kg.m^2.s^-2", SAME},
    {"kJ", "kJ", "kJ", "kg.m^2.s^-2", SAME},
    {"Wh", "W.hour", "W hour", "kg.m^2.s^-2", SAME},
    {"kWh", "kW.hour", "kW hour", "kg.m^2.s^-2", SAME},
    {"MWh", "MW.hour", "MW hour", "kg.m^2.s^-2", SAME},
    {"W", "W", "W", "kg.m^2.s^-3", SAME},
    {"kW", "kW", "kW", "kg.m^2.s^-3", SAME},
    {"P", "poise", "poise", "kg.m^-1.s^-1", SAME},
    {"cP", "centipoise", "centipoise", "kg.m^-1.s^-1", SAME},
    {"St", "stokes", "stokes", "m^2.s^-1", SAME},
    {"cSt", "centistokes", "centistokes", "m^2.s^-1", SAME},
    {"S", "S", "siemens", "S", SAME},
    {"uS", "uS", "microsiemens", "S", SAME},
    {"mS", "mS", "millisiemens", "S", SAME},
    {"ohm", "ohm", "ohm", "ohm", SAME},
    {"Mohm", "Mohm", "megaohm", "ohm", SAME},
    {"pcs", "1", "1", "1", SAME},
    {"micron", "micron", "micron", "m", SAME},
    {"sqft", "international_foot^2", "ft^2", "m^2", SAME},
    {"litre", "litre", "litre", "m^3", SAME},
    {"litres", "litres", "litre", "m^3", SAME},
    {"liter", "liter", "liter", "m^3", SAME},
    {"liters", "liters", "liter", "m^3", SAME},
    {"lbs", "avoirdupois_pound", "pound", "kg", SAME},
    {"sec", "second", "second", "s", SAME},
    {"hr", "hour", "hour", "s", SAME},
    {"gpm", "US_liquid_gallon/minute", "gpm", "m^3.s^-1", ROUNDED},
    {"cfm", "international_foot^3/minute", "cfm", "m^3.s^-1", SAME},
    {"mol", "mol", "mol", "mol", SAME},
    {"mmol", "mmol", "mmol", "mol", SAME},
    {"mL/min", "mL/minute", "mL/min", "m^3.s^-1", SAME},
    {"L/h", "L/hour", "liter/hour", "m^3.s^-1", SAME},
    {"gal/h", "US_liquid_gallon/hour", "gal/hour", "m^3.s^-1", ROUNDED},
    {"gal/(d.m2)", "US_liquid_gallon/(day.m^2)", "gal/(day m^2)", "m.s^-1", ROUNDED},
    {"ft3/min", "international_foot^3/minute", "ft^3/min", "m^3.s^-1", SAME},
    {"in/s", "international_inch/s", "in/s", "m.s^-1", SAME},
    {"oz/gal", "avoirdupois_ounce/US_liquid_gallon", "oz/gal", "kg.m^-3", ROUNDED},
    {"lb/gal", "avoirdupois_pound/US_liquid_gallon", "lb/gal", "kg.m^-3", ROUNDED},
    {"lb/ft3", "avoirdupois_pound/international_foot^3", "lb/ft^3", "kg.m^-3", SAME},
    {"mg/L", "mg/L", "mg/liter", "kg.m^-3", SAME},
    {"g/cm3", "g/cm^3", "g/cm^3", "kg.m^-3", SAME},
    {"ug/cm2", "ug/cm^2", "ug/cm^2", "kg.m^-2", SAME},
    {"mg/ft2", "mg/international_foot^2", "mg/ft^2", "kg.m^-2", SAME},
    {"ug/in2", "ug/international_inch^2", "ug/in^2", "kg.m^-2", SAME},
    {"mL/m2", "mL/m^2", "mL/m^2", "m", SAME},
    {"fl oz/gal", "US_fluid_ounce/US_liquid_gallon", "usfluidounce/usgallon", "1", ROUNDED},
    {"dyn/cm", "dyne/cm", "dyne/cm", "kg.s^-2", SAME},
    {"mN/m", "mN/m", "mN/m", "kg.s^-2", SAME},
    {"mPa.s", "mPa.s", "mPa s", "kg.m^-1.s^-1", SAME},
    {"lb/(ft.s)", "avoirdupois_pound/(international_foot.s)", "lb/(ft s)", "kg.m^-1.s^-1", SAME},
    {"ft2/h", "international_foot^2/hour", "ft^2/hour", "m^2.s^-1", SAME},
    {"W/(m2.K)", "W/(m^2.K)", "W/(m^2 K)", "kg.s^-3.K^-1", SAME},
    {"kJ/(kg.delta_degF)", "kJ/(kg.degR)", "kJ/(kg degF)", "m^2.s^-2.K^-1", SAME},
    {"kW.h", "kW.hour", "kW hour", "kg.m^2.s^-2", SAME},
    {"uS/cm", "uS/cm", "uS/cm", "S.m^-1", SAME},
    {"uS/cm per mg/L", "(uS/cm)/(mg/L)", "(uS/cm)/(mg/liter)", "S.m^2.kg^-1", SAME},
    {"Mohm.cm", "Mohm.cm", "megaohm cm", "ohm.m", SAME},
    {"mmol/L", "mmol/L", "mmol/liter", "mol.m^-3", SAME},
    {"g/mol", "g/mol", "g/mol", "kg.mol^-1", SAME},
    {"(cm/s)^-2", "(cm/s)^-2", "(cm/s)^-2", "m^-2.s^2", SAME},
    {"psi.in2", "psi.international_inch^2", "psi in^2", "kg.m.s^-2", SAME},
    {"%/min", "percent/minute", "percent/min", "s^-1", SAME},
};

/* Points of temperature: our and UDUNITS-2's name, GNU units' function. */
static const struct {
    const char *name, *gnu;
    double value;
} point[] = {
    {"degC", "tempC", 60.35},
    {"degC", "tempC", -40.0},
    {"degC", "tempC", 0.0},
    {"\xC2\xB0"
     "C",
     "tempC", 21.9},
    {"\xC2\xB0"
     "F",
     "tempF", 71.4},
    {"degF", "tempF", 98.6},
    {"degF", "tempF", -40.0},
    {"degF", "tempF", 143.85},
};

/* The value in \p to of \p value in \p from by UDUNITS-2; NaN when it refuses. */
static double udunits_converted(const char *from, const char *to, double value)
{
    ut_system *database;
    ut_unit *left, *right;
    cv_converter *converter = NULL;

    ut_set_error_message_handler(ut_ignore);
    database = ut_read_xml(NULL);
    ck_assert_ptr_nonnull(database);
    left = ut_parse(database, from, UT_UTF8);
    right = ut_parse(database, to, UT_UTF8);
    if (left && right)
        converter = ut_get_converter(left, right);
    value = converter ? cv_convert_double(converter, value) : (double)NAN;
    cv_free(converter);
    ut_free(left);
    ut_free(right);
    ut_free_system(database);
    return value;
}

/* What the units program answers, if that is a number; NaN otherwise. The texts come from the
 * tables above and hold no quotes. */
static double gnu_converted(const char *from, const char *to)
{
    char command[256], answer[128] = "", *end = answer;
    FILE *pipe;
    double value;

    snprintf(command, sizeof command,
             "LC_ALL=C UNITS_ENGLISH=US units -t -o %%.17g -- '%s' '%s' 2>/dev/null", from, to);
    pipe = popen(command, "r");
    ck_assert_ptr_nonnull(pipe);
    if (!fgets(answer, sizeof answer, pipe))
        answer[0] = '\0';
    if (pclose(pipe) != 0)
        return (double)NAN;
    value = strtod(answer, &end);
    return end > answer && (*end == '\n' || !*end) ? value : (double)NAN;
}

START_TEST(udunits_agrees)
{
    dregs_unit unit;

    ck_assert_int_eq(dregs_unit_read_like(same[_i].ours, same[_i].si, &unit, NULL), DREGS_OK);
    ck_assert_near(unit.scale, udunits_converted(same[_i].udunits, same[_i].si, 1.0),
                   same[_i].udunits_within, "'%s' as UDUNITS-2 has '%s'", same[_i].ours,
                   same[_i].udunits);
}
END_TEST

START_TEST(gnu_units_agrees)
{
    char si[64], *p;
    dregs_unit unit;

    ck_assert_int_eq(dregs_unit_read(same[_i].ours, &unit, NULL), DREGS_OK);
    snprintf(si, sizeof si, "%s", same[_i].si);
    for (p = si; *p; p++)
        if (*p == '.')
            *p = ' ';
    ck_assert_near(unit.scale, gnu_converted(same[_i].gnu, si), SAME, "'%s' as GNU units has '%s'",
                   same[_i].ours, same[_i].gnu);
}
END_TEST

START_TEST(temperature_points_agree)
{
    char text[64];
    dregs_unit unit;
    double kelvin;

    ck_assert_int_eq(dregs_unit_read(point[_i].name, &unit, NULL), DREGS_OK);
    kelvin = dregs_unit_to_si(unit, point[_i].value);
    ck_assert_double_eq_tol(kelvin, udunits_converted(point[_i].name, "K", point[_i].value), 2e-13);
    snprintf(text, sizeof text, "%s(%g)", point[_i].gnu, point[_i].value);
    ck_assert_double_eq_tol(kelvin, gnu_converted(text, "K"), 2e-13);
}
END_TEST

/* Every unit that the library lists has had its second opinions. */
START_TEST(no_listed_unit_is_left_out)
{
    const char *name;
    size_t i, k;

    for (i = 0; (name = dregs_unit_name(i)) != NULL; i++) {
        int found = 0;
        for (k = 0; k < sizeof point / sizeof point[0] && !found; k++)
            found = strcmp(name, point[k].name) == 0;
        for (k = 0; k < sizeof same / sizeof same[0]; k++)
            found += strcmp(name, same[k].ours) == 0;
        ck_assert_msg(found == 1, "'%s' is %d times in the tables of this test", name, found);
    }
}
END_TEST

int main(void)
{
    Suite *suite;
    TCase *tcase;
    ut_system *database;

    /* `command -v` rather than a conversion, so that a broken answer is a failure and no skip */
    if (system("command -v units >/dev/null 2>&1") != 0) {
        printf("1..0 # SKIP GNU units, a second opinion, is not installed\n");
        return SKIP_STATUS;
    }
    ut_set_error_message_handler(ut_ignore);
    database = ut_read_xml(NULL);
    if (!database) {
        printf("1..0 # SKIP the database of UDUNITS-2, a second opinion, is not installed\n");
        return SKIP_STATUS;
    }
    ut_free_system(database);
    suite = suite_create("unit_peers");
    tcase = tcase_create("unit_peers");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, udunits_agrees, 0, COUNT(same));
    tcase_add_loop_test(tcase, gnu_units_agrees, 0, COUNT(same));
    tcase_add_loop_test(tcase, temperature_points_agree, 0, COUNT(point));
    tcase_add_test(tcase, no_listed_unit_is_left_out);
    suite_add_tcase(suite, tcase);
    return run(suite);
}

#else

int main(void)
{
    printf("1..0 # SKIP built without UDUNITS-2, a second opinion\n");
    return SKIP_STATUS;
}

#endif
