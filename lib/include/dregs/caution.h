/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* caution.h: the usual cautions that numbers call for: of a line, of a film that dries, of a
 * liquid.
 *
 * Cautions are data: an id, a condition on facts with its threshold, a source, a sentence. There is
 * one table of them and one id for one hazard, whoever brings the facts. They are not advice for a
 * site: the local code, the safety data sheet and licensed professionals decide.
 */
#ifndef DREGS_CAUTION_H
#define DREGS_CAUTION_H

#include "dregs/line.h"
#include "dregs/liquid.h"
#include "dregs/mixture.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_CAUTION_TEXT = 640, DREGS_CAUTIONS_MOST = 48 };

/** How much a caution matters. */
typedef enum dregs_severity {
    DREGS_NOTE,    /**< to be known */
    DREGS_WARNING, /**< may do harm */
    DREGS_DANGER   /**< fire, poison or burns are near, or a law stands against it */
} dregs_severity;

typedef struct dregs_caution_rule {
    const char *id;        /**< "flash point", "heated", ... */
    const char *condition; /**< when it is given, in words */
    double threshold;      /**< the number in the condition, in `unit`; NaN where there is none */
    const char *unit;
    const char *source; /**< citation, or "common practice, no source" */
    int pressing;       /**< 1: to be read before anything else */
    dregs_severity severity;
    const char *evidence; /**< "read", "memory", "practice": there is no source; "its own": each
                               limit and regulation that it speaks of has its own */
    const char *date;     /**< on which the source was read; "" where it was not */
} dregs_caution_rule;

typedef struct dregs_caution {
    const dregs_caution_rule *rule;
    char text[DREGS_CAUTION_TEXT]; /**< with the places and numbers it rests on */
    size_t facts; /**< index of the facts that the numbers are of: the most critical that met it;
                       their count or above where a regulation speaks */
    const char *source; /**< of the rule, or the citation of the regulation that it speaks of */
} dregs_caution;

/** Where a liquid is, and what is done with it there. */
typedef enum dregs_place {
    DREGS_PLACE_WASH,      /**< parts are dipped into it and cleaned */
    DREGS_PLACE_RINSE,     /**< parts are dipped into it and rinsed */
    DREGS_PLACE_SPRAY,     /**< it is sprayed */
    DREGS_PLACE_DRY_STAGE, /**< it leaves in a dry stage of which the air is not worked out */
    DREGS_PLACE_DRYING,    /**< it dries off parts in a room or oven whose air is worked out */
    DREGS_PLACE_KEPT,      /**< nowhere in particular: the liquid as such */
    DREGS_PLACE_LINE,      /**< nowhere in particular: what stands on one line */
    DREGS_PLACE_LAW,       /**< nowhere: what a regulation says of it */
    DREGS_PLACES
} dregs_place;

