/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_site.c: facts of a site that no line file tells, from their words. */
#include "answer/tally.h"
#include "base/grow.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void dregs_site_init_of_size(dregs_site *site, size_t size)
{
    dregs_site made = {.size = size};

    made.chamber = made.captured = made.destroyed = NAN;
    made.solid_waste = made.other_waste = NAN;
    dregs_give(site, size, &made, sizeof made);
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

/* One of the words, from 1. */
static dregs_status word_of(const char *key, const char *text, const char *const *words, int *into,
                            char *message)
{
    char list[160] = "";
    size_t used = 0;
    int i;

    for (i = 0; words[i]; i++) {
        if (strcmp(text, words[i]) == 0) {
            *into = i + 1;
            return DREGS_OK;
        }
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", words[i]);
    }
    return refuse(message, DREGS_BAD_DATA, "%s: '%s' is none of %s", key, text, list);
}

static dregs_status quantity_of(const char *key, const char *text, const char *like, double low,
                                double high, double *into, char *message)
{
    char why[DREGS_UNIT_MESSAGE];
    double si;

    if (dregs_unit_quantity(text, like, &si, why))
        return refuse(message, DREGS_BAD_DATA, "%s: '%s': %s", key, text, why);
    if (!(si >= low) || !(si <= high))
        return refuse(message, DREGS_BAD_DATA, "%s: '%s' is out of its range", key, text);
    *into = si;
    return DREGS_OK;
}

/* STAGE.flash point=T */
static dregs_status take_flash(dregs_site *site, const char *stage, size_t length,
                               const char *value, char *message)
{
    dregs_site_flash *flash = &site->flash[site->flashes];
    double kelvin;
    dregs_status status;

    if (site->flashes >= DREGS_SITE_FLASHES_MOST)
        return refuse(message, DREGS_BAD_DATA, "flash point: more than %d of them",
                      DREGS_SITE_FLASHES_MOST);
    if (length >= sizeof flash->stage)
        return refuse(message, DREGS_BAD_DATA, "flash point: a stage of so long a name");
    status = quantity_of("flash point", value, "degC", 150, 1000, &kelvin, message);
    if (status)
        return status;
    memcpy(flash->stage, stage, length);
    flash->stage[length] = '\0';
    flash->kelvin = kelvin;
    site->flashes++;
    return DREGS_OK;
}

/* The facts that are words; DREGS_UNKNOWN for another key. */
static dregs_status take_word(dregs_site *site, const char *key, const char *value, char *message)
{
    static const char *const machines[] = {"batch vapour", "existing in-line", "new in-line",
                                           "no interface", "batch cold",       NULL};
    static const char *const activities[] = {"article 59(5)", "other", NULL};
    static const char *const drains[] = {"sewer", "waste", NULL};
    static const char *const characteristics[] = {"none", NULL};
    const char *const *words = strcmp(key, "machine") == 0           ? machines
                               : strcmp(key, "activity") == 0        ? activities
                               : strcmp(key, "drain") == 0           ? drains
                               : strcmp(key, "characteristics") == 0 ? characteristics
                                                                     : NULL;
    int word = 0;
    dregs_status status = words ? word_of(key, value, words, &word, message) : DREGS_UNKNOWN;

    if (status)
        return status;
    if (words == machines)
        site->machine = (dregs_site_machine)word;
    else if (words == activities)
        site->activity = (dregs_site_activity)word;
    else if (words == drains)
        site->drain = (dregs_site_drain)word;
    else
        site->characteristics = (dregs_site_characteristics)word;
    return DREGS_OK;
}

/* The facts that are quantities; DREGS_UNKNOWN for another key. */
static dregs_status take_quantity(dregs_site *site, const char *key, const char *value,
                                  char *message)
{
    const struct {
        const char *key, *like;
        double low, high, *into;
    } facts[] = {{"chamber", "m3", 1e-6, 1e6, &site->chamber},
                 {"captured", "%", 0, 1, &site->captured},
                 {"destroyed", "%", 0, 1, &site->destroyed},
                 {"solid waste", "kg", 0, 1e9, &site->solid_waste},
                 {"other waste", "kg", 0, 1e9, &site->other_waste}};
    size_t i;

    for (i = 0; i < sizeof facts / sizeof facts[0]; i++)
        if (strcmp(key, facts[i].key) == 0)
            return quantity_of(key, value, facts[i].like, facts[i].low, facts[i].high,
                               facts[i].into, message);
    return DREGS_UNKNOWN;
}

static dregs_status take_fact(dregs_site *site, const char *fact, char *message)
{
    static const char tail[] = ".flash point";
    const size_t tail_length = sizeof tail - 1;
    const char *equals = strchr(fact, '='), *value = equals ? equals + 1 : "";
    size_t length = equals ? (size_t)(equals - fact) : 0;
    char key[64];
    dregs_status status;

    snprintf(key, sizeof key, "%.*s", (int)(length < 63 ? length : 63), fact);
    status = take_word(site, key, value, message);
    if (status == DREGS_UNKNOWN)
        status = take_quantity(site, key, value, message);
    if (status != DREGS_UNKNOWN)
        return status;
    if (length > tail_length && strncmp(equals - tail_length, tail, tail_length) == 0)
        return take_flash(site, fact, length - tail_length, value, message);
    return refuse(message, DREGS_UNKNOWN,
                  "'%s' is none of machine, chamber, activity, captured, destroyed, drain, solid "
                  "waste, other waste, characteristics, STAGE.flash point, with =VALUE",
                  fact);
}

dregs_status dregs_site_take(dregs_site *site, const char *fact, char *message)
{
    dregs_site own;
    dregs_status status;

    dregs_site_init(&own);
    if (!dregs_take(&own, sizeof own, site))
        return refuse(message, DREGS_DOMAIN, "the facts were not set up");
    status = take_fact(&own, fact, message);
    if (!status) {
        size_t size = site->size;
        dregs_give(site, size, &own, sizeof own);
        site->size = size;
    }
    return status;
}
