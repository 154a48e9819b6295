/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law.c: the tally of a line put into the forms that regulations ask for.
 *
 * Every mass is one of the tally; here it only gets the name that a regulation gives it. What the
 * file and the facts of the site do not decide is asked for. The rules themselves are in lib/law.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- what its parts share ---- */

double dregs_answer_tally_known(const dregs_tally_law *law, const char *liquid,
                                dregs_property property)
{
    double value = NAN;

    (void)dregs_liquids_value(dregs_line_liquids(law->line), liquid, property, 293.15, &value,
                              NULL);
    return value;
}

double dregs_answer_tally_share_or(double share, double otherwise)
{
    return isnan(share) ? otherwise : share;
}

/* ---- making ---- */

/* Whether a waste is an alcohol in water goes by the class of its liquids, which one of the user's
 * own must state. */
static dregs_status check_classes(const dregs_tally_law *law, dregs_faults *faults)
{
    char message[DREGS_LIQUID_MESSAGE];
    dregs_liquid_class is;
    unsigned i;

    for (i = 0; i < dregs_line_fluids(law->line); i++)
        if (dregs_liquids_class(dregs_line_liquids(law->line),
                                dregs_line_fluid(law->line, i)->solvent, &is, message))
            return dregs_fault_add(faults, DREGS_DOMAIN, 0, "%s", message);
    return DREGS_OK;
}

/* A year of loads around the clock. */
static dregs_status fill_around(dregs_tally_law *law, dregs_faults *faults)
{
    const dregs_tally_request request = {DREGS_SPAN_AROUND, 0, 0};
    dregs_status status = dregs_tally_new(law->line, &request, &law->around, NULL);

    if (status == DREGS_DOMAIN)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                               "%.200s: more loads in a year than can be counted",
                               dregs_line_name(law->line));
    return status ? dregs_fault_add(faults, status, 0, "%.200s: %s", dregs_line_name(law->line),
                                    dregs_status_text(status))
                  : DREGS_OK;
}

/* What goes by month or year; it is asked for where the schedule does not tell it. */
static dregs_status fill_year(dregs_tally_law *law, const dregs_tally_result *answer)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_status status = dregs_answer_tally_year_of(answer, &law->year, &law->own_year, message);

    if (status == DREGS_NO_MEMORY)
        return status;
    dregs_answer_tally_law_solvents(law);
    dregs_answer_tally_law_mass_flows(law);
    if (law->year && !law->failed) {
        dregs_answer_tally_law_plans(law);
        dregs_answer_tally_law_machines(law);
        dregs_answer_tally_law_facility(law);
        dregs_answer_tally_law_wastes(law);
    } else if (!law->failed)
        dregs_answer_tally_ask(law, TALLY_OPENS_FIGURES, NULL,
                               "a schedule, for all that goes by month or year: %s", message);
    dregs_answer_tally_asked_done(law);
    return law->failed ? DREGS_NO_MEMORY : DREGS_OK;
}

dregs_status dregs_answer_tally_law_new(const dregs_tally_result *answer, dregs_tally_law **law,
                                        dregs_faults *faults)
{
    dregs_tally_law *made = calloc(1, sizeof *made);
    dregs_status status;

    if (!made)
        return DREGS_NO_MEMORY;
    made->site = answer->question.site;
    made->line = answer->line[0].one.line;
    made->regulations = dregs_regulations_new();
    status = made->regulations ? check_classes(made, faults) : DREGS_NO_MEMORY;
    if (!status)
        status = fill_around(made, faults);
    if (!status)
        status = fill_year(made, answer);
    if (status)
        dregs_answer_tally_law_free(made);
    else
        *law = made;
    return status;
}

void dregs_answer_tally_law_free(dregs_tally_law *law)
{
    if (!law)
        return;
    dregs_tally_free(law->own_year);
    dregs_tally_free(law->around);
    dregs_regulations_free(law->regulations);
    free(law->solvent);
    free(law->machine);
    free(law->waste);
    free(law->asked);
    free(law);
}

/* ---- reading ---- */

const dregs_site *dregs_tally_law_site(const dregs_tally_law *law)
{
    return law->site;
}

const dregs_tally *dregs_tally_law_year(const dregs_tally_law *law)
{
    return law->year;
}

const dregs_tally *dregs_tally_law_around(const dregs_tally_law *law)
{
    return law->around;
}

const dregs_tally_solvent_law *dregs_tally_law_solvent(const dregs_tally_law *law, unsigned index)
{
    return index < law->solvents ? &law->solvent[index] : NULL;
}

const dregs_tally_potential *dregs_tally_law_potential(const dregs_tally_law *law)
{
    return &law->potential;
}

const dregs_tally_plan *dregs_tally_law_plan(const dregs_tally_law *law, unsigned index)
{
    unsigned i;

    for (i = 0; i < 2; i++)
        if (law->plan_used[i] && index-- == 0)
            return &law->plan[i];
    return NULL;
}

const dregs_tally_mass_flow *dregs_tally_law_mass_flow(const dregs_tally_law *law,
                                                       dregs_law_hazard hazard)
{
    return (unsigned)hazard <= DREGS_LAW_HALOGENATED_CMR2 && law->flow_used[hazard]
               ? &law->flow[hazard]
               : NULL;
}

const dregs_tally_machine *dregs_tally_law_machine(const dregs_tally_law *law, unsigned index)
{
    return index < law->machines ? &law->machine[index] : NULL;
}

const dregs_tally_facility *dregs_tally_law_facility(const dregs_tally_law *law)
{
    return law->facility_used ? &law->facility : NULL;
}

const dregs_tally_waste *dregs_tally_law_waste(const dregs_tally_law *law, unsigned index)
{
    return index < law->wastes ? &law->waste[index] : NULL;
}

const dregs_tally_waste_month *dregs_tally_law_month(const dregs_tally_law *law, unsigned month)
{
    return law->wastes && month < DREGS_MONTHS ? &law->month[month] : NULL;
}

const dregs_tally_asked *dregs_tally_law_asked(const dregs_tally_law *law, unsigned index)
{
    return index < law->asked_count ? &law->asked[index].shown : NULL;
}
