/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.c: what a description must hold beyond single rows: required properties, quantities that
 * are given in one way only, tanks that are shared, circles of liquid.
 */
#include "line/check.h"
#include "base/time.h"
#include "line/stage/stage.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SHIFTS_MOST = 24 }; /* a day */

/* The row that gave a property of the item, 0 for none. A line is checked for every draw: only what
 * its file states is looked through, and most names differ in their first letter. */
unsigned dregs_line_check_given(const struct item *item, const char *name)
{
    unsigned i;

    for (i = 0; i < item->given_count; i++) {
        const char *given = item->given[i].property->name;
        if (given[0] == name[0] && strcmp(given, name) == 0)
            return item->given[i].row;
    }
    return 0;
}

void dregs_line_check_missing(struct checker *c, const struct item *item, const char *what)
{
    char name[DREGS_QUOTED];

    if (item->meant && strcmp(item->meant, what) == 0) /* said where it is misspelt */
        return;
    SAY(c, item->row, "%s %s does not state its %s, which is required",
        dregs_kind_names[item->kind], dregs_quote(name, item->name), what);
}

static void check_required(struct checker *c, const struct item *item)
{
    size_t i;

    for (i = 0; i < dregs_property_count && !c->changed; i++)
        if (dregs_properties[i].required & IN(item->kind) &&
            !dregs_line_given(item, &dregs_properties[i]))
            dregs_line_check_missing(c, item, dregs_properties[i].name);
}

/* `which` may be given only together with `other`. */
void dregs_line_check_needs(struct checker *c, const struct item *item, const char *which,
                            const char *other)
{
    unsigned row = c->changed ? 0 : dregs_line_check_given(item, which);
    char name[DREGS_QUOTED];

    if (row && !dregs_line_check_given(item, other))
        SAY(c, row, "%s of %s goes with '%s', which is not given", which,
            dregs_quote(name, item->name), other);
}

void dregs_line_check_excludes(struct checker *c, const struct item *item, const char *which,
                               const char *other)
{
    unsigned row = c->changed ? 0 : dregs_line_check_given(item, which);
    unsigned other_row = row ? dregs_line_check_given(item, other) : 0;
    char name[DREGS_QUOTED];

    if (row && other_row)
        SAY(c, row > other_row ? row : other_row,
            "one quantity of %s is given in two ways: %s in line %lu and %s in line %lu",
            dregs_quote(name, item->name), which, dregs_line_at(c->line, row), other,
            dregs_line_at(c->line, other_row));
}

/* A plate that drains needs the height of each load that has no film of its own there. */
static void check_heights(struct checker *c, const dregs_stage *stage)
{
    char name[DREGS_QUOTED];
    unsigned i;

    for (i = 0; i < c->line->load_count; i++)
        if (!stage->drag_out_of[i].row && !c->line->loads[i].height.row) {
            SAY(c, stage->drain_time.row,
                "drain time of %s needs the load's height, which is not given%s%.60s",
                dregs_quote(name, stage->name), c->line->load_count > 1 ? ": " : "",
                c->line->load_count > 1 ? c->line->loads[i].name : "");
            return;
        }
}

/* The one way in which the film left by a stage is stated. */
static void check_film_way(struct checker *c, const struct item *item, dregs_stage *stage)
{
    static const char *const ways[] = {"film", "drag-out", "drag-out class", "withdrawal speed"};
    unsigned first = 0, i, row;
    char name[DREGS_QUOTED];

    for (i = 0; i < 4; i++) {
        row = dregs_line_check_given(item, ways[i]);
        if (row && first)
            SAY(c, row > first ? row : first,
                "the film of %s is given in two ways: %s in line %lu and %s in line %lu",
                dregs_quote(name, item->name), c->line->rows[first].property,
                dregs_line_at(c->line, first), ways[i], dregs_line_at(c->line, row));
        else if (row) {
            first = row;
            stage->film_way = (dregs_film_way)(DREGS_FILM_STATED + i);
        }
    }
    if (first && dregs_line_check_own_films(c, stage))
        SAY(c, first, "%.60s of %s never acts: every load has its own drag-out there",
            c->line->rows[first].property, dregs_quote(name, item->name));
    if (!first && !dregs_line_check_own_films(c, stage))
        SAY(c, item->row,
            "%s %s does not state the film it leaves: one of film, drag-out, drag-out class, "
            "withdrawal speed",
            dregs_kind_names[item->kind], dregs_quote(name, item->name));
    dregs_line_check_needs(c, item, "drain time", "withdrawal speed");
    dregs_line_check_needs(c, item, "film law", "withdrawal speed");
    if (stage->film_way == DREGS_FILM_LAW && stage->law_row &&
        strcmp(c->line->rows[stage->law_row].value, "kushner") == 0)
        stage->film_way = DREGS_FILM_KUSHNER;
}

