/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_liquid.c: the liquid table, against published values; every fault of a file. */
#include "check_main.h"
#include "dregs/liquid.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "liquid/builtin.h"

#include <stdlib.h>
#include <string.h>

static dregs_liquids *table;

static void setup(void)
{
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
}

static void teardown(void)
{
    dregs_liquids_free(table);
}

static double value(const char *liquid, dregs_property property, double temperature)
{
    double got = NAN;
    char message[DREGS_LIQUID_MESSAGE] = "";
    dregs_status status = dregs_liquids_value(table, liquid, property, temperature, &got, message);

    ck_assert_msg(status == DREGS_OK, "%s of %s at %g K: %s", dregs_property_name(property), liquid,
                  temperature, message);
    return got;
}

static dregs_status add(const char *text, dregs_faults *faults)
{
    if (faults)
        memset(faults, 0, sizeof *faults);
    return dregs_liquids_add(table, "own.csv", text, strlen(text), faults);
}

/* ---- values ---- */

static const struct {
    const char *liquid;
    dregs_property property;
    double celsius, expected, tolerance; /* expected in SI, tolerance relative */
    const char *source;
} published[] = {
    /* check D06: ASHRAE Fundamentals 2017, ch. 1, table 3 */
    {"water", DREGS_VAPOUR_PRESSURE, 5.0, 872.6, 3e-4, "ASHRAE 2017"},
    {"water", DREGS_VAPOUR_PRESSURE, 25.0, 3169.7, 3e-4, "ASHRAE 2017"},
    {"water", DREGS_VAPOUR_PRESSURE, 50.0, 12351.3, 3e-4, "ASHRAE 2017"},
    {"water", DREGS_VAPOUR_PRESSURE, 100.0, 101418.0, 3e-4, "ASHRAE 2017"},
    /* Kell, J. Chem. Eng. Data 20 (1975) 97 */
    {"water", DREGS_DENSITY, 25.0, 997.045, 5e-6, "Kell 1975"},
    /* IAPWS R12-08, and R1-76(2014) for the surface tension; 25 and 60 degC from memory */
    {"water", DREGS_VISCOSITY, 20.0, 1.0016e-3, 1e-3, "IAPWS R12-08"},
    {"water", DREGS_VISCOSITY, 25.0, 0.8900e-3, 1e-3, "IAPWS R12-08, from memory"},
    {"water", DREGS_VISCOSITY, 60.0, 0.4664e-3, 2e-3, "IAPWS R12-08, from memory"},
    {"water", DREGS_SURFACE_TENSION, 20.0, 72.75e-3, 2e-3, "IAPWS R1-76"},
    /* The rest are handbook values from memory, mostly of the CRC Handbook: they catch a slip of
     * a coefficient or a unit, which is why they may be coarse. */
    {"isopropanol", DREGS_DENSITY, 20.0, 785.0, 3e-3, "CRC, from memory"},
    {"isopropanol", DREGS_VISCOSITY, 25.0, 2.04e-3, 2e-2, "CRC, from memory"},
    {"isopropanol", DREGS_SURFACE_TENSION, 25.0, 20.93e-3, 5e-3, "CRC, from memory"},
    {"ethanol", DREGS_DENSITY, 20.0, 789.3, 3e-3, "CRC, from memory"},
    {"ethanol", DREGS_VISCOSITY, 25.0, 1.074e-3, 1e-2, "CRC, from memory"},
    {"methanol", DREGS_DENSITY, 20.0, 791.4, 5e-3, "CRC, from memory"},
    {"methanol", DREGS_VISCOSITY, 25.0, 0.544e-3, 2e-2, "CRC, from memory"},
    {"acetone", DREGS_DENSITY, 20.0, 790.0, 5e-3, "CRC, from memory"},
    {"acetone", DREGS_VISCOSITY, 25.0, 0.306e-3, 1e-2, "CRC, from memory"},
    {"butanone", DREGS_DENSITY, 20.0, 805.4, 3e-3, "CRC, from memory"},
    {"butanone", DREGS_VISCOSITY, 25.0, 0.405e-3, 4e-2, "CRC, from memory"},
    {"n-hexane", DREGS_DENSITY, 25.0, 654.8, 3e-3, "CRC, from memory"},
    {"n-hexane", DREGS_VISCOSITY, 25.0, 0.300e-3, 3e-2, "CRC, from memory"},
    {"n-heptane", DREGS_DENSITY, 25.0, 679.5, 5e-3, "CRC, from memory"},
    {"n-heptane", DREGS_VISCOSITY, 25.0, 0.387e-3, 1e-2, "CRC, from memory"},
    {"cyclohexane", DREGS_DENSITY, 25.0, 773.9, 3e-3, "CRC, from memory"},
    {"cyclohexane", DREGS_VISCOSITY, 25.0, 0.894e-3, 1e-2, "CRC, from memory"},
    {"toluene", DREGS_DENSITY, 20.0, 866.9, 5e-3, "CRC, from memory"},
    {"toluene", DREGS_VISCOSITY, 25.0, 0.560e-3, 2e-2, "CRC, from memory"},
    {"toluene", DREGS_VAPOUR_PRESSURE, 25.0, 3790.0, 1e-2, "CRC, from memory"},
    {"ethyl acetate", DREGS_DENSITY, 20.0, 900.3, 3e-3, "CRC, from memory"},
    {"ethyl acetate", DREGS_VISCOSITY, 25.0, 0.423e-3, 3e-2, "CRC, from memory"},
    {"n-butyl acetate", DREGS_DENSITY, 20.0, 882.5, 3e-3, "CRC, from memory"},
    {"n-butyl acetate", DREGS_VISCOSITY, 25.0, 0.685e-3, 2e-2, "CRC, from memory"},
    {"n-butyl acetate", DREGS_VAPOUR_PRESSURE, 25.0, 1530.0, 4e-2, "handbooks, from memory"},
    {"d-limonene", DREGS_DENSITY, 20.0, 841.1, 1e-3, "CRC 95th ed."},
    {"trichloroethylene", DREGS_DENSITY, 20.0, 1464.2, 3e-3, "CRC, from memory"},
    {"trichloroethylene", DREGS_VISCOSITY, 25.0, 0.545e-3, 1e-2, "CRC, from memory"},
    {"tetrachloroethylene", DREGS_DENSITY, 20.0, 1623.0, 3e-3, "CRC, from memory"},
    {"tetrachloroethylene", DREGS_VISCOSITY, 25.0, 0.844e-3, 1e-2, "CRC, from memory"},
    {"tetrachloroethylene", DREGS_VAPOUR_PRESSURE, 25.0, 2420.0, 4e-2, "CRC, from memory"},
    {"dichloromethane", DREGS_DENSITY, 20.0, 1326.6, 3e-3, "CRC, from memory"},
    {"dichloromethane", DREGS_VISCOSITY, 25.0, 0.413e-3, 1e-2, "CRC, from memory"},
    {"dichloromethane", DREGS_VAPOUR_PRESSURE, 25.0, 58200.0, 1e-2, "CRC, from memory"},
    {"1-bromopropane", DREGS_DENSITY, 20.0, 1353.7, 1e-3, "CRC 95th ed."},
    {"1-bromopropane", DREGS_VISCOSITY, 25.0, 0.489e-3, 1e-2, "CRC, from memory"},
    {"trans-1,2-dichloroethylene", DREGS_DENSITY, 40.0, 1218.4, 1e-3, "Huber et al. 2025"},
    {"trans-1,2-dichloroethylene", DREGS_SURFACE_TENSION, 20.0, 28.3e-3, 2e-2,
     "handbooks, from memory"},
    /* heats of vaporisation: the steam tables; the rest CRC Handbook kJ/mol over the molar mass */
    {"water", DREGS_HEAT_OF_VAPORISATION, 25.0, 2441.7e3, 3e-3, "steam tables, from memory"},
    {"water", DREGS_HEAT_OF_VAPORISATION, 100.0, 2256.5e3, 3e-3, "steam tables, from memory"},
    {"isopropanol", DREGS_HEAT_OF_VAPORISATION, 25.0, 45.39e6 / 60.096, 1.5e-2, "CRC, memory"},
    {"ethanol", DREGS_HEAT_OF_VAPORISATION, 25.0, 42.32e6 / 46.069, 1.5e-2, "CRC, memory"},
    {"methanol", DREGS_HEAT_OF_VAPORISATION, 25.0, 37.43e6 / 32.042, 1.5e-2, "CRC, memory"},
    {"acetone", DREGS_HEAT_OF_VAPORISATION, 25.0, 30.99e6 / 58.080, 1.5e-2, "CRC, memory"},
    {"butanone", DREGS_HEAT_OF_VAPORISATION, 25.0, 34.79e6 / 72.107, 1.5e-2, "CRC, memory"},
    {"n-hexane", DREGS_HEAT_OF_VAPORISATION, 25.0, 31.56e6 / 86.178, 1e-2, "CRC, memory"},
    {"n-heptane", DREGS_HEAT_OF_VAPORISATION, 25.0, 36.57e6 / 100.20, 1e-2, "CRC, memory"},
    {"cyclohexane", DREGS_HEAT_OF_VAPORISATION, 25.0, 33.01e6 / 84.162, 1e-2, "CRC, memory"},
    {"toluene", DREGS_HEAT_OF_VAPORISATION, 25.0, 38.01e6 / 92.141, 1e-2, "CRC, memory"},
    {"ethyl acetate", DREGS_HEAT_OF_VAPORISATION, 25.0, 35.60e6 / 88.106, 1e-2, "CRC, memory"},
    {"n-butyl acetate", DREGS_HEAT_OF_VAPORISATION, 25.0, 43.86e6 / 116.16, 1e-2, "CRC, memory"},
    {"dichloromethane", DREGS_HEAT_OF_VAPORISATION, 25.0, 28.82e6 / 84.927, 2e-2, "CRC, memory"},
    {"trichloroethylene", DREGS_HEAT_OF_VAPORISATION, 25.0, 34.54e6 / 131.38, 2e-2, "CRC, memory"},
    {"tetrachloroethylene", DREGS_HEAT_OF_VAPORISATION, 25.0, 39.68e6 / 165.82, 1e-2,
     "CRC, memory"},
    /* CRC Handbook, 95th ed., enthalpy of vaporisation at the boiling point: 29.84 kJ/mol */
    {"1-bromopropane", DREGS_HEAT_OF_VAPORISATION, 70.8, 29.84e6 / 122.99, 1.5e-2, "CRC 95th ed."},
    /* heat capacities at 25 degC, J/(mol.K) over the molar mass */
    {"water", DREGS_HEAT_CAPACITY, 25.0, 4181.5, 2e-3, "steam tables, from memory"},
    {"isopropanol", DREGS_HEAT_CAPACITY, 25.0, 156.5e3 / 60.096, 1e-2, "CRC, memory"},
    {"ethanol", DREGS_HEAT_CAPACITY, 25.0, 112.3e3 / 46.069, 1e-2, "CRC, memory"},
    {"methanol", DREGS_HEAT_CAPACITY, 25.0, 81.1e3 / 32.042, 1e-2, "CRC, memory"},
    {"acetone", DREGS_HEAT_CAPACITY, 25.0, 126.3e3 / 58.080, 1e-2, "CRC, memory"},
    {"butanone", DREGS_HEAT_CAPACITY, 25.0, 158.7e3 / 72.107, 1e-2, "CRC, memory"},
    {"n-hexane", DREGS_HEAT_CAPACITY, 25.0, 195.6e3 / 86.178, 1e-2, "CRC, memory"},
    {"n-heptane", DREGS_HEAT_CAPACITY, 25.0, 224.7e3 / 100.20, 1e-2, "CRC, memory"},
    {"cyclohexane", DREGS_HEAT_CAPACITY, 25.0, 154.9e3 / 84.162, 1e-2, "CRC, memory"},
    {"toluene", DREGS_HEAT_CAPACITY, 25.0, 157.3e3 / 92.141, 1e-2, "CRC, memory"},
    {"ethyl acetate", DREGS_HEAT_CAPACITY, 25.0, 170.7e3 / 88.106, 1e-2, "CRC, memory"},
    {"n-butyl acetate", DREGS_HEAT_CAPACITY, 25.0, 227.8e3 / 116.16, 1e-2, "CRC, memory"},
    {"dichloromethane", DREGS_HEAT_CAPACITY, 25.0, 101.2e3 / 84.927, 1e-2, "CRC, memory"},
    {"trichloroethylene", DREGS_HEAT_CAPACITY, 25.0, 124.4e3 / 131.38, 1e-3, "CRC 95th ed."},
    /* measured diffusivities: Fuller's method is good to about 5 %, some of these not better */
    /* handbooks print 1.55 and 1.98 mmHg, 207 and 264 Pa; the lower one is in agreement with the
     * heat of vaporisation */
    {"d-limonene", DREGS_VAPOUR_PRESSURE, 25.0, 207.0, 5e-2, "handbooks"},
    {"water", DREGS_THERMAL_CONDUCTIVITY, 25.0, 0.6065, 5e-3, "IAPWS R15-11, from memory"},
    {"toluene", DREGS_THERMAL_CONDUCTIVITY, 25.0, 0.1310, 3e-2, "CRC, from memory"},
    {"ethanol", DREGS_THERMAL_CONDUCTIVITY, 25.0, 0.169, 3e-2, "CRC, from memory"},
    {"trichloroethylene", DREGS_THERMAL_CONDUCTIVITY, 25.0, 0.1160, 5e-2, "CRC, from memory"},
    {"water", DREGS_DIFFUSIVITY, 20.0, 25.0e-6, 5e-2, "Geankoplis, example 6.2-2"},
    {"ethanol", DREGS_DIFFUSIVITY, 0.0, 10.2e-6, 5e-2, "Treybal, table 2.1"},
    {"toluene", DREGS_DIFFUSIVITY, 45.0, 9.2e-6, 5e-2, "Treybal, illus. 7.10"},
    {"cyclohexane", DREGS_DIFFUSIVITY, 15.0, 7.19e-6, 8e-2, "Perry, diffusivities of gases"},
    {"cyclohexane", DREGS_DIFFUSIVITY, 45.0, 8.60e-6, 8e-2, "Perry, diffusivities of gases"},
    {"ethyl acetate", DREGS_DIFFUSIVITY, 30.0, 8.9e-6, 5e-2, "Perry, diffusivities of gases"},
    {"n-butyl acetate", DREGS_DIFFUSIVITY, 0.0, 5.8e-6, 8e-2, "Perry, diffusivities of gases"},
    {"isopropanol", DREGS_DIFFUSIVITY, 25.0, 10.13e-6, 5e-2, "Lugg 1968, from memory"},
    {"methanol", DREGS_DIFFUSIVITY, 25.0, 15.2e-6, 6e-2, "Lugg 1968, from memory"},
    {"acetone", DREGS_DIFFUSIVITY, 25.0, 10.49e-6, 5e-2, "Lugg 1968, from memory"},
    {"butanone", DREGS_DIFFUSIVITY, 25.0, 9.03e-6, 5e-2, "Lugg 1968, from memory"},
    {"n-hexane", DREGS_DIFFUSIVITY, 25.0, 7.32e-6, 8e-2, "Lugg 1968, from memory"},
    {"dichloromethane", DREGS_DIFFUSIVITY, 25.0, 10.37e-6, 8e-2, "Lugg 1968, from memory"},
    {"trichloroethylene", DREGS_DIFFUSIVITY, 25.0, 8.75e-6, 8e-2, "Lugg 1968, from memory"},
    {"tetrachloroethylene", DREGS_DIFFUSIVITY, 25.0, 7.97e-6, 8e-2, "Lugg 1968, from memory"},
};

