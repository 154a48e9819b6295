/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ode.h: GSL's driver of ordinary differential equations, made safely; not installed. */
#ifndef DREGS_BASE_ODE_H
#define DREGS_BASE_ODE_H

#include <gsl/gsl_odeiv2.h>

/** As gsl_odeiv2_driver_alloc_y_new, whose own failure of memory frees pointers that it never set
 *  (GSL 2.7). \p system must outlive it. \return NULL when memory is short; to be freed by
 *  dregs_ode_free. */
gsl_odeiv2_driver *dregs_ode_new(const gsl_odeiv2_system *system, const gsl_odeiv2_step_type *type,
                                 double first_step, double absolute, double relative);

/** Of NULL nothing. */
void dregs_ode_free(gsl_odeiv2_driver *driver);

#endif
