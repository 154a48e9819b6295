/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_time.c: when film, bead and recess are dry, and between which limiting cases. */
#include "answer/dry.h"

#include <math.h>
#include <string.h>

/* The recess: a Stefan tube of the film's first liquid. NaN for no recess; 0 when it could not be
 * worked out. */
static double recess_time(const dregs_dry_row *row, double depth)
{
    const dregs_dry_case *film = &row->film;
    const char *liquid = film->liquid[0];
    double diffusivity, pressure, density, molar, flux, time, far = 0;

    if (!(depth > 0))
        return NAN;
    if (dregs_liquids_value(film->liquids, liquid, DREGS_DIFFUSIVITY, film->air, &diffusivity,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_VAPOUR_PRESSURE, film->air, &pressure,
                            NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_DENSITY, film->air, &density, NULL) ||
        dregs_liquids_value(film->liquids, liquid, DREGS_MOLAR_MASS, film->air, &molar, NULL) ||
        dregs_liquids_value(film->liquids, "water", DREGS_VAPOUR_PRESSURE, film->humid_at, &far,
                            NULL) ||
        dregs_stefan_flux(diffusivity, film->air, film->pressure, pressure,
                          strcmp(liquid, "water") == 0 ? film->humidity * far : 0, &flux) ||
        dregs_recess_time(flux, density / molar, depth, &time))
        return 0;
    return time;
}

/* s until it is dry by a simpler model; NaN where that could not be had. */
static dregs_status bound(const dregs_dry_row *row, dregs_dry_mode mode, double *time)
{
    dregs_dry_case film = row->film;
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE];
    dregs_status status;

    film.mode = mode;
    status = dregs_dry(&film, 1e-9, &drying, message);
    *time = status || !drying.dry ? NAN : drying.time;
    dregs_drying_clear(&drying);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Of the transfer by air, what is kept from a bead on a lower edge: half of that on its lower half,
 * where the air leaves that came down along the part. Ours, no source. */
#define BEAD_HINDERED 0.25

/* The bead: an even layer as thick as its radius, in air that the film's vapour has left. The part
 * beside it is dry and warms it: at least the time at the air's temperature, at most that of what
 * the air alone feeds. */
static dregs_status bead_time(dregs_dry_row *row, const struct dregs_line_drying *told)
{
    dregs_dry_row bead = *row;
    dregs_status status;
    unsigned i;

    row->bead = row->bead_least = row->bead_radius = NAN;
    if (!(told->bead > 0) || dregs_dry_bead_radius(told->bead, &row->bead_radius))
        return DREGS_OK;
    for (i = 0; i < bead.film.count; i++)
        bead.film.mass[i] *= row->bead_radius / told->thickness;
    bead.film.hindered = BEAD_HINDERED;
    bead.film.volume = 0;
    status = bound(&bead, DREGS_DRY_FULL, &row->bead);
    if (!status)
        status = bound(&bead, DREGS_DRY_ISOTHERMAL, &row->bead_least);
    if (!(row->bead_least <= row->bead))
        row->bead_least = NAN;
    row->beads_unknown = isnan(row->bead);
    if (row->beads_unknown)
        dregs_answer_dry_assume(row, "no time for the bead: a property is not known on the way");
    else
        dregs_answer_dry_assume(
            row, "bead as half a cylinder of %.3g mm radius, three quarters of the air's transfer",
            row->bead_radius * 1e3);
    return status;
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
    row->late = row->time > row->interval; /* never of one load alone */
}

/* s from load to load: of the request, else of the line, else one load alone. */
static double interval_of(const struct dry_answer *answer)
{
    if (!isnan(answer->request->interval))
        return answer->request->interval;
    return answer->line ? dregs_line_load(answer->line)->interval.si : INFINITY;
}

/* Works a completed row out. */
dregs_status dregs_answer_dry_work_out(struct dry_answer *answer, dregs_dry_row *row,
                                       const struct dregs_line_drying *told)
{
    dregs_dry_case *film = &row->film;
    dregs_status status = dregs_dry(film, 1e-9, &row->drying, answer->message);

    row->interval = interval_of(answer);
    row->beads_unknown = isnan(told->bead);
    row->holes_unknown = isnan(told->depth);
    if (status)
        return status;
    status = bound(row, DREGS_DRY_ISOTHERMAL, &row->isothermal);
    if (!status)
        status = bound(row, DREGS_DRY_WET_BULB, &row->wet_bulb);
    if (!status)
        status = bead_time(row, told);
    if (status)
        return status;
    keep_limits(row);
    row->recess = recess_time(row, told->depth);
    if (row->recess == 0) { /* the film's answer, and its cautions, are worth having without it */
        dregs_answer_dry_assume(
            row, "no time for the blind hole: %s boils at %.4g degC, or lacks a property there",
            film->liquid[0], film->air - 273.15);
        row->recess = NAN;
        row->holes_unknown = 1;
    }
    find_last(row);
    row->heat_transfer = first_heat_transfer(film);
    dregs_answer_dry_extended(row);
    row->vapour = film->mass[0] * film->area;
    dregs_answer_dry_dilute(answer, row);
    return DREGS_OK;
}
