/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_bound.c: limits of concentration: against closed forms worked out beside each test, and
 * against a march that lets every load pass by itself and looks at each.
 */
#include "check_main.h"
#include "dregs/bound.h"
#include "dregs/stage.h"
#include "line/line.h"
#include "lines.h"

#include <math.h>
#include <string.h>

static struct lines_text text;

struct answer {
    dregs_line *line;
    dregs_map *map;
    dregs_bounds *bounds;
};

static struct answer ask(const char *rows, uint64_t loads)
{
    struct answer a = {0};

    lines_begin(&text);
    lines_say(&text, "%s", rows);
    a.line = lines_read(text.bytes);
    a.map = lines_map(a.line);
    ck_assert_int_eq(dregs_bounds_new(a.map, loads, 1, &a.bounds), DREGS_OK);
    return a;
}

static void drop(struct answer *a)
{
    dregs_bounds_free(a->bounds);
    dregs_map_free(a->map);
    lines_free(a->line);
}

static void near_to(double value, double expected, double relative)
{
    ck_assert_near(value, expected, relative, "value");
}

/* One wash of 10 L, 2 parts of 100 cm2, films of 50 um: a load brings nothing and drags out
 * 2 x 100e-4 m2 x 50e-6 m = 1e-6 m3; 2 x 5 mg of oil come off, all of them. */
#define WASH                                                                                       \
    "basket,kind,load,\nbasket,parts,2,1\nbasket,area,100,cm2\nbasket,interval,5,min\n"            \
    "oil,kind,solute,\noil,on parts,5,mg\nsoap,kind,solute,\n"                                     \
    "brine,kind,liquid,\nbrine,solvent,water,\nbrine,soap,20,g/L\n"                                \
    "bath,kind,wash,\nbath,volume,10,L\nbath,liquid,brine,\nbath,removal,100,%\nbath,film,50,um\n"

/* Topped up with its own liquid, oil before load k is 1e-5 (1 - q^k) / (1 - q) kg in the tank with
 * that load's own, q = 1 - 1e-6 / 1e-2: in kg/m3 it is 1e-3 (1 - q^k) / 1e-4 = 10 (1 - q^k). Beyond
 * 0.2 g/L when q^k < 0.98, k > log(0.98) / log(0.9999) = 202.02: load 203. */
START_TEST(a_limit_is_crossed_at_the_load_of_the_closed_form)
{
    struct answer a = ask(WASH "bath,most oil,0.2,g/L\n", DREGS_NO_END);
    const dregs_bound *bound = dregs_bounds_at(a.bounds, 0);
    double crossed = floor(log(0.98) / log(0.9999)) + 1;

    ck_assert_uint_eq(dregs_bounds_count(a.bounds), 1);
    ck_assert_int_eq(bound->kind, DREGS_BOUND_MOST);
    ck_assert_uint_eq(bound->crossed, (uint64_t)crossed);
    ck_assert_int_eq(bound->in_the_long_run, 1);
    near_to(bound->reached, 10.0, 1e-9); /* 1e-5 kg in, 1e-6 m3 out */
    near_to(bound->share, 50.0, 1e-9);
    ck_assert_ptr_eq(dregs_bounds_life(a.bounds), bound);
    drop(&a);
    a = ask(WASH "bath,most oil,0.2,g/L\n", (uint64_t)crossed - 1);
    bound = dregs_bounds_at(a.bounds, 0);
    ck_assert_uint_eq(bound->crossed, 0);
    near_to(bound->reached, 10 * (1 - pow(0.9999, crossed - 1)), 1e-9);
    ck_assert_ptr_null(dregs_bounds_life(a.bounds));
    drop(&a);
    /* dumped before that, it never is: load 200 meets 10 (1 - q^200) */
    a = ask(WASH "bath,most oil,0.2,g/L\nbath,dump every,200,1\n", DREGS_NO_END);
    bound = dregs_bounds_at(a.bounds, 0);
    ck_assert_uint_eq(bound->crossed, 0);
    near_to(bound->reached, 10 * (1 - pow(0.9999, 200)), 1e-9);
    ck_assert_uint_eq((bound->load - 1) % 200, 199);
    drop(&a);
}
END_TEST

/* Topped up with water the soap goes 20 q^(k-1) g/L at load k: below 16 when k - 1 > log(0.8) /
 * log(0.9999) = 2231.3: load 2233. With the soil it is 20 q^(k-1) + 10 (1 - q^k). */
