/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* lines.c: line files for the tests, some of them random.
 *
 * The random lines hold whatever a line file can: tanks that share, feed, top up and refill one
 * another, sprays whose runoff is caught, dry stages anywhere. Numbers come from a hash of a
 * counter, so that a failing line can be had again by its number alone.
 */
#include "lines.h"

#include <check.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- text ---- */

void lines_say(struct lines_text *text, const char *format, ...)
{
    va_list arguments;
    int wrote;

    va_start(arguments, format);
    wrote = vsnprintf(text->bytes + text->used, sizeof text->bytes - text->used, format, arguments);
    va_end(arguments);
    ck_assert_msg(wrote >= 0 && (size_t)wrote < sizeof text->bytes - text->used,
                  "a line of this test is too long for its buffer");
    text->used += (size_t)wrote;
}

void lines_begin(struct lines_text *text)
{
    text->used = 0;
    lines_say(text, "item,property,value,unit\n");
}

/* ---- reading ---- */

/* The built-in liquids, read once in a process and kept: nothing changes them, and reading them
 * takes longer than most lines. */
static const dregs_liquids *built_in(void)
{
    static dregs_liquids *table;

    if (!table)
        table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    return table;
}

dregs_line *lines_try(const char *text, const char *liquids, dregs_faults *faults)
{
    dregs_liquids *own = liquids ? dregs_liquids_new() : NULL;
    dregs_line *line = NULL;

    memset(faults, 0, sizeof *faults);
    if (liquids) {
        ck_assert_ptr_nonnull(own);
        if (dregs_liquids_add(own, "own.csv", liquids, strlen(liquids), faults)) {
            dregs_liquids_free(own);
            return NULL;
        }
    }
    if (!dregs_line_parse("test.csv", text, strlen(text), liquids ? own : built_in(), &line,
                          faults))
        return line;
    dregs_liquids_free(own);
    return NULL;
}

dregs_line *lines_read_with(const char *text, const char *liquids)
{
    static dregs_faults faults;
    dregs_line *line = lines_try(text, liquids, &faults);
    unsigned i;

    if (line)
        return line;
    for (i = 0; i < faults.count; i++)
        fprintf(stderr, "%s:%lu: %s\n", faults.file, faults.fault[i].line, faults.fault[i].text);
    ck_abort_msg("a line that must be good is refused: %.300s\n%.4000s",
                 faults.count ? faults.fault[0].text : "for no reason", text);
    return NULL;
}

dregs_line *lines_read(const char *text)
{
    return lines_read_with(text, NULL);
}

void lines_free(dregs_line *line)
{
    const dregs_liquids *table = line ? dregs_line_liquids(line) : NULL;

    dregs_line_free(line);
    if (table && table != built_in())
        dregs_liquids_free((dregs_liquids *)(uintptr_t)table); /* made by lines_try for it alone */
}

dregs_map *lines_map(const dregs_line *line)
{
    dregs_map *map = NULL;

    ck_assert_int_eq(dregs_map_new(line, &map), DREGS_OK);
    return map;
}

dregs_state *lines_state(const dregs_map *map)
{
    dregs_state *state = dregs_state_new(map);

    ck_assert_ptr_nonnull(state);
    return state;
}

/* ---- random numbers ---- */

/* splitmix64's output function (Steele, Lea, Flood 2014) over a counter */
uint64_t lines_bits(struct lines_stream *stream)
{
    uint64_t z = stream->key * 0xD1342543DE82EF95u + ++stream->at * 0x9E3779B97F4A7C15u;

    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    return z ^ z >> 31;
}

static double uniform(struct lines_stream *stream)
{
    return (double)(lines_bits(stream) >> 11) / 9007199254740992.0;
}

double lines_between(struct lines_stream *stream, double low, double high)
{
    return low + (high - low) * uniform(stream);
}

unsigned lines_below(struct lines_stream *stream, unsigned count)
{
    return (unsigned)(lines_bits(stream) % count);
}

int lines_chance(struct lines_stream *stream, double share)
{
    return uniform(stream) < share;
}

/* ---- random lines ---- */

enum { TANKS_MOST = 8, SHAPES = 6 };

