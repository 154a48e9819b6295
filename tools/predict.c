/* SPDX-License-Identifier: GPL-3.0-or-later */
/* predict.c: dregs-predict, what a line leaves on the parts. */
#include "predict.h"

#include <stdlib.h>
#include <string.h>

enum option { LOADS, EVERY, AT, CHECK, FORMAT, EXPLAIN, LIQUIDS };

static const struct front_option options[] = {
    [LOADS] = {"loads", "N",
               "the first N loads from the fresh start (default: as long as it runs)"},
    [EVERY] = {"every", "K", "print every K-th load (default: 1, 2, 5, 10, 20, 50, ...)"},
    [AT] = {"at", "LOAD", "print this load only; may be repeated; any number"},
    [CHECK] = {"check", NULL, "exit 1 when the worst load misses the target"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv or json"},
    [EXPLAIN] = {"explain", NULL, "show the working: equations, numbers, units, sources"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-predict", "LINE",
    "Predicts what a cleaning line leaves on the parts. LINE is a line file, or - for standard "
    "input.",
    options, sizeof options / sizeof options[0]};

static int add_load(struct request *request, const char *text)
{
    uint64_t load = front_count(text), *bigger;
    size_t i = request->at_count;

    if (!load)
        return front_usage("--at '%s' is not a load number from 1 to 2^%d", text, DREGS_LOADS_BITS);
    bigger = realloc(request->at, (i + 1) * sizeof *bigger);
    if (!bigger)
        return front_say(FRONT_IO, "out of memory");
    request->at = bigger;
    for (; i > 0 && bigger[i - 1] > load; i--)
        bigger[i] = bigger[i - 1];
    bigger[i] = load;
    if (i == 0 || bigger[i - 1] != load)
        request->at_count++;
    else /* named twice: close the gap again */
        memmove(bigger + i, bigger + i + 1, (request->at_count - i) * sizeof *bigger);
    return 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    switch ((enum option)option) {
    case LOADS:
        request->loads = front_count(argument);
        return request->loads ? 0
                              : front_usage("--loads '%s' is not a number from 1 to 2^%d", argument,
                                            DREGS_LOADS_BITS);
    case EVERY:
        request->every = front_count(argument);
        return request->every ? 0
                              : front_usage("--every '%s' is not a number from 1 to 2^%d", argument,
                                            DREGS_LOADS_BITS);
    case AT:
        return add_load(request, argument);
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
    if (request->at_count && request->every)
        return front_usage("--at and --every exclude each other");
    if (request->at_count && request->loads && request->at[request->at_count - 1] > request->loads)
        return front_usage("--at names a load beyond --loads");
    if (request->every && request->loads && request->every > request->loads)
        return front_usage("--every is larger than --loads");
    if (request->explain && (request->every || request->at_count > 1))
        return front_usage("--explain shows one load: the worst, or that of one --at");
    return front_check(request->file, request->liquids_file, request->format, request->explain);
}

static int print(const struct answer *answer)
{
    if (answer->request->format == FRONT_CSV)
        return page_csv(answer);
    if (answer->request->format == FRONT_JSON)
        return page_json(answer);
    return answer->request->explain ? page_explain(answer) : page_text(answer);
}

static int predict(void *user, const char *file)
{
    struct request *request = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    struct answer answer = {0};
    int status;

    request->file = file;
    status = check_request(request);
    if (!status)
        status = front_read(file, request->liquids_file, &liquids, &line);
    if (!status && request->check && !dregs_line_target(line)->name)
        status =
            front_say(FRONT_BAD_DATA, "%s: --check needs a target, and the line states none", file);
    if (!status)
        status = answer_fill(&answer, request, line);
    if (!status)
        status = print(&answer);
    if (!status && request->check && !answer.met)
        status = FRONT_MISSED;
    answer_clear(&answer);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

int main(int argc, char **argv)
{
    struct request request = {0};
    int status = front_run(&tool, argc, argv, take, predict, &request);

    free(request.at);
    return status;
}
