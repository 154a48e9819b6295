/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: how a line stands to its target, one evaluation of a search, and the search. */
#include "size/size.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/edit.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "dregs/week.h"
#include "line/line.h"
#include "residue/residue.h"
#include "size/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ALIKE 1e-9 /* relative: residues that count as the same one */

enum { CHANGES_MOST = DREGS_VARIED_MOST * DREGS_LINE_STAGES };

/* Brings a state to the load that is judged, for the residue of one solute or the sum. */
static dregs_status judged_state(const dregs_map *map, dregs_criterion criterion, int solute,
                                 dregs_state *state, dregs_worst *worst)
{
    dregs_status status;

    *worst = (dregs_worst){0, criterion.loads, 0};
    if (criterion.by == DREGS_CRITERION_LOAD)
        return dregs_state_before(state, criterion.loads);
    if (criterion.by != DREGS_CRITERION_STEADY) {
        status = dregs_residue_worst(
            map, solute, criterion.by == DREGS_CRITERION_EVER ? DREGS_NO_END : criterion.loads,
            worst);
        if (!status && worst->in_the_long_run)
            status = dregs_state_periodic(state);
        return status || worst->load == 1 ? status : dregs_state_before(state, worst->load);
    }
    status = dregs_residue_worst_steady(map, solute, worst);
    if (!status)
        status = dregs_state_periodic(state);
    return status || worst->load == 1 ? status : dregs_state_before(state, worst->load);
}

/* Concentration of all solutes in the film that leaves a stage. */
static double all_solutes(const dregs_state *state, const dregs_line *line, int stage)
{
    double sum = 0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line) && stage >= 0; s++)
        sum += dregs_state_concentration(state, s, (unsigned)stage);
    return sum;
}

static int last_wash(const dregs_line *line)
{
    int i;

    for (i = (int)dregs_line_stages(line) - 1; i >= 0; i--)
        if (dregs_stage_is(dregs_line_stage(line, (unsigned)i), DREGS_STAGE_CLEANS))
            break;
    return i;
}

/* To one limit, of loads that follow one another. */
static dregs_status stand_without_pause(const dregs_map *map, dregs_criterion criterion, int solute,
                                        double limit, dregs_compliance *compliance)
{
    const dregs_line *line = dregs_map_line(map);
    dregs_state *state = dregs_state_new(map);
    dregs_residue residue, floor;
    dregs_worst worst;
    dregs_status status =
        state ? judged_state(map, criterion, solute, state, &worst) : DREGS_NO_MEMORY;
    double here;

    if (!status) {
        dregs_residue_next(state, &residue);
        dregs_residue_floor(dregs_balance_state_next_map(state), &floor);
        here = dregs_residue_of(&residue, solute);
        compliance->of_limit = here / limit;
        compliance->limit = solute;
        compliance->residue = here;
        compliance->floor_adhering = solute < 0 ? floor.adhering_total : floor.adhering[solute];
        compliance->floor =
            compliance->floor_adhering + (solute < 0 ? floor.film_total : floor.film[solute]);
        compliance->total = residue.total;
        compliance->mg_in = all_solutes(state, line, last_wash(line));
        compliance->mg_out = all_solutes(state, line, dregs_line_last_wet(line));
        compliance->load = worst.load;
        compliance->in_the_long_run = worst.in_the_long_run;
    }
    dregs_state_free(state);
    return status;
}

