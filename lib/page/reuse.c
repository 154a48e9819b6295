/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.c: the page of a log of readings: may the rinse be used again. The verdict first, then what
 * it rests on.
 */
#include "page/reuse.h"
#include "page/bounds.h"

#include <math.h>
#include <stdio.h>

/* " of oil", where one solute's limit decides */
static void say_solute(const struct reusing *r, int solute)
{
    if (solute >= 0)
        dregs_report_words(r->report, " of %s", dregs_page_solute(r->line, solute));
}

/* "14", or what stands for no end */
static const char *loads_text(char into[24], uint64_t loads)
{
    if (loads == DREGS_REUSE_LOADS_MOST)
        return "no end";
    snprintf(into, 24, "%llu", (unsigned long long)loads);
    return into;
}

/* ---- the verdict ---- */

static void say_dump(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    int unsure = r->result->advice == DREGS_ADVICE_DUMP_UNSURE;
    struct numbers n = {0};

    dregs_report_words(r->report, "dump now: the next load");
    if (dregs_line_kinds(r->line) > 1)
        dregs_report_words(r->report, " (%s)",
                           dregs_line_load_name(dregs_line_of_kind(r->line, a->kind)));
    dregs_report_words(r->report, " %s %s ug/cm2", unsure ? "may leave" : "leaves",
                       dregs_page_number(&n, (unsure ? a->next_sure : a->next) * UG_PER_CM2));
    say_solute(r, a->solute);
    dregs_report_words(r->report, ", limit %s", dregs_page_number(&n, a->limit * UG_PER_CM2));
    if (unsure)
        dregs_report_words(r->report, " to be met with %s %% confidence",
                           dregs_page_number(&n, a->confidence * 100));
}

static const char weighing[] =
    ": a weighing with another dish's tare, without its blank, or of another sample?";

/* A reading that is less than this share of what is expected is none. Our own choice. */
#define NOTHING 1e-6

/* "about 1000 times too high: mS/cm for uS/cm?", the unit that was written for the one that
 * explains it; where none does, "200 times too high" */
static void say_too_high(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    double times = a->doubt_times;
    struct numbers n = {0};

    if (times < NOTHING) {
        dregs_report_words(r->report, "nothing: a probe in air, or a 0 for no reading?");
        return;
    }
    dregs_report_words(r->report, "%s%s times too %s", a->doubt_meant ? "about " : "",
                       dregs_page_rough(&n, times > 1 ? times : 1 / times),
                       times > 1 ? "high" : "low");
    if (a->doubt_weighed)
        dregs_report_words(r->report, "%s", weighing);
    else if (a->doubt_meant)
        dregs_report_words(r->report, ": %s for %s?",
                           dregs_readings_unit(r->readings, a->doubt_unit, NULL), a->doubt_meant);
}

/* The readings of the meter that is doubted; of those the ones above the limit, where it is of what
 * they are of. */
static size_t count_doubted(const struct reusing *r, size_t *above)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    size_t i, count = 0;

    *above = 0;
    for (i = 0; i < dregs_readings_kept(r->readings); i++) {
        const dregs_reading *reading = dregs_readings_at(r->readings, i);
        int solute = reading->which < DREGS_LINE_SOLUTES ? (int)reading->which : DREGS_EVERY_SOLUTE;
        if (reading->what != a->doubt_what || reading->stage != a->doubt_stage ||
            reading->which != a->doubt_which)
            continue;
        count++;
        *above += solute == a->solute && reading->beyond >= 0 && reading->value > a->limit;
    }
    return count;
}

/* Parts that were measured tell of the limit, whatever the line says. */
static void say_parts_missed(const struct reusing *r)
{
    struct numbers n = {0};
    size_t above;

    (void)count_doubted(r, &above);
    if (r->result->outlook->doubt_what == DREGS_MEASURED_ON_PARTS && above > 0)
        dregs_report_words(r->report, " As written the parts missed the limit, %s ug/cm2",
                           dregs_page_number(&n, r->result->outlook->limit * UG_PER_CM2));
}

