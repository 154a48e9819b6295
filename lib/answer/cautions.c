/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* cautions.c: the cautions of an answer, kept. */
#include "answer/inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

dregs_status dregs_answer_cautions(const dregs_facts *facts, size_t count, dregs_caution **cautions,
                                   unsigned *made)
{
    dregs_caution *given;
    size_t i;

    for (i = 0; i < count; i++)
        if (facts[i].status)
            return facts[i].status;
    given = malloc(DREGS_CAUTIONS_MOST * sizeof *given);
    if (!given)
        return DREGS_NO_MEMORY;
    *made = dregs_cautions_of(facts, count, given);
    *cautions = given;
    return DREGS_OK;
}

/* Of a line of a site, whose places stand under its name. */
static dregs_status cautions_of_part(const dregs_line *part, dregs_caution *given, unsigned *made)
{
    unsigned count = 0, i;
    dregs_status status = dregs_cautions(part, given + *made, &count);

    for (i = 0; i < count && !status; i++) {
        dregs_caution *one = &given[*made + i];
        char text[DREGS_CAUTION_TEXT];
        memcpy(text, one->text, sizeof text);
        (void)snprintf(one->text, sizeof one->text, "%.120s: %.500s", dregs_line_name(part), text);
    }
    *made += count;
    return status;
}

dregs_status dregs_answer_line_cautions(const dregs_line *line, const dregs_caution **cautions,
                                        unsigned *made)
{
    unsigned parts = 0, i;
    dregs_caution *given;
    dregs_status status;

    while (dregs_line_part(line, parts))
        parts++;
    given = malloc((parts ? parts : 1) * DREGS_CAUTIONS_MOST * sizeof *given);
    if (!given)
        return DREGS_NO_MEMORY;
    *made = 0;
    status = parts ? DREGS_OK : dregs_cautions(line, given, made);
    for (i = 0; i < parts && !status; i++)
        status = cautions_of_part(dregs_line_part(line, i), given, made);
    if (status) {
        free(given);
        return status;
    }
    *cautions = given;
    return DREGS_OK;
}
