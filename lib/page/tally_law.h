/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_law.h: what the files on regulations share; not for others. */
#ifndef DREGS_PAGE_TALLY_LAW_H
#define DREGS_PAGE_TALLY_LAW_H

#include "page/tally.h"

/* A stream of a solvent plan, under its name of Directive 2010/75/EU, annex VII part 7. */
struct plan_stream {
    const char *name;  /* "I1" */
    const char *words; /* "bought and used" */
    double mass;       /* kg */
};

enum { PLAN_STREAMS = 11 };
void dregs_page_law_streams(const dregs_law_plan *plan, struct plan_stream stream[PLAN_STREAMS]);

/* What is known of a rule's figures and when: "from memory; not looked up". */
enum { LAW_LOOKED_UP = 64 };
const char *dregs_page_law_looked_up(const dregs_law *law, char text[LAW_LOOKED_UP]);

/* "other surface cleaning" */
const char *dregs_page_law_activity(dregs_law_activity activity);

/* The stage that a waste leaves. */
const char *dregs_page_law_stage(const dregs_tally_law *law, const dregs_tally_waste *waste);

/* What is assumed of wastes. */
const char *dregs_page_law_assumed(void);

/* tally_law_data.c: what only programs read. */
void dregs_page_law_data(dregs_report *report, const dregs_tally_law *law,
                         const dregs_tally_doubt *doubt);

#endif