static void say_doubt(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const char *stage = dregs_line_stage(r->line, a->doubt_stage)->name;
    const dregs_readings_count *counted = dregs_readings_counted(r->readings);
    struct numbers n = {0};
    size_t above;

    dregs_report_words(r->report, "check the log: ");
    switch (a->doubt) {
    case DREGS_DOUBT_IMPLAUSIBLE:
        if (a->doubt_line)
            dregs_report_words(r->report, "from line %lu on ", a->doubt_line);
        dregs_report_words(r->report, "'%s' reads ", stage);
        say_too_high(r);
        if (!a->doubt_meant && !a->doubt_weighed && a->doubt_times >= NOTHING)
            dregs_report_words(r->report, " for any such line");
        say_parts_missed(r);
        break;
    case DREGS_DOUBT_TIME:
        dregs_report_words(r->report,
                           "%s days from line %lu to line %lu: a wrong date, or a dump without its "
                           "row?",
                           dregs_page_number(&n, round(counted->gap / 86400)), counted->gap_from,
                           counted->gap_to);
        break;
    case DREGS_DOUBT_RUSH:
        dregs_report_words(r->report,
                           "%s loads in %s min from line %lu to line %lu, and the file has one "
                           "every %s min: a wrong count?",
                           dregs_page_number(&n, counted->rush),
                           dregs_page_number(&n, counted->rush_time / 60), counted->rush_from,
                           counted->rush_to,
                           dregs_page_number(&n, dregs_line_load(r->line)->interval.si / 60));
        break;
    case DREGS_DOUBT_COUNT:
        dregs_report_words(r->report, "'loads' goes on through its dumps: a running number? Its "
                                      "column is 'load'");
        break;
    case DREGS_DOUBT_SCATTER:
        dregs_report_words(r->report,
                           count_doubted(r, &above) > 1
                               ? "the readings of '%s' fit neither the line nor one another%s"
                               : "the one reading of '%s' does not fit the line%s",
                           stage, a->doubt_weighed ? weighing : "");
        break;
    default:
        dregs_report_words(r->report,
                           "the readings do not fit the line (drag-out %s times the file's at "
                           "best)",
                           dregs_page_number(&n, a->doubt_times));
    }
}

/* "below fresh water (1.0 uS/cm by the file): check the probe" */
static void say_below_fresh(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    struct readings_text texts = {{{0}}, 0};

    dregs_report_words(
        r->report, "below what fresh %s shows (%s by the file): check the %s",
        dregs_line_wet_with(r->line, a->doubt_stage)->name,
        dregs_page_reading(&texts, r->readings, a->doubt_what, (int)a->doubt_unit, a->fresh_shows),
        a->doubt_what == DREGS_MEASURED_CONDUCTIVITY ? "probe" : "meter");
}

/* A lone reading that is less than this factor off is not far off. Our own choice. */
#define FAR 1.5

static int is_near(const dregs_reuse_outlook *a)
{
    return a->doubt_times < FAR && a->doubt_times > 1 / FAR;
}

static void say_again(const struct reusing *r)
{
    if (r->result->advice == DREGS_ADVICE_DOUBTFUL) {
        say_doubt(r);
        return;
    }
    dregs_report_words(r->report, "measure again: the last reading is ");
    if (r->result->outlook->doubt_meant || r->result->outlook->doubt_weighed)
        say_too_high(r);
    else if (r->result->outlook->below_fresh)
        say_below_fresh(r);
    else
        dregs_report_words(r->report, "%sdirtier than %s",
                           is_near(r->result->outlook) ? "" : "far ",
                           dregs_reuse_rests_on(r->result->reuse)->used ? "earlier readings predict"
                                                                        : "the line file predicts");
}

/* What the first load too many misses, where it is no residue. */
static void say_end(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_bound *ends = a->ends;
    char of[BOUND_WORDS], limit[BOUND_WORDS];

    if (dregs_line_kinds(r->line) > 1 && a->kind_ends >= 0)
        dregs_report_words(
            r->report, "; a load %s ends them",
            dregs_line_load_name(dregs_line_of_kind(r->line, (unsigned)a->kind_ends)));
    if (ends)
        dregs_report_words(r->report, "; what ends them: %s, %s %s",
                           dregs_page_bound_of(r->line, ends, of), dregs_page_bound_kind(ends),
                           dregs_page_bound_value(r->line, ends, ends->limit.si, limit));
}

