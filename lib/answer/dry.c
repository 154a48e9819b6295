/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: a request of films to be dried, and its answer. */
#include "answer/dry.h"
#include "base/grow.h"
#include "base/text.h"
#include "dry/dry.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Is the request one that can be answered? */
static dregs_status check(const dregs_dry_request *request, const dregs_line *line, char *message)
{
    const char *wrong = NULL;

    if (line)
        wrong = request->liquid         ? "liquid: with a line the film is the line's"
                : !isnan(request->film) ? "film: with a line it is the line's"
                : request->water != 0   ? "water: with a line the film is the line's"
                : !isnan(request->area) ? "area: with a line it is the line's"
                                        : NULL;
    else
        wrong = !request->liquid         ? "liquid: needed without a line"
                : isnan(request->film)   ? "film: needed without a line"
                : !(request->film > 0)   ? "film: not thicker than 0"
                : !(request->water >= 0) ? "water: below 0"
                : !(request->water < 1)  ? "water: a film of water alone has water as its liquid"
                : !request->at_count     ? "at_count: without a line a temperature is needed"
                                         : NULL;
    if (!wrong && request->at_count > DREGS_DRY_ROWS_MOST)
        wrong = "at_count: too many temperatures";
    if (!wrong && !isnan(request->humidity) && !isnan(request->dew_point))
        wrong =
            "humidity: the room's is told in two ways, by itself and as a dew point (dew_point)";
    return wrong ? dregs_refuse(message, DREGS_DRY_MESSAGE, "%s", wrong) : DREGS_OK;
}

static dregs_status one_setting(struct dry_answer *answer, double at)
{
    return answer->line ? dregs_answer_dry_of_line(answer, at)
                        : dregs_answer_dry_of_request(answer, at);
}

/* Does each pass, and how do they compare with the first? */
static void judge(struct dry_answer *answer)
{
    const dregs_dry_row *first = &answer->row[0];
    unsigned i;

    answer->result.passes = 1;
    for (i = 0; i < answer->result.rows; i++) {
        dregs_dry_row *row = &answer->row[i];
        row->vapour_open = !dregs_answer_dry_vapour_is_safe(row);
        row->trapped_open = answer->line && row->drying.dry && !row->late && !row->dries_on &&
                            (row->beads_unknown || row->holes_unknown);
        row->passes = row->drying.dry && !row->late && !row->trapped_open && !row->vapour_open;
        row->quicker = i && first->drying.dry && row->drying.dry ? first->time / row->time : NAN;
        if (!row->passes)
            answer->result.passes = 0;
    }
}

dregs_status dregs_answer_dry_rows(struct dry_answer *answer)
{
    const dregs_dry_request *request = &answer->request;
    dregs_status status = request->at_count ? DREGS_OK : one_setting(answer, NAN);
    unsigned i;

    for (i = 0; i < request->at_count && !status; i++)
        status = one_setting(answer, request->at[i]);
    if (!status)
        judge(answer);
    return status;
}

/* Every drying that is asked for, then what is said of all of them. */
static dregs_status fill(struct dry_answer *answer)
{
    dregs_status status = dregs_answer_dry_rows(answer);

    answer->result.residue = NAN;
    if (!status && answer->line)
        status = dregs_answer_dry_residue(answer->line, &answer->result.residue);
    return status ? status : dregs_answer_dry_caution(answer);
}

dregs_status dregs_dry_answer(const dregs_dry_request *request, const dregs_liquids *liquids,
                              const dregs_line *line, dregs_dry_result **result, char *message)
{
    dregs_dry_request asked;
    struct dry_answer *answer;
    dregs_status status;

    message[0] = '\0';
    dregs_dry_request_init(&asked);
    status =
        dregs_take(&asked, sizeof asked, request) ? check(&asked, line, message) : DREGS_DOMAIN;
    if (!status && line && dregs_line_kinds(line) > 1) {
        snprintf(message, DREGS_DRY_MESSAGE, "loads of several kinds are not taken here yet");
        status = DREGS_BAD_DATA;
    }
    if (status)
        return status;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->request = asked;
    answer->liquids = liquids;
    answer->line = line;
    answer->message = message;
    answer->tolerance = DREGS_DRY_TOLERANCE;
    answer->mixtures = answer->own_mixtures = dregs_mixtures_new();
    status = answer->mixtures ? fill(answer) : DREGS_NO_MEMORY;
    answer->message = NULL; /* it was there for the time of the call */
    if (status)
        dregs_dry_result_free(&answer->result);
    else
        *result = &answer->result;
    return status;
}

const dregs_dry_row *dregs_dry_result_row(const dregs_dry_result *result, unsigned index)
{
    return index < result->rows ? &((const struct dry_answer *)(const void *)result)->row[index]
                                : NULL;
}

const dregs_caution *dregs_dry_result_caution(const dregs_dry_result *result, unsigned index)
{
    return index < result->cautions
               ? &((const struct dry_answer *)(const void *)result)->caution[index]
               : NULL;
}

void dregs_answer_dry_clear(struct dry_answer *answer)
{
    unsigned i;

    for (i = 0; i < answer->result.rows; i++) {
        dregs_drying_clear(&answer->row[i].drying);
        free(answer->of_row[i]);
        answer->of_row[i] = NULL;
    }
    answer->result.rows = 0;
}

void dregs_dry_result_free(dregs_dry_result *result)
{
    struct dry_answer *answer = (struct dry_answer *)(void *)result;

    if (!answer)
        return;
    dregs_answer_dry_clear(answer);
    free(answer->caution);
    dregs_mixtures_free(answer->own_mixtures);
    free(answer);
}

void dregs_dry_request_init_of_size(dregs_dry_request *request, size_t size)
{
    dregs_dry_request made = {.size = size};

    made.film = made.area = made.start = made.speed = made.humidity = made.heat_capacity =
        made.length = made.volume = made.fresh_air = made.recess = made.until = made.interval =
            made.room = made.dew_point = NAN;
    made.nozzle = made.nozzle_distance = made.nozzle_pitch = made.bead = NAN;
    made.air = -1;
    dregs_give(request, size, &made, sizeof made);
}
