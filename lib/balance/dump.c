/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dump.c: emptying and refilling tanks after the loads at which that is due.
 *
 * In the order of the stages every tank that is due gives what it holds to the waste and is filled
 * anew, with fresh liquid or from another tank. A tank that gave its liquid to another is filled
 * up in its turn: at its place in the order if that is still to come, else at once.
 */
#include "balance/map.h"
#include "line/line.h"

#include <stdlib.h>

struct dump {
    const dregs_line *line;
    unsigned substance, tanks;
    uint64_t done;
    const struct ledger *ledger;
    size_t columns;
    double *z;
    struct dump_steps *steps; /* noted there and not done; NULL: done */
    dregs_status status;
    double lacking[DREGS_LINE_STAGES]; /* m3 that others have taken from a tank */
    struct dump_volumes *volumes;      /* NULL when nobody asks */
    int by_hand;                       /* the one tank to dump; -1: those that are due */
    const double *fresh; /* per tank, of what it is filled with; NULL: that of the substance */
};

static const dregs_stage *owner(const struct dump *d, unsigned tank)
{
    return dregs_line_stage(d->line, dregs_line_tank(d->line, tank)->stage);
}

static size_t sum_row(const struct dump *d, dregs_stream which, unsigned tank)
{
    return d->ledger->row[which][dregs_line_tank(d->line, tank)->stage];
}

/* A share of one row is moved to another and noted in a third, in every column. */
static void move(const struct dump_step *step, double *z, size_t columns)
{
    const size_t from = step->from * columns, to = step->to * columns, note = step->note * columns;
    size_t k;

    for (k = 0; k < columns; k++) {
        double part = step->share * z[from + k];
        if (step->to != LEDGER_NOWHERE)
            z[to + k] += part;
        if (step->note != LEDGER_NOWHERE)
            z[note + k] += part;
        z[from + k] = step->share < 1.0 ? z[from + k] - part : 0.0;
    }
}

/* A mass is added to a row and noted in another. */
static void add(const struct dump_step *step, const double *one, double *z, size_t columns)
{
    size_t k;

    for (k = 0; k < columns; k++) {
        z[step->to * columns + k] += step->mass * one[k];
        if (step->note != LEDGER_NOWHERE)
            z[step->note * columns + k] += step->mass * one[k];
    }
}

static void do_step(const struct dump_step *step, size_t dim, double *z, size_t columns)
{
    if (step->from != LEDGER_NOWHERE)
        move(step, z, columns);
    else
        add(step, z + (dim - 1) * columns, z, columns);
}

static void note_step(struct dump *d, const struct dump_step *step)
{
    struct dump_step *more =
        realloc(d->steps->step, (d->steps->count + 1) * sizeof *d->steps->step);

    if (!more) {
        d->status = DREGS_NO_MEMORY;
        return;
    }
    d->steps->step = more;
    more[d->steps->count++] = *step;
}

static void take_step(struct dump *d, size_t from, size_t to, size_t note, double share,
                      double mass)
{
    const struct dump_step step = {(unsigned short)from, (unsigned short)to, (unsigned short)note,
                                   share, mass};

    if (d->steps)
        note_step(d, &step);
    else if (d->columns)
        do_step(&step, d->ledger->dim, d->z, d->columns);
}

static void fill(struct dump *d, unsigned tank, double volume)
{
    const dregs_stage *stage = owner(d, tank);

    d->lacking[tank] = 0.0;
    if (stage->refill_from.kind == DREGS_LINK_STAGE) {
        unsigned from = (unsigned)dregs_line_stage(d->line, stage->refill_from.index)->tank;
        double held = dregs_line_tank(d->line, from)->volume - d->lacking[from];
        take_step(d, from, tank, sum_row(d, DREGS_STREAM_MOVED, tank),
                  volume < held ? volume / held : 1.0, 0.0);
        d->lacking[from] += volume;
    } else {
        double mass = volume * (d->fresh ? d->fresh[tank]
                                         : dregs_stage_fresh_content(d->line, d->substance,
                                                                     stage->liquid.index));
        if (d->volumes)
            d->volumes->fresh[tank] += volume;
        take_step(d, LEDGER_NOWHERE, tank, sum_row(d, DREGS_STREAM_REFILLED, tank), 0.0, mass);
    }
}

static void empty(struct dump *d, unsigned tank)
{
    if (d->volumes)
        d->volumes->emptied[tank] += dregs_line_tank(d->line, tank)->volume - d->lacking[tank];
    take_step(d, tank, sum_row(d, DREGS_STREAM_DUMPED, tank), LEDGER_NOWHERE, 1.0, 0.0);
}