/* "load 14, 2026-03-04 09:06": where the answer counts from. The load as the last row has it;
 * behind a dump, or liquid that was read by itself, the time alone. */
static void say_from(const struct reusing *r)
{
    const dregs_reading *last =
        dregs_readings_at(r->readings, dregs_readings_kept(r->readings) - 1);
    unsigned long long after = r->result->outlook->after;
    int counted = last->what != DREGS_MEASURED_DUMP && !last->fresh && last->loads >= 0;
    char when[LOG_TIME];

    dregs_page_log_time(r->readings, last->time, when);
    if (counted)
        dregs_report_words(r->report, "load %llu, ", (unsigned long long)last->loads + after);
    if (after)
        dregs_report_words(r->report, "%llu load%s since ", after, after == 1 ? "" : "s");
    dregs_report_words(r->report, "%s", when);
}

/* "'dip' below 5 mg/L": the last of readings that are all bounds */
static void say_bound(const struct reusing *r)
{
    struct readings_text texts = {{{0}}, 0};
    size_t i = dregs_readings_kept(r->readings);

    while (i-- > 0) {
        const dregs_reading *reading = dregs_readings_at(r->readings, i);
        if (dregs_reuse_heard(r->result->reuse, i)->heard != DREGS_HEARD_USED || !reading->beyond)
            continue;
        dregs_report_words(r->report, "%s%s%s %s %s",
                           reading->what == DREGS_MEASURED_ON_PARTS ? "" : "'",
                           reading->what == DREGS_MEASURED_ON_PARTS
                               ? "parts"
                               : dregs_line_stage(r->line, reading->stage)->name,
                           reading->what == DREGS_MEASURED_ON_PARTS ? "" : "'",
                           reading->beyond < 0 ? "below" : "above",
                           dregs_page_reading(&texts, r->readings, reading->what,
                                              (int)reading->unit, reading->value));
        return;
    }
}

/* How many, since when, and the number to plan on: the lower end of the range. */
static void say_loads(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    int no_end = a->loads == DREGS_REUSE_LOADS_MOST;
    char low[24], high[24];

    if (r->result->advice == DREGS_ADVICE_UNSURE)
        dregs_report_words(r->report, "not sure of one more load after ");
    else if (no_end)
        dregs_report_words(r->report, "good for more loads after ");
    else
        dregs_report_words(r->report, "good for %llu more load%s after ",
                           (unsigned long long)a->loads, a->loads == 1 ? "" : "s");
    say_from(r);
    if (r->result->advice == DREGS_ADVICE_UNSURE)
        dregs_report_words(r->report, ": %s by the best estimate", loads_text(low, a->loads));
    else if (no_end)
        dregs_report_words(r->report, ": no end within %d", DREGS_REUSE_LOADS_MOST);
    if (r->result->advice == DREGS_ADVICE_UNSURE)
        ;
    else if (a->low == 0)
        dregs_report_words(r->report, "; none of them is sure");
    else if (a->low != DREGS_REUSE_LOADS_MOST)
        dregs_report_words(r->report, "; plan on %s", loads_text(low, a->low));
    if (a->low == DREGS_REUSE_LOADS_MOST)
        dregs_report_words(r->report, " over the whole 95 %% range");
    else
        dregs_report_words(r->report, " (95 %%: %s to %s)", loads_text(low, a->low),
                           loads_text(high, a->high));
    say_end(r);
}

/* "'first' and 'last'": the tanks whose dump is counted */
static unsigned say_tanks(const struct reusing *r)
{
    unsigned i, count = 0;

    for (i = 0; i < dregs_line_stages(r->line); i++)
        if (dregs_reuse_cycled(r->result->reuse, i))
            dregs_report_words(r->report, "%s'%s'", count++ ? " and " : "",
                               dregs_line_stage(r->line, i)->name);
    return count;
}

