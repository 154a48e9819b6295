/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* html.c: a report as one file that needs no other: the verdict first, then pictures, tables,
 * assumptions, cautions, what was read, and the working folded away. No script. */
#include "dregs/version.h"
#include "report/svg.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char style[] =
    "body{font:16px/1.45 Helvetica,Arial,'Liberation "
    "Sans',sans-serif;color:#1a1a1a;background:#fff;"
    "max-width:62rem;margin:0 auto;padding:1rem}"
    "a{color:inherit}h1{font-size:1.5rem;margin:.2rem 0 .8rem;overflow-wrap:anywhere}"
    "h2{font-size:1.15rem;margin:1.6rem 0 .5rem;border-bottom:1px solid #b5bbc0}"
    "h3{font-size:1rem;margin:1.1rem 0 .3rem;overflow-wrap:anywhere}"
    "h2::first-letter,h3::first-letter{text-transform:uppercase}"
    "h3.f::first-letter{text-transform:none}"
    "p{margin:.25rem 0;overflow-wrap:anywhere}"
    ".w{font-size:1.2rem;font-weight:bold}.v{padding:.5rem .8rem;border-left:.5rem solid #555;"
    "background:#f1f3f5;margin:.5rem 0}.met{border-color:#00704f;background:#e9f6f1}"
    ".missed{border-color:#a3121f;background:#fdecec}.unknown{border-color:#8a5a00;"
    "background:#fdf4e3}"
    ".i2{margin-left:1rem}.i4{margin-left:2rem}"
    ".s{overflow-x:auto}table{border-collapse:collapse;margin:.4rem 0;font-size:.9rem}"
    "th,td{padding:.15rem .6rem;text-align:left;vertical-align:top;border-bottom:1px solid #d7dbde}"
    "th{font-weight:bold}.n{text-align:right;white-space:nowrap}th small{font-weight:normal}"
    "tbody th{font-weight:normal}"
    "figure{margin:1rem 0;overflow-x:auto}figure svg{display:block;width:100%;min-width:30rem;"
    "max-width:52rem;height:auto}"
    ".c{border-left:.4rem solid #7a7a7a;padding:.1rem .8rem;margin:.5rem 0}"
    ".danger{border-color:#a3121f}.warning{border-color:#8a5a00}"
    ".c b{text-transform:uppercase;font-size:.85rem}small,footer{color:#454545}"
    "pre{white-space:pre-wrap;overflow-wrap:anywhere;font:.8rem/1.35 monospace;background:#f5f6f7;"
    "padding:.6rem}code{overflow-wrap:anywhere}summary{cursor:pointer;font-weight:bold}"
    "footer{margin-top:2rem;border-top:1px solid #b5bbc0;font-size:.85rem}"
    "@media screen and (prefers-color-scheme:dark){body{color:#f0f0f0;background:#15181b}"
    ".v{background:#22272b}.met{background:#12291f}.missed{background:#361619}"
    ".unknown{background:#32280f}"
    "pre{background:#22272b}small,footer{color:#c6cacd}th,td{border-color:#3a4046}}"
    "@page{margin:15mm}"
    "@media print{body{font-size:10pt;max-width:none;padding:0}table{font-size:8pt}"
    "th,td{padding:.1rem .3rem}.n{white-space:normal}.s,figure{overflow:visible}"
    "figure,tr,.c,.v{break-inside:avoid}h2,h3{break-after:avoid}figure{margin:.4rem 0}"
    "figure svg{min-width:0;width:138mm;max-width:100%}}"
    "@media screen and (min-width:86rem){.p{display:grid;grid-template-columns:1fr 1fr;"
    "column-gap:1.5rem;width:84rem;margin-left:-11rem}}";

struct html {
    struct out *out;
    dregs_report *report;
    const struct block *lead; /* stands first where nothing is judged; NULL: verdicts do */
};

static void put(const struct html *h, const char *text)
{
    dregs_report_out_text(h->out, text);
}

static void say(const struct html *h, const char *text)
{
    dregs_report_svg_escape(h->out, text);
}

