/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_capacity.c: the load behind which a filter or ion exchanger is exhausted: a single tank by
 * its closed form, and lines with dumps and changes against the sums of a march, load by load.
 */
#include "check_main.h"
#include "dregs/bound.h"
#include "lines.h"

#include <math.h>
#include <string.h>

static struct lines_text text;

struct answer {
    dregs_line *line;
    dregs_map *map;
    dregs_bounds *bounds;
    const dregs_bound *bound;
};

static struct answer ask(const char *rows, uint64_t loads)
{
    struct answer a = {0};

    lines_begin(&text);
    lines_say(&text, "%s", rows);
    a.line = lines_read(text.bytes);
    a.map = lines_map(a.line);
    ck_assert_int_eq(dregs_bounds_new(a.map, loads, 1, &a.bounds), DREGS_OK);
    ck_assert_uint_eq(dregs_bounds_count(a.bounds), 1);
    a.bound = dregs_bounds_at(a.bounds, 0);
    ck_assert_int_eq(a.bound->kind, DREGS_BOUND_CAPACITY);
    return a;
}

static void drop(struct answer *a)
{
    dregs_bounds_free(a->bounds);
    dregs_map_free(a->map);
    lines_free(a->line);
}

/* A bath that is topped up with itself holds 20 kg/m3 for ever, and 2 x 100e-4 m2 x 50e-6 m =
 * 1e-6 m3 of it come into the rinse with each load, and as much leaves: a = 2e-5 kg. A load takes
 * the rinse's content m to r (m + a), r = V/(V + D); in the time behind it 1 - e of that is taken,
 * e = exp(-u T/V). So load k leaves M (1 - (r e)^k), M = r a/(1 - r e), and n loads give
 * Q(n) = (1 - e) M (n - r e (1 - (r e)^n)/(1 - r e)). */
#define BATH                                                                                       \
    "basket,kind,load,\nbasket,parts,2,1\nbasket,area,100,cm2\nbasket,interval,5,min\n"            \
    "salt,kind,solute,\nbrine,kind,liquid,\nbrine,solvent,water,\nbrine,salt,20,g/L\n"             \
    "di,kind,liquid,\ndi,solvent,water,\n"                                                         \
    "bath,kind,wash,\nbath,volume,10,L\nbath,liquid,brine,\nbath,film,50,um\n"
#define RINSE                                                                                      \
    "rinse,kind,rinse,\nrinse,volume,7.3,L\nrinse,liquid,di,\nrinse,film,50,um\n"                  \
    "rinse,clearing salt,23,L/h\n"

static double taken(double n)
{
    const double V = 7.3e-3, a = 2e-5, r = V / (V + 1e-6), e = exp(-23e-3 / 3600 * 300 / V);
    const double q = r * e, M = r * a / (1 - q);

    return (1 - e) * M * (n - q * (1 - pow(q, n)) / (1 - q));
}

/* The first n with Q(n) above a capacity, by more than 1e-9 of it. */
static uint64_t exhausted(double stated)
{
    double capacity = stated * (1 + 1e-9), n = ceil(capacity / 2e-5);

    while (n > 1 && taken(n - 1) > capacity)
        n--;
    while (!(taken(n) > capacity))
        n++;
    return (uint64_t)n;
}

START_TEST(one_tank_by_its_closed_form)
{
    static const double grams[] = {0.013, 0.4, 2.385, 17, 31000, 4.1e8};
    char rows[1024];
    size_t i;

    for (i = 0; i < sizeof grams / sizeof grams[0]; i++) {
        uint64_t n = exhausted(grams[i] * 1e-3);
        struct answer a;
        snprintf(rows, sizeof rows, "%srinse,capacity,%g,g\n", BATH RINSE, grams[i]);
        a = ask(rows, DREGS_NO_END);
        ck_assert_msg(a.bound->crossed == n + 1, "%g g: load %llu, expected %llu", grams[i],
                      (unsigned long long)a.bound->crossed, (unsigned long long)n + 1);
        ck_assert_near(a.bound->reached, taken((double)n), 1e-9, "taken");
        ck_assert_ptr_eq(dregs_bounds_life(a.bounds), a.bound);
        drop(&a);
        a = ask(rows, n); /* the loads that still meet it so: behind n - 1 of them */
        ck_assert_uint_eq(a.bound->crossed, 0);
        ck_assert(a.bound->share <= 1 + 1e-9);
        ck_assert_near(a.bound->reached, taken((double)n - 1), 1e-9, "before");
        drop(&a);
        a = ask(rows, n + 1);
        ck_assert_uint_eq(a.bound->crossed, n + 1);
        drop(&a);
    }
}
END_TEST

/* Changed every K loads, the amount between two changes rises to that of the steady state,
 * K (1 - e) M. */
