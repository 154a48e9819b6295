/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_working.c: how a drying was worked out: properties, equations, heats. */
#include "page/dry.h"

#include <math.h>

static void explain_property(const struct dryings *d, const dregs_dry_row *row, const char *liquid,
                             dregs_property property)
{
    const dregs_liquid_row *source = dregs_liquids_row(row->film.liquids, liquid, property);
    struct numbers n = {0};
    double value;

    if (!source ||
        dregs_liquids_value(row->film.liquids, liquid, property, row->film.start, &value, NULL))
        return;
    dregs_report_line(
        d->report, 4, "%s of %s at %s degC = %s %s  by %s  [%s, %s]", dregs_property_name(property),
        liquid, dregs_page_number(&n, CELSIUS(row->film.start)), dregs_page_number(&n, value),
        dregs_property_unit(property), source->equation, source->source, source->evidence);
}

static void explain_properties(const struct dryings *d, const dregs_dry_row *row)
{
    static const dregs_property shown[] = {DREGS_VAPOUR_PRESSURE, DREGS_HEAT_OF_VAPORISATION,
                                           DREGS_HEAT_CAPACITY,   DREGS_DIFFUSIVITY,
                                           DREGS_MOLAR_MASS,      DREGS_LOWER_LIMIT};
    unsigned i, k;

    for (i = 0; i < row->drying.volatiles; i++)
        for (k = 0; k < sizeof shown / sizeof shown[0]; k++)
            explain_property(d, row, row->drying.liquid[i], shown[k]);
}

static void explain_setting(const struct dryings *d, const dregs_dry_case *film)
{
    struct numbers n = {0};

    dregs_report_line(
        d->report, 2,
        "air at %s degC, speed %s m/s, humidity %s; part and film %s degC at first, %s J/(m2 K), "
        "length %s m, air %s",
        dregs_page_number(&n, CELSIUS(film->air)), dregs_page_number(&n, film->speed),
        dregs_page_number(&n, film->humidity), dregs_page_number(&n, CELSIUS(film->start)),
        dregs_page_number(&n, film->heat_capacity), dregs_page_number(&n, film->length),
        dregs_air_flow_word(film->flow));
    if (film->flow == DREGS_AIR_JET)
        dregs_report_line(
            d->report, 4, "nozzles of %s mm at %s mm, pitch %s mm%s",
            dregs_page_number(&n, film->nozzle * 1e3), dregs_page_number(&n, film->distance * 1e3),
            dregs_page_number(&n, film->pitch * 1e3), film->pitch > 0 ? "" : ": one nozzle");
}

static void explain_drying(const struct dryings *d, const dregs_dry_row *row)
{
    const dregs_drying *drying = &row->drying;
    struct numbers n = {0};

    dregs_report_gap(d->report);
    explain_setting(d, &row->film);
    explain_properties(d, row);
    if (!isnan(row->heat_transfer))
        dregs_report_line(d->report, 4,
                          "h at first, by temperature alone = %s W/(m2 K)  [%s; vertical plate, "
                          "Churchill and Chu 1975; the cubes added, Churchill 1977]",
                          dregs_page_number(&n, row->heat_transfer),
                          dregs_air_flow_law(row->film.flow));
    dregs_report_line(d->report, 4,
                      row->film.flow == DREGS_AIR_JET
                          ? "k_i = h / (rho cp) (D_i / a)^0.58  [Martin 1977]"
                          : "k_i = h / (rho cp) (D_i / a)^(2/3)  [Chilton and Colburn 1934]");
    dregs_report_line(
        d->report, 4,
        "N_i = k_i M_i P / (R T_f) ln((P - p_i,far) / (P - p_i,surface))  [Stefan flow]");
    dregs_report_line(d->report, 4,
                      "dw_i/dt = -N_i;  (C + sum w_i c_i) dT/dt = h (T_air - T) + eps sigma "
                      "(T_wall^4 - T^4) - sum N_i L_i");
    dregs_report_line(
        d->report, 4,
        "heat by convection %s, by radiation %s, gone by evaporation %s, stored %s J/m2",
        dregs_page_number(&n, drying->convected), dregs_page_number(&n, drying->radiated),
        dregs_page_number(&n, drying->latent), dregs_page_number(&n, drying->stored));
    dregs_report_line(d->report, 4, "%lu steps of GSL's msbdf at 1e-9; the end by Brent's method",
                      (unsigned long)drying->points);
}

void dregs_page_dry_working(const struct dryings *d)
{
    unsigned i;

    dregs_report_heading(d->report, "the working");
    for (i = 0; i < d->result->rows; i++)
        explain_drying(d, dregs_dry_result_row(d->result, i));
    dregs_page_dry_doubt_working(d);
}
