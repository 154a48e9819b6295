/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the liquid table share; not installed. */
#ifndef DREGS_LIQUID_INSIDE_H
#define DREGS_LIQUID_INSIDE_H

#include "dregs/liquid.h"
#include "dregs/unit.h"
#include "liquid/equations.h"

/* A row with what has been made of it. */
struct item {
    dregs_liquid_row row;
    const dregs_equation *equation;
    dregs_unit unit;
    int off;           /* 1: the value is taken to be off, */
    double z, factor;  /* by so much, see dregs_liquids_off; within its data */
    int scaled;        /* 1: by the factor alone, wherever it is asked for */
    struct item *next; /* of all the table owns */
    char text[];       /* the texts of the row, one after the other */
};

struct liquid {
    const char *name; /* within some item's text */
    struct item *item[DREGS_PROPERTIES];
};

struct dregs_liquids {
    struct liquid *liquid; /* in the order of their first rows */
    size_t count, room;
    dregs_dialect dialect; /* of the text that was added last */
    struct item *owned;
    dregs_regulations *regulations; /* of the built-in table */
    int borrows;                    /* 1: they, and most rows, are another table's */
};

/** The liquid of that name, other name or CAS number; NULL for none. */
struct liquid *dregs_liquid_find(const dregs_liquids *liquids, const char *name);

/** off.c: the accuracy at a temperature, that of carrying the row on in it. */
double dregs_liquid_known_to(const struct liquid *liquid, const struct item *item,
                             double temperature);
/** By what the value is to be multiplied there. */
double dregs_liquid_off(const struct liquid *liquid, const struct item *item, double temperature);

/** The SI value of a row at a temperature within its range, or NaN where it makes no sense. */
double dregs_liquid_evaluate(const struct item *item, double temperature);

/** 1 when \p wanted is the liquid's name, one of its other names or its CAS number, in letters of
 *  any case. */
int dregs_liquid_is_called(const struct liquid *liquid, const char *wanted);

/** The name, other name or CAS number of any of the liquids that is nearest to \p wanted; returns
 *  the liquid's name, NULL when none is near. Names of fewer than five letters are not compared:
 *  a slip makes another one of them. */
const char *dregs_liquid_nearest(const struct liquid *liquids, size_t count, const char *wanted);

/** The range in which a row is read: its own, with what it is carried on by. */
void dregs_liquid_reach(const struct liquid *liquid, const struct item *item, double *low,
                        double *high);

/** The SI value beyond the row's range; NaN where it cannot be had. */
double dregs_liquid_beyond(const struct liquid *liquid, const struct item *item,
                           double temperature);

/** By how much that value may be off, as a share of it; 0 within the range. */
double dregs_liquid_doubt(const struct liquid *liquid, const struct item *item, double temperature);

/** How it was come by: "straight on"; NULL for a property that is not carried on. */
const char *dregs_liquid_carried(dregs_property property);

#endif
