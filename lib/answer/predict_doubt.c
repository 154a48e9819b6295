/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_doubt.c: how sure a prediction is: the same question asked of the lines of many draws.
 *
 * The figures of a draw: the largest share of a limit; that of each limit of residue, and of each
 * bound of a concentration; what the worst load leaves, in all and of each solute; the same of each
 * load that is listed. As in the answer as stated, the worst load is one of those before a limit of
 * concentration is crossed, and a draw that crosses one misses.
 */
#include "answer/draws.h"
#include "answer/predict.h"
#include "line/line.h"
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>

struct doubt {
    dregs_predict_doubt shown; /* the first member: the user's pointer is ours */
    struct draws_kept kept;
    struct predict_figures of;
};

void dregs_predict_doubt_free(dregs_predict_doubt *shown)
{
    struct doubt *doubt = (struct doubt *)shown;

    if (!doubt)
        return;
    dregs_answer_draws_free(&doubt->kept);
    free(doubt);
}

/* ---- where the figures stand ---- */

/* The total of a block of residues, its solutes behind it; block 0 is the worst load. */
unsigned dregs_answer_predict_figure(const struct predict_figures *f, unsigned block, int solute)
{
    return 1 + f->limits + f->bounds + block * (1 + f->solutes) + (unsigned)(solute + 1);
}

unsigned dregs_answer_predict_figures(const struct predict_figures *f)
{
    return dregs_answer_predict_figure(f, 1 + f->loads, DREGS_EVERY_SOLUTE);
}

/* ---- one draw ---- */

static void put_residue(const struct predict_figures *f, unsigned block,
                        const dregs_residue *residue, double *into)
{
    int s;

    for (s = DREGS_EVERY_SOLUTE; s < (int)f->solutes; s++)
        into[dregs_answer_predict_figure(f, block, s)] = dregs_residue_of(residue, s);
}

/* What a worst load takes of a limit: its residue, or where the target asks for a share of the
 * loads, what so many of them stay within. NaN where that cannot be told. */
static dregs_status ask_share(const dregs_map *map, int solute, const dregs_worst *worst,
                              double *residue)
{
    const dregs_value *asked = &dregs_line_target(dregs_map_line(map))->share_of_loads;
    struct residue_scatter scatter;
    dregs_status status;

    *residue = worst->residue;
    if (!asked->row)
        return DREGS_OK;
    status = dregs_residue_scatter(map, solute, worst, &scatter);
    if (!status)
        *residue = dregs_residue_within(&scatter, asked->si);
    else if (status != DREGS_UNKNOWN) /* then all loads are alike */
        *residue = NAN;
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* What counts of a load of the week that leaves more: the week's, of which no share is known. */
static dregs_status ask_week(const dregs_map *map, const dregs_week *week, int solute,
                             uint64_t judged, const dregs_worst *worst, double *residue)
{
    const dregs_value *asked = &dregs_line_target(dregs_map_line(map))->share_of_loads;
    dregs_week_answer in_week;
    dregs_status status = DREGS_OK;

    if (week)
        status = dregs_week_worst(week, solute, judged, &in_week);
    if (!week || status)
        return status;
    if (dregs_answer_by_week(&in_week, worst))
        *residue =
            asked->row && *residue != worst->residue /* loads vary */ ? NAN : in_week.worst.residue;
    if (!in_week.known)
        *residue = NAN;
    return DREGS_OK;
}

static dregs_status ask_limits(const struct predict_figures *f, const dregs_map *map,
                               const dregs_week *week, uint64_t judged, const dregs_worst *worst,
                               double *into)
{
    const dregs_target *target = dregs_line_target(dregs_map_line(map));
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < f->limits && !status; i++) {
        int solute = f->limited[i];
        const dregs_value *limit = solute < 0 ? &target->residue : &target->of_solute[solute];
        dregs_worst own = *worst;
        double residue = NAN;
        if (solute >= 0)
            status = dregs_residue_worst(map, solute, judged, &own);
        if (!status)
            status = ask_share(map, solute, &own, &residue);
        if (!status)
            status = ask_week(map, week, solute, judged, &own, &residue);
        into[1 + i] = residue / limit->si;
    }
    return status;
}

/* How concentrations stand to their bounds, and how many loads come before a limit is crossed. One
 * that is crossed by the first load leaves none: 0. */
