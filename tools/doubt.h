/* SPDX-License-Identifier: GPL-3.0-or-later */
/* doubt.h: what the tools that ask many draws share: their options, the question with
 * progress on a terminal, and an end by Ctrl-C with what is there so far.
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

/* The request that asks for them, with `usual` draws where --draws was not given. */
void doubt_request(const struct doubt *doubt, uint64_t usual, dregs_doubt_request *request);

/* Asks how sure an answer is. */
typedef dregs_status doubt_question(void *user, const dregs_doubt_request *request,
                                    dregs_faults *faults);

/* Asks it, unless no draws are requested. Progress stands on standard error where that is a
 * terminal, from the first second on; Ctrl-C ends the draws and leaves those that were done.
 * Returns FRONT_DONE, or the status to exit with after saying why. */
int doubt_ask(dregs_doubt_request *request, doubt_question *ask, void *user);

/* Ends the process as Ctrl-C does, when there was one, for the shell that waits; else returns
 * `status`. */
int doubt_end(int status);

#endif
