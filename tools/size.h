/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: what dregs-size was asked and what the engine answered; the pages print it. */
#ifndef DREGS_TOOL_SIZE_H
#define DREGS_TOOL_SIZE_H

#include "dregs/size.h"
#include "front.h"

enum { RANGE_MOST = 20 };

struct size_request {
    const char *file, *liquids_file, *write_file;
    dregs_varied varied[DREGS_VARIED_MOST];
    const char *vary_text[DREGS_VARIED_MOST];
    char *names[DREGS_VARIED_MOST]; /* owned copies of the stages' names */
    unsigned count;
    unsigned first, last; /* --stages, 0 when not asked */
    int layout;           /* --layout, -1 for all */
    dregs_judging judging;
    enum front_format format;
    int check, explain;
};

/* One layout of the table. */
struct size_row {
    dregs_layout layout;
    unsigned stages;
    int possible; /* 0: the line cannot be arranged so; the reason is in message */
    dregs_varied varied;
    dregs_sized sized;
    double drag;   /* m3 per load: out of the last rinse */
    double volume; /* m3 of all rinse tanks */
    double fresh;  /* kg/m3 of all solutes in the rinses' fresh liquid */
    int dominated; /* index of a row that is no worse in anything and better in something; -1 */
    char message[DREGS_SIZE_MESSAGE];
};

struct size_answer {
    const struct size_request *request;
    const dregs_line *line;
    int by_cost;
    double loads_per_shift;
    int shift_assumed; /* 8 h */
    /* --vary */
    dregs_sized sized;
    double before[DREGS_VARIED_MOST]; /* what the file states, NaN for nothing */
    struct size_row ratios;           /* drag, fresh and stages of the answer's line */
    /* --stages */
    struct size_row *row;
    size_t rows;
    char message[DREGS_SIZE_MESSAGE];
};

/* The rules of thumb for an answer: concentrations into and out of the rinses, the fresh liquid's
 * own taken off, and what the formulas ask for. NaN where there is no ratio. */
struct size_rule {
    double ratio;  /* (C0 - Cw) / (Cn - Cw) */
    double exact;  /* R of the answer: fresh flow T / D */
    double series; /* R of the series */
    double root;   /* R of the root form */
};
void size_rule_of(const struct size_answer *answer, const struct size_row *row,
                  const dregs_sized *sized, double flow, struct size_rule *rule);

int size_page_text(const struct size_answer *answer);
int size_page_csv(const struct size_answer *answer);
int size_page_json(const struct size_answer *answer);
int size_page_explain(const struct size_answer *answer);

/* A value in the unit it was varied in. */
double size_shown(const dregs_varied *varied, double si);

#endif
