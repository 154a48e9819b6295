/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.h: the rinsing that just meets the line's target.
 *
 * A property of a stage (or several) is varied, and the line with each value is asked for its worst
 * load like any other: there is no second model. The answer is written into the file's text. Every
 * answer lies on the side where the target is met.
 */
#ifndef DREGS_SIZE_H
#define DREGS_SIZE_H

#include "dregs/bound.h"
#include "dregs/residue.h"
#include "dregs/use.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_VARIED_MOST = 6, DREGS_SIZE_MESSAGE = 640 };

/** A search over several properties is ended after about so many trials; the best so far is the
 *  answer, and dregs_sized_possible says how much better another one could be. */
#define DREGS_SIZE_TRIALS 20000u

/** What is varied: up to DREGS_VARIED_MOST properties, each of one stage or of several alike. */
typedef struct dregs_varied dregs_varied;

/** Nothing is varied yet. The line must outlive it. NULL only when memory is short. */
DREGS_API dregs_varied *dregs_varied_new(const dregs_line *line);
DREGS_API void dregs_varied_free(dregs_varied *varied);

/** Adds a property, when it can be varied: flow, volume, use, dump every, drain time, exchange,
 *  temperature, removal (of all solutes or of one, as in "removal oil"), drag-out, mixing,
 *  blow-off, clearing of a solute, and hold-up of the load.
 *  \param stage    names of \p stages stages, or the load's, which need not live on.
 *  \param low      SI, as \p high; NaN for an end chosen from the line.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason, with the choices.
 *  \return DREGS_OK; DREGS_UNKNOWN (stage or property); DREGS_DOMAIN (empty range, no effect, no
 *  stage, named twice, more than DREGS_VARIED_MOST); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_varied_add(dregs_varied *varied, const char *property,
                                        const char *const *stage, unsigned stages, double low,
                                        double high, char *message);

/** Is called while a search goes on, after every trial.
 *  \param trials   so far.
 *  \param expense  the least fresh liquid (m3 per load) or cost that meets the target so far;
 *                  infinite where nothing does yet.
 *  \return 0 to go on; else the search ends with the best so far. */
typedef int dregs_size_progress(void *user, unsigned trials, double expense);

/** Sets what is called while these properties are searched; NULL for nothing. */
DREGS_API void dregs_varied_watch(dregs_varied *varied, dregs_size_progress *progress, void *user);

DREGS_API const dregs_line *dregs_varied_line(const dregs_varied *varied);
DREGS_API unsigned dregs_varied_count(const dregs_varied *varied);

/** Of property number \p index (0, 1, ...), NULL past the end: the library's word for it, and the
 *  unit that the file's row has, or the usual one. */
DREGS_API const char *dregs_varied_property(const dregs_varied *varied, unsigned index);
DREGS_API const char *dregs_varied_unit(const dregs_varied *varied, unsigned index);

/** Stage \p stage (0, 1, ...) of it; NULL past the end. */
DREGS_API const char *dregs_varied_stage(const dregs_varied *varied, unsigned index,
                                         unsigned stage);

/** The ends of its range, SI; NaN past the end. */
DREGS_API double dregs_varied_low(const dregs_varied *varied, unsigned index);
DREGS_API double dregs_varied_high(const dregs_varied *varied, unsigned index);

/** 1 where an end was given, and 1 for numbers of loads; 0 past the end. */
DREGS_API int dregs_varied_low_given(const dregs_varied *varied, unsigned index);
DREGS_API int dregs_varied_high_given(const dregs_varied *varied, unsigned index);
DREGS_API int dregs_varied_whole(const dregs_varied *varied, unsigned index);

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

