/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* asked.c: what is asked of a verb: its options as words, the same for the tools and for JSON. */
#include "ask/inside.h"
#include "base/text.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct ask_verb *const verbs[] = {&dregs_ask_verb_predict, &dregs_ask_verb_size,
                                               &dregs_ask_verb_dry,     &dregs_ask_verb_reuse,
                                               &dregs_ask_verb_tally,   &dregs_ask_verb_check};

static const struct ask_option draws_options[] = {
    {"draws", ASK_WORD}, {"seed", ASK_WORD}, {"threads", ASK_WORD}};
static const struct ask_option explain_option = {"explain", ASK_FLAG};
static const struct ask_option liquids_option = {"liquids", ASK_FILE};
enum { DRAWS_OPTIONS = sizeof draws_options / sizeof draws_options[0] };

dregs_status dregs_ask_refuse(char *message, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(message, DREGS_ASK_MESSAGE, format, arguments);
    va_end(arguments);
    return DREGS_BAD_DATA;
}

int dregs_ask_word(const char *word, const char *const *words, int count)
{
    int i;

    for (i = 0; i < count; i++)
        if (strcmp(word, words[i]) == 0)
            return i;
    return -1;
}

/* ---- options ---- */

/* Option `index`: those of the verb, of the draws, the working, the table of liquids. */
static const struct ask_option *option_at(const struct ask_verb *verb, unsigned index)
{
    if (index < verb->options)
        return &verb->option[index];
    index -= verb->options;
    if (verb->draws && index < DRAWS_OPTIONS)
        return &draws_options[index];
    index -= verb->draws ? DRAWS_OPTIONS : 0;
    if (verb->explains && index == 0)
        return &explain_option;
    return index == (verb->explains ? 1 : 0) ? &liquids_option : NULL;
}

const struct ask_option *dregs_ask_option(const struct ask_verb *verb, const char *name)
{
    const struct ask_option *option;
    unsigned i;

    for (i = 0; (option = option_at(verb, i)) != NULL; i++)
        if (strcmp(option->name, name) == 0)
            return option;
    return NULL;
}

const char *dregs_asked_option(const dregs_asked *asked, unsigned index)
{
    const struct ask_option *option = option_at(asked->verb, index);

    return option ? option->name : NULL;
}

dregs_status dregs_ask_no_option(const dregs_asked *asked, const char *option, char *message)
{
    enum { NAMES_MOST = 64 };
    const char *names[NAMES_MOST];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    unsigned count = 0;

    while (count < NAMES_MOST && (names[count] = dregs_asked_option(asked, count)) != NULL)
        count++;
    (void)dregs_ask_refuse(message, "%s is no option of %s%s", dregs_quote(quoted, option),
                           asked->verb->name, dregs_nearest_words(near, option, names, count));
    return DREGS_UNKNOWN;
}

/* ---- arguments ---- */

uint64_t dregs_ask_count(const char *text)
{
    double value;

    if (strspn(text, "0123456789") != strlen(text) || dregs_number_read(text, &value) ||
        !(value >= 1) || !(value <= (double)DREGS_LOADS_MOST))
        return 0;
    return (uint64_t)value;
}

/* An end of a range in the unit that an option is asked for in. */
static const char *in_unit(char into[DREGS_NUMBER_TEXT], double si, const char *like)
{
    dregs_unit unit;

    if (dregs_unit_read(like, &unit, NULL))
        return "?"; /* no option has such a unit */
    return dregs_number_plain(into, dregs_unit_from_si(unit, si), 6);
}

dregs_status dregs_ask_quantity(const char *option, const char *text, const char *like, double low,
                                double high, double *si, char *message)
{
    char why[DREGS_UNIT_MESSAGE], least[DREGS_NUMBER_TEXT], most[DREGS_NUMBER_TEXT];
    double read;

    if (dregs_unit_quantity(text, like, &read, why)) {
        if (dregs_number_read(text, &read) == DREGS_OK) /* a bare number */
            return dregs_ask_refuse(message, "--%s '%s': needs a unit, for example '%s %s'", option,
                                    text, text, like);
        return dregs_ask_refuse(message, "--%s '%s': %s", option, text, why);
    }
    if (!(read >= low) || !(read <= high))
        return dregs_ask_refuse(message, "--%s '%s' is out of its range, %s to %s %s", option, text,
                                in_unit(least, low, like), in_unit(most, high, like), like);
    *si = read;
    return DREGS_OK;
}

/* A whole number, also as 1e9; 0 when it is none, or beyond `most`. */
static int whole(const char *text, double most, uint64_t *number)
{
    double value;

    if (dregs_number_read(text, &value) || !(value >= 0) || !(value <= most) ||
        value != floor(value))
        return 0;
    *number = (uint64_t)value;
    return 1;
}

void dregs_ask_draws_init(dregs_ask_draws *draws)
{
    *draws = (dregs_ask_draws){.seed = 1};
}

