/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* report.c: a report as it is built: sentences, figures, lists. */
#include "base/text.h"
#include "dregs/number.h"
#include "report/inside.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

dregs_quantity dregs_quantity_of(double value, const char *unit)
{
    return dregs_quantity_within(value, NAN, NAN, unit);
}

dregs_quantity dregs_quantity_within(double value, double low, double high, const char *unit)
{
    dregs_quantity quantity = {value, low, high, unit, NULL};

    return quantity;
}

dregs_report *dregs_report_new(const char *tool, const char *file)
{
    dregs_report *report = calloc(1, sizeof *report);

    if (!report)
        return NULL;
    report->tool = dregs_pool_text(&report->pool, tool);
    report->file = file ? dregs_pool_text(&report->pool, file) : NULL;
    if (!report->tool || !report->file != !file) {
        dregs_report_free(report);
        return NULL;
    }
    return report;
}

void dregs_report_free(dregs_report *report)
{
    size_t i;

    if (!report)
        return;
    for (i = 0; i < report->tables.count; i++) {
        dregs_table *table = ((dregs_table **)report->tables.item)[i];
        free(table->column);
        free(table->cell);
        free(table->scratch);
    }
    for (i = 0; i < report->charts.count; i++) {
        dregs_chart *chart = ((dregs_chart **)report->charts.item)[i];
        free(chart->series.item);
        free(chart->limits.item);
        free(chart->bands.item);
        free(chart->markers.item);
    }
    for (i = 0; i < report->pictures.count; i++) {
        dregs_flow *flow = ((struct picture *)report->pictures.item)[i].flow;
        free(flow ? flow->nodes.item : NULL);
        free(flow ? flow->links.item : NULL);
    }
    free(report->pictures.item);
    free(report->inputs.item);
    free(report->fields.item);
    free(report->signatures.item);
    free(report->questions.item);
    free(report->charts.item);
    free(report->words);
    free(report->blocks.item);
    free(report->figures.item);
    free(report->tables.item);
    free(report->assumed.item);
    free(report->not_used.item);
    free(report->read.item);
    free(report->files.item);
    free(report->cautions.item);
    dregs_pool_clear(&report->pool);
    free(report);
}

dregs_status dregs_report_status(const dregs_report *report)
{
    return report->status;
}

void dregs_report_fail(dregs_report *report, dregs_status status)
{
    if (!report->status)
        report->status = status;
}

int dregs_report_is_key(const char *key)
{
    return key && islower((unsigned char)*key) &&
           key[strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789_")] == '\0';
}

void *dregs_report_more(dregs_report *report, struct list *list, size_t size)
{
    if (report->status)
        return NULL;
    if (list->count == list->room) {
        size_t room = list->room ? 2 * list->room : 16;
        void *item = realloc(list->item, room * size);
        if (!item) {
            dregs_report_fail(report, DREGS_NO_MEMORY);
            return NULL;
        }
        list->item = item;
        list->room = room;
    }
    return memset((char *)list->item + list->count++ * size, 0, size);
}

void dregs_report_tame(char *words)
{
    dregs_utf8_tame(words, ' ');
}

const char *dregs_report_keep(dregs_report *report, const char *text)
{
    char *copy = text ? dregs_pool_text(&report->pool, text) : NULL;

    if (copy)
        dregs_report_tame(copy);
    else
        dregs_report_fail(report, text ? DREGS_NO_MEMORY : DREGS_DOMAIN);
    return copy;
}

/* ---- sentences ---- */

static int make_room(dregs_report *report, size_t more)
{
    size_t room = 2 * (report->words_used + more + 1);
    char *words;

    if (report->words_used + more < report->words_room)
        return 1;
    words = realloc(report->words, room);
    if (!words) {
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return 0;
    }
    report->words = words;
    report->words_room = room;
    return 1;
}

DREGS_FORMAT(2, 0)
static void add_words(dregs_report *report, const char *format, va_list arguments)
{
    va_list again;
    int length;

    if (report->status)
        return;
    va_copy(again, arguments);
    length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length < 0 || !make_room(report, (size_t)length)) {
        dregs_report_fail(report, DREGS_DOMAIN);
        return;
    }
    (void)vsnprintf(report->words + report->words_used, (size_t)length + 1, format, arguments);
    report->words_used += (size_t)length;
}

static struct block *add_block(dregs_report *report, enum block_kind kind)
{
    struct block *block = dregs_report_more(report, &report->blocks, sizeof *block);

    if (block)
        block->kind = kind;
    return block;
}

