/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.h: properties of pure liquids, each from one published row with its range of temperature;
 * what regulations say of them.
 *
 * The built-in table is data/liquids.csv, compiled in. A file of the same form, see
 * dregs-liquids(5), replaces rows of it (same liquid, same property) or adds liquids. Outside the
 * range of its row a property is carried on by 60 K at most, between the freezing and the boiling
 * point, by a law and with an error that dregs_liquids_extended() tells; further out it is refused.
 * A liquid is found by its name, its other names and its CAS number, in letters of any case.
 */
#ifndef DREGS_LIQUID_H
#define DREGS_LIQUID_H

#include "dregs/csv.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A property; its name in the table and its SI unit stand behind it. */
typedef enum dregs_property {
    DREGS_VAPOUR_PRESSURE,      /**< "vapour pressure", Pa */
    DREGS_DENSITY,              /**< "density", kg/m3 */
    DREGS_VISCOSITY,            /**< "viscosity", Pa.s */
    DREGS_SURFACE_TENSION,      /**< "surface tension", N/m */
    DREGS_MOLAR_MASS,           /**< "molar mass", kg/mol */
    DREGS_BOILING_POINT,        /**< "boiling point" at 101.325 kPa, K */
    DREGS_FLASH_POINT,          /**< "flash point", closed cup, K */
    DREGS_LOWER_LIMIT,          /**< "lower flammable limit", share of the air's volume, 0..1 */
    DREGS_UPPER_LIMIT,          /**< "upper flammable limit", share of the air's volume, 0..1 */
    DREGS_AUTOIGNITION,         /**< "autoignition", K */
    DREGS_EXPOSURE_LIMIT,       /**< "exposure limit", 8 h mean, share of the air's volume, 0..1 */
    DREGS_HEAT_OF_VAPORISATION, /**< "heat of vaporisation", J/kg */
    DREGS_HEAT_CAPACITY,        /**< "heat capacity" of the liquid, J/(kg.K) */
    DREGS_DIFFUSIVITY,          /**< "diffusivity in air" of the vapour at 101.325 kPa, m2/s */
    DREGS_CLASS,                /**< "class", a word: a dregs_liquid_class */
    DREGS_MISCIBILITY,          /**< "miscibility with water", a word: a dregs_miscibility */
    DREGS_FREEZING_POINT,       /**< "freezing point", K */
    DREGS_THERMAL_CONDUCTIVITY, /**< "thermal conductivity" of the liquid, W/(m.K) */
    DREGS_CAS_NUMBER,           /**< "CAS number", any word */
    DREGS_OTHER_NAMES,          /**< "other names", any words with "; " between them */
    DREGS_SOLUBILITY,           /**< "solubility in water", share by mass of it in water that is
                                     saturated with it, 0..1 */
    DREGS_PROPERTIES
} dregs_property;

/** What a liquid is to a chemist, in the words of the trade; which words, dregs_property_word()
 *  tells in this order. */
typedef enum dregs_liquid_class {
    DREGS_CLASS_WATER,
    DREGS_CLASS_ALCOHOL,
    DREGS_CLASS_GLYCOL_ETHER,
    DREGS_CLASS_ETHER,
    DREGS_CLASS_KETONE,
    DREGS_CLASS_ESTER,
    DREGS_CLASS_HYDROCARBON, /**< with or without an aromatic ring */
    DREGS_CLASS_TERPENE,
    DREGS_CLASS_HALOGENATED, /**< whatever else it is */
    DREGS_CLASS_OTHER
} dregs_liquid_class;

/** How a liquid mixes with water at 20 degC. */
typedef enum dregs_miscibility {
    DREGS_MISCIBLE,        /**< "miscible": in all proportions */
    DREGS_PARTLY_MISCIBLE, /**< "partly miscible": water takes up at least 1 % of it by mass */
    DREGS_IMMISCIBLE       /**< "immiscible": less than that */
} dregs_miscibility;

