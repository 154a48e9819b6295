/* SPDX-License-Identifier: GPL-3.0-or-later */
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
    const char *vary_text[DREGS_VARIED_MOST];
    unsigned vary_texts;
    dregs_size_request asked;
    dregs_varied *varied;
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
    .draws = 1,
    .example = "dregs example aqueous-line | dregs size --vary last.flow -",
};

static int add_varied(struct size_request *request, const char *text)
{
    char message[DREGS_SIZE_MESSAGE];

    if (request->vary_texts >= DREGS_VARIED_MOST)
        return front_usage("--vary more than %d times", DREGS_VARIED_MOST);
    if (dregs_varied_form(text, message))
        return front_usage("--vary %s", message);
    request->vary_text[request->vary_texts++] = text;
    return 0;
}

static int take_stages(struct size_request *request, const char *text)
{
    char first[24];
    const char *dots = strstr(text, "..");
    size_t length = dots ? (size_t)(dots - text) : strlen(text);
    uint64_t a, b;

    snprintf(first, sizeof first, "%.*s", (int)(length < 23 ? length : 23), text);
    a = front_count(first);
    b = dots ? front_count(dots + 2) : a;
    if (!a || !b || a > b || b > DREGS_SIZE_STAGES_MOST)
        return front_usage("--stages '%s' is not a range like 1..6, of 1 to %d", text,
                           DREGS_SIZE_STAGES_MOST);
    request->asked.first = (unsigned)a;
    request->asked.last = (unsigned)b;
    return 0;
}

static int take_layout(struct size_request *request, const char *text)
{
    char names[300] = "";
    size_t used = 0;
    int i;

    for (i = 0; i < DREGS_LAYOUTS; i++) {
        const char *name = dregs_layout_name((dregs_layout)i);
        if (strcmp(name, text) == 0) {
            request->asked.layout = i;
            return 0;
        }
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i ? "; " : "", name);
    }
    return front_usage("--layout '%s' is not one of %s", text, names);
}

static int take_criterion(struct size_request *request, enum option option, const char *argument)
{
    if (request->asked.criterion.by != DREGS_CRITERION_EVER)
        return front_usage("--steady, --loads and --at exclude each other");
    if (option == STEADY) {
        request->asked.criterion.by = DREGS_CRITERION_STEADY;
        return 0;
    }
    request->asked.criterion.by = option == LOADS ? DREGS_CRITERION_FIRST : DREGS_CRITERION_LOAD;
    request->asked.criterion.loads = front_count(argument);
    return request->asked.criterion.loads
               ? 0
               : front_usage("--%s '%s' is not a number from 1 to 2^%d", options[option].name,
                             argument, DREGS_LOADS_BITS);
}

/* "95%", "95 %" or "0.95". */
static int take_confidence(struct size_request *request, const char *text)
{
    char number[32];
    const char *end = text + strlen(text);
    int percent = end > text && end[-1] == '%';
    double value;

    snprintf(number, sizeof number, "%.*s", percent ? (int)(end - text) - 1 : 31, text);
    number[strcspn(number, " ")] = '\0';
    if (strlen(text) > 30 || dregs_number_read(number, &value) ||
        !(value * (percent ? 0.01 : 1) > 0) || !(value * (percent ? 0.01 : 1) < 1))
        return front_usage("--confidence '%s' is not a probability above 0 and below 100%%, like "
                           "95%%",
                           text);
    request->asked.confidence = value * (percent ? 0.01 : 1);
    return 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct size_request *request = user;

    switch ((enum option)option) {
    case VARY:
        return add_varied(request, argument);
    case STAGES:
        return take_stages(request, argument);
    case LAYOUT:
        return take_layout(request, argument);
    case TRADE_OFF:
        request->asked.trade_off = 1;
        return 0;
    case STEADY:
    case LOADS:
    case AT:
        return take_criterion(request, (enum option)option, argument);
    default:
        return take_confidence(request, argument);
    }
}

static int check_request(const struct size_request *request)
{
    const dregs_size_request *asked = &request->asked;

    if (!request->vary_texts == !asked->first)
        return front_usage("one of --vary and --stages is needed");
    if (asked->layout != DREGS_EVERY_LAYOUT && !asked->first)
        return front_usage("--layout goes with --stages");
    if (request->common.write_file && asked->first &&
        (asked->layout == DREGS_EVERY_LAYOUT || asked->first != asked->last))
        return front_usage("--write with --stages needs one layout: --layout NAME --stages N");
    if (request->common.draws.given && !request->common.draws.draws && asked->confidence > 0)
        return front_usage("--confidence takes draws, and --draws 0 makes none");
    if (request->common.draws.draws > DREGS_SIZE_DRAWS_MOST)
        return front_usage("--draws of a sizing: %d at most", (int)DREGS_SIZE_DRAWS_MOST);
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
    char message[DREGS_SIZE_MESSAGE];
    dregs_status status;
    unsigned i;

    if (request->vary_texts && !(request->varied = dregs_varied_new(line)))
        return front_say(FRONT_IO, "out of memory");
    request->asked.varied = request->varied;
    request->asked.draws =
        request->common.draws.given ? request->common.draws.draws : DREGS_SIZE_DRAWS_USUAL;
    request->asked.seed = request->common.draws.seed;
    request->asked.threads = request->common.draws.threads;
    for (i = 0; i < request->vary_texts; i++) {
        status = dregs_varied_read(request->varied, request->vary_text[i], message);
        if (status == DREGS_NO_MEMORY)
            return front_say(FRONT_IO, "out of memory");
        if (status)
            return front_usage("--vary %s", message);
    }
    front_watch_begin(&request->watch);
    request->asked.progress = progress;
    request->asked.user = &request->watch;
    status = dregs_size_answer(line, &request->asked, result, message);
    front_watch_end(&request->watch);
    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    return status ? front_say(FRONT_BAD_DATA, "%s: %s", dregs_line_name(line),
                              *message ? message : dregs_status_text(status))
                  : FRONT_DONE;
}

static int page(const struct size_request *request, const dregs_line *line,
                const dregs_size_result *result)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status status =
        dregs_page_size(line, &request->asked, result, request->common.explain, &report);

    if (!status && request->common.format == FRONT_HTML)
        status = dregs_page_size(line, &request->asked, result, 1, &working);
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
    dregs_varied_free(request->varied);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct size_request request = {0};

    dregs_size_request_init(&request.asked);
    return front_run(&tool, argc, argv, &request.common, take, size, &request);
}

const struct verb verb_size = {&tool, run_tool, "the rinsing that just meets the target"};