/** A fact, in SI units. */
typedef enum dregs_fact {
    DREGS_FACT_TEMPERATURE,    /**< K, of the bath or spray, or of the air where a film dries */
    DREGS_FACT_ASSUMED,        /**< 1: nobody stated that temperature */
    DREGS_FACT_FLASH_POINT,    /**< K */
    DREGS_FACT_LOWER_LIMIT,    /**< lower flammable limit, share of the air's volume, 0..1 */
    DREGS_FACT_EXPOSURE_LIMIT, /**< mean of 8 h, the lowest on record, share of the volume, 0..1 */
    DREGS_FACT_SATURATED,      /**< share of the vapour in air that it saturates, 0..1 */
    DREGS_FACT_SHARE,          /**< of the liquid by mass, the rest is water, 0..1 */
    DREGS_FACT_CONTENT,        /**< kg/m3 of the solute of unstated hazard that it holds most of */
    DREGS_FACT_AIR_NEEDED,   /**< m3/s for a quarter of the lower limit, at the peak of a drying */
    DREGS_FACT_FRESH_AIR,    /**< m3/s that is stated */
    DREGS_FACT_AUTOIGNITION, /**< K */
    DREGS_FACT_VOLUME,       /**< m3 of the room or oven that the vapour stays in */
    DREGS_FACT_FLAMMABLE,    /**< highest content of its air, over the lower flammable limit */
    DREGS_FACT_VAPOUR,       /**< highest share of the vapour in its air, 0..1 */
    DREGS_FACT_WALL,         /**< K, of its walls */
    DREGS_FACT_COLDEST,      /**< K that a film falls to */
    DREGS_FACT_DEW_POINT,    /**< K, of the air */
    DREGS_FACT_CAUSTIC,      /**< kg/m3 of the caustic solute that it holds most of */
    DREGS_FACT_ACID,         /**< kg/m3 of an acid, likewise */
    DREGS_FACT_OXIDISER,     /**< kg/m3 of an oxidiser, likewise */
    DREGS_FACT_HALOGENATED,  /**< 1: its class is that, 0: another one */
    DREGS_FACT_HYDROCARBON,  /**< 1: a hydrocarbon or terpene, 0: another class */
    DREGS_FACT_BLOWN,        /**< share of the film that is blown off, 0..1 */
    DREGS_FACT_AIR_MEAN,     /**< m3/s for a quarter of the lower limit, if a film dries evenly */
    DREGS_FACT_OF_MIXTURE,   /**< 1: flash point and vapour are those of the mixture, worked out */
    DREGS_FACT_ONE_LOAD,     /**< highest content of its air by one load, over the lower limit */
    /* what a line's numbers are to be held against before they are believed */
    DREGS_FACT_FILM,       /**< m, mean thickness of the film that is left */
    DREGS_FACT_DRAGGED,    /**< drag-out of a load over the volume of the tank */
    DREGS_FACT_CROWDED,    /**< m2 of a load, parts and basket, per m3 of the tank */
    DREGS_FACT_FILLED,     /**< volume of a load's parts, were they of steel, over the tank's */
    DREGS_FACT_WITH_PARTS, /**< 1: the overflow runs to a later stage, 0: it does not */
    DREGS_FACT_DIRTIER,    /**< fresh content over that of the rinse or spray before, both all
                                solutes; infinity where that one has none */
    DREGS_FACT_ADHERES,    /**< share of a soil that a wash leaves on the parts, of the highest */
    DREGS_FACT_TAKES,      /**< time that a load drains or dries over the interval of the loads */
    DREGS_FACT_POWER,      /**< W of ultrasound */
    DREGS_FACT_SETTLES,    /**< K at which it settles with it */
    DREGS_FACT_WARMS_IN,   /**< s until it is 16.7 K below its flash point; INFINITY: never */
    DREGS_FACT_COOLS_FROM, /**< K, the lower of both */
    DREGS_FACT_COOLS_TO,   /**< K at which it is cool again */
    DREGS_FACT_COOLS_IN,   /**< s from the one to the other, switched off */
    DREGS_FACT_PARTS_COOL_IN, /**< s in which parts cool to 40 degC */
    DREGS_FACT_RELEASING,     /**< 1: a solute is named cyanide, hypochlorite or bleach */
    DREGS_FACT_PARTS_ASSUMED, /**< 1: the heat of these parts is assumed */
    DREGS_FACT_MIXES,         /**< 1: it is a solvent that mixes with water, in an open tank */
    DREGS_FACT_WATER_TAKEN, /**< share by mass of the water that it holds after standing for 8 h */
    DREGS_FACT_TO_DRAIN, /**< what leaves the stage for the drain: 2 a liquid other than water that
                              the stage is filled with, 1 one that the parts bring from a stage
                              before it; not known where nothing does */
    DREGS_FACTS
} dregs_fact;

enum {
    DREGS_FACTS_ROOM = 48,
    DREGS_HAZARDS_ROOM = 8,
    DREGS_RELEASING = DREGS_HAZARDS_ROOM - 1, /**< of `solute`: what gives off gas with acid */
    DREGS_DRAINED = DREGS_HAZARDS_ROOM - 2    /**< of `solute`: the liquid that goes to the drain */
};

/** What is known of one liquid in one place. */
typedef struct dregs_facts {
    dregs_place place;
    const char *where;                  /**< name of the stage; NULL for none */
    const char *liquid;                 /**< NULL for none */
    const char *mixed_with;             /**< the other liquid of a mixture; NULL for none */
    const dregs_regulation *regulation; /**< of DREGS_PLACE_LAW; else NULL */
    double value[DREGS_FACTS_ROOM];     /**< by dregs_fact; NaN: not known */
    const char
        *solute[DREGS_HAZARDS_ROOM]; /**< what the contents are of, by hazard; NULL for none */
    const dregs_liquids *liquids;    /**< where limits and regulations are looked up; or NULL */
    dregs_status status;             /**< DREGS_NO_MEMORY: not all that is known was worked out */
} dregs_facts;

