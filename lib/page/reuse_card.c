/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_card.c: one page to hang up at the bench: at which reading each tank is to be dumped, also
 * at today's temperature.
 */
#include "page/reuse.h"

#include <math.h>
#include <stdio.h>

/* What a meter without compensation shows at the dump, by temperature. */
static void say_temperatures(const struct reusing *r, unsigned stage)
{
    const dregs_dump_reading *at = &r->result->outlook->at[stage];
    const dregs_reuse_card *card = dregs_reuse_result_card(r->result, stage);
    struct numbers n = {0};
    dregs_table *table;
    const char *unit;
    int i;

    if (!card)
        return;
    (void)dregs_answer_reading_shown(r->readings, at->what, at->unit, 0, &unit);
    dregs_report_line(r->report, 6, "a meter without compensation shows, in %s (%s):", unit,
                      dregs_compensation_name(card->way));
    table = dregs_report_table(r->report, "without_compensation", DREGS_IN_TEXT);
    dregs_table_indent(table, 6);
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++) {
        char key[16], head[40];
        snprintf(key, sizeof key, "at_%d", i + 1);
        snprintf(head, sizeof head, "%s degC",
                 dregs_page_number(&n, card->temperature[i] - 273.15));
        dregs_table_column(table, DREGS_COLUMN_NUMBER, key, head, "", -11);
    }
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++)
        dregs_table_number(table, dregs_answer_reading_shown(r->readings, at->what, at->unit,
                                                             card->shown[i], &unit));
    dregs_table_end_row(table);
}

/* "that is behind the 3 loads to plan on; by the best estimate the limit is reached at 43.1 uS/cm,
 * 8 loads from now" */
static void say_plan(const struct reusing *r, const dregs_dump_reading *at)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    uint64_t loads = a->dump_now ? a->fill : a->loads;
    struct readings_text texts = {{{0}}, 0};

    if (a->plan >= loads)
        return;
    dregs_report_line(r->report, 6, "that is behind the %llu load%s to plan on%s;",
                      (unsigned long long)a->plan, a->plan == 1 ? "" : "s",
                      a->dump_now ? " of that fill" : "");
    dregs_report_line(r->report, 6, "%s the limit is reached at %s, behind %llu",
                      isnan(a->confidence) ? "by the best estimate"
                                           : "at the confidence of the target",
                      dregs_page_reading(&texts, r->readings, at->what, at->unit, at->value),
                      (unsigned long long)loads);
}

static void say_reading(const struct reusing *r, const dregs_dump_reading *at)
{
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char name[LOG_NAME];

    dregs_report_words(r->report, "%s: %sdump at %s",
                       dregs_page_measured(r->line, at->what, at->which, name),
                       r->result->outlook->dump_now ? "next fill, " : "",
                       dregs_page_reading(&texts, r->readings, at->what, at->unit, at->planned));
    if (at->what == DREGS_MEASURED_CONDUCTIVITY)
        dregs_report_words(
            r->report, " at %s degC",
            isnan(at->temperature) ? "25" : dregs_page_number(&n, at->temperature - 273.15));
    dregs_report_line(r->report, 6, "   (should read %s now)",
                      dregs_page_reading(&texts, r->readings, at->what, at->unit, at->now));
    say_plan(r, at);
}

static void say_stage(const struct reusing *r, unsigned stage)
{
    const dregs_reuse_outlook *a = r->result->outlook;

    dregs_report_gap(r->report);
    dregs_report_line(r->report, 2, "%s%s", dregs_line_stage(r->line, stage)->name,
                      a->stage != (int)stage || a->blind || !dregs_page_reuse_fits(r) ||
                              (a->loads == DREGS_REUSE_LOADS_MOST && !a->dump_now)
                          ? ""
                      : a->dump_now ? "   <- dump this tank now"
                      : dregs_page_reuse_dumps(r, stage)
                          ? "   <- dump this tank first, at this reading"
                          : "   <- dump this tank first");
    if (!dregs_page_reuse_dumps(r, stage)) {
        dregs_report_line(r->report, 6, "no reading tells when to dump%s",
                          !dregs_page_reuse_fits(r) ? ": the readings do not fit the line"
                          : a->loads == DREGS_REUSE_LOADS_MOST ? ": the limit is not reached"
                          : a->plan == 0                       ? ": not one more load is sure"
                                                               : "");
        return;
    }
    say_reading(r, &a->at[stage]);
    if (a->stage == (int)stage && !a->blind)
        dregs_report_line(
            r->report, 6,
            "dumped alone, its next fill lasts %s%llu load%s; %llu since the last one",
            a->fill == DREGS_REUSE_LOADS_MOST ? "more than " : "", (unsigned long long)a->fill,
            a->fill == 1 ? "" : "s", (unsigned long long)a->since);
    say_temperatures(r, stage);
}

/* Is the tank read? Where none is, all that a reading would tell of. */
static int has_place(const struct reusing *r, unsigned index, int any_read)
{
    const dregs_stage *stage = dregs_line_stage(r->line, index);
    const dregs_dump_reading *at = &r->result->outlook->at[index];

    return stage->tank >= 0 && !stage->shares.row && (any_read ? at->own : at->known);
}

static int is_any_read(const struct reusing *r)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(r->line); i++)
        if (r->result->outlook->at[i].own)
            return 1;
    return 0;
}

/* Until when the card holds: loads that it names, or a change of what it rests on. */
static void say_validity(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    uint64_t loads = a->cycled ? a->cycle_low : a->low;

    dregs_report_gap(r->report);
    if (!dregs_page_reuse_fits(r) || loads == 0 || loads == DREGS_REUSE_LOADS_MOST)
        dregs_report_words(r->report, "Out of date at the next dump, ");
    else
        dregs_report_words(r->report, "Out of date after %llu more load%s, at the next dump, ",
                           (unsigned long long)loads, loads == 1 ? "" : "s");
    dregs_report_text(r->report, 2, 4,
                      "or when load, drain time, liquid, cleaner or meter change: print it anew.");
    dregs_report_text(r->report, 2, 4,
                      "A reading far from the ones before it: clean the probe, measure again.");
    dregs_report_gap(r->report);
    dregs_report_line(r->report, 2,
                      "date ________________  name ______________________  signature "
                      "______________________");
}

dregs_status dregs_page_reuse_card(const dregs_reuse_result *result, dregs_report **report)
{
    struct reusing r = {dregs_report_new("reuse", dregs_line_name(result->line)), result->line,
                        result->readings, result};
    const dregs_reading *last = dregs_readings_at(r.readings, dregs_readings_kept(r.readings) - 1);
    struct numbers n = {0};
    char when[LOG_TIME];
    unsigned i;

    if (!r.report)
        return DREGS_NO_MEMORY;
    dregs_report_line(r.report, 0, "BENCH CARD   %s   %s%s", dregs_line_name(r.line),
                      last ? "last row " : "without a log",
                      last ? dregs_page_log_time(r.readings, last->time, when) : "");
    dregs_report_gap(r.report);
    dregs_page_reuse_verdict(&r);
    dregs_report_line(r.report, 0, "limit on the dried part: %s ug/cm2",
                      dregs_page_number(&n, result->outlook->limit * UG_PER_CM2));
    for (i = 0; i < dregs_line_stages(r.line); i++)
        if (has_place(&r, i, is_any_read(&r)))
            say_stage(&r, i);
    say_validity(&r);
    dregs_report_show(r.report, DREGS_LIST_CAUTIONS, "cautions");
    dregs_page_cautions(r.report, result->caution, result->cautions);
    return dregs_page_end(r.report, report);
}
