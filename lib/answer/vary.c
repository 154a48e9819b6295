/* SPDX-License-Identifier: GPL-3.0-or-later */
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

dregs_status dregs_size_vary_form(const char *text, char *message)
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

    if (!dregs_quantity_read(own, like, si, why))
        return DREGS_OK;
    if (!*unit && !own[strspn(own, number)]) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range has no unit; add one such as %s", like);
        return DREGS_BAD_DATA;
    }
    if (own[strspn(own, number)])
        unit = "";
    snprintf(joined, sizeof joined, "%s%s%s", own, *unit ? " " : "", unit);
    if (!dregs_quantity_read(joined, like, si, why))
        return DREGS_OK;
    snprintf(message, DREGS_SIZE_MESSAGE, "%s: %s", dregs_quote(quoted, own), why);
    return DREGS_BAD_DATA;
}

/* "1..9 L/h", in the unit of `like` where none stands. */
static dregs_status read_range(const char *range, const char *like, dregs_varied *varied,
                               char *message)
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
    status = read_end(low, high, like, &varied->low, message);
    if (!status)
        status = read_end(high, low, like, &varied->high, message);
    if (!status && !(varied->low <= varied->high)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "the range is empty");
        status = DREGS_DOMAIN;
    }
    return status;
}

/* The stage's name as the line keeps it: it lives as long as the line does. */
static const char *own_name(const dregs_line *line, const char *name)
{
    unsigned i = 0;

    while (strcmp(dregs_line_stage(line, i)->name, name) != 0)
        i++;
    return dregs_line_stage(line, i)->name;
}

/* The stage and the property are cut out of `text`, which is changed. */
static dregs_status read_varied(const dregs_line *line, char *text, const struct form *form,
                                dregs_varied *varied, char *message)
{
    const char *range = text[form->end] ? text + form->end + 1 : NULL;
    dregs_varied probe;
    dregs_status status;

    text[form->dot] = text[form->end] = '\0';
    memset(varied, 0, sizeof *varied);
    varied->stage[0] = text;
    varied->stages = 1;
    varied->property = text + form->dot + 1;
    varied->low = varied->high = NAN;
    probe = *varied;
    /* once without the range, for the unit that the range is in */
    status = dregs_size_prepare(line, &probe, message);
    if (!status && range)
        status = read_range(range, probe.unit, varied, message);
    if (!status)
        status = dregs_size_prepare(line, varied, message);
    if (!status) {
        varied->stage[0] = own_name(line, text);
        varied->property = probe.property;
    }
    return status;
}

static int has(const dregs_size_request *request, const dregs_varied *varied)
{
    unsigned i;

    for (i = 0; i < request->count; i++)
        if (strcmp(request->varied[i].stage[0], varied->stage[0]) == 0 &&
            strcmp(request->varied[i].property, varied->property) == 0)
            return 1;
    return 0;
}

dregs_status dregs_size_request_vary(dregs_size_request *request, const dregs_line *line,
                                     const char *text, char *message)
{
    char why[DREGS_SIZE_MESSAGE] = "", *copy;
    struct form form = {0, 0};
    dregs_varied varied;
    dregs_status status = dregs_size_vary_form(text, message);

    if (status)
        return status;
    copy = malloc(strlen(text) + 1);
    if (!copy)
        return DREGS_NO_MEMORY;
    strcpy(copy, text);
    (void)find_form(text, &form);
    status = read_varied(line, copy, &form, &varied, why);
    free(copy);
    if (status) {
        snprintf(message, DREGS_SIZE_MESSAGE, "'%.200s': %.400s", text, why);
    } else if (has(request, &varied)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "'%.200s' twice", text);
        status = DREGS_DOMAIN;
    } else if (request->count >= DREGS_VARIED_MOST) {
        snprintf(message, DREGS_SIZE_MESSAGE, "'%.200s': more than %d are varied", text,
                 DREGS_VARIED_MOST);
        status = DREGS_DOMAIN;
    } else {
        request->varied[request->count++] = varied;
    }
    return status;
}
