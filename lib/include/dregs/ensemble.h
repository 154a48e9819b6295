/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ensemble.h: what is known of an answer when the values of the line are not known exactly.
 *
 * Each value of the file with a spread is drawn from a distribution that has the stated value as
 * its mean and the spread as its standard deviation; a question is asked of the line of every draw,
 * and its figures are counted. Value `row` of draw `draw` depends on the seed, the draw and the row
 * alone (a counter-based generator, Philox4x32-10), and the sums are exact: the result is the same
 * to the last bit for any number of threads and however the draws are divided and put together.
 *
 * An ensemble does not change once made and may be used by several threads; a result belongs to
 * one. dregs-model(7) has the equations, dregs-ensemble(7) says how many draws a question needs.
 */
#ifndef DREGS_ENSEMBLE_H
#define DREGS_ENSEMBLE_H

#include "dregs/line.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct dregs_ensemble dregs_ensemble;

/** What a value is drawn from; each has the value as its mean and the spread as its standard
 *  deviation. */
typedef enum dregs_distribution {
    DREGS_LOGNORMAL, /**< quantities that are not negative */
    DREGS_BETA,      /**< shares, 0 to 1 */
    DREGS_NORMAL     /**< temperatures and readings */
} dregs_distribution;

/** A row that is drawn: of the line, or of its table of liquids. */
typedef struct dregs_drawn {
    unsigned row;    /**< of the line; 0: a property of a liquid */
    unsigned shares; /**< the row whose place in its distribution it takes; itself when none */
    dregs_distribution distribution;
    int whole;          /**< drawn values are rounded to whole numbers */
    double mean, sd;    /**< SI */
    double a, b;        /**< lognormal: mean and standard deviation of the logarithm; beta: its two
                             exponents; normal: mean and standard deviation */
    const char *liquid; /**< whose property is drawn; NULL: a row of the line */
    dregs_property property; /**< of it: the factor on its value within the range of its data, of
                                mean 1; beyond it varies more, see dregs_liquids_off */
} dregs_drawn;

/** The ensemble of a line, which must outlive it: all rows with a spread that some of the questions
 *  use; where there are any, also the properties of liquids that its films and the losses of its
 *  open surfaces are worked out with, each by its accuracy. With no such row nothing is drawn: a
 *  doubt of properties alone would be less than what is not known of the line.
 *  Of a joined line (dregs_line_join) the rows of its parts are drawn, each independent of those of
 *  the other parts but for the liquids that two have in common, whose rows and properties are drawn
 *  once; its rows are not listed.
 *  \param questions  dregs_question, or-ed.
 *  \param seed       any number; another one gives other draws of the same distributions.
 *  \param faults     rows that cannot be drawn: a share with a larger spread than any distribution
 *                    of shares can have, a quantity of 0 with a spread; may be NULL.
 *  \return DREGS_OK (also when no row is drawn), DREGS_BAD_DATA, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_ensemble_new(const dregs_line *line, unsigned questions, uint64_t seed,
                                          dregs_ensemble **ensemble, dregs_faults *faults);

/** The rows with a spread, and these properties of liquids, each drawn by its accuracy; those that
 * state none, that are words or temperatures, or exact, are passed over, as are those that stand
 * there twice. \param line     NULL: liquids alone are drawn. \param liquids  the line's; must
 * outlive the ensemble. \return as dregs_ensemble_new. */
DREGS_API dregs_status dregs_ensemble_new_with(const dregs_line *line, unsigned questions,
                                               const dregs_liquids *liquids,
                                               const dregs_liquid_property *taken, size_t count,
                                               uint64_t seed, dregs_ensemble **ensemble,
                                               dregs_faults *faults);
DREGS_API void dregs_ensemble_free(dregs_ensemble *ensemble);
/** NULL for an ensemble of liquids alone. */
DREGS_API const dregs_line *dregs_ensemble_line(const dregs_ensemble *ensemble);
/** The table of liquids as it is stated. */
DREGS_API const dregs_liquids *dregs_ensemble_liquids(const dregs_ensemble *ensemble);
DREGS_API uint64_t dregs_ensemble_seed(const dregs_ensemble *ensemble);

