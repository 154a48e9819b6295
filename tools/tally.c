/* SPDX-License-Identifier: GPL-3.0-or-later */
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
    dregs_tally_request span;
    int span_given;
    dregs_tally_view view;
    int law;                 /* --law */
    const char *actual_file; /* --actual FILE, NULL for none */
    int actual_year;         /* --year, 0 for none */
    dregs_tally_dates dates; /* --begin */
    const char *calendar_file;
    dregs_site site; /* --given */
    int given_any;
    dregs_tally_head head; /* --head */
    int head_any;
    const char *instead; /* --instead, NULL for none */
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
    .draws = 1,
    .example = "dregs example solvent-shop | dregs tally -",
};

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
    static const char *const spans[] = {"shift", "day", "month", "year", "quarter"};
    int span = find_word(argument, spans, 5);

    if (span < 0)
        return front_usage("--for '%s' is not one of shift, day, month, quarter, year", argument);
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
    static const char *const views[] = {"stage",  "liquid",  "month", "drain",
                                        "energy", "quarter", "form"};
    int view = find_word(argument, views, 7);

    if (view < 0)
        return front_usage(
            "--by '%s' is not one of stage, liquid, month, quarter, drain, energy, form", argument);
    request->view = (dregs_tally_view)(DREGS_TALLY_BY_STAGE + view);
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

/* The first month of the year. */
static int take_begin(struct tally_request *request, const char *argument)
{
    static const char digits[] = "0123456789";
    size_t year = strspn(argument, digits), month = 0;

    if (year == 4 && argument[4] == '-')
        month = strspn(argument + 5, digits);
    if (month == 2 && !argument[7]) {
        request->dates.year =
            (int)front_count((char[]){argument[0], argument[1], argument[2], argument[3], '\0'});
        request->dates.month = (unsigned)((argument[5] - '0') * 10 + (argument[6] - '0'));
    }
    if (request->dates.year < DREGS_TALLY_YEAR_LEAST ||
        request->dates.year > DREGS_TALLY_YEAR_MOST || request->dates.month < 1 ||
        request->dates.month > DREGS_MONTHS)
        return front_usage("--begin '%s' is not a month from %d-01 to %d-12, written as YYYY-MM",
                           argument, DREGS_TALLY_YEAR_LEAST, DREGS_TALLY_YEAR_MOST);
    return 0;
}

static int take_fact(struct tally_request *request, const char *argument)
{
    char message[DREGS_SITE_MESSAGE];

    request->given_any = 1;
    return dregs_site_take(&request->site, argument, message) ? front_usage("--given %s", message)
                                                              : 0;
}

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

static int take_head(struct tally_request *request, const char *argument)
{
    char message[DREGS_SITE_MESSAGE];

    request->head_any = 1;
    return dregs_tally_head_take(&request->head, argument, message)
               ? front_usage("--head %s", message)
               : 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct tally_request *request = user;

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
    case BEGIN:
        return take_begin(request, argument);
    case CALENDAR:
        request->calendar_file = argument;
        return 0;
    case LAW:
        request->law = 1;
        return 0;
    case GIVEN:
        return take_fact(request, argument);
    case SITE:
        return take_site(request, argument);
    case ACTUAL:
        request->actual_file = argument;
        return 0;
    case HEAD:
        return take_head(request, argument);
    case INSTEAD:
        request->instead = argument;
        return 0;
    default:
        return take_year(request, argument);
    }
}

static int by_dates(const struct tally_request *request)
{
    return request->dates.year || request->calendar_file;
}

