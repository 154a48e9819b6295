/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bound_scan.c: the load at which a concentration is worst, and the first one at which it is beyond
 * its bound.
 *
 * Between two dumps the contents go z' = M z + b with no entry of M below 0. So once every content
 * that counts has risen, or stayed, from one load to the next, it does so at every load until the
 * dump (the difference of two loads goes d' = M d), and likewise once every one has fallen. Then
 * the ends are all that need be looked at, and powers of M find the load between them that is the
 * first beyond the bound. A dump period is such a map itself, and the same holds from period to
 * period, phase by phase.
 */
#include "line/line.h"
#include "residue/bound.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Crossed is what is further beyond than rounding. */
#define BEYOND (1.0 + 1e-9)

enum { LOADS_ONE_BY_ONE = 1 << 17, PERIODS_ONE_BY_ONE = 64 };

enum trend { TREND_MIXED, TREND_STILL, TREND_BETTER, TREND_WORSE };

struct scan {
    const dregs_map *map;
    const dregs_line *line;
    const dregs_bound *bound;
    unsigned first, solutes; /* those that count: from `first` on */
    size_t tanks, dim, width;
    uint64_t period, loads;
    int when;
    unsigned kinds;        /* of loads, each with rows of its own */
    double *here;          /* rows: the concentration that is bounded */
    double *origin;        /* rows: that behind the last wash, of a ratio */
    unsigned char *counts; /* solutes x tanks: 1, the content has a say in it */
    double *spare, *low, *high;
};

struct found {
    double share;
    uint64_t load;    /* within the period */
    uint64_t crossed; /* likewise */
};

/* ---- what is bounded, as rows ---- */

static void add_row(const struct scan *s, double *to, double factor, const double *from)
{
    size_t k;

    for (k = 0; from && k < s->dim; k++)
        to[k] += factor * from[k];
}

/* The concentration of the mixture in a stage's tank: see struct stage_visit. \p map: of the load's
 * kind, as the next. */
static void tank_row(const struct scan *s, const dregs_map *map, unsigned solute, unsigned stage,
                     double *to)
{
    struct stage_visit visit;

    dregs_stage_visit(dregs_map_line(map), stage, solute, &visit);
    add_row(s, to, 1.0 / visit.mixes, dregs_map_met(map, solute, stage));
    if (stage == 0)
        return;
    add_row(s, to, (1.0 - visit.keep) / visit.mixes, dregs_map_film(map, solute, stage - 1));
    add_row(s, to, (1.0 - visit.trapped.keep) / visit.mixes,
            dregs_map_trapped(map, solute, stage - 1));
}

static void film_row(const struct scan *s, const dregs_map *map, unsigned solute, unsigned stage,
                     double *to)
{
    const dregs_carried *carried = dregs_line_carried(dregs_map_line(map), stage);

    add_row(s, to, 1.0 / (carried->out - carried->trapped), dregs_map_film(map, solute, stage));
}

/* The last wash before a stage; that stage itself where there is none. */
static unsigned wash_before(const dregs_line *line, unsigned stage)
{
    unsigned i = stage;

    while (i > 0)
        if (dregs_stage_is(dregs_line_stage(line, --i), DREGS_STAGE_CLEANS))
            return i;
    return stage;
}

static void make_rows(struct scan *s, unsigned kind)
{
    const dregs_map *map = dregs_map_of_kind(s->map, kind);
    double *here = s->here + kind * s->width, *origin = s->origin + kind * s->width;
    const dregs_bound *bound = s->bound;
    unsigned i;

    for (i = 0; i < s->solutes; i++) {
        unsigned solute = s->first + i;
        if (bound->in_film)
            film_row(s, map, solute, bound->stage, here + i * s->dim);
        else
            tank_row(s, map, solute, bound->stage, here + i * s->dim);
        if (bound->kind == DREGS_BOUND_RATIO)
            film_row(s, map, solute, wash_before(s->line, bound->stage), origin + i * s->dim);
    }
}

/* Does a tank give to another in a load, the interval behind it or a dump? */
static int gives(const struct scan *s, unsigned solute, unsigned from, unsigned to)
{
    const dregs_stage *owner = dregs_line_stage(s->line, dregs_line_tank(s->line, to)->stage);
    unsigned k;

    for (k = 0; k < s->kinds; k++)
        if (dregs_map_row(dregs_map_of_kind(s->map, k), solute, to)[from] > 0)
            return 1;
    return owner->refill_from.kind == DREGS_LINK_STAGE &&
           dregs_line_stage(s->line, owner->refill_from.index)->tank == (int)from;
}

/* Has a tank a say in the rows of any kind? */
static int is_asked(const struct scan *s, size_t at)
{
    unsigned k;

    for (k = 0; k < s->kinds; k++)
        if (s->here[k * s->width + at] > 0 || s->origin[k * s->width + at] > 0)
            return 1;
    return 0;
}

/* Which tanks have a say: those of the rows, and those that give to one that has. */
static void find_counts(struct scan *s)
{
    unsigned i, t, k;
    int more;

    for (i = 0; i < s->solutes; i++) {
        unsigned char *counts = s->counts + i * s->tanks;
        for (t = 0; t < s->tanks; t++)
            counts[t] = (unsigned char)is_asked(s, i * s->dim + t);
        for (more = 1; more;)
            for (more = 0, t = 0; t < s->tanks; t++)
                for (k = 0; k < s->tanks; k++)
                    if (counts[t] && !counts[k] && gives(s, s->first + i, k, t))
                        counts[k] = 1, more = 1;
    }
}

static double of_rows(const struct scan *s, unsigned i, const double *rows, const double *z)
{
    double sum = 0.0;
    size_t k;

    for (k = 0; k < s->dim; k++)
        sum += rows[i * s->dim + k] * z[i * s->dim + k];
    return sum;
}

/* The concentration, the ratio or the conductivity that a load meets that finds z. */
static double reached(const struct scan *s, const double *z, uint64_t load)
{
    size_t rows = dregs_line_kind_at(s->line, load) * s->width;
    double each[DREGS_LINE_SOLUTES], sum = 0.0, origin = 0.0;
    unsigned i;

    for (i = 0; i < s->solutes; i++) {
        each[i] = of_rows(s, i, s->here + rows, z);
        sum += each[i];
    }
    if (s->bound->kind == DREGS_BOUND_CONDUCTIVITY)
        return dregs_residue_conductivity(s->line, each);
    if (s->bound->kind != DREGS_BOUND_RATIO)
        return sum;
    for (i = 0; i < s->solutes; i++)
        origin += of_rows(s, i, s->origin + rows, z);
    return sum > 0 ? origin / sum : HUGE_VAL;
}

/* Must it be at least so high? */
int dregs_residue_wants_high(const dregs_bound *bound)
{
    return bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_RATIO ||
           bound->kind == DREGS_BOUND_CLEANER;
}

static double share(const struct scan *s, const double *z, uint64_t load)
{
    double value = reached(s, z, load);

    if (!dregs_residue_wants_high(s->bound))
        return value / s->bound->limit.si;
    return value > 0 ? s->bound->limit.si / value : HUGE_VAL;
}

/* ---- how the contents go ---- */

static enum trend trend(const struct scan *s, const double *before, const double *after)
{
    int rises = 0, falls = 0;
    size_t t;
    unsigned i;

    for (i = 0; i < s->solutes; i++)
        for (t = 0; t < s->tanks; t++) {
            size_t at = i * s->dim + t;
            double difference = after[at] - before[at];
            if (!s->counts[i * s->tanks + t] || fabs(difference) <= 1e-13 * fabs(before[at]))
                continue;
            rises |= difference > 0;
            falls |= difference < 0;
        }
    if (!rises && !falls)
        return TREND_STILL;
    if ((rises && falls) || s->bound->kind == DREGS_BOUND_RATIO)
        return TREND_MIXED;
    return rises != dregs_residue_wants_high(s->bound) ? TREND_WORSE : TREND_BETTER;
}

static void one_load(const struct scan *s, double *z, uint64_t done)
{
    unsigned i;

    for (i = 0; i < s->solutes; i++)
        dregs_balance_map_one_load(s->map, s->first + i, z + i * s->dim, s->spare, 1, done);
}

static dregs_status advance(const struct scan *s, double *z, uint64_t done, uint64_t until)
{
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < s->solutes && !status && until > done; i++)
        status = dregs_balance_map_advance(s->map, s->first + i, z + i * s->dim, done, until);
    return status;
}