/* A block of the words in hand. */
static void end_words(dregs_report *report, enum block_kind kind, int indent, int hang)
{
    const char *text = NULL;
    struct block *block;

    if (!report->status)
        text = dregs_report_keep(report, report->words_used ? report->words : "");
    block = text ? add_block(report, kind) : NULL;
    report->words_used = 0;
    if (!block)
        return;
    block->text = text;
    block->indent = indent;
    block->hang = hang;
}

void dregs_report_words(dregs_report *report, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    add_words(report, format, arguments);
    va_end(arguments);
}

void dregs_report_end(dregs_report *report, int indent, int hang)
{
    end_words(report, BLOCK_SENTENCE, indent, hang);
}

void dregs_report_line(dregs_report *report, int indent, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    add_words(report, format, arguments);
    va_end(arguments);
    end_words(report, BLOCK_SENTENCE, indent, -1);
}

void dregs_report_text(dregs_report *report, int indent, int hang, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    add_words(report, format, arguments);
    va_end(arguments);
    end_words(report, BLOCK_SENTENCE, indent, hang);
}

void dregs_report_heading(dregs_report *report, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    add_words(report, format, arguments);
    va_end(arguments);
    end_words(report, BLOCK_HEADING, 0, -1);
}

void dregs_report_fact(dregs_report *report, const char *name, int column, const char *format, ...)
{
    const char *head = report->status ? NULL : dregs_report_keep(report, name);
    struct block *block;
    va_list arguments;

    va_start(arguments, format);
    add_words(report, format, arguments);
    va_end(arguments);
    end_words(report, BLOCK_SENTENCE, 2, column);
    if (report->status)
        return;
    block = report->blocks.item;
    block[report->blocks.count - 1].head = head;
}

void dregs_report_step(dregs_report *report, const char *name, dregs_quantity value)
{
    char number[DREGS_NUMBER_TEXT];

    dregs_report_words(report, "%s = %s %s", name, dregs_number_plain(number, value.value, 6),
                       value.unit);
    if (value.from)
        dregs_report_words(report, "  [%s]", value.from);
    dregs_report_end(report, 4, -1);
}

void dregs_report_gap(dregs_report *report)
{
    (void)add_block(report, BLOCK_GAP);
}

void dregs_report_verdict(dregs_report *report, dregs_verdict verdict)
{
    struct block *block = report->blocks.item;

    if (report->status)
        return;
    if (!report->blocks.count || block[report->blocks.count - 1].kind != BLOCK_SENTENCE) {
        dregs_report_fail(report, DREGS_DOMAIN);
        return;
    }
    block[report->blocks.count - 1].is_verdict = 1;
    block[report->blocks.count - 1].verdict = verdict;
    if (verdict > report->verdict)
        report->verdict = verdict;
}

void dregs_report_show(dregs_report *report, dregs_report_list list, const char *title)
{
    const char *text = report->status ? NULL : dregs_report_keep(report, title);
    struct block *block = text ? add_block(report, BLOCK_LIST) : NULL;

    if (!block)
        return;
    block->text = text;
    block->list = list;
}

void dregs_report_show_cautions_of(dregs_report *report, const char *place, const char *title)
{
    const char *kept = report->status ? NULL : dregs_report_keep(report, place);
    struct block *block;

    dregs_report_show(report, DREGS_LIST_CAUTIONS, title);
    if (report->status)
        return;
    block = report->blocks.item;
    block[report->blocks.count - 1].head = kept;
}

void dregs_report_cautions_shown(dregs_report *report, dregs_cautions_shown shown)
{
    report->cautions_shown = shown;
}

/* ---- figures ---- */

static struct datum *add_figure(dregs_report *report, const char *key, enum datum_kind kind)
{
    const struct figure *known = report->figures.item;
    struct figure *figure;
    size_t i;

    for (i = 0; i < report->figures.count && !report->status; i++)
        if (strcmp(known[i].key, key) == 0)
            dregs_report_fail(report, DREGS_DOMAIN);
    if (!dregs_report_is_key(key))
        dregs_report_fail(report, DREGS_DOMAIN);
    figure = dregs_report_more(report, &report->figures, sizeof *figure);
    if (!figure)
        return NULL;
    figure->key = dregs_report_keep(report, key);
    figure->datum.kind = kind;
    if (figure->key)
        return &figure->datum;
    report->figures.count--;
    return NULL;
}

void dregs_report_figure(dregs_report *report, const char *key, dregs_quantity value)
{
    struct datum *datum = add_figure(report, key, DATUM_NUMBER);
    struct conversion conversion;

    if (!datum)
        return;
    conversion = dregs_report_conversion(report, value.unit);
    datum->number = value;
    datum->number.value = dregs_report_converted(&conversion, value.value);
    datum->number.low = dregs_report_converted(&conversion, value.low);
    datum->number.high = dregs_report_converted(&conversion, value.high);
    datum->number.unit = dregs_report_keep(report, dregs_report_unit(report, value.unit));
    datum->number.from = value.from ? dregs_report_keep(report, value.from) : NULL;
}

