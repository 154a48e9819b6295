/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_solvents.c: what the solvents of a line count as, and what could be emitted of them. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int dregs_answer_tally_holds(const dregs_fluid *fluid, const char *solvent)
{
    if (!fluid)
        return 0;
    if (strcmp(solvent, "water") == 0 && fluid->solvent_share.si < 1)
        return 1;
    return strcmp(fluid->solvent, solvent) == 0;
}

#define ROUNDING 1e-9 /* between a year as scheduled and around the clock */

/* Open surface of the tanks filled with a solvent; NaN where one of them does not state it. */
static double open_area(const dregs_tally_law *law, const char *solvent)
{
    double area = 0;
    unsigned i;

    for (i = 0; i < dregs_line_tanks(law->line); i++) {
        unsigned at = dregs_line_tank(law->line, i)->stage;
        if (dregs_answer_tally_holds(dregs_line_wet_with(law->line, at), solvent))
            area += dregs_line_stage(law->line, at)->open_area.si;
    }
    return area;
}

/* What evaporates is not known of a tank that states neither how much nor its surface. */
static void ask_evaporation(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    unsigned i;

    for (i = 0; i < dregs_line_tanks(law->line); i++) {
        unsigned at = dregs_line_tank(law->line, i)->stage;
        const dregs_stage *stage = dregs_line_stage(law->line, at);
        if (stage->evaporation.row || stage->open_area.row ||
            !dregs_answer_tally_holds(dregs_line_wet_with(law->line, at), s->name))
            continue;
        s->least = 1;
        dregs_answer_tally_ask(
            law, TALLY_OPENS_FIGURES, NULL,
            "what evaporates of %s in %s: a row evaporation, or open area, of that tank, 0 where "
            "nothing does. Until then nothing counts, and no limit counts as met",
            s->name, stage->name);
    }
}

/* Nor of a spray, of which no row states it; nor of a solvent that is carried into other liquids.
 */
static void ask_loose(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    const dregs_tally *tally = law->year ? law->year : law->around;
    struct tally_loose loose = dregs_answer_tally_loose_of(tally, s);
    unsigned i;

    s->least |= loose.unbounded;
    s->more = s->least ? INFINITY : loose.drain + loose.waste;
    for (i = 0; i < dregs_line_stages(law->line); i++) {
        const dregs_stage *stage = dregs_line_stage(law->line, i);
        if (!dregs_answer_tally_loose_at(tally, s, i))
            continue;
        if (stage->kind == DREGS_SPRAY)
            dregs_answer_tally_ask(
                law, TALLY_OPENS_FIGURES, NULL,
                "what evaporates of %s in the spray %s, as mist: no row of a line file states it. "
                "All that is sprayed counts as liquid, and no limit as met that some of it in the "
                "air would pass",
                s->name, stage->name);
        else
            dregs_answer_tally_ask(
                law, TALLY_OPENS_FIGURES, NULL,
                "what evaporates of %s that the parts carry into %s: a row evaporation of that "
                "tank, of which it takes its share by volume, 0 where nothing does; an open area "
                "tells that of its own liquid. Until then all of it counts as liquid, and no limit "
                "as met that some of it in the air would pass",
                s->name, stage->name);
    }
}

static void judge_solvent(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    const dregs_regulations *r = law->regulations;

    s->voc = dregs_regulations_find(r, s->name, "51.100(s)");
    s->pollutant = dregs_regulations_find(r, s->name, "112(b)");
    s->listed = dregs_regulations_find(r, s->name, "261.31");
    s->subpart = dregs_regulations_find(r, s->name, "subpart T");
    s->article = dregs_regulations_find(r, s->name, "59(5)");
    s->vapour_pressure = dregs_answer_tally_known(law, s->name, DREGS_VAPOUR_PRESSURE);
    s->eu_voc = dregs_law_eu_volatile(s->vapour_pressure);
    if (!s->voc)
        dregs_answer_tally_ask(law, TALLY_OPENS_RECORDS, NULL,
                               "is %s on the list of exemptions from VOC? 40 CFR 51.100(s). Until "
                               "then it counts as VOC",
                               s->name);
    if (s->eu_voc < 0)
        dregs_answer_tally_ask(
            law, TALLY_OPENS_FIGURES, NULL,
            "vapour pressure of %s at 293.15 K, by a row of a table of liquids (--liquids): is it "
            "volatile in the Union? It is in no solvent plan here until then",
            s->name);
}

