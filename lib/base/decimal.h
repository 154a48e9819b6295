/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* decimal.h: the decimal mark of a file whose separator does not settle it; not installed. */
#ifndef DREGS_BASE_DECIMAL_H
#define DREGS_BASE_DECIMAL_H

#include "dregs/status.h"

/** What the numbers of a file have told so far; zero-initialise. */
struct dregs_decimal {
    char mark;          /* of the numbers so far, ',' or '.'; 0: none has one */
    int told;           /* one of them is no whole number with a mark between its thousands */
    int twofold;        /* both marks are there, which has been said */
    unsigned long line; /* of the number that tells, or of the first one with a mark */
    char text[32];      /* that number */
};

/** Takes the cell of a column that holds numbers: a number in it gets a point for its mark, any
 * other text stays as it is. \param unit  1: a unit may stand behind the number; 0: a `%` at most.
 *  \return DREGS_OK; DREGS_BAD_DATA for a number with something between its thousands, or with
 *  another mark than the numbers before it. */
dregs_status dregs_decimal_take(struct dregs_decimal *decimal, char *cell, int unit,
                                unsigned long line, dregs_faults *faults);

/** At the end of the file. \return DREGS_BAD_DATA when there is a number with a mark and none tells
 *  what it is. */
dregs_status dregs_decimal_end(const struct dregs_decimal *decimal, dregs_faults *faults);

#endif