struct sketch {
    struct lines_stream stream;
    struct lines_text *text;
    unsigned solutes, liquids;
    unsigned immersions;            /* stages */
    int owner[TANKS_MOST];          /* the stage whose tank it visits, itself for its own */
    double volume[TANKS_MOST];      /* L */
    double spare[TANKS_MOST];       /* L that may still be asked of it at a dump */
    unsigned flow_rank[TANKS_MOST]; /* overflows and top-ups run from higher to lower */
    unsigned refill_rank[TANKS_MOST];
    int refill[TANKS_MOST], given[TANKS_MOST], dump[TANKS_MOST];
};

static void shuffle(struct lines_stream *stream, unsigned *rank, unsigned count)
{
    unsigned i, k, swap;

    for (i = 0; i < count; i++)
        rank[i] = i;
    for (i = count; i > 1; i--) {
        k = lines_below(stream, i);
        swap = rank[i - 1];
        rank[i - 1] = rank[k];
        rank[k] = swap;
    }
}

static void say_load(struct sketch *s)
{
    struct lines_stream *r = &s->stream;
    struct lines_text *t = s->text;

    lines_say(t, "basket,kind,load,\nbasket,parts,%u,1\n", 1 + lines_below(r, 40));
    lines_say(t, "basket,area,%.5g,cm2\n", lines_between(r, 3, 200));
    lines_say(t, "basket,interval,%.5g,min\n", lines_between(r, 0.5, 30));
    lines_say(t, "basket,height,%.5g,cm\n", lines_between(r, 2, 40));
    if (lines_chance(r, 0.5))
        lines_say(t, "basket,extra area,%.5g,cm2\n", lines_between(r, 0, 1500));
    if (lines_chance(r, 0.5))
        lines_say(t, "basket,hold-up,%.5g,mL\n", lines_between(r, 0, 0.5));
    if (lines_chance(r, 0.25))
        lines_say(t, "basket,edge,%.5g,cm\n", lines_between(r, 0, 8));
}

static void say_contents(struct sketch *s)
{
    struct lines_stream *r = &s->stream;
    struct lines_text *t = s->text;
    unsigned i, k;

    s->solutes = 1 + lines_below(r, 4);
    s->liquids = 2 + lines_below(r, 3);
    for (i = 0; i < s->solutes; i++) {
        lines_say(t, "s%u,kind,solute,\n", i);
        if (i == 0 || lines_chance(r, 0.4))
            lines_say(t, "s%u,on parts,%.5g,mg\n", i, lines_between(r, 0.01, 5));
    }
    for (i = 0; i < s->liquids; i++) {
        lines_say(t, "l%u,kind,liquid,\nl%u,solvent,%s,\n", i, i,
                  lines_chance(r, 0.8) ? "water" : "isopropanol");
        for (k = 0; k < s->solutes; k++)
            if (lines_chance(r, 0.6))
                lines_say(t, "l%u,s%u,%.5g,mg/L\n", i, k,
                          lines_chance(r, 0.3) ? lines_between(r, 1000, 50000)
                                               : lines_between(r, 0, 20));
    }
}

static void say_film(struct sketch *s, const char *name)
{
    static const char *const shapes[SHAPES] = {
        "vertical well drained",          "vertical poorly drained",
        "vertical very poorly drained",   "horizontal well drained",
        "horizontal very poorly drained", "cup shaped very poorly drained"};
    struct lines_stream *r = &s->stream;

    switch (lines_below(r, 5)) {
    case 0:
        lines_say(s->text, "%s,drag-out class,%s,\n", name, shapes[lines_below(r, SHAPES)]);
        break;
    case 1:
        lines_say(s->text, "%s,withdrawal speed,%.5g,cm/s\n", name, lines_between(r, 0.5, 20));
        if (lines_chance(r, 0.6))
            lines_say(s->text, "%s,drain time,%.5g,s\n", name, lines_between(r, 0, 40));
        else if (lines_chance(r, 0.5))
            lines_say(s->text, "%s,film law,kushner,\n", name);
        break;
    case 2:
        lines_say(s->text, "%s,drag-out,%.5g,mL/m2\n", name, lines_between(r, 5, 150));
        break;
    default:
        lines_say(s->text, "%s,film,%.5g,um\n", name, lines_between(r, 5, 120));
    }
}

/* A random other tank that ranks lower; -1 for none. */
static int lower(struct sketch *s, unsigned stage, const unsigned *rank)
{
    unsigned start = lines_below(&s->stream, s->immersions), i, k;

    for (i = 0; i < s->immersions; i++) {
        k = (start + i) % s->immersions;
        if (s->owner[k] == (int)k && rank[k] < rank[stage])
            return (int)k;
    }
    return -1;
}

