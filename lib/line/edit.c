/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* edit.c: a line file's text with rows changed, added or taken out. What is not touched stays as
 * it was, byte for byte.
 */
#include "dregs/edit.h"
#include "base/gathered.h"
#include "base/text.h"
#include "line/inside.h"

#include <stdlib.h>
#include <string.h>

/* As cells of CSV are put. */
static void put(void *text, const char *bytes, size_t length)
{
    (void)dregs_gather(text, bytes, length);
}

/* The line ending that the file uses first; "\n" when it has none. */
static const char *ending(const dregs_line *line)
{
    size_t i;

    for (i = 0; i < line->length; i++) {
        if (line->text[i] == '\n')
            return "\n";
        if (line->text[i] == '\r')
            return i + 1 < line->length && line->text[i + 1] == '\n' ? "\r\n" : "\r";
    }
    return "\n";
}

/* A row in the columns of the file's header, written as its other rows are. */
static void put_row(struct dregs_gathered *out, const dregs_line *line,
                    const char *const cells[COLUMNS])
{
    static const char is_number[COLUMNS] = {[2] = 1, [4] = 1, [6] = 1}; /* value, spread, varies */
    const dregs_dialect dialect = line->dialect;
    char number[DREGS_CSV_NUMBER];
    size_t i;
    int c;

    for (i = 0; i < line->width; i++) {
        if (i)
            put(out, &dialect.separator, 1);
        for (c = 0; c < COLUMNS; c++)
            if (line->place[c] == (int)i && cells[c])
                dregs_csv_cell(dialect.separator, "",
                               is_number[c] ? dregs_csv_number(number, dialect, cells[c])
                                            : cells[c],
                               put, out);
    }
    put(out, ending(line), strlen(ending(line)));
}

/* The offset at which a physical line (from 1) begins; the text's length past the last one. */
static size_t begin_of(const dregs_line *line, unsigned long number)
{
    size_t at = 0;
    unsigned long here;

    for (here = 1; here < number && at < line->length; here++) {
        while (at < line->length && line->text[at] != '\n' && line->text[at] != '\r')
            at++;
        if (at < line->length && line->text[at] == '\r' && at + 1 < line->length &&
            line->text[at + 1] == '\n')
            at++;
        if (at < line->length)
            at++;
    }
    return at;
}

static void put_new(struct dregs_gathered *out, const dregs_line *line, const dregs_new_row *row)
{
    const char *cells[COLUMNS] = {row->item, row->property, row->value, row->unit,
                                  NULL,      row->note,     NULL,       NULL};

    put_row(out, line, cells);
}

/* Makes sure that what is put next begins on a line of its own. */
static void break_line(struct dregs_gathered *out, const dregs_line *line)
{
    if (out->length && out->bytes && out->bytes[out->length - 1] != '\n' &&
        out->bytes[out->length - 1] != '\r')
        put(out, ending(line), strlen(ending(line)));
}

static dregs_status finish(struct dregs_gathered *out, char **text, size_t *length)
{
    put(out, "", 0);
    if (out->failed) {
        free(out->bytes);
        return DREGS_NO_MEMORY;
    }
    *text = out->bytes;
    *length = out->length;
    return DREGS_OK;
}

/* Which of the rows to be written takes the place of a row of the file; -1 for none. */
static long replacement(const dregs_row *old, const dregs_new_row *rows, size_t count)
{
    size_t k;

    for (k = 0; k < count; k++)
        if (strcmp(old->item, rows[k].item) == 0 && strcmp(old->property, rows[k].property) == 0)
            return (long)k;
    return -1;
}

static void put_changed(struct dregs_gathered *out, const dregs_line *line, const dregs_row *old,
                        const dregs_new_row *row)
{
    size_t spread = strlen(old->spread), varies = strlen(old->varies);
    int same = strcmp(old->unit, row->unit ? row->unit : "") == 0;
    int keep = same || (spread && old->spread[spread - 1] == '%');
    int stays = same || (varies && old->varies[varies - 1] == '%');
    const char *cells[COLUMNS] = {old->item,
                                  old->property,
                                  row->value,
                                  row->unit,
                                  keep ? old->spread : "",
                                  row->note ? row->note : old->note,
                                  stays ? old->varies : "",
                                  keep ? old->with : ""};

    put_row(out, line, cells);
}

/* The row of the file below which a row is to be added: 0 when none is, as where one is replaced,
 * -1 when the file has no such item. */
static long below(const dregs_line *line, const dregs_new_row *row)
{
    unsigned i;
    long last = -1;

    for (i = 1; i <= line->row_count; i++)
        if (strcmp(line->rows[i].item, row->item) == 0) {
            if (strcmp(line->rows[i].property, row->property) == 0)
                return 0;
            last = (long)i;
        }
    return row->value || last < 0 ? last : 0; /* nothing is to be taken out */
}

dregs_status dregs_edit_set(const dregs_line *line, const dregs_new_row *rows, size_t count,
                            char **text, size_t *length)
{
    struct dregs_gathered out = {0};
    long *add = malloc((count + 1) * sizeof *add);
    size_t at = 0, k;
    unsigned i;

    if (!add)
        return DREGS_NO_MEMORY;
    for (k = 0; k < count; k++) {
        add[k] = below(line, &rows[k]);
        if (add[k] < 0) {
            free(add);
            return DREGS_UNKNOWN;
        }
    }
    for (i = 1; i <= line->row_count; i++) {
        const dregs_row *old = &line->rows[i];
        long which = replacement(old, rows, count);
        if (which >= 0) {
            put(&out, line->text + at, begin_of(line, old->line) - at);
            if (rows[which].value)
                put_changed(&out, line, old, &rows[which]);
            at = begin_of(line, old->last + 1);
        }
        for (k = 0; k < count; k++)
            if (add[k] == (long)i) {
                size_t end = begin_of(line, old->last + 1);
                put(&out, line->text + at, end - at);
                break_line(&out, line);
                put_new(&out, line, &rows[k]);
                at = end;
            }
    }
    free(add);
    put(&out, line->text + at, line->length - at);
    return finish(&out, text, length);
}

static int among(const char *name, const char *const *names, size_t count)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (strcmp(names[i], name) == 0)
            return 1;
    return 0;
}

static int refers(const dregs_row *row)
{
    static const char *const links[] = {"overflow to", "top up from", "refill from", "runoff to"};

    return among(row->property, links, sizeof links / sizeof links[0]);
}

dregs_status dregs_edit_replace(const dregs_line *line, const char *const *drop, size_t drops,
                                const dregs_new_row *rows, size_t count, char **text,
                                size_t *length)
{
    struct dregs_gathered out = {0};
    size_t at = 0, k;
    unsigned i;
    int placed = 0;

    for (i = 1; i <= line->row_count; i++) {
        const dregs_row *row = &line->rows[i];
        int dropped = among(row->item, drop, drops);
        if (!dropped && !(refers(row) && among(row->value, drop, drops)))
            continue;
        put(&out, line->text + at, begin_of(line, row->line) - at);
        at = begin_of(line, row->last + 1);
        if (dropped && !placed) {
            break_line(&out, line);
            for (k = 0; k < count; k++)
                put_new(&out, line, &rows[k]);
            placed = 1;
        }
    }
    if (!placed) {
        free(out.bytes);
        return DREGS_UNKNOWN;
    }
    put(&out, line->text + at, line->length - at);
    return finish(&out, text, length);
}

void dregs_edit_free(char *text)
{
    free(text);
}
