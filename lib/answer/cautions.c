/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cautions.c: the cautions of an answer, kept. */
#include "answer/inside.h"

#include <stdlib.h>

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

dregs_status dregs_answer_line_cautions(const dregs_line *line, const dregs_caution **cautions,
                                        unsigned *made)
{
    dregs_caution *given = malloc(DREGS_CAUTIONS_MOST * sizeof *given);
    dregs_status status = given ? dregs_cautions(line, given, made) : DREGS_NO_MEMORY;

    if (status) {
        free(given);
        return status;
    }
    *cautions = given;
    return DREGS_OK;
}
