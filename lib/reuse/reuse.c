/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.c: setting up, running and asking of a dregs_reuse. */
#include "base/grow.h"
#include "line/line.h"
#include "reuse/inside.h"

#include <inttypes.h>
#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ASSUMED_NOISE 0.05

#define SAY(r, line_, ...) dregs_fault_add((r)->faults, DREGS_BAD_DATA, line_, __VA_ARGS__)

dregs_status dregs_reuse_assume(dregs_reuse *reuse, const char *format, ...)
{
    void *bigger = realloc(reuse->assumed, (reuse->assumed_count + 1) * sizeof *reuse->assumed);
    va_list arguments;

    if (!bigger)
        return DREGS_NO_MEMORY;
    reuse->assumed = bigger;
    va_start(arguments, format);
    vsnprintf(reuse->assumed[reuse->assumed_count], sizeof *reuse->assumed, format, arguments);
    va_end(arguments);
    reuse->assumed_count++;
    return DREGS_OK;
}

static unsigned owner(const dregs_line *line, unsigned stage)
{
    return dregs_line_tank(line, (unsigned)dregs_line_stage(line, stage)->tank)->stage;
}

/* What a calibration reads without any solute: straight on from its first two points where they do
 * not begin there. */
static double clean_of(const dregs_line *line, const dregs_reading *reading)
{
    const dregs_calibration_point *p;

    if (reading->what != DREGS_MEASURED_SCALE)
        return 0;
    p = dregs_line_scale(line, reading->which)->curve.point;
    return p[0].reading - p[0].concentration * (p[1].reading - p[0].reading) /
                              (p[1].concentration - p[0].concentration);
}

/* The meter of a reading; makes it when it is new. */
static dregs_status find_channel(dregs_reuse *reuse, const dregs_reading *reading, unsigned *index)
{
    struct channel *channel;
    unsigned i;

    for (i = 0; i < reuse->channels; i++) {
        channel = &reuse->channel[i];
        if (channel->stage == reading->stage && channel->what == reading->what &&
            channel->which == reading->which)
            break;
    }
    if (i == CHANNELS_MOST)
        return SAY(reuse, reading->line, "more than %d meters in one log", CHANNELS_MOST);
    channel = &reuse->channel[i];
    if (i == reuse->channels) {
        reuse->channels++;
        channel->stage = reading->stage;
        channel->what = reading->what;
        channel->which = reading->which;
        channel->clean = clean_of(reuse->line, reading);
        channel->noise = reuse->basis.noise_given ? reuse->request.noise : ASSUMED_NOISE;
    }
    channel->unit = reading->unit;
    channel->temperature = reading->temperature;
    *index = i;
    return DREGS_OK;
}

/* A conductivity says nothing where no solute conducts. */
static dregs_status conducts(dregs_reuse *reuse, const dregs_reading *reading)
{
    unsigned s;

    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        if (dregs_line_solute(reuse->line, s)->conductivity.row ||
            dregs_line_solute(reuse->line, s)->electrolyte)
            return DREGS_OK;
    return SAY(reuse, reading->line,
               "a conductivity, but no solute of %.100s states its conductivity or electrolyte",
               dregs_line_name(reuse->line));
}

/* Can the meter say that at all? */
static int can_be(const dregs_reuse *reuse, const dregs_reading *reading, char *message)
{
    double nothing[DREGS_LINE_SOLUTES] = {0}, shown;
    const dregs_scale *scale = dregs_line_scale(reuse->line, reading->which);

    if (reading->what == DREGS_MEASURED_ON_PARTS)
        return 1;
    if (reading->what == DREGS_MEASURED_SCALE && reading->beyond)
        return 1; /* its bound may be where the curve ends */
    if (reading->what == DREGS_MEASURED_SCALE)
        return !dregs_calibration_concentration(&scale->curve, reading->value, &shown, message);
    return !dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                              reading->temperature, nothing, &shown, message);
}

