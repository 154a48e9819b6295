/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.c: what a line file leaves to be done before its answers are believed. It gathers what the
 * cautions and the reader of line files say, and which questions the file leaves open.
 */
#include "answer/inside.h"
#include "base/pool.h"
#include "dregs/answer_check.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT = 400 };

struct answer {
    dregs_check_result shown; /* the first member: the user's pointer is ours */
    struct dregs_pool pool;
    dregs_check_finding *finding;
    unsigned findings, room;
    int failed;
};

static dregs_check_finding *add(struct answer *answer, dregs_finding_kind kind)
{
    dregs_check_finding *finding;

    if (answer->findings == answer->room) {
        unsigned room = answer->room ? 2 * answer->room : 64;
        dregs_check_finding *larger = realloc(answer->finding, room * sizeof *larger);
        if (!larger) {
            answer->failed = 1;
            return NULL;
        }
        answer->finding = larger;
        answer->room = room;
    }
    finding = &answer->finding[answer->findings++];
    memset(finding, 0, sizeof *finding);
    finding->kind = kind;
    answer->shown.count[kind]++;
    return finding;
}

/* ---- implausible ---- */

static void doubt_numbers(struct answer *answer, const dregs_line *line)
{
    unsigned i;

    if (dregs_answer_line_cautions(line, &answer->shown.caution, &answer->shown.cautions)) {
        answer->failed = 1;
        return;
    }
    for (i = 0; i < answer->shown.cautions; i++) {
        const dregs_caution *caution = &answer->shown.caution[i];
        dregs_check_finding *finding;
        if (!dregs_caution_rule_doubts(caution->rule) ||
            !(finding = add(answer, DREGS_FINDING_IMPLAUSIBLE)))
            continue;
        finding->what = caution->rule->id;
        finding->text = caution->text;
        finding->caution = caution;
    }
}

/* ---- missing ---- */

static void miss(struct answer *answer, const char *verbs, unsigned row, const char *format, ...)
    DREGS_FORMAT(4, 5);
static void miss(struct answer *answer, const char *verbs, unsigned row, const char *format, ...)
{
    dregs_check_finding *finding = add(answer, DREGS_FINDING_MISSING);
    char text[TEXT];
    va_list arguments;

    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (!finding)
        return;
    finding->what = verbs;
    finding->row = row;
    finding->text = dregs_pool_text(&answer->pool, text);
    answer->failed |= !finding->text;
}

static void miss_schedule(struct answer *answer, const dregs_line *line)
{
    static const char *const asked[] = {"loads per shift", "shifts per day", "days per year"};
    const char *name = dregs_line_schedule_name(line);
    char missing[TEXT] = "";
    size_t used = 0;
    unsigned i;

    if (!name) {
        miss(answer, "tally", 0,
             "no schedule: a year is not followed; state loads per shift, shifts per day and days "
             "per year");
        miss(answer, "predict, size", 0, "no schedule: nights and weekends do not count");
        return;
    }
    for (i = 0; i < sizeof asked / sizeof asked[0]; i++)
        if (!dregs_line_find(line, name, asked[i]))
            used += (size_t)snprintf(missing + used, sizeof missing - used, "%s%s",
                                     used ? ", " : "", asked[i]);
    if (used)
        miss(answer, "tally", 0, "%s does not state %s: a year is not followed", name, missing);
    if (!dregs_line_find(line, name, "days per week"))
        miss(answer, "predict, size", 0,
             "%s does not state days per week: nights and weekends do not count", name);
}

static int conducts(const dregs_line *line)
{
    const char *name;
    unsigned i;

    for (i = 0; (name = dregs_line_solute_name(line, i)) != NULL; i++)
        if (dregs_line_find(line, name, "conductivity") ||
            dregs_line_find(line, name, "electrolyte"))
            return 1;
    return dregs_line_scales(line) > 0;
}

static void miss_prices(struct answer *answer, const dregs_line *line)
{
    char names[TEXT] = "";
    size_t used = 0;
    const char *name;
    unsigned i;

    for (i = 0; (name = dregs_line_fluid_name(line, i)) != NULL && used < sizeof names - 80; i++)
        if (!dregs_line_find(line, name, "price"))
            used +=
                (size_t)snprintf(names + used, sizeof names - used, "%s%s", used ? ", " : "", name);
    if (used)
        miss(answer, "size, tally", 0, "no price of %s: what it costs is not told", names);
}

/* Of which stages does the film come about in such a way, and not by a measurement? They are told
 * of together. */
static void miss_films(struct answer *answer, const dregs_line *line, const char *property,
                       const char *way)
{
    enum { ROOM = 100 }; /* for one more name, and the count of those left out */
    char names[220] = "";
    unsigned i, row, first = 0, count = 0, left_out = 0;
    size_t used = 0;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const char *name = dregs_line_stage_name(line, i);
        row = dregs_stage_is(dregs_line_stage(line, i), DREGS_STAGE_WET)
                  ? dregs_line_find(line, name, property)
                  : 0;
        if (!row)
            continue;
        if (!count++)
            first = row;
        if (used < sizeof names - ROOM)
            used +=
                (size_t)snprintf(names + used, sizeof names - used, "%s%s", used ? ", " : "", name);
        else
            left_out++;
    }
    if (left_out)
        (void)snprintf(names + used, sizeof names - used, " and %u more", left_out);
    if (count)
        miss(answer, "all", first,
             "the drag-out of %s is that of %s, not measured: read the stage behind %s with its "
             "water shut (dregs reuse --measure-drag-out)",
             names, way, count > 1 ? "each" : "it");
}

