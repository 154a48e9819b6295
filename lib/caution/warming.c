/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* warming.c: how ultrasonic power warms the liquid of a stage: when it comes near its flash point,
 * where it settles, and how long it takes to cool again; and how long parts take to cool that leave
 * an oven.
 */
#include "caution/rules.h"
#include "dregs/dry.h"
#include "dregs/evaporation.h"
#include "dregs/warm.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

#define AGAIN 1.0 /* K above where it settles: taken as cool again */

enum { COLDEST = 150, KELVINS = 700 }; /* K, and how many from there are kept */

/* An open surface of a tank, for what it loses by evaporation. */
struct surface {
    const dregs_liquids *liquids;
    const char *solvent;
    dregs_open_surface open;
    double area;          /* m2 that is not covered; 0: it loses nothing */
    double lost[KELVINS]; /* W at whole kelvins, as they are asked for */
    char known[KELVINS];
};

/* W; 0 where no law applies, so that it is not said to be cooler than it is; NaN where it boils. */
static double evaporation_at(double temperature, struct surface *s)
{
    double heat, boiling;
    dregs_liquid_class class = DREGS_CLASS_OTHER;
    dregs_evaporation e;

    if (!dregs_liquids_value(s->liquids, s->solvent, DREGS_BOILING_POINT, NAN, &boiling, NULL) &&
        temperature >= boiling)
        return NAN;
    if (!(s->area > 0))
        return 0;
    s->open.temperature = temperature;
    (void)dregs_liquids_class(s->liquids, s->solvent, &class, NULL);
    /* ultrasound stirs a solvent's surface warm, which asks for no balance at every step */
    s->open.conductivity = class == DREGS_CLASS_WATER
                               ? dregs_open_conductivity(s->liquids, s->solvent, temperature)
                               : 0.0;
    if (dregs_open_evaporation(s->liquids, s->solvent, &s->open, &e, NULL) ||
        dregs_liquids_value(s->liquids, s->solvent, DREGS_HEAT_OF_VAPORISATION, temperature, &heat,
                            NULL))
        return 0;
    return e.flux * s->area * heat;
}

static double evaporation_at_node(int kelvin, struct surface *s)
{
    int i = kelvin - COLDEST;

    if (!s->known[i]) {
        s->lost[i] = evaporation_at(kelvin, s);
        s->known[i] = 1;
    }
    return s->lost[i];
}

/* The same between whole kelvins, by the cubic through the four next to it: two bodies ask for it
 * some ten thousand times. Vapour pressures double in about 12 K, which makes that 1e-6 of it. */
static double evaporation(double temperature, void *user)
{
    struct surface *s = user;
    double t = temperature - floor(temperature), node[4];
    int first = (int)floor(temperature) - 1, i;

    if (!(first >= COLDEST && first + 3 < COLDEST + KELVINS))
        return evaporation_at(temperature, s);
    for (i = 0; i < 4; i++) {
        node[i] = evaporation_at_node(first + i, s);
        if (!(node[i] > 0)) /* it boils, or no law applies */
            return evaporation_at(temperature, s);
    }
    return node[1] + t / 2 * (node[2] - node[0]) + t * t * (node[0] / 2 - node[1] + node[2] / 2) +
           t * (t * t - 1) / 6 * (node[3] - 3 * node[2] + 3 * node[1] - node[0]);
}

/* J/(m3 K) of a liquid near room temperature; NaN where it is not known. */
static double volume_heat(const dregs_liquids *liquids, const char *liquid)
{
    double density, heat;

    if (dregs_liquids_value(liquids, liquid, DREGS_DENSITY, DREGS_ROOM, &density, NULL) ||
        dregs_liquids_value(liquids, liquid, DREGS_HEAT_CAPACITY, DREGS_ROOM, &heat, NULL))
        return NAN;
    return density * heat;
}

/* The less of solvent and water, where it is a mixture: it warms sooner. */
static double liquid_heat(const dregs_line *line, const dregs_fluid *fluid)
{
    const dregs_liquids *liquids = dregs_line_liquids(line);
    double heat = volume_heat(liquids, fluid->solvent);

    return fluid->solvent_share.si < 1 ? fmin(heat, volume_heat(liquids, "water")) : heat;
}

