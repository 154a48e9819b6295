/* SPDX-License-Identifier: GPL-3.0-or-later */
/* predict.h: what the files of the answer to dregs-predict share; stays in the room. */
#ifndef DREGS_ANSWER_PREDICT_INSIDE_H
#define DREGS_ANSWER_PREDICT_INSIDE_H

#include "dregs/answer_predict.h"

/* The loads that are listed, ascending; 0 when there are more than `most`. */
size_t dregs_answer_predict_listed(const dregs_predict_result *result, uint64_t *loads,
                                   size_t most);
/* How many loads are judged; DREGS_NO_END for all. */
uint64_t dregs_answer_predict_judged(const dregs_predict_result *result);

/* Does a line leave more by its schedule than with loads that follow one another? */
int dregs_answer_by_week(const dregs_week_answer *in_week, const dregs_worst *worst);

#endif
