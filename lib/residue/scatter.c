/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* scatter.c: the residue on a line whose values differ from load to load, as the column `varies`
 * says: its mean and standard deviation at a load, and the share of such loads that meet a limit.
 *
 * The values vary independently of each other. Means over them are taken by Gauss's rule for each,
 * over all together where they are few, else over all pairs (a cut of the expansion in interactions
 * behind those of two: Xu and Rahman, Int. J. Numer. Meth. Eng. 61 (2004) 1992, cited from memory).
 */
#include "residue/residue.h"

#include <gsl/gsl_cdf.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { VARYING_MOST = 40, TOGETHER_MOST = 5 };

struct varying {
    unsigned row;
    double at, node[RESIDUE_NODES], weight[RESIDUE_NODES]; /* at: as stated */
};

struct draws {
    const dregs_line *line;
    int solute;
    uint64_t load; /* the one that is asked of */
    unsigned count;
    struct varying value[VARYING_MOST];
    dregs_setting setting[VARYING_MOST];
    dregs_scatter *scatter;
    double *rows;
};

/* ---- what may vary ---- */

/* What a load brings, meets or takes along. What a tank holds, is filled with and when it is dumped
 * is no matter of a load. */
static int is_of_a_load(const char *property)
{
    static const char *const names[] = {
        "area",     "extra area", "hold-up",  "edge",   "interval",         "on parts",
        "flow",     "exchange",   "film",     "mixing", "withdrawal speed", "drain time",
        "drag-out", "use",        "blow-off", "height", "evaporation",      "hold-up exchange"};
    size_t i;

    for (i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(names[i], property) == 0)
            return 1;
    return strncmp(property, "removal", 7) == 0 || strncmp(property, "clearing ", 9) == 0 ||
           strncmp(property, "on parts ", 9) == 0 || strncmp(property, "drag-out ", 9) == 0;
}

int dregs_residue_varies(const dregs_line *line, unsigned row)
{
    double sd, node[RESIDUE_NODES], weight[RESIDUE_NODES];
    dregs_number_form form = dregs_line_number_form(line, row);
    dregs_value value;

    if (dregs_line_varies(line, row, &sd) || !(sd > 0) || dregs_line_value(line, row, &value))
        return 0;
    if (form != DREGS_FORM_QUANTITY && form != DREGS_FORM_SHARE)
        return -1;
    return is_of_a_load(dregs_line_row(line, row)->property) &&
                   !dregs_residue_nodes(form, value.si, sd, node, weight)
               ? 1
               : -1;
}

static dregs_status find_varying(struct draws *d)
{
    unsigned row;

    for (row = 1; row <= dregs_line_rows(d->line); row++) {
        struct varying *v = &d->value[d->count];
        dregs_value value;
        double sd;
        if (dregs_residue_varies(d->line, row) <= 0)
            continue;
        if (d->count == VARYING_MOST)
            return DREGS_OUT_OF_RANGE;
        if (dregs_line_varies(d->line, row, &sd) || dregs_line_value(d->line, row, &value) ||
            dregs_residue_nodes(dregs_line_number_form(d->line, row), value.si, sd, v->node,
                                v->weight))
            return DREGS_NUMERIC;
        v->row = row;
        v->at = value.si;
        d->setting[d->count++] = (dregs_setting){row, NULL, NULL, value.si};
    }
    return DREGS_OK;
}

/* ---- the loads as they may be ---- */

/* The residue, kg/m2, as rows over the masses before the load, with the soil that adheres. */
static void ask_rows(const struct draws *d, const dregs_map *all)
{
    const dregs_map *map = dregs_map_of_kind(all, dregs_line_kind_at(d->line, d->load));
    const dregs_line *line = dregs_map_line(map);
    unsigned n = dregs_line_tanks(line), s;
    unsigned first = d->solute < 0 ? 0 : (unsigned)d->solute;
    unsigned solutes = d->solute < 0 ? dregs_line_solutes(line) : 1;

    for (s = 0; s < solutes; s++) {
        double *row = d->rows + s * (n + 1);
        dregs_residue_row(map, first + s, row);
        row[n] += dregs_balance_map_adhering(map, first + s);
    }
}

