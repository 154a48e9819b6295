/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* less_mixed.c: the line once more, with less than the perfect mixing that its file leaves to be
 * assumed.
 */
#include "answer/inside.h"
#include "dregs/answer_predict.h"
#include "line/line.h"

#include <math.h>

dregs_status dregs_answer_less_mixed(const dregs_line *line, uint64_t loads, double *residue)
{
    dregs_setting settings[DREGS_LINE_STAGES];
    dregs_line *other = NULL;
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status;
    size_t count = 0;
    unsigned i;

    *residue = NAN;
    for (i = 0; i < dregs_line_stages(line); i++) {
        const char *property = dregs_line_ideal(line, i);
        if (property)
            settings[count++] = (dregs_setting){0, dregs_line_stage_name(line, i), property,
                                                DREGS_PREDICT_LESS_MIXED};
    }
    if (!count)
        return DREGS_OK;
    status = dregs_line_with(line, settings, count, &other, NULL);
    if (status == DREGS_BAD_DATA)
        return DREGS_OK; /* such as a spray that could not leave its film */
    if (!status)
        status = dregs_map_new(other, &map);
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, loads, &worst);
    if (!status)
        *residue = worst.residue;
    dregs_map_free(map);
    dregs_line_free(other);
    return status;
}
