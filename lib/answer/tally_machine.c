/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_machine.c: the months of a halogenated solvent's machine, 40 CFR part 63 subpart T. */
#include "answer/tally.h"

#include <math.h>

static void find_limit(dregs_tally_law *law, dregs_tally_machine *m)
{
    dregs_site_machine kind = law->site->machine;

    m->limit = NAN;
    if (kind == DREGS_SITE_NO_INTERFACE) {
        if (dregs_law_no_interface_limit(law->site->chamber, &m->limit))
            dregs_answer_tally_ask(
                law, TALLY_OPENS_LIMITS, "chamber",
                "volume of the cleaning chamber of the machine without an air interface");
    } else if (kind >= DREGS_SITE_BATCH_VAPOUR && kind <= DREGS_SITE_IN_LINE_NEW)
        m->limit = dregs_law_machine_limit((dregs_law_machine)(kind - DREGS_SITE_BATCH_VAPOUR));
    else if (kind == DREGS_SITE_MACHINE_UNKNOWN)
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, "machine",
                               "the kind of solvent cleaning machine");
}

static void fill_months(dregs_tally_law *law, dregs_tally_machine *m)
{
    unsigned p;
    unsigned s = m->solvent->index;

    m->worst = NAN;
    for (p = 0; p < DREGS_MONTHS; p++) {
        double in = dregs_answer_tally_used_up(law->year, s, p);
        double out = dregs_answer_tally_way_mass(law->year, TALLY_TO_WASTE, s, p) +
                     dregs_answer_tally_way_mass(law->year, TALLY_TO_DRAIN, s, p);
        dregs_law_month month = {dregs_answer_tally_beyond_rounding(in, fabs(in) + out), out,
                                 dregs_answer_tally_share_or(law->site->solid_waste, 0)};
        m->month[p] = m->rolling[p] = NAN;
        (void)dregs_law_machine_month(&month, m->area, &m->month[p]);
        if (p >= 2)
            (void)dregs_law_rolling(&m->month[p - 2], &m->rolling[p]);
        m->worst = fmax(m->worst, m->rolling[p]);
    }
}

void dregs_answer_tally_law_machines(dregs_tally_law *law)
{
    unsigned i;

    for (i = 0; i < law->solvents && law->year; i++) {
        dregs_tally_machine *m = &law->machine[law->machines];
        if (!dregs_law_halogenated(law->solvent[i].name))
            continue;
        law->machines++;
        m->solvent = &law->solvent[i];
        m->area = law->site->machine == DREGS_SITE_NO_INTERFACE ? 1.0 : law->solvent[i].open_area;
        if (!(m->area > 0)) {
            m->area = NAN;
            dregs_answer_tally_ask(law, TALLY_OPENS_FIGURES, NULL,
                                   "open area of every tank with %s, a row of the line file, "
                                   "unless the machine has no "
                                   "air interface",
                                   m->solvent->name);
        }
        if (isnan(law->site->solid_waste))
            dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, "solid waste",
                                   "solvent in the month's solid waste (SSR). Until then none is "
                                   "taken off, and the emission is an upper bound");
        find_limit(law, m);
        fill_months(law, m);
        m->met = isnan(m->limit) || isnan(m->worst) ? DREGS_LAW_ASK
                 : m->worst <= m->limit ? (m->solvent->least ? DREGS_LAW_ASK : DREGS_LAW_YES)
                 : isnan(law->site->solid_waste) ? DREGS_LAW_ASK
                                                 : DREGS_LAW_NO;
    }
}