static dregs_status ask_bounds(const struct predict_figures *f, const dregs_map *map,
                               uint64_t *judged, int *covered, double *into)
{
    const dregs_bound *binding, *life = NULL;
    dregs_bounds *bounds = NULL;
    dregs_status status = dregs_bounds_new(map, f->judged, 0, &bounds);
    unsigned i;

    binding = status ? NULL : dregs_bounds_binding(bounds);
    if (binding && binding->share > 1) { /* then the load is asked for, which takes longer */
        dregs_bounds_free(bounds);
        status = dregs_bounds_new(map, f->judged, 1, &bounds);
        life = status ? NULL : dregs_bounds_life(bounds);
    }
    for (i = 0; i < f->bounds && !status; i++) {
        const dregs_bound *bound = dregs_bounds_at(bounds, i);
        into[1 + f->limits + i] = bound->unknown ? NAN : bound->share;
    }
    *judged = life && life->crossed > 1 ? life->crossed - 1 : f->judged;
    *covered = !life || life->crossed > 1;
    if (!status)
        dregs_bounds_free(bounds);
    return status;
}

/* The largest share; NaN where one of them is not known, or no load is covered. */
static double largest_of(const struct predict_figures *f, int covered, const double *into)
{
    unsigned i, count = f->limits + f->bounds;
    double most = count && covered ? 0 : NAN;

    for (i = 0; i < count && !isnan(most); i++)
        most = isnan(into[1 + i]) ? NAN : fmax(most, into[1 + i]);
    return most;
}

/* What the worst load leaves of each solute, by the week where that leaves more. */
static dregs_status ask_worst(const struct predict_figures *f, const dregs_map *map,
                              const dregs_week *week, uint64_t judged, const dregs_worst *worst,
                              double *into)
{
    dregs_week_answer in_week;
    dregs_residue residue;
    dregs_status status = dregs_residue_at(map, worst, &residue);
    double total = worst->residue;

    if (!status && week)
        status = dregs_week_worst(week, DREGS_EVERY_SOLUTE, judged, &in_week);
    if (status)
        return status;
    if (week && dregs_answer_by_week(&in_week, worst)) {
        residue = in_week.residue;
        total = in_week.worst.residue;
    }
    put_residue(f, 0, &residue, into);
    into[dregs_answer_predict_figure(f, 0, DREGS_EVERY_SOLUTE)] = total;
    return DREGS_OK;
}

static dregs_status ask_loads(const struct predict_figures *f, const dregs_map *map, double *into)
{
    dregs_state *state = dregs_state_new(map);
    dregs_status status = state ? DREGS_OK : DREGS_NO_MEMORY;
    dregs_residue residue;
    unsigned i;

    for (i = 0; i < f->loads && !status; i++) {
        status = dregs_balance_state_reach(state, f->load[i]);
        if (status)
            break;
        dregs_residue_next(state, &residue);
        put_residue(f, 1 + i, &residue, into);
    }
    dregs_state_free(state);
    return status;
}

dregs_status dregs_answer_predict_ask_drawn(const struct predict_figures *f,
                                            const dregs_line *drawn, double *into)
{
    dregs_map *map = NULL;
    dregs_week *week = NULL;
    dregs_worst worst;
    uint64_t judged = 0;
    int covered = 0;
    dregs_status status = dregs_map_new(drawn, &map);

    if (!status && dregs_line_has_week(drawn))
        status = dregs_week_new(map, DREGS_WEEK_WORST_KNOWN, &week);
    if (!status)
        status = ask_bounds(f, map, &judged, &covered, into);
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, judged, &worst);
    if (!status)
        status = ask_limits(f, map, week, judged, &worst, into);
    if (!status)
        into[0] = largest_of(f, covered, into);
    if (!status)
        status = ask_worst(f, map, week, judged, &worst, into);
    if (!status)
        status = ask_loads(f, map, into);
    dregs_week_free(week);
    dregs_map_free(map);
    return status;
}

/* ---- all draws ---- */

static dregs_status ask(void *context, const dregs_line *drawn, double *into)
{
    return dregs_answer_predict_ask_drawn(&((const struct doubt *)context)->of, drawn, into);
}

