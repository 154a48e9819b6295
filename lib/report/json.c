/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* json.c: a report as one JSON object, the same envelope for every tool (dregs-report(5)).
 *
 * It is written member by member, and tables row by row, so that memory does not grow with them.
 */
#include "base/text.h"
#include "dregs/version.h"
#include "report/inside.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct writer {
    struct out *out;
    int failed; /* jansson could not make or write something: memory is short */
    int first;  /* nothing stands before the next item */
};

static int take(const char *bytes, size_t length, void *user)
{
    dregs_report_out_bytes(user, bytes, length);
    return 0;
}

/* Writes a value and gives it up. */
static void write_value(struct writer *w, json_t *value)
{
    if (!value || json_dump_callback(value, take, w->out, JSON_COMPACT | JSON_ENCODE_ANY))
        w->failed = 1;
    json_decref(value);
}

/* What separates items; `open` stands before the first one. */
static void separate(struct writer *w, const char *between)
{
    dregs_report_out_text(w->out, w->first ? "\n" : between);
    w->first = 0;
}

static void put(struct writer *w, json_t *object, const char *key, json_t *value)
{
    if (!value || json_object_set_new(object, key, value))
        w->failed = 1;
}

static void append(struct writer *w, json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value))
        w->failed = 1;
}

/* A text. The name of a file may be no UTF-8: its bytes beyond ASCII are question marks then. */
static json_t *string(const char *text)
{
    size_t length = strlen(text);
    json_t *value;
    char *copy, *c;

    if (dregs_utf8_span(text, length) == length)
        return json_stringn_nocheck(text, length);
    copy = strdup(text);
    if (!copy)
        return NULL;
    for (c = copy; *c; c++)
        if ((unsigned char)*c >= 0x80)
            *c = '?';
    value = json_string(copy);
    free(copy);
    return value;
}

static json_t *text_or_null(const char *text)
{
    return text ? string(text) : json_null();
}

