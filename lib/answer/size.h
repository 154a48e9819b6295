/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.h: what the files of the answer to dregs-size share; stays in the room. */
#ifndef DREGS_ANSWER_SIZE_INSIDE_H
#define DREGS_ANSWER_SIZE_INSIDE_H

#include "dregs/answer_size.h"

/* How sure an answer is, with what it points to. */
struct sureness {
    dregs_size_sureness shown;
    dregs_sized *just;
    dregs_bound keeps;
};

/* Confidence and draws in their ranges? As dregs_size_answer. */
dregs_status dregs_answer_size_check(const dregs_line *line, const dregs_size_request *request,
                                     char *message);
/* The probability that is asked for; NaN for none. */
double dregs_answer_size_confidence(const dregs_line *line, const dregs_size_request *request);
/* No draws. */
void dregs_answer_size_unsure(struct sureness *sure);
/* How sure an answer is, and in its place one that is as sure as asked for, where there is one. */
dregs_status dregs_answer_size_sure(const dregs_line *line, const dregs_size_request *request,
                                    int by_cost, dregs_sized **sized, struct sureness *sure,
                                    char *message);
int dregs_answer_size_met(const dregs_sized *sized, const struct sureness *sure);

#endif
