/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* cells.c: what the cells of a row say.
 *
 * Rows of a log are alike: the words for stage, quantity and unit of one row are mostly those of
 * the row before, and are looked up only when they change.
 */
#include "base/text.h"
#include "dregs/number.h"
#include "line/line.h"
#include "readings/readings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { NAMES_MOST = 160 };

static int is_stage(const dregs_stage *stage, const char *word)
{
    return stage && stage->tank >= 0 && strcmp(stage->name, word) == 0;
}

int dregs_readings_find_stage(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    const char *names[DREGS_LINE_STAGES];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    unsigned i, count = 0;

    if (is_stage(dregs_line_stage(r->line, r->stage), word))
        return 1;
    for (i = 0; i < dregs_line_stages(r->line); i++) {
        const dregs_stage *stage = dregs_line_stage(r->line, i);
        if (is_stage(stage, word)) {
            r->stage = i;
            return 1;
        }
        if (stage->tank >= 0)
            names[count++] = stage->name;
    }
    SAY(r, row->line, "stage: %s is not a wash or rinse of %.60s%s",
        *word ? dregs_quote(quoted, word) : "nothing", dregs_line_name(r->line),
        dregs_nearest_words(near, word, names, count));
    return 0;
}

/* "concentration oil": the solute, or -1 */
static int solute_named(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 0; i < dregs_line_solutes(line); i++)
        if (strcmp(dregs_line_solute(line, i)->name, name) == 0)
            return (int)i;
    return -1;
}

/* "residue", "residue oil" */
static int is_on_parts(const dregs_line *line, const char *word, struct known *known)
{
    static const char head[] = "residue";
    int solute = -1;

    if (strncmp(word, head, sizeof head - 1) != 0)
        return 0;
    word += sizeof head - 1;
    if (*word && (*word++ != ' ' || (solute = solute_named(line, word)) < 0))
        return 0;
    known->what = DREGS_MEASURED_ON_PARTS;
    known->index = solute < 0 ? DREGS_LINE_SOLUTES : (unsigned)solute;
    return 1;
}

static int is_quantity(const dregs_line *line, const char *word, struct known *known)
{
    static const char head[] = "concentration ";
    unsigned i;
    int solute;

    known->index = 0;
    if (strcmp(word, "dump") == 0) {
        known->what = DREGS_MEASURED_DUMP;
    } else if (strcmp(word, "conductivity") == 0) {
        known->what = DREGS_MEASURED_CONDUCTIVITY;
    } else if (strcmp(word, "non-volatile residue") == 0) {
        known->what = DREGS_MEASURED_RESIDUE;
    } else if (strncmp(word, head, sizeof head - 1) == 0 &&
               (solute = solute_named(line, word + sizeof head - 1)) >= 0) {
        known->what = DREGS_MEASURED_CONCENTRATION;
        known->index = (unsigned)solute;
    } else {
        for (i = 0; i < dregs_line_scales(line); i++)
            if (strcmp(dregs_line_scale(line, i)->name, word) == 0)
                break;
        if (i == dregs_line_scales(line))
            return is_on_parts(line, word, known);
        known->what = DREGS_MEASURED_SCALE;
        known->index = i;
    }
    return 1;
}

/* A meter whose curve is the user's own. */
static int needs_curve(const char *word)
{
    static const char *const meters[] = {"absorbance", "UV",   "refractive index",
                                         "turbidity",  "TDS",  "colour",
                                         "color",      "Brix", "titration"};
    size_t i;

    for (i = 0; i < sizeof meters / sizeof meters[0]; i++)
        if (strcasecmp(word, meters[i]) == 0)
            return 1;
    return 0;
}

int dregs_readings_find_quantity(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], with_solute[DREGS_LINE_SOLUTES][WORD];
    const char *names[NAMES_MOST];
    unsigned i, count = 0;

    if (*word && strcmp(r->quantity.word, word) == 0)
        return 1;
    r->quantity.word[0] = '\0';
    if (strlen(word) < WORD && is_quantity(r->line, word, &r->quantity)) {
        snprintf(r->quantity.word, WORD, "%s", word);
        return 1;
    }
    names[count++] = "dump";
    names[count++] = "conductivity";
    names[count++] = "non-volatile residue";
    names[count++] = "residue";
    for (i = 0; i < dregs_line_solutes(r->line); i++) {
        snprintf(with_solute[i], WORD, "concentration %s", dregs_line_solute(r->line, i)->name);
        names[count++] = with_solute[i];
    }
    for (i = 0; i < dregs_line_scales(r->line) && count < NAMES_MOST; i++)
        names[count++] = dregs_line_scale(r->line, i)->name;
    if (needs_curve(word))
        SAY(r, row->line, "quantity: %s is read by a calibration, and %.60s has none of that name",
            dregs_quote(quoted, word), dregs_line_name(r->line));
    else
        SAY(r, row->line,
            "quantity: %s is not conductivity, 'non-volatile residue', 'concentration "
            "<solute>', residue (on parts), a calibration of the line file, or dump%s",
            *word ? dregs_quote(quoted, word) : "nothing",
            dregs_nearest_words(near, word, names, count));
    return 0;
}

