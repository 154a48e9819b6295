/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* wide.c: the table for CSV with a row for each load, moment or period in place of one for each
 * value: what stands there in rows of their own become columns, "bath oil concentration [mg/L]".
 *
 * The rows are asked for twice, first for the columns, so that memory grows with these alone.
 */
#include "dregs/number.h"
#include "report/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_ROOM = 512, KEY_ROOM = 1024 };

typedef char cell_text[DREGS_NUMBER_TEXT];

struct wide {
    struct out *out;
    size_t value, unit; /* columns of the table */
    char **name;        /* of the columns behind the index */
    size_t names, room;
    size_t next;        /* where the next name is looked for first: rows come in the same order */
    cell_text *cell;    /* of the row in hand; "" for nothing */
    char key[KEY_ROOM]; /* its index */
    int open, no_memory;
};

static int is_index(const dregs_table *table, size_t column)
{
    return table->column[column].is_index;
}

/* The words before the value, and the unit. */
static void name_of(const struct wide *w, const dregs_table *table, const struct datum *cell,
                    char name[NAME_ROOM])
{
    const char *unit = cell[w->unit].kind == DATUM_WORD ? cell[w->unit].word : "";
    size_t i, used = 0;

    *name = '\0';
    for (i = 0; i < w->value && used < NAME_ROOM; i++)
        if (!is_index(table, i) && cell[i].kind == DATUM_WORD && *cell[i].word)
            used += (size_t)snprintf(name + used, NAME_ROOM - used, "%s%s", used ? " " : "",
                                     cell[i].word);
    if (*unit && used < NAME_ROOM)
        (void)snprintf(name + used, NAME_ROOM - used, "%s[%s]", used ? " " : "", unit);
}

/* The place of a name; `names` for none. */
static size_t find(struct wide *w, const char *name)
{
    size_t i;

    if (w->next < w->names && strcmp(w->name[w->next], name) == 0)
        return w->next++;
    for (i = 0; i < w->names; i++)
        if (strcmp(w->name[i], name) == 0) {
            w->next = i + 1;
            return i;
        }
    return w->names;
}

static void take_name(void *user, dregs_table *table)
{
    struct wide *w = user;
    char name[NAME_ROOM], **larger;
    size_t room;

    name_of(w, table, dregs_report_table_last_row(table), name);
    if (w->no_memory || find(w, name) < w->names)
        return;
    if (w->names == w->room) {
        room = w->room ? 2 * w->room : 64;
        larger = realloc(w->name, room * sizeof *larger);
        if (!larger) {
            w->no_memory = 1;
            return;
        }
        w->name = larger;
        w->room = room;
    }
    w->name[w->names] = strdup(name);
    if (!w->name[w->names])
        w->no_memory = 1;
    else
        w->next = ++w->names;
}

/* What tells one row from the next. */
static void key_of(const dregs_table *table, const struct datum *cell, char key[KEY_ROOM])
{
    char number[DREGS_NUMBER_TEXT];
    size_t i, used = 0;

    *key = '\0';
    for (i = 0; i < table->columns && used < KEY_ROOM; i++) {
        const char *text = "";
        if (!is_index(table, i))
            continue;
        if (cell[i].kind == DATUM_WORD)
            text = cell[i].word;
        else if (cell[i].kind == DATUM_NUMBER)
            text = dregs_number_exact(number, cell[i].number.value);
        else if (cell[i].kind == DATUM_COUNT) {
            snprintf(number, sizeof number, "%llu", (unsigned long long)cell[i].count);
            text = number;
        }
        used += (size_t)snprintf(key + used, KEY_ROOM - used, "%s\n", text);
    }
}

static void end_row(struct wide *w)
{
    size_t i;

    for (i = 0; i < w->names && w->open; i++) {
        dregs_report_write_csv_next(w->out);
        dregs_report_write_csv_number(w->out, w->cell[i]);
        *w->cell[i] = '\0';
    }
    if (w->open)
        dregs_report_write_csv_end(w->out, 0);
    w->open = 0;
}

static void begin_row(struct wide *w, const dregs_table *table, const struct datum *cell,
                      const char *key)
{
    size_t i, written = 0;

    for (i = 0; i < table->columns; i++)
        if (is_index(table, i)) {
            if (written++)
                dregs_report_write_csv_next(w->out);
            dregs_report_write_csv_cell(w->out, &cell[i]);
        }
    snprintf(w->key, sizeof w->key, "%s", key);
    w->open = 1;
}

static void take_row(void *user, dregs_table *table)
{
    const struct datum *cell = dregs_report_table_last_row(table);
    struct wide *w = user;
    char name[NAME_ROOM], key[KEY_ROOM];
    size_t at;

    name_of(w, table, cell, name);
    key_of(table, cell, key);
    at = find(w, name);
    if (at == w->names)
        return;
    /* a second value of one name begins a row of its own: nothing is lost */
    if (!w->open || strcmp(key, w->key) != 0 || *w->cell[at]) {
        end_row(w);
        begin_row(w, table, cell, key);
    }
    if (cell[w->value].kind == DATUM_NUMBER && isfinite(cell[w->value].number.value))
        (void)dregs_number_exact(w->cell[at], cell[w->value].number.value);
}

static void write_head(struct wide *w, const dregs_table *table)
{
    size_t i, written = 0;

    for (i = 0; i < table->columns; i++)
        if (is_index(table, i)) {
            if (written++)
                dregs_report_write_csv_next(w->out);
            dregs_report_out_text(w->out, table->column[i].key);
        }
    for (i = 0; i < w->names; i++) {
        dregs_report_write_csv_next(w->out);
        dregs_report_write_csv_word(w->out, w->name[i]);
    }
    dregs_report_write_csv_end(w->out, 1);
}

/* Has the table a wide form: an index, a value and its unit? */
static int can_be_wide(struct wide *w, const dregs_table *table)
{
    int value = 0, unit = 0, index = 0;
    size_t i;

    for (i = 0; i < table->columns; i++) {
        index |= is_index(table, i);
        if (strcmp(table->column[i].key, "value") == 0) {
            w->value = i;
            value = 1;
        }
        if (strcmp(table->column[i].key, "unit") == 0) {
            w->unit = i;
            unit = 1;
        }
    }
    return index && value && unit;
}

dregs_status dregs_report_write_wide(dregs_report *report, struct out *out)
{
    dregs_table *table = report->is_form ? NULL : dregs_report_csv_table(report);
    struct wide w = {.out = out};
    dregs_status status;

    if (!table || !can_be_wide(&w, table))
        return DREGS_UNKNOWN;
    status = dregs_report_table_rows(table, take_name, &w);
    w.cell = status ? NULL : calloc(w.names + 1, sizeof *w.cell);
    if (!status && (w.no_memory || !w.cell))
        status = DREGS_NO_MEMORY;
    if (!status) {
        write_head(&w, table);
        w.next = 0;
        status = dregs_report_table_rows(table, take_row, &w);
        end_row(&w);
    }
    while (w.names)
        free(w.name[--w.names]);
    free(w.name);
    free(w.cell);
    return status;
}
