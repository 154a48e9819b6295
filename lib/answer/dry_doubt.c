/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_doubt.c: how sure a drying is: the same request asked of many draws, of the line's values
 * with a spread and of the properties of the liquids, each by its accuracy.
 *
 * The figures of a draw stand in blocks, one for each dregs_dry_doubtful with a place for each
 * drying; behind them, for each drying, whether it is late, and whether any of them does not pass:
 * 0 or 1. A film that never dries counts with DREGS_DRY_MOST, as far as it was followed.
 */
#include "answer/draws.h"
#include "answer/dry.h"
#include "dry/dry.h"
#include "ensemble/ensemble.h"

#include <math.h>
#include <stdlib.h>

struct doubt {
    dregs_dry_doubt shown; /* the first member: the user's pointer is ours */
    struct draws_kept kept;
    const struct dry_answer *answer;
};

void dregs_dry_doubt_free(dregs_dry_doubt *shown)
{
    struct doubt *doubt = (struct doubt *)shown;

    if (!doubt)
        return;
    dregs_answer_draws_free(&doubt->kept);
    free(doubt);
}

/* A film takes 0.4 to 0.9 ms on the machine that this was measured on, a bead as long again. */
uint64_t dregs_dry_doubt_usual(const dregs_dry_result *result)
{
    enum { FILMS = 350, LEAST = 25 };
    static const unsigned draws[] = {200, 100, 50};
    unsigned i, films = result->rows;

    for (i = 0; i < result->rows; i++)
        films += isfinite(dregs_dry_result_row(result, i)->bead) ? 1 : 0;
    for (i = 0; i < sizeof draws / sizeof draws[0]; i++)
        if (draws[i] * films <= FILMS)
            return draws[i];
    return LEAST;
}

/* ---- where the figures stand ---- */

static unsigned figure_of(const struct doubt *doubt, unsigned block, unsigned row)
{
    return block * doubt->answer->result.rows + row;
}

enum { LATE = DREGS_DRY_RANGES, BLOCKS };

static unsigned fails_of(const struct doubt *doubt)
{
    return figure_of(doubt, BLOCKS, 0);
}

/* ---- what is drawn ---- */

/* What a drying takes of its liquids, the water of the air among them. */
static const dregs_property of_films[] = {
    DREGS_VAPOUR_PRESSURE, DREGS_DENSITY,    DREGS_HEAT_OF_VAPORISATION, DREGS_HEAT_CAPACITY,
    DREGS_DIFFUSIVITY,     DREGS_MOLAR_MASS, DREGS_LOWER_LIMIT};

enum { OF_FILM = sizeof of_films / sizeof of_films[0] };

static size_t list_taken(const struct dry_answer *answer, dregs_liquid_property *taken)
{
    size_t count = answer->line ? dregs_line_taken(answer->line, DREGS_ASKED_DRYING, taken) : 0;
    unsigned i, k, p;

    for (i = 0; i < answer->result.rows; i++)
        for (k = 0; k < answer->row[i].drying.volatiles; k++)
            for (p = 0; p < OF_FILM; p++)
                taken[count++] =
                    (dregs_liquid_property){answer->row[i].drying.liquid[k], of_films[p]};
    return count;
}

static dregs_status make_ensemble(struct doubt *doubt, uint64_t seed, dregs_faults *faults)
{
    const struct dry_answer *answer = doubt->answer;
    size_t most = (answer->line ? dregs_line_taken(answer->line, DREGS_ASKED_DRYING, NULL) : 0) +
                  (size_t)answer->result.rows * DREGS_VOLATILES * OF_FILM;
    dregs_liquid_property *taken = malloc(most * sizeof *taken);
    dregs_status status;

    if (!taken)
        return DREGS_NO_MEMORY;
    status =
        dregs_ensemble_new_with(answer->line, DREGS_ASKED_DRYING, answer->liquids, taken,
                                list_taken(answer, taken), seed, &doubt->kept.ensemble, faults);
    free(taken);
    return status;
}

/* ---- one draw ---- */

/* A thread's own place for the dryings of a draw. */
struct draw {
    const struct doubt *doubt;
    struct dry_answer answer;
};

static void *begin(void *context)
{
    const struct doubt *doubt = context;
    struct draw *mine = calloc(1, sizeof *mine);

    if (!mine)
        return NULL;
    mine->doubt = doubt;
    mine->answer.request = doubt->answer->request;
    mine->answer.mixtures = doubt->answer->mixtures;
    mine->answer.tolerance = DREGS_DRY_DRAWN_TOLERANCE;
    mine->answer.drawn = 1;
    return mine;
}

static void end(void *mine)
{
    dregs_answer_dry_clear(&((struct draw *)mine)->answer);
    free(mine);
}

