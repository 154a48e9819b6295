/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse.h: what dregs-reuse was asked and what the library answered; the pages print it. */
#ifndef DREGS_TOOL_REUSE_H
#define DREGS_TOOL_REUSE_H

#include "dregs/answer_reuse.h"
#include "front.h"
#include "page.h"

struct reuse_request {
    const char *line_file, *readings_file, *liquids_file;
    dregs_reuse_request asked;
    enum front_format format;
    int check, explain, card, measure;
};

/* What a page is made of. */
struct reuse_pages {
    const struct reuse_request *request;
    const dregs_line *line;
    const dregs_readings *readings;
    dregs_reuse_result *result;    /* NULL with --measure-drag-out */
    dregs_stopped_result *stopped; /* with it */
};

/* "4.31 uS/cm": a value in the unit the log writes, or in uS/cm or mg/L where it has none; a ring
 * of buffers lets one call print several. */
struct readings_text {
    char text[6][96];
    unsigned next;
};
const char *reading_text(struct readings_text *texts, const dregs_readings *readings,
                         dregs_measured what, int unit, double value);
/* A time of the log, with Z where its rows state their zone. */
const char *log_time(const dregs_readings *readings, double time, char into[DREGS_TIME_TEXT + 4]);
/* "conductivity", "concentration oil", "turbidity" */
const char *quantity_name(const dregs_line *line, dregs_measured what, unsigned which,
                          char into[160]);
/* "drag-out", "flow of last": what a regime changed, without its number */
const char *change_name(const dregs_line *line, int kind, int which, char into[160]);
/* The first line of the answer, in words, without a line break. */
void verdict_text(const struct reuse_pages *answer, char *into, size_t room);

/* What became of the rows of the log. */
void reuse_print_log(const dregs_readings *readings, size_t used, size_t unusable);

int reuse_page_text(const struct reuse_pages *answer);
int reuse_page_explain(const struct reuse_pages *answer);
int reuse_page_card(const struct reuse_pages *answer);
int reuse_page_csv(const struct reuse_pages *answer);
int reuse_page_json(const struct reuse_pages *answer);
/* --measure-drag-out in each format */
int stopped_page_text(const struct reuse_pages *answer);
int stopped_page_csv(const struct reuse_pages *answer);
int stopped_page_json(const struct reuse_pages *answer);

#endif
