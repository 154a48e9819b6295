/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* worst.c: the load that leaves most, among some or among all that will ever pass.
 *
 * Most lines need no search: what begins below its steady state stays below it, and where that
 * state is the worst, one dump period of it is all there is to look at. Of the others the loads are
 * looked at where they are few, one by one or by leaps between dumps (peak.c), else on a grid of
 * states (grid.c).
 */
#include "residue/grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ALL_LOADS = 1 << 17 };

#define ALIKE       1e-9  /* relative: residues that count as the same one */
#define PEAKS_ALIKE 1e-14 /* of those the first one counts, as in peak.c */

/* What the rule below is made of. */
struct run_on {
    double limit;         /* the worst of the steady state */
    uint64_t limit_phase; /* where it stands in the period */
    double first;         /* the worst of the first period, or a little below the limit where it is
                             not even that */
};

/* The load of a period that leaves most, where loads are of several kinds: all are looked at. */
static dregs_status peak_of_kinds(const struct grid *g, const double *begin,
                                  struct residue_peak *peak)
{
    dregs_state *state = dregs_state_new(g->map);
    uint64_t phase;

    if (!state)
        return DREGS_NO_MEMORY;
    dregs_balance_state_put(state, begin, 0);
    for (phase = 0; phase < g->period; phase++) {
        double v = dregs_residue_grid_value(g, dregs_residue_grid_film(g, phase),
                                            dregs_balance_state_masses(state));
        if (dregs_residue_grid_counts(g, phase) && v > peak->value * (1 + PEAKS_ALIKE)) {
            peak->value = v;
            peak->phase = phase;
        }
        dregs_state_step(state);
    }
    dregs_state_free(state);
    return DREGS_OK;
}

static dregs_status find_peak(const struct grid *g, const double *begin, struct residue_peak *peak)
{
    return g->kinds > 1 ? peak_of_kinds(g, begin, peak)
                        : dregs_residue_peak(g->map, begin, g->film, g->solute, g->period, peak);
}

/* z of the fresh start, which the caller frees; NULL when memory is short. */
static double *fresh_start(const struct grid *g)
{
    double *fresh = malloc(g->width * sizeof *fresh);
    unsigned s;

    for (s = 0; fresh && s < g->solutes; s++)
        memcpy(fresh + s * g->dim, dregs_balance_map_fresh(g->map, s), g->dim * sizeof *fresh);
    return fresh;
}

/* The period that repeats itself, and whether the first one comes near it: less is not asked of
 * the first. \param below  1: the fresh start holds no more of anything. */
static dregs_status look_at_ends(const struct grid *g, int below, struct run_on *ends)
{
    struct residue_peak limit = {-1, 0}, first;
    double *fresh = fresh_start(g);
    dregs_status status = fresh ? DREGS_OK : DREGS_NO_MEMORY;

    if (!status)
        status = find_peak(g, g->steady, &limit);
    ends->limit = g->adhering + limit.value;
    ends->limit_phase = limit.phase;
    first.value = ends->limit * (1 - 2 * ALIKE) - g->adhering;
    if (!status && (!below || g->kinds > 1 ||
                    !(dregs_residue_apart(g->map, fresh, g->steady, g->film, g->solute) >
                      3 * ALIKE * ends->limit)))
        status = find_peak(g, fresh, &first);
    ends->first = g->adhering + first.value;
    free(fresh);
    return status;
}

/* Where the steady state leaves the most and the first period has not come near it, it is the
 * answer. */
static int run_on_wins(const struct run_on *ends, double found)
{
    return ends->limit > 0 && ends->limit >= found * (1 - ALIKE) &&
           ends->first < ends->limit * (1 - ALIKE);
}

static dregs_worst in_the_long_run(const struct run_on *ends)
{
    dregs_worst worst = {ends->limit, ends->limit_phase + 1, 1};

    return worst;
}

static dregs_status search(const struct grid *g, uint64_t loads, dregs_worst *worst)
{
    struct run_on ends;
    dregs_worst found = {-1, 0, 0};
    dregs_status status = dregs_residue_grid_search(g, loads, &found);

    if (!status && g->steady && !loads) {
        status = look_at_ends(g, 0, &ends);
        if (!status && run_on_wins(&ends, found.residue))
            found = in_the_long_run(&ends);
    }
    if (!status)
        *worst = found;
    return status;
}

/* Do two solutes move and leave with the parts alike, so that what is asked is a function of their
 * sum? */