START_TEST(values_are_the_published_ones)
{
    double got =
        value(published[_i].liquid, published[_i].property, published[_i].celsius + 273.15);
    double accuracy = 0;

    ck_assert_near(got, published[_i].expected, published[_i].tolerance, "%s of %s at %g degC, %s",
                   dregs_property_name(published[_i].property), published[_i].liquid,
                   published[_i].celsius, published[_i].source);
    /* and within what the row says of itself */
    ck_assert_int_eq(dregs_liquids_accuracy(table, published[_i].liquid, published[_i].property,
                                            published[_i].celsius + 273.15, &accuracy, NULL),
                     DREGS_OK);
    ck_assert_near(got, published[_i].expected, accuracy, "%s of %s at %g degC, as it states",
                   dregs_property_name(published[_i].property), published[_i].liquid,
                   published[_i].celsius);
}
END_TEST

/* Check D10. Boiling points of the CRC Handbook, 95th ed.; 101.325 kPa within 1 %. Not covered:
 * tetrachloroethylene (range kept to 373.15 K). */
START_TEST(vapour_pressure_at_the_boiling_point)
{
    const char *name;
    unsigned covered = 0, all = 0;

    for (; (name = dregs_liquids_name(table, all)) != NULL; all++) {
        double boiling = value(name, DREGS_BOILING_POINT, NAN), pressure;
        dregs_status status =
            dregs_liquids_value(table, name, DREGS_VAPOUR_PRESSURE, boiling, &pressure, NULL);
        if (strcmp(name, "tetrachloroethylene") == 0) {
            ck_assert_int_eq(status, DREGS_OUT_OF_RANGE);
            continue;
        }
        ck_assert_msg(status == DREGS_OK, "%s: status %d", name, (int)status);
        ck_assert_near(pressure, 101325.0, 0.01, "%s at its boiling point", name);
        covered++;
    }
    ck_assert_uint_eq(all, 18);
    ck_assert_uint_eq(covered, 17);
}
END_TEST

