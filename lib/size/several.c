/* SPDX-License-Identifier: GPL-3.0-or-later */
/* several.c: several properties, the least liquid (or cost) that meets the target.
 *
 * Numbers that need not be whole are sought by NLopt's SLSQP (Kraft 1988) over the unit cube: each
 * range, or its logarithm, mapped to 0..1. The gradient is by differences. The search is local;
 * it is begun at three places. Whole numbers are tried one by one around it, first coarsely.
 */
#include "size/inside.h"

#include <math.h>
#include <nlopt.h>
#include <string.h>

enum { EVALUATIONS = 60, STARTS = 3 };

/* How far within the limit the search aims: what is left after rounding still meets it. */
#define AIM  1e-7
#define STEP 1e-6

struct several {
    struct problem *p;
    unsigned free[DREGS_VARIED_MOST]; /* which of the values are sought */
    unsigned count;
    double value[DREGS_VARIED_MOST];
    /* the last point that was evaluated */
    int known;
    double x[DREGS_VARIED_MOST];
    double f, h; /* ln(expense), ln(residue / limit) */
    double df[DREGS_VARIED_MOST], dh[DREGS_VARIED_MOST];
    /* the best that meets the target, and the nearest when none does */
    double best[DREGS_VARIED_MOST], best_expense;
    double nearest[DREGS_VARIED_MOST], nearest_excess;
};

/* Neither failed nor at the end of its patience? */
static int go_on(const struct several *s)
{
    return !s->p->status && s->p->sized->trials < DREGS_SIZE_TRIALS;
}

static int logarithmic(const struct varied *varied)
{
    return varied->low > 0 && varied->high / varied->low > 10;
}

static double from_unit(const struct varied *varied, double x)
{
    if (logarithmic(varied))
        return varied->low * pow(varied->high / varied->low, x);
    return varied->low + (varied->high - varied->low) * x;
}

static double to_unit(const struct varied *varied, double value)
{
    if (varied->high <= varied->low)
        return 0;
    if (logarithmic(varied))
        return log(value / varied->low) / log(varied->high / varied->low);
    return (value - varied->low) / (varied->high - varied->low);
}

static void one_point(struct several *s, const double *x, double *f, double *h)
{
    struct outcome outcome;
    unsigned i;

    for (i = 0; i < s->count; i++)
        s->value[s->free[i]] = from_unit(&s->p->varied[s->free[i]], fmin(fmax(x[i], 0), 1));
    dregs_size_try(s->p, s->value, &outcome);
    *h = isfinite(outcome.compliance.excess) ? log(fmax(outcome.compliance.excess, 1e-300)) : 50.0;
    *f = isfinite(outcome.expense) ? log(fmax(outcome.expense, 1e-300)) : 50.0;
    if (outcome.compliance.excess <= 1 && outcome.expense < s->best_expense) {
        s->best_expense = outcome.expense;
        memcpy(s->best, s->value, sizeof s->best);
    }
    if (outcome.compliance.excess < s->nearest_excess) {
        s->nearest_excess = outcome.compliance.excess;
        memcpy(s->nearest, s->value, sizeof s->nearest);
    }
}

static void evaluate(struct several *s, const double *x)
{
    double beside[DREGS_VARIED_MOST], f, h;
    unsigned i;

    if (s->known && memcmp(s->x, x, s->count * sizeof *x) == 0)
        return;
    one_point(s, x, &s->f, &s->h);
    for (i = 0; i < s->count; i++) {
        double step = x[i] + STEP <= 1 ? STEP : -STEP;
        memcpy(beside, x, s->count * sizeof *x);
        beside[i] += step;
        one_point(s, beside, &f, &h);
        s->df[i] = (f - s->f) / step;
        s->dh[i] = (h - s->h) / step;
    }
    memcpy(s->x, x, s->count * sizeof *x);
    s->known = 1;
}

static double objective(unsigned n, const double *x, double *gradient, void *user)
{
    struct several *s = user;

    evaluate(s, x);
    if (gradient)
        memcpy(gradient, s->df, n * sizeof *gradient);
    return s->f;
}

static double constraint(unsigned n, const double *x, double *gradient, void *user)
{
    struct several *s = user;

    evaluate(s, x);
    if (gradient)
        memcpy(gradient, s->dh, n * sizeof *gradient);
    return s->h + AIM;
}

