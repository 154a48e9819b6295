/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* form.c: what kind of number a row states, for who changes it a little. */
#include "line/inside.h"
#include "line/line.h"

dregs_number_form dregs_line_number_form(const dregs_line *line, unsigned row)
{
    const struct place *place;

    if (row < 1 || row > line->row_count + line->rows_added)
        return DREGS_FORM_NONE;
    place = &line->places[row];
    if (!place->property || !place->item || place->item->kind == KIND_TARGET)
        return DREGS_FORM_NONE;
    switch (place->property->type) {
    case VALUE_POSITIVE:
    case VALUE_NOT_NEGATIVE:
        return DREGS_FORM_QUANTITY;
    case VALUE_SHARE:
        return DREGS_FORM_SHARE;
    case VALUE_TEMPERATURE:
        return DREGS_FORM_TEMPERATURE;
    case VALUE_COUNT:
        return DREGS_FORM_COUNT;
    case VALUE_MONEY:
    case VALUE_PRICE:
    case VALUE_READING:
    case VALUE_WORD:
        return DREGS_FORM_NONE;
    }
    return DREGS_FORM_NONE;
}
