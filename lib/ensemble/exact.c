/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exact.c: sums of doubles as one long fixed-point number, so that no order of adding and no
 * division among threads or machines changes a bit of them.
 *
 * The limb k counts 2^(32 k - 1074). A value is put into the limbs that its 53 bits fall into;
 * limbs have 31 bits of headroom and are carried before those are used up.
 */
#include "ensemble/inside.h"

#include <math.h>

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

void dregs_ensemble_add(struct exact *sum, double value)
{
    int64_t sign = value < 0 ? -1 : 1;
    uint64_t bits, rest;
    int exponent, shift, at, i;

    if (value == 0 || !isfinite(value))
        return;
    bits = (uint64_t)ldexp(frexp(fabs(value), &exponent), 53);
    exponent = exponent - 53 + LOWEST; /* value = bits 2^(exponent - LOWEST) */
    if (exponent < 0) {                /* below the normal numbers: the low bits are 0 */
        bits >>= -exponent;
        exponent = 0;
    }
    at = exponent / LIMB;
    shift = exponent % LIMB;
    rest = shift ? bits >> (64 - shift) : 0; /* what is pushed beyond 64 bits */
    bits <<= shift;
    for (i = 0; i < 2; i++) {
        sum->limb[at + i] += sign * (int64_t)(bits & (uint64_t)LIMB_MASK);
        bits >>= LIMB;
    }
    sum->limb[at + 2] += sign * (int64_t)rest;
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
