/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* hangs.h: what the two files of this answer share; inside the room only. */
#ifndef DREGS_ANSWER_HANGS_INSIDE_H
#define DREGS_ANSWER_HANGS_INSIDE_H

#include "dregs/answer_hangs.h"

struct hangs_answer {
    dregs_hangs_result shown; /* the first member: the user's pointer is ours */
    dregs_hangs_value *value;
    dregs_hangs_doubt *doubt;
};

/* Where the doubt comes from, of an answer that has its values. \return DREGS_OK, DREGS_NO_MEMORY.
 */
dregs_status dregs_answer_hangs_doubt(struct hangs_answer *answer, const dregs_line *line,
                                      uint64_t seed, uint64_t draws, unsigned threads);

#endif
