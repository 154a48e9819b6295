/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* replay.c: the line under certain unknowns, let through the loads and dumps of the log. */
#include "balance/balance.h"
#include "line/line.h"
#include "residue/residue.h"
#include "reuse/inside.h"

#include <math.h>
#include <string.h>

void dregs_reuse_engine_clear(struct engine *engine)
{
    dregs_state_free(engine->state);
    dregs_map_free(engine->map);
    dregs_line_free(engine->line);
    dregs_map_free(engine->then_map);
    dregs_line_free(engine->then_line);
    memset(engine, 0, sizeof *engine);
}

/* The alteration that the unknowns of a regime stand for. */
struct alteration dregs_reuse_regime_alteration(const dregs_reuse *reuse,
                                                const struct regime *regime, const double *q)
{
    struct alteration change = regime->settled;
    const dregs_regime *about = &regime->about;
    unsigned i;

    change.drag_out = 1;
    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        change.of_stage[i] = exp(q[Q_STAGE + i]);
    change.soil = exp(q[Q_SOIL]);
    change.adhering = exp(q[Q_ADHERING] - q[Q_SOIL]);
    change.by_hand = reuse->by_hand;
    if (reuse->fresh >= 0) {
        change.fresh = reuse->fresh;
        change.fresh_solute = (unsigned)reuse->dirt_solute[reuse->fresh];
        change.fresh_more = q[Q_FRESH] * reuse->fresh_unit;
    }
    if (reuse->stopped) {
        change.strength = exp(q[Q_STRENGTH]);
        change.flow_of = -2;
        change.flow = 0;
        change.drag_out = exp(q[Q_CHANGE]);
    } else if (about->kind == DREGS_REGIME_DRAG_OUT && about->which < 0) {
        change.drag_out = exp(q[Q_CHANGE]);
    } else if (about->kind == DREGS_REGIME_DRAG_OUT) {
        change.of_stage[about->which] *= exp(q[Q_CHANGE]);
    } else if (about->kind == DREGS_REGIME_SOIL) {
        change.soil *= exp(q[Q_CHANGE]);
    } else if (about->kind == DREGS_REGIME_FLOW) {
        change.flow_of = about->which;
        change.flow = fmax(q[Q_CHANGE], 0.0);
    } else if (about->kind == DREGS_REGIME_DIRTY) {
        change.dirty = about->which;
        change.dirty_solute = about->solute;
        change.dirt = fmax(q[Q_CHANGE], 0.0) * reuse->dirt_unit;
    }
    return change;
}

/* Multiplies what the tanks with a meter hold. */
static void set_level(const dregs_reuse *reuse, struct engine *engine, double factor)
{
    unsigned char done[DREGS_LINE_STAGES] = {0};
    unsigned c, s;

    for (c = 0; c < reuse->channels; c++) {
        int tank = dregs_line_stage(engine->line, reuse->channel[c].stage)->tank;
        if (tank < 0 || done[tank] || reuse->channel[c].what == DREGS_MEASURED_ON_PARTS)
            continue;
        done[tank] = 1;
        for (s = 0; s < dregs_line_solutes(engine->line); s++)
            dregs_balance_state_z(engine->state, s)[tank] *= factor;
    }
}

static dregs_status let_pass(struct engine *engine, int64_t at)
{
    enum { STEPS = 400 }; /* about as dear as a jump */
    uint64_t done = dregs_state_next(engine->state) - 1, until = (uint64_t)at;

    if (at < 0 || until <= done)
        return DREGS_OK;
    if (until - done > STEPS)
        return dregs_state_before(engine->state, until + 1);
    for (; done < until; done++)
        dregs_state_step(engine->state);
    return DREGS_OK;
}

/* The same moment under another map; what `engine` holds besides stays. */
static dregs_status put_under(struct engine *engine, const struct engine *moment)
{
    dregs_state *state = dregs_state_under(engine->map, moment->state);

    if (!state)
        return DREGS_NO_MEMORY;
    dregs_state_free(engine->state);
    engine->state = state;
    memcpy(engine->dumped, moment->dumped, sizeof engine->dumped);
    return DREGS_OK;
}

