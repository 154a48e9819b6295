/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_size_proof.c: several flows on random small lines against brute force: no point of a grid,
 * nor any around the answer, takes less than what the search says that none takes less than.
 */
#include "check_main.h"
#include "dregs/balance.h"
#include "lines.h"
#include "sizing.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

#define LPH (1e-3 / 3600)

enum { FLOWS_MOST = 3 };

static const char *const stages[FLOWS_MOST] = {"one", "two", "three"};
static const double low = 0.1 * LPH, high = 300 * LPH;

/* A bath and so many rinses, some of tap water whose salts stay, some that overflow to the one
 * before, with or without prices; `limit` in kg/m2. */
static void write_line(uint64_t number, unsigned flows, double limit)
{
    struct lines_stream r = {number, 0};
    int priced = lines_chance(&r, 0.5);
    unsigned i;

    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,%.6g,min\n"
              "salt,kind,solute,\nlime,kind,solute,\n"
              "strong,kind,liquid,\nstrong,solvent,water,\nstrong,salt,20,g/L\n"
              "tap,kind,liquid,\ntap,solvent,water,\ntap,lime,%.6g,g/L\n"
              "di,kind,liquid,\ndi,solvent,water,\ndi,lime,1,mg/L\n",
              lines_between(&r, 2, 12), lines_between(&r, 0.05, 0.4));
    if (priced)
        lines_say(&sizing.text,
                  "strong,price,1,EUR/m3\ntap,price,%.6g,EUR/m3\ndi,price,%.6g,EUR/m3\n",
                  lines_between(&r, 1, 4), lines_between(&r, 3, 30));
    lines_say(&sizing.text, "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,strong,\n"
                            "bath,film,60,um\n");
    for (i = 0; i < flows; i++) {
        const char *name = stages[i];
        lines_say(&sizing.text,
                  "%s,kind,rinse,\n%s,volume,%.6g,L\n%s,liquid,%s,\n%s,film,%.6g,um\n"
                  "%s,flow,5,L/h\n",
                  name, name, lines_between(&r, 5, 60), name,
                  i + 1 < flows && lines_chance(&r, 0.6) ? "tap" : "di", name,
                  lines_between(&r, 20, 90), name);
        if (i && lines_chance(&r, 0.4))
            lines_say(&sizing.text, "%s,overflow to,%s,\n", name, stages[i - 1]);
    }
    lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,kg/m2\n", limit);
}

