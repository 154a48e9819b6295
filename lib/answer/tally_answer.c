/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_answer.c: from lines to all that is told of their tallies. */
#include "answer/inside.h"
#include "answer/tally.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/residue.h"
#include "line/line.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void dregs_tally_question_init_of_size(dregs_tally_question *question, size_t size)
{
    dregs_tally_question made = {.size = size, .span = {DREGS_SPAN_YEAR, 0, 0}};

    dregs_give(question, size, &made, sizeof made);
}

static dregs_status check_span(const dregs_tally_question *question, dregs_faults *faults)
{
    const dregs_tally_dates *dates = question->dates;
    uint64_t loads = question->span.loads;

    if ((unsigned)question->span.span > DREGS_SPAN_AROUND)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "span.span: is no span of time");
    if (question->span.span == DREGS_SPAN_LOADS && (!loads || loads > DREGS_LOADS_MOST))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0,
                               "span.loads: %" PRIu64 " loads are not 1 to %" PRIu64, loads,
                               DREGS_LOADS_MOST);
    if (!dates || (!dates->year && dates->table)) /* the table's year */
        return DREGS_OK;
    if (dates->year < DREGS_TALLY_YEAR_LEAST || dates->year > DREGS_TALLY_YEAR_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "dates.year: %d is not %d to %d",
                               dates->year, DREGS_TALLY_YEAR_LEAST, DREGS_TALLY_YEAR_MOST);
    if (dates->month < 1 || dates->month > DREGS_MONTHS)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "dates.month: %u is not 1 to %d",
                               dates->month, DREGS_MONTHS);
    return DREGS_OK;
}

/* What is asked, into the answer's own. */
static dregs_status take_question(dregs_tally_result *made, const dregs_tally_question *question,
                                  dregs_faults *faults)
{
    dregs_tally_question *own = &made->question;

    dregs_tally_question_init(own);
    dregs_site_init(&made->site);
    dregs_tally_head_init(&made->head);
    if (!dregs_take(own, sizeof *own, question) ||
        (own->site && !dregs_take(&made->site, sizeof made->site, own->site)) ||
        (own->head && !dregs_take(&made->head, sizeof made->head, own->head)))
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "the question or its site was not set up");
    own->site = &made->site;
    if (own->dates) {
        made->dates = *own->dates;
        own->dates = &made->dates;
    }
    if (own->lines < 1 || own->lines > DREGS_TALLY_LINES_MOST)
        return dregs_fault_add(faults, DREGS_DOMAIN, 0, "lines: %u are not 1 to %d", own->lines,
                               DREGS_TALLY_LINES_MOST);
    return check_span(own, faults);
}

/* ---- making ---- */

/* What the worst load leaves, kg/m2. */
static dregs_status worst_of(const dregs_map *map, double *residue)
{
    dregs_worst worst = {0};
    dregs_status status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);

    if (!status)
        *residue = worst.residue;
    return status;
}

dregs_status dregs_answer_tally_compute(const dregs_line *line,
                                        const dregs_tally_question *question, dregs_tally **tally,
                                        double *residue, char *message)
{
    dregs_map *map = NULL;
    dregs_status status =
        dregs_tally_new_by_dates(line, &question->span, question->dates, tally, message);

    *residue = NAN;
    if (status || dregs_line_part(line, 0)) /* no load passes a joined line */
        return status;
    status = dregs_map_new(line, &map);
    if (!status)
        status = worst_of(map, residue);
    dregs_map_free(map);
    return status;
}

dregs_status dregs_answer_tally_year_of(const dregs_tally_result *answer, const dregs_tally **year,
                                        dregs_tally **own, char message[DREGS_TALLY_MESSAGE])
{
    const struct tally_line *line = &answer->line[0];
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, answer->question.span.running};
    dregs_status status = DREGS_OK;

    if (dregs_tally_periods(line->tally) == DREGS_MONTHS)
        *year = line->tally;
    else if (!(status = dregs_tally_new_by_dates(line->one.line, &request, answer->question.dates,
                                                 own, message)))
        *year = *own;
    return status;
}

/* How long the baths hold; what is tallied beyond that would be another line. */
static dregs_status bound(struct tally_line *line)
{
    dregs_map *map = NULL;
    dregs_status status;

    if (dregs_line_part(line->one.line, 0)) /* no load passes a joined line */
        return DREGS_OK;
    status = dregs_map_new(line->one.line, &map);
    if (!status)
        status = dregs_bounds_new(map, DREGS_NO_END, 1, &line->bounds);
    line->one.bounds = line->bounds;
    dregs_map_free(map);
    return status;
}

