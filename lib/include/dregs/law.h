/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* law.h: the arithmetic that regulations ask of a cleaning line: the solvent plan of the European
 * Union, the balance of US solvent cleaning machines, the potential to emit, hazardous waste.
 *
 * Pure functions over plain numbers, each with the rule it works out. Laws change and this list is
 * neither complete nor current; dregs_regulations_deference() stands below every result. What the
 * numbers at hand cannot decide comes back as "ask", never as a guess.
 */
#ifndef DREGS_LAW_H
#define DREGS_LAW_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** The rules. New ones are added at the end. */
typedef enum dregs_law_rule {
    DREGS_LAW_EU_PLAN,              /**< solvent management plan: consumption, fugitive emissions */
    DREGS_LAW_EU_BANDS,             /**< thresholds and limits of surface cleaning */
    DREGS_LAW_EU_VOC,               /**< what counts as a volatile organic compound */
    DREGS_LAW_US_VOC,               /**< VOC or exempt */
    DREGS_LAW_US_MACHINE,           /**< halogenated solvent machines: limit per solvent surface */
    DREGS_LAW_US_NO_INTERFACE,      /**< the same, machines without a solvent surface */
    DREGS_LAW_US_POTENTIAL,         /**< potential to emit */
    DREGS_LAW_US_COLD_LOSS,         /**< loss of a cold cleaner per open area */
    DREGS_LAW_US_IGNITABLE,         /**< ignitable waste, D001 */
    DREGS_LAW_US_LISTED,            /**< listed spent solvents, F001 to F005 */
    DREGS_LAW_US_GENERATOR,         /**< generator categories by calendar month */
    DREGS_LAW_US_MACHINE_POTENTIAL, /**< potential to emit of halogenated solvent machines */
    DREGS_LAW_US_FACILITY,          /**< halogenated solvent machines of a whole facility */
    DREGS_LAW_US_MAJOR,             /**< major sources */
    DREGS_LAW_EU_TOTAL,             /**< total emission of a solvent plan */
    DREGS_LAW_EU_WAIVER,            /**< surface cleaning with little organic solvent */
    DREGS_LAW_EU_MASS_FLOW,         /**< mass flows from which waste gases have a limit */
    DREGS_LAW_EU_AMENDED,           /**< the directive as amended, and its dates */
    DREGS_LAW_US_TOXIC,             /**< toxic waste, D018 to D043 */
    DREGS_LAW_RULES
} dregs_law_rule;

/** A rule and where it stands. */
typedef struct dregs_law {
    const char *id;           /**< "eu solvent plan", ... stable */
    const char *jurisdiction; /**< "EU" or "US" */
    const char *rule;         /**< in words, with its figures */
    const char *citation;
    const char *status_date; /**< YYYY-MM-DD or YYYY: of the act or edition cited; from memory */
    const char *evidence;    /**< of the figures: "read" or "memory"; of several the weaker */
    const char *looked_up;   /**< YYYY-MM-DD on which its text, or a part of it, was last read; ""
                                  where it was not, or the day is not on record */
} dregs_law;

/** The rule, or NULL when there is no such one. */
DREGS_API const dregs_law *dregs_law_at(dregs_law_rule rule);

/* ---- European Union: Directive 2010/75/EU, annex VII part 7 ---- */

/** The streams of organic solvent over a period, kg, with the names of annex VII part 7. A stream
 *  that is not known is NaN. */
typedef struct dregs_law_plan {
    double i1; /**< bought and used as input */
    double i2; /**< recovered and used again as input */
    double o1; /**< in waste gases: captured and led out */
    double o2; /**< lost in water */
    double o3; /**< left on or in products */
    double o4; /**< uncaptured, into the room and out of doors and windows */
    double o5; /**< destroyed or bound, as far as not in o6, o7, o8 */
    double o6; /**< in collected waste */
    double o7; /**< sold as a product */
    double o8; /**< recovered for use elsewhere */
    double o9; /**< released in other ways */
} dregs_law_plan;

typedef struct dregs_law_plan_result {
    double consumption;     /**< kg: I1 - O8 */
    double input;           /**< kg: I1 + I2 */
    double fugitive;        /**< kg: I1 - O1 - O5 - O6 - O7 - O8 */
    double fugitive_direct; /**< kg: O2 + O3 + O4 + O9; NaN where one of them is */
    double share;           /**< fugitive / input, 0..1 and beyond when streams do not fit */
} dregs_law_plan_result;

