/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* capacity.c: the load behind which a filter, bed or ion exchanger has taken all that it can.
 *
 * What it has taken is a sum beside the tanks, so that one load takes z = (m_1 .. m_n, gone, taken,
 * 1) to the next by a matrix, and powers of the matrix of a dump period go as far as the unit
 * lasts. Where it is changed every so many loads the sum begins anew each time.
 */
#include "base/multiple.h"
#include "line/line.h"
#include "residue/bound.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BEYOND (1.0 + 1e-9)
#define STILL  1e-12 /* of the contents, from one dump period to the next */

enum { WALKED_MOST = 1 << 17, PERIODS_MOST = 64, POWERS_MOST = 52 };

struct taker {
    const dregs_map *map;
    const dregs_line *line;
    dregs_bound *bound;
    unsigned solute[DREGS_LINE_SOLUTES], solutes; /* those that it takes */
    struct ledger ledger;
    size_t dim, square, taken; /* the row of the sum */
    uint64_t period, every;    /* loads between changes; 0: none is scheduled */
    uint64_t gaps;             /* between the loads that are asked for */
    double *load;              /* solutes x kinds x square */
    unsigned kinds;
    double *z, *next, *spare; /* solutes x dim; the last one square */
};

static double *z_of(const struct taker *t, double *all, unsigned i)
{
    return all + i * t->dim;
}

static double taken_of(const struct taker *t, double *all)
{
    double sum = 0.0;
    unsigned i;

    for (i = 0; i < t->solutes; i++)
        sum += z_of(t, all, i)[t->taken];
    return sum;
}

/* The matrix of the load behind `done` others. */
static const double *load_of(const struct taker *t, unsigned i, uint64_t done)
{
    return t->load + (i * t->kinds + dregs_line_kind_at(t->line, done + 1)) * t->square;
}

/* One load, the time behind it, and the dumps after that. Returns what is taken meanwhile. */
static double step(struct taker *t, double *all, uint64_t done)
{
    double before = taken_of(t, all);
    unsigned i;

    for (i = 0; i < t->solutes; i++) {
        dregs_balance_multiply_in_place(load_of(t, i, done), z_of(t, all, i), t->dim, 1, t->spare);
        if (dregs_balance_dump_next(t->line, done) == done + 1)
            dregs_balance_dump(t->line, t->solute[i], done + 1, &t->ledger, z_of(t, all, i), 1);
    }
    return taken_of(t, all) - before;
}

static void forget_taken(const struct taker *t, double *all)
{
    unsigned i;

    for (i = 0; i < t->solutes; i++)
        z_of(t, all, i)[t->taken] = 0.0;
}

/* Says how much the unit holds at most, and behind which load, counted from the fresh start or
 * within the dump period. */
static void note(const struct taker *t, double taken, uint64_t load, int in_the_long_run)
{
    if (!(taken > t->bound->reached * (in_the_long_run ? BEYOND : 1.0)))
        return;
    t->bound->reached = taken;
    t->bound->load = load;
    t->bound->in_the_long_run = in_the_long_run;
}

static int is_full(const struct taker *t, double taken)
{
    return taken > t->bound->limit.si * BEYOND;
}

/* ---- never changed ---- */

/* Loads between two dumps, on a matrix: of one kind by powers of the load's matrix, `power`, 2^j
 * loads each, made as far as they are needed; else one by one. \param known  how many there are. */
static void pass_loads(struct taker *t, unsigned i, double *power, unsigned *known, uint64_t done,
                       uint64_t due, double *matrix)
{
    unsigned j;

    for (; t->kinds > 1 && done < due; done++)
        dregs_balance_multiply_in_place(load_of(t, i, done), matrix, t->dim, t->dim, t->spare);
    for (j = 0; (due - done) >> j; j++) {
        double *to = power + j * t->square;
        if (j == *known) {
            memcpy(to, j ? to - t->square : load_of(t, i, 0), t->square * sizeof *to);
            if (j)
                dregs_balance_multiply_in_place(to - t->square, to, t->dim, t->dim, t->spare);
            dregs_balance_conserve(to, &t->ledger, t->dim);
            ++*known;
        }
        if ((due - done) >> j & 1)
            dregs_balance_multiply_in_place(to, matrix, t->dim, t->dim, t->spare);
    }
}

