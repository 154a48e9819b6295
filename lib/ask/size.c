/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: what dregs size is asked, and its answer in JSON. */
#include "ask/job.h"
#include "dregs/number.h"

#include <stdio.h>
#include <string.h>

static const struct ask_option options[] = {
    {"vary", ASK_LIST},      {"stages", ASK_WORD},     {"layout", ASK_WORD},
    {"trade-off", ASK_FLAG}, {"steady", ASK_FLAG},     {"loads", ASK_WORD},
    {"at", ASK_WORD},        {"confidence", ASK_WORD}, {"write", ASK_FLAG}};

static dregs_status add_varied(dregs_asked *asked, const char *text, char *message)
{
    char why[DREGS_SIZE_MESSAGE];

    if (asked->varies >= DREGS_VARIED_MOST)
        return dregs_ask_refuse(message, "--vary more than %d times", DREGS_VARIED_MOST);
    if (dregs_varied_form(text, why))
        return dregs_ask_refuse(message, "--vary %s", why);
    asked->vary[asked->varies++] = text;
    return DREGS_OK;
}

static dregs_status take_stages(dregs_size_request *request, const char *text, char *message)
{
    char first[24];
    const char *dots = strstr(text, "..");
    size_t length = dots ? (size_t)(dots - text) : strlen(text);
    uint64_t a, b;

    snprintf(first, sizeof first, "%.*s", (int)(length < 23 ? length : 23), text);
    a = dregs_ask_count(first);
    b = dots ? dregs_ask_count(dots + 2) : a;
    if (!a || !b || a > b || b > DREGS_SIZE_STAGES_MOST)
        return dregs_ask_refuse(message, "--stages '%s' is not a range like 1..6, of 1 to %d", text,
                                DREGS_SIZE_STAGES_MOST);
    request->first = (unsigned)a;
    request->last = (unsigned)b;
    return DREGS_OK;
}

static dregs_status take_layout(dregs_size_request *request, const char *text, char *message)
{
    char names[300] = "";
    size_t used = 0;
    int i;

    for (i = 0; i < DREGS_LAYOUTS; i++) {
        const char *name = dregs_layout_name((dregs_layout)i);
        if (strcmp(name, text) == 0) {
            request->layout = i;
            return DREGS_OK;
        }
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i ? "; " : "", name);
    }
    return dregs_ask_refuse(message, "--layout '%s' is not one of %s", text, names);
}

static dregs_status take_criterion(dregs_criterion *criterion, const char *option, const char *text,
                                   char *message)
{
    if (criterion->by != DREGS_CRITERION_EVER)
        return dregs_ask_refuse(message, "--steady, --loads and --at exclude each other");
    if (strcmp(option, "steady") == 0) {
        criterion->by = DREGS_CRITERION_STEADY;
        return DREGS_OK;
    }
    criterion->by = strcmp(option, "loads") == 0 ? DREGS_CRITERION_FIRST : DREGS_CRITERION_LOAD;
    criterion->loads = dregs_ask_count(text);
    return criterion->loads ? DREGS_OK
                            : dregs_ask_refuse(message, "--%s '%s' is not a number from 1 to 2^%d",
                                               option, text, DREGS_LOADS_BITS);
}

/* "95%", "95 %" or "0.95". */
static dregs_status take_confidence(dregs_size_request *request, const char *text, char *message)
{
    char number[32];
    const char *end = text + strlen(text);
    int percent = end > text && end[-1] == '%';
    double value;

    snprintf(number, sizeof number, "%.*s", percent ? (int)(end - text) - 1 : 31, text);
    number[strcspn(number, " ")] = '\0';
    if (strlen(text) > 30 || dregs_number_read(number, &value) ||
        !(value * (percent ? 0.01 : 1) > 0) || !(value * (percent ? 0.01 : 1) < 1))
        return dregs_ask_refuse(message,
                                "--confidence '%s' is not a probability above 0 and below 100%%, "
                                "like 95%%",
                                text);
    request->confidence = value * (percent ? 0.01 : 1);
    return DREGS_OK;
}

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    dregs_size_request *request = &asked->size;

    if (strcmp(option, "vary") == 0)
        return add_varied(asked, text, message);
    if (strcmp(option, "stages") == 0)
        return take_stages(request, text, message);
    if (strcmp(option, "layout") == 0)
        return take_layout(request, text, message);
    if (strcmp(option, "confidence") == 0)
        return take_confidence(request, text, message);
    if (strcmp(option, "write") == 0) {
        asked->write = 1;
        return DREGS_OK;
    }
    if (strcmp(option, "trade-off") != 0)
        return take_criterion(&request->criterion, option, text, message);
    request->trade_off = 1;
    return DREGS_OK;
}

