/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixes.h: random lines with loads of several kinds for the tests, each beside files that have one
 * kind alone.
 */
#ifndef DREGS_TESTS_MIXES_H
#define DREGS_TESTS_MIXES_H

#include "lines.h"

enum { MIX_KINDS = 3, MIX_CYCLE = 8 };

struct mix {
    dregs_line *line;             /* with the sequence */
    dregs_line *alone[MIX_KINDS]; /* the same as a file of one kind, written by itself */
    dregs_map *map, *of[MIX_KINDS];
    unsigned kinds, cycle;
    unsigned order[MIX_CYCLE]; /* the kinds of a cycle */
    struct lines_text text;    /* of `line` */
};

/* Mix number `number`: always the same for a number. */
void mix_make(uint64_t number, struct mix *mix);
void mix_free(struct mix *mix);
/* The kind of load number `load`, by the order that was written. */
unsigned mix_kind(const struct mix *mix, uint64_t load);
/* Load number `load` is about to come: a state of the line of its kind alone, with the tanks as
 * another line left them in `before`, which is given up. */
dregs_state *mix_pass(const struct mix *mix, dregs_state *before, uint64_t load);

#endif
