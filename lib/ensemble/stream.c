/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stream.c: the random numbers: Philox4x32-10 of Salmon, Moraes, Dror & Shaw, "Parallel random
 * numbers: as easy as 1, 2, 3" (SC11, 2011), from Random123. A counter-based generator has no
 * state: any number of any draw can be had by itself.
 */
#include "ensemble/inside.h"

#include <Random123/philox.h>

void dregs_ensemble_words(const uint32_t counter[4], const uint32_t key[2], uint32_t word[4])
{
    philox4x32_ctr_t from = {{counter[0], counter[1], counter[2], counter[3]}};
    philox4x32_key_t with = {{key[0], key[1]}};
    philox4x32_ctr_t made = philox4x32(from, with); /* 10 rounds */
    int i;

    for (i = 0; i < 4; i++)
        word[i] = made.v[i];
}

double dregs_ensemble_uniform(uint64_t seed, uint64_t draw, unsigned row)
{
    const uint32_t counter[4] = {(uint32_t)draw, (uint32_t)(draw >> 32), row, 0};
    const uint32_t key[2] = {(uint32_t)seed, (uint32_t)(seed >> 32)};
    uint32_t word[4];
    uint64_t bits;

    dregs_ensemble_words(counter, key, word);
    bits = (uint64_t)word[1] << 32 | word[0];
    return ((double)(bits >> 12) + 0.5) * 0x1p-52; /* exact: 52 bits and a half */
}
