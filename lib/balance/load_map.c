/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* load_map.c: the map of one load in its three forms, its powers, and that of a dump period. */
#include "balance/map.h"
#include "line/line.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STRETCHES = 64 }; /* products that are kept: 2 MB of 64 tanks */

unsigned dregs_balance_powers_of(const dregs_map *map)
{
    uint64_t cycles = map->period / map->cycle;
    unsigned powers = 1;

    while (cycles >> powers)
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
    return ledger->dim * ledger->dim * (kinds_of(map) + map->powers + 2);
}

struct load_map dregs_balance_load_map_in(const dregs_map *map, const struct ledger *ledger,
                                          double *room)
{
    size_t square = ledger->dim * ledger->dim;
    struct load_map load = {.ledger = ledger,
                            .dim = ledger->dim,
                            .tanks = map->tanks,
                            .load = room,
                            .powers = map->powers,
                            .power = room + kinds_of(map) * square};

    load.period = load.power + load.powers * square;
    return load;
}

static void put_identity(double *a, size_t dim)
{
    size_t i;

    memset(a, 0, dim * dim * sizeof *a);
    for (i = 0; i < dim; i++)
        a[i * dim + i] = 1.0;
}

/* The loads of a cycle one after another; of one kind it is there already. */
static void fill_cycle(const dregs_map *map, struct load_map *into)
{
    size_t dim = into->dim;
    uint64_t done;

    if (map->cycle == 1)
        return;
    put_identity(into->power, dim);
    for (done = 0; done < map->cycle; done++)
        dregs_balance_one_load(map, into, into->power, into->period + dim * dim, dim, done);
    dregs_balance_conserve(into->power, into->ledger, dim);
}

/* The solute before this one, the last of them, whose closed map lets what is in the tanks go the
 * same ways, so that only what comes in differs; NULL: none. */
