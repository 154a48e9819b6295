/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.h: what the files of the answer to dregs-predict share; stays in the room. */
#ifndef DREGS_ANSWER_PREDICT_INSIDE_H
#define DREGS_ANSWER_PREDICT_INSIDE_H

#include "dregs/answer_predict.h"

/* The loads that are listed, ascending; 0 when there are more than `most`. */
size_t dregs_answer_predict_listed(const dregs_predict_result *result, uint64_t *loads,
                                   size_t most);
/* How many loads are judged; DREGS_NO_END for all. */
uint64_t dregs_answer_predict_judged(const dregs_predict_result *result);

/* What is asked of the line of a draw (predict_doubt.c). */
struct predict_figures {
    uint64_t judged;
    unsigned limits, bounds, solutes, loads;
    int limited[DREGS_LINE_SOLUTES + 1]; /* the solute of each limit */
    uint64_t load[DREGS_DOUBT_LOADS];    /* those that are listed */
};
/* The figures of what a line answers as stated, without a list of loads. */
void dregs_answer_predict_lay_out(const dregs_predict_result *result, struct predict_figures *f);
/* How many there are. The first is the largest share of a limit, NaN of a line without any. */
unsigned dregs_answer_predict_figures(const struct predict_figures *f);
/* Where the residue of a block stands: 0 the worst load, then each that is listed. */
unsigned dregs_answer_predict_figure(const struct predict_figures *f, unsigned block, int solute);
dregs_status dregs_answer_predict_ask_drawn(const struct predict_figures *f,
                                            const dregs_line *drawn, double *into);

/* Does a line leave more by its schedule than with loads that follow one another? */
int dregs_answer_by_week(const dregs_week_answer *in_week, const dregs_worst *worst);

#endif
