/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* layout.c: the line with its rinses replaced by n equal ones, in the ways that rinses are
 * arranged, each sized to meet the target.
 */
#include "dregs/edit.h"
#include "line/line.h"
#include "size/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const layout_names[DREGS_LAYOUTS] = {"counterflow",
                                                        "running rinses, fed individually",
                                                        "still rinses, dumped together",
                                                        "still rinses, stepped back",
                                                        "spray after drain",
                                                        "drag-out return",
                                                        "counterflow, spray last"};

const char *dregs_layout_name(dregs_layout layout)
{
    return (unsigned)layout < DREGS_LAYOUTS ? layout_names[layout] : NULL;
}

enum { ROWS_MOST = 4096, NAME_ROOM = 24 };

struct plan {
    const dregs_line *line;
    unsigned first, last; /* the stages that are replaced */
    unsigned model;       /* the rinse that all new ones are like */
    int wash;             /* the wash before them, -1 for none */
    dregs_layout layout;
    unsigned stages; /* new ones: with a spray behind the last tank one more than tanks */
    char names[DREGS_LINE_STAGES][NAME_ROOM];
    dregs_new_row *rows;
    size_t count;
};

static int is_rinse(const dregs_stage *stage)
{
    return dregs_stage_is(stage, DREGS_STAGE_RINSES);
}

/* The rinses: the last unbroken run of rinses and sprays. */
static dregs_status find_rinses(struct plan *plan, char *message)
{
    unsigned count = dregs_line_stages(plan->line), i;
    int model = -1;

    for (i = count; i > 0 && !is_rinse(dregs_line_stage(plan->line, i - 1)); i--)
        ;
    plan->last = i - 1;
    for (; i > 0 && is_rinse(dregs_line_stage(plan->line, i - 1)); i--)
        if (model < 0 && dregs_line_stage(plan->line, i - 1)->tank >= 0 &&
            !dregs_line_stage(plan->line, i - 1)->shares.row)
            model = (int)i - 1;
    plan->first = i;
    if (model < 0) {
        snprintf(message, DREGS_SIZE_MESSAGE,
                 "the line has no rinse with a tank of its own after the wash, to take as the "
                 "model for the new ones");
        return DREGS_UNKNOWN;
    }
    plan->model = (unsigned)model;
    plan->wash = i > 0 && dregs_stage_is(dregs_line_stage(plan->line, i - 1), DREGS_STAGE_CLEANS)
                     ? (int)i - 1
                     : -1;
    for (i = 0; i < count; i++) {
        const dregs_stage *stage = dregs_line_stage(plan->line, i);
        int inside = i >= plan->first && i <= plan->last;
        int shares_inside = stage->shares.row && stage->shares.index >= plan->first &&
                            stage->shares.index <= plan->last;
        if (stage->shares.row && inside != shares_inside) {
            snprintf(message, DREGS_SIZE_MESSAGE,
                     "%.60s shares a tank across the rinses, which cannot be replaced then",
                     stage->name);
            return DREGS_UNKNOWN;
        }
    }
    return DREGS_OK;
}

/* Names for the new rinses that no item of the line has. */
static void name_rinses(struct plan *plan)
{
    static const char *const words[] = {"rinse", "new rinse", "sized rinse"};
    unsigned w, k, row;
    int taken = 1;

    for (w = 0; w < 3 && taken; w++) {
        taken = 0;
        for (k = 0; k < plan->stages; k++)
            snprintf(plan->names[k], NAME_ROOM, "%s %u", words[w], k + 1);
        for (row = 1; row <= dregs_line_rows(plan->line); row++)
            for (k = 0; k < plan->stages; k++)
                taken = taken || strcmp(dregs_line_row(plan->line, row)->item, plan->names[k]) == 0;
    }
}

static void add(struct plan *plan, unsigned k, const char *property, const char *value,
                const char *unit)
{
    dregs_new_row *row;

    if (plan->count >= ROWS_MOST)
        return;
    row = &plan->rows[plan->count++];
    row->item = plan->names[k];
    row->property = property;
    row->value = value;
    row->unit = unit;
    row->note = NULL;
}

static int among(const char *word, const char *const *words)
{
    for (; *words; words++)
        if (strcmp(*words, word) == 0)
            return 1;
    return 0;
}

static int is_sprayed(const struct plan *plan, unsigned k)
{
    return plan->layout == DREGS_SPRAYED ||
           (plan->layout == DREGS_SPRAY_LAST && k + 1 == plan->stages);
}

