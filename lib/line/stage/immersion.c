/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* immersion.c: what a wash and a rinse have in common: a load goes into a tank, alone or one that
 * another stage states, and what it brings mixes with what is there.
 */
#include "line/check.h"
#include "line/stage/shared.h"

#include <math.h>
#include <stdio.h>

/* A second visit states only what belongs to the visit, and names an earlier stage. */
static void check_shared(struct checker *c, const struct item *item, dregs_stage *stage)
{
    static const char *const own[] = {"volume",
                                      "liquid",
                                      "temperature",
                                      "flow",
                                      "feed",
                                      "overflow to",
                                      "top up from",
                                      "dump every",
                                      "dump at",
                                      "refill from",
                                      "evaporation",
                                      "open area",
                                      "covered",
                                      "air speed",
                                      "perimeter",
                                      "freeboard",
                                      "ultrasonic power",
                                      "ultrasonic CO2 factor",
                                      "wall loss",
                                      "water bath",
                                      "bath coupling",
                                      "capacity",
                                      "change every",
                                      "change price",
                                      "heating efficiency",
                                      "CO2 factor"};
    const dregs_stage *owner = &c->line->stages[stage->shares.index];
    char name[DREGS_QUOTED], other[DREGS_QUOTED];
    unsigned row, s;
    size_t i;

    for (i = 0; i < sizeof own / sizeof own[0]; i++) {
        row = dregs_line_check_given(item, own[i]);
        if (row)
            SAY(c, row, "%s belongs to the tank of %s and cannot be stated again by %s", own[i],
                dregs_quote(other, owner->name), dregs_quote(name, item->name));
    }
    for (s = 0; s < c->line->solute_count; s++)
        if (stage->clearing[s].row)
            SAY(c, stage->clearing[s].row,
                "clearing belongs to the tank of %s and cannot be stated again by %s",
                dregs_quote(other, owner->name), dregs_quote(name, item->name));
    if (stage->shares.index >= item->index)
        SAY(c, stage->shares.row, "%s shares its tank with %s, which is not an earlier stage",
            dregs_quote(name, item->name), dregs_quote(other, owner->name));
    else
        stage->tank = owner->tank;
}

/* `dump at` in loads, from the schedule. */
static void resolve_dump(struct checker *c, const struct item *item, dregs_stage *stage)
{
    const dregs_schedule *schedule = &c->line->schedule;
    const dregs_value *part[3] = {&schedule->loads_per_shift, &schedule->shifts_per_day,
                                  &schedule->days_per_week};
    static const char *const names[3] = {"loads per shift", "shifts per day", "days per week"};
    char name[DREGS_QUOTED];
    double loads = 1.0;
    unsigned row;
    int i;

    if (stage->dump_at == DREGS_DUMP_AT_LOADS)
        return;
    row = dregs_line_check_given(item, "dump at");
    if (!row)
        return;
    for (i = 0; i < (int)stage->dump_at; i++) {
        if (!part[i]->row)
            SAY(c, row, "dump at of %s needs the '%s' of a schedule, which is not given",
                dregs_quote(name, item->name), names[i]);
        loads *= part[i]->si;
    }
    if (loads > DREGS_LINE_PERIOD)
        SAY(c, row, "dump at of %s: every %.0f loads; allowed are %d",
            dregs_quote(name, item->name), loads, DREGS_LINE_PERIOD);
    stage->dump_every.si = loads;
    stage->dump_every.row = row;
}

/* No outline is shorter than the circle that holds the area. */
static void check_perimeter(struct checker *c, const struct item *item, const dregs_stage *stage)
{
    double least = 2.0 * sqrt(3.14159265358979 * stage->open_area.si);

    if (stage->perimeter.row && stage->open_area.row &&
        stage->perimeter.si < least * (1 - 1e-3)) /* of a circle, as it is rounded */
        SAY(c, stage->perimeter.row,
            "perimeter of '%.60s': %g m cannot hold %g m2; a circle of that has %.4g m", item->name,
            stage->perimeter.si, stage->open_area.si, least);
}

