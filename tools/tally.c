/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.c: dregs-tally, where every litre and every gram goes. */
#include "tally.h"
#include "tally_actual.h"
#include "tally_law.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option { FOR, LOADS, FROM, BY, LAW, GIVEN, ACTUAL, YEAR, FORMAT, EXPLAIN, LIQUIDS };

static const struct front_option options[] = {
    [FOR] = {"for", "SPAN", "shift, day, month or year (default: year)"},
    [LOADS] = {"loads", "N", "N loads without a pause, for a line without a schedule"},
    [FROM] = {"from", "START", "fresh tanks (default), or running: after a year"},
    [BY] = {"by", "VIEW", "stage, liquid or month"},
    [LAW] = {"law", NULL, "what regulations ask of the line's year, and what they ask for"},
    [GIVEN] = {"given", "KEY=VALUE", "a fact that no line file tells, such as captured=80%"},
    [ACTUAL] = {"actual", "FILE", "purchases, to set beside the line's year"},
    [YEAR] = {"year", "YYYY", "of the purchases (default: the latest full one)"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv or json"},
    [EXPLAIN] = {"explain", NULL, "show the working: equations, numbers, units, sources"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-tally", "LINE [LINE ...]",
    "Tells where every litre of liquid and every gram of soil of a cleaning line goes. LINE is a "
    "line file, or - for standard input; several are set side by side.",
    options, sizeof options / sizeof options[0]};

/* The place of a word in a list; -1 for none. */
static int find_word(const char *word, const char *const *words, int count)
{
    int i;

    for (i = 0; i < count; i++)
        if (strcmp(word, words[i]) == 0)
            return i;
    return -1;
}

static int take_span(struct tally_request *request, const char *argument)
{
    static const char *const spans[] = {"shift", "day", "month", "year"};
    int span = find_word(argument, spans, 4);

    if (span < 0)
        return front_usage("--for '%s' is not one of shift, day, month, year", argument);
    request->span.span = (dregs_span)(DREGS_SPAN_SHIFT + span);
    request->span_given = 1;
    return 0;
}

static int take_start(struct tally_request *request, const char *argument)
{
    static const char *const starts[] = {"fresh", "running"};

    request->span.running = find_word(argument, starts, 2);
    return request->span.running >= 0
               ? 0
               : front_usage("--from '%s' is not one of fresh, running", argument);
}

static int take_view(struct tally_request *request, const char *argument)
{
    static const char *const views[] = {"stage", "liquid", "month"};
    int view = find_word(argument, views, 3);

    if (view < 0)
        return front_usage("--by '%s' is not one of stage, liquid, month", argument);
    request->view = (enum tally_view)(TALLY_BY_STAGE + view);
    return 0;
}

static int take_year(struct tally_request *request, const char *argument)
{
    uint64_t year = front_count(argument);

    if (year < 1900 || year > 2200)
        return front_usage("--year '%s' is not a year from 1900 to 2200", argument);
    request->actual_year = (int)year;
    return 0;
}

/* The request with the facts that --given adds to it. */
struct asked {
    struct tally_request request;
    struct law_given *given;
};

static int take(void *user, size_t option, const char *argument)
{
    struct asked *asked = user;
    struct tally_request *request = &asked->request;

    switch ((enum option)option) {
    case FOR:
        return take_span(request, argument);
    case LOADS:
        request->span.loads = front_count(argument);
        return request->span.loads ? 0
                                   : front_usage("--loads '%s' is not a number from 1 to 2^%d",
                                                 argument, DREGS_LOADS_BITS);
    case FROM:
        return take_start(request, argument);
    case BY:
        return take_view(request, argument);
    case LAW:
        request->law = 1;
        return 0;
    case GIVEN:
        request->given_any = 1;
        return law_given_take(asked->given, argument);
    case ACTUAL:
        request->actual_file = argument;
        return 0;
    case YEAR:
        return take_year(request, argument);
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
static int check_request(struct tally_request *request)
{
    unsigned i, standard = 0;
    int status = 0;

    if (request->span.loads && request->span_given)
        return front_usage("--for and --loads exclude each other");
    if (request->span.loads)
        request->span.span = DREGS_SPAN_LOADS;
    else if (!request->span_given)
        request->span.span = DREGS_SPAN_YEAR;
    if (request->view == TALLY_BY_MONTH && request->span.span != DREGS_SPAN_YEAR)
        return front_usage("--by month is a view of a year");
    if (request->files > 1 && (request->explain || request->view != TALLY_BALANCE))
        return front_usage("several lines are set side by side; --by and --explain take one");
    if ((request->law || request->actual_file) &&
        (request->files > 1 || request->view != TALLY_BALANCE))
        return front_usage("--law and --actual take one line, and no --by");
    if (request->given_any && !request->law && !request->actual_file)
        return front_usage("--given goes with --law or --actual");
    if (request->actual_year && !request->actual_file)
        return front_usage("--year goes with --actual");
    if (request->actual_file && strcmp(request->actual_file, "-") == 0 &&
        (strcmp(request->file[0], "-") == 0 ||
         (request->liquids_file && strcmp(request->liquids_file, "-") == 0)))
        return front_usage("only one file can be standard input");
    for (i = 0; i < request->files && !status; i++) {
        standard += strcmp(request->file[i], "-") == 0;
        status =
            front_check(request->file[i], request->liquids_file, request->format, request->explain);
    }
    if (!status && standard > 1)
        return front_usage("only one LINE can be standard input");
    return status;
}

static int print(const struct tally_answer *answer)
{
    if (answer->request->format == FRONT_CSV)
        return tally_page_csv(answer);
    if (answer->request->format == FRONT_JSON)
        return tally_page_json(answer);
    return answer->request->explain ? tally_page_explain(answer) : tally_page_text(answer);
}

/* What is asked beside the tally itself. Returns FRONT_DONE or the status to exit with. */
static int fill_more(struct tally_answer *answer)
{
    const struct tally_request *request = answer->request;
    int status = FRONT_DONE;

    if (request->law) {
        answer->law = calloc(1, sizeof *answer->law);
        status = answer->law ? tally_law_fill(answer->law, answer, request->given)
                             : front_say(FRONT_IO, "out of memory");
    }
    if (!status && request->actual_file) {
        answer->actual = calloc(1, sizeof *answer->actual);
        status = answer->actual
                     ? tally_actual_fill(answer->actual, answer, request->actual_file,
                                         request->actual_year, request->given->drain == 2)
                     : front_say(FRONT_IO, "out of memory");
    }
    return status;
}

static void clear_more(struct tally_answer *answer)
{
    if (answer->law)
        tally_law_clear(answer->law);
    if (answer->actual)
        tally_actual_clear(answer->actual);
    free(answer->law);
    free(answer->actual);
}

static int tally(struct tally_request *request)
{
    dregs_liquids *liquids = NULL;
    struct tally_answer *answer = calloc(1, sizeof *answer);
    int status = answer ? check_request(request) : front_say(FRONT_IO, "out of memory");

    if (!status)
        status = front_read_liquids(request->liquids_file, &liquids);
    if (!status)
        status = tally_fill(answer, request, liquids);
    if (!status)
        status = fill_more(answer);
    if (!status)
        status = print(answer);
    if (answer) {
        clear_more(answer);
        tally_clear(answer);
    }
    free(answer);
    dregs_liquids_free(liquids);
    return status;
}

int main(int argc, char **argv)
{
    struct law_given given;
    struct asked asked = {.given = &given};
    int operand, status;

    front_begin(&tool);
    law_given_none(&given);
    asked.request.given = &given;
    status = front_options(&tool, argc, argv, take, &asked, &operand);
    if (status >= 0)
        return status;
    if (operand == argc)
        return front_usage("no line file given");
    if (argc - operand > TALLY_FILES_MOST)
        return front_usage("more than %d line files", TALLY_FILES_MOST);
    for (; operand < argc; operand++)
        asked.request.file[asked.request.files++] = argv[operand];
    return front_end(tally(&asked.request));
}
