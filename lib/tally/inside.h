/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the tally module share; not installed. */
#ifndef DREGS_TALLY_INSIDE_H
#define DREGS_TALLY_INSIDE_H

#include "calendar/calendar.h"
#include "dregs/mixture.h"
#include "dregs/tally.h"

enum { TALLY_NOTES_MOST = 4 * DREGS_LINE_STAGES + 16 };

/* What a substance did in one period: the sums of its ledger, and what the tanks held. */
struct account {
    double *sum;          /* per row of the ledger */
    double *first, *last; /* per tank */
    double *filled;       /* per tank, by the first fill */
};

struct substance {
    struct ledger ledger;    /* without buffers */
    struct account *account; /* likewise */
    double *room;            /* what the accounts stand in */
};

struct period {
    uint64_t days, loads;   /* worked days */
    double seconds, idle;   /* in all; outside the shifts */
    unsigned first, months; /* of the dates; no months: by working days or by loads */
};

struct dregs_tally {
    const dregs_line *line;
    dregs_tally_request request;
    int dated; /* days have dates: */
    dregs_tally_dates by;
    dregs_calendar calendar;
    int scheduled;               /* the calendar is known */
    struct calendar_dates dates; /* read where days have some */
    unsigned periods, substances;
    unsigned before;       /* months of the year before that are kept, behind the whole time */
    struct period *period; /* the whole time behind the last, at `periods` */
    struct substance *substance;
    double *density;      /* per fluid, kg/m3 */
    const char **solvent; /* names, no two the same */
    unsigned solvents;
    char note[TALLY_NOTES_MOST][500];
    unsigned notes;
    dregs_tally **part; /* of a joined line: the tallies of its lines; NULL for a line of a file */
    unsigned parts;
};

/* year.c: loads of a year before; the periods; the accounts of a substance, whose integrals are
 * kept for the next. */
uint64_t dregs_tally_year_before(const dregs_tally *tally);
void dregs_tally_set_periods(dregs_tally *tally);
dregs_status dregs_tally_march(dregs_tally *tally, unsigned substance, struct calendar_gaps *gaps);

/* join.c: the tally of a joined line is the sum of those of its lines. */
dregs_status dregs_tally_join(dregs_tally *tally, char *message);
/* Of one stage; what is on the parts of all loads, for one stage or the whole line. */
double dregs_tally_of_part(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                           unsigned stage, unsigned period);
double dregs_tally_on_parts(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                            unsigned stage, unsigned period);
double dregs_tally_idle_of_parts(const dregs_tally *tally, unsigned stage, unsigned period);
double dregs_tally_changes_of_part(const dregs_tally *tally, unsigned stage, unsigned period);

#endif