START_TEST(a_cleaner_that_is_dragged_out_falls_below_its_least)
{
    struct answer a = ask(WASH "water,kind,liquid,\nwater,solvent,water,\nbath,top up from,water,\n"
                               "bath,least soap,16,g/L\nbath,most dissolved,20.0005,g/L\n",
                          DREGS_NO_END);
    const dregs_bound *least = dregs_bounds_at(a.bounds, 0), *most = dregs_bounds_at(a.bounds, 1);

    ck_assert_int_eq(least->kind, DREGS_BOUND_LEAST);
    ck_assert_uint_eq(least->crossed, (uint64_t)floor(log(0.8) / log(0.9999)) + 2);
    ck_assert_int_eq(most->kind, DREGS_BOUND_DISSOLVED);
    ck_assert_uint_eq(most->crossed, 1);
    near_to(most->reached, 20 + 10 * 1e-4, 1e-12);
    ck_assert_ptr_eq(dregs_bounds_life(a.bounds), most);
    drop(&a);
}
END_TEST

START_TEST(a_solubility_holds_in_every_tank_of_that_liquid)
{
    struct answer a = ask(WASH "brine,solubility oil,0.2,g/L\n"
                               "tub,kind,rinse,\ntub,volume,10,L\ntub,liquid,brine,\n"
                               "tub,film,50,um\n",
                          500);
    const dregs_bound *bath = dregs_bounds_at(a.bounds, 0), *tub = dregs_bounds_at(a.bounds, 1);

    ck_assert_uint_eq(dregs_bounds_count(a.bounds), 2);
    ck_assert_int_eq(bath->kind, DREGS_BOUND_SOLUBILITY);
    ck_assert_uint_eq(bath->crossed, 203);
    ck_assert_uint_eq(tub->stage, 1);
    ck_assert_uint_eq(tub->crossed, 0);
    /* film of load k brings 1e-6 x 10 (1 - q^k) kg; the mixture with it is 1e-2 + 1e-6 m3 */
    {
        double m = 0, c = 0;
        int k;
        for (k = 1; k <= 500; k++) {
            c = (m + 1e-6 * 10 * (1 - pow(0.9999, k))) / (1e-2 + 1e-6);
            m = c * 1e-2;
        }
        near_to(tub->reached, c, 1e-9);
    }
    drop(&a);
}
END_TEST

/* Without a limit the file speaks for itself: dumped every 200 loads the bath reaches 10 (1 -
 * q^200) g/L of oil; ten times that is passed by a line that is never dumped when 10 (1 - q^k) is
 * above it, and the soap, topped up with water, is below 80 % of 20 g/L from load 2233 on, see
 * above. */
START_TEST(the_range_that_a_file_describes)
{
    static const char rows[] =
        WASH "water,kind,liquid,\nwater,solvent,water,\nbath,top up from,water,\n"
             "bath,dump every,200,1\n";
    struct answer a = ask(rows, DREGS_NO_END);
    dregs_setting never = {0, "bath", "dump every", 1000000};
    double most = 10 * 10 * (1 - pow(0.9999, 200));
    dregs_bounds *described;
    dregs_line *other;
    dregs_map *map;

    ck_assert_int_eq(dregs_bounds_described(a.map, a.map, DREGS_NO_END, &described), DREGS_OK);
    ck_assert_uint_eq(dregs_bounds_count(described), 2);
    ck_assert_ptr_null(dregs_bounds_life(described));
    near_to(dregs_bounds_binding(described)->share, 0.8 / pow(0.9999, 199), 1e-9); /* the soap */
    dregs_bounds_free(described);
    ck_assert_int_eq(dregs_line_with(a.line, &never, 1, &other, NULL), DREGS_OK);
    map = lines_map(other);
    ck_assert_int_eq(dregs_bounds_described(map, a.map, DREGS_NO_END, &described), DREGS_OK);
    ck_assert_int_eq(dregs_bounds_at(described, 0)->kind, DREGS_BOUND_CLEANER);
    ck_assert_uint_eq(dregs_bounds_at(described, 0)->crossed, 2233);
    ck_assert_int_eq(dregs_bounds_at(described, 1)->kind, DREGS_BOUND_SOIL);
    near_to(dregs_bounds_at(described, 1)->limit.si, most, 1e-9);
    ck_assert_uint_eq(dregs_bounds_at(described, 1)->crossed,
                      (uint64_t)floor(log(1 - most / 10) / log(0.9999)) + 1);
    dregs_bounds_free(described);
    dregs_map_free(map);
    dregs_line_free(other);
    drop(&a);
}
END_TEST

/* ---- random lines against a march ---- */

