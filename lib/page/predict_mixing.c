/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_mixing.c: what no flow reaches, and what perfect mixing is worth where it is assumed. */
#include "page/predict.h"

#include <math.h>

void dregs_page_predict_say_mixing(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;
    struct numbers n = {0};

    dregs_report_text(p->report, 2, 4,
                      "with an endless flow in every rinse: %s ug/cm2, no flow of this line gets "
                      "below",
                      dregs_page_number(&n, result->rinsed.total * UG_PER_CM2));
    if (!isnan(result->less_mixed))
        dregs_report_text(p->report, 2, 4,
                          "perfect mixing is assumed (see below): with %s %% exchange or mixing in "
                          "its place it would be %s ug/cm2 at the worst load%s",
                          dregs_page_number(&n, DREGS_PREDICT_LESS_MIXED * 100),
                          dregs_page_number(&n, result->less_mixed * UG_PER_CM2),
                          result->by_week ? " without a pause" : "");
    if (!isnan(result->trapped))
        dregs_report_text(p->report, 2, 4,
                          "dried in bores and blind holes at the worst load: %s ug/cm2 of it",
                          dregs_page_number(&n, result->trapped * UG_PER_CM2));
}

void dregs_page_predict_put_mixing(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;

    dregs_report_figure(p->report, "residue_at_endless_flow",
                        dregs_quantity_of(result->rinsed.total * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(p->report, "residue_less_mixed",
                        dregs_quantity_of(result->less_mixed * UG_PER_CM2, "ug/cm2"));
    if (!isnan(result->trapped))
        dregs_report_figure(p->report, "residue_trapped",
                            dregs_quantity_of(result->trapped * UG_PER_CM2, "ug/cm2"));
}

void dregs_page_predict_explain_mixing(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;
    struct numbers n = {0};

    dregs_report_text(p->report, 4, 6,
                      "endless flow: m = V c of the feed in every rinse, washes as that load meets "
                      "them, then stage by stage as above: %s ug/cm2",
                      dregs_page_six(&n, result->rinsed.total * UG_PER_CM2));
    if (!isnan(result->less_mixed))
        dregs_report_text(p->report, 4, 6,
                          "%s in place of every assumed 100 %% of exchange or mixing, the line "
                          "worked out anew: %s ug/cm2 at its worst load",
                          dregs_page_six(&n, DREGS_PREDICT_LESS_MIXED),
                          dregs_page_six(&n, result->less_mixed * UG_PER_CM2));
}
