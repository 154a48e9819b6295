/* SPDX-License-Identifier: GPL-3.0-or-later */
/* root.h: the root of a function on a bracket; not installed. */
#ifndef DREGS_BASE_ROOT_H
#define DREGS_BASE_ROOT_H

/** Where \p f changes sign between \p low and \p high, by Brent's method to \p relative of the
 *  root. NaN when it does not change sign, is not finite at an end, or memory is short; the ends
 *  are looked at first, so that GSL's handler is never called. */
double dregs_root(double (*f)(double, void *), void *user, double low, double high,
                  double relative);

#endif
