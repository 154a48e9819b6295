/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law_data.c: what regulations ask, for programs: tables, and rows of the CSV table. */
#include "page/tally_law.h"

#include <math.h>
#include <stdio.h>

static const char *code_of(const dregs_regulation *regulation)
{
    return regulation ? regulation->code : NULL;
}

const char *dregs_page_law_met_word(dregs_law_verdict met)
{
    static const char *const words[] = {
        [DREGS_LAW_NO] = "missed",
        [DREGS_LAW_YES] = "met",
        [DREGS_LAW_EXCLUDED] = "below the threshold",
        [DREGS_LAW_ASK] = "unknown",
    };

    return words[met];
}

/* "no", "yes", "excluded", "unknown" */
static const char *is_word(dregs_law_verdict is)
{
    static const char *const words[] = {
        [DREGS_LAW_NO] = "no",
        [DREGS_LAW_YES] = "yes",
        [DREGS_LAW_EXCLUDED] = "excluded",
        [DREGS_LAW_ASK] = "unknown",
    };

    return words[is];
}

static void put_solvents(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_solvents", DREGS_IN_JSON);
    const dregs_tally_solvent_law *s;
    unsigned i;

    dregs_page_word_column(table, "solvent");
    dregs_page_word_column(table, "us_voc");
    dregs_page_word_column(table, "us_air_pollutant");
    dregs_page_word_column(table, "us_waste_code");
    dregs_page_number_column(table, "vapour_pressure", "kPa");
    dregs_page_number_column(table, "emitted", "kg");
    dregs_page_number_column(table, "potential_to_emit", "kg");
    dregs_page_number_column(table, "cold_cleaner_loss", "kg");
    dregs_page_number_column(table, "open_area", "m2");
    dregs_page_flag_column(table, "eu_voc");
    dregs_page_flag_column(table, "lower_bound");
    dregs_page_flag_column(table, "potential_by_machine");
    dregs_page_flag_column(table, "potential_lower_bound");
    dregs_page_flag_column(table, "potential_upper_bound");
    dregs_page_word_column(table, "major_source");
    dregs_page_flag_column(table, "upper_bound");
    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++) {
        dregs_table_word(table, s->name);
        dregs_table_word(table, code_of(s->voc));
        dregs_table_word(table, code_of(s->pollutant));
        dregs_table_word(table, code_of(s->listed));
        dregs_table_number(table, s->vapour_pressure / 1e3);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_EMITTED, i, s->emitted, 1);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_POTENTIAL, i, s->potential, 1);
        dregs_table_number(table, s->cold);
        dregs_table_number(table, s->open_area);
        if (s->eu_voc >= 0)
            dregs_table_flag(table, s->eu_voc);
        else
            dregs_table_word(table, NULL);
        dregs_table_flag(table, s->more > 0);
        dregs_table_flag(table, s->by_machine);
        dregs_table_flag(table, s->potential_least);
        dregs_table_flag(table, s->potential_most);
        dregs_table_word(table, s->major == DREGS_LAW_EXCLUDED ? NULL : is_word(s->major));
        dregs_table_flag(table, s->less > 0);
        dregs_table_end_row(table);
    }
}

/* ---- solvent plans ---- */

/* Which solvents are in which plan. */
static void put_planned(dregs_report *report, const dregs_tally_law *law)
{
    dregs_table *table = dregs_report_table(report, "law_plan_solvents", DREGS_IN_JSON);
    const dregs_tally_solvent_law *s;
    const dregs_tally_plan *plan;
    unsigned i, k;

    dregs_page_count_column(table, "plan");
    dregs_page_word_column(table, "solvent");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++)
        for (k = 0; (s = dregs_tally_law_solvent(law, k)) != NULL; k++) {
            if (s->plan != (int)plan->number)
                continue;
            dregs_table_count(table, i + 1);
            dregs_table_word(table, s->name);
            dregs_table_end_row(table);
        }
}

static void put_streams(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_plan_streams", DREGS_IN_JSON);
    struct plan_stream stream[PLAN_STREAMS];
    const dregs_tally_plan *plan;
    unsigned i, k;

    dregs_page_count_column(table, "plan");
    dregs_page_word_column(table, "stream");
    dregs_page_word_column(table, "meaning");
    dregs_page_number_column(table, "mass", "kg");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        dregs_page_law_streams(&plan->plan, stream);
        for (k = 0; k < PLAN_STREAMS; k++) {
            dregs_table_count(table, i + 1);
            dregs_table_word(table, stream[k].name);
            dregs_table_word(table, stream[k].words);
            dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_PLAN,
                                 plan->number * DREGS_TALLY_PLAN_STREAMS + k, stream[k].mass, 1);
            dregs_table_end_row(table);
        }
    }
}

