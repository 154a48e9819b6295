/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* march.c: one substance through the calendar, from event to event: dumps, ends of shifts, days
 * and weeks. Between them lie powers of the load's map, so that no time is stepped through.
 *
 * The sums of a ledger never act back on the tanks, and what a map adds to them is linear in what
 * it begins with. So only the tanks are taken through the events, each map gathers what the z were
 * that entered it, and the sums are worked out of what was gathered when somebody asks for them
 * (settle). What entered a power of a map is handed down to the map itself, so that powers have no
 * rows for streams: only what came in and what went out, each in one sum, for the conservation of
 * mass.
 */
#include "calendar/calendar.h"
#include "line/line.h"

#include <stdlib.h>
#include <string.h>

enum { POWERS_MOST = DREGS_LOADS_BITS + 1, CACHED_MOST = 128, DUMPS_MOST = 16 };

/* Rows of n + 1: what z is at the end as a function of the tanks and the number one at the start.
 * The n rows of the tanks come first. */
struct map {
    double *a;
    double *entered; /* n + 1 rows: what entered it since the sums were settled, added up */
    int used;        /* something did */
};

/* A map and its powers, these made as they are asked for, of `base`: the map without its streams.
 */
struct powers {
    struct map power[POWERS_MOST];
    double *base;
    unsigned known;
};

/* The map of so many loads without a dump. */
struct cached {
    uint64_t loads;
    unsigned asked;
    struct map map;
};

/* A tank that is dumped: every so many loads, next after this one. */
struct due {
    uint64_t every, next;
};

/* What a dump of these tanks does, a bit for each `due`. */
struct known_dump {
    uint64_t which;
    struct dump_steps steps;
};

struct march {
    const dregs_line *line;
    unsigned substance;
    const struct ledger *ledger;
    struct ledger lean; /* of powers */
    const dregs_calendar *calendar;
    uint64_t cycle;                   /* loads after which all dumps fall together again */
    unsigned turn;                    /* loads after which their kinds come anew; 1: all alike */
    struct map one[DREGS_LINE_LOADS]; /* of several kinds the load of each */
    struct powers loads, cycles;      /* of loads, or of turns; of dump cycles */
    struct cached cached[CACHED_MOST];
    struct map gap[CALENDAR_GAPS_MOST]; /* without `a` for no time */
    struct due due[DREGS_LINE_STAGES];
    unsigned dues;
    struct known_dump dump[DUMPS_MOST];
    unsigned dumps;
    double *spare;      /* a map */
    uint64_t done, day; /* loads, and days of the year, that have passed */
    dregs_status status;
};

/* ---- maps ---- */

/* As below, for one column, where the time goes: four sums at once, so that none waits for the one
 * before it. */
static void rows_of_one(const double *a, size_t n, size_t rows, const double *z, double one,
                        double *into)
{
    size_t i, j;

    for (i = 0; i < rows; i++, a += n + 1) {
        double sum[4] = {a[n] * one, 0.0, 0.0, 0.0};
        for (j = 0; j + 4 <= n; j += 4) {
            sum[0] += a[j] * z[j];
            sum[1] += a[j + 1] * z[j + 1];
            sum[2] += a[j + 2] * z[j + 2];
            sum[3] += a[j + 3] * z[j + 3];
        }
        for (; j < n; j++)
            sum[0] += a[j] * z[j];
        into[i] = (sum[0] + sum[1]) + (sum[2] + sum[3]);
    }
}

/* into = so many rows of a after z, z having n rows and the row `one`, of so many columns */
static void rows_of(const double *a, size_t n, size_t rows, const double *z, const double *one,
                    size_t columns, double *into)
{
    size_t i, j, k;

    if (columns == 1) {
        rows_of_one(a, n, rows, z, *one, into);
        return;
    }
    for (i = 0; i < rows; i++, a += n + 1, into += columns) {
        for (k = 0; k < columns; k++)
            into[k] = a[n] * one[k];
        for (j = 0; j < n; j++)
            for (k = 0; k < columns; k++)
                into[k] += a[j] * z[j * columns + k];
    }
}

static double *rows_new(struct march *m, size_t rows)
{
    double *made = calloc(rows * (m->ledger->tanks + 1) + 1, sizeof *made);

    if (!made)
        m->status = DREGS_NO_MEMORY;
    return made;
}

