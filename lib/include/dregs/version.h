/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* version.h: which libdregs this is. */
#ifndef DREGS_VERSION_H
#define DREGS_VERSION_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The version of these headers, which a program is compiled with. */
#define DREGS_VERSION_MAJOR 0
#define DREGS_VERSION_MINOR 1
#define DREGS_VERSION_PATCH 0

/** 1 when the headers are of that version or of a later one:
 *  \code
 *  #if DREGS_VERSION_AT_LEAST(0, 1, 0)
 *  \endcode */
#define DREGS_VERSION_AT_LEAST(major, minor, patch)                                                \
    (DREGS_VERSION_MAJOR > (major) ||                                                              \
     (DREGS_VERSION_MAJOR == (major) &&                                                            \
      (DREGS_VERSION_MINOR > (minor) ||                                                            \
       (DREGS_VERSION_MINOR == (minor) && DREGS_VERSION_PATCH >= (patch)))))

/** The version of the library that a program runs with, "MAJOR.MINOR.PATCH". */
DREGS_API const char *dregs_version(void);

#ifdef __cplusplus
}
#endif
#endif
