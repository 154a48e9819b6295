/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse_explain.c: the working of dregs-reuse, step by step, with sources. */
#include "reuse.h"

#include <math.h>
#include <stdio.h>

static void print_meters(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    struct numbers n = {0};
    double coefficient;
    unsigned i, s;

    printf("\n1. what a meter shows\n"
           "  concentration, non-volatile residue: mass in the tank / its volume, of one solute or "
           "of all\n");
    printf("  conductivity at 25 degC: 0.05498 uS/cm of the water (Marsh and Stokes) + the sum of\n"
           "  k c over the solutes:\n");
    for (s = 0; s < dregs_line_solutes(answer->line); s++) {
        const dregs_solute *solute = dregs_line_solute(answer->line, s);
        if (solute->conductivity.row)
            printf("    %s: k = %s uS/cm per mg/L\n", solute->name,
                   number(&n, solute->conductivity.si * 10));
        else if (solute->electrolyte)
            printf("    %s: as %s, molar conductivity by McCleskey 2011, 5 to 90 degC\n",
                   solute->name, solute->electrolyte->name);
        else
            printf("    %s: states none, taken as none\n", solute->name);
    }
    for (i = 0; i < dregs_line_stages(answer->line); i++) {
        if (dregs_line_stage(answer->line, i)->tank < 0 ||
            a->at[i].what != DREGS_MEASURED_CONDUCTIVITY)
            continue;
        printf("  at another temperature in %s: compensation '%s'",
               dregs_line_stage(answer->line, i)->name,
               dregs_compensation_name(dregs_reuse_compensation(answer->line, i, &coefficient)));
        if (dregs_reuse_compensation(answer->line, i, &coefficient) == DREGS_COMPENSATION_LINEAR)
            printf(", %s %% per degC", number(&n, coefficient * 100));
        putchar('\n');
    }
    printf("  (natural water: ISO 7888; pure water: K25 = (Kt - Kw(t)) / (1 + 0.02 (t - 25)) + "
           "Kw(25))\n");
}

static void print_prior(const struct reuse_pages *answer)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(answer->result->reuse);
    struct numbers n = {0};

    printf(
        "\n2. what is believed before the log\n"
        "  one factor on the drag-out of all stages, one on the soil of all parts, each lognormal\n"
        "  with mean 1: drag-out with a standard deviation of %s %% (%s), soil %s %% (%s)\n",
        number(&n, basis->drag_out_sd * 100),
        basis->drag_out_row ? "spread in the line file" : "assumed",
        number(&n, basis->soil_sd * 100), basis->soil_row ? "spread in the line file" : "assumed");
}

static void print_fit(const struct reuse_pages *answer)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(answer->result->reuse);
    const dregs_regime *regime =
        dregs_reuse_regime(answer->result->reuse, dregs_reuse_regimes(answer->result->reuse) - 1);
    struct numbers n = {0};

    printf(
        "\n3. what the readings add\n"
        "  sum over %zu readings of ((read - expected) / scatter)^2 + what the beliefs ask, at "
        "its\n"
        "  least (Levenberg-Marquardt); `expected` is the map of the line, load by load, with the\n"
        "  dumps of the log\n",
        basis->used);
    printf("  drag-out factor %s (95 %%: %s to %s), soil factor %s (95 %%: %s to %s)\n",
           number(&n, regime->drag_out.best), number(&n, regime->drag_out.low),
           number(&n, regime->drag_out.high), number(&n, regime->soil.best),
           number(&n, regime->soil.low), number(&n, regime->soil.high));
    if (basis->freedom)
        printf("  the scatter is estimated with %u degrees of freedom: Student's distribution\n",
               basis->freedom);
    printf(
        "\n4. outliers and changes\n"
        "  each reading is held against what the rows before it let expect; beyond 4 standard\n"
        "  deviations, with the next one ordinary, it is set aside. What is off adds up in a\n"
        "  two-sided cumulative sum with a slack of 1 (Page 1954); above %s it calls a change,\n"
        "  falsely in about 0.5 %% of logs of this length (run length by Siegmund's "
        "approximation;\n"
        "  raised where the scatter is only estimated).\n"
        "  A change is named by the one thing that, another from there on, leaves least over:\n"
        "  drag-out, soil, the flow of a stage, what a fresh liquid holds, or, at once, what the\n"
        "  tank holds.\n",
        number(&n, basis->alarm));
}

static void print_working(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    const dregs_load *load = dregs_line_load(answer->line);
    struct numbers n = {0};
    unsigned s;

    printf("\n5. the loads that may still pass\n"
           "  the line is let run on from the last reading, load by load, until a load misses the\n"
           "  limit. The next load, per area of %s cm2 x %s parts:\n",
           number(&n, load->area.si * 1e4), number(&n, load->parts.si));
    for (s = 0; s < a->residue.solutes; s++)
        printf("    %s: %s ug/cm2 out of the last film + %s adhering\n",
               dregs_line_solute(answer->line, s)->name,
               number(&n, a->residue.film[s] * UG_PER_CM2),
               number(&n, a->residue.adhering[s] * UG_PER_CM2));
    printf("    in all %s ug/cm2; limit %s ug/cm2\n", number(&n, a->residue.total * UG_PER_CM2),
           number(&n, a->limit * UG_PER_CM2));
    printf("  the 95 %% interval: the same with drag-out and soil moved, both ways, by their\n"
           "  uncertainty along the direction in which the residue grows\n"
           "\n6. the reading at which to dump\n"
           "  where the next load leaves just the limit, straight between the readings before the\n"
           "  last load that meets it and the first that does not\n"
           "\nthe model of the line: man 7 dregs-model; dregs-predict --explain shows one load\n");
}

int reuse_page_explain(const struct reuse_pages *answer)
{
    int status = reuse_page_text(answer);

    print_meters(answer);
    print_prior(answer);
    print_fit(answer);
    print_working(answer);
    return status;
}
