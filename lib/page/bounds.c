/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* bounds.c: words of limits and targets of concentration. */
#include "page/bounds.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdio.h>

const char *dregs_page_bound_of(const dregs_line *line, const dregs_bound *bound,
                                char into[BOUND_WORDS])
{
    const char *stage = dregs_line_stage(line, bound->stage)->name;
    const char *what = bound->kind == DREGS_BOUND_RATIO          ? "rinse ratio"
                       : bound->kind == DREGS_BOUND_CONDUCTIVITY ? "conductivity at 25 degC"
                       : bound->kind == DREGS_BOUND_NON_VOLATILE ? "non-volatile residue"
                       : bound->solute < 0                       ? "all solutes"
                                           : dregs_page_solute(line, bound->solute);

    if (bound->kind == DREGS_BOUND_CAPACITY) {
        snprintf(into, BOUND_WORDS, "what the clearing of %s takes", stage);
        return into;
    }
    snprintf(into, BOUND_WORDS, bound->in_film ? "%s in the film behind %s" : "%s in %s", what,
             stage);
    return into;
}

const char *dregs_page_bound_value(const dregs_line *line, const dregs_bound *bound, double si,
                                   char into[BOUND_WORDS])
{
    const dregs_row *row = dregs_line_row(line, bound->limit.row);
    const char *text = row                                       ? row->unit
                       : bound->kind == DREGS_BOUND_CONDUCTIVITY ? "uS/cm"
                       : bound->kind == DREGS_BOUND_RATIO        ? ""
                                                                 : "g/L";
    struct numbers n = {0};
    dregs_unit unit;

    if (dregs_unit_read(text, &unit, NULL))
        unit = (dregs_unit){.scale = 1};
    if (bound->kind == DREGS_BOUND_RATIO)
        text = "";
    snprintf(into, BOUND_WORDS, "%s%s%s",
             isinf(si) ? "no end" : dregs_page_number(&n, dregs_unit_from_si(unit, si)),
             *text ? " " : "", text);
    return into;
}

const char *dregs_page_bound_kind(const dregs_bound *bound)
{
    static const char *const names[DREGS_BOUND_KINDS] = {
        [DREGS_BOUND_MOST] = "most",
        [DREGS_BOUND_LEAST] = "least",
        [DREGS_BOUND_DISSOLVED] = "most dissolved",
        [DREGS_BOUND_SOLUBILITY] = "solubility",
        [DREGS_BOUND_CONCENTRATION] = "target concentration",
        [DREGS_BOUND_NON_VOLATILE] = "target non-volatile residue",
        [DREGS_BOUND_RATIO] = "target rinse ratio",
        [DREGS_BOUND_CONDUCTIVITY] = "target conductivity",
        [DREGS_BOUND_CLEANER] = "share of the fresh fill",
        [DREGS_BOUND_SOIL] = "multiple of what the file reaches",
        [DREGS_BOUND_CAPACITY] = "capacity",
    };

    return names[bound->kind];
}

const char *dregs_page_bound_time(const dregs_line *line, uint64_t load, char into[BOUND_WORDS])
{
    double time = (double)load * dregs_line_load(line)->interval.si;
    struct numbers n = {0};

    if (time < 2 * 3600)
        snprintf(into, BOUND_WORDS, "%s min", dregs_page_number(&n, time / 60));
    else
        snprintf(into, BOUND_WORDS, "%s h", dregs_page_number(&n, time / 3600));
    return into;
}

void dregs_page_bound_crossed(dregs_report *report, const dregs_line *line,
                              const dregs_bound *bound)
{
    int falls = bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_CLEANER;
    char of[BOUND_WORDS], limit[BOUND_WORDS], time[BOUND_WORDS];
    const char *its = bound->kind == DREGS_BOUND_SOLUBILITY ? "its solubility of "
                      : dregs_bound_is_limit(bound)         ? "its limit of "
                                                            : "the target of ";

    if (bound->kind == DREGS_BOUND_CAPACITY) {
        dregs_report_words(report,
                           "the clearing of %s has taken its capacity of %s behind load %llu (%s); "
                           "change it by then",
                           dregs_line_stage(line, bound->stage)->name,
                           dregs_page_bound_value(line, bound, bound->limit.si, limit),
                           (unsigned long long)bound->crossed - 1,
                           dregs_page_bound_time(line, bound->crossed - 1, time));
        return;
    }
    dregs_report_words(report, "%s %s %s%s at load %llu (%s)", dregs_page_bound_of(line, bound, of),
                       falls ? "falls below" : "passes", its,
                       dregs_page_bound_value(line, bound, bound->limit.si, limit),
                       (unsigned long long)bound->crossed,
                       dregs_page_bound_time(line, bound->crossed, time));
}
