/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_working.c: the working of a log of readings, step by step, with sources. */
#include "page/reuse.h"

#include <math.h>

static void say_conduction(const struct reusing *r)
{
    struct numbers n = {0};
    unsigned s;

    for (s = 0; s < dregs_line_solutes(r->line); s++) {
        const dregs_solute *solute = dregs_line_solute(r->line, s);
        if (solute->conductivity.row)
            dregs_report_line(r->report, 4, "%s: k = %s uS/cm per mg/L", solute->name,
                              dregs_page_number(&n, solute->conductivity.si * 10));
        else if (solute->electrolyte)
            dregs_report_line(r->report, 4,
                              "%s: as %s, molar conductivity by McCleskey 2011, 5 to 90 degC",
                              solute->name, solute->electrolyte->name);
        else
            dregs_report_line(r->report, 4, "%s: states none, taken as none", solute->name);
    }
}

static void say_compensations(const struct reusing *r)
{
    struct numbers n = {0};
    double coefficient;
    unsigned i;

    for (i = 0; i < dregs_line_stages(r->line); i++) {
        const dregs_stage *stage = dregs_line_stage(r->line, i);
        dregs_compensation way;
        if (stage->tank < 0 || r->result->outlook->at[i].what != DREGS_MEASURED_CONDUCTIVITY)
            continue;
        way = dregs_reuse_compensation(r->line, i, &coefficient);
        dregs_report_words(r->report, "at another temperature in %s: compensation '%s'",
                           stage->name, dregs_compensation_name(way));
        if (way == DREGS_COMPENSATION_LINEAR)
            dregs_report_words(r->report, ", %s %% per degC",
                               dregs_page_number(&n, coefficient * 100));
        dregs_report_end(r->report, 2, -1);
    }
}

/* What only some logs have: weighed dishes and steps, bounds, parts. */
static void say_other_readings(const struct reusing *r)
{
    int steps = 0, parts = 0;
    size_t i;

    for (i = 0; i < dregs_readings_kept(r->readings); i++) {
        const dregs_reading *reading = dregs_readings_at(r->readings, i);
        steps |= reading->least > 0;
        parts |= reading->what == DREGS_MEASURED_ON_PARTS;
    }
    if (steps)
        dregs_report_text(
            r->report, 2, 2,
            "a weighed dish: (gross - tare - blank) / sample. A meter or balance that "
            "shows steps of d scatters by at least d / sqrt(12), a dish by d sqrt(n / "
            "12) / sample with its n weighings (JCGM 100:2008, F.2.2.1)");
    if (dregs_page_log_beyond(r->readings))
        dregs_report_text(
            r->report, 2, 2,
            "<L or >L where e is expected with scatter s: the likelihood is the normal "
            "probability of the tail, P((L - e) / s) or P((e - L) / s), in place of "
            "that of a value (Tobin 1958)");
    if (parts)
        dregs_report_text(
            r->report, 2, 2,
            "residue on parts: what the line leaves on that load, per area, times the "
            "recovery");
}

static void say_meters(const struct reusing *r)
{
    dregs_report_heading(r->report, "1. what a meter shows");
    dregs_report_text(r->report, 2, 2,
                      "concentration, non-volatile residue: mass in the tank / its volume, of one "
                      "solute or of all (no solute evaporates)");
    dregs_report_text(r->report, 2, 2,
                      "conductivity at 25 degC: 0.05498 uS/cm of the water (Marsh and Stokes) + "
                      "the sum of k c over the solutes:");
    say_conduction(r);
    say_compensations(r);
    dregs_report_text(r->report, 2, 2,
                      "(natural water: ISO 7888; pure water: K25 = (Kt - Kw(t)) / (1 + 0.02 "
                      "(t - 25)) + Kw(25))");
    say_other_readings(r);
}

static void say_prior(const struct reusing *r)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(r->report, "2. the prior: what is known before the log");
    dregs_report_text(r->report, 2, 2,
                      "a factor on the drag-out of every stage, one on the soil of all parts and "
                      "one on what of it stays on them, each lognormal with mean 1 and independent "
                      "of the others, unless the file has their spreads share a draw; standard "
                      "deviations:");
    for (i = 0; i < dregs_line_stages(r->line); i++)
        if (basis->drag_out_sd[i] > 0)
            dregs_report_line(r->report, 4, "drag-out of %s: %s %% (%s)",
                              dregs_line_stage(r->line, i)->name,
                              dregs_page_number(&n, basis->drag_out_sd[i] * 100),
                              basis->drag_out_row[i] ? "spread in the line file" : "assumed");
    dregs_report_line(r->report, 4, "soil: %s %% (%s)", dregs_page_number(&n, basis->soil_sd * 100),
                      basis->soil_row ? "spread in the line file" : "assumed");
}

