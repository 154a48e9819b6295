/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.c: dregs-tally, where every litre and every gram goes. */
#include "doubt.h"
#include "dregs/dregs.h"
#include "front.h"
#include "verbs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Lines in one account: so many of the files, from the first one on. */
struct site {
    char *name; /* and the files behind it, in one piece of memory */
    unsigned first, lines;
};

struct tally_request {
    const char *file[DREGS_TALLY_LINES_MOST];
    unsigned files;
    dregs_asked *words;             /* what is asked, and */
    dregs_tally_question *question; /* the question in it, and */
    dregs_tally_view *view;         /* the view */
    struct front_common common;
    struct site site_of[DREGS_TALLY_LINES_MOST]; /* --site */
    unsigned sites;
};

enum option {
    FOR,
    LOADS,
    FROM,
    BY,
    BEGIN,
    CALENDAR,
    LAW,
    GIVEN,
    SITE,
    ACTUAL,
    YEAR,
    INSTEAD,
    HEAD
};

static const struct front_option options[] = {
    [FOR] = {"for", "SPAN", "shift, day, month, quarter or year (default: year)"},
    [LOADS] = {"loads", "N", "N loads without a pause, for a line without a schedule"},
    [FROM] = {"from", "START", "fresh tanks (default), or running: after a year"},
    [BY] = {"by", "VIEW", "stage, liquid, month, quarter, drain, energy or form"},
    [BEGIN] = {"begin", "YYYY-MM", "a year by its dates, from this month on"},
    [CALENDAR] = {"calendar", "FILE", "closed days, shutdown weeks and seasons of that year"},
    [LAW] = {"law", NULL, "what regulations ask of the line's year, and what they ask for"},
    [GIVEN] = {"given", "KEY=VALUE", "site data, such as captured=80%; may be repeated"},
    [SITE] = {"site", "NAME=LINE,...", "lines in one account; another site is set beside it"},
    [ACTUAL] = {"actual", "FILE", "purchases, to set beside the line's year"},
    [YEAR] = {"year", "YYYY", "of the purchases (default: the latest full one)"},
    [INSTEAD] = {"instead", "OLD=NEW", "beside it the line with another solvent"},
    [HEAD] = {"head", "KEY=VALUE", "of the account that is handed in, such as company=NAME"},
};

static const struct front_tool tool = {
    .name = "dregs-tally",
    .operands = "{LINE ... | --site NAME=LINE,...}",
    .purpose = "Tells where every litre of liquid and every gram of soil of a cleaning line "
               "goes. LINE is a line file, or - for standard input; several are set side by "
               "side.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .kinds = 1,
    .explain = "show the working: equations, numbers, units, sources",
    .wide = 1,
    .draws = 1,
    .units = 1,
    .example = "dregs example solvent-shop | dregs tally -",
};

static int take_file(struct tally_request *request, const char *file)
{
    if (request->files == DREGS_TALLY_LINES_MOST)
        return front_usage("more than %d line files", DREGS_TALLY_LINES_MOST);
    request->file[request->files++] = file;
    return 0;
}

/* NAME=LINE,LINE,... */
static int take_site(struct tally_request *request, const char *argument)
{
    struct site *site = &request->site_of[request->sites];
    size_t length = strlen(argument) + 1;
    char *file;
    int status = 0;

    if (!strchr(argument, '=') || *argument == '=')
        return front_usage("--site '%s' is not NAME=LINE,LINE,...", argument);
    if (request->sites == DREGS_TALLY_LINES_MOST)
        return front_usage("more than %d sites", DREGS_TALLY_LINES_MOST);
    site->name = malloc(length);
    if (!site->name)
        return front_say(FRONT_IO, "out of memory");
    request->sites++;
    memcpy(site->name, argument, length);
    site->first = request->files;
    for (file = strchr(site->name, '='); file && !status; site->lines++) {
        *file++ = '\0';
        status = *file && *file != ','
                     ? take_file(request, file)
                     : front_usage("--site '%s' names a line without a name", argument);
        file = strchr(file, ',');
    }
    return status;
}

static int take(void *user, size_t option, const char *argument)
{
    struct tally_request *request = user;

    int status = front_ask(request->words, options[option].name, argument);

    return status || option != SITE ? status : take_site(request, argument);
}

static int by_dates(const struct tally_request *request)
{
    return dregs_asked_by_dates(request->words);
}

/* Lines, or sites of them, that are told of. */
static unsigned accounts(const struct tally_request *request)
{
    return request->sites ? request->sites : request->files;
}

