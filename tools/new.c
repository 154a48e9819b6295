/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* new.c: dregs new, a first line file: a template with the answers to its questions put in.
 *
 * The questions stand in the template itself: a comment that begins with "#?" asks for the value of
 * the row below it, and the comments between the two say how to measure it. An answer is put into
 * the text as dregs_edit_set does, and the whole read anew: what the reader of line files refuses
 * is no answer.
 */
#include "front.h"
#include "texts.h"
#include "verbs.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option { TEMPLATE, SET, YES };

static const struct front_option options[] = {
    [TEMPLATE] = {"template", "NAME", "begin with this template; 'list' names them"},
    [SET] = {"set", "I.P=VALUE",
             "the value of property P of item I, with its unit; may be repeated"},
    [YES] = {"yes", NULL, "ask nothing: what is not set stays as the template assumes it"},
};

static const struct front_tool tool = {
    .name = "dregs-new",
    .operands = "",
    .purpose = "Makes a first line file from a template: asks a few questions, marks what is not "
               "answered as assumed, and says row by row what to measure and how.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .kinds = 1,
    .plain = 1,
    .write = "write the line file there (default: standard output)",
    .force = "overwrite FILE where it exists",
    .example = "dregs new --template running-rinse --yes --set 'basket.parts=24'",
};

enum { ANSWER = 200, SETS_MOST = 200, CHOICE = 64 };

struct request {
    struct front_common common;
    const char *template;
    const char *set[SETS_MOST];
    unsigned sets;
    int yes;
};

/* The line file so far, as it reads. */
struct draft {
    const dregs_liquids *liquids;
    const struct text *template;
    dregs_line *line;
};

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    switch ((enum option)option) {
    case TEMPLATE:
        request->template = argument;
        return 0;
    case SET:
        if (request->sets == SETS_MOST)
            return front_usage("--set more than %d times", SETS_MOST);
        request->set[request->sets++] = argument;
        return 0;
    default:
        request->yes = 1;
        return 0;
    }
}

/* ---- one value ---- */

/* Splits "24", "45 cm2" or "45cm2" into a number and a unit; one that is not there is that of the
 * row. */
static void split(const char *answer, const char *row_unit, char value[ANSWER], char unit[ANSWER])
{
    size_t length = strspn(answer, "+-.0123456789"), last;

    /* an exponent, unless a unit begins with an e */
    if (length && (answer[length] == 'e' || answer[length] == 'E')) {
        size_t sign = strspn(answer + length + 1, "+-");
        size_t digits = strspn(answer + length + 1 + sign, "0123456789");
        length += digits ? 1 + sign + digits : 0;
    }
    if (!length) /* a word */
        length = strlen(answer);
    snprintf(value, ANSWER, "%.*s", (int)length, answer);
    snprintf(unit, ANSWER, "%s", answer + length + strspn(answer + length, " "));
    for (last = strlen(unit); last > 0 && isspace((unsigned char)unit[last - 1]); last--)
        unit[last - 1] = '\0';
    if (!*unit)
        snprintf(unit, ANSWER, "%s", row_unit);
}

/* Puts an answer into the draft. Returns 0; -1 where it is refused, and says why behind `what`; or
 * the status to exit with. */
static int put(struct draft *draft, unsigned row, const char *answer, const char *what)
{
    const dregs_row *old = dregs_line_row(draft->line, row);
    char value[ANSWER], unit[ANSWER];
    dregs_new_row new = {old->item, old->property, value, unit, NULL};
    dregs_faults faults = {0};
    dregs_line *changed = NULL;
    dregs_status status;
    size_t length;
    char *text;

    split(answer, old->unit, value, unit);
    new.note = *old->spread ? "answered; its spread is assumed" : "answered";
    status = dregs_edit_set(draft->line, &new, 1, &text, &length);
    if (status)
        return front_say(FRONT_IO, "%s", dregs_status_text(status));
    status =
        dregs_line_parse(draft->template->name, text, length, draft->liquids, &changed, &faults);
    dregs_edit_free(text);
    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "%s", dregs_status_text(status));
    if (status)
        return front_say(-1, "%s: %s", what, faults.fault[0].text);
    dregs_line_free(draft->line);
    draft->line = changed;
    return 0;
}

/* ---- --set ---- */

static unsigned row_named(const dregs_line *line, const char *text, size_t length)
{
    char name[ANSWER];
    unsigned row;

    for (row = 1; row <= dregs_line_rows(line); row++) {
        const dregs_row *cells = dregs_line_row(line, row);
        snprintf(name, sizeof name, "%s.%s", cells->item, cells->property);
        if (strlen(name) == length && memcmp(name, text, length) == 0 &&
            strcmp(cells->property, "kind") != 0)
            return row;
    }
    return 0;
}

static int set_all(const struct request *request, struct draft *draft)
{
    int status = 0;
    unsigned i;

    for (i = 0; i < request->sets && !status; i++) {
        const char *text = request->set[i], *equals = strchr(text, '=');
        char what[ANSWER];
        unsigned row;

        if (!equals || !equals[1] || strlen(equals) >= ANSWER)
            return front_usage("--set '%s' is not like last.flow='30 L/h'", text);
        row = row_named(draft->line, text, (size_t)(equals - text));
        if (!row)
            return front_usage("--set '%s': the template has no such row", text);
        snprintf(what, sizeof what, "--set '%.150s'", text);
        status = put(draft, row, equals + 1, what);
    }
    return status < 0 ? FRONT_USAGE : status;
}

/* ---- the questions ---- */

