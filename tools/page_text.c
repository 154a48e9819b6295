/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_text.c: the page for people. The verdict first, then what it rests on. */
#include "page.h"
#include "predict.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { COLUMN = 12 };

/* The first column holds the longest name. */
static int name_width(const struct predict_page *answer)
{
    int width = 16;
    unsigned i;

    for (i = 0; i < dregs_line_stages(answer->line); i++)
        if (columns(dregs_line_stage(answer->line, i)->name) + 1 > width)
            width = columns(dregs_line_stage(answer->line, i)->name) + 1;
    for (i = 0; i < dregs_line_solutes(answer->line); i++)
        if (columns(dregs_line_solute(answer->line, i)->name) - 6 > width)
            width = columns(dregs_line_solute(answer->line, i)->name) - 6;
    return width;
}

/* The column of a solute holds its name and a blank. */
static int solute_width(const dregs_line *line, unsigned solute)
{
    int width = columns(dregs_line_solute(line, solute)->name) + 2;

    return width > COLUMN + 1 ? width : COLUMN + 1;
}

const char *solute_name(const dregs_line *line, int solute)
{
    return solute < 0 ? "total" : dregs_line_solute(line, (unsigned)solute)->name;
}

/* "load 12 (the worst)", "load 40 of each dump period", "the steady state" */
static void name_load(const struct predict_page *answer, const dregs_worst *worst, char into[96])
{
    if (!worst->in_the_long_run)
        snprintf(into, 96, "load %llu", (unsigned long long)worst->load);
    else if (dregs_line_period(answer->line) > 1)
        snprintf(into, 96, "load %llu after a dump, in the long run",
                 (unsigned long long)worst->load);
    else
        snprintf(into, 96, "the steady state that the line tends to");
}

static void print_head(const struct predict_page *answer)
{
    const dregs_load *load = dregs_line_load(answer->line);
    struct numbers n = {0};

    printf("%s: %s part%s of %s cm2, a load every %s min\n\n", dregs_line_name(answer->line),
           number(&n, load->parts.si), load->parts.si > 1 ? "s" : "",
           number(&n, load->area.si * 1e4), number(&n, load->interval.si / 60));
}

static void print_verdict(const struct predict_page *answer, const dregs_predict_verdict *verdict)
{
    const dregs_target *target = dregs_line_target(answer->line);
    char load[96];
    struct numbers n = {0};

    name_load(answer, &verdict->worst, load);
    printf("target %s: the worst load leaves %s ug/cm2%s%s, the limit is %s ug/cm2",
           verdict->met ? "met" : "MISSED", number(&n, verdict->worst.residue * UG_PER_CM2),
           verdict->solute < 0 ? "" : " of ",
           verdict->solute < 0 ? "" : solute_name(answer->line, verdict->solute),
           number(&n, verdict->limit.si * UG_PER_CM2));
    if (verdict->solute < 0 && target->level)
        printf(" (level %s)", target->level);
    if (verdict->met)
        printf(": %s %% of it\n", number(&n, verdict->share * 100));
    else
        printf(": %s times as much\n", number(&n, verdict->share));
    printf("  the worst: %s\n", load);
}

/* What the rinsing cannot reach. */
static void print_floor(const struct predict_page *answer)
{
    const dregs_fluid *fluid =
        dregs_line_wet_with(answer->line, (unsigned)dregs_line_last_wet(answer->line));
    const dregs_residue *floor = &answer->result->floor;
    struct numbers n = {0};
    char text[400];

    snprintf(text, sizeof text,
             "with nothing but fresh %s in the last film, %s ug/cm2 would be left: %s out of that "
             "film, %s of soil that adheres",
             fluid->name, number(&n, floor->total * UG_PER_CM2),
             number(&n, floor->film_total * UG_PER_CM2),
             number(&n, floor->adhering_total * UG_PER_CM2));
    printf("  ");
    wrapped(text, 2, 4);
}

static void print_verdicts(const struct predict_page *answer)
{
    const dregs_level *level = answer->result->level;
    struct numbers n = {0};
    char load[96];
    unsigned i;

    for (i = 0; i < answer->result->verdicts; i++)
        print_verdict(answer, dregs_predict_result_verdict(answer->result, i));
    if (!answer->result->verdicts) {
        name_load(answer, &answer->result->worst, load);
        printf("no target is stated: the worst load leaves %s ug/cm2\n  the worst: %s\n",
               number(&n, answer->result->worst.residue * UG_PER_CM2), load);
    }
    if (answer->request->asked.loads)
        printf("  among the first %llu loads from the fresh start\n",
               (unsigned long long)answer->request->asked.loads);
    if (level)
        printf("  level reached: %s (%s), at most %s ug/cm2\n", level->name, level->later,
               number(&n, level->as_printed));
    else
        printf("  level reached: none; the last one, J, allows 25 ug/cm2\n");
    print_floor(answer);
}

