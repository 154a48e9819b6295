/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_time.c: when film, bead and recess are dry, and between which limiting cases. */
#include "answer/dry.h"
#include "dry/dry.h"

#include <math.h>

/* The bead, and what is taken of it. */
static dregs_status bead_time(const struct dry_answer *answer, dregs_dry_row *row,
                              const struct dregs_line_drying *told)
{
    dregs_status status = dregs_dry_bead_times(&row->film, told->thickness, told->bead,
                                               answer->tolerance, &row->bead_radius,
                                               answer->drawn ? NULL : &row->bead_least, &row->bead);

    if (status || isnan(row->bead_radius))
        return status;
    row->beads_unknown = isnan(row->bead);
    if (row->beads_unknown)
        dregs_answer_dry_assume(row, "no time for the bead: a property is not known on the way");
    else
        dregs_answer_dry_assume(
            row, "bead as half a cylinder of %.3g mm radius, three quarters of the air's transfer",
            row->bead_radius * 1e3);
    return DREGS_OK;
}

/* The blind hole, of a depth that is known and not 0. */
static void hole_time(dregs_dry_row *row, double depth)
{
    row->recess = depth > 0 ? dregs_dry_hole_time(&row->film, depth) : NAN;
    if (!(depth > 0) || !isnan(row->recess))
        return;
    /* the film's answer, and its cautions, are worth having without it */
    dregs_answer_dry_assume(
        row, "no time for the blind hole: %s boils at %.4g degC, or lacks a property there",
        row->film.liquid[0], row->film.air - 273.15);
    row->holes_unknown = 1;
}

/* W/(m2 K) at first, driven by temperature alone; NaN where it could not be had. */
static double first_heat_transfer(const dregs_dry_case *film)
{
    double coefficient;
    dregs_air air, arriving;
    dregs_air_stream stream = {.flow = film->flow,
                               .speed = film->speed,
                               .length = film->length,
                               .nozzle = film->nozzle,
                               .distance = film->distance,
                               .pitch = film->pitch};

    if (dregs_air_at((film->start + film->air) / 2, film->pressure, &air) ||
        dregs_air_at(film->air, film->pressure, &arriving))
        return NAN;
    stream.density = arriving.density;
    if (dregs_air_transfer(&air, &stream, fabs(film->air / film->start - 1), &coefficient, NULL))
        return NAN;
    return coefficient;
}

/* A limiting case is given where it is one: the film takes at least the isothermal time, at most
 * that of the wet bulb. */
static void keep_limits(dregs_dry_row *row)
{
    double time = row->drying.dry ? row->drying.time : INFINITY;

    if (!(row->isothermal <= time * (1 + 1e-6)))
        row->isothermal = NAN;
    if (!(row->wet_bulb >= time * (1 - 1e-6)))
        row->wet_bulb = NAN;
}

static void find_last(dregs_dry_row *row)
{
    row->last = DREGS_DRY_FILM;
    row->time = row->drying.time;
    if (row->bead > row->time) {
        row->last = DREGS_DRY_BEAD;
        row->time = row->bead;
    }
    if (row->recess > row->time) {
        row->last = DREGS_DRY_RECESS;
        row->time = row->recess;
    }
    row->by_recess = row->last == DREGS_DRY_RECESS;
    row->late = row->time > row->interval && !row->dries_on; /* never of one load alone */
}

/* s from load to load: of the request, else of the line, else one load alone. */
static double interval_of(const struct dry_answer *answer)
{
    if (!isnan(answer->request.interval))
        return answer->request.interval;
    return answer->line ? dregs_line_load(answer->line)->interval.si : INFINITY;
}

/* When film, bead and hole are dry. */
static dregs_status times(struct dry_answer *answer, dregs_dry_row *row,
                          const struct dregs_line_drying *told)
{
    dregs_status status = dregs_dry(&row->film, answer->tolerance, &row->drying, answer->message);

    row->interval = interval_of(answer);
    row->beads_unknown = isnan(told->bead);
    row->holes_unknown = isnan(told->depth);
    if (!status)
        status = bead_time(answer, row, told);
    if (status)
        return status;
    hole_time(row, told->depth);
    find_last(row);
    return DREGS_OK;
}

/* What stands beside them, and is not asked of a draw. */
static dregs_status beside(const struct dry_answer *answer, dregs_dry_row *row)
{
    const dregs_dry_case *film = &row->film;
    dregs_status status =
        dregs_dry_time_by(film, DREGS_DRY_ISOTHERMAL, answer->tolerance, &row->isothermal);

    if (!status)
        status = dregs_dry_time_by(film, DREGS_DRY_WET_BULB, answer->tolerance, &row->wet_bulb);
    if (status)
        return status;
    keep_limits(row);
    row->heat_transfer = first_heat_transfer(film);
    dregs_answer_dry_extended(row);
    return DREGS_OK;
}

/* Works a completed row out. */
dregs_status dregs_answer_dry_work_out(struct dry_answer *answer, dregs_dry_row *row,
                                       const struct dregs_line_drying *told)
{
    dregs_status status = times(answer, row, told);

    if (!status && !answer->drawn)
        status = beside(answer, row);
    if (status)
        return status;
    row->vapour = row->film.mass[0] * row->film.area;
    return dregs_answer_dry_dilute(answer, row);
}
