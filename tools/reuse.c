/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.c: dregs-reuse, whether a rinse may be used again. */
#include "dregs/answer_reuse.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

#include <stdio.h>
#include <string.h>

struct request {
    const char *line_file, *readings_file;
    dregs_asked *words;         /* what is asked, and */
    dregs_reuse_request *asked; /* the request in it */
    struct front_common common;
    int card;
};

enum option { CARD, MEASURE, NOISE, LIMIT, SINCE };

static const struct front_option options[] = {
    [CARD] = {"card", NULL, "one page for the bench: at which reading to dump"},
    [MEASURE] = {"measure-drag-out", NULL,
                 "the log is of one rinse with its water shut: its drag-out"},
    [NOISE] = {"noise", "SHARE", "the meter's standard deviation, such as '3 %' of the reading"},
    [LIMIT] = {"limit", "RESIDUE", "instead of the line's target, such as '1 ug/cm2'"},
    [SINCE] = {"loads-since", "N", "loads that have passed since the last row of the log"},
};

static const struct front_tool tool = {
    .name = "dregs-reuse",
    .operands = "LINE [READINGS]",
    .purpose = "Tells from meter readings whether a rinse may be used again, for how many loads, "
               "and at which reading to dump. LINE is a line file, READINGS a log; one of them "
               "may be - for standard input. Without a log it tells after how many loads to "
               "dump, by the line alone.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .kinds = 1,
    .check = "exit 1 unless it is good for more loads",
    .explain = "show the working: equations, numbers, units, sources",
    .example = "dregs example rinse-bench | dregs reuse -",
};

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    if (option != CARD)
        return front_ask(request->words, options[option].name, argument);
    request->card = 1;
    return 0;
}

static int check_request(const struct request *r)
{
    int measure = dregs_asked_measures(r->words);
    int status = front_ask_check(r->words, &r->common, 1, 1, r->readings_file != NULL);

    if (status || !r->readings_file)
        return status ? status : front_check(r->line_file, &r->common);
    if (strcmp(r->line_file, "-") == 0 && strcmp(r->readings_file, "-") == 0)
        return front_usage("LINE and READINGS cannot both be standard input");
    if (r->common.liquids_file && strcmp(r->common.liquids_file, "-") == 0 &&
        strcmp(r->readings_file, "-") == 0)
        return front_usage("READINGS and --liquids cannot both be standard input");
    if (measure && (r->common.check || r->card))
        return front_usage(
            "--measure-drag-out goes with no --check, --card, --limit or --loads-since");
    if (r->card && r->common.format != FRONT_TEXT && r->common.format != FRONT_HTML)
        return front_usage("--card is text or html; it goes with no other --format");
    if (r->card && r->common.explain)
        return front_usage("--card and --explain exclude each other");
    return front_check(r->line_file, &r->common);
}

/* The drag-out, measured with the water shut. */
static int measure(const struct request *request, const dregs_line *line,
                   const dregs_readings *readings)
{
    dregs_stopped_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    dregs_faults faults = {0};
    dregs_status status =
        dregs_stopped_answer(line, readings, request->asked->noise, &result, &faults);
    int exit_status;

    if (status)
        return front_faults(&faults, status);
    status = dregs_page_stopped_flow(result, front_explains(&request->common), &report);
    if (!status && front_works(&request->common))
        status = dregs_page_stopped_flow(result, 1, &working);
    exit_status = front_report_with(status, report, working, request->common.format);
    dregs_stopped_result_free(result);
    return exit_status;
}

static void progress(void *user, size_t done, size_t readings)
{
    if (front_watch_due(user))
        fprintf(stderr, "\r%zu of %zu readings searched for changes (Ctrl-C: no answer)\033[K",
                done, readings);
}

/* May it be used again? */
static int judge(const struct request *request, const dregs_line *line,
                 const dregs_readings *readings)
{
    dregs_reuse_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    dregs_faults faults = {0};
    struct front_watch watch;
    dregs_status status;
    int exit_status;

    front_watch_begin(&watch);
    request->asked->progress = progress;
    request->asked->user = &watch;
    status = dregs_reuse_answer(line, readings, request->asked, &result, &faults);
    front_watch_end(&watch);
    if (status)
        return front_faults(&faults, status);
    status = request->card ? dregs_page_reuse_card(result, &report)
                           : dregs_page_reuse(result, front_explains(&request->common), &report);
    if (!status && front_works(&request->common) && !request->card)
        status = dregs_page_reuse(result, 1, &working);
    exit_status = front_report_with(status, report, working, request->common.format);
    if (!exit_status && request->common.check && !result->use_again)
        exit_status = FRONT_MISSED;
    dregs_reuse_result_free(result);
    return exit_status;
}

static int reuse(struct request *request)
{
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    dregs_readings *readings = NULL;
    int status = check_request(request);

    if (!status)
        status = front_read(request->line_file, request->common.liquids_file, &liquids, &line);
    if (!status && request->readings_file)
        status = front_read_readings(request->readings_file, line, &readings);
    if (!status && !request->readings_file)
        readings = dregs_readings_new(request->line_file, line, NULL);
    if (!status && !readings)
        status = front_say(FRONT_IO, "out of memory");
    if (!status)
        status = dregs_asked_measures(request->words) ? measure(request, line, readings)
                                                      : judge(request, line, readings);
    dregs_readings_free(readings);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct request request = {0};
    int operand, status;

    front_begin(&tool);
    status = front_asked(&tool, &request.words);
    if (status)
        return status;
    request.asked = dregs_asked_reuse(request.words);
    status = front_options(&tool, argc, argv, &request.common, take, &request, &operand);
    if (status < 0 && (operand >= argc || operand + 2 < argc))
        status = front_usage(operand < argc ? "one line file and one log at a time"
                                            : "a line file is needed, and a log");
    if (status < 0) {
        request.line_file = argv[operand];
        request.readings_file = operand + 1 < argc ? argv[operand + 1] : NULL;
        status = front_end(reuse(&request));
    }
    dregs_asked_free(request.words);
    return status;
}

const struct verb verb_reuse = {&tool, run_tool,
                                "whether a rinse may be used again, from its readings"};
