/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sizing.h: a line sized, what stands in the way being a failed test. */
#ifndef DREGS_TESTS_SIZING_H
#define DREGS_TESTS_SIZING_H

#include "dregs/size.h"
#include "lines.h"

/* The line that is being written, and what the library last said. */
struct sizing {
    struct lines_text text;
    char message[DREGS_SIZE_MESSAGE];
};
extern struct sizing sizing;

/* Every load counts. */
extern const dregs_criterion sizing_ever;

/* A property of one stage between two SI values, NaN for the library's own ends. */
struct sizing_varied {
    const char *stage, *property;
    double low, high;
};
struct sizing_varied sizing_vary(const char *stage, const char *property, double low, double high);
/* Sets the ends that the library chooses; 0 when it cannot be varied. */
int sizing_range(const dregs_line *line, struct sizing_varied *varied);
dregs_compliance sizing_compliance(const char *bytes, dregs_criterion criterion);
/* The test fails when that is refused. To be given to sizing_free. */
dregs_sized *sizing_line(const dregs_line *line, const struct sizing_varied *varied, unsigned count,
                         dregs_criterion criterion, int by_cost);
/* The same for a text, every load counting. */
dregs_sized *sizing_text(const char *bytes, const struct sizing_varied *varied, unsigned count,
                         int by_cost);
void sizing_free(dregs_sized *sized);

#endif
