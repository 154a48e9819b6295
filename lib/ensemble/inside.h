/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the ensemble share; not for other rooms. */
#ifndef DREGS_ENSEMBLE_INSIDE_H
#define DREGS_ENSEMBLE_INSIDE_H

#include "dregs/ensemble.h"

#include <stddef.h>

/* ---- stream.c ---- */

/* Philox4x32-10 of a counter under a key. */
void dregs_ensemble_words(const uint32_t counter[4], const uint32_t key[2], uint32_t word[4]);
/* A number from the middle of one of 2^52 equal parts of 0..1, never 0 or 1. */
double dregs_ensemble_uniform(uint64_t seed, uint64_t draw, unsigned row);

/* ---- distribution.c ---- */

/* What a row is drawn from; 0 and a reason when there is no such distribution. */
int dregs_ensemble_fit(const dregs_line *line, dregs_drawn *drawn, dregs_faults *faults);
/* The factor of a property that is known to so much: two standard deviations, a share. */
void dregs_ensemble_fit_accuracy(dregs_drawn *drawn, double accuracy);
/* The value at z. */
double dregs_ensemble_value(const dregs_drawn *drawn, double z);

/* ---- ensemble.c ---- */

/* The line of a draw, NULL without one, and the table of liquids it is drawn with. */
struct draw {
    dregs_line *line;
    const dregs_liquids *liquids;
    dregs_liquids *own; /* where no line holds it */
    dregs_line *second; /* of an ensemble of two lines; NULL */
    dregs_line **part;  /* of a joined line, what `line` is joined of; NULL */
    unsigned parts;
};
dregs_status dregs_ensemble_make_draw(const dregs_ensemble *ensemble, uint64_t draw,
                                      struct draw *made, dregs_faults *faults);
void dregs_ensemble_clear_draw(struct draw *made);

/* ---- threads.c ---- */

/* How many threads take so many pieces of work: as asked for, for 0 as many as there are
 * processors, and none that would have nothing to do. */
unsigned dregs_ensemble_threads(unsigned asked, uint64_t pieces);
/* Lets each of `count` workers, of `size` bytes, do its work: the first in the caller's thread, the
 * others each in one of its own, or in the caller's too where none can be started.
 * \param count  1 to DREGS_THREADS_MOST. */
void dregs_ensemble_in_threads(void (*work)(void *worker), void *workers, size_t size,
                               unsigned count);

/* ---- exact.c: a sum of doubles without any rounding ---- */

enum { EXACT_LIMBS = 70 }; /* 32 bits each: from 2^-1074 to beyond 2^1024 times 2^50 */

struct exact {
    int64_t limb[EXACT_LIMBS];
    uint32_t loose; /* additions since the limbs were last carried */
};

void dregs_ensemble_add(struct exact *sum, double value);
/* The square, as exactly. */
void dregs_ensemble_add_square(struct exact *sum, double value);
void dregs_ensemble_add_sum(struct exact *sum, const struct exact *other);
/* The limbs as the one way to write the sum: 0 to 2^32 - 1, the last one with the sign. */
void dregs_ensemble_carry(struct exact *sum);
double dregs_ensemble_rounded(const struct exact *sum);

/* ---- bins.c: values counted in bins that are 0.1 % wide ---- */

enum { CHUNK = 256 };

struct chunk {
    int64_t id; /* its bins are id * CHUNK and on */
    uint64_t count[CHUNK];
};

struct bins {
    struct chunk **chunk; /* in the order of their ids */
    size_t chunks, room;
};

/* The bin of a value: in the order of the values, 0 for 0. */
int64_t dregs_ensemble_bin(double value);
/* Where within its values a bin ends, for a share of it from 0 to 1. */
double dregs_ensemble_within(int64_t bin, double share);
int dregs_ensemble_put(struct bins *bins, int64_t bin, uint64_t count);
int dregs_ensemble_put_all(struct bins *bins, const struct bins *other);
void dregs_ensemble_bins_free(struct bins *bins);
/* The value of rank `rank` (1 is the lowest; between two ranks, between their values). */
double dregs_ensemble_ranked(const struct bins *bins, double rank);

/* ---- count.c: the figures of many draws ---- */

struct figure {
    double limit; /* NaN: none */
    uint64_t count, met;
    double least, most;
    struct exact sum, squares; /* of what lies above `from` */
    struct bins bins;
};

struct dregs_ensemble_result {
    unsigned figures;
    uint64_t count, failed, first_failed;
    dregs_status why;
    double *from;          /* of each figure: what its sums count from, the same in all parts */
    struct figure *figure; /* `figures` of them */
};

dregs_ensemble_result *dregs_ensemble_result_new(unsigned figures, const double *most,
                                                 const double *from);
/* Counts a draw; 0 when memory is short. */
int dregs_ensemble_take(dregs_ensemble_result *result, uint64_t draw, dregs_status status,
                        const double *figures);
int dregs_ensemble_join(dregs_ensemble_result *result, const dregs_ensemble_result *other);

#endif
