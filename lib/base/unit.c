/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* unit.c: the table of units and the reader of unit expressions.
 *
 * An own small table instead of a units library: it gives the column of the bad part, reads `gal`
 * as a gallon, needs no file at run time and is safe from several threads. The tests hold it
 * against UDUNITS-2 and GNU units.
 */
#include "dregs/unit.h"
#include "base/text.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

struct named_unit {
    const char *name;
    const char *prefixes; /* the SI prefixes it is used with; 'u' also admits both micro signs */
    double scale, offset;
    dregs_dimension dimension;
};

/* clang-format off */
#define DIM(m, kg, s, K, A, mol) {{m, kg, s, K, A, mol}}

/* Exact by definition unless marked; NIST SP 811 (2008) Appendix B.8. A prefix is listed only
 * where it is in use, so that `Pa` is never a peta-something and `min` never a milli-inch. */
static const struct named_unit units[] = {
    {"1",          "",      1.0, 0, DIM(0, 0, 0, 0, 0, 0)},
    {"%",          "",      0.01, 0, DIM(0, 0, 0, 0, 0, 0)},
    {"ppm",        "",      1e-6, 0, DIM(0, 0, 0, 0, 0, 0)},
    {"m",          "numcdk", 1.0, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"in",         "",      0.0254, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"ft",         "",      0.3048, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"yd",         "",      0.9144, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"mil",        "",      2.54e-5, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"L",          "umcdh", 1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"l",          "umcdh", 1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"gal",        "",      3.785411784e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"qt",         "",      9.46352946e-4, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"pt",         "",      4.73176473e-4, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"fl oz",      "",      2.95735295625e-5, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"g",          "numk",  1e-3, 0, DIM(0, 1, 0, 0, 0, 0)},
    {"t",          "",      1e3, 0, DIM(0, 1, 0, 0, 0, 0)},
    {"lb",         "",      0.45359237, 0, DIM(0, 1, 0, 0, 0, 0)},
    {"oz",         "",      0.028349523125, 0, DIM(0, 1, 0, 0, 0, 0)},
    {"s",          "um",    1.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"min",        "",      60.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"h",          "",      3600.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"d",          "",      86400.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"K",          "",      1.0, 0, DIM(0, 0, 0, 1, 0, 0)},
    {"degC",       "",      1.0, 273.15, DIM(0, 0, 0, 1, 0, 0)},
    {"\xC2\xB0" "C",     "",      1.0, 273.15, DIM(0, 0, 0, 1, 0, 0)},
    {"degF",       "",      5.0 / 9.0, 459.67 * 5.0 / 9.0, DIM(0, 0, 0, 1, 0, 0)},
    {"\xC2\xB0" "F",     "",      5.0 / 9.0, 459.67 * 5.0 / 9.0, DIM(0, 0, 0, 1, 0, 0)},
    {"delta_degC", "",      1.0, 0, DIM(0, 0, 0, 1, 0, 0)},
    {"delta_degF", "",      5.0 / 9.0, 0, DIM(0, 0, 0, 1, 0, 0)},
    {"N",          "umk",   1.0, 0, DIM(1, 1, -2, 0, 0, 0)},
    {"dyn",        "",      1e-5, 0, DIM(1, 1, -2, 0, 0, 0)},
    {"Pa",         "mhkM",  1.0, 0, DIM(-1, 1, -2, 0, 0, 0)},
    {"bar",        "m",     1e5, 0, DIM(-1, 1, -2, 0, 0, 0)},
    {"atm",        "",      101325.0, 0, DIM(-1, 1, -2, 0, 0, 0)},
    {"mmHg",       "",      133.322387415, 0, DIM(-1, 1, -2, 0, 0, 0)}, /* conventional, BIPM */
    {"torr",       "",      101325.0 / 760.0, 0, DIM(-1, 1, -2, 0, 0, 0)},
    {"psi",        "",      6894.757293168361, 0, DIM(-1, 1, -2, 0, 0, 0)},
    {"J",          "mkM",   1.0, 0, DIM(2, 1, -2, 0, 0, 0)},
    {"Wh",         "kM",    3600.0, 0, DIM(2, 1, -2, 0, 0, 0)},
    {"W",          "mkM",   1.0, 0, DIM(2, 1, -3, 0, 0, 0)},
    {"P",          "mc",    0.1, 0, DIM(-1, 1, -1, 0, 0, 0)},
    {"St",         "c",     1e-4, 0, DIM(2, 0, -1, 0, 0, 0)},
    {"S",          "num",   1.0, 0, DIM(-2, -1, 3, 0, 2, 0)},
    {"ohm",        "kM",    1.0, 0, DIM(2, 1, -3, 0, -2, 0)},
    {"mol",        "numk",  1.0, 0, DIM(0, 0, 0, 0, 0, 1)},
    /* other words for these, and products with a name of their own */
    {"pcs",        "",      1.0, 0, DIM(0, 0, 0, 0, 0, 0)},
    {"micron",     "",      1e-6, 0, DIM(1, 0, 0, 0, 0, 0)},
    {"sqft",       "",      0.09290304, 0, DIM(2, 0, 0, 0, 0, 0)},
    {"litre",      "",      1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"litres",     "",      1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"liter",      "",      1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"liters",     "",      1e-3, 0, DIM(3, 0, 0, 0, 0, 0)},
    {"lbs",        "",      0.45359237, 0, DIM(0, 1, 0, 0, 0, 0)},
    {"sec",        "",      1.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"hr",         "",      3600.0, 0, DIM(0, 0, 1, 0, 0, 0)},
    {"gpm",        "",      3.785411784e-3 / 60.0, 0, DIM(3, 0, -1, 0, 0, 0)}, /* US gallons */
    {"cfm",        "",      0.028316846592 / 60.0, 0, DIM(3, 0, -1, 0, 0, 0)},
};
/* clang-format on */