static dregs_status set_up_reading(dregs_reuse *reuse, size_t i)
{
    const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
    char message[DREGS_METER_MESSAGE] = "";
    unsigned channel = 0;
    dregs_status status = DREGS_OK;

    reuse->heard[i].expected = reuse->heard[i].sd = reuse->heard[i].off = NAN;
    if (reading->what == DREGS_MEASURED_DUMP) {
        reuse->heard[i].heard = DREGS_HEARD_DUMP;
        return DREGS_OK;
    }
    if (reading->what == DREGS_MEASURED_CONDUCTIVITY)
        status = conducts(reuse, reading);
    if (!status)
        status = find_channel(reuse, reading, &channel);
    if (status)
        return status;
    reuse->channel_of[i] = (unsigned char)channel;
    if (!can_be(reuse, reading, message)) {
        reuse->heard[i].heard = DREGS_HEARD_UNUSABLE;
        reuse->basis.unusable++;
        return reuse->basis.unusable == 1
                   ? dregs_reuse_assume(reuse, "line %lu of the log is not used: %.180s",
                                        reading->line, message)
                   : DREGS_OK;
    }
    reuse->channel[channel].mean += fabs(reading->value - reuse->channel[channel].clean);
    reuse->channel[channel].used++;
    return DREGS_OK;
}

/* Without a reading of a tank: what one in the last rinse would most likely be. */
static void imagine_meter(const dregs_reuse *reuse, struct channel *channel)
{
    unsigned i, s;

    channel->what = DREGS_MEASURED_RESIDUE;
    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        if (dregs_line_solute(reuse->line, s)->conductivity.row ||
            dregs_line_solute(reuse->line, s)->electrolyte)
            channel->what = DREGS_MEASURED_CONDUCTIVITY;
    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        if (dregs_line_stage(reuse->line, i)->tank >= 0)
            channel->stage = i;
    channel->temperature = NAN;
    channel->unit = UINT_MAX; /* uS/cm or mg/L */
    channel->mean = 1;
    channel->noise = ASSUMED_NOISE;
}

static dregs_status set_up_readings(dregs_reuse *reuse)
{
    dregs_status status = DREGS_OK;
    size_t i, used = 0, read = 0;
    unsigned c;

    for (i = 0; i < reuse->count && !status; i++) {
        status = set_up_reading(reuse, i);
        read += dregs_readings_at(reuse->readings, i)->what != DREGS_MEASURED_DUMP;
    }
    if (status)
        return status;
    imagine_meter(reuse, &reuse->like);
    if (read == 0) {
        reuse->blind = reuse->answer.blind = 1;
        reuse->channel[0] = reuse->like;
        return DREGS_OK;
    }
    for (c = 0; c < reuse->channels; c++) {
        struct channel *channel = &reuse->channel[c];
        used += channel->used;
        channel->mean /= (double)(channel->used ? channel->used : 1);
        if (!(channel->mean > 0))
            channel->mean = 1e-9; /* all readings are zero: no share can be taken of them */
    }
    for (c = reuse->channels; c-- > 0;)
        if (reuse->channel[c].what != DREGS_MEASURED_ON_PARTS)
            reuse->like = reuse->channel[c];
    return used ? DREGS_OK : SAY(reuse, 0, "no reading can be used; %s", reuse->assumed[0]);
}

/* Is any rinse dumped by hand? Without one the washes are what is dumped. */
static int has_rinse(const dregs_reuse *reuse)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        if (reuse->by_hand[i] &&
            dregs_stage_is(dregs_line_stage(reuse->line, i), DREGS_STAGE_RINSES))
            return 1;
    return 0;
}

/* What is assumed of the dumps of a tank. */
static dregs_status assume_dumps(dregs_reuse *reuse, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(reuse->line, index);
    double every = stage->dump_every.si;
    int states = stage->dump_every.row > 0, logged = reuse->count > 0;

    if (stage->tank < 0 || stage->shares.row)
        return DREGS_OK;
    if (reuse->by_hand[index])
        return states && logged
                   ? dregs_reuse_assume(reuse,
                                        "%.60s: dumped when the log says so, and not every %.0f "
                                        "loads as the line file says",
                                        stage->name, every)
                   : DREGS_OK;
    if (states)
        return dregs_reuse_assume(
            reuse, "%.60s: fresh %s, then dumped every %.0f loads as the line file says%s",
            stage->name, logged ? "when the log begins" : "at first", every,
            logged ? " (the log has no row of it)" : "");
    return dregs_reuse_assume(
        reuse, "%.60s: fresh %s", stage->name,
        logged ? "when the log begins, and never dumped since (the log has no row of it)"
               : "at first, and never dumped");
}