/* Volumes, who shares with whom, what is dumped and from where it is refilled. */
static void plan(struct sketch *s)
{
    static const int periods[] = {1, 2, 3, 4, 5, 6, 8, 12};
    struct lines_stream *r = &s->stream;
    double usual = lines_between(r, 3, 60);
    unsigned i;
    int from;

    s->immersions = 1 + lines_below(r, TANKS_MOST);
    shuffle(r, s->flow_rank, s->immersions);
    shuffle(r, s->refill_rank, s->immersions);
    for (i = 0; i < s->immersions; i++) {
        s->volume[i] = s->spare[i] = lines_chance(r, 0.5) ? usual : lines_between(r, 3, 100);
        s->owner[i] = (int)i;
        s->refill[i] = -1;
        s->given[i] = s->dump[i] = 0;
        if (i > 0 && lines_chance(r, 0.2))
            s->owner[i] = s->owner[lines_below(r, i)];
        else if (lines_chance(r, 0.5))
            s->dump[i] = periods[lines_below(r, 8)];
    }
    for (i = 0; i < s->immersions; i++) {
        from = s->owner[i] == (int)i && lines_chance(r, 0.6) ? lower(s, i, s->refill_rank) : -1;
        if (from < 0 || s->spare[from] < s->volume[i])
            continue;
        s->refill[i] = from;
        s->given[from] = 1;
        s->spare[from] -= s->volume[i];
    }
}

static void say_tank(struct sketch *s, unsigned i, const char *name)
{
    struct lines_stream *r = &s->stream;
    struct lines_text *t = s->text;
    int other;

    lines_say(t, "%s,volume,%.17g,L\n%s,liquid,l%u,\n", name, s->volume[i], name,
              lines_below(r, s->liquids));
    if (lines_chance(r, 0.5))
        lines_say(t, "%s,flow,%.5g,L/h\n", name, lines_between(r, 0, 200));
    if (lines_chance(r, 0.3))
        lines_say(t, "%s,feed,l%u,\n", name, lines_below(r, s->liquids));
    other = lower(s, i, s->flow_rank);
    if (other >= 0 && lines_chance(r, 0.5))
        lines_say(t, "%s,overflow to,t%d,\n", name, other);
    other = lower(s, i, s->flow_rank);
    if (other >= 0 && lines_chance(r, 0.3))
        lines_say(t, "%s,top up from,t%d,\n", name, other);
    else if (lines_chance(r, 0.3))
        lines_say(t, "%s,top up from,l%u,\n", name, lines_below(r, s->liquids));
    if (lines_chance(r, 0.25))
        lines_say(t, "%s,evaporation,%.5g,L/h\n", name, lines_between(r, 0, 5));
    else if (lines_chance(r, 0.15))
        lines_say(t, "%s,open area,%.5g,m2\n", name, lines_between(r, 0, 0.5));
    if (lines_chance(r, 0.3))
        lines_say(t, "%s,clearing s%u,%.5g,L/h\n", name, lines_below(r, s->solutes),
                  lines_between(r, 0, 100));
    if (s->dump[i])
        lines_say(t, "%s,dump every,%d,1\n", name, s->dump[i]);
    if (s->refill[i] >= 0 && (s->dump[i] || s->given[i]))
        lines_say(t, "%s,refill from,t%d,\n", name, s->refill[i]);
}

static void say_immersion(struct sketch *s, unsigned i)
{
    struct lines_stream *r = &s->stream;
    struct lines_text *t = s->text;
    int wash = lines_chance(r, 0.4);
    char name[16];

    snprintf(name, sizeof name, "t%u", i);
    lines_say(t, "%s,kind,%s,\n", name, wash ? "wash" : "rinse");
    if (s->owner[i] == (int)i)
        say_tank(s, i, name);
    else
        lines_say(t, "%s,shares tank with,t%d,\n", name, s->owner[i]);
    if (wash)
        lines_say(t, "%s,removal,%.5g,%%\n", name, lines_between(r, 0, 100));
    else if (lines_chance(r, 0.4))
        lines_say(t, "%s,removal s%u,%.5g,%%\n", name, lines_below(r, s->solutes),
                  lines_between(r, 0, 100));
    if (lines_chance(r, 0.35))
        lines_say(t, "%s,exchange,%.5g,%%\n", name, lines_between(r, 10, 100));
    say_film(s, name);
}

