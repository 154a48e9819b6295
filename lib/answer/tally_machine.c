/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_machine.c: the months of a halogenated solvent's machine, and the twelve months of all
 * machines of a facility, 40 CFR part 63 subpart T.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

/* ---- one machine ---- */

static void find_limit(const dregs_tally_law *law, dregs_tally_machine *m)
{
    dregs_site_machine kind = law->site->machine;

    m->limit = m->row = NAN;
    if (kind == DREGS_SITE_NO_INTERFACE) {
        (void)dregs_law_no_interface_limit(law->site->chamber, &m->limit);
        (void)dregs_law_no_interface_row(law->site->chamber, &m->row);
    } else if (kind >= DREGS_SITE_BATCH_VAPOUR && kind <= DREGS_SITE_IN_LINE_NEW)
        m->limit = dregs_law_machine_limit((dregs_law_machine)(kind - DREGS_SITE_BATCH_VAPOUR));
}

/* Where a solvent goes from the stages, kg. */
struct gone {
    double removed; /* as liquid, from the machine, into waste */
    double drained; /* as liquid, from the machine, to drain */
    double carried; /* with other liquids, into which parts have carried it */
    double sprayed; /* of `removed`, off sprays, where some may have gone into the air instead */
};

static struct gone where_gone(const dregs_tally_law *law, const dregs_tally_solvent_law *s,
                              unsigned period)
{
    static const dregs_stream streams[] = {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED,
                                           DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                           DREGS_STREAM_BLOWN_OFF};
    enum { TO_WASTE = 2, STREAMS = sizeof streams / sizeof streams[0] };
    struct gone gone = {0, 0, 0, 0};
    unsigned i, k;

    for (i = 0; i < dregs_line_stages(law->line); i++) {
        int own = dregs_answer_tally_holds(dregs_line_waste_as(law->line, i), s->name);
        for (k = 0; k < STREAMS; k++) {
            double kg = dregs_answer_tally_stream_mass(law->year, streams[k], s->index, i, period);
            *(!own ? &gone.carried : k < TO_WASTE ? &gone.removed : &gone.drained) += kg;
            if (own && dregs_line_stage(law->line, i)->kind == DREGS_SPRAY)
                gone.sprayed += kg;
        }
    }
    if (law->site->drain == DREGS_SITE_COLLECTED) {
        gone.removed += gone.drained;
        gone.drained = 0;
    } else
        gone.sprayed = 0;
    return gone;
}

/* Of a month, with nothing in solid waste; not numbers for one that the tally does not know. */
static dregs_law_month month_of(const dregs_tally_law *law, const dregs_tally_solvent_law *s,
                                unsigned period)
{
    double in = dregs_answer_tally_used_up(law->year, s->index, period);
    struct gone gone = where_gone(law, s, period);
    double all = fabs(in) + gone.removed + gone.drained + gone.carried;
    dregs_law_month month = {dregs_answer_tally_beyond_rounding(in, all), gone.removed, 0};

    return month;
}

/* kg; NaN. */
static double emitted(const dregs_law_month *month)
{
    double kg = NAN;

    (void)dregs_law_machine_month(month, 1, &kg);
    return kg;
}

static unsigned halogenated(const dregs_tally *tally)
{
    const char *name;
    unsigned i, count = 0;

    for (i = 0; (name = dregs_tally_solvent_name(tally, i)) != NULL; i++)
        count += dregs_law_halogenated(name) != 0;
    return count;
}

struct tally_scheduled dregs_answer_tally_scheduled(const dregs_tally_law *law,
                                                    const dregs_tally_solvent_law *s)
{
    struct tally_scheduled year = {NAN, NAN, NAN};
    double solid = DREGS_MONTHS * law->site->solid_waste;
    int only = halogenated(law->around) == 1; /* else it may be of another */
    dregs_law_month all;
    struct gone gone;

    if (!law->year)
        return year;
    gone = where_gone(law, s, DREGS_WHOLE);
    all = month_of(law, s, DREGS_WHOLE);
    year.emitted = emitted(&all);
    if (only && !isnan(solid))
        year.emitted = fmax(year.emitted - solid, 0);
    year.less =
        (only ? 0 : solid) + (law->site->drain == DREGS_SITE_DRAIN_UNKNOWN ? gone.drained : 0);
    year.less = isnan(solid) ? year.emitted : fmin(year.less, year.emitted);
    year.more = gone.sprayed;
    return year;
}

/* What left with water or another liquid was not removed as liquid solvent, nor was what went down
 * a drain, unless that is collected. */
