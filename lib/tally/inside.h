/* SPDX-License-Identifier: GPL-3.0-or-later */
/* inside.h: what the files of the tally module share; not installed. */
#ifndef DREGS_TALLY_INSIDE_H
#define DREGS_TALLY_INSIDE_H

#include "calendar/calendar.h"
#include "dregs/mixture.h"
#include "dregs/tally.h"

enum { TALLY_NOTES_MOST = 2 * DREGS_LINE_STAGES + 8 };

/* What a substance did in one period: the sums of its ledger, and what the tanks held. */
struct account {
    double *sum;          /* per row of the ledger */
    double *first, *last; /* per tank */
    double *filled;       /* per tank, by the first fill */
};

struct substance {
    struct ledger ledger;    /* without buffers */
    struct account *account; /* per period, and the whole time at the end */
    double *room;            /* what the accounts stand in */
};

struct period {
    uint64_t days, loads;
    double seconds;
};

struct dregs_tally {
    const dregs_line *line;
    dregs_tally_request request;
    dregs_calendar calendar;
    int scheduled; /* the calendar is known */
    unsigned periods, substances;
    struct period *period; /* the whole time at the end */
    struct substance *substance;
    double *density;      /* per fluid, kg/m3 */
    const char **solvent; /* names, no two the same */
    unsigned solvents;
    char note[TALLY_NOTES_MOST][200];
    unsigned notes;
};

/* year.c: the periods; the accounts of a substance, whose integrals are kept for the next. */
void dregs_tally_set_periods(dregs_tally *tally);
dregs_status dregs_tally_march(dregs_tally *tally, unsigned substance, struct calendar_gaps *gaps);

#endif
