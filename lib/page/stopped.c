/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stopped.c: the page of a drag-out that was measured with the water shut: a row for the line file.
 */
#include "base/text.h"
#include "page/reuse.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { CELLS = 6, CELL = 200 };

/* The row, cell by cell as it stands in the line file. */
struct row {
    char cell[CELLS][CELL];
};

static const char *const heads[CELLS] = {"item", "property", "value", "unit", "spread", "note"};

static void make_row(const dregs_stopped_result *result, struct row *row)
{
    const dregs_stopped_flow *m = &result->measured;
    char number[DREGS_NUMBER_TEXT];

    snprintf(row->cell[0], CELL, "%.190s", dregs_line_stage(result->line, m->from)->name);
    snprintf(row->cell[1], CELL, "drag-out");
    snprintf(row->cell[2], CELL, "%s", dregs_number_plain(number, m->thickness * ML, 4));
    snprintf(row->cell[3], CELL, "mL/m2");
    snprintf(row->cell[4], CELL, "%s", dregs_number_plain(number, m->sd * ML, 2));
    snprintf(row->cell[5], CELL, "stopped flow, %llu loads", (unsigned long long)m->loads);
}

static void put_bytes(void *user, const char *bytes, size_t length)
{
    dregs_report_words(user, "%.*s", (int)length, bytes);
}

/* The row in words, to be pasted: written as the line file is. */
static void say_row(dregs_report *report, dregs_dialect dialect, const struct row *row)
{
    char number[DREGS_CSV_NUMBER];
    int i;

    for (i = 0; i < CELLS; i++) {
        dregs_report_words(report, "%.1s", i ? &dialect.separator : "");
        dregs_csv_cell(dialect.separator, "",
                       i == 2 || i == 4 ? dregs_csv_number(number, dialect, row->cell[i])
                                        : row->cell[i],
                       put_bytes, report);
    }
    dregs_report_end(report, 2, -1);
}

/* The row of the line file that the new one takes the place of. */
static void say_replaced(dregs_report *report, const dregs_stopped_result *result)
{
    const dregs_row *row = dregs_line_row(result->line, result->replaces);

    if (row)
        dregs_report_line(report, 2, "in place of line %lu of %s (%s)", row->line,
                          dregs_line_name(result->line), row->property);
    if (result->replaces_speed)
        dregs_report_line(report, 2, "and of its drain time and film law, if it has any");
}

static void say_shortcut(dregs_report *report, const dregs_stopped_result *result)
{
    const dregs_stopped_flow *m = &result->measured;
    struct numbers n = {0};

    if (isnan(m->shortcut))
        return;
    dregs_report_heading(report, "beside it, the shortcut D = V ((1 - f)^(-1/j) - 1) from the last "
                                 "reading alone");
    dregs_report_line(
        report, 2, "V = %s L, f = %s of the bath after j = %llu loads: D = %s mL per load",
        dregs_page_number(&n, result->volume * LITRES), dregs_page_number(&n, m->fraction),
        (unsigned long long)m->loads, dregs_page_number(&n, m->shortcut * ML));
    dregs_report_text(report, 2, 2,
                      "(stopped flow, common practice in plating shops; f from conductivities: "
                      "Mohler's method. It holds for a rinse that is clean at first and loses what "
                      "it gains.)");
}

static void say_working(dregs_report *report, const dregs_stopped_result *result)
{
    const dregs_stopped_flow *m = &result->measured;
    struct numbers n = {0};

    dregs_report_heading(report, "the working");
    dregs_report_text(
        report, 2, 2,
        "every flow of the line is set to 0, and one factor on all drag-outs is sought for which "
        "the map of the line gives the readings (least squares), without a prior on it; "
        "the bath's strength is known to %s %% (spread of its largest content), "
        "which is in the spread of the result",
        dregs_page_number(&n, m->bath_spread * 100));
    dregs_report_line(report, 2, "factor %s on %s mL per load of the line file = %s mL per load",
                      dregs_page_number(&n, m->factor), dregs_page_number(&n, result->stated * ML),
                      dregs_page_number(&n, m->carried * ML));
    dregs_report_line(report, 2,
                      "less hold-up and edge beads, %s mL; over the wetted area of %s m2: %s "
                      "mL/m2",
                      dregs_page_number(&n, result->beside * ML),
                      dregs_page_number(&n, result->wetted),
                      dregs_page_number(&n, m->thickness * ML));
}

