/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* root.c: one unknown, through GSL. */
#include "base/root.h"

#include <gsl/gsl_errno.h>
#include <math.h>

enum { STEPS = 100 };

int dregs_bracket_set(struct dregs_bracket *bracket, gsl_function *function, double low,
                      double high)
{
    *bracket = (struct dregs_bracket){.solver = {.type = gsl_root_fsolver_brent}};
    if (gsl_root_fsolver_brent->size > sizeof bracket->state)
        return GSL_ESANITY; /* another GSL */
    bracket->solver.state = &bracket->state;
    return gsl_root_fsolver_set(&bracket->solver, function, low, high);
}

double dregs_root(double (*f)(double, void *), void *user, double low, double high, double relative)
{
    struct dregs_bracket bracket;
    gsl_function function = {f, user};
    double at_low = f(low, user), at_high = f(high, user), root = NAN;
    int step;

    if (!isfinite(at_low) || !isfinite(at_high) || (at_low > 0) == (at_high > 0))
        return NAN;
    if (dregs_bracket_set(&bracket, &function, low, high) == GSL_SUCCESS)
        for (step = 0; step < STEPS; step++) {
            if (gsl_root_fsolver_iterate(&bracket.solver) != GSL_SUCCESS)
                break;
            root = gsl_root_fsolver_root(&bracket.solver);
            if (gsl_root_test_interval(gsl_root_fsolver_x_lower(&bracket.solver),
                                       gsl_root_fsolver_x_upper(&bracket.solver), 0,
                                       relative) == GSL_SUCCESS)
                break;
        }
    return root;
}