static void make_map(struct march *m, struct map *map, size_t rows)
{
    map->a = rows_new(m, rows);
    map->entered = rows_new(m, m->ledger->tanks + 1);
}

static void clear_map(struct map *map)
{
    free(map->a);
    free(map->entered);
}

static void identity(const struct march *m, double *a, size_t rows)
{
    size_t n = m->ledger->tanks, i;

    memset(a, 0, rows * (n + 1) * sizeof *a);
    for (i = 0; i < n; i++)
        a[i * (n + 1) + i] = 1.0;
    a[(rows - 1) * (n + 1) + n] = 1.0;
}

/* Of a dim x dim matrix with buffers the part that a march needs. */
static void compact(struct march *m, const double *matrix, size_t dim, struct map *map)
{
    size_t n = m->ledger->tanks, last = m->ledger->dim - 1, i, k;

    make_map(m, map, last + 1);
    for (i = 0; !m->status && i <= last; i++)
        for (k = 0; k <= n; k++)
            map->a[i * (n + 1) + k] =
                matrix[(i < last ? i : dim - 1) * dim + (k < n ? k : dim - 1)];
}

/* What came in as one row, and what went out: of a map, or the ledger of it. */
static void set_lean(struct march *m)
{
    const struct ledger *whole = m->ledger;

    m->lean.tanks = whole->tanks;
    m->lean.outs = whole->tanks + (whole->outs > whole->tanks);
    m->lean.within = m->lean.buffers = m->lean.outs + (whole->within > whole->outs);
    m->lean.dim = m->lean.within + 1;
}

static double *without_streams(struct march *m, const double *a)
{
    const struct ledger *whole = m->ledger;
    size_t width = whole->tanks + 1, i, k;
    double *made = rows_new(m, m->lean.dim);

    if (!made)
        return NULL;
    memcpy(made, a, whole->tanks * width * sizeof *made);
    for (i = whole->tanks; i < whole->within; i++)
        for (k = 0; k < width; k++)
            made[(i < whole->outs ? whole->tanks : m->lean.outs) * width + k] += a[i * width + k];
    made[m->lean.dim * width - 1] = 1.0;
    return made;
}

/* into = a after b, both without streams */
static void after(const struct march *m, const double *a, const double *b, double *into)
{
    size_t n = m->lean.tanks, sums = n * (n + 1), one = m->lean.within * (n + 1), i;

    rows_of(a, n, m->lean.within, b, b + one, n + 1, into);
    for (i = sums; i < one; i++)
        into[i] += b[i];
    memcpy(into + one, b + one, (n + 1) * sizeof *into);
    dregs_balance_conserve(into, &m->lean, n + 1);
}

/* Notes that z (n rows and the row `one`, of so many columns) enters a map. */
static void enter(const struct march *m, struct map *map, const double *z, const double *one,
                  size_t columns)
{
    size_t tanks = m->ledger->tanks * columns, i;

    for (i = 0; i < tanks; i++)
        map->entered[i] += z[i];
    for (i = 0; i < columns; i++)
        map->entered[tanks + i] += one[i];
    map->used = 1;
}

static void pass(struct march *m, struct map *map, double *z, const double *one, size_t columns)
{
    size_t n = m->ledger->tanks;

    enter(m, map, z, one, columns);
    rows_of(map->a, n, n, z, one, columns, m->spare);
    memcpy(z, m->spare, n * columns * sizeof *z);
}

static const double *one_of(const struct march *m, const double *z, size_t columns)
{
    return z + (m->ledger->dim - 1) * columns;
}

/* Power j of a map: 2^j times in a row. NULL when memory is short. */
static struct map *power(struct march *m, struct powers *powers, unsigned j)
{
    for (; powers->known <= j && !m->status; powers->known++) {
        struct map *made = &powers->power[powers->known];
        const double *half = powers->known > 1 ? made[-1].a : powers->base;
        make_map(m, made, m->lean.dim);
        if (m->status) {
            clear_map(made);
            *made = (struct map){NULL, NULL, 0};
            break;
        }
        after(m, half, half, made->a);
    }
    return m->status ? NULL : &powers->power[j];
}

static void pass_times(struct march *m, struct powers *powers, uint64_t times, double *z,
                       const double *one, size_t columns)
{
    unsigned j;

    for (j = 0; times >> j && !m->status; j++)
        if (times >> j & 1 && power(m, powers, j))
            pass(m, &powers->power[j], z, one, columns);
}

/* ---- sums ---- */

