/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_size_more.c: searches on random lines with limits of concentration against the values that
 * the file has; how far off a search may be that was stopped; dump periods in round numbers; mixing
 * and clearing against their closed forms.
 */
#include "check_main.h"
#include "dregs/bound.h"
#include "line/line.h"
#include "sizing.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#define LPH (1e-3 / 3600)

/* ---- never worse than the file ---- */

/* Properties that a random line states, up to two, with ranges around the values stated. */
static unsigned stated(const dregs_line *line, struct lines_stream *stream,
                       struct sizing_varied *varied)
{
    static const char *const properties[] = {"flow", "volume", "dump every", "use"};
    static char names[2][40];
    unsigned attempt, count = 0;
    dregs_value value;

    varied->property = NULL;
    for (attempt = 0; attempt < 60 && count < 2; attempt++) {
        const char *property = properties[lines_below(stream, 4)];
        unsigned stage = lines_below(stream, dregs_line_stages(line));
        double least = strcmp(property, "dump every") == 0 ? 1 : 0.2;
        snprintf(names[count], sizeof names[count], "%s", dregs_line_stage(line, stage)->name);
        if (dregs_line_get(line, names[count], property, &value) || !(value.si > 0) ||
            (count && strcmp(names[0], names[1]) == 0 && varied->property == property))
            continue;
        varied[count] =
            sizing_vary(names[count], property, least == 1 ? 1 : least * value.si, 4 * value.si);
        count += (unsigned)sizing_range(line, &varied[count]);
    }
    return count;
}

/* What the line's own loads bring the bound of such a row to; the row's value is out of reach. */
static double comes_to(const dregs_line *line)
{
    dregs_map *map = lines_map(line);
    dregs_bounds *bounds = NULL;
    double reached;

    ck_assert_int_eq(dregs_bounds_new(map, DREGS_NO_END, 0, &bounds), DREGS_OK);
    ck_assert_uint_eq(dregs_bounds_count(bounds), 1);
    reached = dregs_bounds_at(bounds, 0)->reached;
    dregs_bounds_free(bounds);
    dregs_map_free(map);
    return reached;
}

/* A limit of a tank that the file's own line just keeps; 0 where it holds nothing of the solute. */
static int add_limit(const dregs_line *line, struct lines_stream *stream)
{
    size_t before = sizing.text.used;
    const dregs_tank *tank = dregs_line_tank(line, lines_below(stream, dregs_line_tanks(line)));
    unsigned solute = lines_below(stream, dregs_line_solutes(line));
    dregs_line *limited;
    double reached;

    lines_say(&sizing.text, "%s,most %s,1000,kg/m3\n", dregs_line_stage(line, tank->stage)->name,
              dregs_line_solute_name(line, solute));
    limited = lines_read(sizing.text.bytes);
    reached = comes_to(limited);
    lines_free(limited);
    sizing.text.used = before;
    sizing.text.bytes[before] = '\0';
    if (!(reached > 0))
        return 0;
    lines_say(&sizing.text, "%s,most %s,%.17g,kg/m3\n", dregs_line_stage(line, tank->stage)->name,
              dregs_line_solute_name(line, solute), reached * 1.001);
    return 1;
}

enum { RANDOM_LINES = 120 };

START_TEST(never_worse_than_a_file_with_limits)
{
    struct lines_stream stream = {0x11d5, 0};
    unsigned number, tried = 0, limited = 0, bound = 0, better = 0;

    for (number = 8000; number < 8000 + RANDOM_LINES; number++) {
        dregs_line *line = lines_random(number, &sizing.text, NULL);
        struct sizing_varied varied[2];
        unsigned count = stated(line, &stream, varied);
        dregs_map *map = lines_map(line);
        const dregs_bound *nearest;
        dregs_worst worst;
        dregs_sized *sized;
        dregs_use own;

        ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst),
                         DREGS_OK);
        dregs_map_free(map);
        if (count > 0 && worst.residue > 0) {
            limited += (unsigned)(lines_chance(&stream, 0.7) && add_limit(line, &stream));
            lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,kg/m2\n",
                      worst.residue * 1.001);
            lines_free(line);
            line = lines_read(sizing.text.bytes);
            dregs_balance_use(line, &own);
            sized = sizing_line(line, varied, count, sizing_ever, 0);
            ck_assert_msg(dregs_sized_feasible(sized), "line %u: the file meets its target",
                          number);
            ck_assert_msg(dregs_sized_use(sized)->bought <= own.bought * (1 + 1e-6),
                          "line %u: %.17g L, the file takes %.17g L", number,
                          dregs_sized_use(sized)->bought * 1e3, own.bought * 1e3);
            ck_assert_double_le(
                sizing_compliance(dregs_sized_text(sized, NULL), sizing_ever).of_limit, 1);
            nearest = dregs_sized_bound(sized);
            ck_assert(!nearest || nearest->share <= 1);
            bound += nearest && nearest->share > 0.99;
            better += dregs_sized_use(sized)->bought < own.bought * 0.99;
            tried++;
            sizing_free(sized);
        }
        lines_free(line);
    }
    printf("# %u lines, %u with a limit, which binds in %u; %u take less than the file\n", tried,
           limited, bound, better);
    ck_assert_uint_ge(tried, 50);
    ck_assert_uint_ge(limited, 25);
    ck_assert_uint_ge(bound, 5);
    ck_assert_uint_ge(better, 10);
}
END_TEST