/* Tanks that the log speaks of are dumped when it says so, the others as the line file does. */
static dregs_status set_up_dumps(dregs_reuse *reuse)
{
    const dregs_line *line = reuse->line;
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        if (dregs_readings_of(reuse->readings, i))
            reuse->by_hand[owner(line, i)] = 1;
    for (i = 0; i < dregs_line_stages(line) && reuse->count == 0; i++)
        if (dregs_stage_is(dregs_line_stage(line, i), DREGS_STAGE_TANK | DREGS_STAGE_RINSES) &&
            !(dregs_line_stage(line, i)->flow.si > 0))
            reuse->by_hand[owner(line, i)] = 1;
    for (i = 0; i < dregs_line_stages(line) && reuse->count == 0 && !has_rinse(reuse); i++)
        if (dregs_line_stage(line, i)->tank >= 0 && !(dregs_line_stage(line, i)->flow.si > 0))
            reuse->by_hand[owner(line, i)] = 1;
    for (i = 0; i < dregs_line_stages(line) && !status; i++)
        status = assume_dumps(reuse, i);
    return status;
}

/* What dirty fresh liquid would hold, per liquid: what the meter sees; and a usual size of it. */
static void set_up_dirt(dregs_reuse *reuse)
{
    const struct channel *channel = &reuse->like;
    const dregs_line *line = reuse->line;
    double nothing[DREGS_LINE_SOLUTES] = {0}, low = 0, high = 0, step = 1e-3;
    unsigned i, s;

    for (i = 0; i < dregs_line_fluids(line); i++) {
        int seen = -1;
        for (s = 0; s < dregs_line_solutes(line); s++) {
            const dregs_solute *solute = dregs_line_solute(line, s);
            int sees = channel->what == DREGS_MEASURED_CONDUCTIVITY
                           ? solute->conductivity.row || solute->electrolyte
                       : channel->what == DREGS_MEASURED_CONCENTRATION ? s == channel->which
                       : channel->what == DREGS_MEASURED_SCALE
                           ? dregs_line_scale(line, channel->which)->solute < 0 ||
                                 dregs_line_scale(line, channel->which)->solute == (int)s
                           : 1;
            if (sees && (seen < 0 || dregs_line_fluid(line, i)->content[s].si >
                                         dregs_line_fluid(line, i)->content[seen].si))
                seen = (int)s;
        }
        reuse->dirt_solute[i] = seen < 0 ? 0 : seen;
    }
    reuse->dirt_unit = 1e-3;
    (void)dregs_reuse_shown(line, channel->stage, channel->what, channel->which, NAN, nothing, &low,
                            NULL);
    nothing[reuse->dirt_solute[dregs_line_stage(line, channel->stage)->liquid.index]] = step;
    if (!dregs_reuse_shown(line, channel->stage, channel->what, channel->which, NAN, nothing, &high,
                           NULL) &&
        fabs(high - low) > 0 && isfinite(channel->mean / (high - low)))
        reuse->dirt_unit = fabs(channel->mean / (high - low)) * step;
}

/* What comes off a part when it is measured, where no row says how much. */
static dregs_status note_recovery(dregs_reuse *reuse)
{
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->what == DREGS_MEASURED_ON_PARTS && !(reading->recovery > 0))
            return dregs_reuse_assume(
                reuse,
                "residue on parts: 100 %% of it comes off when it is measured "
                "(from line %lu on the log states no recovery)",
                reading->line);
    }
    return DREGS_OK;
}

