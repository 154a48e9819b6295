/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* items.c: the items of a line file. First the rows that name a kind make the items, so that a row
 * may refer to an item that comes later; then each gets its struct, with what the grammar says of
 * values that are not given.
 */
#include "line/read.h"

#include <math.h>
#include <string.h>

enum { NAME_MOST = 60 };

const struct item *dregs_line_item(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 0; i < line->item_count; i++)
        if (strcmp(line->items[i].name, name) == 0)
            return &line->items[i];
    return NULL;
}

unsigned dregs_line_given(const struct item *item, const struct property *property)
{
    unsigned i;

    for (i = 0; i < item->given_count; i++)
        if (item->given[i].property == property)
            return item->given[i].row;
    return 0;
}

void dregs_line_give(struct item *item, const struct property *property, unsigned row)
{
    item->given[item->given_count++] = (struct given){property, row};
}

static int good_name(struct reader *r, unsigned row, const char *name, enum item_kind kind)
{
    char quoted[DREGS_QUOTED];
    const char *p;
    size_t i;

    for (p = name; *p; p++)
        if (dregs_utf8_unseen(p)) {
            SAY(r, row,
                "the name %s holds a line break, a control character or one that nobody sees",
                dregs_quote(quoted, name));
            return 0;
        }
    if (strlen(name) > NAME_MOST) {
        SAY(r, row, "the name %s is longer than %d bytes", dregs_quote(quoted, name), NAME_MOST);
        return 0;
    }
    if (strcmp(name, "drain") == 0) {
        SAY(r, row, "'drain' is the drain and cannot name an item");
        return 0;
    }
    if (kind == KIND_CALIBRATION &&
        (strcmp(name, "conductivity") == 0 || strcmp(name, "non-volatile residue") == 0 ||
         strcmp(name, "dump") == 0 || strncmp(name, "concentration ", 14) == 0)) {
        SAY(r, row,
            "a calibration cannot be called %s: a log of readings means another thing by it",
            dregs_quote(quoted, name));
        return 0;
    }
    if (kind != KIND_SOLUTE)
        return 1;
    for (i = 0; i < dregs_property_count; i++)
        if ((dregs_properties[i].kinds & IN(KIND_LIQUID) &&
             strcmp(dregs_properties[i].name, name) == 0) ||
            strcmp(name, "total") == 0 || strcmp(name, "dissolved") == 0 ||
            strcmp(name, "kind") == 0) {
            SAY(r, row, "a solute cannot be called %s: that word has a meaning of its own",
                dregs_quote(quoted, name));
            return 0;
        }
    return 1;
}

/* An item that a line has one of. */
static int place_only(struct reader *r, const struct item *item, const char **name, unsigned *row)
{
    if (*row) {
        SAY(r, item->row, "a second %s; a line has one (the first: line %lu)",
            dregs_kind_names[item->kind], dregs_line_at(r->line, *row));
        return 0;
    }
    *name = item->name;
    *row = item->row;
    return 1;
}

/* An item of which a line has so many at most. */
static int place_next(struct reader *r, struct item *item, unsigned *count, unsigned most,
                      const char *what)
{
    if (*count == most) {
        SAY(r, item->row, "more than %u %s", most, what);
        return 0; /* not counted: nothing would ever fill its place */
    }
    item->index = (*count)++;
    return 1;
}

/* Counts an item of its kind; the arrays are made once all are known. */
static int place_item(struct reader *r, struct item *item)
{
    dregs_line *line = r->line;

    switch (item->kind) {
    case KIND_LOAD:
        return place_next(r, item, &line->load_count, DREGS_LINE_LOADS, "loads");
    case KIND_TARGET:
        return place_only(r, item, &line->target.name, &line->target.row);
    case KIND_SCHEDULE:
        return place_only(r, item, &line->schedule.name, &line->schedule.row);
    case KIND_ROOM:
        return place_only(r, item, &line->room.name, &line->room.row);
    case KIND_SOLUTE:
        return place_next(r, item, &line->solute_count, DREGS_LINE_SOLUTES, "solutes");
    case KIND_LIQUID:
        return place_next(r, item, &line->fluid_count, ITEMS_MOST, "liquids");
    case KIND_CALIBRATION:
        return place_next(r, item, &line->scale_count, ITEMS_MOST, "calibrations");
    default:
        return place_next(r, item, &line->stage_count, DREGS_LINE_STAGES, "stages");
    }
}

