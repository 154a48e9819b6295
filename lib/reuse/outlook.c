/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* outlook.c: how many loads may still pass, and at which reading it is time to dump.
 *
 * The line is let run on from the last reading under the fitted unknowns until a load misses the
 * limit. The 95 % interval comes from the two lines at its ends: the unknowns moved from the best
 * ones, against and along the direction in which the residue grows, as far as they are uncertain.
 */
#include "line/line.h"
#include "reuse/run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MORE 0.01 /* a share, and mg/L: a little more of every solute */

/* The meter that would tell of a stage: its own, or one like the first. */
static struct channel meter_of(const dregs_reuse *reuse, unsigned stage, int *own)
{
    struct channel like = reuse->like;
    unsigned c;

    *own = 0;
    for (c = reuse->channels; c-- > 0;)
        if (reuse->channel[c].stage == stage && reuse->channel[c].what != DREGS_MEASURED_ON_PARTS) {
            like = reuse->channel[c];
            *own = 1;
        }
    like.stage = stage;
    return like;
}

/* kg/m3 of all solutes in a stage's tank. */
static double dissolved(const struct engine *engine, unsigned stage)
{
    unsigned tank = (unsigned)dregs_line_stage(engine->line, stage)->tank, s;
    double mass = 0;

    for (s = 0; s < dregs_line_solutes(engine->line); s++)
        mass += dregs_state_mass(engine->state, s, tank);
    return mass / dregs_line_tank(engine->line, tank)->volume;
}

/* What a meter reads in each stage, or would read; NaN where none could tell. */
static void read_all(dregs_reuse *reuse, const struct engine *engine, double *readings)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    unsigned i;
    int own;

    for (i = 0; i < dregs_line_stages(reuse->line); i++) {
        struct channel meter;
        dregs_dump_reading *at = &answer->at[i];
        readings[i] = NAN;
        if (dregs_line_stage(reuse->line, i)->tank < 0)
            continue;
        meter = meter_of(reuse, i, &own);
        if (!own && !isnan(meter.temperature) && dregs_line_stage(reuse->line, i)->temperature.row)
            meter.temperature = dregs_line_temperature(reuse->line, i);
        readings[i] = dregs_reuse_reading_now(engine, &meter, meter.temperature);
        at->dissolved = dissolved(engine, i);
        at->what = meter.what;
        at->which = meter.which;
        at->unit = (int)meter.unit;
        at->temperature = meter.temperature;
        at->own = own;
    }
}

/* The engine behind the last reading and `loads` more, after a dump of what has to be dumped. */
static dregs_status later(const struct run *run, uint64_t loads, struct engine *engine)
{
    const dregs_reuse_outlook *answer = &run->reuse->answer;
    dregs_status status = dregs_reuse_run_to_now(run, run->q, engine);

    if (!status && answer->dump_now && answer->stage >= 0)
        status = dregs_state_dump(engine->state, (unsigned)answer->stage);
    if (!status && loads > 0)
        status = dregs_state_before(engine->state, dregs_state_next(engine->state) + loads);
    return status;
}

/* The readings between those before the last load that meets the limit and the first that does
 * not, as far along as the residue is. When a dump is due now: after that dump. */
static dregs_status find_dump_readings(dregs_reuse *reuse, const struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    uint64_t loads = answer->dump_now ? answer->fill : answer->loads;
    double before[DREGS_LINE_STAGES], behind[DREGS_LINE_STAGES], share[2] = {0, 0};
    struct engine engine = {0};
    dregs_status status;
    unsigned i;
    int solute;

    if (loads == 0 || loads == DREGS_REUSE_LOADS_MOST || (answer->dump_now && answer->stage < 0))
        return DREGS_OK;
    status = later(run, loads - 1, &engine);
    if (!status) {
        read_all(reuse, &engine, before);
        share[0] = dregs_reuse_run_next(run, &engine, &solute);
        dregs_residue_next(engine.state, &answer->at_limit);
        dregs_state_step(engine.state);
        read_all(reuse, &engine, behind);
        share[1] = dregs_reuse_run_next(run, &engine, &solute);
        if (dregs_line_kinds(reuse->line) > 1) /* the load before may be of another kind */
            dregs_residue_next(engine.state, &answer->at_limit);
        answer->kind_at_limit = dregs_line_kind_at(reuse->line, dregs_state_next(engine.state));
        answer->reached = 1;
    }
    dregs_reuse_engine_clear(&engine);
    for (i = 0; i < dregs_line_stages(reuse->line) && !status; i++) {
        dregs_dump_reading *at = &answer->at[i];
        at->value = before[i] + (1 - share[0]) / (share[1] - share[0]) * (behind[i] - before[i]);
        if (answer->plan == loads) /* behind the last of them the limit is passed */
            at->planned = at->value;
        /* a tank that the log does not speak of is not dumped for the sake of the others */
        at->known = isfinite(at->value) &&
                    (reuse->by_hand[i] || dregs_stage_is(dregs_line_stage(reuse->line, i),
                                                         DREGS_STAGE_TANK | DREGS_STAGE_RINSES));
    }
    return status;
}

