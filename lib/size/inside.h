/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the size module share; not installed. */
#ifndef DREGS_SIZE_INSIDE_H
#define DREGS_SIZE_INSIDE_H

#include "base/pool.h"
#include "dregs/bound.h"
#include "dregs/size.h"
#include "dregs/stage.h"

enum { TRIALS_MOST = 512 }; /* that are kept */

/* One property that is varied: of one stage, or of several stages alike. */
struct varied {
    const char *property;     /* as a row names it */
    const char *const *stage; /* stages, or the load */
    unsigned stages;
    double low, high; /* SI */
    int low_given, high_given;
    const char *unit;
    int whole;
    int more_is_easier; /* of two values that cost the same the higher one asks for less */
};

struct dregs_varied {
    const dregs_line *line;
    struct varied one[DREGS_VARIED_MOST];
    unsigned count;
    struct dregs_pool pool; /* the names */
    dregs_size_progress *progress;
    void *user;
    double margin; /* what is met must stay below so large a share of every limit; 0: 1 */
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
    int bounded;
    dregs_bound bound; /* where bounded: the one that is nearest, or passed furthest */
    dregs_use use;
    char *text; /* the line file with the values put in */
    size_t length;
    struct trial trial[TRIALS_MOST];
    unsigned trials;  /* how many, of which the first TRIALS_MOST are kept */
    int ended;        /* before it had done what it sets out to do */
    double possible;  /* no values take less than this; NaN where that is not known */
    double beyond;    /* what values take that no file may state, see dregs_sized_beyond */
    double unrounded; /* see dregs_sized_unrounded */
};

/* What comes of values: the compliance, the use, and what is to be least. */
struct outcome {
    dregs_compliance compliance;
    int bounded; /* concentrations are bounded too */
    dregs_bound bound;
    double excess; /* of all that is asked of the line, over what is aimed at: met when <= 1 */
    dregs_use use;
    double expense; /* what is to be least */
};

/* A search for values: the line, what is varied, how it is judged, what was found. */
struct problem {
    const dregs_line *line;
    const struct varied *varied;
    unsigned count;
    dregs_criterion criterion;
    double aim;    /* share of the limit that is aimed at, 1 for the limit itself */
    double margin; /* of all that is asked: the excess is taken over it */
    int by_cost;
    dregs_sized *sized;
    char *message;
    dregs_status status; /* the first failure that is not the values' fault */
    int known;           /* the last trial and what came of it */
    dregs_criterion known_by;
    double known_value[DREGS_VARIED_MOST];
    struct outcome known_outcome;
    /* the best values of all trials: those that meet the target, and the nearest when none do */
    double best[DREGS_VARIED_MOST], best_expense;
    double own_expense; /* of the line's own values, infinite where they miss the target */
    double nearest[DREGS_VARIED_MOST], nearest_excess;
    dregs_size_progress *progress;
    void *user;
    int stopped; /* by the user */
};

/* As dregs_size_compliance. */
dregs_status dregs_size_compliance_on(const dregs_map *map, dregs_criterion criterion,
                                      dregs_compliance *compliance);

/* The one place where a line is judged: what it leaves, over the target, and what else is asked of
 * it. Fails as dregs_size_compliance. */
dregs_status dregs_size_judge(const dregs_line *line, dregs_criterion criterion, double aim,
                              struct outcome *outcome);

/* The same, as far as a few loads tell: never more than the judgement, nearly always as much where
 * residues rise from dump to dump. The line may have any period. */
dregs_status dregs_size_judge_quick(const dregs_line *line, dregs_criterion criterion, double aim,
                                    double *excess);

/* The line described with these values, asked for its compliance and use. An infinite excess where
 * the line cannot be so; the reason is in problem->message. */
void dregs_size_try(struct problem *p, const double *value, struct outcome *outcome);

/* A quick trial: the excess with the values `clean`, the expense with the values `cheap` (the same
 * or others), and whether a file may state the `clean` ones. */
struct quick {
    double excess, expense;
    int allowed;
};
void dregs_size_try_quick(struct problem *p, const double *clean, const double *cheap,
                          struct quick *quick);

/* Takes values as the answer: sets the text, the compliance, the use. */
void dregs_size_accept(struct problem *p, const double *value);

/* Neither failed nor stopped nor at the end of its patience? */
int dregs_size_goes_on(const struct problem *p);

/* As dregs_size_aimed, of what is varied on a line that will not last: the answer keeps `varied`,
 * which is freed where there is none. */
dregs_status dregs_size_kept(dregs_varied *varied, dregs_criterion criterion, int by_cost,
                             double aim, dregs_sized **sized, char *message);

/* The same, of values that are given; the status of dregs_size_aimed where they cannot be. */
dregs_status dregs_size_at(dregs_varied *varied, dregs_criterion criterion, int by_cost,
                           const double *value, dregs_sized **sized, char *message);

/* The line that an answer describes: its spreads are those of the file, a share of the value that
 * was found where the file states a share. */
dregs_status dregs_size_found(const dregs_line *line, const dregs_sized *sized, dregs_line **found);

/* One property: one.c; several: several.c. */
void dregs_size_one(struct problem *p);
/* From the best trial of one property, where it is better than the answer, on to the boundary. */
void dregs_size_one_further(struct problem *p);
void dregs_size_several(struct problem *p);

#endif
