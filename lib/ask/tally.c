/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.c: what dregs tally is asked, and its answer in JSON. */
#include "ask/job.h"
#include "dregs/calendar.h"
#include "dregs/purchase.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct ask_option options[] = {
    {"for", ASK_WORD},   {"loads", ASK_WORD},    {"from", ASK_WORD}, {"by", ASK_WORD},
    {"begin", ASK_WORD}, {"calendar", ASK_FILE}, {"law", ASK_FLAG},  {"given", ASK_LIST},
    {"site", ASK_SITES}, {"actual", ASK_FILE},   {"year", ASK_WORD}, {"instead", ASK_WORD},
    {"head", ASK_LIST},  {"units", ASK_WORD}};

static dregs_status take_span(dregs_asked *asked, const char *text, char *message)
{
    static const char *const spans[] = {"shift", "day", "month", "year", "quarter"};
    int span = dregs_ask_word(text, spans, 5);

    if (span < 0)
        return dregs_ask_refuse(message,
                                "--for '%s' is not one of shift, day, month, quarter, year", text);
    asked->tally.span.span = (dregs_span)(DREGS_SPAN_SHIFT + span);
    asked->span_given = 1;
    return DREGS_OK;
}

static dregs_status take_start(dregs_asked *asked, const char *text, char *message)
{
    static const char *const starts[] = {"fresh", "running"};
    int start = dregs_ask_word(text, starts, 2);

    if (start < 0)
        return dregs_ask_refuse(message, "--from '%s' is not one of fresh, running", text);
    asked->tally.span.running = start;
    return DREGS_OK;
}

/* What draws are asked of for a view. */
static unsigned parts_of(dregs_tally_view view)
{
    switch (view) {
    case DREGS_TALLY_BY_STAGE:
    case DREGS_TALLY_BY_LIQUID:
        return DREGS_TALLY_OF_STAGES;
    case DREGS_TALLY_BY_MONTH:
    case DREGS_TALLY_BY_QUARTER:
        return DREGS_TALLY_OF_MONTHS;
    default:
        return 0;
    }
}

static dregs_status take_view(dregs_asked *asked, const char *text, char *message)
{
    static const char *const views[] = {"stage",  "liquid",  "month", "drain",
                                        "energy", "quarter", "form"};
    int view = dregs_ask_word(text, views, 7);

    if (view < 0)
        return dregs_ask_refuse(
            message, "--by '%s' is not one of stage, liquid, month, quarter, drain, energy, form",
            text);
    asked->view = (dregs_tally_view)(DREGS_TALLY_BY_STAGE + view);
    asked->tally.parts = parts_of(asked->view);
    return DREGS_OK;
}

static dregs_status take_year(dregs_asked *asked, const char *text, char *message)
{
    uint64_t year = dregs_ask_count(text);

    if (year < 1900 || year > 2200)
        return dregs_ask_refuse(message, "--year '%s' is not a year from 1900 to 2200", text);
    asked->tally.year = (int)year;
    return DREGS_OK;
}

/* The first month of the year. */
static dregs_status take_begin(dregs_asked *asked, const char *text, char *message)
{
    static const char digits[] = "0123456789";
    dregs_tally_dates *dates = &asked->dates;
    size_t year = strspn(text, digits), month = 0;

    if (year == 4 && text[4] == '-')
        month = strspn(text + 5, digits);
    if (month == 2 && !text[7]) {
        dates->year = (int)dregs_ask_count((char[]){text[0], text[1], text[2], text[3], '\0'});
        dates->month = (unsigned)((text[5] - '0') * 10 + (text[6] - '0'));
    }
    if (dates->year < DREGS_TALLY_YEAR_LEAST || dates->year > DREGS_TALLY_YEAR_MOST ||
        dates->month < 1 || dates->month > DREGS_MONTHS)
        return dregs_ask_refuse(
            message, "--begin '%s' is not a month from %d-01 to %d-12, written as YYYY-MM", text,
            DREGS_TALLY_YEAR_LEAST, DREGS_TALLY_YEAR_MOST);
    return DREGS_OK;
}

