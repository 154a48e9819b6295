/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* lines.h: line files for the tests: written as text, read by the library, some of them random. */
#ifndef DREGS_TESTS_LINES_H
#define DREGS_TESTS_LINES_H

#include "dregs/balance.h"
#include "dregs/line.h"

#include <stdint.h>

enum { LINES_ROOM = 32768 };

/* A text that is being written. */
struct lines_text {
    size_t used;
    char bytes[LINES_ROOM];
};

/* Adds to the text; the test fails when it is full. */
void lines_say(struct lines_text *text, const char *format, ...) DREGS_FORMAT(2, 3);
/* Empties the text and begins it with the header row. */
void lines_begin(struct lines_text *text);

/* Reads a line with the built-in liquids and, unless NULL, more rows of the liquid table. The test
 * fails with all faults printed when it is refused. Freed, with its liquids, by lines_free. */
dregs_line *lines_read(const char *text);
dregs_line *lines_read_with(const char *text, const char *liquids);
/* The same; NULL when the line is refused, with the reasons in `faults`. */
dregs_line *lines_try(const char *text, const char *liquids, dregs_faults *faults);
void lines_free(dregs_line *line);

/* The map of a line and the state of a map; the test fails when there is none. */
dregs_map *lines_map(const dregs_line *line);
dregs_state *lines_state(const dregs_map *map);

/* Random line number `number` and its text: always the same for a number. One that the reader
 * refuses is written anew; `tried` (may be NULL) grows by how many it took. */
dregs_line *lines_random(uint64_t number, struct lines_text *text, unsigned *tried);

/* The same line with rows that say how liquid trapped in its parts exchanges. */
dregs_line *lines_random_trapping(uint64_t number, struct lines_text *text, unsigned *tried);
/* By turns the one and the other. */
dregs_line *lines_random_either(uint64_t number, struct lines_text *text);

/* A random stream of its own: place `at` of stream `key`. */
struct lines_stream {
    uint64_t key, at;
};
uint64_t lines_bits(struct lines_stream *stream);
double lines_between(struct lines_stream *stream, double low, double high);
unsigned lines_below(struct lines_stream *stream, unsigned count);
int lines_chance(struct lines_stream *stream, double share);

#endif
