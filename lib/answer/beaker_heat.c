/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker_heat.c: what an open beaker loses, when a bath is warm, when parts are cool. */
#include "answer/beaker.h"
#include "dregs/caution.h"
#include "dregs/dry.h"
#include "dregs/warm.h"
#include "line/line.h"

#include <math.h>

enum { CURVE = 40 };

#define COOL 313.15 /* K: common practice, no source */

static void describe_room(struct beaker *b)
{
    const dregs_line *line = b->line[0];

    b->shown.room = dregs_room_temperature(line);
    b->shown.volume = dregs_answer_beaker_or(b, DREGS_BEAKER_BEAKER, NAN);
}

/* ---- open ---- */

/* What is left of the liquid at a moment, and the water that came from the air until then. */
static void put_open(struct beaker *b, unsigned index, double share, double time)
{
    dregs_beaker_way *way = dregs_answer_beaker_way(b, index, DREGS_BEAKER_TIME, time);
    dregs_open_content held;

    way->line = b->line[0];
    way->text = b->way[0].text;
    way->length = b->way[0].length;
    way->left = 1 - share;
    if (isfinite(time) && !dregs_line_open_uptake(b->line[0], 0, time, &held, NULL))
        way->water = held.water / (held.water + held.solvent);
}

/* At first it is pure, whatever stands there. */
static dregs_status rates_at_first(struct beaker *b)
{
    const dregs_open_content pure = {1, 0};
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_open_surface surface;
    dregs_open_content rates;
    dregs_evaporation e;

    if (!mixtures)
        return DREGS_NO_MEMORY;
    if (!dregs_line_open_surface(b->line[0], 0, 0, &surface, &e, NULL) &&
        !dregs_open_rates(b->liquids, mixtures, dregs_line_wet_with(b->line[0], 0)->solvent,
                          &surface, &pure, &rates, NULL)) {
        b->shown.solvent_rate = rates.solvent;
        b->shown.water_rate = rates.water;
    }
    dregs_mixtures_free(mixtures);
    return DREGS_OK;
}

dregs_status dregs_answer_beaker_open(struct beaker *b)
{
    double share = dregs_answer_beaker_or(b, DREGS_BEAKER_LOSES, 0.1), rate, time;
    dregs_status status = dregs_answer_beaker_standing(b, 0);
    char words[DREGS_NUMBER_TEXT];
    int i;

    if (status)
        return status;
    describe_room(b);
    status = rates_at_first(b);
    rate = b->shown.rate = dregs_line_tank(b->line[0], 0)->evaporation;
    b->shown.asked = share;
    time = share * b->shown.volume / rate; /* infinite where nothing evaporates */
    put_open(b, 0, share, time);
    snprintf(b->way[0].way, sizeof b->way[0].way, "%s %% is gone",
             dregs_number_plain(words, share * 100, 4));
    if (b->given[DREGS_BEAKER_AFTER].text) {
        double after = b->given[DREGS_BEAKER_AFTER].si;
        put_open(b, 1, fmin(after * rate / b->shown.volume, 1), after);
        snprintf(b->way[1].way, sizeof b->way[1].way, "after %s %s",
                 b->given[DREGS_BEAKER_AFTER].value, b->given[DREGS_BEAKER_AFTER].unit);
        time = fmax(time, after);
    }
    for (i = 0; i <= CURVE && !status && isfinite(time); i++)
        status = dregs_answer_beaker_draw(b, 0, time * i / CURVE,
                                          fmax(1 - time * i / CURVE * rate / b->shown.volume, 0));
    return status;
}

/* ---- warm ---- */

/* Seconds to a temperature; infinite where it settles below, NaN where it is not known. */
static dregs_status warm_to(const struct beaker *b, double to, dregs_facts *facts, double *time)
{
    dregs_status status;

    dregs_facts_init(facts);
    status = dregs_facts_of_warming(facts, b->line[0], 0, to);
    *time = facts->value[DREGS_FACT_WARMS_IN];
    return status;
}

