/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stage.h: a kind of stage as one table of what it is and does; not installed. The door of this
 * folder: other rooms of the library ask through it too.
 *
 * Each kind fills in a struct stage_kind in a file of its own here; the schema (grammar.c) lists
 * them. What only some kinds have is a function that may be NULL.
 */
#ifndef DREGS_LINE_STAGE_STAGE_H
#define DREGS_LINE_STAGE_STAGE_H

#include "dregs/stage.h"
#include "dregs/stream.h"
#include "line/line.h"

struct checker;
struct item;

/* A substance is a solute, in kg, or a liquid of the file, in m3: number s is solute s, number
 * (solutes + f) is liquid f. A liquid is carried by the same equations as a solute, with a fresh
 * content of 1 in itself and 0 in the others. */
int dregs_stage_is_liquid(const dregs_line *line, unsigned substance);
/* What one m3 of a fresh liquid holds of the substance. */
double dregs_stage_fresh_content(const dregs_line *line, unsigned substance, unsigned fluid);

enum { STAGE_PARTS = 3 };

/* Where a part of what a load brings and of what is put on it goes, if not into a tank it visits:
 * of_film times the film before, of_trapped times what was trapped, and so much of the substance
 * from fresh liquid. */
struct stage_part {
    dregs_stream stream;
    double of_film, of_trapped, fresh;
    int into; /* the tank that catches it; -1: it leaves the line, or has only just come in */
};

/* What a visit does to liquid trapped in the parts; all 0 where that counts with the film. */
struct stage_trapped {
    double keep;           /* of what was trapped */
    double takes;          /* m3 of a tank's mixture */
    double of_film, gives; /* what it gets of the film, what it gives to it; without a tank */
    double brought;        /* of fresh liquid */
};

/* What one visit does to one substance, its masses being f in the film and h trapped before, f' and
 * h' behind, m in the tank:
 *     c  = (m + (1 - keep) f + (1 - trapped.keep) h) / mixes        in a tank
 *     f' = keep f + trapped.gives h + takes c + brought
 *     h' = trapped.of_film f + trapped.keep h + trapped.takes c + trapped.brought
 * and the tank keeps the rest. `off` is the share of what adheres to the parts that comes off, into
 * the tank, before. */
struct stage_visit {
    int tank; /* -1: none; the next three are then 0 */
    double off;
    double mixes; /* m3: the tank with what of the load's liquid mixes with it */
    double takes; /* m3 of the mixture */
    double keep, brought;
    struct stage_trapped trapped;
    unsigned parts;
    struct stage_part part[STAGE_PARTS];
};

/* Volumes of one visit that no tank accounts for, m3 per load. */
struct stage_volumes {
    const dregs_fluid *fluid; /* of the next two */
    double sprayed;           /* put on the load, fresh */
    double runoff;            /* runs off it; goes to waste as that liquid */
    dregs_link runoff_to;     /* DREGS_LINK_NONE where nothing does */
    double dried;             /* of the film before that goes neither on nor into a tank */
};

struct stage_kind {
    unsigned traits; /* dregs_stage_trait */
    /* What its rows must hold together, beyond those that the schema requires; says what does not.
     */
    void (*check)(struct checker *checker, const struct item *item, dregs_stage *stage);
    /* The film that a load leaves with; `in` is known. NULL: it leaves without one. The second says
     * what cannot be once all films up to this one are known. 0 after a fault. */
    int (*film)(dregs_line *line, unsigned index, dregs_carried *carried, dregs_faults *faults);
    int (*fits)(const dregs_line *line, unsigned index, const dregs_carried *carried,
                dregs_faults *faults);
    /* The rest speaks of a line whose films are known; `visit` and `volumes` are zeroed before. */
    void (*visit)(const dregs_line *line, unsigned index, unsigned substance,
                  struct stage_visit *visit);
    void (*volumes)(const dregs_line *line, unsigned index, struct stage_volumes *volumes);
    unsigned (*working)(const dregs_line *line, unsigned index, unsigned solute,
                        const dregs_stage_masses *masses, dregs_stage_step *steps);
};

/* By dregs_stage_kind; grammar.c. */
extern const struct stage_kind *const dregs_stage_kinds[];

void dregs_stage_visit(const dregs_line *line, unsigned index, unsigned substance,
                       struct stage_visit *visit);
void dregs_stage_volumes(const dregs_line *line, unsigned index, struct stage_volumes *volumes);

#endif
