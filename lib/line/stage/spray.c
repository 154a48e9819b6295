/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* spray.c: fresh liquid on the load, which mixes with the film and runs off, to drain or into a
 * tank. It has no tank of its own.
 */
#include "line/check.h"
#include "line/stage/shared.h"

#include <math.h>

/* What takes part: the film, and of trapped liquid the share that is opened to the spray. */
struct wetted {
    double in, out; /* m3 */
    double into;    /* 0..1 of `out`: into the parts, as trapped liquid */
    double reach;   /* e S / in */
};

static struct wetted wetted(const dregs_stage *stage, const dregs_carried *carried)
{
    double into = dregs_stage_trapped_new(carried);
    struct wetted w = {.in = dregs_stage_film_in(carried) + carried->opened * carried->trapped_in,
                       .out = dregs_stage_film_out(carried) + into};

    w.into = into / w.out;
    w.reach = w.in > 0 ? stage->mixing.si * stage->use.si / w.in : HUGE_VAL;
    return w;
}

/* A spray can leave neither more of the old film nor more fresh liquid than there is. */
static int fits(const dregs_line *line, unsigned index, const dregs_carried *carried,
                dregs_faults *faults)
{
    const dregs_stage *stage = &line->stages[index];
    struct wetted w = wetted(stage, carried);
    double left = exp(-w.reach);
    char name[DREGS_QUOTED];

    if (!(w.out * left > w.in * (1 + 1e-12) || w.out * (1.0 - left) > stage->use.si * (1 + 1e-12)))
        return 1;
    (void)dregs_fault_add(
        faults, DREGS_BAD_DATA, dregs_line_at(line, stage->use.row),
        "%s cannot leave the film stated: a load brings %g L, %g L are sprayed on it, and %g L "
        "would leave with %g %% of the old film in it; state more use or a thinner film",
        dregs_quote(name, stage->name), w.in * 1e3, stage->use.si * 1e3, w.out * 1e3, left * 100);
    return 0;
}

static void visit(const dregs_line *line, unsigned index, unsigned substance,
                  struct stage_visit *visit)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *carried = dregs_line_carried(line, index);
    struct wetted w = wetted(stage, carried);
    double fresh = dregs_stage_fresh_content(line, substance, stage->liquid.index);
    /* `fits` lets a spray be short of liquid by rounding: nothing is made of nothing */
    double keep = w.in > 0 ? fmin(exp(-w.reach) * w.out / w.in, 1.0) : 0.0;
    double brought = fresh * fmin(-expm1(-w.reach) * w.out, stage->use.si);
    int caught = stage->runoff_to.kind == DREGS_LINK_STAGE;

    dregs_stage_visit_part(visit, DREGS_STREAM_SPRAYED, 0.0, 0.0, fresh * stage->use.si, -1);
    dregs_stage_visit_part(visit, caught ? DREGS_STREAM_CAUGHT : DREGS_STREAM_RUNOFF, 1.0 - keep,
                           carried->opened * (1.0 - keep), fresh * stage->use.si - brought,
                           caught ? dregs_line_stage(line, stage->runoff_to.index)->tank : -1);
    visit->keep = (1.0 - w.into) * keep;
    visit->brought = (1.0 - w.into) * brought;
    visit->trapped = (struct stage_trapped){
        .keep = 1.0 - carried->opened + carried->opened * w.into * keep,
        .of_film = w.into * keep,
        .gives = carried->opened * (1.0 - w.into) * keep,
        .brought = w.into * brought,
    };
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
    const dregs_carried *carried = dregs_line_carried(line, index);
    const dregs_value *opened = dregs_line_hold_up_exchange(line, index);
    double out = dregs_stage_film_out(carried);
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
    if (!dregs_line_traps(line))
        return 2;
    dregs_stage_step_text(
        &steps[2],
        "trapped = (1 - hold-up exchange) %s mg + %s mL c_out = %s mg; f and D_in with its share "
        "%s of what is trapped",
        dregs_stage_figure(&f, masses->trapped_before * MG),
        dregs_stage_figure(&f, dregs_stage_trapped_new(carried) * ML),
        dregs_stage_figure(&f, masses->trapped_behind * MG),
        dregs_stage_figure(&f, carried->opened));
    dregs_stage_step_source(&steps[2], opened ? opened->row : 0, "default 1", "");
    return 3;
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