static void say_measured(dregs_report *report, const dregs_stopped_result *result)
{
    const dregs_stopped_flow *m = &result->measured;
    struct numbers n = {0};
    struct row row;

    make_row(result, &row);
    dregs_report_line(
        report, 0, "drag-out of %s: %s mL/m2, %s mL per load (standard deviation %s %%)",
        row.cell[0], dregs_page_number(&n, m->thickness * ML),
        dregs_page_number(&n, m->carried * ML), dregs_page_rough(&n, 100 * result->sd_share));
    dregs_report_line(report, 2, "%s times what %s says", dregs_page_number(&n, m->factor),
                      dregs_line_name(result->line));
    dregs_report_heading(report, "for the line file");
    dregs_report_line(report, 2, "item,property,value,unit,spread,note");
    say_row(report, dregs_line_dialect(result->line), &row);
    say_replaced(report, result);
    dregs_report_gap(report);
    dregs_report_line(
        report, 0, "read in %s, all flows taken as shut; the meter scatters by %s %% (%s)",
        dregs_line_stage(result->line, m->stage)->name, dregs_page_rough(&n, m->noise * 100),
        m->noise_given     ? "given"
        : m->noise_assumed ? "assumed"
                           : "from the log");
}

/* ---- for programs ---- */

static void put_row(dregs_report *report, const dregs_stopped_result *result)
{
    dregs_table *table = dregs_report_table(report, "row", DREGS_IN_CSV);
    struct row row;
    int i;

    make_row(result, &row);
    for (i = 0; i < CELLS; i++)
        dregs_table_column(table, DREGS_COLUMN_WORD, heads[i], NULL, "", 0);
    for (i = 0; i < CELLS; i++)
        dregs_table_word(table, row.cell[i]);
    dregs_table_end_row(table);
}

static void put_figures(dregs_report *report, const dregs_stopped_result *result)
{
    const dregs_stopped_flow *m = &result->measured;
    dregs_quantity noise = dregs_quantity_of(m->noise, "1");

    noise.from = m->noise_given ? "given" : m->noise_assumed ? "assumed" : "the log";
    dregs_report_word(report, "item", dregs_line_stage(result->line, m->from)->name);
    dregs_report_word(report, "property", "drag-out");
    dregs_report_figure(report, "drag_out", dregs_quantity_of(m->thickness * ML, "mL/m2"));
    dregs_report_figure(report, "spread", dregs_quantity_of(m->sd * ML, "mL/m2"));
    dregs_report_figure(report, "carried_per_load", dregs_quantity_of(m->carried * ML, "mL"));
    dregs_report_figure(report, "drag_out_factor", dregs_quantity_of(m->factor, "1"));
    dregs_report_word(report, "read_in", dregs_line_stage(result->line, m->stage)->name);
    dregs_report_count(report, "loads", m->loads);
    dregs_report_figure(report, "fraction_of_bath", dregs_quantity_of(m->fraction, "1"));
    dregs_report_figure(report, "shortcut_per_load", dregs_quantity_of(m->shortcut * ML, "mL"));
    dregs_report_figure(report, "meter_scatter", noise);
    dregs_page_log_counts(report, result->readings, m->used);
    dregs_report_count(report, "readings_set_aside", m->outliers);
}

dregs_status dregs_page_stopped_flow(const dregs_stopped_result *result, int explain,
                                     dregs_report **report)
{
    dregs_report *made = dregs_report_new("reuse", dregs_line_name(result->line));

    if (!made)
        return DREGS_NO_MEMORY;
    say_measured(made, result);
    say_shortcut(made, result);
    if (explain)
        say_working(made, result);
    dregs_page_log(made, result->readings, result->measured.used, 0);
    if (result->measured.outliers)
        dregs_report_line(made, 2, "%zu set aside as outliers", result->measured.outliers);
    dregs_report_show(made, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(made, DREGS_LIST_CAUTIONS, "cautions");
    dregs_page_reuse_notes(made, result->line, result->spreads_unused);
    dregs_page_cautions(made, result->caution, result->cautions);
    put_row(made, result);
    put_figures(made, result);
    return dregs_page_end(made, report);
}