/* "dump 'first' and 'last' every 52 loads; plan on 35 (95 %: 35 to 80)" */
static void say_cycle(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    char low[24], high[24];
    unsigned count;

    dregs_report_words(r->report, "dump ");
    count = say_tanks(r);
    if (a->cycle == DREGS_REUSE_LOADS_MOST)
        dregs_report_words(r->report, "%sno end within %d loads",
                           count ? ": " : "nothing: ", DREGS_REUSE_LOADS_MOST);
    else
        dregs_report_words(r->report, "%s every %llu load%s", count > 1 ? " together" : "",
                           (unsigned long long)a->cycle, a->cycle == 1 ? "" : "s");
    if (a->cycle_low != DREGS_REUSE_LOADS_MOST)
        dregs_report_words(r->report, "; plan on %s", loads_text(low, a->cycle_low));
    dregs_report_words(r->report, " (95 %%: %s to %s)", loads_text(low, a->cycle_low),
                       loads_text(high, a->cycle_high));
}

/* Without a reading, the load count. */
static dregs_verdict say_blind(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    struct numbers n = {0};

    if (a->cycle > 0) {
        say_cycle(r);
        return DREGS_VERDICT_NONE;
    }
    dregs_report_words(
        r->report, "not even fresh liquid is enough: a load leaves %s ug/cm2, limit %s",
        dregs_page_number(&n, a->next * UG_PER_CM2), dregs_page_number(&n, a->limit * UG_PER_CM2));
    return DREGS_VERDICT_MISSED;
}

/* Where no end is seen: which tanks the file dumps, for the log has no row of them. */
static void say_by_file(const struct reusing *r)
{
    unsigned i, count = 0;

    for (i = 0; i < dregs_line_stages(r->line); i++) {
        const dregs_stage *stage = dregs_line_stage(r->line, i);
        struct numbers n = {0};
        if (!dregs_reuse_by_file(r->result->reuse, i))
            continue;
        dregs_report_words(r->report, "%s'%s' is dumped every %s loads",
                           count++ ? ", " : "as long as ", stage->name,
                           dregs_page_number(&n, stage->dump_every.si));
    }
    if (count)
        dregs_report_text(r->report, 2, 4, ", as %s says", dregs_line_name(r->line));
}

/* What would tell where the readings do not. */
static void say_instead(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_stage *first = dregs_line_stage(r->line, 0);
    struct numbers n = {0};

    if (a->loads == DREGS_REUSE_LOADS_MOST && !a->blind)
        say_by_file(r);
    if (!a->cycled || a->cycle_low == 0)
        return;
    if (r->result->advice == DREGS_ADVICE_UNSURE) {
        dregs_report_words(r->report, "what tells instead is the count of loads: ");
        say_cycle(r);
        if (a->stage >= 0 && a->since >= a->cycle_low)
            dregs_report_words(
                r->report, "; %llu have passed since the last fill of '%s': dump now",
                (unsigned long long)a->since, dregs_line_stage(r->line, (unsigned)a->stage)->name);
        dregs_report_end(r->report, 2, 4);
    }
    if (dregs_reuse_cycled(r->result->reuse, 0)) /* it is what is dumped */
        return;
    if (first->tank >= 0 && first->dump_every.row)
        dregs_report_text(r->report, 2, 4, "with '%s' changed every %s loads, as %s says",
                          first->name, dregs_page_number(&n, first->dump_every.si),
                          dregs_line_name(r->line));
    else if (a->cycle_low != DREGS_REUSE_LOADS_MOST && !isnan(a->bath))
        dregs_report_text(r->report, 2, 4,
                          "and the bath: at the lower end '%s' then holds %s mg/L of what comes in "
                          "with the parts; change it no later",
                          dregs_line_stage(r->line, 0)->name,
                          dregs_page_number(&n, a->bath * MG_PER_L));
}