/* What a line with these flows takes; infinite where it misses its target. */
static double taken(const dregs_line *line, const double *flow, unsigned flows, double *residue)
{
    dregs_setting settings[FLOWS_MOST];
    dregs_compliance compliance;
    dregs_line *with = NULL;
    dregs_use use;
    unsigned i;

    for (i = 0; i < flows; i++)
        settings[i] = (dregs_setting){0, stages[i], "flow", flow[i]};
    ck_assert_int_eq(dregs_line_with(line, settings, flows, &with, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_size_compliance(with, sizing_ever, &compliance), DREGS_OK);
    dregs_balance_use(with, &use);
    dregs_line_free(with);
    if (residue)
        *residue = compliance.residue;
    return compliance.of_limit > 1 ? HUGE_VAL : isnan(use.cost) ? use.bought : use.cost;
}

/* A random line that flows somewhere in the ranges can bring to its target. */
static dregs_line *random_line(uint64_t number, unsigned flows)
{
    struct lines_stream r = {number, 5000};
    double flow[FLOWS_MOST], residue;
    dregs_line *line;
    unsigned i;

    write_line(number, flows, 1);
    line = lines_read(sizing.text.bytes);
    for (i = 0; i < flows; i++)
        flow[i] = low * pow(high / low, lines_between(&r, 0.3, 1));
    (void)taken(line, flow, flows, &residue);
    lines_free(line);
    write_line(number, flows, residue);
    return lines_read(sizing.text.bytes);
}

/* The least on a grid over the ranges, and among random points around the answer. */
static double brute(const dregs_line *line, const dregs_sized *sized, unsigned flows,
                    unsigned steps, uint64_t number)
{
    struct lines_stream r = {number, 9000};
    double flow[FLOWS_MOST], least = HUGE_VAL;
    unsigned points = 1, point, i, rest;

    for (i = 0; i < flows; i++)
        points *= steps;
    for (point = 0; point < points; point++) {
        for (i = 0, rest = point; i < flows; i++, rest /= steps)
            flow[i] = low * pow(high / low, (double)(rest % steps) / (steps - 1));
        least = fmin(least, taken(line, flow, flows, NULL));
    }
    for (point = 0; point < 60; point++) {
        for (i = 0; i < flows; i++)
            flow[i] = fmin(fmax(dregs_sized_value(sized, i) *
                                    exp(lines_between(&r, -1, 1) * pow(0.8, point / 2.0)),
                                low),
                           high);
        least = fmin(least, taken(line, flow, flows, NULL));
    }
    return least;
}

static int stop_after(void *user, unsigned trials, double expense)
{
    (void)expense;
    return trials >= *(unsigned *)user;
}

static dregs_sized *size(const dregs_line *line, dregs_varied *varied, unsigned flows,
                         unsigned trials)
{
    dregs_sized *sized = NULL;
    dregs_use use;
    unsigned i;

    for (i = 0; i < flows; i++)
        ck_assert_int_eq(dregs_varied_add(varied, "flow", stages + i, 1, low, high, sizing.message),
                         DREGS_OK);
    dregs_varied_watch(varied, stop_after, &trials);
    dregs_balance_use(line, &use);
    ck_assert_int_eq(dregs_size(varied, sizing_ever, !isnan(use.cost), &sized, sizing.message),
                     DREGS_OK);
    return sized;
}

static double expense(const dregs_sized *sized)
{
    const dregs_use *use = dregs_sized_use(sized);

    return isnan(use->cost) ? use->bought : use->cost;
}

static void against_brute_force(uint64_t number, unsigned flows, unsigned steps)
{
    dregs_line *line = random_line(number, flows);
    dregs_varied *varied = dregs_varied_new(line), *again = dregs_varied_new(line);
    dregs_sized *sized = size(line, varied, flows, 1000000), *stopped;
    double least = brute(line, sized, flows, steps, number), possible;

    ck_assert(dregs_sized_feasible(sized));
    possible = dregs_sized_possible(sized);
    ck_assert_msg(expense(sized) <= least * (1 + 1e-3), "line %u: %.9g, brute force %.9g\n%s",
                  (unsigned)number, expense(sized), least, sizing.text.bytes);
    ck_assert_msg(possible <= least * (1 + 1e-9),
                  "line %u: no less than %.9g, brute force %.9g\n%s", (unsigned)number, possible,
                  least, sizing.text.bytes);
    ck_assert(possible <= expense(sized));
    ck_assert_msg(dregs_sized_ended(sized) || possible >= expense(sized) * (1 - 1.0001e-3),
                  "line %u: %.9g of %.9g", (unsigned)number, possible, expense(sized));
    if (flows == 2)
        ck_assert_msg(!dregs_sized_ended(sized), "line %u: after %u trials %g of %g",
                      (unsigned)number, dregs_sized_trials(sized), possible, expense(sized));
    stopped = size(line, again, flows, 12); /* what it knows by then is true as well */
    if (dregs_sized_feasible(stopped))
        ck_assert(dregs_sized_ended(stopped) &&
                  dregs_sized_possible(stopped) <= fmin(least, expense(sized)) * (1 + 1e-9));
    dregs_sized_free(stopped);
    dregs_sized_free(sized);
    dregs_varied_free(again);
    dregs_varied_free(varied);
    lines_free(line);
}

START_TEST(two_flows_are_the_least_of_all)
{
    unsigned number;

    for (number = 0; number < 50; number++)
        against_brute_force(77000 + number, 2, 24);
}
END_TEST

START_TEST(three_flows_are_the_least_of_all)
{
    unsigned number;

    for (number = 0; number < 12; number++)
        against_brute_force(78000 + number, 3, 9);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"brute force", {two_flows_are_the_least_of_all, three_flows_are_the_least_of_all}},
    };

    gsl_set_error_handler_off();
    return run_cases("size_proof", cases, sizeof cases / sizeof cases[0]);
}
