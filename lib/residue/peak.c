/* SPDX-License-Identifier: GPL-3.0-or-later */
/* peak.c: the load that leaves most in a dump period, without looking at every load.
 *
 * Between two dumps the contents go z' = M z + b, and no entry of M is below 0. What they change by
 * from one load to the next goes d' = M d; split into what rises and what falls, d = r - f, both
 * parts stay above 0 for ever. So no load of the next n holds more than z + (1 + M + ... + M^(n-1))
 * r, and where not even that leaves as much as a load that is known already, none of them need be
 * looked at. Else the loads are halved.
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

enum { ONE_BY_ONE = 12, DEEPEST = 64 };

/* Solutes that go alike. */
struct group {
    unsigned leader;    /* one of them */
    const double *rows; /* n: the residue as a function of their contents */
    double *brought;    /* powers x n: what comes in, see dregs_balance_map_brings */
};

struct search {
    const dregs_map *map;
    struct group *group;
    unsigned groups;
    size_t tanks, width; /* of one state: groups x n */
    double *room;        /* DEEPEST x width: z at each depth */
    double *rise, *sum, *spare;
    double always; /* kg/m2, whatever is in the tanks */
    uint64_t done; /* loads of the period before those that are looked at */
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

static void note(struct search *s, const double *z, uint64_t after)
{
    double v = value(s, z);

    if (v > s->peak->value * (1 + ALIKE)) {
        s->peak->value = v;
        s->peak->phase = s->done + after;
    }
}

static void leap(const struct search *s, double *z, uint64_t loads)
{
    unsigned i;

    for (i = 0; i < s->groups; i++, z += s->tanks)
        dregs_balance_map_leap(s->map, s->group[i].leader, s->group[i].brought, z, s->spare, loads);
}

/* More than any of the next `loads` loads leaves, from z; `next` is z one load on. */
static double ceiling(const struct search *s, const double *z, const double *next, uint64_t loads)
{
    double most = value(s, z);
    unsigned i;
    size_t t;

    for (i = 0; i < s->groups; i++) {
        for (t = 0; t < s->tanks; t++)
            s->rise[t] = fmax(0, next[i * s->tanks + t] - z[i * s->tanks + t]);
        dregs_balance_map_gather(s->map, s->group[i].leader, s->rise, s->sum, s->spare, loads);
        for (t = 0; t < s->tanks; t++)
            most += s->group[i].rows[t] * s->sum[t];
    }
    return most;
}

/* `loads` loads from z on, the first of them `after` loads into the stretch; z stays as it is. */
static void look(struct search *s, const double *z, uint64_t after, uint64_t loads, unsigned depth)
{
    double *other = s->room + depth * s->width, most;
    uint64_t half = loads / 2, k;

    memcpy(other, z, s->width * sizeof *z);
    note(s, z, after);
    if (loads <= ONE_BY_ONE || depth + 1 == DEEPEST) {
        for (k = 1; k < loads; k++) {
            leap(s, other, 1);
            note(s, other, after + k);
        }
        return;
    }
    leap(s, other, 1);
    most = ceiling(s, z, other, loads - 1);
    if (!(most > s->peak->value * (1 + ALIKE)))
        return;
    leap(s, other, loads - 2); /* the last one is often the worst: then less is left to look at */
    note(s, other, after + loads - 1);
    if (!(most > s->peak->value * (1 + ALIKE)))
        return;
    look(s, z, after, half, depth + 1);
    memcpy(other, z, s->width * sizeof *z);
    leap(s, other, half);
    look(s, other, after + half, loads - half, depth + 1);
}

/* The solutes that count, in their groups. \param of  the group of each. */
static void make_groups(struct search *s, const double *rows, int solute, unsigned *of)
{
    size_t n = s->tanks, powers = dregs_balance_map_powers(s->map) * n;
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
        if (k == s->groups)
            s->group[s->groups++] = (struct group){i, own, s->group[0].brought + k * powers};
        dregs_balance_map_brings(s->map, i, s->group[k].brought);
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

/* From dump to dump. \param all  z of all solutes, at first that of the begin of the period. */
static dregs_status look_at_period(struct search *s, const unsigned *of, double *all, double *z)
{
    const dregs_line *line = dregs_map_line(s->map);
    unsigned solutes = dregs_line_solutes(line), i;
    uint64_t period = dregs_line_period(line), due;
    dregs_status status = DREGS_OK;
    int last;

    for (s->done = 0; s->done < period && !status; s->done = due) {
        due = dregs_balance_dump_next(line, s->done);
        last = due >= period;
        due = last ? period : due;
        add_up(s, solutes, of, all, z);
        look(s, z, 0, due - s->done, 0);
        for (i = 0; i < solutes && !last && !status; i++)
            if (of[i] < s->groups)
                status =
                    dregs_balance_map_advance(s->map, i, all + i * (s->tanks + 1), s->done, due);
    }
    return status;
}

dregs_status dregs_residue_peak(const dregs_map *map, const double *begin, const double *rows,
                                int solute, struct residue_peak *peak)
{
    unsigned solutes = dregs_line_solutes(dregs_map_line(map));
    size_t n = dregs_line_tanks(dregs_map_line(map)), most = solutes * n, all = solutes * (n + 1);
    size_t powers = dregs_balance_map_powers(map);
    struct group group[DREGS_LINE_SOLUTES];
    unsigned of[DREGS_LINE_SOLUTES];
    struct search s = {.map = map, .group = group, .tanks = n, .peak = peak};
    double *room = malloc((all + (DEEPEST + 1 + powers) * most + 4 * n + 1) * sizeof *room), *z;
    dregs_status status;

    if (!room)
        return DREGS_NO_MEMORY;
    memcpy(room, begin, all * sizeof *room);
    z = room + all;
    s.room = z + most;
    group[0].brought = s.room + DEEPEST * most;
    memset(group[0].brought, 0, powers * most * sizeof *room); /* the rest is written first */
    s.rise = group[0].brought + powers * most;
    s.sum = s.rise + n;
    s.spare = s.sum + n;
    make_groups(&s, rows, solute, of);
    status = look_at_period(&s, of, room, z);
    free(room);
    return status;
}