/* The same by the schedule, where that leaves more. One load by itself has no place in a week. */
static dregs_status stand_in_week(const dregs_week *week, dregs_criterion criterion, int solute,
                                  double limit, dregs_compliance *compliance)
{
    int first = criterion.by == DREGS_CRITERION_FIRST;
    const dregs_week_load *worst;
    dregs_week_answer answer;
    dregs_status status;

    if (!first && !dregs_week_settles(week)) {
        compliance->of_limit = HUGE_VAL;
        compliance->by_week = 1;
        return DREGS_OK;
    }
    status = dregs_week_worst(week, solute, first ? criterion.loads : DREGS_NO_END, &answer);
    if (status)
        return status;
    worst = criterion.by == DREGS_CRITERION_STEADY ? &answer.long_run : &answer.worst;
    if (!answer.known && criterion.by != DREGS_CRITERION_STEADY) {
        compliance->of_limit = HUGE_VAL;
        compliance->by_week = 1;
    } else if (worst->residue / limit > compliance->of_limit * (1 + ALIKE)) {
        compliance->of_limit = worst->residue / limit;
        compliance->residue = worst->residue;
        compliance->total = worst->residue == answer.worst.residue ? answer.residue.total : NAN;
        compliance->load = worst->load;
        compliance->in_the_long_run = worst->in_the_long_run;
        compliance->by_week = 1;
    }
    return DREGS_OK;
}

/* How the line stands to one limit. */
static dregs_status stand_to(const dregs_map *map, const dregs_week *week,
                             dregs_criterion criterion, int solute, double limit,
                             dregs_compliance *compliance)
{
    dregs_compliance found = {.of_limit = -1};
    dregs_status status = stand_without_pause(map, criterion, solute, limit, &found);

    if (!status && week && criterion.by != DREGS_CRITERION_LOAD)
        status = stand_in_week(week, criterion, solute, limit, &found);
    if (!status && found.of_limit > compliance->of_limit)
        *compliance = found;
    return status;
}

dregs_status dregs_size_compliance_on(const dregs_map *map, dregs_criterion criterion,
                                      dregs_compliance *compliance)
{
    const dregs_line *line = dregs_map_line(map);
    const dregs_target *target = dregs_line_target(line);
    dregs_compliance found = {.of_limit = -1};
    dregs_week *week = NULL;
    dregs_status status = DREGS_OK;
    int s;

    if (!target->name)
        return DREGS_BAD_DATA;
    if (dregs_line_has_week(line))
        status = dregs_week_new(map, DREGS_WEEK_WORST_KNOWN, &week);
    for (s = DREGS_EVERY_SOLUTE; s < (int)dregs_line_solutes(line) && !status; s++) {
        const dregs_value *limit = s < 0 ? &target->residue : &target->of_solute[s];
        if (limit->row)
            status = stand_to(map, week, criterion, s, limit->si, &found);
    }
    if (!status && found.of_limit < 0) /* a target of other things: any residue will do */
        status = stand_to(map, NULL, criterion, DREGS_EVERY_SOLUTE, HUGE_VAL, &found);
    dregs_week_free(week);
    if (!status)
        *compliance = found;
    return status;
}

dregs_status dregs_size_compliance_of_size(const dregs_line *line, dregs_criterion criterion,
                                           dregs_compliance *compliance, size_t size)
{
    dregs_compliance found;
    dregs_map *map;
    dregs_status status;

    if (!dregs_line_target(line)->name)
        return DREGS_BAD_DATA;
    status = dregs_map_new(line, &map);
    if (status)
        return status;
    status = dregs_size_compliance_on(map, criterion, &found);
    dregs_map_free(map);
    if (!status)
        dregs_give(compliance, size, &found, sizeof found);
    return status;
}

/* The line file's text with the values put in. */
static dregs_status write_values(struct problem *p, const double *value, char **text,
                                 size_t *length)
{
    dregs_new_row *rows = malloc(CHANGES_MOST * sizeof *rows);
    char number[DREGS_VARIED_MOST][DREGS_NUMBER_TEXT];
    size_t count = 0;
    dregs_status status;
    unsigned i, k;

    if (!rows)
        return DREGS_NO_MEMORY;
    for (i = 0; i < p->count; i++) {
        const struct varied *varied = &p->varied[i];
        dregs_unit unit;
        if (dregs_unit_read(varied->unit, &unit, NULL))
            continue; /* the reader has read it before */
        dregs_number_exact(number[i], dregs_unit_from_si(unit, value[i]));
        for (k = 0; k < varied->stages; k++) {
            dregs_new_row *row = &rows[count++];
            row->item = varied->stage[k];
            row->property = varied->property;
            row->value = number[i];
            row->unit = varied->unit;
            row->note = NULL;
        }
    }
    status = dregs_edit_set(p->line, rows, count, text, length);
    free(rows);
    return status;
}

