/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* march.c: one substance through the calendar, from event to event: dumps, ends of shifts, days
 * and weeks. Between them lie powers of the load's map, so that no time is stepped through.
 *
 * The sums never act back on the tanks, so a map is kept as dim rows of n + 1: what z is at the end
 * as a function of the tanks and the number one at the start, with sums that begin at zero.
 */
#include "calendar/calendar.h"
#include "line/line.h"

#include <stdlib.h>
#include <string.h>

enum { POWERS_MOST = DREGS_LOADS_BITS + 1, CACHED_MOST = 64 };

/* Powers of a map, made as they are asked for. */
struct powers {
    double *power[POWERS_MOST];
    unsigned known;
};

/* The map of so many loads without a dump. */
struct cached {
    uint64_t loads;
    unsigned asked;
    double *map;
};

struct march {
    const dregs_line *line;
    unsigned substance;
    const struct ledger *ledger;
    const dregs_calendar *calendar;
    size_t size;                   /* of a map: dim x (n + 1) */
    uint64_t cycle;                /* loads after which all dumps fall together again */
    unsigned turn;                 /* loads after which their kinds come anew; 1: all are alike */
    double *one[DREGS_LINE_LOADS]; /* of several kinds the load of each; else NULL */
    struct powers loads, cycles;   /* of loads, or of turns; of dump cycles */
    struct cached cached[CACHED_MOST];
    double *gap[CALENDAR_GAPS_MOST]; /* maps; NULL for no time */
    double *spare;                   /* a map */
    uint64_t done, day;              /* loads, and days of the year, that have passed */
    dregs_status status;
};

/* ---- maps ---- */

/* into = a after z, as below, for one column, where the time goes: four sums at once, so that none
 * waits for the one before it. */
static void apply_one(const struct march *m, const double *a, const double *z, double *into)
{
    size_t n = m->ledger->tanks, dim = m->ledger->dim, i, j;

    for (i = 0; i < dim; i++, a += n + 1) {
        double sum[4] = {a[n] * z[dim - 1], 0.0, 0.0, 0.0};
        for (j = 0; j + 4 <= n; j += 4) {
            sum[0] += a[j] * z[j];
            sum[1] += a[j + 1] * z[j + 1];
            sum[2] += a[j + 2] * z[j + 2];
            sum[3] += a[j + 3] * z[j + 3];
        }
        for (; j < n; j++)
            sum[0] += a[j] * z[j];
        into[i] = (i >= n && i < dim - 1 ? z[i] : 0.0) + ((sum[0] + sum[1]) + (sum[2] + sum[3]));
    }
}

/* into = a after z, z being dim x columns and its sums kept */
static void apply(const struct march *m, const double *a, const double *z, size_t columns,
                  double *into)
{
    size_t n = m->ledger->tanks, dim = m->ledger->dim, i, j, k;

    if (columns == 1) {
        apply_one(m, a, z, into);
        return;
    }
    for (i = 0; i < dim; i++) {
        const double *row = a + i * (n + 1), *one = z + (dim - 1) * columns;
        double *to = into + i * columns;
        for (k = 0; k < columns; k++)
            to[k] = row[n] * one[k] + (i >= n && i < dim - 1 ? z[i * columns + k] : 0.0);
        for (j = 0; j < n; j++)
            for (k = 0; k < columns; k++)
                to[k] += row[j] * z[j * columns + k];
    }
}

static void apply_in_place(const struct march *m, const double *a, double *z, size_t columns)
{
    apply(m, a, z, columns, m->spare);
    memcpy(z, m->spare, m->ledger->dim * columns * sizeof *z);
}

static double *map_new(struct march *m)
{
    double *map = calloc(m->size + 1, sizeof *map);

    if (!map)
        m->status = DREGS_NO_MEMORY;
    return map;
}

/* Of a dim x dim matrix with buffers the part that a march needs. */
static double *compact(struct march *m, const double *matrix, size_t dim)
{
    size_t n = m->ledger->tanks, last = m->ledger->dim - 1, i, k;
    double *map = map_new(m);

    for (i = 0; map && i <= last; i++)
        for (k = 0; k <= n; k++)
            map[i * (n + 1) + k] = matrix[(i < last ? i : dim - 1) * dim + (k < n ? k : dim - 1)];
    return map;
}

/* Power j of a map: 2^j times in a row. NULL when memory is short. */
static const double *power(struct march *m, struct powers *powers, unsigned j)
{
    for (; powers->known <= j && !m->status; powers->known++) {
        const double *half = powers->power[powers->known - 1];
        double *made = map_new(m);
        if (!made)
            break;
        apply(m, half, half, m->ledger->tanks + 1, made);
        dregs_balance_conserve(made, m->ledger, m->ledger->tanks + 1);
        powers->power[powers->known] = made;
    }
    return m->status ? NULL : powers->power[j];
}

