/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.h: where every litre of liquid and every gram of solute goes, over a shift, a day, a year
 * or a number of loads.
 *
 * Solutes are counted in kg, and each liquid of the line file in m3, as liquids that mix and stay
 * told apart: a solvent that is dragged into a water rinse is found in that rinse's drain. Every
 * figure is an integral of the line's map (balance.h), with idle time and dumps in their places;
 * nothing is a sum of printed rows, and nothing is stepped in time.
 *
 * For each substance, over the line, a stage's tank, a month or the whole time:
 *   held first + in = held last + out
 * holds to rounding; dregs_tally_residual says how well.
 */
#ifndef DREGS_TALLY_H
#define DREGS_TALLY_H

#include "dregs/balance.h"
#include "dregs/calendar.h"
#include "dregs/stream.h"

#ifdef __cplusplus
extern "C" {
#endif

/** How long is tallied. All but LOADS need a schedule with loads per shift, shifts per day and days
 *  per year. */
typedef enum dregs_span {
    DREGS_SPAN_LOADS,   /**< a number of loads without a pause */
    DREGS_SPAN_SHIFT,   /**< loads per shift, and the rest of the shift's length */
    DREGS_SPAN_DAY,     /**< all shifts of a working day, and the idle time behind it */
    DREGS_SPAN_MONTH,   /**< January, or the first month of a year by dates */
    DREGS_SPAN_YEAR,    /**< 12 months from that one on */
    DREGS_SPAN_QUARTER, /**< 3 months from that one on */
    DREGS_SPAN_AROUND   /**< the loads of 8760 h without a pause; needs no schedule */
} dregs_span;

typedef struct dregs_tally_request {
    dregs_span span;
    uint64_t loads; /**< for DREGS_SPAN_LOADS: 1 to DREGS_LOADS_MOST; not read otherwise */
    int running;    /**< 0: tanks are filled fresh at the start. 1: the line has run for a year
                         before (needs a schedule): nothing is filled at the start */
} dregs_tally_request;

/** A year by its dates, in which days are worked and closed as schedule and table say. Without them
 *  days lie as dregs_calendar_of has them. */
typedef struct dregs_tally_dates {
    int year; /**< of the first month, DREGS_TALLY_YEAR_LEAST to DREGS_TALLY_YEAR_MOST; 0 with a
                   table: that of its first row, from January on, which is assumed */
    unsigned month;                    /**< the first one, 1 to 12 */
    const dregs_calendar_table *table; /**< which outlives the tally; NULL: no day is closed but by
                                            its weekday */
} dregs_tally_dates;

enum { DREGS_TALLY_YEAR_LEAST = 1901, DREGS_TALLY_YEAR_MOST = 2199 };
enum { DREGS_TALLY_MESSAGE = DREGS_CALENDAR_MESSAGE };

/** As an argument: the whole time, the whole line. */
#define DREGS_WHOLE (~0u)

/** As a period, behind it the number of a month: that of the year before, of a year from a running
 *  line. */
#define DREGS_BEFORE 0x1000u

typedef struct dregs_tally dregs_tally;

/** Tallies a line, which must outlive the tally; a joined line (dregs_line_join) by each of its
 *  lines over the same span, summed up.
 *  \param message  DREGS_TALLY_MESSAGE bytes for the reason, or NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA (as dregs_calendar_of); DREGS_DOMAIN (loads out of range);
 *  DREGS_NUMERIC (also a balance that does not close to 1e-9); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_tally_new(const dregs_line *line, const dregs_tally_request *request,
                                       dregs_tally **tally, char *message);
/** The same by dates; the schedule then needs no days per year.
 *  \param dates  NULL: none.
 *  \return as dregs_tally_new; DREGS_DOMAIN also for a year or a month out of range, DREGS_BAD_DATA
 *  for a row of the table that does not fit the line. */
DREGS_API dregs_status dregs_tally_new_by_dates(const dregs_line *line,
                                                const dregs_tally_request *request,
                                                const dregs_tally_dates *dates, dregs_tally **tally,
                                                char *message);
DREGS_API void dregs_tally_free(dregs_tally *tally);

DREGS_API const dregs_line *dregs_tally_line(const dregs_tally *tally);

/** The tally of line \p index (0, 1, ...) of a joined line; NULL past the end, and of a line of a
 *  file. */
DREGS_API const dregs_tally *dregs_tally_member(const dregs_tally *tally, unsigned index);

/** The calendar; NULL for a joined line, and for a number of loads of a line that has no full
 * schedule. */
DREGS_API const dregs_calendar *dregs_tally_calendar(const dregs_tally *tally);

/** Periods tallied apart: 12 for a year, else 1. They are numbered from 0. */
DREGS_API unsigned dregs_tally_periods(const dregs_tally *tally);

/** Working days in a period (or DREGS_WHOLE); 0 for a number of loads and for a shift. */
DREGS_API uint64_t dregs_tally_days(const dregs_tally *tally, unsigned period);

/** The year that is tallied by its dates; NULL where days have none. */
DREGS_API const dregs_tally_dates *dregs_tally_dated(const dregs_tally *tally);

/** Seconds of a period outside the shifts. NaN when there is no such period. */
DREGS_API double dregs_tally_idle(const dregs_tally *tally, unsigned period);

/** m3 of all liquids that evaporate in that time, of what DREGS_STREAM_EVAPORATED is in all.
 *  \param stage   of the file, or DREGS_WHOLE. \return NaN when an index is out of range. */
DREGS_API double dregs_tally_evaporated_idle(const dregs_tally *tally, unsigned stage,
                                             unsigned period);

/** The month of the year, from 0 for January, that a period is, or begins with. */
DREGS_API unsigned dregs_tally_month(const dregs_tally *tally, unsigned period);

/** Loads in a period. */
DREGS_API uint64_t dregs_tally_loads(const dregs_tally *tally, unsigned period);
/** Those of one kind (dregs_line_kinds); the sequence begins with the fresh start. */
DREGS_API uint64_t dregs_tally_loads_of_kind(const dregs_tally *tally, unsigned kind,
                                             unsigned period);

/** Seconds of a period, idle time included. NaN when there is no such period. */
DREGS_API double dregs_tally_seconds(const dregs_tally *tally, unsigned period);

/** m3 of liquid number \p fluid of the file in a stream.
 *  \param stage   of the file, or DREGS_WHOLE.
 *  \param period  from 0, or DREGS_WHOLE.
 *  \return 0 where a stage has no such stream; NaN when an index is out of range. */
DREGS_API double dregs_tally_fluid(const dregs_tally *tally, dregs_stream stream, unsigned fluid,
                                   unsigned stage, unsigned period);

/** kg of a solute in a stream; the rest as dregs_tally_fluid. */
DREGS_API double dregs_tally_solute(const dregs_tally *tally, dregs_stream stream, unsigned solute,
                                    unsigned stage, unsigned period);

/** m3 of all liquids in a stream. */
DREGS_API double dregs_tally_volume(const dregs_tally *tally, dregs_stream stream, unsigned stage,
                                    unsigned period);

/** The solvents that the liquids of the file are made of: their names in the liquid data, water
 *  last when only a mixture brings it. NULL past the end. */
DREGS_API const char *dregs_tally_solvent_name(const dregs_tally *tally, unsigned solvent);

/** kg of a solvent in a stream: of each liquid its volume times its density at 20 degC times the
 *  solvent's share by mass; a liquid's solvents are taken to stay together, also in the air.
 *  \return NaN when the density of a liquid that is in the stream is not known (a mixture outside
 *  the table), or an index is out of range. */
DREGS_API double dregs_tally_solvent(const dregs_tally *tally, dregs_stream stream,
                                     unsigned solvent, unsigned stage, unsigned period);

/** kg/m3 at 20 degC of a liquid of the file, what is dissolved in it aside; of a mixture from the
 *  tables of mixture.h at 20 or 25 degC. NaN where it is not known. */
DREGS_API double dregs_tally_density(const dregs_tally *tally, unsigned fluid);

/** The same without a tally, for files of masses (purchase.h).
 *  \return DREGS_OK, also where it is not known (NaN); DREGS_UNKNOWN (no such liquid);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_tally_density_of(const dregs_line *line, unsigned fluid,
                                              double *density);

/** held first + in - held last - out over the line, divided by the larger of held first + in and
 *  held last + out: what rounding leaves of the balance. 0 for a substance of which there is less
 *  than 1e-292 (m3, kg): such numbers no longer hold their digits. */
DREGS_API double dregs_tally_residual_fluid(const dregs_tally *tally, unsigned fluid,
                                            unsigned period);
DREGS_API double dregs_tally_residual_solute(const dregs_tally *tally, unsigned solute,
                                             unsigned period);

/** The largest of all of them, over all substances, all periods and the whole time. */
DREGS_API double dregs_tally_residual(const dregs_tally *tally);

/** m3 of liquid \p fluid that comes back as fresh liquid (`reclaim`): a share of what the tank of
 *  the stage, filled with that liquid, dumps or sends to drain. It stays in those streams, and less
 *  has to be bought by it than DREGS_STREAM_FILLED to DREGS_STREAM_SPRAYED say; it brings back no
 *  solute: what fresh liquid holds is counted as made up anew.
 *  \return as dregs_tally_fluid. */
DREGS_API double dregs_tally_reclaimed(const dregs_tally *tally, unsigned fluid, unsigned stage,
                                       unsigned period);

/** m3 of liquid \p fluid, or with DREGS_WHOLE of all liquids, that has to be bought: the streams
 *  DREGS_STREAM_FILLED to DREGS_STREAM_SPRAYED, less what is reclaimed. \return as
 *  dregs_tally_fluid. */
DREGS_API double dregs_tally_bought(const dregs_tally *tally, unsigned fluid, unsigned stage,
                                    unsigned period);

/** The units that clear the tank of a stage (`capacity`): how many are changed, with `change every`
 *  behind each so many loads from the begin of the tally; without it as many as what is taken
 * fills, the last one in part. \param stage  of the file, or DREGS_WHOLE. \return as
 * dregs_tally_fluid. */
DREGS_API double dregs_tally_changes(const dregs_tally *tally, unsigned stage, unsigned period);
/** What they cost at `change price`, in the file's currency; 0 where none is stated. */
DREGS_API double dregs_tally_change_cost(const dregs_tally *tally, unsigned stage, unsigned period);

/** What the liquids cost in the file's currency, and in `total` the changes of dregs_tally_changes
 *  too: bought, less what is reclaimed, at `price`;
 *  drained, run off, blown off and dumped, less what is reclaimed, at `disposal` of the liquid of
 *  the stage that it leaves (dregs_line_waste_as). NaN where no liquid in use states one, and
 * nothing is changed at a price.
 */
typedef struct dregs_tally_cost {
    double bought, disposal, total;
} dregs_tally_cost;
DREGS_API dregs_tally_cost dregs_tally_costs(const dregs_tally *tally, unsigned period);
/** Those of one stage: what is brought into it, less what its still gives back, and the waste that
 *  leaves it. They add up to those of the whole. NaN where the whole has none, or there is no such
 *  stage. */
DREGS_API dregs_tally_cost dregs_tally_costs_of(const dregs_tally *tally, unsigned stage,
                                                unsigned period);

/** Note number \p index (0, 1, ...) of what was assumed because the file does not state it; NULL
 *  past the end. Those of the line itself (dregs_line_assumed) are not among them. */
DREGS_API const char *dregs_tally_assumed(const dregs_tally *tally, unsigned index);

#ifdef __cplusplus
}
#endif
#endif
