/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.h: may this rinse be used again? The line's own prediction meets the readings of a log.
 *
 * Unknown are by what factor the drag-out of each stage of the line file is off, the soil that
 * comes with the parts, and what of it stays on them. What the file states, with its spreads, is
 * known beforehand; the readings correct it (least squares on the map of the line). Readings that
 * stand alone are set aside and shown. When the readings leave what the line does for good, the
 * change is found, named, and what follows is a regime of its own.
 */
#ifndef DREGS_REUSE_H
#define DREGS_REUSE_H

#include "dregs/bound.h"
#include "dregs/readings.h"
#include "dregs/residue.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What was found about one reading. */
typedef enum dregs_heard {
    DREGS_HEARD_USED,
    DREGS_HEARD_OUTLIER,  /**< far off, and the next one is not: set aside */
    DREGS_HEARD_ALONE,    /**< far off, and there is no next one: measure again */
    DREGS_HEARD_UNUSABLE, /**< the meter cannot say that: outside a calibration, or of the
                               temperatures that its compensation holds for */
    DREGS_HEARD_DUMP,
    DREGS_HEARD_IMPLAUSIBLE /**< of a log that the line can by no means give: none is used */
} dregs_heard;

typedef struct dregs_heard_reading {
    dregs_heard heard;
    double expected; /**< in the unit of dregs_measured; NaN when unusable */
    double sd;       /**< of the meter */
    double off;      /**< from what was expected from the rows before it, in standard deviations */
} dregs_heard_reading;

/** What changed at the beginning of a regime. */
typedef enum dregs_regime_kind {
    DREGS_REGIME_FIRST,
    DREGS_REGIME_DRAG_OUT, /**< loads drag out more or less than before */
    DREGS_REGIME_SOIL,     /**< parts bring more or less soil than before */
    DREGS_REGIME_FLOW,     /**< the flow of a stage is another */
    DREGS_REGIME_DIRTY,    /**< fresh liquid holds more than stated */
    DREGS_REGIME_CONTENT   /**< the tank at once holds more or less: something got in, or it was
                                renewed and no row says so */
} dregs_regime_kind;

/** A factor with its 95 % interval. */
typedef struct dregs_factor {
    double best, low, high;
} dregs_factor;

typedef struct dregs_regime {
    dregs_regime_kind kind;
    size_t begin;    /**< from here on, dumps just before its first reading included */
    size_t first;    /**< its first reading */
    int which;       /**< the stage or the liquid that changed; -1 where neither */
    dregs_factor of; /**< the change: a factor on what was before, of FLOW on what the line file
                        says, of DIRTY kg/m3 in addition */
    unsigned solute; /**< of DIRTY: what it is taken to be */
    double gain;     /**< by how much the explanation betters chi squared */
    int rival;       /**< a dregs_regime_kind that explains it about as well; -1: none does */
    int rival_which; /**< its stage or liquid */
    size_t found;    /**< the reading at which it was noticed */
    dregs_factor drag_out; /**< against the line file, during the regime: the geometric mean over
                                the films whose liquid comes to a meter */
    dregs_factor
        of_stage[DREGS_LINE_STAGES]; /**< of each film by itself; NaN where there is none */
    dregs_factor soil;               /**< on the parts that come */
    dregs_factor adhering;           /**< of it, what no stage takes off */
    dregs_factor fresh; /**< kg/m3 that fresh liquid holds of its own, where it was measured; NaN */
} dregs_regime;

enum { DREGS_REGIMES_MOST = 16 };

/** How many of the readings that are kept have been searched for changes. */
typedef void dregs_reuse_progress(void *user, size_t done, size_t readings);

typedef struct dregs_reuse_request {
    size_t size;  /**< set by dregs_reuse_request_init */
    double noise; /**< of the meter: one standard deviation as a share of the reading; NaN: from the
                       log itself */
    double drag_out_sd, soil_sd;    /**< prior, as shares; NaN: from the spreads of the line file */
    double limit;                   /**< kg/m2, of all solutes; NaN: the target of the line file */
    uint64_t since;                 /**< loads that have passed since the last row of the log; 0 to
                                         DREGS_REUSE_LOADS_MOST */
    dregs_reuse_progress *progress; /**< called now and then, in the thread of the caller; NULL:
                                         not */
    void *user;                     /**< of `progress` */
} dregs_reuse_request;

