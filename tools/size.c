/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: dregs-size, the rinsing that meets a line's target. */
#include "doubt.h"
#include "dregs/answer_size.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

#include <stdio.h>
#include <string.h>

struct size_request {
    const char *file;
    dregs_asked *words;        /* what is asked, and */
    dregs_size_request *asked; /* the request in it */
    struct front_common common;
    struct front_watch watch;
};

enum option { VARY, STAGES, LAYOUT, TRADE_OFF, STEADY, LOADS, AT, CONFIDENCE };

static const struct front_option options[] = {
    [VARY] = {"vary", "S.P[=A..B]", "size property P of stage S, between A and B; may be repeated"},
    [STAGES] = {"stages", "A..B", "replace the rinses by A to B equal ones, in every layout"},
    [LAYOUT] = {"layout", "NAME", "with --stages: this layout only"},
    [TRADE_OFF] = {"trade-off", NULL, "what stricter and laxer limits would take, too"},
    [STEADY] = {"steady", NULL, "judge the periodic state alone"},
    [LOADS] = {"loads", "N", "judge the worst of the first N loads"},
    [AT] = {"at", "LOAD", "judge load number LOAD alone"},
    [CONFIDENCE] = {"confidence", "P%",
                    "meet the target with this probability (default: the target's confidence)"},
};

static const struct front_tool tool = {
    .name = "dregs-size",
    .operands = "LINE",
    .purpose = "Finds the rinsing that meets a line's target with the least liquid. LINE is a "
               "line file, or - for standard input.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .kinds = 1,
    .check = "exit 1 when the target cannot be met",
    .write = "write the line file with the answer put in; - is standard output, without a page",
    .force = "overwrite FILE where it exists",
    .explain = "show the working: range, trials, formulas, sources",
    .wide = 1,
    .draws = 1,
    .example = "dregs example aqueous-line | dregs size --vary last.flow -",
};

static int take(void *user, size_t option, const char *argument)
{
    const struct size_request *request = user;

    return front_ask(request->words, options[option].name, argument);
}

static int check_request(const struct size_request *request)
{
    int status = request->common.write_file ? front_ask(request->words, "write", NULL) : FRONT_DONE;

    if (!status)
        status = front_ask_check(request->words, &request->common, 1, 1, 0);
    if (status)
        return status;
    return front_check(request->file, &request->common);
}

/* Says on a terminal how far a search is that takes longer than a second. */
static int progress(void *user, unsigned trials, double expense)
{
    (void)expense;
    if (front_watch_due(user))
        fprintf(stderr, "\r%s: %u trials ...\033[K", tool.name, trials);
    return 0;
}

static int ask(struct size_request *request, const dregs_line *line, dregs_size_result **result)
{
    char message[DREGS_ASK_MESSAGE], why[DREGS_SIZE_MESSAGE] = "";
    dregs_status status = dregs_asked_vary(request->words, line, message);

    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    if (status)
        return front_usage("%s", message);
    front_watch_begin(&request->watch);
    request->asked->progress = progress;
    request->asked->user = &request->watch;
    status = dregs_size_answer(line, request->asked, result, why);
    front_watch_end(&request->watch);
    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    return status ? front_say(FRONT_BAD_DATA, "%s: %s", dregs_line_name(line),
                              *why ? why : dregs_status_text(status))
                  : FRONT_DONE;
}

static int page(const struct size_request *request, const dregs_line *line,
                const dregs_size_result *result)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status status =
        dregs_page_size(line, request->asked, result, front_explains(&request->common), &report);

    if (!status && front_works(&request->common))
        status = dregs_page_size(line, request->asked, result, 1, &working);
    return front_report_with(status, report, working, request->common.format);
}

static int write_answer(const struct size_request *request, const dregs_size_result *result)
{
    const dregs_sized *sized =
        result->rows ? dregs_size_result_row(result, 0)->sized : result->sized;
    size_t length;
    const char *text = dregs_sized_text(sized, &length);

    if (!result->met || !text)
        return front_say(FRONT_MISSED, "%s is not written: the target cannot be met so",
                         request->common.write_file);
    return front_write(request->common.write_file, text, length);
}

static int size(void *user, const char *file)
{
    struct size_request *request = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    dregs_size_result *result = NULL;
    int status;

    request->file = file;
    status = check_request(request);
    if (!status)
        status = front_read(file, request->common.liquids_file, &liquids, &line);
    if (!status && request->common.write_file)
        status = front_may_write(request->common.write_file);
    if (!status)
        status = ask(request, line, &result);
    if (!status) {
        if (!front_is_output(request->common.write_file))
            status = page(request, line, result);
        if (!status && request->common.write_file)
            status = write_answer(request, result);
        if (!status && request->common.check && !result->met)
            status = FRONT_MISSED;
    }
    dregs_size_result_free(result);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct size_request request = {0};
    int status = front_asked(&tool, &request.words);

    if (status)
        return status;
    request.asked = dregs_asked_size(request.words);
    status = front_run(&tool, argc, argv, &request.common, take, size, &request);
    dregs_asked_free(request.words);
    return status;
}

const struct verb verb_size = {&tool, run_tool, "the rinsing that just meets the target"};