static void keep_trial(struct problem *p, const double *value, double excess)
{
    dregs_sized *sized = p->sized;

    if (sized->trials < TRIALS_MOST) {
        memcpy(sized->trial[sized->trials].value, value, p->count * sizeof *value);
        sized->trial[sized->trials].excess = excess;
    }
    sized->trials++;
    if (p->progress && !p->stopped)
        p->stopped = p->progress(p->user, sized->trials, p->best_expense) != 0;
}

int dregs_size_goes_on(const struct problem *p)
{
    return !p->status && !p->stopped && p->sized->trials < DREGS_SIZE_TRIALS;
}

/* The line with the values put in: those that the file would hold, to the last bit. */
static dregs_status with_values(struct problem *p, const double *value, int any_period,
                                dregs_line **line)
{
    const struct practice practice = {NULL, NULL, any_period};
    dregs_setting settings[CHANGES_MOST];
    dregs_faults faults = {0};
    size_t count = 0;
    dregs_status status;
    unsigned i, k;

    for (i = 0; i < p->count; i++) {
        const struct varied *varied = &p->varied[i];
        dregs_unit unit;
        if (dregs_unit_read(varied->unit, &unit, NULL))
            continue; /* the reader has read it before */
        for (k = 0; k < varied->stages; k++)
            settings[count++] = (dregs_setting){
                .item = varied->stage[k],
                .property = varied->property,
                .si = dregs_unit_to_si(unit, dregs_unit_from_si(unit, value[i])),
            };
    }
    status = dregs_line_run_as(p->line, settings, count, &practice, line, &faults);
    if (status != DREGS_BAD_DATA && status != DREGS_DOMAIN)
        return status;
    snprintf(p->message, DREGS_SIZE_MESSAGE, "%s", faults.fault[0].text);
    return DREGS_OK; /* these values do not make a line; others may */
}

static void remember(struct problem *p, const double *value, const struct outcome *outcome)
{
    unsigned i;
    int whole = 1;

    for (i = 0; i < p->count; i++)
        whole = whole && p->varied[i].whole;
    /* what is found on a boundary stays inside it when the limit is read and rounded otherwise */
    if (outcome->excess <= (whole ? 1 : 1 - 1e-9) && outcome->expense < p->best_expense) {
        p->best_expense = outcome->expense;
        memcpy(p->best, value, p->count * sizeof *value);
    }
    if (outcome->excess < p->nearest_excess) {
        p->nearest_excess = outcome->excess;
        memcpy(p->nearest, value, p->count * sizeof *value);
    }
}

static double expense_of(const struct problem *p, const dregs_line *line, dregs_use *use)
{
    dregs_balance_use(line, use);
    return p->by_cost ? use->cost : use->bought;
}

void dregs_size_try(struct problem *p, const double *value, struct outcome *outcome)
{
    dregs_line *line = NULL;
    dregs_status status;

    if (p->known && p->known_by.by == p->criterion.by && p->known_by.loads == p->criterion.loads &&
        memcmp(p->known_value, value, p->count * sizeof *value) == 0) {
        *outcome = p->known_outcome;
        return;
    }
    memset(outcome, 0, sizeof *outcome);
    outcome->compliance.of_limit = outcome->excess = outcome->expense = HUGE_VAL;
    status = with_values(p, value, 0, &line);
    if (!status && line)
        status = dregs_size_judge(line, p->criterion, p->aim, outcome);
    outcome->excess /= p->margin;
    if (!status && line)
        outcome->expense = expense_of(p, line, &outcome->use);
    if (status && !p->status)
        p->status = status;
    remember(p, value, outcome);
    keep_trial(p, value, outcome->excess * p->margin * p->aim);
    p->known = 1;
    p->known_by = p->criterion;
    memcpy(p->known_value, value, p->count * sizeof *value);
    p->known_outcome = *outcome;
    dregs_line_free(line);
}

