/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_liquid.h: what dregs-liquid answers: what the tables hold of a liquid or mixture, each
 * figure with its source, what regulations say of it, and the cautions that the figures call for.
 *
 * A request is a plain value that dregs_liquid_request_init sets, with its size, for it grows at
 * its end; the result is the library's, and is only read.
 */
#ifndef DREGS_ANSWER_LIQUID_H
#define DREGS_ANSWER_LIQUID_H

#include "dregs/caution.h"
#include "dregs/liquid.h"
#include "dregs/mixture.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_FIGURE_NAME = 96 };

typedef struct dregs_liquid_request {
    size_t size;        /**< set by dregs_liquid_request_init */
    const char *name;   /**< a liquid, by any of its names or its CAS number, or a mixture such as
                             isopropanol-water */
    double temperature; /**< K; NaN: none asked for */
    double share;       /**< by mass of a mixture's first liquid, 0..1; NaN: none asked for */
} dregs_liquid_request;

/** No name, no temperature, no share. */
DREGS_API void dregs_liquid_request_init_of_size(dregs_liquid_request *request, size_t size);
static inline void dregs_liquid_request_init(dregs_liquid_request *request)
{
    dregs_liquid_request_init_of_size(request, sizeof *request);
}

/** A value, or why there is none. */
typedef struct dregs_liquid_figure {
    char name[DREGS_FIGURE_NAME]; /**< "density", "azeotrope at 101.325 kPa boils at" */
    const char *word;             /**< instead of a value, such as a class; NULL for a number */
    double value;                 /**< in `unit`; NaN when it is refused or needs a temperature */
    const char *unit;             /**< the usual one of the property; "1" for none */
    const char *source, *evidence;
    const char *note;                  /**< "" for nothing */
    const dregs_liquid_row *row;       /**< the row that it rests on, or NULL */
    const dregs_mixture_row *mixture;  /**< the curve or model that it rests on, or NULL */
    char reason[DREGS_LIQUID_MESSAGE]; /**< why there is no value, "" where there is one */
    double accuracy; /**< about two standard deviations: a share of the value, or K of a
                        temperature; NaN where none is stated */
    char extended[DREGS_LIQUID_MESSAGE]; /**< how the value was come by beyond the range of its row;
                                              "" within it */
} dregs_liquid_figure;

typedef struct dregs_liquid_result {
    const char *first;  /**< the liquid, or the first one of the mixture */
    const char *second; /**< the other one; NULL for a pure liquid */
    size_t figures, regulations;
    unsigned cautions;
    const char *name; /**< of the liquid or mixture in the table, whatever name was asked for */
} dregs_liquid_result;

/** Answers a request.
 *  \param liquids  must outlive the result.
 *  \param result   on success, to be freed with dregs_liquid_result_free.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason; empty where the status says it all.
 *  \return DREGS_OK also when a property is refused: its figure says why; DREGS_UNKNOWN (no such
 *  liquid or mixture, with the nearest name); DREGS_DOMAIN (not set up, no name, a temperature not
 * above 0 K, a share outside 0..1 or of a pure liquid); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_liquid_answer(const dregs_liquid_request *request,
                                           const dregs_liquids *liquids,
                                           dregs_liquid_result **result, char *message);

/** Figure, regulation, caution number \p index (0, 1, ...); NULL past the end. */
DREGS_API const dregs_liquid_figure *dregs_liquid_result_figure(const dregs_liquid_result *result,
                                                                size_t index);
DREGS_API const dregs_regulation *dregs_liquid_result_regulation(const dregs_liquid_result *result,
                                                                 size_t index);
DREGS_API const dregs_caution *dregs_liquid_result_caution(const dregs_liquid_result *result,
                                                           size_t index);

/** The name of a property that the table has no row of for a pure liquid; NULL past the end. */
DREGS_API const char *dregs_liquid_result_missing(const dregs_liquid_result *result, size_t index);

/** The table that was asked. */
DREGS_API const dregs_liquids *dregs_liquid_result_liquids(const dregs_liquid_result *result);

/** Takes a temperature, K, and the vapour pressure there, Pa. */
typedef void dregs_liquid_take(void *user, double temperature, double pressure);

/** The vapour pressure of a liquid, for a picture: from -20 degC to where it boils, where no
 *  boiling point is known to 150 degC, and within the range of its row.
 *  \param points  so many temperatures, evenly spaced; >= 2.
 *  \return DREGS_OK; DREGS_UNKNOWN: no vapour pressure is known there. */
DREGS_API dregs_status dregs_liquid_curve(const dregs_liquids *liquids, const char *liquid,
                                          unsigned points, dregs_liquid_take *take, void *user);

DREGS_API void dregs_liquid_result_free(dregs_liquid_result *result);

#ifdef __cplusplus
}
#endif
#endif
