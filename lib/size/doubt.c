/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* doubt.c: how the draws of a line that was found stand to its target.
 *
 * Each draw is judged as a trial is. The excess that the asked share of the draws does not pass, an
 * order statistic, is met when it is at most 1. Draw i is the same whatever was found.
 */
#include "size/inside.h"
#include "size/size.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

enum { BOUNDS_MOST = 64 };

/* What the threads fill in, in any order. */
struct judged {
    dregs_criterion criterion;
    const dregs_line *stated;
    pthread_mutex_t lock;
    double *excess;
    uint64_t count;
    /* the bounds that draws pass furthest, and how many do */
    dregs_bound bound[BOUNDS_MOST];
    uint64_t missed[BOUNDS_MOST];
    unsigned bounds;
    uint64_t residue_missed;
};

/* Counts a draw to the bound that it passes, the furthest of them. */
static void count_missed(struct judged *judged, const dregs_bound *bound)
{
    unsigned i;

    for (i = 0; i < judged->bounds; i++)
        if (judged->bound[i].kind == bound->kind && judged->bound[i].stage == bound->stage &&
            judged->bound[i].solute == bound->solute)
            break;
    if (i == BOUNDS_MOST)
        return;
    if (i == judged->bounds)
        judged->bound[judged->bounds++] = *bound;
    judged->missed[i]++;
}

/* Keeps what a draw comes to; the line as stated is asked too, and is no draw. */
static dregs_status ask(void *user, const dregs_line *drawn, double *figure)
{
    struct judged *judged = user;
    struct outcome outcome = {.excess = HUGE_VAL};
    dregs_status status = dregs_size_judge(drawn, judged->criterion, 1, &outcome);

    figure[0] = outcome.excess;
    if (status || drawn == judged->stated)
        return status;
    pthread_mutex_lock(&judged->lock);
    judged->excess[judged->count++] = outcome.excess;
    judged->residue_missed +=
        outcome.compliance.of_limit > 1 && isfinite(outcome.compliance.of_limit);
    if (outcome.bounded && outcome.bound.share > 1 && isfinite(outcome.bound.share))
        count_missed(judged, &outcome.bound);
    pthread_mutex_unlock(&judged->lock);
    return DREGS_OK;
}

static int by_size(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;

    return left < right ? -1 : left > right;
}

uint64_t dregs_size_rank(double confidence, uint64_t draws)
{
    uint64_t low = 1, high = draws + 1;

    while (low < high) {
        uint64_t middle = low + (high - low) / 2;
        if (dregs_ensemble_share(middle, draws).low >= confidence)
            high = middle;
        else
            low = middle + 1;
    }
    return low <= draws ? low : 0;
}

/* Draws that cannot be worked out do not meet it. */
static void count_up(struct judged *judged, const struct size_doubt *doubt,
                     struct size_stand *stand)
{
    uint64_t rank = isnan(doubt->confidence) ? 1 : dregs_size_rank(doubt->confidence, doubt->draws);
    unsigned i;

    qsort(judged->excess, judged->count, sizeof *judged->excess, by_size);
    stand->excess = rank > 0 && rank <= judged->count ? judged->excess[rank - 1] : HUGE_VAL;
    for (stand->met = 0; stand->met < judged->count && judged->excess[stand->met] <= 1;
         stand->met++)
        ;
    stand->residue_missed = judged->residue_missed;
    for (i = 0; i < judged->bounds; i++)
        if (judged->missed[i] > stand->bounded) {
            stand->bounded = judged->missed[i];
            stand->bound = judged->bound[i];
        }
}

/* A sizing by draws is whole or none: nothing of it is stopped here. */
static int tell(void *user, uint64_t done, uint64_t draws)
{
    const struct size_doubt *doubt = user;

    (void)done;
    (void)draws;
    if (doubt->progress)
        (void)doubt->progress(doubt->user, *doubt->trials, HUGE_VAL);
    return 0;
}

static dregs_status judge_draws(const dregs_ensemble *ensemble, const struct size_doubt *doubt,
                                struct size_stand *stand)
{
    struct judged judged = {doubt->criterion, .stated = dregs_ensemble_line(ensemble)};
    dregs_ensemble_result *result = NULL;
    struct size_doubt told = *doubt;
    dregs_ensemble_request request;
    dregs_status status = DREGS_NO_MEMORY;

    ++*doubt->trials;
    if (doubt->draws > SIZE_MAX / sizeof *judged.excess)
        return DREGS_NO_MEMORY;
    judged.excess = malloc((size_t)doubt->draws * sizeof *judged.excess);
    if (judged.excess && !pthread_mutex_init(&judged.lock, NULL)) {
        dregs_ensemble_request_init(&request);
        request.draws = doubt->draws;
        request.threads = doubt->threads;
        request.figures = 1;
        request.ask = ask;
        request.context = &judged;
        request.progress = tell;
        request.user = &told;
        status = dregs_ensemble_run(ensemble, &request, &result);
        pthread_mutex_destroy(&judged.lock);
    }
    if (!status)
        count_up(&judged, doubt, stand);
    dregs_ensemble_result_free(result);
    free(judged.excess);
    return status;
}

dregs_status dregs_size_found(const dregs_line *line, const dregs_sized *sized, dregs_line **found)
{
    return sized->text ? dregs_line_parse(dregs_line_name(line), sized->text, sized->length,
                                          dregs_line_liquids(line), found, NULL)
                       : DREGS_BAD_DATA;
}

dregs_status dregs_size_stand(const dregs_line *line, const dregs_sized *sized,
                              const struct size_doubt *doubt, struct size_stand *stand,
                              char *message)
{
    struct size_stand made = {.excess = HUGE_VAL};
    dregs_ensemble *ensemble = NULL;
    dregs_faults faults = {0};
    dregs_line *found = NULL;
    dregs_status status = dregs_size_found(line, sized, &found);
    unsigned i;

    if (!status)
        status = dregs_ensemble_new(found, DREGS_ASKED_RESIDUE, doubt->seed, &ensemble, &faults);
    if (faults.count)
        snprintf(message, DREGS_SIZE_MESSAGE, "line %lu: %.600s", faults.fault[0].line,
                 faults.fault[0].text);
    made.rows = status ? 0 : dregs_ensemble_rows(ensemble);
    for (i = 0; i < made.rows; i++)
        made.properties += dregs_ensemble_row(ensemble, i)->liquid != NULL;
    if (!status && made.rows)
        status = judge_draws(ensemble, doubt, &made);
    if (!status)
        *stand = made;
    dregs_ensemble_free(ensemble);
    dregs_line_free(found);
    return status;
}
