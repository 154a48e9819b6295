/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size_regime.c: how soon a line comes near to its long run, and whether it leaves the range that
 * the file describes.
 */
#include "answer/inside.h"
#include "dregs/residue.h"
#include "residue/residue.h"

#include <math.h>

enum { LOADS_MOST = 1 << 20 };

dregs_status dregs_answer_size_settled(const dregs_map *map, int solute, double long_run,
                                       uint64_t *settled)
{
    dregs_state *state = dregs_state_new(map);
    dregs_residue residue;
    uint64_t load, found = 0;

    if (!state)
        return DREGS_NO_MEMORY;
    for (load = 1; load <= LOADS_MOST && !found; load++) {
        dregs_residue_next(state, &residue);
        if (dregs_residue_of(&residue, solute) >= 0.95 * long_run)
            found = load;
        dregs_state_step(state);
    }
    dregs_state_free(state);
    *settled = found;
    return DREGS_OK;
}
