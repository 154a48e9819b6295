/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* grid.c: the states at the begin of dump periods, and the residues of all loads that follow them.
 *
 * The residue of the load at phase p of dump period j is a linear function of the tank masses at
 * the beginning of that period. The states at the beginning of the periods are laid out on a grid
 * that grows coarser (every one, then 16 for each doubling), up to where they no longer change;
 * the function is evaluated for every phase on all of them.
 */
#include "residue/grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DENSE = 32, LEAPT = 4096 };

int dregs_residue_grid_asks(const struct grid *g, unsigned solute)
{
    return g->solute == DREGS_EVERY_SOLUTE || g->solute == (int)solute;
}

static int push(struct grid *g, uint64_t at, const double *z)
{
    if (g->count == g->room) {
        size_t room = g->room ? 2 * g->room : 64;
        uint64_t *ats = realloc(g->at, room * sizeof *ats);
        double *states;
        if (ats)
            g->at = ats;
        states = ats ? realloc(g->state, room * g->width * sizeof *states) : NULL;
        if (!states)
            return 0;
        g->state = states;
        g->room = room;
    }
    g->at[g->count] = at;
    memcpy(g->state + g->count * g->width, z, g->width * sizeof *z);
    g->count++;
    return 1;
}

/* Has the last state reached the steady one, as far as numbers of this length can tell? */
static int settled(const struct grid *g)
{
    const double *last = g->state + (g->count - 1) * g->width;
    size_t i;

    if (!g->steady)
        return 0;
    for (i = 0; i < g->width; i++)
        if (fabs(last[i] - g->steady[i]) > 1e-11 * fabs(g->steady[i]))
            return 0;
    return 1;
}

/* Doubles the number of periods that the matrices in `jump` leap over. */
static void double_jump(const struct grid *g, double *jump, double *spare)
{
    size_t size = g->dim * g->dim;
    unsigned s;

    for (s = 0; s < g->solutes; s++)
        dregs_balance_multiply_in_place(jump + s * size, jump + s * size, g->dim, g->dim, spare);
}

dregs_status dregs_residue_grid_lay_out(struct grid *g, uint64_t last)
{
    size_t size = g->dim * g->dim;
    double *z = malloc((g->width + (g->solutes + 1) * size) * sizeof *z), *jump, *spare;
    const double *period;
    dregs_status status = DREGS_OK;
    uint64_t at = 0, step = 1, until;
    unsigned s;

    if (!z)
        return DREGS_NO_MEMORY;
    jump = z + g->width;
    spare = jump + g->solutes * size;
    for (s = 0; s < g->solutes && !status; s++) {
        memcpy(z + s * g->dim, dregs_balance_map_fresh(g->map, s), g->dim * sizeof *z);
        status = dregs_balance_map_whole_period(g->map, s, &period);
        if (!status)
            memcpy(jump + s * size, period, size * sizeof *z);
    }
    if (!status && !push(g, 0, z))
        status = DREGS_NO_MEMORY;
    while (!status && at < last && !settled(g)) {
        if (at == DENSE * step) {
            double_jump(g, jump, spare);
            step *= 2;
        }
        until = at + step < last ? at + step : last;
        for (s = 0; s < g->solutes && !status; s++)
            if (until == at + step)
                dregs_balance_multiply_in_place(jump + s * size, z + s * g->dim, g->dim, 1, spare);
            else /* the end of what was asked for lies within this step */
                status = dregs_balance_map_advance(g->map, s, z + s * g->dim, at * g->period,
                                                   until * g->period);
        at = until;
        if (!status && !push(g, at, z))
            status = DREGS_NO_MEMORY;
    }
    free(z);
    return status;
}

double dregs_residue_grid_value(const struct grid *g, const double *rows, const double *z)
{
    double sum = g->adhering;
    size_t i;

    for (i = 0; i < g->width; i++)
        sum += rows[i] * z[i];
    return sum;
}

/* The rows of one kind. */
static void film_rows(const struct grid *g, unsigned kind, double *rows)
{
    const dregs_map *map = dregs_map_of_kind(g->map, kind);
    unsigned s;

    for (s = 0; s < g->solutes; s++) {
        if (dregs_residue_grid_asks(g, s))
            dregs_residue_row(map, s, rows + s * g->dim);
        else
            memset(rows + s * g->dim, 0, g->dim * sizeof *rows);
        if (g->kinds > 1 && dregs_residue_grid_asks(g, s))
            rows[s * g->dim + g->dim - 1] += dregs_residue_adhering(map, (int)s);
    }
}

dregs_status dregs_residue_grid_films(struct grid *g)
{
    unsigned k;

    g->film = calloc(g->kinds * g->width, sizeof *g->film);
    if (!g->film)
        return DREGS_NO_MEMORY;
    for (k = 0; k < g->kinds; k++)
        film_rows(g, k, g->film + k * g->width);
    if (g->kinds == 1)
        g->adhering = dregs_residue_adhering(g->map, g->solute);
    return DREGS_OK;
}

