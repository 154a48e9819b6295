/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answer.c: from a line to all that dregs-predict says of it; every number comes from the map. */
#include "predict.h"

#include <stdlib.h>
#include <string.h>

/* Loads to print when none is asked for: until the residue is this near to where it tends. */
#define NEAR      1e-3
#define LAST_MOST ((uint64_t)1000000000)

const char *solute_name(const dregs_line *line, int solute)
{
    return solute < 0 ? "total" : dregs_line_solute(line, (unsigned)solute)->name;
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

/* The last load to print when no number was given: the first after a dump period, or the first of
 * 1, 2, 5, 10 ... that is near the steady state. */
static dregs_status choose_last(struct answer *answer)
{
    dregs_state *state = dregs_state_new(answer->map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    uint64_t period = dregs_line_period(answer->line), load = 1;
    double total = 0.0;

    while (!status && period == 1 && answer->settles && load < LAST_MOST) {
        double off;
        status = total_of(state, load, &total);
        off = total - answer->steady_residue.total;
        if ((off < 0 ? -off : off) <= NEAR * answer->steady_residue.total)
            break;
        load = step_125(load);
    }
    answer->last = period > 1 ? period + 1 : answer->settles ? load : 100;
    dregs_state_free(state);
    return status;
}

/* The state before a load and what that load leaves. */
static dregs_status reach(const struct answer *answer, const dregs_worst *load, dregs_state **state,
                          dregs_residue *residue)
{
    dregs_status status = DREGS_OK;

    *state = dregs_state_new(answer->map);
    if (!*state)
        return DREGS_NO_MEMORY;
    if (load->in_the_long_run)
        status = dregs_state_periodic(*state);
    if (!status && load->load > 1)
        status = dregs_state_before(*state, load->load);
    if (!status)
        dregs_residue_next(*state, residue);
    return status;
}

/* The load that is shown stage by stage. */
static dregs_status find_shown(struct answer *answer)
{
    dregs_status status;

    answer->shown = answer->worst;
    status = reach(answer, &answer->shown, &answer->at_shown, &answer->shown_residue);
    answer->worst_residue = answer->shown_residue;
    if (status || !answer->request->explain || !answer->request->at_count)
        return status;
    dregs_state_free(answer->at_shown);
    answer->shown.load = answer->request->at[0];
    answer->shown.in_the_long_run = 0;
    status = reach(answer, &answer->shown, &answer->at_shown, &answer->shown_residue);
    answer->shown.residue = answer->shown_residue.total;
    return status;
}

/* The worst load of the period that repeats itself for ever. */
static dregs_status find_steady(struct answer *answer)
{
    dregs_state *state = dregs_state_new(answer->map);
    uint64_t period = dregs_line_period(answer->line), load;
    dregs_status status = state ? dregs_state_periodic(state) : DREGS_NO_MEMORY;
    dregs_residue residue;

    answer->steady.residue = -1;
    answer->steady.in_the_long_run = 1;
    for (load = 1; load <= period && !status; load++) {
        dregs_residue_next(state, &residue);
        if (residue.total > answer->steady.residue) {
            answer->steady.residue = residue.total;
            answer->steady.load = load;
            answer->steady_residue = residue;
        }
        if (load < period)
            dregs_state_step(state);
    }
    dregs_state_free(state);
    answer->settles = !status;
    return status == DREGS_NO_STEADY ? DREGS_OK : status;
}

static dregs_status judge(struct answer *answer)
{
    const dregs_target *target = dregs_line_target(answer->line);
    int solute, solutes = (int)dregs_line_solutes(answer->line);
    dregs_status status = DREGS_OK;

    answer->met = 1;
    for (solute = DREGS_EVERY_SOLUTE; target->name && solute < solutes && !status; solute++) {
        const dregs_value *limit = solute < 0 ? &target->residue : &target->of_solute[solute];
        struct verdict *verdict = &answer->verdict[answer->verdicts];
        if (!limit->row)
            continue;
        verdict->solute = solute;
        verdict->limit = *limit;
        verdict->worst = answer->worst;
        if (solute >= 0)
            status =
                dregs_residue_worst(answer->map, solute, answer->request->loads, &verdict->worst);
        answer->met = answer->met && verdict->worst.residue <= limit->si;
        answer->verdicts++;
    }
    return status;
}

int answer_fill(struct answer *answer, const struct request *request, const dregs_line *line)
{
    dregs_status status;

    answer->request = request;
    answer->line = line;
    status = dregs_map_new(line, &answer->map);
    if (!status)
        status = find_steady(answer);
    if (!status)
        status =
            dregs_residue_worst(answer->map, DREGS_EVERY_SOLUTE, request->loads, &answer->worst);
    if (!status)
        status = find_shown(answer);
    if (!status)
        status = judge(answer);
    if (!status && request->loads)
        answer->last = request->loads;
    else if (!status)
        status = choose_last(answer);
    if (status)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s",
                         request->file, dregs_status_text(status));
    if (request->every > answer->last)
        answer->last = request->every;
    dregs_residue_floor(answer->map, &answer->floor);
    answer->caution_count = dregs_cautions(line, answer->cautions);
    return FRONT_DONE;
}

void answer_clear(struct answer *answer)
{
    dregs_state_free(answer->at_shown);
    dregs_map_free(answer->map);
}

/* The load to print after `load` when no step is asked for: 1, 2, 5, 10 ..., the last one before
 * all is dumped and the first one after it, and the last of all. */
static uint64_t next_telling(const struct answer *answer, uint64_t load)
{
    uint64_t period = dregs_line_period(answer->line), next = load ? step_125(load) : 1;

    if (period > 1 && load < period && next > period)
        next = period;
    if (period > 1 && load == period)
        next = period + 1;
    return next < answer->last ? next : answer->last;
}

/* The load to print after `load`; 0 when there is none. */
static uint64_t next_load(const struct answer *answer, uint64_t load, size_t *place)
{
    const struct request *request = answer->request;

    if (request->at_count)
        return *place < request->at_count ? request->at[(*place)++] : 0;
    if (load >= answer->last)
        return 0;
    if (!request->every)
        return next_telling(answer, load);
    return load + request->every <= answer->last ? load + request->every : 0;
}

int answer_each(const struct answer *answer, answer_print *print, void *user)
{
    enum { NEARBY = 64 }; /* loads that are stepped through rather than leapt over */
    dregs_state *state = dregs_state_new(answer->map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    size_t place = 0;
    uint64_t load = 0;

    while (!status && (load = next_load(answer, load, &place)) != 0) {
        if (load - dregs_state_next(state) > NEARBY)
            status = dregs_state_before(state, load);
        while (!status && dregs_state_next(state) < load)
            dregs_state_step(state);
        if (!status)
            print(answer, load, state, user);
    }
    dregs_state_free(state);
    return status ? front_say(FRONT_IO, "%s", dregs_status_text(status)) : FRONT_DONE;
}