/** All from the log and the line file. */
DREGS_API void dregs_reuse_request_init_of_size(dregs_reuse_request *request, size_t size);
static inline void dregs_reuse_request_init(dregs_reuse_request *request)
{
    dregs_reuse_request_init_of_size(request, sizeof *request);
}

/** Why the readings are not judged. */
typedef enum dregs_doubt {
    DREGS_DOUBT_NONE,
    DREGS_DOUBT_IMPLAUSIBLE, /**< most readings of a meter are such as no line near this one gives
                              */
    DREGS_DOUBT_SCATTER,     /**< they scatter too much about the fit */
    DREGS_DOUBT_TIME,        /**< a gap of time that the counts of loads deny: a wrong date? */
    DREGS_DOUBT_COUNT,       /**< the count never begins anew at a dump: a running number? */
    DREGS_DOUBT_DRAG_OUT,    /**< they ask for a drag-out beyond DREGS_REUSE_DOUBTFUL */
    DREGS_DOUBT_RUSH /**< loads come far faster than by the line's interval: a wrong count? */
} dregs_doubt;

/** The reading of one stage at which it is time to dump. */
typedef struct dregs_dump_reading {
    int known; /**< 0: this stage has no meter that could tell */
    dregs_measured what;
    unsigned which;
    int unit;     /**< of the log, dregs_readings_unit; -1: uS/cm or mg/L */
    double value; /**< where the limit is reached by the best estimate, or at the confidence of
                       the target; in the unit of dregs_measured, at `temperature` */
    double temperature; /**< K; NaN: the meter compensates to 25 degC itself */
    double dissolved;   /**< kg/m3 of all solutes that the tank then holds */
    int own;            /**< the log has readings of this meter in this stage */
    double now;         /**< what it should read now */
    double planned; /**< what to dump at: what it should read behind the loads to plan on, `plan`,
                         no farther than `value`; NaN: not one of them is sure */
} dregs_dump_reading;

typedef struct dregs_reuse_outlook {
    int dump_now;   /**< the next load would miss, at the confidence of the target */
    int again;      /**< the last reading stands alone on the dirty side: measure again */
    int doubtful;   /**< the log is to be checked before it is judged, see `doubt`: rather a dump
                         without a row, a wrong unit, a broken meter */
    uint64_t loads; /**< loads that may still pass */
    uint64_t low, high;         /**< 95 %; DREGS_REUSE_LOADS_MOST: no end was found */
    double next;                /**< kg/m2 that the next load leaves, best estimate */
    double next_low, next_high; /**< 95 % */
    double next_sure;           /**< the most it leaves at the confidence of the target */
    double limit;               /**< kg/m2 */
    int solute;                 /**< whose limit it is: DREGS_EVERY_SOLUTE or a solute */
    dregs_residue residue;      /**< of the next load, best estimate */
    double confidence; /**< of the target; NaN when not stated: the best estimate decides */
    int stage;         /**< the one to dump; -1: a dump of none brings the limit back */
    double after_dump; /**< kg/m2 that the next load leaves when it was dumped */
    uint64_t since;    /**< loads since its last fill */
    uint64_t fill;     /**< loads that a fill of it lasts, the other tanks as they will be then */
    uint64_t fill_all; /**< the same when all tanks that the log speaks of are dumped together */
    unsigned dumped;   /**< how many tanks the log speaks of */
    int reached;       /**< the next two are set: the limit is reached some day */
    dregs_residue at_limit;                   /**< what the last load that meets it leaves; of
                                                 several kinds, the first that misses it */
    dregs_dump_reading at[DREGS_LINE_STAGES]; /**< when the limit is reached, and now */
    const dregs_bound *ends; /**< the limit or target of concentration that the first load too many
                                  misses; NULL: it misses the residue, or there is none */
    int blind;  /**< the log has no reading: all is told by the line file and its spreads */
    int cycled; /**< the next four are set: no reading tells, or none of the loads is sure */
    uint64_t cycle, cycle_low, cycle_high; /**< loads after which to dump all rinses of the log, or
                                                without one all still rinses, together: the shortest
                                                of DREGS_REUSE_FILLS fills in a row; 95 % */
    double bath; /**< kg/m3 of what comes in with the parts that the first stage holds then, by the
                      lower end; NaN without a tank there, or where the line file dumps it */
    dregs_doubt doubt;
    unsigned doubt_stage; /**< the meter that is doubted; with `again` that of the lone reading */
    dregs_measured doubt_what;
    unsigned doubt_which;    /**< its solute or calibration */
    unsigned doubt_unit;     /**< dregs_readings_unit that its readings are written in */
    double doubt_times;      /**< its readings against what the line gives, as a factor; of
                                  DREGS_DOUBT_DRAG_OUT the factor on drag-out */
    const char *doubt_meant; /**< the unit they are in rather, "uS/cm"; NULL: none explains them */
    unsigned long
        doubt_line; /**< of the log, from which on they are; 0: the most of all readings */
    uint64_t after; /**< loads that have passed since the last row: the answer counts from behind
                         them */
    uint64_t next_load;     /**< number of the next load since the log's first fill, or its running
                                 number: the sequence of kinds goes by it */
    unsigned kind;          /**< of the next load */
    int kind_ends;          /**< of the first load too many; -1: no end was found */
    unsigned kind_at_limit; /**< of the load that misses when the limit is reached, see `at` */
    int below_fresh;        /**< with `again`: the last reading is below what fresh liquid shows */
    double fresh_shows;     /**< what that is, in the unit of dregs_measured */
    int bounds_alone;  /**< every reading that is used is a bound, "<5" or ">2000": the loads are
                            counted by the line file and its spreads */
    int doubt_weighed; /**< the reading that is doubted was weighed in a dish: tare, blank and
                            sample come before a unit */
    int bounds_tell;   /**< and one of them shows its tank below the reading at which to dump */
    uint64_t plan;     /**< loads to plan on: the lower end of the range, and no more than `loads`;
                            with `dump_now` those of the fill behind that dump */
} dregs_reuse_outlook;

