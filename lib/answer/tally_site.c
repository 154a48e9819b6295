/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_site.c: facts of a site that no line file tells, from their words; and the answers that
 * each has, for those who ask for it.
 */
#include "answer/tally.h"
#include "base/grow.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS_MOST = 6 };

/* A fact that is a word: the enumeration of its field counts the words from 1. */
static const struct word_fact {
    const char *key;
    size_t field;
    const char *words[WORDS_MOST];
} word_facts[] = {
    {"machine",
     offsetof(dregs_site, machine),
     {"batch vapour", "existing in-line", "new in-line", "no interface", "batch cold"}},
    {"standard", offsetof(dregs_site, standard), {"63.463", "63.464"}},
    {"facility", offsetof(dregs_site, facility), {"general", "military depot", "exempt"}},
    {"source", offsetof(dregs_site, source), {"area", "major"}},
    {"activity", offsetof(dregs_site, activity), {"article 59(5)", "other"}},
    {"drain", offsetof(dregs_site, drain), {"sewer", "waste"}},
    {"characteristics", offsetof(dregs_site, characteristics), {"none"}},
};
enum { WORD_FACTS = sizeof word_facts / sizeof word_facts[0] };

_Static_assert(sizeof(dregs_site_machine) == sizeof(int), "a fact is stored as an int");

/* A fact that is a quantity. */
static const struct quantity_fact {
    const char *key;
    size_t field;
    const char *like, *low, *high, *example;
} quantity_facts[] = {
    {"chamber", offsetof(dregs_site, chamber), "m3", "1e-6 m3", "1e6 m3", "0.1 m3"},
    {"interface", offsetof(dregs_site, interface), "m2", "1e-6 m2", "1e4 m2", "1.1 m2"},
    {"hours", offsetof(dregs_site, hours), "h", "0 h", "8784 h", "4000 h"},
    {"captured", offsetof(dregs_site, captured), "%", "0 %", "100 %", "80%"},
    {"destroyed", offsetof(dregs_site, destroyed), "%", "0 %", "100 %", "95%"},
    {"solid waste", offsetof(dregs_site, solid_waste), "kg", "0 kg", "1e9 kg", "3 kg"},
    {"other waste", offsetof(dregs_site, other_waste), "kg", "0 kg", "1e9 kg", "30 kg"},
    {"other machines", offsetof(dregs_site, other_machines), "kg", "0 kg", "1e9 kg", "0 kg"},
    {"reclaimed", offsetof(dregs_site, reclaimed), "kg", "0 kg", "1e9 kg", "60 kg"},
};
enum { QUANTITY_FACTS = sizeof quantity_facts / sizeof quantity_facts[0] };

/* Flash points, closed cup. */
#define FLASH_LOW  "-120 degC"
#define FLASH_HIGH "700 degC"

void dregs_site_init_of_size(dregs_site *site, size_t size)
{
    const double unknown = NAN;
    size_t i;

    /* in its place: the facts are too large for the stack */
    memset(site, 0, size);
    memcpy(site, &size, sizeof size);
    for (i = 0; i < QUANTITY_FACTS; i++)
        if (quantity_facts[i].field + sizeof unknown <= size)
            memcpy((char *)site + quantity_facts[i].field, &unknown, sizeof unknown);
}

static dregs_status refuse(char *message, dregs_status status, const char *format, ...)
    DREGS_FORMAT(3, 4);

static dregs_status refuse(char *message, dregs_status status, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    if (message)
        vsnprintf(message, DREGS_SITE_MESSAGE, format, arguments);
    va_end(arguments);
    return status;
}

/* ---- the answers ---- */

static void add(char *text, size_t room, const char *format, ...) DREGS_FORMAT(3, 4);

static void add(char *text, size_t room, const char *format, ...)
{
    size_t used = strlen(text);
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(text + used, room - used, format, arguments);
    va_end(arguments);
}

/* As a shell takes it. */
static void add_option(char *text, size_t room, const char *key, const char *value)
{
    const char *quote = strpbrk(key, " ()'") || strpbrk(value, " ()") ? "'" : "";

    add(text, room, "%s%s=%s%s", quote, key, value, quote);
}

static const char *ending(const char *key, const char *tail)
{
    size_t length = strlen(key), cut = strlen(tail);

    return length > cut && strcmp(key + length - cut, tail) == 0 ? key + length - cut : NULL;
}