START_TEST(a_change_in_time_is_never_late)
{
    const double V = 7.3e-3, r = V / (V + 1e-6), e = exp(-23e-3 / 3600 * 300 / V);
    const double steady = 90 * (1 - e) * r * 2e-5 / (1 - r * e);
    struct answer a = ask(BATH RINSE "rinse,capacity,2,g\nrinse,change every,90,1\n", DREGS_NO_END);

    ck_assert_uint_eq(a.bound->crossed, 0);
    ck_assert_near(a.bound->reached, steady, 1e-9, "between changes");
    ck_assert_ptr_null(dregs_bounds_life(a.bounds));
    drop(&a);
    /* just below what the steady state needs: the first interval of changes still holds */
    a = ask(BATH RINSE "rinse,capacity,1.79,g\nrinse,change every,90,1\n", DREGS_NO_END);
    ck_assert(taken(90) < 1.79e-3 && steady > 1.79e-3);
    ck_assert_uint_gt(a.bound->crossed, 90);
    ck_assert_uint_le(a.bound->crossed, 181);
    drop(&a);
}
END_TEST

#define TWO                                                                                        \
    "grease,kind,solute,\ngrease,on parts,3.1,mg\nbath,removal,90,%\n"                             \
    "rinse,clearing grease,11,L/h\nrinse,flow,0.9,L/h\nrinse,overflow to,bath,\n"                  \
    "bath,dump every,14,1\nrinse,dump every,6,1\n"

/* What is taken since the last change, by the totals of a march. */
static void march(const struct answer *a, uint64_t every, double capacity, uint64_t loads,
                  double *most, uint64_t *crossed)
{
    double before = 0.0, at_change = 0.0;
    uint64_t n;

    *most = 0.0;
    *crossed = 0;
    for (n = 1; n < loads; n++) {
        dregs_totals totals;
        unsigned s;
        for (before = 0.0, s = 0; s < dregs_line_solutes(a->line); s++) {
            ck_assert_int_eq(dregs_map_totals(a->map, s, n, &totals), DREGS_OK);
            before += totals.cleared;
        }
        *most = fmax(*most, before - at_change);
        if (before - at_change > capacity && !*crossed)
            *crossed = n + 1;
        if (every && n % every == 0)
            at_change = before;
    }
}

START_TEST(two_solutes_dumps_and_changes_against_a_march)
{
    static const uint64_t every[] = {0, 9, 42, 35, 100, 0, 1};
    static const double grams[] = {0.31, 0.27, 1.1, 0.7, 2.6, 3.3, 0.024};
    unsigned full = 0, held = 0;
    char rows[2048];
    size_t i;

    for (i = 0; i < sizeof every / sizeof every[0]; i++) {
        uint64_t crossed, loads = 600;
        struct answer a;
        double most;
        snprintf(rows, sizeof rows, "%srinse,capacity,%g,g\n", BATH RINSE TWO, grams[i]);
        if (every[i])
            snprintf(rows + strlen(rows), sizeof rows - strlen(rows), "rinse,change every,%llu,1\n",
                     (unsigned long long)every[i]);
        a = ask(rows, loads);
        march(&a, every[i], grams[i] * 1e-3, loads, &most, &crossed);
        ck_assert_msg(a.bound->crossed == crossed, "case %zu: load %llu, the march %llu", i,
                      (unsigned long long)a.bound->crossed, (unsigned long long)crossed);
        full += crossed != 0;
        held += crossed == 0;
        if (every[i] || !crossed) /* without a change it ends where it is exhausted */
            ck_assert_near(a.bound->reached, most, 1e-9, "case %zu", i);
        drop(&a);
        if (every[i]) { /* for ever: the march goes through changes and dumps in every way */
            a = ask(rows, DREGS_NO_END);
            march(&a, every[i], grams[i] * 1e-3, 5000, &most, &crossed);
            ck_assert_uint_eq(a.bound->crossed, crossed);
            ck_assert_near(a.bound->reached, most, 1e-9, "for ever, case %zu", i);
            drop(&a);
        }
    }
    ck_assert(full >= 2 && held >= 2); /* both ways */
}
END_TEST

/* What is taken is what is missing from all else: in the totals of the whole line. */
START_TEST(what_is_taken_is_in_the_balance)
{
    struct answer a = ask(BATH RINSE TWO "rinse,capacity,1e6,g\n", 400);
    dregs_totals t;
    double sum = 0.0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(a.line); s++) {
        double in, out;
        ck_assert_int_eq(dregs_map_totals(a.map, s, 399, &t), DREGS_OK);
        in = t.held_first + t.soil + t.fed + t.sprayed + t.refilled;
        out = t.overflow + t.runoff + t.dumped + t.cleared + t.blown_off + t.carried + t.held_last;
        ck_assert_near(in, out, 1e-12, "balance of solute %u", s);
        sum += t.cleared;
    }
    ck_assert_near(a.bound->reached, sum, 1e-12, "taken");
    drop(&a);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"closed forms", {one_tank_by_its_closed_form, a_change_in_time_is_never_late}},
        {"march", {two_solutes_dumps_and_changes_against_a_march, what_is_taken_is_in_the_balance}},
    };

    return run_cases("capacity", cases, sizeof cases / sizeof cases[0]);
}
