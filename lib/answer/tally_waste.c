/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_waste.c: the liquid wastes of a line's year, and the category of their generator, 40 CFR
 * parts 260 to 262.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WAYS = 5 }; /* that a waste leaves a stage by */

#define TRACE 1e-9 /* a share of a waste below which a liquid counts as absent: rounding */

/* An alcohol that the exclusion is for: since 2020 none whose spent solvent is F003 or F005. Each
 * liquid of the line has a class: that is asked for before the law is applied. */
static int is_alcohol(const dregs_tally_law *law, const char *solvent)
{
    const dregs_regulation *listed = dregs_regulations_find(law->regulations, solvent, "261.31");
    dregs_liquid_class is;

    if (listed && (strcmp(listed->code, "F003") == 0 || strcmp(listed->code, "F005") == 0))
        return 0;
    return !dregs_liquids_class(dregs_line_liquids(law->line), solvent, &is, NULL) &&
           is == DREGS_CLASS_ALCOHOL;
}

/* Alcohol by volume and water by mass among the liquids of a waste; the only solvent, where there
 * is but one. Volumes are taken to add. */
static const char *compose(const dregs_tally_law *law, dregs_tally_waste *w)
{
    double all = 0, water = 0, volume = 0, alcohol = 0;
    const char *name, *only = NULL;
    unsigned k, kinds = 0, foreign = 0;

    for (k = 0; dregs_tally_solvent_name(law->year, k); k++)
        all += dregs_tally_solvent(law->year, w->stream, k, w->stage, DREGS_WHOLE);
    for (k = 0; (name = dregs_tally_solvent_name(law->year, k)) != NULL; k++) {
        double kg = dregs_tally_solvent(law->year, w->stream, k, w->stage, DREGS_WHOLE);
        if (!(kg > TRACE * all))
            continue;
        kinds++;
        only = name;
        volume += kg / dregs_answer_tally_known(law, name, DREGS_DENSITY);
        if (strcmp(name, "water") == 0)
            water = kg;
        else if (is_alcohol(law, name))
            alcohol += kg / dregs_answer_tally_known(law, name, DREGS_DENSITY);
        else
            foreign++;
    }
    w->water = kinds == 1 && water > 0 ? 1 : water / all;
    w->alcohol = foreign ? NAN : alcohol / volume;
    return kinds == 1 ? only : NULL;
}

static double stated_flash(const dregs_tally_law *law, const char *stage)
{
    unsigned i;

    for (i = 0; i < law->site->flashes; i++)
        if (strcmp(stage, law->site->flash[i].stage) == 0)
            return law->site->flash[i].kelvin;
    return NAN;
}

/* What is stated of the waste of a stage; NULL for nothing. */
static const char *stated_code(const dregs_site_code *codes, unsigned count, const char *stage)
{
    unsigned i;

    for (i = 0; i < count; i++)
        if (strcmp(stage, codes[i].stage) == 0)
            return codes[i].code;
    return NULL;
}

static const char *leaves(dregs_stream stream)
{
    return stream == DREGS_STREAM_DUMPED      ? "dumped from"
           : stream == DREGS_STREAM_RUNOFF    ? "run off from"
           : stream == DREGS_STREAM_BLOWN_OFF ? "blown off in"
           : stream == DREGS_STREAM_COLLECTED ? "collected from"
                                              : "drained from";
}

static void judge_ignitable(dregs_tally_law *law, dregs_tally_waste *w)
{
    const char *stage = dregs_line_stage(law->line, w->stage)->name, *only = compose(law, w);
    dregs_law_waste waste;

    w->flash = stated_flash(law, stage);
    w->flash_from = "stated";
    if (isnan(w->flash) && only) {
        w->flash = dregs_answer_tally_known(law, only, DREGS_FLASH_POINT);
        w->flash_from = only;
    }
    waste = (dregs_law_waste){w->flash, w->alcohol, w->water};
    w->ignitable = dregs_law_ignitable(&waste);
}

/* The solvent's share by volume in the liquid that the tank was filled with; NaN when it came from
 * elsewhere. */
static double share_before(const dregs_tally_law *law, const dregs_fluid *fluid,
                           const char *solvent)
{
    double share = fluid->solvent_share.si, own, other;

    if (strcmp(fluid->solvent, solvent) != 0)
        return NAN;
    if (!(share < 1))
        return 1;
    own = share / dregs_answer_tally_known(law, solvent, DREGS_DENSITY);
    other = (1 - share) / dregs_answer_tally_known(law, "water", DREGS_DENSITY);
    return own / (own + other);
}

