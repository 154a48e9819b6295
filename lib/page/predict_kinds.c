/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict_kinds.c: loads of several kinds, the worst of each beside the others. */
#include "page/predict.h"
#include "residue/residue.h"

#include <math.h>
#include <stdio.h>

enum { NAME = 22, NUMBER = 12 };

static void put_columns(const struct prediction *p, dregs_table *table)
{
    dregs_table_column(table, DREGS_COLUMN_WORD, "kind", "kind", "", NAME);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "loads_of_a_cycle", "of a cycle", "loads",
                       -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "load", "load", "", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", "residue", "ug/cm2", -NUMBER);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "per_part", "per part", "mg", -NUMBER);
    if (p->result->verdicts) {
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "of_limit", "of limit", "%", -NUMBER);
        dregs_table_column(table, DREGS_COLUMN_WORD, "target", "target", "", 0);
        dregs_table_gap(table, 2);
    }
}

static void put_kind(const struct prediction *p, dregs_table *table, const dregs_predict_kind *kind)
{
    int comes = kind->worst.load != 0;

    dregs_table_word(table, dregs_line_load_name(kind->line));
    dregs_table_count(table, kind->loads);
    dregs_table_number(table, comes ? (double)kind->worst.load : NAN);
    dregs_table_number(table, comes ? kind->worst.residue * UG_PER_CM2 : NAN);
    dregs_table_number(
        table, comes ? kind->worst.residue * dregs_line_load(kind->line)->area.si * MG : NAN);
    if (p->result->verdicts) {
        dregs_table_number(table, kind->share * 100);
        dregs_table_word(table, !comes ? "not judged" : kind->met ? "met" : "MISSED");
    }
    dregs_table_end_row(table);
}

void dregs_page_predict_kinds(const struct prediction *p, int where)
{
    dregs_table *table;
    unsigned i;

    if (!dregs_predict_result_kind(p->result, 0))
        return;
    if (where == DREGS_IN_TEXT)
        dregs_report_heading(p->report, "the worst load of each kind");
    table = dregs_report_table(p->report, "kinds", where);
    put_columns(p, table);
    for (i = 0; dregs_predict_result_kind(p->result, i); i++)
        put_kind(p, table, dregs_predict_result_kind(p->result, i));
}
