/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_doubt.c: how sure a tally is: the same question asked of the lines of many draws.
 *
 * The figures of a draw stand in blocks, one for each dregs_tally_doubtful; behind them, for each
 * plan and activity and for each machine, whether it misses its limit, and for each waste and
 * month, whether it is judged otherwise: 0 or 1; then what was bought. What the line as stated has,
 * by name, stage or number, is looked up in each draw.
 */
#include "answer/draws.h"
#include "answer/tally.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    PLANS = 2,
    PLANS_MET = DREGS_TALLY_RANGES,
    MACHINES_MET,
    WASTES_SAME,
    MONTHS_SAME,
    BOUGHT,
    RECORDED, /* figures of plans that records are set beside */
    LOGGED,   /* of months, and of twelve, that a log is set beside */
    STREAMS,  /* of stages and months */
    BLOCKS
};

struct doubt {
    dregs_tally_doubt shown; /* the first member: the user's pointer is ours */
    struct draws_kept kept;
    const dregs_tally_result *answer;
    struct tally_bought_doubt bought;
    struct tally_cells cells;
    unsigned of;                                 /* line of the answer */
    unsigned begin[BLOCKS + 1];                  /* of the figures of a block */
    struct doubt *other[DREGS_TALLY_LINES_MOST]; /* of the first line: those of the others */
};

void dregs_tally_doubt_free(dregs_tally_doubt *shown)
{
    struct doubt *doubt = (struct doubt *)shown;
    unsigned i;

    if (!doubt)
        return;
    for (i = 0; i < DREGS_TALLY_LINES_MOST; i++)
        if (doubt->other[i])
            dregs_tally_doubt_free(&doubt->other[i]->shown);
    free(doubt->bought.liquid);
    free(doubt->bought.spread);
    dregs_answer_tally_cells_free(&doubt->cells);
    dregs_answer_draws_free(&doubt->kept);
    free(doubt);
}

/* A draw takes a tally for each month of a year, with `law` another one of 8760 h: near
 * 0.5 ms and near 0.7 ms on the machine that this was measured on; near 1.5 ms more each where the
 * table of mixtures has to be read. */
uint64_t dregs_tally_doubt_usual(const dregs_tally_result *answer)
{
    unsigned lines = 0, i;

    for (i = 0; i < answer->question.lines; i++)
        lines += answer->line[i].members ? answer->line[i].members : 1;
    if (answer->law)
        return lines > 2 ? 70 : 200 / lines;
    return lines > 4 ? 100 : 400 / lines;
}

static unsigned size_of(const struct doubt *doubt, unsigned block)
{
    return doubt->begin[block + 1] - doubt->begin[block];
}

