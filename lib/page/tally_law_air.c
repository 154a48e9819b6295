/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law_air.c: what regulations of the United States ask of emissions into the air: solvent
 * cleaning machines and the potential to emit, in sentences and for programs.
 */
#include "page/tally_law.h"

#include <math.h>

/* ---- machines ---- */

/* What is said of a limit that may be another's choice. */
static const char *machine_words(const dregs_tally_law *law, const dregs_tally_machine *m)
{
    if (m->judged == DREGS_LAW_EXCLUDED)
        return "not judged, 63.463 was elected";
    if (m->judged == m->met)
        return dregs_page_law_met(m->judged);
    return dregs_tally_law_site(law)->standard == DREGS_SITE_STANDARD_UNKNOWN
               ? "not met; it is an alternative to 63.463, by itself no violation"
               : LAW_UNKNOWN;
}

/* Of a month, in the unit that the limit is set in. */
static void say_machine_limit(dregs_report *report, const dregs_tally_law *law,
                              const dregs_tally_machine *m, const char *unit)
{
    struct numbers n = {0};

    if (isnan(m->row))
        dregs_report_words(report, ", the limit is %s%s: ", dregs_page_number(&n, m->limit),
                           dregs_page_beside(report, &n, m->limit, unit));
    else
        dregs_report_words(
            report,
            ", the limit is %s%s by table 6 and %s%s by equation 1, of which either "
            "may be used: ",
            dregs_page_number(&n, m->row), dregs_page_beside(report, &n, m->row, unit),
            dregs_page_number(&n, m->limit), dregs_page_beside(report, &n, m->limit, unit));
    dregs_report_words(report, "%s", machine_words(law, m));
}

static void say_machine(dregs_report *report, const dregs_tally_law *law, unsigned index,
                        const dregs_tally_doubt *doubt)
{
    const dregs_tally_machine *m = dregs_tally_law_machine(law, index);
    dregs_site_machine kind = dregs_tally_law_site(law)->machine;
    const char *unit = kind == DREGS_SITE_NO_INTERFACE ? "kg a month" : "kg/(m2 month)";
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(report, "%s: ", m->solvent->name);
    if (isnan(m->worst))
        dregs_report_words(report, "not known without its open area");
    else
        dregs_report_words(
            report, "%s%s %s%s%s in the worst three months",
            m->bound && m->least ? "as far as is known "
            : m->bound           ? "at most "
            : m->least           ? "at least "
                                 : "",
            dregs_page_number(&n, m->worst), unit,
            dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_MACHINE, index, 1, range),
            dregs_page_beside(report, &n, m->worst, unit));
    if (isfinite(m->worst) && isfinite(m->limit)) {
        say_machine_limit(report, law, m, unit);
        if (!m->least || m->met != DREGS_LAW_ASK) /* no draw tells what is not stated */
            dregs_page_law_machine_sure(report, doubt, index);
    }
    if (isfinite(m->worst) && !isfinite(m->limit) && kind == DREGS_SITE_MACHINE_UNKNOWN)
        dregs_report_words(report, "; the limits are 150, 153 and 99 by the kind of machine");
    dregs_report_end(report, 4, 6);
    if (m->judged != DREGS_LAW_EXCLUDED)
        dregs_page_law_judge(report, m->judged);
    if (m->carried > 0)
        dregs_report_text(report, 6, 8,
                          "of it %s a year that the parts carry into other liquids, and that go "
                          "with those: emitted, not removed as liquid",
                          dregs_page_amount(report, &n, m->carried, "kg"));
}

static void say_machines(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt)
{
    dregs_site_machine kind = dregs_tally_law_site(law)->machine;
    unsigned i;

    if (!dregs_tally_law_solvent(law, 0) || !dregs_tally_law_year(law))
        return;
    dregs_report_line(report, 2, "halogenated solvent cleaning machines");
    for (i = 0; dregs_tally_law_machine(law, i); i++)
        say_machine(report, law, i, doubt);
    if (!i)
        dregs_report_text(report, 4, 6,
                          "does not apply: none of the six solvents of the subpart "
                          "is in the line");
    else if (kind == DREGS_SITE_BATCH_COLD)
        dregs_report_text(report, 4, 6,
                          "the limits are not those of batch cold machines, which have rules of "
                          "work instead (40 CFR 63.462, from memory)");
    dregs_page_law_cite(report, kind == DREGS_SITE_NO_INTERFACE ? DREGS_LAW_US_NO_INTERFACE
                                                                : DREGS_LAW_US_MACHINE);
}

