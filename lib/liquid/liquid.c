/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.c: the table of liquid properties: its file, its lookups, its values.
 *
 * A file is read into a table of its own and spliced in only when all of it is good. Rows that
 * are replaced stay owned by the table, so that every text handed out lives as long as the table.
 */
#include "dregs/liquid.h"
#include "base/sheet.h"
#include "base/text.h"
#include "dregs/number.h"
#include "liquid/builtin.h"
#include "liquid/inside.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *name, *unit;
} properties[DREGS_PROPERTIES] = {
    [DREGS_VAPOUR_PRESSURE] = {"vapour pressure", "Pa"},
    [DREGS_DENSITY] = {"density", "kg/m3"},
    [DREGS_VISCOSITY] = {"viscosity", "Pa.s"},
    [DREGS_SURFACE_TENSION] = {"surface tension", "N/m"},
    [DREGS_MOLAR_MASS] = {"molar mass", "kg/mol"},
    [DREGS_BOILING_POINT] = {"boiling point", "K"},
    [DREGS_FLASH_POINT] = {"flash point", "K"},
    [DREGS_LOWER_LIMIT] = {"lower flammable limit", "1"},
    [DREGS_UPPER_LIMIT] = {"upper flammable limit", "1"},
    [DREGS_AUTOIGNITION] = {"autoignition", "K"},
    [DREGS_EXPOSURE_LIMIT] = {"exposure limit", "1"},
    [DREGS_HEAT_OF_VAPORISATION] = {"heat of vaporisation", "J/kg"},
    [DREGS_HEAT_CAPACITY] = {"heat capacity", "J/(kg.K)"},
    [DREGS_DIFFUSIVITY] = {"diffusivity in air", "m2/s"},
    [DREGS_CLASS] = {"class", ""},
    [DREGS_MISCIBILITY] = {"miscibility with water", ""},
    [DREGS_FREEZING_POINT] = {"freezing point", "K"},
    [DREGS_THERMAL_CONDUCTIVITY] = {"thermal conductivity", "W/(m.K)"},
    [DREGS_CAS_NUMBER] = {"CAS number", ""},
    [DREGS_OTHER_NAMES] = {"other names", ""},
    [DREGS_SOLUBILITY] = {"solubility in water", "1"},
};

enum { WORDS_MOST = 10 };

static const char *const words_of[DREGS_PROPERTIES][WORDS_MOST + 1] = {
    [DREGS_CLASS] = {[DREGS_CLASS_WATER] = "water",
                     [DREGS_CLASS_ALCOHOL] = "alcohol",
                     [DREGS_CLASS_GLYCOL_ETHER] = "glycol ether",
                     [DREGS_CLASS_ETHER] = "ether",
                     [DREGS_CLASS_KETONE] = "ketone",
                     [DREGS_CLASS_ESTER] = "ester",
                     [DREGS_CLASS_HYDROCARBON] = "hydrocarbon",
                     [DREGS_CLASS_TERPENE] = "terpene",
                     [DREGS_CLASS_HALOGENATED] = "halogenated",
                     [DREGS_CLASS_OTHER] = "other"},
    [DREGS_MISCIBILITY] = {[DREGS_MISCIBLE] = "miscible",
                           [DREGS_PARTLY_MISCIBLE] = "partly miscible",
                           [DREGS_IMMISCIBLE] = "immiscible"},
};

enum {
    LIQUID,
    PROPERTY,
    EQUATION,
    UNIT,
    COEFFICIENT,
    LOW = COEFFICIENT + DREGS_COEFFICIENTS,
    HIGH,
    SOURCE,
    EVIDENCE,
    ACCURACY,
    COLLECTION,
    NOTE,
    COLUMNS
};