enum { UNITS = sizeof units / sizeof units[0] };

struct reader {
    const char *whole; /* the text that columns are counted in */
    const char *text;  /* the unit in it */
    const char *at;
    char *message;
};

static dregs_status refuse(const struct reader *r, const char *at, const char *reason)
{
    const char *p;
    int column = 1;

    if (r->message) {
        for (p = r->whole; p < at; p++) /* in characters, not bytes: a micro sign is one */
            column += ((unsigned char)*p & 0xC0) != 0x80;
        snprintf(r->message, DREGS_UNIT_MESSAGE, "%.*s at column %d", DREGS_UNIT_MESSAGE - 40,
                 reason, column);
    }
    return DREGS_BAD_UNIT;
}

static double prefix_factor(char prefix)
{
    switch (prefix) {
    case 'n':
        return 1e-9;
    case 'u':
        return 1e-6;
    case 'm':
        return 1e-3;
    case 'c':
        return 1e-2;
    case 'd':
        return 1e-1;
    case 'h':
        return 1e2;
    case 'k':
        return 1e3;
    default: /* 'M' */
        return 1e6;
    }
}

/* Finds a unit by its name, whole or behind a prefix; scale takes the prefix. */
static const struct named_unit *find(const char *name, size_t length, double *scale)
{
    size_t i, skip = 1;
    char prefix = name[0];

    for (i = 0; i < UNITS; i++)
        if (strlen(units[i].name) == length && memcmp(units[i].name, name, length) == 0) {
            *scale = units[i].scale;
            return &units[i];
        }
    /* U+00B5 micro sign, U+03BC Greek mu */
    if (length > 2 && (memcmp(name, "\xC2\xB5", 2) == 0 || memcmp(name, "\xCE\xBC", 2) == 0)) {
        prefix = 'u';
        skip = 2;
    }
    for (i = 0; i < UNITS && length > skip; i++)
        if (strlen(units[i].name) == length - skip &&
            memcmp(units[i].name, name + skip, length - skip) == 0 &&
            strchr(units[i].prefixes, prefix)) {
            /* divided where that is the exact way: 1e-3 / 1e3 rounds less than 1e-3 * 1e-3 */
            double factor = prefix_factor(prefix);
            *scale = factor < 1.0 ? units[i].scale / round(1.0 / factor) : units[i].scale * factor;
            return &units[i];
        }
    return NULL;
}

