/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* interval.c: time in which no load passes, integrated exactly (section "between loads" of
 * dregs-model(7)).
 *
 * The flows between tanks are a matrix G of constant rates, so a unit content of tank k becomes
 * E = exp(G t), its integral over the time J and that one's integral K. Every stream is a rate
 * times a content: of what was in the tanks J, of what came in evenly K.
 *
 * G t is halved until no tank gives up more than half of itself; then the series of E, J and K
 * converge without cancellation, and doubling the time takes sums and products of numbers >= 0
 * only: every entry keeps its relative accuracy, however small it is.
 */
#include "balance/map.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the flows ---- */

/* A volume rate that leaves a tank: for row `to` of the sums, or LEDGER_NOWHERE, for tank `into`
 * (or -1). */
struct flow {
    unsigned from;
    int into;
    size_t to;
    double rate; /* m3/s */
};

enum { FLOWS_MOST = 4 }; /* per tank */

static int tank_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? dregs_line_stage(line, link.index)->tank : -1;
}

/* The flows that leave a tank over its weir, into the air and into filters, and the one that it
 * draws from another. */
static unsigned flows_of(const dregs_line *line, unsigned substance, const struct gap *gap,
                         const struct ledger *ledger, unsigned tank, struct flow *flow)
{
    const dregs_tank *t = &gap->tanks[tank];
    const dregs_stage *stage = dregs_line_stage(line, t->stage);
    int over = tank_of(line, stage->overflow_to), top = tank_of(line, stage->top_up_from);
    dregs_stream weir = over >= 0 ? DREGS_STREAM_HANDED : DREGS_STREAM_DRAINED;
    int liquid = dregs_stage_is_liquid(line, substance);
    double lost = liquid ? t->evaporation : gap->clearing ? stage->clearing[substance].si : 0.0;
    unsigned count = 0;

    if (t->overflow > 0)
        flow[count++] =
            (struct flow){tank, over, ledger->row[weir][t->stage], t->overflow / t->volume};
    if (lost > 0)
        flow[count++] = (struct flow){
            tank, -1,
            ledger->row[liquid ? DREGS_STREAM_EVAPORATED : DREGS_STREAM_CLEARED][t->stage],
            lost / t->volume};
    if (top >= 0 && t->top_up > 0)
        flow[count++] =
            (struct flow){(unsigned)top, (int)tank, ledger->row[DREGS_STREAM_DRAWN][t->stage],
                          t->top_up / gap->tanks[top].volume};
    return count;
}

/* The rates as a matrix, and what leaves the line. */
static void find_rates(const struct flow *flow, unsigned flows, size_t n, double *rates,
                       double *loss)
{
    unsigned i;

    memset(rates, 0, n * n * sizeof *rates);
    memset(loss, 0, n * sizeof *loss);
    for (i = 0; i < flows; i++) {
        rates[flow[i].from * n + flow[i].from] -= flow[i].rate;
        if (flow[i].into >= 0)
            rates[(size_t)flow[i].into * n + flow[i].from] += flow[i].rate;
        else
            loss[flow[i].from] += flow[i].rate;
    }
}

/* ---- E, J, K ---- */

dregs_status dregs_balance_integrals_new(size_t tanks, struct integrals *integrals)
{
    size_t square = tanks * tanks;

    memset(integrals, 0, sizeof *integrals);
    integrals->tanks = tanks;
    integrals->rates = calloc(4 * square + tanks + 1, sizeof *integrals->rates);
    if (!integrals->rates)
        return DREGS_NO_MEMORY;
    integrals->now = integrals->rates + square;
    integrals->once = integrals->now + square;
    integrals->twice = integrals->once + square;
    integrals->loss = integrals->twice + square;
    return DREGS_OK;
}

void dregs_balance_integrals_free(struct integrals *integrals)
{
    free(integrals->rates);
    integrals->rates = NULL;
}

/* Adds a term to a sum; 1 when that changes it. */
static int add_term(double *sum, double term)
{
    double before = *sum;

    *sum += term;
    return *sum != before;
}

/* The series in x = G t, every tank giving up at most half of itself in t: sum of x^k / k!,
 * t x^k / (k + 1)! and t2 x^k / (k + 2)!. A content goes through n tanks in n terms; from there on
 * every term is smaller than the one before, and one that changes nothing is the last. */
