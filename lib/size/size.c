/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.c: what can be varied, how a line stands to its target, and one evaluation of a search. */
#include "size/size.h"
#include "base/text.h"
#include "dregs/edit.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CHANGES_MOST = DREGS_VARIED_MOST * DREGS_LINE_STAGES };

static const char *const variable[] = {"flow",       "volume",   "use",        "dump every",
                                       "drain time", "exchange", "temperature"};
static const char *const usual_unit[] = {"L/h", "L", "L", "", "s", "1", "degC"};

enum variable { FLOW, VOLUME, USE, DUMP_EVERY, DRAIN_TIME, EXCHANGE, TEMPERATURE, VARIABLES };

static int find_variable(const char *property)
{
    int i;

    for (i = 0; i < VARIABLES; i++)
        if (strcmp(variable[i], property) == 0)
            return i;
    return -1;
}

static int find_stage(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        if (strcmp(dregs_line_stage(line, i)->name, name) == 0)
            return (int)i;
    return -1;
}

static dregs_status unknown(const dregs_line *line, const char *what, const char *name,
                            char *message)
{
    const char *names[DREGS_LINE_STAGES + 1], *near;
    char quoted[DREGS_QUOTED];
    size_t used, count = 0, i;
    int stage = strcmp(what, "stage") == 0;

    if (stage)
        for (i = 0; i < dregs_line_stages(line); i++)
            names[count++] = dregs_line_stage(line, (unsigned)i)->name;
    else
        for (i = 0; i < VARIABLES; i++)
            names[count++] = variable[i];
    near = dregs_nearest(name, names, count);
    used = (size_t)snprintf(message, DREGS_SIZE_MESSAGE,
                            "%s %s; the choices:", dregs_quote(quoted, name),
                            stage ? "is no stage of the line" : "cannot be varied");
    for (i = 0; i < count && used < DREGS_SIZE_MESSAGE - 1; i++)
        used += (size_t)snprintf(message + used, DREGS_SIZE_MESSAGE - used, "%s %s", i ? "," : "",
                                 names[i]);
    if (near && used < DREGS_SIZE_MESSAGE - 1)
        snprintf(message + used, DREGS_SIZE_MESSAGE - used, "; nearest: '%s'", near);
    return DREGS_UNKNOWN;
}

/* Why a property of a stage cannot be varied; NULL when it can. */
static const char *hindrance(const dregs_line *line, const dregs_stage *stage, int which)
{
    int tank = stage->tank >= 0, owns = tank && !stage->shares.row;

    switch (which) {
    case FLOW:
    case VOLUME:
    case DUMP_EVERY:
        if (owns && which == DUMP_EVERY && stage->dump_at != DREGS_DUMP_AT_LOADS)
            return "it states 'dump at'; state 'dump every' instead";
        return owns ? NULL : "only a wash or rinse with a tank of its own has it";
    case USE:
        return dregs_stage_is(stage, DREGS_STAGE_SPRAYS) ? NULL : "only a spray has it";
    case EXCHANGE:
        return tank ? NULL : "only a wash or rinse has it";
    case DRAIN_TIME:
        return stage->film_way != DREGS_FILM_LAW ? "its film does not come from the plate law of a "
                                                   "withdrawal speed"
               : dregs_line_load(line)->height.row ? NULL
                                                   : "the load does not state its height";
    default: /* TEMPERATURE */
        if (!dregs_stage_is(stage, DREGS_STAGE_WET) || stage->shares.row)
            return "only a wash, rinse or spray of its own liquid has it";
        return stage->film_way == DREGS_FILM_LAW || stage->film_way == DREGS_FILM_KUSHNER ||
                       dregs_line_load(line)->edge.si > 0 || stage->open_area.row
                   ? NULL
                   : "it changes nothing here: film and evaporation are stated, not computed";
    }
}

/* The range that is searched when none is given, from what the line carries. */
static void usual_range(const dregs_line *line, unsigned index, int which, double *low,
                        double *high)
{
    const dregs_carried *carried = dregs_line_carried(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    double drag = fmax(carried->in, carried->out), interval = dregs_line_load(line)->interval.si;

    switch (which) {
    case FLOW:
        *low = 1e-3 * drag / interval;
        *high = 1e6 * drag / interval;
        break;
    case VOLUME:
        *low = 2 * drag;
        *high = 1e6 * drag;
        break;
    case USE:
        *low = drag;
        *high = 1e4 * drag;
        break;
    case DUMP_EVERY:
        *low = 1;
        *high = 10000;
        break;
    case DRAIN_TIME:
        *low = 0;
        *high = 600;
        break;
    case EXCHANGE:
        *low = 0;
        *high = 1;
        break;
    default: /* a liquid that can burn is not heated on purpose */
        *low = 283.15;
        *high = dregs_liquids_row(dregs_line_liquids(line), fluid->solvent, DREGS_FLASH_POINT)
                    ? 298.15
                    : 333.15;
    }
}

/* The unit in which the file states the property, or the usual one. */
static const char *unit_of(const dregs_line *line, const char *stage, int which)
{
    unsigned i;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        if (strcmp(row->item, stage) == 0 && strcmp(row->property, variable[which]) == 0)
            return row->unit;
    }
    return usual_unit[which];
}

