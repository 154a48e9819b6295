/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* request.c: a request in JSON, member by member: options as texts, files, sites. */
#include "ask/job.h"
#include "base/text.h"
#include "dregs/number.h"

#include <stdio.h>
#include <string.h>

/* A member that is not of its form. */
static dregs_status bad_form(struct ask_job *job, const char *member, const char *what)
{
    char quoted[DREGS_QUOTED], message[DREGS_ASK_MESSAGE];

    snprintf(message, sizeof message, "%s %s", dregs_quote(quoted, member), what);
    return dregs_ask_misused(job, DREGS_BAD_DATA, member, message);
}

/* ---- files ---- */

/* A text, or an object of its name and the text; `called` is the name where it has none. */
static dregs_status take_file(struct ask_job *job, const char *member, const char *called,
                              const json_t *value, struct ask_file *file)
{
    const json_t *text = json_is_object(value) ? json_object_get(value, "text") : value;
    const json_t *name = json_is_object(value) ? json_object_get(value, "name") : NULL;

    if (!json_is_string(text) || (name && !json_is_string(name)) ||
        (json_is_object(value) && json_object_size(value) != (name ? 2 : 1)))
        return bad_form(job, member,
                        "is neither the text of a file nor an object of \"name\" and \"text\"");
    file->name = name ? json_string_value(name) : called;
    file->text = json_string_value(text);
    file->length = json_string_length(text);
    return DREGS_OK;
}

static dregs_status take_line(struct ask_job *job, const json_t *value)
{
    if (job->lines == DREGS_TALLY_LINES_MOST) {
        char message[64];
        snprintf(message, sizeof message, "more than %d line files", DREGS_TALLY_LINES_MOST);
        return dregs_ask_misused(job, DREGS_BAD_DATA, "line", message);
    }
    return take_file(job, "line", "line", value, &job->line[job->lines++]);
}

static dregs_status take_lines(struct ask_job *job, const json_t *value)
{
    dregs_status status = DREGS_OK;
    size_t i;

    if (!json_is_array(value))
        return take_line(job, value);
    for (i = 0; i < json_array_size(value) && !status; i++)
        status = take_line(job, json_array_get(value, i));
    return status;
}

static dregs_status take_site(struct ask_job *job, const json_t *value)
{
    const json_t *name = json_object_get(value, "name"), *line = json_object_get(value, "line");
    struct ask_site *site = &job->site[job->sites];
    dregs_status status;

    if (!json_is_string(name) || !json_string_length(name) || !line || json_object_size(value) != 2)
        return bad_form(job, "site", "is not an object of \"name\" and \"line\"");
    if (job->sites == DREGS_TALLY_LINES_MOST)
        return bad_form(job, "site", "holds too many of them");
    *site = (struct ask_site){json_string_value(name), job->lines, 0};
    job->sites++;
    status = take_lines(job, line);
    site->lines = job->lines - site->first;
    if (!status && !site->lines)
        status = bad_form(job, "site", "names no line");
    return status;
}

/* The file that an option reads, by its name. */
static struct ask_file *file_of(struct ask_job *job, const char *option)
{
    if (strcmp(option, "liquids") == 0)
        return &job->liquids_file;
    if (strcmp(option, "readings") == 0)
        return &job->readings;
    return strcmp(option, "calendar") == 0 ? &job->calendar : &job->actual;
}

/* ---- options ---- */

static dregs_status take(struct ask_job *job, const char *option, const char *text)
{
    char message[DREGS_ASK_MESSAGE] = "";
    dregs_status status = dregs_asked_take(job->asked, option, text, message);

    if (status == DREGS_NO_MEMORY)
        return dregs_ask_failed(job, status, NULL, "");
    return status ? dregs_ask_misused(job, status, option, message) : DREGS_OK;
}

/* A number as the text that the command line would have; it lives as long as the request. */
static const char *text_of(struct ask_job *job, const json_t *number)
{
    char words[DREGS_NUMBER_TEXT + 8];
    json_t *text;

    if (json_is_integer(number))
        snprintf(words, sizeof words, "%lld", (long long)json_integer_value(number));
    else
        (void)dregs_number_exact(words, json_real_value(number));
    text = json_string(words);
    if (!text || json_array_append_new(job->kept, text))
        return NULL;
    return json_string_value(text);
}

static dregs_status take_word(struct ask_job *job, const char *option, const json_t *value)
{
    const char *text;

    if (json_is_string(value))
        return take(job, option, json_string_value(value));
    if (!json_is_number(value))
        return bad_form(job, option, "is neither a text nor a number");
    text = text_of(job, value);
    return text ? take(job, option, text) : dregs_ask_failed(job, DREGS_NO_MEMORY, NULL, "");
}

