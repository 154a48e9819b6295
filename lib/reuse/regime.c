/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
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
#define BEGUN      2.0   /* a last one is none where the one before it was as far off that way */
#define SLACK      1.0   /* half the shift that the sum is tuned to */
#define FALSE_RATE 0.005 /* of logs in which an alarm is false */
#define LATE       2.0   /* loads, one standard deviation: how late a slow change shows */
#define ALIKE      4.0   /* chi squared: two explanations that cannot be told apart */
#define ALONE      2.0   /* chi squared: by how much one stage alone is the less likely cause */

enum {
    LEAST_BEFORE = 3,
    WINDOW = 96, /* readings */
    AHEAD = 16
};

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
    struct unknowns unknowns;
    unsigned n;
    double m[Q_MOST], p[Q_MOST][Q_MOST]; /* about the fitted unknowns */
    double up[CHANNELS_MOST], down[CHANNELS_MOST];
    size_t up_begin[CHANNELS_MOST], down_begin[CHANNELS_MOST];
    double last[CHANNELS_MOST]; /* how far off its reading before was that was used */
    double height;
    int stops; /* at a change */
};

/* How far off a reading is, in standard deviations; its variance and the gain when wanted. */
static double off(const struct filter *f, size_t i, double *variance, double *gain)
{
    const double *slope = f->slopes + i * f->n;
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

static void learn(struct filter *f, size_t i, double raw, double variance, const double *gain)
{
    double share, z = dregs_reuse_taught(dregs_readings_at(f->reuse->readings, i), raw, &share);
    unsigned a, b;

    for (a = 0; a < f->n; a++)
        f->m[a] += gain[a] * z / sqrt(variance);
    for (a = 0; a < f->n; a++)
        for (b = 0; b < f->n; b++)
            f->p[a][b] -= share * gain[a] * gain[b] / variance;
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
    other = f->last[f->reuse->channel_of[i]];
    if (next == f->to)
        return f->to == f->reuse->count && !(fabs(other) > BEGUN && other * z > 0)
                   ? DREGS_HEARD_ALONE
                   : DREGS_HEARD_USED;
    other = dregs_reuse_beyond(dregs_readings_at(f->reuse->readings, next),
                               off(f, next, &variance, gain));
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
    unsigned a, b;
    size_t i;

    for (a = 0; a < f->n; a++) {
        unsigned k = f->unknowns.of[a];
        f->m[a] = regime->before.mean[k] - regime->after.mean[k];
        for (b = 0; b < f->n; b++)
            f->p[a][b] = regime->before.cov[k][f->unknowns.of[b]];
    }
    memset(f->up, 0, sizeof f->up);
    memset(f->down, 0, sizeof f->down);
    memset(f->last, 0, sizeof f->last);
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
    double variance, gain[Q_MOST], raw, z;
    size_t i;

    begin_filter(f);
    for (i = f->regime->about.begin; i < f->to; i++) {
        dregs_heard_reading *heard = &f->reuse->heard[i];
        if (!usable(f, i))
            continue;
        raw = off(f, i, &variance, gain);
        z = dregs_reuse_beyond(dregs_readings_at(f->reuse->readings, i), raw);
        heard->off = z;
        heard->sd = dregs_reuse_meter_sd(f->reuse, i, f->expected[i]);
        heard->heard = judge(f, i, z);
        if (heard->heard != DREGS_HEARD_USED)
            continue;
        f->last[f->reuse->channel_of[i]] = z;
        if (sums(f, i, z, begin) && f->stops &&
            used_between(f->reuse, f->regime->about.begin, *begin) >= LEAST_BEFORE) {
            *found = i;
            return 1;
        }
        learn(f, i, raw, variance, gain);
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
    f->unknowns = dregs_reuse_unknowns(&regime->before);
    f->n = f->unknowns.count;
    f->expected = malloc((reuse->count + 1) * (1 + (size_t)f->n) * sizeof *f->expected);
    if (!f->expected)
        return DREGS_NO_MEMORY;
    f->slopes = f->expected + reuse->count + 1;
    return dregs_reuse_slopes(reuse, regime, &f->unknowns, regime->after.mean, to, f->expected,
                              f->slopes);
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

/* unknown += change, which is itself one of them. */
static void add_change(struct belief *belief, unsigned unknown)
{
    unsigned k;

    belief->mean[unknown] += belief->mean[Q_CHANGE];
    for (k = 0; k < Q_MOST; k++)
        belief->cov[unknown][k] += belief->cov[Q_CHANGE][k];
    for (k = 0; k < Q_MOST; k++)
        belief->cov[k][unknown] += belief->cov[k][Q_CHANGE];
}

void dregs_reuse_behind(const dregs_reuse *reuse, const struct regime *old, const struct belief *of,
                        struct belief *into)
{
    unsigned i, k;

    *into = *of;
    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        if (old->about.kind == DREGS_REGIME_DRAG_OUT &&
            (old->about.which < 0 || old->about.which == (int)i) &&
            into->cov[Q_STAGE + i][Q_STAGE + i] > 0)
            add_change(into, Q_STAGE + i);
    if (old->about.kind == DREGS_REGIME_SOIL) {
        add_change(into, Q_SOIL);
        add_change(into, Q_ADHERING);
    }
    for (k = 0; k < Q_MOST; k++)
        into->cov[Q_BEGIN][k] = into->cov[k][Q_BEGIN] = into->cov[Q_CHANGE][k] =
            into->cov[k][Q_CHANGE] = 0;
    into->mean[Q_BEGIN] = into->mean[Q_CHANGE] = 0;
}

/* A regime after `old` in which one thing may be another. */
static void candidate(const dregs_reuse *reuse, const struct regime *old, dregs_regime_kind kind,
                      int which, struct regime *made)
{
    double mean = 0, variance = 1;

    made->chi = 0; /* not fitted */
    made->about.kind = kind;
    made->about.which = which;
    made->about.solute = kind == DREGS_REGIME_DIRTY ? (unsigned)reuse->dirt_solute[which] : 0;
    made->settled = dregs_reuse_regime_alteration(reuse, old, old->after.mean);
    dregs_reuse_behind(reuse, old, &old->after, &made->before);
    if (kind == DREGS_REGIME_FIRST) /* nothing changed: for comparison */
        return;
    if (kind == DREGS_REGIME_FLOW) /* a stage's flow is one factor in all */
        mean = made->settled.flow_of == which ? made->settled.flow : 1.0;
    if (kind == DREGS_REGIME_DIRTY) {
        variance = 9;
        if (made->settled.dirty == which)
            mean = made->settled.dirt / reuse->dirt_unit;
    }
    /* dirty liquid comes in with the dump before the first reading, if there was one; what a tank
     * held before that went with it */
    if ((kind == DREGS_REGIME_DIRTY || kind == DREGS_REGIME_CONTENT) &&
        made->about.begin < made->about.first)
        made->middle = (double)dregs_readings_at(reuse->readings, made->about.begin)->at - 0.5;
    if (kind == DREGS_REGIME_CONTENT)
        variance = 4;
    else /* a content is another at once, in the middle */
        made->before.cov[Q_BEGIN][Q_BEGIN] = made->late * made->late;
    made->before.mean[Q_CHANGE] = mean;
    made->before.cov[Q_CHANGE][Q_CHANGE] = variance;
}

/* What may have changed, each with its fit. */
struct choice {
    const dregs_reuse *reuse;
    const struct regime *old;
    struct regime *next; /* begin and start are set; takes the best explanation */
    size_t to;
    struct regime *tried;
    unsigned count;
};

static dregs_status try_one(struct choice *c, dregs_regime_kind kind, int which)
{
    struct regime *trial = &c->tried[c->count];
    dregs_status status;

    *trial = *c->next;
    candidate(c->reuse, c->old, kind, which, trial);
    status = dregs_reuse_fit(c->reuse, trial, c->to);
    if (status) /* an explanation that cannot be followed is none */
        return status == DREGS_NO_MEMORY ? status : DREGS_OK;
    c->count++;
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

static dregs_status try_all(struct choice *c)
{
    const dregs_line *line = c->reuse->line;
    const struct alteration was =
        dregs_reuse_regime_alteration(c->reuse, c->old, c->old->after.mean);
    dregs_status status = try_one(c, DREGS_REGIME_DRAG_OUT, -1);
    unsigned i, last = dregs_reuse_last_read(c->reuse);

    for (i = 0; i < last && !status; i++)
        if (dregs_reuse_has_film(c->reuse, i))
            status = try_one(c, DREGS_REGIME_DRAG_OUT, (int)i);
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
    return status;
}

/* By what explanations are compared: what they leave over; that one stage alone drags out otherwise
 * asks for a cause that the others have not. */
static double weight_of(const struct regime *trial)
{
    return trial->chi +
           (trial->about.kind == DREGS_REGIME_DRAG_OUT && trial->about.which >= 0 ? ALONE : 0.0);
}

static int by_weight(const void *a, const void *b)
{
    double x = weight_of(a), y = weight_of(b);

    return (x > y) - (x < y);
}

/* The explanation that leaves least over, and those that leave about as little, into c->next. */
static dregs_status choose(struct choice *c)
{
    struct regime *same = c->tried, *next = c->next,
                  *rivals = NULL; /* what is tried takes its place */
    double none = NAN;
    unsigned count = 0, k;
    dregs_status status;

    *same = *next;
    candidate(c->reuse, c->old, DREGS_REGIME_FIRST, -1, same);
    status = dregs_reuse_fit(c->reuse, same, c->to);
    none = status ? NAN : same->chi;
    if (status != DREGS_NO_MEMORY)
        status = try_all(c);
    if (status || c->count == 0)
        return status ? status : DREGS_NUMERIC;
    qsort(c->tried, c->count, sizeof *c->tried, by_weight);
    while (count + 1 < c->count && weight_of(&c->tried[count + 1]) < weight_of(c->tried) + ALIKE)
        count++;
    if (count) {
        rivals = malloc(count * sizeof *rivals);
        if (!rivals)
            return DREGS_NO_MEMORY;
        memcpy(rivals, c->tried + 1, count * sizeof *rivals);
    }
    free(next->rivals);
    *next = c->tried[0];
    next->rivals = rivals;
    next->rival_count = count;
    for (k = 0; k < count; k++) {
        rivals[k].rivals = NULL;
        rivals[k].rival_count = 0;
    }
    next->about.gain = none - next->chi;
    next->about.rival = count ? (int)rivals[0].about.kind : -1;
    next->about.rival_which = count ? rivals[0].about.which : -1;
    return DREGS_OK;
}

static dregs_status explain(const dregs_reuse *reuse, const struct regime *old, struct regime *next,
                            size_t to)
{
    struct choice c = {reuse, old, next, to, NULL, 0};
    dregs_status status;

    c.tried = malloc((3 + 2 * dregs_line_stages(reuse->line) + dregs_line_fluids(reuse->line)) *
                     sizeof *c.tried);
    if (!c.tried)
        return DREGS_NO_MEMORY;
    status = choose(&c);
    free(c.tried);
    return status;
}

/* One pass over a regime whose readings end at `to`: outliers set aside, and, where `change` is not
 * NULL, the change that ends it. */
struct change {
    int found_one;
    size_t begin, found;
};

static dregs_status pass(dregs_reuse *reuse, unsigned regime, size_t to, struct change *change)
{
    struct filter *f = malloc(sizeof *f);
    size_t begin = 0, found = 0;
    dregs_status status;
    int changed;

    if (!f)
        return DREGS_NO_MEMORY;
    status = filter_new(f, reuse, &reuse->regime[regime], to);
    f->stops = change != NULL;
    changed = !status && hear(f, &begin, &found);
    if (change)
        *change = (struct change){changed, begin, found};
    free(f->expected);
    free(f);
    return status;
}

/* How far a change is followed before it is known where the next one begins. */
static size_t known_to(const dregs_reuse *reuse, size_t found)
{
    return found + WINDOW < reuse->count ? found + WINDOW : reuse->count;
}

/* Begins the regime after the last one. */
static dregs_status begin_next(dregs_reuse *reuse, size_t begin, size_t found)
{
    struct regime *old = &reuse->regime[reuse->regimes - 1], *next = old + 1;
    dregs_status status = dregs_reuse_fit(reuse, old, begin);

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
    return explain(reuse, old, next, known_to(reuse, found));
}

/* A change in the last regime that its explanation still holds other readings for is explained
 * anew from its own readings alone, once they are known to end at `to`. */
static dregs_status explain_again(dregs_reuse *reuse, size_t to)
{
    struct regime *last = &reuse->regime[reuse->regimes - 1];

    return reuse->regimes < 2 ? DREGS_OK : explain(reuse, last - 1, last, to);
}

static dregs_status fit_last(dregs_reuse *reuse)
{
    return dregs_reuse_fit(reuse, &reuse->regime[reuse->regimes - 1], reuse->count);
}

/* What else would explain the last change, of the readings that are used in the end. */
static dregs_status fit_rivals(dregs_reuse *reuse)
{
    struct regime *last = &reuse->regime[reuse->regimes - 1];
    dregs_status status = DREGS_OK;
    unsigned k, kept = 0;

    for (k = 0; k < last->rival_count && status != DREGS_NO_MEMORY; k++) {
        status = dregs_reuse_fit(reuse, &last->rivals[k], reuse->count);
        if (!status && weight_of(&last->rivals[k]) < weight_of(last) + ALIKE)
            last->rivals[kept++] = last->rivals[k];
    }
    last->rival_count = kept;
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

static void tell_progress(const dregs_reuse *reuse, size_t done)
{
    if (reuse->request.progress)
        reuse->request.progress(reuse->request.user, done, reuse->count);
}

/* The next change in the last regime, of readings up to `to`. What is expected is first worked out
 * for a fit that may hold readings after a change, and may be far off for it: a change is held
 * against the fit of what lies before it alone, and when it is none, the search goes on from what
 * was heard so far. */
static dregs_status change_before(dregs_reuse *reuse, size_t to, struct change *change)
{
    unsigned last = reuse->regimes - 1;
    struct change again = {0, 0, 0};
    size_t heard = 0;
    dregs_status status = pass(reuse, last, to, change);

    while (!status && change->found_one && change->found >= heard) {
        /* what stands at the end may be an outlier: the next one says */
        if (to < reuse->count && change->found + AHEAD >= to)
            break;
        heard = change->found + 1;
        tell_progress(reuse, heard);
        status = dregs_reuse_fit(reuse, &reuse->regime[last], change->begin);
        if (!status)
            status = pass(reuse, last, heard, &again);
        if (status || again.found_one) {
            *change = again;
            return status;
        }
        status = dregs_reuse_fit(reuse, &reuse->regime[last], heard);
        if (!status)
            status = pass(reuse, last, to, change);
    }
    change->found_one = 0;
    return status;
}

/* The next change in the last regime. Where all its readings at once show none there is none; else
 * it is sought among the first of them, then among twice as many, so that the time that it takes
 * goes with how far off it is and not with the length of the log. */
static dregs_status next_change(dregs_reuse *reuse, struct change *change)
{
    struct regime *last = &reuse->regime[reuse->regimes - 1];
    size_t length = WINDOW, to = 0;
    dregs_status status = pass(reuse, reuse->regimes - 1, reuse->count, change);

    if (status || !change->found_one)
        return status;
    change->found_one = 0;
    while (!status && !change->found_one && to < reuse->count) {
        tell_progress(reuse, to > last->about.begin ? to : last->about.begin);
        to = last->about.begin + length < reuse->count ? last->about.begin + length : reuse->count;
        length *= 2;
        status = dregs_reuse_fit(reuse, last, to);
        if (!status)
            status = change_before(reuse, to, change);
    }
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
    if (!status && reuse->regimes > 1 &&
        known_to(reuse, reuse->regime[reuse->regimes - 1].about.found) < reuse->count)
        status = explain_again(reuse, reuse->count);
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
    return status ? status : fit_rivals(reuse);
}