static const char *like(dregs_measured what)
{
    return what == DREGS_MEASURED_CONDUCTIVITY ? "uS/cm"
           : what == DREGS_MEASURED_ON_PARTS   ? "ug/cm2"
                                               : "mg/L";
}

/* "mg/part", "mg per part", or a mass alone: over the area of a part. */
static int read_per_part(const dregs_readings *r, const char *word, dregs_unit *unit)
{
    static const char *const ends[] = {"/part", " per part"};
    char mass[WORD];
    size_t length = strlen(word), i;

    if (r->quantity.what != DREGS_MEASURED_ON_PARTS || length >= WORD)
        return 0;
    memcpy(mass, word, length + 1);
    for (i = 0; i < 2; i++)
        if (length > strlen(ends[i]) && strcmp(word + length - strlen(ends[i]), ends[i]) == 0)
            mass[length - strlen(ends[i])] = '\0';
    if (dregs_line_kinds(r->line) > 1 || dregs_unit_read_like(mass, "mg", unit, NULL))
        return 0; /* a part of which kind? */
    unit->scale /= dregs_line_load(r->line)->area.si;
    return 1;
}

dregs_status dregs_readings_density(const dregs_readings *r, double *density, char *message)
{
    const dregs_fluid *fluid = dregs_line_wet_with(r->line, r->stage);

    if (fluid->solvent_share.si < 1) {
        snprintf(message, DREGS_LIQUID_MESSAGE, "the density of %.60s, a mixture, is not known",
                 fluid->name);
        return DREGS_UNKNOWN;
    }
    return dregs_liquids_value(dregs_line_liquids(r->line), fluid->solvent, DREGS_DENSITY,
                               dregs_line_temperature(r->line, r->stage), density, message);
}

/* A share by mass, ppm or mg/kg, as mass per volume of the liquid. */
static int read_by_mass(dregs_readings *r, const dregs_sheet_row *row, const char *word,
                        struct unit *unit)
{
    char message[DREGS_LIQUID_MESSAGE] = "", quoted[DREGS_QUOTED];

    if (r->quantity.what == DREGS_MEASURED_CONDUCTIVITY) {
        dregs_readings_say_once(r, PEN, row->line,
                                "unit %s of a conductivity: what a pen shows as dissolved solids "
                                "is a calibration of the line file",
                                dregs_quote(quoted, word));
        return 0;
    }
    if (dregs_readings_density(r, &unit->density, message)) {
        SAY(r, row->line, "unit %s, by mass: %.120s; allowed is for example 'mg/L'",
            dregs_quote(quoted, word), message);
        return 0;
    }
    unit->unit.scale *= unit->density;
    unit->stage = (int)r->stage;
    return 1;
}

/* As many as its largest reading has before the span of the curve begins; 6 at most. */
static int more_digits(const dregs_calibration *curve)
{
    double first = curve->point[0].reading, last = curve->point[curve->count - 1].reading;
    double most = fmax(fabs(first), fabs(last)) / fabs(last - first);

    return (int)fmin(fmax(floor(log10(most)), 0.0), 6.0);
}

static int read_unit(dregs_readings *r, const dregs_sheet_row *row, const char *word,
                     struct unit *unit)
{
    char message[DREGS_UNIT_MESSAGE] = "", quoted[DREGS_QUOTED];
    const dregs_scale *scale = dregs_line_scale(r->line, r->quantity.index);

