/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* meter.h: what a bench meter says about the liquid.
 *
 * The conductivity of pure water, of five salts in water, and what a reading at one temperature
 * would be at 25 degC; a calibration curve from a reading of any kind to a concentration. What is
 * left out: several salts at once, acids, what soil and surfactant do to a reading, the meter's
 * own error. Dissolved solids are nowhere taken from a conductivity of unknown salts: the usual
 * 0.55 to 0.8 mg/L per uS/cm is a spread of 45 %, not a measurement.
 *
 * SI throughout: 1 uS/cm = 1e-4 S/m, 1 g/L = 1 kg/m3, temperatures in K. The functions that take a
 * `message` write the reason of a failure there, in uS/cm, g/L and degC, unless it is NULL.
 */
#ifndef DREGS_METER_H
#define DREGS_METER_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Room for a reason, in bytes. */
enum { DREGS_METER_MESSAGE = 320 };

/** The temperature that conductivities are stated for, K: 25 degC. */
#define DREGS_METER_TEMPERATURE 298.15

/** What pure water reads once it has stood in air, S/m at 25 degC (dissolved carbon dioxide): 1.0
 *  to 1.1 uS/cm. A limit below the lower one cannot be met in an open tank. Common practice, no
 *  source. */
#define DREGS_WATER_IN_AIR_LEAST 1.0e-4
#define DREGS_WATER_IN_AIR_MOST  1.1e-4

/** Conductivity (S/m) of pure water without any gas in it.
 *  \param temperature  K, 278.15 to 373.15 (5 to 100 degC).
 *  \return DREGS_OK; DREGS_DOMAIN (not a positive number); DREGS_OUT_OF_RANGE.
 *  Source: polynomial in t - 25 degC after Marsh and Stokes, Aust. J. Chem. 17 (1964) 740;
 *  coefficients at second hand, range is ours: see dregs-model(7). */
DREGS_API dregs_status dregs_water_conductivity(double temperature, double *conductivity,
                                                char *message);

/** How a reading at one temperature becomes one at 25 degC; its name stands behind it. */
typedef enum dregs_compensation {
    DREGS_COMPENSATION_NONE,    /**< "none": the reading is for 25 degC already, the meter sees to
                                     it or the liquid is at 25 degC */
    DREGS_COMPENSATION_LINEAR,  /**< "linear": K25 = Kt / (1 + a (t - 25)) */
    DREGS_COMPENSATION_NATURAL, /**< "natural water": K25 = f(t) Kt, f of ISO 7888 */
    DREGS_COMPENSATION_PURE, /**< "pure water": K25 = (Kt - Kw(t)) / (1 + 0.02 (t - 25)) + Kw(25),
                                  Kw of dregs_water_conductivity */
    DREGS_COMPENSATIONS
} dregs_compensation;

/** The coefficient of linear compensation that is taken where none is stated, per K: 1.9 to 2.2 %
 *  are in use for rinse water. Common practice, no source. */
#define DREGS_COMPENSATION_COEFFICIENT 0.02

/** The highest coefficient that is taken, per K: above it 1 + a (t - 25) is no description of any
 *  rinse water near 0 degC. Our own. */
#define DREGS_COMPENSATION_COEFFICIENT_MOST 0.03

/** "none", "linear", "natural water", "pure water"; NULL past the end. */
DREGS_API const char *dregs_compensation_name(dregs_compensation way);

/** The way of that name. \return DREGS_OK, DREGS_UNKNOWN. */
DREGS_API dregs_status dregs_compensation_find(const char *name, dregs_compensation *way);

/** The name nearest to \p wanted, or NULL when none is near. */
DREGS_API const char *dregs_compensation_nearest(const char *wanted);

/** The range of temperature (K) in which a way may be used: 0 to 100 degC linear, 0 to 35 degC
 *  natural water, 5 to 100 degC pure water; 0 and infinity for none, which reads no temperature.
 *  \return DREGS_OK, DREGS_DOMAIN (no such way). */
DREGS_API dregs_status dregs_compensation_range(dregs_compensation way, double *low, double *high);

/** The conductivity at 25 degC (S/m) of a liquid that reads \p reading (S/m, >= 0) at
 *  \p temperature (K, read unless the way is none).
 *  \param coefficient  per K, above 0 up to DREGS_COMPENSATION_COEFFICIENT_MOST; read for linear
 *                      only.
 *  \return DREGS_OK; DREGS_DOMAIN (an argument that no liquid can have, a coefficient out of its
 *  range, no such way); DREGS_OUT_OF_RANGE (temperature outside dregs_compensation_range; for pure
 *  water a reading below that of pure water); DREGS_NUMERIC.
 *  Sources: ISO 7888:1985, table of the factor f25, for natural water; pure water as
 *  dregs_water_conductivity, its 0.02 per K for what is dissolved common practice, no source. */
DREGS_API dregs_status dregs_conductivity_at_25(dregs_compensation way, double coefficient,
                                                double temperature, double reading, double *at_25,
                                                char *message);

/** What a meter without compensation reads (S/m) at \p temperature in a liquid that has \p at_25
 *  (S/m, >= 0) at 25 degC: the inverse of dregs_conductivity_at_25, same arguments and statuses. */
DREGS_API dregs_status dregs_conductivity_shown(dregs_compensation way, double coefficient,
                                                double temperature, double at_25, double *reading,
                                                char *message);

