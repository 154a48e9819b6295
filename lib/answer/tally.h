/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.h: what the files of the answer of dregs-tally share; not installed. */
#ifndef DREGS_ANSWER_TALLY_INSIDE_H
#define DREGS_ANSWER_TALLY_INSIDE_H

#include "dregs/answer_tally.h"
#include "line/line.h"

enum {
    TALLY_FIGURES_MOST = 160,
    TALLY_CHANGES_MOST = 3,
    TALLY_STILLS_MOST = DREGS_LINE_STAGES,
    TALLY_ASKED_ROOM = 480,
    TALLY_KEY_ROOM = DREGS_SITE_STAGE + 32
};

struct tally_figures {
    dregs_tally_figure figure[TALLY_FIGURES_MOST];
    unsigned count;
};

struct tally_parts {
    dregs_tally_part part[DREGS_TALLY_PARTS_MOST];
    unsigned count;
};

#define TALLY_CLOSES 1e-9 /* of a balance: what is less may be what rounding leaves */

/* A line with what is read from its tally. */
struct tally_line {
    dregs_tally_one one;
    dregs_tally *tally;
    dregs_bounds *bounds;
    struct tally_figures figures;
    struct tally_parts parts[2];                   /* by volume, by cost */
    dregs_tally_outline outline[DREGS_MONTHS + 1]; /* the whole at the end */
    dregs_tally_outline over[2][DREGS_MONTHS];     /* of 3 and of 12 months up to each */
    int has_over[2][DREGS_MONTHS];
    dregs_tally_still still[TALLY_STILLS_MOST];
    unsigned stills;
    dregs_tally_one *member; /* of a site, each of its lines; NULL */
    unsigned members;
};

struct tally_changed {
    dregs_tally_change change;
    dregs_line *line;
    dregs_tally *tally;
    struct tally_figures figures;
};

/* What a question changes, the most first: every figure; whether limits are met; wastes and the
 * category of their generator; one more code, or what is on no record and counts as the worse. */
enum tally_rank {
    TALLY_OPENS_FIGURES,
    TALLY_OPENS_LIMITS,
    TALLY_OPENS_WASTES,
    TALLY_OPENS_RECORDS
};

struct tally_asked {
    dregs_tally_asked shown; /* points to what follows, once all is asked */
    enum tally_rank rank;
    char key[TALLY_KEY_ROOM], text[TALLY_ASKED_ROOM], answers[TALLY_ASKED_ROOM];
};

struct dregs_tally_law {
    const dregs_site *site;
    const dregs_line *line;
    const dregs_tally *year;        /* NULL without a full schedule */
    dregs_tally *own_year, *around; /* around: 8760 h of loads */
    dregs_regulations *regulations;
    dregs_tally_solvent_law *solvent;
    unsigned solvents;
    dregs_tally_potential potential;
    dregs_tally_plan plan[2]; /* article 59(5) on record or given; the others */
    int plan_used[2];
    dregs_tally_mass_flow flow[DREGS_LAW_HALOGENATED_CMR2 + 1];
    int flow_used[DREGS_LAW_HALOGENATED_CMR2 + 1];
    dregs_tally_machine *machine;
    unsigned machines;
    dregs_tally_facility facility;
    int facility_used;
    dregs_tally_waste *waste;
    unsigned wastes;
    dregs_tally_waste_month month[DREGS_MONTHS];
    struct tally_asked *asked;
    unsigned asked_count, asked_room;
    int failed; /* memory was short */
};

/* Solvents that a facility counts, by their numbers among the machines, and their months. */
enum { TALLY_LOGGED_MOST = 8 };
struct tally_logged {
    dregs_tally_log shown;
    unsigned machine[TALLY_LOGGED_MOST];
    dregs_tally_log_month *month; /* of all months of a solvent, of the next one */
    dregs_tally_log_sum *sum;
    dregs_tally_log_turn *turn;
    unsigned turns;
    int used;
};

struct dregs_tally_actual {
    const dregs_line *line;
    const dregs_tally *tally; /* of the year */
    dregs_tally *own_year;
    const dregs_tally_dates *dates; /* NULL: days have none */
    const dregs_purchases *purchases;
    dregs_tally_covered covered;
    dregs_tally_bought_liquid *liquid;
    unsigned liquids;
    dregs_tally_record record[2]; /* by the number of the plan */
    dregs_tally_plan recorded_plan[2];
    int recorded[2];
    struct tally_logged logged;
};

/* The liquids with the doubt of the model in their deviations, and what each value does to it. */
struct tally_bought_doubt {
    dregs_tally_bought_liquid *liquid;
    unsigned liquids;
    dregs_tally_spread *spread;
    unsigned spreads;
};

