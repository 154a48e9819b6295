/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.h: what the files of the answer of dregs-dry share; not installed. */
#ifndef DREGS_ANSWER_DRY_INSIDE_H
#define DREGS_ANSWER_DRY_INSIDE_H

#include "answer/inside.h"
#include "dregs/answer_dry.h"
#include "line/line.h"

/* A result with what only the answer sees of it. */
struct dry_answer {
    dregs_dry_result result; /* first: a result is the address of its answer */
    dregs_dry_request request;
    const dregs_liquids *liquids;
    const dregs_line *line;
    const dregs_mixtures *mixtures; /* lasting for all draws */
    dregs_mixtures *own_mixtures;
    char *message;    /* for the time of a call */
    double tolerance; /* of the integration */
    int drawn;        /* 1: one of many draws, of which times and verdicts alone are asked */
    dregs_dry_row row[DREGS_DRY_ROWS_MOST];
    dregs_caution *of_row[DREGS_DRY_ROWS_MOST], *caution;
};

/* dry.c: every drying that the request asks for, and whether it passes. */
dregs_status dregs_answer_dry_rows(struct dry_answer *answer);
/* Forgets the rows. */
void dregs_answer_dry_clear(struct dry_answer *answer);

/* dry_case.c: a film to be dried. One more sentence on what is assumed. */
void dregs_answer_dry_assume(dregs_dry_row *row, const char *format, ...) DREGS_FORMAT(2, 3);
/* The case of a row: what the request asks for, else what is told, else what is usual; `told` then
 * holds the first two. */
dregs_status dregs_answer_dry_complete(struct dry_answer *answer, dregs_dry_row *row,
                                       struct dregs_line_drying *told);
/* kg/m2 of solvent and water in the film that is told. */
dregs_status dregs_answer_dry_masses(struct dry_answer *answer, dregs_dry_row *row,
                                     const struct dregs_line_drying *told);
/* The film of the request in air of that temperature, worked out. */
dregs_status dregs_answer_dry_of_request(struct dry_answer *answer, double at);

/* dry_line.c: every dry stage of the line that takes over a wet load, worked out; at: NaN for the
 * line's own temperature. */
dregs_status dregs_answer_dry_of_line(struct dry_answer *answer, double at);
/* kg/m2 that the film of the worst load leaves; NaN where there is no such load. */
dregs_status dregs_answer_dry_residue(const dregs_line *line, double *left);

/* dry_time.c: works a completed row out. */
dregs_status dregs_answer_dry_work_out(struct dry_answer *answer, dregs_dry_row *row,
                                       const struct dregs_line_drying *told);

/* dry_vapour.c: the fresh air that a row needs, and what the air holds with the one stated. */
dregs_status dregs_answer_dry_dilute(struct dry_answer *answer, dregs_dry_row *row);
/* Is it known that the vapour stays below a quarter of its limit? */
int dregs_answer_dry_vapour_is_safe(const dregs_dry_row *row);
/* The cautions of each drying, and those of all together. */
dregs_status dregs_answer_dry_caution(struct dry_answer *answer);

#endif
