/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* hangs.c: what the residue of a load hangs on, by differences of the line computed anew.
 *
 * The differences are central ones of ln(residue) over ln(value), over ln(1 - value) of a share
 * above one half, over a temperature. They are taken with a step and with half of it and
 * extrapolated (Richardson 1911); where the two do not agree, or the slopes of the two sides do not
 * come together as the step does, the step is made shorter, and where that does not help either
 * there is a kink: the sides are taken by themselves.
 */
#include "answer/hangs.h"
#include "dregs/ensemble.h"
#include "line/line.h"
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_STEP  0x1p-6 /* the extrapolated error is some (1/64)^4 */
#define SHORTER     0.125
#define AGREE       1e-3 /* of the effect, or of SMALL where that is more */
#define SMALL       1e-2
#define NO_EFFECT   1e-9 /* of elasticities: rounding over the first step */
#define DUMPS_MOST  20000
#define PERIOD_MOST 20000

enum { SHORTENED_MOST = 4 }; /* to 4e-6: rounding of 1e-12 is then 1e-6 of the effect */

/* One question: the residue of a load, with one value changed. */
struct question {
    const dregs_line *line;
    int solute;
    const dregs_worst *load;
    uint64_t loads;
    double residue; /* as the file has it */
};

/* ---- one residue ---- */

/* The line with another value of a row, or a property times that. */
static dregs_status change(const dregs_line *line, const dregs_hangs_value *v, double si,
                           dregs_line **changed)
{
    dregs_setting setting = {v->row, NULL, NULL, si};
    dregs_liquids *scaled;
    dregs_status status;

    if (!v->liquid)
        return dregs_line_with(line, &setting, 1, changed, NULL);
    status = dregs_liquids_scaled(dregs_line_liquids(line), v->liquid, v->property, si, &scaled);
    if (status)
        return status;
    status = dregs_line_drawn(line, scaled, NULL, 0, changed, NULL);
    if (status)
        dregs_liquids_free(scaled);
    return status;
}