static void series(struct integrals *it, double time, double *power, double *spare)
{
    enum { TERMS = 20 }; /* 0.5^20 / 20! < 1e-24 */
    size_t n = it->tanks, square = n * n, i;
    double terms = (double)(n + TERMS), k;
    int more = 1;

    memset(it->now, 0, 3 * square * sizeof *it->now);
    memset(power, 0, square * sizeof *power);
    for (i = 0; i < n; i++)
        power[i * n + i] = 1.0; /* x^k / k! */
    for (k = 0; k <= terms && more; k++) {
        double of_once = time / (k + 1), of_twice = of_once * time / (k + 2);
        more = k < (double)n;
        for (i = 0; i < square; i++) {
            more |= add_term(&it->now[i], power[i]);
            more |= add_term(&it->once[i], power[i] * of_once);
            more |= add_term(&it->twice[i], power[i] * of_twice);
        }
        dregs_balance_multiply(it->rates, power, n, n, spare);
        for (i = 0; i < square; i++)
            power[i] = spare[i] * (time / (k + 1));
    }
}

/* Squaring doubles the relative error every time; put right after each, the substance is kept to
 * rounding however often it is done, and nothing can grow by itself. */
static void put_right(struct integrals *it)
{
    size_t n = it->tanks, i, k;

    for (k = 0; k < n; k++) {
        double sum = 0.0;
        for (i = 0; i < n; i++)
            sum += it->now[i * n + k] + it->loss[i] * it->once[i * n + k];
        for (i = 0; i < n; i++) {
            it->now[i * n + k] /= sum;
            it->once[i * n + k] /= sum;
        }
    }
}

/* Twice the time: K' = K + t J + K E, J' = J + J E, E' = E E. */
static void redouble(struct integrals *it, double time, double *spare)
{
    size_t n = it->tanks, square = n * n, i;

    dregs_balance_multiply(it->twice, it->now, n, n, spare);
    for (i = 0; i < square; i++)
        it->twice[i] += time * it->once[i] + spare[i];
    dregs_balance_multiply(it->once, it->now, n, n, spare);
    for (i = 0; i < square; i++)
        it->once[i] += spare[i];
    dregs_balance_multiply(it->now, it->now, n, n, spare);
    memcpy(it->now, spare, square * sizeof *spare);
    put_right(it);
}

static dregs_status integrate(struct integrals *it, double time)
{
    enum { HALVINGS_MOST = 34 }; /* 17 billion exchanges of a tank in one interval */
    size_t n = it->tanks, square = n * n, i;
    double *spare = malloc((2 * square + 1) * sizeof *spare), most = 0.0, step = time;
    int halvings = 0;

    if (!spare)
        return DREGS_NO_MEMORY;
    for (i = 0; i < n; i++)
        most = fmax(most, -it->rates[i * n + i] * time);
    for (; most > 0.5 && halvings <= HALVINGS_MOST; halvings++) {
        most /= 2;
        step /= 2;
    }
    if (halvings <= HALVINGS_MOST) {
        series(it, step, spare, spare + square);
        put_right(it);
        for (i = 0; i < (size_t)halvings; i++, step *= 2)
            redouble(it, step, spare);
    }
    free(spare);
    return halvings <= HALVINGS_MOST ? DREGS_OK : DREGS_NUMERIC;
}

/* ---- the matrix of a gap ---- */

struct feeds {
    const dregs_line *line;
    unsigned substance;
    const struct ledger *ledger;
    double time;
    double *into;  /* per tank, per s */
    double *total; /* the matrix */
};

static void feed(struct feeds *f, unsigned tank, dregs_stream which, double volume_rate,
                 unsigned fluid)
{
    double rate = volume_rate * dregs_stage_fresh_content(f->line, f->substance, fluid);
    size_t row = f->ledger->row[which][dregs_line_tank(f->line, tank)->stage];

    f->into[tank] += rate;
    if (row != LEDGER_NOWHERE)
        f->total[row * f->ledger->dim + f->ledger->dim - 1] += rate * f->time;
}

static void find_feeds(struct feeds *f, const struct gap *gap)
{
    unsigned t;

    for (t = 0; t < f->ledger->tanks; t++) {
        const dregs_stage *stage = dregs_line_stage(f->line, gap->tanks[t].stage);
        feed(f, t, DREGS_STREAM_FED, gap->tanks[t].flow, stage->feed.index);
        if (stage->top_up_from.kind != DREGS_LINK_STAGE)
            feed(f, t, DREGS_STREAM_TOPPED, gap->tanks[t].top_up, stage->top_up_from.index);
    }
}

/* One column: what a content, or an even inflow, of the tanks does. `end` and `meanwhile` are its
 * contents at the end and their integral. */
static void column(const struct ledger *ledger, const struct flow *flow, unsigned flows,
                   const double *end, const double *meanwhile, size_t at, double *matrix)
{
    size_t dim = ledger->dim, i;

    for (i = 0; i < ledger->tanks; i++)
        matrix[i * dim + at] += end[i];
    for (i = 0; i < flows; i++)
        if (flow[i].to != LEDGER_NOWHERE)
            matrix[flow[i].to * dim + at] += flow[i].rate * meanwhile[flow[i].from];
}

