/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* map.c: a line's map as an object, and its totals. */
#include "balance/map.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* How many doubles the rows of a solute are. */
static size_t rows_size(const dregs_map *map)
{
    return (size_t)map->stages * (3 * (map->tanks + 1u) + 1);
}

static struct pass_rows rows_in(const dregs_map *map, double *room)
{
    size_t size = (size_t)map->stages * (map->tanks + 1u);

    return (struct pass_rows){room, room + size, room + 2 * size, room + 3 * size};
}

/* How many doubles a solute takes. */
static size_t solute_size(const dregs_map *map)
{
    return (map->tanks + 1u) * (map->stride + 3) + rows_size(map) +
           dregs_balance_load_map_size(map, &map->closed) +
           dregs_balance_load_map_size(map, &map->plain);
}

/* Gives a solute its room, in which the columns are filled up with zeros. */
static void place_solute(const dregs_map *map, struct solute_map *solute, double *room)
{
    size_t columns = map->tanks + 1u;

    solute->columns = room;
    memset(room, 0, columns * map->stride * sizeof *room);
    solute->fresh = room + columns * map->stride;
    solute->steady = solute->fresh + columns;
    solute->left = solute->steady + columns;
    solute->rows = rows_in(map, solute->left + columns);
    room = solute->left + columns + rows_size(map);
    solute->closed = dregs_balance_load_map_in(map, &map->closed, room);
    room += dregs_balance_load_map_size(map, &map->closed);
    solute->plain = dregs_balance_load_map_in(map, &map->plain, room);
}

/* What the last stage leaves, of loads of one kind. */
static void find_left(const dregs_map *map, struct solute_map *solute)
{
    const dregs_load *load = dregs_line_load(map->line);
    double of_film = dregs_line_left_of_film(map->line);
    double of_trapped = dregs_line_left_of_trapped(map->line);
    size_t columns = map->tanks + 1u, last = map->stages - 1u, k;
    const double *film = solute->rows.film + last * columns;
    const double *trapped = solute->rows.trapped + last * columns;

    for (k = 0; k < columns; k++)
        solute->left[k] = of_film * film[k] + of_trapped * trapped[k];
    solute->adhering = solute->rows.adhering[last] / (load->parts.si * load->area.si);
}

/* The load's map of one solute, from the closed one. */
static dregs_status fill_solute(dregs_map *map, unsigned index, struct common *common)
{
    struct solute_map *solute = &map->solute[index];
    size_t columns = map->tanks + 1u;
    dregs_status status;
    unsigned t, k;

    if (map->of_kind)
        return dregs_balance_load_map_cycle(map, index, solute);
    status = dregs_balance_load_map_fill(map, index, common, solute);
    for (t = 0; t < map->tanks && !status; t++)
        for (k = 0; k < columns; k++)
            solute->columns[k * map->stride + t] = solute->plain.load[t * columns + k];
    if (!status)
        find_left(map, solute);
    return status;
}

static dregs_status work_out_period(dregs_map *map)
{
    dregs_status status = DREGS_OK, settles;
    unsigned s;

    map->settles = 1;
    for (s = 0; s < map->solutes && !status; s++) {
        struct solute_map *solute = &map->solute[s];
        status = dregs_balance_period_fill(map, s, &solute->closed);
        if (status)
            break;
        dregs_balance_leave_out_sum(map->tanks, solute->closed.period, solute->plain.period);
        settles = dregs_balance_fixed_point(&solute->closed, solute->fresh, solute->steady);
        if (settles == DREGS_NO_STEADY)
            map->settles = 0;
        else
            status = settles;
    }
    return status;
}

dregs_status dregs_balance_need_period(const dregs_map *map)
{
    dregs_map *own = (dregs_map *)map; /* a map is made by dregs_map_new only, never const */
    dregs_status status;

    (void)pthread_mutex_lock(&own->lock);
    if (!own->period_known) {
        own->period_status = work_out_period(own);
        own->period_known = 1;
    }
    status = own->period_status;
    (void)pthread_mutex_unlock(&own->lock);
    return status;
}