/** How many rows are drawn, and number \p index (0, 1, ...) of them; NULL past the end. */
DREGS_API unsigned dregs_ensemble_rows(const dregs_ensemble *ensemble);
DREGS_API const dregs_drawn *dregs_ensemble_row(const dregs_ensemble *ensemble, unsigned index);

/** Where a draw stands in the distribution of a row: a standard normal number z, the value being
 *  the one below which the share Phi(z) of the distribution lies. NaN past the last row. */
DREGS_API double dregs_ensemble_z(const dregs_ensemble *ensemble, uint64_t draw, unsigned index);
/** The value (SI) of a row at such a place; NaN for a z that is no number or past the last row. */
DREGS_API double dregs_ensemble_at(const dregs_ensemble *ensemble, unsigned index, double z);
/** The value (SI) of a row in a draw. */
DREGS_API double dregs_ensemble_draw(const dregs_ensemble *ensemble, uint64_t draw, unsigned index);
/** The line of a draw: dregs_line_with with all its values, and its statuses; its liquids are off
 * as drawn. What is assumed of it is listed as of the line that is stated, which must outlive it.
 * DREGS_DOMAIN for an ensemble without a line, or of a joined one. */
DREGS_API dregs_status dregs_ensemble_drawn(const dregs_ensemble *ensemble, uint64_t draw,
                                            dregs_line **line, dregs_faults *faults);

/** How many draws a line is asked for where nobody says it: the largest of 1000, 500, 200, 100 that
 *  (tanks + 1) solutes (20 + dumps in a period + loads in a period / 30 + R) leaves below 3e6 in
 *  all, else 40. R is in how many loads the slowest tank that is never dumped changes its liquid
 *  once, 1000 at most. The weights are our own, from times that were measured; they hang on the
 *  line alone, so that the answer is the same on every machine. */
DREGS_API uint64_t dregs_ensemble_usual(const dregs_line *line);

/* ---- a question asked of many draws ---- */

/** Asks a question of the line of a draw. It is called from several threads at once.
 *  \param mine     what `begin` made for this thread, or the request's context without one.
 *  \param figures  receives the answer; NaN for a figure that this line does not have.
 *  \return DREGS_OK; DREGS_NO_MEMORY ends the run; any other status counts as a draw that cannot
 *  be evaluated. */
typedef dregs_status dregs_ensemble_ask(void *mine, const dregs_line *drawn, double *figures);

/** The same of an ensemble that may have no line.
 *  \param drawn    NULL without a line.
 *  \param liquids  as drawn. */
typedef dregs_status dregs_ensemble_ask_with(void *mine, const dregs_line *drawn,
                                             const dregs_liquids *liquids, double *figures);

/** Called in the thread that runs the ensemble, time and again: how many draws are done.
 *  \return 0 to go on; anything else ends the run with what is there. */
typedef int dregs_ensemble_progress(void *user, uint64_t done, uint64_t draws);

/** What is asked. */
typedef struct dregs_ensemble_request {
    size_t size;        /**< set by dregs_ensemble_request_init */
    uint64_t first;     /**< the number of the first draw; 0 */
    uint64_t draws;     /**< how many, 1 to DREGS_DRAWS_MOST */
    unsigned threads;   /**< 0: as many as there are processors */
    unsigned figures;   /**< of the question, 1 to DREGS_FIGURES_MOST */
    const double *most; /**< for each the highest value that meets its limit; NaN: it has none.
                             NULL: none has */
    dregs_ensemble_ask *ask;
    void *context;
    void *(*begin)(void *context);     /**< for each thread its own; NULL return: memory is short */
    void (*end)(void *mine);           /**< gives it back */
    dregs_ensemble_progress *progress; /**< NULL: none */
    void *user;                        /**< of `progress` */
    dregs_ensemble_ask_with *ask_with; /**< in place of `ask` */
} dregs_ensemble_request;

#define DREGS_DRAWS_MOST ((uint64_t)1 << 50)
enum { DREGS_FIGURES_MOST = 4096, DREGS_THREADS_MOST = 256 };

