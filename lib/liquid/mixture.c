/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixture.c: shares, tabulated values and activity coefficients of mixtures, and how they boil.
 *
 * Left out: heats of mixing, an excess volume other than in the tabulated density, a vapour that
 * is not ideal, any dependence of a tabulated property on temperature.
 */
#include "liquid/mixture.h"
#include "base/text.h"
#include "dregs/number.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define GAS 8.31446261815324 /* J/(mol K), CODATA 2018, exact */

static dregs_status refuse(dregs_status status, char *message, const char *format, ...)
    DREGS_FORMAT(3, 4);

static dregs_status refuse(dregs_status status, char *message, const char *format, ...)
{
    va_list arguments;

    if (message) {
        va_start(arguments, format);
        (void)vsnprintf(message, DREGS_LIQUID_MESSAGE, format, arguments);
        va_end(arguments);
    }
    return status;
}

static int matches(const dregs_mixture_row *row, const char *first, const char *second)
{
    return strcmp(row->first, first) == 0 && strcmp(row->second, second) == 0;
}

static int is_of(const dregs_mixture_row *row, const char *first, const char *second)
{
    return matches(row, first, second) || matches(row, second, first);
}

const dregs_mixture_row *dregs_mixtures_row(const dregs_mixtures *mixtures, size_t index)
{
    return index < mixtures->count ? &mixtures->curve[index].row : NULL;
}

int dregs_mixtures_has(const dregs_mixtures *mixtures, const char *first, const char *second)
{
    size_t i;

    for (i = 0; i < mixtures->count; i++)
        if (is_of(&mixtures->curve[i].row, first, second))
            return 1;
    return 0;
}

const char *dregs_mixtures_nearest(const dregs_mixtures *mixtures, const char *wanted)
{
    const char *names[64];
    size_t i, count = 0;

    for (i = 0; i < mixtures->count && count < 64; i++)
        if (i == 0 || strcmp(mixtures->curve[i].row.pair, names[count - 1]) != 0)
            names[count++] = mixtures->curve[i].row.pair;
    return dregs_nearest(wanted, names, count);
}

static int is_share(double share)
{
    return share >= 0.0 && share <= 1.0;
}

double dregs_mixture_mole_share(double mass_share, double first_mass, double second_mass)
{
    double first = mass_share * second_mass, second = (1.0 - mass_share) * first_mass;

    if (!is_share(mass_share) || !(first_mass > 0.0) || !(second_mass > 0.0))
        return NAN;
    return first / (first + second);
}

double dregs_mixture_mass_share(double mole_share, double first_mass, double second_mass)
{
    /* the same form with the masses exchanged */
    return dregs_mixture_mole_share(mole_share, second_mass, first_mass);
}

static dregs_status check(const dregs_mixtures *mixtures, const char *first, const char *second,
                          double share, double temperature, char *message)
{
    char one[DREGS_QUOTED], two[DREGS_QUOTED];

    if (!dregs_mixtures_has(mixtures, first, second))
        return refuse(DREGS_UNKNOWN, message, "no mixture of %s and %s in the table",
                      dregs_quote(one, first), dregs_quote(two, second));
    if (!is_share(share))
        return refuse(DREGS_DOMAIN, message, "the share is not in 0..1");
    if (!(temperature > 0.0) || !isfinite(temperature))
        return refuse(DREGS_DOMAIN, message, "the temperature is not a positive number of kelvin");
    return DREGS_OK;
}

/* ---- tabulated values ---- */

static const char *percent(char into[DREGS_NUMBER_TEXT], double share)
{
    return dregs_number_plain(into, share * 100.0, 6);
}

static const char *celsius(char into[DREGS_NUMBER_TEXT], double temperature)
{
    return dregs_number_plain(into, temperature - 273.15, 6);
}

/* The tables of the property reach elsewhere; `nearest` is the one nearest in temperature. */
static dregs_status say_off(const struct curve *nearest, double temperature, double share,
                            char *message)
{
    const dregs_mixture_row *row = &nearest->row;
    char at[DREGS_NUMBER_TEXT], low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];

    if (fabs(temperature - row->low) > DREGS_MIXTURE_NEAR + 1e-9)
        return refuse(
            DREGS_OUT_OF_RANGE, message,
            "%s of %s-%s at %s degC: the nearest table is for %s degC and is taken within "
            "0.5 K of it only",
            row->name, row->first, row->second, celsius(at, temperature), celsius(low, row->low));
    return refuse(DREGS_OUT_OF_RANGE, message,
                  "%s of %s-%s with %s %% of %s: its data reach from %s to %s %% by mass only",
                  row->name, row->first, row->second, percent(at, share), row->first,
                  percent(low, row->share_low), percent(high, row->share_high));
}

