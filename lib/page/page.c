/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* page.c: numbers, sources and parts of a working that more than one page shows. */
#include "line/line.h"
#include "page/inside.h"

#include <math.h>
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

/* ---- amounts, in the units that the report is shown in ---- */

#define LB_PER_SHORT_TON 2000.0 /* exact; NIST SP 811 (2008), B.8 */

/* A mass that people say in short tons. */
static int in_tons(const dregs_report *report, double value, const char *unit)
{
    return strcmp(dregs_report_unit(report, unit), "lb") == 0 && strcmp(unit, "lb") != 0 &&
           fabs(dregs_report_value(report, value, unit)) >= LB_PER_SHORT_TON;
}

const char *dregs_page_unit(const dregs_report *report, double value, const char *unit)
{
    return in_tons(report, value, unit) ? "short tons" : dregs_report_unit(report, unit);
}

double dregs_page_per(const dregs_report *report, double value, const char *unit)
{
    double one = dregs_report_value(report, 1, unit);

    return in_tons(report, value, unit) ? one / LB_PER_SHORT_TON : one;
}

const char *dregs_page_amount_to(const dregs_report *report, struct numbers *numbers, double value,
                                 const char *unit, int digits)
{
    char *into = numbers->text[numbers->next++ % 8], number[DREGS_NUMBER_TEXT];
    double shown = dregs_report_value(report, value, unit);

    if (in_tons(report, value, unit))
        shown /= LB_PER_SHORT_TON;
    (void)snprintf(into, NUMBER_WORDS, "%s %.32s",
                   isnan(value) ? "unknown" : dregs_number_plain(number, shown, digits),
                   dregs_page_unit(report, value, unit));
    return into;
}

const char *dregs_page_amount(const dregs_report *report, struct numbers *numbers, double value,
                              const char *unit)
{
    return dregs_page_amount_to(report, numbers, value, unit, 4);
}

const char *dregs_page_beside(const dregs_report *report, struct numbers *numbers, double value,
                              const char *unit)
{
    char *into = numbers->text[numbers->next++ % 8];
    struct numbers other = {0};

    *into = '\0';
    if (!isnan(value) && strcmp(dregs_report_unit(report, unit), unit) != 0)
        (void)snprintf(into, NUMBER_WORDS, " (%.80s)",
                       dregs_page_amount(report, &other, value, unit));
    return into;
}