static int is_due(const struct dump *d, unsigned tank)
{
    const dregs_stage *stage = owner(d, tank);

    if (d->by_hand >= 0)
        return d->by_hand == (int)tank;
    return stage->dump_every.row && d->done % (uint64_t)stage->dump_every.si == 0;
}

static void dump_due(struct dump *d)
{
    unsigned t;
    int lacks;

    /* tanks are numbered in the order of the stages */
    for (t = 0; t < d->tanks; t++) {
        if (is_due(d, t)) {
            empty(d, t);
            fill(d, t, dregs_line_tank(d->line, t)->volume);
        } else if (d->lacking[t] > 0) {
            fill(d, t, d->lacking[t]);
        }
    }
    do { /* those whose place in the order had passed; ends, for refills run in no circle */
        lacks = 0;
        for (t = 0; t < d->tanks; t++)
            if (d->lacking[t] > 0) {
                fill(d, t, d->lacking[t]);
                lacks = 1;
            }
    } while (lacks);
}

void dregs_balance_dump(const dregs_line *line, unsigned substance, uint64_t done,
                        const struct ledger *ledger, double *z, size_t columns)
{
    struct dump d = {.line = line,
                     .substance = substance,
                     .tanks = dregs_line_tanks(line),
                     .done = done,
                     .ledger = ledger,
                     .columns = columns,
                     .z = z,
                     .by_hand = -1};

    dump_due(&d);
}

void dregs_balance_map_fills(const dregs_map *map, unsigned solute, double *fresh)
{
    unsigned t;

    for (t = 0; t < map->tanks; t++) {
        const dregs_stage *stage =
            dregs_line_stage(map->line, dregs_line_tank(map->line, t)->stage);
        fresh[t] += dregs_stage_fresh_content(map->line, solute, stage->liquid.index);
    }
}

void dregs_balance_map_dump(const dregs_map *map, uint64_t done, const double *fresh, double *z)
{
    struct dump d = {.line = map->line,
                     .tanks = map->tanks,
                     .done = done,
                     .ledger = &map->plain,
                     .columns = 1,
                     .z = z,
                     .by_hand = -1,
                     .fresh = fresh};

    dump_due(&d);
}

dregs_status dregs_balance_dump_steps(const dregs_line *line, unsigned substance, uint64_t done,
                                      const struct ledger *ledger, struct dump_steps *steps)
{
    struct dump d = {.line = line,
                     .substance = substance,
                     .tanks = dregs_line_tanks(line),
                     .done = done,
                     .ledger = ledger,
                     .steps = steps,
                     .by_hand = -1};

    *steps = (struct dump_steps){0, NULL};
    dump_due(&d);
    return d.status;
}

void dregs_balance_dump_by_steps(const struct dump_steps *steps, size_t dim, double *z,
                                 size_t columns)
{
    unsigned i;

    for (i = 0; i < steps->count; i++)
        do_step(&steps->step[i], dim, z, columns);
}

void dregs_balance_dump_steps_clear(struct dump_steps *steps)
{
    free(steps->step);
    *steps = (struct dump_steps){0, NULL};
}

void dregs_balance_dump_by_hand(const dregs_line *line, unsigned solute, unsigned tank, double *z)
{
    struct ledger ledger;
    struct dump d = {.line = line,
                     .substance = solute,
                     .tanks = dregs_line_tanks(line),
                     .ledger = &ledger,
                     .columns = 1,
                     .z = z,
                     .by_hand = (int)tank};

    dregs_balance_ledger_plain(line, &ledger);
    dump_due(&d);
}

void dregs_balance_dump_volumes(const dregs_line *line, uint64_t done, struct dump_volumes *volumes)
{
    static const struct dump_volumes none = {{0}, {0}};
    struct ledger ledger;
    struct dump d = {.line = line,
                     .tanks = dregs_line_tanks(line),
                     .done = done,
                     .ledger = &ledger,
                     .volumes = volumes,
                     .by_hand = -1};

    *volumes = none;
    dregs_balance_ledger_plain(line, &ledger);
    dump_due(&d);
}

uint64_t dregs_balance_dump_next(const dregs_line *line, uint64_t done)
{
    uint64_t next = UINT64_MAX;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        uint64_t every, due;
        if (!stage->dump_every.row)
            continue;
        every = (uint64_t)stage->dump_every.si;
        due = (done / every + 1) * every;
        if (due < next)
            next = due;
    }
    return next;
}