static void put_row(const struct doubt *doubt, const dregs_dry_row *row, unsigned i, double *into)
{
    const dregs_drying *drying = &row->drying;
    const double figures[BLOCKS] = {
        [DREGS_DRY_RANGE_TIME] = drying->dry ? row->time : DREGS_DRY_MOST,
        [DREGS_DRY_RANGE_FILM] = drying->dry ? drying->time : DREGS_DRY_MOST,
        [DREGS_DRY_RANGE_BEAD] = row->bead,
        [DREGS_DRY_RANGE_RECESS] = row->recess,
        [DREGS_DRY_RANGE_PEAK] = isfinite(row->peak)    ? row->peak
                                 : row->film.volume > 0 ? drying->peak
                                                        : NAN,
        [LATE] = drying->dry && !row->late ? 0 : 1};
    unsigned k;

    for (k = 0; k < BLOCKS; k++)
        into[figure_of(doubt, k, i)] = figures[k];
}

static dregs_status ask(void *user, const dregs_line *drawn, const dregs_liquids *liquids,
                        double *into)
{
    struct draw *mine = user;
    struct dry_answer *answer = &mine->answer;
    char message[DREGS_DRY_MESSAGE] = "";
    dregs_status status;
    unsigned i;

    dregs_answer_dry_clear(answer);
    answer->line = drawn;
    answer->liquids = liquids;
    answer->message = message;
    status = dregs_answer_dry_rows(answer);
    answer->message = NULL;
    if (status)
        return status;
    if (answer->result.rows != mine->doubt->answer->result.rows) /* a film that is all blown off */
        return DREGS_UNKNOWN;
    for (i = 0; i < answer->result.rows; i++)
        put_row(mine->doubt, &answer->row[i], i, into);
    into[fails_of(mine->doubt)] = !answer->result.passes;
    return DREGS_OK;
}

/* ---- all draws ---- */

static dregs_status run(struct doubt *doubt, const dregs_doubt_request *asked)
{
    unsigned count = fails_of(doubt) + 1, i;
    double *most = malloc(count * sizeof *most);
    const struct draws_question question = {.figures = count,
                                            .most = most,
                                            .ask_with = ask,
                                            .context = doubt,
                                            .begin = begin,
                                            .end = end};
    dregs_status status;

    if (!most)
        return DREGS_NO_MEMORY;
    for (i = 0; i < count; i++)
        most[i] = i >= figure_of(doubt, LATE, 0) ? 0.5 : NAN;
    status = dregs_answer_draws_ask(asked, &question, &doubt->kept, &doubt->shown.run);
    free(most);
    return status;
}

static void conclude(struct doubt *doubt)
{
    const dregs_line *line = doubt->answer->line;
    dregs_dry_doubt *shown = &doubt->shown;

    (void)dregs_ensemble_met(doubt->kept.counts, fails_of(doubt), &shown->passes);
    shown->confidence = line && dregs_line_target(line)->confidence.row
                            ? dregs_line_target(line)->confidence.si
                            : NAN;
    shown->sure = shown->passes.low >= shown->confidence;
    shown->decided = shown->sure || shown->passes.high < shown->confidence;
}

dregs_status dregs_dry_doubt_ask(const dregs_dry_result *result, const dregs_doubt_request *request,
                                 dregs_dry_doubt **made, dregs_faults *faults)
{
    dregs_doubt_request asked;
    void *room;
    struct doubt *doubt;
    dregs_status status = dregs_answer_draws_begin(request, sizeof *doubt, &asked, &room, faults);

    if (status)
        return status;
    doubt = room;
    doubt->answer = (const struct dry_answer *)(const void *)result;
    status = make_ensemble(doubt, asked.seed, faults);
    if (!status)
        status = run(doubt, &asked);
    if (status || !doubt->shown.run.rows) { /* nothing is in doubt */
        dregs_dry_doubt_free(&doubt->shown);
        if (!status)
            *made = NULL;
        return status;
    }
    conclude(doubt);
    *made = &doubt->shown;
    return DREGS_OK;
}

/* ---- what is shown ---- */

static int has(const struct doubt *doubt, dregs_dry_doubtful what, unsigned row)
{
    return (unsigned)what < DREGS_DRY_RANGES && row < doubt->answer->result.rows;
}

dregs_status dregs_dry_doubt_range(const dregs_dry_doubt *shown, dregs_dry_doubtful what,
                                   unsigned row, dregs_ensemble_range *range)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return has(doubt, what, row)
               ? dregs_ensemble_range_of(doubt->kept.counts, figure_of(doubt, what, row), range)
               : DREGS_DOMAIN;
}

dregs_status dregs_dry_doubt_quantile(const dregs_dry_doubt *shown, dregs_dry_doubtful what,
                                      unsigned row, double share, dregs_ensemble_estimate *at)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return has(doubt, what, row)
               ? dregs_ensemble_quantile(doubt->kept.counts, figure_of(doubt, what, row), share, at)
               : DREGS_DOMAIN;
}

dregs_status dregs_dry_doubt_in_time(const dregs_dry_doubt *shown, unsigned row,
                                     dregs_ensemble_estimate *share)
{
    const struct doubt *doubt = (const struct doubt *)shown;

    return row < doubt->answer->result.rows
               ? dregs_ensemble_met(doubt->kept.counts, figure_of(doubt, LATE, row), share)
               : DREGS_DOMAIN;
}
