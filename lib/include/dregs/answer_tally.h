/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_tally.h: all that dregs-tally tells, as a question and an answer.
 *
 * The caller reads the files: lines, purchases, the facts of a site. The answer holds the tally of
 * each line, its figures, what dominates, what changes would do, what regulations ask of its year
 * and what was really bought beside it. It is only pointed to, and so are its parts: they grow at
 * their ends. Lists are read by an index from 0, and give NULL past their end. Volumes are in m3,
 * masses in kg; what is not known is NaN.
 */
#ifndef DREGS_ANSWER_TALLY_H
#define DREGS_ANSWER_TALLY_H

#include "dregs/bound.h"
#include "dregs/caution.h"
#include "dregs/ensemble.h"
#include "dregs/law.h"
#include "dregs/purchase.h"
#include "dregs/tally.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    DREGS_TALLY_LINES_MOST = 8,
    DREGS_TALLY_PARTS_MOST = 5,
    DREGS_SITE_FLASHES_MOST = 64,
    DREGS_SITE_STAGE = 256,
    DREGS_SITE_MESSAGE = 512
};

/* ---- facts of a site, which no line file tells ---- */

/** The machine of 40 CFR part 63 subpart T. */
typedef enum dregs_site_machine {
    DREGS_SITE_MACHINE_UNKNOWN,
    DREGS_SITE_BATCH_VAPOUR,
    DREGS_SITE_IN_LINE_EXISTING,
    DREGS_SITE_IN_LINE_NEW,
    DREGS_SITE_NO_INTERFACE,
    DREGS_SITE_BATCH_COLD
} dregs_site_machine;

/** The activity of Directive 2010/75/EU, annex VII part 2. */
typedef enum dregs_site_activity {
    DREGS_SITE_ACTIVITY_UNKNOWN,
    DREGS_SITE_ARTICLE_59_5,
    DREGS_SITE_OTHER_CLEANING
} dregs_site_activity;

/** Where the drain leads to. */
typedef enum dregs_site_drain {
    DREGS_SITE_DRAIN_UNKNOWN,
    DREGS_SITE_SEWER,
    DREGS_SITE_COLLECTED /**< as waste */
} dregs_site_drain;

/** What the wastes are beside ignitable and listed. */
typedef enum dregs_site_characteristics {
    DREGS_SITE_CHARACTERISTICS_UNKNOWN,
    DREGS_SITE_NO_CHARACTERISTICS /**< none is corrosive, reactive, toxic or acute */
} dregs_site_characteristics;

/** Which of two standards the machine is under. */
typedef enum dregs_site_standard {
    DREGS_SITE_STANDARD_UNKNOWN,
    DREGS_SITE_EQUIPMENT, /**< 40 CFR 63.463: equipment and practices */
    DREGS_SITE_EMISSION   /**< 63.464: the emission limit, which the owner elected */
} dregs_site_standard;

/** What the facility is to 40 CFR 63.471. */
typedef enum dregs_site_facility {
    DREGS_SITE_FACILITY_UNKNOWN,
    DREGS_SITE_GENERAL,
    DREGS_SITE_DEPOT, /**< military depot maintenance */
    DREGS_SITE_EXEMPT /**< aerospace products, narrow tubing, continuous webs */
} dregs_site_facility;

/** Is the site a major source of hazardous air pollutants? */
typedef enum dregs_site_source {
    DREGS_SITE_SOURCE_UNKNOWN,
    DREGS_SITE_AREA_SOURCE,
    DREGS_SITE_MAJOR_SOURCE
} dregs_site_source;

/** The flash point of the waste of a stage. */
typedef struct dregs_site_flash {
    char stage[DREGS_SITE_STAGE];
    double kelvin; /**< infinite where it does not burn */
} dregs_site_flash;

/** A code of the waste of a stage, or that it has none. */
typedef struct dregs_site_code {
    char stage[DREGS_SITE_STAGE];
    char code[8]; /**< "F003", "D002" or "none" */
} dregs_site_code;

/** Fill it with dregs_site_init first: nothing is known then. It grows at its end. */
typedef struct dregs_site {
    size_t size; /**< set by dregs_site_init */
    dregs_site_machine machine;
    dregs_site_activity activity;
    dregs_site_drain drain;
    double chamber;     /**< m3, of a machine without an air interface */
    double captured;    /**< share of the vapour that is led out, 0..1 */
    double destroyed;   /**< share of the captured that is destroyed or bound, 0..1 */
    double solid_waste; /**< kg of solvent in solid waste a month */
    double other_waste; /**< kg of hazardous waste a month, from elsewhere on the site */
    unsigned flashes;
    dregs_site_flash flash[DREGS_SITE_FLASHES_MOST];
    dregs_site_characteristics characteristics;
    double reclaimed;  /**< kg a month of reclaimed solvent that counts as hazardous waste */
    unsigned listings; /**< of F001 to F005, by stage */
    dregs_site_code listed[DREGS_SITE_FLASHES_MOST];
    unsigned traits; /**< corrosive, reactive or toxic, by stage */
    dregs_site_code trait[DREGS_SITE_FLASHES_MOST];
    dregs_site_standard standard;
    dregs_site_facility facility;
    dregs_site_source source;
    double interface; /**< m2 of the machine's solvent/air interface, where the line states no open
                           area */
    double hours;     /**< s a year that an enforceable limit leaves */
    double other_machines; /**< kg in 12 months of the site's other machines, each solvent times its
                                dregs_law_facility_weight */
} dregs_site;

DREGS_API void dregs_site_init_of_size(dregs_site *site, size_t size);
static inline void dregs_site_init(dregs_site *site)
{
    dregs_site_init_of_size(site, sizeof *site);
}

/** Takes a fact in words: "captured=80%", "machine=batch vapour", "STAGE.flash point=18 degC"; the
 *  keys are those of dregs-tally(1), --given. Whether there is such a stage shows with the line.
 *  \param message  DREGS_SITE_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such key); DREGS_BAD_DATA (no such word, no quantity, one
 *  out of its range, a key that was taken before, more than DREGS_SITE_FLASHES_MOST of a kind by
 *  stage); DREGS_DOMAIN (not set up); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_site_take(dregs_site *site, const char *fact, char *message);

/* ---- the head of an account that is handed in ---- */

typedef enum dregs_tally_head_field {
    DREGS_TALLY_HEAD_COMPANY, /**< "company" */
    DREGS_TALLY_HEAD_SITE,    /**< "site" */
    DREGS_TALLY_HEAD_PERMIT,  /**< "permit" */
    DREGS_TALLY_HEAD_PERIOD,  /**< "period" */
    DREGS_TALLY_HEAD_AUTHOR,  /**< "prepared by" */
    DREGS_TALLY_HEAD_FIELDS
} dregs_tally_head_field;

