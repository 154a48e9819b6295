/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reach.c: how far off the unknowns may be: those at an end of an interval.
 *
 * Of all unknowns that are so far from the best ones, in standard deviations, those are sought at
 * which the residue is most, or least. Where its logarithm is linear in them that is the quantile;
 * where it is not (soil that adheres is added to what a film leaves) the direction is taken anew at
 * the point that was reached, until that stays. This is the inverse first-order reliability method
 * (Winterstein and others 1993, "Environmental parameters for extreme response: inverse FORM with
 * omission factors", ICOSSAR-93; from memory).
 */
#include "reuse/run.h"

#include <math.h>
#include <string.h>

#define STAYS 0.02 /* standard deviations: our own choice */

enum { ROUNDS = 6 };

static dregs_status value_at(const struct run *run, const double *q, enum reach of, uint64_t loads,
                             double *value)
{
    return of == REACH_RESIDUE ? dregs_reuse_run_leaves(run, q, value)
                               : dregs_reuse_run_share_after(run, q, loads, value);
}

/* How the logarithm of what is sought changes with each unknown at q. */
static dregs_status slope_at(const struct run *run, const struct unknowns *unknowns,
                             const double *q, enum reach of, uint64_t loads, unsigned char *deaf,
                             double *slope)
{
    static const double step = 1e-3;
    double here = 0, there = 0;
    dregs_status status = value_at(run, q, of, loads, &here);
    unsigned i;

    memset(slope, 0, Q_MOST * sizeof *slope);
    for (i = 0; i < unknowns->count && !status; i++) {
        unsigned k = unknowns->of[i];
        double at[Q_MOST];
        if (deaf[k])
            continue;
        memcpy(at, q, sizeof at);
        at[k] += step;
        status = value_at(run, at, of, loads, &there);
        slope[k] = (there - here) / step;
        deaf[k] = k != Q_BEGIN && !(fabs(there - here) > 0);
    }
    return status;
}

/* One standard deviation of the unknowns in the direction in which the residue grows, and its
 * variance after and before the readings. */
static void direction(const struct regime *regime, const double *slope, double *along,
                      double variances[2])
{
    unsigned a, b;

    memset(along, 0, Q_MOST * sizeof *along);
    variances[0] = variances[1] = 0;
    for (a = 0; a < Q_MOST; a++) {
        for (b = 0; b < Q_MOST; b++) {
            along[a] += regime->after.cov[a][b] * slope[b];
            variances[1] += slope[a] * regime->before.cov[a][b] * slope[b];
        }
        variances[0] += along[a] * slope[a];
    }
    for (a = 0; a < Q_MOST; a++)
        along[a] = variances[0] > 0 ? along[a] / sqrt(variances[0]) : 0.0;
}

/* How far q and p are apart, in standard deviations of each. */
static double apart(const struct belief *belief, const double *q, const double *p)
{
    double most = 0;
    unsigned k;

    for (k = 0; k < Q_MOST; k++)
        if (belief->cov[k][k] > 0)
            most = fmax(most, fabs(q[k] - p[k]) / sqrt(belief->cov[k][k]));
    return most;
}

dregs_status dregs_reuse_reach(const struct run *run, double share, int side, enum reach of,
                               uint64_t loads, double *reached)
{
    const struct belief *after = &run->regime->after;
    const struct unknowns unknowns = dregs_reuse_unknowns(&run->regime->before);
    unsigned char deaf[Q_MOST] = {0};
    double q[Q_MOST], next[Q_MOST], slope[Q_MOST], along[Q_MOST], variances[2], by, unused;
    uint64_t now = of == REACH_END ? loads : 0, extreme = side > 0 ? UINT64_MAX : 0;
    dregs_status status = DREGS_OK;
    int round, moves = 1;
    unsigned k;

    memcpy(q, after->mean, sizeof q);
    for (round = 0; round < ROUNDS && moves && !status; round++) {
        status =
            slope_at(run, &unknowns, q, of,
                     now == DREGS_REUSE_LOADS_MOST ? DREGS_REUSE_LOADS_MOST - 1 : now, deaf, slope);
        if (status)
            break;
        direction(run->regime, slope, along, variances);
        by = side * dregs_reuse_quantile(run->reuse, share, variances[0], variances[1]);
        for (k = 0; k < Q_MOST; k++)
            next[k] = after->mean[k] + by * along[k];
        moves = apart(after, next, q) > STAYS;
        memcpy(q, next, sizeof q);
        if (of == REACH_END)
            status = dregs_reuse_run_loads(run, q, &now, &unused, DREGS_EVERY_SOLUTE);
        /* a search that goes to and fro ends with the farther of its points */
        if (!status && (of != REACH_END || (side > 0 ? now <= extreme : now >= extreme))) {
            extreme = now;
            memcpy(reached, q, sizeof q);
        }
    }
    return status;
}