/* ---- a search that is stopped ---- */

/* Two rinses, each fed and draining by itself, one with tap water. */
static void two_flows(double limit)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,5,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,20,g/L\ndi,kind,liquid,\ndi,solvent,water,\ndi,salt,1,mg/L\n"
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,strong,\nbath,film,60,um\n"
              "one,kind,rinse,\none,volume,20,L\none,liquid,di,\none,film,60,um\n"
              "one,flow,5,L/h\n"
              "two,kind,rinse,\ntwo,volume,20,L\ntwo,liquid,di,\ntwo,film,60,um\n"
              "two,flow,5,L/h\n"
              "limit,kind,target,\nlimit,residue,%.17g,mg/m2\n",
              limit);
}

static int stop_after(void *user, unsigned trials, double expense)
{
    (void)expense;
    return trials >= *(unsigned *)user;
}

static dregs_sized *stopped_after(const dregs_line *line, dregs_varied *varied, unsigned trials)
{
    static const char *const stages[] = {"one", "two"};
    char message[DREGS_SIZE_MESSAGE];
    dregs_sized *sized = NULL;
    unsigned i;

    for (i = 0; i < 2; i++)
        ck_assert_int_eq(
            dregs_varied_add(varied, "flow", stages + i, 1, 0.05 * LPH, 500 * LPH, message), 0);
    dregs_varied_watch(varied, stop_after, &trials);
    ck_assert_int_eq(dregs_size(varied, sizing_ever, 0, &sized, message), DREGS_OK);
    (void)line;
    return sized;
}

START_TEST(a_local_search_says_how_far_off_it_may_be)
{
    static const double limits[] = {30, 5};
    unsigned i;

    for (i = 0; i < 2; i++) {
        dregs_varied *varied, *whole;
        dregs_sized *sized, *done;
        dregs_line *line;
        two_flows(limits[i]);
        line = lines_read(sizing.text.bytes);
        varied = dregs_varied_new(line);
        whole = dregs_varied_new(line);
        sized = stopped_after(line, varied, 12);
        done = stopped_after(line, whole, 1000000);
        ck_assert(dregs_sized_feasible(sized) && dregs_sized_feasible(done));
        ck_assert(dregs_sized_ended(sized) && !dregs_sized_ended(done));
        /* a bound from below of what the whole search finds, and more than both at their least */
        ck_assert_double_le(dregs_sized_possible(sized), dregs_sized_use(done)->bought);
        ck_assert_double_gt(dregs_sized_possible(sized), 0.5 * dregs_sized_use(done)->bought);
        ck_assert_double_le(dregs_sized_use(done)->bought, dregs_sized_use(sized)->bought);
        dregs_sized_free(sized);
        dregs_sized_free(done);
        dregs_varied_free(varied);
        dregs_varied_free(whole);
        lines_free(line);
    }
}
END_TEST

/* ---- round numbers ---- */

/* Digits before the zeros at the end. */
static unsigned digits(double number)
{
    unsigned long rest = (unsigned long)number;
    unsigned count = 0;

    while (rest % 10 == 0)
        rest /= 10;
    for (; rest; rest /= 10)
        count++;
    return count;
}