enum { DREGS_TALLY_HEAD_TEXT = 200, DREGS_TALLY_HEAD_ROOM = 16 };

/** Fill it with dregs_tally_head_init first: nothing is stated then. It grows at its end. */
typedef struct dregs_tally_head {
    size_t size;                                              /**< set by dregs_tally_head_init */
    char field[DREGS_TALLY_HEAD_ROOM][DREGS_TALLY_HEAD_TEXT]; /**< by dregs_tally_head_field; "" */
} dregs_tally_head;

DREGS_API void dregs_tally_head_init_of_size(dregs_tally_head *head, size_t size);
static inline void dregs_tally_head_init(dregs_tally_head *head)
{
    dregs_tally_head_init_of_size(head, sizeof *head);
}

/** The name of a field; NULL past the end. */
DREGS_API const char *dregs_tally_head_name(dregs_tally_head_field field);

/** Takes a field in words: "company=Own Workshop".
 *  \param message  DREGS_SITE_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such field); DREGS_BAD_DATA (nothing, too long, twice). */
DREGS_API dregs_status dregs_tally_head_take(dregs_tally_head *head, const char *words,
                                             char *message);

/* ---- the question ---- */

/** Fill it with dregs_tally_question_init first: a year from fresh tanks, nothing beside it. It
 * grows at its end. */
typedef struct dregs_tally_question {
    size_t size;                   /**< set by dregs_tally_question_init */
    const dregs_line *const *line; /**< 1 to DREGS_TALLY_LINES_MOST; they outlive the answer. The
                                        first is the one that all but the tally is about */
    unsigned lines;
    dregs_tally_request span;
    int changes;            /**< 1: what changes of the line would do */
    int law;                /**< 1: what regulations ask of the line's year */
    const dregs_site *site; /**< outlives the answer; NULL: nothing is known */
    const dregs_purchases
        *purchases;      /**< to set beside the line's year, read with the densities
                              of dregs_tally_density_of; outlive the answer. NULL: none */
    int year;            /**< of the purchases; 0: the latest full one, or the latest */
    const char *instead; /**< the words of dregs_tally_instead that the second of two lines was made
                              with; NULL: none. It outlives the answer */
    const dregs_tally_dates *dates; /**< the year by its dates, for all lines; NULL: days have none.
                                         It is copied; its table outlives the answer */
    const dregs_tally_head *head;   /**< NULL: nothing of it is stated */
    unsigned parts; /**< DREGS_TALLY_OF_STAGES and the like, or-ed: what draws are asked of beside
                         the whole, of one line. Each takes its time */
} dregs_tally_question;

/** Parts of a tally. */
enum {
    DREGS_TALLY_OF_STAGES = 1, /**< streams and costs of each stage */
    DREGS_TALLY_OF_MONTHS = 2  /**< streams, costs and sums of each month of a year */
};

DREGS_API void dregs_tally_question_init_of_size(dregs_tally_question *question, size_t size);
static inline void dregs_tally_question_init(dregs_tally_question *question)
{
    dregs_tally_question_init_of_size(question, sizeof *question);
}

typedef struct dregs_tally_result dregs_tally_result;

/** Answers a question.
 *  \param result  on success, to be freed with dregs_tally_result_free.
 *  \param faults  receives what is wrong, one fault a line at fault, which begins with its name;
 *                 may be NULL.
 *  \return DREGS_OK; DREGS_DOMAIN (not set up, no line or too many of them, loads out of range,
 * more loads in 8760 h than can be counted, with `law` a liquid that states no class);
 * DREGS_BAD_DATA (a line without the schedule that the span or the purchases ask for);
 * DREGS_UNKNOWN (a fact of the site contradicts another one or the line, or changes nothing);
 * DREGS_OUT_OF_RANGE (no purchase reaches the year); DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_tally_answer(const dregs_tally_question *question,
                                          dregs_tally_result **result, dregs_faults *faults);
DREGS_API void dregs_tally_result_free(dregs_tally_result *answer);

/* ---- the lines ---- */

/** A line of the question. */
typedef struct dregs_tally_one {
    const dregs_line *line;
    const dregs_tally *tally;
    double
        residue; /**< kg/m2 that the worst load leaves, of all solutes; NaN where it is not known */
    char currency[16]; /**< the word before the slash of the first price; "currency" for none */
    const dregs_bounds *bounds; /**< limits and targets of concentration, as the line runs on while
                                     loads pass */
    const dregs_caution *caution; /**< that the line calls for, the most pressing first */
    unsigned cautions;
} dregs_tally_one;
DREGS_API const dregs_tally_one *dregs_tally_result_line(const dregs_tally_result *answer,
                                                         unsigned line);

/** A line of a site by itself: what its own worst load leaves and how long its baths hold, which no
 *  sum tells. \return NULL past the end, and of a line of a file. */
DREGS_API const dregs_tally_one *dregs_tally_result_member(const dregs_tally_result *answer,
                                                           unsigned line, unsigned member);

/** What was tallied. */
DREGS_API const dregs_tally_request *dregs_tally_result_span(const dregs_tally_result *answer);

/** The head as far as it is stated. */
DREGS_API const dregs_tally_head *dregs_tally_result_head(const dregs_tally_result *answer);

/** The figures of a line that can be set beside those of another. */
typedef struct dregs_tally_figure {
    char name[80];
    const char *unit; /**< "L", "g", "ug/cm2", "currency" */
    double value;     /**< in that unit; NaN where it is not known */
    double before; /**< of a changed line: what it is without the change; NaN where there is none */
    double difference; /**< of a changed line: value - before */
    int moves;         /**< of a changed line: by more than 0.05 % */
} dregs_tally_figure;
DREGS_API const dregs_tally_figure *dregs_tally_result_figure(const dregs_tally_result *answer,
                                                              unsigned line, unsigned index);

/** A figure of all lines beside each other. */
typedef struct dregs_tally_compared {
    char name[80];
    const char *unit;
    unsigned line; /**< the first one that has it */
    int has[DREGS_TALLY_LINES_MOST];
    double value[DREGS_TALLY_LINES_MOST];
    double difference[DREGS_TALLY_LINES_MOST]; /**< from the first line, where a figure that is
                                                    missing counts as 0; what is rounding is 0. NaN
                                                    of money where a line states none, or has
                                                    another currency */
} dregs_tally_compared;
DREGS_API const dregs_tally_compared *dregs_tally_result_compared(const dregs_tally_result *answer,
                                                                  unsigned index);