/* ---- the facility ---- */

/* The sums over twelve months until each; text has them where there are several. */
static void put_facility_months(dregs_report *report, const dregs_tally_law *law,
                                const dregs_tally_facility *f)
{
    dregs_table *table;
    unsigned p;

    table = dregs_report_table(report, "law_facility_months",
                               DREGS_IN_JSON | (isnan(f->rolling[0]) ? 0 : DREGS_IN_TEXT));
    dregs_table_indent(table, 4);
    dregs_table_column(table, DREGS_COLUMN_WORD, "last_month", "12 months until", "", 18);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "counted", "", "kg", -12);
    for (p = 0; p < DREGS_MONTHS; p++) {
        if (isnan(f->rolling[p]))
            continue;
        dregs_table_word(table, dregs_page_tally_month(dregs_tally_law_year(law), p));
        dregs_table_number(table, f->rolling[p]);
        dregs_table_end_row(table);
    }
}

/* The sum of the model. */
static void say_modelled(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt, int beside)
{
    const dregs_tally_facility *f = dregs_tally_law_facility(law);
    char range[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(report, "%s", beside ? "beside it the model: " : "");
    if (!isnan(f->rolling[0]))
        dregs_report_words(report, "the largest sum ends with %s: ",
                           dregs_page_tally_month(dregs_tally_law_year(law), f->last));
    dregs_report_words(report, "%s%s%s",
                       f->bound && f->least ? "as far as is known "
                       : f->bound           ? "at most "
                       : f->least           ? "at least "
                                            : "",
                       dregs_page_amount(report, &n, f->counted, "kg"),
                       dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_FACILITY, 0,
                                                dregs_page_per(report, f->counted, "kg"), range));
    if (beside) {
        dregs_report_end(report, 4, 6);
        return;
    }
    dregs_report_words(report, ", the limit is %s: ", dregs_page_limit(report, &n, f->limit, "kg"));
    dregs_report_words(report, "%s",
                       f->met == DREGS_LAW_EXCLUDED ? "does not apply to such machines"
                                                    : dregs_page_law_met(f->met));
    dregs_report_end(report, 4, 6);
    if (f->met != DREGS_LAW_EXCLUDED)
        dregs_page_law_judge(report, f->met);
}

static void say_facility(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    const dregs_tally_facility *f = dregs_tally_law_facility(law);
    int decided;

    if (!f)
        return;
    dregs_report_line(report, 2, "all solvent cleaning machines of the facility in 12 months");
    decided = dregs_page_law_log(report, actual, doubt);
    if (actual && !dregs_tally_actual_log(actual))
        dregs_report_text(report, 4, 6,
                          "the records name no liquid with a solvent of the rule: all months are "
                          "modelled");
    say_modelled(report, law, doubt, decided);
    put_facility_months(report, law, f);
    dregs_page_law_cite(report, DREGS_LAW_US_FACILITY);
}

/* ---- the potential to emit ---- */

static const char *potential_bound(int least, int most)
{
    return least && most ? "as far as is known " : most ? "at most " : least ? "at least " : "";
}

static const char *major_words(dregs_law_verdict major, int of_site)
{
    return major == DREGS_LAW_YES ? "reached"
           : major == DREGS_LAW_NO
               ? of_site ? "not reached by these lines alone" : "not reached by this line alone"
               : LAW_UNKNOWN;
}

static void say_sums(dregs_report *report, const dregs_tally_law *law,
                     const dregs_tally_doubt *doubt)
{
    const dregs_tally_potential *all = dregs_tally_law_potential(law);
    char voc[TALLY_BETWEEN], pollutants[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_text(
        report, 4, 6,
        "total: VOC %s%s%s, hazardous air pollutants %s%s%s; what is not on record counts as both",
        potential_bound(all->voc_least, all->voc_most),
        dregs_page_amount(report, &n, all->voc, "kg"),
        dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_TOTAL, 0,
                                 dregs_page_per(report, all->voc, "kg"), voc),
        potential_bound(all->pollutants_least, all->pollutants_most),
        dregs_page_amount(report, &n, all->pollutants, "kg"),
        dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_TOTAL, 1,
                                 dregs_page_per(report, all->pollutants, "kg"), pollutants));
    dregs_report_text(
        report, 4, 6,
        "a major source: from %s kg (25 short tons) of all air pollutants %s; from %s "
        "kg (100 short tons) of VOC %s",
        dregs_page_number(&n, DREGS_LAW_MAJOR_ALL_POLLUTANTS * DREGS_LAW_SHORT_TON),
        major_words(all->major_pollutants, dregs_page_law_of_site(law)),
        dregs_page_number(&n, DREGS_LAW_MAJOR_CRITERIA_POLLUTANT * DREGS_LAW_SHORT_TON),
        major_words(all->major_voc, dregs_page_law_of_site(law)));
}

