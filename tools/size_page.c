/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_page.c: dregs-size's page for people, and its working. */
#include "page.h"
#include "size.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LITRES  1e3
#define L_PER_H 3.6e6

static const char *judged_by(const struct size_page *answer, char into[80])
{
    dregs_judging judging = answer->request->asked.judging;

    switch (judging.by) {
    case DREGS_JUDGE_FIRST:
        snprintf(into, 80, "the worst of the first %llu loads", (unsigned long long)judging.loads);
        break;
    case DREGS_JUDGE_STEADY:
        snprintf(into, 80, "the worst load of the periodic state");
        break;
    case DREGS_JUDGE_LOAD:
        snprintf(into, 80, "load %llu", (unsigned long long)judging.loads);
        break;
    default:
        snprintf(into, 80, "the worst load, however long the line runs");
    }
    return into;
}

static void print_limits(const struct size_page *answer)
{
    const dregs_target *target = dregs_line_target(answer->line);
    struct numbers n = {0};
    char judged[80];
    int s;

    printf("%s\n", dregs_line_name(answer->line));
    for (s = DREGS_EVERY_SOLUTE; s < (int)dregs_line_solutes(answer->line); s++) {
        const dregs_value *limit = s < 0 ? &target->residue : &target->of_solute[s];
        if (limit->row)
            printf("  target: at most %s ug/cm2 of %s%s%s%s\n", number(&n, limit->si * UG_PER_CM2),
                   s < 0 ? "all solutes" : dregs_line_solute(answer->line, (unsigned)s)->name,
                   s < 0 && target->level ? " (level " : "",
                   s < 0 && target->level ? target->level : "", s < 0 && target->level ? ")" : "");
    }
    printf("  judged: %s\n\n", judged_by(answer, judged));
}

/* A value to seven figures: what it is sought to. */
static const char *seven(char into[DREGS_NUMBER_TEXT], double value)
{
    return dregs_number_plain(into, value, 7);
}

static void print_values(const struct size_page *answer)
{
    const dregs_size_request *request = &answer->request->asked;
    const dregs_sized *sized = answer->result->sized;
    char text[DREGS_NUMBER_TEXT];
    struct numbers n = {0};
    unsigned i;

    for (i = 0; i < request->count; i++) {
        const dregs_varied *varied = &request->varied[i];
        const char *space = *varied->unit ? " " : "";
        printf("  %s of %s = %s%s%s", varied->property, varied->stage[0],
               seven(text, size_shown(varied, sized->value[i])), space, varied->unit);
        if (isnan(answer->result->before[i]))
            printf("   (the file states none)");
        else
            printf("   (the file: %s%s%s)",
                   number(&n, size_shown(varied, answer->result->before[i])), space, varied->unit);
        if (sized->at_low[i] || sized->at_high[i])
            printf("   at the %s end of its range", sized->at_low[i] ? "lower" : "upper");
        printf("\n");
    }
}

/* Which part of the residue the rinsing cannot take away. */
static void print_floor(const dregs_standing *standing)
{
    double limit = standing->residue / standing->excess;
    struct numbers n = {0};
    char text[500];

    snprintf(text, sizeof text,
             "of the %s ug/cm2, %s stay even with nothing but fresh liquid in the last film: %s is "
             "soil that adheres, %s dries out of that film%s",
             number(&n, standing->residue * UG_PER_CM2), number(&n, standing->floor * UG_PER_CM2),
             number(&n, standing->floor_adhering * UG_PER_CM2),
             number(&n, (standing->floor - standing->floor_adhering) * UG_PER_CM2),
             standing->floor_adhering > limit ? "; the adhering soil alone is above the limit: it "
                                                "takes better washing"
             : standing->floor > limit ? "; with that the limit is passed: it takes cleaner rinse "
                                         "liquid or a thinner last film"
                                       : "");
    printf("  ");
    wrapped(text, 2, 4);
}

static void print_use(const struct size_page *answer, const dregs_use *use)
{
    struct numbers n = {0};
    char text[300];

    snprintf(text, sizeof text, "fresh liquid: %s L per load, %s L per shift of %s loads%s",
             number(&n, use->bought * LITRES),
             number(&n, use->bought * LITRES * answer->result->loads_per_shift),
             number(&n, answer->result->loads_per_shift),
             answer->result->shift_assumed ? " (8 h, assumed: the file states no schedule)" : "");
    printf("  ");
    wrapped(text, 2, 4);
    printf("  waste: %s L per load to drain, %s L dumped\n", number(&n, use->to_drain * LITRES),
           number(&n, use->dumped * LITRES));
    if (!isnan(use->cost))
        printf("  cost: %s per load, in the file's currency\n", number(&n, use->cost));
}

double size_shown(const dregs_varied *varied, double si)
{
    dregs_unit unit;

    return dregs_unit_read(varied->unit, &unit, NULL) ? si : dregs_unit_from_si(unit, si);
}