/* Check D11. At the closed-cup flash point the vapour is near its lower limit: 0.95 to 1.5 of it
 * for these ten (flash points and limits: NFPA 497, IEC 60079-20-1). Cyclohexane is left out: it
 * flashes below its freezing point, where no row for the liquid reaches. n-hexane is judged with
 * the limit of NFPA 497, whose flash point the table has: with the 1.0 % of IEC 60079-20-1, which
 * the table has as the lower of the two, the ratio would be 1.52. */
START_TEST(flash_points_fit_the_flammable_limits)
{
    static const char *const ten[] = {"isopropanol",   "ethanol",        "methanol",  "acetone",
                                      "butanone",      "n-hexane",       "n-heptane", "toluene",
                                      "ethyl acetate", "n-butyl acetate"};
    double flash, ratio;
    size_t i;

    for (i = 0; i < sizeof ten / sizeof ten[0]; i++) {
        flash = value(ten[i], DREGS_FLASH_POINT, NAN);
        ratio = value(ten[i], DREGS_VAPOUR_PRESSURE, flash) / 101325.0 /
                (strcmp(ten[i], "n-hexane") == 0 ? 0.011 : value(ten[i], DREGS_LOWER_LIMIT, NAN));
        ck_assert_msg(ratio > 0.95 && ratio < 1.5, "%s: %g", ten[i], ratio);
    }
}
END_TEST

/* IUPAC atomic weights; NFPA 497 and IEC 60079-20-1; NIOSH Pocket Guide; 29 CFR 1910.1000 */
START_TEST(constants_are_in_si)
{
    ck_assert_near(value("water", DREGS_MOLAR_MASS, NAN), 0.018015, 1e-12, "molar mass");
    ck_assert_near(value("water", DREGS_BOILING_POINT, -3.0), 373.12, 1e-12, "boiling point");
    ck_assert_near(value("ethanol", DREGS_FLASH_POINT, 0.0), 285.15, 1e-12, "flash point");
    ck_assert_near(value("isopropanol", DREGS_FLASH_POINT, 0.0), (53 + 459.67) / 1.8, 1e-12,
                   "flash point in degF");
    ck_assert_near(value("n-heptane", DREGS_LOWER_LIMIT, 0.0), 0.0085, 1e-12, "lower limit");
    ck_assert_near(value("acetone", DREGS_UPPER_LIMIT, 0.0), 0.143, 1e-12, "upper limit");
    ck_assert_near(value("toluene", DREGS_AUTOIGNITION, 0.0), 753.15, 1e-12, "autoignition");
    ck_assert_near(value("toluene", DREGS_EXPOSURE_LIMIT, 0.0), 200e-6, 1e-12, "exposure limit");
}
END_TEST

/* The forms no built-in row uses, with published coefficients. Water after McGarry 1983 against
 * ASHRAE 2017 table 3; the straight lines are arithmetic. */
START_TEST(equations_without_a_builtin_row)
{
    ck_assert_int_eq(
        add("liquid,property,equation,unit,A,B,C,D,F,G,low,high,source\n"
            "water,vapour pressure,ln(y/G) = F/T*(A*x+B*x^1.5+C*x^3+D*x^6) where x = 1-T/F,Pa,"
            "-7.76451,1.45838,-2.7758,-1.23303,647.35,22122300,275,647,McGarry 1983\n"
            "water,density,y=A-B*t,g/L,1005,0.25,,,,,280,300,invented\n"
            "water,surface tension,y=A-B*T,dyn/cm,119.8945,0.16,,,,,280,300,invented\n",
            NULL),
        DREGS_OK);
    ck_assert_near(value("water", DREGS_VAPOUR_PRESSURE, 323.15), 12351.3, 2e-3, "Wagner 3-6");
    ck_assert_near(value("water", DREGS_DENSITY, 295.65), 1005 - 0.25 * 22.5, 1e-12, "line");
    ck_assert_near(value("water", DREGS_SURFACE_TENSION, 290.65), 0.0733905, 1e-12, "line in K");
}
END_TEST

/* Check D02: n-butanol at 273 and 298.9 K with the increments of Fuller 1966 (C 16.5, H 1.98, O
 * 5.48, air 20.1), Geankoplis, Transport Processes, example 6.2-5. The built-in rows have the
 * increments of 1969, so this is a user's own. */
START_TEST(diffusivity_of_a_worked_example)
{
    ck_assert_int_eq(add("liquid,property,equation,unit,A,B,C,D,E,low,high,source\n"
                         "n-butanol,diffusivity in air,"
                         "y=A*T^1.75*(1/B+1/D)^0.5/(C^(1/3)+E^(1/3))^2,cm2/s,1e-3,74.1,91.28,29,"
                         "20.1,250,450,Geankoplis\n",
                         NULL),
                     DREGS_OK);
    ck_assert_near(value("n-butanol", DREGS_DIFFUSIVITY, 273.0), 7.701e-6, 1e-3, "D02");
    ck_assert_near(value("n-butanol", DREGS_DIFFUSIVITY, 298.9), 9.025e-6, 1e-3, "D02");
}
END_TEST

/* ---- consistency ---- */

/* How far two tables differ at most over 21 temperatures of their common range within 273.15 to
 * 363.15 K. */
