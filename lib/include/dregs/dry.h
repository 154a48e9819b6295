/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
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

enum { DREGS_DRY_MESSAGE = 320 };
/** The share of its lower flammable limit that vapour is kept below by fresh air: "over one-fourth
 *  of the lower flammable limit" is too much in 29 CFR 1910.106(a)(31), 25 % in 1910.94(c)(6)(ii).
 */
#define DREGS_VAPOUR_SHARE 0.25

/** K; air that is no warmer than this dries in the room itself, warmer air is the room's, heated.
 *  Ours.
 */
#define DREGS_ROOM_WARMEST 308.15

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

/** How the air meets the wet face. */
typedef enum dregs_air_flow {
    DREGS_AIR_LAMINAR,   /**< along it, calm at its edge; turbulent behind Re = 5e5 */
    DREGS_AIR_TURBULENT, /**< along it, turbulent from its edge on: behind a fan, a grid, a rack */
    DREGS_AIR_TRAY,      /**< along a tray or pan in the channel of a dryer */
    DREGS_AIR_JET,       /**< against it, from round nozzles */
    DREGS_AIR_FLOWS
} dregs_air_flow;

/** The air that streams at a wet face. */
typedef struct dregs_air_stream {
    dregs_air_flow flow;
    double speed;    /**< m/s, >= 0; of a jet at the nozzle */
    double length;   /**< m, of the face along the air, or upwards */
    double density;  /**< kg/m3 of the air that arrives, of a tray only */
    double nozzle;   /**< m, the nozzle's diameter; of a jet, as are the next two */
    double distance; /**< m, from nozzle to face */
    double pitch;    /**< m, between the nozzles of a square array; 0: one nozzle amid a disc of
                          diameter `length` */
} dregs_air_stream;

/** Heat transfer coefficient, W/(m2 K), of a wet face in a stream of air: forced and free
 *  convection together, Nu^3 = Nu_forced^3 + Nu_free^3, the free one of a vertical plate.
 *  \param buoyancy  |density at the surface - density of the air| / density of the air, >= 0.
 *  \param message   DREGS_DRY_MESSAGE bytes for what is out of its law's range; may be NULL.
 *  \return DREGS_OK; DREGS_DOMAIN (speed 0 to 100 m/s); DREGS_OUT_OF_RANGE: a tray's mass flow of
 *  0.68 to 8.14 kg/(m2 s); a jet's Re of 2000 to 100,000, or to 400,000 of one nozzle, distance of
 * 2 to 12 nozzle diameters, nozzles of 0.004 to 0.04 of the face. Sources: laminar, Nu = 0.664
 * Re^0.5 Pr^(1/3) to Re = 5e5, (0.037 Re^0.8 - 871) Pr^(1/3) beyond (Pohlhausen; Incropera, ch. 7);
 * turbulent, Nu = 0.037 Re^0.8 Pr^(1/3) (Incropera, ch. 7), but not below the laminar one; tray, h
 * = 0.0204 G^0.8 with G in kg/(m2 h) (Geankoplis, Transport Processes, eq. 9.6-9); jet, Martin,
 * Adv. Heat Transfer 13 (1977) 1 (as in Incropera, ch. 7); free, Churchill and Chu, Int. J. Heat
 * Mass Transfer 18 (1975) 1323; together, Churchill, AIChE J. 23 (1977) 10. */
DREGS_API dregs_status dregs_air_transfer(const dregs_air *air, const dregs_air_stream *stream,
                                          double buoyancy, double *coefficient, char *message);

/** The word for it, such as "laminar"; NULL past the last. */
DREGS_API const char *dregs_air_flow_word(dregs_air_flow flow);

/** The law of forced convection of it, with its source; NULL past the last. */
DREGS_API const char *dregs_air_flow_law(dregs_air_flow flow);

/** As dregs_air_transfer, of a plate of \p length (m) in calm air moving at \p speed (m/s, >= 0).
 *  \return DREGS_OK, DREGS_DOMAIN. */
DREGS_API dregs_status dregs_heat_transfer(const dregs_air *air, double speed, double length,
                                           double buoyancy, double *coefficient);

