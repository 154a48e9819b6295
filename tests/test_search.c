/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_search.c: the search over whole numbers against all of them, on random small lines; the
 * line's own values as a start; what a search says of itself.
 */
#include "check_main.h"
#include "sizing.h"

#include <gsl/gsl_errno.h>
#include <string.h>

/* A wash and two or three rinses, some with a flow, some refilled from the next one; what they are
 * filled with and what the parts bring is random. The dumps are what is varied. */
static unsigned write_with(uint64_t number, double limit)
{
    struct lines_stream at = {0x5ea4c4 + number, 0};
    unsigned rinses = 2 + lines_below(&at, 2), i;
    int back = lines_chance(&at, 0.5); /* stepped back: equal tanks */
    double volume = lines_between(&at, 3, 30);

    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,%.17g,m2\nrack,interval,6,min\n"
              "oil,kind,solute,\noil,on parts,%.17g,g\nsoap,kind,solute,\nsolids,kind,solute,\n"
              "strong,kind,liquid,\nstrong,solvent,water,\nstrong,soap,%.17g,g/L\n"
              "di,kind,liquid,\ndi,solvent,water,\ndi,solids,%.17g,mg/L\n",
              lines_between(&at, 0.3, 2), lines_between(&at, 0.05, 3),
              lines_chance(&at, 0.7) ? lines_between(&at, 0.5, 20) : 0.0,
              lines_between(&at, 0.1, 3));
    lines_say(&sizing.text,
              "bath,kind,wash,\nbath,volume,%.17g,L\nbath,liquid,strong,\nbath,film,%.17g,um\n"
              "bath,removal,%.17g,%%\nbath,dump every,2,1\n",
              lines_between(&at, 5, 40), lines_between(&at, 20, 100), lines_between(&at, 95, 100));
    for (i = 0; i < rinses; i++) {
        lines_say(&sizing.text,
                  "r%u,kind,rinse,\nr%u,volume,%.17g,L\nr%u,liquid,di,\nr%u,film,%.17g,um\n"
                  "r%u,dump every,1,1\n",
                  i, i, back ? volume : lines_between(&at, 3, 30), i, i, lines_between(&at, 10, 60),
                  i);
        if (lines_chance(&at, 0.2))
            lines_say(&sizing.text, "r%u,flow,%.17g,L/h\n", i, lines_between(&at, 0.5, 9));
        if (i + 1 < rinses && back)
            lines_say(&sizing.text, "r%u,refill from,r%u,\n", i, i + 1);
    }
    lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,kg/m2\n", limit);
    return rinses;
}

/* A line with these numbers of loads between dumps, by its file. */
static dregs_line *dumped(const dregs_line *line, const char *const *names, const double *every,
                          unsigned count)
{
    dregs_setting settings[4];
    dregs_line *made = NULL;
    unsigned i;

    for (i = 0; i < count; i++)
        settings[i] = (dregs_setting){0, names[i], "dump every", every[i]};
    ck_assert_int_eq(dregs_line_with(line, settings, count, &made, NULL), DREGS_OK);
    return made;
}

static const char *const tanks[] = {"bath", "r0", "r1", "r2"};

/* The same with a limit that dumps after some loads just meet, more or less. */
static unsigned write_small(uint64_t number)
{
    struct lines_stream at = {0x11417 + number, 0};
    double every[4], factor = lines_between(&at, 0.7, 1.4);
    unsigned rinses = write_with(number, 1), i;
    dregs_line *line = lines_read(sizing.text.bytes), *made;
    dregs_compliance compliance;

    for (i = 0; i < 4; i++)
        every[i] = 1 + lines_below(&at, 6);
    made = dumped(line, tanks, every, rinses + 1);
    ck_assert_int_eq(dregs_size_compliance(made, sizing_ever, &compliance), DREGS_OK);
    dregs_line_free(made);
    lines_free(line);
    return write_with(number, compliance.residue * factor);
}