/** What a line comes to over a period, m3 of all liquids. */
typedef struct dregs_tally_outline {
    double bought;          /**< less what is reclaimed */
    double to_drain;        /**< overflows, spray runoff, and what is blown off to drain */
    double to_waste;        /**< dumped, and what is blown off into a catch tank */
    double evaporated;      /**< over the tanks */
    double dried;           /**< off the parts */
    double blown_off;       /**< of to_drain and to_waste, what air knives blow off */
    double held_last;       /**< in the tanks at the end */
    double cost;            /**< in the currency; NaN where no price is stated */
    double evaporated_idle; /**< of evaporated, outside the shifts */
    double idle_most;       /**< of that, over the tank that loses most, */
    unsigned idle_stage;    /**< of this stage */
} dregs_tally_outline;
/** \param period  from 0, or DREGS_WHOLE. */
DREGS_API const dregs_tally_outline *dregs_tally_result_outline(const dregs_tally_result *answer,
                                                                unsigned line, unsigned period);

/** The same of so many months in a row, of which month \p last of the year, from 0, is the last
 * one: the rolling sums, and with 3 months until number 2, 5, 8 and 11 the quarters. Of `idle_most`
 * the largest month counts. \param months  3 or 12. \return NULL where the tally is of no year, or
 * of a line whose first fill is later than the first of the months. */
DREGS_API const dregs_tally_outline *dregs_tally_result_over(const dregs_tally_result *answer,
                                                             unsigned line, unsigned months,
                                                             unsigned last);

/** A stream of one stage that takes a large part of the liquid, or of the money. */
typedef struct dregs_tally_part {
    dregs_stream stream;
    unsigned fluid; /**< DREGS_WHOLE for all liquids together */
    unsigned stage;
    double volume; /**< m3 */
    double cost;   /**< NaN in a ranking by volume */
    double share;  /**< of all of them, 0..1 */
} dregs_tally_part;
/** The largest first, DREGS_TALLY_PARTS_MOST at most. By volume: what leaves the line. By cost:
 * what is bought, at its price, and what is waste, at its disposal; none where no price is stated.
 */
DREGS_API const dregs_tally_part *dregs_tally_result_part(const dregs_tally_result *answer,
                                                          unsigned line, int by_cost,
                                                          unsigned index);

/** What a still gives back of what a stage dumps and drains, and what it keeps, m3. */
typedef struct dregs_tally_still {
    unsigned stage, fluid;
    double treated, back, kept;
} dregs_tally_still;
DREGS_API const dregs_tally_still *dregs_tally_result_still(const dregs_tally_result *answer,
                                                            unsigned line, unsigned index);

/* ---- the drain ---- */

/** A solute, or a liquid other than water, in what goes to the drain. */
typedef struct dregs_tally_drained {
    const char *name;
    int is_solute;
    unsigned index;       /**< of the solute or the liquid */
    double mass;          /**< kg, of a liquid its solvent; NaN without a density */
    double concentration; /**< kg/m3 of all that is drained, on the mean */
    double oxygen;        /**< kg that it takes up; NaN where neither COD nor formula is stated */
} dregs_tally_drained;

/** What goes to the drain over what is tallied: overflows, the runoff of sprays, what is blown off;
 *  less what a still gives back. */
typedef struct dregs_tally_drain {
    unsigned stage;               /**< that it leaves; DREGS_WHOLE: all of them */
    double volume;                /**< m3 */
    double oxygen;                /**< kg, chemical oxygen demand of what states one */
    double oxygen_concentration;  /**< kg/m3, on the mean */
    int least;                    /**< 1: something states none, so that it is the least */
    double ph_low, ph_high;       /**< between what the pH lies, of water without alkalinity of its
                                       own; NaN where a solute does not tell its own */
    dregs_tally_drained *drained; /**< `count` of them */
    unsigned count;
} dregs_tally_drain;
/** Of the first line, all points together first, then each stage that drains; none where nothing
 *  is drained. */
DREGS_API const dregs_tally_drain *dregs_tally_result_drain(const dregs_tally_result *answer,
                                                            unsigned index);
/** What is asked for to tell it all, in words. */
DREGS_API const char *dregs_tally_result_drain_asked(const dregs_tally_result *answer,
                                                     unsigned index);

/* ---- energy ---- */

/** What heats a stage that is warmer than the room over what is tallied, J. */
typedef struct dregs_tally_energy {
    unsigned stage;     /**< DREGS_WHOLE: all of them */
    double liquid;      /**< warms what comes in, and after a cold pause what stands there */
    double evaporation; /**< over the tank, or off the parts that dry */
    double walls;       /**< lost to the room */
    double parts;       /**< warms parts and the film on them */
    double air;         /**< warms the fresh air of a dry stage */
    double heat;        /**< all of it less `ultrasound`, not below 0 */
    double taken;       /**< by the heater, by its efficiency; as the heat where none is stated */
    double carbon;      /**< kg of CO2 by the stated factors; NaN where one is not */
    int least;          /**< 1: something is left out that no row tells */
    double ultrasound;  /**< electrical, of the shifts; it warms the bath, and `heat` is what is
                             needed beside it. Its CO2 is not in `carbon` */
    double ultrasound_carbon; /**< kg of CO2 by the stated factors; NaN where one is not */
} dregs_tally_energy;
/** Of the first line, all stages together first, then each that is heated or has ultrasound; none
 *  where none is. */
DREGS_API const dregs_tally_energy *dregs_tally_result_energy(const dregs_tally_result *answer,
                                                              unsigned index);
/** What it takes for want of a row; what is asked for. */
DREGS_API const char *dregs_tally_result_energy_assumed(const dregs_tally_result *answer,
                                                        unsigned index);
DREGS_API const char *dregs_tally_result_energy_asked(const dregs_tally_result *answer,
                                                      unsigned index);

/* ---- another solvent ---- */

/** The line as its file would describe it with another solvent in place of one of its own: films,
 *  flows and stated evaporation stay, what the file states of the old one (price, disposal,
 *  viscosity, surface tension, solubilities, COD, formula) is taken out. Where the old one has a
 *  price that is not stated of the new one no price is kept, of any liquid.
 *  \param words    "isopropanol=ethyl acetate", names of the liquid data; behind it, or not,
 *                  ", price 2.1 EUR/L" and ", disposal 0.8 EUR/L".
 *  \param changed  a new line of the name "FILE with NEW".
 *  \return DREGS_OK; DREGS_DOMAIN (other words); DREGS_UNKNOWN (no such liquid in the line, or in
 *  the liquid data); as dregs_line_parse. */
