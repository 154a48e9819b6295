/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.h: what the pages of a log of readings share; not for others. */
#ifndef DREGS_PAGE_REUSE_H
#define DREGS_PAGE_REUSE_H

#include "dregs/answer_reuse.h"
#include "dregs/stage.h"
#include "dregs/time.h"
#include "page/inside.h"

struct reusing {
    dregs_report *report;
    const dregs_line *line;
    const dregs_readings *readings;
    const dregs_reuse_result *result;
};

/* Values of the log in words; a ring of buffers lets one call name several. Zero-initialise. */
struct readings_text {
    char text[4][96];
    unsigned next;
};

/* "4.31 uS/cm": a value in the unit that the log writes, or in uS/cm or mg/L where it has none. */
const char *dregs_page_reading(struct readings_text *texts, const dregs_readings *readings,
                               dregs_measured what, int unit, double value);

/* "<" or ">" before the value of a reading that is only a bound, "" before all others. */
const char *dregs_page_beyond(const dregs_reading *reading);
/* How many readings of the log are. */
size_t dregs_page_log_beyond(const dregs_readings *readings);

/* A number to two digits: what is itself an estimate of a scatter. */
const char *dregs_page_rough(struct numbers *numbers, double value);

enum { LOG_TIME = DREGS_TIME_TEXT + 4 };
/* A time of the log, with Z where its rows state their zone. */
const char *dregs_page_log_time(const dregs_readings *readings, double time, char into[LOG_TIME]);

enum { LOG_NAME = 160 };
/* "conductivity", "concentration oil", "turbidity" */
const char *dregs_page_measured(const dregs_line *line, dregs_measured what, unsigned which,
                                char into[LOG_NAME]);
/* "drag-out", "flow of last": what a change is of, without its number */
const char *dregs_page_change(const dregs_line *line, int kind, int which, char into[LOG_NAME]);

/* Do the readings fit the line? If not, no loads and no reading at which to dump are told. */
int dregs_page_reuse_fits(const struct reusing *r);
/* Was anything learnt from the readings? Not where they were doubted before the fit. */
int dregs_page_reuse_learnt(const struct reusing *r);
/* Does the log, or the answer, tell a reading of the stage's tank? */
int dregs_page_reuse_reads(const struct reusing *r, unsigned stage);
/* Is the reading told at which to dump the stage's tank? */
int dregs_page_reuse_dumps(const struct reusing *r, unsigned stage);

/* The last period: what holds now. */
const dregs_regime *dregs_page_last_period(const dregs_reuse_result *result);

/* The line's assumptions, and what it states that the log's answer does not use. */
void dregs_page_reuse_notes(dregs_report *report, const dregs_line *line, unsigned spreads_unused);

/* The first sentence of the answer, the verdict. */
void dregs_page_reuse_verdict(const struct reusing *r);

/* What was measured on parts, beside what the line leaves on that load. */
void dregs_page_reuse_parts(const struct reusing *r);

/* What became of the rows of the log, in words. */
void dregs_page_log(dregs_report *report, const dregs_readings *readings, size_t used,
                    size_t unusable);
/* The same for programs. */
void dregs_page_log_counts(dregs_report *report, const dregs_readings *readings, size_t used);

/* What only programs read: figures, periods, every reading. */
void dregs_page_reuse_data(const struct reusing *r);

/* The same as pictures. */
void dregs_page_reuse_pictures(const struct reusing *r);

/* The working, step by step, with sources. */
void dregs_page_reuse_working(const struct reusing *r);

#endif
