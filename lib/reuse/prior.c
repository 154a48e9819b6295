/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* prior.c: what is believed of a line's unknowns before its log, from the spreads of its file, and
 * the factors that stand for them, before and after.
 *
 * The film of each stage has a factor of its own, with the spread that the file states for it.
 * Stages whose spreads share one draw (the column `with`) go together. The soil that comes and what
 * of it stays on the parts are sought apart: a rinse that is read tells of the one and not of the
 * other.
 */
#include "line/line.h"
#include "reuse/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define ASSUMED_DRAG_OUT 0.30
#define ASSUMED_SOIL     0.50
#define SPREAD_LEAST     0.01 /* nobody knows a drag-out better, and certainty cannot be corrected */
#define TOGETHER         0.999 /* correlation of what shares a draw: of 1 there is no inverse */

static double share_of(dregs_value value)
{
    return value.sd > 0 && value.si > 0 ? value.sd / value.si : 0.0;
}

/* The largest spread that the file states for the film of a stage, of any kind of load, and its
 * row. */
static double stated_drag_out(const dregs_line *line, unsigned index, unsigned *row)
{
    double most = 0;
    unsigned k, i;

    *row = 0;
    for (k = 0; k < dregs_line_kinds(line); k++) {
        const dregs_stage *stage = dregs_line_stage(dregs_line_of_kind(line, k), index);
        const dregs_value *ways[] = {&stage->film, &stage->drag_out, &stage->withdrawal_speed};
        for (i = 0; i < 3 && !(share_of(*ways[i]) > 0); i++)
            ;
        if (i < 3 && share_of(*ways[i]) > most) {
            *row = ways[i]->row;
            most = share_of(*ways[i]);
        }
    }
    return most;
}

/* 1: a load of some kind leaves the stage with a film. */
static int films(const dregs_line *line, unsigned index)
{
    unsigned k;

    for (k = 0; k < dregs_line_kinds(line); k++)
        if (dregs_line_stage(dregs_line_of_kind(line, k), index)->film_way != DREGS_FILM_NONE)
            return 1;
    return 0;
}

static double stated_soil(const dregs_reuse *reuse, unsigned *row)
{
    double most = 0, share = 0;
    unsigned k, s;

    for (k = 0; k < dregs_line_kinds(reuse->line); k++)
        for (s = 0; s < dregs_line_solutes(reuse->line); s++) {
            dregs_value soil = dregs_line_solute(dregs_line_of_kind(reuse->line, k), s)->on_parts;
            if (soil.si > most && share_of(soil) > 0) {
                most = soil.si;
                share = share_of(soil);
                *row = soil.row;
            }
        }
    return share;
}

/* The largest spread that the file states of what a cleaning stage leaves, as a share of it. */
static double stated_removal(const dregs_line *line)
{
    double most = 0;
    unsigned i, s;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (s = 0; s < dregs_line_solutes(line); s++) {
            dregs_value removal = dregs_line_stage(line, i)->removal[s];
            if (removal.sd > 0 && removal.si < 1)
                most = fmax(most, removal.sd / (1 - removal.si));
        }
    return most;
}

/* A lognormal distribution with mean 1: the variance and the mean of its logarithm. */
static void lognormal(struct belief *belief, unsigned k, double variance)
{
    belief->cov[k][k] = variance;
    belief->mean[k] = -variance / 2;
}

/* The row at the end of the way along `with`; 0 for none. */
static unsigned root_of(const dregs_line *line, unsigned row)
{
    unsigned next;

    while (row && (next = dregs_line_shares_draw(line, row)) != 0)
        row = next;
    return row;
}

static dregs_status assume_drag_out(dregs_reuse *reuse, unsigned films, unsigned assumed)
{
    if (assumed == 0)
        return DREGS_OK;
    return films == assumed
               ? dregs_reuse_assume(reuse, "the drag-out of each stage is known to 30 %%, one "
                                           "standard deviation (the line file states no spread)")
               : dregs_reuse_assume(reuse,
                                    "the drag-out of stages without a spread is known to "
                                    "30 %%, one standard deviation (%u of %u stages)",
                                    assumed, films);
}

/* Of every stage that leaves a film. */
static dregs_status believe_films(dregs_reuse *reuse)
{
    struct belief *before = &reuse->regime[0].before;
    dregs_reuse_basis *basis = &reuse->basis;
    unsigned i, k, count = 0, assumed = 0;

    for (i = 0; i < dregs_line_stages(reuse->line); i++) {
        double sd = stated_drag_out(reuse->line, i, &basis->drag_out_row[i]);
        if (!films(reuse->line, i))
            continue;
        count++;
        if (!isnan(reuse->request.drag_out_sd)) {
            sd = reuse->request.drag_out_sd;
            basis->drag_out_row[i] = 0;
        } else if (!(sd > 0)) {
            sd = ASSUMED_DRAG_OUT;
            assumed++;
        }
        basis->drag_out_sd[i] = fmax(sd, SPREAD_LEAST);
        lognormal(before, Q_STAGE + i, log1p(pow(basis->drag_out_sd[i], 2)));
        for (k = 0; k < i; k++) {
            unsigned root = root_of(reuse->line, basis->drag_out_row[i]);
            if (root && root == root_of(reuse->line, basis->drag_out_row[k]))
                before->cov[Q_STAGE + i][Q_STAGE + k] = before->cov[Q_STAGE + k][Q_STAGE + i] =
                    TOGETHER * sqrt(before->cov[Q_STAGE + i][Q_STAGE + i] *
                                    before->cov[Q_STAGE + k][Q_STAGE + k]);
        }
    }
    return assume_drag_out(reuse, count, assumed);
}

