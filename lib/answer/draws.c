/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draws.c: the draws of an answer: made or taken over, and what came of them. */
#include "answer/draws.h"
#include "ensemble/ensemble.h"

#include <math.h>
#include <stdlib.h>

/* Were the draws counted for this line and question? What it answers as stated is in the counts. */
static dregs_status check_counted(const struct draws_question *question, const dregs_line *line,
                                  const dregs_ensemble_result *counted)
{
    double *figure = calloc(question->figures, sizeof *figure), stated;
    dregs_status status = figure ? question->ask(question->context, line, figure) : DREGS_NO_MEMORY;
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
    asked.progress = request->progress;
    asked.user = request->user;
    return dregs_ensemble_run(kept->ensemble, &asked, &kept->counts);
}

static void conclude(const dregs_doubt_request *request, struct draws_kept *kept,
                     dregs_doubt_run *run)
{
    *run = (dregs_doubt_run){.seed = request->seed,
                             .asked = request->draws,
                             .draws = dregs_ensemble_count(kept->counts),
                             .failed = dregs_ensemble_failed(kept->counts),
                             .rows = dregs_ensemble_rows(kept->ensemble),
                             .ensemble = kept->ensemble,
                             .counts = kept->counts};
    if (dregs_ensemble_why(kept->ensemble, kept->counts, &run->first_failed, kept->why,
                           sizeof kept->why))
        run->why = kept->why;
}

dregs_status dregs_answer_draws_ask(const dregs_doubt_request *request,
                                    const struct draws_question *question, struct draws_kept *kept,
                                    dregs_doubt_run *run)
{
    dregs_status status;

    run->rows = dregs_ensemble_rows(kept->ensemble);
    if (!run->rows) /* nothing is in doubt */
        return request->counted ? DREGS_DOMAIN : DREGS_OK;
    if (request->counted)
        status = check_counted(question, dregs_ensemble_line(kept->ensemble), request->counted);
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
