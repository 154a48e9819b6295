/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* rinse.c: an immersion that thins what the film holds. */
#include "line/check.h"
#include "line/stage/shared.h"

static void check(struct checker *c, const struct item *item, dregs_stage *stage)
{
    dregs_line_check_film(c, item, stage);
    dregs_stage_immersion_check(c, item, stage);
}

const struct stage_kind dregs_stage_rinse = {
    .traits = DREGS_STAGE_TANK | DREGS_STAGE_WET | DREGS_STAGE_RINSES,
    .check = check,
    .film = dregs_stage_immersion_film,
    .fits = dregs_stage_immersion_fits,
    .visit = dregs_stage_immersion_visit,
    .working = dregs_stage_immersion_working,
};
