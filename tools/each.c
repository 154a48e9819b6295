/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* each.c: a prediction of many lines: a fleet, or what a script has made. */
#include "each.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define UG_PER_CM2 1e5 /* kg/m2 */

enum { NAME_MOST = 4096 };

struct rows {
    const struct each *each;
    const dregs_liquids *liquids;
    char **files;
    int count;
    int status; /* the worst of all */
};

/* What a line answers. */
struct answer {
    dregs_line *line;
    dregs_predict_result *result;
    dregs_predict_doubt *doubt;
};

static void worsen(struct rows *rows, int status)
{
    if (status > rows->status)
        rows->status = status;
}

static int has_confidence(const dregs_line *line)
{
    const char *target = dregs_line_target_name(line);

    return target && dregs_line_find(line, target, "confidence");
}

static int ask_doubt(const struct rows *rows, struct answer *answer)
{
    dregs_doubt_request asked;
    dregs_faults faults = {0};
    dregs_status status;

    /* a target that is to be met with a probability is judged by nothing else */
    dregs_ask_draws_request(&rows->each->common.draws,
                            has_confidence(answer->line) ? dregs_ensemble_usual(answer->line) : 0,
                            &asked);
    if (!asked.draws)
        return FRONT_DONE;
    status = dregs_predict_doubt_ask(answer->result, &asked, &answer->doubt, &faults);
    return status ? front_faults(&faults, status) : FRONT_DONE;
}

static int ask(const struct rows *rows, const char *file, struct answer *answer)
{
    dregs_predict_request asked = *rows->each->asked;
    const uint64_t first = 1;
    dregs_status status;
    int exit_status = front_read_line(file, rows->liquids, &answer->line);

    if (exit_status)
        return exit_status;
    asked.every = 0; /* no load is listed, but there must be one */
    asked.at = &first;
    asked.at_count = 1;
    asked.extent = DREGS_PREDICT_RESIDUES; /* no column says more */
    status = dregs_predict_answer(answer->line, &asked, &answer->result);
    if (status)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s", file,
                         dregs_status_text(status));
    return ask_doubt(rows, answer);
}

static double largest_share(const dregs_predict_result *result)
{
    double share = NAN;
    unsigned i;

    for (i = 0; i < result->verdicts; i++)
        share = fmax(share, dregs_predict_result_verdict(result, i)->share);
    return share;
}

static void put_doubt(dregs_table *table, const dregs_predict_doubt *doubt)
{
    dregs_ensemble_range range;

    if (!doubt)
        return;
    dregs_table_count(table, doubt->run.draws);
    dregs_table_count(table, doubt->run.failed);
    dregs_table_number(table, doubt->met.value);
    dregs_table_number(table, doubt->met.low);
    dregs_table_number(table, doubt->met.high);
    if (dregs_predict_doubt_worst(doubt, DREGS_EVERY_SOLUTE, &range))
        return;
    dregs_table_number(table, range.low.value * UG_PER_CM2);
    dregs_table_number(table, range.middle.value * UG_PER_CM2);
    dregs_table_number(table, range.high.value * UG_PER_CM2);
}

static void put_answer(struct rows *rows, dregs_table *table, const struct answer *answer)
{
    const dregs_predict_result *result = answer->result;
    const dregs_predict_doubt *doubt = answer->doubt;
    int met = doubt && doubt->confidence >= 0 ? doubt->sure : result->met;

    dregs_table_number(table, result->most * UG_PER_CM2);
    if (result->by_week) { /* a load of the week, which has no such number */
        dregs_table_word(table, NULL);
        dregs_table_flag(table, result->in_week.worst.in_the_long_run);
    } else {
        dregs_table_count(table, result->worst.load);
        dregs_table_flag(table, result->worst.in_the_long_run);
    }
    dregs_table_number(table, largest_share(result));
    if (result->verdicts)
        dregs_table_flag(table, met);
    else
        dregs_table_word(table, NULL);
    put_doubt(table, doubt);
    if (rows->each->common.check && (!result->verdicts || !met))
        worsen(rows, FRONT_MISSED);
}

