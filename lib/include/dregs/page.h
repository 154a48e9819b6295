/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* page.h: the pages of the tools: a report of each answer.
 *
 * Each function makes a new report, which the caller writes with dregs_report_write and frees with
 * dregs_report_free; the answer must outlive it. They return DREGS_OK; DREGS_DOMAIN for a request
 * that was not set up; DREGS_NO_MEMORY; and leave the report untouched then.
 */
#ifndef DREGS_PAGE_H
#define DREGS_PAGE_H

#include "dregs/answer_beaker.h"
#include "dregs/answer_check.h"
#include "dregs/answer_compare.h"
#include "dregs/answer_dry.h"
#include "dregs/answer_liquid.h"
#include "dregs/answer_predict.h"
#include "dregs/answer_reuse.h"
#include "dregs/answer_size.h"
#include "dregs/answer_tally.h"
#include "dregs/report.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Of dregs_beaker_answer. \param explain  1: with the working and the line that was asked. */
DREGS_API dregs_status dregs_page_beaker(const dregs_beaker_result *result, int explain,
                                         dregs_report **report);

/** Of dregs_liquid_answer. \param explain  1: with the equations and coefficients. */
DREGS_API dregs_status dregs_page_liquid(const dregs_liquid_request *request,
                                         const dregs_liquid_result *result, int explain,
                                         dregs_report **report);

/** The liquids and mixtures that are known. The figures for programs are asked for when the report
 *  is written, and anew at every writing: \p liquids must outlive it. */
DREGS_API dregs_status dregs_page_liquids(const dregs_liquids *liquids, dregs_report **report);

/** Of dregs_dry_answer. CSV is the curve of one drying; a report of several has none.
 *  \param line     NULL for a film of the request's.
 *  \param explain  1: with the working. */
DREGS_API dregs_status dregs_page_dry(const dregs_line *line, const dregs_dry_result *result,
                                      int explain, dregs_report **report);

/** The same with how sure it is. \param doubt  of dregs_dry_doubt_ask, which outlives the report;
 * NULL: no draws. */
DREGS_API dregs_status dregs_page_dry_with(const dregs_line *line, const dregs_dry_result *result,
                                           const dregs_dry_doubt *doubt, int explain,
                                           dregs_report **report);

/** Of dregs_predict_answer. Its loads are asked for when the report is written, and anew at every
 *  writing. \param explain  1: the working in place of the page. */
DREGS_API dregs_status dregs_page_predict(const dregs_line *line,
                                          const dregs_predict_request *request,
                                          const dregs_predict_result *result, int explain,
                                          dregs_report **report);

/** The same with how sure it is. \param doubt  of dregs_predict_doubt_ask; NULL: no draws. */
DREGS_API dregs_status dregs_page_predict_with(const dregs_line *line,
                                               const dregs_predict_request *request,
                                               const dregs_predict_result *result,
                                               const dregs_predict_doubt *doubt, int explain,
                                               dregs_report **report);

/** Of dregs_check_answer. */
DREGS_API dregs_status dregs_page_check(const dregs_check_result *result, dregs_report **report);

/** Of dregs_compare_answer. \param explain  1: the working in place of the table. */
DREGS_API dregs_status dregs_page_compare_with(const dregs_compare_result *result,
                                               const dregs_compare_doubt *doubt, int explain,
                                               dregs_report **report);
/** The same without draws. */
DREGS_API dregs_status dregs_page_compare(const dregs_compare_result *result, int explain,
                                          dregs_report **report);

/** Of dregs_reuse_answer. Its readings are asked for when the report is written.
 *  \param explain  1: with the working. */
DREGS_API dregs_status dregs_page_reuse(const dregs_reuse_result *result, int explain,
                                        dregs_report **report);
/** The same as a card for the bench: the answer, and at which reading to dump each tank. */
DREGS_API dregs_status dregs_page_reuse_card(const dregs_reuse_result *result,
                                             dregs_report **report);

/** Of dregs_stopped_answer; its CSV is a row for the line file. \param explain  1: with the
 *  working. */
DREGS_API dregs_status dregs_page_stopped_flow(const dregs_stopped_result *result, int explain,
                                               dregs_report **report);

/** Of dregs_size_answer. \param explain  1: with the working. */
DREGS_API dregs_status dregs_page_size(const dregs_line *line, const dregs_size_request *request,
                                       const dregs_size_result *result, int explain,
                                       dregs_report **report);

/** What a page of a tally shows to people, and in CSV. Programs read all of it in JSON. */
typedef enum dregs_tally_view {
    DREGS_TALLY_BALANCE, /**< the balance, the largest streams, the effect of changes */
    DREGS_TALLY_BY_STAGE,
    DREGS_TALLY_BY_LIQUID,
    DREGS_TALLY_BY_MONTH,   /**< of a year */
    DREGS_TALLY_BY_DRAIN,   /**< what goes down the drain */
    DREGS_TALLY_BY_ENERGY,  /**< what heating takes */
    DREGS_TALLY_BY_QUARTER, /**< of a year */
    DREGS_TALLY_FORM        /**< all of it, as a document to hand in */
} dregs_tally_view;

/** Of dregs_tally_answer. Several lines are shown side by side, whatever the view.
 *  \param purchases_file  where the purchases were read; NULL without any.
 *  \param explain         1: the working in place of the tables. */
DREGS_API dregs_status dregs_page_tally(const dregs_tally_result *answer, dregs_tally_view view,
                                        const char *purchases_file, int explain,
                                        dregs_report **report);

/** The same with how sure it is. \param doubt  of dregs_tally_doubt_ask, which outlives the report;
 *  NULL: no draws. */
DREGS_API dregs_status dregs_page_tally_with(const dregs_tally_result *answer,
                                             const dregs_tally_doubt *doubt, dregs_tally_view view,
                                             const char *purchases_file, int explain,
                                             dregs_report **report);

/** The same in other units, see dregs_report_units. The working stays in SI, the units of the
 *  equations and of their sources; limits of regulations keep their own unit, with the other one
 *  beside it. */
DREGS_API dregs_status dregs_page_tally_in(const dregs_tally_result *answer,
                                           const dregs_tally_doubt *doubt, dregs_tally_view view,
                                           const char *purchases_file, int explain,
                                           dregs_units units, dregs_report **report);

#ifdef __cplusplus
}
#endif
#endif
