/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_instead.c: a line with another solvent in place of one of its own. Its file's text is
 * written anew and read like any other; what belonged to the old solvent is taken out.
 */
#include "answer/tally.h"
#include "dregs/edit.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 512, WORD = 128 };

/* "isopropanol=ethyl acetate, price 2.1 EUR/L, disposal 0.8 EUR/L" in parts. */
struct wanted {
    char from[WORD], to[WORD];
    char value[2][WORD], unit[2][WORD]; /* price, disposal; "" where not stated */
};

static const char *const money[] = {"price", "disposal"};

static void copy_word(char into[WORD], const char *text, size_t length)
{
    while (length && *text == ' ')
        text++, length--;
    while (length && text[length - 1] == ' ')
        length--;
    snprintf(into, WORD, "%.*s", (int)(length < WORD ? length : WORD - 1), text);
}

/* "price 2.1 EUR/L"; 0 when it is none. */
static int take_money(struct wanted *w, const char *text, size_t length)
{
    char part[WORD];
    size_t name, number;
    unsigned i;

    copy_word(part, text, length);
    for (i = 0; i < 2; i++) {
        name = strlen(money[i]);
        if (strncmp(part, money[i], name) != 0 || part[name] != ' ')
            continue;
        number = strcspn(part + name + 1, " ");
        copy_word(w->value[i], part + name + 1, number);
        copy_word(w->unit[i], part + name + 1 + number, strlen(part + name + 1 + number));
        return *w->value[i] && *w->unit[i];
    }
    return 0;
}

static int take_words(struct wanted *w, const char *words)
{
    size_t length = strcspn(words, "=");
    int good = words[length] == '=';

    memset(w, 0, sizeof *w);
    copy_word(w->from, words, length);
    words += length + (words[length] == '=');
    length = strcspn(words, ",");
    /* a comma of "trans-1,2-dichloroethylene" has a digit behind it, that of a price a blank */
    while (words[length] == ',' && words[length + 1] != ' ')
        length += 1 + strcspn(words + length + 1, ",");
    copy_word(w->to, words, length);
    while (good && words[length] == ',') {
        words += length + 1;
        length = strcspn(words, ",");
        good = take_money(w, words, length);
    }
    return good && *w->from && *w->to;
}

/* ---- the changed line ---- */

struct rows {
    dregs_new_row row[ROWS_MOST];
    size_t count;
};

static void add(struct rows *rows, const char *item, const char *property, const char *value,
                const char *unit)
{
    if (rows->count < ROWS_MOST)
        rows->row[rows->count++] = (dregs_new_row){item, property, value, unit, NULL};
}

/* What the old solvent's rows say is not true of the new one. */
static int belongs_to_solvent(const char *property)
{
    static const char *const own[] = {"price",           "disposal", "viscosity",
                                      "surface tension", "COD",      "formula"};
    size_t i;

    for (i = 0; i < sizeof own / sizeof own[0]; i++)
        if (strcmp(property, own[i]) == 0)
            return 1;
    return strncmp(property, "solubility ", 11) == 0;
}

static int is_money(const char *property)
{
    return strcmp(property, "price") == 0 || strcmp(property, "disposal") == 0 ||
           strcmp(property, "change price") == 0;
}

static const dregs_fluid *fluid_named(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++)
        if (strcmp(dregs_line_fluid(line, i)->name, name) == 0)
            return dregs_line_fluid(line, i);
    return NULL;
}

/* Is a price of the old solvent stated that the new one lacks? Then no cost can be told. */
static int lacks_price(const dregs_line *line, const struct wanted *w)
{
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, i);
        if (strcmp(fluid->solvent, w->from) == 0 &&
            ((fluid->price.row && !*w->value[0]) || (fluid->disposal.row && !*w->value[1])))
            return 1;
    }
    return 0;
}

static void collect(const dregs_line *line, const struct wanted *w, struct rows *rows)
{
    int silent = lacks_price(line, w);
    unsigned i, k;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        const dregs_fluid *fluid = fluid_named(line, row->item);
        int changed = fluid && strcmp(fluid->solvent, w->from) == 0;
        if (changed && strcmp(row->property, "solvent") == 0) {
            add(rows, row->item, "solvent", w->to, "");
            for (k = 0; k < 2 && !silent; k++)
                if (*w->value[k])
                    add(rows, row->item, money[k], w->value[k], w->unit[k]);
        } else if ((changed && belongs_to_solvent(row->property) &&
                    !(is_money(row->property) && !silent)) ||
                   (silent && is_money(row->property)))
            add(rows, row->item, row->property, NULL, NULL); /* taken out */
    }
}

