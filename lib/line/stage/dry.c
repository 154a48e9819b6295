/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.c: an air knife may blow a share of the film off, to drain or into a catch tank; of the rest
 * liquids go and solutes stay. How long that takes, and into what air, is asked of lib/dry.
 */
#include "line/stage/shared.h"

static void visit(const dregs_line *line, unsigned index, unsigned substance,
                  struct stage_visit *visit)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    double blown = stage->blow_off.si;
    int liquid = dregs_stage_is_liquid(line, substance);

    if (blown > 0)
        dregs_stage_visit_part(visit,
                               stage->blow_off_to.kind == DREGS_LINK_WASTE ? DREGS_STREAM_COLLECTED
                                                                           : DREGS_STREAM_BLOWN_OFF,
                               blown, 0.0, -1);
    if (liquid)
        dregs_stage_visit_part(visit, DREGS_STREAM_DRIED, 1.0 - blown, 0.0, -1);
    visit->keep = liquid ? 0.0 : 1.0 - blown;
}

static void volumes(const dregs_line *line, unsigned index, struct stage_volumes *volumes)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_waste_as(line, index);
    double film = dregs_line_carried(line, index)->in;

    volumes->dried = (1.0 - stage->blow_off.si) * film;
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
    struct figures f = {0};

    (void)solute;
    dregs_stage_step_text(&steps[0], "film = %s mg (1 - blow-off %s) = %s mg",
                          dregs_stage_figure(&f, masses->before * MG),
                          dregs_stage_figure(&f, stage->blow_off.si),
                          dregs_stage_figure(&f, masses->behind * MG));
    dregs_stage_step_source(&steps[0], stage->blow_off.row, "default 0", "");
    return 1;
}

const struct stage_kind dregs_stage_dry = {
    .traits = DREGS_STAGE_DRIES,
    .visit = visit,
    .volumes = volumes,
    .working = working,
};