static int name_byte(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '%' ||
           (unsigned char)c >= 0x80;
}

/* U+00B2 and U+00B3, superscript two and three: the power; 0 for anything else. */
static int superscript(const char *at)
{
    return strncmp(at, "\xC2\xB2", 2) == 0 ? 2 : strncmp(at, "\xC2\xB3", 2) == 0 ? 3 : 0;
}

/* A power behind a name: `2`, `^2`, `^-1`, or superscript. */
static dregs_status read_power(struct reader *r, int *power)
{
    const char *start = r->at;
    int caret = *r->at == '^', sign = 1;

    *power = superscript(r->at);
    if (*power) {
        r->at += 2;
        return DREGS_OK;
    }
    *power = 1;
    if (caret)
        r->at++;
    if (*r->at == '-') {
        sign = -1;
        r->at++;
    }
    if (*r->at >= '1' && *r->at <= '9') {
        *power = sign * (*r->at - '0');
        r->at++;
        if ((*r->at >= '0' && *r->at <= '9') ||
            (*r->at == '.' && r->at[1] >= '0' && r->at[1] <= '9'))
            return refuse(r, start, "a power must be one digit");
    } else if (caret || sign < 0) {
        return refuse(r, start, "a power must be a digit from 1 to 9");
    }
    return DREGS_OK;
}

static dregs_status multiply(struct reader *r, const char *at, dregs_unit *into, dregs_unit by,
                             int power)
{
    int i, times = power < 0 ? -power : power;

    for (i = 0; i < DREGS_DIMENSIONS; i++) {
        int exponent = into->dimension.exponent[i] + power * by.dimension.exponent[i];
        if (exponent < -30 || exponent > 30)
            return refuse(r, at, "a power beyond any real unit");
        into->dimension.exponent[i] = (signed char)exponent;
    }
    while (times-- > 0)
        into->scale = power < 0 ? into->scale / by.scale : into->scale * by.scale;
    if (!isnormal(into->scale))
        return refuse(r, at, "a power beyond any real unit");
    return DREGS_OK;
}

static const dregs_unit one = {1.0, 0.0, {{0}}};

static dregs_status read_product(struct reader *r, dregs_unit *unit, int depth);

static dregs_status unknown_unit(struct reader *r, const char *start, size_t length)
{
    const char *names[UNITS], *near;
    char word[80], quoted[DREGS_QUOTED], reason[DREGS_UNIT_MESSAGE - 60];
    size_t i;

    snprintf(word, sizeof word, "%.*s", (int)(length < sizeof word ? length : sizeof word - 1),
             start);
    word[dregs_utf8_span(word, strlen(word))] = '\0';
    if (strcmp(word, "month") == 0 || strcmp(word, "year") == 0 || strcmp(word, "yr") == 0) {
        snprintf(reason, sizeof reason, "'%s' has no fixed length, use d or h", word);
        return refuse(r, start, reason);
    }
    for (i = 0; i < UNITS; i++)
        names[i] = units[i].name;
    near = dregs_nearest(word, names, UNITS);
    if (near && strlen(word) <= 3 && strlen(near) == strlen(word) && strcasecmp(near, word) != 0)
        near = NULL; /* one of three letters is much: rpm is no ppm */
    snprintf(reason, sizeof reason, "unknown unit %s%s%s%s", dregs_quote(quoted, word),
             near ? " (nearest: '" : "", near ? near : "", near ? "')" : "");
    return refuse(r, start, reason);
}