static void put_plans(dregs_report *report, const dregs_tally_law *law,
                      const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_plans", DREGS_IN_JSON);
    const dregs_tally_plan *plan;
    unsigned i;

    dregs_page_count_column(table, "plan");
    dregs_page_number_column(table, "consumption", "kg");
    dregs_page_number_column(table, "input", "kg");
    dregs_page_number_column(table, "fugitive", "kg");
    dregs_page_number_column(table, "fugitive_share", "1");
    dregs_page_flag_column(table, "upper_bound");
    dregs_page_flag_column(table, "lower_bound");
    dregs_page_number_column(table, "total_emission", "kg");
    dregs_page_number_column(table, "organic_content", "1");
    dregs_page_flag_column(table, "waived");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        dregs_table_count(table, i + 1);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_CONSUMPTION, plan->number,
                             plan->result.consumption, 1);
        dregs_table_number(table, plan->result.input);
        dregs_table_number(table, plan->result.fugitive);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_FUGITIVE, plan->number,
                             plan->result.share, 1);
        dregs_table_flag(table, dregs_page_law_at_most(plan));
        dregs_table_flag(table, dregs_page_law_at_least(plan));
        dregs_table_number(table, plan->total);
        dregs_table_number(table, plan->content);
        dregs_table_flag(table, plan->waived);
        dregs_table_end_row(table);
    }
}

void dregs_page_law_put_share_met(dregs_table *table, const dregs_tally_doubt *doubt,
                                  dregs_status status, const dregs_ensemble_estimate *met)
{
    if (doubt && status)
        dregs_table_number(table, NAN);
    else if (doubt)
        dregs_table_within(table, met->value, met->low, met->high);
}

static void put_mass_flows(dregs_report *report, const dregs_tally_law *law)
{
    dregs_table *table = dregs_report_table(report, "law_mass_flows", DREGS_IN_JSON);
    const dregs_tally_mass_flow *flow;
    unsigned i;

    dregs_page_word_column(table, "hazard");
    dregs_page_number_column(table, "vapour", "g/h");
    dregs_page_number_column(table, "from", "g/h");
    dregs_page_number_column(table, "waste_gas", "mg/m3");
    dregs_page_word_column(table, "reached");
    for (i = 0; i <= DREGS_LAW_HALOGENATED_CMR2; i++) {
        flow = dregs_tally_law_mass_flow(law, (dregs_law_hazard)i);
        if (!flow)
            continue;
        dregs_table_word(table, i == DREGS_LAW_CMR ? "H340, H350, H350i, H360D or H360F"
                                                   : "halogenated, H341 or H351");
        dregs_table_number(table, flow->rate * 3.6e6);
        dregs_table_number(table, flow->limit.from * 3.6e6);
        dregs_table_number(table, flow->limit.waste_gas * MG);
        dregs_table_word(table, is_word(flow->reached));
        dregs_table_end_row(table);
    }
}

/* Below the threshold a band has no limits. */
static void put_band(dregs_table *table, unsigned number_of, const dregs_tally_plan *model,
                     const dregs_tally_record *record, unsigned k, const dregs_tally_doubt *doubt)
{
    const dregs_tally_plan *plan = record ? record->plan : model; /* the records decide */
    const dregs_law_band *band = &plan->band[k];
    const char *as = band->waste_gas_carbon ? "carbon" : "compounds";
    dregs_ensemble_estimate met = {NAN, NAN, NAN};
    dregs_status status =
        record  ? DREGS_UNKNOWN
        : doubt ? dregs_tally_doubt_plan_met(doubt, plan->number, (dregs_law_activity)k, &met)
                : DREGS_OK;

    dregs_table_count(table, number_of);
    dregs_table_word(table, dregs_page_law_activity((dregs_law_activity)k));
    dregs_table_number(table, band->above);
    dregs_table_number(table, band->up_to);
    dregs_table_number(table, band->fugitive);
    dregs_table_number(table, band->waste_gas * MG);
    dregs_table_word(table, isnan(band->waste_gas) ? NULL : as);
    dregs_table_word(table, k == DREGS_LAW_CLEANING_OTHER && plan->waived
                                ? "waived"
                                : dregs_page_law_met_word(plan->met[k]));
    dregs_page_law_put_share_met(table, doubt, status, &met);
    dregs_table_end_row(table);
}