enum { TALLY_BESIDE = 16 };

/* What goes to the drain, all together first, and what is asked for. */
enum { TALLY_DRAIN_ASKED = 64 };
struct tally_drains {
    dregs_tally_drain *drain;
    unsigned count;
    char ask[TALLY_DRAIN_ASKED][TALLY_ASKED_ROOM];
    unsigned asked;
};

/* What heating takes, all together first; what is assumed for it, and asked for. */
enum { TALLY_ENERGY_NOTES = 2 * DREGS_LINE_STAGES + 8 };
struct tally_energies {
    dregs_tally_energy *energy;
    unsigned count;
    struct tally_notes {
        char text[TALLY_ENERGY_NOTES][TALLY_ASKED_ROOM];
        unsigned count;
    } notes[2];
};

struct dregs_tally_result {
    dregs_tally_question question;
    dregs_tally_dates dates; /* those of the question */
    dregs_tally_head head;   /* the question's, or nothing stated */
    dregs_site site;         /* the facts of the question; nothing is known where it states none */
    struct tally_line line[DREGS_TALLY_LINES_MOST];
    struct tally_changed change[TALLY_CHANGES_MOST];
    unsigned changes;
    dregs_tally_compared *compared;
    unsigned compares;
    dregs_tally_law *law;
    dregs_tally_actual *actual;
    struct tally_drains drains;
    struct tally_energies energies;
    struct {
        dregs_tally_beside row[TALLY_BESIDE];
        unsigned rows;
        const char *from, *to;
        int unpriced;
    } instead;
};

/* tally_answer.c: a line's tally and its worst load's residue. */
dregs_status dregs_answer_tally_compute(const dregs_line *line,
                                        const dregs_tally_question *question, dregs_tally **tally,
                                        double *residue, char *message);
/* The year of the answer's first line: its own tally when that is a year, else *own is made, which
 * the caller frees. */
dregs_status dregs_answer_tally_year_of(const dregs_tally_result *answer, const dregs_tally **year,
                                        dregs_tally **own, char message[DREGS_TALLY_MESSAGE]);

/* tally_figures.c */
void dregs_answer_tally_figures_of(const dregs_tally *tally, double residue,
                                   struct tally_figures *figures);
const dregs_tally_figure *dregs_answer_tally_figure_named(const struct tally_figures *figures,
                                                          const char *name);
/* What a change does to the figures. */
void dregs_answer_tally_figures_since(struct tally_figures *figures,
                                      const struct tally_figures *before);
/* All figures of several lines side by side. */
dregs_status dregs_answer_tally_compare(dregs_tally_result *answer);

/* tally_parts.c: outlines, stills, and what dominates */
void dregs_answer_tally_outlines_of(struct tally_line *line);
/* Sums of 3 and of 12 of its months in a row. */
void dregs_answer_tally_over_of(struct tally_line *line);
/* Adds what a period comes to. */
void dregs_answer_tally_outline_of(const dregs_tally *tally, unsigned period,
                                   dregs_tally_outline *o);
void dregs_answer_tally_stills_of(struct tally_line *line);
void dregs_answer_tally_largest(const dregs_tally *tally, int by_cost, struct tally_parts *parts);
/* Volume and cost of the part of that stream, liquid and stage; 0 where there is none. */
void dregs_answer_tally_part_of(const dregs_tally *tally, int by_cost, dregs_tally_part *part);

/* tally_cells.c: streams of stages or months that draws are asked of, in the order of what they
 * are of. Cleared by the caller, also after a failure. A stream of DREGS_STREAM_COUNT is what is
 * reclaimed of a liquid. */
enum { TALLY_CELLS_MOST = 2400 };
struct tally_cells {
    struct tally_cell {
        unsigned stage, period, index;
        dregs_tally_kind kind;
        dregs_stream stream;
    } * cell;
    unsigned count, room, left_out;
    unsigned stages, months; /* those that are asked of */
};
/* \param parts  DREGS_TALLY_OF_STAGES and the like, together. */
dregs_status dregs_answer_tally_cells_of(const dregs_tally *tally, unsigned parts,
                                         struct tally_cells *cells);
void dregs_answer_tally_cells_free(struct tally_cells *cells);
/* Its number; past the end where it is not among them. */
unsigned dregs_answer_tally_cell_at(const struct tally_cells *cells,
                                    const struct tally_cell *which);
void dregs_answer_tally_put_cells(const struct tally_cells *cells, const dregs_tally *tally,
                                  double *into);