DREGS_API dregs_status dregs_tally_instead(const dregs_line *line, const char *words,
                                           dregs_line **changed, dregs_faults *faults);

/** What the two solvents have side by side: numbers in `unit`, or words. */
typedef struct dregs_tally_beside {
    const char *name, *unit;
    double value[2]; /**< of the old one and the new one; NaN: not on record */
    char words[2][200];
} dregs_tally_beside;
/** None unless `instead` of the question is given. */
DREGS_API const dregs_tally_beside *dregs_tally_result_beside(const dregs_tally_result *answer,
                                                              unsigned index);
/** \param unpriced  1: no cost of the second line is told, for want of a price. \return 1; 0: none.
 */
DREGS_API int dregs_tally_result_instead(const dregs_tally_result *answer, const char **from,
                                         const char **to, int *unpriced);

/* ---- a table of streams ---- */

typedef enum dregs_tally_kind {
    DREGS_TALLY_VOLUMES, /**< m3 of a liquid */
    DREGS_TALLY_MASSES,  /**< kg of a liquid at 20 degC; NaN without a density */
    DREGS_TALLY_SOLUTES, /**< kg of a solute */
    DREGS_TALLY_ALL      /**< m3 of all liquids */
} dregs_tally_kind;

/** A cell of it: the stream, or 0 where it is less than 1e-12 of the largest one of the column,
 *  which is what rounding leaves.
 *  \param index  of the liquid or the solute; not read for all. NaN where an index is none. */
DREGS_API double dregs_tally_cell(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                                  dregs_stream stream, unsigned stage, unsigned period);

/** 1 for an amount that is less than 1e-9 of the largest stream of the line in the whole time: a
 *  balance closes to that, so that it may be what rounding leaves, and no stream of its own.
 *  \param index  as dregs_tally_cell. */
DREGS_API int dregs_tally_is_rounding(const dregs_tally *tally, dregs_tally_kind kind,
                                      unsigned index, double value);

/** The sums of both sides: held first and what comes in; what goes out and held last. */
DREGS_API void dregs_tally_sides(const dregs_tally *tally, dregs_tally_kind kind, unsigned index,
                                 unsigned stage, unsigned period, double *in, double *out);

/* ---- changes ---- */

/** What one change of the line would do: the line computed anew with it. */
typedef struct dregs_tally_change {
    char what[400];         /**< "one more rinse: a copy of 'last' behind it, ..." */
    char reason[400];       /**< why it was not computed; "" when it was */
    const dregs_line *line; /**< NULL when it was not */
    const dregs_tally *tally;
    double residue; /**< kg/m2 that the worst load leaves */
} dregs_tally_change;
DREGS_API const dregs_tally_change *dregs_tally_result_change(const dregs_tally_result *answer,
                                                              unsigned index);
DREGS_API const dregs_tally_figure *dregs_tally_result_changed(const dregs_tally_result *answer,
                                                               unsigned change, unsigned index);

/* ---- regulations ---- */

typedef struct dregs_tally_law dregs_tally_law;

/** NULL unless it was asked for. */
DREGS_API const dregs_tally_law *dregs_tally_result_law(const dregs_tally_result *answer);

/** The facts that it rests on. */
DREGS_API const dregs_site *dregs_tally_law_site(const dregs_tally_law *law);

/** The year that is looked at; NULL without a full schedule. The lists of plans, machines, wastes
 *  and months are empty then. */
DREGS_API const dregs_tally *dregs_tally_law_year(const dregs_tally_law *law);

/** The loads of 8760 h without a pause. */
DREGS_API const dregs_tally *dregs_tally_law_around(const dregs_tally_law *law);

/** A solvent of the line other than water. */
typedef struct dregs_tally_solvent_law {
    const char *name;
    unsigned index;                                                       /**< of the tally */
    const dregs_regulation *voc, *pollutant, *listed, *subpart, *article; /**< NULL: no record */
    double vapour_pressure;                                               /**< Pa at 293.15 K */
    int eu_voc;                                                           /**< 1, 0, -1 ask */
    int plan;         /**< number of its solvent plan; -1 for none */
    double emitted;   /**< kg a year: of a halogenated solvent all that its machine emits, what the
                           parts carry into other liquids too; of others what goes into the air */
    double potential; /**< kg a year that could be emitted, or as emitted where that is more */
    double open_area; /**< m2 of the tanks filled with it; NaN where one states none */
    double cold;      /**< kg a year by the rule for cold cleaners; NaN without an area */
    int least; /**< a tank filled with it states neither evaporation nor open area: what is emitted
                    of it is the least that it can be */
    int by_machine;          /**< the potential is that of its solvent cleaning machine by 40 CFR
                                  63.465(e), not that of the line's own rate */
    double counted_area;     /**< m2 that it counts with there; NaN where not known */
    int as_emitted;          /**< that is less than what is emitted, which then counts */
    int potential_least;     /**< the least that it can be, by `potential_more` */
    int potential_most;      /**< the most that it can be, by `potential_less` */
    dregs_law_verdict major; /**< YES: of one air pollutant so much makes a major source; EXCLUDED:
                                  it is none */
    double more; /**< kg a year that may evaporate besides, of sprays, of which no row of a line
                      states it, and of what the parts carry into tanks of other liquids that do not
                      state it: what is counted as liquid behind them; infinite by `least` */
    double potential_more;       /**< kg likewise that the potential may be more */
    double less, potential_less; /**< kg a year that `emitted`, and the potential, may be less:
                                    solid waste, drain or the kind of machine are not given */
} dregs_tally_solvent_law;
DREGS_API const dregs_tally_solvent_law *dregs_tally_law_solvent(const dregs_tally_law *law,
                                                                 unsigned index);

/** What could be emitted of all solvents together, kg a year. What is not on record counts as
 *  both. */
typedef struct dregs_tally_potential {
    double voc, pollutants;
    int voc_least, pollutants_least;               /**< by `potential_least` of a solvent */
    int voc_most, pollutants_most;                 /**< by `potential_most` of a solvent */
    double time;                                   /**< s a year that count: 8760 h, or as given */
    dregs_law_verdict major_voc, major_pollutants; /**< YES: so much makes a major source */
    double voc_more, pollutants_more;              /**< kg, by `potential_more` of a solvent */
    double voc_less, pollutants_less;              /**< kg, by `potential_less` of a solvent */
} dregs_tally_potential;
DREGS_API const dregs_tally_potential *dregs_tally_law_potential(const dregs_tally_law *law);