static void put_heading(const struct html *h, int level, const char *text)
{
    char tag[] = "<h2>";

    tag[2] = (char)('0' + level);
    put(h, tag);
    say(h, text);
    put(h, level == 2 ? "</h2>\n" : "</h3>\n");
}

/* ---- sentences ---- */

/* Does it stand above all else: a verdict or, where nothing is judged, the first sentence? */
static int is_first(const struct html *h, const struct block *block)
{
    return block->is_verdict || block == h->lead;
}

/* Blanks that hold columns apart in text become one wide one. */
static void say_sentence(const struct html *h, const char *text)
{
    char part[256];
    size_t used = 0;

    for (; *text; text++) {
        part[used++] = *text;
        part[used] = '\0';
        if (text[0] == ' ' && text[1] == ' ') {
            part[used - 1] = '\0';
            say(h, part);
            put(h, "\xE2\x80\x83");
            text += strspn(text, " ") - 1;
            used = 0;
        } else if (used + 8 > sizeof part && ((unsigned char)text[1] & 0xC0) != 0x80) {
            say(h, part);
            used = 0;
        }
    }
    part[used] = '\0';
    say(h, part);
}

static void put_words(const struct html *h, const struct block *block, const char *class)
{
    if (!*block->text && !block->head)
        return;
    put(h, "<p");
    put(h, class);
    put(h, ">");
    if (block->head) {
        put(h, "<b>");
        say(h, block->head);
        put(h, "</b> ");
    }
    say_sentence(h, block->text);
    put(h, "</p>\n");
}

static void put_sentence(const struct html *h, const struct block *block)
{
    put_words(h, block,
              block->indent >= 4   ? " class=\"i4\""
              : block->indent >= 2 ? " class=\"i2\""
                                   : "");
}

/* How many sentences below a verdict are its own: they say with what, or where. */
static size_t details_of(const struct html *h, const struct block *block, size_t left)
{
    enum { MOST = 2 };
    size_t i;

    for (i = 1; i < left && i <= MOST; i++)
        if (block[i].kind != BLOCK_SENTENCE || block[i].indent < 2 || is_first(h, &block[i]))
            break;
    return i - 1;
}

/* A verdict with what belongs to it. Returns how many blocks that are. */
static size_t put_verdict(const struct html *h, const struct block *block, size_t left)
{
    static const char *const verdicts[] = {"v", "v met", "v unknown", "v missed"};
    size_t count = details_of(h, block, left), i;

    put(h, "<div class=\"");
    put(h, verdicts[block->is_verdict ? block->verdict : DREGS_VERDICT_NONE]);
    put(h, "\">");
    put_words(h, block, " class=\"w\"");
    for (i = 1; i <= count; i++)
        put_words(h, &block[i], "");
    put(h, "</div>\n");
    return 1 + count;
}

/* ---- tables ---- */

/* Does the first column name the rows? */
static int names_rows(const dregs_table *table, size_t column)
{
    return column == 0 && table->column[0].kind == DREGS_COLUMN_WORD;
}

static int is_number(const struct column *column)
{
    return column->kind == DREGS_COLUMN_NUMBER || column->kind == DREGS_COLUMN_COUNT;
}

static void put_row(void *user, dregs_table *table)
{
    const struct html *h = user;
    const struct datum *cell = dregs_report_table_last_row(table);
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    put(h, "<tr>");
    for (i = 0; i < table->columns; i++) {
        int name = names_rows(table, i);
        if (!table->column[i].head)
            continue;
        put(h, name                           ? "<th scope=\"row\">"
               : is_number(&table->column[i]) ? "<td class=\"n\">"
                                              : "<td>");
        say(h, dregs_report_cell_words(&cell[i], number));
        put(h, name ? "</th>" : "</td>");
    }
    put(h, "</tr>\n");
}

