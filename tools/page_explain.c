/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_explain.c: the working. Every derived number with its equation, what was put in, and where
 * that came from, in an order in which a pocket calculator can follow.
 */
#include "explain.h"
#include "predict.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void explain_load(const dregs_line *line)
{
    const dregs_load *load = dregs_line_load(line);

    printf("1. The load %s\n", load->name);
    given(line, "parts", load->parts.si, "", load->parts.row, "");
    given(line, "area", load->area.si * 1e4, "cm2 per part", load->area.row, "");
    given(line, "extra area", load->extra_area.si * 1e4, "cm2 per load", load->extra_area.row,
          "default 0");
    given(line, "hold-up", load->hold_up.si * ML, "mL per part", load->hold_up.row, "default 0");
    given(line, "interval T", load->interval.si / 60, "min", load->interval.row, "");
}

static void explain_wetting(const dregs_line *line, unsigned stage)
{
    const dregs_carried *carried = dregs_line_carried(line, stage);
    const dregs_fluid *fluid = dregs_line_wet_with(line, stage);
    struct numbers n = {0};

    printf("    temperature = %s degC\n", fig(&n, carried->temperature - 273.15));
    explain_property(line, fluid, DREGS_DENSITY, carried->wetting.density);
    explain_property(line, fluid, DREGS_VISCOSITY, carried->wetting.viscosity);
    explain_property(line, fluid, DREGS_SURFACE_TENSION, carried->wetting.surface_tension);
}

static void explain_law(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *c = dregs_line_carried(line, index);
    const dregs_load *load = dregs_line_load(line);
    struct numbers n = {0};

    given(line, "withdrawal speed U", stage->withdrawal_speed.si, "m/s",
          stage->withdrawal_speed.row, "");
    if (stage->film_way == DREGS_FILM_KUSHNER) {
        printf("    film law kushner: h = 0.2 sqrt(U mu / rho) = %s um  [Kushner, in Konishi, "
               "Hirohata, Kubota, Yuri 1974]\n",
               fig(&n, c->thickness * UM));
        return;
    }
    printf("    film law plate: Ca = mu U / sigma = %s\n", fig(&n, c->capillary));
    printf(
        "    N/(1-N^2)^(2/3) = 0.9458 Ca^(1/6), N = %s  [Landau and Levich 1942, Derjaguin 1945, "
        "White and Tallmadge 1965]\n",
        fig(&n, c->number));
    printf("    entrained h0 = N sqrt(mu U / (rho g)) = %s um, g = 9.80665 m/s2\n",
           fig(&n, c->entrained * UM));
    if (!(stage->drain_time.si > 0))
        return;
    given(line, "drain time t", stage->drain_time.si, "s", stage->drain_time.row, "");
    given(line, "height L", load->height.si, "m", load->height.row, "");
    printf("    thinned down to z* = rho g h0^2 t / mu = %s m; mean h = %s = %s um  [Jeffreys "
           "1930]\n",
           fig(&n, c->reach),
           c->reach < load->height.si ? "h0 (1 - z*/(3 L))" : "(2/3) sqrt(mu L / (rho g t))",
           fig(&n, c->thickness * UM));
}

static void explain_film(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_carried *c = dregs_line_carried(line, index);
    const dregs_load *load = dregs_line_load(line);
    struct numbers n = {0};

    printf("  %s\n", stage->name);
    if (c->with_liquid)
        explain_wetting(line, index);
    switch (stage->film_way) {
    case DREGS_FILM_STATED:
        given(line, "film h", c->thickness * UM, "um", stage->film.row, "");
        break;
    case DREGS_FILM_DRAG_OUT:
        given(line, "drag-out h", c->thickness * UM, "mL/m2 (= um)", stage->drag_out.row, "");
        break;
    case DREGS_FILM_CLASS:
        given(line, "drag-out class h", c->thickness * UM, "mL/m2 (= um)", stage->class_row, "");
        printf("      %s gal per 1000 ft2, Metal Finishing Guidebook 2012-13, Table II\n",
               fig(&n, stage->drag_out_class->gallons[1]));
        break;
    default:
        explain_law(line, index);
    }
    if (load->edge.si > 0) {
        given(line, "edge", load->edge.si * 100, "cm per part", load->edge.row, "");
        printf("    edge bead = 0.65 sigma edge / (rho g) = %s mL per part  [Konishi, Hirohata, "
               "Kubota, Yuri 1974]\n",
               fig(&n, c->bead * ML));
    }
    printf("    on the parts = parts (area h + hold-up + bead) = %s (%s + %s + %s) = %s mL\n",
           fig(&n, load->parts.si), fig(&n, load->area.si * c->thickness * ML),
           fig(&n, load->hold_up.si * ML), fig(&n, c->bead * ML), fig(&n, c->on_parts * ML));
    printf("    carried out D = on the parts + extra area h = %s mL; brought in %s mL\n",
           fig(&n, c->out * ML), fig(&n, c->in * ML));
}

