/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* several.c: several properties, the least liquid (or cost) that meets the target.
 *
 * Numbers that need not be whole: one alone is closed in on between an end of its range that meets
 * the target and one that misses it, as the least expense lies at the boundary where both go one
 * way. More are sought by NLopt's SLSQP (Kraft 1988) over the unit cube: each range, or its
 * logarithm, mapped to 0..1. The gradient is by differences. That search is local; it is begun at
 * three places, and proof.c says how much less any other values could take. Whole numbers are gone
 * through around it, see whole.c.
 */
#include "size/several.h"

#include <math.h>
#include <nlopt.h>
#include <string.h>

enum { EVALUATIONS = 60, STARTS = 3, CLOSING = 60 };

/* How far within the limit the search aims: what is left after rounding still meets it. */
#define AIM  1e-7
#define STEP 1e-6

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

/* ln of what is held finite: a line that is refused counts as very dirty and dear. */
static double height(double of)
{
    return isfinite(of) ? log(fmax(of, 1e-300)) : 50.0;
}

void dregs_size_point(struct several *s, const double *x, double *f, double *h)
{
    struct outcome outcome;
    struct quick quick;
    unsigned i;

    for (i = 0; i < s->rests; i++)
        s->clean[s->rest[i]] = s->cheap[s->rest[i]] =
            from_unit(&s->p->varied[s->rest[i]], fmin(fmax(x[i], 0), 1));
    if (s->quick) {
        dregs_size_try_quick(s->p, s->clean, s->cheap, &quick);
    } else {
        dregs_size_try(s->p, s->clean, &outcome);
        quick = (struct quick){outcome.excess, outcome.expense, isfinite(outcome.expense)};
    }
    *h = height(quick.excess);
    *f = height(quick.expense);
    if (quick.excess <= 1 && quick.expense < s->expense) {
        s->expense = quick.expense;
        s->allowed = quick.allowed;
        memcpy(s->found, s->clean, sizeof s->found);
    }
    s->least_excess = fmin(s->least_excess, quick.excess);
}

static void evaluate(struct several *s, const double *x)
{
    double beside[DREGS_VARIED_MOST], f, h;
    unsigned i;

    if (s->known && memcmp(s->x, x, s->rests * sizeof *x) == 0)
        return;
    dregs_size_point(s, x, &s->f, &s->h);
    for (i = 0; i < s->rests; i++) {
        double step = x[i] + STEP <= 1 ? STEP : -STEP;
        memcpy(beside, x, s->rests * sizeof *x);
        beside[i] += step;
        dregs_size_point(s, beside, &f, &h);
        s->df[i] = (f - s->f) / step;
        s->dh[i] = (h - s->h) / step;
    }
    memcpy(s->x, x, s->rests * sizeof *x);
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

    dregs_size_point(s, x, &f, &h);
    if (!(h > 0) || !isfinite(s->expense))
        return;
    memcpy(outside, x, s->rests * sizeof *x);
    for (i = 0; i < s->rests; i++)
        inside[i] = to_unit(&s->p->varied[s->rest[i]], s->found[s->rest[i]]);
    for (k = 0; k < 30 && dregs_size_goes_on(s->p); k++) {
        for (i = 0; i < s->rests; i++)
            middle[i] = (inside[i] + outside[i]) / 2;
        dregs_size_point(s, middle, &f, &h);
        memcpy(h <= 0 ? inside : outside, middle, s->rests * sizeof *middle);
    }
}

static void search_from(struct several *s, const double *start)
{
    nlopt_opt search = nlopt_create(NLOPT_LD_SLSQP, s->rests);
    double x[DREGS_VARIED_MOST], least;

    if (!search) {
        s->p->status = DREGS_NO_MEMORY;
        return;
    }
    memcpy(x, start, s->rests * sizeof *x);
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

/* One value: from the ends of its range to the boundary between them, by the line through both
 * heights and, every third time, by halving. */
static void close_in_on_one(struct several *s)
{
    double met = 0, missed = 1, f, at_met, at_missed, x, h;
    int turn;

    dregs_size_point(s, &met, &f, &at_met);
    dregs_size_point(s, &missed, &f, &at_missed);
    if ((at_met <= 0) == (at_missed <= 0))
        return;
    if (at_met > 0) {
        x = met, met = missed, missed = x;
        h = at_met, at_met = at_missed, at_missed = h;
    }
    for (turn = 1; turn <= CLOSING && fabs(met - missed) > 1e-9 && dregs_size_goes_on(s->p);
         turn++) {
        double share = turn % 3 ? -at_met / (at_missed - at_met) : 0.5;
        x = met + fmin(fmax(share, 1e-6), 1 - 1e-6) * (missed - met);
        dregs_size_point(s, &x, &f, &h);
        if (h <= 0)
            met = x, at_met = h;
        else
            missed = x, at_missed = h;
        if (h <= 0 && h > -1e-8)
            break;
    }
}

void dregs_size_rest(struct several *s, unsigned starts)
{
    double start[DREGS_VARIED_MOST] = {0}, f, h;
    unsigned i, k;

    s->expense = s->least_excess = HUGE_VAL;
    s->allowed = 0;
    if (s->rests == 0) {
        dregs_size_point(s, start, &f, &h);
        return;
    }
    if (s->rests == 1) {
        close_in_on_one(s);
        return;
    }
    for (k = 0; k < starts && dregs_size_goes_on(s->p); k++) {
        for (i = 0; i < s->rests; i++)
            start[i] = k == 0 ? 1.0 : k == 1 ? 0.5 : 0.8 - 0.3 * (double)(i % 2);
        dregs_size_point(s, start, &f, &h);
        search_from(s, start);
    }
}

/* From the best values so far, the line's own among them. */
static void search_from_best(struct several *s)
{
    double start[DREGS_VARIED_MOST];
    unsigned i;

    if (s->rests < 2 || !isfinite(s->p->best_expense) || !dregs_size_goes_on(s->p))
        return;
    for (i = 0; i < s->rests; i++)
        start[i] = to_unit(&s->p->varied[s->rest[i]], s->p->best[s->rest[i]]);
    search_from(s, start);
}

/* How much less others could take; from a better place that turns up on the way once more to the
 * boundary. */
static void prove(struct several *s)
{
    double before = s->p->best_expense;
    int proven = 1;

    if (!s->p->status && isfinite(before)) {
        s->p->sized->possible = dregs_size_prove(s, &proven);
        if (s->p->best_expense < before)
            search_from_best(s);
    }
    s->p->sized->ended = !proven || !dregs_size_goes_on(s->p);
}

void dregs_size_several(struct problem *p)
{
    struct several s = {.p = p, .expense = HUGE_VAL, .least_excess = HUGE_VAL};
    unsigned i;

    for (i = 0; i < p->count; i++) {
        s.clean[i] = s.cheap[i] = p->varied[i].low;
        if (p->varied[i].whole)
            s.whole[s.wholes++] = i;
        else
            s.rest[s.rests++] = i;
    }
    if (s.wholes > 0) {
        dregs_size_whole(&s);
    } else {
        search_from_best(&s);
        dregs_size_rest(&s, STARTS);
        search_from_best(&s);
        prove(&s);
    }
    if (!p->status)
        dregs_size_accept(p, isfinite(p->best_expense) ? p->best : p->nearest);
}
