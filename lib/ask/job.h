/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* job.h: a request in JSON on its way to an answer, for the files of this room. */
#ifndef DREGS_ASK_JOB_H
#define DREGS_ASK_JOB_H

#include "ask/inside.h"
#include "base/gathered.h"

#include <jansson.h>

/* A file of the request: its text, and the name that messages and the answer call it by. */
struct ask_file {
    const char *name, *text; /* NULL: not given */
    size_t length;
};

/* Lines in one account: so many of the files, from the first one on. */
struct ask_site {
    const char *name;
    unsigned first, lines;
};

/* What the tools exit with. */
enum ask_exit { ASK_WRONG_USE = 2, ASK_BAD_DATA = 3, ASK_IO = 4 };

struct ask_job {
    dregs_asked *asked; /* NULL before the verb is known */
    const char *tool;   /* its verb, once all is done */
    struct ask_file line[DREGS_TALLY_LINES_MOST];
    unsigned lines;
    struct ask_site site[DREGS_TALLY_LINES_MOST];
    unsigned sites;
    struct ask_file liquids_file, readings, calendar, actual;
    dregs_liquids *liquids;
    dregs_line *read[DREGS_TALLY_LINES_MOST];
    /* what is wrong; the first status counts */
    json_t *kept;   /* numbers of the request as texts */
    json_t *faults; /* an array; NULL while there is none */
    dregs_status status;
    enum ask_exit exit;
    struct dregs_gathered answer;
};

/* Adds a fault: that of a file with its line (0: none), or of an option; NULL where it is of
 * neither. Returns `status`. */
dregs_status dregs_ask_fault(struct ask_job *job, enum ask_exit ends, dregs_status status,
                             const char *file, unsigned long line, const char *option,
                             const char *text);

/* Wrong use: a message about options. */
dregs_status dregs_ask_misused(struct ask_job *job, dregs_status status, const char *option,
                               const char *text);

/* What the answer of a file has come to: its faults, or its status in words. */
dregs_status dregs_ask_faults(struct ask_job *job, dregs_status status, const dregs_faults *faults);

/* A status without a file, with its words where the message is empty. */
dregs_status dregs_ask_failed(struct ask_job *job, dregs_status status, const char *file,
                              const char *message);

/* Takes the request, options and files. Returns the status of what is wrong first. */
dregs_status dregs_ask_take_request(struct ask_job *job, const json_t *request);

/* How sure: what came of asking for draws. */
dregs_status dregs_ask_drawn(struct ask_job *job, dregs_status status, const dregs_faults *faults);

/* Writes the report as JSON, with its working (NULL: none), and gives up both; `made`: what came of
 * making them. */
void dregs_ask_write(struct ask_job *job, dregs_status made, dregs_report *report,
                     dregs_report *working);

/* A report as text, to be freed. */
dregs_status dregs_ask_text(dregs_report *report, char **text);

/* Reads the table of liquids and the lines; what is wrong in any of them is said. */
dregs_status dregs_ask_read(struct ask_job *job);

#endif
