/* SPDX-License-Identifier: GPL-3.0-or-later */
/* inside.h: what the files of the size module share; not installed. */
#ifndef DREGS_SIZE_INSIDE_H
#define DREGS_SIZE_INSIDE_H

#include "base/pool.h"
#include "dregs/size.h"
#include "dregs/stage.h"

enum { TRIALS_MOST = 512 }; /* that are kept */

/* One property that is varied: of one stage, or of several stages alike. */
struct varied {
    const char *property;
    const char *const *stage;
    unsigned stages;
    double low, high; /* SI */
    int low_given, high_given;
    const char *unit;
    int whole;
};

struct dregs_varied {
    const dregs_line *line;
    struct varied one[DREGS_VARIED_MOST];
    unsigned count;
    struct dregs_pool pool; /* the names */
};

/* One evaluation of the search. */
struct trial {
    double value[DREGS_VARIED_MOST]; /* SI */
    double excess;                   /* infinite where the line is refused */
};

struct dregs_sized {
    const dregs_varied *varied;
    dregs_varied *own; /* the same, of a layout; else NULL */
    int feasible, throughout;
    double value[DREGS_VARIED_MOST];
    int at_low[DREGS_VARIED_MOST], at_high[DREGS_VARIED_MOST];
    dregs_compliance compliance;
    dregs_use use;
    char *text; /* the line file with the values put in */
    size_t length;
    struct trial trial[TRIALS_MOST];
    unsigned trials; /* how many, of which the first TRIALS_MOST are kept */
};

/* What comes of values: the compliance, the use, and what is to be least. */
struct outcome {
    dregs_compliance compliance;
    dregs_use use;
    double expense; /* what is to be least */
};

/* A search for values: the line, what is varied, how it is judged, what was found. */
struct problem {
    const dregs_line *line;
    const struct varied *varied;
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
void dregs_size_try(struct problem *p, const double *value, struct outcome *outcome);

/* Takes values as the answer: sets the text, the compliance, the use. */
void dregs_size_accept(struct problem *p, const double *value);

/* One property: one.c; several: several.c. */
void dregs_size_one(struct problem *p);
void dregs_size_several(struct problem *p);

#endif
