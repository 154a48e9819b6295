/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* carried.c: the film that a load carries out of each stage (section "film" of dregs-model(7)). */
#include "line/inside.h"
#include "line/stage/shared.h"

#include <math.h>
#include <string.h>

struct films {
    dregs_line *line;
    dregs_faults *faults;
    int bad;
};

#define SAY(f, row_, ...)                                                                          \
    ((f)->bad = 1, (void)dregs_fault_add((f)->faults, DREGS_BAD_DATA,                              \
                                         dregs_line_at((f)->line, row_), __VA_ARGS__))

/* Density, viscosity and surface tension of what the load is wet with; 0 when one is not known. */
static int wetting_of(struct films *f, unsigned index, unsigned row, dregs_carried *carried)
{
    static const dregs_property wanted[3] = {DREGS_DENSITY, DREGS_VISCOSITY, DREGS_SURFACE_TENSION};
    double *into[3] = {&carried->wetting.density, &carried->wetting.viscosity,
                       &carried->wetting.surface_tension};
    const dregs_stage *stage = &f->line->stages[index];
    const dregs_fluid *fluid = dregs_line_wet_with(f->line, index);
    char message[DREGS_LIQUID_MESSAGE] = "", name[DREGS_QUOTED];
    const dregs_value *stated[3] = {NULL, &fluid->viscosity, &fluid->surface_tension};
    int i;

    if (fluid->solvent_share.si < 1) {
        SAY(f, row,
            "the film of %s cannot be computed: %s is a mixture, and density, viscosity and "
            "surface tension are known of single liquids only; state a measured film or drag-out",
            dregs_quote(name, stage->name), fluid->name);
        return 0;
    }
    carried->temperature = dregs_line_temperature(f->line, index);
    if (dregs_line_stage(f->line, index)->tank < 0
            ? !stage->temperature.row
            : !f->line->stages[f->line->tanks[stage->tank].stage].temperature.row)
        (void)dregs_line_note(f->line, 0, "%s: 20 degC, for the properties of its liquid",
                              stage->name);
    for (i = 0; i < 3; i++) {
        if (stated[i] && stated[i]->row) {
            *into[i] = stated[i]->si;
            continue;
        }
        if (dregs_liquids_value(f->line->liquids, fluid->solvent, wanted[i], carried->temperature,
                                into[i], message)) {
            SAY(f, row, "the film of %s cannot be computed: %s", dregs_quote(name, stage->name),
                message);
            return 0;
        }
        if (dregs_liquids_extended(f->line->liquids, fluid->solvent, wanted[i],
                                   carried->temperature, message))
            (void)dregs_line_note(f->line, 0, "%s: %s", stage->name, message);
    }
    carried->with_liquid = 1;
    return 1;
}

static void by_law(struct films *f, const dregs_stage *stage, dregs_carried *carried)
{
    const dregs_load *load = f->line->load;
    double speed = stage->withdrawal_speed.si;
    dregs_status status;

    if (stage->film_way == DREGS_FILM_KUSHNER) {
        status = load->edge.si > 0
                     ? dregs_film_kushner_held(&carried->wetting, speed, load->area.si,
                                               load->edge.si, &carried->thickness, &carried->bead)
                     : dregs_film_kushner(&carried->wetting, speed, &carried->thickness);
        if (!(load->edge.si > 0))
            (void)dregs_line_note(
                f->line, 0,
                "%s: Kushner's film whole: no edge is stated, so what stays after "
                "draining is not known",
                stage->name);
    } else {
        carried->capillary = carried->wetting.viscosity * speed / carried->wetting.surface_tension;
        status = dregs_film_entrained(&carried->wetting, speed, &carried->entrained);
        carried->thickness = carried->entrained;
        if (!status)
            carried->number = carried->entrained / sqrt(carried->wetting.viscosity * speed /
                                                        (carried->wetting.density * DREGS_GRAVITY));
        if (!status && stage->drain_time.si > 0)
            status = dregs_film_drained(&carried->wetting, carried->entrained, load->height.si,
                                        stage->drain_time.si, &carried->thickness, &carried->reach);
    }
    if (status)
        SAY(f, stage->withdrawal_speed.row,
            "the film law does not hold at this speed: capillary number %g, allowed up to %g",
            carried->wetting.viscosity * speed / carried->wetting.surface_tension,
            DREGS_CAPILLARY_MOST);
}

