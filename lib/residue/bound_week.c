/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bound_week.c: bounds of concentrations by the loads of a week, with nights and weekends.
 *
 * The weeks that repeat themselves are looked at load by load, and so are those from the fresh
 * start, round by round: so many weeks that the dumps fall together again. No entry of a map is
 * below 0. So once no content has risen from the begin of one round to that of the next, none does
 * at any load of a later round against the same load of this one; and once none has fallen, they
 * stay below what repeats itself. Of both together it is known how far contents are from that, as a
 * share of it, and no later load is further from it.
 */
#include "calendar/calendar.h"
#include "line/line.h"
#include "residue/bound.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BEYOND (1.0 + 1e-9) /* crossed is what is further beyond than rounding */
#define ALIKE  1e-9         /* relative: shares that count as the same one */

struct follow {
    const dregs_bound *bound;
    const double *steady; /* NULL: nothing repeats itself */
    size_t first, width;  /* of the masses, those of the solutes that count */
    uint64_t round;       /* loads */
    int when, known;
    double long_run, share, beyond; /* the largest: of the weeks that repeat, seen, still to come */
    uint64_t worst, crossed;        /* loads before that one; the first beyond the bound, from 1 */
    double *before;                 /* the contents at the begin of the round */
};

/* The largest share that can still come, from the contents at the begin of a round. */
static double still_to_come(const struct follow *f, const double *z)
{
    double up = 0.0, down = 0.0;
    size_t i;

    for (i = f->first; i < f->first + f->width; i++) {
        if (z[i] > f->steady[i])
            up = fmax(up, z[i] / f->steady[i] - 1.0);
        if (z[i] < f->steady[i])
            down = fmax(down, 1.0 - z[i] / f->steady[i]);
    }
    if (!dregs_residue_wants_high(f->bound))
        return f->long_run * (1.0 + up);
    return f->long_run * (f->bound->kind == DREGS_BOUND_RATIO ? 1.0 + up : 1.0) / (1.0 - down);
}

/* At the begin of a round: can no later load be worse than what is known? */
static int nothing_worse(struct follow *f, const double *z)
{
    int rises = 0, falls = 0, high = dregs_residue_wants_high(f->bound);
    size_t i;

    for (i = f->first; i < f->first + f->width; i++) {
        rises |= z[i] > f->before[i];
        falls |= z[i] < f->before[i];
    }
    memcpy(f->before, z, (f->first + f->width) * sizeof *z);
    if (f->bound->kind != DREGS_BOUND_RATIO && (!rises || !falls)) {
        int better = high ? !falls : !rises;
        if (better || f->steady)
            return 1;
    }
    f->beyond = f->steady ? still_to_come(f, z) : NAN;
    return f->beyond >= 0 && f->beyond <= fmax(f->share, f->long_run) * (1 + 2 * ALIKE);
}

static void note(struct follow *f, const dregs_state *state, uint64_t passed)
{
    double share = dregs_bound_next(f->bound, state);

    if (share > f->share) {
        f->share = share;
        f->worst = passed;
    }
    if (share > BEYOND && !f->crossed)
        f->crossed = passed + 1;
}

static int take_steady(void *user, const dregs_state *state, uint64_t passed)
{
    note(user, state, passed);
    return 0;
}

static int take_first(void *user, const dregs_state *state, uint64_t passed)
{
    struct follow *f = user;
    const double *z = dregs_balance_state_masses(state);

    if (passed == 0)
        memcpy(f->before, z, (f->first + f->width) * sizeof *z);
    else if (passed % f->round == 0) {
        f->known |= nothing_worse(f, z);
        /* on to the first load beyond the bound, where it is asked for; without an end, only to it
         */
        if (f->known && (!f->when || f->crossed || !(f->long_run > BEYOND)))
            return 1;
    }
    note(f, state, passed);
    return !f->steady && f->crossed;
}

/* What is worse than without a pause is what counts. */
static void put(const dregs_week *week, const struct follow *f, uint64_t worst, int in_the_long_run,
                double share, dregs_bound *bound)
{
    if (f->when && f->crossed && !(bound->crossed && bound->crossed <= f->crossed))
        bound->crossed = f->crossed;
    if (!(share > bound->share * (1 + ALIKE)))
        return;
    bound->share = share;
    bound->reached =
        dregs_residue_wants_high(bound) ? bound->limit.si / share : share * bound->limit.si;
    bound->by_week = 1;
    dregs_residue_week_place(week, worst, &bound->in_week);
    bound->in_week.residue = NAN;
    bound->in_week.in_the_long_run = bound->in_the_long_run = in_the_long_run;
    bound->load = bound->in_week.load;
}

static dregs_status follow(const dregs_week *week, uint64_t loads, struct follow *f,
                           dregs_bound *bound)
{
    struct follow steady = *f;
    dregs_status status = DREGS_OK;

    if (loads)
        f->round = UINT64_MAX; /* none: to the last load that is asked for */
    else if (f->steady) {
        status = dregs_residue_week_walk(week, 1, f->round, take_steady, &steady);
        f->long_run = steady.share;
    }
    if (!status)
        status = dregs_residue_week_walk(week, 0, loads ? loads : RESIDUE_WEEK_MOST, take_first, f);
    if (status)
        return status;
    if (isinf(fmax(f->share, f->long_run)) && bound->kind == DREGS_BOUND_CONDUCTIVITY)
        return DREGS_OUT_OF_RANGE;
    if (f->long_run >= f->share * (1 - ALIKE))
        put(week, f, steady.worst, 1, f->long_run, bound);
    else
        put(week, f, f->worst, 0, f->share, bound);
    bound->unknown = !loads && !f->known && !f->crossed && !(f->beyond >= 0 && f->beyond <= 1);
    return DREGS_OK;
}

dregs_status dregs_residue_bound_in_week(const dregs_week *week, uint64_t loads, int when,
                                         dregs_bound *bound)
{
    const dregs_line *line = dregs_map_line(dregs_residue_week_map(week));
    size_t dim = dregs_line_tanks(line) + 1u;
    struct follow f = {.bound = bound, .when = when, .share = -1, .long_run = -1, .beyond = NAN};
    dregs_status status;

    if (bound->kind == DREGS_BOUND_CAPACITY) {
        bound->unknown = !bound->crossed;
        return DREGS_OK;
    }
    f.steady = dregs_residue_week_steady(week);
    f.first = bound->solute < 0 ? 0 : (size_t)bound->solute * dim;
    f.width = dim * (bound->solute < 0 ? dregs_line_solutes(line) : 1);
    f.round = dregs_week_repeats(week) * dregs_week_loads(week);
    f.before = malloc((f.first + f.width) * sizeof *f.before);
    if (!f.before)
        return DREGS_NO_MEMORY;
    status = follow(week, loads > RESIDUE_WEEK_MOST ? DREGS_NO_END : loads, &f, bound);
    free(f.before);
    return status;
}
