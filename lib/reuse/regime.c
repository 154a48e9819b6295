/* SPDX-License-Identifier: GPL-3.0-or-later */
/* regime.c: the readings one after the other, outliers among them, and changes for good.
 *
 * Each reading is held against what the rows before it let expect (a linear-Gaussian filter of the
 * unknowns about the fitted line). What is off, in standard deviations, is normal with mean 0 and
 * variance 1 as long as nothing changes, and adds up in a two-sided cumulative sum (Page 1954,
 * Biometrika 41, 100), tuned to a shift of two standard deviations. When it passes its alarm the
 * change began where the sum last left zero; what it was is the one explanation that, fitted from
 * there on, leaves least over.
 */
#include "line/line.h"
#include "reuse/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define OUTLIER    4.0   /* standard deviations; one in 16,000 readings by chance */
#define ORDINARY   3.0   /* and the next one is not beyond */
#define SLACK      1.0   /* half the shift that the sum is tuned to */
#define FALSE_RATE 0.005 /* of logs in which an alarm is false */
#define LATE       2.0   /* loads, one standard deviation: how late a slow change shows */
#define ALIKE      4.0   /* chi squared: two explanations that cannot be told apart */

enum { LEAST_BEFORE = 3 };

/* By how much the height is raised because the scatter is only estimated: one log in a hundred has
 * a true scatter, squared, that is larger than the estimate by this factor, and the run length goes
 * with the height divided by it. */
static double raised(const dregs_reuse *reuse)
{
    double most = 1.0, freedom;
    unsigned c;

    for (c = 0; c < reuse->channels; c++) {
        freedom = reuse->channel[c].freedom;
        if (freedom > 0)
            most = fmax(most, freedom / gsl_cdf_chisq_Pinv(0.01, freedom));
    }
    return most;
}

/* The height of the alarm for so many readings. Siegmund's approximation of the run length of a
 * one-sided sum, (exp(2 k b) - 1 - 2 k b) / (2 k^2) with b = h + 1.166 (Siegmund 1985, "Sequential
 * Analysis", chapter 10; from memory), for k = 1; both sides count. */
static double alarm_height(const dregs_reuse *reuse, size_t readings)
{
    double b, run = 2.0 * (double)(readings > 10 ? readings : 10) / FALSE_RATE;

    b = 0.5 * log(2.0 * run);
    b = 0.5 * log(2.0 * run + 1.0 + 2.0 * b);
    return b * raised(reuse) - 1.166;
}

struct filter {
    dregs_reuse *reuse;
    struct regime *regime;
    size_t to;
    double *expected, *slopes;
    unsigned n;
    double m[Q_MOST], p[Q_MOST][Q_MOST]; /* about the fitted unknowns */
    double up[CHANNELS_MOST], down[CHANNELS_MOST];
    size_t up_begin[CHANNELS_MOST], down_begin[CHANNELS_MOST];
    double height;
    int stops; /* at a change */
};

/* How far off a reading is, in standard deviations; its variance and the gain when wanted. */
static double off(const struct filter *f, size_t i, double *variance, double *gain)
{
    const double *slope = f->slopes + i * Q_MOST;
    double sd = dregs_reuse_meter_sd(f->reuse, i, f->expected[i]);
    double e = dregs_readings_at(f->reuse->readings, i)->value - f->expected[i], v = sd * sd;
    unsigned a, b;

    for (a = 0; a < f->n; a++) {
        gain[a] = 0;
        for (b = 0; b < f->n; b++)
            gain[a] += f->p[a][b] * slope[b];
        v += slope[a] * gain[a];
        e -= slope[a] * f->m[a];
    }
    *variance = v;
    return e / sqrt(v);
}

static void learn(struct filter *f, double z, double variance, const double *gain)
{
    unsigned a, b;

    for (a = 0; a < f->n; a++)
        f->m[a] += gain[a] * z / sqrt(variance);
    for (a = 0; a < f->n; a++)
        for (b = 0; b < f->n; b++)
            f->p[a][b] -= gain[a] * gain[b] / variance;
}

static int usable(const struct filter *f, size_t i)
{
    return dregs_readings_at(f->reuse->readings, i)->what != DREGS_MEASURED_DUMP &&
           f->reuse->heard[i].heard != DREGS_HEARD_UNUSABLE && isfinite(f->expected[i]);
}

