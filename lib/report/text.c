/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* text.c: the page for people, on a terminal or on paper. */
#include "dregs/number.h"
#include "report/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    LAST_LEAST = 20 /* columns: a word that ends a row is broken when it has so much room */
};

struct page {
    struct out *out;
    const struct setting *setting;
    int pressed; /* the pressing cautions stand above */
    dregs_cautions_shown cautions_shown;
};

/* Columns that a text takes: characters, not bytes. */
static int columns_of(const char *text, size_t length)
{
    int count = 0;

    for (; length; text++, length--)
        count += ((unsigned char)*text & 0xC0) != 0x80;
    return count;
}

static void colour(const struct page *page, const char *code)
{
    if (page->setting->colour)
        dregs_report_out_text(page->out, code);
}

/* ---- sentences ---- */

/* The bytes up to where a line may break: a word, and the percent sign of a number with it. */
static size_t unbroken(const char *text)
{
    size_t length = strcspn(text, " ");

    if (length && text[length - 1] >= '0' && text[length - 1] <= '9' &&
        strncmp(text + length, " %", 2) == 0)
        length += 1 + strcspn(text + length + 1, " ");
    return length;
}

/* Broken at blanks; the first line begins at column `used`, later ones are indented by `hang`. The
 * last line is left open. */
static void write_words(const struct page *page, const char *text, int used, int hang)
{
    int blank = 0; /* one is owed before the next word */

    while (*text) {
        size_t length = unbroken(text);
        int wide = columns_of(text, length);
        if (blank && used + 1 + wide > page->setting->width) {
            dregs_report_out_text(page->out, "\n");
            dregs_report_out_blanks(page->out, hang);
            used = hang;
            blank = 0;
        }
        dregs_report_out_blanks(page->out, blank);
        dregs_report_out_bytes(page->out, text, length);
        used += blank + wide;
        blank = 1;
        text += length;
        text += strspn(text, " ");
    }
}

static void write_broken(const struct page *page, const char *text, int used, int hang)
{
    write_words(page, text, used, hang);
    dregs_report_out_text(page->out, "\n");
}

static void write_sentence(const struct page *page, const struct block *block)
{
    int used = block->indent;

    dregs_report_out_blanks(page->out, used);
    if (block->head) {
        int wide = columns_of(block->head, strlen(block->head)), pad = block->hang - used - wide;
        dregs_report_out_text(page->out, block->head);
        dregs_report_out_blanks(page->out, pad > 0 ? pad : 1);
        used += wide + (pad > 0 ? pad : 1);
    }
    if (block->is_verdict)
        colour(page, block->verdict == DREGS_VERDICT_MISSED ? "\033[1;31m" : "\033[1m");
    if (block->hang < 0)
        dregs_report_out_text(page->out, block->text);
    else
        write_words(page, block->text, used, block->hang);
    if (block->is_verdict)
        colour(page, "\033[0m");
    dregs_report_out_text(page->out, "\n");
}

static void write_heading(const struct page *page, const char *text)
{
    dregs_report_out_text(page->out, "\n");
    colour(page, "\033[1m");
    dregs_report_out_text(page->out, text);
    colour(page, "\033[0m");
    dregs_report_out_text(page->out, "\n");
}

/* ---- tables ---- */

/* Returns how many columns it takes. */
static int write_cell(const struct page *page, const char *text, int width)
{
    int wide = columns_of(text, strlen(text)), pad = (width < 0 ? -width : width) - wide;

    if (width < 0)
        dregs_report_out_blanks(page->out, pad);
    dregs_report_out_text(page->out, text);
    if (width > 0)
        dregs_report_out_blanks(page->out, pad);
    return wide + (pad > 0 ? pad : 0);
}

static void write_row(void *user, dregs_table *table)
{
    const struct page *page = user;
    const struct datum *cell = dregs_report_table_last_row(table);
    char text[DREGS_NUMBER_TEXT];
    size_t i, last = table->columns;
    int used = table->indent;

    while (last > 0 && (!table->column[last - 1].head || cell[last - 1].kind == DATUM_EMPTY))
        last--;
    dregs_report_out_blanks(page->out, table->indent);
    for (i = 0; i < last; i++) {
        const struct column *column = &table->column[i];
        if (!column->head)
            continue;
        dregs_report_out_blanks(page->out, column->gap);
        used += column->gap;
        if (i + 1 == last && cell[i].kind == DATUM_WORD && column->width >= 0 &&
            used + LAST_LEAST <= page->setting->width) {
            write_broken(page, cell[i].word, used, used);
            return;
        }
        used += write_cell(page, dregs_report_cell_words(&cell[i], text), column->width);
    }
    dregs_report_out_text(page->out, "\n");
}

static const char *head_of(const struct column *column, int units)
{
    return !column->head ? "" : units ? column->unit : column->head;
}

/* The heads, or the units below them where there are any; a line ends with the last one. */
static void write_heads(const struct page *page, const dregs_table *table, int units)
{
    size_t i, last = table->columns;

    while (last > 0 && !*head_of(&table->column[last - 1], units))
        last--;
    if (!last)
        return;
    dregs_report_out_blanks(page->out, table->indent);
    for (i = 0; i < last; i++) {
        const struct column *column = &table->column[i];
        if (!column->head)
            continue;
        dregs_report_out_blanks(page->out, column->gap);
        (void)write_cell(page, head_of(column, units), column->width);
    }
    dregs_report_out_text(page->out, "\n");
}

static dregs_status write_table(struct page *page, dregs_table *table)
{
    if (!table->headless) {
        write_heads(page, table, 0);
        write_heads(page, table, 1);
    }
    return dregs_report_table_rows(table, write_row, page);
}