static void put_heads(const struct html *h, const dregs_table *table)
{
    size_t i;

    put(h, "<thead><tr>");
    for (i = 0; i < table->columns; i++) {
        const struct column *column = &table->column[i];
        if (!column->head)
            continue;
        if (!*column->head && !*column->unit) {
            put(h, "<td></td>");
            continue;
        }
        put(h, is_number(column) ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">");
        say(h, column->head);
        if (*column->unit) {
            put(h, "<br><small>");
            say(h, column->unit);
            put(h, "</small>");
        }
        put(h, "</th>");
    }
    put(h, "</tr></thead>\n");
}

static dregs_status put_table(struct html *h, dregs_table *table)
{
    dregs_status status;

    put(h, "<div class=\"s\"><table>\n");
    if (!table->headless)
        put_heads(h, table);
    put(h, "<tbody>\n");
    status = dregs_report_table_rows(table, put_row, h);
    put(h, "</tbody></table></div>\n");
    return status;
}

static dregs_status put_block(struct html *h, const struct block *block)
{
    switch (block->kind) {
    case BLOCK_SENTENCE:
        put_sentence(h, block);
        return DREGS_OK;
    case BLOCK_HEADING:
        put_heading(h, 3, block->text);
        return DREGS_OK;
    case BLOCK_TABLE:
        return put_table(h, block->table);
    default: /* lists stand in places of their own */
        return DREGS_OK;
    }
}

/* ---- lists ---- */

static void put_texts(const struct html *h, const struct list *list, const char *title)
{
    const char *const *text = list->item;
    size_t i;

    if (!list->count)
        return;
    put_heading(h, 2, title);
    put(h, "<ul>\n");
    for (i = 0; i < list->count; i++) {
        put(h, "<li>");
        say(h, text[i]);
        put(h, "</li>\n");
    }
    put(h, "</ul>\n");
}

static void put_caution(const struct html *h, const struct report_caution *caution)
{
    put(h, "<div class=\"c ");
    say(h, caution->severity ? caution->severity : "note");
    put(h, "\"><p><b>");
    say(h, caution->severity ? caution->severity : "caution");
    put(h, "</b> ");
    say(h, caution->id);
    if (caution->place) {
        put(h, ", ");
        say(h, caution->place);
    }
    put(h, ": ");
    say(h, caution->text);
    put(h, "</p>");
    if (caution->source && *caution->source) {
        put(h, "<p><small>");
        say(h, caution->source);
        put(h, "</small></p>");
    }
    put(h, "</div>\n");
}

/* 0 danger, 1 warning, 2 any other */
static int rank(const struct report_caution *caution)
{
    const char *severity = caution->severity ? caution->severity : "";

    return strcmp(severity, "danger") == 0 ? 0 : strcmp(severity, "warning") == 0 ? 1 : 2;
}

static void put_cautions(const struct html *h)
{
    const struct report_caution *caution = h->report->cautions.item;
    size_t i;
    int of;

    if (!h->report->cautions.count)
        return;
    put(h, "<h2 id=\"cautions\">Cautions</h2>\n");
    for (of = 0; of < 3; of++)
        for (i = 0; i < h->report->cautions.count; i++)
            if (rank(&caution[i]) == of)
                put_caution(h, &caution[i]);
    if (h->report->decided_by) {
        put(h, "<p>");
        say(h, h->report->decided_by);
        put(h, "</p>\n");
    }
}

/* How many there are, to be followed to where they stand. */
static void count_cautions(const struct html *h)
{
    const struct report_caution *caution = h->report->cautions.item;
    unsigned count[3] = {0};
    char words[160];
    size_t i;

    for (i = 0; i < h->report->cautions.count; i++)
        count[rank(&caution[i])]++;
    if (!h->report->cautions.count)
        return;
    snprintf(words, sizeof words,
             "<p><a href=\"#cautions\">Cautions</a>: %u danger%s, %u warning%s, %u other%s</p>\n",
             count[0], count[0] == 1 ? "" : "s", count[1], count[1] == 1 ? "" : "s", count[2],
             count[2] == 1 ? "" : "s");
    put(h, words);
}

