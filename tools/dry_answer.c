/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_answer.c: from options or the dry stages of a line to drying cases, and their answers. */
#include "dry.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define STEEL_MILLIMETRE 3.9e3 /* J/(m2 K): 1 mm of steel, 7850 kg/m3, 0.5 kJ/(kg K) */

static void assume(struct dry_row *row, const char *format, ...) DREGS_FORMAT(2, 3);

static void assume(struct dry_row *row, const char *format, ...)
{
    va_list arguments;

    if (row->assumed_count >= ASSUMED_MOST)
        return;
    va_start(arguments, format);
    vsnprintf(row->assumed[row->assumed_count++], sizeof row->assumed[0], format, arguments);
    va_end(arguments);
}

/* A value that was given, or the one that is assumed and said to be. */
static double given_or(struct dry_row *row, double given, double otherwise, const char *words)
{
    if (!isnan(given))
        return given;
    assume(row, "%s", words);
    return otherwise;
}

/* What neither the stage nor the options told. */
static void complete(struct dry_row *row, const struct dry_request *request)
{
    dregs_dry_case *film = &row->film;

    film->pressure = DREGS_ATMOSPHERE;
    film->wall = film->air;
    film->emissivity = 0.9;
    assume(row, "emissivity 0.9, walls as warm as the air, pressure 101.325 kPa");
    film->speed = given_or(row, film->speed, 0.1, "air at 0.1 m/s, the draught of a quiet room");
    film->humid_at = fmin(film->air, DREGS_ROOM); /* an oven heats the air of its room */
    film->humidity = given_or(row, film->humidity, 0.5,
                              "fresh air of 50 % relative humidity at 20 degC, heated in an oven");
    film->heat_capacity = given_or(row, film->heat_capacity, STEEL_MILLIMETRE,
                                   "part of 3.9 kJ/(m2 K): 1 mm of steel behind each wet face");
    film->length = given_or(row, film->length, 0.1, "length of 10 cm along the air");
    film->start = given_or(row, film->start, DREGS_ROOM, "part and film at 20 degC at first");
    film->until = isnan(request->until) ? 1e-3 : request->until;
    if (isnan(film->volume) || film->volume == 0) {
        film->volume = 0;
        assume(row, "vapour does not gather: no volume of room or oven is stated");
    }
    row->air_stated = film->fresh_air > 0; /* none is as good as not stated */
    if (isnan(film->fresh_air)) {
        film->fresh_air = 0;
        if (film->volume > 0)
            assume(row, "no fresh air");
    }
}

static int bad(struct dry_answer *answer, dregs_status status)
{
    return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s%s",
                     *answer->message ? "" : "drying: ",
                     *answer->message ? answer->message : dregs_status_text(status));
}

/* kg/m2 of solvent and water in a film of the given thickness. */
static int fill_masses(struct dry_answer *answer, struct dry_row *row, const char *liquid,
                       double water, double thickness)
{
    dregs_dry_case *film = &row->film;
    double density;
    dregs_status status;

    film->liquids = answer->liquids;
    film->mixtures = answer->mixtures;
    film->liquid[0] = liquid;
    film->count = 1;
    if (water > 0 && strcmp(liquid, "water") != 0) {
        film->liquid[1] = "water";
        film->count = 2;
        /* known at 20 degC only; the film's mass hardly depends on it */
        status = dregs_mixture_value(answer->mixtures, liquid, "water", DREGS_DENSITY, 1 - water,
                                     DREGS_ROOM, &density, answer->message);
    } else {
        water = 0;
        status = dregs_liquids_value(answer->liquids, liquid, DREGS_DENSITY,
                                     film->start > 0 ? film->start : DREGS_ROOM, &density,
                                     answer->message);
    }
    if (status)
        return bad(answer, status);
    film->mass[0] = thickness * density * (1 - water);
    film->mass[1] = thickness * density * water;
    return 0;
}

/* The recess: a Stefan tube of the film's first liquid. NaN for no recess; 0 when it could not be
 * worked out. */
