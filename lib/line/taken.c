/* SPDX-License-Identifier: GPL-3.0-or-later */
/* taken.c: the properties of its liquids that a line's own values are worked out with. */
#include "dregs/stage.h"
#include "line/line.h"

struct list {
    dregs_liquid_property *taken; /* NULL: counted only */
    unsigned count;
};

static void add(struct list *list, const char *liquid, dregs_property property)
{
    if (list->taken)
        list->taken[list->count] = (dregs_liquid_property){liquid, property};
    list->count++;
}

/* The film that a stage leaves by a law, or the bead on an edge. */
static void of_film(const dregs_line *line, unsigned index, struct list *list)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);

    add(list, fluid->solvent, DREGS_DENSITY);
    if (!fluid->viscosity.row)
        add(list, fluid->solvent, DREGS_VISCOSITY);
    if (!fluid->surface_tension.row)
        add(list, fluid->solvent, DREGS_SURFACE_TENSION);
}

/* What an open surface loses. */
static void of_surface(const dregs_line *line, unsigned index, struct list *list)
{
    static const dregs_property used[] = {DREGS_VAPOUR_PRESSURE,      DREGS_DENSITY,
                                          DREGS_HEAT_OF_VAPORISATION, DREGS_DIFFUSIVITY,
                                          DREGS_THERMAL_CONDUCTIVITY, DREGS_MOLAR_MASS};
    const char *solvent = dregs_line_wet_with(line, index)->solvent;
    unsigned k;

    for (k = 0; k < sizeof used / sizeof used[0]; k++)
        add(list, solvent, used[k]);
    add(list, "water", DREGS_VAPOUR_PRESSURE); /* of the room's air */
}

unsigned dregs_line_taken(const dregs_line *line, unsigned questions, dregs_liquid_property *taken)
{
    struct list list = {taken, 0};
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (dregs_line_carried(line, i)->with_liquid)
            of_film(line, i, &list);
        if (questions & ~(unsigned)DREGS_ASKED_DRYING && stage->tank >= 0 && !stage->shares.row &&
            stage->open_area.row && stage->open_area.si > 0)
            of_surface(line, i, &list);
    }
    return list.count;
}
