/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.h: how a film dries: mass and energy together, in a room or an oven.
 *
 * One wetted area stands for the part: film, part and air exchange heat and vapour through the same
 * boundary layer. What is left out: temperature differences within the part, films that break up,
 * soil that slows the evaporation, radiation from anything but walls of one temperature.
 */
#ifndef DREGS_DRY_H
#define DREGS_DRY_H

#include "dregs/liquid.h"
#include "dregs/mixture.h"
#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

#define DREGS_GAS_CONSTANT     8.31446261815324 /* J/(mol K), CODATA 2018, exact */
#define DREGS_STEFAN_BOLTZMANN 5.670374419e-8   /* W/(m2 K4), CODATA 2018 */
#define DREGS_ATMOSPHERE       101325.0         /* Pa */

/** Dry air at a film temperature. */
typedef struct dregs_air {
    double density;       /**< kg/m3, ideal gas, M = 28.96 g/mol */
    double viscosity;     /**< Pa.s, Sutherland's law, 250 to 500 K within 2 % */
    double conductivity;  /**< W/(m K), Sutherland's form */
    double heat_capacity; /**< J/(kg K), 1006 */
} dregs_air;

/** Properties of dry air, 230 to 550 K.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: constants of White, Viscous Fluid Flow (1974), tables 1-2 and 1-3 (value from memory).
 */
DREGS_API dregs_status dregs_air_at(double temperature, double pressure, dregs_air *air);

/** Heat transfer coefficient, W/(m2 K), of a plate of \p length (m) in air moving at \p speed
 *  (m/s, >= 0): the larger of forced flow along it and free convection on a vertical plate.
 *  \param buoyancy  |density at the surface - density of the air| / density of the air, >= 0.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Sources: Nu = 0.664 Re^0.5 Pr^(1/3) to Re = 5e5, (0.037 Re^0.8 - 871) Pr^(1/3) beyond
 *  (Pohlhausen; Incropera, ch. 7); Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1323. */
DREGS_API dregs_status dregs_heat_transfer(const dregs_air *air, double speed, double length,
                                           double buoyancy, double *coefficient);

/** Mass transfer coefficient, m/s, that goes with a heat transfer coefficient, for a diffusivity
 *  (m2/s): k = h / (rho cp) (D / a)^(2/3), a the thermal diffusivity.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183. */
DREGS_API dregs_status dregs_mass_transfer(const dregs_air *air, double heat_transfer,
                                           double diffusivity, double *coefficient);

/** Molar flux, mol/(m2 s), of a vapour through stagnant air (Stefan flow):
 *  k P / (R T) ln((P - p_far) / (P - p_surface)); negative when vapour condenses.
 *  \return DREGS_OK, DREGS_DOMAIN (pressures not below P: the liquid boils).
 *  Source: Stefan 1874; Geankoplis, Transport Processes, section 6.2. */
DREGS_API dregs_status dregs_stefan_flux(double coefficient, double temperature, double pressure,
                                         double surface, double far, double *flux);

/** Seconds in which a recess of \p depth (m), full at first, dries through its mouth by diffusion.
 *  \param flux_length  D P / (R T) ln(...), mol/(m s): a Stefan flux times its length.
 *  \param molar_density  of the liquid, mol/m3.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: quasi-steady Stefan tube, Geankoplis, example 6.2-3. */
DREGS_API dregs_status dregs_recess_time(double flux_length, double molar_density, double depth,
                                         double *time);

/** The temperature that a wetted surface takes when the heat it gets by convection alone feeds its
 *  evaporation, into air at \p temperature that holds the liquid's vapour at \p far (Pa).
 *  \param heat_transfer  W/(m2 K); > 0: the mass transfer follows from it.
 *  \param flux           kg/(m2 s) at that temperature; may be NULL.
 *  \return DREGS_OK, DREGS_UNKNOWN, DREGS_OUT_OF_RANGE, DREGS_DOMAIN, DREGS_NUMERIC. */
DREGS_API dregs_status dregs_wet_surface(const dregs_liquids *liquids, const char *liquid,
                                         double temperature, double pressure, double far,
                                         double heat_transfer, double *surface, double *flux);

/** Thermodynamic wet bulb, K, of humid air (relative humidity 0..1) of 0.01 to 95 degC, down to a
 *  wet bulb of 0.01 degC.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_OUT_OF_RANGE (it lies below that).
 *  Source: ASHRAE Fundamentals 2017, ch. 1, eq. 33. */
DREGS_API dregs_status dregs_wet_bulb(const dregs_liquids *liquids, double temperature,
                                      double humidity, double pressure, double *wet_bulb);

