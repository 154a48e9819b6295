/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixture_read.c: the built-in table of mixtures.
 *
 * Rows that follow each other and share pair, property and temperature are the points of one
 * curve; those of a model are its coefficients. That the table has no fault is held by a test.
 */
#include "base/sheet.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "liquid/builtin.h"
#include "liquid/mixture.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    FIRST,
    SECOND,
    PROPERTY,
    SHARE,
    TEMPERATURE,
    LOW,
    HIGH,
    VALUE,
    UNIT,
    SOURCE,
    EVIDENCE,
    NOTE,
    COLUMNS
};

static const dregs_column columns[COLUMNS] = {
    [FIRST] = {"first", DREGS_IN_ROWS, NULL},
    [SECOND] = {"second", DREGS_IN_ROWS, NULL},
    [PROPERTY] = {"property", DREGS_IN_ROWS, NULL},
    [SHARE] = {"share", DREGS_IN_ROWS, NULL},
    [TEMPERATURE] = {"temperature", DREGS_IN_ROWS, NULL},
    [LOW] = {"low", DREGS_IN_ROWS, NULL},
    [HIGH] = {"high", DREGS_IN_ROWS, NULL},
    [VALUE] = {"value", DREGS_IN_ROWS, NULL},
    [UNIT] = {"unit", DREGS_IN_ROWS, NULL},
    [SOURCE] = {"source", DREGS_IN_ROWS, NULL},
    [EVIDENCE] = {"evidence", DREGS_IN_ROWS, NULL},
    [NOTE] = {"note", DREGS_IN_ROWS, NULL},
};

static const dregs_sheet_form form = {.column = columns, .count = COLUMNS, .even = 1};

static const struct {
    const char *name, *model, *unit;
    unsigned coefficient, of; /* of how many */
} coefficients[] = {
    {"van Laar 12", "van Laar", "1", 0, 2}, {"van Laar 21", "van Laar", "1", 1, 2},
    {"NRTL 12", "NRTL", "J/mol", 0, 3},     {"NRTL 21", "NRTL", "J/mol", 1, 3},
    {"NRTL alpha", "NRTL", "1", 2, 3},
};

enum { KNOWN = sizeof coefficients / sizeof coefficients[0] };

/* Gives a text of the row a new value of its own. */
static dregs_status keep(const char **text, const char *from)
{
    size_t size = strlen(from) + 1;
    char *copy = malloc(size);

    if (!copy)
        return DREGS_NO_MEMORY;
    memcpy(copy, from, size);
    free((void *)(uintptr_t)*text);
    *text = copy;
    return DREGS_OK;
}

static dregs_status add_curve(dregs_mixtures *mixtures, const dregs_sheet_row *row,
                              const char *name, struct curve **curve)
{
    char pair[128];

    if (mixtures->count == mixtures->room) {
        size_t room = mixtures->room ? 2 * mixtures->room : 16;
        struct curve *bigger = realloc(mixtures->curve, room * sizeof *bigger);
        if (!bigger)
            return DREGS_NO_MEMORY;
        mixtures->curve = bigger;
        mixtures->room = room;
    }
    *curve = &mixtures->curve[mixtures->count++];
    memset(*curve, 0, sizeof **curve);
    snprintf(pair, sizeof pair, "%s-%s", dregs_sheet_cell(row, FIRST),
             dregs_sheet_cell(row, SECOND));
    if (keep(&(*curve)->row.pair, pair) ||
        keep(&(*curve)->row.first, dregs_sheet_cell(row, FIRST)) ||
        keep(&(*curve)->row.second, dregs_sheet_cell(row, SECOND)) ||
        keep(&(*curve)->row.name, name) || keep(&(*curve)->row.unit, dregs_sheet_cell(row, UNIT)))
        return DREGS_NO_MEMORY;
    return DREGS_OK;
}

/* The curve a row belongs to: the last one, or a new one. */
static dregs_status curve_for(dregs_mixtures *mixtures, const dregs_sheet_row *row,
                              const char *name, double temperature, struct curve **curve)
{
    struct curve *last = mixtures->count ? &mixtures->curve[mixtures->count - 1] : NULL;

    if (last && strcmp(last->row.first, dregs_sheet_cell(row, FIRST)) == 0 &&
        strcmp(last->row.second, dregs_sheet_cell(row, SECOND)) == 0 &&
        strcmp(last->row.name, name) == 0 &&
        (last->row.points == 0 ? last->row.fitted_at : last->row.low) == temperature) {
        *curve = last;
        return DREGS_OK;
    }
    return add_curve(mixtures, row, name, curve);
}

static dregs_status keep_words(struct curve *curve, const dregs_sheet_row *row)
{
    if (keep(&curve->row.source, dregs_sheet_cell(row, SOURCE)) ||
        keep(&curve->row.evidence, dregs_sheet_cell(row, EVIDENCE)) ||
        keep(&curve->row.note, dregs_sheet_cell(row, NOTE)))
        return DREGS_NO_MEMORY;
    return DREGS_OK;
}

