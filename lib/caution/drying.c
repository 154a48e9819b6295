/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drying.c: the fresh air that the vapour of a line's film needs where it dries: by the peak of its
 * drying curve, as dregs-dry has it, and on the mean over the interval.
 */
#include "caution/rules.h"
#include "dry/dry.h"
#include "line/line.h"

#include <math.h>

/* The case of a line's film: as dregs-dry has it. */
static dregs_status case_of(const dregs_line *line, unsigned index, unsigned wet, double left,
                            const dregs_mixtures *mixtures, dregs_dry_case *film)
{
    struct dregs_line_drying told;
    char message[DREGS_DRY_MESSAGE];
    unsigned assumed;
    double density;
    dregs_status status;

    dregs_line_drying_of(line, index, wet, left, &told);
    *film = told.film;
    film->mixtures = mixtures;
    status = dregs_dry_complete(film, told.dew_point, &assumed, message);
    return status ? status
                  : dregs_dry_wet_with(film, told.solvent, told.water, told.thickness, &density,
                                       message);
}

void dregs_caution_of_drying(const dregs_line *line, unsigned index, unsigned wet, double left,
                             dregs_facts *facts)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);
    double interval = dregs_line_load(line)->interval.si, needed, volume, mass = NAN;
    char message[DREGS_DRY_MESSAGE];
    dregs_dry_case film;
    dregs_mixtures *mixtures = NULL;

    if (!dregs_liquids_row(dregs_line_liquids(line), fluid->solvent, DREGS_LOWER_LIMIT) ||
        !(left > 0))
        return;
    mixtures = dregs_mixtures_new(); /* of a pure film too: the room's water gets into it */
    if (!case_of(line, index, wet, left, mixtures, &film)) {
        mass = film.mass[0] * film.area;
        if (!dregs_dry_fresh_air_of_loads(&film, interval, DREGS_VAPOUR_SHARE, &needed, message))
            dregs_facts_air_needed(facts, needed);
    } else if (!dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, DREGS_DENSITY,
                                    DREGS_ROOM, &mass, NULL)) { /* as if all of it were solvent */
        mass *= dregs_line_carried(line, wet)->out * left;
    }
    if (!dregs_dilution_air(dregs_line_liquids(line), fluid->solvent, mass, DREGS_ROOM,
                            DREGS_VAPOUR_SHARE, &volume))
        facts->value[DREGS_FACT_AIR_MEAN] = volume / interval;
    dregs_mixtures_free(mixtures);
}
