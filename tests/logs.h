/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* logs.h: logs of readings whose truth is known: simulated with the map of a line under changed
 * drag-out and soil, written as text, analysed by the library.
 */
#ifndef DREGS_TESTS_LOGS_H
#define DREGS_TESTS_LOGS_H

#include "check_main.h"
#include "reuse/inside.h"

#include <gsl/gsl_rng.h>

#define LOGS_PARTS                                                                                 \
    "item,property,value,unit,spread\n"                                                            \
    "tray,kind,load,,\ntray,parts,40,1,\ntray,area,12,cm2,\ntray,extra area,250,cm2,\n"            \
    "tray,interval,12,min,\n"                                                                      \
    "oil,kind,solute,,\noil,on parts,0.9,mg,40%\n"                                                 \
    "cleaner,kind,solute,,\ncleaner,conductivity,1.35,uS/cm per mg/L,\n"                           \
    "minerals,kind,solute,,\nminerals,conductivity,1.6,uS/cm per mg/L,\n"                          \
    "alkaline,kind,liquid,,\nalkaline,solvent,water,,\nalkaline,cleaner,12,g/L,8%\n"               \
    "di,kind,liquid,,\ndi,solvent,water,,\ndi,minerals,0.6,mg/L,\n"                                \
    "bath,kind,wash,,\nbath,volume,9,L,\nbath,liquid,alkaline,,\nbath,removal,99.9,%,\n"           \
    "bath,drag-out,70,mL/m2,25%\n"
#define LOGS_RINSES                                                                                \
    "first,kind,rinse,,\nfirst,volume,3,L,\nfirst,liquid,di,,\nfirst,drag-out,50,mL/m2,25%\n"      \
    "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\nlast,drag-out,50,mL/m2,25%\n"
#define LOGS_LIMIT "limit,kind,target,,\nlimit,residue,0.5,ug/cm2,\n"

enum { LOGS_BATH, LOGS_FIRST, LOGS_LAST, LOGS_ROOM = 1 << 16 };

/* The line, the log being written, and what the library makes of the two. */
struct logs {
    dregs_liquids *liquids;
    dregs_line *line;
    gsl_rng *rng;
    dregs_readings *readings;
    dregs_reuse *reuse;
    dregs_faults faults;
    size_t length;
    char text[LOGS_ROOM];
};
extern struct logs logs;

/* Runs a suite of tests, each of which begins with the line LOGS_PARTS LOGS_RINSES LOGS_LIMIT and a
 * random stream. What main returns. */
int logs_run(const char *name, const TTest *const *tests, size_t count);
/* Another line. */
void logs_parse(const char *file);

/* Begins a log with its header row; adds to it; adds the reading of a load, of which there is one
 * every 12 min after the first of March. */
void logs_begin(void);
void logs_say(const char *format, ...) DREGS_FORMAT(1, 2);
void logs_row(unsigned load, const char *stage, unsigned since, const char *quantity, double value,
              const char *unit);

/* Has the library read the log and answer; the test fails when that is refused. */
void logs_analyse(double noise);
void logs_analyse_with(double noise, double limit);
/* Lets go of readings and answer. */
void logs_forget(void);
const dregs_regime *logs_regime(unsigned index);
const dregs_reuse_outlook *logs_answer(void);

/* What really happens: a line, and what its tanks hold. */
struct logs_truth {
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
};

/* Drag-out of the two rinses and soil, as shares of what the file says. */
struct alteration logs_by_hand(double drag_out, double soil);
/* From here on the line is changed; the tanks hold what they held. */
void logs_become(struct logs_truth *t, const struct alteration *change);
void logs_let_go(struct logs_truth *t);
void logs_held(const struct logs_truth *t, unsigned stage, double *concentration);
/* uS/cm of a stage, by the sum itself. */
double logs_conducts(const struct logs_truth *t, unsigned stage);

/* A value with normal relative noise; a lognormal factor of mean 1. */
double logs_scattered(double value, double noise);
double logs_draw(double sd);

#endif