static void add_code(dregs_tally_waste *w, const char *code)
{
    size_t used = strlen(w->codes);

    if (!strstr(w->codes, code))
        snprintf(w->codes + used, sizeof w->codes - used, "%s%s", used ? " " : "", code);
}

/* What one is asked of a waste that is hazardous in any case adds a code, no more. */
static enum tally_rank rank_of(const dregs_tally_waste *w)
{
    return w->hazardous == DREGS_LAW_YES ? TALLY_OPENS_RECORDS : TALLY_OPENS_WASTES;
}

static const char *until(const dregs_tally_waste *w)
{
    return w->hazardous == DREGS_LAW_YES
               ? "It is hazardous in any case: that would be one more code"
               : "Until then it is undecided";
}

static void ask_listed(dregs_tally_law *law, const dregs_tally_waste *w,
                       const dregs_tally_solvent_law *s, double share)
{
    const char *stage = dregs_line_stage(law->line, w->stage)->name;

    if (!s->listed)
        dregs_answer_tally_ask_stage(law, rank_of(w), w->stage, ".listed",
                                     "is spent %s on the lists F001 to F005? No row is on record: "
                                     "40 CFR 261.31. It is in the waste %s %s. %s",
                                     s->name, w->leaves, stage, until(w));
    else
        dregs_answer_tally_ask_stage(
            law, rank_of(w), w->stage, ".listed",
            "the waste %s %s holds %s (%s) %s: whether it is listed is a matter of the mixture "
            "rule, 40 CFR 261.3, and of the authority. %s",
            w->leaves, stage, s->name, s->listed->code,
            isnan(share) ? "that came from another tank" : "in a mixture", until(w));
}

/* Judges, and once all is judged asks what that leaves open. */
static void judge_listed(dregs_tally_law *law, dregs_tally_waste *w, int ask)
{
    const dregs_fluid *fluid = dregs_line_waste_as(law->line, w->stage);
    const char *stated = stated_code(law->site->listed, law->site->listings,
                                     dregs_line_stage(law->line, w->stage)->name);
    unsigned i;

    w->listed = DREGS_LAW_NO;
    if (stated) {
        if (strcmp(stated, "none") != 0) {
            w->listed = DREGS_LAW_YES;
            add_code(w, stated);
        }
        return;
    }
    for (i = 0; i < law->solvents; i++) {
        const dregs_tally_solvent_law *s = &law->solvent[i];
        double all = dregs_answer_tally_stream_mass(law->year, w->stream, DREGS_WHOLE, w->stage,
                                                    DREGS_WHOLE);
        double kg = dregs_tally_solvent(law->year, w->stream, s->index, w->stage, DREGS_WHOLE);
        double share = share_before(law, fluid, s->name);
        const char *code = s->listed ? s->listed->code : NULL;
        dregs_law_verdict verdict;
        if (!(kg > TRACE * all))
            continue;
        verdict =
            code && strcmp(code, "no F-code") == 0 ? DREGS_LAW_NO : dregs_law_listed(code, share);
        if (verdict == DREGS_LAW_YES)
            add_code(w, code);
        if (verdict == DREGS_LAW_YES || w->listed == DREGS_LAW_NO)
            w->listed = verdict;
        if (ask && verdict == DREGS_LAW_ASK)
            ask_listed(law, w, s, share);
    }
}

/* A solvent in the whole waste, kg/m3: less than 0.5 % of solids are taken to be in it. */
static double concentration(const dregs_tally_law *law, const dregs_tally_waste *w,
                            unsigned solvent)
{
    return dregs_tally_solvent(law->year, w->stream, solvent, w->stage, DREGS_WHOLE) /
           dregs_tally_volume(law->year, w->stream, w->stage, DREGS_WHOLE);
}

/* 40 CFR 261.24, of the solvents that the tally knows. */
static void judge_toxic(const dregs_tally_law *law, dregs_tally_waste *w)
{
    double furthest = 1;
    unsigned i;

    w->toxic = DREGS_LAW_NO;
    for (i = 0; i < law->solvents; i++) {
        const dregs_tally_solvent_law *s = &law->solvent[i];
        const char *code = NULL;
        double from = dregs_law_toxic_from(s->name, &code);
        double here = concentration(law, w, s->index);
        if (!(here >= from))
            continue;
        w->toxic = DREGS_LAW_YES;
        add_code(w, code);
        if (here / from < furthest)
            continue;
        furthest = here / from;
        w->toxic_by = s->name;
        w->toxic_concentration = here;
        w->toxic_from = from;
    }
}

