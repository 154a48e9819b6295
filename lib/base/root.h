/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* root.h: the root of a function on a bracket; not installed. */
#ifndef DREGS_BASE_ROOT_H
#define DREGS_BASE_ROOT_H

#include <gsl/gsl_roots.h>
#include <stddef.h>

/* Room for a search of GSL's where a local variable lives: no memory that could run out. */
struct dregs_bracket {
    gsl_root_fsolver solver;
    union {
        max_align_t align;
        char bytes[256];
    } state;
};

/** Sets up Brent's method on a bracket. \return 0, or GSL's reason why not. */
int dregs_bracket_set(struct dregs_bracket *bracket, gsl_function *function, double low,
                      double high);

/** Where \p f changes sign between \p low and \p high, by Brent's method to \p relative of the
 *  root. NaN when it does not change sign, or is not finite at an end; the ends are looked at
 * first, so that GSL's handler is never called. It allocates nothing. */
double dregs_root(double (*f)(double, void *), void *user, double low, double high,
                  double relative);

#endif