/* From the end of a search to the boundary: a search may stop a little within the target or a
 * little outside; on the straight line to a point on the other side lies a better one. */
static void close_up(struct several *s, const double *x)
{
    double inside[DREGS_VARIED_MOST], outside[DREGS_VARIED_MOST], middle[DREGS_VARIED_MOST], f, h;
    unsigned i, k;

    one_point(s, x, &f, &h);
    if (!(h > 0) || !isfinite(s->best_expense))
        return;
    memcpy(outside, x, s->count * sizeof *x);
    for (i = 0; i < s->count; i++)
        inside[i] = to_unit(&s->p->varied[s->free[i]], s->best[s->free[i]]);
    for (k = 0; k < 30 && go_on(s); k++) {
        for (i = 0; i < s->count; i++)
            middle[i] = (inside[i] + outside[i]) / 2;
        one_point(s, middle, &f, &h);
        memcpy(h <= 0 ? inside : outside, middle, s->count * sizeof *middle);
    }
}

static void search_from(struct several *s, const double *start)
{
    nlopt_opt search = nlopt_create(NLOPT_LD_SLSQP, s->count);
    double x[DREGS_VARIED_MOST], least;

    if (!search) {
        s->p->status = DREGS_NO_MEMORY;
        return;
    }
    memcpy(x, start, s->count * sizeof *x);
    s->known = 0;
    (void)nlopt_set_lower_bounds1(search, 0.0);
    (void)nlopt_set_upper_bounds1(search, 1.0);
    (void)nlopt_set_min_objective(search, objective, s);
    (void)nlopt_add_inequality_constraint(search, constraint, s, 0.0);
    (void)nlopt_set_xtol_rel(search, 1e-9);
    (void)nlopt_set_ftol_rel(search, 1e-12);
    (void)nlopt_set_maxeval(search, EVALUATIONS);
    /* a search that stops early for rounding has still tried points that count */
    (void)nlopt_optimize(search, x, &least);
    nlopt_destroy(search);
    close_up(s, x);
}

/* The values that need not be whole, the whole ones being set. */
static void search_rest(struct several *s)
{
    double start[DREGS_VARIED_MOST] = {0}, f, h;
    unsigned i, k;

    if (s->count == 0) {
        one_point(s, start, &f, &h);
        return;
    }
    for (k = 0; k < STARTS && go_on(s); k++) {
        for (i = 0; i < s->count; i++)
            start[i] = k == 0 ? 1.0 : k == 1 ? 0.5 : 0.8 - 0.3 * (double)(i % 2);
        one_point(s, start, &f, &h);
        search_from(s, start);
    }
}

/* The first whole number that is not set yet, its best value and with it the rest. */
static void search_whole(struct several *s, unsigned from)
{
    const struct varied *varied = s->p->varied;
    double value, best, step, before;

    while (from < s->p->count && !varied[from].whole)
        from++;
    if (from == s->p->count) {
        search_rest(s);
        return;
    }
    for (value = varied[from].low; go_on(s);
         value = value * 2 < varied[from].high ? value * 2 : varied[from].high) {
        s->value[from] = value;
        search_whole(s, from + 1);
        if (value >= varied[from].high)
            break;
    }
    if (!isfinite(s->best_expense))
        return;
    /* around the best of 1, 2, 4, 8 ...: halve the step as long as it leads anywhere */
    for (step = floor(s->best[from] / 2); step >= 1 && go_on(s); step = floor(step / 2)) {
        best = s->best[from];
        before = s->best_expense;
        if (best + step <= varied[from].high) {
            s->value[from] = best + step;
            search_whole(s, from + 1);
        }
        if (s->best_expense >= before && best - step >= varied[from].low) {
            s->value[from] = best - step;
            search_whole(s, from + 1);
        }
    }
}

void dregs_size_several(struct problem *p)
{
    struct several s = {p, {0}, 0, {0}, 0, {0}, 0, 0, {0}, {0}, {0}, HUGE_VAL, {0}, HUGE_VAL};
    unsigned i;

    for (i = 0; i < p->count; i++) {
        s.value[i] = s.nearest[i] = p->varied[i].low;
        if (!p->varied[i].whole)
            s.free[s.count++] = i;
    }
    search_whole(&s, 0);
    if (!p->status)
        dregs_size_accept(p, isfinite(s.best_expense) ? s.best : s.nearest);
}