static void fill_months(dregs_tally_law *law, dregs_tally_machine *m)
{
    const dregs_tally_solvent_law *s = m->solvent;
    const struct gone year = where_gone(law, s, DREGS_WHOLE);
    unsigned p;

    m->carried = year.carried;
    m->least = s->least || year.sprayed > 0;
    m->bound = isnan(law->site->solid_waste) ||
               (law->site->drain == DREGS_SITE_DRAIN_UNKNOWN && year.drained > 0);
    m->worst = NAN;
    for (p = 0; p < DREGS_MONTHS; p++) {
        dregs_law_month month = month_of(law, s, p);
        m->emitted[p] = emitted(&month);
        month.solid_waste = dregs_answer_tally_share_or(law->site->solid_waste, 0);
        m->month[p] = m->rolling[p] = NAN;
        (void)dregs_law_machine_month(&month, m->area, &m->month[p]);
        if (p >= 2)
            (void)dregs_law_rolling(&m->month[p - 2], &m->rolling[p]);
        m->worst = fmax(m->worst, m->rolling[p]);
        month = month_of(law, s, DREGS_BEFORE + p);
        m->before[p] = emitted(&month);
    }
    if (law->site->drain == DREGS_SITE_DRAIN_UNKNOWN && year.drained > 0)
        dregs_answer_tally_ask_drain(law, TALLY_OPENS_LIMITS);
}

static void ask_solid_waste(dregs_tally_law *law)
{
    if (isnan(law->site->solid_waste))
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, "solid waste",
                               "solvent in the month's solid waste (SSR). Until then none is taken "
                               "off, and the emission is an upper bound");
}

/* Of the two ways to the limit of a machine without an air interface either may be used. */
static void judge(dregs_tally_law *law, dregs_tally_machine *m)
{
    const dregs_site *site = law->site;
    double limit = fmax(m->limit, m->row);

    m->met = isnan(limit) || isnan(m->worst) ? DREGS_LAW_ASK
             : m->worst <= limit             ? (m->least ? DREGS_LAW_ASK : DREGS_LAW_YES)
             : m->bound                      ? DREGS_LAW_ASK
                                             : DREGS_LAW_NO;
    m->judged = m->met;
    if (site->machine == DREGS_SITE_BATCH_COLD || site->standard == DREGS_SITE_EQUIPMENT)
        m->judged = DREGS_LAW_EXCLUDED;
    else if (m->met == DREGS_LAW_NO && site->standard == DREGS_SITE_STANDARD_UNKNOWN) {
        m->judged = DREGS_LAW_ASK;
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "standard",
            "which standard the machine is under: equipment and practices (63.463), or by election "
            "the limit of emission (63.464), which is not met. Until then that is no violation");
    }
    if (m->judged != DREGS_LAW_EXCLUDED)
        ask_solid_waste(law);
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
        m->area = law->site->machine == DREGS_SITE_NO_INTERFACE ? 1.0 : m->solvent->counted_area;
        find_limit(law, m);
        fill_months(law, m);
        judge(law, m);
    }
}

/* ---- all machines of a facility ---- */

/* What a machine emits in the twelve months until one, into the year before. */
static double twelve_months(const dregs_tally_machine *m, unsigned last)
{
    double sum = 0;
    unsigned p;

    for (p = 0; p < DREGS_MONTHS; p++)
        sum += p <= last ? m->emitted[p] : m->before[p];
    return sum;
}

/* What the line's machines emit in twelve months; its solid waste is taken off where there is but
 * one solvent that it can be of. */
static unsigned add_up(const dregs_tally_law *law, unsigned last, dregs_law_emitted *emitted,
                       int *bound)
{
    double *into[] = {&emitted->perchloroethylene, &emitted->trichloroethylene,
                      &emitted->dichloromethane};
    unsigned i, count = 0;

    for (i = 0; i < law->machines; i++) {
        const dregs_tally_machine *m = &law->machine[i];
        double weight = dregs_law_facility_weight(m->solvent->name);
        double year = twelve_months(m, last);
        if (weight == 0)
            continue;
        count++;
        *bound |= m->bound;
        if (law->machines == 1)
            year -= DREGS_MONTHS * dregs_answer_tally_share_or(law->site->solid_waste, 0);
        *into[weight > 10 ? 0 : weight > 1 ? 1 : 2] += isnan(year) ? NAN : fmax(year, 0);
    }
    *bound |= count && law->machines > 1;
    return count;
}