static double recess_time(const struct dry_row *row, double depth)
{
    const dregs_dry_case *film = &row->film;
    const char *liquid = film->liquid[0];
    double diffusivity, pressure, density, molar, flux, time, far = 0;

    if (!(depth > 0))
        return NAN;
    if (dregs_liquids_value(film->liquids, liquid, DREGS_DIFFUSIVITY, film->air, &diffusivity,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_VAPOUR_PRESSURE, film->air, &pressure,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_DENSITY, film->air, &density, NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_MOLAR_MASS, film->air, &molar, NULL) ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->humid_at, &far,
                            NULL) ||
        dregs_stefan_flux(diffusivity, film->air, film->pressure, pressure,
                          strcmp(liquid, "water") == 0 ? film->humidity * far : 0, &flux) ||
        dregs_recess_time(flux, density / molar, depth, &time))
        return 0;
    return time;
}

static double bound(const struct dry_row *row, dregs_dry_mode mode)
{
    dregs_dry_case film = row->film;
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE];
    double time;

    film.mode = mode;
    time = dregs_dry(&film, 1e-9, &drying, message) || !drying.dry ? NAN : drying.time;
    dregs_drying_clear(&drying);
    return time;
}

/* Works a completed row out. */
static int work_out(struct dry_answer *answer, struct dry_row *row, double depth)
{
    dregs_dry_case *film = &row->film;
    dregs_status status = dregs_dry(film, 1e-9, &row->drying, answer->message);

    if (status)
        return bad(answer, status);
    row->isothermal = bound(row, DREGS_DRY_ISOTHERMAL);
    row->wet_bulb = bound(row, DREGS_DRY_WET_BULB);
    row->recess = recess_time(row, depth);
    if (row->recess == 0) { /* the film's answer, and its cautions, are worth having without it */
        assume(row, "no time for the recess: %s boils at %.4g degC, or lacks a property there",
               film->liquid[0], film->air - 273.15);
        row->recess = NAN;
    }
    row->vapour = film->mass[0] * film->area;
    row->needed = row->dilution = NAN;
    if (dregs_liquids_row(film->liquids, film->liquid[0], DREGS_LOWER_LIMIT)) {
        if (film->volume > 0 && dregs_dry_fresh_air(film, 0.25, &row->needed, answer->message))
            row->needed = NAN;
        if (film->area > 0)
            (void)dregs_dilution_air(film->liquids, film->liquid[0], row->vapour, DREGS_ROOM, 0.25,
                                     &row->dilution);
    }
    return 0;
}

static double or_nan(const dregs_value *value)
{
    return value->row ? value->si : NAN;
}

static int wet_temperature_stated(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);

    while (stage->shares.row)
        stage = dregs_line_stage(line, stage->shares.index);
    return stage->temperature.row != 0;
}

/* A dry stage of the line that takes over a wet load. */
static int from_stage(struct dry_answer *answer, unsigned index, double at)
{
    const struct dry_request *request = answer->request;
    const dregs_line *line = answer->line;
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    const dregs_carried *carried = dregs_line_carried(line, index - 1);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index - 1);
    struct dry_row *row = &answer->row[answer->rows];
    dregs_dry_case *film = &row->film;
    double capacity = or_nan(&load->mass) * or_nan(&load->heat_capacity) / load->area.si;
    int status;

    memset(row, 0, sizeof *row);
    row->stage = stage->name;
    film->air = isnan(at) ? stage->temperature.si : at;
    film->start = isnan(request->start) ? dregs_line_temperature(line, index - 1) : request->start;
    film->speed = isnan(request->speed) ? or_nan(&stage->air_speed) : request->speed;
    film->humidity = isnan(request->humidity) ? or_nan(&stage->humidity) : request->humidity;
    film->heat_capacity = isnan(request->heat_capacity) ? capacity : request->heat_capacity;
    film->length = isnan(request->length) ? or_nan(&load->height) : request->length;
    film->volume = isnan(request->volume) ? or_nan(&stage->volume) : request->volume;
    film->fresh_air = isnan(request->fresh_air) ? or_nan(&stage->fresh_air) : request->fresh_air;
    /* bead and hold-up count with the film: their vapour comes too, and sooner is safer */
    film->area = carried->out / carried->thickness;
    complete(row, request);
    status = fill_masses(answer, row, fluid->solvent, 1 - fluid->solvent_share.si,
                         carried->thickness * (1 - stage->blow_off.si));
    if (status)
        return status;
    if (load->hold_up.si > 0 && !load->recess_depth.row && isnan(request->recess))
        assume(row, "%.3g mL held up per part dries as the film does: no recess depth is stated",
               load->hold_up.si * 1e6);
    if (isnan(request->start) && !wet_temperature_stated(line, index - 1))
        assume(row, "part and film at 20 degC at first: the stage before states no temperature");
    answer->rows++;
    return work_out(answer, row,
                    isnan(request->recess) ? or_nan(&load->recess_depth) : request->recess);
}

