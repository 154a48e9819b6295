/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_dry.h: what dregs-dry answers: when films are gone and whether their vapour is safe.
 *
 * The film is that which a line leaves at each of its dry stages, or one that the request tells.
 * What neither tells is assumed, and the answer says so.
 *
 * A request is a plain value that dregs_dry_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read.
 */
#ifndef DREGS_ANSWER_DRY_H
#define DREGS_ANSWER_DRY_H

#include "dregs/caution.h"
#include "dregs/dry.h"
#include "dregs/ensemble.h"
#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_DRY_ROWS_MOST = 64, DREGS_DRY_ASSUMED_MOST = 12 };

/** What is asked. A value that is NaN is the line's, or assumed. */
typedef struct dregs_dry_request {
    size_t size; /**< set by dregs_dry_request_init */
    /* the film; not with a line */
    const char *liquid; /**< a name of the liquid data; NULL with a line */
    double film;        /**< m, mean thickness */
    double water;       /**< its share by mass in the film, 0..1; 0 at first */
    double area;        /**< m2 wetted in the room or oven */
    /* the settings */
    double at[DREGS_DRY_ROWS_MOST]; /**< K, of the air: one answer each */
    unsigned at_count;              /**< 0 with a line: its own temperature */
    double start;                   /**< K, of part and film at first */
    double speed;                   /**< m/s */
    double humidity;                /**< 0..1, of the room's air, before an oven heats it */
    double heat_capacity;           /**< of the part per wetted area, J/(m2 K) */
    double length;                  /**< m, of the wet face along the air */
    double volume;                  /**< m3 of the room or oven */
    double fresh_air;               /**< m3/s */
    double recess;                  /**< m, depth of a recess full of the liquid; 0: none */
    double until;                   /**< share of the liquid left that counts as dry */
    double interval;                /**< s from load to load; without a line: one load alone */
    double room;                    /**< K, of the room's air, where its humidity is measured */
    double dew_point;               /**< K, of the room's air; in place of the humidity */
    int air;                        /**< a dregs_air_flow; -1: the line's, or assumed */
    double nozzle, nozzle_distance; /**< m, of a jet */
    double nozzle_pitch;            /**< m; NaN without a line: one nozzle */
    double bead; /**< m2, volume of the bead on an edge per length of it; 0: none */
} dregs_dry_request;

/** Nothing is asked for yet: every value NaN, no water, no liquid. */
DREGS_API void dregs_dry_request_init_of_size(dregs_dry_request *request, size_t size);
static inline void dregs_dry_request_init(dregs_dry_request *request)
{
    dregs_dry_request_init_of_size(request, sizeof *request);
}

/** What is dry last, of what was computed. */
typedef enum dregs_dry_last { DREGS_DRY_FILM, DREGS_DRY_BEAD, DREGS_DRY_RECESS } dregs_dry_last;

/** One drying: a stage of the line, or the one film, at one temperature. */
typedef struct dregs_dry_row {
    const char *stage;           /**< NULL without a line */
    dregs_dry_case film;         /**< what was worked out, with all that was assumed */
    double mass;                 /**< kg/m2 of it at first */
    double share;                /**< of it by mass that is its first liquid */
    dregs_drying drying;         /**< of the film */
    double isothermal, wet_bulb; /**< s, the limiting cases: the film takes at least
                                      the one and at most the other; NaN where that is not so, or
                                      could not be had */
    double recess;               /**< s; NaN for none */
    double time;                 /**< s, the latest of film, bead and recess */
    int by_recess;               /**< the recess is the latest */
    double quicker;              /**< times as fast as the first drying; NaN for that one, and
                                      where one of the two never dries */
    int passes;                  /**< it is known to dry within the interval, and no vapour passes
                                    25 % of its lower limit, nor is that of a flammable film left
                                    unjudged; of a line beads and holes are to dry too */
    double heat_transfer;        /**< W/(m2 K) at first, by temperature alone; NaN: not known */
    double needed;               /**< m3/s of fresh air for 25 % of the lower flammable limit, at
                                      the peak of the drying; NaN without limit or area */
    double dilution;             /**< m3 of air for 25 % of the film's vapour; NaN for none */
    double vapour;               /**< kg of the first liquid in the film of a load */
    int air_stated;              /**< fresh air was stated */
    unsigned assumed_count;
    char assumed[DREGS_DRY_ASSUMED_MOST][120]; /**< sentences */
    unsigned caution_count;
    const dregs_caution *caution; /**< that this drying calls for, the most pressing first */
    int capacity_assumed;         /**< the heat capacity of the part is assumed */
    double interval;              /**< s from load to load; INFINITY: one load alone */
    double peak;        /**< content of the air by loads that follow each other over the lower
                             flammable limit; INFINITY: it gathers; NaN: nothing is stated of the air */
    double bead;        /**< s, of the bead on an edge, fed by the air alone: the most;
                             NaN for none */
    double bead_least;  /**< s, of one that the part keeps as warm as the air */
    double bead_radius; /**< m, at first; NaN for none */
    dregs_dry_last last;
    int beads_unknown, holes_unknown; /**< no geometry is stated: not computed, and dry later */
    int late;         /**< `time` is longer than the interval, and no other dry stage follows */
    int dries_on;     /**< another dry stage follows, where what is still wet dries on */
    int trapped_open; /**< 1: of a line, and whether beads and holes are dry is not known */
    int vapour_open;  /**< 1: it is not known that the vapour stays below 25 % of its limit */
} dregs_dry_row;

