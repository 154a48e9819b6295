/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* taken.c: the properties of its liquids that a line's own values are worked out with. */
#include "dregs/stage.h"
#include "line/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

/* Is the film of a stage one by a law, of any kind of load? */
static int of_liquid(const dregs_line *line, unsigned stage)
{
    unsigned k;

    for (k = 0; k < dregs_line_kinds(line); k++)
        if (dregs_line_carried(dregs_line_of_kind(line, k), stage)->with_liquid)
            return 1;
    return 0;
}

unsigned dregs_line_taken(const dregs_line *line, unsigned questions, dregs_liquid_property *taken)
{
    struct list list = {taken, 0};
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (of_liquid(line, i))
            of_film(line, i, &list);
        if (questions & ~(unsigned)DREGS_ASKED_DRYING && stage->tank >= 0 && !stage->shares.row &&
            stage->open_area.row && stage->open_area.si > 0)
            of_surface(line, i, &list);
    }
    return list.count;
}

/* ---- what is known of them ---- */

static int stands_before(const dregs_line *line, const dregs_liquid_property *taken, unsigned index)
{
    const dregs_liquid_row *row =
        dregs_liquids_row(line->liquids, taken[index].liquid, taken[index].property);
    unsigned i;

    for (i = 0; i < index; i++)
        if (dregs_liquids_row(line->liquids, taken[i].liquid, taken[i].property) == row)
            return 1;
    return 0;
}

dregs_status dregs_line_note_exact(dregs_line *line)
{
    unsigned count = dregs_line_taken(line, DREGS_ASKED_ALL, NULL), i;
    dregs_liquid_property *taken = malloc((count + 1) * sizeof *taken);
    dregs_status status = taken ? DREGS_OK : DREGS_NO_MEMORY;

    if (taken)
        (void)dregs_line_taken(line, DREGS_ASKED_ALL, taken);
    for (i = 0; i < count && !status; i++) {
        const dregs_liquid_row *row =
            dregs_liquids_row(line->liquids, taken[i].liquid, taken[i].property);
        if (row && !row->word && isnan(row->accuracy) && !stands_before(line, taken, i))
            status = dregs_line_note(line, 0, "%s of %s: exact, its row states no accuracy",
                                     dregs_property_name(taken[i].property), taken[i].liquid);
    }
    free(taken);
    return status;
}