void dregs_page_reuse_verdict(const struct reusing *r)
{
    dregs_verdict verdict = DREGS_VERDICT_MET;

    switch (r->result->advice) {
    case DREGS_ADVICE_DUMP:
    case DREGS_ADVICE_DUMP_UNSURE:
        say_dump(r);
        verdict = DREGS_VERDICT_MISSED;
        break;
    case DREGS_ADVICE_BLIND:
        verdict = say_blind(r);
        break;
    case DREGS_ADVICE_UNSURE:
        say_loads(r);
        verdict = DREGS_VERDICT_UNKNOWN;
        break;
    case DREGS_ADVICE_UNTOLD:
        dregs_report_words(r->report, "the log does not tell, it says only ");
        say_bound(r);
        dregs_report_words(r->report, "; by the line file alone ");
        say_loads(r);
        verdict = DREGS_VERDICT_UNKNOWN;
        break;
    case DREGS_ADVICE_DOUBTFUL:
    case DREGS_ADVICE_ALONE:
        say_again(r);
        verdict = DREGS_VERDICT_UNKNOWN;
        break;
    default:
        say_loads(r);
        if (r->result->outlook->bounds_alone) {
            dregs_report_words(r->report, "; by the line file, the log says only ");
            say_bound(r);
        }
    }
    dregs_report_end(r->report, 0, dregs_page_reuse_fits(r) ? -1 : 2);
    dregs_report_verdict(r->report, verdict);
}

/* ---- what the verdict says in numbers ---- */

static void say_next(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    struct numbers n = {0};

    dregs_report_words(r->report, "the next load leaves %s ug/cm2",
                       dregs_page_number(&n, a->next * UG_PER_CM2));
    say_solute(r, a->solute);
    dregs_report_text(r->report, 2, 4, " (95 %%: %s to %s), the limit is %s ug/cm2",
                      dregs_page_number(&n, a->next_low * UG_PER_CM2),
                      dregs_page_number(&n, a->next_high * UG_PER_CM2),
                      dregs_page_number(&n, a->limit * UG_PER_CM2));
    if (!isnan(a->confidence) && dregs_page_reuse_fits(r))
        dregs_report_line(r->report, 2,
                          "the loads are those that meet it with the %s %% confidence of the "
                          "target",
                          dregs_page_number(&n, a->confidence * 100));
}

/* "dump 'last' first, at 33.1 uS/cm (17.61 uS/cm now), 20 loads after its last fill, as planned" */
static void say_when_to_dump(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_dump_reading *at = &a->at[a->stage];
    struct readings_text texts = {{{0}}, 0};

    dregs_report_words(r->report, "dump '%s'%s",
                       dregs_line_stage(r->line, (unsigned)a->stage)->name,
                       a->dump_now ? " now" : " first");
    if (!a->dump_now && a->plan == 0) /* not one load is sure: there is no when */
        return;
    if (!a->dump_now && dregs_page_reuse_dumps(r, (unsigned)a->stage))
        dregs_report_words(r->report, ", at %s (%s now)",
                           dregs_page_reading(&texts, r->readings, at->what, at->unit, at->planned),
                           dregs_page_reading(&texts, r->readings, at->what, at->unit, at->now));
    dregs_report_words(r->report, ", %llu load%s after its last fill%s",
                       (unsigned long long)r->result->age, r->result->age == 1 ? "" : "s",
                       a->dump_now ? "" : ", as planned");
}

/* "7 loads", "more than 100000 loads" */
static void say_lasting(const struct reusing *r, uint64_t loads)
{
    dregs_report_words(r->report, "%s%llu load%s",
                       loads == DREGS_REUSE_LOADS_MOST ? "more than " : "",
                       (unsigned long long)loads, loads == 1 ? "" : "s");
}

/* Which tank, and how long a fill lasts. */
static void say_tank(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    struct numbers n = {0};

    if (a->loads == DREGS_REUSE_LOADS_MOST) /* no dump is due: none is to be spoken of */
        return;
    if (a->stage < 0) {
        dregs_report_line(r->report, 2,
                          "no dump of a tank in the log brings the next load below the limit");
        return;
    }
    say_when_to_dump(r);
    dregs_report_words(r->report, "; the next load then leaves %s ug/cm2, and the fill lasts ",
                       dregs_page_number(&n, a->after_dump * UG_PER_CM2));
    say_lasting(r, a->fill);
    if (a->dumped > 1) {
        dregs_report_words(r->report, "; with the %u tanks of the log dumped together, ",
                           a->dumped);
        say_lasting(r, a->fill_all);
    }
    dregs_report_end(r->report, 2, 4);
}

