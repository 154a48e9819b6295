/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.c: numbers, sources and parts of a working that more than one page shows. */
#include "page/page.h"
#include "line/line.h"

#include <stdio.h>
#include <string.h>

enum { SOURCE = 1200 }; /* bytes; a longer note is cut */

const char *dregs_page_number(struct numbers *numbers, double value)
{
    return dregs_number_plain(numbers->text[numbers->next++ % 8], value, 4);
}

const char *dregs_page_six(struct numbers *numbers, double value)
{
    return dregs_number_plain(numbers->text[numbers->next++ % 8], value, 6);
}

int dregs_page_columns(const char *text)
{
    int count = 0;

    for (; *text; text++)
        count += ((unsigned char)*text & 0xC0) != 0x80;
    return count;
}

const char *dregs_page_solute(const dregs_line *line, int solute)
{
    return solute < 0 ? "total" : dregs_line_solute(line, (unsigned)solute)->name;
}

/* ---- a working ---- */

static const char *source_of(const dregs_line *line, unsigned row, const char *otherwise,
                             char into[SOURCE])
{
    const dregs_row *cells = dregs_line_row(line, row);

    if (!cells)
        return otherwise;
    snprintf(into, SOURCE, "%s:%lu %s %s%s%s%s%s", dregs_line_name(line), cells->line,
             cells->property, cells->value, *cells->unit ? " " : "", cells->unit,
             *cells->note ? "; " : "", cells->note);
    return into;
}

void dregs_page_source(dregs_report *report, const dregs_line *line, unsigned row,
                       const char *otherwise)
{
    char text[SOURCE];

    dregs_report_words(report, "  [%s]", source_of(line, row, otherwise, text));
}

void dregs_page_given(dregs_report *report, const dregs_line *line, const char *name, double value,
                      const char *unit, unsigned row, const char *otherwise)
{
    dregs_quantity quantity = dregs_quantity_of(value, unit);
    char text[SOURCE];

    quantity.from = source_of(line, row, otherwise, text);
    dregs_report_step(report, name, quantity);
}

void dregs_page_property(dregs_report *report, const dregs_line *line, const dregs_fluid *fluid,
                         dregs_property property, double value)
{
    const dregs_liquid_row *row =
        dregs_liquids_row(dregs_line_liquids(line), fluid->solvent, property);
    struct numbers n = {0};
    int i, last = DREGS_COEFFICIENTS;

    dregs_report_words(report, "%s of %s = %s %s", dregs_property_name(property), fluid->solvent,
                       dregs_page_six(&n, value), dregs_property_unit(property));
    if (!row) {
        dregs_report_end(report, 4, -1);
        return;
    }
    if (strcmp(row->equation, "A") != 0) {
        dregs_report_words(report, "  by %s,", row->equation);
        while (last > 1 && row->coefficient[last - 1] == 0.0)
            last--;
        for (i = 0; i < last; i++)
            dregs_report_words(report, " %c=%s", 'A' + i,
                               dregs_number_plain(n.text[0], row->coefficient[i], 12));
        dregs_report_words(report, " in %s", row->unit);
    }
    dregs_report_words(report, "  [%s, %s%s%s:%lu]", row->source, row->evidence,
                       row->file ? ", " : ", built-in data ", row->file ? row->file : "liquids.csv",
                       row->line);
    dregs_report_end(report, 4, -1);
}

const char *dregs_page_link(const dregs_line *line, dregs_link link)
{
    if (link.kind == DREGS_LINK_STAGE)
        return dregs_line_stage(line, link.index)->name;
    return link.kind == DREGS_LINK_LIQUID ? dregs_line_fluid(line, link.index)->name : "drain";
}