static double disagreement(const dregs_liquids *other, const dregs_liquid_row *row)
{
    const dregs_liquid_row *own = dregs_liquids_row(table, row->liquid, row->property);
    double low = fmax(fmax(own->low, row->low), 273.15);
    double high = fmin(fmin(own->high, row->high), 363.15), most = 0;
    int i;

    for (i = 0; i <= 20; i++) {
        double T = low + (high - low) * i / 20.0, theirs = NAN;
        ck_assert_int_eq(dregs_liquids_value(other, row->liquid, row->property, T, &theirs, NULL),
                         DREGS_OK);
        most = fmax(most, fabs(theirs / value(row->liquid, row->property, T) - 1.0));
    }
    return most;
}

/* The first number in "allowed 1.5 %: ...". */
static double allowed(const char *note)
{
    char text[16] = "";
    double percent = NAN;

    ck_assert_int_eq(sscanf(note, "allowed %15[0-9.] %%", text), 1);
    ck_assert_int_eq(dregs_number_read(text, &percent), DREGS_OK);
    return percent / 100.0;
}

/* tests/second-opinions.csv: a second correlation, of other authors, for each property that has
 * one. It is read over a copy of the built-in table; its rows are those that have a file. */
START_TEST(second_correlations_agree)
{
    static char bytes[65536];
    dregs_liquids *other = dregs_liquids_new();
    const char *folder = getenv("DREGS_SOURCE"), *name;
    char path[1024];
    size_t length, i, compared = 0;
    FILE *file;
    int p;

    snprintf(path, sizeof path, "%s/tests/second-opinions.csv", folder ? folder : ".");
    file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "no %s", path);
    length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    ck_assert_int_eq(dregs_liquids_add(other, "second", bytes, length, NULL), DREGS_OK);
    for (i = 0; (name = dregs_liquids_name(other, i)) != NULL; i++)
        for (p = 0; p < DREGS_PROPERTIES; p++) {
            const dregs_liquid_row *row = dregs_liquids_row(other, name, (dregs_property)p);
            double most;
            if (!row || !row->file)
                continue;
            ck_assert_str_ne(row->source,
                             dregs_liquids_row(table, name, (dregs_property)p)->source);
            most = disagreement(other, row);
            ck_assert_msg(most <= allowed(row->note), "%s of %s: %.3g %%, %s",
                          dregs_property_name((dregs_property)p), name, most * 100, row->note);
            compared++;
        }
    ck_assert_uint_eq(compared, 64);
    dregs_liquids_free(other);
}
END_TEST

/* Clapeyron's equation with an ideal vapour and the liquid's volume left out: L M = R T^2 d ln p /
 * dT, good to 5 % at pressures this low. */
START_TEST(heat_of_vaporisation_fits_the_vapour_pressure)
{
    static const double at[] = {298.15, 323.15};
    const char *name;
    size_t i, k, compared = 0;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++)
        for (k = 0; k < 2; k++) {
            double T = at[k], slope, molar;
            if (T > value(name, DREGS_BOILING_POINT, NAN))
                continue;
            slope = log(value(name, DREGS_VAPOUR_PRESSURE, T + 0.5) /
                        value(name, DREGS_VAPOUR_PRESSURE, T - 0.5));
            molar = value(name, DREGS_HEAT_OF_VAPORISATION, T) * value(name, DREGS_MOLAR_MASS, NAN);
            ck_assert_near(molar, 8.31446261815324 * T * T * slope, 0.05, "%s at %g K", name, T);
            compared++;
        }
    ck_assert_uint_eq(compared, 34);
}
END_TEST

/* 29 CFR 1910.1000 table Z-1, from memory */
/* ThOD by hand, atoms of oxygen times 15.999 over the mass of the formula:
 * glycine C2H5NO2 2 x 2 + (5 - 3) / 2 - 2 = 3 on 75.067 (1.5 O2 in its published equation to CO2
 * and NH3), glucose C6H12O6 12 + 6 - 6 = 12 on 180.156, phenol C6H6O 12 + 3 - 1 = 14 on 94.113;
 * tetrachloroethylene C2Cl4 4 - 2 = 2 on 165.822; salts nothing: NaCl 1/2 - 1/2, Na2CO3 1 + 2 - 3.
 */
START_TEST(oxygen_demand_of_formulas)
{
    static const struct {
        const char *formula;
        double atoms, mass;
    } good[] = {{"C2H5NO2", 3, 75.067}, {"C6H12O6", 12, 180.156}, {"C6H6O", 14, 94.113},
                {"C2Cl4", 2, 165.822},  {"CH3COOH", 4, 60.052},   {"NaCl", 0, 58.44},
                {"Na2CO3", 0, 105.988}, {"K3PO4", 0, 212.264},    {"C12H25SO4Na", 36, 288.378}};
    double demand = -1;
    size_t i;

    for (i = 0; i < sizeof good / sizeof good[0]; i++) {
        ck_assert_int_eq(dregs_liquid_oxygen_demand(good[i].formula, &demand), DREGS_OK);
        ck_assert_near(demand, good[i].atoms * 15.999 / good[i].mass, 1e-6, "%s", good[i].formula);
    }
    demand = -1;
    ck_assert_int_eq(dregs_liquid_oxygen_demand("", &demand), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("2C", &demand), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("C0", &demand), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("C(CH3)4", &demand), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("C99999999999", &demand), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("Cr2O3", &demand), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_liquid_oxygen_demand("HNO3", &demand), DREGS_OUT_OF_RANGE);
    ck_assert_double_eq(demand, -1);
}
END_TEST

START_TEST(exposure_limits_from_memory_say_so)
{
    ck_assert_near(value("n-butyl acetate", DREGS_EXPOSURE_LIMIT, NAN), 150e-6, 1e-12, "Z-1");
    ck_assert_near(value("trans-1,2-dichloroethylene", DREGS_EXPOSURE_LIMIT, NAN), 200e-6, 1e-12,
                   "Z-1");
    ck_assert_str_eq(dregs_liquids_row(table, "n-butyl acetate", DREGS_EXPOSURE_LIMIT)->evidence,
                     "memory");
}
END_TEST

/* ---- regulations ---- */

/* The code says what the words say, and belongs to the act cited. */
static int code_fits(const dregs_regulation *r)
{
    static const struct {
        const char *code, *citation, *words;
    } known[] = {{"VOC", "51.100(s)", "VOC: not among"},
                 {"exempt", "51.100(s)", "exempt from the definition"},
                 {"HAP", "112(b)", "hazardous air pollutant"},
                 {"no HAP", "112(b)", "not a hazardous air pollutant"},
                 {"no HAP", "112(b)", "taken off the list"},
                 {"F001", "261.31", "hazardous waste F001"},
                 {"F003", "261.31", "hazardous waste F003"},
                 {"F005", "261.31", "hazardous waste F005"},
                 {"no F-code", "261.31", "not among the solvents of F001"},
                 {"subpart T", "subpart T", "halogenated solvent cleaning machines"},
                 {"art. 59(5)", "59(5)", "classified H3"},
                 {"prohibited", "part 751", "prohibited"},
                 {"restricted", "part 751", "under a workplace protection program"},
                 {"proposed", "(proposed)", "proposed"},
                 {"authorisation", "annex XIV", "only with an authorisation"},
                 {"other use", "annex XVII", "paint strippers"},
                 {"8 h limit", "part 751", "limit of the existing chemical exposure"},
                 {"8 h recommended", "NIOSH", "recommended exposure limit"},
                 {"8 h recommended", "threshold limit", "recommended by"}};
    int negated = strncmp(r->fact, "not ", 4) == 0 || strncmp(r->fact, "taken off", 9) == 0;
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strcmp(known[i].code, r->code) == 0 && strstr(r->citation, known[i].citation) &&
            strstr(r->fact, known[i].words))
            return negated == (strncmp(r->code, "no ", 3) == 0);
    return !*r->code && !strstr(r->citation, "51.100(s)") && !strstr(r->citation, "112(b)") &&
           !strstr(r->citation, "261.31");
}

