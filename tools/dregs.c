/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dregs.c: one program for all tools, each a verb of it: dregs predict LINE. Called by the name of
 * a tool, as the links dregs-predict and so on do, it is that tool.
 */
#include "verbs.h"

#include <stdio.h>
#include <string.h>

static const struct verb *const verbs[] = {&verb_new,    &verb_check,  &verb_predict, &verb_size,
                                           &verb_dry,    &verb_reuse,  &verb_tally,   &verb_liquid,
                                           &verb_beaker, &verb_example};

static const char prefix[] = "dregs-";
enum { COLUMN = 17 };

const struct verb *verb_at(size_t index)
{
    return index < sizeof verbs / sizeof verbs[0] ? verbs[index] : NULL;
}

/* By its word, "predict", or by the name of its tool. */
static const struct verb *find(const char *name)
{
    const struct verb *verb;
    size_t i;

    for (i = 0; (verb = verb_at(i)) != NULL; i++)
        if (strcmp(name, verb->tool->name) == 0 ||
            strcmp(name, verb->tool->name + strlen(prefix)) == 0)
            return verb;
    return NULL;
}

static int run(const struct verb *verb, int argc, char **argv)
{
    /* the name of a tool in place of a verb is its own name, as that of a link is */
    front_as_verb(strcmp(argv[0], verb->tool->name) != 0);
    return verb->run(argc, argv);
}

static int print_verbs(void)
{
    dregs_report *report = dregs_report_new("help", NULL);
    const struct verb *verb;
    size_t i;

    dregs_report_text(report, 0, 2, "usage: dregs VERB [OPTION]... [FILE]...");
    dregs_report_text(report, 0, 0,
                      "Predicts residue, sizes rinses, follows drying and accounts for liquid, for "
                      "people who clean parts.");
    dregs_report_gap(report);
    for (i = 0; (verb = verb_at(i)) != NULL; i++)
        dregs_report_fact(report, verb->tool->name + strlen(prefix), COLUMN, "%s", verb->job);
    dregs_report_fact(report, "help", COLUMN, "the options of a verb: dregs help predict");
    dregs_report_gap(report);
    dregs_report_fact(report, "--help, -h", COLUMN, "print this help");
    dregs_report_fact(report, "--version, -V", COLUMN, "print the version");
    dregs_report_gap(report);
    dregs_report_text(report, 0, 2, "Example: dregs example aqueous-line | dregs predict -");
    dregs_report_text(
        report, 0, 2,
        "Exit status: 0 done, 1 missed (with --check), 2 wrong use, 3 bad data, 4 could "
        "not read or write.");
    dregs_report_text(report, 0, 2, "The manual: man dregs. The line file: man 5 dregs-line.");
    return front_end(front_print(report, stdout));
}

static int no_verb(const char *name)
{
    const struct verb *verb;
    char words[256] = "";
    size_t i, used = 0;

    for (i = 0; (verb = verb_at(i)) != NULL && used < sizeof words; i++)
        used += (size_t)snprintf(words + used, sizeof words - used, "%s%s", i ? ", " : "",
                                 verb->tool->name + strlen(prefix));
    return front_usage("'%s' is no verb; the verbs: %s, help", name, words);
}

static int help(int argc, char **argv)
{
    char option[] = "--help";
    const struct verb *verb;
    char *asked[] = {argv[0], option, NULL};

    if (argc < 2 || (argc == 2 && (strcmp(argv[1], "-h") == 0 || strcmp(argv[1], "--help") == 0 ||
                                   strcmp(argv[1], "help") == 0)))
        return print_verbs();
    if (argc > 2)
        return front_usage("help of one verb at a time");
    verb = find(argv[1]);
    if (!verb)
        return no_verb(argv[1]);
    asked[0] = argv[1];
    return run(verb, 2, asked);
}

int main(int argc, char **argv)
{
    static const struct front_tool front = {.name = "dregs", .operands = "VERB", .purpose = ""};
    const char *slash = argc > 0 ? strrchr(argv[0], '/') : NULL;
    const struct verb *verb = argc > 0 ? find(slash ? slash + 1 : argv[0]) : NULL;

    if (verb)
        return verb->run(argc, argv);
    front_begin(&front);
    if (argc < 2)
        return front_usage("no verb given");
    if (strcmp(argv[1], "-h") == 0 || strcmp(argv[1], "--help") == 0)
        return print_verbs();
    if (strcmp(argv[1], "-V") == 0 || strcmp(argv[1], "--version") == 0)
        return front_version();
    if (strcmp(argv[1], "help") == 0)
        return help(argc - 1, argv + 1);
    verb = strcmp(argv[1], "complete") == 0 ? &verb_complete : find(argv[1]);
    if (!verb)
        return argv[1][0] == '-' ? front_usage("unknown option '%s'", argv[1]) : no_verb(argv[1]);
    return run(verb, argc - 1, argv + 1);
}
