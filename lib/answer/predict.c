/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.c: from a line to all that dregs-predict says of it; every number comes from the map. */
#include "answer/predict.h"
#include "answer/inside.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/answer_predict.h"
#include "line/line.h"
#include "residue/residue.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Loads to list when none is asked for: until the residue is this near to where it tends. */
#define NEAR      1e-3
#define ALIKE     1e-9 /* relative: residues that count as the same one */
#define LAST_MOST ((uint64_t)1000000000)

enum { LIMITS_MOST = DREGS_LINE_SOLUTES + 1 };

/* The result as it is shown, with what it points to behind it. */
struct answer {
    dregs_predict_result shown; /* the first member: the user's pointer is ours */
    const dregs_line *line;
    dregs_map *map;
    dregs_state *state; /* before the load shown */
    uint64_t loads, every, *at;
    size_t at_count;
    dregs_bounds *bounds, *described;
    dregs_predict_verdict verdict[LIMITS_MOST];
    dregs_predict_kind kind[DREGS_LINE_LOADS];
    unsigned kinds; /* 0: all loads are alike */
    dregs_caution caution[DREGS_CAUTIONS_MOST];
    dregs_hangs_result *hangs;
    dregs_week *week;
    char no_week[DREGS_CALENDAR_MESSAGE];
};

void dregs_predict_request_init_of_size(dregs_predict_request *request, size_t size)
{
    dregs_predict_request made = {
        .size = size, .loads = DREGS_NO_END, .extent = DREGS_PREDICT_SHARES, .seed = 1};

    dregs_give(request, size, &made, sizeof made);
}

static uint64_t step_125(uint64_t load)
{
    uint64_t power = 1;

    while (power * 10 <= load)
        power *= 10;
    return load < 2 * power ? 2 * power : load < 5 * power ? 5 * power : 10 * power;
}

/* The total residue of a load; the state is moved on to it. */
static dregs_status total_of(dregs_state *state, uint64_t load, double *total)
{
    dregs_residue residue;
    dregs_status status = DREGS_OK;

    if (load > dregs_state_next(state))
        status = dregs_state_before(state, load);
    dregs_residue_next(state, &residue);
    *total = residue.total;
    return status;
}

/* The last load to list when no number was given: the first after a dump period, or the first of
 * 1, 2, 5, 10 ... that is near the steady state. */