START_TEST(regulations_say_where_they_are_from)
{
    dregs_regulations *regulations = dregs_regulations_new();
    const dregs_regulation *r;
    size_t i;

    ck_assert_ptr_nonnull(regulations);
    for (i = 0; (r = dregs_regulations_at(regulations, i)) != NULL; i++) {
        ck_assert_msg(dregs_liquids_has(table, r->liquid), "%s", r->liquid);
        ck_assert(strcmp(r->jurisdiction, "US") == 0 || strcmp(r->jurisdiction, "EU") == 0);
        ck_assert(strlen(r->fact) > 10 && strlen(r->citation) > 8);
        ck_assert(strspn(r->status_date, "0123456789-") == strlen(r->status_date));
        ck_assert(strlen(r->status_date) == 4 || strlen(r->status_date) == 10);
        ck_assert(strcmp(r->evidence, "read") == 0 || strcmp(r->evidence, "memory") == 0);
        ck_assert_msg(strstr(r->fact, "check the current text") != NULL, "%s", r->fact);
        ck_assert_msg(code_fits(r), "%s, %s: code '%s'", r->liquid, r->citation, r->code);
        ck_assert_uint_eq(r->line, i + 2);
        ck_assert(isnan(r->value) || strncmp(r->code, "8 h ", 4) == 0);
        if (*r->noted)
            ck_assert(strlen(r->noted) == 10 && strcmp(r->evidence, "read") == 0);
    }
    ck_assert_uint_gt(i, 50);
    ck_assert_ptr_nonnull(strstr(dregs_regulations_deference(), "the authority decide"));
    dregs_regulations_free(regulations);
    dregs_regulations_free(NULL);
}
END_TEST

START_TEST(regulations_are_found_by_citation)
{
    dregs_regulations *regulations = dregs_regulations_new();

    ck_assert_str_eq(dregs_regulations_find(regulations, "acetone", "51.100(s)")->code, "exempt");
    ck_assert_str_eq(dregs_regulations_find(regulations, "toluene", "261.31")->code, "F005");
    ck_assert_str_eq(dregs_regulations_find(regulations, "1-bromopropane", "112(b)")->code, "HAP");
    ck_assert_str_eq(dregs_regulations_find(regulations, "trichloroethylene", "59(5)")->code,
                     "art. 59(5)");
    ck_assert_ptr_null(dregs_regulations_find(regulations, "d-limonene", "261.31"));
    ck_assert_ptr_null(dregs_regulations_find(regulations, "water", "51.100(s)"));
    ck_assert_ptr_null(dregs_regulations_find(regulations, "acetone", "part 751"));
    ck_assert_str_eq(dregs_regulations_find(regulations, "dichloromethane", "part 751")->code,
                     "prohibited");
    dregs_regulations_free(regulations);
}
END_TEST

/* Every liquid but water is judged in two lists: volatile organic compounds, air pollutants. */
START_TEST(regulations_cover_every_liquid)
{
    dregs_regulations *regulations = dregs_regulations_new();
    const dregs_regulation *r;
    const char *name;
    size_t i, k;

    for (k = 1; (name = dregs_liquids_name(table, k)) != NULL; k++) {
        int voc = 0, pollutant = 0;
        for (i = 0; (r = dregs_regulations_at(regulations, i)) != NULL; i++)
            if (strcmp(r->liquid, name) == 0) {
                voc += strstr(r->citation, "51.100(s)") != NULL;
                pollutant += strstr(r->citation, "112(b)") != NULL;
            }
        ck_assert_msg(voc == 1 && pollutant == 1, "%s: %d, %d", name, voc, pollutant);
    }
    dregs_regulations_free(regulations);
}
END_TEST

/* ---- refusals ---- */

START_TEST(outside_the_range_is_refused)
{
    double got = 7.0;
    char message[DREGS_LIQUID_MESSAGE];

    ck_assert_int_eq(
        dregs_liquids_value(table, "isopropanol", DREGS_VAPOUR_PRESSURE, 221.2, &got, message),
        DREGS_OUT_OF_RANGE);
    ck_assert_str_eq(message, "vapour pressure of 'isopropanol' at -51.95 degC: its data reach "
                              "from 8.13 to 100.31 degC, carried on to -51.87 and 100.31 degC");
    ck_assert_int_eq(
        dregs_liquids_value(table, "isopropanol", DREGS_VAPOUR_PRESSURE, 373.47, &got, NULL),
        DREGS_OUT_OF_RANGE);
    /* rounding at the ends does not count: 1e-9 of the temperature is let pass */
    ck_assert_int_eq(dregs_liquids_value(table, "isopropanol", DREGS_VAPOUR_PRESSURE,
                                         281.28 * (1 - 5e-10), &got, NULL),
                     DREGS_OK);
    got = 7.0;
    ck_assert_int_eq(dregs_liquids_value(table, "isopropanol", DREGS_VAPOUR_PRESSURE,
                                         373.46 * (1 + 2e-9), &got, NULL),
                     DREGS_OUT_OF_RANGE);
    ck_assert(got == 7.0);
    /* at the critical point itself, a hair above, Rackett's form would have no real value */
    ck_assert_int_eq(
        dregs_liquids_value(table, "toluene", DREGS_DENSITY, 591.75 * (1 + 5e-10), &got, message),
        DREGS_OK);
}
END_TEST

START_TEST(temperatures_that_are_none)
{
    static const double bad[] = {0.0, -1.0, (double)NAN, (double)INFINITY, (double)-INFINITY};
    double got = 7.0;

    ck_assert_int_eq(dregs_liquids_value(table, "water", DREGS_DENSITY, bad[_i], &got, NULL),
                     DREGS_DOMAIN);
    ck_assert(got == 7.0);
}
END_TEST

START_TEST(unknown_names)
{
    double got = 7.0;
    char message[DREGS_LIQUID_MESSAGE];

    ck_assert_int_eq(dregs_liquids_value(table, "isopropanl", DREGS_DENSITY, 298.15, &got, message),
                     DREGS_UNKNOWN);
    ck_assert_str_eq(message, "unknown liquid 'isopropanl' (nearest: 'isopropanol')");
    ck_assert_int_eq(dregs_liquids_value(table, "water", DREGS_FLASH_POINT, 298.15, &got, message),
                     DREGS_UNKNOWN);
    ck_assert_str_eq(message, "no flash point of 'water' in the liquid table");
    ck_assert_int_eq(dregs_liquids_value(table, "water", DREGS_PROPERTIES, 298.15, &got, message),
                     DREGS_UNKNOWN);
    ck_assert(got == 7.0);
    ck_assert_str_eq(dregs_liquids_nearest(table, "Toluen"), "toluene");
    ck_assert_ptr_null(dregs_liquids_nearest(table, "quartz sand"));
    ck_assert(dregs_liquids_has(table, "water"));
    ck_assert(!dregs_liquids_has(table, "waters"));
    ck_assert_ptr_null(dregs_liquids_row(table, "water", DREGS_FLASH_POINT));
    ck_assert_ptr_null(dregs_liquids_row(table, "air", DREGS_DENSITY));
    ck_assert_ptr_null(dregs_property_name(DREGS_PROPERTIES));
    ck_assert_ptr_null(dregs_property_unit(DREGS_PROPERTIES));
}
END_TEST