static void say_fit(const struct reusing *r)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    const dregs_regime *last = dregs_page_last_period(r->result);
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(r->report, "3. what the readings add");
    dregs_report_text(
        r->report, 2, 2,
        "sum over %zu readings of ((read - expected) / scatter)^2 + what the prior asks, at its "
        "least (Levenberg-Marquardt); `expected` is the map of the line, load by load, with the "
        "dumps of the log",
        basis->used);
    dregs_report_line(
        r->report, 2,
        "drag-out of what comes to a meter %s (95 %%: %s to %s), soil %s (95 %%: %s to %s)",
        dregs_page_number(&n, last->drag_out.best), dregs_page_number(&n, last->drag_out.low),
        dregs_page_number(&n, last->drag_out.high), dregs_page_number(&n, last->soil.best),
        dregs_page_number(&n, last->soil.low), dregs_page_number(&n, last->soil.high));
    for (i = 0; i < dregs_line_stages(r->line); i++)
        if (!isnan(last->of_stage[i].best))
            dregs_report_line(r->report, 4, "drag-out of %s: %s (%s to %s)",
                              dregs_line_stage(r->line, i)->name,
                              dregs_page_number(&n, last->of_stage[i].best),
                              dregs_page_number(&n, last->of_stage[i].low),
                              dregs_page_number(&n, last->of_stage[i].high));
    dregs_report_line(
        r->report, 4, "adhering soil: %s (%s to %s)", dregs_page_number(&n, last->adhering.best),
        dregs_page_number(&n, last->adhering.low), dregs_page_number(&n, last->adhering.high));
    if (basis->freedom)
        dregs_report_text(
            r->report, 2, 2,
            "the scatter is estimated with %u degrees of freedom: Student's distribution",
            basis->freedom);
}

static void say_search(const struct reusing *r)
{
    struct numbers n = {0};

    dregs_report_heading(r->report, "4. outliers and changes");
    dregs_report_text(
        r->report, 2, 2,
        "each reading is compared with what the rows before it predict; beyond 4 standard "
        "deviations, with the next one ordinary, it is set aside. What is off adds up in a "
        "two-sided cumulative sum with a slack of 1 (Page 1954); above %s it calls a change, "
        "falsely in about 0.5 %% of logs of this length (run length by Siegmund's approximation; "
        "raised where the scatter is only estimated).",
        dregs_page_number(&n, dregs_reuse_rests_on(r->result->reuse)->alarm));
    dregs_report_text(
        r->report, 2, 2,
        "A change is named by the one thing that, another from there on, leaves least over: "
        "drag-out, soil, the flow of a stage, what a fresh liquid holds, or, at once, what the "
        "tank holds.");
}

static void say_next_load(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_load *load = dregs_line_load(dregs_line_of_kind(r->line, a->kind));
    struct numbers n = {0};
    unsigned s;

    dregs_report_heading(r->report, "5. the loads that may still pass");
    dregs_report_text(
        r->report, 2, 2,
        "the line is let run on from the last reading, load by load, until a load misses the "
        "limit. The next load, per area of %s cm2 x %s parts:",
        dregs_page_number(&n, load->area.si * CM2), dregs_page_number(&n, load->parts.si));
    for (s = 0; s < a->residue.solutes; s++)
        dregs_report_line(r->report, 4, "%s: %s ug/cm2 out of the last film + %s adhering",
                          dregs_page_solute(r->line, (int)s),
                          dregs_page_number(&n, a->residue.film[s] * UG_PER_CM2),
                          dregs_page_number(&n, a->residue.adhering[s] * UG_PER_CM2));
    dregs_report_line(r->report, 4, "in all %s ug/cm2; limit %s ug/cm2",
                      dregs_page_number(&n, a->residue.total * UG_PER_CM2),
                      dregs_page_number(&n, a->limit * UG_PER_CM2));
    dregs_report_text(
        r->report, 2, 2,
        "the 95 %% interval: the same with all unknowns moved, both ways, to where the "
        "residue is most and least within their uncertainty; from the middle of the "
        "last fill on all films may have changed by about 15 %%, unless a change was "
        "found in it; over all explanations of the last change");
}

void dregs_page_reuse_working(const struct reusing *r)
{
    say_meters(r);
    say_prior(r);
    say_fit(r);
    say_search(r);
    say_next_load(r);
    dregs_report_heading(r->report, "6. the reading at which to dump");
    dregs_report_text(r->report, 2, 2,
                      "where the next load leaves just the limit, straight between the readings "
                      "before the last load that meets it and the first that does not");
    dregs_report_gap(r->report);
    dregs_report_text(r->report, 0, 2,
                      "the model of the line: man 7 dregs-model; dregs-predict --explain shows "
                      "one load");
}
