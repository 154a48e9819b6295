/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* read.h: what the files that read a line file share; not for others. */
#ifndef DREGS_LINE_READ_H
#define DREGS_LINE_READ_H

#include "dregs/unit.h"
#include "line/inside.h"

struct reader {
    dregs_line *line;
    dregs_faults *faults;
    int bad;
};

#define SAY(r, row_, ...)                                                                          \
    ((r)->bad = 1,                                                                                 \
     dregs_fault_add((r)->faults, DREGS_BAD_DATA, dregs_line_at((r)->line, row_), __VA_ARGS__))

/* Is there no room for another fault? */
int dregs_line_reader_full(const struct reader *r);

/* items.c: the rows that give a kind, to items; their structs, with the grammar's defaults. */
dregs_status dregs_line_gather_items(struct reader *r);
dregs_status dregs_line_start_items(struct reader *r);

/* values.c: a quantity of a row; `into` is left as it is when the row has a fault. */
void dregs_line_read_quantity(struct reader *r, unsigned row, const struct property *property,
                              dregs_value *into);
/* A unit that the property allows; 0 and a message of DREGS_UNIT_MESSAGE bytes when it is not. */
int dregs_line_read_value_unit(const struct property *property, const char *text, dregs_unit *unit,
                               char *message);
/* What is wrong with a value, in words; NULL when it is within the bounds of its type. */
const char *dregs_line_out_of_bounds(enum value_type type, double si);

/* words.c: one for each kind of word. */
word_reader dregs_line_read_air, dregs_line_read_class, dregs_line_read_compensation,
    dregs_line_read_drain_or_waste, dregs_line_read_dump_at, dregs_line_read_formula,
    dregs_line_read_hazard, dregs_line_read_law, dregs_line_read_level, dregs_line_read_liquid,
    dregs_line_read_liquid_or_tank, dregs_line_read_on_off, dregs_line_read_salt,
    dregs_line_read_sequence, dregs_line_read_solvent, dregs_line_read_tank,
    dregs_line_read_tank_or_drain, dregs_line_read_weekdays, dregs_line_read_whose;

#endif