/** How a line stands to its target. It grows at its end. */
typedef struct dregs_compliance {
    double of_limit;       /**< residue / limit, the largest over all limits: met when <= 1 */
    int limit;             /**< the solute of that limit, DREGS_EVERY_SOLUTE for the sum */
    double residue;        /**< kg/m2, of that solute */
    double floor;          /**< kg/m2 of it that no rinsing with the last liquid removes */
    double floor_adhering; /**< kg/m2 of that: soil that no stage takes off */
    double total;          /**< kg/m2, all solutes */
    double mg_in, mg_out;  /**< kg/m3 of all solutes in the film that enters the rinses, and in the
                                last film, of the load that is judged */
    uint64_t load;         /**< the load that is judged; in the long run, its place within the dump
                                period */
    int in_the_long_run;   /**< 1: no load of the first ones decides but what they tend to */
    int by_week;           /**< 1: by the schedule, with nights and weekends, the line leaves more:
                              `of_limit`,           `residue`, `total`, `in_the_long_run` and `load`, in its
                              week, are           of that;           an infinite `of_limit` where it is not
                              known */
} dregs_compliance;

/** How the line stands to its target.
 *  \param size  of the program's structure: no more is written. dregs_size_compliance hands it
 * over. \return DREGS_OK; DREGS_BAD_DATA (no target); DREGS_NO_STEADY; DREGS_NUMERIC;
 * DREGS_NO_MEMORY.
 */
DREGS_API dregs_status dregs_size_compliance_of_size(const dregs_line *line,
                                                     dregs_criterion criterion,
                                                     dregs_compliance *compliance, size_t size);
static inline dregs_status dregs_size_compliance(const dregs_line *line, dregs_criterion criterion,
                                                 dregs_compliance *compliance)
{
    return dregs_size_compliance_of_size(line, criterion, compliance, sizeof *compliance);
}

/** What a search found. */
typedef struct dregs_sized dregs_sized;

/** The values of the properties that meet the target with the least fresh liquid per load, or the
 *  least cost when \p by_cost. The line's own values are a start: no answer is worse than these,
 *  nor than any trial. One property: the boundary within 1e-6 relative (whole numbers exactly).
 *  Several: whole numbers by branch and bound, taking the residue to change one way with each; the
 *  others by a local search from several starts.
 *  \param varied   must outlive what is found.
 *  \param sized    on success, to be freed with dregs_sized_free.
 *  \param message  DREGS_SIZE_MESSAGE bytes for the reason; on success why the last trial that was
 *  refused was no line, or empty.
 *  \return DREGS_OK also when it is not feasible; DREGS_BAD_DATA (no target), DREGS_DOMAIN (nothing
 *  is varied, load number 0), DREGS_NO_STEADY, DREGS_NUMERIC, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_size(const dregs_varied *varied, dregs_criterion criterion,
                                  int by_cost, dregs_sized **sized, char *message);

/** The same for another limit: \p aim times the line's (0.5: half of what it allows), > 0. */
DREGS_API dregs_status dregs_size_aimed(const dregs_varied *varied, dregs_criterion criterion,
                                        int by_cost, double aim, dregs_sized **sized,
                                        char *message);
DREGS_API void dregs_sized_free(dregs_sized *sized);

/** What was varied. Of a layout it is the answer's own and has no line. */
DREGS_API const dregs_varied *dregs_sized_varied(const dregs_sized *sized);

/** 0: the values are those that come nearest. */
DREGS_API int dregs_sized_feasible(const dregs_sized *sized);

/** 1: the target is met over the whole range; the values are its best end. */
DREGS_API int dregs_sized_throughout(const dregs_sized *sized);

/** The value of property number \p index, SI, NaN past the end; whether it is an end of its range.
 */
DREGS_API double dregs_sized_value(const dregs_sized *sized, unsigned index);
DREGS_API int dregs_sized_at_low(const dregs_sized *sized, unsigned index);
DREGS_API int dregs_sized_at_high(const dregs_sized *sized, unsigned index);

/** What comes of the values. `of_limit`, of residues alone, is infinite where they do not make a
 * line. */