static dregs_status add_item(struct reader *r, unsigned row)
{
    dregs_line *line = r->line;
    const dregs_row *cells = &line->rows[row];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    const struct item *known = dregs_line_item(line, cells->item);
    struct item *item;
    int kind = 0;

    if (known) {
        SAY(r, row, "kind of %s given twice (first: line %lu)", dregs_quote(name, cells->item),
            dregs_line_at(line, known->row));
        return DREGS_OK;
    }
    if (*cells->unit || *cells->spread)
        SAY(r, row, "a kind is a word and takes no unit and no spread, %s was read",
            dregs_quote(quoted, *cells->unit ? cells->unit : cells->spread));
    while (kind < KINDS && strcmp(dregs_kind_names[kind], cells->value) != 0)
        kind++;
    if (kind == KINDS) {
        SAY(r, row,
            "unknown kind %s of %s; a kind is load, solute, liquid, calibration, wash, rinse, "
            "spray, dry, target, schedule or room%s",
            dregs_quote(quoted, cells->value), dregs_quote(name, cells->item),
            dregs_nearest_words(near, cells->value, dregs_kind_names, KINDS));
        kind = -1; /* known by name all the same, so that its rows do not all fail */
    }
    if (line->item_count >= ITEMS_MOST)
        return SAY(r, row, "more than %d items", ITEMS_MOST);
    item = &line->items[line->item_count];
    item->name = cells->item;
    item->row = row;
    item->kind = kind < 0 ? KINDS : (enum item_kind)kind;
    item->given = dregs_line_keep(line, dregs_property_count, sizeof *item->given);
    if (!item->given)
        return DREGS_NO_MEMORY;
    if (kind >= 0 && (!good_name(r, row, cells->item, item->kind) || !place_item(r, item)))
        item->kind = KINDS;
    line->item_count++;
    return DREGS_OK;
}

dregs_status dregs_line_gather_items(struct reader *r)
{
    char quoted[DREGS_QUOTED], gives[DREGS_QUOTED];
    dregs_status status = DREGS_OK;
    unsigned row, earlier;

    for (row = 1; row <= r->line->row_count && !status && !dregs_line_reader_full(r); row++) {
        const dregs_row *cells = &r->line->rows[row];
        if (!*cells->item)
            SAY(r, row, "the cell 'item' is empty");
        else if (!*cells->property)
            SAY(r, row, "the cell 'property' is empty");
        else if (strcmp(cells->property, "kind") == 0)
            status = add_item(r, row);
        else if (!dregs_line_item(r->line, cells->item)) {
            for (earlier = 1; earlier < row; earlier++)
                if (strcmp(r->line->rows[earlier].item, cells->item) == 0)
                    break;
            if (earlier == row) /* say it once for an item */
                SAY(r, row, "the first row of %s must give its kind, this one gives %s",
                    dregs_quote(quoted, cells->item), dregs_quote(gives, cells->property));
        }
    }
    return status;
}

void *dregs_line_item_struct(dregs_line *line, const struct item *item)
{
    switch (item->kind) {
    case KIND_LOAD:
        return &line->loads[item->index];
    case KIND_SOLUTE:
        return &line->solutes[item->index];
    case KIND_LIQUID:
        return &line->fluids[item->index];
    case KIND_CALIBRATION:
        return &line->scales[item->index];
    case KIND_TARGET:
        return &line->target;
    case KIND_SCHEDULE:
        return &line->schedule;
    case KIND_ROOM:
        return &line->room;
    default:
        return &line->stages[item->index];
    }
}