/* The files that may be standard input: at most one is. */
static int check_input(const struct tally_request *request)
{
    const char *others[] = {dregs_asked_actual(request->words),
                            dregs_asked_calendar(request->words), request->common.liquids_file};
    unsigned lines = 0, other = 0, i;
    int status = FRONT_DONE;

    for (i = 0; i < request->files && !status; i++) {
        lines += strcmp(request->file[i], "-") == 0;
        status = front_check(request->file[i], &request->common);
    }
    for (i = 0; i < sizeof others / sizeof others[0]; i++)
        other += others[i] && strcmp(others[i], "-") == 0;
    if (!status && lines > 1)
        return front_usage("only one LINE can be standard input");
    return status || lines + other <= 1 ? status
                                        : front_usage("only one file can be standard input");
}

/* What only shows once all options are read. */
static int check_request(struct tally_request *request)
{
    int status;

    /* a page of one line that is no view of its own is the account that is handed in */
    if (request->files == 1 && !request->sites && *request->view == DREGS_TALLY_BALANCE &&
        !request->question->instead && request->common.format == FRONT_HTML)
        *request->view = DREGS_TALLY_FORM;
    status =
        front_ask_check(request->words, &request->common, request->files, accounts(request), 0);
    return status ? status : check_input(request);
}

/* What was read. */
struct files {
    dregs_liquids *liquids;
    dregs_line *line[DREGS_TALLY_LINES_MOST];
    unsigned lines; /* that could be read */
    dregs_line *joined[DREGS_TALLY_LINES_MOST];
    dregs_purchases *purchases;
    dregs_calendar_table *calendar;
};

/* The purchases, by the densities of the first line's liquids; a line without a year has none. */
static int read_purchases(const struct tally_request *request, struct files *files)
{
    char message[DREGS_ASK_MESSAGE];
    const dregs_line *line = request->sites ? files->joined[0] : files->line[0];
    double *density = calloc(dregs_line_fluids(line) + 1, sizeof *density);
    dregs_status made =
        density ? dregs_asked_densities(request->words, line, density, message) : DREGS_NO_MEMORY;
    int status;

    if (made == DREGS_BAD_DATA)
        status = front_say(FRONT_BAD_DATA, "%s: %s", dregs_line_name(line), message);
    else if (made)
        status = front_say(FRONT_IO, "out of memory");
    else
        status = front_read_purchases(dregs_asked_actual(request->words), line, density,
                                      &files->purchases);
    free(density);
    return status;
}

static int read_lines(const struct tally_request *request, struct files *files)
{
    int status = front_read_liquids(request->common.liquids_file, &files->liquids), one;
    unsigned i;

    for (i = 0; files->liquids && i < request->files; i++) {
        one = front_read_line(request->file[i], files->liquids, &files->line[files->lines]);
        files->lines += one == FRONT_DONE;
        status = status ? status : one;
    }
    return status;
}

/* The lines of each site as one. */
static int join_lines(const struct tally_request *request, struct files *files)
{
    int status = FRONT_DONE;
    unsigned i;

    for (i = 0; i < request->sites && !status; i++) {
        const struct site *site = &request->site_of[i];
        const dregs_line *const *first = (const dregs_line *const *)files->line + site->first;
        dregs_faults faults = {0};
        dregs_status joined =
            dregs_line_join(site->name, first, site->lines, &files->joined[i], &faults);
        if (joined)
            status = faults.count ? front_faults(&faults, joined)
                                  : front_say(FRONT_IO, "%s", dregs_status_text(joined));
    }
    return status;
}

static int say_fault(const struct tally_request *request, const dregs_fault *fault)
{
    switch (fault->status) {
    case DREGS_UNKNOWN:
        return front_usage("--given %s", fault->text);
    case DREGS_OUT_OF_RANGE:
        if (fault->line)
            return front_say(FRONT_BAD_DATA, "%s:%lu: %s", dregs_asked_actual(request->words),
                             fault->line, fault->text);
        return front_say(FRONT_BAD_DATA, "%s: %s", dregs_asked_actual(request->words), fault->text);
    case DREGS_BAD_DATA:
        return front_say(FRONT_BAD_DATA, "%s%s", fault->text,
                         by_dates(request) ? "" : "; --loads N needs none");
    default:
        return front_say(FRONT_BAD_DATA, "%s", fault->text);
    }
}

static int say_faults(const struct tally_request *request, dregs_status status,
                      const dregs_faults *faults)
{
    int exit_status = FRONT_DONE;
    unsigned i;

    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    for (i = 0; i < faults->count; i++)
        exit_status = say_fault(request, &faults->fault[i]);
    return exit_status;
}

/* The line with another solvent becomes the second one. */
static int read_instead(const struct tally_request *request, struct files *files)
{
    dregs_faults faults = {0};
    dregs_status status;

    if (!request->question->instead || !files->lines)
        return FRONT_DONE;
    status =
        dregs_tally_instead(files->line[0], request->question->instead, &files->line[1], &faults);
    files->lines += !status;
    if (!status)
        return FRONT_DONE;
    if (status == DREGS_DOMAIN || status == DREGS_UNKNOWN)
        return front_usage("--instead: %s", faults.fault[0].text);
    return front_faults(&faults, status);
}