/* What is beyond its solubility in a waste that is water for the most part stands in it as a phase
 * of its own. A liquid that mixes with water has no solubility on record. */
static void judge_phase(const dregs_tally_law *law, dregs_tally_waste *w)
{
    double water = dregs_answer_tally_known(law, "water", DREGS_DENSITY), furthest = 1;
    unsigned i;

    if (!(w->water > 0.5))
        return;
    for (i = 0; i < law->solvents; i++) {
        const dregs_tally_solvent_law *s = &law->solvent[i];
        double most = dregs_answer_tally_known(law, s->name, DREGS_SOLUBILITY) * water;
        double here = concentration(law, w, s->index);
        if (!(here / most > furthest))
            continue;
        furthest = here / most;
        w->phase = s->name;
        w->phase_concentration = here;
        w->solubility = most;
    }
}

/* Corrosive, reactive, toxic or acute. */
static dregs_law_verdict judge_traits(const dregs_tally_law *law, dregs_tally_waste *w)
{
    const char *stated = stated_code(law->site->trait, law->site->traits,
                                     dregs_line_stage(law->line, w->stage)->name);

    if (stated && strcmp(stated, "none") != 0) {
        add_code(w, stated);
        return DREGS_LAW_YES;
    }
    return stated || law->site->characteristics == DREGS_SITE_NO_CHARACTERISTICS ? DREGS_LAW_NO
                                                                                 : DREGS_LAW_ASK;
}

/* What is hazardous by one of them is, whatever the others are. */
static void judge_waste(dregs_tally_law *law, dregs_tally_waste *w)
{
    dregs_law_verdict traits;

    judge_ignitable(law, w);
    judge_listed(law, w, 0);
    if (w->ignitable == DREGS_LAW_YES)
        add_code(w, "D001");
    judge_toxic(law, w);
    judge_phase(law, w);
    traits = judge_traits(law, w);
    w->hazardous = DREGS_LAW_NO;
    if (w->ignitable == DREGS_LAW_ASK || w->listed == DREGS_LAW_ASK || traits == DREGS_LAW_ASK)
        w->hazardous = DREGS_LAW_ASK;
    if (w->ignitable == DREGS_LAW_YES || w->listed == DREGS_LAW_YES || w->toxic == DREGS_LAW_YES ||
        traits == DREGS_LAW_YES)
        w->hazardous = DREGS_LAW_YES;
    w->traits = traits;
}

/* With what is dissolved in it. */
static double waste_mass(const dregs_tally_law *law, const dregs_tally_waste *w, unsigned period)
{
    double sum =
        dregs_answer_tally_stream_mass(law->year, w->stream, DREGS_WHOLE, w->stage, period);
    unsigned i;

    for (i = 0; i < dregs_line_solutes(law->line); i++)
        sum += dregs_tally_solute(law->year, w->stream, i, w->stage, period);
    return sum;
}

static void add_waste(dregs_tally_law *law, unsigned stage, dregs_stream stream)
{
    dregs_tally_waste *w = &law->waste[law->wastes];
    unsigned p;

    if (dregs_tally_volume(law->year, stream, stage, DREGS_WHOLE) == 0)
        return;
    law->wastes++;
    w->stage = stage;
    w->stream = stream;
    w->leaves = leaves(stream);
    w->drain = stream != DREGS_STREAM_DUMPED && stream != DREGS_STREAM_COLLECTED;
    w->year = waste_mass(law, w, DREGS_WHOLE);
    w->back_year = dregs_answer_tally_back_mass(law->year, DREGS_WHOLE, stage, stream, DREGS_WHOLE);
    for (p = 0; p < DREGS_MONTHS; p++) {
        w->month[p] = waste_mass(law, w, p);
        w->back[p] = dregs_answer_tally_back_mass(law->year, DREGS_WHOLE, stage, stream, p);
    }
    if (isnan(w->year))
        dregs_answer_tally_ask(law, TALLY_OPENS_FIGURES, NULL,
                               "density at 20 degC of what is %s %s, which is not on record",
                               w->leaves, dregs_line_stage(law->line, stage)->name);
    judge_waste(law, w);
}

/* What counts towards the category of a month. A drain counts when it is collected as waste; one
 * of which that is not known leaves the month open, and so does what a still gives back, unless it
 * is given how much of that counts. */
