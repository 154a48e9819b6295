/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* edit.h: a line file's text with something changed and all else kept: comments, notes, order,
 * line endings.
 */
#ifndef DREGS_EDIT_H
#define DREGS_EDIT_H

#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A row to be written. NULL cells are empty. */
typedef struct dregs_new_row {
    const char *item, *property, *value, *unit, *note;
} dregs_new_row;

/** The line's text with the values of some properties changed. Where the file has the row its
 *  value and unit are replaced, and a spread that was given in the row's unit is emptied when the
 *  unit changes; where it has none, a row is added below the item's last one.
 *  A row whose `value` is NULL is taken out where the file has it.
 *  \param rows    \p count rows; `note` NULL keeps the row's note.
 *  \param text    receives the new text, to be freed with dregs_edit_free.
 *  \param length  receives its length.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such item); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_edit_set(const dregs_line *line, const dregs_new_row *rows,
                                      size_t count, char **text, size_t *length);

/** The line's text with some items taken out and \p count rows put in at the place of the first
 *  row taken out. Rows of other items that refer to an item taken out (`overflow to`,
 *  `top up from`, `refill from`, `runoff to`) are taken out too.
 *  \param drop  \p drops names of items; at least one.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such item); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_edit_replace(const dregs_line *line, const char *const *drop,
                                          size_t drops, const dregs_new_row *rows, size_t count,
                                          char **text, size_t *length);

DREGS_API void dregs_edit_free(char *text);

#ifdef __cplusplus
}
#endif
#endif