void dregs_line_check_film(struct checker *c, const struct item *item, dregs_stage *stage)
{
    if (!c->changed)
        check_film_way(c, item, stage);
    if (stage->film_way == DREGS_FILM_LAW && stage->drain_time.si > 0)
        check_heights(c, stage);
    if (stage->film_way == DREGS_FILM_KUSHNER && stage->drain_time.si > 0)
        (void)dregs_line_note(c->line, 1, "%s: drain time (Kushner's law has drainage in it)",
                              stage->name);
}

/* Weekdays that are named are so many days per week, stated or not. */
static void check_weekdays(struct checker *c)
{
    dregs_schedule *s = &c->line->schedule;
    double named = 0;
    unsigned day;

    for (day = 0; day < DREGS_WEEKDAYS; day++)
        named += s->weekdays >> day & 1;
    if (!(named > 0))
        return;
    if (!s->days_per_week.row) {
        s->days_per_week.si = named;
        s->days_per_week.row = s->weekdays_row;
    } else if (s->days_per_week.si != named) {
        SAY(c, s->weekdays_row, "%g weekdays, but line %lu states %g days per week", named,
            dregs_line_at(c->line, s->days_per_week.row), s->days_per_week.si);
    }
}

/* The times of a schedule that are known fit into each other. */
static void check_schedule(struct checker *c)
{
    const dregs_schedule *s = &c->line->schedule;
    double loads = s->loads_per_shift.si * c->line->load->interval.si;
    double shift = s->shift_length.row ? s->shift_length.si : loads;
    double day = shift * (s->shifts_per_day.row ? s->shifts_per_day.si : 1.0);

    if (s->days_per_week.row && s->days_per_week.si > 7)
        SAY(c, s->days_per_week.row, "a week of %.0f days; allowed are 1 to 7",
            s->days_per_week.si);
    if (s->shift_length.row && s->shift_length.si < loads * (1 - 1e-12))
        SAY(c, s->shift_length.row,
            "a shift of %g h is shorter than its loads take: %.0f loads, one every %g min, are %g "
            "h",
            s->shift_length.si / 3600, s->loads_per_shift.si, c->line->load->interval.si / 60,
            loads / 3600);
    if (s->shifts_per_day.row && s->shifts_per_day.si > SHIFTS_MOST)
        SAY(c, s->shifts_per_day.row, "a day of %.0f shifts; allowed are 1 to %d",
            s->shifts_per_day.si, SHIFTS_MOST);
    if (day > 86400.0 * (1 + 1e-12))
        SAY(c, s->shift_length.row ? s->shift_length.row : s->loads_per_shift.row,
            "the shifts of a day take %g h", day / 3600);
    if (s->days_per_year.row && s->days_per_year.si > DREGS_YEAR_DAYS)
        SAY(c, s->days_per_year.row, "a year of %.0f days; allowed are 1 to %d",
            s->days_per_year.si, DREGS_YEAR_DAYS);
}

/* The points of a calibration, each with a reading and a concentration, in the meter's one unit. */
static void check_calibration(struct checker *c, const struct item *item)
{
    dregs_scale *scale = &c->line->scales[item->index];
    dregs_calibration_point point[DREGS_CALIBRATION_MOST];
    unsigned rows[DREGS_CALIBRATION_MOST + 1] = {0}, i;
    char name[DREGS_QUOTED], message[DREGS_METER_MESSAGE];
    size_t count = 0, wrong[2];
    int bad = 0;

    for (i = 0; i < DREGS_CALIBRATION_MOST; i++) {
        unsigned reading = scale->reading[i].row, concentration = scale->concentration[i].row;
        if (!reading != !concentration) {
            SAY(c, reading + concentration, "point %u of %s has a %s and no %s", i + 1,
                dregs_quote(name, item->name), reading ? "reading" : "concentration",
                reading ? "concentration" : "reading");
            bad = 1;
        }
        if (!reading || !concentration)
            continue;
        if (!scale->unit)
            scale->unit = c->line->rows[reading].unit;
        else if (strcmp(scale->unit, c->line->rows[reading].unit) != 0) {
            SAY(c, reading, "the readings of %s are in '%.40s' and here in '%.40s'; use one unit",
                dregs_quote(name, item->name), scale->unit, c->line->rows[reading].unit);
            bad = 1;
        }
        rows[count] = reading;
        point[count++] =
            (dregs_calibration_point){scale->reading[i].si, scale->concentration[i].si};
    }
    if (!bad && dregs_calibration_make(point, count, &scale->curve, wrong, message))
        SAY(c, wrong[0] < count ? rows[wrong[0]] : item->row, "calibration %s: %s",
            dregs_quote(name, item->name), message);
}

