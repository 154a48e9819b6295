/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* standard.h: potassium chloride in water, the standard that conductivity cells are calibrated
 * with; not installed. */
#ifndef DREGS_METER_STANDARD_H
#define DREGS_METER_STANDARD_H

/** What the standards' conductivity is to that of McCleskey's equation, at a temperature (K) and a
 *  molality (mol/kg); the ratio nearest to it outside 0 to 50 degC and 0.01 to 1 mol/kg.
 *  \param equation  conductivity (S/m) of McCleskey's equation at a temperature and a molality. */
double dregs_meter_standard(double temperature, double molality,
                            double (*equation)(double temperature, double molality));

/** Molality (mol/kg) of a solution that holds \p amount (mol/m3) of the salt, from the density of
 *  water (kg/m3) there. */
double dregs_meter_standard_molality(double temperature, double amount, double water);

/** Amount (mol/m3) of the salt in a solution of that molality; the inverse, to 1e-12. */
double dregs_meter_standard_amount(double temperature, double molality, double water);

#endif