static void explain_films(const dregs_line *line)
{
    unsigned i;

    printf("\n2. Films: what a load drags out of each stage\n");
    for (i = 0; i < dregs_line_stages(line); i++)
        if (dregs_line_stage(line, i)->film_way != DREGS_FILM_NONE)
            explain_film(line, i);
}

static void explain_volumes(const dregs_line *line)
{
    unsigned t;

    printf("\n3. Volumes: what each tank gains and loses between loads\n");
    for (t = 0; t < dregs_line_tanks(line); t++)
        explain_tank(line, t);
}

static void print_affine(const dregs_line *line, const double *row)
{
    struct numbers n = {0};
    unsigned t, tanks = dregs_line_tanks(line), shown = 0;

    for (t = 0; t < tanks; t++)
        if (row[t] != 0.0)
            printf("%s%s m(%s)", shown++ ? " + " : "", fig(&n, row[t]),
                   dregs_line_stage(line, dregs_line_tank(line, t)->stage)->name);
    if (row[tanks] != 0.0 || !shown)
        printf("%s%s mg", shown ? " + " : "", fig(&n, row[tanks] * MG));
    printf("\n");
}

static void explain_map(const struct predict_page *answer)
{
    const dregs_line *line = answer->line;
    unsigned s, t, last = dregs_line_stages(line) - 1;

    printf("\n4. The map of one load: masses m in the tanks before it, in mg, to those after its "
           "interval\n"
           "   (the load's pass, then the matrix exponential of the rates of 3.; dumps are not in "
           "it)\n");
    for (s = 0; s < dregs_line_solutes(line); s++) {
        printf("  %s\n", dregs_line_solute(line, s)->name);
        for (t = 0; t < dregs_line_tanks(line); t++) {
            printf("    m'(%s) = ", dregs_line_stage(line, dregs_line_tank(line, t)->stage)->name);
            print_affine(line, dregs_map_row(answer->result->map, s, t));
        }
        printf("    last film = ");
        print_affine(line, dregs_map_film(answer->result->map, s, last));
    }
}

static void explain_visit(const struct predict_page *answer, unsigned s, unsigned i,
                          const dregs_predict_pass *pass)
{
    const dregs_stage_masses masses = {pass->brought, pass->met, pass->taken};
    dregs_stage_step steps[DREGS_STAGE_STEPS];
    unsigned count = dregs_stage_working(answer->line, i, s, &masses, steps), k;

    printf("    %s: ", dregs_line_stage(answer->line, i)->name);
    for (k = 0; k < count; k++) {
        printf("%s%s", k ? "      " : "", steps[k].text);
        if (steps[k].otherwise)
            source(answer->line, steps[k].row, steps[k].otherwise);
        printf("%s\n", steps[k].after);
    }
}

static void explain_solute(const struct predict_page *answer, unsigned s)
{
    const dregs_line *line = answer->line;
    const dregs_load *load = dregs_line_load(line);
    unsigned last_wet = (unsigned)dregs_line_last_wet(line), i;
    const dregs_carried *c = dregs_line_carried(line, last_wet);
    const dregs_residue *r = &answer->result->shown_residue;
    dregs_predict_pass pass = {0};
    double soil = dregs_map_adhering(answer->result->map, s, dregs_line_stages(line) - 1);
    struct numbers n = {0};

    printf("  %s", dregs_line_solute(line, s)->name);
    if (dregs_line_solute(line, s)->on_parts.row) {
        printf(", arrives as %s mg per load",
               fig(&n, dregs_line_solute(line, s)->on_parts.si * load->parts.si * MG));
        source(line, dregs_line_solute(line, s)->on_parts.row, "");
    }
    printf("\n");
    for (i = 0; i < dregs_line_stages(line); i++) {
        (void)dregs_predict_pass_of(answer->result, s, i, &pass);
        explain_visit(answer, s, i, &pass);
    }
    printf("    residue = film %s mg x on the parts %s mL / carried %s mL / (%s x %s cm2) = %s "
           "ug/cm2\n",
           fig(&n, pass.taken * MG), fig(&n, c->on_parts * ML), fig(&n, c->out * ML),
           fig(&n, load->parts.si), fig(&n, load->area.si * 1e4), fig(&n, r->film[s] * UG_PER_CM2));
    printf("            + adhering %s mg / (%s x %s cm2) = %s ug/cm2; together %s ug/cm2\n",
           fig(&n, soil * MG), fig(&n, load->parts.si), fig(&n, load->area.si * 1e4),
           fig(&n, r->adhering[s] * UG_PER_CM2),
           fig(&n, (r->film[s] + r->adhering[s]) * UG_PER_CM2));
}

