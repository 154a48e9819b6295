/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* peak.c: the load that leaves most of so many, without looking at every load.
 *
 * Between two dumps the contents go z' = M z + b, and no entry of M is below 0. What they change by
 * from one load to the next goes d' = M d; split into what rises and what falls, d = r - f, both
 * parts stay above 0 for ever. With G(n) = 1 + M + ... + M^(n-1), which grows with n, the loads
 * from the m-th to the n-th after z hold no more than z + G(n) r - G(m) f, and where not even that
 * leaves as much as a load that is known already, none of them need be looked at. Lengths are
 * powers of two: what is left is linear in r and f, and its rows for them are worked out once.
 *
 * Solutes that go alike are one here, their contents added up: the rows of the residue are then
 * alike too, and what one of them falls by takes from what another rises by.
 */
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of loads that leave the same but for rounding the first one counts. */
#define ALIKE 1e-14
/* Contents that are the same but for rounding. */
#define ROUNDING 1e-11

/* Solutes that go alike. */
struct group {
    unsigned leader;    /* one of them */
    const double *rows; /* n: the residue as a function of their contents */
    double *brought;    /* powers x n: what comes in, see dregs_balance_map_brings */
    double *gathered;   /* powers x n: of a change, see dregs_balance_map_gather */
    double *fresh;      /* n: what dumped tanks are filled with, see dregs_balance_map_fills */
};

struct search {
    const dregs_map *map;
    struct group *group;
    unsigned groups, powers;
    size_t tanks, width;            /* of one state: groups x n */
    double *dumped;                 /* n + 1: a state while it is dumped */
    double *begin;                  /* powers x width: where each part of a stretch begins */
    double *other, *change, *again; /* powers x width: a place for each length */
    double always;                  /* kg/m2, whatever is in the tanks */
    uint64_t done;                  /* loads before those that are looked at */
    struct residue_peak *peak;
};

static double value(const struct search *s, const double *z)
{
    double sum = s->always;
    unsigned i;
    size_t t;

    for (i = 0; i < s->groups; i++, z += s->tanks)
        for (t = 0; t < s->tanks; t++)
            sum += s->group[i].rows[t] * z[t];
    return sum;
}

static int is_more(const struct search *s, double v)
{
    return v > s->peak->value * (1 + ALIKE);
}

static void note(struct search *s, const double *z, uint64_t after)
{
    double v = value(s, z);

    if (is_more(s, v)) {
        s->peak->value = v;
        s->peak->phase = s->done + after;
    }
}

/* z 2^power loads later. */
static void leap(const struct search *s, unsigned power, const double *z, double *into)
{
    unsigned i;

    for (i = 0; i < s->groups; i++, z += s->tanks, into += s->tanks)
        dregs_balance_map_leap(s->map, s->group[i].leader, s->group[i].brought, power, z, into);
}

/* What a change becomes over one load, less itself. */
static void change_again(const struct search *s, const double *change, double *into)
{
    unsigned i;
    size_t t;

    for (i = 0; i < s->groups; i++)
        dregs_balance_map_leap(s->map, s->group[i].leader, NULL, 0, change + i * s->tanks,
                               into + i * s->tanks);
    for (t = 0; t < s->width; t++)
        into[t] -= change[t];
}

/* How much more a linear function, with its changes from load to load, can be than now, any of the
 * loads from 2^from to 2^to later; with the two exchanged the least that it is more. */
static double ceiling(const struct search *s, const double *change, unsigned from, unsigned to)
{
    double most = 0.0;
    unsigned i;
    size_t t;

    for (i = 0; i < s->groups; i++, change += s->tanks) {
        const double *rises = s->group[i].gathered + to * s->tanks;
        const double *falls = s->group[i].gathered + from * s->tanks;
        for (t = 0; t < s->tanks; t++) {
            double rise = change[t] > 0 ? change[t] : 0.0, fall = change[t] < 0 ? change[t] : 0.0;
            most += rises[t] * rise + falls[t] * fall;
        }
    }
    return most;
}

/* The loads between z, `after` loads into the stretch, and 2^length loads later; these two are
 * noted already. They are taken as the next one, the next two, the next four and so on. The
 * residue's own step from load to load is bounded like the residue: where it cannot change its
 * sign, only the ends count. */