/* One value for each solute, load or number that may stand behind the property's name. */
static dregs_status make_values(dregs_line *line, const struct property *property,
                                dregs_value **values)
{
    unsigned i, count = dregs_line_place_count(line, property);

    *values = dregs_line_keep(line, count + 1, sizeof **values);
    if (!*values)
        return DREGS_NO_MEMORY;
    for (i = 0; i < count; i++)
        (*values)[i].si = property->start;
    return DREGS_OK;
}

/* What the grammar says of values that are not given, for a struct that the kinds share. */
static dregs_status start_values(struct reader *r, void *owner, unsigned kinds)
{
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = 0; i < dregs_property_count && !status; i++) {
        const struct property *property = &dregs_properties[i];
        void *place = (char *)owner + property->offset;
        if (!(property->kinds & kinds))
            continue;
        if (dregs_line_is_open(property))
            status = make_values(r->line, property, place);
        else if (property->type != VALUE_WORD && property->form == NO_SOLUTE)
            ((dregs_value *)place)->si = property->start;
        else if (property->word)
            property->read(r, 0, property->word, owner, property);
    }
    return status;
}

static dregs_status start_item(struct reader *r, const struct item *item)
{
    void *owner = dregs_line_item_struct(r->line, item);

    if (item->kind == KIND_LOAD) {
        ((dregs_load *)owner)->name = item->name;
        ((dregs_load *)owner)->row = item->row;
    } else if (item->kind == KIND_SOLUTE) {
        ((dregs_solute *)owner)->name = item->name;
        ((dregs_solute *)owner)->row = item->row;
    } else if (item->kind == KIND_LIQUID) {
        ((dregs_fluid *)owner)->name = item->name;
        ((dregs_fluid *)owner)->row = item->row;
    } else if (item->kind == KIND_CALIBRATION) {
        ((dregs_scale *)owner)->name = item->name;
        ((dregs_scale *)owner)->row = item->row;
    } else if (dregs_line_kind_is_stage(item->kind)) {
        dregs_stage *stage = owner;
        stage->name = item->name;
        stage->row = item->row;
        stage->kind = (dregs_stage_kind)(item->kind - KIND_STAGE);
        stage->tank = -1;
        return start_values(r, owner, STAGE_KINDS);
    } else
        return DREGS_OK; /* there is one, with or without an item */
    return start_values(r, owner, IN(item->kind));
}

dregs_status dregs_line_start_items(struct reader *r)
{
    dregs_line *line = r->line;
    dregs_status status;
    unsigned i;

    line->loads = dregs_line_keep(line, line->load_count + 1, sizeof *line->loads);
    line->solutes = dregs_line_keep(line, line->solute_count + 1, sizeof *line->solutes);
    line->fluids = dregs_line_keep(line, line->fluid_count + 1, sizeof *line->fluids);
    line->scales = dregs_line_keep(line, line->scale_count + 1, sizeof *line->scales);
    line->stages = dregs_line_keep(line, line->stage_count + 1, sizeof *line->stages);
    if (!line->loads || !line->solutes || !line->fluids || !line->scales || !line->stages)
        return DREGS_NO_MEMORY;
    line->load = line->loads;
    status = start_values(r, line->load, IN(KIND_LOAD)); /* also where the file has none */
    if (!status)
        status = start_values(r, &line->target, IN(KIND_TARGET));
    if (!status)
        status = start_values(r, &line->schedule, IN(KIND_SCHEDULE));
    if (!status)
        status = start_values(r, &line->room, IN(KIND_ROOM));
    for (i = 0; i < line->item_count && !status; i++)
        if (line->items[i].kind != KINDS)
            status = start_item(r, &line->items[i]);
    return status;
}
