/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_working.c: the working of a prediction, in an order in which a pocket calculator can
 * follow.
 */
#include "page/predict.h"

#include <math.h>

/* ---- films ---- */

static void explain_load(const struct prediction *p)
{
    const dregs_load *load = dregs_line_load(p->of);
    dregs_report *to = p->report;

    dregs_report_line(to, 0, "1. The load %s", load->name);
    dregs_page_given(to, p->line, "parts", load->parts.si, "", load->parts.row, "");
    dregs_page_given(to, p->line, "area", load->area.si * CM2, "cm2 per part", load->area.row, "");
    dregs_page_given(to, p->line, "extra area", load->extra_area.si * CM2, "cm2 per load",
                     load->extra_area.row, "default 0");
    dregs_page_given(to, p->line, "hold-up", load->hold_up.si * ML, "mL per part",
                     load->hold_up.row, "default 0");
    dregs_page_given(to, p->line, "interval T", load->interval.si / 60, "min", load->interval.row,
                     "");
}

static void explain_wetting(const struct prediction *p, unsigned stage)
{
    const dregs_carried *carried = dregs_line_carried(p->of, stage);
    const dregs_fluid *fluid = dregs_line_wet_with(p->line, stage);
    const dregs_wetting *wetting = &carried->wetting;
    struct numbers n = {0};

    dregs_report_line(p->report, 4, "temperature = %s degC",
                      dregs_page_six(&n, carried->temperature - 273.15));
    dregs_page_property(p->report, p->line, fluid, DREGS_DENSITY, wetting->density);
    if (fluid->viscosity.row)
        dregs_page_given(p->report, p->line, "viscosity mu", wetting->viscosity, "Pa.s",
                         fluid->viscosity.row, "");
    else
        dregs_page_property(p->report, p->line, fluid, DREGS_VISCOSITY, wetting->viscosity);
    if (fluid->surface_tension.row)
        dregs_page_given(p->report, p->line, "surface tension sigma", wetting->surface_tension,
                         "N/m", fluid->surface_tension.row, "");
    else
        dregs_page_property(p->report, p->line, fluid, DREGS_SURFACE_TENSION,
                            wetting->surface_tension);
}

static void explain_plate(const struct prediction *p, const dregs_stage *stage,
                          const dregs_carried *c)
{
    const dregs_load *load = dregs_line_load(p->of);
    dregs_report *to = p->report;
    struct numbers n = {0};

    dregs_report_line(to, 4, "film law plate: Ca = mu U / sigma = %s",
                      dregs_page_six(&n, c->capillary));
    dregs_report_line(to, 4,
                      "N/(1-N^2)^(2/3) = 0.9458 Ca^(1/6), N = %s  [Landau and Levich 1942, "
                      "Derjaguin 1945, White and Tallmadge 1965]",
                      dregs_page_six(&n, c->number));
    dregs_report_line(to, 4, "entrained h0 = N sqrt(mu U / (rho g)) = %s um, g = 9.80665 m/s2",
                      dregs_page_six(&n, c->entrained * UM));
    if (!(stage->drain_time.si > 0))
        return;
    dregs_page_given(to, p->line, "drain time t", stage->drain_time.si, "s", stage->drain_time.row,
                     "");
    dregs_page_given(to, p->line, "height L", load->height.si, "m", load->height.row, "");
    dregs_report_line(
        to, 4,
        "thinned down to z* = rho g h0^2 t / mu = %s m; mean h = %s = %s um  [Jeffreys 1930]",
        dregs_page_six(&n, c->reach),
        c->reach < load->height.si ? "h0 (1 - z*/(3 L))" : "(2/3) sqrt(mu L / (rho g t))",
        dregs_page_six(&n, c->thickness * UM));
}