START_TEST(dumps_that_no_file_may_state_are_rounded)
{
    const struct sizing_varied varied[] = {sizing_vary("bath", "dump every", NAN, NAN),
                                           sizing_vary("tank", "dump every", NAN, NAN)};
    dregs_sized *sized;
    dregs_use use;
    dregs_line *line;

    /* The bath's limit holds it to 641 loads (1 g a load into 50 L, 12.83 g/L), the other tank is
     * best dumped after 10000; together after 6,410,000. */
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
              "oil,kind,solute,\noil,on parts,1,g\ndi,kind,liquid,\ndi,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,di,\nbath,film,0.001,um\n"
              "bath,removal,100,%%\nbath,dump every,2,1\nbath,most oil,12.83,g/L\n"
              "tank,kind,rinse,\ntank,volume,20,L\ntank,liquid,di,\ntank,film,0.001,um\n"
              "tank,dump every,2,1\nlimit,kind,target,\nlimit,residue,1,g/m2\n");
    sized = sizing_text(sizing.text.bytes, varied, 2, 0);
    ck_assert(dregs_sized_feasible(sized));
    ck_assert_uint_le(digits(dregs_sized_value(sized, 0)), 2);
    ck_assert_uint_eq(digits(dregs_sized_value(sized, 1)), 1);
    ck_assert_double_le(dregs_sized_value(sized, 0), 641);
    ck_assert(dregs_sized_unrounded(sized) <= dregs_sized_use(sized)->bought);
    /* no more than 1 % is given away for it, of what 641 and 10000 would take */
    ck_assert_double_le(dregs_sized_use(sized)->bought,
                        (50.0 / 641 + 20.0 / 10000) * 1e-3 * 1.0101 + 1e-9);
    line = lines_read(dregs_sized_text(sized, NULL));
    ck_assert_uint_le(dregs_line_period(line), DREGS_LINE_PERIOD);
    dregs_balance_use(line, &use);
    ck_assert_double_eq(use.bought, dregs_sized_use(sized)->bought);
    lines_free(line);
    sizing_free(sized);
}
END_TEST

/* ---- closed forms ---- */

/* What the bath's film of 60 um holds: 20 g/L, also later, for it is topped up with the same. */
#define BATH 20.0
#define FILM 60e-6

static void after_a_bath(const char *rest, double limit)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,5,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,20,g/L\npure,kind,liquid,\npure,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,strong,\nbath,film,60,um\n"
              "%slimit,kind,target,\nlimit,residue,%.17g,mg/m2\n",
              rest, limit);
}

/* A spray of 0.3 L with the share m of it in the film leaves exp(-m 0.3 L / film) of the film's. */
START_TEST(mixing_is_that_of_the_closed_form)
{
    const struct sizing_varied varied = sizing_vary("jet", "mixing", NAN, NAN);
    double limit = 37.7; /* mg/m2, of 1200 in the film */
    dregs_sized *sized;

    after_a_bath("jet,kind,spray,\njet,liquid,pure,\njet,use,0.3,L\njet,film,60,um\n", limit);
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(dregs_sized_feasible(sized));
    ck_assert_near(dregs_sized_value(sized, 0), FILM / 0.3e-3 * log(BATH * FILM * 1e6 / limit),
                   1e-6, "mixing");
    sizing_free(sized);
}
END_TEST

/* A still rinse of V whose bed frees q of it: between loads exp(-q T / V) stays. With film f in and
 * out c (V + f) = c V exp(-q T / V) + C f in the long run, solved for q. */
START_TEST(clearing_is_that_of_the_closed_form)
{
    const struct sizing_varied varied = sizing_vary("still", "clearing salt", NAN, NAN);
    double limit = 21.3, volume = 17e-3, interval = 300, film = FILM; /* m3: 1 m2 of parts */
    double c = limit * 1e-6 / film, stays = (volume + film - BATH * film / c) / volume;
    dregs_sized *sized;

    after_a_bath("still,kind,rinse,\nstill,volume,17,L\nstill,liquid,pure,\nstill,film,60,um\n",
                 limit);
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(dregs_sized_feasible(sized));
    ck_assert_near(dregs_sized_value(sized, 0), -volume / interval * log(stays), 1e-6, "clearing");
    sizing_free(sized);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"searches",
         {never_worse_than_a_file_with_limits, a_local_search_says_how_far_off_it_may_be,
          dumps_that_no_file_may_state_are_rounded}},
        {"closed forms", {mixing_is_that_of_the_closed_form, clearing_is_that_of_the_closed_form}},
    };

    gsl_set_error_handler_off();
    return run_cases("size_more", cases, sizeof cases / sizeof cases[0]);
}