void dregs_report_count(dregs_report *report, const char *key, uint64_t count)
{
    struct datum *datum = add_figure(report, key, DATUM_COUNT);

    if (datum)
        datum->count = count;
}

void dregs_report_flag(dregs_report *report, const char *key, int flag)
{
    struct datum *datum = add_figure(report, key, DATUM_FLAG);

    if (datum)
        datum->count = flag != 0;
}

void dregs_report_word(dregs_report *report, const char *key, const char *word)
{
    struct datum *datum = add_figure(report, key, word ? DATUM_WORD : DATUM_EMPTY);

    if (datum && word)
        datum->word = dregs_report_keep(report, word);
}

dregs_status dregs_report_csv_dialect(dregs_report *report, dregs_dialect dialect)
{
    if (!dialect.separator || !strchr(",;\t", dialect.separator) || !dialect.decimal ||
        !strchr(".,", dialect.decimal) || dialect.separator == dialect.decimal)
        return DREGS_DOMAIN;
    report->separator = dialect.separator;
    report->decimal = dialect.decimal;
    return DREGS_OK;
}

/* ---- lists ---- */

static void add_text(dregs_report *report, struct list *list, const char *text)
{
    const char *copy = report->status ? NULL : dregs_report_keep(report, text);
    const char **item = copy ? dregs_report_more(report, list, sizeof *item) : NULL;

    if (item)
        *item = copy;
}

void dregs_report_assumed(dregs_report *report, const char *text)
{
    add_text(report, &report->assumed, text);
}

void dregs_report_not_used(dregs_report *report, const char *text)
{
    add_text(report, &report->not_used, text);
}

void dregs_report_read(dregs_report *report, const char *text)
{
    add_text(report, &report->read, text);
}

void dregs_report_file(dregs_report *report, const char *option, const char *text)
{
    struct field *file = dregs_report_more(report, &report->files, sizeof *file);
    char *copy = file && text ? dregs_pool_text(&report->pool, text) : NULL;

    if (!file)
        return;
    if (text && !copy)
        dregs_report_fail(report, DREGS_NO_MEMORY);
    file->label = dregs_report_keep(report, option);
    file->value = copy;
}

void dregs_report_setting(dregs_report *report, const char *text)
{
    char *both;
    size_t room;

    add_text(report, &report->read, text);
    if (!report->settings) {
        report->settings = dregs_report_keep(report, text);
        return;
    }
    room = strlen(report->settings) + strlen(text) + sizeof "; ";
    both = malloc(room);
    if (!both) {
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return;
    }
    snprintf(both, room, "%s; %s", report->settings, text);
    report->settings = dregs_report_keep(report, both);
    free(both);
}

void dregs_report_caution(dregs_report *report, const char *id, const char *text,
                          const char *source, const char *condition, double threshold,
                          const char *unit)
{
    struct report_caution *caution = dregs_report_more(report, &report->cautions, sizeof *caution);

    if (!caution)
        return;
    caution->id = dregs_report_keep(report, id);
    caution->text = dregs_report_keep(report, text);
    caution->source = dregs_report_keep(report, source);
    caution->condition = condition ? dregs_report_keep(report, condition) : NULL;
    caution->threshold = threshold;
    caution->unit = dregs_report_keep(report, unit ? unit : "");
}

/* The caution that was given last; NULL, and the report has failed, when there is none. */
static struct report_caution *last_caution(dregs_report *report)
{
    struct report_caution *caution = report->cautions.item;

    if (!report->cautions.count)
        dregs_report_fail(report, DREGS_DOMAIN);
    return report->status ? NULL : &caution[report->cautions.count - 1];
}

void dregs_report_caution_place(dregs_report *report, const char *place)
{
    struct report_caution *caution = last_caution(report);

    if (caution)
        caution->place = dregs_report_keep(report, place);
}

void dregs_report_caution_pressing(dregs_report *report)
{
    struct report_caution *caution = last_caution(report);

    if (caution)
        caution->pressing = 1;
}

void dregs_report_caution_severity(dregs_report *report, const char *severity)
{
    struct report_caution *caution = last_caution(report);

    if (caution)
        caution->severity = dregs_report_keep(report, severity);
}

void dregs_report_decided_by(dregs_report *report, const char *text)
{
    report->decided_by = report->status ? NULL : dregs_report_keep(report, text);
}
