/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stopped.c: the drag-out measured with the water shut, and the row of the line file that it takes
 * the place of.
 */
#include "answer/inside.h"
#include "dregs/answer_reuse.h"
#include "line/line.h"

#include <stdlib.h>

static void fill(const dregs_line *line, dregs_stopped_result *result)
{
    const dregs_stopped_flow *measured = &result->measured;
    const dregs_stage *from = dregs_line_stage(line, measured->from);
    const dregs_carried *carried = dregs_line_carried(line, measured->from);
    const dregs_load *load = dregs_line_load(line);
    unsigned tank = (unsigned)dregs_line_stage(line, measured->stage)->tank;

    result->replaces = from->film.row               ? from->film.row
                       : from->drag_out.row         ? from->drag_out.row
                       : from->withdrawal_speed.row ? from->withdrawal_speed.row
                                                    : from->class_row;
    result->replaces_speed = from->withdrawal_speed.row != 0;
    result->sd_share = measured->sd / measured->thickness;
    result->stated = carried->out;
    result->beside = load->parts.si * (load->hold_up.si + carried->bead);
    result->wetted = load->parts.si * load->area.si + load->extra_area.si;
    result->volume = dregs_line_tank(line, tank)->volume;
    result->spreads_unused =
        dregs_answer_spreads(line) - (result->measured.bath_spread > 0); /* of one content */
}

dregs_status dregs_stopped_answer(const dregs_line *line, const dregs_readings *readings,
                                  double noise, dregs_stopped_result **result, dregs_faults *faults)
{
    dregs_stopped_result *made = calloc(1, sizeof *made);
    dregs_status status;

    if (!made)
        return DREGS_NO_MEMORY;
    status = dregs_drag_out_measure(line, readings, noise, &made->measured, faults);
    if (!status)
        status = dregs_answer_line_cautions(line, &made->caution, &made->cautions);
    if (status) {
        free(made);
        return status;
    }
    made->line = line;
    made->readings = readings;
    fill(line, made);
    *result = made;
    return DREGS_OK;
}

void dregs_stopped_result_free(dregs_stopped_result *result)
{
    if (result)
        free((void *)result->caution);
    free(result);
}
