/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* consumption.c: what a load takes and gives in volumes of liquid, from the volume balance and the
 * dumps. */
#include "balance/map.h"
#include "base/grow.h"
#include "base/multiple.h"
#include "dregs/use.h"
#include "line/line.h"

#include <math.h>

struct account {
    const dregs_line *line;
    dregs_use *use;
    double share; /* of the loads that are of the line's kind */
    double cost;
    int priced;
};

static void buy(struct account *a, const dregs_fluid *f, double volume, double *into)
{
    *into += volume;
    a->use->bought += volume;
    if (f->price.row) {
        a->cost += volume * f->price.si;
        a->priced = 1;
    }
}

/* Liquid that leaves as waste counts as the fresh liquid of the stage it leaves. */
static void waste(struct account *a, const dregs_fluid *f, double volume, double *into)
{
    *into += volume;
    if (f->disposal.row) {
        a->cost += volume * f->disposal.si;
        a->priced = 1;
    }
}

static void use_of_tank(struct account *a, unsigned index)
{
    const dregs_tank *tank = dregs_line_tank(a->line, index);
    const dregs_stage *stage = dregs_line_stage(a->line, tank->stage);
    double interval = dregs_line_load(a->line)->interval.si * a->share;

    buy(a, dregs_line_fluid(a->line, stage->feed.index), tank->flow * interval, &a->use->flow);
    if (stage->top_up_from.kind == DREGS_LINK_LIQUID)
        buy(a, dregs_line_fluid(a->line, stage->top_up_from.index), tank->top_up * interval,
            &a->use->top_up);
    if (stage->overflow_to.kind == DREGS_LINK_DRAIN)
        waste(a, dregs_line_fluid(a->line, stage->liquid.index), tank->overflow * interval,
              &a->use->to_drain);
    a->use->evaporated += tank->evaporation * interval;
}

static void use_of_visit(struct account *a, unsigned index)
{
    struct stage_volumes volumes;

    dregs_stage_volumes(a->line, index, &volumes);
    if (volumes.sprayed > 0)
        buy(a, volumes.fluid, volumes.sprayed * a->share, &a->use->sprayed);
    if (volumes.runoff_to.kind == DREGS_LINK_DRAIN)
        waste(a, volumes.fluid, volumes.runoff * a->share, &a->use->to_drain);
    if (volumes.runoff_to.kind == DREGS_LINK_WASTE)
        waste(a, volumes.fluid, volumes.runoff * a->share, &a->use->dumped);
    a->use->dried += volumes.dried * a->share;
}

/* The tanks that are dumped by a number of loads, and how many loads apart. */
struct dumped {
    unsigned count;
    double every[DREGS_LINE_STAGES];
};

static struct dumped find_dumped(const dregs_line *line)
{
    struct dumped dumped = {0, {0}};
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        if (dregs_line_stage(line, i)->dump_every.row)
            dumped.every[dumped.count++] = dregs_line_stage(line, i)->dump_every.si;
    return dumped;
}

enum { DUMPED_MOST = 10 };
#define WHOLE_MOST 9007199254740992.0 /* 2^53: a double holds whole numbers up to here */

/* How often each set of tanks is dumped at once, times per load, and after which load: from the
 * common multiples of their numbers, by inclusion and exclusion. 0 where no double holds these. */
static int find_sets(const struct dumped *dumped, double *often, double *after)
{
    unsigned sets = 1u << dumped->count, set, i;

    for (set = 1, after[0] = 1; set < sets; set++) {
        for (i = 0; !(set >> i & 1); i++)
            ;
        after[set] = dregs_common_multiple(after[set & (set - 1)], dumped->every[i]);
        if (!(after[set] < WHOLE_MOST))
            return 0;
        often[set] = 1 / after[set];
    }
    /* what holds of all sets that contain one, less those that contain more */
    for (i = 0; i < dumped->count; i++)
        for (set = 1; set < sets; set++)
            if (!(set >> i & 1))
                often[set] -= often[set | 1u << i];
    return 1;
}

/* Is nothing else dumped whenever these are? */
static int stands_alone(const struct dumped *dumped, unsigned set, double after)
{
    unsigned i;

    for (i = 0; i < dumped->count; i++)
        if (!(set >> i & 1) && !(fmod(after, dumped->every[i]) > 0))
            return 0;
    return 1;
}

static void use_of_dump(struct account *a, uint64_t after, double often)
{
    struct dump_volumes volumes;
    unsigned i;

    dregs_balance_dump_volumes(a->line, after, &volumes);
    for (i = 0; i < dregs_line_tanks(a->line); i++) {
        const dregs_fluid *fluid = dregs_line_wet_with(a->line, dregs_line_tank(a->line, i)->stage);
        buy(a, fluid, volumes.fresh[i] * often, &a->use->refilled);
        waste(a, fluid, volumes.emptied[i] * often, &a->use->dumped);
    }
}

/* Dumps are let happen, without any solute: each set of tanks that are dumped at once one time,
 * and where there are too many sets all dumps of one period. */
static void use_of_dumps(struct account *a)
{
    double often[1u << DUMPED_MOST] = {0}, after[1u << DUMPED_MOST];
    uint64_t period = dregs_line_period(a->line), done = 0;
    struct dumped dumped = find_dumped(a->line);
    unsigned set;

    if (dumped.count <= DUMPED_MOST && find_sets(&dumped, often, after)) {
        for (set = 1; set < 1u << dumped.count; set++)
            if (stands_alone(&dumped, set, after[set]))
                use_of_dump(a, (uint64_t)after[set], often[set]);
        return;
    }
    while ((done = dregs_balance_dump_next(a->line, done)) <= period)
        use_of_dump(a, done, 1 / (double)period);
}

/* Loads of one kind with their intervals. */
static void use_of_loads(struct account *a)
{
    unsigned i, stages = dregs_line_stages(a->line);

    for (i = 0; i < dregs_line_tanks(a->line); i++)
        use_of_tank(a, i);
    for (i = 0; i < stages; i++)
        use_of_visit(a, i);
    a->use->dried += dregs_line_carried(a->line, stages - 1)->out * a->share;
}

/* How many loads of a cycle are of a kind, over all of it. */
static double share_of(const dregs_line *line, unsigned kind)
{
    unsigned cycle = dregs_line_cycle(line), count = 0, i;

    for (i = 1; i <= cycle; i++)
        count += dregs_line_kind_at(line, i) == kind;
    return (double)count / cycle;
}

void dregs_balance_use_of_size(const dregs_line *line, dregs_use *use, size_t size)
{
    dregs_use found = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0};
    struct account a = {line, &found, 1.0, 0.0, 0};
    unsigned k;

    for (k = 0; k < dregs_line_kinds(line); k++) {
        a.line = dregs_line_of_kind(line, k);
        a.share = share_of(line, k);
        use_of_loads(&a);
    }
    a.line = line;
    use_of_dumps(&a);
    found.cost = a.priced ? a.cost : NAN;
    dregs_give(use, size, &found, sizeof found);
}