/* One named unit with its power, or a group in parentheses. */
static dregs_status read_factor(struct reader *r, dregs_unit *unit, int depth)
{
    const char *start = r->at;
    const struct named_unit *named;
    dregs_unit factor = one;
    dregs_status status;
    size_t length;
    int power;

    if (*r->at == '(') {
        if (depth > 3)
            return refuse(r, start, "parentheses too deep");
        r->at++;
        status = read_product(r, &factor, depth + 1);
        if (status)
            return status;
        if (*r->at != ')')
            return refuse(r, r->at, "')' missing");
        r->at++;
    } else if (*r->at == '1' && !(r->at[1] >= '0' && r->at[1] <= '9')) {
        r->at++;
    } else {
        while (name_byte(*r->at) && !superscript(r->at))
            r->at++;
        length = (size_t)(r->at - start);
        if (length == 2 && memcmp(start, "fl", 2) == 0 && strncmp(r->at, " oz", 3) == 0 &&
            !name_byte(r->at[3])) {
            r->at += 3;
            length += 3;
        }
        if (length == 0)
            return refuse(r, start, "a unit is missing");
        named = find(start, length, &factor.scale);
        if (!named)
            return unknown_unit(r, start, length);
        factor.offset = named->offset;
        factor.dimension = named->dimension;
    }
    status = read_power(r, &power);
    if (status)
        return status;
    if (factor.offset != 0.0) {
        if (start != r->text || *r->at || power != 1)
            return refuse(r, start, "a temperature stands alone, a difference is 'delta_degC'");
        *unit = factor;
        return DREGS_OK;
    }
    return multiply(r, start, unit, factor, power);
}

/* What is divided by: a factor or group, after 10, 100 or 1000 of it where that is said, as in
 * mg/100 mL. */
static dregs_status read_below(struct reader *r, dregs_unit *unit, int depth)
{
    double times = 1.0;
    const char *at = r->at;

    if (*at == '1')
        for (at++; *at == '0' && times < 1000; at++)
            times *= 10;
    if (times > 1) {
        at += *at == ' ';
        if (!name_byte(*at))
            return refuse(r, r->at, "a unit is missing behind the number");
        r->at = at;
        unit->scale *= times;
    }
    return read_factor(r, unit, depth);
}

/* Factors joined by `.`, `*`, and one `/`, which divides by the next factor or group only. */
static dregs_status read_product(struct reader *r, dregs_unit *unit, int depth)
{
    dregs_status status = read_factor(r, unit, depth);
    int slashes = 0; /* a group in parentheses has its own */

    while (!status && (*r->at == '.' || *r->at == '*' || *r->at == '/')) {
        const char *at = r->at;
        if (*r->at++ == '/') {
            dregs_unit below = one;
            if (slashes++)
                return refuse(r, at, "a second '/', write 'a/(b.c)'");
            status = read_below(r, &below, depth);
            if (!status && (*r->at == '.' || *r->at == '*'))
                return refuse(r, r->at, "unclear what is divided, write 'a/(b.c)'");
            if (!status)
                status = multiply(r, at, unit, below, -1);
        } else {
            status = read_factor(r, unit, depth);
        }
    }
    return status;
}

/* Reads the unit that ends the text \p whole. */
static dregs_status read_unit(const char *whole, const char *text, dregs_unit *unit, char *message)
{
    struct reader r = {whole, text, text, message};
    dregs_unit read = one, below = one;
    dregs_status status;

    if (!*text) {
        *unit = one;
        return DREGS_OK;
    }
    status = read_product(&r, &read, 0);
    if (!status && strncmp(r.at, " per ", 5) == 0 && read.offset == 0.0) {
        const char *at = r.at;
        r.at += 5;
        status =
            strncmp(r.at, "10", 2) == 0 ? read_below(&r, &below, 0) : read_product(&r, &below, 0);
        if (!status)
            status = multiply(&r, at, &read, below, -1);
    }
    if (status)
        return status;
    if (*r.at)
        return refuse(&r, r.at, "cannot be read from here on");
    *unit = read;
    return DREGS_OK;
}

