/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.c: what dregs reuse is asked, and its answer in JSON. */
#include "ask/job.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct ask_option options[] = {
    {"readings", ASK_FILE}, {"measure-drag-out", ASK_FLAG}, {"noise", ASK_WORD},
    {"limit", ASK_WORD},    {"loads-since", ASK_WORD},      {"card", ASK_FLAG}};

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    dregs_reuse_request *request = &asked->reuse;

    if (strcmp(option, "readings") == 0) /* read, not asked */
        return DREGS_OK;
    if (strcmp(option, "measure-drag-out") == 0) {
        asked->measure = 1;
        return DREGS_OK;
    }
    if (strcmp(option, "card") == 0) {
        asked->card = 1;
        return DREGS_OK;
    }
    if (strcmp(option, "noise") == 0)
        return dregs_ask_quantity(option, text, "%", 1e-6, 1, &request->noise, message);
    if (strcmp(option, "limit") == 0)
        return dregs_ask_quantity(option, text, "ug/cm2", 1e-12, 1, &request->limit, message);
    request->since = dregs_ask_count(text);
    asked->since = 1;
    return request->since > 0 && request->since <= DREGS_REUSE_LOADS_MOST
               ? DREGS_OK
               : dregs_ask_refuse(message, "--loads-since is a whole number from 1 to %d",
                                  DREGS_REUSE_LOADS_MOST);
}

static dregs_status check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message)
{
    (void)lines;
    (void)accounts;
    if (!beside && (asked->measure || asked->since))
        return dregs_ask_refuse(message, "%s needs a log",
                                asked->measure ? "--measure-drag-out" : "--loads-since");
    if (asked->measure && (asked->since || asked->card || !isnan(asked->reuse.limit)))
        return dregs_ask_refuse(
            message, "--measure-drag-out goes with no --check, --card, --limit or --loads-since");
    return DREGS_OK;
}

int dregs_asked_measures(const dregs_asked *asked)
{
    return asked->measure;
}

/* ---- in JSON ---- */

/* The drag-out, measured with the water shut. */
static void measure(struct ask_job *job, const dregs_readings *readings)
{
    dregs_stopped_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    dregs_faults faults = {0};
    dregs_status status =
        dregs_stopped_answer(job->read[0], readings, job->asked->reuse.noise, &result, &faults);

    if (status) {
        dregs_ask_faults(job, status, &faults);
        return;
    }
    status = dregs_page_stopped_flow(result, 0, &report);
    if (!status && job->asked->explain)
        status = dregs_page_stopped_flow(result, 1, &working);
    dregs_ask_write(job, status, report, working);
    dregs_stopped_result_free(result);
}

/* The card for the bench, as text. */
static dregs_status add_card(dregs_report *report, const dregs_reuse_result *result)
{
    dregs_report *card = NULL;
    char *text = NULL;
    dregs_status status = dregs_page_reuse_card(result, &card);

    if (!status)
        status = dregs_ask_text(card, &text);
    if (!status)
        dregs_report_file(report, "card", text);
    dregs_report_free(card);
    free(text);
    return status;
}

static void judge(struct ask_job *job, const dregs_readings *readings)
{
    dregs_reuse_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    dregs_faults faults = {0};
    dregs_status status =
        dregs_reuse_answer(job->read[0], readings, &job->asked->reuse, &result, &faults);

    if (status) {
        dregs_ask_faults(job, status, &faults);
        return;
    }
    status = dregs_page_reuse(result, 0, &report);
    if (!status && job->asked->explain)
        status = dregs_page_reuse(result, 1, &working);
    if (!status && job->asked->card)
        status = add_card(report, result);
    dregs_ask_write(job, status, report, working);
    dregs_reuse_result_free(result);
}

/* The log; without one, an empty one. */
static dregs_readings *read_log(struct ask_job *job)
{
    const struct ask_file *file = &job->readings;
    dregs_faults faults = {0};
    dregs_readings *readings = dregs_readings_new(file->text ? file->name : job->line[0].name,
                                                  job->read[0], file->text ? &faults : NULL);
    dregs_status status = readings ? DREGS_OK : DREGS_NO_MEMORY, end;

    if (!status && file->text) {
        status = dregs_readings_feed(readings, file->text, file->length);
        end = dregs_readings_end(readings); /* also after a failure: it puts the faults in order */
        status = status ? status : end;
    }
    if (!status)
        return readings;
    dregs_ask_faults(job, status, &faults);
    dregs_readings_free(readings);
    return NULL;
}

static void answer(struct ask_job *job)
{
    dregs_readings *readings;

    if (dregs_ask_read(job))
        return;
    readings = read_log(job);
    if (readings && job->asked->measure)
        measure(job, readings);
    else if (readings)
        judge(job, readings);
    dregs_readings_free(readings);
}

const struct ask_verb dregs_ask_verb_reuse = {
    "reuse", options, sizeof options / sizeof options[0], 0, 1, 1, take, check, answer, 1};
