/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixes.c: random lines with loads of several kinds. The first kind is the load of a random line;
 * the others have parts and area of their own, and some of them soil and films. The files of one
 * kind alone have its rows in the places of the first one's.
 */
#include "mixes.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

enum { OWN_MOST = 16 };

/* What a kind has for itself: rows of the load, soil of a solute, drag-out of a stage. */
struct kind {
    char name[16];
    char rows[400]; /* without interval, each line behind the load's name */
    char soil[OWN_MOST][16], stage[OWN_MOST][16];
    double mass[OWN_MOST], film[OWN_MOST];
    unsigned soils, films;
};

static int begins(const char *line, const char *with)
{
    return strncmp(line, with, strlen(with)) == 0;
}

static void copy_line(struct lines_text *to, const char *line)
{
    lines_say(to, "%.*s\n", (int)strcspn(line, "\n"), line);
}

static const char *next_line(const char *line)
{
    const char *end = strchr(line, '\n');

    return end && end[1] ? end + 1 : NULL;
}

/* Of a row of a stage: does it say which film leaves? */
static int is_film(const char *property)
{
    return begins(property, "film,") || begins(property, "drag-out") ||
           begins(property, "withdrawal speed,") || begins(property, "drain time,") ||
           begins(property, "film law,");
}

static void draw(struct lines_stream *r, const char *base, unsigned number, struct kind *kind)
{
    const char *line;
    int used;

    memset(kind, 0, sizeof *kind);
    snprintf(kind->name, sizeof kind->name, "kind%u", number);
    used = snprintf(kind->rows, sizeof kind->rows, ",parts,%u,1\n,area,%.5g,cm2\n,height,%.5g,cm\n",
                    1 + lines_below(r, 40), lines_between(r, 3, 200), lines_between(r, 2, 40));
    if (lines_chance(r, 0.5))
        snprintf(kind->rows + used, sizeof kind->rows - (size_t)used, ",hold-up,%.5g,mL\n",
                 lines_between(r, 0, 0.5));
    for (line = base; line; line = next_line(line)) {
        const char *property = strchr(line, ',');
        if (begins(property, ",on parts,") && kind->soils < OWN_MOST && lines_chance(r, 0.7)) {
            snprintf(kind->soil[kind->soils], 16, "%.*s", (int)(property - line), line);
            kind->mass[kind->soils++] = lines_between(r, 0.01, 9);
        }
        if ((begins(property, ",film,") || begins(property, ",drag-out")) &&
            kind->films < OWN_MOST && lines_chance(r, 0.5)) {
            snprintf(kind->stage[kind->films], 16, "%.*s", (int)(property - line), line);
            kind->film[kind->films++] = lines_between(r, 5, 300);
        }
    }
}

static void say_rows(struct lines_text *to, const char *name, const char *rows)
{
    const char *line;

    lines_say(to, "%s,kind,load,\n", name);
    for (line = rows; line; line = next_line(line))
        lines_say(to, "%s%.*s\n", name, (int)strcspn(line, "\n"), line);
}

/* The base with the rows of a kind in place of its load's. */
static void write_alone(const char *base, const struct kind *kind, struct lines_text *to)
{
    const char *line;
    unsigned i;

    to->used = 0;
    for (line = base; line; line = next_line(line)) {
        const char *property = strchr(line, ',') + 1;
        size_t name = (size_t)(property - 1 - line);
        int own = begins(line, "basket,");
        for (i = 0; i < kind->soils; i++)
            own |= strlen(kind->soil[i]) == name && begins(line, kind->soil[i]) &&
                   begins(property, "on parts,");
        for (i = 0; i < kind->films; i++)
            own |=
                strlen(kind->stage[i]) == name && begins(line, kind->stage[i]) && is_film(property);
        if (begins(line, "basket,interval,"))
            lines_say(to, "%s%.*s\n", kind->name, (int)strcspn(line + 6, "\n"), line + 6);
        if (begins(line, "basket,kind,"))
            say_rows(to, kind->name, kind->rows);
        if (!own)
            copy_line(to, line);
    }
    for (i = 0; i < kind->soils; i++)
        lines_say(to, "%s,on parts,%.17g,mg\n", kind->soil[i], kind->mass[i]);
    for (i = 0; i < kind->films; i++)
        lines_say(to, "%s,film,%.17g,um\n", kind->stage[i], kind->film[i]);
}