/* Steps that are counted; a share by mass, and the density that makes it a concentration. */
static dregs_status note_unit(dregs_reuse *reuse, const struct channel *channel)
{
    double density = dregs_readings_unit_density(reuse->readings, channel->unit);

    if (channel->what == DREGS_MEASURED_SCALE &&
        strncmp(dregs_line_scale(reuse->line, channel->which)->unit, "of ", 3) == 0)
        return dregs_reuse_assume(reuse,
                                  "%.60s: a step of '%.60s' is what the colour is read to, where a "
                                  "row states no other resolution",
                                  dregs_line_stage(reuse->line, channel->stage)->name,
                                  dregs_line_scale(reuse->line, channel->which)->name);
    if (!(density > 0))
        return DREGS_OK;
    return dregs_reuse_assume(
        reuse, "%.60s: %.20s by mass, with %.4g g/L of %.60s (a pen's ppm would be a calibration)",
        dregs_line_stage(reuse->line, channel->stage)->name,
        dregs_readings_unit(reuse->readings, channel->unit, NULL), density,
        dregs_line_wet_with(reuse->line, channel->stage)->solvent);
}

static dregs_status set_up_notes(dregs_reuse *reuse)
{
    dregs_status status = note_recovery(reuse);
    unsigned c;

    for (c = 0; c < reuse->channels && !status; c++) {
        const struct channel *channel = &reuse->channel[c];
        const char *stage = dregs_line_stage(reuse->line, channel->stage)->name;
        double coefficient;
        dregs_compensation way =
            dregs_reuse_compensation(reuse->line, channel->stage, &coefficient);
        if (channel->what != DREGS_MEASURED_CONDUCTIVITY) {
            status = note_unit(reuse, channel);
            continue;
        }
        if (isnan(channel->temperature))
            status = dregs_reuse_assume(reuse,
                                        "%.60s: the meter shows conductivity at 25 degC (the log "
                                        "states no temperature)",
                                        stage);
        else if (!dregs_line_wet_with(reuse->line, channel->stage)->compensation_row)
            status = dregs_reuse_assume(
                reuse, "%.60s: compensation '%s' to 25 degC (its liquid states none)", stage,
                dregs_compensation_name(way));
    }
    return status;
}

static void clear_regimes(dregs_reuse *reuse)
{
    unsigned i;

    for (i = 0; i < DREGS_REGIMES_MOST; i++) {
        dregs_reuse_engine_clear(&reuse->regime[i].start);
        free(reuse->regime[i].rivals);
    }
}

void dregs_reuse_free(dregs_reuse *reuse)
{
    if (!reuse)
        return;
    clear_regimes(reuse);
    free(reuse->heard);
    free(reuse->channel_of);
    free(reuse->assumed);
    dregs_bounds_free(reuse->bounds);
    free(reuse);
}

void dregs_reuse_request_init_of_size(dregs_reuse_request *request, size_t size)
{
    dregs_reuse_request made = {size, NAN, NAN, NAN, NAN, 0, NULL, NULL};

    dregs_give(request, size, &made, sizeof made);
}

dregs_status dregs_reuse_prepare(const dregs_line *line, const dregs_readings *readings,
                                 const dregs_reuse_request *request, dregs_reuse **reuse,
                                 dregs_faults *faults)
{
    dregs_reuse *made = calloc(1, sizeof *made);
    dregs_status status = DREGS_OK;

    if (!made)
        return DREGS_NO_MEMORY;
    made->line = line;
    made->readings = readings;
    made->request = *request;
    made->faults = faults;
    made->count = dregs_readings_kept(readings);
    made->heard = calloc(made->count + 1, sizeof *made->heard);
    made->channel_of = calloc(made->count + 1, 1);
    made->basis.noise_given = request->noise > 0;
    made->regimes = 1;
    made->fresh = -1;
    made->regime[0].about.which = made->regime[0].about.rival = -1;
    made->regime[0].settled = dregs_reuse_unaltered();
    if (!made->heard || !made->channel_of)
        status = DREGS_NO_MEMORY;
    if (!status)
        status = set_up_readings(made);
    if (!status)
        status = set_up_dumps(made);
    if (!status)
        status = dregs_reuse_believe(made);
    if (!status)
        status = set_up_notes(made);
    if (status) {
        dregs_reuse_free(made);
        return status;
    }
    set_up_dirt(made);
    dregs_reuse_set_up_fresh(made);
    dregs_reuse_believe_fresh(made, &made->regime[0].before);
    *reuse = made;
    return DREGS_OK;
}