#define DREGS_REUSE_LOADS_MOST 100000

/** Fills in a row that a load count to dump at is looked for in. Our own choice. */
#define DREGS_REUSE_FILLS 20

/** A factor on drag-out, either way, that no line file is off by. Our own choice. */
#define DREGS_REUSE_DOUBTFUL 5.0

/** A scatter, as a share, that no bench meter has. Our own choice. */
#define DREGS_REUSE_SCATTER 0.5

typedef struct dregs_reuse dregs_reuse;

/** Works it all out.
 *  \param readings  of the same line; both must outlive the result.
 *  \param faults    what cannot be worked out and why, with lines of the log.
 *  \return DREGS_OK; DREGS_BAD_DATA (no limit; a conductivity where no solute states its own; no
 *  usable reading); DREGS_DOMAIN (the request was not set up); DREGS_NUMERIC; DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_reuse_new(const dregs_line *line, const dregs_readings *readings,
                                       const dregs_reuse_request *request, dregs_reuse **reuse,
                                       dregs_faults *faults);
DREGS_API void dregs_reuse_free(dregs_reuse *reuse);

DREGS_API const dregs_reuse_outlook *dregs_reuse_answered(const dregs_reuse *reuse);
/** 1 when the tank of \p stage is one of those that `cycle` is about: a rinse that is dumped as the
 *  log says, or, without a log, one without a flow; where there is no such rinse, likewise a wash.
 */
DREGS_API int dregs_reuse_cycled(const dregs_reuse *reuse, unsigned stage);
/** 1 when the tank of \p stage is dumped every so many loads as the line file says, because the log
 *  has no row of it. */
DREGS_API int dregs_reuse_by_file(const dregs_reuse *reuse, unsigned stage);
/** Reading \p index of dregs_readings_at; NULL past the end. */
DREGS_API const dregs_heard_reading *dregs_reuse_heard(const dregs_reuse *reuse, size_t index);
DREGS_API unsigned dregs_reuse_regimes(const dregs_reuse *reuse);
DREGS_API const dregs_regime *dregs_reuse_regime(const dregs_reuse *reuse, unsigned index);

