/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bound.c: which bounds a line has, and how the loads stand to each. */
#include "residue/bound.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>

struct dregs_bounds {
    dregs_bound *bound;
    unsigned count, room;
};

int dregs_bound_is_limit(const dregs_bound *bound)
{
    return bound->kind <= DREGS_BOUND_SOLUBILITY || bound->kind >= DREGS_BOUND_CLEANER;
}

static dregs_status add(dregs_bounds *bounds, dregs_bound_kind kind, unsigned stage, int solute,
                        const dregs_value *limit)
{
    if (bounds->count == bounds->room) {
        unsigned room = bounds->room ? 2 * bounds->room : 16;
        dregs_bound *more = realloc(bounds->bound, room * sizeof *more);
        if (!more)
            return DREGS_NO_MEMORY;
        bounds->bound = more;
        bounds->room = room;
    }
    bounds->bound[bounds->count++] =
        (dregs_bound){.kind = kind, .stage = stage, .solute = solute, .limit = *limit};
    return DREGS_OK;
}

/* The same of a value that the file may not state. */
static dregs_status add_stated(dregs_bounds *bounds, dregs_bound_kind kind, unsigned stage,
                               int solute, const dregs_value *limit)
{
    return limit->row ? add(bounds, kind, stage, solute, limit) : DREGS_OK;
}

static dregs_status add_stage(dregs_bounds *bounds, const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    dregs_status status = DREGS_OK;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line) && !status; s++) {
        status = add_stated(bounds, DREGS_BOUND_MOST, index, (int)s, &stage->most[s]);
        if (!status)
            status = add_stated(bounds, DREGS_BOUND_LEAST, index, (int)s, &stage->least[s]);
        if (!status)
            status =
                add_stated(bounds, DREGS_BOUND_SOLUBILITY, index, (int)s, &fluid->solubility[s]);
    }
    if (!status)
        status = add_stated(bounds, DREGS_BOUND_DISSOLVED, index, DREGS_EVERY_SOLUTE,
                            &stage->most_dissolved);
    if (!status)
        status =
            add_stated(bounds, DREGS_BOUND_CAPACITY, index, DREGS_EVERY_SOLUTE, &stage->capacity);
    return status;
}

static dregs_status add_targets(dregs_bounds *bounds, const dregs_line *line)
{
    const dregs_target *target = dregs_line_target(line);
    int in_film = target->measured_in.kind == DREGS_LINK_NONE;
    unsigned stage = in_film ? (unsigned)dregs_line_last_wet(line) : target->measured_in.index;
    unsigned first = bounds->count, s;
    dregs_status status = DREGS_OK;

    for (s = 0; s < dregs_line_solutes(line) && !status; s++)
        status =
            add_stated(bounds, DREGS_BOUND_CONCENTRATION, stage, (int)s, &target->concentration[s]);
    if (!status)
        status = add_stated(bounds, DREGS_BOUND_NON_VOLATILE, stage, DREGS_EVERY_SOLUTE,
                            &target->dissolved);
    if (!status)
        status = add_stated(bounds, DREGS_BOUND_RATIO, stage, DREGS_EVERY_SOLUTE, &target->ratio);
    if (!status)
        status = add_stated(bounds, DREGS_BOUND_CONDUCTIVITY, stage, DREGS_EVERY_SOLUTE,
                            &target->conductivity);
    for (; first < bounds->count; first++)
        bounds->bound[first].in_film = in_film;
    return status;
}

static dregs_status scan_all(const dregs_map *map, uint64_t loads, int when, dregs_bounds *bounds)
{
    dregs_week *week = NULL;
    dregs_status status = DREGS_OK;
    unsigned i;

    if (bounds->count && dregs_line_has_week(dregs_map_line(map)))
        status = dregs_week_new(map, DREGS_WEEK_WORST_KNOWN, &week);
    for (i = 0; i < bounds->count && !status; i++) {
        status = dregs_residue_scan(map, loads, when, &bounds->bound[i]);
        if (!status && week)
            status = dregs_residue_bound_in_week(week, loads, when, &bounds->bound[i]);
    }
    dregs_week_free(week);
    return status;
}