static void explain_evaporation(dregs_report *report, const dregs_line *line,
                                const dregs_stage *stage, const dregs_tank *tank)
{
    static const dregs_property wanted[3] = {DREGS_VAPOUR_PRESSURE, DREGS_MOLAR_MASS,
                                             DREGS_DENSITY};
    const dregs_fluid *fluid = dregs_line_wet_with(line, tank->stage);
    double temperature = dregs_line_temperature(line, tank->stage), value;
    struct numbers n = {0};
    int i;

    if (!stage->open_area.row) {
        dregs_page_given(report, line, "evaporation", tank->evaporation * 3.6e6, "L/h",
                         stage->evaporation.row, "default 0");
        return;
    }
    dregs_page_given(report, line, "open area", stage->open_area.si, "m2", stage->open_area.row,
                     "");
    dregs_page_given(report, line, "covered", stage->covered.si, "of the time", stage->covered.row,
                     "default 0");
    if (stage->air_speed.si > 0)
        dregs_page_given(report, line, "air speed u", stage->air_speed.si, "m/s",
                         stage->air_speed.row, "");
    dregs_page_given(report, line, "temperature T", temperature, "K", stage->temperature.row,
                     "assumed");
    for (i = 0; i < 3; i++)
        if (!dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, wanted[i], temperature,
                                 &value, NULL))
            dregs_page_property(report, line, fluid, wanted[i], value);
    dregs_report_line(
        report, 4, "evaporation = %s area (1 - covered) / rho = %s L/h  [%s]",
        stage->air_speed.si > 0 ? "2.1126e-6 u^0.78 M^(2/3) P / T kg/(m2 s)" : "1464 P M ug/(m2 h)",
        dregs_page_six(&n, tank->evaporation * 3.6e6),
        stage->air_speed.si > 0 ? "US EPA pool equation, P in Pa, M in g/mol"
                                : "Mackay and van Wesenbeeck 2014, still air, P in Pa, M in "
                                  "g/mol");
}

void dregs_page_tank(dregs_report *report, const dregs_line *line, unsigned index)
{
    const dregs_tank *t = dregs_line_tank(line, index);
    const dregs_stage *stage = dregs_line_stage(line, t->stage);
    struct numbers n = {0};
    const double lph = 3.6e6;

    dregs_report_words(report, "%s, volume %s L", stage->name, dregs_page_six(&n, t->volume * 1e3));
    dregs_page_source(report, line, stage->volume.row, "");
    dregs_report_end(report, 2, -1);
    dregs_page_given(report, line, "flow", t->flow * lph, "L/h", stage->flow.row, "default 0");
    explain_evaporation(report, line, stage, t);
    dregs_report_line(
        report, 4,
        "films: sum of (D_in - D_out) / T = %s L/h; overflow in %s, spray runoff in %s, "
        "drawn by other tanks %s L/h",
        dregs_page_six(&n, t->film_gain * lph), dregs_page_six(&n, t->overflow_in * lph),
        dregs_page_six(&n, t->runoff * lph), dregs_page_six(&n, t->drawn * lph));
    if (t->top_up > 0)
        dregs_report_line(report, 4, "in - out = %s L/h < 0: topped up from %s",
                          dregs_page_six(&n, -t->top_up * lph),
                          dregs_page_link(line, stage->top_up_from));
    else
        dregs_report_line(report, 4, "in - out = %s L/h: overflows to %s",
                          dregs_page_six(&n, t->overflow * lph),
                          dregs_page_link(line, stage->overflow_to));
}

/* ---- what stands below every answer ---- */

void dregs_page_notes(dregs_report *report, const dregs_line *line, unsigned questions)
{
    unsigned i;

    for (i = 0; dregs_line_assumed(line, i); i++)
        dregs_report_assumed(report, dregs_line_assumed(line, i));
    for (i = 0; dregs_line_unused(line, questions, i); i++)
        dregs_report_not_used(report, dregs_line_unused(line, questions, i));
}

void dregs_page_cautions(dregs_report *report, const dregs_line *line)
{
    dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned count = dregs_cautions(line, cautions), i;

    for (i = 0; i < count; i++) {
        const dregs_caution_rule *rule = cautions[i].rule;
        dregs_report_caution(report, rule->id, cautions[i].text, rule->source, rule->condition,
                             rule->threshold, rule->unit);
    }
    dregs_report_decided_by(report, dregs_caution_deference());
}

dregs_status dregs_page_end(dregs_report *made, dregs_report **report)
{
    dregs_status status = made ? dregs_report_status(made) : DREGS_NO_MEMORY;

    if (status)
        dregs_report_free(made);
    else
        *report = made;
    return status;
}
