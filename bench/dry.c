/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: what bench/run.sh measures of a film that dries.
 *
 *   bench-dry    one curve of 20 um of isopropanol at 22 degC; ms, and its drying time, s
 *
 * The table is read once before the clock runs. Median of some runs.
 */
#include "dregs/dry.h"
#include "clock.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <string.h>

enum { TIMES = 101 };

int main(void)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_dry_case film;
    char message[DREGS_DRY_MESSAGE] = "out of memory", number[DREGS_NUMBER_TEXT];
    double taken[TIMES], seconds = 0;
    int i, failed = !liquids || !mixtures;

    gsl_set_error_handler_off();
    memset(&film, 0, sizeof film);
    film.liquids = liquids;
    film.mixtures = mixtures;
    film.count = 1;
    film.liquid[0] = "isopropanol";
    film.mass[0] = 0.0157; /* kg/m2, 20 um */
    film.start = film.air = film.wall = film.humid_at = 295.15;
    film.speed = 0.1;
    film.humidity = 0.5;
    film.pressure = DREGS_ATMOSPHERE;
    film.heat_capacity = 3900;
    film.length = 0.1;
    film.emissivity = 0.9;
    film.until = 1e-3;
    for (i = 0; i < TIMES && !failed; i++) {
        dregs_drying drying;
        memset(&drying, 0, sizeof drying);
        taken[i] = now();
        failed = dregs_dry(&film, 1e-9, &drying, message) != DREGS_OK;
        taken[i] = now() - taken[i];
        seconds = drying.time;
        dregs_drying_clear(&drying);
    }
    if (failed)
        fprintf(stderr, "bench-dry: %s\n", message);
    else
        printf("%.4f %s\n", median(taken, TIMES) * 1e3, dregs_number_exact(number, seconds));
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
    return failed;
}