static dregs_status add_coefficient(dregs_mixtures *mixtures, const dregs_sheet_row *row,
                                    unsigned i)
{
    struct curve *curve;
    double value, low, high, fitted_at;
    dregs_status status;

    if (strcmp(dregs_sheet_cell(row, UNIT), coefficients[i].unit) != 0 ||
        dregs_number_read(dregs_sheet_cell(row, VALUE), &value) ||
        dregs_number_read(dregs_sheet_cell(row, LOW), &low) ||
        dregs_number_read(dregs_sheet_cell(row, HIGH), &high) ||
        dregs_number_read(dregs_sheet_cell(row, TEMPERATURE), &fitted_at))
        return DREGS_BAD_DATA;
    status = curve_for(mixtures, row, "activity", fitted_at + 273.15, &curve);
    if (status)
        return status;
    curve->row.property = DREGS_PROPERTIES;
    curve->row.model = coefficients[i].model;
    curve->row.coefficient[coefficients[i].coefficient] = value;
    curve->row.fitted_at = fitted_at + 273.15;
    curve->given |= 1u << coefficients[i].coefficient;
    curve->row.low = low;
    curve->row.high = high;
    curve->row.share_high = 1.0;
    return keep_words(curve, row);
}

static dregs_status grow(struct curve *curve)
{
    size_t room = curve->room ? 2 * curve->room : 32;
    double *share = realloc(curve->share, room * sizeof *share), *value;

    if (!share)
        return DREGS_NO_MEMORY;
    curve->share = share;
    value = realloc(curve->value, room * sizeof *value);
    if (!value)
        return DREGS_NO_MEMORY;
    curve->value = value;
    curve->room = room;
    return DREGS_OK;
}

static dregs_status add_point(dregs_mixtures *mixtures, const dregs_sheet_row *row,
                              dregs_property property)
{
    struct curve *curve;
    double share, celsius, value;
    dregs_unit unit;
    dregs_status status;
    size_t n;

    if (dregs_number_read(dregs_sheet_cell(row, SHARE), &share) ||
        dregs_number_read(dregs_sheet_cell(row, TEMPERATURE), &celsius) ||
        dregs_number_read(dregs_sheet_cell(row, VALUE), &value) ||
        dregs_unit_read_like(dregs_sheet_cell(row, UNIT), dregs_property_unit(property), &unit,
                             NULL))
        return DREGS_BAD_DATA;
    status = curve_for(mixtures, row, dregs_sheet_cell(row, PROPERTY), celsius + 273.15, &curve);
    if (!status && curve->row.points == curve->room)
        status = grow(curve);
    if (status)
        return status;
    n = curve->row.points;
    if (n && !(share / 100.0 > curve->share[n - 1]))
        return DREGS_BAD_DATA;
    curve->row.property = property;
    curve->row.model = "table";
    curve->row.low = curve->row.high = celsius + 273.15;
    curve->share[n] = curve->row.share_high = share / 100.0;
    curve->value[n] = dregs_unit_to_si(unit, value);
    curve->row.share_low = curve->share[0];
    curve->row.points++;
    return keep_words(curve, row);
}

static dregs_status take(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    dregs_mixtures *mixtures = user;
    size_t i;

    (void)faults;
    for (i = 0; i < KNOWN; i++)
        if (strcmp(dregs_sheet_cell(row, PROPERTY), coefficients[i].name) == 0)
            return add_coefficient(mixtures, row, (unsigned)i);
    for (i = 0; i < DREGS_PROPERTIES; i++)
        if (!dregs_property_word((dregs_property)i, 0) &&
            strcmp(dregs_sheet_cell(row, PROPERTY), dregs_property_name((dregs_property)i)) == 0)
            return add_point(mixtures, row, (dregs_property)i);
    return DREGS_BAD_DATA;
}

/* Fits the curves. Their points are in order and enough, so GSL has no reason to call its error
 * handler but a lack of memory. */
static dregs_status finish(dregs_mixtures *mixtures)
{
    size_t i, k;

    for (i = 0; i < mixtures->count; i++) {
        struct curve *curve = &mixtures->curve[i];
        if (curve->row.property == DREGS_PROPERTIES) {
            for (k = 0; k < KNOWN; k++)
                if (strcmp(coefficients[k].model, curve->row.model) == 0 &&
                    curve->given != (1u << coefficients[k].of) - 1u)
                    return DREGS_BAD_DATA;
            continue;
        }
        if (curve->row.points < 3)
            return DREGS_BAD_DATA;
        curve->interpolation = gsl_interp_alloc(gsl_interp_steffen, curve->row.points);
        if (!curve->interpolation ||
            gsl_interp_init(curve->interpolation, curve->share, curve->value, curve->row.points))
            return DREGS_NO_MEMORY;
    }
    return mixtures->count ? DREGS_OK : DREGS_BAD_DATA;
}

dregs_mixtures *dregs_mixtures_new(void)
{
    dregs_mixtures *mixtures = calloc(1, sizeof *mixtures);
    dregs_status status = DREGS_NO_MEMORY;

    if (mixtures)
        status = dregs_sheet_read(&form, (const char *)dregs_mixtures_builtin,
                                  dregs_mixtures_builtin_length, take, mixtures, NULL, NULL);
    if (!status)
        status = finish(mixtures);
    if (status) {
        dregs_mixtures_free(mixtures);
        mixtures = NULL;
    }
    return mixtures;
}

void dregs_mixtures_free(dregs_mixtures *mixtures)
{
    size_t i, k;

    if (!mixtures)
        return;
    for (i = 0; i < mixtures->count; i++) {
        struct curve *curve = &mixtures->curve[i];
        const char *texts[] = {curve->row.pair,     curve->row.first, curve->row.second,
                               curve->row.name,     curve->row.unit,  curve->row.source,
                               curve->row.evidence, curve->row.note};
        for (k = 0; k < sizeof texts / sizeof texts[0]; k++)
            free((void *)(uintptr_t)texts[k]);
        free(curve->share);
        free(curve->value);
        gsl_interp_free(curve->interpolation);
    }
    free(mixtures->curve);
    free(mixtures);
}
