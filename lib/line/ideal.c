/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
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

/* Does a stage act on trapped liquid without a row that says how much of it takes part? */
static int trapped_as_film(const dregs_line *line, unsigned stage)
{
    const dregs_value *opened = dregs_line_hold_up_exchange(line, stage);
    const dregs_stage *is = &line->stages[stage];
    int acts = is->film_way != DREGS_FILM_NONE || is->blow_off.si > 0;

    return line->load->hold_up.si > 0 && line->carried[stage].in > 0 && acts &&
           opened != &is->hold_up_exchange && opened != &line->load->hold_up_exchange;
}

/* One note for all stages of which `which` holds. */
static dregs_status note(dregs_line *line, int (*which)(const dregs_line *, unsigned),
                         const char *what)
{
    char names[200] = "";
    size_t used = 0;
    unsigned i, count = 0;

    for (i = 0; i < line->stage_count; i++) {
        if (!which(line, i))
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

static int ideal_tank(const dregs_line *line, unsigned stage)
{
    return line->stages[stage].tank >= 0 && dregs_line_ideal(line, stage);
}

static int ideal_spray(const dregs_line *line, unsigned stage)
{
    return line->stages[stage].tank < 0 && dregs_line_ideal(line, stage);
}

dregs_status dregs_line_note_ideal(dregs_line *line)
{
    dregs_status status = DREGS_OK;

    if (line->drawn)
        return DREGS_OK;
    status =
        note(line, ideal_tank, "exchange 100 %, all of the film that comes in mixes with the tank");
    if (!status)
        status = note(line, ideal_spray, "mixing 100 %, all that is sprayed mixes with the film");
    return status ? status
                  : note(line, trapped_as_film,
                         "hold-up exchange that of the film, trapped liquid leaves as easily");
}
