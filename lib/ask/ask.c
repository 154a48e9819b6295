/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ask.c: one call for other languages: a request in JSON, an answer or the faults in JSON. */
#include "ask/job.h"
#include "base/text.h"
#include "dregs/gsl.h"
#include "dregs/version.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- what is wrong ---- */

/* A text as JSON: up to what is no UTF-8, as the middle of a character that was cut. */
static json_t *string(const char *text)
{
    return text ? json_stringn(text, dregs_utf8_span(text, strlen(text))) : json_null();
}

dregs_status dregs_ask_fault(struct ask_job *job, enum ask_exit ends, dregs_status status,
                             const char *file, unsigned long line, const char *option,
                             const char *text)
{
    json_t *fault = json_object();

    if (!job->status) {
        job->status = status;
        job->exit = ends;
    }
    if (!job->faults)
        job->faults = json_array();
    (void)json_object_set_new(fault, "file", string(file));
    (void)json_object_set_new(fault, "line", line ? json_integer((json_int_t)line) : json_null());
    (void)json_object_set_new(fault, "option", string(option));
    if (json_object_set_new(fault, "text", string(text)) ||
        json_array_append_new(job->faults, fault))
        job->status = DREGS_NO_MEMORY;
    return status;
}

dregs_status dregs_ask_misused(struct ask_job *job, dregs_status status, const char *option,
                               const char *text)
{
    return dregs_ask_fault(job, ASK_WRONG_USE, status, NULL, 0, option, text);
}

static enum ask_exit exit_of(dregs_status status)
{
    return status == DREGS_IO || status == DREGS_NO_MEMORY ? ASK_IO : ASK_BAD_DATA;
}

dregs_status dregs_ask_faults(struct ask_job *job, dregs_status status, const dregs_faults *faults)
{
    const char *file = *faults->file ? faults->file : NULL;
    enum ask_exit ends = exit_of(status);
    char more[64];
    unsigned i;

    for (i = 0; i < faults->count; i++)
        dregs_ask_fault(job, ends, status, file, faults->fault[i].line, NULL,
                        faults->fault[i].text);
    if (faults->more) {
        snprintf(more, sizeof more, "more than %d faults, stopped here", DREGS_FAULTS_MAX);
        dregs_ask_fault(job, ends, status, file, 0, NULL, more);
    }
    if (!faults->count)
        dregs_ask_fault(job, ends, status, NULL, 0, NULL, dregs_status_text(status));
    return status;
}

dregs_status dregs_ask_failed(struct ask_job *job, dregs_status status, const char *file,
                              const char *message)
{
    return dregs_ask_fault(job, exit_of(status), status, file, 0, NULL,
                           *message ? message : dregs_status_text(status));
}

/* ---- steps that verbs share ---- */

dregs_status dregs_ask_drawn(struct ask_job *job, dregs_status status, const dregs_faults *faults)
{
    if (faults->count) {
        status = status ? status : DREGS_BAD_DATA;
        return dregs_ask_faults(job, status, faults);
    }
    return status ? dregs_ask_failed(job, status, NULL, "") : DREGS_OK;
}

static dregs_status read_liquids(struct ask_job *job)
{
    const struct ask_file *file = &job->liquids_file;
    dregs_faults faults = {0};
    dregs_status status;

    job->liquids = dregs_liquids_new();
    if (!job->liquids)
        return dregs_ask_failed(job, DREGS_NO_MEMORY, NULL, "");
    if (!file->text)
        return DREGS_OK;
    if (file->length > DREGS_LINE_BYTES)
        return dregs_ask_failed(job, DREGS_BAD_DATA, file->name,
                                "larger than any table of liquids");
    snprintf(faults.file, sizeof faults.file, "%s", file->name);
    status = dregs_liquids_add(job->liquids, file->name, file->text, file->length, &faults);
    return status ? dregs_ask_faults(job, status, &faults) : DREGS_OK;
}