static void apply_times(struct march *m, struct powers *powers, uint64_t times, double *z,
                        size_t columns)
{
    unsigned j;

    for (j = 0; times >> j && !m->status; j++)
        if (times >> j & 1 && power(m, powers, j))
            apply_in_place(m, powers->power[j], z, columns);
}

/* ---- loads ---- */

/* Stretches of the same length come again and again. To make one map of such a one costs about as
 * much as n + 1 of them: it is made when so many have come. */
static struct cached *look_up(struct march *m, uint64_t loads)
{
    unsigned i;

    for (i = 0; i < CACHED_MOST; i++) {
        struct cached *c = &m->cached[i];
        if (c->loads == loads || !c->loads) {
            c->loads = loads;
            c->asked++;
            return c;
        }
    }
    return NULL;
}

static void identity(const struct march *m, double *map)
{
    size_t n = m->ledger->tanks, i;

    memset(map, 0, m->size * sizeof *map);
    for (i = 0; i < n; i++)
        map[i * (n + 1) + i] = 1.0;
    map[(m->ledger->dim - 1) * (n + 1) + n] = 1.0;
}

static void one_load(struct march *m, uint64_t done, double *z, size_t columns)
{
    apply_in_place(m, m->one[dregs_line_kind_at(m->line, done + 1)], z, columns);
}

/* Loads of several kinds: to the begin of a turn, by whole turns, and into the last one. */
static void stretch_of_kinds(struct march *m, uint64_t loads, double *z, size_t columns)
{
    uint64_t done = m->done, stop = done + loads, turns;

    for (; done % m->turn && done < stop; done++)
        one_load(m, done, z, columns);
    turns = (stop - done) / m->turn;
    apply_times(m, &m->loads, turns, z, columns);
    for (done += turns * m->turn; done < stop; done++)
        one_load(m, done, z, columns);
}

static void stretch(struct march *m, uint64_t loads, double *z, size_t columns)
{
    struct cached *c = m->turn == 1 && loads & (loads - 1) ? look_up(m, loads) : NULL;

    if (m->turn > 1) {
        stretch_of_kinds(m, loads, z, columns);
        return;
    }
    if (c && c->asked == m->ledger->tanks + 2) {
        c->map = map_new(m);
        if (c->map) {
            identity(m, c->map);
            apply_times(m, &m->loads, loads, c->map, m->ledger->tanks + 1);
            dregs_balance_conserve(c->map, m->ledger, m->ledger->tanks + 1);
        }
    }
    if (c && c->map)
        apply_in_place(m, c->map, z, columns);
    else
        apply_times(m, &m->loads, loads, z, columns);
}

static void from_dump_to_dump(struct march *m, uint64_t until, double *z, size_t columns)
{
    while (m->done < until && !m->status) {
        uint64_t due = dregs_balance_dump_next(m->line, m->done), stop = due < until ? due : until;
        stretch(m, stop - m->done, z, columns);
        m->done = stop;
        if (stop == due)
            dregs_balance_dump(m->line, m->substance, stop, m->ledger, z, columns);
    }
}

/* The map of a whole dump cycle, once it is worth while. */
static void need_cycle(struct march *m)
{
    uint64_t done = m->done;

    if (m->cycles.known || m->status)
        return;
    m->cycles.power[0] = map_new(m);
    if (m->status)
        return;
    identity(m, m->cycles.power[0]);
    m->done = 0;
    from_dump_to_dump(m, m->cycle, m->cycles.power[0], m->ledger->tanks + 1);
    dregs_balance_conserve(m->cycles.power[0], m->ledger, m->ledger->tanks + 1);
    m->cycles.known = 1;
    m->done = done;
}

static void pass_loads(struct march *m, uint64_t loads, double *z, size_t columns)
{
    uint64_t until = m->done + loads, aligned = (m->done + m->cycle - 1) / m->cycle * m->cycle;
    uint64_t cycles = until > aligned ? (until - aligned) / m->cycle : 0;

    if (dregs_balance_dump_next(m->line, 0) == UINT64_MAX) {
        stretch(m, loads, z, columns);
        m->done = until;
        return;
    }
    if (cycles > 2 || (cycles && m->cycles.known)) {
        from_dump_to_dump(m, aligned, z, columns);
        need_cycle(m);
        apply_times(m, &m->cycles, cycles, z, columns);
        m->done += cycles * m->cycle;
    }
    from_dump_to_dump(m, until, z, columns);
}

/* ---- the calendar ---- */

static void pass_gap(struct march *m, unsigned which, double *z, size_t columns)
{
    if (m->gap[which] && !m->status)
        apply_in_place(m, m->gap[which], z, columns);
}

dregs_status dregs_calendar_march_loads(struct march *m, uint64_t loads, double *z, size_t columns)
{
    pass_loads(m, loads, z, columns);
    return m->status;
}

