/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_given.c: facts of a site that contradict each other or the line, or that change nothing of
 * the answer: who states them believes that they count.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

/* A reason against what is given; NULL for none. */
typedef const char *reason;

static dregs_status refuse(dregs_faults *faults, const char *key, reason why)
{
    return dregs_fault_add(faults, DREGS_UNKNOWN, 0, "%s: %s", key, why);
}

/* ---- facts of a stage ---- */

static reason of_stage(const dregs_tally_law *law, const char *stage)
{
    unsigned i, k;

    for (k = 0; k < dregs_line_stages(law->line); k++)
        if (strcmp(stage, dregs_line_stage(law->line, k)->name) == 0)
            break;
    if (k == dregs_line_stages(law->line))
        return "the line has no such stage";
    for (i = 0; i < law->wastes; i++)
        if (law->waste[i].stage == k)
            return NULL;
    return law->year ? "no liquid waste leaves that stage: it changes nothing" : NULL;
}

static dregs_status check_stage(const dregs_tally_law *law, const char *stage, const char *tail,
                                dregs_faults *faults)
{
    reason why = of_stage(law, stage);

    return why ? dregs_fault_add(faults, DREGS_UNKNOWN, 0, "'%.250s%s': %s", stage, tail, why)
               : DREGS_OK;
}

static dregs_status check_stages(const dregs_tally_law *law, dregs_faults *faults)
{
    const dregs_site *site = law->site;
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < site->flashes && !status; i++)
        status = check_stage(law, site->flash[i].stage, ".flash point", faults);
    for (i = 0; i < site->listings && !status; i++)
        status = check_stage(law, site->listed[i].stage, ".listed", faults);
    for (i = 0; i < site->traits && !status; i++)
        status = check_stage(law, site->trait[i].stage, ".characteristics", faults);
    return status;
}

/* ---- facts that contradict each other ---- */

static reason against_chamber(const dregs_site *site)
{
    return isnan(site->chamber) || site->machine == DREGS_SITE_NO_INTERFACE
               ? NULL
               : "goes with machine=no interface alone";
}

static reason against_interface(const dregs_tally_law *law)
{
    unsigned i;

    if (isnan(law->site->interface))
        return NULL;
    if (law->site->machine == DREGS_SITE_NO_INTERFACE)
        return "the machine is said to have none";
    for (i = 0; i < law->machines; i++)
        if (law->machine[i].solvent->open_area > 0)
            return "the tanks with its solvent state their open area";
    if (law->machines > 1)
        return "the line has several such solvents: state the open area of their tanks";
    return law->machines ? NULL
                         : "none of the solvents of 40 CFR part 63 subpart T is in the line: it "
                           "changes nothing";
}

static reason against_standard(const dregs_site *site)
{
    return site->standard == DREGS_SITE_EMISSION && site->machine == DREGS_SITE_BATCH_COLD
               ? "63.464 is for batch vapour and in-line machines alone"
               : NULL;
}

static reason against_destroyed(const dregs_site *site)
{
    return isnan(site->destroyed) || site->captured > 0
               ? NULL
               : "is a share of what is captured, and captured says nothing of it";
}

static reason against_characteristics(const dregs_site *site)
{
    unsigned i;

    if (site->characteristics != DREGS_SITE_NO_CHARACTERISTICS)
        return NULL;
    for (i = 0; i < site->traits; i++)
        if (strcmp(site->trait[i].code, "none") != 0)
            return "none is said of all wastes, and a code of one of them";
    return NULL;
}

/* ---- facts that contradict the line, or change nothing ---- */

static unsigned count_drains(const dregs_tally_law *law)
{
    unsigned i, drains = 0;

    for (i = 0; i < law->wastes; i++)
        drains += law->waste[i].drain != 0;
    return drains;
}

static int reclaims(const dregs_tally_law *law)
{
    unsigned i;

    for (i = 0; i < law->wastes; i++)
        if (law->waste[i].back_year > 0)
            return 1;
    return 0;
}

/* What counts of what is reclaimed in a month is at most that of the month that reclaims the most.
 */
static const char *against_reclaimed(const dregs_tally_law *law)
{
    double most = 0;
    unsigned i, p;

    if (isnan(law->site->reclaimed))
        return NULL;
    if (!reclaims(law))
        return "the line reclaims nothing: it changes nothing";
    for (p = 0; p < DREGS_MONTHS; p++) {
        double month = 0;
        for (i = 0; i < law->wastes; i++)
            month += law->waste[i].back[p];
        if (isnan(month))
            return NULL;
        most = fmax(most, month);
    }
    return law->site->reclaimed > most * (1 + 1e-9)
               ? "the line reclaims less than that in any month"
               : NULL;
}

/* Solvents of a plan that are on record as of article 59(5), or not. */
static unsigned count_planned(const dregs_tally_law *law, int on_record)
{
    unsigned i, count = 0;

    for (i = 0; i < law->solvents; i++)
        count += law->solvent[i].plan >= 0 && (law->solvent[i].article != NULL) == on_record;
    return count;
}

