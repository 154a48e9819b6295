/* SPDX-License-Identifier: GPL-3.0-or-later */
/* peak.c: the load that leaves most in a dump period, without looking at every load.
 *
 * Between two dumps the contents go z' = M z + b, and no entry of M is below 0. What they change by
 * from one load to the next goes d' = M d; split into what rises and what falls, d = r - f, both
 * parts stay above 0 for ever. So no load of the next n holds more than z + (1 + M + ... + M^(n-1))
 * r, and where not even that leaves as much as a load that is known already, none of them need be
 * looked at. Else the loads are halved.
 */
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of loads that leave the same but for rounding the first one counts. */
#define ALIKE 1e-14

enum { ONE_BY_ONE = 12, DEEPEST = 64 };

struct search {
    const dregs_map *map;
    const double *rows;
    unsigned first, end; /* the solutes that count */
    size_t tanks, dim, width;
    double *room; /* DEEPEST x width: z at each depth */
    double *change, *sum, *spare;
    uint64_t done; /* loads of the period before those that are looked at */
    struct residue_peak *peak;
};

static double value(const struct search *s, const double *z)
{
    double sum = 0.0;
    size_t i;

    for (i = s->first * s->dim; i < s->end * s->dim; i++)
        sum += s->rows[i] * z[i];
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

    for (i = s->first; i < s->end; i++)
        dregs_balance_map_leap(s->map, i, z + i * s->dim, s->spare, loads);
}

/* More than any of the next `loads` loads leaves, from z; `next` is z one load on. */
static double ceiling(const struct search *s, const double *z, const double *next, uint64_t loads)
{
    double most = value(s, z);
    unsigned i;
    size_t t;

    for (i = s->first; i < s->end; i++) {
        const double *rows = s->rows + i * s->dim;
        for (t = 0; t < s->tanks; t++)
            s->change[t] = fmax(0, next[i * s->dim + t] - z[i * s->dim + t]);
        dregs_balance_map_gather(s->map, i, s->change, s->sum, s->spare, loads);
        for (t = 0; t < s->tanks; t++)
            most += rows[t] * s->sum[t];
    }
    return most;
}

/* `loads` loads from z on, the first of them `after` loads into the stretch; z stays as it is. */
static void look(struct search *s, const double *z, uint64_t after, uint64_t loads, unsigned depth)
{
    double *other = s->room + depth * s->width;
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
    if (!(ceiling(s, z, other, loads - 1) > s->peak->value * (1 + ALIKE)))
        return;
    leap(s, other, loads - 2); /* the last one is often the worst: then less is left to look at */
    note(s, other, after + loads - 1);
    look(s, z, after, half, depth + 1);
    memcpy(other, z, s->width * sizeof *z);
    leap(s, other, half);
    look(s, other, after + half, loads - half, depth + 1);
}

dregs_status dregs_residue_peak(const dregs_map *map, const double *begin, const double *rows,
                                int solute, struct residue_peak *peak)
{
    const dregs_line *line = dregs_map_line(map);
    size_t n = dregs_line_tanks(line), width = dregs_line_solutes(line) * (n + 1);
    struct search s = {.map = map, .rows = rows, .tanks = n, .dim = n + 1, .width = width};
    double *z = malloc(((DEEPEST + 1) * width + 4 * n + 1) * sizeof *z);
    uint64_t period = dregs_line_period(line), due;
    unsigned i;

    if (!z)
        return DREGS_NO_MEMORY;
    s.first = solute < 0 ? 0 : (unsigned)solute;
    s.end = solute < 0 ? dregs_line_solutes(line) : s.first + 1;
    s.room = z + width;
    s.change = s.room + DEEPEST * width;
    s.sum = s.change + n;
    s.spare = s.sum + n;
    s.peak = peak;
    memcpy(z, begin, width * sizeof *z);
    for (s.done = 0; s.done < period; s.done = due) {
        due = dregs_balance_dump_next(line, s.done);
        due = due < period ? due : period;
        look(&s, z, 0, due - s.done, 0);
        leap(&s, z, due - s.done - 1);
        for (i = s.first; i < s.end; i++)
            dregs_balance_map_one_load(map, i, z + i * s.dim, s.spare, 1, due - 1);
    }
    free(z);
    return DREGS_OK;
}