/** A solvent plan over the solvents of one activity. */
typedef struct dregs_tally_plan {
    unsigned number; /**< that solvents name */
    int activity_known;
    dregs_law_activity activity;
    dregs_law_plan plan;
    dregs_law_plan_result result;
    dregs_law_band band[2];   /**< of both activities */
    dregs_law_verdict met[2]; /**< YES, NO, ASK; EXCLUDED: below the threshold */
    int bound;    /**< capture or drain are not given: the share is the most it can be */
    int least;    /**< by `least` of a solvent: consumption and share would be higher, and no limit
                       counts as met, nor as one that does not apply */
    double total; /**< kg: total emission, F + O1 */
    double content; /**< share of organic solvent by mass of the liquids that hold one of the plan;
                         NaN where a density is not known */
    int waived;     /**< 1: so little that the limits of other surface cleaning are waived */
    double fugitive_more; /**< kg that the fugitive emission may be more, by `more` of a solvent: a
                               limit is met with them too */
    double fugitive_less; /**< kg that it may be less, where what is counted as lost in water may
                               have evaporated and been captured: missed is without them too */
} dregs_tally_plan;
DREGS_API const dregs_tally_plan *dregs_tally_law_plan(const dregs_tally_law *law, unsigned index);

/** What goes into the air of the compounds of a hazard while loads pass without a pause, before
 *  capture and treatment, beside the mass flow from which waste gases have a limit. Solvents on
 *  record as of article 59(5) count. */
typedef struct dregs_tally_mass_flow {
    double rate;               /**< kg/s */
    dregs_law_mass_flow limit; /**< that it is held against */
    dregs_law_verdict reached; /**< YES, NO; ASK by `least` of a solvent, or by `most` */
    double most;               /**< kg/s with all that may evaporate besides; infinite by `least` */
} dregs_tally_mass_flow;
/** NULL without such a solvent. */
DREGS_API const dregs_tally_mass_flow *dregs_tally_law_mass_flow(const dregs_tally_law *law,
                                                                 dregs_law_hazard hazard);

/** A halogenated solvent's machine. */
typedef struct dregs_tally_machine {
    const dregs_tally_solvent_law *solvent;
    double area;                  /**< m2, NaN where not known; 1 without an interface */
    double month[DREGS_MONTHS];   /**< kg/(m2 month), or kg/month without an interface */
    double rolling[DREGS_MONTHS]; /**< NaN for the first two */
    double worst, limit;          /**< of the rolling means; the limit NaN where not known */
    dregs_law_verdict met;        /**< never YES by `least` */
    double row;                   /**< the limit by table 6, which may be used instead; NaN */
    double emitted[DREGS_MONTHS]; /**< kg, nothing taken off for solid waste */
    double carried; /**< kg a year, on the parts into stages with other liquids and gone with those:
                         emitted, not removed as liquid */
    int bound;      /**< solid waste or drain are not given: the most it can be */
    dregs_law_verdict judged; /**< NO: 63.464 was elected and is not met; EXCLUDED: 63.463 was, or
                                   the machine has no such limit; ASK also where it is not met and
                                   was perhaps not elected */
    double before[DREGS_MONTHS]; /**< kg likewise in the months of the year before; NaN where the
                                      line has not run for one */
    int least; /**< by `least` of the solvent; or some of what ran off a spray into waste may have
                    evaporated: the least that it can be */
} dregs_tally_machine;
DREGS_API const dregs_tally_machine *dregs_tally_law_machine(const dregs_tally_law *law,
                                                             unsigned index);

/** All machines of the facility over twelve months, 40 CFR 63.471. */
typedef struct dregs_tally_facility {
    double counted, limit; /**< kg in twelve months, see dregs_law_facility_year */
    int bound;             /**< the most that the line's own can be */
    int least; /**< the least that it can be: other machines are not given, or by `least`
                    of a machine */
    dregs_law_verdict met;        /**< EXCLUDED: it does not apply */
    double rolling[DREGS_MONTHS]; /**< kg counted in the twelve months until each month of the
                                       year; NaN where the line begins later */
    unsigned last; /**< the month of the year, from 0, until which `counted` is: of those that are
                        known the closest to its limit, or the furthest beyond it */
} dregs_tally_facility;
/** NULL without one of its solvents, and without a full schedule. */
DREGS_API const dregs_tally_facility *dregs_tally_law_facility(const dregs_tally_law *law);

/** A liquid waste of a stage. */
typedef struct dregs_tally_waste {
    unsigned stage;
    dregs_stream stream;
    const char *leaves;         /**< "dumped from", "drained from", "run off from", "blown off in",
                                   "collected from" */
    int drain;                  /**< leaves through the drain */
    double year;                /**< kg; NaN where a density is not known */
    double month[DREGS_MONTHS]; /**< kg */
    double back_year, back[DREGS_MONTHS]; /**< kg of it that a still gives back */
    double alcohol, water;                /**< shares by volume and by mass, of the liquids */
    double flash;                         /**< K */
    const char *flash_from;               /**< "stated" or the solvent's name */
    dregs_law_verdict ignitable, listed, hazardous;
    char codes[160];          /**< "D001 F005" */
    dregs_law_verdict traits; /**< corrosive, reactive, toxic or acute, as far as it is given */
    dregs_law_verdict toxic;  /**< by the concentrations of the solvents in it: YES or NO */
    const char *toxic_by;     /**< the solvent that is furthest beyond its level; NULL */
    double toxic_concentration, toxic_from; /**< kg/m3 of it, and its level */
    const char *phase;                      /**< a solvent beyond its solubility in water; NULL */
    double phase_concentration, solubility; /**< kg/m3 of it, and what water takes up */
} dregs_tally_waste;
DREGS_API const dregs_tally_waste *dregs_tally_law_waste(const dregs_tally_law *law,
                                                         unsigned index);

/** Hazardous waste of a month. */
typedef struct dregs_tally_waste_month {
    double sure, open; /**< kg hazardous; kg of which it is not decided */
    dregs_law_generator least, most;
} dregs_tally_waste_month;
/** NULL past December, and where no waste leaves. */
DREGS_API const dregs_tally_waste_month *dregs_tally_law_month(const dregs_tally_law *law,
                                                               unsigned month);

/** What is asked for, because neither the file nor the facts decide it: each thing once, what
 *  changes most first. */
typedef struct dregs_tally_asked {
    const char *text;    /**< what, and what is done until then */
    const char *key;     /**< of dregs_site_take; NULL where other files tell it */
    const char *answers; /**< "--given drain=sewer or drain=waste"; NULL likewise */
} dregs_tally_asked;
DREGS_API const dregs_tally_asked *dregs_tally_law_asked(const dregs_tally_law *law,
                                                         unsigned index);