/** What the answer rests on. */
typedef struct dregs_reuse_basis {
    double drag_out_sd[DREGS_LINE_STAGES];    /**< prior of each film, as a share; 0: no film */
    unsigned drag_out_row[DREGS_LINE_STAGES]; /**< the rows of the line file; 0: assumed */
    double soil_sd;
    unsigned soil_row;
    dregs_factor drag_out, soil; /**< of a dregs_regime before the log: means of lognormal
                                      distributions, and their middle 95 % */
    int noise_given;
    double noise;       /**< share of the reading; of the first meter where several are estimated */
    int noise_absolute; /**< 1: `noise` is an absolute one, in the unit of dregs_measured */
    dregs_measured noise_what; /**< of that meter */
    unsigned noise_unit;       /**< dregs_readings_unit of that meter */
    int noise_stated;          /**< every row states its own */
    size_t used, outliers, unusable;
    double alarm;          /**< the height at which the cumulative sum calls a change */
    unsigned freedom;      /**< degrees of freedom behind the noise; 0: given */
    int fresh;             /**< the liquid that was measured fresh; -1: none */
    unsigned fresh_solute; /**< what it holds of its own */
} dregs_reuse_basis;

DREGS_API const dregs_reuse_basis *dregs_reuse_rests_on(const dregs_reuse *reuse);

/** Note \p index (0, 1, ...) of what was assumed; NULL past the end. */
DREGS_API const char *dregs_reuse_assumed(const dregs_reuse *reuse, unsigned index);

/** What the meter of \p what should show in \p stage at \p temperature (K; NaN: compensated to 25
 *  degC) when the tank holds \p concentration (kg/m3 of each solute).
 *  \return DREGS_OK; DREGS_DOMAIN, DREGS_OUT_OF_RANGE with the reason in \p message
 *  (DREGS_METER_MESSAGE bytes or NULL). */
DREGS_API dregs_status dregs_reuse_shown(const dregs_line *line, unsigned stage,
                                         dregs_measured what, unsigned which, double temperature,
                                         const double *concentration, double *shown, char *message);

/** How conductivities of a stage are compensated: as its liquid states, else linear in a wash,
 *  natural water where the fresh liquid conducts 60 uS/cm or more at 25 degC, pure water below. */
DREGS_API dregs_compensation dregs_reuse_compensation(const dregs_line *line, unsigned stage,
                                                      double *coefficient);

/** The drag-out measured with the water shut. */
typedef struct dregs_stopped_flow {
    unsigned stage;     /**< the rinse that was read */
    unsigned from;      /**< the stage whose drag-out it is */
    double carried;     /**< m3 per load that it drags out */
    double thickness;   /**< m: the film that goes with it, hold-up and edge beads taken off */
    double sd;          /**< m, one standard deviation */
    double factor;      /**< against the line file */
    uint64_t loads;     /**< of the last reading used */
    double fraction;    /**< of the bath that the rinse then held; NaN where unknown */
    double shortcut;    /**< m3: V ((1 - f)^(-1/j) - 1) of that reading alone; NaN likewise */
    double bath_spread; /**< share of the bath's content that is not known, in `sd` too */
    double noise;       /**< share of the reading, one standard deviation */
    int noise_given, noise_assumed;
    size_t used, outliers;
} dregs_stopped_flow;

/** Measures it: readings of one rinse, all flows taken as shut.
 *  \return DREGS_OK; DREGS_BAD_DATA (loads of several kinds; readings of more than one rinse, or of
 * the first stage; fewer than two that can be used; a film that would be nothing); DREGS_NUMERIC;
 * DREGS_NO_MEMORY. Source of the shortcut: method of stopped flow, common practice in plating
 * shops; Mohler's conductivity method gives f. */
DREGS_API dregs_status dregs_drag_out_measure(const dregs_line *line,
                                              const dregs_readings *readings, double noise,
                                              dregs_stopped_flow *measured, dregs_faults *faults);

/** The shortcut: drag-out (m3 per load) when a still rinse of \p volume (m3), clean at first, holds
 *  the fraction \p f (0 < f < 1) of the bath after \p loads loads (> 0) that bring and take the
 *  same. NaN outside. */
DREGS_API double dregs_drag_out_stopped(double volume, double f, double loads);

#ifdef __cplusplus
}
#endif
#endif
