/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.c: from a film or the dry stages of a line to drying cases, and their answers. */
#include "answer/inside.h"
#include "base/grow.h"
#include "dregs/answer_dry.h"
#include "dregs/balance.h"
#include "dregs/residue.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STEEL_MILLIMETRE 3.9e3 /* J/(m2 K): 1 mm of steel, 7850 kg/m3, 0.5 kJ/(kg K) */

/* A result with what only this file sees of it. */
struct answer {
    dregs_dry_result result; /* first: a result is the address of its answer */
    const dregs_dry_request *request;
    const dregs_liquids *liquids;
    const dregs_line *line;
    dregs_mixtures *mixtures;
    char *message;
    dregs_dry_row row[DREGS_DRY_ROWS_MOST];
    dregs_caution *of_row[DREGS_DRY_ROWS_MOST], *caution;
};

static void assume(dregs_dry_row *row, const char *format, ...) DREGS_FORMAT(2, 3);

static void assume(dregs_dry_row *row, const char *format, ...)
{
    va_list arguments;

    if (row->assumed_count >= DREGS_DRY_ASSUMED_MOST)
        return;
    va_start(arguments, format);
    vsnprintf(row->assumed[row->assumed_count++], sizeof row->assumed[0], format, arguments);
    va_end(arguments);
}

/* A value that was given, or the one that is assumed and said to be. */
static double given_or(dregs_dry_row *row, double given, double otherwise, const char *words)
{
    if (!isnan(given))
        return given;
    assume(row, "%s", words);
    return otherwise;
}