static void put_bands(dregs_report *report, const dregs_tally_law *law,
                      const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_plan_limits", DREGS_IN_JSON);
    const dregs_tally_plan *plan;
    unsigned i, k;

    dregs_page_count_column(table, "plan");
    dregs_page_word_column(table, "activity");
    dregs_page_number_column(table, "above", "kg");
    dregs_page_number_column(table, "up_to", "kg");
    dregs_page_number_column(table, "fugitive_share", "1");
    dregs_page_number_column(table, "waste_gas", "mg/m3");
    dregs_page_word_column(table, "waste_gas_as");
    dregs_page_word_column(table, "verdict");
    if (doubt)
        dregs_page_number_column(table, "share_met", "1");
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++)
        for (k = 0; k < 2; k++)
            if (!plan->activity_known || plan->activity == k)
                put_band(table, i + 1, plan,
                         actual ? dregs_tally_actual_record(actual, plan->number) : NULL, k, doubt);
}

/* ---- waste ---- */

static void put_wastes(dregs_report *report, const dregs_tally_law *law,
                       const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_wastes", DREGS_IN_JSON);
    const dregs_tally_waste *w;
    dregs_ensemble_estimate same = {NAN, NAN, NAN};
    unsigned i;

    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "stream");
    dregs_page_number_column(table, "mass", "kg");
    dregs_page_number_column(table, "reclaimed", "kg");
    dregs_page_number_column(table, "flash_point", "degC");
    dregs_page_word_column(table, "flash_point_of");
    dregs_page_number_column(table, "alcohol_by_volume", "1");
    dregs_page_number_column(table, "water_by_mass", "1");
    dregs_page_word_column(table, "ignitable");
    dregs_page_word_column(table, "listed");
    dregs_page_word_column(table, "hazardous");
    dregs_page_word_column(table, "codes");
    dregs_page_word_column(table, "toxic");
    dregs_page_word_column(table, "toxic_by");
    dregs_page_number_column(table, "toxic_concentration", "mg/L");
    dregs_page_number_column(table, "toxic_from", "mg/L");
    dregs_page_word_column(table, "own_phase");
    dregs_page_number_column(table, "own_phase_concentration", "mg/L");
    dregs_page_number_column(table, "solubility", "mg/L");
    if (doubt)
        dregs_page_number_column(table, "share_same", "1");
    for (i = 0; (w = dregs_tally_law_waste(law, i)) != NULL; i++) {
        dregs_table_word(table, dregs_page_law_stage(law, w));
        dregs_table_word(table, dregs_stream_name(w->stream));
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_WASTE, i, w->year, 1);
        dregs_table_number(table, w->back_year);
        dregs_table_number(table, isinf(w->flash) ? NAN : w->flash - 273.15);
        dregs_table_word(table, isnan(w->flash)   ? NULL
                                : isinf(w->flash) ? "stated: does not burn"
                                                  : w->flash_from);
        dregs_table_number(table, w->alcohol);
        dregs_table_number(table, w->water);
        dregs_table_word(table, is_word(w->ignitable));
        dregs_table_word(table, is_word(w->listed));
        dregs_table_word(table, is_word(w->hazardous));
        dregs_table_word(table, *w->codes ? w->codes : NULL);
        dregs_table_word(table, is_word(w->toxic));
        dregs_table_word(table, w->toxic_by);
        dregs_table_number(table, w->toxic_by ? w->toxic_concentration * 1e3 : NAN);
        dregs_table_number(table, w->toxic_by ? w->toxic_from * 1e3 : NAN);
        dregs_table_word(table, w->phase);
        dregs_table_number(table, w->phase ? w->phase_concentration * 1e3 : NAN);
        dregs_table_number(table, w->phase ? w->solubility * 1e3 : NAN);
        dregs_page_law_put_share_met(
            table, doubt, doubt ? dregs_tally_doubt_waste_same(doubt, i, &same) : 0, &same);
        dregs_table_end_row(table);
    }
}

