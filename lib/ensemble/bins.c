/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bins.c: how many values lie where, for quantiles: bins of equal width in the logarithm, 0.1 % of
 * the value. Counts add up the same in any order. Only stretches of bins that are used are kept.
 */
#include "ensemble/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH 1e-3 /* of a bin, in ln(value) */
/* above any |ln(x)| / WIDTH of a double, so that 0 lies between the signs */
#define SHIFT ((int64_t)1 << 20)

int64_t dregs_ensemble_bin(double value)
{
    int64_t bin;

    if (value == 0)
        return 0;
    bin = (int64_t)floor(log(fabs(value)) / WIDTH) + SHIFT;
    return value > 0 ? bin : -bin;
}

double dregs_ensemble_within(int64_t bin, double share)
{
    if (bin == 0)
        return 0;
    if (bin > 0)
        return exp(((double)(bin - SHIFT) + share) * WIDTH);
    return -exp(((double)(-bin - SHIFT) + 1 - share) * WIDTH);
}

static int64_t chunk_of(int64_t bin)
{
    return bin >= 0 ? bin / CHUNK : -((-bin + CHUNK - 1) / CHUNK);
}

/* The place of the first chunk that is not below id. */
static size_t place_of(const struct bins *bins, int64_t id)
{
    size_t low = 0, high = bins->chunks;

    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (bins->chunk[middle]->id < id)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static struct chunk *need(struct bins *bins, int64_t id)
{
    size_t at = place_of(bins, id);
    struct chunk *made;

    if (at < bins->chunks && bins->chunk[at]->id == id)
        return bins->chunk[at];
    if (bins->chunks == bins->room) {
        size_t room = bins->room ? 2 * bins->room : 8;
        struct chunk **bigger = realloc(bins->chunk, room * sizeof *bigger);
        if (!bigger)
            return NULL;
        bins->chunk = bigger;
        bins->room = room;
    }
    made = calloc(1, sizeof *made);
    if (!made)
        return NULL;
    made->id = id;
    memmove(bins->chunk + at + 1, bins->chunk + at, (bins->chunks - at) * sizeof(struct chunk *));
    bins->chunk[at] = made;
    bins->chunks++;
    return made;
}

int dregs_ensemble_put(struct bins *bins, int64_t bin, uint64_t count)
{
    int64_t id = chunk_of(bin);
    struct chunk *chunk = need(bins, id);

    if (!chunk)
        return 0;
    chunk->count[bin - id * CHUNK] += count;
    return 1;
}

int dregs_ensemble_put_all(struct bins *bins, const struct bins *other)
{
    size_t c, i;

    for (c = 0; c < other->chunks; c++) {
        struct chunk *chunk = need(bins, other->chunk[c]->id);
        if (!chunk)
            return 0;
        for (i = 0; i < CHUNK; i++)
            chunk->count[i] += other->chunk[c]->count[i];
    }
    return 1;
}

void dregs_ensemble_bins_free(struct bins *bins)
{
    size_t c;

    for (c = 0; c < bins->chunks; c++)
        free(bins->chunk[c]);
    free(bins->chunk);
}

double dregs_ensemble_ranked(const struct bins *bins, double rank)
{
    uint64_t before = 0;
    double last = NAN;
    size_t c, i;

    for (c = 0; c < bins->chunks; c++)
        for (i = 0; i < CHUNK; i++) {
            uint64_t count = bins->chunk[c]->count[i];
            int64_t bin = bins->chunk[c]->id * CHUNK + (int64_t)i;
            if (!count)
                continue;
            /* those of a bin are taken to lie evenly in it */
            if (rank < (double)(before + count) + 0.5) {
                double share = (rank - 0.5 - (double)before) / (double)count;
                return dregs_ensemble_within(bin, share < 0 ? 0 : share);
            }
            before += count;
            last = dregs_ensemble_within(bin, 1);
        }
    return last;
}
