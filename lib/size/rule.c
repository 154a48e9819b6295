/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* rule.c: the formulas of counterflow rinsing, to be shown beside the exact answer. */
#include "base/root.h"
#include "dregs/size.h"

#include <math.h>

struct series {
    double ratio;
    unsigned stages;
};

double dregs_rinse_root(double ratio, unsigned stages)
{
    return ratio > 1 && stages >= 1 ? pow(ratio, 1.0 / stages) : NAN;
}

/* 1 + R + ... + R^n - r */
static double excess(double rinse, void *user)
{
    const struct series *s = user;
    double sum = 1.0;
    unsigned i;

    for (i = 0; i < s->stages; i++)
        sum = sum * rinse + 1.0;
    return sum - s->ratio;
}

double dregs_rinse_series(double ratio, unsigned stages)
{
    struct series s = {ratio, stages};

    if (!(ratio > 1) || !isfinite(ratio) || stages < 1)
        return NAN;
    if (stages == 1)
        return ratio - 1;
    /* at R = 0 the sum is 1 < r, at the root form it is above r */
    return dregs_root(excess, &s, 0.0, dregs_rinse_root(ratio, stages), 1e-14);
}