static void answers_of_stage(const char *key, char *text, size_t room)
{
    if (ending(key, ".flash point")) {
        add_option(text, room, key, "18 degC");
        add(text, room, ", from " FLASH_LOW " to " FLASH_HIGH ", or ");
        add_option(text, room, key, "none");
        add(text, room, " where it does not burn");
    } else if (ending(key, ".listed")) {
        add_option(text, room, key, "F001");
        add(text, room, " to F005, or ");
        add_option(text, room, key, "none");
    } else {
        add_option(text, room, key, "D002");
        add(text, room, " to D043, or ");
        add_option(text, room, key, "none");
    }
}

void dregs_answer_tally_answers(const char *key, char *text, size_t room)
{
    size_t i, k;

    snprintf(text, room, "--given ");
    for (i = 0; i < WORD_FACTS; i++) {
        const char *const *words = word_facts[i].words;
        if (strcmp(key, word_facts[i].key) != 0)
            continue;
        for (k = 0; k < WORDS_MOST && words[k]; k++) {
            int last = k + 1 == WORDS_MOST || !words[k + 1];
            add(text, room, "%s", !k ? "" : last ? " or " : ", ");
            add_option(text, room, key, words[k]);
        }
        return;
    }
    for (i = 0; i < QUANTITY_FACTS; i++) {
        const struct quantity_fact *fact = &quantity_facts[i];
        if (strcmp(key, fact->key) != 0)
            continue;
        add_option(text, room, key, fact->example);
        add(text, room, ", from %s to %s", fact->low, fact->high);
        return;
    }
    answers_of_stage(key, text, room);
}

/* ---- taking one ---- */

static dregs_status twice(const char *key, char *message)
{
    return refuse(message, DREGS_BAD_DATA, "%.200s: given twice", key);
}

static dregs_status take_word(dregs_site *site, const struct word_fact *fact, const char *value,
                              char *message)
{
    char list[160] = "";
    int i, stored;

    memcpy(&stored, (char *)site + fact->field, sizeof stored);
    if (stored)
        return twice(fact->key, message);
    for (i = 0; i < WORDS_MOST && fact->words[i]; i++) {
        if (strcmp(value, fact->words[i]) == 0) {
            stored = i + 1;
            memcpy((char *)site + fact->field, &stored, sizeof stored);
            return DREGS_OK;
        }
        add(list, sizeof list, "%s%s", i ? ", " : "", fact->words[i]);
    }
    return refuse(message, DREGS_BAD_DATA, "%s: '%.200s' is none of %s", fact->key, value, list);
}

static dregs_status quantity_of(const char *key, const char *text, const char *like,
                                const char *low, const char *high, double *into, char *message)
{
    char why[DREGS_UNIT_MESSAGE];
    double si, least = NAN, most = NAN;

    if (dregs_unit_quantity(text, like, &si, why))
        return refuse(message, DREGS_BAD_DATA, "%s: '%.200s': %s", key, text, why);
    (void)dregs_unit_quantity(low, like, &least, NULL);
    (void)dregs_unit_quantity(high, like, &most, NULL);
    if (!(si >= least) || !(si <= most))
        return refuse(message, DREGS_BAD_DATA, "%s: '%.200s' is not from %s to %s", key, text, low,
                      high);
    *into = si;
    return DREGS_OK;
}

static dregs_status take_quantity(dregs_site *site, const struct quantity_fact *fact,
                                  const char *value, char *message)
{
    double stored;
    dregs_status status;

    memcpy(&stored, (char *)site + fact->field, sizeof stored);
    if (!isnan(stored))
        return twice(fact->key, message);
    status = quantity_of(fact->key, value, fact->like, fact->low, fact->high, &stored, message);
    if (!status)
        memcpy((char *)site + fact->field, &stored, sizeof stored);
    return status;
}

/* STAGE.flash point=T */
static dregs_status take_flash(dregs_site *site, const char *key, const char *stage,
                               const char *value, char *message)
{
    dregs_site_flash *flash = &site->flash[site->flashes];
    double kelvin = INFINITY;
    dregs_status status;
    unsigned i;

    for (i = 0; i < site->flashes; i++)
        if (strcmp(site->flash[i].stage, stage) == 0)
            return twice(key, message);
    if (site->flashes >= DREGS_SITE_FLASHES_MOST)
        return refuse(message, DREGS_BAD_DATA, "flash point: more than %d of them",
                      DREGS_SITE_FLASHES_MOST);
    if (strcmp(value, "none") != 0) {
        status = quantity_of("flash point", value, "degC", FLASH_LOW, FLASH_HIGH, &kelvin, message);
        if (status)
            return status;
    }
    snprintf(flash->stage, sizeof flash->stage, "%s", stage);
    flash->kelvin = kelvin;
    site->flashes++;
    return DREGS_OK;
}