/* How large the change is that a regime begins with. */
static dregs_factor changed_by(const dregs_reuse *reuse, const struct regime *regime)
{
    dregs_regime_kind kind = regime->about.kind;
    double best = regime->after.mean[Q_CHANGE], variance = regime->after.cov[Q_CHANGE][Q_CHANGE];
    double reach = sqrt(variance) * dregs_reuse_quantile(reuse, 0.975, variance,
                                                         regime->before.cov[Q_CHANGE][Q_CHANGE]);
    double unit = kind == DREGS_REGIME_DIRTY ? reuse->dirt_unit : 1.0;

    if (kind == DREGS_REGIME_FLOW || kind == DREGS_REGIME_DIRTY)
        return (dregs_factor){fmax(best, 0.0) * unit, fmax(best - reach, 0.0) * unit,
                              fmax(best + reach, 0.0) * unit};
    return (dregs_factor){exp(best), exp(best - reach), exp(best + reach)};
}

/* The regimes as they are told. */
static void tell_regimes(dregs_reuse *reuse)
{
    unsigned i;

    dregs_reuse_tell_before(reuse);
    for (i = 0; i < reuse->regimes; i++) {
        struct regime *regime = &reuse->regime[i];
        dregs_regime *about = &regime->about;
        const struct belief *after = &regime->after;
        dregs_reuse_tell_factors(reuse, regime);
        about->fresh =
            dregs_reuse_fresh_of(reuse, after,
                                 dregs_reuse_quantile(reuse, 0.975, after->cov[Q_FRESH][Q_FRESH],
                                                      regime->before.cov[Q_FRESH][Q_FRESH]));
        if (about->kind != DREGS_REGIME_FIRST)
            about->of = changed_by(reuse, regime);
    }
}

static dregs_status tell_noise(dregs_reuse *reuse)
{
    dregs_status status = DREGS_OK;
    unsigned c;

    for (c = 0; c < reuse->channels && !status; c++)
        if (reuse->channel[c].assumed)
            status = dregs_reuse_assume(
                reuse,
                "%.60s: the meter scatters by 5 %% of the reading%s, one standard deviation "
                "(too few readings to tell)",
                reuse->channel[c].what == DREGS_MEASURED_ON_PARTS
                    ? "residue on parts"
                    : dregs_line_stage(reuse->line, reuse->channel[c].stage)->name,
                reuse->channel[c].what == DREGS_MEASURED_SCALE ? " beyond that of clean liquid"
                                                               : "");
    return status;
}

/* The meter whose scatter is told: the first with a reading that is judged by it. Bounds tell no
 * scatter, wherever they stand in the log. */
static const struct channel *first_to_scatter(const dregs_reuse *reuse)
{
    const struct channel *bounds = NULL;
    size_t i;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        const struct channel *channel = &reuse->channel[reuse->channel_of[i]];
        if (reuse->heard[i].heard != DREGS_HEARD_USED || reading->sd > 0)
            continue;
        if (!reading->beyond)
            return channel;
        if (!bounds)
            bounds = channel;
    }
    return bounds ? bounds : &reuse->channel[0];
}

static void tell_basis(dregs_reuse *reuse)
{
    dregs_reuse_basis *basis = &reuse->basis;
    const struct channel *first = first_to_scatter(reuse);
    size_t i, stated = 0;

    for (i = 0; i < reuse->count; i++) {
        dregs_heard heard = reuse->heard[i].heard;
        basis->used += heard == DREGS_HEARD_USED;
        basis->outliers += heard == DREGS_HEARD_OUTLIER || heard == DREGS_HEARD_ALONE;
        stated += heard == DREGS_HEARD_USED && dregs_readings_at(reuse->readings, i)->sd > 0;
    }
    basis->noise_stated = !basis->noise_given && stated == basis->used;
    if (!basis->noise_stated && !basis->noise_given && first->freedom > 0 && !reuse->blind)
        basis->freedom = first->freedom > 1 ? (unsigned)first->freedom : 1;
    basis->fresh = reuse->fresh;
    basis->fresh_solute = reuse->fresh < 0 ? 0 : (unsigned)reuse->dirt_solute[reuse->fresh];
    basis->noise = first->noise;
    basis->noise_absolute = first->absolute;
    basis->noise_what = first->what;
    basis->noise_unit = first->unit;
}

