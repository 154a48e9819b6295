/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* help.c: what --help prints, made from the tables of options. */
#include "front.h"

#include <stdio.h>
#include <string.h>

/* Under which title --help shows an option; what is named nowhere is the tool's own question. */
static const struct {
    const char *title;
    const char *const names[12];
} groups[] = {
    {"The question:", {NULL}},
    {"Many draws of what is not known exactly:",
     {"draws", "seed", "threads", "shard", "save", "merge", NULL}},
    {"The answer:",
     {"check", "format", "separator", "decimal", "picture", "explain", "cautions", "card", "write",
      "force", NULL}},
    {"Besides:", {"liquids", "config", "help", "version", NULL}},
};

enum { GROUPS = sizeof groups / sizeof groups[0], HELP_COLUMN = 23 };

static size_t group_of(const char *name)
{
    size_t group, i;

    for (group = 1; group < GROUPS; group++)
        for (i = 0; groups[group].names[i]; i++)
            if (strcmp(groups[group].names[i], name) == 0)
                return group;
    return 0;
}

static void show_option(dregs_report *report, const struct front_option *option)
{
    const char *letter = strcmp(option->name, "help") == 0      ? ", -h"
                         : strcmp(option->name, "version") == 0 ? ", -V"
                                                                : "";
    char left[40];

    snprintf(left, sizeof left, "--%s%s%s%s", option->name, option->argument ? " " : "",
             option->argument ? option->argument : "", letter);
    dregs_report_fact(report, left, HELP_COLUMN, "%s", option->help);
}

/* What a tool is for; a line of it that begins with blanks is a word and what it means. */
static void show_purpose(dregs_report *report, const char *purpose)
{
    enum { WORD = 11 };
    char word[16];

    for (; *purpose; purpose += strcspn(purpose, "\n"), purpose += *purpose == '\n') {
        int length = (int)strcspn(purpose, "\n"), width = (int)strcspn(purpose + 2, " \n");
        if (*purpose != ' ' || width >= (int)sizeof word) {
            dregs_report_text(report, 0, 0, "%.*s", length, purpose);
            continue;
        }
        snprintf(word, sizeof word, "%.*s", width, purpose + 2);
        width += 2 + (int)strspn(purpose + 2 + width, " ");
        dregs_report_fact(report, word, WORD, "%.*s", length - width, purpose + width);
    }
}

int front_help(const struct front_tool *tool, const char *called)
{
    dregs_report *report = dregs_report_new("help", NULL);
    struct front_option option;
    size_t group, i;
    int shown;

    dregs_report_text(report, 0, 2, "usage: %s [OPTION]... %s", called, tool->operands);
    show_purpose(report, tool->purpose);
    for (group = 0; group < GROUPS; group++)
        for (i = 0, shown = 0; front_option_at(tool, i, &option); i++)
            if (group_of(option.name) == group) {
                if (!shown++)
                    dregs_report_heading(report, "%s", groups[group].title);
                show_option(report, &option);
            }
    dregs_report_gap(report);
    if (tool->example)
        dregs_report_text(report, 0, 2, "Example: %s", tool->example);
    dregs_report_text(report, 0, 2,
                      "Exit status: 0 done, %s2 wrong use, 3 bad data, 4 could not read or write.",
                      tool->check ? "1 missed (with --check), " : "");
    dregs_report_text(report, 0, 2, "The manual: man %s. The line file: man 5 dregs-line.",
                      tool->page ? tool->page : tool->name);
    return front_end(front_print(report, stdout));
}
