/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law_working.c: how what regulations ask was worked out, and the rules themselves. */
#include "page/tally_law.h"

#include <math.h>

static void work_plan(dregs_report *report, const dregs_tally_plan *plan)
{
    const dregs_law_plan *p = &plan->plan;
    struct numbers n = {0}, total = {0};

    dregs_report_line(
        report, 4, "fugitive = I1 - O1 - O5 - O6 - O7 - O8 = %s - %s - %s - %s - %s - %s = %s kg",
        dregs_page_number(&n, p->i1), dregs_page_number(&n, p->o1), dregs_page_number(&n, p->o5),
        dregs_page_number(&n, p->o6), dregs_page_number(&n, p->o7), dregs_page_number(&n, p->o8),
        dregs_page_number(&n, plan->result.fugitive));
    dregs_report_line(report, 4, "total emission = fugitive + O1 = %s + %s = %s kg",
                      dregs_page_number(&total, plan->result.fugitive),
                      dregs_page_number(&total, p->o1), dregs_page_number(&total, plan->total));
    dregs_report_line(report, 4, "and O2 + O3 + O4 + O9 = %s + %s + %s + %s = %s kg",
                      dregs_page_number(&n, p->o2), dregs_page_number(&n, p->o3),
                      dregs_page_number(&n, p->o4), dregs_page_number(&n, p->o9),
                      dregs_page_number(&n, plan->result.fugitive_direct));
}

static void work_machine(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_machine *m)
{
    double solid = dregs_tally_law_site(law)->solid_waste;
    struct numbers n = {0};

    dregs_report_text(report, 4, 6,
                      "%s: E = (SA - LSR - SSR) / area, area %s m2, SSR %s kg a month; LSR is what "
                      "tanks with it dump",
                      m->solvent->name, dregs_page_number(&n, m->area),
                      isnan(solid) ? "not given, 0" : dregs_page_number(&n, solid));
}

static void work_waste(dregs_report *report, const dregs_tally_law *law, const dregs_tally_waste *w)
{
    struct numbers n = {0};

    dregs_report_line(
        report, 4,
        "%s %s: alcohol %s by volume, water %s by mass, of its liquids; solutes count in "
        "its mass only",
        w->leaves, dregs_page_law_stage(law, w),
        isnan(w->alcohol) ? "unknown" : dregs_page_number(&n, w->alcohol),
        isnan(w->water) ? "unknown" : dregs_page_number(&n, w->water));
}

static void work_names(dregs_report *report)
{
    static const char *const lines[] = {
        "I1 and added (SA) = first fill + fed + top-up + refills + sprayed + held first "
        "- held last;",
        "of I1, O2 and O6 what is reclaimed is taken off, and is I2",
        "air = evaporated + dried; drain = drained + runoff + blown off to drain; "
        "waste = dumped + blown off to waste"};
    unsigned i;

    for (i = 0; i < sizeof lines / sizeof lines[0]; i++)
        dregs_report_line(report, 4, "%s", lines[i]);
}

static void work_rules(dregs_report *report)
{
    char looked_up[LAW_LOOKED_UP];
    unsigned i;

    for (i = 0; i < DREGS_LAW_RULES; i++) {
        const dregs_law *rule = dregs_law_at((dregs_law_rule)i);
        dregs_report_text(report, 4, 6, "%s: %s [%s: %s, %s (%s)]", rule->id, rule->rule,
                          rule->jurisdiction, rule->citation, rule->status_date,
                          dregs_page_law_looked_up(rule, looked_up));
    }
}

void dregs_page_law_working(dregs_report *report, const dregs_tally_law *law,
                            const dregs_tally_actual *actual)
{
    struct numbers n = {0};
    unsigned i;

    dregs_report_gap(report);
    dregs_report_line(report, 2,
                      "the working: masses are volumes of the tally times densities at "
                      "20 degC");
    if (dregs_tally_law_year(law))
        work_names(report);
    for (i = 0; dregs_tally_law_plan(law, i); i++)
        work_plan(report, dregs_tally_law_plan(law, i));
    for (i = 0; dregs_tally_law_machine(law, i); i++)
        work_machine(report, law, dregs_tally_law_machine(law, i));
    dregs_page_law_log_working(report, actual);
    dregs_report_text(
        report, 4, 6,
        "potential to emit = (evaporated + dried) of %s loads without a pause, per second, times "
        "%s "
        "h; of halogenated solvents %s h times 1.95, 1.12 or 0.63 kg/(m2 h) by the kind of machine "
        "times its open area, without an air interface 2.20 V^0.6 m2; never less than as scheduled",
        dregs_page_number(&n, (double)dregs_tally_loads(dregs_tally_law_around(law), DREGS_WHOLE)),
        dregs_page_number(&n, dregs_tally_law_potential(law)->time / 3600.0),
        dregs_page_number(&n, dregs_tally_law_potential(law)->time / 3600.0));
    dregs_report_line(report, 4,
                      "where a tank with a solvent states neither evaporation nor open area, 0 is "
                      "the least: a limit");
    dregs_report_line(report, 4, "that is missed so is missed, one that is not is not judged");
    for (i = 0; dregs_tally_law_waste(law, i); i++)
        work_waste(report, law, dregs_tally_law_waste(law, i));
    work_rules(report);
}