static reason against_activity(const dregs_tally_law *law)
{
    if (law->site->activity == DREGS_SITE_ACTIVITY_UNKNOWN || count_planned(law, 0))
        return NULL;
    if (!count_planned(law, 1))
        return "no solvent of the line is in a solvent plan: it changes nothing";
    return law->site->activity == DREGS_SITE_OTHER_CLEANING
               ? "all solvents of the line are on record as of article 59(5)"
               : "all solvents of the line are on record as of article 59(5): it changes nothing";
}

static reason against_captured(const dregs_tally_law *law)
{
    return isnan(law->site->captured) || count_planned(law, 0) || count_planned(law, 1)
               ? NULL
               : "no solvent of the line is in a solvent plan: it changes nothing";
}

static reason against_drain(const dregs_tally_law *law, int purchases)
{
    return law->site->drain == DREGS_SITE_DRAIN_UNKNOWN || count_drains(law) || purchases
               ? NULL
               : "nothing of the line goes to drain: it changes nothing";
}

static reason against_source(const dregs_tally_law *law)
{
    return !law->site->source || (law->facility_used && law->site->machine == DREGS_SITE_BATCH_COLD)
               ? NULL
               : "counts for machine=batch cold alone: it changes nothing";
}

static dregs_status check_effect(const dregs_tally_law *law, int purchases, dregs_faults *faults)
{
    const dregs_site *site = law->site;
    static const char no_machine[] =
        "none of the solvents of 40 CFR part 63 subpart T is in the line: it changes nothing";
    static const char no_facility[] =
        "none of the solvents of 40 CFR 63.471 is in the line: it changes nothing";
    static const char no_waste[] = "no liquid waste leaves the line: it changes nothing";
    const struct {
        const char *key;
        reason why;
    } checks[] = {
        {"machine", site->machine && !law->machines ? no_machine : NULL},
        {"standard", site->standard && !law->machines ? no_machine : NULL},
        {"facility", site->facility && !law->facility_used ? no_facility : NULL},
        {"other machines",
         !isnan(site->other_machines) && !law->facility_used ? no_facility : NULL},
        {"source", against_source(law)},
        {"interface", against_interface(law)},
        {"hours", !isnan(site->hours) && !law->solvents
                      ? "no solvent of the line could be emitted: it changes nothing"
                      : NULL},
        {"solid waste", !isnan(site->solid_waste) && !law->machines ? no_machine : NULL},
        {"activity", against_activity(law)},
        {"captured", against_captured(law)},
        {"drain", against_drain(law, purchases)},
        {"other waste", !isnan(site->other_waste) && !law->wastes ? no_waste : NULL},
        {"characteristics", site->characteristics && !law->wastes ? no_waste : NULL},
        {"reclaimed", against_reclaimed(law)},
    };
    size_t i;

    for (i = 0; i < sizeof checks / sizeof checks[0]; i++)
        if (checks[i].why)
            return refuse(faults, checks[i].key, checks[i].why);
    return DREGS_OK;
}

static dregs_status check_law(const dregs_tally_law *law, int purchases, dregs_faults *faults)
{
    const dregs_site *site = law->site;
    dregs_status status = check_stages(law, faults);

    if (!status && against_chamber(site))
        status = refuse(faults, "chamber", against_chamber(site));
    if (!status && against_standard(site))
        status = refuse(faults, "standard", against_standard(site));
    if (!status && against_destroyed(site))
        status = refuse(faults, "destroyed", against_destroyed(site));
    if (!status && against_characteristics(site))
        status = refuse(faults, "characteristics", against_characteristics(site));
    if (!status && law->year) /* what goes by month or year is asked for without a schedule */
        status = check_effect(law, purchases, faults);
    return status;
}

/* Beside purchases alone only the drain counts. */
static dregs_status check_purchases(const dregs_site *site, dregs_faults *faults)
{
    const int others =
        site->machine || site->activity || site->characteristics || site->flashes ||
        site->listings || site->traits || site->standard || site->facility || site->source ||
        !isnan(site->interface) || !isnan(site->hours) || !isnan(site->other_machines) ||
        !isnan(site->chamber) || !isnan(site->captured) || !isnan(site->destroyed) ||
        !isnan(site->solid_waste) || !isnan(site->other_waste) || !isnan(site->reclaimed);

    return others ? dregs_fault_add(faults, DREGS_UNKNOWN, 0,
                                    "only 'drain' counts beside purchases; the other keys are "
                                    "those of regulations")
                  : DREGS_OK;
}

dregs_status dregs_answer_tally_check_given(const dregs_tally_result *answer, dregs_faults *faults)
{
    if (answer->law)
        return check_law(answer->law, answer->question.purchases != NULL, faults);
    return answer->question.purchases ? check_purchases(&answer->site, faults) : DREGS_OK;
}
