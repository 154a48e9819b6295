/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* vary.c: "last.flow=1..9 L/h", the words that name what is varied and between what. */
#include "base/text.h"
#include "dregs/answer_size.h"
#include "dregs/unit.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Where the parts of a text stand: the dot before the property, and the end of the property. */
struct form {
    size_t dot, end;
};

static int find_form(const char *text, struct form *form)
{
    size_t dot;

    form->end = dot = strcspn(text, "=");
    while (dot > 0 && text[dot - 1] != '.')
        dot--;
    form->dot = dot - 1;
    return dot >= 2 && dot < form->end;
}

dregs_status dregs_varied_form(const char *text, char *message)
{
    struct form form;

    if (find_form(text, &form))
        return DREGS_OK;
    snprintf(message, DREGS_SIZE_MESSAGE,
             "'%.200s' is not STAGE.PROPERTY or STAGE.PROPERTY=MIN..MAX", text);
    return DREGS_BAD_DATA;
}

/* One end of a range, the other one beside it; the unit may stand at the other end alone. */
static dregs_status read_end(const char *own, const char *other, const char *like, double *si,
                             char *message)
{
    static const char number[] = "0123456789.+-eE ";
    char joined[256], why[DREGS_UNIT_MESSAGE], quoted[DREGS_QUOTED];
    const char *unit = other + strspn(other, number);

    int bare = !own[strspn(own, number)]; /* 50 of "50..99 %" is no share of 50 */

    if (!(bare && *unit) && !dregs_unit_quantity(own, like, si, why))
        return DREGS_OK;
    if (!*unit && bare) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range has no unit; add one such as %s", like);
        return DREGS_BAD_DATA;
    }
    if (!bare)
        unit = "";
    snprintf(joined, sizeof joined, "%s%s%s", own, *unit ? " " : "", unit);
    if (!dregs_unit_quantity(joined, like, si, why))
        return DREGS_OK;
    snprintf(message, DREGS_SIZE_MESSAGE, "%s: %s", dregs_quote(quoted, own), why);
    return DREGS_BAD_DATA;
}

/* "1..9 L/h", in the unit of `like` where none stands. */
static dregs_status read_range(const char *range, const char *like, double *low_end,
                               double *high_end, char *message)
{
    const char *dots = strstr(range, "..");
    char low[128], high[128];
    dregs_status status;

    if (!dots || dots == range || !dots[2]) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range is not MIN..MAX");
        return DREGS_BAD_DATA;
    }
    snprintf(low, sizeof low, "%.*s", (int)(dots - range < 127 ? dots - range : 127), range);
    snprintf(high, sizeof high, "%s", dots + 2);
    status = read_end(low, high, like, low_end, message);
    if (!status)
        status = read_end(high, low, like, high_end, message);
    if (!status && !(*low_end <= *high_end)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range is empty");
        status = DREGS_DOMAIN;
    }
    return status;
}

/* The unit that a property is stated in: the one that a range is read in. It is varied by itself
 * for that. */
static dregs_status find_unit(const dregs_line *line, const char *stage, const char *property,
                              dregs_varied **probe, char *message)
{
    dregs_varied *varied = dregs_varied_new(line);
    dregs_status status =
        varied ? dregs_varied_add(varied, property, &stage, 1, NAN, NAN, message) : DREGS_NO_MEMORY;

    if (status)
        dregs_varied_free(varied);
    else
        *probe = varied;
    return status;
}

/* The stage and the property are cut out of `text`, which is changed. */
static dregs_status read_varied(dregs_varied *varied, char *text, const struct form *form,
                                char *message)
{
    const char *range = text[form->end] ? text + form->end + 1 : NULL, *stage = text;
    const char *property = text + form->dot + 1;
    dregs_varied *probe = NULL;
    double low = NAN, high = NAN;
    dregs_status status;

    text[form->dot] = text[form->end] = '\0';
    status = find_unit(dregs_varied_line(varied), stage, property, &probe, message);
    if (!status && range)
        status = read_range(range, dregs_varied_unit(probe, 0), &low, &high, message);
    dregs_varied_free(probe);
    if (!status)
        status = dregs_varied_add(varied, property, &stage, 1, low, high, message);
    return status;
}

/* Is "STAGE.PROPERTY" varied already? */
static int has(const dregs_varied *varied, const char *text, const struct form *form)
{
    const char *property = text + form->dot + 1, *stage;
    size_t length = form->end - form->dot - 1;
    unsigned i, k;

    for (i = 0; i < dregs_varied_count(varied); i++)
        for (k = 0; (stage = dregs_varied_stage(varied, i, k)) != NULL; k++)
            if (strlen(stage) == form->dot && strncmp(stage, text, form->dot) == 0 &&
                strlen(dregs_varied_property(varied, i)) == length &&
                strncmp(dregs_varied_property(varied, i), property, length) == 0)
                return 1;
    return 0;
}

dregs_status dregs_varied_read(dregs_varied *varied, const char *text, char *message)
{
    char why[DREGS_SIZE_MESSAGE] = "", *copy;
    struct form form = {0, 0};
    dregs_status status = dregs_varied_form(text, message);

    if (status)
        return status;
    (void)find_form(text, &form);
    if (has(varied, text, &form)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "'%.200s' twice", text);
        return DREGS_DOMAIN;
    }
    copy = malloc(strlen(text) + 1);
    if (!copy)
        return DREGS_NO_MEMORY;
    strcpy(copy, text);
    status = read_varied(varied, copy, &form, why);
    free(copy);
    if (status)
        snprintf(message, DREGS_SIZE_MESSAGE, "'%.200s': %.400s", text, why);
    return status;
}