/* Coefficients may be anything; the value is refused, and the arithmetic stays defined. */
START_TEST(senseless_equations_are_refused)
{
    static const char *const rows[] = {
        "own,vapour pressure,ln(y)=A-B/(T+C),Pa,1e308,-1e308,,,,,,1,1e4,x\n",
        "own,vapour pressure,log10(y)=A-B/(T+C),Pa,1,1,-300,,,,,1,1e4,x\n",
        "own,vapour pressure,ln(y)=A+B/T+C*ln(T)+D*T^E,Pa,1,1,1,1e300,1e300,,,1,1e4,x\n",
        "own,vapour pressure,y=A-B*t,Pa,-1,0,,,,,,1,1e4,x\n",
        "own,vapour pressure,y=A/B^(1+(1-T/C)^D),Pa,1,0.3,200,0.3,,,,1,1e4,x\n",
        "own,vapour pressure,y=A*x^B+C*x^D+E*x^F where x=1-T/G,Pa,1,0.5,,,,,100,1,1e4,x\n",
        "own,vapour pressure,y=E*exp(A*z^(1/3)+B*z^(4/3)) where z=(C-T)/(T-D),Pa,1,1,1,300,1,,,"
        "1,1e4,x\n",
        "own,vapour pressure,y=(t+A)/((B*t+C)*t+D),Pa,1,0,0,0,,,,1,1e4,x\n",
        "own,vapour pressure,y=A*(1-T/F)^(B+C*(T/F)+D*(T/F)^2),Pa,1,0.3,,,,200,,1,1e4,x\n",
        "own,vapour pressure,y=G*(A*x^(1/3)+B*x^(2/3)+C*x+D*x^2+E*x^6) where x=1-T/F,Pa,1,0,0,0,0,"
        "200,1,1,1e4,x\n",
        "own,vapour pressure,y=A*((1-T/C)/(1-B/C))^D,Pa,1,300,300,0.38,,,,1,1e4,x\n",
        "own,vapour pressure,y=A+B*T+C*T^2+D*T^3+E*T^4,Pa,1,-1,,,,,,1,1e4,x\n",
        "own,vapour pressure,y=A^2/x+B-2*A*C*x-A*D*x^2-C^2*x^3/3-C*D*x^4/2-D^2*x^5/5 where x=1-T/F,"
        "Pa,1,1,1,1,,300,,1,1e4,x\n",
        "own,vapour pressure,y=A*T^1.75*(1/B+1/D)^0.5/(C^(1/3)+E^(1/3))^2,Pa,1,-1,1,10,1,,,1,1e4,x"
        "\n",
    };
    char text[400];
    double got = 7.0;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        snprintf(text, sizeof text,
                 "liquid,property,equation,unit,A,B,C,D,E,F,G,low,high,source\n%s", rows[i]);
        ck_assert_int_eq(add(text, NULL), DREGS_OK);
        ck_assert_msg(dregs_liquids_value(table, "own", DREGS_VAPOUR_PRESSURE, 300.0, &got, NULL) ==
                          DREGS_NUMERIC,
                      "%s gave %g", rows[i], got);
        ck_assert(got == 7.0);
    }
}
END_TEST

/* ---- files ---- */

START_TEST(every_builtin_row_says_where_it_is_from)
{
    const char *name;
    size_t i, rows = 0;
    int p;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++)
        for (p = 0; p < DREGS_PROPERTIES; p++) {
            const dregs_liquid_row *row = dregs_liquids_row(table, name, (dregs_property)p);
            if (!row)
                continue;
            rows++;
            ck_assert_str_eq(row->liquid, name);
            ck_assert_int_eq(row->property, p);
            ck_assert(strlen(row->source) > 5);
            ck_assert(strcmp(row->evidence, "read") == 0 || strcmp(row->evidence, "memory") == 0 ||
                      strcmp(row->evidence, "computed") == 0);
            ck_assert_ptr_null(row->file);
            ck_assert_uint_gt(row->line, 1);
            ck_assert_ptr_nonnull(row->note);
            /* a constant may have a range: heat capacities known at one temperature */
            ck_assert(strcmp(row->equation, "A") == 0 && isnan(row->low) ? isnan(row->high)
                                                                         : row->low < row->high);
        }
    ck_assert_uint_eq(i, 18);
    ck_assert_uint_gt(rows, 225);
}
END_TEST

/* dregs_liquids_new gives no reasons, so the built-in text is read once more as a file. */
START_TEST(the_builtin_text_has_no_fault)
{
    static dregs_faults faults;

    ck_assert_int_eq(dregs_liquids_add(table, "liquids.csv", (const char *)dregs_liquids_builtin,
                                       dregs_liquids_builtin_length, &faults),
                     DREGS_OK);
    ck_assert_uint_eq(faults.count, 0);
}
END_TEST

START_TEST(a_file_replaces_single_rows_and_adds_liquids)
{
    static dregs_faults faults;
    const dregs_liquid_row *before = dregs_liquids_row(table, "water", DREGS_DENSITY);
    const dregs_liquid_row *after;
    const char *source = before->source;
    double viscosity = value("water", DREGS_VISCOSITY, 300.0);

    ck_assert_int_eq(add("\xEF\xBB\xBFsource,A,unit,low,high,equation,property,liquid,note\r\n"
                         "# measured on the bench\r\n"
                         "our sheet,62.2,lb/ft3,,,A,density,water,\r\n"
                         "\r\n"
                         "label,140,degF,280,330,A,flash point,D60 naphtha,\"a, b\"",
                         &faults),
                     DREGS_OK);
    ck_assert_uint_eq(faults.count, 0);
    /* 1 lb/ft3 = 16.018463 kg/m3, NIST SP 811 (2008) B.8 */
    ck_assert_near(value("water", DREGS_DENSITY, NAN), 62.2 * 16.018463, 1e-7, "own density");
    ck_assert_near(value("D60 naphtha", DREGS_FLASH_POINT, 300.0), 333.15, 1e-12, "own liquid");
    ck_assert_near(value("water", DREGS_VISCOSITY, 300.0), viscosity, 1e-15, "the other rows");
    after = dregs_liquids_row(table, "water", DREGS_DENSITY);
    ck_assert_str_eq(after->file, "own.csv");
    ck_assert_str_eq(after->evidence, "stated");
    ck_assert_str_eq(after->source, "our sheet");
    ck_assert_str_eq(after->unit, "lb/ft3");
    ck_assert_uint_eq(after->line, 3);
    ck_assert_str_eq(dregs_liquids_name(table, 0), "water");
    ck_assert_str_eq(dregs_liquids_name(table, 18), "D60 naphtha");
    ck_assert_ptr_null(dregs_liquids_name(table, 19));
    ck_assert_ptr_nonnull(strstr(source, "Kell")); /* replaced, yet alive with the table */
    /* a constant with a range is held to it */
    ck_assert_int_eq(
        dregs_liquids_value(table, "D60 naphtha", DREGS_FLASH_POINT, 340.0, &viscosity, NULL),
        DREGS_OUT_OF_RANGE);
}
END_TEST

#define HEAD "liquid,property,equation,unit,A,B,low,high,source,evidence\n"
#define GOOD "own,density,A,kg/m3,800,,,,label,\n"

