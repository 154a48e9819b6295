/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* water.c: what a reading of conductivity would be at 25 degC, and what pure water reads.
 *
 * Left out: water that takes up carbon dioxide while it is measured, compensation for acids and
 * bases, whose coefficients are lower than those of salts.
 */
#include "base/text.h"
#include "dregs/meter.h"
#include "dregs/number.h"
#include "meter/range.h"

#include <math.h>
#include <string.h>

#define ZERO_DEGC 273.15
#define PER_UM    1e-4 /* uS/cm in S/m */

/* uS/cm, t - 25 degC to the power 0..3: Marsh and Stokes, Aust. J. Chem. 17 (1964) 740, as given at
 * second hand. Rises with t everywhere: the derivative has no real root. */
static const double pure[4] = {0.05498, 2.9326e-3, 6.0629e-5, 4.2690e-7};

/* at any temperature of the range, checked before */
static double pure_at(double temperature)
{
    double d = temperature - DREGS_METER_TEMPERATURE;

    return PER_UM * (pure[0] + d * (pure[1] + d * (pure[2] + d * pure[3])));
}

#define PURE_LOW  (ZERO_DEGC + 5)
#define PURE_HIGH (ZERO_DEGC + 100)

dregs_status dregs_water_conductivity(double temperature, double *conductivity, char *message)
{
    dregs_status status = dregs_meter_temperature("conductivity of pure water", temperature,
                                                  PURE_LOW, PURE_HIGH, message);

    if (!status)
        *conductivity = pure_at(temperature);
    return status;
}

static const struct {
    const char *name;
    double low, high; /* K */
} ways[DREGS_COMPENSATIONS] = {
    {"none", 0, INFINITY},
    {"linear", ZERO_DEGC, ZERO_DEGC + 100},
    {"natural water", ZERO_DEGC, ZERO_DEGC + 35},
    {"pure water", PURE_LOW, PURE_HIGH},
};

static int is_way(dregs_compensation way)
{
    return (unsigned)way < DREGS_COMPENSATIONS;
}

const char *dregs_compensation_name(dregs_compensation way)
{
    return is_way(way) ? ways[way].name : NULL;
}

dregs_status dregs_compensation_find(const char *name, dregs_compensation *way)
{
    int i;

    for (i = 0; i < DREGS_COMPENSATIONS; i++)
        if (strcmp(ways[i].name, name) == 0) {
            *way = (dregs_compensation)i;
            return DREGS_OK;
        }
    return DREGS_UNKNOWN;
}

const char *dregs_compensation_nearest(const char *wanted)
{
    const char *names[DREGS_COMPENSATIONS];
    int i;

    for (i = 0; i < DREGS_COMPENSATIONS; i++)
        names[i] = ways[i].name;
    return dregs_nearest(wanted, names, DREGS_COMPENSATIONS);
}

dregs_status dregs_compensation_range(dregs_compensation way, double *low, double *high)
{
    if (!is_way(way))
        return DREGS_DOMAIN;
    *low = ways[way].low;
    *high = ways[way].high;
    return DREGS_OK;
}

/* ISO 7888:1985, f25 at 0, 5, ... 35 degC, as reprinted */
enum { ANCHORS = 8, APART = 5 };
static const double f25[ANCHORS] = {1.918, 1.643, 1.428, 1.256, 1.116, 1.000, 0.903, 0.822};

/* Lagrange's polynomial through all ln f25. It has no ends to make assumptions about, as a spline
 * has; in the range and with so smooth a curve it is the better one: see dregs-model(7). */
static double natural_factor(double temperature)
{
    double t = temperature - ZERO_DEGC, sum = 0;
    int i, j;

    for (i = 0; i < ANCHORS; i++) {
        double weight = 1;
        for (j = 0; j < ANCHORS; j++)
            if (j != i)
                weight *= (t / APART - j) / (i - j);
        sum += weight * log(f25[i]);
    }
    return exp(sum);
}

