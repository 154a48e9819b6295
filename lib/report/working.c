/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* working.c: a working beside its report: which of its blocks the report has not, and their text.
 */
#include "base/gathered.h"
#include "report/inside.h"

#include <stdlib.h>
#include <string.h>

void dregs_report_working(dregs_report *report, dregs_report *working)
{
    report->working = working;
}

static int is_same(const struct block *a, const struct block *b)
{
    if (a->kind != b->kind || a->kind == BLOCK_TABLE)
        return a->kind == b->kind && strcmp(a->table->key, b->table->key) == 0;
    return (!a->text || !b->text) ? a->text == b->text : strcmp(a->text, b->text) == 0;
}

/* What the working has and the page has not: it stands in its place, or somewhere in it. */
int dregs_report_steps(const dregs_report *report, size_t *from, size_t *to)
{
    const struct block *mine = report->blocks.item, *more;
    size_t count = report->blocks.count, i;

    *from = *to = 0;
    if (!report->working)
        return 0;
    more = report->working->blocks.item;
    *to = report->working->blocks.count;
    while (*from < *to && *from < count && is_same(&more[*from], &mine[*from]))
        ++*from;
    for (i = count; *to > *from && i > *from && is_same(&more[*to - 1], &mine[i - 1]); i--)
        --*to;
    return *from < *to;
}

dregs_status dregs_report_steps_text(const dregs_report *report, char **steps)
{
    enum { UNBROKEN = 100000 }; /* columns */
    const struct setting setting = {UNBROKEN, 0};
    struct dregs_gathered text = {0};
    struct out out = {.sink = dregs_gather, .user = &text, .separator = ',', .decimal = '.'};
    size_t from, to;
    dregs_status status;

    *steps = NULL;
    if (!dregs_report_steps(report, &from, &to))
        return DREGS_OK;
    status = dregs_report_write_blocks(report->working, &setting, from, to, &out);
    status = dregs_report_out_end(&out, status);
    if (status)
        free(text.bytes);
    else
        *steps = text.bytes;
    return status == DREGS_IO ? DREGS_NO_MEMORY : status;
}
