/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_beaker.h: what dregs-beaker answers: the sums of the bench, without a line file.
 *
 * What is given in words ("200 mL", "0.05 mL +- 20 %") is made into the text of a line file, which
 * is read and asked like any other: for its residues, its sizing, its evaporation, its heat. What
 * is needed and not given is asked for; what may be left out is assumed, and listed.
 *
 * A request is a plain value that dregs_beaker_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read.
 */
#ifndef DREGS_ANSWER_BEAKER_H
#define DREGS_ANSWER_BEAKER_H

#include "dregs/caution.h"
#include "dregs/line.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** What is asked. */
typedef enum dregs_beaker_question {
    DREGS_BEAKER_PARTS,  /**< how many parts through a beaker */
    DREGS_BEAKER_RINSES, /**< one rinse or several small ones */
    DREGS_BEAKER_BOTTLE, /**< how much from a wash bottle */
    DREGS_BEAKER_FRESH,  /**< how much fresh liquid for the final rinse */
    DREGS_BEAKER_OPEN,   /**< what an open beaker loses and takes up */
    DREGS_BEAKER_WARM,   /**< when ultrasound has warmed a bath */
    DREGS_BEAKER_COOL,   /**< when parts are cool */
    DREGS_BEAKER_QUESTIONS
} dregs_beaker_question;

/** "parts", "rinses", ...; NULL past the end. */
DREGS_API const char *dregs_beaker_word(dregs_beaker_question question);

/** What can be given, each as words. */
typedef enum dregs_beaker_given {
    DREGS_BEAKER_LIQUID,
    DREGS_BEAKER_BEAKER,
    DREGS_BEAKER_TOTAL,
    DREGS_BEAKER_TIMES,
    DREGS_BEAKER_LOADS,
    DREGS_BEAKER_PARTS_AT_A_TIME,
    DREGS_BEAKER_AREA,
    DREGS_BEAKER_DRAG_OUT,
    DREGS_BEAKER_FILM,
    DREGS_BEAKER_SOIL,
    DREGS_BEAKER_EXCHANGE,
    DREGS_BEAKER_MIXING,
    DREGS_BEAKER_LIMIT,
    DREGS_BEAKER_OWN,
    DREGS_BEAKER_AT,
    DREGS_BEAKER_OPENING,
    DREGS_BEAKER_RIM,
    DREGS_BEAKER_LOSES,
    DREGS_BEAKER_AFTER,
    DREGS_BEAKER_ROOM,
    DREGS_BEAKER_HUMIDITY,
    DREGS_BEAKER_AIR_SPEED,
    DREGS_BEAKER_POWER,
    DREGS_BEAKER_WATER_BATH,
    DREGS_BEAKER_WALL_LOSS,
    DREGS_BEAKER_TO,
    DREGS_BEAKER_FROM,
    DREGS_BEAKER_MASS,
    DREGS_BEAKER_HEAT_CAPACITY,
    DREGS_BEAKER_HEIGHT,
    DREGS_BEAKER_GIVEN
} dregs_beaker_given;

/** "liquid", "beaker", ...: what messages call it; NULL past the end. */
DREGS_API const char *dregs_beaker_given_name(dregs_beaker_given given);

enum { DREGS_BEAKER_MESSAGE = 640, DREGS_BEAKER_TEXT = 160 };

typedef struct dregs_beaker_request {
    size_t size; /**< set by dregs_beaker_request_init */
    dregs_beaker_question question;
    const char *given[DREGS_BEAKER_GIVEN]; /**< NULL: it is not; the caller's */
    double confidence; /**< the probability with which the limit must be met; NaN: none */
    uint64_t draws;    /**< of the values with a spread; DREGS_SIZE_DRAWS_USUAL */
    uint64_t seed;     /**< 1 */
    unsigned threads;  /**< 0: one for each processor */
} dregs_beaker_request;

/** Nothing is given; no confidence, the usual draws. */
DREGS_API void dregs_beaker_request_init_of_size(dregs_beaker_request *request, size_t size);
static inline void dregs_beaker_request_init(dregs_beaker_request *request)
{
    dregs_beaker_request_init_of_size(request, sizeof *request);
}

