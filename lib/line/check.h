/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.h: what the checks of a description share with those of the kinds of stages; stays in the
 * room.
 */
#ifndef DREGS_LINE_CHECK_H
#define DREGS_LINE_CHECK_H

#include "line/inside.h"

struct checker {
    dregs_line *line;
    const struct item *items;
    unsigned count;
    dregs_faults *faults;
    int changed; /* 1: a line that was checked before, with other values but no other rows */
    int bad;
};

#define SAY(c, row_, ...)                                                                          \
    ((c)->bad = 1, (void)dregs_fault_add((c)->faults, DREGS_BAD_DATA,                              \
                                         dregs_line_at((c)->line, row_), __VA_ARGS__))

/* The row that gave a property of the item, 0 for none. */
unsigned dregs_line_check_given(const struct item *item, const char *name);
/* limits.c: how far concentrations may go, of a stage or a liquid. */
void dregs_line_check_limits(struct checker *c, const struct item *item);
/* The targets of concentration: how many there are, and what they need. */
unsigned dregs_line_check_concentrations(struct checker *c);
/* Says that the item does not state what it must. */
void dregs_line_check_missing(struct checker *c, const struct item *item, const char *what);
/* `which` may be given only together with `other`. */
void dregs_line_check_needs(struct checker *c, const struct item *item, const char *which,
                            const char *other);
void dregs_line_check_excludes(struct checker *c, const struct item *item, const char *which,
                               const char *other);
/* loads.c: what the loads must hold together, and their sequence. */
void dregs_line_check_loads(struct checker *c);
/* Has every load a film of its own behind this stage? */
int dregs_line_check_own_films(const struct checker *c, const dregs_stage *stage);
/* room.c: what the item `room` must hold together. */
void dregs_line_check_room(struct checker *c, const struct item *item);
/* trapped.c */
void dregs_line_check_trapped(struct checker *c, const struct item *item);
/* The film left by a stage is stated in exactly one way; sets stage->film_way. */
void dregs_line_check_film(struct checker *c, const struct item *item, dregs_stage *stage);

#endif
