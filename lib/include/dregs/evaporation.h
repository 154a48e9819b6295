/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* evaporation.h: what the open surface of a tank loses to the air of a room.
 *
 * Several laws stand beside each other, each within its range; the largest counts. What is left
 * out: hoods that suck at the rim, waves, foam, a film or soil that floats on the liquid, vapour
 * that has gathered in the room. The laws are written out in dregs-model(7).
 */
#ifndef DREGS_EVAPORATION_H
#define DREGS_EVAPORATION_H

#include "dregs/liquid.h"
#include "dregs/mixture.h"
#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum dregs_evaporation_law {
    DREGS_EVAPORATION_CONVECTION, /**< free convection above the surface */
    DREGS_EVAPORATION_DIFFUSION,  /**< diffusion alone, from a disc in a plane */
    DREGS_EVAPORATION_POOL,       /**< quiescent pools: Mackay and van Wesenbeeck 2014 */
    DREGS_EVAPORATION_WIND,       /**< US EPA's pool equation, for air that moves */
    DREGS_EVAPORATION_FREEBOARD,  /**< through the air that stands below the rim; counts in place
                                       of the others where it applies */
    DREGS_EVAPORATION_LAWS
} dregs_evaporation_law;

/** An open surface and the air over it. */
typedef struct dregs_open_surface {
    double temperature;  /**< K, of the liquid below the surface */
    double room;         /**< K, of the room's air: 273.16 to 333.15 */
    double humidity;     /**< 0..1, of the room's air */
    double pressure;     /**< Pa */
    double length;       /**< m, area over perimeter: a quarter of the side of a square */
    double air_speed;    /**< m/s, 0: still */
    double freeboard;    /**< m, from the surface up to the rim; 0: not known, or none */
    double conductivity; /**< W/(m K), of the liquid, with which the surface is colder than the
                              liquid below; 0: it is as warm */
} dregs_open_surface;

enum { DREGS_EVAPORATION_WHY = 200 };

/** What one law says. */
typedef struct dregs_evaporation_candidate {
    int applies;
    double flux;                     /**< kg/(m2 s), where it applies */
    char why[DREGS_EVAPORATION_WHY]; /**< why it does not apply */
} dregs_evaporation_candidate;

/** All laws, the one that counts, and what they were worked out from. */
typedef struct dregs_evaporation {
    double flux; /**< kg/(m2 s) that counts, >= 0 */
    dregs_evaporation_law counts;
    int condenses; /**< the room's air holds more vapour than the surface gives: flux is 0 */
    dregs_evaporation_candidate law[DREGS_EVAPORATION_LAWS];
    double molar_mass;       /**< kg/mol */
    double far;              /**< Pa, the liquid's vapour in the room's air */
    double vapour_pressure;  /**< Pa, at the temperature of the liquid */
    double surface;          /**< K, of the surface, for convection */
    int cooled;              /**< the surface's own temperature was worked out */
    double surface_pressure; /**< Pa, the vapour's at `surface` */
    double diffusivity;      /**< m2/s, at the mean of `surface` and room */
    double density;          /**< kg/m3, of the room's air */
    double lighter;  /**< kg/m3, by which the air at the surface is lighter; < 0: heavier, by the
                          stronger drive where heat and vapour are against each other */
    double rayleigh; /**< of that difference, with `length` and the diffusivity */
    double sherwood; /**< that follows; NaN out of range */
    double transfer; /**< m/s, the coefficient; NaN out of range */
} dregs_evaporation;

/** Mean Sherwood number (or Nusselt number) of free convection over a horizontal surface, of the
 *  Rayleigh number with length area / perimeter.
 *  \param rising  1: what is at the surface is driven off it: 0.54 Ra^(1/4), 1e4 <= Ra <= 1e7;
 *                 0.15 Ra^(1/3) up to 1e11. 0: it lies stable: 0.27 Ra^(1/4), 1e5 <= Ra <= 1e10.
 *  \return DREGS_OK, DREGS_OUT_OF_RANGE, DREGS_DOMAIN.
 *  Source: Lloyd and Moran, J. Heat Transfer 96 (1974) 443; McAdams, Heat Transmission, 3rd ed.
 *  (1954), sec. 7; as in Incropera, ch. 9. */
DREGS_API dregs_status dregs_horizontal_convection(double rayleigh, int rising, double *sherwood);

/** What an open surface loses.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_UNKNOWN and DREGS_OUT_OF_RANGE: vapour pressure or molar
 *  mass are not known, the liquid boils, the room's air is out of range, or no law applies. */
DREGS_API dregs_status dregs_open_evaporation(const dregs_liquids *liquids, const char *liquid,
                                              const dregs_open_surface *tank,
                                              dregs_evaporation *result, char *message);

/** Thermal conductivity of a liquid, W/(m K), for dregs_open_surface: of class water at 274 to 370
 * K by Ramires et al., J. Phys. Chem. Ref. Data 24 (1995) 1377 (value from memory), else that of
 * the table; 0 where that has none. */
DREGS_API double dregs_open_conductivity(const dregs_liquids *liquids, const char *liquid,
                                         double temperature);

/** What stands below an open surface, kg per m2 of it. */
typedef struct dregs_open_content {
    double solvent, water;
} dregs_open_content;

/** What an open tank of a solvent holds after a time in which nothing is topped up: the solvent
 *  evaporates, water comes from the room's air or leaves. Each passes by the law that counts for
 * the pure solvent, driven by x gamma p over the mixture: the solvent's flux is that of the pure
 * one times x gamma; water's coefficient follows from the solvent's by the ratio of the
 * diffusivities, to the power 2/3 in convection and 1 through air at rest, and is the law's own for
 * pools and wind. Left out: the heat that water gives off as it is taken up, layers in the tank,
 * and that the level sinks. \param liquid   of a pair with water of which \p mixtures have activity
 * coefficients. \param time     s, >= 0. \param content  solvent > 0, water >= 0 at first; then.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_DOMAIN; as dregs_open_evaporation and dregs_mixture_activity;
 *  DREGS_OUT_OF_RANGE also where less than 1 % of the solvent is left before; DREGS_NO_MEMORY.
 *  Source: Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183, for the power 2/3; that one law
 *  serves both is ours, no measurement of the uptake was found. */
DREGS_API dregs_status dregs_open_uptake(const dregs_liquids *liquids,
                                         const dregs_mixtures *mixtures, const char *liquid,
                                         const dregs_open_surface *tank, double time,
                                         dregs_open_content *content, char *message);

/** How fast that changes, kg/(m2 s), with what is there: the solvent's rate is below 0, water's
 * above it where it comes in. \return as dregs_open_uptake. */
DREGS_API dregs_status dregs_open_rates(const dregs_liquids *liquids,
                                        const dregs_mixtures *mixtures, const char *liquid,
                                        const dregs_open_surface *tank,
                                        const dregs_open_content *content,
                                        dregs_open_content *rates, char *message);

/** A law in a few words, with its source; NULL past the last. */
DREGS_API const char *dregs_evaporation_words(dregs_evaporation_law law);

#ifdef __cplusplus
}
#endif
#endif
