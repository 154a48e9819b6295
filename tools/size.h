/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: what dregs-size was asked and what the library answered; the pages print it. */
#ifndef DREGS_TOOL_SIZE_H
#define DREGS_TOOL_SIZE_H

#include "dregs/answer_size.h"
#include "front.h"

struct size_request {
    const char *file, *liquids_file, *write_file;
    const char *vary_text[DREGS_VARIED_MOST];
    unsigned vary_texts;
    dregs_size_request asked;
    enum front_format format;
    int check, explain;
};

/* What a page is made of. */
struct size_page {
    const struct size_request *request;
    const dregs_line *line;
    const dregs_size_result *result;
};

int size_page_json(const struct size_page *answer);

#endif
