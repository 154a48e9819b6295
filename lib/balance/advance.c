/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* advance.c: from one load number to another, by single loads, by powers of a load's map up to the
 * next dump, and by powers of the dump period's map.
 *
 * Many dumps let what was there before them be forgotten. Where they do, only the last of them are
 * gone through: with what comes in meanwhile, and beside it what is left of more than any tank can
 * have held, which must be less than the least number of full precision.
 */
#include "balance/map.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Fewer dumps than these are gone through without asking how soon they let the past be forgotten.
 */
#define DUMPS_FEW 64
/* kg; more than any tank holds, whatever its file says */
#define MOST_HELD 1e30

void dregs_balance_one_load(const dregs_map *map, const struct load_map *load, double *z,
                            double *spare, size_t columns, uint64_t done)
{
    size_t kind = dregs_line_kind_at(map->line, done + 1);

    dregs_balance_multiply_in_place(load->load + kind * load->dim * load->dim, z, load->dim,
                                    columns, spare);
}

/* Loads with no dump among them: to the begin of a cycle, by whole cycles, and into the last one.
 */
static void pass(const dregs_map *map, const struct load_map *load, double *z, double *spare,
                 size_t columns, uint64_t done, uint64_t stop)
{
    uint64_t cycles;
    unsigned j;

    for (; done % map->cycle && done < stop; done++)
        dregs_balance_one_load(map, load, z, spare, columns, done);
    cycles = (stop - done) / map->cycle;
    for (j = 0; cycles >> j; j++)
        if (cycles >> j & 1)
            dregs_balance_multiply_in_place(dregs_balance_power(load, j), z, load->dim, columns,
                                            spare);
    for (done += cycles * map->cycle; done < stop; done++)
        dregs_balance_one_load(map, load, z, spare, columns, done);
}

/* From `done` to `until` loads, no further apart than one dump period. */
void dregs_balance_walk(const dregs_map *map, unsigned solute, const struct load_map *load,
                        double *z, double *spare, size_t columns, uint64_t done, uint64_t until)
{
    while (done < until) {
        uint64_t due = dregs_balance_dump_next(map->line, done);
        uint64_t stop = due < until ? due : until;
        pass(map, load, z, spare, columns, done, stop);
        done = stop;
        if (done == due)
            dregs_balance_dump(map->line, solute, done, load->ledger, z, columns);
    }
}

void dregs_balance_map_one_load(const dregs_map *map, unsigned solute, double *z, double *spare,
                                size_t columns, uint64_t done)
{
    dregs_balance_walk(map, solute, &map->solute[solute].plain, z, spare, columns, done, done + 1);
}

/* z by whole dump periods: powers of the period's map. */
static void leap(const struct load_map *load, double *z, uint64_t periods, double *square,
                 double *spare)
{
    memcpy(square, load->period, load->dim * load->dim * sizeof *square);
    for (; periods; periods >>= 1) {
        if (periods & 1)
            dregs_balance_multiply_in_place(square, z, load->dim, 1, spare);
        if (periods > 1) {
            dregs_balance_multiply_in_place(square, square, load->dim, load->dim, spare);
            dregs_balance_conserve(square, load->ledger, load->dim);
        }
    }
}

/* What is left after so many loads up to `until` of however much any tank held before them: so
 * little that no number can tell? Then z is what has come in since. */
static int forgotten(const dregs_map *map, unsigned solute, const struct load_map *load, double *z,
                     double *two, uint64_t back, uint64_t until)
{
    size_t dim = load->dim, i;

    memset(two, 0, 2 * dim * sizeof *two);
    for (i = 0; i < dim - 1; i++)
        two[2 * i] = MOST_HELD;
    two[2 * dim - 1] = 1.0;
    dregs_balance_walk(map, solute, load, two, two + 2 * dim, 2, until - back, until);
    for (i = 0; i < dim; i++)
        if (!(two[2 * i] < DBL_MIN))
            return 0;
    for (i = 0; i < dim; i++)
        z[i] = two[2 * i + 1];
    return 1;
}

uint64_t dregs_balance_back(const dregs_map *map, uint64_t most)
{
    uint64_t longest = 0, back;
    double often = 0.0;
    unsigned i;

    for (i = 0; i < map->stages; i++) {
        const dregs_stage *stage = dregs_line_stage(map->line, i);
        if (!stage->dump_every.row)
            continue;
        often += 1.0 / stage->dump_every.si;
        if ((uint64_t)stage->dump_every.si > longest)
            longest = (uint64_t)stage->dump_every.si;
    }
    back = (4 * longest + map->cycle - 1) / map->cycle * map->cycle;
    return often * (double)most < DUMPS_FEW || back > most / 4 ? 0 : back;
}

void dregs_balance_walk_far(const dregs_map *map, unsigned solute, const struct load_map *load,
                            double *z, double *spare, uint64_t done, uint64_t until)
{
    uint64_t back = load->ledger == &map->plain ? dregs_balance_back(map, until - done) : 0;

    for (; back && back <= (until - done) / 4; back *= 4)
        if (forgotten(map, solute, load, z, spare, back, until))
            return;
    dregs_balance_walk(map, solute, load, z, spare, 1, done, until);
}

dregs_status dregs_balance_advance(const dregs_map *map, unsigned solute,
                                   const struct load_map *load, double *z, uint64_t done,
                                   uint64_t until)
{
    size_t size = load->dim * load->dim;
    uint64_t aligned = (done + map->period - 1) / map->period * map->period;
    uint64_t periods = until > aligned ? (until - aligned) / map->period : 0;
    dregs_status status = DREGS_OK;
    double *square, *spare;

    if (until <= done)
        return DREGS_OK;
    if (periods && load == &map->solute[solute].plain)
        status = dregs_balance_need_period(map);
    if (status)
        return status;
    square = malloc((2 * size + 4 * load->dim) * sizeof *square);
    if (!square)
        return DREGS_NO_MEMORY;
    spare = square + size;
    if (periods) {
        dregs_balance_walk_far(map, solute, load, z, spare, done, aligned);
        leap(load, z, periods, square, spare);
        done = aligned + periods * map->period;
    }
    dregs_balance_walk_far(map, solute, load, z, spare, done, until);
    free(square);
    return DREGS_OK;
}

dregs_status dregs_balance_map_advance(const dregs_map *map, unsigned solute, double *z,
                                       uint64_t done, uint64_t until)
{
    return dregs_balance_advance(map, solute, &map->solute[solute].plain, z, done, until);
}
