/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_sure.c: how sure a sizing is, and the one that is as sure as asked for. */
#include "answer/size.h"
#include "base/text.h"
#include "line/line.h"
#include "size/size.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

/* What is asked for: by the request, else by the target; NaN for nothing. */
double dregs_answer_size_confidence(const dregs_line *line, const dregs_size_request *request)
{
    const dregs_value *stated = &dregs_line_target(line)->confidence;

    if (!isnan(request->confidence))
        return request->confidence;
    return stated->row ? stated->si : NAN;
}

/* Where nobody says how many: no fewer than twice what can tell the probability at all. */
static uint64_t draws_of(const dregs_line *line, const dregs_size_request *request)
{
    double confidence = dregs_answer_size_confidence(line, request);
    uint64_t usual;

    if (request->draws != DREGS_SIZE_DRAWS_USUAL)
        return request->draws;
    usual = dregs_ensemble_usual(line);
    if (request->first && usual > DREGS_SIZE_DRAWS_LAYOUT)
        usual = DREGS_SIZE_DRAWS_LAYOUT;
    while (usual && usual < DREGS_SIZE_DRAWS_MOST / 2 && !isnan(confidence) &&
           !dregs_size_rank(confidence, usual / 2))
        usual *= 2;
    return usual;
}

dregs_status dregs_answer_size_check(const dregs_line *line, const dregs_size_request *request,
                                     char *message)
{
    dregs_ensemble *ensemble = NULL;
    unsigned rows;

    if (!isnan(request->confidence) && !(request->confidence > 0 && request->confidence < 1))
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "confidence: not above 0 and below 1");
    if (request->draws > DREGS_SIZE_DRAWS_MOST && request->draws != DREGS_SIZE_DRAWS_USUAL)
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "draws: more than %" PRIu64,
                            DREGS_SIZE_DRAWS_MOST);
    if (request->threads > DREGS_THREADS_MOST)
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "threads: more than %d",
                            DREGS_THREADS_MOST);
    if (isnan(request->confidence))
        return DREGS_OK;
    if (!request->draws)
        return dregs_refuse(message, DREGS_SIZE_MESSAGE, "draws: a probability takes draws");
    if (dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, request->seed, &ensemble, NULL))
        return DREGS_OK; /* it will be said which row */
    rows = dregs_ensemble_rows(ensemble);
    dregs_ensemble_free(ensemble);
    if (rows)
        return DREGS_OK;
    snprintf(message, DREGS_SIZE_MESSAGE,
             "a probability is asked for, and no value that matters here has a spread");
    return DREGS_BAD_DATA;
}

void dregs_answer_size_unsure(struct sureness *sure)
{
    *sure = (struct sureness){.shown = {.confidence = NAN, .best = NAN, .just_met = NAN}};
    sure->shown.met = (dregs_ensemble_estimate){NAN, NAN, NAN};
}

dregs_status dregs_answer_size_sure(const dregs_line *line, const dregs_size_request *request,
                                    int by_cost, dregs_sized **sized, struct sureness *sure,
                                    char *message)
{
    unsigned trials = 0;
    struct size_doubt doubt = {.criterion = request->criterion,
                               .by_cost = by_cost,
                               .draws = draws_of(line, request),
                               .seed = request->seed,
                               .threads = request->threads,
                               .confidence = dregs_answer_size_confidence(line, request),
                               .progress = request->progress,
                               .user = request->user,
                               .trials = &trials};
    struct size_stand just = {0}, stand;
    dregs_size_sureness *shown = &sure->shown;
    dregs_sized *surer = NULL;
    dregs_status status;

    if (!doubt.draws)
        return DREGS_OK;
    if (!isnan(doubt.confidence) && !dregs_size_rank(doubt.confidence, doubt.draws))
        return dregs_refuse(message, DREGS_SIZE_MESSAGE,
                            "draws: even if all of %" PRIu64
                            " meet the target, they do not tell that "
                            "its probability is %.10g %% or more; ask for more",
                            doubt.draws, doubt.confidence * 100);
    status = dregs_size_stand(line, *sized, &doubt, &just, message);
    if (status || !just.rows)
        return status;
    stand = just;
    if (!isnan(doubt.confidence) && just.excess > 1 && dregs_sized_feasible(*sized))
        status = dregs_size_sure(line, *sized, &doubt, &stand, &surer, message);
    if (status)
        return status;
    shown->draws = doubt.draws;
    shown->rows = just.rows;
    shown->properties = just.properties;
    shown->confidence = doubt.confidence;
    shown->reached = !isnan(doubt.confidence) && (surer || just.excess <= 1);
    if (!isnan(doubt.confidence) && !shown->reached) {
        shown->best = (double)stand.met / (double)doubt.draws;
        sure->keeps = stand.bound;
        shown->keeps = stand.bounded ? &sure->keeps : NULL;
        shown->kept = (double)stand.bounded / (double)doubt.draws;
        shown->open = stand.open;
    }
    if (surer) {
        shown->just = sure->just = *sized;
        shown->just_met = (double)just.met / (double)doubt.draws;
        *sized = surer;
    }
    shown->met = dregs_ensemble_share(surer ? stand.met : just.met, doubt.draws);
    return DREGS_OK;
}

int dregs_answer_size_met(const dregs_sized *sized, const struct sureness *sure)
{
    return dregs_sized_feasible(sized) && (isnan(sure->shown.confidence) || sure->shown.reached);
}
