/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: what the files of the size module share; not installed. */
#ifndef DREGS_SIZE_SIZE_H
#define DREGS_SIZE_SIZE_H

#include "dregs/size.h"
#include "dregs/stage.h"

/* What comes of values: the compliance, the use, and what is to be least. */
struct outcome {
    dregs_compliance compliance;
    dregs_use use;
    double expense; /* what is to be least */
};

/* A search for values: the line, what is varied, how it is judged, what was found. */
struct problem {
    const dregs_line *line;
    const dregs_varied *varied;
    unsigned count;
    dregs_criterion criterion;
    int by_cost;
    dregs_sized *sized;
    char *message;
    dregs_status status; /* the first failure that is not the values' fault */
    int known;           /* the last trial and what came of it */
    dregs_criterion known_by;
    double known_value[DREGS_VARIED_MOST];
    struct outcome known_outcome;
};

/* The line described with these values, asked for its compliance and use. An infinite excess where
 * the line cannot be so; the reason is in problem->message. */
void dregs_try(struct problem *p, const double *value, struct outcome *outcome);

/* Takes values as the answer: sets the text, the compliance, the use. */
void dregs_accept(struct problem *p, const double *value);

/* One property: one.c; several: several.c. */
void dregs_size_one(struct problem *p);
void dregs_size_several(struct problem *p);

#endif
