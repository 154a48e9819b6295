/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* gsl.h: the error handler of the GNU Scientific Library, which the library calls.
 *
 * GSL has one handler for the whole process, and the one that it begins with aborts. The library
 * changes it in no other function than these and dregs_ask. A program that has none of its own
 * calls dregs_gsl_hold once, at its start.
 */
#ifndef DREGS_GSL_H
#define DREGS_GSL_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Turns GSL's error handler off until as many calls of dregs_gsl_release: functions of the library
 *  return their statuses then. Holds may overlap, in one thread and in several: the first one keeps
 *  the handler that was there, and the last release sets it again. Between them the program itself
 *  must not set one. */
DREGS_API void dregs_gsl_hold(void);

/** Ends one dregs_gsl_hold. Without one nothing happens. */
DREGS_API void dregs_gsl_release(void);

#ifdef __cplusplus
}
#endif
#endif
