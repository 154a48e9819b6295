/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* time.h: times of a log, the same whatever the zone and the locale of the machine. */
#ifndef DREGS_TIME_H
#define DREGS_TIME_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Reads a time: `2026-03-02`, `2026-03-02T07:30`, `2026-03-02 07:30:15.5`, with `Z` or an offset
 *  such as `+01:00` behind it or without; also `02.03.2026 7:30`, the day first.
 *  \param seconds  since 1970-01-01T00:00; with an offset, of UTC.
 *  \param zoned    1 with `Z` or an offset.
 *  \return DREGS_OK, DREGS_BAD_DATA. Gregorian calendar, years 1900 to 2999, no leap seconds. */
DREGS_API dregs_status dregs_time_read(const char *text, double *seconds, int *zoned);

enum { DREGS_TIME_TEXT = 24 };

/** Writes a time of that count as `2026-03-02 07:30`. Returns \p into. */
DREGS_API const char *dregs_time_text(char into[DREGS_TIME_TEXT], double seconds);

#ifdef __cplusplus
}
#endif
#endif
