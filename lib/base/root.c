/* SPDX-License-Identifier: GPL-3.0-or-later */
/* root.c: one unknown, through GSL. */
#include "base/root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

enum { STEPS = 100 };

double dregs_root(double (*f)(double, void *), void *user, double low, double high, double relative)
{
    gsl_root_fsolver *solver;
    gsl_function function = {f, user};
    double at_low = f(low, user), at_high = f(high, user), root = NAN;
    int step;

    if (!isfinite(at_low) || !isfinite(at_high) || (at_low > 0) == (at_high > 0))
        return NAN;
    solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return NAN;
    if (gsl_root_fsolver_set(solver, &function, low, high) == GSL_SUCCESS)
        for (step = 0; step < STEPS; step++) {
            if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
                break;
            root = gsl_root_fsolver_root(solver);
            if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                       gsl_root_fsolver_x_upper(solver), 0,
                                       relative) == GSL_SUCCESS)
                break;
        }
    gsl_root_fsolver_free(solver);
    return root;
}
