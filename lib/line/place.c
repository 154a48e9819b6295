/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place.c: where a value lives: the words of a row, item and property, to the value in the
 * description. The reader and whoever asks for a value or sets one go this way.
 */
#include "line/line.h"

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

/* Is `text` this property? Sets the solute or the number it names, if it names one. */
static int matches(const dregs_line *line, const struct property *property, const char *text,
                   unsigned *which)
{
    size_t head = strlen(property->name);
    const struct item *named;
    int number;

    if (property->form != ONE_SOLUTE && property->form != NUMBERED)
        return strcmp(property->name, text) == 0;
    if (strncmp(text, property->name, head) != 0)
        return 0;
    if (property->form == NUMBERED) {
        number = point_number(text + head);
        *which = number < 0 ? 0 : (unsigned)number;
        return number >= 0;
    }
    named = dregs_line_item(line, text + head);
    if (!named || named->kind != KIND_SOLUTE)
        return 0;
    *which = named->index;
    return 1;
}

int dregs_line_place(const dregs_line *line, const struct item *item, const char *text,
                     struct place *place)
{
    size_t i;

    place->item = item;
    place->which = 0;
    for (i = 0; i < dregs_property_count; i++) {
        place->property = &dregs_properties[i];
        if (place->property->kinds & IN(item->kind) &&
            matches(line, place->property, text, &place->which))
            return 1;
    }
    return 0;
}

unsigned dregs_place_values(dregs_line *line, const struct place *place, dregs_value **values)
{
    void *field = (char *)dregs_item_struct(line, place->item) + place->property->offset;

    if (place->property->form == NO_SOLUTE) {
        *values = field;
        return 1;
    }
    *values = *(dregs_value **)field + place->which;
    return place->property->form == ALL_SOLUTES ? line->solute_count : 1;
}