dregs_status dregs_mixture_value(const dregs_mixtures *mixtures, const char *first,
                                 const char *second, dregs_property property, double mass_share,
                                 double temperature, double *value, char *message)
{
    const struct curve *nearest = NULL;
    dregs_status status = check(mixtures, first, second, mass_share, temperature, message);
    const char *name = dregs_property_name(property);
    double share, got;
    size_t i;

    if (status)
        return status;
    for (i = 0; name && i < mixtures->count; i++) {
        const struct curve *curve = &mixtures->curve[i];
        if (curve->row.property == property && is_of(&curve->row, first, second) &&
            (!nearest || fabs(curve->row.low - temperature) < fabs(nearest->row.low - temperature)))
            nearest = curve;
    }
    if (!nearest)
        return refuse(DREGS_UNKNOWN, message, "no %s of %s-%s in the table",
                      name ? name : "such property", first, second);
    share = matches(&nearest->row, first, second) ? mass_share : 1.0 - mass_share;
    if (fabs(temperature - nearest->row.low) > DREGS_MIXTURE_NEAR + 1e-9 ||
        share < nearest->row.share_low - 1e-12 || share > nearest->row.share_high + 1e-12)
        return say_off(nearest, temperature, share, message);
    share = fmin(fmax(share, nearest->row.share_low), nearest->row.share_high);
    if (gsl_interp_eval_e(nearest->interpolation, nearest->share, nearest->value, share, NULL,
                          &got) ||
        !(got > 0.0))
        return refuse(DREGS_NUMERIC, message, "%s of %s-%s gives no positive number", name, first,
                      second);
    *value = got;
    return DREGS_OK;
}

/* ---- activity coefficients ---- */

/* van Laar, Z. Phys. Chem. 72 (1910) 723, in the form without a division by a share */
static void van_laar(const double *c, double x, double logs[2])
{
    double one = c[0] * x, two = c[1] * (1.0 - x), sum = one + two;

    logs[0] = c[0] * (two / sum) * (two / sum);
    logs[1] = c[1] * (one / sum) * (one / sum);
}

/* Renon and Prausnitz, AIChE J. 14 (1968) 135 */
static void nrtl(const double *c, double x, double temperature, double logs[2])
{
    double y = 1.0 - x, tau12 = c[0] / (GAS * temperature), tau21 = c[1] / (GAS * temperature);
    double g12 = exp(-c[2] * tau12), g21 = exp(-c[2] * tau21);
    double one = x + y * g21, two = y + x * g12;

    logs[0] = y * y * (tau21 * g21 * g21 / (one * one) + tau12 * g12 / (two * two));
    logs[1] = x * x * (tau12 * g12 * g12 / (two * two) + tau21 * g21 / (one * one));
}

/* The model of a pair that was fitted at the highest temperature below `under`, K. */
static const struct curve *model_under(const dregs_mixtures *mixtures, const char *first,
                                       const char *second, double under)
{
    const struct curve *found = NULL;
    size_t i;

    for (i = 0; i < mixtures->count; i++) {
        const struct curve *curve = &mixtures->curve[i];
        if (curve->row.property == DREGS_PROPERTIES && is_of(&curve->row, first, second) &&
            curve->row.fitted_at < under && (!found || curve->row.fitted_at > found->row.fitted_at))
            found = curve;
    }
    return found;
}

static const struct curve *model_of(const dregs_mixtures *mixtures, const char *first,
                                    const char *second)
{
    return model_under(mixtures, first, second, INFINITY);
}

static void logarithms(const struct curve *model, double x, double temperature, double logs[2])
{
    if (strcmp(model->row.model, "NRTL") == 0)
        nrtl(model->row.coefficient, x, temperature, logs);
    else
        van_laar(model->row.coefficient, x, logs);
}

/* Straight over 1/T between a warm and a cold model, and on below that. */
static void between(const struct curve *warm, const struct curve *cold, double x,
                    double temperature, double logs[2])
{
    double from = warm->row.fitted_at, to, share, other[2];

    if (!cold || temperature >= from) {
        logarithms(warm, x, temperature, logs);
        return;
    }
    to = cold->row.fitted_at;
    share = (1 / temperature - 1 / from) / (1 / to - 1 / from);
    logarithms(warm, x, from, logs);
    logarithms(cold, x, to, other);
    logs[0] += (other[0] - logs[0]) * share;
    logs[1] += (other[1] - logs[1]) * share;
}

