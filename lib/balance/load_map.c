/* SPDX-License-Identifier: GPL-3.0-or-later */
/* load_map.c: the map of one load in its three forms, its powers, and that of a dump period. */
#include "balance/map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Those that one dump period needs. */
static unsigned powers_of(const dregs_map *map)
{
    unsigned powers = 1;

    while (map->period / map->cycle >> powers)
        powers++;
    return powers;
}

/* The loads of each kind; of one kind the load is the first power. */
static size_t kinds_of(const dregs_map *map)
{
    size_t kinds = dregs_line_kinds(map->line);

    return kinds > 1 ? kinds : 0;
}

size_t dregs_balance_load_map_size(const dregs_map *map, const struct ledger *ledger)
{
    /* 2: period, spare */
    return ledger->dim * ledger->dim * (kinds_of(map) + powers_of(map) + 2);
}

struct load_map dregs_balance_load_map_in(const dregs_map *map, const struct ledger *ledger,
                                          double *room)
{
    size_t square = ledger->dim * ledger->dim;
    struct load_map load = {.ledger = ledger,
                            .dim = ledger->dim,
                            .tanks = map->tanks,
                            .load = room,
                            .powers = powers_of(map),
                            .power = room + kinds_of(map) * square};

    load.period = load.power + load.powers * square;
    return load;
}

/* The loads of a cycle one after another; of one kind it is there already. */
static void fill_cycle(const dregs_map *map, struct load_map *into)
{
    size_t dim = into->dim, i;
    uint64_t done;

    if (map->cycle == 1)
        return;
    memset(into->power, 0, dim * dim * sizeof *into->load);
    for (i = 0; i < dim; i++)
        into->power[i * dim + i] = 1.0;
    for (done = 0; done < map->cycle; done++)
        dregs_balance_one_load(map, into, into->power, into->period + dim * dim, dim, done);
    dregs_balance_conserve(into->power, into->ledger, dim);
}

/* The solute before this one, the last of them, whose closed map lets what is in the tanks go the
 * same ways, so that only what comes in differs; NULL: none. */
static const struct load_map *goes_like(const dregs_map *map, unsigned solute,
                                        const struct load_map *load)
{
    size_t dim = load->dim, i;
    unsigned s;

    if (load->ledger != &map->closed || map->cycle > 1)
        return NULL;
    for (s = solute; s-- > 0;) {
        const double *other = map->solute[s].closed.load;
        for (i = 0; i < dim; i++)
            if (memcmp(load->load + i * dim, other + i * dim, (dim - 1) * sizeof *other) != 0)
                break;
        if (i == dim)
            return &map->solute[s].closed;
    }
    return NULL;
}

/* A matrix of which only the last column, what comes in, is not the other's. */
static void put_last(const double *other, const double *last, size_t dim, double *into)
{
    size_t i;

    memcpy(into, other, dim * dim * sizeof *into);
    for (i = 0; i < dim; i++)
        into[i * dim + dim - 1] = last[i];
}

/* A power from the one before it, of a solute that goes like another whose power is known: to the
 * last bit what the whole product gives, for its columns are worked out each by itself and the last
 * one of a closed map is not held to the conservation of mass. */
static void square_last(const double *before, const double *other, size_t dim, double *into)
{
    const double *last = before + dim - 1;
    size_t i, j;

    memcpy(into, other, dim * dim * sizeof *into);
    for (i = 0; i < dim; i++, before += dim) {
        double sum = 0.0;
        for (j = 0; j < dim; j++)
            sum += before[j] * last[j * dim];
        into[i * dim + dim - 1] = sum;
    }
}