const char *dregs_page_limit(const dregs_report *report, struct numbers *numbers, double value,
                             const char *unit)
{
    char *into = numbers->text[numbers->next++ % 8], number[DREGS_NUMBER_TEXT];
    struct numbers other = {0};

    (void)snprintf(into, NUMBER_WORDS, "%s %.20s%s",
                   isnan(value) ? "unknown" : dregs_number_plain(number, value, 4), unit,
                   dregs_page_beside(report, &other, value, unit));
    return into;
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

/* Free convection: what its law was worked out from. */
static void explain_convection(dregs_report *report, const dregs_open_surface *surface,
                               const dregs_evaporation *e)
{
    struct numbers n = {0};

    if (e->condenses || !(e->diffusivity > 0))
        return;
    dregs_report_line(
        report, 4,
        "surface at %s K%s; its vapour %s Pa, that of the room's air %s Pa; the air on "
        "it is %s by %s of %s kg/m3",
        dregs_page_six(&n, e->surface),
        e->cooled ? ", where the heat that the liquid brings up is lost" : "",
        dregs_page_six(&n, e->surface_pressure), dregs_page_six(&n, e->far),
        e->lighter > 0 ? "lighter" : "heavier",
        dregs_page_six(&n, e->lighter > 0 ? e->lighter : -e->lighter),
        dregs_page_six(&n, e->density));
    dregs_report_line(report, 4, "L = area / perimeter = %s m, D = %s m2/s, Ra = Gr Sc = %s",
                      dregs_page_six(&n, surface->length), dregs_page_six(&n, e->diffusivity),
                      dregs_page_six(&n, e->rayleigh));
    if (e->transfer > 0)
        dregs_report_line(report, 4, "Sh = %s = %s, k = Sh D / L = %s m/s",
                          e->lighter <= 0      ? "0.27 Ra^(1/4)"
                          : e->rayleigh <= 1e7 ? "0.54 Ra^(1/4)"
                                               : "0.15 Ra^(1/3)",
                          dregs_page_six(&n, e->sherwood), dregs_page_six(&n, e->transfer));
}

/* Every law with its result, or why it has none, and the one that counts. */
static void explain_laws(dregs_report *report, const dregs_evaporation *e)
{
    struct numbers n = {0};
    int law;

    for (law = 0; law < DREGS_EVAPORATION_LAWS; law++) {
        const dregs_evaporation_candidate *one = &e->law[law];
        const char *words = dregs_evaporation_words((dregs_evaporation_law)law);
        if (one->applies)
            dregs_report_line(report, 4, "%s kg/(m2 h)%s  [%s]",
                              dregs_page_six(&n, one->flux * 3600),
                              (int)e->counts == law ? ", which counts" : "", words);
        else
            dregs_report_line(report, 4, "none, %s  [%s]", one->why, words);
    }
}

static void explain_air(dregs_report *report, const dregs_line *line, const dregs_stage *stage,
                        const dregs_open_surface *surface)
{
    const dregs_room *room = dregs_line_room(line);

    dregs_page_given(report, line, "open area", stage->open_area.si, "m2", stage->open_area.row,
                     "");
    dregs_page_given(report, line, "covered", stage->covered.si, "of the time", stage->covered.row,
                     "default 0");
    dregs_page_given(report, line, "air speed u", surface->air_speed, "m/s", stage->air_speed.row,
                     "assumed");
    if (stage->freeboard.row)
        dregs_page_given(report, line, "freeboard", stage->freeboard.si, "m", stage->freeboard.row,
                         "");
    dregs_page_given(report, line, "temperature T", surface->temperature, "K",
                     stage->temperature.row, "assumed");
    dregs_page_given(report, line, "room's air", surface->room, "K", room->temperature.row,
                     "assumed");
    dregs_page_given(report, line, "its humidity", surface->humidity, "of saturation",
                     room->humidity.row, "assumed");
}

static void explain_evaporation(dregs_report *report, const dregs_line *line,
                                const dregs_stage *stage, const dregs_tank *tank)
{
    static const dregs_property wanted[3] = {DREGS_VAPOUR_PRESSURE, DREGS_MOLAR_MASS,
                                             DREGS_DENSITY};
    const dregs_fluid *fluid = dregs_line_wet_with(line, tank->stage);
    dregs_open_surface surface;
    dregs_evaporation e;
    struct numbers n = {0};
    double value;
    int i;

    if (dregs_line_open_surface(line, (unsigned)stage->tank, 0, &surface, &e, NULL)) {
        dregs_page_given(report, line, "evaporation", tank->evaporation * 3.6e6, "L/h",
                         stage->evaporation.row, "default 0");
        return;
    }
    explain_air(report, line, stage, &surface);
    for (i = 0; i < 3; i++)
        if (!dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, wanted[i],
                                 surface.temperature, &value, NULL))
            dregs_page_property(report, line, fluid, wanted[i], value);
    explain_convection(report, &surface, &e);
    explain_laws(report, &e);
    dregs_report_line(report, 4, "evaporation = %s kg/(m2 h) area (1 - covered) / rho = %s L/h",
                      dregs_page_six(&n, e.flux * 3600),
                      dregs_page_six(&n, tank->evaporation * 3.6e6));
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
    dregs_page_warming(report, line, t->stage);
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

void dregs_page_marked(dregs_report *report, const dregs_line *line)
{
    unsigned marked, numbers = dregs_line_numbers(line, &marked);
    char text[160];

    if (!marked)
        return;
    snprintf(
        text, sizeof text,
        "%u of the %u numbers in the file, by their notes (dregs-check names them): the answer "
        "is as good as they are",
        marked, numbers);
    dregs_report_assumed(report, text);
}

void dregs_page_caution(dregs_report *report, const dregs_caution *caution, const char *place)
{
    const dregs_caution_rule *rule = caution->rule;

    dregs_report_caution(report, rule->id, caution->text, caution->source, rule->condition,
                         rule->threshold, rule->unit);
    dregs_report_caution_severity(report, dregs_severity_name(rule->severity));
    if (place)
        dregs_report_caution_place(report, place);
    if (rule->pressing)
        dregs_report_caution_pressing(report);
}

void dregs_page_cautions(dregs_report *report, const dregs_caution *cautions, unsigned count)
{
    unsigned i;

    for (i = 0; i < count; i++)
        dregs_page_caution(report, &cautions[i], NULL);
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

void dregs_page_word_column(dregs_table *table, const char *key)
{
    dregs_table_column(table, DREGS_COLUMN_WORD, key, NULL, "", 0);
}

void dregs_page_number_column(dregs_table *table, const char *key, const char *unit)
{
    dregs_table_column(table, DREGS_COLUMN_NUMBER, key, NULL, unit, 0);
}

void dregs_page_count_column(dregs_table *table, const char *key)
{
    dregs_table_column(table, DREGS_COLUMN_COUNT, key, NULL, "", 0);
}

void dregs_page_flag_column(dregs_table *table, const char *key)
{
    dregs_table_column(table, DREGS_COLUMN_FLAG, key, NULL, "", 0);
}