void dregs_size_try_quick(struct problem *p, const double *clean, const double *cheap,
                          struct quick *quick)
{
    dregs_line *line = NULL, *other = NULL;
    dregs_status status = with_values(p, clean, 1, &line);
    dregs_use use;

    *quick = (struct quick){HUGE_VAL, HUGE_VAL, 0};
    if (!status && line) {
        status = dregs_size_judge_quick(line, p->criterion, p->aim, &quick->excess);
        quick->excess /= p->margin;
        quick->expense = expense_of(p, line, &use);
        quick->allowed = dregs_line_period(line) <= DREGS_LINE_PERIOD;
    }
    keep_trial(p, clean, quick->excess * p->margin * p->aim);
    if (!status && line && memcmp(clean, cheap, p->count * sizeof *clean) != 0) {
        status = with_values(p, cheap, 1, &other);
        quick->expense = other ? expense_of(p, other, &use) : HUGE_VAL;
    }
    if (status && !p->status)
        p->status = status;
    dregs_line_free(line);
    dregs_line_free(other);
}

void dregs_size_accept(struct problem *p, const double *value)
{
    dregs_sized *sized = p->sized;
    struct outcome outcome;
    dregs_status status;
    unsigned i;

    dregs_size_try(p, value, &outcome);
    for (i = 0; i < p->count; i++) {
        const struct varied *varied = &p->varied[i];
        double slack = 1e-6 * fmax(fabs(varied->high), fabs(varied->low));
        if (varied->low > 0 && varied->high / varied->low > 10)
            slack = 1e-6 * value[i]; /* a wide range is searched by its logarithm */
        sized->value[i] = value[i];
        sized->at_low[i] = value[i] <= varied->low + slack;
        sized->at_high[i] = value[i] >= varied->high - slack;
    }
    sized->compliance = outcome.compliance;
    sized->bounded = outcome.bounded;
    sized->bound = outcome.bound;
    sized->use = outcome.use;
    sized->feasible = outcome.excess <= 1;
    dregs_edit_free(sized->text);
    sized->text = NULL;
    status = write_values(p, value, &sized->text, &sized->length);
    if (status && !p->status)
        p->status = status;
}

/* The line's own values, where it states all of them and they lie in their ranges. */
static int own_values(const struct problem *p, double *value)
{
    dregs_value stated;
    unsigned i, k;

    for (i = 0; i < p->count; i++)
        for (k = 0; k < p->varied[i].stages; k++) {
            if (dregs_line_get(p->line, p->varied[i].stage[k], p->varied[i].property, &stated) ||
                !(stated.si >= p->varied[i].low) || !(stated.si <= p->varied[i].high) ||
                (k > 0 && stated.si != value[i]))
                return 0;
            value[i] = stated.si;
        }
    return 1;
}

/* What a search gives is no worse than what it has seen on the way, the line's own values among
 * them. */
static void take_best(struct problem *p)
{
    double expense = p->by_cost ? p->sized->use.cost : p->sized->use.bought;
    double same = p->varied->whole ? 1e-9 : 1e-6; /* as near as a boundary is sought */

    if (p->status || !isfinite(p->best_expense) ||
        (p->sized->feasible && !(p->best_expense < expense * (1 - same))))
        return;
    if (p->count == 1 && !p->varied->whole && p->varied->more_is_easier && p->sized->feasible)
        return; /* the most that may be is asked for, not the least liquid */
    p->sized->throughout = 0;
    if (p->count == 1 && p->sized->feasible)
        dregs_size_one_further(p);
    dregs_size_accept(p, p->best);
}