dregs_status dregs_ask_draws_take(dregs_ask_draws *draws, const char *option, const char *text,
                                  char *message)
{
    uint64_t number;

    if (strcmp(option, "draws") == 0) {
        draws->given = 1;
        return whole(text, (double)DREGS_DRAWS_MOST, &draws->draws)
                   ? DREGS_OK
                   : dregs_ask_refuse(message, "--draws '%s' is not a whole number from 0 to 2^50",
                                      text);
    }
    if (strcmp(option, "seed") == 0)
        return whole(text, 0x1p53, &draws->seed)
                   ? DREGS_OK
                   : dregs_ask_refuse(message, "--seed '%s' is not a whole number from 0 to 2^53",
                                      text);
    if (strcmp(option, "threads") != 0) {
        (void)dregs_ask_refuse(message, "'%s' is not draws, seed or threads", option);
        return DREGS_UNKNOWN;
    }
    if (!whole(text, DREGS_THREADS_MOST, &number) || !number)
        return dregs_ask_refuse(message, "--threads '%s' is not a whole number from 1 to %d", text,
                                DREGS_THREADS_MOST);
    draws->threads = (unsigned)number;
    return DREGS_OK;
}

dregs_status dregs_ask_units(const char *text, dregs_units *units, char *message)
{
    static const char *const names[] = {[DREGS_UNITS_SI] = "si", [DREGS_UNITS_US] = "us"};
    int found = dregs_ask_word(text, names, 2);

    if (found < 0)
        return dregs_ask_refuse(message, "--units '%s' is not one of si, us", text);
    *units = (dregs_units)found;
    return DREGS_OK;
}

void dregs_ask_draws_request(const dregs_ask_draws *draws, uint64_t usual,
                             dregs_doubt_request *request)
{
    dregs_doubt_request_init(request);
    request->draws = draws->given ? draws->draws : usual;
    request->seed = draws->seed;
    request->threads = draws->threads;
}

dregs_status dregs_ask_one_kind(const dregs_line *line, dregs_faults *faults)
{
    unsigned row;

    if (dregs_line_kinds(line) == 1)
        return DREGS_OK;
    row = dregs_line_find(line, dregs_line_schedule_name(line), "sequence");
    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", dregs_line_name(line));
    return dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_row(line, row)->line,
                           "loads of several kinds are not taken by this tool yet");
}

/* ---- the object ---- */

dregs_status dregs_asked_new(const char *verb, dregs_asked **asked)
{
    const struct ask_verb *found = NULL;
    dregs_asked *made;
    size_t i;

    for (i = 0; i < sizeof verbs / sizeof verbs[0]; i++)
        if (strcmp(verbs[i]->name, verb) == 0)
            found = verbs[i];
    if (!found)
        return DREGS_UNKNOWN;
    made = calloc(1, sizeof *made);
    if (!made)
        return DREGS_NO_MEMORY;
    made->verb = found;
    dregs_ask_draws_init(&made->draws);
    dregs_predict_request_init(&made->predict);
    dregs_size_request_init(&made->size);
    dregs_dry_request_init(&made->dry);
    dregs_reuse_request_init(&made->reuse);
    dregs_tally_question_init(&made->tally);
    dregs_site_init(&made->site);
    dregs_tally_head_init(&made->head);
    made->tally.site = &made->site;
    made->tally.head = &made->head;
    *asked = made;
    return DREGS_OK;
}

void dregs_asked_free(dregs_asked *asked)
{
    if (!asked)
        return;
    dregs_varied_free(asked->varied);
    free(asked->at);
    free(asked);
}

dregs_status dregs_asked_take(dregs_asked *asked, const char *option, const char *text,
                              char *message)
{
    const struct ask_option *known = dregs_ask_option(asked->verb, option);
    size_t i;

    if (!known)
        return dregs_ask_no_option(asked, option, message);
    for (i = 0; i < DRAWS_OPTIONS; i++)
        if (known == &draws_options[i])
            return dregs_ask_draws_take(&asked->draws, option, text, message);
    if (known == &explain_option)
        asked->explain = 1;
    if (known == &explain_option || known == &liquids_option) /* which is read, not asked */
        return DREGS_OK;
    return asked->verb->take(asked, option, text, message);
}

dregs_status dregs_asked_check(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                               char *message)
{
    return asked->verb->check ? asked->verb->check(asked, lines, accounts, beside, message)
                              : DREGS_OK;
}

dregs_ask_draws *dregs_asked_draws(dregs_asked *asked)
{
    return &asked->draws;
}

static int is(const dregs_asked *asked, const struct ask_verb *verb)
{
    return asked->verb == verb;
}

dregs_predict_request *dregs_asked_predict(dregs_asked *asked)
{
    return is(asked, &dregs_ask_verb_predict) ? &asked->predict : NULL;
}

dregs_size_request *dregs_asked_size(dregs_asked *asked)
{
    return is(asked, &dregs_ask_verb_size) ? &asked->size : NULL;
}

dregs_dry_request *dregs_asked_dry(dregs_asked *asked)
{
    return is(asked, &dregs_ask_verb_dry) ? &asked->dry : NULL;
}

dregs_reuse_request *dregs_asked_reuse(dregs_asked *asked)
{
    return is(asked, &dregs_ask_verb_reuse) ? &asked->reuse : NULL;
}

dregs_tally_question *dregs_asked_tally(dregs_asked *asked)
{
    return is(asked, &dregs_ask_verb_tally) ? &asked->tally : NULL;
}
