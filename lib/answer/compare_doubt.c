/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* compare_doubt.c: how sure it is that one of two lines leaves less: both are asked of the same
 * draws, so that what is not known of both alike does not hide what differs.
 *
 * The figures of a draw: what the second leaves over what the first does, and the other way round;
 * then what a prediction of each is asked for.
 */
#include "answer/draws.h"
#include "answer/predict.h"
#include "dregs/answer_compare.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>

enum { SECOND_OF_FIRST, FIRST_OF_SECOND, LINES };

#define LESS (1 - 1e-9) /* a share of this leaves less, beyond rounding */

struct doubt {
    dregs_compare_doubt shown; /* the first member: the user's pointer is ours */
    struct draws_kept kept;
    struct predict_figures of[2];
    unsigned begin[3];
};

void dregs_compare_doubt_free(dregs_compare_doubt *shown)
{
    struct doubt *doubt = (struct doubt *)shown;

    if (!doubt)
        return;
    dregs_answer_draws_free(&doubt->kept);
    free(doubt);
}

uint64_t dregs_compare_doubt_usual(const dregs_compare_result *result)
{
    uint64_t a = dregs_ensemble_usual(result->a), b = dregs_ensemble_usual(result->b);
    uint64_t least = a < b ? a : b;

    return least > 80 ? least / 2 : least;
}

static unsigned worst_of(const struct doubt *doubt, int which)
{
    return doubt->begin[which] +
           dregs_answer_predict_figure(&doubt->of[which], 0, DREGS_EVERY_SOLUTE);
}

static dregs_status ask(void *context, const dregs_line *first, const dregs_line *second,
                        double *into)
{
    const struct doubt *doubt = context;
    dregs_status status =
        dregs_answer_predict_ask_drawn(&doubt->of[0], first, into + doubt->begin[0]);
    double a, b;

    if (!status)
        status = dregs_answer_predict_ask_drawn(&doubt->of[1], second, into + doubt->begin[1]);
    if (status)
        return status;
    a = into[worst_of(doubt, 0)];
    b = into[worst_of(doubt, 1)];
    into[SECOND_OF_FIRST] = a > 0 ? b / a : NAN;
    into[FIRST_OF_SECOND] = b > 0 ? a / b : NAN;
    return DREGS_OK;
}

static dregs_status run(struct doubt *doubt, const dregs_doubt_request *asked)
{
    double *most = malloc(doubt->begin[2] * sizeof *most);
    const struct draws_question question = {
        .figures = doubt->begin[2], .most = most, .ask_pair = ask, .context = doubt};
    dregs_status status;
    unsigned i;

    if (!most)
        return DREGS_NO_MEMORY;
    for (i = 0; i < doubt->begin[2]; i++)
        most[i] = i < LINES ? LESS : NAN;
    for (i = 0; i < 2; i++)
        most[doubt->begin[i]] = doubt->of[i].limits + doubt->of[i].bounds ? 1 : NAN;
    status = dregs_answer_draws_ask(asked, &question, &doubt->kept, &doubt->shown.run);
    free(most);
    return status;
}

static void conclude(struct doubt *doubt, const dregs_compare_result *result)
{
    const dregs_line *line[2] = {result->a, result->b};
    dregs_compare_doubt *shown = &doubt->shown;
    int i;

    (void)dregs_ensemble_met(doubt->kept.counts, SECOND_OF_FIRST, &shown->less);
    (void)dregs_ensemble_met(doubt->kept.counts, FIRST_OF_SECOND, &shown->more);
    for (i = 0; i < 2; i++) {
        const dregs_value *confidence = &dregs_line_target(line[i])->confidence;
        shown->met[i] = (dregs_ensemble_estimate){NAN, NAN, NAN};
        (void)dregs_ensemble_met(doubt->kept.counts, doubt->begin[i], &shown->met[i]);
        shown->confidence[i] = confidence->row ? confidence->si : NAN;
        shown->sure[i] = shown->met[i].low >= shown->confidence[i];
        shown->decided[i] = shown->sure[i] || shown->met[i].high < shown->confidence[i];
    }
}

dregs_status dregs_compare_doubt_ask(const dregs_compare_result *result,
                                     const dregs_doubt_request *request, dregs_compare_doubt **made,
                                     dregs_faults *faults)
{
    dregs_doubt_request asked;
    void *room;
    struct doubt *doubt;
    dregs_status status = dregs_answer_draws_begin(request, sizeof *doubt, &asked, &room, faults);

    if (status)
        return status;
    doubt = room;
    dregs_answer_predict_lay_out(result->of_a, &doubt->of[0]);
    dregs_answer_predict_lay_out(result->of_b, &doubt->of[1]);
    doubt->begin[0] = LINES;
    doubt->begin[1] = doubt->begin[0] + dregs_answer_predict_figures(&doubt->of[0]);
    doubt->begin[2] = doubt->begin[1] + dregs_answer_predict_figures(&doubt->of[1]);
    status = asked.counted ? dregs_fault_add(faults, DREGS_DOMAIN, 0,
                                             "counted: draws of two lines are not counted before")
                           : dregs_ensemble_new_pair(result->a, result->b, DREGS_ASKED_RESIDUE,
                                                     asked.seed, &doubt->kept.ensemble, faults);
    if (!status)
        status = run(doubt, &asked);
    if (status || !doubt->shown.run.rows) { /* nothing is in doubt */
        dregs_compare_doubt_free(&doubt->shown);
        doubt = NULL;
    } else
        conclude(doubt, result);
    if (!status)
        *made = doubt ? &doubt->shown : NULL;
    return status;
}

dregs_status dregs_compare_doubt_ratio(const dregs_compare_doubt *shown,
                                       dregs_ensemble_range *range)
{
    return dregs_ensemble_range_of(shown->run.counts, SECOND_OF_FIRST, range);
}

dregs_status dregs_compare_doubt_worst(const dregs_compare_doubt *shown, int which,
                                       dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return which == 0 || which == 1
               ? dregs_ensemble_range_of(shown->run.counts, worst_of(doubt, which), range)
               : DREGS_DOMAIN;
}
