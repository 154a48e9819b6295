/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* state.c: a moment between two loads, stepped or moved on. */
#include "balance/map.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

dregs_state *dregs_state_new(const dregs_map *map)
{
    size_t dim = map->tanks + 1u, size = map->solutes * dim + map->stride;
    dregs_state *state = calloc(1, sizeof *state);
    unsigned s;

    if (!state)
        return NULL;
    state->map = map;
    state->room = malloc(2 * size * sizeof *state->room);
    if (!state->room) {
        free(state);
        return NULL;
    }
    state->z = state->room;
    state->other = state->room + size;
    for (s = 0; s < map->solutes; s++)
        memcpy(state->z + s * dim, map->solute[s].fresh, dim * sizeof *state->z);
    dregs_balance_state_set(state, 0);
    return state;
}

void dregs_state_free(dregs_state *state)
{
    if (!state)
        return;
    free(state->room);
    free(state);
}

void dregs_balance_state_set(dregs_state *state, uint64_t done)
{
    state->done = done;
    state->due = dregs_balance_dump_next(state->map->line, done);
}

uint64_t dregs_state_next(const dregs_state *state)
{
    return state->done + 1;
}

double *dregs_balance_state_z(dregs_state *state, unsigned solute)
{
    return state->z + solute * (state->map->tanks + 1u);
}

const double *dregs_balance_state_masses(const dregs_state *state)
{
    return state->z;
}

const dregs_map *dregs_balance_state_map(const dregs_state *state)
{
    return state->map;
}

const dregs_map *dregs_balance_state_next_map(const dregs_state *state)
{
    const dregs_map *map = state->map;

    return map->of_kind ? map->of_kind[dregs_line_kind_at(map->line, state->done + 1)] : map;
}

void dregs_balance_state_put(dregs_state *state, const double *z, uint64_t done)
{
    const dregs_map *map = state->map;

    memcpy(state->z, z, map->solutes * (map->tanks + 1u) * sizeof *z);
    dregs_balance_state_set(state, done);
}

/* `rows` rows, 4 or 8, of the load's map of z, in pairs so that no sum waits for the one before it.
 * The one place where speed counts. */
static inline void apply_rows(const double *columns, size_t n, size_t stride,
                              const double *restrict z, const size_t rows, double *restrict into)
{
    double_pair sum[4];
    size_t i, k;

#pragma GCC unroll 4
    for (i = 0; i < rows / 2; i++)
        sum[i] = pair_at(columns + n * stride + 2 * i);
    for (k = 0; k < n; k++, columns += stride)
#pragma GCC unroll 4
        for (i = 0; i < rows / 2; i++)
            sum[i] += pair_at(columns + 2 * i) * z[k];
#pragma GCC unroll 4
    for (i = 0; i < rows / 2; i++)
        put_pair(into + 2 * i, sum[i]);
}

/* into = the load's map of z */
static void apply(const double *columns, size_t n, size_t stride, const double *z, double *into)
{
    size_t i;

    for (i = 0; i + 8 <= stride; i += 8)
        apply_rows(columns + i, n, stride, z, 8, into + i);
    if (i < stride)
        apply_rows(columns + i, n, stride, z, 4, into + i);
}

void dregs_state_step(dregs_state *state)
{
    const dregs_map *map = state->map, *one = dregs_balance_state_next_map(state);
    const double *z = state->z;
    double *into = state->other;
    size_t n = map->tanks;
    unsigned s;

    for (s = 0; s < map->solutes; s++, z += n + 1, into += n + 1) {
        apply(one->solute[s].columns, n, map->stride, z, into);
        into[n] = 1.0; /* what the columns are filled up with lies here and in the next solute */
    }
    into = state->z;
    state->z = state->other;
    state->other = into;
    state->done++;
    if (state->done < state->due)
        return;
    for (s = 0; s < map->solutes; s++)
        dregs_balance_dump(map->line, s, state->done, &map->plain, dregs_balance_state_z(state, s),
                           1);
    dregs_balance_state_set(state, state->done);
}

dregs_status dregs_state_dump(dregs_state *state, unsigned stage)
{
    const dregs_line *line = state->map->line;
    const dregs_stage *dumped = dregs_line_stage(line, stage);
    unsigned s;

    if (!dumped || dumped->tank < 0)
        return DREGS_DOMAIN;
    for (s = 0; s < state->map->solutes; s++)
        dregs_balance_dump_by_hand(line, s, (unsigned)dumped->tank,
                                   dregs_balance_state_z(state, s));
    return DREGS_OK;
}