static void put_meter(const struct reusing *r, dregs_table *table, unsigned stage)
{
    const dregs_dump_reading *at = &r->result->outlook->at[stage];
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char name[LOG_NAME], shown_at[40] = "-";

    if (at->what == DREGS_MEASURED_CONDUCTIVITY)
        snprintf(shown_at, sizeof shown_at, "%s degC",
                 isnan(at->temperature) ? "25" : dregs_page_number(&n, at->temperature - 273.15));
    dregs_table_word(table, dregs_line_stage(r->line, stage)->name);
    dregs_table_word(table, dregs_page_measured(r->line, at->what, at->which, name));
    dregs_table_word(table, dregs_page_reading(&texts, r->readings, at->what, at->unit, at->now));
    dregs_table_word(table,
                     dregs_page_reuse_dumps(r, stage)
                         ? dregs_page_reading(&texts, r->readings, at->what, at->unit, at->planned)
                         : "-");
    dregs_table_word(table, shown_at);
    dregs_table_end_row(table);
}

/* In words: each meter has its own unit. Programs get numbers, dregs_page_reuse_data. */
static void say_readings(const struct reusing *r)
{
    dregs_table *table = NULL;
    unsigned i;

    for (i = 0; i < dregs_line_stages(r->line); i++) {
        if (!dregs_page_reuse_reads(r, i))
            continue;
        if (!table) {
            dregs_report_heading(r->report, "readings");
            table = dregs_report_table(r->report, "readings_in_words", DREGS_IN_TEXT);
            dregs_table_indent(table, 2);
            dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "stage", "", 18);
            dregs_table_column(table, DREGS_COLUMN_WORD, "meter", "meter", "", 24);
            dregs_table_column(table, DREGS_COLUMN_WORD, "now", "now", "", -16);
            dregs_table_column(table, DREGS_COLUMN_WORD, "dump_at",
                               r->result->outlook->dump_now ? "next fill: dump" : "when to dump",
                               "", -18);
            dregs_table_column(table, DREGS_COLUMN_WORD, "shown_at", "shown at", "", 0);
            dregs_table_gap(table, 2);
        }
        put_meter(r, table, i);
    }
}

/* What the reading at which the limit is reached means for the parts. */
static void say_meaning(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_reuse_meaning *meaning = &r->result->meaning;
    const dregs_dump_reading *at;
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};

    if (!meaning->known)
        return;
    at = &a->at[a->stage];
    dregs_report_words(r->report,
                       "the limit itself: at %s in %s, which is %s mg/L dissolved in all, the next "
                       "load keeps %s ug/cm2",
                       dregs_page_reading(&texts, r->readings, at->what, at->unit, at->value),
                       dregs_line_stage(r->line, (unsigned)a->stage)->name,
                       dregs_page_number(&n, at->dissolved * MG_PER_L),
                       dregs_page_number(&n, a->limit * UG_PER_CM2));
    say_solute(r, a->solute);
    dregs_report_text(r->report, 2, 4,
                      ", %s mg per part, when it has dried: %s %% of it out of the film that the "
                      "last stage leaves, the rest soil that no stage took off",
                      dregs_page_number(&n, meaning->per_part * MG),
                      dregs_page_number(&n, 100 * meaning->film_share));
    if (meaning->water_in_air)
        dregs_report_text(r->report, 2, 4,
                          "water that stands in air reads 1.0 to 1.1 uS/cm by the carbon dioxide "
                          "it takes up (common practice, no source): a meter cannot tell such a "
                          "limit in an open tank");
}

/* ---- what it rests on ---- */

static void say_factor(const struct reusing *r, const char *name, const dregs_factor *factor,
                       const dregs_factor *before)
{
    struct numbers n = {0};

    dregs_report_fact(r->report, name, 22,
                      "%s times what %s says (95 %%: %s to %s; before the log: %s to %s)",
                      dregs_page_number(&n, factor->best), dregs_line_name(r->line),
                      dregs_page_number(&n, factor->low), dregs_page_number(&n, factor->high),
                      dregs_page_number(&n, before->low), dregs_page_number(&n, before->high));
}

