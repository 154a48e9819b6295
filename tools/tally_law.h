/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_law.h: what regulations ask of a line, worked out from its tally; the pages print it. */
#ifndef DREGS_TOOL_TALLY_LAW_H
#define DREGS_TOOL_TALLY_LAW_H

#include "dregs/law.h"
#include "tally.h"

#include <jansson.h>

enum { LAW_FLASHES_MOST = 64, LAW_ASKED_ROOM = 480, LAW_MONTHS = 12, LAW_CODES_ROOM = 160 };

/* The machine of 40 CFR part 63 subpart T, as --given states it. */
enum law_machine_kind {
    LAW_MACHINE_UNKNOWN,
    LAW_MACHINE_BATCH_VAPOUR,
    LAW_MACHINE_IN_LINE_EXISTING,
    LAW_MACHINE_IN_LINE_NEW,
    LAW_MACHINE_NO_INTERFACE,
    LAW_MACHINE_BATCH_COLD
};

/* Facts that no line file tells: --given KEY=VALUE. NaN or 0 where not given. */
struct law_given {
    enum law_machine_kind machine;
    int activity;       /* 0 not given, 1 article 59(5), 2 other */
    int drain;          /* 0 not given, 1 sewer, 2 collected as waste */
    double chamber;     /* m3 */
    double captured;    /* share of the vapour that is led out */
    double destroyed;   /* share of the captured that is destroyed or bound */
    double solid_waste; /* kg of solvent a month */
    double other_waste; /* kg of hazardous waste a month, from elsewhere on the site */
    struct {
        const char *stage; /* in the argument */
        size_t length;
        double kelvin;
    } flash[LAW_FLASHES_MOST];
    unsigned flashes;
};

/* A solvent of the line other than water. */
struct law_solvent {
    const char *name;
    unsigned index; /* of the tally */
    const dregs_regulation *voc, *pollutant, *listed, *subpart, *article;
    double vapour_pressure; /* Pa at 293.15 K */
    int eu_voc;             /* 1, 0, -1 ask */
    double emitted;         /* kg a year */
    double potential;       /* kg a year around the clock, or as emitted where that is more */
    double open_area;       /* m2 of the tanks filled with it; NaN where one states none */
    double cold;            /* kg a year by the rule for cold cleaners; NaN without an area */
};

/* A solvent plan over the solvents of one activity. */
struct law_plan {
    int used, activity_known;
    dregs_law_activity activity;
    dregs_law_plan plan;
    dregs_law_plan_result result;
    dregs_law_band band[2];   /* of both activities */
    dregs_law_verdict met[2]; /* YES, NO, ASK; EXCLUDED: below the threshold */
    int bound;                /* capture or drain are not given: the share is the most it can be */
};

/* A halogenated solvent's machine. */
struct law_machine {
    const struct law_solvent *solvent;
    double area;                /* m2, NaN where not known; 1 without an interface */
    double month[LAW_MONTHS];   /* kg/(m2 month), or kg/month without an interface */
    double rolling[LAW_MONTHS]; /* NaN for the first two */
    double worst, limit;        /* of the rolling means; the limit NaN where not known */
    dregs_law_verdict met;
};

/* A liquid waste of a stage. */
struct law_waste {
    unsigned stage;
    dregs_stream stream;
    int drain;   /* leaves through the drain */
    double year; /* kg; NaN where a density is not known */
    double month[LAW_MONTHS];
    double back_year, back[LAW_MONTHS]; /* kg of it that a still gives back */
    double alcohol, water;              /* shares by volume and by mass, of the liquids */
    double flash;                       /* K */
    const char *flash_from;             /* "stated" or the solvent's name */
    dregs_law_verdict ignitable, listed, hazardous;
    char codes[LAW_CODES_ROOM]; /* "D001 F005" */
};

struct law_month {
    double sure, open; /* kg hazardous; kg of which it is not decided */
    dregs_law_generator least, most;
};

struct tally_law {
    const struct law_given *given;
    const dregs_line *line;
    const dregs_tally *year;        /* NULL without a full schedule */
    dregs_tally *own_year, *around; /* around: 8760 h of loads */
    dregs_regulations *regulations;
    struct law_solvent *solvent;
    unsigned solvents;
    struct law_plan plan[2]; /* article 59(5) on record or given; the others */
    struct law_machine *machine;
    unsigned machines;
    struct law_waste *waste;
    unsigned wastes;
    struct law_month month[LAW_MONTHS];
    char (*asked)[LAW_ASKED_ROOM];
    unsigned asked_count, asked_room;
    int failed; /* memory was short */
};

/* How a waste leaves its stage: "dumped from", "drained from", ... */
const char *law_waste_leaves(const struct law_waste *waste);

/* Everything not given. */
void law_given_none(struct law_given *given);

/* Takes the argument of one --given. Returns 0, or FRONT_USAGE after saying why. */
int law_given_take(struct law_given *given, const char *argument);

/* Fills a zeroed law from the first line of the answer. Returns FRONT_DONE or the status to exit
 * with after a message. */
int tally_law_fill(struct tally_law *law, const struct tally_answer *answer,
                   const struct law_given *given);
void tally_law_clear(struct tally_law *law);

/* The parts of a page: for people; rows of the CSV page; a member of the JSON page (NULL when
 * memory is short); the same as text with the working below it. */
void tally_law_text(const struct tally_law *law);
void tally_law_csv(const struct tally_law *law);
json_t *tally_law_json(const struct tally_law *law, int *failed);
void tally_law_explain(const struct tally_law *law);

/* The year of the answer's first line: its own tally when that is a year, else *own is made, which
 * the caller frees. NULL with the reason in `message` when there is none. */
const dregs_tally *tally_year_of(const struct tally_answer *answer, dregs_tally **own,
                                 char message[DREGS_TALLY_MESSAGE]);

#endif
