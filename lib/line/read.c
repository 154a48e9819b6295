/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* read.c: rows to the description of a line: every row that is not of a kind is read into its item
 * as the grammar says.
 */
#include "line/read.h"
#include "dregs/stage.h"

#include <stdio.h>
#include <string.h>

int dregs_line_reader_full(const struct reader *r)
{
    return r->faults && r->faults->more > 0;
}

/* "a, b, c" of the names that belong to `kinds` */
static void list_properties(char *into, size_t room, enum item_kind kind)
{
    size_t i, used = 0;

    into[0] = '\0';
    for (i = 0; i < dregs_property_count; i++) {
        const struct property *p = &dregs_properties[i];
        int wrote;
        if (!(p->kinds & IN(kind)) || dregs_line_is_open(p))
            continue;
        wrote = snprintf(into + used, room - used, "%s%s", used ? ", " : "", p->name);
        if (wrote < 0 || (size_t)wrote >= room - used) {
            into[used] = '\0'; /* no half names */
            return;
        }
        used += (size_t)wrote;
    }
}

/* A value that is a word. */
static void read_word(struct reader *r, unsigned row, void *owner, const struct property *property)
{
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED];

    if (*cells->unit || *cells->spread)
        SAY(r, row, "%s is a word and takes no unit and no spread, %s was read", cells->property,
            dregs_quote(quoted, *cells->unit ? cells->unit : cells->spread));
    else
        property->read(r, row, cells->value, owner, property);
}

static void unknown_property(struct reader *r, unsigned row, struct item *item)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *names[128];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16], all[400];
    size_t i, count = 0;

    for (i = 0; i < dregs_property_count; i++)
        if (dregs_properties[i].kinds & IN(item->kind) && !dregs_line_is_open(&dregs_properties[i]))
            names[count++] = dregs_properties[i].name;
    if (item->kind == KIND_LIQUID)
        for (i = 0; i < r->line->item_count; i++)
            if (r->line->items[i].kind == KIND_SOLUTE && count < 128)
                names[count++] = r->line->items[i].name;
    list_properties(all, sizeof all, item->kind);
    item->meant = dregs_nearest(cells->property, names, count);
    SAY(r, row, "unknown property %s of %s, a %s%s; it may have %s%s",
        dregs_quote(quoted, cells->property), dregs_quote(name, cells->item),
        dregs_kind_names[item->kind], dregs_nearest_words(near, cells->property, names, count), all,
        item->kind == KIND_LOAD     ? ", 'on parts <solute>'"
        : item->kind == KIND_LIQUID ? ", 'solubility <solute>' and the name of a solute"
        : dregs_line_kind_is(item->kind, DREGS_STAGE_TANK)
            ? ", 'removal <solute>', 'clearing <solute>', 'most <solute>', 'least <solute>' and "
              "'drag-out <load>'"
        : item->kind == KIND_STAGE + DREGS_SPRAY ? " and 'drag-out <load>'"
        : item->kind == KIND_CALIBRATION ? ", 'reading <number>' and 'concentration <number>', "
                                           "numbers from 1 to 20"
        : item->kind == KIND_TARGET      ? ", 'residue <solute>' and 'concentration <solute>'"
                                         : "");
}

static void twice(struct reader *r, unsigned row, unsigned first)
{
    const dregs_row *cells = &r->line->rows[row];
    char name[DREGS_QUOTED];

    SAY(r, row, "%.60s of %s given twice (first: line %lu, %.60s)", cells->property,
        dregs_quote(name, cells->item), dregs_line_at(r->line, first),
        r->line->rows[first].property);
}

static void read_row(struct reader *r, unsigned row, struct item *item)
{
    const dregs_row *cells = &r->line->rows[row];
    dregs_value *values, read = {0, 0, 0};
    struct place place;
    unsigned count, i;

    if (!dregs_line_place(r->line, item, cells->property, &place)) {
        unknown_property(r, row, item);
        return;
    }
    if (!dregs_line_is_open(place.property)) {
        unsigned given = dregs_line_given(item, place.property);
        if (given) {
            twice(r, row, given);
            return;
        }
        dregs_line_give(item, place.property, row);
    }
    r->line->places[row] = place;
    if (place.property->type == VALUE_WORD) {
        read_word(r, row, dregs_line_item_struct(r->line, item), place.property);
        return;
    }
    count = dregs_line_place_values(r->line, &place, &values);
    if (place.property->form == NO_SOLUTE && values->row) { /* a level has set the residue */
        SAY(r, row, "the limit is given in two ways: level in line %lu and residue here",
            dregs_line_at(r->line, values->row));
        return;
    }
    dregs_line_read_quantity(r, row, place.property, &read);
    for (i = 0; i < count && read.row; i++) {
        if (values[i].row) {
            twice(r, row, values[i].row);
            return;
        }
        values[i] = read;
    }
}

dregs_status dregs_line_describe(dregs_line *line, dregs_faults *faults)
{
    struct reader r = {line, faults, 0};
    dregs_status status;
    unsigned row;

    line->items = dregs_line_keep(line, ITEMS_MOST + 1, sizeof *line->items);
    line->places = dregs_line_keep(line, line->row_count + 1, sizeof *line->places);
    if (!line->items || !line->places)
        return DREGS_NO_MEMORY;
    status = dregs_line_gather_items(&r);
    if (!status && !dregs_line_reader_full(&r))
        status = dregs_line_start_items(&r);
    for (row = 1; !status && row <= line->row_count && !dregs_line_reader_full(&r); row++) {
        const struct item *item = dregs_line_item(line, line->rows[row].item);
        if (item && item->kind != KINDS && *line->rows[row].property &&
            strcmp(line->rows[row].property, "kind") != 0)
            read_row(&r, row, &line->items[item - line->items]);
    }
    if (!status && !r.bad)
        status = dregs_line_check(line, line->items, line->item_count, 0, faults);
    else if (!status &&
             !dregs_line_reader_full(&r)) /* the rows had faults; say what is missing too */
        (void)dregs_line_check(line, line->items, line->item_count, 0, faults);
    return status ? status : r.bad ? DREGS_BAD_DATA : DREGS_OK;
}