static void say_spray(struct sketch *s, unsigned i)
{
    struct lines_stream *r = &s->stream;
    struct lines_text *t = s->text;

    lines_say(t, "p%u,kind,spray,\np%u,liquid,l%u,\n", i, i, lines_below(r, s->liquids));
    lines_say(t, "p%u,use,%.5g,L\n", i, lines_between(r, 0.2, 4));
    lines_say(t, "p%u,film,%.5g,um\n", i, lines_between(r, 5, 60));
    if (lines_chance(r, 0.5))
        lines_say(t, "p%u,mixing,%.5g,%%\n", i, lines_between(r, 40, 100));
    if (lines_chance(r, 0.6))
        lines_say(t, "p%u,runoff to,t%u,\n", i, lines_below(r, s->immersions));
}

static void say_dry(struct sketch *s, unsigned i)
{
    struct lines_stream *r = &s->stream;

    lines_say(s->text, "d%u,kind,dry,\nd%u,temperature,%.5g,degC\n", i, i,
              lines_between(r, 15, 90));
    if (lines_chance(r, 0.6))
        lines_say(s->text, "d%u,blow-off,%.5g,%%\nd%u,blow-off to,%s,\n", i,
                  lines_between(r, 0, 90), i, i % 2 ? "waste" : "drain");
}

static void write_random(uint64_t key, struct lines_text *text)
{
    struct sketch s = {.stream = {key, 0}, .text = text};
    unsigned i;

    lines_begin(text);
    say_load(&s);
    say_contents(&s);
    plan(&s);
    for (i = 0; i < s.immersions; i++) {
        if (lines_chance(&s.stream, 0.15))
            say_spray(&s, i);
        say_immersion(&s, i);
        if (i + 1 < s.immersions && lines_chance(&s.stream, 0.1))
            say_dry(&s, i);
    }
    if (lines_chance(&s.stream, 0.2))
        say_spray(&s, i);
    if (lines_chance(&s.stream, 0.6))
        say_dry(&s, i);
}

/* Of the load, of some stages, or of both. */
static void say_trapped(uint64_t key, const dregs_line *line, struct lines_text *text)
{
    struct lines_stream stream = {key, 1u << 20}; /* far behind what the line took */
    int load = lines_chance(&stream, 0.5);
    unsigned i;

    if (!dregs_line_find(line, "basket", "hold-up"))
        lines_say(text, "basket,hold-up,%.5g,mL\n", lines_between(&stream, 0.01, 0.5));
    if (load)
        lines_say(text, "basket,hold-up exchange,%.5g,%%\n", lines_between(&stream, 0, 100));
    for (i = 0; i < dregs_line_stages(line); i++)
        if ((i == 0 && !load) || lines_chance(&stream, 0.4))
            lines_say(text, "%s,hold-up exchange,%.5g,%%\n", dregs_line_stage_name(line, i),
                      lines_chance(&stream, 0.2) ? 0 : lines_between(&stream, 0, 100));
}

static dregs_line *write_until_good(uint64_t number, int trapping, struct lines_text *text,
                                    unsigned *tried)
{
    static dregs_faults faults;
    dregs_line *line;
    unsigned attempt;

    for (attempt = 0; attempt < 50; attempt++) {
        write_random(number * 64 + attempt, text);
        line = lines_try(text->bytes, NULL, &faults);
        if (line && trapping) {
            say_trapped(number * 64 + attempt, line, text);
            lines_free(line);
            line = lines_try(text->bytes, NULL, &faults);
        }
        if (tried)
            ++*tried;
        if (line)
            return line;
        if (getenv("DREGS_TELL_REFUSED"))
            fprintf(stderr, "line %u.%u: %s\n", (unsigned)number, attempt, faults.fault[0].text);
    }
    ck_abort_msg("random line %u is refused 50 times: %s", (unsigned)number, faults.fault[0].text);
    return NULL;
}

dregs_line *lines_random(uint64_t number, struct lines_text *text, unsigned *tried)
{
    return write_until_good(number, 0, text, tried);
}

dregs_line *lines_random_trapping(uint64_t number, struct lines_text *text, unsigned *tried)
{
    return write_until_good(number, 1, text, tried);
}

dregs_line *lines_random_either(uint64_t number, struct lines_text *text)
{
    return number % 2 ? lines_random_trapping(number, text, NULL)
                      : lines_random(number, text, NULL);
}