static dregs_status choose_last(struct answer *answer)
{
    const dregs_predict_result *shown = &answer->shown;
    dregs_state *state = dregs_state_new(answer->map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    uint64_t period = dregs_line_period(answer->line), load = 1;
    double total = 0.0;

    while (!status && period == 1 && shown->settles && load < LAST_MOST) {
        double off;
        status = total_of(state, load, &total);
        off = total - shown->steady_residue.total;
        if ((off < 0 ? -off : off) <= NEAR * shown->steady_residue.total)
            break;
        load = step_125(load);
    }
    answer->shown.last = period > 1 ? period + 1 : shown->settles ? load : 100;
    dregs_state_free(state);
    return status;
}

/* The state before a load and what that load leaves. */
static dregs_status reach(const struct answer *answer, const dregs_worst *load, dregs_state **state,
                          dregs_residue *residue)
{
    dregs_status status = dregs_residue_before(answer->map, load, state);

    if (!status)
        dregs_residue_next(*state, residue);
    return status;
}

/* What the load that comes next leaves in its bores and holes, kg/m2 of all solutes. */
static double trapped_of(const struct answer *answer)
{
    const dregs_line *line = dregs_map_line(dregs_balance_state_next_map(answer->state));
    unsigned s, last = dregs_line_stages(answer->line) - 1;
    double sum = 0.0;

    if (!dregs_line_traps(answer->line))
        return NAN;
    for (s = 0; s < dregs_line_solutes(answer->line); s++)
        sum += dregs_state_trapped(answer->state, s, last);
    return sum * dregs_line_left_of_trapped(line);
}

/* The load that is shown stage by stage. */
static dregs_status find_shown(struct answer *answer, uint64_t load)
{
    dregs_predict_result *shown = &answer->shown;
    dregs_status status;

    shown->shown = shown->worst;
    status = reach(answer, &shown->worst, &answer->state, &shown->worst_residue);
    shown->shown_residue = shown->worst_residue;
    if (!status) {
        shown->trapped = trapped_of(answer);
        status = dregs_residue_rinsed(answer->state, &shown->rinsed);
    }
    if (!status && load) {
        dregs_state_free(answer->state);
        answer->state = NULL;
        shown->shown.load = load;
        shown->shown.in_the_long_run = 0;
        status = reach(answer, &shown->shown, &answer->state, &shown->shown_residue);
        shown->shown.residue = shown->shown_residue.total;
    }
    shown->at_shown = answer->state;
    return status;
}

/* The worst load of the period that repeats itself for ever. */
static dregs_status find_steady(struct answer *answer)
{
    dregs_predict_result *shown = &answer->shown;
    dregs_status status =
        dregs_residue_worst_steady(answer->map, DREGS_EVERY_SOLUTE, &shown->steady);

    if (!status)
        status = dregs_residue_at(answer->map, &shown->steady, &shown->steady_residue);
    shown->settles = !status;
    if (status)
        shown->steady = (dregs_worst){-1, 0, 1};
    else
        shown->steady.residue = shown->steady_residue.total;
    return status == DREGS_NO_STEADY ? DREGS_OK : status;
}

/* The share of such loads as the worst that meet a limit. Where nothing varies all are alike; where
 * it cannot be told, none is said to. */
static dregs_status judge_share(struct answer *answer, dregs_predict_verdict *verdict)
{
    const dregs_value *asked = &dregs_line_target(answer->line)->share_of_loads;
    struct residue_scatter scatter;
    dregs_status status =
        dregs_residue_scatter(answer->map, verdict->solute, &verdict->worst, &scatter);

    verdict->mean = verdict->sd = verdict->loads_meet = NAN;
    verdict->must_meet = asked->row ? asked->si : NAN;
    if (!status) {
        verdict->varying = scatter.values;
        verdict->mean = scatter.mean;
        verdict->sd = scatter.sd;
        verdict->loads_meet = dregs_residue_share_within(&scatter, verdict->limit.si);
    } else if (status == DREGS_UNKNOWN)
        verdict->loads_meet = verdict->met;
    if (asked->row)
        verdict->met = verdict->loads_meet >= asked->si; /* not where it is NaN */
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Is there a load before the first one beyond a limit? */
static int covered(const struct answer *answer)
{
    return !answer->shown.life || answer->shown.life->crossed > 1;
}

/* How concentrations stand to their bounds, and how many loads are then left to be judged. */
static dregs_status bound(struct answer *answer, uint64_t loads, uint64_t *judged)
{
    dregs_predict_result *shown = &answer->shown;
    dregs_status status = dregs_bounds_new(answer->map, loads, 1, &answer->bounds);

    if (!status)
        status = dregs_bounds_described(answer->map, NULL, loads, &answer->described);
    if (status)
        return status;
    shown->bounds = answer->bounds;
    shown->described = answer->described;
    shown->life = dregs_bounds_life(answer->bounds);
    *judged = shown->life && shown->life->crossed > 1 ? shown->life->crossed - 1 : loads;
    return DREGS_OK;
}

/* The targets of concentration, and the limits: beyond one nothing counts as met. */
static void judge_bounds(struct answer *answer)
{
    dregs_predict_result *shown = &answer->shown;
    unsigned i;

    for (i = 0; i < dregs_bounds_count(shown->bounds); i++) {
        const dregs_bound *one = dregs_bounds_at(shown->bounds, i);
        if (one->crossed || one->unknown)
            shown->met = 0;
    }
}

/* Does a schedule state more than a sequence? */
static int states_times(const dregs_schedule *s)
{
    return s->name && (!s->sequence_row || s->loads_per_shift.row || s->shifts_per_day.row ||
                       s->days_per_week.row || s->days_per_year.row || s->shift_length.row);
}

/* The line by its schedule, where that states a week. */
static dregs_status find_week(struct answer *answer, uint64_t loads, dregs_week_until until)
{
    dregs_predict_result *shown = &answer->shown;
    dregs_status status = dregs_week_new(answer->map, until, &answer->week);
    dregs_calendar calendar;

    shown->week = answer->week;
    if (status == DREGS_UNKNOWN) {
        if (states_times(dregs_line_schedule(answer->line)) &&
            dregs_calendar_of_week(answer->line, &calendar, answer->no_week))
            shown->no_week = answer->no_week;
        return DREGS_OK;
    }
    return status ? status
                  : dregs_week_worst(answer->week, DREGS_EVERY_SOLUTE, loads, &shown->in_week);
}

/* Nothing counts as met that is not met, and known to be, by night too. */
static dregs_status judge_week(struct answer *answer, uint64_t loads,
                               dregs_predict_verdict *verdict)
{
    const dregs_week_load *worst = &verdict->in_week.worst;
    dregs_status status = DREGS_OK;

    if (!answer->week)
        return DREGS_OK;
    verdict->in_week = answer->shown.in_week;
    if (verdict->solute >= 0)
        status = dregs_week_worst(answer->week, verdict->solute, loads, &verdict->in_week);
    if (status)
        return status;
    verdict->by_week = dregs_answer_by_week(&verdict->in_week, &verdict->worst);
    if (verdict->by_week) {
        verdict->share = worst->residue / verdict->limit.si;
        verdict->loads_meet = verdict->varying ? NAN : worst->residue <= verdict->limit.si;
        verdict->mean = verdict->sd = NAN; /* of another load */
    }
    if (!isnan(verdict->must_meet))
        verdict->met = verdict->met && verdict->loads_meet >= verdict->must_meet;
    verdict->met = verdict->met && verdict->in_week.known && worst->residue <= verdict->limit.si;
    return DREGS_OK;
}

int dregs_answer_by_week(const dregs_week_answer *in_week, const dregs_worst *worst)
{
    return in_week->worst.residue > worst->residue * (1 + ALIKE);
}

static dregs_status judge(struct answer *answer, uint64_t loads)
{
    const dregs_target *target = dregs_line_target(answer->line);
    int solute, solutes = (int)dregs_line_solutes(answer->line);
    dregs_status status = DREGS_OK;

    answer->shown.met = 1;
    for (solute = DREGS_EVERY_SOLUTE; target->name && solute < solutes && !status; solute++) {
        const dregs_value *limit = solute < 0 ? &target->residue : &target->of_solute[solute];
        dregs_predict_verdict *verdict = &answer->verdict[answer->shown.verdicts];
        if (!limit->row)
            continue;
        verdict->solute = solute;
        verdict->limit = *limit;
        verdict->worst = answer->shown.worst;
        if (solute >= 0)
            status = dregs_residue_worst(answer->map, solute, loads, &verdict->worst);
        verdict->share = verdict->worst.residue / limit->si;
        verdict->met = verdict->worst.residue <= limit->si;
        if (!status)
            status = judge_share(answer, verdict);
        if (!status)
            status = judge_week(answer, loads, verdict);
        verdict->met = verdict->met && covered(answer);
        answer->shown.met = answer->shown.met && verdict->met;
        answer->shown.verdicts++;
    }
    return status;
}

/* A limit, and the worst load of a kind by it. Where loads scatter a share of such loads must meet
 * it; nights and weekends are not told apart by kind, so that what is missed by them is met by
 * none.
 */
static dregs_status judge_kind(const struct answer *answer, const dregs_predict_verdict *verdict,
                               uint64_t loads, unsigned index, dregs_predict_kind *kind)
{
    dregs_worst worst = kind->worst;
    struct residue_scatter scatter;
    dregs_status status = DREGS_OK;
    double share;

    if (verdict->solute >= 0)
        status = dregs_residue_worst_of_kind(answer->map, index, verdict->solute, loads, &worst);
    if (status)
        return status;
    share = worst.residue / verdict->limit.si;
    if (!(kind->share >= share)) {
        kind->share = share;
        kind->solute = verdict->solute;
    }
    if (isnan(verdict->must_meet)) {
        kind->met = kind->met && share <= 1;
    } else {
        status = dregs_residue_scatter(answer->map, verdict->solute, &worst, &scatter);
        kind->met =
            kind->met && (status == DREGS_UNKNOWN ? share <= 1
                          : status                ? 0
                                   : dregs_residue_share_within(&scatter, verdict->limit.si) >=
                                         verdict->must_meet);
    }
    kind->met = kind->met && covered(answer) && (!answer->week || verdict->met);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* The worst load of each kind, where they come in a sequence. */
static dregs_status judge_kinds(struct answer *answer, uint64_t loads)
{
    unsigned kinds = dregs_line_kinds(answer->line), k, i;
    dregs_status status = DREGS_OK;

    for (k = 0; kinds > 1 && k < kinds && !status; k++) {
        dregs_predict_kind *kind = &answer->kind[answer->kinds++];
        kind->line = dregs_line_of_kind(answer->line, k);
        for (i = 1; i <= dregs_line_cycle(answer->line); i++)
            kind->loads += dregs_line_kind_at(answer->line, i) == k;
        kind->share = NAN;
        kind->solute = DREGS_EVERY_SOLUTE;
        status =
            dregs_residue_worst_of_kind(answer->map, k, DREGS_EVERY_SOLUTE, loads, &kind->worst);
        if (status || !kind->worst.load)
            continue;
        kind->met = 1;
        status = dregs_residue_at(answer->map, &kind->worst, &kind->residue);
        for (i = 0; i < answer->shown.verdicts && !status; i++)
            status = judge_kind(answer, &answer->verdict[i], loads, k, kind);
    }
    return status;
}

/* Of the limit that is nearest; without one of the sum. */
static dregs_status ask_hangs(struct answer *answer, const dregs_predict_request *request,
                              uint64_t loads)
{
    uint64_t seed = request->seed ? request->seed : UINT64_MAX; /* 0 would say: not asked for */
    const dregs_predict_verdict *nearest = NULL;
    dregs_status status;
    unsigned i;

    for (i = 0; i < answer->shown.verdicts; i++)
        if (!nearest || answer->verdict[i].share > nearest->share)
            nearest = &answer->verdict[i];
    status = dregs_hangs_answer(answer->line, nearest ? nearest->solute : DREGS_EVERY_SOLUTE,
                                nearest ? &nearest->worst : &answer->shown.worst, loads,
                                request->extent >= DREGS_PREDICT_SHARES ? seed : 0, request->draws,
                                request->threads, &answer->hangs);
    answer->shown.hangs = answer->hangs;
    return status;
}

static int in_range(uint64_t load)
{
    return load >= 1 && load <= DREGS_LOADS_MOST;
}

#define REFUSE(request, ...) dregs_refuse((request)->message, DREGS_PREDICT_MESSAGE, __VA_ARGS__)

static dregs_status refuse_load(const dregs_predict_request *request, const char *name,
                                uint64_t load)
{
    return REFUSE(request, "%s: %" PRIu64 " is no load, 1 to %" PRIu64, name, load,
                  DREGS_LOADS_MOST);
}

/* The loads that are listed: each one that there is, in their order, of those that are judged. */
static dregs_status check_list(const dregs_predict_request *request)
{
    char name[32];
    size_t i;

    for (i = 0; i < request->at_count; i++) {
        snprintf(name, sizeof name, "at[%zu]", i);
        if (!in_range(request->at[i]))
            return refuse_load(request, name, request->at[i]);
        if (i > 0 && request->at[i] <= request->at[i - 1])
            return REFUSE(request, "%s: %" PRIu64 " does not come behind %" PRIu64, name,
                          request->at[i], request->at[i - 1]);
        if (request->loads && request->at[i] > request->loads)
            return REFUSE(request, "%s: %" PRIu64 " is beyond loads, %" PRIu64, name,
                          request->at[i], request->loads);
    }
    return DREGS_OK;
}

static dregs_status check(const dregs_predict_request *request)
{
    if (request->message)
        *request->message = '\0';
    if (request->loads && !in_range(request->loads))
        return refuse_load(request, "loads", request->loads);
    if (request->every && !in_range(request->every))
        return refuse_load(request, "every", request->every);
    if (request->shown && !in_range(request->shown))
        return refuse_load(request, "shown", request->shown);
    if (request->every && request->at_count)
        return REFUSE(request, "every: the loads that are listed are named in at");
    if (request->loads && request->every > request->loads)
        return REFUSE(request, "every: %" PRIu64 " is beyond loads, %" PRIu64, request->every,
                      request->loads);
    if (request->draws > DREGS_DRAWS_MOST)
        return REFUSE(request, "draws: more than 2^50");
    if (request->threads > DREGS_THREADS_MOST)
        return REFUSE(request, "threads: more than %d", DREGS_THREADS_MOST);
    return check_list(request);
}

static dregs_status keep_list(struct answer *answer, const dregs_predict_request *request)
{
    answer->loads = request->loads;
    answer->every = request->every;
    if (!request->at_count)
        return DREGS_OK;
    answer->at = malloc(request->at_count * sizeof *answer->at);
    if (!answer->at)
        return DREGS_NO_MEMORY;
    memcpy(answer->at, request->at, request->at_count * sizeof *answer->at);
    answer->at_count = request->at_count;
    return DREGS_OK;
}

static dregs_status fill(struct answer *answer, const dregs_predict_request *request)
{
    dregs_predict_result *shown = &answer->shown;
    dregs_status status = keep_list(answer, request);
    uint64_t judged = request->loads;

    if (!status)
        status = dregs_map_new(answer->line, &answer->map);
    shown->map = answer->map;
    if (!status)
        status = find_steady(answer);
    if (!status)
        status = bound(answer, request->loads, &judged);
    if (!status)
        status = dregs_residue_worst(answer->map, DREGS_EVERY_SOLUTE, judged, &shown->worst);
    if (!status)
        status = find_shown(answer, request->shown);
    if (!status)
        status = find_week(answer, judged,
                           request->extent >= DREGS_PREDICT_HANGS ? DREGS_WEEK_SETTLED
                                                                  : DREGS_WEEK_WORST_KNOWN);
    if (!status)
        status = judge(answer, judged);
    if (!status)
        status = judge_kinds(answer, judged);
    if (!status)
        judge_bounds(answer);
    shown->less_mixed = NAN;
    if (!status && request->extent >= DREGS_PREDICT_HANGS)
        status = dregs_answer_less_mixed(answer->line, judged, &shown->less_mixed);
    if (!status && request->extent >= DREGS_PREDICT_HANGS)
        status = ask_hangs(answer, request, judged);
    if (!status && request->loads)
        shown->last = request->loads;
    else if (!status)
        status = choose_last(answer);
    if (status)
        return status;
    if (request->every > shown->last)
        shown->last = request->every;
    shown->by_week = answer->week && dregs_answer_by_week(&shown->in_week, &shown->worst);
    shown->most = shown->by_week ? shown->in_week.worst.residue : shown->worst.residue;
    shown->level = dregs_level_reached(shown->most);
    dregs_residue_floor(
        dregs_map_of_kind(answer->map, dregs_line_kind_at(answer->line, shown->worst.load)),
        &shown->floor);
    shown->caution = answer->caution;
    return dregs_cautions(answer->line, answer->caution, &shown->cautions);
}

dregs_status dregs_predict_answer(const dregs_line *line, const dregs_predict_request *request,
                                  dregs_predict_result **result)
{
    dregs_predict_request asked;
    struct answer *answer;
    dregs_status status;

    dregs_predict_request_init(&asked);
    status = dregs_take(&asked, sizeof asked, request) ? check(&asked) : DREGS_DOMAIN;
    if (status)
        return status;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->line = line;
    status = fill(answer, &asked);
    if (status)
        dregs_predict_result_free(&answer->shown);
    else
        *result = &answer->shown;
    return status;
}

void dregs_predict_result_free(dregs_predict_result *result)
{
    struct answer *answer = (struct answer *)result;

    if (!answer)
        return;
    dregs_hangs_result_free(answer->hangs);
    dregs_week_free(answer->week);
    dregs_state_free(answer->state);
    dregs_bounds_free(answer->bounds);
    dregs_bounds_free(answer->described);
    dregs_map_free(answer->map);
    free(answer->at);
    free(answer);
}

const dregs_predict_kind *dregs_predict_result_kind(const dregs_predict_result *result,
                                                    unsigned index)
{
    const struct answer *answer = (const struct answer *)result;

    return index < answer->kinds ? &answer->kind[index] : NULL;
}

const dregs_predict_verdict *dregs_predict_result_verdict(const dregs_predict_result *result,
                                                          unsigned index)
{
    return index < result->verdicts ? &((const struct answer *)result)->verdict[index] : NULL;
}

/* The load to list after `load` when no step is asked for: 1, 2, 5, 10 ..., the last one before
 * all is dumped and the first one after it, and the last of all. */
static uint64_t next_telling(const struct answer *answer, uint64_t load)
{
    uint64_t period = dregs_line_period(answer->line), next = load ? step_125(load) : 1;

    if (period > 1 && load < period && next > period)
        next = period;
    if (period > 1 && load == period)
        next = period + 1;
    return next < answer->shown.last ? next : answer->shown.last;
}

/* The load to list after `load`; 0 when there is none. */
static uint64_t next_load(const struct answer *answer, uint64_t load, size_t *place)
{
    if (answer->at_count)
        return *place < answer->at_count ? answer->at[(*place)++] : 0;
    if (load >= answer->shown.last)
        return 0;
    if (!answer->every)
        return next_telling(answer, load);
    return load + answer->every <= answer->shown.last ? load + answer->every : 0;
}

size_t dregs_answer_predict_listed(const dregs_predict_result *result, uint64_t *loads, size_t most)
{
    const struct answer *answer = (const struct answer *)result;
    size_t place = 0, count = 0;
    uint64_t load = 0;

    while ((load = next_load(answer, load, &place)) != 0 && count < most)
        loads[count++] = load;
    return load ? 0 : count;
}

uint64_t dregs_answer_predict_judged(const dregs_predict_result *result)
{
    return ((const struct answer *)result)->loads;
}

dregs_status dregs_predict_each(const dregs_predict_result *result, dregs_predict_take *take,
                                void *user)
{
    const struct answer *answer = (const struct answer *)result;
    dregs_state *state = dregs_state_new(answer->map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    size_t place = 0;
    uint64_t load = 0;

    while (!status && (load = next_load(answer, load, &place)) != 0) {
        dregs_residue residue;
        status = dregs_balance_state_reach(state, load);
        if (status)
            break;
        dregs_residue_next(state, &residue);
        take(user, load, state, &residue);
    }
    dregs_state_free(state);
    return status;
}

dregs_status dregs_predict_pass_of(const dregs_predict_result *result, unsigned solute,
                                   unsigned stage, dregs_predict_pass *pass)
{
    const struct answer *answer = (const struct answer *)result;
    const dregs_line *line = dregs_map_line(dregs_balance_state_next_map(answer->state));
    const dregs_carried *carried = dregs_line_carried(line, stage);
    dregs_predict_pass found = {0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0, 0};
    int tank;

    if (!carried || solute >= dregs_line_solutes(answer->line))
        return DREGS_DOMAIN;
    found.brought = stage ? dregs_state_film(answer->state, solute, stage - 1) : 0.0;
    found.taken = dregs_state_film(answer->state, solute, stage);
    found.trapped_brought = stage ? dregs_state_trapped(answer->state, solute, stage - 1) : 0.0;
    found.trapped_taken = dregs_state_trapped(answer->state, solute, stage);
    found.concentration = dregs_state_concentration(answer->state, solute, stage);
    tank = dregs_line_stage(answer->line, stage)->tank;
    if (tank >= 0) {
        double volume = dregs_line_tank(answer->line, (unsigned)tank)->volume;
        found.met = dregs_state_met(answer->state, solute, stage);
        double film = carried->in - carried->trapped_in;
        found.bypass_volume = carried->bypass - (1.0 - carried->opened) * carried->trapped_in;
        found.mixed_volume = carried->in - carried->bypass;
        found.fresh_volume = carried->out - carried->trapped - found.bypass_volume;
        found.bypassing = film > 0 ? found.bypass_volume / film * found.brought : 0.0;
        found.mixing = found.brought - found.bypassing + carried->opened * found.trapped_brought;
        found.concentration = (found.met + found.mixing) / (volume + found.mixed_volume);
    }
    *pass = found;
    return DREGS_OK;
}