/** Works out a solvent plan.
 *  \return DREGS_OK; DREGS_DOMAIN when one of i1 i2 o1 o5 o6 o7 o8 is not a number >= 0, one of
 *  the others is negative or infinite, or the input is 0.
 *  Source: DREGS_LAW_EU_PLAN. */
DREGS_API dregs_status dregs_law_plan_work(const dregs_law_plan *plan,
                                           dregs_law_plan_result *result);

/** The total emission of a plan, E = F + O1: fugitive and in waste gases, kg.
 *  \return DREGS_OK; DREGS_DOMAIN as dregs_law_plan_work. Source: DREGS_LAW_EU_TOTAL. */
DREGS_API dregs_status dregs_law_plan_total(const dregs_law_plan *plan, double *total);

/** Activities of annex VII part 2 that are surface cleaning. */
typedef enum dregs_law_activity {
    DREGS_LAW_CLEANING_59_5, /**< with compounds of article 59(5): H340 H350 H350i H360D H360F, or
                                  halogenated with H341 or H351 */
    DREGS_LAW_CLEANING_OTHER /**< all other surface cleaning */
} dregs_law_activity;

/** A band of consumption with its limits. */
typedef struct dregs_law_band {
    double above;     /**< kg a year, exclusive */
    double up_to;     /**< kg a year, inclusive; infinite for the last band */
    double fugitive;  /**< limit of the fugitive share, 0..1; NaN below the threshold */
    double waste_gas; /**< kg/m3 (273.15 K, 101.3 kPa) in waste gases; NaN below the threshold */
    int waste_gas_carbon; /**< 1: as carbon; 0: as the mass of the compounds */
} dregs_law_band;

/** The band of an activity.
 *  \param consumption  kg a year, finite, >= 0.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_EU_BANDS. */
DREGS_API dregs_status dregs_law_band_of(dregs_law_activity activity, double consumption,
                                         dregs_law_band *band);

#define DREGS_LAW_WAIVED_CONTENT 0.3 /**< share of organic solvent by mass */

/** Are the limits of other surface cleaning waived, because all cleaning material that is used
 *  holds little organic solvent in the mean?
 *  \param content  its share by mass, 0..1.
 *  \return 1 or 0; -1 (ask) when it is no share. The authority must have been shown it.
 *  Source: DREGS_LAW_EU_WAIVER. */
DREGS_API int dregs_law_waived(double content);

/** Compounds whose mass flow decides whether waste gases have the limit of annex VII part 4. */
typedef enum dregs_law_hazard {
    DREGS_LAW_CMR,             /**< H340, H350, H350i, H360D or H360F */
    DREGS_LAW_HALOGENATED_CMR2 /**< halogenated, with H341 or H351 */
} dregs_law_hazard;

/** A mass flow and the limit from it on. */
typedef struct dregs_law_mass_flow {
    double from;      /**< kg/s of all such compounds together, inclusive */
    double waste_gas; /**< kg/m3 (273.15 K, 101.3 kPa) as the mass of the compounds */
} dregs_law_mass_flow;

/** The mass flow from which the limit applies. \return DREGS_OK, DREGS_DOMAIN (no such hazard).
 *  Source: DREGS_LAW_EU_MASS_FLOW. */
DREGS_API dregs_status dregs_law_mass_flow_of(dregs_law_hazard hazard, dregs_law_mass_flow *flow);

/** Is an organic liquid volatile by article 3(45): at least 10 Pa at 293.15 K?
 *  \param vapour_pressure  Pa at 293.15 K.
 *  \return 1 or 0; -1 (ask) when the pressure is not a number > 0. "Or a corresponding volatility
 *  under the particular conditions of use" is not decided here. Source: DREGS_LAW_EU_VOC. */
DREGS_API int dregs_law_eu_volatile(double vapour_pressure);

/* ---- United States: solvent cleaning machines, 40 CFR part 63 subpart T ---- */

/** 1 when the solvent is one of the six of the subpart: dichloromethane (methylene chloride),
 *  tetrachloroethylene (perchloroethylene), trichloroethylene, 1,1,1-trichloroethane, carbon
 *  tetrachloride (tetrachloromethane), chloroform (trichloromethane). Names as given here. */
DREGS_API int dregs_law_halogenated(const char *liquid);

/** Machines with a solvent surface in the air. */
typedef enum dregs_law_machine {
    DREGS_LAW_BATCH_VAPOUR,     /**< 150 kg/(m2 month) */
    DREGS_LAW_IN_LINE_EXISTING, /**< 153 kg/(m2 month) */
    DREGS_LAW_IN_LINE_NEW,      /**< 99 kg/(m2 month) */
    DREGS_LAW_BATCH_COLD        /**< no such limit */
} dregs_law_machine;

