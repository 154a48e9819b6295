/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: the answer of dregs-size: the values that meet the target, or the layouts that do, in
 * order, with what the rules of thumb say beside them.
 */
#include "answer/size.h"
#include "answer/inside.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/answer_size.h"
#include "dregs/number.h"
#include "dregs/stage.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "size/size.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A layout with what it holds. */
struct row {
    dregs_size_row shown;
    dregs_sized *sized;
    struct sureness sure;
    dregs_line *line;
};

/* The result as it is shown, with what it points to behind it. */
struct answer {
    dregs_size_result shown; /* the first member: the user's pointer is ours */
    dregs_sized *sized;
    double before[DREGS_VARIED_MOST];
    struct row **row; /* in order */
    dregs_bounds *described;
    dregs_size_point *point;
    struct sureness sure;
};

/* The rinses of a line: those after its last wash. */
struct rinses {
    unsigned stages;
    double drag;   /* m3 per load: out of the last rinse */
    double volume; /* m3 of all rinse tanks */
    double fresh;  /* kg/m3 of all solutes in the rinses' fresh liquid */
};

void dregs_size_request_init_of_size(dregs_size_request *request, size_t size)
{
    dregs_size_request made = {.size = size,
                               .layout = DREGS_EVERY_LAYOUT,
                               .criterion = {DREGS_CRITERION_EVER, 0},
                               .confidence = NAN,
                               .seed = 1};

    dregs_give(request, size, &made, sizeof made);
}

/* What the file states for a property now; NaN when it states nothing. */
static double stated(const dregs_line *line, const dregs_varied *varied, unsigned index)
{
    const char *stage = dregs_varied_stage(varied, index, 0);
    const char *property = dregs_varied_property(varied, index);
    unsigned i;
    double value;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        dregs_unit unit;
        if (strcmp(row->item, stage) == 0 && strcmp(row->property, property) == 0 &&
            !dregs_number_read(row->value, &value) && !dregs_unit_read(row->unit, &unit, NULL))
            return dregs_unit_to_si(unit, value);
    }
    return NAN;
}

static void measure(const dregs_line *line, struct rinses *rinses)
{
    unsigned i, s, last = (unsigned)dregs_line_last_wet(line);
    const dregs_fluid *fluid = dregs_line_wet_with(line, last);

    memset(rinses, 0, sizeof *rinses);
    for (i = last + 1; i > 0 && !dregs_stage_is(dregs_line_stage(line, i - 1), DREGS_STAGE_CLEANS);
         i--) {
        const dregs_stage *stage = dregs_line_stage(line, i - 1);
        rinses->stages += (unsigned)dregs_stage_is(stage, DREGS_STAGE_WET);
        if (stage->tank >= 0 && !stage->shares.row)
            rinses->volume += stage->volume.si;
    }
    rinses->drag = dregs_line_carried(line, last)->out;
    for (s = 0; s < dregs_line_solutes(line); s++)
        rinses->fresh += fluid->content[s].si;
}

/* The line that an answer describes. */
static dregs_status read_answer(const dregs_line *line, const dregs_sized *sized,
                                dregs_line **found)
{
    size_t length;
    const char *text = dregs_sized_text(sized, &length);

    return text ? dregs_line_parse(dregs_line_name(line), text, length, dregs_line_liquids(line),
                                   found, NULL)
                : DREGS_BAD_DATA;
}

/* Its rinses. */
static dregs_status measure_answer(const dregs_line *line, const dregs_sized *sized,
                                   struct rinses *rinses)
{
    dregs_line *found = NULL;
    dregs_status status = read_answer(line, sized, &found);

    if (!status)
        measure(found, rinses);
    dregs_line_free(found);
    return status;
}

/* How soon the line that was found comes near its long run, and where it goes beyond what the file
 * describes. A line without a long run has neither. */
