/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* whole.c: whole numbers of loads between dumps, by branch and bound.
 *
 * A tank that is dumped more seldom takes less liquid, and leaves more. So of a box of numbers, low
 * to high, no line leaves less than the one with all the low ones, and none takes less than the one
 * with all the high ones: where the first misses the target the box is out, and the second, with
 * the rest of the values as small as the first allows, is what the box could give at best. The box
 * that could give most is halved next, until one is a single set of numbers; that is the best of
 * all. Where the residue falls with a number as well (a wash that is filled with what must be
 * rinsed off) a box is kept as long as one of its two corners meets the target.
 *
 * Tanks that are refilled from one another are linked: dumped at the same load they take less
 * liquid, and leave more, than one after the other. What a box of these could give is asked of
 * tanks that are dumped as often as all of them together, for the residue, and always at once, for
 * the expense. That tells little of wide boxes: where there are many sets of numbers they are
 * sought as if they were not linked, and then around the best.
 *
 * Boxes are judged quickly; a single set, when its turn comes, in full.
 */
#include "base/multiple.h"
#include "line/line.h"
#include "size/heap.h"
#include "size/several.h"

#include <math.h>
#include <string.h>

#define GIVEN_AWAY 0.01 /* for numbers of few digits */

enum { DIGITS_MOST = 3 };

enum { FULL_MOST = 200, STEPS_BACK = 3, TRIED_DOWN = 24, SETS_MOST = 5000, AROUND = 2 };

struct box {
    double low[DREGS_VARIED_MOST], high[DREGS_VARIED_MOST]; /* of the whole numbers */
    double bound;                                           /* nothing in it takes less */
    int allowed; /* of a single set: a file may state it */
};

struct boxes {
    struct several *s;
    struct heap heap;
    unsigned full; /* how many sets were judged in full */
    unsigned down; /* how often a set that no file may state was rounded down */
    unsigned group[DREGS_VARIED_MOST], linked[DREGS_VARIED_MOST]; /* with how many dumps, 1: none */
    int heed_links;
    double refused[DREGS_VARIED_MOST]; /* the first set that no file may state */
    double fixed[DREGS_VARIED_MOST];   /* the fewest loads between dumps of the group that are not
                                          varied, infinite for none */
};

static int single(const struct several *s, const struct box *box)
{
    return memcmp(box->low, box->high, s->wholes * sizeof *box->low) == 0;
}

/* What can be had with the numbers `clean` for the residue and `cheap` for the expense. */
static double ask(struct several *s, const double *clean, const double *cheap, int quick)
{
    unsigned i;

    for (i = 0; i < s->wholes; i++) {
        s->clean[s->whole[i]] = clean[i];
        s->cheap[s->whole[i]] = cheap[i];
    }
    s->quick = quick;
    dregs_size_rest(s, quick ? 1 : 3);
    return s->expense;
}

/* The least that is known to meet the target; a little less is no better. */
static double to_beat(const struct boxes *boxes)
{
    return boxes->s->p->best_expense * (1 - 1e-9);
}

/* Which of the whole numbers is the dumps of a stage; -1 for none. */
static int whole_of(const struct several *s, const char *stage)
{
    unsigned k, m;

    for (k = 0; k < s->wholes; k++)
        for (m = 0; m < s->p->varied[s->whole[k]].stages; m++)
            if (strcmp(s->p->varied[s->whole[k]].stage[m], stage) == 0)
                return (int)k;
    return -1;
}

/* The tanks that are refilled from one another, as groups of stages. */
static void group_stages(const dregs_line *line, unsigned *group)
{
    unsigned i, k, stages = dregs_line_stages(line);

    for (i = 0; i < stages; i++)
        group[i] = i;
    for (i = 0; i < stages; i++) {
        const dregs_link *from = &dregs_line_stage(line, i)->refill_from;
        unsigned old = group[i];
        for (k = 0; from->kind == DREGS_LINK_STAGE && k < stages; k++)
            if (group[k] == old)
                group[k] = group[from->index];
    }
}

