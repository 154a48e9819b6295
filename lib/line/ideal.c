/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ideal.c: where a line is taken to mix perfectly because its file does not say otherwise. */
#include "line/inside.h"
#include "line/stage/stage.h"

#include <stdio.h>

const char *dregs_line_ideal(const dregs_line *line, unsigned stage)
{
    const dregs_stage *is;

    if (stage >= line->stage_count || !(line->carried[stage].in > 0))
        return NULL; /* what comes dry has nothing to exchange */
    is = &line->stages[stage];
    if (is->tank >= 0)
        return is->exchange.row ? NULL : "exchange";
    return dregs_stage_is(is, DREGS_STAGE_SPRAYS) && !is->mixing.row ? "mixing" : NULL;
}

/* One note for the stages with a tank, one for the sprays. */
static dregs_status note(dregs_line *line, int tanks, const char *what)
{
    char names[200] = "";
    size_t used = 0;
    unsigned i, count = 0;

    for (i = 0; i < line->stage_count; i++) {
        if (!dregs_line_ideal(line, i) || (line->stages[i].tank >= 0) != tanks)
            continue;
        count++;
        if (used < sizeof names - 1)
            used += (size_t)snprintf(names + used, sizeof names - used, "%s%.60s", used ? ", " : "",
                                     line->stages[i].name);
    }
    return count ? dregs_line_note(line, 0, "%s%s: %s", names, used < sizeof names ? "" : " ...",
                                   what)
                 : DREGS_OK;
}

dregs_status dregs_line_note_ideal(dregs_line *line)
{
    dregs_status status =
        note(line, 1, "exchange 100 %, all of the film that comes in mixes with the tank");

    return status ? status : note(line, 0, "mixing 100 %, all that is sprayed mixes with the film");
}
