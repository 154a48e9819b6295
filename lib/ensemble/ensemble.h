/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ensemble.h: what the ensemble gives to the rooms above besides its public header; not installed.
 */
#ifndef DREGS_ENSEMBLE_ENSEMBLE_H
#define DREGS_ENSEMBLE_ENSEMBLE_H

#include "dregs/ensemble.h"

/* A function of independent inputs, each uniform between 0 and 1. */
typedef dregs_status ensemble_point(void *mine, const double *input, double *value);

/* Such a function, and who asks it. */
struct ensemble_question {
    unsigned inputs;
    unsigned threads; /* 0: as many as there are processors */
    ensemble_point *ask;
    void *(*begin)(void *context); /* what a thread hands to `ask`; NULL: the context, to all */
    void (*end)(void *mine);
    void *context;
};

/* What an input does to the variance of the function: by itself, and with all that it interacts
 * with; one standard error of each from the spread of the parts that the points come in. */
struct ensemble_share {
    double first, first_error, total, total_error;
};

enum { ENSEMBLE_PARTS = 8 };

/* Shares of the variance of all inputs, by ENSEMBLE_PARTS * points * (inputs + 2) evaluations; the
 * same to the last bit for any number of threads.
 * \return DREGS_OK; DREGS_DOMAIN (no inputs or points, or the function does not vary);
 * DREGS_NO_MEMORY; what the function ended with. */
dregs_status dregs_ensemble_shares(const struct ensemble_question *question, unsigned points,
                                   uint64_t seed, struct ensemble_share *shares);

/* The line of an ensemble that has one, with each drawn row at the place z of its distribution;
 * NaN: as it is stated. \return as dregs_ensemble_drawn. */
dregs_status dregs_ensemble_line_at(const dregs_ensemble *ensemble, const double *z,
                                    dregs_line **line);

/* The ensemble of two lines that were read with one table of liquids; both must outlive it. What it
 * tells of its line and its rows is told of the first. A row of the second with the item and
 * property of a row of the first goes with that row: both stand at the same place of their
 * distributions in every draw, and what the second states as `with` holds among its own rows. Other
 * rows of the second are independent of the first. Liquids are the same in both.
 * \return as dregs_ensemble_new. */
dregs_status dregs_ensemble_new_pair(const dregs_line *first, const dregs_line *second,
                                     unsigned questions, uint64_t seed, dregs_ensemble **ensemble,
                                     dregs_faults *faults);
/* How many values are drawn, and how many of them are properties of liquids; what goes with another
 * of the first line counts once. */
unsigned dregs_ensemble_values(const dregs_ensemble *ensemble, unsigned *properties);

/* As dregs_ensemble_ask, of both lines of a draw. */
typedef dregs_status ensemble_ask_pair(void *mine, const dregs_line *first,
                                       const dregs_line *second, double *figures);
/* dregs_ensemble_run of an ensemble of two lines; `ask` of the request is not looked at. */
dregs_status dregs_ensemble_run_pair(const dregs_ensemble *ensemble,
                                     const dregs_ensemble_request *request, ensemble_ask_pair *ask,
                                     dregs_ensemble_result **result);
/* The second line as it is stated. */
const dregs_line *dregs_ensemble_second(const dregs_ensemble *ensemble);

/* Why the first of the draws that failed did: its line is drawn once more.
 * \return 1 with the number of the draw and words; 0: none failed. */
int dregs_ensemble_why(const dregs_ensemble *ensemble, const dregs_ensemble_result *counts,
                       uint64_t *draw, char *words, size_t room);

#endif
