/* SPDX-License-Identifier: GPL-3.0-or-later */
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

#ifdef __cplusplus
}
#endif
#endif