dregs_status dregs_balance_map_whole_period(const dregs_map *map, unsigned solute,
                                            const double **matrix)
{
    dregs_status status = dregs_balance_need_period(map);

    if (!status)
        *matrix = map->solute[solute].plain.period;
    return status;
}

const double *dregs_balance_map_fresh(const dregs_map *map, unsigned solute)
{
    return map->solute[solute].fresh;
}

int dregs_balance_map_alike(const dregs_map *map, unsigned one, unsigned other)
{
    const struct solute_map *a = &map->solute[one], *b = &map->solute[other];
    size_t row = map->tanks + 1u;
    unsigned t, k;

    if (a->like == b || b->like == a || (a->like && a->like == b->like))
        return 1;

    for (k = 0; map->of_kind && k < dregs_line_kinds(map->line); k++)
        if (!dregs_balance_map_alike(map->of_kind[k], one, other))
            return 0;
    for (t = 0; t < map->tanks && !map->of_kind; t++)
        if (memcmp(a->plain.load + t * row, b->plain.load + t * row, map->tanks * sizeof(double)) !=
            0)
            return 0;
    return 1;
}

static dregs_status make_solute(dregs_map *map, unsigned index, struct common *common, double *room)
{
    struct solute_map *solute = &map->solute[index];
    unsigned t;

    place_solute(map, solute, room);
    for (t = 0; t < map->tanks; t++) {
        const dregs_tank *tank = dregs_line_tank(map->line, t);
        const dregs_fluid *fluid = dregs_line_wet_with(map->line, tank->stage);
        solute->fresh[t] = tank->volume * fluid->content[index].si;
    }
    solute->fresh[map->tanks] = solute->steady[map->tanks] = 1.0;
    return fill_solute(map, index, common);
}

/* A map for each kind of loads. */
static dregs_status make_kinds(dregs_map *map)
{
    unsigned kinds = dregs_line_kinds(map->line), k;
    dregs_status status = DREGS_OK;

    map->of_kind = calloc(kinds, sizeof(dregs_map *));
    if (!map->of_kind)
        return DREGS_NO_MEMORY;
    for (k = 0; k < kinds && !status; k++)
        status = dregs_map_new(dregs_line_of_kind(map->line, k), &map->of_kind[k]);
    return status;
}

dregs_status dregs_map_new(const dregs_line *line, dregs_map **map)
{
    dregs_map *made = malloc(sizeof *made);
    struct common common;
    dregs_status status;
    size_t size;
    unsigned s;

    if (!made)
        return DREGS_NO_MEMORY;
    memset(made, 0, offsetof(dregs_map, plain));
    made->line = line;
    dregs_balance_ledger_plain(line, &made->plain);
    dregs_balance_ledger_closed(line, &made->closed);
    made->tanks = dregs_line_tanks(line);
    made->stride = (made->tanks + 3u) / 4u * 4u;
    (void)pthread_mutex_init(&made->lock, NULL);
    made->stages = dregs_line_stages(line);
    made->solutes = dregs_line_solutes(line);
    made->period = dregs_line_period(line);
    made->cycle = dregs_line_cycle(line);
    made->powers = dregs_balance_powers_of(made);
    size = solute_size(made);
    made->solute = calloc(made->solutes, sizeof *made->solute);
    made->room = malloc(made->solutes * size * sizeof *made->room);
    status = dregs_balance_common_new(made, &common);
    if (!made->solute || !made->room)
        status = DREGS_NO_MEMORY;
    if (!status && made->cycle > 1)
        status = make_kinds(made);
    for (s = 0; s < made->solutes && !status; s++)
        status = make_solute(made, s, &common, made->room + s * size);
    dregs_balance_common_free(&common);
    if (status) {
        dregs_map_free(made);
        return status;
    }
    *map = made;
    return DREGS_OK;
}

void dregs_map_free(dregs_map *map)
{
    unsigned s;

    if (!map)
        return;
    for (s = 0; map->of_kind && s < dregs_line_kinds(map->line); s++)
        dregs_map_free(map->of_kind[s]);
    free(map->of_kind);
    free(map->solute);
    free(map->room);
    (void)pthread_mutex_destroy(&map->lock);
    free(map);
}