/* A line of a site by itself. */
static dregs_status fill_member(const dregs_tally *tally, dregs_tally_one *one)
{
    dregs_map *map = NULL;
    dregs_bounds *bounds = NULL;
    dregs_status status;

    one->line = dregs_tally_line(tally);
    one->tally = tally;
    one->residue = NAN;
    status = dregs_map_new(one->line, &map);
    if (!status)
        status = worst_of(map, &one->residue);
    if (!status)
        status = dregs_bounds_new(map, DREGS_NO_END, 1, &bounds);
    if (!status)
        one->bounds = bounds;
    dregs_map_free(map);
    return status;
}

static dregs_status fill_members(struct tally_line *line)
{
    dregs_status status = DREGS_OK;
    unsigned i;

    while (dregs_tally_member(line->tally, line->members))
        line->members++;
    if (!line->members)
        return DREGS_OK;
    line->member = calloc(line->members, sizeof *line->member);
    if (!line->member) {
        line->members = 0;
        return DREGS_NO_MEMORY;
    }
    for (i = 0; i < line->members && !status; i++)
        status = fill_member(dregs_tally_member(line->tally, i), &line->member[i]);
    return status;
}

/* 1 where the line states a price. */
static int take_currency(const dregs_line *line, dregs_tally_one *one)
{
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, i);
        const dregs_row *row =
            dregs_line_row(line, fluid->price.row ? fluid->price.row : fluid->disposal.row);
        if (!row)
            continue;
        snprintf(one->currency, sizeof one->currency, "%.*s", (int)strcspn(row->unit, "/"),
                 row->unit);
        return 1;
    }
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_row *row = dregs_line_row(line, dregs_line_stage(line, i)->change_price.row);
        if (!row)
            continue;
        snprintf(one->currency, sizeof one->currency, "%s", row->unit);
        return 1;
    }
    return 0;
}

/* The lines of a site have one. */
static void find_currency(dregs_tally_one *one)
{
    const dregs_line *part;
    unsigned i;

    snprintf(one->currency, sizeof one->currency, "currency");
    if (!dregs_line_part(one->line, 0))
        (void)take_currency(one->line, one);
    for (i = 0; (part = dregs_line_part(one->line, i)) != NULL; i++)
        if (take_currency(part, one))
            return;
}

static dregs_status fill_line(dregs_tally_result *answer, unsigned index, dregs_faults *faults)
{
    struct tally_line *line = &answer->line[index];
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_status status;
    unsigned i;

    line->one.line = answer->question.line[index];
    status = dregs_answer_tally_compute(line->one.line, &answer->question, &line->tally,
                                        &line->one.residue, message);
    if (status)
        return dregs_fault_add(faults, status, 0, "%s: %s",
                               dregs_utf8_end(dregs_line_name(line->one.line), 180),
                               *message ? message : dregs_status_text(status));
    status = bound(line);
    if (!status)
        status = fill_members(line);
    if (status)
        return status;
    status = dregs_answer_line_cautions(line->one.line, &line->one.caution, &line->one.cautions);
    if (status)
        return status;
    line->one.tally = line->tally;
    find_currency(&line->one);
    for (i = 0; i < line->members; i++)
        memcpy(line->member[i].currency, line->one.currency, sizeof line->one.currency);
    dregs_answer_tally_figures_of(line->tally, line->one.residue, &line->figures);
    dregs_answer_tally_outlines_of(line);
    dregs_answer_tally_over_of(line);
    dregs_answer_tally_stills_of(line);
    dregs_answer_tally_largest(line->tally, 0, &line->parts[0]);
    dregs_answer_tally_largest(line->tally, 1, &line->parts[1]);
    return DREGS_OK;
}

/* Faults of every line are worth saying. */
static dregs_status fill_lines(dregs_tally_result *answer, dregs_faults *faults)
{
    dregs_status status = DREGS_OK, one;
    unsigned i;

    for (i = 0; i < answer->question.lines; i++) {
        one = fill_line(answer, i, faults);
        status = status ? status : one;
    }
    return status;
}

static dregs_status fill(dregs_tally_result *answer, dregs_faults *faults)
{
    const dregs_tally_question *question = &answer->question;
    dregs_status status = fill_lines(answer, faults);

    if (!status)
        status = dregs_answer_tally_compare(answer);
    if (!status)
        status = dregs_answer_tally_drains_of(answer->line[0].tally, &answer->drains);
    if (!status)
        status = dregs_answer_tally_energies_of(answer->line[0].tally, &answer->energies);
    if (!status && question->changes && !dregs_line_part(question->line[0], 0))
        status = dregs_answer_tally_find_changes(answer);
    if (!status && question->instead)
        status = dregs_answer_tally_instead(answer, faults);
    if (!status && question->law)
        status = dregs_answer_tally_law_new(answer, &answer->law, faults);
    if (!status)
        status = dregs_answer_tally_check_given(answer, faults);
    if (!status && question->purchases)
        status = dregs_answer_tally_actual_new(answer, &answer->actual, faults);
    if (!status && answer->law && answer->actual) {
        dregs_answer_tally_records(answer->law, answer->actual);
        status = dregs_answer_tally_log(answer->law, answer->actual, faults);
        if (!status && answer->law->failed)
            status = DREGS_NO_MEMORY;
    }
    return status;
}