static const struct {
    const char *text;
    dregs_status status;
    unsigned long line;
    const char *words; /* that the message must hold */
} faulty[] = {
    {"", DREGS_BAD_DATA, 1, "the file is empty"},
    {"\n# nothing\n,,\n", DREGS_BAD_DATA, 1, "the file is empty"},
    {HEAD, DREGS_BAD_DATA, 1, "no row below the header"},
    {"\nliquid,property,equation,unit,source\n", DREGS_BAD_DATA, 2, "column 'A' is missing"},
    {"liquid,property,equation,unit,A,sorce,source\n", DREGS_UNKNOWN, 1,
     "unknown column 'sorce' (nearest: 'source')"},
    {"liquid,property,equation,unit,A,A,source\n", DREGS_BAD_DATA, 1, "'A' stands twice"},
    {HEAD GOOD "own,densty,A,kg/m3,800,,,,label,\n", DREGS_UNKNOWN, 3,
     "unknown property 'densty' (nearest: 'density'), allowed are: vapour pressure, density, "},
    {HEAD GOOD "own,viscosity,y=A-Bt,mPa.s,8,1,,,label,\n", DREGS_UNKNOWN, 3,
     "unknown equation 'y=A-Bt' (nearest: 'y=A-B*t'), allowed are: A; y=A-B*t; "},
    {HEAD "own,density,A,kg/m3,\"0,8\",,,,label,\n", DREGS_BAD_NUMBER, 2,
     "column A: '0,8' is not a number"},
    {HEAD "own,density,A,kg/m3,nan,,,,label,\n", DREGS_BAD_NUMBER, 2, "'nan' is not a number"},
    {HEAD "own,density,y=A-B*t,kg/m3,800,1,0x1,300,label,\n", DREGS_BAD_NUMBER, 2,
     "column low: '0x1'"},
    {HEAD "own,density,A,kg,800,,,,label,\n", DREGS_BAD_UNIT, 2,
     "'kg' is of another kind than 'kg/m3'"},
    {HEAD "own,density,A,kg/m33,800,,,,label,\n", DREGS_BAD_UNIT, 2, "column unit: "},
    {HEAD "own,flash point,A,delta_degC,12,,,,label,\n", DREGS_BAD_UNIT, 2,
     "'delta_degC' is a difference"},
    {HEAD "own,density,y=A-B*t,kg/m3,800,1,300,300,label,\n", DREGS_BAD_DATA, 2,
     "low 300 is not below high 300"},
    {HEAD "own,density,y=A-B*t,kg/m3,800,1,-5,300,label,\n", DREGS_BAD_DATA, 2,
     "column low: -5 is no temperature"},
    {HEAD "own,density,y=A-B*t,kg/m3,800,1,280,,label,\n", DREGS_BAD_DATA, 2,
     "column high is empty"},
    {HEAD "own,density,A,kg/m3,800,,,300,label,\n", DREGS_BAD_DATA, 2, "column low is empty"},
    {HEAD "own,density,y=A-B*t,kg/m3,800,,280,300,label,\n", DREGS_BAD_DATA, 2,
     "column B is empty: the equation 'y=A-B*t' needs AB"},
    {HEAD "own,density,A,kg/m3,800,1,,,label,\n", DREGS_BAD_DATA, 2,
     "column B is filled, but the equation 'A' takes A only"},
    {HEAD "own,density,A,kg/m3,-800,,,,label,\n", DREGS_BAD_DATA, 2, "is no density"},
    {HEAD "own,lower flammable limit,A,1,2,,,,label,\n", DREGS_BAD_DATA, 2, "at most at 1"},
    {HEAD "own,flash point,A,degC,-300,,,,label,\n", DREGS_BAD_DATA, 2, "above 0 K"},
    {HEAD GOOD "own,density,A,kg/m3,800\n", DREGS_BAD_DATA, 3,
     "5 cells, but the header names 10 columns"},
    {HEAD GOOD "\n" GOOD, DREGS_BAD_DATA, 4, "density of 'own' stands already in line 2"},
    {HEAD ",density,A,kg/m3,800,,,,label,\n", DREGS_BAD_DATA, 2, "column liquid is empty"},
    {HEAD "own,density,A,kg/m3,800,,,,,\n", DREGS_BAD_DATA, 2, "column source is empty"},
    {HEAD "own,density,A,kg/m3,800,,,,label,raed\n", DREGS_UNKNOWN, 2,
     "column evidence: 'raed' (nearest: 'read'), allowed are: read, memory"},
    {HEAD "own,class,A,,alcohl,,,,label,\n", DREGS_UNKNOWN, 2,
     "column A: unknown class 'alcohl' (nearest: 'alcohol'), allowed are: water, alcohol, "},
    {HEAD "own,miscibility with water,A,,1,,,,label,\n", DREGS_UNKNOWN, 2,
     "unknown miscibility with water '1', allowed are: miscible, partly miscible, immiscible"},
    {HEAD "own,class,y=A-B*t,,ester,,,,label,\n", DREGS_BAD_DATA, 2,
     "column equation: class is a word"},
    {HEAD "own,class,A,1,ester,,,,label,\n", DREGS_BAD_DATA, 2, "column unit is filled"},
    {HEAD "own,class,A,,ester,2,,,label,\n", DREGS_BAD_DATA, 2, "column B is filled"},
    {HEAD "own,class,A,,ester,,280,,label,\n", DREGS_BAD_DATA, 2, "column low is filled"},
    {HEAD "own,class,A,,ester,,,,,\n", DREGS_BAD_DATA, 2, "column source is empty"},
    {HEAD GOOD "own,\"density,A", DREGS_BAD_DATA, 3, "quote"},
    {HEAD "own\xFF,density,A,kg/m3,800,,,,label,\n", DREGS_BAD_DATA, 2, "UTF-8"},
};

START_TEST(faults_name_their_line_and_change_nothing)
{
    static dregs_faults faults;

    ck_assert_int_eq(add(faulty[_i].text, &faults), DREGS_BAD_DATA);
    ck_assert_msg(faults.count == 1, "%u faults, the first: %s", faults.count,
                  faults.fault[0].text);
    ck_assert_str_eq(faults.file, "own.csv");
    ck_assert_msg(strstr(faults.fault[0].text, faulty[_i].words) != NULL, "%s",
                  faults.fault[0].text);
    ck_assert_int_eq(faults.fault[0].status, faulty[_i].status);
    ck_assert_uint_eq(faults.fault[0].line, faulty[_i].line);
    ck_assert_int_eq(add(faulty[_i].text, NULL), DREGS_BAD_DATA);
    ck_assert(!dregs_liquids_has(table, "own"));
    ck_assert_ptr_null(dregs_liquids_name(table, 18));
}
END_TEST