DREGS_API void dregs_ensemble_request_init_of_size(dregs_ensemble_request *request, size_t size);
static inline void dregs_ensemble_request_init(dregs_ensemble_request *request)
{
    dregs_ensemble_request_init_of_size(request, sizeof *request);
}

typedef struct dregs_ensemble_result dregs_ensemble_result;

/** Asks the question of every draw.
 *  \param result  on success, to be freed with dregs_ensemble_result_free.
 *  \return DREGS_OK, also when `progress` ended it (see dregs_ensemble_count);
 *  DREGS_DOMAIN (a request that is not set up, or out of its range); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_ensemble_run(const dregs_ensemble *ensemble,
                                          const dregs_ensemble_request *request,
                                          dregs_ensemble_result **result);
DREGS_API void dregs_ensemble_result_free(dregs_ensemble_result *result);

DREGS_API unsigned dregs_ensemble_figures(const dregs_ensemble_result *result);
/** Draws that were asked; of them those whose line, or whose answer, could not be worked out. */
DREGS_API uint64_t dregs_ensemble_count(const dregs_ensemble_result *result);
DREGS_API uint64_t dregs_ensemble_failed(const dregs_ensemble_result *result);
/** The lowest number of such a draw, and the status that it ended with.
 *  \return 0 when there is none. */
DREGS_API int dregs_ensemble_first_failed(const dregs_ensemble_result *result, uint64_t *draw,
                                          dregs_status *status);

/** How a figure is distributed. */
typedef struct dregs_ensemble_figure {
    uint64_t count; /**< draws that have it */
    double mean;    /**< NaN without any */
    double sd;      /**< of the figure, NaN below two */
    double error;   /**< of the mean: sd over the root of count */
    double least, most;
} dregs_ensemble_figure;

/** \return DREGS_OK; DREGS_DOMAIN past the last figure. */
DREGS_API dregs_status dregs_ensemble_figure_of(const dregs_ensemble_result *result,
                                                unsigned figure, dregs_ensemble_figure *of);

/** A number with the interval that holds the true one in 95 % of all ensembles of so many draws. */
typedef struct dregs_ensemble_estimate {
    double value;
    double low, high; /**< NaN where so few draws tell no such end */
} dregs_ensemble_estimate;

/** The value below which a share of the draws lies, to the 0.1 % to which values are counted; the
 *  interval is that of its order statistics.
 *  \param share  above 0 and below 1.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_UNKNOWN when no draw has the figure. */
DREGS_API dregs_status dregs_ensemble_quantile(const dregs_ensemble_result *result, unsigned figure,
                                               double share, dregs_ensemble_estimate *at);

/** The share of all draws whose figure meets its limit; one that could not be evaluated, or does
 *  not have the figure, does not meet it. The interval is Wilson's (1927).
 *  \return DREGS_OK; DREGS_DOMAIN for a figure without a limit. */
DREGS_API dregs_status dregs_ensemble_met(const dregs_ensemble_result *result, unsigned figure,
                                          dregs_ensemble_estimate *share);

/** The interval of Wilson for a share counted \p met times in \p count. */
DREGS_API dregs_ensemble_estimate dregs_ensemble_share(uint64_t met, uint64_t count);

/** The values below which 5, 50 and 95 % of the draws lie, each with its sampling interval. */
typedef struct dregs_ensemble_range {
    dregs_ensemble_estimate low, middle, high;
} dregs_ensemble_range;
/** \return DREGS_OK; DREGS_DOMAIN past the last figure; DREGS_UNKNOWN (no draw has it). */
DREGS_API dregs_status dregs_ensemble_range_of(const dregs_ensemble_result *result, unsigned figure,
                                               dregs_ensemble_range *range);

/* ---- what the answers of tools say of draws ---- */