dregs_state *dregs_state_under(const dregs_map *map, const dregs_state *state)
{
    dregs_state *made;

    if (map->tanks != state->map->tanks || map->solutes != state->map->solutes)
        return NULL;
    made = dregs_state_new(map);
    if (!made)
        return NULL;
    memcpy(made->z, state->z, map->solutes * (map->tanks + 1u) * sizeof *made->z);
    dregs_balance_state_set(made, state->done);
    return made;
}

dregs_status dregs_state_before(dregs_state *state, uint64_t load)
{
    const dregs_map *map = state->map;
    size_t dim = map->tanks + 1u;
    double *z;
    dregs_status status = DREGS_OK;
    unsigned s;

    if (load <= state->done || load > DREGS_LOADS_MOST)
        return DREGS_DOMAIN;
    z = malloc(map->solutes * dim * sizeof *z);
    if (!z)
        return DREGS_NO_MEMORY;
    memcpy(z, state->z, map->solutes * dim * sizeof *z);
    for (s = 0; s < map->solutes && !status; s++)
        status = dregs_balance_advance(map, s, &map->solute[s].plain, z + s * dim, state->done,
                                       load - 1);
    if (!status) {
        memcpy(state->z, z, map->solutes * dim * sizeof *z);
        dregs_balance_state_set(state, load - 1);
    }
    free(z);
    return status;
}

dregs_status dregs_balance_state_reach(dregs_state *state, uint64_t load)
{
    enum { NEARBY = 24 }; /* loads that are stepped through rather than leapt over */
    dregs_status status = DREGS_OK;

    if (load <= state->done)
        return DREGS_DOMAIN;
    if (load - dregs_state_next(state) > NEARBY)
        status = dregs_state_before(state, load);
    while (!status && dregs_state_next(state) < load)
        dregs_state_step(state);
    return status;
}

dregs_status dregs_state_periodic(dregs_state *state)
{
    const dregs_map *map = state->map;
    size_t dim = map->tanks + 1u;
    dregs_status status = dregs_balance_need_period(map);
    unsigned s;

    if (status || !map->settles)
        return status ? status : DREGS_NO_STEADY;
    for (s = 0; s < map->solutes; s++)
        memcpy(state->z + s * dim, map->solute[s].steady, dim * sizeof *state->z);
    dregs_balance_state_set(state, 0);
    return DREGS_OK;
}

double dregs_state_mass(const dregs_state *state, unsigned solute, unsigned tank)
{
    const dregs_map *map = state->map;

    return solute < map->solutes && tank < map->tanks ? state->z[solute * (map->tanks + 1u) + tank]
                                                      : NAN;
}

/* A row of the map times z, in pairs as above. */
static double row_times(const double *row, const double *z, size_t columns)
{
    double last = columns % 2 ? row[columns - 1] * z[columns - 1] : 0.0;
    double_pair sum = {0};
    size_t k;

    for (k = 0; k + 2 <= columns; k += 2)
        sum += pair_at(row + k) * pair_at(z + k);
    return sum[0] + sum[1] + last;
}

/* The value of a row of the map in this state; NaN for no row. */
static double of_row(const dregs_state *state, unsigned solute, const double *row)
{
    size_t columns = state->map->tanks + 1u;

    return row ? row_times(row, state->z + solute * columns, columns) : NAN;
}

unsigned dregs_balance_state_left(const dregs_state *state, double *film, double *adhering)
{
    const dregs_map *map = dregs_balance_state_next_map(state);
    const double *z = state->z;
    size_t columns = map->tanks + 1u;
    unsigned s;

    for (s = 0; s < map->solutes; s++, z += columns) {
        film[s] = row_times(map->solute[s].left, z, columns);
        adhering[s] = map->solute[s].adhering;
    }
    return map->solutes;
}

double dregs_state_film(const dregs_state *state, unsigned solute, unsigned stage)
{
    return of_row(state, solute,
                  dregs_map_film(dregs_balance_state_next_map(state), solute, stage));
}

double dregs_state_trapped(const dregs_state *state, unsigned solute, unsigned stage)
{
    return of_row(state, solute,
                  dregs_map_trapped(dregs_balance_state_next_map(state), solute, stage));
}

double dregs_state_met(const dregs_state *state, unsigned solute, unsigned stage)
{
    return of_row(state, solute, dregs_map_met(dregs_balance_state_next_map(state), solute, stage));
}

double dregs_state_concentration(const dregs_state *state, unsigned solute, unsigned stage)
{
    const dregs_line *line = dregs_map_line(dregs_balance_state_next_map(state));
    const dregs_carried *carried = dregs_line_carried(line, stage);

    if (!carried || !(carried->out > 0))
        return NAN;
    return dregs_state_film(state, solute, stage) / (carried->out - carried->trapped);
}
