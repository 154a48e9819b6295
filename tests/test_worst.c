/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_worst.c: the worst load from the steady state alone, against the search that looks at every
 * phase of every period of a grid: the same load, and the same residue but for rounding.
 */
#include "check_main.h"
#include "lines.h"
#include "residue/residue.h"

#include <math.h>

static struct lines_text text;

/* Does the fresh start hold no more of anything than the steady state? */
static int begins_below(const dregs_map *map)
{
    dregs_state *fresh = lines_state(map), *steady = lines_state(map);
    int below = dregs_state_periodic(steady) == DREGS_OK;
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(dregs_map_line(map)); s++)
        for (t = 0; t < dregs_line_tanks(dregs_map_line(map)); t++)
            below = below && dregs_state_mass(fresh, s, t) <= dregs_state_mass(steady, s, t);
    dregs_state_free(fresh);
    dregs_state_free(steady);
    return below;
}

/* What the load that was named leaves: loads that leave the same may be told apart by rounding. */
static double left_by(const dregs_map *map, int solute, const dregs_worst *worst)
{
    dregs_state *state = lines_state(map);
    dregs_residue residue;

    if (worst->in_the_long_run)
        ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    if (worst->load > 1)
        ck_assert_int_eq(dregs_state_before(state, worst->load), DREGS_OK);
    dregs_residue_next(state, &residue);
    dregs_state_free(state);
    return dregs_residue_of(&residue, solute);
}

/* \return 1: the long run is the worst. */
static unsigned agree(const dregs_map *map, int solute, unsigned number)
{
    static const uint64_t loads[] = {DREGS_NO_END, 1000, 300000};
    dregs_worst quick, full;
    unsigned i, long_run = 0;

    for (i = 0; i < sizeof loads / sizeof loads[0]; i++) {
        ck_assert_int_eq(dregs_residue_worst(map, solute, loads[i], &quick), DREGS_OK);
        ck_assert_int_eq(dregs_residue_worst_of_all(map, solute, loads[i], &full), DREGS_OK);
        ck_assert_msg(fabs(quick.residue - full.residue) <= 1e-13 * full.residue,
                      "line %u, solute %d: %.17g, all %.17g", number, solute, quick.residue,
                      full.residue);
        if (quick.load != full.load)
            ck_assert_double_eq_tol(left_by(map, solute, &quick), full.residue,
                                    1e-12 * full.residue);
        ck_assert_int_eq(quick.in_the_long_run, full.in_the_long_run);
        long_run += full.in_the_long_run != 0;
    }
    return long_run;
}

START_TEST(the_quick_search_finds_what_the_full_one_finds)
{
    unsigned number, below = 0, long_run = 0, other = 0;
    int solute;

    for (number = 61000; number < 61400; number++) {
        dregs_line *line = lines_random_either(number, &text);
        dregs_map *map = lines_map(line);
        int is_below = begins_below(map);
        for (solute = DREGS_EVERY_SOLUTE; solute < (int)dregs_line_solutes(line); solute++) {
            unsigned found = agree(map, solute, number);
            below += is_below && found;
            long_run += found;
            other += !found;
        }
        dregs_map_free(map);
        lines_free(line);
    }
    printf("# %u long run, of which %u by lines below; %u other\n", long_run, below, other);
    /* both ways are taken often, else the comparison says little */
    ck_assert_uint_ge(below, 100);
    ck_assert_uint_ge(other, 200);
}
END_TEST

/* Steps through the period from both begins. */
static void look_apart(const dregs_map *map, dregs_state *fresh, dregs_state *steady, double apart,
                       unsigned number)
{
    uint64_t load, period = dregs_line_period(dregs_map_line(map));
    dregs_residue first, last;

    for (load = 1; load <= period; load++) {
        dregs_residue_next(fresh, &first);
        dregs_residue_next(steady, &last);
        ck_assert_msg(last.total - first.total >= apart - 2e-10 * last.total,
                      "line %u, load %llu: %g less, said to be %g", number,
                      (unsigned long long)load, last.total - first.total, apart);
        dregs_state_step(fresh);
        dregs_state_step(steady);
    }
}

/* Held against every load of the period, stepped to from both begins. */
START_TEST(a_first_period_leaves_less_by_what_is_said)
{
    double rows[DREGS_LINE_SOLUTES * (DREGS_LINE_STAGES + 1)];
    unsigned number, told = 0, s;

    for (number = 62000; number < 62400; number++) {
        dregs_line *line = lines_random_either(number, &text);
        dregs_map *map = lines_map(line);
        dregs_state *fresh = lines_state(map), *steady = lines_state(map);
        double apart = 0;
        for (s = 0; s < dregs_line_solutes(line); s++)
            dregs_residue_row(map, s, rows + s * (dregs_line_tanks(line) + 1));
        if (begins_below(map) && dregs_state_periodic(steady) == DREGS_OK)
            apart =
                dregs_residue_apart(map, dregs_balance_state_masses(fresh),
                                    dregs_balance_state_masses(steady), rows, DREGS_EVERY_SOLUTE);
        if (apart > 0)
            look_apart(map, fresh, steady, apart, number);
        told += apart > 0;
        dregs_state_free(fresh);
        dregs_state_free(steady);
        dregs_map_free(map);
        lines_free(line);
    }
    printf("# of %u lines it is said\n", told);
    ck_assert_uint_ge(told, 20);
}
END_TEST

