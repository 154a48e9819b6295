/* SPDX-License-Identifier: GPL-3.0-or-later */
/* predict.h: what dregs-predict was asked and what the library answered. */
#ifndef DREGS_PREDICT_H
#define DREGS_PREDICT_H

#include "dregs/answer_predict.h"
#include "front.h"

struct request {
    const char *file, *liquids_file;
    dregs_predict_request asked;
    uint64_t *at; /* what `asked` points to */
    enum front_format format;
    int check, explain;
};

/* What a page is made of. */
struct predict_page {
    const struct request *request;
    const dregs_line *line;
    const dregs_predict_result *result;
};

/* Hands over every load that is listed. Returns FRONT_DONE or FRONT_IO. */
int each_load(const struct predict_page *answer, dregs_predict_take *take_load, void *user);

int page_json(const struct predict_page *answer);

#endif