/* ---- purchases ---- */

typedef struct dregs_tally_actual dregs_tally_actual;

/** What is compared. */
typedef enum dregs_tally_measure {
    DREGS_TALLY_PUT_IN,    /**< bought and recovered */
    DREGS_TALLY_TAKEN_OUT, /**< disposed, sold, given elsewhere and recovered */
    DREGS_TALLY_GONE,      /**< the difference: into air, drain, onto parts, still in the tanks */
    DREGS_TALLY_MEASURES
} dregs_tally_measure;

/** "supplied", "removed", "other losses"; NULL past the end. */
DREGS_API const char *dregs_tally_measure_name(dregs_tally_measure measure);

/** NULL unless there are purchases in the question. */
DREGS_API const dregs_tally_actual *dregs_tally_result_actual(const dregs_tally_result *answer);

/** What is looked at. */
typedef struct dregs_tally_covered {
    int year;
    int full;             /**< all months are covered */
    unsigned first, last; /**< months covered, from 1 */
    int drain_is_waste;   /**< what drains counts as removed */
    int running;          /**< the model has run for a year before */
    unsigned long rows;   /**< of the file */
    int by_mass;          /**< a row of it states a mass */
    unsigned compared;    /**< figures that are shown */
} dregs_tally_covered;
DREGS_API const dregs_tally_covered *dregs_tally_actual_covered(const dregs_tally_actual *actual);

/** Those of the question. */
DREGS_API const dregs_purchases *dregs_tally_actual_purchases(const dregs_tally_actual *actual);

/** Both sides of one figure, m3. */
typedef struct dregs_tally_both {
    double measured, modelled;
    dregs_unexplained unexplained;
    int scatter; /**< 1: no more than two standard deviations, or none is stated */
} dregs_tally_both;

/** A liquid of the line, by its number. The lists are by measure. */
typedef struct dregs_tally_bought_liquid {
    const char *name;
    unsigned fluid;
    int in_file;                           /**< the year has a row of it */
    unsigned rows[DREGS_TALLY_MEASURES];   /**< of the year */
    unsigned silent[DREGS_TALLY_MEASURES]; /**< of them without a spread */
    double lot[DREGS_TALLY_MEASURES]; /**< m3, the largest delivery or collection; NaN for none */
    int shown[DREGS_TALLY_MEASURES];  /**< there are rows for it */
    double reclaimed;                 /**< m3 that the line reclaims in the months covered */
    int recovered;                    /**< a row of the file is of kind recovered */
    double density;                   /**< kg/m3; NaN where it is not known */
    dregs_tally_both month[DREGS_TALLY_MEASURES][DREGS_MONTHS];
    dregs_tally_both so_far[DREGS_TALLY_MEASURES][DREGS_MONTHS]; /**< from the first month on */
    dregs_tally_both whole[DREGS_TALLY_MEASURES];                /**< of all months covered */
    int counted; /**< stock was counted at both ends of the year: over all its months what was put
                      in is less by what is more in stock, and no lot of fresh liquid is in doubt */
    dregs_purchase_stock stock[2]; /**< at both ends; no row where none was counted */
} dregs_tally_bought_liquid;
DREGS_API const dregs_tally_bought_liquid *
dregs_tally_actual_liquid(const dregs_tally_actual *actual, unsigned fluid);

/** What a plan from records is compared by with that of the model, kg a year. */
typedef enum dregs_tally_recorded {
    DREGS_TALLY_RECORDED_I1,
    DREGS_TALLY_RECORDED_I2,
    DREGS_TALLY_RECORDED_O6,
    DREGS_TALLY_RECORDED_O7,
    DREGS_TALLY_RECORDED_O8,
    DREGS_TALLY_RECORDED_REST, /**< I1 - O6 - O7 - O8: into air and drain, onto parts */
    DREGS_TALLY_RECORDED_CONSUMPTION,
    DREGS_TALLY_RECORDED_FUGITIVE,
    DREGS_TALLY_RECORDEDS
} dregs_tally_recorded;

/** A solvent plan from records: it stands in place of the one of the model with the same number,
 *  which is set beside it. What the records leave open makes a range: waste without an assay holds
 *  anything from nothing to what the liquid holds when fresh, a stock that was not counted has
 *  grown or fallen by one lot at most. */
typedef struct dregs_tally_record {
    const dregs_tally_plan *plan; /**< best estimate: such waste like fresh liquid, the stock as it
                                       was. A limit is met, or missed, where all of the range says
                                       so */
    dregs_law_plan_result least, most; /**< the ends of that range */
    double unassayed;                  /**< kg of solvent at most in waste without an assay */
    double lot;                        /**< kg that a stock may have changed by */
    int named; /**< every liquid of the plan has rows, and a density on record */
    int below; /**< more left than came: the records contradict themselves */
    dregs_tally_both figure[DREGS_TALLY_RECORDEDS]; /**< kg; measured: of the plan */
} dregs_tally_record;
/** \param number  of a plan. NULL where none was asked for, the rows do not cover all months of the
 *  year, or nothing was put in. */
DREGS_API const dregs_tally_record *dregs_tally_actual_record(const dregs_tally_actual *actual,
                                                              unsigned number);

/** Why the emission of a month is not known from records; together. */
enum {
    DREGS_TALLY_LOG_NO_ROW = 1,     /**< no row of a liquid with the solvent in the month */
    DREGS_TALLY_LOG_NO_OPENING = 2, /**< its stock was not counted at the month's begin */
    DREGS_TALLY_LOG_NO_CLOSING = 4, /**< nor at its end, see dregs_purchases_stock_before */
    DREGS_TALLY_LOG_NO_DENSITY = 8  /**< its density is not on record */
};

/** What the records of a month say of a solvent of 40 CFR 63.471, kg of it. */
typedef struct dregs_tally_log_month {
    const char *solvent;
    int year;
    unsigned month;      /**< from 1 */
    unsigned lacks;      /**< DREGS_TALLY_LOG_NO_ROW and the like; 0: the emission is known */
    const char *lacking; /**< the first liquid that lacks something; NULL */
    double bought, recovered, sold, elsewhere;
    double disposed;         /**< by the assays of the rows */
    double unassayed;        /**< at most, in waste without an assay; nothing is taken off for it */
    double opening, closing; /**< in stock; NaN where not counted */
    double added;            /**< SA: bought, recovered, and opening less closing stock; NaN */
    double removed;          /**< LSR + SSR: recovered, disposed, sold, elsewhere; NaN likewise */
    dregs_tally_both emission; /**< added less removed, NaN where not known; the model's month */
} dregs_tally_log_month;