const dregs_line *dregs_map_line(const dregs_map *map)
{
    return map->line;
}

const dregs_map *dregs_map_of_kind(const dregs_map *map, unsigned kind)
{
    if (kind >= dregs_line_kinds(map->line))
        return NULL;
    return map->of_kind ? map->of_kind[kind] : map;
}

/* Has the map rows of a load: are all loads alike? */
static int has_rows(const dregs_map *map, unsigned solute)
{
    return solute < map->solutes && !map->of_kind;
}

const double *dregs_map_film(const dregs_map *map, unsigned solute, unsigned stage)
{
    return has_rows(map, solute) && stage < map->stages
               ? map->solute[solute].rows.film + stage * (map->tanks + 1u)
               : NULL;
}

const double *dregs_map_trapped(const dregs_map *map, unsigned solute, unsigned stage)
{
    return has_rows(map, solute) && stage < map->stages
               ? map->solute[solute].rows.trapped + stage * (map->tanks + 1u)
               : NULL;
}

const double *dregs_map_met(const dregs_map *map, unsigned solute, unsigned stage)
{
    return has_rows(map, solute) && stage < map->stages &&
                   dregs_line_stage(map->line, stage)->tank >= 0
               ? map->solute[solute].rows.met + stage * (map->tanks + 1u)
               : NULL;
}

const double *dregs_map_row(const dregs_map *map, unsigned solute, unsigned tank)
{
    return has_rows(map, solute) && tank < map->tanks
               ? map->solute[solute].plain.load + tank * (map->tanks + 1u)
               : NULL;
}

double dregs_map_adhering(const dregs_map *map, unsigned solute, unsigned stage)
{
    return has_rows(map, solute) && stage < map->stages ? map->solute[solute].rows.adhering[stage]
                                                        : NAN;
}

const double *dregs_balance_map_left(const dregs_map *map, unsigned solute)
{
    return has_rows(map, solute) ? map->solute[solute].left : NULL;
}

double dregs_balance_map_adhering(const dregs_map *map, unsigned solute)
{
    return has_rows(map, solute) ? map->solute[solute].adhering : NAN;
}

static void read_sums(const dregs_map *map, const double *fresh, const double *z,
                      dregs_totals *totals)
{
    const double *sums = z + map->tanks;
    unsigned t;

    memset(totals, 0, sizeof *totals);
    for (t = 0; t < map->tanks; t++) {
        totals->held_first += fresh[t];
        totals->held_last += z[t];
    }
    totals->soil = sums[TOTAL_SOIL];
    totals->fed = sums[TOTAL_FED];
    totals->sprayed = sums[TOTAL_SPRAYED];
    totals->refilled = sums[TOTAL_REFILLED];
    totals->overflow = sums[TOTAL_OVERFLOW];
    totals->runoff = sums[TOTAL_RUNOFF];
    totals->dumped = sums[TOTAL_DUMPED];
    totals->cleared = sums[TOTAL_CLEARED];
    totals->blown_off = sums[TOTAL_BLOWN_OFF];
    totals->carried = sums[TOTAL_CARRIED];
}

dregs_status dregs_map_totals(const dregs_map *map, unsigned solute, uint64_t loads,
                              dregs_totals *totals)
{
    struct load_map load = {0};
    struct ledger ledger;
    double *z;
    dregs_status status = DREGS_NO_MEMORY;

    if (solute >= map->solutes || loads > DREGS_LOADS_MOST)
        return DREGS_DOMAIN;
    dregs_balance_ledger_totals(map->line, &ledger);
    z = calloc(ledger.dim, sizeof *z);
    if (z)
        status = dregs_balance_load_map_full(map, solute, &ledger, &load);
    if (!status) {
        memcpy(z, map->solute[solute].fresh, map->tanks * sizeof *z);
        z[load.dim - 1] = 1.0;
        status = dregs_balance_advance(map, solute, &load, z, 0, loads);
    }
    if (!status)
        read_sums(map, map->solute[solute].fresh, z, totals);
    free(z);
    free(load.load);
    return status;
}