static dregs_status take_option(struct ask_job *job, const struct ask_option *option,
                                const json_t *value);

static dregs_status take_list(struct ask_job *job, const struct ask_option *option,
                              const json_t *list)
{
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = 0; i < json_array_size(list) && !status; i++) {
        const json_t *item = json_array_get(list, i);
        status =
            option->kind == ASK_SITES ? take_site(job, item) : take_word(job, option->name, item);
    }
    return status;
}

static dregs_status take_option(struct ask_job *job, const struct ask_option *option,
                                const json_t *value)
{
    const char *name = option->name;
    dregs_status status;

    if (json_is_null(value)) /* not asked */
        return DREGS_OK;
    switch (option->kind) {
    case ASK_FLAG:
        if (!json_is_boolean(value))
            return bad_form(job, name, "is neither true nor false");
        return json_is_true(value) ? take(job, name, NULL) : DREGS_OK;
    case ASK_FILE:
        status = take_file(job, name, name, value, file_of(job, name));
        return status ? status : take(job, name, file_of(job, name)->name);
    case ASK_SITES:
        status = json_is_array(value) ? take_list(job, option, value) : take_site(job, value);
        return status || !job->sites ? status : take(job, name, NULL);
    case ASK_LIST:
        if (json_is_array(value))
            return take_list(job, option, value);
        return take_word(job, name, value);
    default:
        return take_word(job, name, value);
    }
}

/* ---- the whole ---- */

static dregs_status take_verb(struct ask_job *job, const json_t *request)
{
    const json_t *verb = json_object_get(request, "verb");
    char quoted[DREGS_QUOTED], message[DREGS_ASK_MESSAGE];
    dregs_status status;

    if (!json_is_string(verb))
        return dregs_ask_misused(job, DREGS_BAD_DATA, "verb",
                                 "no verb: \"verb\" is predict, size, dry, reuse, tally or check");
    status = dregs_asked_new(json_string_value(verb), &job->asked);
    if (status == DREGS_NO_MEMORY)
        return dregs_ask_failed(job, status, NULL, "");
    if (!status)
        return DREGS_OK;
    snprintf(message, sizeof message, "%s is not one of predict, size, dry, reuse, tally, check",
             dregs_quote(quoted, json_string_value(verb)));
    return dregs_ask_misused(job, status, "verb", message);
}

static dregs_status take_member(struct ask_job *job, const char *name, const json_t *value)
{
    char message[DREGS_ASK_MESSAGE];
    const struct ask_option *option = dregs_ask_option(job->asked->verb, name);

    if (strcmp(name, "verb") == 0)
        return DREGS_OK;
    if (strcmp(name, "line") == 0)
        return json_is_null(value) ? DREGS_OK : take_lines(job, value);
    if (option)
        return take_option(job, option, value);
    (void)dregs_ask_no_option(job->asked, name, message);
    return dregs_ask_misused(job, DREGS_UNKNOWN, name, message);
}

/* What only shows once all members are taken. */
static dregs_status check(struct ask_job *job, int line_given)
{
    char message[DREGS_ASK_MESSAGE] = "";
    const struct ask_verb *verb = job->asked->verb;
    dregs_status status;

    if (job->sites && line_given)
        return dregs_ask_misused(job, DREGS_BAD_DATA, "line",
                                 "--site names its lines, and \"line\" is given besides");
    if (job->lines < verb->lines_least)
        return dregs_ask_misused(job, DREGS_BAD_DATA, "line", "no line file given");
    if (job->lines > verb->lines_most) {
        snprintf(message, sizeof message, "%u line files; %s takes %u at most", job->lines,
                 verb->name, verb->lines_most);
        return dregs_ask_misused(job, DREGS_BAD_DATA, "line", message);
    }
    status = dregs_asked_check(job->asked, job->lines, job->sites ? job->sites : job->lines,
                               job->readings.text != NULL, message);
    return status ? dregs_ask_misused(job, status, NULL, message) : DREGS_OK;
}

dregs_status dregs_ask_take_request(struct ask_job *job, const json_t *request)
{
    const json_t *line;
    dregs_status status;
    void *at;

    if (!json_is_object(request))
        return dregs_ask_misused(job, DREGS_BAD_DATA, NULL, "the request is no JSON object");
    status = take_verb(job, request);
    /* jansson's iterator asks for an object that may change; nothing does */
    for (at = json_object_iter((json_t *)(void *)request); at && !status;
         at = json_object_iter_next((json_t *)(void *)request, at))
        status = take_member(job, json_object_iter_key(at), json_object_iter_value(at));
    line = json_object_get(request, "line");
    return status ? status : check(job, line && !json_is_null(line));
}
