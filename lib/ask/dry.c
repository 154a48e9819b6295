/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: what dregs dry is asked, and its answer in JSON. */
#include "ask/job.h"
#include "dregs/number.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum option {
    LIQUID,
    SHARE,
    FILM,
    AT,
    SWEEP,
    START,
    SPEED,
    AIR,
    NOZZLE,
    NOZZLE_DISTANCE,
    NOZZLE_PITCH,
    HUMIDITY,
    DEW_POINT,
    ROOM,
    CAPACITY,
    LENGTH,
    AREA,
    VOLUME,
    FRESH,
    INTERVAL,
    RECESS,
    BEAD,
    UNTIL,
    OPTIONS
};

static const struct ask_option options[OPTIONS] = {
    [LIQUID] = {"liquid", ASK_WORD},
    [SHARE] = {"share", ASK_WORD},
    [FILM] = {"film", ASK_WORD},
    [AT] = {"at", ASK_LIST},
    [SWEEP] = {"sweep", ASK_WORD},
    [START] = {"start", ASK_WORD},
    [SPEED] = {"air-speed", ASK_WORD},
    [AIR] = {"air", ASK_WORD},
    [NOZZLE] = {"nozzle-diameter", ASK_WORD},
    [NOZZLE_DISTANCE] = {"nozzle-distance", ASK_WORD},
    [NOZZLE_PITCH] = {"nozzle-pitch", ASK_WORD},
    [HUMIDITY] = {"humidity", ASK_WORD},
    [DEW_POINT] = {"dew-point", ASK_WORD},
    [ROOM] = {"room", ASK_WORD},
    [CAPACITY] = {"heat-capacity", ASK_WORD},
    [LENGTH] = {"length", ASK_WORD},
    [AREA] = {"area", ASK_WORD},
    [VOLUME] = {"volume", ASK_WORD},
    [FRESH] = {"fresh-air", ASK_WORD},
    [INTERVAL] = {"interval", ASK_WORD},
    [RECESS] = {"recess-depth", ASK_WORD},
    [BEAD] = {"bead", ASK_WORD},
    [UNTIL] = {"until", ASK_WORD},
};

static dregs_status add_temperature(dregs_dry_request *request, double kelvin, char *message)
{
    if (request->at_count >= DREGS_DRY_ROWS_MOST)
        return dregs_ask_refuse(message, "more than %d temperatures", DREGS_DRY_ROWS_MOST);
    request->at[request->at_count++] = kelvin;
    return DREGS_OK;
}

static dregs_status take_sweep(dregs_dry_request *request, const char *text, char *message)
{
    enum { STEPS = 7 };
    const char *range = text + strlen("temperature="), *dots = strstr(text, "..");
    char first[32];
    double low, high;
    dregs_status status = DREGS_OK;
    int i;

    if (strncmp(text, "temperature=", strlen("temperature=")) != 0 || !dots)
        return dregs_ask_refuse(message, "--sweep '%s' is not temperature=A..B, in degC", text);
    snprintf(first, sizeof first, "%.*s", (int)(dots - range < 31 ? dots - range : 31), range);
    if (dregs_number_read(first, &low) || dregs_number_read(dots + 2, &high) || !(low < high) ||
        !(low > -100) || !(high < 270))
        return dregs_ask_refuse(message,
                                "--sweep '%s' is not temperature=A..B, in degC, within -100 "
                                "and 270",
                                text);
    for (i = 0; i < STEPS && !status; i++)
        status = add_temperature(request, 273.15 + low + (high - low) * i / (STEPS - 1), message);
    return status;
}

/* The options that are one quantity of the request; no `like`: another option. */
static const struct quantity {
    const char *like; /* a unit of its kind */
    double low, high; /* SI */
    size_t offset;    /* where the request keeps it */
} quantities[OPTIONS] = {
    [FILM] = {"um", 1e-8, 0.01, offsetof(dregs_dry_request, film)},
    [START] = {"degC", 200, 550, offsetof(dregs_dry_request, start)},
    [SPEED] = {"m/s", 0, 100, offsetof(dregs_dry_request, speed)},
    [NOZZLE] = {"mm", 1e-5, 1, offsetof(dregs_dry_request, nozzle)},
    [NOZZLE_DISTANCE] = {"mm", 1e-5, 10, offsetof(dregs_dry_request, nozzle_distance)},
    [NOZZLE_PITCH] = {"mm", 1e-5, 10, offsetof(dregs_dry_request, nozzle_pitch)},
    [HUMIDITY] = {"%", 0, 1, offsetof(dregs_dry_request, humidity)},
    [DEW_POINT] = {"degC", 200, 373, offsetof(dregs_dry_request, dew_point)},
    [ROOM] = {"degC", 200, 373, offsetof(dregs_dry_request, room)},
    [CAPACITY] = {"kJ/(m2.K)", 0, 1e7, offsetof(dregs_dry_request, heat_capacity)},
    [LENGTH] = {"cm", 1e-4, 100, offsetof(dregs_dry_request, length)},
    [AREA] = {"m2", 0, 1e5, offsetof(dregs_dry_request, area)},
    [VOLUME] = {"m3", 1e-6, 1e6, offsetof(dregs_dry_request, volume)},
    [FRESH] = {"m3/h", 0, 1e4, offsetof(dregs_dry_request, fresh_air)},
    [BEAD] = {"mL/m", 0, 1e-4, offsetof(dregs_dry_request, bead)},
    [INTERVAL] = {"min", 1, 1e8, offsetof(dregs_dry_request, interval)},
    [RECESS] = {"mm", 0, 10, offsetof(dregs_dry_request, recess)},
    [UNTIL] = {"%", 1e-6, 0.999, offsetof(dregs_dry_request, until)},
};