static const struct solute_map *goes_like(const dregs_map *map, unsigned solute)
{
    size_t dim = map->closed.dim, i;
    const double *load = map->solute[solute].closed.load;
    unsigned s;

    for (s = solute; s-- > 0;) {
        const double *other = map->solute[s].closed.load;
        for (i = 0; i < dim; i++)
            if (memcmp(load + i * dim, other + i * dim, (dim - 1) * sizeof *other) != 0)
                break;
        if (i == dim)
            return &map->solute[s];
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

/* The last column of a power from that of the one before it: to the last bit what the whole product
 * gives, for its columns are worked out each by itself and the last one of a closed map is not held
 * to the conservation of mass. */
static void square_last(const double *before, size_t dim, double *into)
{
    double last[DREGS_LINE_STAGES + 2] = {0}, square[DREGS_LINE_STAGES + 2];
    size_t i;

    for (i = 0; i < dim; i++)
        last[i] = before[i * dim + dim - 1];
    dregs_balance_multiply(before, last, dim, 1, square);
    for (i = 0; i < dim; i++)
        into[i * dim + dim - 1] = square[i];
}

static dregs_status check_powers(const struct load_map *load)
{
    size_t i;

    for (i = 0; i < load->dim * load->dim; i++)
        if (!isfinite(load->power[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

/* The powers of a solute that goes like another whose powers are known, closed and plain. */
static dregs_status fill_powers_like(const struct solute_map *other, struct solute_map *into)
{
    struct load_map *closed = &into->closed, *plain = &into->plain;
    size_t dim = closed->dim, n = closed->tanks, i;
    unsigned j;

    memcpy(dregs_balance_power(closed, 1), dregs_balance_power(&other->closed, 1),
           (closed->powers - 1u) * dim * dim * sizeof(double));
    memcpy(plain->power, other->plain.power,
           plain->powers * plain->dim * plain->dim * sizeof(double));
    for (j = 0; j < closed->powers; j++) {
        double *whole = dregs_balance_power(closed, j), *small = dregs_balance_power(plain, j) + n;
        if (j > 0)
            square_last(whole - dim * dim, dim, whole);
        for (i = 0; i < n; i++)
            small[i * plain->dim] = whole[i * dim + dim - 1];
    }
    return check_powers(closed);
}

/* The powers that one dump period needs; the loads are there. */
static dregs_status fill_powers(const dregs_map *map, struct load_map *into)
{
    size_t dim = into->dim;
    unsigned j;

    fill_cycle(map, into);
    for (j = 1; j < into->powers; j++) {
        dregs_balance_multiply(dregs_balance_power(into, j - 1), dregs_balance_power(into, j - 1),
                               dim, dim, dregs_balance_power(into, j));
        dregs_balance_conserve(dregs_balance_power(into, j), into->ledger, dim);
    }
    return check_powers(into);
}

static void fill_plain(const dregs_map *map, struct solute_map *solute)
{
    const struct load_map *closed = &solute->closed, *plain = &solute->plain;
    size_t square = closed->dim * closed->dim, own = plain->dim * plain->dim;
    unsigned j, k;

    for (k = 0; k < kinds_of(map); k++)
        dregs_balance_leave_out_sum(map->tanks, closed->load + k * square, plain->load + k * own);
    for (j = 0; j < plain->powers; j++)
        dregs_balance_leave_out_sum(map->tanks, dregs_balance_power(closed, j),
                                    dregs_balance_power(plain, j));
}

/* ---- a whole period ---- */

/* Products of the loads between two dumps, kept by their number: few numbers come again and again.
 */
struct stretches {
    const dregs_map *map;
    unsigned solute;
    const struct load_map *load;
    double *spare; /* dim x dim */
    unsigned known;
    uint64_t loads[STRETCHES];
    double *product[STRETCHES]; /* dim x dim each */
};

/* The product of the loads from the begin of a cycle to the next dump, that dump aside; NULL: it is
 * one number of loads too many to be kept. */
static dregs_status stretch_of(struct stretches *s, uint64_t done, uint64_t due,
                               const double **product)
{
    size_t dim = s->load->dim;
    double *made;
    unsigned i;

    for (i = 0; i < s->known; i++)
        if (s->loads[i] == due - done) {
            *product = s->product[i];
            return DREGS_OK;
        }
    *product = NULL;
    if (s->known == STRETCHES)
        return DREGS_OK;
    made = malloc(dim * dim * sizeof *made);
    if (!made) /* another way would differ in the last bits */
        return DREGS_NO_MEMORY;
    put_identity(made, dim);
    dregs_balance_walk(s->map, s->solute, s->load, made, s->spare, dim, done, due - 1);
    dregs_balance_one_load(s->map, s->load, made, s->spare, dim, due - 1);
    s->loads[s->known] = due - done;
    s->product[s->known++] = made;
    *product = made;
    return DREGS_OK;
}

/* All loads and dumps from the begin of a cycle on, a product for each stretch between two dumps.
 */
static dregs_status product_of(struct stretches *s, uint64_t done, uint64_t until, double *into)
{
    const struct load_map *load = s->load;
    size_t dim = load->dim;
    uint64_t begin = done, due;
    dregs_status status = DREGS_OK;

    put_identity(into, dim);
    for (; done < until && !status; done = due) {
        const double *product = NULL;
        due = dregs_balance_dump_next(s->map->line, done);
        due = due < until ? due : until;
        if (done % s->map->cycle == 0)
            status = stretch_of(s, done, due, &product);
        if (status)
            break;
        if (!product) {
            dregs_balance_walk(s->map, s->solute, load, into, s->spare, dim, done, due);
            continue;
        }
        if (done == begin)
            memcpy(into, product, dim * dim * sizeof *product);
        else
            dregs_balance_multiply_in_place(product, into, dim, dim, s->spare);
        dregs_balance_dump(s->map->line, s->solute, due, load->ledger, into, dim);
    }
    return status;
}

/* Is nothing left in the tanks of what they held? Then all of it has gone out. */
static int forgets(double *a, size_t tanks, size_t dim)
{
    size_t i, k;

    for (i = 0; i < tanks; i++)
        for (k = 0; k < tanks; k++)
            if (!(a[i * dim + k] < DBL_MIN))
                return 0;
    for (i = 0; i < tanks; i++)
        memset(a + i * dim, 0, tanks * sizeof *a);
    for (k = 0; k < tanks; k++)
        a[tanks * dim + k] = 1.0;
    return 1;
}

/* The same of the period's end, ever more of it until what was there before is forgotten: what
 * happened before that no longer matters. What has gone out of all that came in, which nobody asks
 * of a period, then is that of the end alone. */
static dregs_status end_of_period(struct stretches *s, uint64_t back, double *into)
{
    size_t dim = s->load->dim;
    uint64_t begin = s->map->period, from;
    double *before = malloc(dim * dim * sizeof *before);
    dregs_status status = before ? DREGS_OK : DREGS_NO_MEMORY;

    for (; !status && begin; begin = from, back *= 4) {
        int last = begin == s->map->period;
        from = back <= begin / 4 ? begin - back : 0;
        status = product_of(s, from, begin, last ? into : before);
        if (!status && !last) {
            dregs_balance_multiply(into, before, dim, dim, s->spare);
            memcpy(into, s->spare, dim * dim * sizeof *into);
        }
        if (!status && forgets(into, s->map->tanks, dim))
            break;
    }
    free(before);
    return status;
}

static dregs_status fill_period(const dregs_map *map, unsigned solute, struct load_map *load)
{
    struct stretches s = {
        .map = map, .solute = solute, .load = load, .spare = load->period + load->dim * load->dim};
    uint64_t back = load->ledger == &map->closed ? dregs_balance_back(map, map->period) : 0;
    dregs_status status =
        back ? end_of_period(&s, back, load->period) : product_of(&s, 0, map->period, load->period);
    unsigned i;

    for (i = 0; i < s.known; i++)
        free(s.product[i]);
    if (!status)
        dregs_balance_conserve(load->period, load->ledger, load->dim);
    return status;
}

/* What a whole period of many dumps brings to each tank; the sum behind them is left as it is. */
static void fill_last_of_plain(const dregs_map *map, unsigned solute, double *last)
{
    const struct load_map *plain = &map->solute[solute].plain;
    double z[DREGS_LINE_STAGES + 1] = {0}, spare[4 * (DREGS_LINE_STAGES + 1)];

    z[map->tanks] = 1.0;
    dregs_balance_walk_far(map, solute, plain, z, spare, 0, map->period);
    memcpy(last, z, map->tanks * sizeof *z);
}

/* The same, of a solute that goes like another: its last column alone. */
static int fill_period_last(const dregs_map *map, unsigned solute, struct load_map *load)
{
    const struct solute_map *other =
        load == &map->solute[solute].closed ? map->solute[solute].like : NULL;
    double last[DREGS_LINE_STAGES + 2];

    if (!other)
        return 0;
    memset(last, 0, load->dim * sizeof *last);
    last[load->dim - 1] = 1.0;
    if (dregs_balance_back(map, map->period)) {
        fill_last_of_plain(map, solute, last);
        put_last(other->closed.period, last, load->dim, load->period);
        return 1;
    }
    dregs_balance_walk(map, solute, load, last, load->period, 1, 0, map->period - 1);
    dregs_balance_walk(map, solute, load, last, load->period, 1, map->period - 1, map->period);
    put_last(other->closed.period, last, load->dim, load->period);
    return 1;
}

dregs_status dregs_balance_period_fill(const dregs_map *map, unsigned solute, struct load_map *load)
{
    size_t size = load->dim * load->dim, i;
    dregs_status status = DREGS_OK;

    if (!fill_period_last(map, solute, load))
        status = fill_period(map, solute, load);
    for (i = 0; i < size && !status; i++)
        if (!isfinite(load->period[i]))
            return DREGS_NUMERIC;
    return status;
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

/* The map of a load, put together in `pass` and `interval`, both dim x dim. */
static dregs_status load_in(const dregs_line *line, unsigned substance, const struct ledger *ledger,
                            const struct stage_visit *visit, struct integrals *integrals,
                            double *pass, double *interval, double *load, struct pass_rows *rows)
{
    struct gap gap = dregs_balance_between_loads(line);
    dregs_status status = dregs_balance_pass(line, substance, ledger, visit, pass, rows);

    if (!status)
        status = dregs_balance_interval(line, substance, &gap, ledger, integrals, interval);
    if (!status) {
        compose(ledger, interval, pass, load);
        dregs_balance_conserve(load, ledger, ledger->dim);
    }
    return status;
}

dregs_status dregs_balance_load_matrix(const dregs_line *line, unsigned substance,
                                       const struct ledger *ledger, struct integrals *integrals,
                                       double *load)
{
    size_t square = ledger->dim * ledger->dim;
    double *pass = malloc(2 * square * sizeof *pass);
    dregs_status status;

    if (!pass)
        return DREGS_NO_MEMORY;
    status = load_in(line, substance, ledger, NULL, integrals, pass, pass + square, load, NULL);
    free(pass);
    return status;
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
        status = fill_powers(map, into);
    return status ? status : dregs_balance_period_fill(map, solute, into);
}

/* ---- solutes that go the same ways ---- */

dregs_status dregs_balance_common_new(const dregs_map *map, struct common *common)
{
    size_t square = map->closed.dim * map->closed.dim;
    dregs_status status = dregs_balance_integrals_new(map->tanks, &common->integrals);

    common->leader = NULL;
    common->visits = malloc(2 * (size_t)map->stages * sizeof *common->visits);
    common->pass = malloc(2 * square * sizeof *common->pass);
    if (!common->visits || !common->pass)
        return DREGS_NO_MEMORY;
    common->interval = common->pass + square;
    return status;
}

void dregs_balance_common_free(struct common *common)
{
    dregs_balance_integrals_free(&common->integrals);
    free(common->visits);
    free(common->pass);
}

/* Does a solute go like the leader, load by load and between them? */
static int goes_like_leader(const dregs_map *map, unsigned solute, const struct common *common)
{
    unsigned i;

    if (!common->leader)
        return 0;
    for (i = 0; i < map->stages; i++) {
        const dregs_value *clearing = dregs_line_stage(map->line, i)->clearing;
        if (clearing[solute].si != clearing[common->leads].si)
            return 0;
    }
    return dregs_balance_visits_alike(common->visits, common->visits + map->stages, map->stages);
}

/* The load of a solute that goes like the leader: the same sums for the last column as in the whole
 * product, which is not held to the conservation of mass. */
static dregs_status load_like_leader(const dregs_map *map, unsigned solute, struct common *common,
                                     struct solute_map *into)
{
    const struct solute_map *leader = common->leader;
    const struct ledger *ledger = &map->closed;
    struct gap gap = dregs_balance_between_loads(map->line);
    size_t dim = ledger->dim, rows = map->stages * (map->tanks + 1u), i;
    double last[DREGS_LINE_STAGES + 2], brought[DREGS_LINE_STAGES + 2];
    dregs_status status;

    /* met, film and trapped stand behind each other */
    memcpy(into->rows.film, leader->rows.film, 3 * rows * sizeof *last);
    status = dregs_balance_pass_last(map->line, solute, ledger, common->visits + map->stages, last,
                                     &into->rows);
    if (status)
        return status;
    dregs_balance_interval_last(map->line, solute, &gap, ledger, &common->integrals,
                                common->interval);
    dregs_balance_multiply(common->interval, last, dim, 1, brought);
    for (i = 0; i < dim; i++)
        if (!isfinite(brought[i]))
            return DREGS_NUMERIC;
    put_last(leader->closed.load, brought, dim, into->closed.load);
    return DREGS_OK;
}

dregs_status dregs_balance_load_map_fill(const dregs_map *map, unsigned solute,
                                         struct common *common, struct solute_map *into)
{
    struct stage_visit *visits = common->visits + (common->leader ? map->stages : 0);
    dregs_status status;
    unsigned i;

    for (i = 0; i < map->stages; i++)
        dregs_stage_visit(map->line, i, solute, &visits[i]);
    if (goes_like_leader(map, solute, common)) {
        into->like = common->leader;
        status = load_like_leader(map, solute, common, into);
    } else {
        status = load_in(map->line, solute, &map->closed, visits, &common->integrals, common->pass,
                         common->interval, into->closed.load, &into->rows);
        memmove(common->visits, visits, map->stages * sizeof *visits);
        common->leader = into;
        common->leads = solute;
        into->like = goes_like(map, solute);
    }
    if (!status && into->like)
        return fill_powers_like(into->like, into);
    if (!status)
        status = fill_powers(map, &into->closed);
    if (!status)
        fill_plain(map, into);
    return status;
}

dregs_status dregs_balance_load_map_cycle(const dregs_map *map, unsigned solute,
                                          struct solute_map *into)
{
    size_t square = map->closed.dim * map->closed.dim;
    dregs_status status;
    unsigned k;

    for (k = 0; k < dregs_line_kinds(map->line); k++)
        memcpy(into->closed.load + k * square, map->of_kind[k]->solute[solute].closed.load,
               square * sizeof(double));
    status = fill_powers(map, &into->closed);
    if (!status)
        fill_plain(map, into);
    return status;
}
