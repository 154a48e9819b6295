/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fill.c: the sentence of a caution with the facts filled in. */
#include "caution/rules.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { CELSIUS = 0, LIMITS_TEXT = 400 };

/* Names that stand for a number: the fact, what it is multiplied by (CELSIUS: an absolute
 * temperature in degC), significant digits. */
static const struct {
    const char *name;
    int fact;
    double scale;
    int digits;
} numbers[] = {
    {"temperature", DREGS_FACT_TEMPERATURE, CELSIUS, 3},
    {"flash point", DREGS_FACT_FLASH_POINT, CELSIUS, 3},
    {"times lower limit", FIRE, 1, 3},
    {"times exposure limit", EXPOSED, 1, 2},
    {"about times lower limit", FIRE, 1, 2},
    {"exposure limit", DREGS_FACT_EXPOSURE_LIMIT, 1e6, 4}, /* ppm */
    {"content", DREGS_FACT_CONTENT, 1, 3},                 /* g/L */
    {"content of caustic", DREGS_FACT_CAUSTIC, 1, 3},      /* g/L */
    {"content of acid", DREGS_FACT_ACID, 1, 3},            /* g/L */
    {"content of oxidiser", DREGS_FACT_OXIDISER, 1, 3},    /* g/L */
    {"lower limit", DREGS_FACT_LOWER_LIMIT, 100, 3},       /* % */
    {"flammable", DREGS_FACT_FLAMMABLE, 100, 3},           /* % */
    {"vapour", DREGS_FACT_VAPOUR, 1e6, 4},                 /* ppm */
    {"autoignition", DREGS_FACT_AUTOIGNITION, CELSIUS, 3},
    {"wall", DREGS_FACT_WALL, CELSIUS, 3},
    {"coldest", DREGS_FACT_COLDEST, CELSIUS, 3},
    {"dew point", DREGS_FACT_DEW_POINT, CELSIUS, 3},
    {"air needed", DREGS_FACT_AIR_NEEDED, 3600, 4},    /* m3/h */
    {"air on the mean", DREGS_FACT_AIR_MEAN, 3600, 3}, /* m3/h */
    {"one load", DREGS_FACT_ONE_LOAD, 100, 3},         /* % */
    {"loads to a quarter", LOADS, 1, 4},
    {"film", DREGS_FACT_FILM, 1e3, 3},       /* mm */
    {"dragged", DREGS_FACT_DRAGGED, 100, 3}, /* % */
    {"crowded", DREGS_FACT_CROWDED, 0.1, 3}, /* dm2/L */
    {"filled", DREGS_FACT_FILLED, 100, 3},   /* % */
    {"dirtier", DREGS_FACT_DIRTIER, 1, 3},
    {"adheres", DREGS_FACT_ADHERES, 100, 3}, /* % */
    {"takes", DREGS_FACT_TAKES, 1, 3},
    {"power", DREGS_FACT_POWER, 1, 4},
    {"settles", DREGS_FACT_SETTLES, CELSIUS, 3},
    {"warms in", DREGS_FACT_WARMS_IN, 1.0 / 60, 3}, /* min */
    {"cools from", DREGS_FACT_COOLS_FROM, CELSIUS, 3},
    {"cools to", DREGS_FACT_COOLS_TO, CELSIUS, 3},
    {"cools in", DREGS_FACT_COOLS_IN, 1.0 / 60, 3},           /* min */
    {"parts cool in", DREGS_FACT_PARTS_COOL_IN, 1.0 / 60, 2}, /* min */
    {"water taken", DREGS_FACT_WATER_TAKEN, 100, 2},          /* % */
    {"fresh air", DREGS_FACT_FRESH_AIR, 3600, 3},             /* m3/h */
};

/* Adds to a text what finds room. */
static void add(char text[DREGS_CAUTION_TEXT], const char *more, size_t length)
{
    size_t used = strlen(text);

    snprintf(text + used, DREGS_CAUTION_TEXT - used, "%.*s", (int)length, more);
}

static void add_text(char text[DREGS_CAUTION_TEXT], const char *more)
{
    if (more)
        add(text, more, strlen(more));
}

/* Of a thousand and more no power of ten: 20600, not 2.06e+04. */
static const char *plain(char number[DREGS_NUMBER_TEXT], double value, int digits)
{
    double ten;

    if (!(fabs(value) >= pow(10, digits)) || !(fabs(value) < 1e9))
        return dregs_number_plain(number, value, digits);
    ten = pow(10, floor(log10(fabs(value))) + 1 - digits);
    return dregs_number_plain(number, round(value / ten) * ten, 9);
}

static void fill_number(char *text, const dregs_facts *facts, const char *name, size_t length)
{
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        double value;
        if (strlen(numbers[i].name) != length || strncmp(numbers[i].name, name, length) != 0)
            continue;
        value = dregs_caution_fact_of(facts, numbers[i].fact);
        value = numbers[i].scale == CELSIUS ? value - 273.15 : value * numbers[i].scale;
        add_text(text, isnan(value) ? "unknown" : plain(number, value, numbers[i].digits));
    }
}

