/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* readings.h: a log of what the bench meter said, read as a stream. The file is described in
 * dregs-readings(5).
 *
 * Memory does not grow with the log: the last DREGS_READINGS_KEPT readings are kept. Once more
 * have come, rows of one meter in one stage after the same load become one reading, their mean;
 * then the oldest are let go. What was done with every row is counted.
 */
#ifndef DREGS_READINGS_H
#define DREGS_READINGS_H

#include "dregs/line.h"
#include "dregs/time.h"
#include "dregs/unit.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_READINGS_KEPT = 16384 };

/** What a row of the log is about; the words of the file stand behind it. */
typedef enum dregs_measured {
    DREGS_MEASURED_CONCENTRATION, /**< "concentration <solute>", kg/m3 */
    DREGS_MEASURED_CONDUCTIVITY,  /**< "conductivity", S/m */
    DREGS_MEASURED_RESIDUE,       /**< "non-volatile residue" of a sample, kg/m3 */
    DREGS_MEASURED_SCALE,         /**< a calibration of the line file, in its meter's own unit */
    DREGS_MEASURED_DUMP,          /**< "dump": the tank was emptied and filled again */
    DREGS_MEASURED_ON_PARTS /**< "residue", "residue <solute>": left on a part of the load at the
                                 end of the line, kg/m2 */
} dregs_measured;

/** One reading, or one dump. */
typedef struct dregs_reading {
    unsigned long line; /**< of the file */
    double time;        /**< s since 1970-01-01T00:00 of the log's clock */
    double value;       /**< in the unit of dregs_measured; NaN for a dump */
    double sd;          /**< one standard deviation, likewise; 0 when not stated */
    double least;       /**< the least standard deviation, of rounding to the meter's or the
                             balance's last digit; 0 when not stated */
    double temperature; /**< K, of the sample; NaN when not stated */
    int64_t loads;      /**< as written; -1 when not stated */
    int64_t at;         /**< loads through the line since the first fill that the log knows of */
    int64_t fill;       /**< `at` of the tank's last fill; -1 when not known */
    unsigned rows;      /**< rows of the file it stands for */
    unsigned stage;     /**< that states the tank */
    dregs_measured what;
    unsigned
        which; /**< the solute or calibration; of ON_PARTS DREGS_LINE_SOLUTES for all solutes */
    double recovery; /**< of ON_PARTS: the share that comes off the part when it is measured; 0
                        where not stated */
    unsigned unit;   /**< the unit it was written in: dregs_readings_unit */
    int beyond;  /**< -1: below what its meter detects, `value`; 1: above what it shows; 0: neither
                  */
    int weighed; /**< 1: of the weighings of a dish */
    int fresh; /**< 1: of the liquid that the tank is filled with, not of the tank; `fill` is -1 */
} dregs_reading;

/** What became of the rows, each with the first line that it happened on. */
typedef struct dregs_readings_count {
    unsigned long long rows;
    unsigned long long dumps;
    unsigned long long missing;   /**< without a value or without a count of loads: passed over */
    unsigned long long duplicate; /**< said before, word for word: passed over */
    unsigned long long late;      /**< its time lies before that of a row above: put in its place */
    unsigned long long went_back; /**< the count fell without a dump row: taken as a dump */
    unsigned long long went_on;   /**< the count did not begin anew after a dump row */
    unsigned long long gone;      /**< let go: too old for what is kept */
    unsigned long first_missing, first_duplicate, first_late, first_went_back, first_went_on;
    unsigned long long anew; /**< fills whose count began anew after a dump row */
    double gap; /**< s: the longest without a row that is far beyond the schedule and over which
                     a count falls, or no tank is read on both sides; 0: none */
    unsigned long gap_from, gap_to; /**< its lines */
    double rush;      /**< the most loads that came far faster than the line's interval; 0: none */
    double rush_time; /**< s that they had */
    unsigned long rush_from, rush_to; /**< its lines */
} dregs_readings_count;

typedef struct dregs_readings dregs_readings;

/** A reader for the log of a line, which must outlive it. NULL when memory is short. */
DREGS_API dregs_readings *dregs_readings_new(const char *name, const dregs_line *line,
                                             dregs_faults *faults);
DREGS_API void dregs_readings_free(dregs_readings *readings);

/** Feeds the next bytes; pieces of any size. \return DREGS_OK, DREGS_BAD_DATA once
 *  DREGS_FAULTS_MAX faults are known or the file is no CSV, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_readings_feed(dregs_readings *readings, const char *bytes,
                                           size_t length);

/** Ends the log and puts the readings in their order.
 *  \return DREGS_OK; DREGS_BAD_DATA when there was any fault, or no reading at all. */
DREGS_API dregs_status dregs_readings_end(dregs_readings *readings);
/** How the cells of the log are written, as far as it was fed. */
DREGS_API dregs_dialect dregs_readings_dialect(const dregs_readings *readings);

/** What is kept, in the order in which it happened; dumps are among them. */
DREGS_API size_t dregs_readings_kept(const dregs_readings *readings);
DREGS_API const dregs_reading *dregs_readings_at(const dregs_readings *readings, size_t index);
DREGS_API const dregs_readings_count *dregs_readings_counted(const dregs_readings *readings);
DREGS_API const char *dregs_readings_name(const dregs_readings *readings);

/** A unit as the log writes it, and what it is; NULL past the end. */
DREGS_API const char *dregs_readings_unit(const dregs_readings *readings, unsigned index,
                                          dregs_unit *unit);

/** How many significant digits show a reading in that unit: as many as the log writes at most, 2 to
 * 4, and more where the readings of a calibration lie close together, as those of a refractive
 * index do. */
DREGS_API int dregs_readings_unit_digits(const dregs_readings *readings, unsigned index);

/** kg/m3 of liquid that a unit by mass, such as ppm, was taken with; 0 for a unit of another kind.
 */
DREGS_API double dregs_readings_unit_density(const dregs_readings *readings, unsigned index);

/** 1 when the log has something to say of the stage's tank: its dumps are those of the log. */
DREGS_API int dregs_readings_of(const dregs_readings *readings, unsigned stage);

/** 1 when the times state a zone; they are then of UTC. */
DREGS_API int dregs_readings_zoned(const dregs_readings *readings);

#ifdef __cplusplus
}
#endif
#endif