/* ---- what could be emitted ---- */

static double counted_time(const dregs_tally_law *law)
{
    return dregs_answer_tally_share_or(law->site->hours, DREGS_LAW_YEAR_HOURS * 3600.0);
}

/* At the line's own rate, beside the rule of thumb of cold cleaners. */
static void own_potential(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    double seconds = dregs_tally_seconds(law->around, DREGS_WHOLE), rate;
    double share = counted_time(law) / (DREGS_LAW_YEAR_HOURS * 3600.0);
    struct tally_loose loose = dregs_answer_tally_loose_of(law->around, s);

    if (!dregs_law_potential((loose.drain + loose.waste) / seconds, &s->potential_more))
        s->potential_more *= share;
    rate = dregs_answer_tally_way_mass(law->around, TALLY_TO_AIR, s->index, DREGS_WHOLE) / seconds;
    if (!dregs_law_potential(rate, &s->potential))
        s->potential *= share;
    if (!dregs_law_cold_loss(s->open_area, &rate) && !dregs_law_potential(rate, &s->cold))
        s->cold *= share;
    if (isnan(s->potential))
        dregs_answer_tally_ask(law, TALLY_OPENS_FIGURES, NULL,
                               "density of %s or of a liquid with it at 20 degC, which is not on "
                               "record",
                               s->name);
}

/* The surface that a machine counts with. */
static void count_area(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    s->counted_area = s->open_area > 0 ? s->open_area : law->site->interface;
    if (law->site->machine == DREGS_SITE_NO_INTERFACE) {
        s->counted_area = NAN;
        if (dregs_law_no_interface_area(law->site->chamber, &s->counted_area))
            dregs_answer_tally_ask(
                law, TALLY_OPENS_LIMITS, "chamber",
                "volume of the cleaning chamber of the machine without an air interface");
    } else if (isnan(s->counted_area))
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "interface",
            "solvent/air interface of the machine with %s, unless it has none, or "
            "a row open area of every tank with it",
            s->name);
}

/* By the rule for its machine; where the kind is not known, at the highest rate. */
static void machine_potential(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    static const dregs_law_machine kinds[] = {[DREGS_SITE_MACHINE_UNKNOWN] = DREGS_LAW_BATCH_VAPOUR,
                                              [DREGS_SITE_BATCH_VAPOUR] = DREGS_LAW_BATCH_VAPOUR,
                                              [DREGS_SITE_IN_LINE_EXISTING] =
                                                  DREGS_LAW_IN_LINE_EXISTING,
                                              [DREGS_SITE_IN_LINE_NEW] = DREGS_LAW_IN_LINE_NEW,
                                              [DREGS_SITE_NO_INTERFACE] = DREGS_LAW_BATCH_VAPOUR,
                                              [DREGS_SITE_BATCH_COLD] = DREGS_LAW_BATCH_COLD};

    s->by_machine = 1;
    if (law->site->machine == DREGS_SITE_MACHINE_UNKNOWN) {
        s->potential_less = INFINITY;
        dregs_answer_tally_ask(
            law, TALLY_OPENS_LIMITS, "machine",
            "the kind of solvent cleaning machine. Until then what could be "
            "emitted is at most that of the highest rate, and no limit is known");
    }
    count_area(law, s);
    (void)dregs_law_machine_potential(kinds[law->site->machine], counted_time(law), s->counted_area,
                                      &s->potential);
}

/* Of a machine all that it emits counts, also what parts carry into other liquids; of other
 * solvents what goes into the air. */
static void add_emitted(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    struct tally_scheduled year;

    if (!dregs_law_halogenated(s->name)) {
        s->emitted =
            law->year ? dregs_answer_tally_way_mass(law->year, TALLY_TO_AIR, s->index, DREGS_WHOLE)
                      : NAN;
        return;
    }
    year = dregs_answer_tally_scheduled(law, s);
    s->emitted = year.emitted;
    s->less = law->year ? year.less : 0;
    s->more = s->least || !law->year ? INFINITY : year.more;
}

