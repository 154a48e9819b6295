/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* week.h: what a line leaves on the parts when it runs by its schedule: with the rest of each
 * shift, nights and weekends between the loads.
 *
 * The weeks are those of dregs_calendar_of_week: all alike, without holidays. Dumps are counted in
 * loads, so weeks repeat themselves together with the dumps after some number of weeks.
 */
#ifndef DREGS_WEEK_H
#define DREGS_WEEK_H

#include "dregs/calendar.h"
#include "dregs/residue.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A load and where it stands. */
typedef struct dregs_week_load {
    double residue; /**< kg/m2 */
    uint64_t week;  /**< from 1: since the fresh start, or of those that repeat themselves */
    uint64_t load;  /**< of that week, from 1: */
    uint64_t day, shift, of_shift; /**< its day of the week, shift of the day, place in the shift */
    int in_the_long_run;           /**< 1: of the weeks that repeat themselves */
} dregs_week_load;

/** The weeks of a map, whose line must outlive them with it. They do not change once made. */
typedef struct dregs_week dregs_week;

/** How far the first weeks are followed: until no later load can leave more than the worst one; or
 *  on until what they leave differs by less than 0.1 % from what it comes to. */
typedef enum dregs_week_until { DREGS_WEEK_WORST_KNOWN, DREGS_WEEK_SETTLED } dregs_week_until;

/** \return DREGS_OK; DREGS_UNKNOWN when the schedule does not state its loads per shift, shifts per
 *  day and days per week; DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_week_new(const dregs_map *map, dregs_week_until until,
                                      dregs_week **week);
DREGS_API void dregs_week_free(dregs_week *week);

DREGS_API const dregs_calendar *dregs_week_calendar(const dregs_week *week);
/** Loads of a week. */
DREGS_API uint64_t dregs_week_loads(const dregs_week *week);
/** The weeks after which weeks and dumps repeat themselves. */
DREGS_API uint64_t dregs_week_repeats(const dregs_week *week);

/** 1: they come to repeat themselves, and it is known how. */
DREGS_API int dregs_week_settles(const dregs_week *week);

/** What the weeks leave of a solute, or in all. */
typedef struct dregs_week_answer {
    dregs_week_load worst;    /**< of all that is asked for */
    dregs_residue residue;    /**< what it keeps */
    int known;                /**< 1: no other load leaves more than `worst`; 0: not all could be
                                   looked at, nor bounded */
    int settles;              /**< the weeks come to repeat themselves, and it is known how: */
    dregs_week_load long_run; /**< the worst load of those weeks */
    dregs_week_load opening;  /**< of their first loads, behind the weekend, the worst */
    dregs_week_load start_up; /**< the worst load of the weeks that were followed */
    uint64_t followed;        /**< weeks from the fresh start that were followed load by load */
    double beyond; /**< kg/m2: no load behind those leaves more; NaN where that is not known */
} dregs_week_answer;

/** The worst load of all.
 *  \param solute  or DREGS_EVERY_SOLUTE for the sum.
 *  \param loads   among the first so many from the fresh start, where these are no more than 2^18;
 *                 else, and with DREGS_NO_END, of all there will be.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_NO_MEMORY.
 *
 *  The weeks that repeat themselves are looked at load by load, and so are those from the fresh
 *  start, until the difference between both can add nothing to what is known; 2^18 loads at most.
 */
DREGS_API dregs_status dregs_week_worst(const dregs_week *week, int solute, uint64_t loads,
                                        dregs_week_answer *answer);

/** Takes a load: s from the begin of its week, its number in the week, what it keeps. */
typedef void dregs_week_take(void *user, double time, uint64_t load, const dregs_residue *residue);

/** Hands over every load of one week: of the first ones, or of those that repeat themselves.
 *  \param number  from 1; at most dregs_week_repeats of the latter, so that all dregs_week_loads of
 *                 it can be reached within 2^18 loads.
 *  \return DREGS_OK; DREGS_DOMAIN; DREGS_NO_STEADY; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_week_each(const dregs_week *week, uint64_t number, int in_the_long_run,
                                       dregs_week_take *take, void *user);

#ifdef __cplusplus
}
#endif
#endif
