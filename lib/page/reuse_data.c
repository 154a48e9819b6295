/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_data.c: the page of a log for programs: figures, what each meter shows, the periods between
 * changes, every reading as it was classified.
 */
#include "page/reuse.h"

#include <math.h>

/* ---- figures ---- */

static dregs_quantity factor_of(const dregs_factor *factor)
{
    return dregs_quantity_within(factor->best, factor->low, factor->high, "1");
}

/* A number of loads; not known where no end was found, or where the readings do not fit. */
static double loads_of(const struct reusing *r, uint64_t loads)
{
    return loads == DREGS_REUSE_LOADS_MOST || !dregs_page_reuse_fits(r) ? NAN : (double)loads;
}

/* A count, or null. */
static void put_count(dregs_report *report, const char *key, int known, uint64_t count)
{
    if (known)
        dregs_report_count(report, key, count);
    else
        dregs_report_word(report, key, NULL);
}

static void put_residues(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_reuse_meaning *meaning = &r->result->meaning;

    dregs_report_figure(r->report, "next_residue",
                        dregs_quantity_within(a->next * UG_PER_CM2, a->next_low * UG_PER_CM2,
                                              a->next_high * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(
        r->report, "next_residue_at_confidence",
        dregs_quantity_of(isnan(a->confidence) ? NAN : a->next_sure * UG_PER_CM2, "ug/cm2"));
    dregs_report_figure(r->report, "limit", dregs_quantity_of(a->limit * UG_PER_CM2, "ug/cm2"));
    dregs_report_word(r->report, "limit_of", dregs_page_solute(r->line, a->solute));
    dregs_report_figure(r->report, "confidence", dregs_quantity_of(a->confidence, "1"));
    dregs_report_figure(r->report, "left_per_part_at_limit",
                        dregs_quantity_of(meaning->per_part * MG, "mg"));
    dregs_report_figure(r->report, "share_of_the_film_at_limit",
                        dregs_quantity_of(meaning->film_share, "1"));
}

static void put_tank(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    int any = a->stage >= 0 && dregs_page_reuse_fits(r);

    dregs_report_word(r->report, "stage_to_dump",
                      any ? dregs_line_stage(r->line, (unsigned)a->stage)->name : NULL);
    put_count(r->report, "loads_since_fill", any, a->since);
    dregs_report_figure(r->report, "residue_after_dump",
                        dregs_quantity_of(any ? a->after_dump * UG_PER_CM2 : NAN, "ug/cm2"));
    put_count(r->report, "loads_of_a_fill", any && a->fill != DREGS_REUSE_LOADS_MOST, a->fill);
    put_count(r->report, "loads_when_all_are_dumped", any && a->fill_all != DREGS_REUSE_LOADS_MOST,
              a->fill_all);
}

/* The scatter of the meter: a share, or in the unit of the log. */
static dregs_quantity noise_of(const struct reusing *r)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    dregs_quantity noise = dregs_quantity_of(basis->noise, "1");

    noise.from = basis->noise_given ? "given" : basis->freedom ? "the log" : "assumed";
    if (basis->noise_stated) {
        noise.value = NAN;
        noise.from = "each row of the log";
    } else if (basis->noise_absolute) {
        noise.from = "the log";
        noise.value = dregs_answer_reading_shown(r->readings, basis->noise_what,
                                                 (int)basis->noise_unit, basis->noise, &noise.unit);
    }
    return noise;
}

/* The name of a kind of load, or null. */
static void put_kind(const struct reusing *r, const char *key, int kind)
{
    dregs_report_word(r->report, key,
                      kind < 0 || !dregs_page_reuse_fits(r)
                          ? NULL
                          : dregs_line_load_name(dregs_line_of_kind(r->line, (unsigned)kind)));
}

static void put_figures(const struct reusing *r)
{
    const dregs_reuse_outlook *a = r->result->outlook;
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    const dregs_regime *last = dregs_page_last_period(r->result);

    dregs_report_flag(r->report, "use_again", r->result->use_again);
    dregs_report_figure(r->report, "loads",
                        dregs_quantity_within(loads_of(r, a->loads), loads_of(r, a->low),
                                              loads_of(r, a->high), "1"));
    if (dregs_line_kinds(r->line) > 1) {
        put_kind(r, "kind_of_next_load", (int)a->kind);
        put_kind(r, "kind_that_ends_them", a->kind_ends);
    }
    put_residues(r);
    put_tank(r);
    put_count(r->report, "loads_between_dumps", a->cycled && a->cycle != DREGS_REUSE_LOADS_MOST,
              a->cycle);
    put_count(r->report, "loads_between_dumps_low",
              a->cycled && a->cycle_low != DREGS_REUSE_LOADS_MOST, a->cycle_low);
    put_count(r->report, "loads_between_dumps_high",
              a->cycled && a->cycle_high != DREGS_REUSE_LOADS_MOST, a->cycle_high);
    dregs_report_figure(r->report, "drag_out_factor", factor_of(&last->drag_out));
    dregs_report_figure(r->report, "drag_out_factor_before_log",
                        factor_of(&r->result->drag_out_before));
    dregs_report_figure(r->report, "soil_factor", factor_of(&last->soil));
    dregs_report_figure(r->report, "soil_factor_before_log", factor_of(&r->result->soil_before));
    dregs_report_figure(r->report, "meter_scatter", noise_of(r));
    dregs_report_figure(r->report, "fresh_liquid_holds",
                        dregs_quantity_within(last->fresh.best * MG_PER_L,
                                              last->fresh.low * MG_PER_L,
                                              last->fresh.high * MG_PER_L, "mg/L"));
    dregs_page_log_counts(r->report, r->readings, basis->used);
    dregs_report_count(r->report, "readings_unusable", basis->unusable);
}

/* ---- what each meter shows ---- */

static void put_meters(const struct reusing *r)
{
    dregs_table *table = dregs_report_table(r->report, "readings", DREGS_IN_JSON);
    char name[LOG_NAME];
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "now", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "dump_at", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "temperature", NULL, "degC", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "dissolved", NULL, "mg/L", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "limit_at", NULL, "", 0);
    for (i = 0; i < dregs_line_stages(r->line); i++) {
        const dregs_dump_reading *at = &r->result->outlook->at[i];
        int conductivity = at->what == DREGS_MEASURED_CONDUCTIVITY;
        const char *unit;
        double now = dregs_answer_reading_shown(r->readings, at->what, at->unit, at->now, &unit);
        double dump =
            dregs_answer_reading_shown(r->readings, at->what, at->unit, at->planned, &unit);
        double limit =
            dregs_answer_reading_shown(r->readings, at->what, at->unit, at->value, &unit);
        int reached = at->known && dregs_page_reuse_fits(r);
        if (!dregs_page_reuse_reads(r, i))
            continue;
        dregs_table_word(table, dregs_line_stage(r->line, i)->name);
        dregs_table_word(table, dregs_page_measured(r->line, at->what, at->which, name));
        dregs_table_word(table, unit);
        dregs_table_number(table, now);
        dregs_table_number(table, dregs_page_reuse_dumps(r, i) ? dump : NAN);
        dregs_table_number(table, !conductivity            ? NAN
                                  : isnan(at->temperature) ? 25.0
                                                           : at->temperature - 273.15);
        dregs_table_number(table, reached ? at->dissolved * MG_PER_L : NAN);
        dregs_table_number(table, reached ? limit : NAN);
        dregs_table_end_row(table);
    }
}

