/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker.h: what the files of the answer to dregs-beaker share; stays in the room. */
#ifndef DREGS_ANSWER_BEAKER_INSIDE_H
#define DREGS_ANSWER_BEAKER_INSIDE_H

#include "base/pool.h"
#include "dregs/answer_beaker.h"
#include "dregs/number.h"

#include <stdio.h>

enum {
    BEAKER_WAYS_MOST = 8,
    BEAKER_RINSES_MOST = 6,
    BEAKER_ASSUMED_MOST = 12,
    BEAKER_UNIT = 24,
    BEAKER_SPREAD = 40
};

/* What one option gave, as it was written and in SI. */
struct given {
    const char *text; /* NULL: nothing */
    char value[DREGS_NUMBER_TEXT], unit[BEAKER_UNIT], spread[BEAKER_SPREAD];
    double si;
    int like; /* which of the units it may have; -1: a word */
};

/* An answer in the making; its first member is what the user sees. */
struct beaker {
    dregs_beaker_result shown;
    dregs_beaker_request asked;
    const dregs_liquids *liquids;
    struct given given[DREGS_BEAKER_GIVEN];
    dregs_beaker_way way[BEAKER_WAYS_MOST];
    dregs_line *line[BEAKER_WAYS_MOST];
    char *assumed[BEAKER_ASSUMED_MOST];
    unsigned assumptions;
    dregs_beaker_point *point;
    size_t room;
    struct dregs_pool pool;
    char *message;
};

/* ---- beaker_given.c: options in words ---- */

enum { BEAKER_PER_AREA = 0, BEAKER_PER_VOLUME = 1, BEAKER_WORD = -1 }; /* `like` of a limit */
enum { BEAKER_PART_VOLUME = 0, BEAKER_AREA_VOLUME = 1 };               /* of a drag-out */
enum { BEAKER_DIAMETER = 0, BEAKER_MOUTH = 1 };                        /* of an opening */

/* Reads all that is given and looks whether the question has what it needs. */
dregs_status dregs_answer_beaker_read(struct beaker *b);
/* Is it given, by number? */
int dregs_answer_beaker_has(const struct beaker *b, dregs_beaker_given which);
/* Its SI value, or `otherwise`. */
double dregs_answer_beaker_or(const struct beaker *b, dregs_beaker_given which, double otherwise);
/* The heat capacity of a metal by its name, J/(kg K); NaN for none, and then all their names. */
double dregs_answer_beaker_metal(const char *name);
/* Lists something as assumed. */
dregs_status dregs_answer_beaker_assume(struct beaker *b, const char *format, ...)
    DREGS_FORMAT(2, 3);

/* ---- beaker_line.c: the line files ---- */

/* How the final rinse is done. */
enum beaker_rinse { BEAKER_DIP, BEAKER_POUR };

/* A line with `stages` rinses of `volume` m3 each, or one spray that uses so much, behind the bath
 * that the film comes from; as way number `way`. \param dump_every  loads; 0: never. */
dregs_status dregs_answer_beaker_rinsing(struct beaker *b, unsigned way, enum beaker_rinse how,
                                         unsigned stages, double volume, unsigned dump_every);
/* A beaker that stands open or that ultrasound warms; parts that leave an oven. */
dregs_status dregs_answer_beaker_standing(struct beaker *b, unsigned way);
dregs_status dregs_answer_beaker_oven(struct beaker *b, unsigned way);

/* ---- the questions: one way or more each ---- */

dregs_status dregs_answer_beaker_parts(struct beaker *b);
dregs_status dregs_answer_beaker_rinses(struct beaker *b);
dregs_status dregs_answer_beaker_bottle(struct beaker *b);
dregs_status dregs_answer_beaker_fresh(struct beaker *b);
dregs_status dregs_answer_beaker_open(struct beaker *b);
dregs_status dregs_answer_beaker_warm(struct beaker *b);
dregs_status dregs_answer_beaker_cool(struct beaker *b);

/* A new way, with nothing known of it. */
dregs_beaker_way *dregs_answer_beaker_way(struct beaker *b, unsigned way, dregs_beaker_kind kind,
                                          double takes);
/* A point more for the picture. */
dregs_status dregs_answer_beaker_draw(struct beaker *b, unsigned way, double x, double y);
/* A volume for people: "50 mL". */
const char *dregs_answer_beaker_volume(char into[DREGS_NUMBER_TEXT + 8], double volume);

#endif