/* Before anything else: what must be read first. */
static void put_pressing(const struct html *h)
{
    const struct report_caution *caution = h->report->cautions.item;
    size_t i;

    for (i = 0; i < h->report->cautions.count; i++)
        if (caution[i].pressing)
            put_caution(h, &caution[i]);
}

/* ---- pictures ---- */

static dregs_status put_pictures(const struct html *h)
{
    const struct picture *picture = h->report->pictures.item;
    dregs_status status = DREGS_OK;
    size_t i, shown = 0;

    for (i = 0; i < h->report->pictures.count && !status; i++) {
        if (!dregs_report_is_drawn(&picture[i]))
            continue;
        if (!shown++) {
            put_heading(h, 2, "Pictures");
            put(h, "<div class=\"p\">\n");
        }
        put(h, "<figure>\n");
        status = dregs_report_draw(&picture[i], 0, h->out);
        put(h, "</figure>\n");
    }
    if (shown)
        put(h, "</div>\n");
    return status;
}

/* ---- what was read, the working ---- */

static void put_inputs(const struct html *h)
{
    const struct input *input = h->report->inputs.item;
    char length[64];
    size_t i;

    if (!h->report->inputs.count)
        return;
    put_heading(h, 2, "Files read");
    for (i = 0; i < h->report->inputs.count; i++) {
        put(h, "<h3 class=\"f\">");
        say(h, input[i].name);
        put(h, "</h3>\n");
        snprintf(length, sizeof length, "%zu bytes, SHA-256 ", input[i].length);
        put(h, "<p>");
        put(h, length);
        put(h, "<code>");
        put(h, input[i].digest);
        put(h, "</code></p>\n");
        if (input[i].text) {
            put(h, "<pre>");
            say(h, input[i].text);
            put(h, "</pre>\n");
        }
    }
}

enum { WORKING_MOST = 90000, MARKUP = 20 }; /* bytes; what a paragraph has about it */

/* A page is to stay one that can be handed on: a working that is too long for it is left off. */
static dregs_status put_steps(struct html *h, const struct block *block, size_t count)
{
    dregs_status status = DREGS_OK;
    size_t i, used = 0;

    for (i = 0; i < count && !status; i++) {
        used += MARKUP + (block[i].text ? strlen(block[i].text) : 0);
        if (used > WORKING_MOST) {
            put(h, "<p>The rest of the working is too long for a page: --explain shows all of it."
                   "</p>\n");
            break;
        }
        status = put_block(h, &block[i]);
    }
    return status;
}

static dregs_status put_working(struct html *h)
{
    size_t from, to;
    dregs_status status;

    if (!dregs_report_steps(h->report, &from, &to))
        return DREGS_OK;
    put(h, "<details><summary>Working: equations, numbers, units, sources</summary>\n");
    status = put_steps(h, (const struct block *)h->report->working->blocks.item + from, to - from);
    put(h, "</details>\n");
    return status;
}

static void put_end(const struct html *h)
{
    put(h, "<footer><p>dregs ");
    say(h, dregs_version());
    put(h, ", dregs-");
    say(h, h->report->tool);
    if (h->report->date) {
        put(h, ", made ");
        say(h, h->report->date);
    }
    put(h, ". The same program with the same files gives the same numbers.</p></footer>\n"
           "</main></body></html>\n");
}

/* ---- the page ---- */

static void put_begin(const struct html *h)
{
    put(h,
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
        "<meta name=\"color-scheme\" content=\"light dark\">\n<link rel=\"icon\" href=\"data:,\">\n"
        "<title>dregs-");
    say(h, h->report->tool);
    if (h->report->file) {
        put(h, ": ");
        say(h, h->report->file);
    }
    put(h, "</title>\n<style>");
    put(h, style);
    dregs_report_svg_style(h->out);
    dregs_report_form_style(h->out);
    put(h, "</style></head>\n<body><main>\n<h1>");
    if (h->report->title)
        say(h, h->report->title);
    else {
        put(h, "dregs-");
        say(h, h->report->tool);
        if (h->report->file) {
            put(h, ": ");
            say(h, h->report->file);
        }
    }
    put(h, "</h1>\n");
    dregs_report_write_fields(h->report, h->out);
}

