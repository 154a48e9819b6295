/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* judge.c: how a line stands to what is asked of it, in full and quickly.
 *
 * The quick judgement looks at two moments of the line: the first loads, and the load before all
 * dumps fall together, when every tank has been used for longest. For the second the line is
 * followed through the dumps that come before it, with tanks that were fresh as far back as it
 * takes to be forgotten. So it takes no time for a dump period to be long.
 */
#include "line/line.h"
#include "residue/residue.h"
#include "size/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_LOADS = 256, DUMPS_MOST = 20000, MARCHED = 1 << 17 };

/* The bounds of concentrations among so many loads. Where what is known of a solute's conductivity
 * ends, or what nights and weekends do to one, the line is no answer. */
static dregs_status judge_bounds(const dregs_map *map, uint64_t loads, struct outcome *outcome)
{
    dregs_bounds *bounds = NULL;
    dregs_status status = dregs_bounds_new(map, loads, 0, &bounds);
    const dregs_bound *binding = status ? NULL : dregs_bounds_binding(bounds), *bound;
    unsigned i;

    if (binding) {
        outcome->bounded = 1;
        outcome->bound = *binding;
        outcome->excess = fmax(outcome->excess, binding->share);
    }
    for (i = 0; binding && (bound = dregs_bounds_at(bounds, i)) != NULL; i++)
        if (bound->unknown)
            outcome->excess = HUGE_VAL;
    dregs_bounds_free(bounds);
    if (status == DREGS_OUT_OF_RANGE) {
        outcome->excess = HUGE_VAL;
        status = DREGS_OK;
    }
    return status;
}

dregs_status dregs_size_judge(const dregs_line *line, dregs_criterion criterion, double aim,
                              struct outcome *outcome)
{
    int some = criterion.by == DREGS_CRITERION_FIRST || criterion.by == DREGS_CRITERION_LOAD;
    dregs_map *map = NULL;
    dregs_status status = dregs_map_new(line, &map);

    if (status)
        return status;
    outcome->bounded = 0;
    status = dregs_size_compliance_on(map, criterion, &outcome->compliance);
    if (!status) {
        outcome->excess = outcome->compliance.of_limit / aim;
        status = judge_bounds(map, some ? criterion.loads : DREGS_NO_END, outcome);
    }
    dregs_map_free(map);
    return status;
}

/* What a residue is of the limits, the largest. */
static double excess_of(const dregs_line *line, const dregs_residue *residue)
{
    const dregs_target *target = dregs_line_target(line);
    double most = 0;
    int s;

    for (s = DREGS_EVERY_SOLUTE; s < (int)dregs_line_solutes(line); s++) {
        const dregs_value *limit = s < 0 ? &target->residue : &target->of_solute[s];
        if (limit->row)
            most = fmax(most, dregs_residue_of(residue, s) / limit->si);
    }
    return most;
}

static double excess_next(const dregs_map *map, const dregs_state *state)
{
    dregs_residue residue;

    dregs_residue_next(state, &residue);
    return excess_of(dregs_map_line(map), &residue);
}

/* The largest number of loads between dumps, and how many dumps there are in a load. */
static void find_dumps(const dregs_line *line, double *longest, double *often)
{
    unsigned i;

    *longest = *often = 0;
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (!stage->dump_every.row)
            continue;
        *longest = fmax(*longest, stage->dump_every.si);
        *often += 1 / stage->dump_every.si;
    }
}

/* The load before all dumps fall together, from tanks that were fresh `back` loads before. */
static dregs_status before_the_dumps(const dregs_map *map, uint64_t back, dregs_state *state)
{
    const dregs_line *line = dregs_map_line(map);
    uint64_t period = dregs_line_period(line), top = (back / period + 1) * period;
    size_t dim = dregs_line_tanks(line) + 1u;
    unsigned s, solutes = dregs_line_solutes(line);
    double *z = malloc(solutes * dim * sizeof *z);
    dregs_status status = z ? DREGS_OK : DREGS_NO_MEMORY;

    for (s = 0; s < solutes && !status; s++) {
        memcpy(z + s * dim, dregs_balance_map_fresh(map, s), dim * sizeof *z);
        status = dregs_balance_map_advance(map, s, z + s * dim, top - back, top - 1);
    }
    if (!status)
        dregs_balance_state_put(state, z, top - 1);
    free(z);
    return status;
}

static dregs_status excess_in_the_end(const dregs_map *map, dregs_state *state, double *excess)
{
    double longest, often, back, before = -1, here = 0;
    dregs_status status = DREGS_OK;

    find_dumps(dregs_map_line(map), &longest, &often);
    for (back = 4 * longest; !status; back *= 4) {
        status = before_the_dumps(map, (uint64_t)back, state);
        if (status)
            break;
        here = excess_next(map, state);
        if (fabs(here - before) <= 1e-7 * here || back * 4 * often > DUMPS_MOST)
            break;
        before = here;
    }
    *excess = fmax(*excess, here);
    return status;
}

static double excess_at_first(const dregs_map *map, dregs_state *state, double loads)
{
    double most = 0;
    unsigned load;

    for (load = 0; load < loads; load++) {
        most = fmax(most, excess_next(map, state));
        dregs_state_step(state);
    }
    return most;
}

dregs_status dregs_size_judge_quick(const dregs_line *line, dregs_criterion criterion, double aim,
                                    double *excess)
{
    struct outcome outcome = {.excess = 0};
    double longest, often, found = 0;
    dregs_map *map = NULL;
    dregs_state *state;
    dregs_status status;

    find_dumps(line, &longest, &often);
    if (!(longest > 0) ||
        (criterion.by != DREGS_CRITERION_EVER && criterion.by != DREGS_CRITERION_STEADY)) {
        if (criterion.by == DREGS_CRITERION_FIRST && criterion.loads > MARCHED)
            criterion.loads = MARCHED;
        status = dregs_size_judge(line, criterion, aim, &outcome);
        if (!status)
            *excess = outcome.excess;
        return status;
    }
    status = dregs_map_new(line, &map);
    if (status)
        return status;
    state = dregs_state_new(map);
    status = state ? DREGS_OK : DREGS_NO_MEMORY;
    if (!status && criterion.by == DREGS_CRITERION_EVER)
        found = excess_at_first(map, state, fmin(2 * longest, FIRST_LOADS));
    if (!status)
        status = excess_in_the_end(map, state, &found);
    if (!status)
        status = judge_bounds(map, (uint64_t)(2 * longest), &outcome);
    dregs_state_free(state);
    dregs_map_free(map);
    if (!status)
        *excess = fmax(found / aim, outcome.excess);
    return status;
}
