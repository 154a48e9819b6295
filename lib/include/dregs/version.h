/* SPDX-License-Identifier: GPL-3.0-or-later */
/* version.h: which libdregs this is. */
#ifndef DREGS_VERSION_H
#define DREGS_VERSION_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The version of the library, "MAJOR.MINOR.PATCH". */
DREGS_API const char *dregs_version(void);

#ifdef __cplusplus
}
#endif
#endif
