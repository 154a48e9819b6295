/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* decimal.c: the decimal mark of a file, from its numbers.
 *
 * Nothing is guessed. 1,234 may be a number with a decimal comma or a thousand and more: it takes
 * another number of the file to tell, and without one, or with one that tells otherwise, the file
 * is refused.
 */
#include "base/decimal.h"
#include "base/text.h"
#include "dregs/csv.h"

#include <stdio.h>
#include <string.h>

/* A number at the head of a cell. */
struct figure {
    size_t before, behind; /* digits before and behind the first mark */
    size_t marks, blanks;  /* points and commas; blanks and apostrophes between digits */
    char mark;             /* the first one */
    int differ;            /* both are there */
    char *at;              /* the first mark */
    const char *end;
};

static const char *name_of(char mark)
{
    return mark == ',' ? "comma" : "point";
}

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static struct figure figure_of(char *cell)
{
    struct figure f = {0, 0, 0, 0, 0, 0, NULL, NULL};
    char *p = cell + strspn(cell, "<>=~ +-");

    for (;; p++) {
        int between = p > cell && is_digit(p[-1]) && is_digit(p[0] ? p[1] : '\0');
        if (is_digit(*p)) {
            f.before += f.marks == 0;
            f.behind += f.marks == 1;
        } else if (*p == '.' || *p == ',') {
            if (!f.marks++) {
                f.mark = *p;
                f.at = p;
            }
            f.differ |= *p != f.mark;
        } else if (between && (*p == ' ' || *p == '\'') && strspn(p + 1, "0123456789") == 3) {
            f.blanks++;
        } else {
            break;
        }
    }
    f.end = p;
    return f;
}

/* What may stand behind a number: an exponent, a share; and a unit where one may. */
static int ends_as_number(const struct figure *f, int unit)
{
    const char *p = f->end;

    if (unit)
        return 1;
    if ((*p == 'e' || *p == 'E') && (p[1] == '-' || p[1] == '+' || is_digit(p[1])))
        for (p += 2; is_digit(*p);)
            p++;
    p += strspn(p, " %");
    return !*p;
}

/* The digits of the number without what stands between its thousands: "1.234,5" is 1234,5. */
static void without_thousands(char into[32], const struct figure *f, const char *cell)
{
    const char *last = f->end, *p;
    size_t used = 0;

    while (f->differ && last > cell && last[-1] != '.' && last[-1] != ',')
        last--; /* where both marks are there the last one is the decimal mark */
    for (p = cell + strspn(cell, "<>=~ "); p < f->end && used < 31; p++)
        if (is_digit(*p) || *p == '-' || *p == '+' || (f->differ && p + 1 == last) ||
            (f->blanks && !f->differ && f->marks == 1 && p == f->at))
            into[used++] = *p;
    into[used] = '\0';
}

/* One number with a mark: it tells the mark of the file, or agrees with it. */
static dregs_status hear(struct dregs_decimal *decimal, const struct figure *f, const char *cell,
                         unsigned long line, dregs_faults *faults)
{
    /* with three digits behind and up to three before it the mark may stand between thousands */
    int exact = !(f->behind == 3 && f->before >= 1 && f->before <= 3 &&
                  f->at[-(long)f->before] != '0' && *f->end != 'e' && *f->end != 'E');
    char quoted[DREGS_QUOTED], other[DREGS_QUOTED];

    if (decimal->mark && f->mark != decimal->mark) {
        if (decimal->twofold++)
            return DREGS_BAD_DATA;
        return dregs_fault_add(faults, DREGS_BAD_DATA, line,
                               "%s has a decimal %s, and %s of line %lu a %s: one of the two for "
                               "the whole file, and none between thousands",
                               dregs_quote(quoted, cell), name_of(f->mark),
                               dregs_quote(other, decimal->text), decimal->line,
                               name_of(decimal->mark));
    }
    if (!decimal->mark || (exact && !decimal->told)) {
        decimal->mark = f->mark;
        decimal->line = line;
        snprintf(decimal->text, sizeof decimal->text, "%.*s", (int)(f->end - cell), cell);
    }
    decimal->told |= exact;
    return DREGS_OK;
}

dregs_status dregs_decimal_take(struct dregs_decimal *decimal, char *cell, int unit,
                                unsigned long line, dregs_faults *faults)
{
    struct figure f = figure_of(cell);
    char quoted[DREGS_QUOTED], digits[32];
    dregs_status status;

    if ((f.marks == 0 && f.blanks == 0) || f.before + f.behind == 0 || !ends_as_number(&f, unit))
        return DREGS_OK;
    if (f.blanks || f.differ || (f.marks > 1 && f.behind == 3)) {
        without_thousands(digits, &f, cell);
        return dregs_fault_add(faults, DREGS_BAD_DATA, line,
                               "%s: nothing stands between the thousands of a number, write %s",
                               dregs_quote(quoted, cell), digits);
    }
    if (f.marks > 1)
        return DREGS_OK; /* no number: its reader says what it should be */
    status = hear(decimal, &f, cell, line, faults);
    *f.at = '.';
    return status;
}

dregs_status dregs_decimal_end(const struct dregs_decimal *decimal, dregs_faults *faults)
{
    const char *text = decimal->text;

    if (!decimal->mark || decimal->told || decimal->twofold)
        return DREGS_OK;
    return dregs_fault_add(faults, DREGS_BAD_DATA, decimal->line,
                           "the %s of '%s' is a decimal one or stands between thousands, and no "
                           "other number of the file tells: write '%s0', or the digits alone",
                           name_of(decimal->mark), text, text);
}

const char *dregs_dialect_words(dregs_dialect dialect, char into[DREGS_DIALECT_TEXT])
{
    into[0] = '\0';
    if (dialect.separator == ',' || !dialect.separator)
        return into;
    if (!dialect.decimal)
        snprintf(into, DREGS_DIALECT_TEXT, "cells separated by %s, no number with a decimal mark",
                 dialect.separator == ';' ? "';'" : "tabs");
    else
        snprintf(into, DREGS_DIALECT_TEXT, "cells separated by %s, decimal %s (line %lu tells)",
                 dialect.separator == ';' ? "';'" : "tabs", name_of(dialect.decimal), dialect.line);
    return into;
}
