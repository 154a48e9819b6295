/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* threads.c: objects that several threads share, for the thread sanitizer; see tests/tsan.sh.
 *
 *   threads LINE[,readings=FILE][,purchases=FILE][,calendar=FILE]...
 *
 * For each line an ensemble and its doubts on several threads, and four threads that ask the same
 * questions at once of every object that libdregs(3) lets threads share: the tables of liquids,
 * mixtures and regulations, the line, its map, an ensemble, results of a prediction, a sizing and a
 * tally, limits, a calendar table, purchases, readings and what they say. Each thread's answers
 * must be those of the first.
 */
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { THREADS = 4, ANSWERS = 64, PATH = 512 };

/* What threads share. NULL where the line has no such thing. */
struct shared {
    const dregs_liquids *liquids;
    const dregs_mixtures *mixtures;
    const dregs_regulations *regulations;
    dregs_line *line;
    dregs_map *map;
    dregs_ensemble *ensemble;
    dregs_predict_result *predicted;
    dregs_bounds *bounds;
    dregs_varied *varied;
    dregs_calendar_table *table;
    dregs_purchases *purchases;
    dregs_tally_result *tallied;
    dregs_readings *readings;
    dregs_reuse_result *reuse;
};

struct thread {
    const struct shared *shared;
    pthread_t id;
    double answer[ANSWERS];
    unsigned answers;
    const char *failed; /* what could not be answered */
};

static void put(struct thread *t, double answer)
{
    if (t->answers < ANSWERS)
        t->answer[t->answers++] = answer;
    else
        t->failed = "more answers than there is room for";
}

static void hold(struct thread *t, const char *what, dregs_status status)
{
    if (status && !t->failed)
        t->failed = what;
}

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

static void use_tables(struct thread *t)
{
    const struct shared *s = t->shared;
    const char *acetone = dregs_liquids_find(s->liquids, "acetone");
    const dregs_regulation *row = dregs_regulations_at(s->regulations, 0);
    double gamma[2] = {0};

    hold(t, "mixture",
         dregs_mixture_activity(s->mixtures, "isopropanol", "water", 0.3, 330, gamma, NULL));
    put(t, gamma[0]);
    put(t, acetone != NULL && row && dregs_liquids_regulations(s->liquids) != NULL);
}

/* The map works out late what is asked for here, when all ask at once. */
static void use_map(struct thread *t)
{
    const struct shared *s = t->shared;
    dregs_state *state = dregs_state_new(s->map);
    dregs_bounds *bounds = NULL;
    dregs_totals totals;
    dregs_worst worst = {0};

    hold(t, "state", state ? dregs_state_before(state, 12345) : DREGS_NO_MEMORY);
    hold(t, "worst", dregs_residue_worst(s->map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst));
    hold(t, "totals", dregs_map_totals(s->map, 0, 777, &totals));
    hold(t, "bounds", dregs_bounds_new(s->map, DREGS_NO_END, 1, &bounds));
    if (!t->failed) {
        put(t, worst.residue);
        put(t, dregs_state_mass(state, 0, 0));
        put(t, totals.dumped);
        put(t, dregs_bounds_count(bounds));
        put(t, dregs_bounds_count(s->bounds));
        if (dregs_bounds_binding(s->bounds))
            put(t, dregs_bound_next(dregs_bounds_binding(s->bounds), state));
    }
    dregs_bounds_free(bounds);
    dregs_state_free(state);
}

static void use_prediction(struct thread *t)
{
    const struct shared *s = t->shared;
    dregs_predict_request request;
    dregs_predict_result *result = NULL;
    dregs_predict_doubt *doubt = NULL;
    dregs_doubt_request draws;
    dregs_ensemble_range range = {0};
    dregs_line *drawn = NULL;
    double figure = 0;

    dregs_predict_request_init(&request);
    request.extent = DREGS_PREDICT_RESIDUES;
    dregs_doubt_request_init(&draws);
    draws.draws = 20;
    draws.threads = 2;
    hold(t, "drawn line", dregs_ensemble_drawn(s->ensemble, 3, &drawn, NULL));
    hold(t, "draw", drawn ? ask(NULL, drawn, &figure) : DREGS_NO_MEMORY);
    hold(t, "prediction", dregs_predict_answer(s->line, &request, &result));
    hold(t, "doubt", dregs_predict_doubt_ask(s->predicted, &draws, &doubt, NULL));
    if (!t->failed) {
        put(t, figure);
        put(t, dregs_ensemble_draw(s->ensemble, 9, 0));
        put(t, result->worst.residue);
        put(t, s->predicted->worst.residue);
    }
    if (doubt) {
        hold(t, "range", dregs_predict_doubt_worst(doubt, DREGS_EVERY_SOLUTE, &range));
        put(t, range.middle.value);
    }
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
    dregs_line_free(drawn);
}