/* The rinse of the line whose liquid a new one takes: the last has that of the last, the one before
 * it that of the one before, and the first ones that of the first. */
static const char *keeper(const struct plan *plan, unsigned k)
{
    unsigned behind = plan->stages - 1 - k, i;
    int tank = plan->layout == DREGS_SPRAY_LAST && behind > 0;
    const char *name = dregs_line_stage(plan->line, plan->model)->name;

    behind -= (unsigned)tank; /* the last tank is not the last that sprays */
    for (i = plan->model; behind > 0 && i > plan->first; i--) {
        const dregs_stage *stage = dregs_line_stage(plan->line, i - 1);
        if (stage->tank < 0 || stage->shares.row)
            continue;
        name = stage->name;
        behind--;
    }
    return name;
}

static void copy_liquid(struct plan *plan, unsigned k)
{
    const char *from = keeper(plan, k);
    unsigned i;

    for (i = 1; i <= dregs_line_rows(plan->line); i++) {
        const dregs_row *row = dregs_line_row(plan->line, i);
        if (strcmp(row->item, from) == 0 &&
            (strcmp(row->property, "liquid") == 0 ||
             (strcmp(row->property, "feed") == 0 && !is_sprayed(plan, k))))
            add(plan, k, row->property, row->value, row->unit);
    }
}

/* What the model states of itself and the layout does not. */
static void copy_model(struct plan *plan, unsigned k)
{
    static const char *const own[] = {"kind",       "flow",    "overflow to", "top up from",
                                      "dump every", "dump at", "refill from", "shares tank with",
                                      "liquid",     "feed",    NULL};
    static const char *const spray[] = {"temperature",
                                        "film",
                                        "drag-out",
                                        "drag-out class",
                                        "withdrawal speed",
                                        "drain time",
                                        "film law",
                                        "hold-up exchange",
                                        NULL};
    const char *model = dregs_line_stage(plan->line, plan->model)->name;
    unsigned i;

    for (i = 1; i <= dregs_line_rows(plan->line); i++) {
        const dregs_row *row = dregs_line_row(plan->line, i);
        if (strcmp(row->item, model) != 0)
            continue;
        if (is_sprayed(plan, k) ? among(row->property, spray) : !among(row->property, own))
            add(plan, k, row->property, row->value, row->unit);
    }
}

static void add_rinse(struct plan *plan, unsigned k)
{
    int spray = is_sprayed(plan, k), last = k + 1 == plan->stages;

    add(plan, k, "kind", spray ? "spray" : "rinse", "");
    copy_liquid(plan, k);
    copy_model(plan, k);
    switch (plan->layout) {
    case DREGS_COUNTERFLOW:
    case DREGS_RECOVERY:
        if (last)
            add(plan, k, "flow", "1", "L/h");
        if (k > 0)
            add(plan, k, "overflow to", plan->names[k - 1], "");
        break;
    case DREGS_SEPARATE:
        add(plan, k, "flow", "1", "L/h");
        break;
    case DREGS_DUMPED:
    case DREGS_PASSED_DOWN:
        add(plan, k, "dump every", "1", "");
        if (plan->layout == DREGS_PASSED_DOWN && !last)
            add(plan, k, "refill from", plan->names[k + 1], "");
        break;
    case DREGS_SPRAY_LAST:
        if (spray)
            add(plan, k, "use", "1", "L");
        if (k > 0)
            add(plan, k, spray ? "runoff to" : "overflow to", plan->names[k - 1], "");
        break;
    default:
        add(plan, k, "use", "1", "L");
    }
}

/* What is sought: the same property of all new rinses, or of the last one alone. */
static dregs_status choose_varied(const struct plan *plan, dregs_varied *varied, char *message)
{
    int one = plan->layout == DREGS_COUNTERFLOW || plan->layout == DREGS_RECOVERY ||
              plan->layout == DREGS_SPRAY_LAST;
    const char *stage[DREGS_LINE_STAGES];
    const char *property = is_sprayed(plan, plan->stages - 1) ? "use"
                           : plan->layout == DREGS_DUMPED || plan->layout == DREGS_PASSED_DOWN
                               ? "dump every"
                               : "flow";
    unsigned k, stages = 0;

    for (k = one ? plan->stages - 1 : 0; k < plan->stages; k++)
        stage[stages++] = plan->names[k];
    return dregs_varied_add(varied, property, stage, stages, NAN, NAN, message);
}

