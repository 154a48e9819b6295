/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_words.c: names, values and times of a log, and what became of its rows. */
#include "page/reuse.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *dregs_page_reading(struct readings_text *texts, const dregs_readings *readings,
                               dregs_measured what, int unit, double value)
{
    char number[DREGS_NUMBER_TEXT], *into = texts->text[texts->next++ % 4];
    const char *name;

    dregs_number_plain(number, dregs_answer_reading_shown(readings, what, unit, value, &name),
                       dregs_readings_unit_digits(readings, (unsigned)unit));
    snprintf(into, sizeof texts->text[0], "%s%s%.60s", number,
             *name && strcmp(name, "1") ? " " : "", strcmp(name, "1") ? name : "");
    return into;
}

const char *dregs_page_beyond(const dregs_reading *reading)
{
    return reading->beyond < 0 ? "<" : reading->beyond > 0 ? ">" : "";
}

size_t dregs_page_log_beyond(const dregs_readings *readings)
{
    size_t i, count = 0;

    for (i = 0; i < dregs_readings_kept(readings); i++)
        count += dregs_readings_at(readings, i)->beyond != 0;
    return count;
}

const char *dregs_page_rough(struct numbers *numbers, double value)
{
    return dregs_number_plain(numbers->text[numbers->next++ % 8], value, 2);
}

const char *dregs_page_log_time(const dregs_readings *readings, double time, char into[LOG_TIME])
{
    char text[DREGS_TIME_TEXT];

    snprintf(into, LOG_TIME, "%s%s", dregs_time_text(text, time),
             dregs_readings_zoned(readings) ? "Z" : "");
    return into;
}

const char *dregs_page_measured(const dregs_line *line, dregs_measured what, unsigned which,
                                char into[LOG_NAME])
{
    switch (what) {
    case DREGS_MEASURED_CONCENTRATION:
        snprintf(into, LOG_NAME, "concentration %.80s", dregs_page_solute(line, (int)which));
        return into;
    case DREGS_MEASURED_CONDUCTIVITY:
        return "conductivity";
    case DREGS_MEASURED_RESIDUE:
        return "non-volatile residue";
    case DREGS_MEASURED_ON_PARTS:
        if (which >= DREGS_LINE_SOLUTES)
            return "residue";
        snprintf(into, LOG_NAME, "residue %.80s", dregs_page_solute(line, (int)which));
        return into;
    case DREGS_MEASURED_SCALE:
        return dregs_line_scale(line, which)->name;
    default:
        return "dump";
    }
}

const char *dregs_page_change(const dregs_line *line, int kind, int which, char into[LOG_NAME])
{
    switch (kind) {
    case DREGS_REGIME_DRAG_OUT:
        if (which < 0)
            return "drag-out";
        snprintf(into, LOG_NAME, "drag-out of %.80s",
                 dregs_line_stage(line, (unsigned)which)->name);
        return into;
    case DREGS_REGIME_SOIL:
        return "soil on the parts";
    case DREGS_REGIME_CONTENT:
        return "content of the tank";
    case DREGS_REGIME_FLOW:
        snprintf(into, LOG_NAME, "flow of %.80s", dregs_line_stage(line, (unsigned)which)->name);
        return into;
    default:
        snprintf(into, LOG_NAME, "fresh %.80s", dregs_line_fluid(line, (unsigned)which)->name);
        return into;
    }
}

int dregs_page_reuse_fits(const struct reusing *r)
{
    return r->result->advice != DREGS_ADVICE_DOUBTFUL;
}

int dregs_page_reuse_learnt(const struct reusing *r)
{
    dregs_doubt doubt = r->result->outlook->doubt;

    return doubt != DREGS_DOUBT_IMPLAUSIBLE && doubt != DREGS_DOUBT_TIME &&
           doubt != DREGS_DOUBT_COUNT && doubt != DREGS_DOUBT_RUSH && !r->result->outlook->blind;
}

