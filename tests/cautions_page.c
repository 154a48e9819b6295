/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* cautions_page.c: writes man/dregs-cautions.7 from the rules; tests/cautions.sh holds the page in
 * the tree against it.
 */
#include "dregs/caution.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char head[] =
    ".Dd November 30, 2026\n.Dt DREGS-CAUTIONS 7\n.Os dregs\n.Sh NAME\n.Nm dregs-cautions\n"
    ".Nd the cautions, each with its condition, threshold, source and evidence\n.Sh DESCRIPTION\n"
    "The tools give these cautions when the numbers call for them, whoever brings the\nnumbers: "
    "a line, a film that dries, a liquid as such.\n"
    "This page is written from the table of the rules.\nThe dangers stand first.\n";

/* A sentence of the page, in lines of at most 78 columns. */
static void say(const char *before, const char *text)
{
    size_t used = strlen(before), word;

    fputs(before, stdout);
    for (; *text; text += word + (text[word] == ' ')) {
        word = strcspn(text, " ");
        if (used + word + 1 > 78) {
            putchar('\n');
            used = 0;
        } else if (used) {
            putchar(' ');
            used++;
        }
        printf("%.*s", (int)word, text);
        used += word;
    }
    puts(".");
}

/* How the source is known, and since when. */
static void say_evidence(const dregs_caution_rule *rule)
{
    static const struct {
        const char *evidence, *words;
    } known[] = {{"read", "read on"},
                 {"memory", "from memory"},
                 {"practice", "none, a habit of the trade"},
                 {"its own", "stands beside each limit or regulation"}};
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strcmp(rule->evidence, known[i].evidence) == 0)
            printf("Evidence: %s%s%s.\n", known[i].words, *rule->date ? " " : "", rule->date);
}

static void rules_of(dregs_severity severity, const char *title)
{
    const dregs_caution_rule *rule;
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    printf(".Ss %s\n.Bl -tag -width Ds\n", title);
    for (i = 0; (rule = dregs_caution_rule_at(i)) != NULL; i++) {
        if (rule->severity != severity)
            continue;
        printf(".It Sy %s\n", rule->id);
        say("When", rule->condition);
        if (!isnan(rule->threshold))
            printf("Threshold: %s %s.\n", dregs_number_plain(number, rule->threshold, 4),
                   rule->unit);
        say("Source:", rule->source);
        say_evidence(rule);
    }
    printf(".El\n");
}

int main(void)
{
    fputs(head, stdout);
    rules_of(DREGS_DANGER, "Dangers");
    rules_of(DREGS_WARNING, "Warnings");
    rules_of(DREGS_NOTE, "Notes");
    printf("%s\n", ".Sh SEE ALSO\n.Xr dregs-dry 1 ,\n.Xr dregs-liquid 1 ,\n.Xr dregs-predict 1 ,\n"
                   ".Xr dregs-model 7\n.Sh CAVEATS\n"
                   "Not covered, because no number tells it: ignition sources, how much liquid is\n"
                   "stored, what the soil gives off.\nNo caution does not mean that nothing can "
                   "happen.\nThe local code, the safety data sheet and licensed professionals "
                   "decide.");
    return 0;
}
