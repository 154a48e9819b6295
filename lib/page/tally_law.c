/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law.c: what regulations ask of the line, in sentences. Each result stands with its
 * jurisdiction, citation, date and evidence.
 */
#include "page/tally_law.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void dregs_page_law_streams(const dregs_law_plan *plan, struct plan_stream stream[PLAN_STREAMS])
{
    const struct plan_stream streams[PLAN_STREAMS] = {
        {"I1", "bought and used", plan->i1},
        {"I2", "recovered and used again", plan->i2},
        {"O1", "in waste gases", plan->o1},
        {"O2", "lost in water", plan->o2},
        {"O3", "left on products", plan->o3},
        {"O4", "uncaptured, to air", plan->o4},
        {"O5", "destroyed or bound", plan->o5},
        {"O6", "in collected waste", plan->o6},
        {"O7", "sold", plan->o7},
        {"O8", "recovered for use elsewhere", plan->o8},
        {"O9", "released otherwise", plan->o9},
    };

    memcpy(stream, streams, sizeof streams);
}

const char *dregs_page_law_activity(dregs_law_activity activity)
{
    return activity == DREGS_LAW_CLEANING_59_5 ? "cleaning with compounds of article 59(5)"
                                               : "other surface cleaning";
}

const char *dregs_page_law_stage(const dregs_tally_law *law, const dregs_tally_waste *waste)
{
    return dregs_line_stage(dregs_tally_line(dregs_tally_law_around(law)), waste->stage)->name;
}

int dregs_page_law_of_site(const dregs_tally_law *law)
{
    return dregs_line_part(dregs_tally_line(dregs_tally_law_around(law)), 0) != NULL;
}

const char *dregs_page_law_assumed(void)
{
    return "soil and other solutes do not make a waste ignitable, and its composition is the mean "
           "of the year; it holds less than 0.5 % of solids, so that it is its own extract";
}

const char *dregs_page_law_looked_up(const dregs_law *law, char text[LAW_LOOKED_UP])
{
    (void)snprintf(text, LAW_LOOKED_UP, "%s; %s%s",
                   strcmp(law->evidence, "read") == 0 ? "read" : "from memory",
                   *law->looked_up                      ? "looked up "
                   : strcmp(law->evidence, "read") == 0 ? "when is not on record"
                                                        : "not looked up",
                   law->looked_up);
    return text;
}

void dregs_page_law_cite(dregs_report *report, dregs_law_rule rule)
{
    const dregs_law *law = dregs_law_at(rule);
    char looked_up[LAW_LOOKED_UP];

    dregs_report_text(report, 4, 6, "[%s: %s, %s (%s)]", law->jurisdiction, law->citation,
                      law->status_date, dregs_page_law_looked_up(law, looked_up));
}

const char *dregs_page_law_met(dregs_law_verdict met)
{
    return met == DREGS_LAW_YES ? "met" : met == DREGS_LAW_NO ? "MISSED" : LAW_UNKNOWN;
}

void dregs_page_law_judge(dregs_report *report, dregs_law_verdict met)
{
    dregs_report_verdict(report, met == DREGS_LAW_YES  ? DREGS_VERDICT_MET
                                 : met == DREGS_LAW_NO ? DREGS_VERDICT_MISSED
                                                       : DREGS_VERDICT_UNKNOWN);
}

/* ---- solvents ---- */

static void say_solvent(dregs_report *report, const dregs_tally_solvent_law *s)
{
    struct numbers n = {0};

    dregs_report_words(report, "%s: US %s%s; ", s->name,
                       s->voc ? s->voc->code : "VOC or exempt is not on record",
                       !s->voc                                 ? ""
                       : strcmp(s->voc->evidence, "read") == 0 ? " (read)"
                                                               : " (from memory)");
    dregs_report_words(report, "EU %s, %s%s; ",
                       s->eu_voc == 1   ? "VOC"
                       : s->eu_voc == 0 ? "no VOC by its vapour pressure"
                                        : "VOC or not cannot be judged",
                       isnan(s->vapour_pressure) ? "vapour pressure not on record"
                                                 : dregs_page_number(&n, s->vapour_pressure / 1e3),
                       isnan(s->vapour_pressure) ? "" : " kPa at 293.15 K");
    if (!s->pollutant)
        dregs_report_words(report, "hazardous air pollutant or not is not on record");
    else
        dregs_report_words(report, "%s (US)",
                           strcmp(s->pollutant->code, "HAP") == 0 ? "hazardous air pollutant"
                                                                  : "no hazardous air pollutant");
    dregs_report_end(report, 4, 6);
}

