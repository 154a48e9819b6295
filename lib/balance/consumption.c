/* SPDX-License-Identifier: GPL-3.0-or-later */
/* consumption.c: what a load takes and gives in volumes of liquid, from the volume balance and the
 * dumps. */
#include "balance/map.h"
#include "base/grow.h"
#include "dregs/use.h"
#include "line/line.h"

#include <math.h>

struct account {
    const dregs_line *line;
    dregs_use *use;
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
    double interval = dregs_line_load(a->line)->interval.si;

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
        buy(a, volumes.fluid, volumes.sprayed, &a->use->sprayed);
    if (volumes.runoff_to.kind == DREGS_LINK_DRAIN)
        waste(a, volumes.fluid, volumes.runoff, &a->use->to_drain);
    if (volumes.runoff_to.kind == DREGS_LINK_WASTE)
        waste(a, volumes.fluid, volumes.runoff, &a->use->dumped);
    a->use->dried += volumes.dried;
}

/* Dumps are counted by letting them happen, without any solute, for one period. */
static void use_of_dumps(struct account *a)
{
    uint64_t period = dregs_line_period(a->line), done = 0;
    struct dump_volumes volumes;
    unsigned i;

    while ((done = dregs_balance_dump_next(a->line, done)) <= period) {
        dregs_balance_dump_volumes(a->line, done, &volumes);
        for (i = 0; i < dregs_line_tanks(a->line); i++) {
            const dregs_fluid *fluid =
                dregs_line_wet_with(a->line, dregs_line_tank(a->line, i)->stage);
            buy(a, fluid, volumes.fresh[i] / (double)period, &a->use->refilled);
            waste(a, fluid, volumes.emptied[i] / (double)period, &a->use->dumped);
        }
    }
}

void dregs_balance_use_of_size(const dregs_line *line, dregs_use *use, size_t size)
{
    dregs_use found = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0};
    struct account a = {line, &found, 0.0, 0};
    unsigned i, stages = dregs_line_stages(line);

    for (i = 0; i < dregs_line_tanks(line); i++)
        use_of_tank(&a, i);
    for (i = 0; i < stages; i++)
        use_of_visit(&a, i);
    found.dried += dregs_line_carried(line, stages - 1)->out;
    use_of_dumps(&a);
    found.cost = a.priced ? a.cost : NAN;
    dregs_give(use, size, &found, sizeof found);
}