dregs_status dregs_tally_instead(const dregs_line *line, const char *words, dregs_line **changed,
                                 dregs_faults *faults)
{
    const dregs_liquids *liquids = dregs_line_liquids(line);
    struct rows *rows;
    struct wanted w;
    char name[400], *text = NULL;
    const char *known;
    dregs_status status;
    size_t length = 0;
    unsigned i, found = 0;

    if (!take_words(&w, words))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                               "'%.100s' is not OLD=NEW, with ', price 2.1 EUR/L' and ', disposal "
                               "0.8 EUR/L' behind it or not",
                               words);
    known = dregs_liquids_find(liquids, w.from);
    for (i = 0; known && i < dregs_line_fluids(line); i++)
        found += strcmp(dregs_line_fluid(line, i)->solvent, known) == 0;
    if (!found)
        return dregs_fault_add(faults, DREGS_UNKNOWN, 0,
                               "no liquid of the line is made of '%.100s'", w.from);
    snprintf(w.from, sizeof w.from, "%s", known);
    if (!dregs_liquids_find(liquids, w.to)) {
        known = dregs_liquids_nearest(liquids, w.to);
        return dregs_fault_add(faults, DREGS_UNKNOWN, 0, "'%.100s' is not in the liquid data%s%s%s",
                               w.to, known ? "; nearest: '" : "", known ? known : "",
                               known ? "'" : "");
    }
    snprintf(w.to, sizeof w.to, "%s", dregs_liquids_find(liquids, w.to));
    rows = calloc(1, sizeof *rows);
    if (!rows)
        return DREGS_NO_MEMORY;
    collect(line, &w, rows);
    status = dregs_edit_set(line, rows->row, rows->count, &text, &length);
    free(rows);
    snprintf(name, sizeof name, "%.250s with %s", dregs_line_name(line), w.to);
    if (!status)
        status = dregs_line_parse(name, text, length, liquids, changed, faults);
    dregs_edit_free(text);
    return status;
}

/* ---- both solvents side by side ---- */

static dregs_tally_beside *beside(dregs_tally_result *answer, const char *name, const char *unit)
{
    dregs_tally_beside *b = &answer->instead.row[answer->instead.rows++];

    b->name = name;
    b->unit = unit;
    b->value[0] = b->value[1] = NAN;
    return b;
}

static double property(const dregs_liquids *liquids, const char *liquid, dregs_property which)
{
    double value = NAN;

    return dregs_liquids_value(liquids, liquid, which, DREGS_ROOM, &value, NULL) ? NAN : value;
}

static void add_numbers(dregs_tally_result *answer, const dregs_liquids *liquids,
                        const char *const liquid[2])
{
    static const struct {
        const char *name, *unit;
        dregs_property property;
        double scale, less;
    } numbers[] = {{"flash point", "degC", DREGS_FLASH_POINT, 1, 273.15},
                   {"lower flammable limit", "% by volume", DREGS_LOWER_LIMIT, 100, 0},
                   {"boiling point", "degC", DREGS_BOILING_POINT, 1, 273.15},
                   {"vapour pressure at 20 degC", "kPa", DREGS_VAPOUR_PRESSURE, 1e-3, 0}};
    size_t i;
    int k;

    for (i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        dregs_tally_beside *b = beside(answer, numbers[i].name, numbers[i].unit);
        for (k = 0; k < 2; k++)
            b->value[k] = property(liquids, liquid[k], numbers[i].property) * numbers[i].scale -
                          numbers[i].less;
    }
}

/* The lowest limit over 8 h on record, ppm, as the cautions take it. */
static void add_limit(dregs_tally_result *answer, const dregs_liquids *liquids,
                      const char *const liquid[2])
{
    dregs_tally_beside *b = beside(answer, "lowest limit over 8 h on record", "ppm");
    dregs_facts facts;
    int k;

    for (k = 0; k < 2; k++) {
        dregs_facts_init(&facts);
        dregs_facts_of_liquid(&facts, liquids, liquid[k], DREGS_ROOM);
        b->value[k] = facts.value[DREGS_FACT_EXPOSURE_LIMIT] * 1e6;
    }
}

static void add_law(dregs_tally_result *answer, const dregs_regulations *r, const char *name,
                    const char *citation, const char *const liquid[2])
{
    dregs_tally_beside *b = beside(answer, name, "");
    int k;

    for (k = 0; k < 2; k++) {
        const dregs_regulation *found = dregs_regulations_find(r, liquid[k], citation);
        snprintf(b->words[k], sizeof b->words[k], "%s", found ? found->code : "not on record");
    }
}

