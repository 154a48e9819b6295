/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* air.c: what solvent cleaning machines may and could emit, 40 CFR part 63 subpart T, and what
 * makes a source a major one.
 */
#include "dregs/law.h"

#include <math.h>
#include <string.h>

/* 40 CFR 63.464, table 6, read: kg a month by the cleaning capacity in steps of 0.05 m3 from 0. */
#define ROW_STEP 0.05
/* clang-format off */
static const double table_6[] = {
      0,  55,  83, 106, 126, 144, 160, 176, 190, 204, 218, 231, 243, 255, 266,
    278, 289, 299, 310, 320, 330, 340, 349, 359, 368, 377, 386, 395, 404, 412,
    421, 429, 438, 446, 454, 462, 470, 477, 485, 493, 500, 508, 515, 522, 530,
    537, 544, 551, 558, 565, 572, 579, 585, 592, 599, 605, 612, 619, 625, 632};
/* clang-format on */
enum { ROWS = sizeof table_6 / sizeof table_6[0] };

/* A volume that is a row but for the rounding of its digits is that row. */
#define ROUNDING 1e-9

/* 40 CFR 63.464(a)(2)(ii)(A): between two rows the lower limit. */
dregs_status dregs_law_no_interface_row(double volume, double *limit)
{
    double row = volume / ROW_STEP;

    if (!(volume > 0) || !(row <= ROWS - 1 + ROUNDING))
        return DREGS_DOMAIN;
    *limit = table_6[(unsigned)(row + ROUNDING)];
    return DREGS_OK;
}

/* 40 CFR 63.465(e)(2), from memory. */
dregs_status dregs_law_no_interface_area(double volume, double *area)
{
    if (!(volume > 0) || !isfinite(volume))
        return DREGS_DOMAIN;
    *area = 2.20 * pow(volume, 0.6);
    return DREGS_OK;
}

/* 40 CFR 63.465(e)(1), from memory: kg/(m2 h). */
dregs_status dregs_law_machine_potential(dregs_law_machine machine, double time, double area,
                                         double *potential)
{
    static const double rates[] = {[DREGS_LAW_BATCH_VAPOUR] = 1.95,
                                   [DREGS_LAW_IN_LINE_EXISTING] = 1.12,
                                   [DREGS_LAW_IN_LINE_NEW] = 0.63,
                                   [DREGS_LAW_BATCH_COLD] = 1.95};

    if ((unsigned)machine > DREGS_LAW_BATCH_COLD || !(time >= 0) || !isfinite(time) ||
        !(area > 0) || !isfinite(area))
        return DREGS_DOMAIN;
    *potential = time / 3600.0 * rates[machine] * area;
    return DREGS_OK;
}

/* The solvents of 40 CFR 63.471 in the order of dregs_law_emitted; weights from memory. */
enum { PERCHLOROETHYLENE, TRICHLOROETHYLENE, DICHLOROMETHANE, FACILITY_SOLVENTS };
static const double weights[FACILITY_SOLVENTS] = {12.5, 4.25, 1};

double dregs_law_facility_weight(const char *liquid)
{
    static const struct {
        const char *name;
        int solvent;
    } names[] = {{"tetrachloroethylene", PERCHLOROETHYLENE},
                 {"perchloroethylene", PERCHLOROETHYLENE},
                 {"trichloroethylene", TRICHLOROETHYLENE},
                 {"dichloromethane", DICHLOROMETHANE},
                 {"methylene chloride", DICHLOROMETHANE}};
    size_t i;

    for (i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(liquid, names[i].name) == 0)
            return weights[names[i].solvent];
    return 0;
}

/* 40 CFR 63.471, table 1: of one solvent its own row, of several the weighted sum. The limits of
 * the general population read, those of depots but for the last from memory. */
dregs_status dregs_law_facility_year(dregs_law_facility facility, const dregs_law_emitted *emitted,
                                     double *counted, double *limit)
{
    static const double limits[][FACILITY_SOLVENTS] = {
        [DREGS_LAW_FACILITY_GENERAL] = {4800, 14100, 60000},
        [DREGS_LAW_FACILITY_DEPOT] = {8000, 23500, 100000}};
    const double kg[FACILITY_SOLVENTS] = {emitted->perchloroethylene, emitted->trichloroethylene,
                                          emitted->dichloromethane};
    unsigned i, only = DICHLOROMETHANE, kinds = 0;
    double sum = emitted->others;

    if ((unsigned)facility > DREGS_LAW_FACILITY_DEPOT || !(sum >= 0) || !isfinite(sum))
        return DREGS_DOMAIN;
    for (i = 0; i < FACILITY_SOLVENTS; i++) {
        if (!(kg[i] >= 0) || !isfinite(kg[i]))
            return DREGS_DOMAIN;
        sum += weights[i] * kg[i];
        if (kg[i] > 0)
            only = i, kinds++;
    }
    if (kinds == 1 && emitted->others == 0) {
        *counted = kg[only];
        *limit = limits[facility][only];
    } else {
        *counted = sum;
        *limit = limits[facility][DICHLOROMETHANE];
    }
    return DREGS_OK;
}

/* 42 U.S.C. 7412(a)(1) and 40 CFR 70.2, from memory: so many tons or more. */
dregs_law_verdict dregs_law_major(double potential, double short_tons)
{
    if (!(potential >= 0) || !(short_tons > 0))
        return DREGS_LAW_ASK;
    return potential >= short_tons * DREGS_LAW_SHORT_TON ? DREGS_LAW_YES : DREGS_LAW_NO;
}