/* The rows of the load at a phase of the period. */
const double *dregs_residue_grid_film(const struct grid *g, uint64_t phase)
{
    return g->film + dregs_line_kind_at(g->line, phase + 1) * g->width;
}

int dregs_residue_grid_counts(const struct grid *g, uint64_t phase)
{
    return g->kind < 0 || dregs_line_kind_at(g->line, phase + 1) == (unsigned)g->kind;
}

/* The rows of a phase from the matrices that take a period's first masses to that phase. */
static void rows_of(const struct grid *g, const double *reached, const double *film, double *rows)
{
    size_t i, k;
    unsigned s;

    memset(rows, 0, g->width * sizeof *rows);
    for (s = 0; s < g->solutes; s++) {
        const double *matrix = reached + s * g->dim * g->dim;
        for (i = 0; dregs_residue_grid_asks(g, s) && i < g->dim; i++)
            for (k = 0; k < g->dim; k++)
                rows[s * g->dim + k] += film[s * g->dim + i] * matrix[i * g->dim + k];
    }
}

/* Phases next to each other in rank may peak between different states of the grid: a few of the
 * best are refined, each at its own place. */
enum { TOP = 24 };

struct candidate {
    double v;
    size_t at; /* index of the state */
    uint64_t phase;
};

struct best {
    struct candidate top[TOP]; /* one for a phase */
    unsigned count;
    double least; /* what another must exceed */
};

/* Keeps a phase with its best value among the TOP best. */
static void keep(struct best *best, double v, size_t at, uint64_t phase)
{
    struct candidate *place = NULL;
    unsigned i;

    for (i = 0; i < best->count && best->top[i].phase != phase; i++)
        if (!place || best->top[i].v < place->v)
            place = &best->top[i];
    if (i < best->count)
        place = &best->top[i];
    else if (best->count < TOP)
        (place = &best->top[best->count++])->v = -1;
    if (v > place->v)
        *place = (struct candidate){v, at, phase};
    best->least = best->top[0].v;
    for (i = 0; i < best->count; i++)
        best->least = fmin(best->least, best->count < TOP ? -1 : best->top[i].v);
}

static void see(struct best *best, double v, size_t at, uint64_t phase)
{
    if (v > best->least)
        keep(best, v, at, phase);
}

static void look(const struct grid *g, const double *rows, uint64_t phase, uint64_t loads,
                 struct best *best)
{
    size_t i;

    for (i = 0; i < g->count && !(loads && g->at[i] * g->period + phase >= loads); i++)
        see(best, dregs_residue_grid_value(g, rows, g->state + i * g->width), i, phase);
}

/* The residue of the load at a phase of a period, reached from a state of the grid. */
static dregs_status residue_at(const struct grid *g, dregs_state *state, size_t from,
                               uint64_t period, uint64_t phase, double *v)
{
    uint64_t done = g->at[from] * g->period;
    dregs_residue residue;
    dregs_status status = DREGS_OK;

    dregs_balance_state_put(state, g->state + from * g->width, done);
    if (period * g->period + phase > done)
        status = dregs_state_before(state, period * g->period + phase + 1);
    dregs_residue_next(state, &residue);
    *v = dregs_residue_of(&residue, g->solute);
    return status;
}