dregs_status dregs_bounds_stated(const dregs_line *line, dregs_bounds **bounds)
{
    dregs_bounds *made = calloc(1, sizeof *made);
    dregs_status status = made ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line) && !status; i++)
        if (dregs_line_stage(line, i)->tank >= 0)
            status = add_stage(made, line, i);
    if (!status && dregs_line_target(line)->name)
        status = add_targets(made, line);
    if (status)
        dregs_bounds_free(made);
    else
        *bounds = made;
    return status;
}

dregs_status dregs_bounds_new(const dregs_map *map, uint64_t loads, int when, dregs_bounds **bounds)
{
    dregs_bounds *made = NULL;
    dregs_status status;

    if (loads > DREGS_LOADS_MOST)
        return DREGS_DOMAIN;
    status = dregs_bounds_stated(dregs_map_line(map), &made);
    if (!status)
        status = scan_all(map, loads, when, made);
    if (status)
        dregs_bounds_free(made);
    else
        *bounds = made;
    return status;
}

/* Of the fresh fill what a wash must keep, unless it states how little will do. */
static dregs_status add_cleaner(dregs_bounds *bounds, const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    dregs_status status = DREGS_OK;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line) && !status; s++) {
        dregs_value limit = {DREGS_BOUND_CLEANER_SHARE * fluid->content[s].si, 0, 0};
        if (limit.si > 0 && !stage->least[s].row)
            status = add(bounds, DREGS_BOUND_CLEANER, index, (int)s, &limit);
    }
    return status;
}

/* What a tank may hold of each soil, going by the file's own line. */
static dregs_status add_soils(dregs_bounds *bounds, const dregs_map *file, uint64_t loads,
                              const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    dregs_status status = DREGS_OK;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line) && !status; s++) {
        dregs_bound own = {
            .kind = DREGS_BOUND_SOIL, .stage = index, .solute = (int)s, .limit = {1.0, 0, 0}};
        if (!dregs_line_arrives(line, s) || stage->most[s].row)
            continue;
        status = dregs_residue_scan(file, loads, 0, &own);
        own.limit.si = DREGS_BOUND_SOIL_TIMES * own.reached;
        if (!status && own.reached > 0)
            status = add(bounds, DREGS_BOUND_SOIL, index, (int)s, &own.limit);
    }
    return status;
}

dregs_status dregs_bounds_described(const dregs_map *map, const dregs_map *file, uint64_t loads,
                                    dregs_bounds **bounds)
{
    const dregs_line *line = dregs_map_line(map);
    dregs_bounds *made;
    dregs_status status = DREGS_OK;
    unsigned i;

    if (loads > DREGS_LOADS_MOST ||
        (file && (dregs_line_stages(dregs_map_line(file)) != dregs_line_stages(line) ||
                  dregs_line_solutes(dregs_map_line(file)) != dregs_line_solutes(line))))
        return DREGS_DOMAIN;
    made = calloc(1, sizeof *made);
    if (!made)
        return DREGS_NO_MEMORY;
    for (i = 0; i < dregs_line_stages(line) && !status; i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (dregs_stage_is(stage, DREGS_STAGE_CLEANS))
            status = add_cleaner(made, line, i);
        if (!status && file && stage->tank >= 0)
            status = add_soils(made, file, loads, line, i);
    }
    if (!status)
        status = scan_all(map, loads, 1, made);
    if (status)
        dregs_bounds_free(made);
    else
        *bounds = made;
    return status;
}

void dregs_bounds_free(dregs_bounds *bounds)
{
    if (!bounds)
        return;
    free(bounds->bound);
    free(bounds);
}

unsigned dregs_bounds_count(const dregs_bounds *bounds)
{
    return bounds->count;
}

const dregs_bound *dregs_bounds_at(const dregs_bounds *bounds, unsigned index)
{
    return index < bounds->count ? &bounds->bound[index] : NULL;
}

const dregs_bound *dregs_bounds_binding(const dregs_bounds *bounds)
{
    const dregs_bound *found = NULL;
    unsigned i;

    for (i = 0; i < bounds->count; i++)
        if (!found || bounds->bound[i].share > found->share)
            found = &bounds->bound[i];
    return found;
}

const dregs_bound *dregs_bounds_life(const dregs_bounds *bounds)
{
    const dregs_bound *found = NULL;
    unsigned i;

    for (i = 0; i < bounds->count; i++) {
        const dregs_bound *bound = &bounds->bound[i];
        if (dregs_bound_is_limit(bound) && bound->crossed &&
            (!found || bound->crossed < found->crossed))
            found = bound;
    }
    return found;
}
