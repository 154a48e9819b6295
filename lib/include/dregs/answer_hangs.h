/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* answer_hangs.h: what the residue of a load hangs on: by how much it changes for a small change of
 * each value of the line file, from the line computed anew with it.
 *
 * It needs no spreads. It says which value matters near those stated, not how far off they are.
 */
#ifndef DREGS_ANSWER_HANGS_H
#define DREGS_ANSWER_HANGS_H

#include "dregs/residue.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The change of a value that an effect is given for. */
typedef enum dregs_hangs_change {
    DREGS_HANGS_PERCENT,   /**< 1 % more of the value */
    DREGS_HANGS_REMAINDER, /**< of a share above one half: 1 % more of what is missing to 1 */
    DREGS_HANGS_KELVIN,    /**< of a temperature: 1 K more */
    DREGS_HANGS_MORE,      /**< of a whole number: one more */
    DREGS_HANGS_FEWER      /**< one fewer, where one more cannot be */
} dregs_hangs_change;

/** How the residue changes with a value. */
typedef struct dregs_hangs_value {
    unsigned row;      /**< of the file; 0: it is a property of a liquid */
    dregs_value value; /**< of a property 1, the factor on it */
    dregs_hangs_change change;
    double effect;      /**< of that change: share of the residue that it adds, 0.01 for 1 %; to
                             first order, and as it is for a whole number */
    double uncertainty; /**< of `effect`, by what half the step changes; 0 for a whole number */
    double step; /**< of the differences: in ln of value or remainder, in K; 1 of a whole number */
    double residue[4];  /**< kg/m2: with 2, 1, -1, -2 half steps; NaN where the line cannot be so or
                             it was not needed */
    int one_sided;      /**< worked out on one side alone, for the other is out of range */
    int kink;           /**< the two sides differ: `effect` is that of the larger one */
    const char *liquid; /**< whose property it is, in the line's table; NULL: a row */
    dregs_property property; /**< of it */
} dregs_hangs_value;

/** What the doubt about a value makes of the doubt about the residue, and that of all values that
 *  share its draw (column `with`). */
typedef struct dregs_hangs_doubt {
    unsigned row;                 /**< of the file: the one that is drawn; 0: of a liquid */
    unsigned rows;                /**< values that go with it, itself among them */
    const char *liquid;           /**< whose property it is, in the line's table; NULL: a row */
    dregs_property property;      /**< of it */
    double low_value, high_value; /**< its 5 and 95 % points, SI; of a property the factors on it */
    double low, high;             /**< kg/m2: the residue at these, all other values as stated */
    double first, first_error;    /**< share of the variance that it explains by itself, and one
                                     standard    error of that */
    double total, total_error;    /**< the same with all in which it interacts with others */
} dregs_hangs_doubt;

/** What one residue hangs on: the values that change it, the largest effect first. */
typedef struct dregs_hangs_result {
    int solute;        /**< whose residue; DREGS_EVERY_SOLUTE for the sum */
    dregs_worst load;  /**< of which load */
    unsigned values;   /**< 0 also where nothing is left, or `too_long` */
    unsigned left_out; /**< whole numbers with one more or fewer of which the dumps would fall
                            together only after too many loads */
    int too_long;      /**< the file's own dumps do: nothing was worked out */
    unsigned doubts;   /**< 0 where none is stated or asked for, or the line cannot be so */
} dregs_hangs_result;

/** What the residue of a load hangs on. The load stays the same one while a value changes, which
 * for the worst of all is as good to first order; with a whole number changed the worst is searched
 *  anew.
 *  \param load   as dregs_residue_worst found it among the first \p loads.
 *  \param seed   of the random points by which the doubt is shared out among the values with a
 *                spread (the distributions of dregs/ensemble.h); 0: that is not asked for.
 *  \param draws  as many points as go with so many draws, up to 16,000 of them; 0: with
 *                dregs_ensemble_usual of the line.
 *  \param threads that share that out, up to DREGS_THREADS_MOST; 0: as many as there are
 *                processors. The answer is the same to the last bit.
 *  \param result on success, to be freed with dregs_hangs_result_free; of the line it shares the
 *                names of liquids alone, which are those of its table.
 *  \return DREGS_OK, DREGS_DOMAIN (solute, load, draws or threads out of range), DREGS_NUMERIC,
 * DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_hangs_answer(const dregs_line *line, int solute,
                                          const dregs_worst *load, uint64_t loads, uint64_t seed,
                                          uint64_t draws, unsigned threads,
                                          dregs_hangs_result **result);
DREGS_API void dregs_hangs_result_free(dregs_hangs_result *result);

/** Doubt \p index, 0 the largest by `total`; NULL past the end. */
DREGS_API const dregs_hangs_doubt *dregs_hangs_result_doubt(const dregs_hangs_result *result,
                                                            unsigned index);

/** Value \p index, 0 that with the largest effect; NULL past the end. */
DREGS_API const dregs_hangs_value *dregs_hangs_result_value(const dregs_hangs_result *result,
                                                            unsigned index);

#ifdef __cplusplus
}
#endif
#endif