dregs_status dregs_ask_read(struct ask_job *job)
{
    dregs_status status = read_liquids(job), one;
    unsigned i;

    for (i = 0; i < job->lines && job->liquids && (!status || i > 0); i++) {
        dregs_faults faults = {0};
        one = dregs_line_parse(job->line[i].name, job->line[i].text, job->line[i].length,
                               job->liquids, &job->read[i], &faults);
        if (one)
            dregs_ask_faults(job, one, &faults);
        status = status ? status : one;
    }
    return status;
}

/* ---- the answer ---- */

dregs_status dregs_ask_text(dregs_report *report, char **text)
{
    struct dregs_gathered taken = {0};
    dregs_status status = dregs_report_write(report, DREGS_REPORT_TEXT, 0, 0, dregs_gather, &taken);

    if (status)
        free(taken.bytes);
    else
        *text = taken.bytes;
    return status == DREGS_IO ? DREGS_NO_MEMORY : status;
}

void dregs_ask_write(struct ask_job *job, dregs_status made, dregs_report *report,
                     dregs_report *working)
{
    if (!made && working)
        dregs_report_working(report, working);
    if (!made)
        made = dregs_report_write(report, DREGS_REPORT_JSON, 0, 0, dregs_gather, &job->answer);
    dregs_report_free(working);
    dregs_report_free(report);
    if (made) /* the sink ends it only when memory is short */
        dregs_ask_failed(job, made == DREGS_IO ? DREGS_NO_MEMORY : made, NULL, "");
}

/* What is wrong, in place of an answer; NULL without memory. */
static char *write_faults(struct ask_job *job)
{
    json_t *object = json_object();
    char *text = NULL, *line;
    size_t length;

    if (!json_object_set_new(object, "program", json_string("dregs")) &&
        !json_object_set_new(object, "version", json_string(dregs_version())) &&
        !json_object_set_new(object, "tool", string(job->tool)) &&
        !json_object_set_new(object, "status", string(dregs_status_text(job->status))) &&
        !json_object_set_new(object, "exit", json_integer(job->exit)) && job->faults &&
        !json_object_set(object, "faults", job->faults))
        text = json_dumps(object, JSON_INDENT(1));
    json_decref(object);
    length = text ? strlen(text) : 0;
    line = text ? realloc(text, length + 2) : NULL; /* a line feed at its end, as a report has */
    if (!line) {
        free(text);
        return NULL;
    }
    memcpy(line + length, "\n", 2);
    return line;
}

static void answer(struct ask_job *job, const char *request)
{
    json_error_t error;
    json_t *root = json_loads(request, JSON_REJECT_DUPLICATES, &error);
    int line = error.line;

    job->kept = json_array();
    if (!job->kept || (!root && json_error_code(&error) == json_error_out_of_memory))
        dregs_ask_failed(job, DREGS_NO_MEMORY, NULL, "");
    else if (!root)
        dregs_ask_fault(job, ASK_WRONG_USE, DREGS_BAD_DATA, "request",
                        line > 0 ? (unsigned long)line : 0, NULL, error.text);
    else if (!dregs_ask_take_request(job, root))
        job->asked->verb->answer(job);
    job->tool = job->asked ? job->asked->verb->name : NULL;
    /* what was asked points into the lines and the request */
    dregs_asked_free(job->asked);
    while (job->lines)
        dregs_line_free(job->read[--job->lines]);
    dregs_liquids_free(job->liquids);
    json_decref(job->kept);
    json_decref(root);
}

dregs_status dregs_ask(const char *request, char **answered)
{
    struct ask_job *job = calloc(1, sizeof *job);
    dregs_status status;

    *answered = NULL;
    if (!job)
        return DREGS_NO_MEMORY;
    dregs_gsl_hold();
    answer(job, request);
    dregs_gsl_release();
    status = job->status;
    if (!status) {
        *answered = job->answer.bytes;
    } else {
        free(job->answer.bytes);
        *answered = write_faults(job);
    }
    json_decref(job->faults);
    free(job);
    return status;
}

void dregs_ask_free(char *answer)
{
    free(answer);
}