START_TEST(all_faults_of_a_file_are_collected)
{
    static dregs_faults faults;
    static char text[4000];
    int i;

    ck_assert_int_eq(add(HEAD "water,density,A,kg/m3,800,,,,label,\n"
                              "water,density,A,kg/m3,x,,,,,\n"
                              "water,colour,B,kg/m3,1,,,,label,\n",
                         &faults),
                     DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, 4);
    ck_assert_uint_eq(faults.fault[0].line, 3);
    ck_assert_uint_eq(faults.fault[1].line, 3);
    ck_assert_uint_eq(faults.fault[2].line, 4);
    ck_assert_uint_eq(faults.fault[3].line, 4);
    ck_assert_near(value("water", DREGS_DENSITY, 298.15), 997.045, 5e-6, "Kell 1975, unchanged");
    strcpy(text, HEAD);
    for (i = 0; i < 25; i++)
        strcat(text, "x\n");
    ck_assert_int_eq(add(text, &faults), DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_eq(faults.more, 5);
}
END_TEST

/* What is known of each built-in liquid: its class follows from its name to a chemist; the four
 * that mix in all proportions are CRC Handbook's; the others by their solubility, from memory. */
static const struct {
    const char *liquid;
    dregs_liquid_class is;
    dregs_miscibility mixes;
} kinds[] = {
    {"water", DREGS_CLASS_WATER, DREGS_MISCIBLE},
    {"isopropanol", DREGS_CLASS_ALCOHOL, DREGS_MISCIBLE},
    {"ethanol", DREGS_CLASS_ALCOHOL, DREGS_MISCIBLE},
    {"methanol", DREGS_CLASS_ALCOHOL, DREGS_MISCIBLE},
    {"acetone", DREGS_CLASS_KETONE, DREGS_MISCIBLE},
    {"butanone", DREGS_CLASS_KETONE, DREGS_PARTLY_MISCIBLE},
    {"n-hexane", DREGS_CLASS_HYDROCARBON, DREGS_IMMISCIBLE},
    {"n-heptane", DREGS_CLASS_HYDROCARBON, DREGS_IMMISCIBLE},
    {"cyclohexane", DREGS_CLASS_HYDROCARBON, DREGS_IMMISCIBLE},
    {"toluene", DREGS_CLASS_HYDROCARBON, DREGS_IMMISCIBLE},
    {"ethyl acetate", DREGS_CLASS_ESTER, DREGS_PARTLY_MISCIBLE},
    {"n-butyl acetate", DREGS_CLASS_ESTER, DREGS_IMMISCIBLE},
    {"d-limonene", DREGS_CLASS_TERPENE, DREGS_IMMISCIBLE},
    {"trichloroethylene", DREGS_CLASS_HALOGENATED, DREGS_IMMISCIBLE},
    {"tetrachloroethylene", DREGS_CLASS_HALOGENATED, DREGS_IMMISCIBLE},
    {"dichloromethane", DREGS_CLASS_HALOGENATED, DREGS_PARTLY_MISCIBLE},
    {"1-bromopropane", DREGS_CLASS_HALOGENATED, DREGS_IMMISCIBLE},
    {"trans-1,2-dichloroethylene", DREGS_CLASS_HALOGENATED, DREGS_IMMISCIBLE},
};

START_TEST(class_and_miscibility_of_every_liquid)
{
    dregs_liquid_class is;
    dregs_miscibility mixes;
    const char *name;
    size_t i, k;

    for (i = 0; (name = dregs_liquids_name(table, i)) != NULL; i++) {
        for (k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
            if (strcmp(kinds[k].liquid, name) == 0)
                break;
        ck_assert_msg(k < sizeof kinds / sizeof kinds[0], "%s", name);
        ck_assert_int_eq(dregs_liquids_class(table, name, &is, NULL), DREGS_OK);
        ck_assert_int_eq(dregs_liquids_miscibility(table, name, &mixes, NULL), DREGS_OK);
        ck_assert_msg(is == kinds[k].is && mixes == kinds[k].mixes, "%s", name);
        /* the words are in the order of the enumerations */
        ck_assert_str_eq(dregs_liquids_row(table, name, DREGS_CLASS)->word,
                         dregs_property_word(DREGS_CLASS, is));
        ck_assert_str_eq(dregs_liquids_row(table, name, DREGS_MISCIBILITY)->word,
                         dregs_property_word(DREGS_MISCIBILITY, mixes));
    }
    ck_assert_ptr_null(dregs_liquids_row(table, "water", DREGS_DENSITY)->word);
}
END_TEST

START_TEST(words_that_are_missing_are_asked_for)
{
    dregs_liquid_class is = DREGS_CLASS_OTHER;
    dregs_miscibility mixes = DREGS_PARTLY_MISCIBLE;
    char message[DREGS_LIQUID_MESSAGE] = "";
    double number = 7;

    ck_assert_int_eq(add(HEAD GOOD, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_liquids_class(table, "own", &is, message), DREGS_UNKNOWN);
    ck_assert_str_eq(message, "own.csv: no class of 'own': add a row of this liquid and this "
                              "property with the equation A, no unit, a source, and in column A "
                              "one of: water, alcohol, glycol ether, ether, ketone, ester, "
                              "hydrocarbon, terpene, halogenated, other");
    ck_assert_int_eq(dregs_liquids_miscibility(table, "own", &mixes, message), DREGS_UNKNOWN);
    ck_assert_ptr_nonnull(strstr(message, "own.csv: no miscibility with water of 'own'"));
    ck_assert_int_eq(dregs_liquids_miscibility(table, "own", &mixes, NULL), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_liquids_class(table, "watre", &is, message), DREGS_UNKNOWN);
    ck_assert_str_eq(message, "unknown liquid 'watre' (nearest: 'water')");
    ck_assert_int_eq(is, DREGS_CLASS_OTHER);
    ck_assert_int_eq(mixes, DREGS_PARTLY_MISCIBLE);
    /* what the message asks for */
    ck_assert_int_eq(add(HEAD "own,class,A,,glycol ether,,,,label,\n"
                              "own,miscibility with water,A,,miscible,,,,label,read\n",
                         NULL),
                     DREGS_OK);
    ck_assert_int_eq(dregs_liquids_class(table, "own", &is, message), DREGS_OK);
    ck_assert_int_eq(is, DREGS_CLASS_GLYCOL_ETHER);
    ck_assert_int_eq(dregs_liquids_miscibility(table, "own", &mixes, message), DREGS_OK);
    ck_assert_int_eq(mixes, DREGS_MISCIBLE);
    ck_assert_int_eq(dregs_liquids_value(table, "own", DREGS_CLASS, 298.15, &number, message),
                     DREGS_DOMAIN);
    ck_assert_str_eq(message, "class of 'own' is a word, not a number");
    ck_assert(number == 7);
    ck_assert_ptr_null(dregs_property_word(DREGS_MISCIBILITY, 3));
    ck_assert_ptr_null(dregs_property_word(DREGS_CLASS, 10));
    ck_assert_ptr_null(dregs_property_word(DREGS_DENSITY, 0));
    ck_assert_ptr_null(dregs_property_word(DREGS_PROPERTIES, 0));
}
END_TEST

START_TEST(units_of_the_properties_can_be_read)
{
    dregs_unit unit;
    int p;

    for (p = 0; p < DREGS_PROPERTIES; p++) {
        ck_assert_ptr_nonnull(dregs_property_name((dregs_property)p));
        ck_assert_int_eq(dregs_unit_read(dregs_property_unit((dregs_property)p), &unit, NULL),
                         DREGS_OK);
        ck_assert_near(unit.scale, 1.0, 1e-15, "%s", dregs_property_unit((dregs_property)p));
    }
    dregs_liquids_free(NULL);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("liquid");
    TCase *values = tcase_create("values"), *refusals = tcase_create("refusals");
    TCase *files = tcase_create("files");

    tcase_add_checked_fixture(values, setup, teardown);
    tcase_add_loop_test(values, values_are_the_published_ones, 0,
                        (int)(sizeof published / sizeof published[0]));
    tcase_add_test(values, vapour_pressure_at_the_boiling_point);
    tcase_add_test(values, flash_points_fit_the_flammable_limits);
    tcase_add_test(values, constants_are_in_si);
    tcase_add_test(values, equations_without_a_builtin_row);
    tcase_add_test(values, diffusivity_of_a_worked_example);
    tcase_add_test(values, second_correlations_agree);
    tcase_add_test(values, heat_of_vaporisation_fits_the_vapour_pressure);
    tcase_add_test(values, oxygen_demand_of_formulas);
    tcase_add_test(values, exposure_limits_from_memory_say_so);
    tcase_add_test(values, regulations_say_where_they_are_from);
    tcase_add_test(values, regulations_are_found_by_citation);
    tcase_add_test(values, regulations_cover_every_liquid);
    suite_add_tcase(suite, values);

    tcase_add_checked_fixture(refusals, setup, teardown);
    tcase_add_test(refusals, outside_the_range_is_refused);
    tcase_add_loop_test(refusals, temperatures_that_are_none, 0, 5);
    tcase_add_test(refusals, unknown_names);
    tcase_add_test(refusals, senseless_equations_are_refused);
    suite_add_tcase(suite, refusals);

    tcase_add_checked_fixture(files, setup, teardown);
    tcase_add_test(files, every_builtin_row_says_where_it_is_from);
    tcase_add_test(files, the_builtin_text_has_no_fault);
    tcase_add_test(files, a_file_replaces_single_rows_and_adds_liquids);
    tcase_add_loop_test(files, faults_name_their_line_and_change_nothing, 0,
                        (int)(sizeof faulty / sizeof faulty[0]));
    tcase_add_test(files, all_faults_of_a_file_are_collected);
    tcase_add_test(files, units_of_the_properties_can_be_read);
    tcase_add_test(files, class_and_miscibility_of_every_liquid);
    tcase_add_test(files, words_that_are_missing_are_asked_for);
    suite_add_tcase(suite, files);
    return run(suite);
}