static void copy(const struct scan *s, double *to, const double *from)
{
    memcpy(to, from, s->width * sizeof *to);
}

/* ---- one dump period ---- */

static void note(const struct scan *s, const double *z, uint64_t load, struct found *found)
{
    double v = share(s, z, load);

    if (v > found->share) {
        found->share = v;
        found->load = load;
    }
    if (v > BEYOND && !found->crossed)
        found->crossed = load;
}

/* The rest of the loads up to a dump, `load` the next and `stop` the last one, between which all
 * gets worse; z is taken to that last one. */
static dregs_status finish_worse(const struct scan *s, double *z, uint64_t load, uint64_t stop,
                                 struct found *found)
{
    uint64_t good = load - 1, bad = stop; /* the load before z is good, or one was bad already */
    dregs_status status;

    copy(s, s->low, z);
    status = advance(s, z, load - 1, stop - 1);
    if (status)
        return status;
    while (s->when && !found->crossed && share(s, z, stop) > BEYOND && bad - good > 1) {
        uint64_t middle = good + (bad - good) / 2;
        copy(s, s->high, s->low);
        status = advance(s, s->high, load - 1, middle - 1);
        if (status)
            return status;
        if (share(s, s->high, middle) > BEYOND)
            bad = middle;
        else
            good = middle;
    }
    if (!found->crossed && share(s, z, stop) > BEYOND)
        found->crossed = bad;
    note(s, z, stop, found);
    return DREGS_OK;
}

