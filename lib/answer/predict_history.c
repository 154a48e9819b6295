/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_history.c: a prediction load by load, densely enough to be drawn: the dumps show. */
#include "balance/balance.h"
#include "dregs/answer_predict.h"

enum { SHORT = 10 };

/* How many loads tell the whole: two dump periods, or the way to the steady state. */
static uint64_t loads_of(const dregs_predict_result *result, uint64_t loads)
{
    uint64_t period = dregs_line_period(dregs_map_line(result->map));

    if (loads)
        return loads;
    if (period > 1)
        return period < DREGS_LOADS_MOST / 2 ? 2 * period : period;
    return result->last > SHORT ? result->last : SHORT; /* a line that is steady at once */
}

dregs_status dregs_predict_history(const dregs_predict_result *result, uint64_t loads,
                                   uint64_t most, dregs_predict_take *take, void *user)
{
    uint64_t last = loads_of(result, loads), stride, load;
    dregs_state *state;
    dregs_status status = DREGS_OK;

    if (most < 2)
        return DREGS_DOMAIN;
    stride = 1 + (last - 1) / most;
    state = dregs_state_new(result->map);
    if (!state)
        return DREGS_NO_MEMORY;
    for (load = 1; load <= last && !status; load += stride) {
        dregs_residue residue;
        status = dregs_balance_state_reach(state, load);
        if (status)
            break;
        dregs_residue_next(state, &residue);
        take(user, load, state, &residue);
    }
    dregs_state_free(state);
    return status;
}
