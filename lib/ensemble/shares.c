/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* shares.c: the share of a function's variance that each of its inputs explains.
 *
 * Two points A and B, and for each input the point A with that input from B (Sobol' 1993; Saltelli
 * et al., Comput. Phys. Commun. 181 (2010) 259). By itself an input explains the correlation of
 * f(B) with f(that point), which have it alone in common (Janon et al., ESAIM Probab. Stat. 18
 * (2014) 342); with all interactions it explains half the mean square of f(A) - f(that point)
 * (Jansen, Comput. Phys. Commun. 117 (1999) 35). The one is sure of an input that does nearly all,
 * the other of one that does little. Where they are not, the mean product of f(B) with f(that
 * point) - f(A) stands for the first (Saltelli), and that of f(A) with f(that point) - f(B), which
 * is what all others explain, for the second: differences that are small where it counts. All cited
 * from memory; the tests hold them against functions whose shares are known.
 *
 * The points are those of Sobol's sequence, moved by a random vector in each part (Cranley and
 * Patterson, SIAM J. Numer. Anal. 13 (1976) 904), or random ones where there are too many inputs
 * for it. The errors are those of the jackknife over the parts.
 */
#include "ensemble/ensemble.h"
#include "ensemble/inside.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_qrng.h>

enum { SOBOL_MOST = 40 }; /* dimensions of GSL's sequence */

struct run {
    const struct ensemble_question *question;
    unsigned points, threads;
    uint64_t seed;
    size_t width;  /* values of a point: A, B, and A with each input from B */
    double *value; /* parts x points x width */
};

/* Takes each `threads`th of the parts, with a context and two points of its own. */
struct worker {
    const struct run *run;
    unsigned part;
    void *mine;
    double *a, *b;
    gsl_qrng *sequence; /* NULL: too many inputs for it */
    dregs_status status;
};

/* The two points of a draw, inputs strictly between 0 and 1. */
static void draw(const struct worker *w, uint64_t number)
{
    unsigned inputs = w->run->question->inputs, i;
    double x[SOBOL_MOST];

    if (w->sequence)
        gsl_qrng_get(w->sequence, x);
    for (i = 0; i < 2 * inputs; i++) {
        double *to = i < inputs ? &w->a[i] : &w->b[i - inputs];
        double u = dregs_ensemble_uniform(w->run->seed, w->sequence ? w->part : number, i);
        if (w->sequence)
            u = x[i] + u - floor(x[i] + u);
        *to = fmin(fmax(u, 0x1p-52), 1 - 0x1p-52);
    }
}

static dregs_status ask_all(struct worker *w, double *value)
{
    const struct ensemble_question *question = w->run->question;
    dregs_status status = question->ask(w->mine, w->a, &value[0]);
    unsigned i;

    if (!status)
        status = question->ask(w->mine, w->b, &value[1]);
    for (i = 0; i < question->inputs && !status; i++) {
        double own = w->a[i];
        w->a[i] = w->b[i];
        status = question->ask(w->mine, w->a, &value[2 + i]);
        w->a[i] = own;
    }
    return status;
}

/* Up to the first part that fails, which w->part then names. */
static void work(void *worker)
{
    struct worker *w = worker;
    const struct run *run = w->run;
    unsigned n;

    for (; w->part < ENSEMBLE_PARTS; w->part += run->threads) {
        if (w->sequence)
            gsl_qrng_init(w->sequence);
        for (n = 0; n < run->points && !w->status; n++) {
            uint64_t number = (uint64_t)w->part * run->points + n;
            draw(w, number);
            w->status = ask_all(w, run->value + number * run->width);
        }
        if (w->status)
            return;
    }
}

static dregs_status begin(struct worker *w, const struct run *run, unsigned number)
{
    const struct ensemble_question *question = run->question;

    w->run = run;
    w->part = number;
    w->mine = question->begin ? question->begin(question->context) : question->context;
    w->a = calloc(2u * question->inputs, sizeof *w->a);
    w->b = w->a ? w->a + question->inputs : NULL;
    if (2 * question->inputs <= SOBOL_MOST)
        w->sequence = gsl_qrng_alloc(gsl_qrng_sobol, 2 * question->inputs);
    return (question->begin && !w->mine) || !w->a ||
                   (2 * question->inputs <= SOBOL_MOST && !w->sequence)
               ? DREGS_NO_MEMORY
               : DREGS_OK;
}

static void end(struct worker *w)
{
    const struct ensemble_question *question = w->run->question;

    if (question->begin && w->mine)
        question->end(w->mine);
    if (w->sequence)
        gsl_qrng_free(w->sequence);
    free(w->a);
}