/* With a dump due now: the fewest loads of the fill behind it, at the lower end of what explains
 * the last change about as well. */
static dregs_status plan_next_fill(dregs_reuse *reuse, const struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    struct run each = *run;
    dregs_status status = DREGS_OK;
    unsigned k;

    answer->plan = answer->stage < 0 ? 0 : answer->fill;
    for (k = 0; k <= reuse->ahead.rival_count && answer->plan > 0 && !status; k++) {
        struct engine engine = {0};
        uint64_t loads;
        each.regime = k ? &reuse->ahead.rivals[k - 1] : &reuse->ahead;
        status = dregs_reuse_reach(&each, 0.975, 1, REACH_END, 0, each.q);
        if (!status)
            status = later(&each, 0, &engine);
        loads = status ? answer->plan : dregs_reuse_run_on(&each, &engine);
        answer->plan = loads < answer->plan ? loads : answer->plan;
        dregs_reuse_engine_clear(&engine);
    }
    return status;
}

/* What the meters should read behind the loads to plan on. Who dumps by the meter is then as sure
 * as who counts: at the reading of the best estimate every second fill would be beyond the limit.
 */
static dregs_status find_planned_readings(dregs_reuse *reuse, const struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    double planned[DREGS_LINE_STAGES];
    struct run best = *run;
    struct engine engine = {0};
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        answer->at[i].planned = NAN;
    answer->plan = answer->low < answer->loads ? answer->low : answer->loads;
    if (answer->cycled && answer->blind && answer->cycle_low < answer->plan)
        answer->plan = answer->cycle_low;
    if (answer->dump_now)
        status = plan_next_fill(reuse, run);
    if (status || answer->plan == 0 || answer->plan == DREGS_REUSE_LOADS_MOST)
        return status;
    best.regime = &reuse->ahead;
    memcpy(best.q, best.regime->after.mean, sizeof best.q);
    status = later(&best, answer->plan, &engine);
    if (!status)
        read_all(reuse, &engine, planned);
    dregs_reuse_engine_clear(&engine);
    for (i = 0; i < dregs_line_stages(reuse->line) && !status; i++)
        answer->at[i].planned = planned[i];
    return status;
}

/* Dumps one stage, or with -1 all that the log speaks of, `loads` from now, and looks what the next
 * load leaves and how long that lasts. */
static dregs_status after_dump(const struct run *run, uint64_t loads, int stage, double *share,
                               dregs_residue *residue, uint64_t *fill)
{
    const dregs_reuse *reuse = run->reuse;
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, run->q, &engine);
    unsigned i;
    int solute;

    if (!status && loads > 0)
        status = dregs_state_before(engine.state, dregs_state_next(engine.state) + loads);
    for (i = 0; i < dregs_line_stages(reuse->line) && !status; i++)
        if (stage < 0 ? reuse->by_hand[i] : (int)i == stage)
            status = dregs_state_dump(engine.state, i);
    if (!status) {
        *share = dregs_reuse_run_next(run, &engine, &solute);
        dregs_residue_next(engine.state, residue);
        *fill = dregs_reuse_run_on(run, &engine);
    }
    dregs_reuse_engine_clear(&engine);
    return status;
}

