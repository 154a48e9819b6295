/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stage.h: the kinds of stages: what each is called, what it is, and how it comes to its numbers.
 *
 * Ask what a stage is (dregs_stage_is) rather than which kind it is of: a kind that comes later is
 * then taken for what it does.
 */
#ifndef DREGS_STAGE_H
#define DREGS_STAGE_H

#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What a kind of stage is; a kind may be several of these. */
typedef enum dregs_stage_trait {
    DREGS_STAGE_TANK = 1,    /**< the load goes into a tank */
    DREGS_STAGE_WET = 2,     /**< the load leaves it wet with a film of liquid */
    DREGS_STAGE_CLEANS = 4,  /**< its liquid is the cleaner that takes the soil off */
    DREGS_STAGE_RINSES = 8,  /**< it is there to thin what the film holds */
    DREGS_STAGE_SPRAYS = 16, /**< fresh liquid is sprayed on the load */
    DREGS_STAGE_DRIES = 32   /**< the film dries on the load, in air of the stage's temperature */
} dregs_stage_trait;

/** 1 when the stage is all of \p traits (dregs_stage_trait, or-ed), else 0. */
DREGS_API int dregs_stage_is(const dregs_stage *stage, unsigned traits);

/** The kind's name in a line file, "wash", ...; NULL when there is no such kind. */
DREGS_API const char *dregs_stage_kind_name(dregs_stage_kind kind);

enum { DREGS_STAGE_STEPS = 4, DREGS_STAGE_STEP_TEXT = 320 };

/** One step of a working: an equation with the numbers put in. */
typedef struct dregs_stage_step {
    char text[DREGS_STAGE_STEP_TEXT];
    const char *otherwise; /**< NULL: no source belongs behind the text. Else the source is the
                                row, or this where the row is 0 */
    unsigned row;
    const char *after; /**< what closes the step behind the source, "" or ")" */
} dregs_stage_step;

/** The masses of a solute (kg) around one visit to a stage. */
typedef struct dregs_stage_masses {
    double before; /**< in the film that the load brings */
    double met; /**< in the tank when the load is in it and its soil is off; not read elsewhere */
    double behind;                         /**< in the film that the load takes along */
    double trapped_before, trapped_behind; /**< in trapped liquid that exchanges by itself */
} dregs_stage_masses;

/** How a stage comes from the masses it meets to the film it leaves, in mg and mL, with six
 * figures. \param stage  of the line, \p solute too. \return the number of steps, at most
 * DREGS_STAGE_STEPS; 0 when an index is out of range. */
DREGS_API unsigned dregs_stage_working(const dregs_line *line, unsigned stage, unsigned solute,
                                       const dregs_stage_masses *masses,
                                       dregs_stage_step steps[DREGS_STAGE_STEPS]);

#ifdef __cplusplus
}
#endif
#endif