static dregs_status parse(const dregs_line *like, char *text, size_t length, dregs_line **line,
                          char *message)
{
    dregs_faults faults = {0};
    dregs_status status = dregs_line_parse(dregs_line_name(like), text, length,
                                           dregs_line_liquids(like), line, &faults);

    if (status == DREGS_BAD_DATA)
        snprintf(message, DREGS_SIZE_MESSAGE, "%s", faults.fault[0].text);
    dregs_edit_free(text);
    return status;
}

/* The line with the new rinses in it. A spray's placeholder of use must let the line be read: it
 * is made large, the search makes it as small as it may be. */
static dregs_status rebuild(struct plan *plan, dregs_line **line, char *message)
{
    const char *drop[DREGS_LINE_STAGES];
    const dregs_new_row spray_use = {NULL, "use", "1000", "L", NULL};
    dregs_line *made = NULL;
    dregs_status status;
    size_t drops = 0, length;
    char *text;
    unsigned k;

    for (k = plan->first; k <= plan->last; k++)
        drop[drops++] = dregs_line_stage(plan->line, k)->name;
    for (k = 0; k < plan->count; k++)
        if (strcmp(plan->rows[k].property, "use") == 0)
            plan->rows[k].value = spray_use.value;
    status = dregs_edit_replace(plan->line, drop, drops, plan->rows, plan->count, &text, &length);
    if (!status)
        status = parse(plan->line, text, length, &made, message);
    if (!status && plan->layout == DREGS_RECOVERY) {
        const dregs_line *before = made;
        dregs_new_row row = {NULL, "top up from", plan->names[0], "", NULL};
        unsigned wash = (unsigned)plan->wash;
        while (dregs_line_stage(plan->line, wash)->shares.row)
            wash = dregs_line_stage(plan->line, wash)->shares.index;
        row.item = dregs_line_stage(plan->line, wash)->name;
        made = NULL;
        status = dregs_edit_set(before, &row, 1, &text, &length);
        if (!status)
            status = parse(before, text, length, &made, message);
        dregs_line_free((dregs_line *)before);
    }
    if (!status)
        *line = made;
    return status;
}

/* The answer keeps what was varied, and has no need of the new line. */
static dregs_status size_plan(struct plan *plan, dregs_criterion criterion, double aim,
                              dregs_sized **sized, char *message)
{
    dregs_line *line = NULL;
    dregs_varied *varied;
    dregs_status status = rebuild(plan, &line, message);
    dregs_use use;

    if (status)
        return status == DREGS_BAD_DATA ? DREGS_DOMAIN : status;
    dregs_balance_use(line, &use);
    varied = dregs_varied_new(line);
    status = varied ? choose_varied(plan, varied, message) : DREGS_NO_MEMORY;
    if (status)
        dregs_varied_free(varied);
    else
        status = dregs_size_kept(varied, criterion, !isnan(use.cost), aim, sized, message);
    dregs_line_free(line);
    return status;
}

dregs_status dregs_size_layout_aimed(const dregs_line *line, dregs_layout layout, unsigned stages,
                                     dregs_criterion criterion, double aim, dregs_sized **sized,
                                     char *message)
{
    struct plan *plan;
    dregs_status status;
    unsigned k;

    message[0] = '\0';
    if ((unsigned)layout >= DREGS_LAYOUTS || stages < 1 || stages > 20)
        return DREGS_DOMAIN;
    plan = calloc(1, sizeof *plan);
    if (!plan)
        return DREGS_NO_MEMORY;
    plan->line = line;
    plan->layout = layout;
    plan->stages = stages + (layout == DREGS_SPRAY_LAST);
    plan->rows = malloc(ROWS_MOST * sizeof *plan->rows);
    status = plan->rows ? find_rinses(plan, message) : DREGS_NO_MEMORY;
    if (!status && layout == DREGS_RECOVERY && plan->wash < 0) {
        snprintf(message, DREGS_SIZE_MESSAGE, "no wash stands before the rinses");
        status = DREGS_UNKNOWN;
    }
    if (!status) {
        name_rinses(plan);
        for (k = 0; k < plan->stages; k++)
            add_rinse(plan, k);
        status = size_plan(plan, criterion, aim, sized, message);
    }
    free(plan->rows);
    free(plan);
    return status;
}

dregs_status dregs_size_layout(const dregs_line *line, dregs_layout layout, unsigned stages,
                               dregs_criterion criterion, dregs_sized **sized, char *message)
{
    return dregs_size_layout_aimed(line, layout, stages, criterion, 1, sized, message);
}
