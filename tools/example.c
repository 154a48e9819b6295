/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* example.c: dregs example, the scenarios of data/ wherever the program is. */
#include "front.h"
#include "texts.h"
#include "verbs.h"

#include <stdio.h>
#include <string.h>

static const struct front_tool tool = {
    .name = "dregs-example",
    .operands = "[NAME]",
    .purpose =
        "Prints an invented line or log by its name, to try the tools with. Without NAME lists "
        "them.",
    .plain = 1,
    .example = "dregs example aqueous-line | dregs predict -",
    .page = "dregs",
};

const struct text *text_find(const char *name, int template)
{
    size_t i;

    for (i = 0; i < text_count; i++)
        if (texts[i].template == template && strcmp(texts[i].name, name) == 0)
            return &texts[i];
    return NULL;
}

/* The first sentence of a file's comments, or as much of it as there is room for. */
static void first_sentence(const struct text *text, char *sentence, size_t room)
{
    const char *at = memchr(text->bytes, '#', text->length);
    const char *end = (const char *)text->bytes + text->length;
    size_t length = 0;

    sentence[0] = '\0';
    for (; at && at < end && length + 1 < room; at++) {
        if (*at == '#') /* a line more of them */
            continue;
        if (*at == '\n' && (at + 1 == end || at[1] != '#'))
            break;
        if (*at != '\n' && !(*at == ' ' && (!length || sentence[length - 1] == ' ')))
            sentence[length++] = *at;
        else if (*at == '\n')
            sentence[length++] = ' ';
        if (*at == '.' && at + 1 < end && (at[1] == ' ' || at[1] == '\n'))
            break;
    }
    sentence[length] = '\0';
}

int text_list(int template, FILE *stream)
{
    dregs_report *report = dregs_report_new("example", NULL);
    char sentence[400];
    size_t i;

    for (i = 0; report && i < text_count; i++)
        if (texts[i].template == template) {
            first_sentence(&texts[i], sentence, sizeof sentence);
            dregs_report_fact(report, texts[i].name, 22, "%s", sentence);
        }
    return front_print(report, stream);
}

static int run_tool(int argc, char **argv)
{
    struct front_common common;
    const struct text *text;
    int operand, status;

    front_begin(&tool);
    status = front_options(&tool, argc, argv, &common, NULL, NULL, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 < argc)
        return front_usage("one example at a time");
    if (operand == argc)
        return front_end(text_list(0, stdout));
    text = text_find(argv[operand], 0);
    if (!text)
        return front_usage("'%s' is no example; without a name they are listed", argv[operand]);
    (void)fwrite(text->bytes, 1, text->length, stdout);
    return front_end(FRONT_DONE);
}

const struct verb verb_example = {&tool, run_tool,
                                  "invented lines and logs to try the others with"};