/* How a meter sees a solute, and a liquid, is stated in one way. */
static void check_metering(struct checker *c, const struct item *item)
{
    if (item->kind == KIND_SOLUTE)
        dregs_line_check_excludes(c, item, "conductivity", "electrolyte");
    if (item->kind == KIND_LIQUID) {
        const dregs_fluid *fluid = &c->line->fluids[item->index];
        if (fluid->coefficient.row && fluid->compensation != DREGS_COMPENSATION_LINEAR)
            SAY(c, fluid->coefficient.row,
                "temperature coefficient goes with 'compensation' linear, which is not given");
        if (fluid->coefficient.si > DREGS_COMPENSATION_COEFFICIENT_MOST)
            SAY(c, fluid->coefficient.row,
                "temperature coefficient of %g %%/K is above the %g %%/K that is taken",
                fluid->coefficient.si * 100, DREGS_COMPENSATION_COEFFICIENT_MOST * 100);
    }
    if (item->kind == KIND_CALIBRATION)
        check_calibration(c, item);
}

/* What a substance does to the water that it is drained with. */
static void check_drained(struct checker *c, const struct item *item)
{
    const dregs_value *ph;

    if (item->kind == KIND_SOLUTE || item->kind == KIND_LIQUID)
        dregs_line_check_excludes(c, item, "COD", "formula");
    if (item->kind != KIND_SOLUTE)
        return;
    ph = &c->line->solutes[item->index].ph;
    if (ph->row && ph->si > 14)
        SAY(c, ph->row, "a pH of %g; allowed are 0 to 14", ph->si);
}

/* A circle of liquid among tanks, by overflows and top-ups or by refills. */
struct walk {
    const dregs_line *line;
    int refills;
    unsigned char seen[DREGS_LINE_STAGES]; /* 0 not yet, 1 on the path, 2 done */
    unsigned path[DREGS_LINE_STAGES];
    unsigned depth;
};

static const dregs_stage *owner_of(const dregs_line *line, unsigned tank)
{
    unsigned i;

    for (i = 0; i < line->stage_count; i++)
        if (line->stages[i].tank == (int)tank && !line->stages[i].shares.row)
            return &line->stages[i];
    return NULL;
}

static int next_tank(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? line->stages[link.index].tank : -1;
}

/* Depth first; returns the tank that closes a circle, or -1. */
static int find_circle(struct walk *w, unsigned tank)
{
    const dregs_stage *stage = owner_of(w->line, tank);
    int next[2], i, found;

    if (!stage)
        return -1;
    next[0] = next_tank(w->line, w->refills ? stage->refill_from : stage->overflow_to);
    next[1] = w->refills ? -1 : next_tank(w->line, stage->top_up_from);
    w->seen[tank] = 1;
    w->path[w->depth++] = tank;
    for (i = 0; i < 2; i++) {
        if (next[i] < 0)
            continue;
        if (w->seen[next[i]] == 1)
            return next[i];
        if (w->seen[next[i]] == 0) {
            found = find_circle(w, (unsigned)next[i]);
            if (found >= 0)
                return found;
        }
    }
    w->seen[tank] = 2;
    w->depth--;
    return -1;
}

static void check_circles(struct checker *c, int refills)
{
    struct walk w = {c->line, refills, {0}, {0}, 0};
    unsigned tank, i;
    int closing = -1;
    char text[300] = "";
    size_t used = 0;
    const dregs_stage *stage;

    for (tank = 0; tank < c->line->tank_count && closing < 0; tank++)
        if (w.seen[tank] == 0) {
            w.depth = 0;
            closing = find_circle(&w, tank);
        }
    if (closing < 0)
        return;
    for (i = 0; w.path[i] != (unsigned)closing; i++)
        ;
    stage = owner_of(c->line, (unsigned)closing);
    for (; i < w.depth && used < sizeof text - 1; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s -> ",
                                 owner_of(c->line, w.path[i])->name);
    SAY(c, stage->row, "%s run in a circle: %s%s; break it with 'drain' or a liquid",
        refills ? "refills" : "overflows and top-ups", text, stage->name);
}