static void say_solvents(dregs_report *report, const dregs_tally_law *law)
{
    const dregs_tally_solvent_law *s;
    unsigned i;

    dregs_report_line(report, 2, "volatile organic compounds");
    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++)
        say_solvent(report, s);
    if (!i)
        dregs_report_line(report, 4, "none: the liquids are water");
    dregs_page_law_cite(report, DREGS_LAW_US_VOC);
    dregs_page_law_cite(report, DREGS_LAW_EU_VOC);
}

/* ---- solvent plans ---- */

static void say_band(dregs_report *report, const dregs_tally_plan *plan, unsigned k,
                     const dregs_tally_doubt *doubt)
{
    const dregs_law_band *band = &plan->band[k];
    struct numbers n = {0};

    dregs_report_words(report, "%s: ", dregs_page_law_activity((dregs_law_activity)k));
    if (k == DREGS_LAW_CLEANING_OTHER && plan->waived) {
        dregs_report_text(
            report, 6, 8,
            "its liquids hold %s %% organic solvent by mass, 30 %% or less: the limits "
            "are waived where the authority is shown that",
            dregs_page_number(&n, plan->content * 100));
        return;
    }
    if (isnan(band->fugitive) && plan->met[k] == DREGS_LAW_ASK) {
        dregs_report_text(report, 6, 8, "below the threshold of %s a year as far as is known: %s",
                          dregs_page_limit(report, &n, band->up_to, "kg"),
                          dregs_page_law_met(plan->met[k]));
        dregs_page_law_judge(report, plan->met[k]);
        return;
    }
    if (plan->met[k] == DREGS_LAW_EXCLUDED) {
        dregs_report_words(report, "below the threshold of %s a year, no limit applies",
                           dregs_page_limit(report, &n, band->up_to, "kg"));
        dregs_page_law_plan_sure(report, doubt, plan, (dregs_law_activity)k);
        dregs_report_end(report, 6, 8);
        return;
    }
    dregs_report_words(report, "above %s a year the limit is %s %%: %s",
                       dregs_page_limit(report, &n, band->above, "kg"),
                       dregs_page_number(&n, band->fugitive * 100),
                       dregs_page_law_met(plan->met[k]));
    dregs_page_law_plan_sure(report, doubt, plan, (dregs_law_activity)k);
    dregs_report_text(report, 6, 8, "; in waste gases %s mg/m3%s",
                      dregs_page_number(&n, band->waste_gas * MG),
                      band->waste_gas_carbon ? " as carbon" : " as compounds");
    dregs_page_law_judge(report, plan->met[k]);
}

static void say_bands(dregs_report *report, const dregs_tally_plan *plan,
                      const dregs_tally_doubt *doubt)
{
    unsigned i;

    if (!plan->activity_known && !plan->waived && plan->met[0] == DREGS_LAW_EXCLUDED &&
        plan->met[1] == DREGS_LAW_EXCLUDED) {
        dregs_report_words(report,
                           "below the thresholds of all surface cleaning: no limit applies");
        dregs_page_law_plan_sure(report, doubt, plan, DREGS_LAW_CLEANING_59_5); /* the stricter */
        dregs_report_end(report, 6, 8);
        return;
    }
    for (i = 0; i < 2; i++)
        if (!plan->activity_known || plan->activity == i)
            say_band(report, plan, i, doubt);
}

/* A mass of a plan: what is less than 1e-9 of its input is nothing, as in the tables of streams. */
static double mass_of(const dregs_tally_plan *plan, double kg)
{
    return fabs(kg) < 1e-9 * plan->result.input ? 0 : kg;
}

/* The streams that are something, and what was bought. */
static void say_streams(dregs_report *report, const dregs_tally_plan *plan,
                        const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_plan_streams_shown", DREGS_IN_TEXT);
    struct plan_stream stream[PLAN_STREAMS];
    char unit[TALLY_BETWEEN + 16], between[TALLY_BETWEEN];
    unsigned i;

    dregs_table_indent(table, 6);
    dregs_table_headless(table);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stream", "", "", 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "meaning", "", "", 30);
    dregs_table_gap(table, 1);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "mass", "", "", -12);
    dregs_table_measured(table, "kg");
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", "", "", 0);
    dregs_table_gap(table, 1);
    dregs_page_law_streams(&plan->plan, stream);
    for (i = 0; i < PLAN_STREAMS; i++) {
        if (mass_of(plan, stream[i].mass) == 0 && i != 0)
            continue;
        dregs_table_word(table, stream[i].name);
        dregs_table_word(table, stream[i].words);
        dregs_table_number(table, stream[i].mass);
        snprintf(unit, sizeof unit, "%s%s", dregs_report_unit(report, "kg"),
                 dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_PLAN,
                                          plan->number * DREGS_TALLY_PLAN_STREAMS + i,
                                          dregs_report_value(report, 1, "kg"), between));
        dregs_table_word(table, unit);
        dregs_table_end_row(table);
    }
}