/* The next reading of the same meter in the same stage; `to` for none. */
static size_t next_of(const struct filter *f, size_t i)
{
    size_t k;

    for (k = i + 1; k < f->to; k++)
        if (usable(f, k) && f->reuse->channel_of[k] == f->reuse->channel_of[i])
            break;
    return k;
}

static dregs_heard judge(const struct filter *f, size_t i, double z)
{
    double variance, gain[Q_MOST], other;
    size_t next = next_of(f, i);

    if (fabs(z) <= OUTLIER)
        return DREGS_HEARD_USED;
    if (next == f->to)
        return f->to == f->reuse->count ? DREGS_HEARD_ALONE : DREGS_HEARD_USED;
    other = off(f, next, &variance, gain);
    return fabs(other) < ORDINARY || other * z < 0 ? DREGS_HEARD_OUTLIER : DREGS_HEARD_USED;
}

/* Adds to both sums of a meter; 1 with the first reading of the change when one passes the alarm.
 */
static int sums(struct filter *f, size_t i, double z, size_t *begin)
{
    unsigned c = f->reuse->channel_of[i];

    if (f->up[c] <= 0)
        f->up_begin[c] = i;
    if (f->down[c] <= 0)
        f->down_begin[c] = i;
    f->up[c] = fmax(0.0, f->up[c] + z - SLACK);
    f->down[c] = fmax(0.0, f->down[c] - z - SLACK);
    if (f->up[c] <= f->height && f->down[c] <= f->height)
        return 0;
    *begin = f->up[c] > f->height ? f->up_begin[c] : f->down_begin[c];
    f->up[c] = f->down[c] = 0;
    return 1;
}

static size_t used_between(const dregs_reuse *reuse, size_t from, size_t to)
{
    size_t i, count = 0;

    for (i = from; i < to; i++)
        count += reuse->heard[i].heard == DREGS_HEARD_USED;
    return count;
}

static void begin_filter(struct filter *f)
{
    const struct regime *regime = f->regime;
    unsigned a;
    size_t i;

    f->n = regime->before.count;
    for (a = 0; a < f->n; a++)
        f->m[a] = regime->before.mean[a] - regime->after.mean[a];
    memcpy(f->p, regime->before.cov, sizeof f->p);
    memset(f->up, 0, sizeof f->up);
    memset(f->down, 0, sizeof f->down);
    for (i = regime->about.begin; i < f->to; i++) {
        f->reuse->heard[i].expected = f->expected[i];
        if (usable(f, i))
            f->reuse->heard[i].heard = DREGS_HEARD_USED;
    }
    f->height = alarm_height(f->reuse, used_between(f->reuse, 0, f->reuse->count));
    f->reuse->basis.alarm = f->height;
}

/* Hears the readings of the regime. Returns 1 when a change was found: its first reading, and the
 * one at which it was noticed. */
static int hear(struct filter *f, size_t *begin, size_t *found)
{
    double variance, gain[Q_MOST], z;
    size_t i;

    begin_filter(f);
    for (i = f->regime->about.begin; i < f->to; i++) {
        dregs_heard_reading *heard = &f->reuse->heard[i];
        if (!usable(f, i))
            continue;
        z = off(f, i, &variance, gain);
        heard->off = z;
        heard->sd = dregs_reuse_meter_sd(f->reuse, i, f->expected[i]);
        heard->heard = judge(f, i, z);
        if (heard->heard != DREGS_HEARD_USED)
            continue;
        if (sums(f, i, z, begin) && f->stops &&
            used_between(f->reuse, f->regime->about.begin, *begin) >= LEAST_BEFORE) {
            *found = i;
            return 1;
        }
        learn(f, z, variance, gain);
    }
    return 0;
}

static dregs_status filter_new(struct filter *f, dregs_reuse *reuse, struct regime *regime,
                               size_t to)
{
    memset(f, 0, sizeof *f);
    f->reuse = reuse;
    f->regime = regime;
    f->to = to;
    f->expected = malloc((reuse->count + 1) * (1 + Q_MOST) * sizeof *f->expected);
    if (!f->expected)
        return DREGS_NO_MEMORY;
    f->slopes = f->expected + reuse->count + 1;
    return dregs_reuse_slopes(reuse, regime, regime->after.mean, to, f->expected, f->slopes);
}