/* Asks about the lines that were read. */
static int ask(const struct tally_request *request, const struct files *files,
               dregs_tally_result **answer)
{
    dregs_tally_question *question = request->question;
    dregs_tally_dates dates = {0};
    dregs_faults faults = {0};
    dregs_status status;

    question->line = (const dregs_line *const *)(request->sites ? files->joined : files->line);
    question->lines = request->sites ? request->sites : files->lines;
    question->changes =
        files->lines == 1 &&
        (*request->view == DREGS_TALLY_BALANCE || *request->view == DREGS_TALLY_FORM) &&
        !front_explains(&request->common);
    question->purchases = files->purchases;
    if (question->dates) {
        dates = *question->dates;
        dates.table = files->calendar;
        question->dates = &dates; /* which the answer copies */
    }
    status = dregs_tally_answer(question, answer, &faults);
    question->dates = NULL;
    return status ? say_faults(request, status, &faults) : FRONT_DONE;
}

static int read_and_ask(const struct tally_request *request, struct files *files,
                        dregs_tally_result **answer)
{
    const char *calendar = dregs_asked_calendar(request->words);
    int status = read_lines(request, files), asked = FRONT_DONE;

    if (!status && calendar)
        status = front_read_calendar(calendar, &files->calendar);
    if (!status)
        status = join_lines(request, files);
    if (!status && dregs_asked_actual(request->words))
        status = read_purchases(request, files);
    if (!status)
        status = read_instead(request, files);
    if (files->lines &&
        (!status ||
         (!request->sites && request->files > 1))) /* faults of every line are worth saying */
        asked = ask(request, files, answer);
    return status ? status : asked;
}

/* What was answered, and how sure it is. */
struct answered {
    dregs_tally_result *answer;
    dregs_tally_doubt *doubt;
};

static dregs_status ask_doubt(void *user, const dregs_doubt_request *request, dregs_faults *faults)
{
    struct answered *answered = user;

    return dregs_tally_doubt_ask(answered->answer, request, &answered->doubt, faults);
}

static int page(const struct tally_request *request, const dregs_tally_result *answer,
                const dregs_tally_doubt *doubt)
{
    dregs_report *report = NULL, *working = NULL;
    const char *actual = dregs_asked_actual(request->words);
    dregs_units units = request->common.units;
    dregs_status made = dregs_page_tally_in(answer, doubt, *request->view, actual,
                                            front_explains(&request->common), units, &report);

    if (!made && front_works(&request->common) && !request->sites)
        made = dregs_page_tally_in(answer, doubt, *request->view, actual, 1, units, &working);
    return front_report_with(made, report, working, request->common.format);
}

static int tally(struct tally_request *request)
{
    struct files files = {0};
    struct answered answered = {NULL, NULL};
    dregs_doubt_request draws;
    int status = check_request(request);
    unsigned i;

    if (!status)
        status = read_and_ask(request, &files, &answered.answer);
    if (!status) {
        dregs_ask_draws_request(&request->common.draws, dregs_tally_doubt_usual(answered.answer),
                                &draws);
        status = doubt_ask(&draws, ask_doubt, &answered);
    }
    if (!status)
        status = page(request, answered.answer, answered.doubt);
    dregs_tally_doubt_free(answered.doubt);
    dregs_tally_result_free(answered.answer);
    dregs_purchases_free(files.purchases);
    dregs_calendar_table_free(files.calendar);
    for (i = 0; i < request->sites; i++)
        dregs_line_free(files.joined[i]);
    for (i = 0; i < files.lines; i++)
        dregs_line_free(files.line[i]);
    dregs_liquids_free(files.liquids);
    return doubt_end(status);
}

static int run_request(int argc, char **argv, struct tally_request *request)
{
    int operand, status;

    status = front_asked(&tool, &request->words);
    if (status)
        return status;
    request->question = dregs_asked_tally(request->words);
    request->view = dregs_asked_view(request->words);
    status = front_options(&tool, argc, argv, &request->common, take, request, &operand);
    if (status >= 0)
        return status;
    if (request->sites && operand < argc)
        return front_usage("--site names its lines; '%s' is of none", argv[operand]);
    if (!request->sites && operand == argc)
        return front_usage("no line file given");
    for (status = 0; operand < argc && !status; operand++)
        status = take_file(request, argv[operand]);
    return status ? status : front_end(tally(request));
}

static int run_tool(int argc, char **argv)
{
    struct tally_request request = {0};
    int status;

    front_begin(&tool);
    status = run_request(argc, argv, &request);
    while (request.sites)
        free(request.site_of[--request.sites].name);
    dregs_asked_free(request.words);
    return status;
}

const struct verb verb_tally = {&tool, run_tool,
                                "where everything goes in a year, and what it costs"};