static void lay_out(struct doubt *doubt)
{
    const struct tally_line *line = &doubt->answer->line[doubt->of];
    const dregs_tally_law *law = doubt->answer->law;
    const struct tally_drains *drains = &doubt->answer->drains;
    unsigned plans = law && law->year ? PLANS : 0, machines = law ? law->machines : 0;
    unsigned solvents = law ? law->solvents : 0, wastes = law ? law->wastes : 0, i;
    unsigned stages = doubt->cells.stages, months = doubt->cells.months;
    const unsigned count[BLOCKS] = {
        [DREGS_TALLY_RANGE_FIGURE] = line->figures.count,
        [DREGS_TALLY_RANGE_BOUGHT] = dregs_line_fluids(line->one.line),
        [DREGS_TALLY_RANGE_OUTLINE] = DREGS_TALLY_SUMS,
        [DREGS_TALLY_RANGE_LARGEST] = line->parts[0].count,
        [DREGS_TALLY_RANGE_DEAREST] = line->parts[1].count,
        [DREGS_TALLY_RANGE_CONSUMPTION] = plans,
        [DREGS_TALLY_RANGE_FUGITIVE] = plans,
        [DREGS_TALLY_RANGE_MACHINE] = machines,
        [DREGS_TALLY_RANGE_EMITTED] = solvents,
        [DREGS_TALLY_RANGE_POTENTIAL] = solvents,
        [DREGS_TALLY_RANGE_TOTAL] = solvents ? 2 : 0,
        [DREGS_TALLY_RANGE_WASTE] = wastes,
        [DREGS_TALLY_RANGE_FACILITY] = law && law->facility_used,
        [DREGS_TALLY_RANGE_DRAINED] = drains->count ? drains->drain[0].count + 1 : 0,
        [DREGS_TALLY_RANGE_ENERGY] = doubt->answer->energies.count ? 4 : 0,
        [DREGS_TALLY_RANGE_PLAN] = plans * DREGS_TALLY_PLAN_STREAMS,
        [DREGS_TALLY_RANGE_STAGE_COST] = stages ? (stages + 1) * DREGS_TALLY_SPENTS : 0,
        [DREGS_TALLY_RANGE_MONTH_COST] = months ? (months + 1) * DREGS_TALLY_SPENTS : 0,
        [DREGS_TALLY_RANGE_MONTH] = months * DREGS_TALLY_SUMS,
        [DREGS_TALLY_RANGE_OVER_3] = months * DREGS_TALLY_SUMS,
        [DREGS_TALLY_RANGE_OVER_12] = months * DREGS_TALLY_SUMS,
        [WASTES_SAME] = wastes,
        [MONTHS_SAME] = wastes ? DREGS_MONTHS : 0,
        [PLANS_MET] = PLANS * plans,
        [MACHINES_MET] = machines,
        [BOUGHT] = dregs_answer_tally_bought_count(doubt->answer->actual),
        [RECORDED] = doubt->answer->actual ? plans * DREGS_TALLY_RECORDEDS : 0,
        [LOGGED] = dregs_answer_tally_logged_count(doubt->answer->actual),
        [STREAMS] = doubt->cells.count};

    for (i = 0; i < BLOCKS; i++) /* of several lines only what they are compared by */
        doubt->begin[i + 1] =
            doubt->begin[i] +
            (doubt->answer->question.lines == 1 || i == DREGS_TALLY_RANGE_FIGURE ? count[i] : 0);
}

/* ---- one draw ---- */

/* What the worst load leaves is asked of predictions, not here. */
static dregs_status ask_figures(const struct doubt *doubt, const dregs_tally *tally, double *into)
{
    const struct tally_figures *stated = &doubt->answer->line[doubt->of].figures;
    struct tally_figures *drawn = malloc(sizeof *drawn);
    unsigned i;

    if (!drawn)
        return DREGS_NO_MEMORY;
    dregs_answer_tally_figures_of(tally, NAN, drawn);
    for (i = 0; i < stated->count; i++) {
        const dregs_tally_figure *f =
            dregs_answer_tally_figure_named(drawn, stated->figure[i].name);
        into[i] = f ? f->value : 0;
    }
    free(drawn);
    return DREGS_OK;
}

static void ask_sums(const dregs_tally *tally, double *into)
{
    dregs_tally_outline o = {0};

    dregs_answer_tally_outline_of(tally, DREGS_WHOLE, &o);
    dregs_answer_tally_put_sums(&o, into);
}

