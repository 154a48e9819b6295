/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.h: what the files of the page of a sizing share. */
#ifndef DREGS_PAGE_SIZE_H
#define DREGS_PAGE_SIZE_H

#include "dregs/answer_size.h"
#include "page/inside.h"

struct sizing {
    dregs_report *report;
    const dregs_line *line;
    const dregs_size_request *request;
    const dregs_size_result *result;
};

/* A value that was found, in the unit it was varied in. */
double dregs_page_size_found(const dregs_sized *sized, unsigned index);
/* The unit behind a value in text: a share has none. */
const char *dregs_page_size_unit(const dregs_varied *varied, unsigned index);

/* Which bound of a concentration binds, or comes nearest. */
void dregs_page_size_bound(const struct sizing *s);
/* With one number of loads between dumps: the tanks before it that are never dumped. */
void dregs_page_size_other_tanks(const struct sizing *s);
/* What keeps a layout where it is: the residue, or a limit of a concentration. Into `words`. */
void dregs_page_size_binds(const dregs_size_row *row, char *words, size_t room);
/* What stands furthest above its limit, as a multiple of it, with its name. */
void dregs_page_size_missed(const dregs_line *line, const dregs_sized *sized, double *times,
                            char *words, size_t room);
/* Where the answer leaves the range that the file describes. */
void dregs_page_size_described(const struct sizing *s);
/* That nights and weekends are not counted, where the schedule does not say enough of them.
 * `found`: NULL where several answers are shown. */
void dregs_page_size_week(const struct sizing *s, const dregs_compliance *found);
void dregs_page_size_week_assumed(const struct sizing *s);
/* Which loads decide, and how soon the line is near its long run. */
void dregs_page_size_regime(const struct sizing *s);
/* size_doubt.c: how sure an answer is, and what that costs; the verdict of an answer that is as
 * sure as asked for, or cannot be (0: neither was asked); as a column of layouts; for programs. */
int dregs_page_size_sure_verdict(const struct sizing *s);
void dregs_page_size_sure(const struct sizing *s);
void dregs_page_size_sure_layouts(const struct sizing *s);
void dregs_page_size_sure_data(const struct sizing *s);
/* Are the spreads used: DREGS_ASKED_DOUBT or 0. "62 %", a share. The working. */
unsigned dregs_page_size_sure_asked(const struct sizing *s);
const char *dregs_page_size_sure_share(double share, char into[32]);
/* Is it as sure as asked for, where that was asked? Rows of the values for programs, behind `first`
 * and, of layouts, the number of stages. */
int dregs_page_size_sure_met(const dregs_size_sureness *sure);
void dregs_page_size_sure_values(const dregs_size_sureness *sure, dregs_table *table,
                                 const char *first, unsigned stages);
void dregs_page_size_sure_explain(const struct sizing *s);

/* The curve of liquid or cost against residue. */
void dregs_page_size_curve(const struct sizing *s);
/* The same as pictures. */
void dregs_page_size_pictures(const struct sizing *s);
/* Liquid or cost against residue, where other limits were asked for. */
void dregs_page_size_trade_off_picture(const struct sizing *s);

#endif
