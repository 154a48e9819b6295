/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* join.c: the lines of a site as one. Their stages stand behind one another, each under the name of
 * its line; liquids and solutes of one name are one where they are made alike. Nothing is computed
 * on such a line: what it comes to is the sum of its parts, which see their own loads and hours.
 */
#include "line/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* How liquids are joined: by their likeness, or as those of a line that was joined of the same
 * parts with other values. */
struct join {
    const dregs_line *stated; /* NULL: by likeness */
    const struct dregs_line_part *part;
};

/* The name of something under that of its line. */
static char *name_under(dregs_line *joined, const dregs_line *part, const char *name)
{
    char text[600];

    (void)snprintf(text, sizeof text, "%.300s: %.280s", part->name, name);
    return dregs_line_keep_text(joined, text);
}

static int is_same_value(const dregs_value *a, const dregs_value *b)
{
    return a->si == b->si || (isnan(a->si) && isnan(b->si));
}

/* ---- solutes and liquids by name ---- */

static dregs_status join_solutes(dregs_line *joined, struct dregs_line_part *part)
{
    unsigned s, k;

    for (s = 0; s < part->line->solute_count; s++) {
        const dregs_solute *own = &part->line->solutes[s];
        for (k = 0; k < joined->solute_count; k++)
            if (strcmp(joined->solutes[k].name, own->name) == 0)
                break;
        if (k == joined->solute_count)
            joined->solutes[joined->solute_count++] = *own;
        part->solute[s] = k;
    }
    return DREGS_OK;
}

/* The values of a part's solutes in the order of all; those of others are as nothing stated. */
static dregs_status spread_values(dregs_line *joined, const struct dregs_line_part *part,
                                  double otherwise, dregs_value **values)
{
    dregs_value *own = *values, *made;
    unsigned s;

    if (!own)
        return DREGS_OK;
    made = dregs_line_keep(joined, joined->solute_count + 1, sizeof *made);
    if (!made)
        return DREGS_NO_MEMORY;
    for (s = 0; s < joined->solute_count; s++)
        made[s].si = otherwise;
    for (s = 0; s < part->line->solute_count; s++)
        made[part->solute[s]] = own[s];
    *values = made;
    return DREGS_OK;
}

/* Are two liquids made, bought and disposed of alike? Their values stand in the order of all. */
static int is_alike(const dregs_line *joined, const dregs_fluid *a, const dregs_fluid *b)
{
    unsigned s;

    if (strcmp(a->solvent, b->solvent) != 0 ||
        !is_same_value(&a->solvent_share, &b->solvent_share) ||
        !is_same_value(&a->price, &b->price) || !is_same_value(&a->disposal, &b->disposal))
        return 0;
    for (s = 0; s < joined->solute_count; s++)
        if (!is_same_value(&a->content[s], &b->content[s]))
            return 0;
    return 1;
}

/* As another line joins the same parts, whatever the liquids cost and hold here. */
static void join_fluid_as(dregs_line *joined, struct dregs_line_part *part, const struct join *as,
                          dregs_fluid *own, unsigned index)
{
    unsigned k = as->part[part - joined->part].fluid[index];

    part->fluid[index] = k;
    if (k < joined->fluid_count)
        return;
    own->name = as->stated->fluids[k].name;
    joined->fluids[joined->fluid_count++] = *own;
}

static dregs_status join_fluid(dregs_line *joined, struct dregs_line_part *part,
                               const struct join *as, unsigned index)
{
    dregs_fluid own = part->line->fluids[index];
    unsigned k, taken = 0;

    if (spread_values(joined, part, 0, &own.content) ||
        spread_values(joined, part, NAN, &own.solubility))
        return DREGS_NO_MEMORY;
    if (as->stated) {
        join_fluid_as(joined, part, as, &own, index);
        return DREGS_OK;
    }
    for (k = 0; k < joined->fluid_count; k++) {
        if (strcmp(joined->fluids[k].name, own.name) != 0)
            continue;
        if (is_alike(joined, &joined->fluids[k], &own)) {
            part->fluid[index] = k;
            return DREGS_OK;
        }
        taken = 1;
    }
    if (taken && !(own.name = name_under(joined, part->line, own.name)))
        return DREGS_NO_MEMORY;
    part->fluid[index] = joined->fluid_count;
    joined->fluids[joined->fluid_count++] = own;
    return DREGS_OK;
}