static int go_alike(const struct grid *g, unsigned one, unsigned other)
{
    unsigned last = dregs_line_stages(g->line) - 1, k;
    int alike = one == other || dregs_balance_map_alike(g->map, one, other);

    for (k = 0; k < g->kinds && alike && one != other; k++) {
        const dregs_map *map = dregs_map_of_kind(g->map, k);
        const double *of_one = dregs_map_film(map, one, last);
        alike =
            memcmp(of_one, dregs_map_film(map, other, last), (g->dim - 1) * sizeof *of_one) == 0 &&
            memcmp(dregs_map_trapped(map, one, last), dregs_map_trapped(map, other, last),
                   (g->dim - 1) * sizeof *of_one) == 0;
    }
    return alike;
}

/* Does the fresh start hold no more in any tank of a solute, and of those that go with it, than the
 * steady state? */
static int holds_less(const struct grid *g, unsigned solute)
{
    double fresh[DREGS_LINE_STAGES] = {0}, steady[DREGS_LINE_STAGES] = {0};
    unsigned s;
    size_t i;

    for (s = 0; s < g->solutes; s++) {
        const double *from = dregs_balance_map_fresh(g->map, s);
        if (!dregs_residue_grid_asks(g, s) || !go_alike(g, solute, s))
            continue;
        for (i = 0; i < g->dim - 1; i++) {
            fresh[i] += from[i];
            steady[i] += g->steady[s * g->dim + i];
        }
    }
    for (i = 0; i < g->dim - 1; i++)
        if (!(fresh[i] <= steady[i] * (1 + 0.1 * ALIKE)))
            return 0;
    return 1;
}

/* Does the fresh start hold no more of anything than the steady state? Loads, flows and dumps take
 * more to more, so no moment of the line then does. Solutes that go alike count together: what one
 * holds more may be made up for by another. */
static int begins_below(const struct grid *g)
{
    unsigned s;

    for (s = 0; s < g->solutes; s++)
        if (dregs_residue_grid_asks(g, s) && !holds_less(g, s))
            return 0;
    return 1;
}

/* Is the fresh start the steady state itself? So it is where every tank is dumped. */
static int begins_steady(const struct grid *g)
{
    unsigned s;
    size_t i;

    for (s = 0; s < g->solutes; s++) {
        const double *fresh = dregs_balance_map_fresh(g->map, s), *steady = g->steady + s * g->dim;
        for (i = 0; dregs_residue_grid_asks(g, s) && i < g->dim; i++)
            if (fabs(fresh[i] - steady[i]) > 1e-11 * fabs(steady[i]))
                return 0;
    }
    return 1;
}

/* The answer without the grid, for lines that begin below their steady state and do not come near
 * it within the first period, or that are there at once. \return 1: found. */
static int search_growing(const struct grid *g, dregs_worst *worst, dregs_status *status)
{
    struct run_on ends;

    if (!g->steady || !begins_below(g))
        return 0;
    *status = look_at_ends(g, 1, &ends);
    if (*status || (!run_on_wins(&ends, ends.limit) && !begins_steady(g)))
        return 0;
    *worst = in_the_long_run(&ends);
    worst->in_the_long_run = !begins_steady(g);
    return 1;
}

static dregs_status march(struct grid *g, uint64_t loads, dregs_worst *worst)
{
    dregs_state *state = dregs_state_new(g->map);
    dregs_residue residue;
    dregs_worst found = {-1, 0, 0};
    uint64_t load;

    if (!state)
        return DREGS_NO_MEMORY;
    for (load = 1; load <= loads; load++) {
        dregs_residue_next(state, &residue);
        if (dregs_residue_grid_counts(g, load - 1) &&
            dregs_residue_of(&residue, g->solute) > found.residue) {
            found.residue = dregs_residue_of(&residue, g->solute);
            found.load = load;
        }
        dregs_state_step(state);
    }
    dregs_state_free(state);
    *worst = found.load ? found : (dregs_worst){0, 0, 0};
    return DREGS_OK;
}

