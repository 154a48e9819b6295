/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* shown.c: what a meter should show for what is in a tank. */
#include "dregs/reuse.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Conductivity (S/m) at 25 degC of what is dissolved and stated by `conductivity`, and of the
 * water itself. */
static dregs_status plain_part(const dregs_line *line, const double *concentration, double *sum,
                               char *message)
{
    dregs_status status = dregs_water_conductivity(DREGS_METER_TEMPERATURE, sum, message);
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line) && !status; s++) {
        const dregs_solute *solute = dregs_line_solute(line, s);
        if (solute->conductivity.row)
            *sum += solute->conductivity.si * concentration[s];
    }
    return status;
}

/* Conductivity (S/m) at a temperature of the salts. */
static dregs_status salt_part(const dregs_line *line, const double *concentration,
                              double temperature, double *sum, char *message)
{
    dregs_status status = DREGS_OK;
    double part;
    unsigned s;

    *sum = 0;
    for (s = 0; s < dregs_line_solutes(line) && !status; s++) {
        const dregs_electrolyte *salt = dregs_line_solute(line, s)->electrolyte;
        if (!salt)
            continue;
        status = dregs_electrolyte_conductivity(salt, fmax(concentration[s], 0.0), temperature,
                                                &part, message);
        if (!status)
            *sum += part;
    }
    return status;
}

static dregs_status conductivity_shown(const dregs_line *line, unsigned stage, double temperature,
                                       const double *concentration, double *shown, char *message)
{
    int compensated = isnan(temperature);
    double coefficient, at_25, salts;
    dregs_compensation way = dregs_reuse_compensation(line, stage, &coefficient);
    dregs_status status = plain_part(line, concentration, &at_25, message);

    if (compensated) {
        way = DREGS_COMPENSATION_NONE;
        temperature = DREGS_METER_TEMPERATURE;
    }
    if (!status)
        status = salt_part(line, concentration,
                           way == DREGS_COMPENSATION_NONE ? DREGS_METER_TEMPERATURE : temperature,
                           &salts, message);
    if (!status)
        status = dregs_conductivity_shown(way, coefficient, temperature, at_25, shown, message);
    if (!status)
        *shown += salts;
    return status;
}

dregs_compensation dregs_reuse_compensation(const dregs_line *line, unsigned stage,
                                            double *coefficient)
{
    static const double natural = 6e-3; /* S/m: ISO 7888 speaks of 60 to 1000 uS/cm */
    const dregs_fluid *fluid = dregs_line_wet_with(line, stage);
    double fresh[DREGS_LINE_SOLUTES] = {0}, at_25 = 0, salts = 0;
    unsigned s;

    *coefficient = fluid->coefficient.row ? fluid->coefficient.si : DREGS_COMPENSATION_COEFFICIENT;
    if (fluid->compensation_row)
        return fluid->compensation;
    if (dregs_stage_is(dregs_line_stage(line, stage), DREGS_STAGE_CLEANS) ||
        strcmp(fluid->solvent, "water") != 0)
        return DREGS_COMPENSATION_LINEAR;
    for (s = 0; s < dregs_line_solutes(line); s++)
        fresh[s] = fluid->content[s].si;
    if (plain_part(line, fresh, &at_25, NULL) ||
        salt_part(line, fresh, DREGS_METER_TEMPERATURE, &salts, NULL))
        return DREGS_COMPENSATION_LINEAR;
    return at_25 + salts >= natural ? DREGS_COMPENSATION_NATURAL : DREGS_COMPENSATION_PURE;
}

dregs_status dregs_reuse_shown(const dregs_line *line, unsigned stage, dregs_measured what,
                               unsigned which, double temperature, const double *concentration,
                               double *shown, char *message)
{
    const dregs_scale *scale = dregs_line_scale(line, which);
    double total = 0;
    unsigned s;

    if (stage >= dregs_line_stages(line) || dregs_line_stage(line, stage)->tank < 0 ||
        (what == DREGS_MEASURED_CONCENTRATION && which >= dregs_line_solutes(line)) ||
        (what == DREGS_MEASURED_SCALE && !scale) || what == DREGS_MEASURED_DUMP ||
        what == DREGS_MEASURED_ON_PARTS) {
        if (message)
            snprintf(message, DREGS_METER_MESSAGE, "no such stage, solute or calibration");
        return DREGS_DOMAIN;
    }
    for (s = 0; s < dregs_line_solutes(line); s++)
        total += concentration[s];
    switch (what) {
    case DREGS_MEASURED_CONCENTRATION:
        *shown = concentration[which];
        return DREGS_OK;
    case DREGS_MEASURED_RESIDUE:
        *shown = total;
        return DREGS_OK;
    case DREGS_MEASURED_SCALE:
        return dregs_calibration_reading(&scale->curve,
                                         scale->solute < 0 ? total : concentration[scale->solute],
                                         shown, message);
    default:
        return conductivity_shown(line, stage, temperature, concentration, shown, message);
    }
}
