/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.h: what dregs-dry was asked and what the engine answered; the pages print it. */
#ifndef DREGS_TOOL_DRY_H
#define DREGS_TOOL_DRY_H

#include "dregs/dregs.h"
#include "dregs/dry.h"
#include "front.h"

enum { DRY_ROWS_MOST = 64, ASSUMED_MOST = 12 };

/* A film in one setting, as the options or a dry stage of the line tell it. */
struct dry_request {
    const char *file, *liquids_file;
    const char *liquid;
    double film;  /* m; NaN when not given, as all below */
    double water; /* share of water by mass in the film */
    double at[DRY_ROWS_MOST];
    unsigned at_count;
    double start, speed, humidity, heat_capacity, length, volume, fresh_air, area, recess, until;
    const char *sweep; /* "temperature=20..80 degC" */
    enum front_format format;
    int explain, check;
};

/* One drying: a stage of the line or the one film, at one value of what is swept. */
struct dry_row {
    const char *stage; /* NULL without a line */
    dregs_dry_case film;
    dregs_drying drying;
    double isothermal, wet_bulb; /* s, the bounds; NaN where they could not be had */
    double recess;               /* s; NaN for none */
    double needed;               /* m3/s of fresh air for 25 %; NaN without a volume */
    double dilution;             /* m3 of air for 25 % of the film's vapour; NaN for none */
    double vapour;               /* kg of the liquid in the film of a load */
    int air_stated;              /* fresh air was stated */
    char assumed[ASSUMED_MOST][120];
    unsigned assumed_count;
};

struct dry_answer {
    const struct dry_request *request;
    const dregs_liquids *liquids;
    dregs_mixtures *mixtures;
    dregs_regulations *regulations;
    const dregs_line *line; /* NULL without one */
    struct dry_row row[DRY_ROWS_MOST];
    unsigned rows;
    const char *swept; /* what differs between the rows: its name and unit */
    double residue;    /* kg/m2 that the worst load's film leaves; NaN without a line */
    char message[DREGS_DRY_MESSAGE];
};

/* Fills a zeroed answer. Returns FRONT_DONE or the status to exit with. */
int dry_fill(struct dry_answer *answer, const struct dry_request *request,
             const dregs_liquids *liquids, const dregs_line *line);
void dry_clear(struct dry_answer *answer);

/* The cautions of a row, the most pressing first: how many, each with its rule and text. */
struct dry_caution {
    const char *id, *source;
    char text[400];
};
enum { DRY_CAUTIONS_MOST = 16 };
unsigned dry_cautions(const struct dry_answer *answer, const struct dry_row *row,
                      struct dry_caution *cautions);

int dry_page_text(const struct dry_answer *answer);
int dry_page_csv(const struct dry_answer *answer);
int dry_page_json(const struct dry_answer *answer);
int dry_page_explain(const struct dry_answer *answer);

#endif
