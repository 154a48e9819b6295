/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* conductivity.c: what is dissolved, as a conductivity at 25 degC: the water's own, that of solutes
 * by `conductivity` and that of salts by `electrolyte`. Others count as not conducting.
 */
#include "line/line.h"
#include "residue/bound.h"

#include <math.h>

double dregs_residue_conductivity(const dregs_line *line, const double *concentration)
{
    double sum, part;
    unsigned s;

    if (dregs_water_conductivity(DREGS_METER_TEMPERATURE, &sum, NULL))
        return NAN;
    for (s = 0; s < dregs_line_solutes(line); s++) {
        const dregs_solute *solute = dregs_line_solute(line, s);
        if (solute->conductivity.row)
            sum += solute->conductivity.si * concentration[s];
        if (!solute->electrolyte)
            continue;
        if (dregs_electrolyte_conductivity(solute->electrolyte, fmax(concentration[s], 0.0),
                                           DREGS_METER_TEMPERATURE, &part, NULL))
            return HUGE_VAL; /* more salt than the equation is taken for: 1 mol/kg */
        sum += part;
    }
    return sum;
}
