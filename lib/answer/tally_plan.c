/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_plan.c: the year of a line as solvent plans, Directive 2010/75/EU, annex VII part 7. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

/* Adds a solvent's streams of the year to a plan. */
static void add_to_plan(const dregs_tally_law *law, dregs_law_plan *plan, unsigned solvent)
{
    const dregs_tally *t = law->year;
    double air = dregs_answer_tally_way_mass(t, TALLY_TO_AIR, solvent, DREGS_WHOLE);
    double from_dumps =
        dregs_answer_tally_back_mass(t, solvent, DREGS_WHOLE, DREGS_STREAM_DUMPED, DREGS_WHOLE);
    double from_drain =
        dregs_answer_tally_back_mass(t, solvent, DREGS_WHOLE, DREGS_STREAM_DRAINED, DREGS_WHOLE);
    double drain =
        dregs_answer_tally_way_mass(t, TALLY_TO_DRAIN, solvent, DREGS_WHOLE) - from_drain;
    double waste =
        dregs_answer_tally_way_mass(t, TALLY_TO_WASTE, solvent, DREGS_WHOLE) - from_dumps;
    double captured = air * dregs_answer_tally_share_or(law->site->captured, 0);
    double destroyed = captured * dregs_answer_tally_share_or(law->site->destroyed, 0);
    double in = dregs_answer_tally_used_up(t, solvent, DREGS_WHOLE) - from_dumps - from_drain;

    plan->i1 += dregs_answer_tally_beyond_rounding(in, fabs(in) + air + drain);
    plan->i2 += from_dumps + from_drain;
    plan->o1 += captured - destroyed;
    plan->o5 += destroyed;
    plan->o4 += air - captured;
    drain = dregs_answer_tally_beyond_rounding(drain, drain + from_drain);
    waste = dregs_answer_tally_beyond_rounding(waste, waste + from_dumps);
    if (law->site->drain == DREGS_SITE_COLLECTED)
        plan->o6 += drain;
    else
        plan->o2 += drain;
    plan->o6 += waste;
}

/* What may have evaporated, of what is counted as liquid: from waste it is more that is fugitive,
 * from water less, as far as it is captured. */
static void add_loose(const dregs_tally_law *law, dregs_tally_plan *plan,
                      const dregs_tally_solvent_law *s)
{
    struct tally_loose loose = dregs_answer_tally_loose_of(law->year, s);
    double captured = dregs_answer_tally_share_or(law->site->captured, 0);

    if (law->site->drain == DREGS_SITE_COLLECTED) {
        loose.waste += loose.drain;
        loose.drain = 0;
    }
    plan->fugitive_more += loose.waste * (1 - captured);
    plan->fugitive_less += loose.drain * captured;
}

static dregs_law_verdict judge_plan(const dregs_tally_plan *plan, const dregs_law_band *band)
{
    double share = plan->result.share, input = plan->result.input;

    if (isnan(band->fugitive))
        return plan->least ? DREGS_LAW_ASK : DREGS_LAW_EXCLUDED;
    if (share <= band->fugitive)
        return plan->least || share + plan->fugitive_more / input > band->fugitive ? DREGS_LAW_ASK
                                                                                   : DREGS_LAW_YES;
    return plan->bound || share - plan->fugitive_less / input <= band->fugitive ? DREGS_LAW_ASK
                                                                                : DREGS_LAW_NO;
}

/* Organic solvent in all liquids that are used and hold one of the plan, by mass. Water that rinses
 * is no cleaning material here: it would make the content less. */
static double organic_content(const dregs_tally_law *law, const dregs_tally_plan *plan)
{
    double all = 0, organic = 0;
    unsigned f, i;

    for (f = 0; f < dregs_line_fluids(law->line); f++) {
        const dregs_fluid *fluid = dregs_line_fluid(law->line, f);
        double kg = dregs_tally_density(law->year, f) *
                    (dregs_tally_bought(law->year, f, DREGS_WHOLE, DREGS_WHOLE) +
                     dregs_tally_reclaimed(law->year, f, DREGS_WHOLE, DREGS_WHOLE));
        for (i = 0; i < law->solvents; i++)
            if (law->solvent[i].plan == (int)plan->number &&
                strcmp(law->solvent[i].name, fluid->solvent) == 0) {
                all += kg;
                organic += kg * fluid->solvent_share.si;
            }
    }
    return organic / all;
}