static void put_waste_months(dregs_report *report, const dregs_tally_law *law)
{
    dregs_table *table = dregs_report_table(report, "law_waste_months", DREGS_IN_JSON);
    const dregs_tally_waste *w;
    unsigned i, p;

    dregs_page_word_column(table, "stage");
    dregs_page_word_column(table, "stream");
    dregs_page_word_column(table, "month");
    dregs_page_number_column(table, "mass", "kg");
    dregs_page_number_column(table, "reclaimed", "kg");
    for (i = 0; (w = dregs_tally_law_waste(law, i)) != NULL; i++)
        for (p = 0; p < DREGS_MONTHS; p++) {
            dregs_table_word(table, dregs_page_law_stage(law, w));
            dregs_table_word(table, dregs_stream_name(w->stream));
            dregs_table_word(table, dregs_page_tally_month(dregs_tally_law_year(law), p));
            dregs_table_number(table, w->month[p]);
            dregs_table_number(table, w->back[p]);
            dregs_table_end_row(table);
        }
}

/* ---- all of it ---- */

static void put_asked(dregs_report *report, const dregs_tally_law *law)
{
    dregs_table *table = dregs_report_table(report, "law_information_needed", DREGS_IN_JSON);
    const dregs_tally_asked *asked;
    unsigned i;

    dregs_page_word_column(table, "information");
    dregs_page_word_column(table, "key");
    dregs_page_word_column(table, "answers");
    for (i = 0; (asked = dregs_tally_law_asked(law, i)) != NULL; i++) {
        dregs_table_word(table, asked->text);
        dregs_table_word(table, asked->key);
        dregs_table_word(table, asked->answers);
        dregs_table_end_row(table);
    }
}

static void put_rules(dregs_report *report)
{
    dregs_table *table = dregs_report_table(report, "law_rules", DREGS_IN_JSON);
    unsigned i;

    dregs_page_word_column(table, "id");
    dregs_page_word_column(table, "jurisdiction");
    dregs_page_word_column(table, "rule");
    dregs_page_word_column(table, "citation");
    dregs_page_word_column(table, "date");
    dregs_page_word_column(table, "evidence");
    dregs_page_word_column(table, "looked_up");
    for (i = 0; i < DREGS_LAW_RULES; i++) {
        const dregs_law *rule = dregs_law_at((dregs_law_rule)i);
        dregs_table_word(table, rule->id);
        dregs_table_word(table, rule->jurisdiction);
        dregs_table_word(table, rule->rule);
        dregs_table_word(table, rule->citation);
        dregs_table_word(table, rule->status_date);
        dregs_table_word(table, rule->evidence);
        dregs_table_word(table, *rule->looked_up ? rule->looked_up : NULL);
        dregs_table_end_row(table);
    }
}

void dregs_page_law_data(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    const dregs_tally_potential *all = dregs_tally_law_potential(law);

    dregs_report_figure(
        report, "potential_to_emit_voc",
        dregs_page_tally_quantity(doubt, DREGS_TALLY_RANGE_TOTAL, 0, all->voc, 1, "kg"));
    dregs_report_figure(
        report, "potential_to_emit_air_pollutants",
        dregs_page_tally_quantity(doubt, DREGS_TALLY_RANGE_TOTAL, 1, all->pollutants, 1, "kg"));
    if (dregs_tally_law_solvent(law, 0)) {
        dregs_report_word(report, "major_source_by_voc", is_word(all->major_voc));
        dregs_report_word(report, "major_source_by_air_pollutants", is_word(all->major_pollutants));
    }
    dregs_report_word(report, "law_decided_by", dregs_regulations_deference());
    if (dregs_tally_law_waste(law, 0))
        dregs_report_word(report, "law_waste_assumed", dregs_page_law_assumed());
    put_solvents(report, law, doubt);
    put_plans(report, law, doubt);
    put_planned(report, law);
    put_streams(report, law, doubt);
    put_bands(report, law, actual, doubt);
    dregs_page_law_recorded_data(report, law, actual, doubt);
    put_mass_flows(report, law);
    dregs_page_law_air_data(report, law, actual, doubt);
    dregs_page_law_log_data(report, actual, doubt);
    put_wastes(report, law, doubt);
    put_waste_months(report, law);
    put_asked(report, law);
    put_rules(report);
}

/* ---- rows of the CSV table ---- */