/* It is never less than as scheduled: idle tanks evaporate too, and loads carry a solvent away. */
static void at_least_scheduled(dregs_tally_solvent_law *s)
{
    double low = fmax(s->potential - s->potential_less, 0), high = s->potential + s->potential_more;

    s->as_emitted = s->emitted > s->potential * (1 + ROUNDING);
    if (isnan(s->potential))
        return;
    low = fmax(low, s->emitted - s->less);
    high = fmax(high, s->more == INFINITY ? INFINITY : s->emitted + s->more);
    s->potential = fmax(s->potential, s->emitted);
    s->potential_less = s->potential - low;
    s->potential_more = high - s->potential;
    s->potential_least = s->potential_more > ROUNDING * s->potential;
    s->potential_most = s->potential_less > ROUNDING * s->potential;
}

static void add_potential(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    s->plan = -1;
    s->potential = s->cold = s->counted_area = NAN;
    add_emitted(law, s);
    s->open_area = open_area(law, s->name);
    if (dregs_law_halogenated(s->name))
        machine_potential(law, s);
    else
        own_potential(law, s);
    at_least_scheduled(s);
}

/* Of a figure that may be less or more. */
static dregs_law_verdict judge_major(double potential, double less, double more, double short_tons)
{
    dregs_law_verdict reached = dregs_law_major(fmax(potential - less, 0), short_tons);

    return isnan(potential) || reached != dregs_law_major(potential + more, short_tons)
               ? DREGS_LAW_ASK
               : reached;
}

/* What is counted by kind, not by solvent. Exempt solvents are no VOC. */
static void add_to_sums(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    dregs_tally_potential *all = &law->potential;

    if (!s->voc || strcmp(s->voc->code, "VOC") == 0) {
        all->voc += s->potential;
        all->voc_more += s->potential_more;
        all->voc_less += s->potential_less;
        all->voc_least |= s->potential_least;
        all->voc_most |= s->potential_most;
    }
    s->major = DREGS_LAW_EXCLUDED;
    if (!s->pollutant || strcmp(s->pollutant->code, "HAP") == 0) {
        all->pollutants += s->potential;
        all->pollutants_more += s->potential_more;
        all->pollutants_less += s->potential_less;
        all->pollutants_least |= s->potential_least;
        all->pollutants_most |= s->potential_most;
        s->major = judge_major(s->potential, s->potential_less, s->potential_more,
                               DREGS_LAW_MAJOR_ONE_POLLUTANT);
    }
}

static void judge_sums(dregs_tally_law *law)
{
    dregs_tally_potential *all = &law->potential;

    all->time = counted_time(law);
    all->major_voc =
        judge_major(all->voc, all->voc_less, all->voc_more, DREGS_LAW_MAJOR_CRITERIA_POLLUTANT);
    all->major_pollutants = judge_major(all->pollutants, all->pollutants_less, all->pollutants_more,
                                        DREGS_LAW_MAJOR_ALL_POLLUTANTS);
}

void dregs_answer_tally_law_solvents(dregs_tally_law *law)
{
    const char *name;
    unsigned i, count = 0;

    while (dregs_tally_solvent_name(law->around, count))
        count++;
    law->solvent = calloc(count + 1, sizeof *law->solvent);
    law->machine = calloc(count + 1, sizeof *law->machine);
    if (!law->solvent || !law->machine) {
        law->failed = 1;
        return;
    }
    for (i = 0; i < count; i++) {
        dregs_tally_solvent_law *s = &law->solvent[law->solvents];
        name = dregs_tally_solvent_name(law->around, i);
        if (strcmp(name, "water") == 0)
            continue;
        s->name = name;
        s->index = i;
        judge_solvent(law, s);
        ask_evaporation(law, s);
        ask_loose(law, s);
        add_potential(law, s);
        add_to_sums(law, s);
        law->solvents++;
    }
    judge_sums(law);
}
