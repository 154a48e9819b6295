/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* proof.c: how much less any other values could take than the best that were found.
 *
 * Branch and bound over the unit cube. Where residue and expense each go one way in every value, be
 * it which way, a box has its least at a corner: a box of which no corner meets the target is out,
 * and so is one of which no corner takes less than the best. The box that could give most is halved
 * next, across the value whose ends differ most. A corner that meets the target and takes less is
 * the new best. What is left in the end is proven: nothing takes less than the least that a box
 * could give. Where the residue turns within a range (tap water that both rinses and leaves its
 * salts) the boxes in which it does become small, and with them what could be missed.
 */
#include "size/heap.h"
#include "size/several.h"

#include <math.h>
#include <string.h>

/* Trials that a proof may take, and one of a search that was ended before; as near as it is led. */
enum { PROOF_MOST = 4000, ENDED_MOST = 200, CORNERS = 1 << DREGS_VARIED_MOST };
#define NEAR_ENOUGH 1e-3

struct cell {
    double low[DREGS_VARIED_MOST], high[DREGS_VARIED_MOST]; /* 0..1 */
    double f[CORNERS], h[CORNERS]; /* ln of expense and excess; bit i: value i at its high end */
};

struct proof {
    struct several *s;
    struct heap heap;
    unsigned corners;
    unsigned end; /* trials at which it is given up */
    double left;  /* the least bound of boxes that were near enough */
};

static void look_at_corner(struct proof *proof, struct cell *cell, unsigned corner)
{
    double x[DREGS_VARIED_MOST];
    unsigned i;

    for (i = 0; i < proof->s->rests; i++)
        x[i] = corner >> i & 1 ? cell->high[i] : cell->low[i];
    dregs_size_point(proof->s, x, &cell->f[corner], &cell->h[corner]);
}

/* What a box could give at best: infinite where none of it meets the target. */
static double bound_of(const struct proof *proof, const struct cell *cell)
{
    double least_f = HUGE_VAL, least_h = HUGE_VAL;
    unsigned k;

    for (k = 0; k < proof->corners; k++) {
        least_f = fmin(least_f, cell->f[k]);
        least_h = fmin(least_h, cell->h[k]);
    }
    return least_h <= 0 ? exp(least_f) : HUGE_VAL;
}

static void enter(struct proof *proof, const struct cell *cell)
{
    double bound = bound_of(proof, cell), best = proof->s->p->best_expense;

    if (bound < best * (1 - NEAR_ENOUGH)) {
        if (!dregs_size_push(&proof->heap, bound, cell, sizeof *cell))
            proof->s->p->status = DREGS_NO_MEMORY;
    } else if (bound < proof->left) {
        proof->left = bound;
    }
}

/* The value whose ends differ most in what is taken and left. */
static unsigned widest(const struct proof *proof, const struct cell *cell)
{
    double most = -1, differ;
    unsigned i, k, found = 0;

    for (i = 0; i < proof->s->rests; i++) {
        for (differ = 0, k = 0; k < proof->corners; k++)
            if (!(k >> i & 1))
                differ += fabs(cell->f[k | 1u << i] - cell->f[k]) +
                          fabs(cell->h[k | 1u << i] - cell->h[k]);
        if (differ > most) {
            most = differ;
            found = i;
        }
    }
    return found;
}

/* Both halves share the corners of the plane between them. */
static void halve(struct proof *proof, const struct cell *cell)
{
    struct cell lower = *cell, upper = *cell;
    unsigned across = widest(proof, cell), k;

    lower.high[across] = upper.low[across] = (cell->low[across] + cell->high[across]) / 2;
    for (k = 0; k < proof->corners; k++)
        if (k >> across & 1) {
            look_at_corner(proof, &lower, k);
            upper.f[k ^ 1u << across] = lower.f[k];
            upper.h[k ^ 1u << across] = lower.h[k];
        }
    enter(proof, &lower);
    enter(proof, &upper);
}

static int goes_on(const struct proof *proof)
{
    const struct problem *p = proof->s->p;

    return !p->status && p->sized->trials < proof->end &&
           dregs_size_least(&proof->heap) < p->best_expense * (1 - NEAR_ENOUGH);
}

double dregs_size_prove(struct several *s, int *proven)
{
    struct proof proof = {.s = s, .corners = 1u << s->rests, .left = HUGE_VAL};
    struct cell cell = {{0}, {0}, {0}, {0}};
    unsigned i, k;

    proof.end = s->p->sized->trials + (dregs_size_goes_on(s->p) ? PROOF_MOST : ENDED_MOST);
    for (i = 0; i < s->rests; i++)
        cell.high[i] = 1;
    for (k = 0; k < proof.corners; k++)
        look_at_corner(&proof, &cell, k);
    enter(&proof, &cell);
    while (goes_on(&proof)) {
        dregs_size_pop(&proof.heap, &cell, sizeof cell);
        halve(&proof, &cell);
    }
    proof.left = fmin(proof.left, dregs_size_least(&proof.heap));
    *proven = !(dregs_size_least(&proof.heap) < s->p->best_expense * (1 - NEAR_ENOUGH));
    dregs_size_heap_clear(&proof.heap);
    return fmin(proof.left, s->p->best_expense);
}
