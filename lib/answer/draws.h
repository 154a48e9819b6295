/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* draws.h: what the answers of many draws share; stays in the room. */
#ifndef DREGS_ANSWER_DRAWS_H
#define DREGS_ANSWER_DRAWS_H

#include "ensemble/ensemble.h"

/* What is asked of each draw; as in dregs_ensemble_request. */
struct draws_question {
    unsigned figures;
    const double *most;
    dregs_ensemble_ask *ask;
    void *context;
    dregs_ensemble_ask_with *ask_with; /* in place of `ask` */
    ensemble_ask_pair *ask_pair;       /* in place of both, of an ensemble of two lines */
    void *(*begin)(void *context);
    void (*end)(void *mine);
};

/* What `run` of an answer points to; all NULL to begin with. */
struct draws_kept {
    dregs_ensemble *ensemble;
    dregs_ensemble_result *counts;
    char why[DREGS_FAULT_TEXT];
};

/* Begins an answer of draws: the request as it is taken, and so many bytes, all 0.
 * \return DREGS_OK; DREGS_DOMAIN (a request that was not set up, a member out of its range), with a
 * fault; DREGS_NO_MEMORY. */
dregs_status dregs_answer_draws_begin(const dregs_doubt_request *request, size_t size,
                                      dregs_doubt_request *asked, void **made,
                                      dregs_faults *faults);

/* Asks the draws of kept->ensemble, which the caller has made with the seed of the request, or
 * takes over those that the request brings along, and tells what came of it. With no value to be
 * drawn nothing is asked: run->rows is 0. \return DREGS_OK; DREGS_DOMAIN (a request out of range,
 * or draws counted for other figures); DREGS_NO_MEMORY. `kept` is to be freed in any case. */
dregs_status dregs_answer_draws_ask(const dregs_doubt_request *request,
                                    const struct draws_question *question, struct draws_kept *kept,
                                    dregs_doubt_run *run);
void dregs_answer_draws_free(struct draws_kept *kept);

#endif