/* The first loads, of one kind, where stretches without a dump are long: not each is looked at. */
static dregs_status leap(struct grid *g, uint64_t loads, dregs_worst *worst)
{
    struct residue_peak peak = {-1, 0};
    double *fresh = fresh_start(g);
    dregs_status status = fresh ? dregs_residue_grid_films(g) : DREGS_NO_MEMORY;
    dregs_worst found = {-1, 0, 0};
    dregs_residue residue;

    if (!status)
        status = dregs_residue_peak(g->map, fresh, g->film, g->solute, loads, &peak);
    found.load = peak.phase + 1;
    if (!status)
        status = dregs_residue_at(g->map, &found, &residue);
    if (!status) {
        found.residue = dregs_residue_of(&residue, g->solute);
        *worst = found;
    }
    free(g->film);
    free(fresh);
    return status;
}

static int may_leap(const struct grid *g)
{
    enum { LONG = 32 }; /* loads: where less is leapt over, stepping is as quick */

    return g->kinds == 1 && g->period >= LONG && dregs_balance_dump_next(g->line, 0) >= LONG;
}

/* The search itself. \param exhaustive  1: on the whole grid, also where that is not needed. */
static dregs_status find_worst(struct grid *g, uint64_t loads, int exhaustive, dregs_worst *worst)
{
    /* without an end, all of the last period must lie within DREGS_LOADS_MOST */
    uint64_t last = loads ? loads / g->period : DREGS_LOADS_MOST / g->period - 1;
    dregs_state *steady = dregs_state_new(g->map);
    dregs_status status;

    if (!steady)
        return DREGS_NO_MEMORY;
    status = dregs_state_periodic(steady);
    if (status && status != DREGS_NO_STEADY) {
        dregs_state_free(steady);
        return status;
    }
    g->steady = status ? NULL : dregs_balance_state_masses(steady);
    status = dregs_residue_grid_films(g);
    if (status || loads || exhaustive || !search_growing(g, worst, &status)) {
        if (!status)
            status = dregs_residue_grid_lay_out(g, last);
        if (!status)
            status = search(g, loads, worst);
    }
    dregs_state_free(steady);
    free(g->at);
    free(g->state);
    free(g->film);
    return status;
}

static struct grid grid_of(const dregs_map *map, int kind, int solute)
{
    const dregs_line *line = dregs_map_line(map);
    struct grid g = {.map = map,
                     .line = line,
                     .solutes = dregs_line_solutes(line),
                     .period = dregs_line_period(line),
                     .kind = kind,
                     .kinds = dregs_line_kinds(line),
                     .solute = solute,
                     .dim = dregs_line_tanks(line) + 1u};

    g.width = g.solutes * g.dim;
    return g;
}

dregs_status dregs_residue_worst_steady(const dregs_map *map, int solute, dregs_worst *worst)
{
    struct grid g = grid_of(map, -1, solute);
    dregs_state *steady = dregs_state_new(map);
    struct residue_peak peak = {-1, 0};
    dregs_status status = steady ? dregs_state_periodic(steady) : DREGS_NO_MEMORY;

    if (!status)
        status = dregs_residue_grid_films(&g);
    if (!status)
        status = find_peak(&g, dregs_balance_state_masses(steady), &peak);
    if (!status)
        *worst = (dregs_worst){g.adhering + peak.value, peak.phase + 1, 1};
    free(g.film);
    dregs_state_free(steady);
    return status;
}

static dregs_status worst_of(const dregs_map *map, int kind, int solute, uint64_t loads,
                             int exhaustive, dregs_worst *worst)
{
    struct grid g = grid_of(map, kind, solute);

    if (kind >= (int)g.kinds || solute < DREGS_EVERY_SOLUTE || solute >= (int)g.solutes ||
        loads > DREGS_LOADS_MOST)
        return DREGS_DOMAIN;
    if (loads && loads <= ALL_LOADS)
        return may_leap(&g) && !exhaustive ? leap(&g, loads, worst) : march(&g, loads, worst);
    return find_worst(&g, loads, exhaustive, worst);
}

dregs_status dregs_residue_worst(const dregs_map *map, int solute, uint64_t loads,
                                 dregs_worst *worst)
{
    return worst_of(map, -1, solute, loads, 0, worst);
}

dregs_status dregs_residue_worst_of_kind(const dregs_map *map, unsigned kind, int solute,
                                         uint64_t loads, dregs_worst *worst)
{
    if (kind >= DREGS_LINE_LOADS)
        return DREGS_DOMAIN;
    return worst_of(map, (int)kind, solute, loads, 0, worst);
}

dregs_status dregs_residue_worst_of_all(const dregs_map *map, int solute, uint64_t loads,
                                        dregs_worst *worst)
{
    return worst_of(map, -1, solute, loads, 1, worst);
}