/* "US prohibited; EU authorisation"; "none on record". */
static void add_bans(dregs_tally_result *answer, const dregs_regulations *r,
                     const char *const liquid[2])
{
    static const char *const codes[] = {"prohibited", "restricted", "authorisation", "proposed"};
    dregs_tally_beside *b = beside(answer, "bans and restrictions of use on parts", "");
    const dregs_regulation *law;
    size_t i, c;
    int k;

    for (k = 0; k < 2; k++) {
        for (i = 0; (law = dregs_regulations_at(r, i)) != NULL; i++)
            for (c = 0; c < sizeof codes / sizeof codes[0]; c++)
                if (strcmp(law->liquid, liquid[k]) == 0 && strcmp(law->code, codes[c]) == 0) {
                    size_t used = strlen(b->words[k]);
                    snprintf(b->words[k] + used, sizeof b->words[k] - used, "%s%s %s",
                             used ? "; " : "", law->jurisdiction, codes[c]);
                }
        if (!*b->words[k])
            snprintf(b->words[k], sizeof b->words[k], "none on record");
    }
}

/* kg of a line's solvents that go into the air: of all that are VOC by 40 CFR 51.100(s), or of
 * one. NaN where one is not on record. */
static double into_air(const dregs_tally_result *answer, unsigned line, const dregs_regulations *r,
                       const char *only)
{
    const dregs_tally *tally = answer->line[line].tally;
    const char *name;
    double sum = 0;
    unsigned i;

    for (i = 0; (name = dregs_tally_solvent_name(tally, i)) != NULL; i++) {
        const dregs_regulation *voc = dregs_regulations_find(r, name, "51.100(s)");
        double mass =
            dregs_tally_solvent(tally, DREGS_STREAM_EVAPORATED, i, DREGS_WHOLE, DREGS_WHOLE) +
            dregs_tally_solvent(tally, DREGS_STREAM_DRIED, i, DREGS_WHOLE, DREGS_WHOLE);
        if (only ? strcmp(name, only) != 0 : strcmp(name, "water") == 0)
            continue;
        if (!only && !voc)
            return NAN;
        if (only || strcmp(voc->code, "VOC") == 0)
            sum += mass;
    }
    return sum;
}

dregs_status dregs_answer_tally_instead(dregs_tally_result *answer, dregs_faults *faults)
{
    const dregs_liquids *liquids = dregs_line_liquids(answer->line[0].one.line);
    dregs_regulations *r;
    const char *liquid[2];
    dregs_tally_beside *b;
    struct wanted w;
    int k;

    if (answer->question.lines != 2 || !take_words(&w, answer->question.instead))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                               "a solvent in place of another takes a line "
                               "and the changed one");
    liquid[0] = dregs_liquids_find(liquids, w.from);
    liquid[1] = dregs_liquids_find(liquids, w.to);
    if (!liquid[0] || !liquid[1])
        return dregs_fault_add(faults, DREGS_UNKNOWN, 0, "no such liquid");
    r = dregs_regulations_new();
    if (!r)
        return DREGS_NO_MEMORY;
    snprintf(w.from, sizeof w.from, "%s", liquid[0]);
    answer->instead.from = liquid[0];
    answer->instead.to = liquid[1];
    answer->instead.unpriced = lacks_price(answer->line[0].one.line, &w);
    b = beside(answer, "of it into the air", "kg");
    for (k = 0; k < 2; k++)
        b->value[k] = into_air(answer, (unsigned)k, r, liquid[k]);
    b = beside(answer, "VOC of all solvents into the air, US", "kg");
    for (k = 0; k < 2; k++)
        b->value[k] = into_air(answer, (unsigned)k, r, NULL);
    add_numbers(answer, liquids, liquid);
    add_limit(answer, liquids, liquid);
    add_law(answer, r, "40 CFR 51.100(s)", "51.100(s)", liquid);
    add_law(answer, r, "hazardous air pollutant, 112(b)", "112(b)", liquid);
    add_bans(answer, r, liquid);
    dregs_regulations_free(r);
    return DREGS_OK;
}

const dregs_tally_beside *dregs_tally_result_beside(const dregs_tally_result *answer,
                                                    unsigned index)
{
    return index < answer->instead.rows ? &answer->instead.row[index] : NULL;
}

int dregs_tally_result_instead(const dregs_tally_result *answer, const char **from, const char **to,
                               int *unpriced)
{
    if (!answer->instead.rows)
        return 0;
    *from = answer->instead.from;
    *to = answer->instead.to;
    *unpriced = answer->instead.unpriced;
    return 1;
}