static void carry_out(struct films *f, unsigned index, dregs_carried *carried)
{
    const dregs_load *load = f->line->load;
    const dregs_stage *stage = &f->line->stages[index];
    int law = stage->film_way == DREGS_FILM_LAW || stage->film_way == DREGS_FILM_KUSHNER;
    double factor = f->line->drag_out[index];

    if (law && !wetting_of(f, index, stage->withdrawal_speed.row, carried))
        return;
    if (!law && load->edge.si > 0 && !wetting_of(f, index, load->edge.row, carried))
        return;
    switch (stage->film_way) {
    case DREGS_FILM_STATED:
        carried->thickness = stage->film.si;
        break;
    case DREGS_FILM_DRAG_OUT:
        carried->thickness = stage->drag_out.si;
        break;
    case DREGS_FILM_CLASS:
        carried->thickness = stage->drag_out_class->most;
        if (stage->drag_out_class->most > stage->drag_out_class->least)
            (void)dregs_line_note(
                f->line, 0,
                "%s: %g gal per 1000 ft2, the upper end of the published %g to %g or more",
                stage->name, stage->drag_out_class->gallons[1], stage->drag_out_class->gallons[0],
                stage->drag_out_class->gallons[1]);
        break;
    default:
        by_law(f, stage, carried);
    }
    if (load->edge.si > 0 && stage->film_way != DREGS_FILM_KUSHNER)
        (void)dregs_film_edge_bead(&carried->wetting, load->edge.si, &carried->bead);
    carried->on_parts =
        load->parts.si * (load->area.si * carried->thickness + load->hold_up.si + carried->bead);
    carried->out = carried->on_parts + load->extra_area.si * carried->thickness;
    carried->thickness *= factor;
    carried->bead *= factor;
    /* what is followed by itself in the holes is full whatever the film is */
    carried->on_parts = (carried->on_parts - carried->trapped) * factor + carried->trapped;
    carried->out = (carried->out - carried->trapped) * factor + carried->trapped;
}

/* No open bath stands far above its liquid's boiling point; what is dissolved raises it a little.
 */
static void check_boiling(struct films *f, unsigned index, const dregs_stage *stage)
{
    const dregs_fluid *fluid = dregs_line_wet_with(f->line, index);
    char name[DREGS_QUOTED];
    double boiling;

    if (!stage->temperature.row || fluid->solvent_share.si < 1 ||
        dregs_liquids_value(f->line->liquids, fluid->solvent, DREGS_BOILING_POINT, DREGS_ROOM,
                            &boiling, NULL))
        return;
    if (stage->temperature.si > boiling + 10.0)
        SAY(f, stage->temperature.row, "%s: %s at %g degC, but %s boils at %g degC",
            dregs_quote(name, stage->name), fluid->name, stage->temperature.si - 273.15,
            fluid->solvent, boiling - 273.15);
}

int dregs_line_film_stated(dregs_line *line, unsigned index, dregs_carried *carried,
                           dregs_faults *faults)
{
    struct films f = {line, faults, 0};

    check_boiling(&f, index, &line->stages[index]);
    carry_out(&f, index, carried);
    return !f.bad;
}

dregs_status dregs_line_carry(dregs_line *line, dregs_faults *faults)
{
    double in = 0.0;
    unsigned i;
    int bad = 0;

    line->carried = dregs_line_keep(line, line->stage_count, sizeof *line->carried);
    if (!line->carried)
        return DREGS_NO_MEMORY;
    dregs_line_trap(line);
    for (i = 0; i < line->stage_count; i++) {
        dregs_carried *carried = &line->carried[i];
        const struct stage_kind *kind = dregs_stage_kinds[line->stages[i].kind];
        carried->in = in;
        if (kind->film && !kind->film(line, i, carried, faults))
            bad = 1;
        in = carried->out;
        if (!bad && kind->fits && !kind->fits(line, i, carried, faults))
            bad = 1;
    }
    return bad ? DREGS_BAD_DATA : dregs_line_note_ideal(line);
}