static void row(dregs_table *table, const char *stream, const char *liquid, const char *period,
                double value, const char *unit)
{
    dregs_page_stream_row(table, stream, liquid, "", period, value, unit);
}

/* A figure of a plan, with what the draws say of it. */
static void row_of_plan(dregs_table *table, const dregs_tally_doubt *doubt,
                        dregs_tally_doubtful what, unsigned index, const char *stream,
                        const char *activity, double value, const char *unit)
{
    row(table, stream, activity, "year", value, unit);
    dregs_page_tally_end_rows(table, doubt, what, index, stream, activity, "year", 1, unit);
}

static void rows_of_plan(dregs_table *table, const dregs_tally_plan *plan,
                         const dregs_tally_doubt *doubt)
{
    const char *activity =
        plan->activity_known ? dregs_page_law_activity(plan->activity) : "surface cleaning";
    struct plan_stream stream[PLAN_STREAMS];
    char name[64];
    unsigned i;

    dregs_page_law_streams(&plan->plan, stream);
    for (i = 0; i < PLAN_STREAMS; i++) {
        (void)snprintf(name, sizeof name, "solvent plan %s", stream[i].name);
        row_of_plan(table, doubt, DREGS_TALLY_RANGE_PLAN,
                    plan->number * DREGS_TALLY_PLAN_STREAMS + i, name, activity, stream[i].mass,
                    "kg");
    }
    row_of_plan(table, doubt, DREGS_TALLY_RANGE_CONSUMPTION, plan->number,
                "solvent plan consumption", activity, plan->result.consumption, "kg");
    row(table, "solvent plan fugitive", activity, "year", plan->result.fugitive, "kg");
    row(table, "solvent plan total emission", activity, "year", plan->total, "kg");
    row_of_plan(table, doubt, DREGS_TALLY_RANGE_FUGITIVE, plan->number,
                "solvent plan fugitive share", activity, plan->result.share, "1");
}

static void rows_of_machine(dregs_table *table, const dregs_tally_law *law,
                            const dregs_tally_machine *m)
{
    dregs_site_machine kind = dregs_tally_law_site(law)->machine;
    const char *unit = kind == DREGS_SITE_NO_INTERFACE ? "kg" : "kg/m2";
    const char *solvent = m->solvent->name;
    unsigned p;

    for (p = 0; p < DREGS_MONTHS; p++) {
        row(table, "machine emission", solvent,
            dregs_page_tally_month(dregs_tally_law_year(law), p), m->month[p], unit);
        if (p >= 2)
            row(table, "machine emission over three months", solvent,
                dregs_page_tally_month(dregs_tally_law_year(law), p), m->rolling[p], unit);
    }
    row(table, "machine limit", solvent, "month", m->limit, unit);
    if (!isnan(m->row))
        row(table, "machine limit by table", solvent, "month", m->row, unit);
}

void dregs_page_law_rows(dregs_table *table, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt)
{
    const dregs_tally_solvent_law *s;
    const dregs_tally_waste_month *m;
    unsigned i;

    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++) {
        row(table, "potential to emit", s->name, "year", s->potential, "kg");
        if (isfinite(s->cold)) /* no open tank: no such loss */
            row(table, "cold cleaner loss in 8760 h", s->name, "year", s->cold, "kg");
    }
    for (i = 0; dregs_tally_law_plan(law, i); i++)
        rows_of_plan(table, dregs_tally_law_plan(law, i), doubt);
    for (i = 0; dregs_tally_law_machine(law, i); i++)
        rows_of_machine(table, law, dregs_tally_law_machine(law, i));
    if (dregs_tally_law_facility(law)) {
        const dregs_tally_facility *f = dregs_tally_law_facility(law);
        row(table, "facility emission", "", "year", f->counted, "kg");
        row(table, "facility limit", "", "year", f->limit, "kg");
        for (i = 0; i < DREGS_MONTHS && !isnan(f->rolling[0]); i++)
            row(table, "facility emission over twelve months", "",
                dregs_page_tally_month(dregs_tally_law_year(law), i), f->rolling[i], "kg");
    }
    for (i = 0; (m = dregs_tally_law_month(law, i)) != NULL; i++) {
        row(table, "hazardous waste", "", dregs_page_tally_month(dregs_tally_law_year(law), i),
            m->sure, "kg");
        row(table, "waste not decided", "", dregs_page_tally_month(dregs_tally_law_year(law), i),
            m->open, "kg");
    }
}
