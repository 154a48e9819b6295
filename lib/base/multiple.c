/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* multiple.c: Euclid's algorithm. */
#include "base/multiple.h"

uint64_t dregs_common_divisor(uint64_t a, uint64_t b)
{
    while (b) {
        uint64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

double dregs_common_multiple(double a, double b)
{
    return a / (double)dregs_common_divisor((uint64_t)a, (uint64_t)b) * b;
}
