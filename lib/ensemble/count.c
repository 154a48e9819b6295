/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* count.c: the figures of many draws: what is kept of them, and what they tell. */
#include "ensemble/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NORMAL_95 1.959963984540054 /* 97.5 % point of the normal distribution */

dregs_ensemble_result *dregs_ensemble_result_new(unsigned figures, const double *most,
                                                 const double *from)
{
    dregs_ensemble_result *made = calloc(1, sizeof *made);
    unsigned i;

    if (!made)
        return NULL;
    made->figure = calloc(figures, sizeof *made->figure);
    made->from = calloc(figures, sizeof *made->from);
    if (!made->figure || !made->from) {
        dregs_ensemble_result_free(made);
        return NULL;
    }
    made->figures = figures;
    for (i = 0; i < figures; i++) {
        made->figure[i].limit = most ? most[i] : NAN;
        made->figure[i].least = INFINITY;
        made->figure[i].most = -INFINITY;
        made->from[i] = from && isfinite(from[i]) ? from[i] : 0;
    }
    return made;
}

void dregs_ensemble_result_free(dregs_ensemble_result *result)
{
    unsigned i;

    if (!result)
        return;
    for (i = 0; i < result->figures; i++)
        dregs_ensemble_bins_free(&result->figure[i].bins);
    free(result->figure);
    free(result->from);
    free(result);
}

static void fail(dregs_ensemble_result *result, uint64_t draw, dregs_status status)
{
    if (!result->failed || draw < result->first_failed) {
        result->first_failed = draw;
        result->why = status;
    }
    result->failed++;
}

int dregs_ensemble_take(dregs_ensemble_result *result, uint64_t draw, dregs_status status,
                        const double *figures)
{
    unsigned i;

    result->count++;
    if (status) {
        fail(result, draw, status);
        return 1;
    }
    for (i = 0; i < result->figures; i++) {
        struct figure *f = &result->figure[i];
        double above = figures[i] - result->from[i];
        if (!isfinite(figures[i]) || !isfinite(above))
            continue;
        f->count++;
        f->met += figures[i] <= f->limit;
        f->least = fmin(f->least, figures[i]);
        f->most = fmax(f->most, figures[i]);
        dregs_ensemble_add(&f->sum, above);
        dregs_ensemble_add_square(&f->squares, above);
        if (!dregs_ensemble_put(&f->bins, dregs_ensemble_bin(figures[i]), 1))
            return 0;
    }
    return 1;
}

int dregs_ensemble_join(dregs_ensemble_result *result, const dregs_ensemble_result *other)
{
    unsigned i;

    if (other->failed && (!result->failed || other->first_failed < result->first_failed)) {
        result->first_failed = other->first_failed;
        result->why = other->why;
    }
    result->count += other->count;
    result->failed += other->failed;
    for (i = 0; i < result->figures; i++) {
        struct figure *f = &result->figure[i];
        const struct figure *more = &other->figure[i];
        f->count += more->count;
        f->met += more->met;
        f->least = fmin(f->least, more->least);
        f->most = fmax(f->most, more->most);
        dregs_ensemble_add_sum(&f->sum, &more->sum);
        dregs_ensemble_add_sum(&f->squares, &more->squares);
        if (!dregs_ensemble_put_all(&f->bins, &more->bins))
            return 0;
    }
    return 1;
}

unsigned dregs_ensemble_figures(const dregs_ensemble_result *result)
{
    return result->figures;
}

uint64_t dregs_ensemble_count(const dregs_ensemble_result *result)
{
    return result->count;
}

uint64_t dregs_ensemble_failed(const dregs_ensemble_result *result)
{
    return result->failed;
}

int dregs_ensemble_first_failed(const dregs_ensemble_result *result, uint64_t *draw,
                                dregs_status *status)
{
    if (!result->failed)
        return 0;
    *draw = result->first_failed;
    *status = result->why;
    return 1;
}