static void print_stages(const struct predict_page *answer)
{
    const dregs_line *line = answer->line;
    unsigned i, s;
    char load[96];
    struct numbers n = {0};
    int width = name_width(answer);

    name_load(answer, &answer->result->worst, load);
    printf("\nwhat leaves each stage with the parts (%s)\n", load);
    cell("stage", width);
    cell("", 7);
    cell("liquid", -COLUMN);
    cell("film", -COLUMN);
    for (s = 0; s < dregs_line_solutes(line); s++)
        cell(dregs_line_solute(line, s)->name, -solute_width(line, s));
    printf("\n");
    cell("", width + 7);
    cell("mL/load", -COLUMN);
    cell("um", -COLUMN);
    for (s = 0; s < dregs_line_solutes(line); s++)
        cell("mg/L", -solute_width(line, s));
    printf("\n");
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        const dregs_carried *carried = dregs_line_carried(line, i);
        cell(stage->name, width);
        printf(" ");
        cell(dregs_stage_kind_name(stage->kind), 6);
        if (!dregs_stage_is(stage, DREGS_STAGE_WET)) {
            printf("%*s\n", COLUMN, "dried");
            continue;
        }
        cell(number(&n, carried->out * ML), -COLUMN);
        cell(number(&n, carried->thickness * UM), -COLUMN);
        for (s = 0; s < dregs_line_solutes(line); s++) {
            cell(number(&n, dregs_state_concentration(answer->result->at_shown, s, i) * MG_PER_L),
                 -solute_width(line, s));
        }
        printf("\n");
    }
}

static void residue_row(const struct predict_page *answer, const char *name, double film,
                        double adhering)
{
    double per_part = dregs_line_load(answer->line)->area.si;
    struct numbers n = {0};

    cell(name, name_width(answer) + 7);
    cell(number(&n, film * UG_PER_CM2), -COLUMN);
    cell(number(&n, adhering * UG_PER_CM2), -COLUMN);
    cell(number(&n, (film + adhering) * UG_PER_CM2), -COLUMN - 1);
    cell(number(&n, (film + adhering) * per_part * MG), -COLUMN - 1);
}

static void residue_head(const struct predict_page *answer, const char *first)
{
    cell(first, name_width(answer) + 7);
    cell("dried film", -COLUMN);
    cell("adhering", -COLUMN);
    cell("together", -COLUMN - 1);
    cell("per part", -COLUMN - 1);
    printf("\n");
    cell("", name_width(answer) + 7);
    cell("ug/cm2", -COLUMN);
    cell("ug/cm2", -COLUMN);
    cell("ug/cm2", -COLUMN - 1);
    cell("mg", -COLUMN - 1);
    printf("\n");
}

static void print_solutes(const struct predict_page *answer)
{
    const dregs_residue *r = &answer->result->worst_residue;
    unsigned s;

    printf("\nwhat that load keeps when it has dried\n");
    residue_head(answer, "solute");
    for (s = 0; s < r->solutes; s++) {
        residue_row(answer, dregs_line_solute(answer->line, s)->name, r->film[s], r->adhering[s]);
        printf("\n");
    }
    residue_row(answer, "total", r->film_total, r->adhering_total);
    printf("\n");
}

static void total_row(const struct predict_page *answer, const char *name, const dregs_residue *r)
{
    const dregs_level *level = dregs_level_reached(r->total);

    residue_row(answer, name, r->film_total, r->adhering_total);
    printf("  %s\n", level ? level->name : "none");
}

static void print_load(void *user, uint64_t load, const dregs_state *state,
                       const dregs_residue *residue)
{
    char name[32];

    (void)state;
    snprintf(name, sizeof name, "%llu", (unsigned long long)load);
    total_row(user, name, residue);
}

static int print_growth(const struct predict_page *answer)
{
    int status;
    uint64_t period = dregs_line_period(answer->line);

    printf("\nhow the residue grows, load by load (right: the level reached)\n");
    residue_head(answer, "load");
    status = each_load(answer, print_load, (void *)answer);
    if (status)
        return status;
    if (answer->result->settles)
        total_row(answer, period > 1 ? "long run, worst" : "steady state",
                  &answer->result->steady_residue);
    if (!answer->result->settles)
        printf("the line has no steady state: some solute has no way out of a tank\n");
    if (answer->result->settles && period > 1)
        printf("all dumps fall together every %llu loads; in the long run load %llu after that is "
               "the worst\n",
               (unsigned long long)period, (unsigned long long)answer->result->steady.load);
    return FRONT_DONE;
}

static void print_list(const char *title, const char *(*at)(const dregs_line *, unsigned),
                       const dregs_line *line)
{
    unsigned i;

    for (i = 0; at(line, i); i++) {
        if (i == 0)
            printf("\n%s\n", title);
        printf("  ");
        wrapped(at(line, i), 2, 4);
    }
}

int page_text(const struct predict_page *answer)
{
    int status;

    print_head(answer);
    print_verdicts(answer);
    print_stages(answer);
    print_solutes(answer);
    status = print_growth(answer);
    if (!dregs_stage_is(dregs_line_stage(answer->line, dregs_line_stages(answer->line) - 1),
                        DREGS_STAGE_DRIES))
        printf("the line has no drying at its end: the last film is taken to dry on the parts\n");
    print_list("assumed, because the file does not state it", dregs_line_assumed, answer->line);
    print_list("in the file, not used here", dregs_line_unused, answer->line);
    page_cautions(answer->line);
    return status;
}