/** The range of temperature (K) and the highest molality (mol/kg) of the electrolyte equation. */
#define DREGS_ELECTROLYTE_LOW  278.15
#define DREGS_ELECTROLYTE_HIGH 363.15
#define DREGS_ELECTROLYTE_MOST 1.0

/** A salt or base in water. With t in degC and m in mol/kg its molar conductivity is
 *      L = c1 t^2 + c2 t + c3 - (d1 t^2 + d2 t + d3) sqrt(m) / (1 + B sqrt(m))    S cm2/mol
 *  Source: McCleskey, J. Chem. Eng. Data 56 (2011) 317; molar masses from IUPAC 2021 atomic
 *  weights, computed. */
typedef struct dregs_electrolyte {
    const char *name;  /**< "NaCl", "KCl", "NaOH", "Na2CO3", "NaHCO3" */
    double molar_mass; /**< kg/mol, anhydrous */
    double c[3], d[3]; /**< c1 c2 c3, d1 d2 d3 */
    double b;          /**< B, (kg/mol)^0.5 */
} dregs_electrolyte;

/** Salt \p index (0, 1, ...) or NULL past the end. */
DREGS_API const dregs_electrolyte *dregs_electrolyte_at(size_t index);

/** The salt of that name (letters count as written), or NULL. */
DREGS_API const dregs_electrolyte *dregs_electrolyte_find(const char *name);

/** The name nearest to \p wanted, or NULL when none is near. */
DREGS_API const char *dregs_electrolyte_nearest(const char *wanted);

/** The highest concentration (kg/m3) the equation is taken for at \p temperature: 1 mol/kg with
 *  the density of the solution taken as that of water.
 *  \return DREGS_OK; DREGS_DOMAIN (temperature not a positive number); DREGS_OUT_OF_RANGE (outside
 *  5 to 90 degC). */
DREGS_API dregs_status dregs_electrolyte_most(const dregs_electrolyte *salt, double temperature,
                                              double *concentration, char *message);

/** Conductivity (S/m) that a salt gives to water, the water's own not included: L(t, m) c with c
 *  in mol/m3 and m = c / (density of water).
 *  \param concentration  kg/m3 of the anhydrous salt, 0 to dregs_electrolyte_most.
 *  \param temperature    K, 278.15 to 363.15 (5 to 90 degC).
 *  \return DREGS_OK; DREGS_DOMAIN (not a number, below 0, not a positive temperature);
 *  DREGS_OUT_OF_RANGE.
 *  Source: McCleskey 2011; density of water Kell 1975. Against other tables it is within 3.3 % for
 *  NaCl and NaOH, up to 12 % high for NaHCO3 and 18 % for Na2CO3. KCl is held to the published
 *  standards of 0.01, 0.1 and 1 mol/kg (Pratt, Koch, Wu, Berezansky, Pure Appl. Chem. 73 (2001)
 *  1783), within 0.1 % from 5 to 50 degC; the equation leads from one to the next. See
 *  dregs-model(7). */
DREGS_API dregs_status dregs_electrolyte_conductivity(const dregs_electrolyte *salt,
                                                      double concentration, double temperature,
                                                      double *conductivity, char *message);

/** The inverse: the concentration (kg/m3) that gives \p conductivity (S/m, >= 0, the water's own
 *  taken off) at \p temperature, to 1e-11 of it. Statuses as above, and DREGS_NUMERIC when no root
 *  is found. */
DREGS_API dregs_status dregs_electrolyte_concentration(const dregs_electrolyte *salt,
                                                       double conductivity, double temperature,
                                                       double *concentration, char *message);

enum { DREGS_CALIBRATION_LEAST = 2, DREGS_CALIBRATION_MOST = 20 };

/** One measured point of a calibration. The unit of the reading is the meter's own affair. */
typedef struct dregs_calibration_point {
    double reading;
    double concentration; /**< kg/m3, >= 0 */
} dregs_calibration_point;

/** A curve through measured points, straight between them. Made by dregs_calibration_make. */
typedef struct dregs_calibration {
    size_t count;
    dregs_calibration_point point[DREGS_CALIBRATION_MOST]; /**< by rising concentration */
} dregs_calibration;

/** Makes a curve of \p count points, given in any order.
 *  \param wrong    the numbers (0, 1, ... as given) of the two points that are at odds with each
 *                  other, the same number twice when it is one alone, both \p count when the
 *                  number of points is wrong. Set on failure only; may be NULL.
 *  \param message  the reason, without numbers of the points.
 *  \return DREGS_OK; DREGS_BAD_DATA: fewer than 2 or more than 20 points, a value that is not a
 *  finite number, a concentration below 0, two equal concentrations, readings that do not rise
 *  or fall all the way with the concentration. */
DREGS_API dregs_status dregs_calibration_make(const dregs_calibration_point *points, size_t count,
                                              dregs_calibration *curve, size_t wrong[2],
                                              char *message);

/** The concentration (kg/m3) at \p reading, straight between the two points around it.
 *  \return DREGS_OK; DREGS_DOMAIN (not a number); DREGS_OUT_OF_RANGE (outside the points). */
DREGS_API dregs_status dregs_calibration_concentration(const dregs_calibration *curve,
                                                       double reading, double *concentration,
                                                       char *message);

/** The reading at \p concentration (kg/m3); the inverse, same statuses. */
DREGS_API dregs_status dregs_calibration_reading(const dregs_calibration *curve,
                                                 double concentration, double *reading,
                                                 char *message);

#ifdef __cplusplus
}
#endif
#endif
