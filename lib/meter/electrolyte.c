/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* electrolyte.c: the conductivity of one salt in water, and the salt from the conductivity.
 *
 * McCleskey's equation is in molality, what a bath is made up by is mass per volume. The molality
 * is taken as amount per volume over the density of water: at 1 mol/kg and 25 degC that is up to
 * 3 % too low (NaOH 0.2 % too high; densities of solutions from memory), which moves L by 0.4 % at
 * most, for L depends on the root of it. KCl, which cells are calibrated with, is held to its
 * standards and has its own volume: see standard.c. Left out: mixtures of salts, the water's own
 * conductivity, carbon dioxide from the air, which turns NaOH into carbonate.
 */
#include "base/root.h"
#include "base/text.h"
#include "dregs/meter.h"
#include "dregs/number.h"
#include "meter/range.h"
#include "meter/standard.h"

#include <math.h>
#include <string.h>

/* McCleskey, J. Chem. Eng. Data 56 (2011) 317; kg/mol from IUPAC 2021 atomic weights, abridged */
/* clang-format off */
static const dregs_electrolyte salts[] = {
    {"NaCl",    58.440e-3, {0.008967, 2.196, 67.03}, {0.00726, 1.762,   44.55}, 1.3},
    {"KCl",     74.548e-3, {0.009385, 2.533, 81.17}, {0.0139,  1.886,   44.11}, 1.7},
    {"NaOH",    39.997e-3, {0.006936, 3.872, 148.3}, {0.01018, 0.67421, 56.76}, 0.2},
    {"Na2CO3", 105.988e-3, {0.02296,  5.211, 147},   {0.05707, 22.22,   455.8}, 4.8},
    {"NaHCO3",  84.006e-3, {0.0126,   1.543, 52.09}, {0.02793, 0.4556,  52.94}, 1.1},
};
/* clang-format on */

enum { KCL = 1, SALTS = sizeof salts / sizeof salts[0] };

const dregs_electrolyte *dregs_electrolyte_at(size_t index)
{
    return index < SALTS ? &salts[index] : NULL;
}

const dregs_electrolyte *dregs_electrolyte_find(const char *name)
{
    size_t i;

    for (i = 0; i < SALTS; i++)
        if (strcmp(salts[i].name, name) == 0)
            return &salts[i];
    return NULL;
}

const char *dregs_electrolyte_nearest(const char *wanted)
{
    const char *names[SALTS];
    size_t i;

    for (i = 0; i < SALTS; i++)
        names[i] = salts[i].name;
    return dregs_nearest(wanted, names, SALTS);
}

/* kg/m3, 0 to 150 degC: Kell, J. Chem. Eng. Data 20 (1975) 97, as printed in Laliberte, J. Chem.
 * Eng. Data 54 (2009) 1725; the same as the built-in row of water, which needs a table to ask. */
static double water_density(double temperature)
{
    double t = temperature - 273.15;

    return (((((-2.8054253e-10 * t + 1.0556302e-7) * t - 4.6170461e-5) * t - 0.0079870401) * t +
             16.945176) *
                t +
            999.83952) /
           (1 + 0.01687985 * t);
}

/* S m2/mol */
static double molar_conductivity(const dregs_electrolyte *salt, double temperature, double molality)
{
    double t = temperature - 273.15, root = sqrt(molality);
    double limit = (salt->c[0] * t + salt->c[1]) * t + salt->c[2];
    double slope = (salt->d[0] * t + salt->d[1]) * t + salt->d[2];

    return 1e-4 * (limit - slope * root / (1 + salt->b * root));
}

/* S/m by the equation alone, for the standards are by molality */
static double kcl_by_equation(double temperature, double molality)
{
    return dregs_meter_standard_amount(temperature, molality, water_density(temperature)) *
           molar_conductivity(&salts[KCL], temperature, molality);
}