typedef struct dregs_dry_result {
    unsigned rows;
    double residue;    /**< kg/m2 that the film of the worst load leaves; NaN without a line */
    unsigned cautions; /**< that all dryings together call for */
    int passes;        /**< every drying does */
} dregs_dry_result;

/** Answers a request.
 *  \param liquids  must outlive the result, as must the names of the request and the line.
 *  \param line     NULL: the film is the request's.
 *  \param result   on success, to be freed with dregs_dry_result_free.
 *  \param message  DREGS_DRY_MESSAGE bytes for the reason; empty where the status says it all.
 *  \return DREGS_OK also when a film never dries; DREGS_DOMAIN (not set up, neither or both of line
 * and film, no temperature, more than DREGS_DRY_ROWS_MOST dryings, a value outside its range);
 *  DREGS_BAD_DATA (no dry stage of the line takes over a wet load); as dregs_dry besides. */
DREGS_API dregs_status dregs_dry_answer(const dregs_dry_request *request,
                                        const dregs_liquids *liquids, const dregs_line *line,
                                        dregs_dry_result **result, char *message);

/** Drying \p index: for each temperature the stages in the order of the line; NULL past the end. */
DREGS_API const dregs_dry_row *dregs_dry_result_row(const dregs_dry_result *result, unsigned index);

/** Caution \p index of all dryings together, the most pressing first: one for a rule and liquid,
 * with the numbers of the most critical drying, which `facts` is the index of; rows and beyond: of
 * no drying. NULL past the end. */
DREGS_API const dregs_caution *dregs_dry_result_caution(const dregs_dry_result *result,
                                                        unsigned index);

DREGS_API void dregs_dry_result_free(dregs_dry_result *result);

/* ---- how sure ---- */

/** How sure the times are, from draws of the line's values that have a spread and of the properties
 *  of the liquids, each by its accuracy; see dregs_dry_doubt_ask. */
typedef struct dregs_dry_doubt {
    dregs_doubt_run run;
    dregs_ensemble_estimate passes; /**< the share of draws in which every drying passes; one that
                                         is not known to pass does not */
    double confidence; /**< the share that the line's target asks for; NaN: none is stated */
    int decided;       /**< the interval of `passes` lies on one side of `confidence`: */
    int sure;          /**< on the upper one */
} dregs_dry_doubt;

/** How many draws are asked for where nobody says it: 200, of several dryings and of beads fewer,
 *  25 at least. */
DREGS_API uint64_t dregs_dry_doubt_usual(const dregs_dry_result *result);

/** Asks the request of many draws. The settings of the request are not drawn.
 *  \param result  of dregs_dry_answer; it, its liquids and its line must outlive the doubt.
 *  \param doubt   on success, to be freed with dregs_dry_doubt_free; NULL when nothing has a spread
 *                 or an accuracy.
 *  \param faults  rows that cannot be drawn, see dregs_ensemble_new; may be NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA; DREGS_DOMAIN (no draws, or a request that is not set up);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_dry_doubt_ask(const dregs_dry_result *result,
                                           const dregs_doubt_request *request,
                                           dregs_dry_doubt **doubt, dregs_faults *faults);
DREGS_API void dregs_dry_doubt_free(dregs_dry_doubt *doubt);

/** What of a drying has a range. A film that never dries counts with DREGS_DRY_MOST s. */
typedef enum dregs_dry_doubtful {
    DREGS_DRY_RANGE_TIME,   /**< s, the latest of film, bead and recess */
    DREGS_DRY_RANGE_FILM,   /**< s */
    DREGS_DRY_RANGE_BEAD,   /**< s, the most */
    DREGS_DRY_RANGE_RECESS, /**< s */
    DREGS_DRY_RANGE_PEAK,   /**< of the vapour over the lower flammable limit */
    DREGS_DRY_RANGES
} dregs_dry_doubtful;

/** \param row  the number of a drying, as in dregs_dry_result_row.
 *  \return DREGS_OK; DREGS_DOMAIN (no such number); DREGS_UNKNOWN (no draw has it). */
DREGS_API dregs_status dregs_dry_doubt_range(const dregs_dry_doubt *doubt, dregs_dry_doubtful what,
                                             unsigned row, dregs_ensemble_range *range);
/** The value below which a share of the draws lies, above 0 and below 1; statuses as above. */
DREGS_API dregs_status dregs_dry_doubt_quantile(const dregs_dry_doubt *doubt,
                                                dregs_dry_doubtful what, unsigned row, double share,
                                                dregs_ensemble_estimate *at);
/** The share of draws in which what is computed of a drying is dry within the interval to the next
 *  load, or where none is stated, at all. \return DREGS_OK; DREGS_DOMAIN. */
DREGS_API dregs_status dregs_dry_doubt_in_time(const dregs_dry_doubt *doubt, unsigned row,
                                               dregs_ensemble_estimate *share);

#ifdef __cplusplus
}
#endif
#endif
