/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* several.h: what a search over several properties holds; whole.c goes through whole numbers with
 * it, several.c through the rest.
 */
#ifndef DREGS_SIZE_SEVERAL_H
#define DREGS_SIZE_SEVERAL_H

#include "size/inside.h"

struct several {
    struct problem *p;
    unsigned whole[DREGS_VARIED_MOST], wholes; /* which of the values are whole numbers */
    unsigned rest[DREGS_VARIED_MOST], rests;   /* and which are not */
    /* The values that are judged and those that are paid for. They differ in the whole numbers
     * alone, where it is asked what a range of these could give at best. */
    double clean[DREGS_VARIED_MOST], cheap[DREGS_VARIED_MOST];
    int quick; /* by the quick judgement */
    /* the last point that was evaluated */
    int known;
    double x[DREGS_VARIED_MOST];
    double f, h; /* ln(expense), ln(residue / limit) */
    double df[DREGS_VARIED_MOST], dh[DREGS_VARIED_MOST];
    /* the best that meets the target with these whole numbers */
    double found[DREGS_VARIED_MOST], expense;
    int allowed; /* a file may state it */
    double least_excess;
};

/* The least expense over the values that are no whole numbers: into s->found, s->expense, which is
 * infinite where none meets the target. `starts`: of the local search, where it takes one. */
void dregs_size_rest(struct several *s, unsigned starts);

/* ln of expense and excess at a point of the unit cube, of the values that are no whole numbers. */
void dregs_size_point(struct several *s, const double *x, double *f, double *h);

/* What none of these values takes less than, to 0.1 % of the best so far where `proven`. */
double dregs_size_prove(struct several *s, int *proven);

/* Whole numbers and the rest: into the best trial of the problem. */
void dregs_size_whole(struct several *s);

/* Is one of them a tank that is refilled from, or refills, another one that is dumped too? */
int dregs_size_is_linked(const struct several *s);

#endif
