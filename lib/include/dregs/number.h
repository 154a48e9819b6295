/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* number.h: the one pair of functions that reads and writes numbers, the same in every locale. */
#ifndef DREGS_NUMBER_H
#define DREGS_NUMBER_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_NUMBER_TEXT = 32 };

/** Reads a number in C notation, with `.` as the decimal sign whatever the locale.
 *  \param text   the whole text must be the number: digits, one point, an exponent, a sign; no
 *                blanks, no hexadecimal, no "inf" or "nan".
 *  \param value  the number read, correctly rounded.
 *  \return DREGS_OK; DREGS_BAD_NUMBER when it is not wholly a number or is too large to be held. */
DREGS_API dregs_status dregs_number_read(const char *text, double *value);

/** Writes the shortest of 15, 16 or 17 significant digits that reads back as the same number.
 *  A value that is not finite is written as "nan", "inf" or "-inf". Returns \p into. */
DREGS_API const char *dregs_number_exact(char into[DREGS_NUMBER_TEXT], double value);

/** Writes a number for people: \p digits (1 to 17) significant digits, no trailing zeros after
 *  the point, an exponent below 1e-4 and from 1e6 up (or from 10^digits up). Returns \p into. */
DREGS_API const char *dregs_number_plain(char into[DREGS_NUMBER_TEXT], double value, int digits);

#ifdef __cplusplus
}
#endif
#endif