static void print_rule(const struct size_page *answer)
{
    const dregs_size_rule *rule = &answer->result->rule;
    struct numbers n = {0};

    if (isnan(rule->ratio) || answer->result->sized->throughout)
        return;
    printf(
        "\nrules of thumb, beside the answer (%u rinses taken as counterflow, the fresh liquid's "
        "own taken off)\n",
        rule->stages);
    printf("  rinse ratio C0/Cn %s; fresh liquid over drag-out: %s in this answer\n",
           number(&n, rule->ratio), number(&n, rule->exact));
    printf("  root form (C0/Cn)^(1/n): %s, off by %s %%\n", number(&n, rule->root),
           number(&n, (rule->root / rule->exact - 1) * 100));
    printf("  series 1 + R + ... + R^n = C0/Cn: %s, off by %s %%\n", number(&n, rule->series),
           number(&n, (rule->series / rule->exact - 1) * 100));
}

static void print_answer(const struct size_page *answer)
{
    const dregs_sized *sized = answer->result->sized;
    struct numbers n = {0};

    if (!sized->feasible) {
        printf("NOT POSSIBLE in the range: at best the residue is %s times the limit\n",
               number(&n, sized->standing.excess));
        printf("  nearest:\n");
    } else if (sized->throughout) {
        printf("the target is met over the whole range; least %s:\n",
               answer->result->by_cost ? "cost" : "fresh liquid");
    } else if (answer->request->asked.count > 1) {
        printf("the target is met at the least %s found with\n",
               answer->result->by_cost ? "cost" : "fresh liquid");
    } else {
        printf("the target is just met with\n");
    }
    if (sized->trials >= DREGS_SIZE_TRIALS)
        printf("  (the best of %u trials: the search was ended there)\n", sized->trials);
    print_values(answer);
    printf("  it leaves %s ug/cm2 of %s, %s %% of the limit\n",
           number(&n, sized->standing.residue * UG_PER_CM2),
           sized->standing.limit < 0
               ? "all solutes"
               : dregs_line_solute(answer->line, (unsigned)sized->standing.limit)->name,
           number(&n, sized->standing.excess * 100));
    print_floor(&sized->standing);
    print_use(answer, &sized->use);
    print_rule(answer);
}

enum { LAYOUT_WIDTH = 18, WIDE = 12 };

static void print_row(const struct size_page *answer, const dregs_size_row *row)
{
    const dregs_sized *sized = row->sized;
    struct numbers n = {0};
    char sought[64], count[16];

    cell(dregs_layout_name(row->layout), LAYOUT_WIDTH);
    snprintf(count, sizeof count, "%u", row->stages);
    cell(count, -2);
    if (!row->possible) {
        printf("  ");
        wrapped(row->message, LAYOUT_WIDTH + 4, LAYOUT_WIDTH + 4);
        return;
    }
    if (!sized->feasible) {
        printf("  not possible: at best %s times the limit\n", number(&n, sized->standing.excess));
        return;
    }
    snprintf(sought, sizeof sought, "%s %s %s", row->varied.property,
             number(&n, size_shown(&row->varied, sized->value[0])), row->varied.unit);
    printf("  ");
    cell(sought, 20);
    cell(number(&n, sized->use.bought * LITRES), -WIDE);
    cell(number(&n, sized->use.bought * LITRES * answer->result->loads_per_shift), -WIDE);
    cell(number(&n, (sized->use.to_drain + sized->use.dumped) * LITRES *
                        answer->result->loads_per_shift),
         -WIDE);
    cell(number(&n, (1 - sized->standing.excess) * 100), -WIDE);
    cell(number(&n, row->volume * LITRES), -9);
    if (!isnan(sized->use.cost))
        cell(number(&n, sized->use.cost * answer->result->loads_per_shift), -WIDE);
    if (sized->throughout)
        printf("  met over the whole range");
    if (row->dominated >= 0) {
        const dregs_size_row *by = dregs_size_result_row(answer->result, (size_t)row->dominated);
        printf("  < %s %u", dregs_layout_name(by->layout), by->stages);
    }
    printf("\n");
}

static void print_table(const struct size_page *answer)
{
    size_t i;
    struct numbers n = {0};

    printf("n equal rinses, sized to meet the target; least fresh liquid first\n");
    cell("layout", LAYOUT_WIDTH);
    printf(" n  ");
    cell("sought", 20);
    cell("fresh", -WIDE);
    cell("fresh", -WIDE);
    cell("waste", -WIDE);
    cell("margin", -WIDE);
    cell("tanks", -9);
    if (answer->result->by_cost)
        cell("cost", -WIDE);
    printf("\n");
    cell("", LAYOUT_WIDTH + 24);
    cell("L/load", -WIDE);
    cell("L/shift", -WIDE);
    cell("L/shift", -WIDE);
    cell("%", -WIDE);
    cell("L", -9);
    if (answer->result->by_cost)
        cell("per shift", -WIDE);
    printf("\n");
    for (i = 0; i < answer->result->rows; i++)
        print_row(answer, dregs_size_result_row(answer->result, i));
    printf(
        "\n  '< x' marks a row that x beats in liquid, tanks or number of stages, and loses to in "
        "none\n  a shift has %s loads%s; tanks are those of the rinses\n",
        number(&n, answer->result->loads_per_shift),
        answer->result->shift_assumed ? " (8 h, assumed: the file states no schedule)" : "");
}