dregs_status dregs_size_prepare(const dregs_line *line, dregs_varied *varied, char *message)
{
    int which = find_variable(varied->property), index;
    const char *why;
    double low, high;
    unsigned i;

    if (which < 0)
        return unknown(line, "property", varied->property, message);
    for (i = 0; i < varied->stages; i++) {
        index = find_stage(line, varied->stage[i]);
        if (index < 0)
            return unknown(line, "stage", varied->stage[i], message);
        why = hindrance(line, dregs_line_stage(line, (unsigned)index), which);
        if (why) {
            snprintf(message, DREGS_SIZE_MESSAGE, "%s of %.60s cannot be varied: %s",
                     variable[which], varied->stage[i], why);
            return DREGS_DOMAIN;
        }
    }
    index = find_stage(line, varied->stage[0]);
    usual_range(line, (unsigned)index, which, &low, &high);
    varied->low_given = !isnan(varied->low);
    varied->high_given = !isnan(varied->high);
    if (!varied->low_given)
        varied->low = low;
    if (!varied->high_given)
        varied->high = varied->low > high ? varied->low : high;
    varied->whole = which == DUMP_EVERY;
    varied->property = variable[which];
    varied->unit = unit_of(line, varied->stage[0], which);
    if (varied->whole) {
        varied->low = ceil(varied->low);
        varied->high = floor(varied->high);
    }
    if (!(varied->low <= varied->high) || !(varied->low >= 0) ||
        (varied->low == 0 && which <= DUMP_EVERY && which != FLOW) ||
        (varied->high > 1 && which == EXCHANGE)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range of %s of %.60s is empty or not allowed",
                 variable[which], varied->stage[0]);
        return DREGS_DOMAIN;
    }
    return DREGS_OK;
}