/** What all machines of the facility emitted in twelve months in a row, by the records. */
typedef struct dregs_tally_log_sum {
    int year; /**< of the last of them */
    unsigned month;
    unsigned unknown;         /**< of the months of each solvent, those that are not known */
    int below;                /**< more was removed than added: not known either */
    int bound;                /**< the most that it can be: some waste has no assay */
    dregs_tally_both counted; /**< kg as dregs_law_facility_year has them, with what other machines
                                   emit; NaN where not known. The model: its year, NaN where another
                                   row of the rule counts for it */
    double limit;             /**< kg; NaN likewise */
    dregs_law_verdict met;    /**< ASK where it is not known */
} dregs_tally_log_sum;

/** The log of the facility, 40 CFR 63.471(b) and (c): it decides in place of the model. */
typedef struct dregs_tally_log {
    unsigned solvents, months; /**< of the file, from its first row to its last one */
    unsigned sums;             /**< over twelve months; 0: the records are too short, and the model
                                    stands alone */
    unsigned unknown;          /**< of these, those that are not known */
    unsigned closest;          /**< the one closest to its limit, or the furthest beyond it; `sums`
                                    where none is known */
    int least;                 /**< other machines are not given */
    dregs_law_verdict met;     /**< of every sum: NO where one is beyond its limit; YES where each
                                    is known and met; EXCLUDED where the rule does not apply */
} dregs_tally_log;
/** NULL without `law` of the question, without a solvent of the rule, and where no row names a
 *  liquid with one. */
DREGS_API const dregs_tally_log *dregs_tally_actual_log(const dregs_tally_actual *actual);
/** A month of a solvent, each from 0. NULL past the end. */
DREGS_API const dregs_tally_log_month *
dregs_tally_actual_log_month(const dregs_tally_actual *actual, unsigned solvent, unsigned month);
/** A sum, from 0, the earliest first. NULL past the end. */
DREGS_API const dregs_tally_log_sum *dregs_tally_actual_log_sum(const dregs_tally_actual *actual,
                                                                unsigned sum);

/** A count of stock that stands for the one at a turn and is of another day. */
typedef struct dregs_tally_log_turn {
    const char *liquid;
    int year; /**< the turn is the one before this month */
    unsigned month;
    dregs_purchase_stock stock;
} dregs_tally_log_turn;
/** NULL past the end. */
DREGS_API const dregs_tally_log_turn *dregs_tally_actual_log_turn(const dregs_tally_actual *actual,
                                                                  unsigned index);

/* ---- how sure it is ---- */

/** What a year, or another span, of the draws comes to beside that of the line as stated. `run` is
 *  that of the first line; of several lines, which are drawn each by itself, only the figures that
 *  they are compared by are asked. Made by dregs_tally_doubt_ask. */
typedef struct dregs_tally_doubt {
    dregs_doubt_run run;
    const dregs_tally_result *answer; /**< that it is of */
    unsigned streams_left_out; /**< of stages or months, which are too many to draw them all */
} dregs_tally_doubt;

/** How many draws are made where nobody says it: fewer where each takes more work. It depends on
 *  the question alone. */
DREGS_API uint64_t dregs_tally_doubt_usual(const dregs_tally_result *answer);

/** Asks the same of the lines of many draws: volumes, masses, costs, and with `law` of the question
 *  its verdicts.
 *  \param answer  of dregs_tally_answer; it must outlive the doubt.
 *  \param doubt   on success, to be freed with dregs_tally_doubt_free; NULL where no line has a
 *                 spread that matters here.
 *  \param faults  rows that cannot be drawn, see dregs_ensemble_new; may be NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA; DREGS_DOMAIN (no draws, or a request that is not set up);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_tally_doubt_ask(const dregs_tally_result *answer,
                                             const dregs_doubt_request *request,
                                             dregs_tally_doubt **doubt, dregs_faults *faults);
DREGS_API void dregs_tally_doubt_free(dregs_tally_doubt *doubt);

/** As dregs_tally_actual_liquid, with the standard deviation of the draws as that of the model. */
DREGS_API const dregs_tally_bought_liquid *dregs_tally_doubt_liquid(const dregs_tally_doubt *doubt,
                                                                    unsigned fluid);

/** A figure of dregs_tally_actual_record with the standard deviation of the draws likewise.
 *  \return DREGS_OK; DREGS_DOMAIN (no such record or figure). */
DREGS_API dregs_status dregs_tally_doubt_recorded(const dregs_tally_doubt *doubt, unsigned number,
                                                  dregs_tally_recorded figure,
                                                  dregs_tally_both *both);

/** `emission` of dregs_tally_actual_log_month, and `counted` of dregs_tally_actual_log_sum, with
 * the standard deviation of the draws likewise. \return DREGS_OK; DREGS_DOMAIN (no such month or
 * sum).
 */
DREGS_API dregs_status dregs_tally_doubt_log_month(const dregs_tally_doubt *doubt, unsigned solvent,
                                                   unsigned month, dregs_tally_both *both);
DREGS_API dregs_status dregs_tally_doubt_log_sum(const dregs_tally_doubt *doubt, unsigned sum,
                                                 dregs_tally_both *both);

/** A value that is drawn, and what it does to what was bought: the line is worked out with it, and
 *  all that share its draw, moved by one standard deviation of its distribution. */
typedef struct dregs_tally_spread {
    const char *item; /**< of the line file; of a property of a liquid that liquid */
    const char *property;
    int counted;   /**< 0: the line cannot be worked out with it */
    double weight; /**< its largest effect on the whole of what is shown, as a share of the modelled
                        figure; 0 where it has none */
} dregs_tally_spread;
/** NULL past the end, and without purchases. */
DREGS_API const dregs_tally_spread *dregs_tally_doubt_spread(const dregs_tally_doubt *doubt,
                                                             unsigned index);