/* The line becomes the one that it is later on; the first one stays for whoever points to it. */
static dregs_status become(struct engine *engine)
{
    struct engine was = *engine;

    engine->line = was.then_line;
    engine->map = was.then_map;
    engine->then_line = was.line;
    engine->then_map = was.map;
    engine->then_at = INT64_MAX;
    return put_under(engine, &was);
}

dregs_status dregs_reuse_engine_to(struct engine *engine, int64_t at)
{
    dregs_status status = DREGS_OK;

    if (engine->then_map && at > engine->then_at) {
        status = let_pass(engine, engine->then_at);
        if (!status)
            status = become(engine);
    }
    return status ? status : let_pass(engine, at);
}

static double shown_of(const struct engine *engine, const struct channel *channel,
                       double temperature, const double *concentration)
{
    double shown;

    if (dregs_reuse_shown(engine->line, channel->stage, channel->what, channel->which, temperature,
                          concentration, &shown, NULL) ||
        !isfinite(shown))
        return NAN;
    return shown;
}

double dregs_reuse_reading_now(const struct engine *engine, const struct channel *channel,
                               double temperature)
{
    double concentration[DREGS_LINE_SOLUTES];
    unsigned tank = (unsigned)dregs_line_stage(engine->line, channel->stage)->tank, s;
    double volume = dregs_line_tank(engine->line, tank)->volume;

    for (s = 0; s < dregs_line_solutes(engine->line); s++)
        concentration[s] = dregs_state_mass(engine->state, s, tank) / volume;
    return shown_of(engine, channel, temperature, concentration);
}

/* The same of the liquid that the stage is filled with. */
static double fresh_now(const struct engine *engine, const struct channel *channel,
                        double temperature)
{
    double concentration[DREGS_LINE_SOLUTES];
    const dregs_fluid *fluid = dregs_line_wet_with(engine->line, channel->stage);
    unsigned s;

    for (s = 0; s < dregs_line_solutes(engine->line); s++)
        concentration[s] = fluid->content[s].si;
    return shown_of(engine, channel, temperature, concentration);
}

/* What is left on the load that comes next, as far as it comes off. */
static double left_on_parts(const struct engine *engine, const dregs_reading *reading)
{
    dregs_residue residue;

    dregs_residue_next(engine->state, &residue);
    return (reading->recovery > 0 ? reading->recovery : 1.0) *
           dregs_residue_of(&residue, reading->which < DREGS_LINE_SOLUTES ? (int)reading->which
                                                                          : DREGS_EVERY_SOLUTE);
}

static double shown_now(const struct engine *engine, const struct channel *channel,
                        const dregs_reading *reading)
{
    if (reading->what == DREGS_MEASURED_ON_PARTS)
        return left_on_parts(engine, reading);
    return reading->fresh ? fresh_now(engine, channel, reading->temperature)
                          : dregs_reuse_reading_now(engine, channel, reading->temperature);
}

/* The tank of a reading was filled anew after that load. */
static dregs_status dump(struct engine *engine, unsigned stage, int64_t at)
{
    unsigned tank = (unsigned)dregs_line_stage(engine->line, stage)->tank;
    dregs_status status = DREGS_OK;

    if (at <= engine->dumped[tank])
        return DREGS_OK;
    status = dregs_reuse_engine_to(engine, at);
    if (!status)
        status = dregs_state_dump(engine->state, stage);
    engine->dumped[tank] = at;
    return status;
}

/* Dumps of the readings before `to` that fell no later than after load `until`. */
static dregs_status pass_dumps(const dregs_reuse *reuse, struct engine *engine, size_t from,
                               size_t to, int64_t until)
{
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = from; i < to && !status; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->fill <= until)
            status = dump(engine, reading->stage, reading->fill);
    }
    return status;
}

static dregs_status pass_to(const dregs_reuse *reuse, struct engine *engine,
                            const struct regime *regime, int64_t at)
{
    dregs_status status = pass_dumps(reuse, engine, regime->from, regime->about.first, at);

    return status ? status : dregs_reuse_engine_to(engine, at);
}

/* state = share of itself and the rest of the other, of the same moment. */
static void mix(struct engine *engine, const struct engine *other, double share)
{
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(engine->line); s++)
        for (t = 0; t < dregs_line_tanks(engine->line); t++) {
            double *own = &dregs_balance_state_z(engine->state, s)[t];
            *own = share * *own + (1 - share) * dregs_balance_state_z(other->state, s)[t];
        }
}