/* Adds a load with the settings as they are. A line that cannot be so with one of its nodes has
 * no scatter that could be told. */
static dregs_status add_load(struct draws *d, double weight)
{
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_status status = dregs_line_with(d->line, d->setting, d->count, &line, NULL);

    if (!status)
        status = dregs_map_new(line, &map);
    if (!status) {
        ask_rows(d, map);
        dregs_balance_scatter_add(d->scatter, weight, map, d->rows);
    }
    dregs_map_free(map);
    dregs_line_free(line);
    return status;
}

/* All nodes of value `next` and of those behind it. */
static dregs_status add_all(struct draws *d, unsigned next, double weight)
{
    dregs_status status = DREGS_OK;
    unsigned i;

    if (next == d->count)
        return add_load(d, weight);
    for (i = 0; i < RESIDUE_NODES && !status; i++) {
        d->setting[next].si = d->value[next].node[i];
        status = add_all(d, next + 1, weight * d->value[next].weight[i]);
    }
    d->setting[next].si = d->value[next].at;
    return status;
}

/* All nodes of one value, or of two, the others as stated. */
static dregs_status add_some(struct draws *d, unsigned a, unsigned b, double weight)
{
    dregs_status status = DREGS_OK;
    unsigned i, k;

    for (i = 0; i < RESIDUE_NODES && !status; i++) {
        d->setting[a].si = d->value[a].node[i];
        for (k = 0; k < (a == b ? 1 : RESIDUE_NODES) && !status; k++) {
            double of_b = a == b ? 1 : d->value[b].weight[k];
            if (a != b)
                d->setting[b].si = d->value[b].node[k];
            status = add_load(d, weight * d->value[a].weight[i] * of_b);
        }
    }
    d->setting[a].si = d->value[a].at;
    d->setting[b].si = d->value[b].at;
    return status;
}

/* Means of all pairs, less those of single values and of none that are in several of them. */
static dregs_status add_pairs(struct draws *d)
{
    double n = d->count;
    dregs_status status = add_load(d, (n - 1) * (n - 2) / 2);
    unsigned a, b;

    for (a = 0; a < d->count && !status; a++) {
        status = add_some(d, a, a, 2 - n);
        for (b = a + 1; b < d->count && !status; b++)
            status = add_some(d, a, b, 1);
    }
    return status;
}

dregs_status dregs_residue_scatter(const dregs_map *map, int solute, const dregs_worst *load,
                                   struct residue_scatter *scatter)
{
    struct draws d = {.line = dregs_map_line(map), .solute = solute, .load = load->load};
    struct residue_scatter found = {0, 0, 0};
    dregs_status status = find_varying(&d);

    if (status || !d.count)
        return status ? status : DREGS_UNKNOWN;
    d.rows = malloc(dregs_line_solutes(d.line) * (dregs_line_tanks(d.line) + 1u) * sizeof *d.rows);
    status = d.rows ? dregs_balance_scatter_new(map, solute, &d.scatter) : DREGS_NO_MEMORY;
    if (!status)
        status = d.count <= TOGETHER_MOST ? add_all(&d, 0, 1) : add_pairs(&d);
    if (!status)
        status = dregs_balance_scatter_at(d.scatter, load->load, load->in_the_long_run, &found.mean,
                                          &found.sd);
    found.values = d.count;
    dregs_balance_scatter_free(d.scatter);
    free(d.rows);
    if (!status)
        *scatter = found;
    return status;
}

double dregs_residue_share_within(const struct residue_scatter *scatter, double limit)
{
    double ratio, variance;

    if (!(scatter->sd > 0))
        return scatter->mean <= limit;
    ratio = scatter->sd / scatter->mean;
    variance = log1p(ratio * ratio);
    return erfc(-(log(limit / scatter->mean) + variance / 2) / sqrt(2 * variance)) / 2;
}

double dregs_residue_within(const struct residue_scatter *scatter, double share)
{
    double ratio, variance;

    if (!(scatter->sd > 0))
        return scatter->mean;
    if (!(share < 1))
        return HUGE_VAL;
    ratio = scatter->sd / scatter->mean;
    variance = log1p(ratio * ratio);
    return scatter->mean * exp(sqrt(variance) * gsl_cdf_ugaussian_Pinv(share) - variance / 2);
}