static int from_options(struct dry_answer *answer, double at)
{
    const struct dry_request *request = answer->request;
    struct dry_row *row = &answer->row[answer->rows];
    dregs_dry_case *film = &row->film;
    int status;

    memset(row, 0, sizeof *row);
    film->air = at;
    film->start = request->start;
    film->speed = request->speed;
    film->humidity = request->humidity;
    film->heat_capacity = request->heat_capacity;
    film->length = request->length;
    film->volume = request->volume;
    film->fresh_air = request->fresh_air;
    film->area = isnan(request->area) ? 0 : request->area;
    complete(row, request);
    if (isnan(request->area) && film->volume > 0) {
        film->area = 1;
        assume(row, "1 m2 of wet face in the room or oven");
    }
    status = fill_masses(answer, row, request->liquid, request->water, request->film);
    if (status)
        return status;
    answer->rows++;
    return work_out(answer, row, request->recess);
}

static int one_setting(struct dry_answer *answer, double at)
{
    unsigned i;
    int status = 0, found = 0;

    if (!answer->line)
        return from_options(answer, at);
    for (i = 1; i < dregs_line_stages(answer->line) && !status; i++) {
        if (dregs_line_stage(answer->line, i)->kind != DREGS_DRY ||
            dregs_line_stage(answer->line, i - 1)->kind == DREGS_DRY)
            continue;
        found = 1;
        if (answer->rows >= DRY_ROWS_MOST)
            return front_say(FRONT_BAD_DATA, "more than %d dryings asked for", DRY_ROWS_MOST);
        status = from_stage(answer, i, at);
    }
    if (!status && !found)
        status = front_say(FRONT_BAD_DATA, "%s: the line has no dry stage behind a wet one",
                           answer->request->file);
    return status;
}

int dry_fill(struct dry_answer *answer, const struct dry_request *request,
             const dregs_liquids *liquids, const dregs_line *line)
{
    dregs_map *map = NULL;
    dregs_worst worst;
    dregs_state *state;
    dregs_residue residue;
    unsigned i;
    int status = 0;

    answer->request = request;
    answer->liquids = liquids;
    answer->line = line;
    answer->residue = NAN;
    answer->mixtures = dregs_mixtures_new();
    answer->regulations = dregs_regulations_new();
    if (!answer->mixtures || !answer->regulations)
        return front_say(FRONT_IO, "out of memory");
    if (request->at_count == 0)
        status = one_setting(answer, NAN);
    for (i = 0; i < request->at_count && !status; i++)
        status = one_setting(answer, request->at[i]);
    if (status || !line)
        return status;
    /* what the film leaves: the engine's answer for the worst load */
    if (!dregs_map_new(line, &map) &&
        !dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst)) {
        state = dregs_state_new(map);
        if (state && (!worst.in_the_long_run || !dregs_state_periodic(state)) &&
            (worst.load == 1 || !dregs_state_before(state, worst.load))) {
            dregs_residue_next(state, &residue);
            answer->residue = residue.film_total;
        }
        dregs_state_free(state);
    }
    dregs_map_free(map);
    return 0;
}

void dry_clear(struct dry_answer *answer)
{
    unsigned i;

    for (i = 0; i < answer->rows; i++)
        dregs_drying_clear(&answer->row[i].drying);
    dregs_mixtures_free(answer->mixtures);
    dregs_regulations_free(answer->regulations);
}

static struct dry_caution *add(struct dry_caution *cautions, unsigned *count, const char *id,
                               const char *source)
{
    struct dry_caution *caution = &cautions[(*count)++];

    caution->id = id;
    caution->source = source;
    return caution;
}

static double known(const struct dry_row *row, dregs_property property)
{
    double value = NAN;

    (void)dregs_liquids_value(row->film.liquids, row->film.liquid[0], property, row->film.air,
                              &value, NULL);
    return value;
}

/* Bans and restrictions on record of the film's first liquid. */
static void add_restrictions(const struct dry_answer *answer, const char *liquid,
                             struct dry_caution *cautions, unsigned *count)
{
    static const char *const words[] = {"prohibit", "authorisation", "restricted"};
    const dregs_regulation *rule;
    struct dry_caution *c;
    size_t i, w;

