/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calendar.h: what other rooms use of the calendar beyond dregs/calendar.h; not installed.
 *
 * Whoever goes through shifts, nights and weekends does so with the gaps of one calendar and, where
 * it is not load by load, by its march.
 */
#ifndef DREGS_CALENDAR_CALENDAR_H
#define DREGS_CALENDAR_CALENDAR_H

#include "balance/balance.h"
#include "dregs/calendar.h"

/* The time in which no load passes. */
enum calendar_gap {
    CALENDAR_REST,    /* of a shift, behind its loads: flows on */
    CALENDAR_NIGHT,   /* behind a working day */
    CALENDAR_WEEKEND, /* behind the last one of a week */
    CALENDAR_GAPS
};

/* What lies behind working day number `day`, from 1: night or weekend. */
enum calendar_gap dregs_calendar_behind(const dregs_calendar *calendar, uint64_t day);

/* How long each is and what flows in it; not to be copied, for a gap points to its tanks. The
 * integrals are kept from one substance to the next. */
struct calendar_gaps {
    dregs_tank resting[DREGS_LINE_STAGES], idling[DREGS_LINE_STAGES];
    struct gap gap[CALENDAR_GAPS];
    struct integrals between_loads, integrals[CALENDAR_GAPS];
};
/* \param calendar  NULL: loads without a pause. Cleared by the caller also after a failure.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_gaps_new(const dregs_line *line, const dregs_calendar *calendar,
                                     struct calendar_gaps *gaps);
void dregs_calendar_gaps_clear(struct calendar_gaps *gaps);

/* Says what the calendar takes for want of a row; `days` 0: of a shift alone. */
typedef void dregs_calendar_say(void *user, const char *text);
void dregs_calendar_assumed(const dregs_line *line, const dregs_calendar *calendar, int days,
                            dregs_calendar_say *say, void *user);

/* One substance on its way through the calendar, from the first load on. */
struct march;
/* \param with    the ledger of its maps, buffers included; \param ledger the same without them, of
 * z; both, the calendar and the line outlive it.
 * \return DREGS_OK, DREGS_NUMERIC, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_march_new(const dregs_line *line, unsigned substance,
                                      const struct ledger *with, const struct ledger *ledger,
                                      const dregs_calendar *calendar, struct calendar_gaps *gaps,
                                      struct march **march);
void dregs_calendar_march_free(struct march *march);
/* Takes z (dim x columns, at most n + 1) on by loads without a pause; by a shift and its rest; by
 * working days with what lies behind each. The sums of z go on.
 * \return DREGS_OK, DREGS_NO_MEMORY. */
dregs_status dregs_calendar_march_loads(struct march *march, uint64_t loads, double *z,
                                        size_t columns);
dregs_status dregs_calendar_march_shift(struct march *march, double *z, size_t columns);
dregs_status dregs_calendar_march_days(struct march *march, uint64_t days, double *z,
                                       size_t columns);

#endif
