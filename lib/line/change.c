/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* change.c: a line with other values than its file states. What was read is taken over, not read
 * again: a search or a fit asks for hundreds of such lines.
 */
#include "dregs/number.h"
#include "line/read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void *copied(dregs_line *line, const void *from, size_t count, size_t size)
{
    return dregs_pool_copy(&line->memory, from, count, size);
}

static dregs_status copy_values(dregs_line *line, dregs_value **values, size_t count)
{
    *values = copied(line, *values, count, sizeof **values);
    return *values ? DREGS_OK : DREGS_NO_MEMORY;
}

/* The values that the grammar keeps for each solute or number, of some structs that the kinds
 * share. */
static dregs_status copy_list(dregs_line *line, const struct property *property, void *owners,
                              size_t size, size_t count)
{
    char *field = (char *)owners + property->offset;
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = 0; i < count && !status; i++, field += size)
        status = copy_values(line, (dregs_value **)(void *)field,
                             dregs_line_place_count(line, property));
    return status;
}

static dregs_status copy_lists(dregs_line *line)
{
    const struct {
        void *owners;
        size_t size, count;
        unsigned kinds;
    } of[] = {{&line->target, 0, 1, IN(KIND_TARGET)},
              {line->loads, sizeof *line->loads, line->load_count, IN(KIND_LOAD)},
              {line->fluids, sizeof *line->fluids, line->fluid_count, IN(KIND_LIQUID)},
              {line->scales, sizeof *line->scales, line->scale_count, IN(KIND_CALIBRATION)},
              {line->stages, sizeof *line->stages, line->stage_count, STAGE_KINDS}};
    dregs_status status = DREGS_OK;
    size_t i, k;

    for (i = 0; i < dregs_property_count && !status; i++) {
        const struct property *property = &dregs_properties[i];
        for (k = 0; k < sizeof of / sizeof of[0] && dregs_line_is_open(property); k++)
            if (property->kinds & of[k].kinds && !status)
                status = copy_list(line, property, of[k].owners, of[k].size, of[k].count);
    }
    return status;
}

/* A line of its own in what values can touch; the rest is the original's. */
static dregs_status copy_description(const dregs_line *line, dregs_line *made)
{
    *made = *line;
    made->memory = (struct dregs_pool){0};
    made->own_liquids = NULL;
    made->loads = copied(made, line->loads, line->load_count, sizeof *line->loads);
    made->solutes = copied(made, line->solutes, line->solute_count, sizeof *line->solutes);
    made->fluids = copied(made, line->fluids, line->fluid_count, sizeof *line->fluids);
    made->scales = copied(made, line->scales, line->scale_count, sizeof *line->scales);
    made->stages = copied(made, line->stages, line->stage_count, sizeof *line->stages);
    if (!made->loads || !made->solutes || !made->fluids || !made->scales || !made->stages)
        return DREGS_NO_MEMORY;
    made->load = &made->loads[made->kind];
    return copy_lists(made);
}

/* Room for the rows of values that the file does not state, and their places. */
static dregs_status make_room(dregs_line *line, size_t count)
{
    unsigned total = line->row_count + line->rows_added, i;
    dregs_row *rows = dregs_line_keep(line, total + 1 + count, sizeof *rows);
    struct place *places = dregs_line_keep(line, total + 1 + count, sizeof *places);

    if (!rows || !places)
        return DREGS_NO_MEMORY;
    memcpy(rows, line->rows, (total + 1) * sizeof *rows);
    memcpy(places, line->places, (total + 1) * sizeof *places);
    line->items = copied(line, line->items, line->item_count, sizeof *line->items);
    for (i = 0; line->items && i < line->item_count; i++) {
        line->items[i].given =
            copied(line, line->items[i].given, dregs_property_count, sizeof *line->items->given);
        if (!line->items[i].given)
            return DREGS_NO_MEMORY;
    }
    line->rows = rows;
    line->places = places;
    return line->items ? DREGS_OK : DREGS_NO_MEMORY;
}

