/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* equations.c: the equations of the liquid table.
 *
 * Each one is the published form with the names of its coefficients changed to A..G. No check is
 * made in here: whatever the coefficients, the arithmetic is defined, and the caller refuses a
 * result that is not a positive finite number.
 */
#include "liquid/equations.h"

#include <math.h>

enum { A, B, C, D, E, F, G };

static double celsius(double T)
{
    return T - 273.15;
}

static double constant(const double *c, double T)
{
    (void)T;
    return c[A];
}

/* Jasper, J. Phys. Chem. Ref. Data 1 (1972) 841 */
static double line_celsius(const double *c, double T)
{
    return c[A] - c[B] * celsius(T);
}

static double line_from_20(const double *c, double T)
{
    return c[A] - c[B] * (celsius(T) - 20.0);
}

static double line_kelvin(const double *c, double T)
{
    return c[A] - c[B] * T;
}

static double antoine_10(const double *c, double T)
{
    return pow(10.0, c[A] - c[B] / (T + c[C]));
}

static double antoine_e(const double *c, double T)
{
    return exp(c[A] - c[B] / (T + c[C]));
}

/* DIPPR 101; the last term only where it is there: T^E may be huge while D is 0 */
static double dippr_101(const double *c, double T)
{
    double last = c[D] != 0.0 ? c[D] * pow(T, c[E]) : 0.0;
    return exp(c[A] + c[B] / T + c[C] * log(T) + last);
}

/* DIPPR 105 (Rackett's form) */
static double dippr_105(const double *c, double T)
{
    return c[A] / pow(c[B], 1.0 + pow(1.0 - T / c[C], c[D]));
}

/* Wagner's equation with the exponents of Ambrose */
static double wagner_25_5(const double *c, double T)
{
    double x = 1.0 - T / c[F];
    double sum = c[A] * x + c[B] * pow(x, 1.5) + c[C] * pow(x, 2.5) + c[D] * pow(x, 5.0);
    return c[G] * exp(c[F] / T * sum);
}

/* Wagner's equation as in McGarry, Ind. Eng. Chem. Process Des. Dev. 22 (1983) 313 */
static double wagner_3_6(const double *c, double T)
{
    double x = 1.0 - T / c[F];
    double sum = c[A] * x + c[B] * pow(x, 1.5) + c[C] * pow(x, 3.0) + c[D] * pow(x, 6.0);
    return c[G] * exp(c[F] / T * sum);
}

/* Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, eq. 2.5: one coefficient more than
 * the table has columns, so the last one stands in the name of the equation */
static double wagner_pruss(const double *c, double T)
{
    double x = 1.0 - T / c[F];
    double sum = c[A] * x + c[B] * pow(x, 1.5) + c[C] * pow(x, 3.0) + c[D] * pow(x, 3.5) +
                 c[E] * pow(x, 4.0) + 1.80122502 * pow(x, 7.5);
    return c[G] * exp(c[F] / T * sum);
}

/* VDI Heat Atlas, 2nd ed., D3.1, density (PPDS 10) */
static double ppds_10(const double *c, double T)
{
    double x = 1.0 - T / c[G];
    return c[F] + c[A] * pow(x, 0.35) + c[B] * pow(x, 2.0 / 3.0) + c[C] * x +
           c[D] * pow(x, 4.0 / 3.0);
}

/* Kell, J. Chem. Eng. Data 20 (1975) 97 */
static double kell(const double *c, double T)
{
    double t = celsius(T);
    double above = ((((c[A] * t + c[B]) * t + c[C]) * t + c[D]) * t + c[E]) * t + c[F];
    return above / (1.0 + c[G] * t);
}

/* VDI Heat Atlas, 2nd ed., D3.1, viscosity (PPDS 9); above C the argument turns negative, where
 * cbrt still has a value */
static double ppds_9(const double *c, double T)
{
    double z = (c[C] - T) / (T - c[D]);
    return c[E] * exp(c[A] * cbrt(z) + c[B] * z * cbrt(z));
}

/* Laliberte, J. Chem. Eng. Data 52 (2007) 321 */
static double laliberte(const double *c, double T)
{
    double t = celsius(T);
    return (t + c[A]) / ((c[B] * t + c[C]) * t + c[D]);
}

/* Mulero, Cachadina, Parra, J. Phys. Chem. Ref. Data 41 (2012) 043105; with one term also the
 * form of the VDI Heat Atlas. Terms that are left out must not become 0 * infinity. */
static double tension(const double *c, double T)
{
    double x = 1.0 - T / c[G], sum = c[A] * pow(x, c[B]);

    if (c[C] != 0.0)
        sum += c[C] * pow(x, c[D]);
    if (c[E] != 0.0)
        sum += c[E] * pow(x, c[F]);
    return sum;
}

/* DIPPR 106 */
static double dippr_106(const double *c, double T)
{
    double r = T / c[F];
    return c[A] * pow(1.0 - r, (c[D] * r + c[C]) * r + c[B]);
}

/* VDI Heat Atlas, 2nd ed., D3.1, heat of vaporisation (PPDS 12); the published R F stands in G,
 * which leaves room for the molar mass */
