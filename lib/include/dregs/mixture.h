/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixture.h: mixtures of two liquids: tabulated properties and activity coefficients.
 *
 * The built-in table is data/mixtures.csv, compiled in: alcohols with water. A tabulated property
 * holds at one temperature and is interpolated in the mass share by Steffen's method (Astron.
 * Astrophys. 239 (1990) 443), which makes no peak or dip that the points do not have. Nothing is
 * extrapolated: outside the table, or off its temperature, a value is refused.
 *
 * Pairs may be named in either order; shares are always those of the liquid that the caller names
 * first.
 */
#ifndef DREGS_MIXTURE_H
#define DREGS_MIXTURE_H

#include "dregs/liquid.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_MIXTURE_COEFFICIENTS = 3 };

/** How far, in K, a temperature may lie from that of a tabulated property. */
#define DREGS_MIXTURE_NEAR 0.5

/** One curve or model of the table. Texts live as long as the table. */
typedef struct dregs_mixture_row {
    const char *pair;           /**< "isopropanol-water" */
    const char *first, *second; /**< in the order of the table; shares are those of the first */
    const char *name;           /**< "density", ...; "activity" for a model */
    dregs_property property;    /**< DREGS_PROPERTIES for a model */
    const char *model;          /**< "table", "van Laar", "NRTL" */
    const char *unit;           /**< of the points as published */
    /** van Laar: A12, A21, natural logarithms. NRTL: g12 - g22, g21 - g11 in J/mol, alpha. */
    double coefficient[DREGS_MIXTURE_COEFFICIENTS];
    double low, high;             /**< K */
    double share_low, share_high; /**< mass shares, 0..1 */
    size_t points;                /**< 0 for a model */
    const char *source;           /**< of most of its points */
    const char *evidence;         /**< "read", "memory" or "computed" */
    const char *note;             /**< "" for nothing */
    double fitted_at; /**< K, of a model: where its coefficients were fitted; 0 for a table */
} dregs_mixture_row;

typedef struct dregs_mixtures dregs_mixtures;

/** The built-in table. NULL only when memory is short. Constant after creation: several threads
 *  may read one table. */
DREGS_API dregs_mixtures *dregs_mixtures_new(void);
DREGS_API void dregs_mixtures_free(dregs_mixtures *mixtures);

/** Curve or model \p index (0, 1, ... in the order of the table: all of one pair follow each
 *  other) or NULL past the end. */
DREGS_API const dregs_mixture_row *dregs_mixtures_row(const dregs_mixtures *mixtures, size_t index);

/** 1 when the table has any row for the pair, in either order. */
DREGS_API int dregs_mixtures_has(const dregs_mixtures *mixtures, const char *first,
                                 const char *second);

/** The pair of the table nearest to \p wanted, such as "isopropanol-water", or NULL. */
DREGS_API const char *dregs_mixtures_nearest(const dregs_mixtures *mixtures, const char *wanted);

/** Mole share of a liquid from its mass share, and back; molar masses in any one unit.
 *  NaN when a share is not in 0..1 or a molar mass is not positive. */
DREGS_API double dregs_mixture_mole_share(double mass_share, double first_mass, double second_mass);
DREGS_API double dregs_mixture_mass_share(double mole_share, double first_mass, double second_mass);

/** Density, viscosity or surface tension of a mixture.
 *  \param mass_share   of \p first, 0..1.
 *  \param temperature  K; must be within DREGS_MIXTURE_NEAR of the temperature of a table.
 *  \param value        in the SI unit of the property, at the temperature of the table.
 *  \param message      DREGS_LIQUID_MESSAGE bytes for the reason, or NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such pair, or no table of the property); DREGS_OUT_OF_RANGE
 *  (share or temperature, with the range in the message); DREGS_DOMAIN (a share outside 0..1, a
 *  temperature that is none). */
DREGS_API dregs_status dregs_mixture_value(const dregs_mixtures *mixtures, const char *first,
                                           const char *second, dregs_property property,
                                           double mass_share, double temperature, double *value,
                                           char *message);

/** Activity coefficients of both liquids, by Raoult's law (1 for the pure liquid): van Laar (1910)
 *  or NRTL (Renon and Prausnitz, AIChE J. 14 (1968) 135), whichever the table has. Of a pair with
 *  models fitted at two temperatures the logarithms go straight over 1/T from one to the other, and
 *  on below the colder one, as the equation of Gibbs and Helmholtz has it for a constant heat of
 *  mixing; above the warmer one that model counts alone.
 *  \param mole_share  of \p first, 0..1.
 *  \param gamma       of \p first and \p second.
 *  \return as dregs_mixture_value. */
DREGS_API dregs_status dregs_mixture_activity(const dregs_mixtures *mixtures, const char *first,
                                              const char *second, double mole_share,
                                              double temperature, double gamma[2], char *message);

/** The temperature at which a mixture boils: x1 g1 p1 + x2 g2 p2 = pressure, with the vapour
 *  pressures of \p liquids and an ideal vapour.
 *  \param pressure      Pa.
 *  \param temperature   K.
 *  \param vapour_share  mole share of \p first in the vapour.
 *  \return as dregs_mixture_value; DREGS_OUT_OF_RANGE also when it does not boil within the common
 *  range of the data. */
DREGS_API dregs_status dregs_mixture_bubble(const dregs_mixtures *mixtures,
                                            const dregs_liquids *liquids, const char *first,
                                            const char *second, double mole_share, double pressure,
                                            double *temperature, double *vapour_share,
                                            char *message);

/** The flash point of a mixture by Le Chatelier's rule: sum of x_i g_i p_i(T) / p_i(T_i) = 1 over
 * the liquids that can burn, T_i the flash point of each by itself; water adds nothing. Measured
 * ones of alcohols with water lie within some 5 K; measure what matters. \param mole_share   of \p
 * first. \param temperature  K. \return as dregs_mixture_bubble; DREGS_UNKNOWN also where a liquid
 * other than water has no flash point on record; DREGS_OUT_OF_RANGE where it is reached nowhere in
 * the range of the data. Source: Liaw, Lee, Tang, Hsu and Liu, J. Loss Prev. Process Ind. 15 (2002)
 * 429; with water: Liaw and Chiu, J. Hazard. Mater. A101 (2003) 83 (both from memory). */
DREGS_API dregs_status dregs_mixture_flash_point(const dregs_mixtures *mixtures,
                                                 const dregs_liquids *liquids, const char *first,
                                                 const char *second, double mole_share,
                                                 double *temperature, char *message);

/** The mixture that boils without changing: vapour and liquid have the same shares.
 *  \param mole_share  of \p first.
 *  \return as dregs_mixture_bubble; DREGS_UNKNOWN also when there is none between 1 and 99.9 % in
 *  the range of the data. */
DREGS_API dregs_status dregs_mixture_azeotrope(const dregs_mixtures *mixtures,
                                               const dregs_liquids *liquids, const char *first,
                                               const char *second, double pressure,
                                               double *mole_share, double *temperature,
                                               char *message);

#ifdef __cplusplus
}
#endif
#endif
