/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_size.h: what dregs-size answers: the rinsing that meets a line's target.
 *
 * Two questions. Properties are named, each with a range or the usual one, and the values that meet
 * the target with the least fresh liquid (the least cost, where the line states prices) are sought.
 * Or the rinses are replaced by so many equal ones, in each layout, each sized to meet the target,
 * and the layouts are put in order.
 *
 * A request is a plain value that dregs_size_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read. Its parts grow at their ends: they are
 * only pointed to.
 */
#ifndef DREGS_ANSWER_SIZE_H
#define DREGS_ANSWER_SIZE_H

#include "dregs/caution.h"
#include "dregs/ensemble.h"
#include "dregs/size.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_SIZE_STAGES_MOST = 20, DREGS_EVERY_LAYOUT = -1 };

#define DREGS_SIZE_DRAWS_USUAL UINT64_MAX
#define DREGS_SIZE_DRAWS_MOST  ((uint64_t)10000000)
enum { DREGS_SIZE_DRAWS_LAYOUT = 200 };

/** Either varied properties or layouts (first > 0). */
typedef struct dregs_size_request {
    size_t size;                /**< set by dregs_size_request_init */
    const dregs_varied *varied; /**< of the line; outlives the result. NULL: layouts */
    unsigned first, last;       /**< layouts of first to last rinses, 1 to DREGS_SIZE_STAGES_MOST */
    int layout;                 /**< a dregs_layout, or DREGS_EVERY_LAYOUT */
    dregs_criterion criterion;
    int trade_off;                 /**< 1: what other limits would take, too */
    dregs_size_progress *progress; /**< called while a search goes on, of layouts after each row,
                                        with an infinite expense; NULL: nothing is. Layouts that
                                        were not yet sized when it stops them are left out */
    void *user;
    double confidence; /**< the probability with which the target must be met, above 0 and below 1;
                            NaN: the target's own, where it states one */
    uint64_t draws;    /**< of the values with a spread, to DREGS_SIZE_DRAWS_MOST; 0: none, and no
                            probability; DREGS_SIZE_DRAWS_USUAL: dregs_ensemble_usual of the line,
                            for layouts DREGS_SIZE_DRAWS_LAYOUT at most, and without a confidence
                            of the one that takes least alone */
    uint64_t seed;     /**< 1; the same draws for every trial */
    unsigned threads;  /**< 0: as many as there are processors */
} dregs_size_request;

/** Nothing varied yet, no layouts; every layout once `first` and `last` are set; the worst load is
 *  judged, however long the line runs; no draws. */
DREGS_API void dregs_size_request_init_of_size(dregs_size_request *request, size_t size);
static inline void dregs_size_request_init(dregs_size_request *request)
{
    dregs_size_request_init_of_size(request, sizeof *request);
}

/** Does a text have the form STAGE.PROPERTY or STAGE.PROPERTY=MIN..MAX? The stage ends at the last
 *  dot before the equals sign.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason.
 *  \return DREGS_OK or DREGS_BAD_DATA. */
DREGS_API dregs_status dregs_varied_form(const char *text, char *message);

/** Adds a property in such words: "last.flow" or "last.flow=1..9 L/h". A unit may stand at one end
 *  alone.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason.
 *  \return DREGS_BAD_DATA (form, number or unit); else as dregs_varied_add. */
DREGS_API dregs_status dregs_varied_read(dregs_varied *varied, const char *text, char *message);

/** The rules of thumb beside an answer: the solutes of all kinds in the film that enters the rinses
 *  over those in the last film, the fresh liquid's own taken off both, and what the formulas ask
 *  for. NaN where they say nothing: no counterflow or no single flow was sought, the target is not
 *  met, or the ratio is not above 1. */
typedef struct dregs_size_rule {
    unsigned stages; /**< rinses that count */
    double ratio;    /**< (C0 - Cw) / (Cn - Cw) */
    double exact;    /**< fresh liquid over drag-out of the answer, flow x interval / drag-out */
    double series;   /**< what dregs_rinse_series asks for */
    double root;     /**< what dregs_rinse_root asks for */
    double series_off, root_off; /**< how far these are from `exact`, as a share of it */
} dregs_size_rule;

/** What keeps a target out of reach of any rinsing. */
typedef enum dregs_size_bar {
    DREGS_SIZE_NO_BAR,
    DREGS_SIZE_FRESH_FILM, /**< what fresh liquid leaves, with the soil that adheres */
    DREGS_SIZE_ADHERING    /**< the soil that adheres alone */
} dregs_size_bar;

/** What follows from a sizing. */
typedef struct dregs_size_figures {
    double margin;          /**< 1 - residue / limit */
    double fresh_per_shift; /**< m3 that have to be bought */
    double waste_per_shift; /**< m3 to drain and dumped */
    double cost_per_shift;  /**< currency; NaN where no prices are stated */
    double floor_film;      /**< kg/m2: the part of the floor that is residue of the film */
    dregs_size_bar bar;
} dregs_size_figures;

/** How sure an answer is: of draws of the line that was found, with the spreads that the file
 * states (those in % are of the value that was found). Each draw is judged as the line as stated
 * is. */
