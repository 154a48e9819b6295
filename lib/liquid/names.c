/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* names.c: what liquids are called besides: other names and CAS numbers. */
#include "base/text.h"
#include "liquid/inside.h"

#include <stdlib.h>
#include <string.h>

enum { SHORTEST = 5, NAME_ROOM = 64 };

static int lower(char c)
{
    return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c;
}

static int same(const char *name, size_t length, const char *wanted)
{
    size_t i;

    for (i = 0; i < length; i++)
        if (lower(name[i]) != lower(wanted[i])) /* ends at the 0 of a shorter word */
            return 0;
    return wanted[length] == '\0';
}

/* The names in "IPA; propan-2-ol", one after the other: the length of the one at *at, which moves
 * on behind it; 0 at the end. */
static size_t next_name(const char **at, const char **name)
{
    size_t length;

    *at += strspn(*at, "; ");
    *name = *at;
    length = strcspn(*at, ";");
    *at += length;
    while (length && (*name)[length - 1] == ' ')
        length--;
    return length;
}

static const char *word(const struct liquid *liquid, dregs_property property)
{
    return liquid->item[property] ? liquid->item[property]->row.word : "";
}

int dregs_liquid_is_called(const struct liquid *liquid, const char *wanted)
{
    const char *at = word(liquid, DREGS_OTHER_NAMES), *name;
    const char *cas = word(liquid, DREGS_CAS_NUMBER);
    size_t length;

    if (!*wanted)
        return 0;
    if (same(liquid->name, strlen(liquid->name), wanted) || same(cas, strlen(cas), wanted))
        return 1;
    while ((length = next_name(&at, &name)))
        if (same(name, length, wanted))
            return 1;
    return 0;
}

/* Adds a name to those that are compared. */
static size_t add(char (*into)[NAME_ROOM], const char **of, size_t count, const char *name,
                  size_t length, const char *liquid)
{
    if (length < SHORTEST || length >= NAME_ROOM)
        return count;
    memcpy(into[count], name, length);
    into[count][length] = '\0';
    of[count] = liquid;
    return count + 1;
}

const char *dregs_liquid_nearest(const struct liquid *liquids, size_t count, const char *wanted)
{
    size_t room = 0, used = 0, i, length;
    const char *at, *name, *near = NULL, *found = NULL;
    char(*names)[NAME_ROOM];
    const char **of, **each;

    if (strlen(wanted) < SHORTEST - 1)
        return NULL;
    for (i = 0; i < count; i++) {
        at = word(&liquids[i], DREGS_OTHER_NAMES);
        for (room++; next_name(&at, &name); room++)
            continue;
    }
    names = malloc((room + 1) * sizeof *names);
    of = malloc((room + 1) * sizeof *of);
    each = malloc((room + 1) * sizeof *each);
    for (i = 0; names && of && each && i < count; i++) {
        used = add(names, of, used, liquids[i].name, strlen(liquids[i].name), liquids[i].name);
        at = word(&liquids[i], DREGS_OTHER_NAMES);
        while ((length = next_name(&at, &name)))
            used = add(names, of, used, name, length, liquids[i].name);
    }
    for (i = 0; i < used; i++)
        each[i] = names[i];
    if (used)
        near = dregs_nearest(wanted, each, used);
    for (i = 0; near && i < used; i++)
        if (near == each[i])
            found = of[i];
    free(names);
    free((void *)of);
    free((void *)each);
    return found;
}
