/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* hangs_doubt.c: where the doubt about a residue comes from. */
#include "answer/hangs.h"
#include "dregs/ensemble.h"
#include "ensemble/ensemble.h"
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#define TAIL 1.6448536269514722 /* Phi of it is 0.95 */

/* Lines that are worked out for the shares, about, with USUAL draws: with others in proportion, up
 * to DRAWS_MOST. And the least of points in a part, with so many draws and with fewer. */
enum { LINES = 3600, USUAL = 1000, DRAWS_MOST = 16000, POINTS_LEAST = 16, POINTS_FEWEST = 4 };

/* An ensemble, seen as a function of the rows that are drawn by themselves. */
struct drawn_line {
    const dregs_line *line;
    const dregs_hangs_result *asked;
    const dregs_ensemble *ensemble;
    unsigned rows, inputs;
    unsigned *input; /* of each row: the place of the one whose draw it takes */
    unsigned *lead;  /* of each input: its row among those of the ensemble */
    double *z;       /* of each row: its place */
};

/* The same, with places of its own. */
static void *begin(void *context)
{
    const struct drawn_line *d = context;
    struct drawn_line *mine = malloc(sizeof *mine + d->rows * sizeof *mine->z);

    if (!mine)
        return NULL;
    *mine = *d;
    mine->z = (double *)(mine + 1);
    return mine;
}

static dregs_status residue_of(const struct drawn_line *d, double *residue)
{
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_residue left;
    dregs_status status = dregs_ensemble_line_at(d->ensemble, d->z, &line);

    if (!status)
        status = dregs_map_new(line, &map);
    if (!status)
        status = dregs_residue_at(map, &d->asked->load, &left);
    if (!status)
        *residue = dregs_residue_of(&left, d->asked->solute);
    dregs_map_free(map);
    dregs_line_free(line);
    return status;
}

static dregs_status at_point(void *mine, const double *input, double *residue)
{
    struct drawn_line *d = mine;
    unsigned i;

    for (i = 0; i < d->rows; i++)
        d->z[i] = gsl_cdf_ugaussian_Pinv(input[d->input[i]]);
    return residue_of(d, residue);
}

/* One input at z, the others as stated. */
static dregs_status at_one(struct drawn_line *d, unsigned input, double z, double *value,
                           double *residue)
{
    unsigned i;

    for (i = 0; i < d->rows; i++)
        d->z[i] = d->input[i] == input ? z : NAN;
    *value = dregs_ensemble_at(d->ensemble, d->lead[input], z);
    return residue_of(d, residue);
}

/* Which rows go with which: those that share no draw are the inputs. Each is named by the row whose
 * draw the others share, by the first of them where that is not drawn itself. */
static void find_inputs(struct drawn_line *d)
{
    unsigned i, k;

    for (i = 0; i < d->rows; i++) {
        const dregs_drawn *drawn = dregs_ensemble_row(d->ensemble, i);
        for (k = 0;
             k < d->inputs && dregs_ensemble_row(d->ensemble, d->lead[k])->shares != drawn->shares;
             k++)
            ;
        if (k == d->inputs)
            d->lead[d->inputs++] = i;
        else if (drawn->row == drawn->shares)
            d->lead[k] = i;
        d->input[i] = k;
    }
}

static int by_total(const void *a, const void *b)
{
    const dregs_hangs_doubt *one = a, *other = b;

    if (one->total != other->total)
        return one->total < other->total ? 1 : -1;
    if (one->row != other->row)
        return one->row < other->row ? -1 : 1;
    return (int)one->property - (int)other->property;
}

static unsigned points_of(const struct drawn_line *d, uint64_t asked)
{
    uint64_t draws = asked ? asked : dregs_ensemble_usual(d->line), points;
    unsigned least = draws < USUAL ? POINTS_FEWEST : POINTS_LEAST;

    if (draws > DRAWS_MOST)
        draws = DRAWS_MOST;
    points = LINES * draws / USUAL / ENSEMBLE_PARTS / (d->inputs + 2);
    return points > least ? (unsigned)points : least;
}

static dregs_status work_out(struct drawn_line *d, uint64_t seed, uint64_t draws, unsigned threads,
                             dregs_hangs_doubt *doubt)
{
    const struct ensemble_question question = {d->inputs, threads, at_point, begin, free, d};
    struct ensemble_share *shares = calloc(d->inputs, sizeof *shares);
    unsigned i, k;
    dregs_status status = shares ? DREGS_OK : DREGS_NO_MEMORY;

    if (!status)
        status = dregs_ensemble_shares(&question, points_of(d, draws), seed, shares);
    for (i = 0; i < d->inputs && !status; i++) {
        doubt[i].row = dregs_ensemble_row(d->ensemble, d->lead[i])->row;
        doubt[i].liquid = dregs_ensemble_row(d->ensemble, d->lead[i])->liquid;
        doubt[i].property = dregs_ensemble_row(d->ensemble, d->lead[i])->property;
        for (k = 0; k < d->rows; k++)
            doubt[i].rows += d->input[k] == i;
        doubt[i].first = shares[i].first;
        doubt[i].first_error = shares[i].first_error;
        doubt[i].total = shares[i].total;
        doubt[i].total_error = shares[i].total_error;
        status = at_one(d, i, -TAIL, &doubt[i].low_value, &doubt[i].low);
        if (!status)
            status = at_one(d, i, TAIL, &doubt[i].high_value, &doubt[i].high);
    }
    free(shares);
    return status;
}

dregs_status dregs_answer_hangs_doubt(struct hangs_answer *answer, const dregs_line *line,
                                      uint64_t seed, uint64_t draws, unsigned threads)
{
    dregs_hangs_result *result = &answer->shown;
    struct drawn_line d = {.line = line, .asked = result};
    dregs_ensemble *ensemble = NULL;
    dregs_status status;

    if (!result->values)
        return DREGS_OK;
    status = dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, seed, &ensemble, NULL);
    d.ensemble = ensemble;
    d.rows = status ? 0 : dregs_ensemble_rows(ensemble);
    if (status || !d.rows) {
        dregs_ensemble_free(ensemble);
        return status == DREGS_NO_MEMORY ? status : DREGS_OK;
    }
    d.input = calloc(2u * d.rows, sizeof *d.input);
    d.z = calloc(d.rows, sizeof *d.z);
    answer->doubt = calloc(d.rows, sizeof *answer->doubt);
    if (!d.input || !d.z || !answer->doubt)
        status = DREGS_NO_MEMORY;
    if (!status) {
        d.lead = d.input + d.rows;
        find_inputs(&d);
        status = work_out(&d, seed, draws, threads, answer->doubt);
    }
    if (!status) {
        result->doubts = d.inputs;
        qsort(answer->doubt, d.inputs, sizeof *answer->doubt, by_total);
    }
    free(d.input);
    free(d.z);
    dregs_ensemble_free(ensemble);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

const dregs_hangs_doubt *dregs_hangs_result_doubt(const dregs_hangs_result *result, unsigned index)
{
    return index < result->doubts ? &((const struct hangs_answer *)result)->doubt[index] : NULL;
}
