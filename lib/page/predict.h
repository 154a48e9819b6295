/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.h: what the files of the page of a prediction share; not for others. */
#ifndef DREGS_PAGE_PREDICT_H
#define DREGS_PAGE_PREDICT_H

#include "dregs/stage.h"
#include "page/inside.h"

struct prediction {
    dregs_report *report;
    const dregs_line *line;
    const dregs_predict_request *request;
    const dregs_predict_result *result;
    const dregs_predict_doubt *doubt; /* NULL: no draws */
    const dregs_line *of; /* the line as the kind of load that is shown sees it; else `line` */
    const dregs_map *map; /* and its map */
};

/* A table of what a load keeps, by solute and in all. */
/* \p load: whose parts it is on. */
void dregs_page_predict_residues(const struct prediction *p, const char *key, int where,
                                 uint64_t load, const dregs_residue *residue);

/* " (housing)", the kind of a load where they are of several; else nothing. */
enum { KIND_WORDS = 72 };
const char *dregs_page_predict_kind_words(const dregs_line *line, uint64_t load,
                                          char into[KIND_WORDS]);

/* The worst load of each kind, where they are of several. */
void dregs_page_predict_kinds(const struct prediction *p, int where);

/* How concentrations stand to the limits and targets of the line, for people; as a table; as the
 * part of the working that follows on that of the residue's limits. */
void dregs_page_predict_say_bounds(const struct prediction *p);
void dregs_page_predict_put_bounds(const struct prediction *p);
void dregs_page_predict_explain_bounds(const struct prediction *p);

/* How sure: above all else, to the sentence of a limit, below the limits, tables, figures for
 * programs (`of_page`: the tables are there already), the working. Nothing where no draws were
 * asked for. */
void dregs_page_predict_doubt_confidence(const struct prediction *p);
void dregs_page_predict_doubt_words(const struct prediction *p, unsigned limit);
/* Of a limit or target of concentration, by its number. */
void dregs_page_predict_doubt_bound(const struct prediction *p, unsigned bound);
void dregs_page_predict_doubt_verdict(const struct prediction *p);
void dregs_page_predict_doubt_tables(const struct prediction *p);
void dregs_page_predict_doubt_data(const struct prediction *p, int of_page);
void dregs_page_predict_doubt_working(const struct prediction *p);

/* What no flow reaches, and what perfect mixing is worth. */
void dregs_page_predict_say_mixing(const struct prediction *p);
void dregs_page_predict_put_mixing(const struct prediction *p);
void dregs_page_predict_explain_mixing(const struct prediction *p);

/* "load 1 of day 1, shift 2 of week 3 from the fresh start", "... once the weeks repeat
 * themselves". */
enum { WEEK_WORDS = 128 };
const char *dregs_page_predict_week_load(const struct prediction *p, const dregs_week_load *load,
                                         char into[WEEK_WORDS]);
/* predict_week.c: nights and weekends, where the schedule states a week: below a verdict (NULL:
 * there is none), or that they are not counted; as a section; for programs, as rows of the table of
 * loads; what is assumed for them; worked out; as a picture. */
void dregs_page_predict_week_verdict(const struct prediction *p,
                                     const dregs_predict_verdict *verdict);
void dregs_page_predict_week_missing(const struct prediction *p);
void dregs_page_predict_say_week(const struct prediction *p);
void dregs_page_predict_put_week(const struct prediction *p);
void dregs_page_predict_week_rows(const dregs_predict_result *result, dregs_table *table);
void dregs_page_predict_week_assumed(const struct prediction *p);
void dregs_page_predict_explain_week(const struct prediction *p);
void dregs_page_predict_week_picture(const struct prediction *p);
/* Is the limit so far off that a linear axis would leave nothing of the curve? */
int dregs_page_predict_far_off(const struct prediction *p);

/* What only programs read: figures, tables, every load. */
void dregs_page_predict_data(const struct prediction *p);

/* The same as pictures. */
void dregs_page_predict_pictures(const struct prediction *p);
/* How near limits of concentration come, up to load `last` or beyond the end of a bath's life. */
void dregs_page_predict_limit_pictures(const struct prediction *p, uint64_t last);
/* How sure it is and what it hangs on; the spread of the listed loads up to `last`, in a chart of
 * residues by load. `dumped`: some stage is. */
void dregs_page_predict_doubt_pictures(const struct prediction *p);
void dregs_page_predict_draw_loads(const struct prediction *p, dregs_chart *chart, uint64_t last,
                                   int dumped);

/* Every number with its equation, what was put in, and where that came from. */
void dregs_page_predict_working(const struct prediction *p);

/* predict_first.c: below the verdict, what makes most of the residue and what helps; what to
 * measure first. */
void dregs_page_predict_cause(const struct prediction *p);
void dregs_page_predict_measure(const struct prediction *p);
/* How many of the numbers that it rests on are assumed, where most are. */
void dregs_page_predict_marked(const struct prediction *p);

/* predict_hangs.c: what the worst load's residue hangs on: for people, for programs, as rows of the
 * table of loads, and worked out. */
void dregs_page_predict_hangs(const struct prediction *p);
/* Below a verdict: the share of loads that meet it, where values vary from load to load. */
void dregs_page_predict_scatter(const struct prediction *p, const dregs_predict_verdict *verdict);
void dregs_page_predict_hangs_data(const struct prediction *p);
void dregs_page_predict_hangs_doubt_data(const struct prediction *p);
/* "bath.drag-out", "isopropanol.viscosity (accuracy 3 %)". */
enum { PREDICT_DOUBT_NAME = 240 };
const char *dregs_page_predict_doubt_name(const struct prediction *p, const dregs_hangs_doubt *d,
                                          char into[PREDICT_DOUBT_NAME]);
void dregs_page_predict_hangs_rows(const dregs_predict_result *result, dregs_table *table);
void dregs_page_predict_hangs_working(const struct prediction *p);

#endif