/* From after `done` loads of a period to its next dump, or to load `stop` if that comes first; all
 * of one kind. */
static dregs_status pass_segment(const struct scan *s, double *z, uint64_t done, uint64_t stop,
                                 struct found *found)
{
    dregs_status status;
    enum trend goes;

    for (; done + 1 < stop; done++) {
        note(s, z, done + 1, found);
        copy(s, s->low, z);
        one_load(s, z, done);
        goes = trend(s, s->low, z);
        if (goes == TREND_MIXED)
            continue;
        if (goes != TREND_WORSE)
            return advance(s, z, done + 1, stop);
        status = finish_worse(s, z, done + 2, stop, found);
        if (!status)
            one_load(s, z, stop - 1);
        return status;
    }
    note(s, z, stop, found);
    one_load(s, z, stop - 1);
    return DREGS_OK;
}

/* The first `visits` loads of a period that begins with z, which is taken past them. */
static dregs_status pass_period(const struct scan *s, double *z, uint64_t visits,
                                struct found *found)
{
    uint64_t done = 0, due;
    dregs_status status = DREGS_OK;

    *found = (struct found){-1.0, 0, 0};
    while (done < visits && !status) {
        due = s->kinds > 1 ? done + 1 : dregs_balance_dump_next(s->line, done);
        if (due > visits)
            due = visits;
        status = pass_segment(s, z, done, due, found);
        done = due;
    }
    return status;
}

/* How many loads of a period are asked for. */
static uint64_t visits_of(const struct scan *s, uint64_t period)
{
    uint64_t left = s->loads ? s->loads - period * s->period : s->period;

    return left < s->period ? left : s->period;
}

/* ---- period after period ---- */

static void take(const struct scan *s, const struct found *found, uint64_t period,
                 dregs_bound *bound)
{
    if (found->share > bound->share) {
        bound->share = found->share;
        bound->load = period * s->period + found->load;
        bound->in_the_long_run = 0;
    }
    if (found->crossed && !bound->crossed)
        bound->crossed = period * s->period + found->crossed;
}

/* Period number `period`, reached from the one that begins with z after `from` periods. */
static dregs_status look_at(const struct scan *s, const double *z, double *work, uint64_t from,
                            uint64_t period, struct found *found)
{
    dregs_status status;

    copy(s, work, z);
    status = advance(s, work, from * s->period, period * s->period);
    return status ? status : pass_period(s, work, visits_of(s, period), found);
}

/* From period `from` on, which begins with z, every phase gets worse. `last` is the last period
 * that is whole, or `from`; somewhere up to it the bound is crossed, if at all. */