static void nothing_entered(const struct march *m, struct map *map, size_t columns)
{
    memset(map->entered, 0, (m->ledger->tanks + 1) * columns * sizeof *map->entered);
    map->used = 0;
}

/* What entered a power entered half of it, and then the other half. */
static void hand_down(struct march *m, struct powers *powers, size_t columns)
{
    unsigned j;

    for (j = powers->known; j-- > 1;) {
        struct map *whole = &powers->power[j], *half = whole - 1;
        double *one = whole->entered + m->ledger->tanks * columns;
        if (!whole->used)
            continue;
        pass(m, half, whole->entered, one, columns);
        enter(m, half, whole->entered, one, columns);
        nothing_entered(m, whole, columns);
    }
}

static void hand_down_cached(struct march *m, size_t columns)
{
    unsigned i;

    for (i = 0; i < CACHED_MOST; i++) {
        struct map *map = &m->cached[i].map;
        if (!map->used)
            continue;
        pass_times(m, &m->loads, m->cached[i].loads, map->entered,
                   map->entered + m->ledger->tanks * columns, columns);
        nothing_entered(m, map, columns);
    }
}

static void add_sums(struct march *m, struct map *map, double *z, size_t columns)
{
    size_t n = m->ledger->tanks, sums = m->ledger->dim - 1 - n, i;

    if (!map->used)
        return;
    rows_of(map->a + n * (n + 1), n, sums, map->entered, map->entered + n * columns, columns,
            m->spare);
    for (i = 0; i < sums * columns; i++)
        z[n * columns + i] += m->spare[i];
    nothing_entered(m, map, columns);
}

/* The sums of z with what all maps have gathered. */
static void settle(struct march *m, double *z, size_t columns)
{
    unsigned i;

    if (m->status)
        return;
    hand_down_cached(m, columns);
    hand_down(m, &m->loads, columns);
    hand_down(m, &m->cycles, columns);
    add_sums(m, &m->loads.power[0], z, columns);
    add_sums(m, &m->cycles.power[0], z, columns);
    for (i = 0; i < DREGS_LINE_LOADS; i++)
        add_sums(m, &m->one[i], z, columns);
    for (i = 0; i < CALENDAR_GAPS_MOST; i++)
        add_sums(m, &m->gap[i], z, columns);
}

/* ---- dumps ---- */

static void find_dumps(struct march *m)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(m->line); i++) {
        const dregs_stage *stage = dregs_line_stage(m->line, i);
        if (stage->dump_every.row)
            m->due[m->dues++].every = (uint64_t)stage->dump_every.si;
    }
}

/* When each is dumped next, wherever the march has got to. */
static void look_ahead(struct march *m)
{
    unsigned i;

    for (i = 0; i < m->dues; i++)
        m->due[i].next = (m->done / m->due[i].every + 1) * m->due[i].every;
}

static uint64_t next_dump(const struct march *m)
{
    uint64_t next = UINT64_MAX;
    unsigned i;

    for (i = 0; i < m->dues; i++)
        if (m->due[i].next < next)
            next = m->due[i].next;
    return next;
}

static const struct dump_steps *steps_of(struct march *m, uint64_t which)
{
    unsigned i;

    for (i = 0; i < m->dumps; i++)
        if (m->dump[i].which == which)
            return &m->dump[i].steps;
    if (m->dumps == DUMPS_MOST)
        return NULL;
    m->dump[m->dumps].which = which;
    m->status = dregs_balance_dump_steps(m->line, m->substance, m->done, m->ledger,
                                         &m->dump[m->dumps++].steps);
    return &m->dump[m->dumps - 1].steps;
}

/* What is due after the last load. */
static void dump(struct march *m, double *z, size_t columns)
{
    const struct dump_steps *steps;
    uint64_t which = 0;
    unsigned i;

    for (i = 0; i < m->dues; i++)
        if (m->due[i].next == m->done) {
            which |= UINT64_C(1) << i;
            m->due[i].next += m->due[i].every;
        }
    steps = steps_of(m, which);
    if (steps)
        dregs_balance_dump_by_steps(steps, m->ledger->dim, z, columns);
    else
        dregs_balance_dump(m->line, m->substance, m->done, m->ledger, z, columns);
}

/* ---- loads ---- */

/* Stretches of the same length come again and again. To make one map of such a one costs about as
 * much as n + 1 of them: it is made when so many have come. */
static struct cached *look_up(struct march *m, uint64_t loads)
{
    unsigned i;