static void look(struct search *s, const double *z, uint64_t after, unsigned length)
{
    double *other = s->other + length * s->width, *change = s->change + length * s->width;
    double *again = s->again + length * s->width, v = value(s, z), step;
    int falls;
    unsigned j;
    size_t i;

    if (length == 0)
        return;
    leap(s, 0, z, other);
    note(s, other, after + 1);
    for (i = 0; i < s->width; i++)
        change[i] = other[i] - z[i];
    change_again(s, change, again);
    step = ceiling(s, change, 0, 0);
    falls = step <= 0 && step + ceiling(s, again, 0, 0) <= 0;
    for (j = 1; j < length; j++) {
        falls = falls && step + ceiling(s, again, j, j + 1) <= 0;
        if (falls || !is_more(s, v + ceiling(s, change, j, j + 1)) ||
            step + ceiling(s, again, j + 1, j) >= 0)
            continue;
        leap(s, j, z, other);
        note(s, other, after + ((uint64_t)1 << j));
        if (step + ceiling(s, again, j, j + 1) > 0)
            look(s, other, after + ((uint64_t)1 << j), j);
    }
}

/* A stretch of `loads` loads without a dump, from z on, which is at its end afterwards. */
static void look_at_stretch(struct search *s, double *z, uint64_t loads)
{
    uint64_t between = loads - 1, after;
    unsigned j;

    note(s, z, 0);
    for (j = s->powers; j-- > 0;)
        if (between >> j & 1) {
            memcpy(s->begin + j * s->width, z, s->width * sizeof *z);
            leap(s, j, s->begin + j * s->width, z);
        }
    note(s, z, between); /* the last one is often the worst: then less is left to look at */
    for (after = 0, j = s->powers; j-- > 0;)
        if (between >> j & 1) {
            note(s, s->begin + j * s->width, after);
            look(s, s->begin + j * s->width, after, j);
            after += (uint64_t)1 << j;
        }
}

/* The solutes that count, in their groups. \param of  the group of each. */
static void make_groups(struct search *s, const double *rows, int solute, unsigned *of)
{
    size_t n = s->tanks, powers = s->powers * n;
    unsigned solutes = dregs_line_solutes(dregs_map_line(s->map)), i, k;

    for (i = 0; i < solutes; i++) {
        const double *own = rows + i * (n + 1);
        of[i] = solutes; /* does not count */
        if (solute >= 0 && (unsigned)solute != i)
            continue;
        for (k = 0; k < s->groups; k++)
            if (memcmp(s->group[k].rows, own, n * sizeof *own) == 0 &&
                dregs_balance_map_alike(s->map, s->group[k].leader, i))
                break;
        if (k == s->groups) {
            s->group[s->groups++] =
                (struct group){i, own, s->group[0].brought + k * powers,
                               s->group[0].gathered + k * powers, s->group[0].fresh + k * n};
            dregs_balance_map_gather(s->map, i, own, s->group[k].gathered);
        }
        dregs_balance_map_brings(s->map, i, s->group[k].brought);
        dregs_balance_map_fills(s->map, i, s->group[k].fresh);
        s->always += own[n];
        of[i] = k;
    }
    s->width = s->groups * n;
}

/* The contents of all solutes, added up by groups. */
static void add_up(const struct search *s, unsigned solutes, const unsigned *of, const double *all,
                   double *z)
{
    unsigned i;
    size_t t;

    memset(z, 0, s->width * sizeof *z);
    for (i = 0; i < solutes; i++)
        for (t = 0; of[i] < s->groups && t < s->tanks; t++)
            z[of[i] * s->tanks + t] += all[i * (s->tanks + 1) + t];
}

/* The load that ends a stretch, and what is dumped after it. */
static void pass_dump(struct search *s, uint64_t due, double *z)
{
    size_t n = s->tanks;
    unsigned i;

    leap(s, 0, z, s->other);
    memcpy(z, s->other, s->width * sizeof *z);
    for (i = 0; i < s->groups; i++, z += n) {
        memcpy(s->dumped, z, n * sizeof *z);
        s->dumped[n] = 1.0;
        dregs_balance_map_dump(s->map, due, s->group[i].fresh, s->dumped);
        memcpy(z, s->dumped, n * sizeof *z);
    }
}

/* From dump to dump, or as far as the powers reach; z is that of the begin. */
static void look_at_all(struct search *s, uint64_t loads, double *z)
{
    const dregs_line *line = dregs_map_line(s->map);
    uint64_t most = (uint64_t)1 << s->powers, due;

    for (s->done = 0; s->done < loads; s->done = due) {
        due = dregs_balance_dump_next(line, s->done);
        if (due - s->done > most)
            due = s->done + most;
        if (due > loads)
            due = loads;
        look_at_stretch(s, z, due - s->done);
        if (due < loads)
            pass_dump(s, due, z);
    }
}