/* The reading Kt over what it is at 25 degC, for what is dissolved: Kt = share * K25 */
static double rise(dregs_compensation way, double coefficient, double temperature)
{
    double d = temperature - DREGS_METER_TEMPERATURE;

    switch (way) {
    case DREGS_COMPENSATION_LINEAR:
        return 1 + coefficient * d;
    case DREGS_COMPENSATION_NATURAL:
        return 1 / natural_factor(temperature);
    case DREGS_COMPENSATION_PURE:
        return 1 + 0.02 * d; /* common practice, no source */
    default:
        return 1;
    }
}

static dregs_status check(dregs_compensation way, double coefficient, double temperature,
                          double value, char *message)
{
    char got[DREGS_NUMBER_TEXT], most[DREGS_NUMBER_TEXT];
    dregs_status status;

    if (!is_way(way))
        return dregs_meter_say(message, DREGS_DOMAIN, "there is no such way of compensation");
    status = dregs_meter_amount("the conductivity", value, message);
    if (status || way == DREGS_COMPENSATION_NONE)
        return status;
    if (way == DREGS_COMPENSATION_LINEAR &&
        (!(coefficient > 0) || !(coefficient <= DREGS_COMPENSATION_COEFFICIENT_MOST * (1 + 1e-9))))
        return dregs_meter_say(
            message, DREGS_DOMAIN,
            "a coefficient of %s %% per degC: taken above 0 up to %s %% only",
            dregs_number_plain(got, 100 * coefficient, 6),
            dregs_number_plain(most, 100 * DREGS_COMPENSATION_COEFFICIENT_MOST, 6));
    return dregs_meter_temperature(way == DREGS_COMPENSATION_LINEAR ? "linear compensation"
                                   : way == DREGS_COMPENSATION_PURE
                                       ? "compensation of pure water"
                                       : "compensation of natural water",
                                   temperature, ways[way].low, ways[way].high, message);
}

/* What is dissolved beside pure water. That water's own value may have been rounded on the way
 * here, and then is not below it. */
static dregs_status beside(double value, double temperature, double *dissolved, char *message)
{
    char got[DREGS_NUMBER_TEXT], water[DREGS_NUMBER_TEXT], at[DREGS_NUMBER_TEXT];
    double own = pure_at(temperature);

    if (value < own * (1 - 1e-9))
        return dregs_meter_say(message, DREGS_OUT_OF_RANGE,
                               "%s uS/cm at %s degC is below pure water, %s uS/cm",
                               dregs_number_plain(got, value / PER_UM, 6),
                               dregs_number_plain(at, temperature - ZERO_DEGC, 6),
                               dregs_number_plain(water, own / PER_UM, 6));
    *dissolved = fmax(value - own, 0);
    return DREGS_OK;
}

/* From one temperature to another, one of them 25 degC, both within the range of the way. */
static dregs_status carry_over(dregs_compensation way, double factor, double from, double to,
                               double value, double *carried, char *message)
{
    double dissolved = value, result;
    dregs_status status;

    if (way == DREGS_COMPENSATION_PURE) {
        status = beside(value, from, &dissolved, message);
        if (status)
            return status;
    }
    result = dissolved * factor;
    if (way == DREGS_COMPENSATION_PURE)
        result += pure_at(to);
    if (!isfinite(result))
        return dregs_meter_say(message, DREGS_NUMERIC, "the conductivity is too large to be held");
    *carried = result;
    return DREGS_OK;
}

dregs_status dregs_conductivity_at_25(dregs_compensation way, double coefficient,
                                      double temperature, double reading, double *at_25,
                                      char *message)
{
    dregs_status status = check(way, coefficient, temperature, reading, message);

    if (status)
        return status;
    return carry_over(way, 1 / rise(way, coefficient, temperature), temperature,
                      DREGS_METER_TEMPERATURE, reading, at_25, message);
}

dregs_status dregs_conductivity_shown(dregs_compensation way, double coefficient,
                                      double temperature, double at_25, double *reading,
                                      char *message)
{
    dregs_status status = check(way, coefficient, temperature, at_25, message);

    if (status)
        return status;
    return carry_over(way, rise(way, coefficient, temperature), DREGS_METER_TEMPERATURE,
                      temperature, at_25, reading, message);
}