dregs_status dregs_mixture_activity(const dregs_mixtures *mixtures, const char *first,
                                    const char *second, double mole_share, double temperature,
                                    double gamma[2], char *message)
{
    dregs_status status = check(mixtures, first, second, mole_share, temperature, message);
    const struct curve *model = status ? NULL : model_of(mixtures, first, second);
    char at[DREGS_NUMBER_TEXT], low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    double logs[2];
    int swapped;

    if (status)
        return status;
    if (!model)
        return refuse(DREGS_UNKNOWN, message, "no activity coefficients of %s-%s in the table",
                      first, second);
    if (temperature < model->row.low * (1.0 - 1e-9) || temperature > model->row.high * (1.0 + 1e-9))
        return refuse(DREGS_OUT_OF_RANGE, message,
                      "activity coefficients of %s-%s at %s degC: taken from %s to %s degC only",
                      first, second, celsius(at, temperature), celsius(low, model->row.low),
                      celsius(high, model->row.high));
    swapped = !matches(&model->row, first, second);
    if (swapped)
        mole_share = 1.0 - mole_share;
    between(model, model_under(mixtures, first, second, model->row.fitted_at), mole_share,
            temperature, logs);
    gamma[0] = exp(logs[swapped]);
    gamma[1] = exp(logs[!swapped]);
    return DREGS_OK;
}

/* ---- boiling ---- */

/* What a search for a boiling point carries along. */
struct boiling {
    const dregs_mixtures *mixtures;
    const dregs_liquids *liquids;
    const char *name[2];
    double share[2];
    char *message;
};

/* Partial pressures of both liquids over the mixture. */
static dregs_status partial(const struct boiling *b, double temperature, double pressure[2])
{
    double gamma[2], saturated;
    int i;
    dregs_status status = dregs_mixture_activity(b->mixtures, b->name[0], b->name[1], b->share[0],
                                                 temperature, gamma, b->message);

    for (i = 0; !status && i < 2; i++) {
        pressure[i] = 0.0;
        if (!(b->share[i] > 0.0))
            continue; /* its vapour pressure need not be known up there */
        status = dregs_liquids_value(b->liquids, b->name[i], DREGS_VAPOUR_PRESSURE, temperature,
                                     &saturated, b->message);
        if (!status)
            pressure[i] = b->share[i] * gamma[i] * saturated;
    }
    return status;
}

/* The range of temperature in which all that is needed is known. */
static dregs_status common_range(const struct boiling *b, double *low, double *high)
{
    const struct curve *model = model_of(b->mixtures, b->name[0], b->name[1]);
    int i;

    if (!model)
        return refuse(DREGS_UNKNOWN, b->message, "no activity coefficients of %s-%s in the table",
                      b->name[0], b->name[1]);
    *low = model->row.low;
    *high = model->row.high;
    for (i = 0; i < 2; i++) {
        const dregs_liquid_row *row =
            dregs_liquids_row(b->liquids, b->name[i], DREGS_VAPOUR_PRESSURE);
        if (!row)
            return refuse(DREGS_UNKNOWN, b->message, "no vapour pressure of %s", b->name[i]);
        if (b->share[i] > 0.0 && !isnan(row->low)) {
            *low = fmax(*low, row->low);
            *high = fmin(*high, row->high);
        }
    }
    return DREGS_OK;
}

static dregs_status say_no_boiling(const struct boiling *b, double pressure, double low,
                                   double high)
{
    char at[DREGS_NUMBER_TEXT], from[DREGS_NUMBER_TEXT], to[DREGS_NUMBER_TEXT];

    return refuse(DREGS_OUT_OF_RANGE, b->message,
                  "%s-%s does not boil at %s kPa between %s and %s degC, where its data reach",
                  b->name[0], b->name[1], dregs_number_plain(at, pressure / 1e3, 6),
                  celsius(from, low), celsius(to, high));
}

/* Whether the mixture boils between the ends of the range. */
static dregs_status bracketed(const struct boiling *b, double pressure, double low, double high)
{
    double p[2];
    dregs_status status = partial(b, low, p);

    if (status)
        return status;
    if (!(p[0] + p[1] <= pressure))
        return say_no_boiling(b, pressure, low, high);
    status = partial(b, high, p);
    if (status)
        return status;
    return p[0] + p[1] >= pressure ? DREGS_OK : say_no_boiling(b, pressure, low, high);
}

