/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* formula.c: what a molecular formula tells of the oxygen that it takes to burn a substance.
 */
#include "dregs/liquid.h"

#include <ctype.h>
#include <stddef.h>
#include <string.h>

/* Oxygen atoms that one atom of an element takes up, nitrogen leaving as ammonia and halogens as
 * hydrogen halides: OECD Test Guideline 301 (1992), annex on ThOD, from memory:
 * ThOD(NH3) = 16 (2 C + (H - Cl - 3 N) / 2 + 3 S + 5/2 P + Na / 2 - O) / M. Potassium counts as
 * sodium, the other halogens as chlorine, by the same stoichiometry. Atomic weights: IUPAC 2021,
 * abridged. */
static const struct {
    const char *symbol;
    double takes, weight;
} elements[] = {
    {"C", 2, 12.011},    {"H", 0.5, 1.008},   {"O", -1, 15.999},    {"N", -1.5, 14.007},
    {"S", 3, 32.06},     {"P", 2.5, 30.974},  {"Na", 0.5, 22.990},  {"K", 0.5, 39.098},
    {"Cl", -0.5, 35.45}, {"F", -0.5, 18.998}, {"Br", -0.5, 79.904}, {"I", -0.5, 126.90},
};

#define OXYGEN 15.999 /* g/mol of atoms */

enum { ATOMS_MOST = 1000 };

/* The element that the text begins with, the longer symbol first: Cl is no carbon. */
static int element_at(const char *text, size_t *length)
{
    int found = -1;
    size_t i;

    for (i = 0; i < sizeof elements / sizeof elements[0]; i++) {
        size_t symbol = strlen(elements[i].symbol);
        if (strncmp(text, elements[i].symbol, symbol) != 0 || (found >= 0 && symbol <= *length))
            continue;
        found = (int)i;
        *length = symbol;
    }
    return found >= 0 && !islower((unsigned char)text[*length]) ? found : -1;
}

/* A count behind a symbol, 1 where there is none; 0 for one that is none. */
static unsigned count_at(const char *text, size_t *length)
{
    unsigned count = 0;

    *length = strspn(text, "0123456789");
    if (!*length)
        return 1;
    for (; isdigit((unsigned char)*text) && count <= ATOMS_MOST; text++)
        count = 10 * count + (unsigned)(*text - '0');
    return count <= ATOMS_MOST ? count : 0;
}

dregs_status dregs_liquid_oxygen_demand(const char *formula, double *demand)
{
    double atoms = 0, weight = 0;
    size_t length = 0;

    if (!*formula)
        return DREGS_BAD_DATA;
    while (*formula) {
        int element = element_at(formula, &length);
        unsigned count;
        if (element < 0)
            return isupper((unsigned char)*formula) ? DREGS_UNKNOWN : DREGS_BAD_DATA;
        formula += length;
        count = count_at(formula, &length);
        if (!count)
            return DREGS_BAD_DATA;
        formula += length;
        atoms += count * elements[element].takes;
        weight += count * elements[element].weight;
    }
    if (atoms < 0)
        return DREGS_OUT_OF_RANGE;
    *demand = OXYGEN * atoms / weight;
    return DREGS_OK;
}