/* A row for a value that the file does not state; 0 when memory is short. */
static unsigned add_row(dregs_line *line, const struct place *place, const char *property)
{
    unsigned row = line->row_count + ++line->rows_added;
    dregs_row *cells = &line->rows[row];
    const char *unit = place->property->unit;

    if (place->property->type == VALUE_READING && line->scales[place->item->index].unit)
        unit = line->scales[place->item->index].unit;
    *cells = (dregs_row){
        .item = place->item->name, .value = "", .spread = "", .note = "", .varies = "", .with = ""};
    cells->property = dregs_line_keep_text(line, property);
    cells->unit = unit;
    if (!cells->property)
        return 0;
    line->places[row] = *place;
    if (place->property->form == NO_SOLUTE || place->property->form == ALL_SOLUTES)
        dregs_line_give(&line->items[place->item - line->items], place->property, row);
    return row;
}

static dregs_status say_out_of_bounds(const dregs_line *line, const struct place *place,
                                      const char *written, unsigned row, double si,
                                      const char *wrong, dregs_faults *faults)
{
    const char *text = row ? line->rows[row].unit : place->property->unit;
    char number[DREGS_NUMBER_TEXT], name[DREGS_QUOTED], message[DREGS_UNIT_MESSAGE];
    dregs_unit unit;

    if (!dregs_line_read_value_unit(place->property, text, &unit, message))
        unit = (dregs_unit){.scale = 1};
    return dregs_fault_add(faults, DREGS_DOMAIN, dregs_line_at(line, row),
                           "%.60s of %s: %.40s %.20s is %s", written,
                           dregs_quote(name, place->item->name),
                           dregs_number_exact(number, dregs_unit_from_si(unit, si)), text, wrong);
}

/* Puts one value in, with the spread that its row gives. `row` 0: the one that states it now. */
static dregs_status set(dregs_line *line, const struct place *place, unsigned row,
                        const char *written, double si, dregs_faults *faults)
{
    char name[DREGS_QUOTED];
    const char *wrong = dregs_line_out_of_bounds(place->property->type, si);
    dregs_value *values, value = {si, 0, 0};
    unsigned count = dregs_line_place_values(line, place, &values), i;

    for (i = 0; i < count; i++)
        if (values[i].row && (line->places[values[i].row].property != place->property ||
                              line->places[values[i].row].item->row != place->item->row))
            return dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_at(line, values[i].row),
                                   "%.60s of %s: the file states it in another way, by %.60s",
                                   written, dregs_quote(name, place->item->name),
                                   line->rows[values[i].row].property);
    value.row = row ? row : values->row;
    if (wrong)
        return say_out_of_bounds(line, place, written, value.row, si, wrong, faults);
    if (!value.row)
        value.row = add_row(line, place, written);
    if (!value.row)
        return DREGS_NO_MEMORY;
    value.sd = dregs_spread_of(line->places[value.row].spread, si, line->places[value.row].unit);
    for (i = 0; i < count; i++)
        values[i] = value;
    return DREGS_OK;
}

static dregs_status find(const dregs_line *line, const dregs_setting *setting, struct place *place,
                         const char **written, dregs_faults *faults)
{
    char item[DREGS_QUOTED], property[DREGS_QUOTED];
    int found;

    if (setting->row) {
        found = setting->row <= line->row_count + line->rows_added;
        if (!found || !line->places[setting->row].property ||
            line->places[setting->row].property->type == VALUE_WORD)
            return dregs_fault_add(faults, DREGS_UNKNOWN, 0, "row %u states no quantity",
                                   setting->row);
        *place = line->places[setting->row];
        *written = line->rows[setting->row].property;
        return DREGS_OK;
    }
    found = setting->item && setting->property &&
            dregs_line_find_place(line, setting->item, setting->property, place);
    if (!found || place->property->type == VALUE_WORD)
        return dregs_fault_add(faults, DREGS_UNKNOWN, 0, "the line has no quantity %s of %s",
                               dregs_quote(property, setting->property ? setting->property : ""),
                               dregs_quote(item, setting->item ? setting->item : ""));
    *written = setting->property;
    return DREGS_OK;
}