/* ---- periods ---- */

static void put_within(dregs_table *table, const dregs_factor *factor, double unit)
{
    dregs_table_within(table, factor->best * unit, factor->low * unit, factor->high * unit);
}

/* What began the period, and by how much. */
static void put_change(const struct reusing *r, dregs_table *table, const dregs_regime *period)
{
    int dirty = period->kind == DREGS_REGIME_DIRTY;
    char name[LOG_NAME];

    dregs_table_word(table, dregs_page_change(r->line, (int)period->kind, period->which, name));
    if (dirty)
        dregs_table_number(table, NAN);
    else
        put_within(table, &period->of, 1);
    if (dirty)
        put_within(table, &period->of, MG_PER_L);
    else
        dregs_table_number(table, NAN);
    dregs_table_count(table, dregs_readings_at(r->readings, period->found)->line);
    dregs_table_word(table,
                     period->rival > DREGS_REGIME_FIRST
                         ? dregs_page_change(r->line, period->rival, period->rival_which, name)
                         : NULL);
}

static void put_periods(const struct reusing *r)
{
    static const char *const kinds[] = {"first", "drag-out",     "soil",
                                        "flow",  "fresh liquid", "content"};
    dregs_table *table = dregs_report_table(r->report, "periods", DREGS_IN_JSON);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "period", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "changed", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "line", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "drag_out_factor", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "soil_factor", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "changed_in_words", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "change_factor", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "more_than_stated", NULL, "mg/L", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "detected_at_line", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "or_as_well", NULL, "", 0);
    for (i = 0; i < dregs_reuse_regimes(r->result->reuse) && !r->result->outlook->blind; i++) {
        const dregs_regime *period = dregs_reuse_regime(r->result->reuse, i);
        dregs_table_count(table, i + 1);
        dregs_table_word(table, kinds[period->kind]);
        dregs_table_count(table, dregs_readings_at(r->readings, period->first)->line);
        put_within(table, &period->drag_out, 1);
        put_within(table, &period->soil, 1);
        if (period->kind != DREGS_REGIME_FIRST)
            put_change(r, table, period);
        dregs_table_end_row(table);
    }
}

