/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* form.c: what makes a page a document to hand in: its title, the fields of its head, the lines
 * that are signed. HTML alone shows them; what nobody stated is a line to be filled in by hand.
 */
#include "report/svg.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void dregs_report_title(dregs_report *report, const char *title)
{
    report->title = report->status ? NULL : dregs_report_keep(report, title);
}

void dregs_report_field(dregs_report *report, const char *label, const char *value)
{
    struct field *field = dregs_report_more(report, &report->fields, sizeof *field);

    if (!field)
        return;
    field->label = dregs_report_keep(report, label);
    field->value = value && *value ? dregs_report_keep(report, value) : NULL;
}

void dregs_report_signature(dregs_report *report, const char *label)
{
    struct field *field = dregs_report_more(report, &report->signatures, sizeof *field);

    if (field)
        field->label = dregs_report_keep(report, label);
}

void dregs_report_form_style(struct out *out)
{
    dregs_report_out_text(
        out, ".h{margin:.6rem 0;border:1px solid #b5bbc0;padding:.4rem .8rem}"
             ".h div{display:flex;gap:.8rem;padding:.15rem 0}.h dt{flex:0 0 12rem;font-weight:bold}"
             ".h dd{flex:1;margin:0;min-height:1.45em;overflow-wrap:anywhere}"
             ".blank{border-bottom:1px solid currentColor}"
             ".g{display:flex;flex-wrap:wrap;gap:2rem;margin-top:3rem}"
             ".g p{flex:1 1 14rem;border-top:1px solid currentColor;padding-top:.2rem}"
             "@media print{.h,.g{break-inside:avoid}}");
}

void dregs_report_write_fields(const dregs_report *report, struct out *out)
{
    const struct field *field = report->fields.item;
    size_t i;

    if (!report->fields.count)
        return;
    dregs_report_out_text(out, "<dl class=\"h\">\n");
    for (i = 0; i < report->fields.count; i++) {
        dregs_report_out_text(out, "<div><dt>");
        dregs_report_svg_escape(out, field[i].label);
        dregs_report_out_text(out, field[i].value ? "</dt><dd>" : "</dt><dd class=\"blank\">");
        dregs_report_svg_escape(out, field[i].value ? field[i].value : "");
        dregs_report_out_text(out, "</dd></div>\n");
    }
    dregs_report_out_text(out, "</dl>\n");
}

void dregs_report_write_signatures(const dregs_report *report, struct out *out)
{
    const struct field *field = report->signatures.item;
    size_t i;

    if (!report->signatures.count)
        return;
    dregs_report_out_text(out, "<div class=\"g\">\n");
    for (i = 0; i < report->signatures.count; i++) {
        dregs_report_out_text(out, "<p>");
        dregs_report_svg_escape(out, field[i].label);
        dregs_report_out_text(out, "</p>\n");
    }
    dregs_report_out_text(out, "</div>\n");
}

/* ---- open questions ---- */

void dregs_report_question(dregs_report *report, const char *text)
{
    const char **at = dregs_report_more(report, &report->questions, sizeof *at);

    if (at)
        *at = dregs_report_keep(report, text);
}

void dregs_report_write_questions(const dregs_report *report, struct out *out)
{
    const char *const *text = report->questions.item;
    size_t i;

    if (!report->questions.count)
        return;
    dregs_report_out_text(out, "<h2>Open questions</h2>\n<ol>\n");
    for (i = 0; i < report->questions.count; i++) {
        dregs_report_out_text(out, "<li>");
        dregs_report_svg_escape(out, text[i]);
        dregs_report_out_text(out, "<div class=\"blank\">&nbsp;</div></li>\n");
    }
    dregs_report_out_text(out, "</ol>\n");
}

/* ---- as CSV: a row for each thing that a form may ask for ---- */

void dregs_report_as_form(dregs_report *report)
{
    report->is_form = 1;
}

static void put_cells(struct out *out, const char *const cells[], size_t count)
{
    size_t i;

    for (i = 0; i < count; i++) {
        if (i)
            dregs_report_write_csv_next(out);
        dregs_report_write_csv_word(out, cells[i] ? cells[i] : "");
    }
    dregs_report_out_text(out, "\n");
}

enum { PART, ITEM, SUBJECT, VALUE, UNIT, LOW, HIGH, WORDS, CELLS };

