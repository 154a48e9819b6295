/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* extend.c: how a property goes on beyond the temperatures of its row.
 *
 * A row ends where its measurements do, often at 25 degC, where a room or a film that cools by its
 * own evaporation does not. So it is carried on by 60 K at most, by a law that is known to hold
 * about so far, with an error that grows with the distance. It ends at the freezing point, and
 * upward at the boiling point, where these are known: beyond them it is no liquid. Vapour pressure
 * is not carried on upward: there the row's own form is the better one, and no bath needs it.
 *
 * The errors are those of common practice and our own estimates, no source: they hold for the
 * built-in liquids, whose rows were cut by 50 K and carried on again (tests/test_extend.c).
 */
#include "liquid/inside.h"

#include <math.h>

/* In which direction a property is carried on, and by which law. */
enum law { NOT_AT_ALL, STRAIGHT, LOGARITHM, CLAPEYRON, POWER };

/* K beyond the row, and between the two points of a slope */
#define REACH 60.0
#define SPAN  20.0
/* The steepest slope of a heat capacity that is carried on, per K */
#define STEEPEST 3e-3
/* Of T_c to the boiling point: Guldberg, Z. Phys. Chem. 5 (1890) 374, 1.5 (memory) */
#define GULDBERG 1.5

static const struct {
    enum law law;
    double doubt; /* share of the value per K */
    double slope; /* share of the value per K, for a row that is one value; 0: not carried on */
    const char *words;
} carried[DREGS_PROPERTIES] = {
    /* latent heat and gas law hold to some 5 % in 20 K */
    [DREGS_VAPOUR_PRESSURE] = {CLAPEYRON, 0.05 / 20, 0, "Clausius-Clapeyron"},
    [DREGS_DENSITY] = {STRAIGHT, 0.01 / 50, 0, "straight on"},
    [DREGS_VISCOSITY] = {LOGARITHM, 0.10 / 30, 0, "its logarithm straight on over 1/T"},
    /* Katayama, Sci. Rep. Tohoku Imp. Univ. 4 (1916) 373; Guggenheim, J. Chem. Phys. 13 (1945) 253:
     * (1 - T/Tc)^(11/9), all but straight */
    [DREGS_SURFACE_TENSION] = {STRAIGHT, 0.03 / 50, 0, "straight on"},
    /* one value: it falls to nothing at T_c as Watson has it, 0.38 / (T_c - T) */
    [DREGS_HEAT_OF_VAPORISATION] = {STRAIGHT, 0.02 / 50, -1.5e-3, "straight on"},
    /* one value: liquids of the table rise by 0.1 to 0.2 % per K */
    [DREGS_HEAT_CAPACITY] = {STRAIGHT, 0.05 / 50, 1.5e-3, "straight on"},
    [DREGS_THERMAL_CONDUCTIVITY] = {STRAIGHT, 0.03 / 50, 0, "straight on"},
    /* of the vapour: Fuller, Schettler, Giddings 1966 */
    [DREGS_DIFFUSIVITY] = {POWER, 0.02 / 50, 1, "as T^1.75"},
};

const char *dregs_liquid_carried(dregs_property property)
{
    return (unsigned)property < DREGS_PROPERTIES ? carried[property].words : NULL;
}

static int is_one_value(const struct item *item)
{
    return item->equation == dregs_liquid_equation_at(0);
}

/* The value of another row at a temperature; NaN where it has none there. */
static double other(const struct liquid *liquid, dregs_property property, double temperature)
{
    const struct item *item = liquid->item[property];

    if (!item ||
        (!isnan(item->row.low) && (temperature < item->row.low || temperature > item->row.high)))
        return NAN;
    return dregs_liquid_evaluate(item, temperature);
}

/* The temperature of no surface tension, K, by Guldberg's rule; NaN without a boiling point. */
static double critical(const struct liquid *liquid)
{
    return GULDBERG * other(liquid, DREGS_BOILING_POINT, 298.15);
}

static int goes_on(const struct liquid *liquid, const struct item *item)
{
    dregs_property property = item->row.property;

    if (carried[property].law == NOT_AT_ALL || isnan(item->row.low))
        return 0;
    if (!is_one_value(item))
        return 1;
    if (property == DREGS_SURFACE_TENSION)
        return critical(liquid) > item->row.high;
    return carried[property].slope != 0 ||
           (property == DREGS_VAPOUR_PRESSURE &&
            isfinite(other(liquid, DREGS_HEAT_OF_VAPORISATION, item->row.low)));
}