/* Periods so long that grids leap over them, against every load by itself: the minerals of a basin
 * that nobody dumps fade, what the bath leaves in it builds up. By 140,000 loads, which are more
 * than are looked at one by one, and without an end. */
START_TEST(long_periods_are_searched_by_leaps)
{
    enum { LOADS = 140000 };
    static const char *const minerals[] = {"0.6,mg/L", "3,g/L", "40,g/L"};
    static const unsigned every[][2] = {{5000, 125}, {64, 81}, {4999, 4999}};
    unsigned i;

    for (i = 0; i < 9; i++) {
        dregs_line *line;
        dregs_map *map;
        dregs_state *state;
        dregs_worst worst;
        dregs_residue residue;
        double most = 0;
        uint64_t load;
        lines_begin(&text);
        lines_say(&text,
                  "rack,kind,load\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
                  "oil,kind,solute\noil,on parts,20,mg\nsalt,kind,solute\n"
                  "tap,kind,liquid\ntap,solvent,water\nhard,kind,liquid\n"
                  "hard,solvent,water\nhard,salt,%s\n"
                  "bath,kind,wash\nbath,volume,40,L\nbath,liquid,tap\nbath,film,30,um\n"
                  "bath,removal,99,%%\nbath,dump every,%u,1\n"
                  "dip,kind,rinse\ndip,volume,20,L\ndip,liquid,tap\ndip,film,30,um\n"
                  "dip,dump every,%u,1\n"
                  "basin,kind,rinse\nbasin,volume,9,L\nbasin,liquid,hard\nbasin,film,30,um\n",
                  minerals[i % 3], every[i / 3][0], every[i / 3][1]);
        line = lines_read(text.bytes);
        ck_assert_uint_gt(dregs_line_period(line), 4096);
        map = lines_map(line);
        state = lines_state(map);
        for (load = 1; load <= LOADS; load++) {
            dregs_residue_next(state, &residue);
            most = fmax(most, residue.total);
            dregs_state_step(state);
        }
        ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, LOADS, &worst), DREGS_OK);
        ck_assert_double_eq_tol(worst.residue, most, 1e-11 * most);
        ck_assert_double_eq_tol(left_by(map, DREGS_EVERY_SOLUTE, &worst), most, 1e-11 * most);
        ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst),
                         DREGS_OK);
        ck_assert_double_ge(worst.residue, most * (1 - 1e-11));
        ck_assert_double_eq_tol(left_by(map, DREGS_EVERY_SOLUTE, &worst), worst.residue,
                                1e-11 * worst.residue);
        dregs_state_free(state);
        dregs_map_free(map);
        lines_free(line);
    }
}
END_TEST

/* Still rinses that nobody dumps: the minerals of their water are carried out, the cleaner builds
 * up. Both go alike, so that what counts is which of the two is more; with more minerals than
 * cleaner the first load is the worst, and each search must find that. */
START_TEST(one_solute_fades_while_another_builds_up)
{
    static const char *const minerals[] = {"0.6,mg/L", "0.2,g/L",  "3,g/L", "11.9,g/L",
                                           "12,g/L",   "12.1,g/L", "40,g/L"};
    unsigned long_run = 0, other = 0;
    size_t i;
    int solute;

    for (i = 0; i < sizeof minerals / sizeof minerals[0]; i++) {
        dregs_line *line;
        dregs_map *map;
        text.used = 0;
        lines_say(&text,
                  "item,property,value,unit\ntray,kind,load\ntray,parts,40,1\ntray,area,12,cm2\n"
                  "tray,interval,12,min\noil,kind,solute\noil,on parts,0.9,mg\n"
                  "cleaner,kind,solute\nminerals,kind,solute\n"
                  "alkaline,kind,liquid\nalkaline,solvent,water\nalkaline,cleaner,12,g/L\n"
                  "tap,kind,liquid\ntap,solvent,water\ntap,minerals,%s\n"
                  "bath,kind,wash\nbath,volume,9,L\nbath,liquid,alkaline\nbath,removal,99.9,%%\n"
                  "bath,drag-out,70,mL/m2\nbath,dump every,200\n"
                  "first,kind,rinse\nfirst,volume,3,L\nfirst,liquid,tap\n"
                  "first,drag-out,50,mL/m2\n"
                  "last,kind,rinse\nlast,volume,3,L\nlast,liquid,tap\nlast,drag-out,50,mL/m2\n",
                  minerals[i]);
        line = lines_read(text.bytes);
        map = lines_map(line);
        ck_assert(!begins_below(map)); /* of the minerals it holds more */
        for (solute = DREGS_EVERY_SOLUTE; solute < (int)dregs_line_solutes(line); solute++)
            if (agree(map, solute, (unsigned)i))
                long_run++;
            else
                other++;
        dregs_map_free(map);
        lines_free(line);
    }
    printf("# %u long run, %u other\n", long_run, other);
    /* oil and cleaner of each and some of the sums; minerals and the other sums */
    ck_assert_uint_ge(long_run, 2 * 7 + 3);
    ck_assert_uint_ge(other, 7 + 1);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"the worst load",
         {the_quick_search_finds_what_the_full_one_finds,
          a_first_period_leaves_less_by_what_is_said, one_solute_fades_while_another_builds_up,
          long_periods_are_searched_by_leaps}}};

    return run_cases("worst", cases, 1);
}