static void explain_shown(const struct predict_page *answer)
{
    const dregs_worst *shown = &answer->result->shown;
    struct numbers n = {0};
    unsigned s;

    printf("\n5. %s: ", answer->request->asked.at_count ? "The load asked for" : "The worst load");
    if (!shown->in_the_long_run)
        printf("load %llu from the fresh start\n", (unsigned long long)shown->load);
    else if (dregs_line_period(answer->line) == 1)
        printf("the periodic state x = M x + b\n");
    else
        printf("load %llu of a dump period in the periodic state, which the map of a whole period "
               "leaves as it is\n",
               (unsigned long long)shown->load);
    for (s = 0; s < dregs_line_solutes(answer->line); s++)
        explain_solute(answer, s);
    printf("  total %s ug/cm2\n", fig(&n, shown->residue * UG_PER_CM2));
}

static void explain_limits(const struct predict_page *answer)
{
    const dregs_level *level = answer->result->level;
    struct numbers n = {0};
    unsigned i, g;

    printf("\n6. Limits\n");
    for (i = 0; i < answer->result->verdicts; i++) {
        printf(
            "    %s: limit %s ug/cm2, the worst load leaves %s",
            solute_name(answer->line, dregs_predict_result_verdict(answer->result, i)->solute),
            fig(&n, dregs_predict_result_verdict(answer->result, i)->limit.si * UG_PER_CM2),
            fig(&n, dregs_predict_result_verdict(answer->result, i)->worst.residue * UG_PER_CM2));
        source(answer->line, dregs_predict_result_verdict(answer->result, i)->limit.row, "");
        printf("\n");
    }
    if (level)
        printf("    level %s: at most %s mg per 0.1 m2 (= ug/cm2)  [MIL-STD-1246C, "
               "IEST-STD-CC1246D; values from memory]\n",
               level->name, fig(&n, level->as_printed));
    printf("    for comparison, what purified water itself may hold:");
    for (g = 0; dregs_water_grade_at(g); g++)
        if (!isnan(dregs_water_grade_at(g)->residue))
            printf(" %s %s mg/kg;", dregs_water_grade_at(g)->name,
                   fig(&n, dregs_water_grade_at(g)->residue * 1e6));
    printf(" residue on evaporation  [ISO 3696:1987]\n");
}

static void explain_lists(const struct predict_page *answer)
{
    unsigned i;

    printf("\n7. Assumed, because the file does not state it\n");
    for (i = 0; dregs_line_assumed(answer->line, i); i++)
        printf("    %s\n", dregs_line_assumed(answer->line, i));
    if (i == 0)
        printf("    nothing beyond the defaults marked above\n");
    printf("\n8. In the file, not used here\n");
    for (i = 0; dregs_line_unused(answer->line, i); i++)
        printf("    %s\n", dregs_line_unused(answer->line, i));
    if (i == 0)
        printf("    nothing\n");
    printf("\n9. Cautions\n");
    for (i = 0; i < answer->result->cautions; i++) {
        const dregs_caution_rule *rule = answer->result->caution[i].rule;
        struct numbers n = {0};
        printf("    %s: given when %s%s%s%s%s  [%s]\n      ", rule->id, rule->condition,
               isnan(rule->threshold) ? "" : ": ",
               isnan(rule->threshold) ? "" : fig(&n, rule->threshold), *rule->unit ? " " : "",
               rule->unit, rule->source);
        wrapped(answer->result->caution[i].text, 6, 6);
    }
    if (answer->result->cautions == 0)
        printf("    none that these numbers call for\n");
    printf("    ");
    wrapped(dregs_caution_deference(), 4, 4);
}

int page_explain(const struct predict_page *answer)
{
    explain_load(answer->line);
    explain_films(answer->line);
    explain_volumes(answer->line);
    explain_map(answer);
    explain_shown(answer);
    explain_limits(answer);
    explain_lists(answer);
    return FRONT_DONE;
}
