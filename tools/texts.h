/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* texts.h: the files of data/ that are compiled in, so that they are there wherever the program is:
 * scenarios of invented lines with their logs, and templates to begin with.
 */
#ifndef DREGS_TEXTS_H
#define DREGS_TEXTS_H

#include <stddef.h>
#include <stdio.h>

struct text {
    const char *name; /* of its file, without .csv */
    int template;     /* 1: of data/templates */
    const unsigned char *bytes;
    size_t length;
};

extern const struct text texts[];
extern const size_t text_count;

/* One of them by its name; NULL for none. */
const struct text *text_find(const char *name, int template);
/* Lists them: the name, and the first sentence of its comments. Returns the exit status. */
int text_list(int template, FILE *stream);

#endif