static void write_all(struct mix *mix, const char *base, const struct kind *kind)
{
    struct lines_text *to = &mix->text;
    unsigned i, k;

    to->used = 0;
    lines_say(to, "%s", base);
    for (k = 1; k < mix->kinds; k++) {
        say_rows(to, kind[k].name, kind[k].rows);
        for (i = 0; i < kind[k].soils; i++)
            lines_say(to, "%s,on parts %s,%.17g,mg\n", kind[k].name, kind[k].soil[i],
                      kind[k].mass[i]);
        for (i = 0; i < kind[k].films; i++)
            lines_say(to, "%s,drag-out %s,%.17g,um\n", kind[k].stage[i], kind[k].name,
                      kind[k].film[i]);
    }
    lines_say(to, "day,kind,schedule,\nday,sequence,");
    for (i = 0; i < mix->cycle; i++)
        lines_say(to, "%s%s", i ? " " : "", mix->order[i] ? kind[mix->order[i]].name : "basket");
    lines_say(to, ",\n");
}

/* Each kind once, at a place of its own, the rest as it comes. */
static void draw_order(struct lines_stream *r, struct mix *mix)
{
    unsigned i, k, swap;

    mix->kinds = 2 + lines_below(r, MIX_KINDS - 1);
    mix->cycle = mix->kinds + lines_below(r, MIX_CYCLE + 1 - mix->kinds);
    for (i = 0; i < mix->cycle; i++)
        mix->order[i] = i < mix->kinds ? i : lines_below(r, mix->kinds);
    for (i = mix->cycle; i > 1; i--) {
        k = lines_below(r, i);
        swap = mix->order[i - 1];
        mix->order[i - 1] = mix->order[k];
        mix->order[k] = swap;
    }
}

static int try_mix(uint64_t number, struct mix *mix)
{
    static struct lines_text base, alone;
    static dregs_faults faults;
    struct lines_stream r = {number, 1u << 20};
    struct kind kind[MIX_KINDS];
    unsigned k;

    memset(mix, 0, sizeof *mix);
    mix->alone[0] = lines_random(number, &base, NULL);
    draw_order(&r, mix);
    for (k = 1; k < mix->kinds; k++) {
        draw(&r, base.bytes, k, &kind[k]);
        write_alone(base.bytes, &kind[k], &alone);
        mix->alone[k] = lines_try(alone.bytes, NULL, &faults);
    }
    write_all(mix, base.bytes, kind);
    for (k = 0; k < mix->kinds; k++)
        if (!mix->alone[k])
            break;
    if (k < mix->kinds) { /* then the line of all kinds is no line either */
        ck_assert_msg(!lines_try(mix->text.bytes, NULL, &faults), "%s", mix->text.bytes);
        mix_free(mix);
        return 0;
    }
    mix->line = lines_read(mix->text.bytes);
    mix->map = lines_map(mix->line);
    for (k = 0; k < mix->kinds; k++)
        mix->of[k] = lines_map(mix->alone[k]);
    return 1;
}

void mix_make(uint64_t number, struct mix *mix)
{
    uint64_t attempt;

    for (attempt = 0; attempt < 50; attempt++)
        if (try_mix(number * 64 + attempt, mix))
            return;
    ck_abort_msg("random mix %u is refused 50 times", (unsigned)number);
}

void mix_free(struct mix *mix)
{
    unsigned k;

    for (k = 0; k < MIX_KINDS; k++) {
        dregs_map_free(mix->of[k]);
        lines_free(mix->alone[k]);
    }
    dregs_map_free(mix->map);
    lines_free(mix->line);
    memset(mix, 0, sizeof *mix);
}

unsigned mix_kind(const struct mix *mix, uint64_t load)
{
    return mix->order[(load - 1) % mix->cycle];
}

dregs_state *mix_pass(const struct mix *mix, dregs_state *before, uint64_t load)
{
    dregs_state *state = dregs_state_under(mix->of[mix_kind(mix, load)], before);

    ck_assert_ptr_nonnull(state);
    dregs_state_free(before);
    return state;
}