    for (i = 0; (rule = dregs_regulations_at(answer->regulations, i)) != NULL; i++) {
        for (w = 0; w < 3 && !strstr(rule->fact, words[w]); w++)
            ;
        if (w == 3 || strcmp(rule->liquid, liquid) != 0 || *count >= DRY_CAUTIONS_MOST)
            continue;
        c = add(cautions, count, "restriction", rule->citation);
        snprintf(c->text, sizeof c->text, "%s, %s: %s (status %s, %s)", liquid, rule->jurisdiction,
                 rule->fact, rule->status_date, rule->citation);
    }
}

unsigned dry_cautions(const struct dry_answer *answer, const struct dry_row *row,
                      struct dry_caution *cautions)
{
    const dregs_dry_case *film = &row->film;
    const char *liquid = film->liquid[0];
    double flash = known(row, DREGS_FLASH_POINT), ignition = known(row, DREGS_AUTOIGNITION);
    double limit = known(row, DREGS_LOWER_LIMIT), exposure = known(row, DREGS_EXPOSURE_LIMIT);
    struct dry_caution *c;
    unsigned count = 0;

    if ((isnan(limit) || isnan(flash)) && strcmp(liquid, "water") != 0) {
        c = add(cautions, &count, "no fire data", "common practice, no source");
        snprintf(
            c->text, sizeof c->text,
            "no %s of %s is on record here. That does not mean that it cannot burn: look it up "
            "before it is dried.",
            isnan(flash) ? "flash point" : "lower flammable limit", liquid);
    }
    if (!isnan(limit) && film->volume > 0 && !row->air_stated) {
        c = add(cautions, &count, "closed oven", "29 CFR 1910.94(c)(6): 25 % of the lower limit");
        snprintf(c->text, sizeof c->text,
                 "a film of %s in a room or oven without stated fresh air: its vapour reaches "
                 "%.3g %% of the lower flammable limit. Do not dry it so: ventilate, and let it "
                 "drip and air first.",
                 liquid, row->drying.peak * 100);
    }
    if (!isnan(flash) && film->air >= flash - 16.7) {
        c = add(cautions, &count, "flash point", "29 CFR 1910.106 (within 30 degF)");
        snprintf(
            c->text, sizeof c->text,
            "the air is at %.4g degC, %s's flash point is %.4g degC: its vapour can take fire. "
            "No open flame, spark or glowing element.",
            film->air - 273.15, liquid, flash - 273.15);
    }
    if (row->drying.peak >= 0.25 && row->air_stated) {
        c = add(cautions, &count, "vapour", "29 CFR 1910.94(c)(6): 25 % of the lower limit");
        snprintf(
            c->text, sizeof c->text,
            "the vapour in the air reaches %.3g %% of the lower flammable limit; keep it below "
            "25 %%.",
            row->drying.peak * 100);
    }
    if (!isnan(ignition) && film->wall - 273.15 >= 0.8 * (ignition - 273.15)) {
        c = add(cautions, &count, "autoignition", "common practice, no source: 80 % of it in degC");
        snprintf(c->text, sizeof c->text,
                 "the walls are at %.4g degC, %s ignites by itself at %.4g degC: too near.",
                 film->wall - 273.15, liquid, ignition - 273.15);
    }
    if (!isnan(exposure) && film->volume > 0 && row->drying.peak_share[0] > exposure) {
        c = add(cautions, &count, "exposure", "the limit's own publication");
        snprintf(c->text, sizeof c->text,
                 "the vapour reaches %.4g ppm; the limit for a shift of 8 h is %.4g ppm. Nobody "
                 "breathes it: extract.",
                 row->drying.peak_share[0] * 1e6, exposure * 1e6);
    }
    if (film->air >= 323.15) {
        c = add(cautions, &count, "hot parts", "common practice, no source");
        snprintf(c->text, sizeof c->text,
                 "parts come out at up to %.4g degC. Let them cool before they are touched.",
                 film->air - 273.15);
    }
    if (row->drying.wet_spots) {
        c = add(cautions, &count, "wet spots", "common practice, no source");
        snprintf(c->text, sizeof c->text,
                 "the film falls to %.3g degC, below the dew point of %.3g degC: water of the room "
                 "condenses into it and may leave spots. Drier or warmer air, or a slower solvent.",
                 row->drying.coldest - 273.15, row->drying.dew_point - 273.15);
    }
    add_restrictions(answer, liquid, cautions, &count);
    return count;
}
