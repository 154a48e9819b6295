/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* values.c: a quantity of a row: number, unit and spread, within the bounds of its property. */
#include "dregs/number.h"
#include "line/read.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The spread that a row gives to its value. */
static int read_spread(struct reader *r, unsigned row, dregs_value *into)
{
    struct place *place = &r->line->places[row];
    char quoted[DREGS_QUOTED];

    if (!dregs_spread_parse(r->line->rows[row].spread, &place->spread)) {
        into->sd = dregs_spread_of(place->spread, into->si, place->unit);
        return 1;
    }
    SAY(r, row,
        "spread %s is not a standard deviation: a number >= 0 in the row's unit, or a share "
        "of the value such as 10%%",
        dregs_quote(quoted, r->line->rows[row].spread));
    return 0;
}

/* What a value of this type may be, in words; NULL when it is. */
const char *dregs_line_out_of_bounds(enum value_type type, double si)
{
    if (isnan(si) || dregs_is_beyond(si))
        return "beyond anything a real line could hold";
    switch (type) {
    case VALUE_READING:
        return NULL;
    case VALUE_POSITIVE:
        return si > 0 ? NULL : "not allowed, it must be above 0";
    case VALUE_TEMPERATURE:
        return si > 0 ? NULL : "below absolute zero";
    case VALUE_SHARE:
        return si >= 0 && si <= 1 ? NULL : "not a share, it must be within 0 and 1 (0 and 100 %)";
    case VALUE_COUNT:
        return si >= 1 && si <= 1e9 && si == floor(si)
                   ? NULL
                   : "not allowed, it must be a whole number from 1 to 1000000000";
    default:
        return si >= 0 ? NULL : "not allowed, it must not be negative";
    }
}

/* A currency per volume: the word before the slash is the user's own and is only kept as text. */
static int read_money_unit(const char *text, dregs_unit *unit, char *message)
{
    const char *slash = strchr(text, '/');
    dregs_unit volume;

    if (!slash || slash == text || slash - text > 8) {
        snprintf(message, DREGS_UNIT_MESSAGE, "a price is a currency per volume, such as EUR/L");
        return 0;
    }
    if (dregs_unit_read_like(slash + 1, "L", &volume, message))
        return 0;
    unit->scale = 1.0 / volume.scale;
    unit->offset = 0.0;
    return 1;
}

/* A currency alone is only kept as text too. */
static int read_price_unit(const char *text, dregs_unit *unit, char *message)
{
    unit->scale = 1.0;
    unit->offset = 0.0;
    if (*text && strlen(text) <= 8 && !strpbrk(text, "/0123456789%"))
        return 1;
    snprintf(message, DREGS_UNIT_MESSAGE, "a price of one change is a currency, such as EUR");
    return 0;
}

/* A meter's own unit is only kept as text. */
static int read_own_unit(dregs_unit *unit)
{
    unit->scale = 1.0;
    unit->offset = 0.0;
    return 1;
}

int dregs_line_read_value_unit(const struct property *property, const char *text, dregs_unit *unit,
                               char *message)
{
    if (property->type == VALUE_MONEY)
        return read_money_unit(text, unit, message);
    if (property->type == VALUE_PRICE)
        return read_price_unit(text, unit, message);
    if (property->type == VALUE_READING)
        return read_own_unit(unit);
    if (dregs_unit_read_like(text, property->unit, unit, message))
        return 0;
    if (property->type == VALUE_TEMPERATURE && strncmp(text, "delta_", 6) == 0) {
        snprintf(message, DREGS_UNIT_MESSAGE, "a difference, not a temperature");
        return 0; /* 70 delta_degC would be 70 K */
    }
    return 1;
}

void dregs_line_read_quantity(struct reader *r, unsigned row, const struct property *property,
                              dregs_value *into)
{
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], message[DREGS_UNIT_MESSAGE] = "";
    const char *wrong;
    dregs_unit unit;
    dregs_value read = {0, 0, 0};
    double number;

    dregs_quote(name, cells->item);
    if (dregs_number_read(cells->value, &number)) {
        SAY(r, row, "%.60s of %s: %s is not a number; a number is written like 28.5 or 2.85e1%s",
            cells->property, name, *cells->value ? dregs_quote(quoted, cells->value) : "nothing",
            dregs_comma_words(cells->value));
        return;
    }
    if (!dregs_line_read_value_unit(property, cells->unit, &unit, message)) {
        SAY(r, row, "%.60s of %s: unit %s%s%s; allowed is for example '%s'", cells->property, name,
            *cells->unit ? dregs_quote(quoted, cells->unit) : "missing", *cells->unit ? ": " : "",
            *cells->unit ? message : "", property->unit);
        return;
    }
    r->line->places[row].unit = unit;
    read.si = dregs_unit_to_si(unit, number);
    wrong = dregs_line_out_of_bounds(property->type, read.si);
    if (wrong) {
        SAY(r, row, "%.60s of %s: %.40s %.20s is %s", cells->property, name, cells->value,
            cells->unit, wrong);
        return;
    }
    if (!read_spread(r, row, &read))
        return;
    read.row = row;
    *into = read;
}
