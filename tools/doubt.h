/* SPDX-License-Identifier: GPL-3.0-or-later */
/* doubt.h: what the tools that ask many draws share: their options, progress on a terminal,
 * and an end by Ctrl-C with what is there so far.
 */
#ifndef DREGS_TOOLS_DOUBT_H
#define DREGS_TOOLS_DOUBT_H

#include "front.h"

struct doubt {
    int given;      /* --draws was */
    uint64_t draws; /* 0: none */
    uint64_t seed;
    unsigned threads; /* 0: as many as there are processors */
};

/* The rows of the table of options that these tools share, each at its place in it. */
#define DOUBT_OPTIONS(draws, seed, threads)                                                        \
    [draws] = {"draws", "N",                                                                       \
               "draws of the values with a spread (default: fixed, fewer of a large line; 0: "     \
               "none)"},                                                                           \
    [seed] = {"seed", "N", "of the draws (default: 1)"},                                           \
    [threads] = {"threads", "N", "to draw with (default: one for each processor)"}

void doubt_begin(struct doubt *doubt);

/* Takes the argument of one of them, by the option's name. Returns 0, or FRONT_USAGE after saying
 * why. */
int doubt_take(struct doubt *doubt, const char *option, const char *text);

/* Progress on standard error where that is a terminal, from the first second on; and Ctrl-C, which
 * ends the run. Between doubt_watch and doubt_unwatch. */
struct watch {
    double since, shown;
    int terminal, on;
};
void doubt_watch(struct watch *watch);
void doubt_unwatch(struct watch *watch);
int doubt_progress(void *watch, uint64_t done, uint64_t draws);
/* Was there a Ctrl-C? */
int doubt_interrupted(void);
/* Ends the process as Ctrl-C does, when there was one, for the shell that waits; else returns
 * `status`. */
int doubt_end(int status);

#endif