static void find_links(struct boxes *boxes)
{
    const struct several *s = boxes->s;
    const dregs_line *line = s->p->line;
    unsigned group[DREGS_LINE_STAGES], i, k;
    int whole, seen[DREGS_VARIED_MOST];

    group_stages(line, group);
    for (i = 0; i < dregs_line_stages(line); i++) {
        whole = whole_of(s, dregs_line_stage(line, i)->name);
        if (whole >= 0)
            boxes->group[whole] = group[i];
    }
    for (k = 0; k < s->wholes; k++) {
        boxes->fixed[k] = HUGE_VAL;
        memset(seen, 0, sizeof seen);
        for (i = 0; i < dregs_line_stages(line); i++) {
            const dregs_stage *stage = dregs_line_stage(line, i);
            if (group[i] != boxes->group[k])
                continue;
            whole = whole_of(s, stage->name);
            if (whole < 0 && stage->dump_every.row)
                boxes->fixed[k] = fmin(boxes->fixed[k], stage->dump_every.si);
            boxes->linked[k] += whole < 0 ? stage->dump_every.row != 0 : !seen[whole]++;
        }
    }
}

/* Numbers with which no line of a box leaves less, and others with which none takes less. */
static void find_ends(const struct boxes *boxes, const struct box *box, double *clean,
                      double *cheap)
{
    unsigned i, k;

    for (i = 0; i < boxes->s->wholes; i++) {
        double together = box->high[i];
        clean[i] = box->low[i];
        cheap[i] = box->high[i];
        if (boxes->linked[i] < 2 || !boxes->heed_links)
            continue;
        for (k = 0; k < boxes->s->wholes; k++)
            if (boxes->group[k] == boxes->group[i])
                together = fmin(together, box->high[k]);
        if (isfinite(boxes->fixed[i]))
            together = boxes->fixed[i];
        clean[i] = fmax(1, floor(box->low[i] / boxes->linked[i]));
        cheap[i] = together * ceil(box->high[i] / together);
    }
}

static int any_linked(const struct boxes *boxes)
{
    unsigned i;

    for (i = 0; i < boxes->s->wholes; i++)
        if (boxes->linked[i] > 1)
            return 1;
    return 0;
}

static void put(struct boxes *boxes, const struct box *box)
{
    if (!dregs_size_push(&boxes->heap, box->bound, box, sizeof *box))
        boxes->s->p->status = DREGS_NO_MEMORY;
}

/* Puts a box in its place, with what it could give, unless that is nothing. */
static void enter(struct boxes *boxes, struct box *box)
{
    struct several *s = boxes->s;
    double clean[DREGS_VARIED_MOST], cheap[DREGS_VARIED_MOST], at_low;
    double at_high = ask(s, box->high, box->high, 1);

    if (isfinite(at_high) && s->allowed && s->rests == 0 && !boxes->heed_links)
        memcpy(box->low, box->high, sizeof box->low); /* nothing else in it takes as little */
    box->allowed = s->allowed;
    box->bound = at_high;
    if (!single(s, box)) {
        find_ends(boxes, box, clean, cheap);
        at_low = ask(s, clean, cheap, 1);
        if (isfinite(at_high) && (!isfinite(at_low) || boxes->heed_links))
            at_high = ask(s, box->high, cheap, 1);
        box->bound = fmin(at_low, at_high);
    }
    if (box->bound < to_beat(boxes))
        put(boxes, box);
}

static void halve(struct boxes *boxes, const struct box *box)
{
    struct box lower = *box, upper = *box;
    unsigned i, widest = 0;
    double middle;

    for (i = 1; i < boxes->s->wholes; i++)
        if (box->high[i] / box->low[i] > box->high[widest] / box->low[widest])
            widest = i;
    middle = floor(box->high[widest] > 8 * box->low[widest]
                       ? sqrt(box->low[widest] * box->high[widest])
                       : (box->low[widest] + box->high[widest]) / 2);
    lower.high[widest] = middle;
    upper.low[widest] = middle + 1;
    enter(boxes, &upper);
    enter(boxes, &lower);
}

/* The period of the dumps that are not varied. */
static double other_period(const struct several *s)
{
    const dregs_line *line = s->p->line;
    double period = 1;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->dump_every.row && whole_of(s, stage->name) < 0)
            period = dregs_common_multiple(period, stage->dump_every.si);
    }
    return period;
}

/* Numbers a little below those of a set that no file may state, multiples of `step` all: into
 * `down`. How much they give away, as a sum of logarithms; infinite where no file may state them
 * either. */