/* The map of a dump period, of one solute. */
static dregs_status whole_period(struct taker *t, unsigned i, double *matrix)
{
    uint64_t done, due;
    unsigned known = 0;
    double *power;
    size_t k;

    for (k = 1; t->period >> k; k++)
        ;
    power = malloc(k * t->square * sizeof *power);
    if (!power)
        return DREGS_NO_MEMORY;
    memset(matrix, 0, t->square * sizeof *matrix);
    for (k = 0; k < t->dim; k++)
        matrix[k * t->dim + k] = 1.0;
    for (done = 0; done < t->period; done = due) {
        uint64_t dump = dregs_balance_dump_next(t->line, done);
        due = dump < t->period ? dump : t->period;
        pass_loads(t, i, power, &known, done, due, matrix);
        if (due == dump)
            dregs_balance_dump(t->line, t->solute[i], due, &t->ledger, matrix, t->dim);
    }
    dregs_balance_conserve(matrix, &t->ledger, t->dim);
    free(power);
    return DREGS_OK;
}

/* The powers of it, 2^j periods each; as many as fit into what is asked for. */
static dregs_status make_powers(struct taker *t, uint64_t periods, double *power, unsigned *made)
{
    dregs_status status = DREGS_OK;
    size_t width = t->solutes * t->square;
    unsigned count = 0, i;

    for (; count < POWERS_MOST && periods >> count && !status; count++)
        for (i = 0; i < t->solutes && !status; i++) {
            double *to = power + count * width + i * t->square;
            if (!count) {
                status = whole_period(t, i, to);
                continue;
            }
            memcpy(to, to - width, t->square * sizeof *to);
            dregs_balance_multiply_in_place(to - width, to, t->dim, t->dim, t->spare);
            dregs_balance_conserve(to, &t->ledger, t->dim);
        }
    *made = count;
    return status;
}

/* Takes z as many whole periods on as the unit lasts. Returns how many. */
static uint64_t leap(struct taker *t, uint64_t periods, unsigned powers, const double *power)
{
    size_t width = t->solutes * t->square;
    uint64_t gone = 0;
    unsigned i;

    while (powers-- > 0) {
        if (gone + ((uint64_t)1 << powers) > periods)
            continue;
        memcpy(t->next, t->z, t->solutes * t->dim * sizeof *t->z);
        for (i = 0; i < t->solutes; i++)
            dregs_balance_multiply_in_place(power + powers * width + i * t->square,
                                            z_of(t, t->next, i), t->dim, 1, t->spare);
        if (is_full(t, taken_of(t, t->next)))
            continue;
        memcpy(t->z, t->next, t->solutes * t->dim * sizeof *t->z);
        gone += (uint64_t)1 << powers;
    }
    return gone;
}

static dregs_status use_up(struct taker *t)
{
    uint64_t periods = t->gaps / t->period, done;
    size_t width = t->solutes * t->square;
    unsigned powers = 0;
    dregs_status status;
    double *power;

    while (powers < POWERS_MOST && periods >> powers)
        powers++;
    power = malloc((powers * width + 1) * sizeof *power);
    if (!power)
        return DREGS_NO_MEMORY;
    status = make_powers(t, periods, power, &powers);
    done = status ? 0 : leap(t, periods, powers, power) * t->period;
    free(power);
    if (status)
        return status;
    note(t, taken_of(t, t->z), done, 0);
    for (; done < t->gaps && !t->bound->crossed; done++) {
        (void)step(t, t->z, done);
        note(t, taken_of(t, t->z), done + 1, 0);
        if (is_full(t, taken_of(t, t->z)))
            t->bound->crossed = done + 2; /* the load behind is the first that meets it so */
    }
    return DREGS_OK;
}

/* ---- changed every so many loads ---- */

/* Nothing moves any more from one dump period to the next; keeps what is there now. */
static int is_still(const struct taker *t)
{
    int still = 1;
    unsigned i;
    size_t k;

    for (i = 0; i < t->solutes; i++)
        for (k = 0; k < t->ledger.tanks; k++) {
            double now = z_of(t, t->z, i)[k], before = z_of(t, t->next, i)[k];
            still = still && fabs(now - before) <= STILL * fabs(now);
        }
    memcpy(t->next, t->z, t->solutes * t->dim * sizeof *t->z);
    return still;
}

/* Load after load from the fresh start, until nothing moves, and from there until changes and dumps
 * have met in every way. Returns the loads walked. */
static uint64_t walk(struct taker *t)
{
    uint64_t most = WALKED_MOST, until = UINT64_MAX, done;
    double taken = 0.0;

    if (most < PERIODS_MOST * t->period)
        most = PERIODS_MOST * t->period;
    if (most < 2 * t->every)
        most = 2 * t->every;
    memcpy(t->next, t->z, t->solutes * t->dim * sizeof *t->z);
    for (done = 0; done < t->gaps && done < most && done < until; done++) {
        if (done % t->every == 0)
            taken = 0.0;
        forget_taken(t, t->z); /* a small amount is not lost beside a large sum */
        taken += step(t, t->z, done);
        note(t, taken, done + 1, 0);
        if (is_full(t, taken) && !t->bound->crossed)
            t->bound->crossed = done + 2;
        if (until == UINT64_MAX && (done + 1) % t->period == 0 && is_still(t))
            until = done + 1 + t->every / dregs_common_divisor(t->every, t->period) * t->period;
    }
    return done;
}

