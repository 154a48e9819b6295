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

struct dump {
    const dregs_line *line;
    unsigned substance, tanks;
    uint64_t done;
    const struct ledger *ledger;
    size_t columns;
    double *z;
    double lacking[DREGS_LINE_STAGES]; /* m3 that others have taken from a tank */
    struct dump_volumes *volumes;      /* NULL when nobody asks */
    int by_hand;                       /* the one tank to dump; -1: those that are due */
};

static const dregs_stage *owner(const struct dump *d, unsigned tank)
{
    return dregs_line_stage(d->line, dregs_line_tank(d->line, tank)->stage);
}

static size_t sum_row(const struct dump *d, dregs_stream which, unsigned tank)
{
    return d->ledger->row[which][dregs_line_tank(d->line, tank)->stage];
}

/* Moves a share of one row to another, in every column, and notes it in row `note` unless that is
 * LEDGER_NOWHERE. */
static void move(struct dump *d, size_t from, size_t to, double share, size_t note)
{
    size_t k;

    for (k = 0; k < d->columns; k++) {
        double part = share * d->z[from * d->columns + k];
        d->z[to * d->columns + k] += part;
        if (note != LEDGER_NOWHERE)
            d->z[note * d->columns + k] += part;
        d->z[from * d->columns + k] = share < 1.0 ? d->z[from * d->columns + k] - part : 0.0;
    }
}

static void add(struct dump *d, size_t to, double mass)
{
    size_t k;

    for (k = 0; k < d->columns; k++)
        d->z[to * d->columns + k] += mass * d->z[(d->ledger->dim - 1) * d->columns + k];
}

static void fill(struct dump *d, unsigned tank, double volume)
{
    const dregs_stage *stage = owner(d, tank);

    d->lacking[tank] = 0.0;
    if (stage->refill_from.kind == DREGS_LINK_STAGE) {
        unsigned from = (unsigned)dregs_line_stage(d->line, stage->refill_from.index)->tank;
        double held = dregs_line_tank(d->line, from)->volume - d->lacking[from];
        move(d, from, tank, volume < held ? volume / held : 1.0,
             sum_row(d, DREGS_STREAM_MOVED, tank));
        d->lacking[from] += volume;
    } else {
        double mass =
            volume * dregs_stage_fresh_content(d->line, d->substance, stage->liquid.index);
        size_t note = sum_row(d, DREGS_STREAM_REFILLED, tank);
        if (d->volumes)
            d->volumes->fresh[tank] += volume;
        add(d, tank, mass);
        if (note != LEDGER_NOWHERE)
            add(d, note, mass);
    }
}

static void empty(struct dump *d, unsigned tank)
{
    size_t to = sum_row(d, DREGS_STREAM_DUMPED, tank), k;

    if (d->volumes)
        d->volumes->emptied[tank] += dregs_line_tank(d->line, tank)->volume - d->lacking[tank];
    if (to != LEDGER_NOWHERE)
        move(d, tank, to, 1.0, LEDGER_NOWHERE);
    else
        for (k = 0; k < d->columns; k++)
            d->z[tank * d->columns + k] = 0.0;
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
    struct dump d = {line, substance, dregs_line_tanks(line), done, ledger, columns, z, {0},
                     NULL, -1};

    dump_due(&d);
}

void dregs_balance_dump_by_hand(const dregs_line *line, unsigned solute, unsigned tank, double *z)
{
    struct ledger ledger;
    struct dump d = {line, solute, dregs_line_tanks(line), 0, &ledger, 1, z, {0}, NULL, (int)tank};

    dregs_balance_ledger_plain(line, &ledger);

    dump_due(&d);
}

void dregs_balance_dump_volumes(const dregs_line *line, uint64_t done, struct dump_volumes *volumes)
{
    static const struct dump_volumes none = {{0}, {0}};
    struct ledger ledger;
    struct dump d = {line, 0, dregs_line_tanks(line), done, &ledger, 0, NULL, {0}, volumes, -1};

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
