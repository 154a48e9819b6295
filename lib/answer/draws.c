/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* draws.c: the draws of an answer: made or taken over, and what came of them. */
#include "answer/draws.h"
#include "base/grow.h"
#include "ensemble/ensemble.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>

static dregs_status ask_stated(const struct draws_question *question,
                               const dregs_ensemble *ensemble, double *figure)
{
    const dregs_line *line = dregs_ensemble_line(ensemble);
    void *mine = question->begin ? question->begin(question->context) : question->context;
    dregs_status status;

    if (question->begin && !mine)
        return DREGS_NO_MEMORY;
    status = question->ask_with
                 ? question->ask_with(mine, line, dregs_ensemble_liquids(ensemble), figure)
                 : question->ask(mine, line, figure);
    if (question->end)
        question->end(mine);
    return status;
}

/* Were the draws counted for this line and question? What it answers as stated is in the counts. */
static dregs_status check_counted(const struct draws_question *question,
                                  const dregs_ensemble *ensemble,
                                  const dregs_ensemble_result *counted)
{
    double *figure = calloc(question->figures, sizeof *figure), stated;
    dregs_status status = figure ? ask_stated(question, ensemble, figure) : DREGS_NO_MEMORY;
    unsigned i;

    if (!status && dregs_ensemble_figures(counted) != question->figures)
        status = DREGS_DOMAIN;
    for (i = 0; i < question->figures && !status; i++)
        if (!dregs_ensemble_stated(counted, i, &stated) ||
            stated != (isfinite(figure[i]) ? figure[i] : 0))
            status = DREGS_DOMAIN;
    free(figure);
    return status;
}

static dregs_status draw(const dregs_doubt_request *request, const struct draws_question *question,
                         struct draws_kept *kept)
{
    dregs_ensemble_request asked;

    dregs_ensemble_request_init(&asked);
    asked.first = request->first;
    asked.draws = request->draws;
    asked.threads = request->threads;
    asked.figures = question->figures;
    asked.most = question->most;
    asked.ask = question->ask;
    asked.context = question->context;
    asked.ask_with = question->ask_with;
    asked.begin = question->begin;
    asked.end = question->end;
    asked.progress = request->progress;
    asked.user = request->user;
    return question->ask_pair
               ? dregs_ensemble_run_pair(kept->ensemble, &asked, question->ask_pair, &kept->counts)
               : dregs_ensemble_run(kept->ensemble, &asked, &kept->counts);
}

static void conclude(const dregs_doubt_request *request, struct draws_kept *kept,
                     dregs_doubt_run *run)
{
    *run = (dregs_doubt_run){.seed = request->seed,
                             .asked = request->draws,
                             .draws = dregs_ensemble_count(kept->counts),
                             .failed = dregs_ensemble_failed(kept->counts),
                             .ensemble = kept->ensemble,
                             .counts = kept->counts};
    run->rows = dregs_ensemble_values(kept->ensemble, &run->properties);
    if (dregs_ensemble_why(kept->ensemble, kept->counts, &run->first_failed, kept->why,
                           sizeof kept->why))
        run->why = kept->why;
}

/* Of draws that were counted before, nothing else is asked. */
static dregs_status check(const dregs_doubt_request *asked, dregs_faults *faults)
{
    if (asked->counted)
        return DREGS_OK;
    if (asked->draws < 1 || asked->draws > DREGS_DRAWS_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "draws: %" PRIu64 " are not 1 to %" PRIu64,
                               asked->draws, (uint64_t)DREGS_DRAWS_MOST);
    if (asked->first > DREGS_DRAWS_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "first: beyond draw %" PRIu64,
                               (uint64_t)DREGS_DRAWS_MOST);
    if (asked->threads > DREGS_THREADS_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "threads: more than %d",
                               DREGS_THREADS_MOST);
    return DREGS_OK;
}

dregs_status dregs_answer_draws_begin(const dregs_doubt_request *request, size_t size,
                                      dregs_doubt_request *asked, void **made, dregs_faults *faults)
{
    dregs_status status;

    dregs_doubt_request_init(asked);
    if (!dregs_take(asked, sizeof *asked, request))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "request: was not set up");
    status = check(asked, faults);
    if (status)
        return status;
    *made = calloc(1, size);
    return *made ? DREGS_OK : DREGS_NO_MEMORY;
}

dregs_status dregs_answer_draws_ask(const dregs_doubt_request *request,
                                    const struct draws_question *question, struct draws_kept *kept,
                                    dregs_doubt_run *run)
{
    dregs_status status;

    run->rows = dregs_ensemble_values(kept->ensemble, &run->properties);
    if (!run->rows) /* nothing is in doubt */
        return request->counted ? DREGS_DOMAIN : DREGS_OK;
    if (request->counted)
        status = check_counted(question, kept->ensemble, request->counted);
    else
        status = draw(request, question, kept);
    if (!status && request->counted)
        kept->counts = request->counted;
    if (!status)
        conclude(request, kept, run);
    return status;
}

void dregs_answer_draws_free(struct draws_kept *kept)
{
    dregs_ensemble_result_free(kept->counts);
    dregs_ensemble_free(kept->ensemble);
}
