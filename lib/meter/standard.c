/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* standard.c: potassium chloride in water, held to the standards that define it.
 *
 * The standards are known to 0.03 or 0.04 %, an equation of ions to 0.4 to 1.5 %. So the standards
 * themselves count, and the equation only tells how to get from one of them to the next: what is
 * interpolated is the ratio of the two, straight in the temperature and in the logarithm of the
 * molality. Between two neighbours that ratio is bent by less than 0.02 % in the temperature; what
 * lies between 0.01, 0.1 and 1 mol/kg has no standard to be held against. Below 0.01 mol/kg the
 * ratio there is kept, which puts the limiting molar conductivity at 25 degC within 0.1 % of the
 * 149.8 S cm2/mol in print (memory).
 */
#include "meter/standard.h"

#include <math.h>

enum { TEMPERATURES = 12, MOLALITIES = 3 };

static const double molality_of[MOLALITIES] = {0.01, 0.1, 1.0};

/* degC, and uS/cm at 0.01, 0.1 and 1 mol/kg, the water's own taken off: Wu, Koch, Pratt, J. Res.
 * Natl. Inst. Stand. Technol. 96 (1991) 191; Wu et al., ibid. 99 (1994) 241; Pratt, Koch, Wu,
 * Berezansky, Pure Appl. Chem. 73 (2001) 1783; read in the table of the CRC Handbook, p. 5-73. It
 * has no value of 1 mol/kg at 18 degC. */
/* clang-format off */
static const double standard[TEMPERATURES][1 + MOLALITIES] = {
    { 0,  772.92,  7116.85,  63488},
    { 5,  890.96,  8183.70,  72030},
    {10, 1013.95,  9291.72,  80844},
    {15, 1141.45, 10437.1,   89900},
    {18, 1219.93, 11140.6,   NAN},
    {20, 1273.03, 11615.9,   99170},
    {25, 1408.23, 12824.6,  108620},
    {30, 1546.63, 14059.2,  118240},
    {35, 1687.79, 15316.0,  127970},
    {40, 1831.27, 16591.0,  137810},
    {45, 1976.62, 17880.6,  147720},
    {50, 2123.43, 19180.9,  157670},
};
/* clang-format on */

/* The ratio at a temperature within the table, for standard `k`. */
static double ratio(double temperature, int k, double (*equation)(double, double))
{
    double t = temperature - 273.15, at[2], of[2];
    int i = 0, next, end;

    while (i + 2 < TEMPERATURES && t > standard[i + 1][0])
        i++;
    if (isnan(standard[i][1 + k]))
        i--;
    next = isnan(standard[i + 1][1 + k]) ? i + 2 : i + 1;
    for (end = 0; end < 2; end++) {
        const double *row = standard[end ? next : i];
        at[end] = row[0];
        of[end] = row[1 + k] * 1e-4 / equation(row[0] + 273.15, molality_of[k]);
    }
    return of[0] + (of[1] - of[0]) * (t - at[0]) / (at[1] - at[0]);
}

double dregs_meter_standard(double temperature, double molality,
                            double (*equation)(double temperature, double molality))
{
    double t = fmin(fmax(temperature, 273.15), 323.15), low, high, share;
    double m = fmin(fmax(molality, molality_of[0]), molality_of[MOLALITIES - 1]);
    int k = m > molality_of[1];

    low = ratio(t, k, equation);
    high = ratio(t, k + 1, equation);
    share = log(m / molality_of[k]) / log(molality_of[k + 1] / molality_of[k]);
    return low + (high - low) * share;
}

/* Apparent molar volume, m3/mol, at an amount in mol/m3: 26.8 cm3/mol at 25 degC without salt,
 * with Masson's root of the amount; values from memory, good to 0.6 cm3/mol from 5 to 50 degC,
 * which is 0.06 % of the amount at 1 mol/kg. */
static double apparent_volume(double temperature, double amount)
{
    double d = temperature - 298.15;

    return 1e-6 * (26.8 + 0.055 * d - 0.0008 * d * d + 1.9 * sqrt(amount / 1000));
}

double dregs_meter_standard_molality(double temperature, double amount, double water)
{
    return amount / (water * (1 - amount * apparent_volume(temperature, amount)));
}

double dregs_meter_standard_amount(double temperature, double molality, double water)
{
    double amount = molality * water;
    int i;

    /* each step leaves a fiftieth of the error of the step before */
    for (i = 0; i < 12; i++)
        amount = molality * water * (1 - amount * apparent_volume(temperature, amount));
    return amount;
}
