/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_solvents.c: what the solvents of a line count as, and what could be emitted of them. */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Does the liquid that a tank is filled with hold the solvent? */
static int holds(const dregs_fluid *fluid, const char *solvent)
{
    if (strcmp(solvent, "water") == 0 && fluid->solvent_share.si < 1)
        return 1;
    return strcmp(fluid->solvent, solvent) == 0;
}

/* Open surface of the tanks filled with a solvent; NaN where one of them does not state it. */
static double open_area(const dregs_tally_law *law, const char *solvent)
{
    double area = 0;
    unsigned i;

    for (i = 0; i < dregs_line_tanks(law->line); i++) {
        unsigned at = dregs_line_tank(law->line, i)->stage;
        if (holds(dregs_line_wet_with(law->line, at), solvent))
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
            !holds(dregs_line_wet_with(law->line, at), s->name))
            continue;
        s->least = 1;
        dregs_answer_tally_ask(
            law, TALLY_OPENS_FIGURES, NULL,
            "what evaporates of %s in %s: a row evaporation, or open area, of that tank, 0 where "
            "nothing does. Until then nothing counts, and no limit counts as met",
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

static void add_potential(dregs_tally_law *law, dregs_tally_solvent_law *s)
{
    double seconds = dregs_tally_seconds(law->around, DREGS_WHOLE), rate;

    s->plan = -1;
    s->potential = s->cold = NAN;
    s->emitted = law->year
                     ? dregs_answer_tally_way_mass(law->year, TALLY_TO_AIR, s->index, DREGS_WHOLE)
                     : NAN;
    rate = dregs_answer_tally_way_mass(law->around, TALLY_TO_AIR, s->index, DREGS_WHOLE) / seconds;
    (void)dregs_law_potential(rate, &s->potential);
    if (s->emitted > s->potential) /* idle tanks evaporate too, and loads carry a solvent away */
        s->potential = s->emitted;
    s->open_area = open_area(law, s->name);
    if (!dregs_law_cold_loss(s->open_area, &rate))
        (void)dregs_law_potential(rate, &s->cold);
    if (isnan(s->potential))
        dregs_answer_tally_ask(
            law, TALLY_OPENS_FIGURES, NULL,
            "density of %s or of a liquid with it at 20 degC, which is not on record", s->name);
}

/* What is counted by kind, not by solvent. Exempt solvents are no VOC. */
static void add_to_sums(dregs_tally_law *law, const dregs_tally_solvent_law *s)
{
    if (!s->voc || strcmp(s->voc->code, "VOC") == 0) {
        law->potential.voc += s->potential;
        law->potential.voc_least |= s->least;
    }
    if (!s->pollutant || strcmp(s->pollutant->code, "HAP") == 0) {
        law->potential.pollutants += s->potential;
        law->potential.pollutants_least |= s->least;
    }
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
        add_potential(law, s);
        add_to_sums(law, s);
        law->solvents++;
    }
}