static dregs_status check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message)
{
    const dregs_size_request *r = &asked->size;

    (void)lines;
    (void)accounts;
    (void)beside;
    if (!asked->varies && !r->first)
        return dregs_ask_refuse(message, "one of --vary and --stages is needed, as in --vary "
                                         "last.flow or --stages 1..6");
    if (asked->varies && r->first)
        return dregs_ask_refuse(message, "--vary and --stages exclude each other");
    if (r->layout != DREGS_EVERY_LAYOUT && !r->first)
        return dregs_ask_refuse(message, "--layout goes with --stages");
    if (asked->write && r->first && (r->layout == DREGS_EVERY_LAYOUT || r->first != r->last))
        return dregs_ask_refuse(message,
                                "--write with --stages needs one layout: --layout NAME --stages N");
    if (asked->draws.given && !asked->draws.draws && r->confidence > 0)
        return dregs_ask_refuse(message, "--confidence takes draws, and --draws 0 makes none");
    if (asked->draws.draws > DREGS_SIZE_DRAWS_MOST)
        return dregs_ask_refuse(message, "--draws of a sizing: %d at most",
                                (int)DREGS_SIZE_DRAWS_MOST);
    return DREGS_OK;
}

unsigned dregs_asked_varied(const dregs_asked *asked)
{
    return asked->varies;
}

dregs_status dregs_asked_vary(dregs_asked *asked, const dregs_line *line, char *message)
{
    char why[DREGS_SIZE_MESSAGE];
    dregs_status status;
    unsigned i;

    asked->size.draws = asked->draws.given ? asked->draws.draws : DREGS_SIZE_DRAWS_USUAL;
    asked->size.seed = asked->draws.seed;
    asked->size.threads = asked->draws.threads;
    if (!asked->varies)
        return DREGS_OK;
    dregs_varied_free(asked->varied);
    asked->varied = dregs_varied_new(line);
    asked->size.varied = asked->varied;
    if (!asked->varied)
        return DREGS_NO_MEMORY;
    for (i = 0; i < asked->varies; i++) {
        status = dregs_varied_read(asked->varied, asked->vary[i], why);
        if (status == DREGS_NO_MEMORY)
            return status;
        if (status)
            return dregs_ask_refuse(message, "--vary %s", why);
    }
    return DREGS_OK;
}

/* The line file with the answer put in; none where the target cannot be met so. */
static void add_file(dregs_report *report, const dregs_size_result *result)
{
    const dregs_sized *sized =
        result->rows ? dregs_size_result_row(result, 0)->sized : result->sized;
    size_t length;

    dregs_report_file(report, "write", result->met ? dregs_sized_text(sized, &length) : NULL);
}

static void answer(struct ask_job *job)
{
    char message[DREGS_ASK_MESSAGE] = "", why[DREGS_SIZE_MESSAGE] = "";
    dregs_asked *asked = job->asked;
    dregs_size_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    dregs_status status = dregs_ask_read(job);

    if (status)
        return;
    status = dregs_asked_vary(asked, job->read[0], message);
    if (status == DREGS_NO_MEMORY) {
        dregs_ask_failed(job, status, NULL, "");
        return;
    }
    if (status) {
        dregs_ask_misused(job, status, "vary", message);
        return;
    }
    status = dregs_size_answer(job->read[0], &asked->size, &result, why);
    if (status) {
        dregs_ask_failed(job, status, dregs_line_name(job->read[0]), why);
        return;
    }
    status = dregs_page_size(job->read[0], &asked->size, result, 0, &report);
    if (!status && job->asked->explain)
        status = dregs_page_size(job->read[0], &asked->size, result, 1, &working);
    if (!status && asked->write)
        add_file(report, result);
    dregs_ask_write(job, status, report, working);
    dregs_size_result_free(result);
}

const struct ask_verb dregs_ask_verb_size = {
    "size", options, sizeof options / sizeof options[0], 1, 1, 1, take, check, answer, 1};