/* By what rule, with the numbers of it. */
static void say_rule(dregs_report *report, const dregs_tally_law *law,
                     const dregs_tally_solvent_law *s)
{
    struct numbers n = {0};

    if (s->as_emitted)
        dregs_report_words(report, ", what is emitted as scheduled, more than %s",
                           s->by_machine ? "by the rule for solvent cleaning machines"
                                         : "at the line's own rate");
    else if (!s->by_machine)
        dregs_report_words(report, " at the line's own rate");
    else if (isnan(s->counted_area))
        dregs_report_words(report, " by the rule for solvent cleaning machines");
    else
        dregs_report_words(report, " by the rule for solvent cleaning machines, %s h and %s",
                           dregs_page_number(&n, dregs_tally_law_potential(law)->time / 3600.0),
                           dregs_page_amount(report, &n, s->counted_area, "m2"));
}

static void say_emission(dregs_report *report, const dregs_tally_law *law, unsigned index,
                         const dregs_tally_doubt *doubt)
{
    const dregs_tally_solvent_law *s = dregs_tally_law_solvent(law, index);
    char potential[TALLY_BETWEEN], emitted[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(report, "%s: %s%s%s a year", s->name,
                       potential_bound(s->potential_least, s->potential_most),
                       dregs_page_amount(report, &n, s->potential, "kg"),
                       dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_POTENTIAL, index,
                                                dregs_page_per(report, s->potential, "kg"),
                                                potential));
    say_rule(report, law, s);
    if (!isnan(s->emitted) && !s->as_emitted)
        dregs_report_words(
            report, " (%s%s%s as scheduled)", potential_bound(s->more > 0, s->less > 0),
            dregs_page_amount(report, &n, s->emitted, "kg"),
            dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_EMITTED, index,
                                     dregs_page_per(report, s->emitted, "kg"), emitted));
    if (!isnan(s->cold))
        dregs_report_words(report, "; %s by the rule for cold cleaners, %s open, lids not counted",
                           dregs_page_amount(report, &n, s->cold, "kg"),
                           dregs_page_amount(report, &n, s->open_area, "m2"));
    if (s->major != DREGS_LAW_EXCLUDED)
        dregs_report_words(
            report, "; a major source from %s kg (10 short tons) of one air pollutant: %s",
            dregs_page_number(&n, DREGS_LAW_MAJOR_ONE_POLLUTANT * DREGS_LAW_SHORT_TON),
            major_words(s->major, dregs_page_law_of_site(law)));
    dregs_report_end(report, 4, 6);
}

static void say_potential(dregs_report *report, const dregs_tally_law *law,
                          const dregs_tally_doubt *doubt)
{
    const dregs_tally_solvent_law *s;
    unsigned i, machines = 0;
    struct numbers n = {0};

    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++) {
        if (!i)
            dregs_report_line(report, 2, "potential to emit, %s h a year",
                              dregs_page_number(&n, dregs_tally_law_potential(law)->time / 3600.0));
        say_emission(report, law, i, doubt);
        machines += s->by_machine != 0;
    }
    if (!i)
        return;
    say_sums(report, law, doubt);
    if (machines)
        dregs_page_law_cite(report, DREGS_LAW_US_MACHINE_POTENTIAL);
    if (machines < i) {
        dregs_page_law_cite(report, DREGS_LAW_US_POTENTIAL);
        dregs_page_law_cite(report, DREGS_LAW_US_COLD_LOSS);
    }
    dregs_page_law_cite(report, DREGS_LAW_US_MAJOR);
}

/* ---- for programs ---- */