static dregs_status ask_volumes(const struct doubt *doubt, const dregs_tally *tally, double *into)
{
    const struct tally_line *line = &doubt->answer->line[0];
    dregs_status status = DREGS_OK;
    unsigned i;

    ask_sums(tally, into + doubt->begin[DREGS_TALLY_RANGE_OUTLINE]);
    for (i = 0; i < size_of(doubt, DREGS_TALLY_RANGE_BOUGHT); i++)
        into[doubt->begin[DREGS_TALLY_RANGE_BOUGHT] + i] =
            dregs_tally_bought(tally, i, DREGS_WHOLE, DREGS_WHOLE);
    for (i = 0; i < line->parts[0].count; i++) {
        dregs_tally_part part = line->parts[0].part[i];
        dregs_answer_tally_part_of(tally, 0, &part);
        into[doubt->begin[DREGS_TALLY_RANGE_LARGEST] + i] = part.volume;
    }
    for (i = 0; i < line->parts[1].count; i++) {
        dregs_tally_part part = line->parts[1].part[i];
        dregs_answer_tally_part_of(tally, 1, &part);
        into[doubt->begin[DREGS_TALLY_RANGE_DEAREST] + i] = part.cost;
    }
    if (size_of(doubt, DREGS_TALLY_RANGE_DRAINED))
        status = dregs_answer_tally_drained_like(tally, &doubt->answer->drains.drain[0],
                                                 into + doubt->begin[DREGS_TALLY_RANGE_DRAINED]);
    if (!status && size_of(doubt, DREGS_TALLY_RANGE_ENERGY))
        status =
            dregs_answer_tally_energy_sum(tally, into + doubt->begin[DREGS_TALLY_RANGE_ENERGY]);
    return status;
}

/* Of stages and months, as far as they are asked of. */
static dregs_status ask_parts(const struct doubt *doubt, dregs_tally *tally, double *into)
{
    const struct tally_cells *cells = &doubt->cells;
    unsigned i;

    dregs_answer_tally_put_cells(cells, tally, into + doubt->begin[STREAMS]);
    for (i = 0; cells->stages && i <= cells->stages; i++)
        dregs_answer_tally_put_costs(tally, i < cells->stages ? i : DREGS_WHOLE, DREGS_WHOLE,
                                     into + doubt->begin[DREGS_TALLY_RANGE_STAGE_COST] +
                                         (size_t)i * DREGS_TALLY_SPENTS);
    for (i = 0; cells->months && i <= cells->months; i++)
        dregs_answer_tally_put_costs(tally, DREGS_WHOLE, i < cells->months ? i : DREGS_WHOLE,
                                     into + doubt->begin[DREGS_TALLY_RANGE_MONTH_COST] +
                                         (size_t)i * DREGS_TALLY_SPENTS);
    return cells->months
               ? dregs_answer_tally_put_months(tally, into + doubt->begin[DREGS_TALLY_RANGE_MONTH],
                                               into + doubt->begin[DREGS_TALLY_RANGE_OVER_3],
                                               into + doubt->begin[DREGS_TALLY_RANGE_OVER_12])
               : DREGS_OK;
}

/* 0 where a limit is met, or none applies; else 1. */
static double misses(dregs_law_verdict verdict)
{
    return verdict == DREGS_LAW_YES || verdict == DREGS_LAW_EXCLUDED ? 0 : 1;
}

static void put_streams(const dregs_law_plan *plan, double into[DREGS_TALLY_PLAN_STREAMS])
{
    const double streams[DREGS_TALLY_PLAN_STREAMS] = {plan->i1, plan->i2, plan->o1, plan->o2,
                                                      plan->o3, plan->o4, plan->o5, plan->o6,
                                                      plan->o7, plan->o8, plan->o9};

    memcpy(into, streams, sizeof streams);
}

static void put_plans(const struct doubt *doubt, const dregs_tally_law *law, double *into)
{
    unsigned i, k;

    for (i = 0; i < size_of(doubt, DREGS_TALLY_RANGE_CONSUMPTION); i++) {
        const dregs_tally_plan *plan = &law->plan[i];
        int used = law->plan_used[i];
        into[doubt->begin[DREGS_TALLY_RANGE_CONSUMPTION] + i] =
            used ? plan->result.consumption : NAN;
        into[doubt->begin[DREGS_TALLY_RANGE_FUGITIVE] + i] = used ? plan->result.share : NAN;
        for (k = 0; k < PLANS; k++)
            into[doubt->begin[PLANS_MET] + PLANS * i + k] = used ? misses(plan->met[k]) : NAN;
        if (used)
            put_streams(&plan->plan, into + doubt->begin[DREGS_TALLY_RANGE_PLAN] +
                                         (size_t)i * DREGS_TALLY_PLAN_STREAMS);
    }
}