int dregs_page_reuse_reads(const struct reusing *r, unsigned stage)
{
    const dregs_dump_reading *at = &r->result->outlook->at[stage];

    return dregs_line_stage(r->line, stage)->tank >= 0 && !isnan(at->now) && (at->known || at->own);
}

int dregs_page_reuse_dumps(const struct reusing *r, unsigned stage)
{
    const dregs_dump_reading *at = &r->result->outlook->at[stage];

    return at->known && !isnan(at->planned) && dregs_page_reuse_fits(r);
}

const dregs_regime *dregs_page_last_period(const dregs_reuse_result *result)
{
    return dregs_reuse_regime(result->reuse, dregs_reuse_regimes(result->reuse) - 1);
}

void dregs_page_reuse_notes(dregs_report *report, const dregs_line *line, unsigned spreads_unused)
{
    char spreads[32];

    dregs_page_marked(report, line);
    dregs_page_notes(report, line, DREGS_ASKED_READINGS);
    if (!spreads_unused)
        return;
    snprintf(spreads, sizeof spreads, "%u spread%s", spreads_unused,
             spreads_unused == 1 ? "" : "s");
    dregs_report_not_used(report, spreads);
}

/* ---- the rows of the log ---- */

static void say_count(dregs_report *report, unsigned long long count, const char *what,
                      unsigned long first)
{
    if (count)
        dregs_report_text(report, 2, 4, "%llu %s (first: line %lu)", count, what, first);
}

void dregs_page_log(dregs_report *report, const dregs_readings *readings, size_t used,
                    size_t unusable)
{
    const dregs_readings_count *c = dregs_readings_counted(readings);
    size_t beyond = dregs_page_log_beyond(readings);

    dregs_report_heading(report, "the log %s", dregs_readings_name(readings));
    dregs_report_line(report, 2, "%llu row%s, %zu reading%s used, %llu dump%s", c->rows,
                      c->rows == 1 ? "" : "s", used, used == 1 ? "" : "s", c->dumps,
                      c->dumps == 1 ? "" : "s");
    if (beyond)
        dregs_report_line(report, 2,
                          "%zu below detection or above what the meter shows: used as no more than "
                          "that",
                          beyond);
    if (unusable)
        dregs_report_line(report, 2, "%zu that the meter cannot have shown: not used", unusable);
    say_count(report, c->missing, "without a value or a count of loads: passed over",
              c->first_missing);
    say_count(report, c->duplicate, "said before, word for word: passed over", c->first_duplicate);
    say_count(report, c->late, "out of order: put in the place that its time says", c->first_late);
    say_count(report, c->went_back, "where the count fell without a dump row: taken as a dump",
              c->first_went_back);
    say_count(report, c->went_on,
              "where the count is higher than at the dump row before it: taken as since that "
              "dump; a running number belongs in a column 'load'",
              c->first_went_on);
    if (c->gone)
        dregs_report_line(report, 2,
                          "%llu of the oldest rows read and let go: the answer rests on the last "
                          "ones",
                          c->gone);
}

void dregs_page_log_counts(dregs_report *report, const dregs_readings *readings, size_t used)
{
    const dregs_readings_count *c = dregs_readings_counted(readings);

    dregs_report_word(report, "log", dregs_readings_name(readings));
    dregs_report_count(report, "rows", c->rows);
    dregs_report_count(report, "readings_used", used);
    dregs_report_count(report, "dumps", c->dumps);
    dregs_report_count(report, "readings_beyond", dregs_page_log_beyond(readings));
    dregs_report_count(report, "rows_missing", c->missing);
    dregs_report_count(report, "rows_duplicate", c->duplicate);
    dregs_report_count(report, "rows_out_of_order", c->late);
    dregs_report_count(report, "rows_count_fell", c->went_back);
    dregs_report_count(report, "rows_count_went_on", c->went_on);
    dregs_report_count(report, "rows_let_go", c->gone);
}
