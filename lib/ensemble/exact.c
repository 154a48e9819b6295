/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* exact.c: sums of doubles as one long fixed-point number, so that no order of adding and no
 * division among threads or machines changes a bit of them.
 *
 * The limb k counts 2^(32 k - 1074). A value is put into the limbs that its 53 bits fall into;
 * limbs have 31 bits of headroom and are carried before those are used up.
 */
#include "ensemble/inside.h"

#include <math.h>
#include <string.h>

enum { LIMB = 32, LOWEST = 1074, LOOSE_MOST = 1u << 29 };
#define LIMB_MASK ((int64_t)0xFFFFFFFF)

void dregs_ensemble_carry(struct exact *sum)
{
    int64_t carried = 0;
    int i;

    for (i = 0; i < EXACT_LIMBS - 1; i++) {
        int64_t limb = sum->limb[i] + carried;
        int64_t low = limb & LIMB_MASK;
        carried = (limb - low) / (LIMB_MASK + 1); /* exact: low 32 bits are gone */
        sum->limb[i] = low;
    }
    sum->limb[EXACT_LIMBS - 1] += carried;
    sum->loose = 0;
}

/* The parts of a double of IEEE 754 are taken as they lie: value = bits 2^(exponent - LOWEST). */
void dregs_ensemble_add(struct exact *sum, double value)
{
    enum { STORED = 52, SPECIAL = 0x7ff }; /* bits that are kept; infinite or no number */
    uint64_t bits, rest;
    int64_t *limb;
    int exponent, shift;

    memcpy(&bits, &value, sizeof bits);
    exponent = (int)(bits >> STORED & SPECIAL);
    bits &= ((uint64_t)1 << STORED) - 1;
    if (exponent == SPECIAL || (exponent == 0 && bits == 0))
        return;
    if (exponent > 0) { /* a normal number: its first bit is not kept */
        bits |= (uint64_t)1 << STORED;
        exponent--;
    }
    limb = sum->limb + exponent / LIMB;
    shift = exponent % LIMB;
    rest = shift ? bits >> (64 - shift) : 0; /* what is pushed beyond 64 bits */
    bits <<= shift;
    if (value > 0) {
        limb[0] += (int64_t)(bits & (uint64_t)LIMB_MASK);
        limb[1] += (int64_t)(bits >> LIMB);
        limb[2] += (int64_t)rest;
    } else {
        limb[0] -= (int64_t)(bits & (uint64_t)LIMB_MASK);
        limb[1] -= (int64_t)(bits >> LIMB);
        limb[2] -= (int64_t)rest;
    }
    if (++sum->loose >= LOOSE_MOST)
        dregs_ensemble_carry(sum);
}

void dregs_ensemble_add_square(struct exact *sum, double value)
{
    double square = value * value;

    dregs_ensemble_add(sum, square);
    dregs_ensemble_add(sum, fma(value, value, -square)); /* what its rounding left out */
}

void dregs_ensemble_add_sum(struct exact *sum, const struct exact *other)
{
    struct exact carried = *other;
    int i;

    dregs_ensemble_carry(&carried);
    dregs_ensemble_carry(sum);
    for (i = 0; i < EXACT_LIMBS; i++)
        sum->limb[i] += carried.limb[i];
    dregs_ensemble_carry(sum);
}

double dregs_ensemble_rounded(const struct exact *sum)
{
    struct exact carried = *sum;
    double value = 0;
    int i, negative;

    dregs_ensemble_carry(&carried);
    negative = carried.limb[EXACT_LIMBS - 1] < 0;
    if (negative) {
        for (i = 0; i < EXACT_LIMBS; i++)
            carried.limb[i] = -carried.limb[i];
        dregs_ensemble_carry(&carried);
    }
    for (i = 0; i < EXACT_LIMBS; i++) /* from the lowest: what is lost is below the last bit */
        value += ldexp((double)carried.limb[i], LIMB * i - LOWEST);
    return negative ? -value : value;
}