static dregs_status take_loads(dregs_asked *asked, const char *text, char *message)
{
    asked->tally.span.loads = dregs_ask_count(text);
    return asked->tally.span.loads
               ? DREGS_OK
               : dregs_ask_refuse(message, "--loads '%s' is not a number from 1 to 2^%d", text,
                                  DREGS_LOADS_BITS);
}

static dregs_status take_fact(dregs_asked *asked, const char *text, char *message)
{
    char why[DREGS_SITE_MESSAGE];

    asked->site_given = 1;
    return dregs_site_take(&asked->site, text, why) ? dregs_ask_refuse(message, "--given %s", why)
                                                    : DREGS_OK;
}

static dregs_status take_head(dregs_asked *asked, const char *text, char *message)
{
    char why[DREGS_SITE_MESSAGE];

    asked->head_given = 1;
    return dregs_tally_head_take(&asked->head, text, why)
               ? dregs_ask_refuse(message, "--head %s", why)
               : DREGS_OK;
}

static dregs_status take_units(dregs_asked *asked, const char *text, char *message)
{
    return dregs_ask_units(text, &asked->units, message);
}

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    static const struct {
        const char *option;
        dregs_status (*take)(dregs_asked *asked, const char *text, char *message);
    } takers[] = {{"for", take_span},  {"loads", take_loads}, {"from", take_start},
                  {"by", take_view},   {"begin", take_begin}, {"given", take_fact},
                  {"head", take_head}, {"year", take_year},   {"units", take_units}};
    size_t i;

    for (i = 0; i < sizeof takers / sizeof takers[0]; i++)
        if (strcmp(option, takers[i].option) == 0)
            return takers[i].take(asked, text, message);
    if (strcmp(option, "law") == 0)
        asked->tally.law = 1;
    else if (strcmp(option, "calendar") == 0)
        asked->calendar = text;
    else if (strcmp(option, "actual") == 0)
        asked->actual = text;
    else if (strcmp(option, "instead") == 0)
        asked->tally.instead = text;
    else
        asked->sited = 1; /* the lines of a site are read, not asked */
    return DREGS_OK;
}

int dregs_asked_by_dates(const dregs_asked *asked)
{
    return asked->dates.year || asked->calendar;
}

dregs_tally_view *dregs_asked_view(dregs_asked *asked)
{
    return &asked->view;
}

const char *dregs_asked_calendar(const dregs_asked *asked)
{
    return asked->calendar;
}

const char *dregs_asked_actual(const dregs_asked *asked)
{
    return asked->actual;
}

/* What is asked beside the account of one line. */
static dregs_status check_beside(const dregs_asked *asked, unsigned lines, unsigned accounts,
                                 char *message)
{
    const dregs_tally_question *q = &asked->tally;

    if ((q->law || asked->actual) &&
        (accounts > 1 || (asked->view != DREGS_TALLY_BALANCE && asked->view != DREGS_TALLY_FORM)))
        return dregs_ask_refuse(message, "--law and --actual take one line, and no --by");
    if (q->instead && (lines > 1 || asked->sited || asked->view != DREGS_TALLY_BALANCE || q->law ||
                       asked->actual || asked->explain))
        return dregs_ask_refuse(
            message, "--instead takes one line, and no --by, --law, --actual or --explain");
    if (asked->site_given && !q->law && !asked->actual)
        return dregs_ask_refuse(message, "--given goes with --law or --actual");
    if (q->year && !asked->actual)
        return dregs_ask_refuse(message, "--year goes with --actual");
    return DREGS_OK;
}