static void explain_kushner(const struct prediction *p, const dregs_stage *stage,
                            const dregs_carried *c)
{
    struct numbers n = {0};
    double whole = c->thickness;

    (void)dregs_film_kushner(&c->wetting, stage->withdrawal_speed.si, &whole);
    dregs_report_line(p->report, 4,
                      "film law kushner: h = 0.2 sqrt(U mu / rho) = %s um  [Kushner, in "
                      "Konishi, Hirohata, Kubota, Yuri 1974]",
                      dregs_page_six(&n, whole * UM));
    if (dregs_line_load(p->of)->edge.si > 0)
        dregs_report_line(p->report, 4,
                          c->bead > 0
                              ? "more than the bead and 10 um on the face: these stay  [as above]"
                              : "not more than the bead and 10 um on the face: it counts, without "
                                "a bead  [as above]");
}

static void explain_law(const struct prediction *p, const dregs_stage *stage,
                        const dregs_carried *c)
{
    dregs_page_given(p->report, p->line, "withdrawal speed U", stage->withdrawal_speed.si, "m/s",
                     stage->withdrawal_speed.row, "");
    if (stage->film_way == DREGS_FILM_KUSHNER)
        explain_kushner(p, stage, c);
    else
        explain_plate(p, stage, c);
}

static void explain_thickness(const struct prediction *p, const dregs_stage *stage,
                              const dregs_carried *c)
{
    struct numbers n = {0};

    switch (stage->film_way) {
    case DREGS_FILM_STATED:
        dregs_page_given(p->report, p->line, "film h", c->thickness * UM, "um", stage->film.row,
                         "");
        break;
    case DREGS_FILM_DRAG_OUT:
        dregs_page_given(p->report, p->line, "drag-out h", c->thickness * UM, "mL/m2 (= um)",
                         stage->drag_out.row, "");
        break;
    case DREGS_FILM_CLASS:
        dregs_page_given(p->report, p->line, "drag-out class h", c->thickness * UM, "mL/m2 (= um)",
                         stage->class_row, "");
        dregs_report_line(p->report, 6,
                          "%s gal per 1000 ft2, Metal Finishing Guidebook 2012-13, Table II",
                          dregs_page_six(&n, stage->drag_out_class->gallons[1]));
        break;
    default:
        explain_law(p, stage, c);
    }
}

static void explain_film(const struct prediction *p, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(p->line, index);
    const dregs_carried *c = dregs_line_carried(p->of, index);
    const dregs_load *load = dregs_line_load(p->of);
    struct numbers n = {0};

    dregs_report_line(p->report, 2, "%s", stage->name);
    if (c->with_liquid)
        explain_wetting(p, index);
    explain_thickness(p, stage, c);
    if (load->edge.si > 0) {
        dregs_page_given(p->report, p->line, "edge", load->edge.si * 100, "cm per part",
                         load->edge.row, "");
        if (stage->film_way != DREGS_FILM_KUSHNER || c->bead > 0)
            dregs_report_line(p->report, 4,
                              "edge bead = 0.65 sigma edge / (rho g) = %s mL per part  [Konishi, "
                              "Hirohata, Kubota, Yuri 1974]",
                              dregs_page_six(&n, c->bead * ML));
    }
    dregs_report_line(
        p->report, 4, "on the parts = parts (area h + hold-up + bead) = %s (%s + %s + %s) = %s mL",
        dregs_page_six(&n, load->parts.si), dregs_page_six(&n, load->area.si * c->thickness * ML),
        dregs_page_six(&n, load->hold_up.si * ML), dregs_page_six(&n, c->bead * ML),
        dregs_page_six(&n, c->on_parts * ML));
    dregs_report_line(p->report, 4,
                      "carried out D = on the parts + extra area h = %s mL; brought in %s mL",
                      dregs_page_six(&n, c->out * ML), dregs_page_six(&n, c->in * ML));
    if (dregs_line_traps(p->line))
        dregs_report_line(p->report, 4,
                          "of these trapped in the parts, and followed beside the film: %s mL; "
                          "brought in %s mL",
                          dregs_page_six(&n, c->trapped * ML),
                          dregs_page_six(&n, c->trapped_in * ML));
}