dregs_status dregs_calendar_march_shift(struct march *m, double *z, size_t columns)
{
    pass_loads(m, m->calendar->loads_per_shift, z, columns);
    pass_gap(m, CALENDAR_REST, z, columns);
    return m->status;
}

dregs_status dregs_calendar_march_days(struct march *m, uint64_t days, double *z, size_t columns)
{
    const dregs_calendar *c = m->calendar;
    uint64_t shift;

    for (; days && !m->status; days--) {
        for (shift = 0; shift < c->shifts_per_day; shift++)
            (void)dregs_calendar_march_shift(m, z, columns);
        m->day++;
        pass_gap(m, dregs_calendar_behind(c, m->day), z, columns);
        if (m->day == c->days_per_year)
            m->day = 0;
    }
    return m->status;
}

dregs_status dregs_calendar_march_months(struct march *m, const struct calendar_dates *dates,
                                         unsigned month, unsigned months, double *z, size_t columns)
{
    unsigned day = dates->first[month], last = dates->first[month + months], shift;

    for (; day < last && !m->status; day++) {
        unsigned kind = dates->kind[day], gap = CALENDAR_GAPS + 2 * kind;
        for (shift = 0; shift < dates->of[kind].shifts; shift++) {
            pass_loads(m, dates->of[kind].loads, z, columns);
            pass_gap(m, gap, z, columns);
        }
        pass_gap(m, gap + 1, z, columns);
    }
    return m->status;
}

/* ---- the maps to begin with ---- */

static double *gap_map(struct march *m, const struct ledger *with, const struct gap *gap,
                       struct integrals *integrals, double *matrix)
{
    if (!(gap->time > 0) || m->status)
        return NULL;
    m->status = dregs_balance_interval(m->line, m->substance, gap, with, integrals, matrix);
    return m->status ? NULL : compact(m, matrix, with->dim);
}

/* The map of a load, or those of all kinds and of the turn that they make. */
static void make_loads(struct march *m, const struct ledger *with, struct integrals *integrals,
                       double *matrix)
{
    unsigned kinds = dregs_line_kinds(m->line), k;
    uint64_t done;

    for (k = 0; k < kinds && !m->status; k++) {
        m->status = dregs_balance_load_matrix(dregs_line_of_kind(m->line, k), m->substance, with,
                                              integrals, matrix);
        if (!m->status)
            m->one[k] = compact(m, matrix, with->dim);
    }
    if (m->status)
        return;
    m->loads.power[0] = kinds > 1 ? map_new(m) : m->one[0];
    if (kinds == 1)
        m->one[0] = NULL;
    if (m->status)
        return;
    m->loads.known = 1;
    if (kinds == 1)
        return;
    identity(m, m->loads.power[0]);
    for (done = 0; done < m->turn; done++)
        one_load(m, done, m->loads.power[0], m->ledger->tanks + 1);
    dregs_balance_conserve(m->loads.power[0], m->ledger, m->ledger->tanks + 1);
}

static void make_maps(struct march *m, const struct ledger *with, struct calendar_gaps *gaps)
{
    double *matrix = malloc(with->dim * with->dim * sizeof *matrix);
    unsigned i;

    if (!matrix)
        m->status = DREGS_NO_MEMORY;
    if (!m->status)
        make_loads(m, with, &gaps->between_loads, matrix);
    for (i = 0; i < gaps->count; i++)
        m->gap[i] = gap_map(m, with, &gaps->gap[i], &gaps->integrals[i], matrix);
    free(matrix);
}

void dregs_calendar_march_free(struct march *m)
{
    unsigned i;

    if (!m)
        return;
    for (i = 0; i < POWERS_MOST; i++) {
        free(m->loads.power[i]);
        free(m->cycles.power[i]);
    }
    for (i = 0; i < DREGS_LINE_LOADS; i++)
        free(m->one[i]);
    for (i = 0; i < CACHED_MOST; i++)
        free(m->cached[i].map);
    for (i = 0; i < CALENDAR_GAPS_MOST; i++)
        free(m->gap[i]);
    free(m->spare);
    free(m);
}

dregs_status dregs_calendar_march_new(const dregs_line *line, unsigned substance,
                                      const struct ledger *with, const struct ledger *ledger,
                                      const dregs_calendar *calendar, struct calendar_gaps *gaps,
                                      struct march **march)
{
    struct march *m = calloc(1, sizeof *m);
    dregs_status status;

    if (!m)
        return DREGS_NO_MEMORY;
    m->line = line;
    m->substance = substance;
    m->ledger = ledger;
    m->calendar = calendar;
    m->size = ledger->dim * (ledger->tanks + 1);
    m->cycle = dregs_line_period(line);
    m->turn = dregs_line_cycle(line);
    m->spare = map_new(m);
    make_maps(m, with, gaps);
    status = m->status;
    if (status)
        dregs_calendar_march_free(m);
    else
        *march = m;
    return status;
}