static const dregs_column columns[COLUMNS] = {
    [LIQUID] = {"liquid", DREGS_IN_ROWS, NULL},
    [PROPERTY] = {"property", DREGS_IN_ROWS, NULL},
    [EQUATION] = {"equation", DREGS_IN_ROWS, NULL},
    [UNIT] = {"unit", DREGS_IN_ROWS, NULL},
    [COEFFICIENT] = {"A", DREGS_IN_ROWS, NULL},
    [COEFFICIENT + 1] = {"B", DREGS_OPTIONAL, NULL},
    [COEFFICIENT + 2] = {"C", DREGS_OPTIONAL, NULL},
    [COEFFICIENT + 3] = {"D", DREGS_OPTIONAL, NULL},
    [COEFFICIENT + 4] = {"E", DREGS_OPTIONAL, NULL},
    [COEFFICIENT + 5] = {"F", DREGS_OPTIONAL, NULL},
    [COEFFICIENT + 6] = {"G", DREGS_OPTIONAL, NULL},
    [LOW] = {"low", DREGS_OPTIONAL, NULL},
    [HIGH] = {"high", DREGS_OPTIONAL, NULL},
    [SOURCE] = {"source", DREGS_IN_ROWS, NULL},
    [EVIDENCE] = {"evidence", DREGS_OPTIONAL, NULL},
    [ACCURACY] = {"accuracy", DREGS_OPTIONAL, NULL},
    [COLLECTION] = {"collection", DREGS_OPTIONAL, NULL},
    [NOTE] = {"note", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = ", allowed are: liquid, property, equation, unit, A, B, C, D, E, F, G, low, high, "
               "source, evidence, accuracy, collection, note",
    .nearest = {" (nearest: '", "')"},
    .twice = {"column ", " stands twice in the header"},
    .missing = {"column ", " is missing in the header, needed are: liquid, property, equation, "
                           "unit, A, source"},
    .cells = {", but the header names ", " columns (a comma inside a cell needs quotes)"},
    .empty = "the file is empty, it must begin with a header: liquid, property, equation, unit, "
             "A, source, ...",
    .rowless = "there is no row below the header",
};

static const dregs_sheet_form form = {.column = columns,
                                      .count = COLUMNS,
                                      .words = &words,
                                      .whole = 1,
                                      .even = 1,
                                      .unknown = DREGS_UNKNOWN,
                                      .numbers = ((1u << DREGS_COEFFICIENTS) - 1) << COEFFICIENT |
                                                 1u << LOW | 1u << HIGH,
                                      .quantities = 1u << ACCURACY};

static const char *const evidences[] = {"read", "memory", "computed", "stated"};

enum { EVIDENCES = sizeof evidences / sizeof evidences[0] };

/* a file while it is read */
struct reading {
    dregs_liquids fresh;
    const char *file; /* NULL for the built-in data */
    dregs_faults *faults;
    unsigned long bad; /* faults found in cells, kept or not */
};

#define FAULT(reading, ...)                                                                        \
    ((reading)->bad++, (void)dregs_fault_add((reading)->faults, __VA_ARGS__))

/* " (nearest: 'x')" or "" */
enum { NEAREST = 80 };

static const char *nearest_text(char into[NEAREST], const char *wanted, const char *const *names,
                                size_t count)
{
    const char *near = dregs_nearest(wanted, names, count);

    if (near)
        snprintf(into, NEAREST, " (nearest: '%s')", near);
    else
        into[0] = '\0';
    return into;
}

/* Joins names with ", "; what does not fit is left away. */
static const char *list(char *into, size_t room, const char *const *names, size_t count,
                        const char *between)
{
    size_t used = 0, i;

    into[0] = '\0';
    for (i = 0; i < count; i++) {
        int length = snprintf(into + used, room - used, "%s%s", i ? between : "", names[i]);
        if (length < 0 || (size_t)length >= room - used)
            break;
        used += (size_t)length;
    }
    return into;
}

/* ---- the table ---- */

struct liquid *dregs_liquid_find(const dregs_liquids *liquids, const char *name)
{
    size_t i;

    /* from the end: the rows of one liquid mostly follow each other. A film that dries asks for
     * many thousand values: their first letters tell most names apart */
    for (i = liquids->count; i > 0; i--) {
        const char *known = liquids->liquid[i - 1].name;
        if (known == name || (*known == *name && strcmp(known, name) == 0))
            return &liquids->liquid[i - 1];
    }
    for (i = 0; i < liquids->count; i++)
        if (dregs_liquid_is_called(&liquids->liquid[i], name))
            return &liquids->liquid[i];
    return NULL;
}

static int reserve(dregs_liquids *liquids, size_t more)
{
    size_t wanted = liquids->room ? liquids->room : 16;
    struct liquid *bigger;

    if (more > SIZE_MAX / sizeof *bigger / 4 - liquids->count)
        return 0;
    while (wanted < liquids->count + more)
        wanted *= 2;
    if (wanted == liquids->room)
        return 1;
    bigger = realloc(liquids->liquid, wanted * sizeof *bigger);
    if (!bigger)
        return 0;
    liquids->liquid = bigger;
    liquids->room = wanted;
    return 1;
}

/* The entry for a name, made where there is none; reserve() has found the room. */
static struct liquid *entry(dregs_liquids *liquids, const char *name)
{
    struct liquid *liquid = dregs_liquid_find(liquids, name);

    if (!liquid) {
        liquid = &liquids->liquid[liquids->count++];
        memset(liquid, 0, sizeof *liquid);
        liquid->name = name;
    }
    return liquid;
}

/* Empties the table of what it owns, not of itself. */
static void clear(dregs_liquids *liquids)
{
    while (liquids->owned) {
        struct item *next = liquids->owned->next;
        free(liquids->owned);
        liquids->owned = next;
    }
    free(liquids->liquid);
    if (!liquids->borrows)
        dregs_regulations_free(liquids->regulations);
    memset(liquids, 0, sizeof *liquids);
}

/* Moves the rows of `from` into `to`, which is unchanged when memory is short. */
static dregs_status merge(dregs_liquids *to, dregs_liquids *from)
{
    struct item **last = &from->owned;
    size_t i, k;

    if (!reserve(to, from->count))
        return DREGS_NO_MEMORY;
    for (i = 0; i < from->count; i++) {
        struct liquid *liquid = entry(to, from->liquid[i].name);
        for (k = 0; k < DREGS_PROPERTIES; k++)
            if (from->liquid[i].item[k])
                liquid->item[k] = from->liquid[i].item[k];
    }
    while (*last)
        last = &(*last)->next;
    *last = to->owned;
    to->owned = from->owned;
    from->owned = NULL;
    return DREGS_OK;
}

/* ---- one row of the file ---- */

/* The texts a row keeps, in the order they are stored. */
struct texts {
    const char *liquid, *equation, *unit, *source, *evidence, *file, *note, *collection;
    const char *word; /* of a property whose word is free */
};

static const char *keep(char **at, const char *text)
{
    char *start = *at;
    size_t size;

    if (!text)
        return NULL;
    size = strlen(text) + 1;
    memcpy(start, text, size);
    *at = start + size;
    return start;
}

static size_t size_of(const char *text)
{
    return text ? strlen(text) + 1 : 0;
}

static struct item *new_item(const struct item *like, const struct texts *texts)
{
    size_t size = size_of(texts->liquid) + size_of(texts->equation) + size_of(texts->unit) +
                  size_of(texts->source) + size_of(texts->evidence) + size_of(texts->file) +
                  size_of(texts->note) + size_of(texts->word) + size_of(texts->collection);
    struct item *item = malloc(sizeof *item + size);
    char *at;

    if (!item)
        return NULL;
    item->row = like->row;
    item->equation = like->equation;
    item->unit = like->unit;
    item->off = 0;
    item->scaled = 0;
    item->next = NULL;
    at = item->text;
    item->row.liquid = keep(&at, texts->liquid);
    item->row.equation = keep(&at, texts->equation);
    item->row.unit = keep(&at, texts->unit);
    item->row.source = keep(&at, texts->source);
    item->row.evidence = keep(&at, texts->evidence);
    item->row.file = keep(&at, texts->file);
    item->row.note = keep(&at, texts->note);
    item->row.collection = keep(&at, texts->collection);
    if (texts->word)
        item->row.word = keep(&at, texts->word);
    return item;
}

static void read_property(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    const char *text = dregs_sheet_cell(row, PROPERTY), *names[DREGS_PROPERTIES];
    char quoted[DREGS_QUOTED], near[NEAREST], all[400];
    size_t i;

    for (i = 0; i < DREGS_PROPERTIES; i++) {
        names[i] = properties[i].name;
        if (strcmp(text, names[i]) == 0)
            item->row.property = (dregs_property)i;
    }
    if (item->row.property == DREGS_PROPERTIES)
        FAULT(reading, DREGS_UNKNOWN, row->line, "unknown property %s%s, allowed are: %s",
              dregs_quote(quoted, text), nearest_text(near, text, names, DREGS_PROPERTIES),
              list(all, sizeof all, names, DREGS_PROPERTIES, ", "));
}

static void read_equation(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    const char *text = dregs_sheet_cell(row, EQUATION), *names[32];
    char quoted[DREGS_QUOTED], near[NEAREST], all[DREGS_FAULT_TEXT];
    size_t count = 0;

    item->equation = dregs_liquid_equation_find(text);
    if (item->equation)
        return;
    for (; count < 32 && dregs_liquid_equation_at(count); count++)
        names[count] = dregs_liquid_equation_at(count)->text;
    FAULT(reading, DREGS_UNKNOWN, row->line, "unknown equation %s%s, allowed are: %s",
          dregs_quote(quoted, text), nearest_text(near, text, names, count),
          list(all, sizeof all, names, count, "; "));
}

static void read_unit(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    const char *text = dregs_sheet_cell(row, UNIT), *like;
    char message[DREGS_UNIT_MESSAGE];

    if (item->row.property == DREGS_PROPERTIES)
        return; /* what the unit should be is not known */
    like = properties[item->row.property].unit;
    if (dregs_unit_read_like(text, like, &item->unit, message))
        FAULT(reading, DREGS_BAD_UNIT, row->line, "column unit: %s; %s needs a unit like '%s'",
              message, properties[item->row.property].name, like);
    else if (strcmp(like, "K") == 0 && strstr(text, "delta_"))
        FAULT(reading, DREGS_BAD_UNIT, row->line,
              "column unit: '%s' is a difference of temperatures; %s needs 'degC', 'degF' or 'K'",
              strstr(text, "degF") ? "delta_degF" : "delta_degC",
              properties[item->row.property].name);
}

/* A number, if the cell holds one: 1 when it does, 0 when it is empty or bad. */
static int read_number(struct reading *reading, const dregs_sheet_row *row, int column,
                       double *value)
{
    const char *text = dregs_sheet_cell(row, column);
    char quoted[DREGS_QUOTED];

    if (!*text)
        return 0;
    if (!dregs_number_read(text, value))
        return 1;
    FAULT(reading, DREGS_BAD_NUMBER, row->line,
          "column %s: %s is not a number, write it like 0.85 or 1.2e-3%s", columns[column].name,
          dregs_quote(quoted, text), dregs_comma_words(text));
    return 0;
}

static void read_coefficients(struct reading *reading, const dregs_sheet_row *row,
                              struct item *item)
{
    int i;

    for (i = 0; i < DREGS_COEFFICIENTS; i++) {
        char letter = (char)('A' + i);
        int given = *dregs_sheet_cell(row, COEFFICIENT + i) != '\0';
        read_number(reading, row, COEFFICIENT + i, &item->row.coefficient[i]);
        if (!item->equation)
            continue;
        if (!given && strchr(item->equation->needs, letter))
            FAULT(reading, DREGS_BAD_DATA, row->line,
                  "column %c is empty: the equation '%s' needs %s", letter, item->equation->text,
                  item->equation->needs);
        if (item->row.coefficient[i] != 0.0 && !strchr(item->equation->takes, letter))
            FAULT(reading, DREGS_BAD_DATA, row->line,
                  "column %c is filled, but the equation '%s' takes %s only", letter,
                  item->equation->text, item->equation->takes);
    }
}

static void read_range(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    int low = read_number(reading, row, LOW, &item->row.low);
    int high = read_number(reading, row, HIGH, &item->row.high);
    int no_low = !*dregs_sheet_cell(row, LOW), no_high = !*dregs_sheet_cell(row, HIGH);
    char below[DREGS_NUMBER_TEXT], above[DREGS_NUMBER_TEXT];

    if ((no_low || no_high) && item->equation && item->equation != dregs_liquid_equation_at(0))
        FAULT(reading, DREGS_BAD_DATA, row->line,
              "column %s is empty: a property that depends on temperature needs low and high, in K",
              no_low ? "low" : "high");
    else if (no_low != no_high)
        FAULT(reading, DREGS_BAD_DATA, row->line,
              "column %s is empty: give both low and high, in K, or neither",
              no_low ? "low" : "high");
    if (low && !(item->row.low > 0.0))
        FAULT(reading, DREGS_BAD_DATA, row->line, "column low: %s is no temperature in K",
              dregs_number_plain(below, item->row.low, 6));
    else if (low && high && !(item->row.low < item->row.high))
        FAULT(reading, DREGS_BAD_DATA, row->line, "low %s is not below high %s, both in K",
              dregs_number_plain(below, item->row.low, 9),
              dregs_number_plain(above, item->row.high, 9));
}

static size_t count_words(dregs_property property)
{
    size_t count = 0;

    while (words_of[property][count])
        count++;
    return count;
}

/* A property whose word is any word. */
static int is_name(dregs_property property)
{
    return property == DREGS_CAS_NUMBER || property == DREGS_OTHER_NAMES;
}

static int is_word(dregs_property property)
{
    return is_name(property) || dregs_property_word(property, 0) != NULL;
}

/* Names are what they are; a word of a list is one of it. */
static void choose_word(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    const char *text = dregs_sheet_cell(row, COEFFICIENT);
    const char *const *words_here = words_of[item->row.property];
    char quoted[DREGS_QUOTED], near[NEAREST], all[160];
    size_t i, count = count_words(item->row.property);

    for (i = 0; i < count; i++)
        if (strcmp(text, words_here[i]) == 0)
            item->row.word = words_here[i];
    if (is_name(item->row.property) && *text)
        item->row.word = text;
    else if (is_name(item->row.property))
        FAULT(reading, DREGS_BAD_DATA, row->line, "column A is empty: %s goes there",
              properties[item->row.property].name);
    if (!item->row.word && count)
        FAULT(reading, DREGS_UNKNOWN, row->line, "column A: unknown %s %s%s, allowed are: %s",
              properties[item->row.property].name, dregs_quote(quoted, text),
              nearest_text(near, text, words_here, count),
              list(all, sizeof all, words_here, count, ", "));
}

/* A property that is a word: the result is A, and A is the word; it has no unit and no range. */
static void read_word(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    const char *name = properties[item->row.property].name;
    int c;

    item->equation = dregs_liquid_equation_at(0);
    if (dregs_liquid_equation_find(dregs_sheet_cell(row, EQUATION)) != item->equation)
        FAULT(reading, DREGS_BAD_DATA, row->line, "column equation: %s is a word, write 'A' here",
              name);
    choose_word(reading, row, item);
    for (c = UNIT; c <= HIGH; c++)
        if (c != COEFFICIENT && *dregs_sheet_cell(row, c))
            FAULT(reading, DREGS_BAD_DATA, row->line, "column %s is filled, but %s is a word",
                  columns[c].name, name);
}

/* "1 % estimated": a share of the value, or kelvin where the property is a temperature; whose
 * figure it is. */
static void read_accuracy(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    static const char *const origins[] = {"published", "estimated"};
    const char *text = dregs_sheet_cell(row, ACCURACY), *unit = strchr(text, ' '), *origin;
    int kelvin = strcmp(properties[item->row.property].unit, "K") == 0;
    char number[32], quoted[DREGS_QUOTED];
    double value = NAN;
    size_t i;

    if (!*text)
        return;
    if (strcmp(text, "exact") == 0) {
        item->row.accuracy = 0;
        item->row.accuracy_from = origins[0];
        return;
    }
    origin = unit ? strchr(unit + 1, ' ') : NULL;
    for (i = 0; origin && i < 2; i++)
        if (strcmp(origin + 1, origins[i]) == 0)
            item->row.accuracy_from = origins[i];
    snprintf(number, sizeof number, "%.*s", (int)strcspn(text, " "), text);
    if (!item->row.accuracy_from || dregs_number_read(number, &value) || !(value > 0) ||
        strncmp(unit, kelvin ? " K " : " % ", 3) != 0)
        FAULT(reading, DREGS_BAD_DATA, row->line,
              "column accuracy: %s is not like '1 %s published', '1 %s estimated' or 'exact'",
              dregs_quote(quoted, text), kelvin ? "K" : "%", kelvin ? "K" : "%");
    item->row.accuracy = kelvin ? value : value / 100;
}

static void read_numbers(struct reading *reading, const dregs_sheet_row *row, struct item *item)
{
    read_equation(reading, row, item);
    read_unit(reading, row, item);
    read_coefficients(reading, row, item);
    read_range(reading, row, item);
    if (item->row.property != DREGS_PROPERTIES)
        read_accuracy(reading, row, item);
}

/* Reads the words of the row: they need no conversion, but they must be there. */
static void read_words(struct reading *reading, const dregs_sheet_row *row, struct texts *texts)
{
    char quoted[DREGS_QUOTED], near[NEAREST];
    size_t i = 0;

    texts->liquid = dregs_sheet_cell(row, LIQUID);
    texts->equation = dregs_sheet_cell(row, EQUATION);
    texts->unit = dregs_sheet_cell(row, UNIT);
    texts->source = dregs_sheet_cell(row, SOURCE);
    texts->evidence = dregs_sheet_cell(row, EVIDENCE);
    texts->file = reading->file;
    texts->note = dregs_sheet_cell(row, NOTE);
    texts->collection = dregs_sheet_cell(row, COLLECTION);
    if (!*texts->liquid)
        FAULT(reading, DREGS_BAD_DATA, row->line, "column liquid is empty: name the liquid");
    if (!*texts->source)
        FAULT(reading, DREGS_BAD_DATA, row->line,
              "column source is empty: say where the numbers come from");
    if (!*texts->evidence)
        texts->evidence = "stated";
    while (i < EVIDENCES && strcmp(texts->evidence, evidences[i]) != 0)
        i++;
    if (i == EVIDENCES)
        FAULT(reading, DREGS_UNKNOWN, row->line,
              "column evidence: %s%s, allowed are: read, memory, computed, stated, or nothing",
              dregs_quote(quoted, texts->evidence),
              nearest_text(near, texts->evidence, evidences, EVIDENCES));
}

static int is_share(dregs_property property)
{
    return strcmp(properties[property].unit, "1") == 0;
}

double dregs_liquid_evaluate(const struct item *item, double temperature)
{
    double si =
        dregs_unit_to_si(item->unit, item->equation->value(item->row.coefficient, temperature));

    if (!(si > 0.0) || !isfinite(si) || (is_share(item->row.property) && si > 1.0))
        return NAN;
    return si;
}

static void check_constant(struct reading *reading, const dregs_sheet_row *row,
                           const struct item *item)
{
    char number[DREGS_NUMBER_TEXT], quoted[DREGS_QUOTED];

    if (item->equation != dregs_liquid_equation_at(0) ||
        isfinite(dregs_liquid_evaluate(item, 298.15)))
        return;
    FAULT(reading, DREGS_BAD_DATA, row->line, "column A: %s with unit %s is no %s, %s",
          dregs_number_plain(number, item->row.coefficient[0], 6),
          dregs_quote(quoted, dregs_sheet_cell(row, UNIT)), properties[item->row.property].name,
          is_share(item->row.property) ? "which lies above 0 and at most at 1 (100 %)"
                                       : "which must be above 0 (temperatures: above 0 K)");
}

/* Puts a row that is good in itself into the fresh table. */
static dregs_status store(struct reading *reading, const dregs_sheet_row *row,
                          const struct item *draft, const struct texts *texts)
{
    struct liquid *known = dregs_liquid_find(&reading->fresh, texts->liquid);
    struct item *item = known ? known->item[draft->row.property] : NULL;
    char quoted[DREGS_QUOTED];

    if (item) {
        FAULT(reading, DREGS_BAD_DATA, row->line, "%s of %s stands already in line %lu",
              properties[draft->row.property].name, dregs_quote(quoted, texts->liquid),
              item->row.line);
        return DREGS_OK;
    }
    if (!reserve(&reading->fresh, 1))
        return DREGS_NO_MEMORY;
    item = new_item(draft, texts);
    if (!item)
        return DREGS_NO_MEMORY;
    item->next = reading->fresh.owned;
    reading->fresh.owned = item;
    entry(&reading->fresh, item->row.liquid)->item[item->row.property] = item;
    return DREGS_OK;
}

static dregs_status take_row(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    struct reading *reading = user;
    struct item draft;
    struct texts texts = {0};
    unsigned long bad = reading->bad;

    (void)faults; /* the same as reading->faults */
    memset(&draft, 0, sizeof draft);
    draft.row.property = DREGS_PROPERTIES;
    draft.row.low = draft.row.high = draft.row.accuracy = NAN;
    draft.row.line = row->line;
    read_words(reading, row, &texts);
    read_property(reading, row, &draft);
    if (is_word(draft.row.property))
        read_word(reading, row, &draft);
    else
        read_numbers(reading, row, &draft);
    if (is_name(draft.row.property))
        texts.word = draft.row.word;
    if (reading->bad == bad && !draft.row.word)
        check_constant(reading, row, &draft);
    /* a row with faults is entered no more, so its duplicate goes unseen until it is mended */
    return reading->bad == bad ? store(reading, row, &draft, &texts) : DREGS_OK;
}

/* ---- the whole file ---- */

static dregs_status read_all(struct reading *reading, const char *bytes, size_t length)
{
    dregs_status status = dregs_sheet_read(&form, bytes, length, take_row, reading,
                                           &reading->fresh.dialect, reading->faults);

    return !status && reading->bad ? DREGS_BAD_DATA : status;
}

/* A row that stands twice under two names of one liquid of the table. */
static dregs_status check_names(struct reading *reading, const dregs_liquids *known)
{
    const struct liquid *fresh = reading->fresh.liquid;
    char one[DREGS_QUOTED], two[DREGS_QUOTED];
    size_t i, j, k;

    for (j = 1; j < reading->fresh.count; j++)
        for (i = 0; i < j; i++) {
            const struct liquid *first = dregs_liquid_find(known, fresh[i].name);
            if (!first || first != dregs_liquid_find(known, fresh[j].name))
                continue;
            for (k = 0; k < DREGS_PROPERTIES; k++)
                if (fresh[i].item[k] && fresh[j].item[k])
                    FAULT(reading, DREGS_BAD_DATA, fresh[j].item[k]->row.line,
                          "%s of %s stands already in line %lu, as of %s", properties[k].name,
                          dregs_quote(one, fresh[j].name), fresh[i].item[k]->row.line,
                          dregs_quote(two, fresh[i].name));
        }
    return reading->bad ? DREGS_BAD_DATA : DREGS_OK;
}

static dregs_status add(dregs_liquids *liquids, const char *name, const char *bytes, size_t length,
                        dregs_faults *faults)
{
    struct reading *reading = calloc(1, sizeof *reading);
    dregs_status status;

    if (!reading)
        return DREGS_NO_MEMORY;
    reading->file = name;
    reading->faults = faults;
    status = read_all(reading, bytes, length);
    if (!status)
        status = check_names(reading, liquids);
    if (!status)
        status = merge(liquids, &reading->fresh);
    if (!status)
        liquids->dialect = reading->fresh.dialect;
    clear(&reading->fresh);
    free(reading);
    dregs_faults_sort(faults);
    return status;
}

dregs_status dregs_liquids_add(dregs_liquids *liquids, const char *name, const char *bytes,
                               size_t length, dregs_faults *faults)
{
    if (!name)
        name = "";
    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", name);
    return add(liquids, name, bytes, length, faults);
}

dregs_liquids *dregs_liquids_new(void)
{
    dregs_liquids *liquids = calloc(1, sizeof *liquids);

    if (liquids)
        liquids->regulations = dregs_regulations_new();
    /* that the built-in text has no fault is a test's business */
    if (liquids && (!liquids->regulations || add(liquids, NULL, (const char *)dregs_liquids_builtin,
                                                 dregs_liquids_builtin_length, NULL))) {
        dregs_liquids_free(liquids);
        liquids = NULL;
    }
    return liquids;
}

void dregs_liquids_free(dregs_liquids *liquids)
{
    if (!liquids)
        return;
    clear(liquids);
    free(liquids);
}

const dregs_regulations *dregs_liquids_regulations(const dregs_liquids *liquids)
{
    return liquids->regulations;
}

dregs_dialect dregs_liquids_dialect(const dregs_liquids *liquids)
{
    return liquids->dialect;
}

/* ---- lookups ---- */

const char *dregs_liquids_name(const dregs_liquids *liquids, size_t index)
{
    return index < liquids->count ? liquids->liquid[index].name : NULL;
}

int dregs_liquids_has(const dregs_liquids *liquids, const char *liquid)
{
    return dregs_liquid_find(liquids, liquid) != NULL;
}

const char *dregs_liquids_find(const dregs_liquids *liquids, const char *wanted)
{
    const struct liquid *known = dregs_liquid_find(liquids, wanted);

    return known ? known->name : NULL;
}

const char *dregs_liquids_nearest(const dregs_liquids *liquids, const char *wanted)
{
    return dregs_liquid_nearest(liquids->liquid, liquids->count, wanted);
}

static const struct item *find_item(const dregs_liquids *liquids, const char *liquid,
                                    dregs_property property)
{
    const struct liquid *known = dregs_liquid_find(liquids, liquid);

    return known && (unsigned)property < DREGS_PROPERTIES ? known->item[property] : NULL;
}

const dregs_liquid_row *dregs_liquids_row(const dregs_liquids *liquids, const char *liquid,
                                          dregs_property property)
{
    const struct item *item = find_item(liquids, liquid, property);
    return item ? &item->row : NULL;
}

const char *dregs_equation_letters(const char *equation)
{
    const dregs_equation *known = dregs_liquid_equation_find(equation);
    return known ? known->takes : NULL;
}

const char *dregs_property_name(dregs_property property)
{
    return (unsigned)property < DREGS_PROPERTIES ? properties[property].name : NULL;
}

const char *dregs_property_unit(dregs_property property)
{
    return (unsigned)property < DREGS_PROPERTIES ? properties[property].unit : NULL;
}

const char *dregs_property_word(dregs_property property, size_t index)
{
    return (unsigned)property < DREGS_PROPERTIES && index < WORDS_MOST ? words_of[property][index]
                                                                       : NULL;
}

/* ---- values ---- */

static dregs_status say_unknown(const dregs_liquids *liquids, const char *liquid,
                                dregs_property property, char *message)
{
    const char *name = dregs_property_name(property);
    const char *near =
        dregs_liquids_has(liquids, liquid) ? NULL : dregs_liquids_nearest(liquids, liquid);
    char quoted[DREGS_QUOTED], near_quoted[DREGS_QUOTED];

    if (!message)
        return DREGS_UNKNOWN;
    if (dregs_liquids_has(liquids, liquid))
        snprintf(message, DREGS_LIQUID_MESSAGE, "no %s of %s in the liquid table",
                 name ? name : "such property", dregs_quote(quoted, liquid));
    else
        snprintf(message, DREGS_LIQUID_MESSAGE, "unknown liquid %s%s%s%s",
                 dregs_quote(quoted, liquid), near ? " (nearest: " : "",
                 near ? dregs_quote(near_quoted, near) : "", near ? ")" : "");
    return DREGS_UNKNOWN;
}

static dregs_status say_range(const struct liquid *liquid, const struct item *item,
                              double temperature, char *message)
{
    const dregs_liquid_row *row = &item->row;
    char at[DREGS_NUMBER_TEXT], from[DREGS_NUMBER_TEXT], to[DREGS_NUMBER_TEXT];
    char least[DREGS_NUMBER_TEXT], most[DREGS_NUMBER_TEXT], quoted[DREGS_QUOTED], on[120] = " only";
    double low = row->low, high = row->high;

    dregs_liquid_reach(liquid, item, &low, &high);
    if (low < row->low - 0.1 || high > row->high + 0.1)
        snprintf(on, sizeof on, ", carried on to %s and %s degC",
                 dregs_number_plain(least, low - 273.15, 6),
                 dregs_number_plain(most, high - 273.15, 6));
    if (message)
        snprintf(message, DREGS_LIQUID_MESSAGE,
                 "%s of %s at %s degC: its data reach from %s to %s degC%s",
                 properties[row->property].name, dregs_quote(quoted, row->liquid),
                 dregs_number_plain(at, temperature - 273.15, 6),
                 dregs_number_plain(from, row->low - 273.15, 6),
                 dregs_number_plain(to, row->high - 273.15, 6), on);
    return DREGS_OUT_OF_RANGE;
}

static dregs_status say_not_finite(const struct item *item, double temperature, char *message)
{
    char at[DREGS_NUMBER_TEXT], quoted[DREGS_QUOTED];

    if (message)
        snprintf(message, DREGS_LIQUID_MESSAGE,
                 "%s of %s at %s degC: the equation in line %lu of its table gives no %s",
                 properties[item->row.property].name, dregs_quote(quoted, item->row.liquid),
                 dregs_number_plain(at, temperature - 273.15, 6), item->row.line,
                 is_share(item->row.property) ? "share between 0 and 1" : "positive finite number");
    return DREGS_NUMERIC;
}

static dregs_status say_no_temperature(char *message)
{
    if (message)
        snprintf(message, DREGS_LIQUID_MESSAGE,
                 "the temperature is not a positive number of kelvin");
    return DREGS_DOMAIN;
}

/* -1 below the row's range, 1 above it, 0 within it or where it has none. The slack is for 25 degC
 * written as 298.15: the ends must not be lost to rounding. */
static int beyond(const struct item *item, double temperature)
{
    if (isnan(item->row.low))
        return 0;
    return temperature < item->row.low * (1.0 - 1e-9)    ? -1
           : temperature > item->row.high * (1.0 + 1e-9) ? 1
                                                         : 0;
}

static dregs_status number_of(const struct liquid *liquid, const struct item *item,
                              double temperature, double *value, char *message)
{
    double si;

    if (!isnan(item->row.low) && (!(temperature > 0.0) || !isfinite(temperature)))
        return say_no_temperature(message);
    if (beyond(item, temperature)) {
        si = dregs_liquid_beyond(liquid, item, temperature);
        if (!isfinite(si))
            return say_range(liquid, item, temperature, message);
        if (item->off)
            si *= dregs_liquid_off(liquid, item, temperature);
    } else {
        double within = isnan(item->row.low)
                            ? temperature
                            : fmin(fmax(temperature, item->row.low), item->row.high);
        si = dregs_liquid_evaluate(item, within);
        if (item->off)
            si *= item->factor;
    }
    if (!isfinite(si) || (is_share(item->row.property) && si > 1))
        return say_not_finite(item, temperature, message);
    *value = si;
    return DREGS_OK;
}

dregs_status dregs_liquids_value(const dregs_liquids *liquids, const char *liquid,
                                 dregs_property property, double temperature, double *value,
                                 char *message)
{
    const struct liquid *known = dregs_liquid_find(liquids, liquid);
    const struct item *item =
        known && (unsigned)property < DREGS_PROPERTIES ? known->item[property] : NULL;
    char quoted[DREGS_QUOTED];

    if (!item)
        return say_unknown(liquids, liquid, property, message);
    if (item->row.word) {
        if (message)
            snprintf(message, DREGS_LIQUID_MESSAGE, "%s of %s is a word, not a number",
                     properties[property].name, dregs_quote(quoted, liquid));
        return DREGS_DOMAIN;
    }
    return number_of(known, item, temperature, value, message);
}

dregs_status dregs_liquids_accuracy(const dregs_liquids *liquids, const char *liquid,
                                    dregs_property property, double temperature, double *accuracy,
                                    char *message)
{
    double value;
    dregs_status status =
        dregs_liquids_value(liquids, liquid, property, temperature, &value, message);
    const struct item *item = status ? NULL : find_item(liquids, liquid, property);
    char quoted[DREGS_QUOTED];

    if (status)
        return status;
    if (isnan(item->row.accuracy)) {
        if (message)
            snprintf(message, DREGS_LIQUID_MESSAGE, "no accuracy is stated of the %s of %s",
                     properties[property].name, dregs_quote(quoted, liquid));
        return DREGS_UNKNOWN;
    }
    *accuracy = dregs_liquid_known_to(dregs_liquid_find(liquids, liquid), item, temperature);
    return DREGS_OK;
}

int dregs_liquids_extended(const dregs_liquids *liquids, const char *liquid,
                           dregs_property property, double temperature, char *sentence)
{
    const struct item *item = find_item(liquids, liquid, property);
    char at[DREGS_NUMBER_TEXT], by[DREGS_NUMBER_TEXT], doubt[DREGS_NUMBER_TEXT];
    double value;
    int side = item && !item->row.word ? beyond(item, temperature) : 0;

    if (!side || dregs_liquids_value(liquids, liquid, property, temperature, &value, NULL))
        return 0;
    if (sentence)
        snprintf(sentence, DREGS_LIQUID_MESSAGE,
                 "%s of %s at %s degC, %s K %s its data: %s, within %s %%",
                 properties[property].name, liquid, dregs_number_plain(at, temperature - 273.15, 4),
                 dregs_number_plain(
                     by, side < 0 ? item->row.low - temperature : temperature - item->row.high, 3),
                 side < 0 ? "below" : "above", dregs_liquid_carried(property),
                 dregs_number_plain(doubt,
                                    100 * dregs_liquid_doubt(dregs_liquid_find(liquids, liquid),
                                                             item, temperature),
                                    2));
    return 1;
}

dregs_status dregs_liquids_reach(const dregs_liquids *liquids, const char *liquid,
                                 dregs_property property, double *low, double *high)
{
    const struct liquid *known = dregs_liquid_find(liquids, liquid);
    const struct item *item = find_item(liquids, liquid, property);

    if (!item || isnan(item->row.low))
        return DREGS_UNKNOWN;
    dregs_liquid_reach(known, item, low, high);
    return DREGS_OK;
}

/* Asks for a row that a user's own liquid lacks. */
static dregs_status ask_for(const dregs_liquids *liquids, const char *liquid,
                            dregs_property property, char *message)
{
    const struct liquid *known = dregs_liquid_find(liquids, liquid);
    const char *file = "the table of liquids";
    char quoted[DREGS_QUOTED], all[160];
    int p;

    if (!known || !message)
        return say_unknown(liquids, liquid, property, message);
    for (p = 0; p < DREGS_PROPERTIES; p++)
        if (known->item[p] && known->item[p]->row.file)
            file = known->item[p]->row.file;
    snprintf(message, DREGS_LIQUID_MESSAGE,
             "%.60s: no %s of %s: add a row of this liquid and this property with the equation A, "
             "no unit, a source, and in column A one of: %s",
             file, properties[property].name, dregs_quote(quoted, liquid),
             list(all, sizeof all, words_of[property], count_words(property), ", "));
    return DREGS_UNKNOWN;
}

/* The place of a liquid's word among those that the property may be. */
static dregs_status word_at(const dregs_liquids *liquids, const char *liquid,
                            dregs_property property, size_t *index, char *message)
{
    const struct item *item = find_item(liquids, liquid, property);
    size_t i = 0;

    if (!item)
        return ask_for(liquids, liquid, property, message);
    while (words_of[property][i] != item->row.word)
        i++;
    *index = i;
    return DREGS_OK;
}

dregs_status dregs_liquids_class(const dregs_liquids *liquids, const char *liquid,
                                 dregs_liquid_class *liquid_class, char *message)
{
    size_t index = 0;
    dregs_status status = word_at(liquids, liquid, DREGS_CLASS, &index, message);

    if (!status)
        *liquid_class = (dregs_liquid_class)index;
    return status;
}

dregs_status dregs_liquids_miscibility(const dregs_liquids *liquids, const char *liquid,
                                       dregs_miscibility *miscibility, char *message)
{
    size_t index = 0;
    dregs_status status = word_at(liquids, liquid, DREGS_MISCIBILITY, &index, message);

    if (!status)
        *miscibility = (dregs_miscibility)index;
    return status;
}