/* Every tank that gives its liquid to others at a dump must hold as much. */
static void check_refills(struct checker *c)
{
    dregs_line *line = c->line;
    unsigned i, k;
    char name[DREGS_QUOTED], other[DREGS_QUOTED];

    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        double asked = 0;
        int drawn_from = 0;
        for (k = 0; k < line->stage_count; k++) {
            const dregs_stage *taker = &line->stages[k];
            if (taker->refill_from.kind != DREGS_LINK_STAGE || stage->shares.row ||
                next_tank(line, taker->refill_from) != stage->tank)
                continue;
            drawn_from = 1;
            asked += taker->volume.si;
            if (asked > stage->volume.si * (1 + 1e-12))
                SAY(c, taker->refill_from.row,
                    "%s refills from %s, which holds less than is asked of it at a dump",
                    dregs_quote(name, taker->name), dregs_quote(other, stage->name));
        }
        if (stage->refill_from.row && !stage->dump_every.row && !drawn_from)
            SAY(c, stage->refill_from.row,
                "refill from of %s never acts: it has no 'dump every' or 'dump at' and nothing "
                "refills from it",
                dregs_quote(name, stage->name));
    }
}

static void check_whole(struct checker *c)
{
    dregs_line *line = c->line;
    const struct item *target;
    unsigned i, wet = 0, limits = 0, odd = 0;

    for (i = 0; i < line->item_count; i++)
        odd += line->items[i].kind == KINDS; /* it may be what is missing: said already */
    if (!line->load_count && !odd)
        SAY(c, 0, "no item is a load; a line has at least one");
    if (line->solute_count == 0 && !odd)
        SAY(c, 0, "no item is a solute; name at least the soil");
    for (i = 0; i < line->stage_count; i++)
        wet += (unsigned)dregs_stage_is(&line->stages[i], DREGS_STAGE_WET);
    if (wet == 0 && !odd)
        SAY(c, 0, "no item is a wash, rinse or spray; a line has at least one");
    if (line->target.name) {
        limits += line->target.residue.row != 0;
        for (i = 0; i < line->solute_count; i++)
            limits += line->target.of_solute[i].row != 0;
        target = dregs_line_item(line, line->target.name);
        if (limits + dregs_line_check_concentrations(c) == 0 && !(target && target->meant))
            SAY(c, line->target.row,
                "target '%.60s' states no limit: residue, residue <solute>, level, concentration "
                "<solute>, non-volatile residue, rinse ratio or conductivity",
                line->target.name);
    }
}

static void check_stage(struct checker *c, const struct item *item)
{
    dregs_stage *stage;

    if (!dregs_line_kind_is_stage(item->kind))
        return;
    stage = &c->line->stages[item->index];
    if (stage->heating_efficiency.row && !(stage->heating_efficiency.si > 0))
        SAY(c, stage->heating_efficiency.row, "a heating efficiency of 0 heats nothing");
    if (dregs_stage_kinds[stage->kind]->check)
        dregs_stage_kinds[stage->kind]->check(c, item, stage);
}

dregs_status dregs_line_check(dregs_line *line, const struct item *items, unsigned count,
                              int changed, dregs_faults *faults)
{
    struct checker c = {line, items, count, faults, changed, 0};
    unsigned i;

    if (!changed)
        check_whole(&c);
    dregs_line_check_loads(&c);
    check_weekdays(&c);
    check_schedule(&c);
    for (i = 0; i < count; i++) {
        if (items[i].kind == KINDS)
            continue;
        check_required(&c, &items[i]);
        check_metering(&c, &items[i]);
        check_drained(&c, &items[i]);
        dregs_line_check_limits(&c, &items[i]);
        dregs_line_check_room(&c, &items[i]);
        dregs_line_check_trapped(&c, &items[i]);
        check_stage(&c, &items[i]);
    }
    if (!c.bad && !changed) {
        check_circles(&c, 0);
        check_circles(&c, 1);
    }
    if (!c.bad)
        check_refills(&c);
    return c.bad ? DREGS_BAD_DATA : DREGS_OK;
}
