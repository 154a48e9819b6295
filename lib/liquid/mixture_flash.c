/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixture_flash.c: the flash point of a mixture, from those of its liquids: the vapour over it
 * reaches the lower flammable limit by Le Chatelier's rule, each liquid's own limit being that of
 * its vapour pressure at its own flash point. Water adds nothing.
 *
 * Left out: that much water vapour keeps a flame from spreading, so that thin mixtures are said to
 * flash where a cup shows nothing.
 */
#include "base/root.h"
#include "dregs/mixture.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct flash {
    const dregs_mixtures *mixtures;
    const dregs_liquids *liquids;
    const char *name[2];
    double share[2];
    double at_limit[2]; /* Pa, of each pure liquid at its flash point; INFINITY for water */
};

/* Of the limit, less 1; NaN where something is not known. */
static double excess(double temperature, void *user)
{
    const struct flash *f = user;
    double gamma[2], pressure, sum = 0;
    int i;

    if (dregs_mixture_activity(f->mixtures, f->name[0], f->name[1], f->share[0], temperature, gamma,
                               NULL))
        return NAN;
    for (i = 0; i < 2; i++) {
        if (!isfinite(f->at_limit[i]) || !(f->share[i] > 0))
            continue;
        if (dregs_liquids_value(f->liquids, f->name[i], DREGS_VAPOUR_PRESSURE, temperature,
                                &pressure, NULL))
            return NAN;
        sum += f->share[i] * gamma[i] * pressure / f->at_limit[i];
    }
    return sum - 1;
}

static dregs_status set_limit(struct flash *f, int i, char *message)
{
    double flash_point;
    dregs_status status;

    f->at_limit[i] = INFINITY;
    if (strcmp(f->name[i], "water") == 0)
        return DREGS_OK;
    status =
        dregs_liquids_value(f->liquids, f->name[i], DREGS_FLASH_POINT, NAN, &flash_point, message);
    return status ? status
                  : dregs_liquids_value(f->liquids, f->name[i], DREGS_VAPOUR_PRESSURE, flash_point,
                                        &f->at_limit[i], message);
}

/* In steps from cold to warm to where the limit is reached: the range of the data has no known
 * ends.
 */
static double search(struct flash *f)
{
    double t, before = NAN, at;

    for (t = 230; t <= 400; t += 1) {
        at = excess(t, f);
        if (at >= 0 && before < 0)
            return dregs_root(excess, f, t - 1, t, 1e-9);
        before = at;
    }
    return NAN;
}

dregs_status dregs_mixture_flash_point(const dregs_mixtures *mixtures, const dregs_liquids *liquids,
                                       const char *first, const char *second, double mole_share,
                                       double *temperature, char *message)
{
    struct flash f = {mixtures, liquids, {first, second}, {mole_share, 1 - mole_share}, {0, 0}};
    double gamma[2], found;
    dregs_status status =
        dregs_mixture_activity(mixtures, first, second, mole_share, 293.15, gamma, message);
    int i;

    for (i = 0; i < 2 && !status; i++)
        status = set_limit(&f, i, message);
    if (status)
        return status;
    found = search(&f);
    if (!isfinite(found)) {
        if (message)
            snprintf(message, DREGS_LIQUID_MESSAGE,
                     "%s-%s reaches its flash point nowhere in the range of its data", first,
                     second);
        return DREGS_OUT_OF_RANGE;
    }
    *temperature = found;
    return DREGS_OK;
}