/* Lines, or sites of them, that are told of. */
static unsigned accounts(const struct tally_request *request)
{
    return request->sites ? request->sites : request->files;
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
    if (by_dates(request) && request->span.span < DREGS_SPAN_MONTH && !request->law &&
        !request->actual_file)
        return front_usage("--begin and --calendar are of a year, a quarter or a month");
    if ((request->view == DREGS_TALLY_BY_MONTH || request->view == DREGS_TALLY_BY_QUARTER) &&
        request->span.span != DREGS_SPAN_YEAR)
        return front_usage("--by %s is a view of a year",
                           request->view == DREGS_TALLY_BY_MONTH ? "month" : "quarter");
    if (request->sites && (request->span.loads || request->common.explain))
        return front_usage("--site goes with neither --loads nor --explain, which are of one line");
    if (accounts(request) > 1 && (request->common.explain || request->view != DREGS_TALLY_BALANCE))
        return front_usage("several lines are set side by side; --by and --explain take one");
    /* a page of one line that is no view of its own is the account that is handed in */
    if (request->files == 1 && !request->sites && request->view == DREGS_TALLY_BALANCE &&
        !request->instead && request->common.format == FRONT_HTML)
        request->view = DREGS_TALLY_FORM;
    if (request->head_any && request->view != DREGS_TALLY_FORM)
        return front_usage("--head goes with --by form, or with --format html");
    if ((request->law || request->actual_file) &&
        (accounts(request) > 1 ||
         (request->view != DREGS_TALLY_BALANCE && request->view != DREGS_TALLY_FORM)))
        return front_usage("--law and --actual take one line, and no --by");
    if (request->instead &&
        (request->files > 1 || request->sites || request->view != DREGS_TALLY_BALANCE ||
         request->law || request->actual_file || request->common.explain))
        return front_usage("--instead takes one line, and no --by, --law, --actual or --explain");
    if (request->given_any && !request->law && !request->actual_file)
        return front_usage("--given goes with --law or --actual");
    if (request->actual_year && !request->actual_file)
        return front_usage("--year goes with --actual");
    if (request->actual_file && strcmp(request->actual_file, "-") == 0 &&
        (strcmp(request->file[0], "-") == 0 ||
         (request->common.liquids_file && strcmp(request->common.liquids_file, "-") == 0)))
        return front_usage("only one file can be standard input");
    for (i = 0; i < request->files && !status; i++) {
        standard += strcmp(request->file[i], "-") == 0;
        status = front_check(request->file[i], &request->common);
    }
    if (!status && standard > 1)
        return front_usage("only one LINE can be standard input");
    if (!status && request->calendar_file && strcmp(request->calendar_file, "-") == 0 &&
        (standard || (request->actual_file && strcmp(request->actual_file, "-") == 0) ||
         (request->common.liquids_file && strcmp(request->common.liquids_file, "-") == 0)))
        return front_usage("only one file can be standard input");
    return status;
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
    char message[DREGS_TALLY_MESSAGE];
    const dregs_line *line = request->sites ? files->joined[0] : files->line[0];
    unsigned count = dregs_line_fluids(line), i;
    dregs_calendar calendar;
    double *density;
    int status = FRONT_DONE;

    /* those of a site say so themselves */
    if (!request->sites && !by_dates(request) && dregs_calendar_of(line, &calendar, message))
        return front_say(FRONT_BAD_DATA, "%s: --actual needs a year of the line: %s",
                         dregs_line_name(line), message);
    density = calloc(count + 1, sizeof *density);
    for (i = 0; density && i < count && !status; i++)
        status = dregs_tally_density_of(line, i, &density[i]) ? FRONT_IO : FRONT_DONE;
    if (!density || status)
        status = front_say(FRONT_IO, "out of memory");
    else
        status = front_read_purchases(request->actual_file, line, density, &files->purchases);
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
        return front_say(FRONT_BAD_DATA, "%s: %s", request->actual_file, fault->text);
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

    if (!request->instead || !files->lines)
        return FRONT_DONE;
    status = dregs_tally_instead(files->line[0], request->instead, &files->line[1], &faults);
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
    dregs_tally_dates dates = request->dates;
    dregs_tally_question question;
    dregs_faults faults = {0};
    dregs_status status;

    dregs_tally_question_init(&question);
    question.line = (const dregs_line *const *)(request->sites ? files->joined : files->line);
    question.lines = request->sites ? request->sites : files->lines;
    question.span = request->span;
    question.changes =
        files->lines == 1 &&
        (request->view == DREGS_TALLY_BALANCE || request->view == DREGS_TALLY_FORM) &&
        !request->common.explain;
    question.law = request->law;
    question.site = &request->site;
    question.purchases = files->purchases;
    question.year = request->actual_year;
    question.instead = request->instead;
    dates.table = files->calendar;
    question.dates = by_dates(request) ? &dates : NULL;
    question.head = &request->head;
    status = dregs_tally_answer(&question, answer, &faults);
    return status ? say_faults(request, status, &faults) : FRONT_DONE;
}

static int read_and_ask(const struct tally_request *request, struct files *files,
                        dregs_tally_result **answer)
{
    int status = read_lines(request, files), asked = FRONT_DONE;

    if (!status && request->calendar_file)
        status = front_read_calendar(request->calendar_file, &files->calendar);
    if (!status)
        status = join_lines(request, files);
    if (!status && request->actual_file)
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
    dregs_status made = dregs_page_tally_with(answer, doubt, request->view, request->actual_file,
                                              request->common.explain, &report);

    if (!made && request->common.format == FRONT_HTML && !request->sites)
        made =
            dregs_page_tally_with(answer, doubt, request->view, request->actual_file, 1, &working);
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
        doubt_request(&request->common.draws, dregs_tally_doubt_usual(answered.answer), &draws);
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

    dregs_site_init(&request->site);
    dregs_tally_head_init(&request->head);
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
    return status;
}

const struct verb verb_tally = {&tool, run_tool,
                                "where everything goes in a year, and what it costs"};