/* A new regime begins somewhere between the reading before its first one and that one, or, as a
 * slow change shows late, some loads earlier. */
static void place(const dregs_reuse *reuse, const struct regime *old, struct regime *next,
                  double *sd)
{
    size_t first = next->about.first, last = first;
    double at = (double)dregs_readings_at(reuse->readings, first)->at, before = at;

    while (last > old->about.begin && reuse->heard[last].heard != DREGS_HEARD_USED)
        last--;
    while (last > old->about.begin && before >= at)
        before = (double)dregs_readings_at(reuse->readings, --last)->at;
    next->middle = (before + at) / 2;
    *sd = sqrt(pow(at - before, 2) / 12 + LATE * LATE);
    for (next->from = next->about.begin; next->from > old->about.begin; next->from--)
        if ((double)dregs_readings_at(reuse->readings, next->from - 1)->at < next->middle - 4 * *sd)
            break;
}

/* What a new regime starts from: a moment that surely lies before it, under the old one. */
static dregs_status start_of(const dregs_reuse *reuse, const struct regime *old,
                             struct regime *next)
{
    double *expected = malloc((reuse->count + 1) * sizeof *expected);
    dregs_status status = expected
                              ? dregs_reuse_engine_at(reuse, old, old->after.mean, &next->start)
                              : DREGS_NO_MEMORY;

    if (!status)
        status = dregs_reuse_march(reuse, &next->start, old->about.begin, next->from, expected);
    free(expected);
    return status;
}

/* An unknown of a change: it is another's with every regime. */
static int begins_anew(unsigned unknown)
{
    return unknown >= Q_BEGIN && unknown != Q_FRESH;
}

/* A regime after `old` in which one thing may be another. */
static void candidate(const dregs_reuse *reuse, const struct regime *old, dregs_regime_kind kind,
                      int which, struct regime *made)
{
    unsigned freed = kind == DREGS_REGIME_DRAG_OUT  ? Q_DRAG_OUT
                     : kind == DREGS_REGIME_SOIL    ? Q_SOIL
                     : kind == DREGS_REGIME_CONTENT ? Q_LEVEL
                                                    : Q_EXTRA;
    unsigned a, b;

    made->about.kind = kind;
    made->about.which = which;
    made->about.solute = kind == DREGS_REGIME_DIRTY ? (unsigned)reuse->dirt_solute[which] : 0;
    made->settled = dregs_reuse_regime_alteration(reuse, old, old->after.mean);
    made->before = old->after;
    made->before.count = kind == DREGS_REGIME_FIRST ? Q_BEGIN
                         : freed == Q_EXTRA         ? Q_EXTRA + 1
                                                    : Q_BEGIN + 1;
    for (a = 0; a < Q_MOST; a++)
        for (b = 0; b < Q_MOST; b++)
            if (a == freed || b == freed || begins_anew(a) || begins_anew(b))
                made->before.cov[a][b] = 0;
    for (a = Q_BEGIN; a < Q_FRESH; a++)
        made->before.mean[a] = 0;
    if (kind == DREGS_REGIME_FIRST) { /* nothing changed: for comparison */
        made->before = old->after;
        made->before.count = Q_BEGIN;
        dregs_reuse_idle(reuse, &made->before);
        return;
    }
    made->before.mean[Q_BEGIN] = 0;
    made->before.cov[Q_BEGIN][Q_BEGIN] = made->late * made->late;
    made->before.cov[freed][freed] = kind == DREGS_REGIME_DIRTY     ? 9.0
                                     : kind == DREGS_REGIME_CONTENT ? 4.0
                                                                    : 1.0;
    if (freed == Q_EXTRA)
        made->before.mean[Q_EXTRA] = kind == DREGS_REGIME_FLOW ? 1.0 : 0.0;
    /* a stage's flow is one factor in all: what is sought begins at what it was */
    if (kind == DREGS_REGIME_FLOW && made->settled.flow_of == which)
        made->before.mean[Q_EXTRA] = made->settled.flow;
    /* dirty liquid comes in with the dump before the first reading, if there was one */
    if (kind == DREGS_REGIME_DIRTY && made->about.begin < made->about.first)
        made->middle = (double)dregs_readings_at(reuse->readings, made->about.begin)->at - 0.5;
    if (kind == DREGS_REGIME_DIRTY && made->settled.dirty == which)
        made->before.mean[Q_EXTRA] = made->settled.dirt / reuse->dirt_unit;
    dregs_reuse_idle(reuse, &made->before);
}

