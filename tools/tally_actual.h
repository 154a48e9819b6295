/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_actual.h: what was really bought and disposed of, beside what the line's year says. */
#ifndef DREGS_TOOL_TALLY_ACTUAL_H
#define DREGS_TOOL_TALLY_ACTUAL_H

#include "dregs/purchase.h"
#include "tally.h"

#include <jansson.h>

enum { ACTUAL_MONTHS = 12, ACTUAL_NOTE_ROOM = 320 };

/* What is compared. */
enum actual_measure {
    ACTUAL_IN,   /* bought and recovered: put into the line */
    ACTUAL_OUT,  /* disposed and recovered: taken out of it */
    ACTUAL_GONE, /* the difference: into air, drain, onto parts, still in the tanks */
    ACTUAL_MEASURES
};
extern const char *const actual_names[ACTUAL_MEASURES];

/* One figure of both, m3. */
struct actual_figure {
    double measured, modelled;
    dregs_unexplained unexplained;
};

struct actual_liquid {
    unsigned fluid;
    int in_file;                                             /* the year has a row of it */
    unsigned rows[ACTUAL_MEASURES], silent[ACTUAL_MEASURES]; /* of the year; without a spread */
    double lot[ACTUAL_MEASURES];      /* m3, the largest delivery or collection; NaN for none */
    int shown[ACTUAL_MEASURES];       /* there are rows for it */
    double model_sd[ACTUAL_MEASURES]; /* m3 over the months covered; NaN where not stated */
    struct actual_figure month[ACTUAL_MEASURES][ACTUAL_MONTHS];
    struct actual_figure so_far[ACTUAL_MEASURES][ACTUAL_MONTHS]; /* from the first month on */
};

/* A row of the line file whose spread counts: what one standard deviation of it does. */
struct actual_spread {
    const dregs_row *row;
    double *effect; /* m3, [liquid][measure][month] */
    int counted;    /* 0: the line could not be computed with it */
};

struct tally_actual {
    const char *file;
    const dregs_line *line;
    const dregs_tally *tally;
    dregs_tally *own_year;
    dregs_purchases *purchases;
    double *density; /* of each liquid */
    int year, full, drain_is_waste, running;
    unsigned first, last; /* months covered, from 1 */
    struct actual_liquid *liquid;
    unsigned liquids;
    struct actual_spread *spread;
    unsigned spreads;
};

/* Fills a zeroed comparison from the first line of the answer.
 * file            of purchases, "-" for standard input.
 * year            0: the latest full one, else the latest.
 * drain_is_waste  what drains is collected, and counts as taken out.
 * Returns FRONT_DONE or the status to exit with after a message. */
int tally_actual_fill(struct tally_actual *actual, const struct tally_answer *answer,
                      const char *file, int year, int drain_is_waste);
void tally_actual_clear(struct tally_actual *actual);

/* The largest effect of a spread on the whole of what is shown, as a share of the modelled figure;
 * 0 where it has none. */
double actual_spread_weight(const struct tally_actual *actual, unsigned spread);

/* The parts of a page, as those of tally_law.h. */
void tally_actual_text(const struct tally_actual *actual);
void tally_actual_csv(const struct tally_actual *actual);
json_t *tally_actual_json(const struct tally_actual *actual, int *failed);
void tally_actual_explain(const struct tally_actual *actual);

#endif