/* With a value put in; NaN where the line cannot be so. Only lack of memory is a failure. */
static dregs_status residue_with(const struct question *q, const dregs_hangs_value *v, double si,
                                 int anew, double *into)
{
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_worst worst;
    dregs_residue left;
    dregs_status status = change(q->line, v, si, &line);

    *into = NAN;
    if (!status)
        status = dregs_map_new(line, &map);
    if (!status && anew) {
        status = dregs_residue_worst(map, q->solute, q->loads, &worst);
        *into = status ? NAN : worst.residue;
    } else if (!status) {
        status = dregs_residue_at(map, q->load, &left);
        *into = status ? NAN : dregs_residue_of(&left, q->solute);
    }
    dregs_map_free(map);
    dregs_line_free(line);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* ---- differences ---- */

/* The value `t` steps of its own kind away. */
static double moved(const dregs_hangs_value *v, double t)
{
    switch (v->change) {
    case DREGS_HANGS_REMAINDER:
        return 1 - (1 - v->value.si) * exp(t);
    case DREGS_HANGS_KELVIN:
        return v->value.si + t;
    default:
        return v->value.si * exp(t);
    }
}

/* ln of the residue over that of the file; NaN where there is none. */
static dregs_status ask(const struct question *q, const dregs_hangs_value *v, double t,
                        double *residue, double *change)
{
    dregs_status status = residue_with(q, v, moved(v, t), 0, residue);

    *change = *residue > 0 ? log(*residue / q->residue) : NAN;
    return status;
}

/* Slopes with the step and with half of it. */
struct slopes {
    double whole, half;
    double jump; /* by which the slopes of the sides differ at no step at all */
};

static double extrapolated(struct slopes s)
{
    return (4 * s.half - s.whole) / 3;
}

static double disagreement(struct slopes s)
{
    return fabs(s.half - s.whole) / 3;
}

static int agree(struct slopes s)
{
    return fmax(disagreement(s), fabs(s.jump)) <= AGREE * fmax(fabs(s.half), SMALL);
}

/* Central slopes, and those of the sides alone (of second order), from ln at 2, 1, -1, -2 half
 * steps. */
static dregs_status find_slopes(const struct question *q, dregs_hangs_value *v, struct slopes *both,
                                struct slopes *up, struct slopes *down)
{
    static const double at[] = {1, 0.5, -0.5, -1};
    double y[4], quarter[2], residue, h = v->step;
    dregs_status status = DREGS_OK;
    int i;

    for (i = 0; i < 4 && !status; i++)
        status = ask(q, v, at[i] * h, &v->residue[i], &y[i]);
    both->whole = (y[0] - y[3]) / (2 * h);
    both->half = (y[1] - y[2]) / h;
    both->jump = 2 * (y[1] + y[2]) / (0.5 * h) - (y[0] + y[3]) / h;
    if (status || (isfinite(both->whole) && agree(*both)))
        return status;
    status = ask(q, v, 0.25 * h, &residue, &quarter[0]);
    if (!status)
        status = ask(q, v, -0.25 * h, &residue, &quarter[1]);
    up->whole = (4 * y[1] - y[0]) / h;
    up->half = (4 * quarter[0] - y[1]) / (0.5 * h);
    down->whole = (4 * y[2] - y[3]) / -h;
    down->half = (4 * quarter[1] - y[2]) / (-0.5 * h);
    return status;
}

static void settle(dregs_hangs_value *v, struct slopes s)
{
    double per = v->change == DREGS_HANGS_KELVIN ? 1 : 0.01;

    v->effect = extrapolated(s) * per;
    v->uncertainty = disagreement(s) * per;
}

/* The effect of a small change, with the step that its error asks for. */
static dregs_status differentiate(const struct question *q, dregs_hangs_value *v)
{
    struct slopes both = {NAN, NAN, 0}, up = both, down = both;
    dregs_status status = DREGS_OK;
    int i;

    for (i = 0, v->step = FIRST_STEP; i <= SHORTENED_MOST; i++, v->step *= SHORTER) {
        status = find_slopes(q, v, &both, &up, &down);
        if (status)
            return status;
        if (isfinite(extrapolated(both)) && agree(both)) {
            settle(v, both);
            return DREGS_OK;
        }
        v->one_sided = !isfinite(extrapolated(both));
        if (v->one_sided && isfinite(extrapolated(up)) && agree(up)) {
            settle(v, up);
            return DREGS_OK;
        }
        if (v->one_sided && isfinite(extrapolated(down)) && agree(down)) {
            settle(v, down);
            return DREGS_OK;
        }
    }
    v->step /= SHORTER;
    if (!isfinite(up.half) && !isfinite(down.half))
        return DREGS_OK; /* no neighbour: no effect that could be told */
    v->kink = !v->one_sided;
    settle(v, !isfinite(down.half) || fabs(up.half) >= fabs(down.half) ? up : down);
    return DREGS_OK;
}

/* ---- whole numbers ---- */

/* Would the dumps fall together soon enough for a search? */
static dregs_status short_enough(const struct question *q, unsigned row, double si, int *good)
{
    dregs_setting setting = {row, NULL, NULL, si};
    dregs_line *line = NULL;
    dregs_status status = dregs_line_with(q->line, &setting, 1, &line, NULL);

    *good = !status && dregs_line_period(line) <= PERIOD_MOST;
    dregs_line_free(line);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK; /* no such line: none that is short */
}

static dregs_status count_one(const struct question *q, dregs_hangs_value *v, unsigned *left_out)
{
    double step = 1, residue = NAN;
    int good;
    dregs_status status = short_enough(q, v->row, v->value.si + 1, &good);

    if (!status && !good) {
        step = -1;
        if (v->value.si > 1)
            status = short_enough(q, v->row, v->value.si - 1, &good);
        if (!status && !good) {
            ++*left_out;
            return DREGS_OK;
        }
    }
    if (status)
        return status;
    status = residue_with(q, v, v->value.si + step, 1, &residue);
    v->change = step > 0 ? DREGS_HANGS_MORE : DREGS_HANGS_FEWER;
    v->step = 1;
    v->residue[step > 0 ? 0 : 3] = residue;
    v->effect = residue / q->residue - 1;
    return status;
}

/* ---- all values ---- */

static dregs_status work_out(const struct question *q, dregs_hangs_value *v, dregs_number_form form,
                             unsigned *left_out)
{
    if (form == DREGS_FORM_COUNT)
        return count_one(q, v, left_out);
    v->change = form == DREGS_FORM_TEMPERATURE ? DREGS_HANGS_KELVIN : DREGS_HANGS_PERCENT;
    if (form == DREGS_FORM_SHARE && v->value.si > 0.5 && v->value.si < 1)
        v->change = DREGS_HANGS_REMAINDER;
    if (!(v->value.si > 0))
        return DREGS_OK; /* a per cent of nothing */
    return differentiate(q, v);
}

static int by_effect(const void *a, const void *b)
{
    const dregs_hangs_value *one = a, *other = b;
    double left = fabs(one->effect), right = fabs(other->effect);

    if (left != right)
        return left < right ? 1 : -1;
    if (one->row != other->row)
        return one->row < other->row ? -1 : 1;
    return one->property < other->property ? -1 : one->property > other->property;
}

/* Dumps in a period: what a walk through it costs. */
static double dumps_of(const dregs_line *line)
{
    double sum = 0;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->dump_every.row)
            sum += (double)dregs_line_period(line) / stage->dump_every.si;
    }
    return sum;
}