static void use_sizing(struct thread *t)
{
    const struct shared *s = t->shared;
    char message[DREGS_SIZE_MESSAGE];
    dregs_size_request request;
    dregs_size_result *result = NULL;

    if (!s->varied)
        return;
    dregs_size_request_init(&request);
    request.varied = s->varied;
    hold(t, "sizing", dregs_size_answer(s->line, &request, &result, message));
    if (!t->failed)
        put(t, dregs_sized_value(result->sized, 0));
    dregs_size_result_free(result);
}

static void ask_tally(dregs_tally_question *question, const struct shared *s,
                      const dregs_line *const *line)
{
    dregs_tally_question_init(question);
    question->line = line;
    question->lines = 1;
    question->law = 1;
    question->purchases = s->purchases;
}

static void use_tally(struct thread *t)
{
    const struct shared *s = t->shared;
    const dregs_line *const line[] = {s->line};
    const dregs_tally_dates dates = {.table = s->table, .month = 1};
    dregs_tally_question question;
    dregs_tally_request year = {.span = DREGS_SPAN_YEAR};
    dregs_tally_result *result = NULL;
    dregs_tally *dated = NULL;
    const dregs_tally_figure *shared, *own;
    unsigned i;

    if (!s->tallied)
        return;
    ask_tally(&question, s, line);
    hold(t, "tally", dregs_tally_answer(&question, &result, NULL));
    for (i = 0; !t->failed && i < 4; i++) {
        shared = dregs_tally_result_figure(s->tallied, 0, i);
        own = dregs_tally_result_figure(result, 0, i);
        put(t, shared ? shared->value : 0);
        put(t, own ? own->value : 0);
    }
    dregs_tally_result_free(result);
    if (s->table) {
        hold(t, "tally by dates", dregs_tally_new_by_dates(s->line, &year, &dates, &dated, NULL));
        if (!t->failed)
            put(t, (double)dregs_tally_loads(dated, DREGS_WHOLE));
        dregs_tally_free(dated);
    }
}

static void use_readings(struct thread *t)
{
    const struct shared *s = t->shared;
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;

    if (!s->reuse)
        return;
    dregs_reuse_request_init(&request);
    hold(t, "reuse", dregs_reuse_answer(s->line, s->readings, &request, &result, NULL));
    if (!t->failed) {
        put(t, dregs_reuse_rests_on(result->reuse)->drag_out_sd[0]);
        put(t, dregs_reuse_rests_on(s->reuse->reuse)->drag_out_sd[0]);
        put(t, dregs_reuse_regimes(result->reuse));
        put(t, dregs_reuse_regime(s->reuse->reuse, 0)->soil.best);
        put(t, dregs_reuse_regime(result->reuse, 0)->soil.best);
        put(t, dregs_reuse_result_regime(s->reuse, 0));
        put(t, (double)dregs_readings_kept(s->readings));
    }
    dregs_reuse_result_free(result);
}

static void *use(void *user)
{
    struct thread *t = user;

    use_tables(t);
    use_map(t);
    use_prediction(t);
    use_sizing(t);
    use_tally(t);
    use_readings(t);
    return NULL;
}

