/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* points.c: do quasi-random draws pay? The errors of plain draws and of as many scrambled points of
 * Sobol's sequence, for what is asked of an ensemble.
 *
 *   bench-points FILE [SEEDS [TRUTH]]    SEEDS repetitions (20) of each, beside TRUTH plain draws
 *                                        (400,000) of a seed of their own; takes half a minute
 *
 * The sequence is GSL's; the scrambling is Owen's (SIAM J. Numer. Anal. 34 (1997) 1884): each digit
 * of a coordinate is flipped or not by a random bit that belongs to all digits above it. What is
 * asked is what the worst load leaves: its mean, its 50 and 95 % points, and the share of draws
 * below the 95 % point of TRUTH. An error is the root of the mean square over the repetitions, in %
 * of the value; the ratio says by how much the points are better.
 */
#include "clock.h"
#include "dregs/dregs.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { DIGITS = 30, DIMENSIONS = 40 }; /* of GSL's sequence */

struct bench {
    const dregs_line *line;
    const dregs_ensemble *ensemble; /* of the seed at hand */
    unsigned rows;
    unsigned place[DIMENSIONS]; /* of a row: the first row that has its draw */
};

/* The mixing function of Steele, Lea & Flood, "Fast splittable pseudorandom number generators"
 * (OOPSLA 2014). */
static uint64_t mixed(uint64_t x)
{
    x += UINT64_C(0x9e3779b97f4a7c15);
    x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
    return x ^ (x >> 31);
}

static double scrambled(double x, uint64_t seed, unsigned dimension)
{
    uint64_t digits = (uint64_t)ldexp(x, DIGITS), made = 0;
    uint64_t key = mixed(mixed(seed) + dimension);
    int i;

    for (i = 0; i < DIGITS; i++) {
        uint64_t above = digits >> (DIGITS - i) | UINT64_C(1) << i; /* and how many they are */
        made = made << 1 | ((digits >> (DIGITS - 1 - i) ^ mixed(key ^ above)) & 1);
    }
    /* below the digits of the sequence: as random as everything that they are not */
    return ldexp((double)made + ldexp((double)(mixed(~key ^ digits) >> 12) + 0.5, -52), -DIGITS);
}

static dregs_status ask(const dregs_line *drawn, double *left)
{
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_map_new(drawn, &map);

    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status)
        *left = worst.residue;
    dregs_map_free(map);
    return status;
}

/* point NULL: the draw of the ensemble */
static dregs_status evaluate(const struct bench *b, uint64_t draw, const double *point,
                             uint64_t seed, double *left)
{
    dregs_setting setting[DIMENSIONS];
    dregs_line *line = NULL;
    dregs_status status;
    unsigned i;

    for (i = 0; i < b->rows; i++) {
        unsigned place = b->place[i];
        double z = point ? gsl_cdf_ugaussian_Pinv(scrambled(point[place], seed, place))
                         : dregs_ensemble_z(b->ensemble, draw, i);
        setting[i] = (dregs_setting){.row = dregs_ensemble_row(b->ensemble, i)->row,
                                     .si = dregs_ensemble_at(b->ensemble, i, z)};
    }
    status = dregs_line_with(b->line, setting, b->rows, &line, NULL);
    if (!status)
        status = ask(line, left);
    dregs_line_free(line);
    return status;
}

/* The worst loads of `count` draws, in order. */
static int sample(struct bench *b, int quasi, uint64_t seed, size_t count, double *left)
{
    gsl_qrng *sequence = quasi ? gsl_qrng_alloc(gsl_qrng_sobol, b->rows) : NULL;
    dregs_ensemble *ensemble = NULL;
    double point[DIMENSIONS] = {0};
    dregs_status status = dregs_ensemble_new(b->line, DREGS_ASKED_RESIDUE, seed, &ensemble, NULL);
    size_t i;

    b->ensemble = ensemble;
    /* GSL leaves out the sequence's first point, 0: without it the others do not balance */
    for (i = 0; i < count && !status; i++) {
        if (sequence && i > 0)
            gsl_qrng_get(sequence, point);
        status = evaluate(b, i, quasi ? point : NULL, seed, &left[i]);
    }
    qsort(left, count, sizeof *left, by_size);
    if (sequence)
        gsl_qrng_free(sequence);
    dregs_ensemble_free(ensemble);
    return status == DREGS_OK;
}

