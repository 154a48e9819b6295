/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cautions.c: the cautions of an answer: its own facts, and the law of its liquids. */
#include "answer/answer.h"

#include <stdlib.h>
#include <string.h>

/* Is one of the facts about a liquid? */
static int concerns(const dregs_facts *facts, size_t count, const char *liquid)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (facts[i].liquid && strcmp(facts[i].liquid, liquid) == 0)
            return 1;
    return 0;
}

dregs_status dregs_answer_cautions(const dregs_facts *facts, size_t count,
                                   const dregs_regulations *regulations, dregs_caution **cautions,
                                   unsigned *made)
{
    size_t laws = 0, used = count, i;
    const dregs_regulation *one;
    dregs_caution *given = malloc(DREGS_CAUTIONS_MOST * sizeof *given), *fitted;
    dregs_facts *all;

    while (dregs_regulations_at(regulations, laws))
        laws++;
    all = malloc((count + laws) * sizeof *all);
    if (!all || !given) {
        free(given);
        free(all);
        return DREGS_NO_MEMORY;
    }
    memcpy(all, facts, count * sizeof *all);
    for (i = 0; (one = dregs_regulations_at(regulations, i)) != NULL; i++)
        if (concerns(facts, count, one->liquid)) {
            dregs_facts_init(&all[used]);
            dregs_facts_of_regulation(&all[used++], one);
        }
    *made = dregs_cautions_of(all, used, given);
    free(all);
    fitted = realloc(given, (*made ? *made : 1) * sizeof *given);
    *cautions = fitted ? fitted : given;
    return DREGS_OK;
}