static int states(const dregs_line *line, const dregs_setting *setting)
{
    return setting->row || !setting->item || !setting->property ||
           dregs_line_find(line, setting->item, setting->property);
}

static dregs_status apply(dregs_line *line, const dregs_setting *settings, size_t count,
                          size_t new_rows, dregs_faults *faults)
{
    dregs_status status = new_rows ? make_room(line, new_rows) : DREGS_OK;
    struct place place;
    const char *written = "";
    size_t i;

    for (i = 0; i < count && !status; i++) {
        status = find(line, &settings[i], &place, &written, faults);
        if (!status)
            status = set(line, &place, settings[i].row, written, settings[i].si, faults);
    }
    return status;
}

/* All that follows from the values, as if they had just been read. \param changed  as of
 * dregs_line_check */
static dregs_status follow(dregs_line *line, int changed, dregs_faults *faults)
{
    dregs_status status;
    unsigned i;

    line->tank_count = 0;
    if (!line->drawn) {
        line->assumed = NULL;
        line->assumed_count = 0;
    }
    status = dregs_line_check(line, line->items, line->item_count, changed, faults);
    for (i = 0; i < line->stage_count; i++)
        if (line->by_hand[i])
            line->stages[i].dump_every = (dregs_value){NAN, 0, 0};
    return status ? status : dregs_line_derive(line, faults);
}

/* How a line is made of another beside the values that are set. */
struct manner {
    const struct practice *practice; /* NULL: as that one is run */
    dregs_liquids *liquids;          /* NULL: those of that one */
    int drawn;
};

static dregs_status change(const dregs_line *line, const dregs_setting *settings, size_t count,
                           const struct manner *manner, dregs_line **changed, dregs_faults *faults)
{
    const struct practice *practice = manner->practice;
    dregs_line *made = malloc(sizeof *made);
    dregs_status status;
    size_t new_rows = 0, k;
    unsigned i;

    if (!made)
        return DREGS_NO_MEMORY;
    for (k = 0; k < count; k++)
        new_rows += !states(line, &settings[k]);
    status = copy_description(line, made);
    if (!status && practice) {
        for (i = 0; i < line->stage_count; i++)
            made->drag_out[i] = practice->drag_out ? practice->drag_out[i] : 1.0;
        made->any_period = practice->any_period;
        memset(made->by_hand, 0, sizeof made->by_hand);
        if (practice->by_hand)
            memcpy(made->by_hand, practice->by_hand, line->stage_count);
    }
    if (manner->liquids)
        made->liquids = manner->liquids;
    made->drawn |= manner->drawn;
    if (!status)
        status = apply(made, settings, count, new_rows, faults);
    if (!status)
        status = follow(made, new_rows == 0, faults);
    if (status) {
        if (faults)
            dregs_faults_sort(faults);
        dregs_line_free(made);
    } else {
        made->own_liquids = manner->liquids;
        *changed = made;
    }
    return status;
}

dregs_status dregs_line_with(const dregs_line *line, const dregs_setting *settings, size_t count,
                             dregs_line **changed, dregs_faults *faults)
{
    static const struct manner as_it_is = {0};

    return change(line, settings, count, &as_it_is, changed, faults);
}

dregs_status dregs_line_drawn(const dregs_line *line, dregs_liquids *off,
                              const dregs_setting *settings, size_t count, dregs_line **changed,
                              dregs_faults *faults)
{
    const struct manner drawn = {NULL, off, 1};

    return change(line, settings, count, &drawn, changed, faults);
}

dregs_status dregs_line_run_as(const dregs_line *line, const dregs_setting *settings, size_t count,
                               const struct practice *practice, dregs_line **changed,
                               dregs_faults *faults)
{
    const struct manner manner = {practice, NULL, 0};
    unsigned i;

    for (i = 0; practice->drag_out && i < line->stage_count; i++)
        if (!(practice->drag_out[i] > 0) || !isfinite(practice->drag_out[i]))
            return DREGS_DOMAIN;
    return change(line, settings, count, &manner, changed, faults);
}
