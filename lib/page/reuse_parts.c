/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_parts.c: what was measured on parts, beside what the line leaves on that load. */
#include "page/reuse.h"

static void say_part(const struct reusing *r, size_t index)
{
    const dregs_reading *reading = dregs_readings_at(r->readings, index);
    const dregs_heard_reading *heard = dregs_reuse_heard(r->result->reuse, index);
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char name[LOG_NAME];
    int unit = (int)reading->unit;

    dregs_report_words(
        r->report, "load %llu (log line %lu): %s %s%s", (unsigned long long)reading->at,
        reading->line, dregs_page_measured(r->line, reading->what, reading->which, name),
        dregs_page_beyond(reading),
        dregs_page_reading(&texts, r->readings, reading->what, unit, reading->value));
    if (reading->recovery > 0)
        dregs_report_words(r->report, " at a recovery of %s %%",
                           dregs_page_number(&n, reading->recovery * 100));
    if (dregs_page_reuse_learnt(r))
        dregs_report_words(
            r->report, "; the line leaves %s to be found",
            dregs_page_reading(&texts, r->readings, reading->what, unit, heard->expected));
    dregs_report_end(r->report, 2, 4);
}

void dregs_page_reuse_parts(const struct reusing *r)
{
    enum { MOST = 8 };
    size_t kept = dregs_readings_kept(r->readings), i, count = 0;

    for (i = 0; i < kept; i++)
        count += dregs_readings_at(r->readings, i)->what == DREGS_MEASURED_ON_PARTS;
    if (count == 0)
        return;
    dregs_report_heading(r->report, "residue on parts");
    for (i = 0; i < kept; i++) {
        if (dregs_readings_at(r->readings, i)->what != DREGS_MEASURED_ON_PARTS)
            continue;
        if (count-- <= MOST) /* the last ones */
            say_part(r, i);
    }
}