    unit->unit = (dregs_unit){1.0, 0.0, {{0}}};
    unit->density = 0;
    unit->written = 0;
    unit->stage = -1;
    unit->digits = DREGS_READINGS_DIGITS;
    if (r->quantity.what == DREGS_MEASURED_SCALE) {
        unit->digits += more_digits(&scale->curve);
        if (strcmp(word, scale->unit) == 0)
            return 1;
        SAY(r, row->line, "unit %s: the calibration '%.60s' is in '%.40s'",
            *word ? dregs_quote(quoted, word) : "missing", scale->name, scale->unit);
        return 0;
    }
    if (read_per_part(r, word, &unit->unit))
        return 1;
    /* a bare number or a percentage may be by volume */
    if (r->quantity.what != DREGS_MEASURED_ON_PARTS && *word && strcmp(word, "1") &&
        !strchr(word, '%') && !dregs_unit_read_like(word, "1", &unit->unit, NULL))
        return read_by_mass(r, row, word, unit);
    if (!dregs_unit_read_like(word, like(r->quantity.what), &unit->unit, message))
        return 1;
    if (*word)
        SAY(r, row->line, "unit %s: %s; allowed is for example '%s'", dregs_quote(quoted, word),
            message, like(r->quantity.what));
    else
        dregs_readings_say_once(r, NO_UNIT, row->line, "unit missing; allowed is for example '%s'",
                                like(r->quantity.what));
    return 0;
}

int dregs_readings_find_unit(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    struct unit *unit = &r->unit[r->last_unit];
    unsigned i;

    for (i = 0; i <= r->units; i++) { /* the last one found first, then all */
        if (i > 0)
            unit = &r->unit[i - 1];
        if (r->units && unit->what == r->quantity.what && unit->which == r->quantity.index &&
            (unit->stage < 0 || unit->stage == (int)r->stage) && strcmp(unit->text, word) == 0) {
            r->last_unit = (unsigned)(unit - r->unit);
            return 1;
        }
    }
    if (r->units == UNITS_MOST || strlen(word) >= WORD) {
        SAY(r, row->line, "more than %d units in one log", UNITS_MOST);
        return 0;
    }
    unit = &r->unit[r->units];
    if (!read_unit(r, row, word, unit))
        return 0;
    snprintf(unit->text, WORD, "%s", word);
    unit->what = r->quantity.what;
    unit->which = r->quantity.index;
    r->last_unit = r->units++;
    return 1;
}

int dregs_readings_take_time(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, TIME);
    char quoted[DREGS_QUOTED];
    int zoned;

    if (dregs_time_read(word, &reading->time, &zoned)) {
        if (strchr(word, '/'))
            dregs_readings_say_once(
                r, DATES_WITH_STROKES, row->line,
                "time: %s: with strokes the day or the month may come first; write "
                "2026-03-02T07:30 or 02.03.2026 07:30",
                dregs_quote(quoted, word));
        else
            SAY(r, row->line, "time: %s is not a time such as 2026-03-02T07:30",
                *word ? dregs_quote(quoted, word) : "nothing");
        return 0;
    }
    if (r->zoned >= 0 && r->zoned != zoned) {
        SAY(r, row->line, "time: %s %s, unlike the rows above; their order would be a guess",
            dregs_quote(quoted, word), zoned ? "states its zone" : "states no zone");
        return 0;
    }
    r->zoned = zoned;
    return 1;
}

int dregs_readings_take_loads(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const int column = row->place[LOAD] >= 0 ? LOAD : LOADS;
    const char *word = dregs_sheet_cell(row, column);
    char quoted[DREGS_QUOTED];
    double value;

    reading->loads = -1;
    if (!*word)
        return 1;
    if (*word == 'f' && strcmp(word, "fresh") == 0 && reading->what != DREGS_MEASURED_DUMP) {
        reading->loads = 0;
        reading->fresh = 1;
        return 1;
    }
    if (dregs_number_read(word, &value) || !(value >= 0) || !(value <= 1e12) ||
        value != floor(value)) {
        SAY(r, row->line, "%s: %s is not a whole number of loads, nor fresh",
            column == LOAD ? "load" : "loads", dregs_quote(quoted, word));
        return 0;
    }
    reading->loads = (int64_t)value;
    return 1;
}

static int read_spread(dregs_readings *r, const dregs_sheet_row *row, dregs_unit unit,
                       dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, SPREAD);
    char quoted[DREGS_QUOTED];

    reading->sd = 0;
    if (!*word || !dregs_spread_read(word, reading->value, unit, &reading->sd))
        return 1;
    SAY(r, row->line, "spread: %s is not a number >= 0 in the row's unit or a share such as 3%%",
        dregs_quote(quoted, word));
    return 0;
}