/* "none", or the letter with three digits from low to high. */
static int is_code(const char *text, char letter, const char *low, const char *high)
{
    return strcmp(text, "none") == 0 ||
           (strlen(text) == 4 && *text == letter && strspn(text + 1, "0123456789") == 3 &&
            strcmp(text, low) >= 0 && strcmp(text, high) <= 0);
}

/* STAGE.listed=F003, STAGE.characteristics=D002 */
static dregs_status take_code(dregs_site_code *codes, unsigned *count, const char *key,
                              const char *stage, const char *value, char *message)
{
    unsigned i;

    for (i = 0; i < *count; i++)
        if (strcmp(codes[i].stage, stage) == 0)
            return twice(key, message);
    if (*count >= DREGS_SITE_FLASHES_MOST)
        return refuse(message, DREGS_BAD_DATA, "%.200s: more than %d of them", key,
                      DREGS_SITE_FLASHES_MOST);
    snprintf(codes[*count].stage, sizeof codes[*count].stage, "%s", stage);
    snprintf(codes[*count].code, sizeof codes[*count].code, "%.7s", value);
    (*count)++;
    return DREGS_OK;
}

/* A fact of a stage; DREGS_UNKNOWN for another key. */
static dregs_status take_of_stage(dregs_site *site, const char *key, const char *value,
                                  char *message)
{
    static const char *const tails[] = {".flash point", ".listed", ".characteristics"};
    const char *tail = NULL;
    char stage[DREGS_SITE_STAGE];
    size_t i;

    for (i = 0; i < sizeof tails / sizeof tails[0] && !tail; i++)
        tail = ending(key, tails[i]);
    if (!tail)
        return DREGS_UNKNOWN;
    if ((size_t)(tail - key) >= sizeof stage)
        return refuse(message, DREGS_BAD_DATA, "%s: a stage of so long a name", tail + 1);
    snprintf(stage, sizeof stage, "%.*s", (int)(tail - key), key);
    if (strcmp(tail, ".flash point") == 0)
        return take_flash(site, key, stage, value, message);
    if (strcmp(tail, ".listed") == 0)
        return is_code(value, 'F', "F001", "F005")
                   ? take_code(site->listed, &site->listings, key, stage, value, message)
                   : refuse(message, DREGS_BAD_DATA,
                            "%.200s: '%.100s' is neither F001 to F005 nor none", key, value);
    return is_code(value, 'D', "D002", "D043")
               ? take_code(site->trait, &site->traits, key, stage, value, message)
               : refuse(message, DREGS_BAD_DATA,
                        "%.200s: '%.100s' is neither D002 to D043 nor none", key, value);
}

static dregs_status take_fact(dregs_site *site, const char *fact, char *message)
{
    const char *equals = strchr(fact, '='), *value = equals ? equals + 1 : "";
    char key[DREGS_SITE_STAGE + 32];
    dregs_status status;
    size_t i;

    snprintf(key, sizeof key, "%.*s",
             equals && (size_t)(equals - fact) < sizeof key ? (int)(equals - fact) : 0, fact);
    for (i = 0; i < WORD_FACTS; i++)
        if (strcmp(key, word_facts[i].key) == 0)
            return take_word(site, &word_facts[i], value, message);
    for (i = 0; i < QUANTITY_FACTS; i++)
        if (strcmp(key, quantity_facts[i].key) == 0)
            return take_quantity(site, &quantity_facts[i], value, message);
    status = take_of_stage(site, key, value, message);
    if (status != DREGS_UNKNOWN)
        return status;
    return refuse(
        message, DREGS_UNKNOWN,
        "'%.160s' is none of machine, chamber, interface, standard, facility, source, hours, other "
        "machines, solid waste, activity, captured, destroyed, drain, other waste, "
        "reclaimed, characteristics, STAGE.flash point, STAGE.listed, "
        "STAGE.characteristics, with =VALUE",
        fact);
}

dregs_status dregs_site_take(dregs_site *site, const char *fact, char *message)
{
    dregs_site *own = malloc(sizeof *own);
    dregs_status status;

    if (!own)
        return refuse(message, DREGS_NO_MEMORY, "out of memory");
    dregs_site_init(own);
    status = dregs_take(own, sizeof *own, site)
                 ? take_fact(own, fact, message)
                 : refuse(message, DREGS_DOMAIN, "the facts were not set up");
    if (!status) {
        size_t size = site->size;
        dregs_give(site, size, own, sizeof *own);
        site->size = size;
    }
    free(own);
    return status;
}