/** Dew point, K, of humid air, down to 0.01 degC.
 *  \return as dregs_wet_bulb; DREGS_OUT_OF_RANGE below that. */
DREGS_API dregs_status dregs_dew_point(const dregs_liquids *liquids, double temperature,
                                       double humidity, double *dew_point);

/** Fresh air, m3 of it at \p temperature (K) and 1 atm, that dilutes the vapour of \p mass (kg) of
 * a liquid to \p share (0..1) of its lower flammable limit: V (1/y - 1), V the vapour's own volume.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_UNKNOWN. */
DREGS_API dregs_status dregs_dilution_air(const dregs_liquids *liquids, const char *liquid,
                                          double mass, double temperature, double share,
                                          double *volume);

enum { DREGS_VOLATILES = 3, DREGS_DRY_MESSAGE = 320 };

/** What the film is held to. */
typedef enum dregs_dry_mode {
    DREGS_DRY_FULL,       /**< mass and energy together */
    DREGS_DRY_ISOTHERMAL, /**< the part keeps the air's temperature: a heavy, warm part */
    DREGS_DRY_WET_BULB    /**< nothing but convection and radiation feeds it: a part without heat of
                               its own; one that comes in colder takes longer */
} dregs_dry_mode;

/** A film to be dried. Masses per wetted area. */
typedef struct dregs_dry_case {
    const dregs_liquids *liquids;
    const dregs_mixtures *mixtures;      /**< NULL: activity coefficients of 1 */
    unsigned count;                      /**< volatiles, 1 to DREGS_VOLATILES */
    const char *liquid[DREGS_VOLATILES]; /**< water of the room is added by itself */
    double mass[DREGS_VOLATILES];        /**< kg/m2 at first */
    double start;                        /**< K, of part and film at first */
    double air;                          /**< K */
    double wall;                         /**< K */
    double speed;                        /**< m/s */
    double humidity;                     /**< 0..1, of the fresh air before it is heated */
    double humid_at;                     /**< K, the temperature of that air */
    double pressure;                     /**< Pa */
    double heat_capacity;                /**< of the part, J/(m2 K) per wetted area, >= 0 */
    double length;                       /**< m, along the flow or upwards */
    double emissivity;                   /**< 0..1 */
    double volume;                       /**< m3 of the oven or room; 0: vapour does not gather */
    double fresh_air;                    /**< m3/s */
    double area;                         /**< m2 wetted in that volume */
    double until; /**< share of the liquid left at which it counts as dry, 0.001 usual */
    dregs_dry_mode mode;
} dregs_dry_case;

/** A moment of the curve. */
typedef struct dregs_dry_point {
    double time;                  /**< s */
    double mass[DREGS_VOLATILES]; /**< kg/m2 left */
    double total;
    double temperature; /**< K of part and film */
    double flammable;   /**< vapour in the volume over its lower flammable limit (Le Chatelier) */
    double share[DREGS_VOLATILES]; /**< of the volume's air, 0..1 */
} dregs_dry_point;

typedef struct dregs_drying {
    int dry;            /**< 0: it never gets there in DREGS_DRY_MOST seconds */
    double time;        /**< s */
    unsigned volatiles; /**< with water added, if it was not in the film */
    const char *liquid[DREGS_VOLATILES];
    double coldest, coldest_at;                 /**< K, s */
    double dew_point;                           /**< K of the room's air, NaN below 0.01 degC */
    int wet_spots;                              /**< the film fell below the dew point */
    double peak, peak_at;                       /**< of `flammable`, s */
    double peak_share[DREGS_VOLATILES];         /**< highest share of each vapour in the air */
    double convected, radiated, latent, stored; /**< J/m2: stored = convected + radiated - latent */
    dregs_dry_point *point;
    size_t points;
} dregs_drying;

#define DREGS_DRY_MOST 1e7 /* s */

/** Dries a film. \p drying is zeroed by the caller and cleared with dregs_drying_clear.
 *  \param tolerance  of the integration, relative, 1e-4 to 1e-12; 1e-9 usual.
 *  \param message    DREGS_DRY_MESSAGE bytes for the reason.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_UNKNOWN and DREGS_OUT_OF_RANGE (a property, with the
 * reason); DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_dry(const dregs_dry_case *film, double tolerance, dregs_drying *drying,
                                 char *message);
DREGS_API void dregs_drying_clear(dregs_drying *drying);

/** The fresh air, m3/s, that keeps the highest vapour content at \p share of the lower flammable
 *  limit; 0 when it stays below without any. The case must have a volume.
 *  \return as dregs_dry. */
DREGS_API dregs_status dregs_dry_fresh_air(const dregs_dry_case *film, double share,
                                           double *fresh_air, char *message);

#ifdef __cplusplus
}
#endif
#endif
