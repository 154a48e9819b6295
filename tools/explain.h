/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.h: parts of the working that more than one tool shows. */
#ifndef DREGS_EXPLAIN_H
#define DREGS_EXPLAIN_H

#include "line/line.h" /* goes when the pages have moved down */
#include "page.h"

/* Six figures, so that a check by hand does not end in rounding. */
const char *fig(struct numbers *n, double value);

/* "[file:12 drag-out 85 mL/m2; stopped-flow reading]" or "[default]" */
void source(const dregs_line *line, unsigned row, const char *otherwise);

/* "    name = value unit", with where it came from. */
void given(const dregs_line *line, const char *name, double value, const char *unit, unsigned row,
           const char *otherwise);

void explain_property(const dregs_line *line, const dregs_fluid *fluid, dregs_property property,
                      double value);

/* A tank's volume balance between loads, its evaporation with the correlation. */
void explain_tank(const dregs_line *line, unsigned index);

/* What a link leads to: a stage, a liquid, "drain". */
const char *link_name(const dregs_line *line, dregs_link link);

#endif
