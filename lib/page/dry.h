/* SPDX-License-Identifier: GPL-3.0-or-later */
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
};

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
