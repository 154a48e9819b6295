/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* limits.c: the tables of cleanliness levels and water grades. */
#include "dregs/limits.h"

#include <math.h>
#include <string.h>

/* mg per 0.1 m2 is 1e-6 kg per 0.1 m2; the quotient by 1e5 is the double nearest to the printed
 * decimal, which a product with 1e-5 is not */
#define LEVEL(name, later, printed)                                                                \
    {                                                                                              \
        name, later, (printed) / 1e5, printed                                                      \
    }

static const dregs_level levels[] = {
    LEVEL("A/100", "R1E-2", 0.01), LEVEL("A/50", "R2E-2", 0.02), LEVEL("A/20", "R5E-2", 0.05),
    LEVEL("A/10", "R1E-1", 0.1),   LEVEL("A/5", "R2E-1", 0.2),   LEVEL("A/2", "R5E-1", 0.5),
    LEVEL("A", "R1", 1),           LEVEL("B", "R2", 2),          LEVEL("C", "R3", 3),
    LEVEL("D", "R4", 4),           LEVEL("E", "R5", 5),          LEVEL("F", "R7", 7),
    LEVEL("G", "R10", 10),         LEVEL("H", "R15", 15),        LEVEL("J", "R25", 25),
};

enum { LEVELS = sizeof levels / sizeof levels[0] };

const dregs_level *dregs_level_at(size_t index)
{
    return index < LEVELS ? &levels[index] : NULL;
}

const dregs_level *dregs_level_named(const char *name)
{
    size_t i;

    for (i = 0; i < LEVELS; i++)
        if (strcmp(levels[i].name, name) == 0 || strcmp(levels[i].later, name) == 0)
            return &levels[i];
    return NULL;
}

const dregs_level *dregs_level_reached(double residue)
{
    size_t i;

    for (i = 0; i < LEVELS; i++)
        if (residue >= 0 && residue <= levels[i].most)
            return &levels[i];
    return NULL;
}

/* uS/cm = 1e-4 S/m; mg/kg = 1e-6 */
static const dregs_water_grade grades[] = {
    {"ASTM D1193 type I", 0.056e-4, NAN},  {"ASTM D1193 type II", 1.0e-4, NAN},
    {"ASTM D1193 type III", 0.25e-4, NAN}, {"ASTM D1193 type IV", 5.0e-4, NAN},
    {"ISO 3696 grade 1", 0.1e-4, NAN},     {"ISO 3696 grade 2", 1.0e-4, 1e-6},
    {"ISO 3696 grade 3", 5.0e-4, 2e-6},
};

const dregs_water_grade *dregs_water_grade_at(size_t index)
{
    return index < sizeof grades / sizeof grades[0] ? &grades[index] : NULL;
}
