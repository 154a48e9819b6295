/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* doubt.h: what the tools that ask many draws share: the arguments of their options, the question
 * with progress on a terminal, and an end by Ctrl-C with what is there so far.
 */
#ifndef DREGS_TOOLS_DOUBT_H
#define DREGS_TOOLS_DOUBT_H

#include "front.h"

/* Takes the argument of --draws, --seed or --threads, by the option's name. Returns 0, or
 * FRONT_USAGE after saying why. */
int doubt_take(dregs_ask_draws *draws, const char *option, const char *text);

/* Asks how sure an answer is. */
typedef dregs_status doubt_question(void *user, const dregs_doubt_request *request,
                                    dregs_faults *faults);

/* Asks it, unless no draws are requested. Progress stands on standard error where that is a
 * terminal, from the first second on; Ctrl-C ends the draws and leaves those that were done.
 * Returns FRONT_DONE, or the status to exit with after saying why. */
int doubt_ask(const dregs_doubt_request *request, doubt_question *ask, void *user);

/* Ends the process as Ctrl-C does, when there was one, for the shell that waits; else returns
 * `status`. */
int doubt_end(int status);

#endif