static dregs_status find_crossing(const struct scan *s, const double *z, double *work,
                                  uint64_t from, uint64_t last, dregs_bound *bound)
{
    uint64_t good = from, bad = from, step = 1, middle;
    struct found found, first = {0, 0, 0};
    dregs_status status = look_at(s, z, work, from, from, &first);

    while (!status && !first.crossed && bad < last) { /* doubled strides, until one is beyond */
        good = bad;
        bad = step < last - bad ? bad + step : last;
        step *= 2;
        status = look_at(s, z, work, from, bad, &first);
    }
    while (!status && first.crossed && bad - good > 1) {
        middle = good + (bad - good) / 2;
        status = look_at(s, z, work, from, middle, &found);
        if (found.crossed) {
            bad = middle;
            first = found;
        } else
            good = middle;
    }
    if (!status && first.crossed)
        bound->crossed = bad * s->period + first.crossed;
    return status;
}

/* What the line tends to. \return DREGS_NO_STEADY where it does not. */
static dregs_status look_at_steady(const struct scan *s, double *work, dregs_bound *bound)
{
    dregs_state *state = dregs_state_new(s->map);
    dregs_status status = state ? dregs_state_periodic(state) : DREGS_NO_MEMORY;
    struct found found = {-1.0, 0, 0};

    if (!status) {
        copy(s, work, dregs_balance_state_masses(state) + s->first * s->dim);
        status = pass_period(s, work, s->period, &found);
    }
    dregs_state_free(state);
    if (!status && found.share > bound->share * (1 + 1e-9)) {
        bound->share = found.share;
        bound->load = found.load;
        bound->in_the_long_run = 1;
    }
    return status;
}

/* The worst load of a period, whatever lies between. */
static dregs_status look_at_last(const struct scan *s, const double *z, double *work, uint64_t from,
                                 uint64_t period, dregs_bound *bound)
{
    struct found found = {-1.0, 0, 0};
    dregs_status status = look_at(s, z, work, from, period, &found);

    if (!status && found.share > bound->share) {
        bound->share = found.share;
        bound->load = period * s->period + found.load;
        bound->in_the_long_run = 0;
    }
    return status;
}

/* From period `from` on every phase gets worse, for ever or to the end of what is asked for. */
static dregs_status end_worse(const struct scan *s, const double *z, double *work, uint64_t from,
                              dregs_bound *bound)
{
    uint64_t last =
        (s->loads ? s->loads - 1 : DREGS_LOADS_MOST / s->period * s->period - 1) / s->period;
    dregs_status status = DREGS_NO_STEADY;

    if (!s->loads)
        status = look_at_steady(s, work, bound);
    if (status == DREGS_NO_STEADY) { /* the last period, and the one before if it is not whole */
        status = look_at_last(s, z, work, from, last, bound);
        if (!status && last > from)
            status = look_at_last(s, z, work, from, last - 1, bound);
    }
    if (status || !s->when || bound->crossed || !(bound->share > BEYOND))
        return status;
    /* what is left of a period may end before the phase that is worst */
    if (last > from && visits_of(s, last) < s->period)
        status = find_crossing(s, z, work, from, last - 1, bound);
    if (!status && !bound->crossed)
        status = find_crossing(s, z, work, from, last, bound);
    return status;
}

static dregs_status scan_periods(const struct scan *s, dregs_bound *bound)
{
    uint64_t most = LOADS_ONE_BY_ONE / s->period, j;
    double *z = malloc(3 * s->width * sizeof *z), *next = z + s->width, *work = next + s->width;
    dregs_status status = z ? DREGS_OK : DREGS_NO_MEMORY;
    enum trend goes = TREND_MIXED;
    struct found found;
    unsigned i;

    for (i = 0; i < s->solutes && !status; i++)
        memcpy(z + i * s->dim, dregs_balance_map_fresh(s->map, s->first + i), s->dim * sizeof *z);
    if (most < PERIODS_ONE_BY_ONE)
        most = PERIODS_ONE_BY_ONE;
    for (j = 0; j < most && !status && goes == TREND_MIXED; j++) {
        if (s->loads && j * s->period >= s->loads)
            break;
        copy(s, next, z);
        status = pass_period(s, next, visits_of(s, j), &found);
        if (status || visits_of(s, j) < s->period) {
            if (!status)
                take(s, &found, j, bound);
            break;
        }
        take(s, &found, j, bound);
        goes = trend(s, z, next);
        copy(s, z, next);
    }
    if (!status && goes == TREND_WORSE && !(s->loads && j * s->period >= s->loads))
        status = end_worse(s, z, work, j, bound);
    else if (!status && goes == TREND_MIXED && j == most && !s->loads) {
        status = look_at_steady(s, work, bound);
        status = status == DREGS_NO_STEADY ? DREGS_OK : status;
    } else if (!status && goes == TREND_MIXED && j == most && j * s->period < s->loads)
        status = look_at_last(s, z, work, j, (s->loads - 1) / s->period, bound);
    free(z);
    return status;
}

