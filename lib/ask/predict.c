/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.c: what dregs predict is asked, and its answer in JSON. */
#include "ask/job.h"
#include "dregs/answer_compare.h"

#include <stdlib.h>
#include <string.h>

static const struct ask_option options[] = {
    {"loads", ASK_WORD}, {"every", ASK_WORD}, {"at", ASK_LIST}};

static dregs_status add_load(dregs_asked *asked, const char *text, char *message)
{
    uint64_t load = dregs_ask_count(text), *bigger;
    size_t i = asked->predict.at_count;

    if (!load)
        return dregs_ask_refuse(message, "--at '%s' is not a load number from 1 to 2^%d", text,
                                DREGS_LOADS_BITS);
    bigger = realloc(asked->at, (i + 1) * sizeof *bigger);
    if (!bigger)
        return DREGS_NO_MEMORY;
    asked->at = bigger;
    asked->predict.at = bigger;
    for (; i > 0 && bigger[i - 1] > load; i--)
        bigger[i] = bigger[i - 1];
    bigger[i] = load;
    if (i == 0 || bigger[i - 1] != load)
        asked->predict.at_count++;
    else /* named twice: close the gap again */
        memmove(bigger + i, bigger + i + 1, (asked->predict.at_count - i) * sizeof *bigger);
    return DREGS_OK;
}

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    uint64_t *number = strcmp(option, "loads") == 0 ? &asked->predict.loads : &asked->predict.every;

    if (strcmp(option, "at") == 0)
        return add_load(asked, text, message);
    *number = dregs_ask_count(text);
    return *number ? DREGS_OK
                   : dregs_ask_refuse(message, "--%s '%s' is not a number from 1 to 2^%d", option,
                                      text, DREGS_LOADS_BITS);
}

static dregs_status check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message)
{
    dregs_predict_request *r = &asked->predict;

    (void)accounts;
    (void)beside;
    r->seed = asked->draws.seed;
    r->threads = asked->draws.threads;
    if (asked->draws.given)
        r->draws = asked->draws.draws;
    if (asked->draws.given && !asked->draws.draws)
        r->extent = DREGS_PREDICT_HANGS;
    if (r->at_count && r->every)
        return dregs_ask_refuse(message, "--at and --every exclude each other");
    if (lines > 1 && (r->at_count || r->every))
        return dregs_ask_refuse(message,
                                "two lines go with --loads, --draws, --seed, --threads, --check, "
                                "--format, --explain, --cautions and --liquids only");
    if (r->at_count && r->loads && r->at[r->at_count - 1] > r->loads)
        return dregs_ask_refuse(message, "--at names a load beyond --loads");
    if (r->every && r->loads && r->every > r->loads)
        return dregs_ask_refuse(message, "--every is larger than --loads");
    if (asked->explain && (r->every || r->at_count > 1))
        return dregs_ask_refuse(message,
                                "--explain shows one load: the worst, or that of one --at");
    if (asked->explain && r->at_count)
        r->shown = r->at[0];
    return DREGS_OK;
}

/* ---- in JSON ---- */

static void predict(struct ask_job *job)
{
    dregs_asked *asked = job->asked;
    const dregs_line *line = job->read[0];
    dregs_predict_result *result = NULL;
    dregs_predict_doubt *doubt = NULL;
    dregs_doubt_request draws;
    dregs_faults faults = {0};
    dregs_report *report = NULL, *working = NULL;
    dregs_status status;

    status = dregs_predict_answer(line, &asked->predict, &result);
    if (status) {
        dregs_ask_failed(job, status, dregs_line_name(line), "");
        return;
    }
    dregs_ask_draws_request(&job->asked->draws, dregs_ensemble_usual(dregs_map_line(result->map)),
                            &draws);
    if (draws.draws)
        status =
            dregs_ask_drawn(job, dregs_predict_doubt_ask(result, &draws, &doubt, &faults), &faults);
    if (!status) {
        status = dregs_page_predict_with(line, &asked->predict, result, doubt, 0, &report);
        if (!status && job->asked->explain)
            status = dregs_page_predict(line, &asked->predict, result, 1, &working);
        dregs_ask_write(job, status, report, working);
    }
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
}

/* Two lines side by side. */
static void compare(struct ask_job *job)
{
    dregs_compare_request request;
    dregs_compare_result *result = NULL;
    dregs_compare_doubt *doubt = NULL;
    dregs_doubt_request draws;
    dregs_faults faults = {0};
    dregs_report *report = NULL, *working = NULL;
    dregs_status status;

    dregs_compare_request_init(&request);
    request.loads = job->asked->predict.loads;
    status = dregs_compare_answer(job->read[0], job->read[1], &request, &result);
    if (status) {
        dregs_ask_failed(job, status, dregs_line_name(job->read[0]), "");
        return;
    }
    dregs_ask_draws_request(&job->asked->draws, dregs_compare_doubt_usual(result), &draws);
    if (draws.draws)
        status =
            dregs_ask_drawn(job, dregs_compare_doubt_ask(result, &draws, &doubt, &faults), &faults);
    if (!status) {
        status = dregs_page_compare_with(result, doubt, 0, &report);
        if (!status && job->asked->explain)
            status = dregs_page_compare_with(result, doubt, 1, &working);
        dregs_ask_write(job, status, report, working);
    }
    dregs_compare_doubt_free(doubt);
    dregs_compare_result_free(result);
}

static void answer(struct ask_job *job)
{
    if (dregs_ask_read(job))
        return;
    if (job->lines > 1)
        compare(job);
    else
        predict(job);
}

const struct ask_verb dregs_ask_verb_predict = {
    "predict", options, sizeof options / sizeof options[0], 1, 1, 2, take, check, answer, 1};