static void print_rules(const struct size_page *answer)
{
    size_t i;
    int shown = 0;

    for (i = 0; i < answer->result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(answer->result, i);
        const dregs_size_rule *rule = &row->rule;
        struct numbers n = {0};
        if (isnan(rule->ratio) || row->sized->throughout)
            continue;
        if (!shown++)
            printf(
                "\nrules of thumb beside the counterflow answers: fresh liquid over drag-out\n"
                "   n        C0/Cn       answer    root form      off, %%       series      off, "
                "%%\n");
        printf("%4u ", row->stages);
        cell(number(&n, rule->ratio), -12);
        printf(" ");
        cell(number(&n, rule->exact), -12);
        printf(" ");
        cell(number(&n, rule->root), -12);
        cell(number(&n, (rule->root / rule->exact - 1) * 100), -12);
        printf(" ");
        cell(number(&n, rule->series), -12);
        cell(number(&n, (rule->series / rule->exact - 1) * 100), -12);
        printf("\n");
    }
}

int size_page_text(const struct size_page *answer)
{
    print_limits(answer);
    if (answer->request->asked.first) {
        print_table(answer);
        print_rules(answer);
    } else {
        print_answer(answer);
    }
    page_cautions(answer->line);
    return FRONT_DONE;
}

static void explain_trials(const dregs_varied *varied, unsigned count, const dregs_sized *sized)
{
    unsigned i, k, kept = sized->trials < DREGS_TRIALS_MOST ? sized->trials : DREGS_TRIALS_MOST;
    char text[DREGS_NUMBER_TEXT];

    for (i = 0; i < kept; i++) {
        printf("    %3u:", i + 1);
        for (k = 0; k < count; k++)
            printf(" %s = %s %s,", varied[k].property,
                   seven(text, size_shown(&varied[k], sized->trial[i].value[k])), varied[k].unit);
        if (isfinite(sized->trial[i].excess))
            printf(" residue / limit = %s\n", seven(text, sized->trial[i].excess));
        else
            printf(" no line: refused\n");
    }
    if (kept < sized->trials)
        printf("    and %u more\n", sized->trials - kept);
}

static void explain_varied(const struct size_page *answer)
{
    const dregs_size_request *request = &answer->request->asked;
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    unsigned i;

    printf("\nhow it was found\n");
    for (i = 0; i < request->count; i++) {
        const dregs_varied *v = &request->varied[i];
        printf("  %s of %s between %s (%s) and %s %s (%s)\n", v->property, v->stage[0],
               seven(low, size_shown(v, v->low)),
               v->low_given ? "asked for" : "usual for this line",
               seven(high, size_shown(v, v->high)), v->unit,
               v->high_given ? "asked for" : "usual for this line");
    }
    printf(
        "  %s\n",
        request->count > 1
            ? "least fresh liquid (or cost, where prices are stated) with ln(residue/limit) <= 0: "
              "SLSQP (Kraft 1988) from three starts; whole numbers tried one by one"
        : request->varied[0].whole
            ? "the largest whole number that meets the target: doubled until it misses, then "
              "closed in on"
            : "ln(residue/limit) = 0 by Brent's method (Brent 1973) on a bracket");
    printf(
        "  every trial is the line file with the value put in, read anew and judged; they were\n");
    explain_trials(request->varied, request->count, answer->result->sized);
}

static void explain_formulas(void)
{
    printf("\nformulas shown beside the answer\n"
           "  C0: all solutes in the film that enters the rinses; Cn: in the last film; the fresh "
           "liquid's own Cw is\n  taken off both; fresh liquid over drag-out: R = flow T / D\n"
           "  root form R = (C0/Cn)^(1/n)  [GOST 9.047-75 p. 67]\n"
           "  series 1 + R + ... + R^n = C0/Cn  [counterflow with equal drag-in and drag-out]\n"
           "  both hold for endless small loads and a steady state; the answer does not need "
           "that\n");
}

int size_page_explain(const struct size_page *answer)
{
    size_t i;
    int status = size_page_text(answer);

    if (!answer->request->asked.first) {
        explain_varied(answer);
    } else {
        printf("\nhow they were found: the rinses are replaced, in the file's text, by n like the "
               "last one; the value\n  sought is then varied until the target is just met\n");
        for (i = 0; i < answer->result->rows; i++) {
            const dregs_size_row *row = dregs_size_result_row(answer->result, i);
            if (!row->possible)
                continue;
            printf("  %s %u\n", dregs_layout_name(row->layout), row->stages);
            explain_trials(&row->varied, 1, row->sized);
        }
    }
    explain_formulas();
    return status;
}
