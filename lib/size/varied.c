/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* varied.c: what can be varied, and between what. */
#include "base/text.h"
#include "line/line.h"
#include "size/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum variable {
    FLOW,
    VOLUME,
    USE,
    DUMP_EVERY,
    DRAIN_TIME,
    EXCHANGE,
    TEMPERATURE,
    REMOVAL,
    DRAG_OUT,
    MIXING,
    BLOW_OFF,
    CLEARING,
    HOLD_UP,
    HOLD_UP_EXCHANGE,
    VARIABLES
};

static const struct {
    const char *name;
    const char *unit; /* where the file states none */
    int of_solute;    /* -1: of one, 1: of all or of one, named behind it */
    int more_is_easier;
} variable[VARIABLES] = {
    [FLOW] = {"flow", "L/h", 0, 0},
    [VOLUME] = {"volume", "L", 0, 0},
    [USE] = {"use", "L", 0, 0},
    [DUMP_EVERY] = {"dump every", "", 0, 1},
    [DRAIN_TIME] = {"drain time", "s", 0, 0},
    [EXCHANGE] = {"exchange", "1", 0, 0},
    [TEMPERATURE] = {"temperature", "degC", 0, 0},
    [REMOVAL] = {"removal", "%", 1, 0},
    [DRAG_OUT] = {"drag-out", "mL/m2", 0, 1},
    [MIXING] = {"mixing", "%", 0, 0},
    [BLOW_OFF] = {"blow-off", "%", 0, 0},
    [CLEARING] = {"clearing", "L/h", -1, 0},
    [HOLD_UP] = {"hold-up", "mL", 0, 1},
    [HOLD_UP_EXCHANGE] = {"hold-up exchange", "%", 0, 0},
};

/* Which one a property is; of a solute that the line has, where it names one. -1 for none. */
static int find_variable(const dregs_line *line, const char *property)
{
    unsigned s;
    int i;

    for (i = 0; i < VARIABLES; i++) {
        size_t length = strlen(variable[i].name);
        if (strncmp(variable[i].name, property, length) != 0)
            continue;
        if (property[length] == '\0' && variable[i].of_solute >= 0)
            return i;
        if (property[length] != ' ' || !variable[i].of_solute)
            continue;
        for (s = 0; s < dregs_line_solutes(line); s++)
            if (strcmp(dregs_line_solute_name(line, s), property + length + 1) == 0)
                return i;
    }
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
            names[count++] = variable[i].name;
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

/* K that a liquid is not made warmer than unless asked: what can burn stays 30 degF below its flash
 * point (29 CFR 1910.106), or near the room's temperature where none is on record. */
static double warmest(const dregs_liquids *liquids, const char *liquid)
{
    double flash_point;

    if (!dregs_liquids_value(liquids, liquid, DREGS_FLASH_POINT, NAN, &flash_point, NULL))
        return fmin(333.15, flash_point - 30 / 1.8);
    return dregs_liquids_row(liquids, liquid, DREGS_LOWER_LIMIT) ? 298.15 : 333.15;
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
    case REMOVAL:
        return tank ? NULL : "only a wash or rinse has it";
    case CLEARING:
        return owns ? NULL : "only a wash or rinse with a tank of its own has it";
    case DRAG_OUT:
        return stage->film_way == DREGS_FILM_DRAG_OUT ? NULL
                                                      : "its film is not stated by 'drag-out'";
    case MIXING:
        return dregs_stage_is(stage, DREGS_STAGE_SPRAYS) ? NULL : "only a spray has it";
    case BLOW_OFF:
        return stage->kind == DREGS_DRY ? NULL : "only a dry stage has it";
    case DRAIN_TIME:
        return stage->film_way != DREGS_FILM_LAW ? "its film does not come from the plate law of a "
                                                   "withdrawal speed"
               : dregs_line_load(line)->height.row ? NULL
                                                   : "the load does not state its height";
    case HOLD_UP:
        return "it is the load's";
    case HOLD_UP_EXCHANGE:
        return dregs_line_load(line)->hold_up.row ? NULL : "the load does not state its hold-up";
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
    double drag = fmax(carried->in, carried->out), interval = dregs_line_load(line)->interval.si;

    switch (which) {
    case FLOW:
    case CLEARING:
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
    case REMOVAL:
    case MIXING:
    case BLOW_OFF:
    case HOLD_UP_EXCHANGE:
        *low = 0;
        *high = 1;
        break;
    case DRAG_OUT: /* as a mean film: 1 um to 1 mm */
        *low = 1e-6;
        *high = 1e-3;
        break;
    case HOLD_UP: /* as much as a film of 1 mm on the part */
        *low = 0;
        *high = 1e-3 * dregs_line_load(line)->area.si;
        break;
    default:
        *high = warmest(dregs_line_liquids(line), dregs_line_wet_with(line, index)->solvent);
        *low = fmin(283.15, *high - 15);
    }
}

/* The unit in which the file states the property, or the usual one. */
static const char *unit_of(const dregs_line *line, const char *stage, const char *property,
                           int which)
{
    unsigned i;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        if (strcmp(row->item, stage) == 0 && strcmp(row->property, property) == 0)
            return row->unit;
    }
    return variable[which].unit;
}

