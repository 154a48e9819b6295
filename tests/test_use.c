/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_use.c: the liquid that a line takes and gives with each load, by hand; over random lines
 * what comes in goes out.
 */
#include "check_main.h"
#include "dregs/use.h"
#include "lines.h"

#include <string.h>

static struct lines_text text;

/* 1 m2 in 6 min: a flow of 10 L/h is 1 L per load; films of 1 mm are 1 L. */
static void begin_use(void)
{
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
              "salt,kind,solute,\nbrine,kind,liquid,\nbrine,solvent,water,\nbrine,salt,1,g/L\n"
              "brine,price,2,EUR/L\nbrine,disposal,3,EUR/L\n"
              "water,kind,liquid,\nwater,solvent,water,\nwater,price,0.5,EUR/L\n"
              "water,disposal,0.25,EUR/L\n");
}

static void add_tank(const char *name, const char *kind, const char *liquid, double volume,
                     double film_mm)
{
    lines_say(&text, "%s,kind,%s,\n%s,volume,%.17g,L\n%s,liquid,%s,\n%s,film,%.17g,mm\n", name,
              kind, name, volume, name, liquid, name, film_mm);
}

/* Litres per load; bought and cost are checked against them. */
struct litres {
    double flow, top_up, sprayed, refilled, to_drain, dumped, evaporated, dried, cost;
};