struct choice {
    const dregs_reuse *reuse;
    const struct regime *old;
    struct regime *next; /* begin and start are set; takes the best explanation */
    size_t to;
    double best, second;
    struct regime found;
    int second_kind, second_which;
};

static dregs_status try_one(struct choice *c, dregs_regime_kind kind, int which)
{
    struct regime trial = *c->next;
    double chi;
    dregs_status status;

    candidate(c->reuse, c->old, kind, which, &trial);
    status = dregs_reuse_fit(c->reuse, &trial, c->to, &chi);
    if (status) /* an explanation that cannot be followed is none */
        return status == DREGS_NO_MEMORY ? status : DREGS_OK;
    if (chi < c->best) {
        c->second = c->best;
        c->second_kind = (int)c->found.about.kind;
        c->second_which = c->found.about.which;
        c->best = chi;
        c->found = trial;
    } else if (chi < c->second) {
        c->second = chi;
        c->second_kind = (int)kind;
        c->second_which = which;
    }
    return DREGS_OK;
}

/* 1 when the liquid fills or feeds a rinse. */
static int rinses(const dregs_line *line, unsigned fluid)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (dregs_stage_is(stage, DREGS_STAGE_TANK | DREGS_STAGE_RINSES) && !stage->shares.row &&
            (stage->liquid.index == fluid || (stage->flow.si > 0 && stage->feed.index == fluid)))
            return 1;
    }
    return 0;
}

/* The explanation that leaves least over, into c->next. */
static dregs_status explain(struct choice *c)
{
    const dregs_line *line = c->reuse->line;
    const struct alteration was =
        dregs_reuse_regime_alteration(c->reuse, c->old, c->old->after.mean);
    struct regime same = *c->next;
    double none = NAN;
    dregs_status status;
    unsigned i;

    c->best = c->second = HUGE_VAL;
    c->second_kind = c->second_which = -1;
    candidate(c->reuse, c->old, DREGS_REGIME_FIRST, -1, &same);
    status = dregs_reuse_fit(c->reuse, &same, c->to, &none);
    if (status != DREGS_NO_MEMORY)
        status = try_one(c, DREGS_REGIME_DRAG_OUT, -1);
    if (!status)
        status = try_one(c, DREGS_REGIME_SOIL, -1);
    if (!status)
        status = try_one(c, DREGS_REGIME_CONTENT, -1);
    for (i = 0; i < dregs_line_stages(line) && !status; i++)
        if (dregs_line_stage(line, i)->flow.si > 0 &&
            (was.flow_of < 0 || was.flow_of == (int)i)) /* one changed flow at a time */
            status = try_one(c, DREGS_REGIME_FLOW, (int)i);
    for (i = 0; i < dregs_line_fluids(line) && !status; i++)
        if (rinses(line, i) && (was.dirty < 0 || was.dirty == (int)i))
            status = try_one(c, DREGS_REGIME_DIRTY, (int)i);
    if (status || !isfinite(c->best))
        return status ? status : DREGS_NUMERIC;
    *c->next = c->found;
    c->next->about.gain = none - c->best;
    c->next->about.rival = c->second < c->best + ALIKE ? c->second_kind : -1;
    c->next->about.rival_which = c->second_which;
    return DREGS_OK;
}

/* One pass over a regime whose readings end at `to`: outliers set aside, and, where `change` is not
 * NULL, the change that ends it. */
struct change {
    int found_one;
    size_t begin, found;
};

static dregs_status pass(dregs_reuse *reuse, unsigned regime, size_t to, struct change *change)
{
    struct filter f;
    size_t begin = 0, found = 0;
    dregs_status status = filter_new(&f, reuse, &reuse->regime[regime], to);
    int changed;

    f.stops = change != NULL;
    changed = !status && hear(&f, &begin, &found);
    if (change)
        *change = (struct change){changed, begin, found};
    free(f.expected);
    return status;
}