static const dregs_tally_waste *waste_like(const dregs_tally_law *law, const dregs_tally_waste *of)
{
    unsigned i;

    for (i = 0; i < law->wastes; i++)
        if (law->waste[i].stage == of->stage && law->waste[i].stream == of->stream)
            return &law->waste[i];
    return NULL;
}

static void put_wastes(const struct doubt *doubt, const dregs_tally_law *law, double *into)
{
    const dregs_tally_law *stated = doubt->answer->law;
    unsigned i;

    for (i = 0; i < size_of(doubt, DREGS_TALLY_RANGE_WASTE); i++) {
        const dregs_tally_waste *w = waste_like(law, &stated->waste[i]);
        into[doubt->begin[DREGS_TALLY_RANGE_WASTE] + i] = w ? w->year : 0;
        into[doubt->begin[WASTES_SAME] + i] =
            w && w->hazardous == stated->waste[i].hazardous ? 0 : 1;
    }
    for (i = 0; i < size_of(doubt, MONTHS_SAME); i++)
        into[doubt->begin[MONTHS_SAME] + i] =
            law->wastes && law->month[i].least == stated->month[i].least &&
                    law->month[i].most == stated->month[i].most
                ? 0
                : 1;
}

static void put_law(const struct doubt *doubt, const dregs_tally_law *law, double *into)
{
    unsigned i;

    put_plans(doubt, law, into);
    for (i = 0; i < size_of(doubt, DREGS_TALLY_RANGE_MACHINE) && i < law->machines; i++) {
        into[doubt->begin[DREGS_TALLY_RANGE_MACHINE] + i] = law->machine[i].worst;
        into[doubt->begin[MACHINES_MET] + i] = misses(law->machine[i].met);
    }
    for (i = 0; i < size_of(doubt, DREGS_TALLY_RANGE_EMITTED) && i < law->solvents; i++) {
        into[doubt->begin[DREGS_TALLY_RANGE_EMITTED] + i] = law->solvent[i].emitted;
        into[doubt->begin[DREGS_TALLY_RANGE_POTENTIAL] + i] = law->solvent[i].potential;
    }
    if (size_of(doubt, DREGS_TALLY_RANGE_TOTAL)) {
        into[doubt->begin[DREGS_TALLY_RANGE_TOTAL]] = law->potential.voc;
        into[doubt->begin[DREGS_TALLY_RANGE_TOTAL] + 1] = law->potential.pollutants;
    }
    if (size_of(doubt, DREGS_TALLY_RANGE_FACILITY))
        into[doubt->begin[DREGS_TALLY_RANGE_FACILITY]] =
            law->facility_used ? law->facility.counted : NAN;
    put_wastes(doubt, law, into);
    for (i = 0; i * DREGS_TALLY_RECORDEDS < size_of(doubt, RECORDED); i++)
        if (law->plan_used[i])
            dregs_answer_tally_put_recorded(&law->plan[i], into + doubt->begin[RECORDED] +
                                                               i * DREGS_TALLY_RECORDEDS);
    if (size_of(doubt, LOGGED))
        dregs_answer_tally_put_logged(doubt->answer->actual, law, into + doubt->begin[LOGGED]);
}

/* What regulations ask of a drawn line: as of the one that is stated. */
static dregs_status ask_law(const struct doubt *doubt, const dregs_tally_result *drawn,
                            double *into)
{
    dregs_tally_law *law = NULL;
    dregs_status status = dregs_answer_tally_law_new(drawn, &law, NULL);

    if (!status)
        put_law(doubt, law, into);
    dregs_answer_tally_law_free(law);
    return status;
}

