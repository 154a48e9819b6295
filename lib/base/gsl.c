/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* gsl.c: GSL's error handler, off while anyone wants it off.
 *
 * The one changeable state that the library has: the handler is one for the process, so that how
 * often it is held is, too.
 */
#include "dregs/gsl.h"

#include <gsl/gsl_errno.h>
#include <pthread.h>

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static unsigned long holds;
static gsl_error_handler_t *before;

void dregs_gsl_hold(void)
{
    (void)pthread_mutex_lock(&lock);
    if (holds++ == 0)
        before = gsl_set_error_handler_off();
    (void)pthread_mutex_unlock(&lock);
}

void dregs_gsl_release(void)
{
    (void)pthread_mutex_lock(&lock);
    if (holds && --holds == 0)
        (void)gsl_set_error_handler(before);
    (void)pthread_mutex_unlock(&lock);
}
