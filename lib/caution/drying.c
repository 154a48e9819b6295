/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* drying.c: the fresh air that the vapour of a line's film needs where it dries: by the peak of its
 * drying curve, as dregs-dry has it, and on the mean over the interval.
 */
#include "caution/rules.h"
#include "dry/dry.h"
#include "line/line.h"

#include <math.h>

/* m3/s of fresh air that the vapour needs: at the peak of its drying, and on the mean. */
static void air_needed(const dregs_liquids *liquids, const struct dregs_line_drying *told,
                       double interval, double mass, dregs_facts *facts)
{
    double needed, volume;
    char message[DREGS_DRY_MESSAGE];

    if (told->film.count && !dregs_caution_failed(facts, dregs_dry_fresh_air_of_loads(
                                                             &told->film, interval,
                                                             DREGS_VAPOUR_SHARE, &needed, message)))
        dregs_facts_air_needed(facts, needed);
    if (!dregs_dilution_air(liquids, told->solvent, mass, DREGS_ROOM, DREGS_VAPOUR_SHARE, &volume))
        facts->value[DREGS_FACT_AIR_MEAN] = volume / interval;
}

/* s until film, bead and blind hole are dry, of those that are known; NaN: it never is, or cannot
 * be worked out. */
static double takes(const struct dregs_line_drying *told, dregs_facts *facts)
{
    double film, bead, radius;

    if (dregs_caution_failed(
            facts, dregs_dry_time_by(&told->film, DREGS_DRY_FULL, DREGS_DRY_TOLERANCE, &film)) ||
        isnan(film) ||
        dregs_caution_failed(facts,
                             dregs_dry_bead_times(&told->film, told->thickness, told->bead,
                                                  DREGS_DRY_TOLERANCE, &radius, NULL, &bead)))
        return NAN;
    film = fmax(film, bead); /* fmax passes over NaN */
    return told->depth > 0 ? fmax(film, dregs_dry_hole_time(&told->film, told->depth)) : film;
}

void dregs_caution_of_drying(const dregs_line *line, unsigned index, unsigned wet, double left,
                             dregs_facts *facts)
{
    const dregs_liquids *liquids = dregs_line_liquids(line);
    double interval = dregs_line_load(line)->interval.si, mass = NAN, density;
    struct dregs_line_drying told;
    char message[DREGS_DRY_MESSAGE];
    dregs_mixtures *mixtures;
    unsigned assumed;

    if (!(left > 0))
        return;
    mixtures = dregs_mixtures_new(); /* of a pure film too: the room's water gets into it */
    if (!mixtures) {
        (void)dregs_caution_failed(facts, DREGS_NO_MEMORY);
        return;
    }
    dregs_line_drying_of(line, index, wet, left, &told);
    told.film.mixtures = mixtures;
    if (!dregs_dry_complete(&told.film, told.dew_point, &assumed, message) &&
        !dregs_dry_wet_with(&told.film, told.solvent, told.water, told.thickness, &density,
                            message)) {
        mass = told.film.mass[0] * told.film.area;
        if (dregs_line_drying_ends(line, index))
            facts->value[DREGS_FACT_TAKES] = takes(&told, facts) / interval;
    } else if (!dregs_liquids_value(liquids, told.solvent, DREGS_DENSITY, DREGS_ROOM, &mass,
                                    NULL)) { /* as if all of it were solvent */
        mass *= told.thickness * told.film.area;
    }
    if (dregs_liquids_row(liquids, told.solvent, DREGS_LOWER_LIMIT))
        air_needed(liquids, &told, interval, mass, facts);
    dregs_mixtures_free(mixtures);
}