/* Beyond the limit of the general population. */
dregs_law_verdict dregs_answer_tally_facility_beyond(dregs_tally_law *law)
{
    const dregs_site *site = law->site;

    if (site->machine == DREGS_SITE_BATCH_COLD && site->source == DREGS_SITE_SOURCE_UNKNOWN) {
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, "source",
                               "is the site a major source of hazardous air pollutants, or an area "
                               "source, whose cold batch machines are not counted (40 CFR 63.471)");
        return DREGS_LAW_ASK;
    }
    if (site->facility == DREGS_SITE_FACILITY_UNKNOWN) {
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "facility",
            "what the facility is (40 CFR 63.471): military depot maintenance has a higher limit, "
            "machines for aerospace products, narrow tubing and continuous webs have none");
        return DREGS_LAW_ASK;
    }
    return DREGS_LAW_NO;
}

dregs_law_verdict dregs_answer_tally_facility_within(dregs_tally_law *law, int least)
{
    if (isnan(law->site->other_machines))
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "other machines",
            "what the site's other solvent cleaning machines emit in 12 months: 12.5 times kg of "
            "perchloroethylene + 4.25 times kg of trichloroethylene + kg of dichloromethane, 0 "
            "where "
            "there are none (40 CFR 63.471). Until then the sum is the least that it can be");
    return least ? DREGS_LAW_ASK : DREGS_LAW_YES;
}

int dregs_answer_tally_facility_excluded(const dregs_site *site)
{
    return site->facility == DREGS_SITE_EXEMPT ||
           (site->machine == DREGS_SITE_BATCH_COLD && site->source == DREGS_SITE_AREA_SOURCE);
}

static dregs_law_verdict judge_facility(dregs_tally_law *law, const dregs_tally_facility *f)
{
    if (dregs_answer_tally_facility_excluded(law->site))
        return DREGS_LAW_EXCLUDED;
    if (isnan(f->counted))
        return DREGS_LAW_ASK;
    if (!(f->counted > f->limit))
        return dregs_answer_tally_facility_within(law, f->least);
    if (!f->bound)
        return dregs_answer_tally_facility_beyond(law);
    ask_solid_waste(law);
    return DREGS_LAW_ASK;
}

dregs_law_facility dregs_answer_tally_facility_kind(const dregs_site *site)
{
    return site->facility == DREGS_SITE_DEPOT ? DREGS_LAW_FACILITY_DEPOT
                                              : DREGS_LAW_FACILITY_GENERAL;
}

/* The sum over twelve months until one. 0 where no machine counts. */
static int sum_until(const dregs_tally_law *law, unsigned last, int *bound, double *counted,
                     double *limit)
{
    dregs_law_emitted emitted = {0, 0, 0,
                                 dregs_answer_tally_share_or(law->site->other_machines, 0)};

    *counted = *limit = NAN;
    if (!add_up(law, last, &emitted, bound))
        return 0;
    (void)dregs_law_facility_year(dregs_answer_tally_facility_kind(law->site), &emitted, counted,
                                  limit);
    return 1;
}

void dregs_answer_tally_facility_year(const dregs_tally_law *law, double *counted, double *limit)
{
    int bound = 0;

    (void)sum_until(law, DREGS_MONTHS - 1, &bound, counted, limit);
}

/* The sum over twelve months until each that has so many; the one that is closest to its limit
 * counts. 0 where no machine does. */
static int fill_rolling(const dregs_tally_law *law, dregs_tally_facility *f)
{
    int running = !isnan(dregs_tally_seconds(law->year, DREGS_BEFORE));
    double closest = -1;
    unsigned last;

    f->counted = f->limit = NAN;
    f->last = DREGS_MONTHS - 1;
    for (last = 0; last < DREGS_MONTHS; last++) {
        double counted, limit;
        if (!sum_until(law, last, &f->bound, &counted, &limit))
            return 0;
        f->rolling[last] = NAN;
        if (!running && last + 1 < DREGS_MONTHS)
            continue;
        f->rolling[last] = counted;
        if (!(counted / limit > closest))
            continue;
        closest = counted / limit;
        f->counted = counted;
        f->limit = limit;
        f->last = last;
    }
    return 1;
}

void dregs_answer_tally_law_facility(dregs_tally_law *law)
{
    dregs_tally_facility *f = &law->facility;
    unsigned i;

    if (!law->machines || !fill_rolling(law, f))
        return;
    law->facility_used = 1;
    f->least = isnan(law->site->other_machines);
    for (i = 0; i < law->machines; i++)
        f->least |= law->machine[i].least;
    f->met = judge_facility(law, f);
}