    for (i = 0; i < CACHED_MOST / 4; i++) {
        struct cached *c = &m->cached[(loads + i) % CACHED_MOST];
        if (c->loads == loads || !c->loads) {
            c->loads = loads;
            c->asked++;
            return c;
        }
    }
    return NULL;
}

static void make_cached(struct march *m, struct cached *c)
{
    size_t width = m->ledger->tanks + 1;
    unsigned j;

    for (j = 0; c->loads >> j; j++)
        (void)power(m, &m->loads, j);
    if (m->status)
        return;
    make_map(m, &c->map, m->lean.dim);
    if (m->status)
        return;
    identity(m, c->map.a, m->lean.dim);
    for (j = 0; c->loads >> j; j++)
        if (c->loads >> j & 1) {
            after(m, j ? m->loads.power[j].a : m->loads.base, c->map.a, m->spare);
            memcpy(c->map.a, m->spare, m->lean.dim * width * sizeof *m->spare);
        }
}

static void one_load(struct march *m, uint64_t done, double *z, size_t columns)
{
    pass(m, &m->one[dregs_line_kind_at(m->line, done + 1)], z, one_of(m, z, columns), columns);
}

/* Loads of several kinds: to the begin of a turn, by whole turns, and into the last one. */
static void stretch_of_kinds(struct march *m, uint64_t loads, double *z, size_t columns)
{
    uint64_t done = m->done, stop = done + loads, turns;

    for (; done % m->turn && done < stop; done++)
        one_load(m, done, z, columns);
    turns = (stop - done) / m->turn;
    pass_times(m, &m->loads, turns, z, one_of(m, z, columns), columns);
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
    if (c && c->asked == m->ledger->tanks + 2)
        make_cached(m, c);
    if (m->status)
        return;
    if (c && c->map.a)
        pass(m, &c->map, z, one_of(m, z, columns), columns);
    else
        pass_times(m, &m->loads, loads, z, one_of(m, z, columns), columns);
}

static void from_dump_to_dump(struct march *m, uint64_t until, double *z, size_t columns)
{
    while (m->done < until && !m->status) {
        uint64_t due = next_dump(m), stop = due < until ? due : until;
        stretch(m, stop - m->done, z, columns);
        m->done = stop;
        if (stop == due)
            dump(m, z, columns);
    }
}

/* The map of a whole dump cycle, once it is worth while. What was gathered on the way to here is
 * settled before other columns are taken through. */
static void need_cycle(struct march *m, double *z, size_t columns)
{
    uint64_t done = m->done;
    struct map *map = &m->cycles.power[0];

    if (m->cycles.known || m->status)
        return;
    settle(m, z, columns);
    make_map(m, map, m->ledger->dim);
    if (m->status)
        return;
    identity(m, map->a, m->ledger->dim);
    m->done = 0;
    look_ahead(m);
    from_dump_to_dump(m, m->cycle, map->a, m->ledger->tanks + 1);
    settle(m, map->a, m->ledger->tanks + 1);
    dregs_balance_conserve(map->a, m->ledger, m->ledger->tanks + 1);
    m->cycles.base = without_streams(m, map->a);
    m->cycles.known = !m->status;
    m->done = done;
    look_ahead(m);
}

static void pass_loads(struct march *m, uint64_t loads, double *z, size_t columns)
{
    uint64_t until = m->done + loads, aligned = (m->done + m->cycle - 1) / m->cycle * m->cycle;
    uint64_t cycles = until > aligned ? (until - aligned) / m->cycle : 0;

    if (m->dues && (cycles > 2 || (cycles && m->cycles.known))) {
        from_dump_to_dump(m, aligned, z, columns);
        need_cycle(m, z, columns);
        pass_times(m, &m->cycles, cycles, z, one_of(m, z, columns), columns);
        m->done += cycles * m->cycle;
        look_ahead(m);
    }
    from_dump_to_dump(m, until, z, columns);
}

/* ---- the calendar ---- */

static void pass_gap(struct march *m, unsigned which, double *z, size_t columns)
{
    if (m->gap[which].a && !m->status)
        pass(m, &m->gap[which], z, one_of(m, z, columns), columns);
}

static void pass_shift(struct march *m, double *z, size_t columns)
{
    pass_loads(m, m->calendar->loads_per_shift, z, columns);
    pass_gap(m, CALENDAR_REST, z, columns);
}