static int run_threads(const struct shared *shared)
{
    static struct thread thread[THREADS];
    int i, failed = 0;

    memset(thread, 0, sizeof thread);
    for (i = 0; i < THREADS; i++) {
        thread[i].shared = shared;
        if (pthread_create(&thread[i].id, NULL, use, &thread[i]))
            return 1;
    }
    for (i = 0; i < THREADS; i++) {
        (void)pthread_join(thread[i].id, NULL);
        if (thread[i].failed)
            fprintf(stderr, "threads: not answered: %s\n", thread[i].failed);
        failed |= thread[i].failed || thread[i].answers != thread[0].answers ||
                  memcmp(thread[i].answer, thread[0].answer, sizeof thread[0].answer) != 0;
    }
    printf("%u answers", thread[0].answers);
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

static dregs_status read_readings(struct shared *s, const char *path, FILE *file,
                                  dregs_faults *faults)
{
    static char bytes[1 << 16];
    dregs_reuse_request request;
    dregs_status status = DREGS_OK;
    size_t length;

    dregs_reuse_request_init(&request);
    s->readings = dregs_readings_new(path, s->line, faults);
    if (!s->readings)
        return DREGS_NO_MEMORY;
    while (!status && (length = fread(bytes, 1, sizeof bytes, file)) > 0)
        status = dregs_readings_feed(s->readings, bytes, length);
    if (!status)
        status = dregs_readings_end(s->readings);
    if (!status)
        status = dregs_reuse_answer(s->line, s->readings, &request, &s->reuse, faults);
    return status;
}

static dregs_status read_purchases(struct shared *s, const char *path, FILE *file,
                                   dregs_faults *faults)
{
    unsigned count = dregs_line_fluids(s->line), i;
    double *density = calloc(count + 1, sizeof *density);
    dregs_status status = density ? DREGS_OK : DREGS_NO_MEMORY;

    for (i = 0; !status && i < count; i++)
        status = dregs_tally_density_of(s->line, i, &density[i]);
    if (!status)
        status = dregs_purchases_read(path, file, s->line, density, &s->purchases, faults);
    free(density);
    return status;
}

/* A file beside the line: "KIND=PATH". */
static dregs_status read_beside(struct shared *s, const char *word, dregs_faults *faults)
{
    const char *path = strchr(word, '=');
    FILE *file = path ? fopen(path + 1, "rb") : NULL;
    dregs_status status = DREGS_IO;

    if (!file)
        return status;
    path++;
    if (strncmp(word, "readings=", 9) == 0)
        status = read_readings(s, path, file, faults);
    else if (strncmp(word, "purchases=", 10) == 0)
        status = read_purchases(s, path, file, faults);
    else if (strncmp(word, "calendar=", 9) == 0)
        status = dregs_calendar_table_read(path, file, &s->table, faults);
    fclose(file);
    return status;
}

/* A property of the last stage that holds liquid, where it has one that can be varied. */
static void find_varied(struct shared *s)
{
    char message[DREGS_SIZE_MESSAGE];

    s->varied = dregs_varied_new(s->line);
    if (s->varied && dregs_varied_read(s->varied, "last.flow", message)) {
        dregs_varied_free(s->varied);
        s->varied = NULL;
    }
}

static dregs_status make_objects(struct shared *s)
{
    const dregs_line *const line[] = {s->line};
    dregs_predict_request request;
    dregs_tally_question question;
    dregs_status status = dregs_map_new(s->line, &s->map);

    dregs_predict_request_init(&request);
    if (!status)
        status = dregs_ensemble_new(s->line, DREGS_ASKED_RESIDUE, 1, &s->ensemble, NULL);
    if (!status)
        status = dregs_predict_answer(s->line, &request, &s->predicted);
    if (!status)
        status = dregs_bounds_new(s->map, DREGS_NO_END, 1, &s->bounds);
    find_varied(s);
    /* a line without a schedule has no year */
    ask_tally(&question, s, line);
    if (!status && dregs_tally_answer(&question, &s->tallied, NULL))
        s->tallied = NULL;
    /* the threads are to be the first to ask it */
    if (!status) {
        dregs_map_free(s->map);
        s->map = NULL;
        status = dregs_map_new(s->line, &s->map);
    }
    return status;
}

static void free_objects(struct shared *s)
{
    dregs_reuse_result_free(s->reuse);
    dregs_readings_free(s->readings);
    dregs_tally_result_free(s->tallied);
    dregs_purchases_free(s->purchases);
    dregs_calendar_table_free(s->table);
    dregs_varied_free(s->varied);
    dregs_bounds_free(s->bounds);
    dregs_predict_result_free(s->predicted);
    dregs_ensemble_free(s->ensemble);
    dregs_map_free(s->map);
    dregs_line_free(s->line);
}

static int use_line(const struct shared *tables, const char *words)
{
    static dregs_faults faults;
    struct shared shared = *tables;
    char text[PATH], *next, *word;
    FILE *file;
    int failed;

    snprintf(text, sizeof text, "%s", words);
    word = strtok_r(text, ",", &next);
    file = word ? fopen(word, "rb") : NULL;
    failed = !file || dregs_line_read(word, file, tables->liquids, &shared.line, &faults);
    if (file)
        fclose(file);
    printf("%s: ", word ? word : "");
    while (!failed && (word = strtok_r(NULL, ",", &next)) != NULL)
        failed = read_beside(&shared, word, &faults) != DREGS_OK;
    failed = failed || make_objects(&shared);
    if (!failed)
        failed = run_threads(&shared) | run_ensemble(shared.ensemble);
    puts(failed ? ": threads differ, or it cannot be answered" : " alike");
    if (failed && faults.count)
        puts(faults.fault[0].text);
    free_objects(&shared);
    return failed;
}

int main(int argc, char **argv)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_regulations *regulations = dregs_regulations_new();
    const struct shared tables = {
        .liquids = liquids, .mixtures = mixtures, .regulations = regulations};
    int i, failed = !liquids || !mixtures || !regulations || argc < 2;

    gsl_set_error_handler_off();
    for (i = 1; i < argc && liquids && mixtures && regulations; i++)
        failed |= use_line(&tables, argv[i]);
    dregs_regulations_free(regulations);
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
    return failed;
}