/* In the state that repeats itself: what is taken between two changes, wherever in the dump period
 * they fall. `walked`: loads that have been looked at by themselves. */
static dregs_status in_the_long_run(struct taker *t, uint64_t walked)
{
    uint64_t period = t->period, whole = t->every / period, rest = t->every % period, p;
    uint64_t stride = dregs_common_divisor(t->every, period);
    dregs_state *state = dregs_state_new(t->map);
    double *sum = malloc((2 * period + 1) * sizeof *sum);
    dregs_status status = state && sum ? dregs_state_periodic(state) : DREGS_NO_MEMORY;
    unsigned i;

    for (i = 0; i < t->solutes && !status; i++) {
        const double *masses = dregs_balance_state_masses(state);
        memcpy(z_of(t, t->z, i), masses + t->solute[i] * (t->ledger.tanks + 1),
               t->ledger.tanks * sizeof *t->z);
    }
    if (!status) {
        sum[0] = 0.0;
        for (p = 0; p < 2 * period; p++) {
            forget_taken(t, t->z);
            sum[p + 1] = sum[p] + step(t, t->z, p % period);
        }
        for (p = 0; p < period; p += stride)
            note(t, (double)whole * sum[period] + sum[p + rest] - sum[p],
                 (p + t->every - 1) % period + 1, 1);
    }
    if (!status && is_full(t, t->bound->reached) && !t->bound->crossed)
        t->bound->crossed = walked + 1;
    dregs_state_free(state);
    free(sum);
    return status == DREGS_NO_STEADY ? DREGS_OK : status;
}

/* ---- all of it ---- */

static dregs_status begin(struct taker *t)
{
    struct integrals integrals;
    dregs_status status = dregs_balance_integrals_new(t->ledger.tanks, &integrals);
    unsigned i, k;

    if (status)
        return status;
    t->load =
        calloc((t->solutes * t->kinds + 1) * t->square + 2 * t->solutes * t->dim, sizeof *t->load);
    if (!t->load)
        status = DREGS_NO_MEMORY;
    else {
        t->spare = t->load + t->solutes * t->kinds * t->square;
        t->z = t->spare + t->square;
        t->next = t->z + t->solutes * t->dim;
    }
    for (i = 0; i < t->solutes && !status; i++) {
        memcpy(z_of(t, t->z, i), dregs_balance_map_fresh(t->map, t->solute[i]),
               t->ledger.tanks * sizeof *t->z);
        z_of(t, t->z, i)[t->dim - 1] = z_of(t, t->next, i)[t->dim - 1] = 1.0;
        for (k = 0; k < t->kinds && !status; k++)
            status =
                dregs_balance_load_matrix(dregs_line_of_kind(t->line, k), t->solute[i], &t->ledger,
                                          &integrals, t->load + (i * t->kinds + k) * t->square);
    }
    dregs_balance_integrals_free(&integrals);
    return status;
}

dregs_status dregs_residue_capacity(const dregs_map *map, uint64_t loads, dregs_bound *bound)
{
    struct taker t = {.map = map, .line = dregs_map_line(map), .bound = bound};
    const dregs_stage *stage = dregs_line_stage(t.line, bound->stage);
    dregs_status status;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(t.line); s++)
        if (stage->clearing[s].si > 0)
            t.solute[t.solutes++] = s;
    dregs_balance_ledger_cleared(t.line, bound->stage, &t.ledger);
    t.dim = t.ledger.dim;
    t.square = t.dim * t.dim;
    t.taken = t.ledger.row[DREGS_STREAM_CLEARED][bound->stage];
    t.period = dregs_line_period(t.line);
    t.kinds = dregs_line_kinds(t.line);
    t.every = stage->change_every.row ? (uint64_t)stage->change_every.si : 0;
    t.gaps = (loads ? loads : DREGS_LOADS_MOST) - 1;
    bound->reached = 0.0;
    bound->load = 1;
    bound->crossed = 0;
    bound->in_the_long_run = 0;
    status = begin(&t);
    if (!status && !t.every)
        status = use_up(&t);
    else if (!status) {
        uint64_t walked = walk(&t);
        if (!loads || walked < t.gaps)
            status = in_the_long_run(&t, walked);
    }
    if (!status && !isfinite(bound->reached))
        status = DREGS_NUMERIC;
    bound->share = bound->reached / bound->limit.si;
    free(t.load);
    return status;
}