/* Which tank to dump: of those that the log speaks of the one that helps the next load most. */
static dregs_status choose_stage(dregs_reuse *reuse, const struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    uint64_t loads = answer->loads == DREGS_REUSE_LOADS_MOST ? 0 : answer->loads, fill = 0;
    dregs_status status = DREGS_OK;
    double best = HUGE_VAL, share = 0;
    dregs_residue residue;
    unsigned i;

    answer->stage = -1;
    for (i = 0; i < dregs_line_stages(reuse->line) && !status; i++) {
        if (!reuse->by_hand[i])
            continue;
        answer->dumped++;
        status = after_dump(run, loads, (int)i, &share, &residue, &fill);
        if (status || share >= best)
            continue;
        best = share;
        answer->stage = dregs_reuse_run_meets(share) ? (int)i : -1;
        answer->after_dump = dregs_residue_of(&residue, answer->solute);
        answer->fill = fill;
    }
    if (!status)
        status = after_dump(run, loads, -1, &share, &residue, &answer->fill_all);
    return status;
}

int64_t dregs_reuse_last_fill(const dregs_reuse *reuse, unsigned stage)
{
    int64_t fill = 0;
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->stage == stage && reading->fill > fill)
            fill = reading->fill;
    }
    return fill;
}

/* In which direction a meter goes in a dirtier tank: that of the reading at which to dump, where
 * there is one, else that of what it shows of more solute; 0: it does not tell. */
static double dirtier(const dregs_reuse *reuse, const dregs_reading *reading)
{
    const dregs_dump_reading *at = &reuse->answer.at[reading->stage];
    double held[DREGS_LINE_SOLUTES] = {0}, low, high;
    unsigned s;

    if (at->known && at->what == reading->what && at->which == reading->which &&
        fabs(at->value - at->now) > 0)
        return at->value - at->now;
    if (reading->what == DREGS_MEASURED_ON_PARTS)
        return 1;
    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        held[s] = dregs_line_wet_with(reuse->line, reading->stage)->content[s].si;
    if (dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                          reading->temperature, held, &low, NULL))
        return 0;
    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        held[s] = held[s] * (1 + MORE) + MORE * 1e-3;
    if (dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                          reading->temperature, held, &high, NULL))
        return 0;
    return high - low;
}

/* Is a reading lower than that of the liquid that the tank was filled with? That is a probe in air,
 * or fresh liquid better than stated, and no cleaner tank. */
static int is_below_fresh(dregs_reuse *reuse, const dregs_reading *reading)
{
    double fresh, pure;

    if (reading->what == DREGS_MEASURED_ON_PARTS || reading->what == DREGS_MEASURED_SCALE)
        return 0;
    dregs_reuse_fresh_shows(reuse, reading, &fresh, &pure);
    if (!(reading->value < fresh))
        return 0;
    reuse->answer.below_fresh = 1;
    reuse->answer.fresh_shows = fresh;
    return 1;
}

/* A last reading that stands alone on the dirty side may be the first of a change: one does not
 * tell, and to go on would be to bet on it. */
static void tell_again(dregs_reuse *reuse)
{
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reuse->heard[i].heard != DREGS_HEARD_ALONE ||
            reading->at < dregs_reuse_last_fill(reuse, reading->stage))
            continue;
        if ((reading->value - reuse->heard[i].expected) * dirtier(reuse, reading) > 0 ||
            is_below_fresh(reuse, reading))
            reuse->answer.again = 1;
    }
}

/* The best estimate of the next load, and what the meters should read now. */
static dregs_status fill_now(dregs_reuse *reuse, const struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    double now[DREGS_LINE_STAGES];
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, run->q, &engine);
    unsigned i;

    if (!status) {
        dregs_residue_next(engine.state, &answer->residue);
        (void)dregs_reuse_run_share(reuse, &answer->residue, &answer->solute);
        answer->next = answer->next_sure = dregs_residue_of(&answer->residue, answer->solute);
        answer->limit = dregs_reuse_run_limit(reuse, answer->solute);
        read_all(reuse, &engine, now);
        for (i = 0; i < dregs_line_stages(reuse->line); i++)
            answer->at[i].now = now[i];
        answer->loads = dregs_reuse_run_on(run, &engine);
        answer->ends =
            answer->loads < DREGS_REUSE_LOADS_MOST ? dregs_reuse_run_ended_by(run, &engine) : NULL;
        answer->dump_now = answer->loads == 0;
        answer->next_load = dregs_state_next(engine.state) - answer->loads;
    }
    dregs_reuse_engine_clear(&engine);
    return status;
}

