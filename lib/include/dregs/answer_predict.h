/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_predict.h: what dregs-predict answers: what a line leaves on the parts, load by load, in
 * the long run and at worst, and how that stands to the line's target.
 *
 * A request is a plain value that dregs_predict_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read. The loads are handed over one by one:
 * memory does not grow with their number.
 */
#ifndef DREGS_ANSWER_PREDICT_H
#define DREGS_ANSWER_PREDICT_H

#include "dregs/answer_hangs.h"
#include "dregs/bound.h"
#include "dregs/caution.h"
#include "dregs/ensemble.h"
#include "dregs/limits.h"
#include "dregs/residue.h"
#include "dregs/week.h"

#ifdef __cplusplus
extern "C" {
#endif

/** How far an answer goes; each word takes in those before it. */
typedef enum dregs_predict_extent {
    DREGS_PREDICT_RESIDUES, /**< what loads leave, and how that stands to the limits */
    DREGS_PREDICT_HANGS,    /**< what the worst one hangs on, most of the time of an answer, and
                                 what less than perfect mixing does */
    DREGS_PREDICT_SHARES    /**< its doubt, shared out among the values with a spread */
} dregs_predict_extent;

enum { DREGS_PREDICT_MESSAGE = 160 };

/** The loads are numbered from the fresh start, 1 to DREGS_LOADS_MOST. */
typedef struct dregs_predict_request {
    size_t size;        /**< set by dregs_predict_request_init */
    uint64_t loads;     /**< the first so many are judged; DREGS_NO_END for as long as it runs */
    uint64_t every;     /**< the step between loads that are listed; 0 for 1, 2, 5, 10, 20 ... */
    const uint64_t *at; /**< ascending: these loads alone are listed; the caller's */
    size_t at_count;
    uint64_t shown; /**< the load that is shown stage by stage; 0 for the worst */
    dregs_predict_extent extent;
    uint64_t seed;  /**< of the points that sharing out takes; 1 */
    char *message;  /**< DREGS_PREDICT_MESSAGE bytes that receive which member was refused and why,
                       as status.h has it, else ""; NULL: nobody asks */
    uint64_t draws; /**< sharing out takes as many points as go with so many draws, up to
                         16,000 of them; 0: dregs_ensemble_usual */
    unsigned threads; /**< that take it over, up to DREGS_THREADS_MOST; 0: as many as there are
                           processors */
} dregs_predict_request;

/** As long as the line runs, listed in steps of 1, 2, 5, the worst load shown, the doubt shared
 * out.
 */
DREGS_API void dregs_predict_request_init_of_size(dregs_predict_request *request, size_t size);
static inline void dregs_predict_request_init(dregs_predict_request *request)
{
    dregs_predict_request_init_of_size(request, sizeof *request);
}

/** A limit of the target and how the line stands to it. */
typedef struct dregs_predict_verdict {
    int solute; /**< DREGS_EVERY_SOLUTE for the sum */
    dregs_value limit;
    dregs_worst worst;
    double share; /**< residue / limit of the load that is judged */
    int met;      /**< share <= 1; where `must_meet` is stated, loads_meet >= must_meet; where there
                       are weeks, these too, and known to be */
    /* where the file says what varies from load to load, of such loads as the worst: */
    unsigned varying;  /**< values that do; 0: none, or it could not be worked out */
    double mean, sd;   /**< kg/m2: mean and standard deviation of the residue; NaN */
    double loads_meet; /**< the share of them within the limit; NaN where it is not known */
    double must_meet;  /**< the share that the target asks for; NaN where it states none */
    /* where the result has weeks: */
    dregs_week_answer in_week;
    int by_week; /**< its worst load leaves more than `worst`, and is the one that is judged; of a
                      share of loads nothing is then known */
} dregs_predict_verdict;

/** How the loads of one kind stand to the limits of residue, where loads come in a sequence. */
typedef struct dregs_predict_kind {
    const dregs_line *line; /**< as if all loads were of it */
    unsigned loads;         /**< of a cycle */
    dregs_worst worst;      /**< by the sum of all solutes; `load` 0: none is among those judged */
    dregs_residue residue;  /**< that this load keeps */
    double share;           /**< of the limit that is nearest, at the worst load by it; NaN: none */
    int solute;             /**< of that limit */
    int met;                /**< all limits of residue, by every load of the kind; known to be so */
} dregs_predict_kind;

/** Exchange and mixing that are tried in place of an assumed 100 %. Our own choice. */
#define DREGS_PREDICT_LESS_MIXED 0.8

/** The answer. */
typedef struct dregs_predict_result {
    const dregs_map *map;
    dregs_worst worst; /**< by the sum of all solutes */
    dregs_residue worst_residue;
    const dregs_level *level; /**< that the worst load reaches, by the week too; NULL for none */
    dregs_worst shown;        /**< the load shown stage by stage */
    dregs_residue shown_residue;
    const dregs_state *at_shown; /**< the moment before it */
    int settles;                 /**< there is a periodic state: */
    dregs_worst steady;          /**< its worst load */
    dregs_residue steady_residue;
    dregs_residue floor; /**< with nothing but fresh liquid in the last film */
    uint64_t last;       /**< the last load that is listed, unless the request names loads */
    unsigned verdicts;   /**< 0 where the line states no target */
    int met; /**< all of them, the targets of concentration too, and no limit is crossed */
    const dregs_caution *caution;
    unsigned cautions;
    const dregs_hangs_result *hangs; /**< NULL where only residues are asked for; else
                                          what the worst load's residue hangs on: of the limit that
                                          is nearest, or of the sum */
    const dregs_bounds *bounds;      /**< limits and targets of concentration */
    const dregs_bounds
        *described;          /**< the range that the file describes where it states no limit */
    const dregs_bound *life; /**< the limit that is crossed first; NULL: none is. `worst` and
                                  the verdicts are of the loads before, unless there is none */
    dregs_residue rinsed;    /**< of the worst load with an endless flow in every rinse */
    const dregs_week *week;  /**< the line by its schedule, nights and weekends; NULL: not stated */
    const char *no_week;     /**< what the schedule does not state for that; NULL without one */
    dregs_week_answer in_week; /**< by the sum of all solutes, where `week` is not NULL */
    double most;       /**< kg/m2: of the worst load, that of the week where it leaves more */
    double less_mixed; /**< worst residue with DREGS_PREDICT_LESS_MIXED where perfect exchange or
                            mixing is assumed; NaN: it is nowhere, the line cannot be so, or only
                            residues are asked for */
    double trapped;    /**< kg/m2 of `worst_residue` that dries where liquid is trapped; NaN where
                            that counts with the film */
    int by_week;       /**< 1: it is the week's load that leaves most, and `most` is that one's */
} dregs_predict_result;

/** Answers a request.
 *  \param result  on success, to be freed with dregs_predict_result_free; the line must outlive it.
 *  \return DREGS_OK; DREGS_DOMAIN (not set up, loads out of range, not ascending or beyond `loads`,
 * `every` beyond it, `every` together with `at`); DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_predict_answer(const dregs_line *line,
                                            const dregs_predict_request *request,
                                            dregs_predict_result **result);
DREGS_API void dregs_predict_result_free(dregs_predict_result *result);

/** A kind of loads, in the order of the file; NULL past the end, and where all loads are alike. */
DREGS_API const dregs_predict_kind *dregs_predict_result_kind(const dregs_predict_result *result,
                                                              unsigned index);

/** A limit of the target, that of the sum first; NULL past the end. */
DREGS_API const dregs_predict_verdict *
dregs_predict_result_verdict(const dregs_predict_result *result, unsigned index);

/** Takes a load that is listed: its number, the moment before it, what it keeps. */
typedef void dregs_predict_take(void *user, uint64_t load, const dregs_state *state,
                                const dregs_residue *residue);

/** Hands over every load that is listed, in order.
 *  \return DREGS_OK; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_predict_each(const dregs_predict_result *result,
                                          dregs_predict_take *take, void *user);

/** Hands over loads from the fresh start on, evenly spaced, for a picture: all dumps show that do
 *  not lie closer than the loads.
 *  \param loads  the first so many; DREGS_NO_END for two dump periods, or where nothing is dumped
 *                up to the last load that is listed, ten at least.
 *  \param most   at most so many are handed over; >= 2.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_predict_history(const dregs_predict_result *result, uint64_t loads,
                                             uint64_t most, dregs_predict_take *take, void *user);

/** How the shown load's film of one solute passes a stage. */
typedef struct dregs_predict_pass {
    double brought;       /**< kg in the film that comes in */
    double taken;         /**< kg in the film that goes out */
    double concentration; /**< kg/m3 that the tank mixes to; without a tank that of the film that
                               goes out, NaN where no liquid does */
    /* NaN where the stage has no tank */
    double met;           /**< kg in the tank, the load's soil in it */
    double bypassing;     /**< kg of `brought` that stay in the film unmixed */
    double mixing;        /**< kg of `brought`, and of trapped liquid, that mix with the tank */
    double bypass_volume; /**< m3 of film that stays unmixed */
    double mixed_volume;  /**< m3 of film, and of trapped liquid, that mixes with the tank */
    double fresh_volume;  /**< m3 of the film that goes out and is of the mixture */
    /* kg in liquid trapped in the parts, where a row says how it exchanges; else 0 */
    double trapped_brought, trapped_taken;
} dregs_predict_pass;

/** \return DREGS_OK; DREGS_DOMAIN for a solute or stage that the line does not have. */
DREGS_API dregs_status dregs_predict_pass_of(const dregs_predict_result *result, unsigned solute,
                                             unsigned stage, dregs_predict_pass *pass);

/* ---- how sure ---- */

/** How sure the answer is, from draws of the values that have a spread; see
 * dregs_predict_doubt_ask.
 */
typedef struct dregs_predict_doubt {
    dregs_doubt_run run; /**< figure 0 of its counts is that of all limits */
    dregs_ensemble_estimate
        met; /**< the share of draws that meet all limits, of residue as of concentration, and
                  where the target asks for a share of loads, with so many; NaN without any */
    double confidence; /**< the share that the target asks for; NaN: none is stated */
    int decided;       /**< the interval of `met` lies on one side of `confidence`: */
    int sure;          /**< on the upper one */
    unsigned loads;    /**< listed loads that were asked for; 0 when there are more than
                            DREGS_DOUBT_LOADS */
} dregs_predict_doubt;
enum { DREGS_DOUBT_LOADS = 24 };

/** Draws the values that have a spread and asks each draw for the worst load, how it stands to the
 *  limits, and the loads that are listed.
 *  \param result  of dregs_predict_answer; it must outlive the doubt.
 *  \param doubt   on success, to be freed with dregs_predict_doubt_free; NULL for a line without
 *                 spreads that matter here.
 *  \param faults  rows that cannot be drawn; may be NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA (rows that cannot be drawn); DREGS_DOMAIN (a request out of
 *  range, or draws counted for other figures); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_predict_doubt_ask(const dregs_predict_result *result,
                                               const dregs_doubt_request *request,
                                               dregs_predict_doubt **doubt, dregs_faults *faults);
DREGS_API void dregs_predict_doubt_free(dregs_predict_doubt *doubt);

/** The share of draws that meet a limit of the target, by its number in
 *  dregs_predict_result_verdict. \return DREGS_OK; DREGS_DOMAIN. */
DREGS_API dregs_status dregs_predict_doubt_limit(const dregs_predict_doubt *doubt, unsigned index,
                                                 dregs_ensemble_estimate *met);
/** The share of draws that stay within a limit or meet a target of concentration, by its number in
 *  dregs_predict_result.bounds. \return DREGS_OK; DREGS_DOMAIN. */
DREGS_API dregs_status dregs_predict_doubt_bound(const dregs_predict_doubt *doubt, unsigned index,
                                                 dregs_ensemble_estimate *met);
/** What the worst load of each draw leaves, kg/m2. \param solute  or DREGS_EVERY_SOLUTE.
 *  \return DREGS_OK; DREGS_DOMAIN (no such solute); DREGS_UNKNOWN (no draw has it). */
DREGS_API dregs_status dregs_predict_doubt_worst(const dregs_predict_doubt *doubt, int solute,
                                                 dregs_ensemble_range *range);
/** The same of a listed load, number \p index (0, 1, ...) of them. \param load  its number. */
DREGS_API dregs_status dregs_predict_doubt_load(const dregs_predict_doubt *doubt, unsigned index,
                                                int solute, uint64_t *load,
                                                dregs_ensemble_range *range);

#ifdef __cplusplus
}
#endif
#endif