static void seek(struct problem *p)
{
    double own[DREGS_VARIED_MOST];
    struct outcome outcome;

    if (own_values(p, own))
        dregs_size_try(p, own, &outcome);
    p->own_expense = p->best_expense;
    if (p->count == 1)
        dregs_size_one(p);
    else
        dregs_size_several(p);
    take_best(p);
}

/* The answer: the values given, or NULL to seek them. */
static dregs_status search(struct problem *p, const double *value, dregs_sized **sized)
{
    p->sized = calloc(1, sizeof *p->sized);
    if (!p->sized)
        return DREGS_NO_MEMORY;
    p->sized->possible = p->sized->beyond = p->sized->unrounded = NAN;
    if (value)
        dregs_size_accept(p, value);
    else
        seek(p);
    if (p->status)
        dregs_sized_free(p->sized);
    else
        *sized = p->sized;
    return p->status;
}

static dregs_status size_by(const dregs_varied *varied, dregs_criterion criterion, int by_cost,
                            double aim, const double *value, dregs_sized **sized, char *message)
{
    struct problem p = {.line = varied->line, .varied = varied->one, .count = varied->count};
    dregs_status status;

    p.criterion = criterion;
    p.by_cost = by_cost;
    p.aim = aim;
    p.margin = varied->margin > 0 ? varied->margin : 1;
    p.message = message;
    p.best_expense = p.nearest_excess = HUGE_VAL;
    p.progress = varied->progress;
    p.user = varied->user;
    message[0] = '\0';
    if (!dregs_line_target(p.line)->name) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the line states no target");
        return DREGS_BAD_DATA;
    }
    if (p.count < 1)
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "varied: no property is varied");
    if (criterion.by == DREGS_CRITERION_LOAD && criterion.loads < 1)
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "criterion.loads: no load is judged");
    if (!(aim > 0) || !isfinite(aim))
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "aim: not above 0");
    status = search(&p, value, sized);
    if (!status)
        (*sized)->varied = varied;
    return status;
}

dregs_status dregs_size_aimed(const dregs_varied *varied, dregs_criterion criterion, int by_cost,
                              double aim, dregs_sized **sized, char *message)
{
    return size_by(varied, criterion, by_cost, aim, NULL, sized, message);
}

dregs_status dregs_size(const dregs_varied *varied, dregs_criterion criterion, int by_cost,
                        dregs_sized **sized, char *message)
{
    return dregs_size_aimed(varied, criterion, by_cost, 1, sized, message);
}

dregs_status dregs_size_watched(const dregs_varied *varied, dregs_criterion criterion, int by_cost,
                                dregs_size_progress *progress, void *user, dregs_sized **sized,
                                char *message)
{
    dregs_varied watched = *varied; /* threads may share what is varied: it is not written to */
    dregs_status status;

    watched.progress = progress;
    watched.user = user;
    status = dregs_size(&watched, criterion, by_cost, sized, message);
    if (!status)
        (*sized)->varied = varied;
    return status;
}

/* The answer keeps what was varied. */
static dregs_status keep(dregs_varied *varied, dregs_status status, dregs_sized **sized)
{
    if (status) {
        dregs_varied_free(varied);
        return status;
    }
    varied->line = NULL;
    (*sized)->own = varied;
    return status;
}

dregs_status dregs_size_kept(dregs_varied *varied, dregs_criterion criterion, int by_cost,
                             double aim, dregs_sized **sized, char *message)
{
    dregs_status status = size_by(varied, criterion, by_cost, aim, NULL, sized, message);

    return keep(varied, status, sized);
}

dregs_status dregs_size_at(dregs_varied *varied, dregs_criterion criterion, int by_cost,
                           const double *value, dregs_sized **sized, char *message)
{
    dregs_status status = size_by(varied, criterion, by_cost, 1, value, sized, message);

    return keep(varied, status, sized);
}