/* The last column, of the feeds: an even inflow into every tank, for the whole time. */
static void column_fed(const struct integrals *it, const struct ledger *ledger,
                       const struct flow *flow, unsigned flows, double time, const double *into,
                       double *two, double *matrix)
{
    size_t n = it->tanks, i, k;
    double *end = two, *meanwhile = two + n;

    for (k = 0; k < n; k++) {
        for (i = 0; i < n; i++) {
            end[i] = it->once[i * n + k] / time * (into[k] * time);
            meanwhile[i] = it->twice[i * n + k] / time * (into[k] * time);
        }
        column(ledger, flow, flows, end, meanwhile, ledger->dim - 1, matrix);
    }
}

/* The n columns of the tanks, and those of their buffers. */
static void columns(const struct integrals *it, const struct ledger *ledger,
                    const struct flow *flow, unsigned flows, double time, double *two,
                    double *matrix)
{
    size_t n = it->tanks, i, k;
    double *end = two, *meanwhile = two + n;

    for (k = 0; k < n; k++) {
        for (i = 0; i < n; i++) {
            end[i] = it->now[i * n + k];
            meanwhile[i] = it->once[i * n + k];
        }
        column(ledger, flow, flows, end, meanwhile, k, matrix);
        if (ledger->buffers + 1 == ledger->dim)
            continue;
        for (i = 0; i < n; i++) {
            end[i] = it->once[i * n + k] / time;
            meanwhile[i] = it->twice[i * n + k] / time;
        }
        column(ledger, flow, flows, end, meanwhile, ledger->buffers + k, matrix);
    }
}

static dregs_status check_finite(const double *values, size_t count)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (!isfinite(values[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

struct gap dregs_balance_between_loads(const dregs_line *line)
{
    struct gap gap = {dregs_line_load(line)->interval.si, dregs_line_tank(line, 0), 1};

    return gap;
}

/* New integrals only where the flows are not those of the last time. */
static dregs_status need_integrals(struct integrals *it, const struct flow *flow, unsigned flows,
                                   double time, double *spare)
{
    size_t n = it->tanks;
    dregs_status status;

    find_rates(flow, flows, n, spare, spare + n * n);
    if (it->known && memcmp(spare, it->rates, n * n * sizeof *spare) == 0 &&
        memcmp(spare + n * n, it->loss, n * sizeof *spare) == 0)
        return DREGS_OK;
    memcpy(it->rates, spare, n * n * sizeof *spare);
    memcpy(it->loss, spare + n * n, n * sizeof *spare);
    it->known = 0;
    status = integrate(it, time);
    it->known = !status;
    return status;
}

dregs_status dregs_balance_interval(const dregs_line *line, unsigned substance,
                                    const struct gap *gap, const struct ledger *ledger,
                                    struct integrals *integrals, double *interval)
{
    size_t n = ledger->tanks, dim = ledger->dim, i;
    double *spare = calloc(n * n + 3 * n + 1, sizeof *spare);
    struct flow flow[DREGS_LINE_STAGES * FLOWS_MOST];
    struct feeds feeds = {line, substance, ledger, gap->time, NULL, interval};
    dregs_status status;
    unsigned flows = 0, t;

    if (!spare)
        return DREGS_NO_MEMORY;
    feeds.into = spare + n * n + 2 * n;
    memset(interval, 0, dim * dim * sizeof *interval);
    for (t = 0; t < n; t++)
        flows += flows_of(line, substance, gap, ledger, t, flow + flows);
    status = need_integrals(integrals, flow, flows, gap->time, spare);
    if (!status) {
        for (i = n; i < dim; i++)
            interval[i * dim + i] = i < ledger->buffers || i == dim - 1;
        find_feeds(&feeds, gap);
        columns(integrals, ledger, flow, flows, gap->time, spare, interval);
        column_fed(integrals, ledger, flow, flows, gap->time, feeds.into, spare, interval);
        dregs_balance_conserve(interval, ledger, dim);
        status = check_finite(interval, dim * dim);
    }
    free(spare);
    return status;
}

void dregs_balance_interval_last(const dregs_line *line, unsigned solute, const struct gap *gap,
                                 const struct ledger *ledger, const struct integrals *integrals,
                                 double *interval)
{
    double into[DREGS_LINE_STAGES] = {0}, two[2 * DREGS_LINE_STAGES];
    struct flow flow[DREGS_LINE_STAGES * FLOWS_MOST];
    struct feeds feeds = {line, solute, ledger, gap->time, into, interval};
    size_t dim = ledger->dim, i;
    unsigned flows = 0, t;

    for (t = 0; t < ledger->tanks; t++)
        flows += flows_of(line, solute, gap, ledger, t, flow + flows);
    for (i = 0; i < dim; i++)
        interval[i * dim + dim - 1] = i == dim - 1;
    find_feeds(&feeds, gap);
    column_fed(integrals, ledger, flow, flows, gap->time, into, two, interval);
}