static dregs_status ask_bought(const struct doubt *doubt, const dregs_tally_result *drawn,
                               double *into)
{
    char message[DREGS_TALLY_MESSAGE];
    const dregs_tally *year = NULL;
    dregs_tally *own = NULL;
    dregs_status status = dregs_answer_tally_year_of(drawn, &year, &own, message);

    if (!status)
        dregs_answer_tally_put_bought(doubt->answer->actual, year, into + doubt->begin[BOUGHT]);
    dregs_tally_free(own);
    return status;
}

/* What stands beside the tally, by an answer of its own. */
static dregs_status ask_beside(const struct doubt *doubt, const dregs_line *line,
                               dregs_tally *tally, double *into)
{
    dregs_tally_result *drawn = calloc(1, sizeof *drawn);
    dregs_status status = drawn ? DREGS_OK : DREGS_NO_MEMORY;

    if (!status) {
        drawn->question = doubt->answer->question;
        drawn->question.lines = 1;
        drawn->line[0].one.line = line;
        drawn->line[0].one.tally = drawn->line[0].tally = tally;
    }
    if (!status && doubt->answer->law)
        status = ask_law(doubt, drawn, into);
    if (!status && doubt->answer->actual)
        status = ask_bought(doubt, drawn, into);
    free(drawn);
    return status;
}

static dregs_status ask(void *context, const dregs_line *drawn, double *into)
{
    const struct doubt *doubt = context;
    dregs_tally *tally = NULL;
    dregs_status status = dregs_tally_new_by_dates(drawn, &doubt->answer->question.span,
                                                   doubt->answer->question.dates, &tally, NULL);
    unsigned i;

    for (i = 0; i < doubt->begin[BLOCKS]; i++)
        into[i] = NAN;
    if (!status)
        status = ask_figures(doubt, tally, into + doubt->begin[DREGS_TALLY_RANGE_FIGURE]);
    if (!status && doubt->answer->question.lines == 1)
        status = ask_volumes(doubt, tally, into);
    if (!status && doubt->answer->question.lines == 1)
        status = ask_parts(doubt, tally, into);
    if (!status && (doubt->answer->law || doubt->answer->actual))
        status = ask_beside(doubt, drawn, tally, into);
    dregs_tally_free(tally);
    return status;
}

/* ---- all draws ---- */

static dregs_status run(struct doubt *doubt, const dregs_doubt_request *asked)
{
    struct draws_question question = {
        .figures = doubt->begin[BLOCKS], .most = NULL, .ask = ask, .context = doubt};
    double *most = malloc((question.figures + 1) * sizeof *most);
    dregs_status status;
    unsigned i;

    if (!most)
        return DREGS_NO_MEMORY;
    for (i = 0; i < question.figures; i++)
        most[i] = i >= doubt->begin[PLANS_MET] && i < doubt->begin[BOUGHT] ? 0.5 : NAN;
    question.most = most;
    status = dregs_answer_draws_ask(asked, &question, &doubt->kept, &doubt->shown.run);
    free(most);
    return status;
}

/* The draws of one line of the answer. */
static dregs_status ask_line(const dregs_tally_result *answer, unsigned of,
                             const dregs_doubt_request *request, struct doubt **made,
                             dregs_faults *faults)
{
    unsigned questions = DREGS_ASKED_YEAR | (answer->actual ? DREGS_ASKED_ACTUAL : 0u);
    dregs_doubt_request asked;
    struct doubt *doubt;
    void *room;
    dregs_status status = dregs_answer_draws_begin(request, sizeof *doubt, &asked, &room, faults);

    if (status)
        return status;
    doubt = room;
    doubt->answer = doubt->shown.answer = answer;
    doubt->of = of;
    if (answer->question.lines == 1)
        status = dregs_answer_tally_cells_of(answer->line[of].tally, answer->question.parts,
                                             &doubt->cells);
    doubt->shown.streams_left_out = doubt->cells.left_out;
    lay_out(doubt);
    if (!status)
        status = dregs_ensemble_new(answer->line[of].one.line, questions, asked.seed,
                                    &doubt->kept.ensemble, faults);
    if (!status)
        status = run(doubt, &asked);
    if (!status && doubt->shown.run.rows && answer->actual)
        status = dregs_answer_tally_bought_doubt(answer->actual, doubt->kept.ensemble,
                                                 doubt->kept.counts, doubt->begin[BOUGHT],
                                                 &doubt->bought);
    if (status)
        dregs_tally_doubt_free(&doubt->shown);
    else
        *made = doubt;
    return status;
}