void dregs_answer_tally_put_costs(const dregs_tally *tally, unsigned stage, unsigned period,
                                  double into[DREGS_TALLY_SPENTS]);
void dregs_answer_tally_put_sums(const dregs_tally_outline *o, double into[DREGS_TALLY_SUMS]);
/* DREGS_TALLY_SUMS of each month, and of 3 and of 12 in a row until it where there are so many. */
dregs_status dregs_answer_tally_put_months(dregs_tally *tally, double *month, double *over_3,
                                           double *over_12);

/* tally_drain.c: cleared by the caller, also after a failure */
dregs_status dregs_answer_tally_drains_of(const dregs_tally *tally, struct tally_drains *drains);
/* The contents of all that a draw drains, as those that `stated` names; behind them its oxygen. */
dregs_status dregs_answer_tally_drained_like(const dregs_tally *tally,
                                             const dregs_tally_drain *stated, double *into);
void dregs_answer_tally_drains_free(struct tally_drains *drains);

/* tally_energy.c: likewise; J that heaters take, kg of CO2, J of ultrasound and kg of CO2
 * of that of a draw, untouched where nothing takes energy. */
dregs_status dregs_answer_tally_energies_of(const dregs_tally *tally,
                                            struct tally_energies *energies);
void dregs_answer_tally_energies_free(struct tally_energies *energies);
dregs_status dregs_answer_tally_energy_sum(const dregs_tally *tally, double into[4]);

/* tally_instead.c: both solvents side by side. */
dregs_status dregs_answer_tally_instead(dregs_tally_result *answer, dregs_faults *faults);

/* tally_change.c: what one more rinse, more drain time and lids would do. */
dregs_status dregs_answer_tally_find_changes(dregs_tally_result *answer);

/* tally_streams.c: streams under the names of regulations, kg of a solvent of the tally or of all
 * with DREGS_WHOLE; of the whole line. */
enum tally_way { TALLY_ADDED, TALLY_TO_AIR, TALLY_TO_DRAIN, TALLY_TO_WASTE };
double dregs_answer_tally_way_mass(const dregs_tally *tally, enum tally_way way, unsigned solvent,
                                   unsigned period);
double dregs_answer_tally_stream_mass(const dregs_tally *tally, dregs_stream stream,
                                      unsigned solvent, unsigned stage, unsigned period);
/* What was put in, less what stands in the tanks at the end. */
double dregs_answer_tally_used_up(const dregs_tally *tally, unsigned solvent, unsigned period);
/* In a stream of a stage, or of all, that a still gives back. */
double dregs_answer_tally_back_mass(const dregs_tally *tally, unsigned solvent, unsigned stage,
                                    dregs_stream stream, unsigned period);
/* A difference of masses of that scale; what rounding may have left of nothing is nothing. */
double dregs_answer_tally_beyond_rounding(double value, double scale);

/* tally_loose.c: a spray that holds a solvent, or a tank of another liquid into which it is
 * carried: what of it evaporates there nothing states. */
int dregs_answer_tally_loose_at(const dregs_tally *tally, const dregs_tally_solvent_law *s,
                                unsigned at);
/* kg of it that leave such stages, and those behind them, as a liquid for drain or waste, and so
 * may have evaporated at the most. unbounded: a tank with the solvent makes up for what is lost. */
struct tally_loose {
    double drain, waste;
    int unbounded;
};
struct tally_loose dregs_answer_tally_loose_of(const dregs_tally *tally,
                                               const dregs_tally_solvent_law *s);

/* tally_law.c: what is asked of the first line of the answer, and what the parts of it share. */
dregs_status dregs_answer_tally_law_new(const dregs_tally_result *answer, dregs_tally_law **law,
                                        dregs_faults *faults);
void dregs_answer_tally_law_free(dregs_tally_law *law);
/* tally_asked.c: asks for a fact of the site by its key, once; or with a key of NULL for what other
 * files tell. */
void dregs_answer_tally_ask(dregs_tally_law *law, enum tally_rank rank, const char *key,
                            const char *format, ...) DREGS_FORMAT(4, 5);
/* The same of the waste of a stage: ".listed" and the like. */
void dregs_answer_tally_ask_stage(dregs_tally_law *law, enum tally_rank rank, unsigned stage,
                                  const char *key, const char *format, ...) DREGS_FORMAT(5, 6);