DREGS_API const dregs_compliance *dregs_sized_compliance(const dregs_sized *sized);
/** The bound of a concentration that the answer comes nearest to, or passes furthest where it is
 *  not feasible: limits of stages and liquids and targets of concentrations, which every trial is
 *  asked for too. NULL where the line states none. It binds where its share is near 1. */
DREGS_API const dregs_bound *dregs_sized_bound(const dregs_sized *sized);
DREGS_API const dregs_use *dregs_sized_use(const dregs_sized *sized);

/** The line file with the values put in.
 *  \param length  receives its length; may be NULL. */
DREGS_API const char *dregs_sized_text(const dregs_sized *sized, size_t *length);

/** 1: the search ended by its number of trials, or was stopped, before it was done. */
DREGS_API int dregs_sized_ended(const dregs_sized *sized);
/** No values of the range take less than this (m3 per load, or cost), so far as the search knows;
 *  the answer's own where it is the least. Of several that need not be whole it is proven, where
 *  residue and expense change one way with each, to 0.1 % of the answer, or as far as the search
 *  came that ended before. NaN where it is not known: linked whole numbers, and one property. */
DREGS_API double dregs_sized_possible(const dregs_sized *sized);
/** What whole numbers would take with which all dumps fall together again only after more loads
 *  than a file may have (DREGS_LINE_PERIOD); NaN where none take less. */
DREGS_API double dregs_sized_beyond(const dregs_sized *sized);

/** Where whole numbers are kept from their best by that limit of a file, the answer has numbers of
 *  few digits in place of odd ones that just stay within it. What these would have taken: at most 1
 *  % less. NaN where nothing was rounded. */
DREGS_API double dregs_sized_unrounded(const dregs_sized *sized);

/** How many lines were tried, and how many of these trials, the first ones, are kept. */
DREGS_API unsigned dregs_sized_trials(const dregs_sized *sized);
DREGS_API unsigned dregs_sized_trials_kept(const dregs_sized *sized);

/** Of trial number \p trial (0, 1, ...): the value of a property, SI, and residue / limit, infinite
 *  where the line was refused; NaN past what is kept. */
DREGS_API double dregs_sized_trial_value(const dregs_sized *sized, unsigned trial, unsigned index);
DREGS_API double dregs_sized_trial_of_limit(const dregs_sized *sized, unsigned trial);

/** Ways to arrange n equal rinses. */
typedef enum dregs_layout {
    DREGS_COUNTERFLOW, /**< fed at the last one, overflowing towards the first */
    DREGS_SEPARATE,    /**< each fed and draining by itself */
    DREGS_DUMPED,      /**< still, all dumped after the same number of loads */
    DREGS_PASSED_DOWN, /**< still; the first is dumped and each takes the next one's liquid */
    DREGS_SPRAYED,     /**< sprays after draining, each with fresh liquid */
    DREGS_RECOVERY,    /**< counterflow whose first rinse makes up what the wash loses */
    DREGS_SPRAY_LAST,  /**< counterflow, fed by what runs off a spray behind the last of n tanks */
    DREGS_LAYOUTS
} dregs_layout;

/** "counterflow", ...; NULL past the end. */
DREGS_API const char *dregs_layout_name(dregs_layout layout);

/** The line with its rinses (the last unbroken run of rinses and sprays) replaced by \p stages
 *  equal ones, sized to meet the target by one property: flow, dump every or use.
 *  \return as dregs_size; DREGS_UNKNOWN when the line has no rinse to take as the model, or no
 *  wash for the recovery layout. */
DREGS_API dregs_status dregs_size_layout(const dregs_line *line, dregs_layout layout,
                                         unsigned stages, dregs_criterion criterion,
                                         dregs_sized **sized, char *message);

/** The same for \p aim times the line's limit, as dregs_size_aimed. */
DREGS_API dregs_status dregs_size_layout_aimed(const dregs_line *line, dregs_layout layout,
                                               unsigned stages, dregs_criterion criterion,
                                               double aim, dregs_sized **sized, char *message);

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
