/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_compare.h: two lines side by side: the rows in which their files differ, and what each
 * does to the residue.
 *
 * Each difference is applied alone to the first line, whose residue is then worked out anew. A row
 * that names an item of one file only belongs to the difference of that item: a rinse more comes
 * with the overflow into it.
 */
#ifndef DREGS_ANSWER_COMPARE_H
#define DREGS_ANSWER_COMPARE_H

#include "dregs/answer_predict.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct dregs_compare_request {
    size_t size;    /**< set by dregs_compare_request_init */
    uint64_t loads; /**< the first so many are judged; DREGS_NO_END for as long as a line runs */
    char *message;  /**< DREGS_PREDICT_MESSAGE bytes that receive which argument was refused and
                         why, as status.h has it, else ""; NULL: nobody asks */
} dregs_compare_request;

/** As long as the lines run. */
DREGS_API void dregs_compare_request_init_of_size(dregs_compare_request *request, size_t size);
static inline void dregs_compare_request_init(dregs_compare_request *request)
{
    dregs_compare_request_init_of_size(request, sizeof *request);
}

/** Something in which the files differ. */
typedef struct dregs_compare_difference {
    const char *item;     /**< NULL: the order of the stages that both have */
    const char *property; /**< NULL: the whole item, which one file alone has, or which is of
                               another kind in the other */
    unsigned row_a;  /**< in the first file, of a whole item that of its kind; 0: it has none */
    unsigned row_b;  /**< in the second one */
    unsigned rows;   /**< rows that differ and belong to it */
    double residue;  /**< kg/m2 of the first line's worst load with it; NaN where that cannot be */
    const char *why; /**< why it cannot be applied alone; NULL: it can */
    int joined; /**< 1: `residue` is with all differences of its item that cannot be applied alone,
                     together */
} dregs_compare_difference;

typedef struct dregs_compare_result {
    const dregs_line *a, *b;
    const dregs_predict_result *of_a, *of_b;
    double together;      /**< kg/m2: the first line with all differences; that of the second */
    unsigned differences; /**< notes, and other ways to write the same quantity, do not count */
} dregs_compare_result;

/** Compares two lines.
 *  \param result  on success, to be freed with dregs_compare_result_free; both lines must outlive
 *                 it. They must have been read with the same table of liquids.
 *  \return DREGS_OK; DREGS_DOMAIN (a request that was not set up or is out of range, or two tables
 *  of liquids); as dregs_predict_answer. */
DREGS_API dregs_status dregs_compare_answer(const dregs_line *a, const dregs_line *b,
                                            const dregs_compare_request *request,
                                            dregs_compare_result **result);
DREGS_API void dregs_compare_result_free(dregs_compare_result *result);
/** Difference \p index, in the order of the first file, those of the second alone behind them; NULL
 *  past the end. */
DREGS_API const dregs_compare_difference *
dregs_compare_result_difference(const dregs_compare_result *result, unsigned index);

/* ---- how sure it is ---- */

/** What came of many draws. In each of them a row of the second line with the item and property of
 *  a row of the first stands at the same place of its distribution, and so does each property of a
 *  liquid: what is not known of both alike does not count as a difference. */
typedef struct dregs_compare_doubt {
    dregs_doubt_run run;            /**< `ensemble` tells of the rows of the first line */
    dregs_ensemble_estimate less;   /**< the share of draws in which the second leaves less, */
    dregs_ensemble_estimate more;   /**< and in which it leaves more */
    dregs_ensemble_estimate met[2]; /**< in which each keeps all its limits; NaN without any */
    double confidence[2];           /**< what each one's target asks for; NaN: nothing */
    int sure[2];                    /**< 1: `low` of `met` is not below that */
    int decided[2];                 /**< 1: more draws would hardly change whether it is sure */
} dregs_compare_doubt;

/** How many draws two lines are asked for where nobody says it: half of what dregs_ensemble_usual
 *  says of the line that it says less of, or all of that where it is 80 or fewer. */
DREGS_API uint64_t dregs_compare_doubt_usual(const dregs_compare_result *result);

/** Asks both lines of many draws.
 *  \param doubt   on success, to be freed with dregs_compare_doubt_free; the result and its lines
 *                 must outlive it. NULL where neither line states spreads that matter here.
 *  \param faults  rows that cannot be drawn; may be NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA (rows that cannot be drawn); DREGS_DOMAIN (a request out of
 *  range, or with draws counted before); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_compare_doubt_ask(const dregs_compare_result *result,
                                               const dregs_doubt_request *request,
                                               dregs_compare_doubt **doubt, dregs_faults *faults);
DREGS_API void dregs_compare_doubt_free(dregs_compare_doubt *doubt);

/** What the worst load of the second line leaves over what that of the first does, 1.
 *  \return DREGS_OK; DREGS_UNKNOWN (in no draw does the first leave anything). */
DREGS_API dregs_status dregs_compare_doubt_ratio(const dregs_compare_doubt *doubt,
                                                 dregs_ensemble_range *range);
/** What the worst load of a line leaves, kg/m2. \param which  0 the first, 1 the second.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_UNKNOWN (no draw could be worked out). */
DREGS_API dregs_status dregs_compare_doubt_worst(const dregs_compare_doubt *doubt, int which,
                                                 dregs_ensemble_range *range);

#ifdef __cplusplus
}
#endif
#endif