static void put_machines(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt)
{
    dregs_site_machine kind = dregs_tally_law_site(law)->machine;
    const char *unit = kind == DREGS_SITE_NO_INTERFACE ? "kg" : "kg/m2";
    dregs_table *table = dregs_report_table(report, "law_machines", DREGS_IN_JSON);
    const dregs_tally_machine *m;
    dregs_ensemble_estimate met = {NAN, NAN, NAN};
    unsigned i;

    dregs_page_word_column(table, "solvent");
    dregs_page_number_column(table, "area", "m2");
    dregs_page_number_column(table, "worst_three_months", unit);
    dregs_page_number_column(table, "limit", unit);
    dregs_page_word_column(table, "verdict");
    dregs_page_number_column(table, "limit_by_table", unit);
    dregs_page_flag_column(table, "limit_met");
    dregs_page_flag_column(table, "upper_bound");
    dregs_page_number_column(table, "carried_out", "kg");
    if (doubt)
        dregs_page_number_column(table, "share_met", "1");
    for (i = 0; (m = dregs_tally_law_machine(law, i)) != NULL; i++) {
        dregs_table_word(table, m->solvent->name);
        dregs_table_number(table, kind == DREGS_SITE_NO_INTERFACE ? NAN : m->area);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_MACHINE, i, m->worst, 1);
        dregs_table_number(table, m->limit);
        dregs_table_word(
            table, m->judged == DREGS_LAW_EXCLUDED ? NULL : dregs_page_law_met_word(m->judged));
        dregs_table_number(table, m->row);
        if (m->met == DREGS_LAW_ASK)
            dregs_table_word(table, NULL);
        else
            dregs_table_flag(table, m->met == DREGS_LAW_YES);
        dregs_table_flag(table, m->bound);
        dregs_table_number(table, m->carried);
        dregs_page_law_put_share_met(
            table, doubt, doubt ? dregs_tally_doubt_machine_met(doubt, i, &met) : 0, &met);
        dregs_table_end_row(table);
    }
}

static void put_machine_months(dregs_report *report, const dregs_tally_law *law)
{
    const char *unit =
        dregs_tally_law_site(law)->machine == DREGS_SITE_NO_INTERFACE ? "kg" : "kg/m2";
    dregs_table *table = dregs_report_table(report, "law_machine_months", DREGS_IN_JSON);
    const dregs_tally_machine *m;
    unsigned i, p;

    dregs_page_word_column(table, "solvent");
    dregs_page_word_column(table, "month");
    dregs_page_number_column(table, "emission", unit);
    dregs_page_number_column(table, "three_months", unit);
    for (i = 0; (m = dregs_tally_law_machine(law, i)) != NULL; i++)
        for (p = 0; p < DREGS_MONTHS; p++) {
            dregs_table_word(table, m->solvent->name);
            dregs_table_word(table, dregs_page_tally_month(dregs_tally_law_year(law), p));
            dregs_table_number(table, m->month[p]);
            dregs_table_number(table, m->rolling[p]);
            dregs_table_end_row(table);
        }
}

/* The sums of the model, and the verdict, which goes by records where they decide. */
static void put_facility(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    dregs_table *table = dregs_report_table(report, "law_facility", DREGS_IN_JSON);
    const dregs_tally_facility *f = dregs_tally_law_facility(law);
    const dregs_tally_log *log = actual ? dregs_tally_actual_log(actual) : NULL;
    int decided = log && log->sums;
    dregs_law_verdict met;

    dregs_page_number_column(table, "counted", "kg");
    dregs_page_number_column(table, "limit", "kg");
    dregs_page_flag_column(table, "upper_bound");
    dregs_page_flag_column(table, "lower_bound");
    dregs_page_word_column(table, "verdict");
    dregs_page_word_column(table, "verdict_by");
    if (!f)
        return;
    met = decided ? log->met : f->met;
    dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_FACILITY, 0, f->counted, 1);
    dregs_table_number(table, f->limit);
    dregs_table_flag(table, f->bound);
    dregs_table_flag(table, f->least);
    dregs_table_word(table, met == DREGS_LAW_EXCLUDED ? NULL : dregs_page_law_met_word(met));
    dregs_table_word(table, decided ? "records" : "model");
    dregs_table_end_row(table);
}

/* ---- all of it ---- */

void dregs_page_law_air(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    say_machines(report, law, doubt);
    say_facility(report, law, actual, doubt);
    say_potential(report, law, doubt);
}

void dregs_page_law_air_data(dregs_report *report, const dregs_tally_law *law,
                             const dregs_tally_actual *actual, const dregs_tally_doubt *doubt)
{
    put_machines(report, law, doubt);
    put_machine_months(report, law);
    put_facility(report, law, actual, doubt);
}