#define TOLD 1e-3

int dregs_page_law_at_least(const dregs_tally_plan *plan)
{
    return plan->least || plan->fugitive_more > TOLD * plan->result.fugitive;
}

int dregs_page_law_at_most(const dregs_tally_plan *plan)
{
    return plan->bound || plan->fugitive_less > TOLD * plan->result.fugitive;
}

static void say_plan(dregs_report *report, const dregs_tally_law *law, const dregs_tally_plan *plan,
                     const dregs_tally_record *record, const dregs_tally_doubt *doubt)
{
    const dregs_tally_solvent_law *s;
    char used[TALLY_BETWEEN], fugitive[TALLY_BETWEEN];
    int least = dregs_page_law_at_least(plan), most = dregs_page_law_at_most(plan);
    struct numbers n = {0};
    unsigned i, shown = 0;

    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++)
        if (s->plan == (int)plan->number)
            dregs_report_words(report, "%s%s", shown++ ? ", " : "", s->name);
    dregs_report_end(report, 4, 6);
    if (record) {
        dregs_page_law_recorded(report, record, plan, doubt);
        say_bands(report, record->plan, NULL); /* the draws are of the model */
        return;
    }
    say_streams(report, plan, doubt);
    dregs_report_text(
        report, 6, 8, "consumption %s%s%s, input %s; fugitive %s%s, %s %% of the input%s",
        plan->least ? "at least " : "",
        dregs_page_amount(report, &n, plan->result.consumption, "kg"),
        dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_CONSUMPTION, plan->number,
                                 dregs_page_per(report, plan->result.consumption, "kg"), used),
        dregs_page_amount(report, &n, plan->result.input, "kg"),
        least && most ? "as far as is known "
        : most        ? "at most "
        : least       ? "at least "
                      : "",
        dregs_page_amount(report, &n, mass_of(plan, plan->result.fugitive), "kg"),
        dregs_page_number(&n, plan->result.share < 1e-9 ? 0 : plan->result.share * 100),
        dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_FUGITIVE, plan->number, 100, fugitive));
    dregs_report_text(report, 6, 8, "total emission, fugitive and in waste gases: %s%s",
                      least ? "at least " : "",
                      dregs_page_amount(report, &n, mass_of(plan, plan->total), "kg"));
    say_bands(report, plan, doubt);
}

static void say_mass_flow(dregs_report *report, const dregs_tally_law *law, dregs_law_hazard hazard)
{
    const dregs_tally_mass_flow *flow = dregs_tally_law_mass_flow(law, hazard);
    struct numbers n = {0};

    if (!flow)
        return;
    dregs_report_text(
        report, 4, 6,
        "%s: %s%s of vapour while loads pass, before capture; from %s waste gases hold "
        "at most %s mg/m3: %s",
        hazard == DREGS_LAW_CMR ? "compounds with H340, H350, H350i, H360D or H360F"
                                : "halogenated compounds with H341 or H351",
        flow->most > (1 + TOLD) * flow->rate ? "at least " : "",
        dregs_page_amount(report, &n, flow->rate * 3.6e6, "g/h"),
        dregs_page_limit(report, &n, flow->limit.from * 3.6e6, "g/h"),
        dregs_page_number(&n, flow->limit.waste_gas * MG),
        flow->reached == DREGS_LAW_YES  ? "reached; what waste gases hold is measured"
        : flow->reached == DREGS_LAW_NO ? "not reached"
                                        : LAW_UNKNOWN);
    dregs_page_law_cite(report, DREGS_LAW_EU_MASS_FLOW);
}