typedef struct dregs_size_sureness {
    uint64_t draws;              /**< 0: none were asked for, or no value has a spread */
    unsigned rows;               /**< that are drawn: of the file, and properties of liquids */
    unsigned properties;         /**< of them properties of liquids, by their accuracy */
    double confidence;           /**< that was asked for; NaN: none */
    dregs_ensemble_estimate met; /**< the share of draws in which the answer meets the target */
    int reached;                 /**< 1: in at least the share asked for, and the answer takes the
                                      least that was found. 0: not asked for, or no values in the
                                      range were found to be met so often; the answer is then that
                                      of the values as stated */
    double best;                 /**< not reached: the largest share that was found; NaN */
    const dregs_sized *just;     /**< what meets the target as stated, beside an answer that is
                                      surer; NULL when it is the answer */
    double just_met;             /**< the share of draws in which that does; NaN */
    const dregs_bound *keeps;    /**< not reached: the bound of a concentration that most draws pass
                                      with the best values; NULL: the residue alone keeps it */
    double kept;                 /**< the share of draws that pass it */
    int passed_over; /**< 1: a layout that was not made surer, for as stated it is already dominated
                          by one that is as sure as asked for */
    int open; /**< not reached: 1 where the search ended and it is not shown that no values in
                   the range are met so often; 0: some one limit is missed too often at every
                   end of the ranges, and so between them */
} dregs_size_sureness;

/** One layout with its number of rinses. */
typedef struct dregs_size_row {
    dregs_layout layout;
    unsigned stages;
    int possible; /**< 0: the line cannot be arranged so; `message` says why */
    char message[DREGS_SIZE_MESSAGE];
    const dregs_sized *sized; /**< NULL or of no meaning when not possible */
    double volume;            /**< m3 of all rinse tanks */
    int dominated; /**< the row that is no worse in fresh liquid, tanks and number of rinses, and
                        better in one of them; -1 for none */
    dregs_size_rule rule;
    dregs_size_figures figures;
    const dregs_size_sureness *sureness; /**< not NULL; without draws it says so */
    const dregs_line *line;              /**< the line as it was sized; NULL when not possible */
} dregs_size_row;

/** The answer. */
typedef struct dregs_size_result {
    int met;                /**< of the layouts: by the first in order */
    int by_cost;            /**< the least cost was sought: the line states prices */
    double loads_per_shift; /**< stated, or those of 8 h */
    int shift_assumed;      /**< 8 h */
    /* of varied properties; NULL for layouts */
    const dregs_sized *sized;
    const double *before; /**< SI, what the line states of each; NaN for nothing */
    dregs_size_rule rule;
    dregs_size_figures figures;
    /* of layouts; 0 for varied properties */
    size_t rows;
    size_t rows_met; /**< how many meet the target; they come first */
    size_t nearest;  /**< the row that comes nearest to the target, or passes it furthest */
    /* of varied properties, of the line that was found */
    const dregs_bounds *described; /**< where it leaves the range that the file describes, without
                                        a limit that says how far it may go; NULL for layouts */
    uint64_t settled; /**< the first load that leaves 95 % of what the worst load leaves in the
                           long run; 0: none of the first 2^20 does, or there is no long run */
    uint64_t period;  /**< loads after which all dumps fall together again; 1 without dumps */
    /* the curve of liquid (cost) against residue, where it was asked for */
    size_t points;
    const dregs_size_sureness *sureness; /**< of varied properties; NULL for layouts */
    const dregs_caution *caution;        /**< that the line calls for, the most pressing first */
    unsigned cautions;
    size_t rows_passed; /**< how many more just meet it as stated and were passed over */
} dregs_size_result;

/** A point of the curve: another limit in place of the line's, and what it takes. */
typedef struct dregs_size_point {
    double share;             /**< of the line's limit that is aimed at */
    dregs_layout layout;      /**< of layouts */
    unsigned stages;          /**< 0 for varied properties */
    const dregs_sized *sized; /**< what meets it, or comes nearest */
} dregs_size_point;

/** Answers a request.
 *  \param result   on success, to be freed with dregs_size_result_free.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason; empty where the status says it all.
 *  \return DREGS_OK also when the target cannot be met; DREGS_BAD_DATA (no target);
 *  DREGS_DOMAIN (the request is not set up, neither or both questions, of another line or out of
 * range; nowhere in the range a line; no layout is possible); DREGS_NO_STEADY; DREGS_NUMERIC;
 * DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_size_answer(const dregs_line *line, const dregs_size_request *request,
                                         dregs_size_result **result, char *message);

/** A layout of the result, least cost first where the line states prices, else least fresh liquid
 * and those that cannot meet the target last; NULL past the end. */
DREGS_API const dregs_size_row *dregs_size_result_row(const dregs_size_result *result,
                                                      size_t index);

/** A point of the curve, of one layout behind another and with limits from strict to lax; NULL past
 *  the end. */
DREGS_API const dregs_size_point *dregs_size_result_point(const dregs_size_result *result,
                                                          size_t index);

/** Takes a value, SI, and the residue over its limit; NaN where the line cannot be so. */
typedef void dregs_size_take(void *user, double value, double of_limit);

/** The residue over the range of the one property that is varied, for a picture.
 *  \param points  so many values, evenly spaced, by their logarithms where the range begins above
 *                 0; of whole numbers each once. >= 2.
 *  \return DREGS_OK; DREGS_DOMAIN (more than one property, or an empty range); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_size_curve(const dregs_varied *varied, dregs_criterion criterion,
                                        unsigned points, dregs_size_take *take, void *user);

DREGS_API void dregs_size_result_free(dregs_size_result *result);

#ifdef __cplusplus
}
#endif
#endif