/* Where in the sequence of kinds the log begins: a running number says it, counts since a dump do
 * not. */
static dregs_status assume_sequence(dregs_reuse *reuse)
{
    const dregs_line *line = reuse->line;
    size_t i;

    if (dregs_line_kinds(line) < 2 || reuse->count == 0)
        return DREGS_OK;
    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->what != DREGS_MEASURED_DUMP && !reading->fresh && reading->fill < 0)
            return DREGS_OK;
    }
    return dregs_reuse_assume(
        reuse,
        "the first load of the log's first fill is the first of the sequence, "
        "a load %.60s (a running number in a column 'load' would tell)",
        dregs_line_load_name(dregs_line_of_kind(line, dregs_line_kind_at(line, 1))));
}

dregs_status dregs_reuse_new(const dregs_line *line, const dregs_readings *readings,
                             const dregs_reuse_request *request, dregs_reuse **reuse,
                             dregs_faults *faults)
{
    dregs_faults own = {0};
    dregs_reuse_request asked;
    dregs_reuse *made = NULL;
    dregs_status status;

    if (!faults)
        faults = &own;
    snprintf(faults->file, sizeof faults->file, "%s", dregs_readings_name(readings));
    dregs_reuse_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "request: was not set up");
    if (asked.since > DREGS_REUSE_LOADS_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "since: more than %" PRIu64 " loads",
                               (uint64_t)DREGS_REUSE_LOADS_MOST);
    status = dregs_reuse_prepare(line, readings, &asked, &made, faults);
    if (!status)
        status = assume_sequence(made);
    if (!status)
        status = dregs_reuse_doubt_first(made);
    if (!status && made->blind)
        made->regime[0].after = made->regime[0].before;
    if (!status && !made->answer.doubtful && !made->blind) {
        status = dregs_reuse_listen(made);
        if (!status)
            dregs_reuse_doubt_after(made);
    }
    if (!status) {
        status = tell_noise(made);
        tell_basis(made);
        tell_regimes(made);
    }
    if (!status)
        status = dregs_reuse_wander(made);
    if (!status)
        status = dregs_reuse_answer_fill(made);
    if (status) {
        if (status == DREGS_NUMERIC && faults->count == 0)
            (void)dregs_fault_add(faults, status, 0,
                                  "the readings cannot be brought together with the line file: no "
                                  "drag-out and soil explain them");
        dregs_reuse_free(made);
        return status;
    }
    *reuse = made;
    return DREGS_OK;
}

const dregs_reuse_outlook *dregs_reuse_answered(const dregs_reuse *reuse)
{
    return &reuse->answer;
}

const dregs_heard_reading *dregs_reuse_heard(const dregs_reuse *reuse, size_t index)
{
    return index < reuse->count ? &reuse->heard[index] : NULL;
}

unsigned dregs_reuse_regimes(const dregs_reuse *reuse)
{
    return reuse->regimes;
}

const dregs_regime *dregs_reuse_regime(const dregs_reuse *reuse, unsigned index)
{
    return index < reuse->regimes ? &reuse->regime[index].about : NULL;
}

const dregs_reuse_basis *dregs_reuse_rests_on(const dregs_reuse *reuse)
{
    return &reuse->basis;
}

const char *dregs_reuse_assumed(const dregs_reuse *reuse, unsigned index)
{
    return index < reuse->assumed_count ? reuse->assumed[index] : NULL;
}

int dregs_reuse_by_file(const dregs_reuse *reuse, unsigned stage)
{
    const dregs_stage *of;

    if (stage >= dregs_line_stages(reuse->line))
        return 0;
    of = dregs_line_stage(reuse->line, stage);
    return of->tank >= 0 && !of->shares.row && !reuse->by_hand[stage] && of->dump_every.row > 0;
}

int dregs_reuse_cycled(const dregs_reuse *reuse, unsigned stage)
{
    return stage < dregs_line_stages(reuse->line) && reuse->by_hand[stage] &&
           (dregs_stage_is(dregs_line_stage(reuse->line, stage), DREGS_STAGE_RINSES) ||
            !has_rinse(reuse));
}