static void set_surface(const dregs_line *line, unsigned index, double room, struct surface *s)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    dregs_evaporation e;

    memset(s, 0, sizeof *s);
    s->liquids = dregs_line_liquids(line);
    s->solvent = fluid->solvent;
    /* of a mixture no evaporation is known: it would only cool */
    if (fluid->solvent_share.si < 1 || !(stage->open_area.si > 0) ||
        dregs_line_open_surface(line, (unsigned)stage->tank, 0, &s->open, &e, NULL))
        return;
    s->open.room = room;
    s->area = stage->open_area.si * (1.0 - stage->covered.si);
}

static void set_bodies(const dregs_line *line, unsigned index, struct surface *surface,
                       dregs_warm_case *warm)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    dregs_warm_body *liquid;

    memset(warm, 0, sizeof *warm);
    warm->bodies = stage->water_bath.row ? 2 : 1;
    warm->room =
        dregs_line_room(line)->temperature.row ? dregs_line_room(line)->temperature.si : DREGS_ROOM;
    warm->coupling = dregs_line_bath_coupling(stage);
    liquid = &warm->body[warm->bodies - 1];
    warm->body[0].heat_capacity =
        stage->water_bath.si * volume_heat(dregs_line_liquids(line), "water");
    liquid->heat_capacity = stage->volume.si * liquid_heat(line, dregs_line_wet_with(line, index));
    warm->body[0].power = stage->ultrasonic_power.si;
    warm->body[0].wall_loss = dregs_line_wall_loss(stage);
    set_surface(line, index, warm->room, surface);
    liquid->loss = evaporation;
    liquid->user = surface;
}

dregs_status dregs_facts_of_warming(dregs_facts *facts, const dregs_line *line, unsigned index,
                                    double margin)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    double start[2], at[2] = {NAN, NAN}, off[2], time;
    struct surface surface;
    dregs_warm_case warm;
    dregs_status status;
    unsigned last;

    if (!stage->ultrasonic_power.row || stage->tank < 0 || stage->shares.row)
        return DREGS_UNKNOWN;
    set_bodies(line, index, &surface, &warm);
    last = warm.bodies - 1;
    start[0] = start[1] = dregs_line_temperature(line, index);
    facts->value[DREGS_FACT_POWER] = stage->ultrasonic_power.si;
    status = dregs_warm_settles(&warm, at);
    if (!status)
        facts->value[DREGS_FACT_SETTLES] = at[last];
    else if (status != DREGS_OUT_OF_RANGE)
        return status;
    if (!isnan(margin) &&
        !dregs_caution_failed(facts, dregs_warm_time(&warm, start, last, margin, &time)) &&
        margin > start[last])
        facts->value[DREGS_FACT_WARMS_IN] = time;
    /* from there, or from where it settles below, back to where it was or near where it settles */
    warm.body[0].power = 0;
    at[0] = at[1] = margin > start[last] ? fmin(margin, at[last]) : at[last]; /* passes over NaN */
    if (isnan(at[0]) || dregs_warm_settles(&warm, off))
        return DREGS_OK;
    facts->value[DREGS_FACT_COOLS_FROM] = at[last];
    facts->value[DREGS_FACT_COOLS_TO] = fmax(start[last], off[last] + AGAIN);
    if (at[last] > facts->value[DREGS_FACT_COOLS_TO] &&
        !dregs_caution_failed(
            facts, dregs_warm_time(&warm, at, last, facts->value[DREGS_FACT_COOLS_TO], &time)))
        facts->value[DREGS_FACT_COOLS_IN] = time;
    return DREGS_OK;
}

void dregs_facts_of_parts(dregs_facts *facts, double heat_capacity, double length, double from)
{
    const dregs_dry_case usual = dregs_dry_usual();
    double time, to = 313.15; /* K: touched without harm; common practice, no source */

    if (!(from > to))
        return;
    if (!dregs_caution_failed(
            facts, dregs_warm_part(isnan(heat_capacity) ? usual.heat_capacity : heat_capacity, from,
                                   to, DREGS_ROOM, usual.speed,
                                   isnan(length) ? usual.length : length, usual.emissivity, &time)))
        facts->value[DREGS_FACT_PARTS_COOL_IN] = time;
    facts->value[DREGS_FACT_PARTS_ASSUMED] = isnan(heat_capacity);
}
