/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drying.c: the fresh air that the vapour of a line's film needs where it dries: by the peak of its
 * drying curve, as dregs-dry has it, and on the mean over the interval.
 */
#include "caution/rules.h"
#include "dregs/dry.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

static double or_usual(const dregs_value *value, double usual)
{
    return value->row ? value->si : usual;
}

/* The air and the part; what is not stated as it is usual. */
static void set_air(const dregs_line *line, unsigned index, unsigned wet, dregs_dry_case *film)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    double humidity = dregs_room_humidity(line);

    film->air = film->wall = stage->temperature.si;
    film->humid_at = dregs_line_room(line)->temperature.row ? dregs_room_temperature(line)
                     : film->air <= DREGS_ROOM_WARMEST      ? film->air
                                                            : DREGS_ROOM;
    film->start = dregs_line_temperature(line, wet);
    film->speed = or_usual(&stage->air_speed, film->speed);
    film->humidity = or_usual(&stage->humidity, isnan(humidity) ? film->humidity : humidity);
    film->length = or_usual(&load->height, film->length);
    if (load->mass.row && load->heat_capacity.row)
        film->heat_capacity = load->mass.si * load->heat_capacity.si / load->area.si;
    film->volume = or_usual(&stage->volume, 0);
    film->fresh_air = or_usual(&stage->fresh_air, 0);
}

/* The film that is left of the wet stage's, with its water. */
static dregs_status set_film(const dregs_line *line, unsigned wet, double left,
                             const dregs_mixtures *mixtures, dregs_dry_case *film)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);
    const dregs_carried *carried = dregs_line_carried(line, wet);
    double share = fluid->solvent_share.si, density;
    int mixed = share < 1 && strcmp(fluid->solvent, "water") != 0;
    dregs_status status =
        mixed ? dregs_mixture_value(mixtures, fluid->solvent, "water", DREGS_DENSITY, share,
                                    DREGS_ROOM, &density, NULL)
              : dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, DREGS_DENSITY,
                                    film->start, &density, NULL);

    if (status)
        return status;
    film->liquids = dregs_line_liquids(line);
    film->mixtures = mixtures;
    film->liquid[0] = fluid->solvent;
    film->liquid[1] = "water";
    film->count = mixed ? 2 : 1;
    /* bead and hold-up count with the film: their vapour comes too */
    film->area = carried->out / carried->thickness;
    film->mass[0] = carried->thickness * left * density * (mixed ? share : 1);
    film->mass[1] = carried->thickness * left * density * (1 - share);
    return DREGS_OK;
}

void dregs_caution_of_drying(const dregs_line *line, unsigned index, unsigned wet, double left,
                             dregs_facts *facts)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);
    double interval = dregs_line_load(line)->interval.si, needed, volume, mass = NAN;
    char message[DREGS_DRY_MESSAGE];
    dregs_dry_case film = dregs_dry_usual();
    dregs_mixtures *mixtures = NULL;

    if (!dregs_liquids_row(dregs_line_liquids(line), fluid->solvent, DREGS_LOWER_LIMIT) ||
        !(left > 0))
        return;
    mixtures = dregs_mixtures_new(); /* of a pure film too: the room's water gets into it */
    set_air(line, index, wet, &film);
    if (!set_film(line, wet, left, mixtures, &film)) {
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