static void put_line(struct rows *rows, dregs_table *table, const char *file)
{
    struct answer answer = {NULL, NULL, NULL};
    int status = ask(rows, file, &answer);

    worsen(rows, status);
    dregs_table_word(table, file);
    dregs_table_word(table, status == FRONT_DONE       ? "answered"
                            : status == FRONT_BAD_DATA ? "bad data"
                                                       : "not read");
    if (!status)
        put_answer(rows, table, &answer);
    dregs_table_end_row(table);
    dregs_predict_doubt_free(answer.doubt);
    dregs_predict_result_free(answer.result);
    dregs_line_free(answer.line);
}

/* The names on standard input. */
static void put_named(struct rows *rows, dregs_table *table)
{
    char name[NAME_MOST];

    while (fgets(name, sizeof name, stdin)) {
        size_t length = strcspn(name, "\r\n");
        if (name[length] == '\0' && length + 1 == sizeof name) {
            worsen(rows,
                   front_say(FRONT_BAD_DATA, "standard input: a name longer than any file's"));
            return;
        }
        name[length] = '\0';
        if (length)
            put_line(rows, table, name);
    }
    if (ferror(stdin))
        worsen(rows, front_say(FRONT_IO, "standard input cannot be read"));
}

static dregs_status fill(void *user, dregs_table *table)
{
    struct rows *rows = user;
    int i;

    for (i = 0; i < rows->count; i++)
        put_line(rows, table, rows->files[i]);
    if (rows->count == 0)
        put_named(rows, table);
    return DREGS_OK;
}

int each_line(const struct each *each, char **files, int count)
{
    static const struct {
        const char *key, *unit;
        dregs_column_kind kind;
    } columns[] = {{"file", "", DREGS_COLUMN_WORD},
                   {"status", "", DREGS_COLUMN_WORD},
                   {"residue", "ug/cm2", DREGS_COLUMN_NUMBER},
                   {"load", "", DREGS_COLUMN_COUNT},
                   {"at_steady_state", "", DREGS_COLUMN_FLAG},
                   {"of_limit", "1", DREGS_COLUMN_NUMBER},
                   {"met", "", DREGS_COLUMN_FLAG},
                   {"draws", "", DREGS_COLUMN_COUNT},
                   {"draws_failed", "", DREGS_COLUMN_COUNT},
                   {"share_met", "1", DREGS_COLUMN_NUMBER},
                   {"share_met_low", "1", DREGS_COLUMN_NUMBER},
                   {"share_met_high", "1", DREGS_COLUMN_NUMBER},
                   {"residue_low", "ug/cm2", DREGS_COLUMN_NUMBER},
                   {"residue_middle", "ug/cm2", DREGS_COLUMN_NUMBER},
                   {"residue_high", "ug/cm2", DREGS_COLUMN_NUMBER}};
    struct rows rows = {each, NULL, files, count, FRONT_DONE};
    dregs_liquids *liquids = NULL;
    dregs_report *report;
    dregs_table *table;
    size_t i;
    int status = front_read_liquids(each->common.liquids_file, &liquids);

    if (status) {
        dregs_liquids_free(liquids);
        return status;
    }
    rows.liquids = liquids;
    report = dregs_report_new("predict", NULL);
    if (!report) {
        dregs_liquids_free(liquids);
        return front_report(DREGS_NO_MEMORY, NULL, each->common.format);
    }
    table = dregs_report_table(report, "lines", DREGS_IN_CSV | DREGS_IN_JSON);
    for (i = 0; i < sizeof columns / sizeof columns[0]; i++)
        dregs_table_column(table, columns[i].kind, columns[i].key, NULL, columns[i].unit, 0);
    dregs_table_filled_by(table, fill, &rows);
    status = front_report(DREGS_OK, report, each->common.format);
    dregs_liquids_free(liquids);
    return status ? status : rows.status;
}