static const char *title_of(const dregs_report *report, dregs_report_list list,
                            const char *otherwise)
{
    const struct block *block = report->blocks.item;
    size_t i;

    for (i = 0; i < report->blocks.count; i++)
        if (block[i].kind == BLOCK_LIST && block[i].list == list)
            return block[i].text;
    return otherwise;
}

/* Verdicts, how many cautions there are, the other sentences above the first heading. */
static void put_head(const struct html *h, const struct block *block, size_t count)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (is_first(h, &block[i]))
            i += put_verdict(h, &block[i], count - i) - 1;
    count_cautions(h);
    for (i = 0; i < count; i++)
        if (is_first(h, &block[i]))
            i += details_of(h, &block[i], count - i);
        else if (block[i].kind == BLOCK_SENTENCE)
            put_sentence(h, &block[i]);
}

/* Where all that is above the first heading is too long to stand above the pictures: the end of
 * what stands first. */
enum { HEAD_MOST = 20 };
static size_t end_of_first(const struct html *h, const struct block *block, size_t count)
{
    while (count > 0 && !is_first(h, &block[count - 1]))
        count--;
    return count;
}

/* Of the sentences above the first heading the first, where none is a verdict. */
static const struct block *lead_of(const struct block *block, size_t count)
{
    const struct block *lead = NULL;
    size_t i;

    for (i = 0; i < count; i++) {
        if (block[i].is_verdict)
            return NULL;
        if (!lead && block[i].kind == BLOCK_SENTENCE && *block[i].text)
            lead = &block[i];
    }
    return lead;
}

dregs_status dregs_report_write_html(dregs_report *report, struct out *out)
{
    struct html h = {out, report, NULL};
    const struct block *block = report->blocks.item;
    dregs_status status = DREGS_OK;
    size_t i, first = 0, count = report->blocks.count;

    put_begin(&h);
    put_pressing(&h);
    while (first < count && block[first].kind != BLOCK_HEADING && block[first].kind != BLOCK_TABLE)
        first++;
    h.lead = lead_of(block, first);
    if (first > HEAD_MOST)
        first = end_of_first(&h, block, first);
    put_head(&h, block, first);
    status = put_pictures(&h);
    if (first < count)
        put_heading(&h, 2, "Numbers");
    for (i = first; i < count && !status; i++)
        status = put_block(&h, &block[i]);
    dregs_report_write_questions(report, out);
    put_texts(&h, &report->assumed,
              title_of(report, DREGS_LIST_ASSUMED, "assumed, because it is not stated"));
    put_texts(&h, &report->not_used,
              title_of(report, DREGS_LIST_NOT_USED, "in the file, not used here"));
    put_cautions(&h);
    put_texts(&h, &report->read, "how it was read");
    put_inputs(&h);
    if (!status)
        status = put_working(&h);
    dregs_report_write_signatures(report, out);
    put_end(&h);
    return status;
}

/* ---- what belongs to HTML alone ---- */

void dregs_report_date(dregs_report *report, const char *date)
{
    report->date = report->status ? NULL : dregs_report_keep(report, date);
}

void dregs_report_input(dregs_report *report, const char *name, const char *bytes, size_t length)
{
    struct input *input = dregs_report_more(report, &report->inputs, sizeof *input);
    char digest[DIGEST_TEXT], *text;
    size_t i;

    if (!input)
        return;
    dregs_report_digest(bytes, length, digest);
    input->name = dregs_report_keep(report, name);
    input->digest = dregs_report_keep(report, digest);
    input->length = length;
    if (length > DREGS_REPORT_INPUT_SHOWN)
        return;
    text = dregs_pool_take(&report->pool, length + 1, 1);
    if (!text) {
        dregs_report_fail(report, DREGS_NO_MEMORY);
        return;
    }
    for (i = 0; i < length; i++) /* lines stay lines */
        text[i] = (unsigned char)bytes[i] < 0x20 && bytes[i] != '\n' ? ' ' : bytes[i];
    input->text = text;
}
