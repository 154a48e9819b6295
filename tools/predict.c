/* SPDX-License-Identifier: GPL-3.0-or-later */
/* predict.c: dregs-predict, what a line leaves on the parts. */
#include "doubt.h"
#include "dregs/answer_predict.h"
#include "dregs/page.h"
#include "front.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum option { LOADS, EVERY, AT, DRAWS, SEED, THREADS, CHECK, FORMAT, EXPLAIN, LIQUIDS };

static const struct front_option options[] = {
    [LOADS] = {"loads", "N",
               "the first N loads from the fresh start (default: as long as it runs)"},
    [EVERY] = {"every", "K", "print every K-th load (default: 1, 2, 5, 10, 20, 50, ...)"},
    [AT] = {"at", "LOAD", "print this load only; may be repeated; any number"},
    [DRAWS] = {"draws", "N",
               "draws of the values with a spread (default: about 0.3 s of them; 0: none)"},
    [SEED] = {"seed", "N", "of the draws (default: 1)"},
    [THREADS] = {"threads", "N", "to draw with (default: one for each processor)"},
    [CHECK] = {"check", NULL, "exit 1 when the worst load misses the target"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv, json, html or svg"},
    [EXPLAIN] = {"explain", NULL, "show the working: equations, numbers, units, sources"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-predict", "LINE",
    "Predicts what a cleaning line leaves on the parts. LINE is a line file, or - for standard "
    "input.",
    options, sizeof options / sizeof options[0]};

struct request {
    const char *file, *liquids_file;
    dregs_predict_request asked;
    uint64_t *at; /* what `asked` points to */
    enum front_format format;
    int check, explain;
    struct doubt doubt;
};

static int add_load(struct request *request, const char *text)
{
    uint64_t load = front_count(text), *bigger;
    size_t i = request->asked.at_count;

    if (!load)
        return front_usage("--at '%s' is not a load number from 1 to 2^%d", text, DREGS_LOADS_BITS);
    bigger = realloc(request->at, (i + 1) * sizeof *bigger);
    if (!bigger)
        return front_say(FRONT_IO, "out of memory");
    request->at = bigger;
    request->asked.at = bigger;
    for (; i > 0 && bigger[i - 1] > load; i--)
        bigger[i] = bigger[i - 1];
    bigger[i] = load;
    if (i == 0 || bigger[i - 1] != load)
        request->asked.at_count++;
    else /* named twice: close the gap again */
        memmove(bigger + i, bigger + i + 1, (request->asked.at_count - i) * sizeof *bigger);
    return 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    switch ((enum option)option) {
    case LOADS:
        request->asked.loads = front_count(argument);
        return request->asked.loads ? 0
                                    : front_usage("--loads '%s' is not a number from 1 to 2^%d",
                                                  argument, DREGS_LOADS_BITS);
    case EVERY:
        request->asked.every = front_count(argument);
        return request->asked.every ? 0
                                    : front_usage("--every '%s' is not a number from 1 to 2^%d",
                                                  argument, DREGS_LOADS_BITS);
    case AT:
        return add_load(request, argument);
    case DRAWS:
        return doubt_draws(&request->doubt, argument);
    case SEED:
        return doubt_seed(&request->doubt, argument);
    case THREADS:
        return doubt_threads(&request->doubt, argument);
    case CHECK:
        request->check = 1;
        return 0;
    case EXPLAIN:
        request->explain = 1;
        return 0;
    case LIQUIDS:
        request->liquids_file = argument;
        return 0;
    default:
        return front_format(argument, &request->format);
    }
}

/* What only shows once all options are read. */
static int check_request(const struct request *request)
{
    const dregs_predict_request *asked = &request->asked;

    if (asked->at_count && asked->every)
        return front_usage("--at and --every exclude each other");
    if (asked->at_count && asked->loads && asked->at[asked->at_count - 1] > asked->loads)
        return front_usage("--at names a load beyond --loads");
    if (asked->every && asked->loads && asked->every > asked->loads)
        return front_usage("--every is larger than --loads");
    if (request->explain && (asked->every || asked->at_count > 1))
        return front_usage("--explain shows one load: the worst, or that of one --at");
    return front_check(request->file, request->liquids_file, request->format, request->explain);
}

static int ask(struct request *request, const dregs_line *line, dregs_predict_result **result)
{
    dregs_status status;

    if (request->check && !dregs_line_target_name(line))
        return front_say(FRONT_BAD_DATA, "%s: --check needs a target, and the line states none",
                         dregs_line_name(line));
    if (request->explain && request->asked.at_count)
        request->asked.shown = request->asked.at[0];
    status = dregs_predict_answer(line, &request->asked, result);
    return status ? front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s",
                              dregs_line_name(line), dregs_status_text(status))
                  : FRONT_DONE;
}

/* How long one draw takes, s of this thread: the shortest of a few, which other programs on the
 * machine lengthen least. */
static double time_draw(const dregs_predict_result *result)
{
    dregs_predict_doubt_request asked;
    double shortest = INFINITY;

    dregs_predict_doubt_request_init(&asked);
    asked.threads = 1;
    for (asked.draws = 1; asked.first < 5; asked.first++) {
        double since = doubt_worked();
        dregs_predict_doubt *doubt = NULL;
        if (dregs_predict_doubt_ask(result, &asked, &doubt, NULL))
            return 0; /* it will be said why */
        dregs_predict_doubt_free(doubt);
        shortest = fmin(shortest, doubt_worked() - since);
        if (shortest > 0.1)
            break;
    }
    return shortest;
}

static int ask_doubt(const struct request *request, const dregs_predict_result *result,
                     dregs_predict_doubt **doubt)
{
    dregs_predict_doubt_request asked;
    dregs_faults faults = {0};
    struct watch watch;
    dregs_status status;

    dregs_predict_doubt_request_init(&asked);
    asked.draws = request->doubt.given ? request->doubt.draws : doubt_default(time_draw(result));
    asked.seed = request->doubt.seed;
    asked.threads = request->doubt.threads;
    if (!asked.draws)
        return FRONT_DONE;
    doubt_watch(&watch);
    asked.progress = doubt_progress;
    asked.user = &watch;
    status = dregs_predict_doubt_ask(result, &asked, doubt, &faults);
    doubt_unwatch(&watch);
    if (faults.count)
        return front_faults(&faults, status);
    return status ? front_say(FRONT_IO, "%s", dregs_status_text(status)) : FRONT_DONE;
}

/* Met, and met as surely as the target asks. */
static int is_met(const dregs_predict_result *result, const dregs_predict_doubt *doubt)
{
    return doubt && doubt->confidence >= 0 ? doubt->sure : result->met;
}

static int page(const struct request *request, const dregs_line *line,
                const dregs_predict_result *result, const dregs_predict_doubt *doubt)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status status =
        dregs_page_predict_with(line, &request->asked, result, doubt, request->explain, &report);

    if (!status && request->format == FRONT_HTML)
        status = dregs_page_predict(line, &request->asked, result, 1, &working);
    return front_report_with(status, report, working, request->format);
}

static int predict(void *user, const char *file)
{
    struct request *request = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    dregs_predict_result *result = NULL;
    dregs_predict_doubt *doubt = NULL;
    int status;

    request->file = file;
    status = check_request(request);
    if (!status)
        status = front_read(file, request->liquids_file, &liquids, &line);
    if (!status)
        status = ask(request, line, &result);
    if (!status)
        status = ask_doubt(request, result, &doubt);
    if (!status)
        status = page(request, line, result, doubt);
    if (!status && request->check && !is_met(result, doubt))
        status = FRONT_MISSED;
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return doubt_end(status);
}

int main(int argc, char **argv)
{
    struct request request = {0};
    int status;

    dregs_predict_request_init(&request.asked);
    doubt_begin(&request.doubt);
    status = front_run(&tool, argc, argv, take, predict, &request);
    free(request.at);
    return status;
}
