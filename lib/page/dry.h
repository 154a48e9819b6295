/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.h: what the files of the page of a drying share; not for others. */
#ifndef DREGS_PAGE_DRY_H
#define DREGS_PAGE_DRY_H

#include "dregs/answer_dry.h"
#include "page/inside.h"

#define CELSIUS(kelvin) ((kelvin)-273.15)
#define M3_PER_H        3600.0 /* m3/s */
#define PPM             1e6
#define PERCENT         100.0
#define G_PER_M2        1e3 /* kg/m2 */

struct dryings {
    dregs_report *report;
    const dregs_line *line; /* NULL for a film of the request's */
    const dregs_dry_result *result;
    const dregs_dry_doubt *doubt; /* NULL: no draws */
};

/* "oven, 70 degC", or the temperature alone. */
enum { DRY_NAME = 160 };
const char *dregs_page_dry_name(const dregs_dry_row *row, char into[DRY_NAME]);

/* The film dries, and its vapour is not judged. */
int dregs_page_dry_unjudged(const dregs_dry_row *row);

/* dry_doubt.c: the range of a drying; 0 without draws, or where it is none to the digits shown. */
int dregs_page_dry_range(const struct dryings *d, dregs_dry_doubtful what, unsigned row,
                         dregs_ensemble_range *range);
/* Is a time that was drawn that of a film that never dries? */
int dregs_page_dry_drawn_never(double seconds);
/* A figure of the first drying, with its range where draws have one. */
dregs_quantity dregs_page_dry_quantity(const struct dryings *d, const char *key, double value,
                                       const char *unit);
/* Adds in how many draws a drying is in time, where not in all; 0 where nothing is added. */
int dregs_page_dry_in_time(const struct dryings *d, unsigned index);
/* How sure all is, and what was drawn; for programs; as a picture of so many dryings; the working.
 */
void dregs_page_dry_doubt_words(const struct dryings *d);
void dregs_page_dry_doubt_data(const struct dryings *d);
void dregs_page_dry_doubt_picture(const struct dryings *d, unsigned rows);
void dregs_page_dry_doubt_working(const struct dryings *d);

/* The highest vapour content over the lower flammable limit; NaN where none is on record, or no
 * volume tells what the air holds. */
double dregs_page_dry_peak(const dregs_dry_row *row);

/* m3/h of fresh air to be safe by, as text and JSON name it: rounded up to the digits shown; NaN
 * where none can be named. */
double dregs_page_dry_fresh_air(const dregs_dry_row *row);

/* What is not computed of what a part holds, "beads and holes"; NULL for nothing. */
const char *dregs_page_dry_unknown(const dregs_dry_row *row);

/* Adds to the sentence in hand what is dry last; film: its time in words. */
void dregs_page_dry_decides(const struct dryings *d, const dregs_dry_row *row, const char *film);

/* Adds that the next load comes before, and how many then dry at a time. */
/* Of lines: that beads and holes are not computed, and what would. */
void dregs_page_dry_trapped(const struct dryings *d);
void dregs_page_dry_late(const struct dryings *d, const dregs_dry_row *row);

/* From when to when the bead is dry. */
void dregs_page_dry_bead(const struct dryings *d, const dregs_dry_row *row, const char *least,
                         const char *most);

/* The rooms that the air comes from, each once. */
void dregs_page_dry_room(const struct dryings *d);

/* What only programs read: figures, every drying, their curves. */
void dregs_page_dry_data(const struct dryings *d);

/* The same as pictures. */
void dregs_page_dry_pictures(const struct dryings *d);

/* The properties, the equations, the heats. */
void dregs_page_dry_working(const struct dryings *d);

#endif