static void explain_films(const struct prediction *p)
{
    unsigned i;

    dregs_report_heading(p->report, "2. Films: what a load drags out of each stage");
    for (i = 0; i < dregs_line_stages(p->line); i++)
        if (dregs_line_stage(p->line, i)->film_way != DREGS_FILM_NONE)
            explain_film(p, i);
}

/* ---- tanks ---- */

static void explain_volumes(const struct prediction *p)
{
    unsigned t;

    dregs_report_heading(p->report, "3. Volumes: what each tank gains and loses between loads");
    for (t = 0; t < dregs_line_tanks(p->line); t++)
        dregs_page_tank(p->report, p->line, t);
}

static const char *tank_name(const struct prediction *p, unsigned tank)
{
    return dregs_line_stage(p->line, dregs_line_tank(p->line, tank)->stage)->name;
}

/* Ends the sentence in hand with a row of the map. */
static void end_affine(const struct prediction *p, const double *row)
{
    unsigned t, tanks = dregs_line_tanks(p->line), shown = 0;
    struct numbers n = {0};

    for (t = 0; t < tanks; t++)
        if (row[t] != 0.0)
            dregs_report_words(p->report, "%s%s m(%s)", shown++ ? " + " : "",
                               dregs_page_six(&n, row[t]), tank_name(p, t));
    if (row[tanks] != 0.0 || !shown)
        dregs_report_words(p->report, "%s%s mg", shown ? " + " : "",
                           dregs_page_six(&n, row[tanks] * MG));
    dregs_report_end(p->report, 4, -1);
}

static void explain_map(const struct prediction *p)
{
    unsigned s, t, last = dregs_line_stages(p->line) - 1;

    dregs_report_heading(p->report, "4. The map of one load: masses m in the tanks before it, in "
                                    "mg, to those after its interval");
    dregs_report_line(p->report, 3,
                      "(the load's pass, then the matrix exponential of the rates of 3.; dumps are "
                      "not in it)");
    for (s = 0; s < dregs_line_solutes(p->line); s++) {
        dregs_report_line(p->report, 2, "%s", dregs_page_solute(p->line, (int)s));
        for (t = 0; t < dregs_line_tanks(p->line); t++) {
            dregs_report_words(p->report, "m'(%s) = ", tank_name(p, t));
            end_affine(p, dregs_map_row(p->map, s, t));
        }
        dregs_report_words(p->report, "last film = ");
        end_affine(p, dregs_map_film(p->map, s, last));
        if (!dregs_line_traps(p->line))
            continue;
        dregs_report_words(p->report, "trapped in the end = ");
        end_affine(p, dregs_map_trapped(p->map, s, last));
    }
}

/* ---- the load shown ---- */

/* How the film of a solute passes a stage. */
static void explain_visit(const struct prediction *p, unsigned s, unsigned i,
                          const dregs_predict_pass *pass)
{
    const dregs_stage_masses masses = {pass->brought, pass->met, pass->taken, pass->trapped_brought,
                                       pass->trapped_taken};
    dregs_stage_step steps[DREGS_STAGE_STEPS];
    unsigned count = dregs_stage_working(p->line, i, s, &masses, steps), k;

    for (k = 0; k < count; k++) {
        if (k == 0)
            dregs_report_words(p->report, "%s: ", dregs_line_stage(p->line, i)->name);
        dregs_report_words(p->report, "%s", steps[k].text);
        if (steps[k].otherwise)
            dregs_page_source(p->report, p->line, steps[k].row, steps[k].otherwise);
        dregs_report_words(p->report, "%s", steps[k].after);
        dregs_report_end(p->report, k ? 6 : 4, -1);
    }
}

