/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* run.c: a question asked of many draws, by several threads.
 *
 * The threads take blocks of draws one after the other and count for themselves; their counts are
 * put together at the end. Sums are exact and counts are whole numbers, so that which thread took
 * which block is not to be seen in the result.
 */
#include "base/grow.h"
#include "ensemble/ensemble.h"
#include "ensemble/inside.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

enum { BLOCK = 64 };

struct run {
    const dregs_ensemble *ensemble;
    const dregs_ensemble_request *asked;
    ensemble_ask_pair *ask_pair; /* in place of the request's, of two lines; NULL */
    pthread_mutex_t lock;
    uint64_t next; /* draw that nobody has taken, from 0 */
    uint64_t done;
    int stopped;
    dregs_status status; /* DREGS_NO_MEMORY: give up */
};

struct worker {
    struct run *run;
    int leads;                     /* it is that of the caller, and tells the progress */
    dregs_ensemble_result *result; /* what it has counted */
};

void dregs_ensemble_request_init_of_size(dregs_ensemble_request *request, size_t size)
{
    dregs_ensemble_request made = {.size = size};

    dregs_give(request, size, &made, sizeof made);
}

void dregs_doubt_request_init_of_size(dregs_doubt_request *request, size_t size)
{
    dregs_doubt_request made = {.size = size, .draws = 1000, .seed = 1};

    dregs_give(request, size, &made, sizeof made);
}

/* The next block of draws; 0 when there is none. */
static uint64_t take_block(struct run *run, uint64_t *first)
{
    uint64_t count;

    pthread_mutex_lock(&run->lock);
    count = run->stopped ? 0 : run->asked->draws - run->next;
    if (count > BLOCK)
        count = BLOCK;
    *first = run->asked->first + run->next;
    run->next += count;
    pthread_mutex_unlock(&run->lock);
    return count;
}

static uint64_t end_block(struct run *run, uint64_t count, dregs_status status)
{
    uint64_t done;

    pthread_mutex_lock(&run->lock);
    done = run->done += count;
    if (status) {
        run->status = status;
        run->stopped = 1;
    }
    pthread_mutex_unlock(&run->lock);
    return done;
}

static dregs_status ask(const struct run *run, void *mine, const dregs_line *line,
                        const dregs_line *second, const dregs_liquids *liquids, double *figures)
{
    const dregs_ensemble_request *asked = run->asked;

    if (run->ask_pair)
        return run->ask_pair(mine, line, second, figures);
    return asked->ask_with ? asked->ask_with(mine, line, liquids, figures)
                           : asked->ask(mine, line, figures);
}

static dregs_status ask_draw(struct run *run, void *mine, uint64_t draw, double *figures)
{
    struct draw made;
    dregs_status status = dregs_ensemble_make_draw(run->ensemble, draw, &made, NULL);

    if (!status)
        status = ask(run, mine, made.line, made.second, made.liquids, figures);
    dregs_ensemble_clear_draw(&made);
    return status;
}

static dregs_status ask_block(struct worker *worker, void *mine, uint64_t first, uint64_t count,
                              double *figures)
{
    uint64_t i;

    for (i = 0; i < count; i++) {
        dregs_status status = ask_draw(worker->run, mine, first + i, figures);
        if (status == DREGS_NO_MEMORY ||
            !dregs_ensemble_take(worker->result, first + i, status, figures))
            return DREGS_NO_MEMORY;
    }
    return DREGS_OK;
}

static void ask_blocks(void *user)
{
    struct worker *worker = user;
    struct run *run = worker->run;
    const dregs_ensemble_request *asked = run->asked;
    double *figures = calloc(asked->figures, sizeof *figures);
    void *mine = asked->begin ? asked->begin(asked->context) : asked->context;
    uint64_t first, count, done;

    if (!figures || (asked->begin && !mine)) {
        (void)end_block(run, 0, DREGS_NO_MEMORY);
        free(figures);
        return;
    }
    while ((count = take_block(run, &first)) > 0) {
        done = end_block(run, count, ask_block(worker, mine, first, count, figures));
        if (worker->leads && asked->progress && asked->progress(asked->user, done, asked->draws)) {
            pthread_mutex_lock(&run->lock);
            run->stopped = 1;
            pthread_mutex_unlock(&run->lock);
        }
    }
    if (asked->begin && asked->end)
        asked->end(mine);
    free(figures);
}

