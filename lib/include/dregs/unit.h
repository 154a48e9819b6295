/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* unit.h: units as practitioners write them: `mL/min`, `ug/cm2`, `oz/gal`, `degF`, `dyn/cm`.
 *
 * A unit is a product of named units with whole powers: factors joined by `.` or `*`, at most one
 * `/`, a group in parentheses, a power written behind the name (`cm2`, `s^-1`). `A per B` divides
 * once more, below everything else: `uS/cm per mg/L`. Case matters. `gal` is the US gallon, `oz`
 * the mass ounce, `fl oz` the fluid ounce. Temperature points (`degC`, `degF`) stand alone;
 * differences of temperature are `delta_degC`, `delta_degF`. Months and years are refused: their
 * length is not fixed. Factors from NIST SP 811 (2008), Appendix B.8.
 */
#ifndef DREGS_UNIT_H
#define DREGS_UNIT_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** The base dimensions, as exponents: metre, kilogram, second, kelvin, ampere, mole. */
enum { DREGS_DIMENSIONS = 6 };

typedef struct dregs_dimension {
    signed char exponent[DREGS_DIMENSIONS]; /**< m, kg, s, K, A, mol */
} dregs_dimension;

/** A unit that has been read: SI value = scale * value + offset. */
typedef struct dregs_unit {
    double scale;
    double offset; /**< not 0 for degC and degF only */
    dregs_dimension dimension;
} dregs_unit;

enum { DREGS_UNIT_MESSAGE = 192 };

/** Reads a unit.
 *  \param text     the unit; "" and "1" are the number one, "%" is 0.01, "ppm" is 1e-6.
 *  \param unit     what was read.
 *  \param message  DREGS_UNIT_MESSAGE bytes for the reason, with the column (from 1) of the bad
 *                  part; may be NULL. Untouched when the unit is good.
 *  \return DREGS_OK or DREGS_BAD_UNIT. */
DREGS_API dregs_status dregs_unit_read(const char *text, dregs_unit *unit, char *message);

/** Reads the unit and checks that it has the dimension of \p like, an example of an allowed unit
 *  ("mL/min" for a flow). Same outputs and errors as dregs_unit_read. */
DREGS_API dregs_status dregs_unit_read_like(const char *text, const char *like, dregs_unit *unit,
                                            char *message);

/** The SI value of \p value in \p unit. */
DREGS_API double dregs_unit_to_si(dregs_unit unit, double value);

/** The value in \p unit of an SI value. */
DREGS_API double dregs_unit_from_si(dregs_unit unit, double si);

/** Reads a quantity written as one text, "20 um" or "60degC": a number, blanks if any, a unit.
 *  \param like  an example of an allowed unit.
 *  \param si    the SI value.
 *  \return DREGS_OK, DREGS_BAD_NUMBER or DREGS_BAD_UNIT; the reason in \p message as above. */
DREGS_API dregs_status dregs_unit_quantity(const char *text, const char *like, double *si,
                                           char *message);

/** The named units, for documentation, completion and tests: name \p index (0, 1, ...) or NULL
 *  past the end. Prefixed forms (mL, ug) are not listed. */
DREGS_API const char *dregs_unit_name(size_t index);

#ifdef __cplusplus
}
#endif
#endif