enum { DREGS_COEFFICIENTS = 7, DREGS_LIQUID_MESSAGE = 320 };

/** One row of the table. Texts live as long as the table. */
typedef struct dregs_liquid_row {
    const char *liquid;
    dregs_property property;
    const char *equation;                   /**< as written in the file; "A" for a constant */
    const char *unit;                       /**< of the equation's result */
    double coefficient[DREGS_COEFFICIENTS]; /**< A..G, 0 where the row leaves one out */
    double low, high;          /**< K, the range of the row; NaN where it states none */
    const char *source;        /**< the publication */
    const char *evidence;      /**< "read", "memory", "computed" or "stated" (a user's own row) */
    const char *file;          /**< the file it came from, NULL for built-in data */
    unsigned long line;        /**< its line there */
    const char *note;          /**< what else there is to say; "" for nothing */
    const char *word;          /**< the value of a property that is a word; NULL for a number */
    double accuracy;           /**< about two standard deviations, as a share of the value; of a
                                    temperature (unit K) in K; NaN where none is stated */
    const char *accuracy_from; /**< "published" or "estimated"; NULL where none is stated */
    const char *collection;    /**< the open collection that the numbers were read in, with its
                                    licence; "" where they were read in the source */
} dregs_liquid_row;

typedef struct dregs_liquids dregs_liquids;

/** The built-in table. NULL only when memory is short. Constant after creation: several threads
 *  may read one table. */
DREGS_API dregs_liquids *dregs_liquids_new(void);
DREGS_API void dregs_liquids_free(dregs_liquids *liquids);

/** Adds the rows of a file's text; a row replaces an earlier one for the same liquid and property.
 *  \param name    what the file is called in messages and in dregs_liquid_row.file.
 *  \param faults  every fault with its line; up to DREGS_FAULTS_MAX are collected.
 *  \return DREGS_OK; DREGS_BAD_DATA when there was any fault (the table is then unchanged);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_liquids_add(dregs_liquids *liquids, const char *name,
                                         const char *bytes, size_t length, dregs_faults *faults);
/** How the cells of the text that was added last are written; of the built-in data before. */
DREGS_API dregs_dialect dregs_liquids_dialect(const dregs_liquids *liquids);

/** The liquid number \p index (0, 1, ... in the order of the table) or NULL past the end. */
DREGS_API const char *dregs_liquids_name(const dregs_liquids *liquids, size_t index);

/** 1 when the table has any row for \p liquid. */
DREGS_API int dregs_liquids_has(const dregs_liquids *liquids, const char *liquid);

/** The name in the table of the liquid that \p wanted is a name, another name or the CAS number of,
 *  in letters of any case: "isopropanol" for "IPA"; NULL for none. It lives as long as the table.
 */
DREGS_API const char *dregs_liquids_find(const dregs_liquids *liquids, const char *wanted);

/** The liquid one of whose names of five letters or more is nearest to \p wanted, or NULL when none
 *  is near enough to be a slip of the pen. */
DREGS_API const char *dregs_liquids_nearest(const dregs_liquids *liquids, const char *wanted);

/** The row for a property, or NULL when the table has none. */
DREGS_API const dregs_liquid_row *dregs_liquids_row(const dregs_liquids *liquids,
                                                    const char *liquid, dregs_property property);

/** A property's value.
 *  \param temperature  K; not read for constants that state no range.
 *  \param value        in the SI unit of the property.
 *  \param message      DREGS_LIQUID_MESSAGE bytes for the reason, or NULL.
 *  \return DREGS_OK, also where the row is carried on, see dregs_liquids_extended();
 *  DREGS_UNKNOWN (no such liquid, or no row for the property); DREGS_OUT_OF_RANGE (with the range
 *  in the message); DREGS_DOMAIN (temperature not a positive
 *  number, or a property that is a word); DREGS_NUMERIC (the equation gives no positive finite
 * value). */
