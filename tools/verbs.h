/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* verbs.h: the tools as verbs of one program. */
#ifndef DREGS_VERBS_H
#define DREGS_VERBS_H

#include "front.h"

struct verb {
    const struct front_tool *tool; /* named "dregs-" and the verb */
    int (*run)(int argc, char **argv);
    const char *job; /* what it is asked for, in a few words */
};

extern const struct verb verb_beaker, verb_check, verb_dry, verb_example, verb_liquid, verb_new,
    verb_predict, verb_reuse, verb_size, verb_tally;

/* For shells; it is not listed. */
extern const struct verb verb_complete;

/* Verb number `index` (0, 1, ...), in the order in which they are listed; NULL past the end. */
const struct verb *verb_at(size_t index);

#endif