static dregs_status check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message)
{
    dregs_tally_question *q = &asked->tally;
    int dated = dregs_asked_by_dates(asked);

    (void)beside;
    if (q->span.loads && asked->span_given)
        return dregs_ask_refuse(message, "--for and --loads exclude each other");
    if (q->span.loads)
        q->span.span = DREGS_SPAN_LOADS;
    if (dated && q->span.span < DREGS_SPAN_MONTH && !q->law && !asked->actual)
        return dregs_ask_refuse(message, "--begin and --calendar are of a year, a quarter or a "
                                         "month");
    q->dates = dated ? &asked->dates : NULL;
    if ((asked->view == DREGS_TALLY_BY_MONTH || asked->view == DREGS_TALLY_BY_QUARTER) &&
        q->span.span != DREGS_SPAN_YEAR)
        return dregs_ask_refuse(message, "--by %s is a view of a year",
                                asked->view == DREGS_TALLY_BY_MONTH ? "month" : "quarter");
    if (asked->sited && (q->span.loads || asked->explain))
        return dregs_ask_refuse(
            message, "--site goes with neither --loads nor --explain, which are of one line");
    if (accounts > 1 && (asked->view != DREGS_TALLY_BALANCE || asked->explain))
        return dregs_ask_refuse(message,
                                "several lines are set side by side; --by and --explain take one");
    if (asked->head_given && asked->view != DREGS_TALLY_FORM)
        return dregs_ask_refuse(message, "--head goes with --by form, or with --format html");
    return check_beside(asked, lines, accounts, message);
}

dregs_status dregs_asked_densities(const dregs_asked *asked, const dregs_line *line,
                                   double *density, char *message)
{
    char why[DREGS_TALLY_MESSAGE];
    unsigned count = dregs_line_fluids(line), i;
    dregs_calendar calendar;
    dregs_status status = DREGS_OK;

    /* those of a site say so themselves */
    if (!asked->sited && !dregs_asked_by_dates(asked) && dregs_calendar_of(line, &calendar, why))
        return dregs_ask_refuse(message, "--actual needs a year of the line: %s", why);
    for (i = 0; i < count && !status; i++)
        status = dregs_tally_density_of(line, i, &density[i]);
    return status;
}

/* ---- in JSON ---- */

/* What the lines of the request have become. */
struct account {
    dregs_line *joined[DREGS_TALLY_LINES_MOST], *instead;
    const dregs_line *line[DREGS_TALLY_LINES_MOST];
    unsigned lines;
    dregs_purchases *purchases;
    dregs_calendar_table *calendar;
};

static dregs_status read_calendar(struct ask_job *job, struct account *account)
{
    const struct ask_file *file = &job->calendar;
    dregs_faults faults = {0};
    dregs_status status = file->text
                              ? dregs_calendar_table_parse(file->name, file->text, file->length,
                                                           &account->calendar, &faults)
                              : DREGS_OK;

    return status ? dregs_ask_faults(job, status, &faults) : DREGS_OK;
}

/* The lines of each site as one. */
static dregs_status join(struct ask_job *job, struct account *account)
{
    dregs_faults faults = {0};
    dregs_status status;
    unsigned i;

    for (i = 0; i < job->sites; i++) {
        const struct ask_site *site = &job->site[i];
        status = dregs_line_join(site->name, (const dregs_line *const *)job->read + site->first,
                                 site->lines, &account->joined[i], &faults);
        if (status)
            return dregs_ask_faults(job, status, &faults);
        account->line[i] = account->joined[i];
    }
    for (i = 0; i < job->lines && !job->sites; i++)
        account->line[i] = job->read[i];
    account->lines = job->sites ? job->sites : job->lines;
    return DREGS_OK;
}

static dregs_status read_purchases(struct ask_job *job, struct account *account)
{
    char message[DREGS_ASK_MESSAGE] = "";
    const struct ask_file *file = &job->actual;
    const dregs_line *line = account->line[0];
    dregs_faults faults = {0};
    dregs_status status;
    double *density;

    if (!file->text)
        return DREGS_OK;
    density = calloc(dregs_line_fluids(line) + 1, sizeof *density);
    if (!density)
        return dregs_ask_failed(job, DREGS_NO_MEMORY, NULL, "");
    status = dregs_asked_densities(job->asked, line, density, message);
    if (status) {
        dregs_ask_failed(job, status, dregs_line_name(line), message);
    } else {
        status = dregs_purchases_parse(file->name, file->text, file->length, line, density,
                                       &account->purchases, &faults);
        if (status)
            dregs_ask_faults(job, status, &faults);
    }
    free(density);
    return status;
}