dregs_varied *dregs_varied_new(const dregs_line *line)
{
    dregs_varied *varied = calloc(1, sizeof *varied);

    if (varied)
        varied->line = line;
    return varied;
}

void dregs_varied_free(dregs_varied *varied)
{
    if (varied)
        dregs_pool_clear(&varied->pool);
    free(varied);
}

/* Every stage there, and able. */
static dregs_status check_stages(const dregs_line *line, int which, const char *const *stage,
                                 unsigned stages, char *message)
{
    const char *why;
    unsigned i;
    int index;

    if ((which == HOLD_UP || (which == HOLD_UP_EXCHANGE && dregs_line_load(line)->hold_up.row)) &&
        stages == 1 && strcmp(stage[0], dregs_line_load_name(line)) == 0)
        return DREGS_OK;
    for (i = 0; i < stages; i++) {
        index = find_stage(line, stage[i]);
        if (index < 0)
            return unknown(line, "stage", stage[i], message);
        why = hindrance(line, dregs_line_stage(line, (unsigned)index), which);
        if (why) {
            snprintf(message, DREGS_SIZE_MESSAGE, "%s of %.60s cannot be varied: %s",
                     variable[which].name, stage[i], why);
            return DREGS_DOMAIN;
        }
    }
    return DREGS_OK;
}

static int is_share(int which)
{
    return which == EXCHANGE || which == REMOVAL || which == MIXING || which == BLOW_OFF ||
           which == HOLD_UP_EXCHANGE;
}

static int may_be_none(int which)
{
    return which != VOLUME && which != USE && which != DUMP_EVERY && which != DRAG_OUT;
}

/* The ends of the range: those that were given, and the usual ones. */
static dregs_status set_range(const dregs_line *line, const char *stage, int which,
                              struct varied *one, char *message)
{
    int index = find_stage(line, stage);
    double low, high;

    usual_range(line, index < 0 ? 0 : (unsigned)index, which, &low, &high);
    one->low_given = !isnan(one->low);
    one->high_given = !isnan(one->high);
    if (!one->low_given)
        one->low = low;
    if (!one->high_given)
        one->high = one->low > high ? one->low : high;
    one->whole = which == DUMP_EVERY;
    one->more_is_easier = variable[which].more_is_easier;
    if (one->whole) {
        one->low = ceil(one->low);
        one->high = floor(one->high);
    }
    if (!(one->low <= one->high) || !(one->low >= 0) || (one->low == 0 && !may_be_none(which)) ||
        (one->high > 1 && is_share(which))) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range of %s of %.60s is empty or not allowed",
                 variable[which].name, stage);
        return DREGS_DOMAIN;
    }
    return DREGS_OK;
}

