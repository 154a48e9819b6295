/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: the rinsing that just meets the line's target.
 *
 * A property of a stage (or several) is varied, and the line with each value is asked for its worst
 * load like any other: there is no second model. The answer is written into the file's text. Every
 * answer lies on the side where the target is met.
 */
#ifndef DREGS_SIZE_H
#define DREGS_SIZE_H

#include "dregs/residue.h"
#include "dregs/use.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_VARIED_MOST = 6, DREGS_SIZE_MESSAGE = 640, DREGS_TRIALS_MOST = 512 };

/** A search over several properties is ended after about so many trials; the best so far is the
 *  answer. */
#define DREGS_SIZE_TRIALS 2000u

/** One property that is varied: of one stage, or of several stages alike. */
typedef struct dregs_varied {
    const char *property; /**< dregs_size_prepare sets the library's own word in its place */
    const char *stage[DREGS_LINE_STAGES];
    unsigned stages;
    double low, high;          /**< SI; NaN for a range chosen from the line */
    int low_given, high_given; /**< set by dregs_size_prepare */
    const char *unit;          /**< set by dregs_size_prepare: the one the file's row has, or the
                                    usual one */
    int whole;                 /**< set by dregs_size_prepare: 1 for numbers of loads */
} dregs_varied;

/** Which load must meet the target. */
typedef enum dregs_criterion_by {
    DREGS_CRITERION_EVER,   /**< the worst load, however long the line runs */
    DREGS_CRITERION_FIRST,  /**< the worst of the first `loads` loads */
    DREGS_CRITERION_STEADY, /**< the worst load of the dump period that repeats itself */
    DREGS_CRITERION_LOAD    /**< load number `loads` */
} dregs_criterion_by;

typedef struct dregs_criterion {
    dregs_criterion_by by;
    uint64_t loads;
} dregs_criterion;

/** How a line stands to its target. */
typedef struct dregs_compliance {
    double excess;         /**< residue / limit, the largest over all limits: met when <= 1 */
    int limit;             /**< the solute of that limit, DREGS_EVERY_SOLUTE for the sum */
    double residue;        /**< kg/m2, of that solute */
    double floor;          /**< kg/m2 of it that no rinsing with the last liquid removes */
    double floor_adhering; /**< kg/m2 of that: soil that no stage takes off */
    double total;          /**< kg/m2, all solutes */
    double mg_in, mg_out;  /**< kg/m3 of all solutes in the film that enters the rinses, and in the
                                last film, of the load that is judged */
} dregs_compliance;

/** One evaluation of the search. */
typedef struct dregs_trial {
    double value[DREGS_VARIED_MOST]; /**< SI */
    double excess;                   /**< infinite where the line is refused */
} dregs_trial;

typedef struct dregs_sized {
    int feasible;   /**< 0: the values are those that come nearest */
    int throughout; /**< 1: the target is met over the whole range; the values are its best end */
    double value[DREGS_VARIED_MOST];                           /**< SI */
    int at_low[DREGS_VARIED_MOST], at_high[DREGS_VARIED_MOST]; /**< the range's end binds */
    dregs_compliance compliance;
    dregs_use use;
    char *text; /**< the line file with the values put in; freed by dregs_sized_clear */
    size_t length;
    dregs_trial trial[DREGS_TRIALS_MOST];
    unsigned trials; /**< how many evaluations, of which the first DREGS_TRIALS_MOST are kept */
} dregs_sized;

/** Checks that a property can be varied, and sets its range where none is given.
 *  Can be varied: flow, volume, use, dump every, drain time, exchange, temperature.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason, with the choices.
 *  \return DREGS_OK; DREGS_UNKNOWN (stage or property); DREGS_DOMAIN (empty range, no effect). */
DREGS_API dregs_status dregs_size_prepare(const dregs_line *line, dregs_varied *varied,
                                          char *message);

/** How the line stands to its target.
 *  \return DREGS_OK; DREGS_BAD_DATA (no target); DREGS_NO_STEADY; DREGS_NUMERIC; DREGS_NO_MEMORY.
 */
DREGS_API dregs_status dregs_size_compliance(const dregs_line *line, dregs_criterion criterion,
                                             dregs_compliance *compliance);

/** The values of \p count prepared properties that meet the target with the least fresh liquid
 *  per load, or the least cost when \p by_cost. One property: the boundary within 1e-6 relative
 *  (whole numbers exactly). Several: a local search from several starts.
 *  \param sized    zeroed by the caller; cleared with dregs_sized_clear in any case.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason.
 *  \return DREGS_OK also when it is not feasible; DREGS_BAD_DATA, DREGS_DOMAIN, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_size(const dregs_line *line, const dregs_varied *varied,
                                  unsigned count, dregs_criterion criterion, int by_cost,
                                  dregs_sized *sized, char *message);
DREGS_API void dregs_sized_clear(dregs_sized *sized);

/** Ways to arrange n equal rinses. */
typedef enum dregs_layout {
    DREGS_COUNTERFLOW, /**< fed at the last one, overflowing towards the first */
    DREGS_SEPARATE,    /**< each fed and draining by itself */
    DREGS_DUMPED,      /**< still, all dumped after the same number of loads */
    DREGS_PASSED_DOWN, /**< still; the first is dumped and each takes the next one's liquid */
    DREGS_SPRAYED,     /**< sprays after draining, each with fresh liquid */
    DREGS_RECOVERY,    /**< counterflow whose first rinse makes up what the wash loses */
    DREGS_LAYOUTS
} dregs_layout;

/** "counterflow", ...; NULL past the end. */
DREGS_API const char *dregs_layout_name(dregs_layout layout);

/** The line with its rinses (the last unbroken run of rinses and sprays) replaced by \p stages
 *  equal ones, sized to meet the target.
 *  \param varied  receives what was varied: flow, dump every or use.
 *  \return as dregs_size; DREGS_UNKNOWN when the line has no rinse to take as the model, or no
 *  wash for the recovery layout. */
DREGS_API dregs_status dregs_size_layout(const dregs_line *line, dregs_layout layout,
                                         unsigned stages, dregs_criterion criterion,
                                         dregs_varied *varied, dregs_sized *sized, char *message);

/** The rinse ratio R (fresh liquid over drag-out) that the formula of n counterflow rinses asks
 *  for at a ratio of concentrations r = C0/Cn > 1: the root form r^(1/n), or the exact series
 *  1 + R + ... + R^n = r. NaN when r <= 1 or stages < 1.
 *  Sources: GOST 9.047-75 p. 67 (root form); the series is the balance of n counterflow rinses with
 *  equal drag-in and drag-out. */
DREGS_API double dregs_rinse_root(double ratio, unsigned stages);
DREGS_API double dregs_rinse_series(double ratio, unsigned stages);

#ifdef __cplusplus
}
#endif
#endif