/* What is exhausted must be there. */
static void check_capacity(struct checker *c, const struct item *item, const dregs_stage *stage)
{
    unsigned s;

    dregs_line_check_needs(c, item, "change every", "capacity");
    dregs_line_check_needs(c, item, "change price", "capacity");
    for (s = 0; s < c->line->solute_count; s++)
        if (stage->clearing[s].si > 0)
            return;
    if (stage->capacity.row)
        SAY(c, stage->capacity.row,
            "capacity of '%.60s' needs a 'clearing <solute>' above 0, and none is given",
            item->name);
}

/* It changes what is known of the vapour, by either row. */
static void check_idle_temperature(struct checker *c, const struct item *item)
{
    unsigned row = c->changed ? 0 : dregs_line_check_given(item, "idle temperature");
    char name[DREGS_QUOTED];

    if (row && !dregs_line_check_given(item, "open area") &&
        !dregs_line_check_given(item, "evaporation"))
        SAY(c, row,
            "idle temperature of %s goes with 'open area' or 'evaporation', and neither is given",
            dregs_quote(name, item->name));
}

void dregs_stage_immersion_check(struct checker *c, const struct item *item, dregs_stage *stage)
{
    if (stage->shares.row) {
        if (!c->changed)
            check_shared(c, item, stage);
        return;
    }
    stage->tank = (int)c->line->tank_count++;
    if (!c->changed && !dregs_line_check_given(item, "volume"))
        dregs_line_check_missing(c, item, "volume");
    if (!c->changed && !dregs_line_check_given(item, "liquid"))
        dregs_line_check_missing(c, item, "liquid");
    dregs_line_check_excludes(c, item, "dump every", "dump at");
    resolve_dump(c, item, stage);
    if (stage->reclaim.row && stage->overflow_to.kind == DREGS_LINK_STAGE && !stage->dump_every.row)
        SAY(c, stage->reclaim.row,
            "reclaim of '%.60s' never acts: the tank is not dumped and overflows to a stage",
            item->name);
    dregs_line_check_excludes(c, item, "evaporation", "open area");
    dregs_line_check_needs(c, item, "air speed", "open area");
    dregs_line_check_needs(c, item, "covered", "open area");
    dregs_line_check_needs(c, item, "covered idle", "open area");
    check_idle_temperature(c, item);
    dregs_line_check_needs(c, item, "perimeter", "open area");
    dregs_line_check_needs(c, item, "freeboard", "open area");
    if (!stage->temperature.row)
        dregs_line_check_needs(c, item, "wall loss", "ultrasonic power");
    dregs_line_check_needs(c, item, "water bath", "ultrasonic power");
    dregs_line_check_needs(c, item, "ultrasonic CO2 factor", "ultrasonic power");
    dregs_line_check_needs(c, item, "bath coupling", "water bath");
    check_perimeter(c, item, stage);
    check_capacity(c, item, stage);
    if (!stage->feed.row)
        stage->feed = stage->liquid, stage->feed.row = 0;
    if (!stage->top_up_from.row)
        stage->top_up_from = stage->feed, stage->top_up_from.row = 0;
}

/* What `exchange` leaves unmixed of the film, m3: it stays on the load, if it has room. */
static double film_bypass(const dregs_stage *stage, const dregs_carried *carried)
{
    return fmin((1.0 - stage->exchange.si) * dregs_stage_film_in(carried),
                dregs_stage_film_out(carried));
}

int dregs_stage_immersion_film(dregs_line *line, unsigned index, dregs_carried *carried,
                               dregs_faults *faults)
{
    int good = dregs_line_film_stated(line, index, carried, faults);

    carried->bypass =
        film_bypass(&line->stages[index], carried) + (1.0 - carried->opened) * carried->trapped_in;
    return good;
}

int dregs_stage_immersion_fits(const dregs_line *line, unsigned index, const dregs_carried *carried,
                               dregs_faults *faults)
{
    const dregs_stage *stage = &line->stages[index];
    char name[DREGS_QUOTED];

    if (carried->out < line->tanks[stage->tank].volume)
        return 1;
    (void)dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_at(line, stage->row),
                          "a load drags %g L out of %s, more than the tank holds",
                          carried->out * 1e3, dregs_quote(name, stage->name));
    return 0;
}