static void say_plans(dregs_report *report, const dregs_tally_law *law,
                      const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    const dregs_tally_plan *plan;
    unsigned i;

    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        if (!i)
            dregs_report_line(report, 2, "solvent plan of a year");
        say_plan(report, law, plan, actual ? dregs_tally_actual_record(actual, plan->number) : NULL,
                 doubt);
    }
    if (!i)
        return;
    dregs_page_law_cite(report, DREGS_LAW_EU_PLAN);
    dregs_page_law_cite(report, DREGS_LAW_EU_TOTAL);
    dregs_page_law_cite(report, DREGS_LAW_EU_BANDS);
    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++)
        if (plan->waived)
            dregs_page_law_cite(report, DREGS_LAW_EU_WAIVER);
    say_mass_flow(report, law, DREGS_LAW_CMR);
    say_mass_flow(report, law, DREGS_LAW_HALOGENATED_CMR2);
    dregs_report_text(report, 4, 6, "%s", dregs_law_at(DREGS_LAW_EU_AMENDED)->rule);
    dregs_page_law_cite(report, DREGS_LAW_EU_AMENDED);
}

/* ---- waste ---- */

static const char *waste_words(const dregs_tally_waste *w)
{
    if (w->hazardous == DREGS_LAW_YES)
        return "hazardous";
    if (w->ignitable == DREGS_LAW_ASK || w->listed == DREGS_LAW_ASK)
        return LAW_UNKNOWN;
    if (w->ignitable == DREGS_LAW_EXCLUDED)
        return "not ignitable: aqueous, less than 24 % alcohol by volume; not listed";
    return "neither ignitable nor listed";
}

/* Decided as far as it goes: its other characteristics are asked for. */
static int is_open(const dregs_tally_waste *w)
{
    return w->hazardous == DREGS_LAW_ASK && w->ignitable != DREGS_LAW_ASK &&
           w->listed != DREGS_LAW_ASK;
}

static void say_contents(dregs_report *report, const dregs_tally_waste *w)
{
    struct numbers n = {0};

    if (w->toxic_by)
        dregs_report_words(report, "; %s mg/L of %s, toxic from %s mg/L",
                           dregs_page_number(&n, w->toxic_concentration * 1e3), w->toxic_by,
                           dregs_page_number(&n, w->toxic_from * 1e3));
    if (w->phase)
        dregs_report_words(report,
                           "; %s mg/L of %s are beyond the %s mg/L that water takes up: a phase of "
                           "its own, which the mean composition says nothing of",
                           dregs_page_number(&n, w->phase_concentration * 1e3), w->phase,
                           dregs_page_number(&n, w->solubility * 1e3));
}

static void say_waste(dregs_report *report, const dregs_tally_law *law, unsigned index,
                      const dregs_tally_doubt *doubt)
{
    const dregs_tally_waste *w = dregs_tally_law_waste(law, index);
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(report, "%s %s: %s%s a year", w->leaves, dregs_page_law_stage(law, w),
                       dregs_page_amount(report, &n, w->year, "kg"),
                       dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_WASTE, index,
                                                dregs_page_per(report, w->year, "kg"), range));
    if (w->back_year > 0)
        dregs_report_words(report, ", of it %s reclaimed",
                           dregs_page_amount(report, &n, w->back_year, "kg"));
    if (isinf(w->flash))
        dregs_report_words(report, "; does not burn (stated)");
    else if (!isnan(w->flash))
        dregs_report_words(report, "; flash point %s (%s%s)",
                           dregs_page_amount(report, &n, w->flash - 273.15, "degC"),
                           strcmp(w->flash_from, "stated") == 0 ? "" : "of ", w->flash_from);
    say_contents(report, w);
    dregs_report_words(report, "; %s%s%s%s", waste_words(w), *w->codes ? ": " : "", w->codes,
                       is_open(w) ? "; hazardous or not " LAW_UNKNOWN : "");
    dregs_page_law_waste_sure(report, doubt, index);
    dregs_report_end(report, 4, 6);
}

/* "LQG", or "SQG to LQG" while something is open. */
static void put_category(dregs_table *table, const dregs_tally_waste_month *m)
{
    const char *least = dregs_law_generator_name(m->least),
               *most = dregs_law_generator_name(m->most);
    char text[32];

    (void)snprintf(text, sizeof text, "%s%s%s", least, m->least == m->most ? "" : " to ",
                   m->least == m->most ? "" : most);
    dregs_table_word(table, text);
    dregs_table_word(table, least);
    dregs_table_word(table, most);
}