dregs_status dregs_tally_doubt_ask(const dregs_tally_result *answer,
                                   const dregs_doubt_request *request, dregs_tally_doubt **made,
                                   dregs_faults *faults)
{
    struct doubt *first = NULL;
    dregs_status status;
    unsigned i, rows;

    status = ask_line(answer, 0, request, &first, faults);
    if (status)
        return status;
    rows = first->shown.run.rows;
    for (i = 1; i < answer->question.lines && !status; i++) {
        status = ask_line(answer, i, request, &first->other[i], faults);
        rows += status ? 0 : first->other[i]->shown.run.rows;
    }
    if (status || !rows) { /* with no row nothing is in doubt */
        dregs_tally_doubt_free(&first->shown);
        first = NULL;
    }
    if (!status)
        *made = first ? &first->shown : NULL;
    return status;
}

/* ---- what is shown ---- */

dregs_status dregs_tally_doubt_range(const dregs_tally_doubt *shown, dregs_tally_doubtful what,
                                     unsigned index, dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    if ((unsigned)what >= DREGS_TALLY_RANGES || index >= size_of(doubt, what))
        return DREGS_DOMAIN;
    return doubt->kept.counts
               ? dregs_ensemble_range_of(doubt->kept.counts, doubt->begin[what] + index, range)
               : DREGS_UNKNOWN;
}

dregs_status dregs_tally_doubt_stream(const dregs_tally_doubt *shown, dregs_tally_kind kind,
                                      unsigned index, dregs_stream stream, unsigned stage,
                                      unsigned period, dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;
    const struct tally_cell which = {stage, period, index, kind, stream};
    unsigned at = dregs_answer_tally_cell_at(&doubt->cells, &which);

    return at < doubt->cells.count && doubt->kept.counts
               ? dregs_ensemble_range_of(doubt->kept.counts, doubt->begin[STREAMS] + at, range)
               : DREGS_UNKNOWN;
}

static const struct doubt *of_line(const dregs_tally_doubt *shown, unsigned line)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return !line ? doubt : line < DREGS_TALLY_LINES_MOST ? doubt->other[line] : NULL;
}

const dregs_doubt_run *dregs_tally_doubt_run_of(const dregs_tally_doubt *shown, unsigned line)
{
    const struct doubt *doubt = of_line(shown, line);

    return doubt ? &doubt->shown.run : NULL;
}

dregs_status dregs_tally_doubt_figure(const dregs_tally_doubt *shown, unsigned line,
                                      unsigned figure, dregs_ensemble_range *range)
{
    const struct doubt *doubt = of_line(shown, line);

    return doubt ? dregs_tally_doubt_range(&doubt->shown, DREGS_TALLY_RANGE_FIGURE, figure, range)
                 : DREGS_DOMAIN;
}

static dregs_status met_of(const struct doubt *doubt, unsigned block, unsigned index,
                           dregs_ensemble_estimate *met)
{
    return index < size_of(doubt, block) && doubt->kept.counts
               ? dregs_ensemble_met(doubt->kept.counts, doubt->begin[block] + index, met)
               : DREGS_DOMAIN;
}

dregs_status dregs_tally_doubt_plan_met(const dregs_tally_doubt *shown, unsigned plan,
                                        dregs_law_activity activity, dregs_ensemble_estimate *met)
{
    return plan < PLANS && (unsigned)activity < PLANS
               ? met_of((const struct doubt *)shown, PLANS_MET, PLANS * plan + (unsigned)activity,
                        met)
               : DREGS_DOMAIN;
}

