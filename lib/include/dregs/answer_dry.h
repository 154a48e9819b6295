/* SPDX-License-Identifier: GPL-3.0-or-later */
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

#ifdef __cplusplus
}
#endif
#endif