dregs_status dregs_residue_peak(const dregs_map *map, const double *begin, const double *rows,
                                int solute, uint64_t loads, struct residue_peak *peak)
{
    unsigned solutes = dregs_line_solutes(dregs_map_line(map));
    unsigned powers = dregs_balance_map_powers(map);
    size_t n = dregs_line_tanks(dregs_map_line(map)), most = solutes * n;
    struct group group[DREGS_LINE_SOLUTES];
    unsigned of[DREGS_LINE_SOLUTES];
    struct search s = {.map = map, .group = group, .powers = powers, .tanks = n, .peak = peak};
    double *z = malloc((n + 1 + (2 + 6 * powers) * most + 1) * sizeof *z);

    if (!z)
        return DREGS_NO_MEMORY;
    s.dumped = z + most;
    s.begin = s.dumped + n + 1;
    s.other = s.begin + powers * most;
    s.change = s.other + powers * most;
    s.again = s.change + powers * most;
    group[0].brought = s.again + powers * most;
    group[0].gathered = group[0].brought + powers * most;
    group[0].fresh = group[0].gathered + powers * most;
    memset(group[0].brought, 0, powers * most * sizeof *z); /* the rest is written first */
    memset(group[0].fresh, 0, most * sizeof *z);
    make_groups(&s, rows, solute, of);
    add_up(&s, solutes, of, begin, z);
    look_at_all(&s, loads, z);
    free(z);
    return DREGS_OK;
}

/* ---- two begins ---- */

/* The first group of solutes from `from` on that go alike: what `steady` holds of them more than
 * `fresh`, n. \param seen  solutes of the groups before, and then of this one. \return one of them;
 * as many as there are solutes: none is left. */
static unsigned next_group(const dregs_map *map, const double *fresh, const double *steady,
                           const double *rows, int solute, unsigned char *seen, double *more)
{
    unsigned solutes = dregs_line_solutes(dregs_map_line(map)), leader = solutes, i;
    size_t n = dregs_line_tanks(dregs_map_line(map)), t;

    for (i = 0; i < solutes; i++) {
        if (seen[i] || (solute >= 0 && (unsigned)solute != i))
            continue;
        if (leader == solutes)
            leader = i;
        else if (memcmp(rows + leader * (n + 1), rows + i * (n + 1), n * sizeof *rows) != 0 ||
                 !dregs_balance_map_alike(map, leader, i))
            continue;
        seen[i] = 1;
        for (t = 0; t < n; t++)
            more[t] += steady[i * (n + 1) + t] - fresh[i * (n + 1) + t];
    }
    return leader;
}

/* Takes what is more to the last load of the period. \return 0: it does not fall from the first
 * load on. */
static int falls_to_end(const dregs_map *map, unsigned leader, uint64_t loads, double *more)
{
    size_t n = dregs_line_tanks(dregs_map_line(map)), t;
    double next[DREGS_LINE_STAGES];
    unsigned j;

    dregs_balance_map_leap(map, leader, NULL, 0, more, next);
    for (t = 0; t < n; t++)
        if (!(next[t] <= more[t]))
            return 0;
    for (j = 0; loads >> j; j++)
        if (loads >> j & 1) {
            dregs_balance_map_leap(map, leader, NULL, j, more, next);
            memcpy(more, next, n * sizeof *more);
        }
    return 1;
}

/* What is more goes M^n d. Where d >= 0 and M d <= d it falls all the time, and so does what a load
 * leaves more: the last one tells the least of it. */
double dregs_residue_apart(const dregs_map *map, const double *fresh, const double *steady,
                           const double *rows, int solute)
{
    const dregs_line *line = dregs_map_line(map);
    size_t n = dregs_line_tanks(line), t;
    unsigned char seen[DREGS_LINE_SOLUTES] = {0};
    double more[DREGS_LINE_STAGES], apart = 0.0;
    unsigned leader, i;

    if (dregs_balance_dump_next(line, 0) < dregs_line_period(line))
        return 0.0;
    for (;;) {
        memset(more, 0, n * sizeof *more);
        leader = next_group(map, fresh, steady, rows, solute, seen, more);
        if (leader == dregs_line_solutes(line))
            return apart;
        for (t = 0; t < n; t++) {
            double held = 0.0;
            for (i = 0; i < dregs_line_solutes(line); i++)
                held += steady[i * (n + 1) + t];
            if (!(more[t] > ROUNDING * held))
                more[t] = 0.0;
        }
        if (!falls_to_end(map, leader, dregs_line_period(line) - 1, more))
            return 0.0;
        for (t = 0; t < n; t++)
            apart += rows[leader * (n + 1) + t] * more[t];
    }
}
