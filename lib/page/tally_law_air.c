/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_law_air.c: what regulations of the United States ask of emissions into the air: solvent
 * cleaning machines and the potential to emit, in sentences and for programs.
 */
#include "page/tally_law.h"

#include <math.h>

/* ---- machines ---- */

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
            report, "%s%s %s%s in the worst three months", m->solvent->least ? "at least " : "",
            dregs_page_number(&n, m->worst), unit,
            dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_MACHINE, index, 1, range));
    if (isfinite(m->worst) && isfinite(m->limit)) {
        dregs_report_words(report, ", the limit is %s: %s", dregs_page_number(&n, m->limit),
                           dregs_page_law_met(m->met));
        if (!m->solvent->least || m->met != DREGS_LAW_ASK) /* no draw tells what is not stated */
            dregs_page_law_machine_sure(report, doubt, index);
    }
    if (isfinite(m->worst) && !isfinite(m->limit) && kind == DREGS_SITE_MACHINE_UNKNOWN)
        dregs_report_words(report, "; the limits are 150, 153 and 99 by the kind of machine");
    dregs_report_end(report, 4, 6);
    if (kind != DREGS_SITE_BATCH_COLD) /* which no limit applies to */
        dregs_page_law_judge(report, m->met);
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

/* ---- the potential to emit ---- */

static void say_sums(dregs_report *report, const dregs_tally_law *law,
                     const dregs_tally_doubt *doubt)
{
    const dregs_tally_potential *all = dregs_tally_law_potential(law);
    char voc[TALLY_BETWEEN], pollutants[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_text(report, 4, 6,
                      "total: VOC %s%s kg%s, hazardous air pollutants %s%s kg%s; what is not on "
                      "record counts as both",
                      all->voc_least ? "at least " : "",
                      isnan(all->voc) ? "unknown" : dregs_page_number(&n, all->voc),
                      dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_TOTAL, 0, 1, voc),
                      all->pollutants_least ? "at least " : "",
                      isnan(all->pollutants) ? "unknown" : dregs_page_number(&n, all->pollutants),
                      dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_TOTAL, 1, 1, pollutants));
}

static void say_emission(dregs_report *report, const dregs_tally_law *law, unsigned index,
                         const dregs_tally_doubt *doubt)
{
    const dregs_tally_solvent_law *s = dregs_tally_law_solvent(law, index);
    char potential[TALLY_BETWEEN], emitted[TALLY_BETWEEN];
    struct numbers n = {0};

    dregs_report_words(
        report, "%s: %s%s kg%s a year at the line's own rate", s->name, s->least ? "at least " : "",
        isnan(s->potential) ? "unknown" : dregs_page_number(&n, s->potential),
        dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_POTENTIAL, index, 1, potential));
    if (!isnan(s->emitted))
        dregs_report_words(
            report, " (%s kg%s as scheduled)", dregs_page_number(&n, s->emitted),
            dregs_page_tally_between(doubt, DREGS_TALLY_RANGE_EMITTED, index, 1, emitted));
    if (!isnan(s->cold))
        dregs_report_words(report,
                           "; %s kg by the rule for cold cleaners, %s m2 open, lids not "
                           "counted",
                           dregs_page_number(&n, s->cold), dregs_page_number(&n, s->open_area));
    dregs_report_end(report, 4, 6);
}

static void say_potential(dregs_report *report, const dregs_tally_law *law,
                          const dregs_tally_doubt *doubt)
{
    unsigned i;

    for (i = 0; dregs_tally_law_solvent(law, i); i++) {
        if (!i)
            dregs_report_line(report, 2, "potential to emit, 8760 h a year");
        say_emission(report, law, i, doubt);
    }
    if (!i)
        return;
    say_sums(report, law, doubt);
    dregs_page_law_cite(report, DREGS_LAW_US_POTENTIAL);
    dregs_page_law_cite(report, DREGS_LAW_US_COLD_LOSS);
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
    if (doubt)
        dregs_page_number_column(table, "share_met", "1");
    for (i = 0; (m = dregs_tally_law_machine(law, i)) != NULL; i++) {
        dregs_table_word(table, m->solvent->name);
        dregs_table_number(table, kind == DREGS_SITE_NO_INTERFACE ? NAN : m->area);
        dregs_page_tally_put(table, doubt, DREGS_TALLY_RANGE_MACHINE, i, m->worst, 1);
        dregs_table_number(table, m->limit);
        dregs_table_word(table,
                         kind == DREGS_SITE_BATCH_COLD ? NULL : dregs_page_law_met_word(m->met));
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
            dregs_table_word(table, dregs_page_month(p));
            dregs_table_number(table, m->month[p]);
            dregs_table_number(table, m->rolling[p]);
            dregs_table_end_row(table);
        }
}

/* ---- all of it ---- */

void dregs_page_law_air(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_doubt *doubt)
{
    say_machines(report, law, doubt);
    say_potential(report, law, doubt);
}

void dregs_page_law_air_data(dregs_report *report, const dregs_tally_law *law,
                             const dregs_tally_doubt *doubt)
{
    put_machines(report, law, doubt);
    put_machine_months(report, law);
}
