/* SPDX-License-Identifier: GPL-3.0-or-later */
/* threads.c: objects that several threads share, for the thread sanitizer; see tests/tsan.sh.
 *
 *   threads LINE...    an ensemble on four threads, and four threads that ask one map, one line,
 * one table of liquids, one ensemble and one result of a prediction the same questions; each
 * thread's answers must be those of the first
 */
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

enum { THREADS = 4, ANSWERS = 8 };

struct shared {
    const dregs_liquids *liquids;
    const dregs_line *line;
    const dregs_map *map;
    const dregs_ensemble *ensemble;
    const dregs_predict_result *predicted;
};

struct thread {
    const struct shared *shared;
    pthread_t id;
    double answer[ANSWERS];
    int failed;
};

static dregs_status ask(void *mine, const dregs_line *drawn, double *figures)
{
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_map_new(drawn, &map);

    (void)mine;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status)
        figures[0] = worst.residue;
    dregs_map_free(map);
    return status;
}

/* Everything that is worked out when first asked for is asked for by all at once. */
static void *use(void *user)
{
    struct thread *t = user;
    const struct shared *s = t->shared;
    double *answer = t->answer;
    dregs_state *state = dregs_state_new(s->map);
    dregs_predict_request request;
    dregs_predict_result *result = NULL;
    dregs_totals totals;
    dregs_worst worst = {0};
    dregs_line *drawn = NULL;

    dregs_predict_request_init(&request);
    request.extent = DREGS_PREDICT_RESIDUES;
    t->failed = !state || dregs_residue_worst(s->map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst) ||
                dregs_state_before(state, 12345) || dregs_map_totals(s->map, 0, 777, &totals) ||
                dregs_ensemble_drawn(s->ensemble, 3, &drawn, NULL) || ask(NULL, drawn, answer) ||
                dregs_predict_answer(s->line, &request, &result);
    if (!t->failed) {
        answer[1] = worst.residue;
        answer[2] = dregs_state_mass(state, 0, 0);
        answer[3] = totals.dumped;
        answer[4] = dregs_ensemble_draw(s->ensemble, 9, 0);
        answer[5] = result->worst.residue;
        answer[6] = s->predicted->worst.residue;
        answer[7] = dregs_liquids_find(s->liquids, "acetone") != NULL;
    }
    dregs_predict_result_free(result);
    dregs_line_free(drawn);
    dregs_state_free(state);
    return NULL;
}

static int run_threads(const struct shared *shared)
{
    struct thread thread[THREADS] = {{0}};
    int i, failed = 0;

    for (i = 0; i < THREADS; i++) {
        thread[i].shared = shared;
        if (pthread_create(&thread[i].id, NULL, use, &thread[i]))
            return 1;
    }
    for (i = 0; i < THREADS; i++) {
        (void)pthread_join(thread[i].id, NULL);
        failed |= thread[i].failed ||
                  memcmp(thread[i].answer, thread[0].answer, sizeof thread[0].answer) != 0;
    }
    return failed;
}

static int run_ensemble(const dregs_ensemble *ensemble)
{
    dregs_ensemble_request request;
    dregs_ensemble_result *result = NULL;
    dregs_status status;

    dregs_ensemble_request_init(&request);
    request.draws = 1000;
    request.threads = THREADS;
    request.figures = 1;
    request.ask = ask;
    status = dregs_ensemble_run(ensemble, &request, &result);
    dregs_ensemble_result_free(result);
    return status != DREGS_OK;
}

static int use_line(const dregs_liquids *liquids, const char *path)
{
    static dregs_faults faults;
    struct shared shared = {.liquids = liquids};
    FILE *file = fopen(path, "rb");
    dregs_predict_request request;
    dregs_predict_result *predicted = NULL;
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_ensemble *ensemble = NULL;
    int failed;

    dregs_predict_request_init(&request);
    failed = !file || dregs_line_read(path, file, liquids, &line, &faults) ||
             dregs_map_new(line, &map) ||
             dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, NULL) ||
             dregs_predict_answer(line, &request, &predicted);
    if (!failed) {
        shared.line = line;
        shared.map = map;
        shared.ensemble = ensemble;
        shared.predicted = predicted;
        failed = run_threads(&shared) || run_ensemble(ensemble);
    }
    if (failed)
        fprintf(stderr, "threads: %s: threads differ, or it cannot be answered\n", path);
    dregs_predict_result_free(predicted);
    dregs_ensemble_free(ensemble);
    dregs_map_free(map);
    dregs_line_free(line);
    if (file)
        fclose(file);
    return failed;
}

int main(int argc, char **argv)
{
    dregs_liquids *liquids = dregs_liquids_new();
    int i, failed = !liquids;

    gsl_set_error_handler_off();
    for (i = 1; i < argc && liquids; i++)
        failed |= use_line(liquids, argv[i]);
    dregs_liquids_free(liquids);
    return failed;
}
