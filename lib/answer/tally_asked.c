/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_asked.c: what regulations ask that neither the line nor the facts of the site tell. */
#include "answer/tally.h"
#include "line/line.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Room for one more; NULL when memory is short. */
static struct tally_asked *grow(dregs_tally_law *law)
{
    if (law->asked_count == law->asked_room) {
        unsigned room = law->asked_room ? 2 * law->asked_room : 16;
        struct tally_asked *bigger = realloc(law->asked, room * sizeof *bigger);
        if (!bigger) {
            law->failed = 1;
            return NULL;
        }
        law->asked = bigger;
        law->asked_room = room;
    }
    return &law->asked[law->asked_count];
}

/* The answer to a key is one, whoever asks; what has no key is told apart by its words. */
static int was_asked(const dregs_tally_law *law, const char *key, const char *text)
{
    unsigned i;

    for (i = 0; i < law->asked_count; i++)
        if (strcmp(law->asked[i].key, key) == 0 && (*key || strcmp(law->asked[i].text, text) == 0))
            return 1;
    return 0;
}

DREGS_FORMAT(4, 0)
static void ask(dregs_tally_law *law, enum tally_rank rank, const char *key, const char *format,
                va_list arguments)
{
    char text[TALLY_ASKED_ROOM];
    struct tally_asked *asked;

    vsnprintf(text, sizeof text, format, arguments);
    if (was_asked(law, key, text))
        return;
    asked = grow(law);
    if (!asked)
        return;
    *asked = (struct tally_asked){.rank = rank};
    snprintf(asked->key, sizeof asked->key, "%s", key);
    memcpy(asked->text, text, sizeof asked->text);
    if (*key)
        dregs_answer_tally_answers(key, asked->answers, sizeof asked->answers);
    law->asked_count++;
}

void dregs_answer_tally_ask(dregs_tally_law *law, enum tally_rank rank, const char *key,
                            const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    ask(law, rank, key ? key : "", format, arguments);
    va_end(arguments);
}

void dregs_answer_tally_ask_stage(dregs_tally_law *law, enum tally_rank rank, unsigned stage,
                                  const char *key, const char *format, ...)
{
    char whole[TALLY_KEY_ROOM];
    va_list arguments;

    snprintf(whole, sizeof whole, "%.250s%s", dregs_line_stage(law->line, stage)->name, key);
    va_start(arguments, format);
    ask(law, rank, whole, format, arguments);
    va_end(arguments);
}

void dregs_answer_tally_ask_drain(dregs_tally_law *law, enum tally_rank rank)
{
    dregs_answer_tally_ask(
        law, rank, "drain",
        "where the drain leads: to the sewer (a solvent in it is lost in water, "
        "O2, and it is no waste of the site) or to collected waste (O6, which "
        "counts for the category). Until then it counts as lost in water, and as "
        "a waste it is undecided");
}

/* What changes most first; of the same rank in the order in which it was asked. */
static void sort(struct tally_asked *asked, unsigned count)
{
    struct tally_asked moved;
    unsigned i, k;

    for (i = 1; i < count; i++) {
        moved = asked[i];
        for (k = i; k > 0 && asked[k - 1].rank > moved.rank; k--)
            asked[k] = asked[k - 1];
        asked[k] = moved;
    }
}

void dregs_answer_tally_asked_done(dregs_tally_law *law)
{
    unsigned i;

    sort(law->asked, law->asked_count);
    for (i = 0; i < law->asked_count; i++) {
        struct tally_asked *asked = &law->asked[i];
        asked->shown = (dregs_tally_asked){asked->text, *asked->key ? asked->key : NULL,
                                           *asked->key ? asked->answers : NULL};
    }
}