static double mixture(const dregs_state *state, const dregs_line *line, unsigned solute,
                      unsigned stage)
{
    const dregs_carried *film = dregs_line_carried(line, stage);
    double volume = dregs_line_tank(line, (unsigned)dregs_line_stage(line, stage)->tank)->volume;
    double in = stage ? dregs_state_film(state, solute, stage - 1) : 0.0;
    double trapped = stage ? film->opened * dregs_state_trapped(state, solute, stage - 1) : 0.0;
    double brought = film->in - film->trapped_in, left = (1 - film->opened) * film->trapped_in;
    double bypass = brought > 0 ? (film->bypass - left) / brought : 0.0;

    return (dregs_state_met(state, solute, stage) + (1 - bypass) * in + trapped) /
           (volume + film->in - film->bypass);
}

static double pure_water(void)
{
    double own;

    ck_assert_int_eq(dregs_water_conductivity(DREGS_METER_TEMPERATURE, &own, NULL), DREGS_OK);
    return own;
}

static double marched(const dregs_bound *bound, const dregs_state *state, const dregs_line *line)
{
    double sum = 0, wash = 0;
    unsigned s;
    int i;

    for (s = 0; s < dregs_line_solutes(line); s++)
        if (bound->solute < 0 || bound->solute == (int)s)
            sum += bound->in_film ? dregs_state_concentration(state, s, bound->stage)
                                  : mixture(state, line, s, bound->stage);
    if (bound->kind == DREGS_BOUND_CONDUCTIVITY) /* 2 uS/cm per mg/L of s0: 0.2 S/m per kg/m3 */
        return pure_water() + 0.2 * (bound->in_film
                                         ? dregs_state_concentration(state, 0, bound->stage)
                                         : mixture(state, line, 0, bound->stage));
    if (bound->kind != DREGS_BOUND_RATIO)
        return sum;
    for (i = (int)bound->stage - 1; i >= 0; i--)
        if (dregs_line_stage(line, (unsigned)i)->kind == DREGS_WASH)
            break;
    for (s = 0; s < dregs_line_solutes(line); s++)
        wash += dregs_state_concentration(state, s, (unsigned)i);
    return wash / sum;
}

static int beyond(const dregs_bound *bound, double value)
{
    int high = bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_RATIO;

    return high ? bound->limit.si / value > 1 + 1e-9 : value / bound->limit.si > 1 + 1e-9;
}

static void march(struct answer *a, uint64_t loads, unsigned *crossings)
{
    unsigned b, count = dregs_bounds_count(a->bounds);
    double worst[512];
    uint64_t first[512] = {0}, load;
    dregs_state *state = lines_state(a->map);

    ck_assert_uint_le(count, 512);
    for (load = 1; load <= loads; load++) {
        for (b = 0; b < count; b++) {
            const dregs_bound *bound = dregs_bounds_at(a->bounds, b);
            double value = marched(bound, state, a->line);
            double share = dregs_bound_next(bound, state);
            int high = bound->kind == DREGS_BOUND_LEAST || bound->kind == DREGS_BOUND_RATIO;
            ck_assert_msg((high ? bound->limit.si / share : share * bound->limit.si) == value ||
                              fabs((high ? bound->limit.si / share : share * bound->limit.si) -
                                   value) <= 1e-12 * value,
                          "bound %u: share %.17g, marched %.17g", b, share, value);
            if (load == 1 || (high ? value < worst[b] : value > worst[b]))
                worst[b] = value;
            if (!first[b] && beyond(bound, value))
                first[b] = load;
        }
        dregs_state_step(state);
    }
    for (b = 0; b < count; b++) {
        const dregs_bound *bound = dregs_bounds_at(a->bounds, b);
        ck_assert_msg(bound->reached == worst[b] ||
                          fabs(bound->reached - worst[b]) <= 1e-8 * fabs(worst[b]) + 1e-30,
                      "bound %u kind %d: %.17g, marched %.17g", b, (int)bound->kind, bound->reached,
                      worst[b]);
        ck_assert_msg(bound->crossed == first[b], "bound %u kind %d: %llu, marched %llu", b,
                      (int)bound->kind, (unsigned long long)bound->crossed,
                      (unsigned long long)first[b]);
        *crossings += first[b] > 1;
    }
    dregs_state_free(state);
}

/* Limits around what the tanks of a random line hold, some within reach and some not. */
static void say_limits(const dregs_line *line, struct lines_text *into, struct lines_stream *r)
{
    unsigned i, s;

    for (i = 0; i < dregs_line_stages(line); i++)
        for (s = 0; s < dregs_line_solutes(line); s++) {
            const char *stage = dregs_line_stage_name(line, i);
            const char *solute = dregs_line_solute_name(line, s);
            if (dregs_line_stage(line, i)->tank < 0)
                continue;
            if (lines_chance(r, 0.7))
                lines_say(into, "%s,most %s,%.5g,mg/L\n", stage, solute,
                          pow(10, lines_between(r, -1, 3.5)));
            else if (lines_chance(r, 0.6))
                lines_say(into, "%s,least %s,%.5g,mg/L\n", stage, solute,
                          pow(10, lines_between(r, -1, 3.5)));
        }
}