dregs_status dregs_calendar_march_loads(struct march *m, uint64_t loads, double *z, size_t columns)
{
    pass_loads(m, loads, z, columns);
    settle(m, z, columns);
    return m->status;
}

dregs_status dregs_calendar_march_shift(struct march *m, double *z, size_t columns)
{
    pass_shift(m, z, columns);
    settle(m, z, columns);
    return m->status;
}

dregs_status dregs_calendar_march_days(struct march *m, uint64_t days, double *z, size_t columns)
{
    const dregs_calendar *c = m->calendar;
    uint64_t shift;

    for (; days && !m->status; days--) {
        for (shift = 0; shift < c->shifts_per_day; shift++)
            pass_shift(m, z, columns);
        m->day++;
        pass_gap(m, dregs_calendar_behind(c, m->day), z, columns);
        if (m->day == c->days_per_year)
            m->day = 0;
    }
    settle(m, z, columns);
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
    settle(m, z, columns);
    return m->status;
}

/* ---- the maps to begin with ---- */

static void make_gap(struct march *m, const struct ledger *with, const struct gap *gap,
                     struct integrals *integrals, double *matrix, struct map *map)
{
    if (!(gap->time > 0) || m->status)
        return;
    m->status = dregs_balance_interval(m->line, m->substance, gap, with, integrals, matrix);
    if (!m->status)
        compact(m, matrix, with->dim, map);
}

/* Loads of several kinds as the one map of a turn. */
static void make_turn(struct march *m, struct map *map)
{
    uint64_t done;

    make_map(m, map, m->ledger->dim);
    if (m->status)
        return;
    identity(m, map->a, m->ledger->dim);
    for (done = 0; done < m->turn; done++)
        one_load(m, done, map->a, m->ledger->tanks + 1);
    settle(m, map->a, m->ledger->tanks + 1);
    dregs_balance_conserve(map->a, m->ledger, m->ledger->tanks + 1);
}

/* The map of a load, or those of all kinds and of the turn that they make. */
static void make_loads(struct march *m, const struct ledger *with, struct integrals *integrals,
                       double *matrix)
{
    unsigned kinds = dregs_line_kinds(m->line), k;
    struct map *load = &m->loads.power[0];

    for (k = 0; k < kinds && !m->status; k++) {
        m->status = dregs_balance_load_matrix(dregs_line_of_kind(m->line, k), m->substance, with,
                                              integrals, matrix);
        if (!m->status)
            compact(m, matrix, with->dim, kinds > 1 ? &m->one[k] : load);
    }
    if (!m->status && kinds > 1)
        make_turn(m, load);
    if (!m->status)
        m->loads.base = without_streams(m, load->a);
    m->loads.known = !m->status;
}

static void make_maps(struct march *m, const struct ledger *with, struct calendar_gaps *gaps)
{
    double *matrix = malloc(with->dim * with->dim * sizeof *matrix);
    unsigned i;

    m->spare = rows_new(m, m->ledger->dim);
    if (!matrix)
        m->status = DREGS_NO_MEMORY;
    if (!m->status)
        make_loads(m, with, &gaps->between_loads, matrix);
    for (i = 0; i < gaps->count; i++)
        make_gap(m, with, &gaps->gap[i], &gaps->integrals[i], matrix, &m->gap[i]);
    free(matrix);
}

void dregs_calendar_march_free(struct march *m)
{
    unsigned i;

    if (!m)
        return;
    for (i = 0; i < POWERS_MOST; i++) {
        clear_map(&m->loads.power[i]);
        clear_map(&m->cycles.power[i]);
    }
    free(m->loads.base);
    free(m->cycles.base);
    for (i = 0; i < DREGS_LINE_LOADS; i++)
        clear_map(&m->one[i]);
    for (i = 0; i < CACHED_MOST; i++)
        clear_map(&m->cached[i].map);
    for (i = 0; i < CALENDAR_GAPS_MOST; i++)
        clear_map(&m->gap[i]);
    for (i = 0; i < m->dumps; i++)
        dregs_balance_dump_steps_clear(&m->dump[i].steps);
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
    m->cycle = dregs_line_period(line);
    m->turn = dregs_line_cycle(line);
    set_lean(m);
    find_dumps(m);
    look_ahead(m);
    make_maps(m, with, gaps);
    status = m->status;
    if (status)
        dregs_calendar_march_free(m);
    else
        *march = m;
    return status;
}