int dregs_readings_take_temperature(dregs_readings *r, const dregs_sheet_row *row,
                                    dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, TEMPERATURE);
    char message[DREGS_UNIT_MESSAGE] = "", quoted[DREGS_QUOTED];

    reading->temperature = NAN;
    if (!*word)
        return 1;
    if (dregs_unit_quantity(word, "degC", &reading->temperature, message)) {
        SAY(r, row->line, "temperature: %s: %s; it has its unit behind it, such as 23.5 degC",
            dregs_quote(quoted, word), message);
        return 0;
    }
    if (!(reading->temperature > 250) || !(reading->temperature < 400)) {
        SAY(r, row->line, "temperature: %s is not that of a bath", dregs_quote(quoted, word));
        return 0;
    }
    return 1;
}

/* Steps of a scale of the user's own, such as "of 5": they are counted. */
static int is_counted(const dregs_readings *r)
{
    return r->quantity.what == DREGS_MEASURED_SCALE &&
           strncmp(dregs_line_scale(r->line, r->quantity.index)->unit, "of ", 3) == 0;
}

/* The smallest step of the meter, in the row's unit: rounding to it is the least it scatters. */
static int read_resolution(dregs_readings *r, const dregs_sheet_row *row, dregs_unit unit,
                           dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, RESOLUTION);
    char quoted[DREGS_QUOTED];
    double step;

    if (!*word && is_counted(r))
        word = "1";
    if (!*word)
        return 1;
    if (dregs_number_read(word, &step) || !(step >= 0) || dregs_is_beyond(unit.scale * step)) {
        SAY(r, row->line, "resolution: %s is not a number >= 0 in the row's unit",
            dregs_quote(quoted, word));
        return 0;
    }
    reading->least = fabs(unit.scale) * step * DREGS_READINGS_ROUNDING;
    return 1;
}

int dregs_readings_take_recovery(dregs_readings *r, const dregs_sheet_row *row,
                                 dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, RECOVERY);
    char quoted[DREGS_QUOTED];
    int parts = reading->what == DREGS_MEASURED_ON_PARTS;

    if (parts && (reading->fresh || reading->loads == 0)) {
        SAY(r, row->line, "loads: a residue on parts is that of a load; which one, 1 or more");
        return 0;
    }
    if (!*word)
        return 1;
    if (parts && !dregs_unit_quantity(word, "1", &reading->recovery, NULL) &&
        reading->recovery > 0 && reading->recovery <= 2)
        return 1;
    SAY(r, row->line, "recovery: %s is no share of a residue on parts such as 85 %%",
        dregs_quote(quoted, word));
    return 0;
}

void dregs_readings_note_digits(dregs_readings *r, int digits)
{
    if (digits > r->unit[r->last_unit].written)
        r->unit[r->last_unit].written = digits;
}

/* Significant digits of a number as it is written: 3 of "0.0120". */
static int digits_written(const char *number)
{
    int count = 0;

    for (; *number && *number != 'e' && *number != 'E'; number++)
        if (*number >= '0' && *number <= '9' && (count || *number != '0'))
            count++;
    return count;
}

/* The number behind "<" or ">". */
static const char *past_bound(const char *word, int *beyond)
{
    *beyond = *word == '<' ? -1 : *word == '>' ? 1 : 0;
    if (*beyond)
        word++;
    while (*beyond && *word == ' ')
        word++;
    return word;
}

/* The value; 1 with NaN where the cell is empty. */
int dregs_readings_take_value(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, VALUE);
    char quoted[DREGS_QUOTED];
    double value;

    reading->value = NAN;
    if (dregs_readings_is_weighing(row))
        return dregs_readings_weigh(r, row, reading) &&
               read_spread(r, row, r->unit[r->last_unit].unit, reading);
    if (!*word)
        return 1;
    if (dregs_number_read(past_bound(word, &reading->beyond), &value)) {
        SAY(r, row->line,
            "value: %s is not a number; a number is written like 28.5 or 2.85e1, <5 or >2000%s",
            dregs_quote(quoted, word), dregs_comma_words(word));
        return 0;
    }
    if (!dregs_readings_find_unit(r, row, dregs_sheet_cell(row, UNIT)))
        return 0;
    dregs_readings_note_digits(r, digits_written(word));
    reading->unit = r->last_unit;
    reading->value = dregs_unit_to_si(r->unit[r->last_unit].unit, value);
    if (!(fabs(reading->value) < 1e15) ||
        (reading->what != DREGS_MEASURED_SCALE &&
         (reading->beyond < 0 ? !(reading->value > 0) : reading->value < 0))) {
        SAY(r, row->line, "value: %s %.20s is nothing a meter can show", dregs_quote(quoted, word),
            dregs_sheet_cell(row, UNIT));
        return 0;
    }
    return read_spread(r, row, r->unit[r->last_unit].unit, reading) &&
           read_resolution(r, row, r->unit[r->last_unit].unit, reading);
}