static dregs_status read_unit_like(const char *whole, const char *text, const char *like,
                                   dregs_unit *unit, char *message)
{
    dregs_unit read, wanted;
    char quoted[DREGS_QUOTED];
    dregs_status status = read_unit(whole, text, &read, message);

    if (status)
        return status;
    status = dregs_unit_read(like, &wanted, message);
    if (status)
        return status;
    if (memcmp(&read.dimension, &wanted.dimension, sizeof read.dimension) != 0) {
        if (message && !*text)
            snprintf(message, DREGS_UNIT_MESSAGE, "a unit of the kind of '%s' is missing", like);
        else if (message)
            snprintf(message, DREGS_UNIT_MESSAGE, "%s is of another kind than '%s'",
                     dregs_quote(quoted, text), *like ? like : "1");
        return DREGS_BAD_UNIT;
    }
    *unit = read;
    return DREGS_OK;
}

dregs_status dregs_unit_read(const char *text, dregs_unit *unit, char *message)
{
    return read_unit(text, text, unit, message);
}

dregs_status dregs_unit_read_like(const char *text, const char *like, dregs_unit *unit,
                                  char *message)
{
    return read_unit_like(text, text, like, unit, message);
}

double dregs_unit_to_si(dregs_unit unit, double value)
{
    return unit.scale * value + unit.offset;
}

double dregs_unit_from_si(dregs_unit unit, double si)
{
    return (si - unit.offset) / unit.scale;
}

dregs_status dregs_unit_quantity(const char *text, const char *like, double *si, char *message)
{
    char number[64];
    const char *rest = text;
    size_t length;
    dregs_unit unit;
    dregs_status status;
    double value;

    while ((*rest >= '0' && *rest <= '9') || *rest == '.' || *rest == '+' || *rest == '-' ||
           ((*rest == 'e' || *rest == 'E') && rest > text &&
            ((rest[1] >= '0' && rest[1] <= '9') || rest[1] == '+' || rest[1] == '-')))
        rest++;
    length = (size_t)(rest - text);
    if (length >= sizeof number) {
        if (message)
            snprintf(message, DREGS_UNIT_MESSAGE,
                     "a number of more than 63 characters at column 1");
        return DREGS_BAD_NUMBER; /* cut short it would be another number */
    }
    memcpy(number, text, length);
    number[length] = '\0';
    if (dregs_number_read(number, &value)) {
        if (message)
            snprintf(message, DREGS_UNIT_MESSAGE, "no number at column 1");
        return DREGS_BAD_NUMBER;
    }
    if (*rest == ',' && rest[1] >= '0' && rest[1] <= '9') {
        if (message)
            snprintf(message, DREGS_UNIT_MESSAGE,
                     "a comma at column %zu, the decimal mark is a point", length + 1);
        return DREGS_BAD_NUMBER;
    }
    while (*rest == ' ')
        rest++;
    status = read_unit_like(text, rest, like, &unit, message);
    if (status && message && !*rest)
        snprintf(message, DREGS_UNIT_MESSAGE, "%s has no unit, write for example '%s %s'", number,
                 number, like);
    if (status)
        return status;
    value = dregs_unit_to_si(unit, value);
    if (!isfinite(value)) {
        if (message)
            snprintf(message, DREGS_UNIT_MESSAGE, "a number too large at column 1");
        return DREGS_BAD_NUMBER;
    }
    *si = value;
    return DREGS_OK;
}

const char *dregs_unit_name(size_t index)
{
    return index < UNITS ? units[index].name : NULL;
}
