/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* place.c: where a value lives: the words of a row, item and property, to the value in the
 * description. The reader and whoever asks for a value or sets one go this way.
 */
#include "line/inside.h"

#include <string.h>

/* The number behind "reading " from 1 to DREGS_CALIBRATION_MOST, less one; -1 for none. */
static int point_number(const char *text)
{
    int number = 0;

    if (!*text || *text == '0' || strlen(text) > 2 || strspn(text, "0123456789") != strlen(text))
        return -1;
    for (; *text; text++)
        number = number * 10 + (*text - '0');
    return number <= DREGS_CALIBRATION_MOST ? number - 1 : -1;
}

/* Is `text` this property? Sets the solute, load or number it names, if it names one. */
static int matches(const dregs_line *line, const struct property *property, const char *text,
                   unsigned *which)
{
    size_t head = strlen(property->name);
    const struct item *named;
    int number;

    if (!dregs_line_is_open(property))
        return strcmp(property->name, text) == 0;
    if (strncmp(text, property->name, head) != 0)
        return 0;
    if (property->form == NUMBERED) {
        number = point_number(text + head);
        *which = number < 0 ? 0 : (unsigned)number;
        return number >= 0;
    }
    named = dregs_line_item(line, text + head);
    if (!named || named->kind != (property->form == ONE_LOAD ? KIND_LOAD : KIND_SOLUTE))
        return 0;
    *which = named->index;
    return 1;
}

int dregs_line_place(const dregs_line *line, const struct item *item, const char *text,
                     struct place *place)
{
    size_t i;

    *place = (struct place){.item = item};
    for (i = 0; i < dregs_property_count; i++) {
        place->property = &dregs_properties[i];
        if (place->property->kinds & IN(item->kind) &&
            matches(line, place->property, text, &place->which))
            return 1;
    }
    return 0;
}

unsigned dregs_line_place_count(const dregs_line *line, const struct property *property)
{
    return property->form == NUMBERED   ? DREGS_CALIBRATION_MOST
           : property->form == ONE_LOAD ? line->load_count
                                        : line->solute_count;
}

unsigned dregs_line_place_values(dregs_line *line, const struct place *place, dregs_value **values)
{
    void *field = (char *)dregs_line_item_struct(line, place->item) + place->property->offset;

    if (place->property->form == NO_SOLUTE) {
        *values = field;
        return 1;
    }
    *values = *(dregs_value **)field + place->which;
    return place->property->form == ALL_SOLUTES ? line->solute_count : 1;
}

/* A place of the line as it is written; the values there are not changed through it. */
static dregs_status read_place(const dregs_line *line, const struct place *place,
                               dregs_value *value)
{
    dregs_value *values;

    if (!place->property || place->property->type == VALUE_WORD)
        return DREGS_UNKNOWN;
    (void)dregs_line_place_values((dregs_line *)line, place, &values);
    *value = *values;
    return DREGS_OK;
}

dregs_status dregs_line_value(const dregs_line *line, unsigned row, dregs_value *value)
{
    if (row < 1 || row > line->row_count + line->rows_added)
        return DREGS_UNKNOWN;
    return read_place(line, &line->places[row], value);
}

int dregs_line_find_place(const dregs_line *line, const char *item, const char *property,
                          struct place *place)
{
    const struct item *found = dregs_line_item(line, item);

    return found && dregs_line_place(line, found, property, place);
}

dregs_status dregs_line_get(const dregs_line *line, const char *item, const char *property,
                            dregs_value *value)
{
    struct place place;

    if (!dregs_line_find_place(line, item, property, &place))
        return DREGS_UNKNOWN;
    if (place.property->form == ALL_SOLUTES && !dregs_line_given(place.item, place.property)) {
        *value = (dregs_value){place.property->start, 0, 0}; /* each solute may have its own */
        return DREGS_OK;
    }
    return read_place(line, &place, value);
}

const char *dregs_line_word(const dregs_line *line, const char *item, const char *property)
{
    struct place place;
    unsigned row;

    if (!dregs_line_find_place(line, item, property, &place) || place.property->type != VALUE_WORD)
        return NULL;
    row = dregs_line_given(place.item, place.property);
    if (row)
        return line->rows[row].value;
    return place.property->word && *place.property->word ? place.property->word : NULL;
}

unsigned dregs_line_find(const dregs_line *line, const char *item, const char *property)
{
    struct place place;
    dregs_value value;

    if (!dregs_line_find_place(line, item, property, &place))
        return 0;
    if (place.property->type == VALUE_WORD)
        return dregs_line_given(place.item, place.property);
    return dregs_line_get(line, item, property, &value) ? 0 : value.row;
}