/* "40", and "21 degC in 312", of what ultrasound warms. */
static void fill_warming(const dregs_facts *facts, char settled[DREGS_NUMBER_TEXT],
                         char cooled[3 * DREGS_NUMBER_TEXT])
{
    char to[DREGS_NUMBER_TEXT], in[DREGS_NUMBER_TEXT];

    dregs_number_plain(settled, facts->value[DREGS_FACT_SETTLES] - 273.15, 3);
    snprintf(cooled, 3 * (size_t)DREGS_NUMBER_TEXT, "%s degC in %s",
             dregs_number_plain(to, facts->value[DREGS_FACT_COOLS_TO] - 273.15, 3),
             dregs_number_plain(in, facts->value[DREGS_FACT_COOLS_IN] / 60, 3));
}

static void fill_limits(const dregs_facts *facts, char limits[LIMITS_TEXT])
{
    char number[DREGS_NUMBER_TEXT];

    limits[0] = '\0';
    if (facts->liquids && facts->liquid)
        dregs_caution_limits_write(facts->liquids, facts->liquid, limits, LIMITS_TEXT);
    if (!*limits && !isnan(facts->value[DREGS_FACT_EXPOSURE_LIMIT]))
        snprintf(limits, LIMITS_TEXT, "at most %s ppm",
                 dregs_number_plain(number, facts->value[DREGS_FACT_EXPOSURE_LIMIT] * 1e6, 4));
}

/* What a name that stands for words is filled with: 1, or 0 for a name that is none of them. */
static int fill_words(char *text, const dregs_facts *facts, const char *where, const char *name,
                      size_t length)
{
    const dregs_regulation *law = facts->regulation;
    int mixed = facts->mixed_with || facts->value[DREGS_FACT_SHARE] < 1;
    int worked_out = facts->value[DREGS_FACT_OF_MIXTURE] > 0;
    char limits[LIMITS_TEXT], settled[DREGS_NUMBER_TEXT], cooled[3 * DREGS_NUMBER_TEXT];
    const struct {
        const char *name;
        int given; /* 0: nothing is filled in */
        const char *before, *words, *behind;
    } words[] = {
        {"where", *where != '\0', "", where, ": "},
        {"liquid", 1, "", facts->liquid, ""},
        {"assumed", facts->value[DREGS_FACT_ASSUMED] > 0, " (assumed)", "", ""},
        {"mixed with", 1, "", facts->mixed_with, ""},
        {"pure", mixed && !worked_out, " (treated as pure ", facts->liquid,
         "; the mixture differs)"},
        {"of mixture", mixed,
         worked_out ? " (the mixture's, calculated; measure it)" : " (treated as pure ",
         worked_out ? "" : facts->liquid, worked_out ? "" : "; the mixture differs)"},
        {"jurisdiction", law != NULL, "", law ? law->jurisdiction : "", ""},
        {"says", law != NULL, "", law ? law->fact : "", ""},
        {"status", law != NULL, "", law ? law->status_date : "", ""},
        {"citation", law != NULL, "", law ? law->citation : "", ""},
        {"noted", law != NULL, law && *law->noted ? "noted " : "from memory", law ? law->noted : "",
         ""},
        {"limits", 1, "", limits, ""},
        {"settled", !isnan(facts->value[DREGS_FACT_SETTLES]), "; left on, it settles at ", settled,
         " degC"},
        {"cooled", !isnan(facts->value[DREGS_FACT_COOLS_IN]), " Switched off, it cools to ", cooled,
         " min."},
        {"parts assumed", facts->value[DREGS_FACT_PARTS_ASSUMED] > 0, " (1 mm of steel assumed)",
         "", ""},
        {"solute", 1, "", facts->solute[DREGS_HAZARD_UNSTATED], ""},
        {"caustic", 1, "", facts->solute[DREGS_HAZARD_CAUSTIC], ""},
        {"acid", 1, "", facts->solute[DREGS_HAZARD_ACID], ""},
        {"drained", 1, "", facts->solute[DREGS_DRAINED], ""},
        {"releasing", 1, "", facts->solute[DREGS_RELEASING], ""},
        {"oxidiser", 1, "", facts->solute[DREGS_HAZARD_OXIDISER], ""},
    };
    size_t i;

    fill_warming(facts, settled, cooled);
    fill_limits(facts, limits);
    for (i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strlen(words[i].name) != length || strncmp(words[i].name, name, length) != 0)
            continue;
        if (words[i].given) {
            add_text(text, words[i].before);
            add_text(text, words[i].words);
            add_text(text, words[i].behind);
        }
        return 1;
    }
    return 0;
}

void dregs_caution_fill(const char *sentence, const dregs_facts *facts, const char *where,
                        char text[DREGS_CAUTION_TEXT])
{
    text[0] = '\0';
    while (*sentence) {
        size_t plain = strcspn(sentence, "{"), length;
        add(text, sentence, plain);
        sentence += plain;
        if (*sentence != '{')
            break;
        sentence++;
        length = strcspn(sentence, "}");
        if (!fill_words(text, facts, where, sentence, length))
            fill_number(text, facts, sentence, length);
        sentence += length + (sentence[length] == '}');
    }
}
