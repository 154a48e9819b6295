/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bounds.h: words of limits and targets of concentration, for all pages that name one. */
#ifndef DREGS_PAGE_BOUNDS_H
#define DREGS_PAGE_BOUNDS_H

#include "dregs/bound.h"
#include "page/inside.h"

enum { BOUND_WORDS = 256 };

/* What is bounded: "oil in bath", "all solutes in the film that leaves last". */
const char *dregs_page_bound_of(const dregs_line *line, const dregs_bound *bound,
                                char into[BOUND_WORDS]);
/* A value of it in the unit that the file uses, "2 g/L". */
const char *dregs_page_bound_value(const dregs_line *line, const dregs_bound *bound, double si,
                                   char into[BOUND_WORDS]);
/* The row that states it, as a program names it: "most", "least", "target conductivity" ... */
const char *dregs_page_bound_kind(const dregs_bound *bound);
/* How long that is after the fresh start: "24.7 h", "33 min". */
const char *dregs_page_bound_time(const dregs_line *line, uint64_t load, char into[BOUND_WORDS]);
/* The load that a limit is crossed at, as a sentence: "oil in bath passes its limit of 2 g/L at
 * load 212 (24.7 h)". */
void dregs_page_bound_crossed(dregs_report *report, const dregs_line *line,
                              const dregs_bound *bound);

#endif