/* From what dries in the film, and in the holes, to what is left on an area. */
static void explain_left(const struct prediction *p, unsigned s, const dregs_predict_pass *pass)
{
    const dregs_carried *c = dregs_line_carried(p->of, (unsigned)dregs_line_last_wet(p->line));
    const dregs_residue *r = &p->result->shown_residue;
    const dregs_load *load = dregs_line_load(p->of);
    double soil = dregs_map_adhering(p->map, s, dregs_line_stages(p->line) - 1);
    struct numbers n = {0};

    dregs_report_words(p->report, "residue = %sfilm %s mg x on the parts %s mL / carried %s mL",
                       dregs_line_traps(p->line) ? "(" : "", dregs_page_six(&n, pass->taken * MG),
                       dregs_page_six(&n, (c->on_parts - c->trapped) * ML),
                       dregs_page_six(&n, (c->out - c->trapped) * ML));
    if (dregs_line_traps(p->line))
        dregs_report_words(p->report, " + trapped %s mg)",
                           dregs_page_six(&n, pass->trapped_taken * MG));
    dregs_report_words(p->report, " / (%s x %s cm2) = %s ug/cm2",
                       dregs_page_six(&n, load->parts.si), dregs_page_six(&n, load->area.si * CM2),
                       dregs_page_six(&n, r->film[s] * UG_PER_CM2));
    dregs_report_end(p->report, 4, -1);
    dregs_report_line(
        p->report, 12, "+ adhering %s mg / (%s x %s cm2) = %s ug/cm2; total %s ug/cm2",
        dregs_page_six(&n, soil * MG), dregs_page_six(&n, load->parts.si),
        dregs_page_six(&n, load->area.si * CM2), dregs_page_six(&n, r->adhering[s] * UG_PER_CM2),
        dregs_page_six(&n, (r->film[s] + r->adhering[s]) * UG_PER_CM2));
}

static void explain_solute(const struct prediction *p, unsigned s)
{
    const dregs_value *on_parts = &dregs_line_solute(p->of, s)->on_parts;
    const dregs_load *load = dregs_line_load(p->of);
    dregs_predict_pass pass = {0};
    struct numbers n = {0};
    unsigned i;

    dregs_report_words(p->report, "%s", dregs_page_solute(p->line, (int)s));
    if (on_parts->row) {
        dregs_report_words(p->report, ", arrives as %s mg per load",
                           dregs_page_six(&n, on_parts->si * load->parts.si * MG));
        dregs_page_source(p->report, p->line, on_parts->row, "");
    }
    dregs_report_end(p->report, 2, -1);
    for (i = 0; i < dregs_line_stages(p->line); i++) {
        (void)dregs_predict_pass_of(p->result, s, i, &pass);
        explain_visit(p, s, i, &pass);
    }
    explain_left(p, s, &pass);
}

static void explain_shown(const struct prediction *p)
{
    const dregs_worst *shown = &p->result->shown;
    unsigned long long load = shown->load;
    struct numbers n = {0};
    unsigned s;

    dregs_report_words(p->report,
                       "5. %s: ", p->request->shown ? "The load asked for" : "The worst load");
    if (!shown->in_the_long_run)
        dregs_report_heading(p->report, "load %llu from the fresh start", load);
    else if (dregs_line_period(p->line) == 1)
        dregs_report_heading(p->report, "the periodic steady state x = M x + b");
    else
        dregs_report_heading(
            p->report,
            "load %llu of a dump period at periodic steady state, which the map of a "
            "whole period leaves as it is",
            load);
    for (s = 0; s < dregs_line_solutes(p->line); s++)
        explain_solute(p, s);
    dregs_report_line(p->report, 2, "total %s ug/cm2",
                      dregs_page_six(&n, shown->residue * UG_PER_CM2));
}

/* ---- limits and what stands below ---- */

