/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_reuse.h: what dregs-reuse answers: whether a rinse may be used again, for how many loads,
 * at which reading to dump; or, with the water shut, its drag-out as a row for the line file.
 *
 * A request is a plain value that dregs_reuse_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read. Line and readings must outlive it.
 */
#ifndef DREGS_ANSWER_REUSE_H
#define DREGS_ANSWER_REUSE_H

#include "dregs/caution.h"
#include "dregs/reuse.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What to do, the first that holds. */
typedef enum dregs_reuse_advice {
    DREGS_ADVICE_DUMP,        /**< the next load misses the limit */
    DREGS_ADVICE_DUMP_UNSURE, /**< it meets it, but not with the confidence of the target */
    DREGS_ADVICE_DOUBTFUL,    /**< the readings do not fit the line: measure again */
    DREGS_ADVICE_ALONE,       /**< the last reading stands alone on the dirty side, or below what
                                   fresh liquid shows: measure again */
    DREGS_ADVICE_NO_END,      /**< use again: no end within DREGS_REUSE_LOADS_MOST loads */
    DREGS_ADVICE_LOADS,       /**< use again: so many loads */
    DREGS_ADVICE_UNSURE, /**< good for more by the best estimate, but not one of them is sure */
    DREGS_ADVICE_BLIND,  /**< no reading: the count of loads at which to dump */
    DREGS_ADVICE_UNTOLD /**< good for more by the line file alone: all readings are bounds, and none
                             shows its tank below the reading at which to dump */
} dregs_reuse_advice;

/** The reading at which the stage that is to be dumped comes to the limit, seen on the parts. */
typedef struct dregs_reuse_meaning {
    int known;         /**< there is such a stage and such a reading */
    double per_part;   /**< kg that a part keeps at the limit */
    double film_share; /**< of what the load at the limit keeps: out of the last film, 0 to 1 */
    int water_in_air;  /**< water that stands in air may read as much: no meter can tell */
} dregs_reuse_meaning;

/** The answer. */
typedef struct dregs_reuse_result {
    const dregs_line *line; /**< what was asked about */
    const dregs_readings *readings;
    const dregs_reuse *reuse; /**< regimes, readings heard, basis, assumptions */
    const dregs_reuse_outlook *outlook;
    dregs_reuse_advice advice;
    int use_again; /**< neither to be dumped nor to be measured again; without a reading: from fresh
                        tanks on some loads meet the limit */
    dregs_factor drag_out_before, soil_before; /**< what is believed before the log: lognormal with
                                                    mean 1, `best` is the mean, 95 % within */
    uint64_t age; /**< loads since its last fill that the stage to be dumped has then */
    dregs_reuse_meaning meaning;
    unsigned spreads_unused;      /**< how many the line states that nothing here rests on */
    const dregs_caution *caution; /**< that the line calls for, the most pressing first */
    unsigned cautions;
} dregs_reuse_result;

/** Answers a request: dregs_reuse_new, and what follows from it.
 *  \param result  on success, to be freed with dregs_reuse_result_free.
 *  \return and \p faults as dregs_reuse_new. */
DREGS_API dregs_status dregs_reuse_answer(const dregs_line *line, const dregs_readings *readings,
                                          const dregs_reuse_request *request,
                                          dregs_reuse_result **result, dregs_faults *faults);
DREGS_API void dregs_reuse_result_free(dregs_reuse_result *result);

/** The regime that a reading of the log belongs to: 1 for the first one. */
DREGS_API unsigned dregs_reuse_result_regime(const dregs_reuse_result *result, size_t reading);

/** What a change is a sign of. */
typedef enum dregs_reuse_sign {
    DREGS_SIGN_NONE,
    DREGS_SIGN_FLOW_FAILED, /**< below a tenth of what the line file says */
    DREGS_SIGN_GOT_IN,      /**< the tank holds more: something got in */
    DREGS_SIGN_RENEWED      /**< the tank holds less: it was renewed and no row says so */
} dregs_reuse_sign;
DREGS_API dregs_reuse_sign dregs_reuse_sign_of(const dregs_regime *regime);

/** The reading at which to dump a stage, as a conductivity meter without compensation shows it at
 *  temperatures around that of the stage, 2 K apart. */
enum { DREGS_CARD_TEMPERATURES = 7 };
typedef struct dregs_reuse_card {
    dregs_compensation way;
    double temperature[DREGS_CARD_TEMPERATURES]; /**< K */
    double shown[DREGS_CARD_TEMPERATURES];       /**< S/m; NaN where the compensation ends */
} dregs_reuse_card;

/** \return the card of a stage; NULL where there is none: no such reading, another meter, no
 *  compensation, or salts, whose own conductivity has its own way with temperature. */
DREGS_API const dregs_reuse_card *dregs_reuse_result_card(const dregs_reuse_result *result,
                                                          unsigned stage);

/** A value of the log in the unit the log writes.
 *  \param unit  a dregs_readings_unit; -1, or one the log does not have: uS/cm or mg/L.
 *  \param name  receives the unit. */
DREGS_API double dregs_answer_reading_shown(const dregs_readings *readings, dregs_measured what,
                                            int unit, double value, const char **name);

/** The drag-out measured with the water shut, and its row. */
typedef struct dregs_stopped_result {
    const dregs_line *line; /**< what was asked about */
    const dregs_readings *readings;
    dregs_stopped_flow measured;
    unsigned replaces;       /**< the row of the line file that it takes the place of; 0 for none */
    int replaces_speed;      /**< it takes the place of drain time and film law too */
    double sd_share;         /**< standard deviation as a share of the thickness */
    double stated;           /**< m3 per load that the line file says */
    double beside;           /**< m3 of that: hold-up and edge beads */
    double wetted;           /**< m2 of parts and basket */
    double volume;           /**< m3 of the rinse that was read */
    unsigned spreads_unused; /**< how many the line states that nothing here rests on */
    const dregs_caution *caution; /**< that the line calls for, the most pressing first */
    unsigned cautions;
} dregs_stopped_result;

/** Measures it: dregs_drag_out_measure, and what follows from it.
 *  \param noise   of the meter, as a share of the reading; NaN: from the log.
 *  \param result  on success, to be freed with dregs_stopped_result_free.
 *  \return and \p faults as dregs_drag_out_measure. */
DREGS_API dregs_status dregs_stopped_answer(const dregs_line *line, const dregs_readings *readings,
                                            double noise, dregs_stopped_result **result,
                                            dregs_faults *faults);
DREGS_API void dregs_stopped_result_free(dregs_stopped_result *result);

#ifdef __cplusplus
}
#endif
#endif