void dregs_liquid_reach(const struct liquid *liquid, const struct item *item, double *low,
                        double *high)
{
    dregs_property property = item->row.property;
    double freezing = other(liquid, DREGS_FREEZING_POINT, 298.15);
    double boiling = other(liquid, DREGS_BOILING_POINT, 298.15);

    *low = item->row.low;
    *high = item->row.high;
    if (!goes_on(liquid, item))
        return;
    *low = fmax(*low - REACH, 1.0);
    *high += REACH;
    if (property == DREGS_DIFFUSIVITY) /* of the vapour, which neither freezes nor boils */
        return;
    if (freezing > *low)
        *low = fmin(freezing, item->row.low);
    if (boiling < *high)
        *high = fmax(boiling, item->row.high);
    if (property == DREGS_VAPOUR_PRESSURE)
        *high = item->row.high;
}

/* J/mol that vapour takes along half way to the low end of a vapour pressure: of the table, or else
 * what the row's own slope tells. */
static double latent_heat(const struct liquid *liquid, const struct item *item, double end,
                          double temperature)
{
    const struct item *row = liquid->item[DREGS_HEAT_OF_VAPORISATION];
    double half = (end + temperature) / 2, molar = other(liquid, DREGS_MOLAR_MASS, end);
    double heat = row ? (half < row->row.low ? dregs_liquid_beyond(liquid, row, half)
                                             : other(liquid, DREGS_HEAT_OF_VAPORISATION, half)) *
                            molar
                      : NAN;
    double inner = fmin(end + SPAN, item->row.high);

    if (isfinite(heat))
        return heat;
    return 8.31446261815324 *
           log(dregs_liquid_evaluate(item, inner) / dregs_liquid_evaluate(item, end)) /
           (1 / end - 1 / inner);
}

/* Per K, in SI; `inner` lies within the row. */
static double slope_at(const struct liquid *liquid, const struct item *item, double end,
                       double inner)
{
    dregs_property property = item->row.property;
    double at = dregs_liquid_evaluate(item, end), slope;

    if (!is_one_value(item))
        slope = (at - dregs_liquid_evaluate(item, inner)) / (end - inner);
    else if (property == DREGS_SURFACE_TENSION)
        slope = -at / (critical(liquid) - end);
    else
        slope = carried[property].slope * at;
    if (property == DREGS_HEAT_CAPACITY)
        slope = fmin(fmax(slope, -STEEPEST * at), STEEPEST * at);
    return slope;
}

double dregs_liquid_beyond(const struct liquid *liquid, const struct item *item, double temperature)
{
    const dregs_liquid_row *row = &item->row;
    double low = NAN, high = NAN, end, inner, at, value = NAN;

    dregs_liquid_reach(liquid, item, &low, &high);
    if (!(temperature >= low * (1 - 1e-9)) || !(temperature <= high * (1 + 1e-9)))
        return NAN;
    end = temperature < row->low ? row->low : row->high;
    inner = temperature < row->low ? fmin(end + SPAN, row->high) : fmax(end - SPAN, row->low);
    at = dregs_liquid_evaluate(item, end);
    switch (carried[row->property].law) {
    case STRAIGHT:
        value = at + slope_at(liquid, item, end, inner) * (temperature - end);
        break;
    case LOGARITHM:
        value = at * exp(log(at / dregs_liquid_evaluate(item, inner)) *
                         (1 / temperature - 1 / end) / (1 / end - 1 / inner));
        break;
    case CLAPEYRON:
        value = at * exp(latent_heat(liquid, item, end, temperature) / 8.31446261815324 *
                         (1 / end - 1 / temperature));
        break;
    case POWER:
        value = at * pow(temperature / end, 1.75);
        break;
    case NOT_AT_ALL:
        break;
    }
    return value > 0 && isfinite(value) ? value : NAN;
}

double dregs_liquid_doubt(const struct liquid *liquid, const struct item *item, double temperature)
{
    const dregs_liquid_row *row = &item->row, *is = NULL;
    double beyond = fmax(row->low - temperature, temperature - row->high), most = 1;

    if (liquid->item[DREGS_CLASS])
        is = &liquid->item[DREGS_CLASS]->row;
    /* hydrogen bonds that loosen: of alcohols it bends twice as much */
    if (row->property == DREGS_HEAT_CAPACITY && is &&
        is->word == dregs_property_word(DREGS_CLASS, DREGS_CLASS_ALCOHOL))
        most = 2;
    return beyond > 0 ? most * carried[row->property].doubt * beyond : 0;
}