static void explain_limits(const struct prediction *p)
{
    const dregs_level *level = p->result->level;
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(p->report, "6. Limits");
    for (i = 0; i < p->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(p->result, i);
        dregs_report_words(p->report, "%s: limit %s ug/cm2, the worst load leaves %s",
                           dregs_page_solute(p->line, verdict->solute),
                           dregs_page_six(&n, verdict->limit.si * UG_PER_CM2),
                           dregs_page_six(&n, (verdict->by_week ? verdict->in_week.worst.residue
                                                                : verdict->worst.residue) *
                                                  UG_PER_CM2));
        dregs_page_source(p->report, p->line, verdict->limit.row, "");
        dregs_report_end(p->report, 4, -1);
        dregs_report_verdict(p->report, verdict->met ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED);
    }
    if (level)
        dregs_report_line(p->report, 4,
                          "level %s: at most %s mg per 0.1 m2 (= ug/cm2)  [MIL-STD-1246C, "
                          "IEST-STD-CC1246D; values from memory]",
                          level->name, dregs_page_six(&n, level->as_printed));
}

static void explain_water(const struct prediction *p)
{
    const dregs_water_grade *grade;
    struct numbers n = {0};
    unsigned i;

    dregs_report_words(p->report, "for comparison, what purified water itself may hold:");
    for (i = 0; (grade = dregs_water_grade_at(i)) != NULL; i++)
        if (!isnan(grade->residue))
            dregs_report_words(p->report, " %s %s mg/kg;", grade->name,
                               dregs_page_six(&n, grade->residue * 1e6));
    dregs_report_words(p->report, " residue on evaporation  [ISO 3696:1987]");
    dregs_report_end(p->report, 4, -1);
}

static void explain_list(const struct prediction *p, const char *title,
                         const char *(*at)(const dregs_line *, unsigned), const char *empty)
{
    unsigned i;

    dregs_report_heading(p->report, "%s", title);
    for (i = 0; at(p->line, i); i++)
        dregs_report_line(p->report, 4, "%s", at(p->line, i));
    if (i == 0)
        dregs_report_line(p->report, 4, "%s", empty);
}

static const char *not_used(const dregs_line *line, unsigned index)
{
    return dregs_line_unused(line, DREGS_ASKED_RESIDUE, index);
}

static const char *not_used_with_draws(const dregs_line *line, unsigned index)
{
    return dregs_line_unused(line, DREGS_ASKED_RESIDUE | DREGS_ASKED_DOUBT, index);
}

/* Each caution with the rule that calls for it. */
static void explain_cautions(const struct prediction *p)
{
    unsigned i;

    dregs_report_heading(p->report, "9. Cautions");
    for (i = 0; i < p->result->cautions; i++) {
        const dregs_caution_rule *rule = p->result->caution[i].rule;
        struct numbers n = {0};
        dregs_report_words(p->report, "%s: given when %s", rule->id, rule->condition);
        if (!isnan(rule->threshold))
            dregs_report_words(p->report, ": %s", dregs_page_six(&n, rule->threshold));
        dregs_report_words(p->report, "%s%s  [%s]", *rule->unit ? " " : "", rule->unit,
                           rule->source);
        dregs_report_end(p->report, 4, -1);
        dregs_report_text(p->report, 6, 6, "%s", p->result->caution[i].text);
    }
    if (p->result->cautions == 0)
        dregs_report_line(p->report, 4, "none that these numbers call for");
    dregs_report_text(p->report, 4, 4, "%s", dregs_caution_deference());
}

void dregs_page_predict_working(const struct prediction *p)
{
    explain_load(p);
    explain_films(p);
    explain_volumes(p);
    explain_map(p);
    explain_shown(p);
    explain_limits(p);
    dregs_page_predict_explain_bounds(p);
    dregs_page_predict_explain_week(p);
    dregs_page_predict_explain_mixing(p);
    explain_water(p);
    explain_list(p, "7. Assumed, because the file does not state it", dregs_line_assumed,
                 "nothing beyond the defaults marked above");
    explain_list(p, "8. In the file, not used here", p->doubt ? not_used_with_draws : not_used,
                 "nothing");
    explain_cautions(p);
    dregs_page_predict_hangs_working(p);
}