/* What the sums count from: the figures of the line as it is stated, near which they lie. */
static dregs_status ask_stated(struct run *run, double *from)
{
    const dregs_ensemble_request *asked = run->asked;
    void *mine = asked->begin ? asked->begin(asked->context) : asked->context;
    dregs_status status;
    unsigned i;

    if (asked->begin && !mine)
        return DREGS_NO_MEMORY;
    status = ask(run, mine, dregs_ensemble_line(run->ensemble),
                 run->ask_pair ? dregs_ensemble_second(run->ensemble) : NULL,
                 dregs_ensemble_liquids(run->ensemble), from);
    if (asked->begin && asked->end)
        asked->end(mine);
    for (i = 0; status && i < asked->figures; i++)
        from[i] = NAN;
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

static dregs_status run_all(struct run *run, dregs_ensemble_result **result)
{
    const dregs_ensemble_request *asked = run->asked;
    unsigned threads = dregs_ensemble_threads(asked->threads, (asked->draws + BLOCK - 1) / BLOCK),
             i;
    struct worker *worker = calloc(threads, sizeof *worker);
    double *from = calloc(asked->figures, sizeof *from);

    run->status = worker && from ? ask_stated(run, from) : DREGS_NO_MEMORY;
    for (i = 0; i < threads && !run->status; i++) {
        worker[i].run = run;
        worker[i].leads = i == 0;
        worker[i].result = dregs_ensemble_result_new(asked->figures, asked->most, from);
        if (!worker[i].result)
            run->status = DREGS_NO_MEMORY;
    }
    if (!run->status)
        dregs_ensemble_in_threads(ask_blocks, worker, sizeof *worker, threads);
    for (i = 1; i < threads && !run->status; i++)
        if (!dregs_ensemble_join(worker[0].result, worker[i].result))
            run->status = DREGS_NO_MEMORY;
    if (!run->status) {
        *result = worker[0].result;
        worker[0].result = NULL;
    }
    for (i = 0; worker && i < threads; i++)
        dregs_ensemble_result_free(worker[i].result);
    free(worker);
    free(from);
    return run->status;
}

static dregs_status run_checked(const dregs_ensemble *ensemble,
                                const dregs_ensemble_request *request, ensemble_ask_pair *ask_pair,
                                dregs_ensemble_result **result)
{
    dregs_ensemble_request asked;
    struct run run = {.ensemble = ensemble, .asked = &asked, .ask_pair = ask_pair};
    dregs_status status;

    dregs_ensemble_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    if (!(ask_pair || asked.ask_with || (asked.ask && dregs_ensemble_line(ensemble))) ||
        asked.draws < 1 || asked.draws > DREGS_DRAWS_MOST || asked.first > DREGS_DRAWS_MOST ||
        asked.threads > DREGS_THREADS_MOST || !asked.figures || asked.figures > DREGS_FIGURES_MOST)
        return DREGS_DOMAIN;
    if (pthread_mutex_init(&run.lock, NULL))
        return DREGS_NO_MEMORY;
    status = run_all(&run, result);
    pthread_mutex_destroy(&run.lock);
    return status;
}

dregs_status dregs_ensemble_run(const dregs_ensemble *ensemble,
                                const dregs_ensemble_request *request,
                                dregs_ensemble_result **result)
{
    return run_checked(ensemble, request, NULL, result);
}

dregs_status dregs_ensemble_run_pair(const dregs_ensemble *ensemble,
                                     const dregs_ensemble_request *request,
                                     ensemble_ask_pair *ask_pair, dregs_ensemble_result **result)
{
    return run_checked(ensemble, request, ask_pair, result);
}

int dregs_ensemble_why(const dregs_ensemble *ensemble, const dregs_ensemble_result *counts,
                       uint64_t *draw, char *words, size_t room)
{
    dregs_faults faults = {0};
    struct draw made;
    dregs_status status;

    if (!dregs_ensemble_first_failed(counts, draw, &status))
        return 0;
    if (dregs_ensemble_make_draw(ensemble, *draw, &made, &faults) && faults.count)
        snprintf(words, room, "%s", faults.fault[0].text);
    else
        snprintf(words, room, "%s", dregs_status_text(status));
    dregs_ensemble_clear_draw(&made);
    return 1;
}
