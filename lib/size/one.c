/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* one.c: one property, the value at which the target is just met.
 *
 * ln(residue / limit) is sought to be 0 by Brent's method on a bracket, over the logarithm of the
 * value where the range is above 0. Where both ends of the range stand on the same side, points
 * between them are tried before the answer is given up.
 */
#include "base/root.h"
#include "size/several.h"

#include <gsl/gsl_errno.h>
#include <math.h>

enum { BETWEEN = 16, STEPS = 60 };

struct search {
    struct problem *p;
    int logarithmic;
};

static double to_value(const struct search *s, double x)
{
    const struct varied *varied = s->p->varied;
    double value = s->logarithmic ? exp(x) : x;

    return fmin(fmax(value, varied->low), varied->high);
}

static double to_x(const struct search *s, double value)
{
    return s->logarithmic ? log(value) : value;
}

/* ln(residue / limit), held finite: a line that is refused counts as very dirty. */
static double height(double x, void *user)
{
    const struct search *s = user;
    double value = to_value(s, x);
    struct outcome outcome;

    dregs_size_try(s->p, &value, &outcome);
    return isfinite(outcome.excess) ? log(fmax(outcome.excess, 1e-300)) : 700.0;
}

/* A bracket with the target met at one end and missed at the other, closed by Brent's method to
 * 1e-7 of the value; returns the end at which it is met. */
static double close_bracket(struct search *s, double met, double missed)
{
    struct dregs_bracket bracket;
    gsl_function function = {height, s};
    double low = fmin(met, missed), high = fmax(met, missed), root, width;
    int step;

    if (dregs_bracket_set(&bracket, &function, low, high) == GSL_SUCCESS)
        for (step = 0; step < STEPS && !s->p->status; step++) {
            double a, b;
            if (gsl_root_fsolver_iterate(&bracket.solver) != GSL_SUCCESS)
                break;
            a = gsl_root_fsolver_x_lower(&bracket.solver);
            b = gsl_root_fsolver_x_upper(&bracket.solver);
            /* a logarithm is held to an absolute width; in SI a flow of use is far below 1 */
            if (b - a <= 1e-8 * (s->logarithmic ? 1.0 : fmax(fabs(a), fabs(b))))
                break;
        }
    root = gsl_root_fsolver_root(&bracket.solver);
    /* from the root towards the side where it is met, until it is */
    width = 1e-8 * (s->logarithmic ? 1.0 : fmax(fabs(root), 1e-12));
    for (step = 0; step < STEPS && !s->p->status; step++, width *= 4) {
        double x = met < missed ? root - width : root + width;
        if ((met < missed && x <= met) || (met > missed && x >= met))
            break;
        if (height(x, s) <= 0)
            return x;
    }
    return met;
}

/* Both ends meet the target, or neither does: look between them. */
static int look_between(struct search *s, double low, double high, int wanted, double *found,
                        double *neighbour, double *nearest)
{
    double best = HUGE_VAL, last = low;
    int i;

    for (i = 1; i < BETWEEN && !s->p->status; i++) {
        double x = low + (high - low) * i / BETWEEN, h = height(x, s);
        if (h < best) {
            best = h;
            *nearest = x;
        }
        if ((h <= 0) == wanted) {
            *found = x;
            *neighbour = last;
            return 1;
        }
        last = x;
    }
    return 0;
}

/* The end of the range that takes least liquid; at equal use the one with less effort. */
static double cheaper_end(struct search *s, double low, double high)
{
    struct outcome at_low, at_high;
    double value = to_value(s, low);

    dregs_size_try(s->p, &value, &at_low);
    value = to_value(s, high);
    dregs_size_try(s->p, &value, &at_high);
    if (s->p->varied->more_is_easier)
        return high;
    return at_high.expense < at_low.expense * (1 - 1e-12) ? high : low;
}

static void size_continuous(struct problem *p)
{
    struct search s = {p, p->varied->low > 0 && p->varied->high / p->varied->low > 10};
    double low = to_x(&s, p->varied->low), high = to_x(&s, p->varied->high);
    double at_low = height(low, &s), at_high = height(high, &s), answer, other, near = low;

    if (p->status)
        return;
    if (at_low <= 0 && at_high <= 0) {
        p->sized->throughout = 1;
        answer = cheaper_end(&s, low, high);
    } else if (at_low <= 0 || at_high <= 0) {
        answer = at_low <= 0 ? close_bracket(&s, low, high) : close_bracket(&s, high, low);
    } else if (look_between(&s, low, high, 1, &answer, &other, &near)) {
        answer = close_bracket(&s, answer, other);
    } else {
        answer = at_low <= at_high ? low : high;
        if (height(near, &s) < fmin(at_low, at_high))
            answer = near;
    }
    other = to_value(&s, answer);
    dregs_size_accept(p, &other);
}

/* A whole number and ln(residue / limit) there; infinite where the line is refused. */
struct number {
    double value, height;
};

typedef double judge(struct problem *p, double value);

