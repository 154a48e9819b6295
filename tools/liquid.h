/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid.h: what dregs-liquid was asked and what it found; the pages print it. */
#ifndef DREGS_TOOL_LIQUID_H
#define DREGS_TOOL_LIQUID_H

#include "dregs/mixture.h"
#include "front.h"

enum { FACTS_MOST = 32, CAUTIONS_MOST = 8, NAME_ROOM = 96, CAUTION_ROOM = 400 };

struct liquid_request {
    const char *name; /* NULL: list what is known */
    const char *liquids_file;
    double temperature; /* K, NaN when not asked */
    double share;       /* mass share of a mixture's first liquid, NaN when not asked */
    enum front_format format;
    int explain;
};

/* One line of the answer: a value in the unit shown, or why there is none. */
struct fact {
    char name[NAME_ROOM]; /* "density" */
    const char *word;     /* instead of a value, NULL for a number */
    double value;         /* NaN when it is refused or needs a temperature */
    const char *unit, *source, *evidence;
    const char *note;            /* "" for nothing */
    const dregs_liquid_row *row; /* what it rests on; one of the two, or none */
    const dregs_mixture_row *mixture;
    char reason[DREGS_LIQUID_MESSAGE]; /* why there is no value, "" where there is one */
};

struct liquid_caution {
    const char *id, *source;
    char text[CAUTION_ROOM];
};

struct liquid_answer {
    const struct liquid_request *request;
    const dregs_liquids *liquids;
    const dregs_mixtures *mixtures;
    const dregs_regulations *regulations;
    const dregs_mixture_row *pair; /* the first row of the mixture asked for, NULL for a liquid */
    struct fact fact[FACTS_MOST];
    size_t facts;
    struct liquid_caution caution[CAUTIONS_MOST];
    size_t cautions;
};

/* The facts of a pure liquid, of a mixture; the cautions that the numbers call for. */
void liquid_facts(struct liquid_answer *answer, const char *liquid);
void liquid_mixture_facts(struct liquid_answer *answer);
void liquid_cautions(struct liquid_answer *answer);

/* The unit in which the pages show a property. */
const char *liquid_shown_unit(dregs_property property);

/* Does a regulation concern what was asked for? */
int liquid_concerns(const struct liquid_answer *answer, const dregs_regulation *regulation);

int liquid_page_text(struct liquid_answer *answer);
int liquid_page_csv(struct liquid_answer *answer);
int liquid_page_json(struct liquid_answer *answer);

#endif
