/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* equations.h: the fixed set of equations a row of the liquid table may name; not installed. */
#ifndef DREGS_LIQUID_EQUATIONS_H
#define DREGS_LIQUID_EQUATIONS_H

#include <stddef.h>

typedef struct dregs_equation {
    const char *text;  /**< as in the table: T in K, t in degC, y the result in the row's unit */
    const char *needs; /**< letters of the coefficients that must be given */
    const char *takes; /**< letters of those that may be; what is left out is 0 */
    /** \p c are A..G, \p T is in K. Not finite where the coefficients make no sense. */
    double (*value)(const double *c, double T);
} dregs_equation;

/** The equation written as \p text, blanks not counted; NULL when it is none of the set. */
const dregs_equation *dregs_liquid_equation_find(const char *text);

/** Equation \p index (0, 1, ...) or NULL past the end. Number 0 is the constant. */
const dregs_equation *dregs_liquid_equation_at(size_t index);

#endif