/* Between the neighbours of the best state of the grid the residue has one peak: find it. */
static dregs_status refine(const struct grid *g, const struct candidate *best, uint64_t loads,
                           dregs_worst *worst)
{
    size_t from = best->at ? best->at - 1 : 0;
    uint64_t low = g->at[from];
    uint64_t high = best->at + 1 < g->count ? g->at[best->at + 1] : g->at[best->at];
    dregs_state *state = dregs_state_new(g->map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    uint64_t period;
    double left, right;

    if (high - low <= (uint64_t)(best->at + 1 < g->count) + (best->at > 0)) {
        /* every period between the neighbours is on the grid: there is nothing to find */
        dregs_state_free(state);
        if (best->v > worst->residue) {
            worst->residue = best->v;
            worst->load = g->at[best->at] * g->period + best->phase + 1;
        }
        return status;
    }
    while (loads && high > low && high * g->period + best->phase >= loads)
        high--;
    while (!status && high - low > 2) {
        uint64_t third = (high - low) / 3, a = low + third, b = high - third;
        status = residue_at(g, state, from, a, best->phase, &left);
        if (!status)
            status = residue_at(g, state, from, b, best->phase, &right);
        if (left < right)
            low = a;
        else
            high = b;
    }
    for (period = low; period <= high && !status; period++) {
        status = residue_at(g, state, from, period, best->phase, &left);
        if (!status && left > worst->residue) {
            worst->residue = left;
            worst->load = period * g->period + best->phase + 1;
        }
    }
    dregs_state_free(state);
    return status;
}

/* All phases on all states by rows: a row for each phase, dim^3 products to come to the next. */
static dregs_status look_by_rows(const struct grid *g, uint64_t loads, struct best *best)
{
    size_t size = g->dim * g->dim, i;
    double *reached = calloc(g->solutes * size + size + g->width, sizeof *reached);
    double *spare, *rows;
    uint64_t phase;
    unsigned s;

    if (!reached)
        return DREGS_NO_MEMORY;
    spare = reached + g->solutes * size;
    rows = spare + size;
    for (s = 0; s < g->solutes; s++)
        for (i = 0; i < g->dim; i++)
            reached[s * size + i * g->dim + i] = 1.0;
    for (phase = 0; phase < g->period; phase++) {
        if (dregs_residue_grid_counts(g, phase)) {
            rows_of(g, reached, dregs_residue_grid_film(g, phase), rows);
            look(g, rows, phase, loads, best);
        }
        for (s = 0; s < g->solutes; s++)
            dregs_balance_map_one_load(g->map, s, reached + s * size, spare, g->dim, phase);
    }
    free(reached);
    return DREGS_OK;
}

/* Two states that let the same loads pass and differ no more, as far as numbers can tell. */
static int merged(const struct grid *g, const dregs_state *a, const dregs_state *b)
{
    const double *one = dregs_balance_state_masses(a), *other = dregs_balance_state_masses(b);
    size_t i;

    for (i = 0; i < g->width; i++)
        if (fabs(one[i] - other[i]) > 1e-12 * fabs(other[i]))
            return 0;
    return 1;
}

static void begin(const struct grid *g, dregs_state *state, size_t i)
{
    dregs_balance_state_put(state, g->state + i * g->width, 0);
}

/* The residues of one period that begins with state i, into v. What v holds already are those
 * that begin with the state before it, which `before` lives through again; dumps make the two
 * alike after a while, and from there on v is right as it is. */
static void pass_period(const struct grid *g, size_t i, dregs_state *state, dregs_state *before,
                        double *v)
{
    enum { LOOK_EVERY = 32 };
    uint64_t phase;

    begin(g, state, i);
    if (i > 0)
        begin(g, before, i - 1);
    for (phase = 0; phase < g->period; phase++) {
        if (i > 0 && phase % LOOK_EVERY == 0 && merged(g, state, before))
            return;
        v[phase] = dregs_residue_grid_value(g, dregs_residue_grid_film(g, phase),
                                            dregs_balance_state_masses(state));
        dregs_state_step(state);
        if (i > 0)
            dregs_state_step(before);
    }
}

/* The same by letting the loads of one period pass from each state: cheaper where the states are
 * few. */
static dregs_status look_by_steps(const struct grid *g, uint64_t loads, struct best *best)
{
    dregs_state *state = dregs_state_new(g->map), *before = dregs_state_new(g->map);
    double *v = malloc(g->period * sizeof *v);
    dregs_status status = state && before && v ? DREGS_OK : DREGS_NO_MEMORY;
    uint64_t phase;
    size_t i;

    for (i = 0; !status && i < g->count; i++) {
        pass_period(g, i, state, before, v);
        for (phase = 0; phase < g->period; phase++)
            if (dregs_residue_grid_counts(g, phase) &&
                (!loads || g->at[i] * g->period + phase < loads))
                see(best, v[phase], i, phase);
    }
    dregs_state_free(state);
    dregs_state_free(before);
    free(v);
    return status;
}

/* The worst load of the period behind each state, by leaps from dump to dump: where periods are
 * long, not each of their loads can be looked at. */
static dregs_status look_by_peaks(const struct grid *g, uint64_t loads, struct best *best)
{
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = 0; i < g->count && !status; i++) {
        uint64_t done = g->at[i] * g->period, visits = g->period;
        struct residue_peak peak = {-1, 0};
        if (loads && loads <= done)
            break;
        if (loads && loads - done < visits)
            visits = loads - done;
        status =
            dregs_residue_peak(g->map, g->state + i * g->width, g->film, g->solute, visits, &peak);
        see(best, g->adhering + peak.value, i, peak.phase);
    }
    return status;
}

dregs_status dregs_residue_grid_search(const struct grid *g, uint64_t loads, dregs_worst *worst)
{
    struct best best = {.least = -1};
    dregs_status status = g->kinds == 1 && g->period > LEAPT ? look_by_peaks(g, loads, &best)
                          : g->count <= 2 * g->dim           ? look_by_steps(g, loads, &best)
                                                             : look_by_rows(g, loads, &best);
    unsigned i;

    for (i = 0; i < best.count && !status; i++)
        status = refine(g, &best.top[i], loads, worst);
    return status;
}
