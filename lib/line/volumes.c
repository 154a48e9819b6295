/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* volumes.c: the balance of liquid volumes between loads (section "between loads" of
 * dregs-model(7)): what each tank gains by films, feeds and sprays, what evaporates, and from it
 * what overflows or is topped up.
 */
#include "base/multiple.h"
#include "line/inside.h"
#include "line/stage/stage.h"

#include <limits.h>
#include <math.h>

static int tank_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? line->stages[link.index].tank : -1;
}

/* Sets overflow or top-up of a tank, once all that flows to it or draws on it is known. */
static void settle(const dregs_line *line, dregs_tank *tanks, unsigned tank)
{
    dregs_tank *t = &tanks[tank];
    const dregs_stage *stage = &line->stages[t->stage];
    double surplus =
        t->flow + t->film_gain + t->runoff + t->overflow_in - t->evaporation - t->drawn;
    double turnover =
        t->flow + fabs(t->film_gain) + t->runoff + t->overflow_in + t->evaporation + t->drawn;
    int next;

    if (fabs(surplus) <= 1e-14 * turnover) /* rounding of sums that cancel */
        surplus = 0.0;
    if (surplus >= 0) {
        t->overflow = surplus;
        next = tank_of(line, stage->overflow_to);
        if (next >= 0)
            tanks[next].overflow_in += surplus;
    } else {
        t->top_up = -surplus;
        next = tank_of(line, stage->top_up_from);
        if (next >= 0)
            tanks[next].drawn += -surplus;
    }
}

/* Adds to the count of tanks that act on others: those its overflow and its top-up reach. */
static void count_reached(const dregs_line *line, unsigned tank, unsigned *waiting, int by)
{
    const dregs_stage *stage = &line->stages[line->tanks[tank].stage];
    int over = tank_of(line, stage->overflow_to), top = tank_of(line, stage->top_up_from);

    if (over >= 0)
        waiting[over] += (unsigned)by;
    if (top >= 0)
        waiting[top] += (unsigned)by;
}

/* Tanks in an order in which all that acts on one stands before it; there is no circle. */
static void settle_all(const dregs_line *line, dregs_tank *tanks)
{
    unsigned waiting[DREGS_LINE_STAGES] = {0}, done = 0, i;
    unsigned char settled[DREGS_LINE_STAGES] = {0};

    for (i = 0; i < line->tank_count; i++)
        count_reached(line, i, waiting, 1);
    while (done < line->tank_count)
        for (i = 0; i < line->tank_count; i++) {
            if (settled[i] || waiting[i])
                continue;
            settle(line, tanks, i);
            settled[i] = 1;
            done++;
            count_reached(line, i, waiting, -1);
        }
}

void dregs_line_idle(const dregs_line *line, int flow, int idle, dregs_tank *tanks)
{
    unsigned i;

    for (i = 0; i < line->tank_count; i++) {
        const dregs_tank *t = &line->tanks[i];
        tanks[i] = (dregs_tank){.stage = t->stage,
                                .volume = t->volume,
                                .flow = flow ? t->flow : 0.0,
                                .evaporation = idle ? line->idle_evaporation[i] : t->evaporation};
    }
    settle_all(line, tanks);
}

dregs_status dregs_line_find_period(dregs_line *line, dregs_faults *faults)
{
    unsigned long most = line->any_period ? 1ul << 62 : DREGS_LINE_PERIOD;
    unsigned i;

    line->period = dregs_line_cycle(line);
    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        unsigned long every, apart;
        if (!stage->dump_every.row)
            continue;
        every = (unsigned long)stage->dump_every.si;
        apart = line->period / dregs_common_divisor(line->period, every);
        line->period = apart > ULONG_MAX / every ? ULONG_MAX : apart * every;
        if (line->period > most)
            return dregs_fault_add(faults, DREGS_BAD_DATA,
                                   dregs_line_at(line, stage->dump_every.row),
                                   "with this one the dumps fall together again%s only after %lu "
                                   "loads; allowed are %d: "
                                   "choose numbers of loads with common factors",
                                   dregs_line_cycle(line) > 1 ? ", with the sequence," : "",
                                   line->period, DREGS_LINE_PERIOD);
    }
    return DREGS_OK;
}

dregs_status dregs_line_evaporate_all(dregs_line *line, dregs_faults *faults)
{
    dregs_status status, first = DREGS_OK;
    unsigned t;

    for (t = 0; t < line->tank_count; t++) {
        status = dregs_line_evaporate(line, line->tanks[t].stage, &line->tanks[t].evaporation,
                                      &line->idle_evaporation[t], faults);
        first = first    ? first
                : status ? status
                         : dregs_line_note_warming(line, line->tanks[t].stage);
    }
    return first;
}

void dregs_line_balance_volumes(dregs_line *line)
{
    double interval = line->load->interval.si;
    unsigned i;

    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        const dregs_carried *carried = &line->carried[i];
        struct stage_volumes volumes;
        int to;
        dregs_stage_volumes(line, i, &volumes);
        to = tank_of(line, volumes.runoff_to);
        if (to >= 0)
            line->tanks[to].runoff += volumes.runoff / interval;
        if (stage->tank < 0)
            continue;
        line->tanks[stage->tank].film_gain += (carried->in - carried->out) / interval;
        if (line->tanks[stage->tank].stage == i)
            line->tanks[stage->tank].flow = stage->flow.si;
    }
    settle_all(line, line->tanks);
}