void dregs_stage_immersion_visit(const dregs_line *line, unsigned index, unsigned substance,
                                 struct stage_visit *visit)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *carried = dregs_line_carried(line, index);
    double bypass = film_bypass(stage, carried), film = dregs_stage_film_in(carried);

    visit->tank = stage->tank;
    visit->off = dregs_stage_is_liquid(line, substance) ? 0.0 : stage->removal[substance].si;
    visit->keep = film > 0 ? bypass / film : 0.0;
    visit->mixes =
        dregs_line_tank(line, (unsigned)stage->tank)->volume + carried->in - carried->bypass;
    visit->takes = dregs_stage_film_out(carried) - bypass;
    visit->trapped.keep = 1.0 - carried->opened;
    visit->trapped.takes = dregs_stage_trapped_new(carried);
}

/* Trapped liquid has its own exchange: how it comes to what it holds. */
static void work_trapped(const dregs_line *line, unsigned index, const dregs_stage_masses *masses,
                         dregs_stage_step *step)
{
    const dregs_carried *c = dregs_line_carried(line, index);
    const dregs_value *opened = dregs_line_hold_up_exchange(line, index);
    struct figures f = {0};

    dregs_stage_step_text(step, "trapped = (1 - hold-up exchange) %s mg + %s mL c = %s mg with %s",
                          dregs_stage_figure(&f, masses->trapped_before * MG),
                          dregs_stage_figure(&f, dregs_stage_trapped_new(c) * ML),
                          dregs_stage_figure(&f, masses->trapped_behind * MG),
                          dregs_stage_figure(&f, opened->si));
    dregs_stage_step_source(step, opened->row, "the default of exchange", "");
}

unsigned dregs_stage_immersion_working(const dregs_line *line, unsigned index, unsigned solute,
                                       const dregs_stage_masses *masses, dregs_stage_step *steps)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *c = dregs_line_carried(line, index);
    double bypass = film_bypass(stage, c), film = dregs_stage_film_in(c);
    double kept = film > 0 ? bypass / film * masses->before : 0.0;
    double mixing = masses->before - kept + c->opened * masses->trapped_before;
    double volume = dregs_line_tank(line, (unsigned)stage->tank)->volume;
    struct figures f = {0};

    if (stage->removal[solute].row && dregs_line_solute(line, solute)->on_parts.row) {
        dregs_stage_step_text(&steps[0], "m = %s mg in the tank (soil taken off: removal %s",
                              dregs_stage_figure(&f, masses->met * MG),
                              dregs_stage_figure(&f, stage->removal[solute].si));
        dregs_stage_step_source(&steps[0], stage->removal[solute].row, "", ")");
    } else {
        dregs_stage_step_text(&steps[0], "m = %s mg in the tank",
                              dregs_stage_figure(&f, masses->met * MG));
    }
    dregs_stage_step_text(
        &steps[1], "c = (m + %s mg) / (%s + %s mL) = %s mg/L", dregs_stage_figure(&f, mixing * MG),
        dregs_stage_figure(&f, volume * ML), dregs_stage_figure(&f, (c->in - c->bypass) * ML),
        dregs_stage_figure(&f, (masses->met + mixing) / (volume + c->in - c->bypass) * MG_PER_L));
    if (bypass > 0)
        dregs_stage_step_text(
            &steps[2], "film = bypass %s mg + (%s - %s mL) c = %s mg",
            dregs_stage_figure(&f, kept * MG), dregs_stage_figure(&f, dregs_stage_film_out(c) * ML),
            dregs_stage_figure(&f, bypass * ML), dregs_stage_figure(&f, masses->behind * MG));
    else
        dregs_stage_step_text(&steps[2], "film = %s mL c = %s mg",
                              dregs_stage_figure(&f, dregs_stage_film_out(c) * ML),
                              dregs_stage_figure(&f, masses->behind * MG));
    if (!dregs_line_traps(line))
        return 3;
    work_trapped(line, index, masses, &steps[3]);
    return 4;
}