/* Where the drain leads, which plans and wastes ask. */
void dregs_answer_tally_ask_drain(dregs_tally_law *law, enum tally_rank rank);
/* Sets them in order; nothing is asked afterwards. */
void dregs_answer_tally_asked_done(dregs_tally_law *law);
/* tally_site.c: the answers that a key has: "--given drain=sewer or drain=waste" */
void dregs_answer_tally_answers(const char *key, char *text, size_t room);
/* tally_given.c: facts that contradict each other or the line, or change nothing of this answer. */
dregs_status dregs_answer_tally_check_given(const dregs_tally_result *answer, dregs_faults *faults);
/* A property of a liquid at 293.15 K; NaN. */
double dregs_answer_tally_known(const dregs_tally_law *law, const char *liquid,
                                dregs_property property);
double dregs_answer_tally_share_or(double share, double otherwise);
/* tally_solvents.c: does a liquid hold the solvent? */
int dregs_answer_tally_holds(const dregs_fluid *fluid, const char *solvent);
void dregs_answer_tally_law_solvents(dregs_tally_law *law);
void dregs_answer_tally_law_plans(dregs_tally_law *law);      /* tally_plan.c */
void dregs_answer_tally_law_mass_flows(dregs_tally_law *law); /* tally_plan.c */
void dregs_answer_tally_law_machines(dregs_tally_law *law);   /* tally_machine.c */
void dregs_answer_tally_law_facility(dregs_tally_law *law);   /* tally_machine.c */
/* tally_machine.c: kg of a halogenated solvent that the year emits, as its facility counts them,
 * and how much less or more that may be; NaN without a year. */
struct tally_scheduled {
    double emitted, less, more;
};
struct tally_scheduled dregs_answer_tally_scheduled(const dregs_tally_law *law,
                                                    const dregs_tally_solvent_law *s);
/* What twelve months count in the year of the model, and their limit; NaN. What is said of a sum
 * that is beyond its limit or not, as far as it is known; does the rule not apply? tally_machine.c
 */
void dregs_answer_tally_facility_year(const dregs_tally_law *law, double *counted, double *limit);
int dregs_answer_tally_facility_excluded(const dregs_site *site);
dregs_law_verdict dregs_answer_tally_facility_beyond(dregs_tally_law *law);
dregs_law_verdict dregs_answer_tally_facility_within(dregs_tally_law *law, int least);
dregs_law_facility dregs_answer_tally_facility_kind(const dregs_site *site);
void dregs_answer_tally_law_wastes(dregs_tally_law *law); /* tally_waste.c */
/* The result of a plan's streams, its bands and what is met of them. */
dregs_status dregs_answer_tally_plan_work(const dregs_tally_law *law, dregs_tally_plan *plan);

/* tally_actual.c */
dregs_status dregs_answer_tally_actual_new(const dregs_tally_result *answer,
                                           dregs_tally_actual **actual, dregs_faults *faults);
void dregs_answer_tally_actual_free(dregs_tally_actual *actual);
/* m3 of a month (from 0) of a year's tally. */
double dregs_answer_tally_modelled(const dregs_tally_actual *actual, const dregs_tally *tally,
                                   unsigned fluid, dregs_tally_measure measure, unsigned month);

/* tally_record.c: solvent plans from records, and what decides them is asked for; the figures of a
 * plan that are compared. */
void dregs_answer_tally_records(dregs_tally_law *law, dregs_tally_actual *actual);
void dregs_answer_tally_put_recorded(const dregs_tally_plan *plan,
                                     double into[DREGS_TALLY_RECORDEDS]);

/* tally_log.c: what all machines of a facility emitted by the records, and what decides it is asked
 * for. Rows that cannot be are faults. With draws: the figures of one, 0 where there is no log;
 * what the model of that law has. */
dregs_status dregs_answer_tally_log(dregs_tally_law *law, dregs_tally_actual *actual,
                                    dregs_faults *faults);
void dregs_answer_tally_log_free(struct tally_logged *logged);
unsigned dregs_answer_tally_logged_count(const dregs_tally_actual *actual);
void dregs_answer_tally_put_logged(const dregs_tally_actual *actual, const dregs_tally_law *law,
                                   double *into);

/* tally_spread.c: figures of a draw of what was bought: how many, 0 without purchases; those of a
 * year; what all draws make of it, from the figure on where they begin. */
unsigned dregs_answer_tally_bought_count(const dregs_tally_actual *actual);
void dregs_answer_tally_put_bought(const dregs_tally_actual *actual, const dregs_tally *year,
                                   double *into);
dregs_status dregs_answer_tally_bought_doubt(const dregs_tally_actual *actual,
                                             const dregs_ensemble *ensemble,
                                             const dregs_ensemble_result *counts, unsigned begin,
                                             struct tally_bought_doubt *doubt);

#endif