/* What to look for, where the readings do not fit. */
static void say_check(const struct reusing *r)
{
    if (r->result->advice == DREGS_ADVICE_DOUBTFUL)
        dregs_report_text(r->report, 2, 4,
                          "not judged before that is settled; look for a wrong unit, readings of "
                          "two tanks exchanged, a dump without its row, a wrong count of loads, a "
                          "faulty meter");
}

static void say_estimates(const struct reusing *r)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    const dregs_regime *last = dregs_page_last_period(r->result);
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};

    dregs_report_heading(r->report, "estimates from the log%s",
                         dregs_reuse_regimes(r->result->reuse) > 1 ? " since the last change" : "");
    say_factor(r, "drag-out", &last->drag_out, &r->result->drag_out_before);
    say_factor(r, "soil on the parts", &last->soil, &r->result->soil_before);
    if (basis->fresh >= 0)
        dregs_report_fact(
            r->report, "fresh liquid", 22, "%s holds %s mg/L of %s (95 %%: %s to %s; stated: %s)",
            dregs_line_fluid(r->line, (unsigned)basis->fresh)->name,
            dregs_page_number(&n, last->fresh.best * MG_PER_L),
            dregs_page_solute(r->line, (int)basis->fresh_solute),
            dregs_page_number(&n, last->fresh.low * MG_PER_L),
            dregs_page_number(&n, last->fresh.high * MG_PER_L),
            dregs_page_number(
                &n,
                dregs_line_fluid(r->line, (unsigned)basis->fresh)->content[basis->fresh_solute].si *
                    MG_PER_L));
    if (basis->noise_stated)
        dregs_report_fact(r->report, "meter", 22, "scatters as its rows state");
    else if (basis->noise_absolute)
        dregs_report_fact(r->report, "meter", 22,
                          "scatters by %s, one standard deviation (from the log)",
                          dregs_page_reading(&texts, r->readings, basis->noise_what,
                                             (int)basis->noise_unit, basis->noise));
    else
        dregs_report_fact(r->report, "meter", 22,
                          "scatters by %s %% of the reading%s, one standard deviation (%s)",
                          dregs_page_rough(&n, basis->noise * 100),
                          basis->noise_what == DREGS_MEASURED_SCALE ? " beyond that of clean liquid"
                                                                    : "",
                          basis->noise_given ? "given"
                          : basis->freedom   ? "from the log"
                                             : "assumed");
}

static void say_size(const struct reusing *r, const dregs_regime *period)
{
    static const char *const signs[] = {"", ": it has failed", ": something got in",
                                        ": was it renewed?"};
    struct numbers n = {0};
    double unit = 1;

    if (period->kind == DREGS_REGIME_DIRTY) {
        unit = MG_PER_L;
        dregs_report_words(r->report, " holds %s mg/L more %s than stated",
                           dregs_page_number(&n, period->of.best * unit),
                           dregs_page_solute(r->line, (int)period->solute));
    } else {
        dregs_report_words(r->report, " %s times what %s", dregs_page_number(&n, period->of.best),
                           period->kind == DREGS_REGIME_FLOW ? "the line file says"
                                                             : "it was before");
    }
    dregs_report_words(
        r->report, " (95 %%: %s to %s)%s", dregs_page_number(&n, period->of.low * unit),
        dregs_page_number(&n, period->of.high * unit), signs[dregs_reuse_sign_of(period)]);
}