static int is_varied(const dregs_varied *varied, const char *property, const char *stage)
{
    unsigned i, k;

    for (i = 0; i < varied->count; i++)
        for (k = 0; k < varied->one[i].stages; k++)
            if (strcmp(varied->one[i].property, property) == 0 &&
                strcmp(varied->one[i].stage[k], stage) == 0)
                return 1;
    return 0;
}

/* Is there room for it, and is it none of those that are varied already? */
static dregs_status check_others(const dregs_varied *varied, const char *property,
                                 const char *const *stage, unsigned stages, char *message)
{
    unsigned i;

    for (i = 0; i < stages; i++)
        if (is_varied(varied, property, stage[i])) {
            snprintf(message, DREGS_SIZE_MESSAGE, "%s of %.60s is varied twice", property,
                     stage[i]);
            return DREGS_DOMAIN;
        }
    if (varied->count < DREGS_VARIED_MOST)
        return DREGS_OK;
    snprintf(message, DREGS_SIZE_MESSAGE, "more than %d are varied", DREGS_VARIED_MOST);
    return DREGS_DOMAIN;
}

/* Names of its own: those of the caller, and of a layout those of the line, do not live on. */
static dregs_status keep(dregs_varied *varied, struct varied *one, const char *const *stage)
{
    char **names = dregs_pool_take(&varied->pool, one->stages, sizeof *names);
    unsigned i;

    if (!names)
        return DREGS_NO_MEMORY;
    for (i = 0; i < one->stages; i++) {
        names[i] = dregs_pool_text(&varied->pool, stage[i]);
        if (!names[i])
            return DREGS_NO_MEMORY;
    }
    one->unit = dregs_pool_text(&varied->pool, one->unit);
    one->property = dregs_pool_text(&varied->pool, one->property);
    if (!one->unit || !one->property)
        return DREGS_NO_MEMORY;
    one->stage = (const char *const *)names;
    varied->one[varied->count++] = *one;
    return DREGS_OK;
}

dregs_status dregs_varied_add(dregs_varied *varied, const char *property, const char *const *stage,
                              unsigned stages, double low, double high, char *message)
{
    struct varied one = {.stages = stages, .low = low, .high = high};
    int which = find_variable(varied->line, property);
    dregs_status status;

    message[0] = '\0';
    if (which < 0)
        return unknown(varied->line, "property", property, message);
    if (stages < 1 || stages > DREGS_LINE_STAGES)
        return DREGS_DOMAIN;
    status = check_stages(varied->line, which, stage, stages, message);
    if (!status)
        status = set_range(varied->line, stage[0], which, &one, message);
    if (!status)
        status = check_others(varied, property, stage, stages, message);
    if (status)
        return status;
    one.property = property;
    one.unit = unit_of(varied->line, stage[0], property, which);
    return keep(varied, &one, stage);
}

void dregs_varied_watch(dregs_varied *varied, dregs_size_progress *progress, void *user)
{
    varied->progress = progress;
    varied->user = user;
}

const dregs_line *dregs_varied_line(const dregs_varied *varied)
{
    return varied->line;
}

unsigned dregs_varied_count(const dregs_varied *varied)
{
    return varied->count;
}

/* Property number `index`, or one of which nothing is known. */
static const struct varied *at(const dregs_varied *varied, unsigned index)
{
    static const struct varied none = {.low = NAN, .high = NAN};

    return index < varied->count ? &varied->one[index] : &none;
}

const char *dregs_varied_property(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->property;
}

const char *dregs_varied_unit(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->unit;
}

const char *dregs_varied_stage(const dregs_varied *varied, unsigned index, unsigned stage)
{
    return stage < at(varied, index)->stages ? at(varied, index)->stage[stage] : NULL;
}

double dregs_varied_low(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->low;
}

double dregs_varied_high(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->high;
}

int dregs_varied_low_given(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->low_given;
}

int dregs_varied_high_given(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->high_given;
}

int dregs_varied_whole(const dregs_varied *varied, unsigned index)
{
    return at(varied, index)->whole;
}
