/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* coverage.h: logs in which some stages drag out otherwise than their file says, or begin to; and
 * how often the 95 % interval of the loads left holds the true number.
 */
#ifndef DREGS_TESTS_COVERAGE_H
#define DREGS_TESTS_COVERAGE_H

#include "logs.h"

/* The benches: of data/, an aqueous one read with a conductivity meter and one with a solvent whose
 * last rinse is weighed. Each has a wash and two still rinses, stages 0 to 2. */
typedef enum coverage_bench { COVERAGE_WATER, COVERAGE_SOLVENT } coverage_bench;

struct coverage_case {
    const char *name;
    coverage_bench bench;
    double drag_out[3]; /* factors on the films of the three stages; 0: drawn from the spread of the
                           file, or 30 % where it states none */
    double soil;        /* likewise, of the soil on the parts; the file's 40 % */
    double adhering;    /* a further one on what of it stays on the parts; 0: that has a draw of its
                           own in place of the soil's */
    int fill;           /* in which the films of all three become others: 1 to 3; 0: none */
    double share;       /* of that fill that has passed by then */
    double change;      /* by this factor */
};

/* The cases that the interval is held to. */
extern const struct coverage_case coverage_cases[];
enum { COVERAGE_CASES = 10 };

struct coverage {
    unsigned logs;
    unsigned answered; /* not "check the log" */
    unsigned covered;  /* of these: the interval holds the truth */
    unsigned unsafe;   /* of these: its lower end promises more than the truth */
    unsigned again;    /* of these: "measure again" */
    unsigned changes;  /* logs in which a change was found */
    unsigned dumped;   /* of the answered: a reading to dump at is told, of a fill that may go on */
    unsigned past;     /* of these: who dumps at it has let a load pass that misses */
    unsigned past_best; /* the same at the reading where the best estimate comes to the limit */
    double width; /* of the interval over the true number of loads: median where that is > 0 */
};

/* The share of the noise of the meter's readings. */
#define COVERAGE_NOISE 0.03

/* So many logs of a case, from a random stream of that seed; within the fixture of logs.h. */
struct coverage coverage_of(const struct coverage_case *of, unsigned long seed, unsigned logs);

#endif