static double ppds_12(const double *c, double T)
{
    double x = 1.0 - T / c[F], root = cbrt(x);
    return c[G] * (c[A] * root + c[B] * root * root + c[C] * x + c[D] * x * x + c[E] * pow(x, 6.0));
}

/* Watson, Ind. Eng. Chem. 35 (1943) 398: from the value A at B kelvin, critical temperature C */
static double watson(const double *c, double T)
{
    return c[A] * pow((1.0 - T / c[C]) / (1.0 - c[B] / c[C]), c[D]);
}

/* DIPPR 100 */
static double dippr_100(const double *c, double T)
{
    return (((c[E] * T + c[D]) * T + c[C]) * T + c[B]) * T + c[A];
}

/* DIPPR 114 */
static double dippr_114(const double *c, double T)
{
    double x = 1.0 - T / c[F];
    return c[A] * c[A] / x + c[B] - 2.0 * c[A] * c[C] * x - c[A] * c[D] * x * x -
           c[C] * c[C] * pow(x, 3.0) / 3.0 - c[C] * c[D] * pow(x, 4.0) / 2.0 -
           c[D] * c[D] * pow(x, 5.0) / 5.0;
}

/* Fuller, Schettler, Giddings, Ind. Eng. Chem. 58(5) (1966) 18, at one pressure: B and D are molar
 * masses in g/mol, C and E diffusion volumes */
static double fuller(const double *c, double T)
{
    double volumes = cbrt(c[C]) + cbrt(c[E]);
    return c[A] * pow(T, 1.75) * sqrt(1.0 / c[B] + 1.0 / c[D]) / (volumes * volumes);
}

/* clang-format off */
static const dregs_equation equations[] = {
    {"A", "A", "A", constant},
    {"y=A-B*t", "AB", "AB", line_celsius},
    {"y=A-B*(t-20)", "AB", "AB", line_from_20},
    {"y=A-B*T", "AB", "AB", line_kelvin},
    {"log10(y)=A-B/(T+C)", "AB", "ABC", antoine_10},
    {"ln(y)=A-B/(T+C)", "AB", "ABC", antoine_e},
    {"ln(y)=A+B/T+C*ln(T)+D*T^E", "AB", "ABCDE", dippr_101},
    {"ln(y/G)=F/T*(A*x+B*x^1.5+C*x^2.5+D*x^5) where x=1-T/F", "ABCDFG", "ABCDFG", wagner_25_5},
    {"ln(y/G)=F/T*(A*x+B*x^1.5+C*x^3+D*x^6) where x=1-T/F", "ABCDFG", "ABCDFG", wagner_3_6},
    {"ln(y/G)=F/T*(A*x+B*x^1.5+C*x^3+D*x^3.5+E*x^4+1.80122502*x^7.5) where x=1-T/F", "ABCDEFG",
     "ABCDEFG", wagner_pruss},
    {"y=A/B^(1+(1-T/C)^D)", "ABCD", "ABCD", dippr_105},
    {"y=F+A*x^0.35+B*x^(2/3)+C*x+D*x^(4/3) where x=1-T/G", "AFG", "ABCDFG", ppds_10},
    {"y=(((((A*t+B)*t+C)*t+D)*t+E)*t+F)/(1+G*t)", "F", "ABCDEFG", kell},
    {"y=E*exp(A*z^(1/3)+B*z^(4/3)) where z=(C-T)/(T-D)", "ABCDE", "ABCDE", ppds_9},
    {"y=(t+A)/((B*t+C)*t+D)", "ABCD", "ABCD", laliberte},
    {"y=A*x^B+C*x^D+E*x^F where x=1-T/G", "ABG", "ABCDEFG", tension},
    {"y=A*(1-T/F)^(B+C*(T/F)+D*(T/F)^2)", "ABF", "ABCDF", dippr_106},
    {"y=G*(A*x^(1/3)+B*x^(2/3)+C*x+D*x^2+E*x^6) where x=1-T/F", "AFG", "ABCDEFG", ppds_12},
    {"y=A*((1-T/C)/(1-B/C))^D", "ABCD", "ABCD", watson},
    {"y=A+B*T+C*T^2+D*T^3+E*T^4", "AB", "ABCDE", dippr_100},
    {"y=A^2/x+B-2*A*C*x-A*D*x^2-C^2*x^3/3-C*D*x^4/2-D^2*x^5/5 where x=1-T/F", "ABCDF", "ABCDF",
     dippr_114},
    {"y=A*T^1.75*(1/B+1/D)^0.5/(C^(1/3)+E^(1/3))^2", "ABCDE", "ABCDE", fuller},
};
/* clang-format on */

enum { EQUATIONS = sizeof equations / sizeof equations[0] };

static int same_but_blanks(const char *a, const char *b)
{
    for (;; a++, b++) {
        while (*a == ' ')
            a++;
        while (*b == ' ')
            b++;
        if (*a != *b)
            return 0;
        if (!*a)
            return 1;
    }
}

const dregs_equation *dregs_liquid_equation_find(const char *text)
{
    size_t i;

    for (i = 0; i < EQUATIONS; i++)
        if (same_but_blanks(text, equations[i].text))
            return &equations[i];
    return NULL;
}

const dregs_equation *dregs_liquid_equation_at(size_t index)
{
    return index < EQUATIONS ? &equations[index] : NULL;
}