/* The line with another solvent becomes the second one. */
static dregs_status read_instead(struct ask_job *job, struct account *account)
{
    const char *words = job->asked->tally.instead;
    char message[DREGS_FAULT_TEXT + 16];
    dregs_faults faults = {0};
    dregs_status status;

    if (!words)
        return DREGS_OK;
    status = dregs_tally_instead(account->line[0], words, &account->instead, &faults);
    if (status == DREGS_DOMAIN || status == DREGS_UNKNOWN) {
        snprintf(message, sizeof message, "--instead: %s", faults.fault[0].text);
        return dregs_ask_misused(job, status, "instead", message);
    }
    if (status)
        return dregs_ask_faults(job, status, &faults);
    account->line[account->lines++] = account->instead;
    return DREGS_OK;
}

static void say_fault(struct ask_job *job, const dregs_fault *fault)
{
    char message[DREGS_ASK_MESSAGE];

    switch (fault->status) {
    case DREGS_UNKNOWN:
        snprintf(message, sizeof message, "--given %s", fault->text);
        dregs_ask_misused(job, fault->status, "given", message);
        return;
    case DREGS_OUT_OF_RANGE:
        dregs_ask_fault(job, ASK_BAD_DATA, fault->status, job->asked->actual, fault->line, NULL,
                        fault->text);
        return;
    case DREGS_BAD_DATA:
        snprintf(message, sizeof message, "%s%s", fault->text,
                 dregs_asked_by_dates(job->asked) ? "" : "; --loads N needs none");
        dregs_ask_failed(job, fault->status, NULL, message);
        return;
    default:
        dregs_ask_failed(job, fault->status, NULL, fault->text);
    }
}

static dregs_status ask(struct ask_job *job, const struct account *account,
                        dregs_tally_result **result)
{
    dregs_asked *asked = job->asked;
    dregs_faults faults = {0};
    dregs_status status;
    unsigned i;

    asked->tally.line = account->line;
    asked->tally.lines = account->lines;
    asked->tally.purchases = account->purchases;
    asked->tally.changes = job->lines == 1 && !account->instead &&
                           (asked->view == DREGS_TALLY_BALANCE || asked->view == DREGS_TALLY_FORM);
    asked->dates.table = account->calendar;
    status = dregs_tally_answer(&asked->tally, result, &faults);
    if (status && !faults.count)
        return dregs_ask_failed(job, status, NULL, "");
    for (i = 0; i < faults.count && status; i++)
        say_fault(job, &faults.fault[i]);
    return status;
}

static void tell(struct ask_job *job, const dregs_tally_result *result)
{
    dregs_tally_doubt *doubt = NULL;
    dregs_doubt_request draws;
    dregs_faults faults = {0};
    dregs_report *report = NULL, *working = NULL;
    dregs_status status = DREGS_OK;

    dregs_ask_draws_request(&job->asked->draws, dregs_tally_doubt_usual(result), &draws);
    if (draws.draws)
        status =
            dregs_ask_drawn(job, dregs_tally_doubt_ask(result, &draws, &doubt, &faults), &faults);
    if (!status) {
        const char *actual = job->actual.text ? job->actual.name : NULL;
        status = dregs_page_tally_in(result, doubt, job->asked->view, actual, 0, job->asked->units,
                                     &report);
        if (!status && job->asked->explain)
            status = dregs_page_tally_in(result, doubt, job->asked->view, actual, 1,
                                         job->asked->units, &working);
        dregs_ask_write(job, status, report, working);
    }
    dregs_tally_doubt_free(doubt);
}

static void answer(struct ask_job *job)
{
    struct account account = {0};
    dregs_tally_result *result = NULL;
    unsigned i;

    if (!dregs_ask_read(job) && !read_calendar(job, &account) && !join(job, &account) &&
        !read_purchases(job, &account) && !read_instead(job, &account) &&
        !ask(job, &account, &result))
        tell(job, result);
    dregs_tally_result_free(result);
    dregs_purchases_free(account.purchases);
    dregs_calendar_table_free(account.calendar);
    dregs_line_free(account.instead);
    for (i = 0; i < job->sites; i++)
        dregs_line_free(account.joined[i]);
}

const struct ask_verb dregs_ask_verb_tally = {
    "tally", options, sizeof options / sizeof options[0], 1, 1, DREGS_TALLY_LINES_MOST, take, check,
    answer,  1};