/** What a number is of. */
typedef enum dregs_beaker_kind {
    DREGS_BEAKER_COUNT,  /**< 1 */
    DREGS_BEAKER_VOLUME, /**< m3 */
    DREGS_BEAKER_TIME    /**< s */
} dregs_beaker_kind;

/** One way that was worked out, or one moment. What is not asked or not known is NaN. */
typedef struct dregs_beaker_way {
    char way[DREGS_BEAKER_TEXT]; /**< "2 rinses of 50 mL each" */
    dregs_beaker_kind kind;
    double takes;         /**< in SI, by `kind`; infinite: never */
    double left;          /**< of the film's soil, of the liquid in the beaker, 0..1 */
    double concentration; /**< kg/m3 of all that is dissolved in the last film of the worst load */
    double residue;       /**< kg/m2 of the worst load; NaN where no area is given */
    double water;         /**< share by mass in the liquid, from the air of the room */
    double temperature;   /**< K, where a bath or a part settles or comes to */
    double probability;   /**< of meeting the limit, from the draws */
    int judged;           /**< there is a limit, and: */
    int met;
    const dregs_line *line; /**< as it was worked out */
    const char *text;       /**< its file, `length` bytes */
    size_t length;
} dregs_beaker_way;

/** A point of the picture, of way number `way`; x and y in SI. */
typedef struct dregs_beaker_point {
    unsigned way;
    double x, y;
} dregs_beaker_point;

/** The answer. */
typedef struct dregs_beaker_result {
    dregs_beaker_question question;
    unsigned ways; /**< at least 1; of DREGS_BEAKER_FRESH that which takes least is `best` */
    unsigned best;
    int by_area;          /**< the limit is a mass per area, else a concentration */
    double limit;         /**< kg/m2 or kg/m3; NaN for none */
    double parts;         /**< at a time */
    double film;          /**< m3 that a load carries; NaN where none does */
    double volume;        /**< m3 in the beaker; NaN */
    double asked;         /**< the share lost, or K to be reached, that was asked for; NaN */
    double start;         /**< K, of bath or parts at first; NaN */
    double rate;          /**< m3/s that the open beaker loses at first; NaN */
    double solvent_rate;  /**< kg/(m2 s) that its liquid changes by at first where the uptake of
                             water  is worked out, below 0; NaN */
    double water_rate;    /**< the same of the water that comes in; NaN */
    double heat_capacity; /**< J/(m2 K) of the parts that cool; NaN */
    double room;          /**< K, of the air that parts cool in; NaN */
    unsigned drawn;       /**< values with a spread */
    uint64_t draws;       /**< 0: none */
    double confidence;    /**< that was asked for; NaN */
    size_t points;
    const dregs_caution *caution; /**< those of the line of the best way */
    unsigned cautions;
} dregs_beaker_result;

/** Answers a request.
 *  \param liquids  must outlive the result.
 *  \param result   on success, to be freed with dregs_beaker_result_free.
 *  \param message  DREGS_BEAKER_MESSAGE bytes for the reason; empty where the status says it all.
 *  \return DREGS_OK also where the answer is never or not possible; DREGS_DOMAIN (not set up, or
 *  what is given is missing, not used, no number with a unit, out of its range); DREGS_UNKNOWN (no
 *  such liquid); DREGS_BAD_DATA (what is described cannot be); DREGS_OUT_OF_RANGE (a property
 *  outside its data); DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_beaker_answer(const dregs_beaker_request *request,
                                           const dregs_liquids *liquids,
                                           dregs_beaker_result **result, char *message);
DREGS_API void dregs_beaker_result_free(dregs_beaker_result *result);

/** A way, in order; what was assumed beside the line's own; a point of the picture. NULL past the
 *  end. */
DREGS_API const dregs_beaker_way *dregs_beaker_result_way(const dregs_beaker_result *result,
                                                          unsigned index);
DREGS_API const char *dregs_beaker_result_assumed(const dregs_beaker_result *result,
                                                  unsigned index);
DREGS_API const dregs_beaker_point *dregs_beaker_result_point(const dregs_beaker_result *result,
                                                              size_t index);

#ifdef __cplusplus
}
#endif
#endif
