/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_check.h: what a line file leaves to be done before its answers are believed: numbers that
 * no real line has, what is missing and for which question, what its own notes call assumed, and
 * what counts as known exactly for want of a spread.
 *
 * Nothing is judged here that is not judged elsewhere: numbers are doubted by the cautions of
 * dregs/caution.h, what the reader assumed is dregs_line_assumed.
 */
#ifndef DREGS_ANSWER_CHECK_H
#define DREGS_ANSWER_CHECK_H

#include "dregs/caution.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum dregs_finding_kind {
    DREGS_FINDING_IMPLAUSIBLE, /**< more likely a slip than a line */
    DREGS_FINDING_MISSING,     /**< a question that the file leaves without an answer */
    DREGS_FINDING_MARKED,      /**< a number whose note begins with "assumed" */
    DREGS_FINDING_EXACT,       /**< a measured number without a spread */
    DREGS_FINDINGS
} dregs_finding_kind;

typedef struct dregs_check_finding {
    dregs_finding_kind kind;
    const char *what; /**< the caution's id, or the verbs that ask: "predict, size"; NULL for
                           a row */
    const char *text; /**< a sentence without its full stop; NULL for a row */
    unsigned row;     /**< of the line; 0: no single one */
    const dregs_caution *caution; /**< that doubts it; NULL for none */
} dregs_check_finding;

typedef struct dregs_check_result {
    const dregs_line *line;
    unsigned count[DREGS_FINDINGS]; /**< findings, by kind */
    unsigned numbers, spreads;      /**< numbers that the file states; those with a spread */
    unsigned assumed;               /**< what the reader assumed besides */
    const dregs_caution *caution;   /**< `cautions` of them: those of hazards, too */
    unsigned cautions;
} dregs_check_result;

/** Checks a line.
 *  \param result  on success, to be freed with dregs_check_result_free; the line must outlive it.
 *  \return DREGS_OK; DREGS_DOMAIN (no line); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_check_answer(const dregs_line *line, dregs_check_result **result);
DREGS_API void dregs_check_result_free(dregs_check_result *result);
/** Finding \p index, by kind, then in the order of the cautions, of the questions, of the file;
 * NULL past the end. */
DREGS_API const dregs_check_finding *dregs_check_result_finding(const dregs_check_result *result,
                                                                unsigned index);

#ifdef __cplusplus
}
#endif
#endif