dregs_status dregs_tally_answer(const dregs_tally_question *question, dregs_tally_result **answer,
                                dregs_faults *faults)
{
    dregs_tally_result *made = calloc(1, sizeof *made);
    dregs_status status = made ? take_question(made, question, faults) : DREGS_NO_MEMORY;

    if (!status)
        status = fill(made, faults);
    if (status)
        dregs_tally_result_free(made);
    else
        *answer = made;
    return status;
}

void dregs_tally_result_free(dregs_tally_result *answer)
{
    unsigned i, k;

    if (!answer)
        return;
    dregs_answer_tally_law_free(answer->law);
    dregs_answer_tally_actual_free(answer->actual);
    for (i = 0; i < DREGS_TALLY_LINES_MOST; i++) {
        dregs_tally_free(answer->line[i].tally);
        dregs_bounds_free(answer->line[i].bounds);
        free((void *)answer->line[i].one.caution);
        for (k = 0; k < answer->line[i].members; k++)
            dregs_bounds_free((dregs_bounds *)answer->line[i].member[k].bounds);
        free(answer->line[i].member);
    }
    for (i = 0; i < answer->changes; i++) {
        dregs_tally_free(answer->change[i].tally);
        dregs_line_free(answer->change[i].line);
    }
    dregs_answer_tally_drains_free(&answer->drains);
    dregs_answer_tally_energies_free(&answer->energies);
    free(answer->compared);
    free(answer);
}

/* ---- reading ---- */

const dregs_tally_one *dregs_tally_result_line(const dregs_tally_result *answer, unsigned line)
{
    return line < answer->question.lines ? &answer->line[line].one : NULL;
}

const dregs_tally_one *dregs_tally_result_member(const dregs_tally_result *answer, unsigned line,
                                                 unsigned member)
{
    return line < answer->question.lines && member < answer->line[line].members
               ? &answer->line[line].member[member]
               : NULL;
}

const dregs_tally_request *dregs_tally_result_span(const dregs_tally_result *answer)
{
    return &answer->question.span;
}

static const dregs_tally_figure *figure_at(const struct tally_figures *figures, unsigned index)
{
    return index < figures->count ? &figures->figure[index] : NULL;
}

const dregs_tally_figure *dregs_tally_result_figure(const dregs_tally_result *answer, unsigned line,
                                                    unsigned index)
{
    return line < answer->question.lines ? figure_at(&answer->line[line].figures, index) : NULL;
}

const dregs_tally_compared *dregs_tally_result_compared(const dregs_tally_result *answer,
                                                        unsigned index)
{
    return index < answer->compares ? &answer->compared[index] : NULL;
}

const dregs_tally_outline *dregs_tally_result_outline(const dregs_tally_result *answer,
                                                      unsigned line, unsigned period)
{
    unsigned periods;

    if (line >= answer->question.lines)
        return NULL;
    periods = dregs_tally_periods(answer->line[line].tally);
    if (period == DREGS_WHOLE)
        return &answer->line[line].outline[periods];
    return period < periods ? &answer->line[line].outline[period] : NULL;
}

const dregs_tally_outline *dregs_tally_result_over(const dregs_tally_result *answer, unsigned line,
                                                   unsigned months, unsigned last)
{
    unsigned which = months == DREGS_MONTHS;

    return line < answer->question.lines && (months == 3 || which) && last < DREGS_MONTHS &&
                   answer->line[line].has_over[which][last]
               ? &answer->line[line].over[which][last]
               : NULL;
}

const dregs_tally_part *dregs_tally_result_part(const dregs_tally_result *answer, unsigned line,
                                                int by_cost, unsigned index)
{
    const struct tally_parts *parts;

    if (line >= answer->question.lines)
        return NULL;
    parts = &answer->line[line].parts[by_cost != 0];
    return index < parts->count ? &parts->part[index] : NULL;
}

const dregs_tally_still *dregs_tally_result_still(const dregs_tally_result *answer, unsigned line,
                                                  unsigned index)
{
    return line < answer->question.lines && index < answer->line[line].stills
               ? &answer->line[line].still[index]
               : NULL;
}

const dregs_tally_change *dregs_tally_result_change(const dregs_tally_result *answer,
                                                    unsigned index)
{
    return index < answer->changes ? &answer->change[index].change : NULL;
}

const dregs_tally_figure *dregs_tally_result_changed(const dregs_tally_result *answer,
                                                     unsigned change, unsigned index)
{
    return change < answer->changes ? figure_at(&answer->change[change].figures, index) : NULL;
}

const dregs_tally_law *dregs_tally_result_law(const dregs_tally_result *answer)
{
    return answer->law;
}

const dregs_tally_actual *dregs_tally_result_actual(const dregs_tally_result *answer)
{
    return answer->actual;
}