/* The least liquid of all sets of numbers up to `most` that meet the target. */
static double least_of_all(const dregs_line *line, const char *const *names, unsigned count,
                           unsigned most, double *at)
{
    double every[4] = {1, 1, 1, 1}, best = HUGE_VAL;
    unsigned i = 0;

    while (i < count) {
        dregs_line *made = dumped(line, names, every, count);
        dregs_compliance compliance;
        dregs_use use;
        dregs_balance_use(made, &use);
        if (use.bought < best) {
            ck_assert_int_eq(dregs_size_compliance(made, sizing_ever, &compliance), DREGS_OK);
            if (compliance.of_limit <= 1) {
                best = use.bought;
                memcpy(at, every, sizeof every);
            }
        }
        dregs_line_free(made);
        for (i = 0; i < count && ++every[i] > most; i++)
            every[i] = 1;
    }
    return best;
}

static dregs_sized *search(const dregs_line *line, const char *const *names, unsigned count,
                           unsigned most)
{
    struct sizing_varied varied[4];
    unsigned i;

    for (i = 0; i < count; i++)
        varied[i] = sizing_vary(names[i], "dump every", 1, most);
    return sizing_line(line, varied, count, sizing_ever, 0);
}

enum { LINES = 100 };

START_TEST(dump_periods_are_those_of_all)
{
    unsigned number, met = 0, inside = 0;

    for (number = 0; number < LINES; number++) {
        unsigned rinses = write_small(number), bath = number % 2, count = rinses + bath;
        unsigned most = count < 3 ? 20 : count < 4 ? 8 : 5;
        const char *const *names = tanks + !bath;
        dregs_line *line = lines_read(sizing.text.bytes);
        double at[4], best = least_of_all(line, names, count, most, at);
        dregs_sized *sized = search(line, names, count, most);
        ck_assert_msg(dregs_sized_feasible(sized) == (isfinite(best) != 0), "line %u: %d, all: %d",
                      number, dregs_sized_feasible(sized), isfinite(best) != 0);
        if (isfinite(best)) {
            ck_assert_msg(fabs(dregs_sized_use(sized)->bought / best - 1) <= 1e-9,
                          "line %u: %.10g L with %g %g %g %g, of all %.10g L with %g %g %g %g\n%s",
                          number, dregs_sized_use(sized)->bought * 1e3, dregs_sized_value(sized, 0),
                          dregs_sized_value(sized, 1), dregs_sized_value(sized, 2),
                          dregs_sized_value(sized, 3), best * 1e3, at[0], at[1], at[2], at[3],
                          sizing.text.bytes);
            ck_assert(!dregs_sized_ended(sized));
            ck_assert_double_eq(dregs_sized_possible(sized), dregs_sized_use(sized)->bought);
            met++;
            inside += dregs_sized_compliance(sized)->of_limit > 0.5;
        }
        sizing_free(sized);
        lines_free(line);
    }
    ck_assert_uint_ge(met, LINES / 3); /* the lines ask something of the search */
    ck_assert_uint_ge(inside, LINES / 5);
}
END_TEST

/* Two dumps and a flow: the flow alone for each pair of numbers. */
START_TEST(dump_periods_beside_a_flow)
{
    enum { MOST = 6 };
    unsigned number, met = 0;

    for (number = 0; number < 30; number++) {
        struct sizing_varied varied[3] = {sizing_vary("r0", "dump every", 1, MOST),
                                          sizing_vary("bath", "dump every", 1, MOST),
                                          sizing_vary("r1", "flow", 1e-9, 1e-2)};
        const char *const names[] = {"r0", "bath"};
        double best = HUGE_VAL, every[2];
        dregs_line *line;
        dregs_sized *sized;
        (void)write_small(1000 + number);
        line = lines_read(sizing.text.bytes);
        for (every[0] = 1; every[0] <= MOST; every[0]++)
            for (every[1] = 1; every[1] <= MOST; every[1]++) {
                dregs_line *made = dumped(line, names, every, 2);
                sized = sizing_line(made, varied + 2, 1, sizing_ever, 0);
                if (dregs_sized_feasible(sized))
                    best = fmin(best, dregs_sized_use(sized)->bought);
                sizing_free(sized);
                dregs_line_free(made);
            }
        sized = sizing_line(line, varied, 3, sizing_ever, 0);
        ck_assert(dregs_sized_feasible(sized) == (isfinite(best) != 0));
        if (isfinite(best))
            ck_assert_msg(dregs_sized_use(sized)->bought <= best * (1 + 1e-6),
                          "line %u: %.10g L, one by one %.10g L", number,
                          dregs_sized_use(sized)->bought * 1e3, best * 1e3);
        met += isfinite(best) != 0;
        sizing_free(sized);
        lines_free(line);
    }
    ck_assert_uint_ge(met, 10);
}
END_TEST