/** Mass transfer coefficient, m/s, that goes with a heat transfer coefficient, for a diffusivity
 *  (m2/s): k = h / (rho cp) (D / a)^(2/3), a the thermal diffusivity.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183. */
DREGS_API dregs_status dregs_mass_transfer(const dregs_air *air, double heat_transfer,
                                           double diffusivity, double *coefficient);

/** The same, of a stream of that kind: (D / a)^0.58 for a jet, whose Nu has Pr^0.42.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Martin 1977, as above. */
DREGS_API dregs_status dregs_air_mass_transfer(const dregs_air *air, dregs_air_flow flow,
                                               double heat_transfer, double diffusivity,
                                               double *coefficient);

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

/** Radius (m) of half a cylinder that holds the volume \p bead (m2, per length): sqrt(2 bead / pi).
 *  A bead of that form that shrinks from its surface alone takes as long as an even layer of that
 *  thickness: pi r dr/dt = -pi r N / rho.
 *  \return DREGS_OK, DREGS_DOMAIN. */
DREGS_API dregs_status dregs_dry_bead_radius(double bead, double *radius);

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

/** Relative humidity, 0..1, of air of a temperature (K) that has that dew point (K).
 *  \return DREGS_OK; DREGS_DOMAIN (the dew point is above the temperature); DREGS_OUT_OF_RANGE (it
 *  is below 0.01 degC, or there is no vapour pressure of water at one of the two). */
DREGS_API dregs_status dregs_dew_point_humidity(const dregs_liquids *liquids, double temperature,
                                                double dew_point, double *humidity);

/** Fresh air, m3 of it at \p temperature (K) and 1 atm, that dilutes the vapour of \p mass (kg) of
 * a liquid to \p share (0..1) of its lower flammable limit: V (1/y - 1), V the vapour's own volume.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_UNKNOWN. */
DREGS_API dregs_status dregs_dilution_air(const dregs_liquids *liquids, const char *liquid,
                                          double mass, double temperature, double share,
                                          double *volume);

enum { DREGS_VOLATILES = 3 };

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
    double humidity;                     /**< 0..1, of the room's air before it is heated */
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
    dregs_air_flow flow;            /**< 0: DREGS_AIR_LAMINAR */
    double nozzle, distance, pitch; /**< m, of a jet; as in dregs_air_stream */
    double hindered;                /**< 0..1, the share of the transfer by air that is kept away */
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

/** The values that are taken where nothing is told: 20 degC, air of 50 % relative humidity at 0.1
 *  m/s, a part of 3.9 kJ/(m2 K) (1 mm of steel behind each wet face), 10 cm long, emissivity 0.9,
 *  101.325 kPa, dry at 0.1 % left; no liquid, film, area, volume or fresh air. Ours, no source. */
DREGS_API dregs_dry_case dregs_dry_usual(void);

/** The highest content of vapour over the lower flammable limit (Le Chatelier), of loads that
 * follow each other for good, from the curve of one: the sum of what each brings, and of what fresh
 * air has not yet washed out. An upper bound: the vapour of one load slows the next. Without a
 * volume the highest release over the fresh air; INFINITY without fresh air. \param interval  s
 * from load to load; INFINITY: one load alone. \return DREGS_OK; DREGS_DOMAIN; DREGS_OUT_OF_RANGE
 * (more than 10000 loads dry at a time); DREGS_UNKNOWN. */
DREGS_API dregs_status dregs_drying_peak_of_loads(const dregs_dry_case *film,
                                                  const dregs_drying *drying, double interval,
                                                  double *peak);

/** The fresh air, m3/s, that keeps the content of dregs_drying_peak_of_loads at \p share; 0 when it
 *  stays below without any. Without a volume by the peak of the drying curve, which asks for the
 *  most.
 *  \return as dregs_dry and dregs_drying_peak_of_loads. */
DREGS_API dregs_status dregs_dry_fresh_air_of_loads(const dregs_dry_case *film, double interval,
                                                    double share, double *fresh_air, char *message);

#ifdef __cplusplus
}
#endif
#endif