static void keep(struct hangs_answer *answer, const dregs_hangs_value *v)
{
    if (isfinite(v->effect) && fabs(v->effect) > NO_EFFECT)
        answer->value[answer->shown.values++] = *v;
}

/* A property that the answer is worked out with. Of most of them nothing changes: one look. */
static dregs_status fill_property(struct hangs_answer *answer, const struct question *q,
                                  const dregs_liquid_property *taken)
{
    dregs_hangs_value v = {.value.si = 1,
                           .residue = {NAN, NAN, NAN, NAN},
                           .change = DREGS_HANGS_PERCENT,
                           .liquid = dregs_liquids_find(dregs_line_liquids(q->line), taken->liquid),
                           .property = taken->property};
    double residue;
    dregs_status status;

    if (!v.liquid)
        return DREGS_OK;
    status = residue_with(q, &v, exp(FIRST_STEP), 0, &residue);
    if (status || fabs(residue - q->residue) <= NO_EFFECT * FIRST_STEP * q->residue)
        return status;
    status = differentiate(q, &v);
    if (!status)
        keep(answer, &v);
    return status;
}

static dregs_status fill_properties(struct hangs_answer *answer, const struct question *q)
{
    unsigned count = dregs_line_taken(q->line, DREGS_ASKED_RESIDUE, NULL), i, k;
    dregs_liquid_property *taken = malloc((count + 1) * sizeof *taken);
    dregs_status status = taken ? DREGS_OK : DREGS_NO_MEMORY;

    if (taken)
        (void)dregs_line_taken(q->line, DREGS_ASKED_RESIDUE, taken);
    for (i = 0; i < count && !status; i++) {
        for (k = 0; k < i; k++)
            if (taken[k].property == taken[i].property &&
                strcmp(taken[k].liquid, taken[i].liquid) == 0)
                break;
        if (k == i)
            status = fill_property(answer, q, &taken[i]);
    }
    free(taken);
    return status;
}

static dregs_status fill(struct hangs_answer *answer, const struct question *q)
{
    dregs_status status = DREGS_OK;
    unsigned row;

    for (row = 1; row <= dregs_line_rows(q->line) && !status; row++) {
        dregs_number_form form = dregs_line_number_form(q->line, row);
        dregs_hangs_value v = {.row = row, .residue = {NAN, NAN, NAN, NAN}};
        if (form == DREGS_FORM_NONE || dregs_line_value(q->line, row, &v.value))
            continue;
        status = work_out(q, &v, form, &answer->shown.left_out);
        if (!status)
            keep(answer, &v);
    }
    if (!status)
        status = fill_properties(answer, q);
    qsort(answer->value, answer->shown.values, sizeof *answer->value, by_effect);
    return status;
}

dregs_status dregs_hangs_answer(const dregs_line *line, int solute, const dregs_worst *load,
                                uint64_t loads, uint64_t seed, uint64_t draws, unsigned threads,
                                dregs_hangs_result **result)
{
    struct question q = {line, solute, load, loads, 0};
    struct hangs_answer *answer;
    dregs_map *map = NULL;
    dregs_residue left;
    dregs_status status;

    if (solute < DREGS_EVERY_SOLUTE || solute >= (int)dregs_line_solutes(line) || load->load < 1 ||
        load->load > DREGS_LOADS_MOST || loads > DREGS_LOADS_MOST || draws > DREGS_DRAWS_MOST ||
        threads > DREGS_THREADS_MOST)
        return DREGS_DOMAIN;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->shown.solute = solute;
    answer->shown.load = *load;
    answer->shown.too_long = dumps_of(line) > DUMPS_MOST;
    answer->value =
        calloc(dregs_line_rows(line) + dregs_line_taken(line, DREGS_ASKED_RESIDUE, NULL) + 1u,
               sizeof *answer->value);
    status = answer->value ? dregs_map_new(line, &map) : DREGS_NO_MEMORY;
    if (!status)
        status = dregs_residue_at(map, load, &left);
    dregs_map_free(map);
    q.residue = status ? NAN : dregs_residue_of(&left, solute);
    if (!status && q.residue > 0 && !answer->shown.too_long)
        status = fill(answer, &q);
    if (!status && seed)
        status = dregs_answer_hangs_doubt(answer, line, seed, draws, threads);
    if (status)
        dregs_hangs_result_free(&answer->shown);
    else
        *result = &answer->shown;
    return status;
}

void dregs_hangs_result_free(dregs_hangs_result *result)
{
    struct hangs_answer *answer = (struct hangs_answer *)result;

    if (!answer)
        return;
    free(answer->value);
    free(answer->doubt);
    free(answer);
}

const dregs_hangs_value *dregs_hangs_result_value(const dregs_hangs_result *result, unsigned index)
{
    return index < result->values ? &((const struct hangs_answer *)result)->value[index] : NULL;
}
