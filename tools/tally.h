/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.h: what dregs-tally was asked and what the engine answered; the pages print it. */
#ifndef DREGS_TOOL_TALLY_H
#define DREGS_TOOL_TALLY_H

#include "dregs/dregs.h"
#include "front.h"

enum { TALLY_FILES_MOST = 8, TALLY_CHANGES_MOST = 3 };

enum tally_view { TALLY_BALANCE, TALLY_BY_STAGE, TALLY_BY_LIQUID, TALLY_BY_MONTH };

struct law_given;    /* tally_law.h */
struct tally_law;    /* tally_law.h */
struct tally_actual; /* tally_actual.h */

struct tally_request {
    const char *file[TALLY_FILES_MOST];
    unsigned files;
    const char *liquids_file;
    dregs_tally_request span;
    int span_given;
    enum tally_view view;
    enum front_format format;
    int explain;
    int law;                       /* --law */
    const char *actual_file;       /* --actual FILE, NULL for none */
    int actual_year;               /* --year, 0 for none */
    const struct law_given *given; /* --given, never NULL */
    int given_any;
};

/* One line of those that are set side by side; the first is the one that a page is about. */
struct tally_one {
    const char *file;
    dregs_line *line;
    dregs_tally *tally;
    double residue; /* kg/m2 that the worst load leaves, as dregs-predict has it */
};

/* What one change of the line would do: the line computed anew with it. */
struct tally_change {
    char what[400];   /* "one more rinse: a copy of 'last' behind it, ..." */
    char reason[400]; /* why it was not computed; "" when it was */
    dregs_line *line; /* NULL when it was not */
    dregs_tally *tally;
    double residue; /* kg/m2 that the worst load leaves */
};

/* One figure of a line that is set beside that of another. */
struct tally_figure {
    char name[80];
    const char *unit; /* "L", "g", "ug/cm2", "currency" */
    double value;     /* in that unit; NaN where the line has none */
};
enum { TALLY_FIGURES_MOST = 160 };
struct tally_figures {
    struct tally_figure figure[TALLY_FIGURES_MOST];
    unsigned count;
};

/* A stream of one stage that takes a large part of the liquid, or of the money. */
struct tally_part {
    dregs_stream stream;
    unsigned fluid, stage; /* fluid: DREGS_WHOLE for all liquids together */
    double volume;         /* m3 */
    double cost;           /* NaN in a ranking by volume */
    double share;          /* of all of them */
};

struct tally_answer {
    const struct tally_request *request;
    const dregs_liquids *liquids;
    struct tally_one one[TALLY_FILES_MOST];
    unsigned ones;
    struct tally_change change[TALLY_CHANGES_MOST];
    unsigned changes;
    struct tally_law *law;       /* NULL unless asked for */
    struct tally_actual *actual; /* NULL unless asked for */
};

/* Fills a zeroed answer. Returns FRONT_DONE or the status to exit with. */
int tally_fill(struct tally_answer *answer, const struct tally_request *request,
               const dregs_liquids *liquids);
void tally_clear(struct tally_answer *answer);

/* tally_change.c: what one more rinse, more drain time and lids would do. Returns FRONT_DONE or the
 * status to exit with. */
int tally_find_changes(struct tally_answer *answer);

/* A line's tally and its worst load's residue. */
dregs_status tally_compute(const dregs_line *line, const struct tally_request *request,
                           dregs_tally **tally, double *residue, char *message);

/* tally_figures.c: the figures of a line that are compared, and what dominates. */
void tally_figures_of(const dregs_tally *tally, double residue, struct tally_figures *figures);
/* The figure of the same name; NULL for none. */
const struct tally_figure *tally_figure_named(const struct tally_figures *figures,
                                              const char *name);
/* The largest first; returns how many. By volume: what leaves the line. By cost: what is bought, at
 * its price, and what is waste, at its disposal; none where no price is stated. */
enum { TALLY_PARTS_MOST = 5 };
unsigned tally_largest(const dregs_tally *tally, int by_cost, struct tally_part *parts);
/* "a year", "a shift", "2500 loads" */
void tally_span_name(const dregs_tally *tally, const struct tally_request *request, char into[48]);
/* "January" ...; the whole time past December. */
const char *tally_month_name(unsigned month);
/* The word before the slash of the first price of the file; "currency" for none. */
void tally_currency(const dregs_line *line, char into[16]);

int tally_page_text(const struct tally_answer *answer);
int tally_page_csv(const struct tally_answer *answer);
int tally_page_json(const struct tally_answer *answer);
int tally_page_explain(const struct tally_answer *answer);

#endif