/* Which kinds the next load and the first too many are of. */
static void tell_kinds(dregs_reuse *reuse)
{
    dregs_reuse_outlook *answer = &reuse->answer;

    answer->kind = dregs_line_kind_at(reuse->line, answer->next_load);
    answer->kind_ends =
        answer->loads == DREGS_REUSE_LOADS_MOST
            ? -1
            : (int)dregs_line_kind_at(reuse->line, answer->next_load + answer->loads);
}

/* Takes an end farther out, where the unknowns that the next load asks for lead there. */
static dregs_status farther(const struct run *run, const double *of_next, int side, uint64_t *loads,
                            double *next, double *q)
{
    uint64_t also = 0;
    dregs_status status =
        dregs_reuse_run_loads(run, of_next, &also, next, run->reuse->answer.solute);

    if (!status && (side > 0 ? also < *loads : also > *loads)) {
        *loads = also;
        memcpy(q, of_next, Q_MOST * sizeof *q);
    }
    return status;
}

/* An end of the interval, of one explanation: the loads at the quantile `share`, with the unknowns
 * `q` of that, and what the next load leaves. The residue is sought for itself: the limit that is
 * nearest may be one of a tank, which grows with other unknowns. */
static dregs_status end_of(const struct run *run, double share, int side, uint64_t *loads,
                           double *next, double *q)
{
    const dregs_reuse_outlook *answer = &run->reuse->answer;
    double of_next[Q_MOST], unused;
    dregs_status status = dregs_reuse_reach(run, share, side, REACH_END, answer->loads, q);

    if (!status)
        status = dregs_reuse_run_loads(run, q, loads, &unused, answer->solute);
    if (!status)
        status = dregs_reuse_reach(run, share, side, REACH_RESIDUE, 0, of_next);
    if (!status)
        status = farther(run, of_next, side, loads, next, q);
    if (status || dregs_bounds_count(run->bounds) == 0)
        return status;
    status = dregs_reuse_reach(run, share, side, REACH_NEXT, 0, of_next);
    return status ? status : farther(run, of_next, side, loads, &unused, q);
}

/* Widens the interval, which is that of the explanations before, by one of the last change. */
static dregs_status widen(dregs_reuse *reuse, const struct run *run, int first)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    double q[Q_MOST], most = 0, least = 0;
    uint64_t low = 0, high = 0;
    dregs_status status = end_of(run, 0.975, 1, &low, &most, q);

    if (!status)
        status = end_of(run, 0.975, -1, &high, &least, q);
    if (status)
        return status;
    answer->low = first || low < answer->low ? low : answer->low;
    answer->high = first || high > answer->high ? high : answer->high;
    answer->next_high = first ? most : fmax(answer->next_high, most);
    answer->next_low = first ? least : fmin(answer->next_low, least);
    return DREGS_OK;
}

/* The interval, over what explains the last change about as well, and, where the target states a
 * confidence, the unknowns to go by from here on: of the explanation that allows the fewest loads.
 */
static dregs_status fill_interval(dregs_reuse *reuse, struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    const struct regime *last = run->regime;
    struct run each = *run;
    uint64_t loads = 0, fewest = UINT64_MAX;
    dregs_status status = DREGS_OK;
    double sure = 0;
    unsigned k;

    for (k = 0; k <= last->rival_count && !status; k++) {
        each.regime = k ? &last->rivals[k - 1] : last;
        status = widen(reuse, &each, k == 0);
        if (status || isnan(answer->confidence))
            continue;
        status = end_of(&each, answer->confidence, 1, &loads, &sure, each.q);
        answer->next_sure = k ? fmax(answer->next_sure, sure) : sure;
        if (status || loads >= fewest)
            continue;
        fewest = loads;
        *run = each;
    }
    if (!status && !isnan(answer->confidence)) {
        answer->loads = fewest;
        answer->dump_now = fewest == 0;
    }
    return status;
}

/* kg/m3 of the soil of the parts that the first stage holds. */
static double soil_of_bath(const struct engine *engine)
{
    int tank = dregs_line_stage(engine->line, 0)->tank;
    double mass = 0;
    unsigned s;

    if (tank < 0 || dregs_line_stage(engine->line, 0)->dump_every.row)
        return NAN;
    for (s = 0; s < dregs_line_solutes(engine->line); s++)
        if (dregs_line_arrives(engine->line, s))
            mass += dregs_state_mass(engine->state, s, (unsigned)tank);
    return mass / dregs_line_tank(engine->line, (unsigned)tank)->volume;
}