DREGS_API dregs_status dregs_liquids_value(const dregs_liquids *liquids, const char *liquid,
                                           dregs_property property, double temperature,
                                           double *value, char *message);

/** How well a property is known at a temperature.
 *  \param accuracy  about two standard deviations, as a share of the value, or in K where the
 *                   property is a temperature; beyond the range of the row the root of the sum of
 *                   squares of the row's accuracy and of the error of carrying it on.
 *  \return as dregs_liquids_value(); DREGS_UNKNOWN also where the row states none. */
DREGS_API dregs_status dregs_liquids_accuracy(const dregs_liquids *liquids, const char *liquid,
                                              dregs_property property, double temperature,
                                              double *accuracy, char *message);

/** A property of a liquid. */
typedef struct dregs_liquid_property {
    const char *liquid; /**< any of its names */
    dregs_property property;
} dregs_liquid_property;

/** How far off a property is taken to be. */
typedef struct dregs_liquid_offset {
    const char *liquid;
    dregs_property property;
    double z; /**< in standard deviations, which are halves of the accuracy */
} dregs_liquid_offset;

/** The table with properties off by so much: with accuracy 2 s the value y of a property becomes
 *  y exp(sigma z - sigma^2 / 2), sigma^2 = ln(1 + s^2), which has mean y and standard deviation s y
 *  where z is standard normal. s is that of the temperature asked for: one z for the whole curve,
 *  and more of it where the row is carried on. An accuracy of exactly 0 stays 0.
 *  \param liquids  its rows are shared: it must outlive \p off and not be added to meanwhile.
 *  \param off      on success, to be freed with dregs_liquids_free.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such liquid or row, or one that states no accuracy);
 *  DREGS_DOMAIN (z is not finite; a property that is a word or a temperature); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_liquids_off(const dregs_liquids *liquids,
                                         const dregs_liquid_offset *offsets, size_t count,
                                         dregs_liquids **off);

/** The table with one property times a factor, at every temperature.
 *  \param liquids  as in dregs_liquids_off.
 *  \param factor   > 0.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such liquid or row); DREGS_DOMAIN (the factor; a property
 *  that is a word or a temperature); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_liquids_scaled(const dregs_liquids *liquids, const char *liquid,
                                            dregs_property property, double factor,
                                            dregs_liquids **scaled);

/** Whether the value at a temperature (K) lies beyond the range of its row.
 *  \param sentence  DREGS_LIQUID_MESSAGE bytes for a list of what is assumed, or NULL: "heat
 *                   capacity of n-butyl acetate at 15 degC, 10 K below its data: straight on,
 * within 1 %". \return 1 when the row is carried on there; 0 within the range, and where there is
 * no value. */
DREGS_API int dregs_liquids_extended(const dregs_liquids *liquids, const char *liquid,
                                     dregs_property property, double temperature, char *sentence);

/** The range of temperature (K) in which a property has a value, with what its row is carried on
 *  by. \return DREGS_OK; DREGS_UNKNOWN (no such row, or it has no range). */
DREGS_API dregs_status dregs_liquids_reach(const dregs_liquids *liquids, const char *liquid,
                                           dregs_property property, double *low, double *high);

/** The class of a liquid. Nothing is guessed from its name: a user's own liquid states it.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason, or NULL; where the liquid has no
 *                  such row, it names the file and the row to add.
 *  \return DREGS_OK or DREGS_UNKNOWN (no such liquid, or no row for its class). */
DREGS_API dregs_status dregs_liquids_class(const dregs_liquids *liquids, const char *liquid,
                                           dregs_liquid_class *liquid_class, char *message);

