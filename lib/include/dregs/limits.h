/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* limits.h: published limits that a residue or a water is held against. Data, with their source. */
#ifndef DREGS_LIMITS_H
#define DREGS_LIMITS_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A cleanliness level for non-volatile residue.
 *  Source: MIL-STD-1246C (1994) and IEST-STD-CC1246D (2002), table of non-volatile residue levels;
 *  names of revision E (2013). Values from memory, of high confidence. */
typedef struct dregs_level {
    const char *name;  /**< "A/100" ... "J" */
    const char *later; /**< the same level in revision E: "R1E-2" ... "R25" */
    double most;       /**< kg/m2 */
    double as_printed; /**< mg per 0.1 m2, which is the same number in ug/cm2 */
} dregs_level;

/** Level \p index, the cleanest first; NULL past the end. */
DREGS_API const dregs_level *dregs_level_at(size_t index);
/** The level of that name, of either revision; NULL when there is none. */
DREGS_API const dregs_level *dregs_level_named(const char *name);
/** The cleanest level that a residue (kg/m2, >= 0) meets; NULL when it meets none or is NaN. */
DREGS_API const dregs_level *dregs_level_reached(double residue);

/** A grade of purified water. NaN where the standard sets no limit.
 *  Sources: ASTM D1193-99 (types), ISO 3696:1987 (grades). */
typedef struct dregs_water_grade {
    const char *name;    /**< "ISO 3696 grade 3" */
    double conductivity; /**< S/m at 25 degC, at most */
    double residue;      /**< kg per kg of water left on evaporation, at most */
} dregs_water_grade;

/** Grade \p index or NULL past the end. */
DREGS_API const dregs_water_grade *dregs_water_grade_at(size_t index);

#ifdef __cplusplus
}
#endif
#endif