dregs_status dregs_tally_doubt_machine_met(const dregs_tally_doubt *shown, unsigned machine,
                                           dregs_ensemble_estimate *met)
{
    return met_of((const struct doubt *)shown, MACHINES_MET, machine, met);
}

const dregs_tally_bought_liquid *dregs_tally_doubt_liquid(const dregs_tally_doubt *shown,
                                                          unsigned fluid)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return fluid < doubt->bought.liquids ? &doubt->bought.liquid[fluid] : NULL;
}

/* The deviation of both sides with that of the draws. A spread that moves nothing is none. */
static void add_draws(const struct doubt *doubt, unsigned figure, dregs_tally_both *f)
{
    dregs_ensemble_figure of = {.sd = NAN};

    if (doubt->kept.counts)
        (void)dregs_ensemble_figure_of(doubt->kept.counts, figure, &of);
    (void)dregs_unexplained_work(f->measured, f->unexplained.sd_measured,
                                 f->unexplained.sd_stock * sqrt(6.0), f->modelled,
                                 of.sd > 1e-12 * fabs(f->modelled) ? of.sd : NAN, &f->unexplained);
    f->scatter = !(f->unexplained.ratio > 2);
}

dregs_status dregs_tally_doubt_recorded(const dregs_tally_doubt *shown, unsigned number,
                                        dregs_tally_recorded figure, dregs_tally_both *both)
{
    const struct doubt *doubt = (const struct doubt *)shown;
    const dregs_tally_actual *actual = doubt->answer->actual;
    const dregs_tally_record *record = actual ? dregs_tally_actual_record(actual, number) : NULL;

    if (!record || (unsigned)figure >= DREGS_TALLY_RECORDEDS)
        return DREGS_DOMAIN;
    *both = record->figure[figure];
    add_draws(doubt, doubt->begin[RECORDED] + number * DREGS_TALLY_RECORDEDS + figure, both);
    return DREGS_OK;
}

/* The months of the model are those of its year. */
dregs_status dregs_tally_doubt_log_month(const dregs_tally_doubt *shown, unsigned solvent,
                                         unsigned month, dregs_tally_both *both)
{
    const struct doubt *doubt = (const struct doubt *)shown;
    const dregs_tally_actual *actual = doubt->answer->actual;
    const dregs_tally_log_month *m =
        actual ? dregs_tally_actual_log_month(actual, solvent, month) : NULL;

    if (!m)
        return DREGS_DOMAIN;
    *both = m->emission;
    add_draws(doubt, doubt->begin[LOGGED] + 1 + solvent * DREGS_MONTHS + m->month - 1, both);
    return DREGS_OK;
}

dregs_status dregs_tally_doubt_log_sum(const dregs_tally_doubt *shown, unsigned sum,
                                       dregs_tally_both *both)
{
    const struct doubt *doubt = (const struct doubt *)shown;
    const dregs_tally_actual *actual = doubt->answer->actual;
    const dregs_tally_log_sum *s = actual ? dregs_tally_actual_log_sum(actual, sum) : NULL;

    if (!s)
        return DREGS_DOMAIN;
    *both = s->counted;
    add_draws(doubt, doubt->begin[LOGGED], both);
    return DREGS_OK;
}

const dregs_tally_spread *dregs_tally_doubt_spread(const dregs_tally_doubt *shown, unsigned index)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return index < doubt->bought.spreads ? &doubt->bought.spread[index] : NULL;
}

dregs_status dregs_tally_doubt_waste_same(const dregs_tally_doubt *shown, unsigned waste,
                                          dregs_ensemble_estimate *same)
{
    return met_of((const struct doubt *)shown, WASTES_SAME, waste, same);
}

dregs_status dregs_tally_doubt_month_same(const dregs_tally_doubt *shown, unsigned month,
                                          dregs_ensemble_estimate *same)
{
    return met_of((const struct doubt *)shown, MONTHS_SAME, month, same);
}