/* ---- stages ---- */

static void shift(const struct dregs_line_part *part, dregs_link *link)
{
    if (link->kind == DREGS_LINK_LIQUID)
        link->index = part->fluid[link->index];
    else if (link->kind == DREGS_LINK_STAGE)
        link->index += part->stage;
}

static dregs_status join_stage(dregs_line *joined, const struct dregs_line_part *part,
                               unsigned index)
{
    dregs_stage *stage = &joined->stages[joined->stage_count];

    *stage = part->line->stages[index];
    stage->name = name_under(joined, part->line, stage->name);
    if (stage->tank >= 0)
        stage->tank += (int)part->tank;
    shift(part, &stage->shares);
    shift(part, &stage->liquid);
    shift(part, &stage->feed);
    shift(part, &stage->overflow_to);
    shift(part, &stage->top_up_from);
    shift(part, &stage->refill_from);
    shift(part, &stage->runoff_to);
    shift(part, &stage->blow_off_to);
    joined->drag_out[joined->stage_count++] = part->line->drag_out[index];
    if (!stage->name || spread_values(joined, part, NAN, &stage->removal) ||
        spread_values(joined, part, 0, &stage->clearing) ||
        spread_values(joined, part, NAN, &stage->most) ||
        spread_values(joined, part, NAN, &stage->least))
        return DREGS_NO_MEMORY;
    return DREGS_OK;
}

static dregs_status join_notes(dregs_line *joined, const dregs_line *part)
{
    unsigned i;

    for (i = 0; i < part->assumed_count; i++)
        if (dregs_line_note(joined, 0, "%.300s: %.900s", part->name, part->assumed[i].text))
            return DREGS_NO_MEMORY;
    for (i = 0; i < part->unused_count; i++)
        if (!(part->unused[i].used_by & DREGS_ASKED_YEAR) &&
            dregs_line_note(joined, 1, "%.300s: %.900s", part->name, part->unused[i].text))
            return DREGS_NO_MEMORY;
    return DREGS_OK;
}

static dregs_status join_part(dregs_line *joined, struct dregs_line_part *part,
                              const struct join *as)
{
    const dregs_line *line = part->line;
    dregs_status status;
    unsigned i;

    part->stage = joined->stage_count;
    part->tank = joined->tank_count;
    part->fluid = dregs_line_keep(joined, line->fluid_count + 1, sizeof *part->fluid);
    if (!part->fluid)
        return DREGS_NO_MEMORY;
    status = DREGS_OK;
    for (i = 0; i < line->fluid_count && !status; i++)
        status = join_fluid(joined, part, as, i);
    for (i = 0; i < line->stage_count && !status; i++)
        status = join_stage(joined, part, i);
    for (i = 0; i < line->tank_count && !status; i++) {
        joined->tanks[joined->tank_count] = line->tanks[i];
        joined->tanks[joined->tank_count++].stage += part->stage;
    }
    return status || as->stated ? status : join_notes(joined, line);
}

/* ---- all ---- */

/* Money in two currencies is never added. */
static dregs_status check_currencies(const dregs_line *const *part, unsigned parts,
                                     dregs_faults *faults)
{
    const char *first = NULL, *word;
    unsigned i, row, stated = 0, at = 0;
    size_t length, first_length = 0;

    for (i = 0; i < parts; i++) {
        row = dregs_line_currency(part[i], &word, &length);
        if (!row)
            continue;
        if (!first) {
            first = word;
            first_length = length;
            stated = row;
            at = i;
            continue;
        }
        if (length == first_length && strncmp(word, first, length) == 0)
            continue;
        if (faults)
            (void)snprintf(faults->file, sizeof faults->file, "%s", part[i]->name);
        return dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_at(part[i], row),
                               "a price in %.*s, but %.200s:%lu states one in %.*s: a site has one "
                               "currency, and none is converted",
                               (int)length, word, part[at]->name, dregs_line_at(part[at], stated),
                               (int)first_length, first);
    }
    return DREGS_OK;
}