static double height_at(struct problem *p, double value)
{
    struct outcome outcome;

    dregs_size_try(p, &value, &outcome);
    return isfinite(outcome.excess) ? log(fmax(outcome.excess, 1e-300)) : HUGE_VAL;
}

/* The same by the quick judgement: nearly always right, however long the period is. */
static double height_quickly(struct problem *p, double value)
{
    struct quick quick;

    if (p->criterion.by != DREGS_CRITERION_EVER)
        return height_at(p, value);
    dregs_size_try_quick(p, &value, &value, &quick);
    return isfinite(quick.excess) && quick.allowed ? log(fmax(quick.excess, 1e-300)) : HUGE_VAL;
}

/* The number nearest to `value` between two others that makes a line, judged: some numbers of loads
 * fall together with other dumps too seldom to be allowed. 0 when there is none. */
static int try_near(struct problem *p, judge *judged, double value, double low, double high,
                    struct number *found)
{
    double off;

    for (off = 0; !p->status && (value - off > low || value + off < high); off++) {
        found->value = value - off;
        if (found->value > low && isfinite(found->height = judged(p, found->value)))
            return 1;
        found->value = value + off;
        if (off > 0 && found->value < high && isfinite(found->height = judged(p, found->value)))
            return 1;
    }
    return 0;
}

/* Between a number that meets the target and a higher one that misses it: closes in on the last
 * that meets it, by the line through both heights and, every third time, by halving. */
static void close_in(struct problem *p, judge *judged, struct number *met, struct number *missed)
{
    struct number middle;
    int turn;

    for (turn = 1; missed->value - met->value > 1 && !p->status; turn++) {
        double share = turn % 3 && isfinite(missed->height)
                           ? -met->height / (missed->height - met->height)
                           : 0.5;
        double value = met->value + floor(share * (missed->value - met->value));
        value = fmin(fmax(value, met->value + 1), missed->value - 1);
        if (!try_near(p, judged, value, met->value, missed->value, &middle))
            return;
        *(middle.height <= 0 ? met : missed) = middle;
    }
}

/* From a number that misses the target, though the first loads let it seem met: down to one that
 * meets it, by what its height and the slope there tell. 0 when none does. */
static int step_down(struct problem *p, double slope, struct number *met, struct number *missed)
{
    double step = slope > 0 ? fmax(1, ceil(missed->height / slope)) : 1;

    while (missed->value > p->varied->low && !p->status) {
        double value = fmax(missed->value - step, p->varied->low);
        if (!try_near(p, height_at, value, p->varied->low - 1, missed->value, met))
            return 0;
        if (met->height <= 0)
            return 1;
        *missed = *met;
        step *= 2;
    }
    return 0;
}

/* The largest whole number that meets the target: more loads between dumps leave more. */
static void size_whole(struct problem *p)
{
    const struct varied *varied = p->varied;
    const struct several alone = {.p = p, .wholes = 1};
    struct number met = {varied->low, 0}, missed = {varied->high + 1, HUGE_VAL}, next;
    double slope, answer = varied->low;

    met.height = height_quickly(p, met.value);
    for (next = met; next.height <= 0 && met.value < varied->high && !p->status;) {
        if (!try_near(p, height_quickly, fmin(2 * met.value, varied->high), met.value,
                      varied->high + 1, &next))
            break;
        *(next.height <= 0 ? &met : &missed) = next;
    }
    if (met.height <= 0) {
        close_in(p, height_quickly, &met, &missed);
        slope = (missed.height - met.height) / (missed.value - met.value);
        missed.value = met.value;
        missed.height = height_at(p, met.value); /* as it was asked for: seldom more */
        if (missed.height <= 0)
            answer = met.value;
        else if (step_down(p, isfinite(slope) ? slope : 0, &met, &missed)) {
            close_in(p, height_at, &met, &missed);
            answer = met.value;
        }
    }
    dregs_size_accept(p, &answer);
    if (dregs_size_is_linked(&alone)) /* then a larger number may take more */
        dregs_size_several(p);
    p->sized->throughout = p->sized->feasible && p->sized->value[0] >= varied->high;
}

void dregs_size_one_further(struct problem *p)
{
    struct search s = {p, p->varied->low > 0 && p->varied->high / p->varied->low > 10};
    double from = p->sized->value[0], best = p->best[0], beyond = NAN;
    unsigned i, kept = p->sized->trials < TRIALS_MOST ? p->sized->trials : TRIALS_MOST;

    /* the next trial that missed the target, in the direction away from the answer so far */
    for (i = 0; i < kept; i++) {
        double value = p->sized->trial[i].value[0];
        if (p->sized->trial[i].excess > p->aim * p->margin && (value - best) * (best - from) > 0 &&
            !(fabs(value - best) >= fabs(beyond - best)))
            beyond = value;
    }
    if (!p->varied->whole && !isnan(beyond))
        (void)close_bracket(&s, to_x(&s, best), to_x(&s, beyond));
}

void dregs_size_one(struct problem *p)
{
    if (p->varied->whole)
        size_whole(p);
    else
        size_continuous(p);
}