/** How an answer is to be drawn. */
typedef struct dregs_doubt_request {
    size_t size;                       /**< set by dregs_doubt_request_init */
    uint64_t draws;                    /**< 1 to DREGS_DRAWS_MOST; 1000 */
    uint64_t first;                    /**< the number of the first one; 0 */
    uint64_t seed;                     /**< 1 */
    unsigned threads;                  /**< 0: as many as there are processors */
    dregs_ensemble_progress *progress; /**< as in dregs_ensemble_request */
    void *user;
    dregs_ensemble_result *counted; /**< not NULL: these draws, counted before for the same line and
                                         request, in place of a run; taken over on success */
} dregs_doubt_request;

DREGS_API void dregs_doubt_request_init_of_size(dregs_doubt_request *request, size_t size);
static inline void dregs_doubt_request_init(dregs_doubt_request *request)
{
    dregs_doubt_request_init_of_size(request, sizeof *request);
}

/** What came of it, in every answer that is drawn. */
typedef struct dregs_doubt_run {
    uint64_t seed;
    uint64_t asked;        /**< draws that were to be evaluated */
    uint64_t draws;        /**< draws that were; fewer when the run was ended before */
    uint64_t failed;       /**< of them those whose line, or whose answer, cannot be worked out */
    uint64_t first_failed; /**< the first of those, */
    const char *why;       /**< and why; NULL when there is none */
    unsigned rows;         /**< values that are drawn */
    const dregs_ensemble *ensemble;
    const dregs_ensemble_result *counts;
    unsigned properties; /**< of `rows` those that are properties of liquids */
} dregs_doubt_run;

/* ---- parts of a run, on several machines ---- */

/** Which part a file holds. */
typedef struct dregs_ensemble_part {
    uint64_t shard, shards; /**< part 1, 2, ... of how many */
    uint64_t draws;         /**< of all parts together */
    uint64_t seed;
    uint64_t digest; /**< dregs_ensemble_digest: the same in all parts that belong together */
} dregs_ensemble_part;

enum { DREGS_SHARDS_MOST = 1000000, DREGS_PART_BYTES = 64 * 1024 * 1024 };

/** The draws of part \p shard (1, 2, ...) of \p shards: all parts together are all draws.
 *  \return DREGS_OK; DREGS_DOMAIN: no such part, or more parts than draws or DREGS_SHARDS_MOST. */
DREGS_API dregs_status dregs_ensemble_shard(uint64_t draws, uint64_t shard, uint64_t shards,
                                            uint64_t *first, uint64_t *count);

/** A number of the text of the line, the properties that are drawn, the seed, the draws of all
 * parts, the figures of the line as it is stated, their limits, and the version of the library. */
DREGS_API uint64_t dregs_ensemble_digest(const dregs_ensemble *ensemble,
                                         const dregs_ensemble_result *result, uint64_t draws);

/** The figures of the line as it is stated, NaN where it has none (0 where no sum needs it). */
DREGS_API int dregs_ensemble_stated(const dregs_ensemble_result *result, unsigned figure,
                                    double *stated);

/** Writes a part as text.
 *  \param sink  takes bytes; returns 0, or anything else to end the writing.
 *  \return DREGS_OK; DREGS_IO when the sink ended it. */
DREGS_API dregs_status
dregs_ensemble_write(const dregs_ensemble_result *result, const dregs_ensemble_part *part,
                     int (*sink)(void *user, const char *bytes, size_t length), void *user);

/** Reads what dregs_ensemble_write wrote.
 *  \param name    what the file is called in messages.
 *  \param result  on success, to be freed with dregs_ensemble_result_free.
 *  \return DREGS_OK; DREGS_BAD_DATA (no part, one that was cut off or changed);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_ensemble_read(const char *name, const char *bytes, size_t length,
                                           dregs_ensemble_part *part,
                                           dregs_ensemble_result **result, dregs_faults *faults);

/** Adds the draws of another part. In whatever order parts are merged, the result is the same, and
 *  that of all their draws in one run, to the last bit.
 *  \return DREGS_OK; DREGS_DOMAIN when they count other figures; DREGS_NO_MEMORY, after which
 *  \p result can only be freed. */
DREGS_API dregs_status dregs_ensemble_merge(dregs_ensemble_result *result,
                                            const dregs_ensemble_result *other);

#ifdef __cplusplus
}
#endif
#endif