static const char *exact(char into[DREGS_NUMBER_TEXT], const struct out *out, double value)
{
    char *mark;

    if (!isfinite(value))
        return "";
    mark = strchr(dregs_number_exact(into, value), '.');
    if (mark)
        *mark = out->decimal;
    return into;
}

static void put_number(struct out *out, const char *part, const char *item, const char *subject,
                       const dregs_quantity *q, const char *unit)
{
    char value[DREGS_NUMBER_TEXT], low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    const char *const cells[CELLS] = {[PART] = part,
                                      [ITEM] = item,
                                      [SUBJECT] = subject,
                                      [VALUE] = exact(value, out, q->value),
                                      [UNIT] = unit,
                                      [LOW] = exact(low, out, q->low),
                                      [HIGH] = exact(high, out, q->high)};

    put_cells(out, cells, CELLS);
}

static void put_text(struct out *out, const char *part, const char *item, const char *value,
                     const char *words)
{
    const char *const cells[CELLS] = {
        [PART] = part, [ITEM] = item, [VALUE] = value, [WORDS] = words};

    put_cells(out, cells, CELLS);
}

static void put_figures(const dregs_report *report, struct out *out)
{
    const struct figure *figure = report->figures.item;
    char count[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; i < report->figures.count; i++)
        if (figure[i].datum.kind == DATUM_NUMBER)
            put_number(out, "figure", figure[i].key, NULL, &figure[i].datum.number,
                       figure[i].datum.number.unit);
        else if (figure[i].datum.kind == DATUM_COUNT || figure[i].datum.kind == DATUM_FLAG) {
            snprintf(count, sizeof count, "%llu", (unsigned long long)figure[i].datum.count);
            put_text(out, "figure", figure[i].key, count, NULL);
        } else if (figure[i].datum.kind == DATUM_WORD)
            put_text(out, "figure", figure[i].key, NULL, figure[i].datum.word);
}

/* The words of a row name what its numbers are of. */
static void put_row(void *user, dregs_table *table)
{
    const struct datum *cell = dregs_report_table_last_row(table);
    char subject[256] = "", item[160];
    struct out *out = user;
    size_t i, used;

    for (i = 0; i < table->columns; i++) {
        used = strlen(subject);
        if (cell[i].kind == DATUM_WORD && *cell[i].word)
            snprintf(subject + used, sizeof subject - used, "%s%s", used ? ", " : "", cell[i].word);
    }
    for (i = 0; i < table->columns; i++) {
        snprintf(item, sizeof item, "%s %s", table->key, table->column[i].key);
        if (cell[i].kind == DATUM_NUMBER && !isnan(cell[i].number.value))
            put_number(out, "table", item, subject, &cell[i].number, table->column[i].unit);
        else if (cell[i].kind == DATUM_COUNT) {
            dregs_quantity q = dregs_quantity_of((double)cell[i].count, "");
            put_number(out, "table", item, subject, &q, "");
        }
    }
}

static void put_verdicts(const dregs_report *report, struct out *out)
{
    static const char *const names[] = {"none", "met", "unknown", "missed"};
    const struct block *block = report->blocks.item;
    size_t i;

    for (i = 0; i < report->blocks.count; i++)
        if (block[i].is_verdict)
            put_text(out, "verdict", names[block[i].verdict], NULL, block[i].text);
}

dregs_status dregs_report_write_form(dregs_report *report, struct out *out)
{
    static const char *const heads[CELLS] = {"part", "item", "subject", "value",
                                             "unit", "low",  "high",    "words"};
    const struct field *field = report->fields.item;
    const char *const *question = report->questions.item;
    dregs_table **table = report->tables.item;
    dregs_status status = DREGS_OK;
    size_t i;

    put_cells(out, heads, CELLS);
    for (i = 0; i < report->fields.count; i++)
        put_text(out, "head", field[i].label, NULL, field[i].value);
    put_figures(report, out);
    for (i = 0; i < report->tables.count && !status; i++)
        if (table[i]->where & DREGS_IN_FORM)
            status = dregs_report_table_rows(table[i], put_row, out);
    put_verdicts(report, out);
    for (i = 0; i < report->questions.count; i++)
        put_text(out, "question", NULL, NULL, question[i]);
    for (i = 0; i < report->signatures.count; i++)
        put_text(out, "signature", ((const struct field *)report->signatures.item)[i].label, NULL,
                 NULL);
    if (report->settings)
        put_text(out, "settings", NULL, NULL, report->settings);
    return status;
}
