/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule.c: the formulas of counterflow rinsing, to be shown beside the exact answer. */
#include "dregs/size.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
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
    gsl_function function = {excess, &s};
    gsl_root_fsolver *solver;
    double root = NAN;
    int step;

    if (!(ratio > 1) || !isfinite(ratio) || stages < 1)
        return NAN;
    if (stages == 1)
        return ratio - 1;
    solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return NAN;
    /* at R = 0 the sum is 1 < r, at the root form it is above r */
    if (gsl_root_fsolver_set(solver, &function, 0.0, dregs_rinse_root(ratio, stages)) ==
        GSL_SUCCESS)
        for (step = 0; step < 100; step++) {
            if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
                break;
            root = gsl_root_fsolver_root(solver);
            if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                       gsl_root_fsolver_x_upper(solver), 0.0, 1e-14) == GSL_SUCCESS)
                break;
        }
    gsl_root_fsolver_free(solver);
    return root;
}