static json_t *number_or_null(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

/* {"value", "unit"} and, where they are known, "low", "high", "from"; without a unit where the
 * column has it. */
static json_t *quantity(struct writer *w, const dregs_quantity *q, int with_unit)
{
    json_t *object = json_object();

    put(w, object, "value", number_or_null(q->value));
    if (with_unit)
        put(w, object, "unit", string(q->unit));
    if (!isnan(q->low) || !isnan(q->high)) {
        put(w, object, "low", number_or_null(q->low));
        put(w, object, "high", number_or_null(q->high));
    }
    if (q->from)
        put(w, object, "from", string(q->from));
    return object;
}

static json_t *datum_value(struct writer *w, const struct datum *datum, int with_unit)
{
    const dregs_quantity *q = &datum->number;

    switch (datum->kind) {
    case DATUM_WORD:
        return string(datum->word);
    case DATUM_NUMBER:
        return with_unit || !isnan(q->low) || !isnan(q->high) ? quantity(w, q, with_unit)
                                                              : number_or_null(q->value);
    case DATUM_COUNT:
        return json_integer((json_int_t)datum->count);
    case DATUM_FLAG:
        return json_boolean(datum->count);
    default:
        return json_null();
    }
}

/* ---- members ---- */

static void begin_member(struct writer *w, const char *key)
{
    dregs_report_out_text(w->out, ",\n ");
    write_value(w, string(key));
    dregs_report_out_text(w->out, ": ");
}

static void write_head(struct writer *w, const dregs_report *report)
{
    dregs_report_out_text(w->out, "{\n \"program\": \"dregs\"");
    begin_member(w, "version");
    write_value(w, string(dregs_version()));
    begin_member(w, "tool");
    write_value(w, string(report->tool));
    begin_member(w, "file");
    write_value(w, text_or_null(report->file));
}

static void write_verdict(struct writer *w, const dregs_report *report)
{
    static const char *const names[] = {"none", "met", "unknown", "missed"};
    const struct block *block = report->blocks.item;
    json_t *object = json_object(), *words = json_array();
    size_t i;

    for (i = 0; i < report->blocks.count; i++)
        if (block[i].is_verdict)
            append(w, words, string(block[i].text));
    put(w, object, "is", string(names[report->verdict]));
    put(w, object, "words", words);
    begin_member(w, "verdict");
    write_value(w, object);
}

static void write_figures(struct writer *w, const dregs_report *report)
{
    const struct figure *figure = report->figures.item;
    size_t i;

    begin_member(w, "figures");
    dregs_report_out_text(w->out, "{");
    w->first = 1;
    for (i = 0; i < report->figures.count; i++) {
        separate(w, ",\n");
        dregs_report_out_text(w->out, "  ");
        write_value(w, string(figure[i].key));
        dregs_report_out_text(w->out, ": ");
        write_value(w, datum_value(w, &figure[i].datum, 1));
    }
    dregs_report_out_text(w->out, "}");
}

static json_t *columns_of(struct writer *w, const dregs_table *table)
{
    static const char *const kinds[] = {"word", "number", "count", "flag", "value"};
    json_t *array = json_array();
    size_t i;

    for (i = 0; i < table->columns; i++) {
        json_t *object = json_object();
        put(w, object, "key", string(table->column[i].key));
        put(w, object, "kind", string(kinds[table->column[i].kind]));
        put(w, object, "unit", string(table->column[i].unit));
        append(w, array, object);
    }
    return array;
}

static void write_row(void *user, dregs_table *table)
{
    const struct datum *cell = dregs_report_table_last_row(table);
    struct writer *w = user;
    json_t *row = json_array();
    size_t i;

    for (i = 0; i < table->columns; i++)
        append(w, row, datum_value(w, &cell[i], 0));
    separate(w, ",\n");
    dregs_report_out_text(w->out, "   ");
    write_value(w, row);
}

static dregs_status write_table(struct writer *w, dregs_table *table)
{
    dregs_status status;

    dregs_report_out_text(w->out, "  {\"key\": ");
    write_value(w, string(table->key));
    dregs_report_out_text(w->out, ", \"columns\": ");
    write_value(w, columns_of(w, table));
    dregs_report_out_text(w->out, ", \"rows\": [");
    w->first = 1;
    status = dregs_report_table_rows(table, write_row, w);
    dregs_report_out_text(w->out, "]}");
    w->first = 0;
    return status;
}

static dregs_status write_tables(struct writer *w, const dregs_report *report)
{
    dregs_table **table = report->tables.item;
    dregs_status status = DREGS_OK;
    size_t i;

    begin_member(w, "tables");
    dregs_report_out_text(w->out, "[");
    w->first = 1;
    for (i = 0; i < report->tables.count && !status; i++)
        if (table[i]->where & DREGS_IN_JSON) {
            separate(w, ",\n");
            status = write_table(w, table[i]);
        }
    dregs_report_out_text(w->out, "]");
    return status;
}

/* ---- charts ---- */

static json_t *axis_of(struct writer *w, const struct axis *axis)
{
    json_t *object = json_object();

    put(w, object, "label", text_or_null(axis->label));
    put(w, object, "unit", text_or_null(axis->unit));
    put(w, object, "logarithmic", json_boolean(axis->logarithmic));
    return object;
}

static json_t *series_of(struct writer *w, const struct series *series)
{
    static const char *const marks[] = {"line", "steps", "bars", "points", "spans"};
    json_t *object = json_object(), *where = json_object();
    unsigned i;

    put(w, object, "name", string(series->name));
    put(w, object, "mark", string(marks[series->mark]));
    put(w, object, "table", string(series->table));
    put(w, object, "x", string(series->x));
    put(w, object, "y", string(series->y));
    for (i = 0; i < series->wheres; i++)
        put(w, where, series->where[i].column, string(series->where[i].word));
    put(w, object, "where", where);
    return object;
}

static json_t *chart_of(struct writer *w, const dregs_chart *chart)
{
    const struct series *series = chart->series.item;
    const struct limit *limit = chart->limits.item;
    json_t *object = json_object(), *array = json_array(), *limits = json_array();
    size_t i;

    put(w, object, "key", string(chart->key));
    put(w, object, "title", string(chart->title));
    put(w, object, "x", axis_of(w, &chart->axis[DREGS_AXIS_X]));
    put(w, object, "y", axis_of(w, &chart->axis[DREGS_AXIS_Y]));
    for (i = 0; i < chart->series.count; i++)
        append(w, array, series_of(w, &series[i]));
    put(w, object, "series", array);
    for (i = 0; i < chart->limits.count; i++) {
        json_t *one = json_object();
        put(w, one, "label", string(limit[i].label));
        put(w, one, "value", number_or_null(limit[i].value));
        append(w, limits, one);
    }
    put(w, object, "limits", limits);
    return object;
}

static void write_charts(struct writer *w, const dregs_report *report)
{
    dregs_chart **chart = report->charts.item;
    json_t *array = json_array();
    size_t i;

    for (i = 0; i < report->charts.count; i++)
        if (chart[i]->shown & DREGS_IN_JSON)
            append(w, array, chart_of(w, chart[i]));
    begin_member(w, "charts");
    write_value(w, array);
}

/* ---- lists ---- */

static json_t *caution_of(struct writer *w, const struct report_caution *caution)
{
    json_t *object = json_object();

    put(w, object, "id", string(caution->id));
    put(w, object, "place", text_or_null(caution->place));
    put(w, object, "pressing", json_boolean(caution->pressing));
    put(w, object, "severity", text_or_null(caution->severity));
    put(w, object, "text", string(caution->text));
    put(w, object, "source", string(caution->source));
    put(w, object, "condition", text_or_null(caution->condition));
    put(w, object, "threshold", number_or_null(caution->threshold));
    put(w, object, "unit", string(caution->unit));
    return object;
}

static void write_lists(struct writer *w, const dregs_report *report)
{
    const struct report_caution *caution = report->cautions.item;
    static const char *const keys[] = {"assumed", "not_used", "read"};
    const struct list *lists[] = {&report->assumed, &report->not_used, &report->read};
    json_t *array = json_array();
    size_t i, k;

    for (i = 0; i < report->cautions.count; i++)
        append(w, array, caution_of(w, &caution[i]));
    begin_member(w, "cautions");
    write_value(w, array);
    for (k = 0; k < 3; k++) {
        array = json_array();
        for (i = 0; i < lists[k]->count; i++)
            append(w, array, string(((const char **)lists[k]->item)[i]));
        begin_member(w, keys[k]);
        write_value(w, array);
    }
    begin_member(w, "decided_by");
    write_value(w, text_or_null(report->decided_by));
}

static void write_files(struct writer *w, const dregs_report *report)
{
    const struct field *file = report->files.item;
    json_t *object;
    size_t i;

    if (!report->files.count)
        return;
    object = json_object();
    for (i = 0; i < report->files.count; i++)
        put(w, object, file[i].label, text_or_null(file[i].value));
    begin_member(w, "files");
    write_value(w, object);
}

/* The working, a sentence or a row for each line of its text; nothing where there is none. */
static dregs_status write_steps(struct writer *w, const dregs_report *report)
{
    char *steps, *line, *end;
    json_t *array;
    dregs_status status = dregs_report_steps_text(report, &steps);

    if (status || !steps)
        return status;
    array = json_array();
    for (line = steps; *line; line = end + (*end != '\0')) {
        line += strspn(line, " ");
        end = line + strcspn(line, "\n");
        if (end > line)
            append(w, array, json_stringn(line, (size_t)(end - line)));
    }
    free(steps);
    begin_member(w, "working");
    write_value(w, array);
    return DREGS_OK;
}

dregs_status dregs_report_write_json(dregs_report *report, struct out *out)
{
    struct writer w = {out, 0, 1};
    dregs_status status;

    write_head(&w, report);
    write_verdict(&w, report);
    write_figures(&w, report);
    status = write_tables(&w, report);
    write_charts(&w, report);
    write_lists(&w, report);
    write_files(&w, report);
    if (!status)
        status = write_steps(&w, report);
    dregs_report_out_text(out, "\n}\n");
    return status ? status : w.failed ? DREGS_NO_MEMORY : DREGS_OK;
}