/* Lets the regime begin: loads pass under the one before until it does, then under `made`. A change
 * within a load is one that befell a share of it. */
static dregs_status begin_regime(const dregs_reuse *reuse, const struct regime *regime,
                                 const double *q, struct engine *made)
{
    int content = regime->about.kind == DREGS_REGIME_CONTENT;
    double first = (double)(dregs_state_next(regime->start.state) - 1);
    const dregs_reading *shows = dregs_readings_at(reuse->readings, regime->about.first);
    /* what is left on parts is of that load itself */
    double last = (double)(shows->at - (shows->what == DREGS_MEASURED_ON_PARTS));
    int known = content || regime->about.kind == DREGS_REGIME_FIRST; /* no unknown of its own */
    double at = fmin(fmax(regime->middle + (known ? 0.0 : q[Q_BEGIN]), first), last);
    int64_t whole = (int64_t)floor(at);
    struct engine before = {0};
    dregs_status status;

    before.line = made->line; /* for its stages and solutes only */
    before.map = regime->start.map;
    status = put_under(&before, &regime->start);
    if (!status)
        status = pass_to(reuse, &before, regime, whole);
    if (!status)
        status = put_under(made, &before);
    if (!status && content)
        set_level(reuse, made, exp(q[Q_CHANGE]));
    if (!status && at > (double)whole) { /* a dump after that load is no part of it */
        status = dregs_reuse_engine_to(made, whole + 1);
        if (!status)
            status = dregs_reuse_engine_to(&before, whole + 1);
        if (!status)
            mix(made, &before, 1.0 - (at - (double)whole));
    }
    if (!status)
        status = pass_dumps(reuse, made, regime->from, regime->about.first, INT64_MAX);
    dregs_state_free(before.state);
    return status;
}

/* The line that it becomes when its films wander. */
static dregs_status make_then(const dregs_reuse *reuse, const struct regime *regime,
                              const double *q, struct alteration change, struct engine *made)
{
    dregs_status status;

    if (regime->wander_at == 0 || !(fabs(q[Q_WANDER]) > 0))
        return DREGS_OK;
    change.drag_out *= exp(q[Q_WANDER]);
    made->then_at = regime->wander_at;
    status = dregs_reuse_altered(reuse->line, &change, &made->then_line);
    return status ? status : dregs_map_new(made->then_line, &made->then_map);
}

dregs_status dregs_reuse_engine_at(const dregs_reuse *reuse, const struct regime *regime,
                                   const double *q, struct engine *engine)
{
    struct alteration change = dregs_reuse_regime_alteration(reuse, regime, q);
    struct engine made = {0};
    dregs_status status = dregs_reuse_altered(reuse->line, &change, &made.line);

    if (!status)
        status = dregs_map_new(made.line, &made.map);
    if (!status && regime->start.state) {
        status = begin_regime(reuse, regime, q, &made);
    } else if (!status) {
        made.state = dregs_state_new(made.map);
        if (!made.state)
            status = DREGS_NO_MEMORY;
    }
    if (!status)
        status = make_then(reuse, regime, q, change, &made);
    if (status) {
        dregs_reuse_engine_clear(&made);
        /* unknowns so far off that no line is like that: the search may look elsewhere */
        return status == DREGS_NO_MEMORY ? status : DREGS_NUMERIC;
    }
    *engine = made;
    return DREGS_OK;
}

dregs_status dregs_reuse_march(const dregs_reuse *reuse, struct engine *engine, size_t from,
                               size_t to, double *expected)
{
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = from; i < to && !status; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        status = dump(engine, reading->stage, reading->fill);
        if (!status)
            status = dregs_reuse_engine_to(engine, reading->at -
                                                       (reading->what == DREGS_MEASURED_ON_PARTS));
        if (!status && reading->what == DREGS_MEASURED_DUMP) {
            expected[i] = NAN;
        } else if (!status) {
            const struct channel *channel = &reuse->channel[reuse->channel_of[i]];
            expected[i] = shown_now(engine, channel, reading);
            /* a curve that ends before its bound: neither for nor against it */
            if (reading->beyond && reading->what == DREGS_MEASURED_SCALE && isnan(expected[i]))
                expected[i] = reading->value;
        }
    }
    return status;
}
