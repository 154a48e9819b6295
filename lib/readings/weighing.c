/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* weighing.c: a sample dried in a dish and weighed: gross less tare, less what an empty dish gained
 * beside it, by the sample.
 *
 * What a balance cannot tell finer than its last digit is the least that the result scatters: each
 * weighing has the rounding error of that digit. Left out: the volume of the sample, the buoyancy
 * of air, water that a dish takes up; a blank has the last of these.
 */
#include "base/text.h"
#include "dregs/number.h"
#include "line/line.h"
#include "readings/readings.h"

#include <math.h>
#include <string.h>

/* How many digits of the balance a dish may lose against its tare by chance. Our own choice. */
#define LOST_MOST 5.0

int dregs_readings_is_weighing(const dregs_sheet_row *row)
{
    return *dregs_sheet_cell(row, TARE) || *dregs_sheet_cell(row, GROSS) ||
           *dregs_sheet_cell(row, BLANK) || *dregs_sheet_cell(row, SAMPLE);
}

/* A mass with its unit behind it; 0 kg where the cell is empty and may be. */
static int take_mass(dregs_readings *r, const dregs_sheet_row *row, int column, const char *name,
                     int needed, double *mass)
{
    const char *word = dregs_sheet_cell(row, column);
    char message[DREGS_UNIT_MESSAGE] = "", quoted[DREGS_QUOTED];

    *mass = 0;
    if (!*word && !needed)
        return 1;
    if (!*word) {
        SAY(r, row->line, "%s: nothing; a weighing has tare, gross and sample", name);
        return 0;
    }
    if (dregs_unit_quantity(word, "g", mass, message)) {
        SAY(r, row->line, "%s: %s: %s; it has its unit behind it, such as 24.3151 g", name,
            dregs_quote(quoted, word), message);
        return 0;
    }
    if (column == BLANK || (*mass >= 0 && (column != GROSS || *mass > 0)))
        return 1;
    SAY(r, row->line, "%s: %s is no mass of a dish", name, dregs_quote(quoted, word));
    return 0;
}

/* m3 of liquid: as written, or a mass of it. */
static int take_sample(dregs_readings *r, const dregs_sheet_row *row, double *volume)
{
    const char *word = dregs_sheet_cell(row, SAMPLE);
    char message[DREGS_LIQUID_MESSAGE] = "", quoted[DREGS_QUOTED];
    double mass, density;

    if (dregs_unit_quantity(word, "mL", volume, message)) {
        if (dregs_unit_quantity(word, "g", &mass, NULL)) {
            if (*word)
                SAY(r, row->line, "sample: %s: %.200s; it is a volume or a mass, such as 100 mL",
                    dregs_quote(quoted, word), message);
            else
                SAY(r, row->line, "sample missing: it is a volume or a mass, such as 100 mL");
            return 0;
        }
        if (dregs_readings_density(r, &density, message)) {
            SAY(r, row->line, "sample: %s: %.120s; tell its volume", dregs_quote(quoted, word),
                message);
            return 0;
        }
        *volume = mass / density;
    }
    if (*volume > 0 && !dregs_is_beyond(*volume))
        return 1;
    SAY(r, row->line, "sample: %s is no amount of liquid", dregs_quote(quoted, word));
    return 0;
}

int dregs_readings_weigh(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *unit = dregs_sheet_cell(row, UNIT);
    double tare, gross, blank, digit, sample, net;
    int weighings = *dregs_sheet_cell(row, BLANK) ? 4 : 2; /* a blank is two more */

    if (reading->what != DREGS_MEASURED_RESIDUE || *dregs_sheet_cell(row, VALUE)) {
        SAY(r, row->line,
            "tare, gross, blank and sample are the weighings of a 'non-volatile "
            "residue', in place of its value");
        return 0;
    }
    if (!take_mass(r, row, TARE, "tare", 1, &tare) ||
        !take_mass(r, row, GROSS, "gross", 1, &gross) ||
        !take_mass(r, row, BLANK, "blank", 0, &blank) ||
        !take_mass(r, row, RESOLUTION, "resolution", 0, &digit) || !take_sample(r, row, &sample) ||
        !dregs_readings_find_unit(r, row, *unit ? unit : "mg/L"))
        return 0;
    net = gross - tare - blank;
    if (net < 0 && !(-net <= LOST_MOST * digit)) {
        char lost[DREGS_NUMBER_TEXT];
        SAY(r, row->line, "gross: the dish with its residue is %s mg lighter than its tare%s",
            dregs_number_plain(lost, -net * 1e6, 3), blank > 0 ? " and blank" : "");
        return 0;
    }
    if (net > digit && digit > 0)
        dregs_readings_note_digits(r, 1 + (int)floor(log10(net / digit)));
    reading->unit = r->last_unit;
    reading->weighed = 1;
    reading->value = net / sample;
    reading->least = digit * DREGS_READINGS_ROUNDING * sqrt(weighings) / sample;
    return 1;
}
