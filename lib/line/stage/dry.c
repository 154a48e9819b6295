/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: an air knife may blow a share of the film off, to drain or into a catch tank, and as much
 * of the trapped liquid that it opens; of the rest liquids go and solutes stay. How long that
 * takes, and into what air, is asked of lib/dry.
 */
#include "line/check.h"
#include "line/stage/shared.h"

/* Nozzles go with a jet, which goes with all that its law asks for. */
static void check(struct checker *checker, const struct item *item, dregs_stage *stage)
{
    static const char *const nozzles[] = {"nozzle diameter", "nozzle distance", "nozzle pitch"};
    char name[DREGS_QUOTED];
    unsigned i, row;

    if (checker->changed)
        return;
    for (i = 0; i < 3; i++) {
        row = dregs_line_check_given(item, nozzles[i]);
        if (row && stage->air != DREGS_AIR_JET)
            SAY(checker, row, "%s of %s goes with 'air' jet, which is not given", nozzles[i],
                dregs_quote(name, item->name));
        if (!row && stage->air == DREGS_AIR_JET && i < 2)
            SAY(checker, stage->air_row, "air of %s is a jet and needs its %s",
                dregs_quote(name, item->name), nozzles[i]);
    }
    if ((stage->air == DREGS_AIR_JET || stage->air == DREGS_AIR_TRAY) && !stage->air_speed.row)
        SAY(checker, stage->air_row, "air of %s is a %s and needs its air speed",
            dregs_quote(name, item->name), dregs_air_flow_word(stage->air));
}

static void visit(const dregs_line *line, unsigned index, unsigned substance,
                  struct stage_visit *visit)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    double blown = stage->blow_off.si;
    double of_trapped = dregs_line_carried(line, index)->opened * blown;
    int liquid = dregs_stage_is_liquid(line, substance);

    if (blown > 0)
        dregs_stage_visit_part(visit,
                               stage->blow_off_to.kind == DREGS_LINK_WASTE ? DREGS_STREAM_COLLECTED
                                                                           : DREGS_STREAM_BLOWN_OFF,
                               blown, of_trapped, 0.0, -1);
    if (liquid)
        dregs_stage_visit_part(visit, DREGS_STREAM_DRIED, 1.0 - blown, 1.0 - of_trapped, 0.0, -1);
    visit->keep = liquid ? 0.0 : 1.0 - blown;
    visit->trapped.keep = liquid ? 0.0 : 1.0 - of_trapped;
}

static void volumes(const dregs_line *line, unsigned index, struct stage_volumes *volumes)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_waste_as(line, index);
    const dregs_carried *carried = dregs_line_carried(line, index);
    double film = dregs_stage_film_in(carried) + carried->opened * carried->trapped_in;

    volumes->dried =
        (1.0 - stage->blow_off.si) * film + (1.0 - carried->opened) * carried->trapped_in;
    if (!fluid)
        return;
    volumes->fluid = fluid;
    volumes->runoff = stage->blow_off.si * film;
    volumes->runoff_to = stage->blow_off_to;
}

static unsigned working(const dregs_line *line, unsigned index, unsigned solute,
                        const dregs_stage_masses *masses, dregs_stage_step *steps)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_value *opened = dregs_line_hold_up_exchange(line, index);
    struct figures f = {0};

    (void)solute;
    dregs_stage_step_text(&steps[0], "film = %s mg (1 - blow-off %s) = %s mg",
                          dregs_stage_figure(&f, masses->before * MG),
                          dregs_stage_figure(&f, stage->blow_off.si),
                          dregs_stage_figure(&f, masses->behind * MG));
    dregs_stage_step_source(&steps[0], stage->blow_off.row, "default 0", "");
    if (!dregs_line_traps(line))
        return 1;
    dregs_stage_step_text(&steps[1], "trapped = %s mg (1 - blow-off x hold-up exchange %s) = %s mg",
                          dregs_stage_figure(&f, masses->trapped_before * MG),
                          dregs_stage_figure(&f, dregs_line_carried(line, index)->opened),
                          dregs_stage_figure(&f, masses->trapped_behind * MG));
    dregs_stage_step_source(&steps[1], opened ? opened->row : 0, "default 1", "");
    return 2;
}

const struct stage_kind dregs_stage_dry = {
    .traits = DREGS_STAGE_DRIES,
    .check = check,
    .visit = visit,
    .volumes = volumes,
    .working = working,
};