/* Begins the regime after the last one. */
static dregs_status begin_next(dregs_reuse *reuse, size_t begin, size_t found)
{
    struct regime *old = &reuse->regime[reuse->regimes - 1], *next = old + 1;
    struct choice c;
    dregs_status status = dregs_reuse_fit(reuse, old, begin, NULL);

    if (status)
        return status;
    memset(next, 0, sizeof *next);
    next->about.first = begin;
    next->about.found = found;
    /* a dump just before it may be what changed: the liquid that came in */
    while (begin > old->about.begin + 1 &&
           dregs_readings_at(reuse->readings, begin - 1)->what == DREGS_MEASURED_DUMP)
        begin--;
    next->about.begin = begin;
    status = pass(reuse, reuse->regimes - 1, begin, NULL);
    if (status)
        return status;
    place(reuse, old, next, &next->late);
    status = start_of(reuse, old, next);
    if (status)
        return status;
    reuse->regimes++;
    memset(&c, 0, sizeof c);
    c.reuse = reuse;
    c.old = old;
    c.next = next;
    c.to = reuse->count;
    return explain(&c);
}

/* A change in the last regime that its explanation still holds other readings for is explained
 * anew from its own readings alone, once they are known to end at `to`. */
static dregs_status explain_again(dregs_reuse *reuse, size_t to)
{
    struct choice c;

    if (reuse->regimes < 2)
        return DREGS_OK;
    memset(&c, 0, sizeof c);
    c.reuse = reuse;
    c.next = &reuse->regime[reuse->regimes - 1];
    c.old = c.next - 1;
    c.to = to;
    return explain(&c);
}

static dregs_status fit_last(dregs_reuse *reuse)
{
    return dregs_reuse_fit(reuse, &reuse->regime[reuse->regimes - 1], reuse->count, NULL);
}

/* The next change in the last regime. What is expected is first worked out for the fit of all its
 * readings, those after a change among them, and may be far off for it: a change is held against
 * the fit of what lies before it alone, and when it is none, the search goes on from what was heard
 * so far. */
static dregs_status next_change(dregs_reuse *reuse, struct change *change)
{
    unsigned last = reuse->regimes - 1;
    struct change again = {0, 0, 0};
    size_t heard = 0;
    dregs_status status = pass(reuse, last, reuse->count, change);

    while (!status && change->found_one && change->found >= heard) {
        heard = change->found + 1;
        status = dregs_reuse_fit(reuse, &reuse->regime[last], change->begin, NULL);
        if (!status)
            status = pass(reuse, last, heard, &again);
        if (status || again.found_one) {
            *change = again;
            return status;
        }
        status = dregs_reuse_fit(reuse, &reuse->regime[last], heard, NULL);
        if (!status)
            status = pass(reuse, last, reuse->count, change);
    }
    change->found_one = 0;
    return status;
}

dregs_status dregs_reuse_listen(dregs_reuse *reuse)
{
    struct change change = {0, 0, 0};
    dregs_status status = fit_last(reuse);

    if (!status)
        status = pass(reuse, 0, reuse->count, NULL); /* what is expected, for the noise */
    if (!status)
        status = dregs_reuse_noise(reuse, 1);
    if (!status)
        status = fit_last(reuse);
    while (!status && !reuse->stopped && reuse->regimes < DREGS_REGIMES_MOST) {
        status = next_change(reuse, &change);
        if (status || !change.found_one)
            break;
        status = explain_again(reuse, change.begin);
        if (!status)
            status = begin_next(reuse, change.begin, change.found);
    }
    if (!status) /* without the outliers, and with the scatter of what is left over */
        status = fit_last(reuse);
    if (!status)
        status = pass(reuse, reuse->regimes - 1, reuse->count, NULL);
    if (!status)
        status = dregs_reuse_noise(reuse, 0);
    if (!status)
        status = fit_last(reuse);
    if (!status)
        status = pass(reuse, reuse->regimes - 1, reuse->count, NULL);
    return status;
}