static dregs_status make_room(dregs_line *made, const char *name, const dregs_line *const *part,
                              unsigned parts)
{
    unsigned i, stages = 0, tanks = 0, fluids = 0, solutes = 0;

    for (i = 0; i < parts; i++) {
        stages += part[i]->stage_count;
        tanks += part[i]->tank_count;
        fluids += part[i]->fluid_count;
        solutes += part[i]->solute_count;
    }
    made->name = dregs_line_keep_text(made, name);
    made->text = dregs_line_keep(made, 1, 1);
    made->rows = dregs_line_keep(made, 1, sizeof *made->rows);
    made->stages = dregs_line_keep(made, stages + 1, sizeof *made->stages);
    made->carried = dregs_line_keep(made, stages + 1, sizeof *made->carried);
    made->tanks = dregs_line_keep(made, tanks + 1, sizeof *made->tanks);
    made->idle_evaporation = dregs_line_keep(made, tanks + 1, sizeof(double));
    made->fluids = dregs_line_keep(made, fluids + 1, sizeof *made->fluids);
    made->solutes = dregs_line_keep(made, solutes + 1, sizeof *made->solutes);
    made->part = dregs_line_keep(made, parts, sizeof *made->part);
    return made->name && made->text && made->rows && made->stages && made->carried && made->tanks &&
                   made->idle_evaporation && made->fluids && made->solutes && made->part
               ? DREGS_OK
               : DREGS_NO_MEMORY;
}

static dregs_status join(dregs_line *made, const dregs_line *const *part, unsigned parts,
                         const struct join *as)
{
    dregs_status status = DREGS_OK;
    unsigned i;

    made->liquids = part[0]->liquids;
    made->loads = part[0]->loads;
    made->load_count = 1;
    made->load = part[0]->load;
    made->cycle = 1;
    made->parts = parts;
    for (i = 0; i < parts && !status; i++) { /* of all first: values stand in their order */
        made->part[i].line = part[i];
        made->part[i].solute =
            dregs_line_keep(made, part[i]->solute_count + 1, sizeof *made->part[i].solute);
        status = made->part[i].solute ? join_solutes(made, &made->part[i]) : DREGS_NO_MEMORY;
    }
    for (i = 0; i < parts && !status; i++)
        status = join_part(made, &made->part[i], as);
    return status;
}

static dregs_status make(const char *name, const dregs_line *const *part, unsigned parts,
                         const struct join *as, dregs_line **joined)
{
    dregs_line *made = calloc(1, sizeof *made);
    dregs_status status = made ? make_room(made, name, part, parts) : DREGS_NO_MEMORY;

    if (!status)
        status = join(made, part, parts, as);
    if (status)
        dregs_line_free(made);
    else
        *joined = made;
    return status;
}

dregs_status dregs_line_join(const char *name, const dregs_line *const *part, unsigned parts,
                             dregs_line **joined, dregs_faults *faults)
{
    const struct join by_likeness = {NULL, NULL};
    dregs_status status;
    unsigned i, stages = 0;

    for (i = 0; i < parts; i++)
        stages += part[i]->stage_count;
    if (!parts || stages > DREGS_LINE_STAGES)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                               "%.200s: %u stages in %u lines; a site has one line or more, and at "
                               "most %d stages",
                               name, stages, parts, DREGS_LINE_STAGES);
    for (i = 0; i < parts; i++)
        if (part[i]->parts || part[i]->liquids != part[0]->liquids)
            return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                                   "%.200s: a part of a site is a line of a file, with the same "
                                   "table of liquids",
                                   name);
    status = check_currencies(part, parts, faults);
    if (status)
        return status;
    return make(name, part, parts, &by_likeness, joined);
}

dregs_status dregs_line_join_as(const dregs_line *stated, const dregs_line *const *part,
                                dregs_line **joined)
{
    const struct join as = {stated, stated->part};

    return make(stated->name, part, stated->parts, &as, joined);
}

const dregs_line *dregs_line_part(const dregs_line *line, unsigned index)
{
    return index < line->parts ? line->part[index].line : NULL;
}

const struct dregs_line_part *dregs_line_part_of(const dregs_line *line, unsigned stage)
{
    unsigned i = line->parts;

    while (i > 0 && line->part[i - 1].stage > stage)
        i--;
    return i ? &line->part[i - 1] : NULL;
}

unsigned dregs_line_parts(const dregs_line *line, const struct dregs_line_part **part)
{
    *part = line->part;
    return line->parts;
}
