/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* shared.h: what the files of the kinds of stages share; stays in this folder and in lib/line. */
#ifndef DREGS_LINE_STAGE_SHARED_H
#define DREGS_LINE_STAGE_SHARED_H

#include "dregs/number.h"
#include "line/stage/stage.h"

/* carried.c: the film as the rows state it. */
int dregs_line_film_stated(dregs_line *line, unsigned index, dregs_carried *carried,
                           dregs_faults *faults);

/* immersion.c: a load in a tank. dregs_stage_immersion_check comes behind the checks of film and
 * soil. */
void dregs_stage_immersion_check(struct checker *checker, const struct item *item,
                                 dregs_stage *stage);
int dregs_stage_immersion_film(dregs_line *line, unsigned index, dregs_carried *carried,
                               dregs_faults *faults);
int dregs_stage_immersion_fits(const dregs_line *line, unsigned index, const dregs_carried *carried,
                               dregs_faults *faults);
void dregs_stage_immersion_visit(const dregs_line *line, unsigned index, unsigned substance,
                                 struct stage_visit *visit);
unsigned dregs_stage_immersion_working(const dregs_line *line, unsigned index, unsigned solute,
                                       const dregs_stage_masses *masses, dregs_stage_step *steps);

/* stage.c: what a load's film holds before and behind a stage, m3, without what is trapped. */
double dregs_stage_film_in(const dregs_carried *carried);
double dregs_stage_film_out(const dregs_carried *carried);
/* What a stage adds to trapped liquid that it leaves in part as it was, m3. */
double dregs_stage_trapped_new(const dregs_carried *carried);

/* stage.c: adds to a visit. */
void dregs_stage_visit_part(struct stage_visit *visit, dregs_stream stream, double of_film,
                            double of_trapped, double fresh, int into);

/* stage.c: words a step, and says where its last number comes from. Numbers have six figures, so
 * that a check by hand does not end in rounding; eight at most for one step. */
enum { FIGURES = 8 };
struct figures {
    char text[FIGURES][DREGS_NUMBER_TEXT];
    unsigned next;
};
const char *dregs_stage_figure(struct figures *figures, double value);
void dregs_stage_step_text(dregs_stage_step *step, const char *format, ...) DREGS_FORMAT(2, 3);
void dregs_stage_step_source(dregs_stage_step *step, unsigned row, const char *otherwise,
                             const char *after);
#define MG       1e6 /* of a kg */
#define ML       1e6 /* of a m3 */
#define MG_PER_L 1e3 /* of a kg/m3 */

#endif
