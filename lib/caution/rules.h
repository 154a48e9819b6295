/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* rules.h: what a row of the table of cautions is made of; inside the room only. */
#ifndef DREGS_CAUTION_RULES_H
#define DREGS_CAUTION_RULES_H

#include "dregs/caution.h"

/* What follows from the facts, counted on behind them. */
enum {
    BELOW_FLASH = DREGS_FACTS, /* K from the temperature up to the flash point */
    FIRE,                      /* vapour over its lower flammable limit: in the air where that is
                                  worked out, else in air that it saturates */
    WATER,                     /* 1: it is water, 0: another liquid */
    MIXED,                     /* 1: it is mixed with another one, 0: it is not */
    AIRED,                     /* 1: fresh air is stated, 0: none is, or none at all */
    EXPOSED,                   /* vapour over the exposure limit */
    BELOW_DEW,                 /* K that a film falls below the dew point */
    IGNITING,                  /* walls over the autoignition temperature, both in degC */
    WARM,                      /* K above the room */
    SHORT,                     /* 1: less fresh air is stated than the vapour needs, else 0 */
    NEVER,                     /* 1: ultrasound does not bring it near its flash point, else 0 */
    LOADS,                     /* loads whose vapour together reaches a quarter of the limit */
    RESTRICTED                 /* 1: a regulation bans or restricts the liquid on parts, else 0 */
};

/* What is asked of a fact. Nothing that is asked of a number holds of one that is not known. */
enum relation {
    KNOWN = 1,
    UNKNOWN,
    IS,       /* equal to the number */
    ABOVE,    /* the number */
    AT_MOST,  /* the number */
    REACHES,  /* at least the threshold of the rule */
    WITHIN,   /* at most that threshold */
    NOT_BELOW /* the number; holds of what is not known too */
};

struct term {
    int fact; /* a dregs_fact, or what follows from them */
    enum relation relation;
    double number;
};

enum { TERMS_MOST = 4, CASES_MOST = 8 };

/* A rule in one situation: the places it speaks of, terms that must all hold, the sentence. */
struct caution_case {
    unsigned places; /* a bit for each dregs_place */
    struct term term[TERMS_MOST];
    const char *sentence; /* with {names} for what is filled in, see fill.c */
};

struct rule {
    dregs_caution_rule public;
    int weight;   /* the fact whose highest value makes a place the most critical */
    int of_parts; /* the liquid does not matter: it speaks of all places at once */
    struct caution_case in[CASES_MOST];
};

/* Row `index` or NULL past the end. */
const struct rule *dregs_caution_row_at(size_t index);

/* The same of the rules that hold a line's numbers against what is usual; plausible.c. They stand
 * before the notes of the table, their own notes last. */
const struct rule *dregs_caution_plausible_at(size_t index);
/* What they ask of a stage. */
void dregs_caution_of_plausible(const dregs_line *line, unsigned index, dregs_facts *facts);

/* A fact, or what follows from the facts; NaN for what is not known. */
double dregs_caution_fact_of(const dregs_facts *facts, int fact);

/* Sets the fresh air that the film of stage `wet` needs, of which the share `left` dries in stage
 * `index`; nothing where its vapour cannot burn or it cannot be worked out. */
void dregs_caution_of_drying(const dregs_line *line, unsigned index, unsigned wet, double left,
                             dregs_facts *facts);

/* Sets whether a stage stands open with a solvent that mixes with water, and how much of it that
 * takes up. */
/* Notes in facts that memory was short; other reasons are those of numbers that are not known.
 * Returns the status. */
dregs_status dregs_caution_failed(dregs_facts *facts, dregs_status status);
void dregs_caution_of_uptake(const dregs_line *line, unsigned index, dregs_facts *facts);

/* The lowest limit on record for the air that people breathe over 8 h, share of its volume; NaN for
 * none. */
double dregs_caution_limit_lowest(const dregs_liquids *liquids, const char *liquid);

/* All of these limits in words, the lowest first; "" for none. */
void dregs_caution_limits_write(const dregs_liquids *liquids, const char *liquid, char *text,
                                size_t room);

/* Puts a sentence together, with the places named `where`. */
void dregs_caution_fill(const char *sentence, const dregs_facts *facts, const char *where,
                        char text[DREGS_CAUTION_TEXT]);

#endif
