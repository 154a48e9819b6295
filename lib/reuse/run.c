/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* run.c: the line let run on from the last reading of a log, under unknowns that are given. */
#include "reuse/run.h"
#include "line/line.h"

#include <float.h>
#include <math.h>

double dregs_reuse_run_share(const dregs_reuse *reuse, const dregs_residue *residue, int *solute)
{
    const dregs_target *target = dregs_line_target(reuse->line);
    double most = -1, share;
    unsigned s;
    int own = !isnan(reuse->request.limit);

    *solute = DREGS_EVERY_SOLUTE;
    if (own || target->residue.row) {
        most = residue->total / (own ? reuse->request.limit : target->residue.si);
        *solute = DREGS_EVERY_SOLUTE;
    }
    for (s = 0; s < residue->solutes && target->name && !own; s++) {
        if (!target->of_solute[s].row)
            continue;
        share = dregs_residue_of(residue, (int)s) / target->of_solute[s].si;
        if (share > most) {
            most = share;
            *solute = (int)s;
        }
    }
    return most;
}

double dregs_reuse_run_limit(const dregs_reuse *reuse, int solute)
{
    const dregs_target *target = dregs_line_target(reuse->line);

    if (!isnan(reuse->request.limit))
        return reuse->request.limit;
    return solute < 0 ? target->residue.si : target->of_solute[solute].si;
}

/* The largest share that the next load takes of a limit or target of concentration, and which it
 * is; NULL, and below 0, where none is stated. */
static double share_of_bound(const struct run *run, const struct engine *engine,
                             const dregs_bound **which)
{
    double most = -1;
    unsigned i;

    *which = NULL;
    for (i = 0; i < dregs_bounds_count(run->bounds); i++) {
        const dregs_bound *bound = dregs_bounds_at(run->bounds, i);
        double share = dregs_bound_next(bound, engine->state);
        if (share > most) {
            most = share;
            *which = bound;
        }
    }
    return most;
}

double dregs_reuse_run_next(const struct run *run, const struct engine *engine, int *solute)
{
    const dregs_bound *which;
    dregs_residue residue;

    dregs_residue_next(engine->state, &residue);
    return fmax(dregs_reuse_run_share(run->reuse, &residue, solute),
                share_of_bound(run, engine, &which));
}

const dregs_bound *dregs_reuse_run_ended_by(const struct run *run, const struct engine *engine)
{
    const dregs_bound *which;
    dregs_residue residue;
    int solute;

    dregs_residue_next(engine->state, &residue);
    return share_of_bound(run, engine, &which) >
                   dregs_reuse_run_share(run->reuse, &residue, &solute)
               ? which
               : NULL;
}

int dregs_reuse_run_meets(double share)
{
    return share <= 1 + 1e-12;
}

dregs_status dregs_reuse_run_to_now(const struct run *run, const double *q, struct engine *engine)
{
    dregs_status status = dregs_reuse_engine_at(run->reuse, run->regime, q, engine);

    if (!status)
        status = dregs_reuse_march(run->reuse, engine, run->regime->about.begin, run->reuse->count,
                                   run->scratch);
    if (!status && run->reuse->request.since > 0)
        status = dregs_state_before(engine->state,
                                    dregs_state_next(engine->state) + run->reuse->request.since);
    return status;
}

uint64_t dregs_reuse_run_on(const struct run *run, struct engine *engine)
{
    uint64_t loads;
    int solute;

    for (loads = 0; loads < DREGS_REUSE_LOADS_MOST; loads++) {
        if (!dregs_reuse_run_meets(dregs_reuse_run_next(run, engine, &solute)))
            break;
        dregs_state_step(engine->state);
    }
    return loads;
}

/* kg/m2 that the next load leaves. */
static double next_of(const struct engine *engine, int solute)
{
    dregs_residue residue;

    dregs_residue_next(engine->state, &residue);
    return dregs_residue_of(&residue, solute);
}

dregs_status dregs_reuse_run_loads(const struct run *run, const double *q, uint64_t *loads,
                                   double *next, int solute)
{
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, q, &engine);

    if (!status) {
        *next = next_of(&engine, solute);
        *loads = dregs_reuse_run_on(run, &engine);
    }
    dregs_reuse_engine_clear(&engine);
    return status;
}

dregs_status dregs_reuse_run_share_after(const struct run *run, const double *q, uint64_t loads,
                                         double *share)
{
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, q, &engine);
    int solute;

    if (!status && loads > 0)
        status = dregs_state_before(engine.state, dregs_state_next(engine.state) + loads);
    if (!status)
        *share = log(dregs_reuse_run_next(run, &engine, &solute));
    dregs_reuse_engine_clear(&engine);
    return status;
}

dregs_status dregs_reuse_run_leaves(const struct run *run, const double *q, double *left)
{
    struct engine engine = {0};
    dregs_status status = dregs_reuse_run_to_now(run, q, &engine);

    if (!status) /* no logarithm of nothing */
        *left = log(fmax(next_of(&engine, run->reuse->answer.solute), DBL_MIN));
    dregs_reuse_engine_clear(&engine);
    return status;
}
