/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_change.c: what one more rinse, ten more seconds of draining and lids would do. The line
 * file's text is written anew with the change, read and computed like any other: no estimate.
 */
#include "answer/tally.h"
#include "dregs/edit.h"
#include "dregs/number.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 256, NAME_ROOM = 80 };

#define MORE_DRAIN 10.0 /* s */
#define LID_SHARE  0.9  /* of the time that a lid is taken to be on */

struct rows {
    dregs_new_row row[ROWS_MOST];
    size_t count;
    int full;
};

static void add(struct rows *rows, const char *item, const char *property, const char *value,
                const char *unit)
{
    if (rows->count == ROWS_MOST) {
        rows->full = 1;
        return;
    }
    rows->row[rows->count++] = (dregs_new_row){item, property, value, unit, NULL};
}

/* Reads and computes the changed text, which is freed; what goes wrong is the reason. */
static dregs_status compute(dregs_tally_result *answer, struct tally_changed *change, char *text,
                            size_t length)
{
    const dregs_liquids *liquids = dregs_line_liquids(answer->line[0].one.line);
    dregs_tally_change *c = &change->change;
    dregs_faults *faults =
        calloc(1, sizeof *faults); /* too large for the stack of what is asked here */
    dregs_status status =
        faults ? dregs_line_parse("the changed line", text, length, liquids, &change->line, faults)
               : DREGS_NO_MEMORY;

    if (!status)
        status = dregs_answer_tally_compute(change->line, &answer->question, &change->tally,
                                            &c->residue, c->reason);
    dregs_edit_free(text);
    if (status == DREGS_NO_MEMORY) {
        free(faults);
        return status;
    }
    if (!status) {
        c->reason[0] = '\0';
        c->line = change->line;
        c->tally = change->tally;
        dregs_answer_tally_figures_of(c->tally, c->residue, &change->figures);
        dregs_answer_tally_figures_since(&change->figures, &answer->line[0].figures);
    } else if (faults->count)
        snprintf(c->reason, sizeof c->reason, "the changed line is refused: %.300s",
                 faults->fault[0].text);
    else if (!c->reason[0])
        snprintf(c->reason, sizeof c->reason, "%s", dregs_status_text(status));
    free(faults);
    return DREGS_OK;
}

static dregs_status set(dregs_tally_result *answer, struct tally_changed *change,
                        const struct rows *rows)
{
    size_t length;
    char *text;

    if (dregs_edit_set(answer->line[0].one.line, rows->row, rows->count, &text, &length))
        return DREGS_NO_MEMORY;
    return compute(answer, change, text, length);
}

/* ---- one more rinse ---- */

/* The last rinse with a tank of its own that no other wet stage follows; -1 for none. */
static int last_rinse(const dregs_line *line)
{
    int last = dregs_line_last_wet(line);
    const dregs_stage *stage = last < 0 ? NULL : dregs_line_stage(line, (unsigned)last);

    return stage && dregs_stage_is(stage, DREGS_STAGE_TANK | DREGS_STAGE_RINSES) &&
                   !stage->shares.row
               ? last
               : -1;
}

static int is_name(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 1; i <= dregs_line_rows(line); i++)
        if (strcmp(dregs_line_row(line, i)->item, name) == 0)
            return 1;
    return 0;
}

static void new_name(const dregs_line *line, const char *name, char into[NAME_ROOM])
{
    unsigned number = 2;

    do
        snprintf(into, NAME_ROOM, "%.40s %u", name, number++);
    while (is_name(line, into));
}

static int is(const dregs_row *row, const char *property)
{
    return strcmp(row->property, property) == 0;
}

/* The rows of the copy: those of the last rinse, but nothing that comes to it from others. With a
 * flow it is fed instead of the last one and overflows into it. */
static void add_copy(const dregs_line *line, const dregs_stage *last, const char *name, int fed,
                     struct rows *rows)
{
    unsigned i;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        if (strcmp(row->item, last->name) == 0 && !is(row, "refill from") &&
            !is(row, "overflow to") && !is(row, "top up from"))
            add(rows, name, row->property, row->value, row->unit);
    }
    if (fed)
        add(rows, name, "overflow to", last->name, NULL);
}

/* The last rinse's own rows again, without its flow when the copy takes that, and the rows of
 * others that name it, which went with it. `passed`: it was refilled into the one before, so it is
 * now refilled from the copy. */
static void add_rest(const dregs_line *line, const dregs_stage *last, const char *name, int fed,
                     struct rows *rows, int *passed)
{
    unsigned i;

