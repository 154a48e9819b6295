/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sequence.c: the order of loads of several kinds, as a cell states it: names with blanks between
 * them, and a number before a name that comes several times in a row.
 */
#include "line/read.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CYCLE_MOST = 1000 };

struct sequence {
    struct reader *r;
    unsigned row;
    const char *at; /* of what is not yet read */
    unsigned char kind[CYCLE_MOST];
    unsigned count;
};

static int ends(char c)
{
    return c == '\0' || c == ' ';
}

/* The load whose name stands here, the longest one where names begin alike; a name may hold
 * blanks. */
static const struct item *load_at(const dregs_line *line, const char *text)
{
    const struct item *found = NULL;
    size_t longest = 0;
    unsigned i;

    for (i = 0; i < line->item_count; i++) {
        const struct item *item = &line->items[i];
        size_t length = strlen(item->name);
        if (item->kind == KIND_LOAD && length > longest && strncmp(item->name, text, length) == 0 &&
            ends(text[length])) {
            found = item;
            longest = length;
        }
    }
    return found;
}

static void skip_blanks(struct sequence *s)
{
    while (*s->at == ' ')
        s->at++;
}

/* The number before a name; 1 where none stands there. */
static unsigned long take_times(struct sequence *s)
{
    size_t digits = strspn(s->at, "0123456789");
    unsigned long times = 0;
    const char *p;

    if (!digits || digits > 6 || !ends(s->at[digits]) || load_at(s->r->line, s->at))
        return 1;
    for (p = s->at; p < s->at + digits; p++)
        times = times * 10 + (unsigned long)(*p - '0');
    s->at += digits;
    skip_blanks(s);
    return times;
}

static void say_unknown(struct sequence *s)
{
    const dregs_line *line = s->r->line;
    const char *names[ITEMS_MOST];
    char word[DREGS_QUOTED], quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], name[DREGS_QUOTED];
    unsigned i, count = 0;

    for (i = 0; i < line->item_count; i++)
        if (line->items[i].kind == KIND_LOAD)
            names[count++] = line->items[i].name;
    snprintf(word, sizeof word, "%.*s", (int)strcspn(s->at, " "), s->at);
    SAY(s->r, s->row, "sequence of %s: %s is not a load of this file%s",
        dregs_quote(name, line->rows[s->row].item), *word ? dregs_quote(quoted, word) : "nothing",
        dregs_nearest_words(near, word, names, count));
}

static void say_count(struct sequence *s, unsigned long times, const struct item *load)
{
    char name[DREGS_QUOTED];

    dregs_quote(name, s->r->line->rows[s->row].item);
    if (times < 1)
        SAY(s->r, s->row, "sequence of %s: 0 times '%.40s'; leave it out", name, load->name);
    else
        SAY(s->r, s->row, "sequence of %s: more than %d loads in the cycle", name, CYCLE_MOST);
}

/* The next name of the cell, with the number before it; 0 after a fault. */
static int take_loads(struct sequence *s)
{
    unsigned long times = take_times(s);
    const struct item *load = load_at(s->r->line, s->at);

    if (!load) {
        say_unknown(s);
        return 0;
    }
    if (times < 1 || times > CYCLE_MOST - s->count) {
        say_count(s, times, load);
        return 0;
    }
    s->at += strlen(load->name);
    for (; times; times--)
        s->kind[s->count++] = (unsigned char)load->index;
    return 1;
}

/* The fewest loads behind which the sequence repeats itself: A B A B is A B. */
static unsigned shortest(const struct sequence *s)
{
    unsigned cycle, i;

    for (cycle = 1; cycle < s->count; cycle++) {
        for (i = cycle; i < s->count && s->kind[i] == s->kind[i - cycle]; i++)
            ;
        if (s->count % cycle == 0 && i == s->count)
            break;
    }
    return cycle;
}

void dregs_line_read_sequence(struct reader *r, unsigned row, const char *word, void *owner,
                              const struct property *property)
{
    struct sequence s = {.r = r, .row = row, .at = word};
    unsigned char *kept;

    (void)property;
    ((dregs_schedule *)owner)->sequence_row = row;
    do {
        skip_blanks(&s);
        if (!take_loads(&s))
            return;
        skip_blanks(&s);
    } while (*s.at);
    kept = dregs_line_keep(r->line, s.count, 1);
    if (!kept)
        return;
    memcpy(kept, s.kind, s.count);
    r->line->sequence = kept;
    r->line->cycle = shortest(&s);
}