/* What the earliest part ended with that failed: the same for any number of threads. */
static dregs_status first_failure(const struct worker *worker, unsigned threads)
{
    dregs_status status = DREGS_OK;
    unsigned part = ENSEMBLE_PARTS, i;

    for (i = 0; i < threads; i++)
        if (worker[i].status && worker[i].part < part) {
            part = worker[i].part;
            status = worker[i].status;
        }
    return status;
}

static dregs_status evaluate(const struct run *run)
{
    struct worker worker[ENSEMBLE_PARTS] = {{0}};
    dregs_status status = DREGS_OK;
    unsigned made, i;

    for (made = 0; made < run->threads && !status; made++)
        status = begin(&worker[made], run, made);
    if (!status) {
        dregs_ensemble_in_threads(work, worker, sizeof *worker, run->threads);
        status = first_failure(worker, run->threads);
    }
    for (i = 0; i < made; i++)
        end(&worker[i]);
    return status;
}

/* What the parts sum up to, of one input: numerators and the variances below them. */
struct sums {
    double common[ENSEMBLE_PARTS], both[ENSEMBLE_PARTS], apart[ENSEMBLE_PARTS], all[ENSEMBLE_PARTS];
    double own[ENSEMBLE_PARTS], others[ENSEMBLE_PARTS];
};

static void sum_up(const struct run *run, unsigned input, double mean, struct sums *s)
{
    unsigned part, n;

    for (part = 0; part < ENSEMBLE_PARTS; part++) {
        s->common[part] = s->both[part] = s->apart[part] = s->all[part] = 0;
        s->own[part] = s->others[part] = 0;
        for (n = 0; n < run->points; n++) {
            const double *v = run->value + ((size_t)part * run->points + n) * run->width;
            double a = v[0] - mean, b = v[1] - mean, c = v[2 + input] - mean;
            s->common[part] += b * c;
            s->both[part] += (b * b + c * c) / 2;
            s->apart[part] += (a - c) * (a - c) / 2;
            s->all[part] += (a * a + b * b) / 2;
            s->own[part] += b * (c - a);
            s->others[part] += a * (c - b);
        }
    }
}

/* The ratio of two sums over parts, and its error. */
static double ratio(const double *above, const double *below, double *error)
{
    double over = 0, under = 0, mean = 0, squares = 0, without[ENSEMBLE_PARTS];
    int i;

    for (i = 0; i < ENSEMBLE_PARTS; i++) {
        over += above[i];
        under += below[i];
    }
    for (i = 0; i < ENSEMBLE_PARTS; i++) {
        without[i] = (over - above[i]) / (under - below[i]);
        mean += without[i] / ENSEMBLE_PARTS;
    }
    for (i = 0; i < ENSEMBLE_PARTS; i++)
        squares += (without[i] - mean) * (without[i] - mean);
    *error = sqrt(squares * (ENSEMBLE_PARTS - 1) / ENSEMBLE_PARTS);
    return over / under;
}

static void choose(const struct sums *sums, struct ensemble_share *share)
{
    double first = ratio(sums->common, sums->both, &share->first_error);
    double total = ratio(sums->apart, sums->all, &share->total_error);

    share->first = total < 0.5 ? ratio(sums->own, sums->all, &share->first_error) : first;
    share->total = first > 0.5 ? 1 - ratio(sums->others, sums->all, &share->total_error) : total;
}

static dregs_status reckon(const struct run *run, struct ensemble_share *shares)
{
    size_t count = (size_t)ENSEMBLE_PARTS * run->points, k;
    double mean = 0, least = INFINITY, most = -INFINITY;
    struct sums sums;
    unsigned i;

    for (k = 0; k < count; k++) {
        const double *v = run->value + k * run->width;
        mean += (v[0] + v[1]) / (2 * (double)count);
        least = fmin(least, fmin(v[0], v[1]));
        most = fmax(most, fmax(v[0], v[1]));
    }
    if (!isfinite(mean) || !(most - least > 1e-12 * fabs(mean)))
        return DREGS_DOMAIN;
    for (i = 0; i < run->question->inputs; i++) {
        sum_up(run, i, mean, &sums);
        choose(&sums, &shares[i]);
    }
    return DREGS_OK;
}

dregs_status dregs_ensemble_shares(const struct ensemble_question *question, unsigned points,
                                   uint64_t seed, struct ensemble_share *shares)
{
    struct run run = {question,
                      points,
                      dregs_ensemble_threads(question->threads, ENSEMBLE_PARTS),
                      seed,
                      question->inputs + 2u,
                      NULL};
    dregs_status status;

    if (!question->inputs || !points)
        return DREGS_DOMAIN;
    run.value = malloc((size_t)ENSEMBLE_PARTS * points * run.width * sizeof *run.value);
    if (!run.value)
        return DREGS_NO_MEMORY;
    status = evaluate(&run);
    if (!status)
        status = reckon(&run, shares);
    free(run.value);
    return status;
}