/** The limit of the three-month mean, kg/(m2 month); NaN when the machine has none. It is an
 *  alternative to 40 CFR 63.463, which an owner may elect: not to meet it is no violation by
 * itself. Source: DREGS_LAW_US_MACHINE. */
DREGS_API double dregs_law_machine_limit(dregs_law_machine machine);

/** A month of a machine, kg of halogenated solvent. */
typedef struct dregs_law_month {
    double added;          /**< SA */
    double liquid_removed; /**< LSR */
    double solid_waste;    /**< SSR: in solid waste */
} dregs_law_month;

/** Emission of a month: (SA - LSR - SSR) / area, kg/(m2 month).
 *  \param area  m2 of solvent surface, > 0; 1 gives kg a month, for machines without one.
 *  \return DREGS_OK; DREGS_DOMAIN. A month may be negative: what was added before is removed.
 *  Source: DREGS_LAW_US_MACHINE. */
DREGS_API dregs_status dregs_law_machine_month(const dregs_law_month *month, double area,
                                               double *emission);

/** Mean of three months in a row, in the unit they are in. \return DREGS_OK, DREGS_DOMAIN. */
DREGS_API dregs_status dregs_law_rolling(const double emission[3], double *mean);

/** The limit of a machine without a solvent surface: 330 V^0.6 kg/month, three-month mean.
 *  \param volume  m3 of the cleaning chamber, > 0 (the largest volume of parts it cleans at once,
 *                 not the volume of solvent).
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_NO_INTERFACE. */
DREGS_API dregs_status dregs_law_no_interface_limit(double volume, double *limit);

/** The same by table 6 of the rule, which may be used instead: the row at or below the volume.
 *  \param volume  m3, > 0, up to 2.95.
 *  \return DREGS_OK; DREGS_DOMAIN, also beyond the table. Source: DREGS_LAW_US_NO_INTERFACE. */
DREGS_API dregs_status dregs_law_no_interface_row(double volume, double *limit);

/** The solvent surface that a machine without one counts as in its potential to emit:
 *  2.20 V^0.6 m2. \param volume  m3 of the cleaning chamber, > 0.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_MACHINE_POTENTIAL. */
DREGS_API dregs_status dregs_law_no_interface_area(double volume, double *area);

/** What such a machine could emit, whatever it does emit: time times a rate of 1.95 (batch vapour
 *  and cold), 1.12 (existing in-line) or 0.63 kg/(m2 h) (new in-line) times area.
 *  \param time       s a year: 8760 h unless an enforceable limit says less; >= 0.
 *  \param area       m2 of solvent surface, > 0, or dregs_law_no_interface_area.
 *  \param potential  kg a year.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_MACHINE_POTENTIAL. */
DREGS_API dregs_status dregs_law_machine_potential(dregs_law_machine machine, double time,
                                                   double area, double *potential);

/** Facilities that have limits of their own. */
typedef enum dregs_law_facility {
    DREGS_LAW_FACILITY_GENERAL, /**< the general population of machines */
    DREGS_LAW_FACILITY_DEPOT    /**< military depot maintenance */
} dregs_law_facility;

/** What all machines of a facility emitted in twelve months in a row, kg, each >= 0. */
typedef struct dregs_law_emitted {
    double perchloroethylene, trichloroethylene, dichloromethane;
    double others; /**< of machines not counted above: the sum of kg times weight */
} dregs_law_emitted;

/** What a kg of a solvent weighs in the sum: 12.5, 4.25, 1; 0 for a solvent that is none of the
 *  three. Source: DREGS_LAW_US_FACILITY. */
DREGS_API double dregs_law_facility_weight(const char *liquid);

/** What counts of twelve months, and its limit: of one solvent alone its kg against its own row of
 *  the rule, of several the weighted sum.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_FACILITY. */
DREGS_API dregs_status dregs_law_facility_year(dregs_law_facility facility,
                                               const dregs_law_emitted *emitted, double *counted,
                                               double *limit);

/* ---- potential to emit ---- */

#define DREGS_LAW_YEAR_HOURS 8760.0 /**< h: a year of 365 days around the clock */

/** What would be emitted in a year around the clock.
 *  \param rate       kg/s at full operation, >= 0.
 *  \param potential  kg a year. \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_POTENTIAL. */
DREGS_API dregs_status dregs_law_potential(double rate, double *potential);