/* ---- lists ---- */

static void write_texts(const struct page *page, const struct list *list, const char *title)
{
    const char *const *text = list->item;
    size_t i;

    if (list->count)
        write_heading(page, title);
    for (i = 0; i < list->count; i++) {
        dregs_report_out_blanks(page->out, 2);
        write_broken(page, text[i], 2, 4);
    }
}

/* In full: what is a danger, or of unknown severity, whatever else is asked. */
static int in_full(const struct page *page, const struct report_caution *caution)
{
    return page->cautions_shown == DREGS_CAUTIONS_ALL || caution->pressing || !caution->severity ||
           strcmp(caution->severity, "danger") == 0;
}

/* Is it one of the place that is spoken of (NULL: of all)? */
static int is_of(const struct report_caution *caution, const char *place)
{
    return !place || (caution->place && strcmp(caution->place, place) == 0);
}

/* Has one of the same name and place, that is not in full either, come before? */
static int named_before(const struct page *page, const struct report_caution *caution, size_t i,
                        const char *place)
{
    size_t k;

    for (k = 0; k < i; k++)
        if (is_of(&caution[k], place) && !in_full(page, &caution[k]) &&
            strcmp(caution[k].id, caution[i].id) == 0)
            return 1;
    return 0;
}

static void write_caution(const struct page *page, const struct report_caution *caution, int indent,
                          int placed)
{
    int used = indent + columns_of(caution->id, strlen(caution->id)) + 2;

    dregs_report_out_blanks(page->out, indent);
    dregs_report_out_text(page->out, caution->id);
    if (caution->place && placed) {
        dregs_report_out_text(page->out, ", ");
        dregs_report_out_text(page->out, caution->place);
        used += 2 + columns_of(caution->place, strlen(caution->place));
    }
    dregs_report_out_text(page->out, ": ");
    write_broken(page, caution->text, used, 4);
}

static void write_pressing(struct page *page, const dregs_report *report)
{
    const struct report_caution *caution = report->cautions.item;
    size_t i;

    for (i = 0; i < report->cautions.count; i++)
        if (caution[i].pressing) {
            write_caution(page, &caution[i], 0, 1);
            page->pressed = 1;
        }
    if (page->pressed)
        dregs_report_out_text(page->out, "\n");
}

/* "also: exposure, hot parts (--cautions all)"; how many of them there are. */
static size_t write_names(const struct page *page, const dregs_report *report, const char *place,
                          const char *title, int headed)
{
    const struct report_caution *caution = report->cautions.item;
    char names[400] = "also: ";
    size_t i, count = 0, used;

    for (i = 0; i < report->cautions.count; i++) {
        if (!is_of(&caution[i], place) || in_full(page, &caution[i]) ||
            named_before(page, caution, i, place))
            continue;
        used = strlen(names);
        snprintf(names + used, sizeof names - used, "%s%s", count++ ? ", " : "", caution[i].id);
    }
    if (!count)
        return 0;
    if (!headed)
        write_heading(page, title);
    used = strlen(names);
    snprintf(names + used, sizeof names - used, " (in full with --cautions all)");
    dregs_report_out_text(page->out, "  ");
    write_broken(page, names, 2, 4);
    return count;
}

static void write_cautions(const struct page *page, const dregs_report *report,
                           const struct block *block)
{
    const struct report_caution *caution = report->cautions.item;
    size_t i, shown = 0;

    for (i = 0; i < report->cautions.count; i++) {
        if ((caution[i].pressing && page->pressed) || !is_of(&caution[i], block->head) ||
            !in_full(page, &caution[i]))
            continue;
        if (!shown++)
            write_heading(page, block->text);
        write_caution(page, &caution[i], 2, !block->head);
    }
    if (page->cautions_shown == DREGS_CAUTIONS_DANGER)
        shown += write_names(page, report, block->head, block->text, shown > 0);
    if (!shown || !report->decided_by)
        return;
    dregs_report_out_text(page->out, "  ");
    write_broken(page, report->decided_by, 2, 4);
}

static void write_list(struct page *page, const dregs_report *report, const struct block *block)
{
    switch (block->list) {
    case DREGS_LIST_ASSUMED:
        write_texts(page, &report->assumed, block->text);
        break;
    case DREGS_LIST_NOT_USED:
        write_texts(page, &report->not_used, block->text);
        break;
    case DREGS_LIST_CAUTIONS:
        write_cautions(page, report, block);
        break;
    case DREGS_LIST_PRESSING:
        write_pressing(page, report);
        break;
    }
}

dregs_status dregs_report_write_blocks(dregs_report *report, const struct setting *setting,
                                       size_t from, size_t to, struct out *out)
{
    struct page page = {out, setting, 0, report->cautions_shown};
    const struct block *block = report->blocks.item;
    dregs_status status = DREGS_OK;
    size_t i;

    for (i = from; i < to && !status; i++)
        switch (block[i].kind) {
        case BLOCK_SENTENCE:
            write_sentence(&page, &block[i]);
            break;
        case BLOCK_HEADING:
            write_heading(&page, block[i].text);
            break;
        case BLOCK_GAP:
            dregs_report_out_text(out, "\n");
            break;
        case BLOCK_TABLE:
            status = write_table(&page, block[i].table);
            break;
        case BLOCK_LIST:
            write_list(&page, report, &block[i]);
            break;
        }
    return status;
}

dregs_status dregs_report_write_text(dregs_report *report, const struct setting *setting,
                                     struct out *out)
{
    struct page page = {out, setting, 0, report->cautions_shown};
    dregs_status status = dregs_report_write_blocks(report, setting, 0, report->blocks.count, out);

    write_texts(&page, &report->read, "how it was read");
    return status;
}
