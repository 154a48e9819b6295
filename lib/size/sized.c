/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sized.c: what a search found, to be read. */
#include "dregs/edit.h"
#include "size/inside.h"

#include <math.h>
#include <stdlib.h>

void dregs_sized_free(dregs_sized *sized)
{
    if (!sized)
        return;
    dregs_edit_free(sized->text);
    dregs_varied_free(sized->own);
    free(sized);
}

const dregs_varied *dregs_sized_varied(const dregs_sized *sized)
{
    return sized->varied;
}

int dregs_sized_feasible(const dregs_sized *sized)
{
    return sized->feasible;
}

int dregs_sized_throughout(const dregs_sized *sized)
{
    return sized->throughout;
}

double dregs_sized_value(const dregs_sized *sized, unsigned index)
{
    return index < sized->varied->count ? sized->value[index] : NAN;
}

int dregs_sized_at_low(const dregs_sized *sized, unsigned index)
{
    return index < sized->varied->count && sized->at_low[index];
}

int dregs_sized_at_high(const dregs_sized *sized, unsigned index)
{
    return index < sized->varied->count && sized->at_high[index];
}

const dregs_compliance *dregs_sized_compliance(const dregs_sized *sized)
{
    return &sized->compliance;
}

const dregs_bound *dregs_sized_bound(const dregs_sized *sized)
{
    return sized->bounded ? &sized->bound : NULL;
}

const dregs_use *dregs_sized_use(const dregs_sized *sized)
{
    return &sized->use;
}

const char *dregs_sized_text(const dregs_sized *sized, size_t *length)
{
    if (length)
        *length = sized->length;
    return sized->text;
}

int dregs_sized_ended(const dregs_sized *sized)
{
    return sized->ended;
}

double dregs_sized_possible(const dregs_sized *sized)
{
    return sized->possible;
}

double dregs_sized_beyond(const dregs_sized *sized)
{
    return sized->beyond;
}

double dregs_sized_unrounded(const dregs_sized *sized)
{
    return sized->unrounded;
}

unsigned dregs_sized_trials(const dregs_sized *sized)
{
    return sized->trials;
}

unsigned dregs_sized_trials_kept(const dregs_sized *sized)
{
    return sized->trials < TRIALS_MOST ? sized->trials : TRIALS_MOST;
}

double dregs_sized_trial_value(const dregs_sized *sized, unsigned trial, unsigned index)
{
    return trial < dregs_sized_trials_kept(sized) && index < sized->varied->count
               ? sized->trial[trial].value[index]
               : NAN;
}

double dregs_sized_trial_of_limit(const dregs_sized *sized, unsigned trial)
{
    return trial < dregs_sized_trials_kept(sized) ? sized->trial[trial].excess : NAN;
}