/* S m2/mol of a solution that holds `amount` mol/m3 */
static double molar_conductivity_at(const dregs_electrolyte *salt, double temperature,
                                    double amount)
{
    double molality;

    if (salt != &salts[KCL])
        return molar_conductivity(salt, temperature, amount / water_density(temperature));
    molality = dregs_meter_standard_molality(temperature, amount, water_density(temperature));
    return dregs_meter_standard(temperature, molality, kcl_by_equation) *
           molar_conductivity(salt, temperature, molality);
}

/* S/m */
static double conductivity_of(const dregs_electrolyte *salt, double concentration,
                              double temperature)
{
    double amount = concentration / salt->molar_mass; /* mol/m3 */

    return amount * molar_conductivity_at(salt, temperature, amount);
}

dregs_status dregs_electrolyte_most(const dregs_electrolyte *salt, double temperature,
                                    double *concentration, char *message)
{
    dregs_status status =
        dregs_meter_temperature("conductivity of dissolved salts", temperature,
                                DREGS_ELECTROLYTE_LOW, DREGS_ELECTROLYTE_HIGH, message);

    if (!status)
        *concentration = DREGS_ELECTROLYTE_MOST * salt->molar_mass * water_density(temperature);
    return status;
}

dregs_status dregs_electrolyte_conductivity(const dregs_electrolyte *salt, double concentration,
                                            double temperature, double *conductivity, char *message)
{
    char got[DREGS_NUMBER_TEXT], allowed[DREGS_NUMBER_TEXT];
    double most;
    dregs_status status = dregs_meter_amount("the concentration", concentration, message);

    if (!status)
        status = dregs_electrolyte_most(salt, temperature, &most, message);
    if (status)
        return status;
    if (concentration > most * (1 + 1e-9))
        return dregs_meter_say(message, DREGS_OUT_OF_RANGE,
                               "%s g/L of %s: its equation is taken up to 1 mol/kg, %s g/L",
                               dregs_number_plain(got, concentration, 6), salt->name,
                               dregs_number_plain(allowed, most, 6));
    *conductivity = conductivity_of(salt, concentration, temperature);
    return DREGS_OK;
}

struct sought {
    const dregs_electrolyte *salt;
    double temperature, conductivity;
};

static double excess(double concentration, void *user)
{
    const struct sought *sought = user;

    return conductivity_of(sought->salt, concentration, sought->temperature) /
               sought->conductivity -
           1;
}

dregs_status dregs_electrolyte_concentration(const dregs_electrolyte *salt, double conductivity,
                                             double temperature, double *concentration,
                                             char *message)
{
    struct sought sought = {salt, temperature, conductivity};
    char got[DREGS_NUMBER_TEXT], allowed[DREGS_NUMBER_TEXT];
    double most, top, low, root = 0;
    dregs_status status = dregs_meter_amount("the conductivity", conductivity, message);

    if (!status)
        status = dregs_electrolyte_most(salt, temperature, &most, message);
    if (status)
        return status;
    top = conductivity_of(salt, most, temperature);
    if (conductivity > top * (1 + 1e-9))
        return dregs_meter_say(
            message, DREGS_OUT_OF_RANGE,
            "%s uS/cm: the equation of %s is taken up to 1 mol/kg, %s uS/cm there",
            dregs_number_plain(got, conductivity * 1e4, 6), salt->name,
            dregs_number_plain(allowed, top * 1e4, 6));
    /* L falls with m, so what the limit of no salt asks for is too little, and the highest L of
     * the range, at its end, asks for too much */
    low = conductivity * salt->molar_mass / molar_conductivity_at(salt, temperature, 0);
    if (low > 0) {
        root = dregs_root(excess, &sought, low * (1 - 1e-8), conductivity * most / top * (1 + 1e-8),
                          1e-13);
        if (!(root > 0) || !(fabs(excess(root, &sought)) < 1e-11))
            return dregs_meter_say(message, DREGS_NUMERIC, "no concentration of %s is found",
                                   salt->name);
    }
    *concentration = root;
    return DREGS_OK;
}