dregs_status dregs_answer_beaker_warm(struct beaker *b)
{
    double to = b->given[DREGS_BEAKER_TO].si, start = b->given[DREGS_BEAKER_AT].si, time, end;
    dregs_status status = dregs_answer_beaker_standing(b, 0);
    dregs_beaker_way *way;
    dregs_facts facts;
    int i;

    if (status)
        return status;
    if (!(to > start)) {
        snprintf(b->message, DREGS_BEAKER_MESSAGE, "--to must be above --at: it is to be warmed");
        return DREGS_DOMAIN;
    }
    describe_room(b);
    status = warm_to(b, to, &facts, &time);
    if (status)
        return status;
    if (isnan(time)) {
        snprintf(b->message, DREGS_BEAKER_MESSAGE,
                 "--to %.100s: the liquid boils before, or its heat is not in the liquid data",
                 b->given[DREGS_BEAKER_TO].text);
        return DREGS_OUT_OF_RANGE;
    }
    way = dregs_answer_beaker_way(b, 0, DREGS_BEAKER_TIME, time);
    snprintf(way->way, sizeof way->way, "%.6g degC", to - 273.15);
    way->temperature = facts.value[DREGS_FACT_SETTLES];
    b->shown.asked = to;
    b->shown.start = start;
    /* the line itself says so where something evaporates */
    if (!b->given[DREGS_BEAKER_ROOM].text && !b->given[DREGS_BEAKER_OPENING].text)
        status = dregs_answer_beaker_assume(b, "a room of 20 degC");
    end = isfinite(time) ? to : way->temperature;
    for (i = 0; i <= CURVE && !status; i++) {
        double at = start + (end - start) * i / CURVE * (isfinite(time) ? 1 : 0.99), after = 0;
        status = i ? warm_to(b, at, &facts, &after) : DREGS_OK;
        if (!status)
            status = dregs_answer_beaker_draw(b, 0, after, at);
    }
    return status;
}

/* ---- cool ---- */

struct cooling {
    double heat_capacity, speed, length, emissivity;
};

static struct cooling cooling_of(const struct beaker *b)
{
    const dregs_load *load = dregs_line_load(b->line[0]);
    const dregs_dry_case usual = dregs_dry_usual();

    return (struct cooling){load->mass.si * load->heat_capacity.si / load->area.si,
                            dregs_answer_beaker_or(b, DREGS_BEAKER_AIR_SPEED, usual.speed),
                            load->height.row ? load->height.si : usual.length, usual.emissivity};
}

static dregs_status cool_to(const struct beaker *b, const struct cooling *c, double to,
                            double *time)
{
    return dregs_warm_part(c->heat_capacity, b->shown.start, to, b->shown.room, c->speed, c->length,
                           c->emissivity, time);
}

static dregs_status assume_cooling(struct beaker *b)
{
    dregs_status status = DREGS_OK;

    if (!b->given[DREGS_BEAKER_TO].text)
        status = dregs_answer_beaker_assume(b, "cool: 40 degC (common practice, no source)");
    if (!status && !b->given[DREGS_BEAKER_ROOM].text)
        status = dregs_answer_beaker_assume(b, "a room of 20 degC");
    if (!status && !b->given[DREGS_BEAKER_AIR_SPEED].text)
        status = dregs_answer_beaker_assume(b, "air at 0.1 m/s, the draught of a quiet room");
    if (!status && !b->given[DREGS_BEAKER_HEIGHT].text)
        status = dregs_answer_beaker_assume(b, "parts 10 cm high");
    if (!status && b->given[DREGS_BEAKER_HEAT_CAPACITY].like == BEAKER_WORD)
        status = dregs_answer_beaker_assume(
            b, "%s: %.0f J/(kg K) at 27 degC (Incropera and DeWitt, table A.1; from memory)",
            b->given[DREGS_BEAKER_HEAT_CAPACITY].text,
            dregs_answer_beaker_metal(b->given[DREGS_BEAKER_HEAT_CAPACITY].text));
    return status ? status
                  : dregs_answer_beaker_assume(
                        b, "an emissivity of 0.9; parts that hang free and dry, each with one "
                           "temperature throughout");
}

dregs_status dregs_answer_beaker_cool(struct beaker *b)
{
    double to = dregs_answer_beaker_or(b, DREGS_BEAKER_TO, COOL), time, end;
    dregs_status status = dregs_answer_beaker_oven(b, 0);
    dregs_beaker_way *way;
    struct cooling c;
    int i;

    if (status)
        return status;
    describe_room(b);
    b->shown.start = b->given[DREGS_BEAKER_FROM].si;
    b->shown.asked = to;
    if (!(to < b->shown.start)) {
        snprintf(b->message, DREGS_BEAKER_MESSAGE, "--from must be above --to (%.6g degC)",
                 to - 273.15);
        return DREGS_DOMAIN;
    }
    c = cooling_of(b);
    b->shown.heat_capacity = c.heat_capacity;
    status = cool_to(b, &c, to, &time);
    if (!status)
        status = assume_cooling(b);
    way = dregs_answer_beaker_way(b, 0, DREGS_BEAKER_TIME, time);
    snprintf(way->way, sizeof way->way, "%.6g degC", to - 273.15);
    way->temperature = b->shown.room;
    end = isfinite(time) ? to : b->shown.room + 0.5;
    for (i = 0; i <= CURVE && !status; i++) {
        double at = b->shown.start + (end - b->shown.start) * i / CURVE, after = 0;
        status = i ? cool_to(b, &c, at, &after) : DREGS_OK;
        if (!status)
            status = dregs_answer_beaker_draw(b, 0, after, at);
    }
    return status;
}
