/* SPDX-License-Identifier: GPL-3.0-or-later */
/* change.c: a line that does something otherwise than its file says. What was read is taken over,
 * not read again: a fit asks for hundreds of such lines. */
#include "line/line.h"
#include "line/stage/stage.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

dregs_change dregs_change_none(void)
{
    static const dregs_change none = {1.0, 1.0, 1.0, -1, 1.0, -1, 0, 0.0, NULL};

    return none;
}

static int allowed(const dregs_line *line, const dregs_change *change)
{
    return change->drag_out > 0 && change->soil > 0 && change->strength > 0 && change->flow >= 0 &&
           change->dirt >= 0 && isfinite(change->drag_out * change->soil * change->strength) &&
           isfinite(change->flow * change->dirt) && change->flow_of >= -2 &&
           change->flow_of < (int)line->stage_count && change->dirty >= -1 &&
           change->dirty < (int)line->fluid_count && change->dirty_solute < line->solute_count;
}

static void apply(dregs_line *line, const dregs_change *change)
{
    unsigned i, s;

    line->drag_out = change->drag_out;
    for (s = 0; s < line->solute_count; s++)
        line->solutes[s].on_parts.si *= change->soil;
    for (i = 0; i < line->fluid_count; i++)
        for (s = 0; s < line->solute_count; s++) {
            unsigned k;
            for (k = 0; k < line->stage_count; k++)
                if (dregs_stage_is(&line->stages[k], DREGS_STAGE_CLEANS) &&
                    line->stages[k].liquid.index == i && !line->stages[k].shares.row)
                    break;
            if (k < line->stage_count)
                line->fluids[i].content[s].si *= change->strength;
        }
    for (i = 0; i < line->stage_count; i++) {
        if (change->flow_of == (int)i || change->flow_of == -2)
            line->stages[i].flow.si *= change->flow;
        if (change->by_hand && change->by_hand[i])
            line->stages[i].dump_every = (dregs_value){NAN, 0, 0};
    }
    if (change->dirty >= 0)
        line->fluids[change->dirty].content[change->dirty_solute].si += change->dirt;
}

static void *copied(dregs_line *line, const void *from, size_t count, size_t size)
{
    void *copy = dregs_line_keep(line, count, size);

    if (copy && count)
        memcpy(copy, from, count * size);
    return copy;
}

/* A line of its own in what a change can touch; the rest is the original's. */
static dregs_status copy_description(const dregs_line *line, dregs_line *made)
{
    unsigned i;

    *made = *line;
    made->blocks = NULL;
    made->solutes = copied(made, line->solutes, line->solute_count, sizeof *line->solutes);
    made->fluids = copied(made, line->fluids, line->fluid_count, sizeof *line->fluids);
    made->stages = copied(made, line->stages, line->stage_count, sizeof *line->stages);
    if (!made->solutes || !made->fluids || !made->stages)
        return DREGS_NO_MEMORY;
    for (i = 0; i < made->fluid_count; i++) {
        dregs_fluid *fluid = &made->fluids[i];
        fluid->content = copied(made, fluid->content, line->solute_count, sizeof *fluid->content);
        if (!fluid->content)
            return DREGS_NO_MEMORY;
    }
    return DREGS_OK;
}

dregs_status dregs_line_changed(const dregs_line *line, const dregs_change *change,
                                dregs_line **changed)
{
    dregs_line *made;
    dregs_status status;

    if (!allowed(line, change))
        return DREGS_DOMAIN;
    made = malloc(sizeof *made);
    if (!made)
        return DREGS_NO_MEMORY;
    status = copy_description(line, made);
    if (!status) {
        apply(made, change);
        status = dregs_line_derive(made, NULL);
    }
    if (status)
        dregs_line_free(made);
    else
        *changed = made;
    return status;
}