/* Up to which soil does a wash do what its removal says? */
static void miss_most(struct answer *answer, const dregs_line *line, unsigned index)
{
    const char *stage = dregs_line_stage_name(line, index), *solute;
    char property[TEXT];
    unsigned s, row;

    if (dregs_line_find(line, stage, "most dissolved"))
        return;
    for (s = 0; (solute = dregs_line_solute_name(line, s)) != NULL; s++) {
        dregs_value soil;
        snprintf(property, sizeof property, "most %s", solute);
        row = dregs_line_find(line, solute, "on parts");
        if (!row || dregs_line_value(line, row, &soil) || !(soil.si > 0) ||
            dregs_line_find(line, stage, property))
            continue;
        miss(answer, "predict, size, reuse", 0,
             "%s does not state 'most %s', the content up to which its removal was measured: the "
             "life of the bath is not told",
             stage, solute);
    }
}

static void miss_of_stages(struct answer *answer, const dregs_line *line)
{
    unsigned i, dry = 0;

    miss_films(answer, line, "drag-out class", "a table of shapes");
    miss_films(answer, line, "withdrawal speed", "a law of films");
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (dregs_stage_is(stage, DREGS_STAGE_DRIES))
            dry = 1;
        if (dregs_stage_is(stage, DREGS_STAGE_CLEANS))
            miss_most(answer, line, i);
    }
    if (!dry)
        miss(answer, "dry", 0, "no dry stage: when a load is dry is not told");
}

static void miss_all(struct answer *answer, const dregs_line *line)
{
    if (!dregs_line_target_name(line))
        miss(answer, "predict, size", 0,
             "no target: a residue is told and not judged, and there is nothing to size for");
    if (!answer->shown.spreads)
        miss(answer, "all", 0, "no number has a spread: how sure an answer is, is not told");
    miss_of_stages(answer, line);
    miss_schedule(answer, line);
    miss_prices(answer, line);
    if (!conducts(line))
        miss(answer, "reuse", 0,
             "no solute states a conductivity or electrolyte, and there is no calibration: of "
             "readings only weighed and analysed ones can be used");
}

/* ---- rows ---- */

/* A number that is measured, as a count, a volume or what one decides is not. */
static int is_measured(const dregs_row *row)
{
    static const char *const measured[] = {
        "on parts", "area",        "hold-up",          "film",       "drag-out", "removal",
        "flow",     "evaporation", "withdrawal speed", "drain time", "clearing"};
    size_t i, length;

    for (i = 0; i < sizeof measured / sizeof measured[0]; i++) {
        length = strlen(measured[i]);
        if (strncmp(row->property, measured[i], length) == 0 &&
            (row->property[length] == '\0' || row->property[length] == ' ') &&
            strcmp(row->property, "drag-out class") != 0 && strcmp(row->property, "film law") != 0)
            return 1;
    }
    return 0;
}

static void add_rows(struct answer *answer, const dregs_line *line, dregs_finding_kind kind)
{
    unsigned row;

    for (row = 1; row <= dregs_line_rows(line); row++) {
        const dregs_row *cells = dregs_line_row(line, row);
        dregs_check_finding *finding;
        dregs_value value;
        if (dregs_line_value(line, row, &value) != DREGS_OK)
            continue;
        if (kind == DREGS_FINDING_MARKED ? dregs_line_is_marked(line, row)
                                         : is_measured(cells) && !(value.sd > 0) && value.si > 0) {
            finding = add(answer, kind);
            if (finding)
                finding->row = row;
        }
    }
}

static void count_numbers(dregs_check_result *shown)
{
    dregs_value value;
    unsigned row;

    for (row = 1; row <= dregs_line_rows(shown->line); row++)
        if (dregs_line_value(shown->line, row, &value) == DREGS_OK) {
            shown->numbers++;
            shown->spreads += value.sd > 0;
        }
    while (dregs_line_assumed(shown->line, shown->assumed))
        shown->assumed++;
}

dregs_status dregs_check_answer(const dregs_line *line, dregs_check_result **result)
{
    struct answer *answer;

    if (!line)
        return DREGS_DOMAIN;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->shown.line = line;
    count_numbers(&answer->shown);
    doubt_numbers(answer, line);
    miss_all(answer, line);
    add_rows(answer, line, DREGS_FINDING_MARKED);
    add_rows(answer, line, DREGS_FINDING_EXACT);
    if (answer->failed) {
        dregs_check_result_free(&answer->shown);
        return DREGS_NO_MEMORY;
    }
    *result = &answer->shown;
    return DREGS_OK;
}

void dregs_check_result_free(dregs_check_result *result)
{
    struct answer *answer = (struct answer *)result;

    if (!answer)
        return;
    dregs_pool_clear(&answer->pool);
    free((void *)answer->shown.caution);
    free(answer->finding);
    free(answer);
}

const dregs_check_finding *dregs_check_result_finding(const dregs_check_result *result,
                                                      unsigned index)
{
    const struct answer *answer = (const struct answer *)result;

    return index < answer->findings ? &answer->finding[index] : NULL;
}