static double round_down(const struct several *s, const double *set, double step, double period,
                         double *down)
{
    double away = 0;
    unsigned i;

    for (i = 0; i < s->wholes; i++) {
        down[i] = step * floor(set[i] / step);
        if (!(down[i] >= s->p->varied[s->whole[i]].low) || down[i] < 1)
            return HUGE_VAL;
        period = dregs_common_multiple(period, down[i]);
        if (period > DREGS_LINE_PERIOD)
            return HUGE_VAL;
        away += log(set[i] / down[i]);
    }
    return away;
}

/* The best neighbours that a file may state, in full. */
static void try_below(struct boxes *boxes, const double *set)
{
    struct several *s = boxes->s;
    double period = other_period(s), away[STEPS_BACK], step, here, down[DREGS_VARIED_MOST];
    double best[STEPS_BACK][DREGS_VARIED_MOST];
    unsigned i, k, kept = 0;

    for (step = 1; step <= set[0]; step++) {
        here = round_down(s, set, step, period, down);
        if (!isfinite(here) || (kept == STEPS_BACK && !(here < away[kept - 1])))
            continue;
        for (i = kept < STEPS_BACK ? kept++ : kept - 1; i > 0 && away[i - 1] > here; i--) {
            away[i] = away[i - 1];
            memcpy(best[i], best[i - 1], sizeof best[i]);
        }
        away[i] = here;
        memcpy(best[i], down, sizeof best[i]);
    }
    for (k = 0; k < kept && dregs_size_goes_on(s->p); k++)
        if (ask(s, best[k], best[k], 1) < to_beat(boxes))
            (void)ask(s, best[k], best[k], 0);
    boxes->down++;
}

/* A single set whose turn has come: the best of all, if it is what it looked like. */
static void settle(struct boxes *boxes, const struct box *box)
{
    struct several *s = boxes->s;

    if (!box->allowed) {
        if (isnan(s->p->sized->beyond)) {
            s->p->sized->beyond = box->bound;
            memcpy(boxes->refused, box->high, sizeof boxes->refused);
        }
        if (boxes->down < TRIED_DOWN)
            try_below(boxes, box->high);
        return;
    }
    boxes->full++;
    (void)ask(s, box->high, box->high, 0);
}

/* All boxes, the most promising first. */
static void go_through(struct boxes *boxes)
{
    struct several *s = boxes->s;
    struct problem *p = s->p;
    struct box box = {{0}, {0}, 0, 0};
    unsigned i;

    for (i = 0; i < s->wholes; i++) {
        box.low[i] = p->varied[s->whole[i]].low;
        box.high[i] = p->varied[s->whole[i]].high;
    }
    dregs_size_heap_clear(&boxes->heap);
    enter(boxes, &box);
    while (dregs_size_least(&boxes->heap) < to_beat(boxes) && dregs_size_goes_on(p) &&
           boxes->full < FULL_MOST) {
        dregs_size_pop(&boxes->heap, &box, sizeof box);
        if (single(s, &box))
            settle(boxes, &box);
        else
            halve(boxes, &box);
    }
    p->sized->ended = dregs_size_least(&boxes->heap) < to_beat(boxes);
    p->sized->possible = p->sized->ended ? dregs_size_least(&boxes->heap) : p->best_expense;
}

/* A set in full, if it looks better than the best; 1 when it is. */
static int try_set(struct boxes *boxes, const double *set)
{
    struct several *s = boxes->s;
    double before = s->p->best_expense;
    unsigned i;

    for (i = 0; i < s->wholes; i++)
        if (set[i] < s->p->varied[s->whole[i]].low || set[i] > s->p->varied[s->whole[i]].high)
            return 0;
    if (ask(s, set, set, 1) < to_beat(boxes) && s->allowed)
        (void)ask(s, set, set, 0);
    return s->p->best_expense < before;
}

/* Around the best: one number a little off, or linked ones made equal, as long as that is better.
 */
static void look_around(struct boxes *boxes)
{
    struct several *s = boxes->s;
    double best[DREGS_VARIED_MOST], set[DREGS_VARIED_MOST], off;
    int better = isfinite(s->p->best_expense);
    unsigned i, k;

    while (better && dregs_size_goes_on(s->p)) {
        better = 0;
        for (i = 0; i < s->wholes; i++)
            best[i] = s->p->best[s->whole[i]];
        for (i = 0; i < s->wholes && !better; i++)
            for (off = -AROUND; off <= AROUND && !better; off++) {
                memcpy(set, best, sizeof set);
                set[i] += off;
                better = try_set(boxes, set);
                for (k = 0; k < s->wholes; k++)
                    if (boxes->group[k] == boxes->group[i])
                        set[k] = set[i];
                better = better || try_set(boxes, set);
            }
    }
}