static void say_changes(const struct reusing *r)
{
    char when[LOG_TIME], name[LOG_NAME];
    unsigned i;

    for (i = 1; i < dregs_reuse_regimes(r->result->reuse); i++) {
        const dregs_regime *period = dregs_reuse_regime(r->result->reuse, i);
        const dregs_reading *first = dregs_readings_at(r->readings, period->first);
        if (i == 1)
            dregs_report_heading(r->report, "changes");
        dregs_report_words(r->report, "log line %lu (%s): %s", first->line,
                           dregs_page_log_time(r->readings, first->time, when),
                           dregs_page_change(r->line, (int)period->kind, period->which, name));
        say_size(r, period);
        dregs_report_end(r->report, 2, 4);
        dregs_report_words(r->report, "detected at log line %lu",
                           dregs_readings_at(r->readings, period->found)->line);
        if (period->rival > DREGS_REGIME_FIRST)
            dregs_report_words(
                r->report, "; another %s would explain it as well",
                dregs_page_change(r->line, period->rival, period->rival_which, name));
        dregs_report_end(r->report, 4, 6);
    }
}

static void say_outlier(const struct reusing *r, const dregs_reading *reading,
                        const dregs_heard_reading *heard)
{
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char name[LOG_NAME];
    int unit = (int)reading->unit;

    dregs_report_text(
        r->report, 2, 4, "log line %lu: %s %s%s of %s, %s expected: %s standard deviations off%s",
        reading->line, dregs_page_measured(r->line, reading->what, reading->which, name),
        dregs_page_beyond(reading),
        dregs_page_reading(&texts, r->readings, reading->what, unit, reading->value),
        dregs_line_stage(r->line, reading->stage)->name,
        dregs_page_reading(&texts, r->readings, reading->what, unit, heard->expected),
        dregs_page_rough(&n, heard->off),
        heard->heard != DREGS_HEARD_ALONE || !dregs_page_reuse_fits(r) ? ""
        : r->result->outlook->again ? "; the last one: measure again"
                                    : "; the last one, and cleaner: not counted on");
}

static void say_outliers(const struct reusing *r)
{
    enum { MOST = 12 };
    size_t i, count = 0;

    for (i = 0; i < dregs_readings_kept(r->readings); i++) {
        const dregs_heard_reading *heard = dregs_reuse_heard(r->result->reuse, i);
        if (heard->heard != DREGS_HEARD_OUTLIER && heard->heard != DREGS_HEARD_ALONE)
            continue;
        if (count++ == 0)
            dregs_report_heading(r->report, "set aside");
        if (count <= MOST)
            say_outlier(r, dregs_readings_at(r->readings, i), heard);
    }
    if (count > MOST)
        dregs_report_line(r->report, 2, "and %zu more; --format csv lists all", count - MOST);
}

static void give_assumed(const struct reusing *r)
{
    const char *note;
    unsigned i;

    for (i = 0; (note = dregs_reuse_assumed(r->result->reuse, i)) != NULL; i++)
        dregs_report_assumed(r->report, note);
    dregs_page_reuse_notes(r->report, r->line, r->result->spreads_unused);
    dregs_page_cautions(r->report, r->result->caution, r->result->cautions);
}

dregs_status dregs_page_reuse(const dregs_reuse_result *result, int explain, dregs_report **report)
{
    struct reusing r = {dregs_report_new("reuse", dregs_line_name(result->line)), result->line,
                        result->readings, result};
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(result->reuse);

    if (!r.report)
        return DREGS_NO_MEMORY;
    dregs_report_show(r.report, DREGS_LIST_PRESSING, "");
    dregs_page_reuse_verdict(&r);
    say_check(&r);
    say_instead(&r);
    if (dregs_page_reuse_learnt(&r))
        say_next(&r);
    if (dregs_page_reuse_fits(&r) && !result->outlook->blind)
        say_tank(&r);
    say_readings(&r);
    say_meaning(&r);
    dregs_page_reuse_parts(&r);
    if (dregs_page_reuse_learnt(&r))
        say_estimates(&r);
    say_changes(&r);
    say_outliers(&r);
    if (!result->outlook->blind)
        dregs_page_log(r.report, r.readings, basis->used, basis->unusable);
    dregs_report_show(r.report, DREGS_LIST_ASSUMED, "assumed");
    dregs_report_show(r.report, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(r.report, DREGS_LIST_CAUTIONS, "cautions");
    give_assumed(&r);
    if (explain)
        dregs_page_reuse_working(&r);
    dregs_page_reuse_data(&r);
    dregs_page_reuse_pictures(&r);
    return dregs_page_end(r.report, report);
}