/* A long range, in which no line of the file's is worse than the answer. */
START_TEST(never_worse_than_the_file)
{
    unsigned number, met = 0;

    for (number = 0; number < 30; number++) {
        unsigned rinses = write_small(2000 + number);
        dregs_line *line = lines_read(sizing.text.bytes);
        dregs_sized *sized = search(line, tanks, rinses + 1, 300);
        dregs_compliance compliance;
        dregs_use use;
        ck_assert_int_eq(dregs_size_compliance(line, sizing_ever, &compliance), DREGS_OK);
        dregs_balance_use(line, &use);
        if (compliance.of_limit <= 1) {
            ck_assert(dregs_sized_feasible(sized));
            ck_assert_double_le(dregs_sized_use(sized)->bought, use.bought);
            met++;
        }
        ck_assert(!dregs_sized_feasible(sized) || isnan(dregs_sized_possible(sized)) ||
                  dregs_sized_possible(sized) <= dregs_sized_use(sized)->bought * (1 + 1e-9));
        sizing_free(sized);
        lines_free(line);
    }
    ck_assert_uint_ge(met, 10);
}
END_TEST

static int stop(void *user, unsigned trials, double expense)
{
    unsigned *calls = user;

    ck_assert_uint_gt(trials, 0);
    ck_assert(expense > 0);
    return ++*calls >= 2;
}

static void two_baths(void)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
              "oil,kind,solute,\noil,on parts,1,g\ndi,kind,liquid,\ndi,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,di,\nbath,film,60,um\n"
              "bath,removal,100,%%\n"
              "r0,kind,rinse,\nr0,volume,20,L\nr0,liquid,di,\nr0,film,50,um\n"
              "r1,kind,rinse,\nr1,volume,20,L\nr1,liquid,di,\nr1,film,40,um\n"
              "bath,flow,20,L/h\n"
              "r0,dump every,2,1\nr1,dump every,2,1\n"
              "limit,kind,target,\nlimit,residue,1,mg/m2\n");
}

START_TEST(a_search_that_is_stopped_says_so)
{
    unsigned calls = 0, i;
    const char *const two[] = {"r0", "r1"};
    char message[DREGS_SIZE_MESSAGE];
    dregs_sized *sized = NULL;
    dregs_varied *varied;
    dregs_line *line;

    /* a rinse that must be dumped now and then, so that there is something to seek */
    two_baths();
    line = lines_read(sizing.text.bytes);
    varied = dregs_varied_new(line);
    for (i = 0; i < 2; i++)
        ck_assert_int_eq(dregs_varied_add(varied, "dump every", two + i, 1, NAN, NAN, message), 0);
    dregs_varied_watch(varied, stop, &calls);
    ck_assert_int_eq(dregs_size(varied, sizing_ever, 0, &sized, message), DREGS_OK);
    ck_assert_uint_eq(calls, 2);
    ck_assert(dregs_sized_ended(sized));
    if (dregs_sized_feasible(sized))
        ck_assert_double_lt(dregs_sized_possible(sized), dregs_sized_use(sized)->bought);
    dregs_sized_free(sized);
    dregs_varied_free(varied);
    lines_free(line);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"whole numbers",
         {dump_periods_are_those_of_all, dump_periods_beside_a_flow, never_worse_than_the_file,
          a_search_that_is_stopped_says_so}},
    };

    gsl_set_error_handler_off();
    return run_cases("search", cases, sizeof cases / sizeof cases[0]);
}
