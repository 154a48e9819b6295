/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* usual.c: how many draws a line is asked for where nobody says it. */
#include "ensemble/ensemble.h"
#include "line/line.h"

#include <math.h>

#define PERIOD_LOADS 30   /* loads in a period that take as long as one dump */
#define RENEWED_MOST 1000 /* loads */
#define WORK         3e6  /* that all draws together may take */

/* The loads in which the slowest tank that is never dumped changes its liquid once: for so long the
 * search for the worst load goes on. */
static double renewed_in(const dregs_line *line)
{
    double interval = dregs_line_load(line)->interval.si, slowest = 0;
    unsigned t;

    for (t = 0; t < dregs_line_tanks(line); t++) {
        const dregs_tank *tank = dregs_line_tank(line, t);
        double through = (tank->flow + tank->overflow_in + tank->top_up) * interval +
                         dregs_line_carried(line, tank->stage)->out;
        if (!dregs_line_stage(line, tank->stage)->dump_every.row)
            slowest = fmax(slowest, tank->volume / through);
    }
    return fmin(slowest, RENEWED_MOST); /* also where nothing leaves a tank */
}

static double work_of(const dregs_line *line)
{
    double period = (double)dregs_line_period(line), dumps = 0;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->dump_every.row)
            dumps += period / stage->dump_every.si;
    }
    return (dregs_line_tanks(line) + 1.0) * dregs_line_solutes(line) *
           (20 + dumps + period / PERIOD_LOADS + renewed_in(line));
}

uint64_t dregs_ensemble_usual(const dregs_line *line)
{
    static const unsigned draws[] = {1000, 500, 200, 100};
    double work = work_of(line);
    unsigned i;

    for (i = 0; i < sizeof draws / sizeof draws[0]; i++)
        if (draws[i] * work <= WORK)
            return draws[i];
    return 40;
}
