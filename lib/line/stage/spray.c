/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spray.c: fresh liquid on the load, which mixes with the film and runs off, to drain or into a
 * tank. It has no tank of its own.
 */
#include "line/check.h"
#include "line/stage/shared.h"

#include <math.h>

/* A spray can leave neither more of the old film nor more fresh liquid than there is. */
static int fits(const dregs_line *line, unsigned index, const dregs_carried *carried,
                dregs_faults *faults)
{
    const dregs_stage *stage = &line->stages[index];
    double left = carried->in > 0 ? exp(-stage->mixing.si * stage->use.si / carried->in) : 0.0;
    char name[DREGS_QUOTED];

    if (!(carried->out * left > carried->in * (1 + 1e-12) ||
          carried->out * (1.0 - left) > stage->use.si * (1 + 1e-12)))
        return 1;
    (void)dregs_fault_add(
        faults, DREGS_BAD_DATA, dregs_line_at(line, stage->use.row),
        "%s cannot leave the film stated: a load brings %g L, %g L are sprayed on it, and %g L "
        "would leave with %g %% of the old film in it; state more use or a thinner film",
        dregs_quote(name, stage->name), carried->in * 1e3, stage->use.si * 1e3, carried->out * 1e3,
        left * 100);
    return 0;
}

static void visit(const dregs_line *line, unsigned index, unsigned substance,
                  struct stage_visit *visit)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *film = dregs_line_carried(line, index);
    double fresh = dregs_stage_fresh_content(line, substance, stage->liquid.index);
    double reach = film->in > 0 ? stage->mixing.si * stage->use.si / film->in : HUGE_VAL;
    int caught = stage->runoff_to.kind == DREGS_LINK_STAGE;

    /* `fits` lets a spray be short of liquid by rounding: nothing is made of nothing */
    visit->keep = film->in > 0 ? fmin(exp(-reach) * film->out / film->in, 1.0) : 0.0;
    visit->brought = fresh * fmin(-expm1(-reach) * film->out, stage->use.si);
    dregs_stage_visit_part(visit, DREGS_STREAM_SPRAYED, 0.0, fresh * stage->use.si, -1);
    dregs_stage_visit_part(visit, caught ? DREGS_STREAM_CAUGHT : DREGS_STREAM_RUNOFF,
                           1.0 - visit->keep, fresh * stage->use.si - visit->brought,
                           caught ? dregs_line_stage(line, stage->runoff_to.index)->tank : -1);
}

static void volumes(const dregs_line *line, unsigned index, struct stage_volumes *volumes)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *carried = dregs_line_carried(line, index);

    volumes->fluid = dregs_line_fluid(line, stage->liquid.index);
    volumes->sprayed = stage->use.si;
    volumes->runoff = stage->use.si + carried->in - carried->out;
    volumes->runoff_to = stage->runoff_to;
}

static unsigned working(const dregs_line *line, unsigned index, unsigned solute,
                        const dregs_stage_masses *masses, dregs_stage_step *steps)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    double out = dregs_line_carried(line, index)->out;
    struct figures f = {0};

    dregs_stage_step_text(
        &steps[0],
        "c_out = l + (f/D_in - l) exp(-e S/D_in) with l = %s mg/L, e = %s, S = %s mL: %s mg/L",
        dregs_stage_figure(&f, dregs_line_fluid(line, stage->liquid.index)->content[solute].si *
                                   MG_PER_L),
        dregs_stage_figure(&f, stage->mixing.si), dregs_stage_figure(&f, stage->use.si * ML),
        dregs_stage_figure(&f, masses->behind / out * MG_PER_L));
    dregs_stage_step_text(&steps[1], "film = %s mL c_out = %s mg", dregs_stage_figure(&f, out * ML),
                          dregs_stage_figure(&f, masses->behind * MG));
    return 2;
}

const struct stage_kind dregs_stage_spray = {
    .traits = DREGS_STAGE_WET | DREGS_STAGE_RINSES | DREGS_STAGE_SPRAYS,
    .check = dregs_line_check_film,
    .film = dregs_line_film_stated,
    .fits = fits,
    .visit = visit,
    .volumes = volumes,
    .working = working,
};