static dregs_status run(struct doubt *doubt, const dregs_doubt_request *asked)
{
    struct draws_question question = {.figures = dregs_answer_predict_figures(&doubt->of),
                                      .most = NULL,
                                      .ask = ask,
                                      .context = doubt};
    unsigned limits = doubt->of.limits + doubt->of.bounds, i;
    double *most = malloc(question.figures * sizeof *most);
    dregs_status status;

    if (!most)
        return DREGS_NO_MEMORY;
    for (i = 0; i < question.figures; i++)
        most[i] = i <= limits && limits ? 1 : NAN;
    question.most = most;
    status = dregs_answer_draws_ask(asked, &question, &doubt->kept, &doubt->shown.run);
    free(most);
    return status;
}

static void conclude(struct doubt *doubt, const dregs_target *target)
{
    dregs_predict_doubt *shown = &doubt->shown;

    shown->loads = doubt->of.loads;
    shown->met = (dregs_ensemble_estimate){NAN, NAN, NAN};
    if (doubt->of.limits + doubt->of.bounds)
        (void)dregs_ensemble_met(doubt->kept.counts, 0, &shown->met);
    shown->confidence = target->confidence.row ? target->confidence.si : NAN;
    shown->sure = shown->met.low >= shown->confidence;
    shown->decided = shown->sure || shown->met.high < shown->confidence;
}

void dregs_answer_predict_lay_out(const dregs_predict_result *result, struct predict_figures *f)
{
    unsigned i;

    *f = (struct predict_figures){.judged = dregs_answer_predict_judged(result),
                                  .solutes = dregs_line_solutes(dregs_map_line(result->map)),
                                  .limits = result->verdicts,
                                  .bounds = dregs_bounds_count(result->bounds)};
    for (i = 0; i < result->verdicts; i++)
        f->limited[i] = dregs_predict_result_verdict(result, i)->solute;
}

dregs_status dregs_predict_doubt_ask(const dregs_predict_result *result,
                                     const dregs_doubt_request *request, dregs_predict_doubt **made,
                                     dregs_faults *faults)
{
    const dregs_line *line = dregs_map_line(result->map);
    dregs_doubt_request asked;
    void *room;
    struct doubt *doubt;
    dregs_status status = dregs_answer_draws_begin(request, sizeof *doubt, &asked, &room, faults);

    if (status)
        return status;
    doubt = room;
    dregs_answer_predict_lay_out(result, &doubt->of);
    doubt->of.loads =
        (unsigned)dregs_answer_predict_listed(result, doubt->of.load, DREGS_DOUBT_LOADS);
    status =
        dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, asked.seed, &doubt->kept.ensemble, faults);
    if (!status)
        status = run(doubt, &asked);
    if (status || !doubt->shown.run.rows) {
        dregs_predict_doubt_free(&doubt->shown);
        doubt = NULL;
    } else
        conclude(doubt, dregs_line_target(line));
    if (!status)
        *made = doubt ? &doubt->shown : NULL;
    return status;
}

/* ---- what is shown ---- */

static int has(const struct doubt *doubt, int solute)
{
    return solute >= DREGS_EVERY_SOLUTE && solute < (int)doubt->of.solutes;
}

dregs_status dregs_predict_doubt_limit(const dregs_predict_doubt *shown, unsigned index,
                                       dregs_ensemble_estimate *met)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return index < doubt->of.limits ? dregs_ensemble_met(doubt->kept.counts, 1 + index, met)
                                    : DREGS_DOMAIN;
}

dregs_status dregs_predict_doubt_bound(const dregs_predict_doubt *shown, unsigned index,
                                       dregs_ensemble_estimate *met)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return index < doubt->of.bounds
               ? dregs_ensemble_met(doubt->kept.counts, 1 + doubt->of.limits + index, met)
               : DREGS_DOMAIN;
}

dregs_status dregs_predict_doubt_worst(const dregs_predict_doubt *shown, int solute,
                                       dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return has(doubt, solute)
               ? dregs_ensemble_range_of(doubt->kept.counts,
                                         dregs_answer_predict_figure(&doubt->of, 0, solute), range)
               : DREGS_DOMAIN;
}

dregs_status dregs_predict_doubt_load(const dregs_predict_doubt *shown, unsigned index, int solute,
                                      uint64_t *load, dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;
    dregs_status status;

    if (!has(doubt, solute) || index >= doubt->of.loads)
        return DREGS_DOMAIN;
    status = dregs_ensemble_range_of(
        doubt->kept.counts, dregs_answer_predict_figure(&doubt->of, 1 + index, solute), range);
    if (!status)
        *load = doubt->of.load[index];
    return status;
}