/* A number with so many digits, the others 0. */
static double cut(double number, unsigned digits)
{
    double unit = 1;

    while (number / unit >= pow(10, digits))
        unit *= 10;
    return floor(number / unit) * unit;
}

/* Digits of all numbers of a set; 0 where a number is out of its range or all dumps fall together
 * too seldom. */
static unsigned cut_set(const struct several *s, const double *set, unsigned which, double *to)
{
    double period = other_period(s);
    unsigned i, digits, sum = 0;

    for (i = 0; i < s->wholes; i++, which /= DIGITS_MOST) {
        digits = which % DIGITS_MOST + 1;
        to[i] = cut(set[i], digits);
        period = dregs_common_multiple(period, to[i]);
        if (!(to[i] >= s->p->varied[s->whole[i]].low) || period > DREGS_LINE_PERIOD)
            return 0;
        sum += digits;
    }
    return sum;
}

/* The set of fewest digits, and of these the one that takes least, that takes no more than `most`:
 * of those with `digits` digits. 1 when it is found and meets the target. */
static int try_digits(struct boxes *boxes, unsigned digits, double most)
{
    struct several *s = boxes->s;
    double to[DREGS_VARIED_MOST], best[DREGS_VARIED_MOST] = {0}, least = most;
    unsigned which, ways = 1, i;
    int found = 0;

    for (i = 0; i < s->wholes; i++)
        ways *= DIGITS_MOST;
    for (which = 0; which < ways && dregs_size_goes_on(s->p); which++)
        if (cut_set(s, boxes->refused, which, to) == digits && ask(s, to, to, 1) <= least &&
            s->allowed) {
            least = s->expense;
            memcpy(best, to, sizeof best);
            found = 1;
        }
    return found && ask(s, best, best, 0) <= most;
}

/* In place of odd numbers that just stay within the most loads of a period: such of few digits,
 * where they take hardly more and no more than the file's own. */
static void round_off(struct boxes *boxes)
{
    struct several *s = boxes->s;
    struct problem *p = s->p;
    double before = p->best_expense, most = fmin(before * (1 + GIVEN_AWAY), p->own_expense);
    unsigned digits;

    for (digits = s->wholes; digits <= DIGITS_MOST * s->wholes; digits++)
        if (try_digits(boxes, digits, most)) {
            p->sized->unrounded = before;
            p->best_expense = s->expense;
            memcpy(p->best, s->found, sizeof p->best);
            return;
        }
}

/* No set met the target: the ends of the ranges tell how far off it is. */
static void find_nearest(struct several *s)
{
    double low[DREGS_VARIED_MOST], high[DREGS_VARIED_MOST];
    unsigned i;

    for (i = 0; i < s->wholes; i++) {
        low[i] = s->p->varied[s->whole[i]].low;
        high[i] = s->p->varied[s->whole[i]].high;
    }
    (void)ask(s, low, low, 0);
    (void)ask(s, high, high, 0);
}

void dregs_size_whole(struct several *s)
{
    struct boxes boxes = {.s = s};
    struct problem *p = s->p;
    double sets = 1;
    unsigned i;

    for (i = 0; i < s->wholes; i++)
        sets *= p->varied[s->whole[i]].high - p->varied[s->whole[i]].low + 1;
    find_links(&boxes);
    go_through(&boxes);
    if (any_linked(&boxes) && dregs_size_goes_on(p)) {
        look_around(&boxes);
        p->sized->possible = NAN;
        if (sets <= SETS_MOST) {
            boxes.heed_links = 1;
            go_through(&boxes);
        }
    }
    if (!(p->sized->beyond < to_beat(&boxes)))
        p->sized->beyond = NAN;
    else if (isfinite(p->best_expense) && dregs_size_goes_on(p))
        round_off(&boxes);
    if (!isfinite(p->best_expense) && !p->status)
        find_nearest(s);
    dregs_size_heap_clear(&boxes.heap);
}

int dregs_size_is_linked(const struct several *s)
{
    struct boxes boxes = {.s = (struct several *)s};

    find_links(&boxes);
    return any_linked(&boxes);
}