static dregs_status boil(const struct boiling *b, double pressure, double *temperature,
                         double *vapour_share)
{
    double low = NAN, high = NAN, p[2] = {NAN, NAN};
    dregs_status status = common_range(b, &low, &high);
    int i;

    if (!status)
        status = bracketed(b, pressure, low, high);
    /* the pressure rises all the way: 60 halvings leave nothing of 100 K */
    for (i = 0; !status && i < 60; i++) {
        double middle = low + (high - low) / 2.0;
        status = partial(b, middle, p);
        if (p[0] + p[1] > pressure)
            high = middle;
        else
            low = middle;
    }
    if (status)
        return status;
    *temperature = low;
    *vapour_share = p[0] / (p[0] + p[1]);
    return DREGS_OK;
}

static dregs_status start(struct boiling *b, const dregs_mixtures *mixtures,
                          const dregs_liquids *liquids, const char *first, const char *second,
                          double pressure, char *message)
{
    *b = (struct boiling){mixtures, liquids, {first, second}, {0.0, 0.0}, message};
    if (!(pressure > 0.0) || !isfinite(pressure))
        return refuse(DREGS_DOMAIN, message, "the pressure is not a positive number");
    return DREGS_OK;
}

dregs_status dregs_mixture_bubble(const dregs_mixtures *mixtures, const dregs_liquids *liquids,
                                  const char *first, const char *second, double mole_share,
                                  double pressure, double *temperature, double *vapour_share,
                                  char *message)
{
    struct boiling b;
    dregs_status status = check(mixtures, first, second, mole_share, 300.0, message);

    if (!status)
        status = start(&b, mixtures, liquids, first, second, pressure, message);
    if (status)
        return status;
    b.share[0] = mole_share;
    b.share[1] = 1.0 - mole_share;
    return boil(&b, pressure, temperature, vapour_share);
}

/* By how much the vapour is richer in the first liquid than the mixture. */
static dregs_status richer(struct boiling *b, double share, double pressure, double *temperature,
                           double *by)
{
    double vapour;
    dregs_status status;

    b->share[0] = share;
    b->share[1] = 1.0 - share;
    status = boil(b, pressure, temperature, &vapour);
    if (!status)
        *by = vapour - share;
    return status;
}

/* The share between low and high where the vapour is as rich as the mixture; at the high end the
 * difference has the sign of `end`. */
static dregs_status close_in(struct boiling *b, double pressure, double low, double high,
                             double end, double *share, double *temperature)
{
    dregs_status status = DREGS_OK;
    double at = NAN, by = NAN;
    int i;

    for (i = 0; !status && i < 60; i++) {
        double middle = low + (high - low) / 2.0;
        status = richer(b, middle, pressure, &at, &by);
        if (by * end > 0.0)
            high = middle;
        else
            low = middle;
    }
    if (status)
        return status;
    *share = low;
    *temperature = at;
    return DREGS_OK;
}

dregs_status dregs_mixture_azeotrope(const dregs_mixtures *mixtures, const dregs_liquids *liquids,
                                     const char *first, const char *second, double pressure,
                                     double *mole_share, double *temperature, char *message)
{
    enum { STEPS = 50 };
    struct boiling b;
    double low = 0.999, high = low, by = NAN, end = NAN, at = NAN, share = NAN;
    dregs_status status = check(mixtures, first, second, 0.5, 300.0, message);
    const struct curve *model = status ? NULL : model_of(mixtures, first, second);
    int i, swapped = model && !matches(&model->row, first, second);

    if (!status) /* in the order of the table, so that either order finds the same */
        status = start(&b, mixtures, liquids, swapped ? second : first, swapped ? first : second,
                       pressure, message);
    if (!status)
        status = richer(&b, low, pressure, &at, &end);
    if (status)
        return status;
    /* down from the one end, in steps, to where the sign changes */
    for (i = 1, by = end; i < STEPS && by * end > 0.0; i++) {
        high = low;
        low = 0.999 - (double)i * 0.989 / (STEPS - 1);
        if (richer(&b, low, pressure, &at, &by))
            break;
    }
    if (!(by * end <= 0.0))
        return refuse(DREGS_UNKNOWN, message, "no azeotrope of %s-%s in the range of its data",
                      first, second);
    status = close_in(&b, pressure, low, high, end, &share, &at);
    if (status)
        return status;
    *mole_share = swapped ? 1.0 - share : share;
    *temperature = at;
    return DREGS_OK;
}