/* The powers that one dump period needs; the loads are there. */
static dregs_status fill_powers(const dregs_map *map, unsigned solute, struct load_map *into)
{
    const struct load_map *other = goes_like(map, solute, into);
    size_t dim = into->dim, i;
    unsigned j;

    fill_cycle(map, into);
    for (j = 1; j < into->powers; j++) {
        if (other) {
            square_last(dregs_balance_power(into, j - 1), dregs_balance_power(other, j), dim,
                        dregs_balance_power(into, j));
            continue;
        }
        dregs_balance_multiply(dregs_balance_power(into, j - 1), dregs_balance_power(into, j - 1),
                               dim, dim, dregs_balance_power(into, j));
        dregs_balance_conserve(dregs_balance_power(into, j), into->ledger, dim);
    }
    for (i = 0; i < dim * dim; i++)
        if (!isfinite(into->power[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

/* The fewest loads between two dumps of a tank: the stretch that comes most often. */
static uint64_t usual_stretch(const dregs_line *line)
{
    uint64_t least = UINT64_MAX;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->dump_every.row && (uint64_t)stage->dump_every.si < least)
            least = (uint64_t)stage->dump_every.si;
    }
    return least;
}

/* All loads and dumps of a period, on z that begins as the identity; one product for each stretch
 * of the usual length, where that is one of whole cycles. */
static void walk_period(const dregs_map *map, unsigned solute, const struct load_map *load,
                        double *z, double *spare, double *stretch)
{
    uint64_t usual = usual_stretch(map->line), done = 0, due;
    size_t dim = load->dim;
    int known = 0, alike = usual % map->cycle == 0;

    while (done < map->period) {
        due = dregs_balance_dump_next(map->line, done);
        if (due - done != usual || due > map->period || !alike || done % map->cycle) {
            due = due < map->period ? due : map->period;
            dregs_balance_walk(map, solute, load, z, spare, dim, done, due);
        } else {
            if (!known) { /* the first stretch: no dump is in it, and z is the identity */
                dregs_balance_walk(map, solute, load, z, spare, dim, done, due - 1);
                dregs_balance_one_load(map, load, z, spare, dim, due - 1);
                memcpy(stretch, z, dim * dim * sizeof *z);
                known = 1;
            } else {
                dregs_balance_multiply_in_place(stretch, z, dim, dim, spare);
            }
            dregs_balance_dump(map->line, solute, due, load->ledger, z, dim);
        }
        done = due;
    }
}

/* The whole period, a product for each stretch. */
static dregs_status fill_period(const dregs_map *map, unsigned solute, struct load_map *load)
{
    size_t dim = load->dim, size = dim * dim, i;
    double *stretch = malloc(size * sizeof *stretch);

    if (!stretch)
        return DREGS_NO_MEMORY;
    memset(load->period, 0, size * sizeof *load->period);
    for (i = 0; i < dim; i++)
        load->period[i * dim + i] = 1.0;
    walk_period(map, solute, load, load->period, load->period + size, stretch);
    free(stretch);
    dregs_balance_conserve(load->period, load->ledger, dim);
    return DREGS_OK;
}

/* The same, of a solute that goes like another, in the same steps. Where there is more than one
 * stretch the product of a stretch and the loads of it differ in rounding, and the whole is worked
 * out. */
static int fill_period_last(const dregs_map *map, unsigned solute, struct load_map *load)
{
    const struct load_map *other = goes_like(map, solute, load);
    double last[DREGS_LINE_STAGES + 2];

    if (!other || dregs_balance_dump_next(map->line, 0) < map->period)
        return 0;
    memset(last, 0, load->dim * sizeof *last);
    last[load->dim - 1] = 1.0;
    dregs_balance_walk(map, solute, load, last, load->period, 1, 0, map->period - 1);
    dregs_balance_walk(map, solute, load, last, load->period, 1, map->period - 1, map->period);
    put_last(other->period, last, load->dim, load->period);
    return 1;
}

dregs_status dregs_balance_period_fill(const dregs_map *map, unsigned solute, struct load_map *load)
{
    size_t size = load->dim * load->dim, i;
    dregs_status status = DREGS_OK;

    if (!fill_period_last(map, solute, load))
        status = fill_period(map, solute, load);
    if (status)
        return status;
    for (i = 0; i < size; i++)
        if (!isfinite(load->period[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

/* load = interval after pass. Sums act on nothing and no buffer outlasts the interval, so only what
 * begins in a tank, or with the number one, takes a product. */
static void compose(const struct ledger *ledger, const double *interval, const double *pass,
                    double *load)
{
    size_t n = ledger->tanks, dim = ledger->dim, i, j, k;

    memset(load, 0, dim * dim * sizeof *load);
    for (i = 0; i < dim; i++) {
        double *to = load + i * dim;
        to[i] = i >= n && i < ledger->buffers;
        for (j = 0; j < dim; j++) {
            double share = interval[i * dim + j];
            if (share == 0.0)
                continue;
            for (k = 0; k < n; k++)
                to[k] += share * pass[j * dim + k];
            to[dim - 1] += share * pass[j * dim + dim - 1];
        }
    }
}

dregs_status dregs_balance_load_rows(const dregs_line *line, unsigned substance,
                                     const struct ledger *ledger, struct integrals *integrals,
                                     double *load, struct pass_rows *rows)
{
    size_t dim = ledger->dim;
    double *pass = malloc(2 * dim * dim * sizeof *pass), *interval;
    struct gap gap = dregs_balance_between_loads(line);
    dregs_status status;

    if (!pass)
        return DREGS_NO_MEMORY;
    interval = pass + dim * dim;
    status = dregs_balance_pass(line, substance, ledger, pass, rows);
    if (!status)
        status = dregs_balance_interval(line, substance, &gap, ledger, integrals, interval);
    if (!status) {
        compose(ledger, interval, pass, load);
        dregs_balance_conserve(load, ledger, dim);
    }
    free(pass);
    return status;
}

dregs_status dregs_balance_load_matrix(const dregs_line *line, unsigned substance,
                                       const struct ledger *ledger, struct integrals *integrals,
                                       double *load)
{
    return dregs_balance_load_rows(line, substance, ledger, integrals, load, NULL);
}

dregs_status dregs_balance_load_map_full(const dregs_map *map, unsigned solute,
                                         const struct ledger *ledger, struct load_map *into)
{
    size_t dim = ledger->dim;
    struct integrals integrals;
    dregs_status status = dregs_balance_integrals_new(map->tanks, &integrals);
    double *room = malloc(dregs_balance_load_map_size(map, ledger) * sizeof *room);
    unsigned k;

    *into = (struct load_map){0};
    if (room)
        *into = dregs_balance_load_map_in(map, ledger, room);
    else
        status = DREGS_NO_MEMORY;
    for (k = 0; k < dregs_line_kinds(map->line) && !status; k++)
        status = dregs_balance_load_matrix(dregs_line_of_kind(map->line, k), solute, ledger,
                                           &integrals, into->load + k * dim * dim);
    dregs_balance_integrals_free(&integrals);
    if (!status)
        status = fill_powers(map, solute, into);
    return status ? status : dregs_balance_period_fill(map, solute, into);
}

dregs_status dregs_balance_load_map_closed(const dregs_map *map, unsigned solute,
                                           struct integrals *integrals, struct load_map *into,
                                           struct pass_rows *rows)
{
    dregs_status status =
        dregs_balance_load_rows(map->line, solute, &map->closed, integrals, into->load, rows);

    return status ? status : fill_powers(map, solute, into);
}

dregs_status dregs_balance_load_map_cycle(const dregs_map *map, unsigned solute,
                                          struct load_map *into)
{
    size_t square = map->closed.dim * map->closed.dim;
    unsigned k;

    for (k = 0; k < dregs_line_kinds(map->line); k++)
        memcpy(into->load + k * square, map->of_kind[k]->solute[solute].closed.load,
               square * sizeof *into->load);
    return fill_powers(map, solute, into);
}

void dregs_balance_load_map_plain(const dregs_map *map, const struct load_map *closed,
                                  struct load_map *into)
{
    size_t square = closed->dim * closed->dim, own = into->dim * into->dim;
    unsigned j, k;

    for (k = 0; k < dregs_line_kinds(map->line); k++)
        dregs_balance_leave_out_sum(map->tanks, closed->load + k * square, into->load + k * own);
    for (j = 0; j < into->powers; j++)
        dregs_balance_leave_out_sum(map->tanks, dregs_balance_power(closed, j),
                                    dregs_balance_power(into, j));
}
