/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* units.c: the units in which a report shows what it is given. */
#include "report/inside.h"

#include <string.h>

/* What is shown in another unit. The factors are those of the table of units (NIST SP 811, 2008:
 * 0.45359237 kg/lb, 231 in3/gal, 12 in/ft of 25.4 mm, exact); where a name is none of that table,
 * the units that it is read by stand behind it. Concentrations, money, energy, pressure and what
 * adheres to a surface (ug/cm2) stay: practice in the United States has them as they are. */
static const struct pair {
    const char *si, *us, *si_read, *us_read;
} pairs[] = {
    {"L", "gal", NULL, NULL},
    {"m3", "gal", NULL, NULL},
    {"mL", "fl oz", NULL, NULL},
    {"L/h", "gal/h", NULL, NULL},
    {"mL/h", "fl oz/h", NULL, NULL},
    {"kg", "lb", NULL, NULL},
    {"g", "lb", NULL, NULL},
    {"g/h", "lb/h", NULL, NULL},
    {"kg/m3", "lb/gal", NULL, NULL},
    {"kg/m2", "lb/ft2", NULL, NULL},
    {"m2", "ft2", NULL, NULL},
    {"cm2", "in2", NULL, NULL},
    {"degC", "degF", NULL, NULL},
    {"kg a month", "lb a month", "kg", "lb"},
    {"kg/(m2 month)", "lb/(ft2 month)", "kg/m2", "lb/ft2"},
};

static const struct pair *pair_of(const dregs_report *report, const char *unit)
{
    size_t i;

    for (i = 0; unit && report->units == DREGS_UNITS_US && i < sizeof pairs / sizeof pairs[0]; i++)
        if (strcmp(pairs[i].si, unit) == 0)
            return &pairs[i];
    return NULL;
}

struct conversion dregs_report_conversion(const dregs_report *report, const char *unit)
{
    const struct pair *pair = pair_of(report, unit);
    struct conversion c = {0};

    c.any = pair && !dregs_unit_read(pair->si_read ? pair->si_read : pair->si, &c.from, NULL) &&
            !dregs_unit_read(pair->us_read ? pair->us_read : pair->us, &c.to, NULL);
    return c;
}

double dregs_report_converted(const struct conversion *c, double value)
{
    return c->any ? dregs_unit_from_si(c->to, dregs_unit_to_si(c->from, value)) : value;
}

void dregs_report_units(dregs_report *report, dregs_units units)
{
    int begun = report->blocks.count || report->figures.count || report->tables.count ||
                report->pictures.count || report->words_used;

    if (begun || (units != DREGS_UNITS_SI && units != DREGS_UNITS_US)) {
        dregs_report_fail(report, DREGS_DOMAIN);
        return;
    }
    report->units = units;
}

dregs_units dregs_report_units_shown(const dregs_report *report)
{
    return report->units;
}

const char *dregs_report_unit(const dregs_report *report, const char *unit)
{
    const struct pair *pair = pair_of(report, unit);

    return pair ? pair->us : unit;
}

double dregs_report_value(const dregs_report *report, double value, const char *unit)
{
    struct conversion c = dregs_report_conversion(report, unit);

    return dregs_report_converted(&c, value);
}
