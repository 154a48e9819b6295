/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* distribution.c: what a value with a spread is drawn from, see UNCERTAINTY in dregs-model(7).
 *
 * The kind of quantity decides: shares a beta, temperatures and readings a normal distribution, all
 * that cannot be negative a lognormal one; each with the stated mean and standard deviation
 * (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions, 1994/95, ch. 14 and 25).
 * That these and no others are taken is common practice, no source.
 */
#include "base/text.h"
#include "dregs/number.h"
#include "ensemble/inside.h"
#include "line/line.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static int refuse(const dregs_line *line, const dregs_drawn *drawn, dregs_faults *faults,
                  const char *why, double largest)
{
    const dregs_row *cells = dregs_line_row(line, drawn->row);
    char number[DREGS_NUMBER_TEXT], name[DREGS_QUOTED];

    dregs_quote(name, cells->item);
    if (largest > 0)
        (void)dregs_fault_add(faults, DREGS_BAD_DATA, cells->line,
                              "%.60s of %s: %s %.40s %.20s cannot have a spread of %.40s; the "
                              "largest is %s %%, and what is known is usually far below it",
                              cells->property, name, why, cells->value, cells->unit, cells->spread,
                              dregs_number_plain(number, largest * 100, 4));
    else
        (void)dregs_fault_add(faults, DREGS_BAD_DATA, cells->line,
                              "%.60s of %s: %s %.40s %.20s cannot have a spread", cells->property,
                              name, why, cells->value, cells->unit);
    return 0;
}

static int fit_beta(const dregs_line *line, dregs_drawn *drawn, dregs_faults *faults)
{
    double rest = drawn->mean * (1 - drawn->mean);
    double together = rest / (drawn->sd * drawn->sd) - 1;

    if (!(together > 0) || !isfinite(together))
        return refuse(line, drawn, faults, "a share of", sqrt(rest));
    drawn->distribution = DREGS_BETA;
    drawn->a = drawn->mean * together;
    drawn->b = (1 - drawn->mean) * together;
    return 1;
}

int dregs_ensemble_fit(const dregs_line *line, dregs_drawn *drawn, dregs_faults *faults)
{
    dregs_nature nature = dregs_line_nature(line, drawn->row);
    double relative;

    if (nature == DREGS_NATURE_SHARE)
        return fit_beta(line, drawn, faults);
    if (nature == DREGS_NATURE_ANY) {
        drawn->distribution = DREGS_NORMAL;
        drawn->a = drawn->mean;
        drawn->b = drawn->sd;
        return 1;
    }
    if (!(drawn->mean > 0))
        return refuse(line, drawn, faults, "a quantity of", 0);
    relative = drawn->sd / drawn->mean;
    drawn->distribution = DREGS_LOGNORMAL;
    drawn->whole = nature == DREGS_NATURE_COUNT;
    drawn->b = sqrt(log1p(relative * relative));
    drawn->a = log(drawn->mean) - drawn->b * drawn->b / 2;
    return isfinite(drawn->a) && isfinite(drawn->b)
               ? 1
               : refuse(line, drawn, faults, "a quantity of", 0);
}

void dregs_ensemble_fit_accuracy(dregs_drawn *drawn, double accuracy)
{
    drawn->distribution = DREGS_LOGNORMAL;
    drawn->mean = 1;
    drawn->sd = accuracy / 2;
    drawn->b = sqrt(log1p(drawn->sd * drawn->sd));
    drawn->a = -drawn->b * drawn->b / 2;
}

/* The share below x of a beta distribution, from its nearer end. */
static double beyond(const dregs_drawn *drawn, double x, double z)
{
    return z < 0 ? gsl_cdf_beta_P(x, drawn->a, drawn->b) : gsl_cdf_beta_Q(x, drawn->a, drawn->b);
}

/* GSL's inverse gives up for some exponents; halving always ends. */
static double halved(const dregs_drawn *drawn, double z, double share)
{
    double low = 0, high = 1;
    int i;

    for (i = 0; i < 200 && low < high; i++) {
        double middle = low + (high - low) / 2;
        if (middle == low || middle == high)
            break;
        if ((beyond(drawn, middle, z) < share) == (z < 0))
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double beta(const dregs_drawn *drawn, double z)
{
    double share = z < 0 ? gsl_cdf_ugaussian_P(z) : gsl_cdf_ugaussian_Q(z);
    double x = z < 0 ? gsl_cdf_beta_Pinv(share, drawn->a, drawn->b)
                     : gsl_cdf_beta_Qinv(share, drawn->a, drawn->b);

    if (!(x >= 0) || !(x <= 1) || !(fabs(beyond(drawn, x, z) - share) <= 1e-9 * share))
        x = halved(drawn, z, share);
    return x;
}

double dregs_ensemble_value(const dregs_drawn *drawn, double z)
{
    double value;

    if (!isfinite(z))
        return NAN;
    if (drawn->distribution == DREGS_BETA)
        return beta(drawn, z);
    if (drawn->distribution == DREGS_NORMAL)
        return drawn->a + drawn->b * z;
    value = exp(drawn->a + drawn->b * z);
    return drawn->whole ? round(value) : value;
}