enum { MEAN, MIDDLE, HIGH, SHARE, ASKED };

static double quantile(const double *left, size_t count, double share)
{
    double rank = share * (double)count - 0.5;
    size_t below = (size_t)rank;

    return left[below] + (rank - (double)below) * (left[below + 1] - left[below]);
}

static void reckon(const double *left, size_t count, double limit, double *found)
{
    size_t i;

    memset(found, 0, ASKED * sizeof *found);
    for (i = 0; i < count; i++) {
        found[MEAN] += left[i] / (double)count;
        found[SHARE] += (left[i] <= limit) / (double)count;
    }
    found[MIDDLE] = quantile(left, count, 0.5);
    found[HIGH] = quantile(left, count, 0.95);
}

static int compare(struct bench *b, unsigned seeds, size_t truth)
{
    static const char *const names[] = {"mean", "50 % point", "95 % point", "share below it"};
    static const size_t counts[] = {256, 1000, 1024, 4096};
    double *left = malloc(truth * sizeof *left), true_ones[ASKED], found[ASKED];
    size_t c;
    unsigned seed;
    int quasi, i;

    if (!left || !sample(b, 0, 1u << 20, truth, left))
        return 1;
    reckon(left, truth, quantile(left, truth, 0.95), true_ones);
    printf("%-6s %-16s %12s %12s %8s\n", "draws", "error of, %", "plain", "Sobol'", "ratio");
    for (c = 0; c < sizeof counts / sizeof counts[0]; c++) {
        double error[2][ASKED] = {{0}};
        for (quasi = 0; quasi < 2; quasi++)
            for (seed = 1; seed <= seeds; seed++) {
                if (!sample(b, quasi, seed, counts[c], left))
                    return 1;
                reckon(left, counts[c], true_ones[HIGH], found);
                for (i = 0; i < ASKED; i++)
                    error[quasi][i] += pow(found[i] / true_ones[i] - 1, 2) / seeds;
            }
        for (i = 0; i < ASKED; i++)
            printf("%-6zu %-16s %12.3f %12.3f %8.1f\n", counts[c], names[i],
                   100 * sqrt(error[0][i]), 100 * sqrt(error[1][i]),
                   sqrt(error[0][i] / error[1][i]));
    }
    free(left);
    return 0;
}

/* Which rows are drawn, and which of them share a draw. */
static int set_up(struct bench *b)
{
    dregs_ensemble *ensemble = NULL;
    unsigned i, k;

    if (dregs_ensemble_new(b->line, DREGS_ASKED_RESIDUE, 1, &ensemble, NULL))
        return 0;
    b->rows = dregs_ensemble_rows(ensemble);
    for (i = 0; i < b->rows && b->rows <= DIMENSIONS; i++) {
        for (k = 0;
             dregs_ensemble_row(ensemble, k)->shares != dregs_ensemble_row(ensemble, i)->shares;)
            k++;
        b->place[i] = k;
    }
    dregs_ensemble_free(ensemble);
    return b->rows > 0 && b->rows <= DIMENSIONS;
}

int main(int argc, char **argv)
{
    static dregs_faults faults;
    dregs_liquids *liquids = dregs_liquids_new();
    FILE *file = argc > 1 && argc <= 4 ? fopen(argv[1], "rb") : NULL;
    unsigned seeds = argc > 2 ? (unsigned)strtoul(argv[2], NULL, 10) : 20;
    size_t truth = argc > 3 ? (size_t)strtoul(argv[3], NULL, 10) : 400000;
    struct bench b = {NULL, NULL, 0, {0}};
    dregs_line *line = NULL;
    int failed = 1;

    gsl_set_error_handler_off();
    if (!file || !seeds || truth < 4096)
        fprintf(stderr, "usage: bench-points FILE [SEEDS [TRUTH]]\n");
    else if (!liquids || dregs_line_read(argv[1], file, liquids, &line, &faults))
        fprintf(stderr, "bench-points: %s cannot be read\n", argv[1]);
    else {
        b.line = line;
        failed = !set_up(&b) || compare(&b, seeds, truth);
    }
    if (file)
        fclose(file);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}
