/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_law.h: what the files on regulations share; not for others. */
#ifndef DREGS_PAGE_TALLY_LAW_H
#define DREGS_PAGE_TALLY_LAW_H

#include "page/tally.h"

#define LAW_UNKNOWN "cannot be judged yet, see information needed"

/* A stream of a solvent plan, under its name of Directive 2010/75/EU, annex VII part 7. */
struct plan_stream {
    const char *name;  /* "I1" */
    const char *words; /* "bought and used" */
    double mass;       /* kg */
};

enum { PLAN_STREAMS = 11 };
void dregs_page_law_streams(const dregs_law_plan *plan, struct plan_stream stream[PLAN_STREAMS]);

/* Is what is fugitive by a plan the least, the most that it can be? Less than 0.1 % is not told. */
int dregs_page_law_at_least(const dregs_tally_plan *plan);
int dregs_page_law_at_most(const dregs_tally_plan *plan);

/* What is known of a rule's figures and when: "from memory; not looked up". */
enum { LAW_LOOKED_UP = 64 };
const char *dregs_page_law_looked_up(const dregs_law *law, char text[LAW_LOOKED_UP]);

/* "[EU: Directive ..., 2010-11-24 (read; looked up 2026-11-30)]" */
void dregs_page_law_cite(dregs_report *report, dregs_law_rule rule);

/* "met", "MISSED", or LAW_UNKNOWN; the same for programs: "met", "missed", "unknown", "below the
 * threshold". */
const char *dregs_page_law_met(dregs_law_verdict met);
const char *dregs_page_law_met_word(dregs_law_verdict met);

/* The sentence that ended last is the verdict on a limit. */
void dregs_page_law_judge(dregs_report *report, dregs_law_verdict met);

/* In which share of draws a limit is met; nothing without draws. */
void dregs_page_law_put_share_met(dregs_table *table, const dregs_tally_doubt *doubt,
                                  dregs_status status, const dregs_ensemble_estimate *met);

/* "other surface cleaning" */
const char *dregs_page_law_activity(dregs_law_activity activity);

/* The stage that a waste leaves. */
const char *dregs_page_law_stage(const dregs_tally_law *law, const dregs_tally_waste *waste);

/* 1: it is of the lines of a site. */
int dregs_page_law_of_site(const dregs_tally_law *law);

/* What is assumed of wastes. */
const char *dregs_page_law_assumed(void);

/* tally_law_air.c */
void dregs_page_law_air(dregs_report *report, const dregs_tally_law *law,
                        const dregs_tally_actual *actual, const dregs_tally_doubt *doubt);
void dregs_page_law_air_data(dregs_report *report, const dregs_tally_law *law,
                             const dregs_tally_actual *actual, const dregs_tally_doubt *doubt);

/* tally_log.c: the facility by records, up to the verdict: 1 where they decide; for programs,
 * nothing without such records. `actual` may be NULL. */
int dregs_page_law_log(dregs_report *report, const dregs_tally_actual *actual,
                       const dregs_tally_doubt *doubt);
void dregs_page_law_log_working(dregs_report *report, const dregs_tally_actual *actual);
void dregs_page_law_log_data(dregs_report *report, const dregs_tally_actual *actual,
                             const dregs_tally_doubt *doubt);

/* tally_law_data.c: what only programs read. `actual` may be NULL. */
void dregs_page_law_data(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_actual *actual, const dregs_tally_doubt *doubt);

/* tally_recorded.c: a plan from records and that of the model beside it, up to the limits; for
 * programs, nothing without purchases. */
void dregs_page_law_recorded(dregs_report *report, const dregs_tally_record *record,
                             const dregs_tally_plan *model, const dregs_tally_doubt *doubt);
void dregs_page_law_recorded_data(dregs_report *report, const dregs_tally_law *law,
                                  const dregs_tally_actual *actual, const dregs_tally_doubt *doubt);

#endif