static void put_months(dregs_table *table, const dregs_tally_law *law,
                       const dregs_tally_doubt *doubt)
{
    const dregs_tally_waste_month *m;
    unsigned p;

    dregs_table_indent(table, 4);
    dregs_table_column(table, DREGS_COLUMN_WORD, "month", "month", "", 10);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "hazardous", "hazardous", "kg", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "not_decided", "undecided", "kg", -12);
    dregs_table_column(table, DREGS_COLUMN_WORD, "category", "category", "", 0);
    dregs_table_gap(table, 2);
    dregs_table_column(table, DREGS_COLUMN_WORD, "least", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "most", NULL, "", 0);
    if (doubt) {
        dregs_table_column(table, DREGS_COLUMN_NUMBER, "share_same", "so in", "", 0);
        dregs_table_gap(table, 2);
    }
    for (p = 0; (m = dregs_tally_law_month(law, p)) != NULL; p++) {
        dregs_table_word(table, dregs_page_tally_month(dregs_tally_law_year(law), p));
        dregs_table_number(table, m->sure);
        if (isnan(m->open))
            dregs_table_shown(table, m->open, "unknown");
        else
            dregs_table_number(table, m->open);
        put_category(table, m);
        dregs_page_law_month_sure(table, doubt, p);
        dregs_table_end_row(table);
    }
}

static void say_months(dregs_report *report, const dregs_tally_law *law,
                       const dregs_tally_doubt *doubt)
{
    dregs_report_text(report, 2, 4,
                      "waste generator by month%s: very small (VSQG), small (SQG) or large (LQG) "
                      "quantity",
                      !isnan(dregs_tally_law_site(law)->other_waste) ? ""
                      : dregs_page_law_of_site(law)                  ? ", of these lines alone"
                                                                     : ", of this line alone");
    put_months(dregs_report_table(report, "law_generator_months", DREGS_IN_TEXT | DREGS_IN_JSON),
               law, doubt);
    dregs_page_law_cite(report, DREGS_LAW_US_GENERATOR);
}

static void say_wastes(dregs_report *report, const dregs_tally_law *law,
                       const dregs_tally_doubt *doubt)
{
    unsigned i;

    for (i = 0; dregs_tally_law_waste(law, i); i++) {
        if (!i)
            dregs_report_line(report, 2, "hazardous waste");
        say_waste(report, law, i, doubt);
    }
    if (!i)
        return;
    dregs_report_text(report, 4, 6, "assumed: %s", dregs_page_law_assumed());
    dregs_page_law_cite(report, DREGS_LAW_US_IGNITABLE);
    dregs_page_law_cite(report, DREGS_LAW_US_LISTED);
    dregs_page_law_cite(report, DREGS_LAW_US_TOXIC);
    say_months(report, law, doubt);
}

/* ---- bans ---- */

/* What regulations on record say of the use of the liquids: the cautions of that name, so that they
 * are those of every other page. */
static void say_bans(dregs_report *report, const dregs_tally_one *one)
{
    unsigned i, said = 0;

    for (i = 0; i < one->cautions; i++) {
        if (strcmp(one->caution[i].rule->id, "restriction") != 0)
            continue;
        if (!said++)
            dregs_report_line(report, 2, "bans and restrictions of use");
        dregs_report_text(report, 4, 6, "%s", one->caution[i].text);
    }
}

/* ---- all of it ---- */

/* While something is asked for, nothing counts as met. */
static void say_asked(dregs_report *report, const dregs_tally_law *law)
{
    const dregs_tally_asked *asked;
    unsigned i;

    for (i = 0; (asked = dregs_tally_law_asked(law, i)) != NULL; i++) {
        if (!i) {
            dregs_report_line(report, 2,
                              "cannot be judged yet: information needed, what changes most first");
            dregs_report_verdict(report, DREGS_VERDICT_UNKNOWN);
        }
        dregs_report_text(report, 4, 6, "%s%s%s", asked->text, asked->answers ? ". Answer: " : "",
                          asked->answers ? asked->answers : "");
    }
}

void dregs_page_law(const struct tally_page *page, const dregs_tally_law *law)
{
    const dregs_tally_actual *actual = dregs_tally_result_actual(page->answer);
    const dregs_tally_doubt *doubt = page->doubt;
    dregs_report *report = page->report;

    dregs_report_heading(report, "regulations");
    say_bans(report, page->one);
    say_solvents(report, law);
    say_plans(report, law, actual, doubt);
    dregs_page_law_air(report, law, actual, doubt);
    say_wastes(report, law, doubt);
    say_asked(report, law);
    dregs_report_text(report, 2, 4, "%s", dregs_regulations_deference());
    dregs_page_law_data(report, law, actual, doubt);
}