static void count_month(dregs_tally_law *law, unsigned p)
{
    dregs_tally_waste_month *m = &law->month[p];
    const double counts = law->site->reclaimed;
    double back = 0, open_back = 0;
    unsigned i;

    m->sure = dregs_answer_tally_share_or(law->site->other_waste, 0);
    for (i = 0; i < law->wastes; i++) {
        const dregs_tally_waste *w = &law->waste[i];
        double once = dregs_answer_tally_beyond_rounding(w->month[p] - w->back[p], w->month[p]);

        if (w->hazardous == DREGS_LAW_NO || (w->drain && law->site->drain == DREGS_SITE_SEWER))
            continue;
        if (w->hazardous == DREGS_LAW_YES &&
            (!w->drain || law->site->drain == DREGS_SITE_COLLECTED)) {
            m->sure += once;
            back += w->back[p];
        } else {
            m->open += once;
            open_back += w->back[p];
        }
    }
    if (isnan(counts)) {
        m->open += back + open_back;
    } else {
        m->sure += fmin(back, counts);
        m->open += fmin(back + open_back, counts) - fmin(back, counts);
    }
    (void)dregs_law_generator_of(m->sure, &m->least);
    m->most = DREGS_LAW_LQG; /* where a mass is not known */
    (void)dregs_law_generator_of(m->sure + m->open, &m->most);
}

static void ask_waste(dregs_tally_law *law, dregs_tally_waste *w)
{
    if (w->ignitable == DREGS_LAW_ASK)
        dregs_answer_tally_ask_stage(law, rank_of(w), w->stage, ".flash point",
                                     "flash point of the waste %s %s, closed cup. %s", w->leaves,
                                     dregs_line_stage(law->line, w->stage)->name, until(w));
    judge_listed(law, w, 1);
    if (w->back_year > 0 && w->hazardous != DREGS_LAW_NO && isnan(law->site->reclaimed))
        dregs_answer_tally_ask(
            law, TALLY_OPENS_WASTES, "reclaimed",
            "how much of the reclaimed solvent counts towards the generator's category in a month: "
            "once, not each time it is used again (40 CFR 262.13, from memory). Until then all of "
            "it is undecided");
}

/* All wastes are judged: what hangs on the site goes before what hangs on one of them. */
static void ask_wastes(dregs_tally_law *law)
{
    unsigned i, drains = 0, open = 0;

    for (i = 0; i < law->wastes; i++) {
        drains += law->waste[i].drain && law->waste[i].hazardous != DREGS_LAW_NO;
        open += law->waste[i].traits == DREGS_LAW_ASK && law->waste[i].hazardous != DREGS_LAW_YES;
    }
    if (drains && law->site->drain == DREGS_SITE_DRAIN_UNKNOWN)
        dregs_answer_tally_ask_drain(law, TALLY_OPENS_WASTES);
    if (open)
        dregs_answer_tally_ask(
            law, TALLY_OPENS_WASTES, "characteristics",
            "corrosivity, reactivity and toxicity of every waste by anything but the solvents in "
            "it, "
            "and acute waste: 40 CFR 261.22 to 261.24 and 261.33, none of it, or by "
            "'STAGE.characteristics=D002' the code of a waste. Until then what is neither "
            "ignitable "
            "nor listed is undecided");
    for (i = 0; i < law->wastes; i++)
        ask_waste(law, &law->waste[i]);
    if (law->wastes && isnan(law->site->other_waste))
        dregs_answer_tally_ask(law, TALLY_OPENS_WASTES, "other waste",
                               "hazardous waste from elsewhere on the site in a month. Until then "
                               "the category is that of %s alone",
                               dregs_line_part(law->line, 0) ? "these lines" : "this line");
}

void dregs_answer_tally_law_wastes(dregs_tally_law *law)
{
    static const dregs_stream wastes[WAYS] = {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED,
                                              DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                              DREGS_STREAM_BLOWN_OFF};
    unsigned stages = dregs_line_stages(law->line), i, k;

    law->waste = calloc((size_t)stages * WAYS + 1, sizeof *law->waste);
    if (!law->waste) {
        law->failed = 1;
        return;
    }
    for (i = 0; i < stages; i++)
        for (k = 0; k < WAYS; k++)
            add_waste(law, i, wastes[k]);
    ask_wastes(law);
    for (i = 0; i < DREGS_MONTHS; i++)
        count_month(law, i);
}
