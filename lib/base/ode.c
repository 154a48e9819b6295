/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ode.c: GSL's driver of ordinary differential equations, its parts one by one. */
#include "base/ode.h"

#include <math.h>
#include <stdlib.h>

/* What gsl_odeiv2_control_y_new makes. GSL exports it, without a word in its headers (2.7): the
 * call itself writes through the pointer that it did not get when memory is short. */
extern const gsl_odeiv2_control_type *gsl_odeiv2_control_standard;

gsl_odeiv2_driver *dregs_ode_new(const gsl_odeiv2_system *system, const gsl_odeiv2_step_type *type,
                                 double first_step, double absolute, double relative)
{
    gsl_odeiv2_driver *driver = calloc(1, sizeof *driver);

    if (!driver)
        return NULL;
    driver->sys = system;
    driver->h = first_step;
    driver->hmax = HUGE_VAL;
    driver->s = gsl_odeiv2_step_alloc(type, system->dimension);
    driver->c = gsl_odeiv2_control_alloc(gsl_odeiv2_control_standard);
    driver->e = gsl_odeiv2_evolve_alloc(system->dimension);
    if (!driver->s || !driver->c || !driver->e) {
        dregs_ode_free(driver);
        return NULL;
    }
    (void)gsl_odeiv2_control_init(driver->c, absolute, relative, 1.0, 0.0);
    (void)gsl_odeiv2_step_set_driver(driver->s, driver);
    (void)gsl_odeiv2_control_set_driver(driver->c, driver);
    (void)gsl_odeiv2_evolve_set_driver(driver->e, driver);
    return driver;
}

void dregs_ode_free(gsl_odeiv2_driver *driver)
{
    if (driver)
        gsl_odeiv2_driver_free(driver);
}