/* What neither the stage nor the options told. */
static void complete(dregs_dry_row *row, const dregs_dry_request *request)
{
    dregs_dry_case *film = &row->film;

    film->pressure = DREGS_ATMOSPHERE;
    film->wall = film->air;
    film->emissivity = 0.9;
    assume(row, "emissivity 0.9, walls as warm as the air, pressure 101.325 kPa");
    film->speed = given_or(row, film->speed, 0.1, "air at 0.1 m/s, the draught of a quiet room");
    film->humid_at = fmin(film->air, DREGS_ROOM); /* an oven heats the air of its room */
    film->humidity =
        given_or(row, film->humidity, 0.5,
                 film->air < DREGS_ROOM + 10
                     ? "fresh air of 50 % relative humidity at 20 degC"
                     : "fresh air of 50 % relative humidity at 20 degC, heated in an oven");
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

/* kg/m2 of solvent and water in a film of the given thickness. */
static dregs_status fill_masses(struct answer *answer, dregs_dry_row *row, const char *liquid,
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
        return status;
    film->mass[0] = thickness * density * (1 - water);
    film->mass[1] = thickness * density * water;
    row->mass = thickness * density;
    row->share = 1 - water;
    return DREGS_OK;
}

/* The recess: a Stefan tube of the film's first liquid. NaN for no recess; 0 when it could not be
 * worked out. */
static double recess_time(const dregs_dry_row *row, double depth)
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

/* s until it is dry by a simpler model; NaN where that could not be had. */
static dregs_status bound(const dregs_dry_row *row, dregs_dry_mode mode, double *time)
{
    dregs_dry_case film = row->film;
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE];
    dregs_status status;

    film.mode = mode;
    status = dregs_dry(&film, 1e-9, &drying, message);
    *time = status || !drying.dry ? NAN : drying.time;
    dregs_drying_clear(&drying);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* W/(m2 K) at first, driven by temperature alone; NaN where it could not be had. */
static double first_heat_transfer(const dregs_dry_case *film)
{
    double coefficient;
    dregs_air air;

    if (dregs_air_at((film->start + film->air) / 2, film->pressure, &air) ||
        dregs_heat_transfer(&air, film->speed, film->length, fabs(film->air / film->start - 1),
                            &coefficient))
        return NAN;
    return coefficient;
}

/* Works a completed row out. */
static dregs_status work_out(struct answer *answer, dregs_dry_row *row, double depth)
{
    dregs_dry_case *film = &row->film;
    dregs_status status = dregs_dry(film, 1e-9, &row->drying, answer->message);

    if (status)
        return status;
    status = bound(row, DREGS_DRY_ISOTHERMAL, &row->isothermal);
    if (!status)
        status = bound(row, DREGS_DRY_WET_BULB, &row->wet_bulb);
    if (status)
        return status;
    row->recess = recess_time(row, depth);
    if (row->recess == 0) { /* the film's answer, and its cautions, are worth having without it */
        assume(row, "no time for the blind hole: %s boils at %.4g degC, or lacks a property there",
               film->liquid[0], film->air - 273.15);
        row->recess = NAN;
    }
    row->by_recess = row->recess > row->drying.time;
    row->time = row->by_recess ? row->recess : row->drying.time;
    row->heat_transfer = first_heat_transfer(film);
    row->vapour = film->mass[0] * film->area;
    row->needed = row->dilution = NAN;
    if (dregs_liquids_row(film->liquids, film->liquid[0], DREGS_LOWER_LIMIT)) {
        if (film->volume > 0 && dregs_dry_fresh_air(film, 0.25, &row->needed, answer->message))
            row->needed = NAN;
        if (film->area > 0)
            (void)dregs_dilution_air(film->liquids, film->liquid[0], row->vapour, DREGS_ROOM, 0.25,
                                     &row->dilution);
    }
    return DREGS_OK;
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
static dregs_status from_stage(struct answer *answer, unsigned index, double at)
{
    const dregs_dry_request *request = answer->request;
    const dregs_line *line = answer->line;
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    const dregs_carried *carried = dregs_line_carried(line, index - 1);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index - 1);
    dregs_dry_row *row = &answer->row[answer->result.rows];
    dregs_dry_case *film = &row->film;
    double capacity = or_nan(&load->mass) * or_nan(&load->heat_capacity) / load->area.si;
    dregs_status status;

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
        assume(row, "%.3g mL trapped per part dries as the film does: no recess depth is stated",
               load->hold_up.si * 1e6);
    if (isnan(request->start) && !wet_temperature_stated(line, index - 1))
        assume(row, "part and film at 20 degC at first: the stage before states no temperature");
    answer->result.rows++;
    return work_out(answer, row,
                    isnan(request->recess) ? or_nan(&load->recess_depth) : request->recess);
}

static dregs_status from_request(struct answer *answer, double at)
{
    const dregs_dry_request *request = answer->request;
    dregs_dry_row *row = &answer->row[answer->result.rows];
    dregs_dry_case *film = &row->film;
    dregs_status status;

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
    answer->result.rows++;
    return work_out(answer, row, request->recess);
}

static dregs_status one_setting(struct answer *answer, double at)
{
    unsigned i, found = 0;
    dregs_status status = DREGS_OK;

    if (!answer->line)
        return from_request(answer, at);
    for (i = 1; i < dregs_line_stages(answer->line) && !status; i++) {
        if (!dregs_stage_is(dregs_line_stage(answer->line, i), DREGS_STAGE_DRIES) ||
            !dregs_stage_is(dregs_line_stage(answer->line, i - 1), DREGS_STAGE_WET))
            continue;
        found = 1;
        if (answer->result.rows >= DREGS_DRY_ROWS_MOST) {
            snprintf(answer->message, DREGS_DRY_MESSAGE, "more than %d dryings asked for",
                     DREGS_DRY_ROWS_MOST);
            return DREGS_DOMAIN;
        }
        status = from_stage(answer, i, at);
    }
    if (status || found)
        return status;
    snprintf(answer->message, DREGS_DRY_MESSAGE, "%s: the line has no dry stage behind a wet one",
             dregs_line_name(answer->line));
    return DREGS_BAD_DATA;
}

/* What cautions are to know of a drying. */
static void gather(const dregs_dry_row *row, dregs_facts *facts)
{
    const dregs_dry_case *film = &row->film;
    double *value = facts->value;

    dregs_facts_init(facts);
    facts->place = DREGS_PLACE_DRYING;
    facts->where = row->stage;
    dregs_facts_of_liquid(facts, film->liquids, film->liquid[0], film->air);
    value[DREGS_FACT_SHARE] = row->share;
    value[DREGS_FACT_WALL] = film->wall;
    value[DREGS_FACT_COLDEST] = row->drying.coldest;
    value[DREGS_FACT_DEW_POINT] = row->drying.dew_point;
    if (row->air_stated)
        value[DREGS_FACT_FRESH_AIR] = film->fresh_air;
    if (!(film->volume > 0)) /* nothing is known of the air then */
        return;
    value[DREGS_FACT_VOLUME] = film->volume;
    value[DREGS_FACT_FLAMMABLE] = row->drying.peak;
    value[DREGS_FACT_VAPOUR] = row->drying.peak_share[0];
}

/* The cautions of each drying, and those of all together. */
static dregs_status caution(struct answer *answer)
{
    unsigned rows = answer->result.rows, i;
    dregs_facts *facts = malloc(rows * sizeof *facts);
    dregs_status status = facts ? DREGS_OK : DREGS_NO_MEMORY;

    for (i = 0; i < rows && !status; i++) {
        gather(&answer->row[i], &facts[i]);
        status =
            dregs_answer_cautions(&facts[i], 1, &answer->of_row[i], &answer->row[i].caution_count);
        answer->row[i].caution = answer->of_row[i];
    }
    if (!status)
        status = dregs_answer_cautions(facts, rows, &answer->caution, &answer->result.cautions);
    free(facts);
    return status;
}

/* kg/m2 that the film of the worst load leaves; NaN where there is no such load. */
static dregs_status worst_residue(const dregs_line *line, double *left)
{
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    dregs_worst worst = {0, 1, 0};
    dregs_residue residue;
    dregs_status status = dregs_map_new(line, &map);

    *left = NAN;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status) {
        state = dregs_state_new(map);
        status = state ? DREGS_OK : DREGS_NO_MEMORY;
    }
    if (!status && worst.in_the_long_run)
        status = dregs_state_periodic(state);
    if (!status && worst.load > 1)
        status = dregs_state_before(state, worst.load);
    if (!status) {
        dregs_residue_next(state, &residue);
        *left = residue.film_total;
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Is the request one that can be answered? */
static dregs_status check(const dregs_dry_request *request, const dregs_line *line, char *message)
{
    const char *wrong = NULL;

    if (line &&
        (request->liquid || !isnan(request->film) || request->water != 0 || !isnan(request->area)))
        wrong = "with a line the film is the line's";
    else if (!line && (!request->liquid || isnan(request->film) || request->at_count == 0))
        wrong = "without a line a liquid, its film and a temperature are needed";
    else if (request->at_count > DREGS_DRY_ROWS_MOST)
        wrong = "too many temperatures";
    else if (!line && (!(request->film > 0) || !(request->water >= 0 && request->water < 1)))
        wrong = "a film is thicker than 0 and not of water alone";
    if (!wrong)
        return DREGS_OK;
    snprintf(message, DREGS_DRY_MESSAGE, "%s", wrong);
    return DREGS_DOMAIN;
}

/* Is it known that the vapour stays below 25 % of its lower flammable limit? Of what can ignite,
 * by a limit or a flash point on record, it is not without a volume, nor without that limit. */
static int vapour_is_safe(const dregs_dry_row *row)
{
    const dregs_dry_case *film = &row->film;
    unsigned i;

    for (i = 0; i < film->count; i++) {
        int limited = dregs_liquids_row(film->liquids, film->liquid[i], DREGS_LOWER_LIMIT) != NULL;
        int burns =
            limited || dregs_liquids_row(film->liquids, film->liquid[i], DREGS_FLASH_POINT) != NULL;
        if (burns && !(limited && film->volume > 0))
            return 0;
    }
    return !(row->drying.peak > 0.25);
}

/* Does each pass, and how do they compare with the first? */
static void judge(struct answer *answer)
{
    const dregs_dry_row *first = &answer->row[0];
    unsigned i;

    answer->result.passes = 1;
    for (i = 0; i < answer->result.rows; i++) {
        dregs_dry_row *row = &answer->row[i];
        row->passes = row->drying.dry && vapour_is_safe(row);
        row->quicker = i && first->drying.dry && row->drying.dry ? first->time / row->time : NAN;
        if (!row->passes)
            answer->result.passes = 0;
    }
}

/* Every drying that is asked for, then what is said of all of them. */
static dregs_status fill(struct answer *answer)
{
    const dregs_dry_request *request = answer->request;
    dregs_status status = request->at_count ? DREGS_OK : one_setting(answer, NAN);
    unsigned i;

    for (i = 0; i < request->at_count && !status; i++)
        status = one_setting(answer, request->at[i]);
    if (status)
        return status;
    judge(answer);
    answer->result.residue = NAN;
    if (answer->line)
        status = worst_residue(answer->line, &answer->result.residue);
    return status ? status : caution(answer);
}

dregs_status dregs_dry_answer(const dregs_dry_request *request, const dregs_liquids *liquids,
                              const dregs_line *line, dregs_dry_result **result, char *message)
{
    dregs_dry_request asked;
    struct answer *answer;
    dregs_status status;

    message[0] = '\0';
    dregs_dry_request_init(&asked);
    status =
        dregs_take(&asked, sizeof asked, request) ? check(&asked, line, message) : DREGS_DOMAIN;
    if (status)
        return status;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->request = &asked;
    answer->liquids = liquids;
    answer->line = line;
    answer->message = message;
    answer->mixtures = dregs_mixtures_new();
    status = answer->mixtures ? fill(answer) : DREGS_NO_MEMORY;
    /* they were there for the time of the call */
    answer->request = NULL;
    answer->message = NULL;
    if (status)
        dregs_dry_result_free(&answer->result);
    else
        *result = &answer->result;
    return status;
}

const dregs_dry_row *dregs_dry_result_row(const dregs_dry_result *result, unsigned index)
{
    return index < result->rows ? &((const struct answer *)(const void *)result)->row[index] : NULL;
}

const dregs_caution *dregs_dry_result_caution(const dregs_dry_result *result, unsigned index)
{
    return index < result->cautions ? &((const struct answer *)(const void *)result)->caution[index]
                                    : NULL;
}

void dregs_dry_result_free(dregs_dry_result *result)
{
    struct answer *answer = (struct answer *)(void *)result;
    unsigned i;

    if (!answer)
        return;
    for (i = 0; i < result->rows; i++) {
        dregs_drying_clear(&answer->row[i].drying);
        free(answer->of_row[i]);
    }
    free(answer->caution);
    dregs_mixtures_free(answer->mixtures);
    free(answer);
}

void dregs_dry_request_init_of_size(dregs_dry_request *request, size_t size)
{
    dregs_dry_request made = {.size = size};

    made.film = made.area = made.start = made.speed = made.humidity = made.heat_capacity =
        made.length = made.volume = made.fresh_air = made.recess = made.until = NAN;
    dregs_give(request, size, &made, sizeof made);
}