dregs_status dregs_ensemble_figure_of(const dregs_ensemble_result *result, unsigned figure,
                                      dregs_ensemble_figure *of)
{
    dregs_ensemble_figure made = {0, NAN, NAN, NAN, NAN, NAN};
    const struct figure *f;
    double n, sum, squares;

    if (figure >= result->figures)
        return DREGS_DOMAIN;
    f = &result->figure[figure];
    n = (double)f->count;
    made.count = f->count;
    if (f->count) {
        sum = dregs_ensemble_rounded(&f->sum);
        squares = dregs_ensemble_rounded(&f->squares);
        made.mean = result->from[figure] + sum / n;
        made.least = f->least;
        made.most = f->most;
        if (f->count > 1) {
            made.sd = sqrt(fmax(squares - sum * sum / n, 0) / (n - 1));
            made.error = made.sd / sqrt(n);
        }
    }
    *of = made;
    return DREGS_OK;
}

/* Within what was met: an edge of a bin may lie beyond. */
static double ranked(const struct figure *f, double rank)
{
    return fmax(f->least, fmin(f->most, dregs_ensemble_ranked(&f->bins, rank)));
}

/* Of n values each lies below the quantile with the same chance: how many do is binomial, here by
 * its normal approximation (David & Nagaraja, Order Statistics, 2003, ch. 7.1). */
dregs_status dregs_ensemble_quantile(const dregs_ensemble_result *result, unsigned figure,
                                     double share, dregs_ensemble_estimate *at)
{
    const struct figure *f;
    double n, expected, reach, low, high;

    if (figure >= result->figures || !(share > 0) || !(share < 1))
        return DREGS_DOMAIN;
    f = &result->figure[figure];
    if (!f->count)
        return DREGS_UNKNOWN;
    n = (double)f->count;
    expected = n * share;
    reach = NORMAL_95 * sqrt(expected * (1 - share));
    low = floor(expected - reach);
    high = ceil(expected + reach) + 1;
    at->value = ranked(f, fmax(1, fmin(n, expected + 0.5)));
    at->low = low >= 1 ? ranked(f, low) : NAN;
    at->high = high <= n ? ranked(f, high) : NAN;
    return DREGS_OK;
}

dregs_status dregs_ensemble_range_of(const dregs_ensemble_result *result, unsigned figure,
                                     dregs_ensemble_range *range)
{
    dregs_ensemble_range made;
    dregs_status status = dregs_ensemble_quantile(result, figure, 0.05, &made.low);

    if (!status)
        status = dregs_ensemble_quantile(result, figure, 0.50, &made.middle);
    if (!status)
        status = dregs_ensemble_quantile(result, figure, 0.95, &made.high);
    if (!status)
        *range = made;
    return status;
}

/* Wilson, "Probable inference, the law of succession, and statistical inference", J. Am. Stat.
 * Assoc. 22 (1927) 209. */
dregs_ensemble_estimate dregs_ensemble_share(uint64_t met, uint64_t count)
{
    dregs_ensemble_estimate made = {NAN, NAN, NAN};
    double n = (double)count, p, z2 = NORMAL_95 * NORMAL_95, middle, reach;

    if (!count || met > count)
        return made;
    p = (double)met / n;
    middle = (p + z2 / (2 * n)) / (1 + z2 / n);
    reach = NORMAL_95 / (1 + z2 / n) * sqrt(p * (1 - p) / n + z2 / (4 * n * n));
    made.value = p;
    made.low = met == 0 ? 0 : middle - reach;
    made.high = met == count ? 1 : middle + reach;
    return made;
}

dregs_status dregs_ensemble_met(const dregs_ensemble_result *result, unsigned figure,
                                dregs_ensemble_estimate *share)
{
    if (figure >= result->figures || isnan(result->figure[figure].limit) || !result->count)
        return DREGS_DOMAIN;
    *share = dregs_ensemble_share(result->figure[figure].met, result->count);
    return DREGS_OK;
}
