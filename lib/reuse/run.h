/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* run.h: the line let run on from the last reading of a log; not installed. */
#ifndef DREGS_REUSE_RUN_H
#define DREGS_REUSE_RUN_H

#include "dregs/bound.h"
#include "residue/residue.h"
#include "reuse/inside.h"

struct run {
    const dregs_reuse *reuse;
    const struct regime *regime;
    double
        q[Q_MOST];   /* the unknowns to go by: the best ones, or those of the target's confidence */
    double *scratch; /* per reading */
    const dregs_bounds *bounds;
};

/* The largest share of a limit that a residue takes, and whose limit it is. */
double dregs_reuse_run_share(const dregs_reuse *reuse, const dregs_residue *residue, int *solute);
/* kg/m2 of a solute, or of all. */
double dregs_reuse_run_limit(const dregs_reuse *reuse, int solute);
/* A share of a limit that counts as met. */
int dregs_reuse_run_meets(double share);

/* The engine behind the last reading, and the loads that are said to have passed since. */
dregs_status dregs_reuse_run_to_now(const struct run *run, const double *q, struct engine *engine);
/* The share of the limit that the next load takes. */
double dregs_reuse_run_next(const struct run *run, const struct engine *engine, int *solute);
/* What the next load misses, where that is no residue. */
const dregs_bound *dregs_reuse_run_ended_by(const struct run *run, const struct engine *engine);
/* Lets loads pass while they meet the limit; returns how many, DREGS_REUSE_LOADS_MOST for all. */
uint64_t dregs_reuse_run_on(const struct run *run, struct engine *engine);

/* At other unknowns: how many loads may pass, and what the next one leaves. */
dregs_status dregs_reuse_run_loads(const struct run *run, const double *q, uint64_t *loads,
                                   double *next, int solute);
/* The logarithm of the share of the limit of the load after so many. */
dregs_status dregs_reuse_run_share_after(const struct run *run, const double *q, uint64_t loads,
                                         double *share);

/* The logarithm of the kg/m2 that the next load leaves of the solute whose limit the answer tells.
 */
dregs_status dregs_reuse_run_leaves(const struct run *run, const double *q, double *left);

/* What is sought the most or the least of. */
enum reach {
    REACH_RESIDUE, /* what the next load leaves, whatever other limit it is nearer to */
    REACH_NEXT,    /* the share that the next load takes of the limit that it is nearest to */
    REACH_END      /* the same of the load that is the first to miss */
};

/* reach.c: the unknowns of the run's regime at the quantile `share` (above 0.5) of that, `side` 1
 * for its upper and -1 for its lower one. REACH_END is looked for from the load after `loads` on.
 */
dregs_status dregs_reuse_reach(const struct run *run, double share, int side, enum reach of,
                               uint64_t loads, double *reached);

#endif
