/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_line.c: from the dry stages of a line to drying cases. */
#include "answer/dry.h"
#include "dregs/balance.h"
#include "dregs/residue.h"
#include "dregs/stage.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A dry stage of the line that takes over a load of stage `wet`, of whose film the share `left` is
 * not blown off: as if dry stages between took nothing else. */
static dregs_status from_stage(struct dry_answer *answer, unsigned index, unsigned wet, double left,
                               double at)
{
    const dregs_dry_request *request = &answer->request;
    const dregs_line *line = answer->line;
    const dregs_load *load = dregs_line_load(line);
    dregs_dry_row *row = &answer->row[answer->result.rows];
    struct dregs_line_drying told;
    dregs_status status;

    memset(row, 0, sizeof *row);
    row->stage = dregs_line_stage(line, index)->name;
    row->dries_on = !dregs_line_drying_ends(line, index);
    dregs_line_drying_of(line, index, wet, left, &told);
    if (!isnan(at))
        told.film.air = at;
    status = dregs_answer_dry_complete(answer, row, &told);
    if (!status)
        status = dregs_answer_dry_masses(answer, row, &told);
    if (status)
        return status;
    if (load->hold_up.si > 0 && isnan(told.depth))
        dregs_answer_dry_assume(row,
                                "%.3g mL trapped per part gives off its vapour with the film, and "
                                "later: no recess depth is stated",
                                load->hold_up.si * 1e6);
    if (isnan(request->start) && !dregs_line_temperature_stated(line, wet))
        dregs_answer_dry_assume(
            row, "part and film at 20 degC at first: the stage before states no temperature");
    answer->result.rows++;
    return dregs_answer_dry_work_out(answer, row, &told);
}

dregs_status dregs_answer_dry_of_line(struct dry_answer *answer, double at)
{
    unsigned i, wet, found = 0;
    double left;
    dregs_status status = DREGS_OK;

    for (i = 1; i < dregs_line_stages(answer->line) && !status; i++) {
        wet = dregs_line_drying_from(answer->line, i, &left);
        if (wet == i || !(left > 0)) /* wet itself, or nothing is left to dry */
            continue;
        found = 1;
        if (answer->result.rows >= DREGS_DRY_ROWS_MOST) {
            snprintf(answer->message, DREGS_DRY_MESSAGE, "more than %d dryings asked for",
                     DREGS_DRY_ROWS_MOST);
            return DREGS_DOMAIN;
        }
        status = from_stage(answer, i, wet, left, at);
    }
    if (status || found)
        return status;
    snprintf(answer->message, DREGS_DRY_MESSAGE, "%s: the line has no dry stage behind a wet one",
             dregs_line_name(answer->line));
    return DREGS_BAD_DATA;
}

/* kg/m2 that the film of the worst load leaves; NaN where there is no such load. */
dregs_status dregs_answer_dry_residue(const dregs_line *line, double *left)
{
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    dregs_worst worst = {0, 1, 0};
    dregs_residue residue;
    dregs_status status = dregs_map_new(line, &map);

    *left = NAN;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status) {
        state = dregs_state_new(map);
        status = state ? DREGS_OK : DREGS_NO_MEMORY;
    }
    if (!status && worst.in_the_long_run)
        status = dregs_state_periodic(state);
    if (!status && worst.load > 1)
        status = dregs_state_before(state, worst.load);
    if (!status) {
        dregs_residue_next(state, &residue);
        *left = residue.film_total;
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}