dregs_status dregs_reuse_believe(dregs_reuse *reuse)
{
    struct belief *before = &reuse->regime[0].before;
    dregs_reuse_basis *basis = &reuse->basis;
    dregs_status status = believe_films(reuse);

    basis->soil_sd = reuse->request.soil_sd;
    if (isnan(basis->soil_sd))
        basis->soil_sd = stated_soil(reuse, &basis->soil_row);
    if (!status && !(basis->soil_sd > 0)) {
        basis->soil_sd = ASSUMED_SOIL;
        status = dregs_reuse_assume(reuse, "the soil on the parts is known to 50 %%, one standard "
                                           "deviation (the line file states no spread)");
    }
    basis->soil_sd = fmax(basis->soil_sd, SPREAD_LEAST);
    lognormal(before, Q_SOIL, log1p(pow(basis->soil_sd, 2)));
    lognormal(before, Q_ADHERING,
              before->cov[Q_SOIL][Q_SOIL] + log1p(pow(stated_removal(reuse->line), 2)));
    return status;
}

unsigned dregs_reuse_last_read(const dregs_reuse *reuse)
{
    unsigned c, last = reuse->blind ? reuse->channel[0].stage : 0;

    for (c = 0; c < reuse->channels; c++)
        last = reuse->channel[c].stage > last ? reuse->channel[c].stage : last;
    return last;
}

int dregs_reuse_has_film(const dregs_reuse *reuse, unsigned stage)
{
    return reuse->regime[0].before.cov[Q_STAGE + stage][Q_STAGE + stage] > 0;
}

/* The sum of all unknowns in `of` over their number: its mean and variance. */
static void mean_of(const struct belief *belief, const unsigned char *of, unsigned count,
                    double *mean, double *variance)
{
    unsigned i, k;

    *mean = *variance = 0;
    for (i = 0; i < count; i++) {
        *mean += belief->mean[of[i]] / count;
        for (k = 0; k < count; k++)
            *variance += belief->cov[of[i]][of[k]] / count / count;
    }
}

static dregs_factor factor_of(const dregs_reuse *reuse, const struct belief *after,
                              const struct belief *before, const unsigned char *of, unsigned count)
{
    double mean, variance, was, had, reach;

    mean_of(after, of, count, &mean, &variance);
    mean_of(before, of, count, &was, &had);
    reach = dregs_reuse_quantile(reuse, 0.975, variance, had) * sqrt(variance);
    return (dregs_factor){exp(mean), exp(mean - reach), exp(mean + reach)};
}

/* Before the log its mean is told, not its median. */
static dregs_factor believed(const struct belief *before, const unsigned char *of, unsigned count)
{
    double mean, variance, reach;

    mean_of(before, of, count, &mean, &variance);
    reach = gsl_cdf_ugaussian_Pinv(0.975) * sqrt(variance);
    return (dregs_factor){exp(mean + variance / 2), exp(mean - reach), exp(mean + reach)};
}

/* The films whose liquid comes to a meter; where none does, that of the stage that is read. */
static unsigned films_seen(const dregs_reuse *reuse, unsigned char *of)
{
    unsigned last = dregs_reuse_last_read(reuse), count = 0, i;

    for (i = 0; i < last; i++)
        if (dregs_reuse_has_film(reuse, i))
            of[count++] = (unsigned char)(Q_STAGE + i);
    if (count == 0)
        of[count++] = (unsigned char)(Q_STAGE + last);
    return count;
}

void dregs_reuse_tell_before(dregs_reuse *reuse)
{
    static const unsigned char soil = Q_SOIL;
    const struct belief *before = &reuse->regime[0].before;
    unsigned char of[Q_MOST];
    unsigned count = films_seen(reuse, of);

    reuse->basis.drag_out = believed(before, of, count);
    reuse->basis.soil = believed(before, &soil, 1);
}

void dregs_reuse_tell_factors(dregs_reuse *reuse, struct regime *regime)
{
    static const unsigned char soil = Q_SOIL, adhering = Q_ADHERING;
    struct belief *after = &reuse->behind[0], *before = &reuse->behind[1];
    dregs_regime *about = &regime->about;
    unsigned char of[Q_MOST];
    unsigned count = films_seen(reuse, of), i;

    dregs_reuse_behind(reuse, regime, &regime->after, after);
    dregs_reuse_behind(reuse, regime, &regime->before, before);
    about->drag_out = factor_of(reuse, after, before, of, count);
    about->soil = factor_of(reuse, after, before, &soil, 1);
    about->adhering = factor_of(reuse, after, before, &adhering, 1);
    for (i = 0; i < dregs_line_stages(reuse->line); i++) {
        of[0] = (unsigned char)(Q_STAGE + i);
        about->of_stage[i] = dregs_reuse_has_film(reuse, i) ? factor_of(reuse, after, before, of, 1)
                                                            : (dregs_factor){NAN, NAN, NAN};
    }
}