/** Nothing is known: every value is NaN, every name NULL. */
DREGS_API void dregs_facts_init(dregs_facts *facts);

/** Sets what the table tells of a liquid at a temperature: the liquid, the temperature, and its
 *  DREGS_FACT_FLASH_POINT, _LOWER_LIMIT, _AUTOIGNITION, _EXPOSURE_LIMIT and _SATURATED at
 *  101.325 kPa, each NaN where the table has none at that temperature.
 *  \param temperature  K; NaN: DREGS_ROOM, as assumed. */
DREGS_API void dregs_facts_of_liquid(dregs_facts *facts, const dregs_liquids *liquids,
                                     const char *liquid, double temperature);

/** Sets flash point and saturated vapour to those of a mixture, after dregs_facts_of_liquid, and
 *  DREGS_FACT_OF_MIXTURE; leaves those of the pure liquid where the mixture has none that can be
 *  worked out. \param share  of the liquid by mass, 0..1. */
DREGS_API void dregs_facts_of_mixture(dregs_facts *facts, const dregs_mixtures *mixtures,
                                      const char *other, double share);

/** Sets how long parts take to cool to 40 degC in still air of 20 degC, that leave a stage at \p
 * from, K. \param heat_capacity  J/(m2 K), \param length  m; each NaN: as dregs_dry_usual, assumed.
 */
DREGS_API void dregs_facts_of_parts(dregs_facts *facts, double heat_capacity, double length,
                                    double from);

/** Sets what ultrasonic power does to the liquid of a stage, by WARMING BY ULTRASOUND of
 *  dregs-model(7): DREGS_FACT_POWER, where it settles (_SETTLES, NaN where it boils before), from
 * its temperature to \p to when (_WARMS_IN, infinite: never; NaN: not known or not above it), and
 * how long it then takes to cool (_COOLS_FROM, _COOLS_TO, _COOLS_IN). \param to  K; NaN for none.
 *  \return DREGS_OK; DREGS_UNKNOWN: the stage states no power of its own; as dregs_warm_settles. */
DREGS_API dregs_status dregs_facts_of_warming(dregs_facts *facts, const dregs_line *line,
                                              unsigned stage, double to);

/** Sets DREGS_FACT_AIR_NEEDED, m3/s, rounded up to four digits. */
DREGS_API void dregs_facts_air_needed(dregs_facts *facts, double needed);

/** Initialises facts and sets all that a line tells of a stage, 0 <= \p stage < its stages. */
DREGS_API void dregs_facts_of_stage(dregs_facts *facts, const dregs_line *line, unsigned stage);

/** Sets what a regulation says of a liquid; it must live as long as the cautions. */
DREGS_API void dregs_facts_of_regulation(dregs_facts *facts, const dregs_regulation *regulation);

/** Rule \p index (0, 1, ...), the most pressing first, or NULL past the end. */
DREGS_API const dregs_caution_rule *dregs_caution_rule_at(size_t index);

/** 1: the rule doubts the numbers themselves, as a slipped unit makes them; 0: it speaks of what
 * they mean. */
DREGS_API int dregs_caution_rule_doubts(const dregs_caution_rule *rule);

/** The cautions that facts call for, and what regulations on record say of their liquids: at most
 * one for a rule and liquid (of regulations one each), in the order of the rules, with the numbers
 * of the most critical of the facts. \param cautions room for DREGS_CAUTIONS_MOST. \return how
 * many. */
DREGS_API unsigned dregs_cautions_of(const dregs_facts *facts, size_t count,
                                     dregs_caution *cautions);

/** The cautions that the numbers of a line call for, as dregs_cautions_of: the facts are those of
 *  its stages, then one of all of them together; `facts` of a caution counts them.
 *  \param made  how many. \return DREGS_OK or DREGS_NO_MEMORY: rather none than some of them. */
DREGS_API dregs_status dregs_cautions(const dregs_line *line, dregs_caution *cautions,
                                      unsigned *made);

/** "note", "warning" or "danger". */
DREGS_API const char *dregs_severity_name(dregs_severity severity);

/** The sentence that stands below all cautions. */
DREGS_API const char *dregs_caution_deference(void);

#ifdef __cplusplus
}
#endif
#endif