    *passed = 0;
    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        int own = strcmp(row->item, last->name) == 0;
        int names = strcmp(row->value, last->name) == 0 &&
                    (is(row, "overflow to") || is(row, "top up from") || is(row, "refill from") ||
                     is(row, "runoff to"));
        if ((own && !(fed && is(row, "flow"))) || (!own && names))
            add(rows, row->item, row->property, row->value, row->unit);
        *passed = *passed || (!own && names && is(row, "refill from"));
    }
    if (*passed && last->refill_from.kind != DREGS_LINK_STAGE)
        add(rows, last->name, "refill from", name, NULL);
}

static dregs_status one_more_rinse(dregs_tally_result *answer, struct tally_changed *change)
{
    const dregs_line *line = answer->line[0].one.line;
    int index = last_rinse(line), fed, passed;
    const dregs_stage *last = index < 0 ? NULL : dregs_line_stage(line, (unsigned)index);
    char name[NAME_ROOM], *text;
    struct rows rows = {.count = 0};
    size_t length;

    snprintf(change->change.what, sizeof change->change.what, "one more rinse");
    if (!last) {
        snprintf(change->change.reason, sizeof change->change.reason,
                 "the last wet stage is no rinse with a tank of its own");
        return DREGS_OK;
    }
    fed = last->flow.si > 0;
    new_name(line, last->name, name);
    add_rest(line, last, name, fed, &rows, &passed);
    add_copy(line, last, name, fed, &rows);
    snprintf(change->change.what, sizeof change->change.what,
             "one more rinse: a copy of '%s' behind it, %s", last->name,
             fed      ? "fed in its place with the same flow and overflowing into it"
             : passed ? "whose liquid refills it after a dump"
                      : "filled and dumped like it");
    if (rows.full) {
        snprintf(change->change.reason, sizeof change->change.reason, "'%.60s' has too many rows",
                 last->name);
        return DREGS_OK;
    }
    if (dregs_edit_replace(line, &last->name, 1, rows.row, rows.count, &text, &length))
        return DREGS_NO_MEMORY;
    return compute(answer, change, text, length);
}

/* ---- more draining, lids ---- */

/* Adds a stage's name to the list in `what`; names past its end are left out with "...". */
static void list(struct tally_changed *change, unsigned *count, const char *name)
{
    size_t used = strlen(change->change.what);

    if (used + strlen(name) + 8 < sizeof change->change.what)
        snprintf(change->change.what + used, sizeof change->change.what - used, "%s%s",
                 *count ? ", " : ": ", name);
    ++*count;
}

static dregs_status more_drain(dregs_tally_result *answer, struct tally_changed *change)
{
    const dregs_line *line = answer->line[0].one.line;
    char value[DREGS_LINE_STAGES][DREGS_NUMBER_TEXT];
    struct rows rows = {.count = 0};
    unsigned i, count = 0;

    snprintf(change->change.what, sizeof change->change.what, "ten more seconds of draining");
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->film_way != DREGS_FILM_LAW)
            continue;
        (void)dregs_number_exact(value[i], stage->drain_time.si + MORE_DRAIN);
        add(&rows, stage->name, "drain time", value[i], "s");
        list(change, &count, stage->name);
    }
    if (!count)
        snprintf(change->change.reason, sizeof change->change.reason,
                 "no stage computes its film from a withdrawal speed; how a stated film depends on "
                 "the drain time is not known");
    else if (!dregs_line_load(line)->height.row)
        snprintf(change->change.reason, sizeof change->change.reason, "the load states no height");
    return *change->change.reason ? DREGS_OK : set(answer, change, &rows);
}

static dregs_status lids(dregs_tally_result *answer, struct tally_changed *change)
{
    const dregs_line *line = answer->line[0].one.line;
    struct rows rows = {.count = 0};
    unsigned i, count = 0, open = 0;

    snprintf(change->change.what, sizeof change->change.what,
             "a lid, on for 90 %% of the time (assumed)");
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (!stage->open_area.row || !(stage->open_area.si > 0))
            continue;
        open++;
        if (!(stage->covered.si < LID_SHARE))
            continue;
        add(&rows, stage->name, "covered", "90", "%");
        list(change, &count, stage->name);
    }
    if (!count)
        snprintf(change->change.reason, sizeof change->change.reason, "%s",
                 open ? "every open tank is covered as long already"
                      : "no tank states an open area; a stated evaporation does not tell what a "
                        "lid would keep");
    return count ? set(answer, change, &rows) : DREGS_OK;
}

/* Works out one change. */
typedef dregs_status finder(dregs_tally_result *answer, struct tally_changed *change);

dregs_status dregs_answer_tally_find_changes(dregs_tally_result *answer)
{
    static finder *const change[] = {one_more_rinse, more_drain, lids};
    dregs_status status = DREGS_OK;
    unsigned i;

    for (i = 0; i < TALLY_CHANGES_MOST && !status; i++)
        status = change[i](answer, &answer->change[answer->changes++]);
    return status;
}