static void uses(const struct litres *expected)
{
    dregs_line *line = lines_read(text.bytes);
    dregs_use use;

#define SAME(field)                                                                                \
    ck_assert_msg(fabs(use.field * 1e3 - expected->field) <= 1e-12,                                \
                  #field ": %.17g L per load, by hand %.17g", use.field * 1e3, expected->field)
    dregs_balance_use(line, &use);
    SAME(flow);
    SAME(top_up);
    SAME(sprayed);
    SAME(refilled);
    SAME(to_drain);
    SAME(dumped);
    SAME(evaporated);
    SAME(dried);
#undef SAME
    ck_assert_double_eq_tol(
        use.bought * 1e3,
        expected->flow + expected->top_up + expected->sprayed + expected->refilled, 1e-12);
    if (isnan(expected->cost))
        ck_assert_double_nan(use.cost);
    else
        ck_assert_double_eq_tol(use.cost, expected->cost, 1e-12);
    lines_free(line);
}

START_TEST(liquid_by_hand_counterflow)
{
    /* The bath loses 1 L with each load: 1 L of brine. The rinses gain and lose 1 L of film; 20
     * L/h are 2 L per load and all reach the drain. The oven dries the last film of 1 L. */
    const struct litres expected = {2, 1, 0, 0, 2, 0, 0, 1, 1 * 2 + 2 * 0.5 + 2 * 0.25};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    add_tank("one", "rinse", "water", 20, 1);
    add_tank("two", "rinse", "water", 20, 1);
    lines_say(&text, "two,flow,20,L/h\ntwo,overflow to,one,\n"
                     "oven,kind,dry,\noven,temperature,60,degC\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_evaporation_and_top_up)
{
    /* The bath loses 1 L of film and 30 L/h = 3 L to the air, and draws these 4 L from the rinse.
     * That gains 1 L and loses 0.5 L of film, is fed 1 L and gives 4 L: 2.5 L short, from the tap.
     * Air dries 0.5 L. */
    const struct litres expected = {1, 2.5, 0, 0, 0, 0, 3, 0.5, 3.5 * 0.5};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    add_tank("one", "rinse", "water", 20, 0.5);
    lines_say(&text, "one,flow,10,L/h\nbath,evaporation,30,L/h\nbath,top up from,one,\n"
                     "oven,kind,dry,\noven,temperature,60,degC\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_sprays)
{
    /* One spray takes 1 L of film, sprays 4 L, leaves 0.25 L: 4.75 L run off into the bath, which
     * loses 1 L of film: 3.75 L of brine to the drain. The other sprays 2 L onto 0.25 L and leaves
     * 0.5 L: 1.75 L to the drain. 0.5 L leave the line wet. */
    const struct litres expected = {0, 0, 6, 0, 5.5, 0, 0, 0.5, 6 * 0.5 + 3.75 * 3 + 1.75 * 0.25};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    lines_say(&text, "jet,kind,spray,\njet,liquid,water,\njet,use,4,L\njet,film,0.25,mm\n"
                     "jet,runoff to,bath,\n"
                     "fan,kind,spray,\nfan,liquid,water,\nfan,use,2,L\nfan,film,0.5,mm\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_dried_between)
{
    /* The film of the bath dries, the rinse starts with nothing and gives 0.4 L. */
    const struct litres expected = {0, 1.4, 0, 0, 0, 0, 0, 1.4, NAN};

    begin_use();
    {
        char *price = strstr(text.bytes, "brine,price");
        *price = '\0'; /* no prices at all */
        text.used = (size_t)(price - text.bytes);
        lines_say(&text, "water,kind,liquid,\nwater,solvent,water,\n");
    }
    add_tank("bath", "wash", "brine", 50, 1);
    lines_say(&text, "air,kind,dry,\nair,temperature,60,degC\n");
    add_tank("one", "rinse", "water", 20, 0.4);
    uses(&expected);
}
END_TEST

/* Stages without a film would need no liquid between dumps; these films are all alike, and what
 * the first one loses is 1 L of its own liquid. */
START_TEST(liquid_by_hand_dumps)
{
    struct litres expected = {0, 1, 0, 0, 0, 0, 0, 1, 0};

    /* passed on: every 4 loads 20 L are dumped, 20 L come from the next, filled afresh */
    begin_use();
    add_tank("one", "rinse", "water", 20, 1);
    add_tank("two", "rinse", "water", 20, 1);
    lines_say(&text, "one,dump every,4,1\none,refill from,two,\n");
    expected.refilled = expected.dumped = 5;
    expected.cost = 0.5 + 5 * 0.5 + 5 * 0.25;
    uses(&expected);

    /* Unequal, at different loads, in 6: one (10 L, every 2) from two (20 L, every 3) from three
     * (30 L). After 2 and 4: 10 L out, 10 L through the chain. After 3: 20 L out and in. After 6:
     * one gives 10 L and takes 10 of two's 20 L; the other 10 L of two are dumped; 20 L in. */
    begin_use();
    add_tank("one", "rinse", "water", 10, 1);
    add_tank("two", "rinse", "water", 20, 1);
    add_tank("three", "rinse", "water", 30, 1);
    lines_say(&text, "one,dump every,2,1\none,refill from,two,\n"
                     "two,dump every,3,1\ntwo,refill from,three,\n");
    expected.refilled = expected.dumped = (10 + 10 + 20 + 20) / 6.0;
    expected.cost = 0.5 + 10 * 0.75;
    uses(&expected);

    /* The giver stands before the taker and is dumped before: its fresh 20 L are taken, and made
     * up in turn. Of brine: 20 L in every 5, of which 15 L for the rinse in every 10. */
    begin_use();
    add_tank("bath", "wash", "brine", 20, 1);
    add_tank("rinse", "rinse", "water", 15, 1);
    lines_say(&text, "bath,dump every,5,1\nrinse,dump every,10,1\nrinse,refill from,bath,\n");
    expected.refilled = 20 / 5.0 + 15 / 10.0;
    expected.dumped = 20 / 5.0 + 15 / 10.0;
    expected.cost = 2 + 2 * 5.5 + 3 * 4 + 0.25 * 1.5;
    uses(&expected);
}
END_TEST

START_TEST(what_comes_in_goes_out)
{
    unsigned number;

    for (number = 0; number < 600; number++) {
        dregs_line *line = lines_random_either(number, &text);
        dregs_use use;
        double in, out;
        dregs_balance_use(line, &use);
        in = use.flow + use.top_up + use.sprayed + use.refilled;
        out = use.to_drain + use.dumped + use.evaporated + use.dried;
        ck_assert_msg(fabs(in - out) <= 1e-12 * in, "line %u: %.17g in, %.17g out\n%s", number, in,
                      out, text.bytes);
        ck_assert_double_eq_tol(in, use.bought, 1e-12 * in);
        ck_assert(use.flow >= 0 && use.top_up >= 0 && use.to_drain >= 0 && use.dumped >= 0);
        ck_assert_double_nan(use.cost);
        lines_free(line);
    }
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"liquid use",
         {liquid_by_hand_counterflow, liquid_by_hand_evaporation_and_top_up, liquid_by_hand_sprays,
          liquid_by_hand_dried_between, liquid_by_hand_dumps, what_comes_in_goes_out}},
    };

    return run_cases("use", cases, sizeof cases / sizeof cases[0]);
}
