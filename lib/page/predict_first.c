/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_first.c: what a technician does about a residue: where most of it comes from, and which
 * value to measure before anything is built on the answer.
 */
#include "page/predict.h"

#include <math.h>
#include <stdio.h>

/* What makes this share of a residue is said to make it; what makes this share of the doubt is
 * worth a measurement. Both our own choice. */
#define MOST  0.5
#define WORTH 0.1

enum { MEASURED_MOST = 2 };

/* The largest part of the worst load's residue: which solute, and whether it adheres. */
static double largest_part(const dregs_residue *residue, unsigned *solute, int *adheres)
{
    double most = -1;
    unsigned s;

    for (s = 0; s < residue->solutes; s++) {
        if (residue->film[s] > most) {
            most = residue->film[s];
            *solute = s;
            *adheres = 0;
        }
        if (residue->adhering[s] > most) {
            most = residue->adhering[s];
            *solute = s;
            *adheres = 1;
        }
    }
    return most;
}

/* The last rinse whose liquid nothing renews, neither flow nor overflow, dump or clearing: in the
 * long run it holds what the wash holds. NULL for none. */
static const char *never_renewed(const struct prediction *p, unsigned solute)
{
    unsigned i;

    for (i = dregs_line_stages(p->line); i-- > 0;) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        const dregs_tank *tank;
        if (!dregs_stage_is(stage, DREGS_STAGE_RINSES) || stage->tank < 0)
            continue;
        tank = dregs_line_tank(p->line, (unsigned)stage->tank);
        return tank->flow > 0 || tank->overflow_in > 0 || stage->shares.row ||
                       stage->dump_every.si >= 1 || stage->clearing[solute].si > 0
                   ? NULL
                   : stage->name;
    }
    return NULL;
}

void dregs_page_predict_cause(const struct prediction *p)
{
    const dregs_predict_result *result = p->result;
    const dregs_residue *floor = &result->floor;
    const dregs_residue *residue =
        result->by_week ? &result->in_week.residue : &result->worst_residue;
    unsigned solute = 0;
    int adheres = 0;
    double part = largest_part(residue, &solute, &adheres);
    const char *name, *idle;
    struct numbers n = {0};

    if (p->result->trapped > MOST * residue->total) {
        dregs_report_text(
            p->report, 2, 4,
            "%s %% of it dries in bores and blind holes: parts that drain, or a stage "
            "that reaches into them, help; more flow does not",
            dregs_page_number(&n, round(100 * p->result->trapped / residue->total)));
        return;
    }
    if (!(part > MOST * residue->total))
        return;
    name = dregs_page_solute(p->line, (int)solute);
    dregs_report_words(p->report, "%s %% of it is %s ",
                       dregs_page_number(&n, round(100 * part / residue->total)), name);
    if (adheres)
        dregs_report_words(p->report, "that adheres to the parts: better cleaning helps, more "
                                      "rinsing does not");
    else if (floor->film[solute] > MOST * part)
        dregs_report_words(p->report, "that fresh liquid itself leaves: cleaner liquid in the last "
                                      "stage or a thinner last film helps, more rinsing does not");
    else if (result->by_week && !(result->worst_residue.film[solute] > MOST * part))
        dregs_report_words(p->report, "in the film that dries, most of it there only after a "
                                      "pause: look at what evaporates, is topped up or stands "
                                      "still then");
    else if ((idle = never_renewed(p, solute)) != NULL)
        dregs_report_words(p->report,
                           "in the film that dries: nothing renews the liquid of %s, which states "
                           "neither flow nor dump every",
                           idle);
    else
        dregs_report_words(p->report, "in the film that dries: more flow, one more rinse or a "
                                      "longer drain time helps (dregs-size says how much)");
    dregs_report_end(p->report, 2, 4);
}

/* What can be measured in place of a property: what is worked out with it. */
static const char *instead_of(const dregs_hangs_doubt *doubt)
{
    if (!doubt->liquid)
        return "";
    switch (doubt->property) {
    case DREGS_VISCOSITY:
    case DREGS_SURFACE_TENSION:
        return "the drag-out, for ";
    case DREGS_DENSITY: /* of films and of open surfaces */
        return "the drag-out or the evaporation, for ";
    default:
        return "the evaporation, for ";
    }
}

void dregs_page_predict_marked(const struct prediction *p)
{
    unsigned marked, numbers = dregs_line_numbers(p->line, &marked);

    if (marked > numbers / 2)
        dregs_report_text(p->report, 2, 4,
                          "%u of the %u numbers in the file are marked as assumed: measure them "
                          "before anything is built on this",
                          marked, numbers);
}

void dregs_page_predict_measure(const struct prediction *p)
{
    const dregs_hangs_doubt *doubt;
    char name[PREDICT_DOUBT_NAME];
    unsigned i;

    if (p->result->by_week) /* the doubt that is known is that of loads without a pause */
        return;
    for (i = 0; i < MEASURED_MOST && p->result->hangs; i++) {
        doubt = dregs_hangs_result_doubt(p->result->hangs, i);
        if (!doubt || !(doubt->total > WORTH))
            break;
        dregs_report_words(p->report, "%s%s%s (%.0f %%%s)",
                           i ? ", then " : "measure first: ", instead_of(doubt),
                           dregs_page_predict_doubt_name(p, doubt, name),
                           100 * fmin(1, doubt->total), i ? "" : " of the doubt about the residue");
    }
    if (i)
        dregs_report_end(p->report, 2, 4);
}