/* ---- the film of each stage ---- */

static void put_films(const struct reusing *r)
{
    dregs_table *table = dregs_report_table(r->report, "films", DREGS_IN_JSON);
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(r->result->reuse);
    const dregs_regime *last = dregs_page_last_period(r->result);
    unsigned i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "drag_out_factor", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "spread_before_log", NULL, "1", 0);
    for (i = 0; i < dregs_line_stages(r->line); i++) {
        if (isnan(last->of_stage[i].best))
            continue;
        dregs_table_word(table, dregs_line_stage(r->line, i)->name);
        put_within(table, &last->of_stage[i], 1);
        dregs_table_number(table, basis->drag_out_sd[i]);
        dregs_table_end_row(table);
    }
}

/* ---- every reading ---- */

static void put_reading(const dregs_reuse_result *result, size_t index, dregs_table *table)
{
    static const char *const states[] = {"used",     "outlier", "alone",
                                         "unusable", "dump",    "implausible"};
    const dregs_reading *reading = dregs_readings_at(result->readings, index);
    const dregs_heard_reading *heard = dregs_reuse_heard(result->reuse, index);
    int dump = reading->what == DREGS_MEASURED_DUMP, written = dump ? -1 : (int)reading->unit;
    char when[LOG_TIME], name[LOG_NAME];
    const char *unit;

    dregs_table_count(table, reading->line);
    dregs_table_word(table, dregs_page_log_time(result->readings, reading->time, when));
    dregs_table_word(table, dregs_line_stage(result->line, reading->stage)->name);
    dregs_table_count(table, (uint64_t)reading->at);
    dregs_table_word(table, dregs_page_measured(result->line, reading->what, reading->which, name));
    dregs_table_number(table, dregs_answer_reading_shown(result->readings, reading->what, written,
                                                         reading->value, &unit));
    dregs_table_number(table, dregs_answer_reading_shown(result->readings, reading->what, written,
                                                         heard->expected, &unit));
    dregs_table_word(table, dump ? "" : unit);
    dregs_table_number(table, heard->off);
    dregs_table_count(table, reading->rows);
    dregs_table_word(table, states[heard->heard]);
    dregs_table_count(table, dregs_reuse_result_regime(result, index));
    dregs_table_word(table, dregs_page_beyond(reading));
    dregs_table_end_row(table);
}

static dregs_status fill_readings(void *user, dregs_table *table)
{
    const dregs_reuse_result *result = user;
    size_t i;

    for (i = 0; i < dregs_readings_kept(result->readings); i++)
        put_reading(result, i, table);
    return DREGS_OK;
}

static void put_readings(const struct reusing *r)
{
    dregs_table *table =
        dregs_report_table(r->report, "classified_readings", DREGS_IN_CSV | DREGS_IN_JSON);

    dregs_table_column(table, DREGS_COLUMN_COUNT, "line", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "time", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "expected", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "off", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "rows", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "state", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "regime", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "beyond", NULL, "", 0);
    dregs_table_filled_by(table, fill_readings, (void *)r->result);
}

void dregs_page_reuse_data(const struct reusing *r)
{
    put_figures(r);
    put_meters(r);
    put_periods(r);
    put_films(r);
    put_readings(r);
}