/** The theoretical oxygen demand of a molecular formula such as "C3H8O", kg of oxygen per kg: OECD
 *  Test Guideline 301 (1992), nitrogen leaving as ammonia. Elements C, H, O, N, S, P, Na, K, Cl, F,
 *  Br, I; no brackets, at most 1000 atoms of each.
 *  \return DREGS_OK; DREGS_BAD_DATA (no formula); DREGS_UNKNOWN (another element);
 *  DREGS_OUT_OF_RANGE (it gives oxygen off). */
DREGS_API dregs_status dregs_liquid_oxygen_demand(const char *formula, double *demand);

/** How a liquid mixes with water; arguments and errors as of dregs_liquids_class(). */
DREGS_API dregs_status dregs_liquids_miscibility(const dregs_liquids *liquids, const char *liquid,
                                                 dregs_miscibility *miscibility, char *message);

/** The coefficients that an equation takes, as letters "ABC"; NULL when \p equation is none of the
 *  set. Those it leaves at 0 by default are among them. */
DREGS_API const char *dregs_equation_letters(const char *equation);

/** "density", "vapour pressure", ... as in the table; NULL past the end. */
DREGS_API const char *dregs_property_name(dregs_property property);

/** The SI unit of a property as dregs_unit_read takes it: "kg/m3"; "K" for temperatures; "" for a
 *  property that is a word. */
DREGS_API const char *dregs_property_unit(dregs_property property);

/** Word \p index (0, 1, ...) of those that a property may be; NULL past the end, and for a property
 *  that is a number. */
DREGS_API const char *dregs_property_word(dregs_property property, size_t index);

/** What one regulation says of a liquid: data/regulations.csv, compiled in. No such table is
 *  complete or current: the local code and the authority decide. */
typedef struct dregs_regulation {
    const char *liquid;
    const char *jurisdiction; /**< "US", "EU" */
    const char *fact;         /**< in words */
    const char *citation;
    const char *status_date; /**< YYYY-MM-DD or YYYY: of the act cited, as far as is known */
    const char *evidence;    /**< "read" or "memory" */
    unsigned long line;      /**< of the table */
    const char *code;        /**< the fact for programs: "VOC" or "exempt" (40 CFR 51.100(s)), "HAP"
                                  or "no HAP" (Clean Air Act 112(b)), "F001", "F003", "F005" or
                                  "no F-code" (40 CFR 261.31), "subpart T" (40 CFR part 63),
                                  "art. 59(5)" (Directive 2010/75/EU); of the use of the liquid on
                                  parts "prohibited", "restricted", "authorisation" or "proposed",
                                  of another use "other use"; of the air that people breathe
                                  "8 h limit" or "8 h recommended"; "" for none */
    double value;      /**< of an exposure limit: share of the air's volume, 0..1; NaN: none */
    const char *noted; /**< YYYY-MM-DD; "" for what is from memory, or not dated */
} dregs_regulation;

typedef struct dregs_regulations dregs_regulations;

/** The built-in table; NULL only when memory is short. Constant after creation. */
DREGS_API dregs_regulations *dregs_regulations_new(void);
DREGS_API void dregs_regulations_free(dregs_regulations *regulations);

/** Row \p index (0, 1, ... in the order of the table) or NULL past the end. Texts live as long as
 *  the table. */
DREGS_API const dregs_regulation *dregs_regulations_at(const dregs_regulations *regulations,
                                                       size_t index);

/** The built-in regulations that stand beside a table of liquids; they live as long as it does. */
DREGS_API const dregs_regulations *dregs_liquids_regulations(const dregs_liquids *liquids);

/** The first row with a code that is about \p liquid and cites \p citation (a part of the citation
 *  is enough, such as "51.100(s)"), or NULL: nothing is on record then, which is not a "no". */
DREGS_API const dregs_regulation *dregs_regulations_find(const dregs_regulations *regulations,
                                                         const char *liquid, const char *citation);

/** The sentence that stands below all of them. */
DREGS_API const char *dregs_regulations_deference(void);

#ifdef __cplusplus
}
#endif
#endif