/* A line of standard input without its end and the blanks around it; 0 at the end of the input. */
static int listen(char *answer, size_t room)
{
    size_t length;
    int byte;

    if (!fgets(answer, (int)room, stdin))
        return 0;
    length = strlen(answer);
    if (length && answer[length - 1] != '\n') /* longer than any answer: the rest of it */
        while ((byte = getchar()) != EOF && byte != '\n')
            continue;
    while (length && isspace((unsigned char)answer[length - 1]))
        answer[--length] = '\0';
    length = strspn(answer, " \t");
    memmove(answer, answer + length, strlen(answer + length) + 1);
    return 1;
}

static int ended(void)
{
    fputc('\n', stderr);
    return front_say(FRONT_BAD_DATA, "the answers end before the questions do: nothing is written; "
                                     "--yes takes what the template assumes");
}

/* Asks for one row until it has an answer; none keeps what is assumed. */
static int ask(struct draft *draft, unsigned row)
{
    char answer[ANSWER];
    int status = -1;

    while (status < 0) {
        const dregs_row *cells = dregs_line_row(draft->line, row);
        fprintf(stderr, "  %s.%s [%s%s%s]: ", cells->item, cells->property, cells->value,
                *cells->unit && strcmp(cells->unit, "1") != 0 ? " " : "",
                strcmp(cells->unit, "1") != 0 ? cells->unit : "");
        if (!listen(answer, sizeof answer))
            return ended();
        status = *answer ? put(draft, row, answer, answer) : 0;
    }
    return status;
}

/* A line of the template's comments. */
static void show(const char *line, size_t length, int question)
{
    size_t skip = question ? 3 : 2; /* "#? " or "# " */

    if (length < skip)
        skip = length;
    fprintf(stderr, "%s%.*s\n", question ? "\n" : "  ", (int)(length - skip), line + skip);
}

/* Goes through the template's lines; a question is shown with what stands between it and its row.
 */
static int interview(struct draft *draft, const struct request *request)
{
    const char *at = (const char *)draft->template->bytes, *end = at + draft->template->length;
    unsigned long number = 0;
    unsigned row = 1;
    int asked = 0, status = 0;

    fprintf(stderr, "An answer is a number with its unit, or without in the unit shown.\n"
                    "An empty one keeps what is shown, which is marked as assumed in the file.\n");
    while (at < end && !status) {
        size_t length = (size_t)((const char *)memchr(at, '\n', (size_t)(end - at)) - at);
        int question = length > 1 && at[0] == '#' && at[1] == '?';

        number++;
        while (row <= dregs_line_rows(draft->line) &&
               dregs_line_row(draft->line, row)->line < number)
            row++;
        if (question)
            asked = 1;
        if (question || (asked && at[0] == '#'))
            show(at, length, question);
        if (asked && at[0] != '#' &&
            strcmp(dregs_line_row(draft->line, row)->property, "kind") != 0) {
            unsigned i;
            int given = 0;
            for (i = 0; i < request->sets; i++) /* what was set is not asked again */
                given |=
                    row_named(draft->line, request->set[i], strcspn(request->set[i], "=")) == row;
            status = given ? 0 : ask(draft, row);
            asked = 0;
        }
        at += length + 1;
    }
    return status;
}

/* ---- the whole ---- */

static int choose(struct request *request, char choice[CHOICE])
{
    if (request->template)
        return 0;
    if (request->yes)
        return front_usage("--yes needs a --template; --template list names them");
    fprintf(stderr, "Which template comes nearest?\n");
    (void)text_list(1, stderr);
    fprintf(stderr, "template: ");
    if (!listen(choice, CHOICE))
        return ended();
    request->template = choice;
    return 0;
}

static int begin(const struct request *request, struct draft *draft)
{
    dregs_faults faults = {0};
    dregs_status status;

    draft->template = text_find(request->template, 1);
    if (!draft->template)
        return front_usage("--template '%s' is not one of them; --template list names them",
                           request->template);
    status = dregs_line_parse(draft->template->name, (const char *)draft->template->bytes,
                              draft->template->length, draft->liquids, &draft->line, &faults);
    return status ? front_faults(&faults, status) : 0;
}

static int finish(const struct request *request, const struct draft *draft)
{
    size_t length;
    const char *text = dregs_line_text(draft->line, &length);
    int status =
        front_write(request->common.write_file ? request->common.write_file : "-", text, length);

    if (!status && request->common.write_file && strcmp(request->common.write_file, "-") != 0)
        fprintf(stderr, "\n%s is written. Next: dregs check %s, dregs predict %s\n",
                request->common.write_file, request->common.write_file, request->common.write_file);
    return status;
}

static int make(struct request *request)
{
    struct draft draft = {0};
    dregs_liquids *liquids = NULL;
    char choice[CHOICE];
    int status = 0;

    if (request->common.write_file)
        status = front_may_write(request->common.write_file);
    if (!status)
        status = choose(request, choice);
    if (!status)
        status = front_read_liquids(NULL, &liquids);
    draft.liquids = liquids;
    if (!status)
        status = begin(request, &draft);
    if (!status)
        status = set_all(request, &draft);
    if (!status && !request->yes)
        status = interview(&draft, request);
    if (!status)
        status = finish(request, &draft);
    dregs_line_free(draft.line);
    dregs_liquids_free(liquids);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct request request = {0};
    int operand, status;

    front_begin(&tool);
    status = front_options(&tool, argc, argv, &request.common, take, &request, &operand);
    if (status >= 0)
        return status;
    if (operand < argc)
        return front_usage("no file is read; --write names the file to be made");
    if (request.template && strcmp(request.template, "list") == 0)
        return front_end(text_list(1, stdout));
    return front_end(make(&request));
}

const struct verb verb_new = {&tool, run_tool,
                              "a first line file, from a template and a few answers"};