static dregs_status take_air(dregs_dry_request *request, const char *word, char *message)
{
    int i;

    for (i = 0; i < DREGS_AIR_FLOWS; i++)
        if (strcmp(word, dregs_air_flow_word((dregs_air_flow)i)) == 0) {
            request->air = i;
            return DREGS_OK;
        }
    return dregs_ask_refuse(message, "--air '%s' is not one of laminar, turbulent, tray, jet",
                            word);
}

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    dregs_dry_request *request = &asked->dry;
    const struct ask_option *known = dregs_ask_option(asked->verb, option);
    enum option which = (enum option)(known - options);
    const struct quantity *quantity = &quantities[which];
    double value;
    dregs_status status;

    if (quantity->like)
        return dregs_ask_quantity(option, text, quantity->like, quantity->low, quantity->high,
                                  (double *)(void *)((char *)request + quantity->offset), message);
    switch (which) {
    case LIQUID:
        request->liquid = text;
        return DREGS_OK;
    case SHARE:
        status = dregs_ask_quantity(option, text, "%", 0.01, 1, &value, message);
        request->water = status ? 0 : 1 - value;
        return status;
    case AT:
        status = dregs_ask_quantity(option, text, "degC", 200, 550, &value, message);
        return status ? status : add_temperature(request, value, message);
    case AIR:
        return take_air(request, text, message);
    default:
        return take_sweep(request, text, message);
    }
}

static dregs_status check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message)
{
    const dregs_dry_request *r = &asked->dry;

    (void)accounts;
    (void)beside;
    if (lines && (r->liquid || !isnan(r->film) || r->water > 0 || !isnan(r->area)))
        return dregs_ask_refuse(
            message, "with LINE the film is the line's: no --liquid, --share, --film, --area");
    if (!isnan(r->humidity) && !isnan(r->dew_point))
        return dregs_ask_refuse(message, "--humidity and --dew-point tell the same");
    if (!lines && (!r->liquid || isnan(r->film) || r->at_count == 0))
        return dregs_ask_refuse(message,
                                "without LINE, --liquid, --film and --at (or --sweep) are needed");
    return DREGS_OK;
}

dregs_status dregs_asked_known(const dregs_asked *asked, const dregs_liquids *liquids,
                               char *message)
{
    const char *name = asked->dry.liquid, *near;

    if (!name || dregs_liquids_has(liquids, name))
        return DREGS_OK;
    near = dregs_liquids_nearest(liquids, name);
    (void)dregs_ask_refuse(message, "--liquid '%s' is not in the liquid data%s%s%s", name,
                           near ? "; nearest: '" : "; 'dregs-liquid' lists it", near ? near : "",
                           near ? "'" : "");
    return DREGS_UNKNOWN;
}

/* ---- in JSON ---- */

/* \param faults  room for them: it is too large to be twice on the stack. */
static void dry(struct ask_job *job, const dregs_line *line, dregs_faults *faults)
{
    char message[DREGS_DRY_MESSAGE] = "", words[DREGS_DRY_MESSAGE + 16];
    dregs_dry_result *result = NULL;
    dregs_dry_doubt *doubt = NULL;
    dregs_doubt_request draws;
    dregs_report *report = NULL, *working = NULL;
    dregs_status status = dregs_dry_answer(&job->asked->dry, job->liquids, line, &result, message);

    if (status) {
        snprintf(words, sizeof words, "%s%s",
                 *message ? "" : "drying: ", *message ? message : dregs_status_text(status));
        dregs_ask_failed(job, status, NULL, words);
        return;
    }
    dregs_ask_draws_request(&job->asked->draws, dregs_dry_doubt_usual(result), &draws);
    if (draws.draws)
        status = dregs_ask_drawn(job, dregs_dry_doubt_ask(result, &draws, &doubt, faults), faults);
    if (!status) {
        status = dregs_page_dry_with(line, result, doubt, 0, &report);
        if (!status && job->asked->explain)
            status = dregs_page_dry_with(line, result, doubt, 1, &working);
        dregs_ask_write(job, status, report, working);
    }
    dregs_dry_doubt_free(doubt);
    dregs_dry_result_free(result);
}

static void answer(struct ask_job *job)
{
    char message[DREGS_ASK_MESSAGE];
    const dregs_line *line = NULL;
    dregs_faults faults = {0};
    dregs_status status = dregs_ask_read(job);

    if (!status && dregs_asked_known(job->asked, job->liquids, message))
        status = dregs_ask_misused(job, DREGS_UNKNOWN, "liquid", message);
    if (!status && job->lines) {
        line = job->read[0];
        status = dregs_ask_one_kind(line, &faults);
        if (status)
            dregs_ask_faults(job, status, &faults);
    }
    if (!status)
        dry(job, line, &faults);
}

const struct ask_verb dregs_ask_verb_dry = {"dry", options, OPTIONS, 1,      0,
                                            1,     take,    check,   answer, 1};