/** What has a range. */
typedef enum dregs_tally_doubtful {
    DREGS_TALLY_RANGE_FIGURE,      /**< dregs_tally_result_figure of the line, in its unit */
    DREGS_TALLY_RANGE_BOUGHT,      /**< m3 of a liquid of the line, by its number */
    DREGS_TALLY_RANGE_OUTLINE,     /**< of the whole, by a dregs_tally_sum */
    DREGS_TALLY_RANGE_LARGEST,     /**< m3 of dregs_tally_result_part by volume */
    DREGS_TALLY_RANGE_DEAREST,     /**< in the currency, of dregs_tally_result_part by cost */
    DREGS_TALLY_RANGE_CONSUMPTION, /**< kg a year, of a plan by its `number` */
    DREGS_TALLY_RANGE_FUGITIVE,    /**< share of the input that is fugitive, of a plan likewise */
    DREGS_TALLY_RANGE_MACHINE,     /**< `worst` of dregs_tally_law_machine */
    DREGS_TALLY_RANGE_EMITTED,     /**< kg a year, of dregs_tally_law_solvent */
    DREGS_TALLY_RANGE_POTENTIAL,   /**< kg a year, likewise */
    DREGS_TALLY_RANGE_TOTAL,       /**< kg a year of dregs_tally_potential: 0 VOC, 1 pollutants */
    DREGS_TALLY_RANGE_WASTE,       /**< kg a year, of dregs_tally_law_waste; 0 in a draw without */
    DREGS_TALLY_RANGE_FACILITY,    /**< kg in 12 months, `counted` of dregs_tally_law_facility */
    DREGS_TALLY_RANGE_DRAINED,     /**< kg/m3 of dregs_tally_result_drain 0, by its `drained`;
                                        behind them its `oxygen_concentration` */
    DREGS_TALLY_RANGE_ENERGY,      /**< of all stages together: 0 J that heaters take, 1 kg of CO2,
                                    2 J of ultrasound, 3 kg of CO2 of these */
    DREGS_TALLY_RANGE_PLAN,        /**< kg a year of a stream of a solvent plan: its `number` times
                                        DREGS_TALLY_PLAN_STREAMS, and the stream's place, from 0, among
                                        those of dregs_law_plan */
    DREGS_TALLY_RANGE_STAGE_COST,  /**< with DREGS_TALLY_OF_STAGES, in the currency: the stage, or
                                        the number of stages for the whole, times
                                        DREGS_TALLY_SPENTS, and a dregs_tally_spent */
    DREGS_TALLY_RANGE_MONTH_COST,  /**< with DREGS_TALLY_OF_MONTHS: the month, or DREGS_MONTHS for
                                        the whole, likewise */
    DREGS_TALLY_RANGE_MONTH,       /**< likewise: the month times DREGS_TALLY_SUMS, and a
                                        dregs_tally_sum of its outline */
    DREGS_TALLY_RANGE_OVER_3,      /**< of three months until this one likewise */
    DREGS_TALLY_RANGE_OVER_12,     /**< of twelve */
    DREGS_TALLY_RANGES
} dregs_tally_doubtful;

enum { DREGS_TALLY_PLAN_STREAMS = 11 };

/** What money goes for. */
typedef enum dregs_tally_spent {
    DREGS_TALLY_SPENT_BOUGHT,
    DREGS_TALLY_SPENT_WASTE,
    DREGS_TALLY_SPENT_CHANGES, /**< of filters, beds and exchangers */
    DREGS_TALLY_SPENT_ALL,
    DREGS_TALLY_SPENTS
} dregs_tally_spent;

/** Sums of dregs_tally_outline. */
typedef enum dregs_tally_sum {
    DREGS_TALLY_SUM_BOUGHT,
    DREGS_TALLY_SUM_TO_DRAIN,
    DREGS_TALLY_SUM_TO_WASTE,
    DREGS_TALLY_SUM_EVAPORATED,
    DREGS_TALLY_SUM_DRIED,
    DREGS_TALLY_SUM_BLOWN_OFF,
    DREGS_TALLY_SUM_HELD_LAST,
    DREGS_TALLY_SUM_COST,
    DREGS_TALLY_SUMS
} dregs_tally_sum;

/** \return DREGS_OK; DREGS_DOMAIN (no such number); DREGS_UNKNOWN (no draw has it). */
DREGS_API dregs_status dregs_tally_doubt_range(const dregs_tally_doubt *doubt,
                                               dregs_tally_doubtful what, unsigned index,
                                               dregs_ensemble_range *range);

/** The range of a stream of the whole, of a stage or of a month, as dregs_tally_fluid (m3, kind
 *  DREGS_TALLY_VOLUMES), dregs_tally_volume (m3, DREGS_TALLY_ALL, of a line of several liquids) and
 *  dregs_tally_solute (kg, DREGS_TALLY_SOLUTES) have it.
 *  \param stream  DREGS_STREAM_COUNT: what is reclaimed of the liquid.
 *  \param stage   DREGS_WHOLE: of all stages; of a month it must be that.
 *  \param period  DREGS_WHOLE: of the whole time; of a stage it must be that.
 *  \return DREGS_OK; DREGS_UNKNOWN (the line as stated has no such stream, `parts` of the question
 *  does not ask for it, it was left out, or no draw has it). */
DREGS_API dregs_status dregs_tally_doubt_stream(const dregs_tally_doubt *doubt,
                                                dregs_tally_kind kind, unsigned index,
                                                dregs_stream stream, unsigned stage,
                                                unsigned period, dregs_ensemble_range *range);

/** The draws of a line of the answer, with `rows` 0 where it has no spread; NULL past the end. */
DREGS_API const dregs_doubt_run *dregs_tally_doubt_run_of(const dregs_tally_doubt *doubt,
                                                          unsigned line);
/** The range of dregs_tally_result_figure. \return as dregs_tally_doubt_range; DREGS_UNKNOWN also
 *  for a line that is not drawn. */
DREGS_API dregs_status dregs_tally_doubt_figure(const dregs_tally_doubt *doubt, unsigned line,
                                                unsigned figure, dregs_ensemble_range *range);

/** The share of draws in which a limit is met or none applies; a draw that leaves it open counts
 *  as not met.
 *  \param plan  `number` of a plan. */
DREGS_API dregs_status dregs_tally_doubt_plan_met(const dregs_tally_doubt *doubt, unsigned plan,
                                                  dregs_law_activity activity,
                                                  dregs_ensemble_estimate *met);
/** \param machine  index of dregs_tally_law_machine. */
DREGS_API dregs_status dregs_tally_doubt_machine_met(const dregs_tally_doubt *doubt,
                                                     unsigned machine,
                                                     dregs_ensemble_estimate *met);

/** The share of draws in which a waste, or the category of a month, is judged as that of the line
 *  as stated; a draw without the waste judges otherwise.
 *  \return DREGS_OK; DREGS_DOMAIN. */
DREGS_API dregs_status dregs_tally_doubt_waste_same(const dregs_tally_doubt *doubt, unsigned waste,
                                                    dregs_ensemble_estimate *same);
DREGS_API dregs_status dregs_tally_doubt_month_same(const dregs_tally_doubt *doubt, unsigned month,
                                                    dregs_ensemble_estimate *same);

#ifdef __cplusplus
}
#endif
#endif