/* From a fresh fill of all tanks that are dumped by hand on: the loads of the shortest of many
 * fills, each dumped when the next load would miss, and what the bath holds at the end of it. */
static dregs_status shortest_fill(const struct run *run, const double *q, uint64_t *shortest,
                                  double *bath)
{
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, q, &engine);
    uint64_t loads = 0;
    unsigned i, fill;

    *shortest = DREGS_REUSE_LOADS_MOST;
    *bath = NAN;
    for (fill = 0; fill < DREGS_REUSE_FILLS && !status; fill++) {
        for (i = 0; i < dregs_line_stages(run->reuse->line) && !status; i++)
            if (dregs_reuse_cycled(run->reuse, i))
                status = dregs_state_dump(engine.state, i);
        if (status)
            break;
        loads = dregs_reuse_run_on(run, &engine);
        if (loads < *shortest || fill == 0) {
            *shortest = loads;
            *bath = soil_of_bath(&engine);
        }
        if (loads == 0 || loads == DREGS_REUSE_LOADS_MOST)
            break;
    }
    dregs_reuse_engine_clear(&engine);
    return status;
}

/* The count of loads to dump at where no reading tells when. */
static dregs_status fill_cycle(dregs_reuse *reuse, struct run *run)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    double q[Q_MOST], unused;
    dregs_status status = shortest_fill(run, run->q, &answer->cycle, &answer->bath);

    if (!status)
        status = dregs_reuse_reach(run, 0.975, 1, REACH_END, answer->loads, q);
    if (!status)
        status = shortest_fill(run, q, &answer->cycle_low, &answer->bath);
    if (!status)
        status = dregs_reuse_reach(run, 0.975, -1, REACH_END, answer->loads, q);
    if (!status)
        status = shortest_fill(run, q, &answer->cycle_high, &unused);
    answer->cycled = !status;
    return status;
}

dregs_status dregs_reuse_answer_fill(dregs_reuse *reuse)
{
    const dregs_target *target = dregs_line_target(reuse->line);
    dregs_reuse_outlook *answer = &reuse->answer;
    struct run run = {reuse, &reuse->ahead, {0}, NULL, NULL};
    dregs_status status;

    if (isnan(reuse->request.limit) && !target->name)
        return dregs_fault_add(reuse->faults, DREGS_BAD_DATA, 0,
                               "no limit to judge by: %.100s states no target",
                               dregs_line_name(reuse->line));
    if (target->name && target->confidence.row && !(target->confidence.si < 1))
        return dregs_fault_add(
            reuse->faults, DREGS_BAD_DATA, 0,
            "a confidence of 100 %% of the target in %.100s cannot be met by any "
            "count of loads; state less",
            dregs_line_name(reuse->line));
    answer->confidence = target->name && target->confidence.row && target->confidence.si > 0 &&
                                 target->confidence.si < 1
                             ? target->confidence.si
                             : NAN;
    status = dregs_bounds_stated(reuse->line, &reuse->bounds);
    if (status)
        return status;
    run.bounds = reuse->bounds;
    run.scratch = malloc((reuse->count + 1) * sizeof *run.scratch);
    if (!run.scratch)
        return DREGS_NO_MEMORY;
    memcpy(run.q, run.regime->after.mean, sizeof run.q);
    status = fill_now(reuse, &run);
    if (!status)
        status = fill_interval(reuse, &run);
    tell_kinds(reuse);
    if (!status)
        status = choose_stage(reuse, &run);
    if (!status && (answer->blind || (answer->low == 0 && !answer->dump_now)))
        status = fill_cycle(reuse, &run);
    if (!status)
        status = find_planned_readings(reuse, &run);
    if (!status)
        status = find_dump_readings(reuse, &run);
    answer->after = reuse->request.since;
    if (!status && answer->stage >= 0 && reuse->count > 0)
        answer->since =
            answer->after + (uint64_t)(dregs_readings_at(reuse->readings, reuse->count - 1)->at -
                                       dregs_reuse_last_fill(reuse, (unsigned)answer->stage));
    if (!status)
        tell_again(reuse);
    if (!status)
        dregs_reuse_tell_bounds(reuse);
    free(run.scratch);
    return status;
}