/** Loss of a cold cleaner by the rule of thumb of state forms, 0.08 lb/(h ft2), kg/s.
 *  \param area  m2 of open solvent, > 0.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_COLD_LOSS. */
DREGS_API dregs_status dregs_law_cold_loss(double area, double *rate);

/* ---- hazardous waste ---- */

/** What is known of a liquid waste. Shares 0..1, NaN where not known. */
typedef struct dregs_law_waste {
    double flash_point; /**< K, closed cup, of the waste as it is */
    double alcohol;     /**< share of alcohol by volume */
    double water;       /**< share of water by mass */
} dregs_law_waste;

typedef enum dregs_law_verdict {
    DREGS_LAW_NO,
    DREGS_LAW_YES,
    DREGS_LAW_EXCLUDED, /**< it would be, but for an exclusion */
    DREGS_LAW_ASK       /**< what is known does not decide */
} dregs_law_verdict;

#define DREGS_LAW_SHORT_TON                907.18474 /**< kg: 2000 lb, exact (NIST SP 811, B.8) */
#define DREGS_LAW_MAJOR_ONE_POLLUTANT      10.0      /**< short tons a year, of one air pollutant */
#define DREGS_LAW_MAJOR_ALL_POLLUTANTS     25.0      /**< short tons a year, of all of them */
#define DREGS_LAW_MAJOR_CRITERIA_POLLUTANT 100.0     /**< short tons a year, VOC among them */

/** Does a potential to emit make a major source: so many short tons a year, or more?
 *  \param potential   kg a year of the whole source; NaN gives DREGS_LAW_ASK.
 *  \param short_tons  one of the above; areas that miss an air quality standard have less.
 *  Source: DREGS_LAW_US_MAJOR. */
DREGS_API dregs_law_verdict dregs_law_major(double potential, double short_tons);

/** Is a liquid waste ignitable, D001? The flash point must be below 333.15 K, infinite for one that
 *  does not burn; an aqueous solution with less than 24 % alcohol by volume and at least half water
 *  by mass is excluded, and so is water alone (alcohol 0, water 1). A waste whose flash point is
 * not known is asked for, unless it is excluded whatever that is. Whether all the rest is alcohol
 * and water is the caller's to know: `alcohol` is to be NaN where there is another organic liquid
 * in it, or an alcohol whose spent solvent is listed F003 or F005. Source: DREGS_LAW_US_IGNITABLE.
 */
DREGS_API dregs_law_verdict dregs_law_ignitable(const dregs_law_waste *waste);

/** Does a spent solvent carry its code F001 to F005 in a liquid that was no pure solvent when
 *  fresh? Those of F001, F002, F004, F005 do from 10 % by volume before use; F003 does alone or
 *  among its like only.
 *  \param code   "F001" ... "F005", or "no F-code"; NULL gives DREGS_LAW_ASK.
 *  \param share  of the solvent by volume before use, 0..1.
 *  \return DREGS_LAW_YES, DREGS_LAW_NO, or DREGS_LAW_ASK (share not a share; F003 in a mixture).
 *  Source: DREGS_LAW_US_LISTED. */
DREGS_API dregs_law_verdict dregs_law_listed(const char *code, double share);

/** The concentration from which a liquid makes a waste toxic, and its code "D039".
 *  \param code  may be NULL; untouched where there is none.
 *  \return kg/m3 in a waste with less than 0.5 % filterable solids, which is its own extract; NaN
 *  for a liquid that is not among those known here. Source: DREGS_LAW_US_TOXIC. */
DREGS_API double dregs_law_toxic_from(const char *liquid, const char **code);

typedef enum dregs_law_generator {
    DREGS_LAW_VSQG, /**< very small: up to 100 kg a month */
    DREGS_LAW_SQG,  /**< small: above 100 and below 1000 kg */
    DREGS_LAW_LQG   /**< large: from 1000 kg */
} dregs_law_generator;

/** The category of a calendar month. More than 1 kg of acute hazardous waste makes a large one
 *  whatever the rest: that is not decided here.
 *  \param waste  kg of hazardous waste generated in the month, on the whole site, >= 0.
 *  \return DREGS_OK, DREGS_DOMAIN. Source: DREGS_LAW_US_GENERATOR. */
DREGS_API dregs_status dregs_law_generator_of(double waste, dregs_law_generator *generator);

/** "VSQG", "SQG", "LQG"; NULL past the end. */
DREGS_API const char *dregs_law_generator_name(dregs_law_generator generator);

#ifdef __cplusplus
}
#endif
#endif
