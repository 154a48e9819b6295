/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* altered.c: the line as it may be by now: drag-out, soil, bath strength, a flow or a liquid other
 * than stated. */
#include "dregs/stage.h"
#include "line/line.h"
#include "reuse/inside.h"

#include <math.h>
#include <stdlib.h>

struct alteration dregs_reuse_unaltered(void)
{
    struct alteration none = {.drag_out = 1,
                              .soil = 1,
                              .adhering = 1,
                              .strength = 1,
                              .flow_of = -1,
                              .flow = 1,
                              .dirty = -1,
                              .fresh = -1};
    unsigned i;

    for (i = 0; i < DREGS_LINE_STAGES; i++)
        none.of_stage[i] = 1;
    return none;
}

static int allowed(const dregs_line *line, const struct alteration *change)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        if (!(change->of_stage[i] > 0) || !isfinite(change->of_stage[i]))
            return 0;
    return change->drag_out > 0 && change->soil > 0 && change->strength > 0 && change->flow >= 0 &&
           change->dirt >= 0 && change->adhering > 0 && isfinite(change->adhering) &&
           isfinite(change->fresh_more) && change->fresh >= -1 &&
           change->fresh < (int)dregs_line_fluids(line) &&
           change->fresh_solute < dregs_line_solutes(line) &&
           isfinite(change->drag_out * change->soil * change->strength) &&
           isfinite(change->flow * change->dirt) && change->flow_of >= -2 &&
           change->flow_of < (int)dregs_line_stages(line) && change->dirty >= -1 &&
           change->dirty < (int)dregs_line_fluids(line) &&
           change->dirty_solute < dregs_line_solutes(line);
}

/* What is far too little to be stated is nothing. */
static double stated(double si)
{
    return si < 1e-20 ? 0.0 : si;
}

static size_t change_value(dregs_setting *setting, const dregs_value *value, double factor)
{
    if (!value->row || factor == 1.0)
        return 0; /* what is not stated is 0 */
    *setting = (dregs_setting){.row = value->row, .si = stated(value->si * factor)};
    return 1;
}

static int fills_a_wash(const dregs_line *line, unsigned fluid)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (dregs_stage_is(stage, DREGS_STAGE_CLEANS) && stage->liquid.index == fluid &&
            !stage->shares.row)
            return 1;
    }
    return 0;
}

static size_t change_liquid(const dregs_line *line, const struct alteration *change, unsigned index,
                            dregs_setting *settings)
{
    const dregs_fluid *fluid = dregs_line_fluid(line, index);
    double strength = fills_a_wash(line, index) ? change->strength : 1.0;
    size_t count = 0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        const dregs_value *content = &fluid->content[s];
        int dirty = change->dirty == (int)index && change->dirty_solute == s && change->dirt > 0;
        int fresh = change->fresh == (int)index && change->fresh_solute == s;
        double own = fmax(content->si + (fresh ? change->fresh_more : 0.0), 0.0);
        if (dirty || fresh)
            settings[count++] =
                (dregs_setting){.item = fluid->name,
                                .property = dregs_line_solute(line, s)->name,
                                .si = stated(own * strength + (dirty ? change->dirt : 0.0))};
        else
            count += change_value(&settings[count], content, strength);
    }
    return count;
}

/* The last stage that takes soil off, or -1. */
static int takes_off(const dregs_line *line)
{
    int i;
    unsigned s;

    for (i = (int)dregs_line_stages(line) - 1; i >= 0; i--)
        for (s = 0; s < dregs_line_solutes(line); s++)
            if (dregs_line_stage(line, (unsigned)i)->removal[s].si > 0)
                return i;
    return -1;
}

/* What the last cleaning stage leaves on the parts, as a share of what comes, times `factor`: of
 * its odds, which stay a share and for a small one are the same. */
static size_t change_removal(const dregs_line *line, double factor, dregs_setting *settings)
{
    int stage = takes_off(line);
    size_t count = 0;
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(line) && stage >= 0 && factor != 1.0; s++) {
        const dregs_value *removal = &dregs_line_stage(line, (unsigned)stage)->removal[s];
        for (t = 0; t < s; t++) /* one row may speak of all */
            if (dregs_line_stage(line, (unsigned)stage)->removal[t].row == removal->row)
                break;
        if (removal->row && t == s && removal->si > 0)
            settings[count++] =
                (dregs_setting){.row = removal->row,
                                .si = removal->si / (removal->si + factor * (1 - removal->si))};
    }
    return count;
}

/* Of every kind of load, whether it states its own soil or not; a row that several share once. */
static size_t change_soil(const dregs_line *line, double factor, dregs_setting *settings)
{
    size_t count = 0, i;
    unsigned k, s;

    for (k = 0; k < dregs_line_kinds(line); k++)
        for (s = 0; s < dregs_line_solutes(line); s++) {
            const dregs_value *soil = &dregs_line_solute(dregs_line_of_kind(line, k), s)->on_parts;
            for (i = 0; i < count && settings[i].row != soil->row; i++)
                ;
            if (i == count)
                count += change_value(&settings[count], soil, factor);
        }
    return count;
}

dregs_status dregs_reuse_altered(const dregs_line *line, const struct alteration *change,
                                 dregs_line **changed)
{
    double drag_out[DREGS_LINE_STAGES];
    const struct practice practice = {drag_out, change->by_hand, 0};
    unsigned solutes = dregs_line_solutes(line), i;
    dregs_setting *settings;
    dregs_status status;
    size_t count = 0;

    if (!allowed(line, change))
        return DREGS_DOMAIN;
    settings = malloc(
        (solutes * (dregs_line_fluids(line) + dregs_line_kinds(line) + 1) + DREGS_LINE_STAGES) *
        sizeof *settings);
    if (!settings)
        return DREGS_NO_MEMORY;
    for (i = 0; i < DREGS_LINE_STAGES; i++)
        drag_out[i] = change->drag_out * change->of_stage[i];
    count += change_soil(line, change->soil, settings);
    for (i = 0; i < dregs_line_fluids(line); i++)
        count += change_liquid(line, change, i, &settings[count]);
    for (i = 0; i < dregs_line_stages(line); i++)
        if (change->flow_of == (int)i || change->flow_of == -2)
            count += change_value(&settings[count], &dregs_line_stage(line, i)->flow, change->flow);
    count += change_removal(line, change->adhering, &settings[count]);
    status = dregs_line_run_as(line, settings, count, &practice, changed, NULL);
    free(settings);
    return status;
}