/* Brings a state to the load that is judged, for the residue of one solute or the sum. */
static dregs_status judged_state(const dregs_map *map, dregs_criterion criterion, int solute,
                                 dregs_state *state)
{
    uint64_t period = dregs_line_period(dregs_map_line(map)), load, best = 1;
    dregs_worst worst = {0, 1, 0};
    dregs_residue residue;
    dregs_status status = DREGS_OK;
    double most = -1, here;

    if (criterion.by == DREGS_CRITERION_LOAD)
        return dregs_state_before(state, criterion.loads);
    if (criterion.by != DREGS_CRITERION_STEADY) {
        status = dregs_residue_worst(
            map, solute, criterion.by == DREGS_CRITERION_EVER ? DREGS_NO_END : criterion.loads,
            &worst);
        if (!status && worst.in_the_long_run)
            status = dregs_state_periodic(state);
        return status || worst.load == 1 ? status : dregs_state_before(state, worst.load);
    }
    status = dregs_state_periodic(state);
    for (load = 1; load <= period && !status; load++) {
        dregs_residue_next(state, &residue);
        here = dregs_residue_of(&residue, solute);
        if (here > most) {
            most = here;
            best = load;
        }
        dregs_state_step(state);
    }
    if (!status)
        status = dregs_state_periodic(state);
    return status || best == 1 ? status : dregs_state_before(state, best);
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

static dregs_status stand_to(const dregs_map *map, dregs_criterion criterion, int solute,
                             double limit, dregs_compliance *compliance)
{
    const dregs_line *line = dregs_map_line(map);
    dregs_state *state = dregs_state_new(map);
    dregs_residue residue, floor;
    dregs_status status = state ? judged_state(map, criterion, solute, state) : DREGS_NO_MEMORY;
    double here;

    if (!status) {
        dregs_residue_next(state, &residue);
        dregs_residue_floor(map, &floor);
        here = dregs_residue_of(&residue, solute);
        if (here / limit > compliance->excess) {
            compliance->excess = here / limit;
            compliance->limit = solute;
            compliance->residue = here;
            compliance->floor_adhering = solute < 0 ? floor.adhering_total : floor.adhering[solute];
            compliance->floor =
                compliance->floor_adhering + (solute < 0 ? floor.film_total : floor.film[solute]);
            compliance->total = residue.total;
            compliance->mg_in = all_solutes(state, line, last_wash(line));
            compliance->mg_out = all_solutes(state, line, dregs_line_last_wet(line));
        }
    }
    dregs_state_free(state);
    return status;
}

dregs_status dregs_size_compliance(const dregs_line *line, dregs_criterion criterion,
                                   dregs_compliance *compliance)
{
    const dregs_target *target = dregs_line_target(line);
    dregs_compliance found = {-1, 0, 0, 0, 0, 0, 0, 0};
    dregs_map *map;
    dregs_status status;
    int s;

    if (!target->name)
        return DREGS_BAD_DATA;
    status = dregs_map_new(line, &map);
    if (status)
        return status;
    for (s = DREGS_EVERY_SOLUTE; s < (int)dregs_line_solutes(line) && !status; s++) {
        const dregs_value *limit = s < 0 ? &target->residue : &target->of_solute[s];
        if (limit->row)
            status = stand_to(map, criterion, s, limit->si, &found);
    }
    dregs_map_free(map);
    if (!status)
        *compliance = found;
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
        const dregs_varied *varied = &p->varied[i];
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

    if (sized->trials < DREGS_TRIALS_MOST) {
        memcpy(sized->trial[sized->trials].value, value, p->count * sizeof *value);
        sized->trial[sized->trials].excess = excess;
    }
    sized->trials++;
}

/* The line with the values put in: those that the file would hold, to the last bit. */
static dregs_status with_values(struct problem *p, const double *value, dregs_line **line)
{
    dregs_setting settings[CHANGES_MOST];
    dregs_faults faults = {0};
    size_t count = 0;
    dregs_status status;
    unsigned i, k;

    for (i = 0; i < p->count; i++) {
        const dregs_varied *varied = &p->varied[i];
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
    status = dregs_line_with(p->line, settings, count, line, &faults);
    if (status != DREGS_BAD_DATA && status != DREGS_DOMAIN)
        return status;
    snprintf(p->message, DREGS_SIZE_MESSAGE, "%s", faults.fault[0].text);
    return DREGS_OK; /* these values do not make a line; others may */
}

void dregs_try(struct problem *p, const double *value, struct outcome *outcome)
{
    dregs_line *line = NULL;
    dregs_status status;

    if (p->known && p->known_by.by == p->criterion.by && p->known_by.loads == p->criterion.loads &&
        memcmp(p->known_value, value, p->count * sizeof *value) == 0) {
        *outcome = p->known_outcome;
        return;
    }
    memset(outcome, 0, sizeof *outcome);
    outcome->compliance.excess = HUGE_VAL;
    outcome->expense = HUGE_VAL;
    status = with_values(p, value, &line);
    if (!status && line)
        status = dregs_size_compliance(line, p->criterion, &outcome->compliance);
    if (!status && line) {
        dregs_line_use(line, &outcome->use);
        outcome->expense = p->by_cost ? outcome->use.cost : outcome->use.bought;
    }
    if (status && !p->status)
        p->status = status;
    keep_trial(p, value, outcome->compliance.excess);
    p->known = 1;
    p->known_by = p->criterion;
    memcpy(p->known_value, value, p->count * sizeof *value);
    p->known_outcome = *outcome;
    dregs_line_free(line);
}

void dregs_accept(struct problem *p, const double *value)
{
    dregs_sized *sized = p->sized;
    struct outcome outcome;
    dregs_status status;
    unsigned i;

    dregs_try(p, value, &outcome);
    for (i = 0; i < p->count; i++) {
        const dregs_varied *varied = &p->varied[i];
        double slack = 1e-6 * fmax(fabs(varied->high), fabs(varied->low));
        if (varied->low > 0 && varied->high / varied->low > 10)
            slack = 1e-6 * value[i]; /* a wide range is searched by its logarithm */
        sized->value[i] = value[i];
        sized->at_low[i] = value[i] <= varied->low + slack;
        sized->at_high[i] = value[i] >= varied->high - slack;
    }
    sized->compliance = outcome.compliance;
    sized->use = outcome.use;
    sized->feasible = outcome.compliance.excess <= 1;
    dregs_edit_free(sized->text);
    sized->text = NULL;
    status = write_values(p, value, &sized->text, &sized->length);
    if (status && !p->status)
        p->status = status;
}

dregs_status dregs_size(const dregs_line *line, const dregs_varied *varied, unsigned count,
                        dregs_criterion criterion, int by_cost, dregs_sized *sized, char *message)
{
    struct problem p;

    memset(&p, 0, sizeof p);
    p.line = line;
    p.varied = varied;
    p.count = count;
    p.criterion = criterion;
    p.by_cost = by_cost;
    p.sized = sized;
    p.message = message;
    message[0] = '\0';
    if (!dregs_line_target(line)->name) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the line states no target");
        return DREGS_BAD_DATA;
    }
    if (count < 1 || count > DREGS_VARIED_MOST ||
        (criterion.by == DREGS_CRITERION_LOAD && criterion.loads < 1))
        return DREGS_DOMAIN;
    if (count == 1)
        dregs_size_one(&p);
    else
        dregs_size_several(&p);
    return p.status;
}

void dregs_sized_clear(dregs_sized *sized)
{
    dregs_edit_free(sized->text);
    sized->text = NULL;
}