dregs_status dregs_residue_scan(const dregs_map *map, uint64_t loads, int when, dregs_bound *bound)
{
    struct scan s = {.map = map, .line = dregs_map_line(map), .loads = loads, .when = when};
    dregs_status status;
    unsigned k;

    if (bound->kind == DREGS_BOUND_CAPACITY)
        return dregs_residue_capacity(map, loads, bound);
    s.bound = bound;
    s.first = bound->solute < 0 ? 0 : (unsigned)bound->solute;
    s.solutes = bound->solute < 0 ? dregs_line_solutes(s.line) : 1;
    s.tanks = dregs_line_tanks(s.line);
    s.dim = s.tanks + 1;
    s.width = s.solutes * s.dim;
    s.period = dregs_line_period(s.line);
    s.kinds = dregs_line_kinds(s.line);
    bound->share = -1.0;
    bound->crossed = bound->load = 0;
    bound->in_the_long_run = 0;
    s.here = calloc((2 * s.kinds + 2) * s.width + s.dim, sizeof *s.here);
    s.counts = calloc(s.width, sizeof *s.counts);
    status = s.here && s.counts ? DREGS_OK : DREGS_NO_MEMORY;
    if (!status) {
        s.origin = s.here + s.kinds * s.width;
        s.low = s.origin + s.kinds * s.width;
        s.high = s.low + s.width;
        s.spare = s.high + s.width;
        for (k = 0; k < s.kinds; k++)
            make_rows(&s, k);
        find_counts(&s);
    }
    if (!status)
        status = scan_periods(&s, bound);
    if (!status)
        bound->reached = dregs_residue_wants_high(bound) ? bound->limit.si / bound->share
                                                         : bound->share * bound->limit.si;
    free(s.here);
    free(s.counts);
    return status;
}

/* ---- one load ---- */

/* The concentration that the next load meets, kg/m3. */
static double met_next(const dregs_bound *bound, const dregs_state *state, unsigned solute)
{
    const dregs_line *line = dregs_map_line(dregs_balance_state_next_map(state));
    struct stage_visit visit;
    double mass;

    if (bound->in_film)
        return dregs_state_concentration(state, solute, bound->stage);
    dregs_stage_visit(line, bound->stage, solute, &visit);
    mass = dregs_state_met(state, solute, bound->stage);
    if (bound->stage)
        mass += (1.0 - visit.keep) * dregs_state_film(state, solute, bound->stage - 1) +
                (1.0 - visit.trapped.keep) * dregs_state_trapped(state, solute, bound->stage - 1);
    return mass / visit.mixes;
}

double dregs_bound_next(const dregs_bound *bound, const dregs_state *state)
{
    const dregs_line *line = dregs_map_line(dregs_balance_state_map(state));
    double each[DREGS_LINE_SOLUTES] = {0}, sum = 0.0, origin = 0.0, value;
    unsigned s, wash = wash_before(line, bound->stage);

    if (bound->kind == DREGS_BOUND_CAPACITY)
        return 0.0;
    for (s = 0; s < dregs_line_solutes(line); s++) {
        if (bound->solute >= 0 && bound->solute != (int)s)
            continue;
        each[s] = met_next(bound, state, s);
        sum += each[s];
        origin += dregs_state_concentration(state, s, wash);
    }
    value = bound->kind == DREGS_BOUND_CONDUCTIVITY ? dregs_residue_conductivity(line, each)
            : bound->kind != DREGS_BOUND_RATIO      ? sum
            : sum > 0                               ? origin / sum
                                                    : HUGE_VAL;
    if (!dregs_residue_wants_high(bound))
        return value / bound->limit.si;
    return value > 0 ? bound->limit.si / value : HUGE_VAL;
}