static dregs_status describe_answer(const dregs_line *line, struct answer *answer)
{
    const dregs_compliance *found = dregs_sized_compliance(answer->sized);
    dregs_criterion steady = {DREGS_CRITERION_STEADY, 0};
    dregs_line *made = NULL;
    dregs_map *map = NULL, *file = NULL;
    dregs_compliance long_run = {0};
    dregs_status status = read_answer(line, answer->sized, &made);

    answer->shown.period = 1;
    if (!status)
        answer->shown.period = dregs_line_period(made);
    if (!status)
        status = dregs_map_new(made, &map);
    if (!status)
        status = dregs_map_new(line, &file);
    if (!status)
        status = dregs_size_compliance(made, steady, &long_run);
    if (!status && long_run.limit == found->limit && !long_run.by_week && !found->by_week)
        status =
            dregs_answer_size_settled(map, found->limit, long_run.residue, &answer->shown.settled);
    else if (status != DREGS_NO_MEMORY)
        status = DREGS_OK; /* it has no long run */
    if (!status)
        status = dregs_bounds_described(map, file, DREGS_NO_END, &answer->described);
    answer->shown.described = answer->described;
    dregs_map_free(map);
    dregs_map_free(file);
    dregs_line_free(made);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

static const dregs_size_rule no_rule = {0, NAN, NAN, NAN, NAN, NAN, NAN};

static dregs_size_rule rule_of(const dregs_line *line, const struct rinses *rinses,
                               const dregs_sized *sized)
{
    double interval = dregs_line_load(line)->interval.si;
    dregs_size_rule rule = no_rule;
    const dregs_compliance *compliance = dregs_sized_compliance(sized);
    double ratio = (compliance->mg_in - rinses->fresh) / (compliance->mg_out - rinses->fresh);

    /* of loads of several kinds no one drag-out stands for all */
    if (!(ratio > 1) || !dregs_sized_feasible(sized) || dregs_line_kinds(line) > 1)
        return rule;
    rule.stages = rinses->stages;
    rule.ratio = ratio;
    rule.exact = dregs_sized_value(sized, 0) * interval / rinses->drag;
    rule.series = dregs_rinse_series(ratio, rinses->stages);
    rule.root = dregs_rinse_root(ratio, rinses->stages);
    rule.series_off = rule.series / rule.exact - 1;
    rule.root_off = rule.root / rule.exact - 1;
    return rule;
}

static dregs_size_figures figures_of(const dregs_sized *sized, double loads_per_shift)
{
    const dregs_compliance *compliance = dregs_sized_compliance(sized);
    const dregs_use *use = dregs_sized_use(sized);
    double limit = compliance->residue / compliance->of_limit;
    dregs_size_figures figures;

    figures.margin = 1 - compliance->of_limit;
    figures.fresh_per_shift = use->bought * loads_per_shift;
    figures.waste_per_shift = (use->to_drain + use->dumped) * loads_per_shift;
    figures.cost_per_shift = use->cost * loads_per_shift;
    figures.floor_film = compliance->floor - compliance->floor_adhering;
    figures.bar = compliance->floor_adhering > limit ? DREGS_SIZE_ADHERING
                  : compliance->floor > limit        ? DREGS_SIZE_FRESH_FILM
                                                     : DREGS_SIZE_NO_BAR;
    return figures;
}

static dregs_status answer_varied(const dregs_line *line, const dregs_size_request *request,
                                  struct answer *answer, char *message)
{
    const dregs_varied *varied = request->varied;
    unsigned i, count = dregs_varied_count(varied);
    char why[DREGS_SIZE_MESSAGE] = "";
    struct rinses rinses;
    dregs_status status;

    for (i = 0; i < count; i++)
        answer->before[i] = stated(line, varied, i);
    answer->shown.before = answer->before;
    status = dregs_size_watched(varied, request->criterion, answer->shown.by_cost,
                                request->progress, request->user, &answer->sized, why);
    if (status) {
        snprintf(message, DREGS_SIZE_MESSAGE, "%s", why);
        return status;
    }
    if (!isfinite(dregs_sized_compliance(answer->sized)->of_limit)) {
        snprintf(message, DREGS_SIZE_MESSAGE, "nowhere in the range: %.600s", why);
        return DREGS_DOMAIN;
    }
    answer->shown.sureness = &answer->sure.shown;
    status = dregs_answer_size_sure(line, request, answer->shown.by_cost, &answer->sized,
                                    &answer->sure, message);
    if (status)
        return status;
    status = measure_answer(line, answer->sized, &rinses);
    if (!status && count == 1 && strcmp(dregs_varied_property(varied, 0), "flow") == 0)
        answer->shown.rule = rule_of(line, &rinses, answer->sized);
    answer->shown.figures = figures_of(answer->sized, answer->shown.loads_per_shift);
    answer->shown.sized = answer->sized;
    answer->shown.met = dregs_answer_size_met(answer->sized, &answer->sure);
    return status ? status : describe_answer(line, answer);
}

static int meets(const dregs_size_row *row)
{
    return row->possible && dregs_sized_feasible(row->sized) &&
           (isnan(row->sureness->confidence) || row->sureness->reached);
}

/* m3 per load of fresh liquid */
static double bought(const dregs_size_row *row)
{
    return dregs_sized_use(row->sized)->bought;
}

/* What is to be least: the cost, where all of both rows is priced, else the liquid. */
static double expense(const dregs_size_row *row, const dregs_size_row *beside)
{
    double cost = dregs_sized_use(row->sized)->cost;

    return isnan(cost) || isnan(dregs_sized_use(beside->sized)->cost) ? bought(row) : cost;
}

/* Less liquid (or cost) first; what cannot meet the target last. */
static int by_liquid(const void *left, const void *right)
{
    const dregs_size_row *a = &(*(struct row *const *)left)->shown;
    const dregs_size_row *b = &(*(struct row *const *)right)->shown;
    int fa = meets(a), fb = meets(b);

    if (fa != fb)
        return fb - fa;
    if (a->possible != b->possible)
        return b->possible - a->possible;
    if (fa && expense(a, b) < expense(b, a))
        return -1;
    if (fa && expense(a, b) > expense(b, a))
        return 1;
    if (a->layout != b->layout)
        return (int)a->layout - (int)b->layout;
    return (int)a->stages - (int)b->stages;
}

/* Of two that meet the target: is a no worse than b in liquid (or cost), tanks and number of
 * stages, and better in one of them? */
static int dominates(const dregs_size_row *a, const dregs_size_row *b)
{
    double la = expense(a, b), lb = expense(b, a);

    return la <= lb * (1 + 1e-9) && a->volume <= b->volume && a->stages <= b->stages &&
           (la < lb * (1 - 1e-9) || a->volume < b->volume || a->stages < b->stages);
}

static void mark_dominated(struct answer *answer)
{
    size_t i, k;

    for (i = 0; i < answer->shown.rows; i++) {
        dregs_size_row *row = &answer->row[i]->shown;
        row->dominated = -1;
        for (k = 0; k < answer->shown.rows && row->dominated < 0; k++)
            if ((meets(row) || row->sureness->passed_over) && meets(&answer->row[k]->shown) &&
                dominates(&answer->row[k]->shown, row))
                row->dominated = (int)k;
    }
}

/* The line of a row that was sized, and its figures. */
static dregs_status describe_row(const dregs_line *line, double loads_per_shift, struct row *row)
{
    dregs_size_row *shown = &row->shown;
    struct rinses rinses = {0};
    dregs_status status;

    shown->sized = row->sized;
    shown->sureness = &row->sure.shown;
    shown->rule = no_rule;
    dregs_line_free(row->line);
    row->line = NULL;
    shown->possible = 0;
    if (row->sized && isfinite(dregs_sized_compliance(row->sized)->of_limit)) {
        status = read_answer(line, row->sized, &row->line);
        if (status == DREGS_NO_MEMORY)
            return status;
        shown->possible = !status;
    }
    shown->line = row->line;
    if (shown->possible) {
        measure(row->line, &rinses);
        shown->figures = figures_of(row->sized, loads_per_shift);
    }
    shown->volume = rinses.volume;
    rinses.stages = shown->stages; /* the new ones, whatever other rinses the line has */
    if (shown->possible && shown->layout == DREGS_COUNTERFLOW)
        shown->rule = rule_of(line, &rinses, row->sized);
    return DREGS_OK;
}

static dregs_status size_row(const dregs_line *line, const dregs_size_request *request,
                             double loads_per_shift, struct row *row)
{
    dregs_size_row *shown = &row->shown;
    dregs_status status = dregs_size_layout(line, shown->layout, shown->stages, request->criterion,
                                            &row->sized, shown->message);

    if (status == DREGS_NO_MEMORY)
        return status;
    if (status && !*shown->message)
        snprintf(shown->message, sizeof shown->message, "%s", dregs_status_text(status));
    return describe_row(line, loads_per_shift, row);
}

/* Is a row that just meets the target beaten by one that is as sure as asked for? To be surer takes
 * no less. */
static int is_beaten(const struct answer *answer, const struct row *row)
{
    size_t i;

    for (i = 0; i < answer->shown.rows; i++)
        if (answer->row[i]->sure.shown.reached && meets(&row->shown) &&
            dominates(&answer->row[i]->shown, &row->shown))
            return 1;
    return 0;
}

/* How sure the rows are, those that take least first: most of the others need not be asked. Where
 * nobody asks for draws it is told of the one that takes least: of all of them it would take long.
 */
static dregs_status make_sure(const dregs_line *line, const dregs_size_request *request,
                              struct answer *answer)
{
    double confidence = dregs_answer_size_confidence(line, request);
    int one = isnan(confidence) && request->draws == DREGS_SIZE_DRAWS_USUAL;
    dregs_status status = DREGS_OK;
    size_t i;

    qsort(answer->row, answer->shown.rows, sizeof(struct row *), by_liquid);
    for (i = 0; i < answer->shown.rows && !status; i++) {
        struct row *row = answer->row[i];
        dregs_size_row *shown = &row->shown;
        if (!shown->possible || (one && !meets(shown)))
            continue;
        if (!isnan(confidence) && is_beaten(answer, row)) {
            row->sure.shown.passed_over = 1;
            row->sure.shown.confidence = confidence;
            continue;
        }
        status = dregs_answer_size_sure(line, request, 0, &row->sized, &row->sure, shown->message);
        if (status == DREGS_NO_MEMORY)
            return status;
        if (status && !*shown->message)
            snprintf(shown->message, sizeof shown->message, "%s", dregs_status_text(status));
        shown->possible = !status;
        status = status ? DREGS_OK : describe_row(line, answer->shown.loads_per_shift, row);
        if (one || (request->progress && request->progress(request->user, (unsigned)i, HUGE_VAL)))
            break;
    }
    return status;
}

/* How far a row is from all that is asked of it: residues and bounds of concentrations. */
static double excess_of(const dregs_size_row *row)
{
    const dregs_bound *bound = dregs_sized_bound(row->sized);

    return fmax(dregs_sized_compliance(row->sized)->of_limit, bound ? bound->share : 0);
}

/* How many rows meet the target, and which comes nearest. */
static void count_met(struct answer *answer)
{
    double least = HUGE_VAL;
    size_t i;

    for (i = 0; i < answer->shown.rows; i++) {
        const dregs_size_row *row = &answer->row[i]->shown;
        answer->shown.rows_met += (size_t)meets(row);
        answer->shown.rows_passed += (size_t)row->sureness->passed_over;
        if (row->possible && excess_of(row) < least) {
            least = excess_of(row);
            answer->shown.nearest = i;
        }
    }
    answer->shown.met = answer->shown.rows_met > 0;
}

static dregs_status answer_layouts(const dregs_line *line, const dregs_size_request *request,
                                   struct answer *answer, char *message)
{
    int every = request->layout == DREGS_EVERY_LAYOUT, possible = 0, stopped = 0;
    unsigned trials = 0;
    unsigned n, l, first = every ? 0 : (unsigned)request->layout;
    unsigned last = every ? DREGS_LAYOUTS - 1 : first;
    dregs_status status = DREGS_OK;

    answer->row = calloc((size_t)(last - first + 1) * (request->last - request->first + 1),
                         sizeof(struct row *));
    if (!answer->row)
        return DREGS_NO_MEMORY;
    for (l = first; l <= last; l++)
        for (n = request->first; n <= request->last && !status && !stopped; n++) {
            struct row *row = calloc(1, sizeof *row);
            if (!row)
                return DREGS_NO_MEMORY;
            answer->row[answer->shown.rows++] = row;
            row->shown.layout = (dregs_layout)l;
            row->shown.stages = n;
            dregs_answer_size_unsure(&row->sure);
            status = size_row(line, request, answer->shown.loads_per_shift, row);
            possible |= row->shown.possible;
            trials += row->sized ? dregs_sized_trials(row->sized) : 0;
            if (request->progress)
                stopped = request->progress(request->user, trials, HUGE_VAL);
        }
    if (!status && !possible) {
        snprintf(message, DREGS_SIZE_MESSAGE, "%s", answer->row[0]->shown.message);
        return DREGS_DOMAIN;
    }
    if (!status && !stopped)
        status = make_sure(line, request, answer);
    if (!status) {
        qsort(answer->row, answer->shown.rows, sizeof(struct row *), by_liquid);
        mark_dominated(answer);
        count_met(answer);
    }
    return status;
}

/* Limits that a curve is drawn of, as shares of the line's. */
static const double aims[] = {0.2, 0.5, 0.8, 1, 1.5, 2, 5, 10};
enum { AIMS = sizeof aims / sizeof aims[0] };

static dregs_status draw_varied(const dregs_size_request *request, struct answer *answer)
{
    char why[DREGS_SIZE_MESSAGE];
    dregs_status status = DREGS_OK;
    dregs_sized *sized;
    unsigned i;

    answer->point = calloc(AIMS, sizeof *answer->point);
    if (!answer->point)
        return DREGS_NO_MEMORY;
    for (i = 0; i < AIMS && !status; i++) {
        status = dregs_size_aimed(request->varied, request->criterion, answer->shown.by_cost,
                                  aims[i], &sized, why);
        if (!status)
            answer->point[answer->shown.points++] =
                (dregs_size_point){.share = aims[i], .sized = sized};
    }
    return status;
}

/* Of the layouts that meet the target and that no other is better than. */
static dregs_status draw_layouts(const dregs_line *line, const dregs_size_request *request,
                                 struct answer *answer)
{
    char why[DREGS_SIZE_MESSAGE];
    dregs_sized *sized;
    dregs_status status;
    size_t i;
    unsigned k;

    answer->point = calloc(AIMS * answer->shown.rows + 1, sizeof *answer->point);
    if (!answer->point)
        return DREGS_NO_MEMORY;
    for (i = 0; i < answer->shown.rows; i++) {
        const dregs_size_row *row = &answer->row[i]->shown;
        for (k = 0; k < AIMS && meets(row) && row->dominated < 0; k++) {
            status = dregs_size_layout_aimed(line, row->layout, row->stages, request->criterion,
                                             aims[k], &sized, why);
            if (status == DREGS_NO_MEMORY)
                return status;
            if (!status)
                answer->point[answer->shown.points++] =
                    (dregs_size_point){aims[k], row->layout, row->stages, sized};
        }
    }
    return DREGS_OK;
}

#define REFUSE(...) dregs_refuse(message, DREGS_SIZE_MESSAGE, __VA_ARGS__)

/* One of the two questions, and each within its range. */
static dregs_status check_question(const dregs_line *line, const dregs_size_request *request,
                                   char *message)
{
    const dregs_criterion *criterion = &request->criterion;

    if (!request->varied && !request->first)
        return REFUSE("varied: neither properties are varied nor layouts asked for (first)");
    if (request->varied && request->first)
        return REFUSE("varied: not with layouts (first)");
    if (request->varied && dregs_varied_line(request->varied) != line)
        return REFUSE("varied: of another line");
    if (request->varied && !dregs_varied_count(request->varied))
        return REFUSE("varied: no property is varied");
    if (criterion->by == DREGS_CRITERION_LOAD && criterion->loads < 1)
        return REFUSE("criterion.loads: no load is judged");
    if (request->varied)
        return DREGS_OK;
    if (request->first > request->last)
        return REFUSE("first: %u rinses are more than the last, %u", request->first, request->last);
    if (request->last > DREGS_SIZE_STAGES_MOST)
        return REFUSE("last: more than %d rinses", DREGS_SIZE_STAGES_MOST);
    if (request->layout < DREGS_EVERY_LAYOUT || request->layout >= DREGS_LAYOUTS)
        return REFUSE("layout: %d is none", request->layout);
    return DREGS_OK;
}

static dregs_status check(const dregs_line *line, const dregs_size_request *request, char *message)
{
    dregs_status status;

    if (!dregs_line_target(line)->name) {
        snprintf(message, DREGS_SIZE_MESSAGE,
                 "the line states no target; add an item of kind target with a limit, such as "
                 "residue or level");
        return DREGS_BAD_DATA;
    }
    if (request->first && dregs_line_kinds(line) > 1) {
        snprintf(message, DREGS_SIZE_MESSAGE,
                 "layouts are not made for loads of several kinds yet, for each has its own film "
                 "behind a new rinse; vary what the file has");
        return DREGS_BAD_DATA;
    }
    status = check_question(line, request, message);
    return status ? status : dregs_answer_size_check(line, request, message);
}

dregs_status dregs_size_answer(const dregs_line *line, const dregs_size_request *request,
                               dregs_size_result **result, char *message)
{
    const dregs_schedule *schedule = dregs_line_schedule(line);
    dregs_size_request asked;
    struct answer *answer;
    dregs_status status;
    dregs_use use;

    message[0] = '\0';
    dregs_size_request_init(&asked);
    status =
        dregs_take(&asked, sizeof asked, request) ? check(line, &asked, message) : DREGS_DOMAIN;
    if (status)
        return status;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    dregs_balance_use(line, &use);
    answer->shown.by_cost = !isnan(use.cost);
    answer->shown.rule = no_rule;
    dregs_answer_size_unsure(&answer->sure);
    answer->shown.shift_assumed = !schedule->loads_per_shift.row;
    answer->shown.loads_per_shift = answer->shown.shift_assumed
                                        ? 8 * 3600 / dregs_line_load(line)->interval.si
                                        : schedule->loads_per_shift.si;
    status = asked.first ? answer_layouts(line, &asked, answer, message)
                         : answer_varied(line, &asked, answer, message);
    if (!status && asked.trade_off)
        status = asked.first ? draw_layouts(line, &asked, answer) : draw_varied(&asked, answer);
    if (!status)
        status = dregs_answer_line_cautions(line, &answer->shown.caution, &answer->shown.cautions);
    if (status)
        dregs_size_result_free(&answer->shown);
    else
        *result = &answer->shown;
    return status;
}

const dregs_size_row *dregs_size_result_row(const dregs_size_result *result, size_t index)
{
    const struct answer *answer = (const struct answer *)result;

    return index < result->rows ? &answer->row[index]->shown : NULL;
}

const dregs_size_point *dregs_size_result_point(const dregs_size_result *result, size_t index)
{
    const struct answer *answer = (const struct answer *)result;

    return index < result->points ? &answer->point[index] : NULL;
}

void dregs_size_result_free(dregs_size_result *result)
{
    struct answer *answer = (struct answer *)result;
    size_t i;

    if (!answer)
        return;
    dregs_sized_free(answer->sized);
    dregs_sized_free(answer->sure.just);
    dregs_bounds_free(answer->described);
    for (i = 0; i < answer->shown.points; i++)
        dregs_sized_free((dregs_sized *)answer->point[i].sized);
    free(answer->point);
    for (i = 0; i < answer->shown.rows; i++) {
        dregs_sized_free(answer->row[i]->sized);
        dregs_sized_free(answer->row[i]->sure.just);
        dregs_line_free(answer->row[i]->line);
        free(answer->row[i]);
    }
    free(answer->row);
    free((void *)answer->shown.caution);
    free(answer);
}
