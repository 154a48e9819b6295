/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.c: parts of the working that more than one tool shows. */
#include "explain.h"

#include <stdio.h>
#include <string.h>

/* Six figures, so that a check by hand does not end in rounding. */
const char *fig(struct numbers *n, double value)
{
    return dregs_number_plain(n->text[n->next++ % 8], value, 6);
}

/* "[file:12 drag-out 85 mL/m2; stopped-flow reading]" or "[default]" */
void source(const dregs_line *line, unsigned row, const char *otherwise)
{
    const dregs_row *cells = dregs_line_row(line, row);
    const char *note;

    if (!cells) {
        printf("  [%s]", otherwise);
        return;
    }
    printf("  [%s:%lu %s %s%s%s%s", dregs_line_name(line), cells->line, cells->property,
           cells->value, *cells->unit ? " " : "", cells->unit, *cells->note ? "; " : "");
    for (note = cells->note; *note; note++) /* a note is free text: no control codes from it */
        putchar((unsigned char)*note < 0x20 || *note == 0x7F ? ' ' : *note);
    putchar(']');
}

void given(const dregs_line *line, const char *name, double value, const char *unit, unsigned row,
           const char *otherwise)
{
    struct numbers n = {0};

    printf("    %s = %s %s", name, fig(&n, value), unit);
    source(line, row, otherwise);
    printf("\n");
}

void explain_property(const dregs_line *line, const dregs_fluid *fluid, dregs_property property,
                      double value)
{
    const dregs_liquid_row *row =
        dregs_liquids_row(dregs_line_liquids(line), fluid->solvent, property);
    struct numbers n = {0};
    int i, last = DREGS_COEFFICIENTS;

    printf("    %s of %s = %s %s", dregs_property_name(property), fluid->solvent, fig(&n, value),
           dregs_property_unit(property));
    if (!row) {
        printf("\n");
        return;
    }
    if (strcmp(row->equation, "A") != 0) {
        printf("  by %s,", row->equation);
        while (last > 1 && row->coefficient[last - 1] == 0.0)
            last--;
        for (i = 0; i < last; i++)
            printf(" %c=%s", 'A' + i, dregs_number_plain(n.text[0], row->coefficient[i], 12));
        printf(" in %s", row->unit);
    }
    printf("  [%s, %s%s%s:%lu]\n", row->source, row->evidence,
           row->file ? ", " : ", built-in data ", row->file ? row->file : "liquids.csv", row->line);
}

const char *link_name(const dregs_line *line, dregs_link link)
{
    if (link.kind == DREGS_LINK_STAGE)
        return dregs_line_stage(line, link.index)->name;
    return link.kind == DREGS_LINK_LIQUID ? dregs_line_fluid(line, link.index)->name : "drain";
}

static void explain_evaporation(const dregs_line *line, const dregs_stage *stage,
                                const dregs_tank *tank)
{
    static const dregs_property wanted[3] = {DREGS_VAPOUR_PRESSURE, DREGS_MOLAR_MASS,
                                             DREGS_DENSITY};
    const dregs_fluid *fluid = dregs_line_wet_with(line, tank->stage);
    double temperature = dregs_line_temperature(line, tank->stage), value;
    struct numbers n = {0};
    int i;

    if (!stage->open_area.row) {
        given(line, "evaporation", tank->evaporation * 3.6e6, "L/h", stage->evaporation.row,
              "default 0");
        return;
    }
    given(line, "open area", stage->open_area.si, "m2", stage->open_area.row, "");
    given(line, "covered", stage->covered.si, "of the time", stage->covered.row, "default 0");
    if (stage->air_speed.si > 0)
        given(line, "air speed u", stage->air_speed.si, "m/s", stage->air_speed.row, "");
    given(line, "temperature T", temperature, "K", stage->temperature.row, "assumed");
    for (i = 0; i < 3; i++)
        if (!dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, wanted[i], temperature,
                                 &value, NULL))
            explain_property(line, fluid, wanted[i], value);
    printf("    evaporation = %s area (1 - covered) / rho = %s L/h  [%s]\n",
           stage->air_speed.si > 0 ? "2.1126e-6 u^0.78 M^(2/3) P / T kg/(m2 s)"
                                   : "1464 P M ug/(m2 h)",
           fig(&n, tank->evaporation * 3.6e6),
           stage->air_speed.si > 0 ? "US EPA pool equation, P in Pa, M in g/mol"
                                   : "Mackay and van Wesenbeeck 2014, still air, P in Pa, M in "
                                     "g/mol");
}

void explain_tank(const dregs_line *line, unsigned index)
{
    const dregs_tank *t = dregs_line_tank(line, index);
    const dregs_stage *stage = dregs_line_stage(line, t->stage);
    struct numbers n = {0};
    const double lph = 3.6e6;

    printf("  %s, volume %s L", stage->name, fig(&n, t->volume * 1e3));
    source(line, stage->volume.row, "");
    printf("\n");
    given(line, "flow", t->flow * lph, "L/h", stage->flow.row, "default 0");
    explain_evaporation(line, stage, t);
    printf("    films: sum of (D_in - D_out) / T = %s L/h; overflow in %s, spray runoff in %s, "
           "drawn by other tanks %s L/h\n",
           fig(&n, t->film_gain * lph), fig(&n, t->overflow_in * lph), fig(&n, t->runoff * lph),
           fig(&n, t->drawn * lph));
    if (t->top_up > 0)
        printf("    in - out = %s L/h < 0: topped up from %s\n", fig(&n, -t->top_up * lph),
               link_name(line, stage->top_up_from));
    else
        printf("    in - out = %s L/h: overflows to %s\n", fig(&n, t->overflow * lph),
               link_name(line, stage->overflow_to));
}