/* Targets of concentration, in the last film or in a tank. */
static void say_targets(const dregs_line *line, struct lines_text *into, struct lines_stream *r)
{
    unsigned stages = dregs_line_stages(line), tank = stages, i;
    int wash = 0;

    if (dregs_line_target_name(line))
        return;
    lines_say(into, "goal,kind,target,\n");
    if (lines_chance(r, 0.5))
        for (tank = 0; tank < stages && dregs_line_stage(line, tank)->tank < 0;)
            tank++;
    if (tank < stages)
        lines_say(into, "goal,measured in,%s,\n", dregs_line_stage_name(line, tank));
    for (i = 0; i < tank && i < (unsigned)dregs_line_last_wet(line); i++)
        wash |= dregs_line_stage(line, i)->kind == DREGS_WASH;
    if (wash)
        lines_say(into, "goal,rinse ratio,%.5g,1\n", pow(10, lines_between(r, 0, 3)));
    lines_say(into, "goal,concentration s0,%.5g,mg/L\n", pow(10, lines_between(r, -1, 3)));
    lines_say(into, "goal,non-volatile residue,%.5g,mg/L\n", pow(10, lines_between(r, 0, 4)));
    lines_say(into, "s0,conductivity,2,uS/cm per mg/L\ngoal,conductivity,%.5g,uS/cm\n",
              pow(10, lines_between(r, 0, 4)));
}

START_TEST(random_lines_stand_as_a_march_finds_them)
{
    static struct lines_text rows;
    struct lines_stream r = {.key = 71};
    unsigned number, crossings = 0;

    for (number = 0; number < 200; number++) {
        dregs_line *line = lines_random_either(9000 + number, &rows);
        struct answer a = {0};
        uint64_t loads = 1 + lines_below(&r, 700);
        say_limits(line, &rows, &r);
        say_targets(line, &rows, &r);
        lines_free(line);
        a.line = lines_read(rows.bytes);
        a.map = lines_map(a.line);
        ck_assert_int_eq(dregs_bounds_new(a.map, loads, 1, &a.bounds), DREGS_OK);
        march(&a, loads, &crossings);
        drop(&a);
    }
    ck_assert_uint_gt(crossings, 100); /* the test would else hold nothing */
}
END_TEST

/* For ever: nothing that 3000 loads show is worse, and what was crossed is crossed there too. */
START_TEST(for_ever_is_no_better_than_the_first_loads)
{
    static struct lines_text rows;
    struct lines_stream r = {.key = 72};
    unsigned number, b;

    for (number = 0; number < 100; number++) {
        dregs_line *line = lines_random_either(9500 + number, &rows);
        struct answer a = {0};
        dregs_bounds *some;
        say_limits(line, &rows, &r);
        say_targets(line, &rows, &r);
        lines_free(line);
        a.line = lines_read(rows.bytes);
        a.map = lines_map(a.line);
        ck_assert_int_eq(dregs_bounds_new(a.map, DREGS_NO_END, 1, &a.bounds), DREGS_OK);
        ck_assert_int_eq(dregs_bounds_new(a.map, 3000, 1, &some), DREGS_OK);
        for (b = 0; b < dregs_bounds_count(some); b++) {
            const dregs_bound *first = dregs_bounds_at(some, b);
            const dregs_bound *ever = dregs_bounds_at(a.bounds, b);
            ck_assert_msg(ever->share >= first->share * (1 - 1e-8), "bound %u: %.17g < %.17g", b,
                          ever->share, first->share);
            if (first->crossed)
                ck_assert_uint_eq(ever->crossed, first->crossed);
            else
                ck_assert(!ever->crossed || ever->crossed > 3000);
            ck_assert_int_eq(ever->share > 1 + 1e-9, ever->crossed != 0);
        }
        dregs_bounds_free(some);
        drop(&a);
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("bound");
    TCase *c = tcase_create("bounds");

    tcase_set_timeout(c, 60);
    suite_add_tcase(s, c);
    tcase_add_test(c, a_limit_is_crossed_at_the_load_of_the_closed_form);
    tcase_add_test(c, a_cleaner_that_is_dragged_out_falls_below_its_least);
    tcase_add_test(c, a_solubility_holds_in_every_tank_of_that_liquid);
    tcase_add_test(c, the_range_that_a_file_describes);
    tcase_add_test(c, random_lines_stand_as_a_march_finds_them);
    tcase_add_test(c, for_ever_is_no_better_than_the_first_loads);
    return s;
}

int main(void)
{
    return run(suite());
}
