/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.h: small things that the pages share. */
#ifndef DREGS_PAGE_H
#define DREGS_PAGE_H

#include "dregs/dregs.h"

/* From SI to the units that the pages print. */
#define MG_PER_L   1e3 /* kg/m3 */
#define MG         1e6 /* kg */
#define MG_PER_M2  1e6 /* kg/m2 */
#define UG_PER_CM2 1e5 /* kg/m2 */
#define ML         1e6 /* m3 */
#define UM         1e6 /* m */

/* A number for people, four significant digits; a ring of buffers lets one call print several. */
struct numbers {
    char text[8][DREGS_NUMBER_TEXT];
    unsigned next;
};
const char *number(struct numbers *numbers, double value);

/* Prints text padded with blanks to `width` columns: to the left edge, or with a negative width
 * to the right one. Columns are characters, not bytes. */
void cell(const char *text, int width);

/* How many columns the text takes. */
int columns(const char *text);

/* Prints text broken at blanks to lines of at most 88 columns; lines after the first one are
 * indented by `indent`, and the first one is taken to begin at column `used`. */
void wrapped(const char *text, int used, int indent);

/* A name as a cell of CSV: quoted where CSV asks for it, and guarded so that no spreadsheet takes
 * it for a formula. */
void csv_name(const char *name);

/* The cautions that the line calls for, with the sentence below them; nothing when there is none.
 */
void page_cautions(const dregs_line *line);

#endif