/* What would decide a plan's limit. Of several activities only one that fits is asked about. */
static void ask_plan(dregs_tally_law *law, const dregs_tally_plan *plan)
{
    unsigned k, open = 0;

    for (k = 0; k < 2; k++)
        open += plan->met[k] == DREGS_LAW_ASK && (!plan->activity_known || plan->activity == k);
    if (open && isnan(law->site->captured))
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, "captured",
                               "share of the vapour that is captured and led out (O1, O5). Until "
                               "then all of it counts as fugitive");
    if (open && law->site->drain == DREGS_SITE_DRAIN_UNKNOWN && plan->plan.o2 > 0)
        dregs_answer_tally_ask_drain(law, TALLY_OPENS_LIMITS);
    if (!plan->activity_known && (plan->met[0] != plan->met[1] || open))
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "activity",
            "hazard statements of the solvents of the plan: of article 59(5) (H340, H350, H350i, "
            "H360D, H360F, or halogenated with H341 or H351), or other. Until then both activities "
            "are looked at");
}

dregs_status dregs_answer_tally_plan_work(const dregs_tally_law *law, dregs_tally_plan *plan)
{
    dregs_status status;
    unsigned k;

    plan->bound = isnan(law->site->captured) ||
                  (law->site->drain == DREGS_SITE_DRAIN_UNKNOWN && plan->plan.o2 > 0);
    status = dregs_law_plan_work(&plan->plan, &plan->result);
    if (status)
        return status;
    (void)dregs_law_plan_total(&plan->plan, &plan->total);
    plan->content = organic_content(law, plan);
    plan->waived = dregs_law_waived(plan->content) == 1;
    for (k = 0; k < 2; k++) {
        (void)dregs_law_band_of((dregs_law_activity)k, fmax(plan->result.consumption, 0),
                                &plan->band[k]);
        plan->met[k] = judge_plan(plan, &plan->band[k]);
    }
    if (plan->waived)
        plan->met[DREGS_LAW_CLEANING_OTHER] = DREGS_LAW_EXCLUDED;
    return DREGS_OK;
}

static void work_plan(dregs_tally_law *law, dregs_tally_plan *plan)
{
    if (dregs_answer_tally_plan_work(law, plan))
        law->plan_used[plan->number] = 0;
    else
        ask_plan(law, plan);
}

void dregs_answer_tally_law_plans(dregs_tally_law *law)
{
    unsigned i;

    for (i = 0; i < law->solvents; i++) {
        dregs_tally_solvent_law *s = &law->solvent[i];
        if (s->eu_voc != 1)
            continue;
        s->plan = s->article || law->site->activity == DREGS_SITE_ARTICLE_59_5 ? 0 : 1;
        law->plan_used[s->plan] = 1;
        law->plan[s->plan].least |= s->least;
        add_to_plan(law, &law->plan[s->plan].plan, s->index);
        add_loose(law, &law->plan[s->plan], s);
    }
    law->plan[1].number = 1;
    law->plan[0].activity = DREGS_LAW_CLEANING_59_5;
    law->plan[0].activity_known = 1;
    law->plan[1].activity = DREGS_LAW_CLEANING_OTHER;
    law->plan[1].activity_known = law->site->activity == DREGS_SITE_OTHER_CLEANING;
    for (i = 0; i < 2; i++)
        if (law->plan_used[i])
            work_plan(law, &law->plan[i]);
}

void dregs_answer_tally_law_mass_flows(dregs_tally_law *law)
{
    double seconds = dregs_tally_seconds(law->around, DREGS_WHOLE), rate;
    unsigned i;

    for (i = 0; i < law->solvents; i++) {
        const dregs_tally_solvent_law *s = &law->solvent[i];
        struct tally_loose loose = dregs_answer_tally_loose_of(law->around, s);
        dregs_law_hazard hazard = dregs_regulations_find(law->regulations, s->name, "art. 58")
                                      ? DREGS_LAW_CMR
                                      : DREGS_LAW_HALOGENATED_CMR2;
        if (!s->article)
            continue;
        law->flow_used[hazard] = 1;
        rate =
            dregs_answer_tally_way_mass(law->around, TALLY_TO_AIR, s->index, DREGS_WHOLE) / seconds;
        law->flow[hazard].rate += rate;
        law->flow[hazard].most +=
            s->least ? INFINITY : rate + (loose.drain + loose.waste) / seconds;
    }
    for (i = 0; i <= DREGS_LAW_HALOGENATED_CMR2; i++) {
        dregs_tally_mass_flow *flow = &law->flow[i];
        (void)dregs_law_mass_flow_of((dregs_law_hazard)i, &flow->limit);
        flow->reached = isnan(flow->rate)                ? DREGS_LAW_ASK
                        : flow->rate >= flow->limit.from ? DREGS_LAW_YES
                        : flow->most >= flow->limit.from ? DREGS_LAW_ASK
                                                         : DREGS_LAW_NO;
    }
}
